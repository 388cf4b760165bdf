/*
 * How what is missing goes with frequency: a verdict of its own, beside how much it is. A gap with some capacitance across it
 * loses 20 dB a decade less as frequency rises; an inductance or a poor ground loses more; a resistance, or a weak stage, the same.
 *
 * Least squares of the loss over log10 of frequency. Source of the uncertainty: JCGM 100, and the straight line's slope,
 * u = s / sqrt(sum (x - mean)^2), s the larger of the scatter about the line and the uncertainty of one reading.
 */
#ifndef HALFSPLIT_LINEUP_SLOPE_H
#define HALFSPLIT_LINEUP_SLOPE_H

#include <stddef.h>
#include "halfsplit/base/error.h"

typedef enum hs_slope_kind { HS_SLOPE_FALLING, HS_SLOPE_FLAT, HS_SLOPE_RISING } hs_slope_kind;
const char *hs_slope_name(hs_slope_kind kind);  /* "falling" "flat" "rising" */
const char *hs_slope_means(hs_slope_kind kind); /* "as of a gap, such as an open joint or capacitor" ... */

typedef struct hs_loss_at {
	double freq_hz; /* above 0 */
	double loss_db; /* what is missing against a healthy unit; negative: too much is there */
} hs_loss_at;

typedef struct hs_slope {
	hs_slope_kind kind;
	double db_per_decade;   /* of the loss, as frequency rises */
	double u_db_per_decade; /* expanded, k = 2 */
	double mean_db;
} hs_slope;

#define HS_SLOPE_LEAST 3.0 /* dB a decade: less counts as flat, however sure it is */

/*
 * At least three readings over at least an octave, else false (HS_BAD_INPUT). u_db: standard uncertainty of one reading, >= 0. Falling or rising
 * when the slope is larger than both its expanded uncertainty and HS_SLOPE_LEAST.
 */
bool hs_slope_of(const hs_loss_at *readings, size_t count, double u_db, hs_slope *out, hs_error *error);

#endif
