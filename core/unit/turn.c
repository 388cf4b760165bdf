#include "danger.h"

/*
 * Whether a fact stands at this point of the way. The caller asks only what hs_way_next gave it; this holds even when
 * it does not, so that no order of calls reaches a state past a fact that is missing.
 */

static bool all_open_confirmed(const hs_physical *p)
{
	return !(p->open & ~p->stays_open);
}

static bool down_in_turn(const hs_bench_unit *unit, const hs_physical *p, const hs_gate *gate)
{
	int subject = gate->subject;
	switch (gate->fact) {
	case HS_FACT_UNKEYED:
		return p->power <= HS_POWER_KEYED || p->key_down;
	case HS_FACT_SWITCH_OFF:
		return p->power < HS_POWER_OFF &&
		       (p->power > HS_POWER_KEYED || !unit->emitter_count || hs_physical_has(p, HS_FACT_UNKEYED)) &&
		       (hs_power_is_cut(unit, p) || hs_dangers_ready(unit, p, HS_MOMENT_DOWN));
	case HS_FACT_DISCONNECT:
		return (p->power == HS_POWER_OFF || (gate->cut && p->power < HS_POWER_OFF)) && !(p->out >> subject & 1);
	case HS_FACT_OTHER:
		return p->power == HS_POWER_OFF && !(hs_supplies(unit) & ~p->out);
	case HS_FACT_SECURED:
		return p->power == HS_POWER_DISCONNECTED;
	case HS_FACT_SECURED_BY:
		return p->power == HS_POWER_DISCONNECTED && hs_physical_has(p, HS_FACT_SECURED);
	case HS_FACT_WAITED:
		return p->power >= HS_POWER_SECURED && hs_must_wait(unit, subject) && !(p->waited >> subject & 1);
	case HS_FACT_DISCHARGED:
		return p->power >= HS_POWER_SECURED && hs_store_in_reach(unit, p, subject, 0) &&
		       (!hs_must_wait(unit, subject) || p->waited >> subject & 1);
	case HS_FACT_HELD:
		return p->power >= HS_POWER_SECURED && p->discharging >> subject & 1 && !(p->discharged >> subject & 1);
	default:
		return false;
	}
}

static bool proof_in_turn(const hs_bench_unit *unit, const hs_physical *p, const hs_gate *gate)
{
	int subject = gate->subject;
	int zone = subject >= 0 ? unit->sources[subject].zone : -1;
	bool zone_dead = zone >= 0 && p->zones_dead >> zone & 1;
	bool mains = subject >= 0 && unit->sources[subject].kind == HS_SOURCE_MAINS;
	/* Behind a fitted guard only the terminals of a supply are reached. */
	bool reached = subject >= 0 && (hs_supplies(unit) >> subject & 1 || hs_store_in_reach(unit, p, subject, 0));
	bool closing = (p->facts & HS_AFTER_FACTS) != 0;
	if (p->power < HS_POWER_SECURED || !hs_stores_have_waited(unit, p, false))
		return false;
	switch (gate->fact) {
	case HS_FACT_TESTER:
		return !(p->facts & HS_KNOWN_FACTS);
	case HS_FACT_KNOWN_AC:
	case HS_FACT_KNOWN_DC:
		return hs_physical_has(p, HS_FACT_TESTER) && !closing;
	case HS_FACT_PAIR:
		return reached && hs_physical_has(p, mains ? HS_FACT_KNOWN_AC : HS_FACT_KNOWN_DC) && !closing;
	case HS_FACT_KNOWN_AC_AFTER:
		return hs_physical_has(p, HS_FACT_KNOWN_AC);
	case HS_FACT_KNOWN_DC_AFTER:
		return hs_physical_has(p, HS_FACT_KNOWN_DC);
	case HS_FACT_RECHECK:
		return reached && zone_dead && hs_keeps_short(unit, subject);
	case HS_FACT_SHORT:
		return reached && zone_dead && !(p->shorted >> subject & 1);
	default:
		return false;
	}
}

static bool up_in_turn(const hs_bench_unit *unit, const hs_physical *p, const hs_gate *gate)
{
	int subject = gate->subject;
	int zone = gate->fact == HS_FACT_UNSHORT ? unit->sources[subject].zone : -1;
	bool powered = p->power == HS_POWER_ON || p->power == HS_POWER_STANDBY;
	bool down = p->power >= HS_POWER_OFF;
	bool ready = !p->shorted && all_open_confirmed(p) && !p->uncounted &&
	             hs_physical_has(p, HS_FACT_PEOPLE) && !p->hooked && hs_dangers_ready(unit, p, HS_MOMENT_UP);
	switch (gate->fact) {
	case HS_FACT_UNSHORT:
		return down && p->shorted >> subject & 1 && (zone < 0 || p->zones_dead >> zone & 1);
	case HS_FACT_TOOLS:
		return down || p->open;
	case HS_FACT_PEOPLE:
		return down;
	case HS_FACT_STAYS_OPEN:
		return (down || powered) && p->open >> subject & 1;
	case HS_FACT_RECONNECT:
		return down && ready && (p->out | p->was_out) >> subject & 1;
	case HS_FACT_SWITCH_ON:
	case HS_FACT_STANDBY:
		if (p->power == (gate->fact == HS_FACT_STANDBY ? HS_POWER_STANDBY : HS_POWER_ON))
			return false;
		return (powered && all_open_confirmed(p)) || (down && ready && !(hs_supplies(unit) & (p->out | p->was_out)));
	case HS_FACT_LOAD:
		return down;
	case HS_FACT_LOAD_LOW:
	case HS_FACT_PORTS:
	case HS_FACT_INSTRUMENT:
	case HS_FACT_COOLED:
	case HS_FACT_CLEAR:
		return p->power == HS_POWER_ON && all_open_confirmed(p) && hs_dangers_ready(unit, p, HS_MOMENT_HOT);
	case HS_FACT_LIVE_WHY:
	case HS_FACT_LIVE_BY:
	case HS_FACT_LIVE_SUPPLY:
	case HS_FACT_LIVE_LEADS:
	case HS_FACT_LIVE_COMMON:
		return p->power >= HS_POWER_DEAD && p->zones_dead;
	case HS_FACT_LIVE_STRAP:
	case HS_FACT_LIVE_SECOND:
	case HS_FACT_LIVE_CUT:
	case HS_FACT_LIVE_HAND:
		return powered && all_open_confirmed(p) && (p->power != HS_POWER_ON || hs_dangers_ready(unit, p, HS_MOMENT_HOT)) && (p->facts & HS_LIVE_DEAD_FACTS) == HS_LIVE_DEAD_FACTS;
	default:
		return false;
	}
}

bool hs_in_turn(const hs_bench_unit *unit, const hs_physical *physical, const hs_gate *gate)
{
	if (!hs_subject_fits(unit, gate))
		return false;
	if (gate->fact == HS_FACT_DANGER)
		return hs_danger_in_turn(unit, physical, gate);
	if (gate->fact <= HS_FACT_HELD)
		return down_in_turn(unit, physical, gate);
	if (gate->fact <= HS_FACT_SHORT)
		return proof_in_turn(unit, physical, gate);
	return up_in_turn(unit, physical, gate);
}
