/* Taking an answer to a gate: what take.c, take_pass.c and take_danger.c share. */
#ifndef HALFSPLIT_CORE_UNIT_TAKE_PARTS_H
#define HALFSPLIT_CORE_UNIT_TAKE_PARTS_H

#include "danger.h"

/* What taking one answer works on. */
typedef struct taking {
	const hs_bench_unit *unit;
	hs_physical *physical;
	const hs_gate *gate;
	const char *text; /* trimmed */
	int64_t now_ms;
	const char *by;
	int step;
	hs_buf *why;
} taking;

/* Each says why in t->why. */
hs_gate_result hs_taking_refuse(const taking *t, const char *sentence);
hs_gate_result hs_taking_refuse_wanted(const taking *t);
hs_gate_result hs_taking_refuse_error(const taking *t, const hs_error *error);
void hs_taking_quote(const taking *t); /* what was typed, safe to show and not longer than a line */

/* take_pass.c: the answer is accepted, and this is what it does to what is known of the unit. */
hs_gate_result hs_taking_pass(const taking *t);

/* take_danger.c: an answer to a row of a danger. */
hs_gate_result hs_danger_take_word(const taking *t, int which);
hs_gate_result hs_danger_take_value(const taking *t);
hs_gate_result hs_danger_take_text(const taking *t);
void hs_danger_say_wanted(const taking *t); /* the end of a sentence: "type ..." */

#endif
