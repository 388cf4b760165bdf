/*
 * Looks losses up in a table of 10,000 points, between the points, in an order that no cache foresees.
 *
 *   lookup time            ns for each of a million look-ups, the best of five times
 *   lookup loss N          N look-ups and nothing else, for callgrind
 *   lookup plain N         the same with a binary search alone, the least that finds anything
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "halfsplit/lineup/loss.h"

#define POINTS 10000

static double next_freq(uint32_t *seed)
{
	*seed = *seed * 1664525u + 1013904223u;
	return 1e6 + (double)(*seed >> 8) / 16777216.0 * (POINTS - 1) * 1e5;
}

static __attribute__((noinline)) double plain_at(const hs_loss_table *table, double freq_hz)
{
	size_t low = 0, high = table->count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (table->points[middle].freq_hz < freq_hz)
			low = middle + 1;
		else
			high = middle;
	}
	return low < table->count ? table->points[low].loss_db : 0;
}

static double look_up(const hs_loss_table *table, long count, int plain)
{
	uint32_t seed = 1;
	double sum = 0, loss = 0;
	for (long i = 0; i < count; i++) {
		double freq_hz = next_freq(&seed);
		if (plain)
			loss = plain_at(table, freq_hz);
		else if (!hs_loss_table_at(table, freq_hz, &loss, NULL))
			exit(1);
		sum += loss;
	}
	return sum;
}

/* Of this process's own time: others on the machine take from the clock on the wall. */
static double seconds(void)
{
	struct timespec now;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

int main(int argc, char **argv)
{
	static hs_loss_point points[POINTS];
	hs_loss_table table;
	hs_arena *arena = hs_arena_new();
	for (int i = 0; i < POINTS; i++)
		points[i] = (hs_loss_point){1e6 + i * 1e5, 0.001 * i};
	if (argc < 2 || !hs_loss_table_make(arena, points, POINTS, &table, NULL))
		return 2;
	if (strcmp(argv[1], "time") == 0) {
		double least = 1e9;
		for (int i = 0; i < 5; i++) {
			double begun = seconds(), sum = look_up(&table, 1000000, 0), took = seconds() - begun;
			/* The sum is used, or the loop could be left out. */
			if (sum > 0 && took < least)
				least = took;
		}
		printf("%.0f\n", least * 1e3);
	} else if (argc == 3) {
		double sum = look_up(&table, strtol(argv[2], NULL, 10), strcmp(argv[1], "plain") == 0);
		fprintf(stderr, "%g\n", sum);
	}
	hs_arena_free(arena);
	return 0;
}
