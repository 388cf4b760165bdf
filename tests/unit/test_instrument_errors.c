/* Loading, probes, average-responding meters, crest factor, resolution, leads. */
#include "measure_rows.h"
#include "halfsplit/lineup/instrument_errors.h"

static void meters_load_their_source(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		double rs, ri, percent;
	} rows[] = {
	    {"10 Mohm on 100 kohm: -0.990 %", 100e3, 10e6, -0.99009900990099010},
	    {"equal: half", 1e6, 1e6, -50},
	    {"no source resistance", 0, 10e6, 0},
	    {"1 Mohm scope on 1 kohm: -0.0999 %", 1e3, 1e6, -0.099900099900099900},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double percent, open;
		assert_true(hs_loading_percent(rows[i].rs, rows[i].ri, &percent, NULL));
		assert_source(rows[i].source, percent, rows[i].percent, 0);
		assert_true(!signbit(percent) || percent < 0);
		assert_true(hs_unloaded(12 * (1 + percent / 100), rows[i].rs, rows[i].ri, &open, NULL));
		assert_source("and off again", open, 12, 0);
	}
	double x;
	hs_error error = {0};
	assert_true(hs_burden_percent(99, 1, &x, NULL));
	assert_source("1 ohm of burden in 100", x, -1, 0);
	assert_true(hs_divider_source(10e3, 10e3, &x, NULL));
	assert_source("two of 10 kohm: 5 kohm", x, 5e3, 0);
	assert_true(hs_divider_source(0, 10e3, &x, NULL));
	assert_true(x == 0);
	assert_true(hs_divider_source(1e308, 1e308, &x, NULL));
	assert_source("no overflow", x, 5e307, 0);
	assert_true(hs_divider_ratio(9e6, 1e6, &x, NULL));
	assert_source("ten to one", x, 0.1, 0);
	assert_refused(hs_divider_source(0, 0, &x, &error), &error,
	               "the upper resistor and the lower resistor are both 0 ohm");
	assert_refused(hs_divider_ratio(-1, 0, &x, &error), &error,
	               "the upper resistor is -1 ohm; it must be at least 0 ohm");
	assert_refused(hs_loading_percent(-1, 1e6, &x, &error), &error,
	               "the source resistance is -1 ohm; it must be at least 0 ohm");
	assert_refused(hs_loading_percent(1, 0, &x, &error), &error,
	               "the meter's resistance is 0 ohm; it must be above 0 ohm");
	assert_refused(hs_unloaded(NAN, 1, 1, &x, &error), &error,
	               "the reading is not a number; a finite number is wanted");
	assert_refused(hs_burden_percent(0, 1, &x, &error), &error,
	               "the resistance of the loop is 0 ohm; it must be above 0 ohm");
}

static void on_50_ohm_at_100_mhz_the_capacitance_rules(void **state)
{
	(void)state;
	const hs_probe ten_times = {10e6, 10e-12};
	hs_probe_load load;
	assert_true(hs_probe_loads(ten_times, 50, 100e6, &load, NULL));
	assert_source("1/(2 pi 100 MHz 10 pF) = 159.15 ohm", load.reactance_ohm, 159.15, 5e-3);
	assert_source("10 Mohm beside it do nothing", load.magnitude_ohm, 159.15, 5e-3);
	assert_true(load.capacitance_rules);
	assert_source("1/sqrt(1 + (50/159.15)^2): -4.60 %", load.percent, -4.60, 5e-3);
	assert_source("-atan(50/159.15) = -17.44 degrees", load.degrees, -17.44, 5e-3);
	assert_source("corner 318.3 MHz", load.corner_hz, 318.31e6, 5e3);
	assert_true(hs_probe_loads(ten_times, 50, load.corner_hz, &load, NULL));
	assert_source("3 dB down there", load.percent, 100 * (sqrt(0.5) - 1), 2e-3);
	assert_true(hs_probe_loads(ten_times, 1e6, 0, &load, NULL));
	assert_source("at DC the resistance", load.percent, -100.0 / 11, 0);
	assert_true(!load.capacitance_rules && load.reactance_ohm == 0 && load.degrees == 0);
	assert_source("magnitude", load.magnitude_ohm, 10e6, 0);
	assert_true(hs_probe_loads((hs_probe){1e6, 0}, 1e6, 1e9, &load, NULL));
	assert_source("no capacitance", load.percent, -50, 0);
	assert_true(load.corner_hz == 0);
	double before = 1;
	for (double hz = 1; hz < 1e10; hz *= 3) {
		assert_true(hs_probe_loads(ten_times, 50, hz, &load, NULL));
		assert_true(load.percent <= before && load.percent > -100 && load.degrees <= 0);
		before = load.percent;
	}
	hs_error error = {0};
	assert_refused(hs_probe_loads((hs_probe){0, 1e-12}, 50, 1, &load, &error), &error,
	               "the probe's resistance is 0 ohm; it must be above 0 ohm");
	assert_refused(hs_probe_loads((hs_probe){1, -1}, 50, 1, &load, &error), &error,
	               "the probe's capacitance is -1 F; it must be at least 0 F");
	assert_refused(hs_probe_loads(ten_times, 50, NAN, &load, &error), &error,
	               "the frequency is not a number; a finite number is wanted");
}

static void meters_scaled_for_a_sine(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		hs_waveform wave;
		double average, peak;
	} rows[] = {
	    {"sine", {0}, 0, 0},
	    {"square: 11.07 % high", {.shape = HS_SQUARE}, 11.07, -29.29},
	    {"triangle: 3.81 % low", {.shape = HS_TRIANGLE}, -3.81, 22.47},
	    {"Gaussian noise: 11.38 % low (1.05 dB)", {.shape = HS_NOISE, .sigmas = 3}, -11.38, 112.13},
	    {"pulse of duty 1/4", {.shape = HS_PULSE, .duty = 0.25}, -44.46, 41.42},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double percent, rms;
		assert_true(hs_average_responding_percent(rows[i].wave, &percent, NULL));
		assert_source(rows[i].source, percent, rows[i].average, 5e-3);
		assert_true(hs_true_rms(5 * (1 + percent / 100), rows[i].wave, &rms, NULL));
		assert_source("true rms", rms, 5, 0);
		assert_true(hs_peak_responding_percent(rows[i].wave, &percent, NULL));
		assert_source(rows[i].source, percent, rows[i].peak, 5e-3);
	}
	double x;
	hs_error error = {0};
	assert_refused(hs_true_rms(-1, (hs_waveform){0}, &x, &error), &error,
	               "the reading is -1; it must be at least 0");
	assert_refused(hs_average_responding_percent((hs_waveform){.shape = HS_PULSE}, &x, &error), &error,
	               "the duty of the pulse is 0; it must be above 0");
	const hs_waveform pulse = {.shape = HS_PULSE, .duty = 0.01};
	assert_true(hs_crest_fits(pulse, 3, 10, 3, NULL));
	assert_refused(hs_crest_fits(pulse, 10, 10, 3, &error), &error,
	               "the wave's crest factor of 10 is above the 3 that fit at this reading");
	assert_refused(hs_crest_fits(pulse, 11, 10, 3, &error), &error, "the full scale is 10; it must be at least 11");
}

static void digits_and_specifications(void **state)
{
	(void)state;
	double x;
	hs_error error = {0};
	assert_true(hs_resolution_standard(1, &x, NULL));
	assert_source("JCGM 100, F.2.2.1: 0.29 of a step", x, 0.29, 5e-3);
	assert_source("step/sqrt 12", x, 0.28867513459481288, 0);
	assert_true(hs_meter_half_width(-12, 0.5, 3, 0.01, &x, NULL));
	assert_source("0.5 % + 3 digits of -12.00 V", x, 0.09, 0);
	assert_refused(hs_resolution_standard(-1, &x, &error), &error,
	               "the step of the last digit is -1; it must be at least 0");
	assert_refused(hs_meter_half_width(1, -1, 1, 1, &x, &error), &error,
	               "the percentage is -1 %; it must be at least 0 %");
	assert_refused(hs_meter_half_width(INFINITY, 1, 1, 1, &x, &error), &error,
	               "the reading is infinite; a finite number is wanted");
}

static void two_wires_read_their_leads_too(void **state)
{
	(void)state;
	double ohm, u;
	hs_error error = {0};
	assert_true(hs_two_wire(0.35, 0.2, 0.02, &ohm, &u, NULL));
	assert_source("0.35 - 0.2", ohm, 0.15, 0);
	assert_source("the doubt stays", u, 0.02, 0);
	assert_true(hs_two_wire(0.19, 0.2, 0.02, &ohm, NULL, NULL));
	assert_true(ohm == 0);
	assert_refused(hs_two_wire(0.17, 0.2, 0.02, &ohm, NULL, &error), &error,
	               "a reading of 0.17 ohm is below the leads' 0.2 ohm by more than their doubt of 0.02 ohm");
	assert_refused(hs_two_wire(-1, 0.2, 0.02, &ohm, NULL, &error), &error,
	               "the reading is -1 ohm; it must be at least 0 ohm");
	assert_refused(
	    hs_two_wire_decides(0.05, 5, 0.02, &error), &error,
	    "0.05 ohm +- 5 % cannot be decided on two wires: the leads are in doubt by 0.02 ohm, the tolerance is "
	    "0.0025 ohm");
	assert_string_equal(error.hint, "measure with four wires");
	assert_true(hs_two_wire_decides(100, 5, 0.02, NULL));
	assert_false(hs_two_wire_decides(1, 2, 0.02, NULL));
	assert_refused(hs_two_wire_decides(0, 5, 0.02, &error), &error,
	               "the nominal resistance is 0 ohm; it must be above 0 ohm");
	assert_refused(hs_two_wire_decides(1, NAN, 0.02, &error), &error,
	               "the tolerance is not a number; a finite number is wanted");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(meters_load_their_source),
	    cmocka_unit_test(on_50_ohm_at_100_mhz_the_capacitance_rules),
	    cmocka_unit_test(meters_scaled_for_a_sine),
	    cmocka_unit_test(digits_and_specifications),
	    cmocka_unit_test(two_wires_read_their_leads_too),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
