/* The simulated unit: what it shows, by whom that was said; and the spread of what instruments make of it. */
#include "words_bench.h"

#include <math.h>
#include "halfsplit/sim/sim.h"

#define SEEDS 10000

static const char kit_text[] =
    "lead \"L\" {}\n"
    "pad \"P\" { loss = \"10 dB\", u = \"0.3 dB\", rated = \"20 W\", to = \"3 GHz\" }\n"
    "instrument \"D\" { reads = { volts = { from = \"-60 V\", to = \"60 V\", u = \"100 mV\" } } }\n"
    "instrument \"M\" { reads = \"power\", from = \"-60 dBm\", to = \"20 dBm\", freq = \"1 MHz .. 6 GHz\", u = \"k2 0.4 dB\", impedance = \"50 ohm\",\n"
    "  max = { rf = \"27 dBm\" } }\n"
    "hookup \"leads\" { \"L\", \"D\" }\n"
    "hookup \"meter\" { \"P\", \"M\" }\n"
    "lead \"L2\" {}\n"
    "instrument \"G\" { gives = { from = \"-60 dBm\", to = \"5 dBm\", freq = \"1 MHz .. 6 GHz\", u = \"0.5 dB\" }, impedance = \"50 ohm\" }\n"
    "hookup \"source\" { \"L2\", \"G\" }\n";

static const char book_text[] =
    "unit { supply = { dc = \"12 V\" }, switch = \"the knob\" }\n"
    "point \"T\" { dc = \"12 V\" }\n"
    "point \"J\" { gives = \"10 dBm\", impedance = \"50 ohm\" }\n"
    "suspect \"a\" { modes = { \"low\", \"gone\" }, shows = { low = { T = \"3 V\" }, gone = { volts = \"OL\", lamp = \"dark\" } } }\n"
    "suspect \"b\" { modes = { \"odd\" }, shows = { odd = { [\"pair/two\"] = \"7 V\" } } }\n"
    "suspect \"amp\" { modes = { \"weak\", \"odd\", \"fades\", \"crackles\" }, intermittent = { crackles = \"1 in 4\" }, shows = { odd = { line = \"-30 dBm\" } } }\n"
    "point \"IN\" { accepts = \"20 dBm\", impedance = \"50 ohm\" } point \"OUT\" { gives = \"10 dBm\", impedance = \"50 ohm\" }\n"
    "lineup \"way\" { impedance = \"50 ohm\", port { \"IN\" },\n"
    "  stage { \"amp\", gain = \"20 dB +/- 1 dB\", faults = { weak = \"gain -6 dB\", odd = \"gain -6 dB\",\n"
    "    fades = \"drift -6 dB in 10 min\", crackles = \"gain -20 dB\" } },\n"
    "  stage { \"filter\", loss = \"3 dB +/- 0.5 dB\" }, port { \"OUT\" } }\n"
    "healthy { lamp = \"lit\", stamped = \"5 dB +/- 2 dB\" }\n"
    "step \"volts\" { power = \"on\", read = { \"volts\", at = \"T\", hookup = \"leads\" }, limits = \"12 V +/- 1 V\", ok = \"level\", otherwise = \"end\" }\n"
    "step \"level\" { power = \"on\", read = { \"power\", at = \"J\", hookup = \"meter\", freq = \"100 MHz\" }, limits = \"5 dBm +/- 2 dB\", ok = \"line\", otherwise = \"end\" }\n"
    "step \"line\" { power = \"on\", minutes = 5, inject = { \"-20 dBm\", at = \"IN\", freq = \"100 MHz\", hookup = \"source\" },\n"
    "  read = { \"power\", at = \"OUT\", hookup = \"meter\" }, expect = { \"way\", worst = true, wider = \"1 dB\" }, ok = \"stamped\", otherwise = \"end\" }\n"
    "step \"stamped\" { power = \"any\", read = { \"loss\", asks = \"Read the label.\" }, next = \"pair\", unread = \"pair\" }\n"
    "step \"pair\" { power = \"on\", collect = { { \"one\", \"volts\", at = \"T\", hookup = \"leads\", limits = \"12 V +/- 1 V\" },\n"
    "  { \"two\", \"volts\", at = \"T\", hookup = \"leads\", limits = \"12 V +/- 1 V\" } }, ok = \"lamp\", otherwise = \"end\" }\n"
    "step \"lamp\" { look = \"Lit?\", power = \"on\", answers = { { \"lit\", to = \"new\" }, { \"dark\", to = \"end\" } } }\n"
    "step \"new\" { replace = \"A\", outside = true, cures = { \"a\" }, next = \"end\" }\n"
    "step \"end\" { finding = { \"a\", \"b\", \"amp\" }, separated = false }\n";

typedef struct played {
	hs_sources *kit_sources, *sources;
	hs_kit *kit;
	hs_book *book;
	const hs_playbook *playbook;
	hs_engine *engine;
	hs_sim *sim;
} played;

static int open_played(void **state)
{
	static played p;
	hs_error error = {0};
	hs_problems problems = {0};
	hs_buf whole;
	hs_buf_init(&whole);
	hs_buf_printf(&whole, "%s%s", HEAD, book_text);
	p.kit_sources = hs_sources_from_text("kit.lua", kit_text, strlen(kit_text), &error);
	p.kit = hs_kit_load(p.kit_sources, HS_PLACES_EXACT, &problems, &error);
	p.sources = hs_sources_from_text("x.lua", whole.data, whole.length, &error);
	p.book = p.kit != NULL ? hs_book_open(p.sources, p.kit, HS_PLACES_EXACT, &problems, &error) : NULL;
	if (p.book == NULL)
		fail_msg("%s:%d: %s", error.file, error.line, error.message);
	hs_playbook_check(hs_book_playbook(p.book), &problems);
	no_problems(&problems);
	p.playbook = hs_book_playbook(p.book);
	p.engine = hs_engine_new(p.playbook, "Ines", &error);
	p.sim = hs_sim_new(p.playbook);
	hs_buf_free(&whole);
	*state = &p;
	return 0;
}

static int close_played(void **state)
{
	played *p = *state;
	hs_sim_free(p->sim);
	hs_engine_free(p->engine);
	hs_book_free(p->book);
	hs_kit_free(p->kit);
	hs_sources_free(p->sources);
	hs_sources_free(p->kit_sources);
	return 0;
}

static hs_ask ask_at(const played *p, const char *step, int item, hs_ask_kind kind)
{
	hs_ask ask = {.kind = kind, .step = hs_playbook_step(p->playbook, step), .item = item};
	assert_true(ask.step >= 0);
	return ask;
}

static hs_sim_fault fault_of(const played *p, const char *name)
{
	hs_sim_fault fault;
	hs_error error = {0};
	if (!hs_sim_fault_find(p->playbook, name, &fault, &error))
		fail_msg("%s", error.message);
	return fault;
}

static void types(played *p, const hs_ask *ask, const char *wanted)
{
	hs_buf text;
	hs_error error = {0};
	hs_buf_init(&text);
	if (!hs_sim_answer(p->sim, p->engine, ask, &text, &error))
		fail_msg("%s", error.message);
	assert_string_equal(text.data, wanted);
	hs_buf_free(&text);
}

/* Who says it: the fault of this reading, of the step, of the point; a unit in order; the middle of the limits. */
static const struct {
	const char *fault, *step;
	int item;
	hs_ask_kind kind;
	const char *typed;
} rows[] = {
    {"none", "volts", 0, HS_ASK_READ, "12.00 V"},      {"a/low", "volts", 0, HS_ASK_READ, "3.00 V"},
    {"a/gone", "volts", 0, HS_ASK_READ, "OL"},         {"none", "level", 0, HS_ASK_READ, "-5.00 dBm"},
    {"none", "stamped", 0, HS_ASK_READ, "5.000 dB"},   {"b/odd", "pair", 0, HS_ASK_READ, "12.00 V"},
    {"b/odd", "pair", 1, HS_ASK_READ, "7.00 V"},       {"a/low", "pair", 1, HS_ASK_READ, "3.00 V"},
    {"none", "lamp", -1, HS_ASK_CHOOSE, "lit"},        {"a/gone", "lamp", -1, HS_ASK_CHOOSE, "dark"},
    /* -20 dBm, 20 dB of gain, 3 dB of loss; the pad takes 10 dB more. A fault strikes its element; what it is said to show outranks that. */
    {"none", "line", 0, HS_ASK_READ, "-13.00 dBm"},    {"amp/weak", "line", 0, HS_ASK_READ, "-19.00 dBm"},
    {"amp/odd", "line", 0, HS_ASK_READ, "-40.00 dBm"}, {"a/low", "line", 0, HS_ASK_READ, "-13.00 dBm"},
    {"a", "lamp", -1, HS_ASK_CHOOSE, "lit"},
};

static void says_what_was_said(void **state)
{
	played *p = *state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_ask ask = ask_at(p, rows[i].step, rows[i].item, rows[i].kind);
		hs_sim_begin(p->sim, fault_of(p, rows[i].fault), 0);
		types(p, &ask, rows[i].typed);
	}
}

static void a_new_part_cures(void **state)
{
	played *p = *state;
	hs_ask volts = ask_at(p, "volts", 0, HS_ASK_READ), fitted = ask_at(p, "new", -1, HS_ASK_FITTED);
	hs_sim_begin(p->sim, fault_of(p, "a/low"), 0);
	types(p, &volts, "3.00 V");
	hs_sim_done(p->sim, p->engine, &fitted);
	types(p, &volts, "12.00 V");
	hs_sim_begin(p->sim, fault_of(p, "b/odd"), 0);
	hs_sim_done(p->sim, p->engine, &fitted);
	assert_false(hs_sim_cured(p->sim));
}

/*
 * Over many seeds: the mean is the nominal value, the spread that of what was declared, nothing lies outside it. A rectangle of half-width w has
 * a standard deviation of w/sqrt 3; of independent ones the squares add.
 */
static const struct {
	const char *step;
	double nominal, deviation, most;
} spreads[] = {
    {"volts", 12.0, 0.1 / 1.7320508075688772, 0.1},
    /* the meter's k = 2 figure is two standard deviations; the pad is a rectangle */
    {"level", -5.0, 0.26457513110645906, 0.2 * 1.7320508075688772 + 0.3},
    /* rectangles of 1 dB and 0.5 dB of the line-up, and the same meter: the root of 1.25 / 3 + 0.07 */
    {"line", -13.0, 0.69761498455448908, 1.5 + 0.2 * 1.7320508075688772 + 0.3},
    {"stamped", 5.0, 2.0 / 1.7320508075688772, 2.0},
};

static void readings_spread_as_declared(void **state)
{
	played *p = *state;
	for (size_t i = 0; i < sizeof spreads / sizeof *spreads; i++) {
		hs_ask ask = ask_at(p, spreads[i].step, 0, HS_ASK_READ);
		double sum = 0.0, squares = 0.0;
		for (uint64_t seed = 1; seed <= SEEDS; seed++) {
			hs_entry entry;
			hs_error error = {0};
			hs_sim_begin(p->sim, HS_SIM_IN_ORDER, seed);
			assert_true(hs_sim_reading(p->sim, p->engine, &ask, &entry, &error));
			double off = entry.quantity.value - spreads[i].nominal;
			assert_true(fabs(off) <= spreads[i].most + entry.step);
			sum += off;
			squares += off * off;
		}
		double deviation = sqrt(squares / SEEDS - (sum / SEEDS) * (sum / SEEDS));
		/* Four standard errors of the mean; five per cent of the deviation is more than six of its own. */
		assert_true(fabs(sum / SEEDS) < 4.0 * spreads[i].deviation / sqrt((double)SEEDS));
		assert_true(fabs(deviation / spreads[i].deviation - 1.0) < 0.05);
	}
}

static void a_seed_is_a_unit(void **state)
{
	played *p = *state;
	hs_ask volts = ask_at(p, "volts", 0, HS_ASK_READ), again = ask_at(p, "pair", 0, HS_ASK_READ);
	hs_entry first, second, other;
	hs_error error = {0};
	hs_sim_begin(p->sim, HS_SIM_IN_ORDER, 7);
	assert_true(hs_sim_reading(p->sim, p->engine, &volts, &first, &error));
	/* The error of the meter is the same wherever it reads, so a difference is free of it. */
	assert_true(hs_sim_reading(p->sim, p->engine, &again, &second, &error));
	assert_true(first.quantity.value == second.quantity.value);
	hs_sim_begin(p->sim, HS_SIM_IN_ORDER, 7);
	assert_true(hs_sim_reading(p->sim, p->engine, &volts, &second, &error));
	assert_true(first.quantity.value == second.quantity.value);
	hs_sim_begin(p->sim, HS_SIM_IN_ORDER, 8);
	assert_true(hs_sim_reading(p->sim, p->engine, &volts, &other, &error));
	assert_true(first.quantity.value != other.quantity.value);
}

/* At the corners every element stands at its end, and the meter errs as far as it can. */
static void corners_are_the_ends(void **state)
{
	played *p = *state;
	hs_ask line = ask_at(p, "line", 0, HS_ASK_READ);
	hs_entry upper, lower, weak;
	hs_error error = {0};
	double most = 1.5 + 0.2 * 1.7320508075688772 + 0.3;
	hs_sim_begin(p->sim, HS_SIM_IN_ORDER, HS_SIM_UPPER);
	assert_true(hs_sim_reading(p->sim, p->engine, &line, &upper, &error));
	hs_sim_begin(p->sim, HS_SIM_IN_ORDER, HS_SIM_LOWER);
	assert_true(hs_sim_reading(p->sim, p->engine, &line, &lower, &error));
	assert_true(fabs(fabs(upper.quantity.value - lower.quantity.value) - 2.0 * most) <= 2.0 * upper.step);
	/* A fault and the unit it is in are two things. */
	hs_sim_begin(p->sim, fault_of(p, "amp/weak"), HS_SIM_UPPER);
	assert_true(hs_sim_reading(p->sim, p->engine, &line, &weak, &error));
	assert_true(fabs(upper.quantity.value - weak.quantity.value - 6.0) <= upper.step);
}

static double read_at(played *p, const hs_ask *ask)
{
	hs_entry entry;
	hs_error error = {0};
	if (!hs_sim_reading(p->sim, p->engine, ask, &entry, &error))
		fail_msg("%s", error.message);
	return entry.quantity.value;
}

/* "1 in 4": of 10000 readings 2500 are bad, give or take four standard deviations, 4 * sqrt(10000 * 0.25 * 0.75) = 173. */
static void what_is_intermittent_comes_at_its_rate(void **state)
{
	played *p = *state;
	hs_ask line = ask_at(p, "line", 0, HS_ASK_READ);
	int bad = 0, changes = 0;
	double before = 0.0;
	hs_sim_begin(p->sim, fault_of(p, "amp/crackles"), 11);
	for (int i = 0; i < 10000; i++) {
		double level = read_at(p, &line);
		/* The same reading asked for twice is one reading. */
		assert_true(read_at(p, &line) == level);
		bad += level < -23.0;
		changes += i > 0 && level != before;
		before = level;
		hs_sim_done(p->sim, p->engine, &line);
	}
	assert_in_range(bad, 2500 - 173, 2500 + 173);
	/* It comes and goes, and is no run of one kind behind one of the other. */
	assert_in_range(changes, 3500, 4000);
	hs_sim_begin(p->sim, fault_of(p, "amp/crackles"), 0);
	for (int i = 0; i < 20; i++, hs_sim_done(p->sim, p->engine, &line))
		assert_true(fabs(read_at(p, &line) + 33.0) < 0.01);
}

/* Cold it is in order; by the end of ten minutes all 6 dB are gone. The engine has not been switched on here, so nothing warms up. */
static void a_drift_waits_for_heat(void **state)
{
	played *p = *state;
	hs_ask line = ask_at(p, "line", 0, HS_ASK_READ);
	hs_sim_begin(p->sim, fault_of(p, "amp/fades"), 0);
	assert_true(fabs(read_at(p, &line) + 13.0) < 0.01);
	hs_sim_done(p->sim, p->engine, &line);
	assert_true(fabs(read_at(p, &line) + 13.0) < 0.01);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(says_what_was_said),
	    cmocka_unit_test(a_new_part_cures),
	    cmocka_unit_test(readings_spread_as_declared),
	    cmocka_unit_test(a_seed_is_a_unit),
	    cmocka_unit_test(corners_are_the_ends),
	    cmocka_unit_test(what_is_intermittent_comes_at_its_rate),
	    cmocka_unit_test(a_drift_waits_for_heat),
	};
	return cmocka_run_group_tests(tests, open_played, close_played);
}
