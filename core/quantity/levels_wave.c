/* Waveforms, their factors, and conversions that need one. */
#include <math.h>
#include "halfsplit/quantity/demand.h"
#include "halfsplit/quantity/level.h"

static const double pi = 3.14159265358979323846;

static const char *const names[HS_WAVE_COUNT] = {"sine", "square", "triangle", "noise", "pulse"};

const char *hs_wave_name(hs_wave wave)
{
	return names[wave];
}

bool hs_wave_find(const char *name, hs_wave *out)
{
	for (int i = 0; i < HS_WAVE_COUNT; i++) {
		if (hs_same_word(name, names[i])) {
			*out = (hs_wave)i;
			return true;
		}
	}
	return false;
}

static bool want_duty(double duty, hs_error *error)
{
	return hs_want_above("the duty of the pulse", duty, 0, HS_UNITLESS, error) &&
	       hs_want_between("the duty of the pulse", duty, 0, 1, HS_UNITLESS, error);
}

bool hs_crest_factor(hs_waveform wave, double *crest, hs_error *error)
{
	switch (wave.shape) {
	case HS_SINE:
		return hs_give("the crest factor", sqrt(2), crest, error);
	case HS_SQUARE:
		return hs_give("the crest factor", 1, crest, error);
	case HS_TRIANGLE:
		return hs_give("the crest factor", sqrt(3), crest, error);
	case HS_PULSE:
		return want_duty(wave.duty, error) && hs_give("the crest factor", 1 / sqrt(wave.duty), crest, error);
	case HS_NOISE:
		if (wave.sigmas == 0) {
			hs_fail(error, HS_BAD_INPUT, "Gaussian noise has no peak of its own");
			return hs_fail_hint(error,
			                    "say how many standard deviations count as its peak, such as 3 or 4");
		}
		return hs_want_above("the peak of the noise in standard deviations", wave.sigmas, 0, HS_UNITLESS,
		                     error) &&
		       hs_give("the crest factor", wave.sigmas, crest, error);
	case HS_WAVE_COUNT:
		break;
	}
	return hs_fail(error, HS_BAD_INPUT, "the waveform is none of sine, square, triangle, noise, pulse");
}

bool hs_crest_db(hs_waveform wave, double *db, hs_error *error)
{
	double crest;
	return hs_crest_factor(wave, &crest, error) && hs_give("the crest factor", 20 * log10(crest), db, error);
}

bool hs_form_factor(hs_waveform wave, double *form, hs_error *error)
{
	switch (wave.shape) {
	case HS_SINE:
		return hs_give("the form factor", pi / sqrt(8), form, error);
	case HS_SQUARE:
		return hs_give("the form factor", 1, form, error);
	case HS_TRIANGLE:
		return hs_give("the form factor", 2 / sqrt(3), form, error);
	case HS_NOISE:
		return hs_give("the form factor", sqrt(pi / 2), form, error);
	case HS_PULSE:
		return want_duty(wave.duty, error) && hs_give("the form factor", 1 / sqrt(wave.duty), form, error);
	case HS_WAVE_COUNT:
		break;
	}
	return hs_fail(error, HS_BAD_INPUT, "the waveform is none of sine, square, triangle, noise, pulse");
}

static bool is_peak(hs_unit unit)
{
	return unit == HS_VPK || unit == HS_VPP;
}

/* Peak or peak-to-peak volts in one rms volt of the waveform. */
static bool peak_factor(hs_unit unit, hs_waveform wave, double *factor, hs_error *error)
{
	if (!hs_crest_factor(wave, factor, error))
		return false;
	if (unit == HS_VPP && wave.shape != HS_PULSE)
		*factor *= 2;
	return true;
}

bool hs_level_convert(hs_quantity from, hs_unit to, hs_level_terms terms, hs_quantity *out, hs_error *error)
{
	double into = 1, out_of = 1;
	hs_quantity made;
	if (!hs_want_level("the level", from, error))
		return false;
	if (from.unit == to) {
		*out = from;
		return true;
	}
	if (is_peak(from.unit) && !peak_factor(from.unit, terms.wave, &out_of, error))
		return false;
	if (is_peak(to) && !peak_factor(to, terms.wave, &into, error))
		return false;
	if (is_peak(from.unit))
		from = (hs_quantity){from.value / out_of, HS_VOLT};
	if (!hs_quantity_convert(from, is_peak(to) ? HS_VOLT : to, terms.impedance_ohm, &made, error))
		return false;
	if (!hs_give("the converted level", made.value * into, &made.value, error))
		return false;
	*out = (hs_quantity){made.value, to};
	return true;
}

bool hs_pulse_power(hs_quantity average, double duty, hs_quantity *out, hs_error *error)
{
	return hs_want_dimension("the average power", average, HS_DIM_POWER, error) && want_duty(duty, error) &&
	       hs_level_shift(average, -10 * log10(duty), out, error);
}
