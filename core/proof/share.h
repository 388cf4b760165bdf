/* One list of work, shared by several processes. Inside core/proof only. */
#ifndef HALFSPLIT_CORE_PROOF_SHARE_H
#define HALFSPLIT_CORE_PROOF_SHARE_H

#include <stddef.h>
#include "halfsplit/base/error.h"

/* Works on one item and fills its result, `size` bytes that hold no addresses. */
typedef void hs_share_work(void *context, size_t item, void *result);
/* Told of each item in turn, from the first to the last. */
typedef void hs_share_done(void *context, size_t item, const void *result);

/*
 * Works on items 0 to count - 1: here when jobs is 1, else in that many processes forked from this one, which share nothing that changes, so
 * that what comes out is the same. Item i goes to process i mod jobs. Their results come back through pipes. HS_IO when a process cannot be
 * had, or ends before its work.
 */
bool hs_share(size_t count, size_t size, size_t jobs, hs_share_work *work, hs_share_done *done, void *context, hs_error *error);

#endif
