/*
 * An author's functions run once with made values of every kind, so that a mistake in one shows at the author's desk. What a reading can
 * give is taken from its limits; each use goes through all its samples while the others stay at their first.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "check.h"

enum { SAMPLES_MOST = 24 };

typedef struct samples {
	hs_value items[SAMPLES_MOST];
	size_t count;
} samples;

/* One function at one place: a decision (reading NULL), or the limits of a reading. */
typedef struct trial {
	hs_check check;
	const hs_function *function;
	const hs_step *step;
	int step_index;
	const hs_reading *reading;
	const char **names;
	hs_value *values;
	bool dead; /* the sandbox ran out of something: nothing more can be tried */
} trial;

static void add_number(samples *s, const hs_reading *reading, double number, hs_outcome outcome)
{
	if (s->count < SAMPLES_MOST)
		s->items[s->count++] = (hs_value){.kind = HS_VALUE_NUMBER, .number = number, .unit = hs_unit_name(reading->unit), .outcome = outcome};
}

static double impedance(const hs_playbook *book, const hs_reading *reading)
{
	double at_point = reading->point >= 0 ? book->unit.points[reading->point].impedance_ohm : 0;
	if (at_point > 0)
		return at_point;
	return reading->hookup && reading->hookup->instrument ? reading->hookup->instrument->impedance_ohm : 0;
}

/* Never exactly nought, by which a function may divide though no instrument would show it. */
static double not_nought(double value, double width)
{
	return value != 0 ? value : width / 3;
}

static void sample_within(samples *s, const hs_reading *reading, const hs_limits *limits)
{
	double low = limits->has_low ? limits->low : limits->high - fabs(limits->high) / 2;
	double high = limits->has_high ? limits->high : low + fabs(low) / 2;
	double width = high > low ? high - low : 1;
	double below = low >= 0 ? low / 2 : low - width / 2;
	add_number(s, reading, not_nought((low + high) / 2, width), HS_OKAY);
	add_number(s, reading, not_nought(low, width), HS_UNSURE);
	add_number(s, reading, not_nought(high, width), HS_OKAY);
	if (limits->has_low)
		add_number(s, reading, not_nought(below, width), HS_LOW);
	if (limits->has_high)
		add_number(s, reading, high + width / 2, HS_HIGH);
}

static void sample_reading(const hs_playbook *book, const hs_reading *reading, samples *s)
{
	hs_limits own;
	const hs_limits *known = reading->has_limits ? &reading->limits : reading->has_plausible ? &reading->plausible : NULL;
	if (hs_reading_is_word(reading) && reading->reads != HS_READS_COUNT_OF)
		for (int i = 0; i < HS_OUTCOME_COUNT; i++)
			s->items[s->count++] = (hs_value){.kind = HS_VALUE_NONE, .outcome = (hs_outcome)i};
	else if (known && !known->open_is_ok && (known->has_low || known->has_high) &&
	         hs_limits_convert(known, reading->unit, impedance(book, reading), &own, NULL))
		sample_within(s, reading, &own);
	else
		for (int i = 0; i < HS_OUTCOME_COUNT; i++)
			if (i != HS_UNREAD)
				add_number(s, reading, 1 + i / 8.0, (hs_outcome)i);
}

static void sample_use(const trial *t, const hs_use *use, samples *s)
{
	const hs_step *owner = &t->check.book->steps[use->step];
	s->count = 0;
	for (size_t i = 0; use->slot >= 0 && i < owner->reading_count; i++)
		if (owner->readings[i].slot == use->slot)
			sample_reading(t->check.book, &owner->readings[i], s);
	for (size_t i = 0; use->slot < 0 && i < owner->choice_count && s->count < SAMPLES_MOST; i++)
		s->items[s->count++] = (hs_value){.kind = HS_VALUE_TEXT, .text = owner->choices[i].word};
}

/* ---- whether a function can find nothing where it looks ---- */

static void spread(const hs_check *check, bool *seen, const hs_branch *branch)
{
	if (!branch || !branch->target || branch->to < 0 || seen[branch->to])
		return;
	seen[branch->to] = true;
	const hs_step *step = &check->book->steps[branch->to];
	for (size_t i = 0; i < hs_check_edges(step); i++)
		spread(check, seen, hs_check_edge(check->book, step, i, false));
	for (size_t i = 0; i < step->retest_count; i++)
		spread(check, seen, &step->retests[i]);
}

/* True when a way leads to the function that does not go through the step it uses, or goes through its unread. */
static bool may_miss(trial *t, const hs_use *use)
{
	const hs_playbook *book = t->check.book;
	const hs_step *owner = &book->steps[use->step];
	if (use->step == t->step_index)
		return use->slot >= 0;
	bool *seen = hs_alloc(book->step_count * sizeof *seen);
	seen[use->step] = true;
	for (size_t i = 0; i < book->entry_count; i++)
		spread(&t->check, seen, &book->entries[i].branch);
	spread(&t->check, seen, &book->symptom.absent);
	if (use->slot >= 0) {
		spread(&t->check, seen, &owner->branches[HS_UNREAD]);
		spread(&t->check, seen, &owner->beyond);
		for (size_t i = 0; i < owner->exit_count; i++)
			spread(&t->check, seen, &owner->exits[i]);
	}
	bool missed = seen[t->step_index];
	free(seen);
	return missed;
}

/* ---- one call ---- */

static bool read_result(const trial *t, const hs_buf *result, hs_error *error)
{
	const hs_where *where = &t->function->where;
	const char *text = result->data ? result->data : "";
	hs_error inner = {0};
	hs_limits read, own;
	if (t->reading) {
		if (hs_limits_read(text, t->reading->unit, &read, &inner) &&
		    hs_limits_convert(&read, t->reading->unit, impedance(t->check.book, t->reading), &own, &inner))
			return true;
		hs_fail(error, HS_BAD_INPUT, "the limits this function computes for \"%s\" cannot be read: %s", t->reading->name, inner.message);
		hs_fail_hint(error, "it must return a text such as \"11.4 V .. 12.6 V\", or { LOW, HIGH } as two numbers");
		return hs_fail_at(error, where->file, where->line);
	}
	for (size_t i = 0; i < t->step->exit_count; i++)
		if (strcmp(t->step->exits[i].target, text) == 0)
			return true;
	hs_fail(error, HS_BAD_INPUT, "the function returns \"%.80s\", and \"%s\" does not declare that it may lead there", text, t->step->id);
	hs_fail_hint(error, "add it to the list to = { ... }, or return one of it");
	return hs_fail_at(error, where->file, where->line);
}

static bool call(trial *t, hs_error *error)
{
	const hs_evaluator *evaluator = &t->check.book->evaluator;
	hs_buf result;
	hs_buf_init(&result);
	bool good = evaluator->call(evaluator->context, t->function->id, t->names, t->values, t->function->use_count, &result, error);
	t->dead = !good && error->code == HS_BUDGET;
	good = good && read_result(t, &result, error);
	hs_buf_free(&result);
	return good;
}

static void report(trial *t, hs_severity severity, const hs_error *error, const char *missing)
{
	hs_where where = error->file[0] ? (hs_where){error->file, error->line} : t->function->where;
	if (!missing) {
		hs_problem_hint(hs_problem_add(t->check.problems, severity, where, "%s", error->message), "%s", error->hint);
		return;
	}
	hs_problem *problem = hs_problem_add(t->check.problems, severity, where,
	                                     "this function fails where \"%s\" was not read or not answered, and a way leads there: %s", missing,
	                                     error->message);
	hs_problem_hint(problem, "ask first, as in if not v.NAME then ... end, and say what follows then");
}

static bool try_missing(trial *t, size_t index)
{
	const hs_use *use = &t->function->uses[index];
	hs_value kept = t->values[index];
	hs_error error = {0};
	t->values[index] = (hs_value){.kind = HS_VALUE_NONE, .outcome = HS_UNREAD};
	if (may_miss(t, use) && !call(t, &error))
		report(t, t->dead ? HS_ERROR : HS_WARNING, &error, use->target);
	t->values[index] = kept;
	return !t->dead;
}

/* False once this function has failed: a second failure seldom says anything new. */
static bool try_use(trial *t, size_t index)
{
	samples s;
	hs_error error = {0};
	sample_use(t, &t->function->uses[index], &s);
	for (size_t i = 1; i < s.count; i++) {
		t->values[index] = s.items[i];
		if (!call(t, &error)) {
			report(t, HS_ERROR, &error, NULL);
			return false;
		}
	}
	if (s.count)
		t->values[index] = s.items[0];
	return true;
}

static void try_function(trial *t)
{
	const hs_function *function = t->function;
	hs_error error = {0};
	if (function->id < 0 || t->dead)
		return;
	t->names = hs_alloc((function->use_count + 1) * sizeof *t->names);
	t->values = hs_alloc((function->use_count + 1) * sizeof *t->values);
	for (size_t i = 0; i < function->use_count; i++) {
		samples s;
		sample_use(t, &function->uses[i], &s);
		t->names[i] = function->uses[i].name;
		t->values[i] = s.count ? s.items[0] : (hs_value){.kind = HS_VALUE_NONE, .outcome = HS_UNREAD};
	}
	bool good = call(t, &error);
	if (!good)
		report(t, HS_ERROR, &error, NULL);
	for (size_t i = 0; good && i < function->use_count; i++)
		good = try_use(t, i);
	for (size_t i = 0; good && i < function->use_count; i++)
		good = try_missing(t, i);
	free(t->names);
	free(t->values);
}

void hs_playbook_try(hs_playbook *playbook, hs_problems *problems)
{
	trial t = {.check = {.book = playbook, .problems = problems}};
	for (size_t i = 0; playbook->evaluator.call && i < playbook->step_count; i++) {
		t.step = &playbook->steps[i];
		t.step_index = (int)i;
		t.reading = NULL;
		t.function = &t.step->decide;
		try_function(&t);
		for (size_t r = 0; r < t.step->reading_count; r++) {
			t.reading = &t.step->readings[r];
			t.function = &t.reading->limits_by;
			if (t.function->where.file)
				try_function(&t);
		}
	}
}
