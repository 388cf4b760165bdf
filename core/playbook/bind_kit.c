/* The kit file: cable, pad, adapter, probe, lead, instrument, hookup. */
#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "halfsplit/lineup/network.h"
#include "names.h"

enum { PROGRAM_MOST = 17 };

static const char *const cable_words[] = {"title", "type",  "length", "points", "touchstone",
                                          "u",     "rated", "to",     "serial", "ends"};
static const char *const pad_words[] = {"title", "loss", "points", "touchstone", "u", "rated", "to", "serial", "ends"};
static const char *const probe_words[] = {"title", "ratio", "touch", "loss", "u", "rated", "to", "serial", "ends"};
static const char *const lead_words[] = {"title", "u", "serial"};
static const char *const instrument_words[] = {"title", "reads",     "from", "to",     "freq", "u",
                                               "max",   "impedance", "due",  "serial", "gives", "connector", "read"};
static const char *const range_words[] = {"from", "to", "freq", "u"};
static const char *const max_words[] = {"rf", "dc"};

/* ---- accuracies ---- */

/* Cuts one term off the front of "0.5 % + 20 mV"; a plus inside a number ("1e+3") has a digit or an e before it. */
static char *next_term(char **rest)
{
	char *from = *rest;
	char *plus = strstr(from, " +");
	if (plus) {
		*plus = '\0';
		*rest = plus + 2;
	} else {
		*rest = from + strlen(from);
	}
	return hs_trim(from);
}

static bool add_term(const hs_table *table, const char *key, const char *term, hs_unit wanted, hs_accuracy *out)
{
	hs_error error = {0};
	hs_quantity part;
	if (!hs_quantity_read(term, HS_UNIT_COUNT, &part, &error)) {
		hs_problem *problem =
		    hs_table_problem(table, key, "the accuracy \"%s\" cannot be read: %s", term, error.message);
		hs_problem_hint(problem, "write it as \"0.2 dB\", \"20 mV\" or \"0.5 %% + 20 mV\"");
		return false;
	}
	if (part.value < 0) {
		hs_table_problem(table, key, "the accuracy \"%s\" is below zero", term);
		return false;
	}
	if (part.unit == HS_PERCENT && wanted != HS_DB && wanted != HS_PERCENT) {
		out->percent += part.value;
		return true;
	}
	if (hs_unit_dimension(part.unit) == hs_unit_dimension(wanted)) {
		out->absolute += part.value;
		return true;
	}
	hs_problem *problem = hs_table_problem(table, key, "the accuracy \"%s\" does not fit what is in %s", term,
	                                       hs_unit_name(wanted)[0] ? hs_unit_name(wanted) : "plain numbers");
	if (wanted == HS_DB)
		hs_problem_hint(problem, "the accuracy of a level is in dB");
	return false;
}

bool hs_read_accuracy(const hs_table *table, const char *key, hs_unit unit, hs_accuracy *out)
{
	hs_unit wanted = hs_unit_is_level(unit) ? HS_DB : unit;
	const char *text = hs_table_text(table, key);
	*out = (hs_accuracy){.unit = wanted};
	if (!text)
		return false;
	char *rest = hs_trim(hs_arena_str(table->build->arena, text));
	if (strncmp(rest, "k2", 2) == 0 && (rest[2] == ' ' || rest[2] == '\t')) {
		out->expanded = true;
		rest = hs_trim(rest + 2);
	}
	do {
		if (!add_term(table, key, next_term(&rest), wanted, out))
			return false;
	} while (*rest);
	return true;
}

/* Of a cable, pad, adapter or probe: a rectangular half-width in dB. */
static void read_part_u(const hs_table *table, hs_part *part)
{
	hs_accuracy u;
	const char *text = hs_table_text(table, "u");
	if (!text)
		return;
	bool in_percent = strchr(text, '%') != NULL;
	if (in_percent && part->kind != HS_PART_PROBE) {
		hs_problem *problem = hs_table_problem(table, "u", "the uncertainty of a loss is \"%s\"", text);
		hs_problem_hint(problem, "write it in dB, as in \"0.2 dB\"");
		return;
	}
	if (!hs_read_accuracy(table, "u", in_percent ? HS_VOLT : HS_DB, &u))
		return;
	part->has_u = true;
	part->u_db = in_percent ? 20 * log10(1 + u.percent / 100) : u.absolute;
	if (u.expanded)
		part->u_db *= sqrt(3) / 2;
}

/* ---- losses ---- */

static bool read_point_of_loss(const hs_table *points, const char *name, hs_loss_point *out)
{
	hs_error error = {0};
	hs_quantity freq;
	if (!hs_quantity_read(name, HS_UNIT_COUNT, &freq, &error) || freq.unit != HS_HERTZ) {
		hs_problem *problem = hs_table_problem(points, name, "\"%s\" is no frequency", name);
		hs_problem_hint(problem, "write [\"100 MHz\"] = \"0.31 dB\"");
		return false;
	}
	out->freq_hz = freq.value;
	return hs_table_in(points, name, HS_DB, &out->loss_db);
}

static void read_points(const hs_table *table, hs_part *part)
{
	hs_table points = hs_table_sub(table, "points", false);
	size_t count, good = 0;
	const char **names = hs_table_keys(&points, &count);
	hs_loss_point *list = hs_arena_alloc(table->build->arena, count * sizeof *list);
	for (size_t i = 0; i < count; i++)
		good += read_point_of_loss(&points, names[i], &list[good]);
	hs_error error = {0};
	if (good == count && points.index && !hs_loss_table_make(table->build->arena, list, count, &part->own, &error))
		hs_table_problem(table, "points", "the loss points of \"%s\" cannot be used: %s", part->id,
		                 error.message);
	part->own_source = "own points";
	hs_table_done(&points);
}

static void read_touchstone(const hs_table *table, hs_part *part)
{
	hs_error error = {0};
	const char *name = hs_table_text(table, "touchstone");
	if (!name)
		return;
	const hs_source *source = hs_sources_open(table->build->sources, name, HS_SOURCE_TABLE, &error);
	if (source && hs_network_lead_loss(table->build->arena, source->path, source->text, source->text_length,
	                                   &part->own, &error)) {
		part->own_source = hs_arena_str(table->build->arena, source->path);
		return;
	}
	hs_problem *problem =
	    hs_table_problem(table, "touchstone", "the file \"%s\" cannot be used: %s", name, error.message);
	if (error.file[0] && error.line > 0)
		hs_problem_hint(problem, "see line %d of %s", error.line, error.file);
	else if (error.hint[0])
		hs_problem_hint(problem, "%s", error.hint);
}

static void read_type(const hs_table *table, hs_part *part)
{
	part->type = hs_table_text(table, "type");
	bool length = hs_table_positive(table, "length", HS_METRE, &part->length_m);
	if (!part->type)
		return;
	if (!hs_coax_type(part->type)) {
		size_t count;
		const char *const *known = hs_coax_type_names(&count);
		hs_problem *problem =
		    hs_table_problem(table, "type", "no loss is known for the cable type \"%s\"", part->type);
		const char *nearest = hs_build_near(table->build, part->type, known, count);
		if (nearest)
			hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
		else
			hs_problem_hint(problem, "measure it and give points = { [\"100 MHz\"] = \"0.31 dB\", ... }");
		part->type = NULL;
		return;
	}
	if (!length && !hs_table_has(table, "length"))
		hs_table_problem(table, "type", "the cable \"%s\" has a type and no length", part->id);
}

/* Exactly one way to know the loss. */
static void check_loss(const hs_table *table, const char *const *ways, size_t count, bool must)
{
	const char *first = NULL;
	for (size_t i = 0; i < count; i++) {
		if (!hs_table_has(table, ways[i]))
			continue;
		if (first)
			hs_table_problem(table, ways[i], "the loss of \"%s\" is given twice, by \"%s\" and by \"%s\"",
			                 table->decl->id, first, ways[i]);
		first = first ? first : ways[i];
	}
	if (!first && must)
		hs_table_problem(table, NULL, "the loss of \"%s\" is not given", table->decl->id);
}

static void read_common(const hs_table *table, hs_part *part)
{
	part->title = hs_table_text(table, "title");
	part->serial = hs_table_text(table, "serial");
	hs_table_positive(table, "rated", HS_WATT, &part->rated_w);
	if (hs_table_has(table, "ends"))
		hs_table_ends(table, "ends", part->has_ends, part->ends);
	read_part_u(table, part);
}

static void read_cable(const hs_table *table, hs_part *part)
{
	static const char *const ways[] = {"type", "points", "touchstone"};
	hs_table_known(table, "a cable", table->decl->skip, (hs_words[]){HS_WORDS(cable_words)}, 1);
	part->kind = HS_PART_CABLE;
	check_loss(table, ways, 3, true);
	hs_table_positive(table, "to", HS_HERTZ, &part->freq_to_hz);
	read_type(table, part);
	if (hs_table_has(table, "points"))
		read_points(table, part);
	read_touchstone(table, part);
	read_common(table, part);
}

static void read_fixed(const hs_table *table, hs_part *part)
{
	part->has_fixed = hs_table_in(table, "loss", HS_DB, &part->fixed_db);
	if (part->has_fixed && part->fixed_db < 0) {
		hs_problem *problem = hs_table_problem(table, "loss", "the loss of \"%s\" is below zero", part->id);
		hs_problem_hint(problem, "a loss is positive; what it takes off is added back to a reading");
		part->has_fixed = false;
	}
	hs_table_positive(table, "to", HS_HERTZ, &part->freq_to_hz);
}

static void read_pad_like(const hs_table *table, hs_part *part, hs_part_kind kind, const char *what)
{
	static const char *const ways[] = {"loss", "points", "touchstone"};
	hs_table_known(table, what, table->decl->skip, (hs_words[]){HS_WORDS(pad_words)}, 1);
	part->kind = kind;
	check_loss(table, ways, 3, true);
	read_fixed(table, part);
	if (hs_table_has(table, "points"))
		read_points(table, part);
	read_touchstone(table, part);
	read_common(table, part);
}

static void read_pad(const hs_table *table, hs_part *part)
{
	read_pad_like(table, part, HS_PART_PAD, "a pad");
}

static void read_adapter(const hs_table *table, hs_part *part)
{
	read_pad_like(table, part, HS_PART_ADAPTER, "an adapter");
}

static void read_probe(const hs_table *table, hs_part *part)
{
	hs_table_known(table, "a probe", table->decl->skip, (hs_words[]){HS_WORDS(probe_words)}, 1);
	part->kind = HS_PART_PROBE;
	part->touch = hs_table_flag(table, "touch");
	lua_pushliteral(table->L, "ratio");
	lua_rawget(table->L, table->index);
	int type = lua_type(table->L, -1);
	double ratio = type == LUA_TNUMBER ? lua_tonumber(table->L, -1) : 0;
	lua_pop(table->L, 1);
	if (type != LUA_TNIL && !(ratio >= 1 && ratio <= 100000))
		hs_table_problem(table, "ratio",
		                 "the ratio of \"%s\" must be a number from 1 to 100000: 10 for a ten-times probe",
		                 part->id);
	else
		part->ratio = ratio;
	read_fixed(table, part);
	read_common(table, part);
}

static void read_lead(const hs_table *table, hs_part *part)
{
	hs_table_known(table, "a test lead", table->decl->skip, (hs_words[]){HS_WORDS(lead_words)}, 1);
	part->kind = HS_PART_PROBE;
	part->touch = true;
	read_common(table, part);
}

/* ---- instruments ---- */

/* "10 MHz .. 6 GHz" */
static void read_band(const hs_table *table, double *from_hz, double *to_hz)
{
	hs_limits band;
	if (!hs_table_has(table, "freq") || !hs_table_limits(table, "freq", HS_HERTZ, &band))
		return;
	if (band.unit != HS_HERTZ || !band.has_low || !band.has_high || band.low < 0) {
		hs_problem *problem = hs_table_problem(table, "freq", "\"freq\" is no span of frequencies");
		hs_problem_hint(problem, "write freq = \"10 MHz .. 6 GHz\"");
		return;
	}
	*from_hz = band.low;
	*to_hz = band.high;
}

/* from and to, of one kind; to takes the unit of from. */
static bool read_span(const hs_table *table, hs_unit like, hs_quantity *from, hs_quantity *to)
{
	hs_error error = {0};
	bool has_from = hs_table_has(table, "from"), has_to = hs_table_has(table, "to");
	if (!has_from && !has_to)
		return false;
	if (has_from != has_to) {
		hs_table_problem(table, has_from ? "from" : "to",
		                 "a range has both \"from\" and \"to\", and one is missing");
		return false;
	}
	if (!hs_table_quantity(table, "from", like, from) || !hs_table_quantity(table, "to", like, to))
		return false;
	if (to->unit != from->unit && !hs_quantity_convert(*to, from->unit, 0, to, &error)) {
		hs_table_problem(table, "to", "\"to\" does not fit \"from\": %s", error.message);
		return false;
	}
	if (from->value > to->value)
		hs_table_problem(table, "from", "this range runs backwards: \"from\" lies above \"to\"");
	return from->value <= to->value;
}

static bool find_measurand(const hs_table *table, const char *key, const char *word, hs_measurand *out)
{
	if (hs_measurand_find(word, out))
		return true;
	size_t count;
	const char *const *known = hs_measurand_names(&count);
	hs_problem *problem = hs_table_problem(table, key, "\"%s\" is nothing that can be read", word);
	hs_build_nearest(table->build, problem, word, known, count);
	return false;
}

static void read_range(const hs_table *table, hs_measurand reads, hs_range *range)
{
	hs_unit unit = hs_measurand_unit(reads);
	*range = (hs_range){.reads = reads};
	range->has_range = read_span(table, unit, &range->from, &range->to);
	read_band(table, &range->freq_from_hz, &range->freq_to_hz);
	if (range->has_range)
		unit = range->from.unit;
	if (!hs_read_accuracy(table, "u", unit, &range->u) && !hs_table_has(table, "u")) {
		hs_problem *problem = hs_table_problem(table, NULL, "the accuracy of %s at \"%s\" is not given",
		                                       hs_measurand_name(reads), table->decl->id);
		hs_problem_hint(problem, "add u = \"...\"; without it nothing can be judged");
	}
}

static void read_ranges(const hs_table *table, hs_part *part)
{
	hs_table reads = hs_table_sub(table, "reads", true);
	if (reads.index == 0) {
		const char *word = hs_table_text(table, "reads");
		part->ranges = hs_arena_alloc(table->build->arena, sizeof *part->ranges);
		hs_measurand only;
		if (word && find_measurand(table, "reads", word, &only))
			read_range(table, only, &part->ranges[part->range_count++]);
		return;
	}
	size_t positions = 0, named;
	while (hs_table_has(&reads, hs_key_at(&reads, positions + 1)))
		positions++;
	const char **names = hs_table_names(&reads, positions, &named);
	part->ranges = hs_arena_alloc(table->build->arena, (positions + named) * sizeof *part->ranges);
	for (size_t i = 0; i < positions; i++) {
		const char *key = hs_key_at(&reads, i + 1), *word = hs_table_text(&reads, key);
		hs_measurand measurand;
		if (word && find_measurand(&reads, key, word, &measurand))
			read_range(table, measurand, &part->ranges[part->range_count++]);
	}
	for (size_t i = 0; i < named; i++) {
		hs_table one = hs_table_sub(&reads, names[i], false);
		hs_table_known(&one, "a range", 0, (hs_words[]){HS_WORDS(range_words)}, 1);
		hs_measurand measurand;
		if (find_measurand(&reads, names[i], names[i], &measurand) && one.index)
			read_range(&one, measurand, &part->ranges[part->range_count++]);
		hs_table_done(&one);
	}
	hs_table_done(&reads);
}

static void read_gives(const hs_table *table, hs_part *part)
{
	hs_table gives = hs_table_sub(table, "gives", false);
	if (gives.index == 0)
		return;
	hs_table_known(&gives, "what a source gives", 0, (hs_words[]){HS_WORDS(range_words)}, 1);
	part->gives_level = true;
	/* An audio source is stated in volts, an RF one in dBm; both ends are of the kind of the first. */
	hs_quantity first = {0, HS_DBM};
	if (hs_table_has(&gives, "from") && !hs_table_level(&gives, "from", &first))
		first.unit = HS_UNIT_COUNT;
	if (first.unit == HS_UNIT_COUNT || !read_span(&gives, first.unit, &part->gives_from, &part->gives_to))
		part->gives_from = part->gives_to = (hs_quantity){0, HS_DBM};
	if (!hs_table_has(&gives, "from") && !hs_table_has(&gives, "to"))
		hs_table_problem(&gives, NULL, "\"%s\" does not say from what level to what level it gives", part->id);
	read_band(&gives, &part->gives_freq_from_hz, &part->gives_freq_to_hz);
	hs_read_accuracy(&gives, "u", part->gives_from.unit, &part->gives_u);
	hs_table_done(&gives);
}

static bool is_date(const char *text)
{
	static const int days[] = {31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	if (strlen(text) != 10 || text[4] != '-' || text[7] != '-')
		return false;
	for (int i = 0; i < 10; i++)
		if (i != 4 && i != 7 && (text[i] < '0' || text[i] > '9'))
			return false;
	int month = (text[5] - '0') * 10 + text[6] - '0', day = (text[8] - '0') * 10 + text[9] - '0';
	return month >= 1 && month <= 12 && day >= 1 && day <= days[month - 1];
}

const char *hs_read_due(const hs_table *table)
{
	const char *due = hs_table_text(table, "due");
	if (!due || is_date(due))
		return due;
	hs_problem *problem = hs_table_problem(table, "due", "\"%s\" is no date", due);
	hs_problem_hint(problem, "write year, month and day, as in \"2027-03-31\"");
	return NULL;
}

static void read_max(const hs_table *table, hs_part *part)
{
	hs_table max = hs_table_sub(table, "max", false);
	hs_table_known(&max, "\"max\"", 0, (hs_words[]){HS_WORDS(max_words)}, 1);
	part->has_max_rf = hs_table_level(&max, "rf", &part->max_rf);
	hs_table_positive(&max, "dc", HS_VOLT, &part->max_dc_v);
	hs_table_done(&max);
}

/* Where a program lies must not hang on the folder somebody happens to stand in, nor on a search path. */
static bool good_program(const char *name)
{
	return *name == '/' || (!strchr(name, '/') && strcmp(name, "..") != 0 && strcmp(name, ".") != 0);
}

static void read_program(const hs_table *table, hs_part *part)
{
	size_t count;
	const char **words = hs_table_texts(table, "read", &count);
	if (count == 0)
		return;
	if (!good_program(words[0])) {
		hs_problem *problem = hs_table_problem(table, hs_table_item(table, "read", 0),
		                                       "the program \"%s\" is named by neither a full path nor a file beside the kit", words[0]);
		hs_problem_hint(problem, "write read = { \"/usr/local/bin/PROGRAM\" }, or only the name of a file that lies beside the kit");
	} else if (count > PROGRAM_MOST) {
		hs_table_problem(table, "read", "a program takes at most %d words", PROGRAM_MOST - 1);
	} else {
		part->program = words;
		part->program_count = count;
	}
	if (part->range_count == 0)
		hs_table_problem(table, "read", "the instrument \"%s\" reads nothing, so no program can read it", part->id);
}

static void read_instrument(const hs_table *table, hs_part *part)
{
	hs_table_known(table, "an instrument", table->decl->skip, (hs_words[]){HS_WORDS(instrument_words)}, 1);
	part->kind = HS_PART_INSTRUMENT;
	part->title = hs_table_text(table, "title");
	part->serial = hs_table_text(table, "serial");
	part->due = hs_read_due(table);
	if (hs_table_has(table, "reads"))
		read_ranges(table, part);
	read_gives(table, part);
	if (!hs_table_has(table, "reads") && !part->gives_level)
		hs_table_problem(table, NULL, "the instrument \"%s\" neither reads nor gives anything", part->id);
	read_max(table, part);
	hs_table_positive(table, "impedance", HS_OHM, &part->impedance_ohm);
	part->has_ends[0] = hs_table_connector(table, "connector", &part->ends[0]);
	read_program(table, part);
}

/* ---- hookups ---- */

static const hs_part *find_part(const hs_table *table, const char *key, const char *name)
{
	const hs_kit *kit = table->build->making;
	const hs_part *found = hs_kit_part(kit, name);
	if (found)
		return found;
	const char **known = hs_arena_alloc(table->build->arena, (kit->part_count + 1) * sizeof *known);
	for (size_t i = 0; i < kit->part_count; i++)
		known[i] = kit->parts[i]->id;
	hs_problem *problem = hs_table_problem(table, key, "the kit has no part \"%s\"", name);
	hs_build_nearest(table->build, problem, name, known, kit->part_count);
	return NULL;
}

static void add_to_hookup(const hs_table *table, const char *key, const hs_part **parts, hs_hookup *hookup)
{
	const char *name = hs_table_text(table, key);
	const hs_part *part = name ? find_part(table, key, name) : NULL;
	if (!part)
		return;
	if (hookup->count == HS_HOOKUP_MOST) {
		hs_table_problem(table, key, "a hookup has at most %d parts", HS_HOOKUP_MOST);
		return;
	}
	if (hookup->instrument) {
		hs_problem *problem =
		    hs_table_problem(table, key, "in the hookup \"%s\" the instrument \"%s\" is not the last part",
		                     hookup->id, hookup->instrument->id);
		hs_problem_hint(problem, "list the parts from the unit to the instrument");
	}
	parts[hookup->count++] = part;
	if (part->kind == HS_PART_INSTRUMENT)
		hookup->instrument = part;
}

static void read_hookup(const hs_table *table)
{
	hs_build *build = table->build;
	hs_where where = hs_table_where(table, NULL);
	size_t length = hs_table_length(table), skip = table->decl->skip;
	const hs_part **parts = hs_arena_alloc(build->arena, HS_HOOKUP_MOST * sizeof *parts);
	hs_hookup *hookup = hs_arena_alloc(build->arena, sizeof *hookup);
	hs_table_known(table, "a hookup", HS_ANY_LENGTH, NULL, 0);
	*hookup = (hs_hookup){.id = table->decl->id, .parts = parts, .file = where.file, .line = where.line};
	for (size_t i = skip; i < length; i++)
		add_to_hookup(table, hs_key_at(table, i + 1), parts, hookup);
	if (length == skip)
		hs_table_problem(table, NULL, "the hookup \"%s\" has no parts", hookup->id);
	hs_kit_add_hookup(build->making, hookup);
}

/* ---- the order ---- */

typedef struct part_row {
	const char *callee;
	void (*read)(const hs_table *table, hs_part *part);
} part_row;

static const part_row rows[] = {
    {"cable", read_cable}, {"pad", read_pad},   {"adapter", read_adapter},
    {"probe", read_probe}, {"lead", read_lead}, {"instrument", read_instrument},
};

static const part_row *row_of(const char *callee)
{
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (strcmp(rows[i].callee, callee) == 0)
			return &rows[i];
	return NULL;
}

/* A hookup's name is free text ("meter lead"), a part's is an id; both are names one may ask hs_kit_hookup for. */
static bool good_name(hs_build *build, const hs_decl *decl, bool part)
{
	hs_where where = hs_decl_where(build, decl, "");
	if (part && !hs_build_good_id(build, decl->id ? decl->id : "", decl->callee, where))
		return false;
	if (!decl->id || !*decl->id) {
		hs_build_problem(build, HS_ERROR, where, "this hookup has no name");
		return false;
	}
	const hs_part *twin = hs_kit_part(build->making, decl->id);
	const hs_hookup *hookup = hs_kit_hookup(build->making, decl->id);
	if (part ? !twin : !hookup)
		return true;
	hs_build_problem(build, HS_ERROR, where, "\"%s\" is declared twice; the other stands in line %d of %s",
	                 decl->id, twin ? twin->line : hookup->line, twin ? twin->file : hookup->file);
	return false;
}

static void read_part(hs_build *build, lua_State *L, const hs_decl *decl, const part_row *row)
{
	hs_table table = hs_table_of(build, L, decl);
	hs_where where = hs_table_where(&table, NULL);
	hs_part *part = hs_arena_alloc(build->arena, sizeof *part);
	part->id = decl->id;
	part->file = where.file;
	part->line = where.line;
	row->read(&table, part);
	hs_kit_add_part(build->making, part);
	hs_table_done(&table);
}

void hs_bind_kit(hs_build *build, lua_State *L)
{
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		const part_row *row = row_of(decl->callee);
		if (row && decl->ref != LUA_NOREF && good_name(build, decl, true))
			read_part(build, L, decl, row);
	}
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "hookup") != 0 || decl->ref == LUA_NOREF || !good_name(build, decl, false))
			continue;
		hs_table table = hs_table_of(build, L, decl);
		read_hookup(&table);
		hs_table_done(&table);
	}
	hs_bind_shop(build, L);
	hs_bind_knowns(build, L);
	hs_bind_bindings(build, L);
}
