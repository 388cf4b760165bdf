#include "halfsplit/base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "utf8.h"

/* What most printed pieces fit in, so that they are printed once and not measured first. */
enum { COMMON_LENGTH = 40 };

/* Makes room for `more` bytes and the NUL behind them. */
static void buf_room(hs_buf *buf, size_t more)
{
	buf->data = hs_grow(buf->data, &buf->room, buf->length + more + 1, 1);
}

void hs_buf_init(hs_buf *buf)
{
	*buf = (hs_buf){0};
	buf_room(buf, 0);
	buf->data[0] = '\0';
}

void hs_buf_free(hs_buf *buf)
{
	free(buf->data);
	*buf = (hs_buf){0};
}

void hs_buf_clear(hs_buf *buf)
{
	buf_room(buf, 0);
	buf->length = 0;
	buf->data[0] = '\0';
}

void hs_buf_add(hs_buf *buf, const char *data, size_t length)
{
	buf_room(buf, length);
	if (length)
		memcpy(buf->data + buf->length, data, length);
	buf->length += length;
	buf->data[buf->length] = '\0';
}

char *hs_buf_space(hs_buf *buf, size_t most)
{
	buf_room(buf, most);
	return buf->data + buf->length;
}

void hs_buf_taken(hs_buf *buf, size_t length)
{
	buf->length += length;
	buf->data[buf->length] = '\0';
}

void hs_buf_str(hs_buf *buf, const char *text)
{
	hs_buf_add(buf, text, strlen(text));
}

void hs_buf_char(hs_buf *buf, char c)
{
	hs_buf_add(buf, &c, 1);
}

void hs_buf_vprintf(hs_buf *buf, const char *format, va_list args)
{
	va_list again;
	va_copy(again, args);
	buf_room(buf, COMMON_LENGTH);
	size_t room = buf->room - buf->length;
	int length = vsnprintf(buf->data + buf->length, room, format, args);
	if (length > 0 && (size_t)length >= room) {
		buf_room(buf, (size_t)length);
		vsnprintf(buf->data + buf->length, (size_t)length + 1, format, again);
	}
	buf->length += length > 0 ? (size_t)length : 0;
	buf->data[buf->length] = '\0';
	va_end(again);
}

void hs_buf_printf(hs_buf *buf, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	hs_buf_vprintf(buf, format, args);
	va_end(args);
}

static bool is_letter_or_digit(char c)
{
	return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

bool hs_is_id(const char *text)
{
	if (!is_letter_or_digit(text[0]))
		return false;
	size_t length = 1;
	for (; text[length]; length++)
		if (length == 64 || (!is_letter_or_digit(text[length]) && !strchr("._+-", text[length])))
			return false;
	return true;
}

void hs_copy(char *to, size_t room, const char *from)
{
	if (room == 0)
		return;
	size_t length = strnlen(from, room);
	if (length == room) {
		length = room - 1;
		while (length > 0 && ((unsigned char)from[length] & 0xC0) == 0x80)
			length--;
	}
	memmove(to, from, length);
	to[length] = '\0';
}

static bool is_white(char c)
{
	return c == ' ' || (c >= '\t' && c <= '\r');
}

char *hs_trim(char *text)
{
	while (is_white(*text))
		text++;
	size_t length = strlen(text);
	while (length > 0 && is_white(text[length - 1]))
		length--;
	text[length] = '\0';
	return text;
}

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool hs_same_word(const char *a, const char *b)
{
	while (*a && lower(*a) == lower(*b)) {
		a++;
		b++;
	}
	return lower(*a) == lower(*b);
}
