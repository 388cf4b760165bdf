/* Playbooks and kits that are right: the model holds what the file says, and the functions answer. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <math.h>
#include <cmocka.h>
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const char kit_text[] =
    "cable \"K12\" { type = \"RG-213/U\", length = \"3 m\", u = \"0.2 dB\" }\n"
    "cable \"K7\" { points = { [\"100 MHz\"] = \"0.31 dB\", [\"1 GHz\"] = \"1.1 dB\" }, u = \"k2 0.1 dB\", rated = "
    "\"100 W\" }\n"
    "cable { \"K9\", touchstone = \"k9.s2p\", u = \"0.1 dB\" }\n"
    "cable \"K10\" { touchstone = \"k10.s2p\", u = \"0.1 dB\" }\n"
    "pad \"P10\" { loss = \"10 dB\", u = \"0.2 dB\", rated = \"20 W\", to = \"3 GHz\" }\n"
    "adapter \"A1\" { loss = \"0.1 dB\", to = \"6 GHz\" }\n"
    "probe \"PR1\" { ratio = 10, touch = true, u = \"1 %\" }\n"
    "lead \"LD1\" { }\n"
    "instrument \"M1\" { title = \"power meter\", reads = { \"power\" }, from = \"-60 dBm\", to = \"20 dBm\",\n"
    "  freq = \"10 MHz .. 6 GHz\", u = \"0.2 dB\", max = { rf = \"27 dBm\", dc = \"25 V\" }, impedance = \"50 ohm\",\n"
    "  due = \"2027-03-31\", serial = \"A 114\" }\n"
    "instrument \"D1\" { reads = { volts = { from = \"0 V\", to = \"600 V\", u = \"0.5 % + 20 mV\" },\n"
    "  ohms = { from = \"0 ohm\", to = \"20 Mohm\", u = \"k2 1 %\" } } }\n"
    "instrument \"G1\" { gives = { from = \"-110 dBm\", to = \"13 dBm\", freq = \"9 kHz .. 3 GHz\", u = \"0.5 dB\" } "
    "}\n"
    "hookup \"meter lead\" { \"K12\", \"P10\", \"M1\" }\n"
    "hookup \"source lead\" { \"K7\", \"G1\" }\n"
    "hookup { \"volts\", \"LD1\", \"D1\" }\n";

static const char touchstone_text[] = "# MHz S DB R 50\n1 -40 0 -0.1 0 -0.1 0 -40 0\n1000 -40 0 -0.9 0 -0.9 0 -40 0\n";

static const char touchstone_2_text[] =
    "[Version] 2.0\r\n#MHz S DB R 50\r\n[Number of Ports] 2\r\n[Two-Port Data Order] 12_21\r\n"
    "[Number of Frequencies] 2\r\n[Network Data]\r\n1 -40 0 -9 0 0.05 0 -40 0\r\n1000 -40 0 -9 0\r\n-0.7 0 -40 0\r\n"
    "[End]\r\n";

static const char family_text[] =
    "unit {\n"
    "  supply = { mains = \"230 V\", battery = { \"-28 V\", max = true, title = \"the 28 V terminals\", zone = "
    "\"primary\" } },\n"
    "  rails  = { N12 = \"-12 V\" },\n"
    "  stores = { C7 = { charged = \"56 V\", farads = \"10 mF\", bleed = \"2.2 kohm\", zone = \"primary\", "
    "follows_line = true,\n"
    "             over = { farads = \"30 %\", bleed = \"5 %\" } } },\n"
    "  emits  = { J2 = { rf = \"50 W\", key = \"10 s\" } },\n"
    "  zones  = { primary = { guard = \"shield\", title = \"mains side\" }, inside = { guard = \"top\" } },\n"
    "  parts  = { shield = { after = \"top\", fixings = \"4 x M3\", torque = \"0.6 N m\", needs = \"dead\" },\n"
    "             top = { title = \"top cover\", fixings = \"8 x M3 pan\" } },\n"
    "  changes = { [\"link-f2\"] = { kind = \"link\", title = \"link across F2\", zone = \"primary\", needs = \"dead\" "
    "},\n"
    "              [\"leg-r4\"] = { kind = \"lifted leg\" } },\n"
    "  switch = \"the rear switch\", standby = true,\n"
    "}\n"
    "point \"J1\" { accepts = \"+10 dBm\", impedance = \"50 ohm\" }\n"
    "point \"J2\" { gives = \"50 W\" }\n"
    "point \"TP2\" { behind = { \"top\" }, gives = \"-20 dBm\", dc = \"12 V\", title = \"test point 2\" }\n"
    "point { \"TP9\", behind = { \"top\", \"shield\" }, zone = \"primary\" }\n";

static const char book_text[] =
    "require \"family\"\n"
    "playbook { id = \"fell/low\", edition = 3, title = \"Fell: low\", family = \"Tarnbeck Fell\",\n"
    "  first = { \"Switch it off.\", \"Leave it.\" },\n"
    "  symptom = { \"No output\", under = \"cold\", power = \"on\", open = { \"top\" }, tries = 3, absent = \"nff\" "
    "},\n"
    "  enter = { { \"rf\", \"the output check failed\", to = \"drive\" }, { \"dc\", to = \"rails\" } } }\n"
    "suspect \"q3\" { title = \"Q3\", modes = { \"dead\", \"low gain\" }, odds = 3 }\n"
    "suspect { \"psu\", modes = \"dead\" }\n"
    "suspect \"a1\" {}\n"
    "step \"drive\" { title = \"Drive\", note = \"careful\", power = \"keyed\", key = \"4 s\", minutes = 2.5, attach = "
    "\"dead\",\n"
    "  load = { \"50 ohm\", at = \"J2\", rated = \"100 W\", time = \"60 s\" }, open = \"top\", with = { \"link-f2\" "
    "},\n"
    "  inject = { \"-10 dBm\", at = \"J1\", freq = \"145 MHz\", hookup = \"source lead\", margin = \"the pad is "
    "checked\" },\n"
    "  read = { \"power\", at = \"TP2\", against = \"chassis\", hookup = \"meter lead\", settle = \"2 s\", plausible = "
    "\"-90 dBm .. 30 dBm\" },\n"
    "  limits = \"11 dBm +/- 2 dB\", holds = { \"do\", \"adjust\" },\n"
    "  low = { to = \"rails\", clears = { \"q3\" }, implicates = { \"psu\", \"a1\" } }, otherwise = \"look\" }\n"
    "step \"look\" { look = \"Is it lit?\", answers = { { \"lit\", \"steadily\", to = \"gain\", clears = \"psu\" }, { "
    "\"dark\", to = \"fix\" },\n"
    "  { \"smoke\", stop = true } } }\n"
    "step \"rails\" { collect = { { \"p5\", \"volts\", at = \"TP2\", hookup = \"volts\", limits = \"5 V +/- 5 %\" },\n"
    "  { \"p12\", \"volts\", at = \"TP9\", hookup = \"volts\" } }, power = \"on\",\n"
    "  decide = function(v) return v.p5 > 4 and v.p12 > 10 and \"look\" or \"fix\" end, to = { \"look\", { to = "
    "\"fix\", implicates = \"psu\" } } }\n"
    "step \"gain\" { read = { { \"in\", \"power\", at = \"J1\", hookup = \"meter lead\", freq = \"1 GHz\" },\n"
    "  { \"out\", \"power\", at = \"TP2\", hookup = \"meter lead\", freq = \"1 GHz\" } }, difference = { \"out\", "
    "\"in\" }, limits = \"14 dB +/- 3 dB\",\n"
    "  ok = \"turn\", otherwise = \"fix\" }\n"
    "step \"turn\" { adjust = { \"Turn R34.\", read = { \"volts\", at = \"TP2\" }, tries = 5, responds = \"1 V\" }, "
    "outside = true,\n"
    "  ok = \"gate-v\", otherwise = \"fix\" }\n"
    "step \"gate-v\" { read = { \"ohms\", at = \"R9\", loose = true, asks = \"Measure R9.\" }, uses = { \"turn\", lamp "
    "= \"look\", g = \"gain/in\" },\n"
    "  limits = function(v) return { v.turn * 2, 1e6 / 3 } end, ok = \"again\", otherwise = \"fix\" }\n"
    "step \"again\" { read = { \"ohms\", at = \"R9\", loose = true }, reuse = \"gate-v\", next = \"fix\", most = 2, "
    "beyond = \"found\" }\n"
    "step \"fix\" { act = \"Fit the link.\", makes = { \"link-f2\" }, undoes = { \"leg-r4\" }, next = \"settle\" }\n"
    "step \"settle\" { wait = { \"5 min\", \"it must cool\" }, next = \"swap\" }\n"
    "step \"swap\" { replace = \"Q3\", text = \"Mind the washer.\", next = { to = \"say\" } }\n"
    "step \"say\" { tell = \"Well done.\", next = \"choose\", zone = \"primary\" }\n"
    "step \"choose\" { decide = function(v) if v.lamp == \"lit\" then return \"found\" end return \"nff\" end, uses = "
    "{ lamp = \"look\" },\n"
    "  to = { \"found\", \"nff\" } }\n"
    "step \"found\" { finding = { \"q3\", \"psu\" }, separated = false, title = \"Q3 or the supply\", proof = \"output "
    "is back\",\n"
    "  not_tested = \"modulation\", advice = \"renew both\" }\n"
    "step \"nff\" { finding = \"no fault found\", suspects = {} }\n";

static hs_sources *sources_of(const char *path, const char *text)
{
	hs_error error = {0};
	hs_sources *sources = hs_sources_embedded();
	assert_true(hs_sources_add_embedded(sources, path, NULL, text, strlen(text), &error));
	return sources;
}

static void add(hs_sources *sources, const char *path, const char *text)
{
	hs_error error = {0};
	assert_true(hs_sources_add_embedded(sources, path, NULL, text, strlen(text), &error));
}

static void no_problems(const hs_problems *problems)
{
	hs_buf all;
	hs_buf_init(&all);
	for (size_t i = 0; i < problems->count; i++)
		hs_error_render(&problems->items[i].what, &all);
	if (problems->count)
		fail_msg("%s", all.data);
	hs_buf_free(&all);
}

typedef struct bench {
	hs_sources *kit_sources, *sources;
	hs_kit *kit;
	hs_book *book;
	hs_playbook *playbook;
} bench;

static int open_bench(void **state)
{
	bench *b = calloc(1, sizeof *b);
	hs_error error = {0};
	hs_problems problems = {0};
	b->kit_sources = sources_of("kit.lua", kit_text);
	add(b->kit_sources, "k9.s2p", touchstone_text);
	add(b->kit_sources, "k10.s2p", touchstone_2_text);
	b->kit = hs_kit_load(b->kit_sources, HS_PLACES_EXACT, &problems, &error);
	no_problems(&problems);
	b->sources = sources_of("low.lua", book_text);
	add(b->sources, "family.lua", family_text);
	b->book = hs_book_open(b->sources, b->kit, HS_PLACES_EXACT, &problems, &error);
	no_problems(&problems);
	b->playbook = hs_book_playbook(b->book);
	hs_playbook_check(b->playbook, &problems);
	no_problems(&problems);
	hs_problems_free(&problems);
	*state = b;
	return 0;
}

static int close_bench(void **state)
{
	bench *b = *state;
	hs_book_free(b->book);
	hs_kit_free(b->kit);
	hs_sources_free(b->sources);
	hs_sources_free(b->kit_sources);
	free(b);
	return 0;
}

static const hs_step *step_of(const hs_playbook *book, const char *id)
{
	int index = hs_playbook_step(book, id);
	if (index < 0)
		fail_msg("no step \"%s\"", id);
	return &book->steps[index];
}

static void leads_to(const hs_playbook *book, const hs_branch *branch, const char *id)
{
	assert_non_null(branch->target);
	assert_string_equal(branch->target, id);
	assert_int_equal(branch->to, hs_playbook_step(book, id));
}

/* ---- the kit ---- */

static void kit_has_its_parts(void **state)
{
	const bench *b = *state;
	static const struct {
		const char *id;
		hs_part_kind kind;
		double u_db, rated_w, fixed_db;
	} rows[] = {
	    {"K12", HS_PART_CABLE, 0.2, 0, 0},  {"K7", HS_PART_CABLE, 0.0866025403784438, 100, 0},
	    {"K9", HS_PART_CABLE, 0.1, 0, 0},   {"P10", HS_PART_PAD, 0.2, 20, 10},
	    {"A1", HS_PART_ADAPTER, 0, 0, 0.1}, {"PR1", HS_PART_PROBE, 0.0864274756528513, 0, 0},
	    {"LD1", HS_PART_PROBE, 0, 0, 0},    {"M1", HS_PART_INSTRUMENT, 0, 0, 0},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		const hs_part *part = hs_kit_part(b->kit, rows[i].id);
		assert_non_null(part);
		assert_int_equal(part->kind, rows[i].kind);
		assert_true(fabs(part->u_db - rows[i].u_db) < 1e-9);
		assert_true(part->rated_w == rows[i].rated_w);
		assert_true(fabs(part->fixed_db - rows[i].fixed_db) < 1e-12);
		assert_string_equal(part->file, "kit.lua");
	}
	assert_int_equal(hs_kit_part(b->kit, "K7")->own.count, 2);
	assert_int_equal(hs_kit_part(b->kit, "K9")->own.count, 2);
	assert_string_equal(hs_kit_part(b->kit, "K9")->own_source, "k9.s2p");
	const hs_loss_table *second = &hs_kit_part(b->kit, "K10")->own;
	assert_int_equal(second->count, 2);
	assert_true(second->points[0].loss_db == 0 && second->points[0].freq_hz == 1e6);
	assert_true(second->points[1].loss_db == 0.7 && second->points[1].freq_hz == 1e9);
	assert_true(hs_kit_part(b->kit, "PR1")->ratio == 10 && hs_kit_part(b->kit, "PR1")->touch);
	assert_true(hs_kit_part(b->kit, "LD1")->touch);
	assert_null(hs_kit_part(b->kit, "K13"));
	assert_int_equal(hs_kit_part(b->kit, "P10")->line, 5);
}

static const hs_range *range_of(const hs_part *part, hs_measurand reads)
{
	for (size_t i = 0; i < part->range_count; i++)
		if (part->ranges[i].reads == reads)
			return &part->ranges[i];
	fail_msg("%s does not read %s", part->id, hs_measurand_name(reads));
	return NULL;
}

static void kit_has_its_instruments(void **state)
{
	const bench *b = *state;
	const hs_part *m1 = hs_kit_part(b->kit, "M1"), *d1 = hs_kit_part(b->kit, "D1"), *g1 = hs_kit_part(b->kit, "G1");
	const hs_range *power = range_of(m1, HS_READS_POWER), *volts = range_of(d1, HS_READS_VOLTS),
	               *ohms = range_of(d1, HS_READS_OHMS);
	assert_true(power->from.value == -60 && power->to.value == 20 && power->from.unit == HS_DBM &&
	            power->has_range);
	assert_true(power->freq_from_hz == 1e7 && power->freq_to_hz == 6e9);
	assert_true(power->u.absolute == 0.2 && power->u.unit == HS_DB && !power->u.expanded);
	assert_true(m1->max_rf.value == 27 && m1->has_max_rf && m1->max_dc_v == 25 && m1->impedance_ohm == 50);
	assert_string_equal(m1->due, "2027-03-31");
	assert_string_equal(m1->serial, "A 114");
	assert_true(volts->u.percent == 0.5 && volts->u.absolute == 0.02 && volts->u.unit == HS_VOLT);
	assert_true(ohms->u.percent == 1 && ohms->u.expanded && ohms->to.value == 2e7);
	assert_true(g1->gives_level && g1->gives_from.value == -110 && g1->gives_to.value == 13 &&
	            g1->gives_freq_to_hz == 3e9);
	assert_false(m1->gives_level);
}

static void kit_has_its_hookups(void **state)
{
	const bench *b = *state;
	const hs_hookup *meter = hs_kit_hookup(b->kit, "meter lead");
	assert_int_equal(meter->count, 3);
	assert_string_equal(meter->parts[0]->id, "K12");
	assert_string_equal(meter->instrument->id, "M1");
	assert_int_equal(hs_kit_hookup(b->kit, "volts")->count, 2);
	assert_int_equal(hs_kit_hookup(b->kit, "M1")->count, 1);
	assert_null(hs_kit_hookup(b->kit, "K12"));
	size_t count;
	const char **names = hs_kit_hookup_names(b->kit, &count);
	assert_int_equal(count, 6);
	free(names);
}

/* ---- the unit ---- */

static void unit_has_its_energy(void **state)
{
	const bench *b = *state;
	const hs_bench_unit *unit = &b->playbook->unit;
	static const struct {
		const char *id;
		hs_energy_kind kind;
		double volts;
		bool max;
		int zone;
	} rows[] = {
	    {"battery", HS_SOURCE_DC, 28, true, 1},
	    {"mains", HS_SOURCE_MAINS, 230, false, 0},
	    {"N12", HS_SOURCE_RAIL, 12, false, 0},
	    {"C7", HS_SOURCE_STORE, 56, false, 1},
	};
	assert_int_equal(unit->source_count, COUNT(rows));
	for (size_t i = 0; i < COUNT(rows); i++) {
		const hs_energy_source *source = &unit->sources[i];
		assert_string_equal(source->id, rows[i].id);
		assert_int_equal(source->kind, rows[i].kind);
		assert_true(source->volts == rows[i].volts && source->volts_is_max == rows[i].max &&
		            source->zone == rows[i].zone);
	}
	assert_true(fabs(unit->sources[3].farads - 0.01) < 1e-15 && unit->sources[3].bleed_ohm == 2200);
	assert_true(unit->sources[3].farads_over == 0.3 && unit->sources[3].bleed_over == 0.05 &&
	            unit->sources[3].follows_line);
	assert_string_equal(unit->sources[0].title, "the 28 V terminals");
	assert_int_equal(unit->emitter_count, 1);
	assert_true(unit->emitters[0].watts == 50 && unit->emitters[0].key_seconds == 10);
	assert_true(unit->declared && unit->has_standby);
	assert_string_equal(unit->switch_title, "the rear switch");
}

static void unit_has_its_covers(void **state)
{
	const bench *b = *state;
	const hs_bench_unit *unit = &b->playbook->unit;
	int shield = hs_unit_openable(unit, "shield"), top = hs_unit_openable(unit, "top");
	int link = hs_unit_openable(unit, "link-f2"), leg = hs_unit_openable(unit, "leg-r4");
	assert_int_equal(unit->openable_count, 4);
	assert_int_equal(unit->openables[shield].after, top);
	assert_int_equal(unit->openables[shield].needs, HS_NEED_DEAD);
	assert_string_equal(unit->openables[top].fixings, "8 x M3 pan");
	assert_int_equal(unit->openables[link].kind, HS_OPEN_LINK);
	assert_int_equal(unit->openables[leg].kind, HS_OPEN_LIFTED);
	assert_int_equal(unit->openables[link].zone, 1);
	assert_int_equal(unit->openables[leg].zone, -1);
	assert_int_equal(unit->zone_count, 2);
	assert_int_equal(unit->zones[0].guard, top);
	assert_int_equal(unit->zones[hs_unit_zone(unit, "primary")].guard, shield);
	assert_string_equal(unit->openables[shield].where.file, "family.lua");
	assert_int_equal(unit->openables[shield].where.line, 8);
}

static void unit_has_its_points(void **state)
{
	const bench *b = *state;
	const hs_bench_unit *unit = &b->playbook->unit;
	const hs_point *j1 = &unit->points[hs_unit_point(unit, "J1")], *tp2 = &unit->points[hs_unit_point(unit, "TP2")];
	const hs_point *tp9 = &unit->points[hs_unit_point(unit, "TP9")];
	assert_int_equal(j1->zone, -1);
	assert_true(j1->has_accepts && j1->accepts.value == 10 && j1->impedance_ohm == 50);
	assert_int_equal(tp2->zone, 0);
	assert_true(tp2->behind == UINT64_C(1) << hs_unit_openable(unit, "top"));
	assert_true(tp2->has_gives && tp2->dc_v == 12);
	assert_int_equal(tp9->zone, 1);
	assert_int_equal(tp9->where.line, 17);
	assert_int_equal(hs_unit_point(unit, "TP3"), -1);
}

/* ---- the playbook and its steps ---- */

static void playbook_has_its_head(void **state)
{
	const bench *b = *state;
	const hs_playbook *book = b->playbook;
	assert_string_equal(book->id, "fell/low");
	assert_int_equal(book->edition, 3);
	assert_int_equal(book->first_count, 2);
	assert_string_equal(book->first[1], "Leave it.");
	assert_true(book->symptom.given && book->symptom.tries == 3 && book->symptom.power == HS_NEED_ON);
	leads_to(book, &book->symptom.absent, "nff");
	assert_int_equal(book->entry_count, 2);
	assert_string_equal(book->entries[0].word, "rf");
	leads_to(book, &book->entries[1].branch, "rails");
	assert_int_equal(book->suspect_count, 3);
	assert_int_equal(book->suspects[0].odds, 3);
	assert_int_equal(book->suspects[0].mode_count, 2);
	assert_string_equal(hs_suspect_title(&book->suspects[2]), "a1");
	assert_int_equal(book->slot_count, 8);
}

static void read_step_is_whole(void **state)
{
	const bench *b = *state;
	const hs_step *step = step_of(b->playbook, "drive");
	const hs_reading *reading = &step->readings[0];
	assert_int_equal(step->kind, HS_STEP_READ);
	assert_int_equal(step->power, HS_NEED_KEYED);
	assert_true(step->minutes == 2.5 && step->attach_dead && step->load_watts == 100 && step->load_seconds == 60);
	assert_true(step->key_seconds == 4);
	assert_int_equal(step->emitter, 0);
	assert_int_equal(step->holds, HS_HOLDS_DO | HS_HOLDS_ADJUST);
	assert_true(step->inject.given && step->inject.level.value == -10 && step->inject.has_margin);
	assert_ptr_equal(step->inject.hookup, hs_kit_hookup(b->kit, "source lead"));
	assert_string_equal(reading->name, "drive");
	assert_true(reading->freq_hz == 145e6 && reading->settle_s == 2);
	assert_ptr_equal(reading->hookup, hs_kit_hookup(b->kit, "meter lead"));
	assert_true(reading->has_limits && reading->limits.low == 9 && reading->limits.high == 13 &&
	            reading->limits.unit == HS_DBM);
	assert_true(reading->has_plausible && reading->plausible.low == -90);
	assert_int_equal(reading->limits_where.line, 13);
	leads_to(b->playbook, &step->branches[HS_LOW], "rails");
	leads_to(b->playbook, &step->branches[HS_UNREAD], "look");
	assert_int_equal(step->branches[HS_LOW].clear_count, 1);
	assert_int_equal(step->branches[HS_LOW].implicates[1], 2);
	assert_int_equal(step->branches[HS_LOW].where.line, 14);
	assert_int_equal(step->zone, 0);
	assert_int_equal(step->where.line, 9);
}

static void other_steps_are_whole(void **state)
{
	const bench *b = *state;
	const hs_playbook *book = b->playbook;
	const hs_step *look = step_of(book, "look"), *gain = step_of(book, "gain"), *turn = step_of(book, "turn");
	assert_int_equal(look->choice_count, 3);
	assert_true(look->choices[2].stop && look->choices[2].branch.target == NULL);
	leads_to(book, &look->choices[0].branch, "gain");
	assert_int_equal(look->choices[0].branch.clear_count, 1);
	assert_int_equal(gain->derive, HS_DERIVE_DIFFERENCE);
	assert_int_equal(gain->derive_a, 1);
	assert_true(gain->derived_limits && gain->derive_limit.unit == HS_DB && gain->derive_limit.high == 17);
	assert_true(turn->has_responds && turn->responds == 1 && turn->tries == 5 && turn->outside);
	assert_string_equal(turn->text, "Turn R34.");
	assert_int_equal(turn->zone, -1);
	assert_true(step_of(book, "settle")->wait_s == 300);
	assert_string_equal(step_of(book, "settle")->text, "it must cool");
	assert_string_equal(step_of(book, "swap")->replaces, "Q3");
	assert_int_equal(step_of(book, "say")->zone, 1);
	assert_int_equal(step_of(book, "fix")->kind, HS_STEP_DO);
	assert_true(step_of(book, "fix")->makes == UINT64_C(1) << hs_unit_openable(&book->unit, "link-f2"));
	assert_int_equal(step_of(book, "again")->reuse, hs_playbook_step(book, "gate-v"));
	assert_int_equal(step_of(book, "again")->most, 2);
	leads_to(book, &step_of(book, "again")->branches[HS_UNREAD], "fix");
	leads_to(book, &step_of(book, "again")->beyond, "found");
	assert_true(step_of(book, "found")->not_separated);
	assert_int_equal(step_of(book, "found")->suspect_count, 2);
	assert_string_equal(step_of(book, "nff")->text, "no fault found");
}

static void uses_are_resolved(void **state)
{
	const bench *b = *state;
	const hs_playbook *book = b->playbook;
	const hs_function *limits = &step_of(book, "gate-v")->readings[0].limits_by;
	static const struct {
		const char *name, *step;
		bool word;
	} rows[] = {
	    {"turn", "turn", false},
	    {"g", "gain", false},
	    {"lamp", "look", true},
	};
	assert_int_equal(limits->use_count, COUNT(rows));
	for (size_t i = 0; i < COUNT(rows); i++) {
		assert_string_equal(limits->uses[i].name, rows[i].name);
		assert_int_equal(limits->uses[i].step, hs_playbook_step(book, rows[i].step));
		assert_int_equal(limits->uses[i].slot < 0, rows[i].word);
	}
	assert_int_equal(limits->uses[1].slot, step_of(book, "gain")->readings[0].slot);
	const hs_function *decide = &step_of(book, "rails")->decide;
	assert_int_equal(decide->use_count, 2);
	assert_string_equal(decide->uses[1].target, "rails/p12");
	assert_int_equal(decide->uses[1].slot, step_of(book, "rails")->readings[1].slot);
	assert_int_equal(step_of(book, "rails")->exit_count, 2);
	assert_int_equal(step_of(book, "rails")->exits[1].implicate_count, 1);
}

/* ---- functions ---- */

static void functions_answer(void **state)
{
	const bench *b = *state;
	const hs_evaluator *evaluator = &b->playbook->evaluator;
	hs_error error = {0};
	hs_buf result;
	hs_buf_init(&result);
	const char *names[] = {"turn", "g", "lamp"};
	hs_value values[] = {
	    {.kind = HS_VALUE_NUMBER, .number = 0.1}, {.kind = HS_VALUE_NONE}, {.kind = HS_VALUE_TEXT, .text = "lit"}};
	int limits = step_of(b->playbook, "gate-v")->readings[0].limits_by.id;
	assert_true(evaluator->call(evaluator->context, limits, names, values, 3, &result, &error));
	assert_string_equal(result.data, "0.2 .. 333333.3333333333");
	hs_limits read;
	assert_true(hs_limits_read(result.data, HS_OHM, &read, &error));
	assert_true(read.high == 1e6 / 3);
	hs_buf_clear(&result);
	int choose = step_of(b->playbook, "choose")->decide.id;
	assert_true(evaluator->call(evaluator->context, choose, names + 2, values + 2, 1, &result, &error));
	assert_string_equal(result.data, "found");
	hs_buf_clear(&result);
	values[2].kind = HS_VALUE_NONE;
	assert_true(evaluator->call(evaluator->context, choose, names + 2, values + 2, 1, &result, &error));
	assert_string_equal(result.data, "nff");
	hs_buf_free(&result);
}

static const struct {
	const char *body;   /* of function(v) in the third line, a declared as used */
	const char *result; /* or NULL, and then */
	int line;
	const char *message;
} calls[] = {
    {"return \"end\"", "end", 0, NULL},
    {"return { 1, 2.5 }", "1 .. 2.5", 0, NULL},
    {"return { low = -3 }", "at least -3", 0, NULL},
    {"return { high = 4 }", "at most 4", 0, NULL},
    {"return tostring(v.a == nil)", "true", 0, NULL},
    {"return nil", NULL, 3, "this function returned nothing"},
    {"return 5", NULL, 3, "this function returned a number"},
    {"return true", NULL, 3, "this function returned true or false"},
    {"local none = \"\" return none", NULL, 3, "this function returned an empty text"},
    {"return {}", NULL, 3, "this function returned a table without limits"},
    {"return { \"1\", 2 }", NULL, 3, "this function returned limits that are not numbers"},
    {"return { 0, 1 / 0 }", NULL, 3, "this function returned a limit that is no finite number"},
    {"\nlocal name = \"aa\" return v[name]", NULL, 4, "the function does not declare that it uses \"aa\""},
    {"\n\nerror(\"no good\")", NULL, 5, "no good"},
    {"\nv.a = 1", NULL, 4, "a function keeps nothing, so what it uses cannot be written to"},
    {"\nstep \"x\" { tell = \"late\" }", NULL, 4,
     "\"step\" declares something, and that is possible only while the file is read"},
    {"kept = kept + 1 return \"end\"", NULL, 3, "kept"},
    {"while true do end", NULL, 3, "instructions"},
};

static void call_one(size_t row)
{
	char text[1024];
	snprintf(
	    text, sizeof text,
	    "playbook { id = \"x\", title = \"x\", family = \"x\", first = \"x\" } local kept = 1\n"
	    "step \"a\" { look = \"?\", answers = { { \"y\", to = \"f\" } } } step \"end\" { finding = \"none\" }\n"
	    "step \"f\" { to = \"end\", uses = { \"a\" }, decide = function(v) %s end }\n",
	    calls[row].body);
	hs_sources *sources = sources_of("x.lua", text);
	hs_problems problems = {0};
	hs_error error = {0};
	hs_buf result;
	hs_buf_init(&result);
	hs_book *book = hs_book_open(sources, NULL, HS_PLACES_EXACT, &problems, &error);
	no_problems(&problems);
	const hs_evaluator *evaluator = &hs_book_playbook(book)->evaluator;
	const char *name = "a";
	hs_value value = {.kind = HS_VALUE_NONE};
	bool good = evaluator->call(evaluator->context, 0, &name, &value, 1, &result, &error);
	if (good != (calls[row].result != NULL))
		fail_msg("%s: %s", calls[row].body, good ? "no error" : error.message);
	assert_string_equal(result.data ? result.data : "", good ? calls[row].result : "");
	if (!good && (error.line != calls[row].line || !strstr(error.message, calls[row].message)))
		fail_msg("%s: %s:%d: %s", calls[row].body, error.file, error.line, error.message);
	if (!good)
		assert_string_equal(error.file, "x.lua");
	hs_buf_free(&result);
	hs_book_free(book);
	hs_problems_free(&problems);
	hs_sources_free(sources);
}

static void functions_fail_well(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(calls); i++)
		call_one(i);
}

/* ---- tables are read when the builder is called ---- */

static void later_changes_do_not_count(void **state)
{
	(void)state;
	hs_sources *sources = sources_of(
	    "x.lua", "playbook { id = \"x\", title = \"x\", family = \"x\", first = \"x\" }\n"
	             "local t = { tell = \"one\", next = \"s2\" }\n"
	             "for i = 1, 3 do t.next = \"s\" .. i + 1; t.tell = \"number \" .. i; step(\"s\" .. i)(t) end\n"
	             "step(\"s4\", { finding = \"none\" })\n");
	hs_problems problems = {0};
	hs_error error = {0};
	hs_book *book = hs_book_open(sources, NULL, HS_PLACES_EXACT, &problems, &error);
	no_problems(&problems);
	const hs_playbook *playbook = hs_book_playbook(book);
	assert_int_equal(playbook->step_count, 4);
	assert_string_equal(playbook->steps[0].text, "number 1");
	assert_string_equal(playbook->steps[2].branches[HS_OKAY].target, "s4");
	assert_int_equal(playbook->entry_count, 1);
	assert_string_equal(playbook->entries[0].branch.target, "s1");
	hs_book_free(book);
	hs_problems_free(&problems);
	hs_sources_free(sources);
}

static void a_broken_file_is_a_problem(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		int line;
		const char *message;
	} rows[] = {
	    {"playbook {\n", 2, "expected"},
	    {"\nstep(5)", 2, "step wants its id in quotes and then a table in braces, and was given a number"},
	    {"playbook \"x\"", 1, "playbook wants a table in braces, and was given a string"},
	    {"step \"x\" \"y\"", 1, "step \"x\" wants a table in braces after its id, and was given a string"},
	    {"local t = {} t.t = t\n\nunit(t)", 3, "tables are nested more than 12 deep here"},
	    {"while true do end", 1, "instructions"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_sources *sources = sources_of("x.lua", rows[i].text);
		hs_problems problems = {0};
		hs_error error = {0};
		assert_null(hs_book_open(sources, NULL, HS_PLACES_EXACT, &problems, &error));
		assert_int_equal(problems.errors, 1);
		if (error.line != rows[i].line || !strstr(error.message, rows[i].message))
			fail_msg("%s: %d: %s", rows[i].text, error.line, error.message);
		assert_string_equal(problems.items[0].what.message, error.message);
		hs_problems_free(&problems);
		hs_sources_free(sources);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test_setup_teardown(kit_has_its_parts, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(kit_has_its_instruments, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(kit_has_its_hookups, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(unit_has_its_energy, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(unit_has_its_covers, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(unit_has_its_points, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(playbook_has_its_head, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(read_step_is_whole, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(other_steps_are_whole, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(uses_are_resolved, open_bench, close_bench),
	    cmocka_unit_test_setup_teardown(functions_answer, open_bench, close_bench),
	    cmocka_unit_test(functions_fail_well),
	    cmocka_unit_test(later_changes_do_not_count),
	    cmocka_unit_test(a_broken_file_is_a_problem),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
