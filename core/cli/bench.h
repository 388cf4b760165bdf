/* A playbook and its kit, loaded and checked, with everything they hang from. */
#ifndef HALFSPLIT_CORE_CLI_BENCH_H
#define HALFSPLIT_CORE_CLI_BENCH_H

#include "halfsplit/base/file.h"
#include "halfsplit/model/playbook.h"
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"
#include "halfsplit/record/transcript.h"
#include "library.h"

typedef struct hs_bench {
	hs_sources *playbook_sources, *kit_sources; /* kit: NULL when there is none */
	hs_kit *kit;
	hs_book *book;         /* NULL when it could not be built; problems say why */
	hs_playbook *playbook; /* the book's */
	hs_problems problems;
	hs_engine *engine; /* made by hs_bench_replay */
	const char *freehand; /* NULL: a playbook; else the family in place of one, "" for none, when `playbook` is NULL */
} hs_bench;

/*
 * Reads, builds and checks. False: a file cannot be read at all. What is wrong inside the files is in problems, sorted
 * and with its line quoted. kit_path may be NULL. word is PLAYBOOK as the user gave it: the id it was looked up by must
 * be the one it declares; NULL: not compared.
 */
bool hs_bench_load(hs_bench *bench, const hs_folders *folders, const char *word, const char *playbook_path,
                   const char *kit_path, hs_error *error);

/* Runs the playbook's functions with made values, when nothing is wrong so far, and adds what fails to the problems. */
void hs_bench_try(hs_bench *bench);

/* For a freehand run: family "" and path NULL when there is none. What it points to must outlive the bench. */
bool hs_bench_load_freehand(hs_bench *bench, const hs_folders *folders, const char *family, const char *family_path,
                            const char *kit_path, hs_error *error);

/* The engine for what was loaded. */
hs_engine *hs_bench_engine(const hs_bench *bench, const char *by, hs_error *error);

/* The same from what a transcript's first line holds. */
bool hs_bench_load_recorded(hs_bench *bench, const hs_opening *opening, hs_error *error);

void hs_bench_free(hs_bench *bench); /* accepts an empty one */

/* The hookups the playbook names that no kit binds, in order, each once: how many; the names are appended to out with
 * commas. */
size_t hs_bench_unbound(const hs_bench *bench, hs_buf *out);

/* The files as a transcript records them; arrays and digests belong to the arena, the text to the bench. */
void hs_bench_files(const hs_bench *bench, hs_arena *arena, hs_recorded_files *playbook, hs_recorded_files *kit);

/* A problem as a person reads it: "FILE:LINE: warning: MESSAGE", the quoted line, the hint. */
void hs_problem_print(const hs_problem *problem, hs_buf *out);

#endif
