/*
 * What the seats share that nobody sits in: a clock of their own, the screen as a person would have seen it, and what was typed at it. Inside
 * core/seat only.
 */
#ifndef HALFSPLIT_SEAT_UNATTENDED_H
#define HALFSPLIT_SEAT_UNATTENDED_H

#include <stdio.h>
#include "seat_shown.h"

#define HS_UNATTENDED_STEP_MS 1000 /* so that transcripts read as if somebody had typed */

typedef struct hs_unattended {
	hs_seat seat;    /* first, so that the one is the other */
	int64_t now_ms;
	int64_t epoch_utc_ms;
	FILE *out;       /* NULL: prints nothing */
	hs_shown shown;
} hs_unattended;

/* Fills all but the seat's ask and close. */
void hs_unattended_begin(hs_unattended *self, const char *name, int64_t epoch_utc_ms, FILE *out);
void hs_unattended_end(hs_unattended *self);

/* The ask as a person would see it: in full when it is new. */
void hs_unattended_ask(hs_unattended *self, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words, const char *ask_id);

/* The prompt and what was typed at it: a command word ("" for none) and a text. */
void hs_unattended_echo(const hs_unattended *self, const hs_ask *ask, const hs_ask_words *words, const char *word, const char *text);

#endif
