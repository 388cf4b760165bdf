#include "halfsplit/model/danger.h"

#include <string.h>
#include "halfsplit/base/text.h"

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

const char *hs_laser_class(const char *text)
{
	static const char *const classes[] = {"1", "1M", "2", "2M", "3R", "3B", "4"};
	for (size_t i = 0; i < sizeof classes / sizeof *classes; i++)
		if (hs_same_word(text, classes[i]))
			return classes[i];
	return NULL;
}
