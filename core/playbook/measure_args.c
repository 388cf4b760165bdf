/* One argument of a measurement function: what it may be, and what it is told otherwise. */
#include "bind_measure.h"

#include <lauxlib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "halfsplit/quantity/demand.h"

enum { TEXT_MOST = 200, READ_CHARGE = 30 };

bool measure_given(lua_State *L, int index)
{
	return !lua_isnil(L, index);
}

static void refuse_kind(lua_State *L, int index, const char *what, const char *wanted)
{
	if (lua_isnil(L, index))
		measure_refuse(L, "%s is not given, and %s is wanted", what, wanted);
	else
		measure_refuse(L, "%s is %s, and %s is wanted", what, hs_type_words(lua_type(L, index)), wanted);
}

const char *measure_string(lua_State *L, int index, const char *what)
{
	size_t length;
	if (lua_type(L, index) != LUA_TSTRING)
		refuse_kind(L, index, what, "a text in quotes");
	const char *text = lua_tolstring(L, index, &length);
	if (length > TEXT_MOST)
		measure_refuse(L, "%s has %zu bytes, and at most %d are read", what, length, TEXT_MOST);
	if (strlen(text) != length)
		measure_refuse(L, "%s holds a NUL character", what);
	return text;
}

static hs_quantity read_text(lua_State *L, const char *text, const char *what, hs_unit bare)
{
	hs_error error = {0}, named = {.code = HS_BAD_INPUT};
	hs_quantity quantity = {0, HS_UNITLESS};
	hs_sandbox_charge(L, READ_CHARGE);
	if (hs_quantity_read(text, bare, &quantity, &error))
		return quantity;
	snprintf(named.message, sizeof named.message, "%s: %.400s", what, error.message);
	hs_copy(named.hint, sizeof named.hint, error.hint);
	measure_misuse(L, &named);
	return quantity;
}

hs_quantity measure_quantity(lua_State *L, int index, const char *what, hs_unit bare)
{
	hs_error error = {0};
	char wanted[80];
	hs_quantity quantity = {0, bare};
	const char *unit = bare < HS_UNIT_COUNT ? hs_unit_name(bare) : "";
	if (lua_type(L, index) == LUA_TSTRING)
		return read_text(L, measure_string(L, index, what), what, bare);
	if (lua_type(L, index) != LUA_TNUMBER) {
		snprintf(wanted, sizeof wanted, *unit ? "a number in %s or a text with its unit" : "a number", unit);
		refuse_kind(L, index, what, wanted);
	}
	quantity.value = lua_tonumber(L, index);
	if (bare == HS_UNIT_COUNT)
		measure_refuse(L, "%s is a number without a unit", what);
	if (!hs_want_finite(what, quantity.value, &error))
		measure_raise(L, &error);
	return quantity;
}

/* The same value in `unit`, which is of one dimension with it and wants no impedance. */
static double in_unit(lua_State *L, const char *what, hs_quantity from, hs_unit unit)
{
	hs_error error = {0};
	hs_quantity made = from;
	if (unit == HS_UNITLESS && from.unit == HS_PERCENT)
		return from.value / 100;
	if (from.unit != unit && (!hs_want_dimension(what, from, hs_unit_dimension(unit), &error) ||
	                          !hs_quantity_convert(from, unit, 0, &made, &error)))
		measure_misuse(L, &error);
	return made.value;
}

double measure_number(lua_State *L, int index, const char *what, hs_unit unit)
{
	return in_unit(L, what, measure_quantity(L, index, what, unit), unit);
}

double measure_number_or(lua_State *L, int index, const char *what, hs_unit unit, double otherwise)
{
	return measure_given(L, index) ? measure_number(L, index, what, unit) : otherwise;
}

/* Cuts `tail` off the end of a copy of the text; false when it does not end in it. */
static bool cut_tail(const char *text, const char *tail, char out[TEXT_MOST + 1])
{
	hs_copy(out, TEXT_MOST + 1, text);
	char *trimmed = hs_trim(out);
	memmove(out, trimmed, strlen(trimmed) + 1);
	size_t length = strlen(out), less = strlen(tail);
	if (length < less || strcmp(out + length - less, tail) != 0)
		return false;
	out[length - less] = '\0';
	return true;
}

double measure_kelvin_or(lua_State *L, int index, const char *what, double otherwise)
{
	char number[TEXT_MOST + 1];
	double kelvin;
	if (!measure_given(L, index))
		return otherwise;
	if (lua_type(L, index) != LUA_TSTRING)
		return measure_number(L, index, what, HS_UNITLESS);
	const char *text = measure_string(L, index, what);
	if (cut_tail(text, "K", number) && hs_number_read(hs_trim(number), &kelvin))
		return kelvin;
	if (hs_number_read(text, &kelvin))
		return kelvin;
	return measure_number(L, index, what, HS_DEGC) + 273.15;
}

double measure_density(lua_State *L, int index, const char *what)
{
	char level[TEXT_MOST + 1];
	if (lua_type(L, index) != LUA_TSTRING)
		return measure_number(L, index, what, HS_DBM);
	const char *text = measure_string(L, index, what);
	if (!cut_tail(text, "/Hz", level))
		hs_copy(level, sizeof level, text);
	return in_unit(L, what, read_text(L, level, what, HS_DBM), HS_DBM);
}

double measure_impedance(lua_State *L, int index)
{
	hs_error error = {0};
	if (!measure_given(L, index))
		return 0;
	double ohm = measure_number(L, index, "the impedance", HS_OHM);
	if (!hs_want_above("the impedance", ohm, 0, HS_OHM, &error))
		measure_raise(L, &error);
	return ohm;
}

int measure_whole(lua_State *L, int index, const char *what, int least, int most)
{
	double value = measure_number(L, index, what, HS_UNITLESS);
	if (value != floor(value))
		measure_refuse(L, "%s is %s, and a whole number is wanted", what, hs_brief_of(value).text);
	if (value < least || value > most)
		measure_refuse(L, "%s is %s; it must lie between %d and %d", what, hs_brief_of(value).text, least,
		               most);
	return (int)value;
}

hs_quantity measure_level(lua_State *L, int index, const char *what, hs_unit bare)
{
	hs_error error = {0};
	hs_quantity level = measure_quantity(L, index, what, bare);
	if (!hs_want_level(what, level, &error))
		measure_misuse(L, &error);
	return level;
}

double measure_scaled(lua_State *L, int index, const char *what, hs_unit *unit)
{
	hs_quantity found = measure_quantity(L, index, what, *unit == HS_UNIT_COUNT ? HS_UNITLESS : *unit);
	if (lua_type(L, index) != LUA_TSTRING)
		return found.value;
	if (hs_unit_is_level(found.unit) || found.unit == HS_DB) {
		hs_error error = {0};
		hs_fail(&error, HS_BAD_INPUT, "%s is in %s, and decibels do not scale", what, hs_unit_name(found.unit));
		hs_fail_hint(&error, "write it in V, A, W or ohm");
		measure_raise(L, &error);
	}
	if (*unit == HS_UNIT_COUNT && found.unit != HS_UNITLESS)
		*unit = found.unit;
	if (*unit != HS_UNIT_COUNT && found.unit != *unit)
		measure_refuse(L, "%s is in \"%s\", and what stands before it in \"%s\"", what,
		               hs_unit_name(found.unit), hs_unit_name(*unit));
	return found.value;
}

hs_unit measure_unit(lua_State *L, int index, hs_unit otherwise)
{
	hs_error error = {0};
	hs_unit unit;
	const char *known[HS_UNIT_COUNT];
	if (!measure_given(L, index) && otherwise != HS_UNIT_COUNT)
		return otherwise;
	const char *name = measure_string(L, index, "the unit");
	if (!*name)
		return HS_UNITLESS;
	if (hs_unit_find(name, &unit))
		return unit;
	for (int i = 1; i < HS_UNIT_COUNT; i++)
		known[i - 1] = hs_unit_name((hs_unit)i);
	hs_fail(&error, HS_BAD_INPUT, "\"%s\" is no unit", name);
	const char *nearest = hs_nearest(name, known, HS_UNIT_COUNT - 1);
	if (nearest)
		hs_fail_hint(&error, "did you mean \"%s\"?", nearest);
	measure_misuse(L, &error);
	return otherwise;
}

size_t measure_word(lua_State *L, int index, const char *what, const char *const *words, size_t count)
{
	hs_error error = {0};
	char list[160] = "";
	const char *word = measure_string(L, index, what);
	for (size_t i = 0; i < count; i++)
		if (strcmp(words[i], word) == 0)
			return i;
	for (size_t i = 0, used = 0; i < count && used < sizeof list - 1; i++)
		used += (size_t)snprintf(list + used, sizeof list - used, "%s\"%s\"",
		                         i == 0          ? ""
		                         : i + 1 < count ? ", "
		                                         : " or ",
		                         words[i]);
	hs_fail(&error, HS_BAD_INPUT, "%s is \"%s\", and %s is wanted", what, word, list);
	const char *nearest = hs_nearest(word, words, count);
	if (nearest)
		hs_fail_hint(&error, "did you mean \"%s\"?", nearest);
	measure_misuse(L, &error);
	return 0;
}

hs_waveform measure_wave(lua_State *L, int index)
{
	static const char *const known[] = {"duty", "sigmas"};
	const char *names[HS_WAVE_COUNT];
	hs_waveform wave = {0};
	if (!measure_given(L, index))
		return wave;
	for (int i = 0; i < HS_WAVE_COUNT; i++)
		names[i] = hs_wave_name((hs_wave)i);
	if (!lua_istable(L, index)) {
		wave.shape = (hs_wave)measure_word(L, index, "the waveform", names, HS_WAVE_COUNT);
		return wave;
	}
	measure_known(L, index, "a waveform", known, 2, 1);
	wave.shape = (hs_wave)measure_word(L, measure_item(L, index, 1), "the waveform", names, HS_WAVE_COUNT);
	lua_pop(L, 1);
	wave.duty = measure_field_or(L, index, "duty", "the waveform", HS_UNITLESS, 0);
	wave.sigmas = measure_field_or(L, index, "sigmas", "the waveform", HS_UNITLESS, 0);
	return wave;
}

static double part_of(lua_State *L, int index, const char *key, size_t position, const char *what, hs_unit unit)
{
	int at = measure_field(L, index, key);
	if (lua_isnil(L, at)) {
		lua_pop(L, 1);
		at = measure_item(L, index, position);
	}
	double value = measure_number(L, at, measure_named("%s of %s", key, what).text, unit);
	lua_pop(L, 1);
	return value;
}

hs_complex measure_complex(lua_State *L, int index, const char *what, hs_unit unit)
{
	static const char *const known[] = {"re", "im"};
	if (!lua_istable(L, index))
		return (hs_complex){measure_number(L, index, what, unit), 0};
	measure_known(L, index, "a complex number", known, 2, 2);
	double re = part_of(L, index, "re", 1, what, unit);
	return (hs_complex){re, part_of(L, index, "im", 2, what, unit)};
}

void measure_push_complex(lua_State *L, hs_complex value)
{
	lua_createtable(L, 0, 2);
	measure_set(L, "re", value.re);
	measure_set(L, "im", value.im);
}
