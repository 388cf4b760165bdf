/* counter "ID" { most = 3, beyond = "STEP" }: a bound that several branches share. */
#include <lauxlib.h>
#include <string.h>
#include "names.h"

static const char *const counter_words[] = {"most", "beyond"};

static int index_of(const hs_playbook *book, const char *id)
{
	for (size_t i = 0; i < book->counter_count; i++)
		if (strcmp(book->counters[i].id, id) == 0)
			return (int)i;
	return -1;
}

int hs_find_counter(const hs_table *table, const char *key)
{
	const hs_playbook *book = table->build->playbook;
	const char *name = hs_table_text(table, key);
	int found = name ? index_of(book, name) : -1;
	if (!name || found >= 0)
		return found + 1;
	hs_problem *problem = hs_table_problem(table, key, "there is no counter \"%s\"", name);
	const char **known = hs_arena_alloc(table->build->arena, (book->counter_count + 1) * sizeof *known);
	for (size_t i = 0; i < book->counter_count; i++)
		known[i] = book->counters[i].id;
	const char *nearest = hs_build_near(table->build, name, known, book->counter_count);
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	else
		hs_problem_hint(problem, "declare it: counter \"%s\" { most = 3, beyond = \"STEP\" }", name);
	return 0;
}

static void read_counter(const hs_table *table, hs_counter *counter)
{
	hs_table_known(table, "a counter", table->decl->skip, (hs_words[]){HS_WORDS(counter_words)}, 1);
	counter->most = hs_table_count(table, "most", 1, 1000, 1);
	if (!hs_table_has(table, "most")) {
		hs_problem *problem =
		    hs_table_problem(table, NULL, "the counter \"%s\" does not say how often", counter->id);
		hs_problem_hint(problem, "add most = 3, or however often makes sense");
	}
	if (!hs_read_branch(table, "beyond", &counter->beyond) && !hs_table_has(table, "beyond")) {
		hs_problem *problem = hs_table_problem(
		    table, NULL, "the counter \"%s\" does not say what comes when it is used up", counter->id);
		hs_problem_hint(problem, "add beyond = \"STEP\"");
	}
	if (counter->beyond.counts > 0) {
		hs_problem *problem = hs_table_problem(table, "beyond", "the way beyond a counter cannot count itself");
		hs_problem_hint(problem, "let it lead out of the loop, to a finding in the end");
		counter->beyond.counts = 0;
	}
}

static void declare(hs_build *build, const hs_decl *decl)
{
	hs_playbook *book = build->playbook;
	hs_where where = hs_decl_where(build, decl, "");
	if (!hs_build_good_id(build, decl->id ? decl->id : "", "counter", where))
		return;
	int twin = index_of(book, decl->id);
	if (twin >= 0)
		hs_build_problem(build, HS_ERROR, where,
		                 "the counter \"%s\" is declared twice; the other stands in line %d of %s", decl->id,
		                 book->counters[twin].where.line, book->counters[twin].where.file);
	else
		book->counters[book->counter_count++] =
		    (hs_counter){.id = decl->id, .beyond = {.to = -1}, .where = where};
}

void hs_bind_counters(hs_build *build, lua_State *L)
{
	hs_playbook *book = build->playbook;
	book->counters = hs_arena_alloc(build->arena, hs_build_count(build, "counter") * sizeof *book->counters);
	for (size_t i = 0; i < build->decl_count; i++)
		if (strcmp(build->decls[i].callee, "counter") == 0 && build->decls[i].ref != LUA_NOREF)
			declare(build, &build->decls[i]);
	/* A counter's way out may be declared before the one it names, so the tables are read once all are known. */
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "counter") != 0 || decl->ref == LUA_NOREF)
			continue;
		int found = index_of(book, decl->id ? decl->id : "");
		hs_counter *counter = found >= 0 ? &book->counters[found] : NULL;
		hs_where where = hs_decl_where(build, decl, "");
		if (!counter || counter->where.line != where.line)
			continue;
		hs_table table = hs_table_of(build, L, decl);
		read_counter(&table, counter);
		hs_table_done(&table);
	}
}
