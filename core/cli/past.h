/* A transcript read from its file: checked, and folded again. */
#ifndef HALFSPLIT_CORE_CLI_PAST_H
#define HALFSPLIT_CORE_CLI_PAST_H

#include "bench.h"
#include "halfsplit/record/transcript.h"

typedef struct hs_past {
	const char *path;
	hs_buf data;
	hs_chain chain;
	hs_bench bench; /* what its first line holds */
	hs_replay *replay;
	const hs_replay_result *result;
} hs_past;

/* Reads and folds. False with *error when it is no transcript at all, or one this program cannot read; what is wrong
 * with a transcript is in *past. */
bool hs_past_read(hs_past *past, const char *path, hs_error *error);
/* False, and *error says so, when it does not; what: what is then not made of it, "reported". */
bool hs_past_holds_together(const hs_past *past, const char *what, hs_error *error);

void hs_past_free(hs_past *past);

/* For hs_replay_new: context is an hs_bench, empty until then. */
hs_engine *hs_bench_replay(void *context, const hs_opening *opening, hs_error *error);

#endif
