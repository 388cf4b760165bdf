/*
 * Coaxial cable: the law of its loss, tables, fits, temperature, length, connectors.
 *
 * loss = (k1 sqrt(f) sqrt(1 + 0.00393 (T - 20)) + k2 f) x length. The first part is the conductors', which warm copper
 * makes larger; the second the dielectric's. Every function returns true and fills its result, or returns false, leaves
 * it alone and fills *error (HS_BAD_INPUT). NaN and infinities, negative lengths and losses, and frequencies outside
 * what was stated are errors.
 *
 * Sources: skin effect and dielectric loss, as in IEC 61196-1 and makers' attenuation formulas; 0.00393 per kelvin:
 * annealed copper at 20 degC, IEC 60028.
 */
#ifndef HALFSPLIT_LINEUP_COAX_H
#define HALFSPLIT_LINEUP_COAX_H

#include "halfsplit/lineup/loss.h"

#define HS_COPPER_PER_KELVIN 0.00393
#define HS_COAX_CELSIUS      20.0 /* what k1 holds at */

/* dB per metre. The law holds from from_hz to to_hz; both 0: everywhere above 0 Hz. */
typedef struct hs_coax_law {
	double k1; /* dB per metre and root hertz, >= 0 */
	double k2; /* dB per metre and hertz, >= 0 */
	double from_hz, to_hz;
} hs_coax_law;

/* One length of it as it lies there. */
typedef struct hs_coax_run {
	double length_m; /* >= 0 */
	double celsius;  /* of the conductors; 20 as in tables. Above absolute zero, and such that 1 + 0.00393 dT > 0 */
	int connectors;  /* joints in line, >= 0 */
	double connector_db; /* loss of each at this frequency, >= 0 */
} hs_coax_run;

/* k1 and k2 as makers print them: dB per 100 m (or 100 ft: 30.48 m), f in MHz. per_m is that length. */
bool hs_coax_law_of(double k1_mhz, double k2_mhz, double per_m, hs_coax_law *out, hs_error *error);

/* Loss of a run by the law. freq_hz >= 0; outside the law's range is an error. */
bool hs_coax_law_loss(const hs_coax_law *law, double freq_hz, hs_coax_run run, double *loss_db, hs_error *error);

/*
 * Loss of a run by a table of dB per `per_m` metres (100 for hs_coax_type): linear in the root of frequency. A table
 * cannot say which part of it warms, nor what lies outside it: for another temperature than 20 degC, and for another
 * frequency, a law is wanted (*law, may be NULL). Warmth then takes the law's ratio; outside the table the law alone
 * counts, where it holds; else that is an error.
 */
bool hs_coax_table_loss(const hs_loss_table *table, double per_m, const hs_coax_law *law, double freq_hz,
                        hs_coax_run run, double *loss_db, hs_error *error);

typedef struct hs_coax_fit {
	hs_coax_law law;   /* from and to are the ends of the points */
	double u_k1, u_k2; /* standard uncertainties from the scatter; 0 of one that is held, and with no more points than
	                      are fitted, which any law fits */
	double rms_db;     /* root mean square of the residuals, dB per `per_m` */
	double worst_db;   /* the largest residual in size */
	size_t worst;      /* which point */
	bool held_at_zero; /* one of k1, k2 would have come out negative and was held at 0 */
} hs_coax_fit;

/*
 * Least squares of the law through points of dB per `per_m` metres at 20 degC. Two or more different frequencies above
 * 0. residuals (may be NULL) takes `count` items: table - law, dB per per_m. The same point twice with two losses is a
 * conflict.
 */
bool hs_coax_fit_law(const hs_loss_point *points, size_t count, double per_m, hs_coax_fit *out, double *residuals,
                     hs_error *error);

/* A point with where it comes from. */
typedef struct hs_sourced_point {
	hs_loss_point point;
	const char *source; /* "maker's sheet of 2019", "measured on K12" */
} hs_sourced_point;

/*
 * A table from points of one source. Two sources in one table are refused, both named: makers differ by up to 40 % for
 * one type. A point without a source is refused too. Else as hs_loss_table_make.
 */
bool hs_coax_table_make(hs_arena *arena, const hs_sourced_point *points, size_t count, hs_loss_table *out,
                        hs_error *error);

#endif
