/* Chains of stages, and what a mixer makes of frequencies. */
#include "measure_rows.h"
#include <stdlib.h>
#include "halfsplit/lineup/cascade.h"

static void published_chains_come_out_right(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		hs_stage stages[3];
		size_t count;
		double gain, nf, half_digit;
	} rows[] = {
	    {"Pozar, receiver front end: F = 1.80, 2.55 dB",
	     {{.gain_db = 10, .nf_db = 2}, {.gain_db = -1, .passive = true}, {.gain_db = -3, .nf_db = 4}},
	     3,
	     6,
	     2.55,
	     1e-2},
	    {"a pad at 290 K has the NF of its loss", {{.gain_db = -6, .passive = true}}, 1, -6, 6, 0},
	    {"3 dB pad at 77 K: F = 1 + 0.99526 x 77/290",
	     {{.gain_db = -3, .passive = true, .kelvin = 77}},
	     1,
	     -3,
	     1.01836,
	     5e-6},
	    {"a pad in front adds its loss to the NF",
	     {{.gain_db = -2, .passive = true}, {.gain_db = 20, .nf_db = 3}},
	     2,
	     18,
	     5,
	     0},
	    {"Friis 1944: a noisy second stage behind 10 dB: 2 + (10 - 1)/10 = 2.9",
	     {{.gain_db = 10, .nf_db = 3.0102999566398120}, {.gain_db = 10, .nf_db = 10}},
	     2,
	     20,
	     4.6239799789895608,
	     0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_cascade got;
		assert_true(hs_cascade_of(rows[i].stages, rows[i].count, &got, NULL));
		assert_source(rows[i].source, got.gain_db, rows[i].gain, 1e-12);
		assert_source(rows[i].source, got.nf_db, rows[i].nf, rows[i].half_digit);
		assert_near(got.kelvin, 290 * (got.factor - 1));
		assert_near(got.nf_db, 10 * log10(got.factor));
		assert_false(got.has_p1db || got.has_oip3);
		double nf;
		assert_true(hs_nf_of_temperature(got.kelvin, &nf, NULL));
		assert_near(nf, got.nf_db);
	}
}

static void compression_and_intercept(void **state)
{
	(void)state;
	static const hs_stage pozar[] = {{.gain_db = 20, .nf_db = 1, .has_oip3 = true, .oip3_dbm = 22},
	                                 {.gain_db = -6, .nf_db = 6, .has_oip3 = true, .oip3_dbm = 7}};
	static const hs_stage equals[] = {{.gain_db = 14, .nf_db = 3, .has_p1db = true, .op1db_dbm = 10},
	                                  {.gain_db = 10, .nf_db = 3, .has_p1db = true, .op1db_dbm = 20}};
	static const hs_stage padded[] = {
	    {.gain_db = 10, .has_p1db = true, .op1db_dbm = 20, .has_oip3 = true, .oip3_dbm = 33},
	    {.gain_db = -3, .passive = true}};
	hs_cascade got;
	assert_true(hs_cascade_of(pozar, 2, &got, NULL));
	assert_source("Pozar, amplifier and mixer in phase: 4.4 mW, 6.4 dBm", got.oip3_dbm, 6.4, 0.1);
	assert_source("input intercept = output - gain", got.iip3_dbm, got.oip3_dbm - 14, 0);
	assert_source("random phase: 1/sqrt(1/39.8^2 + 1/5.01^2) mW", got.oip3_random_dbm, 6.9659, 5e-5);
	assert_true(hs_cascade_of(equals, 2, &got, NULL));
	assert_source("two equals at the output: 3.01 dB down", got.op1db_dbm, 16.989700043360188, 0);
	assert_source("input = output - (gain - 1 dB)", got.ip1db_dbm, 16.989700043360188 - 23, 0);
	assert_true(hs_cascade_of(padded, 2, &got, NULL));
	assert_source("a pad moves both by its loss", got.op1db_dbm, 17, 0);
	assert_source("a pad moves both by its loss", got.oip3_dbm, 30, 0);
	assert_source("one stage alone, random or not", got.oip3_random_dbm, 30, 0);
	double im3, range;
	assert_true(hs_im3(0, 30, &im3, NULL));
	assert_source("30 dB below the intercept: 60 dBc", im3, -60, 0);
	assert_true(hs_spurious_free_range(30, -90, &range, NULL));
	assert_source("2/3 of 120 dB", range, 80, 0);
}

static void levels_say_what_limits_them(void **state)
{
	(void)state;
	static const hs_stage chain[] = {
	    {.name = "A1 driver", .gain_db = 14, .nf_db = 3, .has_p1db = true, .op1db_dbm = 12},
	    {.name = "pad", .gain_db = -1, .passive = true},
	    {.name = "Q3 final", .gain_db = 23, .nf_db = 6, .has_p1db = true, .op1db_dbm = 48}};
	hs_node nodes[3];
	assert_true(hs_cascade_levels(chain, 3, -3, 0, nodes, NULL));
	static const double linear[] = {11, 10, 33};
	for (size_t i = 0; i < 3; i++) {
		assert_near(nodes[i].level_dbm, linear[i]);
		assert_int_equal(nodes[i].limit, HS_LIMIT_NONE);
	}
	assert_near(nodes[0].headroom_db, 1);
	assert_source("kT0 + NF + gain", nodes[0].noise_dbm_hz, -173.975 + 17, 5e-4);
	assert_true(hs_cascade_levels(chain, 3, 5, 0, nodes, NULL));
	assert_near(nodes[0].linear_dbm, 19);
	assert_near(nodes[0].level_dbm, 12);
	assert_near(nodes[0].headroom_db, -7);
	assert_int_equal(nodes[0].limit, HS_LIMIT_COMPRESSED);
	assert_int_equal(nodes[2].limit, HS_LIMIT_UPSTREAM);
	assert_int_equal(nodes[2].limited_by, 0);
	assert_near(nodes[2].level_dbm, 34);
	assert_near(nodes[2].linear_dbm, 41);
	hs_buf out;
	hs_buf_init(&out);
	hs_cascade_print(&out, chain, nodes, 3);
	assert_string_equal(out.data, "  1  A1 driver  12.00 dBm  -7.00 dB to P1dB  compressed here\n"
	                              "  2  pad  11.00 dBm  held back by stage 1\n"
	                              "  3  Q3 final  34.00 dBm  14.00 dB to P1dB  held back by stage 1\n");
	hs_buf_free(&out);
}

static void noise_limits_what_does_not_rise_above_it(void **state)
{
	(void)state;
	/* 6 dB of pad at 290 K, then 3 dB: 9 dB together; the second stage adds more than the pad. */
	static const hs_stage chain[] = {{.name = "pad", .gain_db = -6, .passive = true},
	                                 {.name = "A1", .gain_db = 20, .nf_db = 3, .has_p1db = true, .op1db_dbm = 10}};
	hs_node nodes[2];
	hs_error error = {0};
	assert_true(hs_cascade_levels(chain, 2, -110, 10e3, nodes, NULL));
	assert_source("kT0 + 40 dB", nodes[0].noise_dbm, -133.975, 5e-4);
	assert_source("a pad loses what it adds: 18 dB", nodes[0].snr_db, -110 + 133.975 - 6, 5e-4);
	assert_source("NF 9 dB", nodes[1].snr_db, -110 + 133.975 - 9, 5e-4);
	assert_int_equal(nodes[1].limit, HS_LIMIT_NONE);
	assert_true(hs_cascade_levels(chain, 2, -130, 1e6, nodes, NULL));
	assert_int_equal(nodes[0].limit, HS_LIMIT_NOISE);
	assert_int_equal(nodes[0].limited_by, 0);
	assert_int_equal(nodes[1].limit, HS_LIMIT_NOISE);
	assert_int_equal(nodes[1].limited_by, 1); /* 3.98 x 0.995 of excess against 2.98 */
	hs_buf out;
	hs_buf_init(&out);
	hs_cascade_print(&out, chain, nodes, 2);
	assert_string_equal(out.data,
	                    "  1  pad  -136.00 dBm  -22.02 dB above the noise  lost in noise, most of it from stage 1\n"
	                    "  2  A1  -116.00 dBm  126.00 dB to P1dB  -25.02 dB above the noise  lost in noise, most "
	                    "of it from stage 2\n");
	hs_buf_free(&out);
	/* Compression goes before noise, and without a bandwidth noise limits nothing. */
	assert_true(hs_cascade_levels(chain, 2, 20, 10e3, nodes, NULL));
	assert_int_equal(nodes[1].limit, HS_LIMIT_COMPRESSED);
	assert_true(hs_cascade_levels(chain, 2, -300, 0, nodes, NULL));
	assert_true(!nodes[1].has_noise && nodes[1].limit == HS_LIMIT_NONE);
	assert_refused(hs_cascade_levels(chain, 2, 0, -1, nodes, &error), &error,
	               "the bandwidth is -1 Hz; it must be at least 0 Hz");
}

static void loss_in_front_never_helps(void **state)
{
	(void)state;
	double before = 0;
	for (double loss = 0; loss < 40; loss += 0.5) {
		const hs_stage chain[] = {
		    {.gain_db = -loss, .passive = true}, {.gain_db = 20, .nf_db = 2}, {.gain_db = 5, .nf_db = 9}};
		hs_cascade got;
		assert_true(hs_cascade_of(chain, 3, &got, NULL));
		assert_true(got.nf_db > before);
		before = got.nf_db;
	}
}

static void chains_that_cannot_be_are_refused(void **state)
{
	(void)state;
	static const struct {
		hs_stage stages[2];
		const char *message;
	} rows[] = {
	    {{{.gain_db = 10, .nf_db = 3}, {.name = "K12", .gain_db = 1, .passive = true}},
	     "stage 2 (K12): a passive stage has a gain of 1 dB; it can only lose"},
	    {{{.gain_db = NAN}}, "stage 1: the gain of a stage is not a number; a finite number is wanted"},
	    {{{.gain_db = 1, .nf_db = -1}}, "stage 1: the noise figure is -1 dB; it must be at least 0 dB"},
	    {{{.gain_db = -1, .passive = true, .kelvin = -4}},
	     "stage 1: the temperature in kelvin is -4; it must be at least 0"},
	    {{{.gain_db = 1, .has_p1db = true, .op1db_dbm = INFINITY}},
	     "stage 1: its P1dB is infinite; a finite number is wanted"},
	    {{{.gain_db = -4000, .passive = true}}, "stage 1: the noise factor lies outside the range of numbers"},
	};
	hs_cascade got = {.gain_db = -7};
	hs_node nodes[2];
	hs_error error = {0};
	for (size_t i = 0; i < COUNT(rows); i++) {
		assert_refused(hs_cascade_of(rows[i].stages, 2, &got, &error), &error, rows[i].message);
		assert_true(got.gain_db == -7);
	}
	assert_refused(hs_cascade_of(NULL, 0, &got, &error), &error, "the chain holds no stages");
	assert_refused(hs_cascade_levels(rows[0].stages, 1, NAN, 0, nodes, &error), &error,
	               "the input level is not a number; a finite number is wanted");
	double x;
	assert_refused(hs_im3(30, 30, &x, &error), &error, "a tone of 30 dBm is not below the intercept of 30 dBm");
	assert_refused(hs_spurious_free_range(-90, -90, &x, &error), &error,
	               "the intercept is -90 dBm; it must be above -90 dBm");
	assert_refused(hs_temperature_of_nf(-0.1, &x, &error), &error,
	               "the noise figure is -0.1 dB; it must be at least 0 dB");
	assert_refused(hs_nf_of_temperature(NAN, &x, &error), &error,
	               "the noise temperature in kelvin is not a number; a finite number is wanted");
	assert_refused(hs_nf_of_y(5, 10, &x, &error), &error,
	               "a Y factor of 10 dB with an ENR of 5 dB gives a noise figure below 0 dB");
	assert_refused(hs_nf_of_y(5, 0, &x, &error), &error, "the Y factor is 0 dB; it must be above 0 dB");
	assert_true(hs_nf_of_y(15, 3.0102999566398120, &x, NULL));
	assert_source("Y = 2: NF = ENR", x, 15, 0);
	assert_true(hs_nf_of_y(15, 10, &x, NULL));
	assert_source("Y = 10: 15 - 10 log10 9", x, 5.4575749056067512, 0);
	assert_refused(hs_nf_of_y(NAN, 10, &x, &error), &error,
	               "the excess noise ratio is not a number; a finite number is wanted");
	assert_true(hs_temperature_of_nf(3.0102999566398120, &x, NULL));
	assert_source("3.01 dB: 290 K", x, 290, 0);
	assert_true(hs_temperature_of_nf(1, &x, NULL));
	assert_source("1 dB: 75.1 K", x, 75.1, 5e-2);
	assert_true(hs_stage_factor(&(hs_stage){.gain_db = 10, .nf_db = 3.0102999566398120}, &x, NULL));
	assert_source("3.01 dB: F = 2", x, 2, 0);
	assert_true(hs_stage_factor(&(hs_stage){.gain_db = -10, .passive = true, .kelvin = 145}, &x, NULL));
	assert_source("10 dB pad at half of T0: 1 + 9/2", x, 5.5, 0);
	assert_refused(hs_stage_factor(&(hs_stage){.gain_db = 1, .passive = true}, &x, &error), &error,
	               "a passive stage has a gain of 1 dB; it can only lose");
}

static void frequencies_are_converted(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		double rf, lo;
		bool sum;
		hs_conversion want;
	} rows[] = {
	    {"broadcast receiver, 10.7 MHz IF", 98.1e6, 108.8e6, false, {10.7e6, true, true, 119.5e6}},
	    {"Pozar, cellular band 894 MHz, 87 MHz IF, low side", 894e6, 807e6, false, {87e6, false, false, 720e6}},
	    {"up", 70e6, 1000e6, true, {1070e6, true, false, 2070e6}},
	    {"oscillator far below: the image is a sum product", 1000e6, 100e6, false, {900e6, false, false, 800e6}},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_conversion got, image;
		assert_true(hs_mix(rows[i].rf, rows[i].lo, rows[i].sum, &got, NULL));
		assert_source(rows[i].source, got.if_hz, rows[i].want.if_hz, 0);
		assert_source(rows[i].source, got.image_hz, rows[i].want.image_hz, 0);
		assert_int_equal(got.high_side, rows[i].want.high_side);
		assert_int_equal(got.inverted, rows[i].want.inverted);
		/* The image comes out at the same IF, as a difference or as a sum. */
		assert_true(hs_mix(got.image_hz, rows[i].lo, false, &image, NULL));
		assert_true(fabs(image.if_hz - got.if_hz) < 1 || fabs(got.image_hz + rows[i].lo - got.if_hz) < 1);
	}
	double lo;
	int first, last;
	hs_conversion none;
	hs_error error = {0};
	assert_true(hs_oscillator_for(98.1e6, 10.7e6, true, &lo, NULL));
	assert_source("high side", lo, 108.8e6, 0);
	assert_true(hs_oscillator_for(98.1e6, 10.7e6, false, &lo, NULL));
	assert_source("low side", lo, 87.4e6, 0);
	assert_true(hs_harmonic(145e6, 3, &lo, NULL));
	assert_source("third", lo, 435e6, 0);
	assert_true(hs_harmonics_within(0.1e6, 0.25e6, 0.7e6, &first, &last, NULL));
	assert_int_equal(first, 3);
	assert_int_equal(last, 7);
	assert_true(hs_harmonics_within(100e6, 110e6, 190e6, &first, &last, NULL));
	assert_true(first > last);
	assert_refused(hs_mix(1e6, 1e6, false, &none, &error), &error,
	               "signal and oscillator are both at 1000000 Hz and leave no difference");
	assert_refused(hs_mix(0, 1e6, false, &none, &error), &error, "the signal is 0 Hz; it must be above 0 Hz");
	assert_refused(hs_oscillator_for(10e6, 10.7e6, false, &lo, &error), &error,
	               "an intermediate frequency of 10700000 Hz is not below the signal at 10000000 Hz");
	assert_refused(hs_harmonic(1e6, 0, &lo, &error), &error,
	               "the number of the harmonic is 0; it must be at least 1");
	assert_refused(hs_harmonics_within(1, 10, 5, &first, &last, &error), &error,
	               "the upper end of the band is 5 Hz; it must be at least 10 Hz");
}

static const hs_spur *spur_at(const hs_spur *spurs, size_t count, int m, int n, double freq_hz)
{
	for (size_t i = 0; i < count; i++)
		if (spurs[i].m == m && spurs[i].n == n && fabs(spurs[i].freq_hz - freq_hz) < 1)
			return &spurs[i];
	return NULL;
}

static void the_spur_table_is_complete(void **state)
{
	(void)state;
	hs_spur spurs[HS_SPUR_ORDER_MOST * (HS_SPUR_ORDER_MOST + 1)];
	size_t count, again;
	assert_true(hs_spur_table(900e6, 1000e6, 5, 90e6, 110e6, NULL, 0, &count, NULL));
	assert_int_equal(count, 30); /* 2k of each order k */
	assert_true(hs_spur_table(900e6, 1000e6, 5, 90e6, 110e6, spurs, count, &again, NULL));
	assert_int_equal(again, 30);
	for (size_t i = 0; i + 1 < count; i++)
		assert_true(spurs[i].order < spurs[i + 1].order ||
		            (spurs[i].order == spurs[i + 1].order && spurs[i].freq_hz <= spurs[i + 1].freq_hz));
	for (size_t i = 0; i < count; i++)
		assert_true(spurs[i].freq_hz >= 0 && spurs[i].order == spurs[i].m + abs(spurs[i].n));
	assert_non_null(spur_at(spurs, count, 1, 1, 1900e6));
	assert_non_null(spur_at(spurs, count, 2, 3, 4800e6));
	const hs_spur *wanted = spur_at(spurs, count, 1, -1, 100e6);
	assert_true(wanted && wanted->wanted && wanted->in_band && wanted->order == 2);
	const hs_spur *third = spur_at(spurs, count, 2, -1, 800e6);
	assert_true(third && !third->wanted && !third->in_band && third->order == 3);
	assert_true(hs_spur_inputs(1000e6, 100e6, 4, 940e6, 960e6, spurs, COUNT(spurs), &count, NULL));
	assert_int_equal(count, 16);
	assert_non_null(spur_at(spurs, count, 1, -1, 1100e6));
	assert_non_null(spur_at(spurs, count, 1, -1, 900e6));
	const hs_spur *half_if = spur_at(spurs, count, 2, -2, 950e6);
	assert_true(half_if && half_if->in_band);
	assert_non_null(spur_at(spurs, count, 1, 0, 100e6));
	for (size_t i = 0; i < count; i++)
		assert_near(fabs(spurs[i].m * spurs[i].freq_hz + spurs[i].n * 1000e6) / 100e6, 1);
	assert_true(hs_spur_table(1, 2, HS_SPUR_ORDER_MOST, 0, 1, spurs, COUNT(spurs), &count, NULL));
	assert_int_equal(count, COUNT(spurs));
	hs_error error = {0};
	assert_refused(hs_spur_table(1, 2, 21, 0, 1, spurs, 0, &count, &error), &error,
	               "the highest order is 21; it must lie between 1 and 20");
	assert_refused(hs_spur_table(NAN, 2, 2, 0, 1, spurs, 0, &count, &error), &error,
	               "the signal is not a number; a finite number is wanted");
	assert_refused(hs_spur_inputs(1, 0, 2, 0, 1, spurs, 0, &count, &error), &error,
	               "the intermediate frequency is 0 Hz; it must be above 0 Hz");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(published_chains_come_out_right),
	    cmocka_unit_test(compression_and_intercept),
	    cmocka_unit_test(levels_say_what_limits_them),
	    cmocka_unit_test(noise_limits_what_does_not_rise_above_it),
	    cmocka_unit_test(loss_in_front_never_helps),
	    cmocka_unit_test(chains_that_cannot_be_are_refused),
	    cmocka_unit_test(frequencies_are_converted),
	    cmocka_unit_test(the_spur_table_is_complete),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
