/*
 * A bench full of accidents: random targets, random answers good and bad, gates taken out of turn, handovers, covers
 * opened. Beside it runs a second, plainer account of what was really confirmed; no state may ever claim more than that
 * account holds.
 */
#include <math.h>
#include "core/unit/facts.h"
#include "unit_bench.h"

enum { MOVES = 6000, SEEDS = 12 };

typedef struct account {
	bool passed[HS_FACT_COUNT];
	bool out[HS_ENERGY_SOURCES_MOST], waited[HS_ENERGY_SOURCES_MOST], discharged[HS_ENERGY_SOURCES_MOST];
	bool charged[HS_ENERGY_SOURCES_MOST], shorted[HS_ENERGY_SOURCES_MOST];
	int pair[HS_ENERGY_SOURCES_MOST][3]; /* 0 not tested, 1 tested, 2 and the tester shown to work again */
	uint64_t stays_open;
	int64_t disconnected_ms;
	int load; /* the emitter a load was fitted at with the power off, and nothing done since; -1 none in particular,
	             -2 no load */
	bool inside; /* something was opened since the tools were counted */
} account;

typedef struct walker {
	bench b;
	account real;
	hs_target target;
	uint32_t seed;
	int times_on, times_dead, times_failed, times_blocked, times_bared, times_loaded;
} walker;

static uint32_t dice(walker *w, uint32_t sides)
{
	w->seed = w->seed * 1664525u + 1013904223u;
	return (w->seed >> 8) % sides;
}

static void make_unit(walker *w)
{
	static const char *const names[] = {"S0", "S1", "S2", "S3", "S4"};
	static const char *const things[] = {"O0", "O1", "O2", "O3"};
	static hs_emitter emitter[2] = {{.id = "J1", .watts = 20, .key_seconds = 5},
	                                {.id = "J2", .watts = 5, .key_seconds = 5}};
	hs_bench_unit *unit = &w->b.unit;
	*unit = (hs_bench_unit){.declared = true, .has_standby = true};
	unit->zone_count = 1 + (int)dice(w, 3);
	for (int i = 0; i < unit->zone_count; i++)
		unit->zones[i] = (hs_zone){.id = names[i], .guard = (int)dice(w, 3) - 1};
	unit->source_count = 3 + (int)dice(w, 3);
	for (int i = 0; i < unit->source_count; i++) {
		int zone = (int)dice(w, (uint32_t)unit->zone_count);
		double volts[] = {12, 48, 230, 400, 1500};
		hs_energy_source source = store_source(names[i], volts[dice(w, 5)], dice(w, 2) ? 100e-6 : 2e-3,
		                                       dice(w, 3) ? 47e3 : 0, true, zone);
		source.kind = i == 0 ? HS_SOURCE_MAINS : (hs_energy_kind)(1 + dice(w, 3));
		if (i == 1)
			source.kind = HS_SOURCE_STORE;
		unit->sources[i] = source;
	}
	unit->openable_count = 4;
	for (int i = 0; i < 4; i++)
		unit->openables[i] = (hs_openable){.id = things[i],
		                                   .kind = i < 3 ? HS_OPEN_COVER : HS_OPEN_LINK,
		                                   .after = i == 0 || i == 3 ? -1 : (int)dice(w, (uint32_t)i),
		                                   .zone = (int)dice(w, (uint32_t)unit->zone_count)};
	unit->emitters = emitter;
	unit->emitter_count = (int)dice(w, 3);
}

static void account_void(account *real)
{
	account empty = {.load = -2};
	memcpy(empty.shorted, real->shorted, sizeof empty.shorted);
	memcpy(empty.charged, real->charged, sizeof empty.charged);
	empty.inside = real->inside;
	*real = empty;
}

/* Power came near again: nothing that rested on its absence holds. */
static void account_live(account *real)
{
	account kept = *real;
	account_void(real);
	memcpy(real->out, kept.out, sizeof kept.out);
	real->stays_open = kept.stays_open;
	real->passed[HS_FACT_PEOPLE] = kept.passed[HS_FACT_PEOPLE];
	real->load = kept.load;
}

static void account_pairs(account *real, const hs_bench_unit *unit, int kinds, int from, int to)
{
	for (int i = 0; i < unit->source_count; i++) {
		bool mains = unit->sources[i].kind == HS_SOURCE_MAINS;
		for (int pair = 0; pair < 3; pair++)
			if (real->pair[i][pair] == from && kinds & (mains ? 1 : 2))
				real->pair[i][pair] = to;
	}
}

static bool reaches(const walker *w, int source)
{
	int zone = w->b.unit.sources[source].zone, guard = w->b.unit.zones[zone].guard;
	return guard < 0 || w->b.physical.open >> guard & 1 || w->real.shorted[source];
}

/* A hand goes to this store: whatever it held is gone by then, and a tester that works has shown so. */
static void touches(const walker *w, int store)
{
	const hs_energy_source *source = &w->b.unit.sources[store];
	hs_store_figures at = hs_store_at_limits(source);
	const account *real = &w->real;
	assert_true(!(at.wait_s > 0) || real->waited[store]);
	assert_true(!(at.discharge || real->charged[store]) || real->discharged[store]);
	for (int pair = 0; pair < 3; pair++)
		assert_int_equal(real->pair[store][pair], 2);
}

static void account_pass(walker *w, const hs_gate *gate)
{
	account *real = &w->real;
	const hs_bench_unit *unit = &w->b.unit;
	int at = gate->subject;
	real->passed[gate->fact] = true;
	/* Whatever is done on the way down, or to a store, may have moved the load. */
	if (gate->fact <= HS_FACT_UNSHORT)
		real->load = -2;
	switch (gate->fact) {
	case HS_FACT_SWITCH_OFF:
		account_void(real);
		break;
	case HS_FACT_DISCONNECT:
		real->out[at] = true;
		real->disconnected_ms = w->b.now_ms;
		break;
	case HS_FACT_WAITED:
		assert_true((double)(w->b.now_ms - real->disconnected_ms) >=
		            ceil(hs_store_at_limits(&unit->sources[at]).wait_s) * 1000);
		real->waited[at] = true;
		break;
	case HS_FACT_HELD:
		assert_true(real->passed[HS_FACT_DISCHARGED]);
		real->discharged[at] = true;
		break;
	case HS_FACT_PAIR:
		assert_true(
		    real->passed[unit->sources[at].kind == HS_SOURCE_MAINS ? HS_FACT_KNOWN_AC : HS_FACT_KNOWN_DC]);
		/* Tested once more, a pair that was proved stays proved. */
		if (real->pair[at][gate->pair] != 2)
			real->pair[at][gate->pair] = 1;
		break;
	case HS_FACT_KNOWN_AC_AFTER:
		account_pairs(real, unit, 1, 1, 2);
		break;
	case HS_FACT_KNOWN_DC_AFTER:
		account_pairs(real, unit, 2, 1, 2);
		break;
	case HS_FACT_SHORT:
		touches(w, at);
		real->shorted[at] = true;
		break;
	case HS_FACT_UNSHORT:
		touches(w, at);
		real->shorted[at] = false;
		break;
	case HS_FACT_TOOLS:
		real->inside = false;
		break;
	case HS_FACT_LOAD:
		assert_true(w->b.physical.power >= HS_POWER_OFF);
		real->load = unit->emitter_count == 1 ? 0 : at;
		break;
	case HS_FACT_STAYS_OPEN:
		real->stays_open |= (uint64_t)1 << at;
		break;
	case HS_FACT_RECONNECT:
		real->out[at] = false;
		account_live(real);
		break;
	case HS_FACT_SWITCH_ON:
	case HS_FACT_STANDBY:
		account_live(real);
		break;
	default:
		break;
	}
}

static void account_fail(walker *w, const hs_gate *gate)
{
	account *real = &w->real;
	const hs_bench_unit *unit = &w->b.unit;
	w->times_failed++;
	if (gate->fact != HS_FACT_PAIR && gate->fact != HS_FACT_RECHECK) {
		account_pairs(real, unit, 3, 1, 0);
		return;
	}
	if (unit->sources[gate->subject].kind != HS_SOURCE_STORE) {
		account_void(real);
		return;
	}
	real->charged[gate->subject] = true;
	real->discharged[gate->subject] = false;
	real->load = -2;
	for (int pair = 0; pair < 3; pair++)
		real->pair[gate->subject][pair] = 0;
}

/* What must have been confirmed, by the plain account, before anybody may call these zones dead. */
static void really_dead(const walker *w, unsigned zones)
{
	const hs_bench_unit *unit = &w->b.unit;
	const account *real = &w->real;
	assert_true(real->passed[HS_FACT_OTHER] && real->passed[HS_FACT_SECURED] && real->passed[HS_FACT_SECURED_BY]);
	for (int i = 0; i < unit->source_count; i++) {
		const hs_energy_source *source = &unit->sources[i];
		bool supply = source->kind == HS_SOURCE_MAINS || source->kind == HS_SOURCE_DC;
		assert_true(!supply || real->out[i]);
		bool store = source->kind == HS_SOURCE_STORE, here = zones >> source->zone & 1;
		/* In reach, a store of any zone has waited, and one of this zone is as dead as it can be shown to be.
		 */
		if (store && reaches(w, i))
			assert_true(!(hs_store_at_limits(source).wait_s > 0) || real->waited[i]);
		if (store && here && reaches(w, i))
			touches(w, i);
		if (!here || store || !(supply || reaches(w, i)))
			continue;
		int pairs = source->kind == HS_SOURCE_MAINS ? 3 : 1;
		for (int pair = 0; pair < pairs; pair++)
			assert_int_equal(real->pair[i][pair], 2);
	}
}

static void really_shorted(const walker *w, unsigned zones)
{
	const hs_bench_unit *unit = &w->b.unit;
	for (int i = 0; i < unit->source_count; i++)
		if (unit->sources[i].kind == HS_SOURCE_STORE && zones >> unit->sources[i].zone & 1 && reaches(w, i) &&
		    hs_store_at_limits(&unit->sources[i]).keep_shorted)
			assert_true(w->real.shorted[i]);
}

static void never(walker *w, hs_power before)
{
	const hs_physical *p = &w->b.physical;
	bool powered = p->power == HS_POWER_ON || p->power == HS_POWER_STANDBY;
	if (p->zones_dead) {
		assert_true(p->power >= HS_POWER_WAITED);
		really_dead(w, p->zones_dead);
	}
	if (p->power == HS_POWER_SHORTED)
		really_shorted(w, p->zones_dead);
	assert_true(p->power != HS_POWER_DEAD || p->zones_dead);
	if (!powered)
		return;
	assert_int_equal(p->open & ~w->real.stays_open, 0);
	assert_int_equal(p->shorted | p->out, 0);
	if (before >= HS_POWER_OFF) {
		assert_true(!w->real.inside && w->real.passed[HS_FACT_PEOPLE]);
		w->times_on++;
	}
}

static void take_one(walker *w, hs_gate gate, const char *text)
{
	hs_power before = w->b.physical.power;
	hs_physical untouched = w->b.physical;
	hs_gate_result result = take(&w->b, gate, text);
	if (result == HS_GATE_PASSED)
		account_pass(w, &gate);
	else if (result == HS_GATE_FAILED)
		account_fail(w, &gate);
	else
		assert_memory_equal(&untouched, &w->b.physical, sizeof untouched);
	never(w, before);
}

static void choose_target(walker *w)
{
	static const hs_power states[] = {HS_POWER_DEAD,   HS_POWER_SHORTED, HS_POWER_ON,
	                                  HS_POWER_ON,     HS_POWER_KEYED,   HS_POWER_OFF,
	                                  HS_POWER_WAITED, HS_POWER_SECURED, HS_POWER_STANDBY};
	w->target = (hs_target){.state = states[dice(w, 9)],
	                        .zones = dice(w, 8),
	                        .may_be_open = dice(w, 16),
	                        .unshort = dice(w, 4) ? 0 : dice(w, 32),
	                        .emitter = (int)dice(w, (uint32_t)w->b.unit.emitter_count + 1) - 1,
	                        .step = (int)dice(w, 5)};
	w->b.step = w->target.step;
}

/* By the plain account, what a hand at this openable may meet: nothing charged behind the guard it lifts, nothing live
 * beside it. */
static void may_be_moved(const walker *w, int openable, bool close)
{
	const hs_bench_unit *unit = &w->b.unit;
	const hs_openable *it = &unit->openables[openable];
	for (int i = 0; i < unit->source_count; i++) {
		const hs_energy_source *source = &unit->sources[i];
		int zone = source->zone, guard = unit->zones[zone].guard;
		bool hazardous = hs_zone_is_hazardous(unit, zone), store = source->kind == HS_SOURCE_STORE;
		bool waits = store && hs_store_at_limits(source).wait_s > 0;
		bool lifted = it->kind == HS_OPEN_COVER && guard == openable;
		if (hazardous && lifted && waits)
			assert_true(w->real.waited[i]);
		bool inside = it->kind != HS_OPEN_COVER && it->zone == zone;
		bool through = !lifted && it->after >= 0 && it->after == guard && w->b.physical.open >> guard & 1;
		if (!hazardous || !(inside || through))
			continue;
		assert_true(w->b.physical.zones_dead >> zone & 1);
		if (store && reaches(w, i) && hs_store_at_limits(source).keep_shorted)
			assert_true(w->real.shorted[i] || (close && it->kind == HS_OPEN_COVER));
	}
}

/* A guard goes off: its zone was proved through the terminals outside, its stores and rails are tested from here on. */
static void account_bared(walker *w, int openable)
{
	const hs_bench_unit *unit = &w->b.unit;
	for (int i = 0; i < unit->source_count; i++) {
		hs_energy_kind kind = unit->sources[i].kind;
		if (unit->zones[unit->sources[i].zone].guard != openable || kind == HS_SOURCE_MAINS ||
		    kind == HS_SOURCE_DC)
			continue;
		memset(w->real.pair[i], 0, sizeof w->real.pair[i]);
		w->times_bared++;
	}
}

/* Closing, like opening, only once its targets hold; else the first that does not becomes the target. */
static void handle(walker *w, int openable, bool close)
{
	hs_target targets[2];
	int count = hs_targets_to_move(&w->b.unit, &w->b.physical, openable, close, w->b.step, targets);
	for (int i = 0; i < count; i++) {
		hs_gate gate;
		int blocker = -1;
		if (!hs_way_next(&w->b.unit, &w->b.physical, &targets[i], w->b.now_ms, &gate, &blocker)) {
			w->target = targets[i];
			return;
		}
	}
	may_be_moved(w, openable, close);
	if (close)
		hs_physical_close(&w->b.unit, &w->b.physical, openable);
	else
		hs_physical_open(&w->b.unit, &w->b.physical, openable);
	if (!close) {
		account_bared(w, openable);
		w->real.inside = true;
	}
	w->real.stays_open &= ~((uint64_t)1 << openable);
	w->real.passed[HS_FACT_PEOPLE] = false;
	w->real.load = -2;
	never(w, w->b.physical.power);
}

static void satisfied(walker *w)
{
	const hs_physical *p = &w->b.physical;
	unsigned zones = w->target.zones & ((1u << w->b.unit.zone_count) - 1u);
	if (w->target.state >= HS_POWER_DEAD) {
		really_dead(w, zones);
		if (w->target.state == HS_POWER_SHORTED && !w->target.unshort)
			really_shorted(w, zones);
		assert_int_equal(zones & ~p->zones_dead, 0);
		w->times_dead++;
	}
	if (w->target.state == HS_POWER_KEYED) {
		assert_int_equal(w->real.load, w->b.unit.emitter_count == 1 ? 0 : w->target.emitter);
		w->times_loaded++;
	}
	if (w->target.state < HS_POWER_OFF) {
		assert_int_equal(p->power, w->target.state == HS_POWER_STANDBY ? HS_POWER_STANDBY : HS_POWER_ON);
		assert_int_equal(p->open & ~w->target.may_be_open, 0);
	} else {
		/* Behind fitted guards there may be nothing to short, and what has not waited there keeps the unit at secured. */
		hs_power least = w->target.state == HS_POWER_SHORTED ? HS_POWER_DEAD : w->target.state;
		bool waits = least == HS_POWER_WAITED && hs_stores_have_waited(&w->b.unit, p, false);
		assert_true(p->power >= (waits ? HS_POWER_SECURED : least));
	}
	choose_target(w);
}

static void on_the_way(walker *w)
{
	static const char *const junk[] = {"",   "yes",    "ok",  "230 V", "0",      "OL",  "< 1 V",
	                                   "T9", "1 kohm", "out", "on",    "-300 V", "none"};
	hs_gate gate = {.fact = HS_FACT_COUNT};
	int blocker = -1;
	if (hs_way_next(&w->b.unit, &w->b.physical, &w->target, w->b.now_ms, &gate, &blocker)) {
		satisfied(w);
		return;
	}
	if (gate.fact == HS_FACT_NONE) {
		assert_true(w->b.physical.open >> blocker & 1 && !(w->target.may_be_open >> blocker & 1));
		w->times_blocked++;
		handle(w, blocker, true);
		return;
	}
	if (gate.fact == HS_FACT_SWITCH_ON || gate.fact == HS_FACT_STANDBY)
		assert_int_equal(w->b.physical.open & ~w->target.may_be_open, 0);
	if (gate.earliest_ms > w->b.now_ms && dice(w, 3))
		w->b.now_ms = gate.earliest_ms;
	take_one(w, gate, dice(w, 8) ? good_answer(&w->b.unit, &gate) : junk[dice(w, 13)]);
}

static bool any_gate(walker *w, hs_gate *gate)
{
	*gate = (hs_gate){
	    .fact = (hs_gate_fact)dice(w, HS_FACT_DANGER), .subject = (int)dice(w, 7) - 1, .pair = (int)dice(w, 3)};
	hs_gate_words words;
	hs_gate_describe(&w->b.unit, gate, &words);
	bool real = words.text.length > 0;
	hs_buf_free(&words.text);
	hs_buf_free(&words.caution);
	return real;
}

static void move(walker *w)
{
	uint32_t what = dice(w, 100);
	hs_gate gate;
	if (what < 80) {
		on_the_way(w);
	} else if (what < 90) {
		if (any_gate(w, &gate))
			take_one(w, gate, good_answer(&w->b.unit, &gate));
	} else if (what < 94) {
		handle(w, (int)dice(w, 4), dice(w, 4) == 0);
	} else if (what < 97) {
		choose_target(w);
	} else if (what < 98 && dice(w, 4) == 0) {
		hs_physical_void(&w->b.physical);
		account_void(&w->real);
	}
	w->b.now_ms += (int64_t)dice(w, 40) * 250;
}

static void test_random_walks(void **state)
{
	(void)state;
	int bared = 0, loaded = 0;
	for (uint32_t seed = 1; seed <= SEEDS; seed++) {
		walker w = {.seed = seed * 7919u, .real.load = -2};
		set_up(&w.b);
		make_unit(&w);
		choose_target(&w);
		for (int i = 0; i < MOVES; i++)
			move(&w);
		/* A walk that never got anywhere would prove nothing. */
		assert_true(w.times_on > 10);
		assert_true(w.times_dead > 10);
		assert_true(w.times_failed > 10);
		assert_true(w.times_blocked > 10);
		bared += w.times_bared;
		loaded += w.times_loaded;
		tear_down(&w.b);
	}
	/* Some units have no guarded store, or nothing that emits. */
	assert_true(bared > 10 * SEEDS);
	assert_true(loaded > 10 * SEEDS);
}

/* Down, then up again with nothing named open: every cover goes back, and no short is asked for again on the way. */
static void to_shut(bench *b)
{
	walk(b, (hs_target){.state = HS_POWER_SHORTED, .zones = 7});
	for (int i = 0; i < 5; i++) {
		hs_gate gate = {.fact = HS_FACT_COUNT};
		int blocker = -1;
		walk_until(b, to_on, HS_FACT_COUNT);
		if (hs_way_next(&b->unit, &b->physical, &to_on, b->now_ms, &gate, &blocker))
			break;
		assert_int_equal(gate.fact, HS_FACT_NONE);
		uint32_t shorted = b->physical.shorted;
		move_by_hand(b, blocker, true);
		assert_int_equal(b->physical.shorted & ~shorted, 0);
	}
	assert_int_equal(b->physical.power, HS_POWER_ON);
	assert_int_equal(b->physical.open, 0);
}

/* From wherever a walk has ended, good answers and closed covers reach every target: no state is a trap. */
static void test_no_trap(void **state)
{
	(void)state;
	static const hs_power ends[] = {HS_POWER_SHORTED, HS_POWER_DEAD,    HS_POWER_ON,
	                                HS_POWER_KEYED,   HS_POWER_STANDBY, HS_POWER_OFF};
	for (uint32_t seed = 1; seed <= 40; seed++) {
		walker w = {.seed = seed * 104729u, .real.load = -2};
		set_up(&w.b);
		make_unit(&w);
		choose_target(&w);
		for (int i = 0; i < 200; i++)
			move(&w);
		for (size_t i = 0; i < sizeof ends / sizeof *ends; i++)
			walk(&w.b, (hs_target){.state = ends[i],
			                       .zones = 7,
			                       .may_be_open = 15,
			                       .emitter = w.b.unit.emitter_count - 1,
			                       .step = w.b.step});
		to_shut(&w.b);
		tear_down(&w.b);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_random_walks),
	    cmocka_unit_test(test_no_trap),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
