/* Anchors: what was written down on the job sheet against what the file holds. */
#include "halfsplit/record/chain.h"

#include <string.h>

#define LEAST_DIGITS ((size_t)16)
#define MOST_DIGITS  ((size_t)HS_HEX_ROOM - 1)
#define MOST_COUNT   ((size_t)1 << 40)

static bool bad_anchor(hs_error *error, const char *text, const char *why)
{
	hs_fail(error, HS_BAD_INPUT, "the anchor \"%.80s\" %s", text, why);
	return hs_fail_hint(
	    error, "write it as on the job sheet: the number of lines, a colon, and at least %zu digits of the hash",
	    LEAST_DIGITS);
}

static const char *skip_blanks(const char *text)
{
	return text + strspn(text, " \t");
}

/* Hex digits in groups, capitals allowed; false when something else stands among them or there are too many. */
static bool read_digits(const char *text, char digits[HS_HEX_ROOM])
{
	size_t count = 0;
	for (text = skip_blanks(text); *text; text = skip_blanks(text + 1)) {
		char digit = *text >= 'A' && *text <= 'F' ? (char)(*text - 'A' + 'a') : *text;
		if (count == MOST_DIGITS || !memchr("0123456789abcdef", digit, 16))
			return false;
		digits[count++] = digit;
	}
	digits[count] = 0;
	return true;
}

bool hs_anchor_read(const char *text, hs_anchor *anchor, hs_error *error)
{
	hs_anchor read = {.count = 0};
	const char *at = skip_blanks(text);
	for (; *at >= '0' && *at <= '9' && read.count < MOST_COUNT; at++)
		read.count = read.count * 10 + (size_t)(*at - '0');
	at = skip_blanks(at);
	if (read.count == 0 || read.count >= MOST_COUNT || *at != ':')
		return bad_anchor(error, text, "does not begin with a number of lines and a colon");
	if (!read_digits(at + 1, read.digits))
		return bad_anchor(error, text, "holds something else than at most 64 hex digits after its colon");
	if (strlen(read.digits) < LEAST_DIGITS)
		return bad_anchor(error, text, "has too few digits to tell one transcript from another");
	*anchor = read;
	return true;
}

void hs_anchor_print(hs_buf *out, size_t count, const char *head)
{
	hs_buf_printf(out, "%zu:%s", count, head);
}

hs_anchor_state hs_anchor_check(const hs_anchor *anchor, const char *data, const hs_chain *chain)
{
	if (anchor->count > chain->count)
		return HS_ANCHOR_SHORTER;
	const char *end = data;
	for (size_t line = 0; line < anchor->count; line++)
		end = (const char *)memchr(end, '\n', chain->good_bytes - (size_t)(end - data)) + 1;
	/* A checked line ends in its 64 digits, a quote, a brace, and a newline with or without a carriage return. */
	const char *digits = end - (chain->crlf ? 4 : 3) - MOST_DIGITS;
	return memcmp(digits, anchor->digits, strlen(anchor->digits)) == 0 ? HS_ANCHOR_HOLDS : HS_ANCHOR_OTHER;
}

void hs_anchor_tell(hs_buf *out, const hs_anchor *anchor, hs_anchor_state state, const hs_chain *chain)
{
	switch (state) {
	case HS_ANCHOR_HOLDS:
		hs_buf_printf(out, "the anchor holds: line %zu has the hash that was written down", anchor->count);
		if (chain->count > anchor->count)
			hs_buf_printf(out, "; the %zu lines behind it are not covered", chain->count - anchor->count);
		break;
	case HS_ANCHOR_SHORTER:
		hs_buf_printf(out, "shorter than its anchor: %zu good lines where %zu were written down", chain->count,
		              anchor->count);
		break;
	case HS_ANCHOR_OTHER:
		hs_buf_printf(
		    out, "line %zu has another hash than its anchor: this is not the file the anchor was taken from",
		    anchor->count);
		break;
	}
}
