/* lineup "ID" { ... }: which element feeds which. */
#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "lineup_parts.h"

static const char *const lineup_words[] = {"title", "impedance", "levels"};

enum { LINEUPS_MOST = 64, LISTS_DEEP = 8 };

static int lay_list(hs_laying *laying, const hs_table *list, int before, int depth);

int hs_laid_element(const hs_laying *laying, const hs_table *table, const char *key)
{
	const char *name = hs_table_text(table, key), *known[HS_ELEMENTS_MOST];
	for (size_t i = 0; name && i < laying->count; i++) {
		known[i] = laying->elements[i].id;
		if (strcmp(known[i], name) == 0)
			return (int)i;
	}
	if (name) {
		hs_problem *problem = hs_table_problem(table, key, "the line-up \"%s\" has no element \"%s\"", laying->lineup->id, name);
		hs_build_nearest(laying->build, problem, name, known, laying->count);
	}
	return -1;
}

static hs_element_kind kind_of(const char *callee)
{
	static const struct {
		const char *callee;
		hs_element_kind kind;
	} rows[] = {{"port", HS_ELEMENT_PORT},       {"point", HS_ELEMENT_POINT}, {"mixer", HS_ELEMENT_MIXER},
	            {"switch", HS_ELEMENT_SWITCH},   {"joint", HS_ELEMENT_JOINT}, {"oscillator", HS_ELEMENT_OSCILLATOR},
	            {"supply", HS_ELEMENT_SUPPLY},   {"levelling", HS_ELEMENT_LEVELLER}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (strcmp(rows[i].callee, callee) == 0)
			return rows[i].kind;
	return HS_ELEMENT_STAGE; /* a split and a coupler are stages with arms */
}

/* ---- one element ---- */

static int new_element(hs_laying *laying, const char *id, hs_element_kind kind, int from, hs_where where, const hs_decl *decl)
{
	for (size_t i = 0; i < laying->count; i++)
		if (strcmp(laying->elements[i].id, id) == 0) {
			hs_build_problem(laying->build, HS_ERROR, where, "the line-up \"%s\" has two elements \"%s\"; the other stands in line %d",
			                 laying->lineup->id, id, laying->elements[i].line);
			return -1;
		}
	if (laying->count == HS_ELEMENTS_MOST) {
		hs_build_problem(laying->build, HS_ERROR, where, "a line-up has at most %d elements", HS_ELEMENTS_MOST);
		return -1;
	}
	hs_element *new = &laying->elements[laying->count];
	*new = (hs_element){.id = id, .kind = kind, .from = from, .lo = -1, .locks = -1, .supply = -1, .detector = -1, .control = -1,
	                    .when_control = -1, .openable = -1, .suspect = -1, .point = -1, .tuned = {.control = -1},
	                    .volts = kind == HS_ELEMENT_SUPPLY || laying->volts, .file = where.file, .line = where.line};
	laying->decls[laying->count] = decl;
	return (int)laying->count++;
}

/* A port may declare its point in passing, with what it accepts and gives. */
static void declare_port(const hs_laying *laying, const hs_table *table, hs_element *element)
{
	hs_bench_unit *unit = &laying->build->playbook->unit;
	int found = hs_unit_point(unit, element->id);
	if (found < 0) {
		found = unit->point_count++;
		unit->points[found] = (hs_point){.id = element->id, .title = hs_table_text(table, "title"), .zone = -1,
		                                 .where = {element->file, element->line}};
	}
	hs_point *point = &unit->points[found];
	static const char *const twice = "\"%s\" says what it %s twice: here, and where the point is declared";
	if (hs_table_has(table, "accepts") && point->has_accepts)
		hs_table_problem(table, "accepts", twice, element->id, "accepts");
	else if (hs_table_has(table, "accepts"))
		point->has_accepts = hs_table_level(table, "accepts", &point->accepts);
	if (hs_table_has(table, "gives") && point->has_gives)
		hs_table_problem(table, "gives", twice, element->id, "gives");
	else if (hs_table_has(table, "gives"))
		point->has_gives = hs_table_level(table, "gives", &point->gives);
	if (!(point->impedance_ohm > 0))
		hs_table_positive(table, "impedance", HS_OHM, &point->impedance_ohm);
	element->point = found;
}

bool hs_laid_shared(const hs_laying *laying, const hs_element *element)
{
	const char *main = hs_sources_main(laying->build->sources)->path;
	return laying->build->alone || !element->file || strcmp(element->file, main) != 0;
}

static void find_suspect(const hs_laying *laying, const hs_table *table, hs_element *element)
{
	const hs_playbook *book = laying->build->playbook;
	const char *name = hs_table_text(table, "suspect");
	element->suspect = hs_playbook_suspect(book, name ? name : element->id);
	if (!name || element->suspect >= 0 || hs_laid_shared(laying, element))
		return;
	const char **known = hs_arena_alloc(laying->build->arena, (book->suspect_count + 1) * sizeof *known);
	for (size_t i = 0; i < book->suspect_count; i++)
		known[i] = book->suspects[i].id;
	hs_problem *problem = hs_table_problem(table, "suspect", "there is no suspect \"%s\"", name);
	hs_build_nearest(laying->build, problem, name, known, book->suspect_count);
}

/* ---- lists within an element ---- */

static void lay_ways(hs_laying *laying, const hs_table *table, int at, int before, int depth)
{
	const hs_bench_unit *unit = &laying->build->playbook->unit;
	hs_element *element = &laying->elements[at];
	const char *by = hs_table_text(table, "by");
	int control = by ? hs_unit_control(unit, by) : -1;
	element->from = -1;
	if (!by || control < 0) {
		hs_problem *problem = by ? hs_table_problem(table, "by", "no control \"%s\" is declared", by)
		                         : hs_table_problem(table, NULL, "the switch \"%s\" does not say which control sets it", element->id);
		hs_problem_hint(problem, "add it to the unit's controls, and say by = \"CONTROL\"");
		return;
	}
	int positions = unit->controls[control].position_count;
	int *ways = hs_arena_alloc(laying->build->arena, (size_t)positions * sizeof *ways);
	for (int i = 0; i < positions; i++)
		ways[i] = -1;
	hs_table all = hs_table_sub(table, "ways", false);
	size_t count;
	const char **names = hs_table_keys(&all, &count);
	for (size_t i = 0; i < count; i++) {
		int position = 0;
		while (position < positions && strcmp(unit->controls[control].positions[position], names[i]) != 0)
			position++;
		if (position == positions) {
			hs_problem *problem = hs_table_problem(&all, names[i], "\"%s\" is no position of the control \"%s\"", names[i], by);
			hs_build_nearest(laying->build, problem, names[i], unit->controls[control].positions, (size_t)positions);
			continue;
		}
		hs_table list = hs_table_sub(&all, names[i], false);
		ways[position] = lay_list(laying, &list, before, depth + 1);
		hs_table_done(&list);
	}
	if (!all.index)
		hs_table_problem(table, NULL, "the switch \"%s\" has no ways", element->id);
	hs_table_done(&all);
	element = &laying->elements[at];
	element->control = control;
	element->ways = ways;
	element->way_count = positions;
}

static void lay_arm(hs_laying *laying, const hs_table *table, const char *key, int at, int depth)
{
	hs_table list = hs_table_sub(table, key, false);
	if (list.index == 0)
		return;
	const hs_element *whole = &laying->elements[at];
	const char *id = hs_arena_printf(laying->build->arena, "%s.%s", whole->id, key);
	int arm = new_element(laying, id, HS_ELEMENT_ARM, at, hs_table_where(table, key), table->decl);
	if (arm >= 0) {
		laying->elements[arm].suspect = laying->elements[at].suspect;
		laying->elements[arm].at_most = strcmp(key, "reverse") == 0;
		lay_list(laying, &list, arm, depth + 1);
	}
	hs_table_done(&list);
}

static int lay_lists(hs_laying *laying, const hs_table *table, int at, int before, int depth)
{
	const char *callee = table->decl->callee;
	if (strcmp(callee, "switch") == 0)
		lay_ways(laying, table, at, before, depth);
	if (strcmp(callee, "coupler") == 0) {
		lay_arm(laying, table, "forward", at, depth);
		lay_arm(laying, table, "reverse", at, depth);
	}
	if (strcmp(callee, "split") == 0 && hs_table_has(table, "side")) {
		hs_table list = hs_table_sub(table, "side", false);
		lay_list(laying, &list, at, depth + 1);
		hs_table_done(&list);
	}
	return at;
}

/* ---- a list ---- */

static bool begins(const hs_element *element)
{
	return element->kind == HS_ELEMENT_PORT || element->kind == HS_ELEMENT_POINT || element->kind == HS_ELEMENT_OSCILLATOR ||
	       element->kind == HS_ELEMENT_SUPPLY;
}

static void fail_gap(const hs_laying *laying, const hs_table *table, const hs_element *element, int before)
{
	hs_problem *problem;
	if (before >= 0)
		problem = hs_table_problem(table, NULL, "\"%s\" stands behind the output %s, so nothing feeds it: the line-up \"%s\" has a gap",
		                           element->id, laying->elements[before].id, laying->lineup->id);
	else
		problem = hs_table_problem(table, NULL, "nothing feeds \"%s\": the line-up \"%s\" has a gap", element->id, laying->lineup->id);
	hs_problem_hint(problem, "begin with a port or an oscillator, or say from = \"ELEMENT\"");
}

/* An output ends a chain; what stands behind it needs a `from`. */
static bool is_output(const hs_laying *laying, int at)
{
	return at >= 0 && laying->elements[at].kind == HS_ELEMENT_PORT && laying->elements[at].from >= 0;
}

static int lay_declared(hs_laying *laying, hs_decl *decl, int before, int depth)
{
	hs_where where = hs_decl_where(laying->build, decl, "");
	hs_words words[3];
	if (!hs_build_good_id(laying->build, decl->id ? decl->id : "", decl->callee, where) || decl->ref == LUA_NOREF)
		return before;
	if (decl->used) {
		hs_build_problem(laying->build, HS_ERROR, where, "\"%s\" stands in two places of a line-up", decl->id);
		return before;
	}
	decl->used = true;
	hs_element_kind kind = kind_of(decl->callee);
	int at = new_element(laying, decl->id, kind, kind == HS_ELEMENT_OSCILLATOR || kind == HS_ELEMENT_SUPPLY ? -1 : before, where, decl);
	if (at < 0)
		return before;
	hs_table table = hs_table_of(laying->build, laying->L, decl);
	const char *what = hs_element_words_of(decl->callee, words);
	hs_table_known(&table, what, decl->skip, words, 3);
	hs_element *element = &laying->elements[at];
	element->title = hs_table_text(&table, "title");
	find_suspect(laying, &table, element);
	if (kind == HS_ELEMENT_PORT)
		declare_port(laying, &table, element);
	if (kind == HS_ELEMENT_POINT)
		element->point = hs_find_point(&table, NULL, element->id, true);
	bool fed = hs_table_has(&table, "from");
	if (!fed && !(before < 0 && begins(element)) && kind != HS_ELEMENT_OSCILLATOR && kind != HS_ELEMENT_SUPPLY &&
	    (before < 0 || is_output(laying, before)))
		fail_gap(laying, &table, element, before);
	lay_lists(laying, &table, at, before, depth);
	hs_table_done(&table);
	/* A supply stands beside the chain, which goes on from what came before it. */
	return kind == HS_ELEMENT_SUPPLY ? before : at;
}

static int lay_named(hs_laying *laying, const hs_table *list, const char *key, const char *id, int before)
{
	int point = hs_find_point(list, key, id, true);
	int at = point < 0 ? -1 : new_element(laying, id, HS_ELEMENT_POINT, before, hs_table_where(list, key), NULL);
	if (at < 0)
		return before;
	laying->elements[at].point = point;
	return at;
}

static int lay_list(hs_laying *laying, const hs_table *list, int before, int depth)
{
	hs_build *build = laying->build;
	lua_State *L = laying->L;
	size_t count = hs_table_length(list);
	if (depth > LISTS_DEEP)
		hs_table_problem(list, NULL, "lists of a line-up are nested more than %d deep", LISTS_DEEP);
	for (size_t i = 0; depth <= LISTS_DEEP && i < count; i++) {
		const char *key = hs_key_at(list, i + 1);
		lua_rawgeti(L, list->index, (lua_Integer)(i + 1));
		size_t token = lua_islightuserdata(L, -1) ? (size_t)(uintptr_t)lua_touserdata(L, -1) : 0;
		const char *id = lua_type(L, -1) == LUA_TSTRING ? hs_table_text(list, key) : NULL;
		lua_pop(L, 1);
		if (token > 0 && token <= build->decl_count) {
			before = lay_declared(laying, &build->decls[token - 1], before, depth);
		} else if (id) {
			before = lay_named(laying, list, key, id, before);
		} else {
			hs_problem *problem = hs_table_problem(list, key, "value %zu of this list is %s, and an element of a line-up was wanted",
			                                       i + 1, hs_table_what(list, key));
			hs_problem_hint(problem, "it is a \"POINT\", or port, stage, point, mixer, switch, split, coupler, joint, oscillator, supply or levelling { ... }");
		}
	}
	return before;
}

/* ---- the whole ---- */

/* Where each one is fed from was in part only named. */
static void resolve_feeds(hs_laying *laying)
{
	for (size_t i = 0; i < laying->count; i++) {
		if (!laying->decls[i] || laying->elements[i].kind == HS_ELEMENT_ARM)
			continue;
		hs_table table = hs_table_of(laying->build, laying->L, laying->decls[i]);
		if (hs_table_has(&table, "from"))
			laying->elements[i].from = hs_laid_element(laying, &table, "from");
		hs_table_done(&table);
	}
}

static bool scale_of(const hs_laying *laying, int at, int left)
{
	const hs_element *element = &laying->elements[at];
	int before = element->from;
	for (int i = 0; before < 0 && i < element->way_count; i++)
		before = element->ways[i];
	return before < 0 || left == 0 ? element->volts : scale_of(laying, before, left - 1);
}

static void read_scale(hs_laying *laying, const hs_table *table)
{
	const hs_bench_unit *unit = &laying->build->playbook->unit;
	const char *word = hs_table_text(table, "levels");
	hs_unit in;
	if (word) {
		bool known = hs_unit_find(word, &in);
		hs_dimension dimension = known ? hs_unit_dimension(in) : HS_DIM_NONE;
		laying->volts = dimension == HS_DIM_VOLTAGE;
		if (dimension != HS_DIM_POWER && dimension != HS_DIM_VOLTAGE) {
			hs_problem *problem = hs_table_problem(table, "levels", "\"%s\" is no unit of a level", word);
			hs_problem_hint(problem, "it is dBm or W, or V, dBu or dBV");
		}
		return;
	}
	/* Nothing said: as its first port. */
	lua_rawgeti(laying->L, table->index, (lua_Integer)(table->decl->skip + 1));
	size_t token = lua_islightuserdata(laying->L, -1) ? (size_t)(uintptr_t)lua_touserdata(laying->L, -1) : 0;
	const char *id = token > 0 && token <= laying->build->decl_count ? laying->build->decls[token - 1].id : NULL;
	lua_pop(laying->L, 1);
	int point = id ? hs_unit_point(unit, id) : -1;
	if (point >= 0 && unit->points[point].has_accepts)
		laying->volts = hs_unit_dimension(unit->points[point].accepts.unit) == HS_DIM_VOLTAGE;
}

static void finish(hs_laying *laying, const hs_table *table)
{
	double impedance = 0;
	hs_table_positive(table, "impedance", HS_OHM, &impedance);
	resolve_feeds(laying);
	hs_lineup *lineup = laying->lineup;
	lineup->elements = laying->elements;
	lineup->count = laying->count;
	for (size_t i = 0; i < laying->count; i++) {
		laying->elements[i].volts = scale_of(laying, (int)i, HS_ELEMENTS_MOST);
		laying->elements[i].impedance_ohm = impedance;
	}
	for (size_t i = 0; i < laying->count; i++)
		hs_fill_element(laying, i);
}

/* ---- can it be read at all? ---- */

/* At which frequency the unit itself makes a signal there; 0 when that is not known. *dc: it is a supply's. */
static double own_frequency(const hs_lineup *lineup, int at, bool *dc)
{
	static const uint8_t nowhere[HS_CONTROLS_MOST];
	hs_line_settings settings = {nowhere, HS_CONTROLS_MOST, 0};
	hs_route route;
	if (!hs_lineup_route(lineup, NULL, at, &settings, NULL, &route, NULL))
		return 0;
	*dc = route.volts && !(route.out_hz > 0);
	return route.out_hz;
}

static bool some_hookup_reads(const hs_kit *kit, const hs_measurand *what, size_t count, double freq_hz)
{
	bool inside;
	for (size_t i = 0; i < kit->hookup_count; i++)
		for (size_t m = 0; m < count; m++)
			if (hs_hookup_range(kit->hookups[i], what[m], freq_hz, NULL, &inside))
				return true;
	return false;
}

static void check_reach(const hs_laying *laying, int at)
{
	static const hs_measurand power[] = {HS_READS_POWER, HS_READS_AC_VOLTS};
	static const hs_measurand volts[] = {HS_READS_VOLTS, HS_READS_AC_VOLTS, HS_READS_POWER};
	const hs_kit *kit = laying->build->kit;
	const hs_element *element = &laying->elements[at];
	bool dc = false;
	double freq_hz = own_frequency(laying->lineup, at, &dc);
	if (element->volts ? some_hookup_reads(kit, volts, dc ? 1 : 3, freq_hz) : some_hookup_reads(kit, power, 2, freq_hz))
		return;
	hs_buf freq;
	hs_buf_init(&freq);
	if (freq_hz > 0) {
		hs_buf_str(&freq, " at ");
		hs_quantity_print(&freq, (hs_quantity){freq_hz, HS_HERTZ}, -1);
	}
	hs_problem *problem =
	    hs_build_problem(laying->build, HS_WARNING, (hs_where){element->file, element->line},
	                     "no hookup of the kit reads %s%s, so none can reach the point %s of the line-up \"%s\"",
	                     dc ? "volts" : element->volts ? "ac volts" : "power", freq.data ? freq.data : "", element->id, laying->lineup->id);
	hs_problem_hint(problem, "add a hookup to the kit, or leave the point out");
	hs_buf_free(&freq);
}

static void read_lineup(hs_build *build, lua_State *L, const hs_decl *decl, hs_lineup *lineup)
{
	hs_where where = hs_decl_where(build, decl, "");
	*lineup = (hs_lineup){.id = decl->id, .file = where.file, .line = where.line};
	hs_laying laying = {.build = build, .L = L, .decl = decl, .lineup = lineup};
	laying.elements = hs_arena_alloc(build->arena, HS_ELEMENTS_MOST * sizeof *laying.elements);
	hs_table table = hs_table_of(build, L, decl);
	hs_table_known(&table, "a line-up", HS_ANY_LENGTH, (hs_words[]){HS_WORDS(lineup_words)}, 1);
	lineup->title = hs_table_text(&table, "title");
	read_scale(&laying, &table);
	lay_list(&laying, &table, -1, 0);
	if (laying.count == 0)
		hs_table_problem(&table, NULL, "the line-up \"%s\" has no elements", decl->id);
	finish(&laying, &table);
	for (size_t i = 0; build->kit && i < laying.count; i++)
		if (laying.elements[i].kind == HS_ELEMENT_POINT && hs_lineup_cycle(lineup) < 0)
			check_reach(&laying, (int)i);
	hs_table_done(&table);
}

static void leave_over(hs_build *build)
{
	for (size_t i = 0; i < build->decl_count; i++) {
		hs_decl *decl = &build->decls[i];
		if (!decl->inner || decl->used || decl->ref == LUA_NOREF)
			continue;
		hs_problem *problem = hs_build_problem(build, HS_ERROR, hs_decl_where(build, decl, ""), "%s \"%s\" stands in no line-up",
		                                       decl->callee, decl->id ? decl->id : "");
		hs_problem_hint(problem, "write it among the elements of lineup \"ID\" { ... }");
	}
}

void hs_bind_lineups(hs_build *build, lua_State *L)
{
	hs_playbook *book = build->playbook;
	book->lineups = hs_arena_alloc(build->arena, LINEUPS_MOST * sizeof *book->lineups);
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "lineup") != 0 || decl->ref == LUA_NOREF)
			continue;
		hs_where where = hs_decl_where(build, decl, "");
		if (!hs_build_good_id(build, decl->id ? decl->id : "", "line-up", where))
			continue;
		int twin = hs_playbook_lineup(book, decl->id);
		if (twin >= 0)
			hs_build_problem(build, HS_ERROR, where, "the line-up \"%s\" is declared twice; the other stands in line %d of %s",
			                 decl->id, book->lineups[twin].line, book->lineups[twin].file);
		else if (book->lineup_count == LINEUPS_MOST)
			hs_build_problem(build, HS_ERROR, where, "a playbook has at most %d line-ups", LINEUPS_MOST);
		else
			read_lineup(build, L, decl, &book->lineups[book->lineup_count++]);
	}
	leave_over(build);
}
