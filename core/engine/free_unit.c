/*
 * What the unit is, asked of the person when no family file declares it. Whatever is not known counts as the worst it can be: a store at the supply's
 * peak without a bleeder, every zone inside hazardous when mains comes in.
 */
#include "core/engine/free.h"

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

/* Each part between commas, trimmed. */
static bool each_item(hs_engine *engine, hs_told *told, const char *text, take_item *take, hs_buf *why)
{
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

static bool good_id(const char *text, const char *what, hs_buf *why)
{
	if (hs_is_id(text) && !hs_same_word(text, "gate") && !hs_same_word(text, "intake"))
		return true;
	hs_buf_printf(why, "\"%.40s\" cannot be the name of %s; use letters and digits as printed on the unit, such as J2.", text, what);
	return false;
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
		                       .bleed_over = 0.10};
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
static bool applies(const hs_told *told, int item)
{
	if (item == HS_UNIT_DRIVE)
		return told->feed_count > 0 && told->emit_count > 0;
	return told->feed_count > 0 || (item != HS_UNIT_STANDBY && item != HS_UNIT_EMITS);
}

bool hs_free_unit_known(const hs_engine *engine, hs_ask *ask)
{
	if (engine->free == NULL || engine->free->family != NULL)
		return true;
	for (int item = 0; item < HS_UNIT_ASKS; item++) {
		if (engine->state->unit_told >> item & 1u || !applies(&engine->free->told, item))
			continue;
		*ask = (hs_ask){.kind = HS_ASK_UNIT, .step = -1, .item = item, .gate = {.subject = -1}};
		return false;
	}
	return true;
}

static bool yes_or_no(const char *text, bool *yes, hs_buf *why)
{
	*yes = hs_same_word(text, "yes") || hs_same_word(text, "y");
	if (*yes || hs_same_word(text, "no") || hs_same_word(text, "n"))
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

static bool take_cover(hs_engine *engine, hs_told *told, const char *text, hs_buf *why)
{
	char id[64];
	told->cover = NULL;
	if (none_word(text))
		return true;
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
	case HS_UNIT_EMITS: return each_item(engine, told, text, take_emit, why);
	case HS_UNIT_OUTSIDE: return each_item(engine, told, text, take_outside, why);
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
	if (item == HS_UNIT_STANDBY)
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

/* ---- words ---- */

static void say(hs_buf *out, double value, hs_unit unit)
{
	hs_quantity_print(out, (hs_quantity){value, unit}, -1);
}

static void say_told(const hs_told *told, hs_buf *out)
{
	hs_buf_str(out, "Fed by ");
	for (int i = 0; i < told->feed_count; i++) {
		hs_buf_str(out, i > 0 ? " and " : "");
		say(out, told->feeds[i].volts, HS_VOLT);
		hs_buf_str(out, told->feeds[i].mains ? " mains" : " DC");
	}
	if (told->feed_count == 0)
		hs_buf_str(out, "nothing: it is never switched on here.\n");
	else
		hs_buf_str(out, told->standby ? ", with a standby.\n" : ", without a standby.\n");
	for (int i = 0; i < told->emit_count; i++) {
		hs_buf_printf(out, "%s emits up to ", told->emits[i].id);
		say(out, told->emits[i].watts, HS_WATT);
		hs_buf_str(out, told->drive_is_safe ? ", when it is keyed.\n" : ", as soon as it is driven with the power on.\n");
	}
	hs_buf_str(out, "Reached from outside:");
	for (int i = 0; i < told->outside_count; i++)
		hs_buf_printf(out, "%s %s", i > 0 ? "," : "", told->outside[i]);
	hs_buf_printf(out, "%s. Everything else counts as inside, behind %s.\n", told->outside_count == 0 ? " nothing" : "",
	              told->cover != NULL ? told->cover : "nothing at all");
	for (int i = 0; i < told->store_count; i++) {
		hs_energy_source store = {.id = told->stores_unknown ? "What keeps a charge is not known, so it counts as" : told->stores[i].id,
		                          .kind = HS_SOURCE_STORE, .volts = told->stores[i].volts, .farads = told->stores[i].farads,
		                          .bleed_ohm = told->stores[i].bleed_ohm, .farads_over = 0.20, .bleed_over = 0.10, .follows_line = true};
		hs_store_words(&store, out);
		hs_buf_str(out, ".\n");
	}
	if (told->store_count == 0)
		hs_buf_str(out, "Nothing in it keeps a charge.\n");
	hs_buf_str(out, "Is that so? From here on it stands.");
}

void hs_free_unit_words(const hs_engine *engine, int item, hs_ask_words *out)
{
	static const struct { const char *heading, *text, *wanted, *help; } rows[HS_UNIT_ASKS] = {
		{"What feeds it", "What feeds the unit?", "mains 230 V, dc 28 V, several with commas, or none",
		 "Every supply, battery and back-feed. What is fed is proved dead by it, and nothing that is not named here is ever switched on."},
		{"Standby", "Has it a standby, with auxiliary supplies live?", "yes or no", "When in doubt, yes."},
		{"What it emits", "Can it transmit? From which connector, and how much at most?", "J2 50 W, or no",
		 "A connector that emits is never keyed without its load."},
		{"What makes it transmit", "Does drive alone make it transmit?", "yes, no, or unknown",
		 "An amplifier without a key line transmits as soon as it is fed and driven, so every level put in is then treated as keying. "
		 "Unknown counts as yes; no, when nothing comes out until a key line is closed."},
		{"Reached from outside", "Which connectors and points are reached from outside?", "J1 J2, or none",
		 "Everything that is not named here counts as inside."},
		{"What guards the inside", "Which cover stands before the inside?", "top cover, or none",
		 "It comes off in the order and the state that what is behind it calls for."},
		{"What keeps a charge", "Which capacitors keep a charge: volts, farads, bleeder?", "C7 400 V 100 uF 100 kohm, none, or unknown",
		 "Say unknown when nobody can tell: it then counts as 10 mF at the peak of the supply without a bleeder, or at the volts you name behind it "
		 "(unknown 600 V). An open bleeder never discharges."},
		{"The unit as it was told", "", "yes, or no to say it anew", "What the gates ask follows from this."},
	};
	hs_buf_str(&out->heading, rows[item].heading);
	hs_buf_str(&out->text, rows[item].text);
	hs_buf_str(&out->wanted, rows[item].wanted);
	hs_buf_str(&out->help, rows[item].help);
	if (item == HS_UNIT_FINE)
		say_told(&engine->free->told, &out->text);
}
