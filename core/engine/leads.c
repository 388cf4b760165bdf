/* What was measured of the leads themselves: for how long it counts, and what an instrument that drifted takes with it. */
#include "core/engine/state.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* Its last reading stands: taken, a number, good, and nothing has changed since. */
static const hs_slot *standing(const hs_engine *engine, const hs_step *step, int before)
{
	const hs_slot *slot = &hs_state_slots(engine->state)[step->readings[0].slot];
	bool good = slot->taken && !slot->lapsed && slot->kind == HS_ENTRY_NUMBER && slot->outcome == HS_OKAY;
	return good && slot->order < before ? slot : NULL;
}

/* The last step of this kind that stands for the reading; NULL when there is none. */
static const hs_step *latest(const hs_engine *engine, hs_leads leads, const hs_reading *reading, int before,
                             bool (*fits)(const hs_engine *, const hs_step *, const hs_reading *))
{
	const hs_step *found = NULL;
	int order = -1;
	for (size_t i = 0; i < engine->playbook->step_count; i++) {
		const hs_step *step = &engine->playbook->steps[i];
		if (step->leads != leads || !fits(engine, step, reading))
			continue;
		const hs_slot *slot = standing(engine, step, before);
		if (slot == NULL || slot->order <= order)
			continue;
		order = slot->order;
		found = step;
	}
	return found;
}

static bool same_leads(const hs_engine *engine, const hs_step *step, const hs_reading *reading)
{
	(void)engine;
	return step->readings[0].hookup == reading->hookup && reading->hookup != NULL;
}

static bool same_frequency(double a, double b)
{
	return a > 0.0 && fabs(a - b) <= 1e-9 * a;
}

/* The very pair of leads, at the very frequency: the source's into the unit, the meter's at the point. */
static bool same_pair(const hs_engine *engine, const hs_step *step, const hs_reading *reading)
{
	const hs_step *owner = &engine->playbook->steps[engine->slot_step[reading->slot]];
	double freq_hz = reading->source_hz > 0.0 ? reading->source_hz : owner->inject.freq_hz;
	return same_leads(engine, step, reading) && owner->inject.given && owner->inject.hookup != NULL && owner->inject.hookup == step->through &&
	       same_frequency(step->readings[0].freq_hz, reading->freq_hz) && same_frequency(reading->freq_hz, freq_hz);
}

static hs_correction_line *add_line(hs_correction *correction, const char *label)
{
	hs_correction_line *line = &correction->lines[correction->count++];
	*line = (hs_correction_line){.label = label, .factor = 1.0};
	return line;
}

/*
 * The source was set by its table. What both leads were measured to take together, less what the table had the source set higher, is
 * then what stands between the meter and a level that went in as it should: errors of source and meter that both have cancel.
 */
static void through(const hs_engine *engine, const hs_step *step, const hs_reading *reading, hs_correction *correction)
{
	const hs_slot *slot = &hs_state_slots(engine->state)[step->readings[0].slot];
	hs_correction source;
	hs_quantity shown;
	hs_buf text;
	if (!hs_hookup_correct(step->through, HS_READS_POWER, reading->freq_hz, &source, NULL) ||
	    !hs_quantity_convert(slot->quantity, HS_DBM, hs_reading_impedance(engine->playbook, reading), &shown, NULL))
		return;
	double both = step->through_level.value - shown.value;
	*correction = (hs_correction){.total_factor = 1.0};
	hs_correction_line *line = add_line(correction, "straight-through");
	line->db = both - source.total_db;
	line->u_db = step->through_u_db + (slot->quantity.unit == HS_DBM ? slot->step / 2.0 : 0.0);
	hs_buf_init(&text);
	hs_buf_printf(&text, "measured by %.24s: both take ", step->id);
	hs_quantity_print(&text, (hs_quantity){both, HS_DB}, 2);
	hs_buf_printf(&text, ", the source was set ");
	hs_quantity_print(&text, (hs_quantity){source.total_db, HS_DB}, 2);
	hs_buf_str(&text, " higher");
	hs_copy(line->source, sizeof line->source, text.data);
	hs_buf_free(&text);
	correction->total_db = line->db;
}

static void zeroed(const hs_engine *engine, const hs_step *step, hs_correction *correction)
{
	const hs_slot *slot = &hs_state_slots(engine->state)[step->readings[0].slot];
	if (correction->count >= HS_HOOKUP_MOST)
		return;
	hs_correction_line *line = add_line(correction, "leads zeroed");
	line->ohm = slot->corrected;
	line->u_ohm = slot->step / 2.0;
	snprintf(line->source, sizeof line->source, "their own resistance, read by %.40s", step->id);
	correction->total_ohm += line->ohm;
}

void hs_leads_correct(const hs_engine *engine, const hs_reading *reading, int before, hs_correction *correction)
{
	if (reading->leads != HS_LEADS_NONE || reading->hookup == NULL)
		return;
	hs_measurand reads = hs_reading_measurand(reading);
	const hs_step *step = NULL;
	if (reads == HS_READS_POWER && (step = latest(engine, HS_LEADS_STRAIGHT, reading, before, same_pair)) != NULL)
		through(engine, step, reading, correction);
	else if ((reads == HS_READS_OHMS || reads == HS_READS_CONTINUITY) && reading->unit == HS_OHM &&
	         (step = latest(engine, HS_LEADS_ZERO, reading, before, same_leads)) != NULL)
		zeroed(engine, step, correction);
}

double hs_engine_leads_ohm(const hs_engine *engine, int step, int item)
{
	hs_correction correction = {.total_factor = 1.0};
	hs_leads_correct(engine, &engine->playbook->steps[step].readings[item], INT_MAX, &correction);
	return correction.total_ohm;
}

void hs_leads_limits(const hs_step *step, const hs_measure *measure, hs_limits *limits)
{
	const hs_known *known = step->known;
	if (known == NULL)
		return;
	bool level = hs_unit_is_level(known->level.unit);
	double half = known->u.absolute + (level ? 0.0 : fabs(known->level.value) * known->u.percent / 100.0);
	double own = known->u.expanded ? half : 2.0 * half / sqrt(3.0);
	/* The rule takes U off again on either side; what is left is that the two agree within both their uncertainties. */
	double wide = measure->expanded + sqrt(measure->expanded * measure->expanded + own * own);
	*limits = (hs_limits){.has_low = true, .has_high = true, .unit = known->level.unit};
	limits->low = known->level.value - wide;
	limits->high = known->level.value + wide;
}

/* ---- what changes ---- */

static bool holds_part(const hs_hookup *hookup, const char *id)
{
	for (size_t i = 0; hookup != NULL && id != NULL && i < hookup->count; i++)
		if (strcmp(hookup->parts[i]->id, id) == 0)
			return true;
	return false;
}

void hs_leads_lapse(hs_engine *engine, const char *part)
{
	for (size_t i = 0; i < engine->playbook->step_count; i++) {
		const hs_step *step = &engine->playbook->steps[i];
		if (step->leads == HS_LEADS_NONE)
			continue;
		if (part == NULL || holds_part(step->readings[0].hookup, part) || holds_part(step->through, part))
			hs_state_slots(engine->state)[step->readings[0].slot].lapsed = true;
	}
}

/* ---- an instrument that drifted ---- */

int hs_leads_good_since(const hs_engine *engine, const hs_part *instrument)
{
	int since = -1;
	for (size_t i = 0; i < engine->playbook->step_count; i++) {
		const hs_step *step = &engine->playbook->steps[i];
		const hs_hookup *hookup = step->leads == HS_LEADS_PROVE ? step->readings[0].hookup : NULL;
		if (hookup == NULL || hookup->instrument != instrument)
			continue;
		const hs_slot *slot = &hs_state_slots(engine->state)[step->readings[0].slot];
		if (slot->taken && slot->outcome == HS_OKAY && slot->order > since)
			since = slot->order;
	}
	return since;
}

static bool uses_void(const hs_step *step, const bool *voided)
{
	for (size_t i = 0; i < step->decide.use_count; i++)
		if (step->decide.uses[i].step >= 0 && voided[step->decide.uses[i].step])
			return true;
	return false;
}

void hs_leads_drifted(hs_engine *engine, const hs_part *instrument, int since)
{
	const hs_playbook *playbook = engine->playbook;
	bool *voided = hs_arena_alloc(engine->turn, (playbook->step_count + 1) * sizeof *voided);
	hs_buf text;
	size_t count = 0;
	hs_buf_init(&text);
	hs_buf_printf(&text, "%s is not shown good. Nothing it said about the unit counts", instrument->id);
	for (size_t i = 0; i < playbook->slot_count; i++) {
		hs_slot *slot = &hs_state_slots(engine->state)[i];
		const hs_step *owner = &playbook->steps[engine->slot_step[i]];
		const hs_hookup *hookup = owner->readings[engine->slot_item[i]].hookup;
		if (!slot->taken || slot->order <= since || hookup == NULL || hookup->instrument != instrument || owner->leads == HS_LEADS_PROVE)
			continue;
		slot->taken = false;
		slot->lapsed = true;
		if (!voided[engine->slot_step[i]])
			hs_buf_printf(&text, "%s%s", count++ == 0 ? ": void is " : ", ", owner->id);
		voided[engine->slot_step[i]] = true;
		hs_state_visits(engine, engine->state)[engine->slot_step[i]].judged = false;
	}
	for (size_t i = 0; i < playbook->suspect_count; i++) {
		hs_suspect_state *suspect = &hs_state_suspects(engine, engine->state)[i];
		if (suspect->by_step >= 0 && (voided[suspect->by_step] || uses_void(&playbook->steps[suspect->by_step], voided)))
			*suspect = (hs_suspect_state){HS_SUSPECT_OPEN, -1};
	}
	hs_buf_str(&text, count > 0 ? ", and what they said of suspects." : ".");
	hs_fact_add(engine, HS_SAYS_WARNED)->why = hs_turn_text(engine, text.data);
	hs_buf_free(&text);
}
