/* The fold: events in, state and facts out. */
#include "core/engine/state.h"

#include <stdlib.h>
#include <string.h>

#include "core/engine/free.h"
#include "halfsplit/unit/check.h"

static void begin_state(hs_engine *engine)
{
	hs_state *state = engine->state;
	const hs_playbook *playbook = engine->playbook;
	memset(state, 0, engine->state_size);
	hs_physical_begin(&state->physical);
	state->source.point = -1;
	state->step = state->finding = state->act_step = -1;
	state->judged_step = state->judged_item = -1;
	state->last_slot = state->retest_of = -1;
	state->entry_to = playbook->entry_count > 0 ? playbook->entries[0].branch.to : playbook->step_count > 0 ? 0 : -1;
	if (engine->from > 0) {
		state->entry_to = engine->from - 1;
		state->entry_known = state->shown_known = true;
	}
	for (size_t i = 0; i < engine->rooms.suspects; i++)
		hs_state_suspects(engine, state)[i].by_step = -1;
	for (size_t i = 0; i < engine->rooms.steps; i++)
		hs_state_visits(engine, state)[i].choice = -1;
	engine->has_last = false;
	if (engine->free != NULL)
		hs_free_begin(engine);
}

/* model: the engine's own when it is a freehand run, else NULL. */
static hs_engine *make(const hs_playbook *playbook, hs_free *model, const char *by)
{
	hs_engine *engine = hs_alloc(sizeof *engine);
	engine->playbook = playbook;
	engine->free = model;
	engine->arena = hs_arena_new();
	engine->turn = hs_arena_new();
	engine->by = hs_arena_str(engine->arena, by != NULL ? by : "");
	engine->utc = "";
	hs_engine_make_room(engine, (hs_rooms){playbook->slot_count, playbook->suspect_count, playbook->step_count, playbook->counter_count});
	hs_buf_init(&engine->last_limits);
	return engine;
}

hs_engine *hs_engine_new(const hs_playbook *playbook, const char *by, hs_error *error)
{
	hs_problems problems = {0};
	if (!playbook->found_safe)
		hs_unit_check(playbook, &problems);
	bool safe = hs_problems_clean(&problems, error);
	hs_problems_free(&problems);
	if (!safe)
		return NULL;
	hs_engine *engine = make(playbook, NULL, by);
	for (size_t i = 0; i < playbook->step_count; i++) {
		for (size_t j = 0; j < playbook->steps[i].reading_count; j++) {
			engine->slot_step[playbook->steps[i].readings[j].slot] = (int)i;
			engine->slot_item[playbook->steps[i].readings[j].slot] = (int)j;
		}
	}
	begin_state(engine);
	return engine;
}

bool hs_engine_begin_at(hs_engine *engine, const char *step, hs_error *error)
{
	const hs_playbook *playbook = engine->playbook;
	int at = hs_playbook_step(playbook, step);
	if (at < 0) {
		hs_fail(error, HS_BAD_INPUT, "the playbook %s has no step \"%.80s\"", playbook->id, step);
		const char **known = hs_arena_alloc(engine->turn, (playbook->step_count + 1) * sizeof *known);
		for (size_t i = 0; i < playbook->step_count; i++)
			known[i] = playbook->steps[i].id;
		const char *nearest = hs_nearest(step, known, playbook->step_count);
		return nearest ? hs_fail_hint(error, "did you mean \"%s\"?", nearest) : false;
	}
	if (playbook->steps[at].kind == HS_STEP_FINDING) {
		hs_fail(error, HS_BAD_INPUT, "\"%s\" is a finding, and nothing leads on from there", step);
		return hs_fail_hint(error, "name a step that asks something");
	}
	engine->from = at + 1;
	begin_state(engine);
	return true;
}

hs_engine *hs_engine_new_freehand(const hs_playbook *base, const char *family, const hs_kit *kit, const char *by, hs_error *error)
{
	hs_free *model = hs_free_new(base, family, kit);
	hs_problems problems = {0};
	hs_unit_check(&model->book, &problems);
	bool safe = hs_problems_clean(&problems, error);
	hs_problems_free(&problems);
	if (!safe) {
		hs_free_free(model);
		return NULL;
	}
	hs_engine *engine = make(&model->book, model, by);
	begin_state(engine);
	return engine;
}

void hs_engine_old_acts(hs_engine *engine)
{
	if (engine->free != NULL)
		engine->free->old = true;
}

void hs_engine_free(hs_engine *engine)
{
	if (engine == NULL)
		return;
	hs_free_free(engine->free);
	hs_arena_free(engine->arena);
	hs_arena_free(engine->turn);
	free(engine->state);
	free(engine->before);
	free(engine->slot_step);
	free(engine->slot_item);
	free(engine->matters);
	free(engine->log);
	free(engine->facts);
	hs_buf_free(&engine->last_limits);
	free(engine);
}

hs_ask hs_engine_next(const hs_engine *engine)
{
	return hs_next_ask(engine);
}

static void tell_next(hs_engine *engine)
{
	hs_ask ask = hs_next_ask(engine);
	if (ask.kind == HS_ASK_NONE)
		return;
	hs_buf id;
	hs_buf_init(&id);
	hs_engine_ask_id(engine, &ask, &id);
	hs_fact *fact = hs_fact_add(engine, HS_SAYS_ASKED);
	fact->ask_id = hs_turn_text(engine, id.data);
	fact->step = ask.step;
	fact->item = ask.item;
	fact->earliest_ms = ask.earliest_ms;
	hs_buf_free(&id);
}

void hs_engine_open(hs_engine *engine)
{
	engine->fact_count = 0;
	tell_next(engine);
}

const hs_fact *hs_engine_facts(const hs_engine *engine, size_t *count)
{
	*count = engine->fact_count;
	return engine->facts;
}

/* Time passes before anything else happens: a long silence means nobody watched the plug. */
static bool time_passes(hs_engine *engine, int64_t now_ms, int64_t earliest_ms)
{
	hs_state *state = engine->state;
	int64_t since = earliest_ms > state->last_ms ? earliest_ms : state->last_ms;
	bool long_break = (double)(now_ms - since) > hs_shop_or_default(engine->playbook->unit.shop)->break_s * 1000.0 && state->physical.power != HS_POWER_UNKNOWN;
	if (now_ms > state->last_ms)
		state->last_ms = now_ms;
	if (long_break) {
		hs_physical_void(&state->physical);
		hs_leads_lapse(engine, NULL);
	}
	return long_break;
}

static void tell_void(hs_engine *engine, hs_power before, const char *why)
{
	hs_fact *fact = hs_fact_add(engine, HS_SAYS_GATE);
	fact->ask_id = "gate/unknown";
	fact->before = before;
	fact->after = engine->state->physical.power;
	fact->why = why;
}

static const hs_ask nothing_asked = {.kind = HS_ASK_NONE, .step = -1, .item = -1};

/* earliest_ms is kept with every event, because the length of a break counts from it. */
static void log_event(hs_engine *engine, const hs_event *event, const hs_ask *ask, int64_t earliest_ms, bool accepted)
{
	engine->log = hs_grow(engine->log, &engine->log_room, engine->log_count + 1, sizeof *engine->log);
	hs_logged *entry = &engine->log[engine->log_count++];
	memset(entry, 0, sizeof *entry);
	entry->kind = event->kind;
	entry->ask = *ask;
	entry->ask.earliest_ms = earliest_ms;
	entry->text = hs_arena_str(engine->arena, event->text != NULL ? event->text : "");
	entry->by = hs_arena_str(engine->arena, event->by != NULL ? event->by : "");
	entry->utc = hs_arena_str(engine->arena, event->utc != NULL ? event->utc : "");
	entry->ms = event->mono_ms;
	entry->accepted = accepted;
	entry->made = engine->free != NULL && ask->kind == HS_ASK_ACT ? engine->free->made : -1;
}

/* When the session has come to where it was going (a finding, a pause, a stop) and the unit is safe, it rests. */
static void come_to_rest(hs_engine *engine)
{
	hs_state *state = engine->state;
	if (state->ended || state->paused || hs_next_ask(engine).kind != HS_ASK_NONE)
		return;
	if (state->finding >= 0 && !state->leaving && !state->stopping) {
		state->ended = true;
		hs_fact_add(engine, HS_SAYS_ENDED)->why = "finding";
		return;
	}
	state->paused = true;
	hs_fact_add(engine, HS_SAYS_PAUSED)->why = state->stopping ? "stop" : "leave";
}

static void resume_state(hs_engine *engine, int64_t now_ms)
{
	hs_state *state = engine->state;
	hs_physical_void(&state->physical);
	state->source.confirmed = false;
	for (int i = 0; i < state->meter_count; i++)
		state->meters[i].confirmed = false;
	memset(state->position, 0, sizeof state->position);
	state->paused = state->leaving = false;
	/* What smoked may smoke still: a stop goes on until the power is out and it is told what happened. */
	state->stopping = state->stopping && !state->stop_told;
	/* Monotonic time starts anew with the program, so a wait under way starts again: the cautious way round. */
	state->last_ms = now_ms;
	state->entered_ms = state->physical.keyed_ms = state->physical.powered_ms = now_ms;
	for (int i = 0; i < HS_DANGERS_MOST; i++)
		state->physical.danger_ms[i] = now_ms;
	state->act_ms = INT64_MIN / 2; /* however short the break was, too long ago */
	hs_course_lapse(engine, HS_HOLDS_ALL);
	hs_leads_lapse(engine, NULL);
}

/* ---- refolding: physical facts over all events, judgement over the answers that survive ---- */

static bool refold_answer(hs_engine *engine, hs_logged *entry, hs_error *error)
{
	hs_buf why;
	hs_buf_init(&why);
	bool failed = false, good = true;
	if (engine->free != NULL)
		engine->free->made = entry->made;
	if (entry->ask.kind == HS_ASK_UNIT && entry->retracted) {
		/* Told anew: nothing of it stands. */
	} else if (!hs_ask_is_judged(&entry->ask)) {
		hs_answer_apply(engine, &entry->ask, entry->text, &why, &failed, error);
	} else if (entry->retracted || entry->aside) {
		hs_answer_physical(engine, &entry->ask, entry->text);
	} else {
		hs_ask wanted = hs_next_judged(engine);
		if (hs_ask_same(&wanted, &entry->ask)) {
			hs_answer_apply(engine, &entry->ask, entry->text, &why, &failed, error);
			good = !failed;
		} else {
			entry->aside = true;
			hs_answer_physical(engine, &entry->ask, entry->text);
			engine->quiet = false;
			hs_fact *fact = hs_fact_add(engine, HS_SAYS_SET_ASIDE);
			hs_buf id;
			hs_buf_init(&id);
			hs_engine_ask_id(engine, &entry->ask, &id);
			fact->ask_id = hs_turn_text(engine, id.data);
			fact->text = entry->text;
			engine->quiet = true;
			hs_buf_free(&id);
		}
	}
	hs_buf_free(&why);
	return good;
}

/* Whoever takes something back, or leaves, at a prompt that is read with the key down may have it down still. */
static void may_be_keyed(hs_engine *engine, const hs_ask *ask)
{
	bool asks = ask->kind == HS_ASK_READ || ask->kind == HS_ASK_CHOOSE;
	if (asks)
		hs_world_keyed(engine, &engine->playbook->steps[ask->step]);
}

static bool refold(hs_engine *engine, hs_error *error)
{
	bool good = true;
	begin_state(engine);
	engine->quiet = true;
	for (size_t i = 0; good && i < engine->log_count; i++) {
		hs_logged *entry = &engine->log[i];
		engine->by = entry->by;
		engine->utc = entry->utc;
		if (entry->kind == HS_EVENT_RESUME) {
			resume_state(engine, entry->ms);
			continue;
		}
		time_passes(engine, entry->ms, entry->ask.earliest_ms);
		if (entry->kind == HS_EVENT_ANSWER && entry->accepted)
			good = refold_answer(engine, entry, error);
		else if (entry->kind == HS_EVENT_REDO || entry->kind == HS_EVENT_LEAVE)
			may_be_keyed(engine, &entry->ask);
		if (entry->kind == HS_EVENT_LEAVE) {
			engine->state->leaving = true;
		} else if (entry->kind == HS_EVENT_STOP) {
			hs_world_stop(engine->state);
		}
		good = good && hs_free_arrive(engine, error);
	}
	engine->quiet = false;
	return good;
}

/* ---- one event ---- */

static bool not_taken(hs_engine *engine, const hs_event *event, const hs_ask *ask, const char *id, const char *why, hs_taken *taken)
{
	hs_fact *fact = hs_fact_add(engine, HS_SAYS_ANSWERED);
	fact->ask_id = hs_turn_text(engine, id);
	fact->step = ask->step;
	fact->text = hs_turn_text(engine, event->text);
	fact->why = hs_turn_text(engine, why);
	fact->accepted = false;
	log_event(engine, event, ask, ask->earliest_ms, false);
	*taken = HS_NOT_TAKEN;
	return true;
}

static void too_early(const hs_ask *ask, int64_t now_ms, hs_buf *why)
{
	int64_t left = (ask->earliest_ms - now_ms + 999) / 1000;
	hs_buf_printf(why, "Too early: the wait has %lld s to go and cannot be shortened.", (long long)left);
}

static void late(const hs_engine *engine, const hs_ask *ask, hs_buf *why)
{
	const hs_state *state = engine->state;
	const hs_reading *reading = &engine->playbook->steps[ask->step].readings[ask->item];
	const char *act = engine->playbook->steps[state->act_step].id;
	if (state->act_ms < 0)
		hs_buf_printf(why, "Too late: there was a break since %s, and this is to be read within %g s of it. It is done again first.", act,
		              reading->within_s);
	else
		hs_buf_printf(why, "Too late: this came %.0f s after %s, and is to be read within %g s of it. It is done again first.",
		              (double)(state->last_ms - state->act_ms) / 1000.0, act, reading->within_s);
}

static bool take_answer(hs_engine *engine, const hs_event *event, hs_taken *taken, hs_error *error)
{
	hs_ask ask = hs_next_ask(engine);
	hs_buf id, why;
	hs_buf_init(&id);
	hs_buf_init(&why);
	hs_engine_ask_id(engine, &ask, &id);
	bool good = true, failed = false;
	hs_power before = engine->state->physical.power;
	if (ask.kind == HS_ASK_NONE || event->ask == NULL || strcmp(id.data, event->ask) != 0) {
		good = hs_fail(error, HS_BAD_INPUT, "An answer to %s came, but %s is asked now.", event->ask != NULL ? event->ask : "nothing",
		               ask.kind == HS_ASK_NONE ? "nothing" : id.data);
		goto out;
	}
	if (!hs_taken_fits(engine, &ask, event, error)) {
		good = false;
		goto out;
	}
	bool long_break = time_passes(engine, event->mono_ms, ask.earliest_ms);
	hs_ask now = hs_next_ask(engine);
	if (long_break && !hs_ask_same(&now, &ask)) {
		double minutes = hs_shop_or_default(engine->playbook->unit.shop)->break_s / 60.0;
		hs_buf_printf(&why, "More than %.3g minutes have passed since the last answer, so the power state is unknown again; its gates come first, then this is asked again.",
		              minutes);
		good = not_taken(engine, event, &ask, id.data, why.data, taken);
		tell_void(engine, before, "long break");
		goto out;
	}
	if (ask.earliest_ms > 0 && event->mono_ms < ask.earliest_ms) {
		too_early(&ask, event->mono_ms, &why);
		good = not_taken(engine, event, &ask, id.data, why.data, taken);
		goto out;
	}
	if (hs_too_late(engine, &ask) && !hs_says_unread(event->text)) {
		late(engine, &ask, &why);
		good = not_taken(engine, event, &ask, id.data, why.data, taken);
		goto out;
	}
	if (engine->free != NULL && engine->free->old && event->refused != NULL) {
		good = not_taken(engine, event, &ask, id.data, event->refused, taken);
		if (long_break)
			tell_void(engine, before, "long break");
		goto out;
	}
	size_t first = engine->fact_count;
	hs_fact *answered = hs_fact_add(engine, HS_SAYS_ANSWERED);
	answered->ask_id = hs_turn_text(engine, id.data);
	answered->text = hs_turn_text(engine, event->text);
	answered->step = ask.step;
	answered->item = ask.item;
	answered->accepted = true;
	if (long_break)
		tell_void(engine, before, "long break");
	if (engine->free != NULL)
		engine->free->made = -1;
	if (hs_answer_apply(engine, &ask, event->text != NULL ? event->text : "", &why, &failed, error)) {
		log_event(engine, event, &ask, ask.earliest_ms, true);
		*taken = HS_TAKEN;
	} else if (failed) {
		good = false;
	} else {
		engine->fact_count = first;
		good = not_taken(engine, event, &ask, id.data, why.data, taken);
		if (long_break)
			tell_void(engine, before, "long break");
	}
out:
	hs_buf_free(&id);
	hs_buf_free(&why);
	return good;
}

static bool take_redo(hs_engine *engine, const hs_event *event, int64_t earliest_ms, hs_taken *taken, hs_error *error)
{
	hs_logged *last = NULL;
	for (size_t i = 0; i < engine->log_count; i++)
		if (hs_can_be_redone(engine, &engine->log[i]))
			last = &engine->log[i];
	hs_ask nothing = nothing_asked;
	nothing.earliest_ms = earliest_ms;
	if (last == NULL || engine->state->stopping)
		return not_taken(engine, event, &nothing, "redo",
		                 last == NULL ? "There is no reading or observation to take back; gates and work done on the unit stay as they are."
		                              : "On the way to a safe state nothing is taken back; that can wait until the run is resumed.",
		                 taken);
	hs_buf id;
	hs_buf_init(&id);
	hs_engine_ask_id(engine, &last->ask, &id);
	hs_fact *fact = hs_fact_add(engine, HS_SAYS_REDONE);
	fact->ask_id = hs_turn_text(engine, id.data);
	fact->text = last->text;
	hs_buf_free(&id);
	last->retracted = true;
	hs_ask at = hs_next_ask(engine);
	log_event(engine, event, &at, earliest_ms, true);
	*taken = HS_TAKEN;
	const char *by = engine->by, *utc = engine->utc;
	bool good = refold(engine, error);
	if (!good)
		last->retracted = false;
	engine->by = by;
	engine->utc = utc;
	return good;
}

static void take_course(hs_engine *engine, const hs_event *event, int64_t earliest_ms)
{
	hs_state *state = engine->state;
	hs_power before = state->physical.power;
	hs_ask at = event->kind == HS_EVENT_LEAVE ? hs_next_ask(engine) : nothing_asked;
	log_event(engine, event, &at, earliest_ms, true);
	switch (event->kind) {
	case HS_EVENT_NOTE: hs_fact_add(engine, HS_SAYS_NOTED)->text = hs_turn_text(engine, event->text); break;
	case HS_EVENT_PAUSE: {
		state->paused = true;
		hs_fact *fact = hs_fact_add(engine, HS_SAYS_PAUSED);
		fact->why = "pause";
		fact->text = hs_turn_text(engine, event->text);
		break;
	}
	case HS_EVENT_LEAVE:
		if (state->leaving) {
			state->paused = true;
			hs_fact_add(engine, HS_SAYS_PAUSED)->why = "leave at once";
		}
		may_be_keyed(engine, &at);
		state->leaving = true;
		break;
	case HS_EVENT_STOP:
		hs_world_stop(state);
		tell_void(engine, before, "stop");
		break;
	default: break;
	}
}

static bool clock_stepped_back(const hs_engine *engine, const hs_event *event)
{
	return event->utc != NULL && engine->utc != NULL && strcmp(event->utc, engine->utc) < 0;
}

static bool dispatch(hs_engine *engine, const hs_event *event, const char *old_by, hs_taken *taken, hs_error *error)
{
	hs_state *state = engine->state;
	*taken = HS_TAKEN;
	if (state->ended && event->kind != HS_EVENT_NOTE)
		return hs_fail(error, HS_BAD_INPUT, "This run has ended; %s can no longer be part of it.", hs_event_name(event->kind));
	if (state->paused && event->kind != HS_EVENT_RESUME)
		return hs_fail(error, HS_BAD_INPUT, "This run is paused; resume it first.");
	if (event->kind != HS_EVENT_RESUME && event->by != NULL && strcmp(event->by, old_by) != 0)
		return hs_fail(error, HS_BAD_INPUT, "%.60s answers, but %.60s is at the bench: a change of person is a pause and a resume.", event->by,
		               old_by);
	if (event->kind == HS_EVENT_ANSWER)
		return take_answer(engine, event, taken, error);
	if (event->kind == HS_EVENT_RESUME) {
		hs_power before = state->physical.power;
		log_event(engine, event, &nothing_asked, 0, true);
		resume_state(engine, event->mono_ms);
		hs_fact_add(engine, HS_SAYS_RESUMED)->text = hs_turn_text(engine, event->by);
		tell_void(engine, before, "resumed");
		return true;
	}
	int64_t earliest_ms = hs_next_ask(engine).earliest_ms;
	hs_power before = state->physical.power;
	bool long_break = time_passes(engine, event->mono_ms, earliest_ms);
	if (event->kind == HS_EVENT_REDO) {
		if (!take_redo(engine, event, earliest_ms, taken, error))
			return false;
	} else {
		take_course(engine, event, earliest_ms);
	}
	if (long_break)
		tell_void(engine, before, "long break");
	return true;
}

bool hs_engine_take(hs_engine *engine, const hs_event *event, hs_taken *taken, hs_error *error)
{
	const char *old_by = engine->by, *old_utc = engine->utc;
	size_t old_log = engine->log_count;
	hs_arena_free(engine->turn);
	engine->turn = hs_arena_new();
	engine->fact_count = 0;
	memcpy(engine->before, engine->state, engine->state_size);
	bool stepped_back = clock_stepped_back(engine, event);
	if (event->by != NULL && strcmp(event->by, engine->by) != 0)
		engine->by = hs_arena_str(engine->arena, event->by);
	if (event->utc != NULL)
		engine->utc = hs_arena_str(engine->arena, event->utc);
	if (!dispatch(engine, event, old_by, taken, error) || !hs_free_arrive(engine, error)) {
		memcpy(engine->state, engine->before, engine->state_size);
		engine->by = old_by;
		engine->utc = old_utc;
		engine->log_count = old_log;
		engine->fact_count = 0;
		return false;
	}
	if (stepped_back)
		hs_fact_add(engine, HS_SAYS_WARNED)->why = "The clock of this machine stepped back; the order of the lines holds, not their times.";
	come_to_rest(engine);
	tell_next(engine);
	return true;
}
