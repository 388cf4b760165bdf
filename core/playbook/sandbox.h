/*
 * The Lua 5.4 sandbox: the one place where playbook code runs.
 *
 * One lua_State per sandbox, text chunks only, the words of sandbox_lib*.c and what a builder declares, nothing
 * else. Memory is capped by the allocator, instructions by a count hook, processor time by a watchdog that only
 * guards the process. Running out of any of them kills the sandbox: the error passes through every pcall, and every
 * later call fails with it.
 *
 * Rules for bindings:
 * - anything that can raise (every lua_push* of a string or table, lua_newuserdata, lua_getfield on foreign tables
 *   …) runs inside the gate: in a C function reached from hs_sandbox_run_main, hs_sandbox_call or
 *   hs_sandbox_protected. Outside it only what cannot raise is allowed: lua_pushnumber, pushinteger, pushboolean,
 *   pushnil, pushvalue, rawgeti, to*, settop.
 * - hold no malloc'd memory across a call that can raise; memory of the model comes from the model's arena.
 * - lua_tonumber and luaL_checknumber take a string for a number under Lua's rules ("0x10"): test lua_type first.
 * - a userdata's metatable carries __metatable = false, and the userdata is immutable to Lua; seal.h relies on
 *   both.
 */
#ifndef HALFSPLIT_CORE_PLAYBOOK_SANDBOX_H
#define HALFSPLIT_CORE_PLAYBOOK_SANDBOX_H

#include <stdbool.h>
#include <stddef.h>
#include <lua.h>
#include "halfsplit/base/error.h"
#include "halfsplit/playbook/sources.h"

#define HS_SANDBOX_MEMORY       ((size_t)64 * 1024 * 1024)
#define HS_SANDBOX_BUILD_BUDGET 50000000LL            /* instructions to build a playbook */
#define HS_SANDBOX_CALL_BUDGET  2000000LL             /* instructions of one later function call */
#define HS_SANDBOX_SECONDS      20                    /* processor seconds of one entry through the gate */
#define HS_SANDBOX_TEXT_MOST    ((size_t)1024 * 1024) /* bytes of the longest string a library function makes */

typedef struct hs_sandbox hs_sandbox;

typedef struct hs_sandbox_limits {
	size_t memory;         /* bytes; 0 means HS_SANDBOX_MEMORY */
	int seconds;           /* processor time of one entry; 0 means HS_SANDBOX_SECONDS */
	unsigned long fail_at; /* tests: allocation number fail_at and every one after it fails; 0 means never */
} hs_sandbox_limits;

/*
 * Opens a sandbox over a list of sources, which must outlive it (require adds to it). limits may be NULL. `what`
 * names the thing in messages ("playbook", "kit") and must outlive the sandbox. NULL and *error (HS_BUDGET) when
 * memory is too small.
 */
hs_sandbox *hs_sandbox_open(const hs_sandbox_limits *limits, hs_sources *sources, const char *what, hs_error *error);
void hs_sandbox_close(hs_sandbox *sandbox); /* accepts NULL */

lua_State *hs_sandbox_state(hs_sandbox *sandbox);
hs_sandbox *hs_sandbox_of(lua_State *L); /* the sandbox a state belongs to */
hs_sources *hs_sandbox_sources(hs_sandbox *sandbox);

/* A pointer of the builder's own, to be found again from any binding. Borrowed. */
void hs_sandbox_set_host(hs_sandbox *sandbox, void *host);
void *hs_sandbox_host(lua_State *L);

/* ---- The gate. It returns false and fills *error; the stack is then as before, less function and arguments. ---- */

/*
 * Calls the function below `nargs` arguments on the stack, like lua_call, with at most `budget` instructions. The
 * error names file and line in the playbook's sources, quotes that line, and tells the callers in the hint when
 * there are some. code is HS_BUDGET when the sandbox died of it, the code given to hs_sandbox_raise, or
 * HS_BAD_INPUT.
 */
bool hs_sandbox_call(hs_sandbox *sandbox, int nargs, int nresults, long long budget, hs_error *error);

/* Calls a C function with one light userdata argument, so that it may push and raise freely. No results. */
bool hs_sandbox_protected(hs_sandbox *sandbox, lua_CFunction function, void *argument, long long budget,
                          hs_error *error);

/* Compiles and runs the main file. */
bool hs_sandbox_run_main(hs_sandbox *sandbox, long long budget, hs_error *error);

/* True once instructions, memory or time ran out. */
bool hs_sandbox_dead(const hs_sandbox *sandbox);

/* ---- For code that runs inside the gate. ---- */

/*
 * Raises *error (copied) so that the gate returns exactly it. When it carries no file, the file and line of the
 * innermost playbook frame are filled in; when it carries no quote, the line. A pcall in the playbook sees the
 * message as text. Never returns; written `return hs_sandbox_raise(L, &e);`.
 */
int hs_sandbox_raise(lua_State *L, const hs_error *error);

/* The same from a format: HS_BAD_INPUT, where it happened, no hint. */
int hs_sandbox_raisef(lua_State *L, const char *format, ...) __attribute__((format(printf, 2, 3)));

/*
 * The file (as stored in the sources; good as long as they are) and current line of a playbook frame: level 1 is
 * the innermost Lua function, that is the caller of a binding, 2 its Lua caller. False when there is none: outputs
 * "" and 0.
 */
bool hs_sandbox_where(lua_State *L, int level, const char **file, int *line);

/* Pops the value on top and makes it the global `name`, known, readable, never assignable. Can raise. */
void hs_sandbox_declare(lua_State *L, const char *name);

/*
 * Has `open` declare further words when a word is read, or written, that is not there. A file sees no difference; most
 * name none of these words, and making them would take as long as reading such a file.
 */
void hs_sandbox_declare_later(lua_State *L, void (*open)(lua_State *L));

/*
 * Replaces the table on top by a sealed one: reading goes through, reading an unknown key is an error naming the
 * nearest known one, writing is an error. `name` is how messages call it ("math"). Can raise.
 */
void hs_sandbox_seal_table(lua_State *L, const char *name);

/* Takes `count` instructions from the budget: for bindings that work long. Raises when it is used up. */
void hs_sandbox_charge(lua_State *L, size_t count);

/*
 * Pushes what tostring gives: no addresses, __tostring honoured for text results, numbers locale-proof. The index must
 * be absolute or positive. Can raise.
 */
const char *hs_sandbox_tostring(lua_State *L, int index, size_t *length);

/* True for a table made by hs_sandbox_seal_table, and for any value whose metatable is protected. Never raises. */
bool hs_sandbox_is_sealed(lua_State *L, int index);

/* ---- seal.c: functions an author wrote keep nothing between calls. ---- */

/*
 * Records the upvalues of the function held by registry reference `ref` (luaL_ref), as they are now: numbers,
 * strings, booleans, nil, tables and functions throughout, sealed tables and protected userdata by identity. Call
 * once per function, after the build. An upvalue of another kind, or too deep (32) or large (65,536 entries), is
 * refused with the function's place.
 */
bool hs_seal_function(hs_sandbox *sandbox, int ref, hs_error *error);

/*
 * Finds a change since hs_seal_function and names the upvalue, with the function's place. Call after each call of it.
 * Cheap for a function without upvalues; else the cost of walking what they hold.
 */
bool hs_seal_check(hs_sandbox *sandbox, int ref, hs_error *error);

/* A Lua type as a message names it: LUA_TTABLE is "a table". */
const char *hs_type_words(int type);

#endif
