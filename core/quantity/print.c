#include "halfsplit/quantity/quantity.h"

#include <math.h>
#include <string.h>
#include "halfsplit/base/number.h"

enum { SMALLEST = -4, LARGEST = 4 };

/* By thousands: -4 is pico, 4 is tera. */
static const char *prefix_text(int thousands)
{
	static const char *const texts[] = { "p", "n", "u", "m", "", "k", "M", "G", "T" };
	return texts[thousands - SMALLEST];
}

/* Units whose usual form is two decimals, however small the value. */
static bool has_two_decimals(hs_unit unit)
{
	return hs_unit_is_level(unit) || unit == HS_DB || unit == HS_DEGC || unit == HS_PERCENT;
}

/* Nobody says kiloseconds, and torques are compared with a wrench marked in N m. */
static void prefix_range(hs_unit unit, int *smallest, int *largest)
{
	*smallest = SMALLEST;
	*largest = LARGEST;
	if (unit == HS_SECOND)
		*largest = 0;
	if (has_two_decimals(unit) || unit == HS_UNITLESS || unit == HS_SWR || unit == HS_NEWTON_METRE)
		*smallest = *largest = 0;
}

static void add_fixed(hs_buf *out, double value, int decimals, bool strip)
{
	hs_number_fixed(out, value, decimals);
	while (strip && decimals > 0 && out->data[out->length - 1] == '0') {
		out->data[--out->length] = '\0';
		decimals--;
	}
	if (strip && out->data[out->length - 1] == '.')
		out->data[--out->length] = '\0';
}

static double in_thousands(double value, int thousands)
{
	double power = pow(1000, thousands < 0 ? -thousands : thousands);
	return thousands < 0 ? value * power : value / power;
}

/* Decimals that make four significant digits; whole digits are never rounded away. */
static int usual_decimals(double value, hs_unit unit)
{
	double size = fabs(value);
	if (has_two_decimals(unit))
		return 2;
	int decimals = 3;
	for (double bound = 10; decimals > 0 && size >= bound; bound *= 10)
		decimals--;
	for (double bound = 1; decimals < 9 && size < bound && size > 0; bound /= 10)
		decimals++;
	return decimals;
}

static void print_prefixed(hs_buf *out, hs_quantity quantity, int decimals)
{
	int smallest, largest, thousands = 0;
	prefix_range(quantity.unit, &smallest, &largest);
	while (thousands > smallest && fabs(in_thousands(quantity.value, thousands)) < 1 && quantity.value != 0)
		thousands--;
	for (size_t begun = out->length;; thousands++) {
		double value = in_thousands(quantity.value, thousands), shown;
		add_fixed(out, value, decimals < 0 ? usual_decimals(value, quantity.unit) : decimals, decimals < 0);
		/* What rounding carried to 1000 takes the next prefix. */
		if (thousands >= largest || !hs_number_read(out->data + begun, &shown) || fabs(shown) < 1000)
			break;
		out->length = begun;
		out->data[begun] = '\0';
	}
	const char *name = hs_unit_name(quantity.unit);
	if (*name)
		hs_buf_char(out, ' ');
	hs_buf_str(out, prefix_text(thousands));
	hs_buf_str(out, name);
}

void hs_quantity_print(hs_buf *out, hs_quantity quantity, int decimals)
{
	int smallest, largest;
	double size = fabs(quantity.value);
	prefix_range(quantity.unit, &smallest, &largest);
	double least = has_two_decimals(quantity.unit) ? 0 : smallest < 0 ? 1e-15 : 1e-6;
	if (!isfinite(size) || size == 0 || (size >= least && size < 1e15)) {
		print_prefixed(out, quantity, decimals);
		return;
	}
	hs_number_print(out, quantity.value);
	if (*hs_unit_name(quantity.unit))
		hs_buf_char(out, ' ');
	hs_buf_str(out, hs_unit_name(quantity.unit));
}
