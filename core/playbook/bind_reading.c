/* What is measured: one reading, rows of readings, their limits; the read step. */
#include <string.h>
#include "names.h"

static const char *const reading_words[] = {"at",     "against",   "hookup", "freq", "unit", "asks",   "loose",
                                            "settle", "plausible", "limits", "uses", "held", "within", "set",  "expect",
                                            "margin"};

const hs_hookup *hs_find_hookup(const hs_table *table, const char *key, const char *name)
{
	const hs_kit *kit = table->build->kit;
	const hs_hookup *found = hs_bound_hookup(table->build, name);
	if (!kit || found || hs_playbook_role(table->build->playbook, name))
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
		hs_problem_hint(problem, "power, volts, ac volts, amps, ohms, continuity, diode, frequency, time, "
		                         "temperature, peak, tick ...");
	return false;
}

static bool has_no_unit_of_its_own(hs_measurand reads)
{
	return reads == HS_READS_RATE || reads == HS_READS_MINIMUM || reads == HS_READS_MAXIMUM;
}

static void read_unit_word(const hs_table *table, hs_reading *reading)
{
	const char *word = hs_table_text(table, "unit");
	if (has_no_unit_of_its_own(reading->reads) && !hs_table_has(table, "unit")) {
		hs_problem *problem =
		    hs_table_problem(table, NULL, "the reading \"%s\" is a %s and does not say of what", reading->name,
		                     hs_measurand_name(reading->reads));
		hs_problem_hint(problem, "add unit = \"V\", or whatever it is read in");
	}
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
	reading->freq_given = hs_table_positive(table, "freq", HS_HERTZ, &reading->freq_hz);
	if (!reading->freq_given && reading->reads == HS_READS_POWER)
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
static void read_limits(const hs_table *table, const hs_step *step, hs_reading *reading)
{
	if (hs_table_has(table, "expect")) {
		hs_read_expect(table, step, reading);
		return;
	}
	if (!hs_table_has(table, "limits"))
		return;
	reading->limits_where = hs_table_where(table, "limits");
	if (hs_read_function(table, "limits", table, &reading->limits_by)) {
		hs_check_function(table, "limits", &reading->limits_by, NULL);
		return;
	}
	reading->has_limits = hs_table_limits(table, "limits", reading->unit, &reading->limits);
}

/* A trend and a tick bring their limits with them: steady is ok, yes is ok. */
static void assume_limits(hs_reading *reading)
{
	if (reading->has_limits || reading->limits_where.file)
		return;
	if (reading->reads == HS_READS_TREND)
		reading->limits =
		    (hs_limits){.has_low = true, .has_high = true, .low = -0.5, .high = 0.5, .unit = HS_UNITLESS};
	else if (reading->reads == HS_READS_TICK)
		reading->limits = (hs_limits){.has_low = true, .low = 0.5, .unit = HS_UNITLESS};
	reading->has_limits = reading->reads == HS_READS_TREND || reading->reads == HS_READS_TICK;
}

static void want_question(const hs_table *table, const hs_reading *reading)
{
	if (reading->reads != HS_READS_TICK || reading->asks || hs_table_has(table, "asks"))
		return;
	hs_problem *problem =
	    hs_table_problem(table, NULL, "the tick \"%s\" does not say what is asked", reading->name);
	hs_problem_hint(problem, "add asks = \"Are both edges clean?\"");
}

void hs_read_plausible(const hs_table *table, hs_reading *reading)
{
	if (!hs_table_has(table, "plausible"))
		return;
	reading->has_plausible = hs_table_limits(table, "plausible", reading->unit, &reading->plausible);
	if (!reading->limits_where.file)
		reading->limits_where = hs_table_where(table, "plausible");
}

bool hs_good_reading_name(const hs_table *table, const hs_reading *reading)
{
	static const char *const taken[] = {"open.", "close.", "join.", "set."};
	if (!hs_build_good_id(table->build, reading->name, "reading", hs_table_where(table, "[1]")))
		return false;
	for (size_t i = 0; i < sizeof taken / sizeof *taken; i++)
		if (strncmp(reading->name, taken[i], strlen(taken[i])) == 0)
			hs_table_problem(
			    table, "[1]",
			    "no reading may be called \"%s...\", because openings, hookups and controls are asked so",
			    taken[i]);
	return true;
}

bool hs_read_one(const hs_table *table, const hs_step *step, hs_reading *reading, bool named)
{
	*reading = (hs_reading){.name = step->id, .point = -1, .limits_by = {.id = -1}};
	reading->where = hs_table_where(table, NULL);
	if (named) {
		const char *name = hs_table_text(table, "[1]");
		if (name)
			reading->name = name;
		else
			hs_table_problem(table, NULL, "this reading has no name: { \"NAME\", \"volts\", at = ... }");
		if (name && !hs_good_reading_name(table, reading))
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
	reading->margin_why = hs_table_text(table, "margin");
	suspect_slip(table, reading);
	hs_table_positive(table, "settle", HS_SECOND, &reading->settle_s);
	hs_table_positive(table, "within", HS_SECOND, &reading->within_s);
	reading->held = hs_table_text(table, "held");
	hs_find_settings(table, reading->set);
	want_question(table, reading);
	read_limits(table, step, reading);
	assume_limits(reading);
	hs_read_plausible(table, reading);
	return true;
}

void hs_read_list(const hs_table *list, hs_step *step)
{
	size_t count = hs_table_length(list);
	step->readings = hs_arena_alloc(list->build->arena, count * sizeof *step->readings);
	for (size_t i = 0; i < count; i++) {
		hs_table one = hs_table_sub(list, hs_key_at(list, i + 1), false);
		if (one.index == 0)
			continue;
		hs_reading *reading = &step->readings[step->reading_count];
		hs_read_one(&one, step, reading, true);
		for (size_t r = 0; r < step->reading_count; r++)
			if (strcmp(step->readings[r].name, reading->name) == 0)
				hs_table_problem(&one, "[1]", "the step \"%s\" has two readings named \"%s\"", step->id,
				                 reading->name);
		step->reading_count++;
		hs_table_done(&one);
	}
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
	hs_read_list(list, step);
	if (hs_table_has(table, "difference") || hs_table_has(table, "ratio")) {
		read_derived(table, step);
		return;
	}
	hs_problem *problem = hs_table_problem(
	    table, "read", "the step \"%s\" takes several readings and says no difference or ratio", step->id);
	hs_problem_hint(problem, "write difference = { \"A\", \"B\" }, or collect them instead");
}

void hs_read_step_limits(const hs_table *table, const hs_step *step, hs_reading *reading)
{
	bool twice = (hs_table_has(table, "limits") || hs_table_has(table, "expect")) && reading->limits_where.file &&
	             (reading->has_limits || reading->limits_by.id >= 0);
	if (twice)
		hs_table_problem(table, hs_table_has(table, "limits") ? "limits" : "expect",
		                 "the limits are given twice, here and within the reading");
	else
		read_limits(table, step, reading);
	if (!reading->has_plausible)
		hs_read_plausible(table, reading);
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
		if (hs_read_one(&sub, step, step->readings, false))
			hs_read_step_limits(table, step, step->readings);
		refuse_derived(table);
	}
	bool meant = hs_table_has(table, "limits") || hs_table_has(&sub, "limits") || hs_table_has(table, "expect") ||
	             hs_table_has(&sub, "expect");
	hs_table_done(&sub);
	hs_read_holds(table, step);
	hs_read_outcomes(table, step, meant);
}
