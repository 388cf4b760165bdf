/* Bounds that several branches share, answers that mean something else the second time, and steps that wait for others. */
#include "words_bench.h"

static const char counted[] =
    "counter \"retries\" { most = 2, beyond = { to = \"bad\", implicates = { \"s\" } } }\n"
    "suspect \"s\" {} suspect \"t\" {}\n"
    "step \"a\" { look = \"?\", answers = { { \"fine\", to = \"b\" }, { \"no\", to = \"fix\", counts = \"retries\" } } }\n"
    "step \"b\" { look = \"?\", answers = { { \"fine\", to = \"good\" },\n"
    "  { \"no\", to = \"fix\", clears = { \"t\" }, counts = \"retries\" } } }\n"
    "step \"fix\" { tell = \"again\", next = \"a\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"bad\" { finding = \"something\" }\n";

static void branches_share_a_bound(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, counted);
	begin(&b);
	play(&b, "a: no\nfix: done\na: fine\nb: no\nfix: done\na: fine\nb: no");
	ended_at(&b, "bad");
	assert_int_equal(standing(&b, "s"), HS_SUSPECT_IMPLICATED);
	assert_int_equal(standing(&b, "t"), HS_SUSPECT_CLEARED);
	bench_close(&b);
}

/* The third count leads out; without the redo these would be four. */
static void redo_gives_the_count_back(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, counted);
	begin(&b);
	play(&b, "a: no\nfix: done\na: no\n!redo\na: fine\nb: no\n!redo\nb: no\nfix: done\na: fine\nb: fine");
	ended_at(&b, "good");
	assert_int_equal(standing(&b, "s"), HS_SUSPECT_OPEN);
	bench_close(&b);
}

static const char lamp[] =
    "step \"lamp\" { look = \"Is it lit?\", answers = { { \"lit\", to = \"good\" },\n"
    "  { \"dark\", to = \"bulb\", again = { to = \"holder\" } } } }\n"
    "step \"bulb\" { act = \"Fit a new bulb.\", outside = true, next = \"lamp\" }\n"
    "step \"holder\" { finding = \"the holder\" }\n"
    "step \"good\" { finding = \"the bulb\" }\n";

static void an_answer_given_again_leads_elsewhere(void **state)
{
	(void)state;
	static const struct {
		const char *lines, *finding;
	} rows[] = {
	    {"lamp: dark\nbulb: done\nlamp: dark", "holder"},
	    {"lamp: dark\nbulb: done\nlamp: lit", "good"},
	    {"lamp: dark\n!redo\nlamp: dark\nbulb: done\nlamp: lit", "good"},
	    {"lamp: lit", "good"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		bench_open(&b, lamp);
		begin(&b);
		play(&b, rows[i].lines);
		ended_at(&b, rows[i].finding);
		bench_close(&b);
	}
}

static const char waiting[] =
    "step \"last\" { passed = { \"one\", \"two\" }, not_yet = \"which\", power = \"any\", read = { \"volts\", at = \"TP9\" },\n"
    "  limits = \"at least 1 V\", ok = \"good\", otherwise = \"bad\", most = 4, beyond = \"given-up\" }\n"
    "step \"which\" { look = \"Which next?\", answers = { { \"one\", to = \"one\" }, { \"two\", to = \"two\" }, { \"last\", to = \"last\" } } }\n"
    "step \"one\" { power = \"any\", read = { \"volts\", at = \"TP1\" }, limits = \"at least 1 V\", otherwise = \"last\" }\n"
    "step \"two\" { power = \"any\", collect = { { \"x\", \"volts\", at = \"TP2\", limits = \"at least 1 V\" } }, otherwise = \"last\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"bad\" { finding = \"something\" }\n"
    "step \"given-up\" { finding = \"given up\" }\n";

static void a_step_waits_until_others_passed(void **state)
{
	(void)state;
	static const struct {
		const char *lines, *finding;
	} rows[] = {
	    {"which: one\none: 2\nwhich: two\ntwo/x: 2\nlast: 2", "good"},
	    {"which: one\none: 0.5\nwhich: two\ntwo/x: 2\nwhich: one\none: 2\nlast: 0", "bad"},
	    {"which: one\none: 2\nwhich: two\ntwo/x: not read: no time\nwhich: two\ntwo/x: 1\nlast: 3", "good"},
	    /* A visit that is turned away counts, so that nobody goes round for ever. */
	    {"which: last\nwhich: last\nwhich: last\nwhich: last", "given-up"},
	    /* What passed may fail later. */
	    {"which: one\none: 2\nwhich: one\none: 0\nwhich: two\ntwo/x: 2\nwhich: last", "given-up"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		bench_open(&b, waiting);
		begin(&b);
		asked(&b, "which");
		play(&b, rows[i].lines);
		ended_at(&b, rows[i].finding);
		bench_close(&b);
	}
}

/* A reading used again is an outcome like any other. */
static void a_reused_reading_passes(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, "step \"a\" { power = \"any\", read = { \"volts\", at = \"TP1\" }, next = \"b\" }\n"
	               "step \"b\" { power = \"any\", read = { \"volts\", at = \"TP1\" }, limits = \"at least 1 V\", reuse = \"a\", otherwise = \"c\" }\n"
	               "step \"c\" { passed = { \"b\" }, not_yet = \"bad\", tell = \"x\", next = \"good\" }\n"
	               "step \"good\" { finding = \"nothing\" }\n"
	               "step \"bad\" { finding = \"something\" }\n");
	begin(&b);
	play(&b, "a: 2\nc: ");
	ended_at(&b, "good");
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(branches_share_a_bound),           cmocka_unit_test(redo_gives_the_count_back),
	    cmocka_unit_test(an_answer_given_again_leads_elsewhere), cmocka_unit_test(a_step_waits_until_others_passed),
	    cmocka_unit_test(a_reused_reading_passes),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
