/* One element of a line-up: what its own table says. */
#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "lineup_parts.h"

static const char *const common_words[] = {"title", "from", "suspect", "faults", "impedance", "supply", "max"};
static const char *const gain_words[] = {"gain", "loss", "touchstone", "coax", "length", "law", "tolerance"};
static const char *const port_words[] = {"accepts", "gives"};
static const char *const tap_words[] = {"tap"};
static const char *const stage_words[] = {"nf", "p1db", "holds", "times"};
static const char *const mixer_words[] = {"nf", "p1db", "lo", "lo_from", "needs", "to", "tuned"};
static const char *const way_words[] = {"by", "ways"};
static const char *const split_words[] = {"side"};
static const char *const coupler_words[] = {"coupling", "directivity", "forward", "reverse"};
static const char *const joint_words[] = {"breaks"};
static const char *const oscillator_words[] = {"gives", "freq", "locks", "needs"};
static const char *const feed_words[] = {"gives"};
static const char *const levelling_words[] = {"holds", "at", "range", "when"};
static const char *const stands_words[] = {"average", "peak", "dc"};

typedef struct element_row {
	const char *callee, *what;
	bool has_gain;
	hs_words own;
} element_row;

static const element_row rows[] = {
    {"port", "a port", false, HS_WORDS(port_words)},
    {"point", "a point of a line-up", true, HS_WORDS(tap_words)},
    {"stage", "a stage", true, HS_WORDS(stage_words)},
    {"mixer", "a mixer", true, HS_WORDS(mixer_words)},
    {"switch", "a switch", true, HS_WORDS(way_words)},
    {"split", "a split", true, HS_WORDS(split_words)},
    {"coupler", "a coupler", true, HS_WORDS(coupler_words)},
    {"joint", "a joint of a line-up", true, HS_WORDS(joint_words)},
    {"oscillator", "an oscillator", false, HS_WORDS(oscillator_words)},
    {"supply", "a supply of a line-up", true, HS_WORDS(feed_words)},
    {"levelling", "a levelling element", true, HS_WORDS(levelling_words)},
};

const char *hs_element_words_of(const char *callee, hs_words *out)
{
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		if (strcmp(rows[i].callee, callee) != 0)
			continue;
		out[0] = rows[i].own;
		out[1] = (hs_words)HS_WORDS(common_words);
		out[2] = rows[i].has_gain ? (hs_words)HS_WORDS(gain_words) : (hs_words){NULL, 0};
		return rows[i].what;
	}
	return NULL;
}

static const hs_bench_unit *unit_of(const hs_laying *laying)
{
	return &laying->build->playbook->unit;
}

/* ---- what an input stands ---- */

static void read_max(const hs_table *table, hs_element *element)
{
	hs_table max = hs_table_sub(table, "max", false);
	if (max.index == 0)
		return;
	hs_table_known(&max, "\"max\"", 0, (hs_words[]){HS_WORDS(stands_words)}, 1);
	element->has_max = hs_read_scaled(&max, "average", element->volts, element->impedance_ohm, &element->max, NULL, NULL);
	element->has_peak = hs_read_scaled(&max, "peak", element->volts, element->impedance_ohm, &element->peak, NULL, NULL);
	hs_table_positive(&max, "dc", HS_VOLT, &element->max_dc_v);
	/* On a line of volts DC goes the same way as everything else. */
	if (element->volts && !element->has_max && element->max_dc_v > 0) {
		element->has_max = true;
		element->max = 20 * log10(element->max_dc_v);
	}
	hs_table_done(&max);
}

/* ---- frequencies that hang on a control ---- */

static int find_control(const hs_laying *laying, const hs_table *table, const char *key, const char *name)
{
	const hs_bench_unit *unit = unit_of(laying);
	int found = name ? hs_unit_control(unit, name) : -1;
	if (!name || found >= 0)
		return found;
	const char *known[HS_CONTROLS_MOST];
	for (int i = 0; i < unit->control_count; i++)
		known[i] = unit->controls[i].id;
	hs_problem *problem = hs_table_problem(table, key, "no control \"%s\" is declared", name);
	hs_build_nearest(laying->build, problem, name, known, (size_t)unit->control_count);
	return -1;
}

static int find_position(const hs_laying *laying, const hs_table *table, const char *key, int control, const char *name)
{
	const hs_control *it = &unit_of(laying)->controls[control];
	for (int i = 0; i < it->position_count; i++)
		if (strcmp(it->positions[i], name) == 0)
			return i + 1;
	hs_problem *problem = hs_table_problem(table, key, "\"%s\" is no position of the control \"%s\"", name, it->id);
	hs_build_nearest(laying->build, problem, name, it->positions, (size_t)it->position_count);
	return 0;
}

/* "1.43 GHz", or { band = { low = "1.33 GHz", high = "1.43 GHz" } } */
static void read_tuning(const hs_laying *laying, const hs_table *table, const char *key, hs_tuning *out)
{
	out->control = -1;
	if (hs_table_type(table, key) != LUA_TTABLE) {
		out->given = hs_table_positive(table, key, HS_HERTZ, &out->hz);
		return;
	}
	hs_table outer = hs_table_sub(table, key, false);
	size_t count, positions;
	const char **names = hs_table_keys(&outer, &count);
	if (count != 1)
		hs_table_problem(table, key, "\"%s\" hangs on one control, and %zu are named", key, count);
	int control = count == 1 ? find_control(laying, &outer, names[0], names[0]) : -1;
	hs_table inner = control >= 0 ? hs_table_sub(&outer, names[0], false) : (hs_table){.index = 0};
	if (inner.index) {
		const char **each = hs_table_keys(&inner, &positions);
		int room = unit_of(laying)->controls[control].position_count;
		double *hz = hs_arena_alloc(laying->build->arena, (size_t)room * sizeof *hz);
		for (size_t i = 0; i < positions; i++) {
			int position = find_position(laying, &inner, each[i], control, each[i]);
			if (position > 0)
				hs_table_positive(&inner, each[i], HS_HERTZ, &hz[position - 1]);
		}
		*out = (hs_tuning){.given = true, .control = control, .by_position = hz, .position_count = room};
		hs_table_done(&inner);
	}
	hs_table_done(&outer);
}

/* ---- each kind ---- */

static void want(const hs_table *table, const char *key, const char *id, const char *what, const char *example)
{
	if (hs_table_has(table, key))
		return;
	hs_problem *problem = hs_table_problem(table, NULL, "\"%s\" does not say %s", id, what);
	hs_problem_hint(problem, "add %s", example);
}

static void read_amplifier(const hs_table *table, hs_element *element)
{
	double nf;
	if (hs_table_has(table, "nf") && hs_table_in(table, "nf", HS_DB, &nf)) {
		element->has_nf = nf >= 0;
		element->nf_db = nf;
		if (nf < 0)
			hs_table_problem(table, "nf", "no noise figure is below 0 dB");
	}
	element->has_p1db = hs_read_scaled(table, "p1db", element->volts, element->impedance_ohm, &element->p1db, &element->p1db_up_db,
	                                   &element->p1db_down_db);
	element->holds = hs_read_scaled(table, "holds", element->volts, element->impedance_ohm, &element->level, &element->level_up_db,
	                                &element->level_down_db);
}

static void read_mixer(const hs_laying *laying, const hs_table *table, hs_element *element)
{
	read_tuning(laying, table, "lo", &element->tuned);
	element->lo = hs_laid_element(laying, table, "lo_from");
	if (hs_table_positive(table, "tuned", HS_HERTZ, &element->tuned.to_hz))
		element->tuned.given = true;
	const char *to = hs_table_text(table, "to");
	element->sum = to && strcmp(to, "sum") == 0;
	if (to && !element->sum && strcmp(to, "difference") != 0) {
		hs_problem *problem = hs_table_problem(table, "to", "\"%s\" is nothing a mixer makes", to);
		hs_problem_hint(problem, "it is difference or sum");
	}
	if (!hs_table_has(table, "lo_from") && !hs_table_has(table, "tuned"))
		want(table, "lo", element->id, "what frequency drives it", "lo = \"1.43 GHz\", or lo_from = \"ELEMENT\"");
	bool drive_volts = element->lo >= 0 && laying->elements[element->lo].volts;
	element->has_needs = hs_read_scaled(table, "needs", drive_volts, element->impedance_ohm, &element->needs, NULL, NULL);
}

static void read_oscillator(const hs_laying *laying, const hs_table *table, hs_element *element)
{
	want(table, "gives", element->id, "what level it gives", "gives = \"7 dBm +/- 1 dB\"");
	want(table, "freq", element->id, "at what frequency", "freq = \"1.43 GHz\"");
	read_tuning(laying, table, "freq", &element->tuned);
	hs_read_scaled(table, "gives", element->volts, element->impedance_ohm, &element->level, &element->level_up_db,
	               &element->level_down_db);
	element->locks = hs_laid_element(laying, table, "locks");
	bool reference_volts = element->locks >= 0 && laying->elements[element->locks].volts;
	element->has_needs = hs_read_scaled(table, "needs", reference_volts, element->impedance_ohm, &element->needs, NULL, NULL);
}

static void read_feed(const hs_table *table, hs_element *element)
{
	if (element->from >= 0) {
		/* Fed by another one, it holds its volts as long as it gets them. */
		element->holds = hs_read_scaled(table, "gives", true, element->impedance_ohm, &element->level, &element->level_up_db,
		                                &element->level_down_db);
		return;
	}
	hs_quantity given;
	double tolerance;
	want(table, "gives", element->id, "what it gives", "gives = \"12 V +/- 4 %\"");
	element->negative = hs_table_has(table, "gives") && hs_table_toleranced(table, "gives", HS_UNIT_COUNT, &given, &tolerance) &&
	                    given.unit == HS_VOLT && given.value < 0;
	hs_read_scaled(table, "gives", true, element->impedance_ohm, &element->level, &element->level_up_db, &element->level_down_db);
}

static void read_when(const hs_laying *laying, const hs_table *table, hs_element *element)
{
	hs_table when = hs_table_sub(table, "when", false);
	size_t count;
	const char **names = hs_table_keys(&when, &count);
	if (when.index && count != 1)
		hs_table_problem(table, "when", "\"when\" names one control, and here are %zu", count);
	int control = when.index && count == 1 ? find_control(laying, &when, names[0], names[0]) : -1;
	const char *position = control >= 0 ? hs_table_text(&when, names[0]) : NULL;
	if (position) {
		element->when_control = control;
		element->when_position = find_position(laying, &when, names[0], control, position);
	}
	hs_table_done(&when);
}

static void read_levelling(const hs_laying *laying, const hs_table *table, hs_element *element)
{
	want(table, "holds", element->id, "what it holds", "holds = \"17 dBm +/- 0.5 dB\"");
	want(table, "at", element->id, "where it looks", "at = \"ELEMENT\", the detector");
	want(table, "range", element->id, "how far it can turn down", "range = \"15 dB\"");
	element->detector = hs_laid_element(laying, table, "at");
	bool volts = element->detector >= 0 ? laying->elements[element->detector].volts : element->volts;
	hs_read_scaled(table, "holds", volts, element->impedance_ohm, &element->level, &element->level_up_db, &element->level_down_db);
	hs_table_positive(table, "range", HS_DB, &element->range_db);
	read_when(laying, table, element);
}

static void read_joint(const hs_laying *laying, const hs_table *table, hs_element *element)
{
	const hs_bench_unit *unit = unit_of(laying);
	const char *name = hs_table_text(table, "breaks");
	int found = hs_unit_openable(unit, name ? name : element->id);
	if (found >= 0 && unit->openables[found].kind != HS_OPEN_COVER) {
		element->openable = found;
		return;
	}
	if (!name)
		return;
	const char *known[HS_OPENABLES_MOST];
	size_t count = 0;
	for (int i = 0; i < unit->openable_count; i++)
		if (unit->openables[i].kind != HS_OPEN_COVER)
			known[count++] = unit->openables[i].id;
	hs_problem *problem = hs_table_problem(table, "breaks", "the unit declares no joint \"%s\"", name);
	hs_build_nearest(laying->build, problem, name, known, count);
}

/* The arms of a coupler stand in no list of their own. */
static void fill_arm(const hs_table *table, hs_element *arm)
{
	hs_response coupling, more;
	bool reverse = arm->at_most;
	if (!hs_read_loss_text(table, "coupling", &coupling))
		coupling = (hs_response){.kind = HS_RESPONSE_FLAT};
	arm->gain = coupling;
	if (reverse && hs_read_loss_text(table, "directivity", &more))
		arm->gain.gain_db += more.gain_db;
}

static void read_own(const hs_laying *laying, const hs_table *table, hs_element *element)
{
	switch (element->kind) {
	case HS_ELEMENT_STAGE:
		read_amplifier(table, element);
		element->times = hs_table_count(table, "times", 2, 1000, 0);
		break;
	case HS_ELEMENT_MIXER:
		read_amplifier(table, element);
		read_mixer(laying, table, element);
		break;
	case HS_ELEMENT_OSCILLATOR:
		read_oscillator(laying, table, element);
		break;
	case HS_ELEMENT_SUPPLY:
		read_feed(table, element);
		break;
	case HS_ELEMENT_LEVELLER:
		read_levelling(laying, table, element);
		break;
	case HS_ELEMENT_JOINT:
		read_joint(laying, table, element);
		break;
	case HS_ELEMENT_POINT:
		element->has_tap = hs_read_loss_text(table, "tap", &element->tap);
		break;
	default:
		break;
	}
	if (strcmp(table->decl->callee, "coupler") == 0)
		want(table, "coupling", element->id, "how far its arm lies below the line", "coupling = \"30 dB +/- 0.5 dB\"");
}

void hs_fill_element(const hs_laying *laying, size_t at)
{
	hs_element *element = &laying->elements[at];
	if (!laying->decls[at])
		return;
	hs_table table = hs_table_of(laying->build, laying->L, laying->decls[at]);
	hs_table_positive(&table, "impedance", HS_OHM, &element->impedance_ohm);
	if (element->kind == HS_ELEMENT_ARM) {
		fill_arm(&table, element);
	} else {
		if (element->kind != HS_ELEMENT_PORT && element->kind != HS_ELEMENT_OSCILLATOR)
			hs_read_response(&table, element->volts, &element->gain);
		element->supply = hs_laid_element(laying, &table, "supply");
		read_max(&table, element);
		read_own(laying, &table, element);
		hs_read_faults(laying, &table, at);
	}
	hs_table_done(&table);
}
