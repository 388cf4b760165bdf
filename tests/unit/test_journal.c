/* The journal as a file: one write and one sync a batch, one writer, and every way the disk can say no. */
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include "journal_bench.h"

static void expect_refused(bench *it, hs_code code, const char *format, const char *hint)
{
	hs_error error = {.code = HS_FINE};
	char wanted[512];
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
	snprintf(wanted, sizeof wanted, format, it->path);
#pragma GCC diagnostic pop
	hs_journal *journal = hs_journal_open(it->path, &it->options, NULL, NULL, NULL, &error);
	assert_null(journal);
	assert_string_equal(error.message, wanted);
	assert_string_equal(error.hint, hint);
	assert_int_equal(error.code, code);
}

static void test_lines_and_calls(void **state)
{
	bench *it = *state;
	struct stat info;
	mode_t mask = umask(022);
	hs_journal *journal = created(it);
	umask(mask);
	assert_int_equal(stat(it->path, &info), 0);
	assert_int_equal(info.st_mode & 0777, 0644);
	assert_string_equal(it->calls, "l");
	assert_string_equal(hs_journal_path(journal), it->path);
	assert_int_equal(hs_journal_count(journal), 0);
	assert_string_equal(hs_journal_head(journal), HS_CHAIN_START);

	add(journal, "\"kind\":\"opened\"");
	assert_int_equal(hs_journal_count(journal), 0); /* nothing counts before it is on disk */
	commit(journal);
	assert_string_equal(it->calls, "lsswd"); /* set-up syncs file and folder first */
	assert_int_equal(hs_journal_count(journal), 1);

	memset(it->calls, 0, sizeof it->calls);
	commit(journal);
	assert_string_equal(it->calls, "");
	for (int i = 0; i < 50; i++)
		add(journal, "\"kind\":\"noted\",\"text\":\"\\u00b5\"");
	assert_string_equal(it->calls, "");
	commit(journal);
	assert_string_equal(it->calls, "wd"); /* one of each, whatever the number of lines */
	assert_int_equal(hs_journal_count(journal), 51);

	hs_buf text = content(it->path);
	hs_chain chain = checked(&text);
	assert_int_equal(chain.state, HS_CHAIN_GOOD);
	assert_int_equal(chain.count, 51);
	assert_string_equal(chain.head, hs_journal_head(journal));
	assert_memory_equal(text.data, "{\"seq\":0,\"prev\":\"" HS_CHAIN_START "\",\"kind\":\"opened\",\"hash\":\"",
	                    107);
	hs_buf_free(&text);
	hs_journal_close(journal);
	hs_journal_close(NULL);
}

static void test_uncommitted_is_dropped(void **state)
{
	bench *it = *state;
	hs_buf before = four_lines(it);
	hs_journal *journal = opened(it, NULL);
	add(journal, "\"kind\":\"noted\"");
	hs_journal_close(journal);
	hs_buf after = content(it->path);
	assert_string_equal(after.data, before.data);
	hs_buf_free(&before);
	hs_buf_free(&after);
}

typedef struct seen {
	size_t count, stop_at; /* stop_at 0: never */
} seen;

static bool count_lines(void *context, const hs_chain_line *line, hs_error *error)
{
	seen *so_far = context;
	if (line->number == so_far->stop_at)
		return hs_fail(error, HS_BAD_INPUT, "line %zu is not liked", line->number);
	so_far->count++;
	return true;
}

static void test_reopen(void **state)
{
	bench *it = *state;
	hs_buf before = four_lines(it);
	hs_chain chain, was = checked(&before);
	hs_error error = {.code = HS_FINE};
	seen all = {.stop_at = 0}, some = {.stop_at = 3};
	memset(it->calls, 0, sizeof it->calls);
	hs_journal *journal = hs_journal_open(it->path, &it->options, count_lines, &all, &chain, &error);
	assert_non_null(journal);
	assert_int_equal(all.count, 4);
	assert_string_equal(it->calls, "lss"); /* what is shown again is on disk first */
	assert_int_equal(chain.state, HS_CHAIN_GOOD);
	assert_int_equal(hs_journal_count(journal), 4);
	assert_string_equal(hs_journal_head(journal), was.head);
	assert_false(hs_journal_repair_due(journal));
	add(journal, "\"kind\":\"resumed\"");
	commit(journal);
	assert_string_equal(it->calls, "lsswd");
	hs_journal_close(journal);

	hs_buf after = content(it->path);
	assert_memory_equal(after.data, before.data, before.length);
	chain = checked(&after);
	assert_int_equal(chain.state, HS_CHAIN_GOOD);
	assert_int_equal(chain.count, 5);
	hs_buf_free(&before);
	hs_buf_free(&after);

	assert_null(hs_journal_open(it->path, &it->options, count_lines, &some, &chain, &error));
	assert_string_equal(error.message, "line 3 is not liked");
	assert_int_equal(error.code, HS_BAD_INPUT);
	assert_int_equal(some.count, 2);
	assert_int_equal(chain.count, 2);
}

static void test_never_written_over(void **state)
{
	bench *it = *state;
	hs_error error = {.code = HS_FINE};
	char wanted[256];
	put_content(it->path, "precious", 8);
	assert_null(hs_journal_create(it->path, &it->options, &error));
	snprintf(wanted, sizeof wanted, "the transcript \"%s\" exists already, and a transcript is never written over",
	         it->path);
	assert_string_equal(error.message, wanted);
	assert_int_equal(error.code, HS_BAD_INPUT);
	hs_buf text = content(it->path);
	assert_string_equal(text.data, "precious");
	hs_buf_free(&text);
	/* A link to nowhere is something, too. */
	unlink(it->path);
	assert_int_equal(symlink("nowhere", it->path), 0);
	assert_null(hs_journal_create(it->path, &it->options, &error));
	assert_string_equal(error.message, wanted);
}

/* A child holds the file; the parent is refused and told who it is. */
static void test_second_writer(void **state)
{
	bench *it = *state;
	hs_buf before = four_lines(it);
	int ready[2], done[2];
	char byte = 'x';
	assert_int_equal(pipe(ready), 0);
	assert_int_equal(pipe(done), 0);
	pid_t child = fork();
	if (child == 0) {
		close(done[1]);
		hs_journal *journal = hs_journal_open(it->path, NULL, NULL, NULL, NULL, NULL);
		if (!journal || write(ready[1], &byte, 1) != 1 || read(done[0], &byte, 1) < 0)
			_exit(1);
		hs_journal_close(journal);
		_exit(0);
	}
	close(ready[1]);
	assert_int_equal(read(ready[0], &byte, 1), 1);
	char wanted[512];
	hs_error error = {.code = HS_FINE};
	assert_null(hs_journal_open(it->path, &it->options, NULL, NULL, NULL, &error));
	snprintf(wanted, sizeof wanted,
	         "another process (process %d, test_journal) holds the transcript \"%s\", and only one may write it",
	         (int)child, it->path);
	/* The name is that of this program, however it was called. */
	char *comma = strchr(error.message, ',');
	assert_non_null(comma);
	assert_memory_equal(error.message, wanted, (size_t)(comma - error.message));
	assert_string_equal(strstr(comma, ") holds"), strstr(wanted, ") holds"));
	assert_string_equal(error.hint, "finish or leave the run there, then try again");
	assert_int_equal(error.code, HS_BAD_INPUT);
	close(done[1]);
	int status;
	assert_int_equal(waitpid(child, &status, 0), child);
	assert_int_equal(status, 0);
	hs_journal_close(opened(it, NULL)); /* gone with its holder */
	close(ready[0]);
	close(done[0]);
	hs_buf_free(&before);
}

static void test_short_writes_and_interruptions(void **state)
{
	bench *it = *state;
	static const struct {
		char kind;
		int number, again;
		const char *calls;
	} rows[] = {
	    {'w', 0, 0, "wwd"},        {'w', 0, 5, "wwwwwwwd"}, {'w', EINTR, 0, "wwd"},
	    {'w', EINTR, 3, "wwwwwd"}, {'d', EINTR, 0, "wdd"},
	};
	hs_journal *journal = created(it);
	add(journal, "\"kind\":\"opened\"");
	commit(journal);
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
		add(journal, "\"kind\":\"answered\"");
		add(journal, "\"kind\":\"judged\"");
		set_wrong(it, rows[row].kind, 1, rows[row].number, rows[row].again);
		commit(journal);
		assert_string_equal(it->calls, rows[row].calls);
		hs_buf text = content(it->path);
		hs_chain chain = checked(&text);
		assert_int_equal(chain.state, HS_CHAIN_GOOD);
		assert_int_equal(chain.count, 3 + 2 * row);
		hs_buf_free(&text);
	}
	hs_journal_close(journal);
}

/* The first failure is the last: its message stays, and no further system call is made. */
static const struct {
	char kind;
	int at, number;
	const char *reason; /* behind: the transcript "PATH" cannot be written: */
	const char *hint;
	const char *calls;
} stops[] = {
    {'w', 1, ENOSPC, "the disk at %s is full", "make room on that disk, then resume the transcript", "w"},
    {'w', 1, EDQUOT, "the disk at %s gives this user no more room (quota)",
     "make room or have the quota raised, then resume", "w"},
    {'w', 1, EIO, "the disk at %s reports an input/output error",
     "save the file elsewhere and have that disk looked at", "w"},
    {'w', 1, EROFS, "the disk at %s is read-only", "name a file on a disk that can be written", "w"},
    {'w', 1, EFBIG, "the file would become larger than this process may write",
     "raise the limit (ulimit -f), then resume", "w"},
    {'w', 1, EBADF, "Bad file descriptor", "", "w"},
    {'d', 1, EIO, "the disk at %s reports an input/output error",
     "save the file elsewhere and have that disk looked at", "wd"},
    {'d', 1, ENOSPC, "the disk at %s is full", "make room on that disk, then resume the transcript", "wd"},
};

static void mount_of(const char *folder, char *out, size_t room)
{
	char command[256];
	snprintf(command, sizeof command, "stat -c %%m %s", folder);
	FILE *pipe_in = popen(command, "r");
	assert_non_null(pipe_in);
	assert_non_null(fgets(out, (int)room, pipe_in));
	out[strcspn(out, "\n")] = 0;
	pclose(pipe_in);
}

static void test_failure_stops(void **state)
{
	bench *it = *state;
	char mount[128], reason[256], wanted[512];
	hs_error error = {.code = HS_FINE};
	mount_of(it->folder, mount, sizeof mount);
	for (size_t row = 0; row < sizeof stops / sizeof *stops; row++) {
		unlink(it->path);
		set_wrong(it, 0, 0, 0, 0);
		hs_buf before = four_lines(it);
		hs_chain was = checked(&before);
		hs_journal *journal = opened(it, NULL);
		add(journal, "\"kind\":\"answered\"");
		set_wrong(it, stops[row].kind, stops[row].at, stops[row].number, 0);
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
		snprintf(reason, sizeof reason, stops[row].reason, mount);
#pragma GCC diagnostic pop
		snprintf(wanted, sizeof wanted, "the transcript \"%s\" cannot be written: %s", it->path, reason);
		assert_false(hs_journal_commit(journal, &error));
		for (int i = 0; i < 3; i++) {
			assert_string_equal(error.message, wanted);
			assert_string_equal(error.hint, stops[row].hint);
			assert_int_equal(error.code, HS_IO);
			error = (hs_error){.code = HS_FINE};
			if (i == 0)
				assert_false(hs_journal_add(journal, "\"kind\":\"noted\"", &error));
			if (i == 1)
				assert_false(hs_journal_commit(journal, &error));
		}
		assert_string_equal(it->calls, stops[row].calls);
		assert_int_equal(hs_journal_count(journal), 4);
		assert_string_equal(hs_journal_head(journal), was.head);
		hs_journal_close(journal);
		hs_buf_free(&before);
	}
}

/* Short first, then full: what is left is a torn line, which reads as such. */
/* The lock keeps our own out, not everybody: a file that went or grew under a run ends it. */
static void test_changed_by_others(void **state)
{
	bench *it = *state;
	static const struct {
		const char *command;           /* $1: the path */
		const char *message, *changed; /* the sentence, and its end */
	} rows[] = {
	    {"rm $1", "was deleted by somebody else while the run went on", NULL},
	    {"cp $1 $1.other; mv $1.other $1", "was deleted by somebody else while the run went on", NULL},
	    {"printf x >>$1", "bytes where this run left ", ": somebody else changed it while the run went on"},
	    {": >$1", "has 0 bytes where this run left ", ": somebody else changed it while the run went on"},
	};
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
		hs_error error = {.code = HS_FINE}, again = {.code = HS_FINE};
		char command[300];
		hs_journal *journal = created(it);
		add(journal, "\"kind\":\"opened\"");
		commit(journal);
		snprintf(command, sizeof command, "set -- %s; %s", it->path, rows[row].command);
		assert_int_equal(system(command), 0);
		set_wrong(it, 0, 0, 0, 0);
		add(journal, "\"kind\":\"answered\"");
		assert_false(hs_journal_commit(journal, &error));
		assert_string_equal(it->calls, ""); /* nothing was written */
		assert_int_equal(error.code, HS_IO);
		if (!strstr(error.message, rows[row].message) || !strstr(error.message, it->path))
			fail_msg("row %zu: %s", row, error.message);
		if (rows[row].changed)
			assert_non_null(strstr(error.message, rows[row].changed));
		assert_string_equal(error.hint, "nothing more is recorded; halfsplit audit tells what is left of it");
		assert_false(hs_journal_add(journal, "\"kind\":\"noted\"", &again));
		assert_string_equal(again.message, error.message);
		assert_int_equal(hs_journal_count(journal), 1);
		hs_journal_close(journal);
		unlink(it->path);
	}
}

static void test_full_half_way(void **state)
{
	bench *it = *state;
	hs_error error = {.code = HS_FINE};
	hs_buf before = four_lines(it);
	hs_journal *journal = opened(it, NULL);
	struct rlimit old, small;
	hs_journal_ignore_signals();
	assert_int_equal(getrlimit(RLIMIT_FSIZE, &old), 0);
	small = old;
	small.rlim_cur = before.length + 30;
	add(journal, "\"kind\":\"answered\"");
	memset(it->calls, 0, sizeof it->calls);
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
	bool good = hs_journal_commit(journal, &error);
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &old), 0);
	assert_false(good);
	assert_string_equal(it->calls, "ww"); /* thirty bytes, then no more; no sync */
	assert_non_null(
	    strstr(error.message, "cannot be written: the file would become larger than this process may write"));
	hs_journal_close(journal);
	hs_buf text = content(it->path);
	hs_chain chain = checked(&text);
	assert_int_equal(chain.state, HS_CHAIN_TORN);
	assert_int_equal(text.length, before.length + 30);
	hs_buf_free(&text);
	hs_buf_free(&before);
}

static void test_first_commit_sync_fails(void **state)
{
	bench *it = *state;
	for (int at = 1; at <= 2; at++) { /* the file's, the folder's */
		hs_error error = {.code = HS_FINE};
		unlink(it->path);
		hs_journal *journal = created(it);
		add(journal, "\"kind\":\"opened\"");
		set_wrong(it, 's', at, EIO, 0);
		assert_false(hs_journal_commit(journal, &error));
		assert_non_null(strstr(error.message, "cannot be put on disk: the disk at "));
		assert_string_equal(it->calls, at == 1 ? "s" : "ss");
		hs_journal_close(journal);
		set_wrong(it, 0, 0, 0, 0);
	}
	/* Nothing was written, so there is nothing to go on with. */
	expect_refused(it, HS_BAD_INPUT, "the transcript \"%s\" is empty: its run ended before anything was recorded",
	               "start a new run");
}

static void test_open_sync_fails(void **state)
{
	bench *it = *state;
	hs_buf before = four_lines(it);
	hs_error error = {.code = HS_FINE};
	set_wrong(it, 's', 1, EIO, 0);
	assert_null(hs_journal_open(it->path, &it->options, NULL, NULL, NULL, &error));
	assert_int_equal(error.code, HS_IO);
	assert_non_null(strstr(error.message, "cannot be put on disk: the disk at "));
	hs_buf_free(&before);
}

static void test_create_leaves_nothing(void **state)
{
	bench *it = *state;
	hs_error error = {.code = HS_FINE};
	char deep[160];
	snprintf(deep, sizeof deep, "%s/a/b//c/run.jsonl", it->folder);

	assert_null(hs_journal_create(deep, &it->options, &error));
	assert_non_null(strstr(error.message, "a/b//c/run.jsonl\" cannot be created: there is no such file or folder"));
	assert_string_equal(error.hint, "its folder is missing: make it first, or name another file");
	assert_int_equal(error.code, HS_BAD_INPUT);
	assert_int_equal(entries(it->folder), 0);

	it->options.make_folders = true;
	set_wrong(it, 'l', 1, ENOLCK, 0);
	assert_null(hs_journal_create(deep, &it->options, &error));
	assert_non_null(strstr(error.message, "run.jsonl\" cannot be locked: its disk offers no locks"));
	assert_int_equal(error.code, HS_IO);
	assert_int_equal(entries(it->folder), 0);

	set_wrong(it, 'l', 1, EINTR, 0);
	hs_journal *journal = hs_journal_create(deep, &it->options, &error);
	assert_non_null(journal);
	assert_string_equal(it->calls, "ll");
	add(journal, "\"kind\":\"opened\"");
	commit(journal);
	hs_journal_close(journal);
	assert_int_equal(entries(it->folder), 1);

	/* Only what was made by the call goes: the folders that are there already stay. */
	snprintf(deep, sizeof deep, "%s/a/b/d/e/run.jsonl", it->folder);
	set_wrong(it, 'l', 1, ENOLCK, 0);
	assert_null(hs_journal_create(deep, &it->options, &error));
	snprintf(deep, sizeof deep, "%s/a/b", it->folder);
	assert_int_equal(entries(deep), 1);
}

static void test_relative_path(void **state)
{
	bench *it = *state;
	hs_error error = {.code = HS_FINE};
	char here[512];
	assert_non_null(getcwd(here, sizeof here));
	assert_int_equal(chdir(it->folder), 0);
	it->options.make_folders = true;
	set_wrong(it, 'l', 1, ENOLCK, 0);
	assert_null(hs_journal_create("a/run.jsonl", &it->options, &error));
	assert_int_equal(entries("."), 0);
	set_wrong(it, 0, 0, 0, 0);
	hs_journal *journal = hs_journal_create("run.jsonl", &it->options, &error);
	assert_int_equal(chdir(here), 0);
	assert_non_null(journal);
	assert_int_equal(access(it->path, F_OK), 0);
	hs_journal_close(journal);
}

/* No descriptor left for the file itself, then none for its folder. */
static void test_no_descriptors(void **state)
{
	bench *it = *state;
	struct rlimit old, small;
	it->options.make_folders = true;
	for (int left = 1; left >= 0; left--) {
		hs_error error = {.code = HS_FINE};
		char deep[160];
		snprintf(deep, sizeof deep, "%s%s/run.jsonl", it->folder, left ? "/new" : "");
		int next = dup(0);
		assert_true(next >= 0);
		close(next);
		assert_int_equal(getrlimit(RLIMIT_NOFILE, &old), 0);
		small = old;
		small.rlim_cur = (rlim_t)(next + left);
		assert_int_equal(setrlimit(RLIMIT_NOFILE, &small), 0);
		hs_journal *journal = hs_journal_create(deep, &it->options, &error);
		assert_int_equal(setrlimit(RLIMIT_NOFILE, &old), 0);
		assert_null(journal);
		assert_non_null(strstr(error.message, "cannot be created: this process has no file descriptor left"));
		assert_int_equal(error.code, HS_IO);
		assert_int_equal(entries(it->folder), 0);
	}
}

static void test_wrong_paths(void **state)
{
	bench *it = *state;
	static const char *const empty[] = {"", "/tmp/"};
	hs_error error = {.code = HS_FINE};
	expect_refused(it, HS_BAD_INPUT, "the transcript \"%s\" cannot be opened: there is no such file or folder",
	               "look for a slip in the path");
	assert_int_equal(mkdir(it->path, 0700), 0);
	expect_refused(it, HS_BAD_INPUT,
	               "the transcript \"%s\" cannot be opened: it is a folder, and a file was wanted",
	               "name a file in that folder");
	rmdir(it->path);
	assert_int_equal(mkfifo(it->path, 0600), 0);
	expect_refused(it, HS_BAD_INPUT,
	               "the transcript \"%s\" is a device, pipe or socket, and a plain file was wanted", "");
	for (size_t i = 0; i < 2; i++) {
		assert_null(hs_journal_create(empty[i], &it->options, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_non_null(strstr(error.message, i ? "it is a folder, and a file was wanted"
		                                        : "there is no such file or folder"));
	}
	/* A very long path keeps its end and the reason. */
	char longest[3000];
	memset(longest, 'x', sizeof longest);
	strcpy(longest + sizeof longest - 11, "/run.jsonl");
	assert_null(hs_journal_create(longest, &it->options, &error));
	assert_non_null(strstr(error.message, "the transcript \"...xxx"));
	assert_non_null(strstr(error.message, "xxx/run.jsonl\" cannot be created: the path is too long"));
}

static void test_unfit_to_go_on(void **state)
{
	bench *it = *state;
	hs_buf text = four_lines(it);
	hs_chain chain;
	hs_error error = {.code = HS_FINE};
	text.data[300] ^= 1;
	put_content(it->path, text.data, text.length);
	expect_refused(
	    it, HS_BAD_INPUT,
	    "the transcript \"%s\" was changed after it was written: line 2: its hash does not match its bytes",
	    "it can be audited and shown, but not gone on with; look for an untouched copy");
	assert_null(hs_journal_open(it->path, NULL, NULL, NULL, &chain, &error));
	assert_int_equal(chain.state, HS_CHAIN_TAMPERED); /* told although the file did not open */
	assert_int_equal(chain.bad_line, 2);
	text.data[300] ^= 1;

	FILE *file = fopen(it->path, "w");
	assert_non_null(file);
	fputs("\xef\xbb\xbf", file);
	fputs(text.data, file);
	fclose(file);
	expect_refused(it, HS_BAD_INPUT, "the transcript \"%s\" came through something that converted its line endings",
	               "go on with the original, or turn a copy back with dos2unix");
	hs_buf_free(&text);
}

static void test_bad_lines_never_written(void **state)
{
	bench *it = *state;
	static const struct {
		const char *members, *told;
	} rows[] = {
	    {"\"a\":1,\"a\":2", "a transcript line is not strict JSON: "},
	    {"\"hash\":\"00\"", "a transcript line is not strict JSON: "},
	    {"\"seq\":9", "a transcript line is not strict JSON: "},
	    {"", "a transcript line is not strict JSON: "},
	    {"\"a\":1},{\"b\":2", "a transcript line is not strict JSON: "},
	    {"\"a\":\n1", "a transcript line holds the byte 0x0a, and printable ASCII was wanted"},
	    {"\"a\":\"\xc2\xb5\"", "a transcript line holds the byte 0xc2, and printable ASCII was wanted"},
	};
	hs_buf before = four_lines(it);
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
		hs_error error = {.code = HS_FINE};
		hs_journal *journal = opened(it, NULL);
		add(journal, "\"kind\":\"answered\"");
		assert_false(hs_journal_add(journal, rows[row].members, &error));
		assert_memory_equal(error.message, rows[row].told, strlen(rows[row].told));
		assert_int_equal(error.code, HS_BAD_INPUT);
		hs_error again = {.code = HS_FINE};
		assert_false(hs_journal_commit(journal, &again)); /* half a batch is none */
		assert_string_equal(again.message, error.message);
		hs_journal_close(journal);
		hs_buf after = content(it->path);
		assert_string_equal(after.data, before.data);
		hs_buf_free(&after);
	}
	hs_buf_free(&before);
}

static void test_line_too_long(void **state)
{
	bench *it = *state;
	hs_error error = {.code = HS_FINE};
	char *members = malloc(HS_CHAIN_LINE_MOST);
	assert_non_null(members);
	memset(members, 'x', HS_CHAIN_LINE_MOST);
	memcpy(members, "\"t\":\"", 5);
	memcpy(members + HS_CHAIN_LINE_MOST - 2, "\"", 2);
	hs_journal *journal = created(it);
	assert_false(hs_journal_add(journal, members, &error));
	assert_string_equal(error.message, "a transcript line has 8388765 bytes, and at most 8 MiB are accepted");
	hs_journal_close(journal);
	free(members);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    BENCH_TEST(test_lines_and_calls),
	    BENCH_TEST(test_uncommitted_is_dropped),
	    BENCH_TEST(test_reopen),
	    BENCH_TEST(test_never_written_over),
	    BENCH_TEST(test_second_writer),
	    BENCH_TEST(test_short_writes_and_interruptions),
	    BENCH_TEST(test_failure_stops),
	    BENCH_TEST(test_changed_by_others),
	    BENCH_TEST(test_full_half_way),
	    BENCH_TEST(test_first_commit_sync_fails),
	    BENCH_TEST(test_open_sync_fails),
	    BENCH_TEST(test_create_leaves_nothing),
	    BENCH_TEST(test_relative_path),
	    BENCH_TEST(test_no_descriptors),
	    BENCH_TEST(test_wrong_paths),
	    BENCH_TEST(test_unfit_to_go_on),
	    BENCH_TEST(test_bad_lines_never_written),
	    BENCH_TEST(test_line_too_long),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
