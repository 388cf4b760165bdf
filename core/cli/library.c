#include <dirent.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include "library.h"

#define DEEPEST 8

static bool is_folder(const char *path)
{
	struct stat info;
	return stat(path, &info) == 0 && S_ISDIR(info.st_mode);
}

static bool same_folder(const char *a, const char *b)
{
	struct stat one, other;
	return stat(a, &one) == 0 && stat(b, &other) == 0 && one.st_dev == other.st_dev && one.st_ino == other.st_ino;
}

static void add_folder(hs_folders *folders, const char *path)
{
	if (!*path || !is_folder(path))
		return;
	for (size_t i = 0; i < folders->count; i++)
		if (same_folder(folders->items[i], path))
			return;
	folders->items = hs_grow(folders->items, &folders->room, folders->count + 1, sizeof *folders->items);
	folders->items[folders->count++] = hs_arena_str(folders->arena, path);
}

void hs_folders_find(hs_folders *folders)
{
	*folders = (hs_folders){.arena = hs_arena_new()};
	const char *given = getenv("HALFSPLIT_PLAYBOOKS");
	for (const char *at = given; at && *at;) {
		size_t length = strcspn(at, ":");
		add_folder(folders, hs_arena_strn(folders->arena, at, length));
		at += length;
		at += *at == ':';
	}
	add_folder(folders, "playbooks");
	add_folder(folders, HS_SHARE "/playbooks");
}

void hs_folders_free(hs_folders *folders)
{
	free(folders->items);
	hs_arena_free(folders->arena);
	*folders = (hs_folders){0};
}

static void shelve(hs_folders *folders, hs_shelf *shelf, const char *folder, const char *below, const char *entry)
{
	size_t length = strlen(entry);
	if (length <= 4 || strcmp(entry + length - 4, ".lua") != 0)
		return;
	shelf->items = hs_grow(shelf->items, &shelf->room, shelf->count + 1, sizeof *shelf->items);
	hs_shelved *item = &shelf->items[shelf->count++];
	item->path = hs_arena_printf(folders->arena, "%s/%s%s", folder, below, entry);
	item->last = hs_arena_strn(folders->arena, entry, length - 4);
	item->name = hs_arena_printf(folders->arena, "%s%s", below, item->last);
}

/* below is "" or ends in "/". */
static void walk(hs_folders *folders, hs_shelf *shelf, const char *folder, const char *below, int depth)
{
	const char *here = hs_arena_printf(folders->arena, "%s/%s", folder, below);
	DIR *dir = opendir(here);
	if (!dir)
		return;
	for (struct dirent *entry; (entry = readdir(dir));) {
		struct stat info;
		if (entry->d_name[0] == '.' || fstatat(dirfd(dir), entry->d_name, &info, AT_SYMLINK_NOFOLLOW) != 0)
			continue;
		if (S_ISDIR(info.st_mode) && depth < DEEPEST)
			walk(folders, shelf, folder, hs_arena_printf(folders->arena, "%s%s/", below, entry->d_name),
			     depth + 1);
		else if (S_ISREG(info.st_mode))
			shelve(folders, shelf, folder, below, entry->d_name);
	}
	closedir(dir);
}

static int by_name(const void *a, const void *b)
{
	const hs_shelved *one = a, *other = b;
	int order = strcmp(one->name, other->name);
	return order ? order : strcmp(one->path, other->path);
}

void hs_shelf_read(hs_folders *folders, hs_shelf *shelf)
{
	*shelf = (hs_shelf){0};
	for (size_t i = 0; i < folders->count; i++)
		walk(folders, shelf, folders->items[i], "", 0);
	if (shelf->count)
		qsort(shelf->items, shelf->count, sizeof *shelf->items, by_name);
}

void hs_shelf_free(hs_shelf *shelf)
{
	free(shelf->items);
	*shelf = (hs_shelf){0};
}

static bool no_such(hs_folders *folders, const hs_shelf *shelf, const char *word, hs_error *error)
{
	hs_fail(error, HS_BAD_INPUT, "there is no playbook \"%s\" in %s", word,
	        folders->count ? "the library folders" : "any library folder, because none exists");
	const char **names = hs_alloc((shelf->count + 1) * sizeof *names);
	const char *near = NULL;
	for (size_t i = 0; i < shelf->count; i++) {
		names[i] = shelf->items[i].name;
		if (strcmp(shelf->items[i].last, word) == 0)
			near = names[i];
	}
	if (!near)
		near = hs_nearest(word, names, shelf->count);
	if (near)
		hs_fail_hint(error, "did you mean %s?", near);
	else
		hs_fail_hint(error, "halfsplit list shows them; a path to a playbook ends in .lua");
	free(names);
	return false;
}

bool hs_is_path(const char *word)
{
	size_t length = strlen(word);
	return length >= 4 && strcmp(word + length - 4, ".lua") == 0;
}

/*
 * The file of a playbook in this folder, found as a walk would find it: links are not followed, what begins with a dot
 * is not looked at. NULL when the folder does not hold it.
 */
static const char *held_in(hs_folders *folders, const char *folder, const char *word)
{
	const char *path = hs_arena_printf(folders->arena, "%s/%s.lua", folder, word);
	struct stat info;
	int depth = 0;
	for (const char *at = word;; depth++) {
		size_t length = strcspn(at, "/");
		if (length == 0 || *at == '.' || depth > DEEPEST)
			return NULL;
		bool last = at[length] == '\0';
		size_t used = strlen(folder) + 1 + (size_t)(at - word) + length;
		const char *here = last ? path : hs_arena_strn(folders->arena, path, used);
		if (lstat(here, &info) != 0 || !(last ? S_ISREG(info.st_mode) : S_ISDIR(info.st_mode)))
			return NULL;
		if (last)
			return path;
		at += length + 1;
	}
}

const char *hs_playbook_path(hs_folders *folders, const char *word, hs_error *error)
{
	if (hs_is_path(word))
		return word;
	const char *found = NULL;
	for (size_t i = 0; i < folders->count; i++) {
		const char *held = held_in(folders, folders->items[i], word);
		if (held && found) {
			hs_fail(error, HS_BAD_INPUT, "two files hold the playbook \"%s\": %s and %s", word, found, held);
			hs_fail_hint(error, "give the path of the one that is meant, or take the other away");
			return NULL;
		}
		found = held ? held : found;
	}
	if (!found) {
		hs_shelf shelf;
		hs_shelf_read(folders, &shelf);
		no_such(folders, &shelf, word, error);
		hs_shelf_free(&shelf);
	}
	return found;
}

/* "garth" for a shelf's "garth/family"; NULL when it holds no family. */
static const char *family_of(hs_folders *folders, const hs_shelved *item)
{
	size_t length = strlen(item->name);
	static const char tail[] = "/family";
	if (length < sizeof tail || strcmp(item->name + length - (sizeof tail - 1), tail) != 0)
		return NULL;
	return hs_arena_strn(folders->arena, item->name, length - (sizeof tail - 1));
}

const char **hs_families(hs_folders *folders, size_t *count)
{
	hs_shelf shelf;
	hs_shelf_read(folders, &shelf);
	const char **names = hs_alloc((shelf.count + 1) * sizeof *names);
	*count = 0;
	for (size_t i = 0; i < shelf.count; i++) {
		const char *family = family_of(folders, &shelf.items[i]);
		if (family)
			names[(*count)++] = family;
	}
	hs_shelf_free(&shelf);
	return names;
}

const char *hs_family_path(hs_folders *folders, const char *word, hs_error *error)
{
	if (hs_is_path(word))
		return word;
	hs_shelf shelf;
	hs_shelf_read(folders, &shelf);
	const char **names = hs_alloc((shelf.count + 1) * sizeof *names);
	const char *found = NULL, *twin = NULL;
	size_t count = 0;
	for (size_t i = 0; i < shelf.count; i++) {
		const char *family = family_of(folders, &shelf.items[i]);
		if (!family)
			continue;
		names[count++] = family;
		if (strcmp(family, word) != 0)
			continue;
		twin = found;
		found = shelf.items[i].path;
	}
	const char *near = hs_nearest(word, names, count);
	if (!found) {
		hs_fail(error, HS_BAD_INPUT, "there is no family \"%s\" in %s", word,
		        folders->count ? "the library folders" : "any library folder, because none exists");
		if (near)
			hs_fail_hint(error, "did you mean %s?", near);
		else
			hs_fail_hint(error, "leave it out, and the unit is asked about; halfsplit new makes one");
	} else if (twin) {
		hs_fail(error, HS_BAD_INPUT, "two files hold the family \"%s\": %s and %s", word, twin, found);
		hs_fail_hint(error, "give the path of the one that is meant");
		found = NULL;
	}
	free(names);
	hs_shelf_free(&shelf);
	return found;
}

const char *hs_kit_path(hs_folders *folders, const char *given, const char *playbook_path, bool *named)
{
	*named = true;
	if (given)
		return given;
	const char *environment = getenv("HALFSPLIT_KIT");
	if (environment && *environment)
		return environment;
	*named = false;
	const char *slash = strrchr(playbook_path, '/');
	int folder = slash ? (int)(slash - playbook_path + 1) : 0;
	const char *beside = hs_arena_printf(folders->arena, "%.*skit.lua", folder, playbook_path);
	struct stat info;
	return stat(beside, &info) == 0 ? beside : NULL;
}

/* A serial as part of a file name: what is no letter, digit, dot, minus or underline becomes an underline; never
 * hidden, never long. */
static void file_word(hs_buf *out, const char *serial)
{
	static const char fine[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-";
	size_t taken = 0;
	for (const char *p = serial; *p && taken < 40; p++) {
		if (((unsigned char)*p & 0xC0u) == 0x80u)
			continue;
		bool plain = strchr(fine, *p) != NULL && !(taken == 0 && (*p == '.' || *p == '-'));
		hs_buf_char(out, plain ? *p : '_');
		taken++;
	}
	if (!taken)
		hs_buf_str(out, "unit");
}

bool hs_transcript_path(hs_buf *out, const char *serial, const char *utc, const char *run, hs_error *error)
{
	const char *runs = getenv("HALFSPLIT_RUNS");
	const char *home = getenv("HOME");
	if (runs && *runs) {
		hs_buf_str(out, runs);
	} else if (home && *home) {
		hs_buf_printf(out, "%s/.local/share/halfsplit/runs", home);
	} else {
		hs_fail(error, HS_BAD_INPUT, "neither HALFSPLIT_RUNS nor HOME says where transcripts go");
		return hs_fail_hint(error, "set HALFSPLIT_RUNS, or name the file with --transcript");
	}
	hs_buf_char(out, '/');
	file_word(out, serial);
	hs_buf_char(out, '-');
	/* 2026-11-24T09:30:00.000Z -> 20261124T093000Z */
	for (const char *p = utc; *p && *p != '.'; p++)
		if (*p != '-' && *p != ':')
			hs_buf_char(out, *p);
	hs_buf_printf(out, "Z-%s.jsonl", run);
	return true;
}
