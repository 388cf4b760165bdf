#include "halfsplit/unit/way.h"

#include <math.h>
#include <stdlib.h>
#include "halfsplit/base/alloc.h"
#include "take_parts.h"

hs_gate_result hs_taking_refuse(const taking *t, const char *sentence)
{
	hs_buf_str(t->why, sentence);
	return HS_GATE_REFUSED;
}

/* Quotes what was typed, safe to show and not longer than a line. */
void hs_taking_quote(const taking *t)
{
	char shorter[60];
	hs_copy(shorter, sizeof shorter, t->text);
	hs_buf_char(t->why, '"');
	hs_buf_shown(t->why, shorter, false);
	hs_buf_char(t->why, '"');
}

/* Whose name must be another than that of the person at the bench: a second person's, and a specialist's. */
static bool is_another(const taking *t)
{
	return hs_gate_is_second(t->gate) || (t->gate->fact == HS_FACT_DANGER && t->gate->pair == hs_danger_specialist());
}

static void say_words(const char *const words[4], hs_buf *out)
{
	for (int i = 0; i < 4 && words[i]; i++) {
		const char *between = i == 0 ? "" : i < 3 && words[i + 1] ? ", " : " or ";
		hs_buf_printf(out, "%s\"%s\"", between, words[i]);
	}
}

/* What this gate wants, as the end of a sentence. */
static void say_wanted(const taking *t)
{
	const char *words[4];
	hs_gate_words_of(t->unit, t->gate, words);
	switch (hs_gate_answer_of(t->gate)) {
	case HS_GATE_WORD:
		hs_buf_str(t->why, "type ");
		say_words(words, t->why);
		hs_buf_str(t->why, " once it is so");
		break;
	case HS_GATE_NAME:
		hs_buf_str(t->why, "type the name of the person at the bench");
		break;
	case HS_GATE_VALUE:
		hs_danger_say_wanted(t);
		break;
	case HS_GATE_TEXT:
		if (t->gate->fact == HS_FACT_DANGER)
			hs_danger_say_wanted(t);
		else
			hs_buf_str(t->why, "type which tester it is, by its name or number");
		break;
	case HS_GATE_WHO:
		hs_buf_str(t->why, is_another(t) ? "the second person types their own name" : "type the name of who authorised it");
		break;
	case HS_GATE_VOLTS:
		hs_buf_str(t->why, "type the reading in volts, such as \"0.2 V\"");
		break;
	case HS_GATE_OHMS:
		hs_buf_str(t->why, "type the resistance it was discharged through, such as \"1 kohm\"");
		break;
	case HS_GATE_WATTS:
		hs_buf_str(t->why, "type the watts the load is rated for, such as \"100 W\"");
		break;
	}
}

hs_gate_result hs_taking_refuse_wanted(const taking *t)
{
	if (t->text[0])
		hs_taking_quote(t);
	else
		hs_buf_str(t->why, "Enter alone");
	hs_buf_str(t->why, " does not pass this gate: ");
	say_wanted(t);
	hs_buf_char(t->why, '.');
	return HS_GATE_REFUSED;
}

/* Never trusts the gate's own time alone: what was declared of the store and when its supply came out decide. */
static int64_t earliest_of(const taking *t)
{
	int64_t earliest = t->gate->earliest_ms;
	int64_t computed = 0;
	if (t->gate->fact == HS_FACT_WAITED)
		computed = hs_wait_over_ms(t->unit, t->physical, t->gate->subject);
	else if (t->gate->fact == HS_FACT_RECHECK)
		computed = t->physical->proved_ms + HS_RECHECK_MS;
	else if (t->gate->fact == HS_FACT_COOLED)
		computed = hs_cooled_ms(t->unit, t->physical);
	else if (t->gate->fact == HS_FACT_DANGER)
		computed = hs_danger_earliest(t->unit, t->physical, t->gate);
	else if (t->gate->fact == HS_FACT_HELD)
		computed = t->physical->held_until_ms[t->gate->subject];
	return computed > earliest ? computed : earliest;
}

static hs_gate_result refuse_early(const taking *t, int64_t earliest)
{
	hs_buf_str(t->why, "Too early: ");
	if (t->gate->fact == HS_FACT_WAITED) {
		hs_store_words(&t->unit->sources[t->gate->subject], t->why);
		hs_buf_str(t->why, "; ");
	}
	hs_buf_str(t->why, "the time is not over for another ");
	hs_say_figure(t->why, ceil((double)(earliest - t->now_ms) / 1000.0), HS_SECOND);
	hs_buf_str(t->why, ", and nothing shortens it.");
	return HS_GATE_REFUSED;
}

static hs_gate_result take_word(const taking *t)
{
	const char *words[4];
	hs_gate_words_of(t->unit, t->gate, words);
	for (int i = 0; i < 4 && words[i]; i++)
		if (hs_same_word(t->text, words[i]))
			return t->gate->fact == HS_FACT_DANGER ? hs_danger_take_word(t, i) : hs_taking_pass(t);
	return hs_taking_refuse_wanted(t);
}

static hs_gate_result take_name(const taking *t)
{
	if (!t->by || !t->by[0])
		return hs_taking_refuse(
		    t, "Nobody is named at the bench, so nobody can have secured the plug: say who is there first.");
	if (hs_same_word(t->text, t->by))
		return hs_taking_pass(t);
	hs_taking_quote(t);
	hs_buf_str(t->why, " is not the person at the bench, ");
	hs_buf_shown(t->why, t->by, false);
	hs_buf_str(t->why, ": whoever reaches in secures the plug, and types that name.");
	return HS_GATE_REFUSED;
}

static bool is_named(const char *text)
{
	static const char *const none[] = {"yes", "ok", "no", "none", "nobody", "me", "myself"};
	bool named = hs_text_columns(text) >= 2;
	for (size_t i = 0; i < sizeof none / sizeof *none; i++)
		named = named && !hs_same_word(text, none[i]);
	return named;
}

static hs_gate_result take_tester(const taking *t)
{
	return is_named(t->text) ? hs_taking_pass(t) : hs_taking_refuse_wanted(t);
}

/* Where the shop names people, only these. */
static bool is_allowed(const taking *t)
{
	const hs_shop *shop = hs_shop_or_default(t->unit->shop);
	return hs_gate_is_second(t->gate) ? hs_shop_names(shop->seconds, shop->second_count, t->text)
	                                  : hs_shop_names(shop->authorised, shop->authorised_count, t->text);
}

/* The second person is another one: the name of whoever is at the bench names nobody. */
static hs_gate_result take_who(const taking *t)
{
	if (!is_named(t->text))
		return hs_taking_refuse_wanted(t);
	if (!is_allowed(t)) {
		hs_taking_quote(t);
		hs_buf_str(t->why, " is not among those whom this shop's settings name for it.");
		return HS_GATE_REFUSED;
	}
	if (!is_another(t) || (t->by && t->by[0] && !hs_same_word(t->text, t->by)))
		return hs_taking_pass(t);
	hs_taking_quote(t);
	hs_buf_str(t->why, " is the person at the bench: a second person stands in sight, can cut the power, and types their own name.");
	return HS_GATE_REFUSED;
}

hs_gate_result hs_taking_refuse_error(const taking *t, const hs_error *error)
{
	hs_buf_shown(t->why, error->message, false);
	if (error->hint[0]) {
		hs_buf_str(t->why, " (");
		hs_buf_shown(t->why, error->hint, false);
		hs_buf_char(t->why, ')');
	}
	hs_buf_str(t->why, "; ");
	say_wanted(t);
	hs_buf_char(t->why, '.');
	return HS_GATE_REFUSED;
}

/* Down to what counts as dead, through a resistor, at the limits; 0 when it is not known. */
static double discharge_s(const hs_energy_source *store, double ohm)
{
	hs_store_figures at = hs_store_at_limits(store);
	double down_to = hs_dead_volts(store);
	return at.volts > down_to && at.farads > 0.0 ? ohm * at.farads * log(at.volts / down_to) * hs_shop_or_default(store->shop)->waits : 0.0;
}

static hs_gate_result take_ohms(const taking *t)
{
	hs_quantity through;
	hs_error error = {0};
	if (!hs_quantity_read(t->text, HS_OHM, &through, &error))
		return hs_taking_refuse_error(t, &error);
	if (through.unit != HS_OHM)
		return hs_taking_refuse_wanted(t);
	double needed_s = discharge_s(&t->unit->sources[t->gate->subject], through.value);
	if (through.value >= HS_SHORT_OHMS && needed_s > HS_DISCHARGE_MOST_S) {
		hs_taking_quote(t);
		hs_buf_str(t->why, " would need ");
		hs_say_figure(t->why, needed_s, HS_SECOND);
		hs_buf_str(t->why, "; take a smaller resistor, rated for the peak it takes.");
		return HS_GATE_REFUSED;
	}
	if (through.value >= HS_SHORT_OHMS) {
		t->physical->held_until_ms[t->gate->subject] = t->now_ms + (int64_t)ceil(needed_s) * 1000;
		return hs_taking_pass(t);
	}
	hs_taking_quote(t);
	hs_buf_printf(t->why,
	              " is a short circuit, not a discharge: go through a resistor of at least %.0f ohm, rated for the "
	              "peak it takes.",
	              HS_SHORT_OHMS);
	return HS_GATE_REFUSED;
}

static hs_gate_result take_watts(const taking *t)
{
	hs_quantity typed, rated;
	hs_error error = {0};
	if (!hs_quantity_read(t->text, HS_WATT, &typed, &error) ||
	    !hs_quantity_convert(typed, HS_WATT, 0.0, &rated, &error))
		return hs_taking_refuse_error(t, &error);
	double emitted = hs_emitted_watts(t->unit, t->gate->subject);
	if (emitted > 0.0 && rated.value > HS_LOAD_MOST * emitted) {
		hs_taking_quote(t);
		hs_buf_str(t->why, " is ");
		hs_say_figure(t->why, rated.value, HS_WATT);
		hs_buf_str(t->why, ", and no load here is rated for that: look at the unit, and type what stands on the load.");
		return HS_GATE_REFUSED;
	}
	if (rated.value > 0.0 && rated.value >= emitted)
		return hs_taking_pass(t);
	hs_taking_quote(t);
	hs_buf_str(t->why, " is too small a load: it must stand at least the ");
	hs_say_figure(t->why, emitted, HS_WATT);
	hs_buf_str(t->why, " this unit can put into it.");
	return HS_GATE_REFUSED;
}

/* The reading as a magnitude with what is known of it: below, above, or that value. */
typedef struct volts {
	hs_entry_kind kind;
	double value;
} volts;

static bool read_volts(const taking *t, volts *out, hs_error *error)
{
	hs_entry entry;
	if (!hs_entry_read(t->text, HS_VOLT, &entry, error))
		return false;
	bool over = entry.kind == HS_ENTRY_OVER;
	bool bound = entry.kind == HS_ENTRY_ABOVE || entry.kind == HS_ENTRY_BELOW;
	if (over) {
		*out = (volts){entry.kind, HUGE_VAL};
		return true;
	}
	if (!bound && entry.kind != HS_ENTRY_NUMBER)
		return hs_fail(error, HS_REFUSED, "this gate cannot be left unread");
	if (entry.quantity.unit != HS_VOLT)
		return hs_fail(error, HS_REFUSED, "this gate takes plain volts, no %s",
		               hs_unit_name(entry.quantity.unit));
	if (bound && entry.quantity.value < 0.0)
		return hs_fail(error, HS_REFUSED, "a bound below zero says nothing of how far from zero it is");
	*out = (volts){entry.kind, fabs(entry.quantity.value)};
	return true;
}

static void say_subject(const taking *t)
{
	const hs_energy_source *source = &t->unit->sources[t->gate->subject];
	hs_buf_str(t->why, source->id);
	hs_buf_char(t->why, ' ');
	hs_buf_str(t->why,
	           t->gate->fact == HS_FACT_PAIR ? hs_pair_name(source->kind, t->gate->pair) : "at its recheck");
	hs_buf_str(t->why, " reads ");
	hs_buf_shown(t->why, t->text, false);
}

/* A store that still holds its charge is never trusted to bleed again; whatever was proved beside it is proved anew. */
static hs_gate_result fail_charged(const taking *t)
{
	hs_physical *p = t->physical;
	int subject = t->gate->subject;
	say_subject(t);
	hs_buf_str(t->why, ": it is still charged, so its bleeder may be open or something feeds it. Hands out: "
	                   "discharge it through a "
	                   "resistor again, and look for another supply.");
	p->charged |= 1u << subject;
	p->discharged &= ~(1u << subject);
	p->discharging &= ~(1u << subject);
	p->rechecked &= ~(1u << subject);
	bool recheck = t->gate->fact == HS_FACT_RECHECK;
	uint32_t again =
	    recheck ? ~0u : 1u << subject | (p->zones_dead ? hs_sources_to_prove(t->unit, p, p->zones_dead) : 0);
	p->pairs_0 &= ~again;
	p->pairs_1 &= ~again;
	p->pairs_2 &= ~again;
	p->zones_dead = 0;
	if (recheck)
		p->facts &= ~(HS_KNOWN_FACTS | HS_AFTER_FACTS);
	hs_forget_energising(p);
	hs_physical_settle(t->unit, p);
	return HS_GATE_FAILED;
}

static hs_gate_result fail_live(const taking *t)
{
	say_subject(t);
	hs_buf_str(t->why, ": that is live. Hands out and stay out; nothing is known of this unit's power any more, "
	                   "and the way begins "
	                   "again at its switch.");
	hs_physical_void(t->physical);
	return HS_GATE_FAILED;
}

static hs_gate_result take_pair(const taking *t, const volts *reading)
{
	double limit = hs_dead_volts(&t->unit->sources[t->gate->subject]);
	bool low = reading->value <= limit;
	if (low && reading->kind != HS_ENTRY_ABOVE)
		return hs_taking_pass(t);
	if (low || reading->kind == HS_ENTRY_BELOW) {
		hs_taking_quote(t);
		hs_buf_printf(t->why, " does not show it dead: the reading itself must be at or under %.3g V.", limit);
		return HS_GATE_REFUSED;
	}
	bool store = t->unit->sources[t->gate->subject].kind == HS_SOURCE_STORE;
	return store ? fail_charged(t) : fail_live(t);
}

/* Pairs tested by a tester that then failed prove nothing; zones proved with it shown to work stay proved. */
static void void_test(const taking *t)
{
	hs_physical *p = t->physical;
	p->facts &= ~(HS_KNOWN_FACTS | HS_AFTER_FACTS | HS_FACT_BIT(HS_FACT_TESTER));
	uint32_t proved = 0;
	for (int zone = 0; zone < HS_ZONES_MOST; zone++)
		if (p->zones_dead >> zone & 1)
			proved |= hs_sources_to_prove(t->unit, p, 1u << zone);
	p->pairs_0 &= proved;
	p->pairs_1 &= proved;
	p->pairs_2 &= proved;
}

static hs_gate_result take_known(const taking *t, const volts *reading)
{
	bool enough = reading->value >= HS_KNOWN_VOLTS;
	if (enough && reading->kind != HS_ENTRY_BELOW && reading->kind != HS_ENTRY_OVER)
		return hs_taking_pass(t);
	if (reading->kind == HS_ENTRY_OVER || (enough && reading->kind == HS_ENTRY_BELOW) ||
	    (!enough && reading->kind == HS_ENTRY_ABOVE)) {
		hs_taking_quote(t);
		hs_buf_printf(t->why,
		              " does not show that the tester works: the known source must read %.0f V or more.",
		              HS_KNOWN_VOLTS);
		return HS_GATE_REFUSED;
	}
	bool after = HS_AFTER_FACTS >> t->gate->fact & 1;
	hs_taking_quote(t);
	hs_buf_printf(t->why, " on the known source is under %.0f V: the tester does not show what is there. ",
	              HS_KNOWN_VOLTS);
	hs_buf_str(t->why, after ? "The whole test is void; take another tester and test every pair again."
	                         : "Take another tester, or a source that is surely there.");
	void_test(t);
	hs_physical_settle(t->unit, t->physical);
	return HS_GATE_FAILED;
}

static hs_gate_result take_volts(const taking *t)
{
	volts reading = {HS_ENTRY_UNREAD, 0.0};
	hs_error error = {0};
	if (!read_volts(t, &reading, &error))
		return hs_taking_refuse_error(t, &error);
	bool pair = t->gate->fact == HS_FACT_PAIR || t->gate->fact == HS_FACT_RECHECK;
	return pair ? take_pair(t, &reading) : take_known(t, &reading);
}

static hs_gate_result take_trimmed(const taking *t)
{
	if (!hs_in_turn(t->unit, t->physical, t->gate))
		return hs_taking_refuse(
		    t,
		    "That is not what is asked now: the way has an order, and no fact of it is taken before its turn.");
	int64_t earliest = earliest_of(t);
	if (t->now_ms < earliest)
		return refuse_early(t, earliest);
	if (!t->text[0])
		return hs_taking_refuse_wanted(t);
	switch (hs_gate_answer_of(t->gate)) {
	case HS_GATE_WORD:
		return take_word(t);
	case HS_GATE_NAME:
		return take_name(t);
	case HS_GATE_TEXT:
		return t->gate->fact == HS_FACT_DANGER ? hs_danger_take_text(t) : take_tester(t);
	case HS_GATE_VALUE:
		return hs_danger_take_value(t);
	case HS_GATE_WHO:
		return take_who(t);
	case HS_GATE_VOLTS:
		return take_volts(t);
	case HS_GATE_OHMS:
		return take_ohms(t);
	case HS_GATE_WATTS:
		break;
	}
	return take_watts(t);
}

hs_gate_result hs_way_take(const hs_bench_unit *unit, hs_physical *physical, const hs_gate *gate, const char *text,
                           int64_t now_ms, const char *by, int step, hs_buf *why)
{
	char *copy = hs_strdup(text ? text : "");
	taking t = {unit, physical, gate, hs_trim(copy), now_ms, by, step, why};
	hs_gate_result result = take_trimmed(&t);
	free(copy);
	return result;
}
