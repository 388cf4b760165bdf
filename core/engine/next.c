/* What is asked next: the judgement says which step and which of its asks; the unit's state says what must come before it. */
#include "core/engine/free.h"

#include <string.h>

static hs_ask ask_of(hs_ask_kind kind, int step, int item)
{
	hs_ask ask;
	memset(&ask, 0, sizeof ask);
	ask.kind = kind;
	ask.step = step;
	ask.item = item;
	ask.gate.subject = -1;
	return ask;
}

static hs_ask gate_ask(const hs_gate *gate, int step)
{
	hs_ask ask = ask_of(HS_ASK_GATE, step, -1);
	ask.gate = *gate;
	ask.earliest_ms = gate->earliest_ms;
	return ask;
}

static hs_power power_wanted(hs_need need)
{
	switch (need) {
	case HS_NEED_DEAD: return HS_POWER_SHORTED; /* with the shorts that its stores warrant */
	case HS_NEED_OFF: return HS_POWER_OFF;
	case HS_NEED_STANDBY: return HS_POWER_STANDBY;
	case HS_NEED_ON: return HS_POWER_ON;
	case HS_NEED_KEYED: return HS_POWER_KEYED;
	default: return HS_POWER_UNKNOWN;
	}
}

static bool energised(hs_power state)
{
	return state == HS_POWER_ON || state == HS_POWER_STANDBY || state == HS_POWER_KEYED;
}

static bool opened(const hs_engine *engine, uint64_t wanted, int step, hs_ask *ask);
static bool leads_out(const hs_engine *engine, uint64_t covers, int step, hs_ask *ask);

/* A change or joint behind a guard is reached only through it, to undo it as well, when the guard went back on meanwhile. */
static int guard_over(const hs_bench_unit *unit, int openable)
{
	const hs_openable *it = &unit->openables[openable];
	return it->kind != HS_OPEN_COVER && it->zone >= 0 ? unit->zones[it->zone].guard : -1;
}

/* True when this may be put back now; else *ask is what comes first. */
static bool ready_to_close(const hs_engine *engine, int openable, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	int guard = guard_over(unit, openable);
	if (guard >= 0 && !opened(engine, UINT64_C(1) << guard, step, ask))
		return false;
	hs_target targets[2];
	int count = hs_targets_to_move(unit, &engine->state->physical, openable, true, step, targets);
	for (int i = 0; i < count; i++) {
		hs_gate gate = {.fact = HS_FACT_NONE, .subject = -1, .pair = 0, .earliest_ms = 0};
		int other = -1;
		if (!hs_way_next(unit, &engine->state->physical, &targets[i], engine->state->last_ms, &gate, &other) &&
		    gate.fact != HS_FACT_NONE) {
			*ask = gate_ask(&gate, step);
			return false;
		}
	}
	/* Behind a fitted cover nobody sees any more what was left there. */
	if (unit->openables[openable].kind == HS_OPEN_COVER && engine->state->physical.uncounted) {
		*ask = gate_ask(&(hs_gate){.fact = HS_FACT_TOOLS, .subject = -1}, step);
		return false;
	}
	return true;
}

/* What came off after it goes back on before it. */
static void closing(const hs_engine *engine, int openable, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	for (int guard = 0; guard < HS_OPENABLES_MOST; guard++) {
		int later = -1;
		for (int i = 0; i < unit->openable_count; i++)
			if (unit->openables[i].after == openable && (engine->state->physical.open >> i & 1u))
				later = i;
		if (later < 0)
			break;
		openable = later;
	}
	if (ready_to_close(engine, openable, step, ask))
		*ask = ask_of(HS_ASK_CLOSE, step, openable);
}

/* True when the unit is in `target`; else *ask is what must be answered first. */
static bool on_the_way(const hs_engine *engine, const hs_target *target, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	if (unit->source_count == 0 || target->state == HS_POWER_UNKNOWN)
		return true;
	/* Before the shorts come out, because what was attached inside comes off dead. */
	if (energised(target->state) && !leads_out(engine, engine->state->physical.open & ~target->may_be_open, step, ask))
		return false;
	hs_gate gate = {.fact = HS_FACT_NONE, .subject = -1, .pair = 0, .earliest_ms = 0};
	int blocker = -1;
	if (hs_way_next(unit, &engine->state->physical, target, engine->state->last_ms, &gate, &blocker))
		return true;
	if (gate.fact != HS_FACT_NONE) {
		*ask = gate_ask(&gate, step);
		return false;
	}
	/* Something is open that the step does not name. It is closed first, in whatever state closing it needs. */
	closing(engine, blocker, step, ask);
	return false;
}

/* Before a cover goes on over a fitted short, the short comes out: nobody reaches it afterwards. False: *ask is a gate on the way there. */
static bool unshorted(const hs_engine *engine, int cover, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	hs_target target = {.state = HS_POWER_SHORTED, .zones = 0, .may_be_open = UINT64_MAX, .emitter = -1, .step = step};
	for (int i = 0; i < unit->source_count; i++) {
		int zone = unit->sources[i].zone;
		int guard = zone >= 0 ? unit->zones[zone].guard : -1;
		if ((engine->state->physical.shorted >> i & 1u) == 0 || (guard >= 0 && guard != cover))
			continue;
		target.unshort |= 1u << i;
		target.zones |= zone >= 0 ? 1u << zone : 0u;
	}
	return target.unshort == 0 || on_the_way(engine, &target, step, ask);
}

bool hs_way_closed(const hs_engine *engine, uint64_t things, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	uint64_t open = engine->state->physical.open & things;
	int first = -1;
	/* What was changed inside is undone before the covers go on over it. */
	for (int i = 0; i < unit->openable_count; i++)
		if ((open >> i & 1u) && (first < 0 || (unit->openables[first].kind == HS_OPEN_COVER && unit->openables[i].kind != HS_OPEN_COVER)))
			first = i;
	if (first < 0)
		return true;
	if (!leads_out(engine, open, step, ask))
		return false;
	if (unit->openables[first].kind != HS_OPEN_COVER || unshorted(engine, first, step, ask))
		closing(engine, first, step, ask);
	return false;
}

bool hs_way_home(const hs_engine *engine, hs_ask *ask)
{
	hs_target target = {.state = HS_POWER_OFF, .zones = 0, .may_be_open = UINT64_MAX, .emitter = -1, .step = -1};
	const hs_physical *physical = &engine->state->physical;
	if (physical->open != 0 || physical->shorted != 0 || engine->state->stopping)
		target.state = HS_POWER_SECURED;
	target.cut = engine->state->stopping;
	/* A hazardous zone that stands open is not left with its charge, except where hands had better stay away. */
	unsigned exposed = engine->state->stopping ? 0 : hs_zones_exposed(&engine->playbook->unit, physical);
	if (exposed != 0) {
		target.state = HS_POWER_SHORTED;
		target.zones = exposed;
	}
	return on_the_way(engine, &target, -1, ask);
}

/* True when everything in `wanted` is off; else *ask is the gate before, or the opening itself. */
static bool opened(const hs_engine *engine, uint64_t wanted, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	uint64_t open = engine->state->physical.open;
	for (int i = 0; i < unit->openable_count; i++) {
		if ((wanted >> i & 1u) == 0 || (open >> i & 1u) || (unit->openables[i].kind != HS_OPEN_COVER && unit->openables[i].kind != HS_OPEN_JOINT))
			continue;
		int first = i;
		for (int guard = 0; guard < HS_OPENABLES_MOST; guard++) {
			int before = unit->openables[first].after;
			if (before < 0 || (open >> before & 1u))
				break;
			first = before;
		}
		int over = guard_over(unit, first);
		if (over >= 0 && !opened(engine, UINT64_C(1) << over, step, ask))
			return false;
		hs_target targets[2];
		int count = hs_targets_to_move(unit, &engine->state->physical, first, false, step, targets);
		for (int way = 0; way < count; way++)
			if (!on_the_way(engine, &targets[way], step, ask))
				return false;
		*ask = ask_of(HS_ASK_OPEN, step, first);
		return false;
	}
	return true;
}

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
	return on_the_way(engine, &target, step, ask);
}

/* A source still joined would feed a unit that is to be dead, and shows up in every resistance. */
static bool parted_source(const hs_engine *engine, int step, hs_ask *ask)
{
	if (engine->state->source.hookup == NULL)
		return true;
	/* At the end the way home lies behind us already. */
	if (step < 0 || join_power(engine, joins_a_live_line(engine, &engine->state->source), -1, step, ask))
		*ask = ask_of(HS_ASK_PART, step, 0);
	return false;
}

/* The source's lead is wanted off the unit; where its line can carry DC it comes off with the power off, as it went on. */
static bool source_at_hand(const hs_engine *engine, int step, hs_ask *ask)
{
	const hs_joined *source = &engine->state->source;
	return source->hookup == NULL || (join_power(engine, source, -1, step, ask) && parted_source(engine, step, ask));
}

/* Where drive alone transmits, a source left from an earlier step comes off before the unit has power without being keyed. */
static bool undriven(const hs_engine *engine, hs_power state, int step, hs_ask *ask)
{
	if ((state != HS_POWER_ON && state != HS_POWER_STANDBY) || engine->state->source.hookup == NULL ||
	    hs_drive_transmits(&engine->playbook->unit) < 0)
		return true;
	if (join_power(engine, true, -1, step, ask))
		*ask = ask_of(HS_ASK_PART, step, 0);
	return false;
}

static bool reads_dead(const hs_step *step, const hs_ask *wanted)
{
	if (wanted->kind != HS_ASK_READ)
		return false;
	const hs_reading *reading = &step->readings[wanted->item];
	return hs_measurand_is_dead(hs_reading_measurand(reading)) && !reading->loose;
}

/* True when the zone of a point is proved dead, and every zone that lies open beside it. */
static bool dead_around(const hs_engine *engine, int point, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	hs_target dead = {.state = HS_POWER_SHORTED, .zones = hs_zones_exposed(unit, &engine->state->physical), .may_be_open = UINT64_MAX,
	                  .emitter = -1, .step = step};
	if (point >= 0 && unit->points[point].zone >= 0)
		dead.zones |= 1u << unit->points[point].zone;
	return on_the_way(engine, &dead, step, ask);
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

/* No cover goes on over a lead that was attached behind it: it would be shut in, or led out through the gap, and be forgotten there. */
static bool leads_out(const hs_engine *engine, uint64_t covers, int step, hs_ask *ask)
{
	const hs_state *state = engine->state;
	for (int i = 0; i < state->meter_count; i++) {
		const hs_joined *now = &state->meters[i];
		if (!now->attached || now->loose || !behind(&engine->playbook->unit, now->point, covers))
			continue;
		if (dead_around(engine, now->point, step, ask))
			*ask = ask_of(HS_ASK_PART, step, -1 - i);
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

static bool joined_source(const hs_engine *engine, const hs_step *step, int index, hs_ask *ask)
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
		*ask = ask_of(HS_ASK_JOIN, index, 0);
	return false;
}

static bool attach_dead(const hs_engine *engine, const hs_step *step, int index, int item, hs_ask *ask)
{
	hs_target dead = {.state = HS_POWER_SHORTED, .zones = hs_step_zones(engine->playbook, step), .may_be_open = UINT64_MAX,
	                  .emitter = -1, .step = index};
	dead.zones |= hs_zones_exposed(&engine->playbook->unit, &engine->state->physical);
	if (on_the_way(engine, &dead, index, ask))
		*ask = ask_of(HS_ASK_JOIN, index, 1 + item);
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
			*ask = ask_of(HS_ASK_PART, index, -1 - i);
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
		*ask = ask_of(HS_ASK_JOIN, index, 1 + item);
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

/* All that a keyed step reads with is in place before it is keyed for the first of its readings, as far as it can be at once. */
static bool joined_for(const hs_engine *engine, const hs_step *step, int index, int item, hs_ask *ask)
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

hs_ask hs_next_judged(const hs_engine *engine)
{
	const hs_state *state = engine->state;
	const hs_playbook *playbook = engine->playbook;
	if (state->finding >= 0)
		return ask_of(HS_ASK_NONE, -1, -1);
	static const hs_intake order[HS_INTAKE_COUNT] = {HS_INTAKE_FIRST, HS_INTAKE_WORDS, HS_INTAKE_SEEN, HS_INTAKE_SEALS, HS_INTAKE_KEEP};
	for (int i = 0; i < HS_INTAKE_COUNT; i++) {
		if (order[i] == HS_INTAKE_FIRST && playbook->first_count == 0)
			continue;
		if ((state->intake >> order[i] & 1u) == 0)
			return ask_of(HS_ASK_INTAKE, -1, (int)order[i]);
	}
	if (!state->shown_known && playbook->symptom.given)
		return ask_of(HS_ASK_SHOWN, -1, -1);
	if (!state->entry_known && playbook->entry_count > 1)
		return ask_of(HS_ASK_ENTRY, -1, -1);
	if (state->step < 0)
		return ask_of(HS_ASK_BLOCKED, -1, -1);
	const hs_step *step = &playbook->steps[state->step];
	switch (step->kind) {
	case HS_STEP_TELL: return ask_of(HS_ASK_TOLD, state->step, -1);
	case HS_STEP_BENCH: return ask_of(HS_ASK_ACT, state->step, state->hand.acts + 1);
	case HS_STEP_REACH:
	case HS_STEP_DO: return ask_of(HS_ASK_DONE, state->step, -1);
	case HS_STEP_REPLACE: return ask_of(HS_ASK_FITTED, state->step, -1);
	case HS_STEP_LOOK: return ask_of(HS_ASK_CHOOSE, state->step, -1);
	case HS_STEP_READ:
	case HS_STEP_ADJUST:
	case HS_STEP_COLLECT: return ask_of(HS_ASK_READ, state->step, state->item);
	case HS_STEP_WAIT: {
		hs_ask ask = ask_of(HS_ASK_WAITED, state->step, -1);
		ask.earliest_ms = state->entered_ms + (int64_t)(step->wait_s * 1000.0 + 0.5);
		return ask;
	}
	default: return ask_of(HS_ASK_BLOCKED, state->step, -1);
	}
}

bool hs_too_late(const hs_engine *engine, const hs_ask *ask)
{
	const hs_state *state = engine->state;
	if (ask->kind != HS_ASK_READ || state->act_step < 0)
		return false;
	double within_s = engine->playbook->steps[ask->step].readings[ask->item].within_s;
	return within_s > 0.0 && (double)(state->last_ms - state->act_ms) > within_s * 1000.0;
}

/* Before anything is turned, where it stood is written down, so that it can be put back. */
static bool stands_known(const hs_engine *engine, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	for (int i = 0; i < unit->control_count; i++) {
		if (engine->state->stood[i] != 0)
			continue;
		*ask = ask_of(HS_ASK_STANDS, -1, i);
		return false;
	}
	return true;
}

/*
 * A hand goes behind the guard: it is off, and the zone proved dead, or at least switched off where nothing in it is dangerous; what else
 * stands open beside it is dead in any case.
 */
static bool hand_may_reach(const hs_engine *engine, int zone, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	if (zone < 0)
		return true;
	int guard = unit->zones[zone].guard;
	if (guard >= 0 && !opened(engine, UINT64_C(1) << guard, step, ask))
		return false;
	hs_target target = {.state = HS_POWER_OFF, .zones = hs_zones_exposed(unit, &engine->state->physical), .may_be_open = UINT64_MAX,
	                    .emitter = -1, .step = step};
	if (hs_zone_is_hazardous(unit, zone))
		target.zones |= 1u << zone;
	if (target.zones != 0)
		target.state = HS_POWER_SHORTED;
	return on_the_way(engine, &target, step, ask);
}

/* While nothing is known of the power, it may be keyed: nothing is turned on the unit before it is off. */
static bool known_off(const hs_engine *engine, int step, hs_ask *ask)
{
	hs_target off = {.state = HS_POWER_OFF, .may_be_open = UINT64_MAX, .emitter = -1, .step = step};
	return engine->state->physical.power != HS_POWER_UNKNOWN || on_the_way(engine, &off, step, ask);
}

/* True when the control stands as wanted; else *ask is turning it, or the gate before a hand goes there. */
static bool stands_at(const hs_engine *engine, int control, int position, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	if (position == 0 || engine->state->position[control] == position)
		return true;
	if (!known_off(engine, step, ask) || !hand_may_reach(engine, unit->controls[control].zone, step, ask))
		return false;
	*ask = ask_of(HS_ASK_SET, step, control);
	ask->position = position;
	return false;
}

static bool controls_set(const hs_engine *engine, const hs_step *step, const hs_ask *wanted, hs_ask *ask)
{
	const hs_reading *reading = wanted->kind == HS_ASK_READ ? &step->readings[wanted->item] : NULL;
	for (int i = 0; i < engine->playbook->unit.control_count; i++) {
		int position = reading != NULL && reading->set[i] != 0 ? reading->set[i] : step->set[i];
		if (!stands_at(engine, i, position, wanted->step, ask))
			return false;
	}
	return true;
}

/* At the end every control goes back to where the owner had it. */
static bool controls_restored(const hs_engine *engine, hs_ask *ask)
{
	const hs_state *state = engine->state;
	for (int i = 0; i < engine->playbook->unit.control_count; i++) {
		bool known = state->stood[i] != 0 && state->stood[i] != HS_STOOD_UNKNOWN;
		if (known && !stands_at(engine, i, state->stood[i], -1, ask))
			return false;
	}
	return true;
}

/* A hazardous zone that stands open, named or not, is dead before hands go in anywhere. */
static void make_exposed_dead(const hs_engine *engine, const hs_step *step, hs_target *target)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	unsigned exposed = hs_zones_exposed(unit, &engine->state->physical);
	bool inside = hs_step_reaches_in(step) && (step->zone >= 0 || step->open != 0);
	if (exposed == 0 || energised(target->state) || (target->state != HS_POWER_SHORTED && !inside))
		return;
	target->zones = target->state == HS_POWER_SHORTED ? target->zones | exposed : exposed;
	target->state = HS_POWER_SHORTED;
}

/* Where the step needs it dead anyway, the plug comes out before the first cover comes off. */
static bool unplugged(const hs_engine *engine, const hs_step *step, hs_power state, int index, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	bool shut = (hs_opened_with(unit, step->open) & ~engine->state->physical.open) != 0;
	hs_target out = {.state = HS_POWER_SECURED, .may_be_open = UINT64_MAX, .emitter = -1, .step = index};
	return !shut || !(state == HS_POWER_SHORTED || step->attach_dead || step->live) || on_the_way(engine, &out, index, ask);
}

/* Loads are told apart by what the playbook calls them: the number of the first step that wants this one, from 1. */
static int load_of(const hs_playbook *playbook, const hs_step *step)
{
	for (size_t i = 0; step->load != NULL && i < playbook->step_count; i++)
		if (playbook->steps[i].load != NULL && strcmp(playbook->steps[i].load, step->load) == 0)
			return (int)i + 1;
	return 0;
}

static hs_ask before_step(const hs_engine *engine, const hs_ask *wanted)
{
	const hs_playbook *playbook = engine->playbook;
	const hs_step *step = &playbook->steps[wanted->step];
	hs_ask ask;
	hs_target target = {.state = power_wanted(hs_step_need(playbook, step)), .zones = hs_step_zones(playbook, step),
	                    .may_be_open = hs_opened_with(&playbook->unit, step->open) | step->with, .unshort = step->unshort,
	                    .live = step->live, .emitter = step->emitter,
	                    .step = wanted->step,
	                    .key_seconds = hs_step_key_seconds(&playbook->unit, step), .load = load_of(playbook, step), .undriven = !step->inject.given};
	if (step->kind == HS_STEP_REACH && !hs_way_closed(engine, step->undoes, wanted->step, &ask))
		return ask;
	if (!unplugged(engine, step, target.state, wanted->step, &ask) || !opened(engine, step->open, wanted->step, &ask))
		return ask;
	if (!controls_set(engine, step, wanted, &ask))
		return ask;
	/* What is open and not named is closed before leads are joined for power, so that the unit is not switched off twice. */
	if (reads_dead(step, wanted) && !step->inject.given && !parted_source(engine, wanted->step, &ask))
		return ask;
	if (step->leads == HS_LEADS_STRAIGHT && !source_at_hand(engine, wanted->step, &ask))
		return ask;
	if (!undriven(engine, target.state, wanted->step, &ask) || !joined_source(engine, step, wanted->step, &ask))
		return ask;
	if (wanted->kind == HS_ASK_READ && !joined_for(engine, step, wanted->step, wanted->item, &ask))
		return ask;
	if (!energised(target.state))
		target.may_be_open = UINT64_MAX;
	make_exposed_dead(engine, step, &target);
	if (!on_the_way(engine, &target, wanted->step, &ask))
		return ask;
	return *wanted;
}

static hs_ask before_symptom(const hs_engine *engine, const hs_ask *wanted)
{
	const hs_playbook *playbook = engine->playbook;
	const hs_symptom *symptom = &playbook->symptom;
	hs_ask ask;
	hs_target target = {.state = power_wanted(symptom->power), .zones = 0, .may_be_open = hs_opened_with(&playbook->unit, symptom->open),
	                    .emitter = -1, .step = -1};
	if (!opened(engine, symptom->open, -1, &ask) || !undriven(engine, target.state, -1, &ask) || !on_the_way(engine, &target, -1, &ask))
		return ask;
	return *wanted;
}

static hs_ask next_but_release(const hs_engine *engine)
{
	const hs_state *state = engine->state;
	hs_ask ask = ask_of(HS_ASK_NONE, -1, -1);
	if (state->ended || state->paused)
		return ask;
	if (state->stopping || state->leaving || state->finding >= 0) {
		if (!hs_way_home(engine, &ask))
			return ask;
		if (state->stopping && !state->stop_told)
			return ask_of(HS_ASK_STOPPED, -1, -1);
		if (!state->stopping && !parted_source(engine, -1, &ask))
			return ask;
		if (state->finding >= 0 && !state->stopping && !state->leaving && !controls_restored(engine, &ask))
			return ask;
		return ask_of(HS_ASK_NONE, -1, -1);
	}
	ask = hs_next_judged(engine);
	if (hs_too_late(engine, &ask))
		ask = ask_of(HS_ASK_AGAIN, state->act_step, ask.step);
	hs_ask stands;
	if (ask.kind != HS_ASK_INTAKE && !hs_free_unit_known(engine, &stands))
		return stands;
	if (ask.kind != HS_ASK_INTAKE && !stands_known(engine, &stands))
		return stands;
	if (ask.kind == HS_ASK_SHOWN)
		return before_symptom(engine, &ask);
	if (ask.step >= 0 && ask.kind != HS_ASK_BLOCKED)
		return before_step(engine, &ask);
	return ask;
}

/* Read keyed again, within the same step. */
static bool stays_keyed(const hs_engine *engine, const hs_ask *ask)
{
	if ((ask->kind != HS_ASK_READ && ask->kind != HS_ASK_CHOOSE) || ask->step != engine->state->physical.keyed_step)
		return false;
	return hs_step_need(engine->playbook, &engine->playbook->steps[ask->step]) == HS_NEED_KEYED;
}

/* Behind a keyed reading the key is let go of before anything else, whatever that is. */
hs_ask hs_next_ask(const hs_engine *engine)
{
	hs_ask ask = next_but_release(engine);
	if (!engine->state->physical.key_down || engine->state->ended || engine->state->paused || stays_keyed(engine, &ask))
		return ask;
	return gate_ask(&(hs_gate){.fact = HS_FACT_UNKEYED, .subject = -1}, ask.step);
}
