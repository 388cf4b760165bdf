/*
 * chart "pins.csv": a table of texts, read while the playbook is built. The first row names the columns; each further
 * row comes back as a table with those names. Quoted fields may hold commas, quotes (doubled) and line ends.
 */
#include <lauxlib.h>
#include <string.h>
#include "build.h"

enum { COLUMNS_MOST = 100 };

typedef struct reader {
	lua_State *L;
	const hs_source *source;
	const char *at;
	int line;
} reader;

/* Fails at a line of the chart itself. */
static int refuse(const reader *r, int line, const char *what, const char *hint)
{
	hs_error error;
	hs_fail(&error, HS_BAD_INPUT, "%s", what);
	hs_fail_at(&error, r->source->path, line);
	hs_fail_hint(&error, "%s", hint);
	return hs_sandbox_raise(r->L, &error);
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t';
}

/* The reader stands behind the opening quote, and comes to stand behind the closing one. */
static void push_quoted(reader *r)
{
	const char *from = r->at;
	int begun = r->line;
	bool doubled = false;
	for (;; r->at++) {
		if (*r->at == '\0')
			refuse(r, begun, "a field begins with a quote and never ends", "close it with a second quote");
		if (*r->at == '\n')
			r->line++;
		if (*r->at != '"')
			continue;
		if (r->at[1] != '"')
			break;
		doubled = true;
		r->at++;
	}
	lua_pushlstring(r->L, from, (size_t)(r->at++ - from));
	if (doubled) {
		luaL_gsub(r->L, lua_tostring(r->L, -1), "\"\"", "\"");
		lua_remove(r->L, -2);
	}
	while (is_blank(*r->at))
		r->at++;
	if (*r->at != ',' && *r->at != '\n' && *r->at != '\0')
		refuse(r, r->line, "something stands behind the closing quote of a field",
		       "put a comma there; a quote inside a quoted field is written twice");
}

/* Pushes one field; true when another follows in this row. */
static bool push_field(reader *r)
{
	while (is_blank(*r->at))
		r->at++;
	if (*r->at == '"') {
		r->at++;
		push_quoted(r);
	} else {
		const char *from = r->at;
		r->at += strcspn(r->at, ",\n");
		const char *end = r->at;
		while (end > from && is_blank(end[-1]))
			end--;
		if (memchr(from, '"', (size_t)(end - from)))
			refuse(r, r->line, "a quote stands inside a field that does not begin with one",
			       "put the whole field in quotes, and write the quote twice");
		lua_pushlstring(r->L, from, (size_t)(end - from));
	}
	bool more = *r->at == ',';
	if (*r->at == '\n')
		r->line++;
	if (*r->at != '\0')
		r->at++;
	return more;
}

static void skip_empty_lines(reader *r)
{
	while (*r->at == '\n') {
		r->at++;
		r->line++;
	}
}

static bool named_before(lua_State *L, int header, lua_Integer count)
{
	bool twin = false;
	for (lua_Integer i = 1; i <= count && !twin; i++) {
		lua_rawgeti(L, header, i);
		twin = lua_rawequal(L, -1, -2);
		lua_pop(L, 1);
	}
	return twin;
}

/* Pushes the list of column names; returns how many there are. */
static lua_Integer push_header(reader *r)
{
	lua_State *L = r->L;
	lua_Integer count = 0;
	lua_newtable(L);
	int header = lua_gettop(L);
	skip_empty_lines(r);
	if (*r->at == '\0')
		refuse(r, 1, "this chart is empty", "its first row names the columns, as in: pin,volts");
	for (bool more = true; more; count++) {
		int line = r->line;
		more = push_field(r);
		if (count == COLUMNS_MOST)
			refuse(r, line, "this chart has more than 100 columns",
			       "leave out what the playbook does not use");
		if (lua_rawlen(L, -1) == 0)
			refuse(r, line, "a column of this chart has no name",
			       "its first row names the columns, as in: pin,volts");
		if (named_before(L, header, count))
			refuse(r, line, "two columns of this chart have the same name", "give each a name of its own");
		lua_rawseti(L, header, count + 1);
	}
	return count;
}

static void push_row(reader *r, int header, lua_Integer columns)
{
	lua_State *L = r->L;
	hs_error error;
	lua_Integer count = 0;
	int line = r->line;
	lua_createtable(L, 0, (int)columns);
	for (bool more = true; more; count++) {
		lua_rawgeti(L, header, count + 1);
		more = push_field(r);
		if (count < columns)
			lua_rawset(L, -3);
		else
			lua_pop(L, 2);
	}
	if (count == columns)
		return;
	hs_fail(&error, HS_BAD_INPUT, "this row has %lld fields, and the first row of the chart names %lld",
	        (long long)count, (long long)columns);
	hs_fail_at(&error, r->source->path, line);
	hs_fail_hint(&error, "a field with a comma in it stands in quotes");
	hs_sandbox_raise(L, &error);
}

static int lib_chart(lua_State *L)
{
	hs_error error = {0};
	size_t length;
	hs_build *build = hs_sandbox_host(L);
	if (!build)
		return hs_sandbox_raisef(L, "a chart is read only while the playbook is built");
	if (lua_type(L, 1) != LUA_TSTRING)
		return hs_sandbox_raisef(L, "chart wants a file name in quotes, and was given a %s",
		                         luaL_typename(L, 1));
	const char *name = lua_tolstring(L, 1, &length);
	if (strlen(name) != length)
		return hs_sandbox_raisef(L, "chart was given a name with a NUL character in it");
	reader r = {L, hs_sources_open(build->sources, name, HS_SOURCE_TABLE, &error), NULL, 1};
	if (!r.source)
		return hs_sandbox_raise(L, &error);
	hs_sandbox_charge(L, r.source->text_length);
	r.at = r.source->text;
	lua_settop(L, 0);
	luaL_checkstack(L, 16, "a chart");
	const char *row_name = lua_pushfstring(L, "a row of %s", r.source->path);
	lua_Integer columns = push_header(&r), rows = 0;
	lua_newtable(L);
	for (skip_empty_lines(&r); *r.at != '\0'; skip_empty_lines(&r)) {
		hs_sandbox_charge(L, 10);
		push_row(&r, 2, columns);
		hs_sandbox_seal_table(L, row_name);
		lua_rawseti(L, 3, ++rows);
	}
	return 1;
}

void hs_chart_open(lua_State *L)
{
	lua_pushcfunction(L, lib_chart);
	hs_sandbox_declare(L, "chart");
}
