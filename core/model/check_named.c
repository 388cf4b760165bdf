/* Steps named by others: what must have passed, whose readings a part touches, what is gone through again. */
#include <string.h>
#include "check.h"

/* Such a step comes out ok or not, which the others and a step that leads on by a function do not. */
static bool comes_out(const hs_step *step)
{
	bool reads = step->kind == HS_STEP_READ || step->kind == HS_STEP_COLLECT || step->kind == HS_STEP_ADJUST;
	return reads && step->exit_count == 0;
}

static void want_outcome(hs_check *check, const hs_step *named, hs_where where, const char *doing)
{
	if (comes_out(named))
		return;
	hs_problem *problem =
	    hs_problem_add(check->problems, HS_ERROR, where, "%s \"%s\", and a %s step%s does not come out ok or not",
	                   doing, named->id, hs_step_kind_name(named->kind),
	                   named->exit_count > 0 && named->kind != HS_STEP_DECIDE ? " that decides" : "");
	hs_problem_hint(problem, "name a read, collect or adjust step with outcomes");
}

static void check_passed(hs_check *check, int index)
{
	const hs_step *step = &check->book->steps[index];
	for (size_t i = 0; i < step->passed_count; i++) {
		hs_use *use = &step->passed[i];
		use->step = hs_check_find(check, use->target, use->where, "this waits for");
		if (use->step < 0) {
			check->broken = true;
			continue;
		}
		want_outcome(check, &check->book->steps[use->step], use->where, "this waits for");
		if (use->step == index)
			hs_problem_add(check->problems, HS_ERROR, use->where,
			               "the step \"%s\" waits for itself to pass", step->id);
		else if (!check->broken && !hs_check_comes_before(check, use->step, index))
			hs_problem_add(check->problems, HS_ERROR, use->where,
			               "this waits for \"%s\", and no way leads from that step to \"%s\"", use->target,
			               step->id);
	}
}

static void check_voids(hs_check *check, const hs_step *step)
{
	for (size_t i = 0; i < step->void_count; i++) {
		hs_use *use = &step->voids[i];
		use->step = hs_check_find(check, use->target, use->where, "this voids the readings of");
		if (use->step < 0) {
			check->broken = true;
			continue;
		}
		const hs_step *named = &check->book->steps[use->step];
		if (named->reading_count > 0)
			continue;
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, use->where,
		                                     "this voids the readings of \"%s\", and a %s step has none",
		                                     named->id, hs_step_kind_name(named->kind));
		hs_problem_hint(problem, "name the steps whose readings the part touches");
	}
}

static void check_retests(hs_check *check, const hs_step *step)
{
	for (size_t i = 0; i < step->retest_count; i++) {
		const hs_branch *retest = &step->retests[i];
		if (retest->to >= 0)
			want_outcome(check, &check->book->steps[retest->to], retest->where, "this goes through again");
		for (size_t j = 0; j < i; j++)
			if (strcmp(step->retests[j].target, retest->target) == 0)
				hs_problem_add(check->problems, HS_ERROR, retest->where,
				               "\"%s\" is gone through again twice", retest->target);
	}
}

void hs_check_steps_named(hs_check *check)
{
	for (size_t i = 0; i < check->book->step_count; i++) {
		check_passed(check, (int)i);
		check_voids(check, &check->book->steps[i]);
		check_retests(check, &check->book->steps[i]);
	}
}
