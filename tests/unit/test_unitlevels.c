/* Levels, volts and watts against ratings, known before anything is joined: one spoiled thing a row, and the sentence
 * it earns. */
#include "unit_fixture.h"

/* ---- what spoils it ---- */

static void too_high(fixture *f)
{
	f->step.inject.level.value = 20;
	f->step.inject.has_margin = true;
	f->step.inject.margin_why = "it will be fine";
}

static void too_near(fixture *f)
{
	f->step.inject.level.value = 10;
}

static void too_near_no_why(fixture *f)
{
	too_near(f);
	f->step.inject.has_margin = true;
}

static void near_in_volts(fixture *f)
{
	f->step.inject.level = (hs_quantity){0.8, HS_VOLT};
	f->points[J1].accepts = (hs_quantity){1, HS_VOLT};
	f->step.inject.freq_hz = 1000;
	f->step.inject.hookup = NULL;
}

static void no_impedance(fixture *f)
{
	f->step.inject.level = (hs_quantity){0.1, HS_VOLT};
	f->points[J1].impedance_ohm = 0;
	f->step.inject.hookup = NULL;
}

static void unrated_point(fixture *f)
{
	f->points[J1].has_accepts = false;
}

static void source_to_emitter(fixture *f)
{
	f->step.inject.point = J2;
	f->step.inject.at_text = "J2";
	f->points[J2].has_accepts = true;
	f->points[J2].accepts = (hs_quantity){20, HS_DBM};
}

/* Nobody said that a key line makes it transmit. */
static void driven_on(fixture *f)
{
	static hs_emitter driven = {.id = "J2", .watts = 50, .key_seconds = 5};
	f->book.unit.emitters = &driven;
	f->step.power = HS_NEED_ON;
}

static void driven_in_standby(fixture *f)
{
	driven_on(f);
	f->book.unit.has_standby = true;
	f->step.power = HS_NEED_STANDBY;
}

/* With the power off nothing transmits, whatever goes in. */
static void driven_off(fixture *f)
{
	driven_on(f);
	f->step.power = HS_NEED_OFF;
}

static void dc_into_unknown(fixture *f)
{
	f->points[J1].dc_v = 300;
	f->source.instrument = &f->unrated;
}

static void instrument_over(fixture *f)
{
	f->points[J2].gives = (hs_quantity){2, HS_WATT};
}

static void instrument_emitted(fixture *f)
{
	f->step.power = HS_NEED_KEYED;
	f->step.emitter = 0;
	f->step.load = "50 ohm";
	f->step.load_watts = 100;
	f->parts[PAD].rated_w = 0;
}

static void pad_over(fixture *f)
{
	f->parts[PAD].rated_w = 0.5;
}

static void source_pad_over(fixture *f)
{
	f->points[J1].accepts.value = 40;
	f->step.inject.level.value = 28;
}

static void dc_over(fixture *f)
{
	f->points[J2].dc_v = 28;
}

static void dc_into_source(fixture *f)
{
	f->points[J1].dc_v = -12;
}

static void dc_divided_over(fixture *f)
{
	f->points[J2].dc_v = 280;
	f->reading.hookup = &f->probe;
	f->reading.reads = HS_READS_VOLTS;
	f->parts[METER].has_max_rf = false;
}

static void test_spoiled(void **state)
{
	(void)state;
	static const spoiled rows[] = {
	    {too_high, HS_ERROR, LINE_INJECT, "step \"s1\" injects 20 dBm at J1, 3.0 dB above its rating of 17 dBm",
	     "lower the level; no margin allows more than the rating"},
	    {too_near, HS_ERROR, LINE_INJECT,
	     "step \"s1\" injects 10 dBm at J1, only 7.0 dB under its rating of 17 dBm",
	     "keep 10 dB below the rating, or name the margin and why it is enough"},
	    {too_near_no_why, HS_ERROR, LINE_INJECT,
	     "step \"s1\" injects 10 dBm at J1, only 7.0 dB under its rating of 17 dBm",
	     "keep 10 dB below the rating, or name the margin and why it is enough"},
	    {near_in_volts, HS_ERROR, LINE_INJECT,
	     "step \"s1\" injects 0.8 V at J1, only 1.9 dB under its rating of 1 V",
	     "keep 3 dB below the rating, or name the margin and why it is enough"},
	    {no_impedance, HS_ERROR, LINE_INJECT,
	     "step \"s1\" injects 0.1 V at J1, which cannot be compared with its rating of 17 dBm: from V to dBm an "
	     "impedance "
	     "is needed, and "
	     "none was given",
	     "give the level and the rating in one unit, or the point its impedance"},
	    {unrated_point, HS_ERROR, LINE_INJECT,
	     "step \"s1\" injects -3 dBm at J1, and nothing says what that point stands",
	     "declare the point with accepts = the most it takes, so that the level can be compared"},
	    {source_to_emitter, HS_ERROR, LINE_INJECT, "step \"s1\" joins a source to J2, which emits",
	     "a source goes only to an input, never to what emits"},
	    {driven_on, HS_ERROR, LINE_INJECT, "step \"s1\" drives the unit with power \"on\", and drive alone makes J2 transmit",
	     "take power = \"keyed\" with a load at J2; where only a key line makes it transmit, say drive = false in emits"},
	    {driven_in_standby, HS_ERROR, LINE_INJECT, "step \"s1\" drives the unit with power \"standby\", and drive alone makes J2 transmit",
	     "take power = \"keyed\" with a load at J2; where only a key line makes it transmit, say drive = false in emits"},
	    {dc_into_unknown, HS_ERROR, LINE_INJECT,
	     "step \"s1\" joins a source to J1, which carries DC, and nothing says what DC G2 stands",
	     "give the source max = { dc = ... } in the kit"},
	    {instrument_over, HS_ERROR, LINE_READING,
	     "step \"s1\" lets 0.2 W into M1, which stands 20 dBm: J2 gives 2 W and \"meter lead\" takes off 10.0 dB",
	     "put at least 4 dB more in front of the instrument"},
	    {instrument_emitted, HS_ERROR, LINE_READING,
	     "step \"s1\" lets 5 W into M1, which stands 20 dBm: J2 gives 50 W and \"meter lead\" takes off 10.0 dB",
	     "put at least 17 dB more in front of the instrument"},
	    {pad_over, HS_ERROR, LINE_READING, "step \"s1\" puts 1 W into P10, which is rated for 0.5 W",
	     "put a part of a higher rating first, or take less power"},
	    {source_pad_over, HS_ERROR, LINE_INJECT, "step \"s1\" puts 6.31 W into P10, which is rated for 5 W",
	     "put a part of a higher rating first, or take less power"},
	    {dc_over, HS_ERROR, LINE_READING, "step \"s1\" puts 28 V of DC from J2 on M1, which stands 25 V",
	     "put a DC block or a divider before it, or take an instrument that stands it"},
	    {dc_into_source, HS_ERROR, LINE_INJECT, "step \"s1\" puts 12 V of DC from J1 on G1, which stands 5 V",
	     "put a DC block or a divider before it, or take an instrument that stands it"},
	    {dc_divided_over, HS_ERROR, LINE_READING, "step \"s1\" puts 28 V of DC from J2 on M1, which stands 25 V",
	     "put a DC block or a divider before it, or take an instrument that stands it"},
	};
	run_spoiled(rows, sizeof rows / sizeof *rows);
}

/* ---- what is close to the edge and still good ---- */

static void ten_below(fixture *f)
{
	f->step.inject.level.value = 7;
}

static void near_with_why(fixture *f)
{
	too_near(f);
	f->step.inject.has_margin = true;
	f->step.inject.margin_why = "the limiter in front is rated +30 dBm";
}

static void three_below_in_volts(fixture *f)
{
	near_in_volts(f);
	f->step.inject.level.value = 0.7;
}

static void unbound(fixture *f)
{
	f->points[J2].gives = (hs_quantity){1000, HS_WATT};
	f->points[J2].dc_v = 500;
	f->reading.hookup = NULL;
}

static void gives_nothing_when_off(fixture *f)
{
	f->points[J2].gives = (hs_quantity){1000, HS_WATT};
	f->step.power = HS_NEED_OFF;
}

static void dc_divided(fixture *f)
{
	dc_divided_over(f);
	f->points[J2].dc_v = 240;
}

static void just_at_the_rating(fixture *f)
{
	f->parts[METER].max_rf = (hs_quantity){0.1, HS_WATT};
	f->points[J2].gives = (hs_quantity){30, HS_DBM};
}

static void test_good(void **state)
{
	(void)state;
	static void (*const good[])(fixture * f) = {ten_below,         near_with_why,          three_below_in_volts,
	                                            unbound,           gives_nothing_when_off, dc_divided,
	                                            just_at_the_rating,  driven_off};
	run_good(good, sizeof good / sizeof *good);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_spoiled),
	    cmocka_unit_test(test_good),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
