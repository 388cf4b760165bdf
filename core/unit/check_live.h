/* A step that says `live`: what a live reading by hand may be at all. */
#ifndef HALFSPLIT_CORE_UNIT_CHECK_LIVE_H
#define HALFSPLIT_CORE_UNIT_CHECK_LIVE_H

#include "halfsplit/model/playbook.h"

/* reads_live: the step has a reading that the rules of a live reading are for. */
void hs_check_live_step(const hs_step *step, bool reads_live, hs_problems *problems);

#endif
