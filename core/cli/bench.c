#include <stdlib.h>
#include <string.h>
#include "bench.h"
#include "halfsplit/unit/check.h"
#include "past.h"

/* Builds from the sources, which are there already, and checks what was built. */
static void build_once(hs_bench *bench, const char *word, hs_exactness places)
{
	hs_error ignored = {0}; /* what went wrong is among the problems too */
	if (bench->kit_sources)
		bench->kit = hs_kit_load(bench->kit_sources, places, &bench->problems, &ignored);
	bench->book = hs_book_open(bench->playbook_sources, bench->kit, places, &bench->problems, &ignored);
	bench->playbook = bench->book ? hs_book_playbook(bench->book) : NULL;
	if (word && !hs_is_path(word) && bench->playbook && bench->playbook->id &&
	    strcmp(bench->playbook->id, word) != 0)
		hs_problem_hint(
		    hs_problem_add(&bench->problems, HS_ERROR, bench->playbook->where,
		                   "the playbook declares the id \"%s\", but it lies where \"%s\" is looked for",
		                   bench->playbook->id, word),
		    "let the file's place below the library folder and its id agree");
	/* What is missing would only be complained of again. */
	if (bench->playbook && !bench->problems.errors)
		hs_playbook_check(bench->playbook, &bench->problems);
	if (bench->playbook && !bench->problems.errors)
		hs_unit_check(bench->playbook, &bench->problems);
	if (bench->playbook)
		bench->playbook->found_safe = !bench->problems.errors;
	hs_problems_quote(&bench->problems, bench->playbook_sources);
	if (bench->kit_sources)
		hs_problems_quote(&bench->problems, bench->kit_sources);
	hs_problems_sort(&bench->problems);
}

/* A family has no graph to check, and its unit is checked when the engine is made. */
static void build_freehand(hs_bench *bench)
{
	hs_error ignored = {0};
	if (bench->kit_sources)
		bench->kit = hs_kit_load(bench->kit_sources, HS_PLACES_EXACT, &bench->problems, &ignored);
	if (bench->playbook_sources)
		bench->book = hs_book_open_family(bench->playbook_sources, bench->kit, &bench->problems, &ignored);
	bench->playbook = bench->book ? hs_book_playbook(bench->book) : NULL;
	if (bench->playbook_sources)
		hs_problems_quote(&bench->problems, bench->playbook_sources);
	if (bench->kit_sources)
		hs_problems_quote(&bench->problems, bench->kit_sources);
	hs_problems_sort(&bench->problems);
}

/* Most playbooks that are run are clean; one that is not is built again, for the exact lines of what is wrong. */
static void build(hs_bench *bench, const char *word)
{
	build_once(bench, word, HS_PLACES_ROUGH);
	if (bench->problems.count == 0)
		return;
	hs_book_free(bench->book);
	hs_kit_free(bench->kit);
	hs_problems_free(&bench->problems);
	bench->book = NULL;
	bench->kit = NULL;
	bench->problems = (hs_problems){0};
	build_once(bench, word, HS_PLACES_EXACT);
}

bool hs_bench_load(hs_bench *bench, const hs_folders *folders, const char *word, const char *playbook_path,
                   const char *kit_path, hs_error *error)
{
	*bench = (hs_bench){0};
	bench->playbook_sources = hs_sources_from_disk(playbook_path, folders->items, folders->count, error);
	if (!bench->playbook_sources)
		return false;
	if (kit_path) {
		bench->kit_sources = hs_sources_from_disk(kit_path, NULL, 0, error);
		if (!bench->kit_sources)
			return false;
	}
	build(bench, word);
	return true;
}

void hs_bench_try(hs_bench *bench)
{
	if (!bench->playbook || bench->problems.errors)
		return;
	hs_playbook_try(bench->playbook, &bench->problems);
	hs_problems_quote(&bench->problems, bench->playbook_sources);
	hs_problems_sort(&bench->problems);
}

bool hs_bench_load_freehand(hs_bench *bench, const hs_folders *folders, const char *family, const char *family_path,
                            const char *kit_path, hs_error *error)
{
	*bench = (hs_bench){.freehand = family};
	if (family_path)
		bench->playbook_sources = hs_sources_from_disk(family_path, folders->items, folders->count, error);
	if (kit_path)
		bench->kit_sources = hs_sources_from_disk(kit_path, NULL, 0, error);
	if ((family_path && !bench->playbook_sources) || (kit_path && !bench->kit_sources))
		return false;
	build_freehand(bench);
	return true;
}

hs_engine *hs_bench_engine(const hs_bench *bench, const char *by, hs_error *error)
{
	if (!bench->freehand)
		return hs_engine_new(bench->playbook, by, error);
	return hs_engine_new_freehand(bench->playbook, *bench->freehand ? bench->freehand : NULL, bench->kit, by, error);
}

static hs_sources *embed(const hs_recorded_files *files, hs_error *error)
{
	hs_sources *sources = hs_sources_embedded();
	for (size_t i = 0; i < files->count; i++) {
		const hs_recorded_file *file = &files->items[i];
		bool fine = file->text ? hs_sources_add_embedded(sources, file->path, file->sha256, file->text,
		                                                 strlen(file->text), error)
		                       : hs_sources_add_digest(sources, file->path, file->sha256, error);
		if (!fine) {
			hs_sources_free(sources);
			return NULL;
		}
	}
	return sources;
}

bool hs_bench_load_recorded(hs_bench *bench, const hs_opening *opening, hs_error *error)
{
	*bench = (hs_bench){.freehand = opening->freehand};
	if (opening->playbook.count) {
		bench->playbook_sources = embed(&opening->playbook, error);
		if (!bench->playbook_sources)
			return false;
	}
	if (opening->kit.count) {
		bench->kit_sources = embed(&opening->kit, error);
		if (!bench->kit_sources)
			return false;
	}
	if (bench->freehand)
		build_freehand(bench);
	else
		build(bench, NULL);
	return true;
}

/* A file in the first line that nothing brings in, or not in its turn, is not what the program loaded. */
static bool all_brought_in(const hs_sources *sources, hs_error *error)
{
	const hs_source *idle = sources ? hs_sources_idle(sources) : NULL;
	return !idle || hs_fail(error, HS_BAD_INPUT, "nothing in the other files brings in \"%s\" in its turn", idle->path);
}

hs_engine *hs_bench_replay(void *context, const hs_opening *opening, hs_error *error)
{
	hs_bench *bench = context;
	if (!hs_bench_load_recorded(bench, opening, error) || !hs_problems_clean(&bench->problems, error) ||
	    !all_brought_in(bench->playbook_sources, error) || !all_brought_in(bench->kit_sources, error))
		return NULL;
	bench->engine = hs_bench_engine(bench, opening->by, error);
	if (bench->engine && opening->freehand && opening->acts < HS_ACTS_VERSION)
		hs_engine_old_acts(bench->engine);
	if (bench->engine && opening->from && !hs_engine_begin_at(bench->engine, opening->from, error))
		return NULL;
	return bench->engine;
}

void hs_bench_free(hs_bench *bench)
{
	hs_engine_free(bench->engine);
	hs_book_free(bench->book);
	hs_kit_free(bench->kit);
	hs_sources_free(bench->playbook_sources);
	hs_sources_free(bench->kit_sources);
	hs_problems_free(&bench->problems);
	*bench = (hs_bench){0};
}

static bool listed(const char **names, size_t count, const char *name)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(names[i], name) == 0)
			return true;
	return false;
}

typedef struct hs_names {
	const char **items;
	size_t count, room;
} hs_names;

static void note_unbound(hs_names *names, const char *name, const hs_hookup *hookup)
{
	if (!name || hookup || listed(names->items, names->count, name))
		return;
	names->items = hs_grow(names->items, &names->room, names->count + 1, sizeof *names->items);
	names->items[names->count++] = name;
}

static const char *known_of(hs_measurand reads)
{
	switch (reads) {
	case HS_READS_POWER: return "a known source of power";
	case HS_READS_VOLTS: return "a known source of volts";
	case HS_READS_AC_VOLTS: return "a known source of AC volts";
	case HS_READS_OHMS: return "a known resistance";
	case HS_READS_FREQUENCY: return "a known frequency";
	default: return "a known source of what is read";
	}
}

size_t hs_bench_unbound(const hs_bench *bench, hs_buf *out)
{
	hs_names names = {0};
	const hs_playbook *playbook = bench->playbook;
	for (size_t i = 0; i < playbook->step_count; i++) {
		const hs_step *step = &playbook->steps[i];
		if (step->inject.given)
			note_unbound(&names, step->inject.hookup_name, step->inject.hookup);
		note_unbound(&names, step->through_name, step->through);
		if (step->leads == HS_LEADS_PROVE && !step->known && step->readings[0].hookup)
			note_unbound(&names, known_of(step->readings[0].reads), NULL);
		for (size_t j = 0; j < step->reading_count; j++)
			note_unbound(&names, step->readings[j].hookup_name, step->readings[j].hookup);
	}
	for (size_t i = 0; i < names.count; i++)
		hs_buf_printf(out, "%s%s", i ? ", " : "", names.items[i]);
	free(names.items);
	return names.count;
}

static hs_recorded_files list_files(const hs_sources *sources, hs_arena *arena)
{
	hs_recorded_files files = {0};
	if (!sources)
		return files;
	files.count = hs_sources_count(sources);
	hs_recorded_file *items = hs_arena_alloc(arena, (files.count + 1) * sizeof *items);
	for (size_t i = 0; i < files.count; i++) {
		const hs_source *source = hs_sources_at(sources, i);
		items[i] = (hs_recorded_file){source->path, source->sha256,
		                                hs_source_is_picture(source->path) ? NULL : source->raw};
	}
	char digest[HS_HEX_ROOM];
	hs_sources_digest(sources, digest);
	files.items = items;
	files.digest = hs_arena_str(arena, digest);
	return files;
}

void hs_bench_files(const hs_bench *bench, hs_arena *arena, hs_recorded_files *playbook, hs_recorded_files *kit)
{
	*playbook = list_files(bench->playbook_sources, arena);
	*kit = list_files(bench->kit_sources, arena);
}

void hs_problem_print(const hs_problem *problem, hs_buf *out)
{
	hs_error shown = problem->what;
	hs_buf message;
	hs_buf_init(&message);
	hs_buf_printf(&message, "%s: %s", problem->severity == HS_ERROR ? "error" : "warning", problem->what.message);
	hs_copy(shown.message, sizeof shown.message, message.data);
	hs_buf_free(&message);
	hs_error_render(&shown, out);
}
