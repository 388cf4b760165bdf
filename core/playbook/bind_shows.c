/* What a unit shows where no line-up tells of it: healthy { ... }, and shows = { MODE = { ... } } of a suspect. */
#include <lauxlib.h>
#include <string.h>
#include "names.h"

/* TARGET = "what is shown"; the targets are looked up when the whole graph is there. */
static hs_signs read_signs(const hs_table *table)
{
	size_t count;
	const char **keys = hs_table_keys(table, &count);
	hs_sign *items = hs_arena_alloc(table->build->arena, (count + 1) * sizeof *items);
	hs_signs signs = {items, 0};
	for (size_t i = 0; i < count; i++) {
		const char *text = hs_table_text(table, keys[i]);
		hs_where where = hs_table_where(table, keys[i]);
		if (text)
			items[signs.count++] = (hs_sign){.target = keys[i], .text = text, .step = -1, .item = -1, .point = -1,
			                                    .where = where, .text_where = where};
	}
	return signs;
}

static int mode_of(const hs_suspect *suspect, const char *name)
{
	for (size_t i = 0; i < suspect->mode_count; i++)
		if (strcmp(suspect->modes[i], name) == 0)
			return (int)i;
	return -1;
}

static void refuse_mode(const hs_table *list, const hs_suspect *suspect, const char *name)
{
	hs_problem *problem = hs_table_problem(list, name, "the suspect \"%s\" has no mode \"%s\"", suspect->id, name);
	hs_build_nearest(list->build, problem, name, suspect->modes, suspect->mode_count);
	if (!problem->what.hint[0])
		hs_problem_hint(problem, "name it in modes = { ... }");
}

void hs_read_shows(const hs_table *table, hs_suspect *suspect)
{
	hs_table list = hs_table_sub(table, "shows", false);
	suspect->shows = hs_arena_alloc(table->build->arena, (suspect->mode_count + 1) * sizeof *suspect->shows);
	if (list.index == 0)
		return;
	size_t count;
	const char **names = hs_table_keys(&list, &count);
	for (size_t i = 0; i < count; i++) {
		int mode = mode_of(suspect, names[i]);
		if (mode < 0) {
			refuse_mode(&list, suspect, names[i]);
			continue;
		}
		hs_table sub = hs_table_sub(&list, names[i], false);
		if (sub.index == 0)
			continue;
		suspect->shows[mode] = read_signs(&sub);
		hs_table_done(&sub);
	}
	hs_table_done(&list);
}

/* Several may stand in several files: what a family shares, and what one playbook adds. */
void hs_bind_healthy(hs_build *build, lua_State *L)
{
	hs_playbook *book = build->playbook;
	for (size_t i = 0; i < build->decl_count; i++) {
		if (strcmp(build->decls[i].callee, "healthy") != 0)
			continue;
		hs_table table = hs_table_of(build, L, &build->decls[i]);
		hs_signs more = read_signs(&table);
		hs_sign *all = hs_arena_alloc(build->arena, (book->healthy.count + more.count + 1) * sizeof *all);
		for (size_t j = 0; j < book->healthy.count; j++)
			all[j] = book->healthy.items[j];
		for (size_t j = 0; j < more.count; j++)
			all[book->healthy.count + j] = more.items[j];
		book->healthy = (hs_signs){all, book->healthy.count + more.count};
		hs_table_done(&table);
	}
}
