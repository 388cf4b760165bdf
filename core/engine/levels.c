/* The level diagram of a step: what its line-up expects at each point, and what has been read so far with the same signal. */
#include "core/engine/state.h"
#include "halfsplit/model/expect.h"

#include <math.h>
#include <string.h>

enum { ROWS_MOST = 40 };

/* This one of the step's readings; the first that a line-up judges, where none is meant. */
static const hs_reading *expected_reading(const hs_step *step, int item)
{
	if (item >= 0 && (size_t)item < step->reading_count)
		return step->readings[item].expects != NULL ? &step->readings[item] : NULL;
	for (size_t i = 0; i < step->reading_count; i++)
		if (step->readings[i].expects != NULL)
			return &step->readings[i];
	return NULL;
}

static bool same_signal(const hs_engine *engine, const hs_expectation *expected, const hs_step *step, const hs_reading *reading)
{
	hs_injected injected = hs_expect_injected(engine->playbook, expected->lineup, step, reading);
	if (injected.element != expected->injected.element || injected.level != expected->injected.level ||
	    injected.freq_hz != expected->injected.freq_hz)
		return false;
	for (int i = 0; i < HS_CONTROLS_MOST; i++)
		if ((reading->set[i] != 0 ? reading->set[i] : step->set[i]) != expected->settings.set[i])
			return false;
	return true;
}

/* What was last read at the point, in the scale of the line-up. */
static void add_read(const hs_engine *engine, const hs_expectation *expected, int point, bool volts, double impedance, hs_level_row *row)
{
	const hs_playbook *playbook = engine->playbook;
	hs_quantity level;
	for (size_t i = 0; point >= 0 && i < playbook->slot_count; i++) {
		const hs_slot *slot = &hs_state_slots(engine->state)[i];
		const hs_step *step = &playbook->steps[engine->slot_step[i]];
		const hs_reading *reading = &step->readings[engine->slot_item[i]];
		if (!slot->taken || slot->kind != HS_ENTRY_NUMBER || reading->point != point || !same_signal(engine, expected, step, reading))
			continue;
		hs_quantity from = {slot->corrected, reading->unit};
		from.value = hs_unit_is_level(from.unit) ? from.value : fabs(from.value);
		if (hs_quantity_convert(from, volts ? HS_DBV : HS_DBM, impedance, &level, NULL)) {
			row->has_read = true;
			row->read = level.value;
		}
	}
}

static bool add_row(const hs_engine *engine, const hs_expectation *expected, int at, hs_level_row *row)
{
	const hs_element *element = &expected->lineup->elements[at];
	hs_prediction prediction;
	*row = (hs_level_row){.name = element->id};
	if (at == expected->injected.element) {
		row->has_expected = true;
		row->low = row->high = expected->injected.level;
	} else if (hs_lineup_predict(expected->lineup, &expected->injected, at, &expected->settings, NULL, &prediction, NULL) &&
	           !prediction.nothing) {
		double up = expected->worst ? prediction.worst_up_db : prediction.up_db;
		double down = expected->worst ? prediction.worst_down_db : prediction.down_db;
		row->has_expected = true;
		row->low = prediction.at_most ? -INFINITY : prediction.level - down;
		row->high = prediction.level + up;
	}
	double point = element->point >= 0 ? engine->playbook->unit.points[element->point].impedance_ohm : 0.0;
	add_read(engine, expected, element->point, element->volts, point > 0.0 ? point : element->impedance_ohm, row);
	return row->has_expected;
}

static bool is_place(const hs_element *element)
{
	return element->point >= 0 && (element->kind == HS_ELEMENT_PORT || element->kind == HS_ELEMENT_POINT);
}

/* In the unit the step reads in, where that is a level of the same kind. */
static hs_unit to_own_unit(const hs_reading *reading, hs_level_row *rows, size_t count)
{
	hs_unit scale = reading->expects->prediction.volts ? HS_DBV : HS_DBM;
	hs_quantity zero;
	if (!hs_unit_is_level(reading->unit) || hs_unit_dimension(reading->unit) != hs_unit_dimension(scale) ||
	    !hs_quantity_convert((hs_quantity){0.0, scale}, reading->unit, 0.0, &zero, NULL))
		return scale;
	for (size_t i = 0; i < count; i++) {
		rows[i].low += zero.value;
		rows[i].high += zero.value;
		rows[i].read += zero.value;
	}
	return reading->unit;
}

/* A rail read while a signal goes in stands on another scale, and nothing of the signal comes to it. */
static bool goes_there(const hs_expectation *expected)
{
	const hs_prediction *prediction = &expected->prediction;
	const hs_element *elements = expected->lineup->elements;
	const hs_element *first = prediction->count > 0 ? &elements[prediction->lines[0].element] : NULL;
	return expected->injected.element >= 0 &&
	       (first == NULL || (first->kind != HS_ELEMENT_OSCILLATOR && first->kind != HS_ELEMENT_SUPPLY));
}

void hs_engine_levels(const hs_engine *engine, int step, int item, size_t width, hs_buf *out)
{
	const hs_reading *reading = step >= 0 ? expected_reading(&engine->playbook->steps[step], item) : NULL;
	if (reading == NULL)
		return;
	const hs_expectation *expected = reading->expects;
	const hs_prediction *prediction = &expected->prediction;
	hs_level_row rows[ROWS_MOST];
	size_t count = 0;
	if (goes_there(expected) && add_row(engine, expected, expected->injected.element, &rows[count]))
		count++;
	for (size_t i = 0; i < prediction->count && count < ROWS_MOST; i++) {
		const hs_predicted_line *line = &prediction->lines[i];
		if (!line->beside && is_place(&expected->lineup->elements[line->element]) &&
		    add_row(engine, expected, line->element, &rows[count]))
			count++;
	}
	/* One point alone is no picture: the scale under the reading says as much. */
	if (count < 2)
		return;
	hs_buf_printf(out, "Levels by the line-up \"%s\"\n", expected->lineup->id);
	hs_unit unit = to_own_unit(reading, rows, count);
	hs_level_diagram(out, rows, count, count - 1, unit, width);
}

int hs_engine_judged(const hs_engine *engine, int *item)
{
	*item = engine->has_last ? engine->state->judged_item : -1;
	return engine->has_last ? engine->state->judged_step : -1;
}
