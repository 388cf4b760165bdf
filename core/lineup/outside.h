/* Inside this folder only: the one sentence for a frequency at which no loss is known. */
#ifndef CORE_LINEUP_OUTSIDE_H
#define CORE_LINEUP_OUTSIDE_H

#include "halfsplit/base/error.h"

/*
 * "no loss known at 3.2 GHz: the table runs from 10 MHz to 3 GHz"; from_hz == to_hz: the table holds that frequency
 * alone; from_hz < 0: a loss stated up to to_hz. Returns false.
 */
bool hs_fail_outside(hs_error *error, double freq_hz, double from_hz, double to_hz);

#endif
