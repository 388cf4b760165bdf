/* Units and limits: whether what is read, what it is compared with, and what it is derived from fit each other. */
#include "check.h"

static double impedance_of(const hs_check *check, const hs_reading *reading)
{
	if (reading->point >= 0 && check->book->unit.points[reading->point].impedance_ohm > 0)
		return check->book->unit.points[reading->point].impedance_ohm;
	if (reading->hookup && reading->hookup->instrument)
		return reading->hookup->instrument->impedance_ohm;
	return 0;
}

static bool is_level_family(hs_unit unit)
{
	return hs_unit_dimension(unit) == HS_DIM_POWER || hs_unit_dimension(unit) == HS_DIM_VOLTAGE;
}

static bool same_family(hs_unit a, hs_unit b)
{
	return hs_unit_dimension(a) == hs_unit_dimension(b) || (is_level_family(a) && is_level_family(b));
}

static const char *unit_words(hs_unit unit)
{
	return unit == HS_UNITLESS ? "no unit" : hs_unit_name(unit);
}

bool hs_check_own_unit(const hs_check *check, const hs_reading *reading, const hs_limits *limits, hs_limits *out,
                       hs_error *error)
{
	if (limits->unit == reading->unit) {
		*out = *limits;
		return true;
	}
	if (!same_family(limits->unit, reading->unit))
		return hs_fail(error, HS_BAD_INPUT, "they are in %s", unit_words(limits->unit));
	return hs_limits_convert(limits, reading->unit, impedance_of(check, reading), out, error);
}

/* Limits and the plausible interval are held against the reading in the same way; `what` names them. */
static bool fits(hs_check *check, const hs_reading *reading, const hs_limits *limits, const char *what, hs_limits *own)
{
	hs_error error = {0};
	if (hs_check_own_unit(check, reading, limits, own, &error))
		return true;
	hs_where where = reading->limits_where.file ? reading->limits_where : reading->where;
	if (same_family(limits->unit, reading->unit)) {
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, where,
		                                     "the %s of \"%s\" cannot be held against a reading in %s: %s",
		                                     what, reading->name, unit_words(reading->unit), error.message);
		hs_problem_hint(problem, "write them in %s, or declare the impedance of the point",
		                hs_unit_name(reading->unit));
		return false;
	}
	hs_problem_add(check->problems, HS_ERROR, where, "the %s of \"%s\" are in %s, and it is read in %s", what,
	               reading->name, unit_words(limits->unit), unit_words(reading->unit));
	return false;
}

static void check_plausible(hs_check *check, const hs_reading *reading, const hs_limits *limits,
                            const hs_limits *plausible)
{
	bool apart = (limits->has_low && plausible->has_high && limits->low > plausible->high) ||
	             (limits->has_high && plausible->has_low && limits->high < plausible->low);
	if (!apart)
		return;
	hs_where where = reading->limits_where.file ? reading->limits_where : reading->where;
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, where,
	                                     "no plausible reading of \"%s\" can lie inside its limits", reading->name);
	hs_problem_hint(problem, "a reading outside the plausible interval is rejected, so that must be the wider one");
}

/* Held against another row, a level may lie so many dB beside it, and another value so much of its own unit. */
static void check_relative(hs_check *check, const hs_reading *reading)
{
	hs_unit wanted = hs_unit_is_level(reading->unit) ? HS_DB : reading->unit;
	if (!reading->has_limits || hs_unit_dimension(reading->limits.unit) == hs_unit_dimension(wanted))
		return;
	hs_problem *problem = hs_problem_add(
	    check->problems, HS_ERROR, reading->limits_where.file ? reading->limits_where : reading->where,
	    "the limits of \"%s\" are in %s, and how far it lies beside another row comes out in %s", reading->name,
	    unit_words(reading->limits.unit), unit_words(wanted));
	hs_problem_hint(problem, "write them as in \"0 %s +/- 1 %s\"", hs_unit_name(wanted), hs_unit_name(wanted));
}

static void check_reading(hs_check *check, const hs_reading *reading)
{
	bool free =
	    reading->reads == HS_READS_RATE || reading->reads == HS_READS_MINIMUM || reading->reads == HS_READS_MAXIMUM;
	hs_unit natural = free ? reading->unit : hs_measurand_unit(reading->reads);
	if (hs_unit_dimension(natural) != hs_unit_dimension(reading->unit)) {
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_ERROR, reading->where, "\"%s\" reads %s in %s", reading->name,
		                   hs_measurand_name(reading->reads), unit_words(reading->unit));
		hs_problem_hint(problem, "%s is read in %s or a unit of that kind", hs_measurand_name(reading->reads),
		                unit_words(natural));
		return;
	}
	hs_limits limits, plausible;
	if (reading->against_reading > 0)
		check_relative(check, reading);
	bool limited = reading->has_limits && reading->against_reading == 0 &&
	               fits(check, reading, &reading->limits, "limits", &limits);
	bool bounded =
	    reading->has_plausible && fits(check, reading, &reading->plausible, "plausible values", &plausible);
	if (limited && bounded)
		check_plausible(check, reading, &limits, &plausible);
}

static void check_derived(hs_check *check, const hs_step *step)
{
	const hs_reading *a = &step->readings[step->derive_a], *b = &step->readings[step->derive_b];
	const char *what = step->derive == HS_DERIVE_RATIO ? "ratio" : "difference";
	hs_where where = a->limits_where.file ? a->limits_where : step->where;
	bool levels = hs_unit_is_level(a->unit);
	if (a->mask || b->mask) {
		hs_problem_add(check->problems, HS_ERROR, where, "the %s of a trace has no meaning: its worst point may lie anywhere", what);
		return;
	}
	if (hs_unit_dimension(a->unit) != hs_unit_dimension(b->unit) || levels != hs_unit_is_level(b->unit)) {
		hs_problem_add(check->problems, HS_ERROR, where,
		               "the %s of \"%s\" in %s and \"%s\" in %s has no meaning", what, a->name,
		               unit_words(a->unit), b->name, unit_words(b->unit));
		return;
	}
	if (levels && step->derive == HS_DERIVE_RATIO) {
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_ERROR, where,
		                   "\"%s\" and \"%s\" are levels in %s, and a ratio of decibels has no meaning",
		                   a->name, b->name, unit_words(a->unit));
		hs_problem_hint(problem, "write difference = { \"%s\", \"%s\" }", a->name, b->name);
		return;
	}
	hs_unit unit = hs_derived_unit(step->derive, a->unit);
	if (step->derived_limits && hs_unit_dimension(step->derive_limit.unit) != hs_unit_dimension(unit))
		hs_problem_add(check->problems, HS_ERROR, step->derive_where.file ? step->derive_where : step->where,
		               "the limits of the %s at \"%s\" are in %s, and it comes out in %s", what, step->id,
		               unit_words(step->derive_limit.unit),
		               unit == HS_UNITLESS ? "plain numbers" : hs_unit_name(unit));
}

void hs_check_values(hs_check *check)
{
	for (size_t i = 0; i < check->book->step_count; i++) {
		const hs_step *step = &check->book->steps[i];
		for (size_t r = 0; r < step->reading_count; r++)
			/* The cells of a row differ only in their frequency. */
			if (r == 0 || step->readings[r].row == 0 || step->readings[r].row != step->readings[r - 1].row)
				check_reading(check, &step->readings[r]);
		if (step->derive != HS_DERIVE_NONE)
			check_derived(check, step);
	}
}
