/* A binding at the end of the shop's kit file: a whole new file is written beside it, tried, and only then put in its place. */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "layout.h"
#include "halfsplit/base/file.h"
#include "made.h"

typedef struct kit_file {
	char *path;         /* without links: the file itself is replaced, not a link to it */
	hs_buf was, new;
	char *beside;       /* the new file until it is renamed */
	struct stat info;
} kit_file;

static bool io_failed(const char *doing, const char *path, hs_error *error)
{
	hs_fail(error, HS_IO, "%s \"%s\" failed: %s", doing, path, strerror(errno));
	return hs_fail_hint(error, "the kit file is as it was");
}

/* A text as Lua writes it; what cannot stand in one line of a file is refused before. */
static void put_quoted(hs_buf *out, const char *text)
{
	hs_buf_char(out, '"');
	for (const char *p = text; *p; p++) {
		if (*p == '"' || *p == '\\')
			hs_buf_char(out, '\\');
		hs_buf_char(out, *p);
	}
	hs_buf_char(out, '"');
}

static bool plain(const char *text)
{
	for (const char *p = text; *p; p++)
		if ((unsigned char)*p < 0x20 || (unsigned char)*p == 0x7f)
			return false;
	return hs_utf8_valid(text, strlen(text));
}

/* The folder the playbook lies in, else the playbook itself. */
static void scope_of(const hs_playbook *playbook, hs_buf *out)
{
	const char *slash = strrchr(playbook->id, '/');
	hs_buf_add(out, playbook->id, slash ? (size_t)(slash - playbook->id) : strlen(playbook->id));
}

static bool split(const char *wish, hs_buf *role, hs_buf *hookup, hs_error *error)
{
	const char *equals = strchr(wish, '=');
	if (equals) {
		hs_buf_add(role, wish, (size_t)(equals - wish));
		hs_buf_str(hookup, equals + 1);
		char *from = hs_trim(role->data), *to = hs_trim(hookup->data);
		memmove(role->data, from, strlen(from) + 1);
		memmove(hookup->data, to, strlen(to) + 1);
	}
	if (equals && *role->data && *hookup->data && plain(role->data) && plain(hookup->data))
		return true;
	hs_fail(error, HS_BAD_INPUT, "--bind \"%.80s\" names no role and hookup", wish);
	return hs_fail_hint(error, "write --bind \"ROLE=HOOKUP\", as in --bind \"tray lead=K12 to M1\"");
}

static bool no_such(const char *what, const char *name, const char **known, size_t count, hs_error *error)
{
	hs_fail(error, HS_BAD_INPUT, "%s \"%.80s\"", what, name);
	const char *near = hs_nearest(name, known, count);
	if (near)
		hs_fail_hint(error, "did you mean \"%s\"?", near);
	return false;
}

static bool known_both(const hs_playbook *playbook, const hs_kit *kit, const char *role, const char *hookup, hs_error *error)
{
	bool good = true;
	if (!hs_playbook_role(playbook, role)) {
		const char **names = hs_alloc((playbook->role_count + 1) * sizeof *names);
		for (size_t i = 0; i < playbook->role_count; i++)
			names[i] = playbook->roles[i].name;
		good = no_such("the playbook asks for no role", role, names, playbook->role_count, error);
		if (!hs_nearest(role, names, playbook->role_count))
			hs_fail_hint(error, "only what the playbook declares as a role is bound; a hookup that it names itself wants one of that name in the kit");
		free(names);
	} else if (!hs_kit_hookup(kit, hookup)) {
		size_t count;
		const char **names = hs_kit_hookup_names(kit, &count);
		good = no_such("the kit has no hookup", hookup, names, count, error);
		free(names);
	}
	return good;
}

static bool bound_already(const hs_kit *kit, const char *role, const char *scope, hs_error *error)
{
	for (size_t i = 0; i < kit->binding_count; i++) {
		const hs_binding *binding = &kit->bindings[i];
		for (size_t s = 0; strcmp(binding->role, role) == 0 && s < binding->scope_count; s++) {
			if (!hs_same_word(binding->scopes[s], scope))
				continue;
			hs_fail(error, HS_BAD_INPUT, "the kit binds the role \"%s\" for %s already, to \"%s\"", role, scope, binding->hookup->id);
			hs_fail_hint(error, "change that line by hand: line %d of %s", binding->where.line, binding->where.file);
			return true;
		}
	}
	return false;
}

static bool read_kit(kit_file *file, const char *path, hs_error *error)
{
	file->path = realpath(path, NULL);
	if (!file->path || stat(file->path, &file->info) != 0)
		return io_failed("finding", path, error);
	if (access(file->path, W_OK) != 0) {
		hs_fail(error, HS_IO, "the kit file \"%s\" cannot be written: %s", path, strerror(errno));
		return hs_fail_hint(error, "add the line by hand, or ask whoever keeps the kit");
	}
	return hs_file_read(file->path, "kit", HS_SOURCE_LUA_MOST, &file->was, error);
}

static bool write_beside(kit_file *file, hs_error *error)
{
	hs_buf name;
	hs_buf_init(&name);
	/* It ends as the kit does and lies in its folder, so that what the kit reads beside it is found. */
	const char *slash = strrchr(file->path, '/');
	hs_buf_add(&name, file->path, (size_t)(slash - file->path) + 1);
	hs_buf_str(&name, ".new-kit-XXXXXX.lua");
	file->beside = hs_strdup(name.data);
	hs_buf_free(&name);
	int fd = mkostemps(file->beside, 4, O_CLOEXEC);
	if (fd < 0) {
		io_failed("writing beside", file->path, error);
		free(file->beside);
		file->beside = NULL;
		return false;
	}
	/* Where only the owner may be another's, the mode still is that of the old file. */
	int owned = fchown(fd, file->info.st_uid, file->info.st_gid);
	bool good = hs_write_all(fd, file->new.data, file->new.length) && fchmod(fd, file->info.st_mode & 07777) == 0 && fsync(fd) == 0;
	(void)owned;
	if (!good)
		io_failed("writing", file->beside, error);
	if (close(fd) != 0 && good)
		good = io_failed("writing", file->beside, error);
	return good;
}

/* What stands after the kit's last line may not go there: a `return`, a comment that is not closed. */
static bool still_a_kit(const kit_file *file, const hs_playbook *playbook, const char *role, const char *hookup, hs_error *error)
{
	hs_problems problems = {0};
	hs_error why = {0};
	hs_sources *sources = hs_sources_from_disk(file->beside, NULL, 0, &why);
	hs_kit *kit = sources ? hs_kit_load(sources, HS_PLACES_ROUGH, &problems, &why) : NULL;
	const hs_binding *binding = kit ? hs_kit_binding(kit, role, playbook->id, playbook->family) : NULL;
	bool good = binding && strcmp(binding->hookup->id, hookup) == 0 && problems.errors == 0;
	hs_kit_free(kit);
	hs_sources_free(sources);
	hs_problems_free(&problems);
	if (good)
		return true;
	hs_fail(error, HS_BAD_INPUT, "with the binding at its end the kit file would not do what it says%s%s", why.message[0] ? ": " : "", why.message);
	return hs_fail_hint(error, "nothing was written; add it by hand where it takes effect: bind \"%s\" { hookup = \"%s\" }", role, hookup);
}

static bool unchanged(const kit_file *file, hs_error *error)
{
	hs_buf now;
	hs_buf_init(&now);
	bool same = hs_file_read(file->path, "kit", HS_SOURCE_LUA_MOST, &now, error) && now.length == file->was.length &&
	            memcmp(now.data, file->was.data, now.length) == 0;
	hs_buf_free(&now);
	if (!same && error->code == HS_FINE) {
		hs_fail(error, HS_BAD_INPUT, "somebody changed the kit file meanwhile");
		hs_fail_hint(error, "try again; nothing was written");
	}
	return same;
}

static bool put_in_place(kit_file *file, hs_error *error)
{
	if (rename(file->beside, file->path) != 0)
		return io_failed("putting the new kit in place of", file->path, error);
	free(file->beside);
	file->beside = NULL;
	*strrchr(file->path, '/') = '\0';
	int folder = open(*file->path ? file->path : "/", O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	if (folder >= 0) {
		fsync(folder);
		close(folder);
	}
	return true;
}

static void compose(kit_file *file, const char *role, const char *scope, const char *hookup)
{
	hs_buf_add(&file->new, file->was.data, file->was.length);
	if (file->was.length > 0 && file->was.data[file->was.length - 1] != '\n')
		hs_buf_char(&file->new, '\n');
	hs_buf_str(&file->new, "bind ");
	put_quoted(&file->new, role);
	hs_buf_str(&file->new, " { ");
	put_quoted(&file->new, scope);
	hs_buf_str(&file->new, ", hookup = ");
	put_quoted(&file->new, hookup);
	hs_buf_str(&file->new, " }\n");
}

bool hs_layout_bind(const char *kit_path, const hs_playbook *playbook, const hs_kit *kit, const char *wish, hs_error *error)
{
	kit_file file = {0};
	hs_buf role, hookup, scope;
	hs_buf *bufs[] = {&role, &hookup, &scope, &file.was, &file.new};
	for (size_t i = 0; i < sizeof bufs / sizeof *bufs; i++)
		hs_buf_init(bufs[i]);
	scope_of(playbook, &scope);
	bool good = split(wish, &role, &hookup, error) && known_both(playbook, kit, role.data, hookup.data, error) &&
	            !bound_already(kit, role.data, scope.data, error) && read_kit(&file, kit_path, error);
	if (good) {
		compose(&file, role.data, scope.data, hookup.data);
		good = write_beside(&file, error) && still_a_kit(&file, playbook, role.data, hookup.data, error) && unchanged(&file, error) &&
		       put_in_place(&file, error);
	}
	if (file.beside)
		unlink(file.beside);
	free(file.beside);
	free(file.path);
	for (size_t i = 0; i < sizeof bufs / sizeof *bufs; i++)
		hs_buf_free(bufs[i]);
	return good;
}
