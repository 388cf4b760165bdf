/* Bytes and signals, one queue. */
#include <errno.h>
#include <poll.h>
#include <string.h>
#include <sys/signalfd.h>
#include <termios.h>
#include <unistd.h>
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
	if (got == 0)
		return HS_CAME_EOF;
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

hs_came hs_terminal_byte(hs_terminal *terminal, unsigned char *byte)
{
	while (!terminal->closed) {
		hs_came came = next_signal(terminal);
		if (came != HS_CAME_FINE)
			return came;
		if (terminal->at < terminal->bytes.length) {
			*byte = (unsigned char)terminal->bytes.data[terminal->at++];
			return HS_CAME_FINE;
		}
		if (terminal->ahead_ends) {
			terminal->ahead_ends = false;
			return HS_CAME_EOF;
		}
		struct pollfd wait[] = {{terminal->in_fd, POLLIN, 0}, {terminal->signal_fd, POLLIN, 0}};
		if (poll(wait, 2, -1) < 0 && errno != EINTR)
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
