/* Files of traces and masks: what is read, what is refused with its line, and where limits stand between rows. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/judge/trace.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static void files_of_traces(void **state)
{
	(void)state;
	static const struct { const char *text; size_t count; double hz, level; int line; const char *message; } rows[] = {
	    {"1e6,-3\n2e6,-4.5\n", 2, 2e6, -4.5, 0, NULL},
	    {"! saved\r\nFreq (MHz);Level (dBm)\r\n60;-3;0\r\n61.5;-4;0\r\n", 2, 61.5e6, -4, 0, NULL},
	    {"\xEF\xBB\xBFstep kHz\n100\t-1\n\n200\t-2\n", 2, 200e3, -2, 0, NULL},
	    {"1e6 -3\n2e6 -4", 2, 2e6, -4, 0, NULL},
	    {"", 0, 0, 0, 0, "it has 0 rows of a frequency and a level, and two or more were wanted"},
	    {"words\nonly\n", 0, 0, 0, 2, "it has 0 rows"},
	    {"1e6,-3\n", 0, 0, 0, 1, "it has 1 rows"},
	    {"1e6,-3\n1e6,-4\n", 0, 0, 0, 2, "the frequency 1000000 Hz does not lie above the one before"},
	    {"1e6,-3\n-5,-4\n", 0, 0, 0, 2, "the frequency is -5 Hz, and one above zero was wanted"},
	    {"1e6,-3\nend\n", 0, 0, 0, 2, "this line is no row of a trace"},
	    {"1e6,-3\n2e6,\n", 0, 0, 0, 2, "behind the frequency no level can be read"},
	    {"1e6,-3\n2e6,-4dBm\n", 0, 0, 0, 2, "behind the level stands \"dBm\""},
	    {"1e6;-3\n2,5;-4\n", 0, 0, 0, 2, "the commas are decimal commas"},
	    {"1e6,nan\n2e6,-4\n", 0, 0, 0, 1, "behind the frequency no level can be read"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_error error = {0};
		hs_trace trace;
		bool good = hs_trace_read_file("folder/a file.csv", rows[i].text, strlen(rows[i].text), &trace, &error);
		if (rows[i].message) {
			assert_false(good);
			if (!strstr(error.message, rows[i].message))
				fail_msg("row %zu: %s", i, error.message);
			assert_int_equal(error.line, rows[i].line);
			continue;
		}
		if (!good)
			fail_msg("row %zu: %s", i, error.message);
		assert_int_equal(trace.count, rows[i].count);
		assert_true(trace.hz[trace.count - 1] == rows[i].hz && trace.level[trace.count - 1] == rows[i].level);
		assert_string_equal(trace.name, "a_file.csv");
		/* As an answer, and back. */
		hs_buf text;
		hs_trace again;
		hs_buf_init(&text);
		hs_trace_print(&trace, &text);
		assert_true(hs_trace_read(text.data, &again, &error));
		assert_int_equal(again.count, trace.count);
		assert_memory_equal(again.hz, trace.hz, trace.count * sizeof *trace.hz);
		assert_memory_equal(again.level, trace.level, trace.count * sizeof *trace.level);
		assert_string_equal(again.sha256, trace.sha256);
		hs_trace_free(&again);
		hs_buf_free(&text);
		hs_trace_free(&trace);
	}
}

static void answers_that_are_none(void **state)
{
	(void)state;
	char whole[400], digest[65];
	memset(digest, 'a', 64);
	digest[64] = '\0';
	static const char *const tails[] = {"", "1e6 -3\n", "1e6 -3\n2e6\n", "1e6 -3\n2e6 -4", "2e6 -3\n1e6 -4\n", "1e6  -3\n2e6 -4\n", "1e6 -3\n2e6 -4\nx"};
	static const char *const texts[] = {"", "12", "-31.4 dBm", "if.csv", "trace", "trace a b\n1 2\n2 3\n", "trace \n"};
	hs_trace trace;
	for (size_t i = 0; i < COUNT(texts); i++) {
		hs_error error = {0};
		assert_false(hs_trace_read(texts[i], &trace, &error));
		assert_string_equal(error.message, "the name of a file with the trace was wanted, such as if.csv");
	}
	for (size_t i = 0; i < COUNT(tails); i++) {
		hs_error error = {0};
		snprintf(whole, sizeof whole, "trace a.csv %s\n%s", digest, tails[i]);
		assert_false(hs_trace_read(whole, &trace, &error));
	}
}

static void masks(void **state)
{
	(void)state;
	hs_mask_point points[HS_MASK_POINTS];
	size_t count;
	hs_error error = {0};
	static const char text[] = "frequency,min,max\n60 MHz,,-40 dBm\n70 MHz,-12 dBm,-5 dBm\n\n80 MHz , -20 , \n";
	if (!hs_mask_read("m.csv", text, HS_DBM, points, &count, &error))
		fail_msg("%s", error.message);
	assert_int_equal(count, 3);
	hs_mask mask = {"m.csv", points, count};
	static const struct { double mhz; bool any, has_low, has_high; double low, high; } rows[] = {
	    {59.9, false, false, false, 0, 0}, {60, true, false, true, 0, -40}, {65, true, false, true, 0, -22.5},
	    {70, true, false, true, 0, -5}, {75, true, true, false, -16, 0}, {80, true, true, false, -20, 0}, {80.1, false, false, false, 0, 0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_limits limits;
		assert_int_equal(hs_mask_at(&mask, rows[i].mhz * 1e6, HS_DBM, &limits), rows[i].any);
		if (!rows[i].any)
			continue;
		assert_int_equal(limits.has_low, rows[i].has_low);
		assert_int_equal(limits.has_high, rows[i].has_high);
		assert_true(!limits.has_low || fabs(limits.low - rows[i].low) < 1e-9);
		assert_true(!limits.has_high || fabs(limits.high - rows[i].high) < 1e-9);
	}
	static const struct { const char *text; int line; const char *message; } bad[] = {
	    {"", 1, "a mask has two rows or more, and this one has 0"}, {"60 MHz,,-40\n", 1, "this one has 1"},
	    {"60 MHz,-40\n", 1, "this row of the mask has not three fields"}, {"60 MHz,,\n", 1, "this row of the mask has no limit"},
	    {"60 MHz,1,2,3\n", 1, "has not three fields"}, {"x,1,2\n", 1, "\"x\""}, {"60 MHz,1,-2\n", 1, "the min of this row lies above its max"},
	    {"60 MHz,1 V,2 V\n", 1, "the limit \"1 V\" is not in dBm"}, {"60 MHz,1,2\n60 MHz,1,2\n", 2, "the frequencies of a mask rise"},
	};
	for (size_t i = 0; i < COUNT(bad); i++) {
		hs_error why = {0};
		assert_false(hs_mask_read("m.csv", bad[i].text, HS_DBM, points, &count, &why));
		if (!strstr(why.message, bad[i].message) || why.line != bad[i].line)
			fail_msg("row %zu: line %d: %s", i, why.line, why.message);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(files_of_traces), cmocka_unit_test(answers_that_are_none), cmocka_unit_test(masks)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
