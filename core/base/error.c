#include "halfsplit/base/error.h"

#include <stdio.h>
#include "halfsplit/base/text.h"

/* The text may quote the very error it fills ("in the kit: %s"), so it is formatted aside first. */
static void format_aside(char *to, size_t room, const char *format, va_list args)
{
	char aside[1024];
	if (vsnprintf(aside, sizeof aside, format, args) < 0)
		hs_copy(aside, sizeof aside, format);
	hs_copy(to, room, aside);
}

bool hs_fail(hs_error *error, hs_code code, const char *format, ...)
{
	if (!error)
		return false;
	char message[sizeof error->message];
	va_list args;
	va_start(args, format);
	format_aside(message, sizeof message, format, args);
	va_end(args);
	*error = (hs_error){.code = code};
	hs_copy(error->message, sizeof error->message, message);
	return false;
}

bool hs_fail_at(hs_error *error, const char *file, int line)
{
	if (error) {
		hs_copy(error->file, sizeof error->file, file ? file : "");
		error->line = line;
	}
	return false;
}

bool hs_fail_hint(hs_error *error, const char *format, ...)
{
	if (!error)
		return false;
	va_list args;
	va_start(args, format);
	format_aside(error->hint, sizeof error->hint, format, args);
	va_end(args);
	return false;
}

void hs_error_render(const hs_error *error, hs_buf *out)
{
	if (error->file[0]) {
		hs_buf_shown(out, error->file, false);
		hs_buf_char(out, ':');
	}
	if (error->line > 0)
		hs_buf_printf(out, error->file[0] ? "%d:" : "line %d:", error->line);
	if (error->file[0] || error->line > 0)
		hs_buf_char(out, ' ');
	hs_buf_shown(out, error->message, false);
	hs_buf_char(out, '\n');
	if (error->quote[0]) {
		hs_buf_str(out, "    ");
		hs_buf_shown(out, error->quote, false);
		hs_buf_char(out, '\n');
	}
	if (error->hint[0]) {
		hs_buf_str(out, "  hint: ");
		hs_buf_shown(out, error->hint, false);
		hs_buf_char(out, '\n');
	}
}

int hs_code_exit(hs_code code)
{
	switch (code) {
	case HS_FINE:
		return 0;
	case HS_IO:
		return 3;
	case HS_BAD_INPUT:
	case HS_REFUSED:
	case HS_BUDGET:
		break;
	}
	return 2;
}
