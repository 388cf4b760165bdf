/* shop { ... } in a kit file: what the shop tightens, and whom it names. */
#include <lauxlib.h>
#include <string.h>
#include "names.h"

static const char *const shop_words[] = {"dead", "discharge", "keep_shorted", "lone", "waits", "break_after", "touch", "lift", "authorised", "seconds"};

typedef struct shop_limit {
	const char *word;
	hs_unit unit;
	size_t at;
	const char *rule; /* what the default is for */
} shop_limit;

static const shop_limit limits[] = {
    {"dead", HS_VOLT, offsetof(hs_shop, dead_volts), "what a pair may read and count as dead"},
    {"discharge", HS_JOULE, offsetof(hs_shop, tool_joules), "what a store may keep without being discharged"},
    {"keep_shorted", HS_JOULE, offsetof(hs_shop, short_joules), "what a store may hold without being kept shorted"},
    {"lone", HS_VOLT, offsetof(hs_shop, lone_volts), "up to where one reads live alone"},
    {"break_after", HS_SECOND, offsetof(hs_shop, break_s), "how long a break may be"},
    {"touch", HS_DEGC, offsetof(hs_shop, touch_degc), "how warm a part may be in the hand"},
    {"lift", HS_GRAM, offsetof(hs_shop, lift_grams), "what one person lifts"},
};

/* False and a problem that names rule, default and value when it would loosen. */
static void read_limit(const hs_table *table, const shop_limit *limit, hs_shop *shop)
{
	double value = 0.0, *into = (double *)(void *)((char *)shop + limit->at), least = *into;
	if (!hs_table_positive(table, limit->word, limit->unit, &value))
		return;
	if (value <= least) {
		*into = value;
		return;
	}
	hs_buf given, allowed;
	hs_buf_init(&given);
	hs_buf_init(&allowed);
	hs_quantity_print(&given, (hs_quantity){value, limit->unit}, -1);
	hs_quantity_print(&allowed, (hs_quantity){least, limit->unit}, -1);
	hs_problem *problem = hs_table_problem(table, limit->word, "\"%s\" is %s, and the rule (%s) allows %s at most", limit->word, given.data, limit->rule,
	                                       allowed.data);
	hs_problem_hint(problem, "a shop may tighten a rule and never loosen it: %s or less, or leave it out", allowed.data);
	hs_buf_free(&given);
	hs_buf_free(&allowed);
}

static void read_waits(const hs_table *table, hs_shop *shop)
{
	double factor = 1.0;
	if (!hs_table_percent(table, "waits", &factor))
		return;
	if (factor >= 1.0) {
		shop->waits = factor;
		return;
	}
	hs_problem *problem = hs_table_problem(table, "waits", "\"waits\" is %g %%, and no computed wait is ever shortened: 100 %% is the least", factor * 100.0);
	hs_problem_hint(problem, "a shop may tighten a rule and never loosen it: 100 %% or more, or leave it out");
}

void hs_bind_shop(hs_build *build, lua_State *L)
{
	const hs_decl *first = NULL;
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "shop") != 0 || decl->ref == LUA_NOREF)
			continue;
		hs_table table = hs_table_of(build, L, decl);
		if (first) {
			hs_table_problem(&table, NULL, "the shop is declared twice; the other stands in line %d of %s", first->line, first->file);
		} else {
			hs_shop *shop = hs_arena_alloc(build->arena, sizeof *shop);
			*shop = *hs_shop_or_default(NULL);
			hs_table_known(&table, "a shop", decl->skip, (hs_words[]){HS_WORDS(shop_words)}, 1);
			for (size_t k = 0; k < sizeof limits / sizeof *limits; k++)
				read_limit(&table, &limits[k], shop);
			read_waits(&table, shop);
			shop->authorised = hs_table_texts(&table, "authorised", &shop->authorised_count);
			shop->seconds = hs_table_texts(&table, "seconds", &shop->second_count);
			build->making->shop = shop;
		}
		first = first ? first : decl;
		hs_table_done(&table);
	}
}
