/*
 * Touchstone files as their specification prints them (IBIS Open Forum: "Touchstone File Format Specification",
 * rev. 1.1 of 2003 and versions 2.0 of 2009 and 2.1 of 2024), every order of the option line, and files written out in
 * every form and read back.
 */
#include "measure_rows.h"
#include <stdio.h>
#include <stdlib.h>
#include "halfsplit/lineup/network.h"
#include "seeded.h"

#define PI 3.14159265358979323846

static hs_network *must_read(const char *path, const char *text)
{
	hs_network *net = NULL;
	hs_error error = {0};
	if (!hs_network_parse(path, text, strlen(text), 0, &net, &error))
		fail_msg("%s:%d: %s: %s", error.file, error.line, error.message, text);
	return net;
}

/* ---- the specification's own examples ---- */

#define FOUR_1 "0.60 161.24 0.40 -42.20 0.42 -66.58 0.53 -79.34 !row 1\n"
#define FOUR_2 "0.40 -42.20 0.60 161.20 0.53 -79.34 0.42 -66.58 !row 2\n"
#define FOUR_3 "0.42 -66.58 0.53 -79.34 0.60 161.24 0.40 -42.20 !row 3\n"
#define FOUR_4 "0.53 -79.34 0.42 -66.58 0.40 -42.20 0.60 161.24 !row 4\n"
#define FOUR   "5.00000 " FOUR_1 FOUR_2 FOUR_3 FOUR_4
#define FOUR_V2                                                                                                        \
	"[Version] 2.0\n# GHz S MA R 50\n[Number of Ports] 4\n[Number of Frequencies] 1\n[Reference] 50 75\n0.01 "     \
	"0.01\n"
#define MIXED                                                                                                          \
	"5.00 8.0 9.0 2.0 -1.0 3.0 -2.0 1.0 3.0 1.0 0.1 0.2 -0.2\n2.0 -1.0 7.0 7.0 1.8 -2.0 -1.0 -1.0 -0.5 0.5 0.2 "   \
	"-0.1\n"                                                                                                       \
	"3.0 -2.0 1.8 -2.0 5.8 6.0 1.2 0.8 0.9 0.7 0.3 -0.5\n1.0 3.0 -1.0 -1.0 1.2 0.8 6.3 8.0 2.0 -0.5 1.5 0.6\n"     \
	"1.0 0.1 -0.5 0.5 0.9 0.7 2.0 -0.5 4.7 -6.0 -1.0 2.0\n0.2 -0.2 0.2 -0.1 0.3 -0.5 1.5 0.6 -1.0 2.0 5.5 -7.0\n"

static const struct {
	const char *source, *path, *text;
	int version;
	char kind;
	size_t ports, count;
	/* One value of it, as magnitude and degrees, in ohm where it is an impedance; polar is false for real and
	 * imaginary. */
	size_t index, to, from;
	double freq_hz, a, b;
	bool polar;
} examples[] = {
    {"1.1, example 1: one port, one frequency", "a.s1p", "# MHz S MA R 50\n!freq magS11 angS11\n2.000 0.894 -12.136\n",
     10, 'S', 1, 1, 0, 1, 1, 2e6, 0.894, -12.136, true},
    {"1.1, example 1, in decibels", "a.s1p", "# MHz S DB R 50\n2.000 -0.97 -12.136\n", 10, 'S', 1, 1, 0, 1, 1, 2e6,
     0.8943345319325584, -12.136, true},
    {"1.1, example 2: impedances, normalised to 75 ohm", "a.s1p",
     "# MHz Z MA R 75\n100 0.99 -4\n200 0.80 -22\n300 0.707 -45\n400 0.40 -62\n500 0.01 -89\n", 10, 'Z', 1, 5, 2, 1, 1,
     3e8, 53.025, -45, true},
    {"2.0, [Reference], a one-port: the same ones in ohm, as version 2 writes them", "a.ts",
     "[Version] 2.0\n# MHz Z MA\n[Number of Ports] 1\n[Number of Frequencies] 5\n[Reference] 20.0\n[Network Data]\n"
     "100 74.25 -4\n\n200 60 -22\n\n300 53.025 -45\n\n400 30 -62\n\n500 0.75 -89\n",
     20, 'Z', 1, 5, 2, 1, 1, 3e8, 53.025, -45, true},
    {"1.1, example 3: hybrid parameters", "a.s2p", "# KHz H MA R 1\n2 .95 -26 3.57 157 .04 76 .66 -14\n", 10, 'H', 2, 1,
     0, 2, 1, 2e3, 3.57, 157, true},
    {"2.0, example 12: the same in version 2", "a.ts",
     "[Version] 2.0\n# kHz H MA R 1\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Number of Frequencies] "
     "1\n[Matrix "
     "Format] Full\n[Network Data]\n2 .95 -26 3.57 157 .04 76 .66 -14\n",
     20, 'H', 2, 1, 0, 1, 2, 2e3, 0.04, 76, true},
    {"1.1, example 4: two ports", "a.s2p",
     "# GHZ S RI R 50.0\n1.0000 0.3926 -0.1211 -0.0003 -0.0021 -0.0003 -0.0021 0.3926 -0.1211\n"
     "2.0000 0.3517 -0.3054 -0.0096 -0.0298 -0.0096 -0.0298 0.3517 -0.3054\n"
     "10.000 0.3419 0.3336 -0.0134 0.0379 -0.0134 0.0379 0.3419 0.3336\n",
     10, 'S', 2, 3, 1, 2, 1, 2e9, -0.0096, -0.0298, false},
    {"1.1, example 5: four ports, a row a line", "a.s4p",
     "# GHZ S MA R 50\n" FOUR "6.00000 0.57 150.37 0.40 -44.34 0.41 -81.24 0.57 -95.77\n"
     "0.40 -44.34 0.57 150.37 0.57 -95.77 0.41 -81.24\n0.41 -81.24 0.57 -95.77 0.57 150.37 0.40 -44.34\n"
     "0.57 -95.77 0.41 -81.24 0.40 -44.34 0.57 150.37\n7.00000 0.50 136.69 0.45 -46.41 0.37 -99.09 0.62 -114.19\n"
     "0.45 -46.41 0.50 136.69 0.62 -114.19 0.37 -99.09\n0.37 -99.09 0.62 -114.19 0.50 136.69 0.45 -46.41\n"
     "0.62 -114.19 0.37 -99.09 0.45 -46.41 0.50 136.69\n",
     10, 'S', 4, 3, 2, 4, 3, 7e9, 0.45, -46.41, true},
    {"2.0, example 5: four references, the whole matrix", "a.ts", FOUR_V2 "[Matrix Format] Full\n[Network Data]\n" FOUR,
     20, 'S', 4, 1, 0, 2, 3, 5e9, 0.53, -79.34, true},
    {"2.0, example 6: the lower half of it", "a.ts",
     FOUR_V2 "[Matrix Format] Lower\n[Network Data]\n5.00000 0.60 161.24 !row 1\n0.40 -42.20 0.60 161.20 !row 2\n"
             "0.42 -66.58 0.53 -79.34 0.60 161.24 !row 3\n0.53 -79.34 0.42 -66.58 0.40 -42.20 0.60 161.24 !row 4\n",
     20, 'S', 4, 1, 0, 2, 3, 5e9, 0.53, -79.34, true},
    {"2.0, example 16: mixed modes", "a.ts",
     "[Version] 2.0\n# MHz Y RI R 50\n[Number of Ports] 6\n[Number of Frequencies] 1\n[Reference] 50 75 75 50 0.01 "
     "0.01\n"
     "[Mixed-Mode Order] D2,3 D6,5 C2,3 C6,5 S4 S1\n[Network Data]\n" MIXED "[End]\n",
     20, 'Y', 6, 1, 0, 5, 6, 5e6, -1, 2, false},
    {"1.1, example 8: noise data, every option at its default", "a.s2p",
     "#\n! NETWORK PARAMETERS\n2 .95 -26 3.57 157 .04 76 .66 -14\n22 .60 -144 1.30 40 .14 40 .56 -85\n! NOISE "
     "PARAMETERS\n"
     "4 .7 .64 69 .38\n18 2.7 .46 -33 .40\n",
     10, 'S', 2, 2, 1, 1, 2, 22e9, 0.14, 40, true},
    {"2.0, example 17: the same in version 2", "a.ts",
     "[Version] 2.0\n#\n[Number of Ports] 2\n[Two-Port Data Order] 21_12\n[Number of Frequencies] 2\n[Number of Noise "
     "Frequencies] 2\n[Reference] 50 25.0\n[Network Data]\n2 .95 -26 3.57 157 .04 76 .66 -14\n22 .60 -144 1.30 40 .14 "
     "40 .56 "
     "-85\n[Noise Data]\n4 .7 .64 69 19\n18 2.7 .46 -33 20\n[End]\n",
     20, 'S', 2, 2, 1, 1, 2, 22e9, 0.14, 40, true},
};

static void the_examples_say_what_they_print(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(examples); i++) {
		hs_network *net = must_read(examples[i].path, examples[i].text);
		hs_complex got;
		assert_int_equal(net->version, examples[i].version);
		assert_int_equal(net->kind, examples[i].kind);
		assert_int_equal(net->ports, examples[i].ports);
		assert_int_equal(net->count, examples[i].count);
		assert_source(examples[i].source, hs_network_freq(net, examples[i].index), examples[i].freq_hz, 0);
		assert_true(hs_network_value(net, examples[i].index, examples[i].to, examples[i].from, &got, NULL));
		double a = examples[i].a, b = examples[i].b;
		assert_source(examples[i].source, got.re, examples[i].polar ? a * cos(b * PI / 180) : a, 0);
		assert_source(examples[i].source, got.im, examples[i].polar ? a * sin(b * PI / 180) : b, 0);
		/* Their version 2.0 files stop without [End], which is read with a remark. */
		bool open_ended = net->version == 20 && !strstr(examples[i].text, "[End]");
		assert_int_equal(net->remark_line != 0, open_ended);
		hs_network_free(net);
	}
}

static void what_stands_beside_the_examples(void **state)
{
	(void)state;
	hs_network *full = must_read("a.ts", FOUR_V2 "[Matrix Format] Full\n[Network Data]\n" FOUR);
	static const double reference[] = {50, 75, 0.01, 0.01};
	for (size_t port = 1; port <= 4; port++)
		assert_source("2.0, example 5", hs_network_reference(full, port), reference[port - 1], 0);
	hs_network_free(full);
	for (size_t i = 0; i < COUNT(examples); i++) {
		if (!strstr(examples[i].source, "example 16"))
			continue;
		hs_network *net = must_read("a.ts", examples[i].text);
		static const hs_mode modes[] = {{'D', 2, 3}, {'D', 6, 5}, {'C', 2, 3},
		                                {'C', 6, 5}, {'S', 4, 0}, {'S', 1, 0}};
		for (size_t m = 0; m < COUNT(modes); m++)
			assert_true(net->modes[m].kind == modes[m].kind && net->modes[m].a == modes[m].a &&
			            net->modes[m].b == modes[m].b);
		hs_network_free(net);
	}
	/* The noise resistance is 0.38 of 50 ohm in version 1 and 19 ohm in version 2. */
	for (size_t i = COUNT(examples) - 2; i < COUNT(examples); i++) {
		hs_network *net = must_read(examples[i].path, examples[i].text);
		assert_int_equal(net->noise_count, 2);
		assert_source(examples[i].source, net->noise[0].rn_ohm, 19, 0);
		assert_source(examples[i].source, net->noise[1].rn_ohm, 20, 0);
		assert_source(examples[i].source, net->noise[0].rho_best, 0.64, 0);
		assert_source(examples[i].source, net->noise[1].degrees_best, -33, 0);
		assert_source(examples[i].source, net->noise[1].nf_min_db, 2.7, 0);
		assert_source(examples[i].source, net->noise[1].freq_hz, 18e9, 0);
		hs_network_free(net);
	}
}

/* ---- the option line ---- */

static void one_order(const char *const words[4], const size_t order[4], size_t used, double freq_hz)
{
	char text[160] = "#";
	for (size_t i = 0; i < used; i++) {
		strcat(text, i % 2 ? "\t" : " ");
		strcat(text, words[order[i]]);
	}
	strcat(text, "\n3 0.5 0\n");
	hs_network *net = must_read("a.s1p", text);
	assert_near(hs_network_freq(net, 0) / freq_hz, 1);
	assert_int_equal(net->kind, 'S');
	assert_int_equal(net->notation, HS_NOTATION_RI);
	assert_near(hs_network_reference(net, 1), 75);
	hs_network_free(net);
}

static void the_options_come_in_any_order(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		double hz;
	} units[] = {{"Hz", 1},    {"HZ", 1},    {"kHz", 1e3}, {"KHZ", 1e3},
	             {"mhz", 1e6}, {"MHz", 1e6}, {"GHZ", 1e9}, {"ghz", 1e9}};
	size_t tried = 0;
	for (size_t u = 0; u < COUNT(units); u++) {
		const char *words[4] = {units[u].name, u % 2 ? "s" : "S", u % 3 ? "ri" : "RI",
		                        u % 2 ? "r 75" : "R 75.0"};
		for (size_t code = 0; code < 256; code++) {
			size_t order[4] = {code & 3, code >> 2 & 3, code >> 4 & 3, code >> 6};
			unsigned seen = 0;
			for (size_t i = 0; i < 4; i++)
				seen |= 1u << order[i];
			if (seen != 15)
				continue;
			one_order(words, order, 4, 3 * units[u].hz);
			tried++;
		}
	}
	assert_int_equal(tried, COUNT(units) * 24);
}

/* ---- written and read back ---- */

typedef struct form {
	int version; /* 1 or 2 */
	char kind;
	hs_notation notation;
	hs_matrix matrix;
	bool order_12_21;
	size_t unit, ports, count;
	const char *end; /* of a line */
	bool remarks, split;
} form;

static const struct {
	const char *name;
	double hz;
} frequency_units[] = {{"Hz", 1}, {"kHz", 1e3}, {"MHz", 1e6}, {"GHz", 1e9}};

static form any_form(seeded *s)
{
	static const char *const ends[] = {"\n", "\r\n", "\r"};
	form f = {.version = (int)seeded_of(s, 2) + 1, .ports = seeded_of(s, 7) + 1, .count = seeded_of(s, 4) + 1};
	f.kind = f.ports == 2 ? "SYZHG"[seeded_of(s, 5)] : "SYZ"[seeded_of(s, 3)];
	f.notation = (hs_notation)seeded_of(s, 3);
	f.matrix = f.version == 2 && f.kind != 'H' && f.kind != 'G' ? (hs_matrix)seeded_of(s, 3) : HS_MATRIX_FULL;
	f.order_12_21 = f.version == 2 && seeded_of(s, 2);
	f.unit = seeded_of(s, 4);
	f.end = ends[seeded_of(s, 3)];
	f.remarks = seeded_of(s, 2);
	f.split = seeded_of(s, 2);
	return f;
}

static void write_pair(hs_buf *out, hs_notation notation, double re, double im)
{
	double magnitude = hypot(re, im), degrees = atan2(im, re) * 180 / PI;
	if (notation == HS_NOTATION_RI)
		hs_buf_printf(out, " %.17g %.17g", re, im);
	else
		hs_buf_printf(out, "\t%.17g %.17g", notation == HS_NOTATION_DB ? 20 * log10(magnitude) : magnitude,
		              degrees);
}

static void write_head(hs_buf *out, const form *f)
{
	static const char *const notations[] = {"MA", "DB", "RI"}, *const matrices[] = {"Full", "Lower", "Upper"};
	const char *end = f->end;
	if (f->remarks)
		hs_buf_printf(out, "! written by a test%s%s", end, end);
	if (f->version == 2)
		hs_buf_printf(out, "[Version] 2.1%s", end);
	hs_buf_printf(out, "# %s %s R 50 %c%s", notations[f->notation], frequency_units[f->unit].name, f->kind, end);
	if (f->version == 1)
		return;
	hs_buf_printf(out, "[Number of Ports] %zu%s", f->ports, end);
	if (f->ports == 2)
		hs_buf_printf(out, "[Two-Port Data Order] %s%s", f->order_12_21 ? "12_21" : "21_12", end);
	hs_buf_printf(out, "[Number of Frequencies] %zu%s[Matrix Format] %s%s[Network Data]%s", f->count, end,
	              matrices[f->matrix], end, end);
}

/* The cells of one frequency in the order of the file; `at` is the matrix, row by row. */
static void write_point(hs_buf *out, const form *f, double freq_hz, double (*at)[2])
{
	size_t n = f->ports, pairs = 0;
	bool swapped = n == 2 && f->matrix == HS_MATRIX_FULL && !f->order_12_21;
	hs_buf_printf(out, "%.17g", freq_hz / frequency_units[f->unit].hz);
	for (size_t row = 0; row < n; row++) {
		for (size_t column = 0; column < n; column++) {
			if ((f->matrix == HS_MATRIX_LOWER && column > row) ||
			    (f->matrix == HS_MATRIX_UPPER && column < row))
				continue;
			size_t cell = swapped ? column * n + row : row * n + column;
			bool wrap = f->version == 1
			                ? n > 2 && ((column == 0 && row > 0) || (column > 0 && column % 4 == 0))
			                : f->split && pairs % 3 == 2;
			if (wrap)
				hs_buf_printf(out, "%s%s", f->remarks ? " ! more" : "", f->end);
			write_pair(out, f->notation, at[cell][0], at[cell][1]);
			pairs++;
		}
	}
	hs_buf_str(out, f->end);
}

/* What version 1 divides a value by; both references are 50 ohm. */
static double normalised_by(const form *f, size_t cell)
{
	if (f->version == 2 || f->kind == 'S')
		return 1;
	bool first = cell == 0, last = cell == 3;
	if (f->kind == 'H')
		return first ? 50 : last ? 1.0 / 50 : 1;
	if (f->kind == 'G')
		return first ? 1.0 / 50 : last ? 50 : 1;
	return f->kind == 'Z' ? 50 : 1.0 / 50;
}

static void one_file(seeded *s)
{
	form f = any_form(s);
	size_t n = f.ports, cells = n * n;
	double(*value)[2] = calloc(f.count * cells, sizeof *value), (*written)[2] = calloc(cells, sizeof *written),
	freq[4];
	hs_buf text;
	hs_buf_init(&text);
	write_head(&text, &f);
	for (size_t p = 0; p < f.count; p++) {
		freq[p] = (p ? freq[p - 1] : 0) + seeded_between(s, 1, 1e9);
		for (size_t c = 0; c < cells; c++) {
			double *v = value[p * cells + c];
			v[0] = seeded_between(s, -1.4, 1.4) * normalised_by(&f, c);
			v[1] = seeded_between(s, -1.4, 1.4) * normalised_by(&f, c);
			size_t row = c / n, column = c % n;
			if (f.matrix != HS_MATRIX_FULL && column < row)
				memcpy(v, value[p * cells + column * n + row], sizeof *value);
		}
		for (size_t c = 0; c < cells; c++)
			for (size_t i = 0; i < 2; i++)
				written[c][i] = value[p * cells + c][i] / normalised_by(&f, c);
		write_point(&text, &f, freq[p], written);
	}
	if (f.version == 2)
		hs_buf_printf(&text, "[End]%s", f.end);
	char path[16];
	snprintf(path, sizeof path, "a.s%zup", n);
	hs_network *net = must_read(path, text.data);
	assert_int_equal(net->count, f.count);
	assert_int_equal(net->ports, n);
	assert_int_equal(net->remark_line, 0);
	for (size_t p = 0; p < f.count; p++) {
		assert_near(hs_network_freq(net, p) / freq[p], 1);
		for (size_t c = 0; c < cells; c++) {
			hs_complex got;
			assert_true(hs_network_value(net, p, c / n + 1, c % n + 1, &got, NULL));
			double size = hypot(value[p * cells + c][0], value[p * cells + c][1]);
			if (hypot(got.re - value[p * cells + c][0], got.im - value[p * cells + c][1]) > 1e-9 * size)
				fail_msg("S%zu,%zu is %.17g %.17g, and %.17g %.17g was written:\n%s", c / n + 1,
				         c % n + 1, got.re, got.im, value[p * cells + c][0], value[p * cells + c][1],
				         text.data);
		}
	}
	hs_network_free(net);
	hs_buf_free(&text);
	free(value);
	free(written);
}

static void what_is_written_is_read_back(void **state)
{
	(void)state;
	seeded s = {20240115};
	for (int i = 0; i < 3000; i++)
		one_file(&s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_examples_say_what_they_print),
	    cmocka_unit_test(what_stands_beside_the_examples),
	    cmocka_unit_test(the_options_come_in_any_order),
	    cmocka_unit_test(what_is_written_is_read_back),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
