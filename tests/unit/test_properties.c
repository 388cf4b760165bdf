/* What must hold for every number and not only for those in tables: thousands of them, the same ones in every run. */
#include "measure_rows.h"
#include <stdio.h>
#include "seeded.h"
#include "halfsplit/judge/gum.h"
#include "halfsplit/judge/outcome.h"
#include "halfsplit/lineup/cascade.h"
#include "halfsplit/lineup/coax.h"
#include "halfsplit/lineup/noise.h"
#include "halfsplit/lineup/reflection.h"
#include "halfsplit/quantity/level.h"

#define RUNS 4000

static hs_quantity q(double value, hs_unit unit)
{
	return (hs_quantity){value, unit};
}

/* ---- round trips ---- */

static hs_waveform any_wave(seeded *s)
{
	hs_waveform wave = {.shape = (hs_wave)seeded_of(s, 5)};
	wave.duty = seeded_between(s, 0.001, 1);
	wave.sigmas = seeded_between(s, 0.5, 8);
	return wave;
}

static void every_unit_of_level_there_and_back(void **state)
{
	(void)state;
	static const hs_unit units[] = {HS_DBM, HS_DBW, HS_WATT, HS_VOLT, HS_VPK,
	                                HS_VPP, HS_DBV, HS_DBU,  HS_DBUV, HS_DBMV};
	seeded s = {1};
	for (int i = 0; i < RUNS; i++) {
		hs_level_terms terms = {pow(10, seeded_between(&s, -3, 6)), any_wave(&s)};
		hs_unit a = units[seeded_of(&s, COUNT(units))], b = units[seeded_of(&s, COUNT(units))],
		        c = units[seeded_of(&s, COUNT(units))];
		hs_quantity from = q(hs_unit_is_level(a) ? seeded_between(&s, -200, 200)
		                                         : pow(10, seeded_between(&s, -12, 6)),
		                     a),
		            there, further, straight, back;
		assert_true(hs_level_convert(from, b, terms, &there, NULL));
		assert_true(hs_level_convert(there, a, terms, &back, NULL));
		assert_near(back.value / (fabs(from.value) + 1), from.value / (fabs(from.value) + 1));
		/* By way of a third unit, and straight. */
		assert_true(hs_level_convert(there, c, terms, &further, NULL));
		assert_true(hs_level_convert(from, c, terms, &straight, NULL));
		double size = fabs(straight.value) + (hs_unit_is_level(c) ? 1 : 0);
		assert_near(further.value / size, straight.value / size);
	}
}

static void reflections_there_and_back(void **state)
{
	(void)state;
	seeded s = {2};
	for (int i = 0; i < RUNS; i++) {
		double rho = pow(10, seeded_between(&s, -6, -1e-4)), back, rl, swr, ml, through;
		assert_true(hs_return_loss_of_rho(rho, &rl, NULL) && hs_rho_of_return_loss(rl, &back, NULL));
		assert_near(back / rho, 1);
		assert_true(hs_swr_of_return_loss(rl, &swr, NULL) && hs_return_loss_of_swr(swr, &back, NULL));
		assert_true(fabs(back - rl) < 1e-8);
		assert_true(hs_mismatch_loss_of_rho(rho, &ml, NULL) && hs_rho_of_mismatch_loss(ml, &back, NULL));
		assert_near(back / rho, 1);
		double loss = seeded_between(&s, 0, 20), degrees = seeded_between(&s, -180, 180);
		assert_true(hs_return_loss_before(rl, loss, &through, NULL) &&
		            hs_return_loss_beyond(through, loss, &back, NULL));
		assert_true(fabs(back - rl) < 1e-9 * (1 + rl + loss));
		hs_complex gamma, z, again;
		double z0 = pow(10, seeded_between(&s, 0, 4)), magnitude, angle;
		assert_true(hs_gamma_of_polar(rho, degrees, &gamma, NULL) &&
		            hs_impedance_of_gamma(gamma, z0, &z, NULL) && hs_gamma_of_impedance(z, z0, &again, NULL));
		/* Near a match 1 - 1 is left of the digits. */
		assert_true(hypot(again.re - gamma.re, again.im - gamma.im) < 1e-13 + 1e-12 * rho);
		assert_true(hs_polar_of_gamma(gamma, &magnitude, &angle, NULL));
		assert_near(magnitude / rho, 1);
		assert_true(fabs(angle - degrees) < 1e-9);
		hs_quantity forward = q(seeded_between(&s, -30, 60), HS_DBM), reflected = q(forward.value - rl, HS_DBM);
		assert_true(hs_rho_of_powers(forward, reflected, 0, &back, NULL));
		assert_near(back / rho, 1);
	}
}

static void the_rest_there_and_back(void **state)
{
	(void)state;
	seeded s = {3};
	for (int i = 0; i < RUNS; i++) {
		double a, b, band = pow(10, seeded_between(&s, 0, 9)), dbm = seeded_between(&s, -170, 60);
		hs_quantity level, other;
		assert_true(hs_density_of_level(q(dbm, HS_DBM), band, &a, NULL) &&
		            hs_level_of_density(a, band, &level, NULL));
		assert_true(fabs(level.value - dbm) < 1e-9);
		assert_true(hs_emf_of_pd(q(dbm, HS_DBUV), &level, NULL) && hs_pd_of_emf(level, &other, NULL));
		assert_true(fabs(other.value - dbm) < 1e-9);
		double dbc = seeded_between(&s, -120, 20);
		assert_true(hs_level_from_over(q(dbm, HS_DBM), dbc, &level, NULL) &&
		            hs_level_over(level, q(dbm, HS_DBM), 0, &a, NULL));
		assert_true(fabs(a - dbc) < 1e-9);
		double nf = seeded_between(&s, 0, 40);
		assert_true(hs_temperature_of_nf(nf, &a, NULL) && hs_nf_of_temperature(a, &b, NULL));
		assert_true(fabs(b - nf) < 1e-9);
		/* A signal in noise is read as their sum. */
		hs_quantity parts[2] = {q(dbm, HS_DBM), q(dbm + seeded_between(&s, -40, 20), HS_DBM)};
		assert_true(hs_power_sum(parts, 2, HS_DBM, 0, &level, NULL) &&
		            hs_signal_in_noise(level.value, parts[1].value, &a, &b, NULL));
		assert_true(fabs(a - dbm) < 1e-9 && fabs(level.value + b - dbm) < 1e-9);
		double p = seeded_between(&s, 1e-6, 0.5), u = pow(10, seeded_between(&s, -6, 3));
		assert_true(hs_guard_for(p, u, &a, NULL) && hs_false_accept_most(a, u, &b, NULL));
		assert_near(b / p, 1);
		double dof = pow(10, seeded_between(&s, 0, 4));
		p = seeded_between(&s, 0.01, 0.999);
		assert_true(hs_student_factor(p, dof, &a, NULL) && hs_student_coverage(a, dof, &b, NULL));
		assert_near(b, p);
		hs_conversion mixed;
		double rf = seeded_between(&s, 1e6, 1e9), lo = rf * seeded_between(&s, 1.01, 3);
		assert_true(hs_mix(rf, lo, false, &mixed, NULL) &&
		            hs_oscillator_for(rf, mixed.if_hz, mixed.high_side, &a, NULL));
		assert_near(a / lo, 1);
		/* The image comes out at the same place. */
		double image = mixed.image_hz;
		assert_true(image <= 0 ||
		            (hs_mix(image, lo, false, &mixed, NULL) && fabs(mixed.if_hz - (lo - rf)) < 1));
	}
}

/* ---- symmetry ---- */

static void the_order_of_parts_changes_nothing(void **state)
{
	(void)state;
	seeded s = {4};
	for (int i = 0; i < RUNS; i++) {
		hs_quantity parts[5], turned[5], a, b;
		hs_tone tones[5], tones_turned[5];
		for (size_t k = 0; k < 5; k++) {
			parts[k] = q(seeded_between(&s, -100, 100), HS_DBM);
			tones[k] = (hs_tone){parts[k], seeded_between(&s, -180, 180)};
		}
		for (size_t k = 0; k < 5; k++) {
			turned[k] = parts[4 - k];
			tones_turned[k] = tones[4 - k];
		}
		assert_true(hs_power_sum(parts, 5, HS_DBM, 0, &a, NULL) &&
		            hs_power_sum(turned, 5, HS_DBM, 0, &b, NULL));
		assert_true(fabs(a.value - b.value) < 1e-10);
		assert_true(hs_power_mean(parts, 5, HS_DBM, 0, &a, NULL) &&
		            hs_power_mean(turned, 5, HS_DBM, 0, &b, NULL));
		assert_true(fabs(a.value - b.value) < 1e-10);
		assert_true(hs_tone_sum(tones, 5, HS_DBM, 0, &a, NULL, NULL) &&
		            hs_tone_sum(tones_turned, 5, HS_DBM, 0, &b, NULL, NULL));
		assert_true(fabs(a.value - b.value) < 1e-9);
		double source = seeded_between(&s, 0, 0.99), load = seeded_between(&s, 0, 0.99), low[2], high[2];
		assert_true(hs_mismatch_limits(source, load, &low[0], &high[0], NULL) &&
		            hs_mismatch_limits(load, source, &low[1], &high[1], NULL));
		assert_true(low[0] == low[1] && high[0] == high[1] && low[0] <= 0 && high[0] >= 0 &&
		            -low[0] >= high[0]);
		for (int model = 0; model < 2; model++) {
			assert_true(hs_mismatch_standard(source, load, (hs_mismatch_model)model, &low[0], NULL) &&
			            hs_mismatch_standard(load, source, (hs_mismatch_model)model, &low[1], NULL));
			assert_true(low[0] == low[1]);
		}
	}
}

static void a_cascade_may_be_cut_anywhere(void **state)
{
	(void)state;
	seeded s = {5};
	for (int i = 0; i < RUNS; i++) {
		hs_stage stages[4] = {{0}}, joined[2] = {{0}};
		hs_cascade whole, front, rest, again;
		for (size_t k = 0; k < 4; k++)
			stages[k] =
			    (hs_stage){.gain_db = seeded_between(&s, -15, 25), .nf_db = seeded_between(&s, 0, 12)};
		assert_true(hs_cascade_of(stages, 4, &whole, NULL) && hs_cascade_of(stages, 2, &front, NULL) &&
		            hs_cascade_of(stages + 2, 2, &rest, NULL));
		joined[0] = (hs_stage){.gain_db = front.gain_db, .nf_db = front.nf_db};
		joined[1] = (hs_stage){.gain_db = rest.gain_db, .nf_db = rest.nf_db};
		assert_true(hs_cascade_of(joined, 2, &again, NULL));
		assert_true(fabs(again.nf_db - whole.nf_db) < 1e-9 && fabs(again.gain_db - whole.gain_db) < 1e-9);
		/* No chain is quieter than its first stage. */
		assert_true(whole.nf_db >= stages[0].nf_db - 1e-12);
	}
}

/* ---- sums ---- */

static void a_sum_lies_between_its_largest_part_and_all_of_them(void **state)
{
	(void)state;
	static const hs_unit units[] = {HS_DBM, HS_WATT, HS_VOLT, HS_DBUV};
	seeded s = {6};
	for (int i = 0; i < RUNS; i++) {
		hs_unit unit = units[seeded_of(&s, COUNT(units))];
		size_t count = seeded_of(&s, 6) + 1;
		bool level = hs_unit_is_level(unit);
		hs_quantity parts[6], sum, mean;
		hs_tone tones[6];
		double largest = -INFINITY, least = INFINITY;
		for (size_t k = 0; k < count; k++) {
			parts[k] = q(level ? seeded_between(&s, -300, 300) : pow(10, seeded_between(&s, -9, 9)), unit);
			tones[k] = (hs_tone){parts[k], 30};
			largest = fmax(largest, parts[k].value);
			least = fmin(least, parts[k].value);
		}
		assert_true(hs_power_sum(parts, count, unit, 50, &sum, NULL));
		assert_true(hs_power_mean(parts, count, unit, 50, &mean, NULL));
		assert_true(sum.value >= largest);
		double most = level ? largest + 10 * log10((double)count)
		                    : largest * (unit == HS_WATT ? (double)count : sqrt((double)count));
		assert_true(sum.value <= most + 1e-9 * fabs(most));
		assert_true(mean.value <= largest + 1e-9 * fabs(largest) && mean.value >= least - 1e-9 * fabs(least));
		/* Two tones by the law of cosines; a quarter turn apart they add as powers. */
		double x = seeded_between(&s, -60, 60), y = x + seeded_between(&s, -20, 20),
		       turn = seeded_between(&s, -170, 170);
		const hs_tone two[] = {{q(x, HS_DBM), 0}, {q(y, HS_DBM), turn}};
		double p = pow(10, x / 10), r = pow(10, y / 10);
		hs_quantity tone;
		assert_true(hs_tone_sum(two, 2, HS_DBM, 0, &tone, NULL, NULL));
		assert_near(pow(10, tone.value / 10) / (p + r),
		            1 + 2 * sqrt(p * r) * cos(turn * acos(-1) / 180) / (p + r));
		/* In phase they make more than powers do. */
		hs_quantity phased;
		assert_true(hs_tone_sum(tones, count, unit, 50, &phased, NULL, NULL));
		assert_true(phased.value >= sum.value - 1e-9 * fabs(sum.value));
	}
}

/* ---- loss ---- */

static void loss_rises_with_frequency_length_and_warmth(void **state)
{
	(void)state;
	seeded s = {7};
	size_t types;
	const char *const *names = hs_coax_type_names(&types);
	for (int i = 0; i < RUNS; i++) {
		hs_coax_law law = {.k1 = pow(10, seeded_between(&s, -7, -4)),
		                   .k2 = pow(10, seeded_between(&s, -13, -9))};
		/* Copper alone, dielectric alone, and both. */
		if (i % 3 == 0)
			law.k2 = 0;
		if (i % 3 == 1)
			law.k1 = 0;
		hs_coax_run run = {.length_m = seeded_between(&s, 0.1, 100), .celsius = seeded_between(&s, -40, 85)},
		            more = run;
		double f = pow(10, seeded_between(&s, 5, 9)), g = f * seeded_between(&s, 1.0001, 10), low, high;
		assert_true(hs_coax_law_loss(&law, f, run, &low, NULL) && hs_coax_law_loss(&law, g, run, &high, NULL));
		assert_true(high > low);
		more.length_m *= 2;
		assert_true(hs_coax_law_loss(&law, f, more, &high, NULL));
		assert_near(high / low, 2);
		more = run;
		more.celsius += seeded_between(&s, 0.1, 30);
		/* Warmth is of the copper. */
		assert_true(hs_coax_law_loss(&law, f, more, &high, NULL) && (law.k1 > 0 ? high > low : high == low));
		const hs_loss_table *table = hs_coax_type(names[seeded_of(&s, types)]);
		double from = table->points[0].freq_hz, to = table->points[table->count - 1].freq_hz;
		f = seeded_between(&s, from, to);
		g = seeded_between(&s, f, to);
		assert_true(hs_loss_table_at(table, f, &low, NULL) && hs_loss_table_at(table, g, &high, NULL));
		assert_true(high >= low);
	}
}

/* A fit finds the law that made the points, and one through scattered points never falls either. */
static void a_fit_is_a_law_that_rises(void **state)
{
	(void)state;
	seeded s = {8};
	for (int i = 0; i < 500; i++) {
		double k1 = seeded_between(&s, 1e-6, 1e-4), k2 = seeded_between(&s, 1e-12, 1e-10), low, high;
		hs_loss_point exact[6], rough[6];
		hs_coax_fit fit;
		for (size_t k = 0; k < 6; k++) {
			double f = 1e7 * pow(3, (double)k), loss = (k1 * sqrt(f) + k2 * f) * 100;
			exact[k] = (hs_loss_point){f, loss};
			rough[k] = (hs_loss_point){f, fabs(loss * (1 + seeded_between(&s, -0.2, 0.2)))};
		}
		assert_true(hs_coax_fit_law(exact, 6, 100, &fit, NULL, NULL));
		assert_true(fabs(fit.law.k1 / k1 - 1) < 1e-9 && fabs(fit.law.k2 / k2 - 1) < 1e-9);
		assert_true(hs_coax_fit_law(rough, 6, 100, &fit, NULL, NULL));
		hs_coax_run run = {.length_m = 10, .celsius = 20};
		double f = seeded_between(&s, 1e7, 1e9);
		assert_true(hs_coax_law_loss(&fit.law, f, run, &low, NULL) &&
		            hs_coax_law_loss(&fit.law, 2 * f, run, &high, NULL) && high >= low);
	}
}

/* ---- outcomes ---- */

static void same_outcome(const hs_limits *limits, double value, double u, hs_unit to, double step)
{
	hs_limits other;
	hs_quantity moved, upper;
	assert_true(hs_limits_convert(limits, to, 50, &other, NULL));
	assert_true(hs_quantity_convert(q(value, limits->unit), to, 50, &moved, NULL));
	double wide = u;
	if (!hs_unit_is_level(to)) {
		assert_true(hs_quantity_convert(q(1, limits->unit), to, 50, &upper, NULL));
		wide = u * upper.value;
		step *= upper.value;
	}
	hs_verdict a = hs_judge(limits, value, u, step), b = hs_judge(&other, moved.value, wide, step);
	if (a.outcome != b.outcome)
		fail_msg("%.17g %s is %s, and %.17g %s is %s", value, hs_unit_name(limits->unit),
		         hs_outcome_name(a.outcome), moved.value, hs_unit_name(to), hs_outcome_name(b.outcome));
	if (a.outcome == HS_UNSURE)
		assert_true(a.near_high == b.near_high && fabs(a.probability - b.probability) < 1e-6);
}

static void the_unit_changes_no_outcome(void **state)
{
	(void)state;
	static const hs_unit decibels[] = {HS_DBM, HS_DBW, HS_DBV, HS_DBU, HS_DBUV, HS_DBMV};
	static const hs_unit volts[] = {HS_VOLT, HS_VPK, HS_VPP};
	seeded s = {9};
	for (int i = 0; i < RUNS; i++) {
		/* As typed: a hundredth is the last digit, and every fourth value stands on a limit or on its guard
		 * band. */
		double low = round(seeded_between(&s, -9000, 9000)) / 100,
		       width = round(seeded_between(&s, 1, 900)) / 100, u = round(seeded_between(&s, 0, 200)) / 100;
		double on[] = {low, low + width, low + u, low + width - u};
		double value = i % 4 ? round(seeded_between(&s, low * 100 - 400, (low + width) * 100 + 400)) / 100
		                     : on[seeded_of(&s, COUNT(on))];
		hs_limits limits = {.has_low = true, .low = low, .has_high = true, .high = low + width, .unit = HS_DBM};
		same_outcome(&limits, value, u, decibels[seeded_of(&s, COUNT(decibels))], 0.01);
		/* Volts and their peaks are proportional, so an uncertainty goes along. */
		limits.unit = volts[seeded_of(&s, COUNT(volts))];
		same_outcome(&limits, value, u, volts[seeded_of(&s, COUNT(volts))], 0.01);
		/* Watts against dBm have no common uncertainty, but they agree on which side of a limit a value is. */
		hs_limits power = {.has_low = true, .low = fabs(low) + 0.01, .has_high = true, .unit = HS_WATT};
		power.high = power.low + width;
		hs_quantity dbm;
		hs_limits in_dbm;
		double watts = fmax(0.01, fabs(value));
		assert_true(hs_limits_convert(&power, HS_DBM, 0, &in_dbm, NULL) &&
		            hs_quantity_convert(q(watts, HS_WATT), HS_DBM, 0, &dbm, NULL));
		assert_int_equal(hs_judge(&power, watts, 0, 0).outcome, hs_judge(&in_dbm, dbm.value, 0, 0).outcome);
	}
}

static void written_with_a_prefix_it_is_the_same(void **state)
{
	(void)state;
	static const struct {
		const char *prefix;
		double scale;
	} prefixes[] = {{"m", 1e3}, {"u", 1e6}, {"k", 1e-3}, {"n", 1e9}};
	seeded s = {10};
	for (int i = 0; i < RUNS; i++) {
		size_t p = seeded_of(&s, COUNT(prefixes));
		double low = round(seeded_between(&s, 1, 1e4)), high = low + round(seeded_between(&s, 1, 1e3));
		char plain[96], prefixed[96];
		hs_limits a, b;
		double scale = prefixes[p].scale;
		snprintf(plain, sizeof plain, "%.0f V .. %.0f V", low, high);
		snprintf(prefixed, sizeof prefixed, "%.17g %sV .. %.17g %sV", low * scale, prefixes[p].prefix,
		         high * scale, prefixes[p].prefix);
		assert_true(hs_limits_read(plain, HS_UNIT_COUNT, &a, NULL) &&
		            hs_limits_read(prefixed, HS_UNIT_COUNT, &b, NULL));
		double u = round(seeded_between(&s, 0, 50)), value = round(seeded_between(&s, low - 100, high + 100));
		assert_int_equal(hs_judge(&a, value, u, 1).outcome, hs_judge(&b, value, u, 1).outcome);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_unit_of_level_there_and_back),
	    cmocka_unit_test(reflections_there_and_back),
	    cmocka_unit_test(the_rest_there_and_back),
	    cmocka_unit_test(the_order_of_parts_changes_nothing),
	    cmocka_unit_test(a_cascade_may_be_cut_anywhere),
	    cmocka_unit_test(a_sum_lies_between_its_largest_part_and_all_of_them),
	    cmocka_unit_test(loss_rises_with_frequency_length_and_warmth),
	    cmocka_unit_test(a_fit_is_a_law_that_rises),
	    cmocka_unit_test(the_unit_changes_no_outcome),
	    cmocka_unit_test(written_with_a_prefix_it_is_the_same),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
