/* Controls and joints: what is asked before a step, what stays, and what goes back to where it was. */
#include "words_bench.h"

static const char controls[] =
    "unit { controls = { band = { \"low\", \"high\" }, pad = { title = \"the PAD switch\", \"0 dB\", \"10 dB\" } } }\n"
    "step \"a\" { power = \"any\", set = { band = \"low\" }, read = { \"volts\", at = \"TP1\" }, limits = \"1 V .. 2 V\",\n"
    "  holds = \"all\", ok = \"b\", otherwise = \"bad\" }\n"
    "step \"b\" { power = \"any\", set = { band = \"low\" }, collect = {\n"
    "    { \"one\", \"volts\", at = \"TP1\", limits = \"1 V .. 2 V\", set = { pad = \"10 dB\" } },\n"
    "    { \"two\", \"volts\", at = \"TP1\", limits = \"1 V .. 2 V\", set = { band = \"high\" } } },\n"
    "  ok = \"good\", otherwise = \"bad\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"bad\" { finding = \"something\" }\n";

static void only_what_differs_is_asked(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, controls);
	begin(&b);
	says(&b, "Where does band stand now?");
	refused(&b, "intake/stands.band", "middle", "\"middle\" is no position of band; choose low, high, or unknown.");
	assert_null(hs_engine_control(b.engine, 0));
	play(&b, "intake/stands.band: low");
	says(&b, "Where does the PAD switch stand now?");
	play(&b, "intake/stands.pad: unknown\na: 1.5\nb/set.pad: done");
	assert_string_equal(hs_engine_control(b.engine, 0), "low");
	assert_string_equal(hs_engine_control(b.engine, 1), "10 dB");
	play(&b, "b/one: 1.5");
	says(&b, "Set band to high.");
	refused(&b, "b/set.band", "low", "band is to stand at high; type done once it does.");
	play(&b, "b/set.band: high\nb/two: 1.5");
	/* Only what the owner had is put back: where the pad stood nobody knows. */
	says(&b, "Put band back to low, where the owner had it.");
	play(&b, "home/set.band: done");
	ended_at(&b, "good");
	assert_string_equal(hs_engine_control(b.engine, 1), "10 dB");
	bench_close(&b);
}

static void a_resume_trusts_no_position(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, controls);
	begin(&b);
	play(&b, "intake/stands.band: low\nintake/stands.pad: 0 dB\na: 1.5\n!resume");
	assert_null(hs_engine_control(b.engine, 0));
	play(&b, "b/set.band: done\nb/set.pad: done\nb/one: 1.5\nb/set.band: done\nb/two: 9");
	play(&b, "home/set.band: done\nhome/set.pad: done");
	ended_at(&b, "bad");
	bench_close(&b);
}

/* The band goes back. Where the pad stood nobody knows, so it is told how it was left; at a pause both are, over a resume as well. */
static void what_is_left_turned_is_told(void **state)
{
	(void)state;
	bench b;
	hs_buf text;
	hs_buf_init(&text);
	bench_open(&b, controls);
	begin(&b);
	play(&b, "intake/stands.band: low\nintake/stands.pad: unknown\na: 1.5\nb/set.pad: done\nb/one: 1.5\nb/set.band: done\n!resume");
	assert_true(hs_engine_control_left(b.engine, 0, &text));
	assert_true(hs_engine_control_left(b.engine, 1, &text));
	assert_string_equal(text.data, "band stood at low at the start; it now stands at high"
	                               "the PAD switch stood unknown at the start; it now stands at 10 dB");
	play(&b, "b/set.band: done\nb/two: 1.5\nhome/set.band: done");
	ended_at(&b, "good");
	hs_buf_clear(&text);
	assert_false(hs_engine_control_left(b.engine, 0, &text));
	assert_true(hs_engine_control_left(b.engine, 1, &text));
	hs_buf_free(&text);
	bench_close(&b);
}

static const char reusing[] =
    "unit { controls = { band = { \"low\", \"high\" } } }\n"
    "step \"a\" { power = \"any\", set = { band = \"low\" }, read = { \"volts\", at = \"TP1\" }, limits = \"1 V .. 9 V\",\n"
    "  holds = \"all\", ok = \"%s\", low = \"b\", high = \"turn\", otherwise = \"bad\" }\n"
    "step \"b\" { power = \"any\", set = { band = \"%s\" }, reuse = \"a\", read = { \"volts\", at = \"TP1\" }, limits = \"1 V .. 2 V\",\n"
    "  ok = \"good\", otherwise = \"bad\" }\n"
    "step \"turn\" { power = \"any\", set = { band = \"high\" }, tell = \"Look.\", next = \"c\" }\n"
    "step \"c\" { power = \"any\", reuse = \"a\", read = { \"volts\", at = \"TP1\" }, limits = \"1 V .. 2 V\", ok = \"good\", otherwise = \"b\" }\n"
    "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n";

/* What was read with the band low says nothing of the band high, whatever it holds through. */
static void another_position_is_read_anew(void **state)
{
	(void)state;
	static const struct {
		const char *after_a, *band, *lines;
	} rows[] = {
	    {"b", "low", "a: 1.5"},
	    {"b", "high", "a: 1.5\nb/set.band: done\nb: 1.5\nhome/set.band: done"},
	    {"turn", "low", "a: 1.5\nturn/set.band: done\nturn: done\nc: 1.5\nhome/set.band: done"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		char text[1200];
		bench b;
		snprintf(text, sizeof text, reusing, rows[i].after_a, rows[i].band);
		bench_open(&b, text);
		begin(&b);
		play(&b, "intake/stands.band: low");
		play(&b, rows[i].lines);
		ended_at(&b, "good");
		bench_close(&b);
	}
}

/* Redo takes back the reading, never that the switch was turned. */
static void redo_leaves_the_switch(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, controls);
	begin(&b);
	play(&b, "intake/stands.band: high\nintake/stands.pad: 0 dB\na/set.band: done\na: 1.5\n!redo\na: 9\nhome/set.band: done");
	ended_at(&b, "bad");
	bench_close(&b);
}

static const char joints[] =
    "unit { supply = { dc = \"12 V\" }, parts = { lid = {}, tray = { after = \"lid\" } }, zones = { inside = { guard = \"lid\" } },\n"
    "  breaks = { b1 = { title = \"the joint W1 to A1\", connector = \"SMA\", torque = \"0.9 N m\", terminate = \"50 ohm at A1\",\n"
    "    zone = \"inside\", needs = \"off\" }, b2 = { after = \"tray\" } } }\n"
    "point \"W1\" { behind = { \"lid\", \"b1\" } }\n"
    "point \"J9\" { behind = \"b2\" }\n"
    "step \"a\" { power = \"on\", open = \"lid\", breaks = \"b1\", read = { \"volts\", at = \"W1\" }, limits = \"1 V .. 2 V\",\n"
    "  ok = \"b\", otherwise = \"bad\" }\n"
    "step \"b\" { power = \"on\", open = \"tray\", breaks = { \"b2\" }, read = { \"volts\", at = \"J9\" }, limits = \"1 V .. 2 V\",\n"
    "  ok = \"good\", otherwise = \"bad\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"bad\" { finding = \"something\" }\n";

static const char to_the_joint[] = "gate/off/switch: off\na/open.lid: done";
static const char power_up[] = "gate/energise/tools: counted\ngate/energise/people: told\ngate/on/switch: on";

static void a_joint_is_parted_and_made_again(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, joints);
	begin(&b);
	play(&b, to_the_joint);
	says(&b, "Part: the joint W1 to A1");
	says(&b, "Part the joint W1 to A1 (SMA). Terminate the side that is not used: 50 ohm at A1.");
	play(&b, "a/open.b1: done\ngate/energise/lid: lid\ngate/energise/b1: b1");
	play(&b, power_up);
	assert_int_equal(hs_engine_open_list(b.engine), 1u << hs_unit_openable(&b.playbook->unit, "b1") | 1u << hs_unit_openable(&b.playbook->unit, "lid"));
	play(&b, "a: 1.5\ngate/off/switch: off\nb/open.tray: done\nb/open.b2: done");
	/* The next step names another joint, so the first is made again before power comes back. */
	says(&b, "and take the termination away, 0.9 N m. The next step powers the unit");
	play(&b, "b/close.b1: done\ngate/energise/lid: lid\ngate/energise/tray: tray\ngate/energise/b2: b2");
	play(&b, power_up);
	play(&b, "b: 5\ngate/off/switch: off\ngate/disconnected/dc: out\ngate/disconnected/other: none\ngate/secured/plug: hand\n"
	         "gate/secured/by: Ines");
	ended_at(&b, "bad");
	bench_close(&b);
}

/* The guard of its zone comes off first, although the author of the joint did not say so. */
static void a_joint_is_behind_its_guard(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, joints);
	const hs_bench_unit *unit = &b.playbook->unit;
	const hs_openable *b1 = &unit->openables[hs_unit_openable(unit, "b1")];
	const hs_openable *b2 = &unit->openables[hs_unit_openable(unit, "b2")];
	assert_int_equal(b1->kind, HS_OPEN_JOINT);
	assert_int_equal(b1->after, hs_unit_openable(unit, "lid"));
	assert_int_equal(b1->needs, HS_NEED_OFF);
	assert_string_equal(b1->connector, "SMA");
	assert_string_equal(b1->terminate, "50 ohm at A1");
	assert_string_equal(b1->torque, "0.9 N m");
	assert_int_equal(b2->after, hs_unit_openable(unit, "tray"));
	assert_int_equal(b2->zone, -1);
	bench_close(&b);
}

/* The pad is behind the lid, where nothing is dangerous; the tap is behind the shield with the mains. */
static const char inside[] =
    "unit { supply = { mains = { \"230 V\", zone = \"primary\" } }, rails = { P12 = \"12 V\" },\n"
    "  parts = { lid = {}, shield = {} }, zones = { inside = { guard = \"lid\" }, primary = { guard = \"shield\" } },\n"
    "  controls = { pad = { \"0 dB\", \"10 dB\", zone = \"inside\" }, tap = { \"110 V\", \"230 V\", zone = \"primary\" } } }\n"
    "step \"a\" { power = \"on\", open = \"lid\", set = { pad = \"10 dB\" }, read = { \"volts\", at = \"TP1\" }, limits = \"1 V .. 2 V\",\n"
    "  ok = \"b\", otherwise = \"bad\" }\n"
    "step \"b\" { power = \"any\", open = \"shield\", set = { tap = \"230 V\" }, look = \"Is it hot?\", answers = { { \"yes\", to = \"bad\" }, { \"no\", to = \"good\" } } }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"bad\" { finding = \"something\" }\n";

static const char to_secured[] = "gate/disconnected/mains: out\ngate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines";
static const char proved_dead[] =
    "gate/dead/tester: VT2\ngate/dead/known-ac-before: 231\ngate/dead/mains.L-N: 0\ngate/dead/mains.L-PE: 0\ngate/dead/mains.N-PE: 0\n"
    "gate/dead/known-ac-after: 231";

static void a_hand_goes_behind_the_guard(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, inside);
	begin(&b);
	play(&b, "intake/stands.pad: 0 dB\nintake/stands.tap: 110 V\ngate/off/switch: off\na/open.lid: done\na/set.pad: done");
	play(&b, "gate/energise/lid: lid\ngate/energise/tools: counted\ngate/energise/people: told\ngate/on/switch: on\na: 1.5");
	/* The tap is turned with the shield off and its zone proved dead. */
	play(&b, "gate/off/switch: off");
	play(&b, to_secured);
	play(&b, "b/open.shield: done");
	play(&b, proved_dead);
	play(&b, "b/set.tap: done\nb: no");
	/* Both go back in the same way: it is still dead. */
	play(&b, "home/set.pad: done\nhome/set.tap: done");
	ended_at(&b, "good");
	bench_close(&b);
}

/* With the power on no hand goes in, nor through a cover that went back on meanwhile. */
static void a_control_inside_waits_for_its_cover(void **state)
{
	(void)state;
	static const char book[] =
	    "unit { supply = { dc = \"12 V\" }, parts = { lid = {} }, zones = { inside = { guard = \"lid\" } },\n"
	    "  controls = { pad = { \"0 dB\", \"10 dB\", zone = \"inside\" } } }\n"
	    "step \"a\" { power = \"on\", open = \"lid\", set = { pad = \"10 dB\" }, read = { \"volts\", at = \"TP1\" }, limits = \"1 V .. 2 V\",\n"
	    "  ok = \"b\", otherwise = \"bad\" }\n"
	    "step \"b\" { power = \"on\", outside = true, read = { \"volts\" }, limits = \"1 V .. 2 V\", ok = \"good\", otherwise = \"bad\" }\n"
	    "step \"good\" { finding = \"nothing\" }\n"
	    "step \"bad\" { finding = \"something\" }\n";
	bench b;
	bench_open(&b, book);
	begin(&b);
	play(&b, "intake/stands.pad: 0 dB\ngate/off/switch: off\na/open.lid: done\na/set.pad: done\ngate/energise/lid: lid");
	play(&b, power_up);
	play(&b, "a: 1.5\ngate/off/switch: off\ngate/energise/tools: counted\nb/close.lid: done\ngate/energise/people: told\ngate/on/switch: on");
	play(&b, "b: 1.5\ngate/off/switch: off\nhome/open.lid: done\ngate/disconnected/dc: out\n"
	         "gate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines\nhome/set.pad: done");
	ended_at(&b, "good");
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(only_what_differs_is_asked),       cmocka_unit_test(a_resume_trusts_no_position),
	    cmocka_unit_test(redo_leaves_the_switch),           cmocka_unit_test(a_joint_is_parted_and_made_again),
	    cmocka_unit_test(a_joint_is_behind_its_guard),      cmocka_unit_test(a_hand_goes_behind_the_guard),
	    cmocka_unit_test(what_is_left_turned_is_told),      cmocka_unit_test(another_position_is_read_anew),
	    cmocka_unit_test(a_control_inside_waits_for_its_cover),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
