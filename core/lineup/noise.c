/* Noise floors, resistors, and levels close to the noise. */
#include <math.h>
#include "halfsplit/lineup/cascade.h"
#include "halfsplit/lineup/noise.h"
#include "halfsplit/quantity/demand.h"

#define LN10        2.302585092994045684
#define EULER_GAMMA 0.57721566490153286061
#define PI          3.14159265358979323846

static bool want_kelvin(double kelvin, hs_error *error)
{
	return hs_want_at_least("the temperature in kelvin", kelvin, 0, HS_UNITLESS, error);
}

bool hs_noise_floor(double source_kelvin, double nf_db, double bandwidth_hz, double *dbm, hs_error *error)
{
	double added;
	if (!want_kelvin(source_kelvin, error) || !hs_temperature_of_nf(nf_db, &added, error) ||
	    !hs_want_above("the bandwidth", bandwidth_hz, 0, HS_HERTZ, error))
		return false;
	double kelvin = source_kelvin + added;
	if (kelvin == 0)
		return hs_fail(error, HS_BAD_INPUT,
		               "at 0 K and a noise figure of 0 dB there is no noise, which has no level");
	return hs_give("the noise floor",
	               10 * log10(HS_BOLTZMANN * 1000) + 10 * log10(kelvin) + 10 * log10(bandwidth_hz), dbm, error);
}

bool hs_johnson_volts(double ohm, double kelvin, double bandwidth_hz, double *volt, hs_error *error)
{
	return hs_want_at_least("the resistance", ohm, 0, HS_OHM, error) && want_kelvin(kelvin, error) &&
	       hs_want_above("the bandwidth", bandwidth_hz, 0, HS_HERTZ, error) &&
	       hs_give("the noise voltage", sqrt(4 * HS_BOLTZMANN * kelvin) * sqrt(ohm) * sqrt(bandwidth_hz), volt,
	               error);
}

bool hs_signal_in_noise(double reading_dbm, double noise_dbm, double *signal_dbm, double *correction_db,
                        hs_error *error)
{
	if (!hs_want_finite("the reading", reading_dbm, error) || !hs_want_finite("the noise", noise_dbm, error))
		return false;
	if (reading_dbm <= noise_dbm) {
		hs_fail(error, HS_BAD_INPUT,
		        "a reading of %s dBm is not above the noise of %s dBm, so no signal can be told",
		        hs_brief_of(reading_dbm).text, hs_brief_of(noise_dbm).text);
		return hs_fail_hint(error, "narrow the bandwidth, or state \"nothing above the noise\"");
	}
	double correction = 10 * log10(-expm1(-(reading_dbm - noise_dbm) * LN10 / 10));
	if (!hs_give("the signal", reading_dbm + correction, signal_dbm, error))
		return false;
	if (correction_db)
		*correction_db = correction;
	return true;
}

static const char *const names[HS_DETECTOR_COUNT] = {"rms", "log average", "voltage average"};

const char *hs_detector_name(hs_detector detector)
{
	return names[detector];
}

bool hs_detector_find(const char *name, hs_detector *out)
{
	for (int i = 0; i < HS_DETECTOR_COUNT; i++) {
		if (hs_same_word(name, names[i])) {
			*out = (hs_detector)i;
			return true;
		}
	}
	return false;
}

bool hs_detector_correction(hs_detector detector, double *db, hs_error *error)
{
	switch (detector) {
	case HS_DETECTOR_RMS:
		return hs_give("the correction", 0, db, error);
	case HS_DETECTOR_LOG:
		return hs_give("the correction", 10 * EULER_GAMMA / LN10, db, error);
	case HS_DETECTOR_VOLTAGE:
		return hs_give("the correction", 10 * log10(4 / PI), db, error);
	case HS_DETECTOR_COUNT:
		break;
	}
	hs_fail(error, HS_BAD_INPUT, "the detector is none of rms, log average, voltage average");
	return hs_fail_hint(error, "a peak or sample display of noise has no fixed correction: average it");
}

bool hs_noise_bandwidth_ratio(int poles, double *ratio, hs_error *error)
{
	if (!hs_want_between("the number of poles", poles, 0, 100, HS_UNITLESS, error))
		return false;
	if (poles == 0)
		return hs_give("the ratio", sqrt(PI / (4 * log(2))), ratio, error);
	/* Integral of (1 + x^2)^-n over the width at half power, 2 sqrt(2^(1/n) - 1). */
	double area = sqrt(PI) * tgamma(poles - 0.5) / tgamma(poles);
	return hs_give("the ratio", area / (2 * sqrt(expm1(log(2) / poles))), ratio, error);
}

bool hs_noise_density(double displayed_dbm, hs_detector detector, double rbw_hz, double ratio, double *dbm_per_hz,
                      hs_error *error)
{
	double db;
	return hs_want_finite("the displayed level", displayed_dbm, error) &&
	       hs_want_above("the resolution bandwidth", rbw_hz, 0, HS_HERTZ, error) &&
	       hs_want_above("the ratio of bandwidths", ratio, 0, HS_UNITLESS, error) &&
	       hs_detector_correction(detector, &db, error) &&
	       hs_give("the density", displayed_dbm + db - 10 * log10(rbw_hz * ratio), dbm_per_hz, error);
}
