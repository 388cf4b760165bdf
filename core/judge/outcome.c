/* The decision rule: guard bands on both sides of each limit. */
#include <math.h>
#include "halfsplit/base/text.h"
#include "halfsplit/judge/outcome.h"

#define RELATIVE_SLACK 1e-9
#define STEP_SLACK     1e-3

static const char *const names[HS_OUTCOME_COUNT] = {"low", "ok", "high", "unsure", "unread"};

const char *hs_outcome_name(hs_outcome outcome)
{
	return names[outcome];
}

bool hs_outcome_find(const char *name, hs_outcome *out)
{
	for (int i = 0; i < HS_OUTCOME_COUNT; i++) {
		if (hs_same_word(name, names[i])) {
			*out = (hs_outcome)i;
			return true;
		}
	}
	return false;
}

/* One limit seen from the value: how far inside it lies (negative: outside), what counts as no distance at all. */
typedef struct side {
	double inside, slack, guard;
} side;

static side side_of(double limit, double value, bool high, double guard, double step)
{
	double scale = fmax(fabs(limit), guard);
	if (isfinite(value))
		scale = fmax(scale, fabs(value));
	return (side){
	    .inside = high ? limit - value : value - limit,
	    .slack = fmax(RELATIVE_SLACK * scale, STEP_SLACK * step),
	    .guard = guard,
	};
}

/* At exactly a guard band from the limit it is decided, on either side: the risk is 2.3 % there and less beyond. */
static bool surely_inside(side s)
{
	return s.inside >= s.guard - s.slack;
}

static bool surely_outside(side s)
{
	return !surely_inside(s) && s.inside <= -s.guard + s.slack;
}

/* P(true value beyond the limit), normal with u = U/2. */
static double beyond_probability(side s)
{
	if (s.guard == 0)
		return s.inside < -s.slack ? 1 : 0;
	return 0.5 * erfc(s.inside / (s.guard / 2) / sqrt(2));
}

hs_verdict hs_judge(const hs_limits *limits, double value, double expanded_u, double step)
{
	hs_verdict verdict = {.outcome = HS_UNREAD, .guard = expanded_u};
	if (isnan(value) || isnan(expanded_u) || expanded_u < 0)
		return verdict;
	side low = {.inside = INFINITY}, high = {.inside = INFINITY};
	if (limits->has_low)
		low = side_of(limits->low, value, false, expanded_u, step);
	if (limits->has_high)
		high = side_of(limits->high, value, true, expanded_u, step);
	verdict.near_high = high.inside < low.inside;
	side near = verdict.near_high ? high : low;
	if (surely_outside(low))
		verdict.outcome = HS_LOW;
	else if (surely_outside(high))
		verdict.outcome = HS_HIGH;
	else if (surely_inside(low) && surely_inside(high))
		verdict.outcome = HS_OKAY;
	else
		verdict.outcome = HS_UNSURE;
	verdict.beyond = near.inside < -near.slack;
	verdict.probability = isinf(near.inside) && near.inside > 0 ? 0 : beyond_probability(near);
	return verdict;
}

/* The true value lies anywhere above the bound, or anywhere below it. */
static hs_outcome judge_one_way(const hs_limits *limits, double bound, bool above, double guard)
{
	bool has_far = above ? limits->has_high : limits->has_low,
	     has_near = above ? limits->has_low : limits->has_high;
	if (has_far) {
		side far = side_of(above ? limits->high : limits->low, bound, above, guard, 0);
		return far.inside <= -far.guard + far.slack ? (above ? HS_HIGH : HS_LOW) : HS_UNSURE;
	}
	if (!has_near || surely_inside(side_of(above ? limits->low : limits->high, bound, !above, guard, 0)))
		return HS_OKAY;
	return HS_UNSURE;
}

hs_verdict hs_judge_bound(const hs_limits *limits, hs_entry_kind kind, double bound, const double *range_top,
                          double expanded_u)
{
	hs_verdict verdict = {.outcome = HS_UNREAD, .guard = expanded_u, .probability = 0.5};
	bool above = kind != HS_ENTRY_BELOW;
	if (kind == HS_ENTRY_NUMBER)
		return hs_judge(limits, bound, expanded_u, 0);
	if (kind == HS_ENTRY_OPEN || (kind == HS_ENTRY_OVER && limits->open_is_ok))
		bound = INFINITY;
	else if (kind == HS_ENTRY_OVER && range_top)
		bound = *range_top;
	else if (kind == HS_ENTRY_OVER)
		bound = -INFINITY;
	if (kind == HS_ENTRY_UNREAD || isnan(bound) || isnan(expanded_u) || expanded_u < 0 ||
	    (kind == HS_ENTRY_OPEN && limits->unit != HS_OHM)) {
		verdict.probability = 0;
		return verdict;
	}
	verdict.outcome = judge_one_way(limits, bound, above, expanded_u);
	verdict.near_high = above ? limits->has_high : !limits->has_low;
	double near = verdict.near_high ? limits->high : limits->low;
	verdict.beyond = isfinite(bound) && (verdict.near_high ? bound > near : bound < near);
	return verdict;
}

bool hs_undecidable(const hs_limits *limits, double expanded_u)
{
	return limits->has_low && limits->has_high && 2 * expanded_u >= limits->high - limits->low;
}
