/* Values with units: quantities, levels, limits, connectors; and what is said of those that are wrong. */
#include "table.h"

static void quantity_problem(const hs_table *table, const char *key, const hs_error *error)
{
	hs_problem *problem = hs_table_problem(table, key, "%s: %s", hs_table_named(table, key), error->message);
	if (error->hint[0])
		hs_problem_hint(problem, "%s", error->hint);
}

/* The text of a quantity; a bare number is the commonest slip. */
static const char *quantity_text(const hs_table *table, const char *key, hs_unit like)
{
	if (hs_table_type(table, key) != LUA_TNUMBER)
		return hs_table_text(table, key);
	hs_problem *problem = hs_table_problem(table, key, "%s is a number without a unit", hs_table_named(table, key));
	hs_problem_hint(problem, "write it in quotes with its unit, as in \"1 %s\"", hs_unit_name(like));
	return NULL;
}

static bool read_quantity(const hs_table *table, const char *key, hs_unit like, hs_quantity *out)
{
	hs_error error = {0};
	const char *text = quantity_text(table, key, like);
	if (!text)
		return false;
	if (hs_quantity_read(text, HS_UNIT_COUNT, out, &error))
		return true;
	quantity_problem(table, key, &error);
	return false;
}

bool hs_table_quantity(const hs_table *table, const char *key, hs_unit like, hs_quantity *out)
{
	hs_quantity found;
	if (!read_quantity(table, key, like, &found))
		return false;
	if (hs_unit_dimension(found.unit) != hs_unit_dimension(like)) {
		hs_table_problem(table, key, "%s is \"%s\", and a %s was wanted", hs_table_named(table, key),
		                 hs_table_text(table, key), hs_dimension_name(hs_unit_dimension(like)));
		return false;
	}
	*out = found;
	return true;
}

bool hs_table_level(const hs_table *table, const char *key, hs_quantity *out)
{
	hs_quantity found;
	if (!read_quantity(table, key, HS_DBM, &found))
		return false;
	hs_dimension dimension = hs_unit_dimension(found.unit);
	if (dimension != HS_DIM_POWER && dimension != HS_DIM_VOLTAGE) {
		hs_table_problem(table, key, "%s is \"%s\", and a power or a voltage was wanted", hs_table_named(table, key),
		                 hs_table_text(table, key));
		return false;
	}
	*out = found;
	return true;
}

bool hs_table_in(const hs_table *table, const char *key, hs_unit unit, double *out)
{
	hs_error error = {0};
	hs_quantity found, same;
	if (!hs_table_quantity(table, key, unit, &found))
		return false;
	if (found.unit == unit)
		same = found;
	else if (!hs_quantity_convert(found, unit, 0, &same, &error)) {
		quantity_problem(table, key, &error);
		return false;
	}
	*out = same.value;
	return true;
}

bool hs_table_positive(const hs_table *table, const char *key, hs_unit unit, double *out)
{
	double value;
	if (!hs_table_in(table, key, unit, &value))
		return false;
	if (!(value > 0)) {
		hs_table_problem(table, key, "%s is \"%s\", and it must be above zero", hs_table_named(table, key),
		                 hs_table_text(table, key));
		return false;
	}
	*out = value;
	return true;
}

bool hs_table_percent(const hs_table *table, const char *key, double *fraction)
{
	double percent;
	if (!hs_table_in(table, key, HS_PERCENT, &percent))
		return false;
	if (!(percent >= 0)) {
		hs_table_problem(table, key, "%s is below zero", hs_table_named(table, key));
		return false;
	}
	*fraction = percent / 100;
	return true;
}

bool hs_table_limits(const hs_table *table, const char *key, hs_unit bare, hs_limits *out)
{
	hs_error error = {0};
	const char *text = quantity_text(table, key, bare);
	if (!text)
		return false;
	if (hs_limits_read(text, bare, out, &error))
		return true;
	quantity_problem(table, key, &error);
	return false;
}

bool hs_table_connector(const hs_table *table, const char *key, hs_connector *out)
{
	hs_error error = {0};
	const char *text = hs_table_text(table, key);
	if (text && !hs_connector_read(text, out, &error))
		quantity_problem(table, key, &error);
	return text && error.code == HS_FINE;
}

void hs_table_ends(const hs_table *table, const char *key, bool has[2], hs_connector ends[2])
{
	hs_table pair = hs_table_sub(table, key, false);
	if (pair.index == 0)
		return;
	size_t count = hs_table_length(&pair);
	hs_table_known(&pair, "a pair of ends", 2, NULL, 0);
	if (count != 2) {
		hs_problem *problem = hs_table_problem(table, key, "a lead has two ends, and %zu are named", count);
		hs_problem_hint(problem, "write the unit's end first: ends = { \"SMA male\", \"N male\" }");
	}
	for (size_t i = 0; count == 2 && i < 2; i++)
		has[i] = hs_table_connector(&pair, hs_key_at(&pair, i + 1), &ends[i]);
	hs_table_done(&pair);
}

bool hs_table_toleranced(const hs_table *table, const char *key, hs_unit bare, hs_quantity *nominal, double *tolerance)
{
	hs_error error = {0};
	const char *text = quantity_text(table, key, bare == HS_UNIT_COUNT ? HS_DB : bare);
	if (!text)
		return false;
	if (hs_toleranced_read(text, bare, nominal, tolerance, &error))
		return true;
	quantity_problem(table, key, &error);
	return false;
}
