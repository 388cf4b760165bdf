/*
 * Rule 8 with a line-up: a step is refused when any suspect, at its worst, would let too much come to an input inside the unit or to the
 * instrument; and is not when none would.
 */
#include <math.h>
#include "unit_fixture.h"
#include "halfsplit/lineup/lineup.h"

enum { IN, LEVEL, STRAIGHT, PAD10, K1, FINAL, OUT, ELEMENTS };

static const int ways[] = {STRAIGHT, PAD10};
static hs_suspect suspects[] = {{.id = "alc"}, {.id = "k1"}};
static hs_control pad_control = {.id = "pad", .position_count = 2};
static hs_element elements[ELEMENTS];
static hs_lineup lineup = {.id = "way", .elements = elements, .count = ELEMENTS};

static hs_element element(const char *id, hs_element_kind kind, int from, double gain_db)
{
	return (hs_element){.id = id, .kind = kind, .from = from, .gain = {.gain_db = gain_db}, .lo = -1, .locks = -1, .supply = -1,
	                    .detector = -1, .when_control = -1, .control = -1, .openable = -1, .suspect = -1, .point = -1,
	                    .tuned = {.control = -1}, .impedance_ohm = 50};
}

/*
 * J1 -> alc, which holds J2 at 0 dBm -> K1: straight or 10 dB -> q3, 30 dB -> J2. -3 dBm go in; PAD stands at 10 dB: 17 dBm without
 * levelling, 0 dBm with; straight 27 dBm.
 */
static void make_way(fixture *f)
{
	elements[IN] = element("J1", HS_ELEMENT_PORT, -1, 0);
	elements[LEVEL] = element("alc", HS_ELEMENT_LEVELLER, IN, 0);
	elements[LEVEL].detector = OUT;
	elements[LEVEL].level = 0;
	elements[LEVEL].range_db = 30;
	elements[LEVEL].suspect = 0;
	elements[STRAIGHT] = element("straight", HS_ELEMENT_STAGE, LEVEL, 0);
	elements[PAD10] = element("pad10", HS_ELEMENT_STAGE, LEVEL, -10);
	elements[K1] = element("k1", HS_ELEMENT_SWITCH, -1, 0);
	elements[K1].ways = ways;
	elements[K1].way_count = 2;
	elements[K1].control = 0;
	elements[K1].suspect = 1;
	elements[FINAL] = element("q3", HS_ELEMENT_STAGE, K1, 30);
	elements[OUT] = element("J2", HS_ELEMENT_PORT, FINAL, 0);
	elements[IN].point = J1;
	elements[OUT].point = J2;
	f->book.suspects = suspects;
	f->book.suspect_count = 2;
	f->book.lineups = &lineup;
	f->book.lineup_count = 1;
	f->book.unit.controls[0] = pad_control;
	f->book.unit.control_count = 1;
	f->step.set[0] = 2;
	f->points[J2].has_gives = false;
}

static void nothing_wrong(fixture *f)
{
	make_way(f);
	f->parts[METER].max_rf.value = 27; /* 17 dBm with levelling lost, 10 dB of pad in the lead: 20 dB under it */
}

/* 17 dBm - 10 dB = 7 dBm, and 20 dBm of meter is 13 dB more. */
static void far_enough(fixture *f)
{
	make_way(f);
}

static void meter_over(fixture *f)
{
	make_way(f);
	f->parts[METER].max_rf.value = 5;
}

static void meter_near(fixture *f)
{
	make_way(f);
	f->parts[METER].max_rf.value = 12;
}

static void meter_near_with_why(fixture *f)
{
	meter_near(f);
	f->reading.margin_why = "it is rated for a second of 20 dBm";
}

static void meter_over_with_why(fixture *f)
{
	meter_over(f);
	f->reading.margin_why = "it will not happen";
}

/* Levelled it sees -33 dBm; straight through K1 with levelling it is still held; with levelling lost -13 dBm. */
static void final_over(fixture *f)
{
	make_way(f);
	elements[FINAL].has_max = true;
	elements[FINAL].max = -18;
}

static void final_far(fixture *f)
{
	make_way(f);
	elements[FINAL].has_max = true;
	elements[FINAL].max = -12;
}

/* No levelling at all: only K1 stuck at 0 dB is left, which brings -3 dBm to it. */
static void pad_stuck_out(fixture *f)
{
	final_far(f);
	f->parts[METER].max_rf.value = 40;
	elements[LEVEL].detector = -1;
}

/* The same as no suspect: a part that is not in question is taken to be sound. */
static void pad_not_in_question(fixture *f)
{
	pad_stuck_out(f);
	elements[K1].suspect = -1;
	elements[LEVEL].suspect = -1;
}

static void off(fixture *f)
{
	final_over(f);
	f->step.power = HS_NEED_OFF;
}

static void test_refused(void **state)
{
	(void)state;
	static const spoiled rows[] = {
	    {meter_over, HS_ERROR, LINE_READING,
	     "step \"s1\" reads at J2, and with alc lost 7 dBm can come to M1, 2.0 dB above what it stands",
	     "a 20 dB pad before M1 would make it safe"},
	    {meter_over_with_why, HS_ERROR, LINE_READING,
	     "step \"s1\" reads at J2, and with alc lost 7 dBm can come to M1, 2.0 dB above what it stands",
	     "a 20 dB pad before M1 would make it safe"},
	    {meter_near, HS_ERROR, LINE_READING,
	     "step \"s1\" reads at J2, and with alc lost 7 dBm can come to M1, only 5.0 dB under what it stands",
	     "a 6 dB pad before M1 would make it safe; or let the reading say margin, and why it is enough"},
	    {final_over, HS_ERROR, LINE_INJECT,
	     "step \"s1\" injects -3 dBm at J1, and with alc lost -13 dBm can come to q3, 5.0 dB above what it stands (-18 dBm)",
	     "a 6 dB pad before J1 would make it safe, or a level lower by as much"},
	    {pad_stuck_out, HS_ERROR, LINE_INJECT,
	     "step \"s1\" injects -3 dBm at J1, and with k1 stuck in position 1 -3 dBm can come to q3, 9.0 dB above what it stands "
	     "(-12 dBm)",
	     "a 10 dB pad before J1 would make it safe, or a level lower by as much"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		run_spoiled(&rows[i], 1);
}

static void test_good(void **state)
{
	(void)state;
	static void (*const good[])(fixture *f) = {nothing_wrong, far_enough, meter_near_with_why, final_far, pad_not_in_question, off};
	run_good(good, sizeof good / sizeof *good);
}

/* A regulator that no longer regulates puts its input on the meter. */
static void test_dc(void **state)
{
	(void)state;
	enum { FEED, REGULATOR };
	static hs_element dc[2];
	static hs_lineup rail = {.id = "rail", .elements = dc, .count = 2};
	fixture f;
	hs_problems problems;
	make_fixture(&f);
	dc[FEED] = element("feed", HS_ELEMENT_SUPPLY, -1, 0);
	dc[FEED].volts = true;
	dc[FEED].level = 20 * log10(48);
	dc[REGULATOR] = element("u1", HS_ELEMENT_STAGE, FEED, 0);
	dc[REGULATOR].volts = true;
	dc[REGULATOR].holds = true;
	dc[REGULATOR].level = 20 * log10(12);
	dc[REGULATOR].suspect = 0;
	dc[REGULATOR].point = J2;
	f.book.suspects = suspects;
	f.book.suspect_count = 1;
	f.book.lineups = &rail;
	f.book.lineup_count = 1;
	f.step.inject.given = false;
	f.points[J2].has_gives = false;
	f.reading.reads = HS_READS_VOLTS;
	f.reading.unit = HS_VOLT;
	f.reading.freq_hz = 0;
	f.meter.parts = &f.meter_parts[1];
	f.meter.count = 1;
	check(&f, &problems);
	assert_int_equal(problems.count, 1);
	assert_string_equal(problems.items[0].what.message,
	                    "step \"s1\" reads at J2, and with u1 lost 48 V can come to M1, 5.7 dB above what it stands");
	hs_problems_free(&problems);
	f.parts[METER].max_dc_v = 100;
	check(&f, &problems);
	assert_int_equal(problems.count, 0);
	hs_problems_free(&problems);
	dc[REGULATOR].suspect = -1;
	f.parts[METER].max_dc_v = 25;
	check(&f, &problems);
	assert_int_equal(problems.count, 0);
	hs_problems_free(&problems);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_refused),
	    cmocka_unit_test(test_good),
	    cmocka_unit_test(test_dc),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
