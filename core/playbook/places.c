#include "tokens.h"

#include <stdlib.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/text.h"

enum { NAMES_OF_A_LINE = 100 };

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

size_t hs_tokens_skip_group(const hs_places *p, size_t index)
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
	size_t end = hs_tokens_skip_group(p, index), nested = 0;
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
			size_t next = hs_tokens_skip_group(p, i);
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
size_t hs_tokens_of_line(const hs_places *p, int line)
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
	for (size_t i = hs_tokens_of_line(p, line); i < p->count && best_fit < 3 && looked_at < NAMES_OF_A_LINE; i++) {
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
	if (path[0] != '[' || !token_digit(path[1]))
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
		f.value = hs_tokens_skip_group(p, index) + 1;
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
