/* Works out what was read, from the inside to the outside and from left to right. */
#include "halfsplit/judge/expression.h"

#include <math.h>
#include <string.h>
#include "expression_parts.h"
#include "halfsplit/quantity/demand.h"

static bool node_work(hs_working *w, const hs_node *node, hs_terms *terms, hs_figure *out);

const char *hs_fault_name(hs_fault fault)
{
	static const char *const names[HS_FAULT_COUNT] = {
	    [HS_FAULT_SYNTAX] = "syntax", [HS_FAULT_UNIT] = "unit",   [HS_FAULT_IMPEDANCE] = "impedance",
	    [HS_FAULT_RANGE] = "range",   [HS_FAULT_TABLE] = "table", [HS_FAULT_NULL] = "null",
	    [HS_FAULT_DOMAIN] = "domain",
	};
	return (unsigned)fault < HS_FAULT_COUNT ? names[fault] : "?";
}

static bool chain_work(hs_working *w, const hs_node *node, hs_terms *terms, hs_figure *out)
{
	hs_figure right;
	if (!node_work(w, node->a, terms, out))
		return false;
	for (const hs_node *link = node->b; link; link = link->next)
		if (!node_work(w, link->a, terms, &right) ||
		    !hs_arithmetic(w, link->turn, out, &right, terms->ohm, out))
			return false;
	return true;
}

static bool list_work(hs_working *w, const hs_node *node, hs_terms *terms, hs_figure *out)
{
	size_t count = 0;
	for (const hs_node *link = node->a; link; link = link->next)
		count++;
	hs_figure *parts = hs_arena_alloc(w->arena, count * sizeof *parts), *part = parts;
	for (const hs_node *link = node->a; link; link = link->next)
		if (!node_work(w, link->a, terms, part++))
			return false;
	if (node->shape == HS_NODE_SUM)
		return hs_together(w, parts, NULL, count, false, terms->has_ohm ? terms->ohm : parts[0].ohm, out);
	return hs_mean_of(w, parts, count, node->shape == HS_NODE_RMS, terms->ohm, out);
}

static bool node_work(hs_working *w, const hs_node *node, hs_terms *terms, hs_figure *out)
{
	hs_figure inner, other;
	switch (node->shape) {
	case HS_NODE_LITERAL:
		*out = node->figure;
		return true;
	case HS_NODE_SENSE:
		return node_work(w, node->a, terms, &inner) && hs_sense_given(w, &inner, node->target, out);
	case HS_NODE_NEGATE:
		return node_work(w, node->a, terms, &inner) && hs_negated(w, &inner, out);
	case HS_NODE_CHAIN:
		return chain_work(w, node, terms, out);
	case HS_NODE_LINK:
		return node_work(w, node->a, terms, out);
	case HS_NODE_MEAN:
	case HS_NODE_RMS:
	case HS_NODE_SUM:
		return list_work(w, node, terms, out);
	case HS_NODE_REFLECTED:
		return node_work(w, node->a, terms, &inner) && node_work(w, node->b, terms, &other) &&
		       hs_reflected_of(w, &inner, &other, out);
	case HS_NODE_FLOOR:
		return hs_noise_floor_of(w, terms, out);
	case HS_NODE_RESISTOR:
		return node_work(w, node->a, terms, &inner) && hs_noise_of(w, &inner, terms, out);
	case HS_NODE_COAX:
		return hs_coax_of(w, node->figure.is.value, node->type, terms, out);
	case HS_NODE_PHRASE:
		break;
	}
	return hs_phrase_work(w, node->phrase, terms, out);
}

/* Everything joined by "and" from *saying on is added at once: angles are of the parts, not of sums. */
static bool and_work(hs_working *w, const hs_phrase *phrase, const hs_saying **saying, hs_terms *terms, hs_figure *out)
{
	size_t count = 1;
	for (const hs_saying *one = *saying; one && one->turn == HS_TURN_AND; one = one->next)
		count++;
	hs_figure *parts = hs_arena_alloc(w->arena, count * sizeof *parts);
	double *degrees = hs_arena_alloc(w->arena, count * sizeof *degrees);
	bool coherent = terms->in_phase || (phrase->has_degrees && *saying == phrase->sayings);
	parts[0] = *out;
	if (*saying == phrase->sayings)
		degrees[0] = phrase->degrees;
	for (size_t i = 1; i < count; i++, *saying = (*saying)->next) {
		if (!node_work(w, (*saying)->operand, terms, &parts[i]))
			return false;
		degrees[i] = (*saying)->degrees;
		coherent = coherent || (*saying)->has_degrees;
	}
	terms->used_phase = true;
	return hs_together(w, parts, degrees, count, coherent, terms->has_ohm ? terms->ohm : parts[0].ohm, out);
}

static bool sayings_work(hs_working *w, const hs_phrase *phrase, hs_terms *terms, bool *converted, hs_figure *out)
{
	const hs_saying *saying = phrase->sayings;
	hs_figure operand, before;
	while (saying) {
		if (saying->turn == HS_TURN_AND) {
			if (!and_work(w, phrase, &saying, terms, out))
				return false;
			continue;
		}
		before = *out;
		if (saying->turn == HS_TURN_CONVERT) {
			*converted = true;
			if (!hs_converted(w, &before, &saying->target, terms, out))
				return false;
		} else if (!node_work(w, saying->operand, terms, &operand) ||
		           !hs_worded(w, saying->turn, &before, &operand, terms->has_ohm ? terms->ohm : before.ohm,
		                      out)) {
			return false;
		}
		saying = saying->next;
	}
	return true;
}

/*
 * "12 V into 50 ohm" without a unit asked for: the power in it, as of a current; of a power, the voltage on it; of an
 * EMF, its PD.
 */
static bool into_work(hs_working *w, hs_terms *terms, hs_figure *out)
{
	hs_target target = {HS_WATT, HS_SENSE_PLAIN, 1, ""};
	if (out->sense == HS_SENSE_EMF)
		target = (hs_target){out->is.unit, HS_SENSE_PD, 1, ""};
	else if (hs_unit_dimension(out->is.unit) == HS_DIM_POWER && out->sense != HS_SENSE_DENSITY)
		target.unit = HS_VOLT;
	else if (!hs_figure_is_signal(out) && out->is.unit != HS_AMP)
		return hs_fail(hs_blame(w, HS_FAULT_UNIT), HS_BAD_INPUT,
		               "a load stands behind %s, and a voltage, a current or a power was wanted",
		               hs_figure_said(out).text);
	return hs_converted(w, out, &target, terms, out);
}

/* A level read in one bandwidth, in another; a density in one. */
static bool band_work(hs_working *w, hs_terms *terms, hs_figure *out)
{
	hs_target dbm = {HS_DBM, HS_SENSE_PLAIN, 1, "dBm"};
	if (terms->used_band)
		return true;
	if (terms->band_count == 1 && out->sense == HS_SENSE_DENSITY)
		return hs_converted(w, out, &dbm, terms, out);
	if (terms->band_count != 2 || !hs_figure_is_signal(out))
		return true;
	hs_figure made = *out;
	terms->used_band = true;
	if (!hs_level_in_bandwidth(out->is, terms->bands[0], terms->bands[1], &made.is, hs_blame(w, HS_FAULT_RANGE)))
		return false;
	hs_step(w, "noise goes with the bandwidth, + 10 log10(%s Hz/%s Hz): %s = %s", hs_brief_of(terms->bands[1]).text,
	        hs_brief_of(terms->bands[0]).text, hs_figure_said(out).text, hs_figure_said(&made).text);
	*out = made;
	return true;
}

/* What was said and changed nothing was meant to change something. */
static bool all_used(hs_working *w, const hs_phrase *phrase, const hs_terms *terms)
{
	const char *idle = NULL, *hint = "leave it out, or say what is wanted with it";
	if (terms->band_count && !terms->used_band) {
		idle = "a bandwidth";
		hint = "write \"as dBm/Hz\" for the density, or a second bandwidth for the level in that";
	} else if (terms->freq_hz > 0 && !terms->used_freq) {
		idle = "a frequency";
	} else if (terms->has_nf && !terms->used_nf) {
		idle = "a noise figure";
	} else if (terms->has_kelvin && !terms->used_kelvin) {
		idle = "a temperature";
	} else if (terms->has_source && !terms->used_source) {
		idle = "the resistance of a source";
	} else if ((terms->in_phase || phrase->has_degrees) && !terms->used_phase) {
		idle = "a phase";
	}
	if (!idle)
		return true;
	hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT, "%s is given, and nothing here depends on it", idle);
	return hs_fail_hint(w->error, "%s", hint);
}

bool hs_phrase_work(hs_working *w, const hs_phrase *phrase, const hs_terms *outer, hs_figure *out)
{
	hs_terms terms = phrase->terms;
	bool converted = false;
	if (outer && outer->has_ohm && !terms.has_ohm) {
		terms.ohm = outer->ohm;
		terms.has_ohm = true;
	}
	if (outer && outer->has_wave && !terms.has_wave) {
		terms.wave = outer->wave;
		terms.has_wave = true;
	}
	if (!node_work(w, phrase->first, &terms, out) || !sayings_work(w, phrase, &terms, &converted, out) ||
	    !band_work(w, &terms, out) || (terms.into && !converted && !into_work(w, &terms, out)))
		return false;
	if (terms.has_ohm)
		out->ohm = terms.ohm;
	return all_used(w, phrase, &terms);
}

/* Text that could not be read aloud is refused before anything looks at it. */
static bool text_fine(hs_working *w, const char *text, size_t length)
{
	hs_error *error = hs_blame(w, HS_FAULT_SYNTAX);
	if (length > HS_EXPRESSION_MOST)
		return hs_fail(error, HS_BAD_INPUT, "the expression has %zu bytes, and at most %d are taken", length,
		               HS_EXPRESSION_MOST);
	for (size_t i = 0; i < length; i++) {
		unsigned char c = (unsigned char)text[i];
		if ((c < 0x20 && c != '\t') || c == 0x7f)
			return hs_fail(
			    error, HS_BAD_INPUT,
			    "byte %zu of the expression is the control character U+%04X, and text was wanted", i + 1,
			    (unsigned)c);
	}
	return hs_utf8_valid(text, length) || hs_fail(error, HS_BAD_INPUT, "the expression is not UTF-8 text");
}

static const char *sense_note(const hs_figure *figure)
{
	switch (figure->sense) {
	case HS_SENSE_GAMMA:
		return "gamma";
	case HS_SENSE_RETURN_LOSS:
		return "return loss";
	case HS_SENSE_MISMATCH_LOSS:
		return "mismatch loss";
	case HS_SENSE_EMF:
		return "EMF";
	case HS_SENSE_PD:
		return "PD";
	case HS_SENSE_POWER_RATIO:
		return "power ratio";
	case HS_SENSE_VOLTAGE_RATIO:
		return "voltage ratio";
	default:
		return "";
	}
}

static bool settle(hs_working *w, const hs_figure *figure, hs_worked *out)
{
	out->value = figure->is.value / figure->scale;
	out->base = figure->is.unit;
	bool vanished = out->value == 0 && figure->is.value != 0;
	if (!isfinite(out->value) || vanished)
		return hs_fail(hs_blame(w, HS_FAULT_RANGE), HS_BAD_INPUT,
		               "the result lies outside the range of numbers");
	hs_copy(out->unit, sizeof out->unit,
	        figure->sense == HS_SENSE_DENSITY ? "dBm/Hz"
	        : *figure->shown                  ? figure->shown
	                                          : hs_unit_name(figure->is.unit));
	hs_copy(out->note, sizeof out->note, *figure->note ? figure->note : sense_note(figure));
	return true;
}

static bool wave_used(hs_working *w)
{
	if (!w->said_wave || w->used_wave)
		return true;
	hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT, "a waveform is given, and nothing here depends on it");
	return hs_fail_hint(w->error, "peaks depend on it: write Vpp or Vpk");
}

bool hs_expression_work(const char *text, size_t length, hs_worked *out, hs_fault *fault, hs_error *error)
{
	hs_error found = {0};
	hs_worked worked = {0};
	hs_figure figure = hs_figure_of(0, HS_UNITLESS);
	hs_working w = {.arena = hs_arena_new(), .steps = &worked.steps, .error = &found};
	hs_buf_init(&worked.steps);
	bool good = text_fine(&w, text, length);
	if (good) {
		w.text = w.at = hs_arena_strn(w.arena, text, length);
		const hs_phrase *phrase = hs_phrase_read(&w);
		good = phrase && hs_phrase_work(&w, phrase, NULL, &figure) && hs_finish(&w, &figure) && wave_used(&w) &&
		       settle(&w, &figure, &worked);
		if (good && w.said_ohm && !w.used_ohm && !*worked.note)
			hs_copy(worked.note, sizeof worked.note, "the impedance changes nothing here");
	}
	hs_arena_free(w.arena);
	if (good) {
		*out = worked;
		return true;
	}
	hs_buf_free(&worked.steps);
	*fault = w.fault;
	if (error)
		*error = found;
	return false;
}

void hs_worked_free(hs_worked *worked)
{
	hs_buf_free(&worked->steps);
}

void hs_worked_print(hs_buf *out, const hs_worked *worked)
{
	const char *name = hs_unit_name(worked->base);
	/* In the unit asked for, and not behind the prefix that reads best. */
	if (strcmp(worked->unit, name) == 0)
		hs_quantity_print(out, (hs_quantity){worked->value, worked->base}, -1);
	else if (strcmp(worked->unit, "dBm/Hz") == 0)
		hs_quantity_print(out, (hs_quantity){worked->value, HS_DBM}, -1), hs_buf_str(out, "/Hz");
	else if (strcmp(worked->unit, "dBc") == 0)
		hs_quantity_print(out, (hs_quantity){worked->value, HS_DB}, -1), hs_buf_char(out, 'c');
	else
		hs_buf_printf(out, "%s %s", hs_brief_of(worked->value).text, worked->unit);
	if (*worked->note)
		hs_buf_printf(out, " (%s)", worked->note);
}
