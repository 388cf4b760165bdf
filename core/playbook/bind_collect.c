/* Blocks of readings that are all taken before anything is judged: collect and checklist. */
#include <string.h>
#include "names.h"

static void use_own_readings(hs_build *build, hs_step *step)
{
	hs_function *function = &step->decide;
	hs_use *uses = hs_arena_alloc(build->arena, (function->use_count + step->reading_count) * sizeof *uses);
	if (function->use_count)
		memcpy(uses, function->uses, function->use_count * sizeof *uses);
	for (size_t i = 0; i < step->reading_count; i++) {
		const char *name = step->readings[i].name;
		uses[function->use_count++] =
		    (hs_use){.name = name,
		             .step = -1,
		             .slot = -1,
		             .where = step->readings[i].where,
		             .target = hs_arena_printf(build->arena, "%s/%s", step->id, name)};
	}
	function->uses = uses;
}

void hs_read_collected(const hs_table *table, hs_step *step, bool meant)
{
	hs_read_holds(table, step);
	if (!hs_table_has(table, "decide")) {
		hs_read_outcomes(table, step, meant);
		return;
	}
	if (hs_read_function(table, "decide", table, &step->decide)) {
		use_own_readings(table->build, step);
		hs_read_exits(table, step);
		hs_check_function(table, "decide", &step->decide, step);
	} else {
		hs_table_problem(table, "decide", "\"decide\" is %s, and a function was wanted",
		                 hs_table_what(table, "decide"));
	}
}

void hs_read_collect(const hs_table *table, hs_step *step)
{
	hs_table list = hs_table_sub(table, "collect", false);
	if (list.index) {
		hs_table_known(&list, "a row of readings", HS_ANY_LENGTH, NULL, 0);
		hs_read_list(&list, step);
		if (step->reading_count == 0)
			hs_table_problem(&list, NULL, "the collect step \"%s\" collects nothing", step->id);
	}
	hs_table_done(&list);
	hs_read_collected(table, step, false);
}

/* { "edges", "Are both edges clean?" }: yes is ok, no is low. */
static void read_tick(const hs_table *list, const char *key, hs_step *step)
{
	hs_table one = hs_table_sub(list, key, false);
	if (one.index == 0)
		return;
	hs_reading *tick = &step->readings[step->reading_count++];
	*tick = (hs_reading){
	    .name = step->id, .reads = HS_READS_TICK, .point = -1, .limits_by = {.id = -1}, .unit = HS_UNITLESS};
	tick->where = hs_table_where(&one, NULL);
	tick->has_limits = true;
	tick->limits = (hs_limits){.has_low = true, .low = 0.5, .unit = HS_UNITLESS};
	hs_table_known(&one, "a line of a checklist", 2, NULL, 0);
	const char *name = hs_table_text(&one, "[1]");
	tick->asks = hs_table_text(&one, "[2]");
	if (name)
		tick->name = name;
	if (!name || !tick->asks) {
		hs_problem *problem = hs_table_problem(&one, NULL, "a line of a checklist is a name and a question");
		hs_problem_hint(problem, "write { \"edges\", \"Are both edges clean?\" }");
	} else if (hs_good_reading_name(&one, tick)) {
		for (size_t i = 0; i + 1 < step->reading_count; i++)
			if (strcmp(step->readings[i].name, name) == 0)
				hs_table_problem(&one, "[1]", "the step \"%s\" has two lines named \"%s\"", step->id,
				                 name);
	}
	hs_table_done(&one);
}

void hs_read_checklist(const hs_table *table, hs_step *step)
{
	hs_table list = hs_table_sub(table, "checklist", false);
	size_t count = hs_table_length(&list);
	hs_table_known(&list, "a checklist", HS_ANY_LENGTH, NULL, 0);
	step->readings = hs_arena_alloc(table->build->arena, count * sizeof *step->readings);
	for (size_t i = 0; i < count; i++)
		read_tick(&list, hs_key_at(&list, i + 1), step);
	if (list.index && count == 0)
		hs_table_problem(&list, NULL, "the checklist \"%s\" asks nothing", step->id);
	hs_table_done(&list);
	hs_read_collected(table, step, true);
}
