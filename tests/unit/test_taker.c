/* Programs that take a reading: what they get, what is made of what they print, and every way in which one can go wrong. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>
#include <cmocka.h>
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"
#include "halfsplit/seat/taker.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

typedef struct place {
	char folder[64];
	hs_kit *kit;
	hs_taker taker;
} place;

static void path_of(const place *at, const char *name, char out[160])
{
	snprintf(out, 160, "%s/%s", at->folder, name);
}

static void put_file(const place *at, const char *name, const char *text, mode_t mode)
{
	char path[160];
	path_of(at, name, path);
	FILE *file = fopen(path, "w");
	assert_non_null(file);
	assert_true(fputs(text, file) >= 0);
	assert_int_equal(fclose(file), 0);
	assert_int_equal(chmod(path, mode), 0);
}

static int setup(void **state)
{
	place *at = hs_alloc(sizeof *at);
	strcpy(at->folder, "/tmp/halfsplit-taker-XXXXXX");
	if (!mkdtemp(at->folder))
		return -1;
	at->kit = hs_kit_new();
	at->taker = (hs_taker){at->kit, at->folder, -1, 10000};
	*state = at;
	return 0;
}

static int teardown(void **state)
{
	place *at = *state;
	char command[128];
	snprintf(command, sizeof command, "rm -rf '%s'", at->folder);
	int status = system(command);
	hs_kit_free(at->kit);
	free(at);
	return status;
}

static hs_part meter(const char *const *program, size_t count)
{
	return (hs_part){.id = "M9", .kind = HS_PART_INSTRUMENT, .program = program, .program_count = count};
}

/* Runs the text as a program beside the kit. */
static bool take(place *at, const char *text, hs_buf *raw, hs_buf *line, hs_error *error)
{
	static const char *const words[] = {"prog", "first one", "$HOME; `id`"};
	hs_part it = meter(words, 3);
	hs_buf_clear(raw);
	hs_buf_clear(line);
	*error = (hs_error){0};
	if (text)
		put_file(at, "prog", text, 0755);
	return hs_taker_take(&at->taker, &it, raw, line, error);
}

static const struct {
	const char *text, *raw, *line;
} good[] = {
    {"#!/bin/sh\necho -31.4 dBm\n", "-31.4 dBm\n", "-31.4 dBm"},
    {"#!/bin/sh\nprintf '\\r\\n  12.05 V \\r\\n\\n'\n", "\r\n  12.05 V \r\n\n", "12.05 V"},
    /* Its words come as they stand: no shell has seen them. */
    {"#!/bin/sh\nprintf '%s|%s' \"$1\" \"$2\"\n", "first one|$HOME; `id`", "first one|$HOME; `id`"},
    {"#!/bin/sh\ncat <&0; echo 1 >&2; echo 2\n", "2\n", "2"},
    {"#!/bin/sh\npwd -P >/dev/null; test -x ./prog && echo beside\n", "beside\n", "beside"},
};

static void what_it_prints_is_taken(void **state)
{
	place *at = *state;
	hs_buf raw, line;
	hs_error error;
	hs_buf_init(&raw);
	hs_buf_init(&line);
	for (size_t i = 0; i < COUNT(good); i++) {
		if (!take(at, good[i].text, &raw, &line, &error))
			fail_msg("%zu: %s", i, error.message);
		assert_string_equal(raw.data, good[i].raw);
		assert_string_equal(line.data, good[i].line);
	}
	hs_buf_free(&raw);
	hs_buf_free(&line);
}

static const struct {
	const char *text, *message;
} bad[] = {
    {"#!/bin/sh\n:\n", "what the program of M9 printed is no reading: nothing was printed"},
    {"#!/bin/sh\necho 1; echo 2\n", "what the program of M9 printed is no reading: 2 lines were printed, and one was wanted"},
    {"#!/bin/sh\nprintf '\\033[2J1\\n'\n", "what the program of M9 printed is no reading: its line holds control characters"},
    {"#!/bin/sh\nprintf '\\377\\376\\n'\n", "what the program of M9 printed is no reading: it is not UTF-8 text"},
    {"#!/bin/sh\nprintf '1\\0002\\n'\n", "what the program of M9 printed is no reading: it holds a NUL byte"},
    {"#!/bin/sh\nprintf '%0300d' 1\n", "what the program of M9 printed is no reading: its line is too long"},
    {"#!/bin/sh\nexec head -c 1000000000 /dev/zero\n", "the program of M9 printed more than 4096 bytes"},
    {"#!/bin/sh\nwhile :; do echo 1; done\n", "the program of M9 printed more than 4096 bytes"},
    {"#!/bin/sh\necho 1; exit 3\n", "the program of M9 ended with status 3"},
    {"#!/bin/sh\necho 1; kill -SEGV $$\n", "the program of M9 was ended by signal 11 (Segmentation fault)"},
    {"#!/no/such/shell\n", "the program of M9, \"prog\", cannot be started: No such file or directory"},
    {"not a program\n", "the program of M9, \"prog\", cannot be started: Exec format error"},
};

static void what_goes_wrong_is_a_sentence(void **state)
{
	place *at = *state;
	hs_buf raw, line;
	hs_error error;
	hs_buf_init(&raw);
	hs_buf_init(&line);
	for (size_t i = 0; i < COUNT(bad); i++) {
		if (take(at, bad[i].text, &raw, &line, &error))
			fail_msg("%zu was taken: %s", i, line.data);
		assert_string_equal(error.message, bad[i].message);
	}
	char path[160];
	path_of(at, "prog", path);
	assert_int_equal(chmod(path, 0644), 0);
	assert_false(take(at, NULL, &raw, &line, &error));
	assert_string_equal(error.message, "the program of M9, \"prog\", cannot be started: Permission denied");
	assert_int_equal(unlink(path), 0);
	assert_false(take(at, NULL, &raw, &line, &error));
	assert_string_equal(error.message, "the program of M9, \"prog\", cannot be started: No such file or directory");
	hs_buf_free(&raw);
	hs_buf_free(&line);
}

static int64_t now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* Gone, or dead and only not yet buried by whoever inherited it. */
static bool gone(int pid)
{
	char path[64], text[256] = "";
	snprintf(path, sizeof path, "/proc/%d/stat", pid);
	FILE *file = fopen(path, "r");
	if (!file)
		return true;
	size_t got = fread(text, 1, sizeof text - 1, file);
	fclose(file);
	const char *state = got ? strrchr(text, ')') : NULL;
	return state && state[1] == ' ' && (state[2] == 'Z' || state[2] == 'X');
}

/* The process of the number in a file is gone, or goes within a second. */
static void assert_gone(const place *at, const char *name)
{
	char path[160];
	int pid = 0;
	path_of(at, name, path);
	FILE *file = fopen(path, "r");
	assert_non_null(file);
	assert_int_equal(fscanf(file, "%d", &pid), 1);
	fclose(file);
	assert_true(pid > 1);
	for (int i = 0; i < 100 && !gone(pid); i++)
		usleep(10000);
	assert_true(gone(pid));
}

static void one_that_hangs_is_ended_with_its_children(void **state)
{
	place *at = *state;
	hs_buf raw, line;
	hs_error error;
	hs_buf_init(&raw);
	hs_buf_init(&line);
	at->taker.limit_ms = 1500;
	int64_t began = now_ms();
	assert_false(take(at, "#!/bin/sh\ntrap '' TERM INT HUP\nsleep 60 & echo $! >child\necho $$ >self\necho 1\nwait\n", &raw, &line, &error));
	assert_string_equal(error.message, "the program of M9 has not answered within 1.5 s");
	assert_true(now_ms() - began < 5000);
	assert_gone(at, "child");
	assert_gone(at, "self");
	/* What it leaves behind holds its output open, and is neither waited for nor left. */
	at->taker.limit_ms = 10000;
	began = now_ms();
	assert_true(take(at, "#!/bin/sh\nsleep 60 & echo $! >child\necho 1\n", &raw, &line, &error));
	assert_string_equal(line.data, "1");
	assert_true(now_ms() - began < 5000);
	assert_gone(at, "child");
	hs_buf_free(&raw);
	hs_buf_free(&line);
}

static void typing_ends_it(void **state)
{
	place *at = *state;
	hs_buf raw, line;
	hs_error error;
	int typed[2];
	hs_buf_init(&raw);
	hs_buf_init(&line);
	assert_int_equal(pipe(typed), 0);
	assert_int_equal(write(typed[1], "stop\n", 5), 5);
	at->taker.watch_fd = typed[0];
	assert_false(take(at, "#!/bin/sh\necho $$ >self\nexec sleep 60\n", &raw, &line, &error));
	assert_string_equal(error.message, "something was typed, so the program of M9 was ended");
	char kept[8] = "";
	assert_int_equal(read(typed[0], kept, sizeof kept), 5);
	at->taker.watch_fd = -1;
	close(typed[0]);
	close(typed[1]);
	hs_buf_free(&raw);
	hs_buf_free(&line);
}

/* Neither the transcript nor anything else that is open here goes along, nor what stands in the environment. */
static void nothing_goes_along(void **state)
{
	place *at = *state;
	hs_buf raw, line;
	hs_error error;
	hs_buf_init(&raw);
	hs_buf_init(&line);
	char path[160];
	path_of(at, "transcript", path);
	int open_here = open(path, O_RDWR | O_CREAT, 0600);
	assert_true(open_here > 2);
	assert_int_equal(dup2(open_here, 57), 57);
	assert_int_equal(setenv("HALFSPLIT_SECRET", "x", 1), 0);
	assert_true(take(at, "#!/bin/bash\nfor fd in /proc/self/fd/*; do n=${fd##*/}; [[ $n -gt 2 && $(readlink $fd) == */* && $(readlink $fd) != /proc/* && "
	                     "$(readlink $fd) != *prog ]] && printf 'open %s ' $n; done\necho \"none\"\n",
	                 &raw, &line, &error));
	assert_string_equal(line.data, "none");
	assert_true(take(at, "#!/bin/sh\necho \"$HALFSPLIT_SECRET|$HOME|$PATH|$LC_ALL\"\n", &raw, &line, &error));
	assert_string_equal(line.data, "||/usr/local/bin:/usr/bin:/bin|C");
	/* Signals that are blocked or ignored here are not so there; the C library keeps the 32nd and 33rd for itself. */
	sigset_t blocked, before;
	sigemptyset(&blocked);
	sigaddset(&blocked, SIGINT);
	sigprocmask(SIG_BLOCK, &blocked, &before);
	signal(SIGPIPE, SIG_IGN);
	assert_true(take(at, "#!/bin/sh\ngrep -E '^Sig(Blk|Ign)' /proc/self/status | while read -r what set; do\n"
	                     "case $set in *00000000 | *80000000) ;; *) printf '%s %s ' \"$what\" \"$set\" ;; esac\ndone\necho none\n", &raw, &line, &error));
	assert_string_equal(line.data, "none");
	sigprocmask(SIG_SETMASK, &before, NULL);
	signal(SIGPIPE, SIG_DFL);
	close(57);
	close(open_here);
	unsetenv("HALFSPLIT_SECRET");
	hs_buf_free(&raw);
	hs_buf_free(&line);
}

static void a_full_path_is_taken_as_it_stands(void **state)
{
	place *at = *state;
	static const char *const words[] = {"/bin/echo", "-n", "7.5"};
	hs_part it = meter(words, 3);
	hs_buf raw, line;
	hs_error error = {0};
	hs_buf_init(&raw);
	hs_buf_init(&line);
	assert_true(hs_taker_take(&at->taker, &it, &raw, &line, &error));
	assert_string_equal(line.data, "7.5");
	hs_buf_free(&raw);
	hs_buf_free(&line);
}

/* ---- what the engine takes for the word of a program ---- */

static const char kit_text[] = "lead \"LD1\" { }\n"
                               "instrument \"M9\" { reads = \"volts\", from = \"-10 V\", to = \"10 V\", u = \"5 mV\", read = { \"meter\" } }\n"
                               "instrument \"D1\" { reads = \"volts\", from = \"-10 V\", to = \"10 V\", u = \"5 mV\" }\n"
                               "hookup \"leads\" { \"LD1\", \"M9\" }\nhookup \"prods\" { \"LD1\", \"D1\" }\n";
static const char book_text[] =
    "playbook { id = \"b\", title = \"b\", family = \"Tarnbeck Sill\", first = { \"Lay it down.\" } }\n"
    "suspect \"cell\" { }\n"
    "step \"one\" { power = \"any\", read = { \"volts\", at = \"cell\", hookup = \"leads\", loose = true }, next = \"two\", unread = \"two\" }\n"
    "step \"two\" { power = \"any\", read = { \"volts\", at = \"cell\", hookup = \"prods\", loose = true }, next = \"end\", unread = \"end\" }\n"
    "step \"end\" { finding = { \"cell\" } }\n";

static bool answer(hs_engine *engine, const char *ask, const char *text, const char *raw, hs_error *error)
{
	hs_taken taken;
	hs_event event = {.kind = HS_EVENT_ANSWER, .ask = ask, .text = text, .raw = raw, .by = "Ada", .utc = "2026-01-01T09:00:00.000Z", .mono_ms = 1000};
	*error = (hs_error){0};
	return hs_engine_take(engine, &event, &taken, error) && taken == HS_TAKEN;
}

static void the_engine_knows_whose_word_it_is(void **state)
{
	(void)state;
	static const char no_one[] = "A program is said to have answered, and the kit names none that could have.";
	static const char other[] = "What a program is said to have printed is not the answer it is said to have given.";
	hs_problems problems = {0};
	hs_error error = {0};
	hs_sources *kit_sources = hs_sources_from_text("kit.lua", kit_text, strlen(kit_text), &error);
	hs_sources *sources = hs_sources_from_text("b.lua", book_text, strlen(book_text), &error);
	hs_kit *kit = hs_kit_load(kit_sources, HS_PLACES_EXACT, &problems, &error);
	hs_book *book = hs_book_open(sources, kit, HS_PLACES_EXACT, &problems, &error);
	hs_playbook_check(hs_book_playbook(book), &problems);
	assert_int_equal(problems.errors, 0);
	hs_engine *engine = hs_engine_new(hs_book_playbook(book), "Ada", &error);
	hs_engine_open(engine);
	assert_false(answer(engine, "intake/first", "done", "done", &error));
	assert_string_equal(error.message, no_one);
	static const char *const intake[] = {"intake/first", "intake/words", "intake/seen", "intake/seals", "intake/keep"};
	for (size_t i = 0; i < COUNT(intake); i++)
		assert_true(answer(engine, intake[i], "done", NULL, &error));
	assert_false(answer(engine, "one", "1.5", "1.6\n", &error));
	assert_string_equal(error.message, other);
	assert_false(answer(engine, "one", "1.5", "1.5\n1.5\n", &error));
	assert_string_equal(error.message, other);
	assert_true(answer(engine, "one", "1.5", "\n1.5 \n", &error));
	assert_false(answer(engine, "two", "1.5", "1.5\n", &error));
	assert_string_equal(error.message, no_one);
	assert_true(answer(engine, "two", "1.5", NULL, &error));
	hs_engine_free(engine);
	hs_book_free(book);
	hs_kit_free(kit);
	hs_sources_free(sources);
	hs_sources_free(kit_sources);
	hs_problems_free(&problems);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test_setup_teardown(what_it_prints_is_taken, setup, teardown),
	    cmocka_unit_test_setup_teardown(what_goes_wrong_is_a_sentence, setup, teardown),
	    cmocka_unit_test_setup_teardown(one_that_hangs_is_ended_with_its_children, setup, teardown),
	    cmocka_unit_test_setup_teardown(typing_ends_it, setup, teardown),
	    cmocka_unit_test_setup_teardown(nothing_goes_along, setup, teardown),
	    cmocka_unit_test(the_engine_knows_whose_word_it_is),
	    cmocka_unit_test_setup_teardown(a_full_path_is_taken_as_it_stands, setup, teardown),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
