/* Chunks from the sources, and `require` over them. */
#include <lauxlib.h>
#include <string.h>
#include "sandbox_impl.h"

/* Instructions charged for a byte of source: the parser runs outside the count hook. */
enum { PARSE_CHARGE = 10 };

static const char loaded_key = 'l', loading_mark = 'm';

void hs_chunk_load(lua_State *L, const hs_source *source)
{
	hs_sandbox *sandbox = hs_sandbox_of(L);
	hs_error error;
	hs_sandbox_charge(L, source->text_length * PARSE_CHARGE);
	if (source->text[0] == LUA_SIGNATURE[0]) {
		hs_fail(&error, HS_BAD_INPUT, "this is compiled Lua, and only Lua text is read");
		hs_fail_at(&error, source->path, 1);
		hs_sandbox_raise(L, &error);
	}
	lua_pushfstring(L, "@%s", source->path);
	int status = luaL_loadbufferx(L, source->text, source->text_length, lua_tostring(L, -1), "t");
	lua_remove(L, -2);
	if (status == LUA_ERRMEM) {
		hs_sandbox_kill(sandbox, HS_DEAD_MEMORY);
		hs_sandbox_rethrow(L);
	}
	if (status != LUA_OK) {
		const char *text = lua_type(L, -1) == LUA_TSTRING ? lua_tostring(L, -1) : "";
		hs_error_from_text(sandbox, text, &error);
		hs_error_place(sandbox, &error, error.file[0] ? NULL : source->path, 1);
		hs_sandbox_raise(L, &error);
	}
	hs_env_push(L);
	lua_setupvalue(L, -2, 1);
}

static int refuse_circle(lua_State *L, const char *path)
{
	hs_error error;
	hs_fail(&error, HS_BAD_INPUT, "\"%s\" is required while it is itself being read", path);
	hs_fail_hint(&error, "move what both files need into a third one");
	return hs_sandbox_raise(L, &error);
}

static int lib_require(lua_State *L)
{
	hs_error error = {0};
	hs_sandbox *sandbox = hs_sandbox_of(L);
	size_t length;
	if (lua_type(L, 1) != LUA_TSTRING)
		return hs_sandbox_raisef(L, "require wants a file name in quotes, and was given a %s",
		                         luaL_typename(L, 1));
	const char *name = lua_tolstring(L, 1, &length);
	if (strlen(name) != length)
		return hs_sandbox_raisef(L, "require was given a name with a NUL character in it");
	const hs_source *source = hs_sources_open(sandbox->sources, name, HS_SOURCE_LUA, &error);
	if (!source)
		return hs_sandbox_raise(L, &error);
	lua_settop(L, 0);
	lua_rawgetp(L, LUA_REGISTRYINDEX, &loaded_key);
	lua_pushstring(L, source->path);
	lua_pushvalue(L, -1);
	lua_rawget(L, 1);
	if (lua_touserdata(L, -1) == (const void *)&loading_mark || source == hs_sources_main(sandbox->sources))
		return refuse_circle(L, source->path);
	if (!lua_isnil(L, -1))
		return 1;
	lua_pop(L, 1);
	lua_pushvalue(L, 2);
	lua_pushlightuserdata(L, (void *)&loading_mark);
	lua_rawset(L, 1);
	hs_chunk_load(L, source);
	lua_call(L, 0, 1);
	if (lua_isnil(L, -1)) {
		lua_pop(L, 1);
		lua_pushboolean(L, 1);
	}
	lua_pushvalue(L, 2);
	lua_pushvalue(L, -2);
	lua_rawset(L, 1);
	return 1;
}

void hs_require_open(lua_State *L)
{
	lua_createtable(L, 0, 4);
	lua_rawsetp(L, LUA_REGISTRYINDEX, &loaded_key);
	lua_pushcfunction(L, lib_require);
	hs_sandbox_declare(L, "require");
}
