/* What the unit's line-ups say of this very unit: its own deviations, and the fault where it strikes one of their elements. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "halfsplit/base/alloc.h"
#include "halfsplit/engine/walk.h"
#include "halfsplit/model/expect.h"
#include "sim_parts.h"

/* How the unit stands, as far as a way depends on it. */
typedef struct standing {
	hs_sim_fault fault;
	bool acts[2];
	uint64_t open;
	uint8_t set[HS_CONTROLS_MOST];
} standing;

#define STRUCK_MOST 8

struct hs_sim_way {
	standing for_this;
	bool leads;
	bool struck;
	hs_effect effects[STRUCK_MOST]; /* of all faults that act, one the next of the other */
	hs_route route;
	double impedance_ohm;
};

#define NOTHING_DBM (-100.0) /* what a meter shows where no signal comes */

void hs_sim_lines_begin(hs_sim *sim)
{
	for (size_t i = 0; sim->deviates != NULL && i < sim->playbook->lineup_count; i++)
		sim->deviates[i] = false;
}

void hs_sim_lines_free(hs_sim *sim)
{
	for (size_t i = 0; sim->ways != NULL && i < sim->playbook->slot_count; i++)
		free(sim->ways[i]);
	for (size_t i = 0; sim->deviations != NULL && i < sim->playbook->lineup_count; i++)
		free(sim->deviations[i]);
	free(sim->ways);
	free(sim->deviations);
	free(sim->deviates);
}

static void make_room(hs_sim *sim)
{
	if (sim->ways != NULL)
		return;
	size_t slots = sim->playbook->slot_count, lineups = sim->playbook->lineup_count;
	sim->ways = hs_alloc((slots + 1) * sizeof *sim->ways);
	sim->deviations = hs_alloc((lineups + 1) * sizeof *sim->deviations);
	sim->deviates = hs_alloc((lineups + 1) * sizeof *sim->deviates);
	memset(sim->ways, 0, (slots + 1) * sizeof *sim->ways);
	memset(sim->deviates, 0, (lineups + 1) * sizeof *sim->deviates);
	for (size_t i = 0; i < lineups; i++)
		sim->deviations[i] = hs_alloc(HS_DEVIATIONS(sim->playbook->lineups[i].count) * sizeof **sim->deviations);
}

/* One draw for each element's gain, its limit and its tap; they stay what they are through the run. */
static const double *deviations_of(hs_sim *sim, const hs_lineup *lineup)
{
	size_t at = (size_t)(lineup - sim->playbook->lineups);
	if (sim->seed == 0)
		return NULL;
	for (size_t i = 0; !sim->deviates[at] && i < HS_DEVIATIONS(lineup->count); i++)
		sim->deviations[at][i] = hs_sim_drawn(sim, lineup->elements[i % lineup->count].id, (i / lineup->count + 1) << 40 | at << 48);
	sim->deviates[at] = true;
	return sim->deviations[at];
}

/* A meter on a level or on volts; ohms and diodes are read on parts, not on the line. */
static bool is_of_a_line(const hs_reading *reading)
{
	hs_measurand reads = hs_reading_measurand(reading);
	return !reading->loose && reading->leads == HS_LEADS_NONE &&
	       (reads == HS_READS_POWER || reads == HS_READS_VOLTS || reads == HS_READS_AC_VOLTS);
}

/* The line-up the reading is expected by; else the one that its step puts a signal into, or that makes its own. */
static const hs_lineup *lineup_of(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading)
{
	if (reading->expects != NULL)
		return reading->expects->lineup;
	const hs_lineup *lineup = is_of_a_line(reading) ? hs_expect_lineup(playbook, step, reading) : NULL;
	if (lineup == NULL || (step->inject.given && hs_lineup_at_point(lineup, step->inject.point) < 0))
		return NULL;
	return lineup;
}

/* A control of which nobody knows where it stands is found in its first position, as it is answered. */
static void stands(const hs_sim *sim, const hs_engine *engine, const hs_step *step, const hs_reading *reading, standing *out)
{
	const hs_bench_unit *unit = &sim->playbook->unit;
	memset(out, 0, sizeof *out);
	out->fault = sim->fault;
	for (size_t i = 0; i < 2; i++)
		out->acts[i] = hs_sim_fault_acts(sim, i);
	out->open = hs_engine_open_list(engine);
	for (int i = 0; i < unit->control_count; i++) {
		int needed = reading->set[i] != 0 ? reading->set[i] : step->set[i];
		int there = needed != 0 ? needed : hs_engine_position(engine, i);
		out->set[i] = (uint8_t)(there != 0 ? there : 1);
	}
}

static void strike(const hs_sim *sim, const hs_lineup *lineup, hs_sim_way *way)
{
	hs_struck struck[STRUCK_MOST];
	size_t used = 0;
	for (size_t fault = 0; fault < sim->faults; fault++) {
		const hs_suspect *suspect = &sim->playbook->suspects[sim->suspects[fault]];
		size_t count = way->for_this.acts[fault]
		                   ? hs_struck_by(sim->playbook, sim->suspects[fault], suspect->modes[sim->modes[fault]], struck, STRUCK_MOST)
		                   : 0;
		for (size_t i = 0; i < count && i < STRUCK_MOST && used < STRUCK_MOST; i++)
			if (struck[i].lineup == lineup)
				way->effects[used++] = struck[i].effect;
	}
	for (size_t i = 0; i < used; i++)
		way->effects[i].also = i + 1 < used ? &way->effects[i + 1] : NULL;
	way->struck = used > 0;
}

/* A drift as far as it has come by now; the rest is what it is. */
static const hs_effect *by_now(const hs_sim *sim, const hs_sim_way *way, hs_effect now[STRUCK_MOST])
{
	bool drifts = false;
	for (const hs_effect *effect = way->struck ? way->effects : NULL; effect != NULL; effect = effect->also)
		drifts = drifts || effect->kind == HS_EFFECT_DRIFT;
	if (!drifts)
		return way->struck ? way->effects : NULL;
	size_t count = 0;
	for (const hs_effect *effect = way->effects; effect != NULL; effect = effect->also) {
		now[count] = *effect;
		if (effect->kind == HS_EFFECT_DRIFT && effect->warm_minutes > 0.0)
			now[count].value *= fmin(1.0, sim->powered_min / effect->warm_minutes);
		now[count].also = effect->also != NULL ? &now[count + 1] : NULL;
		count++;
	}
	return now;
}

static double impedance_of(const hs_playbook *playbook, const hs_lineup *lineup, const hs_reading *reading)
{
	double point = reading->point >= 0 ? playbook->unit.points[reading->point].impedance_ohm : 0.0;
	int at = hs_lineup_at_point(lineup, reading->point);
	return point > 0.0 || at < 0 ? point : lineup->elements[at].impedance_ohm;
}

static bool find_way(const hs_sim *sim, const hs_step *step, const hs_reading *reading, const hs_lineup *lineup, hs_sim_way *way,
                     hs_error *error)
{
	hs_line_settings settings = {.set = way->for_this.set, .count = HS_CONTROLS_MOST, .open = way->for_this.open};
	strike(sim, lineup, way);
	way->impedance_ohm = impedance_of(sim->playbook, lineup, reading);
	way->leads = hs_expect_route(sim->playbook, step, reading, lineup, &settings, way->struck ? way->effects : NULL, &way->route,
	                             reading->expects != NULL ? error : NULL);
	return way->leads || reading->expects == NULL;
}

static bool way_to(hs_sim *sim, const hs_engine *engine, const hs_step *step, const hs_reading *reading, const hs_lineup *lineup,
                   hs_sim_way **out, hs_error *error)
{
	standing now;
	hs_sim_way **way = &sim->ways[reading->slot];
	stands(sim, engine, step, reading, &now);
	*out = *way;
	if (*way != NULL && memcmp(&(*way)->for_this, &now, sizeof now) == 0)
		return true;
	if (*way == NULL)
		*out = *way = hs_alloc(sizeof **way);
	(*way)->for_this = now;
	if (find_way(sim, step, reading, lineup, *way, error))
		return true;
	free(*way);
	*way = NULL;
	return false;
}

/* A meter never shows less than it can, and never what cannot be there at all. */
static double least_shown(const hs_reading *reading)
{
	return reading->has_plausible && reading->plausible.has_low ? reading->plausible.low + 10.0 : NOTHING_DBM;
}

bool hs_sim_line_level(hs_sim *sim, const hs_engine *engine, const hs_step *step, const hs_reading *reading, bool *says, hs_quantity *out,
                       hs_error *error)
{
	hs_sim_way *way;
	const hs_lineup *lineup = lineup_of(sim->playbook, step, reading);
	*says = false;
	if (lineup == NULL)
		return true;
	make_room(sim);
	if (!way_to(sim, engine, step, reading, lineup, &way, error))
		return false;
	if (!way->leads)
		return true;
	hs_effect now[STRUCK_MOST];
	double level = hs_route_level(&way->route, by_now(sim, way, now), deviations_of(sim, lineup), NULL);
	hs_prediction scale = {.volts = way->route.volts, .negative = way->route.negative};
	*says = true;
	if (!scale.volts || hs_unit_is_level(reading->unit))
		level = fmax(level, least_shown(reading));
	return hs_quantity_convert(hs_prediction_level(&scale, level), reading->unit, way->impedance_ohm, out, error);
}
