/* The way there: gates, openings and closings between how the unit is and how it is wanted. */
#include "core/engine/next_parts.h"

#include <string.h>

hs_ask hs_ask_of(hs_ask_kind kind, int step, int item)
{
	hs_ask ask;
	memset(&ask, 0, sizeof ask);
	ask.kind = kind;
	ask.step = step;
	ask.item = item;
	ask.gate.subject = -1;
	return ask;
}

hs_ask hs_gate_ask(const hs_gate *gate, int step)
{
	hs_ask ask = hs_ask_of(HS_ASK_GATE, step, -1);
	ask.gate = *gate;
	ask.earliest_ms = gate->earliest_ms;
	return ask;
}

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
	if (guard >= 0 && !hs_way_opened(engine, UINT64_C(1) << guard, step, ask))
		return false;
	hs_target targets[2];
	int count = hs_targets_to_move(unit, &engine->state->physical, openable, true, step, targets);
	for (int i = 0; i < count; i++) {
		hs_gate gate = {.fact = HS_FACT_NONE, .subject = -1, .pair = 0, .earliest_ms = 0};
		int other = -1;
		if (!hs_way_next(unit, &engine->state->physical, &targets[i], engine->state->last_ms, &gate, &other) &&
		    gate.fact != HS_FACT_NONE) {
			*ask = hs_gate_ask(&gate, step);
			return false;
		}
	}
	hs_gate unhook;
	uint32_t hooked = engine->state->physical.hooked & hs_dangers_under(unit, openable);
	if (!hs_danger_next(unit, &engine->state->physical, HS_MOMENT_UNHOOK, hooked, step, &unhook)) {
		*ask = hs_gate_ask(&unhook, step);
		return false;
	}
	/* Behind a fitted cover nobody sees any more what was left there. */
	if (unit->openables[openable].kind == HS_OPEN_COVER && engine->state->physical.uncounted) {
		*ask = hs_gate_ask(&(hs_gate){.fact = HS_FACT_TOOLS, .subject = -1}, step);
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
		*ask = hs_ask_of(HS_ASK_CLOSE, step, openable);
}

bool hs_way_there(const hs_engine *engine, const hs_target *target, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	if (unit->source_count == 0 || target->state == HS_POWER_UNKNOWN)
		return true;
	/* Before the shorts come out, because what was attached inside comes off dead. */
	if (hs_power_is_live(target->state) && !hs_next_leads_out(engine, engine->state->physical.open & ~target->may_be_open, step, ask))
		return false;
	hs_gate gate = {.fact = HS_FACT_NONE, .subject = -1, .pair = 0, .earliest_ms = 0};
	int blocker = -1;
	if (hs_way_next(unit, &engine->state->physical, target, engine->state->last_ms, &gate, &blocker))
		return true;
	if (gate.fact != HS_FACT_NONE) {
		*ask = hs_gate_ask(&gate, step);
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
	return target.unshort == 0 || hs_way_there(engine, &target, step, ask);
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
	if (!hs_next_leads_out(engine, open, step, ask))
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
	unsigned exposed = engine->state->stopping || physical->barred != 0 ? 0 : hs_zones_exposed(&engine->playbook->unit, physical);
	if (exposed != 0) {
		target.state = HS_POWER_SHORTED;
		target.zones = exposed;
	}
	return hs_way_there(engine, &target, -1, ask);
}

bool hs_way_opened(const hs_engine *engine, uint64_t wanted, int step, hs_ask *ask)
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
		if (over >= 0 && !hs_way_opened(engine, UINT64_C(1) << over, step, ask))
			return false;
		hs_target targets[2];
		int count = hs_targets_to_move(unit, &engine->state->physical, first, false, step, targets);
		for (int way = 0; way < count; way++)
			if (!hs_way_there(engine, &targets[way], step, ask))
				return false;
		*ask = hs_ask_of(HS_ASK_OPEN, step, first);
		return false;
	}
	return true;
}
