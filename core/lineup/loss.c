/* Loss against frequency: tables, and the generic coax types. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "halfsplit/base/text.h"
#include "halfsplit/lineup/loss.h"
#include "halfsplit/quantity/quantity.h"
#include "outside.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* Two ways of writing one frequency (0.3 GHz, 300 MHz) may differ in the last bit. */
static bool same_freq(double a, double b)
{
	return fabs(a - b) <= 1e-9 * fmax(fabs(a), fabs(b));
}

static void show_freq(hs_buf *out, double freq_hz, bool exact)
{
	if (exact && isfinite(freq_hz)) {
		hs_number_print(out, freq_hz);
		hs_buf_str(out, " Hz");
	} else if (isfinite(freq_hz)) {
		hs_quantity_print(out, (hs_quantity){freq_hz, HS_HERTZ}, -1);
	} else {
		hs_buf_str(out, "a frequency that is not a number");
	}
}

bool hs_fail_outside(hs_error *error, double freq_hz, double from_hz, double to_hz)
{
	hs_buf at, from, to;
	hs_buf_init(&at);
	hs_buf_init(&from);
	hs_buf_init(&to);
	/* Just outside, four digits would show the frequency asked for as the end of the table. */
	for (int exact = 0; exact < 2; exact++) {
		hs_buf_clear(&at);
		hs_buf_clear(&from);
		hs_buf_clear(&to);
		show_freq(&at, freq_hz, exact);
		show_freq(&from, from_hz, exact);
		show_freq(&to, to_hz, exact);
		if (strcmp(at.data, from.data) != 0 && strcmp(at.data, to.data) != 0)
			break;
	}
	if (from_hz < 0)
		hs_fail(error, HS_BAD_INPUT, "no loss known at %s: it is stated up to %s", at.data, to.data);
	else if (same_freq(from_hz, to_hz))
		hs_fail(error, HS_BAD_INPUT, "no loss known at %s: the table holds %s alone", at.data, to.data);
	else
		hs_fail(error, HS_BAD_INPUT, "no loss known at %s: the table runs from %s to %s", at.data, from.data,
		        to.data);
	hs_buf_free(&at);
	hs_buf_free(&from);
	hs_buf_free(&to);
	return false;
}

static int by_freq(const void *a, const void *b)
{
	const hs_loss_point *left = a, *right = b;
	return (left->freq_hz > right->freq_hz) - (left->freq_hz < right->freq_hz);
}

static bool check_point(const hs_loss_point *point, size_t number, hs_error *error)
{
	if (!isfinite(point->freq_hz) || !isfinite(point->loss_db))
		return hs_fail(error, HS_BAD_INPUT, "point %zu of the loss table is not a number", number);
	if (point->freq_hz < 0)
		return hs_fail(error, HS_BAD_INPUT, "point %zu of the loss table has a frequency below 0 Hz", number);
	if (point->loss_db < 0) {
		hs_fail(error, HS_BAD_INPUT, "point %zu of the loss table is a loss below 0 dB, which would be a gain",
		        number);
		return hs_fail_hint(error, "a loss is written as a positive number of dB");
	}
	return true;
}

static bool fail_conflict(const hs_loss_point *a, const hs_loss_point *b, hs_error *error)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_number_print(&text, a->loss_db);
	hs_buf_str(&text, " dB and ");
	hs_number_print(&text, b->loss_db);
	hs_buf_str(&text, " dB at ");
	show_freq(&text, a->freq_hz, false);
	hs_fail(error, HS_BAD_INPUT, "the loss table says both %s", text.data);
	hs_fail_hint(error, "keep one of the two; never mix two sources in one table");
	hs_buf_free(&text);
	return false;
}

bool hs_loss_table_make(hs_arena *arena, const hs_loss_point *points, size_t count, hs_loss_table *out, hs_error *error)
{
	if (count == 0)
		return hs_fail(error, HS_BAD_INPUT, "the loss table holds no points");
	for (size_t i = 0; i < count; i++)
		if (!check_point(&points[i], i + 1, error))
			return false;
	hs_loss_point *own = hs_arena_alloc(arena, count * sizeof(*own));
	memcpy(own, points, count * sizeof(*own));
	qsort(own, count, sizeof(*own), by_freq);
	size_t kept = 1;
	for (size_t i = 1; i < count; i++) {
		const hs_loss_point *last = &own[kept - 1];
		if (!same_freq(last->freq_hz, own[i].freq_hz))
			own[kept++] = own[i];
		else if (fabs(last->loss_db - own[i].loss_db) > 1e-9)
			return fail_conflict(last, &own[i], error);
	}
	*out = (hs_loss_table){.points = own, .count = kept};
	return true;
}

/*
 * The first point that is not below; table->count when all are, 0 for NaN. Halves without a branch that depends on the
 * data: half of those would be guessed wrongly.
 */
static size_t first_from(const hs_loss_table *table, double freq_hz)
{
	const hs_loss_point *first = table->points;
	size_t count = table->count;
	while (count > 1) {
		size_t half = count / 2;
		first += (size_t)(first[half - 1].freq_hz < freq_hz) * half;
		count -= half;
	}
	return (size_t)(first - table->points) + (first->freq_hz < freq_hz);
}

bool hs_loss_table_at(const hs_loss_table *table, double freq_hz, double *loss_db, hs_error *error)
{
	if (table->count == 0)
		return hs_fail(error, HS_BAD_INPUT, "no loss known: the loss table holds no points");
	size_t next = first_from(table, freq_hz);
	/* No two points are the same frequency, so it can be that of these two only. */
	for (size_t i = next > 0 ? next - 1 : 0; i <= next && i < table->count; i++) {
		if (same_freq(table->points[i].freq_hz, freq_hz)) {
			*loss_db = table->points[i].loss_db;
			return true;
		}
	}
	if (next == 0 || next == table->count)
		return hs_fail_outside(error, freq_hz, table->points[0].freq_hz,
		                       table->points[table->count - 1].freq_hz);
	const hs_loss_point *above = &table->points[next], *below = above - 1;
	double share = (sqrt(freq_hz) - sqrt(below->freq_hz)) / (sqrt(above->freq_hz) - sqrt(below->freq_hz));
	*loss_db = below->loss_db + share * (above->loss_db - below->loss_db);
	return true;
}

/*
 * dB per 100 m. Source of every row below: nominal figure for the generic type, from published makers' tables; measure
 * your own. Makers differ by up to 40 % for one type.
 */
static const hs_loss_point rg58[] = {{50e6, 9.0}, {100e6, 13.0}, {200e6, 20.0}, {400e6, 31.0}, {1000e6, 58.0}};
static const hs_loss_point rg213[] = {{10e6, 1.8}, {100e6, 6.8}, {400e6, 14.4}, {1000e6, 24.7}, {3000e6, 46.6}};
static const hs_loss_point rg316[] = {{200e6, 36.5}, {400e6, 52.8}, {1000e6, 87.0}, {2000e6, 128.7}, {3000e6, 163.0}};
static const hs_loss_point rg405[] = {{1e9, 72.2}, {10e9, 262.5}, {20e9, 393.7}};
static const hs_loss_point rg402[] = {{1e9, 39.4}, {10e9, 147.6}, {20e9, 229.7}};

static const char *const type_names[] = {"RG-58C/U", "RG-213/U", "RG-316/U", "RG-405", "RG-402"};
static const hs_loss_table type_tables[] = {
    {rg58, COUNT(rg58)}, {rg213, COUNT(rg213)}, {rg316, COUNT(rg316)}, {rg405, COUNT(rg405)}, {rg402, COUNT(rg402)},
};

const hs_loss_table *hs_coax_type(const char *name)
{
	for (size_t i = 0; i < COUNT(type_names); i++)
		if (hs_same_word(name, type_names[i]))
			return &type_tables[i];
	return NULL;
}

const char *const *hs_coax_type_names(size_t *count)
{
	*count = COUNT(type_names);
	return type_names;
}
