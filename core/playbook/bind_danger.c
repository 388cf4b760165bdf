/* hazards = { ID = { KIND, ... } } of a unit: what is dangerous in it beside its energy; and the substances that a step uses. */
#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "names.h"

static const char *const common_words[] = {"title", "zone"};
static const char *const chassis_words[] = {"volts"};
static const char *const tubes_words[] = {"volts", "heater", "run_on", "blower", "xray", "implosion"};
static const char *const cells_words[] = {"most", "least", "temperature"};
static const char *const battery_words[] = {"fuse", "wet"};
static const char *const toxic_words[] = {"of"};
static const char *const laser_words[] = {"class", "wavelength", "density"};
static const char *const flammable_words[] = {"of", "airs"};
static const char *const handling_words[] = {"part", "mass", "hot", "sharp", "tips"};

static const hs_words words_of[HS_DANGER_KINDS] = {
    [HS_DANGER_CHASSIS] = HS_WORDS(chassis_words), [HS_DANGER_TUBES] = HS_WORDS(tubes_words),
    [HS_DANGER_CELLS] = HS_WORDS(cells_words),     [HS_DANGER_BATTERY] = HS_WORDS(battery_words),
    [HS_DANGER_TOXIC] = HS_WORDS(toxic_words),     [HS_DANGER_LASER] = HS_WORDS(laser_words),
    [HS_DANGER_FLAMMABLE] = HS_WORDS(flammable_words), [HS_DANGER_STATIC] = {NULL, 0},
    [HS_DANGER_HANDLING] = HS_WORDS(handling_words)};

static const struct {
	const char *word;
	hs_unit unit;
	hs_danger_figure figure;
} figures[] = {
    {"volts", HS_VOLT, HS_DANGER_VOLTS},       {"most", HS_VOLT, HS_DANGER_VOLTS},     {"least", HS_VOLT, HS_DANGER_LEAST},
    {"heater", HS_SECOND, HS_DANGER_HEATER},   {"run_on", HS_SECOND, HS_DANGER_RUN_ON}, {"airs", HS_SECOND, HS_DANGER_AIRS},
    {"temperature", HS_DEGC, HS_DANGER_TEMPERATURE}, {"fuse", HS_AMP, HS_DANGER_FUSE}, {"mass", HS_GRAM, HS_DANGER_MASS},
    {"wavelength", HS_METRE, HS_DANGER_WAVELENGTH},
};

static const struct {
	const char *word;
	hs_danger_flag flag;
} flags[] = {
    {"blower", HS_DANGER_BLOWER}, {"xray", HS_DANGER_XRAY}, {"implosion", HS_DANGER_IMPLOSION}, {"hot", HS_DANGER_HOT},
    {"sharp", HS_DANGER_SHARP},   {"tips", HS_DANGER_TIPS}, {"wet", HS_DANGER_WET},
};

static bool has_word(hs_danger_kind kind, const char *word)
{
	for (size_t i = 0; i < words_of[kind].count; i++)
		if (strcmp(words_of[kind].words[i], word) == 0)
			return true;
	return false;
}

static bool read_kind(const hs_table *one, const char *id, hs_danger *danger)
{
	const char *kind = hs_table_text(one, "[1]");
	if (!kind) {
		hs_table_problem(one, NULL, "the hazard \"%s\" does not say what it is: { \"live chassis\", ... }", id);
		return false;
	}
	if (hs_danger_find(kind, &danger->kind))
		return true;
	const char *known[HS_DANGER_KINDS];
	for (int i = 0; i < HS_DANGER_KINDS; i++)
		known[i] = hs_danger_name((hs_danger_kind)i);
	hs_problem *problem = hs_table_problem(one, "[1]", "\"%s\" is no kind of hazard", kind);
	hs_problem_hint(problem, "it is one of live chassis, high voltage, lithium cells, battery, toxic part, laser, flammable, static-sensitive, "
	                         "handling; stored charge and mains are declared by stores and supply");
	hs_build_nearest(one->build, problem, kind, known, HS_DANGER_KINDS);
	return false;
}

static void read_class(const hs_table *one, hs_danger *danger)
{
	danger->text = hs_table_text(one, "class");
	const char *class = danger->text ? hs_laser_class(danger->text) : NULL;
	if (danger->text && (!class || strcmp(class, danger->text) != 0)) {
		hs_problem *problem = hs_table_problem(one, "class", "\"%s\" is no laser class", danger->text);
		hs_problem_hint(problem, "it is one of 1, 1M, 2, 2M, 3R, 3B, 4; leave it out where it is not known");
		danger->text = NULL;
	}
	danger->figures[HS_DANGER_DENSITY] = hs_table_count(one, "density", 1, 20, 0);
}

static void read_fields(const hs_table *one, hs_danger *danger)
{
	danger->title = hs_table_text(one, "title");
	danger->zone = hs_find_zone(one, "zone", -1);
	for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
		if (has_word(danger->kind, figures[i].word))
			hs_table_positive(one, figures[i].word, figures[i].unit, &danger->figures[figures[i].figure]);
	for (size_t i = 0; i < sizeof flags / sizeof *flags; i++)
		if (has_word(danger->kind, flags[i].word) && hs_table_has(one, flags[i].word) && !hs_table_flag(one, flags[i].word))
			danger->absent |= (unsigned)flags[i].flag;
	if (has_word(danger->kind, "of"))
		danger->text = hs_table_text(one, "of");
	if (danger->kind == HS_DANGER_LASER)
		read_class(one, danger);
	if (danger->kind == HS_DANGER_HANDLING && hs_table_has(one, "part"))
		danger->part = hs_find_cover(one, "part");
}

void hs_bind_dangers(const hs_table *unit_table)
{
	hs_bench_unit *unit = &unit_table->build->playbook->unit;
	hs_table all = hs_table_sub(unit_table, "hazards", false);
	size_t count;
	const char **names = hs_table_keys(&all, &count);
	for (size_t i = 0; i < count; i++) {
		hs_danger danger = {.id = names[i], .zone = -1, .part = -1, .where = hs_table_where(&all, names[i])};
		if (!hs_build_good_id(unit_table->build, names[i], "hazard", danger.where))
			continue;
		if (unit->danger_count == HS_DANGERS_MOST) {
			hs_table_problem(&all, names[i], "a unit has at most %d hazards", HS_DANGERS_MOST);
			break;
		}
		hs_table one = hs_table_sub(&all, names[i], false);
		if (one.index && read_kind(&one, names[i], &danger)) {
			hs_table_known(&one, "a hazard of this kind", 1, (hs_words[]){HS_WORDS(common_words), words_of[danger.kind]}, 2);
			read_fields(&one, &danger);
			unit->dangers[unit->danger_count++] = danger;
		}
		hs_table_done(&one);
	}
	hs_table_done(&all);
}

void hs_read_substances(const hs_table *table, hs_step *step)
{
	const hs_bench_unit *unit = &table->build->playbook->unit;
	size_t count;
	const char **names = hs_table_texts(table, "substance", &count);
	for (size_t i = 0; i < count; i++) {
		int found = names[i] ? hs_unit_danger(unit, names[i]) : -1;
		if (found >= 0 && unit->dangers[found].kind == HS_DANGER_FLAMMABLE) {
			step->substances |= 1u << found;
			continue;
		}
		const char *key = hs_table_item(table, "substance", i);
		hs_problem *problem = names[i] ? hs_table_problem(table, key, "the unit declares no flammable substance \"%s\"", names[i]) : NULL;
		if (problem)
			hs_problem_hint(problem, "declare it among the unit's hazards: hazards = { %s = { \"flammable\" } }", names[i]);
	}
}
