/* suspect "ID" { ... }; where a step leads and what that says of suspects; functions and what they use. */
#include <lauxlib.h>
#include <string.h>
#include "names.h"

const char *const hs_branch_words[HS_BRANCH_WORDS] = {"to", "clears", "implicates", "counts"};
enum { USES_MOST = 64 };

static const char *const suspect_words[] = {"title", "modes", "odds", "shows", "intermittent"};

/* ---- suspects ---- */

static void read_suspect(const hs_table *table, hs_suspect *suspect)
{
	hs_table_known(table, "a suspect", table->decl->skip, (hs_words[]){HS_WORDS(suspect_words)}, 1);
	suspect->title = hs_table_text(table, "title");
	suspect->modes = hs_table_texts(table, "modes", &suspect->mode_count);
	suspect->odds = hs_table_count(table, "odds", 1, 1000000, 1);
	hs_read_shows(table, suspect);
	hs_read_rates(table, suspect);
}

void hs_bind_suspects(hs_build *build, lua_State *L)
{
	hs_playbook *book = build->playbook;
	book->suspects = hs_arena_alloc(build->arena, hs_build_count(build, "suspect") * sizeof *book->suspects);
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "suspect") != 0 || decl->ref == LUA_NOREF)
			continue;
		hs_where where = hs_decl_where(build, decl, "");
		if (!hs_build_good_id(build, decl->id ? decl->id : "", "suspect", where))
			continue;
		int twin = hs_playbook_suspect(book, decl->id);
		if (twin >= 0) {
			hs_build_problem(build, HS_ERROR, where,
			                 "the suspect \"%s\" is declared twice; the other stands in line %d of %s",
			                 decl->id, book->suspects[twin].where.line, book->suspects[twin].where.file);
			continue;
		}
		hs_table table = hs_table_of(build, L, decl);
		hs_suspect *suspect = &book->suspects[book->suspect_count++];
		*suspect = (hs_suspect){.id = decl->id, .odds = 1, .where = where};
		read_suspect(&table, suspect);
		hs_table_done(&table);
	}
}

static int find_suspect(const hs_table *table, const char *key, const char *name)
{
	const hs_playbook *book = table->build->playbook;
	int found = hs_playbook_suspect(book, name);
	if (found >= 0)
		return found;
	hs_problem *problem = hs_table_problem(table, key, "there is no suspect \"%s\"", name);
	const char **known = hs_arena_alloc(table->build->arena, (book->suspect_count + 1) * sizeof *known);
	for (size_t i = 0; i < book->suspect_count; i++)
		known[i] = book->suspects[i].id;
	const char *nearest = hs_build_near(table->build, name, known, book->suspect_count);
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	else
		hs_problem_hint(problem, "declare it: suspect \"%s\" { modes = { \"...\" } }", name);
	return -1;
}

const int *hs_find_suspects(const hs_table *table, const char *key, size_t *count)
{
	size_t given;
	const char **names = hs_table_texts(table, key, &given);
	int *found = hs_arena_alloc(table->build->arena, given * sizeof *found);
	*count = 0;
	for (size_t i = 0; i < given; i++) {
		int suspect = *names[i] ? find_suspect(table, hs_table_item(table, key, i), names[i]) : -1;
		if (suspect >= 0)
			found[(*count)++] = suspect;
	}
	return found;
}

/* ---- branches ---- */

static void refuse_both(const hs_table *table, const hs_branch *branch)
{
	for (size_t c = 0; c < branch->clear_count; c++)
		for (size_t i = 0; i < branch->implicate_count; i++)
			if (branch->clears[c] == branch->implicates[i])
				hs_table_problem(table, "implicates", "one branch both clears and implicates \"%s\"",
				                 table->build->playbook->suspects[branch->clears[c]].id);
}

bool hs_read_branch_fields(const hs_table *table, hs_branch *out, bool must)
{
	*out = (hs_branch){.to = -1, .target = hs_table_text(table, "to")};
	out->where = hs_table_where(table, out->target ? "to" : NULL);
	out->clears = hs_find_suspects(table, "clears", &out->clear_count);
	out->implicates = hs_find_suspects(table, "implicates", &out->implicate_count);
	out->counts = hs_find_counter(table, "counts");
	refuse_both(table, out);
	if (!out->target && must && !hs_table_has(table, "to")) {
		hs_problem *problem = hs_table_problem(table, NULL, "this branch does not say where it leads");
		hs_problem_hint(problem, "add to = \"STEP\"");
	}
	return out->target != NULL;
}

bool hs_read_branch(const hs_table *table, const char *key, hs_branch *out)
{
	if (hs_table_type(table, key) == LUA_TTABLE) {
		hs_table sub = hs_table_sub(table, key, false);
		hs_table_known(&sub, "a branch", 0, (hs_words[]){HS_WORDS(hs_branch_words)}, 1);
		bool good = hs_read_branch_fields(&sub, out, true);
		hs_table_done(&sub);
		return good;
	}
	const char *target = hs_table_text(table, key);
	if (target)
		*out = (hs_branch){.to = -1, .target = target, .where = hs_table_where(table, key)};
	return target != NULL;
}

void hs_read_exits(const hs_table *table, hs_step *step)
{
	if (hs_table_type(table, "to") != LUA_TTABLE) {
		step->exits = hs_arena_alloc(table->build->arena, sizeof *step->exits);
		if (hs_read_branch(table, "to", &step->exits[0]))
			step->exit_count = 1;
	} else {
		hs_table list = hs_table_sub(table, "to", false);
		size_t count = hs_table_length(&list);
		hs_table_known(&list, "the list \"to\"", HS_ANY_LENGTH, NULL, 0);
		step->exits = hs_arena_alloc(table->build->arena, count * sizeof *step->exits);
		for (size_t i = 0; i < count; i++)
			if (hs_read_branch(&list, hs_key_at(&list, i + 1), &step->exits[step->exit_count]))
				step->exit_count++;
		hs_table_done(&list);
	}
	if (step->exit_count > 0)
		return;
	hs_problem *problem = hs_table_problem(table, hs_table_has(table, "to") ? "to" : "decide",
	                                       "the function of \"%s\" does not declare where it may lead", step->id);
	hs_problem_hint(problem, "add to = { \"STEP\", \"STEP\" }");
}

/* ---- functions ---- */

static bool read_use(const hs_table *list, const char *key, const char *name, hs_use *use)
{
	const char *target = hs_table_text(list, key);
	if (!target)
		return false;
	*use = (hs_use){
	    .name = name ? name : target, .target = target, .step = -1, .slot = -1, .where = hs_table_where(list, key)};
	return true;
}

/* Positions first, then names, as they stand in the file. */
static void read_uses(const hs_table *step_table, hs_function *function)
{
	hs_build *build = step_table->build;
	if (hs_table_type(step_table, "uses") == LUA_TSTRING) {
		hs_use *only = hs_arena_alloc(build->arena, sizeof *only);
		function->use_count = read_use(step_table, "uses", NULL, only) ? 1 : 0;
		function->uses = only;
		return;
	}
	hs_table list = hs_table_sub(step_table, "uses", false);
	size_t positions = 0, named, count = 0;
	while (list.index && hs_table_has(&list, hs_key_at(&list, positions + 1)))
		positions++;
	const char **names = hs_table_names(&list, positions, &named);
	if (positions + named > USES_MOST) {
		hs_table_problem(step_table, "uses", "a function uses at most %d things", USES_MOST);
		positions = named = 0;
	}
	hs_use *uses = hs_arena_alloc(build->arena, (positions + named) * sizeof *uses);
	for (size_t i = 0; i < positions; i++)
		count += read_use(&list, hs_key_at(&list, i + 1), NULL, &uses[count]);
	for (size_t i = 0; i < named; i++)
		count += read_use(&list, names[i], names[i], &uses[count]);
	function->uses = uses;
	function->use_count = count;
	hs_table_done(&list);
}

bool hs_read_function(const hs_table *table, const char *key, const hs_table *step_table, hs_function *out)
{
	*out = (hs_function){.id = -1};
	if (!hs_table_function(table, key, out))
		return false;
	read_uses(step_table, out);
	if (out->use_count > 0 || hs_table_has(step_table, "uses"))
		return true;
	/* A collect step hands its own readings to the function, so that one may use nothing more. */
	if (hs_table_has(step_table, "collect") || hs_table_has(step_table, "checklist") ||
	    hs_table_has(step_table, "grid"))
		return true;
	hs_problem *problem = hs_table_problem(table, key, "the function \"%s\" does not declare what it uses", key);
	hs_problem_hint(problem, "add uses = { \"STEP\" }");
	return true;
}

/* What the function says, held against what the step declares. */
typedef struct hs_saying {
	const hs_table *table;
	const hs_function *function;
	const hs_step *step; /* NULL: limits, which may be any text */
	const char *file;
} hs_saying;

static void check_taken(const hs_saying *saying, const char *name, hs_where where)
{
	const char *known[USES_MOST];
	size_t count = saying->function->use_count < USES_MOST ? saying->function->use_count : USES_MOST;
	for (size_t i = 0; i < count; i++) {
		known[i] = saying->function->uses[i].name;
		if (strcmp(known[i], name) == 0)
			return;
	}
	hs_build *build = saying->table->build;
	hs_problem *problem =
	    hs_build_problem(build, HS_ERROR, where, "the function does not declare that it uses \"%s\"", name);
	const char *nearest = hs_build_near(build, name, known, count);
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	else
		hs_problem_hint(problem, "add it to uses = { ... }");
}

static void check_returned(const hs_saying *saying, const char *target, hs_where where)
{
	const hs_step *step = saying->step;
	for (size_t i = 0; i < step->exit_count; i++)
		if (strcmp(step->exits[i].target, target) == 0)
			return;
	hs_problem *problem = hs_build_problem(
	    saying->table->build, HS_ERROR, where,
	    "the function returns \"%s\", and \"%s\" does not declare that it may lead there", target, step->id);
	hs_problem_hint(problem, "add \"%s\" to the list to = { ... }, or return one of it", target);
}

static void check_outcome(const hs_saying *saying, const char *word, hs_where where)
{
	const char *known[HS_OUTCOME_COUNT];
	for (int i = 0; i < HS_OUTCOME_COUNT; i++) {
		known[i] = hs_outcome_name((hs_outcome)i);
		if (strcmp(known[i], word) == 0)
			return;
	}
	hs_problem *problem = hs_build_problem(saying->table->build, HS_ERROR, where,
	                                       "the function compares an outcome with \"%s\", and no outcome is called so", word);
	const char *nearest = hs_build_near(saying->table->build, word, known, HS_OUTCOME_COUNT);
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	else
		hs_problem_hint(problem, "an outcome is low, ok, high, unsure or unread");
}

static void check_said(void *context, hs_said said, const char *text, int line)
{
	const hs_saying *saying = context;
	hs_where where = {saying->file, line};
	if (said == HS_SAID_TAKEN && saying->function->use_count > 0)
		check_taken(saying, text, where);
	else if (said == HS_SAID_OUTCOME)
		check_outcome(saying, text, where);
	else if (said == HS_SAID_RETURNED && saying->step && saying->step->exit_count > 0)
		check_returned(saying, text, where);
}

void hs_check_function(const hs_table *table, const char *key, const hs_function *function, const hs_step *step)
{
	lua_State *L = table->L;
	lua_Debug about;
	lua_pushstring(L, key);
	lua_rawget(L, table->index);
	if (lua_type(L, -1) != LUA_TFUNCTION) {
		lua_pop(L, 1);
		return;
	}
	lua_getinfo(L, ">S", &about);
	const hs_source *source =
	    about.source[0] == '@' ? hs_sources_find(table->build->sources, about.source + 1) : NULL;
	if (!source)
		return;
	hs_saying saying = {table, function, step, hs_arena_str(table->build->arena, source->path)};
	hs_places_said(hs_build_places(table->build, source->path), about.linedefined, about.lastlinedefined,
	               check_said, &saying);
}
