/* Noise floors, resistors, levels near the noise, detectors. */
#include "measure_rows.h"
#include "halfsplit/lineup/noise.h"

static void floors_and_resistors(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		double kelvin, nf, hz, dbm, half_digit;
	} rows[] = {
	    {"k of the SI, T0 of IEEE Std 100: kT at 290 K: -173.975 dBm/Hz", 290, 0, 1, -173.975, 5e-4},
	    {"k of the SI, T0 of IEEE Std 100: 5 dB in 1 MHz", 290, 5, 1e6, -108.975, 5e-4},
	    {"k of the SI, T0 of IEEE Std 100: room at 300 K: -173.83 dBm/Hz", 300, 0, 1, -173.83, 5e-3},
	    {"k of the SI, T0 of IEEE Std 100: cold sky 50 K, 3 dB: 10 log10(k (50 + 288.626) 1e3)", 50, 3, 1,
	     -173.3017, 5e-4},
	    {"k of the SI, T0 of IEEE Std 100: no source noise, F = 2", 0, 3.0102999566398120, 1, -173.975, 5e-4},
	    {"k of the SI, T0 of IEEE Std 100: -174 dBm/Hz, 3 kHz, 0 dB: -139.2", 290, 0, 3000, -139.2, 5e-2},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double dbm;
		assert_true(hs_noise_floor(rows[i].kelvin, rows[i].nf, rows[i].hz, &dbm, NULL));
		assert_source(rows[i].source, dbm, rows[i].dbm, rows[i].half_digit);
	}
	double volt;
	assert_true(hs_johnson_volts(1000, 300, 1, &volt, NULL));
	assert_source("Nyquist 1928, 4 k T R B: 1 kohm at 300 K: 4.07 nV per root hertz", volt, 4.07e-9, 5e-12);
	assert_true(hs_johnson_volts(50, 290, 1, &volt, NULL));
	assert_source("Nyquist 1928, 4 k T R B: 50 ohm at 290 K: 0.895 nV per root hertz", volt, 0.895e-9, 5e-13);
	assert_true(hs_johnson_volts(1e6, 300, 20e3, &volt, NULL));
	assert_source("Nyquist 1928, 4 k T R B: 1 Mohm over the audio band: 18.2 uV", volt, 18.2e-6, 5e-8);
	assert_true(hs_johnson_volts(0, 300, 1, &volt, NULL));
	assert_true(volt == 0);
}

static void near_the_noise(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		double over, correction;
	} rows[] = {
	    {"10 log10(1 - 10^-(x/10)), 3 dB over: -3.02 dB", 3, -3.02},
	    {"10 log10(1 - 10^-(x/10)), 5 dB over: -1.65 dB", 5, -1.65},
	    {"10 log10(1 - 10^-(x/10)), 6 dB over: -1.26 dB", 6, -1.26},
	    {"10 log10(1 - 10^-(x/10)), 10 dB over: -0.46 dB", 10, -0.46},
	    {"10 log10(1 - 10^-(x/10)), 20 dB over: -0.04 dB", 20, -0.04},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double signal, correction;
		assert_true(hs_signal_in_noise(-100 + rows[i].over, -100, &signal, &correction, NULL));
		assert_source(rows[i].source, correction, rows[i].correction, 5e-3);
		assert_near(signal, -100 + rows[i].over + correction);
		/* Signal and noise together are the reading. */
		assert_near(10 * log10(pow(10, signal / 10) + pow(10, -10)), -100 + rows[i].over);
	}
	double signal = -7;
	hs_error error = {0};
	assert_refused(hs_signal_in_noise(-100, -100, &signal, NULL, &error), &error,
	               "a reading of -100 dBm is not above the noise of -100 dBm, so no signal can be told");
	assert_refused(hs_signal_in_noise(-101, -100, &signal, NULL, &error), &error,
	               "a reading of -101 dBm is not above the noise of -100 dBm, so no signal can be told");
	assert_refused(hs_signal_in_noise(NAN, -100, &signal, NULL, &error), &error,
	               "the reading is not a number; a finite number is wanted");
	assert_true(signal == -7);
	assert_true(hs_signal_in_noise(4000, 3990, &signal, NULL, NULL));
	assert_near(signal, 4000 - 0.457574905606752);
}

static void detectors_and_bandwidths(void **state)
{
	(void)state;
	static const double want[HS_DETECTOR_COUNT] = {0, 2.5068, 1.0491};
	for (int i = 0; i < HS_DETECTOR_COUNT; i++) {
		double db;
		hs_detector found;
		assert_true(hs_detector_correction((hs_detector)i, &db, NULL));
		assert_source(hs_detector_name((hs_detector)i), db, want[i], 5e-5);
		assert_true(hs_detector_find(hs_detector_name((hs_detector)i), &found));
		assert_int_equal(found, i);
	}
	static const struct {
		const char *source;
		int poles;
		double ratio;
	} rows[] = {
	    {"one pole: pi/2", 1, 1.5708}, {"two: 1.220", 2, 1.2203},       {"four: 1.128", 4, 1.1285},
	    {"five: 1.114", 5, 1.1138},    {"Gaussian: 1.0645", 0, 1.0645},
	};
	double before = 2, ratio, density;
	for (size_t i = 0; i < COUNT(rows); i++) {
		assert_true(hs_noise_bandwidth_ratio(rows[i].poles, &ratio, NULL));
		assert_source(rows[i].source, ratio, rows[i].ratio, 2e-4);
	}
	for (int poles = 1; poles <= 100; poles++) {
		assert_true(hs_noise_bandwidth_ratio(poles, &ratio, NULL));
		assert_true(ratio < before && ratio > 1.0644);
		before = ratio;
	}
	assert_true(hs_noise_density(-90, HS_DETECTOR_LOG, 1000, 1, &density, NULL));
	assert_source("2.51 dB and 30 dB apart", density, -90 + 2.5068 - 30, 5e-5);
	assert_true(hs_noise_density(-90, HS_DETECTOR_RMS, 1000, 1, &density, NULL));
	assert_source("nothing is added to an rms detector", density, -120, 0);
	hs_error error = {0};
	hs_detector none;
	assert_false(hs_detector_find("peak", &none));
	assert_refused(hs_detector_correction((hs_detector)9, &ratio, &error), &error,
	               "the detector is none of rms, log average, voltage average");
	assert_refused(hs_noise_bandwidth_ratio(101, &ratio, &error), &error,
	               "the number of poles is 101; it must lie between 0 and 100");
	assert_refused(hs_noise_density(-90, HS_DETECTOR_RMS, 0, 1, &density, &error), &error,
	               "the resolution bandwidth is 0 Hz; it must be above 0 Hz");
	assert_refused(hs_noise_density(-90, HS_DETECTOR_RMS, 1, -1, &density, &error), &error,
	               "the ratio of bandwidths is -1; it must be above 0");
}

static void noise_that_cannot_be_is_refused(void **state)
{
	(void)state;
	double x = -7;
	hs_error error = {0};
	assert_refused(hs_noise_floor(0, 0, 1, &x, &error), &error,
	               "at 0 K and a noise figure of 0 dB there is no noise, which has no level");
	assert_refused(hs_noise_floor(-1, 0, 1, &x, &error), &error,
	               "the temperature in kelvin is -1; it must be at least 0");
	assert_refused(hs_noise_floor(290, -3, 1, &x, &error), &error,
	               "the noise figure is -3 dB; it must be at least 0 dB");
	assert_refused(hs_noise_floor(290, 0, 0, &x, &error), &error, "the bandwidth is 0 Hz; it must be above 0 Hz");
	assert_refused(hs_noise_floor(290, 0, NAN, &x, &error), &error,
	               "the bandwidth is not a number; a finite number is wanted");
	assert_refused(hs_johnson_volts(-50, 290, 1, &x, &error), &error,
	               "the resistance is -50 ohm; it must be at least 0 ohm");
	assert_refused(hs_johnson_volts(50, INFINITY, 1, &x, &error), &error,
	               "the temperature in kelvin is infinite; a finite number is wanted");
	assert_true(x == -7);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(floors_and_resistors),
	    cmocka_unit_test(near_the_noise),
	    cmocka_unit_test(detectors_and_bandwidths),
	    cmocka_unit_test(noise_that_cannot_be_is_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
