/* What is joined to the unit: the source, and every hookup a reading was taken with until something took its place. */
#include "core/engine/state.h"

#include <string.h>

static bool same_text(const char *a, const char *b)
{
	return a == b || (a != NULL && b != NULL && strcmp(a, b) == 0);
}

/* A place that is no declared point is known by the words it was written in. */
static bool is_at(const hs_joined *joined, const hs_reading *reading)
{
	return joined->hookup == reading->hookup && joined->point == reading->point && joined->loose == reading->loose &&
	       (reading->point >= 0 || same_text(joined->at_text, reading->at_text));
}

hs_joined hs_joined_for(const hs_reading *reading, bool attached, bool confirmed)
{
	return (hs_joined){.hookup = reading->hookup, .point = reading->point, .at_text = reading->at_text, .attached = attached,
	                   .confirmed = confirmed, .loose = reading->loose};
}

const hs_joined *hs_joined_meter(const hs_state *state, const hs_reading *reading)
{
	for (int i = 0; i < state->meter_count; i++)
		if (is_at(&state->meters[i], reading))
			return &state->meters[i];
	return NULL;
}

bool hs_joined_share(const hs_hookup *a, const hs_hookup *b)
{
	if (a == b)
		return true;
	for (size_t i = 0; i < a->count; i++)
		for (size_t j = 0; j < b->count; j++)
			if (a->parts[i] == b->parts[j])
				return true;
	return a->instrument != NULL && a->instrument == b->instrument;
}

static bool hangs(const hs_joined *joined)
{
	bool held = !joined->attached && !joined->confirmed && hs_hookup_touches(joined->hookup);
	return !held && !joined->loose;
}

static void say_joined(const hs_engine *engine, const hs_joined *joined, hs_buf *out)
{
	const char *at = joined->point >= 0 ? engine->playbook->unit.points[joined->point].id : joined->at_text;
	hs_buf_str(out, joined->hookup->id);
	if (at != NULL)
		hs_buf_printf(out, " at %s", at);
	if (joined->attached)
		hs_buf_str(out, ", attached inside");
}

bool hs_engine_joined(const hs_engine *engine, size_t index, hs_buf *out)
{
	const hs_state *state = engine->state;
	size_t found = 0;
	if (state->source.hookup != NULL && found++ == index) {
		say_joined(engine, &state->source, out);
		return true;
	}
	for (int i = 0; i < state->meter_count; i++)
		if (hangs(&state->meters[i]) && found++ == index) {
			say_joined(engine, &state->meters[i], out);
			return true;
		}
	return false;
}

bool hs_engine_control_left(const hs_engine *engine, int control, hs_buf *out)
{
	const hs_control *it = &engine->playbook->unit.controls[control];
	uint8_t turned = engine->state->turned[control], stood = engine->state->stood[control];
	if (turned == 0 || turned == stood)
		return false;
	hs_buf_printf(out, "%s stood ", it->title != NULL ? it->title : it->id);
	if (stood == HS_STOOD_UNKNOWN)
		hs_buf_str(out, "unknown");
	else
		hs_buf_printf(out, "at %s", it->positions[stood - 1]);
	hs_buf_printf(out, " at the start; it now stands at %s", it->positions[turned - 1]);
	return true;
}

void hs_joined_drop(hs_state *state, int meter)
{
	state->meter_count--;
	for (int i = meter; i < state->meter_count; i++)
		state->meters[i] = state->meters[i + 1];
}

void hs_joined_put(hs_state *state, hs_joined joined)
{
	for (int i = state->meter_count - 1; i >= 0; i--)
		if (hs_joined_share(state->meters[i].hookup, joined.hookup))
			hs_joined_drop(state, i);
	if (state->meter_count == HS_METERS_MOST)
		hs_joined_drop(state, 0);
	state->meters[state->meter_count++] = joined;
}

bool hs_joined_moved(hs_state *state, const hs_reading *reading)
{
	if (reading->hookup == NULL || hs_joined_meter(state, reading) != NULL)
		return false;
	hs_joined_put(state, hs_joined_for(reading, false, false));
	return true;
}
