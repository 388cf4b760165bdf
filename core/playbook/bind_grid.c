/* A grid: one reading taken at every row (positions of controls) and every column (a frequency). */
#include <string.h>
#include "halfsplit/model/expect.h"
#include "names.h"

static const char *const grid_words[] = {"columns", "rows", "read", "limits", "against", "plausible", "expect", "through"};
static const char *const row_words[] = {"set", "through", "limits"};

enum { COLUMNS_MOST = 64, ROWS_MOST = 64, CELLS_MOST = 512 };

typedef struct grid {
	const hs_table *table; /* of the grid itself */
	hs_step *step;
	double columns[COLUMNS_MOST];
	size_t column_count, row_count;
	hs_reading each;  /* what every cell is made from */
	size_t reference; /* row that the others are held against, from 1; 0 none */
	bool has_limits;
	hs_limits limits;
	hs_where limits_where;
	bool expects;        /* what has no limits of its own is judged by a line-up */
	const hs_lineup *way; /* tells what each row goes through; NULL: the rows do */
} grid;

static void read_columns(grid *g)
{
	size_t count;
	const char **texts = hs_table_texts(g->table, "columns", &count);
	hs_table list = hs_table_sub(g->table, "columns", true);
	for (size_t i = 0; i < count && list.index && g->column_count < COLUMNS_MOST; i++)
		if (*texts[i] &&
		    hs_table_positive(&list, hs_key_at(&list, i + 1), HS_HERTZ, &g->columns[g->column_count]))
			g->column_count++;
	if (!hs_table_has(g->table, "columns") || (list.index && count == 0)) {
		hs_problem *problem = hs_table_problem(g->table, hs_table_has(g->table, "columns") ? "columns" : NULL,
		                                       "the grid \"%s\" has no columns", g->step->id);
		hs_problem_hint(problem, "add columns = { \"140 MHz\", \"150 MHz\" }");
	}
	if (count > COLUMNS_MOST)
		hs_table_problem(g->table, "columns", "a grid has at most %d columns", COLUMNS_MOST);
	hs_table_done(&list);
}

static void read_each(grid *g)
{
	hs_table sub = hs_table_sub(g->table, "read", false);
	if (!sub.index && !hs_table_has(g->table, "read"))
		hs_table_problem(g->table, NULL, "the grid \"%s\" does not say what is read", g->step->id);
	if (!sub.index)
		g->column_count = 0;
	g->each = (hs_reading){.name = g->step->id, .point = -1, .limits_by = {.id = -1}};
	if (sub.index)
		hs_read_one(&sub, g->step, &g->each, false);
	static const char *const elsewhere[] = {"limits", "freq", "expect"};
	for (size_t i = 0; i < 3; i++) {
		if (!hs_table_has(&sub, elsewhere[i]))
			continue;
		hs_problem *problem = hs_table_problem(
		    &sub, elsewhere[i], "\"%s\" does not stand within the reading of a grid", elsewhere[i]);
		hs_problem_hint(problem, i == 0   ? "write it beside the rows"
		                         : i == 1 ? "the columns say at which frequencies it is read"
		                                  : "write it beside the rows");
	}
	g->each.expects = NULL;
	hs_table_done(&sub);
	if (!g->each.has_plausible)
		hs_read_plausible(g->table, &g->each);
	g->each.limits_where = (hs_where){0};
}

/* Against another row a level may lie so many dB beside it; a linear value so much of its own unit. */
static hs_unit limits_unit(const grid *g, size_t row)
{
	return g->reference && row != g->reference && hs_unit_is_level(g->each.unit) ? HS_DB : g->each.unit;
}

static void read_reference(grid *g, const hs_table *rows)
{
	const char *name = hs_table_text(g->table, "against");
	const char *known[ROWS_MOST];
	size_t count = 0;
	for (size_t i = 0; name && i < g->row_count; i++) {
		hs_table one = hs_table_sub(rows, hs_key_at(rows, i + 1), true);
		const char *row = hs_table_type(&one, "[1]") == LUA_TSTRING ? hs_table_text(&one, "[1]") : NULL;
		if (row)
			known[count++] = row;
		if (row && strcmp(row, name) == 0)
			g->reference = i + 1;
		hs_table_done(&one);
	}
	if (name && g->reference == 0) {
		hs_problem *problem =
		    hs_table_problem(g->table, "against", "the grid \"%s\" has no row \"%s\"", g->step->id, name);
		hs_build_nearest(g->table->build, problem, name, known, count);
	} else if (g->reference > 1) {
		hs_problem *problem = hs_table_problem(
		    g->table, "against", "the row \"%s\" is read after others that are held against it", name);
		hs_problem_hint(problem, "write it as the first row");
	}
}

static void read_limits(grid *g)
{
	if (hs_table_type(g->table, "limits") == LUA_TFUNCTION)
		hs_table_problem(g->table, "limits", "the limits of a grid are a text, and here is a function");
	else if (hs_table_has(g->table, "limits"))
		g->has_limits = hs_table_limits(g->table, "limits", limits_unit(g, 0), &g->limits);
	else if (g->reference)
		hs_table_problem(g->table, "against", "the grid \"%s\" is held against a row and does not say how near",
		                 g->step->id);
	g->limits_where = hs_table_where(g->table, "limits");
}

static void limit_cell(const grid *g, const hs_table *row_table, size_t row, hs_reading *cell)
{
	if (hs_table_has(row_table, "limits")) {
		cell->has_limits = hs_table_limits(row_table, "limits", limits_unit(g, row), &cell->limits);
		cell->limits_where = hs_table_where(row_table, "limits");
	} else if (g->has_limits && row != g->reference) {
		cell->has_limits = true;
		cell->limits = g->limits;
		cell->limits_where = g->limits_where;
	}
	if (g->reference && row != g->reference && cell->has_limits)
		cell->against_reading = (int)((g->reference - 1) * g->column_count);
}

/* The suspects on the way that the line-up has the signal take in this row, besides those it names. */
static void add_suspects_on(const grid *g, const hs_reading *cell, hs_grid_row *row)
{
	const hs_playbook *book = g->table->build->playbook;
	uint8_t set[HS_CONTROLS_MOST];
	hs_route route;
	for (int i = 0; i < HS_CONTROLS_MOST; i++)
		set[i] = cell->set[i] ? cell->set[i] : g->step->set[i];
	hs_line_settings settings = {.set = set, .count = HS_CONTROLS_MOST, .open = g->step->open | g->step->with};
	hs_error error = {0};
	if (!hs_expect_route(book, g->step, cell, g->way, &settings, NULL, &route, &error)) {
		hs_problem *problem = hs_table_problem(g->table, "through", "what the row \"%s\" goes through is not known: %s", row->name, error.message);
		hs_problem_hint(problem, "say so in the row: through = { \"SUSPECT\" }");
		return;
	}
	int *all = hs_arena_alloc(g->table->build->arena, (row->through_count + route.used + 1) * sizeof *all);
	if (row->through_count > 0)
		memcpy(all, row->through, row->through_count * sizeof *all);
	for (size_t i = 0; i < route.used; i++) {
		int suspect = g->way->elements[route.steps[i].element].suspect;
		bool there = suspect < 0;
		for (size_t j = 0; !there && j < row->through_count; j++)
			there = all[j] == suspect;
		if (!there)
			all[row->through_count++] = suspect;
	}
	row->through = all;
}

static void read_way(grid *g)
{
	const hs_playbook *book = g->table->build->playbook;
	const char *name = hs_table_has(g->table, "through") ? hs_table_text(g->table, "through") : NULL;
	int found = name ? hs_playbook_lineup(book, name) : -1;
	g->way = found >= 0 ? &book->lineups[found] : NULL;
	if (!name || found >= 0)
		return;
	hs_problem *problem = hs_table_problem(g->table, "through", "there is no line-up \"%s\"", name);
	hs_problem_hint(problem, "declare it: lineup \"%s\" { ... }; or say in each row what it goes through", name);
}

static void read_row(grid *g, const hs_table *rows, size_t row)
{
	hs_build *build = rows->build;
	hs_table one = hs_table_sub(rows, hs_key_at(rows, row), false);
	hs_grid_row *out = &g->step->rows[row - 1];
	hs_table_known(&one, "a row of a grid", 1, (hs_words[]){HS_WORDS(row_words)}, 1);
	out->name = hs_table_text(&one, "[1]");
	if (one.index && !out->name && !hs_table_has(&one, "[1]"))
		hs_table_problem(&one, NULL, "this row of the grid has no name: { \"low\", set = ... }");
	if (!out->name)
		out->name = hs_arena_printf(build->arena, "row-%zu", row);
	out->through = hs_find_suspects(&one, "through", &out->through_count);
	for (size_t i = 1; i < row; i++)
		if (strcmp(g->step->rows[i - 1].name, out->name) == 0)
			hs_table_problem(&one, "[1]", "the grid \"%s\" has two rows named \"%s\"", g->step->id,
			                 out->name);
	hs_reading cell = g->each;
	cell.row = (int)row;
	cell.where = hs_table_where(&one, NULL);
	hs_find_settings(&one, cell.set);
	limit_cell(g, &one, row, &cell);
	int first = cell.against_reading;
	for (size_t i = 0; i < g->column_count; i++) {
		cell.name = hs_arena_printf(build->arena, "%s.%zu", out->name, i + 1);
		if (i == 0 && one.index)
			hs_good_reading_name(&one, &cell);
		cell.freq_hz = cell.source_hz = g->columns[i];
		if (g->reference && row != g->reference && cell.has_limits)
			cell.against_reading = first + (int)i + 1;
		hs_reading *kept = &g->step->readings[g->step->reading_count++];
		*kept = cell;
		if (g->expects && !hs_table_has(&one, "limits"))
			hs_read_expect(g->table, g->step, kept);
		g->expects = g->expects && (kept->expects || hs_table_has(&one, "limits")); /* one complaint is enough */
		if (g->way)
			add_suspects_on(g, kept, out);
	}
	hs_table_done(&one);
}

static void read_rows(grid *g)
{
	hs_step *step = g->step;
	hs_table rows = hs_table_sub(g->table, "rows", false);
	g->row_count = hs_table_length(&rows);
	hs_table_known(&rows, "a row of rows", HS_ANY_LENGTH, NULL, 0);
	if (g->row_count == 0) {
		hs_problem *problem = hs_table_problem(g->table, hs_table_has(g->table, "rows") ? "rows" : NULL,
		                                       "the grid \"%s\" has no rows", step->id);
		hs_problem_hint(problem, "add rows = { { \"low\", set = { band = \"low\" } }, ... }");
	}
	if (g->row_count > ROWS_MOST || g->row_count * g->column_count > CELLS_MOST) {
		hs_table_problem(g->table, "rows", "a grid has at most %d rows and %d readings", ROWS_MOST, CELLS_MOST);
		g->row_count = 0;
	}
	step->rows = hs_arena_alloc(g->table->build->arena, (g->row_count + 1) * sizeof *step->rows);
	step->row_count = g->row_count;
	step->readings =
	    hs_arena_alloc(g->table->build->arena, (g->row_count * g->column_count + 1) * sizeof *step->readings);
	read_reference(g, &rows);
	read_limits(g);
	read_way(g);
	g->expects = hs_table_has(g->table, "expect");
	for (size_t row = 1; row <= g->row_count; row++)
		read_row(g, &rows, row);
	hs_table_done(&rows);
}

void hs_read_grid(const hs_table *table, hs_step *step)
{
	hs_table sub = hs_table_sub(table, "grid", false);
	grid g = {.table = &sub, .step = step};
	bool meant = false;
	if (sub.index) {
		hs_table_known(&sub, "a grid", 0, (hs_words[]){HS_WORDS(grid_words)}, 1);
		read_columns(&g);
		read_each(&g);
		read_rows(&g);
		meant = hs_table_has(&sub, "limits") || hs_table_has(&sub, "against") || hs_table_has(&sub, "expect");
	}
	hs_table_done(&sub);
	hs_read_collected(table, step, meant);
}
