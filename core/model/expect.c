#include "halfsplit/model/expect.h"

#include <math.h>
#include <string.h>

static bool has_both(const hs_lineup *lineup, const hs_step *step, const hs_reading *reading)
{
	return hs_lineup_at_point(lineup, reading->point) >= 0 &&
	       (!step->inject.given || hs_lineup_at_point(lineup, step->inject.point) >= 0);
}

const hs_lineup *hs_expect_lineup(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading)
{
	const hs_lineup *both = NULL, *one = NULL;
	size_t with_both = 0, with_one = 0;
	for (size_t i = 0; reading->point >= 0 && i < playbook->lineup_count; i++) {
		const hs_lineup *lineup = &playbook->lineups[i];
		if (hs_lineup_at_point(lineup, reading->point) < 0)
			continue;
		one = lineup;
		with_one++;
		if (has_both(lineup, step, reading)) {
			both = lineup;
			with_both++;
		}
	}
	return with_both == 1 ? both : with_both == 0 && with_one == 1 ? one : NULL;
}

hs_injected hs_expect_injected(const hs_playbook *playbook, const hs_lineup *lineup, const hs_step *step, const hs_reading *reading)
{
	const hs_injection *inject = &step->inject;
	hs_injected none = {.element = -1};
	hs_quantity level;
	int at = inject->given ? hs_lineup_at_point(lineup, inject->point) : -1;
	if (at < 0)
		return none;
	double impedance = playbook->unit.points[inject->point].impedance_ohm;
	impedance = impedance > 0 ? impedance : lineup->elements[at].impedance_ohm;
	hs_unit scale = lineup->elements[at].volts ? HS_DBV : HS_DBM;
	hs_quantity from = inject->level;
	/* A line-up knows the size of a DC level, and apart from that its sign. */
	from.value = hs_unit_is_level(from.unit) ? from.value : fabs(from.value);
	if (!hs_quantity_convert(from, scale, impedance, &level, NULL))
		return none;
	return (hs_injected){.element = at, .level = level.value, .freq_hz = reading && reading->source_hz > 0 ? reading->source_hz : inject->freq_hz,
	                     .negative = !hs_unit_is_level(inject->level.unit) && inject->level.value < 0};
}

static void merge_settings(const hs_step *step, const hs_reading *reading, uint8_t *set)
{
	for (int i = 0; i < HS_CONTROLS_MOST; i++)
		set[i] = reading->set[i] ? reading->set[i] : step->set[i];
}

bool hs_expect_fill(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading, const hs_lineup *lineup,
                    uint8_t *set, hs_expectation *out, hs_error *error)
{
	*out = (hs_expectation){.lineup = lineup, .element = hs_lineup_at_point(lineup, reading->point)};
	if (out->element < 0)
		return hs_fail(error, HS_BAD_INPUT, "the line-up \"%s\" has no point \"%s\"", lineup->id,
		               reading->at_text ? reading->at_text : reading->name);
	merge_settings(step, reading, set);
	out->injected = hs_expect_injected(playbook, lineup, step, reading);
	out->settings = (hs_line_settings){.set = set, .count = HS_CONTROLS_MOST, .open = step->open | step->with};
	return hs_lineup_predict(lineup, &out->injected, out->element, &out->settings, NULL, &out->prediction, error);
}

static double impedance_of(const hs_playbook *playbook, const hs_reading *reading, const hs_expectation *expectation)
{
	double point = reading->point >= 0 ? playbook->unit.points[reading->point].impedance_ohm : 0;
	if (point > 0)
		return point;
	double element = expectation->lineup->elements[expectation->element].impedance_ohm;
	if (element > 0)
		return element;
	return reading->hookup && reading->hookup->instrument ? reading->hookup->instrument->impedance_ohm : 0;
}

static bool in_unit(const hs_playbook *playbook, const hs_reading *reading, const hs_expectation *expectation, double level,
                    hs_quantity *out, hs_error *error)
{
	return hs_quantity_convert(hs_prediction_level(&expectation->prediction, level), reading->unit,
	                           impedance_of(playbook, reading, expectation), out, error);
}

bool hs_expect_level(const hs_playbook *playbook, const hs_reading *reading, const hs_expectation *expectation, hs_quantity *out,
                     hs_error *error)
{
	if (expectation->prediction.nothing)
		return hs_fail(error, HS_BAD_INPUT, "by the line-up \"%s\" nothing comes to %s", expectation->lineup->id,
		               reading->at_text ? reading->at_text : reading->name);
	return in_unit(playbook, reading, expectation, expectation->prediction.level, out, error);
}

bool hs_expect_limits(const hs_playbook *playbook, const hs_reading *reading, const hs_expectation *expectation, hs_limits *out,
                      hs_error *error)
{
	const hs_prediction *prediction = &expectation->prediction;
	hs_quantity low, high;
	double up = expectation->worst ? prediction->worst_up_db : prediction->up_db;
	double down = expectation->worst ? prediction->worst_down_db : prediction->down_db;
	if (!(up + down > 0))
		return hs_fail(error, HS_BAD_INPUT, "no element of the line-up \"%s\" on the way states a tolerance", expectation->lineup->id);
	up += expectation->wider_db;
	down += expectation->wider_db;
	if (!hs_expect_level(playbook, reading, expectation, &low, error) ||
	    !in_unit(playbook, reading, expectation, prediction->level - down, &low, error) ||
	    !in_unit(playbook, reading, expectation, prediction->level + up, &high, error))
		return false;
	if (low.value > high.value) {
		hs_quantity turned = low;
		low = high;
		high = turned;
	}
	*out = (hs_limits){.has_low = !prediction->at_most, .has_high = true, .low = low.value, .high = high.value, .unit = reading->unit};
	return true;
}

size_t hs_struck_by(const hs_playbook *playbook, int suspect, const char *mode, hs_struck *out, size_t room)
{
	size_t count = 0;
	for (size_t l = 0; l < playbook->lineup_count; l++)
		for (size_t i = 0; i < playbook->lineups[l].count; i++) {
			const hs_element *element = &playbook->lineups[l].elements[i];
			for (size_t f = 0; element->suspect == suspect && f < element->fault_count; f++) {
				if (strcmp(element->faults[f].mode, mode) != 0)
					continue;
				if (count < room)
					out[count] = (hs_struck){&playbook->lineups[l], element->faults[f].effect};
				count++;
			}
		}
	return count;
}

bool hs_expect_route(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading, const hs_lineup *lineup,
                     const hs_line_settings *stands, const hs_effect *fault, hs_route *out, hs_error *error)
{
	int at = hs_lineup_at_point(lineup, reading->point);
	hs_injected injected = hs_expect_injected(playbook, lineup, step, reading);
	if (at < 0)
		return hs_fail(error, HS_BAD_INPUT, "the line-up \"%s\" has no point \"%s\"", lineup->id,
		               reading->at_text ? reading->at_text : reading->name);
	return hs_lineup_route(lineup, &injected, at, stands, fault, out, error);
}
