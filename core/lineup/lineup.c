/* A line-up as such: names, and whether something feeds itself. */
#include "halfsplit/lineup/lineup.h"

#include <string.h>

const char *hs_element_kind_name(hs_element_kind kind)
{
	static const char *const names[HS_ELEMENT_KINDS] = {"port",  "point", "stage",      "mixer",  "switch",
	                                                    "joint", "arm",   "oscillator", "supply", "levelling"};
	return (unsigned)kind < HS_ELEMENT_KINDS ? names[kind] : "element";
}

int hs_lineup_element(const hs_lineup *lineup, const char *id)
{
	for (size_t i = 0; i < lineup->count; i++)
		if (strcmp(lineup->elements[i].id, id) == 0)
			return (int)i;
	return -1;
}

int hs_lineup_at_point(const hs_lineup *lineup, int point)
{
	for (size_t i = 0; point >= 0 && i < lineup->count; i++)
		if (lineup->elements[i].point == point)
			return (int)i;
	return -1;
}

/* Depth first: 1 is on the way that is walked, 2 leads to no circle. */
static int circle_from(const hs_lineup *lineup, int at, unsigned char *seen)
{
	if (at < 0 || seen[at] == 2)
		return -1;
	if (seen[at] == 1)
		return at;
	const hs_element *element = &lineup->elements[at];
	int found = -1;
	seen[at] = 1;
	if (element->kind != HS_ELEMENT_SWITCH)
		found = circle_from(lineup, element->from, seen);
	for (int i = 0; found < 0 && i < element->way_count; i++)
		found = circle_from(lineup, element->ways[i], seen);
	if (found < 0)
		found = circle_from(lineup, element->lo, seen);
	if (found < 0)
		found = circle_from(lineup, element->locks, seen);
	if (found < 0)
		found = circle_from(lineup, element->supply, seen);
	seen[at] = 2;
	return found;
}

int hs_lineup_cycle(const hs_lineup *lineup)
{
	unsigned char seen[HS_ELEMENTS_MOST] = {0};
	int found = -1;
	for (size_t i = 0; found < 0 && i < lineup->count && i < HS_ELEMENTS_MOST; i++)
		found = circle_from(lineup, (int)i, seen);
	return found;
}
