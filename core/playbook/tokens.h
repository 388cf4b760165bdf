/* A Lua source as tokens, and the first steps over them: what the files behind places.h share. */
#ifndef HALFSPLIT_CORE_PLAYBOOK_TOKENS_H
#define HALFSPLIT_CORE_PLAYBOOK_TOKENS_H

#include <stdint.h>
#include <string.h>
#include "places.h"

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
	const char *text; /* the caller's */
	size_t length;
	token *tokens; /* the last is TOKEN_END */
	size_t count;
	size_t room;
};

static inline bool token_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* ---- An index is always below count, and the last token stops every walk. ---- */

static inline const token *token_at(const hs_places *p, size_t index)
{
	return &p->tokens[index < p->count ? index : p->count - 1];
}

static inline bool is_mark(const hs_places *p, size_t index, char mark)
{
	const token *t = token_at(p, index);
	return t->kind == TOKEN_MARK && p->text[t->start] == mark;
}

static inline bool is_end(const hs_places *p, size_t index)
{
	return token_at(p, index)->kind == TOKEN_END;
}

static inline bool is_text(const hs_places *p, size_t index, const char *text)
{
	const token *t = token_at(p, index);
	return strlen(text) == t->length && memcmp(p->text + t->start, text, t->length) == 0;
}

static inline bool is_name(const hs_places *p, size_t index, const char *name)
{
	return token_at(p, index)->kind == TOKEN_NAME && is_text(p, index, name);
}

/* ---- places.c ---- */
/* Behind the bracket that closes the one at index. */
size_t hs_tokens_skip_group(const hs_places *p, size_t index);
/* The first token of a line, found by halving. */
size_t hs_tokens_of_line(const hs_places *p, int line);

#endif
