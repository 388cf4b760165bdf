/*
 * What a formula demands of its arguments, said in one place so that every refusal reads alike.
 *
 * Each function returns true when the demand is met. Else it fills *error (HS_BAD_INPUT) with one sentence that names
 * the argument (`what`, "the bandwidth"), what was found and what is wanted, and returns false. NaN and infinities
 * never meet one.
 */
#ifndef HALFSPLIT_QUANTITY_DEMAND_H
#define HALFSPLIT_QUANTITY_DEMAND_H

#include "halfsplit/quantity/quantity.h"

bool hs_want_finite(const char *what, double value, hs_error *error);
bool hs_want_above(const char *what, double value, double bound, hs_unit unit, hs_error *error);    /* value > bound */
bool hs_want_at_least(const char *what, double value, double bound, hs_unit unit, hs_error *error); /* value >= bound */
bool hs_want_between(const char *what, double value, double low, double high, hs_unit unit,
                     hs_error *error); /* closed */

/* The quantity is finite and of the dimension. */
bool hs_want_dimension(const char *what, hs_quantity quantity, hs_dimension dimension, hs_error *error);

/* The quantity is finite and a power or a voltage. */
bool hs_want_level(const char *what, hs_quantity quantity, hs_error *error);

/* Stores a result, unless the arithmetic left the range of numbers: then the error says so and *out stays as it was. */
bool hs_give(const char *what, double value, double *out, hs_error *error);

/* A number for a sentence: at most six significant digits, the same under every locale; "not a number", "infinite". */
typedef struct hs_brief {
	char text[32];
} hs_brief;
hs_brief hs_brief_of(double value);

#endif
