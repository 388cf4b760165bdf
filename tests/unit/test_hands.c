/* Hands and what stands open, seen from the engine: what is waited for, proved and shorted before a step, an opening or
 * a closing. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <cmocka.h>
#include <stdio.h>

#include "small_book.h"

typedef struct bench {
	small_book book;
	hs_engine *engine;
	int64_t now_ms;
	hs_buf asked; /* what was asked and answered, one a line */
} bench;

static void bench_open(bench *b)
{
	hs_error error = {0};
	b->now_ms = 1000;
	hs_buf_init(&b->asked);
	b->engine = hs_engine_new(&b->book.playbook, "Ines", &error);
	if (b->engine == NULL)
		fail_msg("%s", error.message);
	hs_engine_open(b->engine);
}

static void bench_close(bench *b)
{
	hs_engine_free(b->engine);
	hs_buf_free(&b->asked);
}

static void give(bench *b, hs_event_kind kind, const char *ask, const char *text)
{
	hs_event event = {.kind = kind,
	                  .ask = ask,
	                  .text = text,
	                  .by = "Ines",
	                  .utc = "2026-01-01T09:00:00.000Z",
	                  .mono_ms = b->now_ms};
	hs_taken taken = HS_NOT_TAKEN;
	hs_error error = {0};
	if (!hs_engine_take(b->engine, &event, &taken, &error) || taken != HS_TAKEN)
		fail_msg("%s: \"%s\" was not taken: %s", ask != NULL ? ask : "an event", text, error.message);
	b->now_ms += 1000;
}

static const char *good_answer(const hs_ask *ask, const char *id)
{
	static const char *const words[][2] = {
	    {"gate/off/switch", "off"},
	    {"gate/disconnected/mains", "out"},
	    {"gate/disconnected/other", "none"},
	    {"gate/secured/plug", "hand"},
	    {"gate/secured/by", "Ines"},
	    {"gate/waited/C7", "waited"},
	    {"gate/dead/tester", "VT2"},
	    {"gate/shorted/C7", "fitted"},
	    {"gate/energise/C7.short", "removed"},
	    {"gate/energise/tools", "counted"},
	    {"gate/energise/people", "told"},
	    {"gate/energise/cover", "cover"},
	    {"gate/energise/shield", "shield"},
	    {"gate/energise/link", "link"},
	    {"gate/energise/mains", "in"},
	    {"gate/on/switch", "on"},
	    {"lamp", "lit"},
	    {"intake/words", "dead"},
	    {"intake/seen", "nothing"},
	    {"intake/seals", "whole"},
	    {"intake/keep", "none"},
	};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (strcmp(words[i][0], id) == 0)
			return words[i][1];
	if (ask->kind == HS_ASK_GATE)
		return strstr(id, "known") != NULL ? "24 V" : "0.1 V";
	return ask->kind == HS_ASK_READ ? "12" : "done";
}

/* Answers well until `stop` is asked. */
static void walk_to(bench *b, const char *stop)
{
	hs_buf id;
	hs_buf_init(&id);
	for (int i = 0; i < 100; i++) {
		hs_ask ask = hs_engine_next(b->engine);
		hs_buf_clear(&id);
		hs_engine_ask_id(b->engine, &ask, &id);
		if (strcmp(id.data, stop) == 0)
			break;
		if (ask.earliest_ms > b->now_ms)
			b->now_ms = ask.earliest_ms;
		give(b, HS_EVENT_ANSWER, id.data, good_answer(&ask, id.data));
		hs_buf_printf(&b->asked, "%s\n", id.data);
	}
	assert_string_equal(id.data, stop);
	hs_buf_free(&id);
}

static void asked_were(bench *b, const char *ids)
{
	assert_string_equal(b->asked.data, ids);
	hs_buf_clear(&b->asked);
}

static void seen(const bench *b, const char *power, const char *shorts)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_engine_power_words(b->engine, &text);
	assert_string_equal(text.data, power);
	hs_buf_clear(&text);
	hs_engine_shorts(b->engine, &text);
	assert_string_equal(text.data, shorts);
	hs_buf_free(&text);
}

#define DOWN         "gate/off/switch\n" DISCONNECTED
#define DISCONNECTED "gate/disconnected/mains\ngate/disconnected/other\ngate/secured/plug\ngate/secured/by\n"
#define PROOF                                                                                                          \
	"gate/dead/tester\ngate/dead/known-ac-before\ngate/dead/known-dc-before\ngate/dead/mains.L-N\n"                \
	"gate/dead/mains.L-PE\ngate/dead/mains.N-PE\ngate/dead/C7.across\ngate/dead/C7.plus-chassis\n"                 \
	"gate/dead/C7.minus-chassis\ngate/dead/known-ac-after\ngate/dead/known-dc-after\ngate/shorted/C7\n"

static void past_the_guard(void **state)
{
	(void)state;
	bench b = {0};
	small_book_make(&b.book);
	bench_open(&b);
	walk_to(&b, "volts");
	seen(&b, "on", "");
	hs_buf_clear(&b.asked);
	walk_to(&b, "ohms");
	asked_were(&b, "volts\n" DOWN "gate/waited/C7\nohms/open.shield\n" PROOF);
	seen(&b, "shorted (primary)", "C7");
	bench_close(&b);
}

/* A guard declared to come off dead waits for its store all the same. */
static void past_a_guard_that_needs_dead(void **state)
{
	(void)state;
	bench b = {0};
	small_book_make(&b.book);
	b.book.playbook.unit.openables[SHIELD].needs = HS_NEED_DEAD;
	b.book.playbook.unit.openables[SHIELD].needs_given = true;
	bench_open(&b);
	walk_to(&b, "gate/waited/C7");
	hs_buf_clear(&b.asked);
	walk_to(&b, "ohms/open.shield");
	asked_were(
	    &b,
	    "gate/waited/C7\ngate/dead/tester\ngate/dead/known-ac-before\ngate/dead/mains.L-N\ngate/dead/mains.L-PE\n"
	    "gate/dead/mains.N-PE\ngate/dead/known-ac-after\n");
	seen(&b, "proved dead (primary)", "");
	walk_to(&b, "ohms");
	asked_were(&b, "ohms/open.shield\ngate/dead/known-dc-before\ngate/dead/C7.across\ngate/dead/C7.plus-chassis\n"
	               "gate/dead/C7.minus-chassis\ngate/dead/known-dc-after\ngate/shorted/C7\n");
	bench_close(&b);
}

/* The shield was left off and the proof is lost: a step elsewhere, with power off, has its hands beside C7 all the
 * same. */
static void beside_what_stands_open(void **state)
{
	(void)state;
	bench b = {0};
	small_book_make(&b.book);
	all_lead(&b.book.steps[OHMS], "link", LINKING);
	bench_open(&b);
	walk_to(&b, "link");
	give(&b, HS_EVENT_PAUSE, NULL, "lunch");
	give(&b, HS_EVENT_RESUME, NULL, "");
	seen(&b, "unknown", "C7");
	hs_buf_clear(&b.asked);
	walk_to(&b, "link");
	/* The short is still in. */
	asked_were(&b, DOWN "gate/waited/C7\ngate/dead/tester\ngate/dead/known-ac-before\ngate/dead/known-dc-before\n"
	                    "gate/dead/mains.L-N\ngate/dead/mains.L-PE\ngate/dead/mains.N-PE\ngate/dead/C7.across\n"
	                    "gate/dead/C7.plus-chassis\ngate/dead/C7.minus-chassis\ngate/dead/known-ac-after\n"
	                    "gate/dead/known-dc-after\n");
	bench_close(&b);
}

/* A change made behind the shield and powered with the shield on: to undo it the shield comes off again, the safe way.
 */
static void a_change_behind_a_guard_that_went_back_on(void **state)
{
	(void)state;
	bench b = {0};
	small_book_make(&b.book);
	hs_step *s = b.book.steps;
	b.book.playbook.unit.openables[LINK].zone = 1;
	s[LINKING].zone = 1;
	s[LINKING].power = HS_NEED_DEAD;
	s[LINKING].open = 1u << SHIELD | 1u << COVER;
	all_lead(&s[VOLTS], "link", LINKING);
	all_lead(&s[AGAIN], "volts", VOLTS);
	bench_open(&b);
	walk_to(&b, "link");
	hs_buf_clear(&b.asked);
	walk_to(&b, "again");
	asked_were(&b,
	           "link\nrest\ngate/energise/C7.short\ngate/energise/tools\nagain/close.shield\ngate/energise/cover\ngate/energise/link\n"
	           "gate/energise/people\ngate/energise/mains\ngate/on/switch\n");
	walk_to(&b, "volts");
	asked_were(&b, "again\n" DOWN "gate/waited/C7\nvolts/open.shield\n" PROOF
	               "volts/close.link\ngate/energise/C7.short\ngate/energise/tools\nvolts/close.shield\ngate/energise/cover\n"
	               "gate/energise/people\ngate/energise/mains\ngate/on/switch\n");
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(past_the_guard),
	    cmocka_unit_test(past_a_guard_that_needs_dead),
	    cmocka_unit_test(beside_what_stands_open),
	    cmocka_unit_test(a_change_behind_a_guard_that_went_back_on),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
