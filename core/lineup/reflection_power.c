/* What reflections do to powers: mismatch limits and uncertainty, pads, far ends, forward and reflected. */
#include <math.h>
#include "halfsplit/lineup/reflection.h"
#include "halfsplit/quantity/demand.h"
#include "halfsplit/quantity/level.h"

#define LN10     2.302585092994045684
#define ROUNDING 1e-9 /* dB */

static bool want_pair(double rho_source, double rho_load, hs_error *error)
{
	return hs_want_between("the magnitude of the source's gamma", rho_source, 0, 1, HS_UNITLESS, error) &&
	       hs_want_between("the magnitude of the load's gamma", rho_load, 0, 1, HS_UNITLESS, error);
}

bool hs_mismatch_limits(double rho_source, double rho_load, double *low_db, double *high_db, hs_error *error)
{
	if (!want_pair(rho_source, rho_load, error))
		return false;
	double product = rho_source * rho_load;
	if (product == 1)
		return hs_fail(error, HS_BAD_INPUT, "two full reflections leave no lower limit");
	*low_db = 20 / LN10 * log1p(-product);
	*high_db = 20 / LN10 * log1p(product);
	return true;
}

bool hs_mismatch_standard(double rho_source, double rho_load, hs_mismatch_model model, double *relative,
                          hs_error *error)
{
	if (!want_pair(rho_source, rho_load, error))
		return false;
	double product = rho_source * rho_load;
	switch (model) {
	case HS_MISMATCH_KNOWN:
		return hs_give("the uncertainty", sqrt(2) * product, relative, error);
	case HS_MISMATCH_BOUNDED:
		return hs_give("the uncertainty", product / sqrt(2), relative, error);
	}
	return hs_fail(error, HS_BAD_INPUT, "the mismatch model is neither known nor bounded magnitudes");
}

bool hs_power_ratio_db(double relative, double *low_db, double *high_db, hs_error *error)
{
	if (!hs_want_at_least("the relative uncertainty", relative, 0, HS_UNITLESS, error))
		return false;
	if (relative >= 1)
		return hs_fail(error, HS_BAD_INPUT, "an uncertainty of %s %% of a power has no lower limit in decibels",
		               hs_brief_of(100 * relative).text);
	*low_db = 10 / LN10 * log1p(-relative);
	*high_db = 10 / LN10 * log1p(relative);
	return true;
}

bool hs_return_loss_before(double return_loss_db, double loss_db, double *seen_db, hs_error *error)
{
	return hs_want_at_least("the return loss", return_loss_db, 0, HS_DB, error) &&
	       hs_want_at_least("the loss in between", loss_db, 0, HS_DB, error) &&
	       hs_give("the return loss", return_loss_db + 2 * loss_db, seen_db, error);
}

static bool fail_impossible(const char *ratio, double excess_db, hs_error *error)
{
	hs_fail(error, HS_BAD_INPUT, "%s: at the far end %s dB more would be reflected than arrives", ratio,
	        hs_brief_of(excess_db).text);
	return hs_fail_hint(error, "the loss is too large for these readings, or the readings belong to another cable");
}

bool hs_return_loss_beyond(double measured_db, double loss_db, double *far_db, hs_error *error)
{
	if (!hs_want_at_least("the return loss", measured_db, 0, HS_DB, error) ||
	    !hs_want_at_least("the loss of the cable", loss_db, 0, HS_DB, error))
		return false;
	double far_end = measured_db - 2 * loss_db;
	if (far_end < -ROUNDING)
		return fail_impossible("the measured return loss is below twice the loss", -far_end, error);
	return hs_give("the return loss", far_end > 0 ? far_end : 0, far_db, error);
}

bool hs_loss_of_open_end(double return_loss_db, double *loss_db, hs_error *error)
{
	return hs_want_at_least("the return loss", return_loss_db, 0, HS_DB, error) &&
	       hs_give("the loss", return_loss_db / 2, loss_db, error);
}

bool hs_rho_of_powers(hs_quantity forward, hs_quantity reflected, double loss_db, double *rho, hs_error *error)
{
	double over;
	if (!hs_want_dimension("the forward power", forward, HS_DIM_POWER, error) ||
	    !hs_want_dimension("the reflected power", reflected, HS_DIM_POWER, error) ||
	    !hs_want_at_least("the loss of the cable", loss_db, 0, HS_DB, error))
		return false;
	if (forward.unit == HS_WATT && !hs_want_above("the forward power", forward.value, 0, HS_WATT, error))
		return false;
	if (reflected.unit == HS_WATT && reflected.value == 0)
		return hs_give("the magnitude of gamma", 0, rho, error);
	if (!hs_level_over(reflected, forward, 0, &over, error))
		return false;
	over += 2 * loss_db;
	if (over > ROUNDING)
		return fail_impossible("reflected is above forward after the correction", over, error);
	/* A match too good for a number is not the perfect one. */
	if (pow(10, over / 20) == 0)
		return hs_fail(error, HS_BAD_INPUT, "a reflection %s dB below forward is too small to be a number",
		               hs_brief_of(-over).text);
	return hs_give("the magnitude of gamma", fmin(pow(10, over / 20), 1), rho, error);
}

bool hs_delivered_power(hs_quantity forward, double rho, hs_quantity *delivered, hs_error *error)
{
	double loss;
	return hs_want_dimension("the forward power", forward, HS_DIM_POWER, error) &&
	       hs_mismatch_loss_of_rho(rho, &loss, error) && hs_level_shift(forward, -loss, delivered, error);
}

bool hs_return_loss_bounds(double return_loss_db, double directivity_db, double *low_db, double *high_db,
                           hs_error *error)
{
	if (!hs_want_at_least("the return loss", return_loss_db, 0, HS_DB, error) ||
	    !hs_want_above("the directivity", directivity_db, 0, HS_DB, error))
		return false;
	if (return_loss_db >= directivity_db) {
		hs_fail(error, HS_BAD_INPUT,
		        "a return loss of %s dB is not below the directivity of %s dB, so nothing bounds it from above",
		        hs_brief_of(return_loss_db).text, hs_brief_of(directivity_db).text);
		return hs_fail_hint(error, "use a bridge or coupler of higher directivity");
	}
	double rho = pow(10, -return_loss_db / 20), leak = pow(10, -directivity_db / 20);
	*low_db = 0.0 - 20 * log10(fmin(rho + leak, 1));
	*high_db = -20 * log10(rho - leak);
	return true;
}
