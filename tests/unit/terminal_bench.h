/*
 * A pseudo-terminal for tests of the live seat: a child runs the seat against asks of our own and prints what came in;
 * the test types, and waits for what it should see.
 */
#ifndef HALFSPLIT_TESTS_TERMINAL_BENCH_H
#define HALFSPLIT_TESTS_TERMINAL_BENCH_H

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>
#include <utmp.h>
#include "halfsplit/seat/terminal.h"
#include "fake_engine.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define PATIENCE_MS  60000

static const char *const terms[] = {"xterm", "dumb", "no-such-terminal"};

/* ---- the child ---- */

static const char *const kind_names[] = {"answer", "help",  "why",  "show", "large", "note",     "redo",
                                         "pause",  "leave", "handover", "stop", "end",  "interrupt"};

typedef enum asked { A_LOOK, A_BLOCK, A_WAIT, A_SHORT_WAIT, A_GATE, A_SENTENCE, A_DO, A_TICKS } asked;

static inline hs_ask ask_for(hs_seat *seat, asked script, size_t taken)
{
	switch (script) {
	case A_SHORT_WAIT:
		return (hs_ask){.kind = HS_ASK_WAITED, .step = 0, .earliest_ms = taken ? 0 : seat->now_mono_ms(seat) + 700};
	case A_GATE:
		return (hs_ask){.kind = HS_ASK_GATE, .step = -1};
	case A_SENTENCE:
		return (hs_ask){.kind = HS_ASK_INTAKE, .step = -1};
	case A_DO:
		/* A look first, so that there is a prompt to paste at. */
		return (hs_ask){.kind = taken ? HS_ASK_DONE : HS_ASK_CHOOSE, .step = 0};
	case A_BLOCK:
	case A_TICKS:
		return (hs_ask){.kind = HS_ASK_READ, .step = 1, .item = (int)(taken % 3)};
	case A_WAIT:
		return (hs_ask){.kind = HS_ASK_GATE, .step = -1, .earliest_ms = INT64_MAX / 2};
	case A_LOOK:
		break;
	}
	return (hs_ask){.kind = HS_ASK_CHOOSE, .step = 0};
}

static inline void say_input(hs_seat *seat, const hs_input *input)
{
	hs_buf said;
	hs_buf_init(&said);
	hs_buf_printf(&said, "GOT %s [", kind_names[input->kind]);
	hs_buf_shown(&said, input->text.data, false);
	hs_buf_str(&said, "]\n");
	seat->show(seat, said.data);
	hs_buf_free(&said);
}

/* Under nohup, or behind an & in a script, some of them are ignored, and a seat leaves them so. */
static inline void mind_signals(void)
{
	static const int minded[] = {SIGINT, SIGTERM, SIGHUP, SIGTSTP};
	for (size_t i = 0; i < COUNT(minded); i++)
		signal(minded[i], SIG_DFL);
}

/* Exit status: 0 at the end of input, 3 when the seat failed, 7 when the terminal was gone, 9 when it could not be opened. */
static inline int run_seat(int in_fd, asked script)
{
	mind_signals();
	hs_error error = {0};
	hs_seat *seat = hs_terminal_open(in_fd, stdout, &error);
	if (!seat)
		return 9;
	seat->show(seat, hs_terminal_edits(seat) ? "edits\n" : "plain\n");
	hs_engine engine = fake_engine();
	hs_ask_words words = {.bare = script == A_BLOCK ? HS_VOLT : HS_UNIT_COUNT, .is_gate = script == A_GATE};
	hs_buf_init(&words.heading);
	hs_buf_str(&words.heading, script == A_GATE ? "Gate: secured" : "");
	words.choices[0].word = "lit";
	words.choices[1].word = "dark";
	words.choice_count = script == A_LOOK || script == A_DO || script == A_TICKS ? 2 : 0;
	hs_input input;
	hs_input_init(&input);
	bool good = true;
	do {
		hs_ask ask = ask_for(seat, script, engine.answers);
		good = seat->ask(seat, &engine, &ask, &words, &input, &error);
		if (good)
			say_input(seat, &input);
		engine.answers += input.kind == HS_INPUT_ANSWER && strcmp(input.text.data, "bad") != 0;
	} while (good && input.kind != HS_INPUT_END);
	bool gone = good && strcmp(input.text.data, "terminal closed") == 0;
	hs_input_free(&input);
	hs_buf_free(&words.heading);
	hs_seat_close(seat);
	return gone ? 7 : good ? 0 : 3;
}

/* ---- the test's end of the line ---- */

typedef struct line {
	int fd;
	pid_t pid;
	char seen[65536];
	size_t length, from; /* what came; where the next search begins */
} line;

static inline int64_t now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static inline void begin(line *l, const char *term, asked script)
{
	struct winsize size = {.ws_row = 40, .ws_col = 70};
	memset(l, 0, sizeof *l);
	fflush(NULL);
	l->pid = forkpty(&l->fd, NULL, NULL, &size);
	assert_true(l->pid >= 0);
	if (l->pid == 0) {
		setenv("TERM", term, 1);
		setenv("NO_COLOR", "1", 1);
		_exit(run_seat(STDIN_FILENO, script));
	}
}

/* Reads what comes for at most the patience; false at the end of the line. */
static inline bool more(line *l, int64_t until)
{
	struct pollfd wait = {l->fd, POLLIN, 0};
	int64_t left = until - now_ms();
	if (left <= 0 || poll(&wait, 1, (int)left) <= 0)
		return false;
	ssize_t got = read(l->fd, l->seen + l->length, sizeof l->seen - 1 - l->length);
	if (got <= 0)
		return false;
	l->length += (size_t)got;
	l->seen[l->length] = '\0';
	return true;
}

/* Begins with something typed before the first prompt. */
static inline void begin_typed(line *l, const char *term, asked script, const char *typed)
{
	struct winsize size = {.ws_row = 40, .ws_col = 70};
	int master, slave;
	memset(l, 0, sizeof *l);
	fflush(NULL);
	assert_int_equal(openpty(&master, &slave, NULL, NULL, &size), 0);
	assert_int_equal(write(master, typed, strlen(typed)), strlen(typed));
	l->fd = master;
	/* The kernel hands on what was typed when it gets round to it: once its echo is back, it was typed before. */
	int64_t until = now_ms() + PATIENCE_MS;
	while (l->length < strlen(typed))
		assert_true(more(l, until));
	l->pid = fork();
	assert_true(l->pid >= 0);
	if (l->pid == 0) {
		close(master);
		login_tty(slave);
		setenv("TERM", term, 1);
		setenv("NO_COLOR", "1", 1);
		_exit(run_seat(STDIN_FILENO, script));
	}
	close(slave);
}

static inline void see(line *l, const char *text)
{
	int64_t until = now_ms() + PATIENCE_MS;
	char *found;
	while (!(found = strstr(l->seen + l->from, text)))
		if (!more(l, until))
			fail_msg("\"%s\" did not come; what came is: %s", text, l->seen + l->from);
	l->from = (size_t)(found - l->seen) + strlen(text);
}

static inline void type(line *l, const char *text)
{
	assert_int_equal(write(l->fd, text, strlen(text)), strlen(text));
}

static inline int end_status(line *l)
{
	int64_t until = now_ms() + PATIENCE_MS;
	int status = 0;
	pid_t done;
	while ((done = waitpid(l->pid, &status, WNOHANG)) == 0 && now_ms() < until) {
		if (l->fd >= 0)
			more(l, now_ms() + 20);
		else
			usleep(10000);
	}
	if (done == 0) {
		kill(l->pid, SIGKILL);
		waitpid(l->pid, &status, 0);
		fail_msg("the seat did not end; what came is: %s", l->seen + l->from);
	}
	if (l->fd >= 0)
		close(l->fd);
	assert_true(WIFEXITED(status));
	return WEXITSTATUS(status);
}

/* The last line that came is a prompt. */
static inline bool at_prompt(const line *l)
{
	const char *last = strrchr(l->seen, '\n');
	return strstr(last ? last : l->seen, "> ") != NULL;
}

/* At a prompt: the change to editing turns a Ctrl-D that the kernel still keeps into a NUL. */
static inline void finish(line *l)
{
	int64_t until = now_ms() + PATIENCE_MS;
	while (!at_prompt(l))
		if (!more(l, until))
			fail_msg("no prompt came; what came is: %s", l->seen + l->from);
	type(l, "\x04");
	see(l, "GOT end [Ctrl-D]");
	assert_int_equal(end_status(l), 0);
}

#endif
