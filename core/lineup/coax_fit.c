/* Least squares of the law of coaxial loss. */
#include <math.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/lineup/coax.h"
#include "halfsplit/quantity/demand.h"

/*
 * The two columns are sqrt(f/top) and f/top, both at most 1, made orthogonal first: their normal equations would square
 * a bad condition when the points lie close together.
 */
typedef struct columns {
	double top_hz;
	double aa, ab, bb; /* a.a, a.b, and the square of what b has beside a */
	double ay, by;     /* y on a; y on that part of b */
	double ry;         /* y on the plain b, for a law of k2 alone */
	double plain_bb;
} columns;

static bool check_points(const hs_loss_point *points, size_t count, hs_error *error)
{
	size_t different = 1;
	if (count == 0)
		return hs_fail(error, HS_BAD_INPUT, "there are no points to fit a law through");
	for (size_t i = 0; i < count; i++) {
		if (!hs_want_above("the frequency of a point", points[i].freq_hz, 0, HS_HERTZ, error) ||
		    !hs_want_at_least("the loss of a point", points[i].loss_db, 0, HS_DB, error))
			return false;
		if (fabs(points[i].freq_hz - points[0].freq_hz) > 1e-9 * points[0].freq_hz)
			different = 2;
	}
	if (different == 2)
		return true;
	hs_fail(error, HS_BAD_INPUT, "all points stand at %s Hz; a law needs two frequencies",
	        hs_brief_of(points[0].freq_hz).text);
	return hs_fail_hint(error, "add a point well away from it");
}

static columns make_columns(const hs_loss_point *points, size_t count)
{
	columns c = {0};
	for (size_t i = 0; i < count; i++)
		c.top_hz = fmax(c.top_hz, points[i].freq_hz);
	for (size_t i = 0; i < count; i++) {
		double b = points[i].freq_hz / c.top_hz, a = sqrt(b);
		c.aa += a * a;
		c.ab += a * b;
		c.plain_bb += b * b;
		c.ay += a * points[i].loss_db;
		c.ry += b * points[i].loss_db;
	}
	for (size_t i = 0; i < count; i++) {
		double b = points[i].freq_hz / c.top_hz, a = sqrt(b), rest = b - c.ab / c.aa * a;
		c.bb += rest * rest;
		c.by += rest * points[i].loss_db;
	}
	return c;
}

/* k1 and k2 for the scaled columns; a negative one is held at 0, since neither copper nor dielectric gives energy back.
 */
static void solve(const columns *c, double *k1, double *k2, bool *held)
{
	*k2 = c->by / c->bb;
	*k1 = (c->ay - c->ab * *k2) / c->aa;
	/* What rounding leaves of an exact 0 is not a law that had to be held. */
	double tiny = 1e-12 * (fabs(*k1) + fabs(*k2));
	*held = *k1 < -tiny || *k2 < -tiny;
	if (*k2 < 0) {
		*k2 = 0;
		*k1 = c->ay / c->aa;
	} else if (*k1 < 0) {
		*k1 = 0;
		*k2 = c->ry / c->plain_bb;
	}
}

static void scatter(const hs_loss_point *points, size_t count, const columns *c, double k1, double k2, hs_coax_fit *fit,
                    double *residuals)
{
	double squares = 0;
	for (size_t i = 0; i < count; i++) {
		double b = points[i].freq_hz / c->top_hz, rest = points[i].loss_db - k1 * sqrt(b) - k2 * b;
		squares += rest * rest;
		if (residuals)
			residuals[i] = rest;
		if (fabs(rest) > fabs(fit->worst_db)) {
			fit->worst_db = rest;
			fit->worst = i;
		}
	}
	fit->rms_db = sqrt(squares / (double)count);
	/* One that is held at 0 is stated, not fitted: the other alone takes a degree of freedom. */
	size_t fitted = fit->held_at_zero ? 1 : 2;
	if (count <= fitted)
		return;
	double variance = squares / (double)(count - fitted);
	if (fit->held_at_zero) {
		*(k1 > 0 ? &fit->u_k1 : &fit->u_k2) = sqrt(variance / (k1 > 0 ? c->aa : c->plain_bb));
		return;
	}
	fit->u_k2 = sqrt(variance / c->bb);
	fit->u_k1 = sqrt(variance * (1 / c->aa + c->ab * c->ab / (c->aa * c->aa * c->bb)));
}

static bool in_range(const hs_coax_fit *fit, hs_error *error)
{
	double same;
	return hs_give("k1 for a metre", fit->law.k1, &same, error) &&
	       hs_give("k2 for a metre", fit->law.k2, &same, error) &&
	       hs_give("the scatter about the law", fit->rms_db, &same, error) &&
	       hs_give("the uncertainty of k1", fit->u_k1, &same, error) &&
	       hs_give("the uncertainty of k2", fit->u_k2, &same, error);
}

bool hs_coax_fit_law(const hs_loss_point *points, size_t count, double per_m, hs_coax_fit *out, double *residuals,
                     hs_error *error)
{
	if (!hs_want_above("the length of the table", per_m, 0, HS_METRE, error) || !check_points(points, count, error))
		return false;
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	bool good = hs_loss_table_make(arena, points, count, &table, error);
	hs_coax_fit fit = {0};
	if (good) {
		double k1, k2;
		columns c = make_columns(points, count);
		solve(&c, &k1, &k2, &fit.held_at_zero);
		scatter(points, count, &c, k1, k2, &fit, residuals);
		double root = sqrt(c.top_hz) * per_m, whole = c.top_hz * per_m;
		fit.u_k1 /= root;
		fit.u_k2 /= whole;
		fit.law = (hs_coax_law){k1 / root, k2 / whole, table.points[0].freq_hz,
		                        table.points[table.count - 1].freq_hz};
		good = in_range(&fit, error);
	}
	if (good)
		*out = fit;
	hs_arena_free(arena);
	return good;
}
