#include "halfsplit/json/json.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <string.h>
#include "halfsplit/base/number.h"

enum { DEEPEST = 32, PIECE_MOST = 16 * 1024 };

/* Decodes one character at `text`, which is not empty; a byte that is not UTF-8 counts as U+FFFD. */
static size_t decode(const char *text, uint32_t *code)
{
	const unsigned char *at = (const unsigned char *)text;
	size_t size = at[0] < 0x80 ? 1 : at[0] < 0xE0 ? 2 : at[0] < 0xF0 ? 3 : 4;
	if (strnlen(text, size) < size || !hs_utf8_valid(text, size)) {
		*code = 0xFFFD;
		return 1;
	}
	*code = size == 1 ? at[0] : at[0] & (0x7Fu >> size);
	for (size_t i = 1; i < size; i++)
		*code = *code << 6 | (at[i] & 0x3Fu);
	return size;
}

static void put_code(hs_buf *out, uint32_t code)
{
	static const char short_from[] = "\"\\\b\f\n\r\t", short_to[] = "\"\\bfnrt";
	const char *found = code < 0x80 && code ? strchr(short_from, (int)code) : NULL;
	if (found) {
		/* Every line of a playbook's text ends in one of these. */
		const char pair[] = {'\\', short_to[found - short_from]};
		hs_buf_add(out, pair, sizeof pair);
	} else if (code >= 0x20 && code < 0x7F)
		hs_buf_char(out, (char)code);
	else if (code < 0x10000)
		hs_buf_printf(out, "\\u%04x", (unsigned)code);
	else
		hs_buf_printf(out, "\\u%04x\\u%04x", (unsigned)(0xD800 + ((code - 0x10000) >> 10)),
		              (unsigned)(0xDC00 + ((code - 0x10000) & 0x3FF)));
}

/* Room first, and then byte by byte: a playbook's text is full of quotes and ends of lines. */
static void put_text(hs_buf *out, const char *text)
{
	hs_buf_char(out, '"');
	while (*text) {
		size_t most = strnlen(text, PIECE_MOST), taken = 0;
		char *at = hs_buf_space(out, 2 * most), *start = at;
		for (; taken < most; taken++) {
			char c = text[taken];
			/* Small letters, the most by far, are asked for first. */
			if ((c > '\\' && c < 0x7F) || (c >= 0x20 && c < '\\' && c != '"')) {
				*at++ = c;
			} else if (c == '\n' || c == '"' || c == '\\') {
				*at++ = '\\';
				*at++ = c == '\n' ? 'n' : c;
			} else {
				break;
			}
		}
		hs_buf_taken(out, (size_t)(at - start));
		text += taken;
		if (taken < most) {
			uint32_t code;
			text += decode(text, &code);
			put_code(out, code);
		}
	}
	hs_buf_char(out, '"');
}

/* What goes in front of any value: the comma and the key. */
static void lead(hs_json_writer *writer, const char *key)
{
	int depth = writer->depth;
	assert(writer->in_object[depth] == (key != NULL));
	assert(depth > 0 || !writer->need_comma[0]);
	if (writer->need_comma[depth])
		hs_buf_char(writer->out, ',');
	writer->need_comma[depth] = true;
	if (key) {
		put_text(writer->out, key);
		hs_buf_char(writer->out, ':');
	}
}

static void open_container(hs_json_writer *writer, const char *key, bool object)
{
	lead(writer, key);
	assert(writer->depth < DEEPEST);
	writer->depth++;
	writer->need_comma[writer->depth] = false;
	writer->in_object[writer->depth] = object;
	hs_buf_char(writer->out, object ? '{' : '[');
}

static void close_container(hs_json_writer *writer, bool object)
{
	assert(writer->depth > 0 && writer->in_object[writer->depth] == object);
	writer->depth--;
	hs_buf_char(writer->out, object ? '}' : ']');
}

void hs_json_begin(hs_json_writer *writer, hs_buf *out)
{
	*writer = (hs_json_writer){.out = out};
}

void hs_json_open_object(hs_json_writer *writer, const char *key)
{
	open_container(writer, key, true);
}

void hs_json_close_object(hs_json_writer *writer)
{
	close_container(writer, true);
}

void hs_json_open_array(hs_json_writer *writer, const char *key)
{
	open_container(writer, key, false);
}

void hs_json_close_array(hs_json_writer *writer)
{
	close_container(writer, false);
}

void hs_json_put_string(hs_json_writer *writer, const char *key, const char *text)
{
	if (!text) {
		hs_json_put_null(writer, key);
		return;
	}
	lead(writer, key);
	put_text(writer->out, text);
}

void hs_json_put_number(hs_json_writer *writer, const char *key, double number)
{
	assert(isfinite(number));
	lead(writer, key);
	hs_number_print(writer->out, number);
}

void hs_json_put_integer(hs_json_writer *writer, const char *key, long long number)
{
	/* Beyond 2^53 our own reader refuses it: such a number belongs in a string. */
	assert(number <= 9007199254740992 && number >= -9007199254740992);
	lead(writer, key);
	hs_buf_printf(writer->out, "%lld", number);
}

void hs_json_put_bool(hs_json_writer *writer, const char *key, bool value)
{
	lead(writer, key);
	hs_buf_str(writer->out, value ? "true" : "false");
}

void hs_json_put_null(hs_json_writer *writer, const char *key)
{
	lead(writer, key);
	hs_buf_str(writer->out, "null");
}
