/*
 * Safety of a playbook, known without running it: what no playbook can switch off is refused here, before the first question, and an
 * engine is not made for a playbook that fails this.
 *
 * Errors: a resistance, continuity, diode or capacitance reading in a unit with power other than dead; do, replace, or adjust inside a hazardous
 * zone, or while the guard of one is named open, with power standby, on or keyed; hands in a zone whose guard the step does not open; a short taken
 * off by a step that reads nothing; a reading inside a hazardous live zone, or beside its open guard, whose hookup is not attached dead, unless the step says live (for a read or collect that is
 * powered, never of a resistance or the like, never with a hookup that is joined, never without a reason); a step that reads a
 * level or volts and does not say its power state; keyed without a load or emitter, or a load rated under what the unit emits; an injection with power standby
 * or on where drive alone makes the unit transmit; an opening whose order is impossible
 * (cycle, itself); a point not reachable with what the step opens; an injected level above the rating of its point, or within 10 dB of it without
 * margin and why; the level a point gives, less the hookup's loss, above the instrument's rating, its DC above the instrument's DC rating, or the power into a pad
 * above its rating; standby on a unit that has none; dead where a zone declares nothing that could be tested; a unit with steps that need power but no declared supply;
 * a store without volts or farads; more than a step may name.
 */
#ifndef HALFSPLIT_UNIT_CHECK_H
#define HALFSPLIT_UNIT_CHECK_H

#include "halfsplit/unit/hazard.h"

void hs_unit_check(const hs_playbook *playbook, hs_problems *problems);

/* The same for one step of it, which need not be among its steps yet. */
void hs_unit_check_step(const hs_playbook *playbook, const hs_step *step, hs_problems *problems);

#endif
