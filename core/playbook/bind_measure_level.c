/* level: powers and voltages in every unit, added, averaged, shifted, and set against each other. */
#include "bind_measure.h"

/* A level in the unit it was given in. */
static int give_level(lua_State *L, bool good, hs_quantity level, hs_error *error)
{
	return measure_give(L, good, level.value, error);
}

static int convert(lua_State *L)
{
	hs_error error = {0};
	hs_quantity from = measure_level(L, 1, "the level", HS_DBM), out = {0};
	hs_unit unit = measure_unit(L, 2, HS_UNIT_COUNT);
	hs_level_terms terms = {.impedance_ohm = measure_impedance(L, 3)};
	terms.wave = measure_wave(L, 4);
	bool good = hs_level_convert(from, unit, terms, &out, &error);
	return give_level(L, good, out, &error);
}

static int crest(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	bool good = hs_crest_factor(measure_wave(L, 1), &out, &error);
	return measure_give(L, good, out, &error);
}

static int crest_db(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	bool good = hs_crest_db(measure_wave(L, 1), &out, &error);
	return measure_give(L, good, out, &error);
}

static int form(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	bool good = hs_form_factor(measure_wave(L, 1), &out, &error);
	return measure_give(L, good, out, &error);
}

static int pulse_power(lua_State *L)
{
	hs_error error = {0};
	hs_quantity average = measure_level(L, 1, "the average power", HS_DBM), out = {0};
	bool good = hs_pulse_power(average, measure_number(L, 2, "the duty", HS_UNITLESS), &out, &error);
	return give_level(L, good, out, &error);
}

static int pd_of_emf(lua_State *L)
{
	hs_error error = {0};
	hs_quantity out = {0};
	bool good = hs_pd_of_emf(measure_level(L, 1, "the EMF", HS_VOLT), &out, &error);
	return give_level(L, good, out, &error);
}

static int emf_of_pd(lua_State *L)
{
	hs_error error = {0};
	hs_quantity out = {0};
	bool good = hs_emf_of_pd(measure_level(L, 1, "the potential difference", HS_VOLT), &out, &error);
	return give_level(L, good, out, &error);
}

static int pd_into(lua_State *L)
{
	hs_error error = {0};
	hs_quantity emf = measure_level(L, 1, "the EMF", HS_VOLT), out = {0};
	double source = measure_number(L, 2, "the source resistance", HS_OHM);
	double load = measure_number(L, 3, "the load", HS_OHM);
	bool good = hs_pd_into(emf, source, load, &out, &error);
	return give_level(L, good, out, &error);
}

static int available_power(lua_State *L)
{
	hs_error error = {0};
	hs_quantity emf = measure_level(L, 1, "the EMF", HS_VOLT), out = {0};
	bool good = hs_available_power(emf, measure_number(L, 2, "the source resistance", HS_OHM), &out, &error);
	return give_level(L, good, out, &error);
}

typedef bool combining(const hs_quantity *, size_t, hs_unit, double, hs_quantity *, hs_error *);

/* LIST [, UNIT [, OHM]]; the unit of the first unless one is named. */
static int combine(lua_State *L, combining *formula)
{
	hs_error error = {0};
	hs_quantity out = {0};
	size_t count = measure_list(L, 1, "the list of levels");
	double ohm = measure_impedance(L, 3);
	hs_quantity *parts = lua_newuserdatauv(L, count * sizeof *parts, 0);
	for (size_t i = 0; i < count; i++) {
		parts[i] = measure_level(L, measure_item(L, 1, i + 1), measure_named("level %zu", i + 1).text, HS_DBM);
		lua_pop(L, 1);
	}
	hs_unit unit = measure_unit(L, 2, parts[0].unit);
	bool good = formula(parts, count, unit, ohm, &out, &error);
	return give_level(L, good, out, &error);
}

static int add(lua_State *L)
{
	return combine(L, hs_power_sum);
}

static int mean(lua_State *L)
{
	return combine(L, hs_power_mean);
}

static int subtract(lua_State *L)
{
	hs_error error = {0};
	hs_quantity total = measure_level(L, 1, "the total", HS_DBM), out = {0};
	hs_quantity part = measure_level(L, 2, "the part", HS_DBM);
	hs_unit unit = measure_unit(L, 3, total.unit);
	bool good = hs_power_difference(total, part, unit, measure_impedance(L, 4), &out, &error);
	return give_level(L, good, out, &error);
}

/* { LEVEL, DEGREES } */
static hs_tone read_tone(lua_State *L, int index, size_t number)
{
	measure_name of = measure_named("tone %zu", number);
	measure_known(L, index, of.text, NULL, 0, 2);
	hs_tone tone = {.level = measure_level(L, measure_item(L, index, 1), of.text, HS_DBM)};
	tone.degrees = measure_number_or(L, measure_item(L, index, 2),
	                                 measure_named("the phase of tone %zu", number).text, HS_UNITLESS, 0);
	lua_pop(L, 2);
	return tone;
}

static int add_coherent(lua_State *L)
{
	hs_error error = {0};
	hs_quantity out = {0};
	double degrees = 0;
	size_t count = measure_list(L, 1, "the list of tones");
	double ohm = measure_impedance(L, 3);
	hs_tone *tones = lua_newuserdatauv(L, count * sizeof *tones, 0);
	for (size_t i = 0; i < count; i++) {
		tones[i] = read_tone(L, measure_item(L, 1, i + 1), i + 1);
		lua_pop(L, 1);
	}
	hs_unit unit = measure_unit(L, 2, tones[0].level.unit);
	bool good = hs_tone_sum(tones, count, unit, ohm, &out, &degrees, &error);
	give_level(L, good, out, &error);
	lua_pushnumber(L, degrees);
	return 2;
}

static int over(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	hs_quantity level = measure_level(L, 1, "the level", HS_DBM),
	            carrier = measure_level(L, 2, "the carrier", HS_DBM);
	bool good = hs_level_over(level, carrier, measure_impedance(L, 3), &out, &error);
	return measure_give(L, good, out, &error);
}

static int from_over(lua_State *L)
{
	hs_error error = {0};
	hs_quantity carrier = measure_level(L, 1, "the carrier", HS_DBM), out = {0};
	bool good =
	    hs_level_from_over(carrier, measure_number(L, 2, "the distance from the carrier", HS_DB), &out, &error);
	return give_level(L, good, out, &error);
}

static int density(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	hs_quantity level = measure_level(L, 1, "the level", HS_DBM);
	bool good = hs_density_of_level(level, measure_number(L, 2, "the bandwidth", HS_HERTZ), &out, &error);
	return measure_give(L, good, out, &error);
}

static int of_density(lua_State *L)
{
	hs_error error = {0};
	hs_quantity out = {0};
	double each = measure_density(L, 1, "the density");
	bool good = hs_level_of_density(each, measure_number(L, 2, "the bandwidth", HS_HERTZ), &out, &error);
	return give_level(L, good, out, &error);
}

static int in_bandwidth(lua_State *L)
{
	hs_error error = {0};
	hs_quantity level = measure_level(L, 1, "the level", HS_DBM), out = {0};
	double from = measure_number(L, 2, "the bandwidth it was read in", HS_HERTZ);
	double to = measure_number(L, 3, "the other bandwidth", HS_HERTZ);
	bool good = hs_level_in_bandwidth(level, from, to, &out, &error);
	return give_level(L, good, out, &error);
}

static int shift(lua_State *L)
{
	hs_error error = {0};
	hs_quantity level = measure_level(L, 1, "the level", HS_DBM), out = {0};
	bool good = hs_level_shift(level, measure_number(L, 2, "the shift", HS_DB), &out, &error);
	return give_level(L, good, out, &error);
}

void measure_open_level(lua_State *L)
{
	static const measure_row rows[] = {
	    {"add", add, 3, "level.add({ LEVEL, ... } [, UNIT [, OHM]])"},
	    {"add_coherent", add_coherent, 3, "level.add_coherent({ { LEVEL, DEGREES }, ... } [, UNIT [, OHM]])"},
	    {"available_power", available_power, 2, "level.available_power(EMF, SOURCE_OHM)"},
	    {"convert", convert, 4, "level.convert(LEVEL, UNIT [, OHM [, WAVE]])"},
	    {"crest", crest, 1, "level.crest(WAVE)"},
	    {"crest_db", crest_db, 1, "level.crest_db(WAVE)"},
	    {"density", density, 2, "level.density(LEVEL, BANDWIDTH)"},
	    {"emf_of_pd", emf_of_pd, 1, "level.emf_of_pd(VOLTAGE)"},
	    {"form", form, 1, "level.form(WAVE)"},
	    {"from_over", from_over, 2, "level.from_over(CARRIER, DB)"},
	    {"in_bandwidth", in_bandwidth, 3, "level.in_bandwidth(LEVEL, FROM_BANDWIDTH, TO_BANDWIDTH)"},
	    {"mean", mean, 3, "level.mean({ LEVEL, ... } [, UNIT [, OHM]])"},
	    {"of_density", of_density, 2, "level.of_density(DBM_PER_HZ, BANDWIDTH)"},
	    {"over", over, 3, "level.over(LEVEL, CARRIER [, OHM])"},
	    {"pd_into", pd_into, 3, "level.pd_into(EMF, SOURCE_OHM, LOAD_OHM)"},
	    {"pd_of_emf", pd_of_emf, 1, "level.pd_of_emf(EMF)"},
	    {"pulse_power", pulse_power, 2, "level.pulse_power(AVERAGE, DUTY)"},
	    {"shift", shift, 2, "level.shift(LEVEL, DB)"},
	    {"subtract", subtract, 4, "level.subtract(TOTAL, PART [, UNIT [, OHM]])"},
	};
	measure_declare(L, "level", rows, sizeof rows / sizeof rows[0]);
}
