#include "halfsplit/quantity/quantity.h"

#include <math.h>

/* Decibels from a level to the level above 1 W or 1 V. */
static double reference_db(hs_unit unit)
{
	switch (unit) {
	case HS_DBM:
		return -30;
	case HS_DBMV:
		return -60;
	case HS_DBUV:
		return -120;
	case HS_DBU:
		return 10 * log10(0.6); /* 0 dBu = sqrt(0.6) V: 1 mW in 600 ohm */
	default:
		return 0;
	}
}

/* Watts or rms volts in one of a linear unit. */
static double linear_factor(hs_unit unit)
{
	return unit == HS_VPK ? 1 / sqrt(2) : unit == HS_VPP ? 1 / sqrt(8) : 1;
}

static bool is_power(hs_unit unit)
{
	return hs_unit_dimension(unit) == HS_DIM_POWER;
}

static bool convertible(hs_unit unit)
{
	return is_power(unit) || hs_unit_dimension(unit) == HS_DIM_VOLTAGE;
}

/* What a level has lost when it became a number of watts or volts: 0 or infinity would be wrong answers. */
static bool finish(hs_quantity from, double value, hs_unit to, hs_quantity *out, hs_error *error)
{
	bool vanished = value == 0 && (hs_unit_is_level(from.unit) || from.value != 0) && !hs_unit_is_level(to);
	if (!isfinite(value) || vanished) {
		hs_buf shown;
		hs_buf_init(&shown);
		hs_quantity_print(&shown, from, -1);
		hs_fail(error, HS_BAD_INPUT, "%s is too %s to be written in %s", shown.data,
		        vanished ? "small" : "large", hs_unit_name(to));
		hs_fail_hint(error, "stay in decibels");
		hs_buf_free(&shown);
		return false;
	}
	*out = (hs_quantity){value, to};
	return true;
}

/* The level of a linear value above 1 W or 1 V. */
static bool to_level(hs_quantity from, double *db, hs_error *error)
{
	if (!(from.value > 0)) {
		const char *amount = from.value == 0 ? "0" : "less than 0";
		hs_fail(error, HS_BAD_INPUT, "%s %s has no level in decibels", amount, hs_unit_name(from.unit));
		return hs_fail_hint(error, "say what was read instead, such as a level below the noise");
	}
	if (is_power(from.unit))
		*db = 10 * log10(from.value);
	else
		*db = 20 * log10(from.value) + 20 * log10(linear_factor(from.unit));
	return true;
}

static bool between_linear(hs_quantity from, hs_unit to, double ohm, hs_quantity *out, hs_error *error)
{
	double value = from.value * (linear_factor(from.unit) / linear_factor(to));
	if (is_power(from.unit) && !is_power(to)) {
		if (from.value < 0)
			return hs_fail(error, HS_BAD_INPUT, "a power below 0 W has no voltage");
		value = sqrt(from.value) * sqrt(ohm) / linear_factor(to);
	} else if (!is_power(from.unit) && is_power(to)) {
		double volt = from.value * linear_factor(from.unit);
		value = volt / ohm * volt;
	}
	return finish(from, value, to, out, error);
}

static bool check_request(hs_quantity from, hs_unit to, double impedance_ohm, hs_error *error)
{
	if (!convertible(from.unit) || !convertible(to))
		return hs_fail(error, HS_BAD_INPUT, "\"%s\" (%s) cannot be converted to \"%s\" (%s)",
		               hs_unit_name(from.unit), hs_dimension_name(hs_unit_dimension(from.unit)),
		               hs_unit_name(to), hs_dimension_name(hs_unit_dimension(to)));
	if (!isfinite(from.value))
		return hs_fail(error, HS_BAD_INPUT, "a value that is not a finite number cannot be converted to %s",
		               hs_unit_name(to));
	if (is_power(from.unit) == is_power(to) || (impedance_ohm > 0 && isfinite(impedance_ohm)))
		return true;
	if (impedance_ohm == 0)
		hs_fail(error, HS_BAD_INPUT, "from %s to %s an impedance is needed, and none was given",
		        hs_unit_name(from.unit), hs_unit_name(to));
	else
		hs_fail(error, HS_BAD_INPUT, "from %s to %s an impedance above 0 ohm is needed",
		        hs_unit_name(from.unit), hs_unit_name(to));
	return hs_fail_hint(error, "say in what impedance, such as 50 ohm");
}

bool hs_quantity_convert(hs_quantity from, hs_unit to, double impedance_ohm, hs_quantity *out, hs_error *error)
{
	if (from.unit == to) {
		*out = from;
		return true;
	}
	if (!check_request(from, to, impedance_ohm, error))
		return false;
	bool from_level = hs_unit_is_level(from.unit), to_is_level = hs_unit_is_level(to);
	if (!from_level && !to_is_level)
		return between_linear(from, to, impedance_ohm, out, error);
	double db = from.value;
	if (!from_level && !to_level(from, &db, error))
		return false;
	db += (from_level ? reference_db(from.unit) : 0) - (to_is_level ? reference_db(to) : 0);
	if (is_power(from.unit) != is_power(to))
		db += (is_power(to) ? -10 : 10) * log10(impedance_ohm);
	if (to_is_level)
		return finish(from, db, to, out, error);
	double value = is_power(to) ? pow(10, db / 10) : pow(10, db / 20) / linear_factor(to);
	return finish(from, value, to, out, error);
}
