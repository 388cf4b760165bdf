/*
 * Digits to numbers, fast, and rounded as well as the slow way would. Up to 19 digits are held exactly in 64 bits; what
 * divides them is exact too, so one division with a sticky remainder gives the nearest number. All else goes the slow
 * way.
 */
#include <stdint.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "network_parts.h"

enum { FIVES = 28, TENS = 23, DIGITS = 19 };

__extension__ typedef unsigned __int128 wide;

static const uint64_t power_of_five[FIVES] = {
    1u,
    5u,
    25u,
    125u,
    625u,
    3125u,
    15625u,
    78125u,
    390625u,
    1953125u,
    9765625u,
    48828125u,
    244140625u,
    1220703125u,
    6103515625u,
    30517578125u,
    152587890625u,
    762939453125u,
    3814697265625u,
    19073486328125u,
    95367431640625u,
    476837158203125u,
    2384185791015625u,
    11920928955078125u,
    59604644775390625u,
    298023223876953125u,
    1490116119384765625u,
    7450580596923828125u,
};

static const double power_of_ten[TENS] = {
    1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
    1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
};

/* 2^exponent, exact, for the small exponents met here. */
static double power_of_two(int exponent)
{
	uint64_t bits = (uint64_t)(exponent + 1023) << 52;
	double value;
	memcpy(&value, &bits, sizeof(value));
	return value;
}

/* m/10^k, rounded once: the quotient has at least 63 bits, ten more than a double, and its lowest one carries the
 * remainder. */
static double divide(uint64_t m, int k)
{
	int up = __builtin_clzll(m), down = __builtin_clzll(power_of_five[k]);
	uint64_t divisor = power_of_five[k] << down;
	wide dividend = (wide)(m << up) << 63;
	uint64_t quotient = (uint64_t)(dividend / divisor), rest = (uint64_t)(dividend % divisor);
	return (double)(quotient | (rest != 0)) * power_of_two(down - up - 63 - k);
}

static const char *slowly(const char *at, const char *stop, double *value)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_add(&text, at, (size_t)(stop - at));
	bool good = hs_number_read(text.data, value);
	hs_buf_free(&text);
	return good ? stop : NULL;
}

/* Digits from *at on; how many of them there were. More than 19 overflow *mantissa, which is then not used. */
static inline int take_digits(const char **at, const char *end, uint64_t *mantissa)
{
	const char *p = *at;
	uint64_t m = *mantissa;
	for (; p < end; p++) {
		unsigned digit = (unsigned char)*p - (unsigned)'0';
		if (digit > 9)
			break;
		m = m * 10 + digit;
	}
	int count = p - *at > 1000 ? 1000 : (int)(p - *at);
	*mantissa = m;
	*at = p;
	return count;
}

/* They count for nothing in the mantissa, however many there are. */
static int leading_zeros(const char *at, const char *end)
{
	int zeros = 0;
	for (; at < end && (*at < '1' || *at > '9') && zeros < 1000; at++)
		zeros += *at == '0';
	return zeros;
}

/* "e-5" and the like; untouched when it is none. */
static const char *take_exponent(const char *at, const char *end, int *exponent)
{
	const char *p = at + 1;
	if (at == end || (*at != 'e' && *at != 'E'))
		return at;
	bool negative = p < end && *p == '-';
	if (p < end && (*p == '-' || *p == '+'))
		p++;
	uint64_t value = 0;
	int digits = take_digits(&p, end, &value);
	if (digits == 0)
		return at;
	/* Far outside of any number; the slow way says what it is. */
	int size = digits > 6 ? 1000000 : (int)value;
	*exponent += negative ? -size : size;
	return p;
}

const char *hs_net_number(const char *at, const char *end, double *value)
{
	const char *p = at;
	uint64_t mantissa = 0;
	int exponent = 0;
	bool negative = p < end && *p == '-';
	if (p < end && (*p == '-' || *p == '+'))
		p++;
	int digits = take_digits(&p, end, &mantissa);
	if (p < end && *p == '.') {
		p++;
		int more = take_digits(&p, end, &mantissa);
		digits += more;
		exponent = -more;
	}
	if (digits == 0)
		return NULL;
	if (digits > DIGITS)
		digits -= leading_zeros(at, p);
	p = take_exponent(p, end, &exponent);
	if (digits > DIGITS || exponent >= TENS || exponent <= -FIVES)
		return slowly(at, p, value);
	double size;
	if (mantissa <= (uint64_t)1 << 53 && exponent > -TENS)
		size = exponent < 0 ? (double)mantissa / power_of_ten[-exponent]
		                    : (double)mantissa * power_of_ten[exponent];
	else if (exponent <= 0 && mantissa > 0)
		size = divide(mantissa, -exponent);
	else
		return slowly(at, p, value);
	*value = negative ? -size : size;
	return p;
}
