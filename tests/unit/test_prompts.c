/* What a prompt takes and tells: nothing typed ahead at a gate, no recall, the end of a wait, the ask again in short. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>
#include "terminal_bench.h"

/* At a gate nobody can have meant it; a stop and Ctrl-D mean the same everywhere. */
static const struct {
	const char *pasted, *got;
	bool told;
} pasted[] = {
    {"hand\nBen Holt\nout\n", "GOT answer [typed now]", true},
    {"\n\n", "GOT answer [typed now]", false},
    {"hal", "GOT answer [typed now]", false}, /* half a line too */
    {"hand\nstop smoke\nout\n", "GOT stop [smoke]", true},
    {"hand\n\x04", "GOT end [Ctrl-D]", true},
};

static void gates_take_nothing_typed_ahead(void **state)
{
	(void)state;
	for (size_t t = 0; t < COUNT(terms); t++)
		for (size_t i = 0; i < COUNT(pasted); i++) {
			line l;
			begin_typed(&l, terms[t], A_GATE, pasted[i].pasted);
			see(&l, "Gate: secured");
			if (strstr(pasted[i].got, "typed now")) {
				see(&l, "\n> ");
				type(&l, "typed now\r");
			}
			see(&l, pasted[i].got);
			assert_true(!!strstr(l.seen, "what was typed before this was shown is not used") == pasted[i].told);
			assert_null(strstr(l.seen, "GOT answer [hand]"));
			assert_null(strstr(l.seen, "GOT answer []"));
			if (!strstr(pasted[i].got, "GOT end")) {
				see(&l, "\n> ");
				finish(&l);
			} else {
				assert_int_equal(end_status(&l), 0);
			}
		}
}

/* Pasted at a prompt: the look takes its line, what is to be done waits for somebody who has read it. */
static void a_paste_stops_at_what_is_to_be_done(void **state)
{
	(void)state;
	for (size_t t = 0; t < COUNT(terms); t++) {
		line l;
		begin(&l, terms[t], A_DO);
		see(&l, "\n> ");
		type(&l, "lit\rdark\rdark\r");
		see(&l, "GOT answer [lit]");
		see(&l, "is not used");
		see(&l, "> ");
		type(&l, "dark\r");
		see(&l, "GOT answer [dark]");
		see(&l, "\n> ");
		finish(&l);
	}
}

static void readings_may_be_typed_ahead(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_BLOCK);
	see(&l, "\nV> ");
	for (int i = 0; i < 100; i++) {
		char reading[16];
		snprintf(reading, sizeof reading, "%d.5\r", i);
		type(&l, reading);
	}
	for (int i = 0; i < 100; i++) {
		char got[32];
		snprintf(got, sizeof got, "GOT answer [%d.5]", i);
		see(&l, got);
	}
	assert_null(strstr(l.seen, "is not used"));
	see(&l, "\nV> ");
	finish(&l);
}

/* Up brings sentences back, and only at a sentence: at a gate or a reading Enter would give an answer nobody typed. */
static void only_sentences_are_recalled(void **state)
{
	(void)state;
	static const struct {
		asked script;
		const char *prompt, *got;
	} rows[] = {{A_SENTENCE, "\n> ", "GOT answer [first]"},
	            {A_GATE, "\n> ", "GOT answer []"},
	            {A_BLOCK, "\nV> ", "GOT answer []"}};
	for (size_t i = 0; i < COUNT(rows); i++) {
		line l;
		begin(&l, "xterm", rows[i].script);
		see(&l, rows[i].prompt);
		type(&l, "first\r");
		see(&l, "GOT answer [first]");
		see(&l, rows[i].prompt);
		type(&l, "\x1b[A\r");
		see(&l, rows[i].got);
		see(&l, rows[i].prompt);
		finish(&l);
	}
}

static void an_ask_that_comes_again_is_short(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_GATE);
	see(&l, "\n> ");
	type(&l, "?\r");
	see(&l, "GOT help []\r\nGate: secured\r\n> ");
	type(&l, "han\x0c"); /* Ctrl-L */
	see(&l, "\x1b[2J");
	see(&l, "Gate: secured\r\n> han");
	type(&l, "d\r");
	see(&l, "GOT answer [hand]");
	see(&l, "\n> ");
	finish(&l);
}

/* One bell, and what was typed meanwhile stays. */
static void the_end_of_a_wait_is_told(void **state)
{
	(void)state;
	for (size_t t = 0; t < COUNT(terms); t++) {
		line l;
		begin(&l, terms[t], A_SHORT_WAIT);
		see(&l, "1 s to go> ");
		type(&l, "wai");
		see(&l, "\a");
		see(&l, "the time is over\r\n> ");
		type(&l, "ted\r");
		see(&l, "GOT answer [waited]");
		see(&l, "\n> ");
		assert_null(strchr(strchr(l.seen, '\a') + 1, '\a'));
		finish(&l);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(gates_take_nothing_typed_ahead),
	    cmocka_unit_test(a_paste_stops_at_what_is_to_be_done),
	    cmocka_unit_test(readings_may_be_typed_ahead),
	    cmocka_unit_test(only_sentences_are_recalled),
	    cmocka_unit_test(an_ask_that_comes_again_is_short),
	    cmocka_unit_test(the_end_of_a_wait_is_told),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
