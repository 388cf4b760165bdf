#include "halfsplit/unit/way.h"

#include <math.h>
#include <string.h>
#include "danger.h"

static const char deferral[] = "Local codes, the employer's rules and licensed practice come first.";

static const char *switch_of(const hs_bench_unit *unit)
{
	return unit->switch_title ? unit->switch_title : "the front-panel switch";
}

static const hs_energy_source *source_of(const hs_bench_unit *unit, const hs_gate *gate)
{
	return &unit->sources[gate->subject];
}

static void say_source(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	hs_buf_str(out, hs_energy_title(source_of(unit, gate)));
}

static void say_volts(const hs_energy_source *source, hs_buf *out)
{
	if (!(source->volts > 0.0))
		return;
	hs_buf_str(out, " (");
	hs_say_figure(out, source->volts, HS_VOLT);
	hs_buf_char(out, ')');
}

static void text_wait(const hs_energy_source *store, hs_buf *out)
{
	hs_store_figures at = hs_store_at_limits(store);
	hs_buf_printf(out, "Give %s its time to bleed down, ", hs_energy_title(store));
	hs_say_figure(out, at.wait_s, HS_SECOND);
	hs_buf_str(out, " from the moment the last supply came out, and keep your hands out meanwhile. ");
	hs_store_words(store, out);
	hs_buf_char(out, '.');
}

static void text_discharge(const hs_energy_source *store, hs_buf *out)
{
	const double sample_ohm = 1000.0;
	hs_store_figures at = hs_store_at_limits(store);
	hs_buf_printf(out, "Discharge %s through a resistor, with an insulated tool", hs_energy_title(store));
	if (!(at.volts > 0.0) || !(at.farads > 0.0)) {
		hs_buf_str(out, " rated for the most it could hold, and type the resistance.");
		return;
	}
	hs_buf_str(out, " rated for ");
	hs_say_figure(out, at.volts, HS_VOLT);
	hs_buf_str(out, " and ");
	hs_say_figure(out, at.joules, HS_JOULE);
	hs_buf_str(out, "; through 1 kohm it takes ");
	hs_say_figure(out, at.volts * at.volts / sample_ohm, HS_WATT);
	hs_buf_str(out, " at first");
	double down_to = hs_dead_volts(store);
	if (at.volts > down_to) {
		hs_buf_printf(out, " and needs ");
		hs_say_figure(out, sample_ohm * at.farads * log(at.volts / down_to) * hs_shop_or_default(store->shop)->waits, HS_SECOND);
		hs_buf_printf(out, " down to %.3g V", down_to);
	}
	hs_buf_str(out, ". Type the resistance you take, and hold it on.");
}

static void text_down(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	switch (gate->fact) {
	case HS_FACT_UNKEYED:
		hs_buf_str(out, "Let go of the key and take the drive away, so that nothing transmits.");
		break;
	case HS_FACT_SWITCH_OFF:
		hs_buf_printf(out, "Switch the unit off at %s.", switch_of(unit));
		break;
	case HS_FACT_DISCONNECT:
		hs_buf_str(out, gate->cut ? "Cut the power: disconnect " : "Disconnect ");
		say_source(unit, gate, out);
		say_volts(source_of(unit, gate), out);
		hs_buf_str(out, ", all poles of it, at the plug or terminals and not only at a switch.");
		if (gate->cut)
			hs_buf_str(out, " Where you cannot reach it safely, type switch: then the switch comes first.");
		break;
	case HS_FACT_OTHER:
		hs_buf_str(out, "Go round the unit once: is there a second supply, a battery, or anything that could "
		                "feed back into it?");
		break;
	case HS_FACT_SECURED:
		hs_buf_str(out, "Where is the plug: in your hand, in your sight, or behind your own lock?");
		break;
	case HS_FACT_SECURED_BY:
		hs_buf_str(out, "Who has it secured? Your own name, because it is you who reaches in.");
		break;
	case HS_FACT_WAITED:
		text_wait(source_of(unit, gate), out);
		break;
	case HS_FACT_HELD:
		hs_buf_str(out, "Hold the resistor on ");
		say_source(unit, gate, out);
		hs_buf_str(out, " until the time is over, then take it off and type held.");
		break;
	default:
		text_discharge(source_of(unit, gate), out);
		break;
	}
}

static void text_pair(const hs_energy_source *source, int pair, hs_buf *out)
{
	const char *name = hs_pair_name(source->kind, pair);
	const char *title = hs_energy_title(source);
	switch (source->kind) {
	case HS_SOURCE_MAINS:
		hs_buf_printf(out, "Test %s, %s, at the unit's own end.", title, name);
		break;
	case HS_SOURCE_DC:
		hs_buf_printf(out, "Test between the two poles of %s, at the unit's own end.", title);
		break;
	case HS_SOURCE_RAIL:
		hs_buf_printf(out, "Test %s to the chassis.", title);
		break;
	case HS_SOURCE_STORE:
		hs_buf_printf(out,
		              pair == 0   ? "Test across %s."
		              : pair == 1 ? "Test the plus side of %s to the chassis."
		                          : "Test the minus side of %s to the chassis.",
		              title);
		break;
	}
	hs_buf_printf(out, " It counts as dead at %.3g V or less; type what the tester reads.", hs_dead_volts(source));
}

static void text_known(bool ac, bool after, hs_buf *out)
{
	hs_buf_printf(out, "%s a source of %s you know is there, %.0f V or more, and type what it reads.",
	              after ? "Put the same tester once more on" : "Put the tester on",
	              ac ? "alternating voltage" : "direct voltage", HS_KNOWN_VOLTS);
	if (after)
		hs_buf_str(out, " If it shows nothing now, the whole test is void.");
}

static void text_proof(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	switch (gate->fact) {
	case HS_FACT_TESTER:
		hs_buf_str(out, "Which voltage tester do you take? A two-pole one, rated for what is in here; type its "
		                "name or number.");
		break;
	case HS_FACT_KNOWN_AC:
	case HS_FACT_KNOWN_AC_AFTER:
		text_known(true, gate->fact == HS_FACT_KNOWN_AC_AFTER, out);
		break;
	case HS_FACT_KNOWN_DC:
	case HS_FACT_KNOWN_DC_AFTER:
		text_known(false, gate->fact == HS_FACT_KNOWN_DC_AFTER, out);
		break;
	case HS_FACT_PAIR:
		text_pair(source_of(unit, gate), gate->pair, out);
		break;
	case HS_FACT_RECHECK:
		hs_buf_str(out, "Five minutes are over, and a store can creep back up: measure across ");
		say_source(unit, gate, out);
		hs_buf_str(out, " again and type the reading. Leave its short on.");
		break;
	default:
		hs_buf_str(out, "Fit the short across ");
		say_source(unit, gate, out);
		hs_buf_str(out, ", earthed side first, leave it there, and cover its neighbours. ");
		hs_store_words(source_of(unit, gate), out);
		hs_buf_char(out, '.');
		break;
	}
}

static void text_up(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	switch (gate->fact) {
	case HS_FACT_UNSHORT:
		hs_buf_str(out, "Take the short off ");
		say_source(unit, gate, out);
		hs_buf_str(out, ", earthed side last.");
		break;
	case HS_FACT_TOOLS:
		hs_buf_str(out, "Count your tools, screws and leads: nothing left lying inside?");
		break;
	case HS_FACT_STAYS_OPEN: {
		const hs_openable *it = &unit->openables[gate->subject];
		hs_buf_printf(out,
		              "While the unit is powered, this stays as it is: %s (%s). Look at it, then type its id, %s.",
		              it->title ? it->title : it->id, hs_openable_name(it->kind), it->id);
		break;
	}
	case HS_FACT_PEOPLE:
		hs_buf_str(out, "Tell everybody near the bench that power comes back, and see that they heard.");
		break;
	case HS_FACT_RECONNECT:
		hs_buf_printf(out, "With %s still off, connect ", switch_of(unit));
		say_source(unit, gate, out);
		say_volts(source_of(unit, gate), out);
		hs_buf_str(out, " again.");
		break;
	case HS_FACT_SWITCH_ON:
		hs_buf_printf(out, "Switch the unit on at %s, one hand free, and stay ready to cut the power.",
		              switch_of(unit));
		break;
	default:
		hs_buf_printf(out, "Bring the unit to standby at %s: auxiliary supplies only.", switch_of(unit));
		break;
	}
}

static void text_keyed(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	int only = unit->emitter_count == 1 ? 0 : gate->subject;
	const hs_emitter *emitter = only >= 0 && only < unit->emitter_count ? &unit->emitters[only] : NULL;
	switch (gate->fact) {
	case HS_FACT_LOAD:
		hs_buf_printf(out, "Fit the load%s%s. ", emitter ? " at " : "", emitter ? emitter->id : "");
		hs_say_figure(out, hs_emitted_watts(unit, gate->subject), HS_WATT);
		hs_buf_str(out, " can go into it; what is it rated for?");
		break;
	case HS_FACT_LOAD_LOW:
		hs_buf_str(out, "Show at low power that the load takes it: reflected power low, nothing strange.");
		break;
	case HS_FACT_PORTS:
		hs_buf_str(out, "Look at every radio-frequency port: each must end in a load, a cap or an instrument.");
		break;
	case HS_FACT_COOLED:
		hs_buf_str(out, "Leave the key alone until it has cooled, then type cooled.");
		break;
	case HS_FACT_INSTRUMENT:
		hs_buf_str(out, "See that enough pad or coupling stands before the instrument for all this unit can "
		                "give, average and peak.");
		break;
	default: {
		hs_buf_str(out, "Clear people from the output, the load and its cable.");
		if (hs_drive_transmits(unit) >= 0)
			hs_buf_str(out, " Drive is the key here: the source's output goes on last, and off first.");
		double longest = gate->key_seconds > 0.0 ? gate->key_seconds : emitter ? emitter->key_seconds : 0.0;
		if (longest > 0.0) {
			hs_buf_str(out, " Key no longer than ");
			hs_say_figure(out, longest, HS_SECOND);
			hs_buf_str(out, " at a time, and let it cool between.");
		}
		break;
	}
	}
}

static void text_live(const hs_gate *gate, hs_buf *out)
{
	switch (gate->fact) {
	case HS_FACT_LIVE_WHY:
		hs_buf_str(out, "The next reading is taken by hand with the zone live. Is there really no way to take it dead, or with a hookup "
		                "attached while dead?");
		break;
	case HS_FACT_LIVE_BY:
		hs_buf_str(out, "Who has authorised this live reading?");
		break;
	case HS_FACT_LIVE_SUPPLY:
		hs_buf_str(out, "How is the unit fed for this: through an isolating transformer, or through a residual-current device?");
		break;
	case HS_FACT_LIVE_LEADS:
		hs_buf_str(out, "Look at the leads: fused, whole, and of the measurement category that this supply asks for?");
		break;
	case HS_FACT_LIVE_COMMON:
		hs_buf_str(out, "While it is proved dead, clip the common lead on so that it stays by itself; only one probe is held afterwards.");
		break;
	case HS_FACT_LIVE_STRAP:
		hs_buf_str(out, "Take the wrist strap off, and rings, watch and chains.");
		break;
	case HS_FACT_LIVE_SECOND:
		hs_buf_str(out, "A second person stays in sight until the reading is done. They type their own name here, themselves.");
		break;
	case HS_FACT_LIVE_CUT:
		hs_buf_str(out, "Show the second person where the power is cut, and see their hand there.");
		break;
	default:
		hs_buf_str(out, "One hand holds the probe, the other stays away from the unit, the bench and anything earthed.");
		break;
	}
}

/* The one thing that hurts people at this point of the way. */
static const char *const dangers[HS_FACT_COUNT] = {
    [HS_FACT_UNKEYED] = "Radio-frequency burns are deep and show late.",
    [HS_FACT_SWITCH_OFF] = "Off is still connected: a switch leaves a pole live.",
    [HS_FACT_DISCONNECT] = "A forgotten battery or second supply keeps everything live.",
    [HS_FACT_OTHER] = "A forgotten battery or second supply keeps everything live.",
    [HS_FACT_SECURED] = "Somebody else plugs it back in while your hands are inside: that is what this stops.",
    [HS_FACT_SECURED_BY] = "Somebody else plugs it back in while your hands are inside: that is what this stops.",
    [HS_FACT_WAITED] = "Waiting proves nothing: an open bleeder leaves the full charge.",
    [HS_FACT_DISCHARGED] = "Never with a screwdriver: a short can weld, burst and throw metal.",
    [HS_FACT_HELD] = "A resistor taken off too soon leaves a charge that nobody can see.",
    [HS_FACT_TESTER] = "A non-contact indicator is no tester.",
    [HS_FACT_KNOWN_AC] = "Only the tester's probes touch anything; the known source is live.",
    [HS_FACT_KNOWN_DC] = "Only the tester's probes touch anything; the known source is live.",
    [HS_FACT_KNOWN_AC_AFTER] = "A tester that died on the way has shown every pair as dead; the known source is live.",
    [HS_FACT_KNOWN_DC_AFTER] = "A tester that died on the way has shown every pair as dead; the known source is live.",
    [HS_FACT_PAIR] = "Treat it as live until the whole test is through: rated probes only, hands outside.",
    [HS_FACT_RECHECK] = "Treat it as live until the whole test is through: rated probes only, hands outside.",
    [HS_FACT_SHORT] = "A large store recovers part of its charge when it is left open.",
    [HS_FACT_UNSHORT] = "Keep hands out once the short is off.",
    [HS_FACT_TOOLS] = "What lies or stands open inside is live in a moment.",
    [HS_FACT_STAYS_OPEN] = "What lies or stands open inside is live in a moment.",
    [HS_FACT_PEOPLE] = "From here on it counts as live: no hands where voltage is dangerous, no joint made or broken on a line that carries DC or power.",
    [HS_FACT_RECONNECT] = "From here on it counts as live: no hands where voltage is dangerous, no joint made or broken on a line that carries DC or power.",
    [HS_FACT_SWITCH_ON] = "From here on it counts as live: no hands where voltage is dangerous, no joint made or broken on a line that carries DC or power.",
    [HS_FACT_STANDBY] = "From here on it counts as live: no hands where voltage is dangerous, no joint made or broken on a line that carries DC or power.",
    [HS_FACT_LOAD] = "Keying without a load destroys the output and burns whoever is near.",
    [HS_FACT_LOAD_LOW] = "Keying without a load destroys the output and burns whoever is near.",
    [HS_FACT_PORTS] = "Never look into an open port or guide, and make or break nothing while keyed.",
    [HS_FACT_INSTRUMENT] = "An instrument without its pad is gone in the first key-down.",
    [HS_FACT_COOLED] = "Output stage and load are rated for a rest between two key-downs; without it they burn, and so do fingers.",
    [HS_FACT_CLEAR] = "The exposure limit is the shop's to set; with people near, it stays unkeyed.",
    [HS_FACT_LIVE_WHY] = "A live reading is the last resort: most faults show dead.",
    [HS_FACT_LIVE_BY] = "Live work that nobody authorised is not done.",
    [HS_FACT_LIVE_SUPPLY] = "Behind an isolating transformer no residual-current device acts; and a transformer guards against one pole only.",
    [HS_FACT_LIVE_LEADS] = "A lead without its fuse carries the whole short-circuit current past your hand.",
    [HS_FACT_LIVE_COMMON] = "Never float an oscilloscope by its earth: take a differential probe rated for the peak.",
    [HS_FACT_LIVE_STRAP] = "A wrist strap ties you to earth: beside dangerous voltage it kills.",
    [HS_FACT_LIVE_SECOND] = "Nobody reads a dangerous zone live alone.",
    [HS_FACT_LIVE_CUT] = "Whoever is held by the current cannot let go: the other one cuts the power first and touches nobody before.",
    [HS_FACT_LIVE_HAND] = "From hand to hand the current goes through the heart.",
};

static void describe_danger(const hs_bench_unit *unit, const hs_gate *gate, hs_gate_words *out)
{
	const hs_danger_row *row = hs_danger_row_of(gate);
	out->unit = row->unit;
	hs_danger_text(unit, gate, &out->text);
	hs_buf_printf(&out->caution, "%s %s", row->caution, deferral);
	out->brief = strlen(row->caution);
}

void hs_gate_describe(const hs_bench_unit *unit, const hs_gate *gate, hs_gate_words *out)
{
	*out = (hs_gate_words){.answer = HS_GATE_WORD};
	hs_buf_init(&out->text);
	hs_buf_init(&out->caution);
	if (gate->fact == HS_FACT_NONE || !hs_subject_fits(unit, gate))
		return;
	out->answer = hs_gate_answer_of(gate);
	hs_gate_words_of(unit, gate, out->words);
	if (gate->fact == HS_FACT_DANGER) {
		describe_danger(unit, gate, out);
		return;
	}
	if (gate->fact <= HS_FACT_HELD)
		text_down(unit, gate, &out->text);
	else if (gate->fact <= HS_FACT_SHORT)
		text_proof(unit, gate, &out->text);
	else if (gate->fact <= HS_FACT_STANDBY)
		text_up(unit, gate, &out->text);
	else if (gate->fact <= HS_FACT_CLEAR)
		text_keyed(unit, gate, &out->text);
	else
		text_live(gate, &out->text);
	hs_buf_printf(&out->caution, "%s %s", dangers[gate->fact], deferral);
	out->brief = strlen(dangers[gate->fact]);
}
