/*
 * A second account of the safety rules. It looks only at what was declared and at the facts about the world, never at how the gates came to be
 * asked, so that a mistake in the way cannot excuse itself.
 */
#include <string.h>

#include "halfsplit/proof/proof.h"
#include "halfsplit/unit/hazard.h"

typedef struct account {
	const hs_playbook *playbook;
	const hs_bench_unit *unit;
	const hs_physical *p;
	const hs_step *step; /* NULL before the first */
	hs_buf *why;
} account;

static bool live(const account *a)
{
	return a->p->power == HS_POWER_UNKNOWN || a->p->power == HS_POWER_KEYED || a->p->power == HS_POWER_ON || a->p->power == HS_POWER_STANDBY;
}

static bool proved(const account *a, int zone)
{
	return a->p->power >= HS_POWER_DEAD && (a->p->zones_dead >> zone & 1u);
}

static bool unsafe(const account *a, const char *what, const char *id)
{
	hs_buf_printf(a->why, "%s (%s) while the power state is %s", what, id, hs_power_name(a->p->power));
	return false;
}

static bool hands_in(const account *a, unsigned zones, const char *what, const char *id)
{
	for (int zone = 0; zone < a->unit->zone_count; zone++)
		if ((zones >> zone & 1u) && hs_zone_is_hazardous(a->unit, zone) && !proved(a, zone))
			return unsafe(a, what, id);
	return true;
}

static bool carries(const account *a, int point)
{
	if (point < 0)
		return false;
	for (int i = 0; i < a->unit->emitter_count; i++)
		if (strcmp(a->unit->emitters[i].id, a->unit->points[point].id) == 0)
			return true;
	return a->unit->points[point].dc_v > 0.0;
}

/* Rule 8: nothing is joined or parted on a line that carries DC, charge or transmitted power while it is powered. */
static bool joining(const account *a, int point, const hs_hookup *hookup, const char *id)
{
	if (hookup == NULL || hs_hookup_touches(hookup) || !carries(a, point) || !live(a))
		return true;
	return unsafe(a, "a lead is joined to a line that carries power", id);
}

/* What must have been answered of a declared danger, by its own list and not by the table that asks. */
static const struct {
	hs_danger_kind kind;
	bool up, hands, cover;
	const char *row;
} answered[] = {
    {HS_DANGER_CELLS, true, true, false, "shape"},     {HS_DANGER_CELLS, true, true, false, "volts"},  {HS_DANGER_BATTERY, false, true, false, "rings"},
    {HS_DANGER_BATTERY, true, false, false, "fuse"},   {HS_DANGER_TOXIC, false, true, true, "state"},  {HS_DANGER_LASER, false, true, false, "source"},
    {HS_DANGER_LASER, true, true, true, "class"},
};

static bool dangers(const account *a, uint32_t which, bool up, bool cover, const char *id)
{
	for (int i = 0; i < a->unit->danger_count; i++)
		for (size_t row = 0; row < sizeof answered / sizeof *answered; row++) {
			bool here = up ? answered[row].up : cover ? answered[row].cover : answered[row].hands;
			if (which >> i & 1u && here && answered[row].kind == a->unit->dangers[i].kind &&
			    !hs_danger_holds(a->unit, a->p, i, answered[row].row))
				return unsafe(a, "a declared hazard was not answered for", id);
		}
	return true;
}

/* Rule 2: nothing is open that the step does not name, and no short is fitted. */
static bool energising(const account *a, const hs_ask *ask)
{
	bool turns_on = ask->gate.fact == HS_FACT_SWITCH_ON || ask->gate.fact == HS_FACT_STANDBY;
	uint64_t named = a->step != NULL ? hs_opened_with(a->unit, a->step->open) | a->step->with
	                                 : hs_opened_with(a->unit, a->playbook->symptom.open);
	for (int i = 0; turns_on && i < a->unit->source_count; i++)
		if ((a->p->out | a->p->was_out) >> i & 1u)
			return unsafe(a, "the unit is switched on while a supply counts as out", a->unit->sources[i].id);
	if (turns_on && a->p->power >= HS_POWER_OFF && !dangers(a, ~0u, true, false, "power"))
		return false;
	if (turns_on && (a->p->hooked || a->p->barred))
		return unsafe(a, "power comes back with an earthing stick on, or with something unsafe", a->step != NULL ? a->step->id : "symptom");
	if (turns_on && a->p->uncounted)
		return unsafe(a, "power comes back before the tools are counted", a->step != NULL ? a->step->id : "symptom");
	if (!turns_on || ((a->p->open & ~named) == 0 && a->p->shorted == 0))
		return true;
	return unsafe(a, "power comes back while something is open or shorted that the step does not name", a->step != NULL ? a->step->id : "symptom");
}

static bool opening(const account *a, const hs_ask *ask)
{
	const hs_openable *it = &a->unit->openables[ask->item];
	bool needs_dead = a->step != NULL && (hs_step_need(a->playbook, a->step) == HS_NEED_DEAD || a->step->attach_dead || a->step->live);
	for (int zone = 0; zone < a->unit->zone_count; zone++)
		if (a->unit->zones[zone].guard == ask->item && hs_zone_is_hazardous(a->unit, zone) && a->p->power < HS_POWER_WAITED)
			return unsafe(a, "the guard of a hazardous zone comes off or goes on before secured and waited", it->id);
	if (ask->kind == HS_ASK_OPEN && it->kind == HS_OPEN_COVER && needs_dead && a->p->power < HS_POWER_SECURED)
		return unsafe(a, "a cover comes off before the plug, where the step needs it dead", it->id);
	if (ask->kind == HS_ASK_CLOSE && it->kind == HS_OPEN_COVER && a->p->uncounted)
		return unsafe(a, "a cover goes on before the tools are counted", it->id);
	if (it->kind == HS_OPEN_COVER && !dangers(a, hs_dangers_under(a->unit, ask->item), false, true, it->id))
		return false;
	if (it->kind == HS_OPEN_COVER || it->zone < 0)
		return a->p->power != HS_POWER_KEYED || unsafe(a, "something is opened while keyed", it->id);
	return hands_in(a, 1u << it->zone, "hands reach into a hazardous zone that is not proved dead", it->id);
}

/* Rule 1: no resistance, continuity or diode reading in a unit unless it is proved dead. */
static bool reading(const account *a, const hs_ask *ask)
{
	const hs_reading *it = &a->step->readings[ask->item];
	int zone = it->point >= 0 ? a->unit->points[it->point].zone : -1;
	if (hs_measurand_is_dead(hs_reading_measurand(it)) && !it->loose && it->hookup_name != NULL) {
		if (a->p->power < HS_POWER_DEAD || (zone >= 0 && !proved(a, zone)))
			return unsafe(a, "a reading that needs a dead unit", a->step->id);
		return true;
	}
	bool by_hand = it->hookup_name != NULL && !it->loose && !a->step->attach_dead && !a->step->live;
	if (by_hand && zone >= 0 && hs_zone_is_hazardous(a->unit, zone) && live(a))
		return unsafe(a, "a hand holds a probe in a live hazardous zone", a->step->id);
	return true;
}

static bool has_its_load(const account *a)
{
	int given = a->p->load - 1;
	const char *load = given >= 0 && (size_t)given < a->playbook->step_count ? a->playbook->steps[given].load : NULL;
	return a->step->load == NULL || (load != NULL && strcmp(load, a->step->load) == 0);
}

static bool power_as_declared(const account *a)
{
	static const uint32_t keyed_facts = 1u << HS_FACT_LOAD | 1u << HS_FACT_CLEAR;
	switch (a->step->power) {
	case HS_NEED_DEAD: return a->p->power >= HS_POWER_DEAD || unsafe(a, "a step that needs a dead unit", a->step->id);
	case HS_NEED_OFF: return a->p->power >= HS_POWER_OFF || unsafe(a, "a step that needs the unit off", a->step->id);
	case HS_NEED_ON: return a->p->power == HS_POWER_ON || unsafe(a, "a step that needs the unit on", a->step->id);
	case HS_NEED_STANDBY: return a->p->power == HS_POWER_STANDBY || unsafe(a, "a step that needs standby", a->step->id);
	case HS_NEED_KEYED:
		if (!has_its_load(a))
			return unsafe(a, "a step that keys into another load than its own", a->step->id);
		return (a->p->facts & keyed_facts) == keyed_facts || unsafe(a, "a step that keys without load or with people near", a->step->id);
	default: return true;
	}
}

/* What is done at the step itself. */
static bool at_step(const account *a, const hs_ask *ask)
{
	if (a->step == NULL)
		return true;
	if (a->unit->source_count > 0 && !power_as_declared(a))
		return false;
	bool uses = a->step->substances != 0 && ask->kind == HS_ASK_DONE;
	if (uses && a->unit->source_count > 0 && a->p->power < HS_POWER_SECURED)
		return unsafe(a, "something flammable is used on a unit that is not disconnected", a->step->id);
	if (hs_step_reaches_in(a->step)) {
		if (!dangers(a, hs_dangers_reached(a->playbook, a->step), false, false, a->step->id))
			return false;
		unsigned zones = hs_step_bares(a->unit, a->step) | (a->step->zone >= 0 ? 1u << a->step->zone : 0u);
		if (!hands_in(a, zones, "hands reach into a hazardous zone that is not proved dead", a->step->id))
			return false;
	}
	return ask->kind != HS_ASK_READ || reading(a, ask);
}

/* While nothing is known of the power, it may be keyed: nothing is turned, joined, parted or opened. */
static bool known(const account *a, const hs_ask *ask)
{
	bool touches = ask->kind == HS_ASK_SET || ask->kind == HS_ASK_JOIN || ask->kind == HS_ASK_PART || ask->kind == HS_ASK_OPEN ||
	               ask->kind == HS_ASK_CLOSE;
	return !touches || a->p->power != HS_POWER_UNKNOWN ||
	       unsafe(a, "something is turned, joined or opened", a->step != NULL ? a->step->id : "home");
}

/* Behind a keyed reading the key is released before anything but another of the same step. */
static bool released(const account *a, const hs_ask *ask)
{
	bool again = (ask->kind == HS_ASK_READ || ask->kind == HS_ASK_CHOOSE) && ask->step == a->p->keyed_step;
	bool release = ask->kind == HS_ASK_GATE && ask->gate.fact == HS_FACT_UNKEYED;
	return !a->p->key_down || again || release || unsafe(a, "something else is asked before the key is released", a->step != NULL ? a->step->id : "home");
}

static bool allows(const account *a, const hs_ask *ask)
{
	switch (ask->kind) {
	case HS_ASK_GATE: return energising(a, ask);
	case HS_ASK_OPEN:
	case HS_ASK_CLOSE: return opening(a, ask);
	case HS_ASK_JOIN: {
		const hs_reading *it = ask->item > 0 ? &a->step->readings[ask->item - 1] : NULL;
		if (it != NULL && a->step->attach_dead)
			return hands_in(a, it->point >= 0 && a->unit->points[it->point].zone >= 0 ? 1u << a->unit->points[it->point].zone : 0u,
			                "a lead is attached in a hazardous zone that is not proved dead", a->step->id);
		return it != NULL ? joining(a, it->point, it->hookup, a->step->id)
		                  : joining(a, a->step->inject.point, a->step->inject.hookup, a->step->id);
	}
	case HS_ASK_SET: {
		int zone = a->unit->controls[ask->item].zone;
		return zone < 0 || hands_in(a, 1u << zone, "a hand turns something in a hazardous zone that is not proved dead", a->unit->controls[ask->item].id);
	}
	case HS_ASK_READ:
	case HS_ASK_CHOOSE:
	case HS_ASK_TOLD:
	case HS_ASK_DONE:
	case HS_ASK_WAITED:
	case HS_ASK_FITTED: return at_step(a, ask);
	default: return true;
	}
}

bool hs_account_allows(const hs_engine *engine, const hs_ask *ask, hs_buf *why)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	account a = {playbook, &playbook->unit, hs_engine_physical(engine), ask->step >= 0 ? &playbook->steps[ask->step] : NULL, why};
	return a.unit->source_count == 0 || (allows(&a, ask) && known(&a, ask) && released(&a, ask));
}

bool hs_account_at_end(const hs_engine *engine, hs_buf *why)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	account a = {playbook, &playbook->unit, hs_engine_physical(engine), NULL, why};
	unsigned exposed = hs_zones_exposed(a.unit, a.p);
	if (a.unit->source_count == 0 || hs_engine_finding(engine) < 0)
		return true;
	if (live(&a) || a.p->key_down)
		return unsafe(&a, "a run ends", "home");
	return hands_in(&a, exposed, "a run ends with a hazardous zone open that is not proved dead", "home");
}
