/* Dangers that a unit declares: what is asked, when, what is refused, what stops the work, and what voids what was confirmed. */
#include "words_bench.h"

static const char kit[] = "instrument \"M1\" { reads = \"volts\", u = \"0.01 V\", max = { dc = \"600 V\" } }\n"
                          "probe \"X1\" { ratio = 10, touch = true }\nhookup \"prods\" { \"X1\", \"M1\" }\n";

#define ENDS "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n"
#define OFF "gate/off/switch: off\n"
#define OUT "gate/disconnected/mains: out\ngate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines\n"
#define UP "gate/energise/people: told\ngate/energise/mains: in\ngate/on/switch: on\n"

static void open_at(bench *b, const char *book)
{
	bench_open_with(b, book, kit);
	begin(b);
}

/* The work stops: the state is safe, the run pauses, and what was found stays in the way after the resume. */
static void stops(bench *b, const char *ask, const char *text, const char *part)
{
	asked(b, ask);
	assert_int_equal(give(b, HS_EVENT_ANSWER, ask, text), HS_TAKEN);
	size_t count;
	const hs_fact *facts = hs_engine_facts(b->engine, &count);
	bool told = false;
	for (size_t i = 0; i < count; i++)
		told = told || (facts[i].kind == HS_SAYS_GATE && !facts[i].accepted && facts[i].why != NULL && strstr(facts[i].why, part) != NULL);
	assert_true(told);
}

/* ---- live chassis ---- */

static const char chassis_book[] =
    "unit { supply = { mains = \"230 V\" }, hazards = { frame = { \"live chassis\", volts = \"325 V\", title = \"the frame\" } } }\n"
    "point \"J5\" { }\n"
    "step \"a\" { power = \"on\", read = { \"volts\", at = \"J5\", hookup = \"prods\" }, limits = \"11 V .. 13 V\", ok = \"b\", otherwise = \"bad\" }\n"
    "step \"b\" { power = \"on\", read = { \"volts\", at = \"J5\", hookup = \"prods\" }, limits = \"11 V .. 13 V\", ok = \"good\", otherwise = \"bad\" }\n" ENDS;

static const char chassis_up[] = OFF "gate/chassis/frame.clips: off\ngate/energise/people: told\ngate/on/switch: on\n";

static void a_chassis_is_measured_before_anything_earthed(void **state)
{
	(void)state;
	bench b;
	open_at(&b, chassis_book);
	refused(&b, "gate/off/switch", "", "Enter alone");
	play(&b, chassis_up);
	says(&b, "Measure the frame against earth, alternating voltage");
	says(&b, "It counts as live above 30 V.");
	refused(&b, "gate/chassis/frame.ac", "safe", "type a value in V");
	refused(&b, "gate/chassis/frame.ac", "not read", "cannot be left unread");
	play(&b, "gate/chassis/frame.ac: 1.2 V\ngate/chassis/frame.dc: -0.1 V\ngate/chassis/frame.probe: earthed");
	refused(&b, "gate/chassis/frame.rating", "300 V", "under the 358 V it must be rated for");
	refused(&b, "gate/chassis/frame.rating", "< 1000 V", "under the 358 V");
	play(&b, "gate/chassis/frame.rating: 600 V\na: 1.2");
	/* The next step asks for its probe again, and not for the measurement. */
	play(&b, "gate/chassis/frame.probe: isolated\ngate/chassis/frame.rating: 600 V\nb: 1.2\ngate/off/switch: off");
	ended_at(&b, "good");
	bench_close(&b);
}

static void a_live_chassis_takes_no_earthed_clip(void **state)
{
	(void)state;
	static const char *const live[][2] = {{"115 V", "0"}, {"0", "-150 V"}, {"OL", "0"}, {"> 20 V", "0"}, {"0", "60.1"}};
	for (size_t i = 0; i < sizeof live / sizeof *live; i++) {
		bench b;
		char line[120];
		open_at(&b, chassis_book);
		play(&b, chassis_up);
		snprintf(line, sizeof line, "gate/chassis/frame.ac: %s\ngate/chassis/frame.dc: %s", live[i][0], live[i][1]);
		play(&b, line);
		refused(&b, "gate/chassis/frame.probe", "earthed", "an earthed clip on it is a short");
		refused(&b, "gate/chassis/frame.probe", "yes", "\"yes\" does not pass this gate");
		play(&b, "gate/chassis/frame.probe: differential\ngate/chassis/frame.rating: 1 kV\na: 1.2");
		/* Taking the reading back changes nothing of the chassis. */
		play(&b, "!redo");
		asked(&b, "a");
		bench_close(&b);
	}
}

/* The plug may have gone back the other way round. */
static void a_plug_that_moved_voids_the_measurement(void **state)
{
	(void)state;
	bench b;
	open_at(&b, chassis_book);
	play(&b, chassis_up);
	play(&b, "gate/chassis/frame.ac: 1\ngate/chassis/frame.dc: 0\n!resume");
	play(&b, chassis_up);
	asked(&b, "gate/chassis/frame.ac");
	bench_close(&b);
}

/* ---- tubes and EHT ---- */

static const char tubes_book[] =
    "unit { supply = { mains = { \"230 V\", zone = \"hv\" } }, rails = { HT = { \"900 V\", zone = \"hv\", max = true } }, zones = { hv = { guard = \"cage\" } },\n"
    "  parts = { cage = {} }, hazards = { V1 = { \"high voltage\", zone = \"hv\", volts = \"900 V\", heater = \"60 s\", run_on = \"120 s\" } } }\n"
    "point \"TP9\" { zone = \"hv\", behind = \"cage\" }\n"
    "step \"a\" { act = \"Look the socket over.\", open = \"cage\", zone = \"hv\", next = \"b\" }\n"
    "step \"b\" { look = \"The lamp?\", power = \"on\", answers = { { \"lit\", \"it glows\", to = \"good\" }, { \"dark\", \"it does not\", to = \"bad\" } } }\n" ENDS;

#define TUBES_DOWN "gate/hv/V1.drive: off\ngate/hv/V1.hv: off\n+120\ngate/hv/V1.run-on: run\n" OFF
#define TUBES_PROOF                                                                                                                   \
	"gate/dead/tester: VT2\ngate/dead/known-ac-before: 231\ngate/dead/known-dc-before: 24\ngate/dead/mains.L-N: 0\n" \
	"gate/dead/mains.L-PE: 0\ngate/dead/mains.N-PE: 0\ngate/dead/HT.chassis: 0\ngate/dead/known-ac-after: 231\ngate/dead/known-dc-after: 24\n"

static void to_the_stick(bench *b)
{
	open_at(b, tubes_book);
	play(b, TUBES_DOWN OUT "a/open.cage: done\n");
	play(b, TUBES_PROOF);
}

static void tubes_go_down_in_their_order(void **state)
{
	(void)state;
	bench b;
	open_at(&b, tubes_book);
	refused(&b, "gate/hv/V1.drive", "done", "type \"off\"");
	play(&b, "gate/hv/V1.drive: off\ngate/hv/V1.hv: off");
	says(&b, "It takes 120 s.");
	refused(&b, "gate/hv/V1.run-on", "run", "Too early");
	/* The run-on spares the unit; after a stop the power goes first. */
	give(&b, HS_EVENT_STOP, NULL, "");
	play(&b, "gate/disconnected/mains: out\ngate/off/switch: off\ngate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines");
	asked(&b, "stop/what");
	bench_close(&b);
}

static void the_stick_is_on_before_hands_and_off_before_power(void **state)
{
	(void)state;
	bench b;
	to_the_stick(&b);
	refused(&b, "gate/hv/V1.guard", "done", "type \"on\"");
	play(&b, "gate/hv/V1.guard: on");
	says(&b, "Clip the earthing stick to earth first");
	refused(&b, "gate/hv/V1.stick", "crowbar fired", "type \"earthed\"");
	play(&b, "gate/hv/V1.stick: earthed\ngate/hv/V1.hook: on\na: done");
	/* Nothing is closed over it, and no power comes, while it hangs there. */
	hs_buf left;
	hs_buf_init(&left);
	hs_engine_shorts(b.engine, &left);
	assert_string_equal(left.data, "V1 (earthing stick)");
	hs_buf_free(&left);
	refused(&b, "gate/hv/V1.unhook", "on", "type \"removed\"");
	play(&b, "gate/hv/V1.unhook: removed\ngate/energise/tools: counted\nb/close.cage: done");
	refused(&b, "gate/hv/V1.shields", "yes", "type \"on\"");
	play(&b, "gate/hv/V1.shields: on\n" UP "gate/hv/V1.air: flowing");
	refused(&b, "gate/hv/V1.heater", "warm", "Too early");
	play(&b, "+60\ngate/hv/V1.heater: warm\ngate/hv/V1.hv-on: on\nb: lit\n" TUBES_DOWN);
	ended_at(&b, "good");
	bench_close(&b);
}

static void the_stick_stays_in_the_account(void **state)
{
	(void)state;
	bench b;
	to_the_stick(&b);
	play(&b, "gate/hv/V1.guard: on\ngate/hv/V1.stick: earthed\ngate/hv/V1.hook: on\na: done\n!resume");
	play(&b, TUBES_DOWN OUT);
	asked(&b, "gate/hv/V1.unhook");
	bench_close(&b);
}

static const char interlock_book[] =
    "unit { supply = { mains = { \"230 V\", zone = \"hv\" } }, rails = { HT = { \"900 V\", zone = \"hv\", max = true } }, zones = { hv = { guard = \"cage\" } },\n"
    "  parts = { cage = {} }, changes = { S1 = { kind = \"defeated interlock\" } },\n"
    "  hazards = { V1 = { \"high voltage\", zone = \"hv\", volts = \"900 V\", heater = \"60 s\", blower = false, xray = false, implosion = false } } }\n"
    "point \"TP9\" { zone = \"hv\", behind = \"cage\" }\n"
    "step \"z\" { act = \"Block the switch S1.\", outside = true, power = \"off\", makes = \"S1\", next = \"a\" }\n"
    "step \"a\" { power = \"on\", with = \"S1\", open = \"cage\", attach = \"dead\", read = { \"volts\", at = \"TP9\", hookup = \"prods\" }, limits = \"800 V .. 950 V\",\n"
    "  ok = \"good\", otherwise = \"bad\" }\n" ENDS;

static void an_interlock_has_a_name_a_time_and_company(void **state)
{
	(void)state;
	bench b;
	bench_open_with(&b, interlock_book, "instrument \"M1\" { reads = \"volts\", u = \"1 V\", max = { dc = \"2 kV\" } }\nhookup \"prods\" { \"M1\" }\n");
	begin(&b);
	play(&b, "gate/hv/V1.drive: off\ngate/hv/V1.hv: off\n" OFF "z: done\n" OUT "a/open.cage: done\n" TUBES_PROOF);
	refused(&b, "gate/hv/V1.probe", "900 V", "under the 990 V it must be rated for");
	play(&b, "gate/hv/V1.probe: 2 kV\ngate/hv/V1.stick: earthed\ngate/hv/V1.hook: on\na/join.meter: done\ngate/hv/V1.unhook: removed");
	play(&b, "gate/energise/cage: cage\ngate/energise/S1: S1\ngate/energise/tools: counted");
	refused(&b, "gate/hv/V1.whose", "me", "does not pass");
	play(&b, "gate/hv/V1.whose: Mara Quill");
	refused(&b, "gate/hv/V1.until", "yes", "does not pass");
	play(&b, "gate/hv/V1.until: the end of this reading");
	refused(&b, "gate/hv/V1.second", "Ines", "is the person at the bench");
	play(&b, "gate/hv/V1.second: Bo Linden\n" UP "+60\ngate/hv/V1.heater: warm\ngate/hv/V1.hv-on: on\na: 880");
	bench_close(&b);
}

/* ---- cells and batteries ---- */

#define SMALL(hazard) \
	"unit { supply = { mains = { \"230 V\", zone = \"primary\" } }, zones = { primary = { guard = \"shield\" }, inside = { guard = \"lid\" } },\n" \
	"  parts = { lid = {}, shield = { after = \"lid\" } }, hazards = { X = { " hazard " } } }\n" \
	"point \"TP1\" { zone = \"inside\", behind = \"lid\" }\n" \
	"step \"a\" { act = \"Move the loom aside.\", open = \"lid\", zone = \"inside\", next = \"b\" }\n" \
	"step \"b\" { look = \"The lamp?\", power = \"on\", answers = { { \"lit\", \"it glows\", to = \"good\" }, { \"dark\", \"it does not\", to = \"bad\" } } }\n" ENDS

#define TO_OPEN OFF "a/open.lid: done\n"
#define CLOSED "a: done\ngate/energise/tools: counted\nb/close.lid: done\n"

typedef struct fact_row {
	const char *ask, *bad, *part, *good;
} fact_row;

static void each_row(bench *b, const fact_row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		char line[160];
		refused(b, rows[i].ask, "", "");
		refused(b, rows[i].ask, "yes", "");
		refused(b, rows[i].ask, rows[i].bad, rows[i].part);
		snprintf(line, sizeof line, "%s: %s", rows[i].ask, rows[i].good);
		play(b, line);
	}
}
#define EACH_ROW(b, rows) each_row(b, rows, sizeof(rows) / sizeof *(rows))

static const char cells_book[] = SMALL("\"lithium cells\", zone = \"inside\", most = \"4.2 V\", least = \"2.8 V\", title = \"the pack\"");

static void cells_are_looked_at_before_hands_and_power(void **state)
{
	(void)state;
	static const fact_row rows[] = {
	    {"gate/cells/X.shape", "fine", "type \"flat\" or \"swollen\"", "flat"},
	    {"gate/cells/X.leak", "no", "type \"dry\" or \"wet\"", "dry"},
	    {"gate/cells/X.skin", "ok", "type \"whole\" or \"punctured\"", "whole"},
	    {"gate/cells/X.temperature", "warm", "type a value in degC", "23"},
	    {"gate/cells/X.volts", "not read", "cannot be left unread", "3.9 V"},
	};
	bench b;
	open_at(&b, cells_book);
	play(&b, TO_OPEN);
	EACH_ROW(&b, rows);
	play(&b, CLOSED);
	refused(&b, "gate/cells/X.attended", "Bo Linden", "is not the person at the bench");
	play(&b, "gate/cells/X.attended: Ines\ngate/energise/people: told\ngate/on/switch: on\nb: lit");
	bench_close(&b);
}

static void a_bad_cell_stops_everything(void **state)
{
	(void)state;
	static const char *const before[] = {"", "gate/cells/X.shape: flat\n", "gate/cells/X.shape: flat\ngate/cells/X.leak: dry\n",
	                                     "gate/cells/X.shape: flat\ngate/cells/X.leak: dry\ngate/cells/X.skin: whole\n",
	                                     "gate/cells/X.shape: flat\ngate/cells/X.leak: dry\ngate/cells/X.skin: whole\ngate/cells/X.temperature: 20\n"};
	static const struct {
		int before;
		const char *ask, *text, *part;
	} rows[] = {
	    {0, "gate/cells/X.shape", "swollen", "the pack is swollen: hands away"},    {1, "gate/cells/X.leak", "wet", "the pack is wet"},
	    {2, "gate/cells/X.skin", "punctured", "the pack is punctured"},             {3, "gate/cells/X.temperature", "41 degC", "is warmer than it may be"},
	    {3, "gate/cells/X.temperature", "> 35", "is warmer than it may be"},        {4, "gate/cells/X.volts", "4.25 V", "is outside what its maker allows"},
	    {4, "gate/cells/X.volts", "2.7 V", "is outside what its maker allows"},     {4, "gate/cells/X.volts", "< 3 V", "is outside what its maker allows"},
	    {4, "gate/cells/X.volts", "OL", "is outside what its maker allows"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		open_at(&b, cells_book);
		play(&b, TO_OPEN);
		play(&b, before[rows[i].before]);
		stops(&b, rows[i].ask, rows[i].text, rows[i].part);
		/* Off it is already; the plug goes because something is open. No cover is asked for, and no short. */
		play(&b, OUT);
		assert_true(hs_engine_paused(b.engine));
		give(&b, HS_EVENT_RESUME, NULL, NULL);
		play(&b, OFF);
		refused(&b, "gate/cells/X.specialist", "Ines", "is the person at the bench");
		refused(&b, "gate/cells/X.specialist", "nobody", "does not pass");
		play(&b, "gate/cells/X.specialist: Dr Reed");
		asked(&b, "gate/cells/X.shape");
		bench_close(&b);
	}
}

static void a_battery_is_approached_without_rings(void **state)
{
	(void)state;
	static const fact_row rows[] = {
	    {"gate/battery/X.state", "fine", "\"sound\", \"swollen\" or \"frozen\"", "sound"}, {"gate/battery/X.ventilation", "closed", "type \"open\"", "open"},
	    {"gate/battery/X.spill", "no", "type \"ready\"", "ready"},                          {"gate/battery/X.rings", "on", "type \"off\"", "off"},
	    {"gate/battery/X.tools", "any", "type \"insulated\"", "insulated"},                 {"gate/battery/X.terminal", "bare", "type \"insulated\"", "insulated"},
	};
	static const char book[] = SMALL("\"battery\", zone = \"inside\", fuse = \"30 A\"");
	static const char *const bad[] = {"swollen", "frozen"};
	for (size_t i = 0; i < 2; i++) {
		bench b;
		open_at(&b, book);
		play(&b, TO_OPEN);
		stops(&b, "gate/battery/X.state", bad[i], bad[i]);
		bench_close(&b);
	}
	bench b;
	open_at(&b, book);
	play(&b, TO_OPEN);
	EACH_ROW(&b, rows);
	play(&b, CLOSED);
	refused(&b, "gate/battery/X.fuse", "40 A", "above the 30 A");
	refused(&b, "gate/battery/X.fuse", "0", "no fuse; at most the 30 A");
	refused(&b, "gate/battery/X.fuse", "> 10 A", "above the 30 A");
	play(&b, "gate/battery/X.fuse: 25 A\ngate/energise/people: told\ngate/on/switch: on\nb: lit");
	bench_close(&b);
}

/* ---- toxic ---- */

static void what_is_toxic_is_looked_at_before_the_cover(void **state)
{
	(void)state;
	static const char book[] = SMALL("\"toxic part\", zone = \"inside\", of = \"beryllium oxide\"");
	bench b;
	open_at(&b, book);
	play(&b, OFF);
	says(&b, "X, beryllium oxide");
	refused(&b, "gate/toxic/X.known", "no", "type \"identified\" or \"suspected\"");
	play(&b, "gate/toxic/X.known: suspected");
	refused(&b, "gate/toxic/X.state", "probably", "type \"intact\" or \"broken\"");
	play(&b, "gate/toxic/X.state: intact\na/open.lid: done\ngate/toxic/X.state: intact");
	refused(&b, "gate/toxic/X.cutting", "a little", "type \"none\"");
	play(&b, "gate/toxic/X.cutting: none\na: done");
	/* Hands were in: it is looked at again before the cover goes on. */
	play(&b, "gate/energise/tools: counted");
	stops(&b, "gate/toxic/X.state", "broken", "X is broken: hands away, leave it as it is");
	/* Nobody closes it, taps it back, or powers it. */
	play(&b, OUT);
	assert_true(hs_engine_paused(b.engine));
	give(&b, HS_EVENT_RESUME, NULL, NULL);
	play(&b, OFF);
	asked(&b, "gate/toxic/X.specialist");
	/* Taking an answer back takes nothing back of what was found. */
	play(&b, "!redo\nintake/keep: none");
	asked(&b, "gate/toxic/X.specialist");
	play(&b, "!leave");
	bench_close(&b);
}

/* ---- laser ---- */

static void eyewear_covers_band_and_class(void **state)
{
	(void)state;
	static const char book[] = SMALL("\"laser\", zone = \"inside\", class = \"3B\", wavelength = \"1064 nm\", density = 5");
	bench b;
	open_at(&b, book);
	play(&b, OFF);
	refused(&b, "gate/laser/X.class", "weak", "type the class as it stands on the label");
	refused(&b, "gate/laser/X.class", "4", "is not the class 3B that the playbook declares");
	refused(&b, "gate/laser/X.class", "1", "is not the class 3B");
	play(&b, "gate/laser/X.class: 3B\na/open.lid: done");
	refused(&b, "gate/laser/X.source", "on", "type \"off\"");
	play(&b, "gate/laser/X.source: off\n" CLOSED "gate/laser/X.beam: blocked");
	refused(&b, "gate/laser/X.band", "700 nm to 1000 nm", "does not cover 1.06 um");
	refused(&b, "gate/laser/X.band", "green", "");
	refused(&b, "gate/laser/X.band", "1064 nm", "");
	play(&b, "gate/laser/X.band: 900 nm to 1100 nm");
	refused(&b, "gate/laser/X.density", "4", "under the 5 it must be rated for");
	play(&b, "gate/laser/X.density: 6\ngate/energise/people: told\ngate/on/switch: on\nb: lit");
	bench_close(&b);
}

/* ---- flammable ---- */

static const char spray_book[] =
    "unit { supply = { mains = { \"230 V\", zone = \"primary\" } }, zones = { primary = { guard = \"shield\" }, inside = { guard = \"lid\" } },\n"
    "  parts = { lid = {}, shield = { after = \"lid\" } }, hazards = { freezer = { \"flammable\", airs = \"90 s\" } } }\n"
    "step \"a\" { act = \"Freeze Q3.\", power = \"off\", open = \"lid\", zone = \"inside\", substance = \"freezer\", next = \"b\" }\n"
    "step \"b\" { look = \"The lamp?\", power = \"on\", open = \"lid\", answers = { { \"lit\", \"it glows\", to = \"good\" }, { \"dark\", \"it does not\", to = \"bad\" } } }\n" ENDS;

static void nothing_is_sprayed_on_what_is_connected(void **state)
{
	(void)state;
	bench b;
	open_at(&b, spray_book);
	play(&b, TO_OPEN);
	asked(&b, "gate/disconnected/mains");
	play(&b, OUT);
	refused(&b, "gate/flammable/freezer.spark", "lit", "type \"none\"");
	play(&b, "gate/flammable/freezer.spark: none");
	refused(&b, "gate/flammable/freezer.ventilation", "done", "type \"open\"");
	play(&b, "gate/flammable/freezer.ventilation: open\na: done\ngate/energise/lid: lid\ngate/energise/tools: counted");
	refused(&b, "gate/flammable/freezer.aired", "aired", "Too early");
	play(&b, "!resume");
	/* The vapour does not know of the resume: its time begins again. */
	play(&b, OFF "gate/energise/lid: lid\ngate/energise/tools: counted");
	refused(&b, "gate/flammable/freezer.aired", "aired", "Too early");
	play(&b, "+90\ngate/flammable/freezer.aired: aired\n" UP "b: lit");
	bench_close(&b);
}

/* ---- static, handling ---- */

static void a_strap_is_on_for_hands_and_off_beside_live(void **state)
{
	(void)state;
	static const char book[] =
	    "unit { supply = { mains = { \"230 V\", zone = \"primary\" } }, zones = { primary = { guard = \"shield\" }, inside = { guard = \"lid\" } },\n"
	    "  parts = { lid = {}, shield = { after = \"lid\" } }, hazards = { Q3 = { \"static-sensitive\", zone = \"inside\" } } }\n"
	    "step \"a\" { act = \"Move the loom aside.\", open = \"lid\", zone = \"inside\", next = \"b\" }\n"
	    "step \"b\" { look = \"The lamp?\", power = \"on\", open = \"shield\", answers = { { \"lit\", \"it glows\", to = \"good\" }, { \"dark\", \"it does not\", to = \"bad\" } } }\n" ENDS;
	bench b;
	open_at(&b, book);
	play(&b, TO_OPEN);
	refused(&b, "gate/static/Q3.strap", "yesterday", "type \"checked\"");
	play(&b, "gate/static/Q3.strap: checked\na: done\n" OUT "b/open.shield: done\ngate/energise/lid: lid\ngate/energise/shield: shield\ngate/energise/tools: counted");
	refused(&b, "gate/static/Q3.off", "on", "type \"off\"");
	play(&b, "gate/static/Q3.off: off\n" UP "b: lit");
	bench_close(&b);
}

static void nobody_lifts_what_is_heavy_alone_or_hot(void **state)
{
	(void)state;
	static const char book[] = SMALL("\"handling\", part = \"lid\", mass = \"18 kg\", title = \"the lid\"");
	static const fact_row rows[] = {
	    {"gate/handling/X.cooled", "60 degC", "above the 45 degC that hands may touch", "38"},
	    {"gate/handling/X.gloves", "no", "type \"on\"", "on"},
	    {"gate/handling/X.steady", "no", "type \"steady\"", "steady"},
	    {"gate/handling/X.helper", "Ines", "is the person at the bench", "Bo Linden"},
	};
	bench b;
	open_at(&b, book);
	play(&b, OFF);
	EACH_ROW(&b, rows);
	play(&b, "a/open.lid: done\na: done\ngate/energise/tools: counted");
	/* It goes on as heavy as it came off. */
	play(&b, "gate/handling/X.gloves: on\ngate/handling/X.steady: steady\ngate/handling/X.helper: Bo Linden\nb/close.lid: done");
	bench_close(&b);
}

/* A unit that says it has not what would be asked is believed; one that says nothing is not. */
static void what_is_not_stated_counts_as_there(void **state)
{
	(void)state;
	static const char book[] = SMALL("\"handling\", part = \"lid\", mass = \"3 kg\", hot = false, sharp = false, tips = false");
	bench b;
	open_at(&b, book);
	play(&b, TO_OPEN "a: done");
	bench_close(&b);
}

/* Nothing of the table passes ahead of its turn, whoever asks for it. */
static void no_row_is_taken_out_of_turn(void **state)
{
	(void)state;
	static const struct {
		const char *book, *id, *text;
	} rows[] = {
	    {chassis_book, "gate/chassis/frame.rating", "1 kV"},
	    {tubes_book, "gate/hv/V1.hook", "on"},                  {tubes_book, "gate/hv/V1.hv-on", "on"},
	    {tubes_book, "gate/hv/V1.unhook", "removed"},           {tubes_book, "gate/hv/V1.run-on", "run"},
	    {cells_book, "gate/cells/X.volts", "3.9"},              {cells_book, "gate/cells/X.specialist", "Dr Reed"},
	    {spray_book, "gate/flammable/freezer.aired", "aired"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		bench b;
		open_at(&b, rows[i].book);
		hs_physical physical;
		hs_gate gate;
		hs_buf why;
		hs_buf_init(&why);
		hs_physical_begin(&physical);
		physical.power = HS_POWER_ON;
		assert_true(hs_gate_find(&b.playbook->unit, rows[i].id, &gate));
		hs_physical before = physical;
		if (hs_way_take(&b.playbook->unit, &physical, &gate, rows[i].text, 1000000, "Ines", 0, &why) != HS_GATE_REFUSED)
			fail_msg("%s was taken", rows[i].id);
		assert_memory_equal(&before, &physical, sizeof before);
		hs_buf_free(&why);
		bench_close(&b);
	}
}

/* Even asked out of turn, the switch gives no power past a row that is missing, with a stick on, or with something unsafe. */
static void the_switch_waits_for_every_row(void **state)
{
	(void)state;
	bench b;
	open_at(&b, spray_book);
	for (int i = 0; i < 4; i++) {
		hs_physical physical;
		hs_gate gate;
		hs_buf why;
		hs_buf_init(&why);
		hs_physical_begin(&physical);
		physical.power = HS_POWER_OFF;
		physical.facts = UINT64_C(1) << HS_FACT_PEOPLE;
		physical.used = i == 1;
		physical.hooked = i == 2;
		physical.barred = i == 3;
		assert_true(hs_gate_find(&b.playbook->unit, "gate/on/switch", &gate));
		hs_gate_result result = hs_way_take(&b.playbook->unit, &physical, &gate, "on", 1000000, "Ines", 0, &why);
		assert_int_equal(result, i == 0 ? HS_GATE_PASSED : HS_GATE_REFUSED);
		hs_buf_free(&why);
	}
	bench_close(&b);
}

/* What can be known without running it. */
static void a_playbook_that_forgets_is_refused(void **state)
{
	(void)state;
	static const struct {
		const char *book, *message, *hint;
	} rows[] = {
	    {"unit {   supply = { dc = \"12 V\" }, zones = { optics = {} },   hazards = { L1 = { \"laser\", zone = \"optics\", class = \"3B\", density = 5 } }, } step \"a\" { look = \"The fibre?\", power = \"on\", zone = \"optics\", answers = { { \"clean\", \"clean\", to = \"e\" }, { \"dirty\", \"dirty\", to = \"e\" } } } step \"e\" { finding = \"the end\" }",
	     "step \"a\" looks where the laser \"L1\" is, with the source powered", "say power = \"off\"; a fibre or an aperture is never inspected with its source on"},
	    {"unit {   supply = { mains = \"230 V\" },   hazards = { freezer = { \"flammable\" } }, } step \"a\" { act = \"Freeze it.\", outside = true, power = \"on\", substance = \"freezer\", next = \"e\" } step \"e\" { finding = \"the end\" }",
	     "step \"a\" uses something flammable on the powered unit", "use it in an act step with power = \"off\"; the plug is out and the air moves before, and power comes back once it is aired"},
	    {"unit {   supply = { mains = { \"230 V\", zone = \"hv\" } },   zones = { hv = {} },   hazards = { V1 = { \"high voltage\", zone = \"hv\", heater = \"60 s\" } }, } step \"a\" { tell = \"x\", next = \"e\" } step \"e\" { finding = \"the end\" }",
	     "the high voltage \"V1\" states no volts, so no probe can be shown good for it", "state the most it can be: volts = \"3 kV\""},
	    {"unit {   supply = { dc = \"12 V\" },   hazards = { V1 = { \"high voltage\", volts = \"3 kV\", heater = \"60 s\" } }, } step \"a\" { tell = \"x\", next = \"e\" } step \"e\" { finding = \"the end\" }",
	     "the high voltage \"V1\" names no zone with a dangerous voltage in it, so nothing there would be proved dead", "name its zone, and declare its line as a rail and its capacitor as a store there"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_error error = {0};
		hs_problems problems = {0};
		hs_buf whole;
		hs_buf_init(&whole);
		hs_buf_printf(&whole, "%s%s", HEAD, rows[i].book);
		hs_sources *sources = hs_sources_from_text("x.lua", whole.data, whole.length, &error);
		hs_book *book = hs_book_open(sources, NULL, HS_PLACES_EXACT, &problems, &error);
		assert_int_equal(problems.count, 0);
		hs_unit_check(hs_book_playbook(book), &problems);
		assert_int_equal(problems.count, 1);
		assert_string_equal(problems.items[0].what.message, rows[i].message);
		assert_string_equal(problems.items[0].what.hint, rows[i].hint);
		hs_problems_free(&problems);
		hs_book_free(book);
		hs_sources_free(sources);
		hs_buf_free(&whole);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_chassis_is_measured_before_anything_earthed),
	    cmocka_unit_test(a_live_chassis_takes_no_earthed_clip),
	    cmocka_unit_test(a_plug_that_moved_voids_the_measurement),
	    cmocka_unit_test(tubes_go_down_in_their_order),
	    cmocka_unit_test(the_stick_is_on_before_hands_and_off_before_power),
	    cmocka_unit_test(the_stick_stays_in_the_account),
	    cmocka_unit_test(an_interlock_has_a_name_a_time_and_company),
	    cmocka_unit_test(cells_are_looked_at_before_hands_and_power),
	    cmocka_unit_test(a_bad_cell_stops_everything),
	    cmocka_unit_test(a_battery_is_approached_without_rings),
	    cmocka_unit_test(what_is_toxic_is_looked_at_before_the_cover),
	    cmocka_unit_test(eyewear_covers_band_and_class),
	    cmocka_unit_test(nothing_is_sprayed_on_what_is_connected),
	    cmocka_unit_test(a_strap_is_on_for_hands_and_off_beside_live),
	    cmocka_unit_test(nobody_lifts_what_is_heavy_alone_or_hot),
	    cmocka_unit_test(what_is_not_stated_counts_as_there),
	    cmocka_unit_test(no_row_is_taken_out_of_turn),
	    cmocka_unit_test(the_switch_waits_for_every_row),
	    cmocka_unit_test(a_playbook_that_forgets_is_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
