#include "halfsplit/unit/way.h"

#include "danger.h"

void hs_physical_begin(hs_physical *physical)
{
	*physical = (hs_physical){.power = HS_POWER_UNKNOWN, .keyed_step = -1, .live_step = -1, .load_emitter = -1, .danger_step = -1};
}

void hs_physical_void(hs_physical *physical)
{
	hs_physical kept = *physical;
	hs_physical_begin(physical);
	physical->open = kept.open;
	physical->ever_open = kept.ever_open;
	physical->shorted = kept.shorted;
	physical->was_out = kept.out | kept.was_out;
	physical->charged = kept.charged;
	physical->was_keyed = kept.was_keyed;
	physical->keyed_ms = kept.keyed_ms;
	physical->uncounted = kept.uncounted;
	physical->barred = kept.barred;
	physical->hooked = kept.hooked;
	physical->used = kept.used;
	for (int i = 0; i < HS_DANGERS_MOST; i++)
		physical->danger_ms[i] = kept.danger_ms[i];
	hs_physical_worked(physical);
}

void hs_physical_worked(hs_physical *physical)
{
	physical->uncounted = physical->uncounted || physical->open != 0;
}

void hs_physical_touch(hs_physical *physical)
{
	physical->facts &= ~(HS_ENERGISING_FACTS | HS_KEYED_FACTS | HS_LIVE_FACTS | HS_FACT_BIT(HS_FACT_LOAD));
	physical->keyed_step = physical->live_step = -1;
	physical->load_emitter = -1;
	physical->load = 0;
	hs_dangers_lapse(physical, HS_KEEPS_WORK);
	hs_physical_worked(physical);
}

void hs_physical_keyed(hs_physical *physical, int64_t now_ms)
{
	physical->was_keyed = physical->key_down = true;
	physical->keyed_ms = now_ms;
	physical->facts &= ~HS_FACT_BIT(HS_FACT_COOLED);
}

void hs_physical_unkey(hs_physical *physical)
{
	physical->facts &= ~HS_KEYED_FACTS;
	physical->keyed_step = -1;
}

/*
 * What was proved through the terminals outside proves nothing of what lies open now, and a store may have crept back
 * up behind its guard since it was tested: stores and rails of the zone are tested anew.
 */
static void forget_zone(const hs_bench_unit *unit, hs_physical *physical, int zone)
{
	uint32_t supplies = hs_supplies(unit);
	physical->zones_dead &= ~(1u << zone);
	for (int i = 0; i < unit->source_count; i++)
		for (int pair = 0; unit->sources[i].zone == zone && !(supplies >> i & 1) && pair < 3; pair++)
			hs_pair_set(physical, i, pair, false);
}

void hs_physical_open(const hs_bench_unit *unit, hs_physical *physical, int openable)
{
	uint64_t bit = (uint64_t)1 << openable;
	hs_physical_touch(physical);
	physical->open |= bit;
	physical->ever_open |= bit;
	physical->uncounted = true;
	physical->stays_open &= ~bit;
	for (int zone = 0; zone < unit->zone_count; zone++)
		if (unit->zones[zone].guard == openable)
			forget_zone(unit, physical, zone);
	hs_physical_settle(unit, physical);
}

void hs_physical_close(const hs_bench_unit *unit, hs_physical *physical, int openable)
{
	uint64_t bit = (uint64_t)1 << openable;
	bool uncounted = physical->uncounted; /* a cover that goes on takes nothing in */
	hs_physical_touch(physical);
	physical->uncounted = unit->openables[openable].kind == HS_OPEN_COVER ? uncounted : true;
	physical->open &= ~bit;
	physical->stays_open &= ~bit;
	hs_physical_settle(unit, physical);
}

void hs_forget_energising(hs_physical *physical)
{
	hs_physical_touch(physical);
	physical->stays_open = 0;
}

void hs_forget_dead(hs_physical *physical)
{
	physical->facts &= HS_ENERGISING_FACTS | HS_KEYED_FACTS | HS_LIVE_DEAD_FACTS | HS_FACT_BIT(HS_FACT_LOAD);
	physical->waited = physical->discharging = physical->discharged = physical->rechecked = 0;
	physical->pairs_0 = physical->pairs_1 = physical->pairs_2 = 0;
	physical->zones_dead = 0;
}

bool hs_stores_have_waited(const hs_bench_unit *unit, const hs_physical *physical, bool all)
{
	uint32_t stores = hs_stores(unit);
	for (int i = 0; i < unit->source_count; i++)
		if (stores >> i & 1 && hs_must_wait(unit, i) && !(physical->waited >> i & 1) &&
		    (all || hs_store_in_reach(unit, physical, i, 0)))
			return false;
	return true;
}

static bool shorts_are_fitted(const hs_bench_unit *unit, const hs_physical *physical)
{
	uint32_t stores = hs_stores(unit);
	bool any = false;
	for (int i = 0; i < unit->source_count; i++) {
		int zone = unit->sources[i].zone;
		if (!(stores >> i & 1) || zone < 0 || !(physical->zones_dead >> zone & 1) || !hs_keeps_short(unit, i) ||
		    !hs_store_in_reach(unit, physical, i, 0))
			continue;
		if (!(physical->shorted >> i & 1))
			return false;
		any = true;
	}
	return any;
}

static hs_power derive(const hs_bench_unit *unit, const hs_physical *physical)
{
	uint32_t supplies = hs_supplies(unit);
	if ((physical->out & supplies) != supplies || !hs_physical_has(physical, HS_FACT_OTHER))
		return HS_POWER_OFF;
	if (!hs_physical_has(physical, HS_FACT_SECURED) || !hs_physical_has(physical, HS_FACT_SECURED_BY))
		return HS_POWER_DISCONNECTED;
	if (!hs_stores_have_waited(unit, physical, false))
		return HS_POWER_SECURED;
	/* A store behind a fitted guard need not have waited; but then nobody may say that the unit has. */
	if (!physical->zones_dead)
		return hs_stores_have_waited(unit, physical, true) ? HS_POWER_WAITED : HS_POWER_SECURED;
	return shorts_are_fitted(unit, physical) ? HS_POWER_SHORTED : HS_POWER_DEAD;
}

void hs_physical_settle(const hs_bench_unit *unit, hs_physical *physical)
{
	if (physical->power < HS_POWER_OFF)
		return;
	physical->power = derive(unit, physical);
	if (physical->power < HS_POWER_WAITED)
		physical->zones_dead = 0;
}
