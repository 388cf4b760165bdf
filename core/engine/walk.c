/* Walking: every way out of where the engine stands, tried on a copied state. */
#include "halfsplit/engine/walk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/engine/state.h"

enum { MATTERS_OUTCOME = 1, MATTERS_READING = 2, MATTERS_AGAIN = 4 };

/* Which steps another step asks for, so that what happened there still matters later. */
static void find_what_matters(hs_engine *engine)
{
	const hs_playbook *playbook = engine->playbook;
	engine->matters = hs_alloc(playbook->step_count + 1);
	for (size_t i = 0; i < playbook->step_count; i++) {
		const hs_step *step = &playbook->steps[i];
		for (size_t j = 0; j < step->passed_count; j++)
			engine->matters[step->passed[j].step] |= MATTERS_OUTCOME;
		if (step->reuse >= 0)
			engine->matters[step->reuse] |= MATTERS_READING;
		for (size_t j = 0; j < step->choice_count; j++)
			if (step->choices[j].again.target != NULL)
				engine->matters[i] |= MATTERS_AGAIN;
	}
}

void hs_walk_begin(hs_engine *engine)
{
	engine->walking = true;
	engine->quiet = true;
	if (engine->matters == NULL)
		find_what_matters(engine);
}

hs_mark hs_engine_mark(const hs_engine *engine, void *state)
{
	hs_walk_save(engine, state);
	return (hs_mark){engine->log_count};
}

void hs_engine_back(hs_engine *engine, const void *state, hs_mark mark)
{
	hs_walk_load(engine, state);
	engine->log_count = mark.events;
	engine->has_last = false;
}

size_t hs_walk_size(const hs_engine *engine)
{
	return engine->state_size;
}

void hs_walk_save(const hs_engine *engine, void *state)
{
	memcpy(state, engine->state, engine->state_size);
}

void hs_walk_load(hs_engine *engine, const void *state)
{
	memcpy(engine->state, state, engine->state_size);
}

const hs_physical *hs_engine_physical(const hs_engine *engine)
{
	return &engine->state->physical;
}

int hs_engine_position(const hs_engine *engine, int control)
{
	return engine->state->position[control];
}

bool hs_walk_at_crossroads(const hs_engine *engine)
{
	return engine->state->crossroads;
}

/* ---- the ways ---- */

static bool words_only(const hs_reading *reading)
{
	return hs_reading_is_word(reading);
}

static bool limits_allow(bool has, const hs_limits *limits, hs_outcome outcome)
{
	if (!has)
		return outcome == HS_OKAY;
	return (outcome != HS_LOW || limits->has_low) && (outcome != HS_HIGH || limits->has_high);
}

/* How a reading can come out; the whole step, when it is the last. */
static bool may_come_out(const hs_step *step, const hs_reading *reading, hs_outcome outcome)
{
	if (outcome == HS_UNREAD)
		return true;
	if (step->has_responds)
		return outcome == HS_LOW || outcome == HS_OKAY;
	if (reading->reads == HS_READS_TICK)
		return outcome == HS_LOW || outcome == HS_OKAY;
	if (words_only(reading) && outcome == HS_UNSURE)
		return false;
	if (step->derive != HS_DERIVE_NONE)
		return limits_allow(step->derived_limits, &step->derive_limit, outcome);
	if (reading->limits_by.id >= 0 && reading->limits_by.where.file != NULL)
		return true;
	return limits_allow(reading->has_limits, &reading->limits, outcome);
}

/* A block that goes by its outcomes comes out as the first of its readings that is not ok. */
static bool step_may_come_out(const hs_step *step, hs_outcome outcome)
{
	if (step->derive != HS_DERIVE_NONE)
		return may_come_out(step, &step->readings[step->derive_a], outcome);
	for (size_t i = 0; i < step->reading_count; i++)
		if (may_come_out(step, &step->readings[i], outcome))
			return true;
	return false;
}

typedef enum what_way {
	WAY_NONE,    /* ended, or nothing can be asked */
	WAY_DONE,    /* one way: done as asked */
	WAY_GO_ON,   /* a reading of several, not the last: taken */
	WAY_OUTCOME,
	WAY_EXIT,    /* a decision's target */
	WAY_WORD,    /* a look */
	WAY_ENTRY,
	WAY_SHOWN    /* the symptom */
} what_way;

typedef struct ways {
	what_way what;
	int count;
	hs_outcome outcomes[HS_OUTCOME_COUNT];
	hs_ask ask;
} ways;

static void add_outcomes(ways *found, const hs_step *step, bool at_once_only)
{
	found->what = WAY_OUTCOME;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++) {
		hs_outcome outcome = (hs_outcome)i;
		if (at_once_only && (outcome == HS_OKAY || (!step->watch && outcome != HS_UNREAD)))
			continue;
		if (step_may_come_out(step, outcome))
			found->outcomes[found->count++] = outcome;
	}
}

static ways reading_ways(const hs_step *step, const hs_ask *ask)
{
	ways found = {.what = WAY_GO_ON, .count = 1, .ask = *ask};
	if ((size_t)ask->item + 1 < step->reading_count) {
		/* A round of an adjustment ends at once when something cannot be read; a watch, when something leaves its limits. */
		if (step->kind == HS_STEP_ADJUST) {
			ways also = {.ask = *ask};
			add_outcomes(&also, step, true);
			found.what = WAY_OUTCOME;
			found.count = 0;
			found.outcomes[found.count++] = HS_OKAY;
			for (int i = 0; i < also.count; i++)
				found.outcomes[found.count++] = also.outcomes[i];
		}
		return found;
	}
	found.count = 0;
	if (step->exit_count > 0) {
		found.what = WAY_EXIT;
		found.count = (int)step->exit_count;
	} else {
		add_outcomes(&found, step, false);
	}
	return found;
}

static ways ways_from(const hs_engine *engine)
{
	const hs_playbook *playbook = engine->playbook;
	const hs_state *state = engine->state;
	ways found = {.what = WAY_DONE, .count = 1, .ask = {.kind = HS_ASK_NONE, .step = -1, .item = -1}};
	if (state->crossroads) {
		const hs_step *step = &playbook->steps[state->step];
		found.count = 0;
		if (step->kind == HS_STEP_DECIDE) {
			found.what = WAY_EXIT;
			found.count = (int)step->exit_count;
		} else {
			add_outcomes(&found, step, false);
			/* What may be used again was read. */
			found.count -= found.count > 0 && found.outcomes[found.count - 1] == HS_UNREAD;
		}
		return found;
	}
	found.ask = hs_next_ask(engine);
	switch (found.ask.kind) {
	case HS_ASK_NONE:
	case HS_ASK_BLOCKED: found.what = WAY_NONE; found.count = 0; break;
	case HS_ASK_ENTRY: found.what = WAY_ENTRY; found.count = (int)playbook->entry_count; break;
	case HS_ASK_SHOWN: found.what = WAY_SHOWN; found.count = 2; break;
	case HS_ASK_CHOOSE: found.what = WAY_WORD; found.count = (int)playbook->steps[found.ask.step].choice_count; break;
	case HS_ASK_READ: return reading_ways(&playbook->steps[found.ask.step], &found.ask);
	default: break;
	}
	return found;
}

int hs_walk_ways(const hs_engine *engine)
{
	return ways_from(engine).count;
}

static const hs_step *step_at(const hs_engine *engine, const ways *from)
{
	int step = engine->state->crossroads ? engine->state->step : from->ask.step;
	return step >= 0 ? &engine->playbook->steps[step] : NULL;
}

void hs_walk_way_name(const hs_engine *engine, int way, hs_buf *out)
{
	ways from = ways_from(engine);
	const hs_step *step = step_at(engine, &from);
	switch (from.what) {
	case WAY_OUTCOME: hs_buf_str(out, hs_outcome_name(from.outcomes[way])); break;
	case WAY_EXIT: hs_buf_str(out, step->exits[way].target); break;
	case WAY_WORD: hs_buf_str(out, step->choices[way].word); break;
	case WAY_ENTRY: hs_buf_str(out, engine->playbook->entries[way].word); break;
	case WAY_SHOWN: hs_buf_str(out, way == 0 ? "shown" : "not shown"); break;
	case WAY_GO_ON: hs_buf_str(out, "read"); break;
	default: hs_buf_str(out, "done"); break;
	}
}

bool hs_walk_way_outcome(const hs_engine *engine, int way, hs_outcome *outcome)
{
	ways from = ways_from(engine);
	if (from.what != WAY_OUTCOME)
		return false;
	*outcome = from.outcomes[way];
	return true;
}

/* ---- taking one ---- */

void hs_engine_obliging(const hs_engine *engine, const hs_ask *ask, hs_buf *out)
{
	const hs_playbook *playbook = engine->playbook;
	switch (ask->kind) {
	case HS_ASK_GATE: hs_gate_obliging(&playbook->unit, &ask->gate, engine->by, out); break;
	case HS_ASK_STANDS: hs_buf_str(out, "unknown"); break;
	case HS_ASK_INTAKE: hs_buf_str(out, ask->item == HS_INTAKE_FIRST ? "done" : "none"); break;
	case HS_ASK_STOPPED: hs_buf_str(out, "smoke"); break;
	case HS_ASK_FITTED: hs_buf_str(out, "new part"); break;
	case HS_ASK_READ:
	case HS_ASK_CHOOSE:
	case HS_ASK_ENTRY:
	case HS_ASK_SHOWN:
	case HS_ASK_NONE:
	case HS_ASK_BLOCKED: break;
	default: hs_buf_str(out, "done"); break;
	}
}

static bool apply(hs_engine *engine, const hs_ask *ask, const char *text, hs_error *error)
{
	hs_buf why;
	hs_buf_init(&why);
	bool failed = false;
	bool good = hs_answer_apply(engine, ask, text, &why, &failed, error);
	if (!good && !failed) {
		hs_buf id;
		hs_buf_init(&id);
		hs_engine_ask_id(engine, ask, &id);
		hs_fail(error, HS_BAD_INPUT, "%s does not take \"%.60s\": %.200s", id.data, text, why.length > 0 ? why.data : "no reason given");
		hs_buf_free(&id);
	}
	hs_buf_free(&why);
	return good;
}

static bool take_done(hs_engine *engine, const hs_ask *ask, hs_error *error)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_str(&text, "");
	hs_engine_obliging(engine, ask, &text);
	bool good = apply(engine, ask, text.data != NULL ? text.data : "", error);
	hs_buf_free(&text);
	return good;
}

void hs_play_begin(hs_engine *engine)
{
	engine->quiet = true;
	engine->playing = true;
}

static bool came_to_rest(hs_engine *engine, bool good)
{
	hs_state *state = engine->state;
	if (good && hs_next_ask(engine).kind == HS_ASK_NONE && !state->paused)
		state->ended = true;
	return good;
}

static void time_comes(hs_engine *engine, const hs_ask *ask)
{
	if (ask->earliest_ms > engine->state->last_ms)
		engine->state->last_ms = ask->earliest_ms;
}

bool hs_play_text(hs_engine *engine, const hs_ask *ask, const char *text, hs_error *error)
{
	time_comes(engine, ask);
	return came_to_rest(engine, apply(engine, ask, text, error));
}

bool hs_play_done(hs_engine *engine, const hs_ask *ask, hs_error *error)
{
	time_comes(engine, ask);
	return came_to_rest(engine, take_done(engine, ask, error));
}

static void lead_goes_there(hs_engine *engine, const hs_step *step, int item)
{
	const hs_reading *reading = &step->readings[item];
	hs_world_keyed(engine, step);
	if (hs_joined_moved(engine->state, reading) && !hs_hookup_touches(reading->hookup))
		hs_course_lapse(engine, HS_HOLDS_HOOKUP);
}

bool hs_play_reading(hs_engine *engine, const hs_ask *ask, const hs_entry *entry, hs_error *error)
{
	time_comes(engine, ask);
	lead_goes_there(engine, &engine->playbook->steps[ask->step], ask->item);
	return came_to_rest(engine, hs_course_reading(engine, ask->item, entry, error));
}

static void slot_is(hs_engine *engine, const hs_reading *reading, hs_outcome outcome)
{
	hs_slot *slot = &hs_state_slots(engine->state)[reading->slot];
	*slot = (hs_slot){.taken = outcome != HS_UNREAD, .outcome = outcome, .kind = outcome == HS_UNREAD ? HS_ENTRY_UNREAD : HS_ENTRY_NUMBER};
}

static bool take_reading(hs_engine *engine, const ways *from, int way, hs_error *error)
{
	hs_state *state = engine->state;
	const hs_step *step = step_at(engine, from);
	hs_outcome outcome = from->what == WAY_OUTCOME ? from->outcomes[way] : HS_OKAY;
	bool crossed = state->crossroads;
	if (!crossed) {
		lead_goes_there(engine, step, from->ask.item);
		hs_physical_worked(&state->physical);
		slot_is(engine, &step->readings[from->ask.item], outcome);
		bool last = (size_t)from->ask.item + 1 == step->reading_count;
		if (!last && (from->what == WAY_GO_ON || outcome == HS_OKAY)) {
			state->item++;
			return true;
		}
		if (step->kind == HS_STEP_ADJUST) {
			hs_course_lapse(engine, HS_HOLDS_ADJUST);
			for (size_t i = 0; i < step->reading_count; i++)
				hs_state_slots(state)[step->readings[i].slot].lapsed = false;
		}
	} else if (step->kind != HS_STEP_DECIDE) {
		slot_is(engine, &step->readings[0], outcome);
	}
	if (from->what == WAY_EXIT)
		return hs_course_walked(engine, &step->exits[way], NULL, error);
	return hs_course_walked(engine, &step->branches[outcome], &outcome, error);
}

static bool take(hs_engine *engine, const ways *from, int way, hs_error *error)
{
	char count[48];
	switch (from->what) {
	case WAY_NONE: return hs_fail(error, HS_BAD_INPUT, "nothing is asked here");
	case WAY_WORD: return apply(engine, &from->ask, engine->playbook->steps[from->ask.step].choices[way].word, error);
	case WAY_ENTRY: return apply(engine, &from->ask, engine->playbook->entries[way].word, error);
	case WAY_SHOWN:
		snprintf(count, sizeof count, "%d of %d", way == 0 ? engine->playbook->symptom.tries : 0, engine->playbook->symptom.tries);
		return apply(engine, &from->ask, count, error);
	case WAY_DONE: return take_done(engine, &from->ask, error);
	default: return take_reading(engine, from, way, error);
	}
}

bool hs_walk_take(hs_engine *engine, int way, hs_error *error)
{
	ways from = ways_from(engine);
	hs_state *state = engine->state;
	memcpy(engine->before, state, engine->state_size);
	if (from.ask.earliest_ms > state->last_ms)
		state->last_ms = from.ask.earliest_ms;
	hs_arena_free(engine->turn);
	engine->turn = hs_arena_new();
	if (!take(engine, &from, way, error)) {
		memcpy(state, engine->before, engine->state_size);
		return false;
	}
	/* As the fold does: when it has come to where it was going and the unit is safe, the run rests. */
	if (!state->crossroads && hs_next_ask(engine).kind == HS_ASK_NONE && !state->paused)
		state->ended = true;
	return true;
}

/* ---- what still matters ---- */

static void mix(hs_walk_key *key, const void *bytes, size_t size)
{
	/* FNV-1a twice, from two offsets and with a second multiplier; a proof of some thousand states never meets a collision of 128 bits. */
	const unsigned char *at = bytes;
	for (size_t i = 0; i < size; i++) {
		key->a = (key->a ^ at[i]) * UINT64_C(0x100000001b3);
		key->b = (key->b ^ at[i]) * UINT64_C(0x9e3779b97f4a7c15);
		key->b ^= key->b >> 29;
	}
}

static void mix_number(hs_walk_key *key, uint64_t number)
{
	mix(key, &number, sizeof number);
}

static void mix_physical(hs_walk_key *key, const hs_physical *p)
{
	const uint64_t facts[] = {(uint64_t)p->power, p->out, p->waited, p->discharged, p->shorted, p->rechecked, p->charged, p->pairs_0,
	                          p->pairs_1, p->pairs_2, p->zones_dead, p->facts, p->stays_open, p->open, (uint64_t)(int64_t)p->keyed_step,
	                          (uint64_t)(int64_t)p->load_emitter, p->was_out, p->plug_later, p->uncounted, p->key_down, (uint64_t)p->load};
	mix(key, facts, sizeof facts);
}

static void mix_dangers(hs_walk_key *key, const hs_physical *p)
{
	const uint64_t facts[] = {p->barred, p->hooked, p->referenced, p->used, (uint64_t)(int64_t)p->danger_step};
	mix(key, facts, sizeof facts);
	mix(key, p->dangers, sizeof p->dangers);
}

static void mix_joined(hs_walk_key *key, const hs_joined *joined)
{
	mix_number(key, (uint64_t)(uintptr_t)joined->hookup);
	mix_number(key, (uint64_t)(uintptr_t)joined->at_text);
	mix_number(key, (uint64_t)(int64_t)joined->point << 3 | (uint64_t)joined->loose << 2 | (uint64_t)joined->confirmed << 1 | joined->attached);
}

static void mix_step(hs_walk_key *key, const hs_engine *engine, int index)
{
	const hs_step *step = &engine->playbook->steps[index];
	const hs_visit_state *visit = &hs_state_visits(engine, engine->state)[index];
	if (step->most > 0)
		mix_number(key, (uint64_t)(visit->visits > step->most ? step->most + 1 : visit->visits));
	const uint8_t matters = engine->matters[index];
	if (matters & MATTERS_AGAIN)
		mix_number(key, visit->choice >= 0);
	if (matters & MATTERS_OUTCOME)
		mix_number(key, visit->judged && visit->outcome == HS_OKAY);
	if (step->reading_count > 0 && (matters & MATTERS_READING)) {
		const hs_slot *slot = &hs_state_slots(engine->state)[step->readings[0].slot];
		mix_number(key, slot->taken && !slot->lapsed);
	}
}

hs_walk_key hs_walk_key_of(const hs_engine *engine)
{
	const hs_playbook *playbook = engine->playbook;
	const hs_state *state = engine->state;
	hs_walk_key key = {UINT64_C(0xcbf29ce484222325), UINT64_C(0x84222325cbf29ce4)};
	mix_physical(&key, &state->physical);
	if (playbook->unit.danger_count > 0)
		mix_dangers(&key, &state->physical);
	mix_joined(&key, &state->source);
	for (int i = 0; i < state->meter_count; i++)
		mix_joined(&key, &state->meters[i]);
	mix(&key, state->position, sizeof state->position);
	mix(&key, state->stood, sizeof state->stood);
	const uint64_t course[] = {state->leaving, state->stopping, state->stop_told, state->paused, state->ended, state->intake,
	                           state->entry_known, state->shown_known, (uint64_t)(int64_t)state->step, (uint64_t)state->item,
	                           (uint64_t)(int64_t)state->finding, (uint64_t)(int64_t)state->retest_of, (uint64_t)state->retest_at,
	                           state->crossroads};
	mix(&key, course, sizeof course);
	for (size_t i = 0; i < playbook->step_count; i++)
		mix_step(&key, engine, (int)i);
	for (size_t i = 0; i < playbook->counter_count; i++) {
		int count = hs_state_counters(engine, engine->state)[i];
		mix_number(&key, (uint64_t)(count > playbook->counters[i].most ? playbook->counters[i].most + 1 : count));
	}
	return key;
}
