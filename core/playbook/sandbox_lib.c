/*
 * The bare words: assert, error, pcall, select, type, tostring, tonumber, and the helpers of the other library
 * files.
 */
#include "sandbox_lib.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "halfsplit/base/number.h"

/* Unwinding costs far more time than the few instructions around it would tell. */
enum { CHARGED_BYTES = 64, PCALL_CHARGE = 10, CAUGHT_CHARGE = 100 };

const char *hs_arg_text(lua_State *L, int arg, size_t *length)
{
	if (lua_type(L, arg) == LUA_TNUMBER) {
		hs_sandbox_tostring(L, arg, NULL);
		lua_replace(L, arg);
	}
	if (lua_type(L, arg) != LUA_TSTRING)
		luaL_typeerror(L, arg, "string");
	return lua_tolstring(L, arg, length);
}

lua_Number hs_arg_number(lua_State *L, int arg)
{
	if (lua_type(L, arg) != LUA_TNUMBER)
		luaL_typeerror(L, arg, "number");
	return lua_tonumber(L, arg);
}

lua_Integer hs_arg_integer(lua_State *L, int arg)
{
	int whole = 0;
	hs_arg_number(L, arg);
	lua_Integer value = lua_tointegerx(L, arg, &whole);
	if (!whole)
		luaL_argerror(L, arg, "a whole number was wanted");
	return value;
}

lua_Integer hs_arg_integer_or(lua_State *L, int arg, lua_Integer otherwise)
{
	return lua_isnoneornil(L, arg) ? otherwise : hs_arg_integer(L, arg);
}

void hs_arg_open_table(lua_State *L, int arg)
{
	luaL_checktype(L, arg, LUA_TTABLE);
	if (hs_table_marked(L, arg))
		luaL_argerror(L, arg, "this table is sealed and cannot be changed");
}

void hs_text_start(lua_State *L, hs_lua_text *text)
{
	luaL_checkstack(L, 8, NULL);
	text->room = 256;
	text->length = 0;
	text->data = lua_newuserdatauv(L, text->room, 0);
	text->slot = lua_gettop(L);
}

static void make_room(lua_State *L, hs_lua_text *text, size_t more)
{
	size_t need = text->length + more, room = text->room;
	if (more > HS_SANDBOX_TEXT_MOST || need > HS_SANDBOX_TEXT_MOST)
		hs_sandbox_raisef(L, "this makes a text longer than %zu KiB", HS_SANDBOX_TEXT_MOST / 1024);
	if (need <= room)
		return;
	while (room < need)
		room *= 2;
	char *data = lua_newuserdatauv(L, room, 0);
	memcpy(data, text->data, text->length);
	lua_replace(L, text->slot);
	text->data = data;
	text->room = room;
}

void hs_text_add(lua_State *L, hs_lua_text *text, const char *data, size_t length)
{
	make_room(L, text, length);
	memcpy(text->data + text->length, data, length);
	text->length += length;
}

void hs_text_fill(lua_State *L, hs_lua_text *text, char c, size_t count)
{
	make_room(L, text, count);
	memset(text->data + text->length, c, count);
	text->length += count;
}

void hs_text_push(lua_State *L, const hs_lua_text *text)
{
	hs_sandbox_charge(L, text->length / CHARGED_BYTES);
	lua_pushlstring(L, text->data, text->length);
}

void hs_declare_library(lua_State *L, const char *name, const luaL_Reg *functions)
{
	luaL_setfuncs(L, functions, 0);
	hs_sandbox_seal_table(L, name);
	hs_sandbox_declare(L, name);
}

/* The point is a point under every locale, and there is one not-a-number. */
static void push_float(lua_State *L, lua_Number value)
{
	char digits[64];
	if (isnan(value)) {
		lua_pushliteral(L, "nan");
		return;
	}
	int length = snprintf(digits, sizeof digits, "%.14g", value);
	char *point = strchr(digits, *localeconv()->decimal_point);
	if (point)
		*point = '.';
	bool looks_whole = digits[strspn(digits, "-0123456789")] == '\0';
	lua_pushfstring(L, looks_whole && length > 0 ? "%s.0" : "%s", digits);
}

static void push_plain(lua_State *L, int index)
{
	switch (lua_type(L, index)) {
	case LUA_TNUMBER:
		if (lua_isinteger(L, index))
			lua_pushfstring(L, "%I", (LUAI_UACINT)lua_tointeger(L, index));
		else
			push_float(L, lua_tonumber(L, index));
		return;
	case LUA_TSTRING:
		lua_pushvalue(L, index);
		return;
	case LUA_TBOOLEAN:
		lua_pushstring(L, lua_toboolean(L, index) ? "true" : "false");
		return;
	case LUA_TUSERDATA:
		if (luaL_getmetafield(L, index, "__name") == LUA_TSTRING)
			return;
		break;
	}
	/* Never an address: it differs from run to run. */
	lua_pushstring(L, luaL_typename(L, index));
}

const char *hs_sandbox_tostring(lua_State *L, int index, size_t *length)
{
	luaL_checkstack(L, 4, NULL);
	if (luaL_callmeta(L, index, "__tostring")) {
		if (lua_type(L, -1) != LUA_TSTRING)
			hs_sandbox_raisef(L, "__tostring gave a %s, and a string was wanted", luaL_typename(L, -1));
	} else {
		push_plain(L, index);
	}
	return lua_tolstring(L, -1, length);
}

static int lib_tostring(lua_State *L)
{
	luaL_checkany(L, 1);
	hs_sandbox_tostring(L, 1, NULL);
	return 1;
}

/* "12" gives an integer and "12.0" a float, as written in Lua itself. */
static void push_read_number(lua_State *L, const char *text, lua_Number value)
{
	bool whole = !strpbrk(text, ".eE");
	if (whole && value >= -9007199254740992.0 && value <= 9007199254740992.0)
		lua_pushinteger(L, (lua_Integer)value);
	else
		lua_pushnumber(L, value);
}

static int lib_tonumber(lua_State *L)
{
	size_t length;
	double value;
	luaL_checkany(L, 1);
	if (!lua_isnoneornil(L, 2))
		return hs_sandbox_raisef(L, "tonumber takes no base here; it reads decimal numbers");
	if (lua_type(L, 1) == LUA_TNUMBER) {
		lua_settop(L, 1);
		return 1;
	}
	const char *text = lua_type(L, 1) == LUA_TSTRING ? lua_tolstring(L, 1, &length) : NULL;
	if (text) {
		const char *start = text + strspn(text, " \t");
		char word[512];
		size_t kept = length - (size_t)(start - text);
		while (kept > 0 && strchr(" \t", start[kept - 1]) && start[kept - 1])
			kept--;
		if (kept < sizeof word) {
			memcpy(word, start, kept);
			word[kept] = '\0';
			if (strlen(word) == kept && hs_number_read(word, &value)) {
				push_read_number(L, word, value);
				return 1;
			}
		}
	}
	lua_pushnil(L);
	return 1;
}

static int lib_type(lua_State *L)
{
	luaL_checkany(L, 1);
	lua_pushstring(L, luaL_typename(L, 1));
	return 1;
}

static int lib_select(lua_State *L)
{
	int count = lua_gettop(L);
	if (lua_type(L, 1) == LUA_TSTRING && strcmp(lua_tostring(L, 1), "#") == 0) {
		lua_pushinteger(L, count - 1);
		return 1;
	}
	lua_Integer from = hs_arg_integer(L, 1);
	if (from < 0)
		from = count + from;
	else if (from > count)
		from = count;
	luaL_argcheck(L, from >= 1, 1, "there is no such argument");
	return count - (int)from;
}

static int lib_error(lua_State *L)
{
	int level = (int)hs_arg_integer_or(L, 2, 1);
	lua_settop(L, 1);
	if (lua_type(L, 1) == LUA_TSTRING && level > 0 && level < 100) {
		luaL_where(L, level);
		lua_pushvalue(L, 1);
		lua_concat(L, 2);
	}
	return lua_error(L);
}

static int lib_assert(lua_State *L)
{
	luaL_checkany(L, 1);
	if (lua_toboolean(L, 1))
		return lua_gettop(L);
	lua_remove(L, 1);
	if (lua_gettop(L) == 0)
		return hs_sandbox_raisef(L, "an assertion does not hold");
	lua_settop(L, 1);
	return lua_error(L);
}

/* Running out of memory, instructions or time goes through: a playbook cannot catch it and go on. */
static int lib_pcall(lua_State *L)
{
	hs_sandbox *sandbox = hs_sandbox_of(L);
	luaL_checkany(L, 1);
	hs_sandbox_charge(L, PCALL_CHARGE);
	lua_pushboolean(L, 1);
	lua_insert(L, 1);
	int status = lua_pcall(L, lua_gettop(L) - 2, LUA_MULTRET, 0);
	if (status == LUA_ERRMEM)
		hs_sandbox_kill(sandbox, HS_DEAD_MEMORY);
	if (sandbox->dead)
		return hs_sandbox_rethrow(L);
	if (status == LUA_OK)
		return lua_gettop(L);
	hs_sandbox_charge(L, CAUGHT_CHARGE);
	lua_pushboolean(L, 0);
	if (lua_touserdata(L, -2) == &sandbox->raised)
		lua_pushstring(L, sandbox->raised.message);
	else
		lua_pushvalue(L, -2);
	return 2;
}

void hs_lib_open(lua_State *L)
{
	static const luaL_Reg words[] = {
	    {"assert", lib_assert},     {"error", lib_error},       {"pcall", lib_pcall}, {"select", lib_select},
	    {"tonumber", lib_tonumber}, {"tostring", lib_tostring}, {"type", lib_type},
	};
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
		lua_pushcfunction(L, words[i].func);
		hs_sandbox_declare(L, words[i].name);
	}
}
