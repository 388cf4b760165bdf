/* What a shop sets in its kit file: tighter limits that the gates keep, people that they name, and nothing looser than the default. */
#include "words_bench.h"
#include "halfsplit/unit/hazard.h"

static const char book[] =
    "unit { supply = { mains = { \"230 V\", zone = \"primary\" } }, zones = { primary = { guard = \"shield\" } }, parts = { shield = {} },\n"
    "  stores = { C7 = { charged = \"400 V\", farads = \"100 uF\", bleed = \"100 kohm\", follows_line = true, zone = \"primary\" } } }\n"
    "point \"F1\" { zone = \"primary\", behind = \"shield\" }\n"
    "step \"a\" { power = \"on\", open = \"shield\", live = \"the fuse opens only under load\",\n"
    "  read = { \"ac volts\", at = \"F1\", hookup = \"prods\" }, limits = \"200 V .. 250 V\", ok = \"good\", otherwise = \"bad\" }\n"
    "step \"good\" { finding = \"nothing\" } step \"bad\" { finding = \"something\" }\n";

#define PRODS "instrument \"M1\" { reads = \"ac volts\", u = \"1 V\", max = { dc = \"1 kV\" } }\nprobe \"X1\" { ratio = 1, touch = true }\nhookup \"prods\" { \"X1\", \"M1\" }\n"
#define OUT "gate/off/switch: off\ngate/disconnected/mains: out\ngate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines\n"

static const char tight[] = PRODS "shop { dead = \"2 V\", waits = \"200 %\", break_after = \"5 min\", authorised = { \"Mara Quill\" }, seconds = { \"Bo Linden\", \"Ines\" } }\n";

static void a_tighter_limit_is_kept(void **state)
{
	(void)state;
	bench b;
	bench_open_with(&b, book, tight);
	begin(&b);
	play(&b, OUT);
	/* Twice the 28.7 s. */
	says(&b, "57.4 s");
	b.now_ms += 40000;
	refused(&b, "gate/waited/C7", "waited", "Too early");
	play(&b, "+30\ngate/waited/C7: waited\na/open.shield: done\ngate/dead/tester: VT2\ngate/dead/known-ac-before: 231\ngate/dead/known-dc-before: 24");
	says(&b, "It counts as dead at 2 V or less");
	asked(&b, "gate/dead/mains.L-N");
	assert_int_equal(give(&b, HS_EVENT_ANSWER, "gate/dead/mains.L-N", "3 V"), HS_TAKEN);
	/* 3 V is live in this shop: the way begins again. */
	asked(&b, "gate/off/switch");
	bench_close(&b);
}

static void a_shorter_break_voids(void **state)
{
	(void)state;
	bench b;
	bench_open_with(&b, book, tight);
	begin(&b);
	play(&b, "gate/off/switch: off\ngate/disconnected/mains: out\n+299\ngate/disconnected/other: none");
	b.now_ms += 301000;
	asked(&b, "gate/secured/plug");
	assert_int_equal(give(&b, HS_EVENT_ANSWER, "gate/secured/plug", "hand"), HS_NOT_TAKEN);
	assert_non_null(strstr(b.why, "More than 5 minutes have passed"));
	asked(&b, "gate/off/switch");
	bench_close(&b);
}

static void only_those_named_pass(void **state)
{
	(void)state;
	bench b;
	bench_open_with(&b, book, tight);
	begin(&b);
	play(&b, OUT "+60\ngate/waited/C7: waited\na/open.shield: done\ngate/dead/tester: VT2\ngate/dead/known-ac-before: 231\ngate/dead/known-dc-before: 24\n"
	         "gate/dead/mains.L-N: 0\ngate/dead/mains.L-PE: 0\ngate/dead/mains.N-PE: 0\ngate/dead/C7.across: 0\ngate/dead/C7.plus-chassis: 0\n"
	         "gate/dead/C7.minus-chassis: 0\ngate/dead/known-ac-after: 231\ngate/dead/known-dc-after: 24\ngate/shorted/C7: fitted\ngate/live/why: confirmed");
	refused(&b, "gate/live/authorised", "Bo Linden", "is not among those whom this shop's settings name for it");
	play(&b, "gate/live/authorised: mara quill\ngate/live/supply: rcd\ngate/live/leads: rated\ngate/live/common: clipped\ngate/energise/C7.short: removed\n"
	         "gate/energise/shield: shield\ngate/energise/tools: counted\ngate/energise/people: told\ngate/energise/mains: in\ngate/on/switch: on\ngate/live/strap: off");
	refused(&b, "gate/live/second", "Cleo Marsh", "is not among those whom this shop's settings name for it");
	/* A name on the list is still not a second person when it is one's own. */
	refused(&b, "gate/live/second", "Ines", "is the person at the bench");
	play(&b, "gate/live/second: Bo Linden");
	bench_close(&b);
}

/* Each word at its default is taken, and a hair beyond it is refused by name. */
static void nothing_is_loosened(void **state)
{
	(void)state;
	static const struct {
		const char *word, *at, *beyond, *part;
	} rows[] = {
	    {"dead", "5 V", "5.01 V", "allows 5 V at most"},           {"discharge", "0.25 J", "0.26 J", "allows 0.25 J at most"},
	    {"keep_shorted", "10 J", "10.1 J", "allows 10 J at most"}, {"lone", "90 V", "91 V", "allows 90 V at most"},
	    {"break_after", "15 min", "16 min", "allows 900 s at most"}, {"touch", "45 degC", "46 degC", "allows 45 degC at most"},
	    {"lift", "15 kg", "16 kg", "allows 15 kg at most"},        {"waits", "100 %", "99 %", "no computed wait is ever shortened"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		for (int beyond = 0; beyond < 2; beyond++) {
			hs_error error = {0};
			hs_problems problems = {0};
			char text[120];
			snprintf(text, sizeof text, "shop { %s = \"%s\" }", rows[i].word, beyond ? rows[i].beyond : rows[i].at);
			hs_sources *sources = hs_sources_from_text("kit.lua", text, strlen(text), &error);
			hs_kit *kit = hs_kit_load(sources, HS_PLACES_EXACT, &problems, &error);
			assert_int_equal(problems.count, beyond);
			if (beyond && strstr(problems.items[0].what.message, rows[i].part) == NULL)
				fail_msg("%s: %s", rows[i].word, problems.items[0].what.message);
			hs_kit_free(kit);
			hs_problems_free(&problems);
			hs_sources_free(sources);
		}
}

static void an_unset_shop_keeps_the_defaults(void **state)
{
	(void)state;
	hs_energy_source store = {.id = "C7", .kind = HS_SOURCE_STORE, .volts = 400, .farads = 100e-6, .farads_over = 0.2, .bleed_ohm = 100e3, .bleed_over = 0.1,
	                          .follows_line = true};
	hs_shop tighter = *hs_shop_or_default(NULL);
	double before = hs_store_at_limits(&store).wait_s;
	tighter.waits = 1.5;
	tighter.dead_volts = 1;
	store.shop = &tighter;
	assert_true(hs_store_at_limits(&store).wait_s > 1.49 * before && hs_store_at_limits(&store).wait_s < 1.51 * before);
	assert_true(hs_dead_volts(&store) <= 1.0);
	store.shop = NULL;
	assert_true(hs_dead_volts(&store) >= 5.0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_tighter_limit_is_kept), cmocka_unit_test(a_shorter_break_voids),
	    cmocka_unit_test(only_those_named_pass),   cmocka_unit_test(nothing_is_loosened),
	    cmocka_unit_test(an_unset_shop_keeps_the_defaults),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
