/* What a playbook's line-ups say of its readings: limits, units, faults by suspect and mode. */
#include <math.h>
#include "halfsplit/model/expect.h"
#include "words_bench.h"

static const char book[] =
    "unit { controls = { band = { \"low\", \"high\" } } }\n"
    "suspect \"a1\" { modes = { \"dead\", \"tired\", \"open\" } }\n"
    "suspect \"k1\" { modes = { \"stuck\" } }\n"
    "point \"TP2\" { impedance = \"50 ohm\" } point \"TP9\" {}\n"
    "lineup \"way\" { impedance = \"50 ohm\",\n"
    "  port { \"IN\", accepts = \"+10 dBm\", impedance = \"50 ohm\" },\n"
    "  switch { \"k1\", by = \"band\", faults = { stuck = \"stuck low\" }, ways = {\n"
    "    low = { stage { \"fl\", loss = \"3 dB +/- 0.3 dB\" } }, high = { stage { \"fh\", loss = \"9 dB +/- 0.4 dB\" } } } },\n"
    "  stage { \"a1\", gain = \"20 dB +/- 1 dB\", faults = { tired = \"gain -6 dB\" } },\n"
    "  point { \"TP2\" },\n"
    "  supply { \"m12\", gives = \"-12 V +/- 4 %%\" },\n"
    "  point { \"TP9\", from = \"m12\" },\n"
    "}\n"
    "step \"s\" { power = \"any\", set = { band = \"low\" }, inject = { \"-30 dBm\", at = \"IN\", freq = \"100 MHz\", hookup = \"none\" },\n"
    "  read = { \"power\", at = \"TP2\"%s }, expect = %s, ok = { to = \"good\", clears = { \"a1\", \"k1\" } }, otherwise = \"minus\" }\n"
    "step \"minus\" { power = \"any\", read = { \"volts\", at = \"TP9\" }, expect = true, ok = \"good\", otherwise = \"bad\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"bad\" { finding = \"something\" }\n";

static const hs_reading *open_with(bench *b, const char *more, const char *expect)
{
	char text[4096];
	int length = snprintf(text, sizeof text, book, more, expect);
	assert_true(length > 0 && (size_t)length < sizeof text);
	bench_open(b, text);
	return &b->playbook->steps[0].readings[0];
}

static void limits_come_in_the_reading_s_unit(void **state)
{
	(void)state;
	static const double rss = 1.0440306508910550; /* root of 0.09 + 1 */
	static const struct {
		const char *more, *expect;
		double low, high;
		hs_unit unit;
	} rows[] = {
	    {"", "\"way\"", -13 - rss, -13 + rss, HS_DBM},
	    {"", "true", -13 - rss, -13 + rss, HS_DBM},
	    {"", "{ \"way\" }", -13 - rss, -13 + rss, HS_DBM},
	    {"", "{ \"way\", worst = true }", -14.3, -11.7, HS_DBM},
	    {"", "{ \"way\", worst = true, wider = \"0.7 dB\" }", -15, -11, HS_DBM},
	    {"", "{ \"way\", wider = \"1 dB\" }", -14 - rss, -12 + rss, HS_DBM},
	    {", unit = \"W\"", "{ \"way\", worst = true }", 3.7153522909717254e-5, 6.7608297539198183e-5, HS_WATT}, /* 10^(-4.43), 10^(-4.17) */
	    {", unit = \"dBm\", set = { band = \"high\" }", "{ \"way\", worst = true }", -20.4, -17.6, HS_DBM},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		const hs_reading *reading = open_with(&b, rows[i].more, rows[i].expect);
		assert_true(reading->has_limits && reading->limits.has_low && reading->limits.has_high);
		assert_int_equal(reading->limits.unit, rows[i].unit);
		if (fabs(reading->limits.low - rows[i].low) > 1e-9 * fabs(rows[i].low) || fabs(reading->limits.high - rows[i].high) > 1e-9 * fabs(rows[i].high))
			fail_msg("row %zu: %.12g to %.12g", i, reading->limits.low, reading->limits.high);
		assert_true(fabs(reading->freq_hz - 100e6) < 1);
		bench_close(&b);
	}
}

/* -12 V +/- 4 %: the lower limit is the larger in size. */
static void a_negative_rail_keeps_its_sign(void **state)
{
	(void)state;
	bench b;
	open_with(&b, "", "\"way\"");
	const hs_limits *limits = &b.playbook->steps[1].readings[0].limits;
	assert_true(b.playbook->steps[1].readings[0].has_limits);
	assert_true(fabs(limits->low + 12.48) < 1e-9 && fabs(limits->high + 11.52) < 1e-9);
	bench_close(&b);
}

static void a_mode_strikes_where_its_suspect_stands(void **state)
{
	(void)state;
	bench b;
	const hs_reading *reading = open_with(&b, "", "\"way\"");
	const hs_playbook *playbook = b.playbook;
	static const struct {
		const char *suspect, *mode;
		size_t count;
		double level; /* with it, at TP2; 1: nothing */
	} rows[] = {
	    {"a1", "dead", 1, 1},
	    {"a1", "tired", 1, -19},
	    {"a1", "open", 1, -13 - 44.036574}, /* 0.1 pF at 100 MHz, as in test_lineup.c */
	    {"k1", "stuck", 1, -13},
	    {"k1", "dead", 0, 0},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_struck struck[2];
		hs_route route;
		assert_int_equal(hs_struck_by(playbook, hs_playbook_suspect(playbook, rows[i].suspect), rows[i].mode, struck, 2), rows[i].count);
		if (rows[i].count == 0)
			continue;
		assert_ptr_equal(struck[0].lineup, &playbook->lineups[0]);
		assert_true(hs_expect_route(playbook, &playbook->steps[0], reading, struck[0].lineup, &reading->expects->settings, &struck[0].effect,
		                            &route, NULL));
		double level = hs_route_level(&route, &struck[0].effect, NULL, NULL);
		if (rows[i].level > 0 ? !isinf(level) : fabs(level - rows[i].level) > 1e-5)
			fail_msg("%s %s: %g", rows[i].suspect, rows[i].mode, level);
	}
	/* Stuck in LOW it stays there when the control says HIGH; without the fault it does not. */
	static const uint8_t high[] = {2};
	hs_line_settings stands = {high, 1, 0};
	hs_route route;
	hs_struck stuck;
	assert_int_equal(hs_struck_by(playbook, hs_playbook_suspect(playbook, "k1"), "stuck", &stuck, 1), 1);
	assert_true(hs_expect_route(playbook, &playbook->steps[0], reading, stuck.lineup, &stands, &stuck.effect, &route, NULL));
	assert_true(fabs(hs_route_level(&route, &stuck.effect, NULL, NULL) + 13) < 1e-9);
	assert_true(hs_expect_route(playbook, &playbook->steps[0], reading, stuck.lineup, &stands, NULL, &route, NULL));
	assert_true(fabs(hs_route_level(&route, NULL, NULL, NULL) + 19) < 1e-9);
	/* One with every tolerance at its upper end: 0.4 and 1 dB more. */
	double deviations[HS_DEVIATIONS(HS_ELEMENTS_MOST)];
	for (size_t i = 0; i < HS_DEVIATIONS(stuck.lineup->count); i++)
		deviations[i] = 1;
	assert_true(fabs(hs_route_level(&route, NULL, deviations, NULL) + 17.6) < 1e-9);
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(limits_come_in_the_reading_s_unit),
	    cmocka_unit_test(a_negative_rail_keeps_its_sign),
	    cmocka_unit_test(a_mode_strikes_where_its_suspect_stands),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
