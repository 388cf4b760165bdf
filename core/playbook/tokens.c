/* A Lua source into tokens; any text whatever, also one that is not Lua. */
#include "tokens.h"

#include <stdlib.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/text.h"

enum { BYTES_OF_A_TOKEN = 6 };

typedef struct scanner {
	hs_places *places;
	size_t at;
	int line;
} scanner;

static char peek(const scanner *s, size_t ahead)
{
	return s->at + ahead < s->places->length ? s->places->text[s->at + ahead] : '\0';
}

static bool done(const scanner *s)
{
	return s->at >= s->places->length;
}

static void step(scanner *s)
{
	s->line += peek(s, 0) == '\n';
	s->at++;
}

static bool letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

static void emit(hs_places *places, token_kind kind, int line, size_t start, size_t end)
{
	places->tokens = hs_grow(places->tokens, &places->room, places->count + 1, sizeof *places->tokens);
	places->tokens[places->count++] = (token){kind, line, (uint32_t)start, (uint32_t)(end - start)};
}

/* At "[[" or "[==[": how many signs of equality, else -1. */
static long long_bracket(const scanner *s)
{
	size_t equals = 0;
	if (peek(s, 0) != '[')
		return -1;
	while (peek(s, 1 + equals) == '=')
		equals++;
	return peek(s, 1 + equals) == '[' ? (long)equals : -1;
}

static bool closes_long(const scanner *s, size_t equals)
{
	if (peek(s, 0) != ']' || peek(s, equals + 1) != ']')
		return false;
	for (size_t i = 1; i <= equals; i++)
		if (peek(s, i) != '=')
			return false;
	return true;
}

/* Behind the closing bracket, or at the end of the text. *start and *end are of what stands between. */
static void skip_long(scanner *s, size_t equals, size_t *start, size_t *end)
{
	s->at += equals + 2;
	*start = s->at;
	while (!done(s) && !closes_long(s, equals))
		step(s);
	*end = s->at;
	if (!done(s))
		s->at += equals + 2;
}

static void skip_comment(scanner *s)
{
	size_t start, end;
	s->at += 2;
	long equals = long_bracket(s);
	if (equals >= 0) {
		skip_long(s, (size_t)equals, &start, &end);
		return;
	}
	const char *end_of_line = memchr(s->places->text + s->at, '\n', s->places->length - s->at);
	s->at = end_of_line ? (size_t)(end_of_line - s->places->text) : s->places->length;
}

static void scan_string(scanner *s)
{
	char quote = peek(s, 0);
	int line = s->line;
	size_t start = ++s->at;
	const char stops[] = {quote, '\n', '\\', '\0'};
	for (;;) {
		s->at += strcspn(s->places->text + s->at, stops);
		if (done(s) || peek(s, 0) != '\\')
			break;
		step(s);
		if (!done(s))
			step(s);
	}
	emit(s->places, TOKEN_STRING, line, start, s->at < s->places->length ? s->at : s->places->length);
	if (!done(s) && peek(s, 0) == quote)
		s->at++;
}

static void scan_word(scanner *s, token_kind kind)
{
	const char *start = s->places->text + s->at, *at = start;
	while (letter(*at) || token_digit(*at) || (kind == TOKEN_NUMBER && *at == '.'))
		at++;
	size_t length = (size_t)(at - start);
	emit(s->places, kind, s->line, s->at, s->at + length);
	s->at += length;
}

static void skip_white(scanner *s)
{
	const char *at = s->places->text + s->at;
	for (; *at == ' ' || (*at >= '\t' && *at <= '\r'); at++)
		s->line += *at == '\n';
	s->at = (size_t)(at - s->places->text);
}

static void scan_token(scanner *s)
{
	char c = peek(s, 0);
	long equals = c == '[' ? long_bracket(s) : -1;
	int line = s->line;
	size_t start, end;
	if (c == '-' && peek(s, 1) == '-') {
		skip_comment(s);
	} else if (equals >= 0) {
		skip_long(s, (size_t)equals, &start, &end);
		emit(s->places, TOKEN_STRING, line, start, end);
	} else if (c == '"' || c == '\'') {
		scan_string(s);
	} else if (letter(c)) {
		scan_word(s, TOKEN_NAME);
	} else if (token_digit(c)) {
		scan_word(s, TOKEN_NUMBER);
	} else if (c == ' ' || (c >= '\t' && c <= '\r')) {
		skip_white(s);
	} else {
		emit(s->places, TOKEN_MARK, line, s->at, s->at + 1);
		s->at++;
	}
}

hs_places *hs_places_new(const char *text)
{
	hs_places *places = hs_alloc(sizeof *places);
	places->text = text;
	places->length = strlen(text);
	places->tokens = hs_grow(NULL, &places->room, places->length / BYTES_OF_A_TOKEN, sizeof *places->tokens);
	scanner s = {places, 0, 1};
	while (!done(&s))
		scan_token(&s);
	emit(places, TOKEN_END, s.line, places->length, places->length);
	return places;
}

void hs_places_free(hs_places *places)
{
	if (!places)
		return;
	free(places->tokens);
	free(places);
}

bool hs_places_line_text(const hs_places *places, int line, char *out, size_t room)
{
	const char *at = places->text;
	hs_copy(out, room, "");
	if (line < 1)
		return false;
	for (int i = 1; i < line && at; i++) {
		at = strchr(at, '\n');
		at = at ? at + 1 : NULL;
	}
	if (!at)
		return false;
	size_t length = strcspn(at, "\n");
	char *copy = hs_alloc(length + 1);
	memcpy(copy, at, length);
	hs_copy(out, room, hs_trim(copy));
	free(copy);
	return true;
}
