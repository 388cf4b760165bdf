/* A torn last line: kept beside, then cut off. */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/file.h"
#include "journal_parts.h"

#define MOST_KEPT 100

/*
 * An attempt that was killed half way leaves a file of its own: the next one takes a new name and never touches that.
 */
static void kept_name(const hs_journal *journal, const char *base, unsigned attempt, hs_buf *out)
{
	hs_buf_clear(out);
	hs_buf_printf(out, "%s.torn-%zu", base, journal->count);
	if (attempt > 1)
		hs_buf_printf(out, "-%u", attempt);
}

static void remember_kept(hs_journal *journal, unsigned attempt)
{
	hs_buf path;
	hs_buf_init(&path);
	kept_name(journal, journal->path, attempt, &path);
	free(journal->kept);
	journal->kept = hs_strdup(path.data);
	hs_buf_free(&path);
}

/* A new file beside, or -1 with errno. */
static int open_kept(hs_journal *journal)
{
	hs_buf name;
	int fd = -1;
	hs_buf_init(&name);
	for (unsigned attempt = 1; attempt <= MOST_KEPT; attempt++) {
		kept_name(journal, journal->name, attempt, &name);
		fd = openat(journal->folder, name.data, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0644);
		if (fd >= 0)
			remember_kept(journal, attempt);
		if (fd >= 0 || errno != EEXIST)
			break;
	}
	hs_buf_free(&name);
	return fd;
}

static bool keep_torn(hs_journal *journal)
{
	int fd = open_kept(journal);
	if (fd < 0)
		return false;
	bool good = journal_write_all(journal, fd, journal->torn.data, journal->torn.length) &&
	            journal_sync(journal, fd, false) && journal_sync(journal, journal->folder, false);
	int number = errno;
	close(fd);
	errno = number;
	return good;
}

static bool cut(hs_journal *journal)
{
	int status;
	do
		status = ftruncate(journal->fd, (off_t)journal->size);
	while (status != 0 && errno == EINTR);
	return status == 0 && journal_sync(journal, journal->fd, false);
}

/* The bytes of one kept file, when they are what was cut off behind this chain. */
static bool read_kept(hs_journal *journal, const hs_chain *chain, const char *name)
{
	hs_error ignored = {.code = HS_FINE}; /* what cannot be read was kept by somebody else */
	int fd = openat(journal->folder, name, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
	if (fd < 0)
		return false;
	hs_buf_clear(&journal->torn);
	bool good = hs_file_read_fd(fd, name, "torn end", HS_JOURNAL_MOST, &journal->torn, &ignored) &&
	            hs_chain_would_tear(chain, journal->torn.data, journal->torn.length);
	close(fd);
	if (!good)
		hs_buf_clear(&journal->torn);
	return good;
}

/*
 * A repair that was killed after its cut left the kept bytes beside, under the number of the line that would tell of it;
 * the newest attempt has them all. Whatever else lies there under such a name says nothing.
 */
void journal_notice_cut(hs_journal *journal, const hs_chain *chain)
{
	struct stat info;
	hs_buf name;
	unsigned attempt = 1;
	hs_buf_init(&name);
	kept_name(journal, journal->name, attempt, &name);
	while (attempt <= MOST_KEPT && fstatat(journal->folder, name.data, &info, AT_SYMLINK_NOFOLLOW) == 0)
		kept_name(journal, journal->name, ++attempt, &name);
	while (!journal->is_cut && attempt-- > 1) {
		kept_name(journal, journal->name, attempt, &name);
		journal->is_cut = read_kept(journal, chain, name.data);
	}
	hs_buf_free(&name);
	if (!journal->is_cut)
		return;
	remember_kept(journal, attempt);
	journal->due = true;
	snprintf(journal->reason, sizeof journal->reason,
	         "line %zu was cut off by a repair that did not get to its end", journal->count + 1);
}

bool hs_journal_repair(hs_journal *journal, hs_journal_repaired *done, hs_error *error)
{
	hs_error failure = {.code = HS_FINE};
	if (journal->stop.code != HS_FINE)
		return journal_stop(journal, &journal->stop, error);
	if (!journal->due)
		return hs_fail(error, HS_BAD_INPUT, "the transcript \"%s\" needs no repair", journal->path);
	if (journal->count == 0) {
		hs_fail(error, HS_BAD_INPUT,
		        "the transcript \"%s\" holds no whole line: its run ended before anything was recorded",
		        journal->path);
		return hs_fail_hint(error, "start a new run");
	}
	if (!journal->is_cut && (!keep_torn(journal) || !cut(journal))) {
		place_fail(&failure, "repaired", journal->path, errno);
		return journal_stop(journal, &failure, error);
	}
	*done = (hs_journal_repaired){.line = journal->count + 1, .offset = journal->size, .cut = journal->torn.length};
	hs_sha256_hex(journal->torn.data, journal->torn.length, done->cut_sha256);
	done->kept = journal->kept;
	hs_copy(done->reason, sizeof done->reason, journal->reason);
	hs_buf_clear(&journal->torn);
	journal->due = journal->is_cut = false;
	return true;
}
