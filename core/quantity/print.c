#include "halfsplit/quantity/quantity.h"

#include <math.h>
#include <string.h>
#include "halfsplit/base/number.h"

enum { SMALLEST = -4, LARGEST = 4 };

/* Beyond these a shared prefix leaves more zeros to count than it saves reading. */
#define SHARED_LEAST 1e-4
#define SHARED_MOST  1e4

/* By thousands: -4 is pico, 4 is tera. */
static const char *prefix_text(int thousands)
{
	static const char *const texts[] = {"p", "n", "u", "m", "", "k", "M", "G", "T"};
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

static void print_behind(hs_buf *out, hs_quantity quantity, int thousands, int decimals)
{
	double value = in_thousands(quantity.value, thousands);
	add_fixed(out, value, decimals < 0 ? usual_decimals(value, quantity.unit) : decimals, decimals < 0);
	const char *name = hs_unit_name(quantity.unit);
	if (*name)
		hs_buf_char(out, ' ');
	hs_buf_str(out, prefix_text(thousands));
	hs_buf_str(out, name);
}

/* What the figure reads as behind this prefix, rounding included; 0 when it is no number. */
static double shown_behind(hs_quantity quantity, int thousands, int decimals)
{
	hs_buf text;
	hs_buf_init(&text);
	double value = in_thousands(quantity.value, thousands), shown = 0;
	add_fixed(&text, value, decimals < 0 ? usual_decimals(value, quantity.unit) : decimals, false);
	bool reads = hs_number_read(text.data, &shown);
	hs_buf_free(&text);
	return reads ? fabs(shown) : 0;
}

/*
 * 0.54 V stays 0.54 V, as it was typed and as the limits beside it are. Where the caller fixed the decimals it would
 * lose digits, so it takes its prefix there.
 */
static int natural_prefix(hs_quantity quantity, int decimals)
{
	int smallest, largest, thousands = 0;
	prefix_range(quantity.unit, &smallest, &largest);
	while (thousands > smallest && fabs(in_thousands(quantity.value, thousands)) < 1 && quantity.value != 0)
		thousands--;
	/* What rounding carried to 1000 takes the next prefix. */
	for (; thousands < largest; thousands++) {
		double bound = thousands == -1 && decimals < 0 ? 100 : 1000;
		if (shown_behind(quantity, thousands, decimals) < bound)
			break;
	}
	return thousands;
}

/* True when a figure without exponent says it. */
static bool is_everyday(hs_quantity quantity)
{
	int smallest, largest;
	double size = fabs(quantity.value);
	prefix_range(quantity.unit, &smallest, &largest);
	double least = has_two_decimals(quantity.unit) ? 0 : smallest < 0 ? 1e-15 : 1e-6;
	return !isfinite(size) || size == 0 || (size >= least && size < 1e15);
}

void hs_quantity_print(hs_buf *out, hs_quantity quantity, int decimals)
{
	if (is_everyday(quantity)) {
		print_behind(out, quantity, natural_prefix(quantity, decimals), decimals);
		return;
	}
	hs_number_print(out, quantity.value);
	if (*hs_unit_name(quantity.unit))
		hs_buf_char(out, ' ');
	hs_buf_str(out, hs_unit_name(quantity.unit));
}

int hs_quantity_prefix(hs_quantity quantity)
{
	return is_everyday(quantity) ? natural_prefix(quantity, -1) : 0;
}

void hs_quantity_print_in(hs_buf *out, hs_quantity quantity, int prefix)
{
	int smallest, largest;
	prefix_range(quantity.unit, &smallest, &largest);
	prefix = prefix < smallest ? smallest : prefix > largest ? largest : prefix;
	double size = fabs(in_thousands(quantity.value, prefix));
	if (is_everyday(quantity) && (size == 0 || (size >= SHARED_LEAST && size < SHARED_MOST)))
		print_behind(out, quantity, prefix, -1);
	else
		hs_quantity_print(out, quantity, -1);
}
