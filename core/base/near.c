#include <stdint.h>
#include <string.h>
#include "halfsplit/base/text.h"

enum { LONGEST = 64 };

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static size_t least(size_t a, size_t b)
{
	return a < b ? a : b;
}

/* Insertions, deletions, replacements, and swaps of neighbours; case does not count. Both words at most LONGEST
 * letters. */
static size_t distance(const char *a, const char *b)
{
	size_t rows[3][LONGEST + 1], width = strlen(b);
	size_t *before = rows[0], *last = rows[1], *now = rows[2];
	for (size_t j = 0; j <= width; j++)
		last[j] = j;
	for (size_t i = 1; a[i - 1]; i++) {
		now[0] = i;
		for (size_t j = 1; j <= width; j++) {
			bool same = lower(a[i - 1]) == lower(b[j - 1]);
			now[j] = least(last[j - 1] + !same, 1 + least(last[j], now[j - 1]));
			bool swapped =
			    i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
			if (swapped)
				now[j] = least(now[j], before[j - 2] + 1);
		}
		size_t *spare = before;
		before = last;
		last = now;
		now = spare;
	}
	return last[width];
}

const char *hs_nearest(const char *word, const char *const *known, size_t count)
{
	size_t length = strlen(word);
	if (length == 0 || length > LONGEST)
		return NULL;
	const char *best = NULL;
	size_t best_distance = SIZE_MAX;
	for (size_t i = 0; i < count; i++) {
		if (strlen(known[i]) > LONGEST)
			continue;
		size_t here = distance(word, known[i]);
		if (here < best_distance) {
			best_distance = here;
			best = known[i];
		}
	}
	size_t allowed = length / 3 > 1 ? length / 3 : 1;
	/* When every letter of a word is wrong, nothing is left that it could be a slip of. */
	return best_distance <= allowed && best_distance < length ? best : NULL;
}
