/* The answers file as data. */
#include "halfsplit/seat/answers.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/file.h"

typedef struct answers_parser {
	hs_answers *answers;
	bool timed; /* a time waits for its answer */
	int64_t offset_ms;
	int timed_line;
} answers_parser;

static bool bad(const answers_parser *parser, int line, const char *quote, hs_error *error)
{
	hs_fail_at(error, parser->answers->path, line);
	hs_copy(error->quote, sizeof error->quote, quote);
	return false;
}

static void keep(answers_parser *parser, hs_input_kind kind, const char *ask, const char *text, int line)
{
	hs_answers *answers = parser->answers;
	answers->lines = hs_grow(answers->lines, &answers->room, answers->count + 1, sizeof *answers->lines);
	answers->lines[answers->count++] = (hs_answer_line){
	    .kind = kind,
	    .ask = ask,
	    .text = hs_arena_str(answers->arena, text),
	    .timed = parser->timed,
	    .offset_ms = parser->offset_ms,
	    .line = line,
	};
	parser->timed = false;
	parser->offset_ms = 0;
}

static const struct command {
	const char *word;
	hs_input_kind kind;
	bool with_text, needs_text;
} commands[] = {
    {"redo", HS_INPUT_REDO, false, false},  {"pause", HS_INPUT_PAUSE, true, false},
    {"leave", HS_INPUT_LEAVE, true, false}, {"stop", HS_INPUT_STOP, true, false},
    {"note", HS_INPUT_NOTE, true, true},    {"why", HS_INPUT_WHY, false, false},
    {"show", HS_INPUT_SHOW, false, false},  {"large", HS_INPUT_LARGE, false, false},
    {"help", HS_INPUT_HELP, false, false},  {"handover", HS_INPUT_HANDOVER, true, true},
};

#define COMMANDS (sizeof commands / sizeof *commands)

static bool unknown_command(const answers_parser *parser, const char *whole, const char *word, int line,
                            hs_error *error)
{
	const char *known[COMMANDS];
	for (size_t i = 0; i < COMMANDS; i++)
		known[i] = commands[i].word;
	hs_fail(error, HS_BAD_INPUT, "!%.40s is not a command of an answers file.", word);
	const char *near = hs_nearest(word, known, COMMANDS);
	if (near)
		hs_fail_hint(error, "Did you mean !%s?", near);
	else
		hs_fail_hint(error, "There are !redo, !note TEXT, !pause, !leave, !stop, !why, !show, !large and !help.");
	return bad(parser, line, whole, error);
}

static bool read_command(answers_parser *parser, const char *whole, int line, hs_error *error)
{
	hs_buf word;
	hs_buf_init(&word);
	size_t length = strcspn(whole + 1, " \t");
	hs_buf_add(&word, whole + 1, length);
	if (length > 0 && word.data[length - 1] == ':')
		word.data[length - 1] = '\0';
	const char *text = whole + 1 + length + strspn(whole + 1 + length, " \t");
	const struct command *found = NULL;
	for (size_t i = 0; i < COMMANDS && !found; i++)
		if (strcmp(commands[i].word, word.data) == 0)
			found = &commands[i];
	bool good = true;
	if (!found) {
		good = unknown_command(parser, whole, word.data, line, error);
	} else if (*text && !found->with_text) {
		hs_fail(error, HS_BAD_INPUT, "!%s takes nothing behind it.", found->word);
		good = bad(parser, line, whole, error);
	} else if (!*text && found->needs_text) {
		hs_fail(error, HS_BAD_INPUT, "!%s wants its text on the same line.", found->word);
		good = bad(parser, line, whole, error);
	} else {
		keep(parser, found->kind, NULL, text, line);
	}
	hs_buf_free(&word);
	return good;
}

/* "+5 s", "-0.5 s", "+16 min": a sign always, because without one it would not say whether before or after. */
static bool read_offset(const char *text, int64_t *offset_ms)
{
	hs_quantity time;
	bool minus = text[0] == '-';
	size_t length = strlen(text), minutes = 1;
	char number[32];
	if ((!minus && text[0] != '+') || text[1] < '0' || text[1] > '9' || length >= sizeof number)
		return false;
	hs_copy(number, sizeof number, text + 1);
	if (length > 4 && strcmp(number + length - 1 - 3, "min") == 0) {
		minutes = 60;
		hs_copy(number + length - 1 - 3, 2, "s");
	}
	if (!hs_quantity_read(number, HS_UNIT_COUNT, &time, NULL) || time.unit != HS_SECOND)
		return false;
	double ms = time.value * 1000 * (double)minutes;
	if (!(ms >= 0 && ms <= 1e12))
		return false;
	*offset_ms = (int64_t)llround(minus ? -ms : ms);
	return true;
}

static bool set_time(answers_parser *parser, const char *text, const char *whole, int line, hs_error *error)
{
	if (parser->timed) {
		hs_fail(error, HS_BAD_INPUT, "This is a second time for one answer; the first is on line %d.",
		        parser->timed_line);
		return bad(parser, line, whole, error);
	}
	if (!read_offset(text, &parser->offset_ms)) {
		hs_fail(error, HS_BAD_INPUT,
		        "@%.40s is not a time: wanted @+5 s (after the earliest time) or @-5 s (before it).", text);
		return bad(parser, line, whole, error);
	}
	parser->timed = true;
	parser->timed_line = line;
	return true;
}

/* A time behind the answer, "gate/waited/C7: waited @-5 s", is cut off and set; an @ that is no time stays in the
 * answer. */
static bool cut_time(answers_parser *parser, char *answer, const char *whole, int line, hs_error *error)
{
	char *at = strrchr(answer, '@');
	int64_t offset;
	if (!at || (at > answer && at[-1] != ' ') || !read_offset(at + 1, &offset))
		return true;
	if (!set_time(parser, at + 1, whole, line, error))
		return false;
	*at = '\0';
	return true;
}

static bool is_ask_name(const char *name)
{
	size_t length = strlen(name);
	return length > 0 && length < 256 && name[0] != '/' && name[length - 1] != '/' &&
	       strspn(name, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._+-/") == length;
}

static bool read_answer(answers_parser *parser, char *text, const char *whole, int line, hs_error *error)
{
	hs_arena *arena = parser->answers->arena;
	char *colon = strstr(text, ": ");
	size_t length = strlen(text);
	if (!colon && length > 0 && text[length - 1] == ':')
		colon = text + length - 1;
	if (!colon) {
		hs_fail(error, HS_BAD_INPUT,
		        "This line is no answer: wanted \"STEP: ANSWER\", a !command, an @time or a # comment.");
		return bad(parser, line, whole, error);
	}
	char *name = hs_arena_strn(arena, text, (size_t)(colon - text));
	if (!is_ask_name(name)) {
		hs_fail(error, HS_BAD_INPUT, "\"%.60s\" in front of the colon is not the name of anything asked.",
		        name);
		hs_fail_hint(error, "Names look like drive-at-tp2, rails/p12, gate/waited/C7 or intake/words.");
		return bad(parser, line, whole, error);
	}
	char *answer = hs_trim(hs_arena_str(arena, colon + 1));
	if (!cut_time(parser, answer, whole, line, error))
		return false;
	keep(parser, HS_INPUT_ANSWER, name, hs_trim(answer), line);
	return true;
}

/* Where a time ends: behind "+5s", or behind the unit that stands apart in "+5 s". */
static char *end_of_time(char *text)
{
	int64_t offset;
	char *end = text + strcspn(text, " \t");
	char kept = *end;
	*end = '\0';
	bool whole = read_offset(text, &offset);
	*end = kept;
	if (whole)
		return end;
	end += strspn(end, " \t");
	return end + strcspn(end, " \t");
}

/* "@+5 s", alone or in front of an answer or a command. */
static bool read_timed(answers_parser *parser, char *text, int line, hs_error *error)
{
	char *end = end_of_time(text + 1);
	char *rest = end + strspn(end, " \t");
	hs_buf time;
	hs_buf_init(&time);
	hs_buf_add(&time, text + 1, (size_t)(end - text - 1));
	bool good = set_time(parser, time.data, text, line, error);
	hs_buf_free(&time);
	if (!good || !*rest)
		return good;
	if (rest[0] == '!')
		return read_command(parser, rest, line, error);
	return read_answer(parser, rest, text, line, error);
}

static bool read_line(answers_parser *parser, char *raw, int line, hs_error *error)
{
	char *text = hs_trim(raw);
	switch (text[0]) {
	case '\0':
	case '#':
		return true;
	case '!':
		return read_command(parser, text, line, error);
	case '@':
		return read_timed(parser, text, line, error);
	default:
		return read_answer(parser, text, text, line, error);
	}
}

static bool read_all(answers_parser *parser, char *text, hs_error *error)
{
	for (int line = 1; *text; line++) {
		size_t length = strcspn(text, "\n");
		bool more = text[length] == '\n';
		text[length] = '\0';
		if (!read_line(parser, text, line, error))
			return false;
		text += length + more;
	}
	if (parser->timed) {
		hs_fail(error, HS_BAD_INPUT, "A time stands here, but no answer follows it.");
		return bad(parser, parser->timed_line, "", error);
	}
	return true;
}

hs_answers *hs_answers_parse(const char *path, const char *text, hs_error *error)
{
	hs_answers *answers = hs_alloc(sizeof *answers);
	answers->arena = hs_arena_new();
	answers->path = hs_arena_str(answers->arena, path);
	answers_parser parser = {.answers = answers};
	if (read_all(&parser, hs_arena_str(answers->arena, text), error))
		return answers;
	hs_answers_free(answers);
	return NULL;
}

hs_answers *hs_answers_load(const char *path, hs_error *error)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_answers *answers = NULL;
	if (hs_file_read(path, "answers file", HS_ANSWERS_MOST, &text, error) &&
	    hs_file_text(path, "answers file", &text, error))
		answers = hs_answers_parse(path, text.data, error);
	hs_buf_free(&text);
	return answers;
}

void hs_answers_free(hs_answers *answers)
{
	if (!answers)
		return;
	free(answers->lines);
	hs_arena_free(answers->arena);
	free(answers);
}
