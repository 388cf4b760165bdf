/* What passes a gate: for a proof, and for whoever plays a unit that is as it should be. */
#include "halfsplit/unit/way.h"

#include <math.h>
#include "danger.h"

/* As slow as may be: the largest of a few usual resistors whose time the gate takes. */
static void discharge_through(const hs_energy_source *store, hs_buf *out)
{
	static const double ohms[] = {1000.0, 470.0, 220.0, 100.0, 47.0, 22.0, 10.0};
	hs_store_figures at = hs_store_at_limits(store);
	double down_to = hs_dead_volts(store);
	double constants = at.volts > down_to ? log(at.volts / down_to) * hs_shop_or_default(store->shop)->waits : 0.0;
	size_t i = 0;
	while (i + 1 < sizeof ohms / sizeof *ohms && ohms[i] * at.farads * constants > HS_DISCHARGE_MOST_S)
		i++;
	hs_buf_printf(out, "%.0f ohm", ohms[i]);
}

/* A value that is as it should be: on the limit, and never in the way where nothing may be there. */
static void value_of(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	const hs_danger_row *row = hs_danger_row_of(gate);
	double limit = hs_danger_limit_of(unit, &unit->dangers[gate->subject], row->limit);
	bool least = row->rule == HS_RULE_AT_LEAST;
	if (row->rule == HS_RULE_CHASSIS)
		limit = 0.0;
	hs_buf_printf(out, "%.17g %s", least ? ceil(limit) : limit, hs_unit_name(row->unit));
}

/* Whoever the shop names for it first. */
static const char *whom(const hs_bench_unit *unit, const hs_gate *gate)
{
	const hs_shop *shop = hs_shop_or_default(unit->shop);
	if (hs_gate_is_second(gate))
		return shop->second_count > 0 && shop->seconds[0] ? shop->seconds[0] : "Second Person";
	return shop->authorised_count > 0 && shop->authorised[0] ? shop->authorised[0] : "Second Person";
}

static void text_of(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	const hs_danger *danger = gate->fact == HS_FACT_DANGER ? &unit->dangers[gate->subject] : NULL;
	hs_danger_rule rule = danger ? hs_danger_row_of(gate)->rule : HS_RULE_NONE;
	if (rule == HS_RULE_CLASS)
		hs_buf_str(out, danger->text ? danger->text : "4");
	else if (rule == HS_RULE_BAND)
		hs_buf_str(out, "100 nm to 20 um");
	else
		hs_buf_str(out, danger ? "the end of this step" : "two-pole tester 1");
}

void hs_gate_obliging(const hs_bench_unit *unit, const hs_gate *gate, const char *by, hs_buf *out)
{
	const char *words[4];
	bool known = gate->fact == HS_FACT_KNOWN_AC || gate->fact == HS_FACT_KNOWN_DC || gate->fact == HS_FACT_KNOWN_AC_AFTER ||
	             gate->fact == HS_FACT_KNOWN_DC_AFTER;
	switch (hs_gate_answer_of(gate)) {
	case HS_GATE_WORD:
		hs_gate_words_of(unit, gate, words);
		hs_buf_str(out, words[0] != NULL ? words[0] : "");
		return;
	case HS_GATE_NAME: hs_buf_str(out, by); return;
	case HS_GATE_TEXT: text_of(unit, gate, out); return;
	case HS_GATE_WHO: hs_buf_str(out, whom(unit, gate)); return;
	case HS_GATE_VOLTS: hs_buf_str(out, known ? "24 V" : "0 V"); return;
	case HS_GATE_VALUE: value_of(unit, gate, out); return;
	case HS_GATE_OHMS: discharge_through(&unit->sources[gate->subject], out); return;
	case HS_GATE_WATTS: hs_buf_printf(out, "%.17g W", hs_emitted_watts(unit, gate->subject)); return;
	}
}
