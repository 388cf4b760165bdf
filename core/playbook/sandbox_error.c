/* From Lua's error values to ours: where it happened, what was said, who called. */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "sandbox_impl.h"

enum { LEVELS_LOOKED_AT = 200 };

/* Reads the frame at a level of Lua's own count; false when it is not one of a playbook's. */
static bool read_frame(lua_State *L, lua_Debug *ar, hs_frame *frame)
{
	lua_getinfo(L, "Sl", ar);
	if (ar->currentline < 1 || ar->source[0] != '@')
		return false;
	const hs_source *source = hs_sources_find(hs_sandbox_of(L)->sources, ar->source + 1);
	*frame = (hs_frame){source ? source->path : "", ar->currentline};
	return true;
}

bool hs_sandbox_where(lua_State *L, int level, const char **file, int *line)
{
	lua_Debug ar;
	hs_frame frame;
	*file = "";
	*line = 0;
	for (int i = 0, seen = 0; i < LEVELS_LOOKED_AT && lua_getstack(L, i, &ar); i++) {
		if (!read_frame(L, &ar, &frame) || ++seen < level)
			continue;
		*file = frame.file;
		*line = frame.line;
		return true;
	}
	return false;
}

static bool same_frame(const hs_frame *a, const hs_frame *b)
{
	return a->line == b->line && strcmp(a->file, b->file) == 0;
}

/*
 * The message handler of the gate: runs at the point of the error, before anything is unwound. Allocates nothing. A
 * function that calls itself counts once.
 */
int hs_trace_handler(lua_State *L)
{
	lua_Debug ar;
	hs_frame frame;
	hs_sandbox *sandbox = hs_sandbox_of(L);
	if (sandbox->dead)
		return 1;
	sandbox->frames = 0;
	for (int i = 0; i < LEVELS_LOOKED_AT && sandbox->frames < HS_FRAMES && lua_getstack(L, i, &ar); i++) {
		if (!read_frame(L, &ar, &frame))
			continue;
		if (sandbox->frames == 0 || !same_frame(&sandbox->trace[sandbox->frames - 1], &frame))
			sandbox->trace[sandbox->frames++] = frame;
	}
	return 1;
}

void hs_error_place(hs_sandbox *sandbox, hs_error *error, const char *file, int line)
{
	if (file && *file)
		hs_fail_at(error, file, line);
	if (!error->quote[0] && error->line > 0)
		hs_sources_quote(sandbox->sources, error->file, error->line, error->quote, sizeof error->quote);
}

/* The first frame that tells more than the error's own place does. */
static int first_caller(const hs_sandbox *sandbox, const hs_error *error)
{
	for (int i = 0; i < sandbox->frames; i++)
		if (error->line == sandbox->trace[i].line && strcmp(error->file, sandbox->trace[i].file) == 0)
			return i + 1;
	return sandbox->frames > 0 && strcmp(error->file, sandbox->trace[0].file) == 0 ? 1 : 0;
}

static void add_callers(const hs_sandbox *sandbox, hs_error *error)
{
	char hint[sizeof error->hint];
	int first = first_caller(sandbox, error);
	hs_copy(hint, sizeof hint, error->hint);
	size_t length = strlen(hint);
	for (int i = first; i < sandbox->frames && length < sizeof hint - 1; i++) {
		const char *lead = i > first ? ", " : (length > 0 ? "; called from " : "called from ");
		char piece[sizeof hint];
		snprintf(piece, sizeof piece, "%s%.180s:%d", lead, sandbox->trace[i].file, sandbox->trace[i].line);
		if (length + strlen(piece) >= sizeof hint)
			break;
		memcpy(hint + length, piece, strlen(piece) + 1);
		length += strlen(piece);
	}
	hs_copy(error->hint, sizeof error->hint, hint);
}

/* Lua shows a chunk's name whole, or its tail after "..." when it is long. */
static size_t shown_name(const char *path, char out[LUA_IDSIZE])
{
	size_t length = strlen(path);
	if (length < LUA_IDSIZE)
		memcpy(out, path, length + 1);
	else
		snprintf(out, LUA_IDSIZE, "...%s", path + length - (LUA_IDSIZE - 4));
	return strlen(out);
}

/* Reads ":LINE: " and returns what follows, or NULL. */
static const char *after_line(const char *text, int *line)
{
	int value = 0;
	if (*text++ != ':' || *text < '0' || *text > '9')
		return NULL;
	for (; *text >= '0' && *text <= '9' && value < 10000000; text++)
		value = value * 10 + (*text - '0');
	if (text[0] != ':' || text[1] != ' ')
		return NULL;
	*line = value;
	return text + 2;
}

void hs_error_from_text(hs_sandbox *sandbox, const char *text, hs_error *error)
{
	const char *file = NULL;
	int line = 0;
	for (size_t i = 0; i < hs_sources_count(sandbox->sources) && !file; i++) {
		char name[LUA_IDSIZE];
		const char *path = hs_sources_at(sandbox->sources, i)->path;
		size_t length = shown_name(path, name);
		const char *rest = strncmp(text, name, length) == 0 ? after_line(text + length, &line) : NULL;
		if (!rest)
			continue;
		file = path;
		text = rest;
	}
	hs_fail(error, HS_BAD_INPUT, "%s", text);
	for (char *at = error->message; *at; at++)
		if (*at == '\n' || *at == '\t')
			*at = ' ';
	if (strstr(error->message, "stack overflow"))
		hs_fail_hint(error, "a function here calls itself without end, or the text is nested too deeply");
	if (!error->message[0])
		hs_fail(error, HS_BAD_INPUT, "the %s raised an error without words", sandbox->what);
	hs_error_place(sandbox, error, file, line);
}

static const char *main_path(const hs_sandbox *sandbox)
{
	const hs_source *source = hs_sources_main(sandbox->sources);
	return source ? source->path : "";
}

/* Raw access only: the value may be anything, with any metatable. */
static void from_value(hs_sandbox *sandbox, hs_error *error)
{
	lua_State *L = sandbox->L;
	switch (lua_type(L, -1)) {
	case LUA_TSTRING:
		hs_error_from_text(sandbox, lua_tostring(L, -1), error);
		return;
	case LUA_TNUMBER:
		hs_fail(error, HS_BAD_INPUT, "the %s raised the error %.14g", sandbox->what,
		        (double)lua_tonumber(L, -1));
		return;
	default:
		hs_fail(error, HS_BAD_INPUT, "the %s raised an error that is not a text but a %s value", sandbox->what,
		        lua_typename(L, lua_type(L, -1)));
		hs_fail_hint(error, "write error(\"what is wrong\")");
	}
}

/* Lua names only the first byte of a character it does not know; word processors put such quotes in by themselves. */
static bool quotes_are_curly(const hs_sandbox *sandbox, const hs_error *error)
{
	static const char *const curly[] = {"\xE2\x80\x98", "\xE2\x80\x99", "\xE2\x80\x9C", "\xE2\x80\x9D", "\xE2\x80\x9E"};
	char line[1024];
	if (!strstr(error->message, "near '<\\226>'") ||
	    !hs_sources_quote(sandbox->sources, error->file, error->line, line, sizeof line))
		return false;
	for (size_t i = 0; i < sizeof curly / sizeof *curly; i++)
		if (strstr(line, curly[i]))
			return true;
	return false;
}

void hs_error_from_stack(hs_sandbox *sandbox, int status, hs_error *error)
{
	hs_error made = {0};
	if (status == LUA_ERRMEM)
		hs_sandbox_kill(sandbox, HS_DEAD_MEMORY);
	if (sandbox->dead) {
		made = sandbox->fault;
	} else if (lua_touserdata(sandbox->L, -1) == &sandbox->raised) {
		made = sandbox->raised;
	} else {
		from_value(sandbox, &made);
	}
	if (!made.file[0] && sandbox->frames > 0)
		hs_error_place(sandbox, &made, sandbox->trace[0].file, sandbox->trace[0].line);
	if (!made.file[0])
		hs_error_place(sandbox, &made, main_path(sandbox), 0);
	if (!made.hint[0] && quotes_are_curly(sandbox, &made))
		hs_fail_hint(&made, "a text stands between straight quotes: \"like this\"; these are curly ones");
	/* The reader stumbles where it can go on no longer, which may be lines below the slip. */
	if (!made.hint[0] && strstr(made.message, " expected (to close "))
		hs_fail_hint(&made, "a comma or a bracket is missing, here or somewhere above");
	if (!sandbox->dead)
		add_callers(sandbox, &made);
	if (error)
		*error = made;
}

int hs_sandbox_raise(lua_State *L, const hs_error *error)
{
	hs_sandbox *sandbox = hs_sandbox_of(L);
	const char *file;
	int line;
	if (error != &sandbox->raised)
		sandbox->raised = *error;
	hs_sandbox_where(L, 1, &file, &line);
	if (sandbox->raised.file[0])
		file = NULL;
	hs_error_place(sandbox, &sandbox->raised, file, line);
	lua_pushlightuserdata(L, &sandbox->raised);
	return lua_error(L);
}

int hs_sandbox_raisef(lua_State *L, const char *format, ...)
{
	hs_error error = {.code = HS_BAD_INPUT};
	va_list args;
	va_start(args, format);
	/* Cutting a long message short is better than not telling it. */
	int length = vsnprintf(error.message, sizeof error.message, format, args);
	va_end(args);
	if (length < 0)
		hs_copy(error.message, sizeof error.message, format);
	return hs_sandbox_raise(L, &error);
}
