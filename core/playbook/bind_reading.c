/* What is measured: the readings of read, adjust and collect steps, their limits, and where their outcomes lead. */
#include <string.h>
#include "names.h"

static const char *const reading_words[] = {"at",    "against", "hookup",    "freq",   "unit", "asks",
                                            "loose", "settle",  "plausible", "limits", "uses"};
static const char *const adjust_words[] = {"read", "limits", "plausible", "responds", "tries"};
static const char *const holds_words[] = {"do", "adjust", "opening", "hookup", "energising", "all"};
static const unsigned holds_bits[] = {HS_HOLDS_DO,     HS_HOLDS_ADJUST,   HS_HOLDS_OPENING,
                                      HS_HOLDS_HOOKUP, HS_HOLDS_ENERGISE, HS_HOLDS_ALL};

const hs_hookup *hs_find_hookup(const hs_table *table, const char *key, const char *name)
{
	const hs_kit *kit = table->build->kit;
	const hs_hookup *found = kit ? hs_kit_hookup(kit, name) : NULL;
	if (!kit || found)
		return found;
	const char **known = hs_arena_alloc(table->build->arena, (kit->hookup_count + 1) * sizeof *known);
	for (size_t i = 0; i < kit->hookup_count; i++)
		known[i] = kit->hookups[i]->id;
	hs_problem *problem = hs_table_problem(table, key, "the kit has no hookup \"%s\"", name);
	const char *nearest = hs_build_near(table->build, name, known, kit->hookup_count);
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	else
		hs_problem_hint(problem, "add hookup \"%s\" { \"CABLE\", \"INSTRUMENT\" } to the kit", name);
	return NULL;
}

/* ---- one reading ---- */

static bool read_measurand(const hs_table *table, const char *key, hs_reading *reading)
{
	const char *word = hs_table_text(table, key);
	if (!word) {
		if (!hs_table_has(table, key))
			hs_table_problem(table, NULL,
			                 "this reading does not say what is read: \"power\", \"volts\", \"ohms\" ...");
		return false;
	}
	if (hs_measurand_find(word, &reading->reads)) {
		reading->unit = hs_measurand_unit(reading->reads);
		return true;
	}
	size_t count;
	const char *const *known = hs_measurand_names(&count);
	hs_problem *problem = hs_table_problem(table, key, "\"%s\" is nothing that can be read", word);
	const char *nearest = hs_build_near(table->build, word, known, count);
	reading->unit = hs_measurand_unit(reading->reads);
	if (nearest)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	else
		hs_problem_hint(
		    problem, "power, volts, ac volts, amps, ohms, continuity, diode, frequency, time, temperature ...");
	return false;
}

static void read_unit_word(const hs_table *table, hs_reading *reading)
{
	const char *word = hs_table_text(table, "unit");
	if (!word || hs_unit_find(word, &reading->unit))
		return;
	hs_problem *problem = hs_table_problem(table, "unit", "\"%s\" is no unit", word);
	hs_problem_hint(problem, "write it without a prefix, as in dBm, V, ohm, Hz");
}

static void read_place(const hs_table *table, const hs_step *step, hs_reading *reading)
{
	reading->at_text = hs_table_text(table, "at");
	reading->against = hs_table_text(table, "against");
	reading->point = reading->at_text ? hs_find_point(table, "at", reading->at_text, false) : -1;
	reading->hookup_name = hs_table_text(table, "hookup");
	if (reading->hookup_name) {
		reading->hookup = hs_find_hookup(table, "hookup", reading->hookup_name);
		if (!reading->at_text && !hs_table_has(table, "at")) {
			hs_problem *problem = hs_table_problem(
			    table, NULL, "the reading \"%s\" has a hookup and no point", reading->name);
			hs_problem_hint(problem, "add at = \"POINT\"");
		}
	}
	if (!hs_table_positive(table, "freq", HS_HERTZ, &reading->freq_hz) && reading->reads == HS_READS_POWER)
		reading->freq_hz = step->inject.freq_hz;
}

/* A measured point that is nearly the name of a declared one is a slip; any other is the author's own word for a place.
 */
static void suspect_slip(const hs_table *table, const hs_reading *reading)
{
	const hs_bench_unit *unit = &table->build->playbook->unit;
	if (!reading->at_text || reading->point >= 0 || reading->loose || strlen(reading->at_text) < 4)
		return;
	const char **known = hs_arena_alloc(table->build->arena, (size_t)(unit->point_count + 1) * sizeof *known);
	for (int i = 0; i < unit->point_count; i++)
		known[i] = unit->points[i].id;
	const char *nearest = hs_build_near(table->build, reading->at_text, known, (size_t)unit->point_count);
	if (!nearest)
		return;
	hs_problem *problem = hs_build_problem(table->build, HS_WARNING, hs_table_where(table, "at"),
	                                       "no point \"%s\" is declared", reading->at_text);
	hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
}

/* Limits as text, or as a function whose uses stand beside them. */
static void read_limits(const hs_table *table, hs_reading *reading)
{
	if (!hs_table_has(table, "limits"))
		return;
	reading->limits_where = hs_table_where(table, "limits");
	if (hs_read_function(table, "limits", table, &reading->limits_by)) {
		hs_check_function(table, "limits", &reading->limits_by, NULL);
		return;
	}
	reading->has_limits = hs_table_limits(table, "limits", reading->unit, &reading->limits);
}

static void read_plausible(const hs_table *table, hs_reading *reading)
{
	if (!hs_table_has(table, "plausible"))
		return;
	reading->has_plausible = hs_table_limits(table, "plausible", reading->unit, &reading->plausible);
	if (!reading->limits_where.file)
		reading->limits_where = hs_table_where(table, "plausible");
}

static bool good_name(const hs_table *table, const hs_reading *reading)
{
	static const char *const taken[] = {"open.", "close.", "join."};
	if (!hs_build_good_id(table->build, reading->name, "reading", hs_table_where(table, "[1]")))
		return false;
	for (size_t i = 0; i < sizeof taken / sizeof *taken; i++)
		if (strncmp(reading->name, taken[i], strlen(taken[i])) == 0)
			hs_table_problem(
			    table, "[1]",
			    "no reading may be called \"%s...\", because openings and hookups are asked so", taken[i]);
	return true;
}

/* named: the first value is the reading's name within the step, the second what is read. */
/* False when it is not known what is read, so that its limits cannot be understood either. */
static bool read_one(const hs_table *table, const hs_step *step, hs_reading *reading, bool named)
{
	*reading = (hs_reading){.name = step->id, .point = -1, .limits_by = {.id = -1}};
	reading->where = hs_table_where(table, NULL);
	if (named) {
		const char *name = hs_table_text(table, "[1]");
		if (name)
			reading->name = name;
		else
			hs_table_problem(table, NULL, "this reading has no name: { \"NAME\", \"volts\", at = ... }");
		if (name && !good_name(table, reading))
			reading->name = step->id;
	}
	size_t skip = named ? 2 : 1;
	hs_table_known(table, "a reading", skip, (hs_words[]){HS_WORDS(reading_words)}, 1);
	if (!read_measurand(table, hs_key_at(table, skip), reading))
		return false;
	read_unit_word(table, reading);
	read_place(table, step, reading);
	reading->asks = hs_table_text(table, "asks");
	reading->loose = hs_table_flag(table, "loose");
	suspect_slip(table, reading);
	hs_table_positive(table, "settle", HS_SECOND, &reading->settle_s);
	read_limits(table, reading);
	read_plausible(table, reading);
	return true;
}

static void read_list(const hs_table *list, hs_step *step)
{
	size_t count = hs_table_length(list);
	step->readings = hs_arena_alloc(list->build->arena, count * sizeof *step->readings);
	for (size_t i = 0; i < count; i++) {
		hs_table one = hs_table_sub(list, hs_key_at(list, i + 1), false);
		if (one.index == 0)
			continue;
		hs_reading *reading = &step->readings[step->reading_count];
		read_one(&one, step, reading, true);
		for (size_t r = 0; r < step->reading_count; r++)
			if (strcmp(step->readings[r].name, reading->name) == 0)
				hs_table_problem(&one, "[1]", "the step \"%s\" has two readings named \"%s\"", step->id,
				                 reading->name);
		step->reading_count++;
		hs_table_done(&one);
	}
}

/* ---- outcomes ---- */

static bool judges(const hs_step *step)
{
	if (step->derived_limits || step->has_responds)
		return true;
	for (size_t i = 0; i < step->reading_count; i++)
		if (step->readings[i].has_limits || step->readings[i].limits_by.id >= 0)
			return true;
	return false;
}

static void read_noted(const hs_table *table, hs_step *step)
{
	static const hs_outcome never[] = {HS_LOW, HS_OKAY, HS_HIGH, HS_UNSURE};
	for (size_t i = 0; i < sizeof never / sizeof *never; i++) {
		const char *word = hs_outcome_name(never[i]);
		if (!hs_table_has(table, word))
			continue;
		hs_problem *problem = hs_table_problem(
		    table, word, "the step \"%s\" has no limits, so \"%s\" never comes out", step->id, word);
		hs_problem_hint(problem, "add limits, or say next = \"STEP\"");
		/* Where it leads is known none the less, and must not be missed a second time. */
		hs_read_branch(table, word, &step->branches[HS_OKAY]);
	}
	hs_read_branch(table, "next", &step->branches[HS_OKAY]);
	if (!hs_read_branch(table, "unread", &step->branches[HS_UNREAD]) &&
	    !hs_read_branch(table, "otherwise", &step->branches[HS_UNREAD]))
		step->branches[HS_UNREAD] = step->branches[HS_OKAY];
}

static void read_judged(const hs_table *table, hs_step *step)
{
	hs_branch otherwise;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		hs_read_branch(table, hs_outcome_name((hs_outcome)i), &step->branches[i]);
	if (hs_table_has(table, "next")) {
		hs_problem *problem = hs_table_problem(
		    table, "next", "the step \"%s\" judges, so \"next\" does not say where it leads", step->id);
		hs_problem_hint(problem, "say low, ok, high, unsure and unread, or otherwise for the rest");
	}
	if (!hs_read_branch(table, "otherwise", &otherwise))
		return;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		if (!step->branches[i].target)
			step->branches[i] = otherwise;
}

/* A text that is wrong was complained of already; that it was meant as limits still says which outcomes belong here. */
static void read_outcomes(const hs_table *table, hs_step *step, bool meant)
{
	if (meant || judges(step))
		read_judged(table, step);
	else
		read_noted(table, step);
}

static void read_holds(const hs_table *table, hs_step *step)
{
	size_t count, known = sizeof holds_words / sizeof *holds_words;
	const char **words = hs_table_texts(table, "holds", &count);
	for (size_t i = 0; i < count; i++) {
		size_t w = 0;
		while (w < known && strcmp(words[i], holds_words[w]) != 0)
			w++;
		if (w < known) {
			step->holds |= holds_bits[w];
			continue;
		}
		hs_problem *problem = hs_table_problem(table, hs_table_item(table, "holds", i),
		                                       "\"%s\" is nothing a reading can hold through", words[i]);
		hs_problem_hint(problem, "it is one of do, adjust, opening, hookup, energising, all");
	}
	step->reuse_text = hs_table_text(table, "reuse");
	if (step->reuse_text)
		step->reuse_where = hs_table_where(table, "reuse");
}

/* ---- read ---- */

static bool find_derived(const hs_table *pair, const hs_step *step, size_t position, size_t *out)
{
	const char *key = hs_key_at(pair, position);
	const char *name = hs_table_text(pair, key);
	const char **known = hs_arena_alloc(pair->build->arena, (step->reading_count + 1) * sizeof *known);
	for (size_t i = 0; name && i < step->reading_count; i++) {
		known[i] = step->readings[i].name;
		if (strcmp(name, known[i]) != 0)
			continue;
		*out = i;
		return true;
	}
	if (name) {
		hs_problem *problem =
		    hs_table_problem(pair, key, "the step \"%s\" has no reading \"%s\"", step->id, name);
		hs_build_nearest(pair->build, problem, name, known, step->reading_count);
	}
	return false;
}

static void read_derived(const hs_table *table, hs_step *step)
{
	const char *key = hs_table_has(table, "ratio") ? "ratio" : "difference";
	hs_table pair = hs_table_sub(table, key, false);
	size_t count = hs_table_length(&pair);
	if (pair.index && count != 2)
		hs_table_problem(&pair, NULL, "a %s is of two readings, and %zu are named", key, count);
	hs_table_known(&pair, hs_arena_printf(table->build->arena, "a %s", key), HS_ANY_LENGTH, NULL, 0);
	if (count == 2 && find_derived(&pair, step, 1, &step->derive_a) &&
	    find_derived(&pair, step, 2, &step->derive_b))
		step->derive = key[0] == 'r' ? HS_DERIVE_RATIO : HS_DERIVE_DIFFERENCE;
	hs_table_done(&pair);
	if (step->derive == HS_DERIVE_NONE)
		return;
	hs_unit unit = hs_derived_unit(step->derive, step->readings[step->derive_a].unit);
	if (hs_table_type(table, "limits") == LUA_TFUNCTION)
		hs_table_problem(table, "limits", "the limits of a %s are a text, and here is a function", key);
	else if (!hs_table_has(table, "limits"))
		hs_table_problem(table, key, "the step \"%s\" derives a %s and does not say its limits", step->id, key);
	else
		step->derived_limits = hs_table_limits(table, "limits", unit, &step->derive_limit);
	step->derive_where = hs_table_where(table, hs_table_has(table, "limits") ? "limits" : key);
}

static void read_several(const hs_table *table, const hs_table *list, hs_step *step)
{
	hs_table_known(list, "a row of readings", HS_ANY_LENGTH, NULL, 0);
	read_list(list, step);
	if (hs_table_has(table, "difference") || hs_table_has(table, "ratio")) {
		read_derived(table, step);
		return;
	}
	hs_problem *problem = hs_table_problem(
	    table, "read", "the step \"%s\" takes several readings and says no difference or ratio", step->id);
	hs_problem_hint(problem, "write difference = { \"A\", \"B\" }, or collect them instead");
}

/* Limits and plausible values may stand in the step or in the reading. */
static void read_step_limits(const hs_table *table, hs_reading *reading)
{
	bool twice = hs_table_has(table, "limits") && reading->limits_where.file &&
	             (reading->has_limits || reading->limits_by.id >= 0);
	if (twice)
		hs_table_problem(table, "limits", "the limits are given twice, here and within the reading");
	else
		read_limits(table, reading);
	if (!reading->has_plausible)
		read_plausible(table, reading);
}

static void refuse_derived(const hs_table *table)
{
	static const char *const words[] = {"difference", "ratio"};
	for (size_t i = 0; i < 2; i++)
		if (hs_table_has(table, words[i]))
			hs_table_problem(table, words[i], "a %s is of two readings, and this step takes one", words[i]);
}

void hs_read_read(const hs_table *table, hs_step *step)
{
	hs_table sub = hs_table_sub(table, "read", false);
	if (hs_table_type(&sub, "[1]") == LUA_TTABLE) {
		read_several(table, &sub, step);
	} else if (sub.index) {
		step->readings = hs_arena_alloc(table->build->arena, sizeof *step->readings);
		step->reading_count = 1;
		if (read_one(&sub, step, step->readings, false))
			read_step_limits(table, step->readings);
		refuse_derived(table);
	}
	bool meant = hs_table_has(table, "limits") || hs_table_has(&sub, "limits");
	hs_table_done(&sub);
	read_holds(table, step);
	read_outcomes(table, step, meant);
}

/* ---- adjust ---- */

static const hs_table *holder(const hs_table *inner, const hs_table *outer, const char *key)
{
	return hs_table_has(inner, key) ? inner : outer;
}

static void read_response(const hs_table *inner, const hs_table *table, hs_step *step)
{
	hs_reading *reading = step->readings;
	hs_unit unit = hs_unit_is_level(reading->unit) ? HS_DB : reading->unit;
	read_step_limits(holder(inner, table, "limits"), reading);
	if (!reading->has_plausible)
		read_plausible(holder(inner, table, "plausible"), reading);
	step->has_responds = hs_table_positive(holder(inner, table, "responds"), "responds", unit, &step->responds);
	step->tries = hs_table_count(holder(inner, table, "tries"), "tries", 1, 100, 0);
	bool meant = hs_table_has(inner, "limits") || hs_table_has(table, "limits") ||
	             hs_table_has(inner, "responds") || hs_table_has(table, "responds") || judges(step);
	if (meant)
		return;
	hs_problem *problem =
	    hs_table_problem(table, "adjust", "the adjust step \"%s\" does not say until when", step->id);
	hs_problem_hint(problem, "add limits, or responds = \"1 V\" for a change that suffices");
}

void hs_read_adjust(const hs_table *table, hs_step *step)
{
	hs_table inner = hs_table_sub(table, "adjust", false);
	hs_table_known(&inner, "an adjustment", 1, (hs_words[]){HS_WORDS(adjust_words)}, 1);
	step->text = hs_table_text(&inner, "[1]");
	if (inner.index && !hs_table_has(&inner, "[1]"))
		hs_table_problem(&inner, NULL, "the adjust step \"%s\" does not say what to turn", step->id);
	hs_table sub = hs_table_sub(holder(&inner, table, "read"), "read", false);
	bool known = false;
	if (sub.index) {
		step->readings = hs_arena_alloc(table->build->arena, sizeof *step->readings);
		step->reading_count = 1;
		known = read_one(&sub, step, step->readings, false);
	} else if (inner.index) {
		hs_table_problem(&inner, NULL, "the adjust step \"%s\" has nothing to read while it is turned",
		                 step->id);
	}
	hs_table_done(&sub);
	if (known)
		read_response(&inner, table, step);
	hs_table_done(&inner);
	read_holds(table, step);
	read_outcomes(table, step, true);
}

/* ---- collect ---- */

static void use_own_readings(hs_build *build, hs_step *step)
{
	hs_function *function = &step->decide;
	hs_use *uses = hs_arena_alloc(build->arena, (function->use_count + step->reading_count) * sizeof *uses);
	if (function->use_count)
		memcpy(uses, function->uses, function->use_count * sizeof *uses);
	for (size_t i = 0; i < step->reading_count; i++) {
		const char *name = step->readings[i].name;
		uses[function->use_count++] =
		    (hs_use){.name = name,
		             .step = -1,
		             .slot = -1,
		             .where = step->readings[i].where,
		             .target = hs_arena_printf(build->arena, "%s/%s", step->id, name)};
	}
	function->uses = uses;
}

void hs_read_collect(const hs_table *table, hs_step *step)
{
	hs_table list = hs_table_sub(table, "collect", false);
	if (list.index) {
		hs_table_known(&list, "a row of readings", HS_ANY_LENGTH, NULL, 0);
		read_list(&list, step);
		if (step->reading_count == 0)
			hs_table_problem(&list, NULL, "the collect step \"%s\" collects nothing", step->id);
	}
	hs_table_done(&list);
	read_holds(table, step);
	if (!hs_table_has(table, "decide")) {
		read_outcomes(table, step, false);
		return;
	}
	if (hs_read_function(table, "decide", table, &step->decide)) {
		use_own_readings(table->build, step);
		hs_read_exits(table, step);
		hs_check_function(table, "decide", &step->decide, step);
	} else {
		hs_table_problem(table, "decide", "\"decide\" is %s, and a function was wanted",
		                 hs_table_what(table, "decide"));
	}
}
