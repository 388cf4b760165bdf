#include "sources_disk.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { LONGEST_PATH = 200, LONGEST_COMPONENT = 100 };

int hs_disk_folder(const char *path)
{
	return open(path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
}

static bool plain(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || (c && strchr("._+-", c));
}

/* Components begin with a letter, a digit or "_", so hidden files, "." and ".." are never reached. */
static bool component_allowed(const char *start, size_t length)
{
	if (length == 0 || length > LONGEST_COMPONENT || strchr(".+-", start[0]))
		return false;
	for (size_t i = 0; i < length; i++)
		if (!plain(start[i]))
			return false;
	return true;
}

static bool refuse(hs_error *error, const char *path, const char *why)
{
	hs_fail(error, HS_BAD_INPUT, "the file name \"%.200s\" %s", path, why);
	return hs_fail_hint(error, "name a file beneath the playbook's own folder or a library folder, such as "
	                           "\"tarnbeck/fell-family\"");
}

bool hs_disk_path_allowed(const char *path, hs_error *error)
{
	if (!*path)
		return refuse(error, path, "is empty");
	if (*path == '/')
		return refuse(error, path, "is an absolute path, and files are named beneath a folder");
	if (strlen(path) > LONGEST_PATH)
		return refuse(error, path, "is longer than 200 characters");
	for (const char *at = path;;) {
		size_t length = strcspn(at, "/");
		if (length == 2 && at[0] == '.' && at[1] == '.')
			return refuse(error, path, "holds \"..\", and files are named beneath a folder");
		if (!component_allowed(at, length))
			return refuse(error, path, "is not made of letters, digits and . _ + - between single slashes");
		if (!at[length])
			return true;
		at += length + 1;
	}
}

static hs_found explain(int folder, const char *name, const char *path, int number, hs_error *error)
{
	struct stat info;
	if (number == ENOENT)
		return HS_FOUND_NOT;
	if (fstatat(folder, name, &info, AT_SYMLINK_NOFOLLOW) == 0 && S_ISLNK(info.st_mode)) {
		hs_fail(error, HS_BAD_INPUT,
		        "the file \"%s\" is reached through a symbolic link, and links "
		        "are not followed",
		        path);
		hs_fail_hint(error, "put a copy of the file in its place");
		return HS_FOUND_BAD;
	}
	/* A plain file where a folder was named: the name means nothing here. */
	if (number == ENOTDIR)
		return HS_FOUND_NOT;
	if (number == EACCES || number == EPERM)
		hs_fail(error, HS_BAD_INPUT, "the file \"%s\" cannot be opened: the permissions do not allow it", path);
	else
		hs_fail(error, HS_IO, "the file \"%s\" cannot be opened: %s", path, strerrordesc_np(number));
	return HS_FOUND_BAD;
}

hs_found hs_disk_open(int folder, const char *path, int *fd, hs_error *error)
{
	int here = folder;
	hs_found found = HS_FOUND;
	for (const char *at = path; found == HS_FOUND;) {
		char name[LONGEST_COMPONENT + 1] = {0};
		size_t length = strcspn(at, "/");
		memcpy(name, at, length < LONGEST_COMPONENT ? length : LONGEST_COMPONENT);
		/* Without O_NONBLOCK a named pipe would hang here before it can be refused. */
		int kind = at[length] ? O_DIRECTORY : O_NONBLOCK | O_NOCTTY;
		int next = openat(here, name, O_RDONLY | O_NOFOLLOW | O_CLOEXEC | kind);
		if (next < 0)
			found = explain(here, name, path, errno, error);
		if (here != folder)
			close(here);
		here = next;
		if (!at[length])
			break;
		at += length + 1;
	}
	*fd = here;
	return found;
}
