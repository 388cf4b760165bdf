/* The law of coaxial loss, fits, tables, temperature and connectors. */
#include "measure_rows.h"
#include "halfsplit/lineup/coax.h"

#define AT_20(length) ((hs_coax_run){.length_m = (length), .celsius = 20})

static void the_law_and_its_parts(void **state)
{
	(void)state;
	hs_coax_law law;
	double db, warm;
	/* An attenuation formula as makers print it for a 10 mm foam cable: 0.3741 sqrt(f/MHz) + 0.00115 f/MHz per 100
	 * m. */
	assert_true(hs_coax_law_of(0.3741, 0.00115, 100, &law, NULL));
	static const struct {
		const char *source;
		double hz;
		hs_coax_run run;
		double want;
	} rows[] = {
	    {"100 m at 100 MHz: 3.741 + 0.115", 100e6, {100, 20, 0, 0}, 3.856},
	    {"100 m at 900 MHz: 11.223 + 1.035", 900e6, {100, 20, 0, 0}, 12.258},
	    {"half the length, half the loss", 900e6, {50, 20, 0, 0}, 6.129},
	    {"two connectors of 0.05 dB", 900e6, {50, 20, 2, 0.05}, 6.229},
	    {"connectors alone", 900e6, {0, 20, 2, 0.05}, 0.1},
	    {"40 K warmer: 11.223 sqrt(1.1572) + 1.035", 900e6, {100, 60, 0, 0}, 13.10794},
	    {"DC: the law says nothing is lost", 0, {100, 20, 0, 0}, 0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		assert_true(hs_coax_law_loss(&law, rows[i].hz, rows[i].run, &db, NULL));
		assert_source(rows[i].source, db, rows[i].want, rows[i].want > 13 ? 5e-6 : 0);
	}
	double before = -1;
	for (double hz = 1e6; hz < 6e9; hz *= 1.1) {
		assert_true(hs_coax_law_loss(&law, hz, AT_20(10), &db, NULL));
		assert_true(hs_coax_law_loss(&law, hz, (hs_coax_run){.length_m = 10, .celsius = 21}, &warm, NULL));
		assert_true(db > before && warm > db);
		before = db;
	}
}

static void a_fit_finds_the_law_it_came_from(void **state)
{
	(void)state;
	static const double mhz[] = {10, 50, 100, 400, 1000, 3000};
	hs_loss_point points[6];
	double residuals[6];
	for (size_t i = 0; i < 6; i++)
		points[i] = (hs_loss_point){mhz[i] * 1e6, 0.65 * sqrt(mhz[i]) + 0.004 * mhz[i]};
	hs_coax_fit fit;
	for (size_t count = 2; count <= 6; count++) {
		assert_true(hs_coax_fit_law(points, count, 100, &fit, residuals, NULL));
		assert_source("k1", fit.law.k1, 0.65e-5, 0);
		assert_source("k2", fit.law.k2, 0.004e-8, 0);
		assert_true(fit.rms_db < 1e-12 && !fit.held_at_zero);
		assert_source("from", fit.law.from_hz, 10e6, 0);
		assert_source("to", fit.law.to_hz, mhz[count - 1] * 1e6, 0);
	}
	/* A law of copper alone, at the edge of what must be held. */
	for (size_t i = 0; i < 6; i++)
		points[i].loss_db = 2 * sqrt(mhz[i]);
	assert_true(hs_coax_fit_law(points, 6, 100, &fit, NULL, NULL));
	assert_source("k1", fit.law.k1, 2e-5, 0);
	assert_true(fit.law.k2 >= 0 && fit.law.k2 < 1e-20 && !fit.held_at_zero);
}

static void residuals_stand_upright_on_the_law(void **state)
{
	(void)state;
	size_t names;
	const char *const *types = hs_coax_type_names(&names);
	for (size_t t = 0; t < names; t++) {
		const hs_loss_table *table = hs_coax_type(types[t]);
		hs_coax_fit fit;
		double residuals[8], on_root = 0, on_f = 0, squares = 0, size = 0;
		assert_true(table->count <= COUNT(residuals));
		assert_true(hs_coax_fit_law(table->points, table->count, 100, &fit, residuals, NULL));
		for (size_t i = 0; i < table->count; i++) {
			double db, f = table->points[i].freq_hz / 1e9;
			assert_true(hs_coax_law_loss(&fit.law, table->points[i].freq_hz, AT_20(100), &db, NULL));
			assert_near(table->points[i].loss_db - db, residuals[i]);
			on_root += residuals[i] * sqrt(f);
			on_f += residuals[i] * f;
			squares += residuals[i] * residuals[i];
			size += fabs(residuals[i]) * f + 1e-9;
		}
		/* Least squares leaves nothing along either column, unless one was held. */
		assert_true(fabs(on_root) < 1e-9 * size + 1e-9 || (fit.held_at_zero && fit.law.k1 == 0));
		assert_true(fabs(on_f) < 1e-9 * size + 1e-9 || (fit.held_at_zero && fit.law.k2 == 0));
		assert_near(fit.rms_db, sqrt(squares / (double)table->count));
		assert_near(fabs(fit.worst_db), fabs(residuals[fit.worst]));
	}
	/* By hand: points on sqrt f = 1, 2 (f in hertz) and a third a little off: k from the normal equations. */
	static const hs_loss_point points[] = {{1, 1.0}, {4, 2.0}, {9, 3.3}};
	hs_coax_fit fit;
	assert_true(hs_coax_fit_law(points, 3, 1, &fit, NULL, NULL));
	/* sums: a.a 14, a.b 36, b.b 98, a.y 14.9, b.y 38.7; determinant 76. */
	assert_source("k1", fit.law.k1, (14.9 * 98 - 36 * 38.7) / 76, 0);
	assert_source("k2", fit.law.k2, (14 * 38.7 - 36 * 14.9) / 76, 0);
	double s2 = 3 * fit.rms_db * fit.rms_db;
	assert_source("u(k1)^2 = s^2 98/76", fit.u_k1, sqrt(s2 * 98 / 76), 0);
	assert_source("u(k2)^2 = s^2 14/76", fit.u_k2, sqrt(s2 * 14 / 76), 0);
	/* Falling faster than the root: k2 would be negative. */
	static const hs_loss_point bent[] = {{1, 1.0}, {4, 1.8}, {9, 2.4}};
	assert_true(hs_coax_fit_law(bent, 3, 1, &fit, NULL, NULL));
	assert_true(fit.held_at_zero && fit.law.k2 == 0);
	assert_source("k1 alone", fit.law.k1, (1.0 + 3.6 + 7.2) / 14, 0);
	assert_source("u(k1)^2 = s^2/14 of 2 degrees of freedom", fit.u_k1, sqrt(3 * fit.rms_db * fit.rms_db / 2 / 14), 0);
	assert_true(fit.u_k2 == 0);
	/* Rising faster than the frequency: k1 would be negative. */
	static const hs_loss_point steep[] = {{1, 1.0}, {4, 5.0}, {9, 14.0}};
	assert_true(hs_coax_fit_law(steep, 3, 1, &fit, NULL, NULL));
	assert_true(fit.held_at_zero && fit.law.k1 == 0);
	assert_source("k2 alone", fit.law.k2, (1.0 + 20.0 + 126.0) / 98, 0);
	assert_source("u(k2)^2 = s^2/98", fit.u_k2, sqrt(3 * fit.rms_db * fit.rms_db / 2 / 98), 0);
	assert_true(fit.u_k1 == 0);
	static const hs_loss_point huge[] = {{1, 1e300}, {4, 2.0}};
	hs_coax_law law;
	hs_error error = {0};
	assert_refused(hs_coax_fit_law(huge, 2, 1, &fit, NULL, &error), &error,
	               "the scatter about the law lies outside the range of numbers");
	assert_refused(hs_coax_law_of(1, 0, 5e-324, &law, &error), &error,
	               "k1 for a metre lies outside the range of numbers");
}

static void tables_and_temperature(void **state)
{
	(void)state;
	const hs_loss_table *rg213 = hs_coax_type("RG-213/U");
	double db, warm;
	hs_coax_fit fit;
	hs_error error = {0};
	assert_true(hs_coax_table_loss(rg213, 100, NULL, 400e6, AT_20(3), &db, NULL));
	assert_source("RG-213/U, 14.4 dB per 100 m at 400 MHz", db, 0.432, 0);
	assert_true(hs_coax_table_loss(rg213, 100, NULL, 400e6, (hs_coax_run){3, 20, 2, 0.03}, &db, NULL));
	assert_source("and two connectors", db, 0.492, 0);
	assert_refused(hs_coax_table_loss(rg213, 100, NULL, 5e9, AT_20(3), &db, &error), &error,
	               "no loss known at 5 GHz: the table runs from 10 MHz to 3 GHz");
	assert_refused(
	    hs_coax_table_loss(rg213, 100, NULL, 400e6, (hs_coax_run){.length_m = 3, .celsius = 40}, &db, &error),
	    &error, "a table holds at 20 degC and cannot say what changes at 40 degC");
	assert_true(hs_coax_fit_law(rg213->points, rg213->count, 100, &fit, NULL, NULL));
	assert_true(hs_coax_table_loss(rg213, 100, &fit.law, 400e6, AT_20(3), &db, NULL));
	assert_source("a law changes nothing at 20 degC", db, 0.432, 0);
	assert_true(
	    hs_coax_table_loss(rg213, 100, &fit.law, 400e6, (hs_coax_run){.length_m = 3, .celsius = 40}, &warm, NULL));
	assert_true(warm > db && warm <= db * sqrt(1 + 0.00393 * 20) * (1 + 1e-12));
	assert_refused(hs_coax_table_loss(rg213, 100, &fit.law, 5e9, AT_20(3), &db, &error), &error,
	               "no loss known at 5 GHz: the table runs from 10 MHz to 3 GHz");
	const hs_coax_law anywhere = {fit.law.k1, fit.law.k2, 0, 0};
	double by_law;
	assert_true(hs_coax_table_loss(rg213, 100, &anywhere, 5e9, AT_20(3), &db, NULL));
	assert_true(hs_coax_law_loss(&anywhere, 5e9, AT_20(3), &by_law, NULL));
	assert_source("outside the table the law counts", db, by_law, 0);
	assert_refused(hs_coax_law_loss(&fit.law, 5e9, AT_20(3), &db, &error), &error,
	               "no loss known at 5 GHz: the table runs from 10 MHz to 3 GHz");
}

static void cables_that_cannot_be_are_refused(void **state)
{
	(void)state;
	static const struct {
		double hz;
		hs_coax_run run;
		const char *message;
	} rows[] = {
	    {1e6, {-1, 20, 0, 0}, "the length is -1 m; it must be at least 0 m"},
	    {1e6, {NAN, 20, 0, 0}, "the length is not a number; a finite number is wanted"},
	    {1e6, {1, -300, 0, 0}, "the temperature is -300 degC; it must be above -273.15 degC"},
	    {1e6, {1, -250, 0, 0}, "at -250 degC the law of warm copper has no meaning; it begins above -234.453 degC"},
	    {1e6, {1, 20, -1, 0}, "the number of connectors is -1; it must be at least 0"},
	    {1e6, {1, 20, 1, -0.1}, "the loss of a connector is -0.1 dB; it must be at least 0 dB"},
	    {-1, {1, 20, 0, 0}, "the frequency is -1 Hz; it must be at least 0 Hz"},
	    {INFINITY, {1, 20, 0, 0}, "the frequency is infinite; a finite number is wanted"},
	};
	const hs_coax_law law = {1e-6, 1e-10, 0, 0};
	double db = -7;
	hs_error error = {0};
	for (size_t i = 0; i < COUNT(rows); i++)
		assert_refused(hs_coax_law_loss(&law, rows[i].hz, rows[i].run, &db, &error), &error, rows[i].message);
	const hs_coax_law bad = {-1, 0, 0, 0};
	assert_refused(hs_coax_law_loss(&bad, 1, AT_20(1), &db, &error), &error,
	               "k1 of the law is -1; it must be at least 0");
	assert_true(db == -7);
	static const hs_loss_point same[] = {{1e9, 1}, {1e9, 1}}, twice[] = {{1e9, 1}, {1e9, 2}, {2e9, 3}},
	                           zero[] = {{0, 0}, {1, 1}};
	hs_coax_fit fit;
	assert_refused(hs_coax_fit_law(same, 2, 100, &fit, NULL, &error), &error,
	               "all points stand at 1000000000 Hz; a law needs two frequencies");
	assert_refused(hs_coax_fit_law(same, 0, 100, &fit, NULL, &error), &error,
	               "there are no points to fit a law through");
	assert_refused(hs_coax_fit_law(twice, 3, 100, &fit, NULL, &error), &error,
	               "the loss table says both 1 dB and 2 dB at 1 GHz");
	assert_refused(hs_coax_fit_law(zero, 2, 100, &fit, NULL, &error), &error,
	               "the frequency of a point is 0 Hz; it must be above 0 Hz");
	assert_refused(hs_coax_fit_law(twice, 3, 0, &fit, NULL, &error), &error,
	               "the length of the table is 0 m; it must be above 0 m");
}

static void two_makers_never_share_a_table(void **state)
{
	(void)state;
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	hs_error error = {0};
	hs_sourced_point points[] = {{{1e9, 20}, "sheet A"}, {{2e9, 30}, "sheet A"}, {{3e9, 33}, "sheet B"}};
	assert_true(hs_coax_table_make(arena, points, 2, &table, NULL));
	assert_int_equal(table.count, 2);
	assert_refused(hs_coax_table_make(arena, points, 3, &table, &error), &error,
	               "the table mixes two sources, \"sheet A\" and \"sheet B\"");
	assert_string_equal(error.hint, "makers differ by up to 40 % for one type of cable: keep one table for each");
	points[1].source = NULL;
	assert_refused(hs_coax_table_make(arena, points, 2, &table, &error), &error,
	               "point 2 of the table does not say where it comes from");
	assert_refused(hs_coax_table_make(arena, points, 0, &table, &error), &error, "the loss table holds no points");
	hs_arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_law_and_its_parts),
	    cmocka_unit_test(a_fit_finds_the_law_it_came_from),
	    cmocka_unit_test(residuals_stand_upright_on_the_law),
	    cmocka_unit_test(tables_and_temperature),
	    cmocka_unit_test(cables_that_cannot_be_are_refused),
	    cmocka_unit_test(two_makers_never_share_a_table),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
