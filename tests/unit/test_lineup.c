/*
 * Line-ups: levels worked out by hand, tolerances, the ways switches and joints leave, oscillators, levelling, faults, the worst case.
 */
#include "measure_rows.h"
#include <stdlib.h>
#include <string.h>
#include "halfsplit/lineup/lineup.h"

/* ---- five stages ---- */

enum { J1, FL1, A1, U1, A2, PAD, J2, FIVE };

/* J1 -> FL1 filter -> A1 amplifier -> U1 mixer, 1430 MHz -> A2 amplifier that compresses -> PAD 6 dB -> J2 */
typedef struct five {
	hs_element elements[FIVE];
	hs_lineup lineup;
} five;

static const hs_gain_point filter[] = {{1.4e9, -3.2}, {1.5e9, -3.0}, {1.6e9, -3.4}};
static const hs_gain_point last[] = {{30e6, 22.5}, {70e6, 22.0}, {170e6, 20.0}};

static hs_element element(const char *id, hs_element_kind kind, int from, double gain_db)
{
	return (hs_element){.id = id, .kind = kind, .from = from, .gain = {.gain_db = gain_db}, .lo = -1, .locks = -1, .supply = -1,
	                    .detector = -1, .when_control = -1, .control = -1, .openable = -1, .suspect = -1, .point = -1,
	                    .tuned = {.control = -1}, .impedance_ohm = 50};
}

static void make_five(five *out)
{
	hs_element *e = out->elements;
	e[J1] = element("J1", HS_ELEMENT_PORT, -1, 0);
	e[FL1] = element("FL1", HS_ELEMENT_STAGE, J1, 0);
	e[FL1].gain = (hs_response){.kind = HS_RESPONSE_TABLE, .points = filter, .count = 3, .up_db = 0.5, .down_db = 0.5};
	e[A1] = element("A1", HS_ELEMENT_STAGE, FL1, 20);
	e[A1].gain.up_db = e[A1].gain.down_db = 1;
	e[A1].has_nf = true;
	e[A1].nf_db = 1.5;
	e[U1] = element("U1", HS_ELEMENT_MIXER, A1, -7);
	e[U1].gain.up_db = e[U1].gain.down_db = 0.6;
	e[U1].tuned = (hs_tuning){.given = true, .hz = 1.43e9, .control = -1};
	e[A2] = element("A2", HS_ELEMENT_STAGE, U1, 0);
	e[A2].gain = (hs_response){.kind = HS_RESPONSE_TABLE, .points = last, .count = 3, .up_db = 0.8, .down_db = 0.8};
	e[A2].has_p1db = true;
	e[A2].p1db = 18;
	e[A2].has_nf = true;
	e[A2].nf_db = 4;
	e[PAD] = element("PAD", HS_ELEMENT_STAGE, A2, -6);
	e[PAD].gain.up_db = e[PAD].gain.down_db = 0.1;
	e[J2] = element("J2", HS_ELEMENT_PORT, PAD, 0);
	out->lineup = (hs_lineup){.id = "five", .elements = e, .count = FIVE};
}

static const hs_line_settings plain = {NULL, 0, 0};

static hs_prediction predict(const hs_lineup *lineup, int at, double level, double freq_hz, int to)
{
	hs_prediction got;
	hs_error error = {0};
	hs_injected in = {at, level, freq_hz, false};
	if (!hs_lineup_predict(lineup, &in, to, &plain, NULL, &got, &error))
		fail_msg("%s", error.message);
	return got;
}

/* The same law in watts: out = L / (1 + (L/S)^2)^(1/2), with S such that 1 dB is lost where the output is P1dB. */
static double compressed(double level, double p1db)
{
	double saturated = pow(10, (p1db + 1) / 10) / sqrt(pow(10, 0.2) - 1);
	double linear = pow(10, level / 10);
	return 10 * log10(linear / sqrt(1 + pow(linear / saturated, 2)));
}

static void five_stages_at_three_frequencies(void **state)
{
	(void)state;
	five f;
	make_five(&f);
	static const struct {
		const char *arithmetic;
		double freq_hz, level, at_u1, out_hz, into_p1db, result;
	} rows[] = {
	    /* Far below compression: the sum alone, less the two millionths of a decibel that the law takes at -18 dBm. */
	    {"-50 - 3.2 + 20 - 7 = -40.2; A2 at 30 MHz + 22.5 = -17.7; - 6", 1.4e9, -50, -40.2, 30e6, -17.7, -23.7},
	    {"-50 - 3.0 + 20 - 7 = -40.0; A2 at 70 MHz + 22.0 = -18.0; - 6", 1.5e9, -50, -40.0, 70e6, -18.0, -24.0},
	    {"-50 - 3.4 + 20 - 7 = -40.4; A2 at 170 MHz + 20.0 = -20.4; - 6", 1.6e9, -50, -40.4, 170e6, -20.4, -26.4},
	    /*
	     * -13 dBm: -13 - 3 + 20 - 7 = -3; + 22 = 19 dBm, which is P1dB + 1 dB: exactly 18 dBm comes out; - 6 = 12.
	     */
	    {"at P1dB: -13 - 3 + 20 - 7 + 22 = 19; 18 comes out; - 6", 1.5e9, -13, -3.0, 70e6, 19.0, 12.0},
	    /*
	     * -10 dBm: 22 dBm without compression. S = 19 - 5 log10(10^0.2 - 1) = 19 + 1.164617 = 20.164617; 22 - S = 1.835383;
	     * 10^(0.2 x 1.835383) = 2.328501; 5 log10(3.328501) = 2.611244; 22 - 2.611244 = 19.388756; - 6 = 13.388756.
	     */
	    {"3 dB over: 19.388756 comes out; - 6", 1.5e9, -10, 0.0, 70e6, 22.0, 13.388756},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_prediction got = predict(&f.lineup, J1, rows[i].level, rows[i].freq_hz, J2);
		assert_source(rows[i].arithmetic, got.level, rows[i].result, 2e-6);
		assert_source(rows[i].arithmetic, got.level, compressed(rows[i].into_p1db, 18) - 6, 1e-9);
		assert_source(rows[i].arithmetic, got.lines[2].level, rows[i].at_u1, 1e-9);
		assert_source(rows[i].arithmetic, got.freq_hz, rows[i].out_hz, 1e-3);
		assert_int_equal(got.count, 6); /* J1 itself is where it goes in */
		assert_false(got.nothing);
	}
	/* Between two points of the filter's table, half way: -3.1; A2 between 30 and 70 MHz at 20 MHz lies outside. */
	assert_source("-3.1 at 1.45 GHz", predict(&f.lineup, J1, -50, 1.45e9, A1).level, -50 - 3.1 + 20, 1e-9);
}

static void tolerances_add_by_squares_and_at_their_worst(void **state)
{
	(void)state;
	five f;
	make_five(&f);
	/* 0.5, 1, 0.6, 0.8, 0.1: squares 0.25 + 1 + 0.36 + 0.64 + 0.01 = 2.26; root 1.503330; sum 3.0. */
	hs_prediction low = predict(&f.lineup, J1, -60, 1.5e9, J2);
	assert_source("root-sum-square", low.up_db, 1.503330, 1e-5);
	assert_source("root-sum-square", low.down_db, 1.503330, 1e-5);
	assert_source("all at once", low.worst_up_db, 3.0, 1e-4);
	assert_source("all at once", low.worst_down_db, 3.0, 1e-4);
	/*
	 * 3 dB into compression only what comes behind counts in full: of A1's +1 dB remains compressed(23) - compressed(22), of the
	 * pad's 0.1 dB all of it.
	 */
	hs_prediction high = predict(&f.lineup, J1, -10, 1.5e9, J2);
	assert_source("A1 up, compressed", high.lines[1].up_db, compressed(23, 18) - compressed(22, 18), 1e-9);
	assert_source("A1 down, compressed", high.lines[1].down_db, compressed(22, 18) - compressed(21, 18), 1e-9);
	assert_source("the pad behind", high.lines[4].up_db, 0.1, 1e-9);
	assert_true(high.up_db < 0.5 * low.up_db && high.lines[1].down_db > high.lines[1].up_db);
	assert_source("compression named", high.lines[3].compressed_db, 2.611244, 1e-6);
	assert_source("worst is the chain with all of it", high.worst_up_db, compressed(22 + 2.9, 18) - compressed(22, 18) + 0.1, 1e-9);
}

static void noise_comes_by_friis(void **state)
{
	(void)state;
	five f;
	make_five(&f);
	/*
	 * FL1 3 dB: F = 1.995262; A1 1.5 dB: 1.412538, behind a gain of 0.501187: 0.823121; U1 7 dB: 5.011872, gain so far 50.1187:
	 * 0.080049; A2 4 dB: 2.511886, gain so far 10: 0.151189; PAD 3.981072 behind 1584.89: 0.001881. F = 3.051502, 4.845136 dB.
	 * -173.975188 + 26 + 4.845136 = -143.130052 dBm in 1 Hz at J2.
	 */
	hs_prediction got = predict(&f.lineup, J1, -60, 1.5e9, J2);
	assert_true(got.has_noise);
	assert_source("Friis", got.noise_dbm_hz, -143.130052, 2e-5);
	f.elements[A2].has_nf = false;
	got = predict(&f.lineup, J1, -60, 1.5e9, J2);
	assert_false(got.has_noise);
	assert_string_equal(got.noise_of, "A2");
}

static void refused(const hs_lineup *lineup, hs_injected in, int to, const hs_line_settings *settings, const char *sentence)
{
	hs_prediction got;
	hs_error error = {0};
	memset(&got, 0x5a, sizeof got);
	assert_false(hs_lineup_predict(lineup, &in, to, settings, NULL, &got, &error));
	if (!strstr(error.message, sentence))
		fail_msg("\"%s\" is not in \"%s\"", sentence, error.message);
	assert_int_equal(error.code, HS_BAD_INPUT);
}

static void what_is_not_known_is_an_error(void **state)
{
	(void)state;
	five f;
	make_five(&f);
	refused(&f.lineup, (hs_injected){J1, -50, 1.7e9, false}, J2, &plain,
	        "FL1 in the line-up \"five\": no gain known at 1.7 GHz: the table runs from 1.4 GHz to 1.6 GHz");
	refused(&f.lineup, (hs_injected){J1, -50, 1.44e9, false}, J2, &plain, "A2 in the line-up \"five\": no gain known at 10 MHz");
	refused(&f.lineup, (hs_injected){J1, -50, 1.43e9, false}, J2, &plain, "signal and oscillator have one frequency");
	refused(&f.lineup, (hs_injected){-1, 0, 0, false}, J2, &plain, "nothing goes in at J1");
	refused(&f.lineup, (hs_injected){PAD, 0, 70e6, false}, A1, &plain, "nothing goes in at J1");
	f.elements[FL1].from = A2;
	assert_true(hs_lineup_cycle(&f.lineup) >= 0);
	refused(&f.lineup, (hs_injected){-1, 0, 0, false}, J2, &plain, "feeds itself");
}

/* ---- switches, joints, taps ---- */

static void a_switch_takes_the_way_of_its_position(void **state)
{
	(void)state;
	static const int ways[] = {2, 3, -1};
	hs_element e[] = {element("J1", HS_ELEMENT_PORT, -1, 0), element("W1", HS_ELEMENT_JOINT, 0, -0.2),
	                  element("LOW", HS_ELEMENT_STAGE, 1, -2), element("HIGH", HS_ELEMENT_STAGE, 1, -5),
	                  element("K2", HS_ELEMENT_SWITCH, 1, -0.3), element("TP1", HS_ELEMENT_POINT, 4, -0.1)};
	e[1].openable = 7;
	e[4].ways = ways;
	e[4].way_count = 3;
	e[4].control = 0;
	e[5].has_tap = true;
	e[5].tap = (hs_response){.gain_db = -20, .up_db = 0.5, .down_db = 0.5};
	hs_lineup lineup = {.id = "bank", .elements = e, .count = 6};
	static const struct {
		uint8_t position;
		double level;
	} rows[] = {{1, 10 - 0.2 - 2 - 0.3 - 0.1 - 20}, {2, 10 - 0.2 - 5 - 0.3 - 0.1 - 20}};
	hs_injected in = {0, 10, 145e6, false};
	hs_prediction got;
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_line_settings settings = {&rows[i].position, 1, 0};
		assert_true(hs_lineup_predict(&lineup, &in, 5, &settings, NULL, &got, NULL));
		assert_source("by position", got.level, rows[i].level, 1e-9);
		assert_source("the tap's tolerance", got.up_db, 0.5, 1e-9);
		/* Stuck in LOW, whatever the control says. */
		hs_effect stuck = {.kind = HS_EFFECT_STUCK, .element = 4, .value = 1};
		assert_true(hs_lineup_predict(&lineup, &in, 5, &settings, &stuck, &got, NULL));
		assert_source("stuck", got.level, rows[0].level, 1e-9);
		/* Parted, nothing comes; put in behind it, it does. */
		hs_line_settings parted = {&rows[i].position, 1, 1u << 7};
		assert_true(hs_lineup_predict(&lineup, &in, 5, &parted, NULL, &got, NULL));
		assert_true(got.nothing);
		hs_injected behind = {1, 10, 145e6, false};
		assert_true(hs_lineup_predict(&lineup, &behind, 5, &parted, NULL, &got, NULL));
		assert_source("behind the joint", got.level, rows[i].level + 0.2, 1e-9);
	}
	uint8_t unknown = 0, nowhere = 3;
	refused(&lineup, in, 5, &(hs_line_settings){&unknown, 1, 0}, "where the switch K2 stands is not known");
	refused(&lineup, in, 5, &(hs_line_settings){&nowhere, 1, 0}, "nothing goes in at K2");
	/* Put in at the tap it arrives 20 dB weaker. */
	e[5].point = 3;
	assert_int_equal(hs_lineup_at_point(&lineup, 3), 5);
	assert_int_equal(hs_lineup_at_point(&lineup, -1), -1);
}

/* ---- oscillators and supplies ---- */

enum { REF, SYNTH, BUFFER, RF, MIX, P12, SIX };

static void make_lo(hs_element *e)
{
	e[REF] = element("REF", HS_ELEMENT_OSCILLATOR, -1, 0);
	e[REF].level = 0;
	e[REF].tuned = (hs_tuning){.given = true, .hz = 10e6, .control = -1};
	e[SYNTH] = element("SYNTH", HS_ELEMENT_OSCILLATOR, -1, 0);
	e[SYNTH].level = 2;
	e[SYNTH].level_up_db = e[SYNTH].level_down_db = 1;
	e[SYNTH].tuned = (hs_tuning){.given = true, .hz = 1.43e9, .control = -1};
	e[SYNTH].locks = REF;
	e[SYNTH].has_needs = true;
	e[SYNTH].needs = -10;
	e[BUFFER] = element("BUFFER", HS_ELEMENT_STAGE, SYNTH, 5);
	e[BUFFER].supply = P12;
	e[RF] = element("RF", HS_ELEMENT_PORT, -1, 0);
	e[MIX] = element("MIX", HS_ELEMENT_MIXER, RF, -7);
	e[MIX].lo = BUFFER;
	e[MIX].has_needs = true;
	e[MIX].needs = 4;
	e[P12] = element("P12", HS_ELEMENT_SUPPLY, -1, 0);
	e[P12].volts = true;
	e[P12].level = 20 * log10(12);
	e[P12].level_up_db = 20 * log10(1.04);
	e[P12].level_down_db = -20 * log10(0.96);
}

static void drive_lock_and_supply_act_on_the_mixer(void **state)
{
	(void)state;
	hs_element e[SIX];
	make_lo(e);
	hs_lineup lineup = {.id = "lo", .elements = e, .count = SIX};
	hs_injected in = {RF, -20, 1.5e9, false};
	static const struct {
		const char *what;
		hs_effect fault;
		double level; /* 1: nothing at all */
	} rows[] = {
	    {"healthy: 7 dBm of drive, 3 dB more than it needs", {.kind = HS_EFFECT_NONE, .element = 0, .value = 0}, -27},
	    {"buffer 3 dB low: just enough", {.kind = HS_EFFECT_GAIN, .element = BUFFER, .value = -3}, -27},
	    {"buffer 8 dB low: 5 dB lack", {.kind = HS_EFFECT_GAIN, .element = BUFFER, .value = -8}, -32},
	    {"buffer 24 dB low: 21 dB lack", {.kind = HS_EFFECT_GAIN, .element = BUFFER, .value = -24}, 1},
	    {"no lock", {.kind = HS_EFFECT_NO_LOCK, .element = SYNTH, .value = 0}, 1},
	    {"reference 9 dB low still locks it", {.kind = HS_EFFECT_GAIN, .element = REF, .value = -9}, -27},
	    {"reference 11 dB low does not", {.kind = HS_EFFECT_GAIN, .element = REF, .value = -11}, 1},
	    {"reference dead", {.kind = HS_EFFECT_DEAD, .element = REF, .value = 0}, 1},
	    {"12 V dead", {.kind = HS_EFFECT_DEAD, .element = P12, .value = 0}, 1},
	    {"12 V 5 dB low: 2 dBm of drive, 2 dB lack", {.kind = HS_EFFECT_GAIN, .element = P12, .value = -5}, -29},
	    {"12 V under half", {.kind = HS_EFFECT_GAIN, .element = P12, .value = -6.1}, 1},
	    {"mixer 10 dB down", {.kind = HS_EFFECT_GAIN, .element = MIX, .value = -10}, -37},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_prediction got;
		assert_true(hs_lineup_predict(&lineup, &in, MIX, &plain, &rows[i].fault, &got, NULL));
		if (got.nothing != (rows[i].level > 0))
			fail_msg("%s: %s", rows[i].what, got.nothing ? "nothing" : "something");
		if (!got.nothing)
			assert_source(rows[i].what, got.level, rows[i].level, 1e-9);
		assert_source(rows[i].what, got.freq_hz, 70e6, 1e-3);
	}
	/* Its cable parted, nothing drives the mixer. */
	hs_prediction parted;
	e[BUFFER].kind = HS_ELEMENT_JOINT;
	e[BUFFER].openable = 3;
	assert_true(hs_lineup_predict(&lineup, &in, MIX, &(hs_line_settings){NULL, 0, 1u << 3}, NULL, &parted, NULL));
	assert_true(parted.nothing);
	e[BUFFER].kind = HS_ELEMENT_STAGE;
	e[BUFFER].openable = -1;
	/* Sampled 20 dB below its line, it still drives the mixer with all of it. */
	e[BUFFER].has_tap = true;
	e[BUFFER].tap.gain_db = -20;
	hs_prediction sampled;
	assert_true(hs_lineup_predict(&lineup, &in, MIX, &plain, NULL, &sampled, NULL));
	assert_source("a tap takes nothing off the drive", sampled.level, -27, 1e-9);
	e[BUFFER].has_tap = false;
	/* The oscillator by itself, and the supply in volts: 12 V +/- 4 %. */
	hs_injected none = {-1, 0, 0, false};
	hs_prediction got;
	assert_true(hs_lineup_predict(&lineup, &none, BUFFER, &plain, NULL, &got, NULL));
	assert_source("2 + 5", got.level, 7, 1e-9);
	assert_source("at", got.freq_hz, 1.43e9, 1e-3);
	assert_source("its tolerance", got.up_db, 1, 1e-9);
	assert_true(hs_lineup_predict(&lineup, &none, P12, &plain, NULL, &got, NULL));
	assert_source("12 V", hs_prediction_level(&got, got.level).value, 12, 1e-9);
	assert_source("11.52 V", hs_prediction_level(&got, got.level - got.down_db).value, 11.52, 1e-9);
	assert_source("12.48 V", hs_prediction_level(&got, got.level + got.up_db).value, 12.48, 1e-9);
}

/* From outside, a reference locks the oscillator as the one inside does: by what comes to it. */
static void what_is_put_in_may_lock_an_oscillator(void **state)
{
	(void)state;
	hs_element e[SIX];
	make_lo(e);
	e[REF] = element("EXT", HS_ELEMENT_PORT, -1, 0);
	hs_lineup lineup = {.id = "lo", .elements = e, .count = SIX};
	hs_prediction got;
	hs_injected in = {.element = REF, .level = -9, .freq_hz = 10e6};
	assert_true(hs_lineup_predict(&lineup, &in, BUFFER, &plain, NULL, &got, NULL));
	assert_source("locked at -9 dBm", got.level, 7, 1e-9);
	in.level = -11;
	assert_true(hs_lineup_predict(&lineup, &in, BUFFER, &plain, NULL, &got, NULL));
	assert_true(got.nothing);
}

static void a_regulator_holds_what_it_gives(void **state)
{
	(void)state;
	hs_element e[] = {element("DC28", HS_ELEMENT_SUPPLY, -1, 0), element("P12", HS_ELEMENT_SUPPLY, 0, 0)};
	e[0].volts = e[1].volts = e[1].holds = true;
	e[0].level = 20 * log10(28);
	e[1].level = 20 * log10(12);
	hs_lineup lineup = {.id = "feed", .elements = e, .count = 2};
	hs_injected none = {-1, 0, 0, false};
	static const struct {
		const char *what;
		hs_effect fault;
		double volts;
	} rows[] = {
	    {"healthy", {.kind = HS_EFFECT_NONE, .element = 0, .value = 0}, 12},
	    {"28 V down by half: still enough", {.kind = HS_EFFECT_GAIN, .element = 0, .value = -6.0205999132796239}, 12},
	    {"28 V down to 2.8", {.kind = HS_EFFECT_GAIN, .element = 0, .value = -20}, 2.8},
	    {"the regulator itself down by half, though 28 V come", {.kind = HS_EFFECT_GAIN, .element = 1, .value = -6.0205999132796239}, 6},
	    {"lost: all of it", {.kind = HS_EFFECT_LOST, .element = 1, .value = 0}, 28},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_prediction got;
		assert_true(hs_lineup_predict(&lineup, &none, 1, &plain, &rows[i].fault, &got, NULL));
		assert_source(rows[i].what, hs_prediction_level(&got, got.level).value, rows[i].volts, 1e-9);
	}
}

/* 28 V to 12 V are 7.36 dB to spare: 20 V behind the fuse still leave the stage its 12. */
static void a_regulator_keeps_its_stage_fed(void **state)
{
	(void)state;
	hs_element e[] = {element("DC28", HS_ELEMENT_SUPPLY, -1, 0), element("FUSE", HS_ELEMENT_SUPPLY, 0, 0),
	                  element("P12", HS_ELEMENT_SUPPLY, 1, 0), element("J1", HS_ELEMENT_PORT, -1, 0), element("A1", HS_ELEMENT_STAGE, 3, 20)};
	e[0].level = 20 * log10(28);
	e[2].level = 20 * log10(12);
	e[2].holds = true;
	e[4].supply = 2;
	hs_lineup lineup = {.id = "fed", .elements = e, .count = 5};
	hs_injected in = {3, -30, 145e6, false};
	static const struct {
		hs_effect fault;
		double level; /* 1: nothing */
	} rows[] = {
	    {{.kind = HS_EFFECT_GAIN, .element = 1, .value = -3}, -10},
	    {{.kind = HS_EFFECT_GAIN, .element = 0, .value = -7}, -10},
	    {{.kind = HS_EFFECT_GAIN, .element = 2, .value = -3}, -13},
	    {{.kind = HS_EFFECT_GAIN, .element = 1, .value = -10}, -20 + 7.3595357},
	    {{.kind = HS_EFFECT_GAIN, .element = 1, .value = -14}, 1},
	    {{.kind = HS_EFFECT_DEAD, .element = 1, .value = 0}, 1},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_prediction got;
		assert_true(hs_lineup_predict(&lineup, &in, 4, &plain, &rows[i].fault, &got, NULL));
		assert_int_equal(got.nothing, rows[i].level > 0);
		if (!got.nothing)
			assert_source("fed", got.level, rows[i].level, 1e-6);
	}
}

static void a_rail_may_be_below_ground(void **state)
{
	(void)state;
	hs_element e[SIX];
	make_lo(e);
	e[P12].negative = true;
	hs_lineup lineup = {.id = "lo", .elements = e, .count = SIX};
	hs_injected none = {.element = -1};
	hs_prediction got;
	assert_true(hs_lineup_predict(&lineup, &none, P12, &plain, NULL, &got, NULL));
	assert_source("-12 V", hs_prediction_level(&got, got.level).value, -12, 1e-9);
	assert_source("-12.48 V", hs_prediction_level(&got, got.level + got.up_db).value, -12.48, 1e-9);
}

/* ---- levelling ---- */

enum { IN, LEVEL, DRIVER, FINAL, COUPLER, DET, OUT, SEVEN };

static void levelling_holds_the_output_while_the_input_suffices(void **state)
{
	(void)state;
	hs_element e[SEVEN] = {element("IN", HS_ELEMENT_PORT, -1, 0),        element("LEVEL", HS_ELEMENT_LEVELLER, IN, 0),
	                       element("DRIVER", HS_ELEMENT_STAGE, LEVEL, 20), element("FINAL", HS_ELEMENT_STAGE, DRIVER, 22),
	                       element("COUPLER", HS_ELEMENT_STAGE, FINAL, -0.5), element("DET", HS_ELEMENT_ARM, COUPLER, -30),
	                       element("OUT", HS_ELEMENT_PORT, COUPLER, 0)};
	e[LEVEL].detector = DET;
	e[LEVEL].level = 17; /* 47 dBm on the line */
	e[LEVEL].level_up_db = e[LEVEL].level_down_db = 0.5;
	e[LEVEL].range_db = 15;
	e[LEVEL].when_control = 0;
	e[LEVEL].when_position = 1;
	e[DRIVER].gain.up_db = e[DRIVER].gain.down_db = 2;
	e[FINAL].has_p1db = true;
	e[FINAL].p1db = 49;
	hs_lineup lineup = {.id = "alc", .elements = e, .count = SEVEN};
	uint8_t on = 1, off = 2;
	hs_line_settings closed = {&on, 1, 0}, opened = {&off, 1, 0};
	hs_prediction got;
	/* 10 dBm: 10 + 20 + 22 = 52, more than enough. OUT is held at 47 whatever the driver does. */
	hs_injected in = {IN, 10, 145e6, false};
	assert_true(hs_lineup_predict(&lineup, &in, OUT, &closed, NULL, &got, NULL));
	assert_source("held", got.level, 47, 1e-6);
	assert_source("only the loop's own tolerance is left", got.up_db, 0.5, 1e-6);
	/* The loop open: 52 into 49 dBm of P1dB, less 0.5 dB. */
	assert_true(hs_lineup_predict(&lineup, &in, OUT, &opened, NULL, &got, NULL));
	assert_source("loop open", got.level, compressed(52, 49) - 0.5, 1e-9);
	/* Or opened at a joint behind the detector: it sees nothing, and turns nothing down. */
	e[DET].kind = HS_ELEMENT_JOINT;
	e[DET].openable = 2;
	assert_true(hs_lineup_predict(&lineup, &in, OUT, &(hs_line_settings){&on, 1, 1u << 2}, NULL, &got, NULL));
	assert_source("loop parted", got.level, compressed(52, 49) - 0.5, 1e-9);
	assert_true(hs_lineup_predict(&lineup, &in, OUT, &closed, NULL, &got, NULL));
	assert_source("joined again", got.level, 47, 1e-6);
	e[DET].kind = HS_ELEMENT_ARM;
	e[DET].openable = -1;
	/* -2 dBm: 40 dBm in front of the coupler is too little; the loop does nothing. */
	in.level = -2;
	assert_true(hs_lineup_predict(&lineup, &in, OUT, &closed, NULL, &got, NULL));
	assert_source("not enough", got.level, compressed(40, 49) - 0.5, 1e-9);
	in.level = 10;
	static const struct {
		const char *what;
		hs_effect fault;
		double level;
	} rows[] = {
	    {"driver 3 dB low: the loop makes up for it", {.kind = HS_EFFECT_GAIN, .element = DRIVER, .value = -3}, 47},
	    {"detector reads 2 dB high: it holds 2 dB less", {.kind = HS_EFFECT_GAIN, .element = DET, .value = 2}, 45},
	    {"detector dead: full power", {.kind = HS_EFFECT_DEAD, .element = DET, .value = 0}, 0},
	    {"levelling lost: full power", {.kind = HS_EFFECT_LOST, .element = LEVEL, .value = 0}, 0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		assert_true(hs_lineup_predict(&lineup, &in, OUT, &closed, &rows[i].fault, &got, NULL));
		assert_source(rows[i].what, got.level, rows[i].level > 0 ? rows[i].level : compressed(52, 49) - 0.5, 1e-6);
	}
	hs_effect held = {.kind = HS_EFFECT_HELD, .element = LEVEL, .value = 0};
	assert_true(hs_lineup_predict(&lineup, &in, OUT, &closed, &held, &got, NULL));
	assert_source("held back by all of 15 dB", got.level, compressed(52 - 15, 49) - 0.5, 1e-6);
	/* What protection looks at: the worst of all that, tolerances up: driver + 2. */
	hs_worst worst;
	assert_true(hs_lineup_worst(&lineup, &in, OUT, &closed, NULL, &worst, NULL));
	assert_source("levelling lost is the worst", worst.level, compressed(54, 49) - 0.5, 1e-9);
	assert_int_equal(worst.effect.kind, HS_EFFECT_LOST);
	assert_int_equal(worst.effect.element, LEVEL);
	/* The final stands 33 dBm; healthy it sees 47 + 0.5 - 22 and a little; with the loop lost 10 + 20 + 2. */
	e[FINAL].has_max = true;
	e[FINAL].max = 30;
	assert_true(hs_lineup_overdriven(&lineup, &in, OUT, 0, &closed, NULL, &worst, NULL));
	assert_int_equal(worst.element, FINAL);
	assert_source("32 dBm into 30", worst.over_db, 2, 1e-9);
	bool none[1] = {false};
	e[LEVEL].suspect = 0;
	assert_true(hs_lineup_overdriven(&lineup, &in, OUT, 0, &closed, none, &worst, NULL));
	assert_int_equal(worst.element, -1);
}

/* ---- faults ---- */

static void faults_have_their_slope_against_frequency(void **state)
{
	(void)state;
	static const struct {
		const char *text, *arithmetic;
		double z0, freq_hz, loss_db;
	} rows[] = {
	    {"open 0.1 pF", "1/(2 pi 100 MHz 0.1 pF) = 15915.494; / 100; 10 log10(1 + 159.15494^2)", 50, 100e6, 44.036574},
	    {"open 0.1 pF", "ten times the frequency: 20 dB less, nearly", 50, 1e9, 24.053514},
	    {"poor ground", "10 nH: 2 pi 1 GHz 10 nH = 62.831853; 10 log10(1 + 0.62831853^2)", 50, 1e9, 1.445070},
	    {"series 10 nH", "at 10 GHz 16.07 dB: rising", 50, 10e9, 16.072235},
	    {"resistive 100 ohm", "20 log10(1 + 100/100)", 50, 1e6, 6.020600},
	    {"resistive 100 ohm", "the same at DC", 50, 0, 6.020600},
	    {"leaky 25 ohm", "20 log10(1 + 50/50)", 50, 1e9, 6.020600},
	    {"short", "0.5 ohm: 20 log10(1 + 50)", 50, 1e9, 34.151404},
	    {"dead", "not a loss in line", 50, 1e9, 0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_effect effect;
		assert_true(hs_effect_read(rows[i].text, &effect, NULL));
		assert_source(rows[i].arithmetic, hs_effect_loss(&effect, rows[i].z0, rows[i].freq_hz), rows[i].loss_db, 1e-5);
	}
	hs_effect gap = {.kind = HS_EFFECT_OPEN, .element = 0, .value = HS_STRAY_FARAD};
	assert_true(isinf(hs_effect_loss(&gap, 50, 0)));
}

static void words_of_faults(void **state)
{
	(void)state;
	static const struct {
		const char *text, *sentence;
	} bad[] = {
	    {"ded", "\"ded\" is nothing a fault does"},
	    {"gain", "\"gain\" does not say by how much"},
	    {"gain -6 dBm", "\"-6 dBm\" is no value for \"gain\""},
	    {"dead 6 dB", "\"dead\" stands alone"},
	    {"series -1 nH", "\"-1 nH\" is no value for \"series\""},
	};
	hs_effect effect = {.kind = HS_EFFECT_NONE, .element = 7, .value = 7};
	hs_buf back;
	hs_buf_init(&back);
	for (size_t i = 0; i < COUNT(bad); i++) {
		hs_error error = {0};
		assert_false(hs_effect_read(bad[i].text, &effect, &error));
		if (!strstr(error.message, bad[i].sentence) || !error.hint[0])
			fail_msg("\"%s\": \"%s\"", bad[i].text, error.message);
		assert_int_equal(effect.element, 7);
	}
	static const char *const good[] = {"dead", "gain -6 dB", "drift -4 dB", "drift -4 dB in 15 min", "missing", "low 20 %", "open 0.2 pF", "series 20 nH", "resistive 20 ohm",
	                                   "leaky 100 ohm", "short 2 ohm", "no lock", "lost", "held"};
	for (size_t i = 0; i < COUNT(good); i++) {
		assert_true(hs_effect_read(good[i], &effect, NULL));
		hs_buf_clear(&back);
		hs_effect_print(&back, &effect);
		hs_effect again;
		assert_true(hs_effect_read(back.data, &again, NULL));
		/* Said as decibels, the percents of a supply keep two places behind the point. */
		assert_true(again.kind == effect.kind && fabs(again.value - effect.value) < 0.005 && again.warm_minutes == effect.warm_minutes);
	}
	hs_buf_free(&back);
}

static void a_fault_that_changes_nothing_is_told(void **state)
{
	(void)state;
	hs_element e[SIX];
	make_lo(e);
	e[BUFFER].impedance_ohm = 0;
	hs_lineup lineup = {.id = "lo", .elements = e, .count = SIX};
	static const struct {
		hs_effect effect;
		bool matters;
	} rows[] = {
	    {{.kind = HS_EFFECT_NO_LOCK, .element = SYNTH, .value = 0}, true},   {{.kind = HS_EFFECT_NO_LOCK, .element = BUFFER, .value = 0}, false}, {{.kind = HS_EFFECT_GAIN, .element = MIX, .value = 0}, false},
	    {{.kind = HS_EFFECT_GAIN, .element = MIX, .value = -1}, true},       {{.kind = HS_EFFECT_STUCK, .element = MIX, .value = 1}, false},      {{.kind = HS_EFFECT_LOST, .element = MIX, .value = 0}, false},
	    {{.kind = HS_EFFECT_RESISTIVE, .element = MIX, .value = 10}, true},  {{.kind = HS_EFFECT_RESISTIVE, .element = BUFFER, .value = 10}, false},
	    {{.kind = HS_EFFECT_DEAD, .element = P12, .value = 0}, true},        {{.kind = HS_EFFECT_NONE, .element = MIX, .value = 0}, false},
	};
	for (size_t i = 0; i < COUNT(rows); i++)
		assert_int_equal(hs_effect_matters(&lineup, &rows[i].effect), rows[i].matters);
	e[BUFFER].supply = -1;
	hs_effect idle = {.kind = HS_EFFECT_DEAD, .element = P12, .value = 0};
	assert_false(hs_effect_matters(&lineup, &idle));
}

/* ---- in words and drawn ---- */

static void the_budget_in_words(void **state)
{
	(void)state;
	five f;
	make_five(&f);
	hs_prediction got = predict(&f.lineup, J1, -10, 1.5e9, J2);
	hs_buf out;
	hs_buf_init(&out);
	hs_prediction_print(&out, &f.lineup, &got, "  ");
	static const char *const parts[] = {"  FL1                -3.00 dB +", "-> -13 dBm\n", "from here on at 70 MHz\n",
	                                    "compressed by 2.61 dB\n", "-> 13.39 dBm\n", "root-sum-square", "all at their worst",
	                                    "noise          -1"};
	for (size_t i = 0; i < COUNT(parts); i++)
		if (!strstr(out.data, parts[i]))
			fail_msg("\"%s\" is not in\n%s", parts[i], out.data);
	hs_buf_free(&out);
}

static void the_level_diagram(void **state)
{
	(void)state;
	static const hs_level_row rows[] = {{"J1", true, -40, -40, false, 0},
	                                    {"TP1", true, -64, -62, true, -63.2},
	                                    {"TP2", true, -45, -41, true, -71},
	                                    {"J2", true, -11, -5, false, 0}};
	hs_buf out;
	hs_buf_init(&out);
	hs_level_diagram(&out, rows, 4, 2, HS_DBM, 60);
	assert_string_equal(out.data, "             -80                                  0 dBm\n"
	                              "  J1         .    .   .    .    |   .    .   .    .\n"
	                              "  TP1        .    . [o.    .    .   .    .   .    .    -63.2\n"
	                              "> TP2        .   o.   .    . [=].   .    .   .    .    -71.0\n"
	                              "  J2         .    .   .    .    .   .    .   [==] .\n");
	for (size_t width = 0; width < 200; width += 13) {
		hs_buf_clear(&out);
		hs_level_diagram(&out, rows, 4, 0, HS_DBM, width);
		for (const char *line = out.data; *line; line += strcspn(line, "\n") + 1)
			assert_true(strcspn(line, "\n") <= (width < 60 ? 60 : width));
	}
	hs_buf_free(&out);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(five_stages_at_three_frequencies),
	    cmocka_unit_test(tolerances_add_by_squares_and_at_their_worst),
	    cmocka_unit_test(noise_comes_by_friis),
	    cmocka_unit_test(what_is_not_known_is_an_error),
	    cmocka_unit_test(a_switch_takes_the_way_of_its_position),
	    cmocka_unit_test(drive_lock_and_supply_act_on_the_mixer),
	    cmocka_unit_test(what_is_put_in_may_lock_an_oscillator),
	    cmocka_unit_test(a_regulator_holds_what_it_gives),
	    cmocka_unit_test(a_regulator_keeps_its_stage_fed),
	    cmocka_unit_test(a_rail_may_be_below_ground),
	    cmocka_unit_test(levelling_holds_the_output_while_the_input_suffices),
	    cmocka_unit_test(faults_have_their_slope_against_frequency),
	    cmocka_unit_test(words_of_faults),
	    cmocka_unit_test(a_fault_that_changes_nothing_is_told),
	    cmocka_unit_test(the_budget_in_words),
	    cmocka_unit_test(the_level_diagram),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
