/* What an answer does to the world: it stays, whatever becomes of the judgement. */
#include "core/engine/answer_parts.h"

void hs_world_move(hs_engine *engine, int openable, bool open)
{
	if (open)
		hs_physical_open(&engine->playbook->unit, &engine->state->physical, openable);
	else
		hs_physical_close(&engine->playbook->unit, &engine->state->physical, openable);
	hs_fact *fact = hs_fact_add(engine, open ? HS_SAYS_OPENED : HS_SAYS_CLOSED_UP);
	fact->item = openable;
}

void hs_world_shown(hs_engine *engine)
{
	if (engine->playbook->symptom.power == HS_NEED_KEYED)
		hs_physical_keyed(&engine->state->physical, engine->state->last_ms);
}

void hs_world_keyed(hs_engine *engine, const hs_step *step)
{
	if (hs_step_need(engine->playbook, step) == HS_NEED_KEYED)
		hs_physical_keyed(&engine->state->physical, engine->state->last_ms);
}

void hs_world_stop(hs_state *state)
{
	hs_physical_void(&state->physical);
	state->stopping = true;
	state->stop_told = false;
}

static void apply_changes(hs_engine *engine, const hs_step *step)
{
	for (int i = 0; i < engine->playbook->unit.openable_count; i++) {
		if (step->makes >> i & 1u)
			hs_world_move(engine, i, true);
		if (step->undoes >> i & 1u)
			hs_world_move(engine, i, false);
	}
}

void hs_world_acted(hs_engine *engine, int step)
{
	apply_changes(engine, &engine->playbook->steps[step]);
	hs_course_lapse(engine, HS_HOLDS_DO);
	hs_physical_used(&engine->state->physical, engine->playbook->steps[step].substances, engine->state->last_ms);
	engine->state->act_step = step;
	engine->state->act_ms = engine->state->last_ms;
}

void hs_answer_physical(hs_engine *engine, const hs_ask *ask, const char *text)
{
	hs_physical_worked(&engine->state->physical);
	if (ask->kind == HS_ASK_SHOWN)
		hs_world_shown(engine);
	if (ask->step < 0)
		return;
	const hs_step *step = &engine->playbook->steps[ask->step];
	hs_buf why;
	hs_buf_init(&why);
	if (ask->kind == HS_ASK_DONE) {
		hs_world_acted(engine, ask->step);
		hs_physical_touch(&engine->state->physical);
	} else if (ask->kind == HS_ASK_FITTED) {
		hs_course_void_for(engine, step);
		hs_physical_touch(&engine->state->physical);
	} else if (ask->kind == HS_ASK_READ) {
		hs_world_keyed(engine, step);
		hs_joined_moved(engine->state, &step->readings[ask->item]);
	} else if (ask->kind == HS_ASK_CHOOSE) {
		int which = hs_answer_pick(step->choices, step->choice_count, text, &why);
		hs_world_keyed(engine, step);
		if (which >= 0 && step->choices[which].stop)
			hs_world_stop(engine->state);
	}
	hs_buf_free(&why);
}
