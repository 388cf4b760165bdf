/* The parts of hs_playbook_check; each file looks at one side of the graph and adds what it finds to the problems. */
#ifndef HALFSPLIT_CORE_MODEL_CHECK_H
#define HALFSPLIT_CORE_MODEL_CHECK_H

#include "halfsplit/model/playbook.h"

typedef struct hs_named {
	const char *id;
	int index;
} hs_named;

typedef struct hs_check {
	hs_playbook *book;
	hs_problems *problems;
	hs_named *sorted; /* all steps by id, to find them by halves */
	const char **ids; /* of all steps, for the nearest one */
	int *parts;       /* steps that replace a part and try it by others */
	size_t part_count;
	bool **after;     /* per step, once it was asked for: which steps a way leads to from it */
	bool broken;      /* a branch is missing or leads to no step: reach and loops would only report it again */
} hs_check;

/*
 * ---- the ways out of a step, in one row: outcomes, choices (the first time and again), exits, retests, not yet, beyond; then
 * the ways beyond the counters that these count, in the same order ----
 */

size_t hs_check_edges(const hs_step *step);
/*
 * Every way out when `exhausted` is false. When true, a step whose visits are used up has only its way beyond, a branch whose
 * counter is used up only the counter's, and an answer that was given before only what it means again. NULL for a place in the row that leads nowhere.
 */
const hs_branch *hs_check_edge(const hs_playbook *book, const hs_step *step, size_t index, bool exhausted);
/* True for a place in the row that stands for a counter used up. */
bool hs_check_edge_counts(const hs_step *step, size_t index);

/* True when a path of at least one branch leads from one step to the other. */
bool hs_check_comes_before(hs_check *check, int from, int to);

void hs_check_targets(hs_check *check);
void hs_check_steps_named(hs_check *check); /* passed, voids, retest */
void hs_check_uses(hs_check *check);
void hs_check_graph(hs_check *check);
void hs_check_signs(hs_check *check); /* what is shown by a unit in order and by each fault */
void hs_check_values(hs_check *check);
void hs_check_hookups(hs_check *check);
void hs_check_roles(hs_check *check);
void hs_check_leads(hs_check *check);
void hs_check_lineups(hs_check *check);

/* Finds a step for a name; adds the problem (with the nearest name as hint) when there is none. -1 then. */
int hs_check_find(hs_check *check, const char *target, hs_where where, const char *doing);

/* Whatever a reading's limits are in, in its own unit; false when they do not fit (adds nothing). */
bool hs_check_own_unit(const hs_check *check, const hs_reading *reading, const hs_limits *limits, hs_limits *out,
                       hs_error *error);

#endif
