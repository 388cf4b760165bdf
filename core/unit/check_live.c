#include "check_live.h"

#include <string.h>
#include "halfsplit/unit/hazard.h"

static bool blank(const char *text)
{
	return text == NULL || text[strspn(text, " \t\n")] == '\0';
}

static void refuse(hs_problems *problems, hs_where where, const hs_step *step, const char *what, const char *hint)
{
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, where, "step \"%s\" %s", step->id, what);
	hs_problem_hint(problem, "%s", hint);
}

/* A dead reading separates the same suspects, or the hookup would have to be joined: then live is never the way. */
static bool check_readings(const hs_step *step, hs_problems *problems)
{
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		hs_measurand reads = hs_reading_measurand(reading);
		if (hs_measurand_is_dead(reads)) {
			hs_problem *problem = hs_problem_add(problems, HS_ERROR, reading->where, "step \"%s\" says live, and reads %s, which is never read live",
			                                     step->id, hs_measurand_name(reads));
			hs_problem_hint(problem, "leave out live: it is read proved dead, which separates the same suspects");
			return false;
		}
		if (reading->hookup != NULL && !hs_hookup_touches(reading->hookup)) {
			hs_problem *problem = hs_problem_add(problems, HS_ERROR, reading->where,
			                                     "step \"%s\" reads live with \"%s\", which is joined and does not only touch", step->id,
			                                     reading->hookup->id);
			hs_problem_hint(problem, "take a probe or test leads, or add attach = \"dead\" and leave out live");
			return false;
		}
	}
	return true;
}

void hs_check_live_step(const hs_step *step, bool reads_live, hs_problems *problems)
{
	if (!step->live || !check_readings(step, problems))
		return;
	bool reads = step->kind == HS_STEP_READ || step->kind == HS_STEP_COLLECT;
	if (blank(step->live_why))
		refuse(problems, step->where, step, "says live, and not why it cannot be read dead", "say it in words: live = \"it fails only under load\"");
	else if (!reads)
		refuse(problems, step->where, step, "says live, and more than reads", "only a read or collect step is ever done live; leave out live");
	else if (step->attach_dead)
		refuse(problems, step->where, step, "says live and attach = \"dead\"", "a hookup attached while proved dead needs no hand at the live unit: leave out live");
	else if (!reads_live)
		refuse(problems, step->where, step, "says live, and reads nothing where it is dangerous", "leave out live");
	else if (step->power != HS_NEED_ON && step->power != HS_NEED_STANDBY)
		refuse(problems, step->where, step, "says live, and not power = \"on\" or \"standby\"", "say in which of the two it is read");
}
