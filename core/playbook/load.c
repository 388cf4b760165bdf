/* Opens the sandbox, lets the file run, and has the bindings read what it declared. */
#include "halfsplit/playbook/load.h"

#include <lua.h>
#include <stdlib.h>
#include <string.h>
#include "bind_measure.h"
#include "build.h"

struct hs_book {
	hs_playbook *playbook;
	hs_functions functions; /* its sandbox is the book's own */
};

static const char *const playbook_callees[] = {"playbook", "unit", "point", "suspect", "counter", "role", "healthy", "picture", "chain", "step", "lineup"};
static const char *const kit_callees[] = {"cable", "pad", "adapter", "probe", "lead", "instrument", "hookup", "bind", "known", "shop"};
/* The elements of a line-up; a point is one too where it stands in one. */
static const char *const element_callees[] = {"port", "stage", "mixer", "switch", "split", "coupler", "joint", "oscillator", "supply", "levelling"};

static int declare_playbook(lua_State *L)
{
	hs_measure_declare(L);
	hs_build_declare(L, playbook_callees, sizeof playbook_callees / sizeof *playbook_callees);
	hs_build_declare(L, element_callees, sizeof element_callees / sizeof *element_callees);
	hs_chart_open(L);
	return 0;
}

static int declare_kit(lua_State *L)
{
	hs_measure_declare(L);
	hs_build_declare(L, kit_callees, sizeof kit_callees / sizeof *kit_callees);
	return 0;
}

/* What a family shares, whether a playbook requires it or a freehand run begins with it. */
static void bind_shared(hs_build *build, lua_State *L)
{
	hs_bind_unit(build, L);
	hs_bind_suspects(build, L);
	hs_bind_healthy(build, L);
	hs_bind_lineups(build, L);
	hs_bind_counters(build, L);
	hs_bind_roles(build, L);
	hs_bind_pictures(build, L);
}

static int bind_playbook(lua_State *L)
{
	hs_build *build = lua_touserdata(L, 1);
	hs_build_pending(build);
	bind_shared(build, L);
	hs_bind_steps(build, L);
	hs_bind_playbook(build, L);
	return 0;
}

/* What a family file has no business with is a problem; the rest is bound as in a playbook. */
static int bind_family(lua_State *L)
{
	hs_build *build = lua_touserdata(L, 1);
	build->alone = true;
	hs_build_pending(build);
	bind_shared(build, L);
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "playbook") != 0 && strcmp(decl->callee, "step") != 0)
			continue;
		hs_problem *problem = hs_build_problem(build, HS_ERROR, hs_decl_where(build, decl, ""),
		                                       "this is a playbook, and a family was wanted: a unit and its points");
		hs_problem_hint(problem, "run it without --freehand, or name the family file it requires");
		break;
	}
	if (!build->playbook->unit.declared) {
		hs_where where = {hs_arena_str(build->arena, hs_sources_main(build->sources)->path), 1};
		hs_build_problem(build, HS_ERROR, where, "the file declares no unit");
	}
	return 0;
}

static int bind_kit(lua_State *L)
{
	hs_build *build = lua_touserdata(L, 1);
	hs_build_pending(build);
	hs_bind_kit(build, L);
	return 0;
}

static void add_error(hs_problems *problems, const hs_error *error)
{
	hs_problem_add(problems, HS_ERROR, (hs_where){0}, "%s", error->message)->what = *error;
}

/* Runs the file and the bindings over it. Only what keeps the file from its end is a failure. */
static bool run(hs_build *build, const char *what, lua_CFunction declare, lua_CFunction bind, hs_error *error)
{
	hs_error why = {0};
	build->sandbox = hs_sandbox_open(NULL, build->sources, what, &why);
	if (build->sandbox)
		hs_sandbox_set_host(build->sandbox, build);
	bool good = build->sandbox &&
	            hs_sandbox_protected(build->sandbox, declare, NULL, HS_SANDBOX_BUILD_BUDGET, &why) &&
	            hs_sandbox_run_main(build->sandbox, HS_SANDBOX_BUILD_BUDGET, &why) &&
	            hs_sandbox_protected(build->sandbox, bind, build, HS_SANDBOX_BUILD_BUDGET, &why);
	if (build->sandbox)
		hs_sandbox_set_host(build->sandbox, NULL);
	hs_build_free(build);
	if (good)
		return true;
	add_error(build->problems, &why);
	if (error)
		*error = why;
	return false;
}

hs_kit *hs_kit_load(hs_sources *sources, hs_exactness places, hs_problems *problems, hs_error *error)
{
	hs_kit *kit = hs_kit_new();
	hs_build build = {.sources = sources,
	                  .rough = places == HS_PLACES_ROUGH,
	                  .problems = problems,
	                  .arena = kit->arena,
	                  .making = kit};
	bool good = run(&build, "kit", declare_kit, bind_kit, error);
	hs_sandbox_close(build.sandbox);
	free(build.functions);
	if (good)
		return kit;
	hs_kit_free(kit);
	return NULL;
}

static hs_playbook *new_playbook(void)
{
	hs_arena *arena = hs_arena_new();
	hs_playbook *playbook = hs_arena_alloc(arena, sizeof *playbook);
	playbook->arena = arena;
	return playbook;
}

/* A function whose upvalues cannot be sealed is a problem like any other. */
static void seal(hs_book *book, hs_problems *problems)
{
	for (size_t i = 0; i < book->functions.count; i++) {
		hs_error error = {0};
		if (!hs_seal_function(book->functions.sandbox, book->functions.items[i].ref, &error))
			add_error(problems, &error);
	}
}

static hs_book *open_book(hs_sources *sources, const hs_kit *kit, hs_exactness places, lua_CFunction bind, hs_problems *problems,
                          hs_error *error)
{
	hs_book *book = hs_alloc(sizeof *book);
	book->playbook = new_playbook();
	hs_build build = {.sources = sources,
	                  .rough = places == HS_PLACES_ROUGH,
	                  .problems = problems,
	                  .arena = book->playbook->arena,
	                  .playbook = book->playbook,
	                  .kit = kit};
	bool good = run(&build, "playbook", declare_playbook, bind, error);
	book->functions.sandbox = build.sandbox;
	book->functions.items = build.functions;
	book->functions.count = build.function_count;
	if (!good) {
		hs_book_free(book);
		return NULL;
	}
	seal(book, problems);
	book->playbook->evaluator = (hs_evaluator){&book->functions, hs_evaluate};
	return book;
}

hs_book *hs_book_open(hs_sources *sources, const hs_kit *kit, hs_exactness places, hs_problems *problems,
                      hs_error *error)
{
	return open_book(sources, kit, places, bind_playbook, problems, error);
}

hs_book *hs_book_open_family(hs_sources *sources, const hs_kit *kit, hs_problems *problems, hs_error *error)
{
	return open_book(sources, kit, HS_PLACES_EXACT, bind_family, problems, error);
}

void hs_book_free(hs_book *book)
{
	if (!book)
		return;
	hs_sandbox_close(book->functions.sandbox);
	free(book->functions.items);
	hs_arena_free(book->playbook->arena);
	free(book);
}

hs_playbook *hs_book_playbook(hs_book *book)
{
	return book->playbook;
}

void hs_problems_quote(hs_problems *problems, const hs_sources *sources)
{
	for (size_t i = 0; i < problems->count; i++) {
		hs_error *what = &problems->items[i].what;
		if (!what->quote[0] && what->file[0] && what->line > 0)
			hs_sources_quote(sources, what->file, what->line, what->quote, sizeof what->quote);
	}
}
