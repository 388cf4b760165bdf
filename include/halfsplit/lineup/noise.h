/*
 * Noise: floors, resistors, levels close to the noise, and what an analyzer's detector does to noise.
 *
 * Temperatures in kelvin, bandwidths in Hz, levels in dBm. Every function returns true and fills its result, or returns
 * false, leaves it alone and fills *error (HS_BAD_INPUT). NaN and infinities are errors.
 *
 * Sources: k = 1.380649e-23 J/K exactly (SI, 2019); J. B. Johnson and H. Nyquist, Phys. Rev. 32 (1928); H. T. Friis
 * (1944); for detectors the mean of the logarithm and of the square root of an exponential distribution (10 gamma/ln 10
 * with Euler's constant; 10 log10(4/pi)), as in handbooks of spectrum analyzer noise measurements.
 */
#ifndef HALFSPLIT_LINEUP_NOISE_H
#define HALFSPLIT_LINEUP_NOISE_H

#include "halfsplit/base/error.h"

#define HS_BOLTZMANN 1.380649e-23 /* J/K */

/*
 * Noise power referred to the input, in dBm: 10 log10(k (T + 290 (F - 1)) B / 1 mW). T is the source's temperature, >=
 * 0; NF >= 0 dB; B > 0. At 290 K, 0 dB and 1 Hz: -173.975 dBm. T = 0 with NF = 0 is no noise at all: an error.
 */
bool hs_noise_floor(double source_kelvin, double nf_db, double bandwidth_hz, double *dbm, hs_error *error);

/* Open-circuit noise of a resistor, V rms: sqrt(4 k T R B). R >= 0, T >= 0, B > 0. 1 kohm at 290 K in 1 Hz: 4.0019 nV.
 */
bool hs_johnson_volts(double ohm, double kelvin, double bandwidth_hz, double *volt, hs_error *error);

/*
 * The signal in a reading of signal plus noise: S = 10 log10(10^(M/10) - 10^(N/10)), M and N read with one rms detector
 * and one bandwidth. M <= N is an error: there is no signal to be told. *correction_db (may be NULL) = S - M, not
 * positive.
 */
bool hs_signal_in_noise(double reading_dbm, double noise_dbm, double *signal_dbm, double *correction_db,
                        hs_error *error);

/* How the analyzer averages; peak and sample displays of noise have no fixed correction. */
typedef enum hs_detector {
	HS_DETECTOR_RMS,     /* power average: right as it stands */
	HS_DETECTOR_LOG,     /* average of the decibel trace: noise reads 2.5068 dB low */
	HS_DETECTOR_VOLTAGE, /* average of the envelope voltage: noise reads 1.0491 dB low */
	HS_DETECTOR_COUNT
} hs_detector;

const char *hs_detector_name(hs_detector detector); /* "rms" "log average" "voltage average" */
bool hs_detector_find(const char *name, hs_detector *out);

/* Decibels to add to a displayed noise level (never to a carrier). The bandwidth is another matter: see below. */
bool hs_detector_correction(hs_detector detector, double *db, hs_error *error);

/*
 * Equivalent noise bandwidth over 3 dB bandwidth, for a filter of `poles` equal poles (1: pi/2, 4: 1.1285, 5: 1.1138),
 * and of a Gaussian filter, the limit of many poles: sqrt(pi/(4 ln 2)) = 1.0645. poles 1 to 100; 0 means Gaussian.
 */
bool hs_noise_bandwidth_ratio(int poles, double *ratio, hs_error *error);

/*
 * Density of displayed noise: level + the detector's correction - 10 log10(rbw x ratio), in dBm/Hz. ratio as above, >
 * 0; a marker that already reads dBm/Hz has both corrections in it.
 */
bool hs_noise_density(double displayed_dbm, hs_detector detector, double rbw_hz, double ratio, double *dbm_per_hz,
                      hs_error *error);

#endif
