#include "halfsplit/playbook/sources.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/file.h"
#include "halfsplit/base/text.h"
#include "sources_disk.h"

struct hs_sources {
	hs_source **files; /* one allocation each, so that pointers stay good */
	size_t count;
	size_t room;
	const hs_source **opened; /* in the order in which each was named first; not the main file */
	size_t opened_count;
	size_t opened_room;
	int *folders; /* descriptors: the main file's folder, then the library folders; none when embedded */
	size_t folder_count;
};

static hs_sources *new_list(size_t folders)
{
	hs_sources *sources = hs_alloc(sizeof *sources);
	sources->folders = hs_alloc(folders * sizeof *sources->folders);
	return sources;
}

hs_sources *hs_sources_embedded(void)
{
	return new_list(0);
}

static void free_source(hs_source *source)
{
	if (source->text != source->raw)
		free((void *)source->text);
	free((void *)source->raw);
	free((void *)source->path);
	free(source);
}

void hs_sources_free(hs_sources *sources)
{
	if (!sources)
		return;
	for (size_t i = 0; i < sources->count; i++)
		free_source(sources->files[i]);
	for (size_t i = 0; i < sources->folder_count; i++)
		close(sources->folders[i]);
	free(sources->files);
	free(sources->opened);
	free(sources->folders);
	free(sources);
}

const hs_source *hs_sources_main(const hs_sources *sources)
{
	return sources->count > 0 ? sources->files[0] : NULL;
}

size_t hs_sources_count(const hs_sources *sources)
{
	return sources->count;
}

const hs_source *hs_sources_at(const hs_sources *sources, size_t index)
{
	return index < sources->count ? sources->files[index] : NULL;
}

const hs_source *hs_sources_find(const hs_sources *sources, const char *path)
{
	for (size_t i = 0; i < sources->count; i++)
		if (strcmp(sources->files[i]->path, path) == 0)
			return sources->files[i];
	return NULL;
}

/* Takes over the bytes in *raw when it succeeds, and only then. */
static const hs_source *add(hs_sources *sources, const char *path, const char *what, hs_buf *raw, hs_error *error)
{
	hs_buf text;
	if (sources->count >= HS_SOURCES_MOST) {
		hs_fail(error, HS_BAD_INPUT, "\"%s\" would be file number %d, and at most %d are read", path,
		        HS_SOURCES_MOST + 1, HS_SOURCES_MOST);
		return NULL;
	}
	hs_buf_init(&text);
	hs_buf_add(&text, raw->data, raw->length);
	if (!hs_file_text(path, what, &text, error)) {
		hs_buf_free(&text);
		return NULL;
	}
	hs_source *source = hs_alloc(sizeof *source);
	*source = (hs_source){.path = hs_strdup(path), .raw = raw->data, .raw_length = raw->length};
	hs_sha256_hex(raw->data, raw->length, source->sha256);
	hs_buf_init(raw);
	source->text_length = text.length;
	if (text.length == source->raw_length) {
		source->text = source->raw;
		hs_buf_free(&text);
	} else {
		source->text = text.data;
	}
	sources->files = hs_grow(sources->files, &sources->room, sources->count + 1, sizeof *sources->files);
	sources->files[sources->count++] = source;
	return source;
}

hs_sources *hs_sources_from_text(const char *path, const char *text, size_t length, hs_error *error)
{
	hs_sources *sources = hs_sources_embedded();
	if (hs_sources_add_embedded(sources, path, NULL, text, length, error))
		return sources;
	hs_sources_free(sources);
	return NULL;
}

static bool ends_in_lua(const char *name)
{
	size_t length = strlen(name);
	return length >= 4 && strcmp(name + length - 4, ".lua") == 0;
}

/* The main file is named by the user, so its name may be anything that is one path component. */
static bool stored_path_allowed(const hs_sources *sources, const char *path, hs_error *error)
{
	bool plain_name = *path && !strchr(path, '/') && strcmp(path, ".") != 0 && strcmp(path, "..") != 0;
	return (sources->count == 0 && plain_name && strlen(path) < 256) || hs_disk_path_allowed(path, error);
}

bool hs_sources_add_embedded(hs_sources *sources, const char *path, const char *sha256, const char *raw,
                             size_t raw_length, hs_error *error)
{
	char digest[HS_HEX_ROOM];
	if (!stored_path_allowed(sources, path, error))
		return false;
	if (hs_sources_find(sources, path))
		return hs_fail(error, HS_BAD_INPUT, "the file \"%s\" is held twice", path);
	size_t most = sources->count == 0 || ends_in_lua(path) ? HS_SOURCE_LUA_MOST : HS_SOURCE_TABLE_MOST;
	if (raw_length > most)
		return hs_fail(error, HS_BAD_INPUT, "the file \"%s\" has %zu bytes, and at most %zu are accepted", path,
		               raw_length, most);
	hs_sha256_hex(raw, raw_length, digest);
	if (sha256 && strcmp(sha256, digest) != 0)
		return hs_fail(error, HS_BAD_INPUT, "the text of \"%s\" has the SHA-256 %s, and %.64s was recorded",
		               path, digest, sha256);
	hs_buf copy;
	hs_buf_init(&copy);
	hs_buf_add(&copy, raw, raw_length);
	bool good = add(sources, path, "file", &copy, error);
	hs_buf_free(&copy);
	return good;
}

bool hs_source_is_picture(const char *path)
{
	size_t length = strlen(path);
	return length > 4 && strcmp(path + length - 4, ".svg") == 0;
}

bool hs_sources_add_digest(hs_sources *sources, const char *path, const char *sha256, hs_error *error)
{
	hs_buf nothing;
	if (!stored_path_allowed(sources, path, error))
		return false;
	if (hs_sources_find(sources, path))
		return hs_fail(error, HS_BAD_INPUT, "the file \"%s\" is held twice", path);
	if (sources->count == 0 || !hs_source_is_picture(path))
		return hs_fail(error, HS_BAD_INPUT, "the text of \"%s\" is missing", path);
	hs_buf_init(&nothing);
	hs_buf_str(&nothing, "");
	bool good = add(sources, path, "file", &nothing, error);
	hs_buf_free(&nothing);
	if (good)
		hs_copy(sources->files[sources->count - 1]->sha256, HS_HEX_ROOM, sha256);
	return good;
}

/* The folder of the main path, and its last component in *name. */
static int open_main_folder(const char *main_path, const char **name)
{
	const char *slash = strrchr(main_path, '/');
	*name = slash ? slash + 1 : main_path;
	if (!slash)
		return hs_disk_folder(".");
	char *folder = hs_strdup(main_path);
	folder[slash - main_path + (slash == main_path)] = '\0';
	int fd = hs_disk_folder(folder);
	free(folder);
	return fd;
}

static bool read_main(hs_sources *sources, const char *main_path, const char *name, hs_error *error)
{
	hs_buf raw;
	hs_buf_init(&raw);
	bool good =
	    hs_file_read(main_path, "file", HS_SOURCE_LUA_MOST, &raw, error) && add(sources, name, "file", &raw, error);
	hs_buf_free(&raw);
	return good;
}

hs_sources *hs_sources_from_disk(const char *main_path, const char *const *library_dirs, size_t count, hs_error *error)
{
	const char *name;
	hs_sources *sources = new_list(count + 1);
	int folder = open_main_folder(main_path, &name);
	if (folder >= 0)
		sources->folders[sources->folder_count++] = folder;
	if (!read_main(sources, main_path, name, error)) {
		hs_sources_free(sources);
		return NULL;
	}
	for (size_t i = 0; i < count; i++) {
		folder = hs_disk_folder(library_dirs[i]);
		if (folder >= 0)
			sources->folders[sources->folder_count++] = folder;
	}
	return sources;
}

static const hs_source *read_found(hs_sources *sources, int fd, const char *path, size_t most, hs_error *error)
{
	hs_buf raw;
	hs_buf_init(&raw);
	const hs_source *source = NULL;
	if (hs_file_read_fd(fd, path, "file", most, &raw, error))
		source = add(sources, path, "file", &raw, error);
	hs_buf_free(&raw);
	close(fd);
	return source;
}

static const hs_source *not_there(const hs_sources *sources, const char *path, hs_error *error)
{
	if (sources->folder_count == 0) {
		hs_fail(error, HS_BAD_INPUT, "the file \"%s\" is not among the %zu files held here", path,
		        sources->count);
		return NULL;
	}
	hs_fail(error, HS_BAD_INPUT, "there is no file \"%s\" beneath the folder of %s%s", path,
	        sources->files[0]->path, sources->folder_count > 1 ? " or a library folder" : "");
	if (strchr(path, '/') == NULL && strchr(path, '.') != strrchr(path, '.'))
		hs_fail_hint(error, "folders are written with a slash, as in \"tarnbeck/fell-family\"");
	return NULL;
}

static bool wanted_path(const char *name, hs_source_kind kind, hs_buf *path, hs_error *error)
{
	if (!hs_disk_path_allowed(name, error))
		return false;
	hs_buf_str(path, name);
	if (kind == HS_SOURCE_LUA && !ends_in_lua(name))
		hs_buf_str(path, ".lua");
	return true;
}

static const hs_source *look_for(hs_sources *sources, const char *path, size_t most, hs_error *error)
{
	const hs_source *known = hs_sources_find(sources, path);
	if (known && known->raw_length > most) {
		hs_fail(error, HS_BAD_INPUT, "the file \"%s\" has %zu bytes, and at most %zu are accepted", path,
		        known->raw_length, most);
		return NULL;
	}
	if (known)
		return known;
	for (size_t i = 0; i < sources->folder_count; i++) {
		int fd = -1;
		switch (hs_disk_open(sources->folders[i], path, &fd, error)) {
		case HS_FOUND:
			return read_found(sources, fd, path, most, error);
		case HS_FOUND_BAD:
			return NULL;
		case HS_FOUND_NOT:
			break;
		}
	}
	return not_there(sources, path, error);
}

static void note_opened(hs_sources *sources, const hs_source *source)
{
	for (size_t i = 0; i < sources->opened_count; i++)
		if (sources->opened[i] == source)
			return;
	if (source == sources->files[0])
		return;
	sources->opened = hs_grow(sources->opened, &sources->opened_room, sources->opened_count + 1,
	                          sizeof *sources->opened);
	sources->opened[sources->opened_count++] = source;
}

const hs_source *hs_sources_idle(const hs_sources *sources)
{
	for (size_t i = 1; i < sources->count; i++)
		if (i > sources->opened_count || sources->opened[i - 1] != sources->files[i])
			return sources->files[i];
	return NULL;
}

const hs_source *hs_sources_open(hs_sources *sources, const char *name, hs_source_kind kind, hs_error *error)
{
	hs_buf path;
	hs_buf_init(&path);
	const hs_source *source = NULL;
	if (wanted_path(name, kind, &path, error))
		source = look_for(sources, path.data, kind == HS_SOURCE_LUA ? HS_SOURCE_LUA_MOST : HS_SOURCE_TABLE_MOST,
		                  error);
	hs_buf_free(&path);
	if (source)
		note_opened(sources, source);
	return source;
}

void hs_sources_digest(const hs_sources *sources, char hex[HS_HEX_ROOM])
{
	hs_buf lines;
	hs_buf_init(&lines);
	for (size_t i = 0; i < sources->count; i++)
		hs_buf_printf(&lines, "%s  %s\n", sources->files[i]->sha256, sources->files[i]->path);
	hs_sha256_hex(lines.data ? lines.data : "", lines.length, hex);
	hs_buf_free(&lines);
}

bool hs_sources_quote(const hs_sources *sources, const char *path, int line, char *out, size_t room)
{
	const hs_source *source = hs_sources_find(sources, path);
	if (room > 0)
		*out = '\0';
	if (!source || line < 1)
		return false;
	const char *at = source->text;
	for (int i = 1; i < line; i++) {
		at = strchr(at, '\n');
		if (!at)
			return false;
		at++;
	}
	size_t length = strcspn(at, "\n");
	char *copy = hs_alloc(length + 1);
	memcpy(copy, at, length);
	hs_copy(out, room, hs_trim(copy));
	free(copy);
	return true;
}
