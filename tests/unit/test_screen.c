/* What the person sees: exact words at several widths, and that nothing foreign reaches the terminal raw. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/seat/screen.h"
#include "fake_engine.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const hs_screen narrow = {.width = 60};

static void expect(const hs_buf *out, const char *text)
{
	assert_string_equal(out->data, text);
}

/* One fact at a width. */
static void shown(const hs_screen *screen, const hs_engine *engine, hs_fact fact, const char *text)
{
	hs_buf out;
	hs_buf_init(&out);
	hs_screen_facts(screen, engine, &fact, 1, &out);
	expect(&out, text);
	hs_buf_free(&out);
}

static hs_fact fact_of(hs_fact_kind kind)
{
	return (hs_fact){.kind = kind, .step = -1, .to = -1, .item = -1};
}

/* ---- measures ---- */

static const hs_part k12 = {.id = "K12"}, p10 = {.id = "P10"}, pr1 = {.id = "PR1"};

static hs_measure power_measure(void)
{
	hs_measure m = {0};
	m.entry = (hs_entry){.kind = HS_ENTRY_NUMBER, .quantity = {-31.4, HS_DBM}, .step = 0.1};
	m.correction.lines[0] = (hs_correction_line){.part = &k12, .db = 1.45, .factor = 1};
	m.correction.lines[1] = (hs_correction_line){.part = &p10, .db = 10, .factor = 1};
	m.correction.count = 2;
	m.corrected = (hs_quantity){-19.95, HS_DBM};
	m.expanded = 0.4183;
	m.judged = true;
	m.limits = (hs_limits){.has_low = true, .has_high = true, .low = -21, .high = -19, .unit = HS_DBM};
	m.verdict.outcome = HS_OKAY;
	return m;
}

static void corrected_is_one_line_of_arithmetic(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	hs_measure m = power_measure();
	hs_fact fact = fact_of(HS_SAYS_CORRECTED);
	fact.measure = &m;
	fact.reading = &fake_readings[0];
	shown(&narrow, &engine, fact,
	      "  read -31.4 dBm  + K12 1.45 dB + P10 10 dB = -19.95 dBm at\n    TP2, U 0.42 dB\n");
	hs_screen wide = {.width = 100};
	shown(&wide, &engine, fact, "  read -31.4 dBm  + K12 1.45 dB + P10 10 dB = -19.95 dBm at TP2, U 0.42 dB\n");
}

static void a_gain_in_the_hookup_is_taken_off(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	hs_measure m = power_measure();
	m.correction.count = 1;
	m.correction.lines[0].db = -15;
	m.corrected.value = -46.4;
	hs_fact fact = fact_of(HS_SAYS_CORRECTED);
	fact.measure = &m;
	fact.reading = &fake_readings[0];
	shown(&narrow, &engine, fact, "  read -31.4 dBm  - K12 15 dB = -46.4 dBm at TP2, U 0.42 dB\n");
}

static void a_divider_multiplies(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	hs_measure m = {0};
	m.entry = (hs_entry){.kind = HS_ENTRY_NUMBER, .quantity = {1.2, HS_VOLT}, .step = 0.1};
	m.correction.lines[0] = (hs_correction_line){.part = &pr1, .factor = 10};
	m.correction.count = 1;
	m.corrected = (hs_quantity){12, HS_VOLT};
	hs_fact fact = fact_of(HS_SAYS_CORRECTED);
	fact.measure = &m;
	fact.reading = &fake_readings[1];
	shown(&narrow, &engine, fact, "  read 1.2 V  x 10 PR1 = 12 V at TP3 to chassis\n");
}

static const struct {
	hs_entry entry;
	const char *text;
} entries[] = {
    {{.kind = HS_ENTRY_ABOVE, .quantity = {20e6, HS_OHM}}, "  read > 20 Mohm at TP2\n"},
    {{.kind = HS_ENTRY_BELOW, .quantity = {1e-3, HS_VOLT}}, "  read < 1 mV at TP2\n"},
    {{.kind = HS_ENTRY_OVER}, "  read over the range at TP2\n"},
    {{.kind = HS_ENTRY_OPEN}, "  read open at TP2\n"},
    {{.kind = HS_ENTRY_UNREAD}, "  not read at TP2\n"},
    {{.kind = HS_ENTRY_UNREAD, .reason = "clip\x1b[2J fell off"}, "  not read at TP2: clip\\x1b[2J fell off\n"},
};

static void entries_that_are_no_numbers(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	for (size_t i = 0; i < COUNT(entries); i++) {
		hs_measure m = {.entry = entries[i].entry, .corrected = entries[i].entry.quantity};
		hs_fact fact = fact_of(HS_SAYS_CORRECTED);
		fact.measure = &m;
		fact.reading = &fake_readings[0];
		shown(&narrow, &engine, fact, entries[i].text);
	}
}

static const struct {
	hs_outcome outcome;
	hs_verdict verdict;
	const char *words;
} verdicts[] = {
    {HS_OKAY, {.outcome = HS_OKAY}, "  ok: a healthy unit shows -21 dBm to -19 dBm\n"},
    {HS_LOW, {.outcome = HS_LOW}, "  low: a healthy unit shows -21 dBm to -19 dBm\n"},
    {HS_HIGH, {.outcome = HS_HIGH}, "  high: a healthy unit shows -21 dBm to -19 dBm\n"},
    {HS_UNSURE,
     {.outcome = HS_UNSURE, .near_high = true, .probability = 0.23},
     "  unsure: a healthy unit shows -21 dBm to -19 dBm; inside the high limit, but by less than the uncertainty: 23\n "
     "   "
     "% chance that the true value is above it\n"},
    {HS_UNSURE,
     {.outcome = HS_UNSURE, .beyond = true, .probability = 0.8},
     "  unsure: a healthy unit shows -21 dBm to -19 dBm; below the low limit, but by less than the uncertainty: 80 %\n "
     "   "
     "chance that the true value is below it\n"},
};

/* The drawing itself is hs_scale_draw's; here it must stand under the words, whole. */
static void verdicts_are_words_beside_a_scale(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	for (size_t i = 0; i < COUNT(verdicts); i++) {
		hs_measure m = power_measure();
		m.verdict = verdicts[i].verdict;
		hs_fact fact = fact_of(HS_SAYS_JUDGED);
		fact.measure = &m;
		fact.outcome = verdicts[i].outcome;
		hs_buf wanted;
		hs_buf_init(&wanted);
		hs_buf_str(&wanted, verdicts[i].words);
		hs_scale_draw(&m.limits, m.corrected.value, m.expanded, 72, &wanted);
		hs_buf_char(&wanted, '\n');
		hs_screen widest = {.width = 500};
		shown(&widest, &engine, fact, wanted.data);
		hs_buf_free(&wanted);
	}
}

static void noted_and_unread_draw_nothing(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	hs_measure m = power_measure();
	hs_fact fact = fact_of(HS_SAYS_JUDGED);
	fact.measure = &m;
	m.judged = false;
	shown(&narrow, &engine, fact, "  noted, without limits\n");
	m.judged = true;
	m.entry.kind = HS_ENTRY_UNREAD;
	fact.outcome = HS_UNREAD;
	shown(&narrow, &engine, fact, "");
}

static void a_difference_is_named_by_its_readings(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	hs_measure m = power_measure();
	m.derived = HS_DERIVE_DIFFERENCE;
	m.corrected = (hs_quantity){14.05, HS_DB};
	m.judged = false;
	hs_fact fact = fact_of(HS_SAYS_JUDGED);
	fact.measure = &m;
	fact.step = 1;
	shown(&narrow, &engine, fact, "  out less in = 14.05 dB, U 0.42 dB\n  noted, without limits\n");
}

/* ---- the way ---- */

static void a_move_says_where_and_why_and_who_is_left(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	static const int clears[] = {0, 1}, implicates[] = {2};
	hs_branch branch = {.clears = clears, .clear_count = 2, .implicates = implicates, .implicate_count = 1};
	engine.standing[0] = engine.standing[1] = HS_SUSPECT_CLEARED;
	engine.standing[2] = HS_SUSPECT_IMPLICATED;
	hs_fact fact = fact_of(HS_SAYS_MOVED);
	fact.step = 0;
	fact.to = 1;
	fact.has_outcome = true;
	fact.outcome = HS_LOW;
	fact.branch = &branch;
	shown(&narrow, &engine, fact,
	      "  low, so next: gain-of-a1 (Gain of the driver)\n"
	      "  cleared: a1 (A1 driver), psu\n"
	      "  implicated: q3 (Q3 final)\n"
	      "  1 of 4 suspects still open: coax\n");
}

static const struct {
	const char *word;
	int to;
	const char *text;
} moves[] = {
    {"lit", 1, "  lit, so next: gain-of-a1 (Gain of the driver)\n"},
    {"done", 1, "  next: gain-of-a1 (Gain of the driver)\n"},
    {"gain-of-a1", 1, "  next: gain-of-a1 (Gain of the driver)\n"},
    {"reused", 2, "  reused, so the search ends: q3-dead (The final transistor)\n"},
    {NULL, 1, "  next: gain-of-a1 (Gain of the driver)\n"},
    {"lit", -1, ""},
};

static void moves_name_their_reason(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	for (size_t i = 0; i < COUNT(moves); i++) {
		hs_fact fact = fact_of(HS_SAYS_MOVED);
		fact.to = moves[i].to;
		fact.word = moves[i].word;
		shown(&narrow, &engine, fact, moves[i].text);
	}
}

static void a_finding_is_a_page(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	engine.standing[0] = HS_SUSPECT_CLEARED;
	engine.by[0] = 0;
	engine.standing[2] = HS_SUSPECT_IMPLICATED;
	engine.by[2] = 1;
	hs_fact facts[] = {fact_of(HS_SAYS_MOVED), fact_of(HS_SAYS_FINDING)};
	static const int clears[] = {0};
	hs_branch branch = {.clears = clears, .clear_count = 1};
	facts[0].to = 2;
	facts[0].branch = &branch;
	facts[1].step = 2;
	hs_buf out;
	hs_buf_init(&out);
	hs_screen_facts(&narrow, &engine, facts, 2, &out);
	expect(&out, "  the search ends: q3-dead (The final transistor)\n"
	             "  cleared: a1 (A1 driver)\n"
	             "\n"
	             "Finding: The final transistor\n"
	             "  The suspect:\n"
	             "    q3 (Q3 final): dead, low gain\n"
	             "      implicated at gain-of-a1 (Gain of the driver)\n"
	             "  Cleared: a1 (level-at-tp2)\n"
	             "  Neither cleared nor implicated: psu, coax\n"
	             "  Proof: Swap Q3 and read J2 again: 50 W within 1 dB is\n"
	             "         proof.\n"
	             "  Not tested: the output filter\n"
	             "  To do: Order Q3 with its thermal pad.\n");
	hs_buf_free(&out);
}

static void a_finding_not_separated(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	hs_fact fact = fact_of(HS_SAYS_FINDING);
	fact.step = 3;
	shown(&narrow, &engine, fact,
	      "\n"
	      "Finding: either-or\n"
	      "  Not separated; one of these, or more than one:\n"
	      "    a1 (A1 driver)\n"
	      "    coax\n"
	      "  Neither cleared nor implicated: a1, psu, q3, coax\n");
}

/* ---- single facts ---- */

static void facts_in_plain_words(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	engine.open = 1;
	hs_fact fact = fact_of(HS_SAYS_ASKED);
	shown(&narrow, &engine, fact, "");
	fact = fact_of(HS_SAYS_ANSWERED);
	fact.accepted = true;
	shown(&narrow, &engine, fact, "");
	fact.accepted = false;
	fact.why = "\"5 V\" is a voltage; a power is wanted.";
	shown(&narrow, &engine, fact, "  \"5 V\" is a voltage; a power is wanted.\n");
	fact = fact_of(HS_SAYS_GATE);
	fact.before = HS_POWER_SECURED;
	fact.after = HS_POWER_WAITED;
	shown(&narrow, &engine, fact, "  power is now waited (was secured)\n");
	fact.after = HS_POWER_UNKNOWN;
	fact.why = "L to N shows 230 V: the unit is live.";
	shown(&narrow, &engine, fact,
	      "  L to N shows 230 V: the unit is live.\n  power is now unknown (was secured)\n");
	fact = fact_of(HS_SAYS_OPENED);
	fact.item = 0;
	shown(&narrow, &engine, fact, "  on the open list: top-cover (Top cover): cover, 8 x M3 pan\n");
	fact.kind = HS_SAYS_CLOSED_UP;
	shown(&narrow, &engine, fact,
	      "  off the open list: top-cover (Top cover): cover, 8 x M3\n                     pan, 0.6 N m\n");
	fact = fact_of(HS_SAYS_NOTED);
	fact.text = "smells hot";
	shown(&narrow, &engine, fact, "  noted: smells hot\n");
	fact = fact_of(HS_SAYS_REDONE);
	fact.ask_id = "level-at-tp2";
	shown(&narrow, &engine, fact, "  taken back: level-at-tp2\n");
	fact = fact_of(HS_SAYS_SET_ASIDE);
	fact.ask_id = "lamp";
	fact.text = "lit";
	shown(&narrow, &engine, fact, "  set aside: lamp: lit\n");
	fact = fact_of(HS_SAYS_WARNED);
	fact.why = "M1 was due on 2026-03-31.";
	shown(&narrow, &engine, fact, "  Mind: M1 was due on 2026-03-31.\n");
	fact = fact_of(HS_SAYS_PAUSED);
	fact.why = "leave";
	fact.text = "going home";
	shown(
	    &narrow, &engine, fact,
	    "  paused after leave: going home\n  power secured\n  Still to be undone:\n    top-cover (Top cover): cover\n");
	engine.open = 0;
	fact.why = "pause";
	fact.text = "";
	shown(&narrow, &engine, fact, "  paused\n  power secured\n  nothing is on the open list\n");
	fact = fact_of(HS_SAYS_GATE);
	fact.before = HS_POWER_ON;
	fact.why = "stop";
	shown(&narrow, &engine, fact,
	      "  Stop. Cut the power first, at the plug if you can reach it\n  safely; type later.\n  power is now "
	      "unknown (was on)\n");
	fact.why = "long break";
	shown(&narrow, &engine, fact,
	      "  After so long a break nothing is trusted about the power;\n  it is confirmed anew.\n  power is now "
	      "unknown (was on)\n");
	fact = fact_of(HS_SAYS_ENDED);
	fact.why = "at a finding";
	shown(&narrow, &engine, fact, "  the run is closed: at a finding\n");
}

/* ---- the ask ---- */

static hs_ask_words words_of(const char *heading, const char *text, const char *wanted)
{
	hs_ask_words words = {.bare = HS_UNIT_COUNT};
	hs_buf *all[] = {&words.heading, &words.text, &words.caution, &words.hookup, &words.wanted, &words.help};
	for (size_t i = 0; i < COUNT(all); i++)
		hs_buf_init(all[i]);
	hs_buf_str(&words.heading, heading);
	hs_buf_str(&words.text, text);
	hs_buf_str(&words.wanted, wanted);
	return words;
}

static void free_words(hs_ask_words *words)
{
	hs_buf *all[] = {&words->heading, &words->text, &words->caution, &words->hookup, &words->wanted, &words->help};
	for (size_t i = 0; i < COUNT(all); i++)
		hs_buf_free(all[i]);
}

static void expect_ask(const hs_screen *screen, const hs_ask *ask, const hs_ask_words *words, const char *text)
{
	hs_engine engine = fake_engine();
	engine.open = 1;
	hs_buf out;
	hs_buf_init(&out);
	hs_screen_ask(screen, &engine, ask, words, &out);
	expect(&out, text);
	hs_buf_free(&out);
}

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
	           "unit 4711   step level-at-tp2   power secured   open:\n"
	           "top-cover   time 0:12:40\n"
	           "Level after the driver\n"
	           "  Set G1 to 0 dBm at 145 MHz and key for at most five\n"
	           "  seconds, then read the power.\n"
	           "  Let it settle.\n"
	           "\n"
	           "    Take care: Nothing is joined or parted while it is\n"
	           "               keyed, whatever the hurry may be today.\n"
	           "\n"
	           "    TP2 --[K12 1.45 dB]--[P10 10 dB]-- M1\n"
	           "  wanted: power in dBm as the instrument shows it\n");
	screen.width = 100;
	expect_ask(&screen, &ask, &words,
	           "\n"
	           "unit 4711   step level-at-tp2   power secured   open: top-cover   time 0:12:40\n"
	           "Level after the driver\n"
	           "  Set G1 to 0 dBm at 145 MHz and key for at most five seconds, then read the power.\n"
	           "  Let it settle.\n"
	           "\n"
	           "    Take care: Nothing is joined or parted while it is keyed, whatever the hurry may be today.\n"
	           "\n"
	           "    TP2 --[K12 1.45 dB]--[P10 10 dB]-- M1\n"
	           "  wanted: power in dBm as the instrument shows it\n");
	free_words(&words);
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
	           "step level-at-tp2   power secured   open: top-cover   time\n"
	           "0:00:00\n"
	           "The lamp\n"
	           "  How does it look?\n"
	           "    1  lit       glows steadily\n"
	           "    2  flickers\n"
	           "    3  a very long answer in words  as it says\n"
	           "  wanted: one of these, or its number\n");
	assert_string_equal(hs_screen_chosen(&words, "2"), "flickers");
	static const char *const not_numbers[] = {"0", "4", "02", "lit", "", "1.0", " 1", "111"};
	for (size_t i = 0; i < COUNT(not_numbers); i++)
		assert_null(hs_screen_chosen(&words, not_numbers[i]));
	words.choices[1].word = "3"; /* a count: then digits are answers */
	assert_null(hs_screen_chosen(&words, "1"));
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
	           "power secured   open: top-cover   time 0:00:00\n"
	           "Gate: waited\n"
	           "  C7 holds 11.6 J.\n"
	           "  wanted: waited; not before 29 s from now\n");
	assert_null(hs_screen_chosen(&words, "1"));
	words.is_gate = false;
	assert_string_equal(hs_screen_chosen(&words, "1"), "waited");
	free_words(&words);
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
    {HS_VOLT, 7380000, 0, "2 h 3 min to go> "},
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
	             "  Always: why (the arithmetic of the last reading), show (what is known so far), note TEXT, redo "
	             "(take back\n"
	             "          the last reading or observation), pause, leave (to a safe state), stop (smoke, smell, "
	             "shock, arcing:\n"
	             "          cut the power first, type later).\n");
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
	           "\x1b[2mstep level-at-tp2   power secured   open: top-cover   time\x1b[0m\n"
	           "\x1b[2m0:00:00\x1b[0m\n"
	           "\x1b[1mThe lamp\x1b[0m\n"
	           "  How does it look?\n"
	           "\n"
	           "\x1b[33m    Take care: It is hot.\x1b[0m\n"
	           "\n"
	           "\x1b[2m  wanted: done\x1b[0m\n");
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

#define EVIL                                                                                                           \
	"a\x1b[31mb\rc\x07\xE2\x80\xAE"                                                                                \
	"d\xC2\x9B"                                                                                                    \
	"e\xFF\x7F"                                                                                                    \
	"f\x08"

static void assert_tame(const hs_buf *out)
{
	for (size_t i = 0; i < out->length; i++) {
		unsigned char c = (unsigned char)out->data[i];
		assert_true(c == '\n' || (c >= 0x20 && c != 0x7F));
	}
	assert_null(strstr(out->data, "\xE2\x80\xAE"));
	assert_null(strstr(out->data, "\xC2\x9B"));
	assert_true(hs_utf8_valid(out->data, out->length));
	assert_non_null(strstr(out->data, "\\x1b[31m"));
	assert_non_null(strstr(out->data, "\\u202e"));
}

static void hostile_facts_are_tame(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	fake_make_evil(EVIL);
	hs_measure m = power_measure();
	hs_part part = {.id = EVIL};
	m.correction.lines[0].part = &part;
	m.derived = HS_DERIVE_DIFFERENCE;
	hs_copy(m.entry.reason, sizeof m.entry.reason, EVIL);
	engine.open = 1;
	static const int clears[] = {0};
	hs_branch branch = {.clears = clears, .clear_count = 1, .implicates = clears, .implicate_count = 1};
	for (int kind = HS_SAYS_ANSWERED; kind < HS_FACT_KINDS; kind++) {
		hs_fact fact = {.kind = (hs_fact_kind)kind,
		                .step = 1,
		                .to = 1,
		                .item = 0,
		                .ask_id = EVIL,
		                .text = EVIL,
		                .why = EVIL,
		                .word = EVIL,
		                .branch = &branch,
		                .measure = &m,
		                .reading = &fake_readings[0]};
		if (kind == HS_SAYS_FINDING)
			fact.step = 2;
		if (kind == HS_SAYS_RESUMED)
			continue; /* our own words only */
		hs_buf out;
		hs_buf_init(&out);
		hs_screen_facts(&narrow, &engine, &fact, 1, &out);
		assert_tame(&out);
		hs_buf_free(&out);
	}
	fake_make_good();
}

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
	hs_screen_why(&screen, &engine, &out);
	assert_tame(&out);
	hs_buf_clear(&out);
	hs_screen_overview(&screen, &engine, &out);
	assert_tame(&out);
	hs_buf_free(&out);
	free_words(&words);
}

/* A newline in what is one line by nature forges nothing; in an instruction it stays indented. */
static void newlines_forge_no_line(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	hs_fact fact = fact_of(HS_SAYS_NOTED);
	fact.text = "fine\n  ok: a healthy unit shows 5 V";
	shown(&narrow, &engine, fact, "  noted: fine\\n  ok: a healthy unit shows 5 V\n");
	hs_ask ask = {.kind = HS_ASK_DONE, .step = -1};
	hs_ask_words words = words_of("One\ntwo", "Do this.\npower shorted\n\nThen that.", "done\nnow");
	expect_ask(&narrow, &ask, &words,
	           "\n"
	           "power secured   open: top-cover   time 0:00:00\n"
	           "One\\ntwo\n"
	           "  Do this.\n"
	           "  power shorted\n"
	           "\n"
	           "  Then that.\n"
	           "  wanted: done\\nnow\n");
	free_words(&words);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(corrected_is_one_line_of_arithmetic),
	    cmocka_unit_test(a_gain_in_the_hookup_is_taken_off),
	    cmocka_unit_test(a_divider_multiplies),
	    cmocka_unit_test(entries_that_are_no_numbers),
	    cmocka_unit_test(verdicts_are_words_beside_a_scale),
	    cmocka_unit_test(noted_and_unread_draw_nothing),
	    cmocka_unit_test(a_difference_is_named_by_its_readings),
	    cmocka_unit_test(a_move_says_where_and_why_and_who_is_left),
	    cmocka_unit_test(moves_name_their_reason),
	    cmocka_unit_test(a_finding_is_a_page),
	    cmocka_unit_test(a_finding_not_separated),
	    cmocka_unit_test(facts_in_plain_words),
	    cmocka_unit_test(a_reading_is_asked_with_its_hookup),
	    cmocka_unit_test(choices_are_numbered),
	    cmocka_unit_test(a_gate_of_one_word_has_no_number),
	    cmocka_unit_test(prompts_tell_unit_or_wait),
	    cmocka_unit_test(help_why_and_overview),
	    cmocka_unit_test(colour_only_adds),
	    cmocka_unit_test(colour_follows_the_environment),
	    cmocka_unit_test(hostile_facts_are_tame),
	    cmocka_unit_test(hostile_asks_are_tame),
	    cmocka_unit_test(newlines_forge_no_line),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
