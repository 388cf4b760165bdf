/* The measurement library for playbooks, kits and calc files: the list of its modules, and the door into its functions.
 */
#include "bind_measure.h"

#include <lauxlib.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

enum { CALL_CHARGE = 20, CHARGED_BYTES = 64 };

/* Registry key; only its address matters. */
static const char box_key = 'b';

static void (*const modules[])(lua_State *) = {
    measure_open_quantity, measure_open_level,       measure_open_reflection, measure_open_cascade, measure_open_noise,
    measure_open_coax,     measure_open_uncertainty, measure_open_meter,      measure_open_network,
};

static int box_free(lua_State *L)
{
	hs_buf_free(lua_touserdata(L, 1));
	return 0;
}

static void open_boxes(lua_State *L)
{
	lua_createtable(L, 0, 2);
	lua_pushcfunction(L, box_free);
	lua_setfield(L, -2, "__gc");
	lua_pushboolean(L, 0);
	lua_setfield(L, -2, "__metatable");
	lua_rawsetp(L, LUA_REGISTRYINDEX, &box_key);
}

static void open_modules(lua_State *L)
{
	open_boxes(L);
	for (size_t i = 0; i < sizeof modules / sizeof modules[0]; i++)
		modules[i](L);
}

void hs_measure_declare(lua_State *L)
{
	hs_sandbox_declare_later(L, open_modules);
}

static const measure_row *row_of(lua_State *L)
{
	return lua_touserdata(L, lua_upvalueindex(1));
}

/* The door. Upvalue 1: the row. */
static int enter(lua_State *L)
{
	const measure_row *row = row_of(L);
	int given = lua_gettop(L);
	if (given > row->most)
		return measure_refuse(L, "%d values were given, and %d %s the most", given, row->most,
		                      row->most == 1 ? "is" : "are");
	hs_sandbox_charge(L, CALL_CHARGE);
	luaL_checkstack(L, 24, NULL);
	lua_settop(L, row->most);
	return row->function(L);
}

void measure_push_function(lua_State *L, const measure_row *row)
{
	/* A light userdata is never written through. */
	lua_pushlightuserdata(L, (void *)row);
	lua_pushcclosure(L, enter, 1);
}

void measure_push_module(lua_State *L, const char *name, const measure_row *rows, size_t count)
{
	lua_createtable(L, 0, (int)count);
	for (size_t i = 0; i < count; i++) {
		measure_push_function(L, &rows[i]);
		lua_setfield(L, -2, rows[i].name);
	}
	hs_sandbox_seal_table(L, name);
}

void measure_declare(lua_State *L, const char *name, const measure_row *rows, size_t count)
{
	measure_push_module(L, name, rows, count);
	hs_sandbox_declare(L, name);
}

int measure_raise(lua_State *L, hs_error *error)
{
	if (error->file[0]) {
		if (!error->hint[0])
			hs_fail_hint(error, "see line %d of %.200s", error->line, error->file);
		error->file[0] = '\0';
		error->line = 0;
		error->quote[0] = '\0';
	}
	return hs_sandbox_raise(L, error);
}

int measure_misuse(lua_State *L, hs_error *error)
{
	if (!error->hint[0])
		hs_fail_hint(error, "write %s", row_of(L)->usage);
	return hs_sandbox_raise(L, error);
}

int measure_refuse(lua_State *L, const char *format, ...)
{
	hs_error error = {.code = HS_BAD_INPUT};
	va_list args;
	va_start(args, format);
	if (vsnprintf(error.message, sizeof error.message, format, args) < 0)
		hs_copy(error.message, sizeof error.message, format);
	va_end(args);
	return measure_misuse(L, &error);
}

int measure_give(lua_State *L, bool good, double value, hs_error *error)
{
	if (!good)
		return measure_raise(L, error);
	lua_pushnumber(L, value);
	return 1;
}

hs_buf *measure_text(lua_State *L)
{
	hs_buf *text = lua_newuserdatauv(L, sizeof *text, 0);
	hs_buf_init(text);
	lua_rawgetp(L, LUA_REGISTRYINDEX, &box_key);
	lua_setmetatable(L, -2);
	return text;
}

void measure_text_push(lua_State *L, hs_buf *text)
{
	hs_sandbox_charge(L, text->length / CHARGED_BYTES);
	lua_pushlstring(L, text->length ? text->data : "", text->length);
	/* The collector does not know how large it is, so it goes at once. */
	hs_buf_free(text);
	lua_remove(L, -2);
}

void measure_set(lua_State *L, const char *key, double value)
{
	lua_pushnumber(L, value);
	lua_setfield(L, -2, key);
}

void measure_set_flag(lua_State *L, const char *key, bool value)
{
	lua_pushboolean(L, value);
	lua_setfield(L, -2, key);
}

void measure_set_text(lua_State *L, const char *key, const char *value)
{
	lua_pushstring(L, value);
	lua_setfield(L, -2, key);
}
