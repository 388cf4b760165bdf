/* Which act a line is, and the acts that do not measure. */
#include "core/engine/free.h"

#include <stdlib.h>
#include <string.h>

#include "halfsplit/unit/hazard.h"

static bool refuse(hs_buf *why, const char *sentence)
{
	hs_buf_str(why, sentence);
	return false;
}

void hs_free_note(hs_engine *engine, const char *text)
{
	hs_fact *fact = hs_fact_add(engine, HS_SAYS_NOTED);
	fact->text = hs_turn_text(engine, text);
}

/* ---- the state of the unit ---- */

static bool find_things(hs_engine *engine, const char *rest, hs_step *step, hs_buf *why)
{
	hs_clauses said;
	if (!hs_free_clauses(engine, rest, false, &said, why))
		return false;
	if (said.point != NULL || said.has_reads || said.has_hookup)
		return refuse(why, "Behind the state only what stays open or in place is named: power on with top-cover.");
	step->open = said.open;
	step->with = said.with;
	engine->state->hand.open = said.open;
	engine->state->hand.with = said.with;
	return true;
}

static bool feeds(const hs_bench_unit *unit)
{
	for (int i = 0; i < unit->source_count; i++)
		if (unit->sources[i].kind == HS_SOURCE_MAINS || unit->sources[i].kind == HS_SOURCE_DC)
			return true;
	return false;
}

static bool take_power(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	char word[16];
	size_t length = strcspn(rest, " \t");
	hs_copy(word, length + 1 < sizeof word ? length + 1 : sizeof word, rest);
	for (char *at = word; *at != '\0' && !engine->free->old; at++)
		*at = *at >= 'A' && *at <= 'Z' ? (char)(*at + 'a' - 'A') : *at;
	hs_need need;
	if (!hs_need_find(word, &need) || need == HS_NEED_ANY) {
		hs_buf_printf(why, "\"%.20s\" is no state of the power; it is on, off, standby, keyed or dead.", word);
		return false;
	}
	if (!feeds(unit) && need != HS_NEED_DEAD && need != HS_NEED_OFF)
		return refuse(why, "Nothing that was declared feeds this unit, so it cannot be switched on.");
	if (need == HS_NEED_KEYED && unit->emitter_count == 0)
		return refuse(why, "Nothing that was declared emits, so there is nothing to key.");
	if (need == HS_NEED_KEYED && engine->state->hand.load == NULL)
		return refuse(why, "What it is keyed into comes first: load 50 ohm 100 W at J2.");
	int driven = hs_drive_transmits(unit);
	if (driven >= 0 && engine->state->hand.inject.given && (need == HS_NEED_ON || need == HS_NEED_STANDBY)) {
		hs_buf_printf(why, "A level is put in, and drive alone makes %s transmit; say put off first, or load 50 ohm 100 W at %s and power keyed.",
		              unit->emitters[driven].id, unit->emitters[driven].id);
		return false;
	}
	hs_step step = hs_free_blank(HS_STEP_REACH);
	step.power = need == HS_NEED_KEYED ? HS_NEED_ON : need;
	step.power_given = true;
	step.title = hs_arena_printf(engine->arena, "Power %s", hs_need_name(need));
	hs_hand hand = engine->state->hand;
	if (!find_things(engine, rest + length + strspn(rest + length, " \t"), &step, why) || !hs_free_safe(engine, &step, why)) {
		engine->state->hand = hand;
		return false;
	}
	engine->state->hand.power = need;
	engine->state->hand.power_given = true;
	/* Each reading keys by its own gates; until then the unit stays as it is. */
	if (need == HS_NEED_KEYED) {
		hs_free_note(engine, "each reading is keyed by its own gates");
		return true;
	}
	return hs_free_take_step(engine, &step, why, failed, error);
}

/* "load 50 ohm 100 W at J2" */
static bool take_load(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	(void)failed, (void)error;
	const hs_bench_unit *unit = &engine->playbook->unit;
	hs_hand *hand = &engine->state->hand;
	char *text = hs_arena_str(engine->turn, rest);
	char *at = strstr(text, " at ");
	int emitter = unit->emitter_count == 1 ? 0 : -1;
	if (at != NULL) {
		char id[64];
		const char *name = hs_trim(at + 4);
		*at = '\0';
		emitter = -1;
		if (!engine->free->old && hs_free_slug(name, id))
			name = id;
		for (int i = 0; i < unit->emitter_count; i++)
			if (hs_same_word(unit->emitters[i].id, name))
				emitter = i;
	}
	hs_quantity watts = {0};
	for (char *word = text; *word != '\0'; word += strcspn(word, " \t"), word += strspn(word, " \t")) {
		hs_quantity figure;
		size_t used;
		if (hs_quantity_scan(word, HS_UNIT_COUNT, &figure, NULL, &used, NULL) && figure.unit == HS_WATT)
			watts = figure;
	}
	if (emitter < 0)
		return refuse(why, "Where the load goes belongs to it, a connector that emits: load 50 ohm 100 W at J2.");
	if (!(watts.value > 0.0))
		return refuse(why, "How many watts the load stands belongs to it: load 50 ohm 100 W at J2.");
	if (watts.value < unit->emitters[emitter].watts) {
		hs_buf_printf(why, "%s emits %.10g W, and this load stands %.10g W; name one that stands at least as much.", unit->emitters[emitter].id,
		              unit->emitters[emitter].watts, watts.value);
		return false;
	}
	hand->load = hs_arena_str(engine->arena, text);
	hand->load_watts = watts.value;
	hand->emitter = emitter;
	hs_free_note(engine, engine->free->old ? rest : hs_arena_printf(engine->turn, "load %s at %s", text, unit->emitters[emitter].id));
	return true;
}

/* ---- covers, changes, controls ---- */

/* A typing error takes no cover off: one that nobody named before is named as new. */
static bool unknown_cover(const hs_engine *engine, const char *name, hs_buf *why)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	const char *known[HS_OPENABLES_MOST];
	size_t count = 0;
	for (int i = 0; i < unit->openable_count; i++)
		if (unit->openables[i].kind == HS_OPEN_COVER || unit->openables[i].kind == HS_OPEN_JOINT)
			known[count++] = unit->openables[i].id;
	hs_buf_printf(why, "Nothing that opens is called \"%.60s\" yet", name);
	const char *near = hs_nearest(name, known, count);
	for (size_t i = 0; i < count && near == NULL; i++)
		hs_buf_printf(why, "%s%s", i > 0 ? ", " : "; it has ", known[i]);
	if (near != NULL)
		hs_buf_printf(why, "; did you mean %s? Otherwise", near);
	hs_buf_printf(why, "%s a further cover is named with new: open new %.60s.", near != NULL ? "" : ";", name);
	return false;
}

static bool take_open(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	char id[64];
	int found = *rest != '\0' ? hs_free_openable(engine, rest) : -1;
	bool fresh = strncmp(rest, "new ", 4) == 0 && !engine->free->old;
	if (found < 0 && fresh)
		rest += 4 + strspn(rest + 4, " \t");
	if (found < 0 && hs_same_word(rest, "new") && !engine->free->old)
		return refuse(why, "What the further cover is called belongs to it: open new shield.");
	if (found < 0 && *rest != '\0' && !fresh && !engine->quiet && !engine->free->old)
		return unknown_cover(engine, rest, why);
	if (found < 0 && (!hs_free_slug(rest, id) || strlen(rest) > 60))
		return refuse(why, "Which cover comes off belongs to it: open top-cover.");
	bool added = found < 0;
	if (added) {
		hs_openable cover = {.id = id, .title = strcmp(id, rest) != 0 ? rest : NULL, .kind = HS_OPEN_COVER, .after = unit->zones[0].guard, .zone = -1,
		                     .needs = HS_NEED_OFF};
		found = hs_free_add_openable(engine, &cover, why);
		if (found < 0)
			return false;
	}
	const hs_openable *thing = &unit->openables[found];
	if (thing->kind != HS_OPEN_COVER && thing->kind != HS_OPEN_JOINT) {
		hs_buf_printf(why, "%s is a %s: that is fitted or undone, not opened.", thing->id, hs_openable_name(thing->kind));
		return false;
	}
	hs_step step = hs_free_blank(HS_STEP_REACH);
	step.open = UINT64_C(1) << found;
	step.title = hs_arena_printf(engine->arena, "Open %s", thing->id);
	if (hs_free_take_step(engine, &step, why, failed, error))
		return true;
	if (added)
		engine->free->book.unit.openable_count--;
	return false;
}

static bool take_close(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	uint64_t open = engine->state->physical.open, things = open;
	hs_step step = hs_free_blank(HS_STEP_REACH);
	if (!hs_same_word(rest, "all")) {
		int found = *rest != '\0' ? hs_free_openable(engine, rest) : -1;
		if (found < 0)
			return refuse(why, "Which of what is open goes back belongs to it: close top-cover, or close all.");
		things = UINT64_C(1) << found;
	}
	if ((open & things) == 0 && !engine->quiet)
		return refuse(why, "Nothing of that is on the open list.");
	step.undoes = things;
	step.title = hs_arena_printf(engine->arena, "Close %s", rest);
	if (!hs_free_take_step(engine, &step, why, failed, error))
		return false;
	return true;
}

/* The longest kind of change that the text begins with; NULL when it begins with none. */
static const char *kind_of_change(const char *text, hs_openable_kind *kind)
{
	for (int i = HS_OPEN_LINK; i < HS_OPEN_KINDS; i++) {
		const char *name = hs_openable_name((hs_openable_kind)i);
		size_t length = strlen(name);
		char head[32];
		hs_copy(head, length + 1, text);
		if (strlen(text) > length && hs_same_word(head, name) && text[length] == ' ') {
			*kind = (hs_openable_kind)i;
			return text + length + 1;
		}
	}
	return NULL;
}

static bool take_change(hs_engine *engine, int change, bool makes, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	const hs_openable *thing = &unit->openables[change];
	hs_step step = hs_free_blank(HS_STEP_DO);
	*(makes ? &step.makes : &step.undoes) = UINT64_C(1) << change;
	int guard = thing->zone >= 0 ? unit->zones[thing->zone].guard : -1;
	step.open = guard >= 0 ? UINT64_C(1) << guard : 0;
	const char *title = thing->title != NULL ? thing->title : thing->id;
	step.title = hs_arena_printf(engine->arena, makes ? "Make: %s" : "Undo: %s", title);
	step.text = hs_arena_printf(engine->arena, "%s this change: %s (%s).%s", makes ? "Make" : "Undo", title, hs_openable_name(thing->kind),
	                            makes ? " It stays on the open list until it is undone." : "");
	return hs_free_take_step(engine, &step, why, failed, error);
}

static bool take_fit(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	hs_openable_kind kind;
	const char *name = kind_of_change(rest, &kind);
	char id[64];
	if (name == NULL && *rest != '\0') {
		int known = hs_free_openable(engine, rest);
		if (known >= 0 && engine->playbook->unit.openables[known].kind != HS_OPEN_COVER)
			return take_change(engine, known, true, why, failed, error);
	}
	if (name == NULL || !hs_free_slug(name, id) || strlen(name) > 60)
		return refuse(why, "What kind of change, and what it is called, belong to it: fit link R5 bridged, or lifted leg L9, short, open port, "
		                   "broken joint, defeated interlock, pad.");
	int found = hs_free_openable(engine, name);
	bool added = found < 0;
	if (added) {
		hs_openable change = {.id = id, .title = strcmp(id, name) != 0 ? name : NULL, .kind = kind, .after = -1, .zone = 0, .needs = HS_NEED_OFF};
		found = hs_free_add_openable(engine, &change, why);
	}
	if (found < 0)
		return false;
	if (take_change(engine, found, true, why, failed, error))
		return true;
	if (added)
		engine->free->book.unit.openable_count--;
	return false;
}

static bool take_undo(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	int found = *rest != '\0' ? hs_free_openable(engine, rest) : -1;
	if (found < 0 || ((engine->state->physical.open >> found & 1u) == 0 && !engine->quiet))
		return refuse(why, "Nothing of that name is on the open list.");
	if (engine->playbook->unit.openables[found].kind == HS_OPEN_COVER)
		return take_close(engine, rest, why, failed, error);
	return take_change(engine, found, false, why, failed, error);
}

static bool take_set(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	for (int i = 0; i < unit->control_count; i++) {
		const hs_control *control = &unit->controls[i];
		size_t length = strlen(control->id);
		char head[80];
		hs_copy(head, length + 1 < sizeof head ? length + 1 : sizeof head, rest);
		if (!hs_same_word(head, control->id) || rest[length] != ' ')
			continue;
		for (int at = 0; at < control->position_count; at++) {
			if (!hs_same_word(rest + length + 1, control->positions[at]))
				continue;
			hs_step step = hs_free_blank(HS_STEP_REACH);
			step.set[i] = (uint8_t)(at + 1);
			step.title = hs_arena_printf(engine->arena, "Set %s", rest);
			engine->state->hand.set[i] = (uint8_t)(at + 1);
			return hs_free_take_step(engine, &step, why, failed, error);
		}
	}
	return refuse(why, unit->control_count > 0 ? "Which control, and where it is to stand, belong to it: set band low. show lists nothing of that name."
	                                           : "This unit declares no controls; write down what was turned with note.");
}

/* ---- work ---- */

static bool take_do(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	static const char outside[] = "outside ";
	const hs_bench_unit *unit = &engine->playbook->unit;
	hs_step step = hs_free_blank(HS_STEP_DO);
	step.outside = strncmp(rest, outside, sizeof outside - 1) == 0;
	rest += step.outside ? sizeof outside - 1 : 0;
	if (*rest == '\0')
		return refuse(why, "What is done belongs to it: do resolder the leg of L9, or do outside turn LEVEL down.");
	step.zone = step.outside ? -1 : 0;
	step.zone_given = !step.outside;
	step.open = !step.outside && unit->zones[0].guard >= 0 ? UINT64_C(1) << unit->zones[0].guard : 0;
	step.title = step.text = hs_arena_str(engine->arena, rest);
	return hs_free_take_step(engine, &step, why, failed, error);
}

static bool take_replace(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	if (*rest == '\0')
		return refuse(why, "What is replaced belongs to it: replace q3.");
	hs_step step = hs_free_blank(HS_STEP_REPLACE);
	step.zone = 0;
	step.zone_given = true;
	step.open = unit->zones[0].guard >= 0 ? UINT64_C(1) << unit->zones[0].guard : 0;
	step.replaces = hs_arena_str(engine->arena, rest);
	step.title = hs_arena_printf(engine->arena, "Replace %s", rest);
	return hs_free_take_step(engine, &step, why, failed, error);
}

static bool take_wait(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	hs_quantity time;
	if (!hs_quantity_read(rest, HS_UNIT_COUNT, &time, NULL) || time.unit != HS_SECOND || !(time.value > 0.0) || time.value > 86400.0)
		return refuse(why, "How long belongs to it, up to a day: wait 5 min.");
	hs_step step = hs_free_blank(HS_STEP_WAIT);
	step.wait_s = time.value;
	step.title = hs_arena_printf(engine->arena, "Wait %s", rest);
	return hs_free_take_step(engine, &step, why, failed, error);
}

/* ---- what is said of a point ---- */

static bool said_before(const hs_engine *engine, int point, const char *verb, hs_buf *why)
{
	const hs_free *model = engine->free;
	if (model->family == NULL || point >= model->base.unit.point_count)
		return false;
	const hs_point *it = &model->base.unit.points[point];
	bool said = (hs_same_word(verb, "accepts") && it->has_accepts) || (hs_same_word(verb, "gives") && it->has_gives) ||
	            (hs_same_word(verb, "carries") && it->dc_v > 0.0);
	if (said)
		hs_buf_printf(why, "The family file says what %s %s; what it says is not overruled at the bench.", it->id, verb);
	return said;
}

/* Where no family declares the points, speaking of one names it. */
static int point_spoken_of(hs_engine *engine, const char *name, hs_buf *why)
{
	const hs_free *model = engine->free;
	if (hs_free_knows_point(engine, name))
		return hs_free_point(engine, name);
	if (model->family == NULL && hs_is_id(name))
		return hs_free_add_point(engine, name, false);
	hs_buf_printf(why, "No point is called %.60s.", name);
	return -1;
}

/* "J1 accepts 20 dBm", "TP2 gives 10 dBm", "J1 carries 12 V" */
static bool take_said(hs_engine *engine, const char *name, const char *verb, const char *rest, hs_buf *why)
{
	hs_quantity level;
	bool carries = hs_same_word(verb, "carries");
	if (!hs_quantity_read(rest, HS_UNIT_COUNT, &level, NULL) || (carries && level.unit != HS_VOLT) ||
	    (!carries && hs_unit_dimension(level.unit) != HS_DIM_POWER && hs_unit_dimension(level.unit) != HS_DIM_VOLTAGE)) {
		hs_buf_printf(why, "\"%.40s\" is no %s: %s %s %s.", rest, carries ? "DC voltage" : "level", name, verb, carries ? "12 V" : "20 dBm");
		return false;
	}
	int point = point_spoken_of(engine, name, why);
	if (point < 0 || said_before(engine, point, verb, why))
		return false;
	hs_point *it = &engine->free->book.unit.points[point];
	if (carries) {
		it->dc_v = level.value < 0.0 ? -level.value : level.value;
	} else if (hs_same_word(verb, "accepts")) {
		it->has_accepts = true;
		it->accepts = level;
	} else {
		it->has_gives = true;
		it->gives = level;
	}
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "%s %s ", it->id, verb);
	hs_quantity_print(&text, level, -1);
	hs_free_note(engine, text.data);
	hs_buf_free(&text);
	return true;
}

/* ---- which act it is ---- */

static const struct {
	const char *word, *brief;
	hs_free_taking *take;
} acts[] = {
	{"read", "r", hs_free_read},
	{"again", "=", hs_free_again},
	{"put", "p", hs_free_put},
	{"suspect", "s", hs_free_take_suspect},
	{"clear", "c", hs_free_take_clear},
	{"blame", "b", hs_free_take_blame},
	{"implicate", NULL, hs_free_take_blame},
	{"saw", NULL, hs_free_take_saw},
	{"find", NULL, hs_free_take_find},
	{"power", NULL, take_power},
	{"load", NULL, take_load},
	{"open", "o", take_open},
	{"close", NULL, take_close},
	{"fit", NULL, take_fit},
	{"undo", NULL, take_undo},
	{"set", NULL, take_set},
	{"do", NULL, take_do},
	{"replace", NULL, take_replace},
	{"wait", NULL, take_wait},
};
#define ACTS (sizeof acts / sizeof *acts)

const char *hs_free_act_word(size_t index)
{
	return index < ACTS ? acts[index].word : NULL;
}

static bool has_control(const char *text)
{
	for (; *text != '\0'; text++)
		if ((unsigned char)*text < 0x20 || *text == 0x7f)
			return true;
	return false;
}

static bool says_of_point(const char *word)
{
	return hs_same_word(word, "accepts") || hs_same_word(word, "gives") || hs_same_word(word, "carries");
}

/* What begins a line without an act: a point, what is read, or a part of such a line. */
static bool begins_reading(hs_engine *engine, const char *word, const char *line)
{
	hs_quantity figure;
	char id[64];
	const hs_free *model = engine->free;
	if (model->old || engine->quiet || hs_free_begins_clause(word) || hs_free_is_measurand(word) || hs_free_knows_point(engine, word))
		return true;
	if (hs_quantity_read(word, HS_UNITLESS, &figure, NULL) || hs_quantity_scan(line, HS_UNIT_COUNT, &figure, NULL, &(size_t){0}, NULL))
		return true;
	for (int i = 0; i < model->book.unit.point_count; i++) {
		const char *point = model->book.unit.points[i].id;
		if (strlen(line) >= strlen(point) && hs_free_slug(hs_arena_strn(engine->turn, line, strlen(point)), id) && hs_same_word(id, point))
			return true;
	}
	return false;
}

/* The words in front of "accepts", "gives" or "carries" are one name, blanks and all; NULL when no such word is there. */
static const char *spoken_of(hs_engine *engine, char *line, const char **verb, const char **rest)
{
	char id[64];
	for (char *at = line + strcspn(line, " \t"); *at != '\0'; at += strcspn(at, " \t")) {
		char *word = at + strspn(at, " \t"), *behind = word + strcspn(word, " \t");
		*verb = hs_arena_strn(engine->turn, word, (size_t)(behind - word));
		*rest = behind + strspn(behind, " \t");
		bool whole = engine->free->old || !hs_free_slug(hs_arena_strn(engine->turn, line, (size_t)(at - line)), id);
		if (says_of_point(*verb))
			return whole ? hs_arena_strn(engine->turn, line, (size_t)(at - line)) : hs_arena_str(engine->turn, id);
		if (engine->free->old)
			return NULL;
		at = word;
	}
	return NULL;
}

static bool dispatch(hs_engine *engine, char *line, hs_buf *why, bool *failed, hs_error *error)
{
	/* "again, 20 V .. 30 V": the comma belongs to the limits. */
	char *rest = line + strcspn(line, engine->free->old ? " \t" : " \t,");
	char *word = hs_arena_strn(engine->turn, line, (size_t)(rest - line));
	rest += strspn(rest, " \t");
	for (size_t i = 0; i < ACTS; i++)
		if (hs_same_word(word, acts[i].word) || (acts[i].brief != NULL && strcmp(word, acts[i].brief) == 0))
			return acts[i].take(engine, rest, why, failed, error);
	const char *verb, *said, *name = spoken_of(engine, line, &verb, &said);
	if (name != NULL)
		return take_said(engine, name, verb, said, why);
	if (*word == '\0')
		return refuse(why, "Limits stand behind an act or a point: TP3, 5 V .. 6 V, or again, 5 V .. 6 V.");
	bool act_meant = engine->free->family == NULL || hs_free_act_meant(word, rest);
	if (act_meant && !begins_reading(engine, word, line))
		return hs_free_unknown_word(word, rest, why);
	/* A point alone is the last reading at another place. */
	return hs_free_read(engine, line, why, failed, error);
}

bool hs_free_act(hs_engine *engine, const char *text, hs_buf *why, bool *failed, hs_error *error)
{
	char *line = hs_trim(hs_arena_str(engine->turn, text));
	if (*line == '\0')
		return refuse(why, "Name the next act; help lists them.");
	if (has_control(line))
		return refuse(why, "That line holds a control character; nothing was taken.");
	hs_hand before = engine->state->hand;
	/* What a refused act added is taken away again, so that nothing of it is left to be guessed from. */
	int points = engine->playbook->unit.point_count, things = engine->playbook->unit.openable_count;
	if (dispatch(engine, line, why, failed, error)) {
		engine->state->hand.acts++;
		return true;
	}
	engine->state->hand = before;
	engine->free->book.unit.point_count = points;
	engine->free->book.unit.openable_count = things;
	return false;
}
