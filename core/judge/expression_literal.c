/* The small pieces of an expression: words, signs, quantities, and the units and amounts behind a preposition. */
#include <math.h>
#include <string.h>
#include "expression_parts.h"
#include "halfsplit/base/number.h"
#include "halfsplit/quantity/demand.h"

#define KELVIN_AT_0_CELSIUS 273.15

/* Words that may stand behind a plain number; anything else there has to be its unit. */
static const char *const joints[] = {"in",      "as",       "to",    "at",      "and",  "less", "near",
                                     "through", "behind",   "into",  "over",    "with", "from", "across",
                                     "square",  "sine",     "plus",  "minus",   "of",   "x",    "times",
                                     "wave",    "triangle", "pulse", "parallel"};
#define JOINTS (sizeof(joints) / sizeof(joints[0]))

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

void hs_skip_spaces(hs_working *w)
{
	for (;;) {
		if (*w->at == ' ' || *w->at == '\t')
			w->at++;
		else if (strncmp(w->at, "\xC2\xA0", 2) == 0)
			w->at += 2;
		else
			return;
	}
}

static size_t word_length(const char *text)
{
	size_t length = 0;
	while (is_letter(text[length]) || (length && is_digit(text[length])))
		length++;
	return length;
}

static bool is_word(const char *text, size_t length, const char *word)
{
	char copy[24];
	if (length == 0 || length >= sizeof copy)
		return false;
	memcpy(copy, text, length);
	copy[length] = '\0';
	return hs_same_word(copy, word);
}

bool hs_word_next(const hs_working *w, const char *word)
{
	return is_word(w->at, word_length(w->at), word);
}

bool hs_word_take(hs_working *w, const char *word)
{
	if (!hs_word_next(w, word))
		return false;
	w->at += strlen(word);
	hs_skip_spaces(w);
	return true;
}

bool hs_words_take(hs_working *w, const char *first, const char *second)
{
	const char *begun = w->at;
	if (hs_word_take(w, first) && hs_word_take(w, second))
		return true;
	w->at = begun;
	return false;
}

bool hs_sign_take(hs_working *w, const char *sign)
{
	if (strncmp(w->at, sign, strlen(sign)) != 0)
		return false;
	w->at += strlen(sign);
	hs_skip_spaces(w);
	return true;
}

bool hs_found_instead(hs_working *w, const char *wanted)
{
	char rest[48];
	hs_copy(rest, sizeof rest - 4, w->at);
	if (strlen(w->at) > strlen(rest))
		strcat(rest, "...");
	if (!*w->at)
		return hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT, "the expression ends where %s was wanted",
		               wanted);
	return hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT, "\"%s\" stands where %s was wanted", rest, wanted);
}

/* Bytes of a sign in front of a number. */
static size_t sign_length(const char *text)
{
	if (strncmp(text, "\xE2\x88\x92", 3) == 0)
		return 3;
	return *text == '-' || *text == '+';
}

static bool digits_next(const char *text)
{
	return is_digit(*text) || (*text == '.' && is_digit(text[1]));
}

bool hs_literal_next(const hs_working *w)
{
	return digits_next(w->at + sign_length(w->at));
}

/* What hs_quantity_scan has against a text: the number (syntax, range) or what stands behind it (unit)? */
static hs_fault fault_of(const char *text)
{
	double value;
	size_t used;
	hs_quantity one;
	char plain[48] = "1 ";
	if (!hs_number_scan(text, &value, &used, NULL))
		return HS_FAULT_RANGE;
	const char *behind = text + used;
	if (*behind == ',' || ((*behind == 'x' || *behind == 'X') && is_digit(behind[1])))
		return HS_FAULT_SYNTAX;
	hs_copy(plain + 2, sizeof plain - 2, behind + strspn(behind, " \t"));
	return hs_quantity_scan(plain, HS_UNITLESS, &one, NULL, &used, NULL) ? HS_FAULT_RANGE : HS_FAULT_UNIT;
}

/* A number behind which another part of the expression begins instead of a unit. */
static bool is_bare(const char *text, size_t *used)
{
	double value;
	if (!hs_number_scan(text, &value, used, NULL))
		return false;
	const char *word = text + *used;
	while (*word == ' ' || *word == '\t')
		word++;
	size_t length = word_length(word);
	for (size_t i = 0; i < JOINTS; i++)
		if (is_word(word, length, joints[i]))
			return word > text + *used;
	return false;
}

/* "dBm/Hz", once dBm is read. */
static bool density_taken(hs_working *w, hs_figure *figure)
{
	const char *begun = w->at;
	hs_skip_spaces(w);
	if (figure->is.unit == HS_DBM && hs_sign_take(w, "/") && hs_word_take(w, "Hz")) {
		figure->sense = HS_SENSE_DENSITY;
		return true;
	}
	w->at = begun;
	return false;
}

/* "-60 dBc": decibels, whose carrier is said behind them. */
static bool dbc_taken(hs_working *w, hs_figure *out)
{
	double value;
	size_t used;
	const char *begun = w->at;
	if (!hs_number_scan(w->at, &value, &used, NULL))
		return false;
	w->at += used;
	hs_skip_spaces(w);
	if (hs_word_take(w, "dBc") && *w->at != '/') {
		*out = hs_figure_of(value, HS_DB);
		hs_copy(out->shown, sizeof out->shown, "dBc");
		return true;
	}
	w->at = begun;
	return false;
}

/* "+ 10 dB gain", "- 3 dB pad": what people say behind decibels, and the sign has said already. */
static void skip_device(hs_working *w)
{
	static const char *const words[] = {"cable", "pad",  "attenuator", "attenuation", "amplifier",
	                                    "gain",  "loss", "coupler",    "filter"};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (hs_word_take(w, words[i]))
			i = (size_t)-1;
}

bool hs_literal_read(hs_working *w, hs_figure *out)
{
	if (dbc_taken(w, out))
		return hs_finish(w, out);
	const char *text = w->at;
	size_t used, sign = sign_length(text);
	hs_quantity quantity = {0};
	bool bare = is_bare(text, &used);
	if (bare) {
		hs_number_scan(text, &quantity.value, &used, NULL);
	} else {
		/* Only "2k2" is a resistance without saying so. */
		size_t digits = sign + strspn(text + sign, "0123456789");
		bool code = text[digits] && strchr("RkKMG", text[digits]) && is_digit(text[digits + 1]);
		if (!hs_quantity_scan(text, code ? HS_UNIT_COUNT : HS_UNITLESS, &quantity, NULL, &used,
		                      hs_blame(w, fault_of(text))))
			return false;
	}
	w->at += used;
	*out = hs_figure_of(quantity.value, quantity.unit);
	if (!density_taken(w, out))
		hs_skip_spaces(w);
	if (quantity.unit == HS_DB && hs_words_take(w, "return", "loss"))
		out->sense = HS_SENSE_RETURN_LOSS;
	else if (quantity.unit == HS_DB && hs_words_take(w, "mismatch", "loss"))
		out->sense = HS_SENSE_MISMATCH_LOSS;
	else if (quantity.unit == HS_DB)
		skip_device(w);
	else if (hs_unit_dimension(quantity.unit) == HS_DIM_VOLTAGE && hs_word_take(w, "emf"))
		out->sense = HS_SENSE_EMF;
	else if (hs_unit_dimension(quantity.unit) == HS_DIM_VOLTAGE && hs_word_take(w, "pd"))
		out->sense = HS_SENSE_PD;
	return hs_finish(w, out);
}

static void name_prefixed(hs_target *target)
{
	static const struct {
		double scale;
		const char *text;
	} prefixes[] = {{1e-12, "p"}, {1e-9, "n"}, {1e-6, "u"}, {1e-3, "m"}, {1, ""},
	                {1e3, "k"},   {1e6, "M"},  {1e9, "G"},  {1e12, "T"}};
	const char *unit = hs_unit_name(target->unit);
	hs_buf text;
	hs_buf_init(&text);
	if (target->unit == HS_SECOND && target->scale >= 60) {
		hs_buf_str(&text, target->scale == 60 ? "min" : "h");
	} else {
		for (size_t i = 0; i < sizeof prefixes / sizeof *prefixes; i++)
			if (fabs(target->scale / prefixes[i].scale - 1) < 1e-9)
				hs_buf_printf(&text, "%s%s", prefixes[i].text, unit);
	}
	hs_copy(target->shown, sizeof target->shown, text.data);
	hs_buf_free(&text);
}

static bool unit_read(hs_working *w, hs_target *out)
{
	char plain[48] = "1 ";
	hs_quantity one;
	size_t used;
	hs_copy(plain + 2, sizeof plain - 2, w->at);
	if (!is_letter(*w->at) && *w->at != '%' && (signed char)*w->at >= 0)
		return hs_found_instead(w, "a unit or a name such as \"return loss\"");
	if (!hs_quantity_scan(plain, HS_UNIT_COUNT, &one, NULL, &used, hs_blame(w, HS_FAULT_UNIT))) {
		/* The sentence is of a whole quantity, and only the unit was written here. */
		char hint[sizeof w->error->hint], word[32];
		size_t length = strcspn(w->at, " \t()");
		hs_copy(hint, sizeof hint, w->error->hint);
		hs_copy(word, length + 1 < sizeof word ? length + 1 : sizeof word, w->at);
		hs_fail(w->error, HS_BAD_INPUT, "\"%s\" is no unit and no name that is known here", word);
		return hs_fail_hint(w->error, "%s", hint);
	}
	w->at += used - 2;
	*out = (hs_target){one.unit, HS_SENSE_PLAIN, one.value, ""};
	hs_figure figure = hs_figure_of(1, one.unit);
	if (density_taken(w, &figure)) {
		out->sense = HS_SENSE_DENSITY;
		hs_copy(out->shown, sizeof out->shown, "dBm/Hz");
	} else {
		name_prefixed(out);
	}
	hs_skip_spaces(w);
	if (hs_unit_dimension(one.unit) == HS_DIM_VOLTAGE && hs_word_take(w, "emf"))
		out->sense = HS_SENSE_EMF;
	else if (hs_unit_dimension(one.unit) == HS_DIM_VOLTAGE && hs_word_take(w, "pd"))
		out->sense = HS_SENSE_PD;
	return true;
}

bool hs_target_read(hs_working *w, hs_target *out)
{
	static const struct {
		const char *first, *second;
		hs_unit unit;
		hs_sense sense;
	} names[] = {
	    {"return", "loss", HS_DB, HS_SENSE_RETURN_LOSS},
	    {"rl", NULL, HS_DB, HS_SENSE_RETURN_LOSS},
	    {"mismatch", "loss", HS_DB, HS_SENSE_MISMATCH_LOSS},
	    {"gamma", NULL, HS_UNITLESS, HS_SENSE_GAMMA},
	    {"rho", NULL, HS_UNITLESS, HS_SENSE_GAMMA},
	    {"swr", NULL, HS_SWR, HS_SENSE_PLAIN},
	    {"vswr", NULL, HS_SWR, HS_SENSE_PLAIN},
	    {"emf", NULL, HS_VOLT, HS_SENSE_EMF},
	    {"pd", NULL, HS_VOLT, HS_SENSE_PD},
	    {"power", "ratio", HS_UNITLESS, HS_SENSE_POWER_RATIO},
	    {"ratio", NULL, HS_UNITLESS, HS_SENSE_POWER_RATIO},
	    {"voltage", "ratio", HS_UNITLESS, HS_SENSE_VOLTAGE_RATIO},
	    {"power", NULL, HS_WATT, HS_SENSE_PLAIN},
	    {"voltage", NULL, HS_VOLT, HS_SENSE_PLAIN},
	    {"current", NULL, HS_AMP, HS_SENSE_PLAIN},
	};
	hs_working before = *w;
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		if (names[i].second ? hs_words_take(w, names[i].first, names[i].second)
		                    : hs_word_take(w, names[i].first)) {
			*out = (hs_target){names[i].unit, names[i].sense, 1, ""};
			return true;
		}
		w->at = before.at;
	}
	return unit_read(w, out);
}

/* "90 deg", "300 K", which are units nowhere else. */
static bool angle_or_kelvin(hs_working *w, double *value, bool *kelvin)
{
	const char *begun = w->at;
	size_t used;
	if (!hs_number_scan(w->at, value, &used, NULL))
		return false;
	w->at += used;
	hs_skip_spaces(w);
	*kelvin = hs_word_take(w, "K") || hs_word_take(w, "kelvin");
	if (*kelvin || hs_word_take(w, "deg") || hs_word_take(w, "degrees") || hs_word_take(w, "degree"))
		return true;
	if (hs_sign_take(w, "\xC2\xB0") && !hs_word_next(w, "C"))
		return true;
	w->at = begun;
	return false;
}

static bool twice(hs_working *w, const char *what)
{
	return hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT, "%s is given twice", what);
}

static bool turn_operand(hs_working *w, hs_phrase *phrase, double degrees)
{
	hs_saying *last = phrase->sayings;
	while (last && last->next)
		last = last->next;
	if (last && last->turn != HS_TURN_AND) {
		hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT, "an angle stands behind something that has none");
		return hs_fail_hint(w->error, "write it like 3 dBm and 3 dBm at 90 deg");
	}
	double *angle = last ? &last->degrees : &phrase->degrees;
	bool *has = last ? &last->has_degrees : &phrase->has_degrees;
	if (*has)
		return twice(w, "the angle");
	*angle = degrees;
	*has = true;
	return true;
}

static bool take_kelvin(hs_working *w, hs_terms *terms, double kelvin)
{
	if (terms->has_kelvin)
		return twice(w, "the temperature");
	terms->kelvin = kelvin;
	terms->has_kelvin = true;
	return true;
}

static bool take_ohm(hs_working *w, hs_terms *terms, const char *word, double ohm)
{
	bool source = hs_same_word(word, "from");
	if (source ? terms->has_source : terms->has_ohm)
		return twice(w, source ? "the resistance of the source" : "the impedance");
	if (!(ohm > 0))
		return hs_fail(hs_blame(w, HS_FAULT_IMPEDANCE), HS_BAD_INPUT,
		               "an impedance of %s ohm was given, and one above 0 ohm is wanted",
		               hs_brief_of(ohm).text);
	*(source ? &terms->source_ohm : &terms->ohm) = ohm;
	*(source ? &terms->has_source : &terms->has_ohm) = true;
	w->said_ohm = w->said_ohm || !source;
	terms->into =
	    terms->into || hs_same_word(word, "into") || hs_same_word(word, "over") || hs_same_word(word, "across");
	return true;
}

static bool take_hertz(hs_working *w, hs_terms *terms, const char *word, double hertz)
{
	if (!hs_want_above(hs_same_word(word, "at") ? "the frequency" : "the bandwidth", hertz, 0, HS_HERTZ,
	                   hs_blame(w, HS_FAULT_DOMAIN)))
		return false;
	if (hs_same_word(word, "at")) {
		if (terms->freq_hz > 0)
			return twice(w, "the frequency");
		terms->freq_hz = hertz;
		return true;
	}
	if (terms->band_count == 2)
		return hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT,
		               "a third bandwidth is given, and at most two are wanted");
	terms->bands[terms->band_count++] = hertz;
	return true;
}

static bool take_decibels(hs_working *w, hs_terms *terms, double db)
{
	if (terms->has_nf)
		return twice(w, "the noise figure");
	terms->nf_db = db;
	terms->has_nf = true;
	if (!hs_words_take(w, "noise", "figure"))
		hs_word_take(w, "nf");
	return true;
}

bool hs_amount_read(hs_working *w, const char *word, hs_phrase *phrase)
{
	double value;
	bool kelvin, at = hs_same_word(word, "at"), source = hs_same_word(word, "from");
	hs_figure amount;
	if (at && angle_or_kelvin(w, &value, &kelvin))
		return kelvin ? take_kelvin(w, &phrase->terms, value) : turn_operand(w, phrase, value);
	if (!hs_literal_read(w, &amount))
		return false;
	hs_dimension found = hs_unit_dimension(amount.is.unit);
	bool plain = hs_same_word(word, "in") || hs_same_word(word, "with");
	if (found == HS_DIM_RESISTANCE)
		return take_ohm(w, &phrase->terms, word, amount.is.value);
	if (found == HS_DIM_FREQUENCY && (at || plain))
		return take_hertz(w, &phrase->terms, word, amount.is.value);
	if (found == HS_DIM_TEMPERATURE && at)
		return take_kelvin(w, &phrase->terms, amount.is.value + KELVIN_AT_0_CELSIUS);
	if (found == HS_DIM_DECIBEL && hs_same_word(word, "with"))
		return take_decibels(w, &phrase->terms, amount.is.value);
	hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "\"%s\" is followed by %s, and %s was wanted", word,
	        hs_figure_said(&amount).text,
	        at       ? "an impedance, a frequency, an angle or a temperature"
	        : source ? "a resistance in ohm"
	        : plain  ? "an impedance, a bandwidth or a noise figure"
	                 : "an impedance in ohm");
	if (amount.is.unit == HS_UNITLESS)
		hs_fail_hint(w->error, "say the unit, such as %s %s ohm", word, hs_brief_of(amount.is.value).text);
	return false;
}
