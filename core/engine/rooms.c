/* The size of the state: fixed for a playbook, growing with a freehand run. */
#include "core/engine/state.h"

#include <stdlib.h>
#include <string.h>

static size_t size_of(const hs_rooms *rooms)
{
	return sizeof(hs_state) + rooms->slots * sizeof(hs_slot) + rooms->suspects * sizeof(hs_suspect_state) +
	       rooms->steps * sizeof(hs_visit_state) + rooms->counters * sizeof(int);
}

/* The same state in a block of another layout; what is new stands as at the beginning. */
static hs_state *moved(hs_engine *engine, hs_state *old, const hs_rooms *from, const hs_rooms *to)
{
	hs_state *made = hs_alloc(size_of(to));
	engine->rooms = *to;
	hs_suspect_state *suspects = hs_state_suspects(engine, made);
	hs_visit_state *visits = hs_state_visits(engine, made);
	for (size_t i = from->suspects; i < to->suspects; i++)
		suspects[i].by_step = -1;
	for (size_t i = from->steps; i < to->steps; i++)
		visits[i].choice = -1;
	if (old == NULL)
		return made;
	*made = *old;
	memcpy(hs_state_slots(made), hs_state_slots(old), from->slots * sizeof(hs_slot));
	engine->rooms = *from;
	const hs_suspect_state *old_suspects = hs_state_suspects(engine, old);
	const hs_visit_state *old_visits = hs_state_visits(engine, old);
	const int *old_counters = hs_state_counters(engine, old);
	engine->rooms = *to;
	memcpy(suspects, old_suspects, from->suspects * sizeof *suspects);
	memcpy(visits, old_visits, from->steps * sizeof *visits);
	memcpy(hs_state_counters(engine, made), old_counters, from->counters * sizeof *old_counters);
	free(old);
	return made;
}

static size_t roomy(size_t have, size_t need)
{
	return need <= have ? have : have == 0 ? need : need < 2 * have ? 2 * have : need;
}

void hs_engine_make_room(hs_engine *engine, hs_rooms need)
{
	const hs_rooms from = engine->rooms;
	const hs_rooms to = {roomy(from.slots, need.slots), roomy(from.suspects, need.suspects), roomy(from.steps, need.steps),
	                     roomy(from.counters, need.counters)};
	bool fits = to.slots == from.slots && to.suspects == from.suspects && to.steps == from.steps && to.counters == from.counters;
	if (fits && engine->state != NULL)
		return;
	engine->state = moved(engine, engine->state, &from, &to);
	engine->before = moved(engine, engine->before, &from, &to);
	engine->state_size = size_of(&to);
	engine->slot_step = hs_realloc(engine->slot_step, (to.slots + 1) * sizeof *engine->slot_step);
	engine->slot_item = hs_realloc(engine->slot_item, (to.slots + 1) * sizeof *engine->slot_item);
}
