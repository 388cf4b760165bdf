/* Whether an ask was shown already: the same ask again gets its prompt only. Inside core/seat only. */
#ifndef HALFSPLIT_SEAT_SEAT_SHOWN_H
#define HALFSPLIT_SEAT_SEAT_SHOWN_H

#include "halfsplit/seat/seat.h"

typedef struct hs_shown {
	hs_buf id;
	size_t answers;
	bool any;
	uint64_t cautions; /* gate facts (bits) whose caution was shown in full */
} hs_shown;

void hs_shown_init(hs_shown *shown);
void hs_shown_free(hs_shown *shown);

/* True when this ask is not the one shown last, or answers were taken since; remembers it. */
bool hs_shown_is_new(hs_shown *shown, const hs_engine *engine, const char *ask_id);

/* True when the caution of this kind of gate was shown in this sitting already; remembers it. */
bool hs_shown_caution(hs_shown *shown, const hs_ask *ask);

#endif
