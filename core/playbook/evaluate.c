/* The second and last moment Lua runs: a small function of the author's, with what it uses and nothing else. */
#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "build.h"
#include "halfsplit/base/number.h"

enum { NAMES_MOST = 128, TEXT_MOST = 256 };

typedef struct call {
	const hs_kept *function;
	const char *const *names;
	const hs_value *values;
	size_t count;
	hs_buf *result;
} call;

/* Fails at the function's own place, because no frame of it is left. */
static int fail_result(lua_State *L, const call *c, const char *found)
{
	hs_error error;
	hs_fail(&error, HS_BAD_INPUT, "this function returned %s", found);
	hs_fail_at(&error, c->function->where.file, c->function->where.line);
	hs_fail_hint(&error, "it must return a text, or for limits { LOW, HIGH } as two numbers");
	return hs_sandbox_raise(L, &error);
}

/* (v, key): reached for what v does not hold. Upvalue 1: a table with every declared name as a key. */
static int not_there(lua_State *L)
{
	const char *known[NAMES_MOST];
	size_t count = 0;
	hs_error error;
	lua_settop(L, 2);
	lua_pushvalue(L, 2);
	lua_rawget(L, lua_upvalueindex(1));
	if (!lua_isnil(L, -1)) {
		lua_pushnil(L);
		return 1;
	}
	const char *key = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "?";
	for (lua_pushnil(L); lua_next(L, lua_upvalueindex(1)); lua_pop(L, 1))
		if (count < NAMES_MOST && lua_type(L, -2) == LUA_TSTRING)
			known[count++] = lua_tostring(L, -2);
	hs_fail(&error, HS_BAD_INPUT, "the function does not declare that it uses \"%s\"", key);
	const char *nearest = hs_nearest(key, known, count);
	if (nearest)
		hs_fail_hint(&error, "did you mean \"%s\"?", nearest);
	else
		hs_fail_hint(&error, "add it to uses = { ... }");
	return hs_sandbox_raise(L, &error);
}

static int not_written(lua_State *L)
{
	return hs_sandbox_raisef(L, "a function keeps nothing, so what it uses cannot be written to");
}

/* A table that knows every declared name, holds what was set in it, and can be neither written to nor asked for anything else. */
static void seal_values(lua_State *L)
{
	lua_pushcclosure(L, not_there, 1);
	lua_setfield(L, -2, "__index");
	lua_pushcfunction(L, not_written);
	lua_setfield(L, -2, "__newindex");
	lua_pushboolean(L, false);
	lua_setfield(L, -2, "__metatable");
	lua_setmetatable(L, -2);
}

static void push_values(lua_State *L, const call *c)
{
	lua_newtable(L);
	lua_createtable(L, 0, 3);
	lua_newtable(L);
	for (size_t i = 0; i < c->count; i++) {
		const hs_value *value = &c->values[i];
		lua_pushboolean(L, true);
		lua_setfield(L, -2, c->names[i]);
		if (value->kind == HS_VALUE_NONE)
			continue;
		if (value->kind == HS_VALUE_NUMBER)
			lua_pushnumber(L, value->number);
		else
			lua_pushstring(L, value->text);
		lua_setfield(L, -4, c->names[i]);
	}
	seal_values(L);
}

/* What the core judged of each reading used: "low", "ok" ...; nothing for a word chosen at a look step. */
static void push_outcomes(lua_State *L, const call *c)
{
	lua_newtable(L);
	lua_createtable(L, 0, 3);
	lua_newtable(L);
	for (size_t i = 0; i < c->count; i++) {
		lua_pushboolean(L, true);
		lua_setfield(L, -2, c->names[i]);
		if (c->values[i].kind == HS_VALUE_TEXT)
			continue;
		lua_pushstring(L, hs_outcome_name(c->values[i].outcome));
		lua_setfield(L, -4, c->names[i]);
	}
	seal_values(L);
}

/* One end of { low, high }: by position, or by name when only one is meant. */
static bool end_of(lua_State *L, const call *c, int table, int position, const char *name, double *out)
{
	lua_rawgeti(L, table, position);
	if (lua_isnil(L, -1)) {
		lua_pop(L, 1);
		lua_pushstring(L, name);
		lua_rawget(L, table);
	}
	int type = lua_type(L, -1);
	if (type == LUA_TNIL) {
		lua_pop(L, 1);
		return false;
	}
	if (type != LUA_TNUMBER)
		fail_result(L, c, "limits that are not numbers");
	*out = lua_tonumber(L, -1);
	if (!isfinite(*out))
		fail_result(L, c, "a limit that is no finite number");
	lua_pop(L, 1);
	return true;
}

static void take_limits(lua_State *L, const call *c)
{
	double low = 0, high = 0;
	bool has_low = end_of(L, c, lua_gettop(L), 1, "low", &low);
	bool has_high = end_of(L, c, lua_gettop(L), 2, "high", &high);
	if (!has_low && !has_high)
		fail_result(L, c, "a table without limits");
	if (has_low && has_high) {
		hs_number_print(c->result, low);
		hs_buf_str(c->result, " .. ");
	} else {
		hs_buf_str(c->result, has_low ? "at least " : "at most ");
	}
	hs_number_print(c->result, has_high ? high : low);
}

static void take_result(lua_State *L, const call *c)
{
	size_t length;
	const char *text;
	switch (lua_type(L, -1)) {
	case LUA_TTABLE:
		take_limits(L, c);
		return;
	case LUA_TSTRING:
		text = lua_tolstring(L, -1, &length);
		if (length == 0 || length > TEXT_MOST || strlen(text) != length)
			fail_result(L, c,
			            length == 0 ? "an empty text" : "a text that is too long or holds a NUL character");
		hs_buf_add(c->result, text, length);
		return;
	case LUA_TNIL:
		fail_result(L, c, "nothing");
		return;
	case LUA_TNUMBER:
		fail_result(L, c, "a number");
		return;
	}
	fail_result(L, c, lua_isboolean(L, -1) ? "true or false" : "something that is neither text nor limits");
}

static int run(lua_State *L)
{
	const call *c = lua_touserdata(L, 1);
	lua_settop(L, 0);
	lua_rawgeti(L, LUA_REGISTRYINDEX, c->function->ref);
	push_values(L, c);
	push_outcomes(L, c);
	lua_call(L, 2, 1);
	take_result(L, c);
	return 0;
}

bool hs_evaluate(void *context, int function_id, const char *const *names, const hs_value *values, size_t count,
                 hs_buf *result, hs_error *error)
{
	hs_functions *functions = context;
	if (function_id < 0 || (size_t)function_id >= functions->count)
		return hs_fail(error, HS_BAD_INPUT, "the playbook has no function %d", function_id);
	hs_buf text;
	hs_buf_init(&text);
	call c = {&functions->items[function_id], names, values, count, &text};
	bool good = hs_sandbox_protected(functions->sandbox, run, &c, HS_SANDBOX_CALL_BUDGET, error) &&
	            hs_seal_check(functions->sandbox, c.function->ref, error);
	if (good)
		hs_buf_add(result, text.data, text.length);
	hs_buf_free(&text);
	return good;
}
