/*
 * Preloaded under halfsplit by tests/keypad.sh: a wait that the program itself asked for passes quickly. Time goes on as it does
 * everywhere, and by a minute more for each poll that has a time of its own.
 */
#include <dlfcn.h>
#include <poll.h>
#include <stddef.h>
#include <time.h>

static long ahead_s;

int poll(struct pollfd *fds, nfds_t count, int timeout)
{
	int (*real)(struct pollfd *, nfds_t, int) = (int (*)(struct pollfd *, nfds_t, int))dlsym(RTLD_NEXT, "poll");
	int got = real(fds, count, timeout > 1 ? 1 : timeout);
	if (got == 0 && timeout > 0)
		ahead_s += 60;
	return got;
}

int clock_gettime(clockid_t clock, struct timespec *now)
{
	int (*real)(clockid_t, struct timespec *) = (int (*)(clockid_t, struct timespec *))dlsym(RTLD_NEXT, "clock_gettime");
	int got = real(clock, now);
	if (now != NULL)
		now->tv_sec += ahead_s;
	return got;
}
