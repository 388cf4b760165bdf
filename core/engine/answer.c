/* One answer to one ask: accepted with its effects, or refused with one plain sentence. */
#include "core/engine/free.h"

#include <limits.h>
#include <stdio.h>
#include <math.h>
#include <string.h>

static bool blank(const char *text)
{
	return text[strspn(text, " \t")] == '\0';
}

static bool refuse(hs_buf *why, const char *sentence)
{
	hs_buf_str(why, sentence);
	return false;
}

static bool said_done(const char *text)
{
	return hs_same_word(text, "done") || hs_same_word(text, "d");
}

/* Which word was typed, or its number in the list; -1 for neither. */
static int pick_word(const char *const *words, int count, const char *text)
{
	char digits[16];
	for (int i = 0; i < count; i++)
		if (hs_same_word(text, words[i]))
			return i;
	for (int i = 0; i < count; i++) {
		snprintf(digits, sizeof digits, "%d", i + 1);
		if (strcmp(text, digits) == 0)
			return i;
	}
	return -1;
}

static void energised_or_not(hs_engine *engine, hs_power before)
{
	hs_power after = engine->state->physical.power;
	bool live_before = before == HS_POWER_ON || before == HS_POWER_STANDBY || before == HS_POWER_KEYED;
	bool live_after = after == HS_POWER_ON || after == HS_POWER_STANDBY || after == HS_POWER_KEYED;
	if (live_before || !live_after)
		return;
	hs_course_lapse(engine, HS_HOLDS_ENERGISE);
	/* A wait under power counts from when the power came. */
	engine->state->entered_ms = engine->state->last_ms;
}

static bool gate(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	hs_state *state = engine->state;
	hs_power before = state->physical.power;
	hs_gate_result result = hs_way_take(&engine->playbook->unit, &state->physical, &ask->gate, text, state->last_ms, engine->by,
	                                    ask->step, why);
	if (result == HS_GATE_REFUSED)
		return false;
	energised_or_not(engine, before);
	hs_buf id;
	hs_buf_init(&id);
	hs_gate_id(&engine->playbook->unit, &ask->gate, &id);
	hs_fact *fact = hs_fact_add(engine, HS_SAYS_GATE);
	fact->ask_id = hs_turn_text(engine, id.data);
	fact->step = ask->step;
	fact->before = before;
	fact->after = state->physical.power;
	fact->accepted = result == HS_GATE_PASSED;
	fact->text = hs_turn_text(engine, text);
	if (result == HS_GATE_FAILED)
		fact->why = hs_turn_text(engine, why->data);
	hs_buf_clear(why);
	hs_buf_free(&id);
	return true;
}

static void open_or_close(hs_engine *engine, int openable, bool open)
{
	if (open)
		hs_physical_open(&engine->playbook->unit, &engine->state->physical, openable);
	else
		hs_physical_close(&engine->playbook->unit, &engine->state->physical, openable);
	hs_fact *fact = hs_fact_add(engine, open ? HS_SAYS_OPENED : HS_SAYS_CLOSED_UP);
	fact->item = openable;
}

static bool done_opening(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	const hs_openable *thing = &engine->playbook->unit.openables[ask->item];
	bool open = ask->kind == HS_ASK_OPEN;
	if (!said_done(text)) {
		hs_buf_printf(why, "%s is %s in the record; type done once it is %s.", thing->id, open ? "still fitted" : "still on the open list",
		              open ? "off" : "back as it belongs");
		return false;
	}
	open_or_close(engine, ask->item, open);
	hs_course_lapse(engine, HS_HOLDS_OPENING);
	return true;
}

static bool joined(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	const hs_step *step = &engine->playbook->steps[ask->step];
	if (!said_done(text))
		return refuse(why, "Type done once the lead is joined as shown.");
	if (ask->item == 0) {
		engine->state->source = (hs_joined){.hookup = step->inject.hookup, .point = step->inject.point, .at_text = step->inject.at_text, .confirmed = true};
	} else {
		hs_joined_put(engine->state, hs_joined_for(&step->readings[ask->item - 1], step->attach_dead, true));
	}
	/* With the power on only a line that carries nothing is joined: the load at the output stays what it was. */
	if (engine->state->physical.power >= HS_POWER_OFF)
		hs_physical_touch(&engine->state->physical);
	else
		hs_physical_unkey(&engine->state->physical);
	hs_course_lapse(engine, HS_HOLDS_HOOKUP);
	return true;
}

static bool stands(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	const hs_control *control = &engine->playbook->unit.controls[ask->item];
	if (hs_same_word(text, "unknown")) {
		engine->state->stood[ask->item] = HS_STOOD_UNKNOWN;
		return true;
	}
	int which = pick_word(control->positions, control->position_count, text);
	if (which < 0) {
		hs_buf_printf(why, "\"%.60s\" is no position of %s; choose ", text, control->id);
		for (int i = 0; i < control->position_count; i++)
			hs_buf_printf(why, "%s, ", control->positions[i]);
		hs_buf_str(why, "or unknown.");
		return false;
	}
	engine->state->stood[ask->item] = engine->state->position[ask->item] = (uint8_t)(which + 1);
	return true;
}

static bool turned(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	const hs_control *control = &engine->playbook->unit.controls[ask->item];
	const char *wanted = control->positions[ask->position - 1];
	if (!said_done(text) && !hs_same_word(text, wanted)) {
		hs_buf_printf(why, "%s is to stand at %s; type done once it does.", control->id, wanted);
		return false;
	}
	engine->state->position[ask->item] = engine->state->turned[ask->item] = (uint8_t)ask->position;
	if (control->zone >= 0)
		hs_physical_touch(&engine->state->physical);
	hs_course_lapse(engine, HS_HOLDS_ADJUST);
	return true;
}

static bool intake(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	if (ask->item == HS_INTAKE_FIRST) {
		if (!said_done(text))
			return refuse(why, "Do what is listed first, then type done.");
	} else if (blank(text)) {
		return refuse(why, "Please write at least a word; \"none\" is an answer too.");
	}
	engine->state->intake |= 1u << ask->item;
	return true;
}

static bool begin_at(hs_engine *engine, int step, bool *failed, hs_error *error)
{
	*failed = !hs_course_enter(engine, step, error);
	return !*failed;
}

/* After the intake, a playbook with one entry goes on without asking. */
static bool begin_when_ready(hs_engine *engine, bool *failed, hs_error *error)
{
	hs_state *state = engine->state;
	hs_ask next = hs_next_judged(engine);
	if (next.kind != HS_ASK_BLOCKED || state->step >= 0 || state->finding >= 0)
		return true;
	return begin_at(engine, state->entry_to, failed, error);
}

static int pick(const hs_choice *choices, size_t count, const char *text, hs_buf *why)
{
	const char *words[64];
	size_t offered = count < sizeof words / sizeof words[0] ? count : sizeof words / sizeof words[0];
	for (size_t i = 0; i < offered; i++)
		words[i] = choices[i].word;
	int which = pick_word(words, (int)offered, text);
	if (which >= 0)
		return which;
	if (blank(text))
		hs_buf_str(why, "Nothing was typed; choose ");
	else
		hs_buf_printf(why, "\"%.60s\" is not among the answers; choose ", text);
	for (size_t i = 0; i < count; i++)
		hs_buf_printf(why, "%s%s", i == 0 ? "" : i + 1 == count ? " or " : ", ", choices[i].word);
	hs_buf_str(why, " (or its number).");
	return -1;
}

static bool entry(hs_engine *engine, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	int which = pick(engine->playbook->entries, engine->playbook->entry_count, text, why);
	if (which < 0)
		return false;
	const hs_choice *chosen = &engine->playbook->entries[which];
	engine->state->entry_known = true;
	*failed = !hs_course_follow(engine, &chosen->branch, NULL, chosen->word, error);
	return !*failed;
}

static void shown_keyed(hs_engine *engine)
{
	if (engine->playbook->symptom.power == HS_NEED_KEYED)
		hs_physical_keyed(&engine->state->physical, engine->state->last_ms);
}

/* "3 of 3", "2/5": so many times, out of so many tries. */
static bool count_of(const char *text, unsigned *hits, unsigned *tries)
{
	char tail = 0;
	int got = sscanf(text, " %4u of %4u %c", hits, tries, &tail);
	if (got != 2)
		got = sscanf(text, " %4u / %4u %c", hits, tries, &tail);
	return got == 2 && strchr(text, '-') == NULL;
}

static bool shown(hs_engine *engine, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_symptom *symptom = &engine->playbook->symptom;
	unsigned hits = 0, tries = 0;
	if (!count_of(text, &hits, &tries)) {
		hs_buf_printf(why, "\"%.60s\" is not a count; write how often it showed out of how many tries, such as %d of %d.", text,
		              symptom->tries, symptom->tries);
		return false;
	}
	if (hits > tries)
		return refuse(why, "It cannot have shown more often than it was tried.");
	if ((int)tries < symptom->tries) {
		hs_buf_printf(why, "%u %s too few; try it %d times under the stated conditions.", tries, tries == 1 ? "try is" : "tries are",
		              symptom->tries);
		return false;
	}
	engine->state->shown_known = true;
	shown_keyed(engine);
	if (hits == 0) {
		engine->state->entry_known = true;
		*failed = !hs_course_follow(engine, &symptom->absent, NULL, "not shown", error);
		return !*failed;
	}
	return true;
}

static void look_was_keyed(hs_engine *engine, const hs_step *step)
{
	if (hs_step_need(engine->playbook, step) == HS_NEED_KEYED)
		hs_physical_keyed(&engine->state->physical, engine->state->last_ms);
}

static bool chosen(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_step *step = &engine->playbook->steps[ask->step];
	int which = pick(step->choices, step->choice_count, text, why);
	if (which < 0)
		return false;
	look_was_keyed(engine, step);
	hs_visit_state *visit = &hs_state_visits(engine, engine->state)[ask->step];
	const hs_choice *choice = &step->choices[which];
	bool seen_before = visit->choice >= 0 && choice->again.target != NULL;
	visit->choice = which;
	if (choice->stop) {
		/* Power first. The judgement waits where it is; a later resume asks the same question again. */
		hs_physical_void(&engine->state->physical);
		engine->state->stopping = true;
		engine->state->stop_told = false;
		return true;
	}
	*failed = !hs_course_follow(engine, seen_before ? &choice->again : &choice->branch, NULL, choice->word, error);
	return !*failed;
}

/* "0.4 Vac": the typed unit says which kind of voltage it was. */
static bool names_kind(const char *text, const char *kind)
{
	size_t length = strlen(text);
	return length > 3 && hs_same_word(text + length - 2, kind) && text[length - 3] != 'd' && text[length - 3] != 'p';
}

bool hs_says_unread(const char *text)
{
	hs_entry entry;
	hs_error ignored = {0};
	return text != NULL && hs_entry_read(text, HS_UNITLESS, &entry, &ignored) && entry.kind == HS_ENTRY_UNREAD;
}

/* `same` says that the instrument did not move; at another point or frequency that would be a reading nobody took. */
static bool read_alike(const hs_reading *last, const hs_reading *reading)
{
	if (last->hookup_name == NULL && reading->hookup_name == NULL)
		return true;
	const char *was = last->at_text != NULL ? last->at_text : "", *is = reading->at_text != NULL ? reading->at_text : "";
	double apart_hz = last->freq_hz - reading->freq_hz;
	return last->point == reading->point && strcmp(was, is) == 0 && apart_hz < 0.5 && apart_hz > -0.5;
}

/* The last reading once more. Words are the same only as an answer to the same kind of question. */
static bool same_again(const hs_engine *engine, const hs_reading *reading, hs_entry *out, hs_error *error)
{
	int at = engine->state->last_slot;
	const hs_slot *last = at >= 0 ? &hs_state_slots(engine->state)[at] : NULL;
	const hs_reading *was = at >= 0 ? &engine->playbook->steps[engine->slot_step[at]].readings[engine->slot_item[at]] : NULL;
	bool alike = last != NULL && last->taken && hs_unit_dimension(last->quantity.unit) == hs_unit_dimension(reading->unit) &&
	             (was->reads == reading->reads || (!hs_reading_is_word(was) && !hs_reading_is_word(reading)));
	if (!alike && hs_reading_is_word(reading))
		return hs_fail(error, HS_BAD_INPUT, "there is no earlier %s to be the same as", hs_measurand_name(reading->reads));
	if (!alike)
		return hs_fail(error, HS_BAD_INPUT, "there is no earlier reading in %s to be the same as", hs_unit_name(reading->unit));
	if (!read_alike(was, reading))
		return hs_fail(error, HS_BAD_INPUT, "the last reading was of another point or frequency; type what the instrument shows here");
	memset(out, 0, sizeof *out);
	out->kind = last->kind;
	out->quantity = last->quantity;
	out->step = last->step;
	return true;
}

/* Words that stand for a number at some readings: a trend, a tick, so many out of so many, the same as before. */
static bool entry_meant(hs_engine *engine, const hs_reading *reading, const char *text, hs_entry *out, hs_error *error)
{
	static const struct {
		hs_measurand reads;
		const char *word, *means;
	} words[] = {
		{HS_READS_TREND, "rising", "1"}, {HS_READS_TREND, "steady", "0"}, {HS_READS_TREND, "falling", "-1"},
		{HS_READS_TICK, "yes", "1"}, {HS_READS_TICK, "no", "0"}, {HS_READS_TICK, "cannot tell", "not read: cannot tell"},
	};
	if (reading->mask != NULL && !hs_same_word(text, "unread") && strncmp(text, "not read", 8) != 0)
		return hs_trace_entry(engine, reading, text, out, error);
	if (hs_same_word(text, "same"))
		return same_again(engine, reading, out, error);
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
		if (words[i].reads == reading->reads && hs_same_word(text, words[i].word))
			return hs_entry_read(words[i].means, reading->unit, out, error);
	if (reading->reads == HS_READS_TICK && !hs_says_unread(text))
		return hs_fail(error, HS_BAD_INPUT, "\"%.60s\" is no answer here: yes, no or cannot tell was wanted", text);
	if (reading->reads == HS_READS_TREND && !hs_says_unread(text))
		return hs_fail(error, HS_BAD_INPUT, "\"%.60s\" is no trend: rising, steady or falling was wanted", text);
	unsigned hits = 0, tries = 0;
	if (reading->reads == HS_READS_COUNT_OF && count_of(text, &hits, &tries)) {
		char number[16];
		if (hits > tries)
			return hs_fail(error, HS_BAD_INPUT, "it cannot have happened %u times in %u tries", hits, tries);
		snprintf(number, sizeof number, "%u", hits);
		return hs_entry_read(number, reading->unit, out, error);
	}
	if (!hs_entry_read(text, reading->unit, out, error))
		return false;
	if (out->kind == HS_ENTRY_UNREAD && out->reason[0] == '\0')
		return hs_fail(error, HS_BAD_INPUT, "why it could not be read belongs to it; write not read: and the reason");
	if (reading->hookup_name == NULL && !hs_measurand_is_dead(reading->reads) && (out->kind == HS_ENTRY_OVER || out->kind == HS_ENTRY_OPEN))
		return hs_fail(error, HS_BAD_INPUT, "what is read off the unit by eye is a number; if it cannot be read, write not read: and the reason");
	if ((reading->reads == HS_READS_VOLTS && names_kind(text, "ac")) || (reading->reads == HS_READS_AC_VOLTS && names_kind(text, "dc")))
		return hs_fail(error, HS_BAD_INPUT, "%s are wanted here; set the meter to that", hs_measurand_name(reading->reads));
	return true;
}

/* What was read with is where it was read, asked about or not; true when it came there only now. */
bool hs_joined_moved(hs_state *state, const hs_reading *reading)
{
	if (reading->hookup == NULL || hs_joined_meter(state, reading) != NULL)
		return false;
	hs_joined_put(state, hs_joined_for(reading, false, false));
	return true;
}

static bool is_volts(hs_measurand reads)
{
	return reads == HS_READS_VOLTS || reads == HS_READS_AC_VOLTS;
}

/* The instrument would not have stood what it is said to have shown: a slip of the unit or of a digit. */
static bool instrument_could_show(const hs_engine *engine, const hs_reading *reading, const hs_entry *entered, hs_buf *why)
{
	const hs_part *instrument = reading->hookup != NULL ? reading->hookup->instrument : NULL;
	hs_measurand reads = hs_reading_measurand(reading);
	hs_quantity most = {0.0, HS_VOLT}, shown;
	if (instrument == NULL || entered->kind != HS_ENTRY_NUMBER)
		return true;
	if (is_volts(reads))
		most.value = instrument->max_dc_v * (reads == HS_READS_AC_VOLTS ? sqrt(0.5) : 1.0);
	else if (reads == HS_READS_POWER && instrument->has_max_rf)
		most = instrument->max_rf;
	else
		return true;
	bool stated = hs_unit_is_level(most.unit) || most.value > 0.0;
	if (!stated || !hs_quantity_convert(entered->quantity, most.unit, hs_reading_impedance(engine->playbook, reading), &shown, NULL) ||
	    (is_volts(reads) ? fabs(shown.value) : shown.value) <= most.value)
		return true;
	hs_quantity_print(why, entered->quantity, -1);
	hs_buf_printf(why, " cannot be right here: %s stands ", instrument->id);
	hs_quantity_print(why, most, -1);
	hs_buf_str(why, " and no more; check unit, sign and digits, and read again.");
	return false;
}

/* More than ten times all that feeds the unit or stays in it was never declared: a slip, or a unit that is not what it was said to be. */
static bool unit_could_give(const hs_engine *engine, const hs_reading *reading, const hs_measure *measure, hs_buf *why)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	double most = reading->point >= 0 ? unit->points[reading->point].dc_v : 0.0;
	for (int i = 0; i < unit->source_count; i++)
		most = fmax(most, unit->sources[i].volts);
	if (!is_volts(hs_reading_measurand(reading)) || reading->loose || !(most > 0.0) || measure->corrected.unit != HS_VOLT ||
	    fabs(measure->corrected.value) <= 10.0 * most)
		return true;
	hs_quantity_print(why, measure->corrected, -1);
	hs_buf_str(why, " cannot be right here: the highest voltage declared in this unit is ");
	hs_quantity_print(why, (hs_quantity){most, HS_VOLT}, -1);
	hs_buf_str(why, "; check unit and digits, and read again. If it is really so, stop: something is in there that nobody declared.");
	return false;
}

static bool read_value(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_step *step = &engine->playbook->steps[ask->step];
	const hs_reading *reading = &step->readings[ask->item];
	hs_entry entered;
	hs_error inner = {0};
	if (!entry_meant(engine, reading, text, &entered, &inner)) {
		hs_buf_str(why, inner.message);
		hs_buf_printf(why, "%s%s.", inner.hint[0] != '\0' ? "; " : "", inner.hint);
		return false;
	}
	hs_measure measure;
	if (!hs_measure_take(engine, reading, &entered, INT_MAX, &measure, NULL, NULL, &inner)) {
		hs_buf_str(why, inner.message);
		return false;
	}
	if (reading->has_plausible && entered.kind == HS_ENTRY_NUMBER &&
	    ((reading->plausible.has_low && measure.corrected.value < reading->plausible.low) ||
	     (reading->plausible.has_high && measure.corrected.value > reading->plausible.high))) {
		hs_quantity_print(why, measure.corrected, -1);
		hs_buf_str(why, " cannot be right here: anything from this point lies within ");
		hs_limits_print(why, &reading->plausible);
		hs_buf_str(why, "; check unit, sign and hookup, and read again.");
		return false;
	}
	if (!instrument_could_show(engine, reading, &entered, why) ||
	    (!reading->has_plausible && entered.kind == HS_ENTRY_NUMBER && !unit_could_give(engine, reading, &measure, why)))
		return false;
	hs_state *state = engine->state;
	if (hs_step_need(engine->playbook, step) == HS_NEED_KEYED)
		hs_physical_keyed(&state->physical, state->last_ms);
	if (hs_joined_moved(state, reading) && !hs_hookup_touches(reading->hookup))
		hs_course_lapse(engine, HS_HOLDS_HOOKUP);
	*failed = !hs_course_reading(engine, ask->item, &entered, error);
	return !*failed;
}

/* What a do step changed on the unit is a fact, whatever becomes of the judgement. */
static void apply_changes(hs_engine *engine, const hs_step *step)
{
	for (int i = 0; i < engine->playbook->unit.openable_count; i++) {
		if (step->makes >> i & 1u)
			open_or_close(engine, i, true);
		if (step->undoes >> i & 1u)
			open_or_close(engine, i, false);
	}
}

static void acted(hs_engine *engine, int step)
{
	apply_changes(engine, &engine->playbook->steps[step]);
	hs_course_lapse(engine, HS_HOLDS_DO);
	engine->state->act_step = step;
	engine->state->act_ms = engine->state->last_ms;
}

static bool again(hs_engine *engine, const char *text, hs_buf *why)
{
	if (!said_done(text))
		return refuse(why, "Type done once it is done again, then read at once.");
	engine->state->act_ms = engine->state->last_ms;
	hs_course_lapse(engine, HS_HOLDS_DO);
	hs_physical_touch(&engine->state->physical);
	return true;
}

/* The words of other asks, typed from habit, name no part. */
static bool says_no_part(const char *text)
{
	static const char *const habits[] = {"done", "ok", "okay", "yes", "fitted", "new"};
	for (size_t i = 0; i < sizeof habits / sizeof *habits; i++)
		if (hs_same_word(text, habits[i]))
			return true;
	return false;
}

static bool simple_step(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_step *step = &engine->playbook->steps[ask->step];
	if (ask->kind == HS_ASK_TOLD && !blank(text) && !said_done(text))
		return refuse(why, "Press Enter or type done when you have read this.");
	if (ask->kind == HS_ASK_DONE && !said_done(text))
		return refuse(why, "Type done once it is done; Enter alone is not enough, because the unit is changed.");
	if (ask->kind == HS_ASK_WAITED && !said_done(text))
		return refuse(why, "Type done once the time is over.");
	if (ask->kind == HS_ASK_FITTED && (blank(text) || strlen(text) < 2 || says_no_part(text)))
		return refuse(why, "Write what was fitted: part number, lot or serial.");
	if (ask->kind == HS_ASK_DONE)
		acted(engine, ask->step);
	if (ask->kind == HS_ASK_FITTED)
		hs_course_void_for(engine, step);
	if (ask->kind == HS_ASK_DONE || ask->kind == HS_ASK_FITTED)
		hs_physical_touch(&engine->state->physical);
	const hs_branch *next = &step->branches[HS_OKAY];
	if (ask->kind == HS_ASK_FITTED && step->retest_count > 0) {
		engine->state->retest_of = ask->step;
		engine->state->retest_at = 1;
		next = &step->retests[0];
	}
	*failed = !hs_course_follow(engine, next, NULL, "done", error);
	return !*failed;
}

static bool apply(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	*failed = false;
	bool taken = false;
	switch (ask->kind) {
	case HS_ASK_GATE: return gate(engine, ask, text, why);
	case HS_ASK_OPEN:
	case HS_ASK_CLOSE: return done_opening(engine, ask, text, why);
	case HS_ASK_JOIN: return joined(engine, ask, text, why);
	case HS_ASK_PART:
		if (!said_done(text))
			return refuse(why, "Type done once the hookup is off the unit.");
		if (ask->item == 0)
			engine->state->source = (hs_joined){.point = -1};
		else
			hs_joined_drop(engine->state, -1 - ask->item);
		hs_course_lapse(engine, HS_HOLDS_HOOKUP);
		return true;
	case HS_ASK_STANDS: return stands(engine, ask, text, why);
	case HS_ASK_SET: return turned(engine, ask, text, why);
	case HS_ASK_UNIT: return hs_free_unit_take(engine, ask->item, text, why);
	case HS_ASK_ACT: return hs_free_act(engine, text, why, failed, error);
	case HS_ASK_AGAIN: return again(engine, text, why);
	case HS_ASK_STOPPED:
		if (blank(text))
			return refuse(why, "Write in a few words what happened, now that the power is off.");
		engine->state->stop_told = true;
		return true;
	case HS_ASK_INTAKE: taken = intake(engine, ask, text, why); break;
	case HS_ASK_SHOWN: taken = shown(engine, text, why, failed, error); break;
	case HS_ASK_ENTRY: return entry(engine, text, why, failed, error);
	case HS_ASK_CHOOSE: return chosen(engine, ask, text, why, failed, error);
	case HS_ASK_READ: return read_value(engine, ask, text, why, failed, error);
	case HS_ASK_TOLD:
	case HS_ASK_DONE:
	case HS_ASK_WAITED:
	case HS_ASK_FITTED: return simple_step(engine, ask, text, why, failed, error);
	default: return refuse(why, "Nothing is asked now.");
	}
	return taken && begin_when_ready(engine, failed, error);
}

bool hs_answer_apply(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	bool taken = apply(engine, ask, text, why, failed, error);
	if (taken && hs_ask_is_judged(ask))
		hs_physical_worked(&engine->state->physical);
	return taken;
}

void hs_answer_physical(hs_engine *engine, const hs_ask *ask, const char *text)
{
	hs_physical_worked(&engine->state->physical);
	if (ask->kind == HS_ASK_SHOWN)
		shown_keyed(engine);
	if (ask->step < 0)
		return;
	const hs_step *step = &engine->playbook->steps[ask->step];
	hs_buf why;
	hs_buf_init(&why);
	if (ask->kind == HS_ASK_DONE) {
		acted(engine, ask->step);
		hs_physical_touch(&engine->state->physical);
	} else if (ask->kind == HS_ASK_FITTED) {
		hs_course_void_for(engine, step);
		hs_physical_touch(&engine->state->physical);
	} else if (ask->kind == HS_ASK_READ) {
		if (hs_step_need(engine->playbook, step) == HS_NEED_KEYED)
			hs_physical_keyed(&engine->state->physical, engine->state->last_ms);
		hs_joined_moved(engine->state, &step->readings[ask->item]);
	} else if (ask->kind == HS_ASK_CHOOSE) {
		int which = pick(step->choices, step->choice_count, text, &why);
		look_was_keyed(engine, step);
		if (which >= 0 && step->choices[which].stop) {
			hs_physical_void(&engine->state->physical);
			engine->state->stopping = true;
			engine->state->stop_told = false;
		}
	}
	hs_buf_free(&why);
}
