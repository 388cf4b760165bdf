/*
 * Freehand, inside the engine: a model that grows. Each act the person names is an answer; it appends a step, a point, a change or a
 * suspect, and the usual machinery asks the gates and the reading. Steps, points and changes stay when an act is taken back, because physical facts refer to
 * them by index; suspects and what was stated of points are told anew by the acts that survive.
 */
#ifndef HALFSPLIT_CORE_ENGINE_FREE_H
#define HALFSPLIT_CORE_ENGINE_FREE_H

#include "core/engine/state.h"

#define HS_TOLD_MOST 16

/* What the person said of a unit that no family file declares. */
typedef struct hs_told {
	struct { bool mains; double volts; } feeds[4];
	int feed_count;
	const char *switch_title; /* where it is switched; NULL: nobody said */
	bool standby;
	struct { const char *id; double watts; } emits[4];
	int emit_count;
	bool drive_is_safe; /* a key line makes it transmit, and drive alone does not */
	const char *outside[HS_TOLD_MOST];
	int outside_count;
	const char *cover; /* its title; NULL: nothing guards the inside */
	struct { const char *id; double volts, farads, bleed_ohm; } stores[8];
	int store_count;
	bool stores_unknown;
} hs_told;

struct hs_free {
	hs_playbook book;     /* what the engine folds over */
	hs_playbook base;     /* as it was given: nothing in it moves */
	const char *family;   /* NULL: none */
	const hs_kit *kit;
	hs_arena *arena;
	size_t step_room, suspect_room, point_room;
	bool *named;          /* a point of our own that a surviving act named; by index, beyond base's false */
	size_t named_room;
	hs_told told;
	bool declared;        /* the unit stands: base's, or as told */
	bool old;             /* replaying acts of the first edition: hs_engine_old_acts */
	int made;             /* the step the act under way appended, or had appended when it is folded again; -1 */
};

/* free.c */
hs_free *hs_free_new(const hs_playbook *base, const char *family, const hs_kit *kit);
void hs_free_free(hs_free *model); /* accepts NULL */
void hs_free_begin(hs_engine *engine);
hs_step hs_free_blank(hs_step_kind kind); /* indexes that mean none set to -1 */
/* Appends the step unless it was appended before; fills id, branches and slots. Its index. */
int hs_free_append(hs_engine *engine, const hs_step *step);
/* Refused with a sentence for the bench when the safety rules do not have it. */
bool hs_free_safe(hs_engine *engine, const hs_step *step, hs_buf *why);
int hs_free_point(hs_engine *engine, const char *id);                     /* by any case; -1 */
bool hs_free_knows_point(hs_engine *engine, const char *id);              /* the family declares it, or a surviving act named it */
int hs_free_add_point(hs_engine *engine, const char *id, bool outside);   /* or names one of our own again */
/* The highest DC there can be in the unit, which a point of one's own counts as carrying until somebody says what it does. */
double hs_free_most_dc(const hs_free *model);
bool hs_free_guesses_dc(const hs_engine *engine, int point);
int hs_free_openable(const hs_engine *engine, const char *name);          /* by id or title; -1 */
int hs_free_add_openable(hs_engine *engine, const hs_openable *thing, hs_buf *why); /* -1 and why */
int hs_free_suspect(hs_engine *engine, const char *name, bool add);       /* -1 */
/* "output relay" -> "output-relay"; false when nothing of it can be an id. */
bool hs_free_slug(const char *text, char id[64]);
/* Goes on from steps that ask nothing of their own, once the unit is as they want it. */
bool hs_free_arrive(hs_engine *engine, hs_error *error);

/* free_unit.c */
bool hs_free_unit_known(const hs_engine *engine, hs_ask *ask); /* true in a guided run */
bool hs_free_unit_take(hs_engine *engine, int item, const char *text, hs_buf *why);
void hs_free_unit_words(const hs_engine *engine, int item, hs_ask_words *out);

/* free_act.c */
bool hs_free_act(hs_engine *engine, const char *text, hs_buf *why, bool *failed, hs_error *error);
void hs_free_note(hs_engine *engine, const char *text);
const char *hs_free_act_word(size_t index); /* NULL behind the last */

/* Takes what stands behind the word of an act; false with why when it is refused, with *failed and *error when the engine cannot go on. */
typedef bool hs_free_taking(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error);

/* free_suspect.c */
hs_free_taking hs_free_take_suspect, hs_free_take_clear, hs_free_take_blame, hs_free_take_saw, hs_free_take_find;

/* free_words.c */
void hs_free_words(const hs_engine *engine, hs_ask_words *out);

/* free_line.c: what a line that names a reading or an injection says, in any order. */
typedef struct hs_clauses {
	const char *point, *against;
	bool has_reads;
	hs_measurand reads;
	bool by_eye, has_hookup;
	const char *hookup_name;
	const hs_hookup *hookup;
	bool has_freq;
	double freq_hz;
	bool has_level;
	hs_quantity level;
	bool has_with;
	uint64_t open, with;
	bool outside, loose, fresh;
	bool placed;          /* the point stands behind at or into, so that no other word is meant */
	const char *limits;   /* behind the first comma; NULL: none said */
	const char *because;
} hs_clauses;
/* inject: a level is wanted, and its point stands behind `into`. Texts go to the engine's turn arena. */
bool hs_free_clauses(hs_engine *engine, const char *text, bool inject, hs_clauses *out, hs_buf *why);

bool hs_free_begins_clause(const char *word);
/* True when the word begins the name of something that a line can say to be read. */
bool hs_free_is_measurand(const char *word);

/* free_slip.c */
/* Refuses a word that is no act, no point and nothing declared, with what may have been meant. False. */
bool hs_free_unknown_word(const char *word, const char *rest, hs_buf *why);
/* True, and why, for what was typed as if an act were asked for where a tester is. */
bool hs_free_no_tester(const hs_engine *engine, const char *text, hs_buf *why);
/* True when the word, with what stands behind it, was to be an act. */
bool hs_free_act_meant(const char *word, const char *rest);

/* free_read.c */
hs_free_taking hs_free_read, hs_free_again, hs_free_put;
/* Checks, appends and enters a step; false with why when it is refused. */
bool hs_free_take_step(hs_engine *engine, const hs_step *step, hs_buf *why, bool *failed, hs_error *error);

#endif
