/* The way a signal takes through a line-up, with its frequencies and gains, looked up once. */
#include <math.h>
#include <string.h>
#include "lineup_parts.h"

enum { DEPTH_MOST = 8 };

typedef struct laying {
	const hs_lineup *lineup;
	const hs_injected *injected;
	const hs_line_settings *settings;
	const hs_effect *fault;
	hs_route *route;
	hs_error *error;
	int depth;
} laying;

/* A stretch of steps that was laid. */
typedef struct stretch {
	size_t first, count;
	double out_hz;
	bool at_most;
	bool by_itself; /* it begins at a source of the unit's own */
	int parted;
} stretch;

static bool lay(laying *l, int to, int stop, double freq_hz, stretch *out);

static const char *title_of(const hs_element *element)
{
	return element->title ? element->title : element->id;
}

/* Whatever went wrong at one element names it. */
static bool fail_of(const laying *l, const hs_element *element)
{
	if (l->error) {
		hs_error inner = *l->error;
		hs_fail(l->error, inner.code, "%.100s in the line-up \"%s\": %.300s", element->id, l->lineup->id, inner.message);
		hs_fail_hint(l->error, "%s", inner.hint);
	}
	return false;
}

static int position_of(const laying *l, int control)
{
	return control >= 0 && (size_t)control < l->settings->count ? l->settings->set[control] : 0;
}

/* Where a switch's signal comes from. -2 with an error when nobody knows. */
static int way_of(laying *l, int at, const hs_element *element)
{
	int position = position_of(l, element->control);
	for (const hs_effect *fault = l->fault; fault; fault = fault->also)
		if (fault->kind == HS_EFFECT_STUCK && fault->element == at)
			position = (int)fault->value;
	if (position <= 0 || position > element->way_count) {
		hs_fail(l->error, HS_BAD_INPUT, "where the switch %s stands is not known, and the way goes through it",
		        element->id);
		return -2;
	}
	return element->ways[position - 1];
}

static bool fail_unfed(laying *l, const hs_element *end, int to)
{
	return hs_fail(l->error, HS_BAD_INPUT, "nothing goes in at %s, so nothing is known of %s", title_of(end),
	               title_of(&l->lineup->elements[to]));
}

/*
 * From `to` backwards until `stop` (not taken), what is injected (not taken) or a source (taken). *found says what came first.
 * false: an error, or no way at all.
 */
static bool walk_back(laying *l, int to, int stop, int *path, size_t *count, int *parted, bool *by_itself)
{
	int at = to;
	*count = 0;
	*by_itself = false;
	while (at >= 0 && at != stop) {
		const hs_element *element = &l->lineup->elements[at];
		if (at == l->injected->element && (at != to || stop < 0))
			return true;
		if (*count == HS_ELEMENTS_MOST)
			return hs_fail(l->error, HS_BAD_INPUT, "the line-up \"%s\" feeds itself", l->lineup->id);
		path[(*count)++] = at;
		if (element->kind == HS_ELEMENT_JOINT && element->openable >= 0 && (l->settings->open >> element->openable & 1u))
			*parted = at;
		if (hs_element_begins(element)) {
			*by_itself = true;
			return true;
		}
		int before = element->kind == HS_ELEMENT_SWITCH ? way_of(l, at, element) : element->from;
		if (before == -2)
			return false;
		if (before < 0)
			return fail_unfed(l, element, to);
		at = before;
	}
	return true;
}

static bool tuned_hz(laying *l, const hs_element *element, double *hz)
{
	const hs_tuning *tuned = &element->tuned;
	*hz = tuned->hz;
	if (tuned->control < 0)
		return true;
	int position = position_of(l, tuned->control);
	if (position <= 0 || position > tuned->position_count || !(tuned->by_position[position - 1] > 0))
		return hs_fail(l->error, HS_BAD_INPUT, "the frequency of %s hangs on a control, and for where that stands none is known",
		               element->id);
	*hz = tuned->by_position[position - 1];
	return true;
}

static bool lay_beside(laying *l, hs_route_step *step, int to, int stop, double freq_hz, double *out_hz)
{
	stretch side;
	if (l->depth == DEPTH_MOST)
		return hs_fail(l->error, HS_BAD_INPUT, "the line-up \"%s\" drives itself", l->lineup->id);
	l->depth++;
	bool good = lay(l, to, stop, freq_hz, &side);
	l->depth--;
	if (!good)
		return false;
	step->side = (uint16_t)side.first;
	step->side_count = (uint16_t)side.count;
	step->side_parted = side.parted >= 0;
	step->side_start = side.by_itself ? -INFINITY : l->injected->level;
	if (out_hz)
		*out_hz = side.out_hz;
	return true;
}

static bool pass_mixer(laying *l, hs_route_step *step, const hs_element *element, double *freq_hz)
{
	double lo = 0;
	if (element->lo >= 0 && !lay_beside(l, step, element->lo, -1, 0, &lo))
		return false;
	if (element->tuned.given && element->tuned.to_hz > 0) {
		*freq_hz = element->tuned.to_hz;
		return true;
	}
	if (element->tuned.given && !tuned_hz(l, element, &lo))
		return false;
	double out = element->sum ? *freq_hz + lo : fabs(*freq_hz - lo);
	if (!(out > 0))
		return hs_fail(l->error, HS_BAD_INPUT, "signal and oscillator have one frequency, so nothing comes out of the mixer");
	*freq_hz = out;
	return true;
}

static bool levels_here(const laying *l, const hs_element *element)
{
	return element->when_control < 0 || position_of(l, element->when_control) == element->when_position;
}

/* What an element makes of the frequency, and what acts on it from beside. */
static bool pass(laying *l, hs_route_step *step, const hs_element *element, double *freq_hz)
{
	switch (element->kind) {
	case HS_ELEMENT_OSCILLATOR:
		return (element->locks < 0 || lay_beside(l, step, element->locks, -1, 0, NULL)) && tuned_hz(l, element, freq_hz);
	case HS_ELEMENT_SUPPLY:
		*freq_hz = 0;
		return true;
	case HS_ELEMENT_MIXER:
		return pass_mixer(l, step, element, freq_hz);
	case HS_ELEMENT_LEVELLER:
		step->looks = element->detector >= 0 && levels_here(l, element);
		return !step->looks || lay_beside(l, step, element->detector, step->element, *freq_hz, NULL);
	default:
		if (element->times > 0)
			*freq_hz *= element->times;
		return true;
	}
}

static bool look_up(laying *l, size_t at, bool last, double *freq_hz)
{
	/* Laying what stands beside may not move the steps: they are an array of fixed size. */
	hs_route_step *step = &l->route->steps[at];
	const hs_element *element = &l->lineup->elements[step->element];
	step->freq_hz = *freq_hz;
	if (!pass(l, step, element, freq_hz))
		return fail_of(l, element);
	double at_hz = element->kind == HS_ELEMENT_OSCILLATOR ? *freq_hz : step->freq_hz;
	if (!hs_response_at(&element->gain, at_hz, &step->gain_db, l->error))
		return fail_of(l, element);
	/* Only who reads there sees the tap; what a line drives or locks gets all of it. */
	step->tapped = last && element->has_tap && l->depth == 0;
	if (step->tapped && !hs_response_at(&element->tap, *freq_hz, &step->tap_db, l->error))
		return fail_of(l, element);
	return true;
}

static bool lay(laying *l, int to, int stop, double freq_hz, stretch *out)
{
	int path[HS_ELEMENTS_MOST];
	bool by_itself;
	hs_route *route = l->route;
	*out = (stretch){.first = route->used, .out_hz = freq_hz, .parted = -1};
	if (!walk_back(l, to, stop, path, &out->count, &out->parted, &by_itself))
		return false;
	if (route->used + out->count > HS_ROUTE_MOST)
		return hs_fail(l->error, HS_BAD_INPUT, "the way to %s has more than %d elements with all that acts on it",
		               title_of(&l->lineup->elements[to]), HS_ROUTE_MOST);
	route->used = (uint16_t)(route->used + out->count);
	out->by_itself = by_itself;
	if (!by_itself && stop < 0)
		out->out_hz = l->injected->freq_hz;
	for (size_t i = 0; i < out->count; i++) {
		hs_route_step *step = &route->steps[out->first + i];
		*step = (hs_route_step){.element = path[out->count - 1 - i]};
		out->at_most |= l->lineup->elements[step->element].at_most;
		if (!look_up(l, out->first + i, i + 1 == out->count, &out->out_hz))
			return false;
	}
	return true;
}

bool hs_lineup_route(const hs_lineup *lineup, const hs_injected *injected, int to, const hs_line_settings *settings,
                     const hs_effect *fault, hs_route *out, hs_error *error)
{
	static const hs_injected nothing = {.element = -1};
	stretch way;
	out->lineup = lineup;
	out->used = 0;
	laying l = {.lineup = lineup, .injected = injected ? injected : &nothing, .settings = settings, .fault = fault,
	            .route = out, .error = error};
	if (!lay(&l, to, -1, 0, &way))
		return false;
	out->count = (uint16_t)way.count;
	out->out_hz = way.out_hz;
	out->at_most = way.at_most;
	out->parted = way.parted;
	out->volts = lineup->elements[to].volts;
	out->start = l.injected->level;
	out->negative = out->volts && !(out->out_hz > 0) &&
	                (way.by_itself ? lineup->elements[out->steps[0].element].negative : l.injected->negative);
	/* What is put in through a tap arrives weaker by what the tap takes off. */
	const hs_element *in = l.injected->element >= 0 ? &lineup->elements[l.injected->element] : NULL;
	double tap = 0;
	if (in && in->has_tap && l.injected->element != to) {
		if (!hs_response_at(&in->tap, l.injected->freq_hz, &tap, error))
			return fail_of(&l, in);
		out->start += tap;
	}
	return true;
}
