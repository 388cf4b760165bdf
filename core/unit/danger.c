/* Declared dangers: which row is asked next, and what an answer does. The rows themselves stand in danger_rows.c. */
#include "danger.h"

#include <math.h>
#include <string.h>

/* ---- rows ---- */

static uint32_t row_bit(int pair)
{
	int count, first = pair;
	const hs_danger_row *rows = hs_danger_rows(&count);
	while (first > 0 && rows[first - 1].kind == rows[pair].kind)
		first--;
	return 1u << (pair - first);
}

bool hs_danger_row_fits(const hs_bench_unit *unit, const hs_gate *gate)
{
	int count;
	hs_danger_rows(&count);
	if (gate->pair < 0 || gate->pair >= count || gate->subject < 0 || gate->subject >= unit->danger_count)
		return false;
	hs_danger_kind kind = hs_danger_row_of(gate)->kind;
	return kind == HS_DANGER_KINDS || kind == unit->dangers[gate->subject].kind;
}

bool hs_danger_row_passed(const hs_physical *physical, const hs_gate *gate)
{
	return physical->dangers[hs_danger_row_of(gate)->keeps][gate->subject] & row_bit(gate->pair);
}

bool hs_danger_holds(const hs_bench_unit *unit, const hs_physical *physical, int danger, const char *row)
{
	int count;
	const hs_danger_row *rows = hs_danger_rows(&count);
	for (int i = 0; i < count; i++) {
		hs_gate gate = {.fact = HS_FACT_DANGER, .subject = danger, .pair = i};
		if (hs_danger_row_fits(unit, &gate) && strcmp(rows[i].name, row) == 0)
			return hs_danger_row_passed(physical, &gate);
	}
	return false;
}

/* ---- when a row is asked ---- */

static bool interlock_open(const hs_bench_unit *unit, const hs_physical *physical)
{
	for (int i = 0; i < unit->openable_count; i++)
		if (unit->openables[i].kind == HS_OPEN_INTERLOCK && physical->open >> i & 1)
			return true;
	return false;
}

static bool cover_off(const hs_bench_unit *unit, const hs_physical *physical, const hs_danger *danger)
{
	for (int i = 0; i < unit->openable_count; i++)
		if (unit->openables[i].kind == HS_OPEN_COVER && physical->open >> i & 1 &&
		    (danger->zone < 0 || hs_cover_encloses(unit, i, danger->zone)))
			return true;
	return false;
}

static bool near_live(const hs_bench_unit *unit, const hs_physical *physical)
{
	unsigned exposed = hs_zones_exposed(unit, physical);
	return physical->power >= HS_POWER_DEAD ? (exposed & ~physical->zones_dead) != 0 : exposed != 0;
}

bool hs_danger_is_strong(const hs_danger *danger)
{
	static const char *const weak[] = {"1", "1M", "2", "2M"};
	for (size_t i = 0; danger->text && i < sizeof weak / sizeof *weak; i++)
		if (hs_same_word(danger->text, weak[i]))
			return false;
	return true;
}

static bool applies(const hs_bench_unit *unit, const hs_physical *physical, int at, const hs_danger_row *row)
{
	const hs_danger *danger = &unit->dangers[at];
	double grams = danger->figures[HS_DANGER_MASS];
	switch (row->only) {
	case HS_ONLY_ALWAYS: return true;
	case HS_ONLY_FLAG: return !(danger->absent & row->flag);
	case HS_ONLY_UNREFERENCED: return !(physical->referenced >> at & 1);
	case HS_ONLY_INTERLOCK: return interlock_open(unit, physical);
	case HS_ONLY_ATTENDED: return interlock_open(unit, physical) || cover_off(unit, physical, danger);
	case HS_ONLY_NEAR_LIVE: return hs_zones_exposed(unit, physical) != 0;
	case HS_ONLY_AWAY_LIVE: return !near_live(unit, physical);
	case HS_ONLY_STRONG: return hs_danger_is_strong(danger);
	case HS_ONLY_USED: return physical->used >> at & 1;
	case HS_ONLY_HEAVY: return !(grams > 0.0 && grams <= hs_shop_or_default(unit->shop)->lift_grams);
	case HS_ONLY_HOOKED: return physical->hooked >> at & 1;
	case HS_ONLY_DEAD: return physical->power >= HS_POWER_DEAD;
	}
	return true;
}

static const double seconds_unstated[HS_DANGER_FIGURES] = {
    [HS_DANGER_HEATER] = 300.0, [HS_DANGER_RUN_ON] = 300.0, [HS_DANGER_AIRS] = 600.0};

double hs_danger_seconds(const hs_danger *danger, int figure)
{
	double stated = danger->figures[figure];
	return stated > 0.0 ? stated : seconds_unstated[figure];
}

int64_t hs_danger_earliest(const hs_bench_unit *unit, const hs_physical *physical, const hs_gate *gate)
{
	const hs_danger_row *row = hs_danger_row_of(gate);
	const double longest_s = 1e9;
	if (row->waits < 0)
		return 0;
	double seconds = ceil(hs_danger_seconds(&unit->dangers[gate->subject], row->waits));
	int64_t since = row->waits == HS_DANGER_HEATER ? physical->powered_ms : physical->danger_ms[gate->subject];
	return since + (int64_t)(seconds < longest_s ? seconds : longest_s) * 1000;
}

/* The first row of one danger that is still missing; false: there is none. */
static bool missing(const hs_bench_unit *unit, const hs_physical *physical, unsigned moment, int at, int step, hs_gate *gate)
{
	int count;
	const hs_danger_row *rows = hs_danger_rows(&count);
	hs_gate candidate = {.fact = HS_FACT_DANGER, .subject = at, .pair = hs_danger_specialist()};
	bool barred = physical->barred >> at & 1;
	/* What is unsafe never keeps anybody from switching off. */
	if (barred && moment & (HS_MOMENT_DOWN | HS_MOMENT_UNHOOK))
		return false;
	for (int i = 0; i < count && !barred; i++) {
		candidate.pair = i;
		if (!hs_danger_row_fits(unit, &candidate) || !(rows[i].moments & moment) || !applies(unit, physical, at, &rows[i]))
			continue;
		bool stale = rows[i].keeps == HS_KEEPS_STEP && physical->danger_step != step;
		if (!stale && hs_danger_row_passed(physical, &candidate))
			continue;
		candidate.earliest_ms = hs_danger_earliest(unit, physical, &candidate);
		*gate = candidate;
		return true;
	}
	if (barred)
		*gate = candidate;
	return barred;
}

bool hs_danger_next(const hs_bench_unit *unit, const hs_physical *physical, unsigned moment, uint32_t dangers, int step, hs_gate *gate)
{
	for (int i = 0; i < unit->danger_count; i++)
		if (dangers >> i & 1 && missing(unit, physical, moment, i, step, gate))
			return false;
	return true;
}

bool hs_dangers_ready(const hs_bench_unit *unit, const hs_physical *physical, unsigned moment)
{
	hs_gate gate;
	return hs_danger_next(unit, physical, moment, ~0u, physical->danger_step, &gate);
}

static bool state_fits(const hs_physical *physical, unsigned moment)
{
	bool powered = physical->power == HS_POWER_ON || physical->power == HS_POWER_STANDBY;
	switch (moment) {
	case HS_MOMENT_DOWN: return physical->power < HS_POWER_OFF;
	case HS_MOMENT_UNHOOK:
	case HS_MOMENT_UP: return physical->power >= HS_POWER_OFF;
	case HS_MOMENT_HOT:
	case HS_MOMENT_MEASURE: return powered;
	default: return true;
	}
}

/* A row is taken where it is the first one missing at one of its moments; nothing is taken ahead. */
bool hs_danger_in_turn(const hs_bench_unit *unit, const hs_physical *physical, const hs_gate *gate)
{
	const hs_danger_row *row = hs_danger_row_of(gate);
	if (gate->pair == hs_danger_specialist())
		return physical->barred >> gate->subject & 1;
	for (unsigned moment = 1; moment <= HS_MOMENT_USE; moment <<= 1) {
		hs_gate first;
		if (!(row->moments & moment) || !state_fits(physical, moment))
			continue;
		for (int same = 0; same < 2; same++)
			if (missing(unit, physical, moment, gate->subject, same ? physical->danger_step : -2, &first) && first.pair == gate->pair)
				return true;
	}
	return false;
}

/* ---- what an answer does ---- */

void hs_dangers_lapse(hs_physical *physical, hs_keeps keeps)
{
	memset(physical->dangers[keeps], 0, sizeof physical->dangers[keeps]);
	if (keeps == HS_KEEPS_PLUG)
		physical->referenced = 0;
}

static void forget(hs_physical *physical, int danger)
{
	for (int keeps = 0; keeps < HS_KEEPS_COUNT; keeps++)
		physical->dangers[keeps][danger] = 0;
}

void hs_danger_pass(hs_physical *physical, const hs_gate *gate, int step, int64_t now_ms)
{
	const hs_danger_row *row = hs_danger_row_of(gate);
	int at = gate->subject;
	uint32_t bit = 1u << at;
	if (gate->pair == hs_danger_specialist()) {
		physical->barred &= ~bit;
		forget(physical, at);
		return;
	}
	if (row->keeps == HS_KEEPS_STEP && physical->danger_step != step) {
		hs_dangers_lapse(physical, HS_KEEPS_STEP);
		physical->danger_step = step;
	}
	if (row->moments & HS_MOMENT_UNHOOK) {
		physical->hooked &= ~bit;
		physical->uncounted = true;
		physical->dangers[HS_KEEPS_PLUG][at] = 0;
		hs_forget_energising(physical);
		return;
	}
	physical->dangers[row->keeps][at] |= row_bit(gate->pair);
	if (row->starts)
		physical->danger_ms[at] = now_ms;
	if (row->kind == HS_DANGER_TUBES && strcmp(row->name, "hook") == 0) {
		physical->hooked |= bit;
		hs_forget_energising(physical);
		physical->uncounted = true;
	}
	if (row->only == HS_ONLY_USED)
		physical->used &= ~bit;
	/* The strap goes on again, checked again. */
	if (row->only == HS_ONLY_NEAR_LIVE)
		physical->dangers[HS_KEEPS_WATCH][at] = 0;
}

void hs_physical_used(hs_physical *physical, uint32_t substances, int64_t now_ms)
{
	physical->used |= substances;
	for (int i = 0; i < HS_DANGERS_MOST; i++)
		if (substances >> i & 1)
			physical->danger_ms[i] = now_ms;
}

/* ---- which dangers something concerns ---- */

uint32_t hs_dangers_under(const hs_bench_unit *unit, int cover)
{
	uint32_t found = 0;
	for (int i = 0; i < unit->danger_count; i++) {
		const hs_danger *danger = &unit->dangers[i];
		bool over = danger->zone < 0 || hs_cover_encloses(unit, cover, danger->zone);
		if (danger->part >= 0 ? danger->part == cover : unit->openables[cover].kind == HS_OPEN_COVER && over)
			found |= 1u << i;
	}
	return found;
}

uint32_t hs_dangers_in(const hs_bench_unit *unit, unsigned zones, bool inside)
{
	uint32_t found = 0;
	for (int i = 0; i < unit->danger_count; i++) {
		const hs_danger *danger = &unit->dangers[i];
		if (danger->part < 0 && (danger->zone >= 0 ? zones >> danger->zone & 1 : inside))
			found |= 1u << i;
	}
	return found;
}

static unsigned zone_bit(int zone)
{
	return zone >= 0 ? 1u << zone : 0;
}

/* Where readings and the injection go: a place that is no declared point lies in the step's zone, or inside. */
static unsigned probed(const hs_bench_unit *unit, const hs_step *step)
{
	unsigned zones = 0;
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		if (reading->loose || reading->leads != HS_LEADS_NONE || (!reading->hookup_name && !reading->hookup))
			continue;
		zones |= zone_bit(reading->point >= 0 ? unit->points[reading->point].zone : step->zone >= 0 ? step->zone : 0);
	}
	if (step->inject.given && step->inject.point >= 0)
		zones |= zone_bit(unit->points[step->inject.point].zone);
	return zones;
}

uint32_t hs_dangers_reached(const hs_playbook *playbook, const hs_step *step)
{
	const hs_bench_unit *unit = &playbook->unit;
	bool hands = hs_step_reaches_in(step);
	unsigned zones = probed(unit, step) | (hands || (step->zone_given && !step->outside) ? zone_bit(step->zone) : 0);
	for (int i = 0; i < unit->openable_count; i++)
		if ((step->makes | step->undoes) >> i & 1 && unit->openables[i].kind != HS_OPEN_COVER)
			zones |= zone_bit(unit->openables[i].zone);
	for (int i = 0; i < unit->control_count; i++)
		if (step->set[i])
			zones |= zone_bit(unit->controls[i].zone);
	if (hands)
		zones |= hs_step_bares(unit, step);
	return hs_dangers_in(unit, zones, zones != 0 || (hands && step->open != 0));
}

uint32_t hs_dangers_clipped(const hs_playbook *playbook, const hs_step *step)
{
	bool leads = step->inject.given;
	for (size_t i = 0; i < step->reading_count && !leads; i++) {
		const hs_reading *reading = &step->readings[i];
		leads = !reading->loose && reading->leads == HS_LEADS_NONE && (reading->hookup_name || reading->hookup);
	}
	hs_need need = hs_step_need(playbook, step);
	bool powered = need == HS_NEED_ON || need == HS_NEED_STANDBY || need == HS_NEED_KEYED;
	return leads && powered ? hs_dangers_in(&playbook->unit, probed(&playbook->unit, step), true) : 0;
}
