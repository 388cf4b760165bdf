/* A unit played: what it is, what the instruments make of it, and what a person types. */
#include "halfsplit/sim/sim.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "halfsplit/base/alloc.h"
#include "halfsplit/engine/walk.h"
#include "halfsplit/judge/budget.h"
#include "sim_parts.h"

hs_sim *hs_sim_new(const hs_playbook *playbook)
{
	hs_sim *sim = hs_alloc(sizeof *sim);
	*sim = (hs_sim){.playbook = playbook};
	hs_sim_begin(sim, HS_SIM_IN_ORDER, 0);
	return sim;
}

void hs_sim_free(hs_sim *sim)
{
	if (sim != NULL)
		hs_sim_lines_free(sim);
	free(sim);
}

void hs_sim_begin(hs_sim *sim, hs_sim_fault fault, uint64_t seed)
{
	sim->fault = fault;
	sim->seed = seed;
	sim->faults = hs_sim_fault_parts(sim->playbook, fault, sim->suspects, sim->modes);
	sim->cured[0] = sim->cured[1] = false;
	sim->answered = 0;
	sim->powered_min = 0.0;
	sim->timed = -1;
	sim->turned = 0;
	sim->turning = -1;
	hs_sim_lines_begin(sim);
}

bool hs_sim_cured(const hs_sim *sim)
{
	bool all = sim->faults > 0;
	for (size_t i = 0; i < sim->faults; i++)
		all = all && sim->cured[i];
	return all;
}

/* ---- chance ---- */

/* SplitMix64 (S. Vigna, public domain description of Steele, Lea and Flood 2014). */
static uint64_t scatter(uint64_t x)
{
	x += UINT64_C(0x9e3779b97f4a7c15);
	x = (x ^ (x >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
	x = (x ^ (x >> 27)) * UINT64_C(0x94d049bb133111eb);
	return x ^ (x >> 31);
}

/* From -1 to 1, the same for the same name all through a run. */
double hs_sim_drawn(const hs_sim *sim, const char *name, uint64_t more)
{
	uint64_t x = scatter(sim->seed ^ more);
	if (sim->seed == 0 || sim->seed >= HS_SIM_LOWER)
		return sim->seed == 0 ? 0.0 : sim->seed == HS_SIM_UPPER ? 1.0 : -1.0;
	for (; *name != '\0'; name++)
		x = scatter(x ^ (unsigned char)*name);
	return (double)(scatter(x) >> 11) / (double)(UINT64_C(1) << 52) - 1.0;
}

/* ---- what the unit shows ---- */

static double rate_of(const hs_sim *sim, size_t fault)
{
	const hs_suspect *suspect = &sim->playbook->suspects[sim->suspects[fault]];
	return suspect->rates != NULL ? suspect->rates[sim->modes[fault]] : 0.0;
}

/* At nominal and at the corners it is there: nothing is left to chance in them. */
static bool shows_now(const hs_sim *sim, size_t fault, uint64_t number)
{
	double rate = rate_of(sim, fault);
	bool chance = rate > 0.0 && sim->seed != 0 && sim->seed < HS_SIM_LOWER;
	return !chance || (hs_sim_drawn(sim, "now and then", number << 8 | fault) + 1.0) / 2.0 < rate;
}

bool hs_sim_fault_acts(const hs_sim *sim, size_t fault)
{
	return fault < sim->faults && !sim->cured[fault] && shows_now(sim, fault, sim->answered);
}

bool hs_sim_any_acts(const hs_sim *sim)
{
	return hs_sim_fault_acts(sim, 0) || hs_sim_fault_acts(sim, 1);
}

/* "12 V +/- 2 %": another value in every unit. */
static bool is_band(const hs_reading *reading, const char *text, hs_limits *band)
{
	hs_quantity there;
	return strchr(text, '/') != NULL && hs_limits_read(text, reading->unit, band, NULL) && band->has_low && band->has_high &&
	       hs_quantity_convert((hs_quantity){band->low, band->unit}, reading->unit, 50.0, &there, NULL);
}

/* A point may be read in volts here and in ohms there; what is said of it in one says nothing of the other. */
static bool reads_there(const hs_reading *reading, const char *text)
{
	hs_entry entry;
	hs_limits band;
	return hs_reading_is_word(reading) || is_band(reading, text, &band) || hs_entry_read(text, reading->unit, &entry, NULL);
}

/* What is said of this very reading; else of its step; else of its point. */
static const hs_sign *sign_for(const hs_signs *signs, int step, int item, const hs_reading *reading)
{
	const hs_sign *best = NULL;
	int rank = 0;
	for (size_t i = 0; i < signs->count; i++) {
		const hs_sign *sign = &signs->items[i];
		int fits = 0;
		if (sign->at == HS_SIGN_STEP && sign->step == step)
			fits = sign->item < 0 ? 2 : sign->item == item ? 3 : 0;
		else if (sign->at == HS_SIGN_POINT && reading != NULL && sign->point == reading->point && reads_there(reading, sign->text))
			fits = 1;
		if (fits > rank) {
			best = sign;
			rank = fits;
		}
	}
	return best;
}

static const hs_signs *signs_of(const hs_sim *sim, size_t fault)
{
	return &sim->playbook->suspects[sim->suspects[fault]].shows[sim->modes[fault]];
}

static const hs_sign *sign_of_kind(const hs_sim *sim, hs_sign_at at)
{
	const hs_signs *rows[3] = {NULL, NULL, &sim->playbook->healthy};
	for (size_t i = 0; i < sim->faults; i++)
		rows[i] = sim->cured[i] ? NULL : signs_of(sim, i);
	for (int row = 0; row < 3; row++)
		for (size_t i = 0; rows[row] != NULL && i < rows[row]->count; i++)
			if (rows[row]->items[i].at == at)
				return &rows[row]->items[i];
	return NULL;
}

static const hs_sign *sign_at(const hs_sim *sim, int step, int item, const hs_reading *reading, bool *of_fault)
{
	const hs_sign *sign = NULL;
	*of_fault = false;
	for (size_t i = 0; sign == NULL && i < sim->faults; i++)
		if (hs_sim_fault_acts(sim, i))
			sign = sign_for(signs_of(sim, i), step, item, reading);
	*of_fault = sign != NULL;
	return sign != NULL ? sign : sign_for(&sim->playbook->healthy, step, item, reading);
}

static bool nothing_said(const hs_step *step, hs_error *error)
{
	hs_fail(error, HS_BAD_INPUT, "nothing says what a unit in order shows at %s", step->id);
	hs_fail_hint(error, "add it: healthy { [\"%s\"] = \"...\" }", step->id);
	return hs_fail_at(error, step->where.file, step->where.line);
}

/* The middle of what a step judges by; a limit on one side only is kept by a third, or by 3 dB. */
static bool middle_of(const hs_limits *limits, double *value)
{
	bool level = hs_unit_is_level(limits->unit) || limits->unit == HS_DB;
	if (limits->has_low && limits->has_high)
		*value = (limits->low + limits->high) / 2.0;
	else if (limits->has_low)
		*value = level ? limits->low + 3.0 : limits->low > 0.0 ? limits->low * 1.33 : limits->low + 1.0;
	else if (limits->has_high)
		*value = level ? limits->high - 3.0 : limits->high > 0.0 ? limits->high * 0.67 : limits->high - 1.0;
	else
		return false;
	return true;
}

/* What is at the point: a number in the reading's unit, or something a meter shows that is none. */
typedef struct truth {
	hs_entry entry;
	const char *word;  /* a trend, a tick, a count: typed as it stands */
	bool seen;         /* it was turned until the meter showed this: the meter's errors are in it already */
} truth;

static double drawn_within(const hs_sim *sim, const hs_limits *limits, const char *name)
{
	double middle = (limits->low + limits->high) / 2.0;
	return middle + hs_sim_drawn(sim, name, 0) * (limits->high - limits->low) / 2.0;
}

static bool from_sign(const hs_sim *sim, const hs_reading *reading, const hs_sign *sign, truth *out, hs_error *error)
{
	hs_limits band;
	if (hs_reading_is_word(reading)) {
		out->word = sign->text;
		return true;
	}
	if (is_band(reading, sign->text, &band)) {
		out->entry = (hs_entry){.kind = HS_ENTRY_NUMBER, .quantity = {drawn_within(sim, &band, sign->target), band.unit}};
		return true;
	}
	if (hs_entry_read(sign->text, reading->unit, &out->entry, error))
		return true;
	return hs_fail_at(error, sign->where.file, sign->where.line);
}

static bool healthy_word(const hs_reading *reading, truth *out)
{
	out->word = reading->reads == HS_READS_TREND ? "steady" : reading->reads == HS_READS_TICK ? "yes" : NULL;
	return out->word != NULL;
}

/* A derived reading: the first of the two lies above the second by the middle of the limits. */
static bool derived_middle(const hs_step *step, int item, double *value)
{
	double apart;
	if (step->derive == HS_DERIVE_NONE || !step->derived_limits || !middle_of(&step->derive_limit, &apart))
		return false;
	bool level = hs_unit_is_level(step->readings[step->derive_a].unit);
	double second = level ? -20.0 : 1.0;
	if (step->derive == HS_DERIVE_RATIO && !level)
		*value = (size_t)item == step->derive_a ? second * apart : second;
	else
		*value = (size_t)item == step->derive_a ? second + apart : second;
	return true;
}

/* Whoever turns until the meter shows what is wanted has it shown, whatever the unit was drawn as. */
static bool was_set_right(const hs_sim *sim, const hs_ask *ask, truth *out)
{
	const hs_step *step = &sim->playbook->steps[ask->step];
	const hs_limits *limits = &step->readings[ask->item].limits;
	*out = (truth){.entry = {.kind = HS_ENTRY_NUMBER, .quantity.unit = limits->unit}, .seen = true};
	return step->kind == HS_STEP_ADJUST && !step->watch && !step->has_responds && !hs_sim_any_acts(sim) && sim->turning == ask->step &&
	       sim->turned > 0 && step->readings[ask->item].has_limits && middle_of(limits, &out->entry.quantity.value);
}

/* Turned, a unit that can respond does; one that cannot says so of this very step. */
static void respond(const hs_sim *sim, const hs_ask *ask, truth *out)
{
	const hs_step *step = &sim->playbook->steps[ask->step];
	if (step->has_responds && sim->turning == ask->step && sim->turned > 0)
		out->entry.quantity.value += 2.0 * step->responds;
}

/* What a fault shows outranks a line-up, and that outranks what a unit in order shows. */
static bool truth_at(hs_sim *sim, const hs_engine *engine, const hs_ask *ask, truth *out, hs_error *error)
{
	const hs_step *step = &sim->playbook->steps[ask->step];
	const hs_reading *reading = &step->readings[ask->item];
	bool of_fault, of_line = false;
	hs_quantity level;
	const hs_sign *sign = sign_at(sim, ask->step, ask->item, reading, &of_fault);
	if (was_set_right(sim, ask, out))
		return true;
	if (!of_fault && !hs_sim_line_level(sim, engine, step, reading, &of_line, &level, error))
		return false;
	if (of_line) {
		*out = (truth){.entry = {.kind = HS_ENTRY_NUMBER, .quantity = level}};
		respond(sim, ask, out);
		return true;
	}
	memset(out, 0, sizeof *out);
	out->entry.kind = HS_ENTRY_NUMBER;
	out->entry.quantity.unit = reading->unit;
	if (sign != NULL && !from_sign(sim, reading, sign, out, error))
		return false;
	if (sign == NULL && !healthy_word(reading, out) && !(reading->has_limits && middle_of(&reading->limits, &out->entry.quantity.value)) &&
	    !derived_middle(step, ask->item, &out->entry.quantity.value) && reading->limits_by.id >= 0)
		return nothing_said(step, error);
	if (sign == NULL && reading->has_limits && reading->limits.open_is_ok)
		out->entry.kind = HS_ENTRY_OPEN;
	if (sign == NULL && reading->has_limits)
		out->entry.quantity.unit = reading->limits.unit;
	if (!(of_fault && sign->at == HS_SIGN_STEP) && out->word == NULL)
		respond(sim, ask, out);
	return true;
}

/* ---- what the instruments make of it ---- */

/* The line from what is at the point to what the instrument shows, for the units in which it is one. */
static double as_shown(const hs_correction *correction, hs_unit unit, double value)
{
	double none = hs_correct_reading(correction, (hs_quantity){0.0, unit}).value;
	double one = hs_correct_reading(correction, (hs_quantity){1.0, unit}).value;
	return isfinite(none) && isfinite(one) && one != none ? (value - none) / (one - none) : value;
}

static double error_of(const hs_sim *sim, const hs_budget *budget)
{
	double sum = 0.0;
	for (size_t i = 0; i < budget->count; i++) {
		const hs_term *term = &budget->terms[i];
		/* k = 2 is twice a standard deviation; a rectangle of the same one is wider by the root of three over two. */
		double half = term->shape == HS_NORMAL_K2 ? term->half_width * sqrt(3.0) / 2.0 : term->half_width;
		sum += term->sensitivity * half * hs_sim_drawn(sim, term->name, (uint64_t)budget->unit << 32);
	}
	return sum;
}

/* The last digit of an instrument is some way below what it can be trusted to. */
static double resolution_of(double expanded, double value)
{
	double about = expanded > 0.0 ? expanded / 10.0 : fabs(value) > 0.0 ? fabs(value) / 1000.0 : 0.001;
	return pow(10.0, floor(log10(about)));
}

/* What an instrument never shows below nothing, however far off it is. */
static bool is_magnitude(hs_measurand reads)
{
	return reads == HS_READS_AC_VOLTS || reads == HS_READS_OHMS || reads == HS_READS_CONTINUITY || reads == HS_READS_CAPACITANCE;
}

static bool measured(const hs_sim *sim, const hs_reading *reading, double leads_ohm, bool exact, hs_entry *entry, hs_error *error)
{
	double expanded = 0.0;
	if (reading->hookup != NULL && !hs_reading_is_word(reading)) {
		hs_correction correction;
		hs_budget budget = {.count = 0};
		if (!hs_hookup_correct(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, &correction, error))
			return false;
		bool inside;
		hs_quantity shown = {as_shown(&correction, entry->quantity.unit, entry->quantity.value), entry->quantity.unit};
		const hs_range *range = hs_hookup_range(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, &shown, &inside);
		hs_budget_of_reading(&budget, reading->hookup, range, &correction, entry->quantity, 0.0);
		expanded = hs_budget_expanded(&budget);
		entry->quantity.value = as_shown(&correction, entry->quantity.unit, entry->quantity.value + (exact ? 0.0 : error_of(sim, &budget)));
		entry->quantity.value += leads_ohm;
		if (is_magnitude(hs_reading_measurand(reading)) && !hs_unit_is_level(entry->quantity.unit))
			entry->quantity.value = fabs(entry->quantity.value);
	}
	entry->step = resolution_of(expanded, entry->quantity.value);
	entry->quantity.value = round(entry->quantity.value / entry->step) * entry->step;
	return true;
}

bool hs_sim_reading(hs_sim *sim, const hs_engine *engine, const hs_ask *ask, hs_entry *entry, hs_error *error)
{
	truth there;
	const hs_reading *reading = &sim->playbook->steps[ask->step].readings[ask->item];
	if (!truth_at(sim, engine, ask, &there, error))
		return false;
	*entry = there.entry;
	if (there.word != NULL)
		return hs_entry_read(there.word, reading->unit, entry, error);
	return entry->kind != HS_ENTRY_NUMBER || measured(sim, reading, hs_engine_leads_ohm(engine, ask->step, ask->item), there.seen, entry, error);
}

/* ---- what is typed ---- */

static void type_number(const hs_entry *entry, hs_buf *text)
{
	int digits = (int)-floor(log10(entry->step) + 0.5);
	char number[64];
	snprintf(number, sizeof number, "%.*f", digits > 0 ? digits : 0, entry->quantity.value);
	hs_buf_printf(text, "%s%s%s", number, entry->quantity.unit == HS_UNITLESS ? "" : " ", hs_unit_name(entry->quantity.unit));
}

static bool type_reading(hs_sim *sim, const hs_engine *engine, const hs_ask *ask, hs_buf *text, hs_error *error)
{
	truth there;
	hs_entry entry;
	bool of_fault;
	const hs_reading *reading = &sim->playbook->steps[ask->step].readings[ask->item];
	if (!truth_at(sim, engine, ask, &there, error))
		return false;
	if (there.word != NULL) {
		hs_buf_str(text, there.word);
		return true;
	}
	if (there.entry.kind == HS_ENTRY_NUMBER) {
		if (!hs_sim_reading(sim, engine, ask, &entry, error))
			return false;
		type_number(&entry, text);
		return true;
	}
	/* Over range, open and bounds are typed as the author wrote them. */
	const hs_sign *sign = sign_at(sim, ask->step, ask->item, reading, &of_fault);
	hs_buf_str(text, sign != NULL ? sign->text : "open");
	return true;
}

static int word_in(const hs_choice *choices, size_t count, const char *word)
{
	for (size_t i = 0; i < count; i++)
		if (hs_same_word(choices[i].word, word))
			return (int)i;
	return -1;
}

/* The word chosen at a look, or of where to enter; from 0. */
static bool choice_at(const hs_sim *sim, const hs_ask *ask, int *choice, hs_error *error)
{
	const hs_playbook *playbook = sim->playbook;
	if (ask->kind == HS_ASK_ENTRY) {
		const hs_sign *enters = sign_of_kind(sim, HS_SIGN_ENTRY);
		*choice = enters != NULL ? word_in(playbook->entries, playbook->entry_count, enters->text) : 0;
		return true;
	}
	const hs_step *step = &playbook->steps[ask->step];
	bool of_fault;
	const hs_sign *sign = sign_at(sim, ask->step, -1, NULL, &of_fault);
	if (sign == NULL)
		return nothing_said(step, error);
	*choice = word_in(step->choices, step->choice_count, sign->text);
	return true;
}

static void type_shown(const hs_sim *sim, const hs_playbook *playbook, hs_buf *text)
{
	const hs_sign *sign = sign_of_kind(sim, HS_SIGN_SYMPTOM);
	int tries = playbook->symptom.tries, seen = 0;
	if (sign != NULL) {
		hs_buf_str(text, sign->text);
		return;
	}
	for (int i = 0; i < tries; i++)
		for (size_t fault = 0, there = 0; fault < sim->faults && there == 0; fault++)
			seen += (int)(there = !sim->cured[fault] && shows_now(sim, fault, UINT64_C(1) << 40 | (uint64_t)i));
	/* A unit whose symptom was never seen is not on the bench. */
	if (sim->faults > 0 && seen == 0 && !hs_sim_cured(sim))
		seen = 1;
	hs_buf_printf(text, "%d of %d", sim->faults == 0 && sim->fault.mode == 0 ? tries : seen, tries);
}

bool hs_sim_answer(hs_sim *sim, const hs_engine *engine, const hs_ask *ask, hs_buf *text, hs_error *error)
{
	const hs_playbook *playbook = sim->playbook;
	int choice;
	switch (ask->kind) {
	case HS_ASK_READ: return type_reading(sim, engine, ask, text, error);
	case HS_ASK_SHOWN: type_shown(sim, playbook, text); return true;
	case HS_ASK_ENTRY:
		if (!choice_at(sim, ask, &choice, error))
			return false;
		hs_buf_str(text, playbook->entries[choice].word);
		return true;
	case HS_ASK_CHOOSE:
		if (!choice_at(sim, ask, &choice, error))
			return false;
		hs_buf_str(text, playbook->steps[ask->step].choices[choice].word);
		return true;
	case HS_ASK_STANDS: hs_buf_str(text, playbook->unit.controls[ask->item].positions[0]); return true;
	default: hs_engine_obliging(engine, ask, text); return true;
	}
}

/* The minutes of each step count once: on, it warms up; off, it cools down as fast. */
static void pass_time(hs_sim *sim, const hs_engine *engine, const hs_ask *ask)
{
	const hs_step *step = &sim->playbook->steps[ask->step];
	/* A unit of which no supply is declared stands as its steps say. */
	bool declared = sim->playbook->unit.source_count > 0;
	hs_power power = declared ? hs_engine_physical(engine)->power
	                          : step->power == HS_NEED_ON || step->power == HS_NEED_KEYED ? HS_POWER_ON : HS_POWER_UNKNOWN;
	bool ask_of_step = ask->kind == HS_ASK_READ || ask->kind == HS_ASK_CHOOSE || ask->kind == HS_ASK_WAITED || ask->kind == HS_ASK_DONE;
	if (!ask_of_step || ask->step == sim->timed)
		return;
	sim->timed = ask->step;
	double minutes = fmax(step->minutes, step->wait_s / 60.0);
	if (power == HS_POWER_ON || power == HS_POWER_KEYED)
		sim->powered_min += minutes;
	else if (power >= HS_POWER_STANDBY)
		sim->powered_min = fmax(0.0, sim->powered_min - minutes);
}

void hs_sim_done(hs_sim *sim, const hs_engine *engine, const hs_ask *ask)
{
	sim->answered += ask->kind == HS_ASK_READ || ask->kind == HS_ASK_CHOOSE;
	if (ask->step < 0)
		return;
	pass_time(sim, engine, ask);
	const hs_step *step = &sim->playbook->steps[ask->step];
	bool worked = ask->kind == HS_ASK_DONE || ask->kind == HS_ASK_FITTED || (ask->kind == HS_ASK_READ && step->kind == HS_STEP_ADJUST);
	for (size_t i = 0; worked && i < step->cure_count; i++)
		for (size_t fault = 0; fault < sim->faults; fault++)
			sim->cured[fault] = sim->cured[fault] || step->cures[i] == sim->suspects[fault];
	if (ask->kind == HS_ASK_READ && step->kind == HS_STEP_ADJUST) {
		sim->turned = sim->turning == ask->step ? sim->turned + 1 : 1;
		sim->turning = ask->step;
	}
}
