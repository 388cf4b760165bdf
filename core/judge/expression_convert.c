/* One unit or meaning into another: levels, EMF and PD, densities, ratios, prefixes. */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "expression_parts.h"
#include "halfsplit/quantity/demand.h"

static bool is_power(hs_unit unit)
{
	return hs_unit_dimension(unit) == HS_DIM_POWER;
}

static bool is_signal(hs_unit unit)
{
	return is_power(unit) || hs_unit_dimension(unit) == HS_DIM_VOLTAGE;
}

/* Decibels from one level unit to another in 1 ohm. */
static double offset_db(hs_unit from, hs_unit to)
{
	hs_quantity made = {0, to};
	hs_level_convert((hs_quantity){0, from}, to, (hs_level_terms){.impedance_ohm = 1}, &made, NULL);
	return made.value;
}

static void say_offset(hs_buf *out, double db)
{
	if (db != 0)
		hs_buf_printf(out, " %c %s", db < 0 ? '-' : '+', hs_brief_of(fabs(db)).text);
}

/* "dBuV = dBm + 90 + 10 log10(Z)", "W = V^2/Z", "dBm = 10 log10(W) + 30". */
static void say_law(hs_buf *out, hs_unit from, hs_unit to)
{
	const char *a = hs_unit_name(from), *b = hs_unit_name(to);
	const char *z = is_power(from) == is_power(to) ? "" : is_power(to) ? " - 10 log10(Z)" : " + 10 log10(Z)";
	int a_per = is_power(from) ? 10 : 20, b_per = is_power(to) ? 10 : 20;
	hs_unit a_root = is_power(from) ? HS_DBW : HS_DBV, b_root = is_power(to) ? HS_DBW : HS_DBV;
	const char *a_name = is_power(from) ? "W" : "V", *b_name = is_power(to) ? "W" : "V";
	if (hs_unit_is_level(from) && hs_unit_is_level(to)) {
		hs_buf_printf(out, "%s = %s", b, a);
		say_offset(out, offset_db(from, to));
		hs_buf_str(out, z);
	} else if (hs_unit_is_level(to)) {
		hs_buf_printf(out, "%s = %d log10(%s)", b, a_per, a_name);
		say_offset(out, offset_db(a_root, to));
		hs_buf_str(out, z);
	} else if (hs_unit_is_level(from)) {
		hs_buf_printf(out, "%s = 10^((%s", b_name, a);
		say_offset(out, offset_db(from, b_root));
		hs_buf_printf(out, "%s)/%d)", z, b_per);
	} else if (is_power(from) != is_power(to)) {
		hs_buf_str(out, is_power(to) ? "W = V^2/Z" : "V = sqrt(W x Z)");
	} else {
		hs_buf_printf(out, "%s from %s", b, a);
	}
}

static void say_wave(hs_buf *out, hs_unit unit, hs_waveform wave)
{
	double crest;
	if ((unit != HS_VPK && unit != HS_VPP) || !hs_crest_factor(wave, &crest, NULL))
		return;
	hs_buf_printf(out, ", %s = %s%s x V rms of a %s", hs_unit_name(unit), unit == HS_VPP ? "2 x " : "",
	              hs_brief_of(crest).text, hs_wave_name(wave.shape));
}

static void say_conversion(hs_working *w, hs_quantity from, hs_quantity to, double ohm, hs_waveform wave)
{
	hs_figure a = hs_figure_of(from.value, from.unit), b = hs_figure_of(to.value, to.unit);
	hs_buf law;
	hs_buf_init(&law);
	say_law(&law, from.unit, to.unit);
	say_wave(&law, from.unit, wave);
	say_wave(&law, to.unit, wave);
	if (is_power(from.unit) != is_power(to.unit))
		hs_buf_printf(&law, ", Z = %s ohm", hs_brief_of(ohm).text);
	hs_step(w, "%s: %s = %s", law.data, hs_figure_said(&a).text, hs_figure_said(&b).text);
	hs_buf_free(&law);
}

bool hs_level_to(hs_working *w, hs_quantity from, hs_unit to, double ohm, hs_waveform wave, hs_quantity *out)
{
	hs_fault fault = HS_FAULT_RANGE;
	bool across = is_power(from.unit) != is_power(to), from_level = hs_unit_is_level(from.unit);
	if (from.unit == to) {
		*out = from;
		return true;
	}
	if (!is_signal(from.unit) || !is_signal(to))
		fault = HS_FAULT_UNIT;
	else if (across && !(ohm > 0))
		fault = HS_FAULT_IMPEDANCE;
	else if (!from_level &&
	         ((hs_unit_is_level(to) && !(from.value > 0)) || (across && is_power(from.unit) && from.value < 0)))
		fault = HS_FAULT_DOMAIN;
	bool peaks = from.unit == HS_VPK || from.unit == HS_VPP || to == HS_VPK || to == HS_VPP;
	w->used_ohm = w->used_ohm || across;
	w->used_wave = w->used_wave || (peaks && wave.shape != HS_SINE);
	if (!hs_level_convert(from, to, (hs_level_terms){ohm, wave}, out, hs_blame(w, fault)))
		return false;
	say_conversion(w, from, *out, ohm, wave);
	return true;
}

static bool cannot(hs_working *w, const hs_figure *from, const hs_target *target, const char *hint)
{
	hs_figure to = hs_figure_of(0, target->unit);
	to.sense = target->sense;
	hs_saidas name = hs_figure_said(&to);
	/* The name without its number: "return loss 0 dB" is a return loss in dB. */
	char *zero = strstr(name.text, "0");
	if (zero)
		memmove(zero, zero + 1 + (zero[1] == ' '), strlen(zero + 1 + (zero[1] == ' ')) + 1);
	size_t length = strlen(name.text);
	if (length && name.text[length - 1] == ' ')
		name.text[length - 1] = '\0';
	hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT, "%s cannot be said %s %s", hs_figure_said(from).text,
	        target->sense == HS_SENSE_PLAIN ? "in" : "as", *name.text ? name.text : "a plain number");
	return hint ? hs_fail_hint(w->error, "%s", hint) : false;
}

/* The voltage an EMF leaves on its load, in the unit of the EMF. */
static bool pd_of(hs_working *w, const hs_figure *emf, hs_terms *terms, hs_quantity *pd)
{
	if (terms->into && !terms->has_source) {
		hs_fail(hs_blame(w, HS_FAULT_IMPEDANCE), HS_BAD_INPUT,
		        "what an EMF leaves on a load needs the resistance of its source, and none was given");
		return hs_fail_hint(w->error, "write it like emf 1 V from 50 ohm into 75 ohm");
	}
	terms->used_source = true;
	hs_error *error = hs_blame(w, HS_FAULT_RANGE);
	bool into = terms->has_source && terms->has_ohm;
	w->used_ohm = w->used_ohm || into;
	if (into ? !hs_pd_into(emf->is, terms->source_ohm, terms->ohm, pd, error) : !hs_pd_of_emf(emf->is, pd, error))
		return false;
	hs_figure made = hs_figure_of(pd->value, pd->unit);
	if (into)
		hs_step(w, "pd = emf x load/(source + load), %s ohm into %s ohm: %s = %s",
		        hs_brief_of(terms->source_ohm).text, hs_brief_of(terms->ohm).text, hs_figure_said(emf).text,
		        hs_figure_said(&made).text);
	else
		hs_step(w, "pd = emf/2 on a matched load, -6.0206 dB: %s = %s", hs_figure_said(emf).text,
		        hs_figure_said(&made).text);
	return true;
}

/* Power of an EMF: in the load when there is one, else what the source can give to a matched one. */
static bool power_of_emf(hs_working *w, const hs_figure *emf, hs_unit unit, hs_terms *terms, double ohm,
                         hs_quantity *out)
{
	hs_quantity pd;
	if (!pd_of(w, emf, terms, &pd))
		return false;
	double into = terms->has_ohm ? terms->ohm : terms->has_source ? terms->source_ohm : ohm;
	return hs_level_to(w, pd, unit, into, terms->wave, out);
}

static bool to_signal(hs_working *w, const hs_figure *from, const hs_target *target, hs_terms *terms, double ohm,
                      hs_figure *out)
{
	hs_quantity made, level = from->is;
	if (from->sense == HS_SENSE_DENSITY) {
		if (!terms->band_count) {
			hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT,
			        "from dBm/Hz to %s a bandwidth is needed, and none was given",
			        hs_unit_name(target->unit));
			return hs_fail_hint(w->error, "say in what bandwidth, such as in 10 kHz");
		}
		terms->used_band = true;
		if (!hs_level_of_density(from->is.value, terms->bands[0], &level, hs_blame(w, HS_FAULT_RANGE)))
			return false;
		hs_step(w, "dBm = dBm/Hz + 10 log10(B), B = %s Hz: %s = %s dBm", hs_brief_of(terms->bands[0]).text,
		        hs_figure_said(from).text, hs_brief_of(level.value).text);
	}
	bool emf = from->sense == HS_SENSE_EMF;
	if (emf && is_power(target->unit)) {
		if (!power_of_emf(w, from, target->unit, terms, ohm, &made))
			return false;
	} else if (!hs_level_to(w, level, target->unit, ohm, terms->wave, &made)) {
		return false;
	}
	*out = hs_figure_of(made.value, made.unit);
	if (emf && !is_power(target->unit))
		out->sense = HS_SENSE_EMF;
	return true;
}

static bool to_density(hs_working *w, const hs_figure *from, const hs_target *target, hs_terms *terms, double ohm,
                       hs_figure *out)
{
	double density;
	hs_quantity dbm;
	if (!hs_figure_is_signal(from))
		return cannot(w, from, target, NULL);
	if (!terms->band_count) {
		hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT,
		        "from %s to dBm/Hz a bandwidth is needed, and none was given", hs_unit_name(from->is.unit));
		return hs_fail_hint(w->error, "say in what bandwidth, such as in 10 kHz");
	}
	terms->used_band = true;
	if (!hs_level_to(w, from->is, HS_DBM, ohm, terms->wave, &dbm) ||
	    !hs_density_of_level(dbm, terms->bands[0], &density, hs_blame(w, HS_FAULT_RANGE)))
		return false;
	*out = hs_figure_of(density, HS_DBM);
	out->sense = HS_SENSE_DENSITY;
	hs_step(w, "dBm/Hz = dBm - 10 log10(B), B = %s Hz: %s dBm = %s", hs_brief_of(terms->bands[0]).text,
	        hs_brief_of(dbm.value).text, hs_figure_said(out).text);
	return true;
}

static bool to_emf(hs_working *w, const hs_figure *from, const hs_target *target, hs_terms *terms, double ohm,
                   hs_figure *out)
{
	hs_quantity volt = from->is, made;
	if (!hs_figure_is_signal(from))
		return cannot(w, from, target, NULL);
	if (is_power(volt.unit) && !hs_level_to(w, from->is, HS_VOLT, ohm, terms->wave, &volt))
		return false;
	hs_figure before = hs_figure_of(volt.value, volt.unit);
	bool already = from->sense == HS_SENSE_EMF;
	if (target->sense == HS_SENSE_PD) {
		made = volt;
		if (already && !pd_of(w, from, terms, &made))
			return false;
	} else {
		made = volt;
		if (!already && !hs_emf_of_pd(volt, &made, hs_blame(w, HS_FAULT_RANGE)))
			return false;
	}
	*out = hs_figure_of(made.value, made.unit);
	out->sense = target->sense;
	if (target->sense == HS_SENSE_EMF && !already)
		hs_step(w, "emf = 2 x pd on a matched load, +6.0206 dB: %s = %s", hs_figure_said(&before).text,
		        hs_figure_said(out).text);
	/* "in uV emf" names its unit, "as emf" does not. */
	return !*target->shown || hs_level_to(w, made, target->unit, ohm, terms->wave, &out->is);
}

/* dB of a ratio, and ratios out of dB and of each other. */
static bool to_ratio(hs_working *w, const hs_figure *from, const hs_target *target, hs_figure *out)
{
	bool from_power = from->sense == HS_SENSE_POWER_RATIO, from_voltage = from->sense == HS_SENSE_VOLTAGE_RATIO;
	int per = target->sense == HS_SENSE_POWER_RATIO ? 10 : 20;
	double value = from->is.value;
	hs_figure made = hs_figure_of(value, HS_UNITLESS);
	made.sense = target->sense;
	bool exact = value == 0;
	if (from->is.unit == HS_DB && from->sense == HS_SENSE_PLAIN) {
		made.is.value = pow(10, value / per);
		exact = false;
	} else if (from->is.unit == HS_PERCENT) {
		made.is.value = value / 100;
	} else if (from_power && per == 20) {
		made.is.value = sqrt(value);
	} else if (from_voltage && per == 10) {
		made.is.value = value * value;
	} else if (from->is.unit != HS_UNITLESS || hs_figure_reflects(from)) {
		return cannot(w, from, target, NULL);
	}
	if (made.is.value == 0 && !exact)
		return hs_fail(hs_blame(w, HS_FAULT_RANGE), HS_BAD_INPUT, "%s is too small to be written as a ratio",
		               hs_figure_said(from).text);
	if (!hs_finish(w, &made))
		return false;
	snprintf(made.note, sizeof made.note, "%s ratio", per == 10 ? "power" : "voltage");
	if (from->is.unit == HS_DB)
		hs_step(w, "%s ratio = 10^(dB/%d): %s = %s", per == 10 ? "power" : "voltage", per,
		        hs_figure_said(from).text, hs_brief_of(made.is.value).text);
	*out = made;
	return true;
}

static bool to_decibels(hs_working *w, const hs_figure *from, const hs_target *target, hs_figure *out)
{
	int per = from->sense == HS_SENSE_POWER_RATIO ? 10 : 20;
	if (from->is.unit == HS_DB) {
		*out = hs_figure_of(from->is.value, HS_DB);
		return true;
	}
	if (from->sense != HS_SENSE_POWER_RATIO && from->sense != HS_SENSE_VOLTAGE_RATIO)
		return cannot(w, from, target,
		              from->is.unit == HS_UNITLESS
		                  ? "write ratio 2 for a ratio of powers, voltage ratio 2 for voltages"
		                  : NULL);
	if (!(from->is.value > 0))
		return hs_fail(hs_blame(w, HS_FAULT_DOMAIN), HS_BAD_INPUT, "a ratio of 0 has no value in decibels");
	*out = hs_figure_of(per * log10(from->is.value), HS_DB);
	hs_step(w, "dB = %d log10(%s ratio): %s = %s", per, per == 10 ? "power" : "voltage",
	        hs_brief_of(from->is.value).text, hs_figure_said(out).text);
	return hs_finish(w, out);
}

static bool to_plain(hs_working *w, const hs_figure *from, const hs_target *target, hs_terms *terms, double ohm,
                     hs_figure *out)
{
	if (target->unit == HS_DB)
		return to_decibels(w, from, target, out);
	if (is_signal(target->unit) && is_signal(from->is.unit))
		return to_signal(w, from, target, terms, ohm, out);
	if (from->sense == HS_SENSE_PLAIN && ((from->is.unit == HS_AMP && is_signal(target->unit)) ||
	                                      (target->unit == HS_AMP && is_signal(from->is.unit))))
		return hs_current_to(w, from, target, terms, ohm, out);
	if ((from->is.unit == HS_HERTZ && target->unit == HS_METRE) ||
	    (from->is.unit == HS_METRE && target->unit == HS_HERTZ))
		return hs_wavelength_of(w, from, target, out);
	if (target->unit == HS_PERCENT && from->is.unit == HS_UNITLESS && !hs_figure_reflects(from)) {
		*out = hs_figure_of(from->is.value * 100, HS_PERCENT);
		return hs_finish(w, out);
	}
	if (target->unit != from->is.unit)
		return cannot(w, from, target, NULL);
	*out = *from;
	out->note[0] = '\0';
	return true;
}

bool hs_converted(hs_working *w, const hs_figure *from, const hs_target *target, hs_terms *terms, hs_figure *out)
{
	double ohm = terms->has_ohm ? terms->ohm : from->ohm;
	bool good, reflection = target->unit == HS_SWR || target->sense == HS_SENSE_GAMMA ||
	                        target->sense == HS_SENSE_RETURN_LOSS || target->sense == HS_SENSE_MISMATCH_LOSS;
	hs_figure made = {0};
	if (reflection)
		good = hs_reflection_to(w, from, target, ohm, &made);
	else if (target->sense == HS_SENSE_DENSITY)
		good = from->sense == HS_SENSE_DENSITY ? (made = *from, true)
		                                       : to_density(w, from, target, terms, ohm, &made);
	else if (target->sense == HS_SENSE_EMF || target->sense == HS_SENSE_PD)
		good = to_emf(w, from, target, terms, ohm, &made);
	else if (target->sense == HS_SENSE_POWER_RATIO || target->sense == HS_SENSE_VOLTAGE_RATIO)
		good = to_ratio(w, from, target, &made);
	else
		good = to_plain(w, from, target, terms, ohm, &made);
	if (!good || !hs_finish(w, &made))
		return false;
	made.ohm = ohm;
	made.scale = target->scale;
	hs_copy(made.shown, sizeof made.shown, target->shown);
	*out = made;
	return true;
}
