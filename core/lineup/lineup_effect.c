/* What a fault does to an element. */
#include <math.h>
#include <string.h>
#include "halfsplit/lineup/lineup.h"

#define TURN 6.283185307179586477

double hs_effect_loss(const hs_effect *effect, double impedance_ohm, double freq_hz)
{
	double z0 = impedance_ohm > 0 ? impedance_ohm : 0;
	switch (effect->kind) {
	case HS_EFFECT_OPEN: {
		double reactance = 1 / (TURN * freq_hz * effect->value);
		return freq_hz > 0 && z0 > 0 && effect->value > 0 ? 10 * log10(1 + pow(reactance / (2 * z0), 2)) : INFINITY;
	}
	case HS_EFFECT_SERIES:
		return z0 > 0 ? 10 * log10(1 + pow(TURN * freq_hz * effect->value / (2 * z0), 2)) : 0;
	case HS_EFFECT_RESISTIVE:
		return z0 > 0 ? 20 * log10(1 + effect->value / (2 * z0)) : 0;
	case HS_EFFECT_LEAKY:
	case HS_EFFECT_SHORT:
		if (!(effect->value > 0))
			return INFINITY;
		return z0 > 0 ? 20 * log10(1 + z0 / (2 * effect->value)) : effect->kind == HS_EFFECT_SHORT ? INFINITY : 0;
	default:
		return 0;
	}
}

typedef struct effect_word {
	const char *word;
	hs_effect_kind kind;
	hs_unit unit;     /* of the value behind it; HS_UNIT_COUNT: takes none */
	bool must;        /* it means nothing without */
	double otherwise; /* the value it has without */
	const char *example;
} effect_word;

static const effect_word words[] = {
    {"dead", HS_EFFECT_DEAD, HS_UNIT_COUNT, false, 0, "dead"},
    {"missing", HS_EFFECT_DEAD, HS_UNIT_COUNT, false, 0, "missing"},
    {"gain", HS_EFFECT_GAIN, HS_DB, true, 0, "gain -6 dB"},
    {"low", HS_EFFECT_GAIN, HS_PERCENT, true, 0, "low 20 %"},
    {"drift", HS_EFFECT_DRIFT, HS_DB, true, 0, "drift -4 dB in 15 min"},
    {"open", HS_EFFECT_OPEN, HS_FARAD, false, HS_STRAY_FARAD, "open 0.1 pF"},
    {"poor ground", HS_EFFECT_SERIES, HS_HENRY, false, HS_SERIES_HENRY, "poor ground 10 nH"},
    {"series", HS_EFFECT_SERIES, HS_HENRY, true, 0, "series 10 nH"},
    {"resistive", HS_EFFECT_RESISTIVE, HS_OHM, true, 0, "resistive 20 ohm"},
    {"leaky", HS_EFFECT_LEAKY, HS_OHM, true, 0, "leaky 100 ohm"},
    {"short", HS_EFFECT_SHORT, HS_OHM, false, HS_SHORT_OHM, "short 0.5 ohm"},
    {"no lock", HS_EFFECT_NO_LOCK, HS_UNIT_COUNT, false, 0, "no lock"},
    {"lost", HS_EFFECT_LOST, HS_UNIT_COUNT, false, 0, "lost"},
    {"held", HS_EFFECT_HELD, HS_UNIT_COUNT, false, 0, "held"},
};
enum { WORDS = sizeof words / sizeof *words };

/* "-4 dB in 15 min": what is in front of " in " stays in `amount`. */
static bool read_warming(const char *rest, char amount[64], double *minutes, hs_error *error)
{
	hs_quantity time;
	const char *in = strstr(rest, " in ");
	size_t length = in != NULL ? (size_t)(in - rest) : strlen(rest);
	*minutes = HS_WARM_MINUTES;
	length = length < 63 ? length : 63;
	memcpy(amount, rest, length);
	amount[length] = '\0';
	if (in == NULL)
		return true;
	if (!hs_quantity_read(in + 4, HS_UNIT_COUNT, &time, error))
		return false;
	*minutes = time.value / 60;
	if (time.unit == HS_SECOND && time.value > 0)
		return true;
	hs_fail(error, HS_BAD_INPUT, "\"%.60s\" is no time for a drift", in + 4);
	return hs_fail_hint(error, "write it as in \"drift -4 dB in 15 min\"");
}

static bool read_value(const effect_word *word, const char *rest, hs_effect *out, hs_error *error)
{
	char amount[64];
	hs_quantity value;
	hs_effect found = {.kind = word->kind, .element = -1, .value = word->otherwise};
	if (*rest == '\0' && !word->must) {
		*out = found;
		return true;
	}
	if (word->unit == HS_UNIT_COUNT) {
		hs_fail(error, HS_BAD_INPUT, "\"%s\" stands alone, and \"%.60s\" comes after it", word->word, rest);
		return hs_fail_hint(error, "write it as in \"%s\"", word->example);
	}
	if (*rest == '\0') {
		hs_fail(error, HS_BAD_INPUT, "\"%s\" does not say by how much", word->word);
		return hs_fail_hint(error, "write it as in \"%s\"", word->example);
	}
	if (word->kind == HS_EFFECT_DRIFT) {
		if (!read_warming(rest, amount, &found.warm_minutes, error))
			return false;
		rest = amount;
	}
	if (!hs_quantity_read(rest, HS_UNIT_COUNT, &value, error))
		return false;
	bool all = word->unit == HS_PERCENT && !(value.value < 100);
	if (value.unit != word->unit || all || (word->unit != HS_DB && !(value.value > 0))) {
		hs_fail(error, HS_BAD_INPUT, "\"%.60s\" is no value for \"%s\"", rest, word->word);
		return hs_fail_hint(error, "write it as in \"%s\"", word->example);
	}
	found.value = word->unit == HS_PERCENT ? 20 * log10(1 - value.value / 100) : value.value;
	*out = found;
	return true;
}

bool hs_effect_read(const char *text, hs_effect *out, hs_error *error)
{
	for (size_t i = 0; i < WORDS; i++) {
		size_t length = strlen(words[i].word);
		if (strncmp(text, words[i].word, length) != 0 || (text[length] != '\0' && text[length] != ' '))
			continue;
		return read_value(&words[i], text + length + strspn(text + length, " "), out, error);
	}
	hs_fail(error, HS_BAD_INPUT, "\"%.80s\" is nothing a fault does", text);
	return hs_fail_hint(error, "it is one of dead, missing, gain -6 dB, low 20 %%, drift -4 dB in 15 min, open, poor ground, series 10 nH, resistive 20 ohm, leaky "
	                           "100 ohm, short, no lock, lost, held");
}

void hs_effect_print(hs_buf *out, const hs_effect *effect)
{
	if (effect->kind == HS_EFFECT_STUCK) {
		hs_buf_printf(out, "stuck in position %d", (int)effect->value);
		return;
	}
	for (size_t i = 0; i < WORDS; i++) {
		if (words[i].kind != effect->kind)
			continue;
		hs_buf_str(out, words[i].word);
		if (words[i].unit != HS_UNIT_COUNT) {
			hs_buf_char(out, ' ');
			hs_quantity_print(out, (hs_quantity){effect->value, words[i].unit}, -1);
		}
		if (effect->kind == HS_EFFECT_DRIFT && effect->warm_minutes > 0 && effect->warm_minutes != HS_WARM_MINUTES)
			hs_buf_printf(out, " in %g min", effect->warm_minutes);
		return;
	}
	hs_buf_str(out, "healthy");
}

/* True when this element acts on another: as its supply, its drive, its reference. */
static bool feeds_another(const hs_lineup *lineup, int at)
{
	for (size_t i = 0; i < lineup->count; i++) {
		const hs_element *other = &lineup->elements[i];
		bool feeds = other->from == at || other->lo == at || other->locks == at || other->supply == at || other->detector == at;
		for (int w = 0; !feeds && w < other->way_count; w++)
			feeds = other->ways[w] == at;
		if (feeds)
			return true;
	}
	return false;
}

bool hs_effect_matters(const hs_lineup *lineup, const hs_effect *effect)
{
	const hs_element *element = &lineup->elements[effect->element];
	bool source = element->kind == HS_ELEMENT_OSCILLATOR || element->kind == HS_ELEMENT_SUPPLY;
	switch (effect->kind) {
	case HS_EFFECT_NONE:
	case HS_EFFECT_KINDS:
		return false;
	case HS_EFFECT_GAIN:
	case HS_EFFECT_DRIFT:
		return effect->value != 0;
	case HS_EFFECT_STUCK:
		return element->kind == HS_ELEMENT_SWITCH && effect->value >= 1 && effect->value <= element->way_count;
	case HS_EFFECT_NO_LOCK:
		return element->kind == HS_ELEMENT_OSCILLATOR;
	case HS_EFFECT_LOST:
		return element->kind == HS_ELEMENT_LEVELLER || element->holds;
	case HS_EFFECT_HELD:
		return element->kind == HS_ELEMENT_LEVELLER && element->range_db > 0;
	case HS_EFFECT_SERIES:
	case HS_EFFECT_RESISTIVE:
	case HS_EFFECT_LEAKY:
		return element->impedance_ohm > 0;
	case HS_EFFECT_DEAD:
	case HS_EFFECT_OPEN:
	case HS_EFFECT_SHORT:
		return !source || feeds_another(lineup, effect->element);
	}
	return false;
}
