/* The fold: what is asked when, what redo may and may not take back, what time and absence void. */
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
	char by[32];
	char why[600]; /* of the last answer not taken */
} bench;

static void bench_open(bench *b)
{
	hs_error error = {0};
	b->now_ms = 1000;
	strcpy(b->by, "Ines");
	b->why[0] = '\0';
	b->engine = hs_engine_new(small_book_make(&b->book), b->by, &error);
	if (b->engine == NULL)
		fail_msg("%s", error.message);
	hs_engine_open(b->engine);
}

static void asked(const bench *b, const char *id)
{
	hs_ask ask = hs_engine_next(b->engine);
	hs_buf got;
	hs_buf_init(&got);
	hs_engine_ask_id(b->engine, &ask, &got);
	assert_string_equal(got.data != NULL ? got.data : "", id);
	hs_buf_free(&got);
}

static hs_taken give(bench *b, hs_event_kind kind, const char *ask, const char *text)
{
	char utc[40];
	snprintf(utc, sizeof utc, "2026-01-01T09:%02d:%02d.000Z", (int)(b->now_ms / 60000 % 60), (int)(b->now_ms / 1000 % 60));
	hs_event event = {.kind = kind, .ask = ask, .text = text, .by = b->by, .utc = utc, .mono_ms = b->now_ms};
	hs_taken taken = HS_NOT_TAKEN;
	hs_error error = {0};
	if (!hs_engine_take(b->engine, &event, &taken, &error))
		fail_msg("%s: %s", ask != NULL ? ask : hs_event_name(kind), error.message);
	size_t count;
	const hs_fact *facts = hs_engine_facts(b->engine, &count);
	b->why[0] = '\0';
	for (size_t i = 0; i < count; i++)
		if (facts[i].kind == HS_SAYS_ANSWERED && !facts[i].accepted)
			snprintf(b->why, sizeof b->why, "%s", facts[i].why);
	b->now_ms += 1000;
	return taken;
}

/* "ASK: ANSWER" lines, each of which must be asked and taken. */
static void play(bench *b, const char *const *lines)
{
	for (; *lines != NULL; lines++) {
		char ask[120];
		const char *colon = strstr(*lines, ": ");
		snprintf(ask, sizeof ask, "%.*s", (int)(colon - *lines), *lines);
		asked(b, ask);
		if (give(b, HS_EVENT_ANSWER, ask, colon + 2) != HS_TAKEN)
			fail_msg("%s was not taken: %s", *lines, b->why);
	}
}

static void refused(bench *b, const char *ask, const char *text, const char *part)
{
	asked(b, ask);
	assert_int_equal(give(b, HS_EVENT_ANSWER, ask, text), HS_NOT_TAKEN);
	if (strstr(b->why, part) == NULL)
		fail_msg("\"%s\" does not say \"%s\"", b->why, part);
	asked(b, ask);
}

static const char *const intake[] = {"intake/first: done", "intake/words: It is dead.", "intake/seen: nothing", "intake/seals: whole", "intake/keep: none",
                                     NULL};
static const char *const intake_to_volts[] = {"intake/first: done", "intake/words: It is dead.", "intake/seen: nothing", "intake/seals: whole", "intake/keep: none",
                                              "lamp: lit", "gate/off/switch: off", "volts/open.cover: done",
                                              "gate/energise/cover: cover", "gate/energise/tools: counted", "gate/energise/people: told",
                                              "gate/on/switch: on", NULL};

static void begins_with_the_intake(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	refused(&b, "intake/first", "", "then type done");
	play(&b, (const char *const[]){"intake/first: done", NULL});
	refused(&b, "intake/words", "  ", "at least a word");
	play(&b, intake + 1);
	asked(&b, "lamp");
	refused(&b, "lamp", "", "choose lit, dark or smoke");
	refused(&b, "lamp", "lti", "\"lti\" is not among the answers");
	give(&b, HS_EVENT_ANSWER, "lamp", "1");
	asked(&b, "gate/off/switch");
	hs_engine_free(b.engine);
}

static void power_comes_by_the_safe_way(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	asked(&b, "volts");
	assert_int_equal(hs_engine_power(b.engine), HS_POWER_ON);
	assert_int_equal(hs_engine_open_list(b.engine), 1u << COVER);
	hs_engine_free(b.engine);
}

static void shortcuts_are_refused(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	play(&b, (const char *const[]){"volts: 12", NULL});
	/* The unit is on, and the next step reads a resistance: a value typed now is an answer to the gate, and refused. */
	refused(&b, "gate/off/switch", "4700", "does not pass this gate");
	refused(&b, "gate/off/switch", "", "Enter alone does not pass");
	assert_int_equal(hs_engine_power(b.engine), HS_POWER_ON);
	play(&b, (const char *const[]){"gate/off/switch: off", "gate/disconnected/mains: out", "gate/disconnected/other: none",
	                               "gate/secured/plug: hand", "gate/secured/by: Ines", NULL});
	refused(&b, "gate/waited/C7", "waited", "Too early");
	b.now_ms += 40000;
	play(&b, (const char *const[]){"gate/waited/C7: waited", NULL});
	/* What is left under 50 V holds less than a quarter of a joule, so no discharge is asked; the proof still is. */
	play(&b, (const char *const[]){"ohms/open.shield: done", "gate/dead/tester: T2", "gate/dead/known-ac-before: 231 V",
	                               "gate/dead/known-dc-before: 24 V", NULL});
	asked(&b, "gate/dead/mains.L-N");
	hs_engine_free(b.engine);
}

/* From the first reading, low, to the reading with the link in place. */
static const char *const by_the_link[] = {"volts: 3", "gate/off/switch: off", "link: done", NULL};

static void a_wait_is_not_cut_short(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	play(&b, by_the_link);
	refused(&b, "rest", "done", "Too early: the wait has 59 s to go");
	b.now_ms += 58000;
	play(&b, (const char *const[]){"rest: done", NULL});
	assert_int_equal(hs_engine_open_list(b.engine), 1u << COVER | 1u << LINK);
	hs_engine_free(b.engine);
}

static void redo_takes_back_the_reading_only(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	play(&b, by_the_link);
	int by = -1;
	assert_int_equal(hs_engine_suspect(b.engine, 0, &by), HS_SUSPECT_IMPLICATED);
	assert_int_equal(by, VOLTS);
	give(&b, HS_EVENT_REDO, NULL, "");
	assert_int_equal(hs_engine_suspect(b.engine, 0, &by), HS_SUSPECT_OPEN);
	/* The link is fitted and the switch is off, whatever the reading was. */
	assert_int_equal(hs_engine_open_list(b.engine), 1u << COVER | 1u << LINK);
	assert_int_equal(hs_engine_power(b.engine), HS_POWER_OFF);
	/* The step wants power with only the cover open: the link comes out first. */
	asked(&b, "volts/close.link");
	refused(&b, "volts/close.link", "on", "still on the open list");
	hs_engine_free(b.engine);
}

static void later_answers_serve_again_or_are_set_aside(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	play(&b, by_the_link);
	give(&b, HS_EVENT_REDO, NULL, "");
	size_t count, aside = 0;
	const hs_fact *facts = hs_engine_facts(b.engine, &count);
	assert_int_equal(facts[0].kind, HS_SAYS_REDONE);
	assert_string_equal(facts[0].ask_id, "volts");
	for (size_t i = 0; i < count; i++)
		if (facts[i].kind == HS_SAYS_SET_ASIDE) {
			assert_string_equal(facts[i].ask_id, "link");
			aside++;
		}
	assert_int_equal(aside, 1);
	/* Once set aside it stays so: the same reading again asks for the link again. */
	play(&b, (const char *const[]){"volts/close.link: done", "gate/energise/cover: cover", "gate/energise/tools: counted",
	                               "gate/energise/people: told", "gate/on/switch: on", "volts: 3", "gate/off/switch: off", "link: done", NULL});
	asked(&b, "rest");
	hs_engine_free(b.engine);
}

static void redo_of_nothing_says_so(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	assert_int_equal(give(&b, HS_EVENT_REDO, NULL, ""), HS_NOT_TAKEN);
	assert_non_null(strstr(b.why, "no reading or observation"));
	hs_engine_free(b.engine);
}

static void a_long_break_makes_the_power_unknown(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	b.now_ms += HS_BREAK_MS;
	asked(&b, "volts");
	assert_int_equal(give(&b, HS_EVENT_ANSWER, "volts", "12"), HS_NOT_TAKEN);
	assert_non_null(strstr(b.why, "More than 15 minutes"));
	assert_int_equal(hs_engine_power(b.engine), HS_POWER_UNKNOWN);
	asked(&b, "gate/off/switch");
	hs_engine_free(b.engine);
}

static void a_wait_is_no_break(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	b.book.steps[REST].wait_s = 1800.0;
	play(&b, intake_to_volts);
	play(&b, by_the_link);
	b.now_ms += 1801000;
	play(&b, (const char *const[]){"rest: done", NULL});
	assert_int_equal(hs_engine_power(b.engine), HS_POWER_OFF);
	hs_engine_free(b.engine);
}

static void resume_asks_the_gates_anew_then_the_same_step(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	give(&b, HS_EVENT_PAUSE, NULL, "lunch");
	assert_true(hs_engine_paused(b.engine));
	asked(&b, "");
	b.now_ms = 0;
	strcpy(b.by, "Tove");
	give(&b, HS_EVENT_RESUME, NULL, "");
	assert_int_equal(hs_engine_power(b.engine), HS_POWER_UNKNOWN);
	assert_int_equal(hs_engine_open_list(b.engine), 1u << COVER);
	play(&b, (const char *const[]){"gate/off/switch: off", "gate/energise/cover: cover", "gate/energise/tools: counted",
	                               "gate/energise/people: told", "gate/on/switch: on", NULL});
	asked(&b, "volts");
	hs_engine_free(b.engine);
}

static void stop_cuts_the_power_first(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	give(&b, HS_EVENT_STOP, NULL, "");
	play(&b, (const char *const[]){"gate/disconnected/mains: out", "gate/off/switch: off", "gate/disconnected/other: none",
	                               "gate/secured/plug: lock", "gate/secured/by: Ines", "stop/what: smoke from the tray", NULL});
	assert_true(hs_engine_paused(b.engine));
	hs_engine_free(b.engine);
}

/* What was out stays known over the resume: the way up asks for it, and nothing is switched on before. */
static void what_was_pulled_is_put_in_again(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	give(&b, HS_EVENT_STOP, NULL, "");
	play(&b, (const char *const[]){"gate/disconnected/mains: out", "gate/off/switch: off", "gate/disconnected/other: none",
	                               "gate/secured/plug: lock", "gate/secured/by: Ines", "stop/what: smoke from the tray", NULL});
	give(&b, HS_EVENT_RESUME, NULL, "");
	play(&b, (const char *const[]){"gate/off/switch: off", "gate/energise/cover: cover", "gate/energise/tools: counted",
	                               "gate/energise/people: told", "gate/energise/mains: in", "gate/on/switch: on", NULL});
	asked(&b, "volts");
	hs_engine_free(b.engine);
}

static void still_stopped(const bench *b, const char *by)
{
	hs_buf text;
	hs_buf_init(&text);
	assert_true(hs_engine_stopped_by(b->engine, &text));
	assert_string_equal(text.data, by);
	hs_buf_free(&text);
}

/* Neither a pause nor a crash ends a stop: only the power out, and what happened. */
static void a_stop_outlives_pause_and_crash(void **state)
{
	(void)state;
	for (int paused = 0; paused < 2; paused++) {
		bench b;
		bench_open(&b);
		play(&b, intake_to_volts);
		give(&b, HS_EVENT_STOP, NULL, "smoke from C3");
		still_stopped(&b, "Ines: smoke from C3");
		play(&b, (const char *const[]){"gate/disconnected/mains: out", NULL});
		if (paused)
			give(&b, HS_EVENT_PAUSE, NULL, "");
		give(&b, HS_EVENT_RESUME, NULL, "");
		still_stopped(&b, "Ines: smoke from C3");
		play(&b, (const char *const[]){"gate/disconnected/mains: out", "gate/off/switch: off", "gate/disconnected/other: none",
		                               "gate/secured/plug: lock", "gate/secured/by: Ines", NULL});
		give(&b, HS_EVENT_RESUME, NULL, "");
		play(&b, (const char *const[]){"gate/disconnected/mains: out", "gate/off/switch: off", "gate/disconnected/other: none",
		                               "gate/secured/plug: lock", "gate/secured/by: Ines", "stop/what: C3 burst", NULL});
		hs_buf text;
		hs_buf_init(&text);
		assert_false(hs_engine_stopped_by(b.engine, &text));
		hs_buf_free(&text);
		assert_true(hs_engine_paused(b.engine));
		give(&b, HS_EVENT_RESUME, NULL, "");
		asked(&b, "gate/off/switch");
		hs_engine_free(b.engine);
	}
}

static void a_stop_answer_stops_too(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake);
	give(&b, HS_EVENT_ANSWER, "lamp", "smoke");
	play(&b, (const char *const[]){"gate/disconnected/mains: switch", NULL});
	asked(&b, "gate/off/switch");
	play(&b, (const char *const[]){"gate/off/switch: off", NULL});
	asked(&b, "gate/disconnected/mains");
	hs_engine_free(b.engine);
}

static void leaving_is_always_possible(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	give(&b, HS_EVENT_LEAVE, NULL, "");
	asked(&b, "gate/off/switch");
	give(&b, HS_EVENT_LEAVE, NULL, "");
	assert_true(hs_engine_paused(b.engine));
	hs_engine_free(b.engine);
}

static void a_loop_ends_at_its_bound(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	play(&b, by_the_link);
	b.now_ms += 60000;
	play(&b, (const char *const[]){"rest: done", "gate/energise/cover: cover", "gate/energise/link: link", "gate/energise/tools: counted",
	                               "gate/energise/people: told", "gate/on/switch: on", "again: 3", "again: 3", NULL});
	assert_int_equal(hs_engine_finding(b.engine), FOUND_A);
	/* The way home: power off and secured, because the cover is off and the link is in. */
	asked(&b, "gate/off/switch");
	hs_engine_free(b.engine);
}

static void what_cannot_be_right_is_asked_again(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	play(&b, intake_to_volts);
	refused(&b, "volts", "120", "cannot be right here");
	refused(&b, "volts", "1,5", "write 1.5");
	refused(&b, "volts", "4 kohm", "ohm");
	hs_engine_free(b.engine);
}

static void another_ask_or_person_does_not_fit(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	hs_error error = {0};
	hs_taken taken;
	hs_event event = {.kind = HS_EVENT_ANSWER, .ask = "volts", .text = "12", .by = "Ines", .utc = "2026-01-01T09:00:00.000Z", .mono_ms = 1};
	assert_false(hs_engine_take(b.engine, &event, &taken, &error));
	assert_string_equal(error.message, "An answer to volts came, but intake/first is asked now.");
	event.ask = "intake/first";
	event.by = "Tove";
	assert_false(hs_engine_take(b.engine, &event, &taken, &error));
	assert_non_null(strstr(error.message, "a change of person is a pause and a resume"));
	asked(&b, "intake/first");
	hs_engine_free(b.engine);
}

static void an_unsafe_playbook_gets_no_engine(void **state)
{
	(void)state;
	small_book book;
	small_book_make(&book);
	book.steps[OHMS].power = HS_NEED_ON;
	hs_error error = {0};
	assert_null(hs_engine_new(&book.playbook, "Ines", &error));
	assert_non_null(strstr(error.message, "ohms"));
}

static void why_shows_the_arithmetic(void **state)
{
	(void)state;
	bench b;
	bench_open(&b);
	hs_buf text;
	hs_buf_init(&text);
	hs_engine_why(b.engine, &text);
	assert_string_equal(text.data, "Nothing has been judged yet.\n");
	play(&b, intake_to_volts);
	play(&b, (const char *const[]){"volts: 3", NULL});
	hs_buf_clear(&text);
	hs_engine_why(b.engine, &text);
	assert_non_null(strstr(text.data, "  as read      3 V\n"));
	assert_non_null(strstr(text.data, "11.5 V to 12.5 V"));
	assert_non_null(strstr(text.data, "outcome      low"));
	hs_buf_free(&text);
	hs_engine_free(b.engine);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(begins_with_the_intake),
		cmocka_unit_test(power_comes_by_the_safe_way),
		cmocka_unit_test(shortcuts_are_refused),
		cmocka_unit_test(a_wait_is_not_cut_short),
		cmocka_unit_test(redo_takes_back_the_reading_only),
		cmocka_unit_test(later_answers_serve_again_or_are_set_aside),
		cmocka_unit_test(redo_of_nothing_says_so),
		cmocka_unit_test(a_long_break_makes_the_power_unknown),
		cmocka_unit_test(a_wait_is_no_break),
		cmocka_unit_test(resume_asks_the_gates_anew_then_the_same_step),
		cmocka_unit_test(stop_cuts_the_power_first),
		cmocka_unit_test(what_was_pulled_is_put_in_again),
		cmocka_unit_test(a_stop_answer_stops_too),
	    cmocka_unit_test(a_stop_outlives_pause_and_crash),
		cmocka_unit_test(leaving_is_always_possible),
		cmocka_unit_test(a_loop_ends_at_its_bound),
		cmocka_unit_test(what_cannot_be_right_is_asked_again),
		cmocka_unit_test(another_ask_or_person_does_not_fit),
		cmocka_unit_test(an_unsafe_playbook_gets_no_engine),
		cmocka_unit_test(why_shows_the_arithmetic),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
