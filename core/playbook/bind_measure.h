/*
 * What the files bind_measure*.c share: the table of a module's functions, and how they read what an author gives them.
 *
 * Every function of the library stands in a row with its usage. It is entered through one door that counts its
 * arguments and fills absent ones with nil, so that index `most` is always there. A reader raises, at the author's
 * line, on anything that it cannot take; the usage is then the hint, unless there is a better one. A formula's own
 * refusal goes as it is. `what` names the argument in messages: "the bandwidth".
 *
 * A table an author gives is read raw: its metatable has no say. A sealed one is read as what it stands for. Formulas
 * run between two looks at Lua, so that nothing of theirs is held when something raises; a growing text is the one
 * exception, see measure_text.
 */
#ifndef HALFSPLIT_CORE_PLAYBOOK_BIND_MEASURE_H
#define HALFSPLIT_CORE_PLAYBOOK_BIND_MEASURE_H

#include "halfsplit/lineup/coax.h"
#include "halfsplit/lineup/reflection.h"
#include "halfsplit/quantity/level.h"
#include "sandbox.h"

#define MEASURE_LIST_MOST 10000 /* values in one list */

typedef struct measure_row {
	const char *name;
	lua_CFunction function;
	int most;          /* arguments */
	const char *usage; /* "level.convert(LEVEL, UNIT [, OHM [, WAVE]])" */
} measure_row;

/* Declares every module in the sandbox of L, of playbooks, kits and calc files; they are made when one is named. */
void hs_measure_declare(lua_State *L);

/* ---- one opener for each file ---- */
void measure_open_quantity(lua_State *L);
void measure_open_level(lua_State *L);
void measure_open_reflection(lua_State *L);
void measure_open_cascade(lua_State *L);
void measure_open_noise(lua_State *L);
void measure_open_coax(lua_State *L);
void measure_open_uncertainty(lua_State *L);
void measure_open_meter(lua_State *L);
void measure_open_network(lua_State *L);

/* ---- bind_measure.c ---- */

/* Pushes one function; the row must be static. */
void measure_push_function(lua_State *L, const measure_row *row);
/* A sealed table of `count` rows: left on the stack; or declared as a word of its own, and popped. */
void measure_push_module(lua_State *L, const char *name, const measure_row *rows, size_t count);
void measure_declare(lua_State *L, const char *name, const measure_row *rows, size_t count);

/* Raises at the author's line; never returns. The place of a data file moves into the hint. */
int measure_raise(lua_State *L, hs_error *error);
/* The same for what was called wrongly: the usage is the hint, unless there is one. */
int measure_misuse(lua_State *L, hs_error *error);
int measure_refuse(lua_State *L, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Pushes the number when `good`, else raises. */
int measure_give(lua_State *L, bool good, double value, hs_error *error);

/*
 * A growing text whose memory goes back even when something raises: a value on top of the stack owns it.
 * measure_text_push replaces that value by the text as a string; the box must then be on top.
 */
hs_buf *measure_text(lua_State *L);
void measure_text_push(lua_State *L, hs_buf *text);

/* t[key] = value, with the table on top. */
void measure_set(lua_State *L, const char *key, double value);
void measure_set_flag(lua_State *L, const char *key, bool value);
void measure_set_text(lua_State *L, const char *key, const char *value);

/* ---- measure_args.c: one argument, at an index that is not relative to the top ---- */

bool measure_given(lua_State *L, int index); /* not nil */

/*
 * A number in `unit`: a plain number as it is, a text with its unit or without. Of one dimension only; levels and
 * voltages are converted as far as no impedance is needed; HS_UNITLESS also takes "12 %" as 0.12. Always finite.
 */
double measure_number(lua_State *L, int index, const char *what, hs_unit unit);
double measure_number_or(lua_State *L, int index, const char *what, hs_unit unit, double otherwise);
double measure_kelvin_or(lua_State *L, int index, const char *what, double otherwise); /* also "290 K", "17 degC" */
double measure_density(lua_State *L, int index, const char *what);                     /* dBm/Hz; also "-150 dBm/Hz" */
double measure_impedance(lua_State *L, int index);                                     /* ohm above 0; 0: not given */
int measure_whole(lua_State *L, int index, const char *what, int least, int most);

/* A quantity that keeps its unit; a plain number is in `bare`. And one that must be a power or a voltage. */
hs_quantity measure_quantity(lua_State *L, int index, const char *what, hs_unit bare);
hs_quantity measure_level(lua_State *L, int index, const char *what, hs_unit bare);

/*
 * A number of whatever unit, for formulas that only scale it. *unit is HS_UNIT_COUNT until a text says one; a text in
 * another unit after that, and decibels, are refused.
 */
double measure_scaled(lua_State *L, int index, const char *what, hs_unit *unit);

hs_unit measure_unit(lua_State *L, int index, hs_unit otherwise);      /* HS_UNIT_COUNT: must be given */
const char *measure_string(lua_State *L, int index, const char *what); /* good as long as the value is on the stack */
size_t measure_word(lua_State *L, int index, const char *what, const char *const *words, size_t count);
hs_waveform measure_wave(lua_State *L,
                         int index); /* "square", { "pulse", duty = 0.1 }, { "noise", sigmas = 3 }; nil: sine */

/* Real, { re = 1, im = 2 }, or { 1, 2 }; parts in `unit`. And back. */
hs_complex measure_complex(lua_State *L, int index, const char *what, hs_unit unit);
void measure_push_complex(lua_State *L, hs_complex value);

/* ---- measure_tables.c: lists, and tables with words ---- */

/* How many values stand in a table without a word, 0 to MEASURE_LIST_MOST; a gap is refused. Charges for them. */
size_t measure_positions(lua_State *L, int index, const char *what);
/* How many values a list has, 1 to MEASURE_LIST_MOST; a gap, a word among them and an empty list are refused. Charges
 * for them. */
size_t measure_list(lua_State *L, int index, const char *what);
/* The same as numbers; pushes the value that owns them. */
double *measure_numbers(lua_State *L, int index, const char *what, hs_unit unit, size_t *count);

/* A table with words: which it knows (`of`: "stage 2"), and how many values may stand without one. */
void measure_known(lua_State *L, int index, const char *of, const char *const *words, size_t count, int positions);
/* Pushes t[key], or t[position], and gives its index. */
int measure_field(lua_State *L, int index, const char *key);
int measure_item(lua_State *L, int index, size_t position);
bool measure_has(lua_State *L, int index, const char *key);
/* "the KEY of OF" in `unit`. */
double measure_field_number(lua_State *L, int index, const char *key, const char *of, hs_unit unit);
double measure_field_or(lua_State *L, int index, const char *key, const char *of, hs_unit unit, double otherwise);
bool measure_field_flag(lua_State *L, int index, const char *key, const char *of);

typedef struct measure_name {
	char text[80];
} measure_name;
measure_name measure_named(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* ---- functions of numbers alone ---- */

#define MEASURE_OF_1(name, formula, what, unit)                                                                        \
	static int name(lua_State *L)                                                                                  \
	{                                                                                                              \
		hs_error error = {0};                                                                                  \
		double out = 0, a = measure_number(L, 1, what, unit);                                                  \
		bool good = formula(a, &out, &error);                                                                  \
		return measure_give(L, good, out, &error);                                                             \
	}

#define MEASURE_OF_2(name, formula, what_a, unit_a, what_b, unit_b)                                                    \
	static int name(lua_State *L)                                                                                  \
	{                                                                                                              \
		hs_error error = {0};                                                                                  \
		double out = 0, a = measure_number(L, 1, what_a, unit_a), b = measure_number(L, 2, what_b, unit_b);    \
		bool good = formula(a, b, &out, &error);                                                               \
		return measure_give(L, good, out, &error);                                                             \
	}

/* Two results. */
#define MEASURE_PAIR_OF_2(name, formula, what_a, unit_a, what_b, unit_b)                                               \
	static int name(lua_State *L)                                                                                  \
	{                                                                                                              \
		hs_error error = {0};                                                                                  \
		double low = 0, high = 0, a = measure_number(L, 1, what_a, unit_a),                                    \
		       b = measure_number(L, 2, what_b, unit_b);                                                       \
		bool good = formula(a, b, &low, &high, &error);                                                        \
		measure_give(L, good, low, &error);                                                                    \
		lua_pushnumber(L, high);                                                                               \
		return 2;                                                                                              \
	}

#endif
