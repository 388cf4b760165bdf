/*
 * A trace, as an analyser saves it, and the mask it is held against: limits at frequencies, on straight lines between.
 */
#ifndef HALFSPLIT_JUDGE_TRACE_H
#define HALFSPLIT_JUDGE_TRACE_H

#include <stddef.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/hash.h"
#include "halfsplit/base/text.h"
#include "halfsplit/judge/limits.h"

#define HS_TRACE_MOST   ((size_t)1 << 20) /* bytes of a file, and of the text of a trace */
#define HS_TRACE_POINTS 40001             /* points of one trace */
#define HS_MASK_POINTS  1000

typedef struct hs_trace {
	char name[96];            /* of the file, without its folder */
	char sha256[HS_HEX_ROOM]; /* of the file */
	double *hz, *level;       /* frequencies rise; levels in the unit of the prompt */
	size_t count;
} hs_trace;

/*
 * Reads rows of a frequency and a level, with comma, semicolon or blanks between; further columns are left out. Lines in front that do
 * not begin with a number are a heading; a heading that names kHz, MHz or GHz says what the frequencies are in, Hz otherwise. HS_BAD_INPUT
 * with the line for whatever else.
 */
bool hs_trace_read_file(const char *name, const char *text, size_t length, hs_trace *out, hs_error *error);

/* The same trace as the text of an answer, and back: "trace NAME SHA256" and then one line "HZ LEVEL" a point. */
void hs_trace_print(const hs_trace *trace, hs_buf *out);
bool hs_trace_read(const char *text, hs_trace *out, hs_error *error);
void hs_trace_free(hs_trace *trace); /* accepts a zeroed one */

typedef struct hs_mask_point {
	double hz;
	bool has_low, has_high;
	double low, high;
} hs_mask_point;

typedef struct hs_mask {
	const char *file;
	hs_mask_point *points; /* frequencies rise; at least two */
	size_t count;
} hs_mask;

/* Reads "frequency,min,max": a frequency with its unit, a level or nothing each. points has room for HS_MASK_POINTS. */
bool hs_mask_read(const char *file, const char *text, hs_unit unit, hs_mask_point *points, size_t *count, hs_error *error);

/* The limits at a frequency, in `unit`; false outside the mask. A limit stands only between two rows that both have it. */
bool hs_mask_at(const hs_mask *mask, double hz, hs_unit unit, hs_limits *out);

#endif
