#include "core/engine/state.h"

#include <string.h>

hs_fact *hs_fact_add(hs_engine *engine, hs_fact_kind kind)
{
	/* While refolding, facts land behind the last one and are not kept: they were told when they first happened. */
	size_t at = engine->fact_count;
	engine->facts = hs_grow(engine->facts, &engine->fact_room, at + 1, sizeof *engine->facts);
	hs_fact *fact = &engine->facts[at];
	memset(fact, 0, sizeof *fact);
	fact->kind = kind;
	fact->step = fact->to = fact->item = -1;
	if (!engine->quiet)
		engine->fact_count = at + 1;
	return fact;
}

const char *hs_turn_text(hs_engine *engine, const char *text)
{
	return text == NULL || engine->quiet ? "" : hs_arena_str(engine->turn, text);
}

static void say_reason(hs_buf *out, const char *word, const char *text)
{
	hs_buf_clear(out);
	hs_buf_str(out, word);
	if (text[0] != '\0')
		hs_buf_printf(out, ": %s", text);
}

static bool stops(const hs_engine *engine, const hs_logged *entry)
{
	if (entry->kind == HS_EVENT_STOP)
		return true;
	if (entry->kind != HS_EVENT_ANSWER || !entry->accepted || entry->ask.kind != HS_ASK_CHOOSE)
		return false;
	const hs_step *step = &engine->playbook->steps[entry->ask.step];
	for (size_t i = 0; i < step->choice_count; i++)
		if (step->choices[i].stop && hs_same_word(step->choices[i].word, entry->text))
			return true;
	return false;
}

bool hs_engine_stopped_by(const hs_engine *engine, hs_buf *out)
{
	const hs_logged *stop = NULL;
	for (size_t i = 0; i < engine->log_count; i++)
		if (stops(engine, &engine->log[i]))
			stop = &engine->log[i];
	if (!engine->state->stopping || engine->state->stop_told)
		return false;
	hs_buf_str(out, stop != NULL && stop->by != NULL ? stop->by : engine->by);
	if (stop != NULL && stop->text[0] != '\0')
		hs_buf_printf(out, ": %s", stop->text);
	return true;
}

bool hs_engine_paused_because(const hs_engine *engine, hs_buf *out)
{
	bool stopped = false;
	hs_buf reason;
	hs_buf_init(&reason);
	for (size_t i = 0; i < engine->log_count; i++) {
		const hs_logged *entry = &engine->log[i];
		bool said = entry->text[0] != '\0';
		stopped = (stopped || entry->kind == HS_EVENT_STOP) && entry->kind != HS_EVENT_RESUME;
		if (entry->kind == HS_EVENT_RESUME)
			hs_buf_clear(&reason);
		else if (entry->kind == HS_EVENT_STOP)
			say_reason(&reason, "stop", entry->text);
		else if (!stopped && (entry->kind == HS_EVENT_PAUSE || entry->kind == HS_EVENT_LEAVE) && said)
			say_reason(&reason, hs_event_name(entry->kind), entry->text);
		else if (entry->kind == HS_EVENT_ANSWER && entry->accepted && entry->ask.kind == HS_ASK_STOPPED)
			say_reason(&reason, "stop", entry->text);
	}
	bool any = reason.length > 0;
	hs_buf_add(out, reason.data, reason.length);
	hs_buf_free(&reason);
	return any;
}
