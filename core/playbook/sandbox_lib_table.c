/* insert, remove, concat, unpack and a stable sort. Raw lengths and raw access: a metatable cannot lie about either. */
#include "sandbox_lib.h"

#include <string.h>

enum { UNPACK_MOST = 250 };

static int table_insert(lua_State *L)
{
	hs_arg_open_table(L, 1);
	lua_Integer end = (lua_Integer)lua_rawlen(L, 1) + 1, at = end;
	switch (lua_gettop(L)) {
	case 2:
		break;
	case 3:
		at = hs_arg_integer(L, 2);
		luaL_argcheck(L, at >= 1 && at <= end, 2, "position out of bounds");
		hs_sandbox_charge(L, (size_t)(end - at));
		for (lua_Integer i = end; i > at; i--) {
			lua_rawgeti(L, 1, i - 1);
			lua_rawseti(L, 1, i);
		}
		break;
	default:
		return hs_sandbox_raisef(L, "table.insert takes a table, perhaps a position, and a value");
	}
	lua_rawseti(L, 1, at);
	return 0;
}

static int table_remove(lua_State *L)
{
	hs_arg_open_table(L, 1);
	lua_Integer length = (lua_Integer)lua_rawlen(L, 1), at = hs_arg_integer_or(L, 2, length);
	if (!lua_isnoneornil(L, 2) && length + 1 != at)
		luaL_argcheck(L, (length == 0 && at == 0) || (at >= 1 && at <= length), 2, "position out of bounds");
	lua_rawgeti(L, 1, at);
	if (at >= 1 && at <= length) {
		hs_sandbox_charge(L, (size_t)(length - at));
		for (lua_Integer i = at; i < length; i++) {
			lua_rawgeti(L, 1, i + 1);
			lua_rawseti(L, 1, i);
		}
		lua_pushnil(L);
		lua_rawseti(L, 1, length);
	}
	return 1;
}

static int table_concat(lua_State *L)
{
	size_t gap = 0, length;
	hs_lua_text out;
	luaL_checktype(L, 1, LUA_TTABLE);
	const char *between = lua_isnoneornil(L, 2) ? "" : hs_arg_text(L, 2, &gap);
	hs_unsealed_push(L, 1);
	lua_replace(L, 1);
	lua_Integer from = hs_arg_integer_or(L, 3, 1), to = hs_arg_integer_or(L, 4, (lua_Integer)lua_rawlen(L, 1));
	hs_text_start(L, &out);
	for (lua_Integer i = from; i <= to; i++) {
		hs_sandbox_charge(L, 2);
		int type = lua_rawgeti(L, 1, i);
		if (type != LUA_TSTRING && type != LUA_TNUMBER)
			return hs_sandbox_raisef(L,
			                         "table.concat found a %s at position %lld, and a text "
			                         "or number was wanted",
			                         luaL_typename(L, -1), (long long)i);
		const char *text = hs_sandbox_tostring(L, lua_gettop(L), &length);
		hs_text_add(L, &out, text, length);
		lua_pop(L, 2);
		if (i == to)
			break;
		hs_text_add(L, &out, between, gap);
	}
	hs_text_push(L, &out);
	return 1;
}

static int table_unpack(lua_State *L)
{
	luaL_checktype(L, 1, LUA_TTABLE);
	hs_unsealed_push(L, 1);
	lua_replace(L, 1);
	lua_Integer from = hs_arg_integer_or(L, 2, 1), to = hs_arg_integer_or(L, 3, (lua_Integer)lua_rawlen(L, 1));
	if (from > to)
		return 0;
	if ((lua_Unsigned)to - (lua_Unsigned)from >= UNPACK_MOST)
		return hs_sandbox_raisef(L, "table.unpack gives at most %d values at once", UNPACK_MOST);
	luaL_checkstack(L, UNPACK_MOST, NULL);
	int count = (int)(to - from) + 1;
	for (int i = 0; i < count; i++)
		lua_rawgeti(L, 1, from + i);
	return count;
}

static bool less_text(lua_State *L, int left, int right)
{
	size_t a_length, b_length;
	const char *a = lua_tolstring(L, left, &a_length), *b = lua_tolstring(L, right, &b_length);
	int order = memcmp(a, b, a_length < b_length ? a_length : b_length);
	return order < 0 || (order == 0 && a_length < b_length);
}

/* Whether the value on top comes before the one under it; both stay. Slot 2 holds the author's order, or nil. */
static bool top_is_less(lua_State *L)
{
	int top = lua_gettop(L), left = lua_type(L, top), right = lua_type(L, top - 1);
	hs_sandbox_charge(L, 1);
	if (!lua_isnil(L, 2)) {
		lua_pushvalue(L, 2);
		lua_pushvalue(L, top);
		lua_pushvalue(L, top - 1);
		lua_call(L, 2, 1);
		bool less = lua_toboolean(L, -1);
		lua_pop(L, 1);
		return less;
	}
	if (left == LUA_TNUMBER && right == LUA_TNUMBER)
		return lua_compare(L, top, top - 1, LUA_OPLT);
	if (left == LUA_TSTRING && right == LUA_TSTRING)
		return less_text(L, top, top - 1);
	return hs_sandbox_raisef(L, "table.sort cannot order a %s against a %s without a function of your own",
	                         lua_typename(L, left), lua_typename(L, right));
}

/*
 * Merges [low, middle) and [middle, high) of the table at `from` into the one at `into`. Equal ones keep their
 * order.
 */
static void merge(lua_State *L, int from, int into, lua_Integer low, lua_Integer middle, lua_Integer high)
{
	lua_Integer left = low, right = middle;
	for (lua_Integer i = low; i < high; i++) {
		bool take_right = left >= middle;
		if (left < middle && right < high) {
			lua_rawgeti(L, from, left);
			lua_rawgeti(L, from, right);
			take_right = top_is_less(L);
			lua_pop(L, 2);
		}
		lua_rawgeti(L, from, take_right ? right++ : left++);
		lua_rawseti(L, into, i);
	}
}

static void copy(lua_State *L, int from, int into, lua_Integer count)
{
	for (lua_Integer i = 1; i <= count; i++) {
		lua_rawgeti(L, from, i);
		lua_rawseti(L, into, i);
	}
}

/* Works on two copies, so an error raised by the author's order leaves the table as it was. */
static int table_sort(lua_State *L)
{
	hs_arg_open_table(L, 1);
	if (!lua_isnoneornil(L, 2))
		luaL_checktype(L, 2, LUA_TFUNCTION);
	lua_settop(L, 2);
	lua_Integer count = (lua_Integer)lua_rawlen(L, 1);
	hs_sandbox_charge(L, 4 * (size_t)count);
	int from = 3, into = 4;
	lua_createtable(L, (int)count, 0);
	lua_createtable(L, (int)count, 0);
	copy(L, 1, from, count);
	for (lua_Integer width = 1; width < count; width *= 2) {
		hs_sandbox_charge(L, (size_t)count);
		for (lua_Integer low = 1; low <= count; low += 2 * width) {
			lua_Integer middle = low + width <= count + 1 ? low + width : count + 1;
			lua_Integer high = low + 2 * width <= count + 1 ? low + 2 * width : count + 1;
			merge(L, from, into, low, middle, high);
		}
		int sorted = into;
		into = from;
		from = sorted;
	}
	copy(L, from, 1, count);
	return 0;
}

void hs_lib_table_open(lua_State *L)
{
	static const luaL_Reg functions[] = {
	    {"concat", table_concat}, {"insert", table_insert}, {"remove", table_remove},
	    {"sort", table_sort},     {"unpack", table_unpack}, {NULL, NULL},
	};
	lua_createtable(L, 0, 5);
	hs_declare_library(L, "table", functions);
}
