/* A reading by hand in a live hazardous zone: set up while it is proved dead, confirmed just before, and nothing of it kept for the next. */
#include "words_bench.h"

static const char book[] =
    "unit { supply = { mains = { \"230 V\", zone = \"primary\" } }, parts = { shield = {} }, zones = { primary = { guard = \"shield\" } } }\n"
    "point \"F1\" { zone = \"primary\", behind = \"shield\" }\n"
    "step \"a\" { power = \"on\", open = \"shield\", live = \"the fuse opens only under load\",\n"
    "  read = { \"ac volts\", at = \"F1\", hookup = \"prods\" }, limits = \"200 V .. 250 V\", ok = \"b\", otherwise = \"bad\" }\n"
    "step \"b\" { power = \"on\", open = \"shield\", live = \"the same\",\n"
    "  read = { \"ac volts\", at = \"F1\", hookup = \"prods\" }, limits = \"200 V .. 250 V\", ok = \"good\", otherwise = \"bad\" }\n"
    "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n";

static const char down[] = "gate/off/switch: off\ngate/disconnected/mains: out\ngate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines";
static const char proof[] =
    "gate/dead/tester: VT2\ngate/dead/known-ac-before: 231\ngate/dead/mains.L-N: 0\ngate/dead/mains.L-PE: 0\ngate/dead/mains.N-PE: 0\n"
    "gate/dead/known-ac-after: 231";
static const char set_up[] = "gate/live/why: confirmed\ngate/live/authorised: Mara Quill\ngate/live/supply: rcd\ngate/live/leads: rated\ngate/live/common: clipped";
static const char power_up[] = "gate/energise/shield: shield\ngate/energise/tools: counted\ngate/energise/people: told\ngate/energise/mains: in\ngate/on/switch: on";
static const char just_before[] = "gate/live/strap: off\ngate/live/second: Bo Linden\ngate/live/cut: ready\ngate/live/hand: one";

static void to_the_probe(bench *b)
{
	bench_open(b, book);
	begin(b);
	play(b, down);
	play(b, "a/open.shield: done");
	play(b, proof);
	says(b, "The playbook says why it cannot be dead: the fuse opens only under load");
	play(b, set_up);
	play(b, power_up);
}

static void each_fact_is_asked(void **state)
{
	(void)state;
	bench b;
	to_the_probe(&b);
	play(&b, just_before);
	play(&b, "a: 230");
	/* Another reading is another set of facts, from the dead unit on. */
	play(&b, down);
	play(&b, proof);
	play(&b, set_up);
	play(&b, power_up);
	play(&b, just_before);
	play(&b, "b: 230");
	play(&b, down);
	play(&b, proof); /* it stands open: it is not left before it is dead */
	ended_at(&b, "good");
	bench_close(&b);
}

static void no_word_passes_for_another(void **state)
{
	(void)state;
	static const struct {
		const char *ask, *text, *part;
	} rows[] = {
	    {"gate/live/strap", "", "Enter alone does not pass this gate: type \"off\" once it is so."},
	    {"gate/live/strap", "yes", "\"yes\" does not pass this gate"},
	    {"gate/live/second", "ines", "\"ines\" is the person at the bench: a second person stands in sight, can cut the power, and types their own name."},
	    {"gate/live/second", "nobody", "\"nobody\" does not pass this gate: the second person types their own name."},
	    {"gate/live/cut", "done", "type \"ready\" once it is so."},
	    {"gate/live/hand", "two", "type \"one\" once it is so."},
	};
	bench b;
	to_the_probe(&b);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_ask ask = hs_engine_next(b.engine);
		hs_buf id;
		hs_buf_init(&id);
		hs_engine_ask_id(b.engine, &ask, &id);
		if (strcmp(id.data, rows[i].ask) != 0) {
			const char *good = strstr(just_before, id.data);
			char line[80];
			snprintf(line, sizeof line, "%.*s", (int)strcspn(good, "\n"), good);
			play(&b, line);
		}
		hs_buf_free(&id);
		refused(&b, rows[i].ask, rows[i].text, rows[i].part);
	}
	bench_close(&b);
}

/* A break, a resume: the facts were about people and leads that nobody has watched since. */
static void a_break_voids_it_all(void **state)
{
	(void)state;
	bench b;
	to_the_probe(&b);
	play(&b, just_before);
	b.now_ms += HS_BREAK_MS;
	asked(&b, "a");
	assert_int_equal(give(&b, HS_EVENT_ANSWER, "a", "230"), HS_NOT_TAKEN);
	play(&b, down);
	play(&b, proof);
	play(&b, set_up);
	play(&b, "!resume");
	play(&b, down);
	play(&b, proof);
	play(&b, set_up);
	play(&b, power_up);
	play(&b, just_before);
	play(&b, "a: 230");
	bench_close(&b);
}

/* Above extra-low voltage and below the limit one may be alone: 48 V nominal never is dangerous, 72 V is, and mains needs two. */
static void below_the_limit_one_may_be_alone(void **state)
{
	(void)state;
	static const char low[] =
	    "unit { supply = { dc = { \"72 V\", zone = \"psu\" } }, parts = { shield = {} }, zones = { psu = { guard = \"shield\" } } }\n"
	    "point \"F1\" { zone = \"psu\", behind = \"shield\" }\n"
	    "step \"a\" { power = \"on\", open = \"shield\", live = \"it sags only under load\",\n"
	    "  read = { \"volts\", at = \"F1\", hookup = \"prods\" }, limits = \"60 V .. 80 V\", ok = \"good\", otherwise = \"bad\" }\n"
	    "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n";
	bench b;
	bench_open(&b, low);
	begin(&b);
	play(&b, "gate/off/switch: off\ngate/disconnected/dc: out\ngate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines\n"
	         "a/open.shield: done\ngate/dead/tester: VT2\ngate/dead/known-dc-before: 24\ngate/dead/dc.poles: 0\ngate/dead/known-dc-after: 24");
	play(&b, set_up);
	play(&b, "gate/energise/shield: shield\ngate/energise/tools: counted\ngate/energise/people: told\ngate/energise/dc: in\ngate/on/switch: on");
	play(&b, "gate/live/strap: off\ngate/live/hand: one\na: 72");
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(each_fact_is_asked),
	    cmocka_unit_test(no_word_passes_for_another),
	    cmocka_unit_test(a_break_voids_it_all),
	    cmocka_unit_test(below_the_limit_one_may_be_alone),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
