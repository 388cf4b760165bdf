/*
 * A playbook out of a freehand run: its unit, points and suspects, and the steps of the way that was taken, in Lua. Every outcome but
 * the one that came goes to a finding "unclear", for the author to fill in. What was taken back is left out.
 */
#ifndef HALFSPLIT_REPORT_DRAFT_H
#define HALFSPLIT_REPORT_DRAFT_H

#include "halfsplit/record/transcript.h"

/* A text as a Lua string: quoted, control and direction-changing characters as escapes. */
void hs_lua_text(hs_buf *out, const char *text);
/* A quantity so that it reads back the same, shortest where that is enough: "145 MHz". */
void hs_lua_quantity(hs_buf *out, hs_quantity quantity);

/* unit { ... } and its points; openables: those of its covers, joints and changes that are written; points: the first so many are left out, and with whole false the unit too. */
void hs_lua_unit(const hs_bench_unit *unit, uint64_t openables, bool whole, int points, hs_buf *out);

/*
 * The whole file. id: of the playbook. serial and by are named in the head. HS_BAD_INPUT when the engine did not run freehand.
 */
bool hs_draft_lua(const hs_engine *engine, const char *id, const hs_opening *opening, hs_buf *out, hs_error *error);

#endif
