/* Freehand: the acts a line can name, what they take over, what is refused, and that redo and resume fold the same model again. */
#include "words_bench.h"
#include "halfsplit/engine/walk.h"

static const char kit_text[] = "cable \"K1\" { points = { [\"100 MHz\"] = \"1 dB\", [\"200 MHz\"] = \"1 dB\" }, u = \"0.1 dB\" }\n"
                               "pad \"P30\" { loss = \"30 dB\", u = \"0.1 dB\", rated = \"100 W\" }\n"
                               "lead \"LD1\" { title = \"prods\" }\n"
                               "instrument \"M1\" { reads = { \"power\" }, from = \"-60 dBm\", to = \"20 dBm\", u = \"0.2 dB\", max = { rf = \"27 dBm\" } }\n"
                               "instrument \"G1\" { gives = { from = \"-110 dBm\", to = \"13 dBm\", u = \"0.5 dB\" } }\n"
                               "instrument \"D1\" { reads = { volts = { from = \"-600 V\", to = \"600 V\", u = \"1 %\" },\n"
                               "  ohms = { from = \"0 ohm\", to = \"40 Mohm\", u = \"1 %\" } }, max = { dc = \"600 V\" } }\n"
                               "hookup \"meter lead\" { \"K1\", \"M1\" }\n"
                               "hookup \"pad lead\" { \"K1\", \"P30\", \"M1\" }\n"
                               "hookup \"source lead\" { \"K1\", \"G1\" }\n"
                               "hookup \"prods\" { \"LD1\", \"D1\" }\n";

static const char family_text[] =
    "unit { supply = { dc = \"28 V\" }, emits = { J2 = { rf = \"50 W\" } }, zones = { inside = { guard = \"lid\" } }, parts = { lid = {} },\n"
    "  controls = { band = { \"low\", \"high\" } } }\n"
    "point \"J1\" { accepts = \"10 dBm\", impedance = \"50 ohm\" }\n"
    "point \"J2\" { gives = \"50 W\", impedance = \"50 ohm\" }\n"
    "point \"TP1\" { behind = \"lid\" }\n"
    "suspect \"a1\" { title = \"A1, driver\" }\n";

typedef struct free_bench {
	bench b;
	hs_sources *kit_sources;
	hs_kit *kit;
} free_bench;

static void open_kit(free_bench *f)
{
	hs_problems problems = {0};
	hs_error error = {0};
	memset(f, 0, sizeof *f);
	f->b.now_ms = 1000;
	f->kit_sources = hs_sources_from_text("kit.lua", kit_text, strlen(kit_text), &error);
	f->kit = hs_kit_load(f->kit_sources, HS_PLACES_EXACT, &problems, &error);
	no_problems(&problems);
}

static void open_engine(free_bench *f, const hs_playbook *base, const char *family)
{
	hs_error error = {0};
	f->b.engine = hs_engine_new_freehand(base, family, f->kit, "Ines", &error);
	if (f->b.engine == NULL)
		fail_msg("%s", error.message);
	f->b.playbook = hs_engine_playbook(f->b.engine);
	hs_engine_open(f->b.engine);
}

static void open_family(free_bench *f)
{
	hs_problems problems = {0};
	hs_error error = {0};
	open_kit(f);
	f->b.sources = hs_sources_from_text("family.lua", family_text, strlen(family_text), &error);
	f->b.book = hs_book_open_family(f->b.sources, f->kit, &problems, &error);
	no_problems(&problems);
	open_engine(f, hs_book_playbook(f->b.book), "wren");
	play(&f->b, "intake/words: dead\nintake/seen: nothing\nintake/seals: whole\nintake/keep: none\nintake/stands.band: low");
}

static void open_bare(free_bench *f, const char *unit)
{
	open_kit(f);
	open_engine(f, NULL, NULL);
	play(&f->b, "intake/words: dead\nintake/seen: nothing\nintake/seals: whole\nintake/keep: none");
	play(&f->b, unit);
}

static void close_free(free_bench *f)
{
	bench_close(&f->b);
	hs_kit_free(f->kit);
	hs_sources_free(f->kit_sources);
}

static const char no_supply[] = "unit/feeds: none\nunit/outside: J1 J2\nunit/cover: none\nunit/stores: none\nunit/fine: yes";
static const char dc_supply[] =
    "unit/feeds: dc 28 V\nunit/switch: unknown\nunit/standby: no\nunit/emits: no\nunit/outside: J1 J2\nunit/cover: lid\nunit/stores: none\nunit/fine: yes";
static const char mains_supply[] =
    "unit/feeds: mains 230 V\nunit/switch: unknown\nunit/standby: no\nunit/emits: no\nunit/outside: J1 J2\nunit/cover: lid\nunit/stores: unknown\nunit/fine: yes";
static const char go_on[] = "gate/off/unkeyed: unkeyed\ngate/off/switch: off\ngate/energise/people: told\ngate/on/switch: on";
static const char go_on_bare[] = "gate/off/switch: off\ngate/energise/people: told\ngate/on/switch: on";

/* Which act the next one is, whatever was refused before it. */
static void act_refused(free_bench *f, const char *text, const char *part)
{
	hs_ask ask = hs_engine_next(f->b.engine);
	char id[32];
	snprintf(id, sizeof id, "free/%d", ask.item);
	size_t steps = f->b.playbook->step_count, suspects = f->b.playbook->suspect_count;
	int points = f->b.playbook->unit.point_count, things = f->b.playbook->unit.openable_count;
	refused(&f->b, id, text, part);
	assert_int_equal(f->b.playbook->step_count, steps);
	assert_int_equal(f->b.playbook->suspect_count, suspects);
	assert_int_equal(f->b.playbook->unit.point_count, points);
	assert_int_equal(f->b.playbook->unit.openable_count, things);
}

static void refusals_say_what_is_wanted(void **state)
{
	(void)state;
	static const struct { const char *text, *part; } rows[] = {
		{"", "Name the next act; help lists them."},
		{"read power\033[2J at TP2", "control character"},
		{"read power at TP2", "What it is read with belongs to it: read power at TP2 by HOOKUP"},
		{"new TP2", "What is read belongs to it"},
		{"TP2", "\"TP2\" is no act, and no point yet; a new point inside is named with new: new TP2."},
		{"TP2, 3 V .. 4 V", "\"TP2\" is no act, and no point yet"},
		{"cancel", "\"cancel\" is no act, and no point yet; redo takes back the last act or reading; a new point inside is named with new: new cancel."},
		{", 5 V", "Limits stand behind an act or a point: TP3, 5 V .. 6 V"},
		{"open new", "What the further cover is called belongs to it: open new shield."},
		{"read volts at new", "A point is missing behind \"new\"."},
		{"done", "\"done\" confirms something, and nothing waits for that now; name the next act, or type help."},
		{"exit", "to stop for now type pause, or leave to get to a safe state first"},
		{"quit", "to stop for now type pause"},
		{"pasue", "did you mean pause? Otherwise a new point inside is named with new: new pasue."},
		{"fnd final: x", "\"fnd\" is no act; did you mean find?"},
		{"measure volts at TP1", "\"measure\" is no act; say read: read volts at TP1 by prods."},
		{"wiggle the lead", "\"wiggle\" is no act; help lists the acts."},
		{"read cancel", "\"cancel\" is no act, and no point yet"},
		{"again, 20 V .. 30 V", "Nothing was read yet that could be read again."},
		{"open hood", "Nothing that opens is called \"hood\" yet; a further cover is named with new: open new hood."},
		{"read power", "Where it is read belongs to it"},
		{"-12.5", "\"-12.5\" is a figure"},
		{"read power at TP2 by the big clip at 145 MHz", "The kit has no hookup \"the big clip\"; it knows meter lead, pad lead, source lead, prods, the instruments by their names, and eye; show kit lists them."},
		{"read power at TP2 by metre lead at 145 MHz", "The kit has no hookup \"metre lead\"; did you mean meter lead?"},
		{"read ohms at TP2 by meter lead", "M1 does not read ohms."},
		{"read power at TP2 by meter lead", "Say the frequency: at 145 MHz."},
		{"read power at TP2 by meter lead at 145 MHz, 3 V .. 5 V", "The limits behind the comma cannot be used"},
		{"read power at TP2 by meter lead at 145 MHz, 0 dBm +/- 0.1 dB", "The limits -0.1 dBm to 0.1 dBm are narrower than the hookup \"meter lead\" can decide"},
		{"read power at TP2 TP3 by meter lead at 145 MHz", "\"TP3\" was not understood, because the point is TP2 already"},
		{"read power at TP2 by meter lead at 145 MHz with hat", "Nothing called \"hat\" can be off or in place here."},
		{"put into J1 by source lead at 145 MHz", "Which level, as it is wanted at the point"},
		{"put -30 dBm by source lead at 145 MHz", "Where it goes in belongs to it"},
		{"put -30 dBm into J1", "By which hookup of the kit it goes in"},
		{"put -30 dBm into J1 by meter lead at 145 MHz", "M1 gives no level"},
		{"put -30 dBm into J1 by source lead at 145 MHz", "Nothing says what J1 stands; say it first"},
		{"put off", "No level is put in just now."},
		{"J1 accepts lots", "\"lots\" is no level: J1 accepts 20 dBm."},
		{"J1 carries 20 dBm", "\"20 dBm\" is no DC voltage: J1 carries 12 V."},
		{"suspect", "Name at least one suspect"},
		{"suspect q3, !!", "\"!!\" cannot be the name of a suspect"},
		{"clear q9", "q9 is not among the suspects; name it first"},
		{"power on", "Nothing that was declared feeds this unit"},
		{"power up", "\"up\" is no state of the power; it is on, off, standby, keyed or dead."},
		{"load 50 ohm 100 W", "Where the load goes belongs to it"},
		{"open", "Which cover comes off belongs to it"},
		{"close lid", "Which of what is open goes back"},
		{"undo link", "Nothing of that name is on the open list."},
		{"fit hat", "What kind of change, and what it is called"},
		{"set band low", "This unit declares no controls"},
		{"saw", "What was seen belongs to it"},
		{"find", "What was found belongs to it"},
		{"again", "Nothing was read yet that could be read again."},
		{"wait soon", "How long belongs to it"},
		{"replace", "What is replaced belongs to it"},
		{"do", "What is done belongs to it"},
	};
	free_bench f;
	open_bare(&f, no_supply);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		act_refused(&f, rows[i].text, rows[i].part);
	play(&f.b, "free/1: suspect q3");
	act_refused(&f, "clear q3", "Nothing has been read or seen yet that could clear anything.");
	close_free(&f);
}

static void what_is_not_said_is_taken_over(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, no_supply);
	play(&f.b, "free/1: r 145 MHz by meter lead power TP1, -10 dBm +/- 2 dB\nf1: -11");
	const hs_reading *one = &f.b.playbook->steps[1].readings[0];
	assert_true(one->has_limits && one->freq_hz == 145e6);
	play(&f.b, "free/2: at tp3\nf2: -11");
	const hs_reading *two = &f.b.playbook->steps[2].readings[0];
	assert_string_equal(two->at_text, "tp3");
	assert_string_equal(two->hookup_name, "meter lead");
	assert_true(two->reads == HS_READS_POWER && two->freq_hz == 145e6 && !two->has_limits);
	play(&f.b, "free/3: TP3 200MHz\nf3: -11\nfree/4: volts at tp1 against chassis by prods, at least 3 V\nf4: 5");
	const hs_reading *three = &f.b.playbook->steps[3].readings[0], *four = &f.b.playbook->steps[4].readings[0];
	/* The same point, however it is typed; volts by prods take no frequency over. */
	assert_true(three->point == two->point && three->freq_hz == 200e6);
	assert_true(four->point == one->point && four->freq_hz == 0.0 && four->has_limits);
	play(&f.b, "free/5: again\nf5: 2.9");
	assert_true(f.b.playbook->steps[5].readings[0].has_limits);
	play(&f.b, "free/6: again by eye\nf6: 4");
	assert_true(f.b.playbook->steps[6].readings[0].has_limits && f.b.playbook->steps[6].readings[0].hookup_name == NULL);
	play(&f.b, "free/7: again by prods\nf7: 4");
	says(&f.b, "A point alone reads volts there by prods");
	close_free(&f);
}

static void suspects_come_and_go(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, no_supply);
	play(&f.b, "free/1: s q3, output relay\nfree/2: saw R5 burnt\nfree/3: b q3\nfree/4: c Output Relay");
	assert_int_equal(standing(&f.b, "q3"), HS_SUSPECT_IMPLICATED);
	assert_int_equal(standing(&f.b, "output-relay"), HS_SUSPECT_CLEARED);
	play(&f.b, "!redo\n!redo\nfree/3: suspect c8\nfree/4: clear q3\nfree/5: suspect q3");
	assert_int_equal(standing(&f.b, "q3"), HS_SUSPECT_OPEN);
	assert_int_equal(standing(&f.b, "output-relay"), HS_SUSPECT_OPEN);
	/* What a suspect's naming that is taken back had added is gone. */
	play(&f.b, "!redo\n!redo\n!redo");
	assert_int_equal(hs_playbook_suspect(f.b.playbook, "c8"), -1);
	play(&f.b, "free/3: suspect c8\nfree/4: find q3, c8: both burnt");
	int at = hs_engine_finding(f.b.engine);
	assert_true(at > 0 && f.b.playbook->steps[at].not_separated);
	assert_string_equal(f.b.playbook->steps[at].proof, "both burnt");
	assert_non_null(strstr(f.b.playbook->steps[at].not_tested, "output relay"));
	assert_true(hs_engine_ended(f.b.engine));
	close_free(&f);
}

static void redo_takes_back_the_reading_then_the_act(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, no_supply);
	play(&f.b, "free/1: read volts at TP1 by prods\nf1: 5\nfree/2: new TP2\nf2: 6\n!redo\nf2: 7\n!redo\n!redo\nfree/2: at TP3\nf3: 8");
	assert_false(hs_engine_went_through(f.b.engine, 2, NULL, NULL));
	bool judged = false;
	hs_outcome outcome = HS_LOW;
	assert_true(hs_engine_went_through(f.b.engine, 3, &judged, &outcome));
	assert_true(judged && outcome == HS_OKAY);
	hs_buf seen;
	hs_buf_init(&seen);
	hs_engine_overview(f.b.engine, &seen);
	assert_null(strstr(seen.data, "TP2"));
	assert_non_null(strstr(seen.data, "f3  Volts at TP3: 8 V  noted"));
	hs_buf_free(&seen);
	close_free(&f);
}

static void a_stated_rating_is_held_to(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, no_supply);
	play(&f.b, "free/1: J1 accepts 10 dBm");
	act_refused(&f, "put 12 dBm into J1 by source lead at 145 MHz", "This injects 12 dBm at J1, 2.0 dB above its rating of 10 dBm. Lower the level");
	act_refused(&f, "put -120 dBm into J1 by source lead at 145 MHz", "\"G1\" would have to be set to -119 dBm, and it gives -110 dBm to 13 dBm.");
	act_refused(&f, "put 2 dBm into J1 by source lead at 145 MHz", "only 8.0 dB under its rating of 10 dBm. Keep 10 dB below the rating");
	play(&f.b, "free/2: put 2 dBm into J1 by source lead at 145 MHz because nothing in it is faster than a diode\nf1/join.source: done\nf1: done");
	play(&f.b, "free/3: put -20 dBm\nf2: done\nfree/4: read power at J2 by meter lead\nf3: -30");
	assert_true(f.b.playbook->steps[3].inject.given && f.b.playbook->steps[3].inject.level.value == -20.0);
	play(&f.b, "free/5: put off\nf4: done\nfree/6: again\nf5: -70");
	assert_false(f.b.playbook->steps[5].inject.given);
	/* Taken back, what was stated of J1 counts no longer. */
	play(&f.b, "!redo\n!redo\n!redo\n!redo\n!redo\n!redo\n!redo\n!redo");
	act_refused(&f, "put -30 dBm into J1 by source lead at 145 MHz", "Nothing says what J1 stands");
	close_free(&f);
}

static void resistances_wait_for_dead(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, dc_supply);
	act_refused(&f, "read volts at TP1 by prods", "In which state it is read belongs to it; say power on");
	play(&f.b, "free/1: power on");
	play(&f.b, go_on_bare);
	act_refused(&f, "read ohms at TP1 by prods", "ohms are only ever read in a unit proved dead, and the power is to be on; say power dead first");
	act_refused(&f, "power standby", "wants standby, and this unit has no standby");
	act_refused(&f, "power keyed", "Nothing that was declared emits");
	play(&f.b, "free/2: read ohms at R5 by prods loose\nf2: 4700\nfree/3: power dead");
	asked(&f.b, "gate/off/switch");
	close_free(&f);
}

static void a_live_zone_is_read_by_what_was_attached_dead(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, mains_supply);
	play(&f.b, "free/1: power on");
	play(&f.b, go_on_bare);
	play(&f.b, "free/2: read volts at TP1 against chassis by prods");
	assert_true(f.b.playbook->steps[2].attach_dead);
	/* No way to the reading but over proved dead. */
	asked(&f.b, "gate/off/switch");
	play(&f.b, "!redo\nfree/2: saw nothing\n!redo");
	play(&f.b, "free/2: read volts at TP1 against chassis by prods");
	play(&f.b, "gate/off/switch: off\ngate/disconnected/mains: out\ngate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines\n"
	           "f4/open.lid: done\ngate/discharged/store: 1 kohm");
	f.b.now_ms += 60000;
	play(&f.b, "gate/discharged/store.held: held");
	/* What is typed out of turn is no tester. */
	refused(&f.b, "gate/dead/tester", "0.1", "\"0.1\" is a reading, and which tester it is was asked");
	refused(&f.b, "gate/dead/tester", "read ohms at R44 by prods", "\"read ohms at R44 by prods\" is an act, and those come when this gate is passed");
	play(&f.b, "gate/dead/tester: 17");
	close_free(&f);
}

/* Does as asked until a question of this kind comes. */
static void oblige_until(free_bench *f, hs_ask_kind kind, bool closing)
{
	for (int i = 0; i < 80; i++) {
		hs_ask ask = hs_engine_next(f->b.engine);
		if (ask.kind == kind)
			return;
		hs_buf line;
		hs_buf_init(&line);
		hs_engine_ask_id(f->b.engine, &ask, &line);
		hs_buf_str(&line, ": ");
		hs_engine_obliging(f->b.engine, &ask, &line);
		if (ask.kind == HS_ASK_CLOSE && !closing)
			fail_msg("%s comes first", line.data);
		f->b.now_ms = ask.earliest_ms > f->b.now_ms ? ask.earliest_ms : f->b.now_ms;
		play(&f->b, line.data);
		hs_buf_free(&line);
	}
	fail_msg("it is never asked");
}

/* What was attached inside comes off, dead, before the cover goes on over it: for power as for close. */
static void no_cover_closes_over_a_lead(void **state)
{
	(void)state;
	static const char *const acts[] = {"free/2: power on", "free/2: close all"};
	for (size_t i = 0; i < 2; i++) {
		free_bench f;
		open_bare(&f, mains_supply);
		play(&f.b, "free/1: power on");
		play(&f.b, go_on_bare);
		play(&f.b, "free/2: read volts at TP1 against chassis by prods");
		oblige_until(&f, HS_ASK_READ, false);
		play(&f.b, "f2: 24");
		char act[32];
		snprintf(act, sizeof act, "free/3%s", acts[i] + 6);
		play(&f.b, act);
		oblige_until(&f, HS_ASK_PART, false);
		says(&f.b, "While the unit is proved dead, take prods off TP1.");
		play(&f.b, "f3/part.meter: done");
		oblige_until(&f, HS_ASK_ACT, true);
		close_free(&f);
	}
}

/* A lead that goes inside is joined by hands: no join before that zone is proved dead. */
static void a_source_inside_is_joined_dead(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, mains_supply);
	play(&f.b, "free/1: TP1 accepts 10 dBm\nfree/2: TP1 carries 0 V\nfree/3: put -30 dBm into TP1 by source lead at 145 MHz\ngate/off/switch: off\n"
	           "gate/disconnected/mains: out\ngate/disconnected/other: none\ngate/secured/plug: hand\ngate/secured/by: Ines\nf1/open.lid: done\n"
	           "gate/discharged/store: 1 kohm");
	f.b.now_ms += 60000;
	play(&f.b, "gate/discharged/store.held: held");
	asked(&f.b, "gate/dead/tester");
	close_free(&f);
}

static void work_inside_waits_for_dead(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, mains_supply);
	play(&f.b, "free/1: power on");
	play(&f.b, go_on_bare);
	play(&f.b, "free/2: fit link R5 bridged");
	asked(&f.b, "gate/off/switch");
	int link = hs_unit_openable(&f.b.playbook->unit, "R5-bridged");
	assert_true(link >= 0 && hs_step_need(f.b.playbook, &f.b.playbook->steps[2]) == HS_NEED_DEAD);
	assert_false(hs_engine_open_list(f.b.engine) >> link & 1u);
	play(&f.b, "!redo");
	act_refused(&f, "undo R5 bridged", "Nothing of that name is on the open list.");
	close_free(&f);
}

static void power_is_refused_over_what_is_open(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, dc_supply);
	play(&f.b, "free/1: open lid\ngate/off/switch: off\nf1/open.lid: done\nfree/2: fit lifted leg L9\nf2: done");
	assert_int_equal(hs_engine_open_list(f.b.engine), 3);
	play(&f.b, "free/3: power on");
	/* Neither is named, so both go back first. */
	asked(&f.b, "f3/close.L9");
	play(&f.b, "!redo\nfree/3: power on with lid and L9");
	asked(&f.b, "gate/energise/lid");
	play(&f.b, "gate/energise/lid: lid\ngate/energise/L9: L9\ngate/energise/tools: counted\ngate/energise/people: told\ngate/on/switch: on");
	/* Named once, they stay named. */
	play(&f.b, "free/4: read volts at TP1 by prods\nf5: 5\nfree/5: new TP2\nf6: 5\nfree/6: close all");
	play(&f.b, "gate/off/switch: off\nf7/close.L9: done\ngate/energise/tools: counted\nf7/close.lid: done");
	assert_int_equal(hs_engine_open_list(f.b.engine), 0);
	/* What was put back is not taken off again for a reading outside. */
	play(&f.b, "free/7: J1");
	asked(&f.b, "gate/energise/people");
	assert_int_equal(f.b.playbook->steps[8].open, 0);
	play(&f.b, "!redo\nfree/7: read volts at TP1 by prods");
	asked(&f.b, "f9/open.lid");
	close_free(&f);
}

/* What nobody said of a point's DC counts as all there is in the unit. */
static void unknown_dc_is_the_worst(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, dc_supply);
	play(&f.b, "free/1: J1 accepts 10 dBm\nfree/2: power on");
	play(&f.b, go_on_bare);
	act_refused(&f, "put -30 dBm into J1 by source lead at 145 MHz", "if you know better, say it: J1 carries 0 V.");
	/* Joined to a line that may carry DC, so with the power off; M1 states no DC rating. */
	play(&f.b, "free/3: read power at J2 by meter lead at 145 MHz\ngate/off/switch: off\nf2/join.meter: done\n!redo");
	play(&f.b, "free/3: power on\ngate/energise/people: told\ngate/on/switch: on\nfree/4: J1 carries 0 V");
	play(&f.b, "free/5: put -30 dBm into J1 by source lead at 145 MHz\nf4/join.source: done\nf4: done");
	assert_int_equal(hs_engine_power(f.b.engine), HS_POWER_ON);
	play(&f.b, "!redo\n!redo");
	act_refused(&f, "put -30 dBm into J1 by source lead at 145 MHz", "Nothing says what DC J1 carries");
	close_free(&f);
}

/* 27600 for 27.6: the meter would not have stood it, or the unit has nothing of the kind. */
static void a_slip_of_digits_is_no_reading(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, dc_supply);
	play(&f.b, "free/1: power on");
	play(&f.b, go_on_bare);
	play(&f.b, "free/2: read volts at J1 by prods");
	oblige_until(&f, HS_ASK_READ, false);
	refused(&f.b, "f2", "27600", "27.6 kV cannot be right here: D1 stands 600 V and no more");
	refused(&f.b, "f2", "-601", "-601 V cannot be right here: D1 stands 600 V");
	refused(&f.b, "f2", "300", "300 V cannot be right here: the highest voltage declared in this unit is 28 V");
	play(&f.b, "f2: 27.6\nfree/3: TP2 gives 10 dBm\nfree/4: TP2 carries 0 V\nfree/5: read power at J2 by meter lead at 145 MHz");
	oblige_until(&f, HS_ASK_READ, false);
	refused(&f.b, "f3", "30 dBm", "30 dBm cannot be right here: M1 stands 27 dBm and no more");
	play(&f.b, "f3: -30 dBm");
	close_free(&f);
}

/* What was cleared is not found, and what was implicated beside it is not kept quiet. */
static void a_finding_holds_to_the_record(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, no_supply);
	play(&f.b, "free/1: suspect final, driver, bias\nfree/2: saw it burnt\nfree/3: clear final\nfree/4: blame driver");
	act_refused(&f, "find final: burnt", "final was cleared in this run, so it cannot be what was found; if it is after all, say first: blame final.");
	play(&f.b, "free/5: blame final");
	act_refused(&f, "find final: burnt", "driver is implicated by \"it burnt\", so it belongs to what was found; name it too, or say first: clear driver.");
	act_refused(&f, "find nothing: it works", "final is implicated by \"it burnt\"");
	act_refused(&f, "find final, driver", "What proves it belongs to a finding: find final, driver: what was read or seen that shows it.");
	act_refused(&f, "find tube, final, driver: burnt", "tube is not among the suspects; name it first: suspect tube.");
	act_refused(&f, "clear bi", "bi is not among the suspects; did you mean bias? If not, name it first: suspect bi.");
	play(&f.b, "free/6: find final, driver: burnt");
	assert_string_equal(f.b.playbook->steps[f.b.playbook->step_count - 1].not_tested, "suspected, neither cleared nor implicated: bias");
	close_free(&f);
}

/* Unless somebody says that a key line makes it transmit, driving it is keying it. */
static void drive_is_the_key(void **state)
{
	(void)state;
	for (int keyed = 0; keyed < 2; keyed++) {
		free_bench f;
		open_bare(&f, keyed ? "unit/feeds: dc 28 V\nunit/switch: unknown\nunit/standby: no\nunit/emits: J2 50 W\nunit/drive: no\nunit/outside: J1\nunit/cover: lid\nunit/stores: none"
		                    : "unit/feeds: dc 28 V\nunit/switch: unknown\nunit/standby: no\nunit/emits: J2 50 W\nunit/drive: unknown\nunit/outside: J1\nunit/cover: lid\nunit/stores: none");
		says(&f.b, keyed ? "J2 emits up to 50 W, when it is keyed." : "J2 emits up to 50 W, as soon as it is driven with the power on.");
		play(&f.b, "unit/fine: yes\nfree/1: J1 accepts 10 dBm\nfree/2: J1 carries 0 V\nfree/3: power on");
		play(&f.b, go_on);
		play(&f.b, "free/4: put -10 dBm into J1 by source lead at 145 MHz");
		asked(&f.b, keyed ? "f2/join.source" : "gate/off/switch");
		play(&f.b, keyed ? "f2/join.source: done\nf2: done" : "gate/off/switch: off\nf2/join.source: done\nf2: done");
		if (keyed) {
			play(&f.b, "free/5: read power at J2 by pad lead at 145 MHz");
		} else {
			act_refused(&f, "read power at J2 by pad lead at 145 MHz", "This drives the unit with power \"on\", and drive alone makes J2 transmit.");
			act_refused(&f, "power on", "say put off first, or load 50 ohm 100 W at J2 and power keyed");
			play(&f.b, "free/5: load 50 ohm 100 W\nfree/6: power keyed\nfree/7: read power at J2 by pad lead at 145 MHz\nf3/join.meter: done");
			asked(&f.b, "gate/keyed/load");
		}
		close_free(&f);
	}
}

static void keyed_only_into_a_load(void **state)
{
	(void)state;
	free_bench f;
	open_family(&f);
	act_refused(&f, "power keyed", "What it is keyed into comes first: load 50 ohm 100 W at J2.");
	act_refused(&f, "load 50 ohm 100 W at J1", "Where the load goes belongs to it, a connector that emits");
	act_refused(&f, "load 50 ohm", "How many watts the load stands belongs to it");
	act_refused(&f, "load 50 ohm 10 W", "J2 emits 50 W, and this load stands 10 W; name one that stands at least as much.");
	play(&f.b, "free/1: load 50 ohm 50 W\nfree/2: power keyed\nfree/3: load 50 ohm 100 W");
	act_refused(&f, "read power at J2 by meter lead at 145 MHz", "This lets 39.72 W into M1, which stands 27 dBm");
	play(&f.b, "free/4: read power at J2 by pad lead at 145 MHz\ngate/off/unkeyed: unkeyed\ngate/off/switch: off\nf1/join.meter: done");
	asked(&f.b, "gate/keyed/load");
	close_free(&f);
}

static void a_family_is_held_to(void **state)
{
	(void)state;
	free_bench f;
	open_family(&f);
	act_refused(&f, "read power at TP9 by meter lead at 145 MHz", "wren declares no point TP9, did you mean TP1; to read at a place of your own, put new before it");
	act_refused(&f, "TP9", "wren declares no point TP9, did you mean TP1");
	act_refused(&f, "open hood", "Nothing that opens is called \"hood\" yet; it has lid; a further cover is named with new: open new hood.");
	act_refused(&f, "cancel", "\"cancel\" is no act, and no point yet; redo takes back the last act or reading");
	act_refused(&f, "J1 accepts 30 dBm", "The family file says what J1 accepts");
	act_refused(&f, "set band middle", "Which control, and where it is to stand");
	play(&f.b, "free/1: power on");
	play(&f.b, go_on);
	play(&f.b, "free/2: read power at new TP9 by pad lead at 145 MHz");
	/* A place of one's own is inside, behind the guard. */
	asked(&f.b, "gate/off/switch");
	assert_int_equal(standing(&f.b, "a1"), HS_SUSPECT_OPEN);
	close_free(&f);
}

static void a_family_declares_no_steps(void **state)
{
	(void)state;
	static const struct { const char *text, *part; } rows[] = {
		{"unit {}\nstep \"a\" { finding = \"x\" }\n", "this is a playbook, and a family was wanted"},
		{"playbook { id = \"x\" }\n", "this is a playbook, and a family was wanted"},
		{"point \"J1\" {}\n", "the file declares no unit"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_problems problems = {0};
		hs_error error = {0};
		hs_sources *sources = hs_sources_from_text("family.lua", rows[i].text, strlen(rows[i].text), &error);
		hs_book *book = hs_book_open_family(sources, NULL, &problems, &error);
		assert_true(problems.errors > 0);
		assert_non_null(strstr(problems.items[0].what.message, rows[i].part));
		hs_book_free(book);
		hs_problems_free(&problems);
		hs_sources_free(sources);
	}
}

static void the_unit_is_asked_until_it_stands(void **state)
{
	(void)state;
	static const struct { const char *ask, *text, *part; } rows[] = {
		{"unit/feeds", "", "Please write an answer"},
		{"unit/feeds", "the wall", "\"the\" does not say what feeds the unit"},
		{"unit/feeds", "mains", "How many volts the mains gives"},
		{"unit/feeds", "dc 28 W", "How many volts the supply gives"},
		{"unit/feeds", "dc 28,5 V", "In \"dc 28,5 V\" a comma stands within a figure; a decimal point is wanted there: 28.5."},
	};
	free_bench f;
	open_kit(&f);
	open_engine(&f, NULL, NULL);
	play(&f.b, "intake/words: dead\nintake/seen: nothing\nintake/seals: whole\nintake/keep: none");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		refused(&f.b, rows[i].ask, rows[i].text, rows[i].part);
	play(&f.b, "unit/feeds: mains 230 V, dc 12 V");
	refused(&f.b, "unit/switch", "dc 28 V", "\"dc 28 V\" does not say where it is switched");
	play(&f.b, "unit/switch: front panel");
	refused(&f.b, "unit/standby", "perhaps", "Type yes or no.");
	play(&f.b, "unit/standby: yes");
	refused(&f.b, "unit/emits", "J2", "What J2 emits at most belongs to it");
	refused(&f.b, "unit/emits", "50 W", "From which connector it comes belongs to it: J2 50 W.");
	refused(&f.b, "unit/emits", "2 W out", "From which connector it comes belongs to it: J2 50 W.");
	refused(&f.b, "unit/emits", "gate 5 W", "\"gate\" cannot be the name of a connector");
	play(&f.b, "unit/emits: 5 W at J2, RF OUT 100 mW");
	refused(&f.b, "unit/drive", "perhaps", "Type yes, no, or unknown, which counts as yes.");
	play(&f.b, "unit/drive: no");
	refused(&f.b, "unit/outside", "J2 50 W", "\"50\" is a figure, and the name of a connector was wanted");
	refused(&f.b, "unit/outside", "J1, 50 W", "\"50 W\" is a figure");
	play(&f.b, "unit/outside: RF IN, J9");
	refused(&f.b, "unit/cover", "dc 28 V", "\"dc 28 V\" holds a figure and names no cover");
	play(&f.b, "unit/cover: top cover");
	refused(&f.b, "unit/stores", "C7 400 V", "Volts and farads of C7 belong to it");
	play(&f.b, "unit/stores: C7 400 V 100 uF 100 kohm\nunit/fine: no\nunit/feeds: none\nunit/outside: none\nunit/cover: none");
	refused(&f.b, "unit/stores", "unknown", "Nothing feeds the unit, so say how high a charge can be");
	play(&f.b, "unit/stores: unknown 60 V");
	says(&f.b, "Fed by nothing");
	play(&f.b, "unit/fine: yes\nfree/1: saw nothing");
	assert_int_equal(f.b.playbook->unit.source_count, 1);
	assert_int_equal(f.b.playbook->unit.emitter_count, 0);
	close_free(&f);
}

static void a_load_goes_to_a_name_with_a_blank(void **state)
{
	(void)state;
	free_bench f;
	open_kit(&f);
	open_engine(&f, NULL, NULL);
	play(&f.b, "intake/words: dead\nintake/seen: nothing\nintake/seals: whole\nintake/keep: none\nunit/feeds: dc 28 V\nunit/switch: none\nunit/standby: no\n"
	           "unit/emits: 2 W at RF OUT\nunit/drive: no\nunit/outside: none\nunit/cover: none\nunit/stores: none\nunit/fine: yes");
	act_refused(&f, "load 50 ohm 5 W at RF IN", "Where the load goes belongs to it");
	play(&f.b, "free/1: load 50 ohm 5 W at RF OUT");
	close_free(&f);
}

/* One question back, as long as it does not stand. */
static void redo_goes_one_unit_question_back(void **state)
{
	(void)state;
	free_bench f;
	open_kit(&f);
	open_engine(&f, NULL, NULL);
	play(&f.b, "intake/words: dead\nintake/seen: nothing\nintake/seals: whole\nintake/keep: none\nunit/feeds: dc 28 V\nunit/switch: rear switch\n!redo");
	asked(&f.b, "unit/switch");
	play(&f.b, "!redo");
	asked(&f.b, "unit/feeds");
	play(&f.b, "!redo");
	asked(&f.b, "intake/keep");
	play(&f.b, "intake/keep: none\nunit/feeds: dc 12 V\nunit/switch: none\nunit/standby: nothing\nunit/emits: no\nunit/outside: RF IN, DC IN\nunit/cover: none\nunit/stores: none\n!redo");
	asked(&f.b, "unit/stores");
	play(&f.b, "unit/stores: none");
	says(&f.b, "Fed by 12 V DC, switched at the supply it is fed by, without a standby.");
	says(&f.b, "Reached from outside: RF-IN, DC-IN.");
	play(&f.b, "unit/fine: yes\n!redo");
	asked(&f.b, "intake/keep");
	assert_int_equal(f.b.playbook->unit.point_count, 2);
	play(&f.b, "intake/keep: none\nfree/1: power ON\ngate/off/switch: off\ngate/energise/people: told\ngate/on/switch: on");
	play(&f.b, "free/2: read volts at RF IN by prods");
	asked(&f.b, "f2");
	play(&f.b, "f2: 0 V\nfree/3: rf in accepts 10 mW\nfree/4: RF IN carries 0 V");
	assert_int_equal(f.b.playbook->unit.point_count, 2);
	assert_true(f.b.playbook->unit.points[0].has_accepts);
	close_free(&f);
}

/* A line of the first edition means what it meant then, and what was refused then stays refused, whatever is thought of it now. */
static void old_acts_mean_what_they_meant(void **state)
{
	(void)state;
	free_bench f;
	open_kit(&f);
	open_engine(&f, NULL, NULL);
	hs_engine_old_acts(f.b.engine);
	play(&f.b, "intake/words: dead\nintake/seen: nothing\nintake/seals: whole\nintake/keep: none\nunit/feeds: dc 28 V\nunit/standby: no\nunit/emits: no");
	play(&f.b, "unit/outside: RF IN, 50\nunit/cover: dc 28 V\nunit/stores: none\nunit/fine: yes\nfree/1: open hood\n!redo\nfree/1: find tube");
	assert_int_equal(hs_engine_finding(f.b.engine), f.b.playbook->step_count - 1);
	close_free(&f);
	open_bare(&f, no_supply);
	hs_engine_old_acts(f.b.engine);
	hs_event event = {.kind = HS_EVENT_ANSWER, .ask = "free/1", .text = "saw it burnt", .by = "Ines", .utc = "2026-01-01T09:00:00.000Z",
	                  .mono_ms = f.b.now_ms, .refused = "In those days nothing was seen."};
	hs_taken taken;
	hs_error error = {0};
	assert_true(hs_engine_take(f.b.engine, &event, &taken, &error));
	assert_int_equal(taken, HS_NOT_TAKEN);
	size_t count;
	assert_string_equal(hs_engine_facts(f.b.engine, &count)[0].why, "In those days nothing was seen.");
	asked(&f.b, "free/1");
	close_free(&f);
}

/* Limits need no comma where nothing else can be meant, and a gate says what it is for. */
static void limits_stand_where_they_are_typed(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, dc_supply);
	play(&f.b, "free/1: power on");
	says(&f.b, "For: Power on.");
	play(&f.b, go_on_bare);
	static const char *const lines[] = {"read volts at J1 by prods 12 V +/- 5 %", "again, 11.4 V .. 12.6 V", "J2 11.4 V .. 12.6 V", "=, 12 V +/- 5 %",
	                                    "again at least 11.4 V", "again by prods at J1, 12 V +/- 5 %"};
	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
		char text[120];
		snprintf(text, sizeof text, "free/%zu: %s\nf%zu: 12", i + 2, lines[i], i + 2);
		play(&f.b, text);
		const hs_reading *reading = &f.b.playbook->steps[f.b.playbook->step_count - 1].readings[0];
		assert_true(reading->has_limits && reading->limits.low > 11.39 && reading->limits.low < 11.41);
	}
	play(&f.b, "free/8: new TP5");
	asked(&f.b, "gate/off/switch");
	says(&f.b, "For: Volts at TP5.");
	close_free(&f);
}

static void two_things_of_one_name_do_not_stand(void **state)
{
	(void)state;
	free_bench f;
	open_kit(&f);
	open_engine(&f, NULL, NULL);
	play(&f.b, "intake/words: dead\nintake/seen: nothing\nintake/seals: whole\nintake/keep: none");
	play(&f.b, "unit/feeds: mains 230 V\nunit/switch: unknown\nunit/standby: no\nunit/emits: no\nunit/outside: J1\nunit/cover: tools\nunit/stores: none");
	refused(&f.b, "unit/fine", "yes", "two different confirmations would both be called \"gate/energise/tools\"");
	play(&f.b, "unit/fine: no");
	asked(&f.b, "unit/feeds");
	close_free(&f);
}

/* What the unit is and what was done to it are facts; a resume trusts neither power nor leads. */
static void a_resume_goes_on_where_it_was(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, dc_supply);
	play(&f.b, "free/1: power on");
	play(&f.b, go_on_bare);
	play(&f.b, "!resume\nfree/2: read volts at J1 by prods");
	asked(&f.b, "gate/off/switch");
	assert_int_equal(hs_engine_power(f.b.engine), HS_POWER_UNKNOWN);
	close_free(&f);
}

/* A thousand acts, and a redo of the last: nothing grows faster than it must. */
static void many_acts(void **state)
{
	(void)state;
	free_bench f;
	open_bare(&f, no_supply);
	play(&f.b, "free/1: read volts at TP1 by prods\nf1: 5");
	for (int i = 2; i <= 1000; i++) {
		char lines[80];
		snprintf(lines, sizeof lines, "free/%d: at TP%d\nf%d: %d", i, i, i, i % 100);
		play(&f.b, lines);
	}
	assert_int_equal(f.b.playbook->step_count, 1001);
	play(&f.b, "!redo\nf1000: 7\nfree/1001: suspect q3\nfree/1002: blame q3");
	int by = -1;
	assert_int_equal(hs_engine_suspect(f.b.engine, 0, &by), HS_SUSPECT_IMPLICATED);
	assert_int_equal(by, 1000);
	close_free(&f);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(refusals_say_what_is_wanted),
		cmocka_unit_test(what_is_not_said_is_taken_over),
		cmocka_unit_test(suspects_come_and_go),
		cmocka_unit_test(redo_takes_back_the_reading_then_the_act),
		cmocka_unit_test(a_stated_rating_is_held_to),
		cmocka_unit_test(resistances_wait_for_dead),
		cmocka_unit_test(a_live_zone_is_read_by_what_was_attached_dead),
		cmocka_unit_test(a_source_inside_is_joined_dead),
		cmocka_unit_test(no_cover_closes_over_a_lead),
		cmocka_unit_test(work_inside_waits_for_dead),
		cmocka_unit_test(power_is_refused_over_what_is_open),
		cmocka_unit_test(unknown_dc_is_the_worst),
		cmocka_unit_test(keyed_only_into_a_load),
		cmocka_unit_test(drive_is_the_key),
		cmocka_unit_test(a_finding_holds_to_the_record),
		cmocka_unit_test(a_slip_of_digits_is_no_reading),
		cmocka_unit_test(a_family_is_held_to),
		cmocka_unit_test(a_family_declares_no_steps),
		cmocka_unit_test(the_unit_is_asked_until_it_stands),
		cmocka_unit_test(a_load_goes_to_a_name_with_a_blank),
	    cmocka_unit_test(redo_goes_one_unit_question_back),
		cmocka_unit_test(old_acts_mean_what_they_meant),
		cmocka_unit_test(limits_stand_where_they_are_typed),
		cmocka_unit_test(two_things_of_one_name_do_not_stand),
		cmocka_unit_test(a_resume_goes_on_where_it_was),
		cmocka_unit_test(many_acts),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
