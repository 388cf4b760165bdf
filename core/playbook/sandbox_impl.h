/* What the files of the sandbox share; bindings use sandbox.h only. */
#ifndef HALFSPLIT_CORE_PLAYBOOK_SANDBOX_IMPL_H
#define HALFSPLIT_CORE_PLAYBOOK_SANDBOX_IMPL_H

#include "sandbox.h"

enum { HS_SLICE = 1000, HS_FRAMES = 4, HS_SMALL_GRAIN = 16, HS_SMALL_SIZES = 32 };

/* No string may be longer, so that comparing or joining two is never long work between two looks at the watchdog. */
#define HS_STRING_MOST (2 * HS_SANDBOX_TEXT_MOST)

typedef enum hs_death { HS_ALIVE = 0, HS_DEAD_INSTRUCTIONS, HS_DEAD_MEMORY, HS_DEAD_TIME } hs_death;

typedef struct hs_frame {
	const char *file; /* borrowed from the sources */
	int line;
} hs_frame;

struct hs_seals;

struct hs_sandbox {
	lua_State *L;
	hs_sources *sources;
	const char *what;
	void *host;

	size_t memory_most;
	size_t memory_used; /* of pieces the whole */
	unsigned long allocations;
	unsigned long fail_at;
	struct hs_piece *pieces; /* sandbox_memory.c; the first is the one blocks are cut off from */
	size_t piece_left;
	struct hs_idle *idle[HS_SMALL_SIZES];
	unsigned refusals;
	bool refused_text;   /* it was one text that was too long */
	hs_frame refused_at; /* Lua unwinds before it tells of an out-of-memory, so the place is kept here */

	long long budget; /* of the present entry, for the message */
	long long left;
	int slice;
	int depth;
	int seconds;
	double watchdog; /* processor time at which the entry is stopped */

	hs_death dead;
	hs_error fault;  /* why it is dead */
	hs_error raised; /* what hs_sandbox_raise throws; its address is the error value */
	hs_frame trace[HS_FRAMES];
	int frames;

	struct hs_seals *seals;
	void (*later)(lua_State *L); /* declares the words that few files use; NULL: there are none, or it did */
};

/* sandbox_memory.c */
void *hs_sandbox_alloc(void *sandbox, void *old, size_t old_size, size_t size);
void hs_sandbox_free_pieces(hs_sandbox *sandbox);

/* sandbox_budget.c */
void hs_budget_start(hs_sandbox *sandbox, long long budget);
void hs_budget_watch(hs_sandbox *sandbox);
void hs_sandbox_kill(hs_sandbox *sandbox, hs_death death); /* the first reason stays */
int hs_sandbox_rethrow(lua_State *L);                      /* raises the error of a dead sandbox; never returns */

/* sandbox_error.c */
int hs_trace_handler(lua_State *L);
void hs_error_place(hs_sandbox *sandbox, hs_error *error, const char *file, int line);
void hs_error_from_text(hs_sandbox *sandbox, const char *text, hs_error *error);
void hs_error_from_stack(hs_sandbox *sandbox, int status, hs_error *error); /* reads the value on top,
  leaves it there */

/* sandbox_env.c */
void hs_env_open(lua_State *L);
void hs_env_push(lua_State *L);                 /* the environment chunks run in */
void hs_unsealed_push(lua_State *L, int index); /* what a sealed table stands for, else the value itself */
bool hs_table_marked(lua_State *L, int index);  /* a sealed table; never raises */

/* require.c */
void hs_chunk_load(lua_State *L, const hs_source *source); /* pushes the function, or raises */
void hs_require_open(lua_State *L);

/* seal.c */
void hs_seals_free(struct hs_seals *seals);

/* sandbox_lib*.c: each declares its words */
void hs_lib_open(lua_State *L);
void hs_lib_pairs_open(lua_State *L);
void hs_lib_meta_open(lua_State *L);
void hs_lib_string_open(lua_State *L);
void hs_lib_table_open(lua_State *L);
void hs_lib_math_open(lua_State *L);

#endif
