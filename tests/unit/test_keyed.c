/* Keyed: a load fitted with the power off, and what is asked again for each step that keys. */
#include "unit_bench.h"

#define SWITCHED_ON "gate/energise/people\ngate/on/switch\n"
#define EACH_KEYED  "gate/keyed/low-power\ngate/keyed/ports\ngate/keyed/instrument\ngate/keyed/people\n"

static const hs_target to_keyed = {.state = HS_POWER_KEYED, .emitter = 0, .step = 1};

static void test_load(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	hs_gate gate = walk_until(&b, to_keyed, HS_FACT_LOAD);
	asked_were(&b, FROM_UNKNOWN);
	assert_int_equal(b.physical.power, HS_POWER_OFF);
	static const struct {
		const char *text;
		hs_gate_result result;
	} rows[] = {
	    {"49.9 W", HS_GATE_REFUSED}, {"0", HS_GATE_REFUSED},         {"-100 W", HS_GATE_REFUSED},
	    {"fitted", HS_GATE_REFUSED}, {"50", HS_GATE_PASSED},         {"0.1 kW", HS_GATE_PASSED},
	    {"+47 dBm", HS_GATE_PASSED}, {"+46.9 dBm", HS_GATE_REFUSED}, {"50 ohm", HS_GATE_REFUSED},
	};
	hs_physical before = b.physical;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		b.physical = before;
		same_row(i, take(&b, gate, rows[i].text), rows[i].result);
	}
	b.physical = before;
	assert_int_equal(take(&b, gate, "100 dBm"), HS_GATE_REFUSED);
	assert_string_equal(b.why, "\"100 dBm\" is 10 MW, and no load here is rated for that: look at the unit, and type what stands on the load.");
	assert_int_equal(take(&b, gate, "40 W"), HS_GATE_REFUSED);
	assert_string_equal(b.why,
	                    "\"40 W\" is too small a load: it must stand at least the 50 W this unit can put into it.");
	/* With the power on nobody fits a load. */
	walk(&b, to_on);
	assert_int_equal(take(&b, gate, "100 W"), HS_GATE_REFUSED);
	assert_string_equal(
	    b.why, "That is not what is asked now: the way has an order, and no fact of it is taken before its turn.");
	tear_down(&b);
}

static void test_keyed(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	walk(&b, to_keyed);
	asked_were(&b, FROM_UNKNOWN "gate/keyed/load\n" SWITCHED_ON EACH_KEYED);
	/* The load serves the next step that keys; everything else is asked anew. */
	hs_target second = to_keyed;
	second.step = b.step = 2;
	walk(&b, second);
	asked_were(&b, EACH_KEYED);
	/* What nothing drives has no low power to be shown at. */
	hs_target undriven = to_keyed;
	undriven.step = b.step = 3;
	undriven.undriven = true;
	walk(&b, undriven);
	asked_were(&b, "gate/keyed/ports\ngate/keyed/instrument\ngate/keyed/people\n");
	b.step = 2;
	/* Through standby and back on, it is still there. */
	walk(&b, second);
	hs_buf_clear(&b.asked);
	walk(&b, (hs_target){.state = HS_POWER_STANDBY});
	walk(&b, second);
	asked_were(&b, "gate/standby/switch\ngate/on/switch\n" EACH_KEYED);
	tear_down(&b);
}

typedef void (*doing)(bench *b);

static void opened_and_closed(bench *b)
{
	hs_physical_open(&b->unit, &b->physical, TOP_COVER);
	hs_physical_close(&b->unit, &b->physical, TOP_COVER);
}

static void hands_in(bench *b)
{
	hs_physical_touch(&b->physical);
}

static void switched_off(bench *b)
{
	walk(b, (hs_target){.state = HS_POWER_OFF});
}

static void gone_down(bench *b)
{
	walk(b, (hs_target){.state = HS_POWER_SECURED});
	walk(b, to_on);
}

static void left(bench *b)
{
	hs_physical_void(&b->physical);
}

static void test_load_lapses(void **state)
{
	(void)state;
	static const struct {
		doing what;
		const char *asked;
	} rows[] = {
	    {opened_and_closed, "gate/off/switch\ngate/keyed/load\ngate/energise/tools\n" SWITCHED_ON EACH_KEYED},
	    {hands_in, "gate/off/switch\ngate/keyed/load\n" SWITCHED_ON EACH_KEYED},
	    {switched_off, "gate/keyed/load\n" SWITCHED_ON EACH_KEYED},
	    {gone_down, "gate/off/switch\ngate/keyed/load\n" SWITCHED_ON EACH_KEYED},
	    {left, FROM_UNKNOWN "gate/keyed/load\n" SWITCHED_ON EACH_KEYED},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		set_up(&b);
		walk(&b, to_keyed);
		rows[i].what(&b);
		hs_buf_clear(&b.asked);
		walk(&b, to_keyed);
		asked_were(&b, rows[i].asked);
		tear_down(&b);
	}
}

/* Where the next step wants another load, that one is asked for, with the power off. */
static void test_another_load(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	hs_target other = to_keyed;
	other.load = 4;
	walk(&b, to_keyed);
	hs_buf_clear(&b.asked);
	walk(&b, other);
	asked_were(&b, "gate/off/switch\ngate/keyed/load\n" SWITCHED_ON EACH_KEYED);
	walk(&b, other);
	asked_were(&b, "");
	tear_down(&b);
}

/* A load at one output says nothing of another. */
static void test_load_of_each_emitter(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	hs_emitter two[2] = {{.id = "J2", .watts = 50, .key_seconds = 5}, {.id = "J3", .watts = 5, .key_seconds = 5}};
	b.unit.emitters = two;
	b.unit.emitter_count = 2;
	walk(&b, to_keyed);
	hs_buf_clear(&b.asked);
	hs_target other = to_keyed;
	other.emitter = 1;
	walk(&b, other);
	asked_were(&b, "gate/off/switch\ngate/keyed/J3.load\n" SWITCHED_ON EACH_KEYED);
	walk(&b, to_keyed);
	asked_were(&b, "gate/off/switch\ngate/keyed/J2.load\n" SWITCHED_ON EACH_KEYED);
	other.emitter = -1;
	assert_int_equal(next(&b, other).fact, HS_FACT_SWITCH_OFF);
	tear_down(&b);
}

/* A rest that the unit states is a wait, also through a void; without one nothing is asked. */
static void test_cooling(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	hs_emitter hot = {.id = "J2", .watts = 50, .key_seconds = 5, .cool_seconds = 30};
	b.unit.emitters = &hot;
	walk(&b, to_keyed);
	asked_were(&b, FROM_UNKNOWN "gate/keyed/load\n" SWITCHED_ON EACH_KEYED);
	int64_t keyed_ms = b.now_ms;
	hs_physical_keyed(&b.physical, keyed_ms);
	hs_gate gate = next(&b, to_keyed);
	assert_int_equal(gate.fact, HS_FACT_COOLED);
	assert_int_equal(gate.earliest_ms, keyed_ms + 30000);
	gate.earliest_ms = 0;
	assert_int_equal(take_at(&b, gate, "cooled", keyed_ms + 29999), HS_GATE_REFUSED);
	assert_string_equal(b.why, "Too early: the time is not over for another 1 s, and nothing shortens it.");
	hs_physical_void(&b.physical);
	walk(&b, to_keyed);
	assert_true(b.now_ms >= keyed_ms + 30000);
	asked_were(&b, FROM_UNKNOWN "gate/keyed/load\n" SWITCHED_ON "gate/keyed/low-power\ngate/keyed/ports\ngate/keyed/instrument\n"
	               "gate/keyed/cooled\ngate/keyed/people\n");
	tear_down(&b);
}

/* What stands open is put back first, so that the load is asked once and not between each two gates. */
static void test_load_comes_after_covers(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	hs_buf_clear(&b.asked);
	pass(&b, next(&b, to_keyed), "removed");
	for (int cover = PSU_GUARD; cover >= TOP_COVER; cover--) {
		assert_int_equal(blocker_of(&b, to_keyed), cover);
		move_by_hand(&b, cover, true);
	}
	walk(&b, to_keyed);
	asked_were(&b, "gate/energise/C7.short\ngate/keyed/load\ngate/energise/tools\ngate/energise/people\n"
	               "gate/energise/mains\ngate/energise/battery\ngate/on/switch\n" EACH_KEYED);
	tear_down(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_load),
	    cmocka_unit_test(test_keyed),
	    cmocka_unit_test(test_load_lapses),
	    cmocka_unit_test(test_cooling),
	    cmocka_unit_test(test_another_load),
	    cmocka_unit_test(test_load_of_each_emitter),
	    cmocka_unit_test(test_load_comes_after_covers),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
