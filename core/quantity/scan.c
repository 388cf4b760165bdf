#include "halfsplit/quantity/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "spell.h"

typedef hs_piece piece;

enum { QUOTED = sizeof(piece) - 4 };

hs_piece hs_spell_quote(const char *text, size_t length)
{
	piece quoted;
	hs_copy(quoted.text, (length < QUOTED ? length : QUOTED) + 1, text);
	if (length > QUOTED)
		strcat(quoted.text, "...");
	return quoted;
}

static piece quote_all(const char *text)
{
	return hs_spell_quote(text, strlen(text));
}

/* "a number in dBm", for the end of a message. */
static piece wanted(hs_unit bare)
{
	piece words;
	if (bare == HS_UNIT_COUNT)
		snprintf(words.text, sizeof words.text, "a number with a unit");
	else if (bare == HS_UNITLESS)
		snprintf(words.text, sizeof words.text, "a plain number");
	else
		snprintf(words.text, sizeof words.text, "a number in %s", hs_unit_name(bare));
	return words;
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static const char *after_sign(const char *text)
{
	if (strncmp(text, "\xE2\x88\x92", 3) == 0)
		return text + 3;
	return text + (*text == '-' || *text == '+');
}

static bool fail_no_number(const char *text, hs_unit bare, hs_error *error)
{
	const char *digits = after_sign(text);
	if (!*text)
		return hs_fail(error, HS_BAD_INPUT, "nothing was given, and %s was wanted", wanted(bare).text);
	if (is_digit(*digits) || (*digits == '.' && is_digit(digits[1])))
		return hs_fail(error, HS_BAD_INPUT, "the number \"%s\" is too large to calculate with",
		               quote_all(text).text);
	hs_fail(error, HS_BAD_INPUT, "\"%s\" does not begin with a number, and %s was wanted", quote_all(text).text,
	        wanted(bare).text);
	const char *unit = bare == HS_UNIT_COUNT ? "dBm" : hs_unit_name(bare);
	return hs_fail_hint(error, "write it like 12.5%s%s", *unit ? " " : "", unit);
}

static bool is_one_of(const char *word, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(word, words[i]) == 0)
			return true;
	return false;
}

/* What a unit that is not known was meant to be, as far as one can tell. */
static bool hint_unit(const char *word, size_t length, hs_unit bare, hs_error *error)
{
	static const char *const lengths[] = {"cm", "mm", "ft", "feet"}, *const kelvins[] = {"K", "kelvin"},
	                         *const above[] = {"dBc", "dBi", "dBd", "dBr", "dBFS"};
	const char *names[HS_UNIT_COUNT], *own = bare < HS_UNIT_COUNT ? hs_unit_name(bare) : "";
	hs_piece named = hs_spell_quote(word, length);
	hs_buf better;
	hs_buf_init(&better);
	hs_spell_candidates(&better, word, length);
	for (int unit = 0; unit < HS_UNIT_COUNT; unit++)
		names[unit] = hs_unit_name((hs_unit)unit);
	const char *near = length >= 3 ? hs_nearest(named.text, names, HS_UNIT_COUNT) : NULL;
	if (better.length > 0)
		hs_fail_hint(error, "write %s", better.data);
	else if (is_one_of(named.text, lengths, sizeof lengths / sizeof *lengths))
		hs_fail_hint(error, "lengths are in m");
	else if (is_one_of(named.text, kelvins, sizeof kelvins / sizeof *kelvins))
		hs_fail_hint(error, "temperatures are in degC");
	else if (is_one_of(named.text, above, sizeof above / sizeof *above))
		hs_fail_hint(error, "write dB, and say in words above what");
	else if (length == 1 && strchr("pnukMGT", *word) && !*own)
		hs_fail_hint(error, "a unit stands behind a prefix: %cohm, %cHz", *word, *word);
	else if (length == 1 && strchr("pnumkMGT", *word) && *own && !hs_unit_is_level(bare) && bare != HS_DB)
		hs_fail_hint(error, "write %c%s", *word, own);
	else if (near && *near)
		hs_fail_hint(error, "did you mean %s?", near);
	else
		hs_fail_hint(error,
		             "units are dBm dBW W V Vpk Vpp dBV dBu dBuV dBmV A ohm Hz s F H degC %% dB SWR m J Nm g, "
		             "with p n u m k M G T before those without dB");
	hs_buf_free(&better);
	return false;
}

/* text begins with a number of `used` bytes, then a comma and a digit. */
static bool fail_comma(const char *text, size_t used, hs_error *error)
{
	char better[QUOTED];
	size_t end = used + 1;
	while (is_digit(text[end]))
		end++;
	hs_fail(error, HS_BAD_INPUT, "\"%s\" has a comma in the number, and a decimal point was wanted",
	        quote_all(text).text);
	if (memchr(text, '.', used) || text[end] == '.' || text[end] == ',' || end >= sizeof better)
		return hs_fail_hint(error, "write the number without grouping and with one decimal point");
	hs_copy(better, end + 1, text);
	better[used] = '.';
	return hs_fail_hint(error, "write %s", better);
}

static bool fail_unit(const char *text, size_t at, hs_unit bare, hs_error *error)
{
	size_t length = hs_spell_word(text + at);
	const char *word = text + at, *digits = after_sign(text);
	piece named = hs_spell_quote(word, length);
	if (*digits == '0' && (digits[1] == 'x' || digits[1] == 'X'))
		return hs_fail(error, HS_BAD_INPUT, "\"%s\" is hexadecimal, and a decimal number was wanted",
		               quote_all(text).text);
	if (strcmp(named.text, "C") == 0) {
		hs_fail(error, HS_BAD_INPUT, "\"%s\" is in coulomb, which nothing here is measured in",
		        quote_all(text).text);
		return hs_fail_hint(error, "write degC for a temperature");
	}
	hs_fail(error, HS_BAD_INPUT, "\"%s\" has the unit \"%s\", which is not known, and %s was wanted",
	        hs_spell_quote(text, at + length).text, named.text, wanted(bare).text);
	return hint_unit(word, length, bare, error);
}

/* The number at the start of text times ten to the exponent, rounded once: 1.005 k is 1005 and not a little less. */
static bool scale(const char *text, size_t used, int exponent, double *value)
{
	char shifted[64];
	if (exponent == 0)
		return true;
	if (used < sizeof shifted - 8 && !memchr(text, 'e', used) && !memchr(text, 'E', used)) {
		snprintf(shifted, sizeof shifted, "%.*se%d", (int)used, text, exponent);
		return hs_number_read(shifted, value);
	}
	*value = exponent > 0 ? *value * pow(10, exponent) : *value / pow(10, -exponent);
	return isfinite(*value);
}

/*
 * "4R7", "2k2", "3M3": the letter stands where the point would (IEC 60062), for resistances only. Returns the bytes
 * taken and fills *value and *step, or returns 0 when text is nothing of the kind.
 */
static size_t scan_letter_code(const char *text, size_t used, double *value, double *step)
{
	static const char letters[] = "RkKMG", exponents[] = {0, 3, 3, 6, 9};
	const char *letter = text[used] ? strchr(letters, text[used]) : NULL;
	char plain[64];
	size_t end = used + 1;
	if (!letter || !is_digit(text[end]))
		return 0;
	for (size_t i = 0; i < used; i++)
		if (strchr(".eE", text[i]))
			return 0;
	while (is_digit(text[end]))
		end++;
	if (end > sizeof plain - 8)
		return 0;
	snprintf(plain, sizeof plain, "%.*s.%.*se%d", (int)used, text, (int)(end - used - 1), text + used + 1,
	         exponents[letter - letters]);
	size_t all;
	return hs_number_scan(plain, value, &all, step) ? end : 0;
}

/* A letter code may stand alone where a resistance is wanted or any unit will do, or in front of "ohm" anywhere. */
static bool finish_letter_code(const char *text, size_t code, hs_unit bare, size_t *used, hs_error *error)
{
	size_t at = code + hs_spell_spaces(text + code);
	hs_unit unit = HS_UNIT_COUNT;
	int exponent = 0;
	size_t length = hs_spell_match(text + at, &unit, &exponent);
	*used = code;
	if (length > 0 && unit == HS_OHM && exponent == 0) {
		*used = at + length;
		return true;
	}
	if (length == 0 && (bare == HS_OHM || bare == HS_UNIT_COUNT))
		return true;
	hs_fail(error, HS_BAD_INPUT, "\"%s\" is a way to write a resistance, and %s was wanted",
	        hs_spell_quote(text, code).text, length ? "no other unit behind it" : wanted(bare).text);
	return hs_fail_hint(error, "write it with a decimal point");
}

/* "12.5 dBm V" is two units, not one. The unit that stands alone ends at `used`. */
static bool check_one_unit(const char *text, size_t used, hs_error *error)
{
	const char *next = text + used + hs_spell_spaces(text + used);
	hs_unit unit;
	int exponent;
	if (next == text + used || hs_spell_match(next, &unit, &exponent) == 0)
		return true;
	hs_fail(error, HS_BAD_INPUT, "after \"%s\" there is another unit, \"%s\", and one was wanted",
	        hs_spell_quote(text, used).text, hs_spell_quote(next, hs_spell_word(next)).text);
	return hs_fail_hint(error, "write one number with one unit");
}

/* "2.2k" where a resistance is wanted. */
static bool is_lone_prefix(const char *word, size_t length, hs_unit bare, int *exponent)
{
	if (bare != HS_OHM || length != 1 || !strchr("kKMG", *word))
		return false;
	*exponent = *word == 'M' ? 6 : *word == 'G' ? 9 : 3;
	return true;
}

/* Minutes and hours are read as the seconds they are; there is no unit for them. Returns 0 for any other word. */
static double seconds_in(const char *word, size_t length)
{
	static const struct {
		const char *word;
		double seconds;
	} words[] = {{"min", 60.0}, {"minute", 60.0}, {"minutes", 60.0},
	             {"h", 3600.0}, {"hour", 3600.0}, {"hours", 3600.0}};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (strlen(words[i].word) == length && memcmp(words[i].word, word, length) == 0)
			return words[i].seconds;
	return 0.0;
}

/* The unit behind a number that ends at `number`: fills *unit, *exponent and *end, or leaves a bare number as it is. */
static bool scan_unit(const char *text, size_t number, hs_unit *unit, int *exponent, double *factor, size_t *end,
                      hs_error *error)
{
	size_t at = number + hs_spell_spaces(text + number), word = hs_spell_word(text + at);
	size_t length = hs_spell_match(text + at, unit, exponent);
	*end = number;
	if (length == 0 && (word == 0 || is_digit(text[at])))
		return true;
	if (length == 0 && is_lone_prefix(text + at, word, *unit, exponent))
		length = word;
	if (length == 0 && seconds_in(text + at, word) > 0.0) {
		*factor = seconds_in(text + at, word);
		*unit = HS_SECOND;
		length = word;
	}
	if (length == 0)
		return fail_unit(text, at, *unit, error);
	*end = at + length;
	return check_one_unit(text, *end, error);
}

static bool fail_bare(const char *text, size_t number, hs_error *error)
{
	hs_fail(error, HS_BAD_INPUT, "\"%s\" has no unit, and a number with a unit was wanted",
	        hs_spell_quote(text, number).text);
	return hs_fail_hint(error, "write the unit behind the number");
}

bool hs_quantity_scan(const char *text, hs_unit bare, hs_quantity *out, double *step, size_t *used, hs_error *error)
{
	double value, weight, factor = 1.0;
	size_t number, end;
	hs_unit unit = bare;
	int exponent = 0;
	if (!hs_number_scan(text, &value, &number, &weight))
		return fail_no_number(text, bare, error);
	if (text[number] == ',' && is_digit(text[number + 1]))
		return fail_comma(text, number, error);
	size_t code = scan_letter_code(text, number, &value, &weight);
	if (code > 0) {
		unit = HS_OHM;
		if (!finish_letter_code(text, code, bare, &end, error))
			return false;
	} else if (!scan_unit(text, number, &unit, &exponent, &factor, &end, error)) {
		return false;
	}
	if (unit == HS_UNIT_COUNT)
		return fail_bare(text, number, error);
	if (!scale(text, number, exponent, &value))
		return hs_fail(error, HS_BAD_INPUT, "the number \"%s\" is too large to calculate with",
		               hs_spell_quote(text, end).text);
	value *= factor;
	weight *= factor;
	if (!isfinite(value))
		return hs_fail(error, HS_BAD_INPUT, "the number \"%s\" is too large to calculate with",
		               hs_spell_quote(text, end).text);
	*out = (hs_quantity){value, unit};
	*used = end;
	if (step)
		*step = exponent < 0 ? weight / pow(10, -exponent) : weight * pow(10, exponent);
	return true;
}

bool hs_quantity_read_step(const char *text, hs_unit bare, hs_quantity *out, double *step, hs_error *error)
{
	hs_quantity read;
	double weight;
	size_t used;
	text += hs_spell_spaces(text);
	if (!hs_quantity_scan(text, bare, &read, &weight, &used, error))
		return false;
	const char *rest = text + used + hs_spell_spaces(text + used);
	if (*rest) {
		hs_fail(error, HS_BAD_INPUT, "after \"%s\" there is \"%s\", and nothing more was wanted",
		        hs_spell_quote(text, used).text, quote_all(rest).text);
		return is_digit(*rest) ? hs_fail_hint(error, "write a number without spaces inside") : false;
	}
	*out = read;
	if (step)
		*step = weight;
	return true;
}

bool hs_quantity_read(const char *text, hs_unit bare, hs_quantity *out, hs_error *error)
{
	return hs_quantity_read_step(text, bare, out, NULL, error);
}
