/* Values of the calculator, and + - * / of them. */
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "expression_parts.h"
#include "halfsplit/lineup/reflection.h"
#include "halfsplit/quantity/demand.h"

hs_error *hs_blame(hs_working *w, hs_fault fault)
{
	w->fault = fault;
	return w->error;
}

hs_figure hs_figure_of(double value, hs_unit unit)
{
	return (hs_figure){.is = {value, unit}, .scale = 1};
}

bool hs_figure_is_level(const hs_figure *figure)
{
	return hs_unit_is_level(figure->is.unit);
}

bool hs_figure_is_signal(const hs_figure *figure)
{
	hs_dimension dimension = hs_unit_dimension(figure->is.unit);
	return (dimension == HS_DIM_POWER || dimension == HS_DIM_VOLTAGE) && figure->sense != HS_SENSE_DENSITY;
}

bool hs_figure_reflects(const hs_figure *figure)
{
	return figure->is.unit == HS_SWR || figure->sense == HS_SENSE_GAMMA || figure->sense == HS_SENSE_RETURN_LOSS ||
	       figure->sense == HS_SENSE_MISMATCH_LOSS;
}

static const char *sense_word(const hs_figure *figure)
{
	switch (figure->sense) {
	case HS_SENSE_GAMMA:
		return "gamma ";
	case HS_SENSE_RETURN_LOSS:
		return "return loss ";
	case HS_SENSE_MISMATCH_LOSS:
		return "mismatch loss ";
	case HS_SENSE_EMF:
		return "emf ";
	case HS_SENSE_PD:
		return "pd ";
	case HS_SENSE_POWER_RATIO:
		return "power ratio ";
	case HS_SENSE_VOLTAGE_RATIO:
		return "voltage ratio ";
	default:
		return "";
	}
}

hs_saidas hs_figure_said(const hs_figure *figure)
{
	hs_saidas said;
	const char *unit = hs_unit_name(figure->is.unit);
	snprintf(said.text, sizeof said.text, "%s%s%s%s%s", sense_word(figure), hs_brief_of(figure->is.value).text,
	         *unit ? " " : "", unit, figure->sense == HS_SENSE_DENSITY ? "/Hz" : "");
	return said;
}

void hs_step(hs_working *w, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	hs_buf_vprintf(w->steps, format, args);
	va_end(args);
	hs_buf_char(w->steps, '\n');
}

/* What a figure of its kind can never be. */
static bool is_possible(hs_working *w, const hs_figure *figure)
{
	double value = figure->is.value;
	hs_error *error = hs_blame(w, HS_FAULT_DOMAIN);
	if (figure->is.unit == HS_SWR)
		return hs_want_at_least("the SWR", value, 1, HS_UNITLESS, error);
	switch (figure->sense) {
	case HS_SENSE_GAMMA:
		return hs_want_between("the magnitude of gamma", value, 0, 1, HS_UNITLESS, error);
	case HS_SENSE_RETURN_LOSS:
		return hs_want_at_least("the return loss", value, 0, HS_DB, error) ||
		       hs_fail_hint(error, "a return loss is positive: write 20 dB, not -20 dB");
	case HS_SENSE_MISMATCH_LOSS:
		return hs_want_at_least("the mismatch loss", value, 0, HS_DB, error);
	case HS_SENSE_POWER_RATIO:
	case HS_SENSE_VOLTAGE_RATIO:
		return hs_want_at_least("the ratio", value, 0, HS_UNITLESS, error);
	default:
		return true;
	}
}

bool hs_finish(hs_working *w, hs_figure *figure)
{
	if (!isfinite(figure->is.value))
		return hs_fail(hs_blame(w, HS_FAULT_RANGE), HS_BAD_INPUT,
		               "the result lies outside the range of numbers");
	figure->is.value += 0.0;
	return is_possible(w, figure);
}

static bool give(hs_working *w, double value, hs_unit unit, hs_sense sense, hs_figure *out)
{
	hs_figure made = hs_figure_of(value, unit);
	made.sense = sense;
	if (!hs_finish(w, &made))
		return false;
	*out = made;
	return true;
}

static const char *sign_of(hs_turn turn)
{
	return turn == HS_TURN_ADD ? "+" : turn == HS_TURN_TAKE ? "-" : turn == HS_TURN_TIMES ? "x" : "/";
}

static bool stepped(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, const hs_figure *out)
{
	hs_step(w, "%s %s %s = %s", hs_figure_said(a).text, sign_of(turn), hs_figure_said(b).text,
	        hs_figure_said(out).text);
	return true;
}

static bool refuse(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b)
{
	static const char *const words[] = {[HS_TURN_ADD] = "added to",
	                                    [HS_TURN_TAKE] = "taken from",
	                                    [HS_TURN_TIMES] = "multiplied by",
	                                    [HS_TURN_OVER] = "divided by"};
	bool swapped = turn == HS_TURN_ADD || turn == HS_TURN_TAKE;
	const hs_figure *bare = a->is.unit == HS_UNITLESS ? a : b, *other = bare == a ? b : a;
	hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "%s cannot be %s %s", hs_figure_said(swapped ? b : a).text,
	        words[turn], hs_figure_said(swapped ? a : b).text);
	if (swapped && bare->is.unit == HS_UNITLESS && bare->sense == HS_SENSE_PLAIN)
		hs_fail_hint(w->error, "say the unit of both, such as %s %s", hs_brief_of(bare->is.value).text,
		             hs_figure_is_level(other) ? "dB" : hs_unit_name(other->is.unit));
	return false;
}

/* dBm + dBm, dBm + W: nobody means the sum of the numbers. */
static bool refuse_levels(hs_working *w, const hs_figure *a, const hs_figure *b)
{
	hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT,
	        "%s + %s would add decibels of two levels, which is the sum of nothing", hs_figure_said(a).text,
	        hs_figure_said(b).text);
	return hs_fail_hint(w->error, "write \"and\" to add their powers: %s and %s", hs_figure_said(a).text,
	                    hs_figure_said(b).text);
}

/* One moved by the decibels of the other. */
static bool shift(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, hs_figure *out)
{
	const hs_figure *level = a->is.unit == HS_DB ? b : a, *db = a->is.unit == HS_DB ? a : b;
	hs_figure made = *level;
	made.note[0] = '\0';
	if (!hs_level_shift(level->is, turn == HS_TURN_ADD ? db->is.value : -db->is.value, &made.is,
	                    hs_blame(w, HS_FAULT_RANGE)))
		return false;
	if (hs_figure_is_level(level))
		stepped(w, turn, a, b, &made);
	else
		hs_step(w, "%s %s %s = %s x 10^(%s%s/%d) = %s", hs_figure_said(a).text, sign_of(turn),
		        hs_figure_said(b).text, hs_figure_said(level).text, turn == HS_TURN_ADD ? "" : "-",
		        hs_brief_of(db->is.value).text, level->is.unit == HS_WATT ? 10 : 20,
		        hs_figure_said(&made).text);
	*out = made;
	return true;
}

/* Level - level: how far they are apart. */
static bool apart(hs_working *w, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	hs_quantity same;
	double db;
	if (a->sense == HS_SENSE_DENSITY || b->sense == HS_SENSE_DENSITY) {
		if (a->sense != b->sense)
			return refuse(w, HS_TURN_TAKE, a, b);
		return give(w, a->is.value - b->is.value, HS_DB, HS_SENSE_PLAIN, out) &&
		       stepped(w, HS_TURN_TAKE, a, b, out);
	}
	if (!hs_figure_is_level(a) || !hs_figure_is_level(b)) {
		refuse(w, HS_TURN_TAKE, a, b);
		return hs_fail_hint(w->error,
		                    "convert one into the unit of the other, or write \"less\" to take a power away");
	}
	if (!hs_level_to(w, b->is, a->is.unit, ohm, (hs_waveform){0}, &same) ||
	    !hs_level_over(a->is, b->is, ohm, &db, hs_blame(w, HS_FAULT_RANGE)))
		return false;
	return give(w, db, HS_DB, HS_SENSE_PLAIN, out) && stepped(w, HS_TURN_TAKE, a, b, out);
}

static bool share(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, hs_figure *out)
{
	double part = b->is.value / 100;
	if (hs_figure_is_level(a) || a->is.unit == HS_DB || hs_figure_reflects(a))
		return refuse(w, turn, a, b);
	return give(w, a->is.value * (turn == HS_TURN_ADD ? 1 + part : 1 - part), a->is.unit, a->sense, out) &&
	       stepped(w, turn, a, b, out);
}

static bool add(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	bool a_signal =
	    hs_unit_dimension(a->is.unit) == HS_DIM_POWER || hs_unit_dimension(a->is.unit) == HS_DIM_VOLTAGE;
	bool b_signal =
	    hs_unit_dimension(b->is.unit) == HS_DIM_POWER || hs_unit_dimension(b->is.unit) == HS_DIM_VOLTAGE;
	bool b_db = b->is.unit == HS_DB && b->sense == HS_SENSE_PLAIN;
	bool a_db = a->is.unit == HS_DB && a->sense == HS_SENSE_PLAIN;
	if ((a_signal && b_db) || (a_db && b_signal && turn == HS_TURN_ADD))
		return shift(w, turn, a, b, out);
	if (a_signal && b_signal && (hs_figure_is_level(a) || hs_figure_is_level(b)))
		return turn == HS_TURN_ADD ? refuse_levels(w, a, b) : apart(w, a, b, ohm, out);
	if (b->is.unit == HS_PERCENT && a->is.unit != HS_PERCENT)
		return share(w, turn, a, b, out);
	if (a->is.unit == HS_DB && b_db)
		return give(w, turn == HS_TURN_ADD ? a->is.value + b->is.value : a->is.value - b->is.value, HS_DB,
		            a->sense, out) &&
		       stepped(w, turn, a, b, out);
	bool reflects = hs_figure_reflects(a) || hs_figure_reflects(b);
	if (a->is.unit != b->is.unit || reflects || (a->sense == HS_SENSE_EMF) != (b->sense == HS_SENSE_EMF)) {
		refuse(w, turn, a, b);
		if (reflects)
			hs_fail_hint(w->error,
			             "reflections do not add; write \"through\" or \"behind\" for a line between");
		return false;
	}
	return give(w, turn == HS_TURN_ADD ? a->is.value + b->is.value : a->is.value - b->is.value, a->is.unit,
	            a->sense == HS_SENSE_EMF || a->sense == HS_SENSE_PD ? a->sense : HS_SENSE_PLAIN, out) &&
	       stepped(w, turn, a, b, out);
}

/* What two quantities make; the turns of one row follow from each other. */
typedef struct product {
	hs_unit a, b, made; /* a x b = made, so made / a = b and made / b = a */
	const char *law;
} product;

static const product products[] = {
    {HS_AMP, HS_OHM, HS_VOLT, "V = A x ohm"},     {HS_VOLT, HS_AMP, HS_WATT, "W = V x A"},
    {HS_WATT, HS_SECOND, HS_JOULE, "J = W x s"},  {HS_OHM, HS_FARAD, HS_SECOND, "s = ohm x F"},
    {HS_OHM, HS_SECOND, HS_HENRY, "H = ohm x s"}, {HS_HERTZ, HS_SECOND, HS_UNITLESS, "1 = Hz x s"},
};

static const product *product_of(hs_turn turn, hs_unit a, hs_unit b, hs_unit *made)
{
	for (size_t i = 0; i < sizeof products / sizeof *products; i++) {
		const product *p = &products[i];
		*made = p->made;
		if (turn == HS_TURN_TIMES && ((a == p->a && b == p->b) || (a == p->b && b == p->a)))
			return p;
		*made = b == p->a ? p->b : p->a;
		if (turn == HS_TURN_OVER && a == p->made && (b == p->a || b == p->b))
			return p;
	}
	return NULL;
}

static bool is_factor(const hs_figure *figure)
{
	return figure->is.unit == HS_UNITLESS && figure->sense != HS_SENSE_GAMMA;
}

/* A quantity that a factor may multiply: a level in decibels may not, and a reflection may not. */
static bool is_scalable(const hs_figure *figure)
{
	return !hs_figure_is_level(figure) && !hs_figure_reflects(figure) && figure->is.unit != HS_DEGC;
}

static bool scaled(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, hs_unit unit, hs_sense sense,
                   const char *law, hs_figure *out)
{
	double x = a->is.value, y = b->is.value;
	if (turn == HS_TURN_OVER && y == 0)
		return hs_fail(hs_blame(w, HS_FAULT_DOMAIN), HS_BAD_INPUT, "%s is divided by 0, which has no answer",
		               hs_figure_said(a).text);
	double made = turn == HS_TURN_TIMES ? x * y : x / y;
	if (made == 0 && x != 0 && y != 0)
		return hs_fail(hs_blame(w, HS_FAULT_RANGE), HS_BAD_INPUT, "the result is too small to be a number");
	if (!give(w, made, unit, sense, out))
		return false;
	if (law)
		hs_step(w, "%s: %s %s %s = %s", law, hs_figure_said(a).text, sign_of(turn), hs_figure_said(b).text,
		        hs_figure_said(out).text);
	return law ? true : stepped(w, turn, a, b, out);
}

static bool refuse_scaling(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b)
{
	refuse(w, turn, a, b);
	if (hs_figure_is_level(a) || hs_figure_is_level(b))
		hs_fail_hint(w->error, "a level is moved by decibels: twice the power is + 3.01 dB");
	else if ((a->is.unit == HS_WATT && b->is.unit == HS_OHM) || (a->is.unit == HS_VOLT && b->is.unit == HS_VOLT))
		hs_fail_hint(w->error,
		             "write 12 V into 50 ohm for the power, 1 W into 50 ohm for the voltage, or add \"as A\"");
	return false;
}

static bool ratio(hs_working *w, const hs_figure *a, const hs_figure *b, hs_figure *out)
{
	hs_dimension dimension = hs_unit_dimension(a->is.unit);
	hs_sense sense = dimension == HS_DIM_POWER     ? HS_SENSE_POWER_RATIO
	                 : dimension == HS_DIM_VOLTAGE ? HS_SENSE_VOLTAGE_RATIO
	                                               : HS_SENSE_PLAIN;
	if (a->is.value < 0 || b->is.value < 0)
		sense = HS_SENSE_PLAIN;
	return scaled(w, HS_TURN_OVER, a, b, HS_UNITLESS, sense, NULL, out);
}

static bool multiply(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, hs_figure *out)
{
	hs_figure part = *b;
	if (!is_scalable(a) || !is_scalable(b))
		return refuse_scaling(w, turn, a, b);
	if (a->is.unit == HS_PERCENT && turn == HS_TURN_TIMES && b->is.unit != HS_PERCENT && b->is.unit != HS_UNITLESS)
		return multiply(w, turn, b, a, out);
	if (b->is.unit == HS_PERCENT && a->is.unit != HS_PERCENT) {
		part.is = (hs_quantity){b->is.value / 100, HS_UNITLESS};
		b = &part;
	}
	if (is_factor(b)) {
		bool both = is_factor(a);
		return scaled(w, turn, a, b, a->is.unit, both ? HS_SENSE_PLAIN : a->sense, NULL, out);
	}
	if (is_factor(a) && turn == HS_TURN_TIMES)
		return scaled(w, turn, a, b, b->is.unit, b->sense, NULL, out);
	if (is_factor(a) && b->is.unit == HS_SECOND)
		return scaled(w, turn, a, b, HS_HERTZ, HS_SENSE_PLAIN, "Hz = 1/s", out);
	if (is_factor(a) && b->is.unit == HS_HERTZ)
		return scaled(w, turn, a, b, HS_SECOND, HS_SENSE_PLAIN, "s = 1/Hz", out);
	if (a->is.unit == b->is.unit && turn == HS_TURN_OVER)
		return ratio(w, a, b, out);
	hs_unit made = HS_UNITLESS;
	const product *known = product_of(turn, a->is.unit, b->is.unit, &made);
	if (!known || a->sense != HS_SENSE_PLAIN || b->sense != HS_SENSE_PLAIN)
		return refuse_scaling(w, turn, a, b);
	return scaled(w, turn, a, b, made, HS_SENSE_PLAIN, known->law, out);
}

bool hs_arithmetic(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	hs_figure left = *a, right = *b;
	/* A prefix once asked for is the last word only of what was asked. */
	left.note[0] = right.note[0] = left.shown[0] = right.shown[0] = '\0';
	left.scale = right.scale = 1;
	double within = ohm > 0 ? ohm : a->ohm > 0 ? a->ohm : b->ohm;
	bool good = turn == HS_TURN_ADD || turn == HS_TURN_TAKE ? add(w, turn, &left, &right, within, out)
	                                                        : multiply(w, turn, &left, &right, out);
	if (good)
		out->ohm = within;
	return good;
}

bool hs_negated(hs_working *w, const hs_figure *a, hs_figure *out)
{
	if (hs_figure_is_level(a) || hs_figure_reflects(a))
		return hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "%s has no negative of its own",
		               hs_figure_said(a).text);
	*out = *a;
	out->is.value = -a->is.value;
	if (a->sense == HS_SENSE_POWER_RATIO || a->sense == HS_SENSE_VOLTAGE_RATIO)
		out->sense = HS_SENSE_PLAIN;
	return hs_finish(w, out);
}

bool hs_sense_given(hs_working *w, const hs_figure *bare, hs_target sense, hs_figure *out)
{
	hs_unit found = bare->is.unit, wanted = sense.unit;
	bool fits =
	    found == wanted || (wanted == HS_SWR && found == HS_UNITLESS) ||
	    ((sense.sense == HS_SENSE_EMF || sense.sense == HS_SENSE_PD) && hs_unit_dimension(found) == HS_DIM_VOLTAGE);
	bool named = sense.sense != HS_SENSE_PLAIN || wanted == HS_SWR;
	/* "power 10 W" says nothing that its unit does not. */
	if (!named && bare->sense == HS_SENSE_PLAIN && hs_unit_dimension(found) == hs_unit_dimension(wanted)) {
		*out = *bare;
		return true;
	}
	bool plain = bare->sense == HS_SENSE_PLAIN || bare->sense == sense.sense;
	if (!named)
		return hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT,
		               "%s stands behind the name of something else", hs_figure_said(bare).text);
	/* "swr of 50 W forward, 2 W back", "return loss of (swr 1.8 through 1 dB)" */
	if (hs_figure_reflects(bare) && (wanted == HS_SWR || sense.sense == HS_SENSE_GAMMA ||
	                                 sense.sense == HS_SENSE_RETURN_LOSS || sense.sense == HS_SENSE_MISMATCH_LOSS))
		return hs_reflection_to(w, bare, &sense, 0, out);
	if (!fits || !plain)
		return hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "%s stands where %s was wanted",
		               hs_figure_said(bare).text,
		               wanted == HS_DB     ? "a number in dB"
		               : wanted == HS_VOLT ? "a voltage"
		                                   : "a plain number");
	*out = hs_figure_of(bare->is.value, wanted == HS_VOLT ? found : wanted);
	out->sense = sense.sense;
	return hs_finish(w, out);
}
