#include "halfsplit/quantity/quantity.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/number.h"
#include "spell.h"

/* Bytes of text that the words take (a blank stands for white space), or 0; case does not count. */
static size_t match_words(const char *text, const char *words)
{
	const char *at = text;
	for (; *words; words++) {
		char letter[2] = {*at, '\0'}, want[2] = {*words, '\0'};
		if (*words == ' ' && hs_spell_spaces(at) > 0)
			at += hs_spell_spaces(at);
		else if (*at && hs_same_word(letter, want))
			at++;
		else
			return 0;
	}
	return (size_t)(at - text);
}

static bool is_one_of(const char *text, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		size_t length = match_words(text, words[i]);
		if (length > 0 && text[length + hs_spell_spaces(text + length)] == '\0')
			return true;
	}
	return false;
}

/* "not read: REASON", "cannot REASON". */
static bool read_unread(const char *text, hs_entry *out)
{
	static const char *const words[] = {"not read", "unread", "n/a", "cannot"};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
		size_t length = match_words(text, words[i]);
		if (length == 0 || hs_spell_word(text + length) > 0)
			continue;
		const char *rest = text + length + hs_spell_spaces(text + length);
		if (*rest == ':')
			rest++;
		else if (*rest && rest == text + length)
			continue;
		char *reason = hs_strdup(rest);
		*out = (hs_entry){.kind = HS_ENTRY_UNREAD};
		hs_copy(out->reason, sizeof out->reason, hs_trim(reason));
		free(reason);
		return true;
	}
	return false;
}

/* "a voltage", "an inductance". */
static const char *article(hs_unit unit)
{
	return strchr("aeiou", *hs_dimension_name(hs_unit_dimension(unit))) ? "an" : "a";
}

static bool check_dimension(const char *text, hs_unit typed, hs_unit shown, hs_error *error)
{
	hs_dimension is = hs_unit_dimension(typed), want = hs_unit_dimension(shown);
	if (shown == HS_UNIT_COUNT || is == want)
		return true;
	hs_fail(error, HS_BAD_INPUT, "\"%s\" is %s %s, and %s %s was wanted", hs_spell_quote(text, strlen(text)).text,
	        article(typed), hs_dimension_name(is), article(shown), hs_dimension_name(want));
	const char *name = hs_unit_name(shown);
	return *name ? hs_fail_hint(error, "give it in %s", name) : hs_fail_hint(error, "give the number alone");
}

/* Words a meter or a technician gives in place of a number. Returns true with out->kind set to what was found. */
static bool read_word(const char *text, hs_entry *out)
{
	static const char *const over[] = {"OL", "O.L", "O.L.", "over", "overload"};
	static const char *const open[] = {"open", "O/C"};
	*out = (hs_entry){.kind = HS_ENTRY_NUMBER};
	if (is_one_of(text, over, sizeof over / sizeof *over))
		out->kind = HS_ENTRY_OVER;
	else if (is_one_of(text, open, sizeof open / sizeof *open))
		out->kind = HS_ENTRY_OPEN;
	else
		return read_unread(text, out);
	return true;
}

bool hs_entry_read(const char *text, hs_unit shown, hs_entry *out, hs_error *error)
{
	hs_entry entry;
	text += hs_spell_spaces(text);
	if (read_word(text, &entry)) {
		if (entry.kind == HS_ENTRY_OPEN && shown != HS_OHM && shown != HS_UNIT_COUNT) {
			const char *want = hs_dimension_name(hs_unit_dimension(shown));
			hs_fail(error, HS_BAD_INPUT, "\"open\" is a reading of resistance, and %s %s was wanted",
			        article(shown), want);
			return hs_fail_hint(error, "for a reading that cannot be taken, write: not read, and why");
		}
		*out = entry;
		return true;
	}
	const char *number = text;
	if (*text == '>' || *text == '<') {
		entry.kind = *text == '>' ? HS_ENTRY_ABOVE : HS_ENTRY_BELOW;
		number++;
	}
	double step = 0;
	if (!hs_quantity_read_step(number, shown, &entry.quantity, &step, error) ||
	    !check_dimension(text, entry.quantity.unit, shown, error))
		return false;
	if (entry.kind == HS_ENTRY_NUMBER)
		entry.step = step;
	*out = entry;
	return true;
}

/* Bytes of the plus-or-minus sign at the start of text, or 0. */
static size_t plus_minus(const char *text)
{
	static const char *const signs[] = {"+/-", "\xC2\xB1", "+-", "+/\xE2\x88\x92", "+\xE2\x88\x92"};
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (strncmp(text, signs[i], strlen(signs[i])) == 0)
			return strlen(signs[i]);
	return 0;
}

/* The tolerance as typed becomes one in the unit of the nominal value. */
static bool convert_tolerance(hs_quantity nominal, hs_quantity typed, double *tolerance, hs_error *error)
{
	bool decibels = hs_unit_is_level(nominal.unit) || nominal.unit == HS_DB;
	if (typed.value < 0)
		return hs_fail(error, HS_BAD_INPUT, "the tolerance is below 0, and its size was wanted");
	*tolerance = typed.value;
	if (typed.unit == nominal.unit || (decibels && typed.unit == HS_DB))
		return true;
	if (typed.unit == HS_PERCENT && !decibels && nominal.unit != HS_DEGC) {
		*tolerance = fabs(nominal.value) * typed.value / 100;
		return true;
	}
	const char *want = decibels ? "dB" : hs_unit_name(nominal.unit);
	return hs_fail(error, HS_BAD_INPUT, "the tolerance is in %s, and %s%s was wanted", hs_unit_name(typed.unit),
	               *want ? want : "a plain number", decibels || nominal.unit == HS_DEGC ? "" : " or %");
}

/*
 * The unit of a tolerance that is typed without one. Behind a nominal value with a prefix ("2.2 kohm +/- 0.1") it would
 * be anybody's guess, so there it must be typed.
 */
static hs_unit tolerance_unit(const char *text, size_t used, hs_unit unit)
{
	double value;
	size_t number = 0;
	hs_unit spelt;
	int exponent = 1;
	if (hs_number_scan(text, &value, &number, NULL) && number == used)
		return unit;
	hs_spell_match(text + number + hs_spell_spaces(text + number), &spelt, &exponent);
	return exponent == 0 ? unit : HS_UNIT_COUNT;
}

bool hs_toleranced_read(const char *text, hs_unit bare, hs_quantity *nominal, double *tolerance, hs_error *error)
{
	hs_quantity middle, around;
	double read = 0;
	size_t used;
	text += hs_spell_spaces(text);
	if (!hs_quantity_scan(text, bare, &middle, NULL, &used, error))
		return false;
	const char *rest = text + used + hs_spell_spaces(text + used);
	size_t sign = plus_minus(rest);
	if (*rest && !sign) {
		hs_fail(error, HS_BAD_INPUT, "after \"%s\" there is \"%s\", and +/- with a tolerance was wanted",
		        hs_spell_quote(text, used).text, hs_spell_quote(rest, strlen(rest)).text);
		return hs_fail_hint(error, "write it like 14 dB +/- 1 dB");
	}
	if (sign && (!hs_quantity_read(rest + sign, tolerance_unit(text, used, middle.unit), &around, error) ||
	             !convert_tolerance(middle, around, &read, error)))
		return false;
	*nominal = middle;
	*tolerance = read;
	return true;
}
