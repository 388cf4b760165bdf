/* Leads: what is joined and taken off before a step, and in which state of the unit. */
#include "core/engine/next_parts.h"

#include <string.h>

static bool carries(const hs_engine *engine, int point)
{
	if (point < 0)
		return false;
	const hs_bench_unit *unit = &engine->playbook->unit;
	if (unit->points[point].dc_v > 0.0)
		return true;
	for (int i = 0; i < unit->emitter_count; i++)
		if (strcmp(unit->emitters[i].id, unit->points[point].id) == 0)
			return true;
	return false;
}

/* A lead that joins a line which can carry DC, charge or transmitted power is joined, and taken off, with the power off. */
static bool joins_a_live_line(const hs_engine *engine, const hs_joined *joined)
{
	return joined->hookup != NULL && !hs_hookup_touches(joined->hookup) && carries(engine, joined->point);
}

/* from_live: something is taken off a line that may carry power. */
static bool join_power(const hs_engine *engine, bool from_live, int point, int step, hs_ask *ask)
{
	hs_target target = {.state = HS_POWER_UNKNOWN, .zones = 0, .may_be_open = UINT64_MAX, .emitter = -1, .step = step};
	/* While nothing is known of the power, it may be keyed. */
	if (carries(engine, point) || from_live || engine->state->physical.power == HS_POWER_UNKNOWN)
		target.state = HS_POWER_OFF;
	return hs_way_there(engine, &target, step, ask);
}

/* True when no source is joined; else *ask is taking it off, or the gate before. power_off: it comes off with the power off in any case. */
static bool source_off(const hs_engine *engine, bool power_off, int step, hs_ask *ask)
{
	if (engine->state->source.hookup == NULL)
		return true;
	if (join_power(engine, power_off, -1, step, ask))
		*ask = hs_ask_of(HS_ASK_PART, step, 0);
	return false;
}

bool hs_next_parted_source(const hs_engine *engine, int step, hs_ask *ask)
{
	const hs_joined *source = &engine->state->source;
	/* At the end the way home lies behind us already. */
	if (step < 0 && source->hookup != NULL) {
		*ask = hs_ask_of(HS_ASK_PART, step, 0);
		return false;
	}
	return source_off(engine, joins_a_live_line(engine, source), step, ask);
}

bool hs_next_source_at_hand(const hs_engine *engine, int step, hs_ask *ask)
{
	return source_off(engine, true, step, ask);
}

bool hs_next_undriven(const hs_engine *engine, hs_power state, int step, hs_ask *ask)
{
	bool powers = state == HS_POWER_ON || state == HS_POWER_STANDBY;
	return !powers || hs_drive_transmits(&engine->playbook->unit) < 0 || source_off(engine, true, step, ask);
}

/* True when the zone of a point is proved dead, and every zone that lies open beside it. */
static bool dead_around(const hs_engine *engine, int point, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	hs_target dead = {.state = HS_POWER_SHORTED, .zones = hs_zones_exposed(unit, &engine->state->physical), .may_be_open = UINT64_MAX,
	                  .emitter = -1, .step = step};
	if (point >= 0 && unit->points[point].zone >= 0)
		dead.zones |= 1u << unit->points[point].zone;
	return hs_way_there(engine, &dead, step, ask);
}

static bool behind(const hs_bench_unit *unit, int point, uint64_t covers)
{
	if (point < 0)
		return false;
	int zone = unit->points[point].zone, guard = zone >= 0 ? unit->zones[zone].guard : -1;
	uint64_t over = hs_opened_with(unit, unit->points[point].behind) | (guard >= 0 ? UINT64_C(1) << guard : 0);
	for (int i = 0; i < unit->openable_count; i++)
		if (((over & covers) >> i & 1u) && unit->openables[i].kind == HS_OPEN_COVER)
			return true;
	return false;
}

bool hs_next_leads_out(const hs_engine *engine, uint64_t covers, int step, hs_ask *ask)
{
	const hs_state *state = engine->state;
	for (int i = 0; i < state->meter_count; i++) {
		const hs_joined *now = &state->meters[i];
		if (!now->attached || now->loose || !behind(&engine->playbook->unit, now->point, covers))
			continue;
		if (dead_around(engine, now->point, step, ask))
			*ask = hs_ask_of(HS_ASK_PART, step, -1 - i);
		return false;
	}
	return true;
}

static bool joins_near_hazard(const hs_engine *engine, int point)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	int zone = point >= 0 ? unit->points[point].zone : -1;
	return zone >= 0 && (hs_zone_is_hazardous(unit, zone) || hs_zones_exposed(unit, &engine->state->physical) != 0);
}

bool hs_next_joined_source(const hs_engine *engine, const hs_step *step, int index, hs_ask *ask)
{
	const hs_injection *inject = &step->inject;
	const hs_joined *now = &engine->state->source;
	bool same = now->hookup == inject->hookup && now->point == inject->point && now->confirmed;
	if (!inject->given || inject->hookup == NULL || same)
		return true;
	/* A lead is joined by hands, so a point inside is as dead as for any other hand there. */
	if (joins_near_hazard(engine, inject->point) && !dead_around(engine, inject->point, index, ask))
		return false;
	if (join_power(engine, joins_a_live_line(engine, now) || hs_drive_transmits(&engine->playbook->unit) >= 0, inject->point, index, ask))
		*ask = hs_ask_of(HS_ASK_JOIN, index, 0);
	return false;
}

static bool attach_dead(const hs_engine *engine, const hs_step *step, int index, int item, hs_ask *ask)
{
	hs_target dead = {.state = HS_POWER_SHORTED, .zones = hs_step_zones(engine->playbook, step), .may_be_open = UINT64_MAX,
	                  .emitter = -1, .step = index};
	dead.zones |= hs_zones_exposed(&engine->playbook->unit, &engine->state->physical);
	if (hs_way_there(engine, &dead, index, ask))
		*ask = hs_ask_of(HS_ASK_JOIN, index, 1 + item);
	return false;
}

/* What was attached behind a guard comes off, dead, before anything else is read; several may hang there for one step. */
static bool parted_attached(const hs_engine *engine, const hs_step *step, int index, const hs_joined *wanted, hs_ask *ask)
{
	const hs_state *state = engine->state;
	for (int i = 0; i < state->meter_count; i++) {
		const hs_joined *now = &state->meters[i];
		bool same = now->hookup == wanted->hookup && now->point == wanted->point;
		if (!now->attached || (step->attach_dead && (same || !hs_joined_share(now->hookup, wanted->hookup))))
			continue;
		if (dead_around(engine, now->point, index, ask))
			*ask = hs_ask_of(HS_ASK_PART, index, -1 - i);
		return false;
	}
	return true;
}

/* Joining this takes something off a line that may carry power. */
static bool takes_off_live(const hs_engine *engine, const hs_joined *wanted)
{
	const hs_state *state = engine->state;
	for (int i = 0; i < state->meter_count; i++)
		if (hs_joined_share(state->meters[i].hookup, wanted->hookup) && joins_a_live_line(engine, &state->meters[i]))
			return true;
	return false;
}

/*
 * True when the meter is where it is wanted. Most joining goes without saying; it is asked on a line that can carry something, behind a
 * guard, and whenever the step keys: nothing is joined, or held to a point, once it transmits.
 */
static bool joined_meter(const hs_engine *engine, const hs_step *step, int index, int item, hs_ask *ask)
{
	if (item < 0 || (size_t)item >= step->reading_count || step->readings[item].hookup == NULL)
		return true;
	const hs_reading *reading = &step->readings[item];
	const hs_joined wanted = hs_joined_for(reading, step->attach_dead, true);
	const hs_joined *now = hs_joined_meter(engine->state, reading);
	bool keyed = hs_step_need(engine->playbook, step) == HS_NEED_KEYED && !reading->loose;
	bool asked = step->attach_dead || joins_a_live_line(engine, &wanted) || keyed;
	if (!parted_attached(engine, step, index, &wanted, ask))
		return false;
	if (now != NULL && now->attached == wanted.attached && (now->confirmed || !asked))
		return true;
	if (step->attach_dead)
		return attach_dead(engine, step, index, item, ask);
	bool from_live = takes_off_live(engine, &wanted);
	if (!asked && !from_live)
		return true;
	if (join_power(engine, from_live, reading->point, index, ask))
		*ask = hs_ask_of(HS_ASK_JOIN, index, 1 + item);
	return false;
}

/* Cannot hang on the unit together with what is read before it from `item` on. */
static bool in_the_way(const hs_step *step, size_t item, size_t later)
{
	for (size_t i = item; i < later; i++)
		if (step->readings[i].hookup != NULL && hs_joined_share(step->readings[i].hookup, step->readings[later].hookup))
			return true;
	return false;
}

bool hs_next_joined_for(const hs_engine *engine, const hs_step *step, int index, int item, hs_ask *ask)
{
	if (!joined_meter(engine, step, index, item, ask))
		return false;
	if (hs_step_need(engine->playbook, step) != HS_NEED_KEYED)
		return true;
	for (size_t i = (size_t)item + 1; i < step->reading_count; i++)
		if (step->readings[i].hookup != NULL && !in_the_way(step, (size_t)item, i) && !joined_meter(engine, step, index, (int)i, ask))
			return false;
	return true;
}
