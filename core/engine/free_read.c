/* Acts that measure: a reading named anew or taken over from the last one, and a level put in. */
#include "core/engine/free.h"

#include <stdlib.h>
#include <string.h>

#include "halfsplit/unit/check.h"

static bool refuse(hs_buf *why, const char *sentence)
{
	hs_buf_str(why, sentence);
	return false;
}

static bool powered(hs_need need)
{
	return need == HS_NEED_STANDBY || need == HS_NEED_ON || need == HS_NEED_KEYED;
}

/* A refusal that may rest on what nobody has said yet says so. */
static void say_guess(const hs_engine *engine, const hs_step *step, hs_buf *why)
{
	int point = step->reading_count > 0 ? step->readings[0].point : step->inject.point;
	if (strstr(why->data, " DC") == NULL || !hs_free_guesses_dc(engine, point))
		return;
	const char *id = engine->playbook->unit.points[point].id;
	hs_buf_printf(why, " Nothing says what DC %s carries, so it counts as all there is in the unit; if you know better, say it: ", id);
	hs_buf_printf(why, "%s carries 0 V.", id);
}

bool hs_free_take_step(hs_engine *engine, const hs_step *step, hs_buf *why, bool *failed, hs_error *error)
{
	if (!hs_free_safe(engine, step, why)) {
		say_guess(engine, step, why);
		return false;
	}
	int index = hs_free_append(engine, step);
	*failed = !hs_course_enter(engine, index, error);
	return !*failed;
}

static const hs_step *last_step(const hs_engine *engine)
{
	int last = engine->state->hand.last;
	return last >= 0 ? &engine->playbook->steps[last] : NULL;
}

/* True, and why: the family declares no such point, and it is not said to be a new one. */
static bool undeclared(hs_engine *engine, const hs_clauses *said, const char *name, hs_buf *why)
{
	const hs_free *model = engine->free;
	if (model->family == NULL || said->fresh || said->loose || hs_free_knows_point(engine, name))
		return false;
	const hs_bench_unit *unit = &model->base.unit;
	const char **known = hs_arena_alloc(engine->turn, ((size_t)unit->point_count + 1) * sizeof *known);
	for (int i = 0; i < unit->point_count; i++)
		known[i] = unit->points[i].id;
	const char *near = hs_nearest(name, known, (size_t)unit->point_count);
	hs_buf_printf(why, "%.40s declares no point %.64s%s%s; to read at a place of your own, put new before it: new %.64s.", model->family, name,
	              near != NULL ? ", did you mean " : "", near != NULL ? near : "", name);
	return true;
}

/* A point as the unit has it; a new one is added where its place may be guessed from nothing but its name. */
static bool find_point(hs_engine *engine, const hs_clauses *said, const char *name, int *point, hs_buf *why)
{
	hs_free *model = engine->free;
	int found = hs_free_point(engine, name);
	if (hs_free_knows_point(engine, name)) {
		bool inside = model->book.unit.points[found].zone >= 0;
		if (said->outside && inside) {
			hs_buf_printf(why, "%s counts as inside; that was said before, and only redo takes it back.", model->book.unit.points[found].id);
			return false;
		}
		*point = found;
		return true;
	}
	if (undeclared(engine, said, name, why))
		return false;
	*point = hs_free_add_point(engine, name, said->outside);
	return true;
}

/* ---- what is not said is taken over ---- */

static bool takes_frequency(hs_measurand reads)
{
	return reads == HS_READS_POWER || reads == HS_READS_LOSS || reads == HS_READS_RETURN_LOSS || reads == HS_READS_SWR ||
	       reads == HS_READS_NOISE_RISE;
}

static bool reads_that(const hs_hookup *hookup, hs_measurand reads)
{
	bool inside;
	return hookup->instrument == NULL || hookup->instrument->range_count == 0 || hs_hookup_range(hookup, reads, 0.0, NULL, &inside) != NULL;
}

static void fill_from(hs_clauses *said, const hs_step *last)
{
	const hs_reading *before = last != NULL ? &last->readings[0] : NULL;
	bool same_kind = before != NULL && (!said->has_reads || said->reads == before->reads);
	if (!said->has_reads && said->has_hookup && said->hookup != NULL && said->hookup->instrument != NULL &&
	    said->hookup->instrument->range_count == 1) {
		said->has_reads = true;
		said->reads = said->hookup->instrument->ranges[0].reads;
		same_kind = before != NULL && said->reads == before->reads;
	}
	if (before == NULL)
		return;
	if (!said->has_reads) {
		said->has_reads = true;
		said->reads = before->reads;
	}
	if (!said->has_hookup && same_kind) {
		said->has_hookup = true;
		said->by_eye = before->hookup_name == NULL;
		said->hookup = before->hookup;
		said->hookup_name = before->hookup_name;
	}
	if (!said->has_freq && takes_frequency(said->reads) && before->freq_hz > 0.0) {
		said->has_freq = true;
		said->freq_hz = before->freq_hz;
	}
	if (said->point == NULL)
		said->point = before->at_text;
	if (said->against == NULL && same_kind)
		said->against = before->against;
}

/* What was named as open or in place before stays named, as long as it is so: at each energising it is confirmed by its id all the same. */
static void fill_with(const hs_state *state, hs_clauses *said)
{
	if (said->has_with)
		return;
	said->open |= state->hand.open & state->physical.open;
	said->with |= state->hand.with & state->physical.open;
}

/* The one hookup of the kit that reads this, when there is only one. */
static void fill_hookup(const hs_kit *kit, hs_clauses *said)
{
	const hs_hookup *only = NULL;
	for (size_t i = 0; kit != NULL && i < kit->hookup_count; i++) {
		const hs_part *instrument = kit->hookups[i]->instrument;
		bool fits = instrument != NULL && instrument->range_count > 0 && reads_that(kit->hookups[i], said->reads);
		if (fits && only != NULL)
			return;
		only = fits ? kit->hookups[i] : only;
	}
	if (only == NULL)
		return;
	said->has_hookup = true;
	said->hookup = only;
	said->hookup_name = only->id;
}

static bool complete(hs_engine *engine, hs_clauses *said, hs_buf *why)
{
	fill_from(said, last_step(engine));
	fill_with(engine->state, said);
	const hs_injection *inject = &engine->state->hand.inject;
	if (!said->has_reads)
		return refuse(why, "What is read belongs to it: read power at TP2 by meter lead, or volts, ohms, amps, frequency ...");
	if (said->point == NULL)
		return refuse(why, "Where it is read belongs to it: read power at TP2 by meter lead.");
	if (!said->has_freq && takes_frequency(said->reads) && inject->given && inject->freq_hz > 0.0) {
		said->has_freq = true;
		said->freq_hz = inject->freq_hz;
	}
	if (!said->has_hookup)
		fill_hookup(engine->free->kit, said);
	if (said->has_hookup)
		return true;
	hs_buf_printf(why, "What it is read with belongs to it: read %s at %s by HOOKUP, as the kit calls it, or by eye.",
	              hs_measurand_name(said->reads), said->point);
	return false;
}

/* ---- the step ---- */

static bool read_limits(hs_engine *engine, const hs_clauses *said, hs_reading *reading, hs_buf *why)
{
	hs_error what = {0};
	hs_limits limits;
	if (said->limits == NULL || hs_same_word(said->limits, "none"))
		return true;
	if (!hs_limits_read(said->limits, reading->unit, &limits, &what) ||
	    !hs_limits_convert(&limits, reading->unit, hs_reading_impedance(&engine->free->book, reading), &reading->limits, &what)) {
		hs_buf_printf(why, "The limits behind the comma cannot be used: %s.", what.message);
		return false;
	}
	reading->has_limits = true;
	return true;
}

static bool measurable(const hs_reading *reading, hs_buf *why)
{
	if (reading->hookup == NULL)
		return true;
	if (!reads_that(reading->hookup, reading->reads)) {
		hs_buf_printf(why, "%s does not read %s.", reading->hookup->instrument->id, hs_measurand_name(reading->reads));
		return false;
	}
	hs_correction correction;
	hs_error what = {0};
	if (hs_hookup_correct(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, &correction, &what))
		return true;
	hs_buf_printf(why, "What %s takes off cannot be told: %s.", reading->hookup_name, what.message);
	if (reading->freq_hz <= 0.0)
		hs_buf_str(why, " Say the frequency: at 145 MHz.");
	return false;
}

static bool in_some_state(const hs_engine *engine, const hs_step *step, const hs_reading *reading, hs_buf *why)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	bool dead = hs_measurand_is_dead(reading->reads) && !reading->loose;
	if (dead && step->power_given && step->power != HS_NEED_DEAD) {
		hs_buf_printf(why, "%s are only ever read in a unit proved dead, and the power is to be %s; say power dead first, or loose for a part on the mat.",
		              hs_measurand_name(reading->reads), hs_need_name(step->power));
		return false;
	}
	if (!step->power_given && !dead && !reading->loose && reading->hookup_name != NULL)
		return refuse(why, "In which state it is read belongs to it; say power on (or off, standby, keyed, dead) first.");
	bool supplied = false;
	for (int i = 0; i < unit->source_count; i++)
		supplied = supplied || unit->sources[i].kind == HS_SOURCE_MAINS || unit->sources[i].kind == HS_SOURCE_DC;
	return supplied || !powered(step->power) || refuse(why, "Nothing that was declared feeds this unit, so it cannot be read with power.");
}

static void give_hand(const hs_engine *engine, hs_step *step)
{
	const hs_hand *hand = &engine->state->hand;
	step->power = hand->power;
	step->power_given = hand->power_given || engine->playbook->unit.source_count == 0;
	if (hand->power_given && hand->power == HS_NEED_KEYED) {
		step->load = hand->load;
		step->load_watts = hand->load_watts;
		step->emitter = hand->emitter >= 0 ? hand->emitter : engine->playbook->unit.emitter_count == 1 ? 0 : -1;
	}
	memcpy(step->set, hand->set, sizeof step->set);
}

/* Where nothing says what a point gives, the technician is the one to think of it. */
static const char *unknown_level(const hs_engine *engine, const hs_step *step, const hs_reading *reading)
{
	const hs_part *instrument = reading->hookup != NULL ? reading->hookup->instrument : NULL;
	const hs_point *point = reading->point >= 0 ? &engine->playbook->unit.points[reading->point] : NULL;
	if (instrument == NULL || point == NULL || !instrument->has_max_rf || point->has_gives || !powered(step->power))
		return NULL;
	for (int i = 0; i < engine->playbook->unit.emitter_count; i++)
		if (strcmp(engine->playbook->unit.emitters[i].id, point->id) == 0)
			return NULL;
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "Nothing says what %s gives, and %s stands ", point->id, instrument->id);
	hs_quantity_print(&text, instrument->max_rf, -1);
	hs_buf_str(&text, ": enough attenuation first.");
	const char *kept = hs_arena_str(engine->arena, text.data);
	hs_buf_free(&text);
	return kept;
}

static const char *title_of(const hs_engine *engine, const hs_reading *reading)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "%s at %s", hs_measurand_name(reading->reads), reading->at_text);
	if (reading->against != NULL)
		hs_buf_printf(&text, " against %s", reading->against);
	if (text.data[0] >= 'a' && text.data[0] <= 'z')
		text.data[0] = (char)(text.data[0] - 'a' + 'A');
	const char *kept = hs_arena_str(engine->arena, text.data);
	hs_buf_free(&text);
	return kept;
}

static bool find_places(hs_engine *engine, const hs_clauses *said, hs_reading *reading, hs_step *step, hs_buf *why)
{
	int other = said->against != NULL ? hs_free_point(engine, said->against) : -1;
	reading->at_text = said->point;
	reading->against = said->against;
	if (said->loose) {
		reading->loose = true;
		return true;
	}
	if (!find_point(engine, said, said->point, &reading->point, why))
		return false;
	const hs_bench_unit *unit = &engine->playbook->unit;
	reading->at_text = unit->points[reading->point].id;
	step->open |= unit->points[reading->point].behind;
	if (other >= 0) {
		reading->against = unit->points[other].id;
		step->open |= unit->points[other].behind;
	}
	return true;
}

static bool make_reading(hs_engine *engine, const hs_clauses *said, hs_step *step, hs_buf *why)
{
	hs_reading *reading = hs_arena_alloc(engine->arena, sizeof *reading);
	*reading = (hs_reading){.reads = said->reads, .unit = hs_measurand_unit(said->reads), .point = -1, .limits_by = {.id = -1},
	                        .hookup = said->hookup, .hookup_name = said->by_eye ? NULL : said->hookup_name,
	                        .freq_hz = said->has_freq ? said->freq_hz : 0.0};
	*step = hs_free_blank(HS_STEP_READ);
	step->readings = reading;
	step->reading_count = 1;
	step->open = said->open;
	step->with = said->with;
	give_hand(engine, step);
	if (!find_places(engine, said, reading, step, why) || !measurable(reading, why) || !in_some_state(engine, step, reading, why) ||
	    !read_limits(engine, said, reading, why))
		return false;
	if (!hs_measurand_is_dead(reading->reads))
		step->inject = engine->state->hand.inject;
	step->title = title_of(engine, reading);
	step->text = unknown_level(engine, step, reading);
	return true;
}

/* A name that nothing else in the line shows to be a place: a typing error, or a word of another kind, begins no way inside. */
static bool may_be_new(hs_engine *engine, const hs_clauses *said)
{
	if (engine->free->family != NULL || engine->quiet || engine->free->old || hs_free_knows_point(engine, said->point))
		return true;
	return said->loose || said->fresh || said->outside || said->placed || said->has_reads;
}

static size_t unsafe(const hs_engine *engine, const hs_step *step, bool attach_dead)
{
	hs_problems problems = {0};
	hs_step tried = *step;
	tried.id = "";
	tried.attach_dead = attach_dead;
	hs_unit_check_step(&engine->free->book, &tried, &problems);
	size_t errors = problems.errors;
	hs_problems_free(&problems);
	return errors;
}

/* Inside a live zone nothing is read by a hand: the hookup goes on while the unit is proved dead, where that is what is wanting. */
static bool take_reading(hs_engine *engine, hs_step *step, hs_buf *why, bool *failed, hs_error *error)
{
	step->attach_dead = unsafe(engine, step, true) < unsafe(engine, step, false);
	if (!hs_free_take_step(engine, step, why, failed, error))
		return false;
	engine->state->hand.last = engine->state->step;
	engine->state->hand.open = step->open;
	engine->state->hand.with = step->with;
	return true;
}

bool hs_free_read(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	hs_clauses said;
	hs_step step;
	bool named = hs_free_clauses(engine, rest, false, &said, why);
	/* What is taken over from the last reading was not meant by what was typed now. */
	if (named && said.point != NULL && !may_be_new(engine, &said))
		return hs_free_unknown_word(said.point, "", why);
	/* Whether there is such a place comes before what is read there. */
	if (named && said.point != NULL && undeclared(engine, &said, said.point, why))
		return false;
	return named && complete(engine, &said, why) && make_reading(engine, &said, &step, why) &&
	       take_reading(engine, &step, why, failed, error);
}

/* As before, limits too; what stands behind it is said anew: again with R5-bridged. */
bool hs_free_again(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	const hs_step *last = last_step(engine);
	hs_clauses said;
	hs_step step;
	if (last == NULL)
		return refuse(why, "Nothing was read yet that could be read again.");
	const hs_reading before = last->readings[0];
	if (!hs_free_clauses(engine, rest, false, &said, why))
		return false;
	if (said.point != NULL && !may_be_new(engine, &said))
		return hs_free_unknown_word(said.point, "", why);
	said.loose = said.loose || before.loose;
	if (!complete(engine, &said, why) || !make_reading(engine, &said, &step, why))
		return false;
	if (said.limits == NULL && before.has_limits && said.reads == before.reads) {
		step.readings[0].has_limits = true;
		step.readings[0].limits = before.limits;
	}
	return take_reading(engine, &step, why, failed, error);
}

/* ---- a level put in ---- */

static bool put_off(hs_engine *engine, hs_buf *why, bool *failed, hs_error *error)
{
	hs_hand *hand = &engine->state->hand;
	if (!hand->inject.given)
		return refuse(why, "No level is put in just now.");
	hs_step step = hs_free_blank(HS_STEP_DO);
	step.outside = true;
	step.title = "The source off";
	step.text = "Switch the source's output off.";
	if (!hs_free_take_step(engine, &step, why, failed, error))
		return false;
	engine->state->hand.inject = (hs_injection){.point = -1};
	return true;
}

static bool fill_put(hs_engine *engine, hs_clauses *said, hs_buf *why)
{
	const hs_injection *before = &engine->state->hand.inject;
	if (before->given) {
		said->point = said->point != NULL ? said->point : before->at_text;
		if (!said->has_hookup) {
			said->hookup = before->hookup;
			said->hookup_name = before->hookup_name;
		}
		said->freq_hz = said->has_freq ? said->freq_hz : before->freq_hz;
	}
	if (!said->has_level)
		return refuse(why, "Which level, as it is wanted at the point, belongs to it: put -30 dBm into J1 by source lead at 145 MHz.");
	if (said->point == NULL)
		return refuse(why, "Where it goes in belongs to it: put -30 dBm into J1 by source lead at 145 MHz.");
	if (said->hookup == NULL)
		return refuse(why, "By which hookup of the kit it goes in belongs to it: put -30 dBm into J1 by source lead at 145 MHz.");
	if (said->hookup->instrument != NULL && !said->hookup->instrument->gives_level) {
		hs_buf_printf(why, "%s gives no level; name a hookup that ends in a source.", said->hookup->instrument->id);
		return false;
	}
	hs_correction correction;
	hs_error what = {0};
	if (hs_hookup_correct(said->hookup, HS_READS_POWER, said->freq_hz, &correction, &what))
		return true;
	hs_buf_printf(why, "What %s takes off cannot be told: %s. Say the frequency: at 145 MHz.", said->hookup_name, what.message);
	return false;
}

static void put_words(const hs_engine *engine, hs_step *step)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_quantity_print(&text, step->inject.level, -1);
	hs_buf_printf(&text, " into %s", step->inject.at_text);
	step->title = hs_arena_str(engine->arena, text.data);
	hs_buf_free(&text);
}

/* The lead is on; what is left to confirm is that the level goes in. */
static const char *source_words(const hs_engine *engine, const hs_injection *inject)
{
	const hs_part *source = inject->hookup->instrument;
	hs_buf text;
	hs_buf_init(&text);
	hs_correction correction;
	hs_quantity setting = inject->level;
	if (hs_hookup_correct(inject->hookup, HS_READS_POWER, inject->freq_hz, &correction, NULL))
		setting = hs_correct_source(&correction, inject->level);
	hs_buf_printf(&text, "Does %s stand at ", source != NULL ? source->id : "the source");
	hs_quantity_print(&text, setting, hs_unit_is_level(setting.unit) ? 2 : -1);
	if (inject->freq_hz > 0.0) {
		hs_buf_str(&text, ", ");
		hs_quantity_print(&text, (hs_quantity){inject->freq_hz, HS_HERTZ}, -1);
	}
	bool driven = hs_drive_transmits(&engine->playbook->unit) >= 0;
	hs_buf_printf(&text, ", its output %s?", driven ? "still off: it goes on only when the unit is keyed" : "on");
	const char *kept = hs_arena_str(engine->arena, text.data);
	hs_buf_free(&text);
	return kept;
}

bool hs_free_put(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	hs_clauses said;
	int point = -1;
	if (hs_same_word(rest, "off"))
		return put_off(engine, why, failed, error);
	if (!hs_free_clauses(engine, rest, true, &said, why) || !fill_put(engine, &said, why) ||
	    !find_point(engine, &said, said.point, &point, why))
		return false;
	const hs_bench_unit *unit = &engine->playbook->unit;
	hs_step step = hs_free_blank(HS_STEP_DO);
	step.outside = true;
	step.open = unit->points[point].behind;
	step.inject = (hs_injection){.given = true, .level = said.level, .point = point, .at_text = unit->points[point].id, .freq_hz = said.freq_hz,
	                             .hookup_name = said.hookup_name, .hookup = said.hookup, .has_margin = said.because != NULL,
	                             .margin_why = said.because};
	if (unit->points[point].zone >= 0 && hs_zone_is_hazardous(unit, unit->points[point].zone)) {
		step.power = HS_NEED_DEAD;
		step.power_given = true;
	}
	put_words(engine, &step);
	step.text = source_words(engine, &step.inject);
	if (!unit->points[point].has_accepts && !engine->quiet) {
		hs_buf_printf(why, "Nothing says what %s stands; say it first, from the label or the manual: %s accepts 20 dBm.", step.inject.at_text,
		              step.inject.at_text);
		return false;
	}
	if (!hs_free_take_step(engine, &step, why, failed, error))
		return false;
	engine->state->hand.inject = step.inject;
	return true;
}
