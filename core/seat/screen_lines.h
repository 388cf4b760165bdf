/* Paragraphs of a screen: indented, wrapped, safe, styled line by line. Inside core/seat only. */
#ifndef HALFSPLIT_SEAT_SCREEN_LINES_H
#define HALFSPLIT_SEAT_SCREEN_LINES_H

#include "halfsplit/seat/screen.h"

typedef enum hs_style { HS_STYLE_PLAIN, HS_STYLE_HEADING, HS_STYLE_DIM, HS_STYLE_CARE } hs_style;

size_t hs_screen_width(const hs_screen *screen);

/*
 * One paragraph with its newline: `indent` spaces, the lead (our own words), then foreign text wrapped under its own
 * start. Newlines of the text are kept. Nothing is added when lead and text are both empty.
 */
void hs_lines_text(hs_buf *out, const hs_screen *screen, hs_style style, size_t indent, const char *lead,
                   const char *text);

/* The same for text that is one line by nature (an id, a title, an answer): a newline in it is shown as \n. */
void hs_lines_one(hs_buf *out, const hs_screen *screen, hs_style style, size_t indent, const char *lead,
                  const char *text);

/* A paragraph of our own making; what foreign text it holds is made safe here. */
void hs_lines_printf(hs_buf *out, const hs_screen *screen, hs_style style, size_t indent, const char *format, ...)
    __attribute__((format(printf, 5, 6)));

/* A drawing, line for line, never wrapped. */
void hs_lines_drawn(hs_buf *out, const hs_screen *screen, size_t indent, const char *text);

/* Lines of a table the engine made: each keeps its own indent and wraps under its second column. */
void hs_lines_table(hs_buf *out, const hs_screen *screen, size_t indent, const char *text);

/* A field of a status line: kept whole. The text is safe to show already. */
typedef struct hs_field {
	hs_style style;
	hs_buf text;
} hs_field;

/* One more field, empty, in this style. */
hs_field *hs_field_add(hs_field *fields, size_t *count, hs_style style);
void hs_fields_free(hs_field *fields, size_t count);

/* Fields with two or three spaces between them; a line that is full ends between two. Says how many lines it takes. */
size_t hs_fields_lines(const hs_screen *screen, const hs_field *fields, size_t count);
void hs_lines_fields(hs_buf *out, const hs_screen *screen, const hs_field *fields, size_t count);

/* A drawn hookup: where it is too wide it goes on under itself, broken before a part. */
void hs_lines_hookup(hs_buf *out, const hs_screen *screen, size_t indent, const char *text);

/* "id" or "id (TITLE)". */
void hs_lines_named(hs_buf *out, const char *id, const char *title);

#endif
