/* noise: floors, resistors, levels close to the noise, and what a detector does to it. */
#include "bind_measure.h"

#include "halfsplit/lineup/cascade.h"
#include "halfsplit/lineup/noise.h"

MEASURE_PAIR_OF_2(signal_in_noise, hs_signal_in_noise, "the reading", HS_DBM, "the noise", HS_DBM)

static int floor_of(lua_State *L)
{
	hs_error error = {0};
	double out = 0, bandwidth = measure_number(L, 1, "the bandwidth", HS_HERTZ);
	double nf = measure_number_or(L, 2, "the noise figure", HS_DB, 0);
	double kelvin = measure_kelvin_or(L, 3, "the temperature of the source", HS_T0_KELVIN);
	bool good = hs_noise_floor(kelvin, nf, bandwidth, &out, &error);
	return measure_give(L, good, out, &error);
}

static int resistor(lua_State *L)
{
	hs_error error = {0};
	double out = 0, ohm = measure_number(L, 1, "the resistance", HS_OHM);
	double bandwidth = measure_number(L, 2, "the bandwidth", HS_HERTZ);
	double kelvin = measure_kelvin_or(L, 3, "the temperature", HS_T0_KELVIN);
	bool good = hs_johnson_volts(ohm, kelvin, bandwidth, &out, &error);
	return measure_give(L, good, out, &error);
}

static hs_detector read_detector(lua_State *L, int index)
{
	const char *names[HS_DETECTOR_COUNT];
	for (int i = 0; i < HS_DETECTOR_COUNT; i++)
		names[i] = hs_detector_name((hs_detector)i);
	return (hs_detector)measure_word(L, index, "the detector", names, HS_DETECTOR_COUNT);
}

static int detector_correction(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	bool good = hs_detector_correction(read_detector(L, 1), &out, &error);
	return measure_give(L, good, out, &error);
}

static int bandwidth_ratio(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	bool good = hs_noise_bandwidth_ratio(measure_whole(L, 1, "the number of poles", 0, 100), &out, &error);
	return measure_give(L, good, out, &error);
}

static int density(lua_State *L)
{
	hs_error error = {0};
	double out = 0, displayed = measure_number(L, 1, "the displayed level", HS_DBM);
	hs_detector detector = read_detector(L, 2);
	double rbw = measure_number(L, 3, "the resolution bandwidth", HS_HERTZ);
	double ratio = measure_number(L, 4, "the bandwidth ratio", HS_UNITLESS);
	bool good = hs_noise_density(displayed, detector, rbw, ratio, &out, &error);
	return measure_give(L, good, out, &error);
}

void measure_open_noise(lua_State *L)
{
	static const measure_row rows[] = {
	    {"bandwidth_ratio", bandwidth_ratio, 1, "noise.bandwidth_ratio(POLES)"},
	    {"density", density, 4, "noise.density(DISPLAYED, DETECTOR, RBW, BANDWIDTH_RATIO)"},
	    {"detector_correction", detector_correction, 1, "noise.detector_correction(DETECTOR)"},
	    {"floor", floor_of, 3, "noise.floor(BANDWIDTH [, NOISE_FIGURE [, KELVIN]])"},
	    {"resistor", resistor, 3, "noise.resistor(OHM, BANDWIDTH [, KELVIN])"},
	    {"signal", signal_in_noise, 2, "noise.signal(READING, NOISE)"},
	};
	measure_declare(L, "noise", rows, sizeof rows / sizeof rows[0]);
}
