/* The names of asks, as answers files and transcripts write them, and what kind of thing each is. */
#include "core/engine/state.h"

#include <string.h>

const char *hs_event_name(hs_event_kind kind)
{
	static const char *const names[] = {"answer", "redo", "note", "pause", "resume", "leave", "stop"};
	return names[kind];
}

bool hs_ask_same(const hs_ask *a, const hs_ask *b)
{
	if (a->kind != b->kind || a->step != b->step || a->item != b->item || a->position != b->position)
		return false;
	return a->kind != HS_ASK_GATE ||
	       (a->gate.fact == b->gate.fact && a->gate.subject == b->gate.subject && a->gate.pair == b->gate.pair);
}

bool hs_ask_is_judged(const hs_ask *ask)
{
	switch (ask->kind) {
	case HS_ASK_NONE:
	case HS_ASK_GATE:
	case HS_ASK_OPEN:
	case HS_ASK_CLOSE:
	case HS_ASK_JOIN:
	case HS_ASK_PART:
	case HS_ASK_STANDS:
	case HS_ASK_SET:
	case HS_ASK_AGAIN:
	case HS_ASK_STOPPED:
	case HS_ASK_UNIT:
	case HS_ASK_BLOCKED: return false;
	default: return true;
	}
}

bool hs_ask_is_observation(const hs_ask *ask)
{
	switch (ask->kind) {
	case HS_ASK_READ:
	case HS_ASK_CHOOSE:
	case HS_ASK_INTAKE:
	case HS_ASK_ENTRY:
	case HS_ASK_ACT:
	case HS_ASK_SHOWN: return true;
	default: return false;
	}
}

static const char *const intake_names[HS_INTAKE_COUNT] = {"words", "seen", "seals", "keep", "first"};

static const char *const unit_names[HS_UNIT_ASKS] = {"feeds", "switch", "standby", "emits", "drive", "outside", "cover", "stores", "fine"};

void hs_engine_ask_id(const hs_engine *engine, const hs_ask *ask, hs_buf *out)
{
	const hs_playbook *playbook = engine->playbook;
	/* Without a step it is before the first one, or behind the finding, when controls go back to where they stood. */
	const char *outside = engine->state->finding >= 0 ? "home" : "intake";
	const char *step = ask->step >= 0 ? playbook->steps[ask->step].id : outside;
	switch (ask->kind) {
	case HS_ASK_NONE:
	case HS_ASK_BLOCKED: return;
	case HS_ASK_INTAKE: hs_buf_printf(out, "intake/%s", intake_names[ask->item]); return;
	case HS_ASK_ENTRY: hs_buf_str(out, "intake/entry"); return;
	case HS_ASK_SHOWN: hs_buf_str(out, "intake/shown"); return;
	case HS_ASK_UNIT: hs_buf_printf(out, "unit/%s", unit_names[ask->item]); return;
	case HS_ASK_ACT: hs_buf_printf(out, "free/%d", ask->item); return;
	case HS_ASK_STOPPED: hs_buf_str(out, "stop/what"); return;
	case HS_ASK_GATE: hs_gate_id(&playbook->unit, &ask->gate, out); return;
	case HS_ASK_OPEN: hs_buf_printf(out, "%s/open.%s", step, playbook->unit.openables[ask->item].id); return;
	case HS_ASK_CLOSE: hs_buf_printf(out, "%s/close.%s", step, playbook->unit.openables[ask->item].id); return;
	case HS_ASK_PART: hs_buf_printf(out, "%s/part.%s", ask->step >= 0 ? step : "home", ask->item == 0 ? "source" : "meter"); return;
	case HS_ASK_STANDS: hs_buf_printf(out, "intake/stands.%s", playbook->unit.controls[ask->item].id); return;
	case HS_ASK_SET:
		hs_buf_printf(out, "%s/set.%s", ask->step >= 0 ? step : "home", playbook->unit.controls[ask->item].id);
		return;
	case HS_ASK_AGAIN: hs_buf_printf(out, "%s/again", step); return;
	case HS_ASK_JOIN:
		if (ask->item == 0)
			hs_buf_printf(out, "%s/join.source", step);
		else
			hs_buf_printf(out, "%s/join.meter", step);
		return;
	case HS_ASK_READ:
		if (playbook->steps[ask->step].reading_count > 1 || playbook->steps[ask->step].kind == HS_STEP_COLLECT) {
			hs_buf_printf(out, "%s/%s", step, playbook->steps[ask->step].readings[ask->item].name);
			return;
		}
		hs_buf_str(out, step);
		return;
	default: hs_buf_str(out, step); return;
	}
}

hs_wish hs_wish_of(const char *word)
{
	static const struct { const char *word; hs_wish wish; } words[] = {
	    {"exit", HS_WISH_GO},     {"quit", HS_WISH_GO},   {"bye", HS_WISH_GO},    {"abort", HS_WISH_GO},
	    {"cancel", HS_WISH_BACK}, {"undo", HS_WISH_BACK}, {"back", HS_WISH_BACK},
	};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (hs_same_word(word, words[i].word))
			return words[i].wish;
	return HS_WISH_NONE;
}
