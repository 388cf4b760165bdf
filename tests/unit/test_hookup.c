/* What a hookup does to a level, in both directions, and how it is drawn. */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>
#include <cmocka.h>
#include <math.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "halfsplit/lineup/hookup.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* 1.4 dB at 145 MHz. */
static const hs_part k12 = {.id = "K12",
                            .kind = HS_PART_CABLE,
                            .file = "kit.lua",
                            .line = 3,
                            .has_u = true,
                            .u_db = 0.2,
                            .own = {(hs_loss_point[]){{10e6, 0.4}, {145e6, 1.4}, {1e9, 3}}, 3},
                            .own_source = "K12.s2p"};
static const hs_part p10 = {.id = "P10",
                            .kind = HS_PART_PAD,
                            .file = "kit.lua",
                            .line = 4,
                            .has_fixed = true,
                            .fixed_db = 10,
                            .freq_to_hz = 3e9};
static const hs_part bare = {.id = "K9", .kind = HS_PART_CABLE, .file = "kit.lua", .line = 5};
static const hs_part x10 = {.id = "T1", .kind = HS_PART_PROBE, .touch = true, .ratio = 10, .has_u = true, .u_db = 0.17};
static const hs_part tip = {.id = "T2", .kind = HS_PART_PROBE, .touch = true};
static const hs_range m1_ranges[] = {
    {.reads = HS_READS_POWER,
     .from = {-20, HS_DBM},
     .to = {20, HS_DBM},
     .has_range = true,
     .freq_from_hz = 1e6,
     .freq_to_hz = 1e9},
    {.reads = HS_READS_VOLTS, .from = {0, HS_VOLT}, .to = {200, HS_VOLT}, .has_range = true},
    {.reads = HS_READS_VOLTS, .from = {0, HS_VOLT}, .to = {20, HS_VOLT}, .has_range = true},
    {.reads = HS_READS_OHMS},
    {.reads = HS_READS_AC_VOLTS, .from = {1e-3, HS_VOLT}, .to = {20, HS_VOLT}, .has_range = true, .freq_to_hz = 1e5},
};
static const hs_part m1 = {
    .id = "M1", .kind = HS_PART_INSTRUMENT, .ranges = (hs_range *)m1_ranges, .range_count = 5, .impedance_ohm = 50};
static const hs_part m2 = {.id = "M2", .kind = HS_PART_INSTRUMENT, .touch = true};

static const hs_hookup meter_lead = {
    .id = "meter lead", .parts = (const hs_part *[]){&k12, &p10, &m1}, .count = 3, .instrument = &m1};
static const hs_hookup probe_lead = {
    .id = "probe", .parts = (const hs_part *[]){&x10, &m1}, .count = 2, .instrument = &m1};
static const hs_hookup cable_alone = {.id = "cable", .parts = (const hs_part *[]){&k12}, .count = 1};
static const hs_hookup pad_alone = {
    .id = "pad", .parts = (const hs_part *[]){&p10, &m1}, .count = 2, .instrument = &m1};
static const hs_hookup bare_lead = {
    .id = "bare", .parts = (const hs_part *[]){&bare, &m1}, .count = 2, .instrument = &m1};
static const hs_hookup mixed = {
    .id = "mixed", .parts = (const hs_part *[]){&x10, &k12, &m1}, .count = 3, .instrument = &m1};
static const hs_hookup meter_alone = {.id = "meter", .parts = (const hs_part *[]){&m1}, .count = 1, .instrument = &m1};
static const hs_hookup dmm_alone = {.id = "dmm", .parts = (const hs_part *[]){&m2}, .count = 1, .instrument = &m2};
static const hs_hookup tips = {.id = "tips", .parts = (const hs_part *[]){&tip, &m1}, .count = 2, .instrument = &m1};

static void assert_near(size_t row, double got, double want)
{
	if (!(fabs(got - want) <= 1e-9 * fmax(1, fabs(want))))
		fail_msg("row %zu: got %.17g, want %.17g", row, got, want);
}

/* The signs: what a lead takes is added back to a reading, and a source is set higher by it. */
static void both_directions_add_the_loss(void **state)
{
	(void)state;
	static const struct {
		const hs_hookup *hookup;
		hs_measurand reads;
		double freq_hz;
		hs_quantity at_meter, at_point;
	} rows[] = {
	    {&meter_lead, HS_READS_POWER, 145e6, {0, HS_DBM}, {11.4, HS_DBM}},
	    {&meter_lead, HS_READS_POWER, 145e6, {-31.4, HS_DBM}, {-20, HS_DBM}},
	    {&meter_lead, HS_READS_POWER, 145e6, {-31.4, HS_DBW}, {-20, HS_DBW}},
	    {&pad_alone, HS_READS_POWER, 145e6, {5, HS_WATT}, {50, HS_WATT}},
	    {&pad_alone, HS_READS_POWER, 0, {5, HS_WATT}, {50, HS_WATT}},
	    {&meter_lead, HS_READS_POWER, 145e6, {1, HS_WATT}, {13.803842646028851, HS_WATT}},
	    {&meter_lead, HS_READS_POWER, 145e6, {4000, HS_DBM}, {4011.4, HS_DBM}},
	    {&pad_alone, HS_READS_AC_VOLTS, 1e6, {1, HS_VOLT}, {3.1622776601683795, HS_VOLT}},
	    {&pad_alone, HS_READS_AC_VOLTS, 1e6, {-10, HS_DBV}, {0, HS_DBV}},
	    {&probe_lead, HS_READS_VOLTS, 0, {1.2, HS_VOLT}, {12, HS_VOLT}},
	    {&probe_lead, HS_READS_VOLTS, 0, {-1.2, HS_VOLT}, {-12, HS_VOLT}},
	    {&probe_lead, HS_READS_AC_VOLTS, 1e3, {0.5, HS_VPP}, {5, HS_VPP}},
	    {&probe_lead, HS_READS_AC_VOLTS, 1e3, {-40, HS_DBV}, {-20, HS_DBV}},
	    /* A power meter behind a divider sees the square of it. */
	    {&probe_lead, HS_READS_POWER, 145e6, {-30, HS_DBM}, {-10, HS_DBM}},
	    {&probe_lead, HS_READS_POWER, 145e6, {0.01, HS_WATT}, {1, HS_WATT}},
	    {&probe_lead, HS_READS_AC_VOLTS, 145e6, {0.01, HS_WATT}, {1, HS_WATT}},
	    {&mixed, HS_READS_AC_VOLTS, 145e6, {1, HS_VOLT}, {11.748975549395295, HS_VOLT}},
	    /* At DC, or with no frequency stated, a cable takes nothing off a voltage. */
	    {&mixed, HS_READS_VOLTS, 0, {1, HS_VOLT}, {10, HS_VOLT}},
	    {&bare_lead, HS_READS_VOLTS, 0, {5, HS_VOLT}, {5, HS_VOLT}},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_correction correction;
		hs_error error = {0};
		if (!hs_hookup_correct(rows[i].hookup, rows[i].reads, rows[i].freq_hz, &correction, &error))
			fail_msg("row %zu: %s", i, error.message);
		hs_quantity read = hs_correct_reading(&correction, rows[i].at_meter);
		assert_near(i, read.value, rows[i].at_point.value);
		assert_int_equal(read.unit, rows[i].at_point.unit);
		/* To make at the point what this reading came from, the source is set higher than that by the same
		 * loss. */
		double made = rows[i].at_point.value, ratio = made / rows[i].at_meter.value;
		hs_quantity source = hs_correct_source(&correction, rows[i].at_point);
		if (hs_unit_is_level(source.unit))
			assert_near(i, source.value, made + (made - rows[i].at_meter.value));
		else
			assert_near(i, source.value, made * ratio);
	}
}

static void injection_sets_the_source_higher(void **state)
{
	(void)state;
	hs_correction correction;
	assert_true(hs_hookup_correct(&meter_lead, HS_READS_POWER, 145e6, &correction, NULL));
	assert_near(0, hs_correct_source(&correction, (hs_quantity){-3, HS_DBM}).value, 8.4);
	assert_near(1, hs_correct_source(&correction, (hs_quantity){1, HS_WATT}).value, 13.803842646028851);
	assert_near(2, hs_correct_source(&correction, (hs_quantity){1, HS_VOLT}).value, 3.7153522909717256);
}

static void each_line_names_part_sign_and_source(void **state)
{
	(void)state;
	hs_correction c;
	assert_true(hs_hookup_correct(&meter_lead, HS_READS_POWER, 145e6, &c, NULL));
	assert_int_equal(c.count, 2);
	assert_ptr_equal(c.lines[0].part, &k12);
	assert_near(0, c.lines[0].db, 1.4);
	assert_near(0, c.lines[0].u_db, 0.2);
	assert_near(0, c.lines[0].factor, 1);
	assert_string_equal(c.lines[0].source, "K12.s2p");
	assert_ptr_equal(c.lines[1].part, &p10);
	assert_near(1, c.lines[1].db, 10);
	assert_string_equal(c.lines[1].source, "10 dB pad, u 0.2 dB assumed");
	assert_near(1, c.total_db, 11.4);
	assert_near(1, c.total_factor, 1);
	assert_true(hs_hookup_correct(&probe_lead, HS_READS_VOLTS, 0, &c, NULL));
	assert_int_equal(c.count, 1);
	assert_near(2, c.lines[0].factor, 10);
	assert_near(2, c.lines[0].db, 0);
	assert_near(2, c.total_factor, 10);
	assert_string_equal(c.lines[0].source, "x10 probe");
}

static void what_no_lead_changes_takes_no_correction(void **state)
{
	(void)state;
	static const hs_measurand reads[] = {HS_READS_OHMS,       HS_READS_DIODE,     HS_READS_AMPS,
	                                     HS_READS_CONTINUITY, HS_READS_FREQUENCY, HS_READS_TEMPERATURE,
	                                     HS_READS_NOISE_RISE, HS_READS_COUNT_OF,  HS_READS_PERCENT,
	                                     HS_READS_SINAD};
	for (size_t i = 0; i < COUNT(reads); i++) {
		hs_correction c;
		assert_true(hs_hookup_correct(&bare_lead, reads[i], 0, &c, NULL));
		assert_int_equal(c.count, 0);
		hs_quantity q = {0.42, hs_measurand_unit(reads[i])};
		assert_near(i, hs_correct_reading(&c, q).value, 0.42);
	}
}

static void a_reflection_passes_a_lead_twice(void **state)
{
	(void)state;
	hs_correction c;
	hs_error error = {0};
	assert_true(hs_hookup_correct(&cable_alone, HS_READS_RETURN_LOSS, 145e6, &c, NULL));
	assert_near(0, hs_correct_reading(&c, (hs_quantity){20, HS_DB}).value, 17.2);
	assert_near(1, c.lines[0].u_db, 0.4);
	assert_false(hs_hookup_correct(&cable_alone, HS_READS_SWR, 145e6, &c, &error));
	assert_string_equal(error.message,
	                    "\"K12\" takes loss, which makes an SWR read through it look better than it is");
	assert_string_equal(error.hint, "read return loss instead, or SWR right at the point");
	assert_true(hs_hookup_correct(&meter_alone, HS_READS_SWR, 145e6, &c, NULL));
	assert_near(2, hs_correct_reading(&c, (hs_quantity){1.5, HS_SWR}).value, 1.5);
}

static void a_loss_that_is_not_known_is_an_error(void **state)
{
	(void)state;
	static const struct {
		const hs_hookup *hookup;
		hs_measurand reads;
		double freq_hz;
		int line;
		const char *message;
	} rows[] = {
	    {&meter_lead, HS_READS_POWER, 0, 3,
	     "cable \"K12\" has a loss that depends on frequency, and no frequency is stated"},
	    {&meter_lead, HS_READS_POWER, NAN, 3,
	     "cable \"K12\" has a loss that depends on frequency, and no frequency is stated"},
	    {&meter_lead, HS_READS_POWER, 2e9, 3,
	     "cable \"K12\": no loss known at 2 GHz: the table runs from 10 MHz to 1 GHz"},
	    {&meter_lead, HS_READS_AC_VOLTS, 1e3, 3,
	     "cable \"K12\": no loss known at 1 kHz: the table runs from 10 MHz to 1 GHz"},
	    {&pad_alone, HS_READS_POWER, 6e9, 4, "pad \"P10\": no loss known at 6 GHz: it is stated up to 3 GHz"},
	    {&pad_alone, HS_READS_VOLTS, 0, 4,
	     "\"P10\" is a pad, and what it takes off a voltage at DC depends on its load"},
	    {&bare_lead, HS_READS_POWER, 145e6, 5, "cable \"K9\" has no loss figures"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_correction c = {.count = 99};
		hs_error error = {0};
		assert_false(hs_hookup_correct(rows[i].hookup, rows[i].reads, rows[i].freq_hz, &c, &error));
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_string_equal(error.message, rows[i].message);
		assert_string_equal(error.file, "kit.lua");
		assert_int_equal(error.line, rows[i].line);
		assert_int_equal(c.count, 99);
	}
}

static void too_many_parts_are_refused(void **state)
{
	(void)state;
	const hs_part *parts[HS_HOOKUP_MOST + 1];
	for (size_t i = 0; i < COUNT(parts); i++)
		parts[i] = &p10;
	hs_hookup hookup = {.id = "long", .parts = parts, .count = HS_HOOKUP_MOST};
	hs_correction c;
	hs_error error = {0};
	assert_true(hs_hookup_correct(&hookup, HS_READS_POWER, 1e6, &c, NULL));
	assert_near(0, c.total_db, 120);
	hookup.count++;
	assert_false(hs_hookup_correct(&hookup, HS_READS_POWER, 1e6, &c, &error));
	assert_string_equal(error.message, "the hookup holds more than 12 parts");
}

static void touching_and_joining(void **state)
{
	(void)state;
	assert_true(hs_hookup_touches(&probe_lead));
	assert_true(hs_hookup_touches(&tips));
	assert_false(hs_hookup_touches(&meter_lead));
	assert_false(hs_hookup_touches(&mixed));
	assert_false(hs_hookup_touches(&meter_alone));
	assert_true(hs_hookup_touches(&dmm_alone));
}

static void drawn_from_source_to_meter(void **state)
{
	(void)state;
	static const struct {
		const hs_hookup *hookup;
		hs_measurand reads;
		bool with, inject;
		const char *drawn;
	} rows[] = {
	    {&meter_lead, HS_READS_POWER, true, false, "TP2 --[K12 1.4 dB]--[P10 10 dB]-- M1"},
	    {&meter_lead, HS_READS_POWER, true, true, "M1 --[P10 10 dB]--[K12 1.4 dB]-- TP2"},
	    {&meter_lead, HS_READS_POWER, false, false, "TP2 --[K12]--[P10]-- M1"},
	    {&probe_lead, HS_READS_AC_VOLTS, true, false, "TP2 --[T1 x10]-- M1"},
	    {&mixed, HS_READS_AC_VOLTS, true, false, "TP2 --[T1 x10]--[K12 1.4 dB]-- M1"},
	    {&tips, HS_READS_AC_VOLTS, true, false, "TP2 --[T2]-- M1"},
	    {&meter_alone, HS_READS_POWER, true, false, "TP2 -- M1"},
	    {&cable_alone, HS_READS_POWER, true, false, "TP2 --[K12 1.4 dB]-- instrument"},
	    {&cable_alone, HS_READS_POWER, true, true, "source --[K12 1.4 dB]-- TP2"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_correction c;
		hs_buf out;
		hs_buf_init(&out);
		assert_true(hs_hookup_correct(rows[i].hookup, rows[i].reads, 145e6, &c, NULL));
		hs_hookup_draw(rows[i].hookup, rows[i].with ? &c : NULL, "TP2", rows[i].inject, &out);
		assert_string_equal(out.data, rows[i].drawn);
		hs_buf_free(&out);
	}
}

static void a_hostile_name_drives_no_terminal(void **state)
{
	(void)state;
	hs_buf out;
	hs_buf_init(&out);
	hs_hookup_draw(&meter_alone, NULL, "TP\x1b[2J", false, &out);
	assert_string_equal(out.data, "TP\\x1b[2J -- M1");
	hs_buf_free(&out);
}

static void the_range_that_holds_the_value(void **state)
{
	(void)state;
	static const struct {
		hs_measurand reads;
		double freq_hz;
		bool has_value;
		hs_quantity value;
		int range; /* -1: none */
		bool inside;
	} rows[] = {
	    {HS_READS_VOLTS, 0, true, {12, HS_VOLT}, 2, true},  /* the narrower one, though it stands second */
	    {HS_READS_VOLTS, 0, true, {-12, HS_VOLT}, 2, true}, /* a DC meter reads both signs */
	    {HS_READS_VOLTS, 0, true, {20, HS_VOLT}, 2, true},  /* ends belong to the range */
	    {HS_READS_VOLTS, 0, true, {120, HS_VOLT}, 1, true},
	    {HS_READS_VOLTS, 0, true, {300, HS_VOLT}, 1, false},
	    {HS_READS_VOLTS, 0, false, {0, HS_VOLT}, 1, true},
	    {HS_READS_POWER, 145e6, true, {0, HS_DBM}, 0, true},
	    {HS_READS_POWER, 145e6, true, {0.1, HS_WATT}, 0, true},
	    {HS_READS_POWER, 145e6, true, {0.2, HS_WATT}, 0, false},
	    {HS_READS_POWER, 145e6, true, {0, HS_WATT}, 0, false}, /* 0 W has no level */
	    {HS_READS_POWER, 145e6, true, {-30, HS_DBM}, 0, false},
	    {HS_READS_POWER, 2e9, true, {0, HS_DBM}, -1, false},
	    {HS_READS_POWER, 0, true, {0, HS_DBM}, 0, true},
	    {HS_READS_OHMS, 0, true, {1e12, HS_OHM}, 3, true},
	    {HS_READS_AC_VOLTS, 1e3, true, {-12, HS_VOLT}, 4, false},
	    {HS_READS_AC_VOLTS, 1e6, true, {12, HS_VOLT}, -1, false},
	    {HS_READS_AMPS, 0, true, {1, HS_AMP}, -1, false},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		bool inside = !rows[i].inside;
		const hs_range *range = hs_hookup_range(&meter_lead, rows[i].reads, rows[i].freq_hz,
		                                        rows[i].has_value ? &rows[i].value : NULL, &inside);
		const hs_range *want = rows[i].range < 0 ? NULL : &m1_ranges[rows[i].range];
		if (range != want || inside != rows[i].inside)
			fail_msg("row %zu: range %ld, inside %d", i, range ? (long)(range - m1_ranges) : -1L, inside);
	}
	assert_null(hs_hookup_range(&cable_alone, HS_READS_POWER, 0, NULL, NULL));
}

static void measurands_have_names_and_units(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		hs_measurand measurand;
		hs_unit unit;
		bool dead;
	} rows[] = {
	    {"power", HS_READS_POWER, HS_DBM, false},
	    {"volts", HS_READS_VOLTS, HS_VOLT, false},
	    {"ac volts", HS_READS_AC_VOLTS, HS_VOLT, false},
	    {"amps", HS_READS_AMPS, HS_AMP, false},
	    {"ohms", HS_READS_OHMS, HS_OHM, true},
	    {"continuity", HS_READS_CONTINUITY, HS_OHM, true},
	    {"diode", HS_READS_DIODE, HS_VOLT, true},
	    {"frequency", HS_READS_FREQUENCY, HS_HERTZ, false},
	    {"time", HS_READS_TIME, HS_SECOND, false},
	    {"temperature", HS_READS_TEMPERATURE, HS_DEGC, false},
	    {"capacitance", HS_READS_CAPACITANCE, HS_FARAD, true},
	    {"return loss", HS_READS_RETURN_LOSS, HS_DB, false},
	    {"swr", HS_READS_SWR, HS_SWR, false},
	    {"noise rise", HS_READS_NOISE_RISE, HS_DB, false},
	    {"sinad", HS_READS_SINAD, HS_DB, false},
	    {"count", HS_READS_COUNT_OF, HS_UNITLESS, false},
	    {"percent", HS_READS_PERCENT, HS_PERCENT, false},
	    {"loss", HS_READS_LOSS, HS_DB, false},
	    {"peak", HS_READS_PEAK, HS_HERTZ, false},
	    {"dip", HS_READS_DIP, HS_HERTZ, false},
	    {"rate", HS_READS_RATE, HS_UNITLESS, false},
	    {"minimum", HS_READS_MINIMUM, HS_VOLT, false},
	    {"maximum", HS_READS_MAXIMUM, HS_VOLT, false},
	    {"trend", HS_READS_TREND, HS_UNITLESS, false},
	    {"tick", HS_READS_TICK, HS_UNITLESS, false},
	    {"trace", HS_READS_TRACE, HS_DBM, false},
	};
	size_t count;
	const char *const *names = hs_measurand_names(&count);
	assert_int_equal(count, HS_READS_KINDS);
	assert_int_equal(COUNT(rows), HS_READS_KINDS);
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_measurand found = HS_READS_KINDS;
		assert_true(hs_measurand_find(rows[i].name, &found));
		assert_int_equal(found, rows[i].measurand);
		assert_string_equal(hs_measurand_name(found), rows[i].name);
		assert_string_equal(names[found], rows[i].name);
		assert_int_equal(hs_measurand_unit(found), rows[i].unit);
		assert_int_equal(hs_measurand_is_dead(found), rows[i].dead);
	}
	hs_measurand found;
	assert_false(hs_measurand_find("watts", &found));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(both_directions_add_the_loss),
	    cmocka_unit_test(injection_sets_the_source_higher),
	    cmocka_unit_test(each_line_names_part_sign_and_source),
	    cmocka_unit_test(what_no_lead_changes_takes_no_correction),
	    cmocka_unit_test(a_reflection_passes_a_lead_twice),
	    cmocka_unit_test(a_loss_that_is_not_known_is_an_error),
	    cmocka_unit_test(too_many_parts_are_refused),
	    cmocka_unit_test(touching_and_joining),
	    cmocka_unit_test(drawn_from_source_to_meter),
	    cmocka_unit_test(a_hostile_name_drives_no_terminal),
	    cmocka_unit_test(the_range_that_holds_the_value),
	    cmocka_unit_test(measurands_have_names_and_units),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
