/* The sentences of a refused argument. */
#include "halfsplit/quantity/demand.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include "halfsplit/base/number.h"

hs_brief hs_brief_of(double value)
{
	hs_brief brief;
	hs_buf text;
	if (!isfinite(value)) {
		hs_copy(brief.text, sizeof(brief.text),
		        isnan(value) ? "not a number"
		        : value > 0  ? "infinite"
		                     : "-infinite");
		return brief;
	}
	/* Rounded by printf and read back under the same locale, then printed without one. */
	snprintf(brief.text, sizeof(brief.text), "%.5e", value);
	hs_buf_init(&text);
	hs_number_print(&text, strtod(brief.text, NULL));
	hs_copy(brief.text, sizeof(brief.text), text.data);
	hs_buf_free(&text);
	return brief;
}

static const char *spaced(hs_unit unit, char room[16])
{
	const char *name = hs_unit_name(unit);
	snprintf(room, 16, "%s%s", *name ? " " : "", name);
	return room;
}

bool hs_want_finite(const char *what, double value, hs_error *error)
{
	return isfinite(value) ||
	       hs_fail(error, HS_BAD_INPUT, "%s is %s; a finite number is wanted", what, hs_brief_of(value).text);
}

bool hs_want_above(const char *what, double value, double bound, hs_unit unit, hs_error *error)
{
	char name[16];
	if (!hs_want_finite(what, value, error))
		return false;
	spaced(unit, name);
	return value > bound || hs_fail(error, HS_BAD_INPUT, "%s is %s%s; it must be above %s%s", what,
	                                hs_brief_of(value).text, name, hs_brief_of(bound).text, name);
}

bool hs_want_at_least(const char *what, double value, double bound, hs_unit unit, hs_error *error)
{
	char name[16];
	if (!hs_want_finite(what, value, error))
		return false;
	spaced(unit, name);
	return value >= bound || hs_fail(error, HS_BAD_INPUT, "%s is %s%s; it must be at least %s%s", what,
	                                 hs_brief_of(value).text, name, hs_brief_of(bound).text, name);
}

bool hs_want_between(const char *what, double value, double low, double high, hs_unit unit, hs_error *error)
{
	char name[16];
	if (!hs_want_finite(what, value, error))
		return false;
	spaced(unit, name);
	return (value >= low && value <= high) ||
	       hs_fail(error, HS_BAD_INPUT, "%s is %s%s; it must lie between %s and %s%s", what,
	               hs_brief_of(value).text, name, hs_brief_of(low).text, hs_brief_of(high).text, name);
}

bool hs_want_dimension(const char *what, hs_quantity quantity, hs_dimension dimension, hs_error *error)
{
	hs_dimension found = hs_unit_dimension(quantity.unit);
	if (found == dimension)
		return hs_want_finite(what, quantity.value, error);
	return hs_fail(error, HS_BAD_INPUT, "%s is given in \"%s\" (%s); a %s is wanted", what,
	               hs_unit_name(quantity.unit), hs_dimension_name(found), hs_dimension_name(dimension));
}

bool hs_want_level(const char *what, hs_quantity quantity, hs_error *error)
{
	hs_dimension found = hs_unit_dimension(quantity.unit);
	if (found == HS_DIM_POWER || found == HS_DIM_VOLTAGE)
		return hs_want_finite(what, quantity.value, error);
	return hs_fail(error, HS_BAD_INPUT, "%s is given in \"%s\" (%s); a power or a voltage is wanted", what,
	               hs_unit_name(quantity.unit), hs_dimension_name(found));
}

bool hs_give(const char *what, double value, double *out, hs_error *error)
{
	if (!isfinite(value))
		return hs_fail(error, HS_BAD_INPUT, "%s lies outside the range of numbers", what);
	*out = value;
	return true;
}
