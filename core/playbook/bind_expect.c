/* expect = "LINE-UP": limits that come from the unit's model. */
#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "halfsplit/model/expect.h"
#include "names.h"

static const char *const expect_words[] = {"worst", "wider"};

static const hs_lineup *named(const hs_table *table, const char *key, const char *name)
{
	const hs_playbook *book = table->build->playbook;
	int found = hs_playbook_lineup(book, name);
	if (found >= 0)
		return &book->lineups[found];
	const char **known = hs_arena_alloc(table->build->arena, (book->lineup_count + 1) * sizeof *known);
	for (size_t i = 0; i < book->lineup_count; i++)
		known[i] = book->lineups[i].id;
	hs_problem *problem = hs_table_problem(table, key, "there is no line-up \"%s\"", name);
	hs_problem_hint(problem, "declare it: lineup \"%s\" { ... }", name);
	hs_build_nearest(table->build, problem, name, known, book->lineup_count);
	return NULL;
}

/* wider = "1.5 dB" */
static double read_wider(const hs_table *sub)
{
	hs_quantity wider;
	const char *text = hs_table_text(sub, "wider");
	if (!text)
		return 0;
	if (hs_quantity_read(text, HS_DB, &wider, NULL) && wider.unit == HS_DB && wider.value > 0)
		return wider.value;
	hs_problem *problem = hs_table_problem(sub, "wider", "\"%.40s\" says not by how much the limits are wider", text);
	hs_problem_hint(problem, "write it in dB, as in wider = \"1 dB\"");
	return 0;
}

/* "ID", true, or { "ID", worst = true, wider = "1 dB" } */
static const hs_lineup *find_lineup(const hs_table *table, const hs_step *step, const hs_reading *reading, bool *worst, double *wider)
{
	const hs_lineup *found;
	if (hs_table_type(table, "expect") == LUA_TTABLE) {
		hs_table sub = hs_table_sub(table, "expect", false);
		hs_table_known(&sub, "\"expect\"", 1, (hs_words[]){HS_WORDS(expect_words)}, 1);
		*worst = hs_table_flag(&sub, "worst");
		*wider = read_wider(&sub);
		const char *name = hs_table_text(&sub, "[1]");
		if (!name)
			hs_table_problem(&sub, NULL, "\"expect\" does not say which line-up");
		found = name ? named(&sub, "[1]", name) : NULL;
		hs_table_done(&sub);
		return found;
	}
	if (hs_table_type(table, "expect") != LUA_TBOOLEAN) {
		const char *name = hs_table_text(table, "expect");
		return name ? named(table, "expect", name) : NULL;
	}
	found = hs_expect_lineup(table->build->playbook, step, reading);
	if (!found && hs_table_flag(table, "expect")) {
		hs_problem *problem = hs_table_problem(table, "expect", "no line-up, or more than one, has the point of this reading");
		hs_problem_hint(problem, "name it: expect = \"LINE-UP\"");
	}
	return found;
}

static void unpredicted(const hs_table *table, const hs_reading *reading, const hs_error *error)
{
	hs_problem *problem = hs_table_problem(table, "expect", "what is to be expected at %s is not known: %s",
	                                       reading->at_text ? reading->at_text : reading->name, error->message);
	if (error->hint[0])
		hs_problem_hint(problem, "%s", error->hint);
	else if (strstr(error->message, "stands is not known"))
		hs_problem_hint(problem, "say where it stands, as in set = { CONTROL = \"POSITION\" }");
	else if (strstr(error->message, "no gain known"))
		hs_problem_hint(problem, "let the table reach that frequency, or inject at another");
}

/* Behind a mixer a signal is read where it comes out, not where it went in. */
static bool agrees_in_frequency(const hs_table *table, hs_reading *reading, const hs_expectation *expectation)
{
	double out = expectation->prediction.freq_hz, slack = 1e-6 * out;
	if (!reading->freq_given || !(out > 0)) {
		reading->freq_hz = out > 0 ? out : reading->freq_hz;
		return true;
	}
	if (fabs(reading->freq_hz - out) <= slack)
		return true;
	hs_buf there, here;
	hs_buf_init(&there);
	hs_buf_init(&here);
	hs_quantity_print(&there, (hs_quantity){out, HS_HERTZ}, -1);
	hs_quantity_print(&here, (hs_quantity){reading->freq_hz, HS_HERTZ}, -1);
	hs_problem *problem = hs_table_problem(table, "expect", "by the line-up \"%s\" the signal is at %s there, and it is read at %s",
	                                       expectation->lineup->id, there.data, here.data);
	hs_problem_hint(problem, "leave freq out, or let both agree");
	hs_buf_free(&there);
	hs_buf_free(&here);
	return false;
}

void hs_read_expect(const hs_table *table, const hs_step *step, hs_reading *reading)
{
	hs_arena *arena = table->build->arena;
	const hs_playbook *book = table->build->playbook;
	bool worst = false;
	double wider = 0;
	reading->limits_where = hs_table_where(table, "expect");
	if (hs_table_has(table, "limits")) {
		hs_problem *problem = hs_table_problem(table, "expect", "the limits are given twice: by \"limits\" and by \"expect\"");
		hs_problem_hint(problem, "take one of them out");
	}
	const hs_lineup *lineup = find_lineup(table, step, reading, &worst, &wider);
	if (!lineup)
		return;
	hs_expectation *expectation = hs_arena_alloc(arena, sizeof *expectation);
	uint8_t *set = hs_arena_alloc(arena, HS_CONTROLS_MOST);
	hs_error error = {0};
	if (!hs_expect_fill(book, step, reading, lineup, set, expectation, &error)) {
		unpredicted(table, reading, &error);
		return;
	}
	expectation->worst = worst;
	expectation->wider_db = wider;
	if (!agrees_in_frequency(table, reading, expectation))
		return;
	if (!hs_expect_limits(book, reading, expectation, &reading->limits, &error)) {
		unpredicted(table, reading, &error);
		return;
	}
	reading->has_limits = true;
	reading->expects = expectation;
}
