/*
 * The strict walk over JSON text (RFC 8259, with the limits of json.h); private to this folder.
 *
 * What comes out is the same document without white space and with 0 for every number, for a reader that is less strict
 * and follows the locale; the numbers themselves, and where each key stands, are listed beside it in the order of the
 * text.
 */
#ifndef HALFSPLIT_CORE_JSON_STRICT_H
#define HALFSPLIT_CORE_JSON_STRICT_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

typedef struct hs_strict {
	hs_buf plain;
	double *numbers;
	size_t number_count, number_room;
	size_t *keys; /* offsets into the text that was walked */
	size_t key_count, key_room;
} hs_strict;

bool hs_strict_walk(const char *text, size_t length, hs_strict *out, hs_error *error); /* free *out either way */
void hs_strict_free(hs_strict *strict);

/* Fails with "at line L, column C MESSAGE"; columns count characters from 1. */
bool hs_strict_fail(const char *text, size_t at, hs_error *error, const char *message);

#endif
