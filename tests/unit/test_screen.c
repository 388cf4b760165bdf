/* What the person sees of what was taken: exact words at several widths, and nothing foreign raw. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>
#include "screen_bench.h"

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
	shown(&narrow, &engine, fact, "  read 1.2 V  x 10 PR1 = 12 V at TP3 against chassis\n");
}

/* Value and uncertainty stand behind the prefix of the limits. */
static const struct {
	double value, expanded;
	hs_limits limits;
	const char *text;
} figures[] = {
    {0.54, 0.00123, {true, true, 0.4, 0.8, HS_VOLT, false}, "  read 0.54 V at TP2, U 0.0012 V\n"},
    {0.02, 0.006227, {true, true, 39.6, 40.4, HS_VOLT, false}, "  read 0.02 V at TP2, U 0.0062 V\n"},
    {21.8, 0.2514, {false, true, 0, 25, HS_OHM, false}, "  read 21.8 ohm at TP2, U 0.25 ohm\n"},
    {0.7, 0.056, {false, true, 0, 0.5, HS_OHM, false}, "  read 0.7 ohm at TP2, U 0.056 ohm\n"},
    {0.0021, 0.000217, {true, true, 0, 0.005, HS_VOLT, false}, "  read 2.1 mV at TP2, U 0.22 mV\n"},
    {950, 12.2, {true, true, 900, 1100, HS_OHM, false}, "  read 0.95 kohm at TP2, U 0.012 kohm\n"},
    {55.8, 0.088, {true, true, 0, 0.005, HS_VOLT, false}, "  read 55.8 V at TP2, U 88 mV\n"},
};

static void figures_share_the_prefix_of_the_limits(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	for (size_t i = 0; i < COUNT(figures); i++) {
		hs_quantity value = {figures[i].value, figures[i].limits.unit};
		hs_measure m = {.entry = {.kind = HS_ENTRY_NUMBER, .quantity = value},
		                .corrected = value,
		                .expanded = figures[i].expanded,
		                .judged = true,
		                .limits = figures[i].limits};
		hs_fact fact = fact_of(HS_SAYS_CORRECTED);
		fact.measure = &m;
		fact.reading = &fake_readings[0];
		shown(&narrow, &engine, fact, figures[i].text);
	}
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

/* "yes" is a word and has no place on a scale. */
static void a_word_draws_no_scale(void **state)
{
	(void)state;
	static const struct {
		hs_measurand reads;
		double value;
		const char *corrected;
	} rows[] = {{HS_READS_TICK, 1, "  read yes\n"},      {HS_READS_TICK, 0, "  read no\n"},      {HS_READS_TREND, 1, "  read rising\n"},
	            {HS_READS_TREND, 0, "  read steady\n"}, {HS_READS_TREND, -1, "  read falling\n"}};
	hs_engine engine = fake_engine();
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_reading reading = {.reads = rows[i].reads};
		hs_measure m = {.entry = {.kind = HS_ENTRY_NUMBER, .quantity = {rows[i].value, HS_UNITLESS}}, .judged = true,
		                .corrected = {rows[i].value, HS_UNITLESS}, .limits = {.has_low = true, .low = 1}};
		hs_fact fact = fact_of(HS_SAYS_CORRECTED);
		fact.measure = &m;
		fact.reading = &reading;
		shown(&narrow, &engine, fact, rows[i].corrected);
		fact.kind = HS_SAYS_JUDGED;
		fact.outcome = HS_OKAY;
		shown(&narrow, &engine, fact, "  ok\n");
	}
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

/* More than three: the ids alone. */
static void many_suspects_have_no_titles(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	static const int clears[] = {0, 1, 2, 3};
	hs_branch branch = {.clears = clears, .clear_count = 4};
	for (size_t i = 0; i < FAKE_SUSPECTS; i++)
		engine.standing[i] = HS_SUSPECT_CLEARED;
	hs_fact fact = fact_of(HS_SAYS_MOVED);
	fact.to = 1;
	fact.branch = &branch;
	shown(&narrow, &engine, fact,
	      "  next: gain-of-a1 (Gain of the driver)\n"
	      "  cleared: a1, psu, q3, coax\n"
	      "  0 of 4 suspects still open\n");
}

static void a_finding_groups_what_one_step_settled(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	engine.standing[0] = engine.standing[1] = engine.standing[3] = HS_SUSPECT_CLEARED;
	engine.by[0] = engine.by[3] = 0;
	engine.by[1] = 1;
	hs_fact fact = fact_of(HS_SAYS_FINDING);
	fact.step = 3;
	shown(&narrow, &engine, fact,
	      "\n"
	      "Finding: either-or\n"
	      "  Not separated; one of these, or more than one:\n"
	      "    a1 (A1 driver)\n"
	      "    coax\n"
	      "  Cleared: a1, coax (level-at-tp2); psu (gain-of-a1)\n"
	      "  Neither cleared nor implicated: q3\n");
}

/* A run never ends without saying how the unit stands there. */
static void the_end_tells_what_is_left(void **state)
{
	(void)state;
	hs_engine engine = fake_engine();
	engine.power = HS_POWER_SHORTED;
	engine.zones = "primary";
	engine.open = 3;
	engine.shorts = "C7, C8";
	engine.joined = "clip leads at C7, attached inside";
	engine.turned = "BAND stood unknown at the start; it now stands at high";
	static const char left[] = "  power: shorted (primary)\n"
	                           "  Still to be undone:\n"
	                           "    top-cover (Top cover): off\n"
	                           "    link-f2: link fitted\n"
	                           "    C7: short fitted\n"
	                           "    C8: short fitted\n"
	                           "    still joined: clip leads at C7, attached inside\n"
	                           "    BAND stood unknown at the start; it now stands at high\n";
	hs_buf wanted;
	hs_buf_init(&wanted);
	hs_buf_printf(&wanted, "\nThe run is closed\n%s", left);
	hs_fact fact = fact_of(HS_SAYS_ENDED);
	fact.why = "finding";
	shown(&narrow, &engine, fact, wanted.data);
	hs_buf_clear(&wanted);
	hs_buf_printf(&wanted, "  Paused after stop.\n%s", left);
	fact = fact_of(HS_SAYS_PAUSED);
	fact.why = "stop";
	shown(&narrow, &engine, fact, wanted.data);
	hs_buf_free(&wanted);
	fact = fact_of(HS_SAYS_GATE);
	fact.before = HS_POWER_WAITED;
	fact.after = HS_POWER_SHORTED;
	shown(&narrow, &engine, fact, "  power: shorted (primary), was waited\n");
	fact.after = HS_POWER_DEAD; /* passed on the way: its name only */
	shown(&narrow, &engine, fact, "  power: proved dead, was waited\n");
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
	shown(&narrow, &engine, fact, "  power: waited, was secured\n");
	fact.after = HS_POWER_UNKNOWN;
	fact.why = "L to N shows 230 V: the unit is live.";
	shown(&narrow, &engine, fact, "  L to N shows 230 V: the unit is live.\n  power: unknown, was secured\n");
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
	shown(&narrow, &engine, fact,
	      "  Paused after leave: going home\n  power: secured\n  Still to be undone:\n    top-cover (Top cover): "
	      "off\n");
	engine.open = 0;
	fact.why = "pause";
	fact.text = "";
	shown(&narrow, &engine, fact, "  Paused.\n  power: secured\n  Nothing is on the open list.\n");
	static const hs_power live[] = {HS_POWER_ON, HS_POWER_STANDBY, HS_POWER_KEYED};
	for (size_t i = 0; i < COUNT(live); i++) {
		char wanted[200];
		engine.power = live[i];
		snprintf(wanted, sizeof wanted, "  Paused.\n  The unit is still on: switch it off before you go.\n  power: %s\n  Nothing is on the open list.\n",
		         hs_power_name(live[i]));
		shown(&narrow, &engine, fact, wanted);
	}
	engine.power = HS_POWER_UNKNOWN;
	shown(&narrow, &engine, fact, "  Paused.\n  power: unknown\n  Nothing is on the open list.\n");
	engine.left_on = true;
	shown(&narrow, &engine, fact,
	      "  Paused.\n  The unit may still be on: switch it off before you go.\n  power: unknown\n  Nothing is on the open list.\n");
	engine.power = HS_POWER_SECURED;
	fact = fact_of(HS_SAYS_GATE);
	fact.before = HS_POWER_ON;
	fact.why = "stop";
	shown(&narrow, &engine, fact,
	      "  Stop. Cut the power first, at the plug if you can reach it\n  safely; type later.\n  power: "
	      "unknown, was on\n");
	fact.why = "long break";
	shown(&narrow, &engine, fact,
	      "  After so long a break nothing is trusted about the power;\n  it is confirmed anew.\n  power: "
	      "unknown, was on\n");
	fact = fact_of(HS_SAYS_ENDED);
	fact.why = "at a finding";
	shown(&narrow, &engine, fact,
	      "\nThe run is closed: at a finding\n  power: secured\n  Nothing is on the open list.\n");
}

/* ---- hostile text ---- */

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
	           "power secured  open: top-cover  time 0:00:00\n"
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
	    cmocka_unit_test(figures_share_the_prefix_of_the_limits),
	    cmocka_unit_test(entries_that_are_no_numbers),
	    cmocka_unit_test(verdicts_are_words_beside_a_scale),
	    cmocka_unit_test(noted_and_unread_draw_nothing),
	    cmocka_unit_test(a_word_draws_no_scale),
	    cmocka_unit_test(a_difference_is_named_by_its_readings),
	    cmocka_unit_test(a_move_says_where_and_why_and_who_is_left),
	    cmocka_unit_test(moves_name_their_reason),
	    cmocka_unit_test(many_suspects_have_no_titles),
	    cmocka_unit_test(a_finding_groups_what_one_step_settled),
	    cmocka_unit_test(the_end_tells_what_is_left),
	    cmocka_unit_test(a_finding_is_a_page),
	    cmocka_unit_test(a_finding_not_separated),
	    cmocka_unit_test(facts_in_plain_words),
	    cmocka_unit_test(hostile_facts_are_tame),
	    cmocka_unit_test(newlines_forge_no_line),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
