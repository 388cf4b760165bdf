/* A made-up amplifier for the safety tests: a mains zone behind its own guard, a low-voltage zone, a store that hurts
 * and one that bites. */
#ifndef UNIT_BENCH_H
#define UNIT_BENCH_H

#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/unit/way.h"

enum { TOP_COVER, PSU_GUARD, RF_SHIELD, LINK_1 };
enum { MAINS, BATTERY, C7, RAIL, C20 };
enum { ZONE_LOW, ZONE_PSU, ZONE_EHT };

static inline hs_energy_source mains_source(const char *id, double volts, int zone)
{
	return (hs_energy_source){.id = id, .kind = HS_SOURCE_MAINS, .volts = volts, .zone = zone};
}

static inline hs_energy_source store_source(const char *id, double volts, double farads, double bleed_ohm, bool line,
                                            int zone)
{
	return (hs_energy_source){.id = id,
	                          .kind = HS_SOURCE_STORE,
	                          .volts = volts,
	                          .farads = farads,
	                          .farads_over = 0.2,
	                          .bleed_ohm = bleed_ohm,
	                          .bleed_over = 0.1,
	                          .follows_line = line,
	                          .zone = zone};
}

/* Filled in place: it points into itself only through the static emitter. */
static inline void make_amplifier(hs_bench_unit *unit)
{
	static hs_emitter emitters[1] = {{.id = "J2", .watts = 50, .key_seconds = 5, .drive_is_safe = true}};
	*unit = (hs_bench_unit){
	    .declared = true, .has_standby = true, .zone_count = 3, .source_count = 5, .openable_count = 4};
	unit->zones[ZONE_LOW] = (hs_zone){.id = "inside", .guard = -1};
	unit->zones[ZONE_PSU] = (hs_zone){.id = "psu", .guard = PSU_GUARD};
	unit->zones[ZONE_EHT] = (hs_zone){.id = "eht", .guard = PSU_GUARD};
	unit->sources[MAINS] = mains_source("mains", 230, ZONE_PSU);
	unit->sources[BATTERY] =
	    (hs_energy_source){.id = "battery", .kind = HS_SOURCE_DC, .volts = 12, .zone = ZONE_LOW};
	unit->sources[C7] = store_source("C7", 400, 100e-6, 100e3, true, ZONE_PSU);
	unit->sources[RAIL] = (hs_energy_source){.id = "24V", .kind = HS_SOURCE_RAIL, .volts = 24, .zone = ZONE_LOW};
	unit->sources[C20] = store_source("C20", 2000, 1e-6, 0, true, ZONE_EHT);
	unit->openables[TOP_COVER] = (hs_openable){.id = "top-cover", .kind = HS_OPEN_COVER, .after = -1, .zone = -1};
	unit->openables[PSU_GUARD] =
	    (hs_openable){.id = "psu-guard", .kind = HS_OPEN_COVER, .after = TOP_COVER, .zone = -1};
	unit->openables[RF_SHIELD] =
	    (hs_openable){.id = "rf-shield", .kind = HS_OPEN_COVER, .after = TOP_COVER, .zone = -1};
	unit->openables[LINK_1] = (hs_openable){.id = "LK1", .kind = HS_OPEN_LINK, .after = -1, .zone = ZONE_PSU};
	unit->emitters = emitters;
	unit->emitter_count = 1;
}

static inline void same_row(size_t row, int got, int want)
{
	if (got != want)
		fail_msg("row %zu: got %d, wanted %d", row, got, want);
}

static inline const char *good_answer(const hs_bench_unit *unit, const hs_gate *gate)
{
	switch (gate->fact) {
	case HS_FACT_SECURED_BY:
		return "Ada Brook";
	case HS_FACT_TESTER:
		return "T1";
	case HS_FACT_LIVE_BY:
	case HS_FACT_LIVE_SECOND:
		return "Bo Linden";
	case HS_FACT_KNOWN_AC:
	case HS_FACT_KNOWN_AC_AFTER:
		return "231 V";
	case HS_FACT_KNOWN_DC:
	case HS_FACT_KNOWN_DC_AFTER:
		return "24.1";
	case HS_FACT_PAIR:
	case HS_FACT_RECHECK:
		return "0.3 V";
	case HS_FACT_DISCHARGED:
		return "1 kohm";
	case HS_FACT_LOAD:
		return "100 W";
	default: {
		hs_gate_words words;
		hs_gate_describe(unit, gate, &words);
		hs_buf_free(&words.text);
		hs_buf_free(&words.caution);
		return words.words[0];
	}
	}
}

/* A bench with a clock: answers well unless told otherwise. */
typedef struct bench {
	hs_bench_unit unit;
	hs_physical physical;
	int64_t now_ms;
	int step;
	hs_buf asked; /* ids of the gates passed, one a line */
	char why[600];
} bench;

static const hs_target to_dead = {.state = HS_POWER_DEAD, .zones = 1u << ZONE_PSU};
static const hs_target to_shorted = {.state = HS_POWER_SHORTED, .zones = 1u << ZONE_PSU};
static const hs_target to_on = {.state = HS_POWER_ON};

#define OPEN_TO_PSU (1u << TOP_COVER | 1u << PSU_GUARD)
static const hs_target to_on_open = {.state = HS_POWER_ON, .may_be_open = OPEN_TO_PSU};

static inline void set_up(bench *b)
{
	*b = (bench){.now_ms = 1000, .step = 1};
	make_amplifier(&b->unit);
	hs_physical_begin(&b->physical);
	hs_buf_init(&b->asked);
}

static inline void tear_down(bench *b)
{
	hs_buf_free(&b->asked);
}

static inline hs_gate next(bench *b, hs_target target)
{
	hs_gate gate = {.fact = HS_FACT_COUNT};
	int blocker = -1;
	if (hs_way_next(&b->unit, &b->physical, &target, b->now_ms, &gate, &blocker))
		assert_int_equal(gate.fact, HS_FACT_COUNT);
	else
		assert_int_not_equal(gate.fact, HS_FACT_COUNT);
	return gate;
}

static inline hs_gate_result take_at(bench *b, hs_gate gate, const char *text, int64_t now_ms)
{
	hs_buf why;
	hs_buf_init(&why);
	hs_gate_result result = hs_way_take(&b->unit, &b->physical, &gate, text, now_ms, "Ada Brook", b->step, &why);
	hs_copy(b->why, sizeof b->why, why.data);
	hs_buf_free(&why);
	return result;
}

static inline hs_gate_result take(bench *b, hs_gate gate, const char *text)
{
	return take_at(b, gate, text, b->now_ms);
}

static inline void pass(bench *b, hs_gate gate, const char *text)
{
	if (b->now_ms < gate.earliest_ms)
		b->now_ms = gate.earliest_ms;
	if (take(b, gate, text) != HS_GATE_PASSED)
		fail_msg("fact %d refused \"%s\": %s", (int)gate.fact, text, b->why);
	hs_gate_id(&b->unit, &gate, &b->asked);
	hs_buf_char(&b->asked, '\n');
	b->now_ms += 100;
}

/* Walks until the target holds, or until a gate of this kind is next. */
static inline hs_gate walk_until(bench *b, hs_target target, hs_gate_fact stop)
{
	for (int i = 0; i < 200; i++) {
		hs_gate gate = next(b, target);
		if (gate.fact == HS_FACT_COUNT || gate.fact == HS_FACT_NONE || gate.fact == stop)
			return gate;
		pass(b, gate, good_answer(&b->unit, &gate));
	}
	fail_msg("the way never ends");
	return (hs_gate){.fact = HS_FACT_NONE};
}

static inline void walk(bench *b, hs_target target)
{
	assert_int_equal(walk_until(b, target, HS_FACT_NONE).fact, HS_FACT_COUNT);
}

/* Opens or closes something the way the engine does. */
static inline void move_by_hand(bench *b, int openable, bool closing)
{
	hs_target targets[2];
	int count = hs_targets_to_move(&b->unit, &b->physical, openable, closing, b->step, targets);
	for (int i = 0; i < count; i++)
		walk(b, targets[i]);
	if (closing)
		hs_physical_close(&b->unit, &b->physical, openable);
	else
		hs_physical_open(&b->unit, &b->physical, openable);
}

/* What must be closed before the target can be reached. */
static inline int blocker_of(bench *b, hs_target target)
{
	hs_gate gate = {.fact = HS_FACT_COUNT};
	int blocker = -1;
	assert_false(hs_way_next(&b->unit, &b->physical, &target, b->now_ms, &gate, &blocker));
	assert_int_equal(gate.fact, HS_FACT_NONE);
	return blocker;
}

/* The supply stands open, found so and not by way of a gate: nothing is known of it. */
static inline void found_open(bench *b)
{
	hs_physical_open(&b->unit, &b->physical, TOP_COVER);
	hs_physical_open(&b->unit, &b->physical, PSU_GUARD);
}

static inline void asked_were(bench *b, const char *ids)
{
	assert_string_equal(b->asked.data, ids);
	hs_buf_clear(&b->asked);
}

static inline hs_gate gate_of(bench *b, const char *id)
{
	hs_gate gate = {.fact = HS_FACT_NONE};
	if (!hs_gate_find(&b->unit, id, &gate))
		fail_msg("no gate %s", id);
	return gate;
}

/* With the guard on, the mains terminals are all there is to test; with it off, C7 is tested with them. */
#define PROOF_OUTSIDE                                                                                                  \
	"gate/dead/tester\ngate/dead/known-ac-before\n"                                                                \
	"gate/dead/mains.L-N\ngate/dead/mains.L-PE\ngate/dead/mains.N-PE\ngate/dead/known-ac-after\n"
#define PROOF_OF_C7                                                                                                    \
	"gate/dead/known-dc-before\n"                                                                                  \
	"gate/dead/C7.across\ngate/dead/C7.plus-chassis\ngate/dead/C7.minus-chassis\ngate/dead/known-dc-after\n"
#define PROOF_OF_C20                                                                                                   \
	"gate/dead/known-dc-before\ngate/dead/C20.across\ngate/dead/C20.plus-chassis\n"                                \
	"gate/dead/C20.minus-chassis\ngate/dead/known-dc-after\n"
#define PROOF_OF_PSU "gate/dead/tester\n" PROOF_AGAIN
#define PROOF_AGAIN                                                                                                    \
	"gate/dead/known-ac-before\ngate/dead/known-dc-before\n"                                                       \
	"gate/dead/mains.L-N\ngate/dead/mains.L-PE\ngate/dead/mains.N-PE\n"                                            \
	"gate/dead/C7.across\ngate/dead/C7.plus-chassis\ngate/dead/C7.minus-chassis\n"                                 \
	"gate/dead/known-ac-after\ngate/dead/known-dc-after\n"
#define DOWN_TO_SECURED                                                                                                \
	"gate/disconnected/mains\ngate/disconnected/battery\ngate/disconnected/other\ngate/secured/plug\n"             \
	"gate/secured/by\n"
#define DOWN_TO_WAITED DOWN_TO_SECURED "gate/waited/C7\n"
#define FROM_UNKNOWN   "gate/off/unkeyed\ngate/off/switch\n"

#endif
