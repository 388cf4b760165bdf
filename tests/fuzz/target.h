/* What the fuzz targets share. Each gives LLVMFuzzerTestOneInput; driver.c calls it where libFuzzer is not at hand. */
#ifndef HALFSPLIT_TESTS_FUZZ_TARGET_H
#define HALFSPLIT_TESTS_FUZZ_TARGET_H

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* A claim that no input may break. It ends the process like a sanitizer does, with or without NDEBUG. */
#define CLAIM(truth) ((truth) ? (void)0 : fuzz_broken(#truth, __FILE__, __LINE__))

static inline void fuzz_broken(const char *claim, const char *file, int line)
{
	fprintf(stderr, "%s:%d: broken: %s\n", file, line, claim);
	abort();
}

/* A block of exactly this size, so that one byte too far is seen; the NUL of a text is part of it. free() it. */
static inline char *fuzz_copy(const uint8_t *data, size_t size, bool text)
{
	char *copy = malloc(size + (text ? 1 : size == 0));
	CLAIM(copy);
	if (size)
		memcpy(copy, data, size);
	if (text)
		copy[size] = '\0';
	return copy;
}

/* A refusal says something, in one line. */
static inline void fuzz_refused(const hs_error *error)
{
	hs_buf shown;
	CLAIM(error->code != HS_FINE);
	CLAIM(error->message[0] != '\0');
	hs_buf_init(&shown);
	hs_error_render(error, &shown);
	for (size_t i = 0; i < shown.length; i++)
		CLAIM((unsigned char)shown.data[i] >= 0x20 || shown.data[i] == '\n');
	CLAIM(hs_utf8_valid(shown.data, shown.length));
	hs_buf_free(&shown);
}

#endif
