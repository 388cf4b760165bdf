/* unit { ... } and point "ID" { ... }: energy, zones, covers, temporary changes, and where one can measure. */
#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "names.h"

static hs_bench_unit *unit_of(const hs_table *table)
{
	return &table->build->playbook->unit;
}

static const char *const zone_words[] = {"guard", "title"};
static const char *const part_words[] = {"title", "after", "needs", "fixings", "torque"};
static const char *const change_words[] = {"kind", "title", "zone", "needs", "after"};
static const char *const break_words[] = {"title", "connector", "torque", "terminate", "zone", "needs", "after"};
static const char *const source_words[] = {"zone", "max", "title", "mains"};
static const char *const store_words[] = {"charged", "farads", "bleed", "zone", "max", "follows_line", "title", "over"};
static const char *const over_words[] = {"farads", "bleed"};
static const char *const emit_words[] = {"rf", "key", "cool", "drive"};
static const char *const unit_words[] = {"supply", "rails",   "stores", "emits",  "zones",
                                         "parts",  "changes", "breaks", "switch", "standby", "controls",
                                         "tools",  "consumables", "hazards"};
static const char *const point_words[] = {"title", "zone", "behind", "accepts", "gives", "dc", "impedance", "connector"};

/* ---- names of things of the unit ---- */

int hs_find_zone(const hs_table *table, const char *key, int otherwise)
{
	const hs_bench_unit *unit = unit_of(table);
	const char *name = hs_table_text(table, key);
	if (!name)
		return otherwise;
	int found = hs_unit_zone(unit, name);
	if (found >= 0)
		return found;
	const char *known[HS_ZONES_MOST];
	for (int i = 0; i < unit->zone_count; i++)
		known[i] = unit->zones[i].id;
	hs_problem *problem = hs_table_problem(table, key, "there is no zone \"%s\"", name);
	hs_build_nearest(table->build, problem, name, known, (size_t)unit->zone_count);
	return otherwise;
}

static bool is_of(hs_openable_kind kind, hs_openable_sort sort)
{
	switch (sort) {
	case HS_SORT_COVER: return kind == HS_OPEN_COVER;
	case HS_SORT_CHANGE: return kind != HS_OPEN_COVER;
	case HS_SORT_JOINT: return kind == HS_OPEN_JOINT;
	case HS_SORT_BEFORE: return kind == HS_OPEN_COVER || kind == HS_OPEN_JOINT;
	}
	return false;
}

/* A cover, joint or temporary change by name; another sort is named as such. -1 and a problem when it is not there. */
static int find_openable(const hs_table *table, const char *key, const char *name, hs_openable_sort sort)
{
	static const char *const sorts[] = {"cover", "temporary change", "joint", "cover or joint"};
	const hs_bench_unit *unit = unit_of(table);
	int found = hs_unit_openable(unit, name);
	hs_openable_kind kind = found >= 0 ? unit->openables[found].kind : HS_OPEN_COVER;
	if (found >= 0 && is_of(kind, sort))
		return found;
	hs_problem *problem;
	if (found >= 0) {
		const char *is = kind == HS_OPEN_COVER ? "cover" : kind == HS_OPEN_JOINT ? "joint" : "temporary change";
		problem = hs_table_problem(table, key, "\"%s\" is a %s, and a %s was wanted", name, is, sorts[sort]);
		hs_problem_hint(problem, kind == HS_OPEN_COVER   ? "a cover is named by open"
		                         : kind == HS_OPEN_JOINT ? "a joint to be parted is named by breaks"
		                                                 : "a temporary change is named by with, makes or undoes");
		return -1;
	}
	const char *known[HS_OPENABLES_MOST];
	for (int i = 0; i < unit->openable_count; i++)
		known[i] = unit->openables[i].id;
	problem = hs_table_problem(table, key, "the unit declares no %s \"%s\"", sorts[sort], name);
	hs_build_nearest(table->build, problem, name, known, (size_t)unit->openable_count);
	return -1;
}

uint64_t hs_find_openables(const hs_table *table, const char *key, hs_openable_sort sort)
{
	size_t count;
	uint64_t mask = 0;
	const char **names = hs_table_texts(table, key, &count);
	for (size_t i = 0; i < count; i++) {
		int found = *names[i] ? find_openable(table, hs_table_item(table, key, i), names[i], sort) : -1;
		if (found >= 0)
			mask |= UINT64_C(1) << found;
	}
	return mask;
}

int hs_find_cover(const hs_table *table, const char *key)
{
	const char *name = hs_table_text(table, key);
	return name ? find_openable(table, key, name, HS_SORT_COVER) : -1;
}

int hs_find_point(const hs_table *table, const char *key, const char *name, bool must)
{
	const hs_bench_unit *unit = unit_of(table);
	int found = hs_unit_point(unit, name);
	if (found >= 0 || !must)
		return found;
	hs_problem *problem = hs_table_problem(table, key, "no point \"%s\" is declared", name);
	const char **known = hs_arena_alloc(table->build->arena, (size_t)(unit->point_count + 1) * sizeof *known);
	for (int i = 0; i < unit->point_count; i++)
		known[i] = unit->points[i].id;
	hs_build_nearest(table->build, problem, name, known, (size_t)unit->point_count);
	return -1;
}

bool hs_find_need(const hs_table *table, const char *key, hs_need *out)
{
	const char *word = hs_table_text(table, key);
	if (!word)
		return false;
	if (hs_need_find(word, out))
		return true;
	const char *known[HS_NEED_COUNT];
	for (int i = 0; i < HS_NEED_COUNT; i++)
		known[i] = hs_need_name((hs_need)i);
	hs_problem *problem = hs_table_problem(table, key, "\"%s\" is no power state a step can need", word);
	hs_problem_hint(problem, "it is one of any, dead, off, standby, on, keyed");
	hs_build_nearest(table->build, problem, word, known, HS_NEED_COUNT);
	return false;
}

/* ---- zones, covers, changes ---- */

static void read_zones(const hs_table *unit_table)
{
	hs_bench_unit *unit = unit_of(unit_table);
	hs_table zones = hs_table_sub(unit_table, "zones", false);
	size_t count;
	const char **names = hs_table_keys(&zones, &count);
	for (size_t i = 0; i < count; i++) {
		hs_table one = hs_table_sub(&zones, names[i], false);
		hs_table_known(&one, "a zone", 0, (hs_words[]){HS_WORDS(zone_words)}, 1);
		int index = hs_unit_zone(unit, names[i]);
		if (index < 0 &&
		    !hs_build_good_id(unit_table->build, names[i], "zone", hs_table_where(&zones, names[i]))) {
			hs_table_done(&one);
			continue;
		}
		if (index < 0 && unit->zone_count == HS_ZONES_MOST) {
			hs_table_problem(&zones, names[i], "a unit has at most %d zones, \"inside\" among them",
			                 HS_ZONES_MOST);
			hs_table_done(&one);
			break;
		}
		index = index < 0 ? unit->zone_count++ : index;
		unit->zones[index] = (hs_zone){.id = names[i],
		                               .title = hs_table_text(&one, "title"),
		                               .guard = -1,
		                               .where = hs_table_where(&zones, names[i])};
		hs_table_done(&one);
	}
	hs_table_done(&zones);
}

static void read_guards(const hs_table *unit_table)
{
	hs_bench_unit *unit = unit_of(unit_table);
	hs_table zones = hs_table_sub(unit_table, "zones", true);
	for (int i = 0; i < unit->zone_count && zones.index; i++) {
		hs_table one = hs_table_sub(&zones, unit->zones[i].id, true);
		const char *guard = hs_table_text(&one, "guard");
		if (guard)
			unit->zones[i].guard = find_openable(&one, "guard", guard, HS_SORT_COVER);
		hs_table_done(&one);
	}
	hs_table_done(&zones);
}

static hs_openable *new_openable(const hs_table *table, const char *name, const char *what)
{
	hs_bench_unit *unit = unit_of(table);
	hs_where where = hs_table_where(table, name);
	if (!hs_build_good_id(table->build, name, what, where))
		return NULL;
	int twin = hs_unit_openable(unit, name);
	if (twin >= 0) {
		hs_table_problem(table, name, "\"%s\" is declared twice; the other stands in line %d of %s", name,
		                 unit->openables[twin].where.line, unit->openables[twin].where.file);
		return NULL;
	}
	if (unit->openable_count == HS_OPENABLES_MOST) {
		hs_table_problem(table, name, "a unit has at most %d covers and temporary changes together",
		                 HS_OPENABLES_MOST);
		return NULL;
	}
	hs_openable *new = &unit->openables[unit->openable_count++];
	*new = (hs_openable){.id = name, .after = -1, .zone = -1, .needs = HS_NEED_OFF, .where = where};
	return new;
}

static void read_part(const hs_table *parts, const char *name)
{
	hs_openable *part = new_openable(parts, name, "part");
	hs_table one = hs_table_sub(parts, name, false);
	hs_table_known(&one, "a part", 0, (hs_words[]){HS_WORDS(part_words)}, 1);
	if (part) {
		part->kind = HS_OPEN_COVER;
		part->title = hs_table_text(&one, "title");
		part->fixings = hs_table_text(&one, "fixings");
		part->torque = hs_table_text(&one, "torque");
		part->needs_given = hs_find_need(&one, "needs", &part->needs);
	}
	hs_table_done(&one);
}

static void read_change(const hs_table *changes, const char *name)
{
	hs_openable *change = new_openable(changes, name, "temporary change");
	hs_table one = hs_table_sub(changes, name, false);
	hs_table_known(&one, "a temporary change", 0, (hs_words[]){HS_WORDS(change_words)}, 1);
	if (change) {
		const char *kind = hs_table_text(&one, "kind");
		change->kind = HS_OPEN_LINK;
		if (!kind)
			hs_table_problem(changes, name, "\"%s\" does not say what kind of change it is", name);
		else if (!hs_openable_find(kind, &change->kind) || change->kind == HS_OPEN_COVER) {
			hs_problem *problem =
			    hs_table_problem(&one, "kind", "\"%s\" is no kind of temporary change", kind);
			hs_problem_hint(
			    problem,
			    "it is one of link, lifted leg, short, open port, broken joint, defeated interlock, pad");
			change->kind = HS_OPEN_LINK;
		}
		change->title = hs_table_text(&one, "title");
		change->zone = hs_find_zone(&one, "zone", -1);
		change->needs_given = hs_find_need(&one, "needs", &change->needs);
	}
	hs_table_done(&one);
}

/* A joint of the signal's way that a step parts, to get at its two sides. */
static void read_break(const hs_table *breaks, const char *name)
{
	hs_openable *joint = new_openable(breaks, name, "joint");
	hs_table one = hs_table_sub(breaks, name, false);
	hs_table_known(&one, "a joint", 0, (hs_words[]){HS_WORDS(break_words)}, 1);
	if (joint) {
		joint->kind = HS_OPEN_JOINT;
		joint->title = hs_table_text(&one, "title");
		joint->connector = hs_table_text(&one, "connector");
		joint->torque = hs_table_text(&one, "torque");
		joint->terminate = hs_table_text(&one, "terminate");
		joint->zone = hs_find_zone(&one, "zone", -1);
		joint->needs_given = hs_find_need(&one, "needs", &joint->needs);
	}
	hs_table_done(&one);
}

/* A joint inside a zone is reached once the zone's guard is off, whether its author says so or not. */
static void put_joints_behind_guards(hs_bench_unit *unit)
{
	for (int i = 0; i < unit->openable_count; i++) {
		hs_openable *it = &unit->openables[i];
		if (it->kind == HS_OPEN_JOINT && it->after < 0 && it->zone >= 0)
			it->after = unit->zones[it->zone].guard;
	}
}

/* The order can be looked up only when every cover is known. */
static void read_order(const hs_table *unit_table, const char *group)
{
	hs_bench_unit *unit = unit_of(unit_table);
	hs_table all = hs_table_sub(unit_table, group, true);
	for (int i = 0; i < unit->openable_count && all.index; i++) {
		hs_table one = hs_table_sub(&all, unit->openables[i].id, true);
		const char *after = hs_table_text(&one, "after");
		if (after)
			unit->openables[i].after = find_openable(&one, "after", after, HS_SORT_COVER);
		hs_table_done(&one);
	}
	hs_table_done(&all);
}

static void read_group(const hs_table *unit_table, const char *group, void (*read_one)(const hs_table *, const char *))
{
	hs_table all = hs_table_sub(unit_table, group, false);
	size_t count;
	const char **names = hs_table_keys(&all, &count);
	for (size_t i = 0; i < count; i++)
		read_one(&all, names[i]);
	hs_table_done(&all);
}

/* ---- where energy comes from and stays ---- */

static hs_energy_source *new_source(const hs_table *table, const char *name)
{
	hs_bench_unit *unit = unit_of(table);
	hs_where where = hs_table_where(table, name);
	if (!hs_build_good_id(table->build, name, "supply, rail or store", where))
		return NULL;
	for (int i = 0; i < unit->source_count; i++)
		if (strcmp(unit->sources[i].id, name) == 0) {
			hs_table_problem(table, name, "\"%s\" is declared twice; the other stands in line %d of %s",
			                 name, unit->sources[i].where.line, unit->sources[i].where.file);
			return NULL;
		}
	if (unit->source_count == HS_ENERGY_SOURCES_MOST) {
		hs_table_problem(table, name, "a unit has at most %d supplies, rails and stores together",
		                 HS_ENERGY_SOURCES_MOST);
		return NULL;
	}
	hs_energy_source *new = &unit->sources[unit->source_count++];
	*new = (hs_energy_source){.id = name, .farads_over = 0.20, .bleed_over = 0.10, .shop = unit->shop, .where = where};
	return new;
}

/* "12 V", or { "12 V", zone = ..., ... }. The sign of a rail says nothing about its hazard. */
static void read_supplied(const hs_table *group, const char *name, bool rail)
{
	hs_energy_source *source = new_source(group, name);
	if (!source)
		return;
	source->kind = rail ? HS_SOURCE_RAIL : strcmp(name, "mains") == 0 ? HS_SOURCE_MAINS : HS_SOURCE_DC;
	hs_table one = hs_table_sub(group, name, true);
	if (one.index == 0) {
		hs_table_in(group, name, HS_VOLT, &source->volts);
	} else {
		hs_table_known(&one, rail ? "a rail" : "a supply", 1, (hs_words[]){HS_WORDS(source_words)}, 1);
		if (!hs_table_has(&one, "[1]"))
			hs_table_problem(&one, NULL, "\"%s\" does not say how many volts it has", name);
		hs_table_in(&one, "[1]", HS_VOLT, &source->volts);
		source->zone = hs_find_zone(&one, "zone", 0);
		source->volts_is_max = hs_table_flag(&one, "max");
		source->title = hs_table_text(&one, "title");
		if (hs_table_flag(&one, "mains") && !rail)
			source->kind = HS_SOURCE_MAINS;
	}
	source->volts = fabs(source->volts);
	hs_table_done(&one);
}

static void read_supply(const hs_table *group, const char *name)
{
	read_supplied(group, name, false);
}

static void read_rail(const hs_table *group, const char *name)
{
	read_supplied(group, name, true);
}

static void read_store(const hs_table *stores, const char *name)
{
	hs_energy_source *store = new_source(stores, name);
	hs_table one = hs_table_sub(stores, name, false);
	hs_table_known(&one, "a store", 0, (hs_words[]){HS_WORDS(store_words)}, 1);
	if (store) {
		store->kind = HS_SOURCE_STORE;
		hs_table_in(&one, "charged", HS_VOLT, &store->volts);
		store->volts = fabs(store->volts);
		hs_table_positive(&one, "farads", HS_FARAD, &store->farads);
		hs_table_positive(&one, "bleed", HS_OHM, &store->bleed_ohm);
		store->zone = hs_find_zone(&one, "zone", 0);
		store->volts_is_max = hs_table_flag(&one, "max");
		store->follows_line = hs_table_flag(&one, "follows_line");
		store->title = hs_table_text(&one, "title");
		hs_table over = hs_table_sub(&one, "over", false);
		hs_table_known(&over, "\"over\"", 0, (hs_words[]){HS_WORDS(over_words)}, 1);
		hs_table_percent(&over, "farads", &store->farads_over);
		hs_table_percent(&over, "bleed", &store->bleed_over);
		hs_table_done(&over);
	}
	hs_table_done(&one);
}

static void read_emitters(const hs_table *unit_table)
{
	hs_bench_unit *unit = unit_of(unit_table);
	hs_table all = hs_table_sub(unit_table, "emits", false);
	size_t count;
	const char **names = hs_table_keys(&all, &count);
	unit->emitters = hs_arena_alloc(unit_table->build->arena, count * sizeof *unit->emitters);
	for (size_t i = 0; i < count; i++) {
		hs_table one = hs_table_sub(&all, names[i], false);
		hs_table_known(&one, "what a point emits", 0, (hs_words[]){HS_WORDS(emit_words)}, 1);
		hs_emitter *emitter = &unit->emitters[unit->emitter_count++];
		*emitter = (hs_emitter){.id = names[i], .key_seconds = 5, .where = hs_table_where(&all, names[i])};
		hs_find_point(&all, names[i], names[i], true);
		if (one.index && !hs_table_has(&one, "rf"))
			hs_table_problem(&all, names[i], "\"%s\" does not say what power it emits: rf = \"50 W\"",
			                 names[i]);
		hs_table_positive(&one, "rf", HS_WATT, &emitter->watts);
		hs_table_positive(&one, "key", HS_SECOND, &emitter->key_seconds);
		hs_table_positive(&one, "cool", HS_SECOND, &emitter->cool_seconds);
		emitter->drive_is_safe = hs_table_has(&one, "drive") && !hs_table_flag(&one, "drive");
		hs_table_done(&one);
	}
	hs_table_done(&all);
}

/* ---- points ---- */

static void read_point(const hs_table *table, hs_point *point)
{
	hs_table_known(table, "a point", table->decl->skip, (hs_words[]){HS_WORDS(point_words)}, 1);
	point->title = hs_table_text(table, "title");
	point->behind = hs_find_openables(table, "behind", HS_SORT_BEFORE);
	point->zone = hs_find_zone(table, "zone", hs_table_has(table, "behind") ? 0 : -1);
	point->has_accepts = hs_table_level(table, "accepts", &point->accepts);
	point->has_gives = hs_table_level(table, "gives", &point->gives);
	hs_table_in(table, "dc", HS_VOLT, &point->dc_v);
	point->dc_v = fabs(point->dc_v);
	hs_table_positive(table, "impedance", HS_OHM, &point->impedance_ohm);
	point->has_connector = hs_table_connector(table, "connector", &point->connector);
}

static void read_points(hs_build *build, lua_State *L)
{
	hs_bench_unit *unit = &build->playbook->unit;
	unit->points = hs_arena_alloc(build->arena, build->decl_count * sizeof *unit->points);
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "point") != 0 || decl->inner || decl->ref == LUA_NOREF)
			continue;
		hs_where where = hs_decl_where(build, decl, "");
		int twin = decl->id ? hs_unit_point(unit, decl->id) : -1;
		if (!hs_build_good_id(build, decl->id ? decl->id : "", "point", where))
			continue;
		if (twin >= 0) {
			hs_build_problem(build, HS_ERROR, where,
			                 "the point \"%s\" is declared twice; the other stands in line %d of %s",
			                 decl->id, unit->points[twin].where.line, unit->points[twin].where.file);
			continue;
		}
		hs_table table = hs_table_of(build, L, decl);
		hs_point *point = &unit->points[unit->point_count++];
		*point = (hs_point){.id = decl->id, .where = where};
		read_point(&table, point);
		hs_table_done(&table);
	}
}

static void read_unit(const hs_table *table)
{
	hs_bench_unit *unit = unit_of(table);
	unit->declared = true;
	unit->where = hs_table_where(table, NULL);
	hs_table_known(table, "a unit", 0, (hs_words[]){HS_WORDS(unit_words)}, 1);
	unit->has_standby = hs_table_flag(table, "standby");
	unit->tools = hs_table_texts(table, "tools", &unit->tool_count);
	unit->consumables = hs_table_texts(table, "consumables", &unit->consumable_count);
	const char *title = hs_table_text(table, "switch");
	if (title)
		unit->switch_title = title;
	read_zones(table);
	read_group(table, "parts", read_part);
	read_group(table, "changes", read_change);
	read_group(table, "breaks", read_break);
	read_order(table, "parts");
	read_order(table, "changes");
	read_order(table, "breaks");
	read_guards(table);
	put_joints_behind_guards(unit);
	hs_bind_controls(table);
	hs_bind_dangers(table);
	read_group(table, "supply", read_supply);
	read_group(table, "rails", read_rail);
	read_group(table, "stores", read_store);
}

void hs_bind_unit(hs_build *build, lua_State *L)
{
	hs_bench_unit *unit = &build->playbook->unit;
	const hs_decl *first = NULL;
	*unit = (hs_bench_unit){.zone_count = 1, .shop = build->kit ? build->kit->shop : NULL, .switch_title = "the front-panel switch"};
	unit->zones[0] = (hs_zone){.id = "inside", .guard = -1};
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "unit") != 0)
			continue;
		hs_table table = hs_table_of(build, L, decl);
		if (first)
			hs_table_problem(&table, NULL, "the unit is declared twice; the other stands in line %d of %s",
			                 first->line, first->file);
		else
			read_unit(&table);
		first = first ? first : decl;
		hs_table_done(&table);
	}
	read_points(build, L);
	if (first) {
		hs_table table = hs_table_of(build, L, first);
		read_emitters(&table);
		hs_table_done(&table);
	}
}
