/* A scratch folder and system calls that go wrong when told, for the tests of the journal and of its repair. */
#ifndef TESTS_JOURNAL_BENCH_H
#define TESTS_JOURNAL_BENCH_H

#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>
#include <cmocka.h>
#include "halfsplit/base/file.h"
#include "halfsplit/record/journal.h"

/* A scratch folder a test, and system calls that fail when told. */
typedef struct bench {
	char folder[64], path[128];
	char calls[512]; /* one letter each: w write, d fdatasync, s fsync, l lock */
	int wrong_at;    /* the call, from 1, that goes wrong; 0: none */
	char wrong_kind; /* among the calls of this letter */
	int wrong_errno; /* 0: a short write instead */
	int seen;
	int again; /* further calls that go wrong the same way */
	hs_journal_ops ops;
	hs_journal_options options;
} bench;

/* True when this call is to go wrong. */
static inline bool goes_wrong(bench *it, char kind)
{
	size_t length = strlen(it->calls);
	if (length + 1 < sizeof it->calls)
		it->calls[length] = kind;
	if (kind != it->wrong_kind || it->wrong_at == 0)
		return false;
	it->seen++;
	if (it->seen < it->wrong_at || it->seen > it->wrong_at + it->again)
		return false;
	errno = it->wrong_errno;
	return true;
}

static inline ssize_t bench_write(void *context, int fd, const void *data, size_t length)
{
	bench *it = context;
	if (!goes_wrong(it, 'w'))
		return write(fd, data, length);
	if (it->wrong_errno)
		return -1;
	return write(fd, data, length < 10 ? length : 10);
}

static inline int bench_datasync(void *context, int fd)
{
	return goes_wrong(context, 'd') ? -1 : fdatasync(fd);
}

static inline int bench_sync(void *context, int fd)
{
	return goes_wrong(context, 's') ? -1 : fsync(fd);
}

static inline int bench_lock(void *context, int fd)
{
	return goes_wrong(context, 'l') ? -1 : flock(fd, LOCK_EX | LOCK_NB);
}

static inline void set_wrong(bench *it, char kind, int at, int number, int again)
{
	it->wrong_kind = kind;
	it->wrong_at = at;
	it->wrong_errno = number;
	it->again = again;
	it->seen = 0;
	memset(it->calls, 0, sizeof it->calls);
}

static inline int set_up(void **state)
{
	bench *it = calloc(1, sizeof *it);
	if (!it)
		return -1;
	strcpy(it->folder, "/tmp/test_journal.XXXXXX");
	if (!mkdtemp(it->folder))
		return -1;
	snprintf(it->path, sizeof it->path, "%s/run.jsonl", it->folder);
	it->ops = (hs_journal_ops){bench_write, bench_datasync, bench_sync, bench_lock, it};
	it->options.ops = &it->ops;
	*state = it;
	return 0;
}

static inline int tear_down(void **state)
{
	bench *it = *state;
	char command[128];
	snprintf(command, sizeof command, "rm -rf %s", it->folder);
	int status = system(command);
	free(it);
	return status;
}

static inline hs_buf content(const char *path)
{
	hs_buf out;
	hs_error error = {.code = HS_FINE};
	hs_buf_init(&out);
	hs_buf_str(&out, "");
	if (!hs_file_read(path, "file", HS_JOURNAL_MOST, &out, &error))
		fail_msg("%s", error.message);
	return out;
}

static inline void put_content(const char *path, const char *data, size_t length)
{
	FILE *file = fopen(path, "w");
	assert_non_null(file);
	assert_int_equal(fwrite(data, 1, length, file), length);
	assert_int_equal(fclose(file), 0);
}

static inline hs_journal *created(bench *it)
{
	hs_error error = {.code = HS_FINE};
	hs_journal *journal = hs_journal_create(it->path, &it->options, &error);
	if (!journal)
		fail_msg("%s", error.message);
	return journal;
}

static inline hs_journal *opened(bench *it, hs_chain *chain)
{
	hs_error error = {.code = HS_FINE};
	hs_journal *journal = hs_journal_open(it->path, &it->options, NULL, NULL, chain, &error);
	if (!journal)
		fail_msg("%s", error.message);
	return journal;
}

static inline void add(hs_journal *journal, const char *members)
{
	hs_error error = {.code = HS_FINE};
	if (!hs_journal_add(journal, members, &error))
		fail_msg("%s", error.message);
}

static inline void commit(hs_journal *journal)
{
	hs_error error = {.code = HS_FINE};
	if (!hs_journal_commit(journal, &error))
		fail_msg("%s", error.message);
}

/* A file of four lines, in two batches; returns its text. */
static inline hs_buf four_lines(bench *it)
{
	hs_journal *journal = created(it);
	add(journal, "\"kind\":\"opened\"");
	commit(journal);
	add(journal, "\"kind\":\"answered\",\"ask\":\"s1\"");
	add(journal, "\"kind\":\"judged\",\"outcome\":\"low\"");
	add(journal, "\"kind\":\"asked\",\"ask\":\"s2\"");
	commit(journal);
	hs_journal_close(journal);
	return content(it->path);
}

static inline hs_chain checked(const hs_buf *text)
{
	hs_chain chain;
	assert_true(hs_chain_check(text->data, text->length, NULL, NULL, &chain, NULL));
	return chain;
}

static inline int entries(const char *folder)
{
	char command[256];
	int count = -1;
	snprintf(command, sizeof command, "ls -A %s | wc -l", folder);
	FILE *pipe_in = popen(command, "r");
	assert_non_null(pipe_in);
	assert_int_equal(fscanf(pipe_in, "%d", &count), 1);
	pclose(pipe_in);
	return count;
}

#define BENCH_TEST(name) cmocka_unit_test_setup_teardown(name, set_up, tear_down)

#endif
