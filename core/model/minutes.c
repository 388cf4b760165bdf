/* Shortest, expected and longest ways through the graph, in minutes. */
#include "halfsplit/model/minutes.h"

#include <math.h>
#include <stdlib.h>

enum { BUDGET_MOST = 10000 }; /* visits gone through one by one; more would take minutes to work out */

typedef struct edges {
	int *to;
	bool *rare; /* only once a bound is used up, something has not passed, or an answer is given again */
	bool *spends; /* takes one of what is bounded: a visit, a count, an answer's first meaning */
	size_t count, room, rare_room, spends_room;
} edges;

typedef struct ways {
	const hs_playbook *book;
	edges *from; /* per step */
	double *minutes;
	/* components of steps that lead to each other, numbered so that what a component leads to has a lower number */
	int *component, *low, *number, *stack;
	bool *on_stack;
	int components, numbers, depth;
} ways;

static void add_edge(ways *w, int from, const hs_branch *branch, bool rare, bool spends)
{
	edges *list = &w->from[from];
	if (!branch->target || branch->to < 0)
		return;
	list->to = hs_grow(list->to, &list->room, list->count + 1, sizeof *list->to);
	list->rare = hs_grow(list->rare, &list->rare_room, list->count + 1, sizeof *list->rare);
	list->spends = hs_grow(list->spends, &list->spends_room, list->count + 1, sizeof *list->spends);
	bool counts = branch->counts > 0 && (size_t)branch->counts <= w->book->counter_count;
	list->to[list->count] = branch->to;
	list->spends[list->count] = spends || counts;
	list->rare[list->count++] = rare;
	if (counts && !rare)
		add_edge(w, from, &w->book->counters[branch->counts - 1].beyond, true, spends);
}

/* A step a new part is tried by leads on to the next of them, and from the last to what follows the part. */
static void add_retests(ways *w, const hs_step *part)
{
	for (size_t i = 0; i < part->retest_count; i++)
		if (part->retests[i].to >= 0)
			add_edge(w, part->retests[i].to, i + 1 < part->retest_count ? &part->retests[i + 1] : &part->branches[HS_OKAY], false,
			         w->book->steps[part->retests[i].to].most > 0);
}

static void add_edges(ways *w, int index)
{
	const hs_step *step = &w->book->steps[index];
	bool bounded = step->most > 0;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		if (step->retest_count == 0 || i != HS_OKAY)
			add_edge(w, index, &step->branches[i], false, bounded);
	for (size_t i = 0; i < step->choice_count; i++) {
		add_edge(w, index, &step->choices[i].branch, false, bounded || step->choices[i].again.target);
		add_edge(w, index, &step->choices[i].again, true, bounded);
	}
	for (size_t i = 0; i < step->exit_count; i++)
		add_edge(w, index, &step->exits[i], false, bounded);
	if (step->retest_count > 0)
		add_edge(w, index, &step->retests[0], false, bounded);
	add_retests(w, step);
	add_edge(w, index, &step->not_yet, true, bounded);
	add_edge(w, index, &step->beyond, true, false);
}

static double minutes_of(const hs_step *step)
{
	return fmax(step->minutes, step->wait_s / 60.0);
}

/* ---- shortest ---- */

/* Minutes to reach each step and be done with it; INFINITY where no way leads. Small graphs: the nearest is found by looking at all. */
static void spread(const ways *w, bool rare, double *after)
{
	size_t count = w->book->step_count;
	bool *done = hs_alloc(count * sizeof *done);
	for (size_t i = 0; i < count; i++)
		after[i] = INFINITY;
	for (size_t i = 0; i < w->book->entry_count; i++) {
		int to = w->book->entries[i].branch.to;
		if (to >= 0)
			after[to] = w->minutes[to];
	}
	for (;;) {
		int here = -1;
		for (size_t i = 0; i < count; i++)
			if (!done[i] && isfinite(after[i]) && (here < 0 || after[i] < after[here]))
				here = (int)i;
		if (here < 0)
			break;
		done[here] = true;
		for (size_t e = 0; e < w->from[here].count; e++) {
			int to = w->from[here].to[e];
			if (w->from[here].rare[e] && !rare)
				continue;
			after[to] = fmin(after[to], after[here] + w->minutes[to]);
		}
	}
	free(done);
}

/* A suspect's odds are shared among the findings that name it. */
static double odds_of(const hs_playbook *book, const hs_step *finding, const int *named)
{
	double odds = finding->suspect_count == 0 ? 1 : 0;
	for (size_t i = 0; i < finding->suspect_count; i++)
		odds += (double)book->suspects[finding->suspects[i]].odds / named[finding->suspects[i]];
	return odds;
}

static void weigh(const ways *w, const double *plain, const double *any, hs_minutes *out)
{
	const hs_playbook *book = w->book;
	double sum = 0, odds_sum = 0;
	int *named = hs_alloc((book->suspect_count + 1) * sizeof *named);
	for (size_t i = 0; i < book->step_count; i++)
		for (size_t s = 0; s < book->steps[i].suspect_count; s++)
			named[book->steps[i].suspects[s]]++;
	out->shortest = INFINITY;
	for (size_t i = 0; i < book->step_count; i++) {
		double way = isfinite(plain[i]) ? plain[i] : any[i];
		if (book->steps[i].kind != HS_STEP_FINDING || !isfinite(way))
			continue;
		double odds = odds_of(book, &book->steps[i], named);
		out->shortest = fmin(out->shortest, way);
		sum += odds * way;
		odds_sum += odds;
	}
	out->expected = odds_sum > 0 ? sum / odds_sum : 0;
	if (!isfinite(out->shortest))
		out->shortest = 0;
	free(named);
}

/* ---- longest ---- */

static void components_from(ways *w, int here)
{
	w->low[here] = w->number[here] = ++w->numbers;
	w->stack[w->depth++] = here;
	w->on_stack[here] = true;
	for (size_t e = 0; e < w->from[here].count; e++) {
		int to = w->from[here].to[e];
		if (!w->number[to]) {
			components_from(w, to);
			w->low[here] = w->low[to] < w->low[here] ? w->low[to] : w->low[here];
		} else if (w->on_stack[to] && w->number[to] < w->low[here]) {
			w->low[here] = w->number[to];
		}
	}
	if (w->low[here] != w->number[here])
		return;
	int top;
	do {
		top = w->stack[--w->depth];
		w->on_stack[top] = false;
		w->component[top] = w->components;
	} while (top != here);
	w->components++;
}

static bool counts(const hs_step *step, int counter)
{
	bool found = false;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		found = found || step->branches[i].counts == counter;
	for (size_t i = 0; i < step->choice_count; i++)
		found = found || step->choices[i].branch.counts == counter || step->choices[i].again.counts == counter;
	for (size_t i = 0; i < step->exit_count; i++)
		found = found || step->exits[i].counts == counter;
	return found;
}

/*
 * Between two visits of a step without a bound of its own something with a bound is used up once, because a loop without one does not
 * pass the check.
 */
static int budget_of(const ways *w, int component)
{
	int budget = 0;
	for (size_t i = 0; i < w->book->step_count; i++) {
		const hs_step *step = &w->book->steps[i];
		if (w->component[i] != component)
			continue;
		budget += step->most;
		for (size_t c = 0; c < step->choice_count; c++)
			budget += step->choices[c].again.target != NULL;
	}
	for (size_t c = 0; c < w->book->counter_count; c++)
		for (size_t i = 0; i < w->book->step_count; i++)
			if (w->component[i] == component && counts(&w->book->steps[i], (int)c + 1)) {
				budget += w->book->counters[c].most;
				break;
			}
	return budget < BUDGET_MOST ? budget : BUDGET_MOST;
}

/* ---- the longest way within a component, with so much left to spend ---- */

typedef struct layer {
	const ways *w;
	int component;
	const double *outside; /* per component: the longest way from it to the end */
	const double *below;   /* per step, with one less to spend; NULL: nothing is left */
	double *here;          /* per step; below zero: not known yet */
	bool *on_way;
} layer;

static double longest_from(layer *at, int step)
{
	const edges *list = &at->w->from[step];
	double minutes = at->w->minutes[step], longest = 0;
	bool bounded = at->w->book->steps[step].most > 0;
	if (at->here[step] >= 0)
		return at->here[step];
	if (at->on_way[step])
		return 0;
	at->on_way[step] = true;
	for (size_t e = 0; e < list->count; e++) {
		int to = list->to[e];
		double after;
		if (list->spends[e] && !at->below)
			continue;
		if (at->w->component[to] != at->component)
			after = at->outside[at->w->component[to]];
		else
			after = list->spends[e] ? at->below[to] : longest_from(at, to);
		/* A visit that is turned away takes no time. */
		longest = fmax(longest, after + (bounded && !list->spends[e] ? 0 : minutes));
	}
	at->on_way[step] = false;
	return at->here[step] = fmax(longest, bounded && !at->below ? 0 : minutes);
}

/*
 * Whatever is bounded in the component is spent from one purse, so that the figure is one that no way exceeds, though perhaps none
 * reaches.
 */
static double longest_in(const ways *w, int component, const double *outside)
{
	size_t count = w->book->step_count;
	double longest = 0, *below = hs_alloc((count + 1) * sizeof *below), *here = hs_alloc((count + 1) * sizeof *here);
	bool *on_way = hs_alloc((count + 1) * sizeof *on_way);
	int purse = budget_of(w, component);
	for (int left = 0; left <= purse; left++) {
		layer at = {w, component, outside, left ? below : NULL, here, on_way};
		for (size_t i = 0; i < count; i++)
			here[i] = -1;
		longest = 0;
		for (size_t i = 0; i < count; i++)
			if (w->component[i] == component)
				longest = fmax(longest, longest_from(&at, (int)i));
		double *swap = below;
		below = here;
		here = swap;
	}
	free(below);
	free(here);
	free(on_way);
	return longest;
}

static double longest_of(ways *w)
{
	size_t count = w->book->step_count;
	double longest = 0, *from = hs_alloc((count + 1) * sizeof *from);
	for (size_t i = 0; i < count; i++)
		if (!w->number[i])
			components_from(w, (int)i);
	for (int c = 0; c < w->components; c++)
		from[c] = longest_in(w, c, from);
	for (size_t i = 0; i < w->book->entry_count; i++)
		if (w->book->entries[i].branch.to >= 0)
			longest = fmax(longest, from[w->component[w->book->entries[i].branch.to]]);
	free(from);
	return longest;
}

void hs_minutes_of(const hs_playbook *book, hs_minutes *out)
{
	size_t count = book->step_count;
	ways w = {.book = book};
	*out = (hs_minutes){0};
	w.from = hs_alloc((count + 1) * sizeof *w.from);
	w.minutes = hs_alloc((count + 1) * sizeof *w.minutes);
	int **lists[] = {&w.component, &w.low, &w.number, &w.stack};
	for (size_t i = 0; i < 4; i++)
		*lists[i] = hs_alloc((count + 1) * sizeof **lists[i]);
	w.on_stack = hs_alloc((count + 1) * sizeof *w.on_stack);
	for (size_t i = 0; i < count; i++) {
		w.minutes[i] = minutes_of(&book->steps[i]);
		add_edges(&w, (int)i);
		out->steps += book->steps[i].kind != HS_STEP_FINDING;
		out->silent += book->steps[i].kind != HS_STEP_FINDING && book->steps[i].kind != HS_STEP_DECIDE && !(w.minutes[i] > 0);
	}
	double *plain = hs_alloc((count + 1) * sizeof *plain), *any = hs_alloc((count + 1) * sizeof *any);
	spread(&w, false, plain);
	spread(&w, true, any);
	weigh(&w, plain, any, out);
	out->longest = longest_of(&w);
	for (size_t i = 0; i < count; i++) {
		free(w.from[i].to);
		free(w.from[i].rare);
		free(w.from[i].spends);
	}
	for (size_t i = 0; i < 4; i++)
		free(*lists[i]);
	free(plain);
	free(any);
	free(w.from);
	free(w.minutes);
	free(w.on_stack);
}
