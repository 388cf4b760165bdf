/* The unit as a model: circles, faults without effect, and limits that say something else than the line-up. */
#include "check.h"

#include <math.h>
#include <string.h>
#include "halfsplit/model/expect.h"

static hs_where where_of(const hs_element *element)
{
	return (hs_where){element->file, element->line};
}

static void check_circle(hs_check *check, const hs_lineup *lineup)
{
	int at = hs_lineup_cycle(lineup);
	if (at < 0)
		return;
	const hs_element *element = &lineup->elements[at];
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, where_of(element),
	                                     "in the line-up \"%s\" \"%s\" in the end feeds itself, and it is no loop", lineup->id, element->id);
	hs_problem_hint(problem, "a loop is levelling { ... at = \"DETECTOR\" }, or an oscillator that locks to a reference");
}

static void check_faults(hs_check *check, const hs_lineup *lineup, const hs_element *element)
{
	for (size_t i = 0; i < element->fault_count; i++) {
		const hs_line_fault *fault = &element->faults[i];
		if (hs_effect_matters(lineup, &fault->effect))
			continue;
		hs_buf words;
		hs_buf_init(&words);
		hs_effect_print(&words, &fault->effect);
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, where_of(element),
		                                     "the fault \"%s\" of \"%s\" (%s) changes nothing in the line-up \"%s\"", fault->mode,
		                                     element->id, words.data, lineup->id);
		bool line = fault->effect.kind == HS_EFFECT_SERIES || fault->effect.kind == HS_EFFECT_RESISTIVE ||
		            fault->effect.kind == HS_EFFECT_LEAKY;
		hs_problem_hint(problem, line ? "it works against an impedance: add impedance = \"50 ohm\" to the line-up"
		                              : "say what this %s does with it: faults = { [\"%s\"] = \"gain -10 dB\" }",
		                hs_element_kind_name(element->kind), fault->mode);
		hs_buf_free(&words);
	}
}

static bool has_effect(const hs_playbook *book, int suspect, const char *mode, const hs_element **element)
{
	*element = NULL;
	for (size_t l = 0; l < book->lineup_count; l++)
		for (size_t i = 0; i < book->lineups[l].count; i++) {
			const hs_element *it = &book->lineups[l].elements[i];
			if (it->suspect != suspect || it->kind == HS_ELEMENT_ARM)
				continue;
			*element = *element ? *element : it;
			for (size_t f = 0; f < it->fault_count; f++)
				if (strcmp(it->faults[f].mode, mode) == 0)
					return true;
		}
	return false;
}

/* A mode of a suspect that stands in a line-up must do something there, or no simulation and no proof can know it. */
static void check_modes(hs_check *check)
{
	const hs_playbook *book = check->book;
	for (size_t s = 0; s < book->suspect_count; s++)
		for (size_t m = 0; m < book->suspects[s].mode_count; m++) {
			const char *mode = book->suspects[s].modes[m];
			const hs_element *element;
			/* What it shows may be written instead. */
			if (book->suspects[s].shows && book->suspects[s].shows[m].count > 0)
				continue;
			if (has_effect(book, (int)s, mode, &element) || !element)
				continue;
			hs_problem *problem = hs_problem_add(check->problems, HS_WARNING, where_of(element),
			                                     "\"%s\" stands in a line-up, and nothing says what its mode \"%s\" does there",
			                                     book->suspects[s].id, mode);
			hs_problem_hint(problem, "add faults = { [\"%s\"] = \"gain -10 dB\" }, or whatever it does", mode);
		}
}

static double beyond(const hs_limits *limits, double value)
{
	if (limits->has_low && value < limits->low)
		return limits->low - value;
	return limits->has_high && value > limits->high ? value - limits->high : 0;
}

/* What the author wrote against what the line-up says; where it says nothing there is nothing to compare. */
static void check_written(hs_check *check, const hs_step *step, const hs_reading *reading)
{
	const hs_playbook *book = check->book;
	uint8_t set[HS_CONTROLS_MOST];
	hs_expectation expectation;
	hs_limits own;
	hs_quantity level;
	if (!reading->has_limits || reading->expects || reading->limits.open_is_ok || reading->against_reading > 0 || reading->loose)
		return;
	const hs_lineup *lineup = hs_expect_lineup(book, step, reading);
	if (!lineup || !hs_expect_fill(book, step, reading, lineup, set, &expectation, NULL) ||
	    !hs_expect_level(book, reading, &expectation, &level, NULL) ||
	    !hs_check_own_unit(check, reading, &reading->limits, &own, NULL))
		return;
	bool same_hz = !(reading->freq_hz > 0) || !(expectation.prediction.freq_hz > 0) ||
	               fabs(reading->freq_hz - expectation.prediction.freq_hz) <= 1e-6 * reading->freq_hz;
	if (!same_hz || !(beyond(&own, level.value) > 0))
		return;
	hs_buf limits, expected;
	hs_buf_init(&limits);
	hs_buf_init(&expected);
	hs_limits_print(&limits, &own);
	hs_quantity_print(&expected, level, -1);
	hs_problem *problem = hs_problem_add(check->problems, HS_WARNING, reading->limits_where.file ? reading->limits_where : reading->where,
	                                     "the limits of \"%s\" are %s, and by the line-up \"%s\" a healthy unit shows %s at %s", step->id,
	                                     limits.data, lineup->id, expected.data, reading->at_text);
	hs_problem_hint(problem, "one of the two is wrong; expect = \"%s\" takes the limits from the line-up", lineup->id);
	hs_buf_free(&limits);
	hs_buf_free(&expected);
}

void hs_check_lineups(hs_check *check)
{
	bool circle = false;
	for (size_t l = 0; l < check->book->lineup_count; l++) {
		const hs_lineup *lineup = &check->book->lineups[l];
		check_circle(check, lineup);
		circle |= hs_lineup_cycle(lineup) >= 0;
		for (size_t i = 0; i < lineup->count; i++)
			check_faults(check, lineup, &lineup->elements[i]);
	}
	check_modes(check);
	for (size_t i = 0; !circle && i < check->book->step_count; i++)
		for (size_t r = 0; r < check->book->steps[i].reading_count; r++)
			check_written(check, &check->book->steps[i], &check->book->steps[i].readings[r]);
}
