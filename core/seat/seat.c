/* What every seat shares: typed lines and their meaning, and stamps. */
#include "halfsplit/seat/seat.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/seat/keypad.h"

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
    {"show me", HS_INPUT_SHOW, false}, {"show kit", HS_INPUT_SHOW, false}, {"note", HS_INPUT_NOTE, true},   {"redo", HS_INPUT_REDO, false},
    {"pause", HS_INPUT_PAUSE, true},   {"leave", HS_INPUT_LEAVE, true},
    {"handover", HS_INPUT_HANDOVER, true},
    /* A keypad has no letters. */
    {"/0", HS_INPUT_STOP, false},      {"/1", HS_INPUT_HELP, false},    {"/2", HS_INPUT_WHY, false},
    {"/3", HS_INPUT_SHOW, false},      {"/4", HS_INPUT_REDO, false},    {"/5", HS_INPUT_PAUSE, false},
    {"/6", HS_INPUT_LEAVE, false},     {"large", HS_INPUT_LARGE, false}, {"/7", HS_INPUT_LARGE, false},
};

/* Free text may begin with any word: "leave it on for an hour and it fails" is a symptom, not a command. */
bool hs_input_is_sentence(const hs_ask_words *words)
{
	return !words->is_gate && !words->is_file && !words->is_act && words->choice_count == 0 && words->bare == HS_UNIT_COUNT && !words->enter_ok;
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
static const char *after_word(const typed_command *command, const char *line, bool marked, bool free_text, bool act)
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
	/* "help read" where the act is asked for: help lists them all. */
	if (command->kind == HS_INPUT_HELP && act && command->word[0] == 'h' && (*rest == ' ' || *rest == '\t'))
		return "";
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
		const char *rest = after_word(&commands[i], word, marked, hs_input_is_sentence(words), words->is_act);
		if (!rest || (!marked && commands[i].kind != HS_INPUT_STOP && offers(words, typed)))
			continue;
		char *text = hs_strdup(rest);
		input->kind = commands[i].kind;
		hs_buf_str(&input->text, strcmp(commands[i].word, "show kit") == 0 ? "kit" : hs_trim(text));
		free(text);
		free(copy);
		return;
	}
	input->kind = HS_INPUT_ANSWER;
	if (!hs_keypad_means(words, typed, &input->text))
		hs_buf_str(&input->text, typed);
	free(copy);
}

const char *hs_input_mistakable(const hs_ask_words *words, const char *answer)
{
	if (!hs_input_is_sentence(words))
		return NULL;
	for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
		if (commands[i].with_text && after_word(&commands[i], answer, true, true, false))
			return commands[i].word;
	return NULL;
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
