#include "halfsplit/quantity/quantity.h"

#include <string.h>
#include "spell.h"

static const struct {
	const char *name;
	hs_dimension dimension;
	bool level;
} units[HS_UNIT_COUNT] = {
	[HS_UNITLESS] = {"", HS_DIM_NONE, false},     [HS_DBM] = {"dBm", HS_DIM_POWER, true},
	[HS_DBW] = {"dBW", HS_DIM_POWER, true},       [HS_WATT] = {"W", HS_DIM_POWER, false},
	[HS_VOLT] = {"V", HS_DIM_VOLTAGE, false},     [HS_VPK] = {"Vpk", HS_DIM_VOLTAGE, false},
	[HS_VPP] = {"Vpp", HS_DIM_VOLTAGE, false},    [HS_DBV] = {"dBV", HS_DIM_VOLTAGE, true},
	[HS_DBU] = {"dBu", HS_DIM_VOLTAGE, true},     [HS_DBUV] = {"dBuV", HS_DIM_VOLTAGE, true},
	[HS_DBMV] = {"dBmV", HS_DIM_VOLTAGE, true},   [HS_AMP] = {"A", HS_DIM_CURRENT, false},
	[HS_OHM] = {"ohm", HS_DIM_RESISTANCE, false}, [HS_HERTZ] = {"Hz", HS_DIM_FREQUENCY, false},
	[HS_SECOND] = {"s", HS_DIM_TIME, false},      [HS_FARAD] = {"F", HS_DIM_CAPACITANCE, false},
	[HS_HENRY] = {"H", HS_DIM_INDUCTANCE, false}, [HS_DEGC] = {"degC", HS_DIM_TEMPERATURE, false},
	[HS_PERCENT] = {"%", HS_DIM_PERCENT, false},  [HS_DB] = {"dB", HS_DIM_DECIBEL, false},
	[HS_SWR] = {"SWR", HS_DIM_SWR, false},        [HS_METRE] = {"m", HS_DIM_LENGTH, false},
	[HS_JOULE] = {"J", HS_DIM_ENERGY, false},     [HS_NEWTON_METRE] = {"N m", HS_DIM_TORQUE, false},
	[HS_GRAM] = {"g", HS_DIM_MASS, false},
};

const char *hs_unit_name(hs_unit unit)
{
	return (unsigned)unit < HS_UNIT_COUNT ? units[unit].name : "?";
}

hs_dimension hs_unit_dimension(hs_unit unit)
{
	return (unsigned)unit < HS_UNIT_COUNT ? units[unit].dimension : HS_DIM_NONE;
}

bool hs_unit_is_level(hs_unit unit)
{
	return (unsigned)unit < HS_UNIT_COUNT && units[unit].level;
}

const char *hs_dimension_name(hs_dimension dimension)
{
	static const char *const names[] = {
		[HS_DIM_NONE] = "plain number",
		[HS_DIM_POWER] = "power",
		[HS_DIM_VOLTAGE] = "voltage",
		[HS_DIM_CURRENT] = "current",
		[HS_DIM_RESISTANCE] = "resistance",
		[HS_DIM_FREQUENCY] = "frequency",
		[HS_DIM_TIME] = "time",
		[HS_DIM_CAPACITANCE] = "capacitance",
		[HS_DIM_INDUCTANCE] = "inductance",
		[HS_DIM_TEMPERATURE] = "temperature",
		[HS_DIM_PERCENT] = "percentage",
		[HS_DIM_DECIBEL] = "ratio in decibels",
		[HS_DIM_SWR] = "standing wave ratio",
		[HS_DIM_LENGTH] = "length",
		[HS_DIM_ENERGY] = "energy",
		[HS_DIM_TORQUE] = "torque",
		[HS_DIM_MASS] = "mass",
	};
	return (unsigned)dimension < sizeof names / sizeof *names ? names[dimension] : "?";
}

/* A blank in a spelling stands for any white space or none. */
typedef struct spelling {
	char text[10]; /* in place: a number with a unit is read hundreds of times before a run begins */
	hs_unit unit;
	bool prefix;   /* takes SI prefixes */
	bool any_case; /* no other meaning is near when its case is wrong; S, H, G and M have one */
} spelling;

static const spelling spellings[] = {
	{"dBm", HS_DBM, false, true},
	{"dBW", HS_DBW, false, true},
	{"dBV", HS_DBV, false, true},
	{"dBu", HS_DBU, false, true},
	{"dBuV", HS_DBUV, false, true},
	{"dB\xC2\xB5V", HS_DBUV, false, true},
	{"dB\xCE\xBCV", HS_DBUV, false, true},
	{"dBmV", HS_DBMV, false, true},
	{"dB", HS_DB, false, true},
	{"W", HS_WATT, true, true},
	{"watt", HS_WATT, true, true},
	{"watts", HS_WATT, true, true},
	{"V", HS_VOLT, true, true},
	{"volt", HS_VOLT, true, true},
	{"volts", HS_VOLT, true, true},
	{"V rms", HS_VOLT, true, true},
	{"V DC", HS_VOLT, true, true},
	{"V AC", HS_VOLT, true, true},
	{"V pk", HS_VPK, true, true},
	{"V p", HS_VPK, true, true},
	{"V peak", HS_VPK, true, true},
	{"V pp", HS_VPP, true, true},
	{"V p-p", HS_VPP, true, true},
	{"V pk-pk", HS_VPP, true, true},
	{"A", HS_AMP, true, true},
	{"amp", HS_AMP, true, true},
	{"amps", HS_AMP, true, true},
	{"ohm", HS_OHM, true, true},
	{"ohms", HS_OHM, true, true},
	{"Ohm", HS_OHM, true, true},
	{"Ohms", HS_OHM, true, true},
	{"\xE2\x84\xA6", HS_OHM, true, false},
	{"\xCE\xA9", HS_OHM, true, false},
	{"R", HS_OHM, true, true},
	{"Hz", HS_HERTZ, true, true},
	{"hertz", HS_HERTZ, true, true},
	{"s", HS_SECOND, true, false},
	{"sec", HS_SECOND, false, true},
	{"second", HS_SECOND, false, true},
	{"seconds", HS_SECOND, false, true},
	{"F", HS_FARAD, true, true},
	{"farad", HS_FARAD, true, true},
	{"farads", HS_FARAD, true, true},
	{"H", HS_HENRY, true, false},
	{"henry", HS_HENRY, true, true},
	{"henries", HS_HENRY, true, true},
	{"degC", HS_DEGC, false, true},
	{"\xC2\xB0 C", HS_DEGC, false, false},
	{"%", HS_PERCENT, false, false},
	{"percent", HS_PERCENT, false, true},
	{"SWR", HS_SWR, false, true},
	{"VSWR", HS_SWR, false, true},
	{"m", HS_METRE, true, false},
	{"metre", HS_METRE, false, true},
	{"metres", HS_METRE, false, true},
	{"meter", HS_METRE, false, true},
	{"meters", HS_METRE, false, true},
	{"J", HS_JOULE, true, true},
	{"joule", HS_JOULE, true, true},
	{"joules", HS_JOULE, true, true},
	{"N m", HS_NEWTON_METRE, true, false},
	{"N\xC2\xB7m", HS_NEWTON_METRE, true, false},
	{"g", HS_GRAM, true, false},
	{"gram", HS_GRAM, false, true},
	{"grams", HS_GRAM, false, true},
};

static const struct prefix {
	const char *text;
	int exponent;
	bool ohm_only;
} prefixes[] = {
	{"", 0, false},          {"p", -12, false},       {"n", -9, false}, {"u", -6, false},
	{"\xC2\xB5", -6, false}, {"\xCE\xBC", -6, false}, {"m", -3, false}, {"k", 3, false},
	{"K", 3, true},          {"M", 6, false},         {"G", 9, false},  {"T", 12, false},
};

enum { SPELLINGS = sizeof spellings / sizeof *spellings, PREFIXES = sizeof prefixes / sizeof *prefixes };

size_t hs_spell_spaces(const char *text)
{
	size_t length = 0;
	for (;;) {
		if (text[length] == ' ' || text[length] == '\t')
			length++;
		else if (strncmp(text + length, "\xC2\xA0", 2) == 0)
			length += 2;
		else
			return length;
	}
}

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static char upper(char c)
{
	return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

static size_t word_char(const char *text)
{
	static const char *const signs[] = {"%", "\xC2\xB0", "\xC2\xB5", "\xCE\xBC", "\xCE\xA9", "\xE2\x84\xA6"};
	char c = lower(*text);
	if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_')
		return 1;
	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (strncmp(text, signs[i], strlen(signs[i])) == 0)
			return strlen(signs[i]);
	return 0;
}

size_t hs_spell_word(const char *text)
{
	size_t length = 0, more;
	while ((more = word_char(text + length)) > 0)
		length += more;
	return length;
}

/* Bytes of text that the name takes, or 0; *exact tells whether its case was right. */
static size_t match_name(const char *text, const char *name, bool *exact)
{
	const char *at = text;
	*exact = true;
	for (; *name; name++) {
		if (*name == ' ') {
			at += hs_spell_spaces(at);
			continue;
		}
		if (lower(*at) != lower(*name))
			return 0;
		*exact = *exact && *at == *name;
		at++;
	}
	return word_char(at) ? 0 : (size_t)(at - text);
}

/*
 * Of ohms and hertz both the thousandth and the million are in daily use. When all letters of such a unit are in one
 * case and that is not how it is spelt ("mhz", "MOHM"), it does not say which is meant.
 */
static bool is_unclear(const char *text, size_t length, hs_unit unit)
{
	bool upper_seen = false, lower_seen = false;
	if ((unit != HS_HERTZ && unit != HS_OHM) || (*text != 'm' && *text != 'M'))
		return false;
	for (size_t i = 0; i < length; i++) {
		upper_seen = upper_seen || (text[i] >= 'A' && text[i] <= 'Z');
		lower_seen = lower_seen || (text[i] >= 'a' && text[i] <= 'z');
	}
	return !(upper_seen && lower_seen);
}

size_t hs_spell_match(const char *text, hs_unit *unit, int *exponent)
{
	size_t best = 0;
	bool best_exact = false;
	if (!word_char(text))
		return 0;
	for (size_t p = 0; p < PREFIXES; p++) {
		size_t skip = strlen(prefixes[p].text);
		if (skip && (*text != prefixes[p].text[0] || strncmp(text, prefixes[p].text, skip) != 0))
			continue;
		char first = lower(text[skip]), capital = upper(first);
		for (size_t s = 0; s < SPELLINGS; s++) {
			const spelling *try = &spellings[s];
			bool exact;
			if ((first != try->text[0] && capital != try->text[0]) || (skip && !try->prefix) ||
			    (prefixes[p].ohm_only && try->unit != HS_OHM))
				continue;
			size_t name = match_name(text + skip, try->text, &exact), length = skip + name;
			if (name == 0 || (!exact && (!try->any_case || is_unclear(text, length, try->unit))))
				continue;
			if (length > best || (length == best && exact && !best_exact)) {
				best = length;
				best_exact = exact;
				*unit = try->unit;
				*exponent = prefixes[p].exponent;
			}
		}
	}
	return best;
}

void hs_spell_candidates(hs_buf *out, const char *word, size_t length)
{
	size_t begun = out->length;
	for (size_t p = 0; p < PREFIXES; p++) {
		size_t skip = strlen(prefixes[p].text);
		if (skip > 1 || skip >= length || prefixes[p].ohm_only ||
		    (skip && lower(*word) != lower(*prefixes[p].text)))
			continue;
		for (size_t s = 0; s < SPELLINGS; s++) {
			bool exact;
			if ((skip && !spellings[s].prefix) ||
			    match_name(word + skip, spellings[s].text, &exact) != length - skip)
				continue;
			if (out->length > begun)
				hs_buf_str(out, " or ");
			hs_buf_str(out, prefixes[p].text);
			hs_buf_str(out, hs_unit_name(spellings[s].unit));
			break;
		}
	}
}

bool hs_unit_find(const char *name, hs_unit *unit)
{
	bool exact;
	for (size_t s = 0; s < SPELLINGS; s++) {
		size_t length = match_name(name, spellings[s].text, &exact);
		if (length > 0 && exact && name[length] == '\0') {
			*unit = spellings[s].unit;
			return true;
		}
	}
	if (*name)
		return false;
	*unit = HS_UNITLESS;
	return true;
}
