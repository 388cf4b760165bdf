/* Rule 8 with a line-up: what comes to both ends in the worst case over every suspect, and the pad that would make it safe. */
#include "check_levels.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "facts.h"
#include "halfsplit/model/expect.h"

static const double hair_db = 1e-9;
static const double slow_hz = 20e3;
static const double pads_db[] = {3, 6, 10, 20, 30, 40};
enum { PADS = sizeof pads_db / sizeof *pads_db };

typedef struct looking {
	const hs_playbook *playbook;
	const hs_step *step;
	const hs_lineup *lineup;
	hs_injected injected;
	uint8_t set[HS_CONTROLS_MOST];
	hs_line_settings settings;
	const bool *open; /* every suspect counts as open: a playbook is refused before it is known which will be cleared */
	hs_problems *problems;
} looking;

static void print_level(hs_buf *out, double level, bool volts)
{
	hs_quantity_print(out, volts ? (hs_quantity){pow(10, level / 20), HS_VOLT} : (hs_quantity){level, HS_DBM}, -1);
}

/* "in the worst case (alc lost)", or nothing when it takes no fault. */
static void print_worst(hs_buf *out, const hs_lineup *lineup, const hs_effect *effect)
{
	if (effect->kind == HS_EFFECT_NONE)
		return;
	hs_buf_printf(out, "with %s ", lineup->elements[effect->element].id);
	hs_effect_print(out, effect);
	hs_buf_char(out, ' ');
}

/* ---- into the unit ---- */

static hs_worst overdriven(const looking *l, double lowered_db)
{
	hs_injected injected = l->injected;
	hs_worst worst = {.element = -1}, one;
	injected.level -= lowered_db;
	for (size_t i = 0; i < l->lineup->count; i++)
		if ((l->lineup->elements[i].has_max || l->lineup->elements[i].has_peak) &&
		    hs_lineup_overdriven(l->lineup, &injected, (int)i, l->step->inject.crest_db, &l->settings, l->open, &one, NULL) &&
		    one.element >= 0 && one.over_db > hair_db && (worst.element < 0 || one.over_db > worst.over_db))
			worst = one;
	return worst;
}

static void check_inputs(const looking *l)
{
	const hs_injection *inject = &l->step->inject;
	const char *at = l->lineup->elements[l->injected.element].id;
	hs_worst worst = overdriven(l, 0);
	size_t pad = 0;
	if (worst.element < 0)
		return;
	const hs_element *element = &l->lineup->elements[worst.element];
	hs_buf level, comes, stands, how;
	hs_buf_init(&level);
	hs_buf_init(&comes);
	hs_buf_init(&stands);
	hs_buf_init(&how);
	hs_quantity_print(&level, inject->level, -1);
	print_level(&comes, worst.level, element->volts);
	print_level(&stands, worst.level - worst.over_db, element->volts);
	print_worst(&how, l->lineup, &worst.effect);
	hs_problem *problem = hs_problem_add(l->problems, HS_ERROR, inject->where,
	                                     "step \"%s\" injects %s at %s, and %s%s can come to %s, %.1f dB above what it stands (%s)",
	                                     l->step->id, level.data, at, how.data ? how.data : "", comes.data, element->id,
	                                     worst.over_db, stands.data);
	while (pad < PADS && overdriven(l, pads_db[pad]).element >= 0)
		pad++;
	if (pad < PADS)
		hs_problem_hint(problem, "a %g dB pad before %s would make it safe, or a level lower by as much", pads_db[pad], at);
	else
		hs_problem_hint(problem, "no pad at %s makes it safe; open the line-up before %s, and put the signal in elsewhere",
		                at, element->id);
	hs_buf_free(&level);
	hs_buf_free(&comes);
	hs_buf_free(&stands);
	hs_buf_free(&how);
}

/* ---- out of the unit ---- */

/* What an instrument stands, in the line-up's scale; false when it does not say. */
static bool rating_of(const hs_part *instrument, bool volts, double freq_hz, double impedance_ohm, double *rating)
{
	hs_quantity converted;
	double impedance = impedance_ohm > 0 ? impedance_ohm : instrument->impedance_ohm;
	if (volts && !(freq_hz > 0)) {
		*rating = 20 * log10(instrument->max_dc_v);
		return instrument->max_dc_v > 0;
	}
	if (!instrument->has_max_rf || !hs_quantity_convert(instrument->max_rf, volts ? HS_DBV : HS_DBM, impedance, &converted, NULL))
		return false;
	*rating = converted.value;
	return true;
}

static void refuse_reading(const looking *l, const hs_reading *reading, const hs_worst *worst, double level, double over, double margin,
                           bool volts)
{
	const hs_part *instrument = reading->hookup->instrument;
	double wanted = over + margin;
	size_t pad = 0;
	hs_buf comes, how;
	hs_buf_init(&comes);
	hs_buf_init(&how);
	print_level(&comes, level, volts);
	print_worst(&how, l->lineup, &worst->effect);
	hs_problem *problem;
	if (over > hair_db)
		problem = hs_problem_add(l->problems, HS_ERROR, reading->where,
		                         "step \"%s\" reads at %s, and %s%s can come to %s, %.1f dB above what it stands", l->step->id,
		                         l->playbook->unit.points[reading->point].id, how.data ? how.data : "", comes.data, instrument->id, over);
	else
		problem = hs_problem_add(l->problems, HS_ERROR, reading->where,
		                         "step \"%s\" reads at %s, and %s%s can come to %s, only %.1f dB under what it stands", l->step->id,
		                         l->playbook->unit.points[reading->point].id, how.data ? how.data : "", comes.data, instrument->id, -over);
	while (pad < PADS && pads_db[pad] < wanted - hair_db)
		pad++;
	if (pad < PADS)
		hs_problem_hint(problem, "a %g dB pad before %s would make it safe%s", pads_db[pad], instrument->id,
		                over > hair_db ? "" : "; or let the reading say margin, and why it is enough");
	else
		hs_problem_hint(problem, "put at least %.0f dB before %s", ceil(wanted), instrument->id);
	hs_buf_free(&comes);
	hs_buf_free(&how);
}

static double hookup_takes(const hs_reading *reading)
{
	hs_correction correction;
	double taken = 0;
	if (hs_hookup_correct(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, &correction, NULL))
		taken = correction.total_db + 20 * log10(correction.total_factor > 0 ? correction.total_factor : 1);
	return taken > 0 ? taken : 0;
}

static void check_output(const looking *l, const hs_reading *reading)
{
	int at = hs_lineup_at_point(l->lineup, reading->point);
	const hs_element *element = &l->lineup->elements[at];
	double rating, impedance = l->playbook->unit.points[reading->point].impedance_ohm;
	hs_worst worst;
	if (!hs_lineup_worst(l->lineup, &l->injected, at, &l->settings, l->open, &worst, NULL) || isinf(worst.level) ||
	    !rating_of(reading->hookup->instrument, element->volts, reading->freq_hz, impedance, &rating))
		return;
	double level = worst.level - hookup_takes(reading), over = level - rating;
	bool slow = element->volts || (reading->freq_hz > 0 && reading->freq_hz <= slow_hz);
	double margin = slow ? 3 : 10;
	if (over > hair_db || (over > hair_db - margin && !reading->margin_why))
		refuse_reading(l, reading, &worst, level, over, margin, element->volts);
}

static void look_at(const looking *l)
{
	if (l->injected.element >= 0)
		check_inputs(l);
	for (size_t r = 0; r < l->step->reading_count; r++) {
		const hs_reading *reading = &l->step->readings[r];
		looking with = *l;
		for (int i = 0; i < HS_CONTROLS_MOST; i++)
			with.set[i] = reading->set[i] ? reading->set[i] : l->step->set[i];
		with.settings.set = with.set;
		with.injected = hs_expect_injected(l->playbook, l->lineup, l->step, reading);
		if (reading->hookup && reading->hookup->instrument && !reading->loose && hs_lineup_at_point(l->lineup, reading->point) >= 0)
			check_output(&with, reading);
	}
}

void hs_check_lineup_levels(const hs_playbook *playbook, const hs_step *step, hs_problems *problems)
{
	hs_need need = hs_step_need(playbook, step);
	if (playbook->lineup_count == 0 || (!step->inject.given && step->reading_count == 0) || need == HS_NEED_DEAD || need == HS_NEED_OFF)
		return;
	bool *open = hs_alloc(playbook->suspect_count + 1);
	memset(open, true, playbook->suspect_count);
	for (size_t i = 0; i < playbook->lineup_count; i++) {
		const hs_lineup *lineup = &playbook->lineups[i];
		looking l = {.playbook = playbook, .step = step, .lineup = lineup, .open = open, .problems = problems};
		if (hs_lineup_cycle(lineup) >= 0)
			continue;
		memcpy(l.set, step->set, sizeof l.set);
		l.injected = hs_expect_injected(playbook, lineup, step, NULL);
		l.settings = (hs_line_settings){.set = l.set, .count = HS_CONTROLS_MOST, .open = step->open | step->with};
		look_at(&l);
	}
	free(open);
}
