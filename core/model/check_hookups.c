/* What the shop's kit can do: whether a bound hookup reads this, here, at this frequency, and finely enough to decide.
 */
#include "check.h"
#include "halfsplit/judge/budget.h"

static void words_of_frequency(double freq_hz, hs_buf *out)
{
	hs_quantity_print(out, (hs_quantity){freq_hz, HS_HERTZ}, -1);
}

static void cannot_read(hs_check *check, const hs_reading *reading)
{
	const hs_part *instrument = reading->hookup->instrument;
	bool inside;
	if (reading->freq_hz > 0 && hs_hookup_range(reading->hookup, hs_reading_measurand(reading), 0, NULL, &inside)) {
		hs_buf freq;
		hs_buf_init(&freq);
		words_of_frequency(reading->freq_hz, &freq);
		hs_problem_add(check->problems, HS_ERROR, reading->where, "\"%s\" reads %s, but not at %s",
		               instrument->id, hs_measurand_name(reading->reads), freq.data);
		hs_buf_free(&freq);
		return;
	}
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, reading->where,
	                                     "the hookup \"%s\" ends in \"%s\", which does not read %s",
	                                     reading->hookup->id, instrument->id, hs_measurand_name(reading->reads));
	hs_problem_hint(problem, "choose a hookup whose instrument reads %s", hs_measurand_name(reading->reads));
}

/* The value the instrument shows when the point has `value`; both in the reading's unit. */
static double at_instrument(const hs_correction *correction, hs_quantity value)
{
	if (hs_unit_is_level(value.unit) || value.unit == HS_DB)
		return value.value - hs_correct_reading(correction, (hs_quantity){0, value.unit}).value;
	return value.value / hs_correct_reading(correction, (hs_quantity){1, value.unit}).value;
}

static bool check_end(hs_check *check, const hs_reading *reading, const hs_correction *correction, double limit)
{
	const hs_part *instrument = reading->hookup->instrument;
	hs_quantity shown = {at_instrument(correction, (hs_quantity){limit, reading->unit}), reading->unit};
	bool inside = false;
	const hs_range *range =
	    hs_hookup_range(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, &shown, &inside);
	if (!range || inside || !range->has_range)
		return true;
	hs_buf point, meter, from, to;
	hs_buf_init(&point);
	hs_buf_init(&meter);
	hs_buf_init(&from);
	hs_buf_init(&to);
	hs_quantity_print(&point, (hs_quantity){limit, reading->unit}, -1);
	hs_quantity_print(&meter, shown, -1);
	hs_quantity_print(&from, range->from, -1);
	hs_quantity_print(&to, range->to, -1);
	hs_where where = reading->limits_where.file ? reading->limits_where : reading->where;
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, where,
	                                     "at the limit of %s, \"%s\" would show %s, and it reads %s to %s",
	                                     point.data, instrument->id, meter.data, from.data, to.data);
	hs_problem_hint(problem, "choose another hookup, or limits this one can read");
	hs_buf_free(&point);
	hs_buf_free(&meter);
	hs_buf_free(&from);
	hs_buf_free(&to);
	return false;
}

static double expanded_at(const hs_reading *reading, const hs_correction *correction, double value)
{
	hs_quantity middle = {value, reading->unit};
	hs_quantity shown = {at_instrument(correction, middle), reading->unit};
	bool inside;
	const hs_range *range =
	    hs_hookup_range(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, &shown, &inside);
	if (!range)
		return 0;
	hs_budget budget = {0};
	hs_budget_of_reading(&budget, reading->hookup, range, correction, middle, 0);
	return hs_budget_expanded(&budget);
}

static void check_decidable(hs_check *check, const hs_reading *reading, const hs_correction *correction,
                            const hs_limits *limits)
{
	if (!limits->has_low || !limits->has_high)
		return;
	double expanded = expanded_at(reading, correction, (limits->low + limits->high) / 2);
	if (!(expanded > 0) || !hs_undecidable(limits, expanded))
		return;
	hs_buf interval, guard;
	hs_buf_init(&interval);
	hs_buf_init(&guard);
	hs_limits_print(&interval, limits);
	hs_unit unit = hs_unit_is_level(reading->unit) ? HS_DB : reading->unit;
	hs_quantity_print(&guard, (hs_quantity){expanded, unit}, -1);
	hs_where where = reading->limits_where.file ? reading->limits_where : reading->where;
	hs_problem *problem =
	    hs_problem_add(check->problems, HS_ERROR, where,
	                   "the limits %s are narrower than the hookup \"%s\" can decide: its uncertainty is "
	                   "%s on either side, so ok can never come out",
	                   interval.data, reading->hookup->id, guard.data);
	hs_problem_hint(problem, "widen the limits, or measure with less uncertainty");
	hs_buf_free(&interval);
	hs_buf_free(&guard);
}

static void check_limits(hs_check *check, const hs_reading *reading, const hs_correction *correction)
{
	hs_limits limits;
	/* Limits against another row say nothing of where the instrument stands. */
	if (!reading->has_limits || reading->limits.open_is_ok || reading->against_reading > 0 ||
	    reading->leads == HS_LEADS_STRAIGHT ||
	    !hs_check_own_unit(check, reading, &reading->limits, &limits, NULL))
		return;
	bool readable = true;
	if (limits.has_low)
		readable = check_end(check, reading, correction, limits.low);
	if (limits.has_high && readable)
		readable = check_end(check, reading, correction, limits.high);
	if (readable)
		check_decidable(check, reading, correction, &limits);
}

static void check_reading(hs_check *check, const hs_reading *reading)
{
	const hs_hookup *hookup = reading->hookup;
	bool inside;
	hs_unit natural = hs_measurand_unit(hs_reading_measurand(reading));
	/* A known source was looked for by what the hookup reads; without one there is nothing to compare. */
	if (!hookup || reading->leads == HS_LEADS_PROVE || hs_reading_is_word(reading) || hs_unit_dimension(natural) != hs_unit_dimension(reading->unit))
		return;
	if (!hookup->instrument) {
		hs_problem_add(check->problems, HS_ERROR, reading->where,
		               "the hookup \"%s\" ends in no instrument, so it reads nothing", hookup->id);
		return;
	}
	if (!hs_hookup_range(hookup, hs_reading_measurand(reading), reading->freq_hz, NULL, &inside)) {
		cannot_read(check, reading);
		return;
	}
	hs_correction correction;
	hs_error error = {0};
	if (!hs_hookup_correct(hookup, hs_reading_measurand(reading), reading->freq_hz, &correction, &error)) {
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_ERROR, reading->where,
		                   "what the hookup \"%s\" takes off cannot be known: %s", hookup->id, error.message);
		if (error.hint[0])
			hs_problem_hint(problem, "%s", error.hint);
		return;
	}
	check_limits(check, reading, &correction);
}

static void check_source_level(hs_check *check, const hs_injection *inject, const hs_correction *correction)
{
	const hs_part *source = inject->hookup->instrument;
	hs_quantity setting = hs_correct_source(correction, inject->level), own;
	if (!hs_quantity_convert(setting, source->gives_from.unit, source->impedance_ohm, &own, NULL) ||
	    source->gives_from.value == source->gives_to.value)
		return;
	if (own.value >= source->gives_from.value && own.value <= source->gives_to.value)
		return;
	hs_buf wanted, from, to;
	hs_buf_init(&wanted);
	hs_buf_init(&from);
	hs_buf_init(&to);
	hs_quantity_print(&wanted, own, -1);
	hs_quantity_print(&from, source->gives_from, -1);
	hs_quantity_print(&to, source->gives_to, -1);
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, inject->where,
	                                     "\"%s\" would have to be set to %s, and it gives %s to %s", source->id,
	                                     wanted.data, from.data, to.data);
	hs_problem_hint(problem, "choose another level, or a hookup that takes off more or less");
	hs_buf_free(&wanted);
	hs_buf_free(&from);
	hs_buf_free(&to);
}

static bool gives_here(hs_check *check, const hs_injection *inject)
{
	const hs_part *source = inject->hookup->instrument;
	if (!source || !source->gives_level) {
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_ERROR, inject->where,
		                   "the hookup \"%s\" ends in no source, so it gives no level", inject->hookup->id);
		hs_problem_hint(problem, "choose a hookup whose instrument says gives = { ... } in the kit");
		return false;
	}
	bool stated = source->gives_freq_to_hz > 0 && inject->freq_hz > 0;
	if (!stated || (inject->freq_hz >= source->gives_freq_from_hz && inject->freq_hz <= source->gives_freq_to_hz))
		return true;
	hs_buf freq;
	hs_buf_init(&freq);
	words_of_frequency(inject->freq_hz, &freq);
	hs_problem_add(check->problems, HS_ERROR, inject->where, "\"%s\" gives no level at %s", source->id, freq.data);
	hs_buf_free(&freq);
	return false;
}

static void check_injection(hs_check *check, const hs_injection *inject)
{
	if (!inject->given || !inject->hookup || !gives_here(check, inject))
		return;
	hs_correction correction;
	hs_error error = {0};
	hs_measurand kind =
	    hs_unit_dimension(inject->level.unit) == HS_DIM_VOLTAGE && !hs_unit_is_level(inject->level.unit)
	        ? HS_READS_AC_VOLTS
	        : HS_READS_POWER;
	if (hs_hookup_correct(inject->hookup, kind, inject->freq_hz, &correction, &error)) {
		check_source_level(check, inject, &correction);
		return;
	}
	hs_problem *problem =
	    hs_problem_add(check->problems, HS_ERROR, inject->where,
	                   "what the hookup \"%s\" takes off cannot be known: %s", inject->hookup->id, error.message);
	if (error.hint[0])
		hs_problem_hint(problem, "%s", error.hint);
}

/* The source of a grid is set to each column's frequency in turn. */
static void check_step_injection(hs_check *check, const hs_step *step)
{
	if (step->row_count == 0) {
		check_injection(check, &step->inject);
		return;
	}
	hs_injection at = step->inject;
	for (size_t i = 0; i < step->reading_count && step->readings[i].row == 1; i++) {
		at.freq_hz = step->readings[i].freq_hz;
		check_injection(check, &at);
	}
}

static void check_step(hs_check *check, const hs_step *step)
{
	for (size_t r = 0; r < step->reading_count; r++)
		check_reading(check, &step->readings[r]);
	check_step_injection(check, step);
}

void hs_check_hookups(hs_check *check)
{
	for (size_t i = 0; i < check->book->step_count; i++)
		check_step(check, &check->book->steps[i]);
}

void hs_playbook_check_hookups(hs_playbook *playbook, const hs_step *step, hs_problems *problems)
{
	hs_check check = {.book = playbook, .problems = problems};
	check_step(&check, step);
}
