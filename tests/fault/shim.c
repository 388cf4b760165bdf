/*
 * Preloaded under halfsplit by tests/faults.sh: counts what reaches a transcript, and makes a chosen call go wrong.
 *
 * HS_SHIM_LOG   a file that gets one line a call that went well: "write BYTES", "fdatasync", "fsync"; of transcripts (*.jsonl) only.
 * HS_SHIM_FAULT CALL:N:WHAT, the N-th such call (from 1) on a transcript:
 *               before, after  the process is killed before or after it
 *               half           half of the bytes are written, then it is killed
 *               short          half of the bytes are written, and the call says so
 *               intr           it is interrupted before anything happened
 *               a number       it fails with this errno, and so does every one after it
 *               CALL is write, fdatasync, fsync, openat (for creating) or flock.
 * HS_SHIM_DENY  a path that ends in this cannot be opened for want of rights.
 */
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/syscall.h>
#include <sys/types.h>
#include <unistd.h>

enum { CALL_WRITE, CALL_FDATASYNC, CALL_FSYNC, CALL_OPENAT, CALL_FLOCK, CALLS };
static const char *const call_names[CALLS] = {"write", "fdatasync", "fsync", "openat", "flock"};
static int seen[CALLS];

static int is_transcript(int fd)
{
	char link[64], path[4096];
	snprintf(link, sizeof link, "/proc/self/fd/%d", fd);
	ssize_t length = readlink(link, path, sizeof path - 1);
	return length > 6 && memcmp(path + length - 6, ".jsonl", 6) == 0;
}

static void note(int call, size_t bytes)
{
	const char *path = getenv("HS_SHIM_LOG");
	char line[64];
	int length = call == CALL_WRITE ? snprintf(line, sizeof line, "write %zu\n", bytes)
	                                : snprintf(line, sizeof line, "%s\n", call_names[call]);
	if (!path)
		return;
	int fd = (int)syscall(SYS_openat, AT_FDCWD, path, O_WRONLY | O_APPEND | O_CREAT, 0644);
	syscall(SYS_write, fd, line, (size_t)length);
	syscall(SYS_close, fd);
}

/* What is to happen at this call: "" for nothing. */
static const char *fault(int call)
{
	const char *text = getenv("HS_SHIM_FAULT");
	size_t length = strlen(call_names[call]);
	seen[call]++;
	if (!text || strncmp(text, call_names[call], length) != 0 || text[length] != ':')
		return "";
	char *what;
	long number = strtol(text + length + 1, &what, 10);
	int again = what[1] >= '0' && what[1] <= '9' && seen[call] > number;
	return seen[call] == number || again ? what + 1 : "";
}

static void die(void)
{
	syscall(SYS_kill, getpid(), SIGKILL);
	for (;;)
		pause();
}

/* -1 with errno, or 0: go on. */
static int before(int call, const char *what)
{
	if (strcmp(what, "before") == 0)
		die();
	errno = strcmp(what, "intr") == 0 ? EINTR : atoi(what);
	(void)call;
	return errno ? -1 : 0;
}

ssize_t write(int fd, const void *data, size_t length)
{
	if (!is_transcript(fd))
		return syscall(SYS_write, fd, data, length);
	const char *what = fault(CALL_WRITE);
	if (before(CALL_WRITE, what) != 0)
		return -1;
	if (strcmp(what, "half") == 0 || strcmp(what, "short") == 0)
		length /= 2;
	ssize_t done = syscall(SYS_write, fd, data, length);
	if (strcmp(what, "half") == 0 || strcmp(what, "after") == 0)
		die();
	note(CALL_WRITE, done < 0 ? 0 : (size_t)done);
	return done;
}

static int sync_it(int call, int fd)
{
	long number = call == CALL_FSYNC ? SYS_fsync : SYS_fdatasync;
	if (!is_transcript(fd))
		return (int)syscall(number, fd);
	const char *what = fault(call);
	if (before(call, what) != 0)
		return -1;
	int status = (int)syscall(number, fd);
	if (strcmp(what, "after") == 0)
		die();
	note(call, 0);
	return status;
}

int fdatasync(int fd)
{
	return sync_it(CALL_FDATASYNC, fd);
}

int fsync(int fd)
{
	return sync_it(CALL_FSYNC, fd);
}

static int denied(const char *path)
{
	const char *name = getenv("HS_SHIM_DENY");
	size_t length = strlen(path);
	if (!name || length < strlen(name) || strcmp(path + length - strlen(name), name) != 0)
		return 0;
	errno = EACCES;
	return 1;
}

int open(const char *path, int flags, ...)
{
	mode_t mode = 0;
	if (flags & O_CREAT) {
		va_list args;
		va_start(args, flags);
		mode = va_arg(args, mode_t);
		va_end(args);
	}
	return denied(path) ? -1 : (int)syscall(SYS_openat, AT_FDCWD, path, flags, mode);
}

int openat(int folder, const char *path, int flags, ...)
{
	mode_t mode = 0;
	if (denied(path))
		return -1;
	if (flags & O_CREAT) {
		va_list args;
		va_start(args, flags);
		mode = va_arg(args, mode_t);
		va_end(args);
		if (strstr(path, ".jsonl") && before(CALL_OPENAT, fault(CALL_OPENAT)) != 0)
			return -1;
	}
	return (int)syscall(SYS_openat, folder, path, flags, mode);
}

int flock(int fd, int operation)
{
	if (is_transcript(fd) && before(CALL_FLOCK, fault(CALL_FLOCK)) != 0)
		return -1;
	return (int)syscall(SYS_flock, fd, operation);
}
