/*
 * A chain of stages: gain, noise, compression, intercept, levels at each node; and what a mixer makes of frequencies.
 *
 * Gains and noise figures in dB, powers in dBm, temperatures in kelvin, frequencies in Hz. Every function returns true
 * and fills its result, or returns false, leaves it alone and fills *error (HS_BAD_INPUT), naming the stage by its
 * number, from 1. NaN and infinities are errors.
 *
 * Sources: H. T. Friis, "Noise figures of radio receivers", Proc. IRE 32 (1944); IEEE Std 100 (T0 = 290 K);
 * D. M. Pozar, Microwave Engineering, chapter 10 (noise of a lossy network, P1dB, cascaded intercept).
 */
#ifndef HALFSPLIT_LINEUP_CASCADE_H
#define HALFSPLIT_LINEUP_CASCADE_H

#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

#define HS_T0_KELVIN 290.0

typedef struct hs_stage {
	const char *name; /* for what limits; may be NULL */
	double gain_db;
	bool
	    passive; /* a pad, cable, filter: gain_db <= 0, its noise follows from its temperature; nf_db is not used */
	double kelvin; /* of a passive stage; 0: 290 K */
	double nf_db;  /* of an active stage, >= 0 */
	bool has_p1db, has_oip3;
	double op1db_dbm; /* output power at 1 dB of compression */
	double oip3_dbm;  /* output third-order intercept */
} hs_stage;

/* Noise factor F of one stage: 10^(NF/10), or for a passive one at T: 1 + (L - 1) T/290, L = 10^(-gain/10). */
bool hs_stage_factor(const hs_stage *stage, double *factor, hs_error *error);

/* NF (dB, >= 0) and equivalent noise temperature: Te = 290 (F - 1). */
bool hs_temperature_of_nf(double nf_db, double *kelvin, hs_error *error);
bool hs_nf_of_temperature(double kelvin, double *nf_db, hs_error *error); /* kelvin >= 0 */

typedef struct hs_cascade {
	double gain_db;
	double factor, nf_db, kelvin; /* F by Friis: F1 + (F2 - 1)/G1 + ...; NF = 10 log10 F; Te = 290 (F - 1) */
	bool has_p1db, has_oip3;      /* some stage states one */
	double op1db_dbm,
	    ip1db_dbm; /* inverse powers, each referred to the output, add; input = output - (gain - 1 dB) */
	double oip3_dbm, iip3_dbm; /* products in phase, the worst case: inverse powers add; input = output - gain */
	double oip3_random_dbm;    /* products of random phase: squares of inverse powers add */
} hs_cascade;

/* At least one stage. */
bool hs_cascade_of(const hs_stage *stages, size_t count, hs_cascade *out, hs_error *error);

/* What holds a node back. */
typedef enum hs_limit { HS_LIMIT_NONE, HS_LIMIT_COMPRESSED, HS_LIMIT_UPSTREAM, HS_LIMIT_NOISE } hs_limit;

/* The output of one stage, with `input_dbm` into the first. */
typedef struct hs_node {
	double linear_dbm; /* input + gains so far */
	double
	    level_dbm; /* what can be there: no stage gives more than its P1dB; a real one gives up to a few dB more */
	bool has_headroom;
	double headroom_db;  /* P1dB of this stage - what it would give without compressing; negative: compressed */
	hs_limit limit;      /* this stage compresses, or an earlier one does; or the level is not above the noise */
	size_t limited_by;   /* that stage, from 0, of noise the one that adds most; when limit is not HS_LIMIT_NONE */
	double noise_dbm_hz; /* k 290 F G so far, with a source at 290 K */
	double nf_db;        /* of the chain so far */
	bool has_noise;      /* a bandwidth was given */
	double noise_dbm;    /* the noise in it */
	double snr_db;       /* input and gains above that noise; 0 or less: limited by noise */
} hs_node;

/* nodes holds `count` items. bandwidth_hz of what reads it, above 0; 0: not given, and noise is not looked at. */
bool hs_cascade_levels(const hs_stage *stages, size_t count, double input_dbm, double bandwidth_hz, hs_node *nodes,
                       hs_error *error);

/* One line a node for people: number, name, level, headroom, height above the noise, what limits it. */
void hs_cascade_print(hs_buf *out, const hs_stage *stages, const hs_node *nodes, size_t count);

/* Third-order product of two equal tones: IM3 = 3 P - 2 OIP3, P of one tone at the output. Below the intercept only. */
bool hs_im3(double tone_dbm, double oip3_dbm, double *im3_dbm, hs_error *error);

/* Spurious-free range above a floor at the output: 2/3 (OIP3 - floor). OIP3 above the floor. */
bool hs_spurious_free_range(double oip3_dbm, double floor_dbm, double *range_db, hs_error *error);

/* Y-factor: NF = ENR - 10 log10(Y - 1), cold source at 290 K; y_db > 0, and the result must not be below 0 dB. */
bool hs_nf_of_y(double enr_db, double y_db, double *nf_db, hs_error *error);

/* Frequencies. */
typedef struct hs_conversion {
	double if_hz;
	bool high_side;  /* the oscillator stands above the signal */
	bool inverted;   /* the spectrum comes out mirrored: difference with a high-side oscillator */
	double image_hz; /* the other input that gives the same IF: |2 lo - rf|, for a sum rf + 2 lo */
} hs_conversion;

/* Difference |rf - lo|, or sum rf + lo. Both above 0; equal ones give no difference. The sum's image is if + lo = rf +
 * 2 lo. */
bool hs_mix(double rf_hz, double lo_hz, bool sum, hs_conversion *out, hs_error *error);

/* The oscillator for a wanted IF: rf + if (high side), rf - if (low side; if below rf). */
bool hs_oscillator_for(double rf_hz, double if_hz, bool high_side, double *lo_hz, hs_error *error);

/* n-th harmonic, n >= 1 (1: the fundamental); and which harmonics, n from *first to *last, lie in a band (first > last:
 * none). */
bool hs_harmonic(double freq_hz, int n, double *harmonic_hz, hs_error *error);
bool hs_harmonics_within(double freq_hz, double from_hz, double to_hz, int *first, int *last, hs_error *error);

/* m rf + n lo, of order |m| + |n|; m >= 0. */
typedef struct hs_spur {
	int m, n;
	int order;
	double freq_hz; /* not negative */
	bool in_band;
	bool wanted; /* of order 2 with m = 1 and n = +-1 */
} hs_spur;

#define HS_SPUR_ORDER_MOST 20

/*
 * The spur table of a mixer: every |m rf + n lo| of order 1 to max_order, rising in order, then in frequency. in_band
 * marks those from from_hz to to_hz. *count is how many there are; at most `room` are written, so that a call with room
 * 0 asks for the number.
 */
bool hs_spur_table(double rf_hz, double lo_hz, int max_order, double from_hz, double to_hz, hs_spur *spurs, size_t room,
                   size_t *count, hs_error *error);

/*
 * The other way round: every input frequency that comes out at the IF, |m f + n lo| = if; m >= 1, up to max_order, in
 * the same order. freq_hz is the input. The half-IF response is m = 2, n = -2; the image m = 1, n = -1.
 */
bool hs_spur_inputs(double lo_hz, double if_hz, int max_order, double from_hz, double to_hz, hs_spur *spurs,
                    size_t room, size_t *count, hs_error *error);

#endif
