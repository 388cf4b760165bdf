/* What the words of an expression do: reflections, sums of powers, what a line or the noise hides. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "expression_parts.h"
#include "halfsplit/lineup/coax.h"
#include "halfsplit/lineup/noise.h"
#include "halfsplit/lineup/reflection.h"
#include "halfsplit/quantity/demand.h"

#define KELVIN_USUAL 290.0

static bool rho_of(hs_working *w, const hs_figure *from, double ohm, double *rho)
{
	hs_error *error = hs_blame(w, HS_FAULT_DOMAIN);
	hs_complex gamma;
	double degrees;
	if (from->is.unit == HS_SWR)
		return hs_rho_of_swr(from->is.value, rho, error);
	if (from->sense == HS_SENSE_RETURN_LOSS)
		return hs_rho_of_return_loss(from->is.value, rho, error);
	if (from->sense == HS_SENSE_MISMATCH_LOSS)
		return hs_rho_of_mismatch_loss(from->is.value, rho, error);
	if (from->sense == HS_SENSE_GAMMA) {
		*rho = from->is.value;
		return true;
	}
	if (from->is.unit == HS_OHM) {
		w->used_ohm = true;
		if (!(ohm > 0)) {
			hs_fail(hs_blame(w, HS_FAULT_IMPEDANCE), HS_BAD_INPUT,
			        "a reflection of %s needs the impedance of the line, and none was given",
			        hs_figure_said(from).text);
			return hs_fail_hint(w->error, "say in what impedance, such as 50 ohm");
		}
		if (!hs_want_at_least("the resistance", from->is.value, 0, HS_OHM, error))
			return false;
		return hs_gamma_of_impedance((hs_complex){from->is.value, 0}, ohm, &gamma, error) &&
		       hs_polar_of_gamma(gamma, rho, &degrees, error);
	}
	hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "%s is not known to be a reflection",
	        hs_figure_said(from).text);
	return hs_fail_hint(w->error, "write swr 1.8, return loss 14 dB, gamma 0.2 or mismatch loss 0.2 dB");
}

static const char *law_from(const hs_figure *from)
{
	if (from->is.unit == HS_SWR)
		return "gamma = (SWR - 1)/(SWR + 1)";
	if (from->sense == HS_SENSE_RETURN_LOSS)
		return "gamma = 10^(-RL/20)";
	if (from->sense == HS_SENSE_MISMATCH_LOSS)
		return "gamma = sqrt(1 - 10^(-ML/10))";
	return from->is.unit == HS_OHM ? "gamma = |(Z - Z0)/(Z + Z0)|" : NULL;
}

/* Straight from SWR to return loss and back, where the way over gamma would lose digits. */
static bool straight(hs_working *w, const hs_figure *from, const hs_target *target, double rho, double *value)
{
	hs_error *error = hs_blame(w, HS_FAULT_DOMAIN);
	if (target->unit == HS_SWR)
		return from->sense == HS_SENSE_RETURN_LOSS ? hs_swr_of_return_loss(from->is.value, value, error)
		                                           : hs_swr_of_rho(rho, value, error);
	if (target->sense == HS_SENSE_RETURN_LOSS)
		return from->is.unit == HS_SWR ? hs_return_loss_of_swr(from->is.value, value, error)
		                               : hs_return_loss_of_rho(rho, value, error);
	if (target->sense == HS_SENSE_MISMATCH_LOSS)
		return hs_mismatch_loss_of_rho(rho, value, error);
	*value = rho;
	return true;
}

bool hs_reflection_to(hs_working *w, const hs_figure *from, const hs_target *target, double ohm, hs_figure *out)
{
	double rho, value;
	if (from->is.unit == target->unit && from->sense == target->sense) {
		*out = *from;
		return true;
	}
	if (!rho_of(w, from, ohm, &rho) || !straight(w, from, target, rho, &value))
		return false;
	*out = hs_figure_of(value, target->unit);
	out->sense = target->sense;
	if (law_from(from))
		hs_step(w, "%s: %s = gamma %s", law_from(from), hs_figure_said(from).text, hs_brief_of(rho).text);
	const char *law = target->unit == HS_SWR                    ? "SWR = (1 + gamma)/(1 - gamma)"
	                  : target->sense == HS_SENSE_RETURN_LOSS   ? "RL = -20 log10(gamma)"
	                  : target->sense == HS_SENSE_MISMATCH_LOSS ? "ML = -10 log10(1 - gamma^2)"
	                                                            : NULL;
	if (law)
		hs_step(w, "%s: gamma %s = %s", law, hs_brief_of(rho).text, hs_figure_said(out).text);
	return true;
}

/* The parts in the unit of the first; *quantities holds `count`. What adds nothing stays as it is. */
static bool in_one_unit(hs_working *w, const hs_figure *parts, size_t count, double ohm, hs_quantity *quantities)
{
	hs_unit unit = parts[0].is.unit;
	for (size_t i = 0; i < count; i++) {
		const hs_figure *part = &parts[i];
		if (!hs_figure_is_signal(part) || part->sense == HS_SENSE_EMF) {
			hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT,
			        "%s is not a power or a voltage that could be added", hs_figure_said(part).text);
			return hs_fail_hint(w->error, part->is.unit == HS_OHM
			                                  ? "write + for resistances in series, or \"parallel\""
			                                  : "write + for plain arithmetic");
		}
		if (part->is.value < 0 && !hs_figure_is_level(part))
			return hs_fail(hs_blame(w, HS_FAULT_DOMAIN), HS_BAD_INPUT, "%s has no power to add",
			               hs_figure_said(part).text);
		bool nothing = part->is.value == 0 && !hs_figure_is_level(part);
		if (!nothing && !hs_level_to(w, part->is, unit, part->ohm > 0 && !(ohm > 0) ? part->ohm : ohm,
		                             (hs_waveform){0}, &quantities[i]))
			return false;
		if (nothing)
			quantities[i] = (hs_quantity){0, hs_unit_is_level(unit) ? HS_WATT : unit};
		if (nothing && hs_unit_is_level(unit) && hs_unit_dimension(unit) == HS_DIM_VOLTAGE)
			quantities[i].unit = HS_VOLT;
	}
	return true;
}

static bool peaks_refused(hs_working *w, const hs_figure *parts, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		if (parts[i].is.unit != HS_VPK && parts[i].is.unit != HS_VPP)
			continue;
		hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT,
		        "%s is a peak, and peaks of unlike signals do not add as powers",
		        hs_figure_said(&parts[i]).text);
		hs_fail_hint(w->error, "write (2 Vpp in V), naming the waveform unless it is a sine");
		return true;
	}
	return false;
}

static void say_parts(hs_working *w, const char *law, const hs_figure *parts, const double *degrees, size_t count,
                      const hs_figure *made)
{
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < count; i++) {
		hs_buf_printf(&text, "%s%s", i ? " and " : "", hs_figure_said(&parts[i]).text);
		if (degrees)
			hs_buf_printf(&text, " at %s deg", hs_brief_of(degrees[i]).text);
	}
	hs_step(w, "%s: %s = %s", law, text.data, hs_figure_said(made).text);
	hs_buf_free(&text);
}

bool hs_together(hs_working *w, const hs_figure *parts, const double *degrees, size_t count, bool coherent, double ohm,
                 hs_figure *out)
{
	hs_unit unit = parts[0].is.unit;
	hs_quantity *quantities = hs_arena_alloc(w->arena, count * sizeof *quantities);
	hs_tone *tones = hs_arena_alloc(w->arena, count * sizeof *tones);
	hs_quantity made = {0, unit};
	bool silent = true;
	if ((!coherent && peaks_refused(w, parts, count)) || !in_one_unit(w, parts, count, ohm, quantities))
		return false;
	for (size_t i = 0; i < count; i++) {
		tones[i] = (hs_tone){quantities[i], degrees ? degrees[i] : 0};
		silent = silent && quantities[i].value == 0 && !hs_unit_is_level(quantities[i].unit);
	}
	/* Silence and silence make silence, which has no level but is 0 W. */
	if (coherent && !silent) {
		if (!hs_tone_sum(tones, count, unit, ohm, &made, NULL, hs_blame(w, HS_FAULT_NULL)))
			return false;
	} else if (!coherent && !hs_power_sum(quantities, count, unit, ohm, &made, hs_blame(w, HS_FAULT_RANGE))) {
		return false;
	}
	*out = hs_figure_of(made.value, made.unit);
	snprintf(out->note, sizeof out->note, "%s", coherent ? "voltages added" : "powers added");
	say_parts(w,
	          coherent ? "voltages add as arrows, 20 log10|sum of 10^(dB/20) at its angle|"
	                   : "powers add, 10 log10(sum of 10^(dB/10))",
	          parts, coherent ? degrees : NULL, count, out);
	return hs_finish(w, out);
}

/* Of two things that are not alike, and of reflections, there is no mean. */
static bool alike(hs_working *w, const hs_figure *first, const hs_figure *other)
{
	if (hs_figure_reflects(other))
		return hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "%s is a reflection, and those have no mean",
		               hs_figure_said(other).text);
	return (first->is.unit == other->is.unit && first->sense == other->sense) ||
	       hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "%s and %s have no mean", hs_figure_said(first).text,
	               hs_figure_said(other).text);
}

static bool plain_mean(hs_working *w, const hs_figure *parts, size_t count, bool rms, hs_figure *out)
{
	double sum = 0;
	for (size_t i = 0; i < count; i++) {
		if (!alike(w, &parts[0], &parts[i]))
			return false;
		double part = parts[i].is.value / (rms ? sqrt((double)count) : (double)count);
		sum = rms ? hypot(sum, part) : sum + part;
	}
	*out = hs_figure_of(sum, parts[0].is.unit);
	out->sense = parts[0].sense;
	say_parts(w, rms ? "sqrt(sum of squares/n)" : "sum/n", parts, NULL, count, out);
	return hs_finish(w, out);
}

/* Decibels without a level, and densities: taken as levels above one common thing. */
static bool mean_of_decibels(hs_working *w, const hs_figure *parts, size_t count, hs_figure *out)
{
	hs_quantity *quantities = hs_arena_alloc(w->arena, count * sizeof *quantities), made;
	for (size_t i = 0; i < count; i++) {
		if (!alike(w, &parts[0], &parts[i]))
			return false;
		quantities[i] = (hs_quantity){parts[i].is.value, HS_DBM};
	}
	if (!hs_power_mean(quantities, count, HS_DBM, 0, &made, hs_blame(w, HS_FAULT_RANGE)))
		return false;
	*out = hs_figure_of(made.value, parts[0].is.unit);
	out->sense = parts[0].sense;
	return true;
}

bool hs_mean_of(hs_working *w, const hs_figure *parts, size_t count, bool rms, double ohm, hs_figure *out)
{
	const hs_figure *first = &parts[0];
	hs_quantity *quantities = hs_arena_alloc(w->arena, count * sizeof *quantities), made;
	bool power = hs_unit_dimension(first->is.unit) == HS_DIM_POWER;
	if (rms && (power || first->is.unit == HS_DB))
		return hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT,
		               "the root of the mean square is of voltages or currents, and %s was given",
		               hs_figure_said(first).text);
	if (first->is.unit == HS_DB || first->sense == HS_SENSE_DENSITY) {
		if (!mean_of_decibels(w, parts, count, out))
			return false;
	} else {
		/* The mean of volts is the plain one, unless they are levels, which stand for powers. */
		bool levels = power;
		for (size_t i = 0; i < count; i++)
			levels = levels || hs_figure_is_level(&parts[i]);
		if (!levels)
			return plain_mean(w, parts, count, rms, out);
		if (peaks_refused(w, parts, count) || !in_one_unit(w, parts, count, ohm, quantities) ||
		    !hs_power_mean(quantities, count, first->is.unit, ohm, &made, hs_blame(w, HS_FAULT_RANGE)))
			return false;
		*out = hs_figure_of(made.value, made.unit);
	}
	hs_copy(out->note, sizeof out->note, "mean of powers");
	say_parts(w, "mean of powers, 10 log10(sum of 10^(dB/10)/n)", parts, NULL, count, out);
	return hs_finish(w, out);
}

static bool less(hs_working *w, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	hs_figure parts[2] = {*a, *b};
	hs_quantity quantities[2], rest;
	if (peaks_refused(w, parts, 2) || !in_one_unit(w, parts, 2, ohm, quantities) ||
	    !hs_power_difference(quantities[0], quantities[1], a->is.unit, ohm, &rest, hs_blame(w, HS_FAULT_DOMAIN)))
		return false;
	*out = hs_figure_of(rest.value, rest.unit);
	hs_copy(out->note, sizeof out->note, "power that is left");
	hs_step(w, "powers subtract, 10 log10(10^(A/10) - 10^(B/10)): %s less %s = %s", hs_figure_said(a).text,
	        hs_figure_said(b).text, hs_figure_said(out).text);
	return true;
}

static bool near(hs_working *w, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	hs_figure parts[2] = {*a, *b};
	hs_quantity quantities[2], made;
	double signal, correction;
	if (peaks_refused(w, parts, 2) || !in_one_unit(w, parts, 2, ohm, quantities))
		return false;
	if (hs_unit_dimension(a->is.unit) == HS_DIM_VOLTAGE || quantities[1].value == 0) {
		if (!hs_power_difference(quantities[0], quantities[1], a->is.unit, ohm, &made,
		                         hs_blame(w, HS_FAULT_DOMAIN)))
			return false;
	} else {
		hs_quantity reading, noise;
		if (!hs_level_to(w, quantities[0], HS_DBM, 0, (hs_waveform){0}, &reading) ||
		    !hs_level_to(w, quantities[1], HS_DBM, 0, (hs_waveform){0}, &noise) ||
		    !hs_signal_in_noise(reading.value, noise.value, &signal, &correction,
		                        hs_blame(w, HS_FAULT_DOMAIN)) ||
		    !hs_level_to(w, (hs_quantity){signal, HS_DBM}, a->is.unit, 0, (hs_waveform){0}, &made))
			return false;
	}
	*out = hs_figure_of(made.value, made.unit);
	hs_copy(out->note, sizeof out->note, "signal alone");
	hs_step(w, "signal = 10 log10(10^(reading/10) - 10^(noise/10)): %s near %s = %s", hs_figure_said(a).text,
	        hs_figure_said(b).text, hs_figure_said(out).text);
	return true;
}

/* A reflection seen through a line (`further`: the load behind it), over return loss unless there is no reflection. */
static bool reflection_past(hs_working *w, const hs_figure *a, double loss_db, bool further, hs_figure *out)
{
	hs_target back = {a->is.unit, a->sense, 1, ""}, decibels = {HS_DB, HS_SENSE_RETURN_LOSS, 1, ""};
	hs_figure near_end, far_end;
	double rho;
	hs_error *error;
	if (!rho_of(w, a, 0, &rho))
		return false;
	error = hs_blame(w, HS_FAULT_DOMAIN);
	if (!hs_want_at_least("the loss of the line", loss_db, 0, HS_DB, error))
		return false;
	if (rho == 0) {
		*out = *a;
		return true;
	}
	if (!hs_reflection_to(w, a, &decibels, 0, &near_end))
		return false;
	far_end = near_end;
	error = hs_blame(w, HS_FAULT_DOMAIN);
	if (further ? !hs_return_loss_beyond(near_end.is.value, loss_db, &far_end.is.value, error)
	            : !hs_return_loss_before(near_end.is.value, loss_db, &far_end.is.value, error))
		return false;
	hs_step(w, "the wave passes the line twice, RL %s 2 x loss: %s = %s", further ? "-" : "+",
	        hs_figure_said(&near_end).text, hs_figure_said(&far_end).text);
	return hs_reflection_to(w, &far_end, &back, 0, out);
}

static bool past_line(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, hs_figure *out)
{
	bool further = turn == HS_TURN_BEHIND;
	const char *where = further ? "behind" : "through";
	if (b->is.unit != HS_DB || b->sense != HS_SENSE_PLAIN)
		return hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT,
		               "\"%s\" is followed by %s, and a loss in dB was wanted", where, hs_figure_said(b).text);
	if (hs_figure_reflects(a)) {
		if (!reflection_past(w, a, b->is.value, further, out))
			return false;
	} else if (hs_figure_is_signal(a) || a->sense == HS_SENSE_DENSITY) {
		if (!hs_want_at_least("the loss of the line", b->is.value, 0, HS_DB, hs_blame(w, HS_FAULT_DOMAIN)) ||
		    !hs_arithmetic(w, further ? HS_TURN_ADD : HS_TURN_TAKE, a, b, 0, out))
			return false;
	} else {
		return hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT,
		               "%s goes through no line: a reflection, a power or a voltage was wanted",
		               hs_figure_said(a).text);
	}
	const char *what = out->sense == HS_SENSE_RETURN_LOSS     ? "return loss "
	                   : out->sense == HS_SENSE_MISMATCH_LOSS ? "mismatch loss "
	                   : out->sense == HS_SENSE_GAMMA         ? "gamma "
	                                                          : "";
	snprintf(out->note, sizeof out->note, "%s%s %s dB of line", what,
	         further ? "at the far end, behind" : "seen through", hs_brief_of(b->is.value).text);
	return true;
}

bool hs_worded(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out)
{
	switch (turn) {
	case HS_TURN_LESS:
		return less(w, a, b, ohm, out);
	case HS_TURN_NEAR:
		return near(w, a, b, ohm, out);
	case HS_TURN_THROUGH:
	case HS_TURN_BEHIND:
		return past_line(w, turn, a, b, out);
	case HS_TURN_SHARE:
	case HS_TURN_CARRIER:
	case HS_TURN_PARALLEL:
		return hs_turned(w, turn, a, b, ohm, out);
	default:
		return hs_arithmetic(w, turn, a, b, ohm, out);
	}
}

static bool kelvin_of(hs_working *w, hs_terms *terms, double *kelvin)
{
	*kelvin = terms->has_kelvin ? terms->kelvin : KELVIN_USUAL;
	terms->used_kelvin = true;
	return hs_want_at_least("the temperature in kelvin", *kelvin, 0, HS_UNITLESS, hs_blame(w, HS_FAULT_DOMAIN));
}

bool hs_noise_floor_of(hs_working *w, hs_terms *terms, hs_figure *out)
{
	double kelvin, dbm, band = terms->band_count ? terms->bands[0] : 1;
	if (!kelvin_of(w, terms, &kelvin) ||
	    !hs_noise_floor(kelvin, terms->nf_db, band, &dbm, hs_blame(w, HS_FAULT_DOMAIN)))
		return false;
	terms->used_nf = true;
	terms->used_band = terms->used_band || terms->band_count > 0;
	*out = hs_figure_of(dbm, HS_DBM);
	if (!terms->band_count)
		out->sense = HS_SENSE_DENSITY;
	hs_step(w, "floor = k (T + 290 (F - 1)) B, T = %s K, NF = %s dB, B = %s Hz: %s", hs_brief_of(kelvin).text,
	        hs_brief_of(terms->nf_db).text, hs_brief_of(band).text, hs_figure_said(out).text);
	return hs_finish(w, out);
}

bool hs_noise_of(hs_working *w, const hs_figure *resistor, hs_terms *terms, hs_figure *out)
{
	double kelvin, volt;
	if (resistor->is.unit != HS_OHM)
		return hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT,
		               "\"noise of\" is followed by %s, and a resistance was wanted",
		               hs_figure_said(resistor).text);
	if (!terms->band_count) {
		hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT,
		        "the noise of a resistor needs a bandwidth, and none was given");
		return hs_fail_hint(w->error, "write it like noise of 1 kohm in 10 kHz");
	}
	terms->used_band = true;
	if (!kelvin_of(w, terms, &kelvin) ||
	    !hs_johnson_volts(resistor->is.value, kelvin, terms->bands[0], &volt, hs_blame(w, HS_FAULT_DOMAIN)))
		return false;
	*out = hs_figure_of(volt, HS_VOLT);
	hs_copy(out->note, sizeof out->note, "open circuit, rms");
	hs_step(w, "V = sqrt(4 k T R B), T = %s K, R = %s, B = %s Hz: %s", hs_brief_of(kelvin).text,
	        hs_figure_said(resistor).text, hs_brief_of(terms->bands[0]).text, hs_figure_said(out).text);
	return hs_finish(w, out);
}

static bool no_such_type(hs_working *w, const char *type)
{
	size_t count;
	const char *const *names = hs_coax_type_names(&count);
	hs_buf list;
	hs_buf_init(&list);
	for (size_t i = 0; i < count; i++)
		hs_buf_printf(&list, "%s%s", i ? ", " : "", names[i]);
	hs_fail(hs_blame(w, HS_FAULT_TABLE), HS_BAD_INPUT, "there is no table for the cable type \"%s\"", type);
	hs_fail_hint(w->error, "known are %s", list.data);
	hs_buf_free(&list);
	return false;
}

bool hs_coax_of(hs_working *w, double length_m, const char *type, hs_terms *terms, hs_figure *out)
{
	const hs_loss_table *table = hs_coax_type(type);
	double celsius = terms->has_kelvin ? terms->kelvin - 273.15 : HS_COAX_CELSIUS, loss;
	if (!table)
		return no_such_type(w, type);
	if (!(terms->freq_hz > 0)) {
		hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT,
		        "the loss of a cable depends on frequency, and none was given");
		return hs_fail_hint(w->error, "write it like 10 m RG-213/U at 145 MHz");
	}
	terms->used_freq = terms->used_kelvin = true;
	if (!hs_want_at_least("the length", length_m, 0, HS_METRE, hs_blame(w, HS_FAULT_DOMAIN)))
		return false;
	hs_coax_run run = {.length_m = length_m, .celsius = celsius};
	if (!hs_coax_table_loss(table, 100, NULL, terms->freq_hz, run, &loss, hs_blame(w, HS_FAULT_TABLE)))
		return false;
	*out = hs_figure_of(loss, HS_DB);
	hs_copy(out->note, sizeof out->note, "nominal loss of the type");
	hs_step(w, "%s, %s m at %s Hz: %s (%s)", type, hs_brief_of(length_m).text, hs_brief_of(terms->freq_hz).text,
	        hs_figure_said(out).text, HS_COAX_SOURCE);
	return hs_finish(w, out);
}
