/* Leads on the unit: joined before it is keyed, several at once, and never forgotten. */
#include "words_bench.h"

static const char kit[] =
    "cable \"K1\" { type = \"RG-213/U\", length = \"1 m\" } cable \"K2\" { type = \"RG-213/U\", length = \"1 m\" } probe \"X10\" { ratio = 10, touch = true }\n"
    "instrument \"G1\" { gives = { from = \"-60 dBm\", to = \"10 dBm\", u = \"0.5 dB\" } }\n"
    "instrument \"M1\" { reads = { \"power\" }, from = \"-60 dBm\", to = \"60 dBm\", u = \"0.2 dB\" }\n"
    "instrument \"S1\" { reads = { volts = { from = \"-60 V\", to = \"60 V\", u = \"10 mV\" } } }\n"
    "hookup \"source lead\" { \"K1\", \"G1\" } hookup \"tap lead\" { \"K2\", \"M1\" } hookup \"probe\" { \"X10\", \"S1\" }\n";

#define UNIT                                                                                                                               \
	"unit { supply = { dc = \"12 V\" }, emits = { J2 = { rf = \"5 W\", key = \"5 s\" } } }\n"                                          \
	"point \"J1\" { accepts = \"17 dBm\" } point \"J2\" { gives = \"5 W\" } point \"TP1\" {} point \"TP2\" {}\n"
#define KEYED "power = \"keyed\", load = { \"50 ohm\", at = \"J2\", rated = \"10 W\", time = \"60 s\" }, key = \"3 s\", "
#define ENDS  "step \"good\" { finding = \"nothing\" }\nstep \"bad\" { finding = \"something\" }\n"

static const char power_up[] = "gate/keyed/load: 10 W\ngate/energise/people: told\ngate/on/switch: on";
static const char key_up[] = "gate/keyed/low-power: proved\ngate/keyed/ports: closed\ngate/keyed/instrument: protected\ngate/keyed/people: clear";

static const char two_points[] =
    UNIT "step \"a\" { " KEYED "inject = { \"-10 dBm\", at = \"J1\", freq = \"145 MHz\", hookup = \"source lead\" }, collect = {\n"
    "  { \"one\", \"power\", at = \"TP1\", hookup = \"tap lead\", freq = \"145 MHz\", limits = \"0 dBm +/- 5 dB\" },\n"
    "  { \"two\", \"power\", at = \"TP2\", hookup = \"tap lead\", freq = \"145 MHz\", limits = \"0 dBm +/- 5 dB\" },\n"
    "  { \"bias\", \"volts\", at = \"TP2\", hookup = \"probe\", limits = \"1 V .. 2 V\" } },\n"
    "  ok = \"good\", otherwise = \"bad\" }\n" ENDS;

static void left_are(const bench *b, const char *want)
{
	hs_buf all;
	hs_buf_init(&all);
	for (size_t i = 0; hs_engine_joined(b->engine, i, &all); i++)
		hs_buf_char(&all, '\n');
	assert_string_equal(all.data != NULL ? all.data : "", want);
	hs_buf_free(&all);
}

/* No point here carries anything, and still each lead is on before the key: what can hang there at once at once, the others in turn. */
static void all_is_joined_before_the_key(void **state)
{
	(void)state;
	bench b;
	bench_open_with(&b, two_points, kit);
	begin(&b);
	play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off");
	says(&b, "With the source's output off and the key released, join source lead to J1.");
	play(&b, "a/join.source: done");
	says(&b, "With the power off, join tap lead to TP1.");
	says(&b, "Once it is keyed nothing is joined, parted or held to a point any more.");
	play(&b, "a/join.meter: done");
	says(&b, "With the power off, put probe on TP2 so that it stays by itself.");
	play(&b, "a/join.meter: done");
	play(&b, power_up);
	says(&b, "Low is 20 dB under what the step asks for: -30 dBm at J1; key only as long as it takes to see.");
	play(&b, "gate/keyed/low-power: proved\ngate/keyed/ports: closed\ngate/keyed/instrument: protected");
	/* The step keys shorter than the unit would let it. */
	says(&b, "Key no longer than 3 s at a time");
	play(&b, "gate/keyed/people: clear");
	says(&b, "Key J2 for at most 3 s, read, release the key, then type.");
	play(&b, "a/one: 0");
	says(&b, "Let go of the key and take the drive away, so that nothing transmits.");
	play(&b, "gate/off/unkeyed: unkeyed");
	says(&b, "With the key released, join tap lead to TP2.");
	play(&b, "a/join.meter: done");
	/* The load was not touched; all else about the key is confirmed anew. */
	play(&b, key_up);
	play(&b, "a/two: 0\na/bias: 0.15\ngate/off/unkeyed: unkeyed\ngate/off/switch: off");
	left_are(&b, "source lead at J1\nprobe at TP2\ntap lead at TP2\n");
	play(&b, "home/part.source: done");
	ended_at(&b, "good");
	left_are(&b, "probe at TP2\ntap lead at TP2\n");
	bench_close(&b);
}

/* What was put on by hand for an earlier reading is not taken to be still held there. */
static void a_probe_read_with_before_is_asked_about(void **state)
{
	(void)state;
	static const char book[] =
	    UNIT "step \"a\" { power = \"on\", read = { \"volts\", at = \"TP2\", hookup = \"probe\" }, limits = \"1 V .. 2 V\", ok = \"b\", otherwise = \"bad\" }\n"
	    "step \"b\" { " KEYED "read = { \"volts\", at = \"TP2\", hookup = \"probe\" }, limits = \"1 V .. 2 V\", ok = \"good\", otherwise = \"bad\" }\n" ENDS;
	bench b;
	bench_open_with(&b, book, kit);
	begin(&b);
	play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off\ngate/energise/people: told\ngate/on/switch: on\na: 0.15");
	says(&b, "With the key released, put probe on TP2 so that it stays by itself.");
	play(&b, "b/join.meter: done\ngate/off/switch: off");
	play(&b, power_up);
	play(&b, "gate/keyed/ports: closed\ngate/keyed/instrument: protected\ngate/keyed/people: clear"); /* nothing drives it */
	play(&b, "b: 0.15\ngate/off/unkeyed: unkeyed\ngate/off/switch: off");
	ended_at(&b, "good");
	bench_close(&b);
}

/* A resume trusts no lead, but does not forget that it is there either: the source is joined anew, and taken off at the end. */
static void a_resume_asks_for_leads_again(void **state)
{
	(void)state;
	bench b;
	bench_open_with(&b, two_points, kit);
	begin(&b);
	play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off\na/join.source: done\na/join.meter: done\n!resume");
	left_are(&b, "source lead at J1\ntap lead at TP1\n");
	play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off\na/join.source: done\na/join.meter: done\na/join.meter: done");
	play(&b, power_up);
	bench_close(&b);
}

/* A source on what may transmit comes off before a resistance is read, with the power off and not before. */
static void a_source_comes_off_with_the_power_off(void **state)
{
	(void)state;
	static const char book[] =
	    "unit { supply = { dc = \"12 V\" } } point \"J1\" { accepts = \"17 dBm\", dc = \"1 V\" } point \"TP1\" {}\n"
	    "step \"a\" { power = \"on\", inject = { \"-10 dBm\", at = \"J1\", freq = \"145 MHz\", hookup = \"source lead\" },\n"
	    "  read = { \"power\", at = \"TP1\", hookup = \"tap lead\", freq = \"145 MHz\" }, limits = \"0 dBm +/- 5 dB\", ok = \"b\", otherwise = \"bad\" }\n"
	    "step \"b\" { read = { \"ohms\", at = \"TP1\", hookup = \"prods\" }, limits = \"1 ohm .. 2 ohm\", ok = \"good\", otherwise = \"bad\" }\n" ENDS;
	static const char more[] =
	    "cable \"K1\" { type = \"RG-213/U\", length = \"1 m\" } cable \"K2\" { type = \"RG-213/U\", length = \"1 m\" } lead \"L1\" {}\n"
	    "instrument \"G1\" { gives = { from = \"-60 dBm\", to = \"10 dBm\", u = \"0.5 dB\" }, max = { dc = \"20 V\" } }\n"
	    "instrument \"M1\" { reads = { \"power\" }, from = \"-60 dBm\", to = \"60 dBm\", u = \"0.2 dB\" }\n"
	    "instrument \"D1\" { reads = { ohms = { from = \"0 ohm\", to = \"1 Mohm\", u = \"0.01 ohm\" } } }\n"
	    "hookup \"source lead\" { \"K1\", \"G1\" } hookup \"tap lead\" { \"K2\", \"M1\" } hookup \"prods\" { \"L1\", \"D1\" }\n";
	bench b;
	bench_open_with(&b, book, more);
	begin(&b);
	play(&b, "gate/off/switch: off\na/join.source: done\ngate/energise/people: told\ngate/on/switch: on\na: 0");
	play(&b, "gate/off/switch: off\nb/part.source: done\ngate/disconnected/dc: out");
	bench_close(&b);
}

/* What the source is set to is said when it is joined and in the first round, not in every one. */
static void a_source_is_set_once(void **state)
{
	(void)state;
	static const char book[] =
	    UNIT "step \"a\" { " KEYED "outside = true, inject = { \"-10 dBm\", at = \"J1\", freq = \"145 MHz\", hookup = \"source lead\" },\n"
	    "  watch = { \"Turn it up.\", tries = 2, read = { \"power\", at = \"TP1\", hookup = \"tap lead\", freq = \"145 MHz\" } },\n"
	    "  limits = \"at most 9 dBm\", ok = \"good\", otherwise = \"bad\" }\n" ENDS;
	bench b;
	bench_open_with(&b, book, kit);
	begin(&b);
	play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off\na/join.source: done\na/join.meter: done");
	play(&b, power_up);
	play(&b, key_up);
	says(&b, "Set G1 to -9.92 dBm at 145 MHz");
	says(&b, "stop and turn back at once; type it then. Nothing is joined or parted while it is keyed.");
	play(&b, "a: 0");
	says(&b, "a\nTurn it up.\nReading 2 of at most 2.");
	bench_close(&b);
}

/* While nothing is known of the power, it may be keyed: nothing is set or taken off before it is off. */
/* Drive alone makes it transmit: the source is joined with the power off, and comes off before the unit has power without being keyed. */
static void nothing_drives_it_unkeyed(void **state)
{
	(void)state;
	static const char text[] =
	    UNIT "step \"a\" { " KEYED "inject = { \"-10 dBm\", at = \"J1\", freq = \"145 MHz\", hookup = \"source lead\" },\n"
	    "  read = { \"power\", at = \"TP1\", hookup = \"tap lead\", freq = \"145 MHz\" }, limits = \"0 dBm +/- 5 dB\", ok = \"b\", otherwise = \"bad\" }\n"
	    "step \"b\" { power = \"on\", read = { \"volts\", at = \"TP2\", hookup = \"probe\" }, limits = \"1 V .. 2 V\", ok = \"good\", otherwise = \"bad\" }\n" ENDS;
	bench b;
	bench_open_with(&b, text, kit);
	begin(&b);
	play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off");
	says(&b, "Leave its output off: drive alone makes the unit transmit");
	play(&b, "a/join.source: done\na/join.meter: done");
	play(&b, power_up);
	play(&b, "gate/keyed/low-power: proved\ngate/keyed/ports: closed\ngate/keyed/instrument: protected");
	says(&b, "Drive is the key here: the source's output goes on last, and off first.");
	play(&b, "gate/keyed/people: clear\na: 0\ngate/off/unkeyed: unkeyed\ngate/off/switch: off\nb/part.source: done\ngate/energise/people: told\ngate/on/switch: on");
	asked(&b, "b");
	left_are(&b, "tap lead at TP1\n");
	bench_close(&b);
}

static void nothing_is_touched_while_unknown(void **state)
{
	(void)state;
	bench b;
	bench_open(&b,
	           "unit { supply = { mains = \"230 V\" }, controls = { band = { \"low\", \"high\" } } }\n"
	           "step \"a\" { power = \"on\", set = { band = \"low\" }, read = { \"volts\", at = \"TP1\" }, limits = \"1 V .. 2 V\",\n"
	           "  ok = \"good\", otherwise = \"good\" }\n"
	           "step \"good\" { finding = \"nothing\" }\n");
	begin(&b);
	play(&b, "intake/stands.band: low\ngate/off/switch: off\ngate/energise/people: told\n"
	         "gate/on/switch: on\n!resume");
	play(&b, "gate/off/switch: off\na/set.band: done");
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(all_is_joined_before_the_key),
	    cmocka_unit_test(a_probe_read_with_before_is_asked_about),
	    cmocka_unit_test(a_resume_asks_for_leads_again),
	    cmocka_unit_test(a_source_is_set_once),
	    cmocka_unit_test(a_source_comes_off_with_the_power_off),
	    cmocka_unit_test(nothing_is_touched_while_unknown),
	    cmocka_unit_test(nothing_drives_it_unkeyed),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
