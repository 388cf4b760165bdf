/* One answer to one ask: accepted with its effects, or refused with one plain sentence. */
#include "core/engine/answer_parts.h"
#include "core/engine/free.h"

#include <stdio.h>
#include <string.h>

static bool blank(const char *text)
{
	return text[strspn(text, " \t")] == '\0';
}

static bool refuse(hs_buf *why, const char *sentence)
{
	hs_buf_str(why, sentence);
	return false;
}

static bool said_done(const char *text)
{
	return hs_same_word(text, "done") || hs_same_word(text, "d");
}

/* Which word was typed, or its number in the list; -1 for neither. */
static int pick_word(const char *const *words, int count, const char *text)
{
	char digits[16];
	for (int i = 0; i < count; i++)
		if (hs_same_word(text, words[i]))
			return i;
	for (int i = 0; i < count; i++) {
		snprintf(digits, sizeof digits, "%d", i + 1);
		if (strcmp(text, digits) == 0)
			return i;
	}
	return -1;
}

static void energised_or_not(hs_engine *engine, hs_power before)
{
	hs_power after = engine->state->physical.power;
	if (hs_power_is_live(before) || !hs_power_is_live(after))
		return;
	hs_course_lapse(engine, HS_HOLDS_ENERGISE);
	/* A wait under power counts from when the power came. */
	engine->state->entered_ms = engine->state->last_ms;
}

static bool gate(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	hs_state *state = engine->state;
	hs_power before = state->physical.power;
	uint32_t barred = state->physical.barred;
	if (ask->gate.fact == HS_FACT_TESTER && hs_free_no_tester(engine, text, why))
		return false;
	hs_gate_result result = hs_way_take(&engine->playbook->unit, &state->physical, &ask->gate, text, state->last_ms, engine->by,
	                                    ask->step, why);
	if (result == HS_GATE_REFUSED)
		return false;
	energised_or_not(engine, before);
	/* What was found unsafe is left alone, and the way goes to a safe state. */
	if (state->physical.barred & ~barred)
		state->leaving = true;
	hs_buf id;
	hs_buf_init(&id);
	hs_gate_id(&engine->playbook->unit, &ask->gate, &id);
	hs_fact *fact = hs_fact_add(engine, HS_SAYS_GATE);
	fact->ask_id = hs_turn_text(engine, id.data);
	fact->step = ask->step;
	fact->before = before;
	fact->after = state->physical.power;
	fact->accepted = result == HS_GATE_PASSED;
	fact->text = hs_turn_text(engine, text);
	if (result == HS_GATE_FAILED)
		fact->why = hs_turn_text(engine, why->data);
	hs_buf_clear(why);
	hs_buf_free(&id);
	return true;
}

static bool done_opening(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	const hs_openable *thing = &engine->playbook->unit.openables[ask->item];
	bool open = ask->kind == HS_ASK_OPEN;
	if (!said_done(text)) {
		hs_buf_printf(why, "%s is %s in the record; type done once it is %s.", thing->id, open ? "still fitted" : "still on the open list",
		              open ? "off" : "back as it belongs");
		return false;
	}
	hs_world_move(engine, ask->item, open);
	hs_course_lapse(engine, HS_HOLDS_OPENING);
	return true;
}

static bool joined(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	const hs_step *step = &engine->playbook->steps[ask->step];
	if (!said_done(text))
		return refuse(why, "Type done once the lead is joined as shown.");
	if (ask->item == 0) {
		engine->state->source = (hs_joined){.hookup = step->inject.hookup, .point = step->inject.point, .at_text = step->inject.at_text, .confirmed = true};
	} else {
		hs_joined_put(engine->state, hs_joined_for(&step->readings[ask->item - 1], step->attach_dead, true));
	}
	/* With the power on only a line that carries nothing is joined: the load at the output stays what it was. */
	if (engine->state->physical.power >= HS_POWER_OFF)
		hs_physical_touch(&engine->state->physical);
	else
		hs_physical_unkey(&engine->state->physical);
	hs_course_lapse(engine, HS_HOLDS_HOOKUP);
	return true;
}

static bool stands(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	const hs_control *control = &engine->playbook->unit.controls[ask->item];
	if (hs_same_word(text, "unknown")) {
		engine->state->stood[ask->item] = HS_STOOD_UNKNOWN;
		return true;
	}
	int which = pick_word(control->positions, control->position_count, text);
	if (which < 0) {
		hs_buf_printf(why, "\"%.60s\" is no position of %s; choose ", text, control->id);
		for (int i = 0; i < control->position_count; i++)
			hs_buf_printf(why, "%s, ", control->positions[i]);
		hs_buf_str(why, "or unknown.");
		return false;
	}
	engine->state->stood[ask->item] = engine->state->position[ask->item] = (uint8_t)(which + 1);
	return true;
}

static bool turned(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	const hs_control *control = &engine->playbook->unit.controls[ask->item];
	const char *wanted = control->positions[ask->position - 1];
	if (!said_done(text) && !hs_same_word(text, wanted)) {
		hs_buf_printf(why, "%s is to stand at %s; type done once it does.", control->id, wanted);
		return false;
	}
	engine->state->position[ask->item] = engine->state->turned[ask->item] = (uint8_t)ask->position;
	if (control->zone >= 0)
		hs_physical_touch(&engine->state->physical);
	hs_course_lapse(engine, HS_HOLDS_ADJUST);
	return true;
}

static bool intake(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why)
{
	if (ask->item == HS_INTAKE_FIRST) {
		if (!said_done(text))
			return refuse(why, "Do what is listed first, then type done.");
	} else if (blank(text)) {
		return refuse(why, "Please write at least a word; \"none\" is an answer too.");
	}
	engine->state->intake |= 1u << ask->item;
	return true;
}

static bool begin_at(hs_engine *engine, int step, bool *failed, hs_error *error)
{
	*failed = !hs_course_enter(engine, step, error);
	return !*failed;
}

/* After the intake, a playbook with one entry goes on without asking. */
static bool begin_when_ready(hs_engine *engine, bool *failed, hs_error *error)
{
	hs_state *state = engine->state;
	hs_ask next = hs_next_judged(engine);
	if (next.kind != HS_ASK_BLOCKED || state->step >= 0 || state->finding >= 0)
		return true;
	return begin_at(engine, state->entry_to, failed, error);
}

int hs_answer_pick(const hs_choice *choices, size_t count, const char *text, hs_buf *why)
{
	const char *words[64];
	size_t offered = count < sizeof words / sizeof words[0] ? count : sizeof words / sizeof words[0];
	for (size_t i = 0; i < offered; i++)
		words[i] = choices[i].word;
	int which = pick_word(words, (int)offered, text);
	if (which >= 0)
		return which;
	if (blank(text))
		hs_buf_str(why, "Nothing was typed; choose ");
	else
		hs_buf_printf(why, "\"%.60s\" is not among the answers; choose ", text);
	for (size_t i = 0; i < count; i++)
		hs_buf_printf(why, "%s%s", i == 0 ? "" : i + 1 == count ? " or " : ", ", choices[i].word);
	hs_buf_str(why, " (or its number).");
	return -1;
}

static bool entry(hs_engine *engine, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	int which = hs_answer_pick(engine->playbook->entries, engine->playbook->entry_count, text, why);
	if (which < 0)
		return false;
	const hs_choice *chosen = &engine->playbook->entries[which];
	engine->state->entry_known = true;
	*failed = !hs_course_follow(engine, &chosen->branch, NULL, chosen->word, error);
	return !*failed;
}

static bool shown(hs_engine *engine, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_symptom *symptom = &engine->playbook->symptom;
	unsigned hits = 0, tries = 0;
	if (!hs_count_of(text, &hits, &tries)) {
		hs_buf_printf(why, "\"%.60s\" is not a count; write how often it showed out of how many tries, such as %d of %d.", text,
		              symptom->tries, symptom->tries);
		return false;
	}
	if (hits > tries)
		return refuse(why, "It cannot have shown more often than it was tried.");
	if ((int)tries < symptom->tries) {
		hs_buf_printf(why, "%u %s too few; try it %d times under the stated conditions.", tries, tries == 1 ? "try is" : "tries are",
		              symptom->tries);
		return false;
	}
	engine->state->shown_known = true;
	hs_world_shown(engine);
	if (hits == 0) {
		engine->state->entry_known = true;
		*failed = !hs_course_follow(engine, &symptom->absent, NULL, "not shown", error);
		return !*failed;
	}
	return true;
}

static bool chosen(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_step *step = &engine->playbook->steps[ask->step];
	int which = hs_answer_pick(step->choices, step->choice_count, text, why);
	if (which < 0)
		return false;
	hs_world_keyed(engine, step);
	hs_visit_state *visit = &hs_state_visits(engine, engine->state)[ask->step];
	const hs_choice *choice = &step->choices[which];
	bool seen_before = visit->choice >= 0 && choice->again.target != NULL;
	visit->choice = which;
	if (choice->stop) {
		/* Power first. The judgement waits where it is; a later resume asks the same question again. */
		hs_world_stop(engine->state);
		return true;
	}
	*failed = !hs_course_follow(engine, seen_before ? &choice->again : &choice->branch, NULL, choice->word, error);
	return !*failed;
}

static bool again(hs_engine *engine, const char *text, hs_buf *why)
{
	if (!said_done(text))
		return refuse(why, "Type done once it is done again, then read at once.");
	engine->state->act_ms = engine->state->last_ms;
	hs_course_lapse(engine, HS_HOLDS_DO);
	hs_physical_touch(&engine->state->physical);
	return true;
}

/* The words of other asks, typed from habit, name no part. */
static bool says_no_part(const char *text)
{
	static const char *const habits[] = {"done", "ok", "okay", "yes", "fitted", "new"};
	for (size_t i = 0; i < sizeof habits / sizeof *habits; i++)
		if (hs_same_word(text, habits[i]))
			return true;
	return false;
}

static bool simple_step(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_step *step = &engine->playbook->steps[ask->step];
	if (ask->kind == HS_ASK_TOLD && !blank(text) && !said_done(text))
		return refuse(why, "Press Enter or type done when you have read this.");
	if (ask->kind == HS_ASK_DONE && !said_done(text))
		return refuse(why, "Type done once it is done; Enter alone is not enough, because the unit is changed.");
	if (ask->kind == HS_ASK_WAITED && !said_done(text))
		return refuse(why, "Type done once the time is over.");
	if (ask->kind == HS_ASK_FITTED && (blank(text) || strlen(text) < 2 || says_no_part(text)))
		return refuse(why, "Write what was fitted: part number, lot or serial.");
	if (ask->kind == HS_ASK_DONE)
		hs_world_acted(engine, ask->step);
	if (ask->kind == HS_ASK_FITTED)
		hs_course_void_for(engine, step);
	if (ask->kind == HS_ASK_DONE || ask->kind == HS_ASK_FITTED)
		hs_physical_touch(&engine->state->physical);
	const hs_branch *next = &step->branches[HS_OKAY];
	if (ask->kind == HS_ASK_FITTED && step->retest_count > 0) {
		engine->state->retest_of = ask->step;
		engine->state->retest_at = 1;
		next = &step->retests[0];
	}
	*failed = !hs_course_follow(engine, next, NULL, "done", error);
	return !*failed;
}

static bool apply(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	*failed = false;
	bool taken = false;
	switch (ask->kind) {
	case HS_ASK_GATE: return gate(engine, ask, text, why);
	case HS_ASK_OPEN:
	case HS_ASK_CLOSE: return done_opening(engine, ask, text, why);
	case HS_ASK_JOIN: return joined(engine, ask, text, why);
	case HS_ASK_PART:
		if (!said_done(text))
			return refuse(why, "Type done once the hookup is off the unit.");
		if (ask->item == 0)
			engine->state->source = (hs_joined){.point = -1};
		else
			hs_joined_drop(engine->state, -1 - ask->item);
		hs_course_lapse(engine, HS_HOLDS_HOOKUP);
		return true;
	case HS_ASK_STANDS: return stands(engine, ask, text, why);
	case HS_ASK_SET: return turned(engine, ask, text, why);
	case HS_ASK_UNIT: return hs_free_unit_take(engine, ask->item, text, why);
	case HS_ASK_ACT: return hs_free_act(engine, text, why, failed, error);
	case HS_ASK_AGAIN: return again(engine, text, why);
	case HS_ASK_STOPPED:
		if (blank(text))
			return refuse(why, "Write in a few words what happened, now that the power is off.");
		engine->state->stop_told = true;
		return true;
	case HS_ASK_INTAKE: taken = intake(engine, ask, text, why); break;
	case HS_ASK_SHOWN: taken = shown(engine, text, why, failed, error); break;
	case HS_ASK_ENTRY: return entry(engine, text, why, failed, error);
	case HS_ASK_CHOOSE: return chosen(engine, ask, text, why, failed, error);
	case HS_ASK_READ: return hs_answer_value(engine, ask, text, why, failed, error);
	case HS_ASK_TOLD:
	case HS_ASK_DONE:
	case HS_ASK_WAITED:
	case HS_ASK_FITTED: return simple_step(engine, ask, text, why, failed, error);
	default: return refuse(why, "Nothing is asked now.");
	}
	return taken && begin_when_ready(engine, failed, error);
}

bool hs_answer_apply(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	bool taken = apply(engine, ask, text, why, failed, error);
	if (taken && hs_ask_is_judged(ask))
		hs_physical_worked(&engine->state->physical);
	return taken;
}
