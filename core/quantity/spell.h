/* How units are spelt, with their prefixes; private to this folder. */
#ifndef HALFSPLIT_CORE_QUANTITY_SPELL_H
#define HALFSPLIT_CORE_QUANTITY_SPELL_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/quantity/quantity.h"

/*
 * The longest unit, with or without prefix, that stands at the start of text and ends with a word there. Returns the
 * bytes it takes and fills *unit and *exponent (the prefix as a power of ten), or returns 0.
 */
size_t hs_spell_match(const char *text, hs_unit *unit, int *exponent);

/* Bytes of the run of letters, digits and unit signs at the start of text. */
size_t hs_spell_word(const char *text);

/* Bytes of white space at the start of text, the no-break space too. */
size_t hs_spell_spaces(const char *text);

/* Appends the units that [word, word+length) would be if no case counted, as "mHz or MHz"; nothing when there is none.
 */
void hs_spell_candidates(hs_buf *out, const char *word, size_t length);

/* A piece of text for a message, cut where it gets long. */
typedef struct hs_piece {
	char text[56];
} hs_piece;

hs_piece hs_spell_quote(const char *text, size_t length);

#endif
