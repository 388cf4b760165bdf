/* What the person sees when asked: the status line, the ask, the prompt, colour, and nothing foreign raw. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/seat/keypad.h"
#include "screen_bench.h"

static void a_reading_is_asked_with_its_hookup(void **state)
{
	(void)state;
	hs_ask ask = {.kind = HS_ASK_READ, .step = 0};
	hs_ask_words words = words_of(
	    "Level after the driver",
	    "Set G1 to 0 dBm at 145 MHz and key for at most five seconds, then read the power.\nLet it settle.",
	    "power in dBm as the instrument shows it");
	words.bare = HS_DBM;
	hs_buf_str(&words.caution, "Nothing is joined or parted while it is keyed, whatever the hurry may be today.");
	hs_buf_str(&words.hookup, "TP2 --[K12 1.45 dB]--[P10 10 dB]-- M1");
	hs_screen screen = {.width = 60, .serial = "4711", .begun_ms = 1000, .now_ms = 761000};
	expect_ask(&screen, &ask, &words,
	           "\n"
	           "unit 4711  step level-at-tp2  power secured  open: top-cover\n"
	           "Level after the driver\n"
	           "  Set G1 to 0 dBm at 145 MHz and key for at most five\n"
	           "  seconds, then read the power.\n"
	           "  Let it settle.\n"
	           "    Take care: Nothing is joined or parted while it is\n"
	           "    keyed, whatever the hurry may be today.\n"
	           "    TP2 --[K12 1.45 dB]--[P10 10 dB]-- M1\n"
	           "  wanted: power in dBm as the instrument shows it\n");
	screen.width = 100;
	expect_ask(&screen, &ask, &words,
	           "\n"
	           "unit 4711   step level-at-tp2   power secured   open: top-cover   time 0:12:40\n"
	           "Level after the driver\n"
	           "  Set G1 to 0 dBm at 145 MHz and key for at most five seconds, then read the power.\n"
	           "  Let it settle.\n"
	           "    Take care: Nothing is joined or parted while it is keyed, whatever the hurry may be today.\n"
	           "    TP2 --[K12 1.45 dB]--[P10 10 dB]-- M1\n"
	           "  wanted: power in dBm as the instrument shows it\n");
	free_words(&words);
}

static void the_status_line_says_where_controls_stand(void **state)
{
	(void)state;
	static const struct {
		const char *stands, *line;
	} rows[] = {
	    {"low", "\nunit F-0417   step level-at-tp2   power on   nothing open   set: band low\n"},
	    {NULL, "\nunit F-0417   step level-at-tp2   power on   nothing open   time 0:00:36\n"},
	    {"\x1b[2J", "\nunit F-0417   step level-at-tp2   power on   nothing open   set: band \\x1b[2J\n"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_engine engine = fake_engine();
		engine.power = HS_POWER_ON;
		engine.stands = rows[i].stands;
		hs_screen screen = {.width = 80, .serial = "F-0417", .now_ms = 36000};
		hs_ask ask = {.kind = HS_ASK_TOLD, .step = 0};
		hs_ask_words words = words_of("", "", "");
		hs_buf out;
		hs_buf_init(&out);
		hs_screen_ask(&screen, &engine, &ask, &words, &out);
		if (strncmp(out.data, rows[i].line, strlen(rows[i].line)) != 0)
			fail_msg("%s is not %s", out.data, rows[i].line);
		hs_buf_free(&out);
		free_words(&words);
	}
}

/* The status line at a width: what it leaves out first, and where it breaks when nothing else helps. */
static const struct {
	size_t width;
	const char *serial, *shorts, *zones;
	uint64_t open;
	const char *line;
} statuses[] = {
    {100, "F-0417", "", NULL, 0, "unit F-0417   step level-at-tp2   power proved dead   nothing open   time 0:00:36\n"},
    {80, "F-0417", "", NULL, 1, "unit F-0417   step level-at-tp2   power proved dead   open: top-cover\n"},
    {80, "F-0417", "C7", "primary", 1, "unit F-0417   step level-at-tp2   power proved dead (primary)   open: 2\n"},
    {80, "F-0417", "C7, C8", NULL, 3, "unit F-0417   step level-at-tp2   power proved dead   open: 4   time 0:00:36\n"},
    {100, "F-0417", "C7, C8", NULL, 3,
     "unit F-0417   step level-at-tp2   power proved dead   open: top-cover, link-f2, short C7, C8\n"},
    {100, NULL, "C7", NULL, 0, "step level-at-tp2   power proved dead   open: short C7   time 0:00:36\n"},
    {60, "F-0417", "", NULL, 3, "unit F-0417  step level-at-tp2  power proved dead  open: 2\n"},
    /* where one line will not do, two hold everything again */
    {60, "F-0417", "", "primary", 3,
     "unit F-0417  step level-at-tp2  power proved dead (primary)\nopen: top-cover, link-f2  time 0:00:36\n"},
    {60, "F-0417-of-the-second-batch", "", NULL, 0,
     "unit F-0417-of-the-second-batch  step level-at-tp2\npower proved dead  nothing open  time 0:00:36\n"},
};

static void the_status_line_never_breaks_in_a_field(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(statuses); i++) {
		hs_engine engine = fake_engine();
		engine.power = HS_POWER_DEAD;
		engine.open = statuses[i].open;
		engine.shorts = statuses[i].shorts;
		engine.zones = statuses[i].zones;
		hs_screen screen = {.width = statuses[i].width, .serial = statuses[i].serial, .now_ms = 36000};
		hs_ask ask = {.kind = HS_ASK_TOLD, .step = 0};
		hs_ask_words words = words_of("", "", "");
		hs_buf out, wanted;
		hs_buf_init(&out);
		hs_buf_init(&wanted);
		hs_buf_printf(&wanted, "\n%s", statuses[i].line);
		hs_screen_ask(&screen, &engine, &ask, &words, &out);
		expect(&out, wanted.data);
		hs_buf_free(&wanted);
		hs_buf_free(&out);
		free_words(&words);
	}
}

static const struct {
	hs_power power;
	const char *start;
} powers[] = {
    {HS_POWER_UNKNOWN, "\n\x1b[33mpower unknown\x1b[0m   "},
    {HS_POWER_KEYED, "\n\x1b[33mpower keyed\x1b[0m   "},
    {HS_POWER_ON, "\n\x1b[33mpower on\x1b[0m   "},
    {HS_POWER_STANDBY, "\n\x1b[33mpower standby\x1b[0m   "},
    {HS_POWER_OFF, "\npower off   "},
    {HS_POWER_WAITED, "\npower waited   "},
    {HS_POWER_SHORTED, "\npower shorted   "},
};

static void what_may_be_live_is_coloured(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(powers); i++) {
		hs_engine engine = fake_engine();
		engine.power = powers[i].power;
		hs_screen screen = {.width = 80, .colour = true};
		hs_ask ask = {.kind = HS_ASK_TOLD, .step = -1};
		hs_ask_words words = words_of("", "", "");
		hs_buf out;
		hs_buf_init(&out);
		hs_screen_ask(&screen, &engine, &ask, &words, &out);
		assert_int_equal(strncmp(out.data, powers[i].start, strlen(powers[i].start)), 0);
		hs_buf_free(&out);
		free_words(&words);
	}
}

/* A long hookup goes on under itself, broken before a part and nowhere else. */
static void a_wide_hookup_is_broken_between_its_parts(void **state)
{
	(void)state;
	hs_ask ask = {.kind = HS_ASK_READ, .step = -1};
	hs_ask_words words = words_of("Level", "", "power in dBm");
	hs_buf_str(&words.hookup, "TP2 --[K12 1.45 dB]--[P10 10 dB]--[A3 0.1 dB]--[K13 0.7 dB]-- M1");
	expect_ask(&narrow, &ask, &words,
	           "\n"
	           "power secured  open: top-cover  time 0:00:00\n"
	           "Level\n"
	           "    TP2 --[K12 1.45 dB]--[P10 10 dB]--[A3 0.1 dB]\n"
	           "        --[K13 0.7 dB]-- M1\n"
	           "  wanted: power in dBm\n");
	free_words(&words);
}

static void a_few_plain_words_stand_in_one_line(void **state)
{
	(void)state;
	hs_ask ask = {.kind = HS_ASK_GATE, .step = -1};
	hs_ask_words words = words_of("Gate: secured", "Where is the plug?", "hand or sight or lock");
	static const char *const choices[] = {"hand", "sight", "lock"};
	for (size_t i = 0; i < COUNT(choices); i++)
		words.choices[i].word = choices[i];
	words.choice_count = COUNT(choices);
	words.is_gate = true;
	expect_ask(&narrow, &ask, &words,
	           "\n"
	           "Gate: secured  power secured  open: top-cover\n"
	           "  Where is the plug?\n"
	           "  wanted: hand, sight or lock\n");
	hs_keypad_codes("run", 4, &words);
	for (size_t i = 0; i < COUNT(choices); i++)
		assert_int_equal(strlen(words.keys[i]), 2);
	char line[128];
	snprintf(line, sizeof line,
	         "\n"
	         "Gate: secured  power secured  open: top-cover\n"
	         "  Where is the plug?\n"
	         "  wanted: hand (%s), sight (%s) or lock (%s)\n",
	         words.keys[0], words.keys[1], words.keys[2]);
	expect_ask(&narrow, &ask, &words, line);
	free_words(&words);
}

/* What keys stand for here, or NULL. */
static const char *chosen(const hs_ask_words *words, const char *typed)
{
	static char kept[64];
	hs_buf out;
	hs_buf_init(&out);
	bool means = hs_keypad_means(words, typed, &out);
	hs_copy(kept, sizeof kept, means ? out.data : "");
	hs_buf_free(&out);
	return means ? kept : NULL;
}

static void choices_are_numbered(void **state)
{
	(void)state;
	hs_ask ask = {.kind = HS_ASK_CHOOSE, .step = 0};
	hs_ask_words words = words_of("The lamp", "How does it look?", "one of these, or its number");
	words.choices[0].word = "lit";
	words.choices[0].text = "glows steadily";
	words.choices[1].word = "flickers";
	words.choices[2].word = "a very long answer in words";
	words.choices[2].text = "as it says";
	words.choice_count = 3;
	expect_ask(&narrow, &ask, &words,
	           "\n"
	           "step level-at-tp2  power secured  open: top-cover\n"
	           "The lamp\n"
	           "  How does it look?\n"
	           "    1  lit       glows steadily\n"
	           "    2  flickers\n"
	           "    3  a very long answer in words  as it says\n"
	           "  wanted: one of these, or its number\n");
	assert_string_equal(chosen(&words, "2"), "flickers");
	static const char *const not_numbers[] = {"0", "4", "02", "lit", "", "1.0", " 1", "111"};
	for (size_t i = 0; i < COUNT(not_numbers); i++)
		assert_null(chosen(&words, not_numbers[i]));
	words.choices[1].word = "3"; /* a count: then digits are answers */
	assert_null(chosen(&words, "1"));
	free_words(&words);
}

static void a_gate_of_one_word_has_no_number(void **state)
{
	(void)state;
	hs_ask ask = {.kind = HS_ASK_GATE, .step = -1, .earliest_ms = 28700};
	hs_ask_words words = words_of("Gate: waited", "C7 holds 11.6 J.", "waited");
	words.is_gate = true;
	words.choices[0].word = "waited";
	words.choice_count = 1;
	expect_ask(&narrow, &ask, &words,
	           "\n"
	           "Gate: waited  power secured  open: top-cover\n"
	           "  C7 holds 11.6 J.\n"
	           "  wanted: waited; not before 29 s from now\n");
	assert_null(chosen(&words, "1"));
	words.is_gate = false;
	assert_string_equal(chosen(&words, "1"), "waited");
	free_words(&words);
}

/* Again, in short: heading, the line that says what to do now, choices, what is wanted; the prompt tells a wait. */
static const struct {
	hs_ask_kind kind;
	bool gate;
	const char *text, *shown;
} again[] = {
    {HS_ASK_READ, false, "Set G1 to 0 dBm.\nRead the power at TP2.\n", "Heading\n  Read the power at TP2.\n  wanted: a word\n"},
    {HS_ASK_GATE, true, "Is L-N dead?\nHands stay out.", "Heading\n  Is L-N dead?\n  wanted: a word\n"},
    {HS_ASK_SET, false, "Set band to low.", "Heading\n  Set band to low.\n  wanted: a word\n"},
    {HS_ASK_DONE, false, "A long\ntext.", "Heading\n  wanted: a word\n"},
    {HS_ASK_READ, false, "", "Heading\n  wanted: a word\n"},
};

static void an_ask_that_comes_again_is_short(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(again); i++) {
		hs_ask ask = {.kind = again[i].kind, .step = 0, .earliest_ms = 5000};
		hs_ask_words words = words_of("Heading", again[i].text, "a word");
		words.is_gate = again[i].gate;
		hs_buf_str(&words.caution, "Hot.");
		hs_buf out;
		hs_buf_init(&out);
		hs_screen_again(&narrow, &ask, &words, &out);
		expect(&out, again[i].shown);
		free_words(&words);
		words = words_of("", again[i].text, "");
		words.choices[0].word = words.choices[1].word = "lit";
		words.choices[0].text = words.choices[1].text = "glows";
		words.choice_count = 2;
		hs_buf_clear(&out);
		ask.kind = HS_ASK_CHOOSE;
		hs_screen_again(&narrow, &ask, &words, &out);
		expect(&out, "    1  lit  glows\n    2  lit  glows\n");
		hs_buf_free(&out);
		free_words(&words);
	}
}

static const struct {
	hs_unit bare;
	int64_t earliest_ms, now_ms;
	const char *prompt;
} prompts[] = {
    {HS_DBM, 0, 5000, "dBm> "},
    {HS_UNIT_COUNT, 0, 5000, "> "},
    {HS_UNITLESS, 0, 0, "> "},
    {HS_UNIT_COUNT, 28700, 0, "29 s to go> "},
    {HS_UNIT_COUNT, 28700, 28699, "1 s to go> "},
    {HS_UNIT_COUNT, 28700, 28700, "> "},
    {HS_VOLT, 300000, 48000, "4 min 12 s to go> "},
    {HS_VOLT, 300000, 0, "5 min to go> "},
    {HS_VOLT, 7380000, 0, "2 h 3 min to go> "},
    {HS_VOLT, 7200000, 0, "2 h to go> "},
};

static void prompts_tell_unit_or_wait(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(prompts); i++) {
		hs_screen screen = {.width = 80, .now_ms = prompts[i].now_ms};
		hs_ask ask = {.kind = HS_ASK_GATE, .step = -1, .earliest_ms = prompts[i].earliest_ms};
		hs_ask_words words = words_of("", "", "");
		words.bare = prompts[i].bare;
		hs_buf out;
		hs_buf_init(&out);
		hs_screen_prompt(&screen, &ask, &words, &out);
		expect(&out, prompts[i].prompt);
		hs_buf_free(&out);
		free_words(&words);
	}
}

static void help_why_and_overview(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	engine.why = "Level (level-at-tp2)\n  as read      -31.4 dBm\n  uncertainty  M1 accuracy 0.2 / 1.73, K12 loss "
	             "0.2 / 1.73; u = 0.21\n";
	engine.overview = "Still open\n  Q3 final\n";
	hs_buf out;
	hs_buf_init(&out);
	hs_screen_why(&narrow, &engine, &out);
	expect(&out, "  Level (level-at-tp2)\n"
	             "    as read      -31.4 dBm\n"
	             "    uncertainty  M1 accuracy 0.2 / 1.73, K12 loss 0.2 /\n"
	             "                 1.73; u = 0.21\n");
	hs_buf_clear(&out);
	hs_screen_overview(&narrow, &engine, &out);
	expect(&out, "  Still open\n    Q3 final\n");
	hs_buf_clear(&out);
	hs_ask_words words = words_of("Level", "Read it.", "power in dBm");
	hs_screen wide = {.width = 110};
	hs_screen_help(&wide, &words, &out);
	expect(&out, "  Read it.\n"
	             "  Wanted here: power in dBm\n"
	             "  On a keypad: /1 help, /2 why, /3 show, /4 redo, /5 pause, /6 leave, /7 large type, /0 stop.\n"
	             "  Always: why (the arithmetic of the last reading), show (what is known so far), note TEXT, redo "
	             "(take back\n"
	             "          the last reading or observation), pause, leave (to a safe state), handover NAME "
	             "(somebody else goes\n"
	             "          on), stop (smoke, smell, shock, arcing: cut the power first, type later).\n");
	hs_buf_free(&out);
	free_words(&words);
}

/* ---- colour ---- */

static void colour_only_adds(void **state)
{
	(void)state;
	hs_ask ask = {.kind = HS_ASK_CHOOSE, .step = 0};
	hs_ask_words words = words_of("The lamp", "How does it look?", "done");
	hs_buf_str(&words.caution, "It is hot.");
	hs_screen colour = {.width = 60, .colour = true};
	expect_ask(&colour, &ask, &words,
	           "\n"
	           "\x1b[2mstep level-at-tp2\x1b[0m  power secured  open: top-cover\n"
	           "\x1b[1mThe lamp\x1b[0m\n"
	           "  How does it look?\n"
	           "\x1b[33m    Take care: It is hot.\x1b[0m\n"
	           "  wanted: done\n");
	words.is_gate = true;
	expect_ask(&colour, &ask, &words,
	           "\n"
	           "\x1b[1mThe lamp\x1b[0m  \x1b[2mstep level-at-tp2\x1b[0m  power secured  open: top-cover\n"
	           "  How does it look?\n"
	           "\x1b[33m    Take care: It is hot.\x1b[0m\n"
	           "  wanted: done\n");
	free_words(&words);
}

static const struct {
	const char *no_color, *term;
	bool wanted;
} environments[] = {
    {NULL, "xterm", true}, {"", "xterm", true}, {"1", "xterm", false},
    {NULL, "dumb", false}, {NULL, "", false},   {NULL, NULL, false},
};

static void set_or_not(const char *name, const char *value)
{
	if (value)
		setenv(name, value, 1);
	else
		unsetenv(name);
}

static void colour_follows_the_environment(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(environments); i++) {
		set_or_not("NO_COLOR", environments[i].no_color);
		set_or_not("TERM", environments[i].term);
		assert_int_equal(hs_screen_wants_colour(), environments[i].wanted);
	}
}

/* ---- hostile text ---- */

static void hostile_asks_are_tame(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	engine.open = 1;
	engine.why = engine.overview = EVIL;
	hs_ask ask = {.kind = HS_ASK_CHOOSE, .step = 0};
	hs_ask_words words = words_of(EVIL, EVIL, EVIL);
	hs_buf_str(&words.caution, EVIL);
	hs_buf_str(&words.hookup, EVIL);
	hs_buf_str(&words.help, EVIL);
	words.choices[0].word = words.choices[0].text = words.choices[1].word = EVIL;
	words.choice_count = 2;
	hs_screen screen = {.width = 60, .serial = EVIL};
	hs_buf out;
	hs_buf_init(&out);
	hs_screen_ask(&screen, &engine, &ask, &words, &out);
	assert_tame(&out);
	hs_buf_clear(&out);
	hs_screen_help(&screen, &words, &out);
	assert_tame(&out);
	hs_buf_clear(&out);
	hs_screen_again(&screen, &ask, &words, &out);
	assert_tame(&out);
	hs_buf_clear(&out);
	hs_screen_why(&screen, &engine, &out);
	assert_tame(&out);
	hs_buf_clear(&out);
	hs_screen_overview(&screen, &engine, &out);
	assert_tame(&out);
	hs_buf_free(&out);
	free_words(&words);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_reading_is_asked_with_its_hookup),
	    cmocka_unit_test(the_status_line_never_breaks_in_a_field),
	    cmocka_unit_test(the_status_line_says_where_controls_stand),
	    cmocka_unit_test(what_may_be_live_is_coloured),
	    cmocka_unit_test(a_wide_hookup_is_broken_between_its_parts),
	    cmocka_unit_test(a_few_plain_words_stand_in_one_line),
	    cmocka_unit_test(choices_are_numbered),
	    cmocka_unit_test(a_gate_of_one_word_has_no_number),
	    cmocka_unit_test(an_ask_that_comes_again_is_short),
	    cmocka_unit_test(prompts_tell_unit_or_wait),
	    cmocka_unit_test(help_why_and_overview),
	    cmocka_unit_test(colour_only_adds),
	    cmocka_unit_test(colour_follows_the_environment),
	    cmocka_unit_test(hostile_asks_are_tame),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
