/*
 * The transcript as a file: append-only lines, one write and one sync for all the lines that one answer causes.
 *
 * A journal owns its descriptor and the lock on it until it is closed. The file is never replaced, renamed or
 * unlinked, and never shortened but by hs_journal_repair. The first failure stops the journal: nothing is tried again,
 * every later call fails with the same error, and what was not committed by then must not be acknowledged to anybody.
 */
#ifndef HALFSPLIT_RECORD_JOURNAL_H
#define HALFSPLIT_RECORD_JOURNAL_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>
#include "halfsplit/base/error.h"
#include "halfsplit/record/chain.h"

#define HS_JOURNAL_MOST ((size_t)1 << 30) /* bytes of a whole transcript */

typedef struct hs_journal hs_journal;

/*
 * The system calls whose failures matter, so that a test can make each of them fail. They return and set errno like
 * their namesakes.
 */
typedef struct hs_journal_ops {
	ssize_t (*write)(void *context, int fd, const void *data, size_t length);
	int (*datasync)(void *context, int fd);
	int (*sync)(void *context, int fd);
	int (*lock)(void *context, int fd); /* flock(fd, LOCK_EX | LOCK_NB) */
	void *context;
} hs_journal_ops;

typedef struct hs_journal_options {
	bool make_folders;         /* create: make the missing folders above the file (default run folder only) */
	const hs_journal_ops *ops; /* copied; NULL: the real ones */
} hs_journal_options;

/*
 * Once, at the start of the program: a file grown to its size limit must come back as an error of write, not as a
 * signal.
 */
void hs_journal_ignore_signals(void);

/*
 * A new file, locked. HS_BAD_INPUT: it exists already (never written over), its folder is missing. HS_IO: read-only, no
 * descriptors, no locks and so on. After a failure neither the file nor a folder made for it is left behind.
 * options may be NULL.
 */
hs_journal *hs_journal_create(const char *path, const hs_journal_options *options, hs_error *error);

/*
 * An existing file, to go on with: locks it, syncs it and its folder, reads it once from the disk, checks the chain
 * and hands each good line to `visit` (may be NULL). Fails with HS_BAD_INPUT when it is missing, held by another
 * process (named when that can be learned), not allowed, too large, empty, tampered with or converted in transport, and with the
 * visitor's error when that stopped. *chain (may be NULL) is filled as far as the check came, also when NULL is
 * returned. A torn file opens, but takes no line before hs_journal_repair.
 */
hs_journal *hs_journal_open(const char *path, const hs_journal_options *options, hs_chain_visit *visit, void *context,
                            hs_chain *chain, hs_error *error);

/* Closes and unlocks; lines added but not committed are dropped. Accepts NULL. */
void hs_journal_close(hs_journal *journal);

/*
 * True when the last line is torn, or when an earlier repair was itself interrupted before its line could be added:
 * then hs_journal_repair must be called before any line is added.
 */
bool hs_journal_repair_due(const hs_journal *journal);

typedef struct hs_journal_repaired {
	size_t line;                   /* number of the torn line, from 1: the repair's own line takes its place */
	size_t offset;                 /* bytes of the file that stayed */
	size_t cut;                    /* bytes that were cut off */
	char cut_sha256[HS_HEX_ROOM];  /* of those bytes */
	const char *kept;              /* the file that keeps them, "PATH.torn-SEQ"; owned by the journal */
	char reason[512];              /* what was wrong with the line */
} hs_journal_repaired;

/*
 * Keeps the torn bytes in a new file beside (synced with its folder), then cuts them off and syncs. The caller adds a
 * line that says so and tells the user. HS_BAD_INPUT when no repair is due or no whole line would be left.
 */
bool hs_journal_repair(hs_journal *journal, hs_journal_repaired *done, hs_error *error);

/*
 * Makes a line of `members` (`"kind":"answered","ask":"s1"`: JSON members in ASCII without the braces, and without
 * seq, prev and hash) and holds it for the next commit. HS_BAD_INPUT when the line would not be read back; as its
 * batch is then not whole, that stops the journal too.
 */
bool hs_journal_add(hs_journal *journal, const char *members, hs_error *error);

/*
 * Puts the lines added since the last commit on disk: one write, one fdatasync. The first commit of a new file syncs
 * the file and its folder beforehand. True means that they are on disk. Nothing added: true, no system call. HS_IO also
 * when somebody else deleted the file or changed its length meanwhile.
 */
bool hs_journal_commit(hs_journal *journal, hs_error *error);

size_t hs_journal_count(const hs_journal *journal);     /* committed lines */
const char *hs_journal_head(const hs_journal *journal); /* hash of the last of them; HS_CHAIN_START for none */
const char *hs_journal_path(const hs_journal *journal); /* as given */

#endif
