/* Gamma, SWR, return loss and impedance, one into another. */
#include <complex.h>
#include <math.h>
#include "halfsplit/lineup/reflection.h"
#include "halfsplit/quantity/demand.h"

#define LN10   2.302585092994045684
#define DEGREE 0.017453292519943295769

static bool want_complex(const char *what, hs_complex z, hs_error *error)
{
	return hs_want_finite(what, z.re, error) && hs_want_finite(what, z.im, error);
}

static bool want_rho(double rho, hs_error *error)
{
	return hs_want_between("the magnitude of gamma", rho, 0, 1, HS_UNITLESS, error);
}

/* Magnitudes whose answer is finite: full reflection has none. */
static bool want_rho_below_one(double rho, const char *none, hs_error *error)
{
	if (!want_rho(rho, error))
		return false;
	return rho < 1 || hs_fail(error, HS_BAD_INPUT, "full reflection (gamma 1) has no finite %s", none);
}

static bool want_return_loss(double db, hs_error *error)
{
	if (hs_want_at_least("the return loss", db, 0, HS_DB, error))
		return true;
	if (db < 0)
		hs_fail_hint(error, "a return loss is positive: write 20 dB, not -20 dB");
	return false;
}

static bool give_complex(const char *what, double complex z, hs_complex *out, hs_error *error)
{
	hs_complex made;
	if (!hs_give(what, creal(z), &made.re, error) || !hs_give(what, cimag(z), &made.im, error))
		return false;
	*out = made;
	return true;
}

bool hs_gamma_of_polar(double rho, double degrees, hs_complex *gamma, hs_error *error)
{
	if (!hs_want_at_least("the magnitude of gamma", rho, 0, HS_UNITLESS, error) ||
	    !hs_want_finite("the angle of gamma", degrees, error))
		return false;
	double turned = fmod(degrees, 360) * DEGREE;
	*gamma = (hs_complex){rho * cos(turned), rho * sin(turned)};
	return true;
}

bool hs_polar_of_gamma(hs_complex gamma, double *rho, double *degrees, hs_error *error)
{
	double size;
	if (!want_complex("gamma", gamma, error) ||
	    !hs_give("the magnitude of gamma", hypot(gamma.re, gamma.im), &size, error))
		return false;
	*rho = size;
	*degrees = size == 0 ? 0 : atan2(gamma.im + 0.0, gamma.re) / DEGREE;
	return true;
}

bool hs_gamma_of_impedance(hs_complex ohm, double reference_ohm, hs_complex *gamma, hs_error *error)
{
	if (!want_complex("the impedance", ohm, error) ||
	    !hs_want_above("the reference impedance", reference_ohm, 0, HS_OHM, error))
		return false;
	double complex above = CMPLX(ohm.re - reference_ohm, ohm.im), below = CMPLX(ohm.re + reference_ohm, ohm.im);
	if (below == 0)
		return hs_fail(error, HS_BAD_INPUT, "an impedance of minus the reference has no gamma");
	return give_complex("gamma", above / below, gamma, error);
}

bool hs_impedance_of_gamma(hs_complex gamma, double reference_ohm, hs_complex *ohm, hs_error *error)
{
	if (!want_complex("gamma", gamma, error) ||
	    !hs_want_above("the reference impedance", reference_ohm, 0, HS_OHM, error))
		return false;
	double complex above = CMPLX(1 + gamma.re, gamma.im), below = CMPLX(1 - gamma.re, -gamma.im);
	if (below == 0)
		return hs_fail(error, HS_BAD_INPUT, "gamma 1 is an open circuit, which has no finite impedance");
	return give_complex("the impedance", reference_ohm * (above / below), ohm, error);
}

bool hs_return_loss_of_rho(double rho, double *return_loss_db, hs_error *error)
{
	if (!want_rho(rho, error))
		return false;
	if (rho == 0)
		return hs_fail(error, HS_BAD_INPUT, "a perfect match (gamma 0) has no return loss in decibels");
	return hs_give("the return loss", 0.0 - 20 * log10(rho), return_loss_db, error);
}

bool hs_rho_of_return_loss(double return_loss_db, double *rho, hs_error *error)
{
	return want_return_loss(return_loss_db, error) &&
	       hs_give("the magnitude of gamma", pow(10, -return_loss_db / 20), rho, error);
}

bool hs_swr_of_rho(double rho, double *swr, hs_error *error)
{
	return want_rho_below_one(rho, "SWR", error) && hs_give("the SWR", (1 + rho) / (1 - rho), swr, error);
}

static bool want_swr(double swr, hs_error *error)
{
	return hs_want_at_least("the SWR", swr, 1, HS_UNITLESS, error);
}

bool hs_rho_of_swr(double swr, double *rho, hs_error *error)
{
	return want_swr(swr, error) && hs_give("the magnitude of gamma", (swr - 1) / (swr + 1), rho, error);
}

bool hs_swr_of_return_loss(double return_loss_db, double *swr, hs_error *error)
{
	if (!want_return_loss(return_loss_db, error))
		return false;
	if (return_loss_db == 0)
		return hs_fail(error, HS_BAD_INPUT,
		               "a return loss of 0 dB is full reflection, which has no finite SWR");
	/* 1 - rho by expm1, or a return loss near 0 dB would lose its digits. */
	double missing = -expm1(-return_loss_db * LN10 / 20);
	return hs_give("the SWR", (2 - missing) / missing, swr, error);
}

bool hs_return_loss_of_swr(double swr, double *return_loss_db, hs_error *error)
{
	if (!want_swr(swr, error))
		return false;
	if (swr == 1)
		return hs_fail(error, HS_BAD_INPUT,
		               "an SWR of 1 is a perfect match, which has no return loss in decibels");
	return hs_give("the return loss", -20 / LN10 * log1p(-2 / (swr + 1)), return_loss_db, error);
}

bool hs_mismatch_loss_of_rho(double rho, double *mismatch_loss_db, hs_error *error)
{
	return want_rho_below_one(rho, "mismatch loss", error) &&
	       hs_give("the mismatch loss", 0.0 - 10 / LN10 * log1p(-rho * rho), mismatch_loss_db, error);
}

bool hs_rho_of_mismatch_loss(double mismatch_loss_db, double *rho, hs_error *error)
{
	return hs_want_at_least("the mismatch loss", mismatch_loss_db, 0, HS_DB, error) &&
	       hs_give("the magnitude of gamma", sqrt(-expm1(-mismatch_loss_db * LN10 / 10)), rho, error);
}

bool hs_gamma_through(hs_complex load, double loss_db, double degrees, hs_complex *seen, hs_error *error)
{
	if (!want_complex("gamma", load, error) ||
	    !hs_want_at_least("the loss of the line", loss_db, 0, HS_DB, error) ||
	    !hs_want_finite("the electrical length", degrees, error))
		return false;
	double weaker = pow(10, -loss_db / 10), turned = -2 * fmod(degrees, 180) * DEGREE;
	double complex turn = weaker * CMPLX(cos(turned), sin(turned));
	return give_complex("gamma", CMPLX(load.re, load.im) * turn, seen, error);
}
