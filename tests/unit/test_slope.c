/* How a loss goes with frequency. */
#include "measure_rows.h"
#include "halfsplit/lineup/lineup.h"
#include "halfsplit/lineup/slope.h"

static const double decade[] = {10e6, 20e6, 50e6, 100e6};

static hs_slope slope_of(const char *fault, double offset_db, double u_db)
{
	hs_effect effect;
	hs_loss_at readings[4];
	hs_slope got;
	assert_true(hs_effect_read(fault, &effect, NULL));
	for (size_t i = 0; i < 4; i++)
		readings[i] = (hs_loss_at){decade[i], hs_effect_loss(&effect, 50, decade[i]) + offset_db};
	assert_true(hs_slope_of(readings, 4, u_db, &got, NULL));
	return got;
}

static void each_kind_of_fault_has_its_slope(void **state)
{
	(void)state;
	/* A gap of 1 pF between 10 and 100 MHz: 20 dB a decade, less what the line itself adds near the top. */
	hs_slope gap = slope_of("open 1 pF", 0, 0.2);
	assert_int_equal(gap.kind, HS_SLOPE_FALLING);
	assert_source("20 dB a decade", gap.db_per_decade, -20, 0.05);
	/* 3 uH: 20 dB a decade once its reactance is well above 100 ohm; here 5.5 dB at 10 MHz, 25.5 dB at 100 MHz. */
	hs_slope coil = slope_of("series 3 uH", 0, 0.2);
	assert_int_equal(coil.kind, HS_SLOPE_RISING);
	assert_true(coil.db_per_decade > 17 && coil.db_per_decade < 20.5);
	hs_slope joint = slope_of("resistive 200 ohm", 0, 0.2);
	assert_int_equal(joint.kind, HS_SLOPE_FLAT);
	assert_source("20 log10(3)", joint.mean_db, 9.542425, 1e-5);
	assert_source("no slope", joint.db_per_decade, 0, 1e-9);
	/* A weak stage on top changes the mean, not the slope. */
	assert_source("6 dB more", slope_of("open 1 pF", 6, 0.2).mean_db, gap.mean_db + 6, 1e-9);
}

static void by_hand_and_unsure(void **state)
{
	(void)state;
	/*
	 * 10 dB, 8 dB, 6 dB at 1, 10, 100 MHz: x - mean = -1, 0, 1; slope = (-1 x 2 + 1 x -2)/2 = -2 dB a decade, mean 8. u: 2 x 0.5/sqrt 2.
	 */
	static const hs_loss_at line[] = {{1e6, 10}, {10e6, 8}, {100e6, 6}};
	static const hs_loss_at steep[] = {{1e6, 20}, {10e6, 10}, {100e6, 0}};
	static const hs_loss_at wild[] = {{1e6, 20}, {10e6, 0}, {100e6, 10}};
	hs_slope got;
	assert_true(hs_slope_of(line, 3, 0.5, &got, NULL));
	assert_source("slope", got.db_per_decade, -2, 1e-12);
	assert_source("mean", got.mean_db, 8, 1e-12);
	assert_source("U", got.u_db_per_decade, 2 * 0.5 / sqrt(2), 1e-12);
	assert_int_equal(got.kind, HS_SLOPE_FLAT); /* under 3 dB a decade */
	assert_true(hs_slope_of(steep, 3, 0.5, &got, NULL));
	assert_int_equal(got.kind, HS_SLOPE_FALLING);
	assert_true(hs_slope_of(steep, 3, 8, &got, NULL));
	assert_int_equal(got.kind, HS_SLOPE_FLAT); /* 10 dB a decade +/- 11.3 */
	assert_true(hs_slope_of(wild, 3, 0.1, &got, NULL));
	assert_int_equal(got.kind, HS_SLOPE_FLAT); /* -5 dB a decade, and the points scatter by 12 */
}

static void what_is_too_little(void **state)
{
	(void)state;
	static const hs_loss_at near[] = {{10e6, 1}, {12e6, 1}, {15e6, 1}}, zero[] = {{0, 1}, {12e6, 1}, {15e6, 1}};
	hs_slope got;
	hs_error error = {0};
	assert_refused(hs_slope_of(near, 2, 0, &got, &error), &error, "a slope wants three readings at least, and here are 2");
	assert_refused(hs_slope_of(near, 3, 0, &got, &error), &error, "a slope wants an octave at least, and the readings lie within less");
	assert_refused(hs_slope_of(zero, 3, 0, &got, &error), &error, "the frequency of a reading is 0 Hz; it must be above 0 Hz");
	assert_string_equal(hs_slope_name(HS_SLOPE_RISING), "rising");
	assert_non_null(strstr(hs_slope_means(HS_SLOPE_FALLING), "gap"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(each_kind_of_fault_has_its_slope),
	    cmocka_unit_test(by_hand_and_unsure),
	    cmocka_unit_test(what_is_too_little),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
