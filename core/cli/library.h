/* Where playbooks, kits and transcripts lie. */
#ifndef HALFSPLIT_CORE_CLI_LIBRARY_H
#define HALFSPLIT_CORE_CLI_LIBRARY_H

#include "cli.h"

/* The library folders that exist, in the order they are searched; none twice. */
typedef struct hs_folders {
	hs_arena *arena;
	const char **items;
	size_t count, room;
} hs_folders;

void hs_folders_find(hs_folders *folders);
void hs_folders_free(hs_folders *folders);

/* One .lua file beneath a library folder. */
typedef struct hs_shelved {
	const char *path; /* with the folder */
	const char *name; /* below the folder, without .lua: "tarnbeck/fell-low-output" */
	const char *last; /* its last component: "fell-low-output" */
} hs_shelved;

typedef struct hs_shelf {
	hs_shelved *items;
	size_t count, room;
} hs_shelf;

/* Every .lua file beneath the folders, sorted by name; the strings belong to folders' arena. */
void hs_shelf_read(hs_folders *folders, hs_shelf *shelf);
void hs_shelf_free(hs_shelf *shelf);

/* True when PLAYBOOK is a path: it ends in .lua. */
bool hs_is_path(const char *word);

/*
 * The file that PLAYBOOK means: a path when it ends in .lua, else an id looked up in the folders. The result belongs to
 * the arena. HS_BAD_INPUT when there is none (with the nearest known word) or more than one.
 */
const char *hs_playbook_path(hs_folders *folders, const char *word, hs_error *error);

/* The families of the folders, sorted; the strings belong to folders' arena, free() the array. */
const char **hs_families(hs_folders *folders, size_t *count);

/* The family file that FAMILY means: a path when it ends in .lua, else FAMILY/family.lua in one of the folders. */
const char *hs_family_path(hs_folders *folders, const char *word, hs_error *error);

/* The kit: `given`, else $HALFSPLIT_KIT, else kit.lua beside the playbook when there is one; NULL: none. *named says
 * that a user named it. */
const char *hs_kit_path(hs_folders *folders, const char *given, const char *playbook_path, bool *named);

/* Where a new transcript goes by default: $HALFSPLIT_RUNS, else ~/.local/share/halfsplit/runs; SERIAL-UTC-RUN.jsonl in
 * it. */
bool hs_transcript_path(hs_buf *out, const char *serial, const char *utc, const char *run, hs_error *error);

#endif
