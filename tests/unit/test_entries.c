/* What is typed where no meter shows a number: ticks, trends, counts, the same as before, same or different, nothing above. */
#include "words_bench.h"

/* One reading, and the finding that each answer leads to. */
static const struct {
	const char *read; /* the fields of the reading, and what stands beside it */
	const char *answer, *finding;
} readings[] = {
    {"read = { \"tick\", asks = \"Is it clean?\" }", "yes", "ok"},
    {"read = { \"tick\", asks = \"Is it clean?\" }", "no", "low"},
    {"read = { \"tick\", asks = \"Is it clean?\" }", "cannot tell", "unread"},
    {"read = { \"tick\", asks = \"Does it smell?\" }, limits = \"at most 0.5\"", "no", "ok"},
    {"read = { \"tick\", asks = \"Does it smell?\" }, limits = \"at most 0.5\"", "yes", "high"},
    {"read = { \"trend\", at = \"TP1\" }", "rising", "high"},
    {"read = { \"trend\", at = \"TP1\" }", "steady", "ok"},
    {"read = { \"trend\", at = \"TP1\" }", "falling", "low"},
    {"read = { \"trend\", at = \"TP1\" }", "not read: it jumps about", "unread"},
    {"read = { \"trend\", at = \"TP1\" }, limits = \"at least 0.5\"", "rising", "ok"},
    {"read = { \"trend\", at = \"TP1\" }, limits = \"at least 0.5\"", "steady", "low"},
    {"read = { \"count\", asks = \"How often in ten?\" }, limits = \"at most 1\"", "1 of 10", "ok"},
    {"read = { \"count\", asks = \"How often in ten?\" }, limits = \"at most 1\"", "3 of 10", "high"},
    {"read = { \"count\", asks = \"How often?\" }, limits = \"at most 1\"", "0", "ok"},
    {"read = { \"minimum\", unit = \"V\", at = \"TP1\" }, limits = \"at least 4.5 V\"", "4.4", "low"},
    {"read = { \"maximum\", unit = \"V\", at = \"TP1\" }, limits = \"at most 5.5 V\"", "5400 mV", "ok"},
    {"read = { \"rate\", unit = \"V\", at = \"TP1\" }, limits = \"1 V .. 2 V\"", "3", "high"},
    {"read = { \"peak\", at = \"J1\" }, limits = \"10.7 MHz +/- 0.1 MHz\"", "10.65 MHz", "ok"},
    {"read = { \"dip\", at = \"J1\" }, limits = \"10.7 MHz +/- 0.1 MHz\"", "10.5 MHz", "low"},
    {"read = { \"power\", at = \"J1\" }, limits = \"nothing above -90 dBm\"", "< -95", "ok"},
    {"read = { \"power\", at = \"J1\" }, limits = \"nothing above -90 dBm\"", "< -85", "unsure"},
    {"read = { \"power\", at = \"J1\" }, limits = \"nothing above -90 dBm\"", "-91", "ok"},
    {"read = { \"power\", at = \"J1\" }, limits = \"nothing above -90 dBm\"", "-60", "high"},
};

static void answers_lead_where_they_should(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof readings / sizeof *readings; i++) {
		char text[900], line[120];
		bench b;
		snprintf(text, sizeof text,
		         "step \"a\" { power = \"any\", %s, low = \"low\", ok = \"ok\", high = \"high\", unsure = \"unsure\", unread = \"unread\" }\n"
		         "step \"low\" { finding = \"low\" } step \"ok\" { finding = \"ok\" } step \"high\" { finding = \"high\" }\n"
		         "step \"unsure\" { finding = \"unsure\" } step \"unread\" { finding = \"unread\" }\n",
		         readings[i].read);
		bench_open(&b, text);
		begin(&b);
		snprintf(line, sizeof line, "a: %s", readings[i].answer);
		play(&b, line);
		ended_at(&b, readings[i].finding);
		bench_close(&b);
	}
}

static void other_words_are_refused(void **state)
{
	(void)state;
	static const struct {
		const char *read, *answer, *why;
	} rows[] = {
	    {"\"tick\", asks = \"Is it clean?\"", "perhaps", "\"perhaps\" is no answer here: yes, no or cannot tell was wanted"},
	    {"\"tick\", asks = \"Is it clean?\"", "1", "yes, no or cannot tell was wanted"},
	    {"\"trend\"", "up", "\"up\" is no trend: rising, steady or falling was wanted"},
	    {"\"count\"", "4 of 3", "it cannot have happened 4 times in 3 tries"},
	    {"\"volts\"", "same", "there is no earlier reading in V to be the same as"},
	    {"\"minimum\", unit = \"V\"", "3 A", "a voltage was wanted"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char text[400];
		bench b;
		snprintf(text, sizeof text, "step \"a\" { power = \"any\", read = { %s }, %s = \"end\" }\nstep \"end\" { finding = \"x\" }\n",
		         rows[i].read, i < 3 ? "otherwise" : "next");
		bench_open(&b, text);
		begin(&b);
		refused(&b, "a", rows[i].answer, rows[i].why);
		bench_close(&b);
	}
}

static void asks_say_how(void **state)
{
	(void)state;
	static const struct {
		const char *read, *says;
	} rows[] = {
	    {"\"tick\", asks = \"Is it clean?\"", "Is it clean?\n\nyes\nno\ncannot tell\n"},
	    {"\"trend\", at = \"TP1\"", "See whether it rises or falls at TP1.\n\nrising\nsteady\nfalling\n"},
	    {"\"peak\", at = \"J1\"", "Find the frequency of the peak at J1."},
	    {"\"minimum\", unit = \"V\", at = \"TP1\"", "Read the lowest value it comes to at TP1."},
	    {"\"maximum\", unit = \"V\", at = \"TP1\"", "Read the highest value it comes to at TP1."},
	    {"\"rate\", unit = \"V\", at = \"TP1\"", "Read how fast it changes at TP1."},
	    {"\"volts\", at = \"TP1\", held = \"RESET\", within = \"10 s\"", "Read volts at TP1. Hold RESET down meanwhile. Take it within 10 s."},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char text[400];
		bench b;
		snprintf(text, sizeof text, "step \"a\" { power = \"any\", read = { %s }, %s = \"end\" }\nstep \"end\" { finding = \"x\" }\n",
		         rows[i].read, i < 2 ? "otherwise" : "next");
		bench_open(&b, text);
		begin(&b);
		says(&b, rows[i].says);
		bench_close(&b);
	}
}

static void same_is_the_last_one(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, "step \"a\" { power = \"any\", collect = { { \"x\", \"volts\", limits = \"4 V .. 6 V\" }, { \"y\", \"amps\", limits = \"1 A .. 2 A\" },\n"
	               "  { \"z\", \"amps\", limits = \"1 A .. 2 A\" } }, ok = \"good\", otherwise = \"bad\" }\n"
	               "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n");
	begin(&b);
	play(&b, "a/x: 5");
	refused(&b, "a/y", "same", "there is no earlier reading in A to be the same as");
	play(&b, "a/y: 1.5\na/z: same");
	ended_at(&b, "good");
	bench_close(&b);
}

static void same_is_of_the_same_point(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, "point \"TP1\" {} point \"TP2\" {}\n"
	               "step \"a\" { power = \"any\", collect = { { \"x\", \"volts\", at = \"TP1\", hookup = \"prods\", limits = \"4 V .. 6 V\" },\n"
	               "  { \"y\", \"volts\", at = \"TP2\", hookup = \"prods\", limits = \"4 V .. 6 V\" },\n"
	               "  { \"z\", \"volts\", at = \"TP2\", hookup = \"prods\", limits = \"4 V .. 6 V\" } }, ok = \"new\", otherwise = \"good\" }\n"
	               "step \"new\" { replace = \"F1\", next = \"good\" } step \"good\" { finding = \"nothing\" }\n");
	begin(&b);
	play(&b, "a/x: 5");
	refused(&b, "a/y", "same", "the last reading was of another point or frequency");
	play(&b, "a/y: 5\na/z: same");
	/* A word typed from habit names no part. */
	refused(&b, "new", "done", "Write what was fitted");
	refused(&b, "new", "OK", "Write what was fitted");
	play(&b, "new: T1A 250 V");
	ended_at(&b, "good");
	bench_close(&b);
}

/* A tick is the same as a tick, and no word is the same as a number, though neither has a unit. */
static void same_is_of_the_same_kind(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, "step \"a\" { power = \"any\", collect = { { \"n\", \"count\", limits = \"1 .. 3\" }, { \"x\", \"tick\", asks = \"x?\" },\n"
	               "  { \"y\", \"tick\", asks = \"y?\" }, { \"z\", \"trend\" } }, ok = \"good\", otherwise = \"bad\" }\n"
	               "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n");
	begin(&b);
	play(&b, "a/n: 2/3");
	refused(&b, "a/x", "same", "there is no earlier tick to be the same as");
	play(&b, "a/x: no\na/y: same");
	refused(&b, "a/z", "same", "there is no earlier trend to be the same as");
	play(&b, "a/z: steady");
	ended_at(&b, "bad");
	bench_close(&b);
}

static void two_things_are_compared(void **state)
{
	(void)state;
	static const char *const rows[][2] = {{"same", "good"}, {"different", "bad"}, {"cannot tell", "unclear"}, {"3", "unclear"}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char line[60];
		bench b;
		bench_open(&b, "suspect \"s\" {}\n"
		               "step \"a\" { compare = \"Left channel against right.\", same = { to = \"good\", clears = { \"s\" } }, different = \"bad\",\n"
		               "  unclear = \"unclear\" }\n"
		               "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = { \"s\" } } step \"unclear\" { finding = \"x\" }\n");
		begin(&b);
		says(&b, "Left channel against right.\n\nsame\ndifferent\ncannot tell\n");
		refused(&b, "a", "alike", "choose same, different or cannot tell");
		snprintf(line, sizeof line, "a: %s", rows[i][0]);
		play(&b, line);
		ended_at(&b, rows[i][1]);
		assert_int_equal(standing(&b, "s"), i == 0 ? HS_SUSPECT_CLEARED : i == 1 ? HS_SUSPECT_IMPLICATED : HS_SUSPECT_OPEN);
		bench_close(&b);
	}
}

static void a_checklist_is_gone_through(void **state)
{
	(void)state;
	static const struct {
		const char *lines, *finding;
	} rows[] = {
	    {"a/edges: yes\na/screws: yes", "good"},
	    {"a/edges: no\na/screws: cannot tell", "bad"},
	    {"a/edges: yes\na/screws: cannot tell", "unread"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		bench_open(&b, "step \"a\" { checklist = { { \"edges\", \"Are both edges clean?\" }, { \"screws\", \"Are all screws there?\" } },\n"
		               "  ok = \"good\", low = \"bad\", unread = \"unread\" }\n"
		               "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" } step \"unread\" { finding = \"x\" }\n");
		begin(&b);
		says(&b, "Are both edges clean?");
		play(&b, rows[i].lines);
		ended_at(&b, rows[i].finding);
		bench_close(&b);
	}
}

/* Later than it may be read, an answer is refused and the act done again; that it was not read may be said at any time. */
static void what_comes_too_late_is_acted_again(void **state)
{
	(void)state;
	static const char book[] =
	    "step \"press\" { act = \"Press and release START.\", outside = true, power = \"any\", next = \"ramp\" }\n"
	    "step \"ramp\" { power = \"any\", read = { \"volts\", at = \"TP1\", within = \"10 s\" }, limits = \"1 V .. 2 V\", ok = \"good\", otherwise = \"bad\" }\n"
	    "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n";
	bench b;
	bench_open(&b, book);
	begin(&b);
	play(&b, "press: done");
	b.now_ms += 9001; /* a second goes by with every answer */
	asked(&b, "ramp");
	assert_int_equal(give(&b, HS_EVENT_ANSWER, "ramp", "1.5"), HS_NOT_TAKEN);
	assert_string_equal(b.why, "Too late: this came 10 s after press, and is to be read within 10 s of it. It is done again first.");
	refused(&b, "press/again", "1.5", "Type done once it is done again, then read at once.");
	says(&b, "Press and release START.\nToo much time went by before ramp was read: do this once more, then read at once.");
	play(&b, "press/again: done");
	b.now_ms += 9000;
	play(&b, "ramp: 1.5");
	ended_at(&b, "good");
	bench_close(&b);

	bench_open(&b, book);
	begin(&b);
	play(&b, "press: done\n!resume\npress/again: done\nramp: 0.5\n");
	ended_at(&b, "bad");
	bench_close(&b);

	bench_open(&b, book);
	begin(&b);
	play(&b, "press: done");
	b.now_ms += 60000;
	play(&b, "ramp: not read: it had gone");
	ended_at(&b, "bad");
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(answers_lead_where_they_should), cmocka_unit_test(other_words_are_refused),
	    cmocka_unit_test(asks_say_how),                   cmocka_unit_test(same_is_the_last_one),
		cmocka_unit_test(same_is_of_the_same_point),
		cmocka_unit_test(same_is_of_the_same_kind),
	    cmocka_unit_test(two_things_are_compared),        cmocka_unit_test(a_checklist_is_gone_through),
	    cmocka_unit_test(what_comes_too_late_is_acted_again),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
