#include "check_levels.h"

#include <math.h>
#include <string.h>
#include "facts.h"

static const double margin_rf_db = 10.0;
static const double margin_slow_db = 3.0;
static const double slow_hz = 20e3; /* up to here a level counts as low frequency */

/* Two units for one figure differ in the last digits; that is no excess. */
static const double hair_db = 1e-9;

static hs_quantity in_watts(double watts)
{
	return (hs_quantity){watts, HS_WATT};
}

static bool is_power(hs_quantity quantity)
{
	return hs_unit_dimension(quantity.unit) == HS_DIM_POWER;
}

/* Nothing at all lies under every rating. */
static bool is_nothing(hs_quantity quantity)
{
	return !hs_unit_is_level(quantity.unit) && quantity.value == 0.0;
}

/* How far `level` lies above `rating`, in dB. Between volts and watts an impedance is needed; without one it is an
 * error. */
static bool excess_db(hs_quantity level, hs_quantity rating, double impedance_ohm, double *excess, hs_error *error)
{
	hs_unit in = is_power(level) || is_power(rating) ? HS_DBM : HS_DBV;
	hs_quantity have, most;
	if (is_nothing(level)) {
		*excess = -HUGE_VAL;
		return true;
	}
	level.value = hs_unit_is_level(level.unit) ? level.value : fabs(level.value);
	if (!hs_quantity_convert(level, in, impedance_ohm, &have, error) ||
	    !hs_quantity_convert(rating, in, impedance_ohm, &most, error))
		return false;
	*excess = have.value - most.value;
	return true;
}

/* A figure in its own unit, as text that can stand in a message. */
typedef struct figure {
	char text[48];
} figure;

static figure show(hs_quantity quantity)
{
	figure made = {""};
	hs_buf buf;
	hs_buf_init(&buf);
	hs_quantity_print(&buf, quantity, -1);
	hs_copy(made.text, sizeof made.text, buf.data);
	hs_buf_free(&buf);
	return made;
}

static hs_quantity attenuated(hs_quantity level, double db)
{
	if (hs_unit_is_level(level.unit))
		level.value -= db;
	else
		level.value *= pow(10.0, -db / (is_power(level) ? 10.0 : 20.0));
	return level;
}

/*
 * What one part takes off a level, never more than it is known to take: where the frequency is not stated only a pad's
 * fixed loss and a divider's ratio count.
 */
static double part_loss(const hs_part *part, double freq_hz)
{
	double loss = 0.0, u = 0.0;
	bool known = freq_hz > 0.0 && hs_part_loss(part, freq_hz, &loss, &u, NULL, NULL);
	if (!known)
		loss = part->has_fixed ? part->fixed_db : 0.0;
	return loss + (part->ratio > 0.0 ? 20.0 * log10(part->ratio) : 0.0);
}

/* Worst case of the whole hookup; its own arithmetic where that can be done. */
static double hookup_loss(const hs_hookup *hookup, double freq_hz)
{
	hs_correction correction;
	if (hs_hookup_correct(hookup, HS_READS_POWER, freq_hz, &correction, NULL))
		return correction.total_db;
	double total = 0.0;
	for (size_t i = 0; i < hookup->count; i++)
		if (hookup->parts[i]->kind != HS_PART_INSTRUMENT)
			total += part_loss(hookup->parts[i], freq_hz);
	return total;
}

/* ---- into the unit ---- */

static void refuse_near(const hs_step *step, const char *at, hs_quantity rating, double excess, hs_problems *problems)
{
	const hs_injection *inject = &step->inject;
	double hz = inject->freq_hz > 0.0 ? inject->freq_hz : 0.0;
	bool slow = (hz > 0.0 && hz <= slow_hz) || (hz == 0.0 && !is_power(inject->level));
	double margin = slow ? margin_slow_db : margin_rf_db;
	if (excess <= hair_db - margin || (inject->has_margin && inject->margin_why && inject->margin_why[0]))
		return;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, inject->where,
	                                     "step \"%s\" injects %s at %s, only %.1f dB under its rating of %s",
	                                     step->id, show(inject->level).text, at, -excess, show(rating).text);
	hs_problem_hint(problem, "keep %.0f dB below the rating, or name the margin and why it is enough", margin);
}

static bool emits(const hs_bench_unit *unit, const hs_point *point)
{
	for (int i = 0; i < unit->emitter_count; i++)
		if (strcmp(unit->emitters[i].id, point->id) == 0)
			return true;
	return false;
}

static void check_injected_level(const hs_bench_unit *unit, const hs_step *step, hs_problems *problems)
{
	const hs_injection *inject = &step->inject;
	const hs_point *point = inject->point >= 0 ? &unit->points[inject->point] : NULL;
	const char *at = point ? point->id : inject->at_text ? inject->at_text : "an unnamed point";
	hs_problem *problem;
	if (point && emits(unit, point)) {
		problem = hs_problem_add(problems, HS_ERROR, inject->where, "step \"%s\" joins a source to %s, which emits", step->id, at);
		hs_problem_hint(problem, "a source goes only to an input, never to what emits");
		return;
	}
	if (!point || !point->has_accepts) {
		problem = hs_problem_add(problems, HS_ERROR, inject->where,
		                         "step \"%s\" injects %s at %s, and nothing says what that point stands",
		                         step->id, show(inject->level).text, at);
		hs_problem_hint(
		    problem, "declare the point with accepts = the most it takes, so that the level can be compared");
		return;
	}
	const hs_part *source = inject->hookup ? inject->hookup->instrument : NULL;
	bool dc_unknown = point->dc_v > 0.0 && source && !(source->max_dc_v > 0.0);
	if (dc_unknown) {
		problem = hs_problem_add(problems, HS_ERROR, inject->where,
		                         "step \"%s\" joins a source to %s, which carries DC, and nothing says what DC %s stands", step->id, at,
		                         source->id);
		hs_problem_hint(problem, "give the source max = { dc = ... } in the kit");
		return;
	}
	double excess;
	hs_error error = {0};
	if (!excess_db(inject->level, point->accepts, point->impedance_ohm, &excess, &error)) {
		problem =
		    hs_problem_add(problems, HS_ERROR, inject->where,
		                   "step \"%s\" injects %s at %s, which cannot be compared with its rating of %s: %s",
		                   step->id, show(inject->level).text, at, show(point->accepts).text, error.message);
		hs_problem_hint(problem, "give the level and the rating in one unit, or the point its impedance");
	} else if (excess > hair_db) {
		problem = hs_problem_add(problems, HS_ERROR, inject->where,
		                         "step \"%s\" injects %s at %s, %.1f dB above its rating of %s", step->id,
		                         show(inject->level).text, at, excess, show(point->accepts).text);
		hs_problem_hint(problem, "lower the level; no margin allows more than the rating");
	} else {
		refuse_near(step, at, point->accepts, excess, problems);
	}
}

/* ---- DC on the line ---- */

static void check_dc(const hs_step *step, const hs_point *point, const hs_hookup *hookup, hs_where where,
                     hs_problems *problems)
{
	const hs_part *instrument = hookup->instrument;
	if (!instrument || !(instrument->max_dc_v > 0.0))
		return;
	double divided = 1.0;
	for (size_t i = 0; i < hookup->count; i++)
		divided *= hookup->parts[i]->ratio > 0.0 ? hookup->parts[i]->ratio : 1.0;
	double volts = fabs(point->dc_v) / divided;
	if (volts <= instrument->max_dc_v)
		return;
	hs_problem *problem =
	    hs_problem_add(problems, HS_ERROR, where, "step \"%s\" puts %s of DC from %s on %s, which stands %s",
	                   step->id, show((hs_quantity){volts, HS_VOLT}).text, point->id, instrument->id,
	                   show((hs_quantity){instrument->max_dc_v, HS_VOLT}).text);
	hs_problem_hint(problem, "put a DC block or a divider before it, or take an instrument that stands it");
}

/* ---- out of the unit ---- */

/* The most that comes out of a point: what it declares, or what it emits when this step keys it. */
static bool most_given(const hs_playbook *playbook, const hs_step *step, const hs_point *point, hs_quantity *most)
{
	const hs_bench_unit *unit = &playbook->unit;
	hs_need need = hs_step_need(playbook, step);
	if (need == HS_NEED_DEAD || need == HS_NEED_OFF)
		return false;
	*most = point->gives;
	bool keyed = need == HS_NEED_KEYED && step->emitter >= 0 && step->emitter < unit->emitter_count &&
	             strcmp(unit->emitters[step->emitter].id, point->id) == 0;
	if (!keyed)
		return point->has_gives;
	hs_quantity emitted = in_watts(unit->emitters[step->emitter].watts);
	double excess;
	if (!point->has_gives ||
	    (excess_db(emitted, point->gives, point->impedance_ohm, &excess, NULL) && excess > hair_db))
		*most = emitted;
	return true;
}

static void check_instrument(const hs_step *step, const hs_reading *reading, const hs_point *point, hs_quantity given,
                             hs_problems *problems)
{
	const hs_hookup *hookup = reading->hookup;
	const hs_part *instrument = hookup->instrument;
	if (!instrument || !instrument->has_max_rf)
		return;
	double impedance = point->impedance_ohm > 0.0 ? point->impedance_ohm : instrument->impedance_ohm;
	double loss = hookup_loss(hookup, reading->freq_hz);
	hs_quantity there = attenuated(given, loss);
	double excess;
	hs_error error = {0};
	hs_problem *problem;
	if (!excess_db(there, instrument->max_rf, impedance, &excess, &error)) {
		problem = hs_problem_add(
		    problems, HS_ERROR, reading->where,
		    "what %s gives (%s) in step \"%s\" cannot be compared with the %s that %s stands: %s", point->id,
		    show(given).text, step->id, show(instrument->max_rf).text, instrument->id, error.message);
		hs_problem_hint(problem, "give both in one unit, or the point its impedance");
	} else if (excess > hair_db) {
		problem = hs_problem_add(
		    problems, HS_ERROR, reading->where,
		    "step \"%s\" lets %s into %s, which stands %s: %s gives %s and \"%s\" takes off %.1f dB", step->id,
		    show(there).text, instrument->id, show(instrument->max_rf).text, point->id, show(given).text,
		    hookup->id, loss);
		hs_problem_hint(problem, "put at least %.0f dB more in front of the instrument", ceil(excess));
	}
}

static void check_part(const hs_step *step, hs_where where, const hs_part *part, hs_quantity into, double impedance,
                       hs_problems *problems)
{
	hs_quantity watts;
	if (part->kind == HS_PART_INSTRUMENT || !(part->rated_w > 0.0) || is_nothing(into) ||
	    !hs_quantity_convert(into, HS_WATT, impedance, &watts, NULL) || watts.value <= part->rated_w)
		return;
	hs_problem *problem =
	    hs_problem_add(problems, HS_ERROR, where, "step \"%s\" puts %s into %s, which is rated for %s", step->id,
	                   show(watts).text, part->id, show(in_watts(part->rated_w)).text);
	if (part->file)
		hs_problem_hint(problem, "put a part of a higher rating first, or take less power; %s is declared at %s:%d", part->id, part->file, part->line);
	else
		hs_problem_hint(problem, "put a part of a higher rating first, or take less power");
	hs_problem_because(problem, "the rating of %s", part->id);
}

/* A source straight into a meter: nothing but the two leads is between them, and one of them may be the wrong one. */
static void check_straight(const hs_step *step, const hs_reading *reading, hs_problems *problems)
{
	const hs_part *instrument = reading->hookup ? reading->hookup->instrument : NULL;
	double excess;
	if (!instrument || !instrument->has_max_rf ||
	    !excess_db(step->through_level, instrument->max_rf, instrument->impedance_ohm, &excess, NULL) || excess <= hair_db)
		return;
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, reading->where, "step \"%s\" puts %s straight into %s, which stands %s", step->id,
	                                     show(step->through_level).text, instrument->id, show(instrument->max_rf).text);
	hs_problem_hint(problem, "lower the level; what the leads take is not counted on here");
}

void hs_check_reading_levels(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading,
                             hs_problems *problems)
{
	if (reading->leads == HS_LEADS_STRAIGHT)
		check_straight(step, reading, problems);
	if (reading->point < 0 || !reading->hookup || reading->loose)
		return;
	const hs_point *point = &playbook->unit.points[reading->point];
	if (hs_step_need(playbook, step) != HS_NEED_DEAD)
		check_dc(step, point, reading->hookup, reading->where, problems);
	hs_quantity given;
	if (!most_given(playbook, step, point, &given))
		return;
	check_instrument(step, reading, point, given, problems);
	double lost = 0.0;
	for (size_t i = 0; i < reading->hookup->count; i++) {
		const hs_part *part = reading->hookup->parts[i];
		check_part(step, reading->where, part, attenuated(given, lost), point->impedance_ohm, problems);
		lost += part_loss(part, reading->freq_hz);
	}
}

void hs_check_injection(const hs_playbook *playbook, const hs_step *step, hs_problems *problems)
{
	const hs_injection *inject = &step->inject;
	if (!inject->given)
		return;
	check_injected_level(&playbook->unit, step, problems);
	if (inject->point < 0 || !inject->hookup)
		return;
	const hs_point *point = &playbook->unit.points[inject->point];
	if (hs_step_need(playbook, step) != HS_NEED_DEAD)
		check_dc(step, point, inject->hookup, inject->where, problems);
	double before = 0.0;
	for (size_t i = 0; i < inject->hookup->count; i++) {
		const hs_part *part = inject->hookup->parts[i];
		before += part_loss(part, inject->freq_hz);
		check_part(step, inject->where, part, attenuated(inject->level, -before), point->impedance_ohm,
		           problems);
	}
}
