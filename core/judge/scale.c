/* The reading on a drawn scale. */
#include <math.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "halfsplit/base/text.h"
#include "halfsplit/judge/outcome.h"
#include "labels.h"

#define WIDTH_LEAST 30
#define WIDTH_MOST  200
#define INDENT      2

typedef struct scale {
	size_t columns;         /* between the brackets */
	size_t low_at, high_at; /* columns of the bars */
	double origin,
	    per_column; /* value at low_at (or, without a low limit, high_at, mirrored below), and of one column */
} scale;

/* "11.4 V" beside "12.6 V" can do with one unit. */
static void drop_same_unit(hs_buf *low, const hs_buf *high)
{
	double number;
	size_t low_used, high_used;
	if (!hs_number_scan(low->data, &number, &low_used, NULL) ||
	    !hs_number_scan(high->data, &number, &high_used, NULL))
		return;
	if (strcmp(low->data + low_used, high->data + high_used) != 0)
		return;
	low->length = low_used;
	low->data[low_used] = '\0';
}

/* With one limit only, the scale reaches as far as it must to hold the value if it is good or not far off, and some
 * room. */
static double reach(const hs_limits *limits, double limit, double value, double expanded_u)
{
	bool decibels = hs_unit_is_level(limits->unit) || limits->unit == HS_DB;
	double good = limits->has_low ? value - limit : limit - value;
	double least = decibels ? 5 : 0.1 * fabs(limit), most = decibels ? 40 : fabs(limit);
	double span = fmax(least, 4 * expanded_u);
	if (isfinite(good))
		span = fmax(span, good > 0 ? 1.25 * good : fmin(-4 * good, most));
	return span > 0 && isfinite(span) ? span : 1;
}

static scale lay_out(const hs_limits *limits, double value, double expanded_u, size_t columns)
{
	scale s = {.columns = columns, .low_at = columns / 4, .high_at = columns - 1 - columns / 4};
	double limit = limits->has_low ? limits->low : limits->high;
	double span = limits->high - limits->low;
	size_t over = s.high_at - s.low_at;
	if (!(limits->has_low && limits->has_high)) {
		span = reach(limits, limit, value, expanded_u);
		over = columns - 1 - s.low_at;
	}
	s.per_column = span / (double)over;
	s.origin = limits->has_low ? limit - (double)s.low_at * s.per_column : limit - (double)s.high_at * s.per_column;
	return s;
}

/* Column of a value: -1 before the scale, `columns` behind it. */
static long column_of(const scale *s, double value)
{
	double at = round((value - s->origin) / s->per_column);
	if (at < 0)
		return -1;
	return at >= (double)s->columns ? (long)s->columns : (long)at;
}

/* Keeps a value that is not on a limit off its bar, on the side where it belongs. */
static long off_bar(long at, long bar, double value, double limit)
{
	double slack = 1e-9 * fmax(fabs(value), fabs(limit));
	if (at <= bar && value > limit + slack)
		return bar + 1;
	if (at >= bar && value < limit - slack)
		return bar - 1;
	return at;
}

static long place(const scale *s, const hs_limits *limits, double value)
{
	long at = column_of(s, value);
	if (limits->has_low)
		at = off_bar(at, (long)s->low_at, value, limits->low);
	if (limits->has_high)
		at = off_bar(at, (long)s->high_at, value, limits->high);
	return at;
}

static void put(char *row, const scale *s, long at, char mark)
{
	if (at >= 0 && at < (long)s->columns && row[at] != '|')
		row[at] = mark;
}

/* Its two ends keep off the bars like the value does, so that ( and o on two sides of a bar mean unsure, and only that.
 */
static void put_uncertainty(char *row, const scale *s, const hs_limits *limits, double value, double expanded_u)
{
	long at = place(s, limits, value);
	long left = place(s, limits, value - expanded_u), right = place(s, limits, value + expanded_u);
	if (left == at && right == at)
		return;
	/* Of a value that is off the scale, an end is worth drawing only where it comes back across a bar. */
	if ((at < 0 && right <= (long)s->low_at) || (at >= (long)s->columns && left >= (long)s->high_at))
		return;
	/* One end alone would look like a slip. */
	put(row, s, left == at ? at - 1 : left, '(');
	put(row, s, right == at ? at + 1 : right, ')');
}

static void put_value(char *row, const scale *s, const hs_limits *limits, double value, double expanded_u)
{
	long at = place(s, limits, value);
	if (expanded_u > 0 && isfinite(expanded_u))
		put_uncertainty(row, s, limits, value, expanded_u);
	if (at < 0)
		row[0] = '<';
	else if (at >= (long)s->columns)
		row[s->columns - 1] = '>';
	else
		row[at] = 'o';
}

static void draw_row(const scale *s, const hs_limits *limits, double value, double expanded_u, hs_buf *out)
{
	char row[WIDTH_MOST + 1];
	for (size_t i = 0; i < s->columns; i++) {
		bool inside = (!limits->has_low || i > s->low_at) && (!limits->has_high || i < s->high_at);
		row[i] = inside ? '=' : '-';
	}
	if (limits->has_low)
		row[s->low_at] = '|';
	if (limits->has_high)
		row[s->high_at] = '|';
	if (isfinite(value))
		put_value(row, s, limits, value, expanded_u);
	hs_buf_add(out, row, s->columns);
}

/* First column of a label of so many columns that stands under a bar, in a drawing `width` wide. */
static size_t under(size_t bar, size_t columns, size_t width)
{
	size_t middle = INDENT + 1 + bar, before = (columns - 1) / 2;
	size_t start = middle > INDENT + before ? middle - before : INDENT;
	return start + columns > width && width > columns + INDENT ? width - columns : start;
}

/* The limits under their bars; the unit once where twice is too much, and nothing where that is too much. */
static void draw_labels(const scale *s, const hs_limits *limits, size_t width, hs_buf *out)
{
	hs_buf low, high;
	hs_buf_init(&low);
	hs_buf_init(&high);
	hs_limits_labels(limits, &low, &high);
	size_t low_start = 0, high_start = 0;
	bool room = false;
	for (int tries = 0; tries < 2 && !room; tries++) {
		if (tries > 0)
			drop_same_unit(&low, &high);
		low_start = low.length > 0 ? under(s->low_at, low.length, width) : 0;
		high_start = high.length > 0 ? under(s->high_at, high.length, width) : 0;
		room = low.length == 0 || high.length == 0 || low_start + low.length + 2 <= high_start;
	}
	if (room) {
		hs_buf_printf(out, "\n%*s%s", (int)low_start, "", low.data);
		size_t at = low_start + low.length;
		if (high.length > 0)
			hs_buf_printf(out, "%*s%s", (int)(high_start - at), "", high.data);
	}
	hs_buf_free(&low);
	hs_buf_free(&high);
}

void hs_scale_draw(const hs_limits *limits, double value, double expanded_u, size_t width, hs_buf *out)
{
	if (!limits->has_low && !limits->has_high)
		return;
	width = width < WIDTH_LEAST ? WIDTH_LEAST : width > WIDTH_MOST ? WIDTH_MOST : width;
	scale s = lay_out(limits, value, expanded_u, width - INDENT - 2);
	hs_buf_printf(out, "%*s[", INDENT, "");
	draw_row(&s, limits, value, expanded_u, out);
	hs_buf_char(out, ']');
	draw_labels(&s, limits, width, out);
}
