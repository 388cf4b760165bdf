/* The course of the judgement: entering steps, following branches, and what makes a reading lapse. */
#include "core/engine/state.h"

#include <math.h>
#include <string.h>

/* Decide steps and reused readings lead on without asking; a chain of them longer than this has no end. */
#define CHAIN_MOST 1000

static bool run_step(hs_engine *engine, int *next, hs_error *error);

void hs_course_lapse(hs_engine *engine, unsigned how)
{
	for (size_t i = 0; i < engine->playbook->slot_count; i++) {
		const hs_step *owner = &engine->playbook->steps[engine->slot_step[i]];
		if ((owner->holds & how) == 0)
			hs_state_slots(engine->state)[i].lapsed = true;
	}
}

void hs_course_void_readings(hs_engine *engine)
{
	for (size_t i = 0; i < engine->playbook->slot_count; i++) {
		const hs_step *owner = &engine->playbook->steps[engine->slot_step[i]];
		/* What was read by eye off a label does not change with a part. */
		if (owner->readings[engine->slot_item[i]].hookup_name == NULL)
			continue;
		hs_state_slots(engine->state)[i].taken = false;
		hs_state_slots(engine->state)[i].lapsed = true;
	}
}

static void stand(hs_engine *engine, const hs_branch *branch, int step)
{
	hs_suspect_state *suspects = hs_state_suspects(engine, engine->state);
	for (size_t i = 0; i < branch->clear_count; i++)
		suspects[branch->clears[i]] = (hs_suspect_state){HS_SUSPECT_CLEARED, step};
	for (size_t i = 0; i < branch->implicate_count; i++)
		suspects[branch->implicates[i]] = (hs_suspect_state){HS_SUSPECT_IMPLICATED, step};
}

/* Takes a branch without entering its target, and tells of it. */
static int take_branch(hs_engine *engine, const hs_branch *branch, const hs_outcome *outcome, const char *word)
{
	hs_fact *moved = hs_fact_add(engine, HS_SAYS_MOVED);
	moved->step = engine->state->step;
	moved->to = branch->to;
	moved->branch = branch;
	moved->word = word;
	if (outcome != NULL) {
		moved->has_outcome = true;
		moved->outcome = *outcome;
	}
	stand(engine, branch, engine->state->step);
	return branch->to;
}

static bool nowhere(const hs_engine *engine, const hs_branch *branch, hs_error *error)
{
	const hs_step *step = engine->state->step >= 0 ? &engine->playbook->steps[engine->state->step] : NULL;
	hs_fail(error, HS_BAD_INPUT, "%s leads nowhere%s%s.", step != NULL ? step->id : "The beginning",
	        branch->target != NULL ? ": there is no step " : "", branch->target != NULL ? branch->target : "");
	if (step != NULL)
		hs_fail_at(error, step->where.file, step->where.line);
	return false;
}

static bool settle_at(hs_engine *engine, int step, hs_error *error)
{
	for (int guard = 0; guard < CHAIN_MOST; guard++) {
		hs_state *state = engine->state;
		const hs_step *entered = &engine->playbook->steps[step];
		state->step = step;
		state->item = 0;
		state->tries = 0;
		state->has_first = false;
		state->entered_ms = state->last_ms;
		hs_visit_state *visit = &hs_state_visits(engine, state)[step];
		visit->visits++;
		int next = -1;
		if (entered->most > 0 && visit->visits > entered->most) {
			if (entered->beyond.to < 0)
				return nowhere(engine, &entered->beyond, error);
			next = take_branch(engine, &entered->beyond, NULL, "often enough");
		} else if (!run_step(engine, &next, error)) {
			return false;
		}
		if (next < 0)
			return true;
		step = next;
	}
	return hs_fail(error, HS_BAD_INPUT, "Step %s goes round without ever asking anything.", engine->playbook->steps[step].id);
}

bool hs_course_enter(hs_engine *engine, int step, hs_error *error)
{
	return settle_at(engine, step, error);
}

bool hs_course_follow(hs_engine *engine, const hs_branch *branch, const hs_outcome *outcome, const char *word, hs_error *error)
{
	if (branch->to < 0)
		return nowhere(engine, branch, error);
	return settle_at(engine, take_branch(engine, branch, outcome, word), error);
}

static bool decide(hs_engine *engine, const hs_step *step, const hs_branch **branch, hs_error *error)
{
	hs_buf result;
	hs_buf_init(&result);
	bool good = hs_function_run(engine, &step->decide, &result, error);
	*branch = NULL;
	for (size_t i = 0; good && i < step->exit_count; i++)
		if (strcmp(step->exits[i].target, result.data) == 0)
			*branch = &step->exits[i];
	if (good && *branch == NULL) {
		hs_fail(error, HS_BAD_INPUT, "The decision of step %s returned \"%.80s\", which is not among the steps it says it may lead to.",
		        step->id, result.data != NULL ? result.data : "");
		hs_fail_hint(error, "Name every step the function can return in `to`.");
		good = hs_fail_at(error, step->decide.where.file, step->decide.where.line);
	}
	hs_buf_free(&result);
	return good;
}

static void tell_measure(hs_engine *engine, hs_fact_kind kind, const hs_step *step, int item, const hs_measure *measure)
{
	hs_fact *fact = hs_fact_add(engine, kind);
	fact->step = engine->state->step;
	fact->item = item;
	fact->reading = item >= 0 ? &step->readings[item] : NULL;
	fact->outcome = measure->verdict.outcome;
	fact->has_outcome = measure->judged || measure->entry.kind == HS_ENTRY_UNREAD;
	if (engine->quiet)
		return;
	hs_measure *copy = hs_arena_alloc(engine->turn, sizeof *copy);
	*copy = *measure;
	fact->measure = copy;
}

static void remember(hs_engine *engine, const hs_step *step, int item, const hs_measure *measure)
{
	engine->last = *measure;
	engine->last_reading = &step->readings[item >= 0 ? (size_t)item : step->derive_a];
	engine->has_last = true;
	engine->state->judged_step = engine->state->step;
	engine->state->judged_item = item;
}

static hs_entry entry_of(const hs_slot *slot)
{
	hs_entry entry;
	memset(&entry, 0, sizeof entry);
	entry.kind = slot->taken ? slot->kind : HS_ENTRY_UNREAD;
	entry.quantity = slot->quantity;
	entry.step = slot->step;
	return entry;
}

/* Judges the reading in a slot: corrected, limits, verdict. */
static bool judge_slot(hs_engine *engine, const hs_step *step, int item, const hs_entry *entry, hs_measure *measure, hs_error *error)
{
	const hs_reading *reading = &step->readings[item];
	hs_buf warning;
	hs_buf_init(&warning);
	hs_limits_used limits;
	bool good = hs_measure_take(engine->playbook, reading, entry, measure, &warning, engine->utc, error) &&
	            hs_measure_limits(engine, reading, &limits, error);
	if (good) {
		hs_measure_judge(measure, reading, &limits);
		tell_measure(engine, HS_SAYS_CORRECTED, step, item, measure);
		if (warning.length > 0) {
			hs_fact *fact = hs_fact_add(engine, HS_SAYS_WARNED);
			fact->why = hs_turn_text(engine, warning.data);
		}
	}
	hs_buf_free(&warning);
	return good;
}

static hs_outcome responded(const hs_step *step, hs_state *state, const hs_measure *measure)
{
	if (measure->entry.kind != HS_ENTRY_NUMBER)
		return measure->verdict.outcome;
	if (!state->has_first) {
		state->has_first = true;
		state->first_value = measure->corrected.value;
		return HS_LOW;
	}
	return fabs(measure->corrected.value - state->first_value) >= step->responds ? HS_OKAY : HS_LOW;
}

static bool after_adjust(hs_engine *engine, const hs_step *step, hs_measure *measure, hs_error *error)
{
	hs_state *state = engine->state;
	if (step->has_responds && measure->entry.kind == HS_ENTRY_NUMBER)
		measure->verdict.outcome = responded(step, state, measure);
	hs_outcome outcome = measure->verdict.outcome;
	tell_measure(engine, HS_SAYS_JUDGED, step, 0, measure);
	remember(engine, step, 0, measure);
	state->tries++;
	hs_course_lapse(engine, HS_HOLDS_ADJUST);
	hs_state_slots(state)[step->readings[0].slot].lapsed = false;
	if (outcome == HS_OKAY || outcome == HS_UNREAD || state->tries >= step->tries)
		return hs_course_follow(engine, &step->branches[outcome], &outcome, NULL, error);
	return true;
}

static bool derived(hs_engine *engine, const hs_step *step, hs_error *error)
{
	hs_measure parts[2], result;
	const size_t which[2] = {step->derive_a, step->derive_b};
	for (int i = 0; i < 2; i++) {
		const hs_reading *reading = &step->readings[which[i]];
		hs_entry entry = entry_of(&hs_state_slots(engine->state)[reading->slot]);
		if (!hs_measure_take(engine->playbook, reading, &entry, &parts[i], NULL, NULL, error))
			return false;
	}
	if (!hs_measure_derive(step, &parts[0], &parts[1], &result, error))
		return false;
	hs_limits_used limits = {step->derived_limits, step->derive_limit};
	hs_measure_judge(&result, &step->readings[step->derive_a], &limits);
	hs_outcome outcome = result.verdict.outcome;
	hs_buf_clear(&engine->last_limits);
	hs_buf_printf(&engine->last_limits, "written in the playbook, %s line %d", step->where.file != NULL ? step->where.file : "?",
	              step->where.line);
	tell_measure(engine, HS_SAYS_JUDGED, step, -1, &result);
	remember(engine, step, -1, &result);
	return hs_course_follow(engine, &step->branches[outcome], &outcome, NULL, error);
}

static bool collected(hs_engine *engine, const hs_step *step, hs_error *error)
{
	if (step->exit_count > 0) {
		const hs_branch *branch = NULL;
		return decide(engine, step, &branch, error) && hs_course_follow(engine, branch, NULL, branch->target, error);
	}
	hs_outcome outcome = HS_OKAY;
	for (size_t i = 0; i < step->reading_count && outcome == HS_OKAY; i++)
		outcome = hs_state_slots(engine->state)[step->readings[i].slot].outcome;
	return hs_course_follow(engine, &step->branches[outcome], &outcome, NULL, error);
}

bool hs_course_reading(hs_engine *engine, int item, const hs_entry *entry, hs_error *error)
{
	hs_state *state = engine->state;
	const hs_step *step = &engine->playbook->steps[state->step];
	hs_measure measure;
	if (!judge_slot(engine, step, item, entry, &measure, error))
		return false;
	hs_slot *slot = &hs_state_slots(state)[step->readings[item].slot];
	*slot = (hs_slot){.taken = entry->kind != HS_ENTRY_UNREAD, .lapsed = false, .outcome = measure.verdict.outcome, .kind = entry->kind,
	                  .quantity = entry->quantity, .step = entry->step, .corrected = measure.corrected.value};
	if (step->kind == HS_STEP_ADJUST)
		return after_adjust(engine, step, &measure, error);
	if (step->derive == HS_DERIVE_NONE) {
		tell_measure(engine, HS_SAYS_JUDGED, step, item, &measure);
		remember(engine, step, item, &measure);
	}
	if ((size_t)item + 1 < step->reading_count) {
		state->item = item + 1;
		return true;
	}
	if (step->derive != HS_DERIVE_NONE)
		return derived(engine, step, error);
	if (step->kind == HS_STEP_COLLECT)
		return collected(engine, step, error);
	hs_outcome outcome = measure.verdict.outcome;
	return hs_course_follow(engine, &step->branches[outcome], &outcome, NULL, error);
}

static bool reuse(hs_engine *engine, const hs_step *step, int *next, hs_error *error)
{
	const hs_step *earlier = &engine->playbook->steps[step->reuse];
	const hs_slot from = hs_state_slots(engine->state)[earlier->readings[0].slot];
	if (!from.taken || from.lapsed)
		return true;
	hs_entry entry = entry_of(&from);
	hs_measure measure;
	if (!judge_slot(engine, step, 0, &entry, &measure, error))
		return false;
	hs_slot *slot = &hs_state_slots(engine->state)[step->readings[0].slot];
	*slot = from;
	slot->outcome = measure.verdict.outcome;
	slot->corrected = measure.corrected.value;
	tell_measure(engine, HS_SAYS_JUDGED, step, 0, &measure);
	remember(engine, step, 0, &measure);
	hs_outcome outcome = measure.verdict.outcome;
	const hs_branch *branch = &step->branches[outcome];
	if (branch->to < 0)
		return nowhere(engine, branch, error);
	*next = take_branch(engine, branch, &outcome, "reused");
	return true;
}

/* What happens on entering, before anything is asked: a decision, a reused reading, a finding. *next >= 0 leads on. */
static bool run_step(hs_engine *engine, int *next, hs_error *error)
{
	hs_state *state = engine->state;
	const hs_step *step = &engine->playbook->steps[state->step];
	if (step->kind == HS_STEP_FINDING) {
		state->finding = state->step;
		hs_suspect_state *suspects = hs_state_suspects(engine, state);
		for (size_t i = 0; i < step->suspect_count; i++)
			if (suspects[step->suspects[i]].standing != HS_SUSPECT_IMPLICATED)
				suspects[step->suspects[i]] = (hs_suspect_state){HS_SUSPECT_IMPLICATED, state->step};
		hs_fact *fact = hs_fact_add(engine, HS_SAYS_FINDING);
		fact->step = state->step;
		return true;
	}
	if (step->kind == HS_STEP_DECIDE) {
		const hs_branch *branch = NULL;
		if (!decide(engine, step, &branch, error))
			return false;
		if (branch->to < 0)
			return nowhere(engine, branch, error);
		*next = take_branch(engine, branch, NULL, branch->target);
		return true;
	}
	if (step->kind == HS_STEP_READ && step->reuse >= 0 && step->reading_count == 1)
		return reuse(engine, step, next, error);
	return true;
}
