/* Turning something while reading: a compromise over several settings, tuning for the most, and raising until something leaves its limits. */
#include "words_bench.h"

static const char compromise[] =
    "unit { controls = { band = { \"low\", \"high\" } } }\n"
    "step \"a\" { power = \"any\", outside = true, adjust = { \"Turn R5 a little.\", tries = 3, read = {\n"
    "    { \"low-end\", \"power\", at = \"J1\", set = { band = \"low\" }, limits = \"10 dBm +/- 1 dB\" },\n"
    "    { \"high-end\", \"power\", at = \"J1\", set = { band = \"high\" }, limits = \"10 dBm +/- 1 dB\" } } },\n"
    "  ok = \"good\", low = \"low\", high = \"high\", otherwise = \"unread\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"low\" { finding = \"low\" }\n"
    "step \"high\" { finding = \"high\" }\n"
    "step \"unread\" { finding = \"not read\" }\n";

static void all_come_right_in_one_round(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, compromise);
	begin(&b);
	play(&b, "intake/stands.band: low");
	says(&b, "Turn R5 a little.\nRound 1 of at most 3. Read power at J1.");
	play(&b, "a/low-end: 10\na/set.band: done");
	says(&b, "As it stands, without turning anything: Round 1 of at most 3. Read power at J1.");
	play(&b, "a/high-end: 5\na/set.band: done");
	says(&b, "Turn R5 a little.\nRound 2 of at most 3.");
	play(&b, "a/low-end: 10.8\na/set.band: done\na/high-end: 9.2\nhome/set.band: done");
	ended_at(&b, "good");
	bench_close(&b);
}

static void the_last_round_counts(void **state)
{
	(void)state;
	static const struct {
		const char *lines, *finding;
	} rows[] = {
	    /* The first reading of the last round that is not right says where it leads. */
	    {"a/low-end: 10\na/set.band: done\na/high-end: 5\na/set.band: done\na/low-end: 20\na/set.band: done\na/high-end: 5\n"
	     "a/set.band: done\na/low-end: 20\na/set.band: done\na/high-end: 5\nhome/set.band: done", "high"},
	    {"a/low-end: 10\na/set.band: done\na/high-end: 5\na/set.band: done\na/low-end: 20\na/set.band: done\na/high-end: 5\n"
	     "a/set.band: done\na/low-end: 10\na/set.band: done\na/high-end: 5\nhome/set.band: done", "low"},
	    {"a/low-end: not read: stuck", "unread"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		bench_open(&b, compromise);
		begin(&b);
		play(&b, "intake/stands.band: low");
		play(&b, rows[i].lines);
		ended_at(&b, rows[i].finding);
		bench_close(&b);
	}
}

static void tuning_says_what_for(void **state)
{
	(void)state;
	static const char *const rows[][2] = {{"peak", "Turn C5, for the highest reading; type that one."},
	                                      {"dip", "Turn C5, for the lowest reading; type that one."}};
	for (size_t i = 0; i < 2; i++) {
		char text[600];
		bench b;
		snprintf(text, sizeof text, "step \"a\" { power = \"any\", outside = true, adjust = { \"Turn C5.\", tune = \"%s\", tries = 2,\n"
		                            "  read = { \"volts\", at = \"TP1\" } }, limits = \"at least 3 V\", ok = \"good\", otherwise = \"bad\" }\n"
		                            "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n", rows[i][0]);
		bench_open(&b, text);
		begin(&b);
		says(&b, rows[i][1]);
		play(&b, "a: 2\na: 2.5");
		ended_at(&b, "bad");
		bench_close(&b);
	}
}

static const char raising[] =
    "step \"w\" { power = \"any\", outside = true, watch = { \"Raise VOLTS by 5 V.\", tries = 3, read = {\n"
    "    { \"out\", \"volts\", at = \"J1\", limits = \"at least 1 V\" }, { \"in\", \"amps\", limits = \"at most 2 A\" } } },\n"
    "  ok = \"good\", low = \"low\", high = \"high\", otherwise = \"unread\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"low\" { finding = \"low\" }\n"
    "step \"high\" { finding = \"high\" }\n"
    "step \"unread\" { finding = \"not read\" }\n";

static void a_watch_ends_at_once(void **state)
{
	(void)state;
	static const struct {
		const char *lines, *finding;
	} rows[] = {
	    {"w/out: 2\nw/in: 1\nw/out: 3\nw/in: 1.5\nw/out: 4\nw/in: 1.9", "good"},
	    {"w/out: 2\nw/in: 2.5", "high"},
	    {"w/out: 2\nw/in: 1\nw/out: 0", "low"},
	    {"w/out: 2\nw/in: 1\nw/out: not read: the meter fell", "unread"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		bench_open(&b, raising);
		begin(&b);
		says(&b, "Raise VOLTS by 5 V.\nRound 1 of at most 3.");
		says(&b, "When a reading leaves its limits, stop and turn back at once; type it then.");
		play(&b, rows[i].lines);
		ended_at(&b, rows[i].finding);
		bench_close(&b);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(all_come_right_in_one_round), cmocka_unit_test(the_last_round_counts),
	    cmocka_unit_test(tuning_says_what_for),        cmocka_unit_test(a_watch_ends_at_once),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
