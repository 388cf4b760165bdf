/*
 * Proof over outcomes: every way a run can go, tried before anybody trusts the playbook. Readings carry no numbers here; each comes out every
 * way it can, and a decision may lead to everything it names. States that go on alike are tried once, so that it ends.
 */
#ifndef HALFSPLIT_PROOF_PROOF_H
#define HALFSPLIT_PROOF_PROOF_H

#include "halfsplit/base/alloc.h"
#include "halfsplit/engine/walk.h"
#include "halfsplit/sim/sim.h"

typedef enum hs_violation_kind {
	HS_VIOLATES_END,     /* a way that leads nowhere */
	HS_VIOLATES_BOUND,   /* a loop that nothing ends */
	HS_VIOLATES_SAFETY,  /* hands or leads where they must not be: the second account of the rules */
	HS_VIOLATES_REACH    /* a step no way leads to */
} hs_violation_kind;
const char *hs_violation_name(hs_violation_kind kind); /* "dead end", "no bound", "unsafe", "out of reach" */

typedef struct hs_violation {
	hs_violation_kind kind;
	int step;             /* index, -1 none */
	char what[400];       /* one plain sentence */
	hs_where where;
	bool shown;           /* witness is an answers file that shows it; else it is possible, as far as is known */
	hs_buf witness;       /* the shortest answers file, complete lines; empty when there is none to give */
} hs_violation;

typedef struct hs_proof {
	hs_violation *violations;
	size_t count, room;
	size_t states, ways;  /* tried */
	size_t findings;      /* different ones reached */
	bool whole;           /* false: more states than `most` */
} hs_proof;

/* Told now and then how far it is, for a progress line; NULL: nobody wants to know. */
typedef void hs_proof_progress(void *context, size_t states, size_t waiting);

/*
 * Proves a checked playbook. most: states at most (0: 2,000,000). False with HS_BAD_INPUT when the playbook cannot be run at all. The result is
 * freed with hs_proof_free.
 */
bool hs_prove_outcomes(const hs_playbook *playbook, size_t most, hs_proof_progress *progress, void *context, hs_proof *proof, hs_error *error);
void hs_proof_free(hs_proof *proof);

/* ---- faults ---- */

/* Where the runs with one fault ended. */
typedef struct hs_fault_ends {
	hs_sim_fault fault;
	const size_t *at;     /* by step: how many runs ended at this finding */
	int nominal;          /* the finding the nominal run ended at, -1: none */
	size_t runs, named;   /* named: the finding has the suspect */
	size_t wrong;         /* runs that ended elsewhere, or nowhere */
	size_t wide;          /* runs that ended at more than HS_FINDING_MOST suspects */
	double minutes, worst_minutes; /* mean over the runs, and the longest */
	double steps;         /* mean */
	uint64_t wrong_seed;  /* of the wrong run with the fewest asks */
	int wrong_asks;
	int wrong_at;         /* the finding it ended at, -1: none */
	char why[300];        /* when a run could not be played: one sentence; else empty */
	hs_where where;
} hs_fault_ends;

#define HS_FINDING_MOST 3 /* suspects in a finding that still helps */

typedef struct hs_fault_proof {
	hs_fault_ends *faults; /* the unit in order first, as such and with its symptom seen */
	size_t count;
	size_t silent;        /* modes of which nothing is said: not played */
	size_t runs, wrong, wide;
	double expected_minutes, worst_minutes; /* by the odds of the suspects */
	hs_arena *arena;
} hs_fault_proof;

/*
 * Plays every mode of every suspect that says what it shows, and a unit in order, also as one
 * whose symptom was seen all the same: at nominal, at both corners, and with `seeds` draws each.
 * One run in a thousand is typed once more, as a person
 * would, and must end where it was played to. only: one fault; NULL: all. jobs: how many processes share the faults, 1 for none; what comes
 * out is the same. HS_BAD_INPUT when the playbook cannot be run, HS_IO when there are no processes.
 */
bool hs_prove_faults(const hs_playbook *playbook, size_t seeds, const hs_sim_fault *only, size_t jobs, hs_proof_progress *progress, void *context,
                     hs_fault_proof *proof, hs_error *error);
void hs_fault_proof_free(hs_fault_proof *proof);

/* The answers file of one such run. */
bool hs_fault_answers(const hs_playbook *playbook, hs_sim_fault fault, uint64_t seed, hs_buf *out, hs_error *error);

/*
 * The second account of the rules, written apart from the way that asks the gates: what must hold before this ask may be put to a person. True
 * when it does; else *why is a sentence.
 */
bool hs_account_allows(const hs_engine *engine, const hs_ask *ask, hs_buf *why);

/* The same where a run ends at a finding: off, the key released, no hazardous zone open that is not proved dead. */
bool hs_account_at_end(const hs_engine *engine, hs_buf *why);

#endif
