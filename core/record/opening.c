/* The first line: what a run depends on, written and read back. */
#include <stdio.h>
#include <string.h>
#include "rendering.h"

static void put_files(hs_json_writer *w, const char *key, const hs_recorded_files *files)
{
	if (!files->count) {
		hs_json_put_null(w, key);
		return;
	}
	hs_json_open_object(w, key);
	hs_json_put_string(w, "digest", files->digest);
	hs_json_open_array(w, "files");
	for (size_t i = 0; i < files->count; i++) {
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "path", files->items[i].path);
		hs_json_put_string(w, "sha256", files->items[i].sha256);
		if (files->items[i].text)
			hs_json_put_string(w, "text", files->items[i].text);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
	hs_json_close_object(w);
}

void hs_lines_opened(hs_lines *lines, const hs_opening *opening)
{
	hs_line line;
	hs_line_begin(&line, lines, "opened", NULL, opening->utc, opening->mono_ms);
	hs_json_writer *w = &line.writer;
	hs_json_put_integer(w, "format", HS_TRANSCRIPT_FORMAT);
	hs_json_put_integer(w, "rules", opening->rules);
	hs_json_put_string(w, "run", opening->run);
	hs_json_put_string(w, "program", opening->program);
	hs_json_put_string(w, "unit", opening->unit);
	hs_json_put_string(w, "by", opening->by);
	if (opening->rehearsal) {
		hs_json_open_object(w, "rehearsal");
		hs_json_put_string(w, "by", opening->rehearsal);
		if (opening->from)
			hs_json_put_string(w, "from", opening->from);
		hs_json_close_object(w);
	} else {
		hs_json_put_null(w, "rehearsal");
	}
	hs_json_put_string(w, "playbook", opening->playbook_id);
	hs_json_put_integer(w, "edition", opening->edition);
	hs_json_put_string(w, "title", opening->title);
	if (opening->freehand)
		hs_json_put_string(w, "freehand", opening->freehand);
	if (opening->freehand && opening->acts > 1)
		hs_json_put_integer(w, "acts", opening->acts);
	put_files(w, "playbook_files", &opening->playbook);
	put_files(w, "kit_files", &opening->kit);
	hs_line_end(&line);
}

static bool lacks(const char *key, hs_error *error)
{
	return hs_fail(error, HS_BAD_INPUT, "the first line of the transcript has no usable member \"%s\"", key);
}

/* A string member, copied; false when it is missing. */
static bool copy_string(const hs_json *object, const char *key, hs_arena *arena, const char **out, hs_error *error)
{
	const char *text = hs_json_get_string(object, key);
	if (!text)
		return lacks(key, error);
	*out = hs_arena_str(arena, text);
	return true;
}

static bool whole_number(const hs_json *object, const char *key, long long *out, hs_error *error)
{
	return hs_form_whole(object, key, out) || lacks(key, error);
}

/* A string member that this program can have written there; what: the form wanted. */
static bool has_form(bool holds, const char *key, const char *what, hs_error *error)
{
	return holds || hs_fail(error, HS_BAD_INPUT,
	                        "the member \"%s\" in the first line of the transcript is not %s", key, what);
}

/* Of a picture the digest is kept, and nothing that was decided hangs from its text. */
static bool is_picture(const hs_json *object, const char *path)
{
	size_t length = strlen(path);
	return length > 4 && strcmp(path + length - 4, ".svg") == 0 && !hs_json_get(object, "text");
}

static bool read_file(const hs_json *object, hs_arena *arena, hs_recorded_file *file, hs_error *error)
{
	if (!copy_string(object, "path", arena, &file->path, error) ||
	    !copy_string(object, "sha256", arena, &file->sha256, error) ||
	    (!is_picture(object, file->path) && !copy_string(object, "text", arena, &file->text, error)) ||
	    !has_form(hs_form_hex(file->sha256, HS_HEX_ROOM - 1), "sha256", "64 hex digits", error) ||
	    !has_form(*file->path && hs_form_plain(file->path), "path", "a file name without control characters", error))
		return false;
	char hex[HS_HEX_ROOM];
	if (!file->text)
		return true;
	hs_sha256_hex(file->text, strlen(file->text), hex);
	if (strcmp(hex, file->sha256) == 0)
		return true;
	return hs_fail(error, HS_BAD_INPUT,
	               "the first line of the transcript gives a SHA-256 for %s that is not that of its text",
	               file->path);
}

static bool digest_holds(const hs_recorded_files *files)
{
	hs_buf list;
	hs_buf_init(&list);
	for (size_t i = 0; i < files->count; i++)
		hs_buf_printf(&list, "%s  %s\n", files->items[i].sha256, files->items[i].path);
	char hex[HS_HEX_ROOM];
	hs_sha256_hex(list.data, list.length, hex);
	hs_buf_free(&list);
	return strcmp(hex, files->digest) == 0;
}

static bool read_files(const hs_json *line, const char *key, hs_arena *arena, hs_recorded_files *out, hs_error *error)
{
	const hs_json *object = hs_json_get(line, key);
	if (hs_json_kind_of(object) == HS_JSON_NULL) {
		*out = (hs_recorded_files){0};
		return true;
	}
	const hs_json *list = hs_json_get(object, "files");
	if (!copy_string(object, "digest", arena, &out->digest, error))
		return false;
	out->count = hs_json_count(list);
	if (hs_json_kind_of(list) != HS_JSON_ARRAY || !out->count)
		return lacks(key, error);
	hs_recorded_file *files = hs_arena_alloc(arena, out->count * sizeof *files);
	out->items = files;
	for (size_t i = 0; i < out->count; i++)
		if (!read_file(hs_json_at(list, i), arena, &files[i], error))
			return false;
	if (digest_holds(out))
		return true;
	return hs_fail(error, HS_BAD_INPUT,
	               "the digest over \"%s\" in the first line of the transcript is not that of the files in it",
	               key);
}

bool hs_opening_ours(const hs_json *line, hs_error *error)
{
	static const char hint[] = "read it with the program version that wrote it, or a later one";
	const char *kind = hs_json_get_string(line, "kind");
	double format;
	long long rules;
	if (!kind || strcmp(kind, "opened") != 0)
		return hs_fail(error, HS_BAD_INPUT, "the first line is not the opening of a halfsplit transcript");
	if (hs_json_get_number(line, "format", &format) && format != HS_TRANSCRIPT_FORMAT) {
		hs_fail(error, HS_BAD_INPUT, "the transcript is of format version %.15g; this program reads version %d",
		        format, HS_TRANSCRIPT_FORMAT);
		return hs_fail_hint(error, hint);
	}
	if (hs_form_whole(line, "rules", &rules) && rules != HS_RULES_VERSION) {
		hs_fail(error, HS_BAD_INPUT, "the transcript follows rules version %lld; this program knows version %d",
		        rules, HS_RULES_VERSION);
		return hs_fail_hint(error, hint);
	}
	return true;
}

static bool read_rehearsal(const hs_json *line, hs_arena *arena, hs_opening *opening, hs_error *error)
{
	const hs_json *rehearsal = hs_json_get(line, "rehearsal");
	opening->rehearsal = NULL;
	if (rehearsal && hs_json_kind_of(rehearsal) == HS_JSON_NULL)
		return true;
	if (hs_json_kind_of(rehearsal) != HS_JSON_OBJECT)
		return lacks("rehearsal", error);
	if (hs_json_get(rehearsal, "from") &&
	    (!copy_string(rehearsal, "from", arena, &opening->from, error) ||
	     !has_form(hs_form_plain(opening->from) && strlen(opening->from) <= 64, "from", "the id of a step", error)))
		return false;
	return copy_string(rehearsal, "by", arena, &opening->rehearsal, error) &&
	       has_form(hs_name_possible(opening->rehearsal), "rehearsal", "null or who answered", error);
}

static bool read_people(const hs_json *line, hs_arena *arena, hs_opening *opening, hs_error *error)
{
	static const char name[] = "a name: text that is not blank, without control characters, of at most 120 bytes";
	return copy_string(line, "run", arena, &opening->run, error) &&
	       has_form(hs_form_hex(opening->run, 32), "run", "32 hex digits", error) &&
	       copy_string(line, "program", arena, &opening->program, error) &&
	       has_form(hs_name_possible(opening->program), "program", name, error) &&
	       copy_string(line, "unit", arena, &opening->unit, error) &&
	       has_form(hs_name_possible(opening->unit), "unit", name, error) &&
	       copy_string(line, "by", arena, &opening->by, error) &&
	       has_form(hs_name_possible(opening->by), "by", name, error) &&
	       read_rehearsal(line, arena, opening, error);
}

static bool read_time(const hs_json *line, hs_arena *arena, hs_opening *opening, hs_error *error)
{
	long long mono_ms;
	if (!copy_string(line, "utc", arena, &opening->utc, error) ||
	    !has_form(hs_form_utc(opening->utc), "utc", "a time like 2026-01-01T09:00:00.000Z", error) ||
	    !whole_number(line, "mono_ms", &mono_ms, error) ||
	    !has_form(mono_ms >= 0, "mono_ms", "a number of milliseconds from 0 on", error))
		return false;
	opening->mono_ms = mono_ms;
	return true;
}

/* Without a playbook the family stands in its place; a name without a file, or a file without a name, is neither. */
static bool read_freehand(const hs_json *line, hs_arena *arena, hs_opening *opening, hs_error *error)
{
	const hs_json *freehand = hs_json_get(line, "freehand");
	opening->freehand = NULL;
	opening->acts = 0;
	if (!freehand)
		return true;
	if (!copy_string(line, "freehand", arena, &opening->freehand, error))
		return false;
	bool named = *opening->freehand != '\0';
	long long acts = 1;
	if (hs_json_get(line, "acts") && !whole_number(line, "acts", &acts, error))
		return false;
	opening->acts = (int)acts;
	return has_form(acts >= 1 && acts <= HS_ACTS_VERSION, "acts", "an edition of the acts that this program knows", error) &&
	       has_form(!named || hs_name_possible(opening->freehand), "freehand", "the name of a family", error) &&
	       has_form(named == (opening->playbook.count > 0), "freehand", "named with its file, and only with one", error);
}

bool hs_opening_read(const hs_json *line, hs_arena *arena, hs_opening *opening, hs_error *error)
{
	*opening = (hs_opening){0};
	long long format, rules, edition;
	if (!hs_opening_ours(line, error) || !whole_number(line, "format", &format, error) ||
	    !whole_number(line, "rules", &rules, error) || !read_time(line, arena, opening, error) ||
	    !read_people(line, arena, opening, error) ||
	    !copy_string(line, "playbook", arena, &opening->playbook_id, error) ||
	    !whole_number(line, "edition", &edition, error) ||
	    !read_files(line, "playbook_files", arena, &opening->playbook, error) ||
	    !read_files(line, "kit_files", arena, &opening->kit, error))
		return false;
	if (!read_freehand(line, arena, opening, error))
		return false;
	if (!opening->playbook.count && !(opening->freehand && !*opening->freehand))
		return lacks("playbook_files", error);
	opening->title = hs_arena_str(arena, hs_json_get_string(line, "title"));
	opening->edition = (int)edition;
	opening->rules = (int)rules;
	return true;
}
