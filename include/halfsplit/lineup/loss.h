/*
 * What a cable, pad or adapter takes away, in dB, against frequency.
 *
 * A table is a list of points (frequency in Hz, loss in dB, positive for a loss), rising in frequency. Between two
 * points loss is interpolated linearly in the square root of frequency, because conductor loss goes with it; outside the table
 * asking is an error, never an extrapolation. The same point twice with one value is harmless, with two a conflict.
 */
#ifndef HALFSPLIT_LINEUP_LOSS_H
#define HALFSPLIT_LINEUP_LOSS_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/error.h"

typedef struct hs_loss_point {
	double freq_hz;
	double loss_db;
} hs_loss_point;

typedef struct hs_loss_table {
	const hs_loss_point *points; /* owned by the arena given to hs_loss_table_make */
	size_t count;
} hs_loss_table;

/*
 * Sorts, merges equal points, refuses conflicts, NaN, negative frequency, negative loss, no points at all. One point alone is valid
 * at that frequency only.
 */
bool hs_loss_table_make(hs_arena *arena, const hs_loss_point *points, size_t count, hs_loss_table *out, hs_error *error);

/* HS_BAD_INPUT "no loss known at 3.2 GHz: the table runs from 10 MHz to 3 GHz" when outside. */
bool hs_loss_table_at(const hs_loss_table *table, double freq_hz, double *loss_db, hs_error *error);

/* The source of every figure of hs_coax_type, in words. */
#define HS_COAX_SOURCE "nominal figure for the generic type, from published makers' tables; measure your own"

/* Generic coax types, nominal, dB per 100 m; NULL when unknown. Sources stand beside the numbers in loss.c and in docs/kit.md. */
const hs_loss_table *hs_coax_type(const char *name);  /* "RG-213/U"; case ignored */
const char *const *hs_coax_type_names(size_t *count);

#endif
