/* The worst that can happen while something is faulty: for protection, before anything is joined. */
#include <math.h>
#include "halfsplit/lineup/lineup.h"

typedef bool looker(const hs_route *route, const hs_effect *effect, const double *upper, double crest_db, hs_worst *worst);

typedef struct searching {
	const hs_lineup *lineup;
	const hs_injected *injected;
	int to;
	const hs_line_settings *settings;
	double crest_db;
	looker *look;
	hs_worst *worst;
	bool any;
	const hs_route *usual; /* the way of the healthy unit; NULL: it is not known, or there is none */
	hs_error *error;
	double upper[HS_DEVIATIONS(HS_ELEMENTS_MOST)];
} searching;

/* Every tolerance at the end that gives more. */
static void upper_ends(const hs_lineup *lineup, double *upper)
{
	for (size_t i = 0; i < HS_DEVIATIONS(lineup->count); i++)
		upper[i] = 1;
}

static bool find_way(const searching *s, const hs_effect *effect, hs_route *out, hs_error *error)
{
	return hs_lineup_route(s->lineup, s->injected, s->to, s->settings, effect, out, error);
}

/* Only a switch that is stuck turns the signal from its usual way. It may leave none at all; that is no danger. */
static void try_fault(searching *s, const hs_effect *effect)
{
	hs_route turned;
	bool stuck = effect && effect->kind == HS_EFFECT_STUCK;
	const hs_route *way = stuck ? (find_way(s, effect, &turned, NULL) ? &turned : NULL) : s->usual;
	if (way && s->look(way, effect, s->upper, s->crest_db, s->worst))
		s->any = true;
}

static void try_element(searching *s, int at)
{
	const hs_element *element = &s->lineup->elements[at];
	for (size_t i = 0; i < element->fault_count; i++)
		try_fault(s, &element->faults[i].effect);
	hs_effect effect = {.kind = HS_EFFECT_LOST, .element = at};
	if (element->kind == HS_ELEMENT_LEVELLER || element->holds)
		try_fault(s, &effect);
	effect.kind = HS_EFFECT_STUCK;
	for (int i = 1; i <= element->way_count; i++) {
		effect.value = i;
		if (element->kind == HS_ELEMENT_SWITCH && element->ways[i - 1] >= 0)
			try_fault(s, &effect);
	}
}

static bool search(searching *s, const bool *open)
{
	hs_route usual;
	upper_ends(s->lineup, s->upper);
	s->usual = find_way(s, NULL, &usual, s->error) ? &usual : NULL;
	try_fault(s, NULL);
	for (size_t i = 0; i < s->lineup->count; i++) {
		int suspect = s->lineup->elements[i].suspect;
		if (!open || (suspect >= 0 && open[suspect]))
			try_element(s, (int)i);
	}
	s->usual = NULL;
	return s->any;
}

static bool highest(const hs_route *route, const hs_effect *effect, const double *upper, double crest_db, hs_worst *worst)
{
	double level = hs_route_level(route, effect, upper, NULL);
	(void)crest_db;
	if (level > worst->level) {
		worst->level = level;
		worst->effect = effect ? *effect : (hs_effect){.kind = HS_EFFECT_NONE, .element = -1};
	}
	return true;
}

static bool most_overdriven(const hs_route *route, const hs_effect *effect, const double *upper, double crest_db, hs_worst *worst)
{
	double levels[HS_ROUTE_MOST], before = route->start;
	hs_route_level(route, effect, upper, levels);
	for (size_t i = 0; i < route->count; i++) {
		const hs_element *element = &route->lineup->elements[route->steps[i].element];
		double over = element->has_max ? before - element->max : -INFINITY;
		if (element->has_peak)
			over = fmax(over, before + crest_db - element->peak);
		if (over > 0 && over > worst->over_db) {
			worst->over_db = over;
			worst->level = before;
			worst->element = route->steps[i].element;
			worst->effect = effect ? *effect : (hs_effect){.kind = HS_EFFECT_NONE, .element = -1};
		}
		before = levels[i];
	}
	return true;
}

bool hs_lineup_worst(const hs_lineup *lineup, const hs_injected *injected, int to, const hs_line_settings *settings,
                     const bool *open, hs_worst *out, hs_error *error)
{
	*out = (hs_worst){.level = -INFINITY, .effect = {.element = -1}, .element = -1};
	searching s = {.lineup = lineup, .injected = injected, .to = to, .settings = settings, .look = highest, .worst = out, .error = error};
	return search(&s, open);
}

bool hs_lineup_overdriven(const hs_lineup *lineup, const hs_injected *injected, int to, double crest_db,
                          const hs_line_settings *settings, const bool *open, hs_worst *out, hs_error *error)
{
	*out = (hs_worst){.level = -INFINITY, .effect = {.element = -1}, .element = -1};
	searching s = {.lineup = lineup, .injected = injected, .to = to, .settings = settings, .crest_db = crest_db,
	               .look = most_overdriven, .worst = out, .error = error};
	return search(&s, open);
}
