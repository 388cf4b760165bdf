/* Names a playbook declares, looked up from a table's key; unknown ones become problems with the nearest name as hint.
 */
#ifndef HALFSPLIT_CORE_PLAYBOOK_NAMES_H
#define HALFSPLIT_CORE_PLAYBOOK_NAMES_H

#include "table.h"

/* ---- bind_unit.c ---- */
int hs_find_zone(const hs_table *table, const char *key, int otherwise);
typedef enum hs_openable_sort {
	HS_SORT_COVER,
	HS_SORT_CHANGE, /* anything but a cover */
	HS_SORT_JOINT,
	HS_SORT_BEFORE  /* a cover or a joint: what a point is reached through */
} hs_openable_sort;
int hs_find_cover(const hs_table *table, const char *key); /* -1 when absent or unknown */
uint64_t hs_find_openables(const hs_table *table, const char *key, hs_openable_sort sort);
int hs_find_point(const hs_table *table, const char *key, const char *name, bool must); /* -1: not declared */
bool hs_find_need(const hs_table *table, const char *key, hs_need *out);

/* ---- bind_control.c ---- */
void hs_bind_controls(const hs_table *unit_table); /* after the zones */
/* set = { band = "low" }: positions from 1 into `set`, which begins zeroed. */
void hs_find_settings(const hs_table *table, uint8_t set[HS_CONTROLS_MOST]);

/* ---- bind_danger.c ---- */
void hs_bind_dangers(const hs_table *unit_table); /* after the zones and covers */
void hs_read_substances(const hs_table *table, hs_step *step);

/* ---- bind_shows.c ---- */
void hs_read_shows(const hs_table *table, hs_suspect *suspect); /* shows = { MODE = { ... } }, after its modes */
void hs_read_rates(const hs_table *table, hs_suspect *suspect); /* intermittent = { MODE = "1 in 4" }, after its modes */
void hs_read_doubles(const hs_table *table, hs_playbook *book); /* doubles = { "a1/dead + psu/low", ... }, after the suspects */

/* ---- bind_branch.c ---- */
const int *hs_find_suspects(const hs_table *table, const char *key, size_t *count);
/* "STEP" or { to = "STEP", clears = ..., implicates = ... }; false when absent or wrong. */
bool hs_read_branch(const hs_table *table, const char *key, hs_branch *out);
/* to, clears, implicates, counts as keys of the table itself; `must`: a missing `to` is a problem. */
bool hs_read_branch_fields(const hs_table *table, hs_branch *out, bool must);
enum { HS_BRANCH_WORDS = 4 };
extern const char *const hs_branch_words[HS_BRANCH_WORDS];
/* The list of branches a function may lead to. */
void hs_read_exits(const hs_table *table, hs_step *step);
/* A function of a step with what it uses. `key` holds the function; `uses` stands in the step's own table. */
bool hs_read_function(const hs_table *table, const char *key, const hs_table *step_table, hs_function *out);
/* What the function under `key` takes must be declared, and what it returns be among the exits; step NULL: limits. */
void hs_check_function(const hs_table *table, const char *key, const hs_function *function, const hs_step *step);

/* ---- bind_picture.c ---- */
void hs_find_picture(const hs_table *table, hs_step *step); /* see, mark */

/* ---- bind_counter.c ---- */
int hs_find_counter(const hs_table *table, const char *key); /* from 1; 0 when absent or unknown */

/* ---- bind_reading.c ---- */
void hs_read_read(const hs_table *table, hs_step *step);
/*
 * One reading. named: the first value is its name within the step, the second what is read. False when it is not known what
 * is read, so that its limits cannot be understood either.
 */
bool hs_read_one(const hs_table *table, const hs_step *step, hs_reading *reading, bool named);
void hs_read_list(const hs_table *list, hs_step *step); /* named readings, into the step */
/* Limits and plausible values may stand in the step or in the reading. */
void hs_read_step_limits(const hs_table *table, const hs_step *step, hs_reading *reading);
void hs_read_plausible(const hs_table *table, hs_reading *reading);
bool hs_good_reading_name(const hs_table *table, const hs_reading *reading);

/* ---- bind_expect.c ---- */
/* expect = ...: the limits are those of a line-up; everything else of the step and the reading is known. */
void hs_read_expect(const hs_table *table, const hs_step *step, hs_reading *reading);

/* ---- bind_outcome.c ---- */
bool hs_step_judges(const hs_step *step);
/* Where the outcomes lead; meant: limits were written, though perhaps wrongly. */
void hs_read_outcomes(const hs_table *table, hs_step *step, bool meant);
void hs_read_holds(const hs_table *table, hs_step *step);

/* ---- bind_adjust.c, bind_collect.c, bind_grid.c, bind_look.c ---- */
void hs_read_adjust(const hs_table *table, hs_step *step);
void hs_read_watch(const hs_table *table, hs_step *step);
void hs_read_collect(const hs_table *table, hs_step *step);
void hs_read_checklist(const hs_table *table, hs_step *step);
void hs_read_grid(const hs_table *table, hs_step *step);
/* Where a collect step leads once all is taken: by outcomes, or by its function. meant as in hs_read_outcomes. */
void hs_read_collected(const hs_table *table, hs_step *step, bool meant);
/* ---- bind_leads.c ---- */
void hs_read_zero(const hs_table *table, hs_step *step);
void hs_read_straight(const hs_table *table, hs_step *step);
void hs_read_prove(const hs_table *table, hs_step *step);
/* ---- bind_kit.c, for the known sources ---- */
/* unit: of the values it is the accuracy of; a level's is in dB. False when absent, or wrong and complained of. */
bool hs_read_accuracy(const hs_table *table, const char *key, hs_unit unit, hs_accuracy *out);
const char *hs_read_due(const hs_table *table); /* NULL when absent or no date */

void hs_read_look(const hs_table *table, hs_step *step);
void hs_read_compare(const hs_table *table, hs_step *step);
/* The kit's hookup for this name: what the shop bound it to, else the one of that name; NULL when there is none. */
const hs_hookup *hs_bound_hookup(const hs_build *build, const char *name); /* bind_role.c */
/* Binds a hookup by name; NULL when no kit is there, when it is a role that the kit does not fill, or with a
 * problem when the kit has none of that name. */
const hs_hookup *hs_find_hookup(const hs_table *table, const char *key, const char *name);

#endif
