/*
 * The engine: state = fold(playbook, kit, events). It offers two calls: what is asked next, and here is an answer. Everybody who answers
 * (a terminal, an answers file, a transcript replayed, a proof) sits in front of the same two calls.
 *
 * Two kinds of fact are folded differently. Physical facts (power, charge, connections, the open list) fold over all events and never
 * un-happen. Judgements (position, readings, suspects) fold over the answers that survive redo.
 *
 * hs_engine_take never half-happens: when it returns false nothing has changed.
 */
#ifndef HALFSPLIT_ENGINE_ENGINE_H
#define HALFSPLIT_ENGINE_ENGINE_H

#include "halfsplit/engine/event.h"
#include "halfsplit/engine/fact.h"

#define HS_RULES_VERSION 1
#define HS_ACTS_VERSION 2 /* how freehand acts are understood; see hs_engine_old_acts */

typedef struct hs_engine hs_engine;

/*
 * The playbook must have been checked (hs_playbook_check, hs_unit_check) without errors; it and the kit must outlive the engine. Refuses a playbook that
 * fails the safety check, whoever forgot to run it. by: the person at the bench at the start.
 */
hs_engine *hs_engine_new(const hs_playbook *playbook, const char *by, hs_error *error);
/*
 * Freehand: without a playbook. The acts that the person names append steps to a model of the engine's own, which hs_engine_playbook
 * gives; its steps keep their indexes, but arrays of it may move with every event. base: a unit and its points (a family), without
 * steps; NULL: the run begins by asking what the unit is. kit: NULL when there is none. Both must outlive the engine. family: what base was called by, or NULL.
 */
hs_engine *hs_engine_new_freehand(const hs_playbook *base, const char *family, const hs_kit *kit, const char *by, hs_error *error);
/*
 * For the transcript of an older program, before the first event: acts and what the unit is are understood as of the first edition, and
 * what was refused then is refused again in the words of then (hs_event.refused).
 */
void hs_engine_old_acts(hs_engine *engine);
void hs_engine_free(hs_engine *engine); /* accepts NULL */

/*
 * For rehearsals: the way begins at this step, where the intake would have led to the entry; the symptom and the entry are not asked. Every gate is.
 * Before the first event only. False (HS_BAD_INPUT): there is no such step, or it is a finding.
 */
bool hs_engine_begin_at(hs_engine *engine, const char *step, hs_error *error);

/* What is asked next; kind HS_ASK_NONE when the run has ended or is paused. Pure. */
hs_ask hs_engine_next(const hs_engine *engine);

typedef enum hs_taken {
	HS_TAKEN,    /* the event is part of the run */
	HS_NOT_TAKEN /* an answer that was not accepted (bad input, refused gate, too early): recorded, nothing else changed; see the ANSWERED fact's why */
} hs_taken;

/*
 * Folds one event. false: the event does not fit the run at all (it answers another ask; a function of the playbook failed): HS_BAD_INPUT or HS_BUDGET, and
 * nothing changed. true: *taken says whether an answer was accepted; hs_engine_facts gives what follows, ending in HS_SAYS_ASKED unless ended or paused.
 */
bool hs_engine_take(hs_engine *engine, const hs_event *event, hs_taken *taken, hs_error *error);

const hs_fact *hs_engine_facts(const hs_engine *engine, size_t *count);

/* The facts of the beginning: just the first HS_SAYS_ASKED. Call once after hs_engine_new. */
void hs_engine_open(hs_engine *engine);

/* ---- read-only views ---- */
void hs_engine_ask_id(const hs_engine *engine, const hs_ask *ask, hs_buf *out);
void hs_engine_words(const hs_engine *engine, const hs_ask *ask, hs_ask_words *out); /* hs_ask_words_free it */

/* The instrument whose program can give the reading asked for, as the run's kit names it; NULL when there is none. */
const hs_part *hs_engine_program(const hs_engine *engine, const hs_ask *ask);

/* Where a control stands, or NULL when that is not known. */
const char *hs_engine_control(const hs_engine *engine, int control);

bool hs_engine_ended(const hs_engine *engine);   /* at a finding, everything safe */
bool hs_engine_paused(const hs_engine *engine);
int hs_engine_finding(const hs_engine *engine);  /* step index of the finding reached, or -1 */
hs_power hs_engine_power(const hs_engine *engine);
uint64_t hs_engine_open_list(const hs_engine *engine);
/* The stores that stand with a short fitted, by id, and where an earthing stick hangs: "C7, C8, V1 (earthing stick)"; empty when there are none. */
void hs_engine_shorts(const hs_engine *engine, hs_buf *out);
/* Dangers found unsafe (broken, swollen ...), which a specialist deals with before anything goes on; empty when there are none. */
void hs_engine_barred(const hs_engine *engine, hs_buf *out);
/* The stores that lie open to hands and are not proved dead, by id; empty when there are none. */
void hs_engine_charges(const hs_engine *engine, hs_buf *out);
/* What still hangs on the unit, one after the other: "tap lead at TP2". False behind the last. A probe that is only held is not listed. */
bool hs_engine_joined(const hs_engine *engine, size_t index, hs_buf *out);
/* A control that was turned and does not stand where it did: "band stood at low at the start; it now stands at high". False when there is nothing to say. */
bool hs_engine_control_left(const hs_engine *engine, int control, hs_buf *out);
/* The power state by its name, and the zones proved dead, if any: "proved dead (primary, inside)". */
void hs_engine_power_words(const hs_engine *engine, hs_buf *out);
bool hs_engine_is_freehand(const hs_engine *engine);
/* False for a point that only acts named which were taken back since. */
bool hs_engine_point_stands(const hs_engine *engine, int point);
const hs_kit *hs_engine_kit(const hs_engine *engine); /* of a freehand run; NULL when it has none, and in a guided one */
/* The family a freehand run began with, as it was then; NULL when there was none. */
const hs_playbook *hs_engine_base(const hs_engine *engine);
/* True when the surviving answers lead through this step; *judged and *outcome (may be NULL) when it was judged. */
bool hs_engine_went_through(const hs_engine *engine, int step, bool *judged, hs_outcome *outcome);
int hs_engine_step(const hs_engine *engine);     /* where we are, or -1 before the first step */
const char *hs_engine_by(const hs_engine *engine);
const hs_playbook *hs_engine_playbook(const hs_engine *engine);
size_t hs_engine_answers(const hs_engine *engine); /* accepted answers so far */

typedef enum hs_standing { HS_SUSPECT_OPEN, HS_SUSPECT_CLEARED, HS_SUSPECT_IMPLICATED } hs_standing;
/* A suspect's standing and the step whose outcome said so (-1 when open). */
hs_standing hs_engine_suspect(const hs_engine *engine, size_t suspect, int *by_step);

/*
 * "Why?": the arithmetic of the last judgement: raw reading, each correction with sign and source, uncertainty terms, limits and where they come from, rule,
 * outcome, and what it did to the suspects. A sentence when nothing was judged yet.
 */
void hs_engine_why(const hs_engine *engine, hs_buf *out);

/* The last judged reading with limits, for drawing the scale; false when there is none. */
bool hs_engine_last_measure(const hs_engine *engine, const hs_measure **measure, const hs_reading **reading);

/* What the leads of a reading were zeroed at, in ohm: the meter shows so much more than the unit has there. 0: they were not. */
double hs_engine_leads_ohm(const hs_engine *engine, int step, int item);

/*
 * The level diagram of a step that a line-up judges: a heading, then the points on the way to its reading from what goes in, the band a
 * healthy unit lies in, and what was read there so far with the same signal and settings. Nothing when there is none. At most `width`
 * columns, at least 60. item: which of the step's readings; -1: the first that a line-up judges.
 */
void hs_engine_levels(const hs_engine *engine, int step, int item, size_t width, hs_buf *out);

/* The step of the last judgement, or -1; *item: which of its readings, -1 for what was derived of them. */
int hs_engine_judged(const hs_engine *engine, int *item);

/*
 * What redo would take back: its ask, the answer as typed (good while the engine lives), and whether another answer was accepted since.
 * False when it would be refused.
 */
bool hs_engine_redo_target(const hs_engine *engine, hs_ask *ask, const char **text, bool *since);

/*
 * Why the run last stopped going on, in the words given then: "stop: smoke from the tray", "leave: no part". Appended; false when it was not paused
 * since it was last resumed, or nothing was said.
 */
bool hs_engine_paused_because(const hs_engine *engine, hs_buf *out);

/*
 * Who stopped and why, "Ben Holt: smoke from C3", while the power is not out yet or it is not told what happened: a pause, the end of the
 * program and a resume leave a stop as it is. Appended; false when no stop is under way.
 */
bool hs_engine_stopped_by(const hs_engine *engine, hs_buf *out);

/* True when the power is on, standby or keyed, and when it is unknown but was last confirmed to be one of these. */
bool hs_engine_left_on(const hs_engine *engine);

/* What is known so far: open suspects, cleared and implicated with their evidence, readings in order. */
void hs_engine_overview(const hs_engine *engine, hs_buf *out);

#endif
