#include "check.h"

#include <stdlib.h>
#include <string.h>

enum { PROBLEMS_MOST = 400, NEAREST_MOST = 40 };

static int by_id(const void *left, const void *right)
{
	return strcmp(((const hs_named *)left)->id, ((const hs_named *)right)->id);
}

int hs_check_find(hs_check *check, const char *target, hs_where where, const char *doing)
{
	hs_named wanted = {target, 0};
	const hs_named *found = bsearch(&wanted, check->sorted, check->book->step_count, sizeof *check->sorted, by_id);
	if (found)
		return found->index;
	/* A list so long that nobody reads it to the end must not take minutes to make. */
	if (check->problems->count >= PROBLEMS_MOST)
		return -1;
	hs_problem *problem =
	    hs_problem_add(check->problems, HS_ERROR, where, "%s \"%s\", and there is no such step", doing, target);
	bool few = check->problems->count < NEAREST_MOST;
	const char *nearest = few ? hs_nearest(target, check->ids, check->book->step_count) : NULL;
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	else
		hs_problem_hint(problem, "declare it: step \"%s\" { ... }", target);
	return -1;
}

static void resolve(hs_check *check, const hs_branch *branch, hs_where otherwise, const char *doing)
{
	if (!branch->target)
		return;
	/* The graph lies in the playbook's own arena; it is immutable to everybody but this check. */
	hs_branch *own = (hs_branch *)branch;
	own->to = hs_check_find(check, branch->target, branch->where.file ? branch->where : otherwise, doing);
	if (own->to < 0)
		check->broken = true;
}

static void resolve_step(hs_check *check, hs_step *step)
{
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		resolve(check, &step->branches[i], step->where, "this leads to");
	for (size_t i = 0; i < step->choice_count; i++) {
		resolve(check, &step->choices[i].branch, step->where, "this answer leads to");
		resolve(check, &step->choices[i].again, step->where, "this answer, given again, leads to");
	}
	for (size_t i = 0; i < step->exit_count; i++)
		resolve(check, &step->exits[i], step->where, "this function may lead to");
	for (size_t i = 0; i < step->retest_count; i++)
		resolve(check, &step->retests[i], step->where, "to be gone through again is");
	resolve(check, &step->not_yet, step->where, "while something has not passed this leads to");
	resolve(check, &step->beyond, step->where, "beyond its last visit this leads to");
}

static bool has_limits(const hs_step *step)
{
	if (step->derived_limits)
		return true;
	for (size_t i = 0; i < step->reading_count; i++)
		if (step->readings[i].has_limits || step->readings[i].limits_by.id >= 0)
			return true;
	return false;
}

#define OUT(outcome) (1u << (outcome))

static unsigned outcomes_of_readings(const hs_step *step)
{
	unsigned all = OUT(HS_OKAY) | OUT(HS_UNREAD);
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		if (!reading->has_limits && reading->limits_by.id < 0 && step->derive == HS_DERIVE_NONE)
			continue;
		bool either = reading->limits_by.id >= 0 || !reading->has_limits;
		/* A word has no uncertainty, and a side without a limit has nothing beyond it. */
		if (reading->reads != HS_READS_TICK && reading->reads != HS_READS_TREND)
			return OUT(HS_LOW) | OUT(HS_OKAY) | OUT(HS_HIGH) | OUT(HS_UNSURE) | OUT(HS_UNREAD);
		all |= (either || reading->limits.has_low ? OUT(HS_LOW) : 0) |
		       (either || reading->limits.has_high ? OUT(HS_HIGH) : 0);
	}
	return all;
}

/* The outcomes a step can have, each of which must lead somewhere. */
static unsigned outcomes_of(const hs_step *step)
{
	switch (step->kind) {
	case HS_STEP_LOOK:
	case HS_STEP_DECIDE:
	case HS_STEP_FINDING:
	case HS_STEP_BENCH:
	case HS_STEP_KINDS:
		return 0;
	case HS_STEP_REACH:
	case HS_STEP_TELL:
	case HS_STEP_DO:
	case HS_STEP_WAIT:
	case HS_STEP_REPLACE:
		return OUT(HS_OKAY);
	case HS_STEP_ADJUST:
		if (!has_limits(step))
			return OUT(HS_LOW) | OUT(HS_OKAY) | OUT(HS_UNREAD);
		break;
	case HS_STEP_COLLECT:
		if (step->decide.id >= 0)
			return 0;
		break;
	case HS_STEP_READ:
		break;
	}
	if (!has_limits(step))
		return OUT(HS_OKAY) | OUT(HS_UNREAD);
	return outcomes_of_readings(step);
}

static void check_outcomes(hs_check *check, const hs_step *step)
{
	unsigned wanted = outcomes_of(step);
	bool decides = step->kind == HS_STEP_DECIDE || (step->kind == HS_STEP_COLLECT && step->decide.id >= 0);
	/* The file's reader complained of these where they stand; here they only mean that the graph is not whole. */
	if ((decides && step->exit_count == 0) || (step->kind == HS_STEP_LOOK && step->choice_count == 0))
		check->broken = true;
	const char *missing[HS_OUTCOME_COUNT];
	size_t count = 0;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		if ((wanted & OUT(i)) && !step->branches[i].target)
			missing[count++] = hs_outcome_name((hs_outcome)i);
	if (count == 0)
		return;
	check->broken = true;
	if (!(wanted & OUT(HS_UNREAD))) {
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, step->where,
		                                     "the %s step \"%s\" does not say where it leads",
		                                     hs_step_kind_name(step->kind), step->id);
		hs_problem_hint(problem, "give it next = \"STEP\"");
		return;
	}
	hs_buf list;
	hs_buf_init(&list);
	for (size_t i = 0; i < count; i++)
		hs_buf_printf(&list, "%s%s", i == 0 ? "" : i + 1 == count ? " and " : ", ", missing[i]);
	hs_problem *problem =
	    hs_problem_add(check->problems, HS_ERROR, step->where, "the %s step \"%s\" does not say where %s %s",
	                   hs_step_kind_name(step->kind), step->id, list.data, count == 1 ? "leads" : "lead");
	hs_problem_hint(problem, has_limits(step) ? "name a step for each, or otherwise = \"STEP\" for all the rest"
	                                          : "give it next = \"STEP\"");
	hs_buf_free(&list);
}

static void check_bound(hs_check *check, const hs_step *step)
{
	if (step->most > 0 && !step->beyond.target) {
		check->broken = true;
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_ERROR, step->where,
		                   "the step \"%s\" may be visited %d times at most, and it does not say "
		                   "where the next visit leads",
		                   step->id, step->most);
		hs_problem_hint(problem, "add beyond = \"STEP\"");
	}
	if (step->most <= 0 && step->beyond.target) {
		hs_problem *problem = hs_problem_add(
		    check->problems, HS_ERROR, step->beyond.where.file ? step->beyond.where : step->where,
		    "the step \"%s\" says what lies beyond its last visit, and not how many "
		    "visits it allows",
		    step->id);
		hs_problem_hint(problem, "add most = 3, or however often makes sense");
	}
	if (step->kind == HS_STEP_WAIT && step->wait_s > 7.0 * 86400.0) {
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, step->where, "the wait \"%s\" is longer than a week", step->id);
		hs_problem_hint(problem, "for a wait that long, pause the run and resume it");
	}
	if (step->kind == HS_STEP_WAIT && !(step->wait_s > 0))
		hs_problem_add(check->problems, HS_ERROR, step->where, "the wait step \"%s\" waits no time at all",
		               step->id);
	if (step->kind == HS_STEP_ADJUST && step->tries <= 0) {
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, step->where,
		                                     "the adjust step \"%s\" has no bound on its tries", step->id);
		hs_problem_hint(problem, "add tries = 5, or however often makes sense");
	}
}

void hs_check_targets(hs_check *check)
{
	hs_playbook *book = check->book;
	for (size_t i = 0; i < book->entry_count; i++)
		resolve(check, &book->entries[i].branch, book->where, "the playbook enters at");
	for (size_t i = 0; i < book->counter_count; i++) {
		check->broken = check->broken || !book->counters[i].beyond.target;
		resolve(check, &book->counters[i].beyond, book->counters[i].where, "beyond its count this leads to");
	}
	resolve(check, &book->symptom.absent, book->symptom.where, "the symptom when absent leads to");
	for (size_t i = 0; i < book->step_count; i++) {
		resolve_step(check, &book->steps[i]);
		check_outcomes(check, &book->steps[i]);
		check_bound(check, &book->steps[i]);
	}
}

void hs_playbook_check(hs_playbook *playbook, hs_problems *problems)
{
	hs_check check = {.book = playbook, .problems = problems};
	if (playbook->step_count == 0) {
		hs_problem *problem =
		    hs_problem_add(problems, HS_ERROR, playbook->where, "the playbook declares no step");
		hs_problem_hint(problem, "begin with step \"NAME\" { tell = \"...\", next = \"...\" }");
		return;
	}
	check.ids = hs_alloc(playbook->step_count * sizeof *check.ids);
	check.parts = hs_alloc(playbook->step_count * sizeof *check.parts);
	check.sorted = hs_alloc(playbook->step_count * sizeof *check.sorted);
	for (size_t i = 0; i < playbook->step_count; i++) {
		check.ids[i] = playbook->steps[i].id;
		check.sorted[i] = (hs_named){check.ids[i], (int)i};
		if (playbook->steps[i].retest_count > 0)
			check.parts[check.part_count++] = (int)i;
	}
	qsort(check.sorted, playbook->step_count, sizeof *check.sorted, by_id);
	hs_check_targets(&check);
	hs_check_steps_named(&check);
	hs_check_uses(&check);
	hs_check_graph(&check);
	hs_check_evidence(&check);
	hs_check_values(&check);
	hs_check_signs(&check);
	hs_check_hookups(&check);
	hs_check_roles(&check);
	hs_check_leads(&check);
	hs_check_lineups(&check);
	for (size_t i = 0; check.after && i < playbook->step_count; i++)
		free(check.after[i]);
	free(check.after);
	free(check.parts);
	free(check.sorted);
	free(check.ids);
}
