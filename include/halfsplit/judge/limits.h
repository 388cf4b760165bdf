/*
 * The interval a healthy unit must fall in. Limits belong to their interval.
 *
 * Text: "14 dB +/- 1 dB", "12 V +/- 5 %", "11.4 V .. 12.6 V", "11.4 V to 12.6 V", "at least 10 dBm", "at most 5 mV", "open" (a resistance reading
 * "open"/OL or above 1 Mohm is in). U+00B1 counts as +/-. A percent tolerance of a level (dBm ...) is an error; so is low above high.
 */
#ifndef HALFSPLIT_JUDGE_LIMITS_H
#define HALFSPLIT_JUDGE_LIMITS_H

#include "halfsplit/quantity/quantity.h"

typedef struct hs_limits {
	bool has_low, has_high;
	double low, high;   /* in unit */
	hs_unit unit;
	bool open_is_ok;    /* "open": an open circuit is what a healthy unit shows; low is then 1 Mohm, no high */
} hs_limits;

/* `bare` as in hs_quantity_read. */
bool hs_limits_read(const char *text, hs_unit bare, hs_limits *out, hs_error *error);

void hs_limits_print(hs_buf *out, const hs_limits *limits); /* "11.4 V to 12.6 V", "at least 10 dBm" */

/*
 * The prefix (see hs_quantity_prefix) that the two limits, and a value beside them, are printed behind: the larger limit's, or the value's where no limit is
 * other than 0.
 */
int hs_limits_prefix(const hs_limits *limits, double value);

/* Converts the limits into another unit of the same quantity (see hs_quantity_convert). */
bool hs_limits_convert(const hs_limits *limits, hs_unit to, double impedance_ohm, hs_limits *out, hs_error *error);

#endif
