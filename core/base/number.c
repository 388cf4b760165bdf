#include "halfsplit/base/number.h"

#include <assert.h>
#include <float.h>
#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/*
 * Nothing here follows the locale: strtod is only ever given an integer with an exponent, so the decimal point it would
 * look for never occurs, and what printf writes is taken apart into digits before it is used.
 */

enum { EXACT_POWERS = 22, KEPT_DIGITS = 780 };

/* Larger than any text is long, so that no count of digits can bring a capped exponent back into range. */
static const long exponent_cap = LONG_MAX / 100;

static const double power_of_ten[EXACT_POWERS + 1] = {
	1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
};

static bool digit(char c)
{
	return c >= '0' && c <= '9';
}

/* A number as typed: the digits run from `first` to `end`, with at most one point between; the value is digits *
 * 10^exponent. */
typedef struct spelling {
	const char *first;
	const char *end;
	long exponent;
	size_t figures;    /* digits without leading zeros */
	uint64_t mantissa; /* exact while figures <= 19 */
} spelling;

static const char *scan_exponent(const char *at, long *exponent)
{
	if (*at != 'e' && *at != 'E')
		return at;
	bool negative = at[1] == '-';
	const char *p = at + (negative || at[1] == '+' ? 2 : 1);
	if (!digit(*p))
		return at;
	long value = 0;
	for (; digit(*p); p++)
		if (value < exponent_cap)
			value = value * 10 + (*p - '0');
	*exponent += negative ? -value : value;
	return p;
}

/* Returns what follows the number, or NULL when there is none at `at`. */
static const char *scan_spelling(const char *at, spelling *out)
{
	const char *point = NULL;
	size_t digits = 0;
	*out = (spelling){.first = at};
	for (; digit(*at) || (*at == '.' && !point); at++) {
		if (*at == '.') {
			point = at;
			continue;
		}
		digits++;
		if (out->figures > 0 || *at != '0')
			out->figures++;
		if (out->figures <= 19)
			out->mantissa = out->mantissa * 10 + (uint64_t)(*at - '0');
	}
	if (digits == 0)
		return NULL;
	out->end = at;
	if (point)
		out->exponent = -(long)(at - point - 1);
	return scan_exponent(at, &out->exponent);
}

/* For long spellings and large exponents. Digits past KEPT_DIGITS matter only by being zero or not. */
static double convert_slowly(const spelling *number)
{
	char text[KEPT_DIGITS + 32];
	size_t length = 0;
	long exponent = number->exponent;
	bool rest = false;
	for (const char *p = number->first; p < number->end; p++) {
		if (!digit(*p) || (length == 0 && *p == '0'))
			continue;
		if (length < KEPT_DIGITS) {
			text[length++] = *p;
		} else {
			exponent++;
			rest = rest || *p != '0';
		}
	}
	if (length == 0)
		return 0;
	if (rest) {
		text[length++] = '1';
		exponent--;
	}
	snprintf(text + length, sizeof text - length, "e%ld", exponent);
	return strtod(text, NULL);
}

/* Both factors are exact below 2^53 and 10^22, so the one rounding is the right one. */
static double convert(const spelling *number)
{
	if (number->figures <= 19 && number->mantissa <= (UINT64_C(1) << DBL_MANT_DIG)) {
		double mantissa = (double)number->mantissa;
		if (number->exponent >= 0 && number->exponent <= EXACT_POWERS)
			return mantissa * power_of_ten[number->exponent];
		if (number->exponent < 0 && number->exponent >= -EXACT_POWERS)
			return mantissa / power_of_ten[-number->exponent];
	}
	return convert_slowly(number);
}

bool hs_number_scan(const char *text, double *value, size_t *used, double *step)
{
	const char *at = text;
	bool negative = *at == '-' || strncmp(at, "\xE2\x88\x92", 3) == 0;
	if (negative)
		at += *at == '-' ? 1 : 3;
	else
		at += *at == '+';
	spelling number;
	const char *end = scan_spelling(at, &number);
	if (!end)
		return false;
	double magnitude = convert(&number);
	if (!isfinite(magnitude))
		return false;
	*value = negative ? -magnitude : magnitude;
	*used = (size_t)(end - text);
	if (step) {
		spelling one = {.first = "1", .figures = 1, .mantissa = 1, .exponent = number.exponent};
		one.end = one.first + 1;
		*step = fmin(convert(&one), DBL_MAX);
	}
	return true;
}

bool hs_number_read(const char *text, double *value)
{
	double read;
	size_t used;
	if (!hs_number_scan(text, &read, &used, NULL) || text[used])
		return false;
	*value = read;
	return true;
}

/* The digits of `value` to `figures` significant digits, trailing zeros dropped; value = 0.DIGITS * 10^*point. */
static size_t significant(double value, int figures, char digits[32], int *point)
{
	char text[64];
	snprintf(text, sizeof text, "%.*e", figures - 1, fabs(value));
	size_t length = 0;
	const char *p = text;
	for (; *p != 'e'; p++)
		if (digit(*p))
			digits[length++] = *p;
	*point = (int)strtol(p + 1, NULL, 10) + 1;
	while (length > 1 && digits[length - 1] == '0')
		length--;
	return length;
}

static bool reads_back(double value, const char *digits, size_t length, int point)
{
	char text[64];
	snprintf(text, sizeof text, "%.*se%ld", (int)length, digits, (long)point - (long)length);
	double back;
	return hs_number_read(text, &back) && back == fabs(value);
}

/* Above a power of two the doubles lie wider apart than below it: there the 16 digits one further up may do. */
static bool one_further_up(double value, char digits[32], size_t *length, int point)
{
	while (*length < 16)
		digits[(*length)++] = '0';
	if (digits[15] == '9')
		return false;
	digits[15]++;
	return reads_back(value, digits, *length, point);
}

/* Fifteen digits survive the way there and back in every normal number; subnormal ones have fewer, so they start at
 * one. */
static size_t shortest(double value, char digits[32], int *point)
{
	size_t length = 0;
	for (int figures = fabs(value) < DBL_MIN ? 1 : 15; figures <= 17; figures++) {
		length = significant(value, figures, digits, point);
		if (reads_back(value, digits, length, *point))
			break;
		if (figures == 16 && one_further_up(value, digits, &length, *point))
			break;
	}
	return length;
}

void hs_number_print(hs_buf *out, double value)
{
	assert(isfinite(value));
	if (signbit(value))
		hs_buf_char(out, '-');
	if (value == 0) {
		hs_buf_char(out, '0');
		return;
	}
	char digits[32];
	int point;
	size_t length = shortest(value, digits, &point);
	/* Integers written out stay below 2^53, where every reader of JSON agrees. */
	if (point > 15 || point < -4) {
		hs_buf_char(out, digits[0]);
		if (length > 1)
			hs_buf_char(out, '.');
		hs_buf_add(out, digits + 1, length - 1);
		hs_buf_printf(out, "e%d", point - 1);
		return;
	}
	if (point <= 0)
		hs_buf_str(out, "0.");
	for (int i = point; i < 0; i++)
		hs_buf_char(out, '0');
	for (int i = 0; i < (int)length || i < point; i++) {
		if (i == point && i > 0)
			hs_buf_char(out, '.');
		hs_buf_char(out, i < (int)length ? digits[i] : '0');
	}
}

void hs_number_fixed(hs_buf *out, double value, int decimals)
{
	assert(decimals >= 0 && decimals <= 40);
	if (!isfinite(value)) {
		hs_buf_str(out, isnan(value) ? "not a number" : value > 0 ? "infinite" : "-infinite");
		return;
	}
	char text[DBL_MAX_10_EXP + 64];
	int length = snprintf(text, sizeof text, "%.*f", decimals, fabs(value));
	bool nothing = true;
	for (const char *p = text; *p && nothing; p++)
		nothing = !digit(*p) || *p == '0';
	if (signbit(value) && !nothing)
		hs_buf_char(out, '-');
	hs_buf_add(out, text, strspn(text, "0123456789"));
	if (decimals > 0) {
		hs_buf_char(out, '.');
		hs_buf_add(out, text + length - decimals, (size_t)decimals);
	}
}
