/* A small playbook made by hand, a run over it, and its transcript in memory. */
#ifndef HALFSPLIT_TESTS_TRANSCRIPT_BENCH_H
#define HALFSPLIT_TESTS_TRANSCRIPT_BENCH_H

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "halfsplit/base/file.h"
#include "halfsplit/record/transcript.h"

#define BENCH_TEXT "playbook { id = \"cells\", edition = 2 }\n"

static int bench_cleared[] = {0};
static int bench_implicated[] = {1};
static int bench_found[] = {1};

static hs_branch bench_branch(int to, const char *target, int *clears, int *implicates)
{
	hs_branch branch = {.target = target,
	                    .to = to,
	                    .clears = clears,
	                    .clear_count = clears != NULL,
	                    .implicates = implicates,
	                    .implicate_count = implicates != NULL,
	                    .where = {"cells.lua", 3}};
	return branch;
}

/* A count read by eye, then a finding; no unit that could hurt anybody. */
static hs_playbook *bench_playbook(void)
{
	hs_arena *arena = hs_arena_new();
	hs_playbook *playbook = hs_arena_alloc(arena, sizeof *playbook);
	playbook->arena = arena;
	playbook->id = "cells";
	playbook->edition = 2;
	playbook->title = "Cells \xe2\x84\xa6";
	playbook->suspects = hs_arena_alloc(arena, 2 * sizeof *playbook->suspects);
	playbook->suspects[0] = (hs_suspect){.id = "lid", .odds = 1, .where = {"cells.lua", 2}};
	playbook->suspects[1] = (hs_suspect){.id = "cell", .odds = 1, .where = {"cells.lua", 2}};
	playbook->suspect_count = 2;
	hs_step *steps = playbook->steps = hs_arena_alloc(arena, 2 * sizeof *steps);
	playbook->step_count = 2;
	hs_reading *reading = hs_arena_alloc(arena, sizeof *reading);
	*reading = (hs_reading){.name = "count",
	                        .asks = "Count them",
	                        .reads = HS_READS_COUNT_OF,
	                        .unit = HS_UNITLESS,
	                        .point = -1,
	                        .has_limits = true,
	                        .limits_by = {.id = -1},
	                        .slot = 0,
	                        .where = {"cells.lua", 3}};
	reading->limits = (hs_limits){.has_low = true, .low = 3, .unit = HS_UNITLESS};
	steps[0] = (hs_step){.id = "count",
	                     .kind = HS_STEP_READ,
	                     .zone = -1,
	                     .readings = reading,
	                     .reading_count = 1,
	                     .emitter = -1,
	                     .reuse = -1,
	                     .decide = {.id = -1},
	                     .inject = {.point = -1},
	                     .where = {"cells.lua", 3}};
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		steps[0].branches[i] =
		    bench_branch(1, "end", i == HS_OKAY ? NULL : bench_cleared, i == HS_OKAY ? NULL : bench_implicated);
	steps[1] = (hs_step){.id = "end",
	                     .kind = HS_STEP_FINDING,
	                     .zone = -1,
	                     .emitter = -1,
	                     .reuse = -1,
	                     .decide = {.id = -1},
	                     .inject = {.point = -1},
	                     .suspects = bench_found,
	                     .suspect_count = 1,
	                     .proof = "counted",
	                     .where = {"cells.lua", 4}};
	playbook->slot_count = 1;
	playbook->entries = hs_arena_alloc(arena, sizeof *playbook->entries);
	playbook->entries[0] = (hs_choice){.word = "start", .branch = bench_branch(0, "count", NULL, NULL)};
	playbook->entry_count = 1;
	hs_bench_unit *unit = &playbook->unit;
	unit->zones[0] = (hs_zone){.id = "inside", .guard = -1};
	unit->zone_count = 1;
	return playbook;
}

static hs_opening bench_opening(hs_recorded_file *file, char digest[HS_HEX_ROOM])
{
	static char sha256[HS_HEX_ROOM];
	hs_sha256_hex(BENCH_TEXT, strlen(BENCH_TEXT), sha256);
	*file = (hs_recorded_file){.path = "cells.lua", .sha256 = sha256, .text = BENCH_TEXT};
	char list[128];
	snprintf(list, sizeof list, "%s  cells.lua\n", sha256);
	hs_sha256_hex(list, strlen(list), digest);
	return (hs_opening){.rules = HS_RULES_VERSION,
	                    .run = "0123456789abcdef0123456789abcdef",
	                    .program = "0.1.0",
	                    .playbook_id = "cells",
	                    .edition = 2,
	                    .title = "Cells \xe2\x84\xa6",
	                    .playbook = {file, 1, digest},
	                    .unit = "SN 1/\"2\"",
	                    .by = "Ada Wren",
	                    .utc = "2026-01-01T09:00:00.000Z"};
}

typedef struct bench_event {
	hs_event_kind kind;
	const char *ask, *text, *by;
} bench_event;

/* One wrong entry, one taken back, one that is judged low, a pause and another person. */
static const bench_event bench_events[] = {
    {HS_EVENT_ANSWER, "intake/words", "dead", "Ada Wren"},
    {HS_EVENT_ANSWER, "intake/seen", "nothing", "Ada Wren"},
    {HS_EVENT_ANSWER, "intake/seals", "whole", "Ada Wren"},
    {HS_EVENT_ANSWER, "intake/keep", "none", "Ada Wren"},
    {HS_EVENT_ANSWER, "count", "many", "Ada Wren"},
    {HS_EVENT_NOTE, NULL, "smells \x1b[1m of \xe2\x84\xa6", "Ada Wren"},
    {HS_EVENT_PAUSE, NULL, "lunch", "Ada Wren"},
    {HS_EVENT_RESUME, NULL, "", "Ben Holt"},
    {HS_EVENT_ANSWER, "count", "2", "Ben Holt"},
};
#define BENCH_EVENTS (sizeof bench_events / sizeof *bench_events)

static hs_event bench_stamped(size_t i, char utc[32])
{
	const bench_event *row = &bench_events[i];
	snprintf(utc, 32, "2026-01-01T09:00:%02zu.000Z", i + 1);
	return (hs_event){row->kind, row->ask, row->text, row->by, utc, (int64_t)(i + 1) * 1000, NULL, NULL};
}

/* Runs all events into a new file at path; what is in it at the end is appended to data. */
static void bench_run(const char *path, hs_buf *data)
{
	hs_error error = {0};
	hs_playbook *playbook = bench_playbook();
	hs_engine *engine = hs_engine_new(playbook, "Ada Wren", &error);
	if (!engine)
		fail_msg("%s", error.message);
	hs_recorded_file file;
	char digest[HS_HEX_ROOM], utc[32];
	hs_opening opening = bench_opening(&file, digest);
	hs_journal *journal = hs_journal_create(path, NULL, &error);
	if (!journal || !hs_transcript_begin(journal, engine, &opening, &error))
		fail_msg("%s", error.message);
	for (size_t i = 0; i < BENCH_EVENTS; i++) {
		hs_event event = bench_stamped(i, utc);
		hs_taken taken;
		if (!hs_transcript_take(journal, engine, &event, &taken, &error))
			fail_msg("event %zu: %s", i, error.message);
	}
	hs_journal_close(journal);
	hs_engine_free(engine);
	hs_arena_free(playbook->arena);
	if (!hs_file_read(path, "transcript", HS_JOURNAL_MOST, data, &error))
		fail_msg("%s", error.message);
}

/* What bench_replay gives the replay; holds what it made. */
typedef struct bench_made {
	hs_playbook *playbook;
	hs_engine *engine;
	bool refuse;
} bench_made;

static hs_engine *bench_make(void *context, const hs_opening *opening, hs_error *error)
{
	bench_made *made = context;
	if (made->refuse) {
		hs_fail(error, HS_BAD_INPUT, "%s makes no sense", opening->playbook.items[0].path);
		return NULL;
	}
	made->playbook = bench_playbook();
	return made->engine = hs_engine_new(made->playbook, opening->by, error);
}

static void bench_unmake(bench_made *made)
{
	hs_engine_free(made->engine);
	if (made->playbook)
		hs_arena_free(made->playbook->arena);
}

/* The members of each line of a transcript, so that lines can be changed and the chain made whole again. */
static hs_lines bench_members(const hs_buf *data)
{
	hs_lines lines = {0};
	const char *at = data->data;
	for (size_t seq = 0; *at; seq++) {
		size_t length = strcspn(at, "\n");
		char front[32];
		size_t skip = (size_t)snprintf(front, sizeof front, "{\"seq\":%zu,\"prev\":\"", seq) + 64 + 2;
		lines.items = hs_grow(lines.items, &lines.room, lines.count + 1, sizeof *lines.items);
		hs_buf_init(&lines.items[lines.count]);
		hs_buf_add(&lines.items[lines.count++], at + skip, length - skip - 64 - strlen(",\"hash\":\"\"}"));
		at += length + 1;
	}
	return lines;
}

static void bench_seal(const hs_lines *lines, hs_buf *out)
{
	char head[HS_HEX_ROOM] = HS_CHAIN_START, next[HS_HEX_ROOM];
	for (size_t i = 0; i < lines->count; i++) {
		hs_chain_seal(out, i, head, lines->items[i].data, next);
		memcpy(head, next, sizeof head);
	}
}

#endif
