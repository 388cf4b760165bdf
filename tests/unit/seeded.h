/* A generator of numbers for property tests: the same ones on every machine and in every run. */
#ifndef HALFSPLIT_TESTS_SEEDED_H
#define HALFSPLIT_TESTS_SEEDED_H

#include <stdint.h>

typedef struct seeded {
	uint64_t state;
} seeded;

/* splitmix64 (Steele, Lea, Flood, 2014), which wants no warming up. */
static inline uint64_t seeded_bits(seeded *s)
{
	uint64_t z = s->state += 0x9E3779B97F4A7C15u;
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
	z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
	return z ^ (z >> 31);
}

/* Evenly between low and high. */
static inline double seeded_between(seeded *s, double low, double high)
{
	return low + (high - low) * ((double)(seeded_bits(s) >> 11) * 0x1p-53);
}

/* One of 0 .. count - 1. */
static inline size_t seeded_of(seeded *s, size_t count)
{
	return (size_t)(seeded_bits(s) % count);
}

#endif
