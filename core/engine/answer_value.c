/* A reading as it was typed: what it means, and whether it can be right here. */
#include "core/engine/answer_parts.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

bool hs_count_of(const char *text, unsigned *hits, unsigned *tries)
{
	char tail = 0;
	int got = sscanf(text, " %4u of %4u %c", hits, tries, &tail);
	if (got != 2)
		got = sscanf(text, " %4u / %4u %c", hits, tries, &tail);
	return got == 2 && strchr(text, '-') == NULL;
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
	if (reading->reads == HS_READS_COUNT_OF && hs_count_of(text, &hits, &tries)) {
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

bool hs_answer_value(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
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
	hs_world_keyed(engine, step);
	if (hs_joined_moved(engine->state, reading) && !hs_hookup_touches(reading->hookup))
		hs_course_lapse(engine, HS_HOLDS_HOOKUP);
	*failed = !hs_course_reading(engine, ask->item, &entered, error);
	return !*failed;
}
