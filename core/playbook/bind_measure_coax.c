/* coax: the loss of a cable by law, by table and by type, warm or cold, with its connectors. */
#include "bind_measure.h"

#include <string.h>

enum { JOINTS_MOST = 1000 };

#define TABLE_METRES 100.0 /* what a table is for unless it says otherwise */

/* A fit is a law too. */
static const char *const law_words[] = {"k1",     "k2",       "from_hz", "to_hz",        "u_k1",     "u_k2",
                                        "rms_db", "worst_db", "worst",   "held_at_zero", "residuals"};
static const char *const run_words[] = {"length", "celsius", "connectors", "connector_db"};

static double read_per(lua_State *L, int index)
{
	return measure_number_or(L, index, "the length of the table", HS_METRE, TABLE_METRES);
}

static hs_coax_law read_law(lua_State *L, int index)
{
	hs_coax_law law = {0};
	measure_known(L, index, "the law", law_words, sizeof law_words / sizeof law_words[0], 0);
	law.k1 = measure_field_number(L, index, "k1", "the law", HS_UNITLESS);
	law.k2 = measure_field_number(L, index, "k2", "the law", HS_UNITLESS);
	law.from_hz = measure_field_or(L, index, "from_hz", "the law", HS_HERTZ, 0);
	law.to_hz = measure_field_or(L, index, "to_hz", "the law", HS_HERTZ, 0);
	return law;
}

/* A length, or { length = , celsius = , connectors = , connector_db = }. */
static hs_coax_run read_run(lua_State *L, int index)
{
	hs_coax_run run = {.celsius = HS_COAX_CELSIUS};
	if (!lua_istable(L, index)) {
		run.length_m = measure_number(L, index, "the length", HS_METRE);
		return run;
	}
	measure_known(L, index, "a run of cable", run_words, sizeof run_words / sizeof run_words[0], 0);
	run.length_m = measure_field_number(L, index, "length", "the run", HS_METRE);
	run.celsius = measure_field_or(L, index, "celsius", "the run", HS_DEGC, HS_COAX_CELSIUS);
	run.connector_db = measure_field_or(L, index, "connector_db", "the run", HS_DB, 0);
	int at = measure_field(L, index, "connectors");
	if (measure_given(L, at))
		run.connectors = measure_whole(L, at, "the number of connectors", 0, JOINTS_MOST);
	lua_pop(L, 1);
	if (run.connectors > 0 && !measure_has(L, index, "connector_db"))
		measure_refuse(L, "the run has connectors, and the loss of each is not given as connector_db");
	return run;
}

/* { FREQ, LOSS [, SOURCE] }; the table keeps the source alive. */
static hs_sourced_point read_point(lua_State *L, int index, size_t number)
{
	hs_sourced_point made = {0};
	measure_name of = measure_named("point %zu", number);
	measure_known(L, index, of.text, NULL, 0, 3);
	made.point.freq_hz = measure_number(L, measure_item(L, index, 1),
	                                    measure_named("the frequency of point %zu", number).text, HS_HERTZ);
	made.point.loss_db =
	    measure_number(L, measure_item(L, index, 2), measure_named("the loss of point %zu", number).text, HS_DB);
	int source = measure_item(L, index, 3);
	if (measure_given(L, source))
		made.source = measure_string(L, source, measure_named("the source of point %zu", number).text);
	lua_pop(L, 3);
	return made;
}

/* Pushes the value that owns them. */
static hs_sourced_point *read_points(lua_State *L, int index, size_t *count, bool *sourced)
{
	*sourced = false;
	*count = measure_list(L, index, "the table of losses");
	hs_sourced_point *points = lua_newuserdatauv(L, *count * sizeof *points, 0);
	for (size_t i = 0; i < *count; i++) {
		points[i] = read_point(L, measure_item(L, index, i + 1), i + 1);
		*sourced = *sourced || points[i].source;
		lua_pop(L, 1);
	}
	return points;
}

static hs_loss_point *plain_points(lua_State *L, const hs_sourced_point *points, size_t count)
{
	hs_loss_point *plain = lua_newuserdatauv(L, count * sizeof *plain, 0);
	for (size_t i = 0; i < count; i++)
		plain[i] = points[i].point;
	return plain;
}

static int law(lua_State *L)
{
	hs_error error = {0};
	hs_coax_law made = {0};
	double k1 = measure_number(L, 1, "k1", HS_UNITLESS), k2 = measure_number(L, 2, "k2", HS_UNITLESS);
	if (!hs_coax_law_of(k1, k2, read_per(L, 3), &made, &error))
		return measure_raise(L, &error);
	lua_createtable(L, 0, 2);
	measure_set(L, "k1", made.k1);
	measure_set(L, "k2", made.k2);
	return 1;
}

static int law_loss(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	hs_coax_law by = read_law(L, 1);
	double freq = measure_number(L, 2, "the frequency", HS_HERTZ);
	bool good = hs_coax_law_loss(&by, freq, read_run(L, 3), &out, &error);
	return measure_give(L, good, out, &error);
}

/* Sorted, merged, of one source: what table_loss and fit take. */
static int table(lua_State *L)
{
	hs_error error = {0};
	hs_loss_table made = {0};
	size_t count;
	bool sourced;
	const hs_sourced_point *points = read_points(L, 1, &count, &sourced);
	hs_loss_point *kept = lua_newuserdatauv(L, count * sizeof *kept, 0);
	hs_arena *arena = hs_arena_new();
	bool good = hs_coax_table_make(arena, points, count, &made, &error);
	if (good)
		memcpy(kept, made.points, made.count * sizeof *kept);
	hs_arena_free(arena);
	if (!good)
		return measure_raise(L, &error);
	lua_createtable(L, (int)made.count, 0);
	for (size_t i = 0; i < made.count; i++) {
		lua_createtable(L, 3, 0);
		lua_pushnumber(L, kept[i].freq_hz);
		lua_rawseti(L, -2, 1);
		lua_pushnumber(L, kept[i].loss_db);
		lua_rawseti(L, -2, 2);
		lua_pushstring(L, points[0].source);
		lua_rawseti(L, -2, 3);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	return 1;
}

static bool loss_by_table(const hs_sourced_point *points, const hs_loss_point *plain, size_t count, double per,
                          const hs_coax_law *by, double freq, hs_coax_run run, double *out, hs_error *error)
{
	hs_loss_table made = {0};
	hs_arena *arena = hs_arena_new();
	bool good = (plain ? hs_loss_table_make(arena, plain, count, &made, error)
	                   : hs_coax_table_make(arena, points, count, &made, error)) &&
	            hs_coax_table_loss(&made, per, by, freq, run, out, error);
	hs_arena_free(arena);
	return good;
}

static int table_loss(lua_State *L)
{
	hs_error error = {0};
	hs_coax_law by = {0};
	double out = 0, freq = measure_number(L, 2, "the frequency", HS_HERTZ);
	hs_coax_run run = read_run(L, 3);
	double per = read_per(L, 4);
	bool has_law = measure_given(L, 5), sourced;
	if (has_law)
		by = read_law(L, 5);
	size_t count;
	const hs_sourced_point *points = read_points(L, 1, &count, &sourced);
	const hs_loss_point *plain = sourced ? NULL : plain_points(L, points, count);
	bool good = loss_by_table(points, plain, count, per, has_law ? &by : NULL, freq, run, &out, &error);
	return measure_give(L, good, out, &error);
}

static int type_loss(lua_State *L)
{
	hs_error error = {0};
	hs_coax_law by = {0};
	size_t count;
	double out = 0;
	const char *name = measure_string(L, 1, "the cable type");
	const hs_loss_table *known = hs_coax_type(name);
	if (!known) {
		const char *const *names = hs_coax_type_names(&count);
		hs_fail(&error, HS_BAD_INPUT, "no loss is known for the cable type \"%s\"", name);
		const char *nearest = hs_nearest(name, names, count);
		hs_fail_hint(&error, nearest ? "did you mean \"%s\"?" : "coax.types() lists those that are known",
		             nearest);
		return measure_raise(L, &error);
	}
	double freq = measure_number(L, 2, "the frequency", HS_HERTZ);
	hs_coax_run run = read_run(L, 3);
	bool has_law = measure_given(L, 4);
	if (has_law)
		by = read_law(L, 4);
	bool good = hs_coax_table_loss(known, TABLE_METRES, has_law ? &by : NULL, freq, run, &out, &error);
	return measure_give(L, good, out, &error);
}

static int types(lua_State *L)
{
	size_t count;
	const char *const *names = hs_coax_type_names(&count);
	lua_createtable(L, (int)count, 0);
	for (size_t i = 0; i < count; i++) {
		lua_pushstring(L, names[i]);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	return 1;
}

static void push_fit(lua_State *L, const hs_coax_fit *made, const double *residuals, size_t count)
{
	lua_createtable(L, 0, 11);
	measure_set(L, "k1", made->law.k1);
	measure_set(L, "k2", made->law.k2);
	measure_set(L, "from_hz", made->law.from_hz);
	measure_set(L, "to_hz", made->law.to_hz);
	measure_set(L, "u_k1", made->u_k1);
	measure_set(L, "u_k2", made->u_k2);
	measure_set(L, "rms_db", made->rms_db);
	measure_set(L, "worst_db", made->worst_db);
	lua_pushinteger(L, (lua_Integer)made->worst + 1);
	lua_setfield(L, -2, "worst");
	measure_set_flag(L, "held_at_zero", made->held_at_zero);
	lua_createtable(L, (int)count, 0);
	for (size_t i = 0; i < count; i++) {
		lua_pushnumber(L, residuals[i]);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	lua_setfield(L, -2, "residuals");
}

/* Points that name their sources must name one. */
static bool one_source(const hs_sourced_point *points, size_t count, hs_error *error)
{
	hs_loss_table made;
	hs_arena *arena = hs_arena_new();
	bool good = hs_coax_table_make(arena, points, count, &made, error);
	hs_arena_free(arena);
	return good;
}

static int fit(lua_State *L)
{
	hs_error error = {0};
	hs_coax_fit made = {0};
	size_t count;
	bool sourced;
	double per = read_per(L, 2);
	const hs_sourced_point *points = read_points(L, 1, &count, &sourced);
	const hs_loss_point *plain = plain_points(L, points, count);
	double *residuals = lua_newuserdatauv(L, count * sizeof *residuals, 0);
	if ((sourced && !one_source(points, count, &error)) ||
	    !hs_coax_fit_law(plain, count, per, &made, residuals, &error))
		return measure_raise(L, &error);
	push_fit(L, &made, residuals, count);
	return 1;
}

void measure_open_coax(lua_State *L)
{
	static const measure_row rows[] = {
	    {"fit", fit, 2, "coax.fit({ { FREQ, LOSS }, ... } [, LENGTH])"},
	    {"law", law, 3, "coax.law(K1, K2 [, LENGTH])"},
	    {"law_loss", law_loss, 3, "coax.law_loss(LAW, FREQ, LENGTH)"},
	    {"table", table, 1, "coax.table({ { FREQ, LOSS, SOURCE }, ... })"},
	    {"table_loss", table_loss, 5,
	     "coax.table_loss({ { FREQ, LOSS }, ... }, FREQ, LENGTH [, TABLE_LENGTH [, LAW]])"},
	    {"type_loss", type_loss, 4, "coax.type_loss(TYPE, FREQ, LENGTH [, LAW])"},
	    {"types", types, 0, "coax.types()"},
	};
	measure_declare(L, "coax", rows, sizeof rows / sizeof rows[0]);
}
