/* Line editing, by libedit. It reads no file of the user's, sets no signal handler, and gets its characters from us. */
#include <histedit.h>
#include <locale.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <wchar.h>
#include "halfsplit/base/alloc.h"
#include "terminal_inside.h"

struct hs_editing {
	hs_terminal *terminal;
	EditLine *line;
	History *history, *none; /* none: always empty, where nothing is to be recalled */
	FILE *in, *quiet;
	locale_t utf8; /* the program runs in the "C" locale; only the editor needs to know what a character is */
	hs_buf prompt, later;
	hs_came came; /* why the last character did not come */
};

static hs_editing *of(EditLine *line)
{
	void *editing = NULL;
	el_get(line, EL_CLIENTDATA, &editing);
	return editing;
}

static char *give_prompt(EditLine *line)
{
	return of(line)->prompt.data;
}

/* Leaves the terminal as the shell expects it while we are stopped. */
static void suspend(hs_editing *editing)
{
	el_set(editing->line, EL_PREP_TERM, 0);
	hs_terminal_stop_process();
	el_set(editing->line, EL_PREP_TERM, 1);
	el_set(editing->line, EL_REFRESH);
}

/* A capability of the terminal, without the delays only old ones need; "" when it has none. */
static void put_capability(hs_editing *editing, const char *name, const char *otherwise)
{
	char *text = NULL;
	if (el_get(editing->line, EL_GETTC, name, &text) != 0 || !text || !*text)
		fputs(otherwise, editing->terminal->out);
	else
		fprintf(editing->terminal->out, "%.*s", (int)strcspn(text, "$"), text);
}

/* The line is cleared, the news takes its place, and the prompt comes again under it with what was typed. */
static void tell_over(hs_editing *editing)
{
	fputs("\a\r", editing->terminal->out);
	put_capability(editing, "ce", "\n");
	fputs(HS_OVER_TEXT, editing->terminal->out);
	hs_buf_clear(&editing->prompt);
	hs_buf_str(&editing->prompt, editing->later.data);
	el_set(editing->line, EL_REFRESH);
}

/* Ctrl-L: an empty screen with a bare prompt would say nothing. */
static unsigned char ask_again(EditLine *line, int character)
{
	(void)character;
	hs_editing *editing = of(line);
	put_capability(editing, "cl", "\n");
	fputs(editing->terminal->again.data ? editing->terminal->again.data : "", editing->terminal->out);
	el_set(line, EL_REFRESH);
	return CC_NORM;
}

static int next_character(EditLine *line, wchar_t *character)
{
	hs_editing *editing = of(line);
	mbstate_t state = {0};
	for (;;) {
		unsigned char byte = 0;
		editing->came = hs_terminal_byte(editing->terminal, &byte);
		if (editing->came == HS_CAME_SUSPEND) {
			suspend(editing);
			continue;
		}
		if (editing->came == HS_CAME_RESIZED) {
			el_resize(line);
			continue;
		}
		if (editing->came == HS_CAME_OVER) {
			tell_over(editing);
			continue;
		}
		if (editing->came != HS_CAME_FINE)
			return 0;
		size_t used = mbrtowc(character, (const char *)&byte, 1, &state);
		if (used == (size_t)-2)
			continue;
		if (used == (size_t)-1)
			*character = 0xFFFD;
		return 1;
	}
}

static bool start_history(hs_editing *editing)
{
	HistEvent event;
	editing->history = history_init();
	editing->none = history_init();
	return editing->history && editing->none && history(editing->history, &event, H_SETSIZE, 500) >= 0;
}

static bool start(hs_editing *editing)
{
	int fd = dup(editing->terminal->in_fd);
	editing->in = fd >= 0 ? fdopen(fd, "r") : NULL;
	if (!editing->in && fd >= 0)
		close(fd);
	editing->quiet = fopen("/dev/null", "w"); /* what it has to say about an unknown TERM helps nobody */
	editing->utf8 = newlocale(LC_CTYPE_MASK, "C.UTF-8", (locale_t)0);
	if (!editing->in || !editing->quiet || !editing->utf8 || !start_history(editing))
		return false;
	editing->line = el_init("halfsplit", editing->in, editing->terminal->out, editing->quiet);
	if (!editing->line)
		return false;
	el_set(editing->line, EL_CLIENTDATA, editing);
	el_set(editing->line, EL_SIGNAL, 0);
	el_set(editing->line, EL_EDITOR, "emacs");
	el_set(editing->line, EL_PROMPT, give_prompt);
	el_set(editing->line, EL_HIST, history, editing->history);
	el_set(editing->line, EL_GETCFN, next_character);
	/* Of narrow names libedit makes wide copies that it never frees. */
	el_wset(editing->line, EL_ADDFN, L"ask-again", L"the screen cleared, the question again", ask_again);
	el_set(editing->line, EL_BIND, "^L", "ask-again", NULL);
	return true;
}

hs_editing *hs_editing_new(hs_terminal *terminal)
{
	hs_editing *editing = hs_alloc(sizeof *editing);
	editing->terminal = terminal;
	hs_buf_init(&editing->prompt);
	hs_buf_init(&editing->later);
	locale_t before = uselocale((locale_t)0);
	locale_t utf8 = newlocale(LC_CTYPE_MASK, "C.UTF-8", (locale_t)0);
	if (utf8)
		uselocale(utf8);
	bool good = start(editing);
	uselocale(before);
	if (utf8)
		freelocale(utf8);
	if (good)
		return editing;
	hs_editing_free(editing);
	return NULL;
}

void hs_editing_free(hs_editing *editing)
{
	if (!editing)
		return;
	if (editing->line)
		el_end(editing->line);
	if (editing->history)
		history_end(editing->history);
	if (editing->none)
		history_end(editing->none);
	if (editing->in)
		fclose(editing->in);
	if (editing->quiet)
		fclose(editing->quiet);
	if (editing->utf8)
		freelocale(editing->utf8);
	hs_buf_free(&editing->prompt);
	hs_buf_free(&editing->later);
	free(editing);
}

static void keep(hs_editing *editing, const char *line)
{
	HistEvent event;
	if (line[strspn(line, " \t\r\n")])
		history(editing->history, &event, H_ENTER, line);
}

hs_came hs_editing_line(hs_editing *editing, const hs_prompt *prompt, hs_buf *line)
{
	hs_buf_clear(&editing->prompt);
	hs_buf_str(&editing->prompt, prompt->text);
	hs_buf_clear(&editing->later);
	hs_buf_str(&editing->later, prompt->later);
	editing->came = HS_CAME_EOF;
	locale_t before = uselocale(editing->utf8);
	el_set(editing->line, EL_HIST, history, prompt->recalls ? editing->history : editing->none);
	el_resize(editing->line);
	/* Before the prompt shows: whoever types as soon as it does is typing at the editor. */
	el_set(editing->line, EL_PREP_TERM, 1);
	int length = 0;
	const char *typed = el_gets(editing->line, &length);
	if (typed && length > 0) {
		hs_buf_add(line, typed, strcspn(typed, "\n"));
		if (prompt->recalls)
			keep(editing, line->data);
		editing->came = HS_CAME_FINE;
	} else if (editing->came == HS_CAME_FINE) {
		editing->came = HS_CAME_EOF; /* Ctrl-D on an empty line */
	}
	uselocale(before);
	return editing->came;
}
