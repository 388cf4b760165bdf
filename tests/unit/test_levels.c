/* Levels in every unit, crest factors, sums, means, carriers and bandwidths. */
#include "measure_rows.h"
#include "halfsplit/quantity/level.h"

static hs_quantity q(double value, hs_unit unit)
{
	return (hs_quantity){value, unit};
}

static void conversions_agree_with_their_sources(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		double from;
		hs_unit unit;
		hs_level_terms terms;
		hs_unit to;
		double want, half_digit;
	} rows[] = {
	    {"ITU-R V.574: dBuV in 50 ohm, 90 + 10 log10 50", 0, HS_DBM, {50, {0}}, HS_DBUV, 106.9897, 5e-5},
	    {"ITU-R V.574: dBuV in 75 ohm, 90 + 10 log10 75", 0, HS_DBM, {75, {0}}, HS_DBUV, 108.7506, 5e-5},
	    {"0 dBm in 600 ohm is 0 dBu, IEC 60027-3", 0, HS_DBM, {600, {0}}, HS_DBU, 0, 1e-12},
	    {"IEC 60027-3: 0 dBu = sqrt 0.6 V, not 0.775", 0, HS_DBU, {0, {0}}, HS_VOLT, 0.7745966692414834, 0},
	    {"IEC 60027-3: 0 dBV = -10 log10 0.6 = 2.2185 dBu", 0, HS_DBV, {0, {0}}, HS_DBU, 2.2185, 5e-5},
	    {"P = V^2/R: 0 dBm in 50 ohm = 223.6 mV", 0, HS_DBM, {50, {0}}, HS_VOLT, 0.2236, 5e-5},
	    {"P = V^2/R, peak of a sine sqrt 2: 632.5 mV p-p", 0, HS_DBM, {50, {0}}, HS_VPP, 0.6325, 5e-5},
	    {"P = Vpp^2/(8 R): 10 Vpp sine in 50 ohm = 23.98 dBm", 10, HS_VPP, {50, {0}}, HS_DBM, 23.98, 5e-3},
	    {"P = Vpp^2/(4 R): 10 Vpp square in 50 ohm = 26.99 dBm",
	     10,
	     HS_VPP,
	     {50, {.shape = HS_SQUARE}},
	     HS_DBM,
	     26.99,
	     5e-3},
	    {"P = Vpp^2/(12 R): 10 Vpp triangle in 50 ohm = 22.22 dBm",
	     10,
	     HS_VPP,
	     {50, {.shape = HS_TRIANGLE}},
	     HS_DBM,
	     22.22,
	     5e-3},
	    {"1 V rms noise at 3 sigma", 1, HS_VOLT, {0, {.shape = HS_NOISE, .sigmas = 3}}, HS_VPP, 6, 0},
	    {"IEC 60469: pulse of duty 1/4 from 0 to 10 V, rms = peak x sqrt duty",
	     10,
	     HS_VPP,
	     {0, {.shape = HS_PULSE, .duty = 0.25}},
	     HS_VOLT,
	     5,
	     0},
	    {"Vpp of a pulse is its peak", 7, HS_VPK, {0, {.shape = HS_PULSE, .duty = 0.1}}, HS_VPP, 7, 0},
	    {"1 W = 30 dBm", 1, HS_WATT, {0, {0}}, HS_DBM, 30, 0},
	    {"ITU-R V.574: 60 dBmV in 75 ohm = 11.25 dBm", 60, HS_DBMV, {75, {0}}, HS_DBM, 11.25, 5e-3},
	    {"decibels never overflow", 4000, HS_DBM, {50, {0}}, HS_DBUV, 4106.98970004336, 0},
	    {"nor vanish", -4000, HS_DBW, {0, {0}}, HS_DBM, -3970, 0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_quantity got = {0};
		assert_true(hs_level_convert(q(rows[i].from, rows[i].unit), rows[i].to, rows[i].terms, &got, NULL));
		assert_int_equal(got.unit, rows[i].to);
		assert_source(rows[i].source, got.value, rows[i].want, rows[i].half_digit);
	}
}

static void every_pair_of_units_converts_there_and_back(void **state)
{
	(void)state;
	static const hs_unit units[] = {HS_DBM, HS_DBW, HS_WATT, HS_VOLT, HS_VPK,
	                                HS_VPP, HS_DBV, HS_DBU,  HS_DBUV, HS_DBMV};
	static const hs_waveform waves[] = {{0},
	                                    {.shape = HS_SQUARE},
	                                    {.shape = HS_TRIANGLE},
	                                    {.shape = HS_NOISE, .sigmas = 4},
	                                    {.shape = HS_PULSE, .duty = 0.02}};
	for (size_t a = 0; a < COUNT(units); a++) {
		for (size_t b = 0; b < COUNT(units); b++) {
			for (size_t w = 0; w < COUNT(waves); w++) {
				hs_level_terms terms = {75, waves[w]};
				hs_quantity there, back;
				assert_true(hs_level_convert(q(0.37, units[a]), units[b], terms, &there, NULL));
				assert_true(hs_level_convert(there, units[a], terms, &back, NULL));
				assert_near(back.value, 0.37);
			}
		}
	}
}

static void conversions_that_cannot_be_are_refused(void **state)
{
	(void)state;
	static const struct {
		double from;
		hs_unit unit;
		hs_level_terms terms;
		hs_unit to;
		const char *message;
	} rows[] = {
	    {0, HS_DBM, {0, {0}}, HS_VOLT, "from dBm to V an impedance is needed, and none was given"},
	    {1, HS_VPP, {0, {0}}, HS_DBM, "from V to dBm an impedance is needed, and none was given"},
	    {0, HS_DBM, {-50, {0}}, HS_VOLT, "from dBm to V an impedance above 0 ohm is needed"},
	    {0, HS_DBM, {NAN, {0}}, HS_VOLT, "from dBm to V an impedance above 0 ohm is needed"},
	    {0, HS_WATT, {0, {0}}, HS_DBM, "0 W has no level in decibels"},
	    {-1, HS_WATT, {0, {0}}, HS_DBM, "less than 0 W has no level in decibels"},
	    {NAN, HS_DBM, {0, {0}}, HS_DBM, "the level is not a number; a finite number is wanted"},
	    {INFINITY, HS_VOLT, {0, {0}}, HS_DBV, "the level is infinite; a finite number is wanted"},
	    {1, HS_OHM, {0, {0}}, HS_DBM, "the level is given in \"ohm\" (resistance); a power or a voltage is wanted"},
	    {1, HS_VOLT, {0, {0}}, HS_HERTZ, "\"V\" (voltage) cannot be converted to \"Hz\" (frequency)"},
	    {1, HS_VOLT, {0, {.shape = HS_NOISE}}, HS_VPP, "Gaussian noise has no peak of its own"},
	    {1, HS_VOLT, {0, {.shape = HS_PULSE}}, HS_VPK, "the duty of the pulse is 0; it must be above 0"},
	    {1,
	     HS_VOLT,
	     {0, {.shape = HS_PULSE, .duty = 1.5}},
	     HS_VPK,
	     "the duty of the pulse is 1.5; it must lie between 0 and 1"},
	    {4000, HS_DBM, {0, {0}}, HS_WATT, "4000 dBm is too large to be written in W"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_error error = {0};
		hs_quantity got = {-7, HS_GRAM};
		assert_refused(hs_level_convert(q(rows[i].from, rows[i].unit), rows[i].to, rows[i].terms, &got, &error),
		               &error, rows[i].message);
		assert_true(got.value == -7 && got.unit == HS_GRAM);
	}
}

static void crest_and_form_factors(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		hs_waveform wave;
		double crest, crest_db, form;
	} rows[] = {
	    {"sine: sqrt 2, 3.0103 dB, pi/sqrt 8", {0}, 1.4142136, 3.0103, 1.1107207},
	    {"square: all 1", {.shape = HS_SQUARE}, 1, 0, 1},
	    {"triangle: sqrt 3, 4.7712 dB", {.shape = HS_TRIANGLE}, 1.7320508, 4.7712, 1.1547005},
	    {"pulse 1/sqrt duty", {.shape = HS_PULSE, .duty = 0.01}, 10, 20, 10},
	    {"noise at 4 sigma: 12.0412 dB", {.shape = HS_NOISE, .sigmas = 4}, 4, 12.0412, 1.2533141},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double crest, db, form;
		assert_true(hs_crest_factor(rows[i].wave, &crest, NULL));
		assert_true(hs_crest_db(rows[i].wave, &db, NULL));
		assert_true(hs_form_factor(rows[i].wave, &form, NULL));
		assert_source(rows[i].source, crest, rows[i].crest, 5e-8);
		assert_source(rows[i].source, db, rows[i].crest_db, 5e-5);
		assert_source(rows[i].source, form, rows[i].form, 5e-8);
		hs_wave found;
		assert_true(hs_wave_find(hs_wave_name(rows[i].wave.shape), &found));
		assert_int_equal(found, rows[i].wave.shape);
	}
	hs_wave none;
	hs_error error = {0};
	double crest;
	assert_false(hs_wave_find("sawdust", &none));
	assert_refused(hs_crest_factor((hs_waveform){.shape = (hs_wave)99}, &crest, &error), &error,
	               "the waveform is none of sine, square, triangle, noise, pulse");
	assert_refused(hs_form_factor((hs_waveform){.shape = HS_PULSE, .duty = -1}, &crest, &error), &error,
	               "the duty of the pulse is -1; it must be above 0");
}

static void emf_and_matched_pd_are_6_02_db_apart(void **state)
{
	(void)state;
	hs_quantity got;
	hs_error error = {0};
	assert_true(hs_pd_of_emf(q(113.0103, HS_DBUV), &got, NULL));
	assert_source("20 log10 2", got.value, 106.9897, 5e-5);
	assert_true(hs_emf_of_pd(q(1, HS_VOLT), &got, NULL));
	assert_source("EMF = 2 PD", got.value, 2, 0);
	assert_true(hs_pd_into(q(2, HS_VOLT), 50, 50, &got, NULL));
	assert_source("matched", got.value, 1, 0);
	assert_true(hs_pd_into(q(3, HS_VPP), 50, 100, &got, NULL));
	assert_source("divider", got.value, 2, 0);
	assert_true(hs_available_power(q(113.01029995663981, HS_DBUV), 50, &got, NULL));
	assert_source("106.9897 dBuV PD = 0 dBm", got.value + 1, 1, 0);
	assert_refused(hs_pd_of_emf(q(0, HS_DBM), &got, &error), &error,
	               "the EMF is given in dBm, and a power has no EMF");
	assert_refused(hs_pd_into(q(1, HS_VOLT), -1, 50, &got, &error), &error,
	               "the source resistance is -1 ohm; it must be at least 0 ohm");
	assert_refused(hs_pd_into(q(1, HS_VOLT), 50, 0, &got, &error), &error,
	               "the load resistance is 0 ohm; it must be above 0 ohm");
	assert_refused(hs_available_power(q(1, HS_VOLT), NAN, &got, &error), &error,
	               "the source resistance is not a number; a finite number is wanted");
}

static void powers_add_as_powers(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		hs_quantity parts[4];
		size_t count;
		hs_unit unit;
		double ohm, want, half_digit;
	} rows[] = {
	    {"two equals: 3.01 dB", {{0, HS_DBM}, {0, HS_DBM}}, 2, HS_DBM, 0, 3.0102999566398120, 0},
	    {"two equals far out", {{4000, HS_DBM}, {4000, HS_DBM}}, 2, HS_DBM, 0, 4003.0102999566398, 0},
	    {"one small beside one large", {{0, HS_DBM}, {-30, HS_DBM}}, 2, HS_DBM, 0, 0.0043407747931864066, 0},
	    {"-100 dB still counts", {{0, HS_DBM}, {-100, HS_DBM}}, 2, HS_DBM, 0, 4.3429448188e-10, 0},
	    {"1 W and 1 W", {{1, HS_WATT}, {30, HS_DBM}}, 2, HS_WATT, 0, 2, 0},
	    {"3 V and 4 V of unlike signals", {{3, HS_VOLT}, {4, HS_VOLT}}, 2, HS_VOLT, 0, 5, 0},
	    {"0 W adds nothing", {{0, HS_WATT}, {7, HS_DBM}}, 2, HS_DBM, 0, 7, 0},
	    {"a voltage among powers",
	     {{0, HS_DBM}, {0.22360679774997896, HS_VOLT}},
	     2,
	     HS_DBM,
	     50,
	     3.0102999566398120,
	     0},
	    {"nothing at all in watts", {{0, HS_WATT}, {0, HS_WATT}}, 2, HS_WATT, 0, 0, 0},
	    {"four equals: 6.02 dB",
	     {{-9, HS_DBM}, {-9, HS_DBM}, {-9, HS_DBM}, {-9, HS_DBM}},
	     4,
	     HS_DBM,
	     0,
	     -2.979400086720376,
	     0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_quantity sum;
		assert_true(hs_power_sum(rows[i].parts, rows[i].count, rows[i].unit, rows[i].ohm, &sum, NULL));
		assert_source(rows[i].source, sum.value, rows[i].want, rows[i].half_digit);
	}
}

static void a_sum_is_never_below_its_largest_part(void **state)
{
	(void)state;
	for (int i = 0; i < 4000; i++) {
		double a = sin(i * 12.9898) * 200, b = sin(i * 78.233) * 200, c = sin(i * 39.425) * 200;
		hs_quantity parts[3] = {{a, HS_DBM}, {b, HS_DBM}, {c, HS_DBM}}, sum, mean, rest;
		double largest = fmax(a, fmax(b, c)), least = fmin(a, fmin(b, c));
		assert_true(hs_power_sum(parts, 3, HS_DBM, 0, &sum, NULL));
		assert_true(hs_power_mean(parts, 3, HS_DBM, 0, &mean, NULL));
		assert_true(sum.value >= largest && sum.value <= largest + 10 * log10(3) + 1e-9);
		assert_true(mean.value >= least - 1e-9 && mean.value <= largest + 1e-9);
		double up = fmax(a, b), down = fmin(a, b);
		if (up - down > 60)
			continue;
		assert_true(hs_power_sum(parts, 2, HS_DBM, 0, &sum, NULL));
		assert_true(hs_power_difference(sum, q(up, HS_DBM), HS_DBM, 0, &rest, NULL));
		assert_true(fabs(rest.value - down) < 1e-5);
	}
}

static void differences_and_means(void **state)
{
	(void)state;
	hs_quantity got;
	hs_error error = {0};
	const hs_quantity two[] = {{0, HS_DBM}, {10, HS_DBM}}, volts[] = {{1, HS_VOLT}, {7, HS_VOLT}};
	assert_true(hs_power_mean(two, 2, HS_DBM, 0, &got, NULL));
	assert_source("10 log10 5.5, not 5 dBm", got.value, 7.4036268949424389, 0);
	assert_true(hs_power_mean(volts, 2, HS_VOLT, 0, &got, NULL));
	assert_source("root of the mean square", got.value, 5, 0);
	assert_true(hs_power_difference(q(3.0102999566398120, HS_DBM), q(0, HS_DBM), HS_DBM, 0, &got, NULL));
	assert_near(got.value, 0);
	assert_true(hs_power_difference(q(5, HS_VOLT), q(3, HS_VOLT), HS_VOLT, 0, &got, NULL));
	assert_source("5, 4, 3", got.value, 4, 0);
	assert_true(hs_power_difference(q(3, HS_WATT), q(0, HS_WATT), HS_WATT, 0, &got, NULL));
	assert_source("nothing taken away", got.value, 3, 0);
	assert_refused(hs_power_difference(q(1, HS_DBM), q(1, HS_DBM), HS_DBM, 0, &got, &error), &error,
	               "the total is not above the part: 0 dB over it");
	assert_refused(hs_power_difference(q(1, HS_DBM), q(2, HS_DBM), HS_DBM, 0, &got, &error), &error,
	               "the total is not above the part: -1 dB over it");
	assert_refused(hs_power_difference(q(5, HS_VOLT), q(1, HS_VPP), HS_VOLT, 0, &got, &error), &error,
	               "the part is in Vpp, and peaks of unlike signals do not add as powers");
	assert_refused(hs_power_difference(q(NAN, HS_VOLT), q(1, HS_VOLT), HS_VOLT, 0, &got, &error), &error,
	               "the total is not a number; a finite number is wanted");
	assert_refused(hs_power_sum(two, 0, HS_DBM, 0, &got, &error), &error, "there is nothing to add");
	assert_refused(hs_power_sum(volts, 2, HS_DBM, 0, &got, &error), &error,
	               "from V to dBm an impedance is needed, and none was given");
	assert_refused(hs_power_sum(two, 2, HS_VPP, 50, &got, &error), &error,
	               "the sum is in Vpp, and peaks of unlike signals do not add as powers");
	const hs_quantity none[] = {{0, HS_WATT}}, bad[] = {{NAN, HS_DBM}}, below[] = {{-1, HS_WATT}};
	assert_refused(hs_power_sum(none, 1, HS_DBM, 0, &got, &error), &error,
	               "the sum is 0, which has no level in decibels");
	assert_refused(hs_power_mean(bad, 1, HS_DBM, 0, &got, &error), &error,
	               "a part of the sum is not a number; a finite number is wanted");
	assert_refused(hs_power_mean(below, 1, HS_WATT, 0, &got, &error), &error, "a part of the sum is below 0 W");
}

static void tones_add_as_arrows(void **state)
{
	(void)state;
	static const struct {
		const char *source;
		hs_tone tones[3];
		size_t count;
		hs_unit unit;
		double want, degrees;
	} rows[] = {
	    {"two equals in phase: 6.02 dB", {{{0, HS_DBM}, 0}, {{0, HS_DBM}, 0}}, 2, HS_DBM, 6.020599913279624, 0},
	    {"a quarter turn: 3.01 dB", {{{0, HS_DBM}, 0}, {{0, HS_DBM}, 90}}, 2, HS_DBM, 3.010299956639812, 45},
	    {"120 degrees apart: no gain", {{{5, HS_DBM}, 0}, {{5, HS_DBM}, 120}}, 2, HS_DBM, 5, 60},
	    {"3 V against 1 V", {{{3, HS_VOLT}, 0}, {{1, HS_VOLT}, 180}}, 2, HS_VOLT, 2, 0},
	    {"1 W and 1 W in phase", {{{1, HS_WATT}, 180}, {{1, HS_WATT}, -180}}, 2, HS_WATT, 4, 180},
	    {"far out", {{{4000, HS_DBM}, 10}, {{4000, HS_DBM}, 10}}, 2, HS_DBM, 4006.0205999132796, 10},
	    {"a silent one", {{{0, HS_WATT}, 10}, {{9, HS_DBM}, -30}}, 2, HS_DBM, 9, -30},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_quantity sum;
		double degrees = 0;
		assert_true(hs_tone_sum(rows[i].tones, rows[i].count, rows[i].unit, 0, &sum, &degrees, NULL));
		assert_source(rows[i].source, sum.value, rows[i].want, 0);
		assert_near(degrees, rows[i].degrees);
	}
	hs_error error = {0};
	hs_quantity sum = {-7, HS_GRAM};
	const hs_tone null[] = {{{-3, HS_DBM}, 30}, {{-3, HS_DBM}, 210}};
	const hs_tone star[] = {{{0, HS_DBM}, 0}, {{0, HS_DBM}, 120}, {{0, HS_DBM}, 240}};
	const char *cancel = "the tones cancel to an exact null, which has no level";
	assert_refused(hs_tone_sum(null, 2, HS_DBM, 0, &sum, NULL, &error), &error, cancel);
	assert_refused(hs_tone_sum(star, 3, HS_DBM, 0, &sum, NULL, &error), &error, cancel);
	assert_true(sum.value == -7);
	const hs_tone near_null[] = {{{0, HS_DBM}, 0}, {{-0.01, HS_DBM}, 180}};
	assert_true(hs_tone_sum(near_null, 2, HS_DBM, 0, &sum, NULL, NULL));
	assert_source("0.01 dB apart: 58.8 dB deep", sum.value, -58.78, 5e-3);
	assert_refused(hs_tone_sum(null, 0, HS_DBM, 0, &sum, NULL, &error), &error, "there is nothing to add");
	const hs_tone lost[] = {{{0, HS_DBM}, INFINITY}};
	assert_refused(hs_tone_sum(lost, 1, HS_DBM, 0, &sum, NULL, &error), &error,
	               "the phase of a tone is infinite; a finite number is wanted");
}

static void carriers_and_bandwidths(void **state)
{
	(void)state;
	hs_quantity got;
	double db;
	hs_error error = {0};
	assert_true(hs_level_over(q(-43, HS_DBM), q(10, HS_DBM), 0, &db, NULL));
	assert_source("dBc", db, -53, 0);
	assert_true(hs_level_over(q(10e-6, HS_VOLT), q(1, HS_VOLT), 0, &db, NULL));
	assert_source("dBc of voltages", db, -100, 0);
	assert_true(hs_level_over(q(106.98970004336019, HS_DBUV), q(0, HS_DBM), 50, &db, NULL));
	assert_near(db, 0);
	assert_true(hs_level_from_over(q(10, HS_DBM), -60, &got, NULL));
	assert_source("from dBc", got.value, -50, 0);
	assert_true(hs_density_of_level(q(-113.975, HS_DBM), 1e6, &db, NULL));
	assert_source("kT at 290 K in 1 MHz", db, -173.975, 0);
	assert_true(hs_level_of_density(-173.975, 1e6, &got, NULL));
	assert_source("and back", got.value, -113.975, 0);
	assert_true(hs_level_in_bandwidth(q(-90, HS_DBM), 1e3, 1e5, &got, NULL));
	assert_source("ten times ten", got.value, -70, 0);
	assert_true(hs_level_in_bandwidth(q(2, HS_VOLT), 400, 100, &got, NULL));
	assert_source("root of the bandwidth", got.value, 1, 0);
	assert_true(hs_pulse_power(q(1, HS_WATT), 0.001, &got, NULL));
	assert_source("radar: 1 W mean at 0.1 % is 1 kW", got.value, 1000, 0);
	assert_refused(hs_level_over(q(1, HS_VOLT), q(0, HS_DBM), 0, &db, &error), &error,
	               "from V to dBW an impedance is needed, and none was given");
	assert_refused(hs_density_of_level(q(1, HS_DBM), 0, &db, &error), &error,
	               "the bandwidth is 0 Hz; it must be above 0 Hz");
	assert_refused(hs_density_of_level(q(1, HS_VOLT), 1, &db, &error), &error,
	               "the level is given in \"V\" (voltage); a power is wanted");
	assert_refused(hs_level_of_density(NAN, 1, &got, &error), &error,
	               "the density is not a number; a finite number is wanted");
	assert_refused(hs_level_in_bandwidth(q(1, HS_DBM), 1, -1, &got, &error), &error,
	               "the bandwidth wanted is -1 Hz; it must be above 0 Hz");
	assert_refused(hs_pulse_power(q(1, HS_WATT), 0, &got, &error), &error,
	               "the duty of the pulse is 0; it must be above 0");
	assert_refused(hs_level_shift(q(1, HS_WATT), NAN, &got, &error), &error,
	               "the shift in decibels is not a number; a finite number is wanted");
	assert_refused(hs_level_shift(q(1, HS_OHM), 1, &got, &error), &error,
	               "the level is given in \"ohm\" (resistance); a power or a voltage is wanted");
	assert_refused(hs_level_over(q(1, HS_OHM), q(1, HS_DBM), 50, &db, &error), &error,
	               "the level is given in \"ohm\" (resistance); a power or a voltage is wanted");
	assert_refused(hs_level_over(q(1, HS_DBM), q(NAN, HS_DBM), 50, &db, &error), &error,
	               "the carrier is not a number; a finite number is wanted");
	assert_refused(hs_level_shift(q(1, HS_WATT), 40000, &got, &error), &error,
	               "the shifted level lies outside the range of numbers");
	assert_refused(hs_level_shift(q(1, HS_WATT), -40000, &got, &error), &error,
	               "the shifted level is too small to be written in W");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(conversions_agree_with_their_sources),
	    cmocka_unit_test(every_pair_of_units_converts_there_and_back),
	    cmocka_unit_test(conversions_that_cannot_be_are_refused),
	    cmocka_unit_test(crest_and_form_factors),
	    cmocka_unit_test(emf_and_matched_pd_are_6_02_db_apart),
	    cmocka_unit_test(powers_add_as_powers),
	    cmocka_unit_test(a_sum_is_never_below_its_largest_part),
	    cmocka_unit_test(differences_and_means),
	    cmocka_unit_test(tones_add_as_arrows),
	    cmocka_unit_test(carriers_and_bandwidths),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
