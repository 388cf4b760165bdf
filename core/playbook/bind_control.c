/* Controls: what a unit or an instrument can be set to, and what a step wants set. */
#include <lauxlib.h>
#include <string.h>
#include "names.h"

static const char *const control_words[] = {"title", "zone"};

enum { POSITIONS_MOST = 22 };

/* { "low", "high" }, or the same with title and zone. */
static void read_control(const hs_table *all, const char *name, hs_bench_unit *unit)
{
	hs_table one = hs_table_sub(all, name, true);
	if (one.index == 0)
		return;
	hs_table_known(&one, "a control", HS_ANY_LENGTH, (hs_words[]){HS_WORDS(control_words)}, 1);
	size_t count = hs_table_length(&one);
	if (unit->control_count == HS_CONTROLS_MOST) {
		hs_table_problem(all, name, "a unit has at most %d controls", HS_CONTROLS_MOST);
	} else if (count < 2 || count > POSITIONS_MOST) {
		hs_problem *problem = hs_table_problem(all, name, "the control \"%s\" has %zu positions, and 2 to %d were wanted", name, count,
		                                       POSITIONS_MOST);
		hs_problem_hint(problem, "write %s = { \"low\", \"high\" }", name);
	} else if (hs_build_good_id(all->build, name, "control", hs_table_where(all, name))) {
		hs_control *control = &unit->controls[unit->control_count++];
		const char **positions = hs_arena_alloc(all->build->arena, count * sizeof *positions);
		for (size_t i = 0; i < count; i++) {
			positions[i] = hs_table_text(&one, hs_key_at(&one, i + 1));
			if (positions[i] == NULL)
				positions[i] = "?";
			else if (hs_same_word(positions[i], "unknown") || hs_same_word(positions[i], "done"))
				hs_table_problem(&one, hs_key_at(&one, i + 1), "\"%s\" is an answer of its own, and no position", positions[i]);
		}
		*control = (hs_control){.id = name, .title = hs_table_text(&one, "title"), .positions = positions,
		                        .position_count = (int)count, .where = hs_table_where(all, name)};
		control->zone = hs_find_zone(&one, "zone", -1);
	}
	hs_table_done(&one);
}

void hs_bind_controls(const hs_table *unit_table)
{
	hs_table all = hs_table_sub(unit_table, "controls", false);
	if (all.index == 0)
		return;
	size_t count;
	const char **names = hs_table_keys(&all, &count);
	for (size_t i = 0; i < count; i++)
		read_control(&all, names[i], &unit_table->build->playbook->unit);
	hs_table_done(&all);
}

static void unknown_control(const hs_table *set, const char *name)
{
	const hs_bench_unit *unit = &set->build->playbook->unit;
	const char *known[HS_CONTROLS_MOST];
	for (int i = 0; i < unit->control_count; i++)
		known[i] = unit->controls[i].id;
	hs_problem *problem = hs_table_problem(set, name, "no control \"%s\" is declared", name);
	hs_build_nearest(set->build, problem, name, known, (size_t)unit->control_count);
}

void hs_find_settings(const hs_table *table, uint8_t set[HS_CONTROLS_MOST])
{
	hs_table sub = hs_table_sub(table, "set", false);
	if (sub.index == 0)
		return;
	const hs_bench_unit *unit = &table->build->playbook->unit;
	size_t count;
	const char **names = hs_table_keys(&sub, &count);
	for (size_t i = 0; i < count; i++) {
		int control = hs_unit_control(unit, names[i]);
		if (control < 0) {
			unknown_control(&sub, names[i]);
			continue;
		}
		const hs_control *it = &unit->controls[control];
		const char *position = hs_table_text(&sub, names[i]);
		for (int j = 0; position != NULL && j < it->position_count; j++)
			if (strcmp(it->positions[j], position) == 0)
				set[control] = (uint8_t)(j + 1);
		if (position != NULL && set[control] == 0) {
			hs_problem *problem = hs_table_problem(&sub, names[i], "\"%s\" is no position of the control \"%s\"", position, names[i]);
			hs_build_nearest(table->build, problem, position, it->positions, (size_t)it->position_count);
		}
	}
	hs_table_done(&sub);
}
