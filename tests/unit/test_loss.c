/* Loss tables, the generic coax types, and what one part of a hookup takes. */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>
#include <cmocka.h>
#include <math.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "halfsplit/lineup/part.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static void assert_near(double got, double want)
{
	if (!(fabs(got - want) <= 1e-9 * fmax(1, fabs(want))))
		fail_msg("got %.17g, want %.17g", got, want);
}

static const hs_loss_point K12[] = {{100e6, 0.2}, {10e6, 0.05}, {3e9, 1.4}, {400e6, 0.42}};

static void between_points_the_root_of_frequency_rules(void **state)
{
	(void)state;
	static const struct {
		double freq_hz, loss_db;
	} rows[] = {
	    {10e6, 0.05},
	    {100e6, 0.2},
	    {400e6, 0.42},
	    {3e9, 1.4},
	    {225e6, 0.31},
	    {0.3e9 * 10, 1.4},
	    {3e9 * (1 + 1e-12), 1.4},
	    {10e6 * (1 - 1e-12), 0.05},
	};
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	assert_true(hs_loss_table_make(arena, K12, COUNT(K12), &table, NULL));
	assert_int_equal(table.count, 4);
	for (size_t i = 0; i < COUNT(rows); i++) {
		double loss = -1;
		assert_true(hs_loss_table_at(&table, rows[i].freq_hz, &loss, NULL));
		assert_near(loss, rows[i].loss_db);
	}
	hs_arena_free(arena);
}

static void every_point_of_a_long_table_is_found(void **state)
{
	(void)state;
	enum { POINTS = 1000 };
	hs_loss_point points[POINTS];
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	/* At i^2 kHz the root of frequency, and with it the loss, rises evenly. */
	for (int i = 0; i < POINTS; i++)
		points[i] = (hs_loss_point){1e3 * (i + 1) * (i + 1), 0.01 * (i + 1)};
	for (size_t count = 1; count <= POINTS; count += count < 5 ? 1 : 199) {
		assert_true(hs_loss_table_make(arena, points, count, &table, NULL));
		for (size_t i = 0; i < count; i++) {
			static const double off[] = {-1e-10, 0, 1e-10};
			double loss = -1, half = (double)i + 1.5;
			for (size_t k = 0; k < COUNT(off); k++) {
				assert_true(hs_loss_table_at(&table, points[i].freq_hz * (1 + off[k]), &loss, NULL));
				assert_true(loss == points[i].loss_db);
			}
			assert_int_equal(hs_loss_table_at(&table, 1e3 * half * half, &loss, NULL), i + 1 < count);
			if (i + 1 < count)
				assert_near(loss, 0.01 * half);
		}
	}
	hs_arena_free(arena);
}

static void outside_the_table_is_an_error(void **state)
{
	(void)state;
	static const struct {
		double freq_hz;
		const char *message;
	} rows[] = {
	    {3.2e9, "no loss known at 3.2 GHz: the table runs from 10 MHz to 3 GHz"},
	    {9e6, "no loss known at 9 MHz: the table runs from 10 MHz to 3 GHz"},
	    {3000001000, "no loss known at 3000001000 Hz: the table runs from 10000000 Hz to 3000000000 Hz"},
	    {0, "no loss known at 0 Hz: the table runs from 10 MHz to 3 GHz"},
	    {NAN, "no loss known at a frequency that is not a number: the table runs from 10 MHz to 3 GHz"},
	};
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	assert_true(hs_loss_table_make(arena, K12, COUNT(K12), &table, NULL));
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_error error = {0};
		double loss = -1;
		assert_false(hs_loss_table_at(&table, rows[i].freq_hz, &loss, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_string_equal(error.message, rows[i].message);
		assert_near(loss, -1);
	}
	hs_arena_free(arena);
}

static void one_point_is_valid_there_alone(void **state)
{
	(void)state;
	static const hs_loss_point point = {1e9, 0.3};
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	hs_error error = {0};
	double loss = -1;
	assert_true(hs_loss_table_make(arena, &point, 1, &table, NULL));
	assert_true(hs_loss_table_at(&table, 1e9, &loss, NULL));
	assert_near(loss, 0.3);
	assert_false(hs_loss_table_at(&table, 1.1e9, &loss, &error));
	assert_string_equal(error.message, "no loss known at 1.1 GHz: the table holds 1 GHz alone");
	hs_arena_free(arena);
}

static void a_point_given_twice(void **state)
{
	(void)state;
	static const hs_loss_point same[] = {{0.3e9, 1}, {1e9, 2}, {300e6, 1}};
	static const hs_loss_point conflict[] = {{1e9, 2}, {300e6, 1}, {1e9, 2.1}};
	hs_arena *arena = hs_arena_new();
	hs_loss_table table = {0};
	hs_error error = {0};
	assert_true(hs_loss_table_make(arena, same, COUNT(same), &table, NULL));
	assert_int_equal(table.count, 2);
	assert_false(hs_loss_table_make(arena, conflict, COUNT(conflict), &table, &error));
	assert_non_null(strstr(error.message, "the loss table says both "));
	assert_non_null(strstr(error.message, "2.1 dB"));
	assert_non_null(strstr(error.message, " at 1 GHz"));
	assert_int_equal(table.count, 2);
	hs_arena_free(arena);
}

static void bad_points_are_refused(void **state)
{
	(void)state;
	static const struct {
		hs_loss_point point;
		const char *message;
	} rows[] = {
	    {{NAN, 1}, "point 2 of the loss table is not a number"},
	    {{1e9, NAN}, "point 2 of the loss table is not a number"},
	    {{1e9, INFINITY}, "point 2 of the loss table is not a number"},
	    {{-1, 1}, "point 2 of the loss table has a frequency below 0 Hz"},
	    {{1e9, -0.1}, "point 2 of the loss table is a loss below 0 dB, which would be a gain"},
	};
	hs_arena *arena = hs_arena_new();
	hs_loss_table table = {0};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_loss_point points[] = {{1e6, 0.1}, rows[i].point};
		hs_error error = {0};
		assert_false(hs_loss_table_make(arena, points, 2, &table, &error));
		assert_string_equal(error.message, rows[i].message);
	}
	hs_error error = {0};
	assert_false(hs_loss_table_make(arena, NULL, 0, &table, &error));
	assert_string_equal(error.message, "the loss table holds no points");
	assert_int_equal(table.count, 0);
	hs_arena_free(arena);
}

static void generic_types(void **state)
{
	(void)state;
	static const struct {
		const char *type;
		double freq_hz, loss_db;
	} rows[] = {
	    {"RG-58C/U", 50e6, 9.0}, {"RG-58C/U", 100e6, 13},   {"RG-58C/U", 200e6, 20},   {"RG-58C/U", 400e6, 31},
	    {"RG-58C/U", 1e9, 58},   {"RG-213/U", 10e6, 1.8},   {"rg-213/u", 100e6, 6.8},  {"RG-213/U", 400e6, 14.4},
	    {"RG-213/U", 1e9, 24.7}, {"RG-213/U", 3e9, 46.6},   {"RG-316/U", 200e6, 36.5}, {"RG-316/U", 400e6, 52.8},
	    {"RG-316/U", 1e9, 87},   {"RG-316/U", 2e9, 128.7},  {"RG-316/U", 3e9, 163},    {"RG-405", 1e9, 72.2},
	    {"RG-405", 10e9, 262.5}, {"RG-405", 20e9, 393.7},   {"RG-402", 1e9, 39.4},     {"RG-402", 10e9, 147.6},
	    {"RG-402", 20e9, 229.7}, {"RG-213/U", 225e6, 10.6},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double loss = -1;
		const hs_loss_table *table = hs_coax_type(rows[i].type);
		assert_non_null(table);
		assert_true(hs_loss_table_at(table, rows[i].freq_hz, &loss, NULL));
		assert_near(loss, rows[i].loss_db);
	}
	assert_null(hs_coax_type("RG-8"));
	size_t count;
	const char *const *names = hs_coax_type_names(&count);
	assert_int_equal(count, 5);
	for (size_t i = 0; i < count; i++)
		assert_non_null(hs_coax_type(names[i]));
}

static const hs_loss_point own_points[] = {{100e6, 0.3}, {1e9, 1.1}};

static void what_a_part_takes(void **state)
{
	(void)state;
	static const struct {
		hs_part part;
		double freq_hz, loss_db, u_db;
		const char *source;
	} rows[] = {
	    {{.kind = HS_PART_CABLE, .type = "RG-213/U", .length_m = 3},
	     100e6,
	     0.204,
	     0.0204,
	     "RG-213/U, 3 m, u 10 % assumed"},
	    {{.kind = HS_PART_CABLE, .type = "RG-213/U", .length_m = 3, .has_u = true, .u_db = 0.2},
	     100e6,
	     0.204,
	     0.2,
	     "RG-213/U, 3 m"},
	    {{.kind = HS_PART_CABLE,
	      .type = "RG-213/U",
	      .length_m = 3,
	      .own = {own_points, 2},
	      .own_source = "K12.s2p"},
	     100e6,
	     0.3,
	     0.2,
	     "K12.s2p, u 0.2 dB assumed"},
	    {{.kind = HS_PART_CABLE, .own = {own_points, 2}, .has_u = true}, 1e9, 1.1, 0, "own points"},
	    {{.kind = HS_PART_CABLE, .type = "RG-213/U", .length_m = 3, .has_fixed = true, .fixed_db = 0.5},
	     0,
	     0.5,
	     0.2,
	     "0.5 dB cable, u 0.2 dB assumed"},
	    {{.kind = HS_PART_PAD, .has_fixed = true, .fixed_db = 10}, 0, 10, 0.2, "10 dB pad, u 0.2 dB assumed"},
	    {{.kind = HS_PART_PAD, .has_fixed = true, .fixed_db = 10, .freq_to_hz = 3e9, .has_u = true, .u_db = 0.3},
	     3e9,
	     10,
	     0.3,
	     "10 dB pad"},
	    {{.kind = HS_PART_ADAPTER, .has_fixed = true, .fixed_db = 0.15},
	     1e9,
	     0.15,
	     0.1,
	     "0.15 dB adapter, u 0.1 dB assumed"},
	    {{.kind = HS_PART_PROBE, .touch = true}, 0, 0, 0, "probe, no loss"},
	    {{.kind = HS_PART_PROBE, .touch = true, .ratio = 10, .has_u = true, .u_db = 0.1}, 1e3, 0, 0.1, "x10 probe"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double loss = -1, u = -1;
		hs_error error = {0};
		hs_buf source;
		hs_buf_init(&source);
		hs_part part = rows[i].part;
		part.id = "K12";
		if (!hs_part_loss(&part, rows[i].freq_hz, &loss, &u, &source, &error))
			fail_msg("row %zu: %s", i, error.message);
		assert_near(loss, rows[i].loss_db);
		assert_near(u, rows[i].u_db);
		assert_string_equal(source.data, rows[i].source);
		hs_buf_free(&source);
	}
}

static void a_part_without_a_figure_says_what_to_add(void **state)
{
	(void)state;
	static const char *const measure =
	    "measure the part at that frequency and add the figure to the kit, or use another part";
	static const char *const say_it = "add its loss, loss points of its own, or a Touchstone file";
	static const struct {
		hs_part part;
		double freq_hz;
		const char *message, *hint;
	} rows[] = {
	    {{.kind = HS_PART_CABLE},
	     1e9,
	     "cable \"K12\" has no loss figures",
	     "add its type and length, loss points of its own, or a Touchstone file"},
	    {{.kind = HS_PART_ADAPTER}, 1e9, "adapter \"K12\" has no loss figures", say_it},
	    {{.kind = HS_PART_PAD}, 1e9, "pad \"K12\" has no loss figures", say_it},
	    {{.kind = HS_PART_CABLE, .type = "RG-213/U"},
	     1e9,
	     "cable \"K12\" has a type but no length",
	     "add its length, such as length = \"3 m\""},
	    {{.kind = HS_PART_CABLE, .type = "RG-213U", .length_m = 1},
	     1e9,
	     "cable \"K12\" is of a type that has no loss table",
	     "did you mean type \"RG-213/U\"?"},
	    {{.kind = HS_PART_CABLE, .type = "ladder line", .length_m = 1},
	     1e9,
	     "cable \"K12\" is of a type that has no loss table",
	     "give it loss points of its own, or a Touchstone file"},
	    {{.kind = HS_PART_CABLE, .type = "RG-213/U", .length_m = 3},
	     6e9,
	     "cable \"K12\": no loss known at 6 GHz: the table runs from 10 MHz to 3 GHz",
	     measure},
	    /* Its own table is not helped out by the nominal one. */
	    {{.kind = HS_PART_CABLE, .type = "RG-213/U", .length_m = 3, .own = {own_points, 2}},
	     2e9,
	     "cable \"K12\": no loss known at 2 GHz: the table runs from 100 MHz to 1 GHz",
	     measure},
	    {{.kind = HS_PART_CABLE, .type = "RG-213/U", .length_m = 3},
	     0,
	     "cable \"K12\" has a loss that depends on frequency, and no frequency is stated",
	     "state the frequency of the reading"},
	    {{.kind = HS_PART_PAD, .has_fixed = true, .fixed_db = 10, .freq_to_hz = 3e9},
	     6e9,
	     "pad \"K12\": no loss known at 6 GHz: it is stated up to 3 GHz",
	     measure},
	    {{.kind = HS_PART_PAD, .has_fixed = true, .fixed_db = -10},
	     1e9,
	     "pad \"K12\" has a loss below 0 dB, which would be a gain",
	     "a loss is written as a positive number of dB"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		double loss = -1, u = -1;
		hs_error error = {0};
		hs_buf source;
		hs_buf_init(&source);
		hs_part part = rows[i].part;
		part.id = "K12";
		part.file = "kit.lua";
		part.line = 7;
		assert_false(hs_part_loss(&part, rows[i].freq_hz, &loss, &u, &source, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_string_equal(error.message, rows[i].message);
		assert_string_equal(error.hint, rows[i].hint);
		assert_string_equal(error.file, "kit.lua");
		assert_int_equal(error.line, 7);
		assert_near(loss, -1);
		assert_string_equal(source.data, "");
		hs_buf_free(&source);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(between_points_the_root_of_frequency_rules),
	    cmocka_unit_test(every_point_of_a_long_table_is_found),
	    cmocka_unit_test(outside_the_table_is_an_error),
	    cmocka_unit_test(one_point_is_valid_there_alone),
	    cmocka_unit_test(a_point_given_twice),
	    cmocka_unit_test(bad_points_are_refused),
	    cmocka_unit_test(generic_types),
	    cmocka_unit_test(what_a_part_takes),
	    cmocka_unit_test(a_part_without_a_figure_says_what_to_add),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
