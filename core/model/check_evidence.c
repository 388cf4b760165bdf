/*
 * Whether a finding names what its own ways have cleared. For each suspect, what the branches last said of it is followed along
 * all ways at once: a finding that every way reaches with the suspect cleared contradicts itself, and one that some way reaches
 * so is doubtful. A short list that says it is not separated may be shared by ways that leave more or less of it open, so only
 * what every way has cleared is held against it.
 *
 * Ways are taken too many rather than too few, so the first never alarms in vain. The second does not speak of ways that depend
 * on what came before, since it cannot tell which of them can be gone: behind a function that uses another step, beyond a bound
 * or counter, while something has not passed, after a part that is tried, and behind a grid whose rows speak of the suspect.
 */
#include <stdlib.h>
#include "check.h"

/* How the ways that come to a step have left one suspect. */
typedef struct standing {
	bool uncleared; /* some way, possible or not, comes here without having cleared it last */
	bool reached;   /* some way, possible or not, comes here at all */
	int by;         /* a step that has cleared it on a way that can be gone; -1 none */
} standing;

/* A way out of a step; worked out once for all suspects. */
typedef struct way {
	const hs_branch *branch, *counted; /* counted: the branch whose counter is used up, which spoke first; or NULL */
	bool open; /* it can be gone, whatever came before */
} way;

typedef struct following {
	hs_check *check;
	way *ways;      /* of all steps in a row */
	size_t *begins; /* per step: where its own begin; behind the last step, where they end */
	int suspect;
	standing *at;   /* per step */
	bool *waiting;  /* per step: on the stack */
	int *stack;
	size_t depth;
} following;

static bool listed(const int *list, size_t count, int suspect)
{
	for (size_t i = 0; i < count; i++)
		if (list[i] == suspect)
			return true;
	return false;
}

static void arrive(following *follow, int to, standing came)
{
	standing *at = &follow->at[to];
	standing was = *at;
	at->reached = true;
	at->uncleared = at->uncleared || came.uncleared;
	if (at->by < 0)
		at->by = came.by;
	bool news = !was.reached || was.uncleared != at->uncleared || was.by != at->by;
	if (!news || follow->waiting[to])
		return;
	follow->waiting[to] = true;
	follow->stack[follow->depth++] = to;
}

static void say(const following *follow, const hs_branch *branch, int step, standing *now)
{
	if (listed(branch->clears, branch->clear_count, follow->suspect))
		*now = (standing){.uncleared = false, .reached = true, .by = step};
	if (listed(branch->implicates, branch->implicate_count, follow->suspect))
		*now = (standing){.uncleared = true, .reached = true, .by = -1};
}

static bool rows_speak(const hs_step *step, int suspect)
{
	for (size_t i = 0; i < step->row_count; i++)
		if (listed(step->rows[i].through, step->rows[i].through_count, suspect))
			return true;
	return false;
}

/* A function that sees only what its own step has read can come out any way it likes. */
static bool looks_back(const hs_step *step, int here)
{
	for (size_t i = 0; i < step->decide.use_count; i++)
		if (step->decide.uses[i].step != here)
			return true;
	return false;
}

/* Whether the way can be gone from the step, whatever came before it. */
static bool always_open(const hs_step *step, int here, const hs_branch *branch)
{
	return branch != &step->beyond && branch != &step->not_yet && step->passed_count == 0 && !looks_back(step, here);
}

static size_t ways_out(const hs_playbook *book, int here, way *ways)
{
	const hs_step *step = &book->steps[here];
	bool tried = step->kind == HS_STEP_REPLACE && step->retest_count > 0;
	size_t count = 0, edges = hs_check_edges(step);
	for (size_t i = 0; i < edges; i++) {
		const hs_branch *branch = hs_check_edge(book, step, i, false);
		if (!branch)
			continue;
		bool counter = hs_check_edge_counts(step, i);
		ways[count++] = (way){branch, counter ? hs_check_edge(book, step, i - edges / 2, false) : NULL,
		                      !counter && !tried && always_open(step, here, branch)};
	}
	return count;
}

static void find_ways(following *follow)
{
	const hs_playbook *book = follow->check->book;
	size_t most = 0, count = 0;
	for (size_t i = 0; i < book->step_count; i++)
		most += hs_check_edges(&book->steps[i]);
	follow->ways = hs_alloc(most * sizeof *follow->ways);
	follow->begins = hs_alloc((book->step_count + 1) * sizeof *follow->begins);
	for (size_t i = 0; i < book->step_count; i++) {
		follow->begins[i] = count;
		count += ways_out(book, (int)i, follow->ways + count);
	}
	follow->begins[book->step_count] = count;
}

static void leave_by(following *follow, int here, const way *out, bool spoken)
{
	standing now = follow->at[here];
	if (out->counted)
		say(follow, out->counted, here, &now);
	say(follow, out->branch, here, &now);
	if (spoken)
		now = (standing){.uncleared = true, .reached = true, .by = -1};
	if (!out->open)
		now.by = -1;
	arrive(follow, out->branch->to, now);
}

/* While a part is tried, a step that comes out ok says nothing of its own: the part's next trial, or what follows it, speaks. */
static void leave_tried(following *follow, int here)
{
	const hs_check *check = follow->check;
	for (size_t i = 0; i < check->part_count; i++) {
		const hs_step *part = &check->book->steps[check->parts[i]];
		for (size_t r = 0; r < part->retest_count; r++) {
			const hs_branch *next = r + 1 < part->retest_count ? &part->retests[r + 1] : &part->branches[HS_OKAY];
			if (part->retests[r].to != here || !next->target || next->to < 0)
				continue;
			standing now = follow->at[here];
			say(follow, next, check->parts[i], &now);
			now.by = -1;
			arrive(follow, next->to, now);
		}
	}
}

static void enter(following *follow, const hs_branch *branch)
{
	standing now = {.uncleared = true, .reached = true, .by = -1};
	if (!branch->target || branch->to < 0)
		return;
	say(follow, branch, -1, &now);
	arrive(follow, branch->to, now);
}

static void report(const following *follow, const hs_step *finding)
{
	const hs_playbook *book = follow->check->book;
	const standing *at = &follow->at[finding - book->steps];
	const char *id = book->suspects[follow->suspect].id;
	hs_problem *problem = NULL;
	if (at->reached && !at->uncleared)
		problem = hs_problem_add(follow->check->problems, HS_ERROR, finding->where,
		                         "the finding \"%s\" names \"%s\", which every way that leads here has cleared", finding->id, id);
	else if (at->by >= 0 && !finding->not_separated)
		problem = hs_problem_add(follow->check->problems, HS_WARNING, finding->where,
		                         "the finding \"%s\" names \"%s\", which the step \"%s\" has cleared on a way that leads here",
		                         finding->id, id, book->steps[at->by].id);
	if (problem)
		hs_problem_hint(problem, "take it out of clears there, say implicates = { \"%s\" } where it is suspected again, "
		                         "or name what is left", id);
}

static void follow_suspect(following *follow)
{
	const hs_playbook *book = follow->check->book;
	for (size_t i = 0; i < book->step_count; i++)
		follow->at[i] = (standing){.by = -1};
	for (size_t i = 0; i < book->entry_count; i++)
		enter(follow, &book->entries[i].branch);
	enter(follow, &book->symptom.absent);
	while (follow->depth > 0) {
		int here = follow->stack[--follow->depth];
		follow->waiting[here] = false;
		bool spoken = rows_speak(&book->steps[here], follow->suspect);
		for (size_t i = follow->begins[here]; i < follow->begins[here + 1]; i++)
			leave_by(follow, here, &follow->ways[i], spoken);
		leave_tried(follow, here);
	}
	for (size_t i = 0; i < book->step_count; i++)
		if (listed(book->steps[i].suspects, book->steps[i].suspect_count, follow->suspect))
			report(follow, &book->steps[i]);
}

void hs_check_evidence(hs_check *check)
{
	size_t count = check->book->step_count;
	if (check->broken || check->book->entry_count == 0)
		return;
	following follow = {.check = check};
	find_ways(&follow);
	follow.at = hs_alloc(count * sizeof *follow.at);
	follow.waiting = hs_alloc(count * sizeof *follow.waiting);
	follow.stack = hs_alloc(count * sizeof *follow.stack);
	for (size_t i = 0; i < check->book->suspect_count; i++) {
		follow.suspect = (int)i;
		follow_suspect(&follow);
	}
	free(follow.ways);
	free(follow.begins);
	free(follow.at);
	free(follow.waiting);
	free(follow.stack);
}
