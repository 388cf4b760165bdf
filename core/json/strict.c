#include "strict.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/number.h"

enum { DEEPEST = 32, LONGEST = 8 * 1024 * 1024 };

typedef struct walk {
	const char *text;
	size_t at, length;
	int depth;
	hs_strict *out;
	hs_error *error;
} walk;

static bool value(walk *w);

bool hs_strict_fail(const char *text, size_t at, hs_error *error, const char *message)
{
	size_t line = 1, column = 1;
	for (size_t i = 0; i < at; i++) {
		bool newline = text[i] == '\n';
		line += newline;
		column = newline ? 1 : column + (((unsigned char)text[i] & 0xC0) != 0x80);
	}
	return hs_fail(error, HS_BAD_INPUT, "at line %zu, column %zu of the JSON text %s", line, column, message);
}

void hs_strict_free(hs_strict *strict)
{
	hs_buf_free(&strict->plain);
	free(strict->numbers);
	free(strict->keys);
	*strict = (hs_strict){0};
}

/* The byte at the current place, or -1 at the end. */
static int peek(const walk *w)
{
	return w->at < w->length ? (unsigned char)w->text[w->at] : -1;
}

static bool fail(walk *w, const char *message)
{
	return hs_strict_fail(w->text, w->at, w->error, message);
}

static bool fail_wanted(walk *w, const char *wanted)
{
	char message[160];
	int c = peek(w);
	if (c < 0)
		snprintf(message, sizeof message, "it ends, and %s was wanted", wanted);
	else if (c > 0x20 && c < 0x7F)
		snprintf(message, sizeof message, "there is '%c', and %s was wanted", c, wanted);
	else
		snprintf(message, sizeof message, "there is the byte 0x%02x, and %s was wanted", (unsigned)c, wanted);
	return fail(w, message);
}

static void skip_space(walk *w)
{
	for (int c = peek(w); c == ' ' || c == '\t' || c == '\n' || c == '\r'; c = peek(w))
		w->at++;
}

static void copy(walk *w, size_t from)
{
	hs_buf_add(&w->out->plain, w->text + from, w->at - from);
}

static bool literal(walk *w, const char *word)
{
	size_t length = strlen(word);
	if (w->length - w->at < length || memcmp(w->text + w->at, word, length) != 0)
		return fail_wanted(w, "a JSON value");
	w->at += length;
	copy(w, w->at - length);
	return true;
}

static bool digits(walk *w)
{
	int c = peek(w);
	if (c < '0' || c > '9')
		return fail_wanted(w, "a digit");
	for (; c >= '0' && c <= '9'; c = peek(w))
		w->at++;
	return true;
}

static bool integer_part(walk *w)
{
	size_t from = w->at;
	if (!digits(w))
		return false;
	size_t count = w->at - from;
	const char *typed = w->text + from;
	if (count > 1 && *typed == '0') {
		w->at = from;
		return fail(w, "a number begins with a zero too many, and one without it was wanted");
	}
	if (count > 16 || (count == 16 && memcmp(typed, "9007199254740992", 16) > 0)) {
		w->at = from;
		return fail(w, "a number is above 9007199254740992, and one that is kept exactly was wanted");
	}
	return true;
}

static bool number(walk *w)
{
	size_t from = w->at;
	w->at += peek(w) == '-';
	if (!integer_part(w))
		return false;
	if (peek(w) == '.') {
		w->at++;
		if (!digits(w))
			return false;
	}
	if (peek(w) == 'e' || peek(w) == 'E') {
		w->at++;
		w->at += peek(w) == '-' || peek(w) == '+';
		if (!digits(w))
			return false;
	}
	/* The copy ends in a NUL, which the text need not. */
	hs_strict *out = w->out;
	size_t mark = out->plain.length;
	double read;
	copy(w, from);
	if (!hs_number_read(out->plain.data + mark, &read)) {
		w->at = from;
		return fail(w, "a number is too large, and one below 1.8e308 was wanted");
	}
	out->plain.length = mark;
	hs_buf_char(&out->plain, '0');
	out->numbers = hs_grow(out->numbers, &out->number_room, out->number_count + 1, sizeof *out->numbers);
	out->numbers[out->number_count++] = read;
	return true;
}

static bool four_hex(walk *w, unsigned *code)
{
	*code = 0;
	for (int i = 0; i < 4; i++, w->at++) {
		int c = peek(w);
		if (c <= 0 || !strchr("0123456789abcdefABCDEF", c))
			return fail_wanted(w, "one of four hexadecimal digits");
		unsigned digit = c <= '9' ? (unsigned)(c - '0') : (unsigned)((c | 0x20) - 'a' + 10);
		*code = *code << 4 | digit;
	}
	return true;
}

static bool unicode_escape(walk *w)
{
	size_t from = w->at - 2;
	unsigned code, low;
	if (!four_hex(w, &code))
		return false;
	if (code >= 0xD800 && code <= 0xDBFF && w->length - w->at >= 6 && memcmp(w->text + w->at, "\\u", 2) == 0) {
		w->at += 2;
		if (!four_hex(w, &low))
			return false;
		if (low >= 0xDC00 && low <= 0xDFFF)
			return true;
	}
	if (code != 0 && (code < 0xD800 || code > 0xDFFF))
		return true;
	w->at = from;
	if (code == 0)
		return fail(w, "there is a NUL (\\u0000), and text without it was wanted");
	return fail(w, "there is half of a surrogate pair, and a whole character was wanted");
}

static bool escape(walk *w)
{
	w->at++;
	int c = peek(w);
	if (c < 0 || !memchr("\"\\/bfnrtu", c, 9))
		return fail_wanted(w, "an escape such as \\n or \\u00b5");
	w->at++;
	return c != 'u' || unicode_escape(w);
}

static bool check_utf8(walk *w, size_t from)
{
	size_t end = w->at;
	if (hs_utf8_valid(w->text + from, end - from))
		return true;
	for (w->at = from; w->at < end;) {
		size_t size = 1;
		while (size <= 4 && size <= end - w->at && !hs_utf8_valid(w->text + w->at, size))
			size++;
		if (size > 4 || size > end - w->at)
			break;
		w->at += size;
	}
	return fail_wanted(w, "UTF-8 text");
}

static bool string(walk *w)
{
	size_t from = w->at++;
	for (int c = peek(w); c != '"'; c = peek(w)) {
		if (c < 0)
			return fail_wanted(w, "the closing quote of a string");
		if (c < 0x20)
			return fail_wanted(w, "an escape such as \\n in its place");
		if (c != '\\')
			w->at++;
		else if (!escape(w))
			return false;
	}
	if (!check_utf8(w, from))
		return false;
	w->at++;
	copy(w, from);
	return true;
}

static bool member(walk *w)
{
	hs_strict *out = w->out;
	if (peek(w) != '"')
		return fail_wanted(w, "a key in quotes");
	out->keys = hs_grow(out->keys, &out->key_room, out->key_count + 1, sizeof *out->keys);
	out->keys[out->key_count++] = w->at;
	if (!string(w))
		return false;
	skip_space(w);
	if (peek(w) != ':')
		return fail_wanted(w, "a colon");
	w->at++;
	hs_buf_char(&out->plain, ':');
	return value(w);
}

/* An array or an object, from its opening to its closing bracket. */
static bool container(walk *w, bool (*item)(struct walk *), char close, const char *wanted)
{
	if (w->depth == DEEPEST)
		return fail(w, "it nests deeper than 32, and less was wanted");
	w->depth++;
	hs_buf_char(&w->out->plain, w->text[w->at++]);
	skip_space(w);
	for (bool first = true; first ? peek(w) != close : true; first = false) {
		if (!item(w))
			return false;
		skip_space(w);
		if (peek(w) == close)
			break;
		if (peek(w) != ',')
			return fail_wanted(w, wanted);
		w->at++;
		hs_buf_char(&w->out->plain, ',');
		skip_space(w);
	}
	w->at++;
	hs_buf_char(&w->out->plain, close);
	w->depth--;
	return true;
}

static bool value(walk *w)
{
	skip_space(w);
	switch (peek(w)) {
	case '{':
		return container(w, member, '}', "a comma or '}'");
	case '[':
		return container(w, value, ']', "a comma or ']'");
	case '"':
		return string(w);
	case 't':
		return literal(w, "true");
	case 'f':
		return literal(w, "false");
	case 'n':
		return literal(w, "null");
	case '-':
	case '0':
	case '1':
	case '2':
	case '3':
	case '4':
	case '5':
	case '6':
	case '7':
	case '8':
	case '9':
		return number(w);
	}
	return fail_wanted(w, "a JSON value");
}

bool hs_strict_walk(const char *text, size_t length, hs_strict *out, hs_error *error)
{
	*out = (hs_strict){0};
	if (length > LONGEST)
		return hs_fail(error, HS_BAD_INPUT, "the JSON text has %zu bytes, and at most %d were wanted", length,
		               LONGEST);
	walk w = {.text = text, .length = length, .out = out, .error = error};
	if (!value(&w))
		return false;
	skip_space(&w);
	return w.at == length || fail_wanted(&w, "the end of the text");
}
