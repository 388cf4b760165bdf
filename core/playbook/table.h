/*
 * Reading one table of a declaration: known keys only, raw access only, every mistake a problem on the line of its key.
 *
 * A key is a word ("limits") or a position ("[2]"). All text comes back in the model's arena. Getters of an absent key
 * return NULL, false or a default without complaint; of a wrong one, the same with a problem added.
 */
#ifndef HALFSPLIT_CORE_PLAYBOOK_TABLE_H
#define HALFSPLIT_CORE_PLAYBOOK_TABLE_H

#include "build.h"

typedef struct hs_table {
	hs_build *build;
	lua_State *L;
	const hs_decl *decl;
	int index;        /* on the stack; 0: there is no such table */
	const char *path; /* "" for the table of the call itself */
	/* What its keys are, found in one walk: most that are asked for are not there. */
	size_t first_word, word_count; /* the words, among build->words */
	uint64_t bits;                 /* one for each word */
	size_t positions, highest;     /* how many, and the last */
	bool other_keys;               /* neither word nor position */
} hs_table;

/* Pushes the table of a declaration; the caller pops it. */
hs_table hs_table_of(hs_build *build, lua_State *L, const hs_decl *decl);
/* Pushes a table within; index 0 (and nothing pushed) when it is absent or no table (a problem unless `or_else`). */
hs_table hs_table_sub(const hs_table *table, const char *key, bool or_else);
void hs_table_done(const hs_table *table); /* pops it; everything pushed after it is popped already */

hs_where hs_table_where(const hs_table *table, const char *key); /* key NULL: the table itself */
hs_problem *hs_table_problem(const hs_table *table, const char *key, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* A row of words a table may have. */
typedef struct hs_words {
	const char *const *words;
	size_t count;
} hs_words;
#define HS_WORDS(array)                                                                                                \
	{                                                                                                              \
		array, sizeof(array) / sizeof *(array)                                                                 \
	} /* an initializer */

#define HS_ANY_LENGTH ((size_t)-1)
/* Complains of every key that is none of the words, and of positions beyond `positions`. what: "a read step". */
void hs_table_known(const hs_table *table, const char *what, size_t positions, const hs_words *rows, size_t row_count);

bool hs_table_has(const hs_table *table, const char *key);
int hs_table_type(const hs_table *table, const char *key);     /* LUA_TNIL when absent */
size_t hs_table_length(const hs_table *table);                 /* positions 1 .. n; complains of gaps */
const char *hs_key_at(const hs_table *table, size_t position); /* "[2]" */
/* The names of a table used as a map, in the order of their lines, and by letters within a line. */
const char **hs_table_keys(const hs_table *table, size_t *count);
/* The same of a table that begins with `positions` values without names. */
const char **hs_table_names(const hs_table *table, size_t positions, size_t *count);

const char *hs_table_text(const hs_table *table, const char *key);
bool hs_table_flag(const hs_table *table, const char *key);
int hs_table_count(const hs_table *table, const char *key, int least, int most, int otherwise);
/* One text or a list of texts. */
const char **hs_table_texts(const hs_table *table, const char *key, size_t *count);
/* The key of one item of hs_table_texts, for its line. */
const char *hs_table_item(const hs_table *table, const char *key, size_t index);

/* A quantity written as text, of the same dimension as `like`. */
bool hs_table_quantity(const hs_table *table, const char *key, hs_unit like, hs_quantity *out);
/* A power or a voltage. */
bool hs_table_level(const hs_table *table, const char *key, hs_quantity *out);
/* As hs_table_quantity, converted into `unit`. */
bool hs_table_in(const hs_table *table, const char *key, hs_unit unit, double *out);
/* The same, above zero. */
bool hs_table_positive(const hs_table *table, const char *key, hs_unit unit, double *out);
bool hs_table_percent(const hs_table *table, const char *key, double *fraction);
bool hs_table_connector(const hs_table *table, const char *key, hs_connector *out);
/* { "N male", "SMA female" }: a text that is nil or wrong leaves its place false. */
void hs_table_ends(const hs_table *table, const char *key, bool has[2], hs_connector ends[2]);
bool hs_table_limits(const hs_table *table, const char *key, hs_unit bare, hs_limits *out);
/* "14 dB +/- 1 dB": bare is what a number without a unit takes, HS_UNIT_COUNT refuses it. */
bool hs_table_toleranced(const hs_table *table, const char *key, hs_unit bare, hs_quantity *nominal, double *tolerance);
/* An Lua function, kept; false when absent or of another type (which is not complained of). */
bool hs_table_function(const hs_table *table, const char *key, hs_function *out);

/* How a message names a key: "limits" in quotes, or "value 2" of the table. */
const char *hs_table_named(const hs_table *table, const char *key);
/* What a value is, in words: "a number", "a table". */
const char *hs_table_what(const hs_table *table, const char *key);

#endif
