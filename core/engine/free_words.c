/* What the person reads where the next act is asked for. */
#include "core/engine/free.h"

/* What a point alone would mean now. */
static void say_default(const hs_engine *engine, hs_buf *out)
{
	const hs_hand *hand = &engine->state->hand;
	if (hand->last < 0) {
		hs_buf_printf(out, "One act in a line, such as suspect q3, power on, or read volts at J1 by %s; help lists them.", engine->free->kit != NULL ? "HOOKUP" : "eye");
		return;
	}
	const hs_reading *reading = &engine->playbook->steps[hand->last].readings[0];
	hs_buf_printf(out, "A point alone reads %s there", hs_measurand_name(reading->reads));
	if (reading->hookup_name != NULL)
		hs_buf_printf(out, " by %s", reading->hookup_name);
	if (reading->freq_hz > 0.0) {
		hs_buf_str(out, " at ");
		hs_quantity_print(out, (hs_quantity){reading->freq_hz, HS_HERTZ}, -1);
	}
	if (hand->power_given)
		hs_buf_printf(out, ", power %s", hs_need_name(hand->power));
	hs_buf_char(out, '.');
	if (hand->inject.given) {
		hs_buf_char(out, ' ');
		hs_quantity_print(out, hand->inject.level, -1);
		hs_buf_printf(out, " goes into %s.", hand->inject.at_text);
	}
}

void hs_free_words(const hs_engine *engine, hs_ask_words *out)
{
	out->is_act = true;
	hs_buf_str(&out->heading, "What next?");
	say_default(engine, &out->text);
	hs_buf_str(&out->wanted, "one act");
	hs_buf_str(&out->help,
	           "One act in a line, its parts in any order; what is not\n"
	           "said stays as it was last.\n"
	           "read power at TP2 by meter lead at 145 MHz   (r)\n"
	           "read volts at TP2 by prods, 12 V +/- 5 %   with limits\n"
	           "TP3        the same reading there\n"
	           "new TP7    the same, inside, where nobody read yet\n"
	           "again      the same once more   (=)\n"
	           "put -30 dBm into J1 by source lead at 145 MHz   (p)\n"
	           "put off    the level off again\n"
	           "J1 accepts 20 dBm   TP2 gives 10 dBm   TP2 carries 0 V\n"
	           "           what is not said of a point counts worst\n"
	           "suspect q3, output relay   (s)\n"
	           "clear a1   (c)   blame q3   (b)   by what came last\n"
	           "saw R5 burnt   what was seen counts like a reading\n"
	           "find q3: no drain current   find nothing: it works\n"
	           "power on   or off, standby, keyed, dead\n"
	           "load 50 ohm 100 W at J2   set band low\n"
	           "open top-cover   (o)   open new shield   close all\n"
	           "fit link R5 bridged   undo R5 bridged\n"
	           "           or lifted leg, short, open port, broken joint,\n"
	           "           defeated interlock, pad\n"
	           "do resolder L9   do outside turn LEVEL down\n"
	           "replace q3   wait 5 min\n"
	           "Behind a reading also: against chassis; by eye; loose, for\n"
	           "a part on the mat; outside, on the panel; with top-cover,\n"
	           "for what stays off.\n"
	           "show kit   the hookups and instruments");
}
