#include "halfsplit/seat/keypad.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/hash.h"
#include "halfsplit/base/number.h"

static bool all_digits(const char *text)
{
	return *text && text[strspn(text, "0123456789")] == '\0';
}

/* Where an answer is itself a number, a number in front of it would be taken for it. */
static bool words_are_numbers(const hs_ask_words *words)
{
	for (size_t i = 0; i < words->choice_count; i++)
		if (all_digits(words->choices[i].word))
			return true;
	return false;
}

/* Tens are even behind an even count of answers and odd behind an odd one, so a gate never has the code of the one before. */
void hs_keypad_codes(const char *run, size_t answers, hs_ask_words *words)
{
	static const char tens[2][4] = {{'2', '4', '6', '8'}, {'3', '5', '7', '9'}};
	char hex[HS_HEX_ROOM];
	hs_buf seed;
	if (!run || !words->is_gate || words->choice_count > 4)
		return;
	hs_buf_init(&seed);
	hs_buf_printf(&seed, "keypad %s %zu", run, answers);
	hs_sha256_hex(seed.data, seed.length, hex);
	hs_buf_free(&seed);
	char *end;
	hex[8] = '\0';
	unsigned long number = strtoul(hex, &end, 16);
	for (size_t i = 0; i < words->choice_count; i++) {
		char first = tens[answers % 2][(number + i) % 4];
		char second = (char)('0' + (number / 4 + i) % 10);
		if (second == first)
			second = second == '9' ? '0' : (char)(second + 1);
		snprintf(words->keys[i], sizeof words->keys[i], "%c%c", first, second);
	}
}

bool hs_keypad_key(const hs_ask_words *words, size_t choice, char key[HS_KEY_ROOM])
{
	key[0] = '\0';
	if (words->is_gate)
		hs_copy(key, HS_KEY_ROOM, words->keys[choice]);
	else if (!words_are_numbers(words))
		snprintf(key, HS_KEY_ROOM, "%zu", choice + 1);
	else if (!all_digits(words->choices[choice].word))
		snprintf(key, HS_KEY_ROOM, "*%zu", choice + 1);
	return key[0] != '\0';
}

/* A number with *3 or /3 behind it: thousands of the unit, or thousandths. */
static bool scaled(const hs_ask_words *words, const char *typed, hs_buf *out)
{
	static const struct { const char *ending, *prefix; } scales[] = {{"*3", "k"}, {"*6", "M"}, {"*9", "G"}, {"/3", "m"}, {"/6", "u"}, {"/9", "n"}};
	hs_unit unit = words->bare;
	size_t length = strlen(typed);
	if (unit >= HS_UNIT_COUNT || hs_unit_is_level(unit) || unit == HS_DB || unit == HS_PERCENT || unit == HS_DEGC || !*hs_unit_name(unit) || length < 3)
		return false;
	char number[64];
	double value;
	hs_copy(number, length - 1 < sizeof number ? length - 1 : sizeof number, typed);
	for (size_t i = 0; i < sizeof scales / sizeof *scales; i++)
		if (strcmp(typed + length - 2, scales[i].ending) == 0 && hs_number_read(number, &value)) {
			hs_buf_printf(out, "%s %s%s", number, scales[i].prefix, hs_unit_name(unit));
			return true;
		}
	return false;
}

/* What a meter shows or a technician says in place of a number. */
static bool instead_of_a_number(const char *typed, hs_buf *out)
{
	static const struct { const char *keys, *means; } rows[] = {
	    {"*0", "not read: it cannot be reached or read"}, {"*1", "OL"}, {"*2", "open"}, {"*3", "same"}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (strcmp(typed, rows[i].keys) == 0) {
			hs_buf_str(out, rows[i].means);
			return true;
		}
	double value;
	if (typed[0] != '*' || (typed[1] != '+' && typed[1] != '-') || !hs_number_read(typed + 2, &value))
		return false;
	hs_buf_printf(out, "%c %s", typed[1] == '+' ? '>' : '<', typed + 2);
	return true;
}

bool hs_keypad_means(const hs_ask_words *words, const char *typed, hs_buf *out)
{
	char key[HS_KEY_ROOM];
	for (size_t i = 0; i < words->choice_count; i++)
		if (hs_keypad_key(words, i, key) && strcmp(typed, key) == 0) {
			hs_buf_str(out, words->choices[i].word);
			return true;
		}
	if (typed[0] >= '0' && typed[0] <= '9' && typed[1] == '\0' && (size_t)(typed[0] - '0') < words->stock_count) {
		hs_buf_str(out, words->stock[typed[0] - '0']);
		return true;
	}
	if (words->is_gate || words->bare >= HS_UNIT_COUNT)
		return false;
	return scaled(words, typed, out) || instead_of_a_number(typed, out);
}

void hs_keypad_help(const hs_ask_words *words, hs_buf *out)
{
	if (words->is_gate && words->choice_count > 0)
		hs_buf_str(out, "the code beside the word stands for it, and changes from gate to gate; ");
	else if (words->stock_count > 0)
		hs_buf_str(out, "the digit stands for its sentence; ");
	else if (words->choice_count > 0)
		hs_buf_str(out, "the number stands for its word; ");
	else if (words->bare < HS_UNIT_COUNT && !words->is_gate)
		hs_buf_str(out, "2.2*3 is 2.2 thousand of the unit, 150/3 thousandths (6 and 9 likewise); *0 not read, *1 over range, *2 open, *3 same, "
		                "*+20 more than 20, *-20 less; ");
	hs_buf_str(out, "/1 help, /2 why, /3 show, /4 redo, /5 pause, /6 leave, /7 large type, /0 stop.");
}
