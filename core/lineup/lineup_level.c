/* The level at the end of a way. Nothing here takes memory or can fail: a simulation calls it millions of times. */
#include <math.h>
#include "lineup_parts.h"

/* Smoothness of compression, and where saturation lies above P1dB: 1 - (10/p) log10(10^(p/10) - 1). */
#define KNEE          2.0
#define SATURATES_DB  2.164617166681241
#define EASY_DB       45.0 /* so far below saturation it is under a hundred-millionth of a decibel */
#define STARVED_DB    6.0206 /* half the volts */
#define UNDRIVEN_DB   20.0

typedef struct working {
	const hs_route *route;
	const hs_effect *fault;
	const double *deviation;
} working;

static double walk(const working *w, size_t first, size_t count, double level, double *levels);

static double deviates(const working *w, size_t at, double up_db, double down_db)
{
	if (!w->deviation)
		return 0;
	return w->deviation[at] >= 0 ? w->deviation[at] * up_db : w->deviation[at] * down_db;
}

/* What strikes this very element; NULL: nothing. */
static const hs_effect *striking(const working *w, int element)
{
	for (const hs_effect *fault = w->fault; fault; fault = fault->also)
		if (fault->kind != HS_EFFECT_NONE && fault->element == element)
			return fault;
	return NULL;
}

static bool struck_by(const working *w, int element, hs_effect_kind kind)
{
	const hs_effect *fault = striking(w, element);
	return fault && fault->kind == kind;
}

static double compress(double level, double p1db)
{
	double over = level - (p1db + SATURATES_DB);
	if (over < -EASY_DB)
		return level;
	return level - 10.0 / KNEE * log10(1.0 + pow(10.0, KNEE * over / 10.0));
}

/* What a supply has in front of it, nominally, in dBV; minus infinity when no supply says it. */
static double comes_to(const hs_lineup *lineup, const hs_element *supply)
{
	double gain = supply->gain.kind == HS_RESPONSE_FLAT ? supply->gain.gain_db : 0;
	int left = HS_ELEMENTS_MOST;
	for (int at = supply->from; at >= 0 && left-- > 0; at = lineup->elements[at].from) {
		const hs_element *before = &lineup->elements[at];
		if (before->kind == HS_ELEMENT_SUPPLY && (before->holds || before->from < 0))
			return before->level + gain;
		gain += before->gain.kind == HS_RESPONSE_FLAT ? before->gain.gain_db : 0;
	}
	return -INFINITY;
}

/* What a fault leaves of the volts; a regulator behind it has that much to spare. */
static double starves(const hs_effect *fault, double spare_db)
{
	double lacks = fault->value + spare_db;
	switch (fault->kind) {
	case HS_EFFECT_GAIN:
	case HS_EFFECT_DRIFT:
		return lacks < -STARVED_DB ? -INFINITY : lacks < 0 ? lacks : 0;
	case HS_EFFECT_LOST:
	case HS_EFFECT_STUCK:
		return 0;
	default:
		return -INFINITY;
	}
}

/* How far the volts of an element's supply are down, in dB: 0 or less; minus infinity when there are none. */
static double supply_db(const working *w, const hs_element *element)
{
	const hs_lineup *lineup = w->route->lineup;
	double spare = 0;
	int left = HS_ELEMENTS_MOST;
	for (int at = element->supply; w->fault && at >= 0 && left-- > 0; at = lineup->elements[at].from) {
		const hs_effect *fault = striking(w, at);
		if (fault)
			return starves(fault, spare);
		if (lineup->elements[at].holds)
			spare += fmax(0, comes_to(lineup, &lineup->elements[at]) - lineup->elements[at].level);
	}
	return 0;
}

static double fault_db(const working *w, const hs_route_step *step, const hs_element *element)
{
	const hs_effect *fault = striking(w, step->element);
	if (!fault)
		return 0;
	switch (fault->kind) {
	case HS_EFFECT_DEAD:
	case HS_EFFECT_NO_LOCK:
		return -INFINITY;
	case HS_EFFECT_GAIN:
	case HS_EFFECT_DRIFT:
		return fault->value;
	default:
		return -hs_effect_loss(fault, element->impedance_ohm, step->freq_hz);
	}
}

/* What comes from beside, when `level` goes in there. */
static double beside(const working *w, const hs_route_step *step, double level)
{
	return step->side_parted ? -INFINITY : walk(w, step->side, step->side_count, level, NULL);
}

static double mix(const working *w, const hs_route_step *step, const hs_element *element, double level)
{
	if (element->lo < 0)
		return level;
	double drive = beside(w, step, step->side_start);
	double lacks = element->has_needs ? element->needs - drive : isinf(drive) ? INFINITY : 0;
	if (lacks >= UNDRIVEN_DB)
		return -INFINITY;
	return lacks > 0 ? level - lacks : level;
}

/*
 * Turned down until the detector sees what is held. One more decibel down is at most one decibel less at the detector, so each
 * round comes closer from above and none goes past.
 */
static double levelled(const working *w, const hs_route_step *step, const hs_element *element, double level)
{
	size_t n = w->route->lineup->count;
	if (struck_by(w, step->element, HS_EFFECT_HELD))
		return level - element->range_db;
	if (!step->looks || struck_by(w, step->element, HS_EFFECT_LOST))
		return level;
	double hold = element->level + deviates(w, n + (size_t)step->element, element->level_up_db, element->level_down_db);
	double down = 0;
	for (int round = 0; round < 200; round++) {
		double over = beside(w, step, level - down) - hold;
		if (!(over > 1e-9))
			break;
		down += over;
		if (down >= element->range_db)
			return level - element->range_db;
	}
	return level - down;
}

static double oscillates(const working *w, const hs_route_step *step, const hs_element *element)
{
	if (element->locks >= 0) {
		double reference = beside(w, step, step->side_start);
		if (isinf(reference) || (element->has_needs && reference < element->needs))
			return -INFINITY;
	}
	return element->level + deviates(w, (size_t)step->element, element->level_up_db, element->level_down_db);
}

static double limited(const working *w, const hs_route_step *step, const hs_element *element, double level, double starved)
{
	size_t at = w->route->lineup->count + (size_t)step->element;
	if (element->has_p1db)
		level = compress(level, element->p1db + starved + deviates(w, at, element->p1db_up_db, element->p1db_down_db));
	if (!element->holds || struck_by(w, step->element, HS_EFFECT_LOST))
		return level;
	double hold = element->level + deviates(w, at, element->level_up_db, element->level_down_db);
	/* A regulator that gives too little or too much holds that, however much comes in. */
	if (element->kind == HS_ELEMENT_SUPPLY)
		hold += fault_db(w, step, element);
	return level > hold ? hold : level;
}

static double through(const working *w, const hs_route_step *step, double level)
{
	const hs_element *element = &w->route->lineup->elements[step->element];
	double starved = supply_db(w, element);
	double change = fault_db(w, step, element) + starved;
	bool source = hs_element_begins(element);
	if (source)
		level = element->kind == HS_ELEMENT_OSCILLATOR
		            ? oscillates(w, step, element)
		            : element->level + deviates(w, (size_t)step->element, element->level_up_db, element->level_down_db);
	else
		level += step->gain_db + deviates(w, (size_t)step->element, element->gain.up_db, element->gain.down_db);
	level += change;
	if (isinf(level))
		return -INFINITY;
	if (element->kind == HS_ELEMENT_MIXER)
		level = mix(w, step, element, level);
	if (element->kind == HS_ELEMENT_LEVELLER)
		level = levelled(w, step, element, level);
	if (!source)
		level = limited(w, step, element, level, starved);
	if (step->tapped)
		level += step->tap_db + deviates(w, 2 * w->route->lineup->count + (size_t)step->element, element->tap.up_db,
		                                 element->tap.down_db);
	return level;
}

static double walk(const working *w, size_t first, size_t count, double level, double *levels)
{
	for (size_t i = 0; i < count; i++) {
		level = through(w, &w->route->steps[first + i], level);
		if (levels)
			levels[i] = level;
	}
	return level;
}

double hs_route_level(const hs_route *route, const hs_effect *fault, const double *deviations, double *levels)
{
	working w = {.route = route, .fault = fault, .deviation = deviations};
	if (route->parted < 0)
		return walk(&w, 0, route->count, route->start, levels);
	for (size_t i = 0; levels && i < route->count; i++)
		levels[i] = -INFINITY;
	return -INFINITY;
}
