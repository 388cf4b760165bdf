/*
 * Readings taken from an instrument by a program of the shop's own, as its kit names one: read = { "program", "arg" }.
 *
 * A program is run for a person at a live seat who asks for it, never in a rehearsal, a replay or a check. It is the shop's kit that
 * says what is run: one that the user named, not one that lay beside a playbook, and never a playbook or a transcript.
 */
#ifndef HALFSPLIT_SEAT_TAKER_H
#define HALFSPLIT_SEAT_TAKER_H

#include "halfsplit/engine/engine.h"

#define HS_TAKER_MS   10000           /* a program that takes longer is ended */
#define HS_TAKER_MOST ((size_t)4096)  /* bytes it may print */

typedef struct hs_taker {
	const hs_kit *kit;  /* this shop's, as it is now */
	const char *folder; /* the kit file's: where programs named without a path lie */
	int watch_fd;       /* what is typed here meanwhile ends the program; -1: nothing */
	int64_t limit_ms;
} hs_taker;

/*
 * The instrument that this ask can be taken from: the reading's own, when the shop's kit has it with the very program that the run's kit
 * names. NULL: it is typed. taker may be NULL.
 */
const hs_part *hs_taker_offers(const hs_taker *taker, const hs_engine *engine, const hs_ask *ask);

/*
 * Runs its program and appends what it printed to *raw, and the one line that stands for the reading to *line. The program is
 * started without a shell, in a process group of its own, with no descriptor but its output and with a small environment; what is
 * left of the group afterwards is killed. False with one sentence: it is not there, took too long, printed too much or nothing or
 * several lines or no text, ended badly, or somebody typed meanwhile.
 */
bool hs_taker_take(const hs_taker *taker, const hs_part *instrument, hs_buf *raw, hs_buf *line, hs_error *error);

#endif
