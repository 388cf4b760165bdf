/* Numbers in and out, the same under every locale. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/base/number.h"
#include "halfsplit/base/text.h"
#include "comma_locale.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const struct {
	const char *text;
	bool good;
	double value;
	size_t used;
	double step;
} scans[] = {
	{"12.50", true, 12.5, 5, 0.01},
	{"3e3", true, 3000, 3, 1000},
	{"200", true, 200, 3, 1},
	{"-31.4 dBm", true, -31.4, 5, 0.1},
	{"+7", true, 7, 2, 1},
	{"\xE2\x88\x92"
     "31.4",
     true, -31.4, 7, 0.1},
	{".5", true, 0.5, 2, 0.1},
	{"5.", true, 5, 2, 1},
	{"5.e1", true, 50, 4, 10},
	{"1.25E-6", true, 1.25e-6, 7, 1e-8},
	{"1e", true, 1, 1, 1},
	{"1e+", true, 1, 1, 1},
	{"2e-x", true, 2, 1, 1},
	{"1.2.3", true, 1.2, 3, 0.1},
	{"1,5", true, 1, 1, 1},
	{"1 000", true, 1, 1, 1},
	{"0x10", true, 0, 1, 1},
	{"007.50", true, 7.5, 6, 0.01},
	{"0.1", true, 0.1, 3, 0.1},
	{"9007199254740993", true, 9007199254740992.0, 16, 1},
	{"9007199254740993.0000000000000000000000000001", true, 9007199254740994.0, 45, 1e-28},
	{"1.7976931348623157e308", true, 1.7976931348623157e308, 22, 1e292},
	{"5e-324", true, 4.9406564584124654e-324, 6, 0},
	{"2.4703282292062327e-324", true, 0, 23, 0},
	{"2.4703282292062328e-324", true, 4.9406564584124654e-324, 23, 0},
	{"1e-99999999999999999999", true, 0, 23, 0},
	{"0e99999999999999999999", true, 0, 22, 1.7976931348623157e308},
	{"1e309", false, 0, 0, 0},
	{"1.7976931348623159e308", false, 0, 0, 0},
	{"1e99999999999999999999", false, 0, 0, 0},
	{"", false, 0, 0, 0},
	{"-", false, 0, 0, 0},
	{".", false, 0, 0, 0},
	{"+-5", false, 0, 0, 0},
	{"--5", false, 0, 0, 0},
	{"- 5", false, 0, 0, 0},
	{" 5", false, 0, 0, 0},
	{"e5", false, 0, 0, 0},
	{"nan", false, 0, 0, 0},
	{"NaN", false, 0, 0, 0},
	{"inf", false, 0, 0, 0},
	{"-infinity", false, 0, 0, 0},
};

static void check_scans(void)
{
	for (size_t i = 0; i < COUNT(scans); i++) {
		double value = -7, step = -7;
		size_t used = 77;
		bool good = hs_number_scan(scans[i].text, &value, &used, &step);
		if (good != scans[i].good)
			fail_msg("\"%s\" was %s", scans[i].text, good ? "accepted" : "refused");
		if (!good) {
			assert_true(value == -7 && used == 77 && step == -7);
			continue;
		}
		if (value != scans[i].value || used != scans[i].used || step != scans[i].step)
			fail_msg("\"%s\" gave %.17g, %zu used, step %.17g", scans[i].text, value, used, step);
	}
}

static void scans_numbers(void **state)
{
	(void)state;
	check_scans();
}

static void reads_whole_numbers_only(void **state)
{
	(void)state;
	static const char *const bad[] = {"1 ",    " 1", "1x",  "0x1p4", "1,5",   "1e",
	                                  "1.2.3", "",   "nan", "inf",   "1_000", "1'000"};
	double value = 3;
	for (size_t i = 0; i < COUNT(bad); i++)
		if (hs_number_read(bad[i], &value))
			fail_msg("\"%s\" was read as %g", bad[i], value);
	assert_true(value == 3);
	assert_true(hs_number_read("-2.50", &value));
	assert_true(value == -2.5);
}

/* A thousand digits are read to the last one: half way between two doubles, the tail decides. */
static void rounds_long_numbers_correctly(void **state)
{
	(void)state;
	char text[2100];
	double value;
	memset(text, '0', sizeof text);
	memcpy(text, "9007199254740993.", 17);
	text[2000] = '1';
	text[2001] = '\0';
	assert_true(hs_number_read(text, &value));
	assert_true(value == 9007199254740994.0);
	text[2000] = '0';
	assert_true(hs_number_read(text, &value));
	assert_true(value == 9007199254740992.0);
	memset(text, '0', 2000);
	memcpy(text + 1990, "12e-10", 7);
	assert_true(hs_number_read(text, &value));
	assert_true(value == 12e-10);
}

static const struct {
	double value;
	const char *text;
} prints[] = {
	{0, "0"},
	{-0.0, "-0"},
	{1, "1"},
	{-31.4, "-31.4"},
	{0.1, "0.1"},
	{1e-5, "0.00001"},
	{1.5e-6, "1.5e-6"},
	{1570000000, "1570000000"},
	{999999999999999.0, "999999999999999"},
	{1e15, "1e15"},
	{9007199254740993.0, "9.007199254740992e15"},
	{0.1 + 0.2, "0.30000000000000004"},
	{100, "100"},
	{2200, "2200"},
	{1.0 / 3, "0.3333333333333333"},
	{5e-324, "5e-324"},
	{1.7976931348623157e308, "1.7976931348623157e308"},
	{2.2250738585072014e-308, "2.2250738585072014e-308"},
	{5.9604644775390625e-08, "5.960464477539063e-8"},
	{123.456, "123.456"},
};

static void check_prints(void)
{
	hs_buf out;
	hs_buf_init(&out);
	for (size_t i = 0; i < COUNT(prints); i++) {
		double back;
		hs_buf_clear(&out);
		hs_number_print(&out, prints[i].value);
		assert_string_equal(out.data, prints[i].text);
		assert_true(hs_number_read(out.data, &back));
		assert_true(back == prints[i].value);
	}
	hs_buf_free(&out);
}

static void prints_shortest(void **state)
{
	(void)state;
	check_prints();
}

static void prints_back_any_double(void **state)
{
	(void)state;
	uint64_t seed = 1;
	hs_buf out;
	hs_buf_init(&out);
	for (int i = 0; i < 20000; i++) {
		seed = seed * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
		double value, back;
		memcpy(&value, &seed, sizeof value);
		if (!isfinite(value))
			continue;
		hs_buf_clear(&out);
		hs_number_print(&out, value);
		if (!hs_number_read(out.data, &back) || back != value || out.length > 24)
			fail_msg("%.17g came out as %s", value, out.data);
	}
	hs_buf_free(&out);
}

static const struct {
	double value;
	int decimals;
	const char *text;
} fixes[] = {
	{1.5, 2, "1.50"},         {-0.001, 2, "0.00"},
	{-0.006, 2, "-0.01"},     {12, 0, "12"},
	{-0.4, 0, "0"},           {106.98970004, 4, "106.9897"},
	{999.996, 2, "1000.00"},  {1e22, 1, "10000000000000000000000.0"},
	{NAN, 2, "not a number"}, {-INFINITY, 2, "-infinite"},
};

static void check_fixes(void)
{
	hs_buf out;
	hs_buf_init(&out);
	for (size_t i = 0; i < COUNT(fixes); i++) {
		hs_buf_clear(&out);
		hs_number_fixed(&out, fixes[i].value, fixes[i].decimals);
		assert_string_equal(out.data, fixes[i].text);
	}
	hs_buf_free(&out);
}

static void prints_fixed(void **state)
{
	(void)state;
	check_fixes();
}

static void a_decimal_comma_locale_changes_nothing(void **state)
{
	(void)state;
	char proof[16];
	assert_true(comma_locale_set());
	snprintf(proof, sizeof proof, "%.1f", 1.5);
	assert_string_equal(proof, "1,5");
	check_scans();
	check_prints();
	check_fixes();
	setlocale(LC_ALL, "C");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(scans_numbers),
	    cmocka_unit_test(reads_whole_numbers_only),
	    cmocka_unit_test(rounds_long_numbers_correctly),
	    cmocka_unit_test(prints_shortest),
	    cmocka_unit_test(prints_back_any_double),
	    cmocka_unit_test(prints_fixed),
	    cmocka_unit_test(a_decimal_comma_locale_changes_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
