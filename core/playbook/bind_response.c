/* Gain against frequency, levels in a line-up's scale, and what faults do, as an element's table states them. */
#include <lauxlib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/lineup/network.h"
#include "lineup_parts.h"

static const char *const law_words[] = {"root", "linear", "at"};

/* ---- gain ---- */

static void around(hs_response *out, double tolerance_db)
{
	out->up_db = out->down_db = fabs(tolerance_db);
}

static void wrong_gain(const hs_table *table, const char *key, hs_unit unit, bool volts)
{
	hs_problem *problem = hs_table_problem(table, key, "\"%s\" is in %s, and a gain is in dB", key,
	                                       unit == HS_UNITLESS ? "plain numbers" : hs_unit_name(unit));
	hs_problem_hint(problem, volts ? "write it as in \"14 dB +/- 1 dB\", or as a factor of volts, \"0.5 +/- 5 %%\""
	                               : "write it as in \"14 dB +/- 1 dB\"");
}

/* "14 dB +/- 1 dB"; in a line-up of volts also a factor, "0.5 +/- 5 %". */
static bool read_flat(const hs_table *table, const char *key, bool loss, bool volts, hs_response *out)
{
	hs_quantity middle;
	double tolerance;
	if (!hs_table_toleranced(table, key, volts && !loss ? HS_UNITLESS : HS_UNIT_COUNT, &middle, &tolerance))
		return false;
	if (middle.unit == HS_DB) {
		out->gain_db = loss ? -middle.value : middle.value;
		around(out, tolerance);
		if (!loss || middle.value >= 0)
			return true;
		hs_problem *problem = hs_table_problem(table, key, "\"%s\" is below 0 dB, which is a gain", key);
		hs_problem_hint(problem, "write gain = \"%g dB\"", -middle.value);
		return false;
	}
	if (middle.unit != HS_UNITLESS || !volts || loss || !(middle.value > fabs(tolerance))) {
		wrong_gain(table, key, middle.unit, volts);
		return false;
	}
	out->gain_db = 20 * log10(middle.value);
	out->up_db = 20 * log10(1 + fabs(tolerance) / middle.value);
	out->down_db = -20 * log10(1 - fabs(tolerance) / middle.value);
	return true;
}

bool hs_read_loss_text(const hs_table *table, const char *key, hs_response *out)
{
	*out = (hs_response){.kind = HS_RESPONSE_FLAT};
	return hs_table_has(table, key) && read_flat(table, key, true, false, out);
}

static int by_frequency(const void *left, const void *right)
{
	double a = ((const hs_gain_point *)left)->freq_hz, b = ((const hs_gain_point *)right)->freq_hz;
	return a < b ? -1 : a > b;
}

/* ["100 MHz"] = "14 dB" */
static bool read_gain_point(const hs_table *points, const char *name, bool loss, hs_gain_point *out)
{
	hs_quantity freq;
	if (!hs_quantity_read(name, HS_UNIT_COUNT, &freq, NULL) || freq.unit != HS_HERTZ) {
		hs_problem *problem = hs_table_problem(points, name, "\"%s\" is no frequency", name);
		hs_problem_hint(problem, "write [\"100 MHz\"] = \"14 dB\"");
		return false;
	}
	double db;
	if (!hs_table_in(points, name, HS_DB, &db))
		return false;
	*out = (hs_gain_point){freq.value, loss ? -db : db};
	return true;
}

static void keep_points(hs_response *out, hs_gain_point *points, size_t count)
{
	qsort(points, count, sizeof *points, by_frequency);
	out->kind = HS_RESPONSE_TABLE;
	out->points = points;
	out->count = count;
}

static void read_gain_table(const hs_table *table, const char *key, bool loss, hs_response *out)
{
	hs_table points = hs_table_sub(table, key, false);
	size_t count, good = 0;
	const char **names = hs_table_keys(&points, &count);
	hs_gain_point *list = hs_arena_alloc(table->build->arena, (count + 1) * sizeof *list);
	for (size_t i = 0; i < count; i++)
		good += read_gain_point(&points, names[i], loss, &list[good]);
	if (points.index && count == 0)
		hs_table_problem(table, key, "\"%s\" is an empty table", key);
	if (good > 0)
		keep_points(out, list, good);
	out->root = loss;
	for (size_t i = 1; i < good; i++)
		if (list[i].freq_hz == list[i - 1].freq_hz)
			hs_table_problem(table, key, "\"%s\" states one frequency twice", key);
	hs_table_done(&points);
}

static bool keep_s21(const hs_table *table, const hs_network *network, hs_response *out, hs_error *error)
{
	hs_gain_point *list = hs_arena_alloc(table->build->arena, network->count * sizeof *list);
	for (size_t i = 0; i < network->count; i++) {
		list[i].freq_hz = hs_network_freq(network, i);
		if (!hs_network_db(network, i, 2, 1, &list[i].gain_db, error))
			return false;
	}
	keep_points(out, list, network->count);
	return true;
}

static void read_s21(const hs_table *table, hs_response *out)
{
	hs_error error = {0};
	hs_network *network = NULL;
	const char *name = hs_table_text(table, "touchstone");
	const hs_source *source = name ? hs_sources_open(table->build->sources, name, HS_SOURCE_TABLE, &error) : NULL;
	bool good = source && hs_network_parse(source->path, source->text, source->text_length, 2, &network, &error) &&
	            keep_s21(table, network, out, &error);
	hs_network_free(network);
	if (good || !name)
		return;
	hs_problem *problem = hs_table_problem(table, "touchstone", "the file \"%s\" cannot be used: %s", name, error.message);
	if (error.hint[0])
		hs_problem_hint(problem, "%s", error.hint);
}

static void read_coax(const hs_table *table, hs_response *out)
{
	const char *type = hs_table_text(table, "coax");
	size_t count;
	const char *const *known = hs_coax_type_names(&count);
	if (!type)
		return;
	out->kind = HS_RESPONSE_COAX;
	out->per_m = 100;
	out->cable = hs_coax_type(type);
	if (!hs_table_has(table, "length")) {
		hs_problem *problem = hs_table_problem(table, "coax", "this cable does not say how long it is");
		hs_problem_hint(problem, "add length = \"0.3 m\"");
	}
	hs_table_positive(table, "length", HS_METRE, &out->length_m);
	if (out->cable)
		return;
	out->kind = HS_RESPONSE_FLAT;
	hs_problem *problem = hs_table_problem(table, "coax", "\"%s\" is no cable type that is known", type);
	hs_build_nearest(table->build, problem, type, known, count);
}

/* A part of a loss at the frequency of the law; 0 unless given. */
static bool law_part(const hs_table *law, const char *key, double *db)
{
	*db = 0;
	if (!hs_table_has(law, key))
		return true;
	if (!hs_table_in(law, key, HS_DB, db))
		return false;
	if (*db >= 0)
		return true;
	hs_table_problem(law, key, "\"%s\" is below 0 dB, and a law is of a loss", key);
	return false;
}

/* law = { root = "0.6 dB", linear = "0.1 dB", at = "1 GHz" }: what grows with the root of frequency, and with frequency itself. */
static void read_law(const hs_table *table, hs_response *out)
{
	double root, linear, at;
	hs_table law = hs_table_sub(table, "law", false);
	if (law.index == 0)
		return;
	hs_table_known(&law, "a law of loss", 0, (hs_words[]){HS_WORDS(law_words)}, 1);
	bool good = law_part(&law, "root", &root) && law_part(&law, "linear", &linear);
	bool says = hs_table_has(&law, "at") && (hs_table_has(&law, "root") || hs_table_has(&law, "linear"));
	if (!says) {
		hs_problem *problem = hs_table_problem(table, "law", "this law does not say how much is lost, and at which frequency");
		hs_problem_hint(problem, "write law = { root = \"0.6 dB\", linear = \"0.1 dB\", at = \"1 GHz\" }");
	} else if (hs_table_positive(&law, "at", HS_HERTZ, &at) && good) {
		out->kind = HS_RESPONSE_COAX;
		out->length_m = 1;
		out->law = (hs_coax_law){.k1 = root / sqrt(at), .k2 = linear / at};
	}
	hs_table_done(&law);
}

void hs_read_response(const hs_table *table, bool volts, hs_response *out)
{
	static const char *const ways[] = {"gain", "loss", "touchstone", "coax", "law"};
	const char *used = NULL;
	*out = (hs_response){.kind = HS_RESPONSE_FLAT};
	for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
		if (!hs_table_has(table, ways[i]))
			continue;
		if (used)
			hs_table_problem(table, ways[i], "its gain is given twice, by \"%s\" and by \"%s\"", used, ways[i]);
		used = used ? used : ways[i];
	}
	if (!used)
		return;
	bool loss = strcmp(used, "loss") == 0;
	if (strcmp(used, "touchstone") == 0)
		read_s21(table, out);
	else if (strcmp(used, "coax") == 0)
		read_coax(table, out);
	else if (strcmp(used, "law") == 0)
		read_law(table, out);
	else if (hs_table_type(table, used) == LUA_TTABLE)
		read_gain_table(table, used, loss, out);
	else
		read_flat(table, used, loss, volts, out);
	double tolerance;
	if (hs_table_has(table, "tolerance") && hs_table_in(table, "tolerance", HS_DB, &tolerance))
		around(out, tolerance);
}

/* ---- levels ---- */

static bool scaled(const hs_table *table, const char *key, hs_quantity from, bool volts, double impedance_ohm, double *level)
{
	hs_error error = {0};
	hs_quantity to;
	if (hs_quantity_convert(from, volts ? HS_DBV : HS_DBM, impedance_ohm, &to, &error)) {
		*level = to.value;
		return true;
	}
	hs_problem *problem = hs_table_problem(table, key, "\"%s\": %s", key, error.message);
	hs_problem_hint(problem, "%s", error.hint[0] ? error.hint : "this part of the line-up is in the other kind of unit");
	return false;
}

bool hs_read_scaled(const hs_table *table, const char *key, bool volts, double impedance_ohm, double *level, double *up_db,
                    double *down_db)
{
	hs_quantity middle;
	double tolerance;
	if (!hs_table_has(table, key) || !hs_table_toleranced(table, key, HS_UNIT_COUNT, &middle, &tolerance))
		return false;
	hs_dimension dimension = hs_unit_dimension(middle.unit);
	if (dimension != HS_DIM_POWER && dimension != HS_DIM_VOLTAGE) {
		hs_table_problem(table, key, "\"%s\" is in %s, and a power or a voltage was wanted", key,
		                 middle.unit == HS_UNITLESS ? "plain numbers" : hs_unit_name(middle.unit));
		return false;
	}
	bool level_unit = hs_unit_is_level(middle.unit);
	middle.value = level_unit ? middle.value : fabs(middle.value);
	tolerance = fabs(tolerance);
	if (!level_unit && !(middle.value > tolerance)) {
		hs_table_problem(table, key, "\"%s\" may come down to nothing at all", key);
		return false;
	}
	if (!scaled(table, key, middle, volts, impedance_ohm, level))
		return false;
	double slope = dimension == HS_DIM_VOLTAGE ? 20 : 10;
	if (up_db)
		*up_db = level_unit ? tolerance : slope * log10(1 + tolerance / middle.value);
	if (down_db)
		*down_db = level_unit ? tolerance : -slope * log10(1 - tolerance / middle.value);
	return true;
}

/* ---- faults ---- */

static bool has_mode(const hs_suspect *suspect, const char *mode)
{
	for (size_t i = 0; i < suspect->mode_count; i++)
		if (strcmp(suspect->modes[i], mode) == 0)
			return true;
	return false;
}

/* "stuck low": the position of the control that sets this switch. */
static bool read_stuck(const hs_laying *laying, const hs_element *element, const char *text, hs_effect *out)
{
	const hs_bench_unit *unit = &laying->build->playbook->unit;
	if (strncmp(text, "stuck ", 6) != 0 || element->kind != HS_ELEMENT_SWITCH || element->control < 0)
		return false;
	const hs_control *control = &unit->controls[element->control];
	for (int i = 0; i < control->position_count; i++)
		if (strcmp(control->positions[i], text + 6) == 0) {
			*out = (hs_effect){.kind = HS_EFFECT_STUCK, .value = i + 1};
			return true;
		}
	return false;
}

static void read_fault(const hs_laying *laying, const hs_table *faults, const char *mode, size_t at, hs_line_fault *fault)
{
	const hs_element *element = &laying->elements[at];
	const char *text = hs_table_text(faults, mode);
	hs_error error = {0};
	*fault = (hs_line_fault){.mode = mode, .effect = {.kind = HS_EFFECT_NONE, .element = (int)at}};
	if (!text)
		return;
	if (strncmp(text, "low ", 4) == 0 && element->kind != HS_ELEMENT_SUPPLY) {
		hs_problem *problem = hs_table_problem(faults, mode, "\"%s\" says how low a supply is, and \"%s\" is a %s", text, element->id,
		                                       hs_element_kind_name(element->kind));
		hs_problem_hint(problem, "write by how much it is weaker, as in \"gain -6 dB\"");
		fault->effect = (hs_effect){.kind = HS_EFFECT_DEAD}; /* one complaint is enough */
	} else if (!read_stuck(laying, element, text, &fault->effect) && !hs_effect_read(text, &fault->effect, &error)) {
		hs_problem *problem = hs_table_problem(faults, mode, "%s", error.message);
		hs_problem_hint(problem, "%s", element->kind == HS_ELEMENT_SWITCH ? "of a switch also \"stuck POSITION\"" : error.hint);
		return;
	}
	fault->effect.element = (int)at;
}

/* Modes whose name says what they do need no word of their own. */
static size_t add_spoken(const hs_suspect *suspect, hs_line_fault *faults, size_t count, size_t at)
{
	for (size_t i = 0; i < suspect->mode_count; i++) {
		bool there = false;
		for (size_t f = 0; f < count; f++)
			there |= strcmp(faults[f].mode, suspect->modes[i]) == 0;
		hs_line_fault *new = &faults[count];
		if (there || !hs_effect_read(suspect->modes[i], &new->effect, NULL))
			continue;
		new->mode = suspect->modes[i];
		new->effect.element = (int)at;
		count++;
	}
	return count;
}

void hs_read_faults(const hs_laying *laying, const hs_table *table, size_t at)
{
	const hs_playbook *book = laying->build->playbook;
	hs_element *element = &laying->elements[at];
	const hs_suspect *suspect = element->suspect >= 0 ? &book->suspects[element->suspect] : NULL;
	hs_table faults = hs_table_sub(table, "faults", false);
	size_t count, kept = 0;
	const char **names = hs_table_keys(&faults, &count);
	if (faults.index && !suspect && !hs_laid_shared(laying, element)) {
		hs_problem *problem = hs_table_problem(table, "faults", "\"%s\" has faults, and no suspect is declared that could have them", element->id);
		hs_problem_hint(problem, "declare suspect \"%s\", or name one with suspect = \"...\"", element->id);
	}
	size_t room = count + (suspect ? suspect->mode_count : 0) + 1;
	hs_line_fault *list = hs_arena_alloc(laying->build->arena, room * sizeof *list);
	for (size_t i = 0; suspect && i < count; i++) {
		if (suspect->mode_count == 0 && hs_laid_shared(laying, element))
			continue;
		if (!has_mode(suspect, names[i])) {
			hs_problem *problem = hs_table_problem(&faults, names[i], "the suspect \"%s\" has no mode \"%s\"", suspect->id, names[i]);
			hs_build_nearest(laying->build, problem, names[i], suspect->modes, suspect->mode_count);
			continue;
		}
		read_fault(laying, &faults, names[i], at, &list[kept]);
		kept += list[kept].effect.kind != HS_EFFECT_NONE;
	}
	if (suspect)
		kept = add_spoken(suspect, list, kept, at);
	element->faults = list;
	element->fault_count = kept;
	hs_table_done(&faults);
}
