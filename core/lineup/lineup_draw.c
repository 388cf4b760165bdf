/* The level diagram: points downwards, level across. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "halfsplit/lineup/lineup.h"

enum { NAME_ROOM = 10, VALUE_ROOM = 9, WIDTH_LEAST = 60, WIDTH_MOST = 110 };

typedef struct span {
	double low, high;
	size_t columns;
} span;

static void widen(span *s, double value)
{
	if (!isfinite(value))
		return;
	s->low = fmin(s->low, value);
	s->high = fmax(s->high, value);
}

static span span_of(const hs_level_row *rows, size_t count, size_t columns)
{
	span s = {INFINITY, -INFINITY, columns};
	for (size_t i = 0; i < count; i++) {
		if (rows[i].has_expected) {
			widen(&s, rows[i].low);
			widen(&s, rows[i].high);
		}
		if (rows[i].has_read)
			widen(&s, rows[i].read);
	}
	if (!(s.low <= s.high))
		return (span){-10, 10, columns};
	/* To whole tens outwards, and never less than two of them. */
	s.low = floor(s.low / 10) * 10;
	s.high = ceil(s.high / 10) * 10 + 0.0; /* no minus before a zero */
	if (s.high - s.low < 20)
		s.high = s.low + 20;
	return s;
}

static size_t column(const span *s, double value)
{
	double at = (value - s->low) / (s->high - s->low) * (double)(s->columns - 1);
	return at <= 0 ? 0 : at >= (double)(s->columns - 1) ? s->columns - 1 : (size_t)lround(at);
}

static void draw_row(hs_buf *out, const hs_level_row *row, bool here, const span *s)
{
	char line[WIDTH_MOST + 1];
	memset(line, ' ', s->columns);
	line[s->columns] = '\0';
	for (double tens = s->low; tens <= s->high; tens += 10)
		line[column(s, tens)] = '.';
	if (row->has_expected && isfinite(row->high)) {
		size_t low = isfinite(row->low) ? column(s, row->low) : 0, high = column(s, row->high);
		memset(line + low, '=', high - low + 1);
		line[high] = ']';
		if (isfinite(row->low))
			line[low] = low == high ? '|' : '[';
	}
	if (row->has_read && isfinite(row->read))
		line[column(s, row->read)] = 'o';
	hs_buf_printf(out, "%c %-*.*s %s", here ? '>' : ' ', NAME_ROOM, NAME_ROOM, row->name, line);
	if (row->has_read && isfinite(row->read))
		hs_buf_printf(out, "%*.1f", VALUE_ROOM, row->read);
	while (out->length > 0 && out->data[out->length - 1] == ' ')
		out->data[--out->length] = '\0';
	hs_buf_char(out, '\n');
}

/* The ends of the scale and its middle. */
static void draw_scale(hs_buf *out, const span *s, hs_unit unit)
{
	char low[16], high[32], line[WIDTH_MOST + 1];
	snprintf(low, sizeof low, "%.0f", s->low);
	snprintf(high, sizeof high, "%.0f %s", s->high, hs_unit_name(unit));
	size_t room = s->columns + VALUE_ROOM;
	memset(line, ' ', room);
	line[room] = '\0';
	memcpy(line, low, strlen(low));
	size_t figure = strcspn(high, " "), from = s->columns - figure;
	memcpy(line + from, high, strlen(high) < room - from ? strlen(high) : room - from);
	hs_buf_printf(out, "  %-*s %s", NAME_ROOM, "", line);
	while (out->length > 0 && out->data[out->length - 1] == ' ')
		out->data[--out->length] = '\0';
	hs_buf_char(out, '\n');
}

void hs_level_diagram(hs_buf *out, const hs_level_row *rows, size_t count, size_t here, hs_unit unit, size_t width)
{
	width = width < WIDTH_LEAST ? WIDTH_LEAST : width > WIDTH_MOST ? WIDTH_MOST : width;
	span s = span_of(rows, count, width - NAME_ROOM - VALUE_ROOM - 3);
	draw_scale(out, &s, unit);
	for (size_t i = 0; i < count; i++)
		draw_row(out, &rows[i], i == here, &s);
}
