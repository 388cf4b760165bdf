/* A person at a terminal. */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/signalfd.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>
#include "halfsplit/base/alloc.h"
#include "terminal_inside.h"

static int64_t clock_ms(clockid_t clock)
{
	struct timespec now;
	clock_gettime(clock, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* The clock that goes on while the machine sleeps: a lid closed over lunch is a break like any other. */
static int64_t now_mono_ms(hs_seat *seat)
{
	(void)seat;
	return clock_ms(CLOCK_BOOTTIME);
}

static int64_t now_utc_ms(hs_seat *seat)
{
	(void)seat;
	return clock_ms(CLOCK_REALTIME);
}

static void put(hs_terminal *terminal, const char *text)
{
	fputs(text, terminal->out);
	fflush(terminal->out);
}

static void show(hs_seat *seat, const char *text)
{
	put((hs_terminal *)seat, text);
}

static size_t columns(const hs_terminal *terminal)
{
	struct winsize size;
	if (terminal->out_tty && ioctl(fileno(terminal->out), TIOCGWINSZ, &size) == 0 && size.ws_col > 0)
		return size.ws_col;
	return 80;
}

/* True when a whole line, or Ctrl-D, was typed before the prompt: there is nothing left to edit. */
static bool typed_ahead(hs_terminal *terminal)
{
	hs_terminal_take_ahead(terminal);
	const char *rest = terminal->bytes.data + terminal->at;
	size_t length = terminal->bytes.length - terminal->at;
	return terminal->ahead && (terminal->ahead_ends || memchr(rest, '\n', length));
}

static hs_came plain_line(hs_terminal *terminal, const hs_prompt *prompt, hs_buf *line)
{
	put(terminal, prompt->text);
	for (;;) {
		unsigned char byte = 0;
		hs_came came = hs_terminal_byte(terminal, &byte);
		if (came == HS_CAME_RESIZED)
			continue;
		if (came == HS_CAME_SUSPEND) {
			hs_terminal_stop_process();
			put(terminal, prompt->text);
			continue;
		}
		if (came == HS_CAME_OVER) {
			put(terminal, "\a\n" HS_OVER_TEXT);
			put(terminal, prompt->later);
			continue;
		}
		if (came == HS_CAME_EOF && line->length > 0)
			return HS_CAME_FINE;
		if (came != HS_CAME_FINE || byte == '\n')
			return came;
		if (line->length <= HS_LINE_MOST) /* one more byte than allowed tells that the line is too long */
			hs_buf_char(line, (char)byte);
	}
}

/* Nobody saw it being typed here: without it the screen would read without the answers. */
static void echo(hs_terminal *terminal, const hs_buf *line)
{
	hs_buf typed;
	hs_buf_init(&typed);
	hs_buf_shown(&typed, line->data, false);
	hs_buf_char(&typed, '\n');
	put(terminal, typed.data);
	hs_buf_free(&typed);
}

hs_came hs_terminal_line(hs_terminal *terminal, const hs_prompt *prompt, hs_buf *line)
{
	hs_buf_clear(line);
	if (terminal->closed || ferror(terminal->out))
		return HS_CAME_CLOSED;
	if (prompt->fresh)
		hs_terminal_drop_ahead(terminal);
	bool ahead = terminal->in_tty && typed_ahead(terminal);
	hs_came came = terminal->editing && !ahead ? hs_editing_line(terminal->editing, prompt, line)
	                                           : plain_line(terminal, prompt, line);
	if (came == HS_CAME_FINE && (ahead || !terminal->in_tty))
		echo(terminal, line);
	if (came == HS_CAME_INTERRUPT)
		put(terminal, "^C\n");
	else if (came != HS_CAME_FINE)
		put(terminal, "\n");
	if (came == HS_CAME_CLOSED)
		terminal->closed = true;
	return came;
}

/* What cannot stand in a transcript is not taken, and said so. */
static const char *trouble(const hs_buf *line)
{
	if (line->length > HS_LINE_MOST)
		return "  That line is too long (over 4096 bytes); nothing was taken.\n";
	if (strlen(line->data) != line->length)
		return "  That line holds a NUL byte; nothing was taken.\n";
	if (!hs_utf8_valid(line->data, line->length))
		return "  That line is not UTF-8 text; nothing was taken. Set the terminal to UTF-8, or write plain "
		       "letters (u, ohm).\n";
	return NULL;
}

static hs_came good_line(hs_terminal *terminal, const hs_prompt *prompt, hs_buf *line)
{
	for (;;) {
		hs_came came = hs_terminal_line(terminal, prompt, line);
		const char *why = came == HS_CAME_FINE ? trouble(line) : NULL;
		if (!why)
			return came;
		put(terminal, why);
	}
}

/* Readings left over from the last line, if they fit what is asked now; else they are dropped, and said so. */
static bool take_more(hs_terminal *terminal, const hs_ask *ask, const char *prompt, hs_buf *line)
{
	if (terminal->more.length == 0)
		return false;
	hs_buf text;
	hs_buf_init(&text);
	bool fits = ask->kind == HS_ASK_READ && ask->step == terminal->more_step && ask->item > terminal->more_item;
	if (fits) {
		hs_terminal_take_more(&terminal->more, line);
		terminal->more_item = ask->item;
		hs_buf_str(&text, prompt);
		hs_buf_shown(&text, line->data, false);
		hs_buf_char(&text, '\n');
	} else {
		hs_buf_str(&text, "  not used: ");
		hs_buf_shown(&text, terminal->more.data, false);
		hs_buf_char(&text, '\n');
		hs_buf_clear(&terminal->more);
	}
	put(terminal, text.data);
	hs_buf_free(&text);
	return fits;
}

static void show_ask(hs_terminal *terminal, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words)
{
	hs_buf id, text;
	hs_buf_init(&id);
	hs_buf_init(&text);
	hs_engine_ask_id(engine, ask, &id);
	hs_buf_clear(&terminal->again);
	hs_screen_again(&terminal->seat.screen, ask, words, &terminal->again);
	if (hs_shown_is_new(&terminal->shown, engine, id.data)) {
		terminal->seat.screen.brief = hs_shown_caution(&terminal->shown, ask);
		hs_screen_ask(&terminal->seat.screen, engine, ask, words, &text);
	}
	else
		hs_buf_str(&text, terminal->again.data ? terminal->again.data : "");
	put(terminal, text.data ? text.data : "");
	hs_buf_free(&text);
	hs_buf_free(&id);
}

static bool came_otherwise(const hs_terminal *terminal, hs_came came, hs_input *input, hs_error *error)
{
	hs_buf_clear(&input->text);
	input->kind = came == HS_CAME_INTERRUPT ? HS_INPUT_INTERRUPT : HS_INPUT_END;
	if (came == HS_CAME_FAILED)
		return hs_fail(error, HS_IO, "Reading the next answer failed: %s.", strerror(errno));
	if (came == HS_CAME_CLOSED)
		hs_buf_str(&input->text, "terminal closed");
	else if (came == HS_CAME_EOF)
		hs_buf_str(&input->text, terminal->in_tty ? "Ctrl-D" : "end of input");
	return true;
}

/* "note" alone: the remark is asked for. */
static hs_came ask_note(hs_terminal *terminal, hs_buf *line, hs_input *input)
{
	hs_came came = good_line(terminal, &(hs_prompt){.text = "note> ", .later = "note> ", .recalls = true}, line);
	if (came == HS_CAME_FINE)
		hs_buf_str(&input->text, hs_trim(line->data));
	return came;
}

/* What is confirmed there was done or seen at the unit, after it was asked; a reading or a look may be typed ahead. */
static bool confirms(const hs_ask *ask, const hs_ask_words *words)
{
	switch (ask->kind) {
	case HS_ASK_OPEN:
	case HS_ASK_CLOSE:
	case HS_ASK_JOIN:
	case HS_ASK_PART:
	case HS_ASK_SET:
	case HS_ASK_DONE:
	case HS_ASK_AGAIN:
	case HS_ASK_WAITED:
	case HS_ASK_FITTED:
		return true;
	default:
		return words->is_gate;
	}
}

/* Asks for a line under the prompt of this ask. */
static hs_came ask_line(hs_terminal *terminal, const hs_ask *ask, const hs_ask_words *words, hs_buf *line)
{
	hs_screen screen = terminal->seat.screen, later = screen;
	hs_buf now, then;
	hs_buf_init(&now);
	hs_buf_init(&then);
	later.now_ms = INT64_MAX;
	hs_screen_prompt(&screen, ask, words, &now);
	hs_screen_prompt(&later, ask, words, &then);
	hs_prompt prompt = {now.data, then.data, hs_input_is_sentence(words) || words->is_act, confirms(ask, words)};
	terminal->over_ms = ask->earliest_ms > screen.now_ms ? ask->earliest_ms : 0;
	hs_came came = HS_CAME_FINE;
	if (!take_more(terminal, ask, now.data, line))
		came = good_line(terminal, &prompt, line);
	hs_buf_free(&then);
	hs_buf_free(&now);
	return came;
}

static bool read_input(hs_terminal *terminal, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words,
                       hs_buf *line, hs_input *input, hs_error *error)
{
	hs_came came = HS_CAME_FINE;
	do {
		terminal->seat.screen.now_ms = now_mono_ms(&terminal->seat);
		came = ask_line(terminal, ask, words, line);
		if (came == HS_CAME_FINE) {
			hs_input_read(words, line->data, input);
			if (input->kind == HS_INPUT_NOTE && input->text.length == 0)
				came = ask_note(terminal, line, input);
		}
		/* An empty remark is nobody's wish: the ask comes again. */
	} while (came == HS_CAME_FINE && input->kind == HS_INPUT_NOTE && input->text.length == 0);
	terminal->over_ms = 0;
	if (came != HS_CAME_FINE)
		return came_otherwise(terminal, came, input, error);
	if (input->kind == HS_INPUT_ANSWER && terminal->more.length == 0) {
		hs_terminal_split(engine, ask, &input->text, &terminal->more);
		terminal->more_step = ask->step;
		terminal->more_item = ask->item;
		/* "1;1;1" at ticks: each piece is what it would be alone, a number in place of a word too. */
		if (terminal->more.length > 0) {
			char *first = hs_strdup(input->text.data);
			hs_input_read(words, first, input);
			free(first);
		}
	}
	return true;
}

static bool ask_terminal(hs_seat *seat, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words,
                         hs_input *input, hs_error *error)
{
	hs_terminal *terminal = (hs_terminal *)seat;
	seat->screen.width = columns(terminal);
	seat->screen.now_ms = now_mono_ms(seat);
	show_ask(terminal, engine, ask, words);
	hs_buf line;
	hs_buf_init(&line);
	bool good = read_input(terminal, engine, ask, words, &line, input, error);
	hs_buf_free(&line);
	seat->screen.now_ms = now_mono_ms(seat);
	return good;
}

/* Signals that are ignored already (nohup, a shell's background job) stay ignored. */
static void gather(sigset_t *set)
{
	static const int wanted[] = {SIGINT, SIGTERM, SIGHUP, SIGTSTP, SIGWINCH};
	sigemptyset(set);
	for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
		struct sigaction now;
		if (sigaction(wanted[i], NULL, &now) == 0 && now.sa_handler != SIG_IGN)
			sigaddset(set, wanted[i]);
	}
}

static bool take_signals(hs_terminal *terminal, hs_error *error)
{
	sigset_t set;
	gather(&set);
	terminal->signal_fd = signalfd(-1, &set, SFD_CLOEXEC | SFD_NONBLOCK);
	if (terminal->signal_fd < 0)
		return hs_fail(error, HS_IO, "Signals cannot be received: %s.", strerror(errno));
	sigprocmask(SIG_BLOCK, &set, &terminal->mask_before);
	struct sigaction ignore = {.sa_handler = SIG_IGN};
	sigaction(SIGPIPE, &ignore, &terminal->pipe_before);
	return true;
}

static void close_terminal(hs_seat *seat)
{
	hs_terminal *terminal = (hs_terminal *)seat;
	hs_editing_free(terminal->editing);
	fflush(terminal->out);
	sigaction(SIGPIPE, &terminal->pipe_before, NULL);
	/* What was sent meanwhile was meant for the seat; nobody is to be killed by it afterwards. */
	struct signalfd_siginfo info;
	while (read(terminal->signal_fd, &info, sizeof info) > 0)
		;
	close(terminal->signal_fd);
	sigprocmask(SIG_SETMASK, &terminal->mask_before, NULL);
	hs_shown_free(&terminal->shown);
	hs_buf_free(&terminal->again);
	hs_buf_free(&terminal->more);
	hs_buf_free(&terminal->bytes);
	free(terminal);
}

static bool usable_term(void)
{
	const char *term = getenv("TERM");
	return term && *term && strcmp(term, "dumb") != 0;
}

hs_seat *hs_terminal_open(int in_fd, FILE *out, hs_error *error)
{
	if (fcntl(in_fd, F_GETFD) < 0) {
		hs_fail(error, HS_IO, "Nothing can be read from descriptor %d: it is closed.", in_fd);
		return NULL;
	}
	hs_terminal *terminal = hs_alloc(sizeof *terminal);
	*terminal = (hs_terminal){.in_fd = in_fd, .out = out, .in_tty = isatty(in_fd), .out_tty = isatty(fileno(out))};
	terminal->seat =
	    (hs_seat){ask_terminal, show, now_mono_ms, now_utc_ms, close_terminal, "piped", false, {.width = 80}, NULL, false};
	if (!take_signals(terminal, error)) {
		free(terminal);
		return NULL;
	}
	if (terminal->in_tty)
		terminal->seat.name = "terminal";
	hs_screen *screen = &terminal->seat.screen;
	screen->colour = terminal->out_tty && hs_screen_wants_colour();
	screen->tall = terminal->out_tty && hs_screen_wants_tall();
	screen->width = columns(terminal);
	screen->begun_ms = screen->now_ms = now_mono_ms(&terminal->seat);
	hs_shown_init(&terminal->shown);
	hs_buf_init(&terminal->again);
	hs_buf_init(&terminal->more);
	hs_buf_init(&terminal->bytes);
	if (terminal->in_tty && terminal->out_tty && usable_term())
		terminal->editing = hs_editing_new(terminal);
	return &terminal->seat;
}

bool hs_terminal_edits(const hs_seat *seat)
{
	return ((const hs_terminal *)seat)->editing != NULL;
}
