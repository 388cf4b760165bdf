/* What passes a gate: for a proof, and for whoever plays a unit that is as it should be. */
#include "halfsplit/unit/way.h"

#include <math.h>
#include "facts.h"

/* As slow as may be: the largest of a few usual resistors whose time the gate takes. */
static void discharge_through(const hs_energy_source *store, hs_buf *out)
{
	static const double ohms[] = {1000.0, 470.0, 220.0, 100.0, 47.0, 22.0, 10.0};
	hs_store_figures at = hs_store_at_limits(store);
	double down_to = hs_dead_volts(store);
	double constants = at.volts > down_to ? log(at.volts / down_to) : 0.0;
	size_t i = 0;
	while (i + 1 < sizeof ohms / sizeof *ohms && ohms[i] * at.farads * constants > HS_DISCHARGE_MOST_S)
		i++;
	hs_buf_printf(out, "%.0f ohm", ohms[i]);
}

void hs_gate_obliging(const hs_bench_unit *unit, const hs_gate *gate, const char *by, hs_buf *out)
{
	const char *words[4];
	bool known = gate->fact == HS_FACT_KNOWN_AC || gate->fact == HS_FACT_KNOWN_DC || gate->fact == HS_FACT_KNOWN_AC_AFTER ||
	             gate->fact == HS_FACT_KNOWN_DC_AFTER;
	switch (hs_gate_answer_of(gate->fact)) {
	case HS_GATE_WORD:
		hs_gate_words_of(unit, gate, words);
		hs_buf_str(out, words[0] != NULL ? words[0] : "");
		return;
	case HS_GATE_NAME: hs_buf_str(out, by); return;
	case HS_GATE_TEXT: hs_buf_str(out, "two-pole tester 1"); return;
	case HS_GATE_WHO: hs_buf_str(out, "Second Person"); return;
	case HS_GATE_VOLTS: hs_buf_str(out, known ? "24 V" : "0 V"); return;
	case HS_GATE_OHMS: discharge_through(&unit->sources[gate->subject], out); return;
	case HS_GATE_WATTS: hs_buf_printf(out, "%.17g W", hs_emitted_watts(unit, gate->subject)); return;
	}
}
