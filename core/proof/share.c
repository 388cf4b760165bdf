/* Work shared by processes: a playbook's functions run in one Lua state, so threads would stand in each other's way. */
#include "core/proof/share.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "halfsplit/base/alloc.h"
#include "halfsplit/base/file.h"

typedef struct helper {
	pid_t pid;
	int from; /* what it writes is read here; -1: none */
} helper;

static bool read_all(int from, char *data, size_t length)
{
	while (length > 0) {
		ssize_t got = read(from, data, length);
		if (got == 0 || (got < 0 && errno != EINTR))
			return false;
		if (got > 0) {
			data += got;
			length -= (size_t)got;
		}
	}
	return true;
}

static bool start(helper *one, size_t first, size_t count, size_t size, size_t jobs, hs_share_work *work, void *context, hs_error *error)
{
	int ends[2];
	if (pipe(ends) != 0)
		return hs_fail(error, HS_IO, "no pipe can be had to share the work: %s", strerror(errno));
	one->pid = fork();
	if (one->pid < 0) {
		hs_fail(error, HS_IO, "no process can be had to share the work: %s", strerror(errno));
		close(ends[0]);
		close(ends[1]);
		return hs_fail_hint(error, "say -j 1");
	}
	if (one->pid > 0) {
		close(ends[1]);
		one->from = ends[0];
		return true;
	}
	close(ends[0]);
	char *result = hs_alloc(size);
	bool good = true;
	for (size_t i = first; good && i < count; i += jobs) {
		memset(result, 0, size);
		work(context, i, result);
		good = hs_write_all(ends[1], result, size);
	}
	/* Nothing of the parent's is flushed or told a second time. */
	_exit(good ? 0 : 1);
}

static void end(helper *helpers, size_t jobs)
{
	for (size_t i = 0; i < jobs; i++) {
		if (helpers[i].from >= 0)
			close(helpers[i].from);
		while (helpers[i].pid > 0 && waitpid(helpers[i].pid, NULL, 0) < 0 && errno == EINTR)
			continue;
	}
}

static bool share_out(size_t count, size_t size, size_t jobs, hs_share_work *work, hs_share_done *done, void *context, char *result, hs_error *error)
{
	helper *helpers = hs_alloc(jobs * sizeof *helpers);
	bool good = true;
	for (size_t i = 0; i < jobs; i++)
		helpers[i] = (helper){.pid = -1, .from = -1};
	for (size_t i = 0; good && i < jobs; i++)
		good = start(&helpers[i], i, count, size, jobs, work, context, error);
	for (size_t i = 0; good && i < count; i++) {
		good = read_all(helpers[i % jobs].from, result, size) ||
		       hs_fail(error, HS_IO, "a process that shares the work ended before it was through");
		if (good)
			done(context, i, result);
	}
	end(helpers, jobs);
	free(helpers);
	return good;
}

bool hs_share(size_t count, size_t size, size_t jobs, hs_share_work *work, hs_share_done *done, void *context, hs_error *error)
{
	char *result = hs_alloc(size);
	bool good = true;
	jobs = jobs < count ? jobs : count;
	if (jobs > 1)
		good = share_out(count, size, jobs, work, done, context, result, error);
	for (size_t i = 0; jobs <= 1 && i < count; i++) {
		memset(result, 0, size);
		work(context, i, result);
		done(context, i, result);
	}
	free(result);
	return good;
}
