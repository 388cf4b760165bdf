/* Reach, loops and ends of the graph, and suspects that nothing speaks about. */
#include <stdlib.h>
#include <string.h>
#include "check.h"

static size_t own_edges(const hs_step *step)
{
	return HS_OUTCOME_COUNT + 2 * step->choice_count + step->exit_count + step->retest_count + 2;
}

size_t hs_check_edges(const hs_step *step)
{
	return 2 * own_edges(step);
}

bool hs_check_edge_counts(const hs_step *step, size_t index)
{
	return index >= own_edges(step);
}

static const hs_branch *edge_in_row(const hs_step *step, size_t index)
{
	if (index < HS_OUTCOME_COUNT)
		return &step->branches[index];
	index -= HS_OUTCOME_COUNT;
	if (index < 2 * step->choice_count)
		return index % 2 ? &step->choices[index / 2].again : &step->choices[index / 2].branch;
	index -= 2 * step->choice_count;
	if (index < step->exit_count)
		return &step->exits[index];
	index -= step->exit_count;
	if (index < step->retest_count)
		return &step->retests[index];
	return index == step->retest_count ? &step->not_yet : &step->beyond;
}

/* An answer that means something else when it is given again leads its first way only once. */
static bool only_once(const hs_step *step, size_t own)
{
	size_t choice = own - HS_OUTCOME_COUNT;
	return own >= HS_OUTCOME_COUNT && choice < 2 * step->choice_count && choice % 2 == 0 &&
	       step->choices[choice / 2].again.target;
}

const hs_branch *hs_check_edge(const hs_playbook *book, const hs_step *step, size_t index, bool exhausted)
{
	bool counter = hs_check_edge_counts(step, index);
	if (counter && book->counter_count == 0)
		return NULL;
	size_t own = counter ? index - own_edges(step) : index;
	bool is_beyond = own + 1 == own_edges(step);
	if (exhausted && (is_beyond != (step->most > 0) || only_once(step, own)))
		return NULL;
	const hs_branch *branch = edge_in_row(step, own);
	bool counts = branch->counts > 0 && (size_t)branch->counts <= book->counter_count;
	if (!branch->target || (counter && !counts) || (exhausted && !counter && counts))
		return NULL;
	if (counter)
		branch = &book->counters[branch->counts - 1].beyond;
	return branch->target && branch->to >= 0 ? branch : NULL;
}

typedef struct spreading {
	const hs_check *check;
	bool *seen;
	int *stack;
	size_t depth;
} spreading;

static void reach(spreading *at, const hs_branch *branch)
{
	if (!branch || !branch->target || branch->to < 0 || at->seen[branch->to])
		return;
	at->seen[branch->to] = true;
	at->stack[at->depth++] = branch->to;
}

/* A step that a new part is tried by leads, when it comes out ok, to the next such step, and the last to what follows
 * the part. */
static void reach_tried(spreading *at, int step)
{
	for (size_t i = 0; i < at->check->part_count; i++) {
		const hs_step *part = &at->check->book->steps[at->check->parts[i]];
		for (size_t r = 0; r < part->retest_count; r++)
			if (part->retests[r].to == step)
				reach(at,
				      r + 1 < part->retest_count ? &part->retests[r + 1] : &part->branches[HS_OKAY]);
	}
}

/* Marks everything reachable from the steps on the stack, which are marked already. */
static void spread(spreading *at)
{
	while (at->depth > 0) {
		int here = at->stack[--at->depth];
		const hs_step *step = &at->check->book->steps[here];
		for (size_t i = 0; i < hs_check_edges(step); i++)
			reach(at, hs_check_edge(at->check->book, step, i, false));
		reach_tried(at, here);
	}
}

bool hs_check_comes_before(hs_check *check, int from, int to)
{
	size_t count = check->book->step_count;
	if (!check->after)
		check->after = hs_alloc(count * sizeof *check->after);
	if (!check->after[from]) {
		int *stack = hs_alloc((count + 1) * sizeof *stack);
		check->after[from] = hs_alloc(count * sizeof *check->after[from]);
		stack[0] = from;
		spread(&(spreading){check, check->after[from], stack, 1});
		free(stack);
	}
	return check->after[from][to];
}

/* Of what nothing leads to, the steps that something else of it leads to are told with it: mending the first mends them. */
static void tell_unreached(hs_check *check, const bool *seen)
{
	const hs_playbook *book = check->book;
	bool *told = hs_alloc(book->step_count * sizeof *told);
	for (size_t i = 0; i < book->step_count; i++) {
		bool led_to = false;
		for (size_t from = 0; from < book->step_count && !seen[i] && !told[i]; from++)
			led_to = led_to || (from != i && !seen[from] && hs_check_comes_before(check, (int)from, (int)i) &&
			                    (from < i || !hs_check_comes_before(check, (int)i, (int)from)));
		if (seen[i] || told[i] || led_to)
			continue;
		size_t behind = 0;
		for (size_t to = 0; to < book->step_count; to++)
			if (to != i && !seen[to] && !told[to] && hs_check_comes_before(check, (int)i, (int)to)) {
				told[to] = true;
				behind++;
			}
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, book->steps[i].where, "nothing leads to the step \"%s\"", book->steps[i].id);
		if (behind)
			hs_problem_hint(problem, "name it as a target somewhere, or enter at it, or take it out; and %zu more because of this", behind);
		else
			hs_problem_hint(problem, "name it as a target somewhere, or enter at it, or take it out");
	}
	free(told);
}

static void check_reach(hs_check *check)
{
	const hs_playbook *book = check->book;
	bool *seen = hs_alloc(book->step_count * sizeof *seen);
	int *stack = hs_alloc((book->step_count + 1) * sizeof *stack);
	size_t depth = 0;
	for (size_t i = 0; i <= book->entry_count; i++) {
		const hs_branch *way = i < book->entry_count ? &book->entries[i].branch : &book->symptom.absent;
		if (!way->target || way->to < 0 || seen[way->to])
			continue;
		seen[way->to] = true;
		stack[depth++] = way->to;
	}
	spread(&(spreading){check, seen, stack, depth});
	tell_unreached(check, seen);
	free(stack);
	free(seen);
}

enum { LOOP_TOLD = 8 }; /* steps of a loop that are named */

typedef struct walk {
	hs_check *check;
	char *state; /* per step: 0 new, 1 on the path, 2 done */
	int *path;
	size_t *edge; /* per place on the path: the next edge to look at */
	size_t depth;
	bool found;
} walk;

/* The path from the step the branch goes back to, through the last step, and to the first again: "a -> b -> a". */
static void report_loop(walk *at, const hs_branch *closing)
{
	const hs_playbook *book = at->check->book;
	size_t first = 0;
	while (at->path[first] != closing->to)
		first++;
	hs_buf way;
	hs_buf_init(&way);
	bool bounded = false;
	size_t length = at->depth - first;
	for (size_t i = first; i < at->depth; i++) {
		const hs_step *step = &book->steps[at->path[i]];
		if (length <= LOOP_TOLD || i - first < LOOP_TOLD / 2 || at->depth - i <= LOOP_TOLD / 2)
			hs_buf_printf(&way, "%s -> ", step->id);
		else if (i - first == LOOP_TOLD / 2)
			hs_buf_printf(&way, "%zu more -> ", length - LOOP_TOLD / 2 * 2);
		bounded = bounded || step->most > 0 || (at->edge[i] > 0 && hs_check_edge_counts(step, at->edge[i] - 1));
	}
	hs_buf_str(&way, book->steps[closing->to].id);
	hs_where where = closing->where.file ? closing->where : book->steps[at->path[at->depth - 1]].where;
	hs_problem *problem;
	if (bounded) {
		problem = hs_problem_add(at->check->problems, HS_ERROR, where,
		                         "the way beyond a loop's bound leads back into the loop %s", way.data);
		hs_problem_hint(problem, "let beyond lead out of the loop, to a finding in the end");
	} else {
		problem = hs_problem_add(at->check->problems, HS_ERROR, where, "the loop %s has no bound", way.data);
		hs_problem_hint(
		    problem,
		    "give one of its steps most = 3 and beyond = \"STEP\", a step outside the loop, or one of its "
		    "branches counts = \"COUNTER\"");
	}
	hs_buf_free(&way);
	at->found = true;
}

static void enter(walk *at, int step)
{
	at->state[step] = 1;
	at->path[at->depth] = step;
	at->edge[at->depth] = 0;
	at->depth++;
}

static void walk_from(walk *at, int start)
{
	enter(at, start);
	while (at->depth > 0) {
		int here = at->path[at->depth - 1];
		const hs_step *step = &at->check->book->steps[here];
		size_t index = at->edge[at->depth - 1]++;
		if (index >= hs_check_edges(step)) {
			at->state[here] = 2;
			at->depth--;
			continue;
		}
		const hs_branch *branch = hs_check_edge(at->check->book, step, index, true);
		if (!branch)
			continue;
		if (at->state[branch->to] == 0)
			enter(at, branch->to);
		else if (at->state[branch->to] == 1)
			report_loop(at, branch);
	}
}

/*
 * A run must end whatever the outcomes are. Once every bounded step has used up its visits it only leads beyond; what
 * is left of the graph then must have no loop, else some row of outcomes goes round for ever.
 */
static bool check_loops(hs_check *check)
{
	size_t count = check->book->step_count;
	walk at = {.check = check};
	at.state = hs_alloc(count);
	at.path = hs_alloc(count * sizeof *at.path);
	at.edge = hs_alloc(count * sizeof *at.edge);
	for (size_t i = 0; i < count; i++)
		if (at.state[i] == 0)
			walk_from(&at, (int)i);
	free(at.state);
	free(at.path);
	free(at.edge);
	return !at.found;
}

/* Without loops and loose ends only a step whose every answer stops the run can miss the findings. */
static void check_ends(hs_check *check)
{
	const hs_playbook *book = check->book;
	bool *ends = hs_alloc(book->step_count * sizeof *ends);
	bool any = false, changed = true;
	for (size_t i = 0; i < book->step_count; i++) {
		ends[i] = book->steps[i].kind == HS_STEP_FINDING;
		any = any || ends[i];
	}
	while (changed) {
		changed = false;
		for (size_t i = book->step_count; i-- > 0;)
			for (size_t e = 0; !ends[i] && e < hs_check_edges(&book->steps[i]); e++) {
				const hs_branch *branch = hs_check_edge(book, &book->steps[i], e, true);
				if (branch && ends[branch->to])
					ends[i] = changed = true;
			}
	}
	if (!any) {
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_ERROR, book->where, "no step is a finding, so no run can end");
		hs_problem_hint(problem,
		                "end each way in a step \"NAME\" { finding = { \"SUSPECT\" }, proof = \"...\" }");
	}
	for (size_t i = 0; any && !check->broken && i < book->step_count; i++)
		if (!ends[i])
			hs_problem_add(check->problems, HS_ERROR, book->steps[i].where,
			               "no finding can be reached from the step \"%s\"", book->steps[i].id);
	free(ends);
}

static void mark(bool *spoken, const int *list, size_t count)
{
	for (size_t i = 0; i < count; i++)
		spoken[list[i]] = true;
}

static void check_suspects(hs_check *check)
{
	const hs_playbook *book = check->book;
	bool *spoken = hs_alloc(book->suspect_count * sizeof *spoken);
	for (size_t s = 0; s < book->step_count; s++) {
		const hs_step *step = &book->steps[s];
		for (size_t e = 0; e < own_edges(step); e++) {
			const hs_branch *branch = edge_in_row(step, e);
			mark(spoken, branch->clears, branch->clear_count);
			mark(spoken, branch->implicates, branch->implicate_count);
		}
		mark(spoken, step->suspects, step->suspect_count);
		for (size_t r = 0; r < step->row_count; r++)
			mark(spoken, step->rows[r].through, step->rows[r].through_count);
	}
	for (size_t c = 0; c < book->counter_count; c++) {
		mark(spoken, book->counters[c].beyond.clears, book->counters[c].beyond.clear_count);
		mark(spoken, book->counters[c].beyond.implicates, book->counters[c].beyond.implicate_count);
	}
	for (size_t i = 0; i < book->suspect_count; i++) {
		if (spoken[i])
			continue;
		hs_problem *problem =
		    hs_problem_add(check->problems, HS_WARNING, book->suspects[i].where,
		                   "nothing clears or implicates the suspect \"%s\"", book->suspects[i].id);
		hs_problem_hint(problem, "say clears = { \"%s\" } on the branch that exonerates it",
		                book->suspects[i].id);
	}
	free(spoken);
}

void hs_check_graph(hs_check *check)
{
	/* A loop made by one wrong target also cuts off what should have followed; only the loop is the mistake. */
	bool ends = check_loops(check);
	if (ends && !check->broken && check->book->entry_count > 0)
		check_reach(check);
	if (ends)
		check_ends(check);
	check_suspects(check);
}
