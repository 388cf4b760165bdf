/* Decision rules: what is said of a result near its limits, and how often that is wrong. */
#include <math.h>
#include "halfsplit/judge/gum.h"
#include "halfsplit/quantity/demand.h"

#define SLACK 1e-9

const char *hs_statement_name(hs_statement statement)
{
	static const char *const names[] = {"pass", "conditional pass", "conditional fail", "fail"};
	return names[statement];
}

/* P(Z > z) of a normal distribution. */
static double above(double z)
{
	return 0.5 * erfc(z / sqrt(2));
}

/* P(true value outside one limit); inside: how far within it the value lies. */
static double outside_one(double inside, double u)
{
	if (u == 0)
		return inside < 0 ? 1 : 0;
	return above(inside / u);
}

typedef struct margins {
	double low, high, least; /* how far inside each limit */
} margins;

/* Two numbers that differ by rounding alone lie on each other: 0.3 - 0.1 is on a limit of 0.2. */
static double settle(double inside, double limit, double value)
{
	return fabs(inside) <= SLACK * fmax(fabs(limit), fabs(value)) ? 0 : inside;
}

static margins margins_of(const hs_limits *limits, double value)
{
	margins m = {INFINITY, INFINITY, INFINITY};
	if (limits->has_low)
		m.low = settle(value - limits->low, limits->low, value);
	if (limits->has_high)
		m.high = settle(limits->high - value, limits->high, value);
	m.least = fmin(m.low, m.high);
	return m;
}

static bool check(const hs_limits *limits, double value, double u, hs_rule rule, double factor, hs_error *error)
{
	if (!limits->has_low && !limits->has_high)
		return hs_fail(error, HS_BAD_INPUT, "the limits have neither a lower nor an upper end");
	if ((limits->has_low && !hs_want_finite("the lower limit", limits->low, error)) ||
	    (limits->has_high && !hs_want_finite("the upper limit", limits->high, error)) ||
	    !hs_want_finite("the value", value, error) ||
	    !hs_want_at_least("the standard uncertainty", u, 0, HS_UNITLESS, error) ||
	    !hs_want_at_least("the guard factor", factor, 0, HS_UNITLESS, error))
		return false;
	if (limits->has_low && limits->has_high && limits->low > limits->high)
		return hs_fail(error, HS_BAD_INPUT, "the lower limit is above the upper one");
	double guard = rule == HS_RULE_SIMPLE ? 0 : factor * u;
	if (rule == HS_RULE_GUARDED && limits->has_low && limits->has_high && guard > 0 &&
	    2 * guard >= limits->high - limits->low) {
		hs_fail(error, HS_BAD_INPUT,
		        "a guard band of %s on both sides leaves nothing to accept between %s and %s",
		        hs_brief_of(guard).text, hs_brief_of(limits->low).text, hs_brief_of(limits->high).text);
		return hs_fail_hint(error, "measure with less uncertainty, or agree on a smaller guard band");
	}
	return true;
}

static hs_statement say(hs_rule rule, double inside, double guard)
{
	double near = SLACK * guard;
	if (inside >= guard - near)
		return HS_PASS;
	if (rule != HS_RULE_FOUR_WAY)
		return HS_FAIL;
	if (inside >= 0)
		return HS_CONDITIONAL_PASS;
	return inside >= -guard - near ? HS_CONDITIONAL_FAIL : HS_FAIL;
}

bool hs_decide(const hs_limits *limits, double value, double standard_u, hs_rule rule, double guard_factor,
               hs_decision *out, hs_error *error)
{
	if (!check(limits, value, standard_u, rule, guard_factor, error))
		return false;
	margins m = margins_of(limits, value);
	hs_decision made = {.guard = rule == HS_RULE_SIMPLE ? 0 : guard_factor * standard_u};
	/* The two tails are added, not taken from one another: they keep their digits when small. */
	double beyond = outside_one(m.low, standard_u) + outside_one(m.high, standard_u);
	made.statement = say(rule, m.least, made.guard);
	made.conform = fmax(0, 1 - beyond);
	if (made.statement == HS_PASS || made.statement == HS_CONDITIONAL_PASS)
		made.false_accept = fmin(1, beyond);
	else
		made.false_reject = made.conform;
	*out = made;
	return true;
}

bool hs_false_accept_most(double guard, double standard_u, double *p, hs_error *error)
{
	return hs_want_at_least("the guard band", guard, 0, HS_UNITLESS, error) &&
	       hs_want_above("the standard uncertainty", standard_u, 0, HS_UNITLESS, error) &&
	       hs_give("the probability", above(guard / standard_u), p, error);
}

bool hs_guard_for(double false_accept, double standard_u, double *guard, hs_error *error)
{
	double z = 0;
	if (!hs_want_above("the probability of a false accept", false_accept, 0, HS_UNITLESS, error) ||
	    !hs_want_between("the probability of a false accept", false_accept, 0, 0.5, HS_UNITLESS, error) ||
	    !hs_want_at_least("the standard uncertainty", standard_u, 0, HS_UNITLESS, error))
		return false;
	/* Of a band around 0 as wide as that, twice the tail lies outside. */
	if (false_accept < 0.5 && !hs_student_factor(1 - 2 * false_accept, INFINITY, &z, error))
		return false;
	return hs_give("the guard band", z * standard_u, guard, error);
}
