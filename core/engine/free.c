/* The model of a freehand run, and how it grows. */
#include "core/engine/free.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "halfsplit/unit/check.h"

static const char rest_id[] = "free";

hs_step hs_free_blank(hs_step_kind kind)
{
	hs_step step = {.kind = kind, .zone = -1, .emitter = -1, .reuse = -1};
	step.inject.point = -1;
	step.decide.id = -1;
	step.not_yet.to = step.beyond.to = -1;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		step.branches[i] = (hs_branch){.target = rest_id, .to = 0};
	return step;
}

static void add_step(hs_free *model, const hs_step *step)
{
	hs_playbook *book = &model->book;
	book->steps = hs_grow(book->steps, &model->step_room, book->step_count + 1, sizeof *book->steps);
	book->steps[book->step_count++] = *step;
}

/* The unit as long as nothing is known of it. */
static void nothing_known(hs_bench_unit *unit)
{
	*unit = (hs_bench_unit){.declared = true, .zone_count = 1, .switch_title = "the power switch"};
	unit->zones[0] = (hs_zone){.id = "inside", .guard = -1};
}

hs_free *hs_free_new(const hs_playbook *base, const char *family, const hs_kit *kit)
{
	hs_free *model = hs_alloc(sizeof *model);
	model->arena = hs_arena_new();
	model->kit = kit;
	model->made = -1;
	if (base != NULL)
		model->base = *base;
	else
		nothing_known(&model->base.unit);
	model->base.unit.shop = kit != NULL ? kit->shop : NULL;
	model->declared = base != NULL;
	model->family = hs_arena_str(model->arena, family);
	hs_playbook *book = &model->book;
	*book = model->base;
	book->id = "freehand";
	book->edition = 1;
	book->title = family != NULL ? hs_arena_printf(model->arena, "Freehand: %s", family) : "Freehand";
	book->family = model->family;
	book->steps = NULL;
	book->step_count = book->slot_count = 0;
	book->suspects = NULL;
	book->suspects = hs_grow(NULL, &model->suspect_room, model->base.suspect_count + 1, sizeof *book->suspects);
	for (size_t i = 0; i < model->base.suspect_count; i++)
		book->suspects[i] = model->base.suspects[i];
	book->unit.points = hs_grow(NULL, &model->point_room, (size_t)model->base.unit.point_count + 1, sizeof *book->unit.points);
	for (int i = 0; i < model->base.unit.point_count; i++)
		book->unit.points[i] = model->base.unit.points[i];
	hs_step rest = hs_free_blank(HS_STEP_BENCH);
	rest.id = rest_id;
	rest.title = "What next";
	add_step(model, &rest);
	return model;
}

void hs_free_free(hs_free *model)
{
	if (model == NULL)
		return;
	free(model->book.steps);
	free(model->book.suspects);
	free(model->book.unit.points);
	free(model->named);
	hs_arena_free(model->arena);
	free(model);
}

void hs_free_begin(hs_engine *engine)
{
	hs_free *model = engine->free;
	hs_hand *hand = &engine->state->hand;
	hand->emitter = hand->last = hand->evidence = hand->inject.point = -1;
	model->book.suspect_count = model->base.suspect_count;
	model->told = (hs_told){0};
	for (int i = 0; i < model->book.unit.point_count; i++) {
		hs_point *point = &model->book.unit.points[i];
		if (i < model->base.unit.point_count) {
			*point = model->base.unit.points[i];
			continue;
		}
		point->has_accepts = point->has_gives = false;
		point->dc_v = hs_free_most_dc(model);
		model->named[i] = false;
	}
}

static void give_slots(hs_engine *engine, hs_step *step, int index)
{
	hs_playbook *book = &engine->free->book;
	for (size_t i = 0; i < step->reading_count; i++) {
		step->readings[i].slot = (int)book->slot_count + (int)i;
		if (step->readings[i].name == NULL)
			step->readings[i].name = step->id;
	}
	hs_engine_make_room(engine, (hs_rooms){book->slot_count + step->reading_count, engine->rooms.suspects, (size_t)index + 1,
	                                       engine->rooms.counters});
	for (size_t i = 0; i < step->reading_count; i++) {
		engine->slot_step[book->slot_count + i] = index;
		engine->slot_item[book->slot_count + i] = (int)i;
	}
	book->slot_count += step->reading_count;
}

int hs_free_append(hs_engine *engine, const hs_step *step)
{
	hs_free *model = engine->free;
	if (model->made >= 0)
		return model->made;
	int index = (int)model->book.step_count;
	hs_step made = *step;
	made.id = hs_arena_printf(model->arena, "f%d", index);
	give_slots(engine, &made, index);
	add_step(model, &made);
	model->made = index;
	return index;
}

/* The checks speak of a step by its id, which means nothing to somebody who just typed a line. */
static void at_the_bench(const hs_error *what, hs_buf *why)
{
	static const char named[] = "step \"\"";
	const char *text = what->message;
	bool starts = true;
	for (const char *at; (at = strstr(text, named)) != NULL; text = at + sizeof named - 1, starts = false) {
		hs_buf_add(why, text, (size_t)(at - text));
		bool kind = at > text && at - text > 4 && strncmp(text, "the ", 4) == 0 && starts;
		hs_buf_str(why, at == what->message ? "This" : kind ? "act" : "this act");
	}
	hs_buf_str(why, text);
	hs_buf_char(why, '.');
	why->data[0] = (char)toupper((unsigned char)why->data[0]);
	if (what->hint[0] != '\0' && strchr(what->hint, '=') == NULL)
		hs_buf_printf(why, " %c%s.", toupper((unsigned char)what->hint[0]), what->hint + 1);
}

bool hs_free_safe(hs_engine *engine, const hs_step *step, hs_buf *why)
{
	/* What was accepted once is not judged again: what was stated of a point since belongs to later acts. */
	if (engine->quiet)
		return true;
	hs_problems problems = {0};
	hs_error what = {0};
	hs_step unnamed = *step;
	unnamed.id = "";
	hs_unit_check_step(&engine->free->book, &unnamed, &problems);
	hs_playbook_check_hookups(&engine->free->book, &unnamed, &problems);
	bool safe = hs_problems_clean(&problems, &what);
	if (!safe)
		at_the_bench(&what, why);
	hs_problems_free(&problems);
	return safe;
}

/* ---- points ---- */

int hs_free_point(hs_engine *engine, const char *id)
{
	const hs_bench_unit *unit = &engine->free->book.unit;
	int found = hs_unit_point(unit, id);
	for (int i = 0; i < unit->point_count && found < 0; i++)
		if (hs_same_word(unit->points[i].id, id))
			found = i;
	return found;
}

bool hs_free_knows_point(hs_engine *engine, const char *id)
{
	int point = hs_free_point(engine, id);
	return point >= 0 && hs_engine_point_stands(engine, point);
}

double hs_free_most_dc(const hs_free *model)
{
	const hs_bench_unit *unit = &model->book.unit;
	double most = 0.0;
	for (int i = 0; i < unit->source_count; i++)
		most = fmax(most, unit->sources[i].volts * (unit->sources[i].kind == HS_SOURCE_MAINS ? sqrt(2.0) : 1.0));
	return most;
}

bool hs_free_guesses_dc(const hs_engine *engine, int point)
{
	const hs_free *model = engine->free;
	bool ours = model->family == NULL || point >= model->base.unit.point_count;
	double most = hs_free_most_dc(model);
	return ours && point >= 0 && most > 0.0 && model->book.unit.points[point].dc_v == most;
}

int hs_free_add_point(hs_engine *engine, const char *id, bool outside)
{
	hs_free *model = engine->free;
	hs_bench_unit *unit = &model->book.unit;
	int index = hs_free_point(engine, id);
	if (index >= 0 && (index < model->base.unit.point_count || model->named[index]))
		return index;
	if (index < 0) {
		index = unit->point_count;
		unit->points = hs_grow(unit->points, &model->point_room, (size_t)index + 1, sizeof *unit->points);
		model->named = hs_grow(model->named, &model->named_room, (size_t)index + 1, sizeof *model->named);
		unit->points[index] = (hs_point){.id = hs_arena_str(model->arena, id)};
		unit->point_count++;
	}
	/* What is not said to be outside is inside, behind whatever guards that. */
	hs_point *point = &unit->points[index];
	int guard = unit->zones[0].guard;
	point->zone = outside ? -1 : 0;
	point->behind = outside || guard < 0 ? 0 : UINT64_C(1) << guard;
	/* Until somebody says what DC it carries, it may carry all there is. */
	point->dc_v = hs_free_most_dc(model);
	model->named[index] = true;
	return index;
}

/* ---- covers and changes ---- */

int hs_free_openable(const hs_engine *engine, const char *name)
{
	const hs_bench_unit *unit = &engine->free->book.unit;
	char slug[64];
	int found = hs_unit_openable(unit, name);
	bool has_slug = hs_free_slug(name, slug);
	for (int i = 0; i < unit->openable_count && found < 0; i++) {
		const hs_openable *it = &unit->openables[i];
		bool titled = it->title != NULL && hs_same_word(it->title, name);
		if (titled || hs_same_word(it->id, name) || (has_slug && hs_same_word(it->id, slug)))
			found = i;
	}
	return found;
}

int hs_free_add_openable(hs_engine *engine, const hs_openable *thing, hs_buf *why)
{
	hs_bench_unit *unit = &engine->free->book.unit;
	if (unit->openable_count == HS_OPENABLES_MOST) {
		hs_buf_printf(why, "There are %d covers and temporary changes already, and no more can be kept apart.", HS_OPENABLES_MOST);
		return -1;
	}
	hs_openable made = *thing;
	made.id = hs_arena_str(engine->free->arena, thing->id);
	made.title = hs_arena_str(engine->free->arena, thing->title);
	unit->openables[unit->openable_count++] = made;
	hs_playbook bare = engine->free->book;
	bare.step_count = 0;
	hs_problems problems = {0};
	hs_error what = {0};
	hs_unit_check(&bare, &problems);
	bool fine = hs_problems_clean(&problems, &what);
	hs_problems_free(&problems);
	if (fine)
		return unit->openable_count - 1;
	unit->openable_count--;
	at_the_bench(&what, why);
	return -1;
}

/* ---- suspects ---- */

bool hs_free_slug(const char *text, char id[64])
{
	size_t length = 0;
	for (; *text != '\0' && length < 63; text++) {
		bool fine = isalnum((unsigned char)*text) || (length > 0 && strchr("._+-", *text) != NULL);
		if (fine)
			id[length++] = *text;
		else if (length > 0 && id[length - 1] != '-')
			id[length++] = '-';
	}
	while (length > 0 && id[length - 1] == '-')
		length--;
	id[length] = '\0';
	return hs_is_id(id);
}

int hs_free_suspect(hs_engine *engine, const char *name, bool add)
{
	hs_free *model = engine->free;
	hs_playbook *book = &model->book;
	char slug[64];
	if (!hs_free_slug(name, slug))
		return -1;
	for (size_t i = 0; i < book->suspect_count; i++)
		if (hs_same_word(book->suspects[i].id, slug))
			return (int)i;
	if (!add)
		return -1;
	book->suspects = hs_grow(book->suspects, &model->suspect_room, book->suspect_count + 1, sizeof *book->suspects);
	book->suspects[book->suspect_count] = (hs_suspect){.id = hs_arena_str(model->arena, slug), .odds = 1};
	if (strcmp(slug, name) != 0)
		book->suspects[book->suspect_count].title = hs_arena_str(model->arena, name);
	book->suspect_count++;
	hs_engine_make_room(engine, (hs_rooms){engine->rooms.slots, book->suspect_count, engine->rooms.steps, engine->rooms.counters});
	return (int)book->suspect_count - 1;
}

/* ---- arriving ---- */

bool hs_free_arrive(hs_engine *engine, hs_error *error)
{
	if (engine->free == NULL)
		return true;
	for (;;) {
		hs_state *state = engine->state;
		if (state->step < 0 || state->ended || state->paused || state->leaving || state->stopping || state->finding >= 0)
			return true;
		const hs_step *step = &engine->playbook->steps[state->step];
		hs_ask ask = hs_next_ask(engine);
		if (step->kind != HS_STEP_REACH || ask.kind != HS_ASK_DONE || ask.step != state->step)
			return true;
		if (!hs_course_follow(engine, &step->branches[HS_OKAY], NULL, "there", error))
			return false;
	}
}
