/* A dozen string functions. No patterns: matching one can take longer than any budget would notice. */
#include "sandbox_lib.h"

#include <string.h>

enum { BYTES_MOST = 200, SCAN_CHARGE = 16 };

/* Turns a position, counted from 1 or from the end when negative, into 1 .. length + 1. */
static size_t first_position(lua_Integer at, size_t length)
{
	if (at > 0)
		return (size_t)at;
	if (at == 0 || at < -(lua_Integer)length)
		return 1;
	return length + (size_t)at + 1;
}

static size_t last_position(lua_Integer at, size_t length)
{
	if (at > (lua_Integer)length)
		return length;
	if (at >= 0)
		return (size_t)at;
	return at < -(lua_Integer)length ? 0 : length + (size_t)at + 1;
}

static int string_len(lua_State *L)
{
	size_t length;
	hs_arg_text(L, 1, &length);
	lua_pushinteger(L, (lua_Integer)length);
	return 1;
}

static int string_sub(lua_State *L)
{
	size_t length;
	const char *text = hs_arg_text(L, 1, &length);
	size_t from = first_position(hs_arg_integer(L, 2), length);
	size_t to = last_position(hs_arg_integer_or(L, 3, -1), length);
	size_t size = from > to ? 0 : to - from + 1;
	hs_sandbox_charge(L, size / SCAN_CHARGE);
	lua_pushlstring(L, size > 0 ? text + from - 1 : "", size);
	return 1;
}

static int change_case(lua_State *L, char first, char last, int shift)
{
	size_t length;
	hs_lua_text out;
	const char *text = hs_arg_text(L, 1, &length);
	hs_text_start(L, &out);
	hs_text_add(L, &out, text, length);
	for (size_t i = 0; i < length; i++)
		if (out.data[i] >= first && out.data[i] <= last)
			out.data[i] = (char)(out.data[i] + shift);
	hs_text_push(L, &out);
	return 1;
}

static int string_upper(lua_State *L)
{
	return change_case(L, 'a', 'z', 'A' - 'a');
}

static int string_lower(lua_State *L)
{
	return change_case(L, 'A', 'Z', 'a' - 'A');
}

static int string_rep(lua_State *L)
{
	size_t length, gap = 0;
	hs_lua_text out;
	const char *text = hs_arg_text(L, 1, &length);
	lua_Integer count = hs_arg_integer(L, 2);
	const char *between = lua_isnoneornil(L, 3) ? "" : hs_arg_text(L, 3, &gap);
	if (count > 0 && length + gap > 0 && (size_t)count > HS_SANDBOX_TEXT_MOST / (length + gap) + 1)
		return hs_sandbox_raisef(L, "this makes a text longer than %zu KiB", HS_SANDBOX_TEXT_MOST / 1024);
	hs_sandbox_charge(L, count > 0 && length + gap > 0 ? (size_t)count / 4 : 0);
	hs_text_start(L, &out);
	for (lua_Integer i = 0; i < count && length + gap > 0; i++) {
		hs_text_add(L, &out, between, i > 0 ? gap : 0);
		hs_text_add(L, &out, text, length);
	}
	hs_text_push(L, &out);
	return 1;
}

static int string_reverse(lua_State *L)
{
	size_t length;
	hs_lua_text out;
	const char *text = hs_arg_text(L, 1, &length);
	hs_text_start(L, &out);
	hs_text_fill(L, &out, 0, length);
	for (size_t i = 0; i < length; i++)
		out.data[i] = text[length - 1 - i];
	hs_text_push(L, &out);
	return 1;
}

static int string_byte(lua_State *L)
{
	size_t length;
	const char *text = hs_arg_text(L, 1, &length);
	lua_Integer at = hs_arg_integer_or(L, 2, 1);
	size_t from = first_position(at, length);
	size_t to = last_position(hs_arg_integer_or(L, 3, (lua_Integer)from), length);
	if (from > to)
		return 0;
	if (to - from >= BYTES_MOST)
		return hs_sandbox_raisef(L, "string.byte gives at most %d bytes at once", BYTES_MOST);
	luaL_checkstack(L, BYTES_MOST, NULL);
	for (size_t i = from; i <= to; i++)
		lua_pushinteger(L, (unsigned char)text[i - 1]);
	return (int)(to - from + 1);
}

static int string_char(lua_State *L)
{
	hs_lua_text out;
	int count = lua_gettop(L);
	hs_text_start(L, &out);
	for (int i = 1; i <= count; i++) {
		lua_Integer value = hs_arg_integer(L, i);
		luaL_argcheck(L, value >= 0 && value <= 255, i, "a byte is 0 to 255");
		hs_text_fill(L, &out, (char)value, 1);
	}
	hs_text_push(L, &out);
	return 1;
}

/*
 * Text in which other Luas would see a pattern is accepted only with the fourth argument true, so that nobody is
 * misled.
 */
static void refuse_pattern(lua_State *L, const char *wanted)
{
	hs_error error;
	if (lua_toboolean(L, 4) || !strpbrk(wanted, "^$*+?.([%-"))
		return;
	hs_fail(&error, HS_BAD_INPUT,
	        "string.find looks for plain text and knows no patterns, and "
	        "\"%.60s\" could be one",
	        wanted);
	hs_fail_hint(&error, "for plain text write find(text, wanted, 1, true)");
	hs_sandbox_raise(L, &error);
}

static int string_find(lua_State *L)
{
	size_t length, size;
	const char *text = hs_arg_text(L, 1, &length), *wanted = hs_arg_text(L, 2, &size);
	size_t from = first_position(hs_arg_integer_or(L, 3, 1), length);
	refuse_pattern(L, wanted);
	hs_sandbox_charge(L, (length + size) / SCAN_CHARGE);
	const char *found = from <= length + 1 ? memmem(text + from - 1, length - from + 1, wanted, size) : NULL;
	if (!found) {
		lua_pushnil(L);
		return 1;
	}
	lua_pushinteger(L, found - text + 1);
	lua_pushinteger(L, found - text + (lua_Integer)size);
	return 2;
}

static int string_split(lua_State *L)
{
	size_t length, size;
	const char *text = hs_arg_text(L, 1, &length), *mark = hs_arg_text(L, 2, &size), *end = text + length;
	luaL_argcheck(L, size > 0, 2, "the text to split at is empty");
	hs_sandbox_charge(L, (length + size) / SCAN_CHARGE);
	lua_newtable(L);
	for (lua_Integer i = 1;; i++) {
		const char *next = memmem(text, (size_t)(end - text), mark, size);
		hs_sandbox_charge(L, 1);
		lua_pushlstring(L, text, (size_t)((next ? next : end) - text));
		lua_rawseti(L, -2, i);
		if (!next)
			return 1;
		text = next + size;
	}
}

static bool is_space(char c)
{
	return c == ' ' || (c >= '\t' && c <= '\r');
}

static int string_trim(lua_State *L)
{
	size_t length;
	const char *text = hs_arg_text(L, 1, &length);
	hs_sandbox_charge(L, length / SCAN_CHARGE);
	while (length > 0 && is_space(text[length - 1]))
		length--;
	while (length > 0 && is_space(*text)) {
		text++;
		length--;
	}
	lua_pushlstring(L, text, length);
	return 1;
}

void hs_lib_string_open(lua_State *L)
{
	static const luaL_Reg functions[] = {
	    {"byte", string_byte},
	    {"char", string_char},
	    {"find", string_find},
	    {"format", hs_string_format},
	    {"len", string_len},
	    {"lower", string_lower},
	    {"rep", string_rep},
	    {"reverse", string_reverse},
	    {"split", string_split},
	    {"sub", string_sub},
	    {"trim", string_trim},
	    {"upper", string_upper},
	    {NULL, NULL},
	};
	lua_createtable(L, 0, 12);
	luaL_setfuncs(L, functions, 0);
	hs_sandbox_seal_table(L, "string");
	/* Every text has these as methods; the metatable itself is out of reach. */
	lua_pushliteral(L, "");
	lua_createtable(L, 0, 2);
	lua_pushvalue(L, -3);
	lua_setfield(L, -2, "__index");
	lua_pushboolean(L, 0);
	lua_setfield(L, -2, "__metatable");
	lua_setmetatable(L, -2);
	lua_pop(L, 1);
	hs_sandbox_declare(L, "string");
}
