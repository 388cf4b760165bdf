/* The builders while the file runs, and what all bindings need of the build. */
#include "build.h"

#include <lauxlib.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { NESTING_MOST = 12, ID_MOST = 200, NEAREST_MOST = 40 };

static const char *const reserved[] = {"gate", "intake", "stop", "home"};
/* What is typed at every prompt must never be shadowed by an answer. */
static const char *const commands[] = {"help", "why", "show", "note", "redo", "pause", "stop", "leave", "handover"};

void hs_build_free(hs_build *build)
{
	for (size_t i = 0; i < build->file_count; i++)
		hs_places_free(build->files[i].places);
	free(build->files);
	free(build->decls);
	free(build->words);
	build->files = NULL;
	build->decls = NULL;
	build->words = NULL;
	build->file_count = build->decl_count = build->file_room = build->decl_room = build->word_count = build->word_room = 0;
}

/* A file by its path, which the arena keeps. */
static hs_build_file *file_of(hs_build *build, const char *path)
{
	for (size_t i = 0; i < build->file_count; i++)
		if (strcmp(build->files[i].path, path) == 0)
			return &build->files[i];
	build->files = hs_grow(build->files, &build->file_room, build->file_count + 1, sizeof *build->files);
	hs_build_file *new = &build->files[build->file_count++];
	*new = (hs_build_file){.path = hs_arena_str(build->arena, path)};
	return new;
}

static const hs_places *places_of(hs_build *build, hs_build_file *file)
{
	if (!file->places) {
		const hs_source *source = hs_sources_find(build->sources, file->path);
		file->places = hs_places_new(source ? source->text : "");
	}
	return file->places;
}

const hs_places *hs_build_places(hs_build *build, const char *path)
{
	return places_of(build, file_of(build, path));
}

/*
 * A builder called from a function of the author's own gets its table from whoever called that: the table that has the
 * key is the right one.
 */
hs_where hs_decl_reach(hs_build *build, const hs_decl *decl, const char *path, bool *whole)
{
	hs_build_file *file = file_of(build, decl->file);
	hs_where where = {file->path, decl->line};
	*whole = true;
	if (build->rough)
		return where;
	where.line = hs_places_reach(places_of(build, file), decl->line, decl->callee, decl->id, path, whole);
	for (size_t i = 0; !*whole && i < HS_CALLERS && decl->callers[i].line > 0; i++) {
		file = file_of(build, decl->callers[i].file);
		int line = hs_places_reach(places_of(build, file), decl->callers[i].line, NULL, NULL, path, whole);
		if (*whole)
			where = (hs_where){file->path, line};
	}
	return where;
}

hs_where hs_decl_where(hs_build *build, const hs_decl *decl, const char *path)
{
	bool whole;
	return hs_decl_reach(build, decl, path, &whole);
}

hs_where hs_decl_only(hs_build *build, const hs_decl *decl, const char *text, bool key)
{
	hs_build_file *file = file_of(build, decl->file);
	return (hs_where){file->path, hs_places_only(places_of(build, file), text, key)};
}

hs_problem *hs_build_problem(hs_build *build, hs_severity severity, hs_where where, const char *format, ...)
{
	char message[sizeof((hs_error *)0)->message];
	va_list args;
	if (build->problems->count >= HS_PROBLEMS_MOST)
		hs_sandbox_raisef(hs_sandbox_state(build->sandbox),
		                  "there are more than %d mistakes; the rest was not read", HS_PROBLEMS_MOST);
	va_start(args, format);
	if (vsnprintf(message, sizeof message, format, args) < 0)
		hs_copy(message, sizeof message, format);
	va_end(args);
	hs_problem *problem = hs_problem_add(build->problems, severity, where, "%s", message);
	if (where.file)
		hs_sources_quote(build->sources, where.file, where.line, problem->what.quote,
		                 sizeof problem->what.quote);
	return problem;
}

const char *hs_build_near(const hs_build *build, const char *word, const char *const *known, size_t count)
{
	return build->problems->count < NEAREST_MOST ? hs_nearest(word, known, count) : NULL;
}

void hs_build_nearest(const hs_build *build, hs_problem *problem, const char *word, const char *const *known,
                      size_t count)
{
	const char *nearest = hs_build_near(build, word, known, count);
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
}

bool hs_build_good_id(hs_build *build, const char *id, const char *what, hs_where where)
{
	if (!hs_is_id(id)) {
		hs_problem *problem = hs_build_problem(build, HS_ERROR, where, "\"%s\" is no id for a %s", id, what);
		hs_problem_hint(
		    problem,
		    "an id begins with a letter or digit, goes on with letters, digits and . _ + -, and has at "
		    "most 64 of them");
		return false;
	}
	for (size_t i = 0; i < sizeof reserved / sizeof *reserved; i++)
		if (strcmp(id, reserved[i]) == 0) {
			hs_problem *problem = hs_build_problem(build, HS_ERROR, where,
			                                       "\"%s\" is reserved, and no id for a %s", id, what);
			hs_problem_hint(problem, "choose another id");
			return false;
		}
	for (size_t i = 0; strcmp(what, "word") == 0 && i < sizeof commands / sizeof *commands; i++)
		if (hs_same_word(id, commands[i])) {
			hs_problem *problem = hs_build_problem(build, HS_ERROR, where, "\"%s\" is a word for every prompt, and cannot be an answer", id);
			hs_problem_hint(problem, "choose another word for this answer");
			return false;
		}
	return true;
}

void hs_build_pending(hs_build *build)
{
	for (size_t i = 0; i < build->decl_count; i++) {
		hs_decl *decl = &build->decls[i];
		if (decl->ref != LUA_NOREF)
			continue;
		hs_problem *problem =
		    hs_build_problem(build, HS_ERROR, hs_decl_where(build, decl, ""),
		                     "%s \"%s\" has no table after its id", decl->callee, decl->id ? decl->id : "");
		hs_problem_hint(problem, "write %s \"%s\" { ... }", decl->callee, decl->id ? decl->id : "NAME");
	}
}

size_t hs_build_count(const hs_build *build, const char *callee)
{
	size_t count = 0;
	for (size_t i = 0; i < build->decl_count; i++)
		count += strcmp(build->decls[i].callee, callee) == 0;
	return count;
}

/* ---- while the file runs ---- */

/* Copies the table at `from` (absolute) and pushes the copy. Functions and plain values are kept as they are. */
static void copy_table(lua_State *L, int from, int depth)
{
	if (depth > NESTING_MOST)
		hs_sandbox_raisef(L, "tables are nested more than %d deep here", NESTING_MOST);
	luaL_checkstack(L, 8, "too many nested tables");
	/* Made as large as it becomes: growing by doubling costs more than all the rest of the copy. */
	int length = 0, words = 0;
	for (lua_pushnil(L); lua_next(L, from); lua_pop(L, 1)) {
		bool counted = lua_type(L, -2) == LUA_TNUMBER;
		length += counted;
		words += !counted;
	}
	lua_createtable(L, length, words);
	int to = lua_gettop(L);
	lua_pushnil(L);
	while (lua_next(L, from)) {
		hs_sandbox_charge(L, 1);
		if (lua_type(L, -1) == LUA_TTABLE) {
			copy_table(L, lua_gettop(L), depth + 1);
			lua_remove(L, -2);
		}
		lua_pushvalue(L, -2);
		lua_insert(L, -2);
		lua_rawset(L, to);
	}
}

static void note_callers(lua_State *L, hs_build *build, hs_decl *decl)
{
	for (int i = 0; i < HS_CALLERS; i++) {
		struct hs_caller *caller = &decl->callers[i];
		if (!hs_sandbox_where(L, i + 2, &caller->file, &caller->line) || !*caller->file)
			caller->line = 0;
		else
			caller->file = file_of(build, caller->file)->path;
	}
}

static size_t begin(lua_State *L, const char *callee, const char *id)
{
	hs_build *build = hs_sandbox_host(L);
	const char *file;
	int line;
	if (!hs_sandbox_where(L, 1, &file, &line) || !*file)
		file = hs_sources_main(build->sources)->path;
	if (build->decl_count == HS_DECLS_MOST)
		hs_sandbox_raisef(L, "more than %d things are declared", HS_DECLS_MOST);
	if (id && strlen(id) > ID_MOST)
		hs_sandbox_raisef(L, "the id of a %s has more than %d bytes", callee, ID_MOST);
	file = file_of(build, file)->path;
	id = hs_arena_str(build->arena, id);
	build->decls = hs_grow(build->decls, &build->decl_room, build->decl_count + 1, sizeof *build->decls);
	build->decls[build->decl_count] =
	    (hs_decl){.callee = callee, .id = id, .file = file, .line = line, .ref = LUA_NOREF};
	if (!build->rough)
		note_callers(L, build, &build->decls[build->decl_count]);
	return build->decl_count++;
}

static bool takes_id(const char *callee)
{
	return strcmp(callee, "playbook") != 0 && strcmp(callee, "unit") != 0 && strcmp(callee, "healthy") != 0;
}

/* The table is at stack index `at`; without an id, its first positional text is one. */
static void finish(lua_State *L, size_t index, int at)
{
	hs_build *build = hs_sandbox_host(L);
	copy_table(L, at, 0);
	if (!build->decls[index].id && takes_id(build->decls[index].callee)) {
		lua_rawgeti(L, -1, 1);
		if (lua_type(L, -1) == LUA_TSTRING && lua_rawlen(L, -1) <= ID_MOST) {
			build->decls[index].id = hs_arena_str(build->arena, lua_tostring(L, -1));
			build->decls[index].skip = 1;
		}
		lua_pop(L, 1);
	}
	build->decls[index].ref = luaL_ref(L, LUA_REGISTRYINDEX);
}

/* The graph is declared once, while the file is read; a function that runs later finds no host. */
static void refuse_late(lua_State *L, const char *callee)
{
	if (!hs_sandbox_host(L))
		hs_sandbox_raisef(L, "\"%s\" declares something, and that is possible only while the file is read",
		                  callee);
}

static const char *const element_callees[] = {"port",    "stage", "mixer",      "switch", "split",
                                              "coupler", "joint", "oscillator", "supply", "levelling"};

static bool is_element(const hs_build *build, const char *callee)
{
	for (size_t i = 0; i < sizeof element_callees / sizeof *element_callees; i++)
		if (strcmp(callee, element_callees[i]) == 0)
			return true;
	return build->open_lineups > 0 && strcmp(callee, "point") == 0;
}

/* An element gives back a mark that stands for it in the list of its line-up; everything else gives nothing. */
static int give_mark(lua_State *L, const hs_build *build, size_t index)
{
	if (!build->decls[index].inner)
		return 0;
	lua_pushlightuserdata(L, (void *)(uintptr_t)(index + 1));
	return 1;
}

/* What `step "id"` gives back: upvalues callee, id, and the declaration that waits for its table. */
static int take_table(lua_State *L)
{
	hs_build *build = hs_sandbox_host(L);
	const char *callee = lua_touserdata(L, lua_upvalueindex(1));
	const char *id = lua_tostring(L, lua_upvalueindex(2));
	size_t index = (size_t)lua_tointeger(L, lua_upvalueindex(3));
	refuse_late(L, callee);
	if (lua_type(L, 1) != LUA_TTABLE)
		return hs_sandbox_raisef(L, "%s \"%s\" wants a table in braces after its id, and was given a %s",
		                         callee, id, luaL_typename(L, 1));
	if (strcmp(callee, "lineup") == 0 && build->decls[index].ref == LUA_NOREF)
		build->open_lineups--;
	if (build->decls[index].ref != LUA_NOREF) {
		bool inner = build->decls[index].inner;
		index = begin(L, callee, id);
		build->decls[index].inner = inner;
	}
	finish(L, index, 1);
	return give_mark(L, build, index);
}

/* Upvalue: the callee, a light userdata to a static text. */
static int builder(lua_State *L)
{
	const char *callee = lua_touserdata(L, lua_upvalueindex(1));
	refuse_late(L, callee);
	hs_build *build = hs_sandbox_host(L);
	bool inner = is_element(build, callee), lineup = strcmp(callee, "lineup") == 0;
	if (lineup && (lua_type(L, 1) == LUA_TTABLE || lua_type(L, 2) == LUA_TTABLE))
		return hs_sandbox_raisef(L, "a line-up is written lineup \"ID\" { ... }, its id before the braces");
	if (lua_type(L, 1) == LUA_TTABLE) {
		size_t whole = begin(L, callee, NULL);
		build->decls[whole].inner = inner;
		finish(L, whole, 1);
		return give_mark(L, build, whole);
	}
	if (!takes_id(callee) || lua_type(L, 1) != LUA_TSTRING)
		return hs_sandbox_raisef(
		    L,
		    takes_id(callee) ? "%s wants its id in quotes and then a table in braces, and was given a %s"
		                     : "%s wants a table in braces, and was given a %s",
		    callee, luaL_typename(L, 1));
	size_t index = begin(L, callee, lua_tostring(L, 1));
	build->decls[index].inner = inner;
	build->open_lineups += lineup;
	if (lua_type(L, 2) == LUA_TTABLE) {
		finish(L, index, 2);
		return give_mark(L, build, index);
	}
	lua_pushlightuserdata(L, lua_touserdata(L, lua_upvalueindex(1)));
	lua_pushvalue(L, 1);
	lua_pushinteger(L, (lua_Integer)index);
	lua_pushcclosure(L, take_table, 3);
	return 1;
}

void hs_build_declare(lua_State *L, const char *const *callees, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		/* A light userdata is never written through. */
		lua_pushlightuserdata(L, (void *)callees[i]);
		lua_pushcclosure(L, builder, 1);
		hs_sandbox_declare(L, callees[i]);
	}
}
