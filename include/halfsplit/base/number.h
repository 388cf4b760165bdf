/*
 * Numbers in and out, the same under every locale.
 *
 * Accepted: [+-]digits[.digits][e[+-]digits], also .5 and 5. ; U+2212 counts as a minus. Never accepted: hex, nan,
 * inf, a decimal comma, white space inside, digit grouping, a number that overflows a double.
 */
#ifndef HALFSPLIT_BASE_NUMBER_H
#define HALFSPLIT_BASE_NUMBER_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/base/text.h"

/*
 * Reads the longest number at the start of text. On success fills *value, *used (bytes consumed) and *step (the weight
 * of the last digit typed: "12.50" gives 0.01, "3e3" gives 1e3, "200" gives 1) and returns true. A number followed by
 * more text is fine: the caller decides. step may be NULL.
 */
bool hs_number_scan(const char *text, double *value, size_t *used, double *step);

/* The whole text is one number. */
bool hs_number_read(const char *text, double *value);

/* Shortest decimal text that reads back as the same double (at most 17 significant digits); "nan" and "inf" never: asserts. */
void hs_number_print(hs_buf *out, double value);

/* Fixed decimals, for people: -0.00 comes out as 0.00. */
void hs_number_fixed(hs_buf *out, double value, int decimals);

#endif
