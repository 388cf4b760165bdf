/* What a function says: its values, outcomes and texts, read off its tokens. */
#include "tokens.h"

/* The "function" that begins and ends on these lines; 0 when there is none or more than one. */
static size_t find_function(const hs_places *p, int first, int last, size_t *end)
{
	size_t found = 0;
	for (size_t i = hs_tokens_of_line(p, first); i < p->count && token_at(p, i)->line == first; i++) {
		if (i == 0 || !is_name(p, i, "function"))
			continue;
		size_t behind = hs_tokens_skip_group(p, i);
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
	b->start = hs_tokens_skip_group(p, open);
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
