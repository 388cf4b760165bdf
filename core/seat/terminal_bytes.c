/* Bytes and signals, one queue. */
#include <errno.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/signalfd.h>
#include <termios.h>
#include <unistd.h>
#include "halfsplit/base/alloc.h"
#include "terminal_inside.h"

void hs_terminal_stop_process(void)
{
	/* A session's leader has no shell above it that could start it again. */
	if (getpgrp() != getsid(0))
		raise(SIGSTOP);
}

/* FINE: no signal waits. */
static hs_came next_signal(hs_terminal *terminal)
{
	struct signalfd_siginfo info;
	if (read(terminal->signal_fd, &info, sizeof info) != (ssize_t)sizeof info)
		return HS_CAME_FINE;
	switch (info.ssi_signo) {
	case SIGINT:
		return HS_CAME_INTERRUPT;
	case SIGTSTP:
		return HS_CAME_SUSPEND;
	case SIGWINCH:
		return HS_CAME_RESIZED;
	default:
		return HS_CAME_CLOSED;
	}
}

static hs_came fill(hs_terminal *terminal)
{
	char bytes[4096];
	ssize_t got = read(terminal->in_fd, bytes, sizeof bytes);
	if (got > 0) {
		if (terminal->at == terminal->bytes.length) {
			hs_buf_clear(&terminal->bytes);
			terminal->at = 0;
		}
		hs_buf_add(&terminal->bytes, bytes, (size_t)got);
		return HS_CAME_FINE;
	}
	if (got == 0) {
		/* A terminal that is gone gives nothing, as Ctrl-D does; only it hangs up as well. */
		struct pollfd gone = {terminal->in_fd, POLLIN, 0};
		bool hung_up = terminal->in_tty && poll(&gone, 1, 0) == 1 && (gone.revents & POLLHUP);
		return hung_up ? HS_CAME_CLOSED : HS_CAME_EOF;
	}
	if (errno == EINTR || errno == EAGAIN)
		return HS_CAME_FINE;
	/* EIO is how the kernel says that the terminal behind the descriptor is gone. */
	return errno == EIO && terminal->in_tty ? HS_CAME_CLOSED : HS_CAME_FAILED;
}

void hs_terminal_take_ahead(hs_terminal *terminal)
{
	struct termios mode;
	if (terminal->at < terminal->bytes.length || terminal->ahead_ends)
		return;
	terminal->ahead = tcgetattr(terminal->in_fd, &mode) == 0 && (mode.c_lflag & ICANON);
	struct pollfd wait = {terminal->in_fd, POLLIN, 0};
	while (terminal->ahead && poll(&wait, 1, 0) == 1 && wait.revents == POLLIN) {
		hs_came came = fill(terminal);
		if (came != HS_CAME_FINE) {
			terminal->ahead_ends = came == HS_CAME_EOF;
			return; /* any other trouble will come again at the prompt */
		}
	}
}

static bool is_stop(const char *line)
{
	hs_ask_words words = {.bare = HS_UNIT_COUNT};
	hs_input input;
	hs_input_init(&input);
	hs_input_read(&words, line, &input);
	bool stop = input.kind == HS_INPUT_STOP;
	hs_input_free(&input);
	return stop;
}

/* Whatever can be read without waiting goes behind what was read before. True: Ctrl-D is among it. */
static bool drain(hs_terminal *terminal)
{
	struct pollfd wait = {terminal->in_fd, POLLIN, 0};
	while (poll(&wait, 1, 0) == 1 && wait.revents == POLLIN) {
		hs_came came = fill(terminal);
		if (came != HS_CAME_FINE)
			return came == HS_CAME_EOF;
	}
	return false;
}

/* Of what was read only a stop is left; true when anything else was there. */
static bool keep_stop(hs_terminal *terminal, bool ends)
{
	char *typed = hs_strdup(terminal->bytes.length > 0 ? terminal->bytes.data + terminal->at : ""), *rest = NULL;
	hs_buf_clear(&terminal->bytes);
	terminal->at = 0;
	bool dropped = false, stops = false;
	for (char *line = strtok_r(typed, "\r\n\x04", &rest); line && !stops; line = strtok_r(NULL, "\r\n\x04", &rest)) {
		stops = is_stop(line);
		if (stops)
			hs_buf_printf(&terminal->bytes, "%s\n", line);
		dropped = dropped || (!stops && line[strspn(line, " \t")]);
	}
	free(typed);
	terminal->ahead_ends = ends && !stops;
	terminal->ahead = stops || ends;
	return dropped;
}

void hs_terminal_drop_ahead(hs_terminal *terminal)
{
	if (!terminal->in_tty)
		return;
	/* Bytes that came while lines were edited hold Ctrl-D as a byte, and Enter as it was typed. */
	bool ends = terminal->ahead_ends;
	ends = drain(terminal) || ends || (terminal->bytes.length > 0 && strchr(terminal->bytes.data + terminal->at, '\x04'));
	tcflush(terminal->in_fd, TCIFLUSH);
	bool dropped = keep_stop(terminal, ends);
	if (dropped) {
		fputs("  what was typed before this was shown is not used\n", terminal->out);
		fflush(terminal->out);
	}
}

/* Seconds at most, because what poll waits for stands still while the machine sleeps. */
static int patience(hs_terminal *terminal)
{
	if (terminal->over_ms == 0)
		return -1;
	int64_t left = terminal->over_ms - terminal->seat.now_mono_ms(&terminal->seat);
	return left < 0 ? 0 : left < 1000 ? (int)left : 1000;
}

static bool wait_is_over(hs_terminal *terminal)
{
	if (terminal->over_ms == 0 || terminal->seat.now_mono_ms(&terminal->seat) < terminal->over_ms)
		return false;
	terminal->over_ms = 0;
	return true;
}

/* Ctrl-C takes back what was typed before it: the kernel drops what it still holds, and this what was read of it already. */
static void take_back(hs_terminal *terminal)
{
	if (!terminal->in_tty)
		return;
	while (terminal->bytes.length > terminal->at && !strchr("\r\n", terminal->bytes.data[terminal->bytes.length - 1]))
		terminal->bytes.data[--terminal->bytes.length] = '\0';
	keep_stop(terminal, false);
}

hs_came hs_terminal_byte(hs_terminal *terminal, unsigned char *byte)
{
	while (!terminal->closed) {
		hs_came came = next_signal(terminal);
		if (came == HS_CAME_INTERRUPT)
			take_back(terminal);
		if (came != HS_CAME_FINE)
			return came;
		if (wait_is_over(terminal))
			return HS_CAME_OVER;
		if (terminal->at < terminal->bytes.length) {
			*byte = (unsigned char)terminal->bytes.data[terminal->at++];
			return HS_CAME_FINE;
		}
		if (terminal->ahead_ends) {
			terminal->ahead_ends = false;
			return HS_CAME_EOF;
		}
		struct pollfd wait[] = {{terminal->in_fd, POLLIN, 0}, {terminal->signal_fd, POLLIN, 0}};
		if (poll(wait, 2, patience(terminal)) < 0 && errno != EINTR)
			return HS_CAME_FAILED;
		if (wait[1].revents)
			continue;
		if (wait[0].revents & POLLNVAL)
			return HS_CAME_CLOSED;
		if (wait[0].revents && (came = fill(terminal)) != HS_CAME_FINE)
			return came;
	}
	return HS_CAME_CLOSED;
}
