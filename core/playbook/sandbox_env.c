/* The strict environment, and sealed tables: what is offered is known by name, and nothing else is there. */
#include <lauxlib.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "sandbox_impl.h"

enum { KNOWN_MOST = 256 };

/* Registry and metatable keys; only their addresses matter. */
static const char words_key = 'w', environment_key = 'e', sealed_key = 'k';

/* What Lua has elsewhere and a playbook has not, with what to write in its place. */
static const char *const absent[][2] = {
    {"print", "a tell step shows text; an error shows a value while you look for a mistake"},
    {"next", "use pairs, which goes through the keys in order"},
    {"rawget", "use t[key]"},
    {"rawset", "use t[key] = value"},
    {"rawequal", "use =="},
    {"rawlen", "use #t"},
    {"xpcall", "use pcall"},
    {"load", "use require for a file of your own"},
    {"loadstring", "use require for a file of your own"},
    {"loadfile", "use require for a file of your own"},
    {"dofile", "use require for a file of your own"},
    {"package", "use require for a file of your own"},
    {"unpack", "it is table.unpack"},
    {"io", "a playbook reads no files but those it requires"},
    {"os", "a playbook sees no clock and no system"},
    {"debug", "a playbook cannot look into its own running"},
    {"coroutine", "write a loop or a function"},
    {"collectgarbage", "memory looks after itself"},
    {"utf8", "a playbook's text is taken byte by byte"},
    {"_G", "write the word itself"},
    {"string.gsub", "there are no patterns; string.find, split and sub take plain text"},
    {"string.match", "there are no patterns; string.find, split and sub take plain text"},
    {"string.gmatch", "there are no patterns; string.split takes plain text"},
    {"math.random", "a playbook gives the same in every run"},
    {"math.randomseed", "a playbook gives the same in every run"},
    {"math.pow", "write x ^ y"},
    {"table.pack", "write { ... }"},
};

static const char *absent_hint(const char *word)
{
	for (size_t i = 0; i < sizeof absent / sizeof absent[0]; i++)
		if (strcmp(absent[i][0], word) == 0)
			return absent[i][1];
	return NULL;
}

static int by_letters(const void *left, const void *right)
{
	return strcmp(*(const char *const *)left, *(const char *const *)right);
}

/* The string keys of the table; good as long as the table holds them. */
static size_t known_words(lua_State *L, int table, const char *known[KNOWN_MOST])
{
	size_t count = 0;
	lua_pushnil(L);
	while (lua_next(L, table)) {
		if (lua_type(L, -2) == LUA_TSTRING && count < KNOWN_MOST)
			known[count++] = lua_tostring(L, -2);
		lua_pop(L, 1);
	}
	/* A table gives its keys in an order that changes from run to run; of two words as near as each other one must always be the same. */
	qsort(known, count, sizeof *known, by_letters);
	return count;
}

static void hint_nearest(lua_State *L, int table, const char *word, const char *otherwise, hs_error *error)
{
	const char *known[KNOWN_MOST];
	const char *near = hs_nearest(word, known, known_words(L, table, known));
	if (near)
		hs_fail_hint(error, "did you mean `%s`?", near);
	else
		hs_fail_hint(error, "%s", otherwise);
}

static int unknown_entry(lua_State *L, const char *library, const char *word)
{
	hs_error error;
	char whole[128];
	snprintf(whole, sizeof whole, "%.40s.%.60s", library, word);
	const char *instead = absent_hint(whole);
	hs_fail(&error, HS_BAD_INPUT, "`%s` is not offered to a %s", whole, hs_sandbox_of(L)->what);
	if (instead)
		hs_fail_hint(&error, "%s", instead);
	else
		hint_nearest(L, 1, word, "what is offered stands in the guide to playbooks", &error);
	return hs_sandbox_raise(L, &error);
}

void hs_sandbox_declare_later(lua_State *L, void (*open)(lua_State *L))
{
	hs_sandbox_of(L)->later = open;
}

/* Pushes the word at stack index `at`, declared by now; returns its type. */
static int push_word(lua_State *L, int at)
{
	hs_sandbox *sandbox = hs_sandbox_of(L);
	if (sandbox->later) {
		sandbox->later(L);
		sandbox->later = NULL;
	}
	lua_rawgetp(L, LUA_REGISTRYINDEX, &words_key);
	lua_pushvalue(L, at);
	return lua_rawget(L, -2);
}

/*
 * __index of a table of words: (table, key), reached only when the key is not there. Upvalue 1 names the table, or
 * is nil.
 */
static int unknown_word(lua_State *L)
{
	hs_error error;
	const char *library = lua_tostring(L, lua_upvalueindex(1));
	const char *what = hs_sandbox_of(L)->what;
	if (lua_type(L, 2) != LUA_TSTRING)
		return hs_sandbox_raisef(L, "`%s` has no entry under a %s", library ? library : "_ENV",
		                         luaL_typename(L, 2));
	const char *word = lua_tostring(L, 2);
	if (library)
		return unknown_entry(L, library, word);
	if (push_word(L, 2) != LUA_TNIL)
		return 1;
	const char *instead = absent_hint(word);
	if (instead) {
		hs_fail(&error, HS_BAD_INPUT, "`%s` is not offered to a %s", word, what);
		hs_fail_hint(&error, "%s", instead);
		return hs_sandbox_raise(L, &error);
	}
	hs_fail(&error, HS_BAD_INPUT, "the word `%.60s` is not known in a %s", word, what);
	hint_nearest(L, 1, word, "a name of your own is made with local", &error);
	return hs_sandbox_raise(L, &error);
}

/* __newindex of a sealed table. Upvalue 1 names it, or is nil for the environment. */
static int refuse_write(lua_State *L)
{
	hs_error error;
	const char *library = lua_tostring(L, lua_upvalueindex(1));
	const char *word = lua_type(L, 2) == LUA_TSTRING ? lua_tostring(L, 2) : "?";
	if (library)
		return hs_sandbox_raisef(L, "`%s` is sealed and cannot be changed", library);
	if (push_word(L, 2) != LUA_TNIL)
		return hs_sandbox_raisef(L, "`%.60s` belongs to halfsplit and cannot be changed", word);
	hs_fail(&error, HS_BAD_INPUT, "`%.60s` is assigned without local, and a %s keeps no globals", word,
	        hs_sandbox_of(L)->what);
	hs_fail_hint(&error, "write local %.60s = ...", word);
	return hs_sandbox_raise(L, &error);
}

static int sealed_length(lua_State *L)
{
	hs_unsealed_push(L, 1);
	lua_pushinteger(L, (lua_Integer)lua_rawlen(L, -1));
	return 1;
}

static void push_name(lua_State *L, const char *name)
{
	if (name)
		lua_pushstring(L, name);
	else
		lua_pushnil(L);
}

/* Makes reading an unknown key of the table on top an error. */
static void make_strict(lua_State *L, const char *name)
{
	lua_createtable(L, 0, 1);
	push_name(L, name);
	lua_pushcclosure(L, unknown_word, 1);
	lua_setfield(L, -2, "__index");
	lua_setmetatable(L, -2);
}

/* Replaces the table on top by an empty one that reads through to it. */
static void make_proxy(lua_State *L, const char *name)
{
	lua_createtable(L, 0, 0);
	lua_createtable(L, 0, 5);
	lua_pushvalue(L, -3);
	lua_setfield(L, -2, "__index");
	push_name(L, name);
	lua_pushcclosure(L, refuse_write, 1);
	lua_setfield(L, -2, "__newindex");
	lua_pushcfunction(L, sealed_length);
	lua_setfield(L, -2, "__len");
	lua_pushboolean(L, 0);
	lua_setfield(L, -2, "__metatable");
	lua_pushvalue(L, -3);
	lua_rawsetp(L, -2, &sealed_key);
	lua_setmetatable(L, -2);
	lua_remove(L, -2);
}

void hs_sandbox_seal_table(lua_State *L, const char *name)
{
	luaL_checkstack(L, 8, NULL);
	make_strict(L, name);
	make_proxy(L, name);
}

void hs_unsealed_push(lua_State *L, int index)
{
	index = lua_absindex(L, index);
	if (lua_istable(L, index) && lua_getmetatable(L, index)) {
		if (lua_rawgetp(L, -1, &sealed_key) == LUA_TTABLE) {
			lua_remove(L, -2);
			return;
		}
		lua_pop(L, 2);
	}
	lua_pushvalue(L, index);
}

bool hs_table_marked(lua_State *L, int index)
{
	if (!lua_istable(L, index) || !lua_getmetatable(L, index))
		return false;
	bool marked = lua_rawgetp(L, -1, &sealed_key) == LUA_TTABLE;
	lua_pop(L, 2);
	return marked;
}

bool hs_sandbox_is_sealed(lua_State *L, int index)
{
	return lua_type(L, index) == LUA_TUSERDATA || hs_table_marked(L, index);
}

void hs_env_open(lua_State *L)
{
	lua_createtable(L, 0, 64);
	lua_pushvalue(L, -1);
	lua_rawsetp(L, LUA_REGISTRYINDEX, &words_key);
	hs_sandbox_seal_table(L, NULL);
	lua_rawsetp(L, LUA_REGISTRYINDEX, &environment_key);
}

void hs_env_push(lua_State *L)
{
	lua_rawgetp(L, LUA_REGISTRYINDEX, &environment_key);
}

void hs_sandbox_declare(lua_State *L, const char *name)
{
	luaL_checkstack(L, 4, NULL);
	lua_rawgetp(L, LUA_REGISTRYINDEX, &words_key);
	lua_pushstring(L, name);
	lua_pushvalue(L, -3);
	lua_rawset(L, -3);
	lua_pop(L, 2);
}
