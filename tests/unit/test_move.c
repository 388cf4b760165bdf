/* Guards, the stores behind them, and shorts: what waits, what is tested, and in which order things come off and go on.
 */
#include "unit_bench.h"

/* To open the guard its stores wait; once it is off they are tested and shorted, whatever was proved before. */
static void test_order_past_a_guard(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	walk(&b, to_dead);
	hs_physical_open(&b.unit, &b.physical, TOP_COVER);
	hs_buf_clear(&b.asked);
	hs_gate gate = next(&b, (hs_target){.state = HS_POWER_WAITED, .zones = 1u << ZONE_PSU});
	assert_int_equal(gate.fact, HS_FACT_WAITED);
	assert_int_equal(gate.earliest_ms, b.physical.disconnected_ms + 29000);
	move_by_hand(&b, PSU_GUARD, false);
	asked_were(&b, "gate/waited/C7\n");
	assert_int_equal(b.physical.power, HS_POWER_WAITED);
	assert_int_equal(b.physical.zones_dead, 0);
	walk(&b, to_dead);
	asked_were(&b, PROOF_OF_C7);
	assert_int_equal(b.physical.power, HS_POWER_DEAD);
	walk(&b, to_shorted);
	asked_were(&b, "gate/shorted/C7\n");
	assert_int_equal(b.physical.power, HS_POWER_SHORTED);
	walk(&b, (hs_target){.state = HS_POWER_SHORTED, .zones = 1u << ZONE_EHT});
	asked_were(&b, "gate/discharged/C20\ngate/discharged/C20.held\n" PROOF_OF_C20 "gate/shorted/C20\n");
	tear_down(&b);
}

/* The state may already say waited, because nothing in reach had to: the guard still stays on until its own store has.
 */
static void test_wait_behind_a_guard(void **state)
{
	(void)state;
	static const struct {
		int openable;
		bool given;
		hs_need needs;
		int after;
	} rows[] = {
	    {PSU_GUARD, false, HS_NEED_ANY, TOP_COVER},
	    {PSU_GUARD, true, HS_NEED_DEAD, TOP_COVER},
	    {PSU_GUARD, true, HS_NEED_OFF, RF_SHIELD},
	    {PSU_GUARD, true, HS_NEED_ON, -1},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		set_up(&b);
		b.unit.openables[PSU_GUARD].needs_given = rows[i].given;
		b.unit.openables[PSU_GUARD].needs = rows[i].needs;
		b.unit.openables[PSU_GUARD].after = rows[i].after;
		walk(&b, (hs_target){.state = HS_POWER_WAITED});
		/* Nothing in reach had to wait; the unit is not called waited while C7 has not. */
		same_row(i, (int)b.physical.power, HS_POWER_SECURED);
		same_row(i, (int)b.physical.waited, 0);
		hs_target targets[2];
		hs_targets_to_move(&b.unit, &b.physical, rows[i].openable, false, 1, targets);
		same_row(i, next(&b, targets[0]).fact, HS_FACT_WAITED);
		move_by_hand(&b, rows[i].openable, false);
		same_row(i, (int)b.physical.waited, 1 << C7);
		same_row(i, b.physical.power >= HS_POWER_WAITED, true);
		tear_down(&b);
	}
}

/* A guard that comes off at once, without a gate, leaves a state that claims nothing. */
static void test_guard_off_too_early(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	walk(&b, to_dead);
	found_open(&b);
	assert_int_equal(b.physical.power, HS_POWER_SECURED);
	assert_int_equal(b.physical.zones_dead, 0);
	assert_int_equal(next(&b, to_dead).fact, HS_FACT_WAITED);
	tear_down(&b);
}

/* A guard that went on and comes off again: what crept back up meanwhile is found. */
static void test_guard_on_and_off(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	move_by_hand(&b, TOP_COVER, false);
	move_by_hand(&b, PSU_GUARD, false);
	walk(&b, to_dead);
	move_by_hand(&b, PSU_GUARD, true);
	assert_int_equal(b.physical.zones_dead, 1u << ZONE_PSU);
	hs_buf_clear(&b.asked);
	move_by_hand(&b, PSU_GUARD, false);
	asked_were(&b, "");
	walk(&b, to_dead);
	asked_were(&b, PROOF_OF_C7);
	tear_down(&b);
}

/* A short stays in while hands put things back beside its store, and comes out just before the cover over it goes on.
 */
static void test_short_and_covers(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	move_by_hand(&b, RF_SHIELD, false);
	hs_physical_open(&b.unit, &b.physical, LINK_1);
	assert_int_equal(b.physical.shorted, 1u << C7 | 1u << C20);
	hs_buf_clear(&b.asked);
	static const int inner[] = {LINK_1, RF_SHIELD};
	for (size_t i = 0; i < 2; i++) {
		same_row(i, blocker_of(&b, to_on), inner[i]);
		move_by_hand(&b, inner[i], true);
		asked_were(&b, "");
	}
	for (int store = C7; store <= C20; store += C20 - C7) {
		hs_gate gate = next(&b, to_on);
		assert_int_equal(gate.fact, HS_FACT_UNSHORT);
		assert_int_equal(gate.subject, store);
		pass(&b, gate, "removed");
	}
	/* Out it stays: closing asks for no short under the cover that goes on. */
	hs_buf_clear(&b.asked);
	assert_int_equal(blocker_of(&b, to_on), PSU_GUARD);
	move_by_hand(&b, PSU_GUARD, true);
	assert_int_equal(blocker_of(&b, to_on), TOP_COVER);
	move_by_hand(&b, TOP_COVER, true);
	asked_were(&b, "");
	walk(&b, to_on);
	asked_were(
	    &b,
	    "gate/energise/tools\ngate/energise/people\ngate/energise/mains\ngate/energise/battery\ngate/on/switch\n");
	tear_down(&b);
}

/* A short shut in by mistake is still a hand's business: its store waits and is tested before anybody goes for it. */
static void test_short_shut_in(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	hs_physical_close(&b.unit, &b.physical, PSU_GUARD);
	hs_physical_close(&b.unit, &b.physical, TOP_COVER);
	hs_physical_void(&b.physical);
	hs_buf_clear(&b.asked);
	walk(&b, to_on);
	asked_were(&b, FROM_UNKNOWN DOWN_TO_WAITED PROOF_OF_PSU
	           "gate/energise/C7.short\ngate/energise/tools\ngate/energise/people\ngate/energise/mains\n"
	           "gate/energise/battery\ngate/on/switch\n");
	tear_down(&b);
}

/* For a reading across its store a short comes out, is fitted again after it, and what crept up meanwhile is found
 * first. */
static void test_unshort_for_a_reading(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	hs_buf_clear(&b.asked);
	hs_target reading = to_shorted;
	reading.unshort = 1u << C7;
	walk(&b, reading);
	walk(&b, to_shorted);
	asked_were(&b, "gate/energise/C7.short\ngate/shorted/C7\n");
	b.now_ms = b.physical.proved_ms + HS_RECHECK_MS;
	walk(&b, to_shorted);
	asked_were(&b, "gate/dead/C7.recheck\n");
	walk(&b, reading);
	asked_were(&b, "gate/energise/C7.short\ngate/dead/C7.recheck\n");
	pass(&b, next(&b, to_shorted), "fitted");
	assert_int_equal(next(&b, to_shorted).fact, HS_FACT_COUNT);
	tear_down(&b);
}

/* ---- what must hold before something is opened or put back ---- */

typedef struct move_row {
	uint64_t open;
	int openable;
	bool closing;
	int count;
	hs_power first;
	unsigned first_zones;
	hs_power second;
	unsigned second_zones;
} move_row;

#define BOTH_BEHIND (1u << ZONE_PSU | 1u << ZONE_EHT)

static void run_moves(const hs_bench_unit *unit, const move_row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		hs_physical physical;
		hs_target targets[2];
		hs_physical_begin(&physical);
		physical.open = rows[i].open;
		same_row(i, hs_targets_to_move(unit, &physical, rows[i].openable, rows[i].closing, 4, targets),
		         rows[i].count);
		same_row(i, (int)targets[0].state, (int)rows[i].first);
		same_row(i, (int)targets[0].zones, (int)rows[i].first_zones);
		same_row(i, targets[0].step, 4);
		if (rows[i].count < 2)
			continue;
		same_row(i, (int)targets[1].state, (int)rows[i].second);
		same_row(i, (int)targets[1].zones, (int)rows[i].second_zones);
	}
}

static void test_targets_to_move(void **state)
{
	(void)state;
	hs_bench_unit unit;
	make_amplifier(&unit);
	static const move_row rows[] = {
	    {0, TOP_COVER, false, 1, HS_POWER_OFF, 0, 0, 0},
	    {1u << TOP_COVER, TOP_COVER, true, 1, HS_POWER_OFF, 0, 0, 0},
	    {1u << TOP_COVER, PSU_GUARD, false, 1, HS_POWER_WAITED, BOTH_BEHIND, 0, 0},
	    {OPEN_TO_PSU, PSU_GUARD, true, 1, HS_POWER_WAITED, BOTH_BEHIND, 0, 0},
	    {1u << TOP_COVER, RF_SHIELD, false, 1, HS_POWER_OFF, 0, 0, 0},
	    /* Beside the open supply: it is dead and shorted before hands pass it, to open as to close. */
	    {OPEN_TO_PSU, RF_SHIELD, false, 2, HS_POWER_WAITED, 0, HS_POWER_SHORTED, BOTH_BEHIND},
	    {OPEN_TO_PSU | 1u << RF_SHIELD, RF_SHIELD, true, 2, HS_POWER_WAITED, 0, HS_POWER_SHORTED, BOTH_BEHIND},
	    /* The cover over the open supply goes on from outside, after the wait. */
	    {OPEN_TO_PSU, TOP_COVER, true, 1, HS_POWER_WAITED, 0, 0, 0},
	    /* The guard is off, but the cover before it is on: nobody passes. */
	    {1u << PSU_GUARD, RF_SHIELD, false, 1, HS_POWER_OFF, 0, 0, 0},
	    {OPEN_TO_PSU, LINK_1, false, 2, HS_POWER_WAITED, 0, HS_POWER_SHORTED, BOTH_BEHIND},
	    {OPEN_TO_PSU | 1u << LINK_1, LINK_1, true, 2, HS_POWER_WAITED, 0, HS_POWER_SHORTED, BOTH_BEHIND},
	};
	run_moves(&unit, rows, sizeof rows / sizeof *rows);
}

/* A guard within a guarded zone: through the outer zone hands pass, the inner one waits. */
static void test_targets_nested(void **state)
{
	(void)state;
	hs_bench_unit unit;
	make_amplifier(&unit);
	unit.zones[ZONE_EHT].guard = RF_SHIELD;
	unit.openables[RF_SHIELD].after = PSU_GUARD;
	unit.openables[LINK_1] = (hs_openable){.id = "J9", .kind = HS_OPEN_JOINT, .after = -1, .zone = -1};
	static const uint64_t all = OPEN_TO_PSU | 1u << RF_SHIELD;
	static const move_row rows[] = {
	    {OPEN_TO_PSU, RF_SHIELD, false, 2, HS_POWER_WAITED, 1u << ZONE_EHT, HS_POWER_SHORTED, BOTH_BEHIND},
	    /* Putting it back asks for the outer zone only: the short under it is out by then. */
	    {all, RF_SHIELD, true, 2, HS_POWER_WAITED, 1u << ZONE_EHT, HS_POWER_SHORTED, 1u << ZONE_PSU},
	    {all, PSU_GUARD, true, 1, HS_POWER_WAITED, 1u << ZONE_PSU, 0, 0},
	    /* A joint outside is parted outside, whatever stands open. */
	    {all, LINK_1, false, 1, HS_POWER_OFF, 0, 0, 0},
	};
	run_moves(&unit, rows, sizeof rows / sizeof *rows);
	/* A cover that is declared to come off dead goes on over what was shorted, and asks for no short. */
	unit.openables[TOP_COVER].needs_given = true;
	unit.openables[TOP_COVER].needs = HS_NEED_DEAD;
	unit.zones[ZONE_PSU].guard = unit.zones[ZONE_EHT].guard = -1;
	static const move_row declared[] = {
	    {0, TOP_COVER, false, 2, HS_POWER_WAITED, 0, HS_POWER_SHORTED, 0},
	    {1u << TOP_COVER, TOP_COVER, true, 2, HS_POWER_WAITED, 0, HS_POWER_DEAD, 0},
	};
	run_moves(&unit, declared, sizeof declared / sizeof *declared);
}

static void test_exposed(void **state)
{
	(void)state;
	static const struct {
		int guard;
		uint64_t open;
		unsigned zones;
	} rows[] = {
	    {PSU_GUARD, 0, 0},
	    {PSU_GUARD, 1u << TOP_COVER, 0},
	    {PSU_GUARD, 1u << PSU_GUARD, 0},
	    {PSU_GUARD, OPEN_TO_PSU, BOTH_BEHIND},
	    {-1, 0, 0},
	    {-1, 1u << RF_SHIELD, BOTH_BEHIND},
	    {-1, 1u << LINK_1, 0},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		set_up(&b);
		b.unit.zones[ZONE_PSU].guard = b.unit.zones[ZONE_EHT].guard = rows[i].guard;
		b.physical.open = rows[i].open;
		same_row(i, (int)hs_zones_exposed(&b.unit, &b.physical), (int)rows[i].zones);
		tear_down(&b);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_order_past_a_guard),    cmocka_unit_test(test_wait_behind_a_guard),
	    cmocka_unit_test(test_guard_off_too_early),   cmocka_unit_test(test_guard_on_and_off),
	    cmocka_unit_test(test_short_and_covers),      cmocka_unit_test(test_short_shut_in),
	    cmocka_unit_test(test_unshort_for_a_reading), cmocka_unit_test(test_targets_to_move),
	    cmocka_unit_test(test_targets_nested),        cmocka_unit_test(test_exposed),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
