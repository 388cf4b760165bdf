/* Quantities as people type and read them, levels, entries and tolerances. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/quantity/quantity.h"
#include "comma_locale.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define MINUS        "\xE2\x88\x92"
#define MICRO        "\xC2\xB5"
#define MU           "\xCE\xBC"
#define OHM_SIGN     "\xE2\x84\xA6"
#define OMEGA        "\xCE\xA9"

static const struct {
	const char *text;
	hs_unit bare;
	double value;
	hs_unit unit;
	double step;
} reads[] = {
	{"-31.4 dBm", HS_DBM, -31.4, HS_DBM, 0.1},
	{"-31.4", HS_DBM, -31.4, HS_DBM, 0.1},
	{MINUS "31.4dBm", HS_UNIT_COUNT, -31.4, HS_DBM, 0.1},
	{"+17 dBm", HS_UNIT_COUNT, 17, HS_DBM, 1},
	{"  12 V  ", HS_UNIT_COUNT, 12, HS_VOLT, 1},
	{"12\xC2\xA0V", HS_UNIT_COUNT, 12, HS_VOLT, 1},
	{"2.20 kohm", HS_UNIT_COUNT, 2200, HS_OHM, 10},
	{"1.005 kohm", HS_UNIT_COUNT, 1005, HS_OHM, 1},
	{"1.005e3 kohm", HS_UNIT_COUNT, 1005000, HS_OHM, 1000},
	{"145 MHz", HS_UNIT_COUNT, 145e6, HS_HERTZ, 1e6},
	{"1.57 GHz", HS_UNIT_COUNT, 1.57e9, HS_HERTZ, 1e7},
	{"2 THz", HS_UNIT_COUNT, 2e12, HS_HERTZ, 1e12},
	{"4 mHz", HS_UNIT_COUNT, 0.004, HS_HERTZ, 0.001},
	{"10 uF", HS_UNIT_COUNT, 10e-6, HS_FARAD, 1e-6},
	{"10 " MICRO "F", HS_UNIT_COUNT, 10e-6, HS_FARAD, 1e-6},
	{"10 " MU "F", HS_UNIT_COUNT, 10e-6, HS_FARAD, 1e-6},
	{"47 pF", HS_UNIT_COUNT, 47e-12, HS_FARAD, 1e-12},
	{"3.3 nH", HS_UNIT_COUNT, 3.3e-9, HS_HENRY, 0.1e-9},
	{"50 ohm", HS_UNIT_COUNT, 50, HS_OHM, 1},
	{"50 Ohms", HS_UNIT_COUNT, 50, HS_OHM, 1},
	{"50 " OHM_SIGN, HS_UNIT_COUNT, 50, HS_OHM, 1},
	{"50" OMEGA, HS_UNIT_COUNT, 50, HS_OHM, 1},
	{"2.2 k" OMEGA, HS_UNIT_COUNT, 2200, HS_OHM, 100},
	{"2.2 K" OHM_SIGN, HS_UNIT_COUNT, 2200, HS_OHM, 100},
	{"2.2 Kohm", HS_UNIT_COUNT, 2200, HS_OHM, 100},
	{"100R", HS_UNIT_COUNT, 100, HS_OHM, 1},
	{"1 MOhm", HS_UNIT_COUNT, 1e6, HS_OHM, 1e6},
	{"20 mohm", HS_UNIT_COUNT, 0.02, HS_OHM, 0.001},
	{"2k2", HS_OHM, 2200, HS_OHM, 100},
	{"2k2", HS_UNIT_COUNT, 2200, HS_OHM, 100},
	{"2K2", HS_OHM, 2200, HS_OHM, 100},
	{"4R7", HS_OHM, 4.7, HS_OHM, 0.1},
	{"3M3", HS_OHM, 3.3e6, HS_OHM, 1e5},
	{"1G00", HS_OHM, 1e9, HS_OHM, 1e7},
	{"2k2 ohm", HS_VOLT, 2200, HS_OHM, 100},
	{"2k2" OMEGA, HS_UNIT_COUNT, 2200, HS_OHM, 100},
	{"2.2k", HS_OHM, 2200, HS_OHM, 100},
	{"1M", HS_OHM, 1e6, HS_OHM, 1e6},
	{"12.5 DBM", HS_UNIT_COUNT, 12.5, HS_DBM, 0.1},
	{"12.5 dBW", HS_UNIT_COUNT, 12.5, HS_DBW, 0.1},
	{"3 dbuv", HS_UNIT_COUNT, 3, HS_DBUV, 1},
	{"3 dB" MICRO "V", HS_UNIT_COUNT, 3, HS_DBUV, 1},
	{"3 dB" MU "V", HS_UNIT_COUNT, 3, HS_DBUV, 1},
	{"3 dBmV", HS_UNIT_COUNT, 3, HS_DBMV, 1},
	{"-10 dBV", HS_UNIT_COUNT, -10, HS_DBV, 1},
	{"+4 dBu", HS_UNIT_COUNT, 4, HS_DBU, 1},
	{"3 dB", HS_UNIT_COUNT, 3, HS_DB, 1},
	{"7 khz", HS_UNIT_COUNT, 7000, HS_HERTZ, 1000},
	{"5 volts", HS_UNIT_COUNT, 5, HS_VOLT, 1},
	{"5 v", HS_UNIT_COUNT, 5, HS_VOLT, 1},
	{"100 mv", HS_UNIT_COUNT, 0.1, HS_VOLT, 0.001},
	{"5 Vrms", HS_UNIT_COUNT, 5, HS_VOLT, 1},
	{"5 V rms", HS_UNIT_COUNT, 5, HS_VOLT, 1},
	{"5 mV RMS", HS_UNIT_COUNT, 0.005, HS_VOLT, 0.001},
	{"-12.01 VDC", HS_UNIT_COUNT, -12.01, HS_VOLT, 0.01},
	{"230 V AC", HS_UNIT_COUNT, 230, HS_VOLT, 1},
	{"13.8 Vdc", HS_UNIT_COUNT, 13.8, HS_VOLT, 0.1},
	{"5 Vpk", HS_UNIT_COUNT, 5, HS_VPK, 1},
	{"5 V pk", HS_UNIT_COUNT, 5, HS_VPK, 1},
	{"5 Vpp", HS_UNIT_COUNT, 5, HS_VPP, 1},
	{"5 V pp", HS_UNIT_COUNT, 5, HS_VPP, 1},
	{"5 V p-p", HS_UNIT_COUNT, 5, HS_VPP, 1},
	{"200 mVp-p", HS_UNIT_COUNT, 0.2, HS_VPP, 0.001},
	{"1 MV", HS_UNIT_COUNT, 1e6, HS_VOLT, 1e6},
	{"250 mA", HS_UNIT_COUNT, 0.25, HS_AMP, 0.001},
	{"5 kW", HS_UNIT_COUNT, 5000, HS_WATT, 1000},
	{"20 degC", HS_UNIT_COUNT, 20, HS_DEGC, 1},
	{"20 \xC2\xB0"
     "C",
     HS_UNIT_COUNT, 20, HS_DEGC, 1},
	{"10 %", HS_UNIT_COUNT, 10, HS_PERCENT, 1},
	{"10%", HS_UNIT_COUNT, 10, HS_PERCENT, 1},
	{"1.5 SWR", HS_UNIT_COUNT, 1.5, HS_SWR, 0.1},
	{"3 m", HS_UNIT_COUNT, 3, HS_METRE, 1},
	{"3 mm", HS_UNIT_COUNT, 0.003, HS_METRE, 0.001},
	{"0.6 N m", HS_UNIT_COUNT, 0.6, HS_NEWTON_METRE, 0.1},
	{"0.6 Nm", HS_UNIT_COUNT, 0.6, HS_NEWTON_METRE, 0.1},
	{"6 nm", HS_UNIT_COUNT, 6e-9, HS_METRE, 1e-9},
	{"12 kg", HS_UNIT_COUNT, 12000, HS_GRAM, 1000},
	{"250 mJ", HS_UNIT_COUNT, 0.25, HS_JOULE, 0.001},
	{"5 ms", HS_UNIT_COUNT, 0.005, HS_SECOND, 0.001},
	{"5 seconds", HS_UNIT_COUNT, 5, HS_SECOND, 1},
	{"5 min", HS_UNIT_COUNT, 300, HS_SECOND, 60},
	{"1.5 h", HS_UNIT_COUNT, 5400, HS_SECOND, 360},
	{"42", HS_UNITLESS, 42, HS_UNITLESS, 1},
	{"-4000 dBm", HS_UNIT_COUNT, -4000, HS_DBM, 1},
	{"0 W", HS_UNIT_COUNT, 0, HS_WATT, 1},
};

static void check_reads(void)
{
	for (size_t i = 0; i < COUNT(reads); i++) {
		hs_quantity read;
		hs_error error = {0};
		double step;
		if (!hs_quantity_read_step(reads[i].text, reads[i].bare, &read, &step, &error))
			fail_msg("\"%s\" was refused: %s", reads[i].text, error.message);
		if (read.value != reads[i].value || read.unit != reads[i].unit ||
		    fabs(step / reads[i].step - 1) > 1e-12)
			fail_msg("\"%s\" gave %.17g %s, step %.17g", reads[i].text, read.value, hs_unit_name(read.unit),
			         step);
		assert_int_equal(error.code, HS_FINE);
	}
}

static void reads_quantities(void **state)
{
	(void)state;
	check_reads();
}

static const char known_units[] =
	"units are dBm dBW W V Vpk Vpp dBV dBu dBuV dBmV A ohm Hz s F H degC % dB SWR m J Nm g, "
	"with p n u m k M G T before those without dB";
static const char grouped[] = "write the number without grouping and with one decimal point";

static const struct {
	const char *text;
	hs_unit bare;
	const char *message;
	const char *hint;
} refusals[] = {
	{"12.5 dBm V", HS_DBM, "after \"12.5 dBm\" there is another unit, \"V\", and one was wanted",
     "write one number with one unit"},
	{"5 m V", HS_UNIT_COUNT, "after \"5 m\" there is another unit, \"V\", and one was wanted",
     "write one number with one unit"},
	{"1,5 dB", HS_DB, "\"1,5 dB\" has a comma in the number, and a decimal point was wanted", "write 1.5"},
	{"-1,25", HS_DB, "\"-1,25\" has a comma in the number, and a decimal point was wanted", "write -1.25"},
	{"1,234.5 V", HS_VOLT, "\"1,234.5 V\" has a comma in the number, and a decimal point was wanted", grouped},
	{"1.234,5 V", HS_VOLT, "\"1.234,5 V\" has a comma in the number, and a decimal point was wanted", grouped},
	{"1,234,567", HS_VOLT, "\"1,234,567\" has a comma in the number, and a decimal point was wanted", grouped},
	{"1 000 V", HS_VOLT, "after \"1\" there is \"000 V\", and nothing more was wanted",
     "write a number without spaces inside"},
	{"0x10 V", HS_VOLT, "\"0x10 V\" is hexadecimal, and a decimal number was wanted", ""},
	{"0X1p4", HS_VOLT, "\"0X1p4\" is hexadecimal, and a decimal number was wanted", ""},
	{"nan", HS_DBM,
	 "\"nan\" does not begin with a number, and a number in dBm was wanted", "write it like 12.5 dBm"},
	{"inf V", HS_VOLT,
	 "\"inf V\" does not begin with a number, and a number in V was wanted", "write it like 12.5 V"},
	{"-inf", HS_UNITLESS,
	 "\"-inf\" does not begin with a number, and a plain number was wanted", "write it like 12.5"},
	{"", HS_DBM, "nothing was given, and a number in dBm was wanted", ""},
	{"   ", HS_UNIT_COUNT, "nothing was given, and a number with a unit was wanted", ""},
	{"- 5 V", HS_VOLT,
	 "\"- 5 V\" does not begin with a number, and a number in V was wanted", "write it like 12.5 V"},
	{"1e400 V", HS_VOLT, "the number \"1e400 V\" is too large to calculate with", ""},
	{"1e300 Gohm", HS_OHM, "the number \"1e300 Gohm\" is too large to calculate with", ""},
	{"5", HS_UNIT_COUNT,
	 "\"5\" has no unit, and a number with a unit was wanted", "write the unit behind the number"},
	{"2k2", HS_VOLT, "\"2k2\" is a way to write a resistance, and a number in V was wanted",
     "write it with a decimal point"},
	{"2k2", HS_UNITLESS, "\"2k2\" is a way to write a resistance, and a plain number was wanted",
     "write it with a decimal point"},
	{"2k2 Hz", HS_OHM, "\"2k2\" is a way to write a resistance, and no other unit behind it was wanted",
     "write it with a decimal point"},
	{"2k2k", HS_OHM, "after \"2k2\" there is \"k\", and nothing more was wanted", ""},
	{"4n7", HS_FARAD, "\"4n7\" has the unit \"n7\", which is not known, and a number in F was wanted", known_units},
	{"2.2k", HS_HERTZ,
	 "\"2.2k\" has the unit \"k\", which is not known, and a number in Hz was wanted", "write kHz"},
	{"10k", HS_UNITLESS, "\"10k\" has the unit \"k\", which is not known, and a plain number was wanted",
	 "a unit stands behind a prefix: kohm, kHz"},
	{"10 k", HS_DBM, "\"10 k\" has the unit \"k\", which is not known, and a number in dBm was wanted", known_units},
	{"3 dBn", HS_DBM, "\"3 dBn\" has the unit \"dBn\", which is not known, and a number in dBm was wanted",
	 "did you mean dBm?"},
	{"3 dBi", HS_DBM, "\"3 dBi\" has the unit \"dBi\", which is not known, and a number in dBm was wanted",
	 "write dB, and say in words above what"},
	{"10 cm", HS_METRE, "\"10 cm\" has the unit \"cm\", which is not known, and a number in m was wanted",
	 "lengths are in m"},
	{"290 K", HS_DEGC, "\"290 K\" has the unit \"K\", which is not known, and a number in degC was wanted",
	 "temperatures are in degC"},
	{"20 C", HS_DEGC, "\"20 C\" is in coulomb, which nothing here is measured in", "write degC for a temperature"},
	{"145 mhz", HS_HERTZ, "\"145 mhz\" has the unit \"mhz\", which is not known, and a number in Hz was wanted",
     "write mHz or MHz"},
	{"145 MHZ", HS_HERTZ, "\"145 MHZ\" has the unit \"MHZ\", which is not known, and a number in Hz was wanted",
     "write mHz or MHz"},
	{"1 MOHM", HS_OHM, "\"1 MOHM\" has the unit \"MOHM\", which is not known, and a number in ohm was wanted",
     "write mohm or Mohm"},
	{"5 KHz", HS_HERTZ, "\"5 KHz\" has the unit \"KHz\", which is not known, and a number in Hz was wanted",
     "write kHz"},
	{"5 S", HS_SECOND, "\"5 S\" has the unit \"S\", which is not known, and a number in s was wanted", "write s"},
	{"5 kdB", HS_DB,
	 "\"5 kdB\" has the unit \"kdB\", which is not known, and a number in dB was wanted", "did you mean dB?"},
	{"5 k%", HS_PERCENT,
	 "\"5 k%\" has the unit \"k%\", which is not known, and a number in % was wanted", known_units},
	{"5 furlongs", HS_METRE,
     "\"5 furlongs\" has the unit \"furlongs\", which is not known, and a number in m was wanted", known_units},
	{"5 V!", HS_VOLT, "after \"5 V\" there is \"!\", and nothing more was wanted", ""},
	{"1.2.3 V", HS_VOLT, "after \"1.2\" there is \".3 V\", and nothing more was wanted", ""},
	{"5 V at the gate of the driver, which is hot, and then some", HS_VOLT,
     "after \"5 V\" there is \"at the gate of the driver, which is hot, and then so...\", and nothing more was wanted",
     ""},
};

static void check_refusals(void)
{
	for (size_t i = 0; i < COUNT(refusals); i++) {
		hs_quantity read = {7, HS_DB};
		hs_error error = {0};
		if (hs_quantity_read(refusals[i].text, refusals[i].bare, &read, &error))
			fail_msg("\"%s\" was read as %g %s", refusals[i].text, read.value, hs_unit_name(read.unit));
		assert_string_equal(error.message, refusals[i].message);
		assert_string_equal(error.hint, refusals[i].hint);
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_true(read.value == 7 && read.unit == HS_DB);
	}
}

static void refuses_with_a_plain_sentence(void **state)
{
	(void)state;
	check_refusals();
}

static void scans_at_the_start(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		hs_unit bare;
		double value;
		hs_unit unit;
		size_t used;
	} rows[] = {
		{"14 dB +/- 1 dB", HS_UNIT_COUNT, 14, HS_DB, 5},
		{"5 V, 3 A", HS_UNIT_COUNT, 5, HS_VOLT, 3},
		{"3 + 4", HS_UNITLESS, 3, HS_UNITLESS, 1},
		{"3  ", HS_DBM, 3, HS_DBM, 1},
		{"5 6 7", HS_DBM, 5, HS_DBM, 1},
		{"1 Mohm)", HS_UNIT_COUNT, 1e6, HS_OHM, 6},
		{"12 V\xC2\xB1"
	     "1 V",
	     HS_UNIT_COUNT, 12, HS_VOLT, 4},
		{"5 V p-p/2", HS_UNIT_COUNT, 5, HS_VPP, 7},
		{"10%*3", HS_UNIT_COUNT, 10, HS_PERCENT, 3},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_quantity read;
		size_t used;
		hs_error error = {0};
		if (!hs_quantity_scan(rows[i].text, rows[i].bare, &read, NULL, &used, &error))
			fail_msg("\"%s\" was refused: %s", rows[i].text, error.message);
		if (read.value != rows[i].value || read.unit != rows[i].unit || used != rows[i].used)
			fail_msg("\"%s\" gave %g %s, %zu used", rows[i].text, read.value, hs_unit_name(read.unit),
			         used);
	}
}

static void knows_its_units(void **state)
{
	(void)state;
	for (hs_unit unit = 0; unit < HS_UNIT_COUNT; unit++) {
		hs_unit found = HS_UNIT_COUNT;
		assert_true(hs_unit_find(hs_unit_name(unit), &found));
		assert_int_equal(found, unit);
		assert_string_not_equal(hs_dimension_name(hs_unit_dimension(unit)), "?");
	}
	hs_unit unit = HS_DB;
	static const char *const none[] = {"dbm", "mV", "C", "dBm ", "furlong", "K"};
	for (size_t i = 0; i < COUNT(none); i++)
		if (hs_unit_find(none[i], &unit))
			fail_msg("\"%s\" was found", none[i]);
	assert_int_equal(unit, HS_DB);
	assert_true(hs_unit_find("V rms", &unit) && unit == HS_VOLT);
	assert_true(hs_unit_find("Vp-p", &unit) && unit == HS_VPP);
	assert_true(hs_unit_find(OHM_SIGN, &unit) && unit == HS_OHM);
	assert_int_equal(hs_unit_dimension(HS_DBUV), HS_DIM_VOLTAGE);
	assert_int_equal(hs_unit_dimension(HS_DB), HS_DIM_DECIBEL);
	assert_true(hs_unit_is_level(HS_DBM) && hs_unit_is_level(HS_DBMV));
	assert_false(hs_unit_is_level(HS_DB) || hs_unit_is_level(HS_WATT) || hs_unit_is_level(HS_UNIT_COUNT));
}

static const struct {
	double value;
	hs_unit unit;
	int decimals;
	const char *text;
} prints[] = {
	{1.57e9, HS_HERTZ, -1, "1.57 GHz"},
	{-31.4, HS_DBM, -1, "-31.4 dBm"},
	{2200, HS_OHM, -1, "2.2 kohm"},
	{12, HS_VOLT, -1, "12 V"},
	{0, HS_VOLT, -1, "0 V"},
	{-0.0, HS_VOLT, -1, "0 V"},
	{999.96, HS_VOLT, -1, "1 kV"},
	{999.94, HS_VOLT, -1, "999.9 V"},
	{1234.5, HS_VOLT, -1, "1.234 kV"},
	{0.25, HS_VOLT, -1, "0.25 V"},
	{0.1, HS_OHM, -1, "0.1 ohm"},
	{-0.54, HS_VOLT, -1, "-0.54 V"},
	{0.099, HS_VOLT, -1, "99 mV"},
	{0.099999, HS_VOLT, -1, "0.1 V"},
	{0.54, HS_VOLT, 2, "540.00 mV"}, /* decimals that were asked for are not lost */
	{-4.7e-6, HS_FARAD, -1, "-4.7 uF"},
	{47e-12, HS_FARAD, -1, "47 pF"},
	{0.5e-12, HS_FARAD, -1, "0.5 pF"},
	{9.9996, HS_AMP, -1, "10 A"},
	{4800, HS_SECOND, -1, "4800 s"},
	{0.02, HS_SECOND, -1, "20 ms"},
	{0.6, HS_NEWTON_METRE, -1, "0.6 N m"},
	{2500, HS_GRAM, -1, "2.5 kg"},
	{106.98970004336019, HS_DBUV, -1, "106.99 dBuV"},
	{106.98970004336019, HS_DBUV, 4, "106.9897 dBuV"},
	{-31, HS_DBM, 1, "-31.0 dBm"},
	{-0.001, HS_DB, -1, "0 dB"},
	{-0.001, HS_DB, 2, "0.00 dB"},
	{12345, HS_UNITLESS, -1, "12345"},
	{0.3333333, HS_UNITLESS, -1, "0.3333"},
	{1e-9, HS_UNITLESS, -1, "1e-9"},
	{1.25, HS_SWR, -1, "1.25 SWR"},
	{12.5, HS_PERCENT, -1, "12.5 %"},
	{21.456, HS_DEGC, -1, "21.46 degC"},
	{12, HS_VOLT, 2, "12.00 V"},
	{999.996, HS_VOLT, 2, "1.00 kV"},
	{1e13, HS_HERTZ, -1, "10 THz"},
	{1e300, HS_VOLT, -1, "1e300 V"},
	{1e-20, HS_AMP, -1, "1e-20 A"},
	{-4000, HS_DBM, -1, "-4000 dBm"},
	{NAN, HS_VOLT, -1, "not a number V"},
};

static void check_prints(void)
{
	hs_buf out;
	hs_buf_init(&out);
	for (size_t i = 0; i < COUNT(prints); i++) {
		hs_buf_clear(&out);
		hs_quantity_print(&out, (hs_quantity){prints[i].value, prints[i].unit}, prints[i].decimals);
		assert_string_equal(out.data, prints[i].text);
	}
	hs_buf_free(&out);
}

static void figures_share_a_prefix(void **state)
{
	static const struct {
		double value;
		hs_unit unit;
		double like;
		const char *text;
	} rows[] = {
		{0.02, HS_VOLT, 40, "0.02 V"},
		{0.0062, HS_VOLT, 40, "0.0062 V"},
		{900, HS_OHM, 1100, "0.9 kohm"},
		{2500, HS_OHM, 900, "2500 ohm"},
		{0, HS_VOLT, 5e-3, "0 mV"},
		{0.54, HS_VOLT, 20e-3, "540 mV"},
		{0.0001, HS_VOLT, 1, "0.0001 V"},
		{0.00009, HS_VOLT, 1, "90 uV"},   /* too many zeros: its own */
		{55.8, HS_VOLT, 5e-3, "55.8 V"},  /* too many digits: its own */
		{0.42, HS_DB, 1e-3, "0.42 dB"},   /* never prefixed */
		{1.5, HS_DBM, 1e6, "1.5 dBm"},
		{2e-20, HS_VOLT, 1, "2e-20 V"},
		{NAN, HS_VOLT, 1, "not a number V"},
	};
	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_buf out;
		hs_buf_init(&out);
		int prefix = hs_quantity_prefix((hs_quantity){rows[i].like, rows[i].unit});
		hs_quantity_print_in(&out, (hs_quantity){rows[i].value, rows[i].unit}, prefix);
		assert_string_equal(out.data, rows[i].text);
		hs_buf_free(&out);
	}
	assert_int_equal(hs_quantity_prefix((hs_quantity){0.54, HS_VOLT}), 0);
	assert_int_equal(hs_quantity_prefix((hs_quantity){47e-12, HS_FARAD}), -4);
	assert_int_equal(hs_quantity_prefix((hs_quantity){145e6, HS_HERTZ}), 2);
	assert_int_equal(hs_quantity_prefix((hs_quantity){INFINITY, HS_HERTZ}), 0);
}

static void prints_for_people(void **state)
{
	(void)state;
	check_prints();
}

static void a_decimal_comma_locale_changes_nothing(void **state)
{
	(void)state;
	assert_true(comma_locale_set());
	check_reads();
	check_refusals();
	check_prints();
	setlocale(LC_ALL, "C");
}

static void converts_levels(void **state)
{
	(void)state;
	static const struct {
		double value;
		hs_unit from, to;
		double ohm, result;
	} rows[] = {
		{0, HS_DBM, HS_DBUV, 50, 106.98970004336019},
		{0, HS_DBM, HS_DBUV, 75, 108.75061263391700},
		{106.98970004336019, HS_DBUV, HS_DBM, 50, 0},
		{0, HS_DBU, HS_VOLT, 0, 0.7745966692414834}, /* sqrt(0.6), not 0.775 */
		{0.7745966692414834, HS_VOLT, HS_DBU, 0, 0},
		{0, HS_DBU, HS_DBM, 600, 0},
		{0, HS_DBV, HS_DBU, 0, 2.218487496163564},
		{4, HS_DBU, HS_VOLT, 0, 1.22765298798388},
		{-4000, HS_DBM, HS_DBW, 0, -4030},
		{4000, HS_DBM, HS_DBW, 0, 3970},
		{4000, HS_DBM, HS_DBUV, 50, 4106.98970004336019},
		{-4000, HS_DBMV, HS_DBUV, 0, -3940},
		{0, HS_DBMV, HS_DBM, 75, -48.75061263391700},
		{30, HS_DBM, HS_WATT, 0, 1},
		{50, HS_WATT, HS_DBM, 0, 46.98970004336019},
		{1, HS_WATT, HS_DBW, 0, 0},
		{13, HS_DBM, HS_DBM, 0, 13},
		{1, HS_WATT, HS_VOLT, 50, 7.0710678118654755},
		{-5, HS_VOLT, HS_WATT, 50, 0.5},
		{1, HS_VOLT, HS_VPK, 0, 1.4142135623730951},
		{1, HS_VOLT, HS_VPP, 0, 2.8284271247461903},
		{-10, HS_VPK, HS_VPP, 0, -20},
		{1, HS_VPP, HS_DBM, 50, 3.979400086720376},
		{0, HS_DBM, HS_VPP, 50, 0.6324555320336759},
		{2, HS_VPP, HS_WATT, 50, 0.01},
		{0.01, HS_WATT, HS_VPK, 50, 1},
		{0, HS_WATT, HS_VOLT, 50, 0},
		{0, HS_VOLT, HS_VPP, 0, 0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_quantity out = {99, HS_UNITLESS};
		hs_error error = {0};
		if (!hs_quantity_convert((hs_quantity){rows[i].value, rows[i].from}, rows[i].to, rows[i].ohm, &out,
		                         &error))
			fail_msg("row %zu: %s", i, error.message);
		if (fabs(out.value - rows[i].result) > 1e-9 || out.unit != rows[i].to)
			fail_msg("%g %s in %g ohm gave %.12g %s", rows[i].value, hs_unit_name(rows[i].from),
			         rows[i].ohm, out.value, hs_unit_name(out.unit));
	}
}

static void refuses_conversions(void **state)
{
	(void)state;
	static const char in_what[] = "say in what impedance, such as 50 ohm",
	                  what[] = "say what was read instead, such as a level below the noise";
	static const struct {
		double value;
		hs_unit from, to;
		double ohm;
		const char *message, *hint;
	} rows[] = {
		{0, HS_DBM, HS_DBUV, 0, "from dBm to dBuV an impedance is needed, and none was given", in_what},
		{5, HS_VOLT, HS_WATT, 0, "from V to W an impedance is needed, and none was given", in_what},
		{5, HS_VOLT, HS_DBM, -50, "from V to dBm an impedance above 0 ohm is needed", in_what},
		{5, HS_VOLT, HS_DBM, NAN, "from V to dBm an impedance above 0 ohm is needed", in_what},
		{0, HS_WATT, HS_DBM, 0, "0 W has no level in decibels", what},
		{0, HS_VOLT, HS_DBUV, 0, "0 V has no level in decibels", what},
		{-3, HS_VOLT, HS_DBV, 0, "less than 0 V has no level in decibels", what},
		{-3, HS_WATT, HS_VOLT, 50, "a power below 0 W has no voltage", ""},
		{4000, HS_DBM, HS_WATT, 0, "4000 dBm is too large to be written in W", "stay in decibels"},
		{-4000, HS_DBM, HS_WATT, 0, "-4000 dBm is too small to be written in W", "stay in decibels"},
		{-9000, HS_DBM, HS_VOLT, 50, "-9000 dBm is too small to be written in V", "stay in decibels"},
		{NAN, HS_DBM, HS_DBW, 0, "a value that is not a finite number cannot be converted to dBW", ""},
		{1, HS_DBM, HS_HERTZ, 50, "\"dBm\" (power) cannot be converted to \"Hz\" (frequency)", ""},
		{1, HS_DB, HS_DBM, 50, "\"dB\" (ratio in decibels) cannot be converted to \"dBm\" (power)", ""},
		{1, HS_OHM, HS_VOLT, 50, "\"ohm\" (resistance) cannot be converted to \"V\" (voltage)", ""},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_quantity out = {99, HS_SWR};
		hs_error error = {0};
		if (hs_quantity_convert((hs_quantity){rows[i].value, rows[i].from}, rows[i].to, rows[i].ohm, &out,
		                        &error))
			fail_msg("row %zu gave %g", i, out.value);
		assert_string_equal(error.message, rows[i].message);
		assert_string_equal(error.hint, rows[i].hint);
		assert_true(out.value == 99 && out.unit == HS_SWR);
	}
}

static void reads_entries(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		hs_unit shown;
		hs_entry_kind kind;
		double value;
		hs_unit unit;
		double step;
		const char *reason;
	} rows[] = {
		{"-31.4", HS_DBM, HS_ENTRY_NUMBER, -31.4, HS_DBM, 0.1, ""},
		{" 12.50 dBm ", HS_WATT, HS_ENTRY_NUMBER, 12.5, HS_DBM, 0.01, ""},
		{"-12.01", HS_VOLT, HS_ENTRY_NUMBER, -12.01, HS_VOLT, 0.01, ""},
		{"2k2", HS_OHM, HS_ENTRY_NUMBER, 2200, HS_OHM, 100, ""},
		{"> 20 Mohm", HS_OHM, HS_ENTRY_ABOVE, 20e6, HS_OHM, 0, ""},
		{">20", HS_OHM, HS_ENTRY_ABOVE, 20, HS_OHM, 0, ""},
		{"< 1 mV", HS_VOLT, HS_ENTRY_BELOW, 0.001, HS_VOLT, 0, ""},
		{"OL", HS_OHM, HS_ENTRY_OVER, 0, 0, 0, ""},
		{"ol", HS_VOLT, HS_ENTRY_OVER, 0, 0, 0, ""},
		{"Overload ", HS_DBM, HS_ENTRY_OVER, 0, 0, 0, ""},
		{"over", HS_DBM, HS_ENTRY_OVER, 0, 0, 0, ""},
		{"open", HS_OHM, HS_ENTRY_OPEN, 0, 0, 0, ""},
		{"o/c", HS_OHM, HS_ENTRY_OPEN, 0, 0, 0, ""},
		{"not read", HS_DBM, HS_ENTRY_UNREAD, 0, 0, 0, ""},
		{"unread: meter is away", HS_DBM, HS_ENTRY_UNREAD, 0, 0, 0, "meter is away"},
		{"Cannot reach the joint ", HS_DBM, HS_ENTRY_UNREAD, 0, 0, 0, "reach the joint"},
		{"n/a", HS_DBM, HS_ENTRY_UNREAD, 0, 0, 0, ""},
		{"Not  Read : too hot", HS_OHM, HS_ENTRY_UNREAD, 0, 0, 0, "too hot"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_entry entry;
		hs_error error = {0};
		if (!hs_entry_read(rows[i].text, rows[i].shown, &entry, &error))
			fail_msg("\"%s\" was refused: %s", rows[i].text, error.message);
		assert_int_equal(entry.kind, rows[i].kind);
		assert_string_equal(entry.reason, rows[i].reason);
		if (entry.quantity.value != rows[i].value || entry.quantity.unit != rows[i].unit ||
		    fabs(entry.step - rows[i].step) > 1e-12)
			fail_msg("\"%s\" gave %g %s, step %g", rows[i].text, entry.quantity.value,
			         hs_unit_name(entry.quantity.unit), entry.step);
	}
}

static void refuses_entries(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		hs_unit shown;
		const char *message, *hint;
	} rows[] = {
		{"5 V", HS_DBM, "\"5 V\" is a voltage, and a power was wanted", "give it in dBm"},
		{"5 dB", HS_DBM, "\"5 dB\" is a ratio in decibels, and a power was wanted", "give it in dBm"},
		{"> 5 mH", HS_FARAD, "\"> 5 mH\" is an inductance, and a capacitance was wanted", "give it in F"},
		{"5 V", HS_UNITLESS, "\"5 V\" is a voltage, and a plain number was wanted", "give the number alone"},
		{"open", HS_WATT, "\"open\" is a reading of resistance, and a power was wanted",
	     "for a reading that cannot be taken, write: not read, and why"},
		{"12.5 dBm V", HS_DBM, "after \"12.5 dBm\" there is another unit, \"V\", and one was wanted",
	     "write one number with one unit"},
		{"", HS_DBM, "nothing was given, and a number in dBm was wanted", ""},
		{"cannotx", HS_DBM, "\"cannotx\" does not begin with a number, and a number in dBm was wanted",
	     "write it like 12.5 dBm"},
		{">", HS_DBM, "nothing was given, and a number in dBm was wanted", ""},
		{"overt", HS_DBM, "\"overt\" does not begin with a number, and a number in dBm was wanted",
	     "write it like 12.5 dBm"},
		{"nan", HS_DBM, "\"nan\" does not begin with a number, and a number in dBm was wanted",
	     "write it like 12.5 dBm"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_entry entry = {.step = 7};
		hs_error error = {0};
		if (hs_entry_read(rows[i].text, rows[i].shown, &entry, &error))
			fail_msg("\"%s\" was accepted", rows[i].text);
		assert_string_equal(error.message, rows[i].message);
		assert_string_equal(error.hint, rows[i].hint);
		assert_true(entry.step == 7);
	}
}

static void reads_tolerances(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		hs_unit bare;
		double value;
		hs_unit unit;
		double tolerance;
		const char *message; /* NULL: read */
	} rows[] = {
		{"14 dB +/- 1 dB", HS_UNIT_COUNT, 14, HS_DB, 1, NULL},
		{"14 dB", HS_UNIT_COUNT, 14, HS_DB, 0, NULL},
		{"14", HS_DB, 14, HS_DB, 0, NULL},
		{"14 \xC2\xB1 1.5", HS_DB, 14, HS_DB, 1.5, NULL},
		{"14+-1", HS_DB, 14, HS_DB, 1, NULL},
		{"11 dBm +/- 1 dB", HS_UNIT_COUNT, 11, HS_DBM, 1, NULL},
		{"11 dBm +/- 1", HS_UNIT_COUNT, 11, HS_DBM, 1, NULL},
		{"-12 V +/- 5 %", HS_UNIT_COUNT, -12, HS_VOLT, 0.6, NULL},
		{"2.2 kohm +/- 100 ohm", HS_UNIT_COUNT, 2200, HS_OHM, 100, NULL},
		{"2k2 +/- 1%", HS_OHM, 2200, HS_OHM, 22, NULL},
		{"50 % +/- 5 %", HS_UNIT_COUNT, 50, HS_PERCENT, 5, NULL},
		{"12 V +/- 1", HS_UNIT_COUNT, 12, HS_VOLT, 1, NULL},
		{"2.2 kohm +/- 0.1", HS_UNIT_COUNT, 0, 0, 0,
		 "\"0.1\" has no unit, and a number with a unit was wanted"},
		{"2k2 +/- 0.1", HS_OHM, 0, 0, 0, "\"0.1\" has no unit, and a number with a unit was wanted"},
		{"11 dBm +/- 5 %", HS_UNIT_COUNT, 0, 0, 0, "the tolerance is in %, and dB was wanted"},
		{"14 dB +/- 5 %", HS_UNIT_COUNT, 0, 0, 0, "the tolerance is in %, and dB was wanted"},
		{"50 W +/- 1 dB", HS_UNIT_COUNT, 0, 0, 0, "the tolerance is in dB, and W or % was wanted"},
		{"20 degC +/- 5 %", HS_UNIT_COUNT, 0, 0, 0, "the tolerance is in %, and degC was wanted"},
		{"12 V +/- 1 A", HS_UNIT_COUNT, 0, 0, 0, "the tolerance is in A, and V or % was wanted"},
		{"14 dB +/- -1 dB", HS_UNIT_COUNT, 0, 0, 0, "the tolerance is below 0, and its size was wanted"},
		{"14 dB +/-", HS_UNIT_COUNT, 0, 0, 0, "nothing was given, and a number in dB was wanted"},
		{"14 dB / 2", HS_UNIT_COUNT, 0, 0, 0,
	     "after \"14 dB\" there is \"/ 2\", and +/- with a tolerance was wanted"},
		{"14 dB +/- 1 dB x", HS_UNIT_COUNT, 0, 0, 0,
		 "after \"1 dB\" there is \"x\", and nothing more was wanted"},
		{"14 dB +/- 1,5 dB", HS_UNIT_COUNT, 0, 0, 0,
	     "\"1,5 dB\" has a comma in the number, and a decimal point was wanted"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_quantity nominal = {99, HS_SWR};
		double tolerance = 99;
		hs_error error = {0};
		bool good = hs_toleranced_read(rows[i].text, rows[i].bare, &nominal, &tolerance, &error);
		assert_string_equal(error.message, rows[i].message ? rows[i].message : "");
		assert_int_equal(good, rows[i].message == NULL);
		if (!good)
			assert_true(nominal.value == 99 && tolerance == 99);
		else if (nominal.value != rows[i].value || nominal.unit != rows[i].unit ||
		         fabs(tolerance - rows[i].tolerance) > 1e-12)
			fail_msg("\"%s\" gave %g %s +/- %g", rows[i].text, nominal.value, hs_unit_name(nominal.unit),
			         tolerance);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(reads_quantities),   cmocka_unit_test(refuses_with_a_plain_sentence),
	    cmocka_unit_test(scans_at_the_start), cmocka_unit_test(knows_its_units),
	    cmocka_unit_test(prints_for_people),
		cmocka_unit_test(figures_share_a_prefix),  cmocka_unit_test(a_decimal_comma_locale_changes_nothing),
	    cmocka_unit_test(converts_levels),    cmocka_unit_test(refuses_conversions),
	    cmocka_unit_test(reads_entries),      cmocka_unit_test(refuses_entries),
	    cmocka_unit_test(reads_tolerances),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
