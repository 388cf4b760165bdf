#include "halfsplit/unit/hazard.h"

#include <math.h>
#include "facts.h"

static const double line_over = 0.10;

/* Line +10 % reaches what is fed from outside, and every store or rail that follows the line. A stated maximum holds it
 * already. */
static double volts_at_limit(const hs_energy_source *source)
{
	bool line = source->kind == HS_SOURCE_MAINS || source->kind == HS_SOURCE_DC || source->follows_line;
	return line && !source->volts_is_max ? source->volts * (1.0 + line_over) : source->volts;
}

static double energy(double farads, double volts)
{
	return farads * volts * volts / 2.0;
}

static double decay(double ohm, double farads, double volts)
{
	return ohm > 0.0 && volts > HS_SAFE_STORE_VOLTS ? ohm * farads * log(volts / HS_SAFE_STORE_VOLTS) : 0.0;
}

hs_store_figures hs_store_at_limits(const hs_energy_source *store)
{
	hs_store_figures at = {
	    .volts = volts_at_limit(store),
	    .farads = store->farads * (1.0 + fmax(store->farads_over, 0.0)),
	    .bleed_ohm = store->bleed_ohm * (1.0 + fmax(store->bleed_over, 0.0)),
	};
	at.joules = energy(at.farads, at.volts);
	const hs_shop *shop = hs_shop_or_default(store->shop);
	at.wait_s = decay(at.bleed_ohm, at.farads, at.volts) * shop->waits;
	double volts_left = at.wait_s > 0.0 ? HS_SAFE_STORE_VOLTS : at.volts;
	at.joules_left = energy(at.farads, volts_left);
	/* Written so that a figure nobody stated counts as the worst. */
	bool known = at.volts > 0.0 && at.farads > 0.0;
	at.discharge = !(known && volts_left <= HS_SAFE_STORE_VOLTS && at.joules_left <= shop->tool_joules);
	at.keep_shorted = !(known && at.joules <= shop->short_joules && at.volts <= HS_SHORT_VOLTS);
	return at;
}

double hs_store_nominal_wait(const hs_energy_source *store)
{
	return decay(store->bleed_ohm, store->farads, store->volts);
}

double hs_store_nominal_joules(const hs_energy_source *store)
{
	return energy(store->farads, store->volts);
}

static void say_declared(const hs_energy_source *store, hs_buf *out)
{
	if (store->volts > 0.0)
		hs_say_figure(out, store->volts, HS_VOLT);
	else
		hs_buf_str(out, "volts not stated");
	if (store->volts > 0.0 && store->volts_is_max)
		hs_buf_str(out, " at most");
	hs_buf_str(out, ", ");
	if (store->farads > 0.0)
		hs_say_figure(out, store->farads, HS_FARAD);
	else
		hs_buf_str(out, "farads not stated");
	if (!(store->bleed_ohm > 0.0)) {
		hs_buf_str(out, ", no bleeder known");
		return;
	}
	hs_buf_str(out, ", bleeder ");
	hs_say_figure(out, store->bleed_ohm, HS_OHM);
}

void hs_store_words(const hs_energy_source *store, hs_buf *out)
{
	hs_store_figures at = hs_store_at_limits(store);
	hs_buf_printf(out, "%s: ", store->id);
	say_declared(store, out);
	hs_buf_str(out, ": at its limits ");
	if (at.joules > 0.0)
		hs_say_figure(out, at.joules, HS_JOULE);
	else
		hs_buf_str(out, "energy unknown");
	if (at.wait_s > 0.0) {
		hs_buf_str(out, ", ");
		hs_say_figure(out, at.wait_s, HS_SECOND);
		hs_buf_str(out, " to 50 V");
	}
	if (at.discharge)
		hs_buf_str(out, "; discharge through a resistor");
	if (at.keep_shorted)
		hs_buf_str(out, "; keep shorted");
}

double hs_dead_volts(const hs_energy_source *source)
{
	double most = hs_shop_or_default(source->shop)->dead_volts;
	double tenth = source->volts > 0.0 ? source->volts / 10.0 : most;
	return tenth < most ? tenth : most;
}

static bool source_is_hazardous(const hs_energy_source *source)
{
	double volts = volts_at_limit(source);
	if (!(volts > 0.0))
		return true;
	switch (source->kind) {
	case HS_SOURCE_MAINS:
		return volts > HS_ELV_AC_VOLTS;
	case HS_SOURCE_DC:
	case HS_SOURCE_RAIL:
		return volts > HS_ELV_DC_VOLTS;
	case HS_SOURCE_STORE:
		break;
	}
	return volts > HS_ELV_DC_VOLTS || !(source->farads > 0.0) || hs_store_at_limits(source).joules > HS_TOOL_JOULES;
}

bool hs_zone_is_hazardous(const hs_bench_unit *unit, int zone)
{
	for (int i = 0; i < unit->source_count; i++)
		if (unit->sources[i].zone == zone && zone >= 0 && source_is_hazardous(&unit->sources[i]))
			return true;
	return false;
}

static bool needs_proof(const hs_reading *reading)
{
	return hs_measurand_is_dead(hs_reading_measurand(reading)) && !reading->loose;
}

static bool reads_dead(const hs_step *step)
{
	for (size_t i = 0; i < step->reading_count; i++)
		if (needs_proof(&step->readings[i]))
			return true;
	return false;
}

/* What a step makes or undoes by hand may lie in a zone the step does not name. */
static bool changes_need_dead(const hs_bench_unit *unit, const hs_step *step)
{
	uint64_t changes = step->makes | step->undoes;
	for (int i = 0; i < unit->openable_count; i++)
		if (changes >> i & 1 && hs_openable_needs(unit, i) == HS_POWER_DEAD)
			return true;
	return false;
}

uint64_t hs_opened_with(const hs_bench_unit *unit, uint64_t named)
{
	uint64_t open = named;
	for (int i = 0; i < unit->openable_count; i++) {
		int at = named >> i & 1 ? unit->openables[i].after : -1;
		for (int steps = 0; at >= 0 && at < unit->openable_count && steps < unit->openable_count; steps++) {
			open |= (uint64_t)1 << at;
			at = unit->openables[at].after;
		}
	}
	return open;
}

unsigned hs_step_bares(const hs_bench_unit *unit, const hs_step *step)
{
	uint64_t open = hs_opened_with(unit, step->open);
	unsigned zones = 0;
	for (int i = 0; i < unit->openable_count; i++) {
		if (!(open >> i & 1) || unit->openables[i].kind != HS_OPEN_COVER)
			continue;
		for (int zone = 0; zone < unit->zone_count; zone++)
			if ((unit->zones[zone].guard == i || unit->zones[zone].guard < 0) &&
			    hs_zone_is_hazardous(unit, zone))
				zones |= 1u << zone;
	}
	return zones;
}

double hs_step_key_seconds(const hs_bench_unit *unit, const hs_step *step)
{
	if (step->emitter < 0 || step->emitter >= unit->emitter_count)
		return 0.0;
	double stated = unit->emitters[step->emitter].key_seconds;
	bool shorter = step->key_seconds > 0.0 && (step->key_seconds < stated || !(stated > 0.0));
	return shorter ? step->key_seconds : stated;
}

int hs_drive_transmits(const hs_bench_unit *unit)
{
	for (int i = 0; i < unit->emitter_count; i++)
		if (!unit->emitters[i].drive_is_safe)
			return i;
	return -1;
}

bool hs_step_reaches_in(const hs_step *step)
{
	bool hands = step->kind == HS_STEP_DO || step->kind == HS_STEP_REPLACE || step->kind == HS_STEP_ADJUST;
	return hands && !step->outside;
}

hs_need hs_step_need(const hs_playbook *playbook, const hs_step *step)
{
	const hs_bench_unit *unit = &playbook->unit;
	if (reads_dead(step))
		return HS_NEED_DEAD;
	bool hands = step->kind == HS_STEP_DO || step->kind == HS_STEP_REPLACE;
	bool reaches_in = hands || (step->kind == HS_STEP_ADJUST && !step->outside);
	if (reaches_in && (hs_zone_is_hazardous(unit, step->zone) || changes_need_dead(unit, step)))
		return HS_NEED_DEAD;
	/* A zone that any other step names is where somebody goes, too. */
	if (step->zone_given && !step->outside && step->reading_count == 0 && hs_zone_is_hazardous(unit, step->zone))
		return HS_NEED_DEAD;
	/* Hands that work anywhere near a hazardous zone laid bare can slip into it. */
	if (hs_step_reaches_in(step) && hs_step_bares(unit, step))
		return HS_NEED_DEAD;
	if (!hands || step->power_given)
		return step->power;
	return step->zone >= 0 ? HS_NEED_OFF : HS_NEED_ANY;
}

static unsigned change_zones(const hs_bench_unit *unit, const hs_step *step)
{
	unsigned zones = 0;
	for (int i = 0; i < unit->openable_count; i++)
		if ((step->makes | step->undoes) >> i & 1 && unit->openables[i].kind != HS_OPEN_COVER &&
		    unit->openables[i].zone >= 0)
			zones |= 1u << unit->openables[i].zone;
	return zones;
}

unsigned hs_step_zones(const hs_playbook *playbook, const hs_step *step)
{
	const hs_bench_unit *unit = &playbook->unit;
	unsigned zones = step->zone >= 0 ? 1u << step->zone : 0;
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		int zone = reading->point >= 0 ? unit->points[reading->point].zone : -1;
		if (zone >= 0)
			zones |= 1u << zone;
		else if (step->zone < 0 && needs_proof(reading))
			zones |= hs_supply_zones(unit);
	}
	return hs_zones_meant(unit, zones | change_zones(unit, step) | hs_step_bares(unit, step));
}

/* A hazardous zone that names no guard is behind every cover. */
static bool guards_hazard(const hs_bench_unit *unit, int openable)
{
	for (int zone = 0; zone < unit->zone_count; zone++) {
		int guard = unit->zones[zone].guard;
		if ((guard == openable || guard < 0) && hs_zone_is_hazardous(unit, zone))
			return true;
	}
	return false;
}

/* A cover that comes off after the named guard of a hazardous zone is reached by hands inside that zone. */
static bool behind_guard(const hs_bench_unit *unit, int openable)
{
	int at = unit->openables[openable].after;
	for (int steps = 0; at >= 0 && at < unit->openable_count && steps < unit->openable_count; steps++) {
		for (int zone = 0; zone < unit->zone_count; zone++)
			if (unit->zones[zone].guard == at && hs_zone_is_hazardous(unit, zone))
				return true;
		at = unit->openables[at].after;
	}
	return false;
}

static hs_power declared_need(const hs_openable *openable)
{
	if (!openable->needs_given)
		return HS_POWER_OFF;
	switch (openable->needs) {
	case HS_NEED_DEAD:
		return HS_POWER_DEAD;
	case HS_NEED_STANDBY:
		return HS_POWER_STANDBY;
	case HS_NEED_ON:
		return HS_POWER_ON;
	case HS_NEED_ANY:
		/* Nothing is made or broken while it may be keyed; a cover may be. */
		return openable->kind == HS_OPEN_COVER ? HS_POWER_UNKNOWN : HS_POWER_OFF;
	case HS_NEED_OFF:
	case HS_NEED_KEYED:
	case HS_NEED_COUNT:
		break;
	}
	return HS_POWER_OFF;
}

hs_power hs_openable_needs(const hs_bench_unit *unit, int openable)
{
	const hs_openable *it = &unit->openables[openable];
	hs_power declared = declared_need(it);
	bool cover = it->kind == HS_OPEN_COVER;
	if (cover ? behind_guard(unit, openable) : hs_zone_is_hazardous(unit, it->zone))
		return HS_POWER_DEAD;
	if (cover && guards_hazard(unit, openable) && declared < HS_POWER_WAITED)
		return HS_POWER_WAITED;
	return declared;
}
