/* The uncertainty budget of a corrected reading. */
#include <math.h>
#include <stdio.h>
#include "halfsplit/base/text.h"
#include "halfsplit/judge/budget.h"

#define LN10       2.302585092994045684
#define NO_IDEA_DB 99 /* an accuracy that cannot be brought to dB: finite, visible, and never good enough */

double hs_shape_divisor(hs_shape shape)
{
	switch (shape) {
	case HS_RECTANGULAR:
		return sqrt(3);
	case HS_TRIANGULAR:
		return sqrt(6);
	case HS_USHAPED:
		return sqrt(2);
	case HS_NORMAL_K2:
		return 2;
	case HS_STANDARD:
		break;
	}
	return 1;
}

static double standard_of(const hs_term *term)
{
	return term->half_width / hs_shape_divisor(term->shape);
}

void hs_budget_add(hs_budget *budget, const char *name, double half_width, hs_shape shape, double sensitivity,
                   int shared)
{
	hs_term term = {.half_width = fabs(half_width), .shape = shape, .sensitivity = sensitivity, .shared = shared};
	hs_copy(term.name, sizeof(term.name), name);
	if (budget->count < HS_TERMS_MOST) {
		budget->terms[budget->count++] = term;
		return;
	}
	/* A full budget must not lose a term: the last one takes it in, added linearly, which errs to the wide side. */
	hs_term *last = &budget->terms[HS_TERMS_MOST - 1];
	double sum = fabs(last->sensitivity) * standard_of(last) + fabs(sensitivity) * standard_of(&term);
	*last = (hs_term){.name = "all others", .half_width = sum, .shape = HS_STANDARD, .sensitivity = 1};
}

static bool seen_before(const hs_budget *budget, size_t index)
{
	for (size_t i = 0; i < index; i++)
		if (budget->terms[i].shared == budget->terms[index].shared)
			return true;
	return false;
}

double hs_budget_standard(const hs_budget *budget)
{
	double u = 0;
	for (size_t i = 0; i < budget->count; i++) {
		const hs_term *term = &budget->terms[i];
		double part = term->sensitivity * standard_of(term);
		if (term->shared != 0) {
			if (seen_before(budget, i))
				continue;
			for (size_t j = i + 1; j < budget->count; j++)
				if (budget->terms[j].shared == term->shared)
					part += budget->terms[j].sensitivity * standard_of(&budget->terms[j]);
		}
		u = hypot(u, part);
	}
	return u;
}

double hs_budget_expanded(const hs_budget *budget)
{
	return 2 * hs_budget_standard(budget);
}

/* Decibels a factor of ten in this unit makes: 10 for powers, 20 for voltages, 0 for what has no decibels. */
static double decade_db(hs_unit unit)
{
	switch (hs_unit_dimension(unit)) {
	case HS_DIM_POWER:
		return 10;
	case HS_DIM_VOLTAGE:
		return 20;
	default:
		return 0;
	}
}

static bool in_decibels(hs_unit unit)
{
	return unit == HS_DB || hs_unit_is_level(unit);
}

/* What one unit at the instrument makes at the point; decibels only shift. */
static double scale_of(const hs_correction *correction, hs_unit unit)
{
	if (!correction || in_decibels(unit) || decade_db(unit) == 0)
		return 1;
	return hs_correct_reading(correction, (hs_quantity){1, unit}).value;
}

static hs_quantity at_instrument(const hs_correction *correction, hs_quantity corrected)
{
	if (!correction)
		return corrected;
	if (in_decibels(corrected.unit))
		corrected.value -= hs_correct_reading(correction, (hs_quantity){0, corrected.unit}).value;
	else
		corrected.value /= scale_of(correction, corrected.unit);
	return corrected;
}

/* A half-width in dB as one of a value: the derivative; dB on dB stay. */
static double from_db(double half_db, hs_quantity value)
{
	double decade = decade_db(value.unit);
	if (in_decibels(value.unit) || decade == 0)
		return half_db;
	return fabs(value.value) * LN10 / decade * half_db;
}

/* Accuracy of a level, in dB. A percentage is not symmetric in dB; its wider side is taken. */
static double level_accuracy(const hs_accuracy *u, hs_quantity raw, double impedance_ohm)
{
	double decade = decade_db(raw.unit), db = 0;
	if (u->percent >= 100)
		return NO_IDEA_DB;
	if (u->percent > 0)
		db = -decade * log10(1 - u->percent / 100);
	if (in_decibels(u->unit) || u->unit == HS_UNITLESS || u->absolute == 0)
		return db + u->absolute;
	hs_quantity linear;
	if (!hs_quantity_convert(raw, u->unit, impedance_ohm, &linear, NULL) || !(linear.value > 0))
		return NO_IDEA_DB;
	return db + decade_db(u->unit) / LN10 * u->absolute / linear.value;
}

/* Half-width of the instrument's accuracy at the point, in the budget's unit. */
static double accuracy(const hs_accuracy *u, const hs_correction *correction, hs_quantity corrected,
                       double impedance_ohm)
{
	hs_quantity raw = at_instrument(correction, corrected), absolute;
	double scale = scale_of(correction, corrected.unit);
	if (hs_unit_is_level(corrected.unit))
		return level_accuracy(u, raw, impedance_ohm);
	double half = fabs(raw.value) * u->percent / 100 * scale;
	if (u->absolute == 0)
		return half;
	if (in_decibels(u->unit))
		return half + from_db(u->absolute, corrected);
	if (!hs_quantity_convert((hs_quantity){u->absolute, u->unit}, corrected.unit, impedance_ohm, &absolute, NULL))
		absolute.value = u->absolute;
	return half + absolute.value * scale;
}

static void add_named(hs_budget *budget, const char *whose, const char *what, double half_width, hs_shape shape)
{
	char name[64];
	if (!(half_width != 0))
		return;
	snprintf(name, sizeof(name), "%.40s %s", whose, what);
	hs_budget_add(budget, name, half_width, shape, 1, 0);
}

void hs_budget_of_reading(hs_budget *budget, const hs_hookup *hookup, const hs_range *range,
                          const hs_correction *correction, hs_quantity corrected, double step)
{
	const hs_part *instrument = hookup ? hookup->instrument : NULL;
	budget->count = 0;
	budget->unit = hs_unit_is_level(corrected.unit) ? HS_DB : corrected.unit;
	if (range)
		add_named(budget, instrument ? instrument->id : "instrument", "accuracy",
		          accuracy(&range->u, correction, corrected, instrument ? instrument->impedance_ohm : 0),
		          range->u.expanded ? HS_NORMAL_K2 : HS_RECTANGULAR);
	for (size_t i = 0; correction && i < correction->count; i++) {
		const hs_correction_line *line = &correction->lines[i];
		if (line->u_ohm > 0)
			hs_budget_add(budget, hs_correction_name(line), line->u_ohm, HS_RECTANGULAR, 1, 0);
		else
			add_named(budget, hs_correction_name(line), line->factor != 1 ? "ratio" : "loss", from_db(line->u_db, corrected),
			          HS_RECTANGULAR);
	}
	add_named(budget, "last", "digit", step / 2 * scale_of(correction, corrected.unit), HS_RECTANGULAR);
}
