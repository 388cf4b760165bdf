/* Large type: the essentials, short lines, no escapes unless the terminal is known to do double height. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/seat/seat.h"
#include "screen_bench.h"

static void essentials_in_short_lines(void **state)
{
	(void)state;
	hs_screen screen = {.width = 110, .large = true, .serial = "G-1"};
	hs_ask ask = {.kind = HS_ASK_READ, .step = 0};
	hs_ask_words words = words_of("Level after the driver", "Read power at TP2 at 145 MHz with the meter lead, and let it settle.", "power in dBm");
	expect_ask(&screen, &ask, &words,
	           "\n"
	           "L E V E L   A F T E R   T H E   D R I V E R\n"
	           "\n"
	           "  Read power at TP2 at 145 MHz with the\n"
	           "  meter lead, and let it settle.\n"
	           "\n"
	           "  power: secured\n"
	           "\n"
	           "  wanted: power in dBm\n");
	free_words(&words);
}

static void tall_headings_where_they_fit(void **state)
{
	(void)state;
	hs_screen screen = {.width = 80, .large = true, .tall = true};
	hs_ask ask = {.kind = HS_ASK_CHOOSE, .step = 0};
	hs_ask_words words = words_of("The lamp", "Look.", "a word");
	expect_ask(&screen, &ask, &words, "\n\x1b#3The lamp\n\x1b#4The lamp\n\n  Look.\n\n  power: secured\n\n  wanted: a word\n");
	hs_buf_str(&words.heading, " beside the mains switch");
	expect_ask(&screen, &ask, &words,
	           "\nT H E   L A M P   B E S I D E   T H E\nM A I N S   S W I T C H\n\n  Look.\n\n  power: secured\n\n  wanted: a word\n");
	/* Nothing foreign drives the terminal. */
	hs_buf_clear(&words.heading);
	hs_buf_str(&words.heading, "a\x1b[2Jb\nc");
	hs_engine engine = fake_engine();
	hs_buf out;
	hs_buf_init(&out);
	screen.tall = false;
	hs_screen_ask(&screen, &engine, &ask, &words, &out);
	assert_null(strchr(out.data, '\x1b'));
	hs_buf_free(&out);
	free_words(&words);
}

static void known_terminals_only(void **state)
{
	(void)state;
	static const struct { const char *term, *xterm, *no; bool tall; } rows[] = {
	    {"vt100", NULL, NULL, true}, {"vt220", NULL, NULL, true}, {"xterm-256color", "XTerm(379)", NULL, true},
	    {"xterm-256color", NULL, NULL, false}, {"dumb", "XTerm(379)", NULL, false}, {"vte", NULL, NULL, false},
	    {"vt100", NULL, "1", false}, {NULL, "XTerm(379)", NULL, false}, {"screen", "XTerm(379)", NULL, false},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		const char *names[] = {"TERM", "XTERM_VERSION", "NO_COLOR"}, *values[] = {rows[i].term, rows[i].xterm, rows[i].no};
		for (int v = 0; v < 3; v++)
			values[v] ? setenv(names[v], values[v], 1) : unsetenv(names[v]);
		assert_int_equal(hs_screen_wants_tall(), rows[i].tall);
	}
}

static void a_word_at_every_prompt(void **state)
{
	(void)state;
	hs_ask_words asks[] = {{.bare = HS_VOLT}, {.bare = HS_UNIT_COUNT}, {.bare = HS_UNIT_COUNT, .is_gate = true}};
	for (size_t i = 0; i < COUNT(asks); i++) {
		hs_input input;
		hs_input_init(&input);
		hs_input_read(&asks[i], "large", &input);
		assert_int_equal(input.kind, HS_INPUT_LARGE);
		hs_input_free(&input);
	}
	/* Where it is offered, it is an answer. */
	hs_ask_words choice = {.bare = HS_UNIT_COUNT, .choices = {{"large", NULL}}, .choice_count = 1};
	hs_input input;
	hs_input_init(&input);
	hs_input_read(&choice, "large", &input);
	assert_int_equal(input.kind, HS_INPUT_ANSWER);
	hs_input_free(&input);
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(essentials_in_short_lines), cmocka_unit_test(tall_headings_where_they_fit),
	                                   cmocka_unit_test(known_terminals_only), cmocka_unit_test(a_word_at_every_prompt)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
