/*
 * The decision rule (JCGM 106:2012, ILAC-G8:09/2019): guard band w = U (k = 2) on both sides of each limit.
 *
 * Inside by at least w: ok. Outside by at least w: low or high. Between: unsure, naming the limit, the side the value is on, and the probability that the true
 * value lies beyond that limit. Numbers closer than 1e-9 relative, or a thousandth of the step of the last digit, count as on the limit. NaN is unread.
 */
#ifndef HALFSPLIT_JUDGE_OUTCOME_H
#define HALFSPLIT_JUDGE_OUTCOME_H

#include "halfsplit/judge/limits.h"

typedef enum hs_outcome { HS_LOW, HS_OKAY, HS_HIGH, HS_UNSURE, HS_UNREAD, HS_OUTCOME_COUNT } hs_outcome;

const char *hs_outcome_name(hs_outcome outcome); /* low ok high unsure unread */
bool hs_outcome_find(const char *name, hs_outcome *out);

typedef struct hs_verdict {
	hs_outcome outcome;
	bool near_high;       /* unsure: which limit (false: the low one) */
	bool beyond;          /* unsure: the value itself lies outside that limit */
	double probability;   /* that the true value is outside the nearest limit, 0 to 1 (normal); 0.5 for a bound: not known */
	double guard;         /* w used, in the limits' unit */
} hs_verdict;

/* value in the unit of the limits; expanded_u >= 0; step as typed (0: unknown). */
hs_verdict hs_judge(const hs_limits *limits, double value, double expanded_u, double step);

/*
 * Entries that are not numbers: "> 20 Mohm" is high when its bound is above the high limit by w, ok only when there is no high limit and the bound is
 * above low by w, else unsure; "<" mirrored; over counts as above the range's top when that is known (range_top not NULL), open as above every
 * resistance; unread is unread. bound in the unit of the limits.
 */
hs_verdict hs_judge_bound(const hs_limits *limits, hs_entry_kind kind, double bound, const double *range_top, double expanded_u);

/* True when the interval is too narrow for ok ever to be the outcome (2w >= high - low; when equal, only in the very middle). */
bool hs_undecidable(const hs_limits *limits, double expanded_u);

/*
 * The reading on a drawn scale `width` columns wide (at least 30), and under its bars the limits they stand for:
 *   "  [-------|====(=o=)========|-------]\n"
 *   "       10.5 V            12.6 V". Plain ASCII, no newline at the end. The words are left out where they leave no room. The value is at o,
 * beyond the ends at < or >, its uncertainty from ( to ). Neither stands on a bar, nor beyond it, unless the numbers do. A limit that is absent has no bar
 * and no words. NaN, infinity: no o.
 */
void hs_scale_draw(const hs_limits *limits, double value, double expanded_u, size_t width, hs_buf *out);

#endif
