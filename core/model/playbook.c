#include "halfsplit/model/playbook.h"

#include <string.h>

const char *hs_step_kind_name(hs_step_kind kind)
{
	/* "do" is a reserved word of Lua, so in a playbook its key is act; on screen and on paper it is a do step. */
	static const char *const names[HS_STEP_KINDS] = {"tell",   "read",    "look",   "do",      "wait",
	                                                 "adjust", "collect", "decide", "replace", "finding"};
	return (unsigned)kind < HS_STEP_KINDS ? names[kind] : "step";
}

int hs_playbook_step(const hs_playbook *playbook, const char *id)
{
	for (size_t i = 0; i < playbook->step_count; i++)
		if (strcmp(playbook->steps[i].id, id) == 0)
			return (int)i;
	return -1;
}

int hs_playbook_suspect(const hs_playbook *playbook, const char *id)
{
	for (size_t i = 0; i < playbook->suspect_count; i++)
		if (strcmp(playbook->suspects[i].id, id) == 0)
			return (int)i;
	return -1;
}

const char *hs_step_title(const hs_step *step)
{
	return step->title ? step->title : step->id;
}

const char *hs_suspect_title(const hs_suspect *suspect)
{
	return suspect->title ? suspect->title : suspect->id;
}

hs_unit hs_derived_unit(hs_derive derive, hs_unit of)
{
	if (derive == HS_DERIVE_RATIO)
		return HS_UNITLESS;
	return derive == HS_DERIVE_DIFFERENCE && hs_unit_is_level(of) ? HS_DB : of;
}
