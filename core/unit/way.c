#include "halfsplit/unit/way.h"

#include "facts.h"

/*
 * Each function below is one stretch of the way: true when it lies behind us, false with *gate filled when it does not.
 * They call each other backwards, so the first fact still missing is the one asked.
 */

static bool ask(hs_gate *gate, hs_gate_fact fact, int subject)
{
	*gate = (hs_gate){.fact = fact, .subject = subject};
	return false;
}

static int first_of(uint64_t mask)
{
	int i = 0;
	while (!(mask >> i & 1))
		i++;
	return i;
}

/* After a stop the plug comes first, because what burns may be the switch; out of reach, it comes behind the switch. */
static bool way_cut(const hs_bench_unit *unit, const hs_physical *physical, hs_gate *gate)
{
	uint32_t in = hs_supplies(unit) & ~physical->out;
	if (physical->power >= HS_POWER_OFF || physical->plug_later || !in)
		return true;
	ask(gate, HS_FACT_DISCONNECT, first_of(in));
	gate->cut = true;
	return false;
}

static bool way_off(const hs_bench_unit *unit, const hs_physical *physical, hs_gate *gate)
{
	if (physical->power >= HS_POWER_OFF)
		return true;
	bool may_emit = physical->power <= HS_POWER_KEYED && unit->emitter_count > 0;
	if (physical->key_down)
		return ask(gate, HS_FACT_UNKEYED, -1);
	if (may_emit && !hs_physical_has(physical, HS_FACT_UNKEYED))
		return ask(gate, HS_FACT_UNKEYED, -1);
	if (!hs_power_is_cut(unit, physical) && !hs_danger_next(unit, physical, HS_MOMENT_DOWN, ~0u, -1, gate))
		return false;
	return ask(gate, HS_FACT_SWITCH_OFF, -1);
}

static bool way_disconnected(const hs_bench_unit *unit, const hs_physical *physical, hs_gate *gate)
{
	if (!way_off(unit, physical, gate))
		return false;
	if (physical->power >= HS_POWER_DISCONNECTED)
		return true;
	uint32_t in = hs_supplies(unit) & ~physical->out;
	return in ? ask(gate, HS_FACT_DISCONNECT, first_of(in)) : ask(gate, HS_FACT_OTHER, -1);
}

static bool way_secured(const hs_bench_unit *unit, const hs_physical *physical, hs_gate *gate)
{
	if (!way_disconnected(unit, physical, gate))
		return false;
	if (physical->power >= HS_POWER_SECURED)
		return true;
	return ask(gate, hs_physical_has(physical, HS_FACT_SECURED) ? HS_FACT_SECURED_BY : HS_FACT_SECURED, -1);
}

static bool way_waited(const hs_bench_unit *unit, const hs_physical *physical, unsigned zones, hs_gate *gate)
{
	if (!way_secured(unit, physical, gate))
		return false;
	uint32_t stores = hs_stores(unit);
	for (int i = 0; i < unit->source_count; i++) {
		if (!(stores >> i & 1) || physical->waited >> i & 1 || !hs_must_wait(unit, i) ||
		    !hs_store_in_reach(unit, physical, i, zones))
			continue;
		ask(gate, HS_FACT_WAITED, i);
		gate->earliest_ms = hs_wait_over_ms(unit, physical, i);
		return false;
	}
	return true;
}

/* A store is discharged once its guard is off, before anything is tested: the tool is among the few things that may go
 * in. */
static bool way_discharged(const hs_bench_unit *unit, const hs_physical *physical, unsigned zones, hs_gate *gate)
{
	uint32_t stores = hs_stores(unit) & hs_sources_to_prove(unit, physical, zones);
	for (int i = 0; i < unit->source_count; i++)
		if (stores >> i & 1 && !(physical->discharged >> i & 1) && hs_must_discharge(unit, physical, i)) {
			bool on_it = physical->discharging >> i & 1;
			ask(gate, on_it ? HS_FACT_HELD : HS_FACT_DISCHARGED, i);
			gate->earliest_ms = on_it ? physical->held_until_ms[i] : 0;
			return false;
		}
	return true;
}

/* The first pair not yet tested, of one kind of known source or of any. */
static bool find_pair(const hs_bench_unit *unit, const hs_physical *physical, uint32_t sources, bool ac, hs_gate *gate)
{
	for (int i = 0; i < unit->source_count; i++) {
		hs_energy_kind kind = unit->sources[i].kind;
		if (!(sources >> i & 1) || (kind == HS_SOURCE_MAINS) != ac)
			continue;
		for (int pair = 0; pair < hs_pair_count(kind); pair++)
			if (!hs_pair_tested(physical, i, pair)) {
				*gate = (hs_gate){.fact = HS_FACT_PAIR, .subject = i, .pair = pair};
				return true;
			}
	}
	return false;
}

static bool way_proved_before(const hs_physical *physical, bool ac, bool dc, hs_gate *gate)
{
	if (!hs_physical_has(physical, HS_FACT_TESTER))
		return ask(gate, HS_FACT_TESTER, -1);
	if (ac && !hs_physical_has(physical, HS_FACT_KNOWN_AC))
		return ask(gate, HS_FACT_KNOWN_AC, -1);
	if (dc && !hs_physical_has(physical, HS_FACT_KNOWN_DC))
		return ask(gate, HS_FACT_KNOWN_DC, -1);
	return true;
}

static bool way_dead(const hs_bench_unit *unit, const hs_physical *physical, unsigned zones, hs_gate *gate)
{
	if (!way_waited(unit, physical, 0, gate))
		return false;
	unsigned missing = zones & ~physical->zones_dead;
	if (!missing)
		return true;
	if (!way_discharged(unit, physical, missing, gate))
		return false;
	uint32_t sources = hs_sources_to_prove(unit, physical, missing);
	hs_gate pair = {.fact = HS_FACT_NONE, .subject = -1};
	bool dc = find_pair(unit, physical, sources, false, &pair);
	bool ac = find_pair(unit, physical, sources, true, &pair);
	/* A unit that declares no source still has its tester proved, on direct voltage. */
	dc = dc || (!ac && !(physical->facts & HS_KNOWN_FACTS));
	if (!way_proved_before(physical, ac, dc, gate))
		return false;
	if (pair.fact != HS_FACT_NONE) {
		*gate = pair;
		return false;
	}
	bool ac_open =
	    hs_physical_has(physical, HS_FACT_KNOWN_AC) && !hs_physical_has(physical, HS_FACT_KNOWN_AC_AFTER);
	return ask(gate, ac_open ? HS_FACT_KNOWN_AC_AFTER : HS_FACT_KNOWN_DC_AFTER, -1);
}

static bool way_kept_dead(const hs_bench_unit *unit, const hs_physical *physical, unsigned zones, uint32_t unshort,
                          int64_t now_ms, hs_gate *gate)
{
	uint32_t stores = hs_stores(unit);
	for (int i = 0; i < unit->source_count; i++) {
		int zone = unit->sources[i].zone;
		if (!(stores >> i & 1) || zone < 0 || !hs_keeps_short(unit, i) ||
		    !hs_store_in_reach(unit, physical, i, 0))
			continue;
		bool fitted = physical->shorted >> i & 1, wanted = !(unshort >> i & 1);
		int64_t due = physical->proved_ms + HS_RECHECK_MS;
		/* Before a short goes on, because a store that crept back up is discharged and not shorted. */
		if (physical->zones_dead >> zone & 1 && !(physical->rechecked >> i & 1) && now_ms >= due) {
			ask(gate, HS_FACT_RECHECK, i);
			gate->earliest_ms = due;
			return false;
		}
		if (zones >> zone & 1 && fitted != wanted)
			return ask(gate, wanted ? HS_FACT_SHORT : HS_FACT_UNSHORT, i);
	}
	return true;
}

/*
 * The innermost thing that must be closed first: temporary changes stand behind the covers in the list, and a cover
 * waits for those that came off after it.
 */
static int innermost(const hs_bench_unit *unit, uint64_t blocked)
{
	int last = -1;
	for (int i = HS_OPENABLES_MOST - 1; i >= 0; i--) {
		if (!(blocked >> i & 1))
			continue;
		last = last < 0 ? i : last;
		bool inner = true;
		for (int j = 0; j < unit->openable_count; j++)
			inner = inner && !(blocked >> j & 1 && j != i && unit->openables[j].after == i);
		if (inner)
			return i;
	}
	return last;
}

/* A short comes out by hand, inside; so its zone is proved dead again before, if that proof was lost. */
static bool way_unshorted(const hs_bench_unit *unit, const hs_physical *physical, uint32_t shorts, hs_gate *gate)
{
	if (!shorts)
		return true;
	unsigned zones = 0;
	for (int i = 0; i < unit->source_count; i++)
		if (shorts >> i & 1 && unit->sources[i].zone >= 0)
			zones |= 1u << unit->sources[i].zone;
	if (!way_dead(unit, physical, zones, gate))
		return false;
	return ask(gate, HS_FACT_UNSHORT, first_of(shorts));
}

/* The shorts this cover would shut in. */
static uint32_t shorts_under(const hs_bench_unit *unit, const hs_physical *physical, int cover)
{
	uint32_t shorts = 0;
	for (int i = 0; i < unit->source_count; i++)
		if (physical->shorted >> i & 1 && hs_cover_encloses(unit, cover, unit->sources[i].zone))
			shorts |= 1u << i;
	return shorts;
}

static bool way_powered(const hs_bench_unit *unit, const hs_physical *physical, hs_power wanted, hs_gate *gate)
{
	if (physical->power == wanted)
		return true;
	hs_gate_fact throw_it = wanted == HS_POWER_STANDBY ? HS_FACT_STANDBY : HS_FACT_SWITCH_ON;
	if (physical->power < HS_POWER_OFF)
		return ask(gate, throw_it, -1);
	if (physical->uncounted)
		return ask(gate, HS_FACT_TOOLS, -1);
	if (!hs_danger_next(unit, physical, HS_MOMENT_UP, ~0u, -1, gate))
		return false;
	if (!hs_physical_has(physical, HS_FACT_PEOPLE))
		return ask(gate, HS_FACT_PEOPLE, -1);
	uint32_t out = hs_supplies(unit) & (physical->out | physical->was_out);
	return out ? ask(gate, HS_FACT_RECONNECT, first_of(out)) : ask(gate, throw_it, -1);
}

/* On standby there is no high voltage yet, and nothing of it is asked. */
static bool way_hot(const hs_bench_unit *unit, const hs_physical *physical, hs_power state, hs_gate *gate)
{
	return state != HS_POWER_ON || hs_danger_next(unit, physical, HS_MOMENT_HOT, ~0u, -1, gate);
}

/* Nothing is open but what the step names, and that is confirmed; no short is in. */
static bool way_shut(const hs_bench_unit *unit, const hs_physical *physical, const hs_target *target, hs_gate *gate,
                     int *blocker)
{
	bool powered = physical->power == HS_POWER_ON || physical->power == HS_POWER_STANDBY;
	if (!powered && !way_off(unit, physical, gate))
		return false;
	uint64_t blocked = physical->open & ~target->may_be_open;
	if (blocked) {
		/* A short comes out before the cover over it goes on, and not sooner: what lies under that cover is put
		 * back beside it. */
		int next = innermost(unit, blocked);
		if (!way_unshorted(unit, physical, shorts_under(unit, physical, next), gate))
			return false;
		*blocker = next;
		return ask(gate, HS_FACT_NONE, -1);
	}
	if (!way_unshorted(unit, physical, physical->shorted, gate))
		return false;
	if (!hs_danger_next(unit, physical, HS_MOMENT_UNHOOK, physical->hooked, -1, gate))
		return false;
	uint64_t unconfirmed = physical->open & ~physical->stays_open;
	return unconfirmed ? ask(gate, HS_FACT_STAYS_OPEN, first_of(unconfirmed)) : true;
}

/* The load is fitted with the power off, at the emitter that is keyed, once everything else is where it belongs. */
static bool way_loaded(const hs_bench_unit *unit, const hs_physical *physical, const hs_target *target, hs_gate *gate,
                       int *blocker)
{
	if (hs_physical_has(physical, HS_FACT_LOAD) && physical->load_emitter == hs_load_emitter(unit, target->emitter) &&
	    physical->load == target->load)
		return true;
	if (!way_off(unit, physical, gate) || !way_shut(unit, physical, target, gate, blocker))
		return false;
	ask(gate, HS_FACT_LOAD, target->emitter);
	gate->load = target->load;
	return false;
}

static bool way_keyed(const hs_bench_unit *unit, const hs_physical *physical, const hs_target *target, hs_gate *gate)
{
	static const hs_gate_fact order[] = {HS_FACT_LOAD_LOW, HS_FACT_PORTS, HS_FACT_INSTRUMENT, HS_FACT_COOLED, HS_FACT_CLEAR};
	int64_t cooled_ms = hs_cooled_ms(unit, physical);
	bool same = physical->keyed_step == target->step;
	for (size_t i = 0; i < sizeof order / sizeof *order; i++) {
		bool needless = (order[i] == HS_FACT_COOLED && cooled_ms == 0) || (order[i] == HS_FACT_LOAD_LOW && target->undriven);
		if (needless || (same && hs_physical_has(physical, order[i])))
			continue;
		ask(gate, order[i], -1);
		gate->earliest_ms = order[i] == HS_FACT_COOLED ? cooled_ms : 0;
		gate->key_seconds = target->key_seconds;
		return false;
	}
	return true;
}

/* By hand in a live zone: set up with it dead, as far as its stores warrant shorted, then up, then the last words before the probe. */
static bool way_live(const hs_bench_unit *unit, const hs_physical *physical, const hs_target *target, unsigned zones, int64_t now_ms,
                     hs_gate *gate, int *blocker)
{
	if (!hs_live_is_set_up(physical, target))
		return way_dead(unit, physical, zones, gate) && way_kept_dead(unit, physical, zones, 0, now_ms, gate) &&
		       hs_live_set_up(physical, target, gate);
	return way_shut(unit, physical, target, gate, blocker) && way_powered(unit, physical, target->state, gate) &&
	       way_hot(unit, physical, target->state, gate) && hs_live_now(unit, physical, target, zones, gate);
}

bool hs_way_next(const hs_bench_unit *unit, const hs_physical *physical, const hs_target *target, int64_t now_ms,
                 hs_gate *gate, int *blocker)
{
	unsigned zones = hs_zones_meant(unit, target->zones);
	if (target->cut && !way_cut(unit, physical, gate))
		return false;
	switch (target->state) {
	case HS_POWER_OFF:
		return way_off(unit, physical, gate);
	case HS_POWER_DISCONNECTED:
		return way_disconnected(unit, physical, gate);
	case HS_POWER_SECURED:
		return way_secured(unit, physical, gate);
	case HS_POWER_WAITED:
		return way_waited(unit, physical, target->zones, gate);
	case HS_POWER_DEAD:
		return way_dead(unit, physical, zones, gate);
	case HS_POWER_SHORTED:
		return way_dead(unit, physical, zones, gate) &&
		       way_kept_dead(unit, physical, zones, target->unshort, now_ms, gate);
	case HS_POWER_STANDBY:
	case HS_POWER_ON:
		if (target->live)
			return way_live(unit, physical, target, zones, now_ms, gate, blocker);
		return way_shut(unit, physical, target, gate, blocker) &&
		       way_powered(unit, physical, target->state, gate) && way_hot(unit, physical, target->state, gate);
	case HS_POWER_KEYED:
		return way_loaded(unit, physical, target, gate, blocker) &&
		       way_shut(unit, physical, target, gate, blocker) &&
		       way_powered(unit, physical, HS_POWER_ON, gate) && way_hot(unit, physical, HS_POWER_ON, gate) &&
		       way_keyed(unit, physical, target, gate);
	case HS_POWER_UNKNOWN:
	case HS_POWER_COUNT:
		break;
	}
	return true;
}
