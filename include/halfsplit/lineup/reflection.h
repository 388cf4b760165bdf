/*
 * Reflection: gamma, SWR, return loss, mismatch loss, impedance, and what two mismatches do to each other.
 *
 * Gamma is the voltage reflection coefficient; `rho` is its magnitude, 0 to 1 for anything passive. Return loss is
 * positive, in dB. Every function returns true and fills its result, or returns false, leaves it alone and fills *error
 * (HS_BAD_INPUT). NaN and infinities are errors everywhere; so is what has no finite answer (the return loss of a
 * perfect match, the SWR of a short).
 *
 * Sources: IEEE Std 287 and D. M. Pozar, Microwave Engineering, chapter 2 (definitions); EURAMET cg-12 and I. A. Harris
 * and F. L. Warner, "Re-examination of mismatch uncertainty", Proc. IEE 128 H (1981) (mismatch uncertainty).
 */
#ifndef HALFSPLIT_LINEUP_REFLECTION_H
#define HALFSPLIT_LINEUP_REFLECTION_H

#include "halfsplit/quantity/quantity.h"

typedef struct hs_complex {
	double re, im;
} hs_complex;

/* Magnitude and angle in degrees into gamma and back. Magnitude >= 0: above 1 is allowed here, an oscillator has it. */
bool hs_gamma_of_polar(double rho, double degrees, hs_complex *gamma, hs_error *error);
bool hs_polar_of_gamma(hs_complex gamma, double *rho, double *degrees, hs_error *error); /* degrees in (-180, 180] */

/* gamma = (Z - Z0)/(Z + Z0), Z0 > 0 and real; Z = -Z0 has none. Z = Z0 (1 + gamma)/(1 - gamma); gamma = 1 (open) has
 * none. */
bool hs_gamma_of_impedance(hs_complex ohm, double reference_ohm, hs_complex *gamma, hs_error *error);
bool hs_impedance_of_gamma(hs_complex gamma, double reference_ohm, hs_complex *ohm, hs_error *error);

/* RL = -20 log10 rho; rho in (0, 1]. rho = 10^(-RL/20); RL >= 0, and one below 0 is told to be written without its
 * sign. */
bool hs_return_loss_of_rho(double rho, double *return_loss_db, hs_error *error);
bool hs_rho_of_return_loss(double return_loss_db, double *rho, hs_error *error);

/* SWR = (1 + rho)/(1 - rho); rho in [0, 1). rho = (SWR - 1)/(SWR + 1); SWR >= 1. */
bool hs_swr_of_rho(double rho, double *swr, hs_error *error);
bool hs_rho_of_swr(double swr, double *rho, hs_error *error);
bool hs_swr_of_return_loss(double return_loss_db, double *swr, hs_error *error); /* RL > 0 */
bool hs_return_loss_of_swr(double swr, double *return_loss_db, hs_error *error); /* SWR > 1 */

/* ML = -10 log10(1 - rho^2), by log1p: rho = 1e-9 gives 4.34e-18 dB and not 0. rho in [0, 1). And back; ML >= 0. */
bool hs_mismatch_loss_of_rho(double rho, double *mismatch_loss_db, hs_error *error);
bool hs_rho_of_mismatch_loss(double mismatch_loss_db, double *rho, hs_error *error);

/*
 * How far a level can be off because a source and a load reflect with unknown phase: 20 log10(1 +- rho_s rho_l).
 * *low_db is negative and larger than *high_db in size: not symmetric. Both magnitudes in [0, 1], their product
 * below 1.
 */
bool hs_mismatch_limits(double rho_source, double rho_load, double *low_db, double *high_db, hs_error *error);

/* What is known of the two magnitudes. The phase is unknown in both. */
typedef enum hs_mismatch_model {
	HS_MISMATCH_KNOWN,  /* both measured: U-shaped, u = sqrt 2 rho_s rho_l */
	HS_MISMATCH_BOUNDED /* no more than these, uniform over the disc: u = rho_s rho_l/sqrt 2 */
} hs_mismatch_model;

/* Standard uncertainty of a power, relative (0.02: 2 %). The first is twice the second: say which. Magnitudes in [0,
 * 1]. */
bool hs_mismatch_standard(double rho_source, double rho_load, hs_mismatch_model model, double *relative,
                          hs_error *error);

/* A relative uncertainty of power in dB, which is not symmetric: 10 log10(1 -+ r). r in [0, 1). */
bool hs_power_ratio_db(double relative, double *low_db, double *high_db, hs_error *error);

/* Return loss seen through a pad or cable: RL + 2 x loss, because the wave passes twice. loss >= 0. */
bool hs_return_loss_before(double return_loss_db, double loss_db, double *seen_db, hs_error *error);

/*
 * Return loss at the far end of a cable = measured - 2 x loss. Below 0 more would come back than went there: refused. A
 * loss that overshoots by up to 1e-9 dB is rounding and counts as 0.
 */
bool hs_return_loss_beyond(double measured_db, double loss_db, double *far_db, hs_error *error);

/* Loss of a cable from its return loss with an open or a short at the far end: half of it. >= 0. */
bool hs_loss_of_open_end(double return_loss_db, double *loss_db, hs_error *error);

/* Gamma of a load seen through a line of `loss_db` (>= 0) and `degrees` one-way electrical length: turned twice,
 * weakened twice. */
bool hs_gamma_through(hs_complex load, double loss_db, double degrees, hs_complex *seen, hs_error *error);

/*
 * Forward and reflected power read at the near end of a cable of loss_db -> rho at its far end. Forward arrives weaker,
 * what was reflected was stronger. Reflected above forward after that correction is impossible and refused. 0 W
 * reflected gives 0.
 */
bool hs_rho_of_powers(hs_quantity forward, hs_quantity reflected, double loss_db, double *rho, hs_error *error);

/* Power that stays in the load: forward - mismatch loss; rho in [0, 1). Power units. */
bool hs_delivered_power(hs_quantity forward, double rho, hs_quantity *delivered, hs_error *error);

/*
 * A bridge or coupler of a directivity reads rho +- 10^(-directivity/20): the true return loss lies between *low_db and
 * *high_db. Return loss must be below the directivity, else nothing bounds it from above.
 */
bool hs_return_loss_bounds(double return_loss_db, double directivity_db, double *low_db, double *high_db,
                           hs_error *error);

#endif
