/* What a mixer makes of frequencies: conversions, images, harmonics, spurs. */
#include <math.h>
#include <stdlib.h>
#include "halfsplit/lineup/cascade.h"
#include "halfsplit/quantity/demand.h"

static bool want_freq(const char *what, double freq_hz, hs_error *error)
{
	return hs_want_above(what, freq_hz, 0, HS_HERTZ, error);
}

bool hs_mix(double rf_hz, double lo_hz, bool sum, hs_conversion *out, hs_error *error)
{
	if (!want_freq("the signal", rf_hz, error) || !want_freq("the oscillator", lo_hz, error))
		return false;
	hs_conversion made = {.high_side = lo_hz > rf_hz};
	if (!sum && rf_hz == lo_hz)
		return hs_fail(error, HS_BAD_INPUT, "signal and oscillator are both at %s Hz and leave no difference",
		               hs_brief_of(rf_hz).text);
	made.if_hz = sum ? rf_hz + lo_hz : fabs(rf_hz - lo_hz);
	made.inverted = !sum && made.high_side;
	/* The same difference on the other side of the oscillator; below 0 it is a sum product. */
	made.image_hz = sum ? rf_hz + 2 * lo_hz : fabs(2 * lo_hz - rf_hz);
	if (!hs_want_finite("the converted frequency", made.if_hz + made.image_hz, error))
		return false;
	*out = made;
	return true;
}

bool hs_oscillator_for(double rf_hz, double if_hz, bool high_side, double *lo_hz, hs_error *error)
{
	if (!want_freq("the signal", rf_hz, error) || !want_freq("the intermediate frequency", if_hz, error))
		return false;
	if (!high_side && if_hz >= rf_hz) {
		hs_fail(error, HS_BAD_INPUT, "an intermediate frequency of %s Hz is not below the signal at %s Hz",
		        hs_brief_of(if_hz).text, hs_brief_of(rf_hz).text);
		return hs_fail_hint(error, "a low-side oscillator would be below 0 Hz: put it on the high side");
	}
	return hs_give("the oscillator", high_side ? rf_hz + if_hz : rf_hz - if_hz, lo_hz, error);
}

bool hs_harmonic(double freq_hz, int n, double *harmonic_hz, hs_error *error)
{
	return want_freq("the frequency", freq_hz, error) &&
	       hs_want_at_least("the number of the harmonic", n, 1, HS_UNITLESS, error) &&
	       hs_give("the harmonic", n * freq_hz, harmonic_hz, error);
}

static bool want_band(double from_hz, double to_hz, hs_error *error)
{
	return hs_want_at_least("the lower end of the band", from_hz, 0, HS_HERTZ, error) &&
	       hs_want_at_least("the upper end of the band", to_hz, from_hz, HS_HERTZ, error);
}

bool hs_harmonics_within(double freq_hz, double from_hz, double to_hz, int *first, int *last, hs_error *error)
{
	if (!want_freq("the frequency", freq_hz, error) || !want_band(from_hz, to_hz, error))
		return false;
	/* A harmonic on the very edge counts in, whatever the last bit of the division says. */
	double low = ceil(from_hz / freq_hz * (1 - 1e-12)), high = floor(to_hz / freq_hz * (1 + 1e-12));
	if (!hs_want_between("the highest harmonic", high, 0, 1e9, HS_UNITLESS, error))
		return false;
	*first = low < 1 ? 1 : (int)low;
	*last = (int)high;
	return true;
}

static int by_order(const void *a, const void *b)
{
	const hs_spur *x = a, *y = b;
	if (x->order != y->order)
		return x->order < y->order ? -1 : 1;
	if (x->freq_hz != y->freq_hz)
		return x->freq_hz < y->freq_hz ? -1 : 1;
	return (x->m > y->m) - (x->m < y->m);
}

typedef struct spur_list {
	hs_spur *spurs;
	size_t room, count;
	double from_hz, to_hz;
} spur_list;

static void add_spur(spur_list *list, int m, int n, double freq_hz)
{
	hs_spur spur = {.m = m, .n = n, .order = m + abs(n), .freq_hz = freq_hz};
	spur.in_band = freq_hz >= list->from_hz * (1 - 1e-12) && freq_hz <= list->to_hz * (1 + 1e-12);
	spur.wanted = m == 1 && abs(n) == 1;
	if (list->count < list->room)
		list->spurs[list->count] = spur;
	list->count++;
}

static bool want_order(int max_order, hs_error *error)
{
	return hs_want_between("the highest order", max_order, 1, HS_SPUR_ORDER_MOST, HS_UNITLESS, error);
}

static void sort_spurs(const spur_list *list, size_t *count)
{
	size_t held = list->count < list->room ? list->count : list->room;
	if (held > 1)
		qsort(list->spurs, held, sizeof(*list->spurs), by_order);
	*count = list->count;
}

bool hs_spur_table(double rf_hz, double lo_hz, int max_order, double from_hz, double to_hz, hs_spur *spurs, size_t room,
                   size_t *count, hs_error *error)
{
	spur_list list = {.spurs = spurs, .room = room, .from_hz = from_hz, .to_hz = to_hz};
	if (!want_freq("the signal", rf_hz, error) || !want_freq("the oscillator", lo_hz, error) ||
	    !want_order(max_order, error) || !want_band(from_hz, to_hz, error) ||
	    !hs_want_finite("the highest product", max_order * (rf_hz + lo_hz), error))
		return false;
	for (int order = 1; order <= max_order; order++) {
		for (int m = 0; m <= order; m++) {
			int n = order - m;
			add_spur(&list, m, n, m * rf_hz + n * lo_hz);
			/* With one of them 0 the other sign is the same frequency. */
			if (m > 0 && n > 0)
				add_spur(&list, m, -n, fabs(m * rf_hz - n * lo_hz));
		}
	}
	sort_spurs(&list, count);
	return true;
}

bool hs_spur_inputs(double lo_hz, double if_hz, int max_order, double from_hz, double to_hz, hs_spur *spurs,
                    size_t room, size_t *count, hs_error *error)
{
	spur_list list = {.spurs = spurs, .room = room, .from_hz = from_hz, .to_hz = to_hz};
	if (!want_freq("the oscillator", lo_hz, error) || !want_freq("the intermediate frequency", if_hz, error) ||
	    !want_order(max_order, error) || !want_band(from_hz, to_hz, error) ||
	    !hs_want_finite("the highest product", max_order * (if_hz + lo_hz), error))
		return false;
	for (int order = 1; order <= max_order; order++) {
		for (int m = 1; m <= order; m++) {
			int n = order - m;
			double above = (n * lo_hz + if_hz) / m, below = fabs(n * lo_hz - if_hz) / m;
			/* m f - n lo = if, and m f - n lo = -if (or m f + n lo = if when n lo lies below the IF). */
			if (n == 0) {
				add_spur(&list, m, 0, above);
				continue;
			}
			add_spur(&list, m, -n, above);
			if (below > 0)
				add_spur(&list, m, n * lo_hz > if_hz ? -n : n, below);
		}
	}
	sort_spurs(&list, count);
	return true;
}
