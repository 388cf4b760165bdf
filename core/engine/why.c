/* "Why?": the arithmetic of the last judgement; and what is known so far. Read-only. */
#include "core/engine/free.h"

#include <math.h>
#include <string.h>

const char *hs_engine_control(const hs_engine *engine, int control)
{
	int position = engine->state->position[control];
	return position > 0 ? engine->playbook->unit.controls[control].positions[position - 1] : NULL;
}

bool hs_engine_ended(const hs_engine *engine)
{
	return engine->state->ended;
}

bool hs_engine_paused(const hs_engine *engine)
{
	return engine->state->paused;
}

int hs_engine_finding(const hs_engine *engine)
{
	return engine->state->finding;
}

hs_power hs_engine_power(const hs_engine *engine)
{
	return engine->state->physical.power;
}

uint64_t hs_engine_open_list(const hs_engine *engine)
{
	return engine->state->physical.open;
}

static void list_id(hs_buf *out, bool *any, const char *id)
{
	hs_buf_str(out, *any ? ", " : "");
	hs_buf_str(out, id);
	*any = true;
}

void hs_engine_shorts(const hs_engine *engine, hs_buf *out)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	bool any = false;
	for (int i = 0; i < unit->source_count; i++)
		if (engine->state->physical.shorted >> i & 1u)
			list_id(out, &any, unit->sources[i].id);
	for (int i = 0; i < unit->danger_count; i++)
		if (engine->state->physical.hooked >> i & 1u) {
			list_id(out, &any, unit->dangers[i].id);
			hs_buf_str(out, " (earthing stick)");
		}
}

void hs_engine_barred(const hs_engine *engine, hs_buf *out)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	bool any = false;
	for (int i = 0; i < unit->danger_count; i++)
		if (engine->state->physical.barred >> i & 1u)
			list_id(out, &any, unit->dangers[i].id);
}

/* Keyed for a reading, or all is said that must be said before. */
static bool is_keyed(const hs_engine *engine)
{
	const hs_physical *p = &engine->state->physical;
	bool about_to = (p->facts >> HS_FACT_CLEAR & 1u) && p->keyed_step >= 0 && p->keyed_step == engine->state->step;
	return p->power == HS_POWER_ON && (p->key_down || about_to);
}

void hs_engine_charges(const hs_engine *engine, hs_buf *out)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	const hs_physical *p = &engine->state->physical;
	unsigned exposed = hs_zones_exposed(unit, p);
	bool any = false;
	for (int i = 0; i < unit->source_count; i++) {
		const hs_energy_source *it = &unit->sources[i];
		bool dead = p->power >= HS_POWER_DEAD && it->zone >= 0 && (p->zones_dead >> it->zone & 1u);
		if (it->kind == HS_SOURCE_STORE && it->zone >= 0 && (exposed >> it->zone & 1u) && !dead)
			list_id(out, &any, it->id);
	}
}

void hs_engine_power_words(const hs_engine *engine, hs_buf *out)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	const hs_physical *physical = &engine->state->physical;
	bool any = false;
	hs_buf_str(out, is_keyed(engine) ? "keyed" : hs_power_name(physical->power));
	if (physical->power < HS_POWER_WAITED || physical->zones_dead == 0)
		return;
	hs_buf_str(out, " (");
	for (int i = 1; i < unit->zone_count; i++)
		if (physical->zones_dead >> i & 1u)
			list_id(out, &any, unit->zones[i].id);
	/* "inside" is whatever is in no other zone, so it is said after those. */
	if (physical->zones_dead & 1u)
		list_id(out, &any, unit->zones[0].id != NULL ? unit->zones[0].id : "inside");
	hs_buf_char(out, ')');
}

bool hs_engine_is_freehand(const hs_engine *engine)
{
	return engine->free != NULL;
}

const hs_playbook *hs_engine_base(const hs_engine *engine)
{
	return engine->free != NULL && engine->free->family != NULL ? &engine->free->base : NULL;
}

bool hs_engine_went_through(const hs_engine *engine, int step, bool *judged, hs_outcome *outcome)
{
	const hs_visit_state *visit = &hs_state_visits(engine, engine->state)[step];
	if (judged != NULL)
		*judged = visit->judged;
	if (outcome != NULL)
		*outcome = visit->outcome;
	return visit->visits > 0;
}

int hs_engine_step(const hs_engine *engine)
{
	return engine->state->step;
}

const char *hs_engine_by(const hs_engine *engine)
{
	return engine->by;
}

const hs_playbook *hs_engine_playbook(const hs_engine *engine)
{
	return engine->playbook;
}

size_t hs_engine_answers(const hs_engine *engine)
{
	size_t count = 0;
	for (size_t i = 0; i < engine->log_count; i++)
		count += engine->log[i].kind == HS_EVENT_ANSWER && engine->log[i].accepted;
	return count;
}

hs_standing hs_engine_suspect(const hs_engine *engine, size_t suspect, int *by_step)
{
	const hs_suspect_state *state = &hs_state_suspects(engine, engine->state)[suspect];
	if (by_step != NULL)
		*by_step = state->by_step;
	return state->standing;
}

bool hs_engine_last_measure(const hs_engine *engine, const hs_measure **measure, const hs_reading **reading)
{
	if (!engine->has_last)
		return false;
	*measure = &engine->last;
	*reading = engine->last_reading;
	return true;
}

bool hs_engine_point_stands(const hs_engine *engine, int point)
{
	const hs_free *model = engine->free;
	return model == NULL || point < model->base.unit.point_count || model->named[point];
}

const hs_kit *hs_engine_kit(const hs_engine *engine)
{
	return engine->free != NULL ? engine->free->kit : NULL;
}

bool hs_can_be_redone(const hs_engine *engine, const hs_logged *entry)
{
	if (entry->kind != HS_EVENT_ANSWER || !entry->accepted || entry->retracted || entry->aside)
		return false;
	/* What the unit is stands once it was said to be so; until then it is told anew, one question back. */
	if (entry->ask.kind == HS_ASK_UNIT)
		return !engine->free->declared && !engine->free->old;
	return hs_ask_is_observation(&entry->ask);
}

bool hs_engine_redo_target(const hs_engine *engine, hs_ask *ask, const char **text, bool *since)
{
	const hs_logged *target = NULL;
	*since = false;
	for (size_t i = 0; i < engine->log_count; i++) {
		const hs_logged *entry = &engine->log[i];
		if (entry->kind != HS_EVENT_ANSWER || !entry->accepted)
			continue;
		bool is_target = hs_can_be_redone(engine, entry);
		*since = !is_target && (*since || (!entry->retracted && !entry->aside));
		if (is_target)
			target = entry;
	}
	if (target == NULL || engine->state->stopping)
		return false;
	*ask = target->ask;
	*text = target->text;
	return true;
}

bool hs_engine_left_on(const hs_engine *engine)
{
	hs_power power = engine->state->physical.power;
	if (power != HS_POWER_UNKNOWN)
		return hs_power_is_live(power);
	for (size_t i = engine->log_count; i-- > 0;) {
		const hs_logged *entry = &engine->log[i];
		if (entry->kind == HS_EVENT_ANSWER && entry->accepted && entry->ask.kind == HS_ASK_GATE)
			return entry->ask.gate.fact >= HS_FACT_SWITCH_ON || entry->ask.gate.fact == HS_FACT_UNKEYED;
	}
	return false;
}

static void print_signed(hs_buf *out, double value, hs_unit unit)
{
	hs_buf_str(out, value < 0.0 ? "- " : "+ ");
	hs_quantity_print(out, (hs_quantity){fabs(value), unit}, 2);
}

static void put_ohm(hs_buf *out, double ohm)
{
	hs_buf_str(out, ohm < 0.0 ? "- " : "+ ");
	hs_quantity_print(out, (hs_quantity){fabs(ohm), HS_OHM}, -1);
}

static void why_value(const hs_engine *engine, const hs_measure *m, hs_buf *out)
{
	const hs_reading *reading = engine->last_reading;
	if (m->derived != HS_DERIVE_NONE) {
		const hs_step *step = &engine->playbook->steps[engine->state->judged_step];
		hs_buf_printf(out, "  %s of %s and %s, both at the unit: ", m->derived == HS_DERIVE_RATIO ? "ratio" : "difference",
		              step->readings[step->derive_a].name, step->readings[step->derive_b].name);
		hs_quantity_print(out, m->corrected, -1);
		hs_buf_char(out, '\n');
		return;
	}
	hs_buf_str(out, "  as read      ");
	hs_quantity_print(out, m->entry.quantity, -1);
	if (m->entry.kind == HS_ENTRY_ABOVE || m->entry.kind == HS_ENTRY_BELOW)
		hs_buf_str(out, m->entry.kind == HS_ENTRY_ABOVE ? " or more" : " or less");
	hs_buf_char(out, '\n');
	for (size_t i = 0; i < m->correction.count; i++) {
		const hs_correction_line *line = &m->correction.lines[i];
		hs_buf_str(out, "  ");
		if (line->ohm != 0.0)
			put_ohm(out, -line->ohm);
		else if (line->factor != 1.0)
			hs_buf_printf(out, "x %g", line->factor);
		else
			print_signed(out, line->db, HS_DB);
		hs_buf_printf(out, "   %s, %s\n", hs_correction_name(line), line->source);
	}
	hs_buf_printf(out, "  at %-9s ", reading->at_text != NULL ? reading->at_text : "the unit");
	hs_quantity_print(out, m->corrected, -1);
	hs_buf_char(out, '\n');
}

static void why_budget(const hs_measure *m, hs_buf *out)
{
	if (m->budget.count == 0) {
		hs_buf_str(out, "  uncertainty  none stated for a value read by eye\n");
		return;
	}
	hs_buf_str(out, "  uncertainty  ");
	for (size_t i = 0; i < m->budget.count; i++) {
		const hs_term *term = &m->budget.terms[i];
		hs_buf_printf(out, "%s%s %.3g / %.3g", i > 0 ? ", " : "", term->name, term->half_width, hs_shape_divisor(term->shape));
	}
	hs_buf_printf(out, "; u = %.3g, U = 2 u = %.3g %s\n", m->expanded / 2.0, m->expanded, hs_unit_name(m->budget.unit));
}

/* The budget of a line-up, from what goes in to the band at the point. */
static void why_expected(const hs_reading *reading, hs_buf *out)
{
	const hs_expectation *expected = reading->expects;
	const hs_element *in = expected->injected.element >= 0 ? &expected->lineup->elements[expected->injected.element] : NULL;
	const hs_prediction *prediction = &expected->prediction;
	if (in != NULL) {
		hs_buf_printf(out, "  goes in      ");
		hs_quantity_print(out, hs_prediction_level(prediction, expected->injected.level), -1);
		hs_buf_printf(out, " at %s", in->id);
		if (expected->injected.freq_hz > 0.0) {
			hs_buf_str(out, ", ");
			hs_quantity_print(out, (hs_quantity){expected->injected.freq_hz, HS_HERTZ}, -1);
		}
		hs_buf_char(out, '\n');
	}
	hs_prediction_print(out, expected->lineup, prediction, "  ");
}

static void why_rule(const hs_engine *engine, const hs_measure *m, hs_buf *out)
{
	if (!m->judged) {
		hs_buf_str(out, "  noted without limits\n");
		return;
	}
	hs_buf_str(out, "  limits       ");
	hs_limits_print(out, &m->limits);
	hs_buf_printf(out, " (%s)\n", engine->last_limits.length > 0 ? engine->last_limits.data : "written in the playbook");
	if (m->derived == HS_DERIVE_NONE && engine->last_reading->expects != NULL)
		why_expected(engine->last_reading, out);
	hs_buf_printf(out, "  rule         guard band w = U = %.3g: inside the limits by w is ok, outside by w is low or high, between is unsure\n",
	              m->expanded);
	hs_buf_printf(out, "  outcome      %s", hs_outcome_name(m->verdict.outcome));
	if (m->verdict.outcome == HS_UNSURE)
		hs_buf_printf(out, ": %s the %s limit, %.1f %% likely to lie beyond it", m->verdict.beyond ? "beyond" : "inside",
		              m->verdict.near_high ? "high" : "low", 100.0 * m->verdict.probability);
	hs_buf_char(out, '\n');
}

void hs_engine_why(const hs_engine *engine, hs_buf *out)
{
	if (!engine->has_last || engine->state->judged_step < 0) {
		hs_buf_str(out, "Nothing has been judged yet.\n");
		return;
	}
	const hs_measure *m = &engine->last;
	const hs_step *step = &engine->playbook->steps[engine->state->judged_step];
	hs_buf_printf(out, "%s (%s", hs_step_title(step), step->id);
	if (engine->state->judged_item >= 0 && step->reading_count > 1)
		hs_buf_printf(out, "/%s", step->readings[engine->state->judged_item].name);
	hs_buf_str(out, ")\n");
	switch (m->entry.kind) {
	case HS_ENTRY_UNREAD: hs_buf_printf(out, "  not read: %s\n", m->entry.reason[0] != '\0' ? m->entry.reason : "no reason given"); return;
	case HS_ENTRY_OVER: hs_buf_str(out, "  as read      over range\n"); break;
	case HS_ENTRY_OPEN: hs_buf_str(out, "  as read      open\n"); break;
	default:
		why_value(engine, m, out);
		why_budget(m, out);
		break;
	}
	why_rule(engine, m, out);
}

static void list_suspects(const hs_engine *engine, hs_standing standing, const char *heading, hs_buf *out)
{
	bool any = false;
	for (size_t i = 0; i < engine->playbook->suspect_count; i++) {
		int by = -1;
		if (hs_engine_suspect(engine, i, &by) != standing)
			continue;
		if (!any)
			hs_buf_printf(out, "%s\n", heading);
		any = true;
		hs_buf_printf(out, "  %s", hs_suspect_title(&engine->playbook->suspects[i]));
		if (by >= 0)
			hs_buf_printf(out, "  (by %s%s%s)", engine->playbook->steps[by].id, engine->free != NULL ? ", " : "",
			              engine->free != NULL ? hs_step_title(&engine->playbook->steps[by]) : "");
		hs_buf_char(out, '\n');
	}
}

/* What was seen is evidence like a reading. */
static void list_seen(const hs_engine *engine, hs_buf *out)
{
	bool any = false;
	for (size_t i = 0; i < engine->playbook->step_count; i++) {
		const hs_step *step = &engine->playbook->steps[i];
		if (step->kind != HS_STEP_TELL || hs_state_visits(engine, engine->state)[i].visits == 0)
			continue;
		hs_buf_printf(out, "%s  %s  %s\n", any ? "" : "Seen\n", step->id, hs_step_title(step));
		any = true;
	}
}

void hs_engine_overview(const hs_engine *engine, hs_buf *out)
{
	const hs_playbook *playbook = engine->playbook;
	list_suspects(engine, HS_SUSPECT_IMPLICATED, "Implicated", out);
	list_suspects(engine, HS_SUSPECT_OPEN, "Still open", out);
	list_suspects(engine, HS_SUSPECT_CLEARED, "Cleared", out);
	hs_buf_str(out, "Readings\n");
	bool any = false;
	for (size_t i = 0; i < playbook->slot_count; i++) {
		const hs_slot *slot = &hs_state_slots(engine->state)[i];
		const hs_step *step = &playbook->steps[engine->slot_step[i]];
		if (!slot->taken)
			continue;
		any = true;
		hs_buf_printf(out, "  %s%s%s  ", step->id, step->reading_count > 1 ? "/" : "",
		              step->reading_count > 1 ? step->readings[engine->slot_item[i]].name : "");
		if (engine->free != NULL)
			hs_buf_printf(out, "%s: ", hs_step_title(step));
		const hs_reading *reading = &step->readings[engine->slot_item[i]];
		if (slot->kind == HS_ENTRY_OPEN || slot->kind == HS_ENTRY_OVER) {
			hs_buf_str(out, slot->kind == HS_ENTRY_OPEN ? "open" : "over range");
		} else {
			hs_buf_str(out, slot->kind == HS_ENTRY_ABOVE ? "> " : slot->kind == HS_ENTRY_BELOW ? "< " : "");
			hs_quantity_print(out, (hs_quantity){slot->corrected, reading->unit}, -1);
		}
		bool judged = reading->has_limits || reading->limits_by.where.file != NULL;
		hs_buf_printf(out, "  %s\n", judged ? hs_outcome_name(slot->outcome) : "noted");
	}
	if (!any)
		hs_buf_str(out, "  none yet\n");
	if (engine->free != NULL)
		list_seen(engine, out);
	hs_engine_slopes(engine, out);
	hs_buf_printf(out, "Power state: %s\n", hs_power_name(engine->state->physical.power));
}
