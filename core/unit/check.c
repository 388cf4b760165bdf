#include "halfsplit/unit/check.h"

#include <math.h>
#include "check_danger.h"
#include "check_levels.h"
#include "check_live.h"
#include "facts.h"

static bool is_powered(hs_need need)
{
	return need == HS_NEED_STANDBY || need == HS_NEED_ON || need == HS_NEED_KEYED;
}

static const char *zone_name(const hs_bench_unit *unit, int zone)
{
	const hs_zone *it = &unit->zones[zone];
	return it->title ? it->title : it->id ? it->id : "inside";
}

/* ---- the unit ---- */

static void check_source(const hs_energy_source *source, hs_problems *problems)
{
	bool store = source->kind == HS_SOURCE_STORE;
	bool volts = isfinite(source->volts) && source->volts > 0.0;
	bool farads = !store || (isfinite(source->farads) && source->farads > 0.0);
	if (volts && farads)
		return;
	const char *what = store ? "store" : "supply";
	const char *lacks = volts ? "farads" : farads ? "volts" : "volts and no farads";
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, source->where,
	                                     "the %s \"%s\" states no %s, so nobody can say what it %s", what,
	                                     source->id, lacks, store ? "holds" : "gives");
	if (store)
		hs_problem_hint(problem, "state both, at the most it can be: charged = \"400 V\", farads = \"100 uF\"");
	else
		hs_problem_hint(problem, "state its nominal volts, such as \"230 V\"");
}

static void check_order(const hs_bench_unit *unit, int openable, hs_problems *problems)
{
	const hs_openable *it = &unit->openables[openable];
	hs_problem *problem;
	int at = it->after, steps = 0;
	/* A circle is told once, at the first of those in it. */
	while (at > openable && at < unit->openable_count && steps++ < unit->openable_count)
		at = unit->openables[at].after;
	if (it->after >= unit->openable_count) {
		problem = hs_problem_add(problems, HS_ERROR, it->where,
		                         "\"%s\" comes off after something the unit does not declare", it->id);
		hs_problem_hint(problem, "declare what comes off first, or leave out after");
	} else if (at == openable && it->after == openable) {
		problem = hs_problem_add(problems, HS_ERROR, it->where,
		                         "\"%s\" comes off only after itself, so it never does", it->id);
		hs_problem_hint(problem, "name what comes off before it, or leave out after");
	} else if (at == openable) {
		problem = hs_problem_add(
		    problems, HS_ERROR, it->where,
		    "\"%s\" comes off after \"%s\", which in the end waits for \"%s\" itself, so neither ever does",
		    it->id, unit->openables[it->after].id, it->id);
		hs_problem_hint(problem, "let one of them come off first");
	}
}

/* Every gate has one name; two things that share it could be answered for each other. */
static void check_gate_name(const hs_bench_unit *unit, const hs_gate *gate, hs_where where, hs_problems *problems)
{
	hs_buf id;
	hs_gate other;
	hs_buf_init(&id);
	hs_gate_id(unit, gate, &id);
	if (hs_gate_find(unit, id.data, &other) && (other.fact != gate->fact || other.subject != gate->subject)) {
		hs_problem *problem = hs_problem_add(
		    problems, HS_ERROR, where, "two different confirmations would both be called \"%s\"", id.data);
		hs_problem_hint(problem, "give this one an id of its own; tools, people and other are taken");
	}
	hs_buf_free(&id);
}

static void check_names(const hs_bench_unit *unit, hs_problems *problems)
{
	uint32_t supplies = hs_supplies(unit);
	for (int i = 0; i < unit->source_count; i++) {
		hs_where where = unit->sources[i].where;
		hs_gate pair = {.fact = HS_FACT_PAIR, .subject = i};
		check_gate_name(unit, &pair, where, problems);
		if (hs_stores(unit) >> i & 1)
			check_gate_name(unit, &(hs_gate){.fact = HS_FACT_HELD, .subject = i}, where, problems);
		if (!(supplies >> i & 1))
			continue;
		check_gate_name(unit, &(hs_gate){.fact = HS_FACT_DISCONNECT, .subject = i}, where, problems);
		check_gate_name(unit, &(hs_gate){.fact = HS_FACT_RECONNECT, .subject = i}, where, problems);
	}
	for (int i = 0; i < unit->openable_count; i++)
		check_gate_name(unit, &(hs_gate){.fact = HS_FACT_STAYS_OPEN, .subject = i}, unit->openables[i].where,
		                problems);
}

static void check_standby(const hs_bench_unit *unit, hs_need need, hs_where where, const char *what, const char *id,
                          hs_problems *problems)
{
	if (need != HS_NEED_STANDBY || unit->has_standby)
		return;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, where,
	                                     "%s \"%s\" wants standby, and this unit has no standby", what, id);
	hs_problem_hint(problem, "say on, or declare standby = true for the unit");
}

/* ---- proving dead ---- */

static void check_testable(const hs_bench_unit *unit, unsigned zones, hs_where where, const char *what, const char *id,
                           hs_problems *problems)
{
	for (int zone = 0; zone < HS_ZONES_MOST; zone++) {
		bool found = !(zones >> zone & 1);
		for (int i = 0; i < unit->source_count && !found; i++)
			found = unit->sources[i].zone == zone;
		if (found)
			continue;
		hs_problem *problem =
		    hs_problem_add(problems, HS_ERROR, where,
		                   "%s \"%s\" wants the zone \"%s\" proved dead, and nothing in it could be tested",
		                   what, id, zone_name(unit, zone));
		hs_problem_hint(problem, "declare the supply, rail or store of that zone that a tester can be put on");
	}
}

static void check_openable(const hs_bench_unit *unit, int openable, hs_problems *problems)
{
	const hs_openable *it = &unit->openables[openable];
	check_order(unit, openable, problems);
	if (it->needs_given)
		check_standby(unit, it->needs, it->where, hs_openable_name(it->kind), it->id, problems);
	if (hs_openable_needs(unit, openable) == HS_POWER_DEAD) {
		unsigned zones = it->kind != HS_OPEN_COVER && it->zone >= 0 ? 1u << it->zone : 0;
		check_testable(unit, hs_zones_meant(unit, zones), it->where, hs_openable_name(it->kind), it->id,
		               problems);
	}
}

/* ---- steps ---- */

static void check_dead_reading(const hs_step *step, const hs_reading *reading, hs_problems *problems)
{
	if (!hs_measurand_is_dead(hs_reading_measurand(reading)) || reading->loose || !step->power_given ||
	    step->power == HS_NEED_DEAD)
		return;
	hs_problem *problem =
	    hs_problem_add(problems, HS_ERROR, reading->where,
	                   "step \"%s\" reads %s in the unit with power \"%s\", which is only ever read proved dead",
	                   step->id, hs_measurand_name(reading->reads), hs_need_name(step->power));
	hs_problem_hint(problem,
	                "say power = \"dead\", or loose = true when it is read on a removed part or a loose lead");
}

static void check_hands(const hs_playbook *playbook, const hs_step *step, hs_problems *problems)
{
	bool hands = step->kind == HS_STEP_DO || step->kind == HS_STEP_REPLACE ||
	             (step->kind == HS_STEP_ADJUST && !step->outside) ||
	             (step->zone_given && !step->outside && step->reading_count == 0);
	if (!hands || !step->power_given || !is_powered(step->power))
		return;
	hs_step bare = *step;
	bare.reading_count = 0;
	if (hs_step_need(playbook, &bare) != HS_NEED_DEAD)
		return;
	unsigned zones = hs_step_zones(playbook, &bare);
	int zone = 0;
	while (zone < HS_ZONES_MOST - 1 && !(zones >> zone & 1 && hs_zone_is_hazardous(&playbook->unit, zone)))
		zone++;
	hs_problem *problem = hs_problem_add(
	    problems, HS_ERROR, step->where, "the %s step \"%s\" has hands inside the zone \"%s\" with power \"%s\"",
	    hs_step_kind_name(step->kind), step->id, zone_name(&playbook->unit, zone), hs_need_name(step->power));
	hs_problem_hint(problem, step->kind == HS_STEP_ADJUST
	                             ? "say power = \"dead\", or outside = true when it is done from outside the guard"
	                             : "say power = \"dead\"");
}

/* The zones hands go to: the one named, and those of the changes made or undone. */
static unsigned hands_in(const hs_bench_unit *unit, const hs_step *step)
{
	unsigned zones = step->zone >= 0 ? 1u << step->zone : 0;
	for (int i = 0; i < unit->openable_count; i++)
		if ((step->makes | step->undoes) >> i & 1 && unit->openables[i].kind != HS_OPEN_COVER &&
		    unit->openables[i].zone >= 0)
			zones |= 1u << unit->openables[i].zone;
	return zones;
}

/* Hands go in only past a guard that is known to be off: what waits and is tested depends on it. */
static void check_guard(const hs_bench_unit *unit, const hs_step *step, hs_problems *problems)
{
	if (!hs_step_reaches_in(step))
		return;
	unsigned zones = hands_in(unit, step);
	uint64_t open = hs_opened_with(unit, step->open);
	for (int zone = 0; zone < unit->zone_count; zone++) {
		int guard = unit->zones[zone].guard;
		if (!(zones >> zone & 1) || guard < 0 || guard >= unit->openable_count || open >> guard & 1)
			continue;
		hs_problem *problem = hs_problem_add(
		    problems, HS_ERROR, step->where,
		    "the %s step \"%s\" has hands in the zone \"%s\", and its guard \"%s\" is not open",
		    hs_step_kind_name(step->kind), step->id, zone_name(unit, zone), unit->openables[guard].id);
		hs_problem_hint(problem, "add \"%s\" to open, or outside = true when it is done from outside the guard",
		                unit->openables[guard].id);
	}
}

/* A control behind a guard is turned by a hand that goes through it. */
static void check_control_reach(const hs_bench_unit *unit, const hs_step *step, const uint8_t *set, hs_where where, hs_problems *problems)
{
	uint64_t open = hs_opened_with(unit, step->open);
	for (int i = 0; i < unit->control_count; i++) {
		int zone = unit->controls[i].zone;
		int guard = zone >= 0 && zone < unit->zone_count ? unit->zones[zone].guard : -1;
		if (set[i] == 0 || guard < 0 || guard >= unit->openable_count || open >> guard & 1)
			continue;
		hs_problem *problem = hs_problem_add(problems, HS_ERROR, where,
		                                     "step \"%s\" sets \"%s\", which is in the zone \"%s\", and its guard \"%s\" is not open",
		                                     step->id, unit->controls[i].id, zone_name(unit, zone), unit->openables[guard].id);
		hs_problem_hint(problem, "add \"%s\" to open: the hand that turns it goes behind that guard", unit->openables[guard].id);
	}
}

/* A short comes out for a reading across its store, never for hands. */
static void check_unshort(const hs_bench_unit *unit, const hs_step *step, hs_problems *problems)
{
	if (!step->unshort || step->kind == HS_STEP_READ || step->kind == HS_STEP_COLLECT)
		return;
	int store = 0;
	while (store < unit->source_count - 1 && !(step->unshort >> store & 1))
		store++;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, step->where,
	                                     "the %s step \"%s\" takes the short off \"%s\", and reads nothing",
	                                     hs_step_kind_name(step->kind), step->id, unit->sources[store].id);
	hs_problem_hint(problem, "leave out unshort; only a read or collect step has a store without its short");
}

/* The zone a reading or an injection goes to, -1 outside. */
static int goes_to(const hs_playbook *playbook, const hs_step *step, int point)
{
	return point >= 0 ? playbook->unit.points[point].zone : step->zone;
}

/* The hazardous zone something is brought into, or beside when the step lays one bare; -1 none. */
static int live_zone(const hs_playbook *playbook, const hs_step *step, int point)
{
	const hs_bench_unit *unit = &playbook->unit;
	int zone = goes_to(playbook, step, point);
	if (zone < 0 || hs_step_need(playbook, step) == HS_NEED_DEAD)
		return -1;
	if (hs_zone_is_hazardous(unit, zone))
		return zone;
	unsigned bare = hs_step_bares(unit, step);
	for (zone = 0; zone < unit->zone_count; zone++)
		if (bare >> zone & 1)
			return zone;
	return -1;
}

static void refuse_live(const hs_playbook *playbook, const hs_step *step, int point, const char *verb, hs_where where,
                        hs_problems *problems)
{
	int zone = live_zone(playbook, step, point);
	if (zone < 0)
		return;
	hs_problem *problem = hs_problem_add(
	    problems, HS_ERROR, where,
	    "step \"%s\" %s %s the zone \"%s\" with power \"%s\", by a hookup not attached while proved dead", step->id,
	    verb, zone == goes_to(playbook, step, point) ? "inside" : "beside the open guard of",
	    zone_name(&playbook->unit, zone), hs_need_name(step->power));
	hs_buf stores;
	hs_buf_init(&stores);
	for (int i = 0; i < playbook->unit.source_count; i++) {
		const hs_energy_source *source = &playbook->unit.sources[i];
		if (source->zone == zone && source->where.file && stores.length < 80)
			hs_buf_printf(&stores, "%s%s at %s:%d", stores.length ? ", " : "; what is dangerous there: ", source->id, source->where.file,
			              source->where.line);
	}
	hs_problem_hint(problem, "add attach = \"dead\" so that it is joined before power comes, or read it dead%s", stores.data ? stores.data : "");
	hs_problem_because(problem, "live inside the zone %d", zone);
	hs_buf_free(&stores);
}

/* The second probe goes somewhere, too: the point that `against` names, or -1. */
static int against_point(const hs_bench_unit *unit, const hs_reading *reading)
{
	return reading->against != NULL ? hs_unit_point(unit, reading->against) : -1;
}

static void check_live(const hs_playbook *playbook, const hs_step *step, hs_problems *problems)
{
	bool reads_live = false;
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		bool by_eye = !reading->hookup_name && !reading->hookup;
		int other = against_point(&playbook->unit, reading);
		if (reading->loose || by_eye)
			continue;
		reads_live = reads_live || live_zone(playbook, step, reading->point) >= 0 || (other >= 0 && live_zone(playbook, step, other) >= 0);
		if (step->attach_dead || step->live)
			continue;
		refuse_live(playbook, step, reading->point, "reads", reading->where, problems);
		if (other >= 0)
			refuse_live(playbook, step, other, "reads", reading->where, problems);
	}
	hs_check_live_step(step, reads_live, problems);
	if (step->inject.given && !step->attach_dead)
		refuse_live(playbook, step, step->inject.point, "injects", step->inject.where, problems);
}

static bool reads_level(hs_measurand reads)
{
	return reads == HS_READS_POWER || reads == HS_READS_VOLTS || reads == HS_READS_AC_VOLTS ||
	       reads == HS_READS_NOISE_RISE || reads == HS_READS_SINAD;
}

static void check_power_said(const hs_step *step, hs_problems *problems)
{
	for (size_t i = 0; i < step->reading_count && !step->power_given; i++) {
		const hs_reading *reading = &step->readings[i];
		bool by_eye = !reading->hookup_name && !reading->hookup;
		if (!reads_level(hs_reading_measurand(reading)) || reading->loose || by_eye)
			continue;
		hs_problem *problem = hs_problem_add(problems, HS_ERROR, step->where,
		                                     "step \"%s\" reads %s and does not say in which power state",
		                                     step->id, hs_measurand_name(reading->reads));
		hs_problem_hint(problem, "say power = \"on\", or whichever state it is read in");
		return;
	}
}

static void say_watts(double watts, char *text, size_t room)
{
	hs_buf buf;
	hs_buf_init(&buf);
	hs_say_figure(&buf, watts, HS_WATT);
	hs_copy(text, room, buf.data);
	hs_buf_free(&buf);
}

static void check_load_rating(const hs_bench_unit *unit, const hs_step *step, hs_problems *problems)
{
	const hs_emitter *emitter = &unit->emitters[step->emitter];
	double longest = hs_step_key_seconds(unit, step);
	hs_problem *problem;
	if (!(step->load_watts >= emitter->watts)) {
		char load[32], gives[32];
		say_watts(step->load_watts, load, sizeof load);
		say_watts(emitter->watts, gives, sizeof gives);
		problem = hs_problem_add(problems, HS_ERROR, step->where,
		                         "step \"%s\" keys %s into a load rated %s, and it emits %s", step->id,
		                         emitter->id, load, gives);
		hs_problem_hint(problem, "name a load rated for at least %s", gives);
	} else if (step->load_seconds > 0.0 && longest > step->load_seconds) {
		problem = hs_problem_add(problems, HS_ERROR, step->where,
		                         "step \"%s\" may key %s for %.0f s, and its load stands it for %.0f s",
		                         step->id, emitter->id, longest, step->load_seconds);
		hs_problem_hint(problem, "shorten the key time, or name a load that stands it");
	}
}

static void check_keyed(const hs_bench_unit *unit, const hs_step *step, hs_problems *problems)
{
	if (step->power != HS_NEED_KEYED)
		return;
	hs_problem *problem;
	if (!step->load && unit->emitter_count > 0) {
		const char *id = unit->emitters[step->emitter < 0 ? 0 : step->emitter].id;
		problem = hs_problem_add(problems, HS_ERROR, step->where, "step \"%s\" keys %s without a load", step->id, id);
		hs_problem_hint(problem, "name the load: load = { \"50 ohm\", at = \"%s\", rated = \"100 W\" }", id);
	} else if (step->emitter < 0 || step->emitter >= unit->emitter_count) {
		problem = hs_problem_add(problems, HS_ERROR, step->where,
		                         "step \"%s\" keys the unit, and nothing says what emits", step->id);
		hs_problem_hint(problem, "declare what the unit emits: emits = { J2 = { rf = \"50 W\" } }");
	} else {
		check_load_rating(unit, step, problems);
	}
}

/* Without a key line the drive is the key: what is fed and driven transmits, whoever calls it merely on. */
static void check_driven(const hs_bench_unit *unit, const hs_step *step, hs_problems *problems)
{
	int driven = hs_drive_transmits(unit);
	if (!step->inject.given || driven < 0 || (step->power != HS_NEED_ON && step->power != HS_NEED_STANDBY))
		return;
	const char *id = unit->emitters[driven].id;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, step->inject.where,
	                                     "step \"%s\" drives the unit with power \"%s\", and drive alone makes %s transmit", step->id,
	                                     hs_need_name(step->power), id);
	hs_problem_hint(problem, "take power = \"keyed\" with a load at %s; where only a key line makes it transmit, say drive = false in emits", id);
}

/* ---- reach ---- */

static void check_reach(const hs_playbook *playbook, const hs_step *step, int point, hs_where where,
                        hs_problems *problems)
{
	const hs_bench_unit *unit = &playbook->unit;
	if (point < 0)
		return;
	uint64_t shut = unit->points[point].behind & ~hs_opened_with(unit, step->open);
	for (int i = 0; i < unit->openable_count; i++) {
		if (!(shut >> i & 1))
			continue;
		hs_problem *problem = hs_problem_add(
		    problems, HS_ERROR, where, "step \"%s\" goes to %s, which is behind \"%s\", and does not open it",
		    step->id, unit->points[point].id, unit->openables[i].id);
		hs_problem_hint(problem, "add \"%s\" to %s", unit->openables[i].id,
		                unit->openables[i].kind == HS_OPEN_JOINT ? "breaks" : "open");
	}
}

/* ---- more than there is ---- */

static bool beyond(uint64_t mask, int count)
{
	return count < HS_OPENABLES_MOST && mask >> count != 0;
}

/* False when the step names things outside the declared unit; nothing further can be said of it then. */
static bool check_named(const hs_bench_unit *unit, const hs_step *step, hs_problems *problems)
{
	const char *what = NULL;
	if (beyond(step->open | step->with | step->makes | step->undoes, unit->openable_count))
		what = "covers or changes";
	else if (step->zone >= unit->zone_count && step->zone > 0)
		what = "zones";
	else if (step->inject.given && step->inject.point >= unit->point_count)
		what = "points";
	for (size_t i = 0; i < step->reading_count && !what; i++)
		if (step->readings[i].point >= unit->point_count)
			what = "points";
	if (!what)
		return true;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, step->where,
	                                     "step \"%s\" names more %s than the unit declares", step->id, what);
	hs_problem_hint(problem, "declare them; a unit has at most %d covers and changes, and %d zones",
	                HS_OPENABLES_MOST, HS_ZONES_MOST);
	return false;
}

/* What is loose lies on the mat; a point is a place in the unit. */
static void check_loose(const hs_bench_unit *unit, const hs_step *step, const hs_reading *reading, hs_problems *problems)
{
	int point = reading->point >= 0 ? reading->point : against_point(unit, reading);
	if (!reading->loose || point < 0)
		return;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, reading->where,
	                                     "step \"%s\" calls its reading loose, and \"%s\" is a point of the unit", step->id,
	                                     unit->points[point].id);
	hs_problem_hint(problem, "name the part that lies on the mat, or leave out loose and read it dead");
}

void hs_unit_check_step(const hs_playbook *playbook, const hs_step *step, hs_problems *problems)
{
	const hs_bench_unit *unit = &playbook->unit;
	if (!check_named(unit, step, problems))
		return;
	check_hands(playbook, step, problems);
	check_guard(unit, step, problems);
	check_control_reach(unit, step, step->set, step->where, problems);
	check_unshort(unit, step, problems);
	check_power_said(step, problems);
	check_keyed(unit, step, problems);
	check_driven(unit, step, problems);
	check_standby(unit, step->power, step->where, "step", step->id, problems);
	check_live(playbook, step, problems);
	hs_check_danger_step(playbook, step, problems);
	if (hs_step_need(playbook, step) == HS_NEED_DEAD || step->attach_dead)
		check_testable(unit, hs_step_zones(playbook, step), step->where, "step", step->id, problems);
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		check_dead_reading(step, reading, problems);
		check_control_reach(unit, step, reading->set, reading->where, problems);
		check_loose(unit, step, reading, problems);
		if (against_point(unit, reading) >= 0 && !reading->loose)
			check_reach(playbook, step, against_point(unit, reading), reading->where, problems);
		if (!reading->loose)
			check_reach(playbook, step, reading->point, reading->where, problems);
		hs_check_reading_levels(playbook, step, reading, problems);
	}
	if (step->inject.given)
		check_reach(playbook, step, step->inject.point, step->inject.where, problems);
	hs_check_injection(playbook, step, problems);
	hs_check_lineup_levels(playbook, step, problems);
}

/* ---- the whole ---- */

static void check_supplied(const hs_playbook *playbook, hs_problems *problems)
{
	if (hs_supplies(&playbook->unit))
		return;
	const hs_step *step = NULL;
	for (size_t i = 0; i < playbook->step_count && !step; i++)
		if (is_powered(playbook->steps[i].power))
			step = &playbook->steps[i];
	bool symptom = playbook->symptom.given && is_powered(playbook->symptom.power);
	if (!step && !symptom)
		return;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, step ? step->where : playbook->symptom.where,
	                                     "%s%s%s wants power \"%s\", and the unit declares no supply",
	                                     step ? "step \"" : "the symptom", step ? step->id : "", step ? "\"" : "",
	                                     hs_need_name(step ? step->power : playbook->symptom.power));
	hs_problem_hint(problem, "declare where power comes from: supply = { mains = \"230 V\" }");
}

static void check_symptom(const hs_playbook *playbook, hs_problems *problems)
{
	const hs_symptom *symptom = &playbook->symptom;
	if (!symptom->given)
		return;
	check_standby(&playbook->unit, symptom->power, symptom->where, "the symptom of", playbook->id, problems);
	if (symptom->power != HS_NEED_KEYED || playbook->unit.emitter_count > 0)
		return;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, symptom->where,
	                                     "the symptom is shown keyed, and nothing says what emits");
	hs_problem_hint(problem, "declare what the unit emits: emits = { J2 = { rf = \"50 W\" } }");
}

/* A change that nothing makes is never on the open list, so a step that undoes it says too much, or another too little. */
static void check_undone(const hs_playbook *playbook, hs_problems *problems)
{
	const hs_bench_unit *unit = &playbook->unit;
	uint64_t made = 0;
	for (size_t i = 0; i < playbook->step_count; i++)
		made |= playbook->steps[i].makes;
	for (size_t i = 0; i < playbook->step_count; i++) {
		const hs_step *step = &playbook->steps[i];
		for (int change = 0; change < unit->openable_count; change++) {
			if (!((step->undoes & ~made) >> change & 1))
				continue;
			const char *id = unit->openables[change].id;
			hs_problem *problem = hs_problem_add(problems, HS_WARNING, step->where,
			                                     "step \"%s\" undoes \"%s\", which no step makes", step->id, id);
			hs_problem_hint(problem, "the step that does it says makes = { \"%s\" }", id);
		}
	}
}

void hs_unit_check(const hs_playbook *playbook, hs_problems *problems)
{
	const hs_bench_unit *unit = &playbook->unit;
	for (int i = 0; i < unit->source_count; i++)
		check_source(&unit->sources[i], problems);
	for (int i = 0; i < unit->openable_count; i++)
		check_openable(unit, i, problems);
	check_names(unit, problems);
	hs_check_dangers(unit, problems);
	check_supplied(playbook, problems);
	check_symptom(playbook, problems);
	check_undone(playbook, problems);
	hs_check_points_declared(unit, problems);
	for (size_t i = 0; i < playbook->step_count; i++) {
		const hs_step *step = &playbook->steps[i];
		hs_unit_check_step(playbook, step, problems);
		for (size_t item = 0; item < step->reading_count; item++)
			hs_check_reading_declared(playbook, step, &step->readings[item], problems);
	}
}
