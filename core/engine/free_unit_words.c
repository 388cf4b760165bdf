/* What is asked of a unit that no family file declares, and what was understood of it. */
#include "core/engine/free.h"

#include "halfsplit/unit/hazard.h"


static void say(hs_buf *out, double value, hs_unit unit)
{
	hs_quantity_print(out, (hs_quantity){value, unit}, -1);
}

static void say_told(const hs_told *told, hs_buf *out)
{
	hs_buf_str(out, "Fed by ");
	for (int i = 0; i < told->feed_count; i++) {
		hs_buf_str(out, i > 0 ? " and " : "");
		say(out, told->feeds[i].volts, HS_VOLT);
		hs_buf_str(out, told->feeds[i].mains ? " mains" : " DC");
	}
	if (told->feed_count == 0)
		hs_buf_str(out, "nothing: it is never switched on here.\n");
	else
		hs_buf_printf(out, ", switched at %s, %s a standby.\n", told->switch_title != NULL ? told->switch_title : "the power switch",
		              told->standby ? "with" : "without");
	for (int i = 0; i < told->emit_count; i++) {
		hs_buf_printf(out, "%s emits up to ", told->emits[i].id);
		say(out, told->emits[i].watts, HS_WATT);
		hs_buf_str(out, told->drive_is_safe ? ", when it is keyed.\n" : ", as soon as it is driven with the power on.\n");
	}
	hs_buf_str(out, "Reached from outside:");
	for (int i = 0; i < told->outside_count; i++)
		hs_buf_printf(out, "%s %s", i > 0 ? "," : "", told->outside[i]);
	hs_buf_printf(out, "%s. Everything else counts as inside, behind %s.\n", told->outside_count == 0 ? " nothing" : "",
	              told->cover != NULL ? told->cover : "nothing at all");
	for (int i = 0; i < told->store_count; i++) {
		hs_energy_source store = {.id = told->stores_unknown ? "What keeps a charge is not known, so it counts as" : told->stores[i].id,
		                          .kind = HS_SOURCE_STORE, .volts = told->stores[i].volts, .farads = told->stores[i].farads,
		                          .bleed_ohm = told->stores[i].bleed_ohm, .farads_over = 0.20, .bleed_over = 0.10, .follows_line = true};
		hs_store_words(&store, out);
		hs_buf_str(out, ".\n");
	}
	if (told->store_count == 0)
		hs_buf_str(out, "Nothing in it keeps a charge.\n");
	hs_buf_str(out, "Is that so? From here on it stands.");
}

void hs_free_unit_words(const hs_engine *engine, int item, hs_ask_words *out)
{
	static const struct { const char *heading, *text, *wanted, *help; } rows[HS_UNIT_ASKS] = {
		{"What feeds it", "What feeds the unit?", "mains 230 V, dc 28 V, several with commas, or none",
		 "Every supply, battery and back-feed. What is fed is proved dead by it, and nothing that is not named here is ever switched on."},
		{"The switch", "Where is it switched on and off?", "front-panel switch, bench supply, none, or unknown",
		 "The gates ask for it by this name. None: it has no switch, and is switched at what feeds it."},
		{"Standby", "Has it a standby, with auxiliary supplies live?", "yes or no", "When in doubt, yes."},
		{"What it emits", "Can it transmit? From which connector, and how much at most?", "J2 50 W, or no",
		 "A connector that emits is never keyed without its load."},
		{"What makes it transmit", "Does drive alone make it transmit?", "yes, no, or unknown",
		 "An amplifier without a key line transmits as soon as it is fed and driven, so every level put in is then treated as keying. "
		 "Unknown counts as yes; no, when nothing comes out until a key line is closed."},
		{"Reached from outside", "Which connectors and points are reached from outside?", "J1, J2, RF IN, or none",
		 "Commas between them, or blanks where no name has one. Everything that is not named here counts as inside."},
		{"What guards the inside", "Which cover stands before the inside?", "top cover, or none",
		 "It comes off in the order and the state that what is behind it calls for."},
		{"What keeps a charge", "Which capacitors keep a charge: volts, farads, bleeder?", "C7 400 V 100 uF 100 kohm, none, or unknown",
		 "Say unknown when nobody can tell: it then counts as 10 mF at the peak of the supply without a bleeder, or at the volts you name behind it "
		 "(unknown 600 V). An open bleeder never discharges."},
		{"The unit as it was told", "", "yes, or no to say it anew", "What the gates ask follows from this."},
	};
	hs_buf_str(&out->heading, rows[item].heading);
	hs_buf_str(&out->text, rows[item].text);
	hs_buf_str(&out->wanted, rows[item].wanted);
	hs_buf_str(&out->help, rows[item].help);
	if (item == HS_UNIT_FINE)
		say_told(&engine->free->told, &out->text);
}
