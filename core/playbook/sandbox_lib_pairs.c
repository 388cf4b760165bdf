/*
 * ipairs, and pairs in an order that is the same in every run: numbers ascending, texts by bytes, then false and
 * true.
 */
#include "sandbox_lib.h"

#include <stdlib.h>
#include <string.h>

typedef struct sort_key {
	int rank;            /* 0 number, 1 text, 2 boolean */
	bool whole;          /* the number is an integer */
	lua_Integer integer; /* also the boolean */
	lua_Number number;
	const char *text; /* held by the table while it is sorted */
	size_t length;
} sort_key;

static int compare_numbers(const sort_key *a, const sort_key *b)
{
	if (a->whole && b->whole)
		return (a->integer > b->integer) - (a->integer < b->integer);
	int order = (a->number > b->number) - (a->number < b->number);
	/* A large integer and a float may meet in the same double; they are still two keys. */
	return order ? order : (int)a->whole - (int)b->whole;
}

static int compare_texts(const sort_key *a, const sort_key *b)
{
	size_t least = a->length < b->length ? a->length : b->length;
	int order = memcmp(a->text, b->text, least);
	return order ? order : (a->length > b->length) - (a->length < b->length);
}

static int compare_keys(const void *left, const void *right)
{
	const sort_key *a = left, *b = right;
	if (a->rank != b->rank)
		return a->rank - b->rank;
	if (a->rank == 0)
		return compare_numbers(a, b);
	return a->rank == 1 ? compare_texts(a, b) : (int)(a->integer - b->integer);
}

static sort_key read_key(lua_State *L, int index)
{
	sort_key key = {0};
	switch (lua_type(L, index)) {
	case LUA_TNUMBER:
		key.whole = lua_isinteger(L, index);
		key.integer = key.whole ? lua_tointeger(L, index) : 0;
		key.number = lua_tonumber(L, index);
		break;
	case LUA_TSTRING:
		key.rank = 1;
		key.text = lua_tolstring(L, index, &key.length);
		break;
	case LUA_TBOOLEAN:
		key.rank = 2;
		key.integer = lua_toboolean(L, index);
		break;
	default:
		hs_sandbox_raisef(L,
		                  "pairs found a key that is a %s, and only numbers, texts and booleans "
		                  "have an order",
		                  luaL_typename(L, index));
	}
	return key;
}

static void push_key(lua_State *L, const sort_key *key)
{
	if (key->rank == 1)
		lua_pushlstring(L, key->text, key->length);
	else if (key->rank == 2)
		lua_pushboolean(L, (int)key->integer);
	else if (key->whole)
		lua_pushinteger(L, key->integer);
	else
		lua_pushnumber(L, key->number);
}

static size_t count_keys(lua_State *L, int table)
{
	size_t count = 0;
	lua_pushnil(L);
	while (lua_next(L, table)) {
		lua_pop(L, 1);
		count++;
	}
	return count;
}

/* Pushes an array of the keys of the table, in order. */
static lua_Integer push_sorted_keys(lua_State *L, int table)
{
	size_t count = count_keys(L, table), filled = 0;
	hs_sandbox_charge(L, 4 * count);
	sort_key *keys = lua_newuserdatauv(L, (count + 1) * sizeof *keys, 0);
	lua_pushnil(L);
	while (lua_next(L, table)) {
		lua_pop(L, 1);
		keys[filled++] = read_key(L, -1);
	}
	qsort(keys, filled, sizeof *keys, compare_keys);
	lua_createtable(L, (int)filled, 0);
	for (size_t i = 0; i < filled; i++) {
		push_key(L, &keys[i]);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	lua_remove(L, -2);
	return (lua_Integer)filled;
}

/* Upvalues: the table, its keys, how many were given. A key that has gone since is passed over. */
static int next_pair(lua_State *L)
{
	lua_Integer at = lua_tointeger(L, lua_upvalueindex(3));
	lua_settop(L, 0);
	for (;;) {
		hs_sandbox_charge(L, 1);
		if (lua_rawgeti(L, lua_upvalueindex(2), ++at) == LUA_TNIL)
			return 1;
		lua_pushvalue(L, -1);
		if (lua_rawget(L, lua_upvalueindex(1)) != LUA_TNIL)
			break;
		lua_settop(L, 0);
	}
	lua_pushinteger(L, at);
	lua_replace(L, lua_upvalueindex(3));
	return 2;
}

static int lib_pairs(lua_State *L)
{
	luaL_checktype(L, 1, LUA_TTABLE);
	hs_unsealed_push(L, 1);
	lua_replace(L, 1);
	lua_settop(L, 1);
	push_sorted_keys(L, 1);
	lua_pushinteger(L, 0);
	lua_pushcclosure(L, next_pair, 3);
	return 1;
}

static int next_item(lua_State *L)
{
	lua_Integer at = lua_tointeger(L, 2) + 1;
	lua_settop(L, 1);
	lua_pushinteger(L, at);
	return lua_geti(L, 1, at) == LUA_TNIL ? 1 : 2;
}

/* A sealed table would refuse to be asked for the entry behind its last. */
static int next_item_raw(lua_State *L)
{
	lua_Integer at = lua_tointeger(L, 2) + 1;
	lua_settop(L, 1);
	hs_unsealed_push(L, 1);
	lua_pushinteger(L, at);
	if (lua_rawgeti(L, 2, at) == LUA_TNIL)
		return 1;
	return 2;
}

static int lib_ipairs(lua_State *L)
{
	luaL_checkany(L, 1);
	lua_settop(L, 1);
	lua_pushcfunction(L, hs_table_marked(L, 1) ? next_item_raw : next_item);
	lua_insert(L, 1);
	lua_pushinteger(L, 0);
	return 3;
}

void hs_lib_pairs_open(lua_State *L)
{
	lua_pushcfunction(L, lib_pairs);
	hs_sandbox_declare(L, "pairs");
	lua_pushcfunction(L, lib_ipairs);
	hs_sandbox_declare(L, "ipairs");
}
