#include "seat_shown.h"

#include <string.h>

void hs_shown_init(hs_shown *shown)
{
	*shown = (hs_shown){0};
	hs_buf_init(&shown->id);
}

void hs_shown_free(hs_shown *shown)
{
	hs_buf_free(&shown->id);
}

bool hs_shown_is_new(hs_shown *shown, const hs_engine *engine, const char *ask_id)
{
	size_t answers = hs_engine_answers(engine);
	bool same = shown->any && shown->answers == answers && strcmp(shown->id.data, ask_id) == 0;
	hs_buf_clear(&shown->id);
	hs_buf_str(&shown->id, ask_id);
	shown->answers = answers;
	shown->any = true;
	return !same;
}

bool hs_shown_caution(hs_shown *shown, const hs_ask *ask)
{
	if (ask->kind != HS_ASK_GATE)
		return false;
	uint64_t bit = UINT64_C(1) << ask->gate.fact;
	bool before = (shown->cautions & bit) != 0;
	shown->cautions |= bit;
	return before;
}
