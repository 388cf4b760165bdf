#include "halfsplit/judge/trace.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/number.h"

void hs_trace_free(hs_trace *trace)
{
	free(trace->hz);
	free(trace->level);
	*trace = (hs_trace){0};
}

static bool add_point(hs_trace *trace, double hz, double level, hs_error *error)
{
	if (!(hz > 0))
		return hs_fail(error, HS_BAD_INPUT, "the frequency is %g Hz, and one above zero was wanted", hz);
	if (trace->count > 0 && hz <= trace->hz[trace->count - 1])
		return hs_fail(error, HS_BAD_INPUT, "the frequency %.12g Hz does not lie above the one before, %.12g Hz", hz, trace->hz[trace->count - 1]);
	if (trace->count == HS_TRACE_POINTS)
		return hs_fail(error, HS_BAD_INPUT, "the trace has more than %d points", HS_TRACE_POINTS);
	trace->hz[trace->count] = hz;
	trace->level[trace->count++] = level;
	return true;
}

static void make_room(hs_trace *trace)
{
	trace->hz = hs_alloc(HS_TRACE_POINTS * sizeof *trace->hz);
	trace->level = hs_alloc(HS_TRACE_POINTS * sizeof *trace->level);
}

/* "kHz", "MHz" or "GHz" in a heading. */
static double scale_in(const char *line, double otherwise)
{
	static const struct { const char *word; double scale; } rows[] = {{"kHz", 1e3}, {"MHz", 1e6}, {"GHz", 1e9}, {"Hz", 1}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (strstr(line, rows[i].word))
			return rows[i].scale;
	return otherwise;
}

/* One row of the file: a number, something between, a number, and perhaps more columns. */
static bool read_row(const char *line, double scale, hs_trace *trace, hs_error *error)
{
	double hz, level;
	size_t used, more;
	if (!hs_number_scan(line, &hz, &used, NULL)) {
		hs_fail(error, HS_BAD_INPUT, "this line is no row of a trace; a frequency and a level were wanted");
		return hs_fail_hint(error, "save the trace as text, one frequency and one level a line");
	}
	size_t between = strspn(line + used, " \t;,");
	if (between == 0 || !hs_number_scan(line + used + between, &level, &more, NULL)) {
		hs_fail(error, HS_BAD_INPUT, "behind the frequency no level can be read");
		return hs_fail_hint(error, "one frequency and one level a line, with a comma between");
	}
	const char *rest = line + used + between + more;
	if (*rest && !strchr(" \t;,\r", *rest)) {
		hs_fail(error, HS_BAD_INPUT, "behind the level stands \"%.20s\"", rest);
		return hs_fail_hint(error, "numbers alone, with a decimal point");
	}
	/* "1,5;-20,2" reads as 1 and 5: a comma within the numbers shows by the semicolon behind them. */
	if (strchr(line, ';') && strchr(line, ',')) {
		hs_fail(error, HS_BAD_INPUT, "commas and semicolons stand in one line, so the commas are decimal commas");
		return hs_fail_hint(error, "save it with decimal points");
	}
	return add_point(trace, hz * scale, level, error);
}

static bool read_lines(const char *text, hs_trace *trace, int *number, hs_error *error)
{
	double scale = 1, first;
	size_t used;
	char line[256];
	for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n') {
		size_t length = strcspn(at, "\n");
		(*number)++;
		if (length >= sizeof line)
			return hs_fail(error, HS_BAD_INPUT, "this line has %zu bytes, and no row of a trace has over 255", length);
		hs_copy(line, length + 1, at);
		const char *begin = hs_trim(line);
		bool numeric = hs_number_scan(begin, &first, &used, NULL);
		if (!*begin)
			continue;
		if (!numeric && trace->count == 0)
			scale = scale_in(begin, scale);
		else if (!read_row(begin, scale, trace, error))
			return false;
	}
	if (trace->count < 2)
		return hs_fail(error, HS_BAD_INPUT, "it has %zu rows of a frequency and a level, and two or more were wanted", trace->count);
	return true;
}

bool hs_trace_read_file(const char *name, const char *text, size_t length, hs_trace *out, hs_error *error)
{
	const char *slash = strrchr(name, '/');
	hs_buf safe;
	int line = 0;
	*out = (hs_trace){0};
	hs_buf_init(&safe);
	for (const char *at = slash ? slash + 1 : name; *at; at++)
		hs_buf_char(&safe, *at > ' ' && *at <= '~' ? *at : '_');
	hs_copy(out->name, sizeof out->name, safe.data ? safe.data : "");
	hs_buf_free(&safe);
	hs_sha256_hex(text, length, out->sha256);
	make_room(out);
	if (read_lines(text, out, &line, error))
		return true;
	hs_trace_free(out);
	return hs_fail_at(error, name, line);
}

void hs_trace_print(const hs_trace *trace, hs_buf *out)
{
	hs_buf_printf(out, "trace %s %s\n", trace->name, trace->sha256);
	for (size_t i = 0; i < trace->count; i++) {
		hs_number_print(out, trace->hz[i]);
		hs_buf_char(out, ' ');
		hs_number_print(out, trace->level[i]);
		hs_buf_char(out, '\n');
	}
}

bool hs_trace_read(const char *text, hs_trace *out, hs_error *error)
{
	*out = (hs_trace){0};
	const char *end = strchr(text, '\n'), *blank = strncmp(text, "trace ", 6) == 0 ? strchr(text + 6, ' ') : NULL;
	if (!end || !blank || blank > end || (size_t)(blank - text - 6) >= sizeof out->name || end - blank - 1 != HS_HEX_ROOM - 1)
		return hs_fail(error, HS_BAD_INPUT, "the name of a file with the trace was wanted, such as if.csv");
	hs_copy(out->name, (size_t)(blank - text - 6) + 1, text + 6);
	hs_copy(out->sha256, HS_HEX_ROOM, blank + 1);
	make_room(out);
	bool good = true;
	for (const char *at = end + 1; good && *at;) {
		double hz, level;
		size_t used, more;
		good = hs_number_scan(at, &hz, &used, NULL) && at[used] == ' ' && hs_number_scan(at + used + 1, &level, &more, NULL) &&
		       at[used + 1 + more] == '\n' && add_point(out, hz, level, error);
		at += good ? used + more + 2 : 0;
	}
	if (good && out->count >= 2)
		return true;
	hs_trace_free(out);
	return hs_fail(error, HS_BAD_INPUT, "the points of the trace cannot be read");
}

/* A level in the reading's unit, or nothing. */
static bool read_limit(const char *cell, hs_unit unit, bool *has, double *value, hs_error *error)
{
	hs_quantity quantity;
	*has = *cell != '\0';
	if (!*has)
		return true;
	if (!hs_quantity_read(cell, unit, &quantity, error))
		return false;
	if (quantity.unit != unit)
		return hs_fail(error, HS_BAD_INPUT, "the limit \"%.40s\" is not in %s", cell, hs_unit_name(unit));
	*value = quantity.value;
	return true;
}

static bool read_mask_row(char *line, hs_unit unit, hs_mask_point *point, hs_error *error)
{
	char *cells[3] = {line, NULL, NULL};
	hs_quantity hz;
	for (int i = 1; i < 3; i++) {
		cells[i] = cells[i - 1] ? strchr(cells[i - 1], ',') : NULL;
		if (cells[i])
			*cells[i]++ = '\0';
	}
	if (!cells[2] || strchr(cells[2], ',')) {
		hs_fail(error, HS_BAD_INPUT, "this row of the mask has not three fields");
		return hs_fail_hint(error, "write frequency,min,max; a limit may be left empty");
	}
	if (!hs_quantity_read(hs_trim(cells[0]), HS_HERTZ, &hz, error))
		return false;
	if (hz.unit != HS_HERTZ || !(hz.value > 0))
		return hs_fail(error, HS_BAD_INPUT, "\"%.40s\" is no frequency above zero", cells[0]);
	*point = (hs_mask_point){.hz = hz.value};
	if (!read_limit(hs_trim(cells[1]), unit, &point->has_low, &point->low, error) ||
	    !read_limit(hs_trim(cells[2]), unit, &point->has_high, &point->high, error))
		return false;
	if (!point->has_low && !point->has_high)
		return hs_fail(error, HS_BAD_INPUT, "this row of the mask has no limit");
	return !(point->has_low && point->has_high && point->low > point->high) ||
	       hs_fail(error, HS_BAD_INPUT, "the min of this row lies above its max");
}

bool hs_mask_read(const char *file, const char *text, hs_unit unit, hs_mask_point *points, size_t *count, hs_error *error)
{
	char line[256];
	int number = 0;
	*count = 0;
	for (const char *at = text; *at; at += strcspn(at, "\n"), at += *at == '\n') {
		size_t length = strcspn(at, "\n");
		number++;
		hs_copy(line, length + 1 < sizeof line ? length + 1 : sizeof line, at);
		char *row = hs_trim(line);
		bool heading = number == 1 && strncmp(row, "frequency", 9) == 0;
		if (!*row || heading)
			continue;
		if (*count == HS_MASK_POINTS) {
			hs_fail(error, HS_BAD_INPUT, "a mask has at most %d rows", HS_MASK_POINTS);
			return hs_fail_at(error, file, number);
		}
		hs_mask_point *point = &points[*count];
		if (!read_mask_row(row, unit, point, error))
			return hs_fail_at(error, file, number);
		if (*count > 0 && point->hz <= points[*count - 1].hz) {
			hs_fail(error, HS_BAD_INPUT, "the frequencies of a mask rise, and this one does not lie above the one before");
			return hs_fail_at(error, file, number);
		}
		(*count)++;
	}
	if (*count >= 2)
		return true;
	hs_fail(error, HS_BAD_INPUT, "a mask has two rows or more, and this one has %zu", *count);
	return hs_fail_at(error, file, number > 0 ? number : 1);
}

static double between(double a, double b, double part)
{
	return a + (b - a) * part;
}

bool hs_mask_at(const hs_mask *mask, double hz, hs_unit unit, hs_limits *out)
{
	const hs_mask_point *points = mask->points;
	if (mask->count < 2 || hz < points[0].hz || hz > points[mask->count - 1].hz)
		return false;
	size_t i = 1;
	while (i + 1 < mask->count && hz > points[i].hz)
		i++;
	const hs_mask_point *a = &points[i - 1], *b = &points[i];
	double part = (hz - a->hz) / (b->hz - a->hz);
	*out = (hs_limits){.unit = unit, .has_low = a->has_low && b->has_low, .has_high = a->has_high && b->has_high};
	if (out->has_low)
		out->low = between(a->low, b->low, part);
	if (out->has_high)
		out->high = between(a->high, b->high, part);
	return out->has_low || out->has_high;
}
