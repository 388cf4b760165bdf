/* The corrections of a hookup, applied in both directions, and its drawing. */
#include <math.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "halfsplit/lineup/hookup.h"

/* How the parts of a hookup act on a measurand. */
enum effect { NO_EFFECT, ON_LEVEL, ON_VOLTAGE, ON_REFLECTION };

bool hs_hookup_is_bare(const hs_hookup *hookup)
{
	return hookup->count == 1 && hookup->instrument != NULL && strcmp(hookup->id, hookup->instrument->id) == 0;
}

static enum effect effect_on(hs_measurand measurand)
{
	switch (measurand) {
	case HS_READS_POWER:
		return ON_LEVEL;
	case HS_READS_VOLTS:
	case HS_READS_AC_VOLTS:
		return ON_VOLTAGE;
	case HS_READS_RETURN_LOSS:
	case HS_READS_SWR:
		return ON_REFLECTION;
	default:
		return NO_EFFECT;
	}
}

static bool fail_part(const hs_part *part, hs_error *error, const char *what, const char *hint)
{
	hs_fail(error, HS_BAD_INPUT, "\"%s\" %s", part->id, what);
	hs_fail_hint(error, "%s", hint);
	return part->file ? hs_fail_at(error, part->file, part->line) : false;
}

/* A divider, seen by a meter of power, takes 20 log10 of its ratio. */
static void divide(const hs_part *part, enum effect effect, hs_correction_line *line)
{
	if (!(part->ratio > 0))
		return;
	if (effect == ON_VOLTAGE)
		line->factor = part->ratio;
	else if (effect == ON_LEVEL)
		line->db += 20 * log10(part->ratio);
}

static bool correct_part(const hs_part *part, enum effect effect, double freq_hz, hs_correction_line *line,
                         hs_error *error)
{
	hs_buf source;
	hs_buf_init(&source);
	bool good = hs_part_loss(part, freq_hz, &line->db, &line->u_db, &source, error);
	if (good) {
		divide(part, effect, line);
		hs_copy(line->source, sizeof(line->source), source.data);
	}
	hs_buf_free(&source);
	return good;
}

/* A wave to be judged by its reflection passes every part twice, and only makes the far end look better. */
static bool reflect(const hs_part *part, hs_measurand measurand, hs_correction_line *line, hs_error *error)
{
	if (measurand == HS_READS_SWR && line->db > 0)
		return fail_part(part, error, "takes loss, which makes an SWR read through it look better than it is",
		                 "read return loss instead, or SWR right at the point");
	line->db *= -2;
	line->u_db *= 2;
	return true;
}

/* At DC a lead takes nothing off a voltage, a pad takes off what its load makes it. */
static bool passes_dc(const hs_part *part, enum effect effect, double freq_hz, bool *skip, hs_error *error)
{
	*skip = effect == ON_VOLTAGE && !(freq_hz > 0) && !(part->ratio > 0) && part->kind != HS_PART_PROBE;
	if (*skip && part->kind == HS_PART_PAD)
		return fail_part(part, error, "is a pad, and what it takes off a voltage at DC depends on its load",
		                 "take the pad out of the hookup for volts, or state the frequency");
	return true;
}

static bool add_part(const hs_part *part, hs_measurand measurand, double freq_hz, hs_correction *made, hs_error *error)
{
	enum effect effect = effect_on(measurand);
	bool skip;
	if (!passes_dc(part, effect, freq_hz, &skip, error))
		return false;
	if (skip)
		return true;
	if (made->count == HS_HOOKUP_MOST)
		return hs_fail(error, HS_BAD_INPUT, "the hookup holds more than %d parts", HS_HOOKUP_MOST);
	hs_correction_line *line = &made->lines[made->count];
	*line = (hs_correction_line){.part = part, .factor = 1};
	if (!correct_part(part, effect, freq_hz, line, error))
		return false;
	if (effect == ON_REFLECTION && !reflect(part, measurand, line, error))
		return false;
	made->count++;
	made->total_db += line->db;
	made->total_factor *= line->factor;
	return true;
}

bool hs_hookup_correct(const hs_hookup *hookup, hs_measurand measurand, double freq_hz, hs_correction *out,
                       hs_error *error)
{
	hs_correction made = {.total_factor = 1};
	if (effect_on(measurand) != NO_EFFECT) {
		for (size_t i = 0; i < hookup->count; i++) {
			const hs_part *part = hookup->parts[i];
			if (part->kind != HS_PART_INSTRUMENT && !add_part(part, measurand, freq_hz, &made, error))
				return false;
		}
	}
	*out = made;
	return true;
}

/* From the instrument's side to the point's: the same sum whether a level is read there or is to be made there. */
static hs_quantity apply(const hs_correction *correction, hs_quantity q)
{
	double db = correction->total_db, factor = correction->total_factor;
	switch (q.unit) {
	case HS_OHM:
		q.value -= correction->total_ohm;
		break;
	case HS_WATT:
		q.value *= factor * factor * pow(10, db / 10);
		break;
	case HS_VOLT:
	case HS_VPK:
	case HS_VPP:
		q.value *= factor * pow(10, db / 20);
		break;
	case HS_DB:
		q.value += db;
		break;
	default:
		if (hs_unit_is_level(q.unit))
			q.value += db + 20 * log10(factor);
		break;
	}
	return q;
}

hs_quantity hs_correct_reading(const hs_correction *correction, hs_quantity at_instrument)
{
	return apply(correction, at_instrument);
}

hs_quantity hs_correct_source(const hs_correction *correction, hs_quantity at_point)
{
	return apply(correction, at_point);
}

const char *hs_correction_name(const hs_correction_line *line)
{
	return line->part && line->part->id ? line->part->id : line->label ? line->label : "hookup";
}

bool hs_hookup_touches(const hs_hookup *hookup)
{
	bool leads = false;
	for (size_t i = 0; i < hookup->count; i++) {
		const hs_part *part = hookup->parts[i];
		if (part == hookup->instrument)
			continue;
		if (!part->touch)
			return false;
		leads = true;
	}
	return leads || (hookup->instrument && hookup->instrument->touch);
}

static const hs_correction_line *line_of(const hs_correction *correction, const hs_part *part)
{
	for (size_t i = 0; correction && i < correction->count; i++)
		if (correction->lines[i].part == part)
			return &correction->lines[i];
	return NULL;
}

static void draw_part(const hs_part *part, const hs_correction_line *line, hs_buf *out)
{
	hs_buf_str(out, "[");
	hs_buf_shown(out, part->id, false);
	if (line && line->factor != 1)
		hs_buf_printf(out, " x%.10g", line->factor);
	if (line && line->db != 0) {
		hs_buf_str(out, line->factor != 1 ? ", " : " ");
		hs_quantity_print(out, (hs_quantity){line->db, HS_DB}, -1);
	}
	hs_buf_str(out, "]--");
}

void hs_hookup_draw(const hs_hookup *hookup, const hs_correction *correction, const char *point, bool inject,
                    hs_buf *out)
{
	const char *end = hookup->instrument ? hookup->instrument->id : inject ? "source" : "instrument";
	hs_buf_shown(out, inject ? end : point, false);
	hs_buf_str(out, " --");
	for (size_t i = 0; i < hookup->count; i++) {
		const hs_part *part = hookup->parts[inject ? hookup->count - 1 - i : i];
		if (part != hookup->instrument)
			draw_part(part, line_of(correction, part), out);
	}
	hs_buf_str(out, " ");
	hs_buf_shown(out, inject ? point : end, false);
}

static bool range_holds(const hs_range *range, hs_measurand measurand, hs_quantity value, double impedance_ohm)
{
	hs_quantity same;
	if (!range->has_range)
		return true;
	if (!hs_quantity_convert(value, range->from.unit, impedance_ohm, &same, NULL))
		return false;
	bool either_sign = measurand == HS_READS_VOLTS || measurand == HS_READS_AMPS || measurand == HS_READS_DIODE;
	double slack = 1e-9 * fmax(fabs(range->from.value), fabs(range->to.value));
	double magnitude = either_sign && range->from.value >= 0 ? fabs(same.value) : same.value;
	return magnitude >= range->from.value - slack && magnitude <= range->to.value + slack;
}

static bool range_tunes(const hs_range *range, double freq_hz)
{
	if (!(freq_hz > 0) || (range->freq_from_hz == 0 && range->freq_to_hz == 0))
		return true;
	return freq_hz >= range->freq_from_hz * (1 - 1e-9) && freq_hz <= range->freq_to_hz * (1 + 1e-9);
}

/* The narrower of two ranges is the more exact one; meters choose it too. */
static bool narrower(const hs_range *a, const hs_range *b)
{
	if (!a->has_range || !b->has_range)
		return a->has_range && !b->has_range;
	return a->to.value - a->from.value < b->to.value - b->from.value;
}

const hs_range *hs_hookup_range(const hs_hookup *hookup, hs_measurand measurand, double freq_hz,
                                const hs_quantity *value, bool *inside)
{
	const hs_part *instrument = hookup->instrument;
	const hs_range *first = NULL, *holding = NULL;
	for (size_t i = 0; instrument && i < instrument->range_count; i++) {
		const hs_range *range = &instrument->ranges[i];
		if (range->reads != measurand || !range_tunes(range, freq_hz))
			continue;
		if (!first)
			first = range;
		if (value && range_holds(range, measurand, *value, instrument->impedance_ohm) &&
		    (!holding || narrower(range, holding)))
			holding = range;
	}
	if (inside)
		*inside = value ? holding != NULL : first != NULL;
	return holding ? holding : first;
}
