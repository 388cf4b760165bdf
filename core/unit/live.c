/* A live reading by hand: what is confirmed while the unit is dead, and what again just before the probe goes in. */
#include "facts.h"

static bool ask(hs_gate *gate, hs_gate_fact fact)
{
	*gate = (hs_gate){.fact = fact, .subject = -1};
	return false;
}

static bool missing(const hs_physical *physical, const hs_target *target, hs_gate_fact fact)
{
	return physical->live_step != target->step || !hs_physical_has(physical, fact);
}

bool hs_live_is_set_up(const hs_physical *physical, const hs_target *target)
{
	return physical->live_step == target->step && (physical->facts & HS_LIVE_DEAD_FACTS) == HS_LIVE_DEAD_FACTS;
}

bool hs_live_set_up(const hs_physical *physical, const hs_target *target, hs_gate *gate)
{
	for (hs_gate_fact fact = HS_FACT_LIVE_WHY; fact <= HS_FACT_LIVE_COMMON; fact++)
		if (missing(physical, target, fact))
			return ask(gate, fact);
	return true;
}

/* A zone as dangerous as mains is never read alone. */
static bool needs_two(const hs_bench_unit *unit, unsigned zones)
{
	for (int i = 0; i < unit->source_count; i++) {
		const hs_energy_source *source = &unit->sources[i];
		bool here = source->zone >= 0 && zones >> source->zone & 1;
		hs_store_figures at = hs_store_at_limits(source);
		bool heavy = source->kind == HS_SOURCE_STORE && (at.keep_shorted || !(source->farads > 0.0));
		if (here && (source->kind == HS_SOURCE_MAINS || heavy || !(at.volts < hs_shop_or_default(unit->shop)->lone_volts && at.volts > 0.0)))
			return true;
	}
	return false;
}

bool hs_live_now(const hs_bench_unit *unit, const hs_physical *physical, const hs_target *target, unsigned zones, hs_gate *gate)
{
	bool two = needs_two(unit, zones);
	for (hs_gate_fact fact = HS_FACT_LIVE_STRAP; fact <= HS_FACT_LIVE_HAND; fact++) {
		bool second = fact == HS_FACT_LIVE_SECOND || fact == HS_FACT_LIVE_CUT;
		if ((two || !second) && missing(physical, target, fact))
			return ask(gate, fact);
	}
	return true;
}
