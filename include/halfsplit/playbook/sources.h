/*
 * The files a playbook or a kit is made of.
 *
 * A list in load order: the main file first, then every file that `require` or a table name brought in. From disk, a
 * name is looked for beneath the folder of the main file, then beneath each library folder, component by component
 * and never through a symbolic link. Embedded, the same names give the texts a transcript holds, and nothing is read
 * from disk. Paths are stored as named beneath the folder they were found in ("tarnbeck/fell-family.lua"; the main
 * file by its last component), so that nothing depends on where a checkout lies.
 *
 * The list owns everything it hands out; pointers stay good until hs_sources_free.
 */
#ifndef HALFSPLIT_PLAYBOOK_SOURCES_H
#define HALFSPLIT_PLAYBOOK_SOURCES_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/hash.h"

#define HS_SOURCE_LUA_MOST   ((size_t)128 * 1024)  /* bytes of one Lua file */
#define HS_SOURCE_TABLE_MOST ((size_t)1024 * 1024) /* bytes of one table or other data file */
#define HS_SOURCES_MOST      256                   /* files of one list */

typedef struct hs_sources hs_sources;

typedef enum hs_source_kind {
	HS_SOURCE_LUA,  /* "tarnbeck/fell-family": .lua is added unless the name ends in it */
	HS_SOURCE_TABLE /* the file name as it is, "pins.csv" */
} hs_source_kind;

typedef struct hs_source {
	const char *path;         /* as named, with its ending; "/" between components */
	char sha256[HS_HEX_ROOM]; /* of the raw bytes */
	const char *raw;          /* the bytes of the file; valid UTF-8 without NUL; for the transcript */
	size_t raw_length;
	const char *text; /* without byte-order mark, lines end in \n; NUL-terminated; for reading */
	size_t text_length;
} hs_source;

/*
 * Opens the folders and reads the main file (at most HS_SOURCE_LUA_MOST bytes). The main path is the user's own
 * word: it may be absolute and may be a link. A library folder that does not exist is skipped. NULL and *error on
 * failure.
 */
hs_sources *hs_sources_from_disk(const char *main_path, const char *const *library_dirs, size_t count, hs_error *error);

/* One whose main text is given in memory under `path` (a name like "calc.lua"); other names come from nowhere. */
hs_sources *hs_sources_from_text(const char *path, const char *text, size_t length, hs_error *error);

/* An empty list to be filled from a transcript, in load order, main file first. */
hs_sources *hs_sources_embedded(void);

/*
 * Adds one embedded file; copies the text. Refused: a path that could not have been stored, a path already there, a
 * digest (64 hex digits, NULL when unknown) that is not that of the text, text that is not UTF-8.
 */
bool hs_sources_add_embedded(hs_sources *sources, const char *path, const char *sha256, const char *raw,
                             size_t raw_length, hs_error *error);

/*
 * The same for a picture, of which a transcript keeps the digest alone. Its text is then empty.
 */
bool hs_sources_add_digest(hs_sources *sources, const char *path, const char *sha256, hs_error *error);

/* True of a name that ends in .svg: a transcript keeps its digest and not its text. */
bool hs_source_is_picture(const char *path);

void hs_sources_free(hs_sources *sources); /* accepts NULL */

/* The main file; NULL only for an embedded list still empty. */
const hs_source *hs_sources_main(const hs_sources *sources);

/*
 * The file a playbook names. Idempotent: a name seen before gives the same text, read once. NULL and *error
 * (HS_BAD_INPUT, or HS_IO for a read error) when it is not there, not a regular file, reached through a link, too
 * large, or when the name is absolute, holds "..", an empty component, or characters other than letters, digits and
 * "._+-/". The error carries no file and line of the playbook: the caller knows those.
 */
const hs_source *hs_sources_open(hs_sources *sources, const char *name, hs_source_kind kind, hs_error *error);

/*
 * The first file of the list, the main one aside, that was not opened in its turn: never, or before one in front of it.
 * NULL when all were, as in every list from disk.
 */
const hs_source *hs_sources_idle(const hs_sources *sources);

/* In load order. */
size_t hs_sources_count(const hs_sources *sources);
const hs_source *hs_sources_at(const hs_sources *sources, size_t index);

/* By stored path; NULL when not loaded. */
const hs_source *hs_sources_find(const hs_sources *sources, const char *path);

/* SHA-256 over the lines "sha256  path\n" of all files in load order (as `sha256sum` prints them). */
void hs_sources_digest(const hs_sources *sources, char hex[HS_HEX_ROOM]);

/* One line of a loaded file, trimmed, for quoting; false (and "" in out) when there is no such file or line. */
bool hs_sources_quote(const hs_sources *sources, const char *path, int line, char *out, size_t room);

#endif
