/* What a typed line means at an ask, and stamps. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/seat/seat.h"
#include "fake_engine.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

typedef enum place { AT_LOOK, AT_READING, AT_FREE_TEXT, AT_DONE, AT_NAME, AT_ACT } place;

static hs_ask_words words_at(place where)
{
	hs_ask_words words = {.bare = where == AT_READING ? HS_DBM : HS_UNIT_COUNT, .is_gate = where == AT_NAME, .is_act = where == AT_ACT};
	static const char *const look[] = {"lit", "why", "stop", "dark"};
	if (where == AT_DONE) {
		words.choices[0].word = "done";
		words.choice_count = 1;
	}
	for (size_t i = 0; where == AT_LOOK && i < COUNT(look); i++) {
		words.choices[i].word = look[i];
		words.choice_count++;
	}
	return words;
}

static const struct {
	place where;
	const char *line;
	hs_input_kind kind;
	const char *text;
} lines[] = {
    {AT_READING, "-31.4", HS_INPUT_ANSWER, "-31.4"},
    {AT_READING, "  -31.4 dBm \r", HS_INPUT_ANSWER, "-31.4 dBm"},
    {AT_READING, "", HS_INPUT_ANSWER, ""},
    {AT_READING, "2", HS_INPUT_ANSWER, "2"},
    {AT_READING, "help", HS_INPUT_HELP, ""},
    {AT_READING, "?", HS_INPUT_HELP, ""},
    {AT_READING, "!?", HS_INPUT_HELP, ""},
    {AT_READING, "WHY", HS_INPUT_WHY, ""},
    {AT_READING, "why?", HS_INPUT_WHY, ""},
    {AT_READING, "show", HS_INPUT_SHOW, ""},
    {AT_READING, "show me", HS_INPUT_SHOW, ""},
    {AT_READING, "redo", HS_INPUT_REDO, ""},
    {AT_READING, "note fan is loud", HS_INPUT_NOTE, "fan is loud"},
    {AT_READING, "note: fan is loud", HS_INPUT_NOTE, "fan is loud"},
    {AT_READING, "note", HS_INPUT_NOTE, ""},
    {AT_READING, "notes", HS_INPUT_ANSWER, "notes"},
    {AT_READING, "pause", HS_INPUT_PAUSE, ""},
    {AT_READING, "pause lunch", HS_INPUT_PAUSE, "lunch"},
    {AT_READING, "leave", HS_INPUT_LEAVE, ""},
    {AT_READING, "handover Bo Linden", HS_INPUT_HANDOVER, "Bo Linden"},
    {AT_READING, "handover", HS_INPUT_HANDOVER, ""},
    {AT_READING, "stop", HS_INPUT_STOP, ""},
    {AT_READING, "STOP!!", HS_INPUT_STOP, ""},
    {AT_READING, "stop, smoke", HS_INPUT_STOP, "smoke"},
    {AT_READING, "stop smoke from C7", HS_INPUT_STOP, "smoke from C7"},
    {AT_READING, "stopped", HS_INPUT_ANSWER, "stopped"},
    {AT_READING, "help me", HS_INPUT_ANSWER, "help me"},
    {AT_READING, "!bogus", HS_INPUT_ANSWER, "!bogus"},
    {AT_DONE, "1", HS_INPUT_ANSWER, "done"},
    {AT_DONE, "leave now", HS_INPUT_LEAVE, "now"},
    {AT_LOOK, "1", HS_INPUT_ANSWER, "lit"},
    {AT_LOOK, "4", HS_INPUT_ANSWER, "dark"},
    {AT_LOOK, "5", HS_INPUT_ANSWER, "5"},
    {AT_LOOK, "why", HS_INPUT_ANSWER, "why"}, /* the ask's own word */
    {AT_LOOK, "!why", HS_INPUT_WHY, ""},
    {AT_LOOK, "stop", HS_INPUT_STOP, ""},    /* always stop */
    {AT_LOOK, "3", HS_INPUT_ANSWER, "stop"}, /* the third answer, chosen by its number */
    {AT_FREE_TEXT, "leave it on for an hour and it dies", HS_INPUT_ANSWER, "leave it on for an hour and it dies"},
    {AT_FREE_TEXT, "pause between beeps", HS_INPUT_ANSWER, "pause between beeps"},
    {AT_FREE_TEXT, "pause: lunch", HS_INPUT_PAUSE, "lunch"},
    {AT_FREE_TEXT, "!leave going home", HS_INPUT_LEAVE, "going home"},
    {AT_FREE_TEXT, "leave", HS_INPUT_LEAVE, ""},
    {AT_FREE_TEXT, "stop it smokes", HS_INPUT_STOP, "it smokes"},
    {AT_FREE_TEXT, "2", HS_INPUT_ANSWER, "2"},
    {AT_NAME, "Ben Holt", HS_INPUT_ANSWER, "Ben Holt"}, /* a gate that asks for a name asks for no sentence */
    {AT_NAME, "pause lunch", HS_INPUT_PAUSE, "lunch"},
    {AT_ACT, "pause lunch", HS_INPUT_PAUSE, "lunch"}, /* no act begins with a command's word */
    {AT_ACT, "TP3", HS_INPUT_ANSWER, "TP3"},
    {AT_ACT, "2", HS_INPUT_ANSWER, "2"},
    {AT_ACT, "note it hums", HS_INPUT_NOTE, "it hums"},
};

static void lines_mean_what_the_ask_allows(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(lines); i++) {
		hs_ask_words words = words_at(lines[i].where);
		hs_input input;
		hs_input_init(&input);
		hs_buf_str(&input.text, "left over");
		hs_input_read(&words, lines[i].line, &input);
		if (input.kind != lines[i].kind || strcmp(input.text.data, lines[i].text) != 0)
			fail_msg("\"%s\" gave kind %d, \"%s\"", lines[i].line, (int)input.kind, input.text.data);
		hs_input_free(&input);
	}
}

static const struct {
	place where;
	const char *answer, *command;
} mistakable[] = {
    {AT_FREE_TEXT, "pause between beeps", "pause"}, {AT_FREE_TEXT, "Leave it on", "leave"},
    {AT_FREE_TEXT, "paused", NULL},                 {AT_FREE_TEXT, "no light", NULL},
    {AT_FREE_TEXT, "redo it", NULL},                {AT_READING, "pause between beeps", NULL},
};

static void a_sentence_may_look_like_a_command(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(mistakable); i++) {
		hs_ask_words words = words_at(mistakable[i].where);
		const char *command = hs_input_mistakable(&words, mistakable[i].answer);
		if (!command || !mistakable[i].command)
			assert_true(command == mistakable[i].command);
		else
			assert_string_equal(command, mistakable[i].command);
	}
}

static const struct {
	int64_t ms;
	const char *text;
} stamps[] = {
    {0, "1970-01-01T00:00:00.000Z"},
    {951782399999, "2000-02-28T23:59:59.999Z"},
    {951782400000, "2000-02-29T00:00:00.000Z"},
    {951868800000, "2000-03-01T00:00:00.000Z"},
    {1795512600000, "2026-11-24T09:30:00.000Z"},
    {4107542400000, "2100-03-01T00:00:00.000Z"},
    {253402300799999, "9999-12-31T23:59:59.999Z"},
};

static void stamps_go_both_ways(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(stamps); i++) {
		char stamp[HS_STAMP_ROOM];
		int64_t back = -1;
		hs_utc_print(stamps[i].ms, stamp);
		assert_string_equal(stamp, stamps[i].text);
		assert_true(hs_utc_read(stamp, &back));
		assert_true(back == stamps[i].ms);
	}
}

static const char *const not_stamps[] = {
    "",
    "2026-11-24",
    "2026-11-24T09:30:00Z",
    "2026-11-24T09:30:00.000",
    "2026-11-31T09:30:00.000Z",
    "2026-02-29T00:00:00.000Z",
    "2026-00-01T00:00:00.000Z",
    "2026-13-01T00:00:00.000Z",
    "2026-11-24T24:00:00.000Z",
    "2026-11-24T09:60:00.000Z",
    "1969-12-31T23:59:59.000Z",
    "2026-11-24 09:30:00.000Z",
    "2026-11-24T09:30:00.000Z ",
    "2026-11-00T09:30:00.000Z",
};

static void what_is_no_stamp_is_refused(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(not_stamps); i++) {
		int64_t ms = 7;
		assert_false(hs_utc_read(not_stamps[i], &ms));
		assert_int_equal(ms, 7);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(lines_mean_what_the_ask_allows),
	    cmocka_unit_test(a_sentence_may_look_like_a_command),
	    cmocka_unit_test(stamps_go_both_ways),
	    cmocka_unit_test(what_is_no_stamp_is_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
