/*
 * Inside the engine: the flat state, the log of events, and what the parts of the engine call of each other.
 *
 * hs_state is one block without pointers of its own (hookups are immutable), so it is copied with memcpy: to undo a failed take, and to try
 * outcomes without logging them.
 */
#ifndef HALFSPLIT_CORE_ENGINE_STATE_H
#define HALFSPLIT_CORE_ENGINE_STATE_H

#include "halfsplit/engine/engine.h"

/* One reading as last taken; its measure is derived again whenever it is needed. */
typedef struct hs_slot {
	bool taken;      /* a value is there */
	bool lapsed;     /* something changed since: it may not be reused */
	int order;       /* which reading of the run it was: later ones have a higher number */
	hs_outcome outcome;
	hs_entry_kind kind;
	hs_quantity quantity;
	double step;
	double corrected; /* in the reading's unit; NUMBER only */
	uint8_t position[HS_CONTROLS_MOST]; /* how the controls stood */
	double freq_hz;   /* of a trace: where its worst point lies */
} hs_slot;

#define HS_METERS_MOST 8 /* hookups that hang on a unit at once; of more, the one joined first is taken to be off */

typedef struct hs_joined {
	const hs_hookup *hookup;
	int point;
	const char *at_text; /* as written, for a place that is no declared point */
	bool attached;   /* stays by itself inside a guarded zone: put on, and taken off, while proved dead */
	bool confirmed;  /* the joining was asked and done, and nobody was away since */
	bool loose;      /* on a part that lies on the mat */
} hs_joined;

typedef struct hs_suspect_state {
	hs_standing standing;
	int by_step;
} hs_suspect_state;

typedef struct hs_visit_state {
	int visits;
	hs_outcome outcome; /* as last judged */
	bool judged;
	int choice;      /* last word chosen at a look step, -1 none */
} hs_visit_state;

#define HS_STOOD_UNKNOWN 255

/* Freehand: what the next act takes over where it says nothing else. Texts belong to the engine's arena. */
typedef struct hs_hand {
	int acts;             /* accepted so far */
	bool power_given;
	hs_need power;
	hs_injection inject;
	const char *load;     /* NULL none */
	double load_watts;
	int emitter;          /* where the load is; -1 */
	uint64_t open, with;  /* what the last act that names such things named as open or in place */
	uint8_t set[HS_CONTROLS_MOST];
	int last;             /* the step of the last reading named, -1 */
	int evidence;         /* the step last read or seen, -1 */
} hs_hand;

typedef struct hs_state {
	/* Physical facts: folded over every event. */
	hs_physical physical;
	hs_joined source, meters[HS_METERS_MOST];
	int meter_count;
	uint8_t position[HS_CONTROLS_MOST]; /* from 1; 0 unknown */
	uint8_t turned[HS_CONTROLS_MOST];   /* where it was turned to last, kept over a resume; from 1; 0: never */
	uint8_t stood[HS_CONTROLS_MOST];    /* before the first step: from 1; HS_STOOD_UNKNOWN; 0 not asked yet */
	int64_t last_ms;
	int act_step;                       /* what was done last, -1 nothing; and when */
	int64_t act_ms;

	/* The course of the session: folded over every event. */
	bool leaving, stopping, stop_told, paused, ended;

	/* Judgement: folded over the answers that survive. */
	unsigned intake;      /* bits of hs_intake answered */
	bool entry_known, shown_known;
	int entry_to;
	int step;             /* -1 before the first step */
	int item;             /* which reading of the step is next */
	int tries;
	bool has_first;
	double first_value;   /* adjust: the first reading, to see a response */
	int64_t entered_ms;
	int finding;
	int orders;           /* readings taken so far */
	int last_slot;        /* of the last reading taken, for `same`; -1 */
	int retest_of, retest_at; /* a replace step whose retests are under way, -1; which comes next */
	int judged_step, judged_item; /* what `why` speaks of; item -1: derived */
	bool crossroads;      /* walking: a decision or a reused reading stands next */

	/* Freehand. What the unit is counts as a fact about the world; the hand is judgement. */
	unsigned unit_told;   /* bits of hs_unit_ask answered */
	hs_hand hand;

	/* Arrays behind the struct, in this order: slots, suspects, visits, counters (int); as many as the engine has room for. */
} hs_state;

typedef struct hs_rooms {
	size_t slots, suspects, steps, counters;
} hs_rooms;

typedef struct hs_free hs_free; /* free.h */

typedef struct hs_logged {
	hs_event_kind kind;
	hs_ask ask;
	const char *text, *by, *utc;
	int64_t ms;
	bool accepted;
	bool retracted, aside;
	int made;             /* freehand: the step that this act appended, -1 */
} hs_logged;

struct hs_engine {
	const hs_playbook *playbook;
	hs_arena *arena;      /* texts of the log */
	hs_arena *turn;       /* what the facts of this turn point to */
	hs_free *free;        /* freehand: the model that grows, which is then `playbook`; else NULL */
	hs_rooms rooms;
	size_t state_size;
	hs_state *state;
	hs_state *before;     /* copy for undoing a failed take */
	int *slot_step;       /* which step and reading a slot belongs to */
	int *slot_item;
	hs_logged *log;
	size_t log_count, log_room;
	hs_fact *facts;
	size_t fact_count, fact_room;
	hs_measure last;      /* of the last judged reading */
	const hs_reading *last_reading;
	bool has_last;
	hs_buf last_limits;   /* where the last limits came from, in words */
	bool playing;         /* nobody will ask why: no words are kept for it */
	bool quiet;           /* refolding: facts are not told again */
	bool walking;         /* readings carry no numbers: walk.c */
	uint8_t *matters;     /* walking: of each step, what of it later steps ask for */
	const char *by, *utc;
	int from;             /* a rehearsal begins at this step, from 1; 0: where the playbook says */
};

static inline hs_slot *hs_state_slots(hs_state *state)
{
	return (hs_slot *)(void *)(state + 1);
}

static inline hs_suspect_state *hs_state_suspects(const hs_engine *engine, hs_state *state)
{
	return (hs_suspect_state *)(void *)(hs_state_slots(state) + engine->rooms.slots);
}

static inline hs_visit_state *hs_state_visits(const hs_engine *engine, hs_state *state)
{
	return (hs_visit_state *)(void *)(hs_state_suspects(engine, state) + engine->rooms.suspects);
}

static inline int *hs_state_counters(const hs_engine *engine, hs_state *state)
{
	return (int *)(void *)(hs_state_visits(engine, state) + engine->rooms.steps);
}

/* rooms.c: makes the state hold at least so much; what it holds stays. */
void hs_engine_make_room(hs_engine *engine, hs_rooms need);

/* facts.c */
hs_fact *hs_fact_add(hs_engine *engine, hs_fact_kind kind); /* zeroed but step, to, item = -1; a scratch one when quiet */
const char *hs_turn_text(hs_engine *engine, const char *text);

/* next.c */
hs_ask hs_next_ask(const hs_engine *engine);
hs_ask hs_next_judged(const hs_engine *engine);             /* what the judgement wants next, gates and openings left out */
/* What is asked must be read within a time of the act before it, and that is over. */
bool hs_too_late(const hs_engine *engine, const hs_ask *ask);
bool hs_way_home(const hs_engine *engine, hs_ask *ask);     /* true: already safe; else the gate on the way there */

bool hs_way_closed(const hs_engine *engine, uint64_t things, int step, hs_ask *ask); /* true: none of them is open */

/* joined.c */
hs_joined hs_joined_for(const hs_reading *reading, bool attached, bool confirmed);
const hs_joined *hs_joined_meter(const hs_state *state, const hs_reading *reading); /* where this reading wants it, or NULL */
bool hs_joined_share(const hs_hookup *a, const hs_hookup *b); /* a part or the instrument of one is in the other: never both at once */
void hs_joined_put(hs_state *state, hs_joined joined);        /* takes the place of all it shares a part with */
void hs_joined_drop(hs_state *state, int meter);
/* A reading was taken, so its hookup is there; true when it came there only now, asked about or not. */
bool hs_joined_moved(hs_state *state, const hs_reading *reading);

/* asks.c */
bool hs_ask_same(const hs_ask *a, const hs_ask *b);
bool hs_ask_is_judged(const hs_ask *ask);                   /* part of the judgement, as opposed to physical only */
bool hs_ask_is_observation(const hs_ask *ask);              /* what redo can retract */

bool hs_can_be_redone(const hs_engine *engine, const hs_logged *entry); /* why.c */

/* answer.c: accepts or refuses a text; false with *why filled when refused; on error (a function failed) *error is set and *failed true */
bool hs_answer_apply(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error);
bool hs_says_unread(const char *text); /* "not read: why" */
/* world.c */
void hs_world_keyed(hs_engine *engine, const hs_step *step); /* it was read or looked at keyed, if that is what the step needs */
void hs_world_stop(hs_state *state);                         /* smoke, smell, shock: nothing is known of the power, and what happened is asked */
/* The part of an accepted answer that is a fact about the world: it stays when the judgement is retracted or set aside. */
void hs_answer_physical(hs_engine *engine, const hs_ask *ask, const char *text);

/* course.c */
bool hs_course_enter(hs_engine *engine, int step, hs_error *error);
bool hs_course_follow(hs_engine *engine, const hs_branch *branch, const hs_outcome *outcome, const char *word, hs_error *error);
void hs_course_stand(hs_engine *engine, const hs_branch *branch, int step, const char *word); /* what a step said of suspects, afterwards */
void hs_course_void_for(hs_engine *engine, const hs_step *replace);
/* A reading that carries no number, only how the step comes out; at a crossroads too. */
bool hs_course_walked(hs_engine *engine, const hs_branch *branch, const hs_outcome *outcome, hs_error *error);
bool hs_course_reading(hs_engine *engine, int item, const hs_entry *entry, hs_error *error);
void hs_course_lapse(hs_engine *engine, unsigned how);
void hs_course_void_readings(hs_engine *engine);

/* taken.c: an answer by a program fits the ask, and is what the program printed */
bool hs_taken_fits(const hs_engine *engine, const hs_ask *ask, const hs_event *event, hs_error *error);

/* leads.c */
/* Puts what was measured of the leads into the correction, in place of their tables or beside them. */
void hs_leads_correct(const hs_engine *engine, const hs_reading *reading, int before, hs_correction *correction);
void hs_leads_limits(const hs_step *step, const hs_measure *measure, hs_limits *limits); /* of a prove step */
void hs_leads_lapse(hs_engine *engine, const char *part); /* what was measured of leads with this part; NULL: of all */
/* The order of the instrument's last reading that showed it good; -1 when there is none. */
int hs_leads_good_since(const hs_engine *engine, const hs_part *instrument);
void hs_leads_drifted(hs_engine *engine, const hs_part *instrument, int since);

/* measure.c */
typedef struct hs_limits_used {
	bool has;
	hs_limits limits;
} hs_limits_used;
bool hs_measure_limits(hs_engine *engine, const hs_reading *reading, hs_limits_used *out, hs_error *error);
/* before: only what was measured of the leads before this reading counts; INT_MAX: all of it. */
bool hs_measure_take(const hs_engine *engine, const hs_reading *reading, const hs_entry *entry, int before, hs_measure *out,
                     hs_buf *warning, const char *utc, hs_error *error);
void hs_measure_judge(hs_measure *measure, const hs_reading *reading, const hs_limits_used *limits);
bool hs_measure_derive(const hs_step *step, const hs_measure *a, const hs_measure *b, hs_measure *out, hs_error *error);
/* trace.c: the worst point of the trace as an entry; its file goes into `reason`. */
bool hs_trace_entry(const hs_engine *engine, const hs_reading *reading, const char *text, hs_entry *out, hs_error *error);
double hs_reading_impedance(const hs_playbook *playbook, const hs_reading *reading);
/* slopes.c: one line for each row of a grid that is low, saying how what is missing goes with frequency */
void hs_engine_slopes(const hs_engine *engine, hs_buf *out);
bool hs_function_run(hs_engine *engine, const hs_function *function, hs_buf *result, hs_error *error);

#endif
