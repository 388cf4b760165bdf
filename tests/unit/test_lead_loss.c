/* The loss of a lead out of |S21| of a two-port Touchstone file, as a kit names it. */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>
#include <cmocka.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "halfsplit/lineup/network.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

#define VERSION_2                                                                                                      \
	"[Version] 2.0\r# GHz S DB R 50\r[Number of Ports] 2\r[Two-Port Data Order] 21_12\r[Number of Frequencies] 2\r"

/* A copy of the very length, so that a sanitizer sees a read behind the text. */
static bool read_text(hs_arena *arena, const char *text, size_t length, hs_loss_table *table, hs_error *error)
{
	char *exact = malloc(length ? length : 1);
	memcpy(exact, text, length);
	bool good = hs_network_lead_loss(arena, "K12.s2p", exact, length, table, error);
	free(exact);
	return good;
}

static void every_spelling_gives_the_same_loss(void **state)
{
	(void)state;
	/* Each file says 1 dB at 1 GHz and 2 dB at 4 GHz. */
	static const char *const files[] = {
	    "# GHz S DB R 50\n1 -30 0 -1 10 -1 10 -30 0\n4 -30 0 -2 10 -2 10 -30 0\n",
	    "#MHz S DB R 50\r\n1000 -30 0 -1 10 -1 10 -30 0\r\n4000 -30 0 -2 10 -2 10 -30 0\r\n",
	    "# r 75 db s khz\r1e6 -30 0 -1 10 -9 10 -30 0\r4e6 -30 0 -2 10 -9 10 -30 0",
	    "#\n1 0.1 0 0.89125093813374556 5 0.9 5 0.1 0\n4 0.1 0 0.79432823472428149 5 0.9 5 0.1 0\n",
	    "! lead K12, at 23 \xB0"
	    "C\n#GHz S RI R 50 ! real and imaginary\n"
	    "\n1 0.1 0 0.53475056288024734 -0.71300075050699645 0 0 0.1 0 ! low end\n"
	    "\t4  0.1\t0  0.47659694083456889 0.63546258777942519  0 0  0.1 0\n",
	    "# Hz S DB\n# MHz S MA R 50\n1e9 -30 0 -1 10 -1 10 -30 0\n# GHz\n4e9 -30 0 -2 10 -2 10 -30 0\n",
	    "\xEF\xBB\xBF# GHz S DB R 50\n1 -30 0 -1 10 -1 10 -30 0\n4 -30 0 -2 10 -2 10 -30 0\n"
	    "0.5 1.2 0.3 20 0.2\n2 1.4 0.3 25 0.2\n9 1.4 0.3 25 0.2\n",
	    "# GHz S DB R 50\n1 -30 0 -1 10 -1 10 -30 0\n4 -30 0 -2 10 -2 10 -30 0\n4 1.2 0.3 20 0.2\n",
	    VERSION_2 "[Network Data]\r1 -30 0 -1 10 -9 10 -30 0\r4 -30 0 -2 10 -9 10 -30 0\r[End]",
	    "[Version] 2.1\r\n#MHz S DB R 50\r\n[Number of Ports] 2\r\n[Two-Port Data Order] 12_21\r\n[Number of "
	    "Frequencies] 2\r\n[Network Data]\r\n1000 -30 0 -9 10\r\n-1 10 -30 0\r\n4000 -30 0 -9 10\r\n-2 10 -30 "
	    "0\r\n[End]\r\n",
	    "# GHz S DB R 50\n1 -30 0 -1 10 -1 10 -30 0\n1 -30 0 -1 10 -1 10 -30 0\n4 -30 0 -2 10 -2 10 -30 0\n",
	};
	for (size_t i = 0; i < COUNT(files); i++) {
		hs_arena *arena = hs_arena_new();
		hs_loss_table table = {0};
		hs_error error = {0};
		if (!read_text(arena, files[i], strlen(files[i]), &table, &error))
			fail_msg("file %zu: %s", i, error.message);
		assert_int_equal(table.count, 2);
		assert_true(fabs(table.points[0].freq_hz - 1e9) < 1e-3);
		assert_true(fabs(table.points[1].freq_hz - 4e9) < 1e-3);
		if (fabs(table.points[0].loss_db - 1) > 1e-9 || fabs(table.points[1].loss_db - 2) > 1e-9)
			fail_msg("file %zu: %.12g and %.12g dB", i, table.points[0].loss_db, table.points[1].loss_db);
		double loss = 0;
		assert_true(hs_loss_table_at(&table, 2.25e9, &loss, NULL));
		assert_true(fabs(loss - 1.5) < 1e-9);
		hs_arena_free(arena);
	}
}

static void a_little_gain_is_a_residue(void **state)
{
	(void)state;
	static const char file[] =
	    "# MHz S DB R 50\n10 -40 0 0.03 0 0.03 0 -40 0\n20 -40 0 0.1 0 0 0 -40 0\n30 -40 0 0 0 0 0 -40 0\n";
	hs_arena *arena = hs_arena_new();
	hs_loss_table table = {0};
	assert_true(read_text(arena, file, strlen(file), &table, NULL));
	assert_int_equal(table.count, 3);
	for (size_t i = 0; i < 3; i++) {
		assert_true(table.points[i].loss_db == 0);
		assert_false(signbit(table.points[i].loss_db));
	}
	hs_arena_free(arena);
}

static void a_bad_file_is_refused_with_its_line(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int line;
		const char *message, *quote;
	} rows[] = {
	    {"", 0, "the file holds no network data", ""},
	    {"! nothing\n# GHz S DB R 50\n", 0, "the file holds no network data", ""},
	    {"1 0 0 -1 0 -1 0 0 0\n", 1, "the data begin before an option line (#)", "1 0 0 -1 0 -1 0 0 0"},
	    {"# GHz S DB R 50\n1 -30 0\n", 2, "a line holds 3 numbers; a two-port line holds 9", "1 -30 0"},
	    {"# GHz S DB R 50\n\n1 2 3 4 5 6 7 8 9 10\n", 3, "a line holds 10 numbers; a two-port line holds 9",
	     "1 2 3 4 5 6 7 8 9 10"},
	    {"# GHz S DB R 50\n1 2 3 4 5\n", 2, "a line holds 5 numbers; a two-port line holds 9", "1 2 3 4 5"},
	    {"# GHz S DB R 50\r\n1 0 0 -1 0 -1 0 0 0\r\n2 0 0 -1,5 0 -1 0 0 0 ! hot\r\n", 3, "\"-1,5\" is not a number",
	     "2 0 0 -1,5 0 -1 0 0 0"},
	    {"# GHz S DB R 50\n1 0 0 nan 0 -1 0 0 0\n", 2, "\"nan\" is not a number", "1 0 0 nan 0 -1 0 0 0"},
	    {"# GHz S DB R 50\n1 0 0 0.2 0 -1 0 0 0\n", 2,
	     "S2,1 is a gain of 0.2 dB at 1000000000 Hz; up to 0.1 dB passes as a residue of the calibration",
	     "1 0 0 0.2 0 -1 0 0 0"},
	    {"# GHz S MA R 50\n1 0 0 0 0 1 0 0 0\n", 2,
	     "S2,1 is 0 at 1000000000 Hz, which is no number of decibels", "1 0 0 0 0 1 0 0 0"},
	    {"# GHz S RI R 50\n1 0 0 0 0 1 0 0 0\n", 2,
	     "S2,1 is 0 at 1000000000 Hz, which is no number of decibels", "1 0 0 0 0 1 0 0 0"},
	    {"# GHz S MA R 50\n1 0 0 -0.5 0 -1 0 0 0\n", 2, "the magnitude of S21 is below 0", "1 0 0 -0.5 0 -1 0 0 0"},
	    {"# GHz S DB R 50\n2 0 0 -1 0 -1 0 0 0\n1 0 0 -1 0 -1 0 0 0\n", 3,
	     "the frequency falls; S-parameters stand in rising order", "1 0 0 -1 0 -1 0 0 0"},
	    {"# GHz S DB R 50\n-2 0 0 -1 0 -1 0 0 0\n", 2, "a frequency is below 0", "-2 0 0 -1 0 -1 0 0 0"},
	    {"# GHz S DB R 50\n2 0 0 -1 0 -1 0 0 0\n1 0 0 -1 0\n2 0 0\n", 4,
	     "a line of noise data holds 3 numbers; 5 are wanted", "2 0 0"},
	    {"# GHz S DB R 50\n2 0 0 -1 0 -1 0 0 0\n2 0 0 -1.5 0 -1 0 0 0\n", 3,
	     "the frequency stands twice, with other numbers than before", "2 0 0 -1.5 0 -1 0 0 0"},
	    {"# GHz Z MA R 50\n1 0 0 1 0 1 0 0 0\n", 0,
	     "the file holds Z-parameters; a loss is read from S-parameters only", ""},
	    {"# GHz S DB R 50 75\n1 0 0 -1 0 -1 0 0 0\n", 0, "ports 2 and 1 refer to 75 and 50 ohm", ""},
	    {"! two\n\n#MHz S DB R 50\n1 0 0 -1 0 -1 0 0 0\n1 0 0 -1 0 -1 0 0 0\n! hot:\n2 0 0 3 0 -1 0 0 0 ! S21\n3 0 0 "
	     "-1 0 -1 0 0 0\n",
	     7, "S2,1 is a gain of 3 dB at 2000000 Hz; up to 0.1 dB passes as a residue of the calibration",
	     "2 0 0 3 0 -1 0 0 0"},
	    {VERSION_2 "[Network Data]\r1 -30 0 -1 10\r-1 10 -30 0\r4 -30 0 2 10\r-2 10 -30 0\r[End]\r", 10,
	     "S2,1 is a gain of 2 dB at 4000000000 Hz; up to 0.1 dB passes as a residue of the calibration",
	     "-2 10 -30 0"},
	    {VERSION_2 "[Network Data]\r1 -30 0 -1 10 -1 10 -30 0\r[End]\r", 8,
	     "[Number of Frequencies] is 2, but the file ends with 1", ""},
	    {"# GHz S MA R\n", 1, "R in the option line is not followed by a resistance above 0 ohm", "# GHz S MA R"},
	    {"# GHz S MA R 0\n", 1, "R in the option line is not followed by a resistance above 0 ohm",
	     "# GHz S MA R 0"},
	    {"# GHz S XY R 50\n", 1, "\"XY\" in the option line is none of Hz kHz MHz GHz, S Y Z G H, MA DB RI, R",
	     "# GHz S XY R 50"},
	    {"! new\n[Version] 2.0\n", 2, "the file ends before [Network Data]", ""},
	    {"! new\n[Version] 3.0\n", 2, "[Version] is \"3.0\"; 2.0 or 2.1 is wanted", "[Version] 3.0"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_arena *arena = hs_arena_new();
		hs_loss_table table = {0};
		hs_error error = {0};
		assert_false(read_text(arena, rows[i].text, strlen(rows[i].text), &table, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_string_equal(error.message, rows[i].message);
		assert_string_equal(error.file, "K12.s2p");
		assert_int_equal(error.line, rows[i].line);
		assert_string_equal(error.quote, rows[i].quote);
		assert_int_equal(table.count, 0);
		hs_arena_free(arena);
	}
}

static void a_nul_ends_nothing_silently(void **state)
{
	(void)state;
	static const char file[] = "# GHz S DB R 50\n1 0 0 -1 0 -1 0 0 0\0 7\n";
	hs_arena *arena = hs_arena_new();
	hs_loss_table table = {0};
	hs_error error = {0};
	assert_false(read_text(arena, file, sizeof(file) - 1, &table, &error));
	assert_string_equal(error.message, "the line holds a NUL byte");
	assert_int_equal(error.line, 2);
	hs_arena_free(arena);
}

static void every_cut_of_a_file_is_read_or_refused(void **state)
{
	(void)state;
	static const char file[] =
	    "! K12\r\n# GHz S DB R 50\r\n1 -30 0 -1 10 -1 10 -30 0\r\n4 -30 0 -2 10 -2 10 -30 0\r\n"
	    "0.5 1.2 0.3 20 0.2\r\n";
	size_t read = 0, refused = 0;
	for (size_t length = 0; length <= strlen(file); length++) {
		hs_arena *arena = hs_arena_new();
		hs_loss_table table = {0};
		hs_error error = {0};
		if (read_text(arena, file, length, &table, &error)) {
			read++;
			assert_true(table.count >= 1 && table.count <= 2);
		} else {
			refused++;
			assert_int_equal(error.code, HS_BAD_INPUT);
			assert_true(strlen(error.message) > 0);
		}
		hs_arena_free(arena);
	}
	assert_true(read > 0 && refused > 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_spelling_gives_the_same_loss),     cmocka_unit_test(a_little_gain_is_a_residue),
	    cmocka_unit_test(a_bad_file_is_refused_with_its_line),    cmocka_unit_test(a_nul_ends_nothing_silently),
	    cmocka_unit_test(every_cut_of_a_file_is_read_or_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
