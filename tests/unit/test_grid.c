/* Grids: rows of positions by columns of frequencies, held against limits or against a row, and what their pattern says. */
#include <math.h>
#include "words_bench.h"

static const char filters[] =
    "unit { controls = { band = { \"through\", \"low\", \"high\" } } }\n"
    "suspect \"f-low\" {} suspect \"f-high\" {} suspect \"relay\" {}\n"
    "step \"g\" { power = \"any\", grid = { columns = { \"140 MHz\", \"150 MHz\" },\n"
    "    rows = { { \"through\", set = { band = \"through\" } },\n"
    "      { \"low\", set = { band = \"low\" }, through = { \"relay\", \"f-low\" } },\n"
    "      { \"high\", set = { band = \"high\" }, through = { \"relay\", \"f-high\" }, limits = \"0 dB +/- 3 dB\" } },\n"
    "    read = { \"power\", at = \"TP1\" }, limits = \"0 dB +/- 1 dB\", against = \"through\" },\n"
    "  ok = \"good\", unread = \"unread\", otherwise = \"bad\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"unread\" { finding = \"not read\" }\n"
    "step \"bad\" { finding = \"something\" }\n";

static void a_grid_is_rows_by_columns(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		double freq;
		int row, set, against;
		bool limited;
	} cells[] = {
	    {"through.1", 140e6, 1, 1, 0, false}, {"through.2", 150e6, 1, 1, 0, false}, {"low.1", 140e6, 2, 2, 1, true},
	    {"low.2", 150e6, 2, 2, 2, true},      {"high.1", 140e6, 3, 3, 1, true},     {"high.2", 150e6, 3, 3, 2, true},
	};
	bench b;
	bench_open(&b, filters);
	const hs_step *step = &b.playbook->steps[0];
	assert_int_equal(step->kind, HS_STEP_COLLECT);
	assert_int_equal(step->row_count, 3);
	assert_string_equal(step->rows[1].name, "low");
	assert_int_equal(step->rows[1].through_count, 2);
	assert_int_equal(step->reading_count, 6);
	for (size_t i = 0; i < 6; i++) {
		const hs_reading *reading = &step->readings[i];
		assert_string_equal(reading->name, cells[i].name);
		assert_true(fabs(reading->freq_hz - cells[i].freq) < 1);
		assert_int_equal(reading->row, cells[i].row);
		assert_int_equal(reading->set[0], cells[i].set);
		assert_int_equal(reading->against_reading, cells[i].against);
		assert_int_equal(reading->has_limits, cells[i].limited);
	}
	assert_true(step->readings[4].limits.low == -3 && step->readings[2].limits.low == -1);
	assert_int_equal(step->readings[2].limits.unit, HS_DB);
	bench_close(&b);
}

static const char reference[] = "intake/stands.band: low\ng/set.band: done\ng/through.1: -10 dBm\ng/through.2: -12 dBm\ng/set.band: done\n";

static void rows_are_held_against_another(void **state)
{
	(void)state;
	static const struct {
		const char *lines, *finding;
		hs_standing low, high, relay;
	} rows[] = {
	    {"g/low.1: -10.5\ng/low.2: -12.5\ng/set.band: done\ng/high.1: -12.5\ng/high.2: -9.5", "good", HS_SUSPECT_CLEARED,
	     HS_SUSPECT_CLEARED, HS_SUSPECT_CLEARED},
	    /* -12.5 is right for the second column and wrong for the first. */
	    {"g/low.1: -12.5\ng/low.2: -12.5\ng/set.band: done\ng/high.1: -10\ng/high.2: -12", "bad", HS_SUSPECT_IMPLICATED,
	     HS_SUSPECT_CLEARED, HS_SUSPECT_CLEARED},
	    {"g/low.1: -20\ng/low.2: -20\ng/set.band: done\ng/high.1: -20\ng/high.2: -20", "bad", HS_SUSPECT_IMPLICATED,
	     HS_SUSPECT_IMPLICATED, HS_SUSPECT_IMPLICATED},
	    /* What could not be read speaks for nothing. */
	    {"g/low.1: -10\ng/low.2: not read: no time\ng/set.band: done\ng/high.1: -10\ng/high.2: -12", "unread", HS_SUSPECT_OPEN,
	     HS_SUSPECT_CLEARED, HS_SUSPECT_CLEARED},
	    /* One clear failure in a row is a failure of the row, whatever the rest of it. */
	    {"g/low.1: not read: no time\ng/low.2: -20\ng/set.band: done\ng/high.1: -10\ng/high.2: -12", "unread",
	     HS_SUSPECT_IMPLICATED, HS_SUSPECT_CLEARED, HS_SUSPECT_CLEARED},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		bench_open(&b, filters);
		begin(&b);
		play(&b, reference);
		play(&b, rows[i].lines);
		play(&b, "home/set.band: done");
		ended_at(&b, rows[i].finding);
		assert_int_equal(standing(&b, "f-low"), rows[i].low);
		assert_int_equal(standing(&b, "f-high"), rows[i].high);
		assert_int_equal(standing(&b, "relay"), rows[i].relay);
		bench_close(&b);
	}
}

static void without_a_reference_nothing_is_judged(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, filters);
	begin(&b);
	play(&b, "intake/stands.band: through\ng/through.1: not read: no signal\ng/through.2: -12\ng/set.band: done\n"
	         "g/low.1: -10\ng/low.2: -12\ng/set.band: done\ng/high.1: -10\ng/high.2: -12\nhome/set.band: done");
	ended_at(&b, "unread");
	assert_int_equal(standing(&b, "relay"), HS_SUSPECT_OPEN);
	bench_close(&b);
}

static void each_ask_names_its_row_and_column(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, filters);
	begin(&b);
	play(&b, "intake/stands.band: through\ng/through.1: -10\ng/through.2: -10\ng/set.band: done\ng/low.1: -10");
	says(&b, "Row low: Read power at TP1 at 150 MHz.");
	bench_close(&b);
}

static const char wide[] =
    "unit { controls = { band = { \"through\", \"low\" } } }\n"
    "suspect \"f-low\" {}\n"
    "step \"g\" { power = \"any\", grid = { columns = { \"10 MHz\", \"30 MHz\", \"100 MHz\" },\n"
    "    rows = { { \"through\", set = { band = \"through\" } }, { \"low\", set = { band = \"low\" }, through = \"f-low\" } },\n"
    "    read = { \"power\", at = \"TP1\" }, limits = \"0 dB +/- 1 dB\", against = \"through\" }, ok = \"good\", otherwise = \"bad\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"bad\" { finding = \"something\" }\n";

/* Held against through at -10, -11, -12 dBm. */
static void a_row_says_how_its_loss_goes_with_frequency(void **state)
{
	(void)state;
	static const struct {
		const char *low, *says;
	} rows[] = {
	    {"g/low.1: -40\ng/low.2: -31.5\ng/low.3: -22", "row low: what is missing, 20.2 dB on average, is falling with frequency by 20.0 dB a decade"},
	    {"g/low.1: -12\ng/low.2: -22\ng/low.3: -34", "is rising with frequency by 20.0 dB a decade, as of an inductance"},
	    {"g/low.1: -16\ng/low.2: -17\ng/low.3: -18", "what is missing, 6.0 dB on average, is flat with frequency, as of a resistance"},
	    {"g/low.1: -10\ng/low.2: -11\ng/low.3: -12", NULL},
	    {"g/low.1: -40\ng/low.2: not read: no time\ng/low.3: -22", NULL},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		hs_buf said;
		hs_buf_init(&said);
		bench_open(&b, wide);
		begin(&b);
		play(&b, "intake/stands.band: through\ng/through.1: -10\ng/through.2: -11\ng/through.3: -12\ng/set.band: done");
		play(&b, rows[i].low);
		hs_engine_overview(b.engine, &said);
		if (rows[i].says ? !strstr(said.data, rows[i].says) : strstr(said.data, "what is missing") != NULL)
			fail_msg("row %zu: %s", i, said.data);
		hs_buf_free(&said);
		bench_close(&b);
	}
}

/* Absolute limits, volts, and a function that sees the cells by their names. */
static void a_grid_may_decide(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, "suspect \"x\" {}\n"
	               "step \"g\" { power = \"any\", grid = { columns = { \"1 kHz\", \"2 kHz\" }, rows = { { \"r\", through = \"x\" } },\n"
	               "    read = { \"ac volts\", at = \"TP1\", plausible = \"0 V .. 10 V\" }, limits = \"1 V .. 2 V\" },\n"
	               "  decide = function(v, outcome) return outcome[\"r.2\"] == \"low\" and v[\"r.1\"] > 1 and \"bad\" or \"good\" end,\n"
	               "  to = { \"bad\", \"good\" } }\n"
	               "step \"good\" { finding = \"nothing\" }\n"
	               "step \"bad\" { finding = \"something\" }\n");
	begin(&b);
	refused(&b, "g/r.1", "20", "cannot be right here");
	play(&b, "g/r.1: 1.5\ng/r.2: 0.5");
	ended_at(&b, "bad");
	assert_int_equal(standing(&b, "x"), HS_SUSPECT_IMPLICATED);
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_grid_is_rows_by_columns),             cmocka_unit_test(rows_are_held_against_another),
	    cmocka_unit_test(without_a_reference_nothing_is_judged), cmocka_unit_test(each_ask_names_its_row_and_column),
	    cmocka_unit_test(a_grid_may_decide),                     cmocka_unit_test(a_row_says_how_its_loss_goes_with_frequency),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
