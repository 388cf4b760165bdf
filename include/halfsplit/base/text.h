/*
 * Text: a growing buffer, words, and the one place where foreign text is made safe to show.
 *
 * Everything is UTF-8. A buffer always ends in a NUL that is not counted in its length; hs_buf_init makes it
 * empty, hs_buf_free gives its memory back and makes it empty again.
 */
#ifndef HALFSPLIT_BASE_TEXT_H
#define HALFSPLIT_BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdarg.h>

typedef struct hs_buf {
	char *data; /* never NULL after hs_buf_init or the first append; NUL-terminated */
	size_t length;
	size_t room;
} hs_buf;

void hs_buf_init(hs_buf *buf);
void hs_buf_free(hs_buf *buf);
void hs_buf_clear(hs_buf *buf);
void hs_buf_add(hs_buf *buf, const char *data, size_t length);
void hs_buf_str(hs_buf *buf, const char *text);
void hs_buf_char(hs_buf *buf, char c);
/* Room for `most` more bytes, to be written by the caller, who then tells how many were; nothing else is done between. */
char *hs_buf_space(hs_buf *buf, size_t most);
void hs_buf_taken(hs_buf *buf, size_t length);
void hs_buf_printf(hs_buf *buf, const char *format, ...) __attribute__((format(printf, 2, 3)));
void hs_buf_vprintf(hs_buf *buf, const char *format, va_list args) __attribute__((format(printf, 2, 0), nonnull(2)));

/* True when [text, text+length) is well-formed UTF-8 (no surrogates, no overlong forms, nothing above U+10FFFF). */
bool hs_utf8_valid(const char *text, size_t length);

/*
 * Appends text so that it cannot drive a terminal, forge a line or look like another text: C0 and C1 controls, DEL,
 * carriage returns, bidirectional controls, line and paragraph separators, characters that show nothing (spaces of no
 * width, soft hyphens, variation selectors, tags, fillers) and bytes that are not UTF-8 come out as visible escapes
 * such as \x1b, \u202e or \U000e0041. A newline comes out as \n (two characters) unless keep_newlines, then as itself. A
 * backslash stays a backslash.
 */
void hs_buf_shown(hs_buf *buf, const char *text, bool keep_newlines);

/* Columns the text takes on a terminal (wcwidth-like, locale-proof: combining 0, East Asian wide 2). */
size_t hs_text_columns(const char *text);

/* True when the text is an id: [A-Za-z0-9][A-Za-z0-9._+-]{0,63}. */
bool hs_is_id(const char *text);

/* Copies at most room-1 bytes, never splits a UTF-8 character, always terminates. */
void hs_copy(char *to, size_t room, const char *from);

/* Trims ASCII white space at both ends, in place; returns the first kept character. */
char *hs_trim(char *text);

/* Case-insensitive ASCII comparison, locale-proof. */
bool hs_same_word(const char *a, const char *b);

/*
 * The known word nearest to `word` by edit distance (swaps of neighbours count one), or NULL when none is near
 * enough to be a likely slip (more than a third of the letters, at least one allowed, differ).
 */
const char *hs_nearest(const char *word, const char *const *known, size_t count);

/*
 * Appends text broken at spaces so that no line is wider than `width` columns; following lines begin with `indent`
 * spaces. The text is made safe as by hs_buf_shown; its own newlines are kept. No newline is added at the end.
 */
void hs_buf_wrap(hs_buf *buf, const char *text, size_t width, size_t indent);

#endif
