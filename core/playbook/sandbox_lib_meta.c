/* setmetatable and getmetatable, without what could run unseen or make the garbage collector visible. */
#include "sandbox_lib.h"

#include <string.h>

/* In the copy that is set: the table the author gave, for getmetatable. */
static const char original_key = 'o';

static bool event_offered(const char *name)
{
	static const char *const offered[] = {
	    "__index", "__newindex", "__call", "__tostring", "__len", "__eq",  "__lt",     "__le",
	    "__add",   "__sub",      "__mul",  "__div",      "__mod", "__pow", "__unm",    "__idiv",
	    "__band",  "__bor",      "__bxor", "__bnot",     "__shl", "__shr", "__concat", "__name",
	};
	for (size_t i = 0; i < sizeof offered / sizeof offered[0]; i++)
		if (strcmp(offered[i], name) == 0)
			return true;
	return false;
}

/*
 * What is set is a copy of the metatable's events. So an event added later, such as __close or __mode, which Lua would
 * look up when it needs it, has no effect.
 */
static void copy_events(lua_State *L, int from)
{
	lua_createtable(L, 0, 4);
	lua_pushnil(L);
	while (lua_next(L, from)) {
		hs_sandbox_charge(L, 1);
		const char *key = lua_type(L, -2) == LUA_TSTRING ? lua_tostring(L, -2) : "";
		if (strncmp(key, "__", 2) != 0) {
			lua_pop(L, 1);
			continue;
		}
		if (!event_offered(key))
			hs_sandbox_raisef(L, "setmetatable does not offer `%.60s`", key);
		lua_pushvalue(L, -2);
		lua_insert(L, -2);
		lua_rawset(L, -4);
	}
	lua_pushvalue(L, from);
	lua_rawsetp(L, -2, &original_key);
}

static int lib_setmetatable(lua_State *L)
{
	hs_arg_open_table(L, 1);
	luaL_argexpected(L, lua_istable(L, 2) || lua_isnil(L, 2), 2, "nil or table");
	lua_settop(L, 2);
	if (lua_istable(L, 2))
		copy_events(L, 2);
	lua_setmetatable(L, 1);
	lua_settop(L, 1);
	return 1;
}

static int lib_getmetatable(lua_State *L)
{
	luaL_checkany(L, 1);
	if (!lua_getmetatable(L, 1)) {
		lua_pushnil(L);
		return 1;
	}
	/* Only a metatable an author set has an original; every other is nobody's business. */
	if (lua_rawgetp(L, -1, &original_key) == LUA_TNIL)
		lua_pushboolean(L, 0);
	return 1;
}

void hs_lib_meta_open(lua_State *L)
{
	lua_pushcfunction(L, lib_setmetatable);
	hs_sandbox_declare(L, "setmetatable");
	lua_pushcfunction(L, lib_getmetatable);
	hs_sandbox_declare(L, "getmetatable");
}
