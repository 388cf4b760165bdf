/* Turning something while reading: adjust, with one reading or a round of several, and watch. */
#include <string.h>
#include "names.h"

static const char *const adjust_words[] = {"read", "limits", "plausible", "responds", "tries", "tune"};
static const char *const watch_words[] = {"read", "limits", "plausible", "tries"};

static const hs_table *holder(const hs_table *inner, const hs_table *outer, const char *key)
{
	return hs_table_has(inner, key) ? inner : outer;
}

/* Which of the two tables the words may stand in, and what the step is called in a message. */
typedef struct turning {
	const hs_table *inner, *outer;
	const char *what;
} turning;

static void want_end(const turning *t, hs_step *step)
{
	if (hs_table_has(t->inner, "limits") || hs_table_has(t->outer, "limits") ||
	    hs_table_has(t->outer, "expect") || hs_table_has(t->inner, "responds") || hs_table_has(t->outer, "responds") || hs_step_judges(step))
		return;
	hs_problem *problem =
	    hs_table_problem(t->outer, t->what, "the %s step \"%s\" does not say until when", t->what, step->id);
	hs_problem_hint(problem, step->watch ? "add limits that no reading may leave"
	                                     : "add limits, or responds = \"1 V\" for a change that suffices");
}

static void read_one_reading(const turning *t, const hs_table *sub, hs_step *step)
{
	hs_reading *reading = step->readings = hs_arena_alloc(sub->build->arena, sizeof *step->readings);
	step->reading_count = 1;
	if (!hs_read_one(sub, step, reading, false))
		return;
	hs_unit unit = hs_unit_is_level(reading->unit) ? HS_DB : reading->unit;
	hs_read_step_limits(holder(t->inner, t->outer, "limits"), step, reading);
	if (!reading->has_plausible)
		hs_read_plausible(holder(t->inner, t->outer, "plausible"), reading);
	const hs_table *responds = holder(t->inner, t->outer, "responds");
	step->has_responds = hs_table_positive(responds, "responds", unit, &step->responds);
	want_end(t, step);
}

/* Several settings must come right in one round, so each reading brings its own limits. */
static void read_round(const turning *t, const hs_table *list, hs_step *step)
{
	static const char *const alone[] = {"responds", "tune", "limits", "plausible"};
	hs_table_known(list, "a row of readings", HS_ANY_LENGTH, NULL, 0);
	hs_read_list(list, step);
	for (size_t i = 0; i < sizeof alone / sizeof *alone; i++) {
		const hs_table *at = holder(t->inner, t->outer, alone[i]);
		if (!hs_table_has(at, alone[i]))
			continue;
		hs_problem *problem =
		    hs_table_problem(at, alone[i], "\"%s\" goes with one reading, and the step \"%s\" takes %zu",
		                     alone[i], step->id, step->reading_count);
		hs_problem_hint(problem, i < 2 ? "leave it out, or take one reading" : "write it within each reading");
	}
	for (size_t i = 0; i < step->reading_count && !step->watch; i++)
		if (!step->readings[i].has_limits && step->readings[i].limits_by.id < 0 &&
		    !step->readings[i].limits_where.file)
			hs_build_problem(t->outer->build, HS_ERROR, step->readings[i].where,
			                 "the reading \"%s\" has no limits, so it cannot come right",
			                 step->readings[i].name);
	if (step->watch)
		want_end(t, step);
}

/* "Turn C5." for the highest reading: words for the technician, no other rule. */
static void read_tune(const hs_table *inner, hs_step *step)
{
	const char *word = hs_table_text(inner, "tune");
	if (!word)
		return;
	bool peak = strcmp(word, "peak") == 0;
	if (!peak && strcmp(word, "dip") != 0) {
		hs_problem *problem = hs_table_problem(inner, "tune", "\"%s\" is nothing to tune for", word);
		hs_problem_hint(problem, "it is peak or dip");
		return;
	}
	if (!step->text)
		return;
	int length = (int)strlen(step->text);
	while (length > 0 && strchr(". ", step->text[length - 1]))
		length--;
	step->text = hs_arena_printf(inner->build->arena, "%.*s, for the %s reading; type that one.", length,
	                             step->text, peak ? "highest" : "lowest");
}

static void read_turning(const hs_table *table, hs_step *step, const char *what, const hs_words *words)
{
	hs_table inner = hs_table_sub(table, what, false);
	turning t = {&inner, table, what};
	hs_table_known(&inner, step->watch ? "a watch" : "an adjustment", 1, words, 1);
	step->text = hs_table_text(&inner, "[1]");
	if (inner.index && !hs_table_has(&inner, "[1]"))
		hs_table_problem(&inner, NULL, "the %s step \"%s\" does not say what to turn", what, step->id);
	const hs_table *tries = holder(&inner, table, "tries");
	step->tries = hs_table_count(tries, "tries", 1, 100, 0);
	step->cures = hs_find_suspects(table, "cures", &step->cure_count);
	hs_table sub = hs_table_sub(holder(&inner, table, "read"), "read", false);
	if (hs_table_type(&sub, "[1]") == LUA_TTABLE)
		read_round(&t, &sub, step);
	else if (sub.index)
		read_one_reading(&t, &sub, step);
	else if (inner.index)
		hs_table_problem(&inner, NULL, "the %s step \"%s\" has nothing to read while it is turned", what,
		                 step->id);
	hs_table_done(&sub);
	if (step->reading_count == 1)
		read_tune(&inner, step);
	hs_table_done(&inner);
	hs_read_holds(table, step);
	hs_read_outcomes(table, step, true);
}

void hs_read_adjust(const hs_table *table, hs_step *step)
{
	read_turning(table, step, "adjust", &(hs_words)HS_WORDS(adjust_words));
}

void hs_read_watch(const hs_table *table, hs_step *step)
{
	step->watch = true;
	read_turning(table, step, "watch", &(hs_words)HS_WORDS(watch_words));
}
