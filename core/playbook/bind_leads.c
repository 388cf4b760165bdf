/* What is measured of the leads themselves: zero, straight and prove steps. */
#include "names.h"

static const char *const straight_words[] = {"level", "freq", "u"};

/* Of the joint between the two leads: made anew, a coaxial joint does not come out the same. */
#define JOINT_DB 0.1
/* By how much leads may differ from their tables before they are looked at. */
#define TABLES_DB 1.0

/* ---- steps ---- */

/* A reading of leads is taken off the unit: by itself it needs no state of it, and holds until a piece of the leads changes. */
static hs_reading *only_reading(const hs_table *table, hs_step *step, hs_leads leads, const char *key, hs_measurand reads)
{
	hs_reading *reading = hs_arena_alloc(table->build->arena, sizeof *reading);
	*reading = (hs_reading){.name = step->id, .point = -1, .limits_by = {.id = -1}, .loose = true, .leads = leads, .reads = reads};
	reading->unit = hs_measurand_unit(reads);
	reading->where = hs_table_where(table, key);
	if (step->inject.given)
		hs_table_problem(table, "inject", "the step \"%s\" measures leads off the unit, so nothing goes into it", step->id);
	if (step->attach_dead)
		hs_table_problem(table, "attach", "the step \"%s\" measures leads off the unit, so nothing is attached", step->id);
	step->leads = leads;
	step->readings = reading;
	step->reading_count = 1;
	step->holds = HS_HOLDS_ALL;
	if (!step->power_given) {
		step->power = HS_NEED_ANY;
		step->power_given = true;
	}
	return reading;
}

static void bind_hookup(const hs_table *table, const char *key, hs_reading *reading)
{
	reading->hookup_name = hs_table_text(table, key);
	if (reading->hookup_name)
		reading->hookup = hs_find_hookup(table, key, reading->hookup_name);
}

static void limits_or(const hs_table *table, const hs_step *step, hs_reading *reading, hs_limits otherwise)
{
	hs_read_step_limits(table, step, reading);
	if (reading->has_limits || reading->limits_by.id >= 0 || reading->limits_where.file)
		return;
	reading->has_limits = true;
	reading->limits = otherwise;
	reading->limits_where = reading->where;
}

void hs_read_zero(const hs_table *table, hs_step *step)
{
	hs_reading *reading = only_reading(table, step, HS_LEADS_ZERO, "zero", HS_READS_OHMS);
	bind_hookup(table, "zero", reading);
	reading->at_text = "their shorted ends";
	reading->asks = hs_arena_printf(table->build->arena, "Hold the ends of %s together, off the unit, and read their own resistance.",
	                                reading->hookup_name ? reading->hookup_name : "the leads");
	limits_or(table, step, reading, (hs_limits){.has_high = true, .high = 2, .unit = HS_OHM});
	hs_read_outcomes(table, step, true);
}

/* What the meter shows when both leads take what their tables say. */
static hs_limits by_tables(const hs_step *step, const hs_reading *reading)
{
	hs_correction source, meter;
	double level = step->through_level.value;
	bool known = step->through && reading->hookup && hs_hookup_correct(step->through, HS_READS_POWER, reading->freq_hz, &source, NULL) &&
	             hs_hookup_correct(reading->hookup, HS_READS_POWER, reading->freq_hz, &meter, NULL);
	if (!known)
		return (hs_limits){.has_high = true, .high = level, .unit = HS_DBM};
	level -= source.total_db + meter.total_db;
	return (hs_limits){.has_low = true, .has_high = true, .low = level - TABLES_DB, .high = level + TABLES_DB, .unit = HS_DBM};
}

static void read_level(const hs_table *sub, hs_step *step)
{
	hs_quantity level;
	if (!hs_table_has(sub, "level"))
		hs_table_problem(sub, NULL, "\"straight\" does not say what level the source is set to");
	else if (hs_table_quantity(sub, "level", HS_DBM, &level) && !hs_quantity_convert(level, HS_DBM, 0, &step->through_level, NULL))
		hs_table_problem(sub, "level", "\"level\" is no power");
}

void hs_read_straight(const hs_table *table, hs_step *step)
{
	hs_reading *reading = only_reading(table, step, HS_LEADS_STRAIGHT, "straight", HS_READS_POWER);
	hs_table sub = hs_table_sub(table, "straight", false);
	hs_table_known(&sub, "\"straight\"", 2, (hs_words[]){HS_WORDS(straight_words)}, 1);
	step->through_u_db = JOINT_DB;
	if (sub.index) {
		step->through_name = hs_table_text(&sub, "[1]");
		if (step->through_name)
			step->through = hs_find_hookup(&sub, "[1]", step->through_name);
		bind_hookup(&sub, "[2]", reading);
		if (!step->through_name || !reading->hookup_name) {
			hs_problem *problem = hs_table_problem(table, "straight", "\"straight\" names a source's lead and a meter's lead, joined end to end");
			hs_problem_hint(problem, "write straight = { \"source lead\", \"meter lead\", level = \"0 dBm\", freq = \"145 MHz\" }");
		}
		read_level(&sub, step);
		if (!hs_table_positive(&sub, "freq", HS_HERTZ, &reading->freq_hz) && !hs_table_has(&sub, "freq"))
			hs_table_problem(&sub, NULL, "\"straight\" does not say at what frequency");
		hs_table_positive(&sub, "u", HS_DB, &step->through_u_db);
	}
	hs_table_done(&sub);
	const char *names[2] = {step->through_name ? step->through_name : "the source's lead", reading->hookup_name ? reading->hookup_name : "the meter's"};
	const hs_part *source = step->through ? step->through->instrument : NULL;
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "With the source's output off, take both leads off the unit and join %s and %s end to end. Set %s to ", names[0], names[1],
	              source ? source->id : "the source");
	hs_quantity_print(&text, step->through_level, -1);
	hs_buf_str(&text, " at ");
	hs_quantity_print(&text, (hs_quantity){reading->freq_hz, HS_HERTZ}, -1);
	hs_buf_str(&text, ", switch its output on, and read the power.");
	reading->asks = hs_arena_str(table->build->arena, text.data);
	hs_buf_free(&text);
	reading->at_text = names[0];
	limits_or(table, step, reading, by_tables(step, reading));
	hs_read_outcomes(table, step, true);
}

static void describe_known(const hs_table *table, const hs_step *step, hs_reading *reading)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "Take %s off the unit and read %s on a known source", reading->hookup_name ? reading->hookup_name : "the hookup",
	              hs_measurand_name(reading->reads));
	if (step->known) {
		hs_buf_printf(&text, ": %s, ", step->known->title ? step->known->title : step->known->id);
		hs_quantity_print(&text, step->known->level, -1);
		if (step->known->freq_hz > 0) {
			hs_buf_str(&text, " at ");
			hs_quantity_print(&text, (hs_quantity){step->known->freq_hz, HS_HERTZ}, -1);
		}
	}
	hs_buf_char(&text, '.');
	reading->asks = hs_arena_str(table->build->arena, text.data);
	hs_buf_free(&text);
}

void hs_read_prove(const hs_table *table, hs_step *step)
{
	hs_measurand reads = HS_READS_POWER;
	hs_table sub = hs_table_sub(table, "prove", false);
	hs_table_known(&sub, "\"prove\"", 2, NULL, 0);
	const char *word = sub.index ? hs_table_text(&sub, "[2]") : NULL;
	bool found = word && hs_measurand_find(word, &reads);
	if (sub.index && (!found || hs_measurand_unit(reads) == HS_UNITLESS)) {
		hs_problem *problem = hs_table_problem(table, "prove", "\"prove\" names a hookup and what is read with it on a known source");
		hs_problem_hint(problem, "write prove = { \"meter lead\", \"power\" }");
	}
	hs_reading *reading = only_reading(table, step, HS_LEADS_PROVE, "prove", reads);
	if (sub.index)
		bind_hookup(&sub, "[1]", reading);
	hs_table_done(&sub);
	step->known = hs_kit_known_for(table->build->kit, reading->hookup, reading->reads);
	reading->freq_hz = step->known ? step->known->freq_hz : 0;
	reading->at_text = step->known ? step->known->id : "a known source";
	describe_known(table, step, reading);
	/* The limits come with the reading, whose uncertainty they are made of; these only say that it is judged. */
	reading->has_limits = true;
	reading->limits = (hs_limits){.has_low = true, .has_high = true, .unit = reading->unit};
	reading->limits.low = reading->limits.high = step->known ? step->known->level.value : 0;
	reading->limits_where = reading->where;
	hs_read_outcomes(table, step, true);
}
