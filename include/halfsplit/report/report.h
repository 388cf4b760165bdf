/*
 * A report: one walk over a transcript makes a sheet, a plain value; one file per format writes it.
 *
 * What happened, with its times, is taken from the lines; what it amounts to (standing of the suspects, power, open
 * list) from the engine that folded them again. Formats: text, a job sheet to be read; json, the same as data.
 */
#ifndef HALFSPLIT_REPORT_REPORT_H
#define HALFSPLIT_REPORT_REPORT_H

#include "halfsplit/record/transcript.h"

typedef enum hs_item_kind {
	HS_ITEM_READING, /* typed -> corrected -> limits -> outcome -> where it led */
	HS_ITEM_ANSWER,  /* anything else answered at a step or the intake */
	HS_ITEM_GATE,
	HS_ITEM_OPENED,
	HS_ITEM_CLOSED_UP,
	HS_ITEM_NOTE,
	HS_ITEM_WARNING,
	HS_ITEM_REFUSED, /* an answer that was not taken, with the reason */
	HS_ITEM_REDO,
	HS_ITEM_SITTING, /* began, paused, resumed, closed: word */
	HS_ITEM_REPAIR
} hs_item_kind;

/*
 * One line of the sheet; text that does not apply is NULL. outcome is of the reading ("noted" where there are no
 * limits), left of the step that this line completed: of a block, an adjustment or a grid the two may differ.
 */
typedef struct hs_item {
	hs_item_kind kind;
	size_t event; /* which event caused it, counted from 1; 0: the opening */
	const char *utc, *by, *ask, *step, *reading;
	const char *typed, *corrections, *value, *expanded, *limits, *outcome, *side, *left;
	const char *word, *to, *clears, *implicates, *text, *why, *before, *after;
	bool passed, taken_back, derived, by_program; /* by_program: `typed` is what the instrument's own program printed */
	bool rests; /* freehand: it led back to where the next act is named */
} hs_item;

typedef struct hs_sheet_instrument {
	const char *id, *title, *serial, *due;
	bool overdue; /* on the day it was first used */
} hs_sheet_instrument;

/* One sitting of one person; there are as many as were begun, in order. */
typedef struct hs_sheet_person {
	const char *by, *from_utc, *to_utc;
} hs_sheet_person;

typedef struct hs_sheet_suspect {
	const char *id, *title, *by_step, *evidence;
	hs_standing standing;
} hs_sheet_suspect;

typedef struct hs_sheet {
	hs_arena *arena;
	const hs_opening *opening; /* the replay's */
	const hs_playbook *playbook;
	const char *ended_utc;
	const char *state; /* "closed", "paused", "stopped short" */
	hs_item *items;
	size_t item_count, item_room;
	hs_sheet_instrument *instruments;
	size_t instrument_count, instrument_room;
	hs_sheet_person *persons;
	size_t person_count, person_room;
	hs_sheet_suspect *suspects;
	size_t suspect_count;
	const hs_step *finding; /* NULL: none reached */
	const char *found_by, *found_utc;
	const char **open;      /* titles of what is still open */
	size_t open_count;
	const char **joined;    /* what still hangs on the unit: "tap lead at TP2" */
	size_t joined_count;
	const char **turned;    /* controls that were turned and not put back, a sentence each */
	size_t turned_count;
	hs_power power;
	const char *power_words; /* with the zones proved dead */
	const char *shorts;      /* stores that stand shorted, "C7, C8"; NULL: none */
	const char *unsafe;      /* hazards found broken, swollen ..., which wait for a specialist; NULL: none */
	const char *charges;     /* stores that lie open and are not proved dead; NULL: none */
	size_t lines;
	char head[HS_HEX_ROOM];
	bool torn, repaired;
} hs_sheet;

/*
 * The chain must be good or torn and the replay good; both must outlive the sheet, like the replay's engine.
 * HS_BAD_INPUT when the lines do not hold together.
 */
bool hs_sheet_read(const char *data, size_t length, const hs_chain *chain, const hs_replay_result *replay,
                   hs_sheet *sheet, hs_error *error);
void hs_sheet_free(hs_sheet *sheet);

void hs_sheet_text(const hs_sheet *sheet, hs_buf *out);
void hs_sheet_json(const hs_sheet *sheet, hs_buf *out);

#endif
