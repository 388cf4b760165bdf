/* Uncertainties found, correlated and combined. */
#include <math.h>
#include "halfsplit/base/text.h"
#include "halfsplit/judge/gum.h"
#include "halfsplit/quantity/demand.h"

static bool want_dof(double dof, hs_error *error)
{
	if (isinf(dof) && dof > 0)
		return true;
	return hs_want_at_least("the number of degrees of freedom", dof, 1, HS_UNITLESS, error);
}

static bool mean_of(const double *values, size_t count, double *mean, hs_error *error)
{
	double sum = 0;
	if (count < 2)
		return hs_fail(error, HS_BAD_INPUT, "%zu %s not show a scatter; at least 2 readings are wanted", count,
		               count == 1 ? "reading does" : "readings do");
	for (size_t i = 0; i < count; i++)
		if (!hs_want_finite("a reading", values[i], error))
			return false;
	/* From the first reading, so that readings that differ in their last digits keep them. */
	for (size_t i = 0; i < count; i++)
		sum += values[i] - values[0];
	return hs_give("the mean", values[0] + sum / (double)count, mean, error);
}

bool hs_type_a_of(const double *values, size_t count, hs_type_a *out, hs_error *error)
{
	hs_type_a made = {0};
	double norm = 0;
	if (!mean_of(values, count, &made.mean, error))
		return false;
	for (size_t i = 0; i < count; i++)
		norm = hypot(norm, values[i] - made.mean);
	made.dof = (double)count - 1;
	if (!hs_give("the scatter", norm / sqrt(made.dof), &made.deviation, error))
		return false;
	made.standard = made.deviation / sqrt((double)count);
	*out = made;
	return true;
}

bool hs_correlation_of(const double *a, const double *b, size_t count, double *r, hs_error *error)
{
	double mean_a, mean_b, aa = 0, bb = 0, ab = 0;
	if (!mean_of(a, count, &mean_a, error) || !mean_of(b, count, &mean_b, error))
		return false;
	for (size_t i = 0; i < count; i++) {
		aa = hypot(aa, a[i] - mean_a);
		bb = hypot(bb, b[i] - mean_b);
	}
	if (aa == 0 || bb == 0)
		return hs_fail(error, HS_BAD_INPUT, "a series that never changes has no correlation");
	for (size_t i = 0; i < count; i++)
		ab += (a[i] - mean_a) / aa * ((b[i] - mean_b) / bb);
	return hs_give("the correlation", fmax(-1, fmin(1, ab)), r, error);
}

bool hs_dof_of_doubt(double doubt, double *dof, hs_error *error)
{
	return hs_want_above("the doubt in an uncertainty", doubt, 0, HS_UNITLESS, error) &&
	       hs_want_between("the doubt in an uncertainty", doubt, 0, 0.7, HS_UNITLESS, error) &&
	       hs_give("the number of degrees of freedom", 0.5 / (doubt * doubt), dof, error);
}

bool hs_welch_satterthwaite(const double *u, const double *dof, size_t count, double *effective, hs_error *error)
{
	double largest = 0, squares = 0, fourths = 0;
	for (size_t i = 0; i < count; i++) {
		if (!hs_want_at_least("a standard uncertainty", u[i], 0, HS_UNITLESS, error) ||
		    !want_dof(dof[i], error))
			return false;
		largest = fmax(largest, u[i]);
	}
	if (largest == 0)
		return hs_fail(error, HS_BAD_INPUT, "all uncertainties are 0, and degrees of freedom have no meaning");
	for (size_t i = 0; i < count; i++) {
		double square = u[i] / largest * (u[i] / largest);
		squares += square;
		fourths += square * square / dof[i];
	}
	*effective = fourths > 0 ? squares * squares / fourths : INFINITY;
	return true;
}

bool hs_sensitivity(hs_model_function *f, void *context, const double *x, size_t count, size_t i, double u, double *c,
                    hs_error *error)
{
	double moved[HS_TERMS_MOST];
	if (count > HS_TERMS_MOST || i >= count)
		return hs_fail(error, HS_BAD_INPUT, "quantity %zu of %zu was asked for; at most %d are possible", i + 1,
		               count, HS_TERMS_MOST);
	for (size_t k = 0; k < count; k++) {
		if (!hs_want_finite("an input quantity", x[k], error))
			return false;
		moved[k] = x[k];
	}
	if (!hs_want_above("the step of a sensitivity", u, 0, HS_UNITLESS, error))
		return false;
	moved[i] = x[i] + u;
	double above = f(moved, count, context);
	moved[i] = x[i] - u;
	double below = f(moved, count, context);
	return hs_want_finite("the model one uncertainty above", above, error) &&
	       hs_want_finite("the model one uncertainty below", below, error) &&
	       hs_give("the sensitivity", (above - below) / (2 * u), c, error);
}

bool hs_gum_add(hs_gum *gum, const hs_gum_term *term, hs_error *error)
{
	if (gum->count == HS_TERMS_MOST)
		return hs_fail(error, HS_BAD_INPUT, "the budget holds %d terms and no more", HS_TERMS_MOST);
	if (!hs_want_at_least("the half-width of a term", term->half_width, 0, HS_UNITLESS, error) ||
	    !hs_want_at_least("the divisor of a term", term->divisor, 0, HS_UNITLESS, error) ||
	    !hs_want_finite("the sensitivity of a term", term->sensitivity, error) || !want_dof(term->dof, error))
		return false;
	gum->terms[gum->count++] = *term;
	return true;
}

bool hs_gum_correlate(hs_gum *gum, size_t i, size_t j, double r, hs_error *error)
{
	if (i == j || i >= gum->count || j >= gum->count)
		return hs_fail(error, HS_BAD_INPUT, "terms %zu and %zu are not two terms of a budget of %zu", i + 1,
		               j + 1, gum->count);
	if (!hs_want_between("the correlation", r, -1, 1, HS_UNITLESS, error))
		return false;
	gum->r[i < j ? i : j][i < j ? j : i] = r;
	return true;
}

bool hs_gum_of_budget(const hs_budget *budget, hs_gum *out, hs_error *error)
{
	hs_gum made = {.result.unit = budget->unit};
	for (size_t i = 0; i < budget->count; i++) {
		const hs_term *from = &budget->terms[i];
		hs_gum_term term = {.half_width = from->half_width,
		                    .shape = from->shape,
		                    .sensitivity = from->sensitivity,
		                    .dof = INFINITY,
		                    .value.unit = budget->unit};
		hs_copy(term.name, sizeof(term.name), from->name);
		if (!hs_gum_add(&made, &term, error))
			return false;
		for (size_t j = 0; j < i; j++)
			if (from->shared != 0 && budget->terms[j].shared == from->shared)
				made.r[j][i] = 1;
	}
	*out = made;
	return true;
}

static double divisor_of(const hs_gum_term *term)
{
	return term->divisor > 0 ? term->divisor : hs_shape_divisor(term->shape);
}

/* u^2 over the square of the largest contribution. */
static double square_sum(const hs_gum *gum, const double *contribution, double largest)
{
	double square = 0;
	for (size_t i = 0; i < gum->count; i++) {
		double a = copysign(contribution[i] / largest, gum->terms[i].sensitivity);
		square += a * a;
		for (size_t j = i + 1; j < gum->count; j++)
			square += 2 * gum->r[i][j] * a * copysign(contribution[j] / largest, gum->terms[j].sensitivity);
	}
	return square;
}

static bool correlated(const hs_gum *gum, size_t index)
{
	for (size_t k = 0; k < gum->count; k++) {
		size_t i = k < index ? k : index, j = k < index ? index : k;
		if (i != j && gum->r[i][j] != 0)
			return true;
	}
	return false;
}

/* Welch-Satterthwaite holds for parts that do not hang together; where they do, the smallest sample counts for all. */
static bool effective_dof(const hs_gum *gum, const double *contribution, double *effective, hs_error *error)
{
	double dof[HS_TERMS_MOST], least = INFINITY;
	for (size_t i = 0; i < gum->count; i++) {
		dof[i] = gum->terms[i].dof;
		if (correlated(gum, i) && contribution[i] > 0)
			least = fmin(least, dof[i]);
	}
	if (!hs_welch_satterthwaite(contribution, dof, gum->count, effective, error))
		return false;
	*effective = fmin(*effective, least);
	return true;
}

bool hs_gum_combine(const hs_gum *gum, hs_gum_sum *out, hs_error *error)
{
	hs_gum_sum sum = {.dof = INFINITY};
	double largest = 0;
	if (gum->count == 0)
		return hs_fail(error, HS_BAD_INPUT, "the budget holds no terms");
	for (size_t i = 0; i < gum->count; i++) {
		const hs_gum_term *term = &gum->terms[i];
		if (!hs_give("a contribution", fabs(term->sensitivity) * term->half_width / divisor_of(term),
		             &sum.contribution[i], error))
			return false;
		largest = fmax(largest, sum.contribution[i]);
	}
	double square = largest > 0 ? square_sum(gum, sum.contribution, largest) : 0;
	if (square < -1e-12) {
		hs_fail(error, HS_BAD_INPUT,
		        "no quantities can have these correlations together: u^2 comes out below 0");
		return hs_fail_hint(error, "of three quantities, two pairs at -1 leave the third pair at +1");
	}
	sum.standard = square > 0 ? largest * sqrt(square) : 0;
	if (largest > 0 && !effective_dof(gum, sum.contribution, &sum.dof, error))
		return false;
	double whole = isinf(sum.dof) ? sum.dof : fmax(1, floor(sum.dof * (1 + 1e-12)));
	if (!hs_student_factor(HS_COVERAGE, whole, &sum.coverage, error) ||
	    !hs_give("the expanded uncertainty", sum.coverage * sum.standard, &sum.expanded, error))
		return false;
	*out = sum;
	return true;
}
