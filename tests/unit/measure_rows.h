/* For the tests of the measurement mathematics: rows of published numbers, and refusals by their sentence. */
#ifndef HALFSPLIT_TESTS_MEASURE_ROWS_H
#define HALFSPLIT_TESTS_MEASURE_ROWS_H

#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>
#include <cmocka.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>
#include "halfsplit/base/error.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* Digits a source prints: half a unit of the last one, or 0 where the number is exact and 1e-9 relative is wanted. */
static inline void assert_source(const char *source, double got, double want, double half_digit)
{
	double slack = half_digit > 0 ? half_digit * (1 + 1e-9) : 1e-9 * fmax(fabs(want), 1e-300);
	if (!(fabs(got - want) <= slack))
		fail_msg("%s: got %.17g, want %.17g", source, got, want);
}

static inline void assert_near(double got, double want)
{
	if (!(fabs(got - want) <= 1e-9 * fmax(1, fabs(want))))
		fail_msg("got %.17g, want %.17g", got, want);
}

/* The call gave false with this sentence. */
static inline void assert_refused(bool good, const hs_error *error, const char *message)
{
	assert_false(good);
	assert_int_equal(error->code, HS_BAD_INPUT);
	assert_string_equal(error->message, message);
}

#endif
