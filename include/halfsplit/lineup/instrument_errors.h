/*
 * What an instrument does to the thing it measures: loading, dividers, probes, average-responding meters, crest factor,
 * resolution, lead resistance.
 *
 * Errors are in percent of the true value, negative when it reads low. Every function returns true and fills its
 * result, or returns false, leaves it alone and fills *error (HS_BAD_INPUT). NaN, infinities and negative resistances
 * are errors.
 *
 * Sources: Kirchhoff's laws (loading, dividers, leads); IEC 60050-103 (form and crest factor of waves, level.h); JCGM
 * 100:2008, F.2.2.1 (resolution).
 */
#ifndef HALFSPLIT_LINEUP_INSTRUMENT_ERRORS_H
#define HALFSPLIT_LINEUP_INSTRUMENT_ERRORS_H

#include "halfsplit/quantity/level.h"

/* A meter of Ri on a source of Rs reads -100 Rs/(Rs + Ri) %. Rs >= 0, Ri > 0. And the open-circuit value out of a
 * reading. */
bool hs_loading_percent(double source_ohm, double meter_ohm, double *percent, hs_error *error);
bool hs_unloaded(double reading, double source_ohm, double meter_ohm, double *open, hs_error *error);

/* An ammeter of burden Rb in a loop of Rs (all the rest of it) reads -100 Rb/(Rs + Rb) %. */
bool hs_burden_percent(double loop_ohm, double burden_ohm, double *percent, hs_error *error);

/* Source resistance of a divider: its two halves in parallel; each >= 0, not both 0. And of its ratio: low/(high +
 * low). */
bool hs_divider_source(double high_ohm, double low_ohm, double *ohm, hs_error *error);
bool hs_divider_ratio(double high_ohm, double low_ohm, double *ratio, hs_error *error);

/* A probe: R in parallel with C at its tip, such as 10 Mohm and 10 pF. */
typedef struct hs_probe {
	double ohm;   /* > 0 */
	double farad; /* >= 0 */
} hs_probe;

typedef struct hs_probe_load {
	double magnitude_ohm;   /* |R || C| */
	double reactance_ohm;   /* 1/(2 pi f C); 0 when there is no C or f = 0 */
	bool capacitance_rules; /* C takes more current than R */
	double percent;         /* amplitude error on a source of source_ohm: 100 (|Zp/(Zp + Rs)| - 1) */
	double degrees;         /* phase the loading adds, not positive */
	double corner_hz;       /* 1/(2 pi C (R || Rs)): 3 dB down; 0 when there is none */
} hs_probe_load;

/* freq_hz >= 0. A 10 Mohm, 10 pF probe on 50 ohm at 100 MHz: 159 ohm of C beside 10 Mohm, 4.6 % low and 17 degrees
 * late. */
bool hs_probe_loads(hs_probe probe, double source_ohm, double freq_hz, hs_probe_load *out, hs_error *error);

/*
 * A meter that responds to the average and is scaled for a sine: reads (pi/sqrt 8)/form factor of the true rms. Square
 * +11.07 %, triangle -3.81 %, Gaussian noise -11.38 %. And the true rms out of such a reading.
 */
bool hs_average_responding_percent(hs_waveform wave, double *percent, hs_error *error);
bool hs_true_rms(double reading, hs_waveform wave, double *rms, hs_error *error);

/* A peak-responding meter scaled for a sine: reads crest/sqrt 2 of the true rms. Square -29.29 %. */
bool hs_peak_responding_percent(hs_waveform wave, double *percent, hs_error *error);

/*
 * A true-rms meter has a largest crest factor at full scale; at a lower reading the same peaks fit a larger one: limit
 * x full scale/reading. False with an error that says both when the wave's crest factor is above that: its peaks are
 * cut, and the reading is low by an amount that nothing tells.
 */
bool hs_crest_fits(hs_waveform wave, double reading_rms, double full_scale_rms, double crest_limit, hs_error *error);

/* Last digit: half-width step/2, standard uncertainty step/sqrt 12; step >= 0. Counts of a digital meter: n x step. */
bool hs_resolution_standard(double step, double *standard, hs_error *error);
/* "0.5 % + 3 digits": half-width = |reading| x percent/100 + counts x step. */
bool hs_meter_half_width(double reading, double percent, double counts, double step, double *half_width,
                         hs_error *error);

/*
 * Two wires read leads and contacts too: R = reading - leads. leads known to +-u. Below 0 by more than u is impossible.
 * *half_width (may be NULL) = u.
 */
bool hs_two_wire(double reading_ohm, double lead_ohm, double lead_u_ohm, double *ohm, double *half_width,
                 hs_error *error);

/*
 * Whether a nominal resistance with a tolerance can be judged on two wires: the doubt of leads and contacts must be
 * below the tolerance. "0.05 ohm +- 5 %" on leads known to 0.02 ohm is undecidable: an error that says so, with four
 * wires as the hint.
 */
bool hs_two_wire_decides(double nominal_ohm, double tolerance_percent, double lead_u_ohm, hs_error *error);

#endif
