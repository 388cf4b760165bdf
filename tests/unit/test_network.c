/* Touchstone files, every version: what they say, how they may be written, and how bad ones are refused. */
#include "measure_rows.h"
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>
#include "comma_locale.h"
#include "halfsplit/lineup/network.h"

/* A copy of the very length, so that a sanitizer sees a read behind the text. */
static bool read_text(const char *path, const char *text, size_t length, size_t ports, hs_network **net,
                      hs_error *error)
{
	char *exact = malloc(length ? length : 1);
	memcpy(exact, text, length);
	bool good = hs_network_parse(path, exact, length, ports, net, error);
	free(exact);
	return good;
}

static hs_network *must_read(const char *path, const char *text)
{
	hs_network *net = NULL;
	hs_error error = {0};
	if (!read_text(path, text, strlen(text), 0, &net, &error))
		fail_msg("%s:%d: %s: %s", error.file, error.line, error.message, text);
	return net;
}

static void assert_value(const hs_network *net, size_t index, size_t to, size_t from, double re, double im)
{
	hs_complex got;
	assert_true(hs_network_value(net, index, to, from, &got, NULL));
	assert_near(got.re, re);
	assert_near(got.im, im);
}

#define V2     "[Version] 2.0\n# GHz S RI R 50\n"
#define V2_TWO V2 "[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Number of Frequencies] 1\n"

static void every_spelling_of_a_two_port_says_the_same(void **state)
{
	(void)state;
	/* Each file: 1 GHz, S11 0.1, S21 0.8j, S12 -0.5, S22 0.2. */
	static const char *const files[] = {
	    "# GHz S RI R 50\n1 0.1 0 0 0.8 -0.5 0 0.2 0\n",
	    "#\n1 0.1 0 0.8 90 0.5 180 0.2 0",
	    "#GHz\r1 .1 0 8e-1 90 5.E-1 -180 +0.2 360\r",
	    "#MHz S MA R 50\r\n1000 0.1 0 0.8 90 0.5 180 0.2 0\r\n",
	    "! first\n\n  # ri hz r 50 s ! options\n! second\n# MHz Z MA R 75\n1e9\t0.1 0\t0 0.8 -0.5 0 0.2 0!end\n# "
	    "kHz\n",
	    "\xEF\xBB\xBF# R 50 kHz DB\n1e6 -20 0 -1.9382002601611281 90 -6.0205999132796239 180 -13.979400086720377 "
	    "0\n",
	    V2_TWO "[Network Data]\n1 0.1 0 0 0.8 -0.5 0 0.2 0\n[End]\n",
	    V2_TWO "[Network Data]\n1\n0.1 0\n0 0.8 -0.5 0\n\n! in between\n0.2 0\n[End]\n",
	    "[version] 2.1\n# GHz S RI R 50\n[NUMBER_OF_PORTS] 2\n[Two-Port  Data Order] 12_21\n[number of "
	    "frequencies] 1\n"
	    "[Begin Information]\nanything 1 2 3\n# [Network Data]\n[Manufacturer] none\n[End Information]\n"
	    "[Reference] 50\n 50\n[Matrix Format] full\n[Network Data]\n1 0.1 0 -0.5 0 0 0.8 0.2 0\n[End]\n! last",
	};
	for (size_t i = 0; i < COUNT(files); i++) {
		hs_network *net = must_read("K12.s2p", files[i]);
		assert_int_equal(net->ports, 2);
		assert_int_equal(net->count, 1);
		assert_near(hs_network_freq(net, 0) / 1e9, 1);
		assert_near(hs_network_reference(net, 2), 50);
		assert_value(net, 0, 1, 1, 0.1, 0);
		assert_value(net, 0, 2, 1, 0, 0.8);
		assert_value(net, 0, 1, 2, -0.5, 0);
		assert_value(net, 0, 2, 2, 0.2, 0);
		double db;
		assert_true(hs_network_db(net, 0, 2, 1, &db, NULL));
		assert_near(db, -1.9382002601611281);
		assert_int_equal(net->remark_line, 0);
		hs_network_free(net);
	}
}

static void more_ports_stand_row_by_row(void **state)
{
	(void)state;
	/* Sij = i + j/10, real; three ports with the name, without it, four ports wrapped by the book and in whole
	 * rows. */
	static const struct {
		const char *path, *text;
		size_t ports;
		int remark_line;
	} rows[] = {
	    {"a.s3p", "# RI\n1 1.1 0 1.2 0 1.3 0\n2.1 0 2.2 0 2.3 0\n3.1 0 3.2 0 3.3 0\n", 3, 0},
	    {"a.txt", "# RI\n1 1.1 0 1.2 0 1.3 0\n2.1 0 2.2 0 2.3 0\n3.1 0 3.2 0 3.3 0\n", 3, 0},
	    {"a.ts",
	     "# RI\n1 1.1 0 1.2 0 1.3 0\n2.1 0 2.2 0 2.3 0\n3.1 0 3.2 0 3.3 0\n2 0 0 0 0 0 0\n0 0 0 0 0 0\n0 0 0 0 0 "
	     "0\n",
	     3, 0},
	    {"a.S5P",
	     "# RI\n1 1.1 0 1.2 0 1.3 0 1.4 0\n1.5 0\n2.1 0 2.2 0 2.3 0 2.4 0\n2.5 0\n3.1 0 3.2 0 3.3 0 3.4 0\n3.5 0\n"
	     "4.1 0 4.2 0 4.3 0 4.4 0\n4.5 0\n5.1 0 5.2 0 5.3 0 5.4 0\n5.5 0\n",
	     5, 0},
	    {"a.s3p", "# RI\n1 1.1 0 1.2 0 1.3 0 2.1 0 2.2 0 2.3 0 3.1 0 3.2 0 3.3 0\n", 3, 2},
	    {"a.s1p", "# RI\n1 1.1 0\n2 3 4\n", 1, 0},
	    {"a", "# RI\n1 1.1 0\n2 3 4\n", 1, 0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_network *net = must_read(rows[i].path, rows[i].text);
		assert_int_equal(net->ports, rows[i].ports);
		assert_int_equal(net->remark_line, rows[i].remark_line);
		for (size_t to = 1; to <= net->ports; to++)
			for (size_t from = 1; from <= net->ports; from++)
				assert_value(net, 0, to, from, (double)to + (double)from / 10, 0);
		hs_network_free(net);
	}
	/* Names that only look as if they told the ports. */
	static const char *const names[] = {"a.s3", "a.s3px", "a.sp", "a.p3s", "s3p", "a.s3p/b", "a.s70000p"};
	for (size_t i = 0; i < COUNT(names); i++) {
		hs_network *two = must_read(names[i], "# RI\n1 1.1 0 2.1 0 1.2 0 2.2 0\n");
		assert_int_equal(two->ports, 2);
		assert_value(two, 0, 2, 1, 2.1, 0);
		hs_network_free(two);
	}
	/* A hundred ports, one frequency; nothing says so but the file itself. */
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_str(&text, V2 "[Number of Ports] 100\n[Number of Frequencies] 1\n[Network Data]\n7");
	for (int i = 0; i < 10000; i++)
		hs_buf_printf(&text, " %d 0%s", i, i % 100 == 99 ? "\n" : "");
	hs_buf_str(&text, "[End]");
	hs_network *net = must_read("x.ts", text.data);
	assert_value(net, 0, 100, 100, 9999, 0);
	assert_value(net, 0, 3, 42, 241, 0);
	hs_network_free(net);
	hs_buf_free(&text);
}

static void half_a_matrix_is_enough(void **state)
{
	(void)state;
	static const char head[] = V2 "[Number of Ports] 3\n[Number of Frequencies] 1\n";
	static const char *const tails[] = {
	    "[Matrix Format] Lower\n[Network Data]\n1 11 0\n21 0 22 0\n31 0 32 0 33 0\n[End]\n",
	    "[Matrix Format] Upper\n[Network Data]\n1 11 0 21 0 31 0\n22 0 32 0\n33 0\n[End]\n",
	};
	for (size_t i = 0; i < COUNT(tails); i++) {
		char text[400];
		snprintf(text, sizeof(text), "%s%s", head, tails[i]);
		hs_network *net = must_read("x.ts", text);
		for (size_t to = 1; to <= 3; to++)
			for (size_t from = 1; from <= 3; from++)
				assert_value(net, 0, to, from,
				             to > from ? (double)(10 * to + from) : (double)(10 * from + to), 0);
		hs_network_free(net);
	}
	hs_network *two = must_read("x.ts", V2_TWO "[Matrix Format] Lower\n[Network Data]\n1 11 0 21 0 22 0\n[End]\n");
	assert_value(two, 0, 1, 2, 21, 0);
	assert_value(two, 0, 2, 2, 22, 0);
	hs_network_free(two);
}

static void version_1_normalises_and_version_2_does_not(void **state)
{
	(void)state;
	static const struct {
		const char *kind;
		double scale[4]; /* 11 12 21 22 of a file in 75 ohm */
	} rows[] = {
	    {"S", {1, 1, 1, 1}},         {"Z", {75, 75, 75, 75}},     {"Y", {1 / 75.0, 1 / 75.0, 1 / 75.0, 1 / 75.0}},
	    {"H", {75, 1, 1, 1 / 75.0}}, {"G", {1 / 75.0, 1, 1, 75}},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		char text[400];
		snprintf(text, sizeof(text), "# GHz %s RI R 75\n1 1 2 3 4 5 6 7 8\n", rows[i].kind);
		hs_network *net = must_read("a.s2p", text);
		assert_int_equal(net->kind, rows[i].kind[0]);
		assert_value(net, 0, 1, 1, 1 * rows[i].scale[0], 2 * rows[i].scale[0]);
		assert_value(net, 0, 1, 2, 5 * rows[i].scale[1], 6 * rows[i].scale[1]);
		assert_value(net, 0, 2, 1, 3 * rows[i].scale[2], 4 * rows[i].scale[2]);
		assert_value(net, 0, 2, 2, 7 * rows[i].scale[3], 8 * rows[i].scale[3]);
		hs_network_free(net);
		snprintf(text, sizeof(text),
		         "[Version] 2.0\n# GHz %s RI R 75\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n"
		         "[Number of Frequencies] 1\n[Network Data]\n1 1 2 3 4 5 6 7 8\n[End]\n",
		         rows[i].kind);
		net = must_read("a.ts", text);
		assert_value(net, 0, 1, 1, 1, 2);
		assert_value(net, 0, 2, 2, 7, 8);
		hs_network_free(net);
	}
}

static void references_of_their_own(void **state)
{
	(void)state;
	hs_network *net = must_read("a.s2p", "# GHz S RI R 50 75.5\n1 0 0 0.5 0 0.5 0 0 0\n");
	assert_int_equal(net->version, 11);
	assert_near(hs_network_reference(net, 1), 50);
	assert_near(hs_network_reference(net, 2), 75.5);
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	hs_error error = {0};
	assert_refused(hs_network_loss(arena, net, 2, 1, &table, &error), &error,
	               "ports 2 and 1 refer to 75.5 and 50 ohm");
	hs_arena_free(arena);
	hs_network_free(net);
	net = must_read(
	    "a.ts",
	    V2 "[Number of Ports] 3\n[Reference] 50 60 \n! more\n 70\n[Number of Frequencies] 1\n"
	       "[Mixed-Mode Order] D2,3 c2,3 S1\n[Network Data]\n1 0 0 0 0 0 0\n0 0 0 0 0 0\n0 0 0 0 0 0\n[End]\n");
	assert_near(hs_network_reference(net, 3), 70);
	assert_int_equal(net->modes[0].kind, 'D');
	assert_int_equal(net->modes[1].kind, 'C');
	assert_int_equal(net->modes[1].b, 3);
	assert_int_equal(net->modes[2].a, 1);
	hs_network_free(net);
}

static void noise_data_stand_behind(void **state)
{
	(void)state;
	/* Version 1: not above the last frequency; a magnitude even in a DB file; resistance normalised. */
	hs_network *net = must_read("a.s2p", "# GHz S DB R 50\n2 -10 0 10 0 -30 0 -10 0\n4 -10 0 9 0 -30 0 -10 0\n"
	                                     "4 0.7 0.64 69 0.38\n18 2.7 0.46 -33 0.4\n");
	assert_int_equal(net->count, 2);
	assert_int_equal(net->noise_count, 2);
	assert_near(net->noise[0].freq_hz, 4e9);
	assert_near(net->noise[0].nf_min_db, 0.7);
	assert_near(net->noise[0].rho_best, 0.64);
	assert_near(net->noise[1].degrees_best, -33);
	assert_near(net->noise[0].rn_ohm, 19);
	hs_network_free(net);
	net =
	    must_read("a.ts", "[Version] 2.0\n# GHz S DB R 50\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n"
	                      "[Number of Frequencies] 1\n[Number of Noise Frequencies] 2\n[Network Data]\n"
	                      "2 -10 0 10 0 -30 0 -10 0\n[Noise Data]\n4 0.7 0.64 69 19\n18 2.7 0.46 -33 20\n[End]\n");
	assert_int_equal(net->noise_count, 2);
	assert_near(net->noise[0].rn_ohm, 19);
	assert_near(net->noise[1].freq_hz, 18e9);
	hs_network_free(net);
}

#define TWO   "# GHz S RI R 50\n1 0 0 1 0 1 0 0 0\n"
#define THREE "# RI\n1 1 0 1 0 1 0\n2 0 2 0 2 0\n"
#define NOISE_WANTS                                                                                                    \
	"the noise data want a noise figure of at least 0 dB, a reflection from 0 to 1 and a resistance of at least 0"
#define V2_ONE V2 "[Number of Ports] 1\n[Number of Frequencies] 2\n[Network Data]\n"

static void bad_files_are_refused_with_their_line(void **state)
{
	(void)state;
	static const struct {
		const char *path, *text;
		int line;
		const char *message, *quote;
	} rows[] = {
	    {"a.s2p", "", 0, "the file holds no network data", ""},
	    {"a.s2p", "! only\n# GHz\n", 0, "the file holds no network data", ""},
	    {"a.s2p", "1 0 0 1 0 1 0 0 0\n", 1, "the data begin before an option line (#)", "1 0 0 1 0 1 0 0 0"},
	    {"a.s2p", "#\n1 0 0 1,5 0 1 0 0 0\n", 2, "\"1,5\" is not a number", "1 0 0 1,5 0 1 0 0 0"},
	    {"a.s2p", "#\r\n\r\n1 0 0 nan 0 1 0 0 0 ! x\r\n", 3, "\"nan\" is not a number", "1 0 0 nan 0 1 0 0 0"},
	    {"a.s2p", "#\r1 0 0 0x1 0 1 0 0 0\r", 2, "\"0x1\" is not a number", "1 0 0 0x1 0 1 0 0 0"},
	    {"a.s2p", "#\n1 0 0 1e999 0 1 0 0 0\n", 2, "\"1e999\" is not a number", "1 0 0 1e999 0 1 0 0 0"},
	    {"a.s2p", "#\n1 0 0 1e 0 1 0 0 0\n", 2, "\"1e\" is not a number", "1 0 0 1e 0 1 0 0 0"},
	    {"a.s2p", "#\n1 0 0 - 0 1 0 0 0\n", 2, "\"-\" is not a number", "1 0 0 - 0 1 0 0 0"},
	    {"a.s2p", "#\n1 0 0\n", 2, "a line holds 3 numbers; a two-port line holds 9", "1 0 0"},
	    {"a.s1p", "#\n1 0 0 1\n", 2, "a line holds 4 numbers; a one-port line holds 3", "1 0 0 1"},
	    {"a.s2p", "# RI\n2 0 0 1 0 1 0 0 0\n1 0 0 1 0 1 0 0 0\n", 3,
	     "the frequency falls; S-parameters stand in rising order", "1 0 0 1 0 1 0 0 0"},
	    {"a.s2p", "# RI\n2 0 0 1 0 1 0 0 0\n2 0 0 1 0 1 0 0 1\n", 3,
	     "the frequency stands twice, with other numbers than before", "2 0 0 1 0 1 0 0 1"},
	    {"a.s2p", "#\n-2 0 0 1 0 1 0 0 0\n", 2, "a frequency is below 0", "-2 0 0 1 0 1 0 0 0"},
	    {"a", "#\n-2 0 0\n3 0 0\n", 2, "a frequency is below 0", ""},
	    {"a.s2p", "#\n1e300 0 0 1 0 1 0 0 0\n", 2, "a frequency is too large for a number",
	     "1e300 0 0 1 0 1 0 0 0"},
	    {"a.s2p", "# MA\n1 0 0 -1 0 1 0 0 0\n", 2, "the magnitude of S21 is below 0", "1 0 0 -1 0 1 0 0 0"},
	    {"a.s3p", "# MA\n1 0 0 1 0 1 0\n0 0 0 0 0 0\n0 0 -1 0 0 0\n", 4,
	     "the magnitude of pair 8 of this frequency is below 0", "0 0 -1 0 0 0"},
	    {"a", "#\n1 0 0 0 0\n", 2, "the first frequency holds 5 numbers; 3, 9, 19, 33 ... are wanted", ""},
	    {"a.s3p", THREE "3 0 3 0\n2 1 0 1 0 1 0\n", 5,
	     "the frequency begun in line 2 holds 17 of 19 numbers before another begins here", "2 1 0 1 0 1 0"},
	    {"a.s3p", THREE "3 0 3 0 3 0 3 0\n", 4,
	     "the frequency begun in line 2 holds 21 numbers up to here; 19 are wanted", "3 0 3 0 3 0 3 0"},
	    {"a.s3p", THREE, 3, "the file ends within the frequency begun in line 2, which holds 13 of 19 numbers", ""},
	    {"a.s3p", THREE "3 0 3 0 3 0\n2 1 0 1 0 1\n", 5,
	     "a frequency begins here, but the line holds 6 numbers; one and whole pairs are wanted", "2 1 0 1 0 1"},
	    {"a.s2p", TWO "1 0.7 0.6 69\n", 3, "a line holds 4 numbers; a two-port line holds 9", "1 0.7 0.6 69"},
	    {"a.s2p", TWO "1 0.7 0.6 69 0.4\n2 0.7 0.6\n", 4, "a line of noise data holds 3 numbers; 5 are wanted",
	     "2 0.7 0.6"},
	    {"a.s2p", TWO "1 0.7 0.6 69 0.4\n1 0.7 0.6 69 0.4\n", 4, "the frequency of the noise data does not rise",
	     "1 0.7 0.6 69 0.4"},
	    {"a.s2p", TWO "1 0.7 1.6 69 0.4\n", 3, NOISE_WANTS, "1 0.7 1.6 69 0.4"},
	    {"a.s2p", TWO "1 -0.7 0.6 69 0.4\n", 3, NOISE_WANTS, "1 -0.7 0.6 69 0.4"},
	    {"a.s2p", TWO "1 0.7 -0.6 69 0.4\n", 3, NOISE_WANTS, "1 0.7 -0.6 69 0.4"},
	    {"a.s2p", TWO "1 0.7 0.6 69 -0.4\n", 3, NOISE_WANTS, "1 0.7 0.6 69 -0.4"},
	    {"a.ts", V2 "[Number of Ports] 3\n[Two-Port Data Order] 21_12\n", 4,
	     "[Two-Port Data Order] belongs behind [Number of Ports] 2", "[Two-Port Data Order] 21_12"},
	    {"a.s2p", "# GHz S MA R\n", 1, "R in the option line is not followed by a resistance above 0 ohm",
	     "# GHz S MA R"},
	    {"a.s2p", "# GHz R -50\n", 1, "R in the option line is not followed by a resistance above 0 ohm",
	     "# GHz R -50"},
	    {"a.s2p", "# GHz XY\n", 1, "\"XY\" in the option line is none of Hz kHz MHz GHz, S Y Z G H, MA DB RI, R",
	     "# GHz XY"},
	    {"a.s2p", "# GHz S MHz\n", 1, "the option line states the unit of frequency twice", "# GHz S MHz"},
	    {"a.s2p", "# GHz S RI R 50 60 70\n1 0 0 1 0 1 0 0 0\n", 2, "3 reference resistances are stated for 2 ports",
	     ""},
	    {"a.s2p", "# GHz Z RI R 50 60\n1 0 0 1 0 1 0 0 0\n", 2,
	     "Z-parameters of version 1 are normalised to one reference; 2 are stated", ""},
	    {"a.s3p", "# GHz H RI\n1 0 0 0 0 0 0\n0 0 0 0 0 0\n0 0 0 0 0 0\n", 2,
	     "H-parameters belong to two ports; the file holds 3", "1 0 0 0 0 0 0"},
	    {"a.s2p", "# GHz\n[Number of Ports] 2\n", 2,
	     "a keyword stands in a file that does not begin with [Version]", "[Number of Ports] 2"},
	    {"a.s2p", "[Number of Ports] 2\n", 1, "a keyword stands in a file that does not begin with [Version]",
	     "[Number of Ports] 2"},
	    {"a.ts", "[Version] 3.0\n", 1, "[Version] is \"3.0\"; 2.0 or 2.1 is wanted", "[Version] 3.0"},
	    {"a.ts", "[Version\n", 1, "a keyword has no closing bracket", "[Version"},
	    {"a.ts", "[Version] 2.0\n[Number of Ports] 2\n", 2, "[Number of Ports] stands before the option line (#)",
	     "[Number of Ports] 2"},
	    {"a.ts", V2 "[Number of Ports] 0\n", 3,
	     "[Number of Ports] is \"0\"; a whole number from 1 to 65535 is wanted", "[Number of Ports] 0"},
	    {"a.ts", V2 "[Number of Ports] 99999999999999999999\n", 3,
	     "[Number of Ports] is \"99999999999999999999\"; a whole number from 1 to 65535 is wanted",
	     "[Number of Ports] 99999999999999999999"},
	    {"a.ts", V2 "[Number of Ports] two\n", 3, "[Number of Ports] wants one whole number",
	     "[Number of Ports] two"},
	    {"a.ts", V2 "[Number of Prots] 2\n", 3, "[number of prots] is no keyword of a Touchstone file",
	     "[Number of Prots] 2"},
	    {"a.ts", V2 "[Two-Port Data Order] 21_12\n", 3, "[Two-Port Data Order] belongs behind [Number of Ports] 2",
	     "[Two-Port Data Order] 21_12"},
	    {"a.ts", V2 "[Number of Ports] 2\n[Two-Port Data Order] 11_22\n", 4,
	     "[Two-Port Data Order] is \"11_22\"; 12_21 or 21_12 is wanted", "[Two-Port Data Order] 11_22"},
	    {"a.ts", V2 "[Number of Ports] 2\n[Number of Frequencies] 1\n[Network Data]\n", 5,
	     "a two-port file wants [Two-Port Data Order] before [Network Data]", "[Network Data]"},
	    {"a.ts", V2 "[Number of Ports] 1\n[Network Data]\n", 4,
	     "[Network Data] begins before [Number of Frequencies]", "[Network Data]"},
	    {"a.ts", V2 "1 0 0\n", 3, "the data begin before [Network Data]", "1 0 0"},
	    {"a.ts", V2 "[Number of Ports] 3\n[Reference] 50 60\n[Matrix Format] Full\n", 5,
	     "[Reference] holds 2 resistances; 3 are wanted, one for each port", "[Matrix Format] Full"},
	    {"a.ts", V2 "[Number of Ports] 1\n[Reference] 50 60\n", 4,
	     "[Reference] holds more than 1 resistances, one for each port", "[Reference] 50 60"},
	    {"a.ts", V2 "[Number of Ports] 1\n[Reference] 0\n", 4,
	     "[Reference] holds 0; a resistance above 0 ohm is wanted", "[Reference] 0"},
	    {"a.ts", V2 "[Number of Ports] 1\n[Matrix Format] Half\n", 4,
	     "[Matrix Format] is \"Half\"; Full, Lower or Upper is wanted", "[Matrix Format] Half"},
	    {"a.ts", V2 "[Number of Ports] 3\n[Mixed-Mode Order] D1,2 C1,2 S4\n", 4,
	     "\"S4\" in [Mixed-Mode Order] is no Sn, Dn,m or Cn,m with ports from 1 to 3",
	     "[Mixed-Mode Order] D1,2 C1,2 S4"},
	    {"a.ts", V2 "[Number of Ports] 3\n[Mixed-Mode Order] D1,2 C1,3 S2\n", 4,
	     "[Mixed-Mode Order] names port 1 otherwise than once alone, or in one pair as D and as C",
	     "[Mixed-Mode Order] D1,2 C1,3 S2"},
	    {"a.ts", V2 "[Number of Ports] 3\n[Mixed-Mode Order] D1,2 C1,2\n", 4,
	     "[Mixed-Mode Order] names 2 ports; the file holds 3", "[Mixed-Mode Order] D1,2 C1,2"},
	    {"a.ts", V2_ONE "1 0 0\n[End]\n", 7, "[Number of Frequencies] is 2, but the file ends with 1", ""},
	    {"a.ts", V2_ONE "1 0 0\n2 0 0\n3 0 0\n[End]\n", 8, "[Number of Frequencies] is 2, and one more stands here",
	     "3 0 0"},
	    {"a.ts", V2_ONE "1 0\n2 0 0\n[End]\n", 6,
	     "a frequency begins here, but the line holds 2 numbers; one and whole pairs are wanted", "1 0"},
	    {"a.ts", V2_ONE "1 0 0 2 0 0\n", 6,
	     "a frequency begins here, but the line holds 6 numbers; one and whole pairs are wanted", "1 0 0 2 0 0"},
	    {"a.ts", V2_ONE "1 0 0\n2\n[End]\n", 8, "the frequency begun in line 7 holds 1 of 3 numbers", "[End]"},
	    {"a.ts", V2_ONE "1 0 0\n2 0 0\n[End]\n3 0 0\n", 9, "something stands behind [End]", "3 0 0"},
	    {"a.ts", V2_ONE "1 0 0\n[Matrix Format] Full\n", 7, "[matrix format] stands behind [Network Data]",
	     "[Matrix Format] Full"},
	    {"a.ts", V2_ONE "1 0 0\n2 0 0\n[Noise Data]\n", 8,
	     "[Noise Data] begins without [Number of Noise Frequencies] before it", "[Noise Data]"},
	    {"a.ts",
	     V2
	     "[Number of Ports] 1\n[Number of Frequencies] 1\n[Number of Noise Frequencies] 1\n[Network Data]\n1 0 0\n"
	     "[Noise Data]\n",
	     8, "[Noise Data] belong to two-port files; this one has 1 ports", "[Noise Data]"},
	    {"a.ts", "[Version] 2.1\n# RI\n[Number of Ports] 1\n[Number of Frequencies] 1\n[Network Data]\n1 0 0\n", 6,
	     "the file ends without [End]", ""},
	    {"a.ts", V2 "[Begin Information]\n[Number of Ports] 1\n", 4, "the file ends before [End Information]", ""},
	    {"a.ts", V2 "[End Information]\n", 3, "[End Information] stands without [Begin Information]",
	     "[End Information]"},
	    {"a.ts", V2 "[End]\n", 3, "[End] stands before any [Network Data]", "[End]"},
	    {"a.ts", V2, 2, "the file ends before [Network Data]", ""},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_network *net = NULL;
		hs_error error = {0};
		bool good = read_text(rows[i].path, rows[i].text, strlen(rows[i].text), 0, &net, &error);
		assert_null(net);
		assert_refused(good, &error, rows[i].message);
		assert_string_equal(error.file, rows[i].path);
		if (error.line != rows[i].line || strcmp(error.quote, rows[i].quote) != 0)
			fail_msg("%s: line %d \"%s\", want %d \"%s\"", rows[i].message, error.line, error.quote,
			         rows[i].line, rows[i].quote);
	}
	hs_error error = {0};
	hs_network *net = NULL;
	assert_false(
	    read_text("a.ts", V2 "[Number of Prots] 2\n", strlen(V2 "[Number of Prots] 2\n"), 0, &net, &error));
	assert_string_equal(error.hint, "perhaps [number of ports] was meant");
	assert_refused(read_text("a.txt", TWO, strlen(TWO), 3, &net, &error), &error,
	               "the file ends within the frequency begun in line 2, which holds 9 of 19 numbers");
	static const char nul[] = "#\n1 0 0 1\0 0 1 0 0 0\n", option_nul[] = "# GHz\0 MHz\n";
	assert_refused(read_text("a.s2p", nul, sizeof(nul) - 1, 0, &net, &error), &error, "the line holds a NUL byte");
	assert_int_equal(error.line, 2);
	assert_refused(read_text("a.s2p", option_nul, sizeof(option_nul) - 1, 0, &net, &error), &error,
	               "the line holds a NUL byte");
}

static void stated_sizes_are_not_trusted(void **state)
{
	(void)state;
	/* Each states far more than a machine holds; asking memory for it would end the program. */
	static const char *const files[] = {
	    V2 "[Number of Ports] 65535\n[Number of Frequencies] 1\n[Network Data]\n1 0 0\n[End]\n",
	    V2 "[Number of Ports] 1\n[Number of Frequencies] 200000000000000\n[Network Data]\n1 0 0\n[End]\n",
	    V2_TWO
	    "[Number of Noise Frequencies] 200000000000000\n[Network Data]\n1 0 0 1 0 1 0 0 0\n[Noise Data]\n[End]\n",
	};
	for (size_t i = 0; i < COUNT(files); i++) {
		hs_network *net = NULL;
		hs_error error = {0};
		assert_false(read_text("a.ts", files[i], strlen(files[i]), 0, &net, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
	}
	hs_network *net = NULL;
	hs_error error = {0};
	assert_refused(read_text("a.s65535p", "# RI\n1 0 0\n", 11, 0, &net, &error), &error,
	               "the file ends within the frequency begun in line 2, which holds 3 of 8589672451 numbers");
}

static void numbers_are_rounded_as_by_the_book(void **state)
{
	(void)state;
	static const char *const formats[] = {"%.17g", "%.3f", "%.18e", "%.15g", "%.20f", "%.30e", "%.9f"};
	static const char *const odd[] = {
	    "9007199254740993",
	    "9007199254740992.99999999",
	    "0.1e1",
	    "00000000000000000000000001.5",
	    "123456789012345678.5",
	    "1.7976931348623157e308",
	    "5e-324",
	    "2.2250738585072011e-308",
	    "18446744073709551615",
	    "9999999999999999999",
	    "0.000000000000000000000000000012345678901234567",
	    "1e22",
	    "1e23",
	    "8.5e-27",
	    "1234567890123456789e-27",
	    "-0.0",
	    "5e-1000",
	    "4.35",
	    "0.3",
	    "2.675",
	    "9223372036854775808e-27",
	    "1.00000000000000011102230246251565",
	    "1.00000000000000011102230246251566",
	    "9007199254740993e-1",
	    "9007199254740993e-19",
	};
	size_t checked = 0;
	unsigned long long seed = 88172645463325252ull;
	for (int round = 0; round < 20000 + (int)COUNT(odd); round++) {
		char word[400];
		double value;
		seed ^= seed << 13;
		seed ^= seed >> 7;
		seed ^= seed << 17;
		if (round < (int)COUNT(odd)) {
			snprintf(word, sizeof(word), "%s", odd[round]);
		} else {
			value = ((double)(seed >> 11) / 9007199254740992.0 - 0.5) * pow(10, (double)(seed % 41) - 28);
			snprintf(word, sizeof(word), formats[seed % COUNT(formats)], value);
		}
		char line[500];
		snprintf(line, sizeof(line), "# RI\n1 %s 0\n", word);
		hs_network *net = must_read("a.s1p", line);
		double want = strtod(word, NULL);
		if (memcmp(&net->numbers[1], &want, sizeof(want)) != 0)
			fail_msg("%s: got %.17g, want %.17g", word, net->numbers[1], want);
		checked++;
		hs_network_free(net);
	}
	assert_int_equal(checked, 20000 + COUNT(odd));
}

static void a_comma_locale_changes_nothing(void **state)
{
	(void)state;
	assert_true(comma_locale_set());
	hs_network *net = must_read("a.s1p", "# RI\n1.5 0.123456789012345678901 1.5e-300\n");
	setlocale(LC_ALL, "C");
	assert_source("1.5 GHz", hs_network_freq(net, 0), 1.5e9, 0);
	assert_true(net->numbers[1] == 0.123456789012345678901 && net->numbers[2] == 1.5e-300);
	hs_network_free(net);
}

static void the_same_from_disk_in_chunks(void **state)
{
	(void)state;
	/* Longer than a chunk, every kind of line end at every place of it. */
	static const char *const ends[] = {"\n", "\r\n", "\r"};
	for (size_t e = 0; e < COUNT(ends); e++) {
		hs_buf text;
		hs_buf_init(&text);
		hs_buf_printf(&text, "! head%s# MHz RI%s", ends[e], ends[e]);
		for (int i = 1; i <= 30000; i++)
			hs_buf_printf(&text, "%d 0.%d -0.%d%s", i, i, i * 7, ends[e]);
		char path[] = "/tmp/halfsplit-network-XXXXXX.s1p";
		int fd = mkstemps(path, 4);
		assert_true(fd >= 0);
		assert_true(write(fd, text.data, text.length) == (ssize_t)text.length);
		close(fd);
		hs_network *disk = NULL, *memory = must_read(path, text.data);
		hs_error error = {0};
		if (!hs_network_open(path, 0, &disk, &error))
			fail_msg("%d: %s", error.line, error.message);
		assert_int_equal(disk->count, 30000);
		assert_int_equal(memory->count, 30000);
		assert_memory_equal(disk->numbers, memory->numbers, 30000 * 3 * sizeof(double));
		hs_network_free(disk);
		hs_network_free(memory);
		unlink(path);
		hs_buf_free(&text);
	}
	hs_network *net = NULL;
	hs_error error = {0};
	assert_refused(hs_network_open("/tmp/no-such-halfsplit.s2p", 0, &net, &error), &error,
	               "the Touchstone file cannot be opened: No such file or directory");
	assert_string_equal(error.file, "/tmp/no-such-halfsplit.s2p");
	assert_refused(hs_network_open("/tmp", 0, &net, &error), &error, "the Touchstone file is not a regular file");
}

static void every_cut_and_every_flip_is_read_or_refused(void **state)
{
	(void)state;
	static const char *const files[] = {
	    "! K12\r\n# GHz S DB R 50\r\n1 -30 0 -1 10 -1 10 -30 0\r\n4 -30 0 -2 10 -2 10 -30 0\r\n0.5 1.2 0.3 20 "
	    "0.2\r\n",
	    "[Version] 2.0\n# GHz S RI R 50\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Number of Frequencies] "
	    "1\n"
	    "[Number of Noise Frequencies] 1\n[Reference] 50\n75\n[Mixed-Mode Order] D1,2 C1,2\n[Network Data]\n"
	    "1 0 0 1 0 1 0 0 0\n[Noise Data]\n1 0.7 0.6 69 20\n[End]\n",
	};
	size_t read = 0, refused = 0;
	for (size_t f = 0; f < COUNT(files); f++) {
		size_t size = strlen(files[f]);
		for (size_t at = 0; at < size * 5; at++) {
			static const char flips[] = {'\0', '9', '[', '\r'};
			char *copy = strdup(files[f]);
			size_t length = at < size ? at : size;
			if (at >= size)
				copy[at % size] = flips[at / size - 1];
			hs_network *net = NULL;
			hs_error error = {0};
			if (read_text(f ? "a.ts" : "a.s2p", copy, length, 0, &net, &error)) {
				read++;
				assert_int_equal(net->ports, 2);
			} else {
				refused++;
				assert_int_equal(error.code, HS_BAD_INPUT);
				assert_true(error.message[0] && !net);
			}
			hs_network_free(net);
			free(copy);
		}
	}
	assert_true(read > 50 && refused > 500);
}

static void points_are_found_and_values_bounded(void **state)
{
	(void)state;
	hs_network *net =
	    must_read("a.s2p", "# GHz S MA R 50\n1 0 0 0.5 0 0.4 0 0 0\n1 0 0 0.5 0 0.4 0 0 0\n2 0 0 0.25 0 0 0 0 0\n");
	size_t index = 9;
	hs_error error = {0};
	hs_complex z;
	double db;
	assert_int_equal(net->count, 2);
	assert_int_equal(net->remark_line, 3);
	assert_string_equal(net->remark, "the frequency stands twice with the same numbers");
	assert_true(hs_network_find(net, 2e9 * (1 + 1e-12), &index, NULL));
	assert_int_equal(index, 1);
	assert_true(hs_network_find(net, 1e9 * (1 + 1e-12), &index, NULL));
	assert_int_equal(index, 0);
	assert_refused(hs_network_find(net, 1.5e9, &index, &error), &error,
	               "the file holds nothing at 1500000000 Hz; its nearest are 1000000000 and 2000000000 Hz");
	assert_refused(hs_network_find(net, 3e9, &index, &error), &error,
	               "the file holds nothing at 3000000000 Hz; it runs from 1000000000 to 2000000000 Hz");
	assert_refused(hs_network_find(net, NAN, &index, &error), &error,
	               "the frequency is not a number; a finite number is wanted");
	assert_refused(hs_network_value(net, 2, 1, 1, &z, &error), &error, "point 3 was asked for; the file holds 2");
	assert_refused(hs_network_value(net, 0, 3, 1, &z, &error), &error,
	               "S3,1 was asked for; the file holds 2 ports");
	assert_refused(hs_network_value(net, 0, 0, 1, &z, &error), &error,
	               "S0,1 was asked for; the file holds 2 ports");
	assert_refused(hs_network_db(net, 1, 1, 2, &db, &error), &error,
	               "S1,2 is 0 at 2000000000 Hz, which is no number of decibels");
	hs_network_free(net);
	net = must_read("a.s1p", "# GHz Z RI R 50\n1 1 0\n");
	assert_refused(hs_network_db(net, 0, 1, 1, &db, &error), &error,
	               "the file holds Z-parameters; decibels are of S-parameters only");
	hs_network_free(net);
}

static void a_loss_between_any_two_ports(void **state)
{
	(void)state;
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	hs_error error = {0};
	double loss;
	hs_network *net = must_read("a.s3p", "# GHz S DB R 50\n1 -9 0 -3 0 -20 0\n-3 0 -9 0 -9 0\n-20 0 -9 0 -9 0\n"
	                                     "4 -9 0 0.05 0 -20 0\n-5 0 -9 0 0.2 0\n-20 0 -9 0 -9 0\n");
	assert_true(hs_network_loss(arena, net, 2, 1, &table, NULL));
	assert_true(hs_loss_table_at(&table, 2.25e9, &loss, NULL));
	assert_near(loss, 4);
	assert_true(hs_network_loss(arena, net, 1, 2, &table, NULL));
	assert_true(hs_loss_table_at(&table, 4e9, &loss, NULL));
	assert_true(loss == 0 && !signbit(loss));
	assert_refused(
	    hs_network_loss(arena, net, 2, 3, &table, &error), &error,
	    "S2,3 is a gain of 0.2 dB at 4000000000 Hz; up to 0.1 dB passes as a residue of the calibration");
	assert_refused(hs_network_loss(arena, net, 2, 2, &table, &error), &error,
	               "a loss leads from one port to another; port 2 was named twice");
	assert_refused(hs_network_loss(arena, net, 4, 2, &table, &error), &error,
	               "S4,2 was asked for; the file holds 3 ports");
	hs_network_free(net);
	static const char lead[] = V2_TWO "[Network Data]\n1 0 0 0.5 0 0.4 0 0 0\n[End]\n",
	                  hot[] = TWO "2 0 0 2 0 1 0 0 0\n";
	assert_true(hs_network_lead_loss(arena, "K12.txt", lead, strlen(lead), &table, NULL));
	assert_near(table.points[0].loss_db, 6.0205999132796239);
	assert_refused(
	    hs_network_lead_loss(arena, "K12.s2p", hot, strlen(hot), &table, &error), &error,
	    "S2,1 is a gain of 6.0206 dB at 2000000000 Hz; up to 0.1 dB passes as a residue of the calibration");
	assert_string_equal(error.file, "K12.s2p");
	static const char one[] = V2_ONE "1 0 0\n2 0 0\n[End]\n";
	assert_refused(hs_network_lead_loss(arena, "K12.ts", one, strlen(one), &table, &error), &error,
	               "the file holds 1 ports; 2 are wanted");
	assert_int_equal(error.line, 3);
	hs_arena_free(arena);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_spelling_of_a_two_port_says_the_same),
	    cmocka_unit_test(more_ports_stand_row_by_row),
	    cmocka_unit_test(half_a_matrix_is_enough),
	    cmocka_unit_test(version_1_normalises_and_version_2_does_not),
	    cmocka_unit_test(references_of_their_own),
	    cmocka_unit_test(noise_data_stand_behind),
	    cmocka_unit_test(bad_files_are_refused_with_their_line),
	    cmocka_unit_test(stated_sizes_are_not_trusted),
	    cmocka_unit_test(numbers_are_rounded_as_by_the_book),
	    cmocka_unit_test(a_comma_locale_changes_nothing),
	    cmocka_unit_test(the_same_from_disk_in_chunks),
	    cmocka_unit_test(every_cut_and_every_flip_is_read_or_refused),
	    cmocka_unit_test(points_are_found_and_values_bounded),
	    cmocka_unit_test(a_loss_between_any_two_ports),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
