/* Student's t, for any degrees of freedom from 1 up. */
#include <math.h>
#include "halfsplit/judge/gum.h"
#include "halfsplit/quantity/demand.h"

#define PI         3.14159265358979323846
#define NORMAL_DOF 1e6 /* beyond it two terms of the expansion about the normal are exact to the last digits */

/* Gamma(a + 1/2)/Gamma(a): the gammas overflow long before their ratio does. */
static double gamma_ratio(double a)
{
	if (a < 25)
		return tgamma(a + 0.5) / tgamma(a);
	double r = 1 / a;
	return sqrt(a) * exp(r * (-1.0 / 8 + r * r * (1.0 / 192 + r * r * (-1.0 / 640 + r * r * 17.0 / 14336))));
}

/* The continued fraction of the incomplete beta function, by Lentz's method. */
static double fraction(double x, double a, double b)
{
	double c = 1, d = 1 - (a + b) * x / (a + 1), f;
	d = 1 / d;
	f = d;
	for (int m = 1; m < 100000; m++) {
		double step = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
		d = 1 / (1 + step * d);
		c = 1 + step / c;
		f *= d * c;
		step = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
		d = 1 / (1 + step * d);
		c = 1 + step / c;
		f *= d * c;
		if (fabs(d * c - 1) < 1e-16)
			break;
	}
	return f;
}

/* P(|T| > t) = I_x(dof/2, 1/2), x = dof/(dof + t^2); kept as a tail so that it keeps its digits when small. */
static double tail(double t, double dof)
{
	double a = dof / 2, square = t * t;
	if (t == 0)
		return 1;
	if (dof >= NORMAL_DOF) {
		double z = t - (t * square + t) / (4 * dof);
		return erfc(z / sqrt(2));
	}
	double y = square / (dof + square), x = dof / (dof + square);
	double front = exp(-a * log1p(square / dof)) * sqrt(y) * gamma_ratio(a) / sqrt(PI);
	if (x < (a + 1) / (a + 2.5))
		return front * fraction(x, a, 0.5) / a;
	return 1 - front * fraction(y, 0.5, a) / 0.5;
}

static bool want_dof(double dof, hs_error *error)
{
	if (isinf(dof) && dof > 0)
		return true;
	return hs_want_at_least("the number of degrees of freedom", dof, 1, HS_UNITLESS, error);
}

bool hs_student_coverage(double t, double dof, double *p, hs_error *error)
{
	return hs_want_at_least("t", t, 0, HS_UNITLESS, error) && want_dof(dof, error) &&
	       hs_give("the probability", isinf(dof) ? erf(t / sqrt(2)) : 1 - tail(t, dof), p, error);
}

bool hs_student_factor(double p, double dof, double *t, hs_error *error)
{
	if (!hs_want_above("the probability", p, 0, HS_UNITLESS, error) || !want_dof(dof, error))
		return false;
	if (p >= 1)
		return hs_fail(error, HS_BAD_INPUT, "no finite factor holds a probability of %s; it must be below 1",
		               hs_brief_of(p).text);
	double low = 0, high = 1, outside = 1 - p, nu = isinf(dof) ? 1e300 : dof;
	while (tail(high, nu) > outside && high < 1e300)
		high *= 2;
	for (int i = 0; i < 200 && low < high; i++) {
		double middle = low + (high - low) / 2;
		if (middle == low || middle == high)
			break;
		if (tail(middle, nu) > outside)
			low = middle;
		else
			high = middle;
	}
	return hs_give("the factor", high, t, error);
}
