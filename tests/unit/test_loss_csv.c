/* Loss tables out of spreadsheets: columns, headers, units, and what is refused with its line. */
#include "measure_rows.h"
#include "halfsplit/base/alloc.h"
#include "halfsplit/lineup/loss_csv.h"

static const struct {
	const char *text;
	size_t count;
	double freq_hz, loss_db; /* of the first point */
} good[] = {
    {"100e6,0.68\n400e6,1.44\n", 2, 100e6, 0.68},
    {"freq,loss_db\n100e6,0.68\n", 1, 100e6, 0.68},
    {"freq_mhz,loss_db\n100,0.68\n400,1.44\n", 2, 100e6, 0.68},
    {"frequency (GHz);loss (dB)\n0.1;0.68\n", 1, 100e6, 0.68},
    {"MHz\tdB\n100\t0.68\n", 1, 100e6, 0.68},
    {"\"freq [kHz]\",\"loss [dB]\"\n\"100\",\"0.68\"\n", 1, 100e3, 0.68},
    {"100 MHz,0.68 dB\n", 1, 100e6, 0.68},
    {"freq_ghz,loss_db\n100 MHz,0.68\n", 1, 100e6, 0.68}, /* the cell's own unit counts */
    {"\xEF\xBB\xBF# K12, measured\r\n\r\n 100e6 , 0.68 \r\n", 1, 100e6, 0.68},
    {"100e6,0.68\r400e6,1.44\r", 2, 100e6, 0.68},
    {"400e6,1.44\n100e6,0.68", 2, 100e6, 0.68}, /* sorted */
    {"100e6,0.68,\n", 1, 100e6, 0.68},
    {"100e6,0.68\n100e6,0.68\n", 1, 100e6, 0.68}, /* twice the same is harmless */
};

static void test_good(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(good); i++) {
		hs_arena *arena = hs_arena_new();
		hs_loss_table table = {0};
		hs_error error = {0};
		if (!hs_loss_csv(arena, "k.csv", good[i].text, strlen(good[i].text), &table, &error))
			fail_msg("row %zu: %s", i, error.message);
		assert_int_equal(table.count, good[i].count);
		assert_near(table.points[0].freq_hz, good[i].freq_hz);
		assert_near(table.points[0].loss_db, good[i].loss_db);
		hs_arena_free(arena);
	}
}

static const struct {
	const char *text;
	size_t length; /* 0: strlen */
	int line;
	const char *message;
} bad[] = {
    {"", 0, 0, "the loss table holds no points"},
    {"freq,loss\n", 0, 0, "the loss table holds no points"},
    {"100e6\n", 0, 1, "1 column stands where two were wanted, frequency and loss"},
    {"100e6,0.68,3\n", 0, 1, "3 columns stand where two were wanted, frequency and loss"},
    {"100e6,0,68\n", 0, 1, "3 columns stand where two were wanted, frequency and loss"},
    {"100e6;0,68\n", 0, 1, "\"0,68\" has a comma in the number, and a decimal point was wanted"},
    {"100e6,0.68\nfreq,loss\n", 0, 2, "\"freq\" does not begin with a number, and a plain number was wanted"},
    {"100e6,\n", 0, 1, "a cell is empty where a loss in dB was wanted"},
    {"dB,MHz\n0.68,100\n", 0, 1, "the first column is in dB, and the frequency was wanted there"},
    {"freq,loss_hz\n", 0, 1, "the second column is in Hz, and the loss in dB was wanted there"},
    {"100e6,nan\n", 0, 1, "\"nan\" does not begin with a number, and a plain number was wanted"},
    {"100e6,-0.68\n", 0, 1, "the loss is -0.68 dB; it must be at least 0 dB"},
    {"-1,0.68\n", 0, 1, "the frequency is -1 Hz; it must be at least 0 Hz"},
    {"100 V,0.68\n", 0, 1, "the frequency is given in \"V\" (voltage); a frequency is wanted"},
    {"100e6,0.68\n100e6,0.7\n", 0, 0, "the loss table says both 0.68 dB and 0.7 dB at 100 MHz"},
    {"100e6,0\0.68\n", 12, 1, "the line holds a NUL byte, and text was wanted"},
    {"100e6,\xff\n", 0, 1, "the line is not UTF-8 text"},
};

static void test_bad(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(bad); i++) {
		hs_arena *arena = hs_arena_new();
		hs_loss_table table = {0};
		hs_error error = {0};
		size_t length = bad[i].length ? bad[i].length : strlen(bad[i].text);
		bool read = hs_loss_csv(arena, "k.csv", bad[i].text, length, &table, &error);
		if (read || strcmp(error.message, bad[i].message) != 0 || error.line != bad[i].line)
			fail_msg("row %zu: line %d, %s", i, error.line, error.message);
		assert_string_equal(error.file, "k.csv");
		hs_arena_free(arena);
	}
}

static void test_long_line(void **state)
{
	(void)state;
	char text[600];
	memset(text, '1', sizeof text);
	hs_error error = {0};
	hs_loss_table table;
	assert_refused(hs_loss_csv(NULL, "k.csv", text, sizeof text, &table, &error), &error,
	               "the line has 600 bytes, and at most 511 are taken");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_good),
	    cmocka_unit_test(test_bad),
	    cmocka_unit_test(test_long_line),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
