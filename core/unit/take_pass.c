/* What an accepted answer to a gate does to what is known of the unit: on the way down, in the proof, and on the way up. */
#include "take_parts.h"

static void pass_down(const taking *t)
{
	hs_physical *p = t->physical;
	uint32_t bit = t->gate->subject >= 0 ? 1u << t->gate->subject : 0;
	if (t->gate->cut && hs_same_word(t->text, HS_WORD_SWITCH)) {
		p->plug_later = true;
		return;
	}
	/* Between two key-downs nothing else has changed. */
	if (t->gate->fact == HS_FACT_UNKEYED && p->key_down) {
		p->key_down = false;
		return;
	}
	p->facts |= HS_FACT_BIT(t->gate->fact);
	switch (t->gate->fact) {
	case HS_FACT_SWITCH_OFF:
		p->power = HS_POWER_OFF;
		hs_dangers_lapse(p, HS_KEEPS_POWER);
		hs_forget_dead(p);
		break;
	case HS_FACT_DISCONNECT:
		hs_dangers_lapse(p, HS_KEEPS_PLUG);
		p->out |= bit;
		p->was_out &= ~bit;
		p->disconnected_ms = t->now_ms;
		break;
	case HS_FACT_OTHER:
		/* A second supply found now would have charged the stores until now. */
		p->disconnected_ms = t->now_ms;
		break;
	case HS_FACT_WAITED:
		p->waited |= bit;
		break;
	case HS_FACT_DISCHARGED:
		p->discharging |= bit;
		break;
	case HS_FACT_HELD:
		p->discharged |= bit;
		p->discharging &= ~bit;
		break;
	default:
		break;
	}
	hs_forget_energising(p);
}

/* The tester shown to work again closes the proof: every zone whose pairs are all tested is dead from now on. */
static void close_proof(const taking *t)
{
	hs_physical *p = t->physical;
	bool ac_open = hs_physical_has(p, HS_FACT_KNOWN_AC) && !hs_physical_has(p, HS_FACT_KNOWN_AC_AFTER);
	bool dc_open = hs_physical_has(p, HS_FACT_KNOWN_DC) && !hs_physical_has(p, HS_FACT_KNOWN_DC_AFTER);
	if (ac_open || dc_open)
		return;
	p->facts &= ~(HS_KNOWN_FACTS | HS_AFTER_FACTS);
	int zones = t->unit->zone_count > 0 ? t->unit->zone_count : 1;
	for (int zone = 0; zone < zones; zone++) {
		if (p->zones_dead >> zone & 1 ||
		    !hs_all_pairs_tested(t->unit, p, hs_sources_to_prove(t->unit, p, 1u << zone)))
			continue;
		p->zones_dead |= 1u << zone;
		p->proved_ms = t->now_ms;
		for (int i = 0; i < t->unit->source_count; i++)
			if (t->unit->sources[i].zone == zone)
				p->rechecked &= ~(1u << i);
	}
}

static void pass_proof(const taking *t)
{
	hs_physical *p = t->physical;
	int subject = t->gate->subject;
	p->facts |= HS_FACT_BIT(t->gate->fact);
	switch (t->gate->fact) {
	case HS_FACT_PAIR:
		hs_pair_set(p, subject, t->gate->pair, true);
		break;
	case HS_FACT_KNOWN_AC_AFTER:
	case HS_FACT_KNOWN_DC_AFTER:
		close_proof(t);
		break;
	case HS_FACT_RECHECK:
		p->rechecked |= 1u << subject;
		break;
	case HS_FACT_SHORT:
		p->shorted |= 1u << subject;
		p->uncounted = true;
		break;
	default:
		break;
	}
	hs_forget_energising(p);
}

static void pass_up(const taking *t)
{
	hs_physical *p = t->physical;
	int subject = t->gate->subject;
	uint64_t live = p->facts & HS_LIVE_DEAD_FACTS;
	int live_step = p->live_step;
	switch (t->gate->fact) {
	case HS_FACT_UNSHORT:
		p->shorted &= ~(1u << subject);
		p->uncounted = true;
		/* From now on it can creep back up. What was clipped beside it for a live reading stays clipped. */
		p->rechecked &= ~(1u << subject);
		hs_forget_energising(p);
		p->facts |= live;
		p->live_step = live_step;
		break;
	case HS_FACT_LOAD:
		p->facts |= HS_FACT_BIT(t->gate->fact);
		p->load = t->gate->load;
		p->load_emitter = hs_load_emitter(t->unit, subject);
		break;
	case HS_FACT_TOOLS:
		p->uncounted = false;
		break;
	case HS_FACT_STAYS_OPEN:
		p->stays_open |= (uint64_t)1 << subject;
		break;
	case HS_FACT_RECONNECT:
		hs_dangers_lapse(p, HS_KEEPS_PLUG);
		p->out &= ~(1u << subject);
		p->was_out &= ~(1u << subject);
		hs_forget_dead(p);
		break;
	case HS_FACT_SWITCH_ON:
	case HS_FACT_STANDBY:
		if (p->power >= HS_POWER_OFF)
			p->powered_ms = t->now_ms;
		hs_dangers_lapse(p, HS_KEEPS_POWER);
		p->power = t->gate->fact == HS_FACT_STANDBY ? HS_POWER_STANDBY : HS_POWER_ON;
		p->facts &= ~HS_KEYED_FACTS;
		p->keyed_step = -1;
		hs_forget_dead(p);
		break;
	default:
		p->facts |= HS_FACT_BIT(t->gate->fact);
		break;
	}
}

static bool is_keyed_fact(hs_gate_fact fact)
{
	return HS_KEYED_FACTS >> fact & 1;
}

hs_gate_result hs_taking_pass(const taking *t)
{
	hs_physical *p = t->physical;
	hs_gate_fact fact = t->gate->fact;
	if (fact == HS_FACT_DANGER) {
		hs_danger_pass(p, t->gate, t->step, t->now_ms);
		hs_physical_settle(t->unit, p);
		return HS_GATE_PASSED;
	}
	if (is_keyed_fact(fact) && p->keyed_step != t->step) {
		p->facts &= ~HS_KEYED_FACTS;
		p->keyed_step = t->step;
	}
	if (HS_LIVE_FACTS >> fact & 1 && p->live_step != t->step) {
		p->facts &= ~HS_LIVE_FACTS;
		p->live_step = t->step;
	}
	if (fact <= HS_FACT_HELD)
		pass_down(t);
	else if (fact <= HS_FACT_SHORT)
		pass_proof(t);
	else
		pass_up(t);
	hs_physical_settle(t->unit, p);
	return HS_GATE_PASSED;
}
