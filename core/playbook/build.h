/*
 * From the tables a playbook or kit hands to its builders to the model.
 *
 * While the file runs, a builder only checks how it was called and keeps a copy of its table, so that what an author
 * does to that table afterwards changes nothing. When the file has ended, the copies are read in an order that has
 * every name declared before it is looked up: unit, points, suspects, steps; parts, hookups. What is wrong becomes a
 * problem and the reading goes on.
 */
#ifndef HALFSPLIT_CORE_PLAYBOOK_BUILD_H
#define HALFSPLIT_CORE_PLAYBOOK_BUILD_H

#include "halfsplit/model/playbook.h"
#include "places.h"
#include "sandbox.h"

#define HS_STEPS_MOST    4096
#define HS_DECLS_MOST    8192                       /* calls of builders in all files of a playbook */
#define HS_CALLERS       3
#define HS_NAME_MOST     200                        /* bytes of a name used as a key */
#define HS_PROBLEMS_MOST 200                        /* more are not listed: reading stops there */
#define HS_TEXT_MOST     ((size_t)16 * 1024)        /* bytes of one text */
#define HS_TEXTS_MOST    ((size_t)16 * 1024 * 1024) /* bytes of all of them */

typedef struct hs_decl {
	const char *callee; /* "step" */
	const char *id;     /* NULL when none was given */
	const char *file;
	int line;    /* where the call begins */
	struct hs_caller {
		const char *file;
		int line;
	} callers[HS_CALLERS]; /* of the author's own function that called the builder; line 0: none */
	int ref;     /* the copied table in the registry; LUA_NOREF while only the id was given */
	size_t skip; /* 1 when the id is the first value of the table itself */
	bool inner;  /* an element of a line-up */
	bool used;   /* ... that has its place in one */
} hs_decl;

typedef struct hs_build_file {
	const char *path;
	hs_places *places; /* NULL until somebody asks where something stands */
} hs_build_file;

/* A function an author wrote; hs_function.id is its index. */
typedef struct hs_kept {
	int ref; /* in the registry */
	hs_where where;
} hs_kept;

typedef struct hs_build {
	hs_sandbox *sandbox;
	hs_sources *sources;
	hs_problems *problems;
	bool rough;             /* places of keys are given as the line of their call, which costs nothing */
	hs_arena *arena;       /* of the model */
	hs_playbook *playbook; /* NULL while a kit is built */
	const hs_kit *kit;     /* what hookups are bound to; NULL: nothing is bound */
	const char *book_id;     /* of the playbook, once its roles are read; NULL: not known */
	const char *book_family;
	bool alone; /* a family file without a playbook: nobody has said what may be at fault */
	hs_kit *making;        /* the kit being built; NULL for a playbook */
	hs_decl *decls;
	size_t decl_count, decl_room;
	hs_build_file *files;
	size_t file_count, file_room;
	size_t text_bytes; /* copied into the model so far */
	const char **words; /* the keys of the tables that are being read, the innermost last; see table.h */
	size_t word_count, word_room;
	int open_lineups; /* begun, and their tables not there yet: a point is then an element */
	hs_kept *functions;
	size_t function_count, function_room;
} hs_build;

/* Declares the builders named; runs inside the gate. */
void hs_build_declare(lua_State *L, const char *const *callees, size_t count);
/* Everything but the model and the functions. */
void hs_build_free(hs_build *build);
/* Adds a problem for every builder that was given an id and no table. */
void hs_build_pending(hs_build *build);

/* How many calls of this builder there were. */
size_t hs_build_count(const hs_build *build, const char *callee);

/* The line of a key of a declaration; path as in places.h, "" for the call itself. */
hs_where hs_decl_where(hs_build *build, const hs_decl *decl, const char *path);
/* The same; *whole: the key itself was found, not only something around it. */
hs_where hs_decl_reach(hs_build *build, const hs_decl *decl, const char *path, bool *whole);
/* Where this text, or this key, stands when it stands only once in the declaration's file; line 0 otherwise. */
hs_where hs_decl_only(hs_build *build, const hs_decl *decl, const char *text, bool key);
/* The places of a file, by the path its source has. */
const hs_places *hs_build_places(hs_build *build, const char *path);
/* A problem with its line quoted. */
hs_problem *hs_build_problem(hs_build *build, hs_severity severity, hs_where where, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/* Good id, not reserved; otherwise a problem that calls it `what` ("step"). */
bool hs_build_good_id(hs_build *build, const char *id, const char *what, hs_where where);
/* The nearest known word; NULL when none is near, or when so much is wrong that looking for it would take long. */
const char *hs_build_near(const hs_build *build, const char *word, const char *const *known, size_t count);
/* Adds "did you mean" when there is one. */
void hs_build_nearest(const hs_build *build, hs_problem *problem, const char *word, const char *const *known,
                      size_t count);

/* ---- one file each: they read all declarations of their callees; inside the gate ---- */
void hs_bind_playbook(hs_build *build, lua_State *L); /* after the steps */
void hs_bind_unit(hs_build *build, lua_State *L);     /* unit and points */
void hs_bind_suspects(hs_build *build, lua_State *L);
void hs_bind_healthy(hs_build *build, lua_State *L);
void hs_bind_lineups(hs_build *build, lua_State *L);  /* after the suspects */
void hs_bind_pictures(hs_build *build, lua_State *L); /* and chains; after unit and suspects, before the steps */
void hs_bind_counters(hs_build *build, lua_State *L); /* after the suspects */
void hs_bind_steps(hs_build *build, lua_State *L);
void hs_bind_kit(hs_build *build, lua_State *L);
void hs_bind_shop(hs_build *build, lua_State *L);     /* of the kit */
void hs_bind_knowns(hs_build *build, lua_State *L);   /* of the kit, after its parts and hookups */
void hs_bind_bindings(hs_build *build, lua_State *L); /* of the kit, after its hookups */
void hs_bind_roles(hs_build *build, lua_State *L);    /* before the steps */

/* ---- chart.c ---- */
void hs_chart_open(lua_State *L); /* declares `chart`; inside the gate */

/* ---- evaluate.c ---- */
typedef struct hs_functions {
	hs_sandbox *sandbox;
	hs_kept *items;
	size_t count;
} hs_functions;

/* hs_evaluator.call; context is an hs_functions. */
bool hs_evaluate(void *context, int function_id, const char *const *names, const hs_value *values, size_t count,
                 hs_buf *result, hs_error *error);

#endif
