/* A reading on the screen: what was typed, what the hookup does to it, what it means at the point, and the judgement.
 */
#include <math.h>
#include "screen_facts.h"

static void print_db(hs_buf *out, double db)
{
	hs_quantity_print(out, (hs_quantity){db, HS_DB}, -1);
}

/* Value, uncertainty and limits stand behind one prefix; without limits it is the value's. */
static int prefix_of(const hs_measure *measure)
{
	if (measure->judged && measure->limits.unit == measure->corrected.unit)
		return hs_limits_prefix(&measure->limits, measure->corrected.value);
	return hs_quantity_prefix(measure->corrected);
}

static void print_entry(hs_buf *out, const hs_entry *entry, int prefix)
{
	switch (entry->kind) {
	case HS_ENTRY_ABOVE:
	case HS_ENTRY_BELOW:
		hs_buf_str(out, entry->kind == HS_ENTRY_ABOVE ? "> " : "< ");
		hs_quantity_print_in(out, entry->quantity, prefix);
		return;
	case HS_ENTRY_NUMBER:
		hs_quantity_print_in(out, entry->quantity, prefix);
		return;
	case HS_ENTRY_OVER:
		hs_buf_str(out, "over the range");
		return;
	case HS_ENTRY_OPEN:
		hs_buf_str(out, "open");
		return;
	case HS_ENTRY_UNREAD:
		hs_buf_str(out, "not read");
		return;
	}
}

/* "  + K12 1.45 dB + P10 10 dB", " x 10 PR1"; nothing for parts that do nothing. */
static bool print_corrections(hs_buf *out, const hs_correction *correction)
{
	bool any = false;
	for (size_t i = 0; i < correction->count; i++) {
		const hs_correction_line *line = &correction->lines[i];
		const char *name = hs_correction_name(line);
		if (line->factor > 0 && fabs(line->factor - 1) > 1e-12) {
			hs_buf_printf(out, "%s x ", any ? "" : " ");
			hs_quantity_print(out, (hs_quantity){line->factor, HS_UNITLESS}, -1);
			hs_buf_printf(out, " %s", name);
			any = true;
		}
		if (line->ohm != 0) {
			hs_buf_printf(out, "%s %c ", any ? "" : " ", line->ohm > 0 ? '-' : '+');
			hs_quantity_print(out, (hs_quantity){fabs(line->ohm), HS_OHM}, -1);
			hs_buf_printf(out, " %s", name);
			any = true;
		}
		if (fabs(line->db) >= 0.005) {
			hs_buf_printf(out, "%s %c %s ", any ? "" : " ", line->db > 0 ? '+' : '-', name);
			print_db(out, fabs(line->db));
			any = true;
		}
	}
	return any;
}

static void print_point(hs_buf *out, const hs_reading *reading)
{
	if (!reading || !reading->at_text)
		return;
	hs_buf_printf(out, " at %s", reading->at_text);
	if (reading->against)
		hs_buf_printf(out, " against %s", reading->against);
}

/* Two digits: more would claim that the uncertainty itself is known so well. */
static double two_digits(double value)
{
	double unit = pow(10, floor(log10(value)) - 1);
	return round(value / unit) * unit;
}

static void print_uncertainty(hs_buf *out, const hs_measure *measure)
{
	if (!(measure->expanded > 0) || !isfinite(measure->expanded))
		return;
	hs_unit unit = hs_unit_is_level(measure->corrected.unit) ? HS_DB : measure->corrected.unit;
	hs_buf_str(out, ", U ");
	hs_quantity_print_in(out, (hs_quantity){two_digits(measure->expanded), unit}, prefix_of(measure));
}

/* The word that was typed for a tick or a trend; NULL for what is a number or was not read. */
static const char *word_read(const hs_fact *fact)
{
	hs_measurand reads = fact->reading ? fact->reading->reads : HS_READS_VOLTS;
	if (fact->measure->entry.kind != HS_ENTRY_NUMBER || (reads != HS_READS_TICK && reads != HS_READS_TREND))
		return NULL;
	double value = fact->measure->entry.quantity.value;
	if (reads == HS_READS_TICK)
		return value > 0 ? "yes" : "no";
	return value > 0 ? "rising" : value < 0 ? "falling" : "steady";
}

void hs_show_corrected(const hs_screen *screen, const hs_fact *fact, hs_buf *out)
{
	const hs_measure *measure = fact->measure;
	hs_entry_kind kind = measure->entry.kind;
	bool numeric = kind == HS_ENTRY_NUMBER || kind == HS_ENTRY_ABOVE || kind == HS_ENTRY_BELOW;
	hs_buf line;
	hs_buf_init(&line);
	hs_buf_str(&line, kind == HS_ENTRY_UNREAD ? "" : "read ");
	if (word_read(fact))
		hs_buf_str(&line, word_read(fact));
	else
		print_entry(&line, &measure->entry, prefix_of(measure));
	if (numeric && print_corrections(&line, &measure->correction)) {
		hs_buf_printf(&line, " = %s", kind == HS_ENTRY_ABOVE ? "> " : kind == HS_ENTRY_BELOW ? "< " : "");
		hs_quantity_print_in(&line, measure->corrected, prefix_of(measure));
	}
	print_point(&line, fact->reading);
	if (numeric)
		print_uncertainty(&line, measure);
	if (kind == HS_ENTRY_UNREAD && measure->entry.reason[0])
		hs_buf_printf(&line, ": %s", measure->entry.reason);
	hs_lines_printf(out, screen, HS_STYLE_PLAIN, 2, "%s", line.data);
	hs_buf_free(&line);
}

static void print_unsure(hs_buf *out, const hs_measure *measure)
{
	const hs_verdict *verdict = &measure->verdict;
	if (measure->entry.kind != HS_ENTRY_NUMBER && measure->derived == HS_DERIVE_NONE) {
		hs_buf_str(out, "; what was read does not decide it");
		return;
	}
	const char *limit = verdict->near_high ? "high" : "low";
	const char *side = !verdict->beyond ? "inside" : verdict->near_high ? "above" : "below";
	hs_buf_printf(
	    out, "; %s the %s limit, but by less than the uncertainty: %.0f %% chance that the true value is %s it",
	    side, limit, 100 * verdict->probability, verdict->near_high ? "above" : "below");
}

static void print_derived(hs_buf *out, const hs_step *step, const hs_measure *measure)
{
	const char *a = step->readings[step->derive_a].name, *b = step->readings[step->derive_b].name;
	hs_buf_printf(out, measure->derived == HS_DERIVE_RATIO ? "%s over %s" : "%s less %s", a, b);
	if (measure->entry.kind != HS_ENTRY_NUMBER || !isfinite(measure->corrected.value))
		return;
	hs_buf_str(out, " = ");
	hs_quantity_print_in(out, measure->corrected, prefix_of(measure));
	print_uncertainty(out, measure);
}

static void add_verdict(const hs_screen *screen, const hs_fact *fact, const hs_step *step, hs_buf *out)
{
	const hs_measure *measure = fact->measure;
	hs_buf line;
	hs_buf_init(&line);
	if (step && step->has_responds) {
		hs_buf_str(&line, fact->outcome == HS_OKAY ? "it responds" : "no response yet");
	} else if (!measure->judged) {
		hs_buf_str(&line, "noted, without limits");
	} else if (word_read(fact)) {
		hs_buf_str(&line, hs_outcome_name(fact->outcome));
	} else {
		static const char *const shows[] = {"a healthy unit shows", "good leads read", "by their tables the meter shows", "a good instrument shows"};
		hs_buf_printf(&line, "%s: %s ", hs_outcome_name(fact->outcome), shows[fact->reading ? fact->reading->leads : HS_LEADS_NONE]);
		hs_limits_print(&line, &measure->limits);
		if (fact->outcome == HS_UNSURE)
			print_unsure(&line, measure);
	}
	hs_lines_printf(out, screen, HS_STYLE_PLAIN, 2, "%s", line.data);
	hs_buf_free(&line);
}

void hs_show_judged(const hs_screen *screen, const hs_playbook *playbook, const hs_fact *fact, hs_buf *out)
{
	const hs_measure *measure = fact->measure;
	const hs_step *step = fact->step >= 0 ? &playbook->steps[fact->step] : NULL;
	if (measure->derived != HS_DERIVE_NONE && step) {
		hs_buf line;
		hs_buf_init(&line);
		print_derived(&line, step, measure);
		hs_lines_printf(out, screen, HS_STYLE_PLAIN, 2, "%s", line.data);
		hs_buf_free(&line);
	}
	if (measure->entry.kind == HS_ENTRY_UNREAD && measure->derived == HS_DERIVE_NONE)
		return; /* "not read" was said already */
	add_verdict(screen, fact, step, out);
	if (word_read(fact))
		return; /* a word has no place on a scale */
	if (!measure->judged || measure->entry.kind != HS_ENTRY_NUMBER || !isfinite(measure->corrected.value))
		return;
	hs_buf scale;
	hs_buf_init(&scale);
	size_t width = hs_screen_width(screen);
	hs_scale_draw(&measure->limits, measure->corrected.value, measure->expanded, width > 72 ? 72 : width, &scale);
	hs_lines_drawn(out, screen, 0, scale.data);
	hs_buf_free(&scale);
}
