/* Powers and voltages added, taken away and averaged. */
#include <math.h>
#include "halfsplit/quantity/demand.h"
#include "halfsplit/quantity/level.h"

#define LN10   2.302585092994045684
#define DEGREE 0.017453292519943295769
#define BLANK  1e-14 /* what cos and sin leave of an exact null */

static bool want_addable(const char *what, hs_quantity part, hs_error *error)
{
	if (!hs_want_level(what, part, error))
		return false;
	if (part.unit == HS_VPK || part.unit == HS_VPP) {
		hs_fail(error, HS_BAD_INPUT, "%s is in %s, and peaks of unlike signals do not add as powers", what,
		        hs_unit_name(part.unit));
		return hs_fail_hint(error, "convert it to V rms first, naming the waveform");
	}
	return part.value >= 0 || hs_unit_is_level(part.unit) ||
	       hs_fail(error, HS_BAD_INPUT, "%s is below 0 %s", what, hs_unit_name(part.unit));
}

/* False with *nothing true when the part is 0 W or 0 V, which adds nothing and has no level. */
static bool in_unit(hs_quantity part, hs_unit unit, double impedance_ohm, bool *nothing, double *value, hs_error *error)
{
	hs_quantity made;
	if (!want_addable("a part of the sum", part, error) || !want_addable("the sum", (hs_quantity){0, unit}, error))
		return false;
	*nothing = part.value == 0 && !hs_unit_is_level(part.unit);
	if (*nothing)
		return true;
	if (!hs_quantity_convert(part, unit, impedance_ohm, &made, error))
		return false;
	*value = made.value;
	return true;
}

static bool largest_of(const hs_quantity *parts, size_t count, hs_unit unit, double impedance_ohm, double *largest,
                       size_t *which, hs_error *error)
{
	double value = 0;
	bool nothing, found = false;
	if (count == 0)
		return hs_fail(error, HS_BAD_INPUT, "there is nothing to add");
	for (size_t i = 0; i < count; i++) {
		if (!in_unit(parts[i], unit, impedance_ohm, &nothing, &value, error))
			return false;
		if (nothing || (found && value <= *largest))
			continue;
		*largest = value;
		*which = i;
		found = true;
	}
	if (found || !hs_unit_is_level(unit)) {
		if (!found)
			*largest = 0;
		return true;
	}
	return hs_fail(error, HS_BAD_INPUT, "the sum is 0, which has no level in decibels");
}

/* The power of `value` over that of `largest`, both in `unit`. */
static double share_of(double value, double largest, hs_unit unit)
{
	if (hs_unit_is_level(unit))
		return exp((value - largest) * LN10 / 10);
	double ratio = value / largest;
	return unit == HS_WATT ? ratio : ratio * ratio;
}

/* `largest` with its power multiplied by 1 + rest, or by (1 + rest)/n. */
static double scaled(double largest, double rest, double n, hs_unit unit)
{
	if (hs_unit_is_level(unit))
		return largest + 10 / LN10 * log1p(rest) - 10 * log10(n);
	return unit == HS_WATT ? largest * ((1 + rest) / n) : largest * sqrt((1 + rest) / n);
}

static bool add(const hs_quantity *parts, size_t count, hs_unit unit, double impedance_ohm, double n, hs_quantity *sum,
                hs_error *error)
{
	double largest = 0, rest = 0, value = 0;
	size_t which = count;
	if (!largest_of(parts, count, unit, impedance_ohm, &largest, &which, error))
		return false;
	for (size_t i = 0; i < count; i++) {
		bool nothing;
		if (!in_unit(parts[i], unit, impedance_ohm, &nothing, &value, error))
			return false;
		if (!nothing && i != which)
			rest += share_of(value, largest, unit);
	}
	if (!hs_give("the sum", scaled(largest, rest, n, unit), &value, error))
		return false;
	*sum = (hs_quantity){value, unit};
	return true;
}

bool hs_power_sum(const hs_quantity *parts, size_t count, hs_unit unit, double impedance_ohm, hs_quantity *sum,
                  hs_error *error)
{
	return add(parts, count, unit, impedance_ohm, 1, sum, error);
}

bool hs_power_mean(const hs_quantity *parts, size_t count, hs_unit unit, double impedance_ohm, hs_quantity *mean,
                   hs_error *error)
{
	return add(parts, count, unit, impedance_ohm, (double)count, mean, error);
}

bool hs_power_difference(hs_quantity total, hs_quantity part, hs_unit unit, double impedance_ohm, hs_quantity *rest,
                         hs_error *error)
{
	double over;
	hs_quantity all;
	if (!want_addable("the total", total, error) || !want_addable("the part", part, error) ||
	    !want_addable("the difference", (hs_quantity){0, unit}, error))
		return false;
	if (part.value == 0 && !hs_unit_is_level(part.unit))
		return hs_quantity_convert(total, unit, impedance_ohm, rest, error);
	if (!hs_level_over(total, part, impedance_ohm, &over, error))
		return false;
	if (!(over > 0)) {
		hs_fail(error, HS_BAD_INPUT, "the total is not above the part: %s dB over it", hs_brief_of(over).text);
		return hs_fail_hint(error, "what is left cannot be told from nothing");
	}
	return hs_quantity_convert(total, unit, impedance_ohm, &all, error) &&
	       hs_level_shift(all, 10 * log10(-expm1(-over * LN10 / 10)), rest, error);
}

/* Exact at the quarter turns, where a null is made on purpose. */
static void arrow(double degrees, double *x, double *y)
{
	static const double corner[4][2] = {{1, 0}, {0, 1}, {-1, 0}, {0, -1}};
	double turned = fmod(degrees, 360);
	if (turned < 0)
		turned += 360;
	double quarters = turned / 90;
	if (quarters == floor(quarters)) {
		*x = corner[(int)quarters % 4][0];
		*y = corner[(int)quarters % 4][1];
		return;
	}
	*x = cos(turned * DEGREE);
	*y = sin(turned * DEGREE);
}

/* The level of a tone in decibels of `reference`; *silent when it is 0. */
static bool tone_db(hs_tone tone, hs_unit reference, double impedance_ohm, bool *silent, double *db, hs_error *error)
{
	hs_quantity made;
	if (!hs_want_level("a tone", tone.level, error) || !hs_want_finite("the phase of a tone", tone.degrees, error))
		return false;
	*silent = tone.level.value == 0 && !hs_unit_is_level(tone.level.unit);
	if (*silent)
		return true;
	if (!hs_quantity_convert(tone.level, reference, impedance_ohm, &made, error))
		return false;
	*db = made.value;
	return true;
}

bool hs_tone_sum(const hs_tone *tones, size_t count, hs_unit unit, double impedance_ohm, hs_quantity *sum,
                 double *degrees, hs_error *error)
{
	hs_unit reference = hs_unit_dimension(unit) == HS_DIM_POWER ? HS_DBW : HS_DBV;
	double largest = -INFINITY, db = 0, re = 0, im = 0, all = 0;
	bool silent;
	if (!hs_want_level("the sum", (hs_quantity){0, unit}, error))
		return false;
	for (size_t i = 0; i < count; i++) {
		if (!tone_db(tones[i], reference, impedance_ohm, &silent, &db, error))
			return false;
		if (!silent)
			largest = fmax(largest, db);
	}
	if (!isfinite(largest))
		return hs_fail(error, HS_BAD_INPUT, "there is nothing to add");
	for (size_t i = 0; i < count; i++) {
		double x, y;
		if (!tone_db(tones[i], reference, impedance_ohm, &silent, &db, error))
			return false;
		double size = silent ? 0 : exp((db - largest) * LN10 / 20);
		arrow(tones[i].degrees, &x, &y);
		re += size * x;
		im += size * y;
		all += size;
	}
	if (hypot(re, im) <= BLANK * all) {
		hs_fail(error, HS_BAD_INPUT, "the tones cancel to an exact null, which has no level");
		return hs_fail_hint(error,
		                    "a real null is as deep as the match of levels and phases allows: state those");
	}
	hs_quantity made = {largest + 20 * log10(hypot(re, im)), reference};
	if (!hs_quantity_convert(made, unit, 0, sum, error))
		return false;
	/* Adding 0 turns -0 into 0, so that a half turn is 180 and never -180. */
	if (degrees)
		*degrees = atan2(im + 0.0, re) / DEGREE;
	return true;
}
