#include "halfsplit/model/danger.h"

#include <string.h>

static const char *const names[HS_DANGER_KINDS] = {"live chassis", "high voltage", "lithium cells",    "battery", "toxic part",
                                                   "laser",        "flammable",    "static-sensitive", "handling"};

const char *hs_danger_name(hs_danger_kind kind)
{
	return (unsigned)kind < HS_DANGER_KINDS ? names[kind] : "";
}

bool hs_danger_find(const char *name, hs_danger_kind *out)
{
	for (int i = 0; i < HS_DANGER_KINDS; i++)
		if (strcmp(name, names[i]) == 0) {
			*out = (hs_danger_kind)i;
			return true;
		}
	return false;
}
