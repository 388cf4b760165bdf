/*
 * What comes before what a step wants, for next.c. All of these are pure: true when nothing stands in the way; false when *ask is what must be
 * answered first. step is the one it is for, -1 none.
 */
#ifndef HALFSPLIT_CORE_ENGINE_NEXT_PARTS_H
#define HALFSPLIT_CORE_ENGINE_NEXT_PARTS_H

#include "core/engine/state.h"

/* ---- way_there.c ---- */
hs_ask hs_ask_of(hs_ask_kind kind, int step, int item);
hs_ask hs_gate_ask(const hs_gate *gate, int step);
bool hs_way_there(const hs_engine *engine, const hs_target *target, int step, hs_ask *ask); /* the unit is in `target` */
bool hs_way_opened(const hs_engine *engine, uint64_t wanted, int step, hs_ask *ask);        /* covers are off, joints parted */

/* ---- next_danger.c ---- */
/* The ask as wanted, or the row of a declared danger that comes before it. */
hs_ask hs_next_past_dangers(const hs_engine *engine, hs_ask wanted);
/* A chassis that may be live is measured with the power on before anything is joined for this step; else *ask is the way there. */
bool hs_next_chassis_known(const hs_engine *engine, const hs_step *step, const hs_target *target, int index, hs_ask *ask);

/* ---- next_leads.c ---- */
/* No cover goes on over a lead that was attached behind it: it would be shut in, or led out through the gap, and be forgotten there. */
bool hs_next_leads_out(const hs_engine *engine, uint64_t covers, int step, hs_ask *ask);
/* A source still joined would feed a unit that is to be dead, and shows up in every resistance. Power off where its line can carry something. */
bool hs_next_parted_source(const hs_engine *engine, int step, hs_ask *ask);
/* The source's lead is wanted in the hand; it comes off with the power off. */
bool hs_next_source_at_hand(const hs_engine *engine, int step, hs_ask *ask);
/* Where drive alone transmits, a source left from an earlier step comes off before the unit has power without being keyed. */
bool hs_next_undriven(const hs_engine *engine, hs_power state, int step, hs_ask *ask);
bool hs_next_joined_source(const hs_engine *engine, const hs_step *step, int index, hs_ask *ask);
/* All that a keyed step reads with is in place before it is keyed for the first of its readings, as far as it can be at once. */
bool hs_next_joined_for(const hs_engine *engine, const hs_step *step, int index, int item, hs_ask *ask);

#endif
