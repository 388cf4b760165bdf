#include "screen_lines.h"

#include <string.h>

size_t hs_screen_width(const hs_screen *screen)
{
	if (screen->large)
		return HS_SCREEN_LARGE;
	if (screen->width < HS_SCREEN_NARROWEST)
		return HS_SCREEN_NARROWEST;
	return screen->width > HS_SCREEN_WIDEST ? HS_SCREEN_WIDEST : screen->width;
}

static const char *style_start(hs_style style)
{
	switch (style) {
	case HS_STYLE_HEADING:
		return "\x1b[1m";
	case HS_STYLE_DIM:
		return "\x1b[2m";
	case HS_STYLE_CARE:
		return "\x1b[33m";
	case HS_STYLE_PLAIN:
		break;
	}
	return NULL;
}

/* The style begins and ends on every line, so that a scrolled or cut screen never bleeds. */
static void add_lines(hs_buf *out, const hs_screen *screen, hs_style style, const char *text)
{
	const char *start = screen->colour ? style_start(style) : NULL;
	for (;;) {
		size_t length = strcspn(text, "\n");
		if (start && length)
			hs_buf_str(out, start);
		hs_buf_add(out, text, length);
		if (start && length)
			hs_buf_str(out, "\x1b[0m");
		hs_buf_char(out, '\n');
		if (!text[length])
			return;
		text += length + 1;
	}
}

static void add_spaces(hs_buf *out, size_t count)
{
	while (count-- > 0)
		hs_buf_char(out, ' ');
}

void hs_lines_text(hs_buf *out, const hs_screen *screen, hs_style style, size_t indent, const char *lead,
                   const char *text)
{
	size_t length = strlen(text);
	while (length > 0 && strchr(" \t\n", text[length - 1]))
		length--;
	if (length == 0 && !*lead)
		return;
	hs_buf kept, wrapped;
	hs_buf_init(&kept);
	hs_buf_init(&wrapped);
	hs_buf_add(&kept, text, length);
	add_spaces(&wrapped, indent);
	hs_buf_str(&wrapped, lead);
	hs_buf_wrap(&wrapped, kept.data, hs_screen_width(screen), indent + hs_text_columns(lead));
	while (wrapped.length > 0 && wrapped.data[wrapped.length - 1] == ' ')
		wrapped.data[--wrapped.length] = '\0';
	add_lines(out, screen, style, wrapped.data);
	hs_buf_free(&wrapped);
	hs_buf_free(&kept);
}

void hs_lines_one(hs_buf *out, const hs_screen *screen, hs_style style, size_t indent, const char *lead,
                  const char *text)
{
	hs_buf safe;
	hs_buf_init(&safe);
	hs_buf_shown(&safe, text, false);
	hs_lines_text(out, screen, style, indent, lead, safe.data);
	hs_buf_free(&safe);
}

void hs_lines_printf(hs_buf *out, const hs_screen *screen, hs_style style, size_t indent, const char *format, ...)
{
	hs_buf text;
	hs_buf_init(&text);
	va_list args;
	va_start(args, format);
	hs_buf_vprintf(&text, format, args);
	va_end(args);
	hs_buf safe;
	hs_buf_init(&safe);
	hs_buf_shown(&safe, text.data, false);
	hs_buf_clear(&text);
	add_spaces(&text, indent);
	hs_buf_wrap(&text, safe.data, hs_screen_width(screen), indent + 2);
	add_lines(out, screen, style, text.data);
	hs_buf_free(&safe);
	hs_buf_free(&text);
}

void hs_lines_drawn(hs_buf *out, const hs_screen *screen, size_t indent, const char *text)
{
	hs_buf safe;
	hs_buf_init(&safe);
	hs_buf_shown(&safe, text, true);
	char *line = safe.data;
	while (*line) {
		size_t length = strcspn(line, "\n");
		char end = line[length];
		line[length] = '\0';
		if (length) {
			hs_buf drawn;
			hs_buf_init(&drawn);
			add_spaces(&drawn, indent);
			hs_buf_str(&drawn, line);
			add_lines(out, screen, HS_STYLE_PLAIN, drawn.data);
			hs_buf_free(&drawn);
		}
		line += length + (end != '\0');
	}
	hs_buf_free(&safe);
}

hs_field *hs_field_add(hs_field *fields, size_t *count, hs_style style)
{
	hs_field *field = &fields[(*count)++];
	field->style = style;
	hs_buf_init(&field->text);
	return field;
}

void hs_fields_free(hs_field *fields, size_t count)
{
	for (size_t i = 0; i < count; i++)
		hs_buf_free(&fields[i].text);
}

static size_t field_gap(const hs_screen *screen)
{
	return hs_screen_width(screen) < 72 ? 2 : 3;
}

/* True when a field that follows on `at` columns must begin a line. */
static bool begins_line(const hs_screen *screen, size_t at, const hs_field *field)
{
	return at > 0 && at + field_gap(screen) + hs_text_columns(field->text.data) > hs_screen_width(screen);
}

size_t hs_fields_lines(const hs_screen *screen, const hs_field *fields, size_t count)
{
	size_t lines = count > 0, at = 0;
	for (size_t i = 0; i < count; i++) {
		size_t columns = hs_text_columns(fields[i].text.data);
		bool breaks = begins_line(screen, at, &fields[i]);
		lines += breaks;
		at = at > 0 && !breaks ? at + field_gap(screen) + columns : columns;
	}
	return lines;
}

void hs_lines_fields(hs_buf *out, const hs_screen *screen, const hs_field *fields, size_t count)
{
	size_t at = 0;
	for (size_t i = 0; i < count; i++) {
		const char *start = screen->colour ? style_start(fields[i].style) : NULL;
		bool breaks = begins_line(screen, at, &fields[i]);
		if (breaks)
			hs_buf_char(out, '\n');
		else if (at > 0)
			add_spaces(out, field_gap(screen));
		at = breaks || at == 0 ? 0 : at + field_gap(screen);
		hs_buf_printf(out, "%s%s%s", start ? start : "", fields[i].text.data, start ? "\x1b[0m" : "");
		at += hs_text_columns(fields[i].text.data);
	}
	if (count > 0)
		hs_buf_char(out, '\n');
}

/* Bytes of the drawing that go on this line: all of it, or up to the last part that fits whole. */
static size_t hookup_fits(const char *text, size_t columns)
{
	size_t length = strlen(text), fits = length;
	if (hs_text_columns(text) <= columns)
		return length;
	for (const char *at = text; (at = strstr(at, "]--")) != NULL; at++) {
		size_t end = (size_t)(at - text) + 1;
		if (fits == length || end <= columns)
			fits = end;
	}
	return fits;
}

void hs_lines_hookup(hs_buf *out, const hs_screen *screen, size_t indent, const char *text)
{
	hs_buf safe;
	hs_buf_init(&safe);
	hs_buf_shown(&safe, text, false);
	const char *rest = safe.data, *first = strstr(rest, "--");
	size_t under = first && first - rest <= 20 ? indent + (size_t)(first - rest) : indent + 2, start = indent;
	while (*rest) {
		size_t length = hookup_fits(rest, hs_screen_width(screen) - start);
		add_spaces(out, start);
		hs_buf_add(out, rest, length);
		hs_buf_char(out, '\n');
		rest += length;
		start = under;
	}
	hs_buf_free(&safe);
}

/* Where the second column of a line begins: behind two spaces or more near its start; 0 when it has none. */
static size_t second_column(const char *line)
{
	const char *gap = strstr(line, "  ");
	if (!gap || gap - line > 20)
		return 0;
	return (size_t)(gap - line) + strspn(gap, " ");
}

static void add_row(hs_buf *out, const hs_screen *screen, size_t indent, const char *line)
{
	size_t inner = strspn(line, " ");
	size_t column = second_column(line + inner);
	hs_buf lead, safe;
	hs_buf_init(&lead);
	hs_buf_init(&safe);
	hs_buf_add(&lead, line + inner, column);
	hs_buf_shown(&safe, lead.data, false);
	hs_lines_text(out, screen, HS_STYLE_PLAIN, indent + inner, safe.data, line + inner + column);
	hs_buf_free(&safe);
	hs_buf_free(&lead);
}

void hs_lines_table(hs_buf *out, const hs_screen *screen, size_t indent, const char *text)
{
	while (*text) {
		size_t length = strcspn(text, "\n");
		hs_buf line;
		hs_buf_init(&line);
		hs_buf_add(&line, text, length);
		add_row(out, screen, indent, line.data);
		hs_buf_free(&line);
		text += length + (text[length] == '\n');
	}
}

void hs_lines_named(hs_buf *out, const char *id, const char *title)
{
	hs_buf_str(out, id);
	if (title && *title && strcmp(title, id) != 0)
		hs_buf_printf(out, " (%s)", title);
}
