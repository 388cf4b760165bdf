#include "core/engine/state.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

double hs_reading_impedance(const hs_playbook *playbook, const hs_reading *reading)
{
	if (reading->point >= 0 && playbook->unit.points[reading->point].impedance_ohm > 0.0)
		return playbook->unit.points[reading->point].impedance_ohm;
	if (reading->hookup != NULL && reading->hookup->instrument != NULL)
		return reading->hookup->instrument->impedance_ohm;
	return 0.0;
}

bool hs_function_run(hs_engine *engine, const hs_function *function, hs_buf *result, hs_error *error)
{
	const hs_playbook *playbook = engine->playbook;
	if (playbook->evaluator.call == NULL)
		return hs_fail(error, HS_BAD_INPUT, "The playbook has a function, and nothing that can run it.");
	const char **names = hs_alloc((function->use_count + 1) * sizeof *names);
	hs_value *values = hs_alloc((function->use_count + 1) * sizeof *values);
	for (size_t i = 0; i < function->use_count; i++) {
		const hs_use *use = &function->uses[i];
		names[i] = use->name;
		if (use->slot >= 0) {
			const hs_slot *slot = &hs_state_slots(engine->state)[use->slot];
			const hs_step *owner = &playbook->steps[engine->slot_step[use->slot]];
			values[i].unit = hs_unit_name(owner->readings[engine->slot_item[use->slot]].unit);
			values[i].outcome = slot->taken ? slot->outcome : HS_UNREAD;
			if (slot->taken && slot->kind == HS_ENTRY_NUMBER) {
				values[i].kind = HS_VALUE_NUMBER;
				values[i].number = slot->corrected;
			}
		} else if (use->step >= 0) {
			int choice = hs_state_visits(engine, engine->state)[use->step].choice;
			if (choice >= 0) {
				values[i].kind = HS_VALUE_TEXT;
				values[i].text = playbook->steps[use->step].choices[choice].word;
			}
		}
	}
	bool good = playbook->evaluator.call(playbook->evaluator.context, function->id, names, values, function->use_count, result, error);
	free(names);
	free(values);
	return good;
}

static void say_expected(hs_engine *engine, const hs_expectation *expects)
{
	hs_buf_printf(&engine->last_limits, "expected by the line-up \"%s\"%s", expects->lineup->id,
	              expects->worst ? ", every element at its worst" : "");
	if (!(expects->wider_db > 0))
		return;
	hs_buf_str(&engine->last_limits, ", and ");
	hs_quantity_print(&engine->last_limits, (hs_quantity){expects->wider_db, HS_DB}, -1);
	hs_buf_str(&engine->last_limits, " more");
}

static void say_computed(hs_engine *engine, const hs_reading *reading)
{
	const hs_function *by = &reading->limits_by;
	hs_buf_printf(&engine->last_limits, "computed by the function at %s line %d from", by->where.file, by->where.line);
	for (size_t i = 0; i < by->use_count; i++)
		hs_buf_printf(&engine->last_limits, "%s %s", i > 0 ? "," : "", by->uses[i].target);
}

bool hs_measure_limits(hs_engine *engine, const hs_reading *reading, hs_limits_used *out, hs_error *error)
{
	out->has = reading->has_limits;
	out->limits = reading->limits;
	hs_buf_clear(&engine->last_limits);
	if (reading->limits_by.id < 0 || reading->limits_by.where.file == NULL) {
		if (engine->playing)
			return true;
		if (reading->has_limits && engine->free != NULL)
			hs_buf_str(&engine->last_limits, "as the act named them");
		else if (reading->expects)
			say_expected(engine, reading->expects);
		else if (reading->has_limits)
			hs_buf_printf(&engine->last_limits, "written in the playbook, %s line %d",
			              reading->limits_where.file != NULL ? reading->limits_where.file : "?", reading->limits_where.line);
		return true;
	}
	hs_buf text;
	hs_buf_init(&text);
	bool good = hs_function_run(engine, &reading->limits_by, &text, error);
	if (good) {
		hs_error inner = {0};
		hs_limits read;
		good = hs_limits_read(text.data, reading->unit, &read, &inner) &&
		       hs_limits_convert(&read, reading->unit, hs_reading_impedance(engine->playbook, reading), &out->limits, &inner);
		if (!good) {
			hs_fail(error, HS_BAD_INPUT, "The limits computed for %s cannot be read: %s", reading->name, inner.message);
			hs_fail_at(error, reading->limits_by.where.file, reading->limits_by.where.line);
		}
		out->has = good;
		if (!engine->playing)
			say_computed(engine, reading);
	}
	hs_buf_free(&text);
	return good;
}

static void warn_of_instrument(const hs_reading *reading, const hs_range *range, bool inside, hs_quantity at_instrument, const char *utc,
                               hs_buf *warning)
{
	const hs_part *instrument = reading->hookup->instrument;
	if (instrument == NULL || warning == NULL)
		return;
	if (instrument->due != NULL && utc != NULL && strncmp(utc, instrument->due, 10) > 0)
		hs_buf_printf(warning, "The calibration of %s was due on %s.", instrument->id, instrument->due);
	if (range != NULL && range->has_range && !inside) {
		hs_buf_printf(warning, "%s%s is trusted from ", warning->length > 0 ? " " : "", instrument->id);
		hs_quantity_print(warning, range->from, -1);
		hs_buf_str(warning, " to ");
		hs_quantity_print(warning, range->to, -1);
		hs_buf_str(warning, "; ");
		hs_quantity_print(warning, at_instrument, -1);
		hs_buf_str(warning, " lies outside, so its uncertainty is not known.");
	}
}

bool hs_measure_take(const hs_engine *engine, const hs_reading *reading, const hs_entry *entry, int before, hs_measure *out,
                     hs_buf *warning, const char *utc, hs_error *error)
{
	const hs_playbook *playbook = engine->playbook;
	memset(out, 0, sizeof *out);
	out->entry = *entry;
	out->correction.total_factor = 1.0;
	out->corrected.unit = reading->unit;
	out->verdict.outcome = HS_UNREAD;
	bool has_value = entry->kind == HS_ENTRY_NUMBER || entry->kind == HS_ENTRY_ABOVE || entry->kind == HS_ENTRY_BELOW;
	if (!has_value)
		return true;
	hs_quantity at_point = entry->quantity;
	const hs_range *range = NULL;
	bool inside = true;
	bool measured = reading->hookup != NULL && !hs_reading_is_word(reading);
	double freq_hz = entry->freq_hz > 0.0 ? entry->freq_hz : reading->freq_hz;
	if (measured) {
		/* Two leads end to end are read as they come: what they take is what is wanted. */
		if (reading->leads != HS_LEADS_STRAIGHT &&
		    !hs_hookup_correct(reading->hookup, hs_reading_measurand(reading), freq_hz, &out->correction, error))
			return false;
		if (reading->mask == NULL) /* what was measured at one frequency says nothing of a whole trace */
			hs_leads_correct(engine, reading, before, &out->correction);
		at_point = hs_correct_reading(&out->correction, entry->quantity);
		range = hs_hookup_range(reading->hookup, hs_reading_measurand(reading), freq_hz, &entry->quantity, &inside);
	}
	if (!hs_quantity_convert(at_point, reading->unit, hs_reading_impedance(playbook, reading), &out->corrected, error))
		return false;
	if (measured) {
		double step = entry->quantity.unit == reading->unit ? entry->step : 0.0;
		hs_budget_of_reading(&out->budget, reading->hookup, range, &out->correction, out->corrected, step);
		out->expanded = hs_budget_expanded(&out->budget);
		warn_of_instrument(reading, range, inside, entry->quantity, utc, warning);
	}
	return true;
}

void hs_measure_judge(hs_measure *measure, const hs_reading *reading, const hs_limits_used *used)
{
	measure->judged = used->has;
	measure->limits = used->limits;
	if (measure->entry.kind == HS_ENTRY_UNREAD) {
		measure->verdict.outcome = HS_UNREAD;
		return;
	}
	if (!used->has) {
		measure->verdict.outcome = HS_OKAY;
		return;
	}
	if (measure->entry.kind == HS_ENTRY_NUMBER) {
		measure->verdict = hs_judge(&used->limits, measure->corrected.value, measure->expanded, measure->entry.step);
		return;
	}
	double top = 0.0;
	const double *range_top = NULL;
	if (reading->hookup != NULL) {
		bool inside = false;
		const hs_range *range = hs_hookup_range(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, NULL, &inside);
		if (range != NULL && range->has_range && range->to.unit == used->limits.unit) {
			top = range->to.value;
			range_top = &top;
		}
	}
	measure->verdict = hs_judge_bound(&used->limits, measure->entry.kind, measure->corrected.value, range_top, measure->expanded);
}

/* Two losses through the same part are one error, so it cancels in a difference; each instrument reading keeps its own. */
static void share_losses(hs_budget *budget, size_t first_of_b)
{
	int next = 1;
	for (size_t i = 0; i < first_of_b; i++) {
		const char *tail = strstr(budget->terms[i].name, " loss");
		if (tail == NULL || tail[5] != '\0')
			continue;
		for (size_t j = first_of_b; j < budget->count; j++) {
			if (strcmp(budget->terms[i].name, budget->terms[j].name) == 0) {
				budget->terms[i].shared = next;
				budget->terms[j].shared = next;
				next++;
			}
		}
	}
}

bool hs_measure_derive(const hs_step *step, const hs_measure *a, const hs_measure *b, hs_measure *out, hs_error *error)
{
	memset(out, 0, sizeof *out);
	out->derived = step->derive;
	out->correction.total_factor = 1.0;
	out->entry.kind = HS_ENTRY_NUMBER;
	if (a->entry.kind != HS_ENTRY_NUMBER || b->entry.kind != HS_ENTRY_NUMBER) {
		out->entry.kind = HS_ENTRY_UNREAD;
		hs_copy(out->entry.reason, sizeof out->entry.reason, "one of the two is not a number");
		return true;
	}
	bool level = hs_unit_is_level(a->corrected.unit);
	double va = a->corrected.value, vb = b->corrected.value, ca = 1.0, cb = -1.0;
	if (step->derive == HS_DERIVE_RATIO && !level) {
		if (vb == 0.0)
			return hs_fail(error, HS_BAD_INPUT, "The ratio asked for by step %s divides by a reading of zero.", step->id);
		out->corrected = (hs_quantity){va / vb, HS_UNITLESS};
		ca = 1.0 / vb;
		cb = -va / (vb * vb);
	} else {
		out->corrected = (hs_quantity){va - vb, level ? HS_DB : a->corrected.unit};
	}
	out->budget.unit = out->corrected.unit;
	for (size_t i = 0; i < a->budget.count; i++)
		hs_budget_add(&out->budget, a->budget.terms[i].name, a->budget.terms[i].half_width, a->budget.terms[i].shape,
		              a->budget.terms[i].sensitivity * ca, 0);
	size_t first_of_b = out->budget.count;
	for (size_t i = 0; i < b->budget.count; i++)
		hs_budget_add(&out->budget, b->budget.terms[i].name, b->budget.terms[i].half_width, b->budget.terms[i].shape,
		              b->budget.terms[i].sensitivity * cb, 0);
	if (level || step->derive == HS_DERIVE_DIFFERENCE)
		share_losses(&out->budget, first_of_b);
	out->expanded = hs_budget_expanded(&out->budget);
	out->entry.step = fmax(a->entry.step, b->entry.step);
	out->entry.quantity = out->corrected;
	return true;
}
