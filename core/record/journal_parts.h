/* What journal.c, repair.c and place.c share; for nobody else. */
#ifndef RECORD_JOURNAL_PARTS_H
#define RECORD_JOURNAL_PARTS_H

#include <sys/stat.h>
#include "halfsplit/record/journal.h"

struct hs_journal {
	char *path;
	const char *name; /* the last part of path */
	int folder, fd;
	hs_journal_ops ops;
	hs_error stop;    /* the first failure; its code is HS_FINE until then */
	bool fresh;       /* made by hs_journal_create, and nothing synced yet */

	size_t size, count; /* on disk */
	char head[HS_HEX_ROOM];
	hs_buf batch;       /* added since */
	size_t next;        /* seq of the next line */
	char next_prev[HS_HEX_ROOM];

	bool due;           /* a repair is */
	hs_buf torn;        /* the bytes to cut off */
	bool is_cut;        /* they are off already, and only the repair's line is missing */
	char reason[512];
	char *kept;         /* the path of the file that keeps them */
};

/* Remembers the first failure and hands it to the caller; returns false. */
bool journal_stop(hs_journal *journal, const hs_error *failure, hs_error *error);

/* Writes all of it, however many calls that takes. On failure errno tells why. */
bool journal_write_all(const hs_journal *journal, int fd, const char *data, size_t length);
/* fdatasync (`data_only`) or fsync, again after an interruption. */
bool journal_sync(const hs_journal *journal, int fd, bool data_only);

/* After a good chain was read: sees whether an earlier repair was killed between its cut and its line. */
void journal_notice_cut(hs_journal *journal, const hs_chain *chain);

/*
 * One sentence for a failed system call: what could not be done, to which file, why; names the disk when that is the
 * reason.
 */
bool place_fail(hs_error *error, const char *action, const char *path, int number);

/* The folder part of a path: "." when it names none. free() it. */
char *place_folder(const char *path);

/*
 * Makes the missing folders above path, each synced into its parent; *made is the length of the first one's path, or
 * 0.
 */
bool place_make_folders(const char *path, size_t *made, hs_error *error);
/* Removes again what place_make_folders made. */
void place_remove_folders(const char *path, size_t made);

/* Appends " (process 1234, NAME)" for the holder of a lock on the file when the system tells it. */
void place_lock_holder(hs_buf *out, int fd);

#endif
