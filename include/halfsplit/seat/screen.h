/*
 * What the person sees, as text: the terminal, the answers file and every later seat print the same words.
 *
 * Everything here is pure: it appends to a buffer and reads nothing but the engine. Whatever came from a playbook, a
 * kit, an answer or the command line goes through hs_buf_shown, so nothing foreign can drive a terminal or forge a
 * line. Colour only adds to what words and position already say.
 */
#ifndef HALFSPLIT_SEAT_SCREEN_H
#define HALFSPLIT_SEAT_SCREEN_H

#include "halfsplit/engine/engine.h"

#define HS_SCREEN_NARROWEST 60u
#define HS_SCREEN_LARGE     44u  /* columns of large type */
#define HS_SCREEN_WIDEST    110u /* longer lines are hard to read at arm's length */

typedef struct hs_screen {
	size_t width;       /* columns; below HS_SCREEN_NARROWEST counts as that, above HS_SCREEN_WIDEST as that */
	bool colour;        /* bold headings, dim secondary words, one accent for cautions */
	const char *serial; /* the unit's serial for the status line; NULL: left out. Kept by the caller */
	const char *run;    /* the run's id: the codes of gates come from it; NULL: gates have none. Kept by the caller */
	bool brief;         /* the caution of this gate was shown in full before: its first words will do */
	bool large;         /* only the essentials, in short lines with room between them */
	bool tall;          /* the terminal is known to show lines of double height */
	int64_t begun_ms;   /* monotonic: when this sitting began */
	int64_t now_ms;     /* monotonic: for the time passed and for waits */
} hs_screen;

/* True when colour is wanted at all: NO_COLOR unset or empty, TERM set and not "dumb". Reads the environment. */
bool hs_screen_wants_colour(void);

/* True for a terminal that is known to show lines of double height, where escapes are wanted at all. Reads the environment. */
bool hs_screen_wants_tall(void);

/*
 * The consequences of an event, in order. HS_SAYS_ASKED is left out: the ask itself is shown next. Ends with a newline
 * unless nothing was appended.
 */
void hs_screen_facts(const hs_screen *screen, const hs_engine *engine, const hs_fact *facts, size_t count, hs_buf *out);

/*
 * The ask in full: status line, heading, text, caution, hookup, choices, what is wanted. At a gate the status stands behind
 * the heading. Ends with a newline; no prompt.
 */
void hs_screen_ask(const hs_screen *screen, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words,
                   hs_buf *out);

/* The ask in short, when it comes again: heading, the line that says what to do now, choices, what is wanted. */
void hs_screen_again(const hs_screen *screen, const hs_ask *ask, const hs_ask_words *words, hs_buf *out);

/* What a redo would take back, and that a second one does it. */
void hs_screen_redo(const hs_screen *screen, const hs_engine *engine, const hs_ask *target, const char *text,
                    hs_buf *out);

/* The prompt alone, no newline: "dBm> ", "> ", "28 s to go> ". Plain, never coloured. */
void hs_screen_prompt(const hs_screen *screen, const hs_ask *ask, const hs_ask_words *words, hs_buf *out);

/* Answers to words that change nothing: `help`, `why`, `show`, and Ctrl-C at a prompt. */
void hs_screen_help(const hs_screen *screen, const hs_ask_words *words, hs_buf *out);
void hs_screen_why(const hs_screen *screen, const hs_engine *engine, hs_buf *out);
void hs_screen_overview(const hs_screen *screen, const hs_engine *engine, hs_buf *out);
/* The hookups and instruments of a freehand run, and what each reads or gives. */
void hs_screen_kit(const hs_screen *screen, const hs_engine *engine, hs_buf *out);
void hs_screen_interrupted(const hs_screen *screen, hs_buf *out);

/* The open list in words: one line for each temporary change not yet undone, a fitted short too, or nothing. */
void hs_screen_open_list(const hs_screen *screen, const hs_engine *engine, hs_buf *out);

/* How the unit is left: a loud sentence when it is or may be on, the power state with what was proved, and the open list or that it is empty. */
void hs_screen_left(const hs_screen *screen, const hs_engine *engine, hs_buf *out);

#endif
