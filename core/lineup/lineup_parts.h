/* Inside this folder only. */
#ifndef HALFSPLIT_CORE_LINEUP_LINEUP_PARTS_H
#define HALFSPLIT_CORE_LINEUP_LINEUP_PARTS_H

#include "halfsplit/lineup/lineup.h"

/* A signal begins here: an oscillator, or a supply that no other one feeds. */
static inline bool hs_element_begins(const hs_element *element)
{
	return element->kind == HS_ELEMENT_OSCILLATOR || (element->kind == HS_ELEMENT_SUPPLY && element->from < 0);
}

#endif
