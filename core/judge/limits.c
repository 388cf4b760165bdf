/* Limits as text: read, printed, converted. */
#include <math.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "halfsplit/base/text.h"
#include "halfsplit/judge/limits.h"
#include "labels.h"

#define OPEN_OHM 1e6 /* from here up a resistance counts as open */

static const char *const ways = "write \"12 V +/- 5 %\", \"11.4 V to 12.6 V\", \"at least 10 dBm\" or \"at most 5 mV\"";

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* What follows `words` and white space at the start of text, or NULL. */
static char *after_words(char *text, const char *words)
{
	size_t length = strlen(words);
	for (size_t i = 0; i < length; i++)
		if (lower(text[i]) != words[i])
			return NULL;
	return text[length] == ' ' || text[length] == '\t' ? hs_trim(text + length) : NULL;
}

static bool fail_pair(const hs_limits *limits, hs_error *error)
{
	hs_buf low, high;
	hs_buf_init(&low);
	hs_buf_init(&high);
	hs_limits_labels(limits, &low, &high);
	if (limits->low > limits->high) {
		hs_fail(error, HS_BAD_INPUT, "the low limit %s is above the high limit %s", low.data, high.data);
		hs_fail_hint(error, "the low limit comes first");
	} else {
		hs_fail(error, HS_BAD_INPUT, "%s is one value, where limits are two", low.data);
		hs_fail_hint(error, "%s", ways);
	}
	hs_buf_free(&low);
	hs_buf_free(&high);
	return false;
}

static bool two_sided(double low, double high, hs_unit unit, hs_limits *out, hs_error *error)
{
	*out = (hs_limits){.has_low = true, .has_high = true, .low = low, .high = high, .unit = unit};
	return low < high || fail_pair(out, error);
}

static bool read_one(const char *text, hs_unit bare, bool low, hs_limits *out, hs_error *error)
{
	hs_quantity limit;
	if (!hs_quantity_read(text, bare, &limit, error))
		return false;
	*out = (hs_limits){.has_low = low, .has_high = !low, .unit = limit.unit};
	*(low ? &out->low : &out->high) = limit.value;
	return true;
}

/*
 * A number beside a quantity with a prefix ("100 .. 200 mV") means one thing to its writer and another to its reader,
 * so it is refused; 0 is 0 in every prefix.
 */
static bool read_ends(const char *first, const char *second, hs_unit bare, hs_quantity ends[2], hs_error *error)
{
	double number[2] = {0};
	bool naked[2] = {hs_number_read(first, &number[0]), hs_number_read(second, &number[1])};
	if (naked[0] != naked[1] && number[naked[0] ? 0 : 1] != 0) {
		hs_fail(error, HS_BAD_INPUT, "one limit has a unit and the other (%s) has none",
		        naked[0] ? first : second);
		return hs_fail_hint(error, "write the unit behind both");
	}
	const char *const texts[2] = {first, second};
	int lead = naked[0] && !naked[1] ? 1 : 0;
	if (!hs_quantity_read(texts[lead], bare, &ends[lead], error))
		return false;
	hs_unit unit = naked[0] != naked[1] ? ends[lead].unit : bare;
	return hs_quantity_read(texts[1 - lead], unit, &ends[1 - lead], error);
}

static bool read_pair(const char *first, const char *second, hs_unit bare, hs_limits *out, hs_error *error)
{
	hs_quantity ends[2];
	if (!read_ends(first, second, bare, ends, error))
		return false;
	hs_dimension from = hs_unit_dimension(ends[0].unit), to = hs_unit_dimension(ends[1].unit);
	if (from != to)
		return hs_fail(error, HS_BAD_INPUT, "one limit is a %s and the other a %s", hs_dimension_name(from),
		               hs_dimension_name(to));
	if (!hs_quantity_convert(ends[1], ends[0].unit, 0, &ends[1], error))
		return false;
	return two_sided(ends[0].value, ends[1].value, ends[0].unit, out, error);
}

static bool read_tolerance(const char *text, hs_unit bare, hs_limits *out, hs_error *error)
{
	hs_quantity nominal;
	double tolerance;
	if (!hs_toleranced_read(text, bare, &nominal, &tolerance, error))
		return false;
	return two_sided(nominal.value - tolerance, nominal.value + tolerance, nominal.unit, out, error);
}

static bool read_open(hs_unit bare, hs_limits *out, hs_error *error)
{
	if (bare != HS_UNIT_COUNT && bare != HS_OHM)
		return hs_fail(error, HS_BAD_INPUT, "\"open\" is a limit of a resistance, not of a %s",
		               hs_dimension_name(hs_unit_dimension(bare)));
	*out = (hs_limits){.has_low = true, .low = OPEN_OHM, .unit = HS_OHM, .open_is_ok = true};
	return true;
}

/* Cuts text at the first `mark`, in place; returns the trimmed right side, or NULL. */
static char *cut(char *text, const char *mark)
{
	char *at = strstr(text, mark);
	if (!at)
		return NULL;
	*at = '\0';
	return hs_trim(at + strlen(mark));
}

static bool read_form(char *text, hs_unit bare, hs_limits *out, hs_error *error)
{
	char *rest;
	if (*text == '\0') {
		hs_fail(error, HS_BAD_INPUT, "the limits are empty");
		return hs_fail_hint(error, "%s", ways);
	}
	if (hs_same_word(text, "open"))
		return read_open(bare, out, error);
	if ((rest = after_words(text, "at least")) != NULL)
		return read_one(rest, bare, true, out, error);
	if ((rest = after_words(text, "at most")) != NULL || (rest = after_words(text, "nothing above")) != NULL)
		return read_one(rest, bare, false, out, error);
	if ((rest = cut(text, "..")) != NULL || (rest = cut(text, " to ")) != NULL)
		return read_pair(hs_trim(text), rest, bare, out, error);
	return read_tolerance(text, bare, out, error);
}

bool hs_limits_read(const char *text, hs_unit bare, hs_limits *out, hs_error *error)
{
	hs_limits made = {0};
	hs_buf copy;
	hs_buf_init(&copy);
	hs_buf_str(&copy, text);
	bool good = read_form(hs_trim(copy.data), bare, &made, error);
	hs_buf_free(&copy);
	if (good)
		*out = made;
	return good;
}

void hs_limits_print(hs_buf *out, const hs_limits *limits)
{
	hs_buf low, high;
	hs_buf_init(&low);
	hs_buf_init(&high);
	hs_limits_labels(limits, &low, &high);
	if (limits->open_is_ok)
		hs_buf_str(out, "open");
	else if (limits->has_low && limits->has_high)
		hs_buf_printf(out, "%s to %s", low.data, high.data);
	else if (limits->has_low)
		hs_buf_printf(out, "at least %s", low.data);
	else if (limits->has_high)
		hs_buf_printf(out, "at most %s", high.data);
	else
		hs_buf_str(out, "no limits");
	hs_buf_free(&low);
	hs_buf_free(&high);
}

/* A low limit of no power or voltage at all becomes none: in decibels it lies at minus infinity. */
static bool falls_away(double low, hs_unit from, hs_unit to)
{
	return hs_unit_is_level(to) && !hs_unit_is_level(from) && (low == 0 || (from == HS_WATT && low < 0));
}

bool hs_limits_convert(const hs_limits *limits, hs_unit to, double impedance_ohm, hs_limits *out, hs_error *error)
{
	hs_limits made = *limits;
	hs_quantity limit;
	made.unit = to;
	if (limits->has_low && falls_away(limits->low, limits->unit, to)) {
		made.has_low = false;
		made.low = 0;
	}
	if (made.has_low) {
		if (!hs_quantity_convert((hs_quantity){limits->low, limits->unit}, to, impedance_ohm, &limit, error))
			return false;
		made.low = limit.value;
	}
	if (made.has_high) {
		if (!hs_quantity_convert((hs_quantity){limits->high, limits->unit}, to, impedance_ohm, &limit, error))
			return false;
		made.high = limit.value;
	}
	*out = made;
	return true;
}
