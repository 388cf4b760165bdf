/* A level moved by decibels: EMF and PD, carriers, bandwidths. */
#include <math.h>
#include "halfsplit/quantity/demand.h"
#include "halfsplit/quantity/level.h"

bool hs_level_shift(hs_quantity level, double db, hs_quantity *out, hs_error *error)
{
	double value;
	if (!hs_want_level("the level", level, error) || !hs_want_finite("the shift in decibels", db, error))
		return false;
	if (hs_unit_is_level(level.unit))
		value = level.value + db;
	else
		value = level.value * pow(10, db / (level.unit == HS_WATT ? 10 : 20));
	if (value == 0 && level.value != 0 && !hs_unit_is_level(level.unit))
		return hs_fail(error, HS_BAD_INPUT, "the shifted level is too small to be written in %s",
		               hs_unit_name(level.unit));
	if (!hs_give("the shifted level", value, &value, error))
		return false;
	*out = (hs_quantity){value, level.unit};
	return true;
}

static bool want_voltage(const char *what, hs_quantity quantity, hs_error *error)
{
	if (hs_unit_dimension(quantity.unit) == HS_DIM_POWER) {
		hs_fail(error, HS_BAD_INPUT, "%s is given in %s, and a power has no EMF", what,
		        hs_unit_name(quantity.unit));
		return hs_fail_hint(error, "convert it to a voltage first, naming the impedance");
	}
	return hs_want_dimension(what, quantity, HS_DIM_VOLTAGE, error);
}

bool hs_pd_of_emf(hs_quantity emf, hs_quantity *pd, hs_error *error)
{
	return want_voltage("the EMF", emf, error) && hs_level_shift(emf, -20 * log10(2), pd, error);
}

bool hs_emf_of_pd(hs_quantity pd, hs_quantity *emf, hs_error *error)
{
	return want_voltage("the potential difference", pd, error) && hs_level_shift(pd, 20 * log10(2), emf, error);
}

bool hs_pd_into(hs_quantity emf, double source_ohm, double load_ohm, hs_quantity *pd, hs_error *error)
{
	return want_voltage("the EMF", emf, error) &&
	       hs_want_at_least("the source resistance", source_ohm, 0, HS_OHM, error) &&
	       hs_want_above("the load resistance", load_ohm, 0, HS_OHM, error) &&
	       hs_level_shift(emf, -20 * log10(1 + source_ohm / load_ohm), pd, error);
}

bool hs_available_power(hs_quantity emf, double source_ohm, hs_quantity *dbm, hs_error *error)
{
	hs_quantity pd;
	return hs_pd_of_emf(emf, &pd, error) && hs_want_above("the source resistance", source_ohm, 0, HS_OHM, error) &&
	       hs_quantity_convert(pd, HS_DBM, source_ohm, dbm, error);
}

bool hs_level_over(hs_quantity level, hs_quantity carrier, double impedance_ohm, double *dbc, hs_error *error)
{
	hs_quantity a, b;
	if (!hs_want_level("the level", level, error) || !hs_want_level("the carrier", carrier, error))
		return false;
	/* One reference for both; across power and voltage the conversion asks for the impedance. */
	hs_unit reference = hs_unit_dimension(carrier.unit) == HS_DIM_POWER ? HS_DBW : HS_DBV;
	return hs_quantity_convert(level, reference, impedance_ohm, &a, error) &&
	       hs_quantity_convert(carrier, reference, impedance_ohm, &b, error) &&
	       hs_give("the ratio", a.value - b.value, dbc, error);
}

bool hs_level_from_over(hs_quantity carrier, double dbc, hs_quantity *level, hs_error *error)
{
	return hs_level_shift(carrier, dbc, level, error);
}

static bool decades(const char *what, double bandwidth_hz, double *db, hs_error *error)
{
	if (!hs_want_above(what, bandwidth_hz, 0, HS_HERTZ, error))
		return false;
	*db = 10 * log10(bandwidth_hz);
	return true;
}

bool hs_density_of_level(hs_quantity level, double bandwidth_hz, double *dbm_per_hz, hs_error *error)
{
	double db;
	hs_quantity dbm;
	return hs_want_dimension("the level", level, HS_DIM_POWER, error) &&
	       decades("the bandwidth", bandwidth_hz, &db, error) &&
	       hs_quantity_convert(level, HS_DBM, 0, &dbm, error) &&
	       hs_give("the density", dbm.value - db, dbm_per_hz, error);
}

bool hs_level_of_density(double dbm_per_hz, double bandwidth_hz, hs_quantity *dbm, hs_error *error)
{
	double db;
	if (!hs_want_finite("the density", dbm_per_hz, error) || !decades("the bandwidth", bandwidth_hz, &db, error))
		return false;
	*dbm = (hs_quantity){dbm_per_hz + db, HS_DBM};
	return true;
}

bool hs_level_in_bandwidth(hs_quantity level, double from_hz, double to_hz, hs_quantity *out, hs_error *error)
{
	double from_db, to_db;
	return decades("the bandwidth of the reading", from_hz, &from_db, error) &&
	       decades("the bandwidth wanted", to_hz, &to_db, error) &&
	       hs_level_shift(level, to_db - from_db, out, error);
}
