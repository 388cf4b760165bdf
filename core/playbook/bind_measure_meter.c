/* meter: what an instrument does to what it measures. (`instrument` is a builder of kits.) */
#include "bind_measure.h"

#include "halfsplit/lineup/instrument_errors.h"

MEASURE_OF_2(loading_percent, hs_loading_percent, "the source resistance", HS_OHM, "the meter's resistance", HS_OHM)
MEASURE_OF_2(burden_percent, hs_burden_percent, "the resistance of the loop", HS_OHM, "the burden", HS_OHM)
MEASURE_OF_2(divider_source, hs_divider_source, "the upper resistor", HS_OHM, "the lower resistor", HS_OHM)
MEASURE_OF_2(divider_ratio, hs_divider_ratio, "the upper resistor", HS_OHM, "the lower resistor", HS_OHM)

static int unloaded(lua_State *L)
{
	hs_error error = {0};
	hs_unit unit = HS_UNIT_COUNT;
	double out = 0, reading = measure_scaled(L, 1, "the reading", &unit);
	double source = measure_number(L, 2, "the source resistance", HS_OHM);
	bool good = hs_unloaded(reading, source, measure_number(L, 3, "the meter's resistance", HS_OHM), &out, &error);
	return measure_give(L, good, out, &error);
}

static int probe(lua_State *L)
{
	hs_error error = {0};
	hs_probe_load load = {0};
	hs_probe tip = {.ohm = measure_number(L, 1, "the probe's resistance", HS_OHM)};
	tip.farad = measure_number(L, 2, "the probe's capacitance", HS_FARAD);
	double source = measure_number(L, 3, "the source resistance", HS_OHM);
	if (!hs_probe_loads(tip, source, measure_number(L, 4, "the frequency", HS_HERTZ), &load, &error))
		return measure_raise(L, &error);
	lua_createtable(L, 0, 6);
	measure_set(L, "magnitude_ohm", load.magnitude_ohm);
	measure_set(L, "reactance_ohm", load.reactance_ohm);
	measure_set_flag(L, "capacitance_rules", load.capacitance_rules);
	measure_set(L, "percent", load.percent);
	measure_set(L, "degrees", load.degrees);
	measure_set(L, "corner_hz", load.corner_hz);
	return 1;
}

static int average_responding_percent(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	bool good = hs_average_responding_percent(measure_wave(L, 1), &out, &error);
	return measure_give(L, good, out, &error);
}

static int peak_responding_percent(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	bool good = hs_peak_responding_percent(measure_wave(L, 1), &out, &error);
	return measure_give(L, good, out, &error);
}

static int true_rms(lua_State *L)
{
	hs_error error = {0};
	hs_unit unit = HS_UNIT_COUNT;
	double out = 0, reading = measure_scaled(L, 1, "the reading", &unit);
	bool good = hs_true_rms(reading, measure_wave(L, 2), &out, &error);
	return measure_give(L, good, out, &error);
}

/* True, or an error that says why the reading cannot be trusted. */
static int crest_fits(lua_State *L)
{
	hs_error error = {0};
	hs_unit unit = HS_UNIT_COUNT;
	hs_waveform wave = measure_wave(L, 1);
	double reading = measure_scaled(L, 2, "the reading", &unit),
	       full = measure_scaled(L, 3, "the full scale", &unit);
	if (!hs_crest_fits(wave, reading, full, measure_number(L, 4, "the meter's crest factor", HS_UNITLESS), &error))
		return measure_raise(L, &error);
	lua_pushboolean(L, true);
	return 1;
}

static int resolution_standard(lua_State *L)
{
	hs_error error = {0};
	hs_unit unit = HS_UNIT_COUNT;
	double out = 0;
	bool good = hs_resolution_standard(measure_scaled(L, 1, "the step of the last digit", &unit), &out, &error);
	return measure_give(L, good, out, &error);
}

static int half_width(lua_State *L)
{
	hs_error error = {0};
	hs_unit unit = HS_UNIT_COUNT;
	double out = 0, reading = measure_scaled(L, 1, "the reading", &unit);
	double percent = measure_number(L, 2, "the percentage", HS_PERCENT);
	double counts = measure_number(L, 3, "the number of digits", HS_UNITLESS);
	double step = measure_scaled(L, 4, "the step of the last digit", &unit);
	bool good = hs_meter_half_width(reading, percent, counts, step, &out, &error);
	return measure_give(L, good, out, &error);
}

static int two_wire(lua_State *L)
{
	hs_error error = {0};
	double out = 0, u = 0, reading = measure_number(L, 1, "the reading", HS_OHM);
	double leads = measure_number(L, 2, "the resistance of the leads", HS_OHM);
	bool good =
	    hs_two_wire(reading, leads, measure_number_or(L, 3, "the doubt in the leads", HS_OHM, 0), &out, &u, &error);
	measure_give(L, good, out, &error);
	lua_pushnumber(L, u);
	return 2;
}

/* True, or an error that says why four wires are wanted. */
static int two_wire_decides(lua_State *L)
{
	hs_error error = {0};
	double nominal = measure_number(L, 1, "the nominal resistance", HS_OHM);
	double tolerance = measure_number(L, 2, "the tolerance", HS_PERCENT);
	if (!hs_two_wire_decides(nominal, tolerance, measure_number(L, 3, "the doubt in the leads", HS_OHM), &error))
		return measure_raise(L, &error);
	lua_pushboolean(L, true);
	return 1;
}

void measure_open_meter(lua_State *L)
{
	static const measure_row rows[] = {
	    {"average_responding_percent", average_responding_percent, 1, "meter.average_responding_percent(WAVE)"},
	    {"burden_percent", burden_percent, 2, "meter.burden_percent(LOOP_OHM, BURDEN_OHM)"},
	    {"crest_fits", crest_fits, 4, "meter.crest_fits(WAVE, READING, FULL_SCALE, CREST_FACTOR)"},
	    {"divider_ratio", divider_ratio, 2, "meter.divider_ratio(UPPER_OHM, LOWER_OHM)"},
	    {"divider_source", divider_source, 2, "meter.divider_source(UPPER_OHM, LOWER_OHM)"},
	    {"half_width", half_width, 4, "meter.half_width(READING, PERCENT, DIGITS, STEP)"},
	    {"loading_percent", loading_percent, 2, "meter.loading_percent(SOURCE_OHM, METER_OHM)"},
	    {"peak_responding_percent", peak_responding_percent, 1, "meter.peak_responding_percent(WAVE)"},
	    {"probe", probe, 4, "meter.probe(PROBE_OHM, FARAD, SOURCE_OHM, FREQ)"},
	    {"resolution_standard", resolution_standard, 1, "meter.resolution_standard(STEP)"},
	    {"true_rms", true_rms, 2, "meter.true_rms(READING, WAVE)"},
	    {"two_wire", two_wire, 3, "meter.two_wire(READING, LEADS_OHM [, DOUBT_OHM])"},
	    {"two_wire_decides", two_wire_decides, 3, "meter.two_wire_decides(NOMINAL, TOLERANCE_PERCENT, DOUBT_OHM)"},
	    {"unloaded", unloaded, 3, "meter.unloaded(READING, SOURCE_OHM, METER_OHM)"},
	};
	measure_declare(L, "meter", rows, sizeof rows / sizeof rows[0]);
}
