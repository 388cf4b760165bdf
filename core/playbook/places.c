#include "places.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/text.h"

enum { NAMES_OF_A_LINE = 100, BYTES_OF_A_TOKEN = 6 };

typedef enum token_kind {
	TOKEN_NAME,
	TOKEN_STRING, /* start and length are of what stands between the quotes */
	TOKEN_NUMBER,
	TOKEN_MARK, /* one character of punctuation */
	TOKEN_END
} token_kind;

/* Small, because a playbook has thousands; a source has at most 128 KiB. */
typedef struct token {
	token_kind kind;
	int line;
	uint32_t start;
	uint32_t length;
} token;

struct hs_places {
	char *text;
	size_t length;
	token *tokens; /* the last is TOKEN_END */
	size_t count;
	size_t room;
};

/* ---- Into tokens. ---- */

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

static bool digit(char c)
{
	return c >= '0' && c <= '9';
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
	while (letter(*at) || digit(*at) || (kind == TOKEN_NUMBER && *at == '.'))
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
	} else if (digit(c)) {
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
	places->text = hs_strdup(text);
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
	free(places->text);
	free(places);
}

/* ---- Over tokens: an index is always below count, and the last token stops every walk. ---- */

static const token *token_at(const hs_places *p, size_t index)
{
	return &p->tokens[index < p->count ? index : p->count - 1];
}

static bool is_mark(const hs_places *p, size_t index, char mark)
{
	const token *t = token_at(p, index);
	return t->kind == TOKEN_MARK && p->text[t->start] == mark;
}

static bool is_end(const hs_places *p, size_t index)
{
	return token_at(p, index)->kind == TOKEN_END;
}

static bool is_text(const hs_places *p, size_t index, const char *text)
{
	const token *t = token_at(p, index);
	return strlen(text) == t->length && memcmp(p->text + t->start, text, t->length) == 0;
}

static bool is_name(const hs_places *p, size_t index, const char *name)
{
	return token_at(p, index)->kind == TOKEN_NAME && is_text(p, index, name);
}

/* How a token changes the depth of brackets and blocks: a comma inside a function's body separates no fields. */
static int nesting(const hs_places *p, size_t index)
{
	static const char *const opening[] = {"function", "do", "if", "repeat"};
	const token *t = token_at(p, index);
	if (t->kind == TOKEN_MARK) {
		char mark = p->text[t->start];
		bool opens = mark == '(' || mark == '{' || mark == '[';
		return opens ? 1 : mark == ')' || mark == '}' || mark == ']' ? -1 : 0;
	}
	if (t->kind != TOKEN_NAME)
		return 0;
	if (is_name(p, index, "end") || is_name(p, index, "until"))
		return -1;
	for (size_t i = 0; i < sizeof opening / sizeof opening[0]; i++)
		if (is_name(p, index, opening[i]))
			return 1;
	return 0;
}

/* Behind the bracket that closes the one at index. */
static size_t skip_group(const hs_places *p, size_t index)
{
	int depth = 0;
	do {
		depth += nesting(p, index);
		index++;
	} while (depth > 0 && !is_end(p, index));
	return index;
}

/* ---- The table of a call. ---- */

/*
 * The first table constructor within the round brackets at index, those not nested in further brackets first; 0
 * when none.
 */
static size_t table_within(const hs_places *p, size_t index)
{
	size_t end = skip_group(p, index), nested = 0;
	int depth = 0;
	for (size_t i = index; i < end; i++) {
		if (is_mark(p, i, '{') && depth == 1)
			return i;
		if (is_mark(p, i, '{') && !nested)
			nested = i;
		depth += nesting(p, i);
	}
	return nested;
}

/* The arguments that follow the callee, one after another: "id", (…), {…}. Returns the table's '{', or 0. */
static size_t call_table(const hs_places *p, size_t callee, const char *id, bool *id_fits)
{
	size_t found = 0;
	bool named = false;
	*id_fits = !id;
	for (size_t i = callee + 1; !found;) {
		size_t first = i + (is_mark(p, i, '(') || is_mark(p, i, '{'));
		bool has_name = token_at(p, first)->kind == TOKEN_STRING;
		/* Only the first string names the call. */
		if (has_name && !named && id && is_text(p, first, id))
			*id_fits = true;
		named = named || has_name;
		if (is_mark(p, i, '{')) {
			found = i;
		} else if (is_mark(p, i, '(')) {
			size_t next = skip_group(p, i);
			if (!is_mark(p, next, '{') && !is_mark(p, next, '('))
				return table_within(p, i);
			i = next;
		} else if (token_at(p, i)->kind == TOKEN_STRING) {
			i++;
		} else {
			return 0;
		}
	}
	return found;
}

/* Every key of every call is looked up while a playbook is built, so the line is found by halving. */
static size_t first_of_line(const hs_places *p, int line)
{
	size_t low = 0, high = p->count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (p->tokens[middle].line < line)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/*
 * Keeps the call that fits best: by name and id, then by name, then any. Looks at so many names of a line, not at
 * thousands.
 */
static size_t find_call(const hs_places *p, int line, const char *callee, const char *id)
{
	size_t best = 0;
	int best_fit = -1, looked_at = 0;
	for (size_t i = first_of_line(p, line); i < p->count && best_fit < 3 && looked_at < NAMES_OF_A_LINE; i++) {
		bool id_fits;
		const token *t = token_at(p, i);
		if (t->line != line)
			break;
		if (t->kind != TOKEN_NAME)
			continue;
		looked_at++;
		size_t table = call_table(p, i, id, &id_fits);
		int fit = (!callee || is_text(p, i, callee) ? 2 : 0) + (id_fits ? 1 : 0);
		if (table > 0 && fit > best_fit) {
			best = table;
			best_fit = fit;
		}
	}
	return best;
}

/* ---- The keys of a table. ---- */

/* How much of the path this text takes: all of it up to a '.', a '[' or the end; 0 when it does not fit. */
static size_t path_takes(const char *path, const char *key, size_t length)
{
	if (length == 0 || strncmp(path, key, length) != 0)
		return 0;
	char next = path[length];
	return next == '\0' || next == '.' || next == '[' ? length : 0;
}

static size_t path_takes_index(const char *path, long index)
{
	char *end;
	if (path[0] != '[' || !digit(path[1]))
		return 0;
	long wanted = strtol(path + 1, &end, 10);
	return wanted == index && *end == ']' ? (size_t)(end + 1 - path) : 0;
}

typedef struct field {
	size_t value; /* first token of the value */
	size_t takes; /* characters of the path */
	int line;
} field;

/* The field that starts at index; positional ones are counted in *position. */
static field read_field(const hs_places *p, size_t index, const char *path, long *position)
{
	const token *t = token_at(p, index);
	field f = {index, 0, t->line};
	if (t->kind == TOKEN_NAME && is_mark(p, index + 1, '=') && !is_mark(p, index + 2, '=')) {
		f.value = index + 2;
		f.takes = path_takes(path, p->text + t->start, t->length);
	} else if (is_mark(p, index, '[') && is_mark(p, index + 2, ']') && is_mark(p, index + 3, '=')) {
		const token *key = token_at(p, index + 1);
		f.value = index + 4;
		if (key->kind == TOKEN_NUMBER)
			f.takes = path_takes_index(path, strtol(p->text + key->start, NULL, 10));
		else if (key->kind == TOKEN_STRING)
			f.takes = path_takes(path, p->text + key->start, key->length);
	} else if (is_mark(p, index, '[')) {
		/* A key that is computed. */
		f.value = skip_group(p, index) + 1;
	} else {
		f.takes = path_takes_index(path, ++*position);
	}
	return f;
}

/* Behind the ',' or ';' that ends the field, or at the table's '}'. */
static size_t skip_field(const hs_places *p, size_t index)
{
	int depth = 0;
	while (!is_end(p, index)) {
		if (depth == 0 && (is_mark(p, index, ',') || is_mark(p, index, ';')))
			return index + 1;
		depth += nesting(p, index);
		if (depth < 0)
			return index;
		index++;
	}
	return index;
}

/* The field of the table at '{' that takes most of the path. */
static field find_field(const hs_places *p, size_t table, const char *path)
{
	field best = {0, 0, 0};
	long position = 0;
	for (size_t i = table + 1; !is_end(p, i) && !is_mark(p, i, '}');) {
		field f = read_field(p, i, path, &position);
		if (f.takes > best.takes)
			best = f;
		size_t next = skip_field(p, f.value > i ? f.value : i);
		/* A stray closing bracket must not hold the walk. */
		i = next > i ? next : i + 1;
	}
	return best;
}

int hs_places_reach(const hs_places *places, int call_line, const char *callee, const char *id, const char *path,
                    bool *whole)
{
	size_t table = find_call(places, call_line, callee, id);
	int line = call_line;
	*whole = table > 0;
	while (table > 0 && path && *path) {
		field f = find_field(places, table, path);
		if (f.takes == 0)
			break;
		line = f.line;
		path += f.takes;
		path += *path == '.';
		table = is_mark(places, f.value, '{') ? f.value : 0;
	}
	*whole = *whole && (!path || !*path);
	return line;
}

int hs_places_find(const hs_places *places, int call_line, const char *callee, const char *id, const char *path)
{
	bool whole;
	return hs_places_reach(places, call_line, callee, id, path, &whole);
}

int hs_places_only(const hs_places *places, const char *text, bool key)
{
	int line = 0;
	for (size_t i = 0; i + 1 < places->count; i++) {
		bool fits = key ? is_name(places, i, text) && is_mark(places, i + 1, '=') && !is_mark(places, i + 2, '=')
		                : token_at(places, i)->kind == TOKEN_STRING && is_text(places, i, text);
		if (fits && line > 0)
			return 0;
		if (fits)
			line = token_at(places, i)->line;
	}
	return line;
}

/* ---- What a function says. ---- */

/* The "function" that begins and ends on these lines; 0 when there is none or more than one. */
static size_t find_function(const hs_places *p, int first, int last, size_t *end)
{
	size_t found = 0;
	for (size_t i = first_of_line(p, first); i < p->count && token_at(p, i)->line == first; i++) {
		if (i == 0 || !is_name(p, i, "function"))
			continue;
		size_t behind = skip_group(p, i);
		if (token_at(p, behind - 1)->line != last)
			continue;
		if (found)
			return 0;
		found = i;
		*end = behind;
	}
	return found;
}

/* What stands behind a value that a function returns as it is. */
static bool ends_value(const hs_places *p, size_t index)
{
	static const char *const words[] = {"end", "else", "elseif", "until", "or"};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (is_name(p, index, words[i]))
			return true;
	return is_mark(p, index, ';');
}

typedef struct body {
	size_t start, end;
	size_t params[2]; /* tokens */
	size_t param_count;
} body;

static bool same_name(const hs_places *p, size_t a, size_t b)
{
	const token *one = token_at(p, a), *other = token_at(p, b);
	return one->kind == TOKEN_NAME && other->kind == TOKEN_NAME && one->length == other->length &&
	       memcmp(p->text + one->start, p->text + other->start, one->length) == 0;
}

static bool is_param(const hs_places *p, const body *b, size_t index)
{
	for (size_t i = 0; i < b->param_count; i++)
		if (same_name(p, index, b->params[i]))
			return !is_mark(p, index - 1, '.');
	return false;
}

/* True where a name is given to something else. */
static bool given_away(const hs_places *p, size_t index)
{
	bool assigned = is_mark(p, index + 1, '=') && !is_mark(p, index + 2, '=');
	while (index > 2 && is_mark(p, index - 1, ',') && token_at(p, index - 2)->kind == TOKEN_NAME)
		index -= 2;
	return assigned || is_name(p, index - 1, "local") || is_name(p, index - 1, "for");
}

/* False when there are no such parameters, or when their names could mean something else further down. */
static bool read_body(const hs_places *p, int first, int last, body *b)
{
	size_t open = find_function(p, first, last, &b->end);
	if (open == 0)
		return false;
	while (open < b->end && !is_mark(p, open, '('))
		open++;
	b->start = skip_group(p, open);
	for (size_t i = open + 1; i < b->start && b->param_count < 2; i++)
		if (token_at(p, i)->kind == TOKEN_NAME)
			b->params[b->param_count++] = i;
	for (size_t i = b->start; i < b->end; i++)
		if (is_name(p, i, "function") || (is_param(p, b, i) && given_away(p, i)))
			return false;
	return true;
}

/* The token that names what is taken of a parameter at index, as in v.NAME and v["NAME"]; 0 when none does. */
static size_t taken_at(const hs_places *p, const body *b, size_t index)
{
	if (!is_param(p, b, index))
		return 0;
	if (is_mark(p, index + 1, '.') && token_at(p, index + 2)->kind == TOKEN_NAME)
		return index + 2;
	if (is_mark(p, index + 1, '[') && is_mark(p, index + 3, ']') && token_at(p, index + 2)->kind == TOKEN_STRING)
		return index + 2;
	return 0;
}

/* The text that an outcome is compared with, where outcome.NAME is at index; 0 when it is with none. */
static size_t compared_at(const hs_places *p, const body *b, size_t index)
{
	if (b->param_count < 2 || !same_name(p, index, b->params[1]))
		return 0;
	size_t behind = index + (is_mark(p, index + 1, '[') ? 4 : 3);
	bool compares = (is_mark(p, behind, '=') || is_mark(p, behind, '~')) && is_mark(p, behind + 1, '=');
	return compares && token_at(p, behind + 2)->kind == TOKEN_STRING ? behind + 2 : 0;
}

static void tell(const hs_places *p, size_t index, hs_said said, hs_said_visit *visit, void *context)
{
	const token *t = token_at(p, index);
	char text[200];
	if (t->length >= sizeof text || memchr(p->text + t->start, '\\', t->length))
		return;
	memcpy(text, p->text + t->start, t->length);
	text[t->length] = '\0';
	visit(context, said, text, t->line);
}

void hs_places_said(const hs_places *places, int first, int last, hs_said_visit *visit, void *context)
{
	body b = {0};
	bool returning = false;
	if (!read_body(places, first, last, &b))
		return;
	for (size_t i = b.start; i < b.end; i++) {
		size_t name = taken_at(places, &b, i);
		size_t compared = name ? compared_at(places, &b, i) : 0;
		if (name)
			tell(places, name, HS_SAID_TAKEN, visit, context);
		if (compared)
			tell(places, compared, HS_SAID_OUTCOME, visit, context);
		returning = is_name(places, i, "return") || (returning && (is_name(places, i, "or") || !ends_value(places, i)));
		bool begins = is_name(places, i - 1, "return") || is_name(places, i - 1, "and") || is_name(places, i - 1, "or");
		if (returning && begins && token_at(places, i)->kind == TOKEN_STRING && ends_value(places, i + 1))
			tell(places, i, HS_SAID_RETURNED, visit, context);
	}
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
