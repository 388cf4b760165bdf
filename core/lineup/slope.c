#include "halfsplit/lineup/slope.h"

#include <math.h>
#include "halfsplit/quantity/demand.h"

const char *hs_slope_name(hs_slope_kind kind)
{
	static const char *const names[] = {"falling", "flat", "rising"};
	return names[kind];
}

const char *hs_slope_means(hs_slope_kind kind)
{
	static const char *const means[] = {"as of a gap: an open joint or capacitor", "as of a resistance, or of a stage with too little gain",
	                                    "as of an inductance: a poor ground, a long lead"};
	return means[kind];
}

static bool usable(const hs_loss_at *readings, size_t count, hs_error *error)
{
	double low = INFINITY, high = 0;
	if (count < 3)
		return hs_fail(error, HS_BAD_INPUT, "a slope wants three readings at least, and here are %zu", count);
	for (size_t i = 0; i < count; i++) {
		if (!hs_want_above("the frequency of a reading", readings[i].freq_hz, 0, HS_HERTZ, error) ||
		    !hs_want_finite("the loss of a reading", readings[i].loss_db, error))
			return false;
		low = fmin(low, readings[i].freq_hz);
		high = fmax(high, readings[i].freq_hz);
	}
	return high >= 2 * low || hs_fail(error, HS_BAD_INPUT, "a slope wants an octave at least, and the readings lie within less");
}

bool hs_slope_of(const hs_loss_at *readings, size_t count, double u_db, hs_slope *out, hs_error *error)
{
	double mean_x = 0, mean_y = 0, xx = 0, xy = 0, rest = 0;
	if (!usable(readings, count, error) || !hs_want_at_least("the uncertainty of a reading", u_db, 0, HS_DB, error))
		return false;
	for (size_t i = 0; i < count; i++) {
		mean_x += log10(readings[i].freq_hz) / (double)count;
		mean_y += readings[i].loss_db / (double)count;
	}
	for (size_t i = 0; i < count; i++) {
		double x = log10(readings[i].freq_hz) - mean_x;
		xx += x * x;
		xy += x * (readings[i].loss_db - mean_y);
	}
	double slope = xy / xx;
	for (size_t i = 0; i < count; i++)
		rest += pow(readings[i].loss_db - mean_y - slope * (log10(readings[i].freq_hz) - mean_x), 2);
	double scatter = sqrt(rest / (double)(count - 2));
	*out = (hs_slope){.kind = HS_SLOPE_FLAT, .db_per_decade = slope, .mean_db = mean_y};
	out->u_db_per_decade = 2 * fmax(scatter, u_db) / sqrt(xx);
	if (fabs(slope) > out->u_db_per_decade && fabs(slope) > HS_SLOPE_LEAST)
		out->kind = slope < 0 ? HS_SLOPE_FALLING : HS_SLOPE_RISING;
	return true;
}
