/* Lays the steps of a playbook out as a tree. */
#include "halfsplit/proof/tree.h"

#include <stdlib.h>
#include <string.h>

#define WAYS_MOST 600 /* out of one step, different targets */

/* Where a step can lead, with all that leads there. */
typedef struct way {
	int to;
	bool stop, done;
	hs_buf label;
} way;

typedef struct ways {
	way items[WAYS_MOST];
	size_t count;
} ways;

typedef struct layer {
	hs_tree *tree;
	const hs_tree_move *moves;
	size_t move_count;
	bool *drawn;
} layer;

static void add_way(ways *all, int to, bool stop, const char *label)
{
	size_t i = 0;
	while (i < all->count && (all->items[i].to != to || all->items[i].stop != stop))
		i++;
	if (i == WAYS_MOST)
		return;
	if (i == all->count) {
		all->items[all->count++] = (way){.to = to, .stop = stop};
		hs_buf_init(&all->items[i].label);
	}
	if (label == NULL || *label == '\0')
		return;
	if (all->items[i].label.length > 0)
		hs_buf_str(&all->items[i].label, ", ");
	hs_buf_str(&all->items[i].label, label);
}

static void add_branch(ways *all, const hs_branch *branch, const char *label)
{
	if (branch->target != NULL)
		add_way(all, branch->to, false, label);
}

static void add_choices(ways *all, const hs_choice *choices, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (choices[i].stop)
			add_way(all, -1, true, choices[i].word);
		add_branch(all, &choices[i].branch, choices[i].word);
		hs_buf again;
		hs_buf_init(&again);
		hs_buf_printf(&again, "%s again", choices[i].word);
		add_branch(all, &choices[i].again, again.data);
		hs_buf_free(&again);
	}
}

static bool judges(const hs_step *step)
{
	return step->kind == HS_STEP_READ || step->kind == HS_STEP_ADJUST || step->kind == HS_STEP_COLLECT;
}

static void find_ways(const hs_playbook *playbook, const hs_step *step, ways *all)
{
	all->count = 0;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		add_branch(all, &step->branches[i], judges(step) ? hs_outcome_name((hs_outcome)i) : NULL);
	add_choices(all, step->choices, step->choice_count);
	for (size_t i = 0; i < step->exit_count; i++)
		add_branch(all, &step->exits[i], "decides");
	for (size_t i = 0; i < step->retest_count; i++)
		add_branch(all, &step->retests[i], "tried by");
	add_branch(all, &step->not_yet, "not yet");
	add_branch(all, &step->beyond, "often enough");
	for (size_t i = 0; i < playbook->counter_count; i++)
		for (int o = 0; o < HS_OUTCOME_COUNT; o++)
			if (step->branches[o].counts == (int)i + 1)
				add_branch(all, &playbook->counters[i].beyond, "counted out");
}

static void free_ways(ways *all)
{
	for (size_t i = 0; i < all->count; i++)
		hs_buf_free(&all->items[i].label);
	free(all);
}

static bool came_this_way(const layer *l, int from, int to)
{
	const hs_playbook *playbook = l->tree->playbook;
	for (size_t i = 0; to >= 0 && i < l->move_count; i++) {
		const char *left = l->moves[i].from;
		bool same = from < 0 ? left == NULL : left != NULL && strcmp(left, playbook->steps[from].id) == 0;
		if (same && strcmp(l->moves[i].to, playbook->steps[to].id) == 0)
			return true;
	}
	return false;
}

static bool was_here(const layer *l, int step)
{
	const char *id = l->tree->playbook->steps[step].id;
	for (size_t i = 0; i < l->move_count; i++)
		if (strcmp(l->moves[i].to, id) == 0 || (l->moves[i].from != NULL && strcmp(l->moves[i].from, id) == 0))
			return true;
	return false;
}

static int add_row(layer *l, hs_tree_row row)
{
	hs_tree *tree = l->tree;
	tree->rows = hs_grow(tree->rows, &tree->room, tree->count + 1, sizeof *tree->rows);
	tree->rows[tree->count] = row;
	return (int)tree->count++;
}

static bool is_end(const layer *l, const way *it)
{
	return it->stop || it->to < 0 || l->tree->playbook->steps[it->to].kind == HS_STEP_FINDING || l->drawn[it->to];
}

static void draw_step(layer *l, int step, int indent, int parent);

static void draw_way(layer *l, way *it, int from, int indent, int parent, bool last)
{
	const hs_playbook *playbook = l->tree->playbook;
	bool ends = is_end(l, it);
	hs_tree_kind kind = HS_TREE_WAY;
	if (it->stop)
		kind = HS_TREE_STOP;
	else if (ends)
		kind = it->to >= 0 && playbook->steps[it->to].kind == HS_STEP_FINDING ? HS_TREE_FINDING : HS_TREE_ABOVE;
	it->done = true;
	int row = add_row(l, (hs_tree_row){.kind = kind, .step = it->to, .from = from, .indent = indent, .parent = parent,
	                                   .label = hs_arena_str(l->tree->arena, it->label.data != NULL ? it->label.data : ""),
	                                   .taken = came_this_way(l, from, it->to), .last = last});
	/* The last one goes straight on below; what comes before it is set in. */
	if (!ends)
		draw_step(l, it->to, last ? indent : indent + 1, row);
}

static size_t weigh(const layer *l, int step, bool *seen)
{
	if (step < 0 || seen[step] || l->drawn[step])
		return 0;
	seen[step] = true;
	ways *all = hs_alloc(sizeof *all);
	find_ways(l->tree->playbook, &l->tree->playbook->steps[step], all);
	size_t weight = 1;
	for (size_t i = 0; i < all->count; i++)
		weight += weigh(l, all->items[i].to, seen);
	free_ways(all);
	return weight;
}

/* The lightest of the ways not drawn yet, so that what goes straight on is the longest. */
static way *next_way(const layer *l, ways *all)
{
	way *lightest = NULL;
	size_t least = 0;
	bool *seen = hs_alloc(l->tree->playbook->step_count + 1);
	for (size_t i = 0; i < all->count; i++) {
		if (all->items[i].done)
			continue;
		memset(seen, 0, l->tree->playbook->step_count);
		size_t weight = weigh(l, all->items[i].to, seen);
		if (lightest == NULL || weight < least) {
			lightest = &all->items[i];
			least = weight;
		}
	}
	free(seen);
	return lightest;
}

/* Ends first, then side ways, and last what goes straight on. What a side way draws on its way has become an end meanwhile. */
static void draw_ways(layer *l, ways *all, int from, int indent, int parent)
{
	size_t left = all->count;
	for (size_t i = 0; i < all->count; i++)
		if (is_end(l, &all->items[i]))
			draw_way(l, &all->items[i], from, indent, parent, --left == 0);
	for (way *it = next_way(l, all); it != NULL; it = next_way(l, all))
		draw_way(l, it, from, indent, parent, --left == 0);
}

static void draw_step(layer *l, int step, int indent, int parent)
{
	ways *all = hs_alloc(sizeof *all);
	l->drawn[step] = true;
	int row = add_row(l, (hs_tree_row){.kind = HS_TREE_STEP, .step = step, .from = -1, .indent = indent, .parent = parent, .taken = was_here(l, step)});
	find_ways(l->tree->playbook, &l->tree->playbook->steps[step], all);
	draw_ways(l, all, step, indent, row);
	free_ways(all);
}

void hs_tree_lay_out(hs_tree *tree, const hs_playbook *playbook, const hs_tree_move *moves, size_t move_count)
{
	*tree = (hs_tree){.playbook = playbook, .arena = hs_arena_new(), .marked = moves != NULL};
	layer l = {tree, moves, move_count, hs_alloc(playbook->step_count + 1)};
	ways *all = hs_alloc(sizeof *all);
	if (playbook->symptom.given)
		add_branch(all, &playbook->symptom.absent, "the symptom does not show");
	add_choices(all, playbook->entries, playbook->entry_count);
	draw_ways(&l, all, -1, 0, -1);
	free_ways(all);
	free(l.drawn);
}

void hs_tree_free(hs_tree *tree)
{
	hs_arena_free(tree->arena);
	free(tree->rows);
	*tree = (hs_tree){0};
}
