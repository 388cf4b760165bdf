/* The live seat, typed at through a pseudo-terminal. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <errno.h>
#include <fcntl.h>
#include <cmocka.h>
#include "terminal_bench.h"

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
    {"show kit\r", "GOT show [kit]"},
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
	see(&l, "\n> ");
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
	see(&l, "\n> ");
	finish(&l);
}

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
		see(&l, "\n> ");
		finish(&l);
	}
}

/* More than the editor has shown by then: what was read of it and waits is taken back as well. */
static void ctrl_c_drops_what_waits_to_be_edited(void **state)
{
	(void)state;
	char many[3001];
	memset(many, 'x', sizeof many - 1);
	many[sizeof many - 1] = '\0';
	for (int i = 0; i < 5; i++) {
		line l;
		begin(&l, "xterm", A_LOOK);
		see(&l, "\n> ");
		type(&l, many);
		see(&l, "xxxx");
		type(&l, "\x03");
		see(&l, "GOT interrupt []");
		see(&l, "\n> ");
		type(&l, "lit\r");
		see(&l, "GOT answer [lit]");
		see(&l, "\n> ");
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
	see(&l, "\n> ");
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
			assert_int_equal(end_status(&l), 7);
		}
}

/* The seat ends in good order, and knows it from a Ctrl-D, though nobody is left to print for. */
static void a_closed_terminal_pauses(void **state)
{
	(void)state;
	for (size_t t = 0; t < COUNT(terms); t++) {
		line l;
		begin(&l, terms[t], A_LOOK);
		see(&l, "\n> ");
		close(l.fd);
		l.fd = -1;
		assert_int_equal(end_status(&l), 7);
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
	see(&l, "\n> ");
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
	type(&l, "5*3;2/3;*1\r"); /* keys of the keypad in every piece */
	see(&l, "GOT answer [5 kV]");
	see(&l, "GOT answer [2 mV]");
	see(&l, "GOT answer [OL]");
	see(&l, "\nV> ");
	type(&l, "bad; 4\r"); /* the first was not taken, so the second does not fit */
	see(&l, "GOT answer [bad]");
	see(&l, "not used:  4");
	see(&l, "\nV> ");
	type(&l, "not read: clip; broken\r");
	see(&l, "GOT answer [not read: clip; broken]");
	see(&l, "\nV> ");
	finish(&l);
}

/* Where words are asked for, each piece of a line is what it would be alone: a number in place of its word. */
static void ticks_stand_on_one_line_too(void **state)
{
	(void)state;
	line l;
	begin(&l, "xterm", A_TICKS);
	see(&l, "\n> ");
	type(&l, "1;2; lit\r");
	see(&l, "GOT answer [lit]");
	see(&l, "GOT answer [dark]");
	see(&l, "GOT answer [lit]");
	see(&l, "\n> ");
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
	    cmocka_unit_test(ctrl_c_drops_what_waits_to_be_edited),
	    cmocka_unit_test(ctrl_d_ends_only_an_empty_line),
	    cmocka_unit_test(ctrl_z_without_a_shell_does_nothing),
	    cmocka_unit_test(ctrl_z_leaves_the_shell_a_sane_terminal),
	    cmocka_unit_test(signals_pause),
	    cmocka_unit_test(a_closed_terminal_pauses),
	    cmocka_unit_test(the_screen_follows_the_window),
	    cmocka_unit_test(what_is_typed_ahead_is_taken),
	    cmocka_unit_test(several_readings_stand_on_one_line),
	    cmocka_unit_test(ticks_stand_on_one_line_too),
	    cmocka_unit_test(a_wait_is_told_in_the_prompt),
	    cmocka_unit_test(a_pipe_is_echoed),
	    cmocka_unit_test(what_no_transcript_can_hold_is_refused),
	    cmocka_unit_test(a_closed_descriptor_is_an_error),
	    cmocka_unit_test(a_read_error_is_told),
	    cmocka_unit_test(signals_are_given_back),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
