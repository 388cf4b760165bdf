/* Limits as text: read, refused, printed, converted. */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>
#include <cmocka.h>
#include <math.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "halfsplit/judge/limits.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define NONE         HS_UNIT_COUNT

static void assert_near(const char *text, double got, double want)
{
	if (!(fabs(got - want) <= 1e-9 * fmax(1, fabs(want))))
		fail_msg("%s: got %.17g, want %.17g", text, got, want);
}

static void texts_that_are_limits(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		hs_unit bare;
		bool has_low, has_high;
		double low, high;
		hs_unit unit;
		const char *printed;
	} rows[] = {
	    {"14 dB +/- 1 dB", NONE, true, true, 13, 15, HS_DB, "13 dB to 15 dB"},
	    {"11 dBm \xC2\xB1 1 dB", NONE, true, true, 10, 12, HS_DBM, "10 dBm to 12 dBm"},
	    {"12 V +/- 5 %", NONE, true, true, 11.4, 12.6, HS_VOLT, "11.4 V to 12.6 V"},
	    {"-12 V +/- 5 %", NONE, true, true, -12.6, -11.4, HS_VOLT, "-12.6 V to -11.4 V"},
	    {"11.4 V .. 12.6 V", NONE, true, true, 11.4, 12.6, HS_VOLT, "11.4 V to 12.6 V"},
	    {"11.4 V..12.6 V", NONE, true, true, 11.4, 12.6, HS_VOLT, "11.4 V to 12.6 V"},
	    {"  11.4 V to 12600 mV ", NONE, true, true, 11.4, 12.6, HS_VOLT, "11.4 V to 12.6 V"},
	    {"11.4 .. 12.6", HS_VOLT, true, true, 11.4, 12.6, HS_VOLT, "11.4 V to 12.6 V"},
	    {"0 .. 5 mV", NONE, true, true, 0, 5e-3, HS_VOLT, "0 mV to 5 mV"},
	    {"-5 mV to 0", NONE, true, true, -5e-3, 0, HS_VOLT, "-5 mV to 0 mV"},
	    {"900 ohm to 1.1 kohm", NONE, true, true, 900, 1100, HS_OHM, "0.9 kohm to 1.1 kohm"},
	    {"40 W to 47 dBm", NONE, true, true, 40, 50.118723362727, HS_WATT, "40 W to 50.12 W"},
	    {"at least 10 dBm", NONE, true, false, 10, 0, HS_DBM, "at least 10 dBm"},
	    {"At Least -20", HS_DBM, true, false, -20, 0, HS_DBM, "at least -20 dBm"},
	    {"at most 5 mV", NONE, false, true, 0, 5e-3, HS_VOLT, "at most 5 mV"},
	    {"open", NONE, true, false, 1e6, 0, HS_OHM, "open"},
	    {"open", HS_OHM, true, false, 1e6, 0, HS_OHM, "open"},
	    /* As many digits as the interval needs. */
	    {"145.0005 MHz to 145.0015 MHz", NONE, true, true, 145000500, 145001500, HS_HERTZ,
	     "145.0005 MHz to 145.0015 MHz"},
	    {"145 MHz +/- 20 Hz", NONE, true, true, 144999980, 145000020, HS_HERTZ, "144.99998 MHz to 145.00002 MHz"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_limits limits;
		hs_error error = {0};
		hs_buf printed;
		hs_buf_init(&printed);
		if (!hs_limits_read(rows[i].text, rows[i].bare, &limits, &error))
			fail_msg("%s: %s", rows[i].text, error.message);
		assert_int_equal(limits.has_low, rows[i].has_low);
		assert_int_equal(limits.has_high, rows[i].has_high);
		if (limits.has_low)
			assert_near(rows[i].text, limits.low, rows[i].low);
		if (limits.has_high)
			assert_near(rows[i].text, limits.high, rows[i].high);
		assert_int_equal(limits.unit, rows[i].unit);
		assert_int_equal(limits.open_is_ok, strcmp(rows[i].text, "open") == 0);
		hs_limits_print(&printed, &limits);
		assert_string_equal(printed.data, rows[i].printed);
		hs_buf_free(&printed);
	}
}

static void texts_that_are_none(void **state)
{
	(void)state;
	static const char *const ways =
	    "write \"12 V +/- 5 %\", \"11.4 V to 12.6 V\", \"at least 10 dBm\" or \"at most 5 mV\"";
	static const struct {
		const char *text;
		hs_unit bare;
		const char *message, *hint; /* NULL: the words are those of the quantity, tried elsewhere */
	} rows[] = {
	    {"", NONE, "the limits are empty", ways},
	    {"12.6 V .. 11.4 V", NONE, "the low limit 12.6 V is above the high limit 11.4 V",
	     "the low limit comes first"},
	    {"12 V .. 12 V", NONE, "12 V is one value, where limits are two", ways},
	    {"12 V", NONE, "12 V is one value, where limits are two", ways},
	    {"12 V +/- 0 V", NONE, "12 V is one value, where limits are two", ways},
	    {"100 .. 200 mV", HS_VOLT, "one limit has a unit and the other (100) has none",
	     "write the unit behind both"},
	    {"100 mV .. 200", HS_VOLT, "one limit has a unit and the other (200) has none",
	     "write the unit behind both"},
	    {"10 dBm .. 12 V", NONE, "one limit is a power and the other a voltage", ""},
	    {"open", HS_VOLT, "\"open\" is a limit of a resistance, not of a voltage", ""},
	    {"10 dBm +/- 5 %", NONE, NULL, NULL},
	    {"12 V +/- 1 ohm", NONE, NULL, NULL},
	    {"11.4 .. 12.6", NONE, NULL, NULL},
	    {"at least", NONE, NULL, NULL},
	    {"at least many", NONE, NULL, NULL},
	    {"at most 5 mV or so", NONE, NULL, NULL},
	    {"11,4 V .. 12,6 V", NONE, NULL, NULL},
	    {".. 12 V", NONE, NULL, NULL},
	    {"12 V ..", NONE, NULL, NULL},
	    {"nan V .. 12 V", NONE, NULL, NULL},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_limits limits = {.low = 77};
		hs_error error = {0};
		if (hs_limits_read(rows[i].text, rows[i].bare, &limits, &error))
			fail_msg("\"%s\" was read as limits", rows[i].text);
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_true(strlen(error.message) > 0);
		if (rows[i].message) {
			assert_string_equal(error.message, rows[i].message);
			assert_string_equal(error.hint, rows[i].hint);
		}
		assert_near(rows[i].text, limits.low, 77);
	}
}

static void converted(void **state)
{
	(void)state;
	static const struct {
		const char *from;
		hs_unit to;
		double ohm;
		bool has_low;
		double low, high;
	} rows[] = {
	    {"40 W to 50 W", HS_DBM, 0, true, 46.020599913279625, 46.989700043360187},
	    {"-17 dBm to -3 dBm", HS_DBUV, 50, true, 89.989700043360187, 103.98970004336019},
	    {"0 W to 1 mW", HS_DBM, 0, false, 0, 0}, /* no power at all lies at minus infinity */
	    {"-1 mV to 1 mV", HS_VPP, 0, true, -2.8284271247461901e-3, 2.8284271247461901e-3},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_limits from, to;
		assert_true(hs_limits_read(rows[i].from, NONE, &from, NULL));
		assert_true(hs_limits_convert(&from, rows[i].to, rows[i].ohm, &to, NULL));
		assert_int_equal(to.unit, rows[i].to);
		assert_int_equal(to.has_low, rows[i].has_low);
		assert_true(to.has_high);
		assert_near(rows[i].from, to.low, rows[i].low);
		assert_near(rows[i].from, to.high, rows[i].high);
	}
}

static void not_converted(void **state)
{
	(void)state;
	static const struct {
		const char *from;
		hs_unit to;
	} rows[] = {
	    {"1 V to 2 V", HS_DBM}, /* no impedance, never a silent 50 ohm */
	    {"1 V to 2 V", HS_OHM}, {"-1 V to 2 V", HS_DBV}, {"at most -1 W", HS_DBM}, {"open", HS_VOLT},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_limits from, to = {.low = 77};
		hs_error error = {0};
		assert_true(hs_limits_read(rows[i].from, NONE, &from, NULL));
		if (hs_limits_convert(&from, rows[i].to, 0, &to, &error))
			fail_msg("\"%s\" was converted", rows[i].from);
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_true(strlen(error.message) > 0);
		assert_near(rows[i].from, to.low, 77);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(texts_that_are_limits),
	    cmocka_unit_test(texts_that_are_none),
	    cmocka_unit_test(converted),
	    cmocka_unit_test(not_converted),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
