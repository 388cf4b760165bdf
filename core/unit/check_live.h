/* A step that says `live`: what a live reading by hand may be at all; and voltages that nobody declared. */
#ifndef HALFSPLIT_CORE_UNIT_CHECK_LIVE_H
#define HALFSPLIT_CORE_UNIT_CHECK_LIVE_H

#include "halfsplit/model/playbook.h"

/* reads_live: the step has a reading that the rules of a live reading are for. */
void hs_check_live_step(const hs_step *step, bool reads_live, hs_problems *problems);

/* Points, and readings by their limits, above extra-low voltage in a zone of which nothing of the kind is declared. */
void hs_check_points_declared(const hs_bench_unit *unit, hs_problems *problems);
void hs_check_reading_declared(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading, hs_problems *problems);

#endif
