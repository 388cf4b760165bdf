/* |S21| of a Touchstone 1.x two-port file, as a loss table. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "halfsplit/base/text.h"
#include "halfsplit/lineup/touchstone.h"

#define TWO_PORT_NUMBERS 9
#define NOISE_NUMBERS    5
#define RESIDUE_DB       0.1 /* of gain, left over by a calibration */

typedef enum notation { MAGNITUDE_ANGLE, DECIBEL_ANGLE, REAL_IMAGINARY } notation;

typedef struct reader {
	const char *path;
	hs_error *error;
	int line;
	hs_buf text; /* the present line, without its comment */
	bool options_seen, noise;
	double unit_hz, last_hz;
	notation notation;
	hs_loss_point *points;
	size_t count, room;
} reader;

static bool refuse(reader *r, const char *format, ...) __attribute__((format(printf, 2, 3)));

static bool refuse(reader *r, const char *format, ...)
{
	char message[400];
	va_list args;
	va_start(args, format);
	vsnprintf(message, sizeof(message), format, args);
	va_end(args);
	hs_fail(r->error, HS_BAD_INPUT, "%s", message);
	hs_fail_at(r->error, r->path, r->line);
	if (r->error)
		hs_copy(r->error->quote, sizeof(r->error->quote), hs_trim(r->text.data));
	return false;
}

/* Takes one line, ended by CR, LF or CRLF, into r->text; returns where the next one begins. */
static const char *take_line(reader *r, const char *at, const char *end)
{
	const char *stop = at;
	while (stop < end && *stop != '\n' && *stop != '\r')
		stop++;
	const char *comment = memchr(at, '!', (size_t)(stop - at));
	hs_buf_clear(&r->text);
	hs_buf_add(&r->text, at, (size_t)((comment ? comment : stop) - at));
	r->line++;
	if (stop + 1 < end && stop[0] == '\r' && stop[1] == '\n')
		stop++;
	return stop < end ? stop + 1 : end;
}

/* The next word of a line, cut off in place; NULL when there is none. */
static char *take_word(char **at)
{
	char *word = *at + strspn(*at, " \t\v\f");
	if (*word == '\0')
		return NULL;
	char *stop = word + strcspn(word, " \t\v\f");
	*at = *stop ? stop + 1 : stop;
	*stop = '\0';
	return word;
}

static bool read_unit(const char *word, double *unit_hz)
{
	static const struct {
		const char *name;
		double hz;
	} units[] = {{"Hz", 1}, {"kHz", 1e3}, {"MHz", 1e6}, {"GHz", 1e9}};
	for (size_t i = 0; i < sizeof(units) / sizeof(units[0]); i++) {
		if (hs_same_word(word, units[i].name)) {
			*unit_hz = units[i].hz;
			return true;
		}
	}
	return false;
}

static bool read_notation(const char *word, notation *out)
{
	static const char *const names[] = {"MA", "DB", "RI"};
	for (int i = 0; i < 3; i++) {
		if (hs_same_word(word, names[i])) {
			*out = (notation)i;
			return true;
		}
	}
	return false;
}

/* `rest` follows the '#', which need not be followed by a space. */
static bool read_options(reader *r, char *rest)
{
	hs_buf line;
	hs_buf_init(&line);
	hs_buf_str(&line, rest);
	char *at = line.data, *word;
	bool good = true;
	r->unit_hz = 1e9;
	r->notation = MAGNITUDE_ANGLE;
	while (good && (word = take_word(&at)) != NULL) {
		double ohm = 0;
		if (read_unit(word, &r->unit_hz) || read_notation(word, &r->notation) || hs_same_word(word, "S"))
			continue;
		if (hs_same_word(word, "R")) {
			word = take_word(&at);
			if (!word || !hs_number_read(word, &ohm) || !(ohm > 0))
				good = refuse(r, "R in the option line is not followed by a resistance above 0 ohm");
		} else if (strlen(word) == 1 && strchr("YZHGyzhg", *word)) {
			good = refuse(r, "the file holds %s-parameters; a loss is read from S-parameters only", word);
		} else {
			good = refuse(r, "\"%s\" in the option line is none of Hz kHz MHz GHz, S, MA DB RI, R", word);
		}
	}
	hs_buf_free(&line);
	r->options_seen = true;
	return good;
}

/* Counts every number of the line, keeps the first nine. */
static bool read_numbers(reader *r, double numbers[TWO_PORT_NUMBERS], size_t *count)
{
	hs_buf line;
	hs_buf_init(&line);
	hs_buf_str(&line, r->text.data);
	char *at = line.data, *word;
	bool good = true;
	*count = 0;
	while (good && (word = take_word(&at)) != NULL) {
		double value = 0;
		if (!hs_number_read(word, &value))
			good = refuse(r, "\"%.40s\" is not a number", word);
		else if (*count < TWO_PORT_NUMBERS)
			numbers[*count] = value;
		*count += 1;
	}
	hs_buf_free(&line);
	return good;
}

/* numbers[3] and [4] are S21: the order is S11 S21 S12 S22. */
static bool s21_loss(reader *r, const double *numbers, double *loss_db)
{
	double first = numbers[3], magnitude = fabs(first);
	if (r->notation == MAGNITUDE_ANGLE && first < 0)
		return refuse(r, "the magnitude of S21 is below 0");
	if (r->notation == REAL_IMAGINARY)
		magnitude = hypot(first, numbers[4]);
	if (r->notation != DECIBEL_ANGLE && magnitude == 0)
		return refuse(r, "S21 is 0, which is no loss in dB");
	double loss = r->notation == DECIBEL_ANGLE ? -first : -20 * log10(magnitude);
	if (loss < -RESIDUE_DB - 1e-9) {
		refuse(r, "S21 is a gain of %.2f dB; up to %.1f dB passes as a residue of the calibration", -loss,
		       RESIDUE_DB);
		return hs_fail_hint(r->error, "measure the part again after a fresh calibration");
	}
	/* Also turns -0 into 0. */
	*loss_db = loss > 0 ? loss : 0;
	return true;
}

static bool read_noise(reader *r, size_t count)
{
	r->noise = true;
	if (count != NOISE_NUMBERS)
		return refuse(r, "a line of noise data holds %zu numbers; %d are wanted", count, NOISE_NUMBERS);
	return true;
}

static bool read_data(reader *r)
{
	double numbers[TWO_PORT_NUMBERS] = {0};
	size_t count;
	if (!r->options_seen)
		return refuse(r, "the data begin before an option line (#)");
	if (!read_numbers(r, numbers, &count))
		return false;
	double freq_hz = numbers[0] * r->unit_hz;
	bool above = r->count == 0 || freq_hz > r->last_hz;
	if (r->noise || (!above && count == NOISE_NUMBERS))
		return read_noise(r, count);
	if (count != TWO_PORT_NUMBERS) {
		refuse(r, "a line holds %zu numbers; a two-port line holds %d", count, TWO_PORT_NUMBERS);
		return hs_fail_hint(r->error, "a loss is read from a two-port file (.s2p)");
	}
	if (freq_hz < 0)
		return refuse(r, "a frequency is below 0");
	if (r->count > 0 && freq_hz < r->last_hz)
		return refuse(r, "the frequency falls; S-parameters stand in rising order");
	hs_loss_point point = {.freq_hz = freq_hz};
	if (!s21_loss(r, numbers, &point.loss_db))
		return false;
	r->points = hs_grow(r->points, &r->room, r->count + 1, sizeof(*r->points));
	r->points[r->count++] = point;
	r->last_hz = freq_hz;
	return true;
}

static bool read_line(reader *r)
{
	if (strlen(r->text.data) != r->text.length)
		return refuse(r, "the line holds a NUL byte");
	char *start = r->text.data + strspn(r->text.data, " \t\v\f");
	if (*start == '\0')
		return true;
	if (*start == '[') {
		refuse(r, "the file is of Touchstone version 2");
		return hs_fail_hint(r->error, "save it as version 1 (a plain .s2p file)");
	}
	if (*start != '#')
		return read_data(r);
	return r->options_seen || read_options(r, start + 1);
}

static bool finish(reader *r, hs_arena *arena, hs_loss_table *out)
{
	if (r->count == 0) {
		hs_fail(r->error, HS_BAD_INPUT, "the file holds no S-parameters");
		return hs_fail_at(r->error, r->path, 0);
	}
	if (!hs_loss_table_make(arena, r->points, r->count, out, r->error))
		return hs_fail_at(r->error, r->path, 0);
	return true;
}

bool hs_touchstone_loss(hs_arena *arena, const char *path, const char *text, size_t length, hs_loss_table *out,
                        hs_error *error)
{
	reader r = {.path = path, .error = error};
	const char *at = text, *end = text + length;
	bool good = true;
	hs_buf_init(&r.text);
	if (length >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0)
		at += 3;
	while (good && at < end) {
		at = take_line(&r, at, end);
		good = read_line(&r);
	}
	good = good && finish(&r, arena, out);
	hs_buf_free(&r.text);
	free(r.points);
	return good;
}
