/* What the engine asks: a flat value, and the words a seat shows for it. */
#ifndef HALFSPLIT_ENGINE_ASK_H
#define HALFSPLIT_ENGINE_ASK_H

#include "halfsplit/unit/way.h"

typedef enum hs_ask_kind {
	HS_ASK_NONE,     /* the run has ended */
	HS_ASK_INTAKE,   /* item: hs_intake */
	HS_ASK_ENTRY,    /* which functional check failed: intake/entry */
	HS_ASK_SHOWN,    /* the symptom reproduced: intake/shown, "3 of 3" */
	HS_ASK_GATE,     /* gate/STATE/FACT */
	HS_ASK_OPEN,     /* STEP/open.COVER, home/open.COVER to reach a control at the end: "done"; item: openable */
	HS_ASK_CLOSE,    /* STEP/close.THING: "done" */
	HS_ASK_STANDS,   /* intake/stands.CONTROL: where it stands now, so that it can be put back; item: control */
	HS_ASK_SET,      /* STEP/set.CONTROL, home/set.CONTROL at the end: "done" or the position; item: control */
	HS_ASK_JOIN,     /* STEP/join.source, STEP/join.meter: "done"; item: 0 source, 1 + reading index */
	HS_ASK_PART,     /* STEP/part.meter: "done"; a hookup attached while dead comes off, dead again; item 0: STEP/part.source, home/part.source */
	HS_ASK_TOLD,     /* STEP: "done" or Enter; tell */
	HS_ASK_DONE,     /* STEP: "done"; do */
	HS_ASK_AGAIN,    /* STEP/again: "done"; an act is done once more, because what was to be read within a time of it came too late */
	HS_ASK_WAITED,   /* STEP: "done", not before the time; wait */
	HS_ASK_FITTED,   /* STEP: what was fitted; replace */
	HS_ASK_READ,     /* STEP or STEP/READING: a reading; item: reading index */
	HS_ASK_CHOOSE,   /* STEP: a word from the list; look */
	HS_ASK_STOPPED,  /* stop/what: what happened, after a stop, once the power is off */
	HS_ASK_BLOCKED,  /* nothing can be asked: a defect of the playbook; never from one that checks clean */
	HS_ASK_UNIT,     /* freehand without a family, unit/feeds ...: what the unit is; item: hs_unit_ask */
	HS_ASK_ACT       /* freehand, free/N: the next act; item: N, from 1 */
} hs_ask_kind;

typedef enum hs_intake { HS_INTAKE_WORDS, HS_INTAKE_SEEN, HS_INTAKE_SEALS, HS_INTAKE_KEEP, HS_INTAKE_FIRST, HS_INTAKE_COUNT } hs_intake;

/* In the order asked; the last one confirms what was understood of the others. */
typedef enum hs_unit_ask {
	HS_UNIT_FEEDS, HS_UNIT_SWITCH, HS_UNIT_STANDBY, HS_UNIT_EMITS, HS_UNIT_DRIVE, HS_UNIT_OUTSIDE, HS_UNIT_COVER, HS_UNIT_STORES, HS_UNIT_FINE, HS_UNIT_ASKS
} hs_unit_ask;

typedef struct hs_ask {
	hs_ask_kind kind;
	int step;             /* step index, -1 none */
	int item;
	int position;         /* HS_ASK_SET: from 1 */
	hs_gate gate;         /* HS_ASK_GATE */
	int64_t earliest_ms;  /* monotonic; 0: any time */
} hs_ask;

/* Words for people. All text is raw (a playbook's): the seat makes it safe to show. */
typedef struct hs_ask_words {
	hs_buf heading;   /* "Level after the filter" */
	hs_buf text;      /* instruction, one or more lines */
	hs_buf caution;   /* or empty */
	size_t brief;     /* bytes of the caution that are shown when the same kind of gate comes again; 0: all */
	hs_buf picture;   /* where that is in a picture, "TP2, left of the shield (pictures/board.svg)", or empty */
	hs_buf hookup;    /* the hookup drawn in one line, or empty */
	hs_buf wanted;    /* "a power in dBm", "done", "hand, sight or lock" */
	hs_buf help;      /* the longer explanation for `help` */
	hs_unit bare;     /* unit a bare number takes; HS_UNIT_COUNT: none */
	struct { const char *word; const char *text; } choices[24]; /* words that may be typed, in order */
	size_t choice_count;
	char keys[24][4]; /* gates: the digits that stand for each choice on a keypad; the seat makes them (seat/keypad.h) */
	const char *stock[10]; /* a sentence: ready-made ones, answered by their digit from 0 */
	size_t stock_count;
	bool enter_ok;    /* an empty line is an answer */
	bool is_gate;
	bool is_file;     /* the name of a file with a trace; the seat gives its contents as the answer (judge/trace.h) */
	bool is_act;      /* freehand: an act begins with its own word, so that every command is one */
} hs_ask_words;

void hs_ask_words_free(hs_ask_words *words);

/* A word with which other programs are left or turned back, typed where an answer is wanted: what its writer may wish for. */
typedef enum hs_wish { HS_WISH_NONE, HS_WISH_GO, HS_WISH_BACK } hs_wish;
hs_wish hs_wish_of(const char *word);

#endif
