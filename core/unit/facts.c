#include "facts.h"

#include <math.h>

bool hs_physical_has(const hs_physical *physical, hs_gate_fact fact)
{
	return physical->facts >> fact & 1;
}

static uint32_t sources_of(const hs_bench_unit *unit, bool stores)
{
	uint32_t mask = 0;
	for (int i = 0; i < unit->source_count; i++) {
		hs_energy_kind kind = unit->sources[i].kind;
		if (stores ? kind == HS_SOURCE_STORE : kind == HS_SOURCE_MAINS || kind == HS_SOURCE_DC)
			mask |= 1u << i;
	}
	return mask;
}

uint32_t hs_supplies(const hs_bench_unit *unit)
{
	return sources_of(unit, false);
}

uint32_t hs_stores(const hs_bench_unit *unit)
{
	return sources_of(unit, true);
}

bool hs_power_is_cut(const hs_bench_unit *unit, const hs_physical *physical)
{
	uint32_t supplies = hs_supplies(unit);
	return physical->plug_later || (supplies && !(supplies & ~physical->out));
}

unsigned hs_supply_zones(const hs_bench_unit *unit)
{
	uint32_t supplies = hs_supplies(unit);
	unsigned zones = 0;
	for (int i = 0; i < unit->source_count; i++)
		if (supplies >> i & 1 && unit->sources[i].zone >= 0)
			zones |= 1u << unit->sources[i].zone;
	return zones ? zones : 1u;
}

unsigned hs_zones_meant(const hs_bench_unit *unit, unsigned zones)
{
	int count = unit->zone_count > 0 ? unit->zone_count : 1;
	zones &= (1u << count) - 1u;
	return zones ? zones : hs_supply_zones(unit);
}

static bool guard_is_on(const hs_bench_unit *unit, const hs_physical *physical, int zone)
{
	int guard = zone >= 0 && zone < unit->zone_count ? unit->zones[zone].guard : -1;
	return guard >= 0 && !(physical->open >> guard & 1);
}

bool hs_store_in_reach(const hs_bench_unit *unit, const hs_physical *physical, int store, unsigned zones)
{
	int zone = unit->sources[store].zone;
	return !guard_is_on(unit, physical, zone) || physical->shorted >> store & 1 || zones >> zone & 1;
}

bool hs_cover_encloses(const hs_bench_unit *unit, int cover, int zone)
{
	if (unit->openables[cover].kind != HS_OPEN_COVER)
		return false;
	int at = zone >= 0 && zone < unit->zone_count ? unit->zones[zone].guard : -1;
	if (at < 0)
		return true;
	for (int steps = 0; at >= 0 && at < unit->openable_count && steps < unit->openable_count; steps++) {
		if (at == cover)
			return true;
		at = unit->openables[at].after;
	}
	return false;
}

/* Nothing stands between hands and this zone: every cover that encloses it is off; without a guard, any cover. */
static bool is_open_to_hands(const hs_bench_unit *unit, const hs_physical *physical, int zone)
{
	bool any_off = false, all_off = true;
	for (int i = 0; i < unit->openable_count; i++) {
		if (!hs_cover_encloses(unit, i, zone))
			continue;
		bool off = physical->open >> i & 1;
		any_off = any_off || off;
		all_off = all_off && off;
	}
	return unit->zones[zone].guard >= 0 ? all_off : any_off;
}

unsigned hs_zones_exposed(const hs_bench_unit *unit, const hs_physical *physical)
{
	unsigned zones = 0;
	for (int zone = 0; zone < unit->zone_count; zone++)
		if (hs_zone_is_hazardous(unit, zone) && is_open_to_hands(unit, physical, zone))
			zones |= 1u << zone;
	return zones;
}

uint32_t hs_sources_to_prove(const hs_bench_unit *unit, const hs_physical *physical, unsigned zones)
{
	uint32_t sources = 0, supplies = hs_supplies(unit);
	unsigned found = 0;
	for (int i = 0; i < unit->source_count; i++) {
		int zone = unit->sources[i].zone;
		if (zone < 0 || !(zones >> zone & 1) || !(supplies >> i & 1 || hs_store_in_reach(unit, physical, i, 0)))
			continue;
		sources |= 1u << i;
		found |= 1u << zone;
	}
	return found == zones ? sources : sources | supplies;
}

int hs_pair_count(hs_energy_kind kind)
{
	return kind == HS_SOURCE_MAINS || kind == HS_SOURCE_STORE ? 3 : 1;
}

const char *hs_pair_name(hs_energy_kind kind, int pair)
{
	static const char *const mains[3] = {"L-N", "L-PE", "N-PE"};
	static const char *const store[3] = {"across", "plus-chassis", "minus-chassis"};
	if (pair < 0 || pair >= hs_pair_count(kind))
		return "";
	switch (kind) {
	case HS_SOURCE_MAINS:
		return mains[pair];
	case HS_SOURCE_STORE:
		return store[pair];
	case HS_SOURCE_RAIL:
		return "chassis";
	case HS_SOURCE_DC:
		break;
	}
	return "poles";
}

static uint32_t pair_mask(const hs_physical *physical, int pair)
{
	return pair == 0 ? physical->pairs_0 : pair == 1 ? physical->pairs_1 : physical->pairs_2;
}

bool hs_pair_tested(const hs_physical *physical, int source, int pair)
{
	return pair_mask(physical, pair) >> source & 1;
}

void hs_pair_set(hs_physical *physical, int source, int pair, bool tested)
{
	uint32_t *mask = pair == 0 ? &physical->pairs_0 : pair == 1 ? &physical->pairs_1 : &physical->pairs_2;
	*mask = tested ? *mask | 1u << source : *mask & ~(1u << source);
}

bool hs_all_pairs_tested(const hs_bench_unit *unit, const hs_physical *physical, uint32_t sources)
{
	for (int i = 0; i < unit->source_count; i++)
		for (int pair = 0; sources >> i & 1 && pair < hs_pair_count(unit->sources[i].kind); pair++)
			if (!hs_pair_tested(physical, i, pair))
				return false;
	return true;
}

bool hs_must_wait(const hs_bench_unit *unit, int store)
{
	return hs_store_at_limits(&unit->sources[store]).wait_s > 0.0;
}

bool hs_must_discharge(const hs_bench_unit *unit, const hs_physical *physical, int store)
{
	return physical->charged >> store & 1 || hs_store_at_limits(&unit->sources[store]).discharge;
}

bool hs_keeps_short(const hs_bench_unit *unit, int store)
{
	return hs_store_at_limits(&unit->sources[store]).keep_shorted;
}

int64_t hs_wait_over_ms(const hs_bench_unit *unit, const hs_physical *physical, int store)
{
	const double longest_s = 1e9;
	double wait_s = ceil(hs_store_at_limits(&unit->sources[store]).wait_s);
	return physical->disconnected_ms + (int64_t)(wait_s < longest_s ? wait_s : longest_s) * 1000;
}

const char *hs_energy_title(const hs_energy_source *source)
{
	return source->title ? source->title : source->id;
}

int hs_load_emitter(const hs_bench_unit *unit, int emitter)
{
	if (unit->emitter_count == 1)
		return 0;
	return emitter < unit->emitter_count ? emitter : -1;
}

double hs_emitted_watts(const hs_bench_unit *unit, int emitter)
{
	if (emitter >= 0 && emitter < unit->emitter_count)
		return unit->emitters[emitter].watts;
	double most = 0.0;
	for (int i = 0; i < unit->emitter_count; i++)
		most = fmax(most, unit->emitters[i].watts);
	return most;
}

int64_t hs_cooled_ms(const hs_bench_unit *unit, const hs_physical *physical)
{
	const double longest_s = 1e9;
	double rest_s = 0.0;
	for (int i = 0; i < unit->emitter_count; i++)
		rest_s = fmax(rest_s, unit->emitters[i].cool_seconds);
	if (!physical->was_keyed || !(rest_s > 0.0))
		return 0;
	return physical->keyed_ms + (int64_t)ceil(rest_s < longest_s ? rest_s : longest_s) * 1000;
}

/* Three figures are what one says aloud; more would pretend to know better. */
static double three_figures(double value)
{
	if (!(fabs(value) > 0.0) || !isfinite(value))
		return 0.0;
	double scale = pow(10.0, 2.0 - floor(log10(fabs(value))));
	return isfinite(scale) && scale > 0.0 ? round(value * scale) / scale : value;
}

void hs_say_figure(hs_buf *out, double value, hs_unit in)
{
	const double long_s = 600.0;
	if (in == HS_SECOND && value >= long_s)
		hs_buf_printf(out, "%.0f min", ceil(value / 60.0));
	else
		hs_quantity_print(out, (hs_quantity){three_figures(value), in}, -1);
}
