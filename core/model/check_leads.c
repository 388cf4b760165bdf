/* Instruments shown good: what a doubted one may lead to, and that none is believed before, where the playbook asks for it. */
#include <stdlib.h>
#include <string.h>
#include "check.h"

static void check_doubt(hs_check *check, const hs_step *step)
{
	static const hs_outcome doubts[] = {HS_LOW, HS_HIGH, HS_UNSURE, HS_UNREAD};
	for (size_t i = 0; i < sizeof doubts / sizeof *doubts; i++) {
		const hs_branch *branch = &step->branches[doubts[i]];
		const hs_step *to = branch->target && branch->to >= 0 ? &check->book->steps[branch->to] : NULL;
		if (!to || (to->kind == HS_STEP_FINDING && to->suspect_count == 0 && branch->implicate_count == 0 && branch->clear_count == 0))
			continue;
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_ERROR, branch->where.file ? branch->where : step->where,
		                   "an instrument that \"%s\" does not show good says nothing about the unit, and \"%s\" is no finding that blames nobody",
		                   step->id, to->id);
		hs_problem_hint(problem, "lead to a step \"%s\" { finding = \"the instrument has drifted\", suspects = {} }", "drifted");
		return;
	}
}

static bool reads_with(const hs_step *step, const char *name)
{
	for (size_t r = 0; r < step->reading_count && step->leads == HS_LEADS_NONE; r++)
		if (step->readings[r].hookup_name && !hs_reading_is_word(&step->readings[r]) && strcmp(step->readings[r].hookup_name, name) == 0)
			return true;
	return false;
}

static bool proves(const hs_step *step, const char *name)
{
	return step->leads == HS_LEADS_PROVE && step->readings[0].hookup_name && strcmp(step->readings[0].hookup_name, name) == 0;
}

/* Goes every way from where a run begins that does not lead through a step that shows the instrument good. */
static void check_proved(hs_check *check, const char *name, bool *seen, int *stack)
{
	const hs_playbook *book = check->book;
	size_t depth = 0;
	memset(seen, 0, book->step_count);
	for (size_t i = 0; i < book->entry_count; i++) {
		int to = book->entries[i].branch.to;
		if (to >= 0 && !seen[to]) {
			seen[to] = true;
			stack[depth++] = to;
		}
	}
	while (depth > 0) {
		const hs_step *step = &book->steps[stack[--depth]];
		if (reads_with(step, name)) {
			hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, step->where,
			                                     "the step \"%s\" reads with \"%s\", and a way leads there on which it was not shown good", step->id, name);
			hs_problem_hint(problem, "lead through a step with prove = { \"%s\", ... } first", name);
			return;
		}
		for (size_t e = 0; !proves(step, name) && e < hs_check_edges(step); e++) {
			const hs_branch *branch = hs_check_edge(book, step, e, false);
			if (!branch || seen[branch->to])
				continue;
			seen[branch->to] = true;
			stack[depth++] = branch->to;
		}
	}
}

static bool listed(const char **names, size_t count, const char *name)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(names[i], name) == 0)
			return true;
	return false;
}

void hs_check_leads(hs_check *check)
{
	const hs_playbook *book = check->book;
	size_t count = 0, room = 0;
	const char **names = NULL;
	for (size_t i = 0; i < book->step_count; i++) {
		const hs_step *step = &book->steps[i];
		if (step->leads == HS_LEADS_PROVE && !check->broken)
			check_doubt(check, step);
		for (size_t r = 0; book->proved && r < step->reading_count && step->leads == HS_LEADS_NONE; r++) {
			const char *name = step->readings[r].hookup_name;
			if (!name || hs_reading_is_word(&step->readings[r]) || listed(names, count, name))
				continue;
			names = hs_grow(names, &room, count + 1, sizeof *names);
			names[count++] = name;
		}
	}
	bool *seen = hs_alloc(book->step_count + 1);
	int *stack = hs_alloc((book->step_count + 1) * sizeof *stack);
	for (size_t i = 0; i < count && !check->broken; i++)
		check_proved(check, names[i], seen, stack);
	free(seen);
	free(stack);
	free(names);
}
