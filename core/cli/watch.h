/* Checking again whenever a file has changed. */
#ifndef HALFSPLIT_CORE_CLI_WATCH_H
#define HALFSPLIT_CORE_CLI_WATCH_H

#include "halfsplit/base/text.h"

/*
 * Calls `check` once, and again whenever `look` gives another text than before, which it is asked for three times a second. Before each
 * call the time of day is printed. Ends, with the last status, on Ctrl-C, a hangup, or a line "q" on standard input.
 */
typedef struct hs_watched {
	int (*check)(void *context);
	void (*look)(void *context, hs_buf *out); /* what the files look like now */
	void *context;
} hs_watched;

int hs_watch(const hs_watched *watched);

/* One line for what this file looks like: its name, time, size, or that it is not there. */
void hs_watch_file(const char *path, hs_buf *out);

#endif
