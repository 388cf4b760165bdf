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
