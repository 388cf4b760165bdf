/*
 * Levels: powers and voltages in every unit, their crest factors, sums, means, and ratios to a carrier or a bandwidth.
 *
 * Decibels stay decibels wherever they can, so that +-4000 dBm neither overflow nor vanish. Every function returns true
 * and fills its result, or returns false, leaves the result alone and fills *error (HS_BAD_INPUT). Common to all: NaN
 * and infinite arguments, a unit that is neither power nor voltage, and a missing impedance between power and voltage
 * are errors; an impedance of 0 means "not given" and is never taken as 50 ohm; 0 W and 0 V have no level in decibels.
 *
 * Sources: IEC 60027-3 (logarithmic quantities), IEC 60469 (pulse duty), ITU-R V.574 (decibel units).
 */
#ifndef HALFSPLIT_QUANTITY_LEVEL_H
#define HALFSPLIT_QUANTITY_LEVEL_H

#include "halfsplit/quantity/quantity.h"

typedef enum hs_wave { HS_SINE, HS_SQUARE, HS_TRIANGLE, HS_NOISE, HS_PULSE, HS_WAVE_COUNT } hs_wave;

/* All zero is a sine. */
typedef struct hs_waveform {
	hs_wave shape;
	double duty; /* HS_PULSE: share of the period the pulse is on, above 0, at most 1; the pulse goes from 0 to its
	                peak */
	double sigmas; /* HS_NOISE: what counts as its peak, in standard deviations; Gaussian noise has no peak of its
	                  own */
} hs_waveform;

const char *hs_wave_name(hs_wave wave); /* "sine" "square" "triangle" "noise" "pulse" */
bool hs_wave_find(const char *name, hs_wave *out);

/*
 * Peak over rms: sine sqrt 2, square 1, triangle and sawtooth sqrt 3, pulse 1/sqrt(duty), noise as many as `sigmas`.
 * Errors: duty outside (0, 1]; noise without sigmas.
 */
bool hs_crest_factor(hs_waveform wave, double *crest, hs_error *error);
bool hs_crest_db(hs_waveform wave, double *db, hs_error *error); /* 20 log10 of it: 3.0103 dB for a sine */

/*
 * Rms over the mean of the rectified wave: sine pi/sqrt 8 = 1.1107, square 1, triangle 2/sqrt 3, noise sqrt(pi/2),
 * pulse 1/sqrt(duty). It is what an average-responding meter is wrong about.
 */
bool hs_form_factor(hs_waveform wave, double *form, hs_error *error);

/* What a conversion needs beside the value. All zero: no impedance, a sine. */
typedef struct hs_level_terms {
	double impedance_ohm; /* 0: not given; needed between power and voltage only */
	hs_waveform wave;     /* needed for Vpk and Vpp only */
} hs_level_terms;

/*
 * Any power or voltage unit into any other. dBuV = dBm + 90 + 10 log10(Z): 106.9897 in 50 ohm, 108.7506 in 75 ohm;
 * 0 dBu = sqrt(0.6) V. Vpk = crest x Vrms; Vpp = 2 Vpk, but Vpk for a pulse, which starts at 0.
 */
bool hs_level_convert(hs_quantity from, hs_unit to, hs_level_terms terms, hs_quantity *out, hs_error *error);

/* Average power of a pulsed carrier -> power while it is on (/ duty), in the unit given. duty above 0, at most 1. */
bool hs_pulse_power(hs_quantity average, double duty, hs_quantity *out, hs_error *error);

/*
 * A source's EMF (open-circuit voltage) and the potential difference on a matched load are 20 log10 2 = 6.0206 dB
 * apart. Voltages only: a power has no EMF.
 */
bool hs_pd_of_emf(hs_quantity emf, hs_quantity *pd, hs_error *error);
bool hs_emf_of_pd(hs_quantity pd, hs_quantity *emf, hs_error *error);

/* pd = emf x load/(source + load), resistances in ohm; source >= 0, load > 0. Vrms and levels. */
bool hs_pd_into(hs_quantity emf, double source_ohm, double load_ohm, hs_quantity *pd, hs_error *error);

/* Power available from a source: emf^2 / (4 R), in dBm. R > 0. */
bool hs_available_power(hs_quantity emf, double source_ohm, hs_quantity *dbm, hs_error *error);

/*
 * Incoherent sum, in `unit`: powers add, so two equals make 3.0103 dB. The largest is factored out first; the sum is
 * never below it. Peak units are refused: peaks of unlike signals do not add as powers. Nothing to add is an error; 0 W
 * adds nothing.
 */
bool hs_power_sum(const hs_quantity *parts, size_t count, hs_unit unit, double impedance_ohm, hs_quantity *sum,
                  hs_error *error);

/* What remains of a total when a part of it is taken away. The total must be above the part. */
bool hs_power_difference(hs_quantity total, hs_quantity part, hs_unit unit, double impedance_ohm, hs_quantity *rest,
                         hs_error *error);

/* The mean of powers, not of decibels: of 0 and 10 dBm 7.4036 dBm. For voltages the root of the mean square. */
bool hs_power_mean(const hs_quantity *parts, size_t count, hs_unit unit, double impedance_ohm, hs_quantity *mean,
                   hs_error *error);

/* A sine of one common frequency, with its phase. */
typedef struct hs_tone {
	hs_quantity level;
	double degrees;
} hs_tone;

/*
 * Coherent sum: voltages add as arrows; two equals in phase make 6.0206 dB. *degrees (may be NULL) in (-180, 180]. A
 * null (what is left is below 1e-14 of what was added, the rounding of the arithmetic) is an error, not a very small
 * number.
 */
bool hs_tone_sum(const hs_tone *tones, size_t count, hs_unit unit, double impedance_ohm, hs_quantity *sum,
                 double *degrees, hs_error *error);

/* dBc: level over carrier, in dB; and back. Both a power or a voltage; the result of the second has the carrier's unit.
 */
bool hs_level_over(hs_quantity level, hs_quantity carrier, double impedance_ohm, double *dbc, hs_error *error);
bool hs_level_from_over(hs_quantity carrier, double dbc, hs_quantity *level, hs_error *error);

/*
 * A flat density and the power in a bandwidth: dBm = dBm/Hz + 10 log10(B). B > 0. The same difference leads from dBc to
 * dBc/Hz. `level` must be a power.
 */
bool hs_density_of_level(hs_quantity level, double bandwidth_hz, double *dbm_per_hz, hs_error *error);
bool hs_level_of_density(double dbm_per_hz, double bandwidth_hz, hs_quantity *dbm, hs_error *error);

/* What a noise level read in one bandwidth would read in another: + 10 log10(to/from). In the unit given; powers and
 * voltages. */
bool hs_level_in_bandwidth(hs_quantity level, double from_hz, double to_hz, hs_quantity *out, hs_error *error);

/* Moves a level by decibels in its own unit: 2 W + 3 dB = 3.99 W, 1 V + 6 dB = 1.995 V. */
bool hs_level_shift(hs_quantity level, double db, hs_quantity *out, hs_error *error);

#endif
