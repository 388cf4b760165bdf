/* How long a playbook takes, as far as its steps say. Gates and openings count only where a step's minutes count them in. */
#ifndef HALFSPLIT_MODEL_MINUTES_H
#define HALFSPLIT_MODEL_MINUTES_H

#include "halfsplit/model/playbook.h"

typedef struct hs_minutes {
	double shortest; /* of the ways to the findings, the one that takes least */
	double expected; /* the shortest way to each finding, weighted by the odds of its suspects; a finding of nobody counts 1 */
	double longest;  /* no way takes more: every loop gone round as often as its bound lets it */
	size_t steps;    /* steps that are not findings */
	size_t silent;   /* those of them that state no minutes and are no wait */
} hs_minutes;

/* The playbook must have been checked without errors. */
void hs_minutes_of(const hs_playbook *playbook, hs_minutes *out);

#endif
