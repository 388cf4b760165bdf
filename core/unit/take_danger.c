/* Taking an answer to a row of a declared danger: words that bar, values against their figures, classes and bands. */
#include "take_parts.h"

#include <math.h>
#include "halfsplit/judge/limits.h"

static const hs_danger *danger_of(const taking *t)
{
	return &t->unit->dangers[t->gate->subject];
}

void hs_danger_say_wanted(const taking *t)
{
	const hs_danger_row *row = hs_danger_row_of(t->gate);
	switch (row->rule) {
	case HS_RULE_CLASS: hs_buf_str(t->why, "type the class as it stands on the label, such as \"3B\""); return;
	case HS_RULE_BAND: hs_buf_str(t->why, "type the band as it stands on the eyewear, such as \"900 nm to 1100 nm\""); return;
	default: break;
	}
	if (row->answer == HS_GATE_VALUE && row->unit == HS_UNITLESS)
		hs_buf_str(t->why, "type the plain number");
	else if (row->answer == HS_GATE_VALUE)
		hs_buf_printf(t->why, "type a value in %s", hs_unit_name(row->unit));
	else
		hs_buf_str(t->why, "type it in a few words");
}

/* It is recorded as found, and nothing goes on beside it. */
static hs_gate_result bar(const taking *t)
{
	hs_buf_str(t->why, ": hands away, leave it as it is and keep others away; somebody qualified for it comes first. Local codes and the "
	                   "employer's rules say who. The way goes to a safe state.");
	t->physical->barred |= 1u << t->gate->subject;
	hs_forget_energising(t->physical);
	hs_physical_settle(t->unit, t->physical);
	return HS_GATE_FAILED;
}

static void say_title(const taking *t)
{
	const hs_danger *danger = danger_of(t);
	hs_buf_shown(t->why, danger->title ? danger->title : danger->id, false);
}

hs_gate_result hs_danger_take_word(const taking *t, int which)
{
	const hs_danger_row *row = hs_danger_row_of(t->gate);
	if (row->rule == HS_RULE_BARS && which > 0) {
		say_title(t);
		hs_buf_printf(t->why, " is %s", row->words[which]);
		return bar(t);
	}
	if (row->rule == HS_RULE_PROBE && hs_same_word(row->words[which], "earthed") && !(t->physical->referenced >> t->gate->subject & 1)) {
		hs_taking_quote(t);
		hs_buf_str(t->why, " is refused: the chassis was not measured since its plug was moved, or is live, and an earthed clip on it is a short. "
		                   "Take a differential probe or an isolated instrument.");
		return HS_GATE_REFUSED;
	}
	return hs_taking_pass(t);
}

/* What a reading leaves possible: a number is itself, a bound only one end. */
static bool read_span(const taking *t, hs_unit in, double *least, double *most, hs_error *error)
{
	hs_entry entry;
	if (!hs_entry_read(t->text, in, &entry, error))
		return false;
	if (entry.kind == HS_ENTRY_OPEN || entry.kind == HS_ENTRY_UNREAD)
		return hs_fail(error, HS_REFUSED, "this gate cannot be left unread");
	if (entry.kind == HS_ENTRY_OVER) {
		*least = *most = HUGE_VAL;
		return true;
	}
	if (entry.quantity.unit != in)
		return hs_fail(error, HS_REFUSED, "this gate takes no %s", hs_unit_name(entry.quantity.unit));
	bool signless = in == HS_VOLT && entry.kind == HS_ENTRY_NUMBER;
	double value = signless ? fabs(entry.quantity.value) : entry.quantity.value;
	*least = entry.kind == HS_ENTRY_BELOW ? -HUGE_VAL : value;
	*most = entry.kind == HS_ENTRY_ABOVE ? HUGE_VAL : value;
	return true;
}

static hs_gate_result refuse_beyond(const taking *t, const char *side, double limit, const char *what)
{
	hs_taking_quote(t);
	hs_buf_printf(t->why, " is %s the ", side);
	hs_say_figure(t->why, limit, hs_danger_row_of(t->gate)->unit);
	hs_buf_printf(t->why, " %s.", what);
	return HS_GATE_REFUSED;
}

static hs_gate_result note_chassis(const taking *t, bool live)
{
	hs_physical *p = t->physical;
	uint32_t bit = 1u << t->gate->subject;
	bool first = hs_danger_row_of(t->gate)->limit == HS_LIMIT_AC;
	p->referenced = live || (!first && !(p->referenced & bit)) ? p->referenced & ~bit : p->referenced | bit;
	return hs_taking_pass(t);
}

static hs_gate_result bar_value(const taking *t, const char *what)
{
	say_title(t);
	hs_buf_str(t->why, " at ");
	hs_buf_shown(t->why, t->text, false);
	hs_buf_str(t->why, what);
	return bar(t);
}

hs_gate_result hs_danger_take_value(const taking *t)
{
	const hs_danger_row *row = hs_danger_row_of(t->gate);
	double least = NAN, most = NAN;
	hs_error error = {0};
	if (!read_span(t, row->unit, &least, &most, &error))
		return hs_taking_refuse_error(t, &error);
	double limit = hs_danger_limit_of(t->unit, danger_of(t), row->limit);
	switch (row->rule) {
	case HS_RULE_CHASSIS: return note_chassis(t, !(most <= limit));
	case HS_RULE_AT_LEAST:
		if (isfinite(least) && least >= limit)
			return hs_taking_pass(t);
		return refuse_beyond(t, "under", limit, "it must be rated for at its limits");
	case HS_RULE_AT_MOST:
		if (most <= limit && most > (row->unit == HS_AMP ? 0.0 : -HUGE_VAL))
			return hs_taking_pass(t);
		return refuse_beyond(t, row->unit == HS_AMP && !(most > limit) ? "no fuse; at most" : "above", limit,
		                     row->unit == HS_DEGC ? "that hands may touch; let it cool, and measure again" : "that is allowed here");
	case HS_RULE_SOUND_MOST: return most <= limit ? hs_taking_pass(t) : bar_value(t, " is warmer than it may be");
	case HS_RULE_SOUND_BAND:
		return least >= hs_danger_cell_least(danger_of(t)) && most <= limit ? hs_taking_pass(t)
		                                                                  : bar_value(t, " is outside what its maker allows");
	default: break;
	}
	return hs_taking_pass(t);
}

static hs_gate_result take_class(const taking *t)
{
	const char *declared = danger_of(t)->text;
	if (hs_laser_class(t->text) == NULL)
		return hs_taking_refuse_wanted(t);
	if (!declared || hs_same_word(t->text, declared))
		return hs_taking_pass(t);
	hs_taking_quote(t);
	hs_buf_printf(t->why, " is not the class %s that the playbook declares, so its eyewear may be wrong: look again, and if the label says so, type leave.",
	              declared);
	return HS_GATE_REFUSED;
}

static hs_gate_result take_band(const taking *t)
{
	double needed = danger_of(t)->figures[HS_DANGER_WAVELENGTH];
	hs_limits band;
	hs_error error = {0};
	if (!hs_limits_read(t->text, HS_METRE, &band, &error))
		return hs_taking_refuse_error(t, &error);
	if (band.unit != HS_METRE || !band.has_low || !band.has_high || !(band.low < band.high))
		return hs_taking_refuse_wanted(t);
	if (!(needed > 0.0) || (band.low <= needed && needed <= band.high))
		return hs_taking_pass(t);
	hs_taking_quote(t);
	hs_buf_str(t->why, " does not cover ");
	hs_say_figure(t->why, needed, HS_METRE);
	hs_buf_str(t->why, ": take the eyewear made for it.");
	return HS_GATE_REFUSED;
}

hs_gate_result hs_danger_take_text(const taking *t)
{
	switch (hs_danger_row_of(t->gate)->rule) {
	case HS_RULE_CLASS: return take_class(t);
	case HS_RULE_BAND: return take_band(t);
	default: break;
	}
	static const char *const none[] = {"yes", "ok", "no", "none", "done"};
	bool says = hs_text_columns(t->text) >= 2;
	for (size_t i = 0; i < sizeof none / sizeof *none; i++)
		says = says && !hs_same_word(t->text, none[i]);
	return says ? hs_taking_pass(t) : hs_taking_refuse_wanted(t);
}
