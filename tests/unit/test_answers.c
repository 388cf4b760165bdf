/* The answers file, and the seat over it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <cmocka.h>
#include "halfsplit/seat/answers.h"
#include "fake_engine.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const struct {
	const char *text;
	hs_input_kind kind;
	const char *ask, *answer;
	bool timed;
	int64_t offset_ms;
	int line;
} good[] = {
    {"a: 5", HS_INPUT_ANSWER, "a", "5", false, 0, 1},
    {"# x\n\n  a/b:   5 V  \n", HS_INPUT_ANSWER, "a/b", "5 V", false, 0, 3},
    {"intake/words: hums: loud: very", HS_INPUT_ANSWER, "intake/words", "hums: loud: very", false, 0, 1},
    {"gate/dead/mains.L-N: 0.2 V", HS_INPUT_ANSWER, "gate/dead/mains.L-N", "0.2 V", false, 0, 1},
    {"tell-me:", HS_INPUT_ANSWER, "tell-me", "", false, 0, 1},
    {"tell-me: ", HS_INPUT_ANSWER, "tell-me", "", false, 0, 1},
    {"a: # no comment", HS_INPUT_ANSWER, "a", "# no comment", false, 0, 1},
    {"a: !redo", HS_INPUT_ANSWER, "a", "!redo", false, 0, 1},
    {"!redo", HS_INPUT_REDO, NULL, "", false, 0, 1},
    {"!pause", HS_INPUT_PAUSE, NULL, "", false, 0, 1},
    {"!pause lunch", HS_INPUT_PAUSE, NULL, "lunch", false, 0, 1},
    {"!leave", HS_INPUT_LEAVE, NULL, "", false, 0, 1},
    {"!stop smoke", HS_INPUT_STOP, NULL, "smoke", false, 0, 1},
    {"!note smells: hot", HS_INPUT_NOTE, NULL, "smells: hot", false, 0, 1},
    {"!note: hot", HS_INPUT_NOTE, NULL, "hot", false, 0, 1},
    {"!why", HS_INPUT_WHY, NULL, "", false, 0, 1},
    {"!show", HS_INPUT_SHOW, NULL, "", false, 0, 1},
    {"!help", HS_INPUT_HELP, NULL, "", false, 0, 1},
    {"@+5 s\na: x", HS_INPUT_ANSWER, "a", "x", true, 5000, 2},
    {"@-5 s\n# between\na: x", HS_INPUT_ANSWER, "a", "x", true, -5000, 3},
    {"@-5s a: x", HS_INPUT_ANSWER, "a", "x", true, -5000, 1},
    {"@+0.25 s  a: x", HS_INPUT_ANSWER, "a", "x", true, 250, 1},
    {"@+16 min a: x", HS_INPUT_ANSWER, "a", "x", true, 960000, 1},
    {"@+16min\na: x", HS_INPUT_ANSWER, "a", "x", true, 960000, 2},
    {"@+20 ms !pause", HS_INPUT_PAUSE, NULL, "", true, 20, 1},
    {"a: x @-5 s", HS_INPUT_ANSWER, "a", "x", true, -5000, 1},
    {"a: @+5 s", HS_INPUT_ANSWER, "a", "", true, 5000, 1},
    {"a: sold @ 5 s", HS_INPUT_ANSWER, "a", "sold @ 5 s", false, 0, 1},
    {"a: me@+5 s", HS_INPUT_ANSWER, "a", "me@+5 s", false, 0, 1},
};

static void lines_are_understood(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(good); i++) {
		hs_error error = {0};
		hs_answers *answers = hs_answers_parse("t.answers", good[i].text, &error);
		if (!answers)
			fail_msg("%s: %s", good[i].text, error.message);
		assert_int_equal(answers->count, 1);
		const hs_answer_line *line = &answers->lines[0];
		if (line->kind != good[i].kind || strcmp(line->text, good[i].answer) != 0 ||
		    line->timed != good[i].timed || line->offset_ms != good[i].offset_ms || line->line != good[i].line)
			fail_msg("%s: kind %d, \"%s\", line %d", good[i].text, (int)line->kind, line->text, line->line);
		if (good[i].ask)
			assert_string_equal(line->ask, good[i].ask);
		else
			assert_null(line->ask);
		hs_answers_free(answers);
	}
}

static void a_time_holds_for_one_answer(void **state)
{
	(void)state;
	hs_error error = {0};
	hs_answers *answers = hs_answers_parse("t.answers", "@+5 s\na: 1\nb: 2\n", &error);
	assert_non_null(answers);
	assert_int_equal(answers->count, 2);
	assert_true(answers->lines[0].timed);
	assert_false(answers->lines[1].timed);
	assert_int_equal(answers->lines[1].offset_ms, 0);
	hs_answers_free(answers);
}

static const struct {
	const char *text, *rendered;
} bad[] = {
    {"a: 1\njust words\n",
     "t.answers:2: This line is no answer: wanted \"STEP: ANSWER\", a !command, an @time or a # comment.\n"},
    {"a:1", "t.answers:1: This line is no answer: wanted \"STEP: ANSWER\", a !command, an @time or a # comment.\n"},
    {"two words: 5", "t.answers:1: \"two words\" in front of the colon is not the name of anything asked.\n"},
    {": 5", "t.answers:1: \"\" in front of the colon is not the name of anything asked.\n"},
    {"a/: 5", "t.answers:1: \"a/\" in front of the colon is not the name of anything asked.\n"},
    {"!redoo", "t.answers:1: !redoo is not a command of an answers file.\n"},
    {"!", "t.answers:1: ! is not a command of an answers file.\n"},
    {"\n!redo now", "t.answers:2: !redo takes nothing behind it.\n"},
    {"!note", "t.answers:1: !note wants its text on the same line.\n"},
    {"@5 s\na: 1", "t.answers:1: @5 s is not a time: wanted @+5 s (after the earliest time) or @-5 s (before it).\n"},
    {"@+5\na: 1", "t.answers:1: @+5 is not a time: wanted @+5 s (after the earliest time) or @-5 s (before it).\n"},
    {"@+5 V\na: 1", "t.answers:1: @+5 V is not a time: wanted @+5 s (after the earliest time) or @-5 s (before it).\n"},
    {"@+-5 s\na: 1",
     "t.answers:1: @+-5 s is not a time: wanted @+5 s (after the earliest time) or @-5 s (before it).\n"},
    {"@+1e30 s\na: 1",
     "t.answers:1: @+1e30 s is not a time: wanted @+5 s (after the earliest time) or @-5 s (before it).\n"},
    {"@+5 s\n@+6 s\na: 1", "t.answers:2: This is a second time for one answer; the first is on line 1.\n"},
    {"@+5 s\na: 1 @+6 s", "t.answers:2: This is a second time for one answer; the first is on line 1.\n"},
    {"a: 1\n@+5 s\n# end\n", "t.answers:2: A time stands here, but no answer follows it.\n"},
};

static void mistakes_name_file_and_line(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(bad); i++) {
		hs_error error = {0};
		assert_null(hs_answers_parse("t.answers", bad[i].text, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
		hs_buf text;
		hs_buf_init(&text);
		hs_error_render(&error, &text);
		/* The quoted line and the hint follow on lines of their own. */
		if (strncmp(text.data, bad[i].rendered, strlen(bad[i].rendered)) != 0)
			fail_msg("%s gave %s", bad[i].text, text.data);
		hs_buf_free(&text);
	}
}

static void mistakes_bring_quote_and_hint(void **state)
{
	(void)state;
	hs_error error = {0};
	assert_null(hs_answers_parse("t.answers", "  !rdo", &error));
	assert_string_equal(error.quote, "!rdo");
	assert_string_equal(error.hint, "Did you mean !redo?");
	memset(&error, 0, sizeof error);
	assert_null(hs_answers_parse("t.answers", "!whatever", &error));
	assert_string_equal(error.hint, "There are !redo, !note TEXT, !pause, !leave, !stop, !why, !show, !large and !help.");
	memset(&error, 0, sizeof error);
	assert_null(hs_answers_parse("t.answers", "two words: 5", &error));
	assert_string_equal(error.hint, "Names look like drive-at-tp2, rails/p12, gate/waited/C7 or intake/words.");
}

static void files_as_editors_leave_them(void **state)
{
	(void)state;
	char path[] = "/tmp/halfsplit-answers-XXXXXX";
	int fd = mkstemp(path);
	assert_true(fd >= 0);
	static const char text[] = "\xEF\xBB\xBF# first\r\na: 5 \xCE\xA9\r\n";
	assert_int_equal(write(fd, text, sizeof text - 1), sizeof text - 1);
	close(fd);
	hs_error error = {0};
	hs_answers *answers = hs_answers_load(path, &error);
	assert_non_null(answers);
	assert_int_equal(answers->count, 1);
	assert_string_equal(answers->lines[0].text, "5 \xCE\xA9");
	hs_answers_free(answers);
	unlink(path);
	assert_null(hs_answers_load(path, &error));
	assert_int_equal(error.code, HS_BAD_INPUT);
	assert_non_null(strstr(error.message, "answers file"));
}

/* ---- the seat ---- */

typedef struct session {
	hs_answers *answers;
	hs_seat *seat;
	char *text;
	size_t length;
	FILE *out;
	hs_engine engine;
	hs_ask_words words;
	hs_input input;
	hs_error error;
} session;

static void begin(session *s, const char *text)
{
	memset(s, 0, sizeof *s);
	s->answers = hs_answers_parse("t.answers", text, &s->error);
	assert_non_null(s->answers);
	s->out = open_memstream(&s->text, &s->length);
	s->seat = hs_answers_seat(s->answers, 1795512600000, s->out);
	s->engine = fake_engine();
	s->words.bare = HS_UNIT_COUNT;
	hs_buf_init(&s->words.heading);
	hs_buf_init(&s->words.text);
	hs_buf_str(&s->words.heading, "The lamp");
	hs_input_init(&s->input);
}

static void end(session *s)
{
	hs_seat_close(s->seat);
	fclose(s->out);
	free(s->text);
	hs_answers_free(s->answers);
	hs_buf_free(&s->words.heading);
	hs_buf_free(&s->words.text);
	hs_input_free(&s->input);
}

static bool ask(session *s, const char *id, int64_t earliest_ms)
{
	s->engine.ask_id = id;
	hs_ask asked = {.kind = HS_ASK_CHOOSE, .step = -1, .earliest_ms = earliest_ms};
	return s->seat->ask(s->seat, &s->engine, &asked, &s->words, &s->input, &s->error);
}

static const char *printed(session *s)
{
	fflush(s->out);
	return s->text;
}

static void a_session_reads_like_one(void **state)
{
	(void)state;
	session s;
	begin(&s, "lamp: 2\n!note smells\x1b[2J hot\n!why\nlamp: lit\n");
	s.words.choices[0].word = "lit";
	s.words.choices[1].word = "dark";
	s.words.choice_count = 2;
	assert_true(s.seat->rehearsal);
	assert_true(ask(&s, "lamp", 0));
	assert_int_equal(s.input.kind, HS_INPUT_ANSWER);
	assert_string_equal(s.input.text.data, "dark");
	s.seat->show(s.seat, "  not that one\n");
	assert_true(ask(&s, "lamp", 0)); /* the same ask again: in short */
	assert_int_equal(s.input.kind, HS_INPUT_NOTE);
	assert_string_equal(s.input.text.data, "smells\x1b[2J hot");
	assert_true(ask(&s, "lamp", 0));
	assert_int_equal(s.input.kind, HS_INPUT_WHY);
	s.engine.answers = 1; /* an answer was taken: in full again */
	assert_int_equal(hs_answers_unused(s.seat), 4);
	assert_true(ask(&s, "lamp", 0));
	assert_int_equal(hs_answers_unused(s.seat), 0);
	assert_string_equal(printed(&s), "\n"
	                                 "power secured   nothing open   time 0:00:00\n"
	                                 "The lamp\n"
	                                 "  wanted: lit (1) or dark (2)\n"
	                                 "> 2\n"
	                                 "  not that one\n"
	                                 "The lamp\n"
	                                 "  wanted: lit (1) or dark (2)\n"
	                                 "> note smells\\x1b[2J hot\n"
	                                 "The lamp\n"
	                                 "  wanted: lit (1) or dark (2)\n"
	                                 "> why\n"
	                                 "\n"
	                                 "power secured   nothing open   time 0:00:03\n"
	                                 "The lamp\n"
	                                 "  wanted: lit (1) or dark (2)\n"
	                                 "> lit\n");
	end(&s);
}

static void another_ask_stops_with_both_names(void **state)
{
	(void)state;
	session s;
	begin(&s, "# first\nlamp: lit\n");
	assert_false(ask(&s, "gate/off/switch", 0));
	assert_int_equal(s.error.code, HS_BAD_INPUT);
	assert_int_equal(hs_code_exit(s.error.code), 2);
	assert_string_equal(s.error.message, "The next answer is for lamp, but gate/off/switch is asked.");
	assert_string_equal(s.error.hint, "Give an answer to gate/off/switch first.");
	assert_string_equal(s.error.file, "t.answers");
	assert_int_equal(s.error.line, 2);
	assert_true(ask(&s, "lamp", 0)); /* nothing was used up */
	end(&s);
}

static void the_end_pauses(void **state)
{
	(void)state;
	session s;
	begin(&s, "lamp: lit\n");
	assert_true(ask(&s, "lamp", 0));
	assert_true(ask(&s, "lamp", 0));
	assert_int_equal(s.input.kind, HS_INPUT_END);
	assert_string_equal(s.input.text.data, "end of the answers");
	assert_true(ask(&s, "lamp", 0));
	assert_int_equal(s.input.kind, HS_INPUT_END);
	end(&s);
}

static void the_clock_is_virtual(void **state)
{
	(void)state;
	session s;
	begin(&s, "a: 1\na: 2\n@+5 s a: 3\n@-5 s a: 4\n@-90 s a: 5\na: 6\n@+5 s !note n\n@+1 min !pause\n");
	static const struct {
		int64_t earliest_ms, now_ms;
	} rows[] = {
	    {0, 1000},       {30000, 30000},   {60000, 65000},   {100000, 95000},
	    {100000, 96000}, {100000, 100000}, {200000, 106000}, {0, 167000},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		assert_true(ask(&s, "a", rows[i].earliest_ms));
		assert_int_equal(s.seat->now_mono_ms(s.seat), rows[i].now_ms);
	}
	char stamp[HS_STAMP_ROOM];
	assert_int_equal(hs_seat_stamp(s.seat, stamp), 167000);
	assert_string_equal(stamp, "2026-11-24T09:32:47.000Z");
	end(&s);
}

static void too_early_needs_something_to_wait_for(void **state)
{
	(void)state;
	session s;
	begin(&s, "@-5 s a: 1\n");
	assert_false(ask(&s, "a", 500));
	assert_string_equal(s.error.message,
	                    "This answer is to come 5000 ms too early, but nothing has to be waited for here.");
	assert_int_equal(s.error.code, HS_BAD_INPUT);
	assert_int_equal(s.error.line, 1);
	end(&s);
}

static void a_silent_seat_prints_nothing(void **state)
{
	(void)state;
	hs_error error = {0};
	hs_answers *answers = hs_answers_parse("t.answers", "a: 1\n", &error);
	hs_seat *seat = hs_answers_seat(answers, 0, NULL);
	hs_engine engine = fake_engine();
	engine.ask_id = "a";
	hs_ask asked = {.kind = HS_ASK_DONE, .step = -1};
	hs_ask_words words = {.bare = HS_UNIT_COUNT};
	hs_input input;
	hs_input_init(&input);
	seat->show(seat, "text");
	assert_true(seat->ask(seat, &engine, &asked, &words, &input, &error));
	assert_string_equal(input.text.data, "1");
	hs_input_free(&input);
	hs_seat_close(seat);
	hs_seat_close(NULL);
	hs_answers_free(answers);
	hs_answers_free(NULL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(lines_are_understood),
	    cmocka_unit_test(a_time_holds_for_one_answer),
	    cmocka_unit_test(mistakes_name_file_and_line),
	    cmocka_unit_test(mistakes_bring_quote_and_hint),
	    cmocka_unit_test(files_as_editors_leave_them),
	    cmocka_unit_test(a_session_reads_like_one),
	    cmocka_unit_test(another_ask_stops_with_both_names),
	    cmocka_unit_test(the_end_pauses),
	    cmocka_unit_test(the_clock_is_virtual),
	    cmocka_unit_test(too_early_needs_something_to_wait_for),
	    cmocka_unit_test(a_silent_seat_prints_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
