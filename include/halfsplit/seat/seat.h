/*
 * A seat: whoever answers what the engine asks. The drive loop asks the engine, then the seat, records, and shows the
 * consequence through the same seat; it knows nothing of terminals, files or clocks.
 *
 *     ask = hs_engine_next(engine); hs_engine_words(engine, &ask, &words);
 *     seat->ask(seat, engine, &ask, &words, &input, error)
 *       HS_INPUT_HELP, WHY, SHOW, INTERRUPT: hs_screen_help ... into a buffer, seat->show; ask again
 *       HS_INPUT_ANSWER, NOTE, REDO, PAUSE, LEAVE, STOP: an event (HANDOVER: a pause and a resume by the other person), stamped with hs_seat_stamp; record it; then
 *         hs_screen_facts into a buffer, seat->show
 *       HS_INPUT_END: as PAUSE
 *
 * Layers: this header needs engine and below only.
 */
#ifndef HALFSPLIT_SEAT_SEAT_H
#define HALFSPLIT_SEAT_SEAT_H

#include "halfsplit/base/utc.h"
#include "halfsplit/engine/engine.h"
#include "halfsplit/seat/screen.h"
#include "halfsplit/seat/taker.h"

typedef enum hs_input_kind {
	HS_INPUT_ANSWER, /* text answers the ask; may be "" */
	HS_INPUT_HELP,   /* HELP, WHY, SHOW, LARGE change nothing and are not recorded */
	HS_INPUT_WHY,
	HS_INPUT_SHOW,
	HS_INPUT_LARGE, /* large type on or off */
	HS_INPUT_NOTE, /* text: the remark, never empty */
	HS_INPUT_REDO,
	HS_INPUT_PAUSE,    /* text: the reason, or "" */
	HS_INPUT_LEAVE,    /* text: the reason, or "" */
	HS_INPUT_HANDOVER, /* text: the name of who goes on here, or "" */
	HS_INPUT_STOP,     /* text: what happened, or "" */
	HS_INPUT_END,      /* end of file, closed terminal, told to end: pause. text: "end of the answers" ... */
	HS_INPUT_INTERRUPT /* Ctrl-C at the prompt: say how to leave or stop, ask again */
} hs_input_kind;

typedef struct hs_input {
	hs_input_kind kind;
	hs_buf text;
} hs_input;

void hs_input_init(hs_input *input);
void hs_input_free(hs_input *input);

typedef struct hs_seat hs_seat;

/*
 * A seat's functions and what everybody may know of it. Made and freed by the seat's own open and close (terminal.h,
 * answers.h); the caller may set screen.serial.
 */
struct hs_seat {
	/*
	 * Shows the ask (in full when it is new, in short when the same ask comes again) and waits for one
	 * input. *input is initialised by the caller and filled on success. False: the seat cannot go on. HS_BAD_INPUT:
	 * the answers file names another ask; HS_IO: reading failed.
	 */
	bool (*ask)(hs_seat *seat, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words,
	            hs_input *input, hs_error *error);
	/* Prints text that is already safe to show (made by hs_screen_...), unchanged. A closed terminal is noticed at
	 * the next ask. */
	void (*show)(hs_seat *seat, const char *text);
	int64_t (*now_mono_ms)(hs_seat *seat); /* never goes back while the seat lives */
	int64_t (*now_utc_ms)(hs_seat *seat);  /* since 1970-01-01 UTC, leap seconds not counted */
	void (*close)(hs_seat *seat);

	const char *name; /* "terminal", "piped", "answers file": for the transcript */
	bool rehearsal;   /* nobody stands at a unit: the clock is virtual, the transcript must say rehearsal */
	hs_screen screen; /* how to render for this seat; now_ms and width are brought up to date by every ask */
	const hs_taker *taker; /* takes readings by programs; NULL: all are typed. Kept by the caller; a rehearsal has none */
	bool bell;        /* a bell at a gate and at a refusal; a wait that is over always rings */
};

/* The time of an event just given: the UTC text into stamp ("2026-11-24T09:30:00.000Z"), the monotonic time returned.
 */
int64_t hs_seat_stamp(hs_seat *seat, char stamp[HS_STAMP_ROOM]);

/*
 * What a typed line means at this ask. Command words: help ? why show redo pause leave stop, and note TEXT, each also
 * with a leading
 * "!"; pause, leave and stop take a reason after them. `stop` is always stop. Every other word without "!" is an answer
 * when the ask itself offers that word. Keys of a keypad become what they stand for (seat/keypad.h). Leading and trailing white space goes.
 * An empty note comes back as HS_INPUT_NOTE with empty text: the seat asks for the remark.
 */
void hs_input_read(const hs_ask_words *words, const char *line, hs_input *input);

/* True where free text is asked for: a sentence of one's own, not a word, a reading or a gate. */
bool hs_input_is_sentence(const hs_ask_words *words);

/* The command a sentence begins with, though it was taken as an answer ("pause between beeps"); else NULL. */
const char *hs_input_mistakable(const hs_ask_words *words, const char *answer);

void hs_seat_close(hs_seat *seat); /* accepts NULL */

#endif
