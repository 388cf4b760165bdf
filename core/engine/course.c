/* The course of the judgement: entering steps, following branches, and what makes a reading lapse. */
#include "core/engine/state.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#include "halfsplit/judge/trace.h"

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
		/* Nor do the shop's own leads. */
		if (owner->readings[engine->slot_item[i]].hookup_name == NULL || owner->leads != HS_LEADS_NONE)
			continue;
		hs_state_slots(engine->state)[i].taken = false;
		hs_state_slots(engine->state)[i].lapsed = true;
		hs_state_visits(engine, engine->state)[engine->slot_step[i]].judged = false;
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

static const int *joined_lists(hs_engine *engine, const int *first, size_t first_count, const int *second, size_t second_count)
{
	int *list = hs_arena_alloc(engine->turn, (first_count + second_count + 1) * sizeof *list);
	for (size_t i = 0; i < first_count; i++)
		list[i] = first[i];
	for (size_t i = 0; i < second_count; i++)
		list[first_count + i] = second[i];
	return list;
}

/* A branch that says of suspects what two of them say, and leads where the second does. What is told of a move must be all of it. */
static const hs_branch *both(hs_engine *engine, const hs_branch *first, const hs_branch *second)
{
	hs_branch *made = hs_arena_alloc(engine->turn, sizeof *made);
	*made = *second;
	made->clears = joined_lists(engine, first->clears, first->clear_count, second->clears, second->clear_count);
	made->clear_count = first->clear_count + second->clear_count;
	made->implicates = joined_lists(engine, first->implicates, first->implicate_count, second->implicates, second->implicate_count);
	made->implicate_count = first->implicate_count + second->implicate_count;
	return made;
}

/* Takes a branch without entering its target, and tells of it. */
static int take_branch(hs_engine *engine, const hs_branch *branch, const hs_outcome *outcome, const char *word)
{
	if (branch->counts > 0) {
		const hs_counter *counter = &engine->playbook->counters[branch->counts - 1];
		int *count = &hs_state_counters(engine, engine->state)[branch->counts - 1];
		if (++*count > counter->most) {
			branch = both(engine, branch, &counter->beyond);
			word = counter->id;
		}
	}
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

static bool all_passed(const hs_engine *engine, const hs_step *step)
{
	for (size_t i = 0; i < step->passed_count; i++) {
		const hs_visit_state *visit = &hs_state_visits(engine, engine->state)[step->passed[i].step];
		if (!visit->judged || visit->outcome != HS_OKAY)
			return false;
	}
	return true;
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
		state->crossroads = false;
		state->entered_ms = state->last_ms;
		hs_visit_state *visit = &hs_state_visits(engine, state)[step];
		visit->visits++;
		int next = -1;
		/* A visit that is turned away counts as one, so that the bound of a step also bounds the loop by its not_yet. */
		if (entered->most > 0 && visit->visits > entered->most) {
			if (entered->beyond.to < 0)
				return nowhere(engine, &entered->beyond, error);
			next = take_branch(engine, &entered->beyond, NULL, "often enough");
		} else if (entered->passed_count > 0 && !all_passed(engine, entered)) {
			if (entered->not_yet.to < 0)
				return nowhere(engine, &entered->not_yet, error);
			next = take_branch(engine, &entered->not_yet, NULL, "not yet");
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

/*
 * While a replaced part is being tried, a step that comes out ok leads to the next retest; anything else ends the retests, and so does
 * a step that is none of them.
 */
static const hs_branch *after_retest(hs_engine *engine, const hs_branch *branch, hs_outcome outcome)
{
	hs_state *state = engine->state;
	const hs_step *replace = &engine->playbook->steps[state->retest_of];
	if (replace->retests[state->retest_at - 1].to != state->step) {
		state->retest_of = -1;
		return branch;
	}
	if (outcome == HS_OKAY && (size_t)state->retest_at < replace->retest_count)
		return &replace->retests[state->retest_at++];
	state->retest_of = -1;
	return outcome == HS_OKAY ? &replace->branches[HS_OKAY] : branch;
}

static void note_outcome(hs_engine *engine, hs_outcome outcome)
{
	hs_visit_state *visit = &hs_state_visits(engine, engine->state)[engine->state->step];
	visit->judged = true;
	visit->outcome = outcome;
}

bool hs_course_follow(hs_engine *engine, const hs_branch *branch, const hs_outcome *outcome, const char *word, hs_error *error)
{
	if (branch->to < 0)
		return nowhere(engine, branch, error);
	hs_state *state = engine->state;
	if (outcome != NULL && state->step >= 0)
		note_outcome(engine, *outcome);
	if (outcome != NULL && state->retest_of >= 0)
		branch = after_retest(engine, branch, *outcome);
	return settle_at(engine, take_branch(engine, branch, outcome, word), error);
}

void hs_course_stand(hs_engine *engine, const hs_branch *branch, int step, const char *word)
{
	hs_fact *moved = hs_fact_add(engine, HS_SAYS_MOVED);
	moved->step = step;
	moved->to = branch->to;
	moved->branch = branch;
	moved->word = word;
	stand(engine, branch, step);
}

void hs_course_void_for(hs_engine *engine, const hs_step *replace)
{
	if (replace->replaces != NULL)
		hs_leads_lapse(engine, replace->replaces);
	if (!replace->voids_some) {
		hs_course_void_readings(engine);
		return;
	}
	for (size_t i = 0; i < replace->void_count; i++) {
		const hs_step *touched = &engine->playbook->steps[replace->voids[i].step];
		hs_state_visits(engine, engine->state)[replace->voids[i].step].judged = false;
		for (size_t j = 0; j < touched->reading_count; j++) {
			hs_slot *slot = &hs_state_slots(engine->state)[touched->readings[j].slot];
			slot->taken = false;
			slot->lapsed = true;
		}
	}
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
	if (measure->entry.kind != HS_ENTRY_UNREAD)
		engine->state->hand.evidence = engine->state->step;
}

static hs_entry entry_of(const hs_slot *slot)
{
	hs_entry entry;
	memset(&entry, 0, sizeof entry);
	entry.kind = slot->taken ? slot->kind : HS_ENTRY_UNREAD;
	entry.quantity = slot->quantity;
	entry.step = slot->step;
	entry.freq_hz = slot->freq_hz;
	return entry;
}

/* Limits of a grid may be meant against a reference row: they move with what was read there. */
static void relate(hs_engine *engine, const hs_reading *reading, hs_limits_used *limits, const hs_entry *entry, hs_measure *measure)
{
	if (reading->against_reading == 0 || !limits->has)
		return;
	const hs_step *step = &engine->playbook->steps[engine->slot_step[reading->slot]];
	const hs_slot *reference = &hs_state_slots(engine->state)[step->readings[reading->against_reading - 1].slot];
	if (!reference->taken || reference->kind != HS_ENTRY_NUMBER || entry->kind != HS_ENTRY_NUMBER) {
		limits->has = false;
		measure->entry.kind = HS_ENTRY_UNREAD;
		hs_copy(measure->entry.reason, sizeof measure->entry.reason, "the reference row has no number here");
		return;
	}
	limits->limits.unit = reading->unit;
	limits->limits.low += reference->corrected;
	limits->limits.high += reference->corrected;
	/* Both readings have their error; that they share some of it is left out, on the cautious side. */
	measure->expanded *= sqrt(2.0);
}

/* Judges the reading in a slot: corrected, limits, verdict. */
static bool judge_slot(hs_engine *engine, const hs_step *step, int item, const hs_entry *entry, int before, hs_measure *measure, hs_error *error)
{
	const hs_reading *reading = &step->readings[item];
	hs_buf warning;
	hs_buf_init(&warning);
	hs_limits_used limits;
	bool good = hs_measure_take(engine, reading, entry, before, measure, &warning, engine->utc, error) &&
	            hs_measure_limits(engine, reading, &limits, error);
	if (good && reading->mask != NULL && entry->kind == HS_ENTRY_NUMBER) {
		limits.has = hs_mask_at(reading->mask, entry->freq_hz, reading->unit, &limits.limits);
		hs_buf_clear(&engine->last_limits);
		hs_buf_printf(&engine->last_limits, "the mask %s at %.10g Hz, the worst point of %s", reading->mask->file, entry->freq_hz,
		              entry->reason[0] != '\0' ? entry->reason : "the trace");
	}
	if (good)
		relate(engine, reading, &limits, entry, measure);
	if (good && step->leads == HS_LEADS_PROVE) {
		hs_leads_limits(step, measure, &limits.limits);
		hs_buf_clear(&engine->last_limits);
		hs_buf_str(&engine->last_limits, "what is known of the source, within its U and twice that of the reading");
	}
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

/* The first reading of the round just taken that is not ok. */
static hs_outcome round_outcome(hs_engine *engine, const hs_step *step)
{
	hs_outcome outcome = HS_OKAY;
	for (size_t i = 0; i < step->reading_count && outcome == HS_OKAY; i++)
		outcome = hs_state_slots(engine->state)[step->readings[i].slot].outcome;
	return outcome;
}

/*
 * An adjustment takes a round of readings after each turn: one, or one at each of several settings that must all come right. A watch
 * turns something up step by step and ends at once when a reading leaves its limits.
 */
static bool after_adjust(hs_engine *engine, const hs_step *step, int item, hs_measure *measure, hs_error *error)
{
	hs_state *state = engine->state;
	if (step->has_responds && measure->entry.kind == HS_ENTRY_NUMBER)
		measure->verdict.outcome = responded(step, state, measure);
	hs_outcome outcome = measure->verdict.outcome;
	hs_state_slots(state)[step->readings[item].slot].outcome = outcome;
	tell_measure(engine, HS_SAYS_JUDGED, step, item, measure);
	remember(engine, step, item, measure);
	bool at_once = outcome == HS_UNREAD || (step->watch && outcome != HS_OKAY);
	if (!at_once && (size_t)item + 1 < step->reading_count) {
		state->item = item + 1;
		return true;
	}
	state->item = 0;
	state->tries++;
	hs_course_lapse(engine, HS_HOLDS_ADJUST);
	for (size_t i = 0; i < step->reading_count; i++)
		hs_state_slots(state)[step->readings[i].slot].lapsed = false;
	if (!at_once)
		outcome = round_outcome(engine, step);
	bool last = state->tries >= step->tries;
	if (at_once || last || (outcome == HS_OKAY && !step->watch))
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
		if (!hs_measure_take(engine, reading, &entry, hs_state_slots(engine->state)[reading->slot].order, &parts[i], NULL, NULL, error))
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

enum { ROW_SILENT, ROW_GOOD, ROW_BAD };

/* A row says something when it was judged, and was not merely too close to a limit or not to be had. */
static int row_says(hs_engine *engine, const hs_step *step, size_t row)
{
	int says = ROW_SILENT;
	bool sure = true;
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		hs_outcome outcome = hs_state_slots(engine->state)[reading->slot].outcome;
		if (reading->row != (int)row + 1 || (!reading->has_limits && reading->limits_by.id < 0))
			continue;
		if (outcome == HS_LOW || outcome == HS_HIGH)
			return ROW_BAD;
		sure = sure && outcome == HS_OKAY;
		says = sure ? ROW_GOOD : ROW_SILENT;
	}
	return sure ? says : ROW_SILENT;
}

static bool names(const int *list, size_t count, int suspect)
{
	for (size_t i = 0; i < count; i++)
		if (list[i] == suspect)
			return true;
	return false;
}

/*
 * What the pattern of a grid says of the switched elements: a row that is ok clears all it goes through; what is left in a row that is
 * not, and nowhere in a good one, is implicated. What the branch says itself stands above that.
 */
static const hs_branch *weigh_rows(hs_engine *engine, const hs_step *step, const hs_branch *branch)
{
	size_t count = engine->playbook->suspect_count;
	int *verdict = hs_arena_alloc(engine->turn, (count + 1) * sizeof *verdict);
	int *clears = hs_arena_alloc(engine->turn, (count + 1) * sizeof *clears);
	int *implicates = hs_arena_alloc(engine->turn, (count + 1) * sizeof *implicates);
	hs_branch rows = {.clears = clears, .implicates = implicates};
	for (size_t row = 0; row < step->row_count; row++) {
		int says = row_says(engine, step, row);
		for (size_t i = 0; i < step->rows[row].through_count; i++) {
			int *of = &verdict[step->rows[row].through[i]];
			*of = *of == ROW_GOOD || says == ROW_SILENT ? *of : says;
		}
	}
	for (int i = 0; i < (int)count; i++) {
		if (verdict[i] == ROW_GOOD && !names(branch->implicates, branch->implicate_count, i))
			clears[rows.clear_count++] = i;
		else if (verdict[i] == ROW_BAD && !names(branch->clears, branch->clear_count, i))
			implicates[rows.implicate_count++] = i;
	}
	return both(engine, &rows, branch);
}

static bool collected(hs_engine *engine, const hs_step *step, hs_error *error)
{
	const hs_branch *branch = NULL;
	if (step->exit_count > 0) {
		if (!decide(engine, step, &branch, error))
			return false;
		const char *word = branch->target;
		return hs_course_follow(engine, step->row_count > 0 ? weigh_rows(engine, step, branch) : branch, NULL, word, error);
	}
	hs_outcome outcome = HS_OKAY;
	for (size_t i = 0; i < step->reading_count && outcome == HS_OKAY; i++)
		outcome = hs_state_slots(engine->state)[step->readings[i].slot].outcome;
	branch = &step->branches[outcome];
	return hs_course_follow(engine, step->row_count > 0 ? weigh_rows(engine, step, branch) : branch, &outcome, NULL, error);
}

bool hs_course_reading(hs_engine *engine, int item, const hs_entry *entry, hs_error *error)
{
	hs_state *state = engine->state;
	const hs_step *step = &engine->playbook->steps[state->step];
	hs_measure measure;
	const hs_part *instrument = step->leads == HS_LEADS_PROVE && step->readings[0].hookup != NULL ? step->readings[0].hookup->instrument : NULL;
	int since = instrument != NULL ? hs_leads_good_since(engine, instrument) : -1;
	if (!judge_slot(engine, step, item, entry, INT_MAX, &measure, error))
		return false;
	hs_slot *slot = &hs_state_slots(state)[step->readings[item].slot];
	*slot = (hs_slot){.taken = entry->kind != HS_ENTRY_UNREAD, .lapsed = false, .order = state->orders++, .outcome = measure.verdict.outcome, .kind = entry->kind,
	                  .quantity = entry->quantity, .step = entry->step, .corrected = measure.corrected.value, .freq_hz = entry->freq_hz};
	memcpy(slot->position, state->position, sizeof slot->position);
	state->last_slot = step->readings[item].slot;
	if (step->kind == HS_STEP_ADJUST)
		return after_adjust(engine, step, item, &measure, error);
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
	if (instrument != NULL && outcome != HS_OKAY && outcome != HS_UNREAD)
		hs_leads_drifted(engine, instrument, since);
	return hs_course_follow(engine, &step->branches[outcome], &outcome, NULL, error);
}

/* As the controls would stand for this step: what it sets, and the others where they are. Read otherwise, a value says nothing here. */
static bool stood_alike(const hs_engine *engine, const hs_step *step, const hs_slot *slot)
{
	for (int i = 0; i < engine->playbook->unit.control_count; i++) {
		uint8_t set = step->readings[0].set[i] != 0 ? step->readings[0].set[i] : step->set[i];
		if (slot->position[i] != (set != 0 ? set : engine->state->position[i]))
			return false;
	}
	return true;
}

static bool reuse(hs_engine *engine, const hs_step *step, int *next, hs_error *error)
{
	const hs_step *earlier = &engine->playbook->steps[step->reuse];
	const hs_slot from = hs_state_slots(engine->state)[earlier->readings[0].slot];
	if (!from.taken || from.lapsed || !stood_alike(engine, step, &from))
		return true;
	if (engine->walking) {
		engine->state->crossroads = true;
		return true;
	}
	hs_entry entry = entry_of(&from);
	hs_measure measure;
	if (!judge_slot(engine, step, 0, &entry, from.order, &measure, error))
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
	note_outcome(engine, outcome);
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
	if (step->kind == HS_STEP_DECIDE && engine->walking) {
		state->crossroads = true;
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
	/* What a new part is tried by is read anew. */
	if (step->kind == HS_STEP_READ && step->reuse >= 0 && step->reading_count == 1 && state->retest_of < 0)
		return reuse(engine, step, next, error);
	return true;
}

bool hs_course_walked(hs_engine *engine, const hs_branch *branch, const hs_outcome *outcome, hs_error *error)
{
	if (!engine->state->crossroads)
		return hs_course_follow(engine, branch, outcome, NULL, error);
	if (branch->to < 0)
		return nowhere(engine, branch, error);
	if (outcome != NULL)
		note_outcome(engine, *outcome);
	return settle_at(engine, take_branch(engine, branch, outcome, NULL), error);
}
