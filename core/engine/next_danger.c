/* What is asked of the dangers that a unit declares, before something is done where they are. One place sees every ask that goes out. */
#include "core/engine/next_parts.h"

static uint32_t in_zone(const hs_bench_unit *unit, int zone)
{
	return zone >= 0 ? hs_dangers_in(unit, 1u << zone, true) : 0;
}

/* False: *ask is the row that comes first. */
static bool passed(const hs_engine *engine, unsigned moment, uint32_t dangers, int step, hs_ask *ask)
{
	hs_gate gate;
	if (hs_danger_next(&engine->playbook->unit, &engine->state->physical, moment, dangers, step, &gate))
		return true;
	*ask = hs_gate_ask(&gate, step);
	return false;
}

static bool may_move(const hs_engine *engine, int openable, bool closing, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	uint32_t under = hs_dangers_under(unit, openable);
	if (closing && !passed(engine, HS_MOMENT_UNHOOK, under & engine->state->physical.hooked, step, ask))
		return false;
	int zone = unit->openables[openable].kind != HS_OPEN_COVER ? unit->openables[openable].zone : -1;
	return passed(engine, HS_MOMENT_BARE, under, step, ask) && passed(engine, HS_MOMENT_HANDS, in_zone(unit, zone), step, ask);
}

static int zone_of_lead(const hs_engine *engine, const hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	int point = -1;
	if (ask->kind == HS_ASK_PART)
		point = ask->item == 0 ? engine->state->source.point : engine->state->meters[-1 - ask->item].point;
	else if (ask->step >= 0)
		point = ask->item == 0 ? engine->playbook->steps[ask->step].inject.point : engine->playbook->steps[ask->step].readings[ask->item - 1].point;
	return point >= 0 ? unit->points[point].zone : -1;
}

static bool may_do(const hs_engine *engine, const hs_step *step, int index, hs_ask *ask)
{
	const hs_playbook *playbook = engine->playbook;
	return passed(engine, HS_MOMENT_CLIP, hs_dangers_clipped(playbook, step), index, ask) &&
	       passed(engine, HS_MOMENT_HANDS, hs_dangers_reached(playbook, step), index, ask) &&
	       passed(engine, HS_MOMENT_USE, step->substances, index, ask);
}

static bool is_work(hs_ask_kind kind)
{
	switch (kind) {
	case HS_ASK_SHOWN:
	case HS_ASK_OPEN:
	case HS_ASK_CLOSE:
	case HS_ASK_SET:
	case HS_ASK_JOIN:
	case HS_ASK_PART:
	case HS_ASK_DONE:
	case HS_ASK_AGAIN:
	case HS_ASK_FITTED:
	case HS_ASK_READ:
	case HS_ASK_CHOOSE: return true;
	default: return false;
	}
}

/* With something unsafe found, the way down stays open to everybody; what lies beyond it waits for the specialist. */
static bool is_beyond(const hs_engine *engine, const hs_ask *wanted)
{
	bool down = wanted->gate.fact <= HS_FACT_SECURED_BY || engine->state->physical.power < HS_POWER_OFF;
	return is_work(wanted->kind) || (wanted->kind == HS_ASK_GATE && !down);
}

hs_ask hs_next_past_dangers(const hs_engine *engine, hs_ask wanted)
{
	const hs_playbook *playbook = engine->playbook;
	const hs_bench_unit *unit = &playbook->unit;
	const hs_step *step = wanted.step >= 0 ? &playbook->steps[wanted.step] : NULL;
	hs_ask ask = wanted;
	bool good = true;
	if (unit->danger_count == 0)
		return wanted;
	if (is_beyond(engine, &wanted) && !passed(engine, 0, engine->state->physical.barred, wanted.step, &ask))
		return ask;
	if (!is_work(wanted.kind))
		return wanted;
	switch (wanted.kind) {
	case HS_ASK_OPEN:
	case HS_ASK_CLOSE: good = may_move(engine, wanted.item, wanted.kind == HS_ASK_CLOSE, wanted.step, &ask); break;
	case HS_ASK_SET: good = passed(engine, HS_MOMENT_HANDS, in_zone(unit, unit->controls[wanted.item].zone), wanted.step, &ask); break;
	case HS_ASK_JOIN:
		good = passed(engine, HS_MOMENT_CLIP, hs_dangers_clipped(playbook, step), wanted.step, &ask) &&
		       passed(engine, HS_MOMENT_HANDS, in_zone(unit, zone_of_lead(engine, &wanted)), wanted.step, &ask);
		break;
	case HS_ASK_PART: good = passed(engine, HS_MOMENT_HANDS, in_zone(unit, zone_of_lead(engine, &wanted)), wanted.step, &ask); break;
	case HS_ASK_SHOWN: break;
	default: good = step == NULL || may_do(engine, step, wanted.step, &ask); break;
	}
	return good ? wanted : ask;
}

bool hs_next_chassis_known(const hs_engine *engine, const hs_step *step, const hs_target *target, int index, hs_ask *ask)
{
	const hs_physical *physical = &engine->state->physical;
	uint32_t clipped = hs_dangers_clipped(engine->playbook, step);
	hs_gate gate;
	/* What is clipped on while dead goes on before anybody could measure: then the chassis counts as live. */
	bool measurable = !step->attach_dead && !step->live;
	if (!measurable || clipped == 0 || hs_danger_next(&engine->playbook->unit, physical, HS_MOMENT_MEASURE, clipped, index, &gate))
		return true;
	hs_target on = *target;
	on.state = target->state == HS_POWER_STANDBY ? HS_POWER_STANDBY : HS_POWER_ON;
	if (!hs_way_there(engine, &on, index, ask))
		return false;
	*ask = hs_gate_ask(&gate, index);
	return false;
}
