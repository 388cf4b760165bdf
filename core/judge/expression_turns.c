/* More that the words of an expression do: carriers, shares, resistances side by side, forward and reflected power,
 * current. */
#include <math.h>
#include <string.h>
#include "expression_parts.h"
#include "halfsplit/lineup/instrument_errors.h"
#include "halfsplit/lineup/reflection.h"
#include "halfsplit/quantity/demand.h"

#define LIGHT_M_PER_S 299792458.0

static bool is_dbc(const hs_figure *figure)
{
	return figure->is.unit == HS_DB && strcmp(figure->shown, "dBc") == 0;
}

static bool no_share(hs_working *w, const hs_figure *a, const hs_figure *b, const char *word)
{
	hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "%s and %s do not go with \"%s\"", hs_figure_said(a).text,
	        hs_figure_said(b).text, word);
	return hs_fail_hint(w->error, "write 10 %% of 50 ohm, -60 dBc from 10 dBm, or -50 dBm in dBc from 10 dBm");
}

/* "-60 dBc from 10 dBm", "-50 dBm from 10 dBm". */
static bool carrier(hs_working *w, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	if (a->is.unit == HS_DB && a->sense == HS_SENSE_PLAIN && hs_figure_is_signal(b))
		return hs_arithmetic(w, HS_TURN_ADD, a, b, ohm, out);
	if (!hs_figure_is_signal(a) || !hs_figure_is_signal(b))
		return no_share(w, a, b, "from");
	hs_quantity same;
	double db;
	if (!hs_level_to(w, b->is, a->is.unit, ohm, (hs_waveform){0}, &same) ||
	    !hs_level_over(a->is, same, ohm, &db, hs_blame(w, HS_FAULT_DOMAIN)))
		return false;
	*out = hs_figure_of(db, HS_DB);
	hs_copy(out->shown, sizeof out->shown, "dBc");
	hs_step(w, "dBc = level - carrier: %s from %s = %s dBc", hs_figure_said(a).text, hs_figure_said(b).text,
	        hs_brief_of(db).text);
	return hs_finish(w, out);
}

/* "10 % of 50 ohm", "-60 dBc of 10 dBm". */
static bool share(hs_working *w, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	hs_figure part = hs_figure_of(a->is.value / 100, HS_UNITLESS);
	if (a->is.unit == HS_PERCENT)
		return b->is.unit == HS_PERCENT ? hs_arithmetic(w, HS_TURN_TIMES, b, &part, ohm, out)
		                                : hs_arithmetic(w, HS_TURN_TIMES, a, b, ohm, out);
	return is_dbc(a) ? carrier(w, a, b, ohm, out) : no_share(w, a, b, "of");
}

/* Resistances and inductances side by side; capacitances there add. */
static bool parallel(hs_working *w, const hs_figure *a, const hs_figure *b, hs_figure *out)
{
	hs_error *error = hs_blame(w, HS_FAULT_UNIT);
	double made;
	bool adds = a->is.unit == HS_FARAD;
	if (a->is.unit != b->is.unit || (!adds && a->is.unit != HS_OHM && a->is.unit != HS_HENRY))
		return hs_fail(error, HS_BAD_INPUT, "%s and %s cannot stand in parallel: two resistances were wanted",
		               hs_figure_said(a).text, hs_figure_said(b).text);
	error = hs_blame(w, HS_FAULT_DOMAIN);
	if (!hs_want_at_least("the first in parallel", a->is.value, 0, a->is.unit, error) ||
	    !hs_want_at_least("the second in parallel", b->is.value, 0, b->is.unit, error))
		return false;
	/* Two of nothing are nothing. */
	if (adds || (a->is.value == 0 && b->is.value == 0))
		made = a->is.value + b->is.value;
	else if (!hs_divider_source(a->is.value, b->is.value, &made, error))
		return false;
	*out = hs_figure_of(made, a->is.unit);
	hs_step(w, "%s: %s and %s = %s", adds ? "C = C1 + C2" : "1/Z = 1/Z1 + 1/Z2", hs_figure_said(a).text,
	        hs_figure_said(b).text, hs_figure_said(out).text);
	return hs_finish(w, out);
}

bool hs_turned(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	return turn == HS_TURN_SHARE     ? share(w, a, b, ohm, out)
	       : turn == HS_TURN_CARRIER ? carrier(w, a, b, ohm, out)
	                                 : parallel(w, a, b, out);
}

bool hs_reflected_of(hs_working *w, const hs_figure *forward, const hs_figure *back, hs_figure *out)
{
	double rho;
	if (!hs_rho_of_powers(forward->is, back->is, 0, &rho, hs_blame(w, HS_FAULT_DOMAIN)))
		return false;
	*out = hs_figure_of(rho, HS_UNITLESS);
	out->sense = HS_SENSE_GAMMA;
	hs_step(w, "gamma = sqrt(reflected/forward): %s back of %s = gamma %s", hs_figure_said(back).text,
	        hs_figure_said(forward).text, hs_brief_of(rho).text);
	return hs_finish(w, out);
}

static bool want_load(hs_working *w, const hs_figure *from, const char *to, double ohm)
{
	if (ohm > 0)
		return true;
	hs_fail(hs_blame(w, HS_FAULT_IMPEDANCE), HS_BAD_INPUT,
	        "from %s to %s an impedance is needed, and none was given", hs_unit_name(from->is.unit), to);
	return hs_fail_hint(w->error, "say in what impedance, such as 50 ohm");
}

bool hs_current_to(hs_working *w, const hs_figure *from, const hs_target *target, const hs_terms *terms, double ohm,
                   hs_figure *out)
{
	hs_quantity volt = from->is, made;
	if (!want_load(w, from, hs_unit_name(target->unit), ohm))
		return false;
	w->used_ohm = true;
	if (from->is.unit == HS_AMP) {
		volt = (hs_quantity){from->is.value * ohm, HS_VOLT};
		hs_figure said = hs_figure_of(volt.value, HS_VOLT);
		if (!hs_finish(w, &said))
			return false;
		hs_step(w, "V = A x Z, Z = %s ohm: %s = %s", hs_brief_of(ohm).text, hs_figure_said(from).text,
		        hs_figure_said(&said).text);
		if (!hs_level_to(w, volt, target->unit, ohm, terms->wave, &made))
			return false;
		*out = hs_figure_of(made.value, made.unit);
		return true;
	}
	if (!hs_level_to(w, from->is, HS_VOLT, ohm, terms->wave, &volt))
		return false;
	*out = hs_figure_of(volt.value / ohm, HS_AMP);
	hs_step(w, "A = V/Z, Z = %s ohm: %s V = %s", hs_brief_of(ohm).text, hs_brief_of(volt.value).text,
	        hs_figure_said(out).text);
	return true;
}

bool hs_wavelength_of(hs_working *w, const hs_figure *from, const hs_target *target, hs_figure *out)
{
	if (!hs_want_above(from->is.unit == HS_HERTZ ? "the frequency" : "the wavelength", from->is.value, 0,
	                   from->is.unit, hs_blame(w, HS_FAULT_DOMAIN)))
		return false;
	*out = hs_figure_of(LIGHT_M_PER_S / from->is.value, target->unit);
	hs_copy(out->note, sizeof out->note, "wave in free space; in a cable it is shorter by its velocity factor");
	hs_step(w, "wavelength x frequency = 299792458 m/s: %s = %s", hs_figure_said(from).text,
	        hs_figure_said(out).text);
	return true;
}
