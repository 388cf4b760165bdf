#include "halfsplit/unit/way.h"

#include <string.h>
#include "danger.h"

/* One row a fact: where it is asked, what it is called there, and what it is about. `%` in the name stands for the
 * subject's id. */
typedef struct fact_row {
	const char *state;
	const char *name;
	hs_subject subject;
	hs_gate_answer answer;
	const char *words[4];
} fact_row;

static const fact_row rows[HS_FACT_COUNT] = {
    [HS_FACT_NONE] = {"", "", HS_SUBJECT_NONE, HS_GATE_WORD, {0}},
    [HS_FACT_UNKEYED] = {"off", "unkeyed", HS_SUBJECT_NONE, HS_GATE_WORD, {"unkeyed"}},
    [HS_FACT_SWITCH_OFF] = {"off", "switch", HS_SUBJECT_NONE, HS_GATE_WORD, {"off"}},
    [HS_FACT_DISCONNECT] = {"disconnected", "%", HS_SUBJECT_SUPPLY, HS_GATE_WORD, {"out"}},
    [HS_FACT_OTHER] = {"disconnected", "other", HS_SUBJECT_NONE, HS_GATE_WORD, {"none"}},
    [HS_FACT_SECURED] = {"secured", "plug", HS_SUBJECT_NONE, HS_GATE_WORD, {"hand", "sight", "lock"}},
    [HS_FACT_SECURED_BY] = {"secured", "by", HS_SUBJECT_NONE, HS_GATE_NAME, {0}},
    [HS_FACT_WAITED] = {"waited", "%", HS_SUBJECT_STORE, HS_GATE_WORD, {"waited"}},
    [HS_FACT_DISCHARGED] = {"discharged", "%", HS_SUBJECT_STORE, HS_GATE_OHMS, {0}},
    [HS_FACT_HELD] = {"discharged", "%.held", HS_SUBJECT_STORE, HS_GATE_WORD, {"held"}},
    [HS_FACT_TESTER] = {"dead", "tester", HS_SUBJECT_NONE, HS_GATE_TEXT, {0}},
    [HS_FACT_KNOWN_AC] = {"dead", "known-ac-before", HS_SUBJECT_NONE, HS_GATE_VOLTS, {0}},
    [HS_FACT_KNOWN_DC] = {"dead", "known-dc-before", HS_SUBJECT_NONE, HS_GATE_VOLTS, {0}},
    [HS_FACT_PAIR] = {"dead", "%.", HS_SUBJECT_SOURCE, HS_GATE_VOLTS, {0}},
    [HS_FACT_KNOWN_AC_AFTER] = {"dead", "known-ac-after", HS_SUBJECT_NONE, HS_GATE_VOLTS, {0}},
    [HS_FACT_KNOWN_DC_AFTER] = {"dead", "known-dc-after", HS_SUBJECT_NONE, HS_GATE_VOLTS, {0}},
    [HS_FACT_RECHECK] = {"dead", "%.recheck", HS_SUBJECT_STORE, HS_GATE_VOLTS, {0}},
    [HS_FACT_SHORT] = {"shorted", "%", HS_SUBJECT_STORE, HS_GATE_WORD, {"fitted"}},
    [HS_FACT_UNSHORT] = {"energise", "%.short", HS_SUBJECT_STORE, HS_GATE_WORD, {"removed"}},
    [HS_FACT_TOOLS] = {"energise", "tools", HS_SUBJECT_NONE, HS_GATE_WORD, {"counted"}},
    [HS_FACT_STAYS_OPEN] = {"energise", "%", HS_SUBJECT_OPENABLE, HS_GATE_WORD, {0}},
    [HS_FACT_PEOPLE] = {"energise", "people", HS_SUBJECT_NONE, HS_GATE_WORD, {"told"}},
    [HS_FACT_RECONNECT] = {"energise", "%", HS_SUBJECT_SUPPLY, HS_GATE_WORD, {"in"}},
    [HS_FACT_SWITCH_ON] = {"on", "switch", HS_SUBJECT_NONE, HS_GATE_WORD, {"on"}},
    [HS_FACT_STANDBY] = {"standby", "switch", HS_SUBJECT_NONE, HS_GATE_WORD, {"standby"}},
    [HS_FACT_LOAD] = {"keyed", "%.load", HS_SUBJECT_EMITTER, HS_GATE_WATTS, {0}},
    [HS_FACT_LOAD_LOW] = {"keyed", "low-power", HS_SUBJECT_NONE, HS_GATE_WORD, {"proved"}},
    [HS_FACT_PORTS] = {"keyed", "ports", HS_SUBJECT_NONE, HS_GATE_WORD, {"closed"}},
    [HS_FACT_INSTRUMENT] = {"keyed", "instrument", HS_SUBJECT_NONE, HS_GATE_WORD, {"protected"}},
    [HS_FACT_COOLED] = {"keyed", "cooled", HS_SUBJECT_NONE, HS_GATE_WORD, {"cooled"}},
    [HS_FACT_CLEAR] = {"keyed", "people", HS_SUBJECT_NONE, HS_GATE_WORD, {"clear"}},
    [HS_FACT_LIVE_WHY] = {"live", "why", HS_SUBJECT_NONE, HS_GATE_WORD, {"confirmed"}},
    [HS_FACT_LIVE_BY] = {"live", "authorised", HS_SUBJECT_NONE, HS_GATE_WHO, {0}},
    [HS_FACT_LIVE_SUPPLY] = {"live", "supply", HS_SUBJECT_NONE, HS_GATE_WORD, {"transformer", "rcd"}},
    [HS_FACT_LIVE_LEADS] = {"live", "leads", HS_SUBJECT_NONE, HS_GATE_WORD, {"rated"}},
    [HS_FACT_LIVE_COMMON] = {"live", "common", HS_SUBJECT_NONE, HS_GATE_WORD, {"clipped"}},
    [HS_FACT_LIVE_STRAP] = {"live", "strap", HS_SUBJECT_NONE, HS_GATE_WORD, {"off"}},
    [HS_FACT_LIVE_SECOND] = {"live", "second", HS_SUBJECT_NONE, HS_GATE_WHO, {0}},
    [HS_FACT_LIVE_CUT] = {"live", "cut", HS_SUBJECT_NONE, HS_GATE_WORD, {"ready"}},
    [HS_FACT_LIVE_HAND] = {"live", "hand", HS_SUBJECT_NONE, HS_GATE_WORD, {"one"}},
    [HS_FACT_DANGER] = {"", "%.", HS_SUBJECT_DANGER, HS_GATE_WORD, {0}}, /* the rest stands in its own row */
};

static const fact_row *row_of(hs_gate_fact fact)
{
	return &rows[fact > HS_FACT_NONE && fact < HS_FACT_COUNT ? fact : HS_FACT_NONE];
}

static const char *const danger_states[HS_DANGER_KINDS] = {"chassis", "hv",        "cells",  "battery", "toxic",
                                                           "laser",   "flammable", "static", "handling"};

const char *hs_gate_state(const hs_bench_unit *unit, const hs_gate *gate)
{
	if (gate->fact == HS_FACT_DANGER && gate->subject >= 0 && gate->subject < unit->danger_count)
		return danger_states[unit->dangers[gate->subject].kind];
	return row_of(gate->fact)->state;
}

hs_gate_answer hs_gate_answer_of(const hs_gate *gate)
{
	return gate->fact == HS_FACT_DANGER ? hs_danger_row_of(gate)->answer : row_of(gate->fact)->answer;
}

hs_subject hs_gate_subject_of(hs_gate_fact fact)
{
	return row_of(fact)->subject;
}

bool hs_gate_is_second(const hs_gate *gate)
{
	if (gate->fact != HS_FACT_DANGER)
		return gate->fact == HS_FACT_LIVE_SECOND;
	return hs_danger_row_of(gate)->rule == HS_RULE_ANOTHER && gate->pair != hs_danger_specialist();
}

static int subject_count(const hs_bench_unit *unit, hs_subject subject)
{
	switch (subject) {
	case HS_SUBJECT_SUPPLY:
	case HS_SUBJECT_STORE:
	case HS_SUBJECT_SOURCE:
		return unit->source_count;
	case HS_SUBJECT_OPENABLE:
		return unit->openable_count;
	case HS_SUBJECT_EMITTER:
		return unit->emitter_count;
	case HS_SUBJECT_DANGER:
		return unit->danger_count;
	case HS_SUBJECT_NONE:
		break;
	}
	return 0;
}

bool hs_subject_fits(const hs_bench_unit *unit, const hs_gate *gate)
{
	hs_subject subject = hs_gate_subject_of(gate->fact);
	int at = gate->subject;
	/* A load may stand for the strongest emitter; it needs no other subject. */
	if (subject == HS_SUBJECT_NONE || (subject == HS_SUBJECT_EMITTER && at == -1))
		return at == -1 && gate->pair == 0;
	if (at < 0 || at >= subject_count(unit, subject))
		return false;
	if (subject == HS_SUBJECT_DANGER)
		return hs_danger_row_fits(unit, gate);
	if (subject == HS_SUBJECT_SUPPLY && !(hs_supplies(unit) >> at & 1))
		return false;
	if (subject == HS_SUBJECT_STORE && !(hs_stores(unit) >> at & 1))
		return false;
	int pairs = gate->fact == HS_FACT_PAIR ? hs_pair_count(unit->sources[at].kind) : 1;
	return gate->pair >= 0 && gate->pair < pairs;
}

static const char *subject_id(const hs_bench_unit *unit, const hs_gate *gate)
{
	switch (hs_gate_subject_of(gate->fact)) {
	case HS_SUBJECT_OPENABLE:
		return unit->openables[gate->subject].id;
	case HS_SUBJECT_EMITTER:
		return unit->emitters[gate->subject].id;
	case HS_SUBJECT_DANGER:
		return unit->dangers[gate->subject].id;
	case HS_SUBJECT_SUPPLY:
	case HS_SUBJECT_STORE:
	case HS_SUBJECT_SOURCE:
		return unit->sources[gate->subject].id;
	case HS_SUBJECT_NONE:
		break;
	}
	return "";
}

void hs_gate_id(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	const fact_row *row = row_of(gate->fact);
	hs_buf_str(out, "gate/");
	hs_buf_str(out, hs_gate_state(unit, gate));
	hs_buf_char(out, '/');
	/* With one emitter there is nothing to tell apart. */
	if (gate->fact == HS_FACT_LOAD && (unit->emitter_count < 2 || gate->subject < 0)) {
		hs_buf_str(out, "load");
		return;
	}
	if (row->name[0] != '%') {
		hs_buf_str(out, row->name);
		return;
	}
	hs_buf_str(out, subject_id(unit, gate));
	hs_buf_str(out, row->name + 1);
	if (gate->fact == HS_FACT_PAIR)
		hs_buf_str(out, hs_pair_name(unit->sources[gate->subject].kind, gate->pair));
	else if (gate->fact == HS_FACT_DANGER)
		hs_buf_str(out, hs_danger_row_of(gate)->name);
}

static bool is_called(const hs_bench_unit *unit, const hs_gate *gate, const char *id)
{
	hs_buf name;
	hs_buf_init(&name);
	hs_gate_id(unit, gate, &name);
	bool same = strcmp(name.data, id) == 0;
	hs_buf_free(&name);
	return same;
}

static bool find_subject(const hs_bench_unit *unit, hs_gate_fact fact, const char *id, hs_gate *gate)
{
	int count = subject_count(unit, hs_gate_subject_of(fact)), pairs = 3;
	if (fact == HS_FACT_DANGER)
		hs_danger_rows(&pairs);
	for (int subject = 0; subject < count; subject++)
		for (int pair = 0; pair < pairs; pair++) {
			hs_gate candidate = {.fact = fact, .subject = subject, .pair = pair};
			if (hs_subject_fits(unit, &candidate) && is_called(unit, &candidate, id)) {
				*gate = candidate;
				return true;
			}
		}
	hs_gate alone = {.fact = fact, .subject = -1};
	if (!hs_subject_fits(unit, &alone) || !is_called(unit, &alone, id))
		return false;
	*gate = alone;
	return true;
}

/* Most facts are of another state, which spares making their ids. */
static bool is_of_state(const char *id, const char *state)
{
	size_t length = strlen(state);
	return strncmp(id, "gate/", 5) == 0 && strncmp(id + 5, state, length) == 0 && id[5 + length] == '/';
}

bool hs_gate_find(const hs_bench_unit *unit, const char *id, hs_gate *gate)
{
	for (int fact = HS_FACT_NONE + 1; fact < HS_FACT_COUNT; fact++)
		if ((fact == HS_FACT_DANGER || is_of_state(id, rows[fact].state)) && find_subject(unit, (hs_gate_fact)fact, id, gate))
			return true;
	return false;
}

void hs_gate_words_of(const hs_bench_unit *unit, const hs_gate *gate, const char *words[4])
{
	for (int i = 0; i < 4; i++)
		words[i] = gate->fact == HS_FACT_DANGER ? hs_danger_row_of(gate)->words[i] : row_of(gate->fact)->words[i];
	if (gate->fact == HS_FACT_STAYS_OPEN)
		words[0] = unit->openables[gate->subject].id;
	if (gate->cut)
		words[1] = HS_WORD_SWITCH;
}
