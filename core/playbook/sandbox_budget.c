/* Instructions and processor time: what a sandbox may use, and how it dies. */
#include <stdlib.h>
#include <time.h>
#include "sandbox_impl.h"

static double processor_time(void)
{
	struct timespec now;
	clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
	return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
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
			hs_fail(fault, HS_BUDGET, "the %s made a text longer than %zu KiB", what, HS_STRING_MOST / 1024);
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
