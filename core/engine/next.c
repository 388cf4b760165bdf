/* What is asked next: the judgement says which step and which of its asks; the unit's state says what must come before it. */
#include "core/engine/free.h"
#include "core/engine/next_parts.h"

#include <string.h>

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

static bool reads_dead(const hs_step *step, const hs_ask *wanted)
{
	if (wanted->kind != HS_ASK_READ)
		return false;
	const hs_reading *reading = &step->readings[wanted->item];
	return hs_measurand_is_dead(hs_reading_measurand(reading)) && !reading->loose;
}

hs_ask hs_next_judged(const hs_engine *engine)
{
	const hs_state *state = engine->state;
	const hs_playbook *playbook = engine->playbook;
	if (state->finding >= 0)
		return hs_ask_of(HS_ASK_NONE, -1, -1);
	static const hs_intake order[HS_INTAKE_COUNT] = {HS_INTAKE_FIRST, HS_INTAKE_WORDS, HS_INTAKE_SEEN, HS_INTAKE_SEALS, HS_INTAKE_KEEP};
	for (int i = 0; i < HS_INTAKE_COUNT; i++) {
		if (order[i] == HS_INTAKE_FIRST && playbook->first_count == 0)
			continue;
		if ((state->intake >> order[i] & 1u) == 0)
			return hs_ask_of(HS_ASK_INTAKE, -1, (int)order[i]);
	}
	if (!state->shown_known && playbook->symptom.given)
		return hs_ask_of(HS_ASK_SHOWN, -1, -1);
	if (!state->entry_known && playbook->entry_count > 1)
		return hs_ask_of(HS_ASK_ENTRY, -1, -1);
	if (state->step < 0)
		return hs_ask_of(HS_ASK_BLOCKED, -1, -1);
	const hs_step *step = &playbook->steps[state->step];
	switch (step->kind) {
	case HS_STEP_TELL: return hs_ask_of(HS_ASK_TOLD, state->step, -1);
	case HS_STEP_BENCH: return hs_ask_of(HS_ASK_ACT, state->step, state->hand.acts + 1);
	case HS_STEP_REACH:
	case HS_STEP_DO: return hs_ask_of(HS_ASK_DONE, state->step, -1);
	case HS_STEP_REPLACE: return hs_ask_of(HS_ASK_FITTED, state->step, -1);
	case HS_STEP_LOOK: return hs_ask_of(HS_ASK_CHOOSE, state->step, -1);
	case HS_STEP_READ:
	case HS_STEP_ADJUST:
	case HS_STEP_COLLECT: return hs_ask_of(HS_ASK_READ, state->step, state->item);
	case HS_STEP_WAIT: {
		hs_ask ask = hs_ask_of(HS_ASK_WAITED, state->step, -1);
		ask.earliest_ms = state->entered_ms + (int64_t)(step->wait_s * 1000.0 + 0.5);
		return ask;
	}
	default: return hs_ask_of(HS_ASK_BLOCKED, state->step, -1);
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
		*ask = hs_ask_of(HS_ASK_STANDS, -1, i);
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
	if (guard >= 0 && !hs_way_opened(engine, UINT64_C(1) << guard, step, ask))
		return false;
	hs_target target = {.state = HS_POWER_OFF, .zones = hs_zones_exposed(unit, &engine->state->physical), .may_be_open = UINT64_MAX,
	                    .emitter = -1, .step = step};
	if (hs_zone_is_hazardous(unit, zone))
		target.zones |= 1u << zone;
	if (target.zones != 0)
		target.state = HS_POWER_SHORTED;
	return hs_way_there(engine, &target, step, ask);
}

/* While nothing is known of the power, it may be keyed: nothing is turned on the unit before it is off. */
static bool known_off(const hs_engine *engine, int step, hs_ask *ask)
{
	hs_target off = {.state = HS_POWER_OFF, .may_be_open = UINT64_MAX, .emitter = -1, .step = step};
	return engine->state->physical.power != HS_POWER_UNKNOWN || hs_way_there(engine, &off, step, ask);
}

/* True when the control stands as wanted; else *ask is turning it, or the gate before a hand goes there. */
static bool stands_at(const hs_engine *engine, int control, int position, int step, hs_ask *ask)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	if (position == 0 || engine->state->position[control] == position)
		return true;
	if (!known_off(engine, step, ask) || !hand_may_reach(engine, unit->controls[control].zone, step, ask))
		return false;
	*ask = hs_ask_of(HS_ASK_SET, step, control);
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
	if (exposed == 0 || hs_power_is_live(target->state) || (target->state != HS_POWER_SHORTED && !inside))
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
	return !shut || !(state == HS_POWER_SHORTED || step->attach_dead || step->live) || hs_way_there(engine, &out, index, ask);
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
	/* Nothing that burns is used on what is still connected. */
	if (step->substances != 0 && !hs_power_is_live(target.state) && target.state < HS_POWER_SECURED)
		target.state = HS_POWER_SECURED;
	if (step->kind == HS_STEP_REACH && !hs_way_closed(engine, step->undoes, wanted->step, &ask))
		return ask;
	if (!unplugged(engine, step, target.state, wanted->step, &ask) || !hs_way_opened(engine, step->open, wanted->step, &ask))
		return ask;
	if (!controls_set(engine, step, wanted, &ask))
		return ask;
	if (!hs_next_chassis_known(engine, step, &target, wanted->step, &ask))
		return ask;
	/* What is open and not named is closed before leads are joined for power, so that the unit is not switched off twice. */
	if (reads_dead(step, wanted) && !step->inject.given && !hs_next_parted_source(engine, wanted->step, &ask))
		return ask;
	if (step->leads == HS_LEADS_STRAIGHT && !hs_next_source_at_hand(engine, wanted->step, &ask))
		return ask;
	if (!hs_next_undriven(engine, target.state, wanted->step, &ask) || !hs_next_joined_source(engine, step, wanted->step, &ask))
		return ask;
	if (wanted->kind == HS_ASK_READ && !hs_next_joined_for(engine, step, wanted->step, wanted->item, &ask))
		return ask;
	if (!hs_power_is_live(target.state))
		target.may_be_open = UINT64_MAX;
	make_exposed_dead(engine, step, &target);
	if (!hs_way_there(engine, &target, wanted->step, &ask))
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
	if (!hs_way_opened(engine, symptom->open, -1, &ask) || !hs_next_undriven(engine, target.state, -1, &ask) || !hs_way_there(engine, &target, -1, &ask))
		return ask;
	return *wanted;
}

static hs_ask next_but_release(const hs_engine *engine)
{
	const hs_state *state = engine->state;
	hs_ask ask = hs_ask_of(HS_ASK_NONE, -1, -1);
	if (state->ended || state->paused)
		return ask;
	if (state->stopping || state->leaving || state->finding >= 0) {
		if (!hs_way_home(engine, &ask))
			return ask;
		if (state->stopping && !state->stop_told)
			return hs_ask_of(HS_ASK_STOPPED, -1, -1);
		if (!state->stopping && !hs_next_parted_source(engine, -1, &ask))
			return ask;
		if (state->finding >= 0 && !state->stopping && !state->leaving && !controls_restored(engine, &ask))
			return ask;
		return hs_ask_of(HS_ASK_NONE, -1, -1);
	}
	ask = hs_next_judged(engine);
	if (hs_too_late(engine, &ask))
		ask = hs_ask_of(HS_ASK_AGAIN, state->act_step, ask.step);
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
	hs_ask ask = hs_next_past_dangers(engine, next_but_release(engine));
	if (!engine->state->physical.key_down || engine->state->ended || engine->state->paused || stays_keyed(engine, &ask))
		return ask;
	return hs_gate_ask(&(hs_gate){.fact = HS_FACT_UNKEYED, .subject = -1}, ask.step);
}
