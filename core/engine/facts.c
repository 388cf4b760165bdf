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
