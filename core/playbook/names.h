/* Names a playbook declares, looked up from a table's key; unknown ones become problems with the nearest name as hint.
 */
#ifndef HALFSPLIT_CORE_PLAYBOOK_NAMES_H
#define HALFSPLIT_CORE_PLAYBOOK_NAMES_H

#include "table.h"

/* ---- bind_unit.c ---- */
int hs_find_zone(const hs_table *table, const char *key, int otherwise);
uint64_t hs_find_openables(const hs_table *table, const char *key, bool covers);        /* else temporary changes */
int hs_find_point(const hs_table *table, const char *key, const char *name, bool must); /* -1: not declared */
bool hs_find_need(const hs_table *table, const char *key, hs_need *out);

/* ---- bind_branch.c ---- */
const int *hs_find_suspects(const hs_table *table, const char *key, size_t *count);
/* "STEP" or { to = "STEP", clears = ..., implicates = ... }; false when absent or wrong. */
bool hs_read_branch(const hs_table *table, const char *key, hs_branch *out);
/* to, clears, implicates as keys of the table itself; `must`: a missing `to` is a problem. */
bool hs_read_branch_fields(const hs_table *table, hs_branch *out, bool must);
extern const char *const hs_branch_words[3];
/* The list of branches a function may lead to. */
void hs_read_exits(const hs_table *table, hs_step *step);
/* A function of a step with what it uses. `key` holds the function; `uses` stands in the step's own table. */
bool hs_read_function(const hs_table *table, const char *key, const hs_table *step_table, hs_function *out);
/* What the function under `key` takes must be declared, and what it returns be among the exits; step NULL: limits. */
void hs_check_function(const hs_table *table, const char *key, const hs_function *function, const hs_step *step);

/* ---- bind_reading.c ---- */
void hs_read_read(const hs_table *table, hs_step *step);
void hs_read_adjust(const hs_table *table, hs_step *step);
void hs_read_collect(const hs_table *table, hs_step *step);
/* Binds a hookup by name; NULL when no kit is there, or with a problem when the kit has none of that name. */
const hs_hookup *hs_find_hookup(const hs_table *table, const char *key, const char *name);

#endif
