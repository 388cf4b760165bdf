/* Loading, probes, waves and leads: what an instrument does to what it measures. */
#include <complex.h>
#include <math.h>
#include "halfsplit/lineup/instrument_errors.h"
#include "halfsplit/quantity/demand.h"

#define PI     3.14159265358979323846
#define DEGREE 0.017453292519943295769

static bool want_ohm(const char *what, double ohm, hs_error *error)
{
	return hs_want_at_least(what, ohm, 0, HS_OHM, error);
}

static bool want_pair(const char *what_a, double a, const char *what_b, double b, hs_error *error)
{
	if (!want_ohm(what_a, a, error) || !want_ohm(what_b, b, error))
		return false;
	return a > 0 || b > 0 || hs_fail(error, HS_BAD_INPUT, "%s and %s are both 0 ohm", what_a, what_b);
}

bool hs_loading_percent(double source_ohm, double meter_ohm, double *percent, hs_error *error)
{
	return want_ohm("the source resistance", source_ohm, error) &&
	       hs_want_above("the meter's resistance", meter_ohm, 0, HS_OHM, error) &&
	       hs_give("the loading", 0.0 - 100 * (source_ohm / (source_ohm + meter_ohm)), percent, error);
}

bool hs_unloaded(double reading, double source_ohm, double meter_ohm, double *open, hs_error *error)
{
	return hs_want_finite("the reading", reading, error) && want_ohm("the source resistance", source_ohm, error) &&
	       hs_want_above("the meter's resistance", meter_ohm, 0, HS_OHM, error) &&
	       hs_give("the unloaded value", reading * (1 + source_ohm / meter_ohm), open, error);
}

bool hs_burden_percent(double loop_ohm, double burden_ohm, double *percent, hs_error *error)
{
	return hs_want_above("the resistance of the loop", loop_ohm, 0, HS_OHM, error) &&
	       want_ohm("the burden", burden_ohm, error) &&
	       hs_give("the burden", 0.0 - 100 * (burden_ohm / (loop_ohm + burden_ohm)), percent, error);
}

bool hs_divider_source(double high_ohm, double low_ohm, double *ohm, hs_error *error)
{
	if (!want_pair("the upper resistor", high_ohm, "the lower resistor", low_ohm, error))
		return false;
	double larger = fmax(high_ohm, low_ohm), smaller = fmin(high_ohm, low_ohm);
	return hs_give("the source resistance", smaller / (1 + smaller / larger), ohm, error);
}

bool hs_divider_ratio(double high_ohm, double low_ohm, double *ratio, hs_error *error)
{
	return want_pair("the upper resistor", high_ohm, "the lower resistor", low_ohm, error) &&
	       hs_give("the ratio", low_ohm / (high_ohm + low_ohm), ratio, error);
}

bool hs_probe_loads(hs_probe probe, double source_ohm, double freq_hz, hs_probe_load *out, hs_error *error)
{
	if (!hs_want_above("the probe's resistance", probe.ohm, 0, HS_OHM, error) ||
	    !hs_want_at_least("the probe's capacitance", probe.farad, 0, HS_FARAD, error) ||
	    !want_ohm("the source resistance", source_ohm, error) ||
	    !hs_want_at_least("the frequency", freq_hz, 0, HS_HERTZ, error))
		return false;
	hs_probe_load made = {0};
	double siemens = 2 * PI * freq_hz * probe.farad, parallel;
	if (!hs_want_finite("the probe's susceptance", siemens * source_ohm, error) ||
	    !hs_divider_source(probe.ohm, source_ohm, &parallel, error))
		return false;
	/* Admittances: a probe without capacitance, or at 0 Hz, then needs no case of its own. */
	double complex y = CMPLX(1 / probe.ohm, siemens), ratio = 1 / (1 + y * source_ohm);
	made.magnitude_ohm = 1 / cabs(y);
	made.reactance_ohm = siemens > 0 ? 1 / siemens : 0;
	made.capacitance_rules = siemens > 1 / probe.ohm;
	made.percent = 100 * (cabs(ratio) - 1);
	made.degrees = carg(ratio) / DEGREE + 0.0;
	made.corner_hz = probe.farad > 0 && parallel > 0 ? 1 / (2 * PI * probe.farad * parallel) : 0;
	if (!hs_give("the probe's impedance", made.magnitude_ohm, &made.magnitude_ohm, error) ||
	    !hs_give("the probe's reactance", made.reactance_ohm, &made.reactance_ohm, error) ||
	    !hs_give("the probe's corner frequency", made.corner_hz, &made.corner_hz, error))
		return false;
	*out = made;
	return true;
}

bool hs_average_responding_percent(hs_waveform wave, double *percent, hs_error *error)
{
	double form, sine;
	return hs_form_factor(wave, &form, error) && hs_form_factor((hs_waveform){0}, &sine, error) &&
	       hs_give("the error", 100 * (sine / form - 1), percent, error);
}

bool hs_true_rms(double reading, hs_waveform wave, double *rms, hs_error *error)
{
	double percent;
	return hs_want_at_least("the reading", reading, 0, HS_UNITLESS, error) &&
	       hs_average_responding_percent(wave, &percent, error) &&
	       hs_give("the true rms", reading / (1 + percent / 100), rms, error);
}

bool hs_peak_responding_percent(hs_waveform wave, double *percent, hs_error *error)
{
	double crest;
	return hs_crest_factor(wave, &crest, error) &&
	       hs_give("the error", 100 * (crest / sqrt(2) - 1), percent, error);
}

bool hs_crest_fits(hs_waveform wave, double reading_rms, double full_scale_rms, double crest_limit, hs_error *error)
{
	double crest;
	if (!hs_crest_factor(wave, &crest, error) ||
	    !hs_want_above("the reading", reading_rms, 0, HS_UNITLESS, error) ||
	    !hs_want_at_least("the full scale", full_scale_rms, reading_rms, HS_UNITLESS, error) ||
	    !hs_want_at_least("the meter's crest factor", crest_limit, 1, HS_UNITLESS, error))
		return false;
	double fits = crest_limit * full_scale_rms / reading_rms;
	if (crest <= fits * (1 + 1e-12))
		return true;
	hs_fail(error, HS_BAD_INPUT, "the wave's crest factor of %s is above the %s that fit at this reading",
	        hs_brief_of(crest).text, hs_brief_of(fits).text);
	return hs_fail_hint(error, "choose a higher range: its peaks are cut, and the reading is low");
}

bool hs_resolution_standard(double step, double *standard, hs_error *error)
{
	return hs_want_at_least("the step of the last digit", step, 0, HS_UNITLESS, error) &&
	       hs_give("the uncertainty", step / sqrt(12), standard, error);
}

bool hs_meter_half_width(double reading, double percent, double counts, double step, double *half_width,
                         hs_error *error)
{
	return hs_want_finite("the reading", reading, error) &&
	       hs_want_at_least("the percentage", percent, 0, HS_PERCENT, error) &&
	       hs_want_at_least("the number of digits", counts, 0, HS_UNITLESS, error) &&
	       hs_want_at_least("the step of the last digit", step, 0, HS_UNITLESS, error) &&
	       hs_give("the half-width", fabs(reading) * percent / 100 + counts * step, half_width, error);
}

bool hs_two_wire(double reading_ohm, double lead_ohm, double lead_u_ohm, double *ohm, double *half_width,
                 hs_error *error)
{
	if (!want_ohm("the reading", reading_ohm, error) || !want_ohm("the resistance of the leads", lead_ohm, error) ||
	    !want_ohm("the doubt in the leads", lead_u_ohm, error))
		return false;
	double rest = reading_ohm - lead_ohm, rounding = 1e-12 * lead_ohm;
	if (rest < -lead_u_ohm - rounding) {
		hs_fail(error, HS_BAD_INPUT,
		        "a reading of %s ohm is below the leads' %s ohm by more than their doubt of %s ohm",
		        hs_brief_of(reading_ohm).text, hs_brief_of(lead_ohm).text, hs_brief_of(lead_u_ohm).text);
		return hs_fail_hint(error, "short the leads again and read them anew");
	}
	*ohm = rest > 0 ? rest : 0;
	if (half_width)
		*half_width = lead_u_ohm;
	return true;
}

bool hs_two_wire_decides(double nominal_ohm, double tolerance_percent, double lead_u_ohm, hs_error *error)
{
	if (!hs_want_above("the nominal resistance", nominal_ohm, 0, HS_OHM, error) ||
	    !hs_want_above("the tolerance", tolerance_percent, 0, HS_PERCENT, error) ||
	    !want_ohm("the doubt in the leads", lead_u_ohm, error))
		return false;
	double band = nominal_ohm * tolerance_percent / 100;
	if (lead_u_ohm < band)
		return true;
	hs_fail(
	    error, HS_BAD_INPUT,
	    "%s ohm +- %s %% cannot be decided on two wires: the leads are in doubt by %s ohm, the tolerance is %s ohm",
	    hs_brief_of(nominal_ohm).text, hs_brief_of(tolerance_percent).text, hs_brief_of(lead_u_ohm).text,
	    hs_brief_of(band).text);
	return hs_fail_hint(error, "measure with four wires");
}
