/* Memory, instructions and processor time: what a sandbox may use, and how it dies. */
#include <stdlib.h>
#include <time.h>
#include "sandbox_impl.h"

/* No string may be longer, so that comparing or joining two is never long work between two looks at the watchdog. */
#define STRING_MOST (2 * HS_SANDBOX_TEXT_MOST)

/* Each refusal makes Lua collect all garbage and ask again; a playbook living at the brink would do nothing else. */
enum { REFUSALS_MOST = 100 };

static double processor_time(void)
{
	struct timespec now;
	clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
	return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}

static bool refused(hs_sandbox *sandbox, size_t growth, bool too_long)
{
	bool injected = sandbox->fail_at > 0 && ++sandbox->allocations >= sandbox->fail_at;
	if (!injected && !too_long && sandbox->refusals < REFUSALS_MOST && growth <= sandbox->memory_most &&
	    sandbox->memory_used <= sandbox->memory_most - growth)
		return false;
	sandbox->refusals++;
	sandbox->refused_text = too_long;
	/* Walking the call list reads only: it is as it was before the instruction that wants the memory. */
	if (sandbox->L)
		hs_sandbox_where(sandbox->L, 1, &sandbox->refused_at.file, &sandbox->refused_at.line);
	return true;
}

void *hs_sandbox_alloc(void *context, void *old, size_t old_size, size_t size)
{
	hs_sandbox *sandbox = context;
	/* For a new block Lua passes its kind in place of the old size. */
	bool too_long = !old && old_size == LUA_TSTRING && size > STRING_MOST;
	if (!old)
		old_size = 0;
	if (size == 0) {
		sandbox->memory_used -= old_size;
		free(old);
		return NULL;
	}
	if (size > old_size && refused(sandbox, size - old_size, too_long))
		return NULL;
	void *block = realloc(old, size);
	/* Lua relies on a block never failing to shrink. */
	if (!block && size <= old_size)
		block = old;
	if (block)
		sandbox->memory_used = sandbox->memory_used - old_size + size;
	return block;
}

static void describe_death(hs_sandbox *sandbox, hs_death death, hs_error *fault)
{
	const char *what = sandbox->what;
	switch (death) {
	case HS_DEAD_INSTRUCTIONS:
		hs_fail(fault, HS_BUDGET, "the %s used up its %lld instructions", what, sandbox->budget);
		hs_fail_hint(fault, "look here for a loop or a recursion that does not end");
		break;
	case HS_DEAD_MEMORY:
		if (sandbox->refused_text)
			hs_fail(fault, HS_BUDGET, "the %s made a text longer than %zu KiB", what, STRING_MOST / 1024);
		else
			hs_fail(fault, HS_BUDGET, "the %s wanted more memory than the %zu KiB it may have", what,
			        sandbox->memory_most / 1024);
		hs_fail_hint(fault, "look here for a table or a text that grows without end");
		break;
	case HS_DEAD_TIME:
		hs_fail(fault, HS_BUDGET, "the %s took more than %d s of processor time", what, sandbox->seconds);
		hs_fail_hint(fault, "look here for work on very long texts or tables that is done again and again");
		break;
	case HS_ALIVE:
		break;
	}
}

static void hook(lua_State *L, lua_Debug *ar);

void hs_sandbox_kill(hs_sandbox *sandbox, hs_death death)
{
	hs_frame at = sandbox->refused_at;
	if (sandbox->dead)
		return;
	sandbox->dead = death;
	describe_death(sandbox, death, &sandbox->fault);
	if (death != HS_DEAD_MEMORY)
		hs_sandbox_where(sandbox->L, 1, &at.file, &at.line);
	hs_error_place(sandbox, &sandbox->fault, at.file, at.line);
	if (sandbox->L)
		lua_sethook(sandbox->L, hook, LUA_MASKCOUNT, 1);
}

int hs_sandbox_rethrow(lua_State *L)
{
	lua_pushlightuserdata(L, &hs_sandbox_of(L)->fault);
	return lua_error(L);
}

static void hook(lua_State *L, lua_Debug *ar)
{
	(void)ar;
	hs_sandbox *sandbox = hs_sandbox_of(L);
	sandbox->left -= sandbox->slice;
	if (sandbox->left <= 0)
		hs_sandbox_kill(sandbox, HS_DEAD_INSTRUCTIONS);
	else if (processor_time() > sandbox->watchdog)
		hs_sandbox_kill(sandbox, HS_DEAD_TIME);
	if (sandbox->dead)
		hs_sandbox_rethrow(L);
	if (sandbox->left < sandbox->slice)
		hs_budget_start(sandbox, sandbox->left);
}

void hs_budget_start(hs_sandbox *sandbox, long long budget)
{
	sandbox->left = budget < 1 ? 1 : budget;
	sandbox->slice = sandbox->left < HS_SLICE ? (int)sandbox->left : HS_SLICE;
	lua_sethook(sandbox->L, hook, LUA_MASKCOUNT, sandbox->slice);
}

void hs_budget_watch(hs_sandbox *sandbox)
{
	sandbox->watchdog = processor_time() + sandbox->seconds;
}

void hs_sandbox_charge(lua_State *L, size_t count)
{
	hs_sandbox *sandbox = hs_sandbox_of(L);
	long long most = sandbox->left > 0 ? sandbox->left : 0;
	sandbox->left -= count > (size_t)most ? most : (long long)count;
	if (sandbox->left <= 0)
		hs_sandbox_kill(sandbox, HS_DEAD_INSTRUCTIONS);
	if (sandbox->dead)
		hs_sandbox_rethrow(L);
}
