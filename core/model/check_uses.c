/* What functions use and what readings are used again: it must exist, and have been taken before. */
#include <stdlib.h>
#include <string.h>
#include "check.h"

static int reading_of(const hs_step *step, const char *name)
{
	for (size_t i = 0; i < step->reading_count; i++)
		if (strcmp(step->readings[i].name, name) == 0)
			return (int)i;
	return -1;
}

static void missing_reading(hs_check *check, const hs_step *step, const hs_use *use, const char *name)
{
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, use->where,
	                                     "the function uses \"%s\", and the step \"%s\" has no reading \"%s\"",
	                                     use->target, step->id, name);
	const char **names = hs_alloc((step->reading_count + 1) * sizeof *names);
	for (size_t i = 0; i < step->reading_count; i++)
		names[i] = step->readings[i].name;
	const char *nearest = hs_nearest(name, names, step->reading_count);
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s/%s\"?", step->id, nearest);
	free(names);
}

static void find_slot(hs_check *check, const hs_step *step, const char *name, hs_use *use)
{
	if (name) {
		int index = reading_of(step, name);
		if (index < 0)
			missing_reading(check, step, use, name);
		else
			use->slot = step->readings[index].slot;
		return;
	}
	if (step->reading_count == 1) {
		use->slot = step->readings[0].slot;
	} else if (step->reading_count > 1) {
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, use->where,
		                                     "the function uses \"%s\", and that step takes %zu readings",
		                                     use->target, step->reading_count);
		hs_problem_hint(problem, "name one of them, as in \"%s/%s\"", step->id, step->readings[0].name);
	} else if (step->kind != HS_STEP_LOOK) {
		hs_problem_add(check->problems, HS_ERROR, use->where,
		               "the function uses \"%s\", and a %s step has neither a reading nor a word to use",
		               use->target, hs_step_kind_name(step->kind));
	}
}

static void resolve_use(hs_check *check, int user, hs_use *use, bool own_allowed)
{
	use->slot = -1;
	const char *slash = strchr(use->target, '/');
	char id[80];
	hs_copy(id, sizeof id, use->target);
	if (slash && (size_t)(slash - use->target) < sizeof id)
		id[slash - use->target] = '\0';
	use->step = hs_check_find(check, id, use->where, "the function uses");
	if (use->step < 0)
		return;
	find_slot(check, &check->book->steps[use->step], slash ? slash + 1 : NULL, use);
	if (check->broken || (own_allowed && use->step == user))
		return;
	if (!hs_check_comes_before(check, use->step, user))
		hs_problem_add(check->problems, HS_ERROR, use->where,
		               "the function uses \"%s\", and no way leads from that step to \"%s\"", use->target,
		               check->book->steps[user].id);
}

static void resolve_function(hs_check *check, int user, const hs_function *function, bool own_allowed)
{
	for (size_t i = 0; i < function->use_count; i++)
		/* As with branches: the arena's own, written here once. */
		resolve_use(check, user, (hs_use *)&function->uses[i], own_allowed);
}

static bool same_text(const char *a, const char *b)
{
	return a == b || (a && b && strcmp(a, b) == 0);
}

static bool reads_the_same(const hs_reading *a, const hs_reading *b)
{
	return !a->mask && !b->mask && a->reads == b->reads && a->unit == b->unit && a->freq_hz == b->freq_hz &&
	       same_text(a->at_text, b->at_text) && same_text(a->against, b->against);
}

static void check_reuse(hs_check *check, int index)
{
	hs_step *step = &check->book->steps[index];
	hs_where where = step->reuse_where.file ? step->reuse_where : step->where;
	step->reuse = hs_check_find(check, step->reuse_text, where, "this reuses the reading of");
	if (step->reuse < 0)
		return;
	const hs_step *earlier = &check->book->steps[step->reuse];
	bool same = earlier->reading_count == step->reading_count && step->reading_count > 0;
	for (size_t i = 0; same && i < step->reading_count; i++)
		same = reads_the_same(&earlier->readings[i], &step->readings[i]);
	if (!same) {
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_ERROR, where,
		                   "the step \"%s\" reads something else than \"%s\", so its reading cannot "
		                   "serve here",
		                   earlier->id, step->id);
		hs_problem_hint(problem, "what is read, unit, point, reference and frequency must be the same in both");
	} else if (!check->broken && !hs_check_comes_before(check, step->reuse, index)) {
		hs_problem_add(check->problems, HS_ERROR, where,
		               "this reuses the reading of \"%s\", and no way leads from that step to \"%s\"",
		               earlier->id, step->id);
	}
}

void hs_check_uses(hs_check *check)
{
	for (size_t i = 0; i < check->book->step_count; i++) {
		hs_step *step = &check->book->steps[i];
		step->reuse = -1;
		if (step->reuse_text)
			check_reuse(check, (int)i);
		if (step->decide.id >= 0)
			resolve_function(check, (int)i, &step->decide, step->kind == HS_STEP_COLLECT);
		for (size_t r = 0; r < step->reading_count; r++)
			if (step->readings[r].limits_by.id >= 0)
				resolve_function(check, (int)i, &step->readings[r].limits_by, false);
	}
}
