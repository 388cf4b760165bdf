/* Loss tables from comma-separated text. */
#include "halfsplit/lineup/loss_csv.h"

#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "halfsplit/quantity/demand.h"

#define LINE_MOST 512

typedef struct table {
	const char *path;
	int line;
	char text[LINE_MOST]; /* the line being read */
	hs_loss_point *points;
	size_t count, room;
	double freq_scale; /* of the header's unit */
	bool begun;        /* a header or a point was read */
	hs_error *error;
} table;

static bool blame(const table *t)
{
	if (!t->error)
		return false;
	hs_fail_at(t->error, t->path, t->line);
	hs_copy(t->error->quote, sizeof t->error->quote, t->text);
	return false;
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* A cell without the blanks and the quotes around it, in place. */
static char *cell_of(char *text)
{
	char *cell = hs_trim(text);
	size_t length = strlen(cell);
	if (length < 2 || cell[0] != '"' || cell[length - 1] != '"')
		return cell;
	cell[length - 1] = '\0';
	return hs_trim(cell + 1);
}

/* Cuts the line at its separators: a tab, else a semicolon, else commas. Returns how many cells there are. */
static size_t cut(char *line, char *cells[3])
{
	char separator = strchr(line, '\t') ? '\t' : strchr(line, ';') ? ';' : ',';
	size_t count = 0;
	for (char *from = line; from;) {
		char *next = strchr(from, separator);
		if (next)
			*next++ = '\0';
		if (count < 3)
			cells[count] = cell_of(from);
		count++;
		from = next;
	}
	/* A separator at the end of the line is how some programs end it. */
	if (count == 3 && !*cells[2])
		count = 2;
	return count;
}

/* The last word of a heading that is a unit: "freq_mhz", "loss (dB)". */
static bool heading_unit(const char *heading, hs_unit *unit, double *scale)
{
	static const struct {
		const char *word;
		hs_unit unit;
		double scale;
	} units[] = {{"hz", HS_HERTZ, 1},
	             {"khz", HS_HERTZ, 1e3},
	             {"mhz", HS_HERTZ, 1e6},
	             {"ghz", HS_HERTZ, 1e9},
	             {"db", HS_DB, 1}};
	bool found = false;
	for (const char *at = heading; *at;) {
		char word[16];
		size_t length = 0;
		while ((at[length] >= 'a' && at[length] <= 'z') || (at[length] >= 'A' && at[length] <= 'Z'))
			length++;
		if (length == 0) {
			at++;
			continue;
		}
		hs_copy(word, length + 1 < sizeof word ? length + 1 : sizeof word, at);
		for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
			if (!hs_same_word(word, units[i].word))
				continue;
			*unit = units[i].unit;
			*scale = units[i].scale;
			found = true;
		}
		at += length;
	}
	return found;
}

static bool header(table *t, char *cells[3])
{
	hs_unit unit = HS_HERTZ;
	double scale = 1;
	bool named = heading_unit(cells[0], &unit, &scale);
	if (named && unit != HS_HERTZ) {
		hs_fail(t->error, HS_BAD_INPUT, "the first column is in dB, and the frequency was wanted there");
		hs_fail_hint(t->error, "write the frequency first, then the loss");
		return blame(t);
	}
	t->freq_scale = scale;
	named = heading_unit(cells[1], &unit, &scale);
	if (named && unit != HS_DB) {
		hs_fail(t->error, HS_BAD_INPUT, "the second column is in Hz, and the loss in dB was wanted there");
		hs_fail_hint(t->error, "write the frequency first, then the loss");
		return blame(t);
	}
	return true;
}

/* A bare number takes the unit of the column. */
static bool number(table *t, const char *cell, hs_unit unit, double scale, double *out)
{
	static const char *const wanted[] = {"a frequency", "a loss in dB"};
	hs_quantity read;
	if (!*cell) {
		hs_fail(t->error, HS_BAD_INPUT, "a cell is empty where %s was wanted", wanted[unit == HS_DB]);
		return blame(t);
	}
	if (!hs_quantity_read(cell, HS_UNITLESS, &read, t->error))
		return blame(t);
	if (read.unit == HS_UNITLESS)
		read = (hs_quantity){read.value * scale, unit};
	if (!hs_want_dimension(unit == HS_DB ? "the loss" : "the frequency", read, hs_unit_dimension(unit), t->error))
		return blame(t);
	*out = read.value;
	return true;
}

static bool point(table *t, char *cells[3])
{
	hs_loss_point read;
	if (!number(t, cells[0], HS_HERTZ, t->freq_scale, &read.freq_hz) ||
	    !number(t, cells[1], HS_DB, 1, &read.loss_db))
		return false;
	/* Said here, where the line is known. */
	if (!hs_want_at_least("the frequency", read.freq_hz, 0, HS_HERTZ, t->error))
		return blame(t);
	if (!hs_want_at_least("the loss", read.loss_db, 0, HS_DB, t->error)) {
		hs_fail_hint(t->error, "a loss is written as a positive number of dB");
		return blame(t);
	}
	t->points = hs_grow(t->points, &t->room, t->count + 1, sizeof *t->points);
	t->points[t->count++] = read;
	return true;
}

static bool read_line(table *t)
{
	char copy[LINE_MOST], *cells[3] = {NULL};
	hs_copy(copy, sizeof copy, t->text);
	const char *first = t->text + strspn(t->text, " \t\"");
	if (!*first || *first == '#')
		return true;
	size_t count = cut(copy, cells);
	if (count != 2) {
		hs_fail(t->error, HS_BAD_INPUT, "%zu column%s where two were wanted, frequency and loss", count,
		        count == 1 ? " stands" : "s stand");
		hs_fail_hint(t->error, "write a line like 145 MHz,1.45, with decimal points");
		return blame(t);
	}
	bool numeric =
	    is_digit(*cells[0]) || (*cells[0] && strchr("+-.", *cells[0])) || (unsigned char)*cells[0] == 0xE2;
	bool heads = !t->begun && !numeric;
	t->begun = true;
	return heads ? header(t, cells) : point(t, cells);
}

static bool read_lines(table *t, const char *text, size_t length)
{
	for (size_t at = 0; at < length;) {
		size_t end = at;
		while (end < length && text[end] != '\n' && text[end] != '\r')
			end++;
		t->line++;
		size_t kept = end - at < LINE_MOST ? end - at : LINE_MOST - 1;
		memcpy(t->text, text + at, kept);
		t->text[kept] = '\0';
		if (end - at >= LINE_MOST) {
			hs_fail(t->error, HS_BAD_INPUT, "the line has %zu bytes, and at most %d are taken", end - at,
			        LINE_MOST - 1);
			return blame(t);
		}
		if (memchr(text + at, '\0', end - at)) {
			hs_fail(t->error, HS_BAD_INPUT, "the line holds a NUL byte, and text was wanted");
			return blame(t);
		}
		if (!hs_utf8_valid(text + at, end - at)) {
			hs_fail(t->error, HS_BAD_INPUT, "the line is not UTF-8 text");
			return blame(t);
		}
		if (!read_line(t))
			return false;
		at = end + (end + 1 < length && text[end] == '\r' && text[end + 1] == '\n') + 1;
	}
	return true;
}

bool hs_loss_csv(hs_arena *arena, const char *path, const char *text, size_t length, hs_loss_table *out,
                 hs_error *error)
{
	table t = {.path = path, .freq_scale = 1, .error = error};
	size_t mark = length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
	bool good = read_lines(&t, text + mark, length - mark);
	if (good && !hs_loss_table_make(arena, t.points, t.count, out, error))
		good = hs_fail_at(error, path, 0);
	free(t.points);
	return good;
}
