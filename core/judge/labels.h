/* Inside this folder only: the two limits as texts that can be told apart. */
#ifndef CORE_JUDGE_LABELS_H
#define CORE_JUDGE_LABELS_H

#include "halfsplit/judge/limits.h"

/* Appends each limit with its unit, to as many digits as the width of the interval asks for; a limit that is absent
 * adds nothing. */
void hs_limits_labels(const hs_limits *limits, hs_buf *low, hs_buf *high);

#endif
