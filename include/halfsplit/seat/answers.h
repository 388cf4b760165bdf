/*
 * The answers file: one answer a line in the order asked.
 *
 *     # a comment
 *     intake/words: no output on any band
 *     gate/waited/C7: waited
 *     drive-at-tp2: -31.4 dBm
 *     @-5 s                    the next answer comes 5 s before its earliest time; @+5 s: 5 s after
 *     !note smells hot         !redo  !pause REASON  !leave REASON  !stop WHAT
 *
 * An answer is split at the first ": "; `STEP:` alone is an empty answer. A time may also stand on the line of its
 * answer, before or behind it: "@-5 s gate/waited/C7: waited". A seat over it has a virtual clock: it jumps to the
 * earliest allowed time of an ask and else goes on by one second an answer. What it answers is a rehearsal, always.
 */
#ifndef HALFSPLIT_SEAT_ANSWERS_H
#define HALFSPLIT_SEAT_ANSWERS_H

#include <stdio.h>
#include "halfsplit/seat/seat.h"

#define HS_ANSWERS_MOST ((size_t)4 << 20) /* bytes of an answers file */

typedef struct hs_answer_line {
	hs_input_kind kind; /* ANSWER, NOTE, REDO, PAUSE, LEAVE, STOP */
	const char *ask;    /* ANSWER: the ask named; else NULL */
	const char *text;   /* the answer, remark or reason; may be "" */
	bool timed;
	int64_t offset_ms; /* timed: after (negative: before) the earliest time */
	int line;
} hs_answer_line;

typedef struct hs_answers {
	hs_arena *arena;
	const char *path;
	hs_answer_line *lines;
	size_t count, room;
} hs_answers;

/* NULL with HS_BAD_INPUT (file:line, the line quoted) when it cannot be read or a line means nothing. */
hs_answers *hs_answers_load(const char *path, hs_error *error);
/* The same from text already in memory; path names it in messages. */
hs_answers *hs_answers_parse(const char *path, const char *text, hs_error *error);
void hs_answers_free(hs_answers *answers); /* accepts NULL */

/*
 * A seat over the answers, which must outlive it. It prints to `out` (NULL: prints nothing) what a person would have
 * seen, typed answers included. Its monotonic clock starts at 0, its UTC at epoch_utc_ms.
 */
hs_seat *hs_answers_seat(const hs_answers *answers, int64_t epoch_utc_ms, FILE *out);

/* Answers not used when the run ended before the file did: the line number of the first, or 0. */
int hs_answers_unused(const hs_seat *seat);

#endif
