#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/file.h"
#include "made.h"

bool hs_make_folder(const char *path, hs_error *error)
{
	struct stat info;
	if (mkdir(path, 0755) == 0 || (errno == EEXIST && stat(path, &info) == 0 && S_ISDIR(info.st_mode)))
		return true;
	hs_fail(error, HS_IO, "the folder cannot be made: %s", strerror(errno));
	return hs_fail_at(error, path, 0);
}

bool hs_make_way(const char *path, hs_error *error)
{
	char *folder = hs_strdup(path);
	bool fine = true;
	for (char *at = strchr(folder + 1, '/'); fine && at != NULL; at = strchr(at + 1, '/')) {
		*at = '\0';
		fine = hs_make_folder(folder, error);
		*at = '/';
	}
	free(folder);
	return fine;
}

bool hs_write_new(const char *path, const char *text, hs_error *error)
{
	int fd = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0644);
	if (fd < 0 && errno == EEXIST) {
		hs_fail(error, HS_BAD_INPUT, "a file of this name is there, and it is not written over");
		return hs_fail_at(error, path, 0);
	}
	bool fine = fd >= 0 && hs_write_all(fd, text, strlen(text));
	int why = errno;
	if (fd >= 0 && close(fd) != 0 && fine) {
		fine = false;
		why = errno;
	}
	if (fine)
		return true;
	if (fd >= 0)
		unlink(path);
	hs_fail(error, HS_IO, "the file cannot be written: %s", strerror(why));
	return hs_fail_at(error, path, 0);
}

void hs_say_made(const char *path)
{
	hs_buf shown;
	hs_buf_init(&shown);
	hs_buf_shown(&shown, path, false);
	printf("made %s\n", shown.data);
	hs_buf_free(&shown);
}
