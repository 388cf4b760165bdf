/*
 * What the engine derived from an event, in order: the record layer writes each as a line, the seat shows it. Facts point into the engine,
 * the playbook and the kit; they are good until the next call of hs_engine_take.
 */
#ifndef HALFSPLIT_ENGINE_FACT_H
#define HALFSPLIT_ENGINE_FACT_H

#include "halfsplit/engine/ask.h"
#include "halfsplit/judge/budget.h"

typedef enum hs_fact_kind {
	HS_SAYS_ASKED,      /* ask_id, wanted, earliest_ms: what is asked next (the last fact of every event) */
	HS_SAYS_ANSWERED,   /* ask_id, text, accepted; when not: why (the first fact of an answer) */
	HS_SAYS_CORRECTED,  /* measure: the raw entry and its value at the point */
	HS_SAYS_JUDGED,     /* measure, outcome */
	HS_SAYS_MOVED,      /* step -> to, outcome or word; branch's clears and implicates */
	HS_SAYS_GATE,       /* ask_id, power before and after, why (when it failed or was voided) */
	HS_SAYS_OPENED,     /* item: openable */
	HS_SAYS_CLOSED_UP,  /* item: openable */
	HS_SAYS_NOTED,      /* text */
	HS_SAYS_REDONE,     /* ask_id retracted; */
	HS_SAYS_SET_ASIDE,  /* ask_id, text: an answer that no longer belongs to the way taken */
	HS_SAYS_WARNED,     /* why: an instrument out of date, a reading out of range, a clock that stepped back */
	HS_SAYS_PAUSED,     /* why: "pause", "leave", "stop" and the reason; open list */
	HS_SAYS_RESUMED,    /* by */
	HS_SAYS_FINDING,    /* step */
	HS_SAYS_ENDED,      /* the run is closed; why */
	HS_FACT_KINDS
} hs_fact_kind;

/* A reading taken all the way: what was typed, what it means at the point, and the judgement. */
typedef struct hs_measure {
	hs_entry entry;
	hs_correction correction;
	hs_quantity corrected;      /* NUMBER, ABOVE, BELOW: at the point, in the reading's unit */
	hs_budget budget;
	double expanded;            /* U, in the unit of the limits (dB for levels) */
	bool judged;                /* false: noted without limits */
	hs_limits limits;           /* in the reading's unit */
	hs_verdict verdict;
	hs_derive derived;          /* difference or ratio of two readings of the step: corrected is the result */
} hs_measure;

typedef struct hs_fact {
	hs_fact_kind kind;
	int step, to, item;
	hs_outcome outcome;
	bool accepted, has_outcome;
	const char *ask_id;
	const char *text;
	const char *why;
	const char *word;
	const hs_branch *branch;
	const hs_measure *measure;
	const hs_reading *reading;
	hs_power before, after;
	int64_t earliest_ms;
} hs_fact;

#endif
