/* Roles: that steps name them, and what the hookups they were bound to miss. */
#include <string.h>
#include "check.h"

typedef struct told {
	hs_check *check;
	const hs_role *role;
} told;

static void warn(void *context, const char *sentence)
{
	const told *at = context;
	hs_problem *problem = hs_problem_add(at->check->problems, HS_WARNING, at->role->where, "the hookup \"%s\" misses what the role \"%s\" asks: %s",
	                                     at->role->hookup->id, at->role->name, sentence);
	hs_problem_hint(problem, "bind another hookup to it, in the kit: bind \"%s\" { hookup = \"NAME\" }", at->role->name);
}

static bool named(const hs_playbook *book, const char *name)
{
	for (size_t i = 0; i < book->step_count; i++) {
		const hs_step *step = &book->steps[i];
		if (step->through_name && strcmp(step->through_name, name) == 0)
			return true;
		if (step->inject.hookup_name && strcmp(step->inject.hookup_name, name) == 0)
			return true;
		for (size_t r = 0; r < step->reading_count; r++)
			if (step->readings[r].hookup_name && strcmp(step->readings[r].hookup_name, name) == 0)
				return true;
	}
	return false;
}

/* A family file asks for what all its playbooks need; only a role in the playbook's own file has to be used here. */
void hs_check_roles(hs_check *check)
{
	const hs_playbook *book = check->book;
	for (size_t i = 0; i < book->role_count; i++) {
		const hs_role *role = &book->roles[i];
		bool used = named(book, role->name);
		bool own = role->where.file && book->where.file && strcmp(role->where.file, book->where.file) == 0;
		if (!used && own) {
			hs_problem *problem = hs_problem_add(check->problems, HS_WARNING, role->where, "no step names the role \"%s\"", role->name);
			hs_problem_hint(problem, "name it as a step's hookup, or take it out");
		}
		if (used && role->hookup)
			hs_role_misfits(role, role->hookup, warn, &(told){check, role});
	}
}
