/* What every seat shares: typed lines and their meaning, and stamps. */
#include "halfsplit/seat/seat.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"

void hs_input_init(hs_input *input)
{
	input->kind = HS_INPUT_ANSWER;
	hs_buf_init(&input->text);
}

void hs_input_free(hs_input *input)
{
	hs_buf_free(&input->text);
}

typedef struct typed_command {
	const char *word;
	hs_input_kind kind;
	bool with_text; /* a remark or reason may follow */
} typed_command;

static const typed_command commands[] = {
    {"stop", HS_INPUT_STOP, true},     {"help", HS_INPUT_HELP, false},  {"?", HS_INPUT_HELP, false},
    {"why", HS_INPUT_WHY, false},      {"why?", HS_INPUT_WHY, false},   {"show", HS_INPUT_SHOW, false},
    {"show me", HS_INPUT_SHOW, false}, {"note", HS_INPUT_NOTE, true},   {"redo", HS_INPUT_REDO, false},
    {"pause", HS_INPUT_PAUSE, true},   {"leave", HS_INPUT_LEAVE, true},
};

/* Free text may begin with any word: "leave it on for an hour and it fails" is a symptom, not a command. */
bool hs_input_is_sentence(const hs_ask_words *words)
{
	return !words->is_gate && !words->is_act && words->choice_count == 0 && words->bare == HS_UNIT_COUNT && !words->enter_ok;
}

static bool offers(const hs_ask_words *words, const char *word)
{
	for (size_t i = 0; i < words->choice_count; i++)
		if (hs_same_word(words->choices[i].word, word))
			return true;
	return false;
}

/* The text behind the command word: NULL when the line is not this command, else what follows ("" when nothing does).
 */
static const char *after_word(const typed_command *command, const char *line, bool marked, bool free_text)
{
	size_t length = strlen(command->word);
	char head[16];
	if (strlen(line) < length)
		return NULL;
	hs_copy(head, length + 1, line);
	if (!hs_same_word(head, command->word))
		return NULL;
	const char *rest = line + length;
	if (!*rest)
		return rest;
	if (!command->with_text)
		return NULL;
	if (*rest == ':' || (command->kind == HS_INPUT_STOP && strchr("!.,;-", *rest))) /* nobody spells in danger */
		return rest + strspn(rest, ":!.,;-");
	if (*rest != ' ' && *rest != '\t')
		return NULL;
	bool always = command->kind == HS_INPUT_STOP || command->kind == HS_INPUT_NOTE;
	return always || marked || !free_text ? rest : NULL;
}

void hs_input_read(const hs_ask_words *words, const char *line, hs_input *input)
{
	char *copy = hs_strdup(line);
	const char *typed = hs_trim(copy);
	bool marked = typed[0] == '!';
	const char *word = typed + marked;
	hs_buf_clear(&input->text);
	for (size_t i = 0; i < sizeof commands / sizeof *commands; i++) {
		const char *rest = after_word(&commands[i], word, marked, hs_input_is_sentence(words));
		if (!rest || (!marked && commands[i].kind != HS_INPUT_STOP && offers(words, typed)))
			continue;
		char *text = hs_strdup(rest);
		input->kind = commands[i].kind;
		hs_buf_str(&input->text, hs_trim(text));
		free(text);
		free(copy);
		return;
	}
	const char *chosen = hs_screen_chosen(words, typed);
	input->kind = HS_INPUT_ANSWER;
	hs_buf_str(&input->text, chosen ? chosen : typed);
	free(copy);
}

const char *hs_input_mistakable(const hs_ask_words *words, const char *answer)
{
	if (!hs_input_is_sentence(words))
		return NULL;
	for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
		if (commands[i].with_text && after_word(&commands[i], answer, true, true))
			return commands[i].word;
	return NULL;
}

/* Civil date of a day since 1970-01-01, and back: Gregorian rules over 400-year eras that begin in March. */
static void civil(int64_t day, int *year, int *month, int *of_month)
{
	int64_t shifted = day + 719468;
	int64_t era = shifted / 146097, of_era = shifted % 146097;
	int64_t year_of_era = (of_era - of_era / 1460 + of_era / 36524 - of_era / 146096) / 365;
	int64_t of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
	int64_t march_month = (5 * of_year + 2) / 153;
	*of_month = (int)(of_year - (153 * march_month + 2) / 5 + 1);
	*month = (int)(march_month < 10 ? march_month + 3 : march_month - 9);
	*year = (int)(year_of_era + era * 400 + (*month <= 2));
}

static int64_t day_of(int year, int month, int of_month)
{
	int64_t y = year - (month <= 2), era = y / 400, year_of_era = y % 400;
	int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + of_month - 1;
	return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + of_year - 719468;
}

#define DAY_MS     86400000LL
#define UTC_MS_END 253402300800000LL /* the year 10000 */

void hs_utc_print(int64_t utc_ms, char stamp[HS_STAMP_ROOM])
{
	if (utc_ms < 0)
		utc_ms = 0;
	if (utc_ms >= UTC_MS_END)
		utc_ms = UTC_MS_END - 1;
	int year, month, of_month;
	civil(utc_ms / DAY_MS, &year, &month, &of_month);
	int of_day = (int)(utc_ms % DAY_MS);
	snprintf(stamp, HS_STAMP_ROOM, "%04u-%02u-%02uT%02u:%02u:%02u.%03uZ", (unsigned)year % 10000u,
	         (unsigned)month % 100u, (unsigned)of_month % 100u, (unsigned)of_day / 3600000u % 24u,
	         (unsigned)of_day / 60000u % 60u, (unsigned)of_day / 1000u % 60u, (unsigned)of_day % 1000u);
}

bool hs_utc_read(const char *text, int64_t *utc_ms)
{
	static const char form[] = "dddd-dd-ddTdd:dd:dd.dddZ";
	int field[7] = {0}, at = 0;
	if (strlen(text) != sizeof form - 1)
		return false;
	for (size_t i = 0; form[i]; i++) {
		if (form[i] != 'd') {
			if (text[i] != form[i])
				return false;
			at++;
		} else if (text[i] < '0' || text[i] > '9') {
			return false;
		} else {
			field[at] = field[at] * 10 + (text[i] - '0');
		}
	}
	if (field[0] < 1970 || field[1] < 1 || field[1] > 12 || field[2] < 1)
		return false;
	int64_t of_day = ((field[3] * 60LL + field[4]) * 60 + field[5]) * 1000 + field[6];
	int64_t ms = day_of(field[0], field[1], field[2]) * DAY_MS + of_day;
	char again[HS_STAMP_ROOM];
	hs_utc_print(ms, again);
	if (strcmp(again, text) != 0) /* the 31st of June, the 25th hour */
		return false;
	*utc_ms = ms;
	return true;
}

int64_t hs_seat_stamp(hs_seat *seat, char stamp[HS_STAMP_ROOM])
{
	hs_utc_print(seat->now_utc_ms(seat), stamp);
	return seat->now_mono_ms(seat);
}

void hs_seat_close(hs_seat *seat)
{
	if (seat)
		seat->close(seat);
}
