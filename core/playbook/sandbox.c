#include "sandbox.h"

#include <stdio.h>
#include <stdlib.h>
#include "halfsplit/base/alloc.h"
#include "sandbox_impl.h"

/*
 * The allocator's context is the sandbox: found without touching the stack, so also from a hook or a refused
 * allocation.
 */
hs_sandbox *hs_sandbox_of(lua_State *L)
{
	void *sandbox = NULL;
	lua_getallocf(L, &sandbox);
	return sandbox;
}

lua_State *hs_sandbox_state(hs_sandbox *sandbox)
{
	return sandbox->L;
}

hs_sources *hs_sandbox_sources(hs_sandbox *sandbox)
{
	return sandbox->sources;
}

void hs_sandbox_set_host(hs_sandbox *sandbox, void *host)
{
	sandbox->host = host;
}

void *hs_sandbox_host(lua_State *L)
{
	return hs_sandbox_of(L)->host;
}

bool hs_sandbox_dead(const hs_sandbox *sandbox)
{
	return sandbox->dead != HS_ALIVE;
}

/* Reached only when a binding raises outside the gate, which is a defect; still better words than abort's. */
static int panic(lua_State *L)
{
	(void)L;
	fputs("halfsplit: Lua raised an error outside its gate; what was acknowledged is on disk\n", stderr);
	exit(3);
}

static int open_words(lua_State *L)
{
	hs_env_open(L);
	hs_lib_open(L);
	hs_lib_pairs_open(L);
	hs_lib_meta_open(L);
	hs_lib_string_open(L);
	hs_lib_table_open(L);
	hs_lib_math_open(L);
	hs_require_open(L);
	return 0;
}

/* A playbook makes little garbage: looking for it at each doubling of a small heap would be looking in vain. */
enum { GC_PAUSE = 400 };

static hs_sandbox *new_sandbox(const hs_sandbox_limits *limits, hs_sources *sources, const char *what)
{
	hs_sandbox *sandbox = hs_alloc(sizeof *sandbox);
	sandbox->sources = sources;
	sandbox->what = what;
	sandbox->memory_most = limits && limits->memory ? limits->memory : HS_SANDBOX_MEMORY;
	sandbox->seconds = limits && limits->seconds ? limits->seconds : HS_SANDBOX_SECONDS;
	sandbox->fail_at = limits ? limits->fail_at : 0;
	return sandbox;
}

hs_sandbox *hs_sandbox_open(const hs_sandbox_limits *limits, hs_sources *sources, const char *what, hs_error *error)
{
	hs_sandbox *sandbox = new_sandbox(limits, sources, what);
	lua_State *L = lua_newstate(hs_sandbox_alloc, sandbox);
	if (!L) {
		hs_sandbox_kill(sandbox, HS_DEAD_MEMORY);
		if (error)
			*error = sandbox->fault;
		hs_sandbox_close(sandbox);
		return NULL;
	}
	sandbox->L = L;
	lua_atpanic(L, panic);
	lua_gc(L, LUA_GCINC, GC_PAUSE, 0, 0);
	if (!hs_sandbox_protected(sandbox, open_words, NULL, HS_SANDBOX_CALL_BUDGET, error)) {
		hs_sandbox_close(sandbox);
		return NULL;
	}
	return sandbox;
}

void hs_sandbox_close(hs_sandbox *sandbox)
{
	if (!sandbox)
		return;
	if (sandbox->L)
		lua_close(sandbox->L);
	hs_sandbox_free_pieces(sandbox);
	hs_seals_free(sandbox->seals);
	free(sandbox);
}

static bool refuse_dead(hs_sandbox *sandbox, int drop, hs_error *error)
{
	lua_settop(sandbox->L, -drop - 1);
	if (error)
		*error = sandbox->fault;
	return false;
}

bool hs_sandbox_call(hs_sandbox *sandbox, int nargs, int nresults, long long budget, hs_error *error)
{
	lua_State *L = sandbox->L;
	int base = lua_gettop(L) - nargs;
	long long outer = sandbox->left, outer_budget = sandbox->budget;
	if (!sandbox->dead && !lua_checkstack(L, 8))
		hs_sandbox_kill(sandbox, HS_DEAD_MEMORY);
	if (sandbox->dead)
		return refuse_dead(sandbox, nargs + 1, error);
	/* An entry from within an entry spends what the outer one has left. */
	long long given = sandbox->depth > 0 && outer < budget ? outer : budget;
	if (sandbox->depth++ == 0)
		hs_budget_watch(sandbox);
	sandbox->budget = given;
	sandbox->frames = 0;
	hs_budget_start(sandbox, given);
	lua_pushcfunction(L, hs_trace_handler);
	lua_insert(L, base);
	int status = lua_pcall(L, nargs, nresults, base);
	if (status != LUA_OK) {
		hs_error_from_stack(sandbox, status, error);
		lua_settop(L, base);
	}
	lua_remove(L, base);
	/* What was used of the last slice, here and outside, is not known: a whole one is taken for it. */
	long long spent = given - sandbox->left + HS_SLICE;
	sandbox->budget = outer_budget;
	if (--sandbox->depth > 0 && !sandbox->dead)
		hs_budget_start(sandbox, outer - spent);
	return status == LUA_OK;
}

bool hs_sandbox_protected(hs_sandbox *sandbox, lua_CFunction function, void *argument, long long budget,
                          hs_error *error)
{
	lua_State *L = sandbox->L;
	if (!sandbox->dead && !lua_checkstack(L, 8))
		hs_sandbox_kill(sandbox, HS_DEAD_MEMORY);
	if (sandbox->dead)
		return refuse_dead(sandbox, 0, error);
	lua_pushcfunction(L, function);
	lua_pushlightuserdata(L, argument);
	return hs_sandbox_call(sandbox, 1, 0, budget, error);
}

static int run_main(lua_State *L)
{
	const hs_source *source = hs_sources_main(hs_sandbox_of(L)->sources);
	if (!source)
		return hs_sandbox_raisef(L, "there is no text to run");
	hs_chunk_load(L, source);
	lua_call(L, 0, 0);
	return 0;
}

bool hs_sandbox_run_main(hs_sandbox *sandbox, long long budget, hs_error *error)
{
	return hs_sandbox_protected(sandbox, run_main, NULL, budget, error);
}

const char *hs_type_words(int type)
{
	switch (type) {
	case LUA_TNIL:
		return "nothing";
	case LUA_TBOOLEAN:
		return "true or false";
	case LUA_TNUMBER:
		return "a number";
	case LUA_TSTRING:
		return "a text";
	case LUA_TTABLE:
		return "a table";
	case LUA_TFUNCTION:
		return "a function";
	}
	return "something else";
}
