#include "facts.h"

/* What must hold before something is opened or put back. */

static unsigned guarded_by(const hs_bench_unit *unit, int cover)
{
	unsigned zones = 0;
	for (int zone = 0; zone < unit->zone_count; zone++)
		if (unit->zones[zone].guard == cover)
			zones |= 1u << zone;
	return zones;
}

/* The hazardous zones behind the guards that come off before this: hands go through them. */
static unsigned passed_through(const hs_bench_unit *unit, int openable)
{
	unsigned zones = 0;
	int at = unit->openables[openable].after;
	for (int steps = 0; at >= 0 && at < unit->openable_count && steps < unit->openable_count; steps++) {
		zones |= guarded_by(unit, at);
		at = unit->openables[at].after;
	}
	for (int zone = 0; zone < unit->zone_count; zone++)
		if (!hs_zone_is_hazardous(unit, zone))
			zones &= ~(1u << zone);
	return zones;
}

static unsigned enclosed_by(const hs_bench_unit *unit, int openable)
{
	unsigned zones = 0;
	for (int zone = 0; zone < unit->zone_count; zone++)
		if (hs_cover_encloses(unit, openable, zone))
			zones |= 1u << zone;
	return zones;
}

int hs_targets_to_move(const hs_bench_unit *unit, const hs_physical *physical, int openable, bool closing, int step,
                       hs_target targets[2])
{
	const hs_openable *it = &unit->openables[openable];
	bool cover = it->kind == HS_OPEN_COVER, inside = cover || it->zone >= 0 || it->after >= 0;
	unsigned exposed = inside ? hs_zones_exposed(unit, physical) : 0;
	hs_target first = {
	    .state = hs_openable_needs(unit, openable), .may_be_open = UINT64_MAX, .emitter = -1, .step = step};
	/* While nothing is known of the power, it may be keyed. */
	if (first.state == HS_POWER_UNKNOWN && physical->power == HS_POWER_UNKNOWN)
		first.state = HS_POWER_OFF;
	unsigned dead = exposed & ~enclosed_by(unit, openable);
	bool proved = first.state >= HS_POWER_DEAD;
	if (proved)
		dead |= passed_through(unit, openable) | (closing ? 0 : guarded_by(unit, openable)) |
		        (!cover && it->zone >= 0 ? 1u << it->zone : 0);
	if (proved || (exposed && first.state < HS_POWER_WAITED))
		first.state = HS_POWER_WAITED;
	if (first.state == HS_POWER_WAITED)
		first.zones = guarded_by(unit, openable);
	targets[0] = targets[1] = first;
	if (!proved && !dead)
		return 1;
	/* With nothing left to short, what was proved stays proved: the supplies, and no short under the cover that
	 * goes on. */
	targets[1].state = closing && !dead ? HS_POWER_DEAD : HS_POWER_SHORTED;
	targets[1].zones = dead;
	return 2;
}
