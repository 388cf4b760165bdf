#include "halfsplit/record/journal.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/file.h"
#include "journal_parts.h"

static ssize_t real_write(void *context, int fd, const void *data, size_t length)
{
	(void)context;
	return write(fd, data, length);
}

static int real_datasync(void *context, int fd)
{
	(void)context;
	return fdatasync(fd);
}

static int real_sync(void *context, int fd)
{
	(void)context;
	return fsync(fd);
}

static int real_lock(void *context, int fd)
{
	(void)context;
	return flock(fd, LOCK_EX | LOCK_NB);
}

void hs_journal_ignore_signals(void)
{
	struct sigaction ignore = {.sa_handler = SIG_IGN};
	sigaction(SIGXFSZ, &ignore, NULL);
}

static hs_journal *new_journal(const char *path, const hs_journal_options *options)
{
	static const hs_journal_ops real = {real_write, real_datasync, real_sync, real_lock, NULL};
	hs_journal *journal = hs_alloc(sizeof *journal);
	journal->path = hs_strdup(path);
	const char *slash = strrchr(journal->path, '/');
	journal->name = slash ? slash + 1 : journal->path;
	journal->folder = journal->fd = -1;
	journal->ops = options && options->ops ? *options->ops : real;
	hs_buf_init(&journal->batch);
	hs_buf_init(&journal->torn);
	strcpy(journal->head, HS_CHAIN_START);
	strcpy(journal->next_prev, HS_CHAIN_START);
	return journal;
}

void hs_journal_close(hs_journal *journal)
{
	if (!journal)
		return;
	if (journal->fd >= 0)
		close(journal->fd);
	if (journal->folder >= 0)
		close(journal->folder);
	hs_buf_free(&journal->batch);
	hs_buf_free(&journal->torn);
	free(journal->kept);
	free(journal->path);
	free(journal);
}

bool journal_stop(hs_journal *journal, const hs_error *failure, hs_error *error)
{
	if (journal->stop.code == HS_FINE)
		journal->stop = *failure;
	if (error)
		*error = journal->stop;
	return false;
}

bool journal_write_all(const hs_journal *journal, int fd, const char *data, size_t length)
{
	while (length > 0) {
		ssize_t done = journal->ops.write(journal->ops.context, fd, data, length);
		if (done < 0 && errno == EINTR)
			continue;
		if (done == 0)
			errno = EIO; /* a file that takes nothing and gives no reason */
		if (done <= 0)
			return false;
		data += done;
		length -= (size_t)done;
	}
	return true;
}

bool journal_sync(const hs_journal *journal, int fd, bool data_only)
{
	int (*sync_it)(void *, int) = data_only ? journal->ops.datasync : journal->ops.sync;
	int status;
	do
		status = sync_it(journal->ops.context, fd);
	while (status != 0 && errno == EINTR);
	return status == 0;
}

/*
 * The folder stays open, so that what is made beside the file later lands beside it wherever the program has moved to.
 */
static bool open_folder(hs_journal *journal, const char *action, hs_error *error)
{
	if (!*journal->name)
		return place_fail(error, action, journal->path, *journal->path ? EISDIR : ENOENT);
	char *folder = place_folder(journal->path);
	journal->folder = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	int number = errno;
	free(folder);
	if (journal->folder >= 0)
		return true;
	place_fail(error, action, journal->path, number);
	return number != ENOENT ? false
	                        : hs_fail_hint(error, "its folder is missing: make it first, or name another file");
}

static bool take_lock(hs_journal *journal, hs_error *error)
{
	int status;
	do
		status = journal->ops.lock(journal->ops.context, journal->fd);
	while (status != 0 && errno == EINTR);
	if (status == 0)
		return true;
	if (errno != EWOULDBLOCK)
		return place_fail(error, "locked", journal->path, errno);
	hs_buf holder;
	hs_buf_init(&holder);
	hs_buf_str(&holder, "");
	place_lock_holder(&holder, journal->fd);
	hs_fail(error, HS_BAD_INPUT, "another process%s holds the transcript \"%s\", and only one may write it",
	        holder.data, journal->path);
	hs_buf_free(&holder);
	return hs_fail_hint(error, "finish or leave the run there, then try again");
}

static bool create_file(hs_journal *journal, bool *made, hs_error *error)
{
	if (!open_folder(journal, "created", error))
		return false;
	journal->fd = openat(journal->folder, journal->name, O_RDWR | O_APPEND | O_CREAT | O_EXCL | O_CLOEXEC, 0644);
	if (journal->fd < 0 && errno == EEXIST) {
		hs_fail(error, HS_BAD_INPUT,
		        "the transcript \"%s\" exists already, and a transcript is never written over", journal->path);
		return hs_fail_hint(error, "name another file, or go on with this one by halfsplit resume");
	}
	if (journal->fd < 0)
		return place_fail(error, "created", journal->path, errno);
	*made = true;
	return take_lock(journal, error);
}

hs_journal *hs_journal_create(const char *path, const hs_journal_options *options, hs_error *error)
{
	size_t made_folders = 0;
	bool made = false;
	if (options && options->make_folders && !place_make_folders(path, &made_folders, error))
		return NULL;
	hs_journal *journal = new_journal(path, options);
	journal->fresh = true;
	if (create_file(journal, &made, error))
		return journal;
	/* Nobody was ever told of this file, and it is empty: the one moment at which it may go. */
	if (made)
		unlinkat(journal->folder, journal->name, 0);
	place_remove_folders(path, made_folders);
	hs_journal_close(journal);
	return NULL;
}

/* What the check found decides whether one may go on with the file. */
static bool may_go_on(hs_journal *journal, const hs_chain *chain, const hs_buf *data, hs_error *error)
{
	if (chain->state == HS_CHAIN_EMPTY) {
		hs_fail(error, HS_BAD_INPUT,
		        "the transcript \"%s\" is empty: its run ended before anything was recorded", journal->path);
		return hs_fail_hint(error, "start a new run");
	}
	if (chain->state == HS_CHAIN_TAMPERED) {
		hs_fail(error, HS_BAD_INPUT, "the transcript \"%s\" was changed after it was written: %s",
		        journal->path, chain->reason);
		return hs_fail_hint(error,
		                    "it can be audited and shown, but not gone on with; look for an untouched copy");
	}
	if (chain->crlf || chain->bom) {
		hs_fail(error, HS_BAD_INPUT,
		        "the transcript \"%s\" came through something that converted its line endings", journal->path);
		return hs_fail_hint(error, "go on with the original, or turn a copy back with dos2unix");
	}
	journal->size = chain->good_bytes;
	journal->count = journal->next = chain->count;
	strcpy(journal->head, chain->head);
	strcpy(journal->next_prev, chain->head);
	if (chain->state == HS_CHAIN_TORN) {
		journal->due = true;
		hs_buf_add(&journal->torn, data->data + chain->good_bytes, data->length - chain->good_bytes);
		hs_copy(journal->reason, sizeof journal->reason, chain->reason);
	}
	return true;
}

static bool open_file(hs_journal *journal, hs_error *error)
{
	if (!open_folder(journal, "opened", error))
		return false;
	/* Appending is left to the system, so that not even a stray writer's bytes are ever written over. */
	journal->fd = openat(journal->folder, journal->name, O_RDWR | O_APPEND | O_CLOEXEC | O_NOCTTY | O_NONBLOCK);
	if (journal->fd < 0) {
		bool denied = errno == EACCES || errno == EPERM;
		place_fail(error, "opened", journal->path, errno);
		/* A file that one may not have is a wrong request, here as for whoever only reads it. */
		if (denied)
			error->code = HS_BAD_INPUT;
		return false;
	}
	struct stat info;
	if (fstat(journal->fd, &info) != 0 || !S_ISREG(info.st_mode))
		return hs_fail(error, HS_BAD_INPUT,
		               "the transcript \"%s\" is a device, pipe or socket, and a plain file was wanted",
		               journal->path);
	return take_lock(journal, error);
}

/*
 * What a killed run left unsynced is shown again as a fact, so it goes to disk first; and what a failed sync left in
 * memory only must not pass for what the disk holds, so the file is read from the disk.
 */
static bool settle_file(hs_journal *journal, hs_error *error)
{
	if (!journal_sync(journal, journal->fd, false) || !journal_sync(journal, journal->folder, false))
		return place_fail(error, "put on disk", journal->path, errno);
	posix_fadvise(journal->fd, 0, 0, POSIX_FADV_DONTNEED);
	return true;
}

static bool read_file(hs_journal *journal, hs_chain_visit *visit, void *context, hs_chain *chain, hs_error *error)
{
	hs_buf data;
	hs_buf_init(&data);
	bool good = hs_file_read_fd(journal->fd, journal->path, "transcript", HS_JOURNAL_MOST, &data, error) &&
	            hs_chain_check(data.data, data.length, visit, context, chain, error) &&
	            may_go_on(journal, chain, &data, error);
	hs_buf_free(&data);
	return good;
}

hs_journal *hs_journal_open(const char *path, const hs_journal_options *options, hs_chain_visit *visit, void *context,
                            hs_chain *chain, hs_error *error)
{
	hs_chain own = {.head = HS_CHAIN_START};
	if (!chain)
		chain = &own;
	*chain = own;
	hs_journal *journal = new_journal(path, options);
	if (open_file(journal, error) && settle_file(journal, error) &&
	    read_file(journal, visit, context, chain, error)) {
		if (!journal->due)
			journal_notice_cut(journal, chain);
		return journal;
	}
	hs_journal_close(journal);
	return NULL;
}

enum { READ_BACK_MOST = 16384 };

/* A line that could not be read back must never reach the disk: the whole transcript would count as tampered with. */
static bool readable(const char *line, size_t length, hs_error *error)
{
	for (size_t i = 0; i < length; i++) {
		if (line[i] < 0x20 || line[i] > 0x7e)
			return hs_fail(error, HS_BAD_INPUT,
			               "a transcript line holds the byte 0x%02x, and printable ASCII was wanted",
			               (unsigned char)line[i]);
	}
	if (length > HS_CHAIN_LINE_MOST)
		return hs_fail(error, HS_BAD_INPUT, "a transcript line has %zu bytes, and at most 8 MiB are accepted",
		               length);
	/*
	 * The first line, with a whole playbook in it, would cost more to read back than to write; the writer's form
	 * holds for all.
	 */
	if (length > READ_BACK_MOST)
		return true;
	hs_error why = {.code = HS_FINE};
	hs_json_doc *doc = hs_json_read(line, length, &why);
	if (!doc)
		return hs_fail(error, HS_BAD_INPUT, "a transcript line is not strict JSON: %s", why.message);
	hs_json_free(doc);
	return true;
}

bool hs_journal_add(hs_journal *journal, const char *members, hs_error *error)
{
	hs_error failure = {.code = HS_FINE};
	size_t start = journal->batch.length;
	char hash[HS_HEX_ROOM];
	if (journal->stop.code != HS_FINE)
		return journal_stop(journal, &journal->stop, error);
	if (journal->due)
		return hs_fail(error, HS_BAD_INPUT, "the transcript \"%s\" must be repaired before a line is added",
		               journal->path);
	hs_chain_seal(&journal->batch, journal->next, journal->next_prev, members, hash);
	if (!readable(journal->batch.data + start, journal->batch.length - start - 1, &failure))
		return journal_stop(journal, &failure, error);
	if (journal->size + journal->batch.length > HS_JOURNAL_MOST) {
		hs_fail(&failure, HS_IO, "the transcript \"%s\" would become larger than 1 GiB", journal->path);
		return journal_stop(journal, &failure, error);
	}
	strcpy(journal->next_prev, hash);
	journal->next++;
	return true;
}

/* Nobody else may take the file away or write into it while it is held, but the system lets them. */
static bool still_ours(const hs_journal *journal, hs_error *error)
{
	struct stat info;
	if (fstat(journal->fd, &info) != 0)
		return place_fail(error, "examined", journal->path, errno);
	if (info.st_nlink == 0)
		hs_fail(error, HS_IO, "the transcript \"%s\" was deleted by somebody else while the run went on",
		        journal->path);
	else if ((uintmax_t)info.st_size != journal->size)
		hs_fail(error, HS_IO,
		        "the transcript \"%s\" has %jd bytes where this run left %zu: somebody else changed it while the "
		        "run went on",
		        journal->path, (intmax_t)info.st_size, journal->size);
	else
		return true;
	return hs_fail_hint(error, "nothing more is recorded; halfsplit audit tells what is left of it");
}

bool hs_journal_commit(hs_journal *journal, hs_error *error)
{
	hs_error failure = {.code = HS_FINE};
	if (journal->stop.code != HS_FINE)
		return journal_stop(journal, &journal->stop, error);
	if (journal->batch.length == 0)
		return true;
	if (journal->fresh &&
	    (!journal_sync(journal, journal->fd, false) || !journal_sync(journal, journal->folder, false))) {
		place_fail(&failure, "put on disk", journal->path, errno);
		return journal_stop(journal, &failure, error);
	}
	journal->fresh = false;
	if (!still_ours(journal, &failure))
		return journal_stop(journal, &failure, error);
	if (!journal_write_all(journal, journal->fd, journal->batch.data, journal->batch.length) ||
	    !journal_sync(journal, journal->fd, true)) {
		place_fail(&failure, "written", journal->path, errno);
		return journal_stop(journal, &failure, error);
	}
	journal->size += journal->batch.length;
	journal->count = journal->next;
	strcpy(journal->head, journal->next_prev);
	hs_buf_clear(&journal->batch);
	return true;
}

size_t hs_journal_count(const hs_journal *journal)
{
	return journal->count;
}

const char *hs_journal_head(const hs_journal *journal)
{
	return journal->head;
}

const char *hs_journal_path(const hs_journal *journal)
{
	return journal->path;
}

bool hs_journal_repair_due(const hs_journal *journal)
{
	return journal->due;
}
