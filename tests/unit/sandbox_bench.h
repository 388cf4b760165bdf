/* A sandbox with a text in it, and the words the tests of the gate and of seals declare. For one test program each. */
#ifndef HALFSPLIT_TESTS_SANDBOX_BENCH_H
#define HALFSPLIT_TESTS_SANDBOX_BENCH_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>
#include <lauxlib.h>
#include <stdio.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "../../core/playbook/sandbox.h"

#define BUDGET 8000000LL

typedef struct bench {
	hs_sources *sources;
	hs_sandbox *sandbox;
	hs_error error;
} bench;

static inline bench open_text(const char *text, const hs_sandbox_limits *limits)
{
	bench b = {0};
	b.sources = hs_sources_from_text("try.lua", text, strlen(text), &b.error);
	if (!b.sources)
		fail_msg("%s", b.error.message);
	b.sandbox = hs_sandbox_open(limits, b.sources, "playbook", &b.error);
	if (!b.sandbox)
		fail_msg("%s", b.error.message);
	return b;
}

static inline void close_bench(bench *b)
{
	hs_sandbox_close(b->sandbox);
	hs_sources_free(b->sources);
}

static inline void expect_at(const char *name, const hs_error *error, const char *file, int line, const char *message)
{
	if (!strstr(error->message, message) || strcmp(error->file, file) != 0 || error->line != line)
		fail_msg("%s: %s:%d: %s (hint: %s)\nwanted %s:%d: %s", name, error->file, error->line, error->message,
		         error->hint, file, line, message);
}

static inline void expect_hint(const char *name, const hs_error *error, const char *hint)
{
	if (!strstr(error->hint, hint))
		fail_msg("%s: the hint is \"%s\", wanted \"%s\"", name, error->hint, hint);
}

static inline int raise_refused(lua_State *L)
{
	hs_error error = {.code = HS_REFUSED};
	hs_copy(error.message, sizeof error.message, "not now");
	hs_copy(error.hint, sizeof error.hint, "later");
	return hs_sandbox_raise(L, &error);
}

static inline int raise_placed(lua_State *L)
{
	hs_error error = {.code = HS_BAD_INPUT, .line = 77};
	hs_copy(error.file, sizeof error.file, "elsewhere.lua");
	hs_copy(error.message, sizeof error.message, "placed");
	hs_copy(error.quote, sizeof error.quote, "quoted");
	return hs_sandbox_raise(L, &error);
}

static inline int where(lua_State *L)
{
	const char *file;
	int line;
	bool there = hs_sandbox_where(L, (int)lua_tointeger(L, 1), &file, &line);
	lua_pushfstring(L, "%s:%d:%s", file, line, there ? "yes" : "no");
	return 1;
}

static inline int host_text(lua_State *L)
{
	lua_pushstring(L, hs_sandbox_host(L));
	return 1;
}

static inline int inner_call(lua_State *L)
{
	hs_error error = {0};
	lua_settop(L, 1);
	if (!hs_sandbox_call(hs_sandbox_of(L), 0, 1, 1000, &error))
		return hs_sandbox_raise(L, &error);
	return 1;
}

static inline int work(lua_State *L)
{
	hs_sandbox_charge(L, (size_t)lua_tointeger(L, 1));
	return 0;
}

/* keep(f): the last function given, in the registry, for the seal tests. */
static inline int keep(lua_State *L)
{
	lua_settop(L, 1);
	*(int *)hs_sandbox_host(L) = luaL_ref(L, LUA_REGISTRYINDEX);
	return 0;
}

static inline int declare_words(lua_State *L)
{
	static const luaL_Reg words[] = {
	    {"refuse", raise_refused}, {"placed", raise_placed}, {"where", where}, {"host", host_text},
	    {"inner", inner_call},     {"work", work},           {"keep", keep},
	};
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
		lua_pushcfunction(L, words[i].func);
		hs_sandbox_declare(L, words[i].name);
	}
	lua_newtable(L);
	lua_pushinteger(L, 50);
	lua_setfield(L, -2, "ohm");
	lua_pushstring(L, "first");
	lua_rawseti(L, -2, 1);
	hs_sandbox_seal_table(L, "shop");
	hs_sandbox_declare(L, "shop");
	lua_newuserdatauv(L, 1, 0);
	hs_sandbox_declare(L, "thing");
	return 0;
}

static inline bench open_with_words(const char *text, void *host)
{
	bench b = open_text(text, NULL);
	hs_sandbox_set_host(b.sandbox, host);
	assert_true(hs_sandbox_protected(b.sandbox, declare_words, NULL, 100000, &b.error));
	return b;
}

#endif
