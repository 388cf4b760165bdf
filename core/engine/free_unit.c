/*
 * What the unit is, asked of the person when no family file declares it. Whatever is not known counts as the worst it can be: a store at the supply's
 * peak without a bleeder, every zone inside hazardous when mains comes in.
 */
#include "core/engine/free.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "halfsplit/unit/check.h"

#define UNKNOWN_FARADS 10e-3 /* as much as a bench unit's supply is likely to hold */

typedef bool take_item(hs_engine *engine, hs_told *told, char *item, hs_buf *why);

static bool none_word(const char *text)
{
	return hs_same_word(text, "none") || hs_same_word(text, "no") || hs_same_word(text, "nothing");
}

/* "28,5": a comma stands between what is listed, so it cannot stand in a figure. */
static bool decimal_comma(const char *text, hs_buf *why)
{
	for (const char *at = strchr(text, ','); at != NULL; at = strchr(at + 1, ',')) {
		const char *from = at, *to = at + 1;
		while (from > text && isdigit((unsigned char)from[-1]))
			from--;
		to += strspn(to, "0123456789");
		if (from == at || to == at + 1 || (from > text && isalnum((unsigned char)from[-1])))
			continue;
		hs_buf_printf(why, "In \"%.40s\" a comma stands within a figure; a decimal point is wanted there: %.*s.%.*s.", text, (int)(at - from), from,
		              (int)(to - at - 1), at + 1);
		return true;
	}
	return false;
}

/* Each part between commas, trimmed. */
static bool each_item(hs_engine *engine, hs_told *told, const char *text, take_item *take, hs_buf *why)
{
	if (!engine->free->old && decimal_comma(text, why))
		return false;
	char *copy = hs_strdup(text), *rest = NULL;
	bool fine = true;
	for (char *item = strtok_r(copy, ",", &rest); item != NULL && fine; item = strtok_r(NULL, ",", &rest))
		fine = take(engine, told, hs_trim(item), why);
	free(copy);
	return fine;
}

/* Takes a leading word off the text; "" when there is none. */
static char *head_of(char **text)
{
	char *head = *text;
	char *end = head + strcspn(head, " \t");
	*text = end + strspn(end, " \t");
	*end = '\0';
	return head;
}

static bool take_feed(hs_engine *engine, hs_told *told, char *item, hs_buf *why)
{
	(void)engine;
	char *rest = item;
	const char *word = head_of(&rest);
	bool mains = hs_same_word(word, "mains") || hs_same_word(word, "ac");
	hs_quantity volts;
	if (!mains && !hs_same_word(word, "dc") && !hs_same_word(word, "battery")) {
		hs_buf_printf(why, "\"%.40s\" does not say what feeds the unit; write mains 230 V, dc 28 V, or none.", word);
		return false;
	}
	if (!hs_quantity_read(rest, HS_VOLT, &volts, NULL) || volts.unit != HS_VOLT || !(fabs(volts.value) > 0.0) || !isfinite(volts.value)) {
		hs_buf_printf(why, "How many volts %s gives belongs to it: %s %s.", mains ? "the mains" : "the supply", mains ? "mains" : "dc",
		              mains ? "230 V" : "28 V");
		return false;
	}
	if (told->feed_count == 4) {
		hs_buf_str(why, "At most four supplies can be told apart here; a family file can declare more.");
		return false;
	}
	told->feeds[told->feed_count].mains = mains;
	told->feeds[told->feed_count++].volts = fabs(volts.value);
	return true;
}

static bool is_figure(const char *text)
{
	hs_quantity ignored;
	return hs_quantity_read(text, HS_UNITLESS, &ignored, NULL);
}

static bool good_id(const char *text, const char *what, hs_buf *why)
{
	if (hs_is_id(text) && !hs_same_word(text, "gate") && !hs_same_word(text, "intake"))
		return true;
	hs_buf_printf(why, "\"%.40s\" cannot be the name of %s; use letters and digits as printed on the unit, such as J2.", text, what);
	return false;
}

/* "RF OUT" is called RF-OUT where it is typed; NULL, and why, when it cannot be a name. */
static const char *name_of(hs_engine *engine, const char *text, const char *what, hs_buf *why)
{
	char id[64];
	if (is_figure(text)) {
		hs_buf_printf(why, "\"%.40s\" is a figure, and the name of %s was wanted, as printed on the unit, such as J2.", text, what);
		return NULL;
	}
	bool blanks = !hs_is_id(text) && strlen(text) <= 60 && text[strcspn(text, ":;=\"'()")] == '\0' && hs_free_slug(text, id);
	const char *name = hs_arena_str(engine->free->arena, blanks ? id : text);
	return good_id(name, what, why) ? name : NULL;
}

static bool watts_of(const char *text, double *watts)
{
	hs_quantity given, converted;
	bool fine = hs_quantity_read(text, HS_UNIT_COUNT, &given, NULL) && hs_unit_dimension(given.unit) == HS_DIM_POWER &&
	            hs_quantity_convert(given, HS_WATT, 0.0, &converted, NULL) && converted.value > 0.0 && isfinite(converted.value);
	if (fine)
		*watts = converted.value;
	return fine;
}

/* "RF OUT 50 W" and "50 W at J2" alike: the power may stand before or behind the name. */
static void name_and_watts(hs_engine *engine, char *item, const char **name, double *watts)
{
	hs_buf text;
	hs_buf_init(&text);
	*watts = 0.0;
	for (char *rest = item; *rest != '\0';) {
		char *word = head_of(&rest);
		char *next = hs_arena_strn(engine->turn, rest, strcspn(rest, " \t"));
		bool is_power = *watts == 0.0 && (watts_of(hs_arena_printf(engine->turn, "%s %s", word, next), watts) || watts_of(word, watts));
		if (is_power && !watts_of(word, &(double){0.0}))
			head_of(&rest);
		else if (!is_power && !hs_same_word(word, "at") && !hs_same_word(word, "from"))
			hs_buf_printf(&text, "%s%s", text.length > 0 ? " " : "", word);
	}
	*name = hs_arena_str(engine->turn, text.data != NULL ? text.data : "");
	hs_buf_free(&text);
}

static bool take_emitter(hs_engine *engine, hs_told *told, char *item, hs_buf *why)
{
	const char *said;
	double watts;
	name_and_watts(engine, item, &said, &watts);
	/* "2 W out" says how much, and not from where. */
	bool filler = !engine->free->old && (hs_same_word(said, "out") || hs_same_word(said, "output") || hs_same_word(said, "max"));
	if (*said == '\0' || filler) {
		hs_buf_str(why, "From which connector it comes belongs to it: J2 50 W.");
		return false;
	}
	const char *id = name_of(engine, said, "a connector", why);
	if (id == NULL)
		return false;
	if (!(watts > 0.0)) {
		hs_buf_printf(why, "What %s emits at most belongs to it: %s 50 W.", id, id);
		return false;
	}
	if (told->emit_count == 4) {
		hs_buf_str(why, "At most four connectors that emit can be told here; a family file can declare more.");
		return false;
	}
	told->emits[told->emit_count].id = id;
	told->emits[told->emit_count++].watts = watts;
	return true;
}

static bool take_connector(hs_engine *engine, hs_told *told, char *item, hs_buf *why)
{
	const char *id = *item != '\0' ? name_of(engine, item, "a connector", why) : NULL;
	if (id == NULL)
		return *item == '\0';
	if (told->outside_count == HS_TOLD_MOST) {
		hs_buf_printf(why, "At most %d connectors can be told here; later ones are said with the reading: read power at J9 outside.", HS_TOLD_MOST);
		return false;
	}
	told->outside[told->outside_count++] = id;
	return true;
}

/* With commas between them a name may have blanks in it; without, each word is one. */
static bool take_connectors(hs_engine *engine, hs_told *told, const char *text, hs_buf *why)
{
	if (strchr(text, ',') != NULL)
		return each_item(engine, told, text, take_connector, why);
	for (char *rest = hs_trim(hs_arena_str(engine->turn, text)); *rest != '\0';)
		if (!take_connector(engine, told, head_of(&rest), why))
			return false;
	return true;
}

static bool take_emit(hs_engine *engine, hs_told *told, char *item, hs_buf *why)
{
	char *rest = item;
	const char *id = head_of(&rest);
	hs_quantity given, watts;
	if (!good_id(id, "a connector", why))
		return false;
	if (!hs_quantity_read(rest, HS_WATT, &given, NULL) || hs_unit_dimension(given.unit) != HS_DIM_POWER ||
	    !hs_quantity_convert(given, HS_WATT, 0.0, &watts, NULL) || !(watts.value > 0.0) || !isfinite(watts.value)) {
		hs_buf_printf(why, "What %s emits at most belongs to it: %s 50 W.", id, id);
		return false;
	}
	if (told->emit_count == 4) {
		hs_buf_str(why, "At most four connectors that emit can be told here; a family file can declare more.");
		return false;
	}
	told->emits[told->emit_count].id = hs_arena_str(engine->free->arena, id);
	told->emits[told->emit_count++].watts = watts.value;
	return true;
}

static bool take_outside(hs_engine *engine, hs_told *told, char *item, hs_buf *why)
{
	for (char *rest = item; *rest != '\0';) {
		const char *id = head_of(&rest);
		if (!good_id(id, "a connector", why))
			return false;
		if (told->outside_count == HS_TOLD_MOST) {
			hs_buf_printf(why, "At most %d connectors can be told here; later ones are said with the reading: read power at J9 outside.",
			              HS_TOLD_MOST);
			return false;
		}
		told->outside[told->outside_count++] = hs_arena_str(engine->free->arena, id);
	}
	return true;
}

static double peak_of(const hs_told *told)
{
	double peak = 0.0;
	for (int i = 0; i < told->feed_count; i++)
		peak = fmax(peak, told->feeds[i].volts * (told->feeds[i].mains ? sqrt(2.0) : 1.0));
	return peak;
}

/* "C7 400 V 100 uF 100 kohm": the quantities tell by their units what they are. */
static bool take_store(hs_engine *engine, hs_told *told, char *item, hs_buf *why)
{
	char *rest = item;
	const char *id = head_of(&rest);
	if (!good_id(id, "a store", why))
		return false;
	double volts = 0.0, farads = 0.0, bleed = 0.0;
	while (*rest != '\0') {
		hs_quantity figure;
		size_t used = 0;
		if (!hs_quantity_scan(rest, HS_UNIT_COUNT, &figure, NULL, &used, NULL))
			break;
		rest += used;
		rest += strspn(rest, " \t");
		volts = figure.unit == HS_VOLT ? fabs(figure.value) : volts;
		farads = figure.unit == HS_FARAD ? figure.value : farads;
		bleed = figure.unit == HS_OHM ? figure.value : bleed;
	}
	if (*rest != '\0' || !(volts > 0.0) || !(farads > 0.0) || !(bleed >= 0.0) || told->store_count == 8) {
		hs_buf_printf(why, told->store_count == 8 ? "At most eight stores can be told here; say unknown, which counts as the worst."
		                                          : "Volts and farads of %s belong to it, and its bleeder when it has one: %s 400 V 100 uF 100 kohm.",
		              id, id);
		return false;
	}
	told->stores[told->store_count].id = hs_arena_str(engine->free->arena, id);
	told->stores[told->store_count].volts = volts;
	told->stores[told->store_count].farads = farads;
	told->stores[told->store_count++].bleed_ohm = bleed;
	return true;
}

/* "unknown", or "unknown 600 V" where something inside steps the supply up. */
static bool take_unknown(hs_told *told, const char *text, hs_buf *why)
{
	hs_quantity volts = {peak_of(told), HS_VOLT};
	const char *rest = text + strlen("unknown");
	rest += strspn(rest, " \t");
	if (*rest != '\0' && (!hs_quantity_read(rest, HS_VOLT, &volts, NULL) || volts.unit != HS_VOLT)) {
		hs_buf_str(why, "Behind unknown comes the highest voltage there can be inside, such as unknown 600 V, or nothing.");
		return false;
	}
	if (!(fabs(volts.value) > 0.0)) {
		hs_buf_str(why, "Nothing feeds the unit, so say how high a charge can be that is still in it: unknown 60 V, or none.");
		return false;
	}
	told->stores_unknown = true;
	told->stores[0].id = "store";
	told->stores[0].volts = fmax(fabs(volts.value), peak_of(told));
	told->stores[0].farads = UNKNOWN_FARADS;
	told->stores[0].bleed_ohm = 0.0;
	told->store_count = 1;
	return true;
}

/* ---- building ---- */

static const char *numbered(hs_arena *arena, const char *word, int number)
{
	return number == 0 ? word : hs_arena_printf(arena, "%s%d", word, number + 1);
}

static void build_sources(hs_free *model, hs_bench_unit *unit)
{
	const hs_told *told = &model->told;
	int mains = 0, dc = 0;
	bool from_mains = false;
	for (int i = 0; i < told->feed_count; i++) {
		bool is_mains = told->feeds[i].mains;
		from_mains = from_mains || is_mains;
		unit->sources[unit->source_count++] =
		    (hs_energy_source){.id = is_mains ? numbered(model->arena, "mains", mains++) : numbered(model->arena, "dc", dc++),
		                       .kind = is_mains ? HS_SOURCE_MAINS : HS_SOURCE_DC,
		                       .volts = told->feeds[i].volts,
		                       .farads_over = 0.20,
		                       .bleed_over = 0.10,
		                       .shop = unit->shop};
	}
	for (int i = 0; i < told->store_count; i++)
		unit->sources[unit->source_count++] = (hs_energy_source){.id = told->stores[i].id,
		                                                         .title = told->stores_unknown ? "whatever keeps a charge inside" : NULL,
		                                                         .kind = HS_SOURCE_STORE,
		                                                         .volts = told->stores[i].volts,
		                                                         .farads = told->stores[i].farads,
		                                                         .bleed_ohm = told->stores[i].bleed_ohm,
		                                                         .farads_over = 0.20,
		                                                         .bleed_over = 0.10,
		                                                         .shop = unit->shop,
		                                                         .follows_line = true};
}

static void build_points(hs_engine *engine, hs_bench_unit *unit)
{
	hs_free *model = engine->free;
	const hs_told *told = &model->told;
	for (int i = 0; i < told->outside_count; i++)
		hs_free_add_point(engine, told->outside[i], true);
	unit->emitters = hs_arena_alloc(model->arena, 4 * sizeof *unit->emitters);
	for (int i = 0; i < told->emit_count; i++) {
		hs_free_add_point(engine, told->emits[i].id, true);
		unit->emitters[unit->emitter_count++] = (hs_emitter){.id = told->emits[i].id, .watts = told->emits[i].watts, .key_seconds = 5.0,
		                                                       .drive_is_safe = told->drive_is_safe};
	}
	/* They are part of the unit from now on, as if a family had declared them. */
	model->base.unit = *unit;
	model->base.unit.points = hs_arena_alloc(model->arena, ((size_t)unit->point_count + 1) * sizeof *unit->points);
	memcpy(model->base.unit.points, unit->points, (size_t)unit->point_count * sizeof *unit->points);
}

static bool declare(hs_engine *engine, hs_buf *why)
{
	hs_free *model = engine->free;
	hs_bench_unit *unit = &model->book.unit, before = *unit;
	if (model->declared)
		return true;
	unit->has_standby = model->told.standby;
	if (model->told.switch_title != NULL)
		unit->switch_title = model->told.switch_title;
	build_sources(model, unit);
	if (model->told.cover != NULL) {
		char id[64];
		hs_free_slug(model->told.cover, id);
		unit->openables[unit->openable_count++] = (hs_openable){.id = hs_arena_str(model->arena, id), .title = model->told.cover,
		                                                        .kind = HS_OPEN_COVER, .after = -1, .zone = -1, .needs = HS_NEED_OFF};
		unit->zones[0].guard = 0;
	}
	hs_problems problems = {0};
	hs_error what = {0};
	hs_unit_check(&model->book, &problems);
	bool fine = hs_problems_clean(&problems, &what);
	hs_problems_free(&problems);
	if (!fine) {
		*unit = before;
		hs_buf_printf(why, "That cannot stand: %s. Type no, and say it anew.", what.message);
		return false;
	}
	build_points(engine, unit);
	model->declared = true;
	return true;
}

/* ---- asking ---- */

/* What does not apply is not asked. */
static bool applies(const hs_free *model, int item)
{
	const hs_told *told = &model->told;
	if (item == HS_UNIT_SWITCH)
		return told->feed_count > 0 && !model->old;
	if (item == HS_UNIT_DRIVE)
		return told->feed_count > 0 && told->emit_count > 0;
	return told->feed_count > 0 || (item != HS_UNIT_STANDBY && item != HS_UNIT_EMITS);
}

bool hs_free_unit_known(const hs_engine *engine, hs_ask *ask)
{
	if (engine->free == NULL || engine->free->family != NULL)
		return true;
	for (int item = 0; item < HS_UNIT_ASKS; item++) {
		if (engine->state->unit_told >> item & 1u || !applies(engine->free, item))
			continue;
		*ask = (hs_ask){.kind = HS_ASK_UNIT, .step = -1, .item = item, .gate = {.subject = -1}};
		return false;
	}
	return true;
}

static bool yes_or_no(const char *text, bool *yes, hs_buf *why)
{
	*yes = hs_same_word(text, "yes") || hs_same_word(text, "y");
	if (*yes || none_word(text) || hs_same_word(text, "n"))
		return true;
	hs_buf_str(why, "Type yes or no.");
	return false;
}

/* Nobody knows: then it does. */
static bool take_drive(hs_told *told, const char *text, hs_buf *why)
{
	bool yes = hs_same_word(text, "unknown");
	if (!yes && !yes_or_no(text, &yes, why)) {
		hs_buf_clear(why);
		hs_buf_str(why, "Type yes, no, or unknown, which counts as yes.");
		return false;
	}
	told->drive_is_safe = !yes;
	return true;
}

/* "dc 28 V" names no cover and no switch: it answers another question. */
static bool holds_figure(hs_engine *engine, const char *text)
{
	char *rest = hs_trim(hs_arena_str(engine->turn, text));
	while (*rest != '\0') {
		char *word = head_of(&rest);
		char *next = hs_arena_strn(engine->turn, rest, strcspn(rest, " \t"));
		hs_quantity figure;
		if (hs_quantity_read(word, HS_UNIT_COUNT, &figure, NULL) ||
		    hs_quantity_read(hs_arena_printf(engine->turn, "%s %s", word, next), HS_UNIT_COUNT, &figure, NULL))
			return true;
	}
	return is_figure(text);
}

static bool take_switch(hs_engine *engine, hs_told *told, const char *text, hs_buf *why)
{
	static const char *const begins[] = {"the ", "a ", "an ", "its ", "my "};
	told->switch_title = NULL;
	if (hs_same_word(text, "unknown"))
		return true;
	if (none_word(text)) {
		told->switch_title = "the supply it is fed by";
		return true;
	}
	if (strncmp(text, "at ", 3) == 0)
		text += 3;
	if (strlen(text) > 60 || holds_figure(engine, text)) {
		hs_buf_printf(why, "\"%.40s\" does not say where it is switched; write the front-panel switch, the bench supply, none when it has no switch, or unknown.",
		              text);
		return false;
	}
	bool has_article = false;
	for (size_t i = 0; i < sizeof begins / sizeof *begins; i++)
		has_article = has_article || strncmp(text, begins[i], strlen(begins[i])) == 0;
	told->switch_title = hs_arena_printf(engine->free->arena, "%s%s", has_article ? "" : "the ", text);
	return true;
}

static bool take_cover(hs_engine *engine, hs_told *told, const char *text, hs_buf *why)
{
	char id[64];
	told->cover = NULL;
	if (none_word(text))
		return true;
	if (!engine->free->old && holds_figure(engine, text)) {
		hs_buf_printf(why, "\"%.40s\" holds a figure and names no cover; write a few plain words, such as top cover, or none when the inside lies open.", text);
		return false;
	}
	if (strlen(text) > 60 || !hs_free_slug(text, id)) {
		hs_buf_str(why, "Call the cover by a few plain words, such as top cover, or say none when the inside lies open.");
		return false;
	}
	told->cover = hs_arena_str(engine->free->arena, text);
	return true;
}

static bool take_list(hs_engine *engine, hs_told *told, int item, const char *text, hs_buf *why)
{
	if (none_word(text))
		return true;
	switch (item) {
	case HS_UNIT_FEEDS: return each_item(engine, told, text, take_feed, why);
	case HS_UNIT_EMITS: return each_item(engine, told, text, engine->free->old ? take_emit : take_emitter, why);
	case HS_UNIT_OUTSIDE:
		return engine->free->old ? each_item(engine, told, text, take_outside, why) : take_connectors(engine, told, text, why);
	default: break;
	}
	char head[8];
	hs_copy(head, sizeof head, text);
	bool unknown = hs_same_word(head, "unknown") && (text[7] == '\0' || text[7] == ' ');
	return unknown ? take_unknown(told, text, why) : each_item(engine, told, text, take_store, why);
}

static void forget(hs_told *told, int item)
{
	switch (item) {
	case HS_UNIT_FEEDS: told->feed_count = 0; break;
	case HS_UNIT_EMITS:
		told->emit_count = 0;
		told->drive_is_safe = false;
		break;
	case HS_UNIT_OUTSIDE: told->outside_count = 0; break;
	case HS_UNIT_STORES:
		told->store_count = 0;
		told->stores_unknown = false;
		break;
	default: break;
	}
}

bool hs_free_unit_take(hs_engine *engine, int item, const char *text, hs_buf *why)
{
	hs_told told = engine->free->told;
	bool yes = false, fine = false;
	if (text[strspn(text, " \t")] == '\0') {
		hs_buf_str(why, "Please write an answer; none is one, too.");
		return false;
	}
	if (item == HS_UNIT_FINE) {
		if (!yes_or_no(text, &yes, why) || (yes && !declare(engine, why)))
			return false;
		if (!yes)
			engine->free->told = (hs_told){0};
		engine->state->unit_told = yes ? engine->state->unit_told | 1u << item : 0;
		return true;
	}
	forget(&told, item);
	if (item == HS_UNIT_SWITCH)
		fine = take_switch(engine, &told, text, why);
	else if (item == HS_UNIT_STANDBY)
		fine = yes_or_no(text, &told.standby, why);
	else if (item == HS_UNIT_DRIVE)
		fine = take_drive(&told, text, why);
	else if (item == HS_UNIT_COVER)
		fine = take_cover(engine, &told, text, why);
	else
		fine = take_list(engine, &told, item, text, why);
	if (!fine)
		return false;
	engine->free->told = told;
	engine->state->unit_told |= 1u << item;
	return true;
}
