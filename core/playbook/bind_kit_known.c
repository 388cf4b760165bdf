/* known "ID" { ... }: what a shop knows the level of, to show instruments good on. */
#include <lauxlib.h>
#include <string.h>
#include "names.h"

static const char *const known_words[] = {"title", "serial", "due", "level", "freq", "u"};

static void read_known(const hs_table *table, hs_known *known)
{
	hs_error error = {0};
	size_t place = table->decl->skip + 1;
	hs_quantity level;
	hs_table_known(table, "a known source", place, (hs_words[]){HS_WORDS(known_words)}, 1);
	const char *word = hs_table_text(table, hs_key_at(table, place));
	if (!word || !hs_measurand_find(word, &known->reads)) {
		hs_problem *problem = hs_table_problem(table, word ? hs_key_at(table, place) : NULL, "the known source \"%s\" does not say what is read on it", known->id);
		hs_problem_hint(problem, "write known \"%s\" { \"power\", level = \"0 dBm\", u = \"0.1 dB\" }", known->id);
	}
	known->title = hs_table_text(table, "title");
	known->serial = hs_table_text(table, "serial");
	known->due = hs_read_due(table);
	hs_table_positive(table, "freq", HS_HERTZ, &known->freq_hz);
	hs_unit unit = hs_measurand_unit(known->reads);
	if (!hs_table_has(table, "level"))
		hs_table_problem(table, NULL, "the known source \"%s\" does not say its level", known->id);
	else if (hs_table_quantity(table, "level", unit, &level) && !hs_quantity_convert(level, unit, 0, &known->level, &error))
		hs_table_problem(table, "level", "the level of \"%s\" cannot be used: %s", known->id, error.message);
	if (!hs_read_accuracy(table, "u", unit, &known->u) && !hs_table_has(table, "u"))
		hs_table_problem(table, NULL, "the known source \"%s\" does not say how well it is known", known->id);
}

void hs_bind_knowns(hs_build *build, lua_State *L)
{
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		hs_where where = hs_decl_where(build, decl, "");
		if (strcmp(decl->callee, "known") != 0 || decl->ref == LUA_NOREF ||
		    !hs_build_good_id(build, decl->id ? decl->id : "", "known source", where))
			continue;
		bool twin = hs_kit_hookup(build->making, decl->id) || hs_kit_part(build->making, decl->id);
		for (size_t k = 0; k < build->making->known_count; k++)
			twin = twin || strcmp(build->making->knowns[k]->id, decl->id) == 0;
		if (twin) {
			hs_build_problem(build, HS_ERROR, where, "\"%s\" is declared twice", decl->id);
			continue;
		}
		hs_table table = hs_table_of(build, L, decl);
		hs_known *known = hs_arena_alloc(build->arena, sizeof *known);
		*known = (hs_known){.id = decl->id, .where = where};
		read_known(&table, known);
		hs_kit_add_known(build->making, known);
		hs_table_done(&table);
	}
}
