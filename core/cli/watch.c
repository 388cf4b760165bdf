#include "watch.h"

#include <poll.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/signalfd.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum { PAUSE_MS = 300 };

void hs_watch_file(const char *path, hs_buf *out)
{
	struct stat info;
	if (stat(path, &info) != 0)
		hs_buf_printf(out, "%s -\n", path);
	else
		hs_buf_printf(out, "%s %lld.%09ld %lld %llu\n", path, (long long)info.st_mtim.tv_sec, info.st_mtim.tv_nsec,
		              (long long)info.st_size, (unsigned long long)info.st_ino);
}

static void print_time(void)
{
	struct tm local;
	time_t now = time(NULL);
	localtime_r(&now, &local);
	printf("---- %02d:%02d:%02d\n", local.tm_hour, local.tm_min, local.tm_sec);
}

/* Standard input: true when "q" was typed. At its end nothing is read any more; whoever started it ends it otherwise. */
static bool told_to_end(struct pollfd *input)
{
	char line[256];
	ssize_t got = read(input->fd, line, sizeof line);
	if (got <= 0) {
		input->fd = -1;
		return false;
	}
	for (ssize_t i = 0; i < got; i++)
		if ((line[i] == 'q' || line[i] == 'Q') && (i == 0 || line[i - 1] == '\n'))
			return true;
	return false;
}

/* True after a change; false when it is to end. */
static bool await_change(const hs_watched *watched, struct pollfd waits[2], hs_buf *seen)
{
	for (;;) {
		hs_buf now;
		hs_buf_init(&now);
		watched->look(watched->context, &now);
		bool same = strcmp(now.data ? now.data : "", seen->data ? seen->data : "") == 0;
		hs_buf_clear(seen);
		hs_buf_str(seen, now.data ? now.data : "");
		hs_buf_free(&now);
		if (!same)
			return true;
		if (poll(waits, 2, PAUSE_MS) <= 0)
			continue;
		if (waits[1].revents || (waits[0].revents && told_to_end(&waits[0])))
			return false;
	}
}

int hs_watch(const hs_watched *watched)
{
	sigset_t set, before;
	sigemptyset(&set);
	sigaddset(&set, SIGINT);
	sigaddset(&set, SIGTERM);
	sigaddset(&set, SIGHUP);
	sigprocmask(SIG_BLOCK, &set, &before);
	struct pollfd waits[2] = {{STDIN_FILENO, POLLIN, 0}, {signalfd(-1, &set, SFD_CLOEXEC), POLLIN, 0}};
	hs_buf seen;
	hs_buf_init(&seen);
	int status;
	bool more;
	do {
		print_time();
		status = watched->check(watched->context);
		fflush(stdout);
		hs_buf_clear(&seen);
		watched->look(watched->context, &seen);
		more = await_change(watched, waits, &seen);
	} while (more);
	hs_buf_free(&seen);
	if (waits[1].fd >= 0)
		close(waits[1].fd);
	sigprocmask(SIG_SETMASK, &before, NULL);
	return status;
}
