/* What a typed answer does to the state: passed, refused with nothing changed, or a measured fact that is bad. */
#include "unit_bench.h"

typedef struct answer_row {
	const char *gate;
	const char *text;
	hs_gate_result result;
	const char *why; /* the whole sentence, or NULL where another row has it */
} answer_row;

#define NOT_ASKED   "That is not what is asked now: the way has an order, and no fact of it is taken before its turn."
#define WANTS_VOLTS "type the reading in volts, such as \"0.2 V\"."

/* Each row starts at its own gate, met on the way to the supply proved dead with its guard off. */
static void run_answers(const answer_row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		bench b;
		set_up(&b);
		found_open(&b);
		hs_gate wanted = gate_of(&b, rows[i].gate), gate = next(&b, to_shorted);
		while (gate.fact != wanted.fact || gate.subject != wanted.subject || gate.pair != wanted.pair) {
			if (gate.fact == HS_FACT_COUNT)
				fail_msg("row %zu: %s is never asked", i, rows[i].gate);
			pass(&b, gate, good_answer(&b.unit, &gate));
			gate = next(&b, to_shorted);
		}
		if (b.now_ms < gate.earliest_ms)
			b.now_ms = gate.earliest_ms;
		hs_physical before = b.physical;
		same_row(i, take(&b, gate, rows[i].text), rows[i].result);
		if (rows[i].why)
			assert_string_equal(b.why, rows[i].why);
		if (rows[i].result == HS_GATE_REFUSED)
			assert_memory_equal(&before, &b.physical, sizeof before);
		tear_down(&b);
	}
}

static void test_words_and_names(void **state)
{
	(void)state;
	static const answer_row rows[] = {
	    {"gate/off/switch", "", HS_GATE_REFUSED,
	     "Enter alone does not pass this gate: type \"off\" once it is so."},
	    {"gate/off/switch", "  Off ", HS_GATE_PASSED, ""},
	    {"gate/off/switch", "of", HS_GATE_REFUSED, "\"of\" does not pass this gate: type \"off\" once it is so."},
	    {"gate/secured/plug", "wall", HS_GATE_REFUSED,
	     "\"wall\" does not pass this gate: type \"hand\", \"sight\" or \"lock\" once it is so."},
	    {"gate/secured/plug", "sight", HS_GATE_PASSED, ""},
	    {"gate/secured/by", "ada brook", HS_GATE_PASSED, ""},
	    {"gate/secured/by", "Bo Lind", HS_GATE_REFUSED,
	     "\"Bo Lind\" is not the person at the bench, Ada Brook: whoever reaches in secures the plug, and types "
	     "that name."},
	    {"gate/dead/tester", "yes", HS_GATE_REFUSED,
	     "\"yes\" does not pass this gate: type which tester it is, by its name or number."},
	    {"gate/dead/tester", "T", HS_GATE_REFUSED, NULL},
	    {"gate/dead/tester", "VT2", HS_GATE_PASSED, ""},
	    {"gate/shorted/C7", "yes", HS_GATE_REFUSED,
	     "\"yes\" does not pass this gate: type \"fitted\" once it is so."},
	};
	run_answers(rows, sizeof rows / sizeof *rows);
}

static void test_pairs(void **state)
{
	(void)state;
	static const answer_row rows[] = {
	    {"gate/dead/mains.L-N", "0", HS_GATE_PASSED, ""},
	    {"gate/dead/mains.L-N", "5 V", HS_GATE_PASSED, ""},
	    {"gate/dead/mains.L-N", "-4.9", HS_GATE_PASSED, ""},
	    {"gate/dead/mains.L-N", "< 1 V", HS_GATE_PASSED, ""},
	    {"gate/dead/mains.L-N", "> 1 V", HS_GATE_REFUSED,
	     "\"> 1 V\" does not show it dead: the reading itself must be at or under 5 V."},
	    {"gate/dead/mains.L-N", "< 50 V", HS_GATE_REFUSED, NULL},
	    {"gate/dead/mains.L-N", "dead", HS_GATE_REFUSED, NULL},
	    {"gate/dead/mains.L-N", "", HS_GATE_REFUSED, "Enter alone does not pass this gate: " WANTS_VOLTS},
	    {"gate/dead/mains.L-N", "5.1 V", HS_GATE_FAILED,
	     "mains L-N reads 5.1 V: that is live. Hands out and stay out; nothing is known of this unit's power any "
	     "more, "
	     "and the way begins again at its switch."},
	    {"gate/dead/mains.L-N", "-6", HS_GATE_FAILED, NULL},
	    {"gate/dead/mains.L-N", "OL", HS_GATE_FAILED, NULL},
	    {"gate/dead/C7.across", "48 V", HS_GATE_FAILED,
	     "C7 across reads 48 V: it is still charged, so its bleeder may be open or something feeds it. Hands out: "
	     "discharge it through a resistor again, and look for another supply."},
	};
	run_answers(rows, sizeof rows / sizeof *rows);
}

static void test_known_source(void **state)
{
	(void)state;
	static const answer_row rows[] = {
	    {"gate/dead/known-ac-before", "12 V", HS_GATE_PASSED, ""},
	    {"gate/dead/known-ac-before", "> 50 V", HS_GATE_PASSED, ""},
	    {"gate/dead/known-ac-before", "< 50 V", HS_GATE_REFUSED,
	     "\"< 50 V\" does not show that the tester works: the known source must read 12 V or more."},
	    {"gate/dead/known-ac-before", "OL", HS_GATE_REFUSED, NULL},
	    {"gate/dead/known-ac-before", "11.9 V", HS_GATE_FAILED,
	     "\"11.9 V\" on the known source is under 12 V: the tester does not show what is there. Take another "
	     "tester, or a "
	     "source that is surely there."},
	    {"gate/dead/known-ac-after", "0 V", HS_GATE_FAILED,
	     "\"0 V\" on the known source is under 12 V: the tester does not show what is there. The whole test is "
	     "void; take "
	     "another tester and test every pair again."},
	};
	run_answers(rows, sizeof rows / sizeof *rows);
}

static void test_discharge(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		hs_gate_result result;
	} rows[] = {
	    {"1 kohm", HS_GATE_PASSED},   {"10 ohm", HS_GATE_PASSED}, {"9.9 ohm", HS_GATE_REFUSED},
	    {"0", HS_GATE_REFUSED},       {"done", HS_GATE_REFUSED},  {"", HS_GATE_REFUSED},
	    {"-1 kohm", HS_GATE_REFUSED},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		set_up(&b);
		found_open(&b);
		hs_target eht = {.state = HS_POWER_DEAD, .zones = 1u << ZONE_EHT};
		hs_gate gate = walk_until(&b, eht, HS_FACT_DISCHARGED);
		same_row(i, gate.subject, C20);
		same_row(i, take(&b, gate, rows[i].text), rows[i].result);
		if (i == 2)
			assert_string_equal(
			    b.why, "\"9.9 ohm\" is a short circuit, not a discharge: go through a resistor of at "
			           "least 10 ohm, rated for the peak it takes.");
		tear_down(&b);
	}
}

/* The resistor stays on for the time it takes down to what counts as dead; nothing shortens it, and another resistor is another time. */
static void test_discharge_takes_its_time(void **state)
{
	(void)state;
	static const struct {
		const char *through;
		int64_t held_s; /* R 1.2 uF ln(2200 V / 5 V) */
	} rows[] = {{"1 kohm", 1}, {"10 Mohm", 74}, {"1 Mohm", 8}};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		set_up(&b);
		found_open(&b);
		hs_target eht = {.state = HS_POWER_DEAD, .zones = 1u << ZONE_EHT};
		hs_gate gate = walk_until(&b, eht, HS_FACT_DISCHARGED);
		int64_t from = b.now_ms;
		assert_int_equal(take(&b, gate_of(&b, "gate/discharged/C20.held"), "held"), HS_GATE_REFUSED);
		assert_int_equal(take(&b, gate, rows[i].through), HS_GATE_PASSED);
		gate = next(&b, eht);
		assert_int_equal(gate.fact, HS_FACT_HELD);
		assert_int_equal(gate.earliest_ms, from + rows[i].held_s * 1000);
		/* Whoever asks: the time is the store's own. */
		gate.earliest_ms = 0;
		same_row(i, take_at(&b, gate, "held", from + rows[i].held_s * 1000 - 1), HS_GATE_REFUSED);
		assert_non_null(strstr(b.why, "the time is not over for another 1 s, and nothing shortens it."));
		same_row(i, take_at(&b, gate, "done", from + rows[i].held_s * 1000), HS_GATE_REFUSED);
		same_row(i, take_at(&b, gate, "held", from + rows[i].held_s * 1000), HS_GATE_PASSED);
		assert_int_equal(next(&b, eht).fact, HS_FACT_TESTER);
		tear_down(&b);
	}
}

static void test_live_pair_undoes_all(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	hs_gate gate = walk_until(&b, to_dead, HS_FACT_PAIR);
	assert_int_equal(take(&b, gate, "230 V"), HS_GATE_FAILED);
	assert_int_equal(b.physical.power, HS_POWER_UNKNOWN);
	assert_int_equal(b.physical.out, 0);
	hs_buf_clear(&b.asked);
	walk(&b, to_dead);
	asked_were(&b, FROM_UNKNOWN DOWN_TO_WAITED PROOF_OF_PSU);
	tear_down(&b);
}

static void test_tester_that_fails_voids_the_test(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	hs_gate gate = walk_until(&b, to_dead, HS_FACT_KNOWN_DC_AFTER);
	assert_int_equal(take(&b, gate, "0 V"), HS_GATE_FAILED);
	assert_int_equal(b.physical.zones_dead | b.physical.pairs_0 | b.physical.pairs_1 | b.physical.pairs_2, 0);
	hs_buf_clear(&b.asked);
	walk(&b, to_dead);
	asked_were(&b, PROOF_OF_PSU);
	tear_down(&b);
}

/* A store that holds its charge asks for its discharge before anything else is tested, and is never trusted to bleed
 * again. */
static void test_charged_store(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk_until(&b, to_dead, HS_FACT_PAIR);
	hs_gate gate = next(&b, to_dead);
	while (gate.subject != C7) {
		pass(&b, gate, "0.1 V");
		gate = next(&b, to_dead);
	}
	pass(&b, gate, "0.1 V");
	assert_int_equal(take(&b, next(&b, to_dead), "48 V"), HS_GATE_FAILED);
	assert_int_equal(b.physical.charged, 1u << C7);
	hs_buf_clear(&b.asked);
	walk(&b, to_dead);
	asked_were(&b,
	           "gate/discharged/C7\ngate/discharged/C7.held\ngate/dead/C7.across\ngate/dead/C7.plus-chassis\ngate/dead/C7.minus-chassis\n"
	           "gate/dead/known-ac-after\ngate/dead/known-dc-after\n");
	hs_physical_void(&b.physical);
	walk(&b, to_dead);
	asked_were(&b, FROM_UNKNOWN DOWN_TO_WAITED "gate/discharged/C7\ngate/discharged/C7.held\n" PROOF_OF_PSU);
	tear_down(&b);
}

/* Found charged in one zone, nothing beside it stays proved: something may feed them all. */
static void test_charged_store_beside(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	hs_target eht = {.state = HS_POWER_DEAD, .zones = 1u << ZONE_EHT};
	hs_gate gate = walk_until(&b, eht, HS_FACT_PAIR);
	assert_int_equal(take(&b, gate, "900 V"), HS_GATE_FAILED);
	assert_int_equal(b.physical.zones_dead, 0);
	assert_int_equal(b.physical.power, HS_POWER_WAITED);
	assert_int_equal(
	    (b.physical.pairs_0 | b.physical.pairs_1 | b.physical.pairs_2) & (1u << MAINS | 1u << C7 | 1u << C20), 0);
	tear_down(&b);
}

/* Five minutes on, a store that crept back up: the zone is dead no more, and every pair is tested again. */
static void test_recheck(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_shorted);
	hs_gate recheck = gate_of(&b, "gate/dead/C7.recheck");
	assert_int_equal(take_at(&b, recheck, "0.1 V", b.physical.proved_ms + HS_RECHECK_MS - 1), HS_GATE_REFUSED);
	assert_string_equal(b.why, "Too early: the time is not over for another 1 s, and nothing shortens it.");
	b.now_ms = b.physical.proved_ms + HS_RECHECK_MS;
	assert_int_equal(next(&b, to_shorted).fact, HS_FACT_RECHECK);
	assert_int_equal(take(&b, next(&b, to_shorted), "62 V"), HS_GATE_FAILED);
	assert_int_equal(b.physical.zones_dead, 0);
	assert_int_equal(b.physical.power, HS_POWER_WAITED);
	hs_buf_clear(&b.asked);
	walk(&b, to_shorted);
	asked_were(&b, "gate/discharged/C7\ngate/discharged/C7.held\n" PROOF_AGAIN);
	tear_down(&b);
}

/* Behind a fitted guard nobody reaches a store: no fact about it is taken, so none can be saved up for when the guard
 * is off. */
static void test_out_of_reach(void **state)
{
	(void)state;
	static const struct {
		const char *gate, *text;
		hs_gate_result fitted, off;
	} rows[] = {
	    {"gate/discharged/C20", "1 kohm", HS_GATE_REFUSED, HS_GATE_PASSED},
	    {"gate/dead/C7.across", "0 V", HS_GATE_REFUSED, HS_GATE_PASSED},
	    {"gate/dead/24V.chassis", "0 V", HS_GATE_PASSED, HS_GATE_PASSED},
	    {"gate/dead/mains.L-N", "0 V", HS_GATE_PASSED, HS_GATE_PASSED},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows * 2; i++) {
		size_t row = i / 2;
		bool off = i % 2;
		bench b;
		set_up(&b);
		hs_target low = {.state = HS_POWER_DEAD, .zones = 1u << ZONE_LOW};
		if (off) {
			found_open(&b);
			walk(&b, (hs_target){.state = HS_POWER_WAITED});
		}
		walk_until(&b, low, HS_FACT_PAIR);
		if (gate_of(&b, rows[row].gate).subject == MAINS)
			pass(&b, gate_of(&b, "gate/dead/known-ac-before"), "230 V");
		same_row(i, (int)take(&b, gate_of(&b, rows[row].gate), rows[row].text),
		         (int)(off ? rows[row].off : rows[row].fitted));
		if (!off && rows[row].fitted == HS_GATE_REFUSED)
			assert_string_equal(b.why, NOT_ASKED);
		tear_down(&b);
	}
}

/* Neither a short nor a recheck is taken through a guard that went back on. */
static void test_short_out_of_reach(void **state)
{
	(void)state;
	bench b;
	set_up(&b);
	found_open(&b);
	walk(&b, to_dead);
	hs_physical_close(&b.unit, &b.physical, PSU_GUARD);
	b.now_ms += HS_RECHECK_MS;
	assert_int_equal(next(&b, to_shorted).fact, HS_FACT_COUNT);
	assert_int_equal(take(&b, gate_of(&b, "gate/shorted/C7"), "fitted"), HS_GATE_REFUSED);
	assert_int_equal(take(&b, gate_of(&b, "gate/dead/C7.recheck"), "0 V"), HS_GATE_REFUSED);
	assert_string_equal(b.why, NOT_ASKED);
	tear_down(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_words_and_names),
	    cmocka_unit_test(test_pairs),
	    cmocka_unit_test(test_known_source),
	    cmocka_unit_test(test_discharge),
	    cmocka_unit_test(test_discharge_takes_its_time),
	    cmocka_unit_test(test_live_pair_undoes_all),
	    cmocka_unit_test(test_tester_that_fails_voids_the_test),
	    cmocka_unit_test(test_charged_store),
	    cmocka_unit_test(test_charged_store_beside),
	    cmocka_unit_test(test_recheck),
	    cmocka_unit_test(test_out_of_reach),
	    cmocka_unit_test(test_short_out_of_reach),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
