/* Gamma, SWR, return loss, mismatch and far ends. */
#include "measure_rows.h"
#include "halfsplit/lineup/reflection.h"

static hs_quantity q(double value, hs_unit unit)
{
	return (hs_quantity){value, unit};
}

static void the_table_of_return_loss_agrees(void **state)
{
	(void)state;
	/* The usual conversion table of SWR, as printed in network analyzer handbooks. */
	static const struct {
		double swr, return_loss, half_rl, rho, half_rho, mismatch_loss;
	} rows[] = {
	    {1.01, 46.06, 5e-3, 0.005, 5e-4, 0.0001},  {1.10, 26.44, 5e-3, 0.0476, 5e-5, 0.0099},
	    {1.22, 20.08, 5e-3, 0.0991, 5e-5, 0.0429}, {1.50, 13.979, 5e-4, 0.2000, 5e-5, 0.1773},
	    {2.00, 9.542, 5e-4, 0.3333, 5e-5, 0.5115}, {3.00, 6.021, 5e-4, 0.5000, 5e-5, 1.2494},
	    {10.0, 1.743, 5e-4, 0.8182, 5e-5, 4.8073},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double rl, rho, ml, swr, again;
		assert_true(hs_return_loss_of_swr(rows[i].swr, &rl, NULL));
		assert_source("return loss", rl, rows[i].return_loss, rows[i].half_rl);
		assert_true(hs_rho_of_swr(rows[i].swr, &rho, NULL));
		assert_source("gamma", rho, rows[i].rho, rows[i].half_rho);
		assert_true(hs_mismatch_loss_of_rho(rho, &ml, NULL));
		assert_source("mismatch loss", ml, rows[i].mismatch_loss, 6e-5);
		assert_true(hs_swr_of_return_loss(rl, &swr, NULL));
		assert_source("SWR back from return loss", swr, rows[i].swr, 0);
		assert_true(hs_swr_of_rho(rho, &swr, NULL));
		assert_source("SWR back from gamma", swr, rows[i].swr, 0);
		assert_true(hs_return_loss_of_rho(rho, &again, NULL));
		assert_source("return loss from gamma", again, rl, 0);
		assert_true(hs_rho_of_return_loss(rl, &again, NULL));
		assert_source("gamma from return loss", again, rho, 0);
		assert_true(hs_rho_of_mismatch_loss(ml, &again, NULL));
		assert_source("gamma from mismatch loss", again, rho, 0);
	}
}

static void small_reflections_keep_their_digits(void **state)
{
	(void)state;
	double ml, rho, swr, rl;
	assert_true(hs_mismatch_loss_of_rho(1e-9, &ml, NULL));
	assert_source("10/ln 10 x 1e-18", ml, 4.342944819032518e-18, 0);
	assert_true(hs_rho_of_mismatch_loss(ml, &rho, NULL));
	assert_source("and back", rho, 1e-9, 0);
	assert_true(hs_mismatch_loss_of_rho(0, &ml, NULL));
	assert_true(ml == 0 && !signbit(ml));
	assert_true(hs_swr_of_return_loss(1e-9, &swr, NULL));
	assert_source("40/ln 10/RL", swr, 17371779276.130075, 0);
	assert_true(hs_return_loss_of_swr(swr, &rl, NULL));
	assert_source("and back", rl, 1e-9, 0);
	assert_true(hs_return_loss_of_rho(1, &rl, NULL));
	assert_true(rl == 0 && !signbit(rl));
}

static void impedance_and_gamma(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		hs_complex ohm;
		double reference;
		hs_complex gamma;
	} rows[] = {
	    {"matched", {50, 0}, 50, {0, 0}},
	    {"short", {0, 0}, 50, {-1, 0}},
	    {"75 in 50 ohm: 0.2", {75, 0}, 50, {0.2, 0}},
	    {"25 in 50 ohm: -1/3", {25, 0}, 50, {-1.0 / 3, 0}},
	    {"50 + j50: 0.2 + j0.4", {50, 50}, 50, {0.2, 0.4}},
	    {"j50: j", {0, 50}, 50, {0, 1}},
	    {"100 - j100 in 50: 0.5385 - j0.3077 (7/13, 4/13)", {100, -100}, 50, {7.0 / 13, -4.0 / 13}},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_complex got, back;
		assert_true(hs_gamma_of_impedance(rows[i].ohm, rows[i].reference, &got, NULL));
		assert_near(got.re, rows[i].gamma.re);
		assert_near(got.im, rows[i].gamma.im);
		assert_true(hs_impedance_of_gamma(got, rows[i].reference, &back, NULL));
		assert_near(back.re, rows[i].ohm.re);
		assert_near(back.im, rows[i].ohm.im);
	}
	hs_complex z;
	hs_error error = {0};
	double rho, degrees;
	assert_refused(hs_gamma_of_impedance((hs_complex){-50, 0}, 50, &z, &error), &error,
	               "an impedance of minus the reference has no gamma");
	assert_refused(hs_gamma_of_impedance((hs_complex){50, 0}, 0, &z, &error), &error,
	               "the reference impedance is 0 ohm; it must be above 0 ohm");
	assert_refused(hs_gamma_of_impedance((hs_complex){INFINITY, 0}, 50, &z, &error), &error,
	               "the impedance is infinite; a finite number is wanted");
	assert_refused(hs_impedance_of_gamma((hs_complex){1, 0}, 50, &z, &error), &error,
	               "gamma 1 is an open circuit, which has no finite impedance");
	assert_refused(hs_impedance_of_gamma((hs_complex){0, NAN}, 50, &z, &error), &error,
	               "gamma is not a number; a finite number is wanted");
	for (double turn = -179; turn <= 180; turn += 7) {
		assert_true(hs_gamma_of_polar(0.7, turn, &z, NULL));
		assert_true(hs_polar_of_gamma(z, &rho, &degrees, NULL));
		assert_near(rho, 0.7);
		assert_near(degrees, turn);
	}
	assert_refused(hs_gamma_of_polar(-0.1, 0, &z, &error), &error,
	               "the magnitude of gamma is -0.1; it must be at least 0");
	assert_true(hs_gamma_through((hs_complex){1, 0}, 1, 90, &z, NULL));
	assert_near(z.re, -pow(10, -0.1));
	assert_near(z.im, 0);
	assert_true(hs_gamma_through((hs_complex){1, 0}, 0, 45, &z, NULL));
	assert_near(z.re, 0);
	assert_near(z.im, -1);
	assert_refused(hs_gamma_through((hs_complex){1, 0}, -1, 90, &z, &error), &error,
	               "the loss of the line is -1 dB; it must be at least 0 dB");
}

static void what_cannot_be_reflected_is_refused(void **state)
{
	(void)state;
	double x = -7, y;
	hs_error error = {0};
	assert_refused(hs_return_loss_of_rho(0, &x, &error), &error,
	               "a perfect match (gamma 0) has no return loss in decibels");
	assert_refused(hs_return_loss_of_rho(1.1, &x, &error), &error,
	               "the magnitude of gamma is 1.1; it must lie between 0 and 1");
	assert_refused(hs_rho_of_return_loss(-20, &x, &error), &error,
	               "the return loss is -20 dB; it must be at least 0 dB");
	assert_string_equal(error.hint, "a return loss is positive: write 20 dB, not -20 dB");
	assert_refused(hs_rho_of_return_loss(NAN, &x, &error), &error,
	               "the return loss is not a number; a finite number is wanted");
	assert_refused(hs_swr_of_rho(1, &x, &error), &error, "full reflection (gamma 1) has no finite SWR");
	assert_refused(hs_rho_of_swr(0.9, &x, &error), &error, "the SWR is 0.9; it must be at least 1");
	assert_refused(hs_swr_of_return_loss(0, &x, &error), &error,
	               "a return loss of 0 dB is full reflection, which has no finite SWR");
	assert_refused(hs_return_loss_of_swr(1, &x, &error), &error,
	               "an SWR of 1 is a perfect match, which has no return loss in decibels");
	assert_refused(hs_mismatch_loss_of_rho(1, &x, &error), &error,
	               "full reflection (gamma 1) has no finite mismatch loss");
	assert_refused(hs_mismatch_loss_of_rho(-0.5, &x, &error), &error,
	               "the magnitude of gamma is -0.5; it must lie between 0 and 1");
	assert_refused(hs_rho_of_mismatch_loss(-1, &x, &error), &error,
	               "the mismatch loss is -1 dB; it must be at least 0 dB");
	assert_refused(hs_mismatch_limits(1, 1, &x, &y, &error), &error, "two full reflections leave no lower limit");
	assert_refused(hs_mismatch_limits(0.1, 1.2, &x, &y, &error), &error,
	               "the magnitude of the load's gamma is 1.2; it must lie between 0 and 1");
	assert_refused(hs_mismatch_standard(NAN, 0.1, HS_MISMATCH_KNOWN, &x, &error), &error,
	               "the magnitude of the source's gamma is not a number; a finite number is wanted");
	assert_refused(hs_power_ratio_db(1, &x, &y, &error), &error,
	               "an uncertainty of 100 % of a power has no lower limit in decibels");
	assert_true(x == -7);
}

static void mismatch_is_not_symmetric(void **state)
{
	(void)state;
	double low, high, known, bounded;
	assert_true(hs_mismatch_limits(1.0 / 3, 0.2, &low, &high, NULL));
	assert_source("SWR 2 on SWR 1.5: -0.599 dB", low, -0.599, 5e-4);
	assert_source("SWR 2 on SWR 1.5: +0.561 dB", high, 0.561, 5e-4);
	assert_true(hs_mismatch_limits(1e-9, 1e-9, &low, &high, NULL));
	assert_source("tiny limits survive", high, 8.685889638065036e-18, 0);
	assert_true(hs_mismatch_standard(0.1, 0.2, HS_MISMATCH_KNOWN, &known, NULL));
	assert_true(hs_mismatch_standard(0.1, 0.2, HS_MISMATCH_BOUNDED, &bounded, NULL));
	assert_source("sqrt 2 x 0.02: 2.8 %", known, 0.02828427124746190, 0);
	assert_source("0.02/sqrt 2: 1.4 %, half of it", bounded, known / 2, 0);
	assert_true(hs_power_ratio_db(0.5, &low, &high, NULL));
	assert_source("50 %: -3.01 dB", low, -3.0102999566398120, 0);
	assert_source("50 %: +1.76 dB", high, 1.7609125905568124, 0);
}

static void a_wave_passes_a_pad_twice(void **state)
{
	(void)state;
	double db, rho;
	hs_quantity delivered;
	hs_error error = {0};
	assert_true(hs_return_loss_before(14, 6, &db, NULL));
	assert_source("6 dB pad", db, 26, 0);
	assert_true(hs_return_loss_beyond(26, 6, &db, NULL));
	assert_source("and off again", db, 14, 0);
	assert_true(hs_return_loss_beyond(0.6, 0.1 + 0.2, &db, NULL));
	assert_true(db == 0);
	assert_refused(
	    hs_return_loss_beyond(3, 2, &db, &error), &error,
	    "the measured return loss is below twice the loss: at the far end 1 dB more would be reflected than "
	    "arrives");
	assert_refused(hs_return_loss_beyond(3, -2, &db, &error), &error,
	               "the loss of the cable is -2 dB; it must be at least 0 dB");
	assert_true(hs_loss_of_open_end(5, &db, NULL));
	assert_source("half the return loss of an open end", db, 2.5, 0);
	assert_true(hs_rho_of_powers(q(50, HS_WATT), q(2, HS_WATT), 0, &rho, NULL));
	assert_source("50 W forward, 2 W back: 0.2, SWR 1.5", rho, 0.2, 0);
	assert_true(hs_rho_of_powers(q(40, HS_DBM), q(20, HS_DBM), 3, &rho, NULL));
	assert_source("3 dB of cable hides 6 dB", rho, 0.19952623149688797, 0);
	assert_true(hs_rho_of_powers(q(40, HS_DBM), q(0, HS_WATT), 3, &rho, NULL));
	assert_true(rho == 0);
	assert_true(hs_rho_of_powers(q(40, HS_DBM), q(34, HS_DBM), 3, &rho, NULL));
	assert_true(rho == 1);
	assert_refused(
	    hs_rho_of_powers(q(40, HS_DBM), q(35, HS_DBM), 3, &rho, &error), &error,
	    "reflected is above forward after the correction: at the far end 1 dB more would be reflected than "
	    "arrives");
	assert_refused(hs_rho_of_powers(q(40, HS_DBM), q(-1e9, HS_DBM), 0, &rho, &error), &error,
	               "a reflection 1000000000 dB below forward is too small to be a number");
	assert_refused(hs_rho_of_powers(q(0, HS_WATT), q(1, HS_WATT), 0, &rho, &error), &error,
	               "the forward power is 0 W; it must be above 0 W");
	assert_refused(hs_rho_of_powers(q(1, HS_VOLT), q(1, HS_WATT), 0, &rho, &error), &error,
	               "the forward power is given in \"V\" (voltage); a power is wanted");
	assert_true(hs_delivered_power(q(100, HS_WATT), 1.0 / 3, &delivered, NULL));
	assert_source("SWR 2 takes 11.1 %", delivered.value, 88.888888888888889, 0);
	double low, high;
	assert_true(hs_return_loss_bounds(20, 40, &low, &high, NULL));
	assert_source("20 dB by a 40 dB bridge: from 19.17", low, 19.17, 5e-3);
	assert_source("to 20.92 dB", high, 20.92, 5e-3);
	assert_refused(hs_return_loss_bounds(40, 40, &low, &high, &error), &error,
	               "a return loss of 40 dB is not below the directivity of 40 dB, so nothing bounds it from above");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_table_of_return_loss_agrees),
	    cmocka_unit_test(small_reflections_keep_their_digits),
	    cmocka_unit_test(impedance_and_gamma),
	    cmocka_unit_test(what_cannot_be_reflected_is_refused),
	    cmocka_unit_test(mismatch_is_not_symmetric),
	    cmocka_unit_test(a_wave_passes_a_pad_twice),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
