/* Every outcome in turn, breadth first, so that the first way to anything is a shortest one. */
#include "core/proof/space.h"

#include <stdlib.h>
#include <string.h>

#include "halfsplit/base/alloc.h"
#include "halfsplit/unit/check.h"

#define STATES_MOST  2000000u
#define SILENT_MOST  20000 /* asks with only one way out in a row; more is a loop */
#define WITNESSES    25    /* written out; the same mistake shows in many places */

typedef struct edge {
	int from, to;
} edge;

typedef struct space {
	const hs_playbook *playbook;
	hs_engine *engine;
	hs_proof *proof;
	hs_place *places;
	size_t count, room, next, most;
	int *table;          /* open addressing: place index + 1 */
	size_t table_size;   /* a power of two */
	edge *edges;
	size_t edge_count, edge_room;
	bool *stepped;       /* steps come to */
	bool *found;         /* findings come to */
} space;

const char *hs_violation_name(hs_violation_kind kind)
{
	static const char *const names[] = {"dead end", "no bound", "unsafe", "out of reach"};
	return names[kind];
}

void hs_proof_free(hs_proof *proof)
{
	for (size_t i = 0; i < proof->count; i++)
		hs_buf_free(&proof->violations[i].witness);
	free(proof->violations);
	memset(proof, 0, sizeof *proof);
}

/* ---- places ---- */

static void put_in_table(space *s, int place)
{
	size_t at = (size_t)s->places[place].key.a & (s->table_size - 1);
	while (s->table[at] != 0)
		at = (at + 1) & (s->table_size - 1);
	s->table[at] = place + 1;
}

static void grow_table(space *s)
{
	if (s->table_size != 0 && s->count * 2 < s->table_size)
		return;
	s->table_size = s->table_size == 0 ? 4096 : s->table_size * 2;
	free(s->table);
	s->table = hs_alloc(s->table_size * sizeof *s->table);
	for (size_t i = 0; i < s->count; i++)
		put_in_table(s, (int)i);
}

static int find_place(const space *s, hs_walk_key key)
{
	if (s->table_size == 0)
		return -1;
	for (size_t at = (size_t)key.a & (s->table_size - 1); s->table[at] != 0; at = (at + 1) & (s->table_size - 1)) {
		const hs_place *place = &s->places[s->table[at] - 1];
		if (place->key.a == key.a && place->key.b == key.b)
			return s->table[at] - 1;
	}
	return -1;
}

static int add_place(space *s, hs_walk_key key, int parent, int way)
{
	grow_table(s);
	s->places = hs_grow(s->places, &s->room, s->count + 1, sizeof *s->places);
	hs_place *place = &s->places[s->count];
	*place = (hs_place){key, parent, way, hs_alloc(hs_walk_size(s->engine))};
	hs_walk_save(s->engine, place->state);
	put_in_table(s, (int)s->count);
	return (int)s->count++;
}

static void add_edge(space *s, int from, int to)
{
	if (from < 0)
		return;
	s->edges = hs_grow(s->edges, &s->edge_room, s->edge_count + 1, sizeof *s->edges);
	s->edges[s->edge_count++] = (edge){from, to};
}

/* ---- what was found wrong ---- */

static bool told_already(const space *s, hs_violation_kind kind, int step, const char *what)
{
	for (size_t i = 0; i < s->proof->count; i++) {
		const hs_violation *old = &s->proof->violations[i];
		if (old->kind == kind && old->step == step && strcmp(old->what, what) == 0)
			return true;
	}
	return false;
}

static void witness(space *s, hs_violation *violation, int parent, int way)
{
	size_t count = 0;
	for (int at = parent; at >= 0; at = s->places[at].parent)
		count++;
	int *ways = hs_alloc((count + 1) * sizeof *ways);
	/* The beginning is the first place with more than one way; each place knows by which way of its parent it was come to. */
	size_t length = count;
	if (count > 0)
		ways[--count] = way;
	for (int at = parent; at >= 0 && s->places[at].parent >= 0; at = s->places[at].parent)
		ways[--count] = s->places[at].way;
	violation->shown = hs_witness_write(s->playbook, ways, length, &violation->witness);
	free(ways);
}

static void violated(space *s, hs_violation_kind kind, int step, const char *what, int parent, int way)
{
	if (told_already(s, kind, step, what))
		return;
	hs_proof *proof = s->proof;
	proof->violations = hs_grow(proof->violations, &proof->room, proof->count + 1, sizeof *proof->violations);
	hs_violation *violation = &proof->violations[proof->count++];
	memset(violation, 0, sizeof *violation);
	violation->kind = kind;
	violation->step = step;
	hs_copy(violation->what, sizeof violation->what, what);
	violation->where = step >= 0 ? s->playbook->steps[step].where : s->playbook->where;
	hs_buf_init(&violation->witness);
	if (kind != HS_VIOLATES_REACH && proof->count <= WITNESSES)
		witness(s, violation, parent, way);
}

/* ---- going on ---- */

static void came_to(space *s)
{
	int step = hs_engine_step(s->engine), finding = hs_engine_finding(s->engine);
	if (step >= 0)
		s->stepped[step] = true;
	if (finding >= 0 && !s->found[finding]) {
		s->found[finding] = true;
		s->proof->findings++;
	}
}

static bool allowed(space *s, int parent, int way)
{
	if (hs_walk_at_crossroads(s->engine))
		return true;
	hs_ask ask = hs_engine_next(s->engine);
	hs_buf why;
	hs_buf_init(&why);
	bool good = hs_account_allows(s->engine, &ask, &why);
	if (!good)
		violated(s, HS_VIOLATES_SAFETY, ask.step, why.data, parent, way);
	hs_buf_free(&why);
	return good;
}

static void ended_safely(space *s, int parent, int way)
{
	hs_buf why;
	hs_buf_init(&why);
	if (!hs_account_at_end(s->engine, &why))
		violated(s, HS_VIOLATES_SAFETY, hs_engine_step(s->engine), why.data, parent, way);
	hs_buf_free(&why);
}

static bool take(space *s, int out, int parent, int way)
{
	hs_error error = {0};
	if (hs_walk_take(s->engine, out, &error))
		return true;
	violated(s, HS_VIOLATES_END, hs_engine_step(s->engine), error.message, parent, way);
	return false;
}

/*
 * From here on through everything that has only one way out, to the next place that has more, or to an end. Steps are noted as they are come
 * to, also those passed by at once.
 */
static void go_on(space *s, int parent, int way)
{
	for (int guard = 0; guard < SILENT_MOST; guard++) {
		came_to(s);
		int ways = hs_walk_ways(s->engine);
		if (ways == 0) {
			if (hs_engine_next(s->engine).kind == HS_ASK_BLOCKED)
				violated(s, HS_VIOLATES_END, hs_engine_step(s->engine), "nothing can be asked here", parent, way);
			else
				ended_safely(s, parent, way);
			return;
		}
		if (ways > 1) {
			hs_walk_key key = hs_walk_key_of(s->engine);
			int place = find_place(s, key);
			if (place < 0)
				place = add_place(s, key, parent, way);
			add_edge(s, parent, place);
			return;
		}
		if (!allowed(s, parent, way) || !take(s, 0, parent, way))
			return;
		s->proof->ways++;
	}
	violated(s, HS_VIOLATES_BOUND, hs_engine_step(s->engine), "this goes round for ever without a choice", parent, way);
}

static void try_place(space *s, int place)
{
	void *state = s->places[place].state;
	hs_walk_load(s->engine, state);
	int ways = hs_walk_ways(s->engine);
	bool good = allowed(s, s->places[place].parent, s->places[place].way);
	for (int way = 0; good && way < ways; way++) {
		hs_walk_load(s->engine, state);
		s->proof->ways++;
		if (take(s, way, place, way))
			go_on(s, place, way);
	}
	free(state);
	s->places[place].state = NULL;
}

/* ---- loops: a circle of places would go round for ever, because everything that counts is part of a place ---- */

typedef struct search {
	size_t *first; /* into sorted edges */
	unsigned char *colour;
	int *stack;
	size_t *at;
} search;

static int by_from(const void *a, const void *b)
{
	const edge *x = a, *y = b;
	return x->from != y->from ? (x->from > y->from) - (x->from < y->from) : (x->to > y->to) - (x->to < y->to);
}

/* Depth first without recursion; the step of the first place found on a circle, -1 when there is none. */
static int on_circle(space *s, search *look)
{
	for (size_t root = 0; root < s->count; root++) {
		size_t depth = 0;
		if (look->colour[root] != 0)
			continue;
		look->stack[0] = (int)root;
		look->at[0] = look->first[root];
		look->colour[root] = 1;
		for (depth = 1; depth > 0;) {
			int place = look->stack[depth - 1];
			if (look->at[depth - 1] == look->first[place + 1]) {
				look->colour[place] = 2;
				depth--;
				continue;
			}
			int to = s->edges[look->at[depth - 1]++].to;
			if (look->colour[to] == 1)
				return to;
			if (look->colour[to] == 2)
				continue;
			look->colour[to] = 1;
			look->stack[depth] = to;
			look->at[depth++] = look->first[to];
		}
	}
	return -1;
}

static void look_for_loops(space *s)
{
	search look = {hs_alloc((s->count + 2) * sizeof(size_t)), hs_alloc(s->count + 1), hs_alloc((s->count + 1) * sizeof(int)),
	               hs_alloc((s->count + 1) * sizeof(size_t))};
	if (s->edge_count > 0)
		qsort(s->edges, s->edge_count, sizeof *s->edges, by_from);
	size_t at = 0;
	for (size_t i = 0; i <= s->count; i++) {
		look.first[i] = at;
		while (at < s->edge_count && s->edges[at].from == (int)i)
			at++;
	}
	int place = on_circle(s, &look);
	if (place >= 0) {
		int parent = s->places[place].parent;
		violated(s, HS_VIOLATES_BOUND, -1, "a way comes back to where it was with nothing counted, so it can go round for ever", parent,
		         s->places[place].way);
	}
	free(look.first);
	free(look.colour);
	free(look.stack);
	free(look.at);
}

static void look_for_unreached(space *s)
{
	for (size_t i = 0; i < s->playbook->step_count; i++)
		if (!s->stepped[i])
			violated(s, HS_VIOLATES_REACH, (int)i, "no way leads here", -1, 0);
}

static void free_space(space *s)
{
	for (size_t i = 0; i < s->count; i++)
		free(s->places[i].state);
	free(s->places);
	free(s->table);
	free(s->edges);
	free(s->stepped);
	free(s->found);
	hs_engine_free(s->engine);
}

bool hs_prove_outcomes(const hs_playbook *playbook, size_t most, hs_proof_progress *progress, void *context, hs_proof *proof, hs_error *error)
{
	memset(proof, 0, sizeof *proof);
	space s = {.playbook = playbook, .proof = proof, .most = most > 0 ? most : STATES_MOST};
	s.engine = hs_engine_new(playbook, "Proof", error);
	if (s.engine == NULL)
		return false;
	s.stepped = hs_alloc(playbook->step_count + 1);
	s.found = hs_alloc(playbook->step_count + 1);
	hs_walk_begin(s.engine);
	go_on(&s, -1, 0);
	while (s.next < s.count && s.count <= s.most) {
		if (progress != NULL && s.next % 256 == 0)
			progress(context, s.next, s.count - s.next);
		try_place(&s, (int)s.next++);
	}
	proof->states = s.count;
	proof->whole = s.next == s.count;
	look_for_loops(&s);
	if (proof->whole)
		look_for_unreached(&s);
	free_space(&s);
	return true;
}
