/* What the keys of a keypad stand for, and that no gate passes by habit. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/seat/keypad.h"
#include "halfsplit/seat/seat.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* What the keys mean, or NULL when they stand for themselves. */
static const char *means(const hs_ask_words *words, const char *typed, char kept[128])
{
	hs_buf out;
	hs_buf_init(&out);
	bool stand = hs_keypad_means(words, typed, &out);
	hs_copy(kept, 128, stand ? out.data : "");
	hs_buf_free(&out);
	return stand ? kept : NULL;
}

static void readings_without_letters(void **state)
{
	(void)state;
	static const struct { hs_unit unit; const char *typed, *means; } rows[] = {
		{HS_OHM, "2.2*3", "2.2 kohm"}, {HS_OHM, "20*6", "20 Mohm"}, {HS_VOLT, "150/3", "150 mV"}, {HS_VOLT, "-4/6", "-4 uV"},
		{HS_HERTZ, "1.5*9", "1.5 GHz"}, {HS_VOLT, "*0", "not read: it cannot be reached or read"}, {HS_VOLT, "*1", "OL"},
		{HS_OHM, "*2", "open"}, {HS_DBM, "*3", "same"}, {HS_OHM, "*+20", "> 20"}, {HS_DBM, "*--95", "< -95"},
		/* What a number says already, and what is nothing, stays as typed. */
		{HS_VOLT, "12", NULL}, {HS_VOLT, "-3.1", NULL}, {HS_VOLT, "+3", NULL}, {HS_VOLT, "", NULL}, {HS_VOLT, "*", NULL},
		{HS_VOLT, "*4", NULL}, {HS_VOLT, "2*4", NULL}, {HS_VOLT, "*3*3", NULL}, {HS_VOLT, "/3", NULL}, {HS_VOLT, "*+", NULL},
		/* Decibels have no thousands, and a count has its own stroke. */
		{HS_DBM, "2*3", NULL}, {HS_DB, "2/3", NULL}, {HS_UNITLESS, "2/3", NULL}, {HS_UNIT_COUNT, "*0", NULL},
	};
	char kept[128];
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_ask_words words = {.bare = rows[i].unit};
		const char *got = means(&words, rows[i].typed, kept);
		if (rows[i].means == NULL)
			assert_null(got);
		else
			assert_string_equal(got, rows[i].means);
	}
}

static void sentences_have_ready_ones(void **state)
{
	(void)state;
	hs_ask_words words = {.bare = HS_UNIT_COUNT, .stock = {"nothing", "whole"}, .stock_count = 2};
	char kept[128];
	assert_string_equal(means(&words, "0", kept), "nothing");
	assert_string_equal(means(&words, "1", kept), "whole");
	assert_null(means(&words, "2", kept));
	assert_null(means(&words, "01", kept));
	assert_null(means(&words, "10", kept));
}

static void words_that_are_numbers_mean_themselves(void **state)
{
	(void)state;
	hs_ask_words words = {.bare = HS_UNIT_COUNT, .choices = {{"10", NULL}, {"20", NULL}, {"unknown", NULL}}, .choice_count = 3};
	char kept[128];
	assert_null(means(&words, "1", kept));
	assert_null(means(&words, "10", kept));
	assert_null(means(&words, "*1", kept));
	assert_string_equal(means(&words, "*3", kept), "unknown");
}

static hs_ask_words gate_of(size_t count)
{
	hs_ask_words words = {.bare = HS_UNIT_COUNT, .is_gate = true, .choices = {{"hand", NULL}, {"sight", NULL}, {"lock", NULL}, {"else", NULL}}};
	words.choice_count = count;
	return words;
}

/* Over many runs and gates: two different digits, no 1 in front, never the code of the gate before, all of one gate different. */
static void codes_have_to_be_read(void **state)
{
	(void)state;
	char kept[128], run[16], before[4] = "";
	size_t kinds = 0;
	bool seen[100] = {false};
	for (int r = 0; r < 40; r++) {
		snprintf(run, sizeof run, "r%d", r);
		for (size_t answers = 0; answers < 50; answers++) {
			hs_ask_words words = gate_of(4);
			hs_keypad_codes(run, answers, &words);
			for (size_t i = 0; i < 4; i++) {
				const char *key = words.keys[i];
				assert_int_equal(strlen(key), 2);
				assert_true(key[0] >= '2' && key[0] <= '9' && key[1] >= '0' && key[1] <= '9' && key[0] != key[1]);
				assert_string_not_equal(key, before);
				for (size_t k = 0; k < i; k++)
					assert_string_not_equal(key, words.keys[k]);
				assert_string_equal(means(&words, key, kept), words.choices[i].word);
			}
			hs_copy(before, sizeof before, words.keys[0]);
			int number = (before[0] - '0') * 10 + before[1] - '0';
			kinds += !seen[number];
			seen[number] = true;
		}
	}
	assert_true(kinds > 40);
}

static void nothing_else_passes_a_gate(void **state)
{
	(void)state;
	static const char *const typed[] = {"", "0", "1", "2", "3", "11", "22", "00", "*1", "*0", "*", "/", "+", "."};
	char kept[128];
	hs_ask_words words = gate_of(3), bare = gate_of(3);
	hs_keypad_codes("one run", 7, &words);
	hs_keypad_codes(NULL, 7, &bare);
	for (size_t i = 0; i < COUNT(typed); i++) {
		assert_null(means(&words, typed[i], kept));
		assert_null(means(&bare, typed[i], kept));
	}
	hs_ask_words again = gate_of(3), next = gate_of(3);
	hs_keypad_codes("one run", 7, &again);
	assert_string_equal(words.keys[0], again.keys[0]);
	hs_keypad_codes("one run", 8, &next);
	assert_null(means(&next, words.keys[0], kept));
	hs_ask_words choice = gate_of(3);
	choice.is_gate = false;
	hs_keypad_codes("one run", 7, &choice);
	assert_string_equal(choice.keys[0], "");
	assert_string_equal(means(&choice, "1", kept), "hand");
	/* A reading at a gate is a plain number: nothing stands in for it. */
	hs_ask_words volts = {.bare = HS_VOLT, .is_gate = true};
	assert_null(means(&volts, "*3", kept));
	assert_null(means(&volts, "*0", kept));
}

static void commands_without_letters(void **state)
{
	(void)state;
	static const struct { const char *typed; hs_input_kind kind; } rows[] = {
		{"/0", HS_INPUT_STOP}, {"/1", HS_INPUT_HELP}, {"/2", HS_INPUT_WHY}, {"/3", HS_INPUT_SHOW}, {"/4", HS_INPUT_REDO},
		{"/5", HS_INPUT_PAUSE}, {"/6", HS_INPUT_LEAVE}, {"/7", HS_INPUT_LARGE}, {"/8", HS_INPUT_ANSWER}, {"/00", HS_INPUT_ANSWER}, {"0/0", HS_INPUT_ANSWER},
	};
	hs_ask_words asks[] = {gate_of(3), {.bare = HS_VOLT}, {.bare = HS_UNIT_COUNT}};
	for (size_t a = 0; a < COUNT(asks); a++)
		for (size_t i = 0; i < COUNT(rows); i++) {
			hs_input input;
			hs_input_init(&input);
			hs_input_read(&asks[a], rows[i].typed, &input);
			assert_int_equal(input.kind, rows[i].kind);
			hs_input_free(&input);
		}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(readings_without_letters),  cmocka_unit_test(sentences_have_ready_ones),
	    cmocka_unit_test(words_that_are_numbers_mean_themselves), cmocka_unit_test(codes_have_to_be_read),
	    cmocka_unit_test(nothing_else_passes_a_gate), cmocka_unit_test(commands_without_letters),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
