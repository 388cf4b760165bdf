/*
 * The live seat, typed at through a pseudo-terminal: a child runs the seat against asks of our own and prints what came
 * in; the test types, and waits for what it should see.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
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
#include <cmocka.h>
#include "halfsplit/seat/terminal.h"
#include "fake_engine.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define PATIENCE_MS  10000

/* ---- the child ---- */

static const char *const kind_names[] = {"answer", "help",  "why",  "show", "note",     "redo",
                                         "pause",  "leave", "stop", "end",  "interrupt"};

typedef enum asked { A_LOOK, A_BLOCK, A_WAIT, A_SHORT_WAIT, A_GATE, A_SENTENCE, A_DO } asked;

static hs_ask ask_for(hs_seat *seat, asked script, size_t taken)
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
		return (hs_ask){.kind = HS_ASK_READ, .step = 1, .item = (int)(taken % 3)};
	case A_WAIT:
		return (hs_ask){.kind = HS_ASK_GATE, .step = -1, .earliest_ms = INT64_MAX / 2};
	case A_LOOK:
		break;
	}
	return (hs_ask){.kind = HS_ASK_CHOOSE, .step = 0};
}

static void say_input(hs_seat *seat, const hs_input *input)
{
	hs_buf said;
	hs_buf_init(&said);
	hs_buf_printf(&said, "GOT %s [", kind_names[input->kind]);
	hs_buf_shown(&said, input->text.data, false);
	hs_buf_str(&said, "]\n");
	seat->show(seat, said.data);
	hs_buf_free(&said);
}

/* Exit status: 0 at the end of input, 3 when the seat failed, 9 when it could not be opened. */
static int run_seat(int in_fd, asked script)
{
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
	words.choice_count = script == A_LOOK || script == A_DO ? 2 : 0;
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
	hs_input_free(&input);
	hs_buf_free(&words.heading);
	hs_seat_close(seat);
	return good ? 0 : 3;
}

/* ---- the test's end of the line ---- */

typedef struct line {
	int fd;
	pid_t pid;
	char seen[65536];
	size_t length, from; /* what came; where the next search begins */
} line;

static int64_t now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static void begin(line *l, const char *term, asked script)
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

/* Begins with something typed before the first prompt. */
static void begin_typed(line *l, const char *term, asked script, const char *typed)
{
	struct winsize size = {.ws_row = 40, .ws_col = 70};
	int master, slave;
	memset(l, 0, sizeof *l);
	fflush(NULL);
	assert_int_equal(openpty(&master, &slave, NULL, NULL, &size), 0);
	assert_int_equal(write(master, typed, strlen(typed)), strlen(typed));
	l->fd = master;
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

/* Reads what comes for at most the patience; false at the end of the line. */
static bool more(line *l, int64_t until)
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

static void see(line *l, const char *text)
{
	int64_t until = now_ms() + PATIENCE_MS;
	char *found;
	while (!(found = strstr(l->seen + l->from, text)))
		if (!more(l, until))
			fail_msg("\"%s\" did not come; what came is: %s", text, l->seen + l->from);
	l->from = (size_t)(found - l->seen) + strlen(text);
}

static void type(line *l, const char *text)
{
	assert_int_equal(write(l->fd, text, strlen(text)), strlen(text));
}

static int end_status(line *l)
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

static void finish(line *l)
{
	type(l, "\x04");
	see(l, "GOT end [Ctrl-D]");
	assert_int_equal(end_status(l), 0);
}

/* ---- typing ---- */

static const struct {
	const char *typed, *got;
} typed[] = {
    {"lit\r", "GOT answer [lit]"},
    {"2\r", "GOT answer [dark]"},
    {"\r", "GOT answer []"},
    {"litt\x7f\r", "GOT answer [lit]"},      /* backspace */
    {"it\x01l\x05s\r", "GOT answer [lits]"}, /* begin of line, end of line */
    {"xyz\x15"
     "dark\r",
     "GOT answer [dark]"}, /* the whole line away */
    {"lamp dark\x17"
     "lit\r",
     "GOT answer [lamp lit]"},                               /* the last word away */
    {"lt\x1b[Di\r", "GOT answer [lit]"},                     /* arrow left */
    {"\x1b[A\r", "GOT answer []"},                           /* arrow up: a look brings nothing back */
    {"4.7 k\xCE\xA9\r", "GOT answer [4.7 k\xCE\xA9]"},       /* omega */
    {"3 \xCE\xA9\xC2\xB5\x7f\r", "GOT answer [3 \xCE\xA9]"}, /* backspace takes a character, not a byte */
    {"note smells hot\r", "GOT note [smells hot]"},
    {"note\rstill hot\r", "GOT note [still hot]"},
    {"?\r", "GOT help []"},
    {"why\r", "GOT why []"},
    {"show\r", "GOT show []"},
    {"redo\r", "GOT redo []"},
    {"pause lunch\r", "GOT pause [lunch]"},
    {"leave\r", "GOT leave []"},
    {"stop smoke\r", "GOT stop [smoke]"},
};

static void lines_are_edited(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_LOOK);
	see(&l, "edits");
	see(&l, "lit (1)");
	for (size_t i = 0; i < COUNT(typed); i++) {
		see(&l, "\n> ");
		type(&l, typed[i].typed);
		see(&l, typed[i].got);
	}
	finish(&l);
}

/* Without editing the kernel's own line discipline is left: backspace and Ctrl-U still work. */
static void a_dumb_terminal_takes_plain_lines(void **state)
{
	(void)state;
	line l;
	begin(&l, "dumb", A_LOOK);
	see(&l, "plain");
	see(&l, "\n> ");
	type(&l, "litt\x7f\n");
	see(&l, "GOT answer [lit]");
	see(&l, "\n> ");
	type(&l, "xyz\x15"
	         "2\n");
	see(&l, "GOT answer [dark]");
	assert_null(strchr(l.seen, '\x1b'));
	finish(&l);
}

static const char *const terms[] = {"xterm", "dumb", "no-such-terminal"};

static void ctrl_c_drops_the_line_and_asks_again(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(terms); i++) {
		line l;
		begin(&l, terms[i], A_LOOK);
		see(&l, "\n> ");
		type(&l, "half a li\x03");
		see(&l, "GOT interrupt []");
		see(&l, "\n> ");
		type(&l, "lit\r");
		see(&l, "GOT answer [lit]");
		finish(&l);
	}
}

static void ctrl_d_ends_only_an_empty_line(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_LOOK);
	see(&l, "\n> ");
	type(&l, "litx\x02\x04\r"); /* inside a line it takes the character under the cursor */
	see(&l, "GOT answer [lit]");
	see(&l, "\n> ");
	finish(&l);
}

/* Ctrl-Z has no shell to come back from here: it is taken for nothing, and what was typed stays. */
static void ctrl_z_without_a_shell_does_nothing(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_LOOK);
	see(&l, "\n> ");
	type(&l, "li");
	see(&l, "li"); /* what is still on its way, Ctrl-Z throws away */
	type(&l, "\x1a");
	type(&l, "t\r");
	see(&l, "GOT answer [lit]");
	finish(&l);
}

/* What a shell does for its job: starts it in a group of its own, is told that it stopped, starts it again. */
static int run_shell(void)
{
	signal(SIGTTOU, SIG_IGN);
	pid_t job = fork();
	if (job == 0) {
		setpgid(0, 0);
		tcsetpgrp(STDIN_FILENO, getpid());
		signal(SIGTTOU, SIG_DFL);
		_exit(run_seat(STDIN_FILENO, A_LOOK));
	}
	int status = 0;
	waitpid(job, &status, WUNTRACED);
	struct termios mode;
	tcgetattr(STDIN_FILENO, &mode);
	if (WIFSTOPPED(status))
		puts(mode.c_lflag & ICANON && mode.c_lflag & ECHO ? "STOPPED sane" : "STOPPED raw");
	fflush(stdout);
	kill(job, SIGCONT);
	waitpid(job, &status, 0);
	return WIFEXITED(status) ? WEXITSTATUS(status) : 8;
}

static void ctrl_z_leaves_the_shell_a_sane_terminal(void **state)
{
	(void)state;
	line l = {0};
	fflush(NULL);
	l.pid = forkpty(&l.fd, NULL, NULL, NULL);
	assert_true(l.pid >= 0);
	if (l.pid == 0) {
		setenv("TERM", "xterm", 1);
		_exit(run_shell());
	}
	see(&l, "\n> ");
	type(&l, "li");
	see(&l, "li");
	type(&l, "\x1a");
	see(&l, "STOPPED sane");
	see(&l, "> li"); /* shown again when it goes on */
	type(&l, "tx\x7f\r");
	see(&l, "GOT answer [lit]");
	see(&l, "\n> ");
	finish(&l);
}

static const int deadly[] = {SIGTERM, SIGHUP};

static void signals_pause(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(deadly); i++)
		for (size_t t = 0; t < COUNT(terms); t++) {
			line l;
			begin(&l, terms[t], A_LOOK);
			see(&l, "\n> ");
			type(&l, "half");
			kill(l.pid, deadly[i]);
			see(&l, "GOT end [terminal closed]");
			assert_int_equal(end_status(&l), 0);
		}
}

/* The seat ends in good order, exit status 0, though nobody is left to print for. */
static void a_closed_terminal_pauses(void **state)
{
	(void)state;
	for (size_t t = 0; t < COUNT(terms); t++) {
		line l;
		begin(&l, terms[t], A_LOOK);
		see(&l, "\n> ");
		close(l.fd);
		l.fd = -1;
		assert_int_equal(end_status(&l), 0);
	}
}

static void the_screen_follows_the_window(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_LOOK);
	see(&l, "\n> ");
	struct winsize size = {.ws_row = 40, .ws_col = 120};
	ioctl(l.fd, TIOCSWINSZ, &size); /* while it waits: the signal must not end the prompt */
	type(&l, "lit\r");
	see(&l, "GOT answer [lit]");
	finish(&l);
}

/* Typed before any prompt stood there: taken in order, the Ctrl-D too. */
static void what_is_typed_ahead_is_taken(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(terms); i++) {
		line l;
		begin(&l, terms[i], A_LOOK);
		type(&l, "litt\x7f\n2\n\x04");
		see(&l, "\n> lit");
		see(&l, "GOT answer [lit]");
		see(&l, "GOT answer [dark]");
		see(&l, "GOT end [Ctrl-D]");
		assert_int_equal(end_status(&l), 0);
	}
}

/* At a gate nobody can have meant it; a stop and Ctrl-D mean the same everywhere. */
static const struct {
	const char *pasted, *got;
	bool told;
} pasted[] = {
    {"hand\nBen Holt\nout\n", "GOT answer [typed now]", true},
    {"\n\n", "GOT answer [typed now]", false},
    {"hal", "GOT answer [typed now]", false}, /* half a line too */
    {"hand\nstop smoke\nout\n", "GOT stop [smoke]", true},
    {"hand\n\x04", "GOT end [Ctrl-D]", true},
};

static void gates_take_nothing_typed_ahead(void **state)
{
	(void)state;
	for (size_t t = 0; t < COUNT(terms); t++)
		for (size_t i = 0; i < COUNT(pasted); i++) {
			line l;
			begin_typed(&l, terms[t], A_GATE, pasted[i].pasted);
			see(&l, "Gate: secured");
			if (strstr(pasted[i].got, "typed now")) {
				see(&l, "\n> ");
				type(&l, "typed now\r");
			}
			see(&l, pasted[i].got);
			assert_true(!!strstr(l.seen, "what was typed before this was shown is not used") == pasted[i].told);
			assert_null(strstr(l.seen, "GOT answer [hand]"));
			assert_null(strstr(l.seen, "GOT answer []"));
			if (!strstr(pasted[i].got, "GOT end")) {
				see(&l, "\n> ");
				finish(&l);
			} else {
				assert_int_equal(end_status(&l), 0);
			}
		}
}

/* Pasted at a prompt: the look takes its line, what is to be done waits for somebody who has read it. */
static void a_paste_stops_at_what_is_to_be_done(void **state)
{
	(void)state;
	for (size_t t = 0; t < COUNT(terms); t++) {
		line l;
		begin(&l, terms[t], A_DO);
		see(&l, "\n> ");
		type(&l, "lit\rdark\rdark\r");
		see(&l, "GOT answer [lit]");
		see(&l, "is not used");
		see(&l, "> ");
		type(&l, "dark\r");
		see(&l, "GOT answer [dark]");
		see(&l, "\n> ");
		finish(&l);
	}
}

static void readings_may_be_typed_ahead(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_BLOCK);
	see(&l, "\nV> ");
	for (int i = 0; i < 100; i++) {
		char reading[16];
		snprintf(reading, sizeof reading, "%d.5\r", i);
		type(&l, reading);
	}
	for (int i = 0; i < 100; i++) {
		char got[32];
		snprintf(got, sizeof got, "GOT answer [%d.5]", i);
		see(&l, got);
	}
	assert_null(strstr(l.seen, "is not used"));
	see(&l, "\nV> ");
	finish(&l);
}

/* Up brings sentences back, and only at a sentence: at a gate or a reading Enter would give an answer nobody typed. */
static void only_sentences_are_recalled(void **state)
{
	(void)state;
	static const struct {
		asked script;
		const char *prompt, *got;
	} rows[] = {{A_SENTENCE, "\n> ", "GOT answer [first]"}, {A_GATE, "\n> ", "GOT answer []"}, {A_BLOCK, "\nV> ", "GOT answer []"}};
	for (size_t i = 0; i < COUNT(rows); i++) {
		line l;
		begin(&l, "xterm", rows[i].script);
		see(&l, rows[i].prompt);
		type(&l, "first\r");
		see(&l, "GOT answer [first]");
		see(&l, rows[i].prompt);
		type(&l, "\x1b[A\r");
		see(&l, rows[i].got);
		see(&l, rows[i].prompt);
		finish(&l);
	}
}

static void an_ask_that_comes_again_is_short(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_GATE);
	see(&l, "\n> ");
	type(&l, "?\r");
	see(&l, "GOT help []\r\nGate: secured\r\n> ");
	type(&l, "han\x0c"); /* Ctrl-L */
	see(&l, "\x1b[J");
	see(&l, "Gate: secured\r\n> han");
	type(&l, "d\r");
	see(&l, "GOT answer [hand]");
	see(&l, "\n> ");
	finish(&l);
}

/* One bell, and what was typed meanwhile stays. */
static void the_end_of_a_wait_is_told(void **state)
{
	(void)state;
	for (size_t t = 0; t < COUNT(terms); t++) {
		line l;
		begin(&l, terms[t], A_SHORT_WAIT);
		see(&l, "1 s to go> ");
		type(&l, "wai");
		see(&l, "\a");
		see(&l, "the time is over\r\n> ");
		type(&l, "ted\r");
		see(&l, "GOT answer [waited]");
		see(&l, "\n> ");
		assert_null(strchr(strchr(l.seen, '\a') + 1, '\a'));
		finish(&l);
	}
}

static void several_readings_stand_on_one_line(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_BLOCK);
	see(&l, "\nV> ");
	type(&l, "5.02; 3.31 V ;12.1\r");
	see(&l, "GOT answer [5.02]");
	see(&l, "V> 3.31 V");
	see(&l, "GOT answer [3.31 V]");
	see(&l, "V> 12.1");
	see(&l, "GOT answer [12.1]");
	see(&l, "\nV> ");
	type(&l, "1.5 -2.5\r"); /* bare numbers: spaces will do */
	see(&l, "GOT answer [1.5]");
	see(&l, "GOT answer [-2.5]");
	see(&l, "\nV> ");
	type(&l, "7 8\r"); /* only one reading is left: nobody guesses which is meant */
	see(&l, "GOT answer [7 8]");
	see(&l, "\nV> ");
	type(&l, "bad; 4\r"); /* the first was not taken, so the second does not fit */
	see(&l, "GOT answer [bad]");
	see(&l, "not used:  4");
	see(&l, "\nV> ");
	type(&l, "not read: clip; broken\r");
	see(&l, "GOT answer [not read: clip; broken]");
	finish(&l);
}

static void a_wait_is_told_in_the_prompt(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_WAIT);
	see(&l, "not before ");
	see(&l, " to go> ");
	finish(&l);
}

/* ---- pipes ---- */

/* Feeds bytes through a pipe and returns all that was printed. */
static int pipe_through(const char *bytes, size_t length, char *printed, size_t room)
{
	int in[2], out[2];
	assert_int_equal(pipe(in), 0);
	assert_int_equal(pipe(out), 0);
	fflush(NULL);
	pid_t pid = fork();
	assert_true(pid >= 0);
	if (pid == 0) {
		close(in[1]);
		close(out[0]);
		dup2(out[1], STDOUT_FILENO);
		_exit(run_seat(in[0], A_LOOK));
	}
	close(in[0]);
	close(out[1]);
	/* More than a pipe holds would wait for the child, which waits for us. */
	assert_true(length <= 60000);
	assert_int_equal(write(in[1], bytes, length), length);
	close(in[1]);
	size_t have = 0;
	ssize_t got;
	while (have + 1 < room && (got = read(out[0], printed + have, room - 1 - have)) > 0)
		have += (size_t)got;
	printed[have] = '\0';
	close(out[0]);
	int status;
	waitpid(pid, &status, 0);
	assert_true(WIFEXITED(status));
	return WEXITSTATUS(status);
}

static void a_pipe_is_echoed(void **state)
{
	(void)state;
	char printed[4096];
	static const char bytes[] = "lit\r\n2\nlast";
	assert_int_equal(pipe_through(bytes, sizeof bytes - 1, printed, sizeof printed), 0);
	assert_string_equal(printed + strlen("plain\n\n"),
	                    "step level-at-tp2   power secured   nothing open   time 0:00:00\n"
	                    "  wanted: lit (1) or dark (2)\n"
	                    "> lit\\x0d\n"
	                    "GOT answer [lit]\n"
	                    "\n"
	                    "step level-at-tp2   power secured   nothing open   time 0:00:00\n"
	                    "  wanted: lit (1) or dark (2)\n"
	                    "> 2\n"
	                    "GOT answer [dark]\n"
	                    "\n"
	                    "step level-at-tp2   power secured   nothing open   time 0:00:00\n"
	                    "  wanted: lit (1) or dark (2)\n"
	                    "> last\n"
	                    "GOT answer [last]\n"
	                    "\n"
	                    "step level-at-tp2   power secured   nothing open   time 0:00:00\n"
	                    "  wanted: lit (1) or dark (2)\n"
	                    "> \n"
	                    "GOT end [end of input]\n");
}

static const struct {
	const char *bytes;
	size_t length;
	const char *said;
} refused[] = {
    {"a\0b\n", 4, "That line holds a NUL byte; nothing was taken."},
    {"4.7 k\xEA\n", 7, "That line is not UTF-8 text; nothing was taken."},
    {NULL, 5000, "That line is too long (over 4096 bytes); nothing was taken."},
};

static void what_no_transcript_can_hold_is_refused(void **state)
{
	(void)state;
	static char printed[32768], bytes[6000];
	for (size_t i = 0; i < COUNT(refused); i++) {
		memset(bytes, 'x', sizeof bytes);
		if (refused[i].bytes)
			memcpy(bytes, refused[i].bytes, refused[i].length);
		else
			bytes[refused[i].length - 1] = '\n';
		memcpy(bytes + refused[i].length, "dark\n", 5);
		assert_int_equal(pipe_through(bytes, refused[i].length + 5, printed, sizeof printed), 0);
		assert_non_null(strstr(printed, refused[i].said));
		assert_non_null(strstr(printed, "GOT answer [dark]"));
		assert_null(strstr(printed, "GOT answer [a"));
		assert_null(strstr(printed, "GOT answer [4"));
		assert_null(strstr(printed, "GOT answer [x"));
	}
}

static void a_closed_descriptor_is_an_error(void **state)
{
	(void)state;
	hs_error error = {0};
	assert_null(hs_terminal_open(999, stdout, &error));
	assert_int_equal(error.code, HS_IO);
	assert_string_equal(error.message, "Nothing can be read from descriptor 999: it is closed.");
}

/* A folder can be opened and polled, but not read. */
static void a_read_error_is_told(void **state)
{
	(void)state;
	int fd = open("/", O_RDONLY);
	assert_true(fd >= 0);
	FILE *out = fopen("/dev/null", "w");
	hs_error error = {0};
	hs_seat *seat = hs_terminal_open(fd, out, &error);
	assert_non_null(seat);
	assert_false(seat->rehearsal);
	assert_string_equal(seat->name, "piped");
	hs_engine engine = fake_engine();
	hs_ask ask = {.kind = HS_ASK_DONE, .step = -1};
	hs_ask_words words = {.bare = HS_UNIT_COUNT};
	hs_input input;
	hs_input_init(&input);
	assert_false(seat->ask(seat, &engine, &ask, &words, &input, &error));
	assert_int_equal(error.code, HS_IO);
	assert_string_equal(error.message, "Reading the next answer failed: Is a directory.");
	hs_input_free(&input);
	hs_seat_close(seat);
	fclose(out);
	close(fd);
}

/* What the process did with its signals before is what it does after. */
static void signals_are_given_back(void **state)
{
	(void)state;
	sigset_t before, after;
	struct sigaction pipe_now;
	sigprocmask(SIG_SETMASK, NULL, &before);
	int fd = open("/dev/null", O_RDONLY);
	hs_error error = {0};
	hs_seat *seat = hs_terminal_open(fd, stdout, &error);
	assert_non_null(seat);
	sigprocmask(SIG_SETMASK, NULL, &after);
	assert_int_equal(sigismember(&after, SIGTERM), 1);
	kill(getpid(), SIGTERM);
	hs_seat_close(seat);
	sigprocmask(SIG_SETMASK, NULL, &after);
	for (int i = 1; i < 32; i++)
		assert_int_equal(sigismember(&after, i), sigismember(&before, i));
	sigaction(SIGPIPE, NULL, &pipe_now);
	assert_true(pipe_now.sa_handler == SIG_DFL);
	close(fd);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(lines_are_edited),
	    cmocka_unit_test(a_dumb_terminal_takes_plain_lines),
	    cmocka_unit_test(ctrl_c_drops_the_line_and_asks_again),
	    cmocka_unit_test(ctrl_d_ends_only_an_empty_line),
	    cmocka_unit_test(ctrl_z_without_a_shell_does_nothing),
	    cmocka_unit_test(ctrl_z_leaves_the_shell_a_sane_terminal),
	    cmocka_unit_test(signals_pause),
	    cmocka_unit_test(a_closed_terminal_pauses),
	    cmocka_unit_test(the_screen_follows_the_window),
	    cmocka_unit_test(what_is_typed_ahead_is_taken),
	    cmocka_unit_test(several_readings_stand_on_one_line),
	    cmocka_unit_test(gates_take_nothing_typed_ahead),
	    cmocka_unit_test(a_paste_stops_at_what_is_to_be_done),
	    cmocka_unit_test(readings_may_be_typed_ahead),
	    cmocka_unit_test(only_sentences_are_recalled),
	    cmocka_unit_test(an_ask_that_comes_again_is_short),
	    cmocka_unit_test(the_end_of_a_wait_is_told),
	    cmocka_unit_test(a_wait_is_told_in_the_prompt),
	    cmocka_unit_test(a_pipe_is_echoed),
	    cmocka_unit_test(what_no_transcript_can_hold_is_refused),
	    cmocka_unit_test(a_closed_descriptor_is_an_error),
	    cmocka_unit_test(a_read_error_is_told),
	    cmocka_unit_test(signals_are_given_back),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
