/* Where a transcript lies: its folders, its disk, and who holds it. */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/sysmacros.h>
#include <unistd.h>
#include "halfsplit/base/alloc.h"
#include "journal_parts.h"

#define SHOWN_TAIL 240 /* of a path in a message, so that the reason behind it still fits */

typedef struct cause {
	int number;
	hs_code code;
	bool disk; /* the words begin with the disk's name */
	const char *words;
	const char *hint;
} cause;

static const cause causes[] = {
	{ENOSPC, HS_IO, true, "is full", "make room on that disk, then resume the transcript"},
	{EDQUOT, HS_IO, true, "gives this user no more room (quota)", "make room or have the quota raised, then resume"},
	{EROFS, HS_IO, true, "is read-only", "name a file on a disk that can be written"},
	{EIO, HS_IO, true, "reports an input/output error", "save the file elsewhere and have that disk looked at"},
	{EFBIG, HS_IO, false, "the file would become larger than this process may write",
	 "raise the limit (ulimit -f), then resume"},
	{EACCES, HS_IO, false, "the permissions do not allow it", "see who owns the file and its folder"},
	{EPERM, HS_IO, false, "the permissions do not allow it", "see who owns the file and its folder"},
	{EMFILE, HS_IO, false, "this process has no file descriptor left", "raise the limit (ulimit -n)"},
	{ENFILE, HS_IO, false, "the system has no file descriptor left", "close other programs"},
	{ENOLCK, HS_IO, false, "its disk offers no locks", "name a file on a disk that offers locks"},
	{EOPNOTSUPP, HS_IO, false, "its disk offers no locks or no syncing", "name a file on another disk"},
	{ENOENT, HS_BAD_INPUT, false, "there is no such file or folder", "look for a slip in the path"},
	{ENOTDIR, HS_BAD_INPUT, false, "a part of the path is not a folder", "look for a slip in the path"},
	{EISDIR, HS_BAD_INPUT, false, "it is a folder, and a file was wanted", "name a file in that folder"},
	{ENAMETOOLONG, HS_BAD_INPUT, false, "the path is too long", "choose a shorter one"},
	{ELOOP, HS_BAD_INPUT, false, "the path runs in a circle of links", "name the file itself"},
};

char *place_folder(const char *path)
{
	const char *slash = strrchr(path, '/');
	if (!slash)
		return hs_strdup(".");
	char *folder = hs_strdup(path);
	folder[slash == path ? 1 : slash - path] = 0;
	return folder;
}

/* "the disk at /mnt/bench": climbs from the folder for as long as the device stays the same. */
static void name_disk(hs_buf *out, const char *path)
{
	struct stat here, above;
	char *folder = place_folder(path);
	char *real = realpath(folder, NULL);
	free(folder);
	hs_buf_str(out, "the disk");
	if (!real || stat(real, &here) != 0) {
		free(real);
		return;
	}
	while (real[1]) {
		char *parent = place_folder(real);
		bool same = stat(parent, &above) == 0 && above.st_dev == here.st_dev;
		if (same)
			strcpy(real, parent);
		free(parent);
		if (!same)
			break;
	}
	hs_buf_printf(out, " at %s", real);
	free(real);
}

bool place_fail(hs_error *error, const char *action, const char *path, int number)
{
	const cause *found = NULL;
	size_t length = strlen(path);
	bool whole = length <= SHOWN_TAIL;
	hs_buf words;
	for (size_t i = 0; i < sizeof causes / sizeof *causes && !found; i++) {
		if (causes[i].number == number)
			found = &causes[i];
	}
	hs_buf_init(&words);
	if (found && found->disk) {
		name_disk(&words, path);
		hs_buf_char(&words, ' ');
	}
	const char *other = strerrordesc_np(number);
	hs_buf_str(&words, found ? found->words : other ? other : "the system gave an unknown reason");
	hs_fail(error, found ? found->code : HS_IO, "the transcript \"%s%s\" cannot be %s: %s", whole ? "" : "...",
	        whole ? path : path + length - SHOWN_TAIL, action, words.data);
	if (found)
		hs_fail_hint(error, "%s", found->hint);
	hs_buf_free(&words);
	return false;
}

/* One folder, synced into its parent. An existing one is fine and leaves *made_it alone. */
static bool make_folder(const char *folder, bool *made_it)
{
	if (mkdir(folder, 0755) != 0)
		return errno == EEXIST;
	*made_it = true;
	char *parent = place_folder(folder);
	int fd = open(parent, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
	free(parent);
	if (fd < 0)
		return false;
	bool good = fsync(fd) == 0;
	int number = errno;
	close(fd);
	errno = number;
	return good;
}

bool place_make_folders(const char *path, size_t *made, hs_error *error)
{
	char *part = hs_strdup(path);
	bool good = true;
	*made = 0;
	for (char *slash = strchr(part + 1, '/'); slash && good; slash = strchr(slash + 1, '/')) {
		bool made_it = false;
		*slash = 0;
		good = make_folder(part, &made_it);
		if (!good)
			place_fail(error, "created", path, errno);
		if (made_it && *made == 0)
			*made = strlen(part);
		*slash = '/';
	}
	if (!good && *made > 0)
		place_remove_folders(path, *made);
	free(part);
	return good;
}

void place_remove_folders(const char *path, size_t made)
{
	char *folder = place_folder(path);
	while (made > 0 && strlen(folder) > made) {
		/* The deepest may never have been made; one that somebody else filled meanwhile stays. */
		rmdir(folder);
		char *parent = place_folder(folder);
		free(folder);
		folder = parent;
	}
	if (made > 0)
		rmdir(folder);
	free(folder);
}

/* The command name of a process, or nothing. */
static void add_process_name(hs_buf *out, int process)
{
	char path[64], name[64];
	snprintf(path, sizeof path, "/proc/%d/comm", process);
	FILE *file = fopen(path, "re");
	if (!file)
		return;
	if (fgets(name, sizeof name, file)) {
		name[strcspn(name, "\n")] = 0;
		hs_buf_printf(out, ", %s", name);
	}
	fclose(file);
}

void place_lock_holder(hs_buf *out, int fd)
{
	struct stat file;
	char row[256];
	FILE *locks = fopen("/proc/locks", "re");
	if (!locks || fstat(fd, &file) != 0) {
		if (locks)
			fclose(locks);
		return;
	}
	while (fgets(row, sizeof row, locks)) {
		int process;
		unsigned major_number, minor_number;
		unsigned long long inode;
		if (sscanf(row, "%*u: FLOCK %*s %*s %d %x:%x:%llu", &process, &major_number, &minor_number, &inode) !=
		    4)
			continue;
		if (inode != file.st_ino || makedev(major_number, minor_number) != file.st_dev || process <= 0)
			continue;
		hs_buf_printf(out, " (process %d", process);
		add_process_name(out, process);
		hs_buf_char(out, ')');
		break;
	}
	fclose(locks);
}
