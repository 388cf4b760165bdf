/* A clean playbook of one reading, spoiled one thing at a time; shared by the checks of order and of levels. */
#ifndef UNIT_FIXTURE_H
#define UNIT_FIXTURE_H

#include "unit_bench.h"
#include "halfsplit/unit/check.h"

enum { LINE_SOURCE = 10, LINE_OPENABLE = 20, LINE_STEP = 30, LINE_READING = 40, LINE_INJECT = 50 };
enum { TP1, TP7, J1, J2, POINTS };
enum { PAD, METER, SOURCE, PROBE, PARTS };

typedef struct fixture {
	hs_part unrated; /* a source that does not say what DC it stands */
	hs_playbook book;
	hs_step step;
	hs_reading reading;
	hs_point points[POINTS];
	hs_part parts[PARTS];
	const hs_part *meter_parts[2], *source_parts[2], *probe_parts[2];
	hs_hookup meter, source, probe;
} fixture;

static inline hs_where at_line(int line)
{
	return (hs_where){.file = "amp.lua", .line = line};
}

static inline void make_kit(fixture *f)
{
	f->unrated = (hs_part){.id = "G2", .kind = HS_PART_INSTRUMENT, .gives_level = true};
	f->parts[PAD] =
	    (hs_part){.id = "P10", .kind = HS_PART_PAD, .has_fixed = true, .fixed_db = 10, .has_u = true, .rated_w = 5};
	f->parts[METER] = (hs_part){
	    .id = "M1", .kind = HS_PART_INSTRUMENT, .has_max_rf = true, .max_rf = {20, HS_DBM}, .max_dc_v = 25};
	f->parts[SOURCE] = (hs_part){.id = "G1", .kind = HS_PART_INSTRUMENT, .gives_level = true, .max_dc_v = 5};
	f->parts[PROBE] = (hs_part){.id = "X10", .kind = HS_PART_PROBE, .ratio = 10, .touch = true};
	f->meter_parts[0] = &f->parts[PAD];
	f->meter_parts[1] = &f->parts[METER];
	f->source_parts[0] = &f->parts[PAD];
	f->source_parts[1] = &f->parts[SOURCE];
	f->probe_parts[0] = &f->parts[PROBE];
	f->probe_parts[1] = &f->parts[METER];
	f->meter = (hs_hookup){.id = "meter lead", .parts = f->meter_parts, .count = 2, .instrument = &f->parts[METER]};
	f->source =
	    (hs_hookup){.id = "source lead", .parts = f->source_parts, .count = 2, .instrument = &f->parts[SOURCE]};
	f->probe = (hs_hookup){.id = "probe", .parts = f->probe_parts, .count = 2, .instrument = &f->parts[METER]};
}

/* A clean playbook of one keyed reading at J2 with a level injected at J1. */
static inline void make_fixture(fixture *f)
{
	*f = (fixture){.book = {.id = "amp", .steps = &f->step, .step_count = 1}};
	hs_bench_unit *unit = &f->book.unit;
	make_amplifier(unit);
	for (int i = 0; i < unit->source_count; i++)
		unit->sources[i].where = at_line(LINE_SOURCE + i);
	for (int i = 0; i < unit->openable_count; i++)
		unit->openables[i].where = at_line(LINE_OPENABLE + i);
	f->points[TP1] = (hs_point){.id = "TP1", .zone = ZONE_LOW, .behind = 1u << TOP_COVER, .impedance_ohm = 50};
	f->points[TP7] = (hs_point){.id = "TP7", .zone = ZONE_PSU, .behind = 1u << TOP_COVER | 1u << PSU_GUARD};
	f->points[J1] =
	    (hs_point){.id = "J1", .zone = -1, .has_accepts = true, .accepts = {17, HS_DBM}, .impedance_ohm = 50};
	f->points[J2] =
	    (hs_point){.id = "J2", .zone = -1, .has_gives = true, .gives = {1, HS_WATT}, .impedance_ohm = 50};
	unit->points = f->points;
	unit->point_count = POINTS;
	make_kit(f);
	f->reading = (hs_reading){.name = "s1",
	                          .reads = HS_READS_POWER,
	                          .unit = HS_DBM,
	                          .point = J2,
	                          .hookup_name = "meter lead",
	                          .hookup = &f->meter,
	                          .freq_hz = 145e6,
	                          .where = at_line(LINE_READING)};
	f->step = (hs_step){.id = "s1",
	                    .kind = HS_STEP_READ,
	                    .power = HS_NEED_ON,
	                    .power_given = true,
	                    .zone = -1,
	                    .emitter = -1,
	                    .readings = &f->reading,
	                    .reading_count = 1,
	                    .reuse = -1,
	                    .where = at_line(LINE_STEP)};
	f->step.inject = (hs_injection){.given = true,
	                                .level = {-3, HS_DBM},
	                                .point = J1,
	                                .freq_hz = 145e6,
	                                .hookup_name = "source lead",
	                                .hookup = &f->source,
	                                .where = at_line(LINE_INJECT)};
}

static inline void check(fixture *f, hs_problems *problems)
{
	*problems = (hs_problems){0};
	hs_unit_check(&f->book, problems);
	hs_problems_sort(problems);
}

typedef struct spoiled {
	void (*spoil)(fixture *f);
	hs_severity severity;
	int line;
	const char *message, *hint;
} spoiled;

/* Each row must earn exactly its one sentence, with its hint, at its line. */
static inline void run_spoiled(const spoiled *rows, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		fixture f;
		hs_problems problems;
		make_fixture(&f);
		rows[i].spoil(&f);
		check(&f, &problems);
		assert_int_not_equal(problems.count, 0);
		for (size_t j = 1; j < problems.count; j++)
			fail_msg("row %zu: also %d: %s", i, problems.items[j].what.line,
			         problems.items[j].what.message);
		hs_error what = problems.items[0].what;
		same_row(i, problems.items[0].severity, rows[i].severity);
		same_row(i, what.line, rows[i].line);
		assert_string_equal(what.message, rows[i].message);
		assert_string_equal(what.hint, rows[i].hint);
		assert_string_equal(what.file, "amp.lua");
		hs_problems_free(&problems);
	}
}

static inline void run_good(void (*const *good)(fixture *f), size_t count)
{
	for (size_t i = 0; i < count; i++) {
		fixture f;
		hs_problems problems;
		make_fixture(&f);
		good[i](&f);
		check(&f, &problems);
		if (problems.count)
			fail_msg("row %zu: %s", i, problems.items[0].what.message);
		hs_problems_free(&problems);
	}
}

#endif
