/*
 * A playbook as a declared graph: immutable, Lua-free, owned by one arena. Steps refer to each other, to suspects, points and
 * hookups by index, so that an engine state is a flat value.
 *
 * The only thing that still runs is an author's small pure function; it is reached through hs_evaluator, so nothing but
 * core/playbook knows Lua.
 */
#ifndef HALFSPLIT_MODEL_PLAYBOOK_H
#define HALFSPLIT_MODEL_PLAYBOOK_H

#include "halfsplit/judge/outcome.h"
#include "halfsplit/lineup/lineup.h"
#include "halfsplit/model/kit.h"
#include "halfsplit/model/role.h"
#include "halfsplit/model/unit.h"

typedef enum hs_step_kind {
	HS_STEP_TELL, HS_STEP_READ, HS_STEP_LOOK, HS_STEP_DO, HS_STEP_WAIT, HS_STEP_ADJUST, HS_STEP_COLLECT, HS_STEP_DECIDE,
	HS_STEP_REPLACE, HS_STEP_FINDING,
	HS_STEP_BENCH, /* freehand only: where the next act is asked for */
	HS_STEP_REACH, /* freehand only: brings the unit into a state, asks nothing of its own */
	HS_STEP_KINDS
} hs_step_kind;
const char *hs_step_kind_name(hs_step_kind kind);

/* What a unit shows where no line-up tells of it: at a step, at one of its readings, or wherever a point is read. */
typedef enum hs_sign_at { HS_SIGN_NOWHERE, HS_SIGN_STEP, HS_SIGN_POINT, HS_SIGN_SYMPTOM, HS_SIGN_ENTRY } hs_sign_at;
typedef struct hs_sign {
	const char *target;      /* "STEP", "STEP/READING", "POINT", "intake/shown", "intake/entry" */
	const char *text;        /* the word chosen, or the value at the point: "0.2 V", "OL", "yes", "0 of 3" */
	hs_sign_at at;          /* what the target is: hs_playbook_check finds out */
	int step, item, point;   /* -1 none; item -1: every reading of the step */
	hs_where where, text_where;
} hs_sign;

typedef struct hs_signs {
	hs_sign *items;
	size_t count;
} hs_signs;

typedef struct hs_suspect {
	const char *id;
	const char *title;       /* NULL: the id serves */
	const char *const *modes;
	size_t mode_count;
	int odds;                /* weight, 1 unless stated */
	hs_signs *shows;       /* one a mode: what the unit shows when the suspect has failed so */
	double *rates;         /* one a mode: the part of readings it shows in, above 0 and at most 1; 0: always there */
	hs_where where;
} hs_suspect;

/* Two faults at once, as the author lists them. */
typedef struct hs_double_fault {
	int suspect[2], mode[2];
} hs_double_fault;

/* Where an outcome leads and what it says about suspects. */
typedef struct hs_branch {
	const char *target;      /* as written; NULL: no branch */
	int to;                  /* step index; -1 unresolved */
	const int *clears;
	size_t clear_count;
	const int *implicates;
	size_t implicate_count;
	int counts;              /* a counter that goes up when this is taken, from 1; 0 none */
	hs_where where;
} hs_branch;

/* How often branches that count it may be taken, and where the next one leads instead. */
typedef struct hs_counter {
	const char *id;
	int most;
	hs_branch beyond;
	hs_where where;
} hs_counter;

/* A place in a picture: the id of an element of the SVG, and where that is in words. */
typedef struct hs_picture_mark {
	const char *id;
	const char *words;
} hs_picture_mark;

typedef struct hs_picture {
	const char *id;
	const char *title;       /* may be NULL */
	const char *file;        /* beneath the playbook's folder */
	const char *sha256;      /* of the file as loaded; NULL when it could not be */
	hs_picture_mark *marks;
	size_t mark_count;
	hs_where where;
} hs_picture;

/* The signal's way, in order: ids of points and suspects. For drawing only. */
typedef struct hs_drawn_chain {
	const char *id;
	const char *title;       /* may be NULL */
	const char *const *links;
	size_t link_count;
} hs_drawn_chain;

/* What a function sees of one thing it uses. */
typedef struct hs_value {
	enum { HS_VALUE_NONE, HS_VALUE_NUMBER, HS_VALUE_TEXT } kind;
	double number;           /* corrected, in the reading's unit */
	const char *text;        /* the word chosen at a look step */
	const char *unit;
	hs_outcome outcome;
} hs_value;

/* A name the function uses: a reading of a step, or the word chosen at a look step. */
typedef struct hs_use {
	const char *name;        /* as the function sees it */
	const char *target;      /* "STEP" or "STEP/READING", as written */
	int step;                /* -1 unresolved */
	int slot;                /* reading slot, or -1 for a look step */
	hs_where where;
} hs_use;

typedef struct hs_function {
	int id;                  /* what the evaluator knows it by; -1: none */
	const hs_use *uses;
	size_t use_count;
	hs_where where;
} hs_function;

/* Runs a function. Returns a text result (a target, or limits) in `result`; false with an error naming file and line. */
typedef struct hs_evaluator {
	void *context;
	bool (*call)(void *context, int function_id, const char *const *names, const hs_value *values, size_t count, hs_buf *result,
	             hs_error *error);
} hs_evaluator;

/* What a step measures of the leads themselves, off the unit. */
typedef enum hs_leads {
	HS_LEADS_NONE,
	HS_LEADS_ZERO,     /* their own resistance, ends held together: taken off what is read with them */
	HS_LEADS_STRAIGHT, /* a source's and a meter's lead end to end: what both take goes before their tables */
	HS_LEADS_PROVE     /* a known source: the instrument is shown good before it is believed */
} hs_leads;

/* Where a reading's limits come from, when a line-up gives them. */
typedef struct hs_expectation {
	const hs_lineup *lineup;
	int element;             /* where it is read */
	bool worst;              /* every element at its worst end at once; else root-sum-square */
	double wider_db;         /* the limits lie so far outside what is predicted: what no meter decides is no fault */
	hs_injected injected;
	hs_line_settings settings;
	hs_prediction prediction;
} hs_expectation;

/* One value to be measured. */
typedef struct hs_reading {
	const char *name;        /* within its step; equals the step's id when it stands alone */
	const char *asks;        /* the instruction, NULL: made from the fields */
	hs_measurand reads;
	hs_unit unit;            /* the unit on the prompt */
	int point;               /* index, -1 when at_text is not a declared point */
	const char *at_text;     /* as written; NULL for a value read by eye */
	const char *against;     /* second point ("chassis"), NULL */
	const char *hookup_name; /* NULL for a value read by eye */
	const hs_hookup *hookup; /* bound from the kit; NULL: by eye, or unbound */
	double freq_hz;          /* 0: DC or not stated */
	bool freq_given;         /* written in the reading itself */
	double source_hz;        /* of a grid: what the source is set to, its column; 0: as the step injects */
	bool has_limits;
	hs_limits limits;
	hs_function limits_by;   /* id >= 0: limits computed */
	const hs_expectation *expects; /* the limits are a line-up's; NULL: they are not */
	const struct hs_mask *mask; /* trace: what it is held against; `limits` are then its widest */
	bool has_plausible;
	hs_limits plausible;
	uint8_t set[HS_CONTROLS_MOST]; /* positions this reading needs besides its step's; 0: any */
	hs_leads leads;          /* of the leads themselves: not NONE only in a step of that kind */
	const char *margin_why;  /* why the level may come near what the instrument stands; NULL */
	bool loose;              /* on a removed part or a loose lead: no proof of dead needed */
	double settle_s;
	double within_s;         /* to be read within this time of the act before it; 0 none */
	const char *held;        /* what is held down meanwhile, NULL */
	int row;                 /* grid: which row it belongs to, from 1; 0 none */
	int against_reading;     /* grid: limits are relative to this reading of the step, from 1; 0 none */
	int slot;                /* index into the engine's readings */
	hs_where where;
	hs_where limits_where;
} hs_reading;

typedef enum hs_derive { HS_DERIVE_NONE, HS_DERIVE_DIFFERENCE, HS_DERIVE_RATIO } hs_derive;

typedef struct hs_choice {
	const char *word;        /* what is typed */
	const char *text;        /* what it looks like; NULL: the word says it */
	bool stop;               /* cut the power first, type later */
	hs_branch branch;
	hs_branch again;         /* what the same answer means from the second visit on; target NULL: the same */
} hs_choice;

/* A level put into the unit. */
typedef struct hs_injection {
	bool given;
	hs_quantity level;       /* at the point */
	int point;
	const char *at_text;
	double freq_hz;
	const char *hookup_name;
	const hs_hookup *hookup;
	double crest_db;         /* its peak above its average; 0: a steady carrier */
	bool has_margin;         /* the step names why it goes within 10 dB of the rating */
	const char *margin_why;
	hs_where where;
} hs_injection;

typedef struct hs_step {
	const char *id;
	const char *title;       /* NULL: the id serves */
	hs_step_kind kind;
	const char *text;        /* what to do, look at, or know; NULL when a reading says it all */
	const char *note;        /* the senior's remark, shown by help */
	hs_need power;
	bool power_given;
	int zone;                /* where the hands or the probe go; -1 outside */
	bool zone_given;
	bool outside;            /* an adjust from outside the guard */
	bool attach_dead;        /* the hookup is attached while proved dead, then the unit is powered */
	bool live;               /* a live reading in a hazardous zone, by the live-reading rules */
	const char *live_why;
	uint64_t open;           /* openables this step names: may (covers: must) be open */
	uint64_t with;           /* temporary changes that may be in place while energised */
	uint8_t set[HS_CONTROLS_MOST]; /* positions needed, from 1; 0: any */
	uint32_t substances;     /* dangers (flammable) that this step uses */
	uint32_t unshort;        /* energy sources (stores) whose fitted short comes out for this reading */
	double minutes;
	const char *helper;      /* what a second person does here, NULL: one is enough */
	hs_injection inject;
	const char *load;        /* what keyed power goes into, NULL */
	double load_watts;
	double load_seconds;
	int emitter;             /* which one is keyed; -1 none */
	double key_seconds;      /* longest key-down here; 0: what the emitter states */
	hs_leads leads;          /* a read step with one reading */
	const char *through_name; /* straight: the source's lead; the reading has the meter's */
	const hs_hookup *through; /* NULL: unbound */
	hs_quantity through_level; /* what the source is set to, dBm */
	double through_u_db;     /* half-width of what joining the leads anew makes */
	const hs_known *known;   /* prove: the kit's known source; NULL: unbound */
	hs_reading *readings;
	size_t reading_count;
	hs_derive derive;
	size_t derive_a, derive_b;
	bool derived_limits;
	hs_limits derive_limit;
	hs_where derive_where; /* of those limits */
	int reuse;               /* a step whose reading may serve, while it has not lapsed; -1 none */
	const char *reuse_text;
	hs_where reuse_where;
	unsigned holds;          /* what the readings hold through: HS_HOLDS_ bits */
	const hs_choice *choices;
	size_t choice_count;
	uint64_t makes;          /* a do step puts these openables in the open state */
	uint64_t undoes;         /* ... and these back */
	double wait_s;
	double responds;         /* adjust: a change of the reading by this much is a response; 0: until in limits */
	bool has_responds;
	int tries;               /* adjust: at most so many rounds */
	bool watch;              /* adjust: turned up step by step; ends at once when a reading leaves its limits */
	hs_function decide;
	hs_branch *exits;        /* decide: where the function may lead */
	size_t exit_count;
	const char *replaces;    /* the part, as written */
	const int *cures;        /* do, adjust, replace: the suspects that are in order afterwards */
	size_t cure_count;
	bool voids_some;         /* replace: only the readings of `voids` are void */
	hs_use *voids;           /* replace: steps whose readings the part touches; slot unused */
	size_t void_count;
	hs_branch *retests;      /* replace: steps to go through again before `next` */
	size_t retest_count;
	hs_use *passed;          /* steps that must have come out ok before this one */
	size_t passed_count;
	hs_branch not_yet;       /* where to while they have not */
	struct hs_grid_row *rows;/* grid: a collect step whose readings are rows times columns */
	size_t row_count;
	const int *suspects;     /* finding: implicated */
	size_t suspect_count;
	bool not_separated;
	int see, mark;           /* a picture, and a mark of it, both from 1; 0 none */
	const char *proof;
	const char *not_tested;
	const char *advice;
	hs_branch branches[HS_OUTCOME_COUNT]; /* tell, do, wait, replace use [HS_OKAY] */
	int most;                /* visits at most; 0: unbounded */
	hs_branch beyond;        /* where the visit after the last allowed one leads */
	hs_where where;
} hs_step;

/* One row of a grid: a combination of positions, and the switched elements the signal then goes through. */
typedef struct hs_grid_row {
	const char *name;
	const int *through;      /* suspects */
	size_t through_count;
} hs_grid_row;

#define HS_HOLDS_DO       1u
#define HS_HOLDS_ADJUST   2u
#define HS_HOLDS_OPENING  4u
#define HS_HOLDS_HOOKUP   8u
#define HS_HOLDS_ENERGISE 16u
#define HS_HOLDS_ALL      31u

typedef struct hs_symptom {
	bool given;
	const char *shows;       /* what the unit does wrong */
	const char *under;       /* the conditions */
	hs_need power;
	uint64_t open;
	int tries;
	hs_branch absent;        /* where to when it never shows */
	hs_where where;
} hs_symptom;

typedef struct hs_playbook {
	hs_arena *arena;
	const char *id;
	int edition;
	const char *title;
	const char *family;
	const char *const *first; /* what to do first so that the unit harms itself no further */
	size_t first_count;
	const char *const *consumables; /* to be laid out before a run, as the unit's */
	size_t consumable_count;
	const char *const *tools;
	size_t tool_count;
	bool proved;              /* no instrument is believed before it was shown good on a known source */
	hs_symptom symptom;
	hs_choice *entries;       /* which functional check failed; one entry: not asked */
	size_t entry_count;
	hs_bench_unit unit;
	hs_suspect *suspects;
	size_t suspect_count;
	const hs_double_fault *doubles;
	size_t double_count;
	hs_signs healthy;       /* what a unit in order shows, where limits do not tell */
	hs_lineup *lineups;       /* the unit as a model */
	size_t lineup_count;
	hs_step *steps;
	size_t step_count;
	hs_counter *counters;
	size_t counter_count;
	hs_picture *pictures;
	size_t picture_count;
	hs_drawn_chain *chains;
	size_t chain_count;
	hs_role *roles;
	size_t role_count;
	size_t slot_count;        /* readings over all steps */
	bool found_safe;          /* hs_unit_check has found no error in it; an engine does not check it again */
	hs_evaluator evaluator;
	hs_where where;
} hs_playbook;

int hs_playbook_step(const hs_playbook *playbook, const char *id);       /* index or -1 */
const hs_role *hs_playbook_role(const hs_playbook *playbook, const char *name); /* NULL when it asks for none of that name */
int hs_playbook_suspect(const hs_playbook *playbook, const char *id);    /* index or -1 */
int hs_suspect_mode(const hs_suspect *suspect, const char *name);        /* index or -1 */
int hs_playbook_lineup(const hs_playbook *playbook, const char *id);     /* index or -1 */
const char *hs_step_title(const hs_step *step);
const char *hs_suspect_title(const hs_suspect *suspect);
/* As hookups and instruments know it: a minimum in V is a voltage to them, a peak a frequency. */
hs_measurand hs_reading_measurand(const hs_reading *reading);
/* Answered with a word or a count, never with what an instrument shows: trend, tick, count. */
bool hs_reading_is_word(const hs_reading *reading);
/* The unit of a value derived from readings in `of`: a difference of levels is in dB, a ratio has none, else `of` itself. */
hs_unit hs_derived_unit(hs_derive derive, hs_unit of);

/*
 * Everything that can be known of the graph without running it: targets, reach, dead ends, unbounded loops, uses, units that do not fit, limits
 * narrower than the instrument can decide. Also resolves every branch target and use, so it must run before an engine does.
 * Safety is checked by hs_unit_check (unit/check.h).
 */
void hs_playbook_check(hs_playbook *playbook, hs_problems *problems);

/*
 * Runs every function of a playbook that was found clean with made values: numbers in, at and outside the limits of what it uses, each word of a look,
 * and nothing at all where a way leads there without. Errors: it fails, never ends, or gives back what does not fit; warnings: it fails where nothing
 * was read. For whoever checks or proves, since it takes longer than a start should; after a function that never ends the evaluator is of no more use.
 */
void hs_playbook_try(hs_playbook *playbook, hs_problems *problems);

/* Of that, what the hookups of one step cannot do: read that, give that, decide such limits. The step need not be among the playbook's yet. */
void hs_playbook_check_hookups(hs_playbook *playbook, const hs_step *step, hs_problems *problems);

#endif
