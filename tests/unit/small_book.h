/*
 * A playbook small enough to hold in the head, built by hand so that the engine is tested without Lua.
 *
 *     mains 230 V and C7 (400 V, 100 uF, 100 kohm) in zone 1 behind the shield; the shield is behind the cover; TP1 is behind the cover
 *
 *     lamp (look) -> volts (read, on, cover off) --ok--> ohms (read, dead, shield off) -> found-b
 *                                                 --else--> link (do, off) -> rest (wait 60 s) -> again (read, on, link in place, at most 2) -> found-a
 */
#ifndef HALFSPLIT_TESTS_SMALL_BOOK_H
#define HALFSPLIT_TESTS_SMALL_BOOK_H

#include <string.h>

#include "halfsplit/engine/engine.h"

enum { COVER, SHIELD, LINK };
enum { LAMP, VOLTS, OHMS, LINKING, REST, AGAIN, FOUND_A, FOUND_B, LOST, STEPS };

typedef struct small_book {
	hs_playbook playbook;
	hs_point points[2];
	hs_suspect suspects[2];
	hs_choice choices[3];
	hs_step steps[STEPS];
	hs_reading readings[3];
	const char *first[1];
} small_book;

static const int suspect_a[] = {0}, suspect_b[] = {1};

static hs_branch branch_to(const char *target, int to)
{
	hs_branch branch;
	memset(&branch, 0, sizeof branch);
	branch.target = target;
	branch.to = to;
	branch.where = (hs_where){"small.lua", to + 10};
	return branch;
}

static void all_lead(hs_step *step, const char *target, int to)
{
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		step->branches[i] = branch_to(target, to);
}

static void small_unit(hs_bench_unit *unit, hs_point *points)
{
	unit->declared = true;
	unit->zone_count = 2;
	unit->zones[0] = (hs_zone){.id = "inside", .guard = COVER};
	unit->zones[1] = (hs_zone){.id = "primary", .guard = SHIELD};
	unit->source_count = 3;
	unit->sources[0] = (hs_energy_source){.id = "mains", .kind = HS_SOURCE_MAINS, .volts = 230.0, .zone = 1};
	unit->sources[1] = (hs_energy_source){.id = "C7", .kind = HS_SOURCE_STORE, .volts = 400.0, .farads = 100e-6, .farads_over = 0.2,
	                                      .bleed_ohm = 100e3, .bleed_over = 0.1, .follows_line = true, .zone = 1};
	unit->sources[2] = (hs_energy_source){.id = "P12", .kind = HS_SOURCE_RAIL, .volts = 12.0, .zone = 0};
	unit->openable_count = 3;
	unit->openables[COVER] = (hs_openable){.id = "cover", .kind = HS_OPEN_COVER, .after = -1, .needs = HS_NEED_OFF, .needs_given = true};
	unit->openables[SHIELD] = (hs_openable){.id = "shield", .kind = HS_OPEN_COVER, .after = COVER, .zone = 1};
	unit->openables[LINK] = (hs_openable){.id = "link", .kind = HS_OPEN_LINK, .after = -1, .needs = HS_NEED_OFF, .needs_given = true};
	points[0] = (hs_point){.id = "TP1", .zone = 0, .behind = 1u << COVER, .dc_v = 12.0};
	points[1] = (hs_point){.id = "X1", .zone = 1, .behind = 1u << SHIELD | 1u << COVER};
	unit->points = points;
	unit->point_count = 2;
	unit->switch_title = "the switch";
}

static hs_reading small_reading(const char *name, hs_measurand reads, hs_unit unit, int point, const char *at, int slot)
{
	hs_reading reading;
	memset(&reading, 0, sizeof reading);
	reading.name = name;
	reading.reads = reads;
	reading.unit = unit;
	reading.point = point;
	reading.at_text = at;
	reading.hookup_name = "leads";
	reading.slot = slot;
	reading.limits_by.id = -1;
	reading.has_limits = true;
	return reading;
}

static void small_step(hs_step *step, const char *id, hs_step_kind kind, hs_need power, int zone)
{
	memset(step, 0, sizeof *step);
	step->id = id;
	step->kind = kind;
	step->power = power;
	step->power_given = true;
	step->zone = zone;
	step->emitter = step->reuse = -1;
	step->decide.id = -1;
	step->where = (hs_where){"small.lua", 1};
}

static void small_reads(small_book *book)
{
	book->readings[0] = small_reading("volts", HS_READS_VOLTS, HS_VOLT, 0, "TP1", 0);
	book->readings[0].limits = (hs_limits){.has_low = true, .has_high = true, .low = 11.5, .high = 12.5, .unit = HS_VOLT};
	book->readings[0].has_plausible = true;
	book->readings[0].plausible = (hs_limits){.has_low = true, .has_high = true, .low = -1.0, .high = 30.0, .unit = HS_VOLT};
	book->readings[1] = small_reading("ohms", HS_READS_OHMS, HS_OHM, 1, "X1", 1);
	book->readings[1].limits = (hs_limits){.has_low = true, .low = 1000.0, .unit = HS_OHM};
	book->readings[2] = small_reading("again", HS_READS_VOLTS, HS_VOLT, 0, "TP1", 2);
	book->readings[2].limits = book->readings[0].limits;
	hs_step *s = book->steps;
	small_step(&s[VOLTS], "volts", HS_STEP_READ, HS_NEED_ON, 0);
	s[VOLTS].open = 1u << COVER;
	all_lead(&s[VOLTS], "link", LINKING);
	s[VOLTS].branches[HS_OKAY] = branch_to("ohms", OHMS);
	s[VOLTS].branches[HS_OKAY].clears = suspect_a;
	s[VOLTS].branches[HS_OKAY].clear_count = 1;
	s[VOLTS].branches[HS_LOW].implicates = suspect_a;
	s[VOLTS].branches[HS_LOW].implicate_count = 1;
	small_step(&s[OHMS], "ohms", HS_STEP_READ, HS_NEED_DEAD, 1);
	s[OHMS].open = 1u << SHIELD | 1u << COVER;
	all_lead(&s[OHMS], "found-b", FOUND_B);
	small_step(&s[AGAIN], "again", HS_STEP_READ, HS_NEED_ON, 0);
	s[AGAIN].open = 1u << COVER;
	s[AGAIN].with = 1u << LINK;
	s[AGAIN].most = 2;
	s[AGAIN].beyond = branch_to("found-a", FOUND_A);
	all_lead(&s[AGAIN], "again", AGAIN);
	for (int i = 0; i < 3; i++) {
		static const int owner[] = {VOLTS, OHMS, AGAIN};
		s[owner[i]].readings = &book->readings[i];
		s[owner[i]].reading_count = 1;
	}
}

static void small_rest(small_book *book)
{
	hs_step *s = book->steps;
	small_step(&s[LAMP], "lamp", HS_STEP_LOOK, HS_NEED_ANY, -1);
	s[LAMP].text = "Is the lamp lit?";
	book->choices[0] = (hs_choice){.word = "lit", .branch = branch_to("volts", VOLTS)};
	book->choices[1] = (hs_choice){.word = "dark", .branch = branch_to("lost", LOST)};
	book->choices[2] = (hs_choice){.word = "smoke", .stop = true};
	s[LAMP].choices = book->choices;
	s[LAMP].choice_count = 3;
	small_step(&s[LINKING], "link", HS_STEP_DO, HS_NEED_OFF, 0);
	s[LINKING].text = "Fit the link.";
	s[LINKING].open = 1u << COVER;
	s[LINKING].makes = 1u << LINK;
	s[LINKING].branches[HS_OKAY] = branch_to("rest", REST);
	small_step(&s[REST], "rest", HS_STEP_WAIT, HS_NEED_ANY, -1);
	s[REST].wait_s = 60.0;
	s[REST].branches[HS_OKAY] = branch_to("again", AGAIN);
	small_step(&s[FOUND_A], "found-a", HS_STEP_FINDING, HS_NEED_ANY, -1);
	s[FOUND_A].suspects = suspect_a;
	s[FOUND_A].suspect_count = 1;
	small_step(&s[FOUND_B], "found-b", HS_STEP_FINDING, HS_NEED_ANY, -1);
	s[FOUND_B].suspects = suspect_b;
	s[FOUND_B].suspect_count = 1;
	small_step(&s[LOST], "lost", HS_STEP_FINDING, HS_NEED_ANY, -1);
}

static const hs_playbook *small_book_make(small_book *book)
{
	memset(book, 0, sizeof *book);
	hs_playbook *p = &book->playbook;
	p->id = "small";
	p->edition = 1;
	p->title = "Small";
	book->first[0] = "Leave it off.";
	p->first = book->first;
	p->first_count = 1;
	small_unit(&p->unit, book->points);
	book->suspects[0] = (hs_suspect){.id = "a", .odds = 1};
	book->suspects[1] = (hs_suspect){.id = "b", .odds = 1};
	p->suspects = book->suspects;
	p->suspect_count = 2;
	small_reads(book);
	small_rest(book);
	p->steps = book->steps;
	p->step_count = STEPS;
	p->slot_count = 3;
	return p;
}

#endif
