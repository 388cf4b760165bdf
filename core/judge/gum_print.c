/* The budget as it stands in an accreditation file. */
#include <math.h>
#include <stdlib.h>
#include "halfsplit/base/number.h"
#include "halfsplit/base/text.h"
#include "halfsplit/judge/gum.h"
#include "halfsplit/quantity/demand.h"

enum { COLUMNS = 10, CELL = 80 };

typedef struct table {
	char cells[HS_TERMS_MOST + 1][COLUMNS][CELL];
	size_t rows;
} table;

static const char *shape_name(const hs_gum_term *term)
{
	if (term->type_a)
		return "type A";
	switch (term->shape) {
	case HS_RECTANGULAR:
		return "rectangular";
	case HS_TRIANGULAR:
		return "triangular";
	case HS_USHAPED:
		return "U-shaped";
	case HS_NORMAL_K2:
	case HS_STANDARD:
		break;
	}
	return "normal";
}

static void put(char cell[CELL], const char *text)
{
	hs_buf shown;
	hs_buf_init(&shown);
	hs_buf_shown(&shown, text, false);
	hs_copy(cell, CELL, shown.data);
	hs_buf_free(&shown);
}

static void put_number(char cell[CELL], double value, const char *unit)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_str(&text, hs_brief_of(value).text);
	hs_buf_printf(&text, "%s%s", *unit ? " " : "", unit);
	put(cell, text.data);
	hs_buf_free(&text);
}

/* Four digits are more than an uncertainty has. */
static double rounded(double value)
{
	if (value == 0 || !isfinite(value))
		return value;
	double scale = pow(10, 3 - floor(log10(fabs(value))));
	double cut = round(value * scale) / scale;
	return isfinite(cut) ? cut : value;
}

static void put_dof(char cell[CELL], double dof)
{
	if (isinf(dof))
		put(cell, "inf");
	else
		put_number(cell, rounded(dof), "");
}

/* What is added to a level or taken from it is in dB. */
static const char *width_unit(hs_unit unit)
{
	return hs_unit_name(hs_unit_is_level(unit) ? HS_DB : unit);
}

static void put_term(char row[COLUMNS][CELL], const hs_gum *gum, const hs_gum_sum *sum, size_t i)
{
	const hs_gum_term *term = &gum->terms[i];
	const char *width = width_unit(term->value.unit), *unit = width_unit(gum->result.unit);
	double divisor = term->divisor > 0 ? term->divisor : hs_shape_divisor(term->shape);
	double share = sum->standard > 0 ? sum->contribution[i] / sum->standard : 0;
	put(row[0], term->name);
	if (term->has_value)
		put_number(row[1], term->value.value, hs_unit_name(term->value.unit));
	put_number(row[2], rounded(term->half_width), width);
	put(row[3], shape_name(term));
	put_number(row[4], rounded(divisor), "");
	put_number(row[5], rounded(term->half_width / divisor), width);
	put_number(row[6], rounded(term->sensitivity), "");
	put_number(row[7], rounded(sum->contribution[i]), unit);
	put_number(row[8], round(1000 * share * share) / 10, "%");
	put_dof(row[9], term->dof);
}

static void print_table(hs_buf *out, const table *t)
{
	size_t width[COLUMNS] = {0};
	for (size_t r = 0; r < t->rows; r++)
		for (size_t c = 0; c < COLUMNS; c++)
			if (hs_text_columns(t->cells[r][c]) > width[c])
				width[c] = hs_text_columns(t->cells[r][c]);
	for (size_t r = 0; r < t->rows; r++) {
		for (size_t c = 0; c < COLUMNS; c++) {
			size_t pad = width[c] - hs_text_columns(t->cells[r][c]);
			bool left = c == 0 || c == 3;
			if (c > 0)
				hs_buf_str(out, "  ");
			hs_buf_printf(out, "%*s", left ? 0 : (int)pad, "");
			hs_buf_str(out, t->cells[r][c]);
			hs_buf_printf(out, "%*s", left ? (int)pad : 0, "");
		}
		hs_buf_char(out, '\n');
	}
}

static void print_line(hs_buf *out, const char *what, double value, const char *unit)
{
	hs_buf_printf(out, "%s %s%s%s\n", what, hs_brief_of(rounded(value)).text, *unit ? " " : "", unit);
}

static void print_sum(hs_buf *out, const hs_gum *gum, const hs_gum_sum *sum)
{
	const char *unit = width_unit(gum->result.unit);
	for (size_t i = 0; i < gum->count; i++) {
		for (size_t j = i + 1; j < gum->count; j++) {
			if (gum->r[i][j] == 0)
				continue;
			hs_buf_str(out, "correlation of ");
			hs_buf_shown(out, gum->terms[i].name, false);
			hs_buf_str(out, " and ");
			hs_buf_shown(out, gum->terms[j].name, false);
			hs_buf_printf(out, ": %s\n", hs_brief_of(rounded(gum->r[i][j])).text);
		}
	}
	print_line(out, "combined standard uncertainty u =", sum->standard, unit);
	if (isinf(sum->dof))
		hs_buf_str(out, "effective degrees of freedom: infinite\n");
	else
		print_line(out, "effective degrees of freedom:", sum->dof, "");
	print_line(out, "coverage factor for 95.45 %: k =", sum->coverage, "");
	print_line(out, "expanded uncertainty U =", sum->expanded, unit);
}

/* JCGM 100, 7.2.6: two digits of U, and the estimate to the same place. */
static void print_result(hs_buf *out, const hs_gum *gum, const hs_gum_sum *sum)
{
	enum { DECIMALS_MOST = 12 };
	double digit = sum->expanded > 0 ? floor(log10(sum->expanded)) : 0;
	/* 0.0996 is 0.10 to two digits, not 0.100. */
	if (sum->expanded > 0 && round(sum->expanded / pow(10, digit - 1)) >= 100)
		digit++;
	int decimals = digit > 1 ? 0 : digit < 1 - DECIMALS_MOST ? DECIMALS_MOST : (int)(1 - digit);
	double step = digit > 1 ? pow(10, digit - 1) : 1;
	const char *unit = hs_unit_name(gum->result.unit), *width = width_unit(gum->result.unit);
	hs_buf_str(out, "result ");
	hs_number_fixed(out, step > 1 ? round(gum->result.value / step) * step : gum->result.value, decimals);
	hs_buf_printf(out, "%s%s +/- ", *unit ? " " : "", unit);
	hs_number_fixed(out, step > 1 ? round(sum->expanded / step) * step : sum->expanded, decimals);
	hs_buf_printf(out, "%s%s (k = %s, 95.45 %%)\n", *width ? " " : "", width,
	              hs_brief_of(rounded(sum->coverage)).text);
}

void hs_gum_print(hs_buf *out, const hs_gum *gum, const hs_gum_sum *sum)
{
	static const char *const heads[COLUMNS] = {"quantity", "estimate", "half-width", "distribution", "divisor",
	                                           "u(x)",     "c",        "|c| u(x)",   "share",        "dof"};
	table *t = hs_alloc(sizeof(*t));
	t->rows = gum->count + 1;
	for (size_t c = 0; c < COLUMNS; c++)
		put(t->cells[0][c], heads[c]);
	for (size_t i = 0; i < gum->count; i++)
		put_term(t->cells[i + 1], gum, sum, i);
	print_table(out, t);
	free(t);
	print_sum(out, gum, sum);
	if (gum->has_result)
		print_result(out, gum, sum);
}
