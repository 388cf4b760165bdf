/*
 * Walking over what could happen, for a proof or a plan: no transcript, no redo, no clock of its own. The state of an engine is a flat value,
 * which is copied out and in again to try one way after another.
 *
 * While an engine walks a reading carries no number, only how it comes out. So a decision, and a reading used again, may come out every way that
 * the playbook declares: these are crossroads, where the engine stands as if it asked something.
 */
#ifndef HALFSPLIT_ENGINE_WALK_H
#define HALFSPLIT_ENGINE_WALK_H

#include "halfsplit/engine/engine.h"

/* From here on this engine walks. Events are not taken any more; hs_engine_next and the read-only views go on as they do. */
void hs_walk_begin(hs_engine *engine);

/* The bytes of a copied state; it is good for engines of the same playbook and kit. */
size_t hs_walk_size(const hs_engine *engine);
void hs_walk_save(const hs_engine *engine, void *state);
void hs_walk_load(hs_engine *engine, const void *state);

/*
 * In how many ways what stands next can come out: 0 when the run has ended or rests, 1 for gates and whatever else is simply done. A limit
 * that has no lower end cannot be passed below, and so on.
 */
int hs_walk_ways(const hs_engine *engine);

/* "low", the word chosen at a look, the target of a decision, "done". Appended. */
void hs_walk_way_name(const hs_engine *engine, int way, hs_buf *out);

/* The outcome that this way is of a reading; false when it is none (a word, a decision, something done). */
bool hs_walk_way_outcome(const hs_engine *engine, int way, hs_outcome *outcome);

/* Takes one way. Waits are over at once. False, with nothing changed: it leads nowhere (HS_BAD_INPUT, at its line). */
bool hs_walk_take(hs_engine *engine, int way, hs_error *error);

/* True at a decision or a reused reading: nothing is asked of a person here. */
bool hs_walk_at_crossroads(const hs_engine *engine);

/*
 * A key of everything that can still change the course or the safety of the run: equal keys go on alike. Times, numbers and the standing of
 * suspects are no part of it.
 */
typedef struct hs_walk_key {
	uint64_t a, b;
} hs_walk_key;
hs_walk_key hs_walk_key_of(const hs_engine *engine);

/*
 * Playing: as walking, but readings carry numbers, so that they are judged, and decisions run. No transcript, no redo; a run begins again by
 * hs_walk_load of a state saved at its beginning. False, with nothing promised of the state: a function failed, or what was given is refused there.
 */
void hs_play_begin(hs_engine *engine);
bool hs_play_reading(hs_engine *engine, const hs_ask *ask, const hs_entry *entry, hs_error *error);
bool hs_play_text(hs_engine *engine, const hs_ask *ask, const char *text, hs_error *error);
bool hs_play_done(hs_engine *engine, const hs_ask *ask, hs_error *error); /* what hs_engine_obliging types */

/*
 * For an engine that takes events: where it stands, to come back to after trying some. Only the same engine, and only marks that are not
 * behind one that was gone back to.
 */
typedef struct hs_mark {
	size_t events;
} hs_mark;
hs_mark hs_engine_mark(const hs_engine *engine, void *state); /* state: hs_walk_size bytes */
void hs_engine_back(hs_engine *engine, const void *state, hs_mark mark);

/* What a person would type who does as asked: passes every gate, opens, joins, turns; "" where only a reading or a word will do. Appended. */
void hs_engine_obliging(const hs_engine *engine, const hs_ask *ask, hs_buf *out);

/* The position a control stands at, from 1; 0: not known. */
int hs_engine_position(const hs_engine *engine, int control);

/* The facts about the world, for a second account of the safety rules. */
const hs_physical *hs_engine_physical(const hs_engine *engine);

#endif
