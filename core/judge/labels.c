/* Limits as labels: four digits, or as many as keep 145.0005 MHz and 145.0015 MHz apart. */
#include <math.h>
#include "halfsplit/base/number.h"
#include "halfsplit/base/text.h"
#include "labels.h"

#define DECIMALS_MOST 15

/* Prints `limit` again with more decimals, behind the same prefix as `shown`, until it is within `slack` of itself. */
static void print_finer(hs_buf *out, const char *shown, hs_quantity limit, double read_back, double slack)
{
	double number = 0;
	size_t used = 0;
	if (!hs_number_scan(shown, &number, &used, NULL))
		return;
	double scale = number != 0 && read_back != 0 ? pow(10, round(log10(fabs(read_back / number)))) : 1;
	hs_buf text;
	hs_buf_init(&text);
	for (int decimals = 0; decimals <= DECIMALS_MOST; decimals++) {
		double printed = 0;
		hs_buf_clear(&text);
		hs_number_fixed(&text, limit.value / scale, decimals);
		if (hs_number_read(text.data, &printed) && fabs(printed * scale - limit.value) <= slack)
			break;
	}
	hs_buf_str(out, text.data);
	hs_buf_str(out, shown + used);
	hs_buf_free(&text);
}

static void print_limit(hs_buf *out, hs_quantity limit, double interval, int prefix)
{
	hs_buf shown;
	hs_quantity back;
	double slack = 0.01 * interval;
	hs_buf_init(&shown);
	hs_quantity_print_in(&shown, limit, prefix);
	bool close = interval <= 0 || !hs_quantity_read(shown.data, limit.unit, &back, NULL) ||
	             fabs(back.value - limit.value) <= slack;
	if (close)
		hs_buf_str(out, shown.data);
	else
		print_finer(out, shown.data, limit, back.value, slack);
	hs_buf_free(&shown);
}

int hs_limits_prefix(const hs_limits *limits, double value)
{
	double low = limits->has_low ? fabs(limits->low) : 0, high = limits->has_high ? fabs(limits->high) : 0;
	double larger = low > high ? low : high;
	return hs_quantity_prefix((hs_quantity){larger > 0 ? larger : value, limits->unit});
}

void hs_limits_labels(const hs_limits *limits, hs_buf *low, hs_buf *high)
{
	double interval = limits->has_low && limits->has_high ? limits->high - limits->low : 0;
	int prefix = hs_limits_prefix(limits, 0);
	if (limits->has_low)
		print_limit(low, (hs_quantity){limits->low, limits->unit}, interval, prefix);
	if (limits->has_high)
		print_limit(high, (hs_quantity){limits->high, limits->unit}, interval, prefix);
}
