/* What a unit shows where no line-up tells of it: healthy { ... }, and shows = { MODE = { ... } } of a suspect. */
#include <lauxlib.h>
#include <stdlib.h>
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

static void refuse_mode(const hs_table *list, const char *key, const hs_suspect *suspect, const char *name)
{
	hs_problem *problem = hs_table_problem(list, key, "the suspect \"%s\" has no mode \"%s\"", suspect->id, name);
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
		int mode = hs_suspect_mode(suspect, names[i]);
		if (mode < 0) {
			refuse_mode(&list, names[i], suspect, names[i]);
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

/* ---- intermittent modes, and two faults at once ---- */

/* "1 in 4": a whole number, " in ", a larger one. */
static bool read_rate(const char *text, double *rate)
{
	char *end;
	if (*text < '1' || *text > '9')
		return false;
	long part = strtol(text, &end, 10);
	if (strncmp(end, " in ", 4) != 0 || end[4] < '1' || end[4] > '9')
		return false;
	long all = strtol(end + 4, &end, 10);
	*rate = (double)part / (double)all;
	return *end == '\0' && part < all && all <= 1000000;
}

void hs_read_rates(const hs_table *table, hs_suspect *suspect)
{
	hs_table list = hs_table_sub(table, "intermittent", false);
	suspect->rates = hs_arena_alloc(table->build->arena, (suspect->mode_count + 1) * sizeof *suspect->rates);
	size_t count;
	const char **names = hs_table_keys(&list, &count);
	for (size_t i = 0; list.index != 0 && i < count; i++) {
		int mode = hs_suspect_mode(suspect, names[i]);
		const char *text = hs_table_text(&list, names[i]);
		if (mode < 0) {
			refuse_mode(&list, names[i], suspect, names[i]);
		} else if (text && !read_rate(text, &suspect->rates[mode])) {
			hs_problem *problem = hs_table_problem(&list, names[i], "\"%s\" does not say how often \"%s\" shows", text, names[i]);
			hs_problem_hint(problem, "write \"1 in 4\", one reading in four");
		}
	}
	hs_table_done(&list);
}

/* "a1/dead": an id has no stroke in it, a mode may. */
static bool read_fault(const hs_table *table, const char *key, const char *text, size_t length, int *suspect, int *mode)
{
	const hs_playbook *book = table->build->playbook;
	char *name = hs_arena_alloc(table->build->arena, length + 1);
	memcpy(name, text, length);
	name[length] = '\0';
	char *stroke = strchr(name, '/');
	if (!stroke) {
		hs_problem *problem = hs_table_problem(table, key, "\"%s\" is no fault", name);
		hs_problem_hint(problem, "write SUSPECT/MODE + SUSPECT/MODE");
		return false;
	}
	*stroke = '\0';
	*suspect = hs_playbook_suspect(book, name);
	*mode = *suspect >= 0 ? hs_suspect_mode(&book->suspects[*suspect], stroke + 1) : -1;
	if (*suspect < 0) {
		hs_problem *problem = hs_table_problem(table, key, "there is no suspect \"%s\"", name);
		hs_problem_hint(problem, "declare it, or name another in doubles");
	} else if (*mode < 0) {
		refuse_mode(table, key, &book->suspects[*suspect], stroke + 1);
	}
	return *mode >= 0;
}

static bool read_double(const hs_table *table, const char *key, const char *text, hs_double_fault *out)
{
	const char *plus = strstr(text, " + ");
	if (!plus) {
		hs_problem *problem = hs_table_problem(table, key, "\"%s\" names no two faults", text);
		hs_problem_hint(problem, "write SUSPECT/MODE + SUSPECT/MODE");
		return false;
	}
	if (!read_fault(table, key, text, (size_t)(plus - text), &out->suspect[0], &out->mode[0]) ||
	    !read_fault(table, key, plus + 3, strlen(plus + 3), &out->suspect[1], &out->mode[1]))
		return false;
	if (out->suspect[0] != out->suspect[1])
		return true;
	hs_problem *problem = hs_table_problem(table, key, "\"%s\" names one suspect twice", text);
	hs_problem_hint(problem, "what is wrong twice with one suspect is a mode of its own");
	return false;
}

void hs_read_doubles(const hs_table *table, hs_playbook *book)
{
	size_t count;
	const char **texts = hs_table_texts(table, "doubles", &count);
	hs_double_fault *list = hs_arena_alloc(table->build->arena, (count + 1) * sizeof *list);
	for (size_t i = 0; i < count; i++)
		book->double_count += read_double(table, hs_table_item(table, "doubles", i), texts[i], &list[book->double_count]);
	book->doubles = list;
}
