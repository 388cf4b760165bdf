/* What declared energy amounts to at its limits, and the power state that no playbook can lower. */
#include "unit_bench.h"

static void near(double got, double want, double within)
{
	if (got < want - within || got > want + within)
		fail_msg("got %.9g, wanted %.9g within %g", got, want, within);
}

static void test_worked_figures(void **state)
{
	(void)state;
	hs_energy_source fixed = store_source("C7", 400, 100e-6, 100e3, false, 0);
	hs_energy_source line = store_source("C7", 400, 100e-6, 100e3, true, 0);
	near(hs_store_nominal_wait(&fixed), 20.8, 0.05);
	near(hs_store_nominal_joules(&fixed), 8.0, 1e-9);
	near(hs_store_at_limits(&fixed).wait_s, 27.4, 0.05);
	near(hs_store_at_limits(&line).wait_s, 28.7, 0.05);
	near(hs_store_at_limits(&line).joules, 11.6, 0.05);
	near(hs_store_at_limits(&line).volts, 440, 1e-9);
	near(hs_store_at_limits(&line).farads, 120e-6, 1e-12);
	near(hs_store_at_limits(&line).bleed_ohm, 110e3, 1e-6);
	near(hs_store_at_limits(&line).joules_left, 0.15, 1e-9);
	line.volts_is_max = true;
	near(hs_store_at_limits(&line).volts, 400, 1e-9);
	near(hs_store_at_limits(&line).wait_s, 27.4, 0.05);
}

static void test_store_rules(void **state)
{
	(void)state;
	static const struct {
		double volts, farads, bleed;
		bool waits, discharge, keep;
	} rows[] = {
	    {400, 100e-6, 100e3, true, false, false}, /* bleeds to 0.15 J */
	    {400, 1000e-6, 100e3, true, true, true},  /* 1.5 J left at 50 V */
	    {400, 100e-6, 0, false, true, false},     /* no bleeder: 9.6 J at 400 V */
	    {24, 10e-3, 2200, false, true, false},    /* under 50 V, 3.5 J */
	    {24, 100e-6, 2200, false, false, false},  /* under 50 V, 0.03 J */
	    {45, 20e-3, 2200, false, true, true},     /* under 50 V, 24 J */
	    {1000, 1e-9, 1e6, true, false, false},    {1001, 1e-9, 1e6, true, false, true}, /* above 1 kV */
	    {60, 1e-9, 0, false, true, false},     /* no energy to speak of, yet nothing takes it down */
	    {0, 100e-6, 100e3, false, true, true}, /* nobody said what it holds */
	    {400, 0, 100e3, false, true, true},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_energy_source store = store_source("C1", rows[i].volts, rows[i].farads, rows[i].bleed, false, 0);
		hs_store_figures at = hs_store_at_limits(&store);
		same_row(i, at.wait_s > 0, rows[i].waits);
		same_row(i, at.discharge, rows[i].discharge);
		same_row(i, at.keep_shorted, rows[i].keep);
	}
}

static void test_store_words(void **state)
{
	(void)state;
	hs_energy_source rows[5] = {
	    store_source("C7", 400, 100e-6, 100e3, true, 0),   store_source("C2", 24, 10e-3, 2200, false, 0),
	    store_source("C3", 2000, 1e-6, 0, false, 0),       store_source("C4", 0, 0, 0, false, 0),
	    store_source("C5", 12000, 100e-6, 10e6, false, 0),
	};
	static const char *const words[5] = {
	    "C7: 400 V, 100 uF, bleeder 100 kohm: at its limits 11.6 J, 28.7 s to 50 V; keep "
	    "shorted",
	    "C2: 24 V, 10 mF, bleeder 2.2 kohm: at its limits 3.46 J; discharge through a resistor",
	    "C3: 2 kV, 1 uF, no bleeder known: at its limits 2.4 J; discharge through a resistor; "
	    "keep "
	    "shorted",
	    "C4: volts not stated, farads not stated, no bleeder known: at its limits energy unknown; discharge "
	    "through a resistor; "
	    "keep shorted",
	    "C5: 12 kV at most, 100 uF, bleeder 10 Mohm: at its limits 8.64 kJ, 121 min to 50 V; "
	    "keep shorted",
	};
	rows[4].volts_is_max = true;
	for (size_t i = 0; i < 5; i++) {
		hs_buf out;
		hs_buf_init(&out);
		hs_store_words(&rows[i], &out);
		assert_string_equal(out.data, words[i]);
		hs_buf_free(&out);
	}
}

static void test_hazardous_zones(void **state)
{
	(void)state;
	static const struct {
		hs_energy_kind kind;
		double volts, farads;
		bool is_max, follows, hazardous;
	} rows[] = {
	    {HS_SOURCE_MAINS, 230, 0, false, false, true},    {HS_SOURCE_MAINS, 24, 0, false, false, false},
	    {HS_SOURCE_MAINS, 28, 0, false, false, true}, /* 30.8 V with the line high */
	    {HS_SOURCE_MAINS, 28, 0, true, false, false},     {HS_SOURCE_DC, 48, 0, false, false, false},
	    {HS_SOURCE_DC, 56, 0, false, false, true},        {HS_SOURCE_DC, 56, 0, true, false, false},
	    {HS_SOURCE_RAIL, 60, 0, false, false, false},     {HS_SOURCE_RAIL, 60, 0, false, true, true},
	    {HS_SOURCE_STORE, 56, 10e-3, false, false, true}, {HS_SOURCE_STORE, 12, 1000e-6, false, false, false},
	    {HS_SOURCE_STORE, 12, 10e-3, false, false, true}, {HS_SOURCE_STORE, 400, 1e-9, false, false, true},
	    {HS_SOURCE_STORE, 12, 0, false, false, true},     {HS_SOURCE_DC, 0, 0, false, false, true},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_bench_unit unit = {.zone_count = 2, .source_count = 1};
		unit.sources[0] = (hs_energy_source){.id = "S",
		                                     .kind = rows[i].kind,
		                                     .volts = rows[i].volts,
		                                     .farads = rows[i].farads,
		                                     .farads_over = 0.2,
		                                     .volts_is_max = rows[i].is_max,
		                                     .follows_line = rows[i].follows,
		                                     .zone = 1};
		same_row(i, hs_zone_is_hazardous(&unit, 1), rows[i].hazardous);
		assert_false(hs_zone_is_hazardous(&unit, 0));
		assert_false(hs_zone_is_hazardous(&unit, -1));
	}
}

static void test_openable_floor(void **state)
{
	(void)state;
	static const struct {
		int openable;
		bool given;
		hs_need needs;
		hs_power power;
	} rows[] = {
	    {TOP_COVER, false, HS_NEED_ANY, HS_POWER_OFF},   {TOP_COVER, true, HS_NEED_ANY, HS_POWER_UNKNOWN},
	    {TOP_COVER, true, HS_NEED_ON, HS_POWER_ON},      {TOP_COVER, true, HS_NEED_KEYED, HS_POWER_OFF},
	    {TOP_COVER, true, HS_NEED_DEAD, HS_POWER_DEAD},  {PSU_GUARD, false, HS_NEED_ANY, HS_POWER_WAITED},
	    {PSU_GUARD, true, HS_NEED_ANY, HS_POWER_WAITED}, {PSU_GUARD, true, HS_NEED_ON, HS_POWER_WAITED},
	    {PSU_GUARD, true, HS_NEED_DEAD, HS_POWER_DEAD},  {RF_SHIELD, false, HS_NEED_ANY, HS_POWER_OFF},
	    {LINK_1, false, HS_NEED_ANY, HS_POWER_DEAD},     {LINK_1, true, HS_NEED_OFF, HS_POWER_DEAD},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_bench_unit unit;
		make_amplifier(&unit);
		unit.openables[rows[i].openable].needs_given = rows[i].given;
		unit.openables[rows[i].openable].needs = rows[i].needs;
		same_row(i, hs_openable_needs(&unit, rows[i].openable), rows[i].power);
	}
}

static void test_openable_unguarded(void **state)
{
	(void)state;
	hs_bench_unit unit;
	make_amplifier(&unit);
	/* A joint outside every zone follows what is declared, but is never parted while something may be keyed. */
	unit.openables[LINK_1] =
	    (hs_openable){.id = "J9", .kind = HS_OPEN_JOINT, .after = -1, .zone = -1, .needs_given = true};
	assert_int_equal(hs_openable_needs(&unit, LINK_1), HS_POWER_OFF);
	unit.openables[LINK_1].needs = HS_NEED_STANDBY;
	assert_int_equal(hs_openable_needs(&unit, LINK_1), HS_POWER_STANDBY);
	/* Something behind the guard of a hazardous zone is reached by hands inside it. */
	unit.openables[RF_SHIELD].after = PSU_GUARD;
	assert_int_equal(hs_openable_needs(&unit, RF_SHIELD), HS_POWER_DEAD);
	/* Where a hazardous zone names no guard, every cover is one. */
	unit.openables[RF_SHIELD].after = TOP_COVER;
	unit.zones[ZONE_PSU].guard = unit.zones[ZONE_EHT].guard = -1;
	assert_int_equal(hs_openable_needs(&unit, TOP_COVER), HS_POWER_WAITED);
	assert_int_equal(hs_openable_needs(&unit, RF_SHIELD), HS_POWER_WAITED);
	/* A circle in the order is refused elsewhere; here it must only end. */
	unit.openables[TOP_COVER].after = RF_SHIELD;
	assert_int_equal(hs_openable_needs(&unit, TOP_COVER), HS_POWER_WAITED);
}

static void test_step_need(void **state)
{
	(void)state;
	static const struct {
		hs_step_kind kind;
		int zone;
		bool given;
		hs_need power;
		bool outside;
		hs_need need;
	} rows[] = {
	    {HS_STEP_DO, ZONE_PSU, true, HS_NEED_ON, false, HS_NEED_DEAD},
	    {HS_STEP_DO, ZONE_PSU, true, HS_NEED_ANY, false, HS_NEED_DEAD},
	    {HS_STEP_REPLACE, ZONE_PSU, true, HS_NEED_OFF, false, HS_NEED_DEAD},
	    {HS_STEP_ADJUST, ZONE_PSU, true, HS_NEED_ON, false, HS_NEED_DEAD},
	    {HS_STEP_ADJUST, ZONE_PSU, true, HS_NEED_ON, true, HS_NEED_ON},
	    {HS_STEP_DO, ZONE_LOW, true, HS_NEED_ON, false, HS_NEED_ON},
	    {HS_STEP_DO, ZONE_LOW, false, HS_NEED_ANY, false, HS_NEED_OFF},
	    {HS_STEP_REPLACE, ZONE_LOW, false, HS_NEED_ANY, false, HS_NEED_OFF},
	    {HS_STEP_DO, -1, false, HS_NEED_ANY, false, HS_NEED_ANY},
	    {HS_STEP_REPLACE, -1, true, HS_NEED_STANDBY, false, HS_NEED_STANDBY},
	    {HS_STEP_LOOK, ZONE_PSU, true, HS_NEED_ON, false, HS_NEED_ON},
	    {HS_STEP_TELL, ZONE_PSU, false, HS_NEED_ANY, false, HS_NEED_ANY},
	};
	hs_playbook book = {.id = "b"};
	make_amplifier(&book.unit);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_step step = {.id = "s",
		                .kind = rows[i].kind,
		                .zone = rows[i].zone,
		                .power_given = rows[i].given,
		                .power = rows[i].power,
		                .outside = rows[i].outside};
		same_row(i, hs_step_need(&book, &step), rows[i].need);
	}
	/* A change made in the mains zone needs dead, even where the step names no zone. */
	hs_step change = {.id = "s",
	                  .kind = HS_STEP_DO,
	                  .zone = -1,
	                  .power_given = true,
	                  .power = HS_NEED_OFF,
	                  .makes = 1u << LINK_1};
	assert_int_equal(hs_step_need(&book, &change), HS_NEED_DEAD);
	assert_int_equal(hs_step_zones(&book, &change), 1u << ZONE_PSU);
}

/* Hands that work while the guard of a hazardous zone is named open need it dead, whatever zone the step names. */
static void test_guard_named_open(void **state)
{
	(void)state;
	static const uint64_t psu = 1u << PSU_GUARD, shield = 1u << RF_SHIELD;
	static const struct {
		hs_step_kind kind;
		int zone, guard, after; /* the guard of both hazardous zones; what comes off before the shield */
		bool outside;
		uint64_t open;
		hs_need need;
		unsigned zones;
	} rows[] = {
	    {HS_STEP_DO, ZONE_LOW, PSU_GUARD, TOP_COVER, false, psu, HS_NEED_DEAD, 7},
	    {HS_STEP_REPLACE, -1, PSU_GUARD, TOP_COVER, false, psu, HS_NEED_DEAD, 6},
	    {HS_STEP_ADJUST, ZONE_LOW, PSU_GUARD, TOP_COVER, false, psu, HS_NEED_DEAD, 7},
	    {HS_STEP_ADJUST, ZONE_LOW, PSU_GUARD, TOP_COVER, true, psu, HS_NEED_ON, 7},
	    {HS_STEP_DO, -1, PSU_GUARD, TOP_COVER, true, psu, HS_NEED_ON, 6},
	    {HS_STEP_DO, ZONE_LOW, PSU_GUARD, TOP_COVER, false, shield, HS_NEED_ON, 1},
	    /* Not named, but it comes off before what is named. */
	    {HS_STEP_DO, ZONE_LOW, PSU_GUARD, PSU_GUARD, false, shield, HS_NEED_DEAD, 7},
	    /* Without a guard the zone lies bare with any cover; a change is no cover. */
	    {HS_STEP_DO, ZONE_LOW, -1, TOP_COVER, false, shield, HS_NEED_DEAD, 7},
	    {HS_STEP_DO, ZONE_LOW, -1, TOP_COVER, false, 1u << LINK_1, HS_NEED_ON, 1},
	    {HS_STEP_LOOK, ZONE_LOW, PSU_GUARD, TOP_COVER, false, psu, HS_NEED_ON, 7},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_playbook book = {.id = "b"};
		make_amplifier(&book.unit);
		book.unit.zones[ZONE_PSU].guard = book.unit.zones[ZONE_EHT].guard = rows[i].guard;
		book.unit.openables[RF_SHIELD].after = rows[i].after;
		hs_step step = {.id = "s",
		                .kind = rows[i].kind,
		                .zone = rows[i].zone,
		                .power_given = true,
		                .power = HS_NEED_ON,
		                .outside = rows[i].outside,
		                .open = rows[i].open};
		same_row(i, hs_step_need(&book, &step), rows[i].need);
		same_row(i, (int)hs_step_zones(&book, &step), (int)rows[i].zones);
	}
}

static void test_reading_need(void **state)
{
	(void)state;
	static const struct {
		hs_measurand reads;
		bool loose;
		hs_need need;
	} rows[] = {
	    {HS_READS_OHMS, false, HS_NEED_DEAD},        {HS_READS_OHMS, true, HS_NEED_ON},
	    {HS_READS_CONTINUITY, false, HS_NEED_DEAD},  {HS_READS_DIODE, false, HS_NEED_DEAD},
	    {HS_READS_CAPACITANCE, false, HS_NEED_DEAD}, {HS_READS_VOLTS, false, HS_NEED_ON},
	    {HS_READS_POWER, false, HS_NEED_ON},
	};
	hs_playbook book = {.id = "b"};
	make_amplifier(&book.unit);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_reading readings[2] = {{.reads = HS_READS_VOLTS, .point = -1},
		                          {.reads = rows[i].reads, .loose = rows[i].loose, .point = -1}};
		hs_step step = {.id = "s",
		                .kind = HS_STEP_COLLECT,
		                .zone = -1,
		                .power_given = true,
		                .power = HS_NEED_ON,
		                .readings = readings,
		                .reading_count = 2};
		same_row(i, hs_step_need(&book, &step), rows[i].need);
		step.attach_dead = true;
		same_row(i, hs_step_need(&book, &step), rows[i].need);
	}
}

static void test_step_zones(void **state)
{
	(void)state;
	hs_playbook book = {.id = "b"};
	make_amplifier(&book.unit);
	hs_point points[2] = {{.id = "TP1", .zone = ZONE_LOW}, {.id = "J1", .zone = -1}};
	book.unit.points = points;
	book.unit.point_count = 2;
	static const struct {
		int zone, point, second;
		hs_measurand reads;
		unsigned zones;
	} rows[] = {
	    {ZONE_EHT, -1, -1, HS_READS_OHMS, 1u << ZONE_EHT},
	    {-1, 0, 0, HS_READS_OHMS, 1u << ZONE_LOW},
	    {ZONE_PSU, 0, 0, HS_READS_OHMS, 1u << ZONE_PSU | 1u << ZONE_LOW},
	    {-1, 1, 1, HS_READS_OHMS, 1u << ZONE_PSU | 1u << ZONE_LOW},
	    {-1, 0, 1, HS_READS_OHMS, 1u << ZONE_PSU | 1u << ZONE_LOW},
	    {-1, 0, 1, HS_READS_VOLTS, 1u << ZONE_LOW},
	    {-1, -1, -1, HS_READS_VOLTS, 1u << ZONE_PSU | 1u << ZONE_LOW},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_reading readings[2] = {{.reads = rows[i].reads, .point = rows[i].point},
		                          {.reads = rows[i].reads, .point = rows[i].second}};
		hs_step step = {.id = "s", .zone = rows[i].zone, .readings = readings, .reading_count = 2};
		same_row(i, (int)hs_step_zones(&book, &step), (int)rows[i].zones);
	}
	hs_step bare = {.id = "s", .zone = -1};
	book.unit.source_count = 0;
	assert_int_equal(hs_step_zones(&book, &bare), 1u);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_worked_figures), cmocka_unit_test(test_store_rules),
	    cmocka_unit_test(test_store_words),    cmocka_unit_test(test_hazardous_zones),
	    cmocka_unit_test(test_openable_floor), cmocka_unit_test(test_openable_unguarded),
	    cmocka_unit_test(test_step_need),      cmocka_unit_test(test_reading_need),
	    cmocka_unit_test(test_step_zones),     cmocka_unit_test(test_guard_named_open),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
