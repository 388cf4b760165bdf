/* The safe way: what is asked in which order, down to proved dead and back to keyed. */
#include "unit_bench.h"

static void test_order_to_dead(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	/* Behind its fitted guard C7 concerns nobody: the mains terminals are tested, and nothing is shorted. */
	walk(&b, to_dead);
	asked_were(&b, FROM_UNKNOWN DOWN_TO_SECURED PROOF_OUTSIDE);
	assert_int_equal(b.physical.power, HS_POWER_DEAD);
	assert_int_equal(b.physical.zones_dead, 1u << ZONE_PSU);
	walk(&b, to_shorted);
	asked_were(&b, "");
	/* Safer states satisfy everything before them. */
	static const hs_power before[] = {HS_POWER_UNKNOWN, HS_POWER_OFF, HS_POWER_DISCONNECTED, HS_POWER_SECURED,
	                                  HS_POWER_WAITED};
	for (size_t i = 0; i < sizeof before / sizeof *before; i++)
		same_row(i, next(&b, (hs_target){.state = before[i]}).fact, HS_FACT_COUNT);
	tear_down(&b);
}

static void test_states_on_the_way(void **state)
{
	(void)state;
	static const struct {
		hs_power target;
		hs_gate_fact last;
	} rows[] = {
	    {HS_POWER_OFF, HS_FACT_SWITCH_OFF},      {HS_POWER_DISCONNECTED, HS_FACT_OTHER},
	    {HS_POWER_SECURED, HS_FACT_SECURED_BY},  {HS_POWER_WAITED, HS_FACT_WAITED},
	    {HS_POWER_DEAD, HS_FACT_KNOWN_DC_AFTER}, {HS_POWER_SHORTED, HS_FACT_SHORT},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		set_up(&b);
		found_open(&b);
		hs_target target = {.state = rows[i].target, .zones = 1u << ZONE_PSU};
		hs_gate last = walk_until(&b, target, rows[i].last);
		same_row(i, last.fact, rows[i].last);
		assert_true(b.physical.power < rows[i].target);
		pass(&b, last, good_answer(&b.unit, &last));
		same_row(i, (int)b.physical.power, (int)rows[i].target);
		same_row(i, next(&b, target).fact, HS_FACT_COUNT);
		tear_down(&b);
	}
}

static void test_second_zone(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	asked_were(&b, FROM_UNKNOWN DOWN_TO_WAITED PROOF_OF_PSU "gate/shorted/C7\n");
	hs_target both = {.state = HS_POWER_DEAD, .zones = 1u << ZONE_PSU | 1u << ZONE_LOW};
	walk(&b, both);
	asked_were(
	    &b,
	    "gate/dead/known-dc-before\ngate/dead/battery.poles\ngate/dead/24V.chassis\ngate/dead/known-dc-after\n");
	/* The store of another zone is in reach, but not discharged before somebody goes there. */
	hs_target eht = {.state = HS_POWER_SHORTED, .zones = 1u << ZONE_EHT};
	assert_false(b.physical.zones_dead & eht.zones);
	walk(&b, eht);
	asked_were(&b, "gate/discharged/C20\ngate/discharged/C20.held\n" PROOF_OF_C20 "gate/shorted/C20\n");
	assert_int_equal(b.physical.zones_dead, 7u);
	tear_down(&b);
}

static void test_zone_without_sources(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	b.unit.zones[3] = (hs_zone){.id = "empty", .guard = -1};
	b.unit.zone_count = 4;
	hs_target empty = {.state = HS_POWER_DEAD, .zones = 1u << 3};
	walk_until(&b, empty, HS_FACT_TESTER);
	hs_buf_clear(&b.asked);
	walk(&b, empty);
	asked_were(&b, "gate/dead/tester\ngate/dead/known-ac-before\ngate/dead/known-dc-before\ngate/dead/mains.L-N\n"
	               "gate/dead/mains.L-PE\ngate/dead/mains.N-PE\ngate/dead/battery.poles\ngate/dead/known-ac-after\n"
	               "gate/dead/known-dc-after\n");
	/* The same terminals prove what lies behind fitted guards; in the low zone the rail is in reach, and untested.
	 */
	assert_int_equal(b.physical.zones_dead, 1u << 3 | 1u << ZONE_PSU | 1u << ZONE_EHT);
	/* Beside a zone that declares sources of its own, it still borrows the supplies. */
	hs_physical_void(&b.physical);
	found_open(&b);
	hs_target beside = {.state = HS_POWER_DEAD, .zones = 1u << 3 | 1u << ZONE_EHT};
	walk_until(&b, beside, HS_FACT_KNOWN_AC_AFTER);
	assert_true(b.physical.pairs_0 >> MAINS & 1 && b.physical.pairs_0 >> C20 & 1 &&
	            b.physical.pairs_0 >> BATTERY & 1);
	hs_physical_void(&b.physical);
	walk(&b, (hs_target){.state = HS_POWER_DEAD});
	assert_int_equal(b.physical.zones_dead & 3u, 3u);
	tear_down(&b);
}

static void test_reconnection_restarts_wait(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	int64_t first = b.physical.disconnected_ms;
	b.now_ms += 3600000;
	/* Stops with one supply after the other in again, not yet on. */
	hs_gate gate = walk_until(&b, to_on_open, HS_FACT_SWITCH_ON);
	assert_int_equal(gate.fact, HS_FACT_SWITCH_ON);
	assert_int_equal(b.physical.power, HS_POWER_OFF);
	assert_int_equal(b.physical.zones_dead, 0);
	assert_int_equal(b.physical.waited | b.physical.discharged | b.physical.pairs_0 | b.physical.out, 0);
	hs_buf_clear(&b.asked);
	gate = walk_until(&b, to_dead, HS_FACT_WAITED);
	assert_true(b.physical.disconnected_ms > first + 3600000);
	assert_int_equal(gate.earliest_ms, b.physical.disconnected_ms + 29000);
	assert_int_equal(take_at(&b, gate, "waited", gate.earliest_ms - 1), HS_GATE_REFUSED);
	walk(&b, to_shorted);
	asked_were(&b, DOWN_TO_WAITED PROOF_OF_PSU "gate/shorted/C7\n");
	tear_down(&b);
}

static void test_one_supply_back(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	hs_gate gate = walk_until(&b, to_on_open, HS_FACT_RECONNECT);
	pass(&b, gate, "in");
	assert_int_equal(b.physical.power, HS_POWER_OFF);
	assert_int_equal(b.physical.out, 1u << BATTERY);
	hs_buf_clear(&b.asked);
	gate = walk_until(&b, to_dead, HS_FACT_WAITED);
	asked_were(&b, "gate/disconnected/mains\ngate/disconnected/other\ngate/secured/plug\ngate/secured/by\n");
	tear_down(&b);
}

static void test_waiting_is_no_proof(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, (hs_target){.state = HS_POWER_WAITED});
	b.now_ms += 24 * 3600000;
	assert_int_equal(next(&b, to_dead).fact, HS_FACT_TESTER);
	assert_int_equal(b.physical.zones_dead, 0);
	tear_down(&b);
}

static void test_energise(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	hs_buf_clear(&b.asked);
	walk(&b, to_on_open);
	asked_were(&b, "gate/energise/C7.short\ngate/energise/top-cover\ngate/energise/psu-guard\ngate/energise/tools\n"
	               "gate/energise/people\ngate/energise/mains\ngate/energise/battery\ngate/on/switch\n");
	assert_int_equal(b.physical.power, HS_POWER_ON);
	/* Directly to standby and back, nothing asked twice. */
	hs_target standby = to_on_open;
	standby.state = HS_POWER_STANDBY;
	walk(&b, standby);
	walk(&b, to_on_open);
	asked_were(&b, "gate/standby/switch\ngate/on/switch\n");
	/* Off with the supplies in is off, no more; the next energising asks anew. */
	walk(&b, (hs_target){.state = HS_POWER_OFF});
	assert_int_equal(b.physical.power, HS_POWER_OFF);
	walk(&b, to_on_open);
	asked_were(&b, "gate/off/switch\ngate/energise/top-cover\ngate/energise/psu-guard\ngate/energise/tools\n"
	               "gate/energise/people\ngate/on/switch\n");
	tear_down(&b);
}

static void test_blocker(void **state)
{
	(void)state;
	static const struct {
		uint64_t open, may;
		int blocker;
	} rows[] = {
	    {1u << TOP_COVER, 0, TOP_COVER},
	    {1u << TOP_COVER | 1u << PSU_GUARD, 0, PSU_GUARD}, /* the inner one closes first */
	    {1u << TOP_COVER | 1u << PSU_GUARD, 1u << PSU_GUARD, TOP_COVER},
	    {1u << TOP_COVER | 1u << PSU_GUARD, 1u << TOP_COVER, PSU_GUARD},
	    {1u << TOP_COVER | 1u << RF_SHIELD | 1u << LINK_1, 0, LINK_1},
	    {1u << TOP_COVER | 1u << RF_SHIELD, 1u << TOP_COVER | 1u << RF_SHIELD, -1},
	    {1u << LINK_1, 1u << TOP_COVER, LINK_1},
	};
	static const hs_power states[] = {HS_POWER_OFF, HS_POWER_STANDBY, HS_POWER_ON};
	static const hs_power wanted[] = {HS_POWER_ON, HS_POWER_KEYED};
	for (size_t i = 0; i < sizeof rows / sizeof *rows * 6; i++) {
		bench b;
		set_up(&b);
		size_t row = i / 6;
		b.physical.power = states[i % 3];
		b.physical.open = rows[row].open;
		b.physical.facts = 1u << HS_FACT_LOAD;
		b.physical.load_emitter = 0;
		hs_target target = {.state = wanted[i % 6 / 3], .may_be_open = rows[row].may, .step = 1};
		hs_gate gate = {.fact = HS_FACT_COUNT};
		int blocker = -1;
		assert_false(hs_way_next(&b.unit, &b.physical, &target, b.now_ms, &gate, &blocker));
		same_row(row, blocker, rows[row].blocker);
		same_row(row, gate.fact, rows[row].blocker < 0 ? HS_FACT_STAYS_OPEN : HS_FACT_NONE);
		tear_down(&b);
	}
}

static void test_open_not_confirmed(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	b.physical.power = HS_POWER_OFF;
	hs_physical_open(&b.unit, &b.physical, RF_SHIELD);
	hs_target on = {.state = HS_POWER_ON, .may_be_open = 1u << RF_SHIELD};
	hs_gate gate = next(&b, on);
	assert_int_equal(gate.fact, HS_FACT_STAYS_OPEN);
	assert_int_equal(take(&b, gate, "open"), HS_GATE_REFUSED);
	assert_string_equal(b.why, "\"open\" does not pass this gate: type \"rf-shield\" once it is so.");
	pass(&b, gate_of(&b, "gate/energise/tools"), "counted");
	pass(&b, gate_of(&b, "gate/energise/people"), "told");
	assert_int_equal(take(&b, gate_of(&b, "gate/on/switch"), "on"), HS_GATE_REFUSED);
	assert_string_equal(
	    b.why, "That is not what is asked now: the way has an order, and no fact of it is taken before its turn.");
	pass(&b, gate, "RF-Shield");
	pass(&b, gate_of(&b, "gate/on/switch"), "on");
	/* Opened while it is on: confirmed before anything goes on. */
	hs_physical_open(&b.unit, &b.physical, TOP_COVER);
	on.may_be_open |= 1u << TOP_COVER;
	assert_int_equal(next(&b, on).fact, HS_FACT_STAYS_OPEN);
	tear_down(&b);
}

static void test_energising_facts_lapse(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	b.physical.power = HS_POWER_OFF;
	walk_until(&b, to_on, HS_FACT_SWITCH_ON);
	hs_physical_open(&b.unit, &b.physical, TOP_COVER);
	hs_physical_close(&b.unit, &b.physical, TOP_COVER);
	assert_int_equal(next(&b, to_on).fact, HS_FACT_TOOLS);
	walk_until(&b, to_on, HS_FACT_SWITCH_ON);
	/* Nothing was open, so there is nothing to count. */
	hs_physical_touch(&b.physical);
	assert_int_equal(next(&b, to_on).fact, HS_FACT_PEOPLE);
	walk_until(&b, to_on, HS_FACT_SWITCH_ON);
	walk(&b, (hs_target){.state = HS_POWER_DISCONNECTED});
	assert_int_equal(next(&b, to_on).fact, HS_FACT_PEOPLE);
	tear_down(&b);
}

static void test_void(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	hs_physical_open(&b.unit, &b.physical, RF_SHIELD);
	hs_physical_close(&b.unit, &b.physical, RF_SHIELD);
	hs_physical_void(&b.physical);
	assert_int_equal(b.physical.power, HS_POWER_UNKNOWN);
	assert_int_equal(b.physical.open, OPEN_TO_PSU);
	assert_int_equal(b.physical.ever_open, OPEN_TO_PSU | 1u << RF_SHIELD);
	assert_int_equal(b.physical.shorted, 1u << C7);
	assert_int_equal(
	    b.physical.zones_dead | b.physical.out | b.physical.facts | b.physical.pairs_0 | b.physical.waited, 0);
	/* The short left in comes out only where that zone is proved dead again. */
	hs_buf_clear(&b.asked);
	walk(&b, to_on_open);
	asked_were(&b, FROM_UNKNOWN DOWN_TO_WAITED PROOF_OF_PSU
	           "gate/energise/C7.short\ngate/energise/top-cover\ngate/energise/psu-guard\ngate/energise/tools\n"
	           "gate/energise/people\ngate/energise/mains\ngate/energise/battery\ngate/on/switch\n");
	assert_int_equal(b.physical.shorted, 0);
	tear_down(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_order_to_dead),
	    cmocka_unit_test(test_states_on_the_way),
	    cmocka_unit_test(test_second_zone),
	    cmocka_unit_test(test_zone_without_sources),
	    cmocka_unit_test(test_reconnection_restarts_wait),
	    cmocka_unit_test(test_one_supply_back),
	    cmocka_unit_test(test_waiting_is_no_proof),
	    cmocka_unit_test(test_energise),
	    cmocka_unit_test(test_blocker),
	    cmocka_unit_test(test_open_not_confirmed),
	    cmocka_unit_test(test_energising_facts_lapse),
	    cmocka_unit_test(test_void),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
