/* What a run does of itself so that nobody is hurt on the way in, between two key-downs, and on the way home. */
#include "words_bench.h"
#include "halfsplit/engine/walk.h"
#include "halfsplit/proof/proof.h"

static const char store[] =
    "unit { supply = { mains = { \"230 V\", zone = \"primary\" } }, parts = { lid = {}, shield = { after = \"lid\" } },\n"
    "  zones = { primary = { guard = \"shield\" } },\n"
    "  stores = { C7 = { charged = \"450 V\", farads = \"100 uF\", bleed = \"100 kohm\", zone = \"primary\" } } }\n"
    "step \"a\" { power = \"any\", look = \"Look.\", answers = { { \"fine\", to = \"b\" } } }\n"
    "step \"b\" { power = \"dead\", open = \"shield\", look = \"Look in.\", answers = { { \"fine\", to = \"good\" } } }\n"
    "step \"good\" { finding = \"nothing\" }\n";

static const char to_secured[] = "gate/off/switch: off\ngate/disconnected/mains: out\ngate/disconnected/other: none\n"
                                 "gate/secured/plug: hand\ngate/secured/by: Ines";
static const char proof[] = "gate/dead/tester: VT2\ngate/dead/known-ac-before: 231\ngate/dead/known-dc-before: 24\ngate/dead/mains.L-N: 0\n"
                            "gate/dead/mains.L-PE: 0\ngate/dead/mains.N-PE: 0\ngate/dead/C7.across: 0\ngate/dead/C7.plus-chassis: 0\n"
                            "gate/dead/C7.minus-chassis: 0\ngate/dead/known-ac-after: 231\ngate/dead/known-dc-after: 24";

/* Where the step needs it dead anyway, no screw is turned before the plug is out. */
static void the_plug_before_the_first_cover(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, store);
	begin(&b);
	play(&b, "a: fine");
	play(&b, to_secured);
	play(&b, "b/open.lid: done");
	bench_close(&b);
}

static const char *charges(const bench *b, char text[80])
{
	hs_buf names;
	hs_buf_init(&names);
	hs_engine_charges(b->engine, &names);
	hs_copy(text, 80, names.length > 0 ? names.data : "");
	hs_buf_free(&names);
	return text;
}

/* Opened for a step and left before it: what stands open is waited for, discharged, proved dead and shorted before the run rests. */
static void an_open_store_is_not_left(void **state)
{
	(void)state;
	char text[80];
	bench b;
	bench_open(&b, store);
	begin(&b);
	play(&b, "a: fine");
	play(&b, to_secured);
	play(&b, "b/open.lid: done\n+40\ngate/waited/C7: waited\nb/open.shield: done");
	assert_string_equal(charges(&b, text), "C7");
	play(&b, "!leave");
	assert_false(hs_engine_paused(b.engine));
	play(&b, proof);
	assert_string_equal(charges(&b, text), "");
	play(&b, "gate/shorted/C7: fitted");
	assert_true(hs_engine_paused(b.engine));
	bench_close(&b);
}

/* Whoever must go, goes: the second leave is at once, and the charge is on the list. */
static void a_second_leave_is_at_once(void **state)
{
	(void)state;
	char text[80];
	bench b;
	bench_open(&b, store);
	begin(&b);
	play(&b, "a: fine");
	play(&b, to_secured);
	play(&b, "b/open.lid: done\n+40\ngate/waited/C7: waited\nb/open.shield: done\n!leave\n!leave");
	assert_true(hs_engine_paused(b.engine));
	assert_string_equal(charges(&b, text), "C7");
	bench_close(&b);
}

static const char transmitter[] =
    "unit { supply = { dc = \"28 V\" }, parts = { lid = {} }, emits = { J2 = { rf = \"10 W\", key = \"5 s\" } } }\npoint \"J2\" {}\n"
    "step \"a\" { power = \"keyed\", load = { \"50 ohm\", at = \"J2\", rated = \"50 W\" }, outside = true, collect = {\n"
    "    { \"one\", \"volts\", limits = \"1 V .. 2 V\" }, { \"two\", \"volts\", limits = \"1 V .. 2 V\" } }, ok = \"b\", otherwise = \"good\" }\n"
    "step \"b\" { power = \"keyed\", load = { \"50 ohm\", at = \"J2\", rated = \"50 W\" }, look = \"Is the lamp lit?\", answers = { { \"lit\", to = \"c\" } } }\n"
    "step \"c\" { power = \"on\", look = \"Well?\", answers = { { \"fine\", to = \"good\" } } }\n"
    "step \"good\" { finding = \"nothing\" }\n";

static const char *power_words(const bench *b, char text[80])
{
	hs_buf words;
	hs_buf_init(&words);
	hs_engine_power_words(b->engine, &words);
	hs_copy(text, 80, words.data);
	hs_buf_free(&words);
	return text;
}

static void account_says(const bench *b, const char *wanted)
{
	hs_buf why;
	hs_buf_init(&why);
	hs_ask other = {.kind = HS_ASK_CHOOSE, .step = 2, .item = -1};
	assert_false(hs_account_allows(b->engine, &other, &why));
	assert_string_equal(why.data, wanted);
	hs_buf_free(&why);
}

/* The release is typed behind the last key-down of a step, before anything else; with nothing ever open no tools are counted. */
static void the_key_is_released(void **state)
{
	(void)state;
	char text[80];
	bench b;
	bench_open(&b, transmitter);
	begin(&b);
	play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off");
	says(&b, "The load of this step: 50 ohm. If another is on, take it off and fit this one.");
	play(&b, "gate/keyed/load: 50 W\ngate/energise/people: told\ngate/on/switch: on\n"
	         "gate/keyed/ports: closed\ngate/keyed/instrument: protected");
	assert_string_equal(power_words(&b, text), "on");
	play(&b, "gate/keyed/people: clear");
	assert_string_equal(power_words(&b, text), "keyed");
	play(&b, "a/one: 1.5");
	account_says(&b, "something else is asked before the key is released (c) while the power state is on");
	play(&b, "a/two: 1.5\ngate/off/unkeyed: unkeyed");
	assert_string_equal(power_words(&b, text), "on");
	play(&b, "gate/keyed/ports: closed\ngate/keyed/instrument: protected\ngate/keyed/people: clear");
	says(&b, "Key J2 for at most 5 s, look, release the key, then type.");
	play(&b, "b: lit\ngate/off/unkeyed: unkeyed\nc: fine\ngate/off/switch: off");
	ended_at(&b, "good");
	bench_close(&b);
}

/* A redo takes the reading back, and not that the unit was keyed. */
static void redo_releases_nothing(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, transmitter);
	begin(&b);
	play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off\ngate/keyed/load: 50 W\ngate/energise/people: told\ngate/on/switch: on\n"
	         "gate/keyed/ports: closed\ngate/keyed/instrument: protected\ngate/keyed/people: clear\n"
	         "a/one: 9\na/two: 1.5\n!redo\n!redo\na/one: 1.5\na/two: 1.5\ngate/off/unkeyed: unkeyed");
	bench_close(&b);
}

/* A redo or a leave at a prompt that is read with the key down: it may be down still, so its release comes before anything else. */
static void leaving_a_keyed_prompt_asks_for_the_release(void **state)
{
	static const char keyed[] = "gate/off/unkeyed: unkeyed\ngate/off/switch: off\ngate/keyed/load: 50 W\ngate/energise/people: told\ngate/on/switch: on\n"
	                            "gate/keyed/ports: closed\ngate/keyed/instrument: protected\ngate/keyed/people: clear\n"
	                            "a/one: 1.5\na/two: 1.5\ngate/off/unkeyed: unkeyed\n"
	                            "gate/keyed/ports: closed\ngate/keyed/instrument: protected\ngate/keyed/people: clear";
	static const char *const ways[] = {"!redo", "!leave"};
	(void)state;
	for (size_t i = 0; i < 2; i++) {
		bench b;
		bench_open(&b, transmitter);
		begin(&b);
		play(&b, keyed);
		asked(&b, "b");
		play(&b, ways[i]);
		if (i == 0) {
			/* The same step's next reading is keyed itself; whatever is asked, it is not done with the key down unsaid. */
			hs_ask next = hs_engine_next(b.engine);
			assert_true(next.kind == HS_ASK_READ || (next.kind == HS_ASK_GATE && next.gate.fact == HS_FACT_UNKEYED));
			assert_true(hs_engine_physical(b.engine)->key_down);
		} else {
			play(&b, "gate/off/unkeyed: unkeyed\ngate/off/switch: off");
		}
		bench_close(&b);
	}
}

/* A wait from cold begins when the power comes, not while the unit is still off. */
static void a_wait_counts_from_the_power(void **state)
{
	static const char warm[] =
	    "unit { supply = { dc = \"12 V\" }, switch = \"the knob\" }\n"
	    "suspect \"s\" { modes = { \"dead\" } }\n"
	    "step \"warm\" { wait = { \"3 min\", \"It drifts from cold.\" }, power = \"on\", next = \"end\" }\n"
	    "step \"end\" { finding = { \"s\" } }\n";
	(void)state;
	bench b;
	bench_open(&b, warm);
	begin(&b);
	play(&b, "+200\ngate/off/switch: off\ngate/energise/people: told\ngate/on/switch: on");
	asked(&b, "warm");
	assert_int_equal(give(&b, HS_EVENT_ANSWER, "warm", "done"), HS_NOT_TAKEN);
	play(&b, "+180\nwarm: done");
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_plug_before_the_first_cover), cmocka_unit_test(an_open_store_is_not_left),
	    cmocka_unit_test(a_second_leave_is_at_once),       cmocka_unit_test(the_key_is_released),
	    cmocka_unit_test(redo_releases_nothing), cmocka_unit_test(leaving_a_keyed_prompt_asks_for_the_release),
	    cmocka_unit_test(a_wait_counts_from_the_power),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
