/* Grids: whether what is missing in a row falls, rises or stays with frequency. */
#include "core/engine/state.h"
#include "halfsplit/lineup/slope.h"

#include <math.h>
#include <string.h>

enum { COLUMNS_MOST = 32 };

/* What a healthy unit shows in a cell: the middle of its limits, beside the reference row's cell where they are held against that. */
static bool healthy_level(const hs_engine *engine, const hs_step *step, const hs_reading *cell, double *level)
{
	const hs_limits *limits = &cell->limits;
	double middle = limits->has_low && limits->has_high ? (limits->low + limits->high) / 2.0 : limits->has_low ? limits->low : limits->high;
	if (!cell->has_limits || (!limits->has_low && !limits->has_high))
		return false;
	*level = middle;
	if (cell->against_reading == 0)
		return limits->unit == cell->unit;
	const hs_slot *reference = &hs_state_slots(engine->state)[step->readings[cell->against_reading - 1].slot];
	*level += reference->corrected;
	return reference->taken && reference->kind == HS_ENTRY_NUMBER;
}

static double standard_of(const hs_engine *engine, const hs_reading *cell, const hs_slot *slot)
{
	hs_measure measure;
	hs_entry entry = {.kind = slot->kind, .quantity = slot->quantity, .step = slot->step};
	return hs_measure_take(engine, cell, &entry, slot->order, &measure, NULL, NULL, NULL) ? measure.expanded / 2.0 : 0.0;
}

/* The cells of a row, rows from 1, that were read as numbers and have a healthy level to be held against. */
static size_t collect_row(const hs_engine *engine, const hs_step *step, int row, hs_loss_at *losses, double *u_db, bool *low)
{
	size_t count = 0;
	*u_db = 0.0;
	*low = false;
	for (size_t i = 0; i < step->reading_count && count < COLUMNS_MOST; i++) {
		const hs_reading *cell = &step->readings[i];
		const hs_slot *slot = &hs_state_slots(engine->state)[cell->slot];
		double healthy;
		if (cell->row != row || !slot->taken || slot->kind != HS_ENTRY_NUMBER || !hs_unit_is_level(cell->unit) || !(cell->source_hz > 0.0) ||
		    !healthy_level(engine, step, cell, &healthy))
			continue;
		losses[count++] = (hs_loss_at){cell->source_hz, healthy - slot->corrected};
		*u_db = fmax(*u_db, standard_of(engine, cell, slot));
		*low = *low || slot->outcome == HS_LOW;
	}
	return count;
}

void hs_engine_slopes(const hs_engine *engine, hs_buf *out)
{
	const hs_playbook *playbook = engine->playbook;
	for (size_t s = 0; s < playbook->step_count; s++) {
		const hs_step *step = &playbook->steps[s];
		for (size_t row = 0; row < step->row_count; row++) {
			hs_loss_at losses[COLUMNS_MOST];
			hs_slope slope;
			double u_db;
			bool low;
			size_t count = collect_row(engine, step, (int)row + 1, losses, &u_db, &low);
			if (!low || !hs_slope_of(losses, count, u_db, &slope, NULL))
				continue;
			hs_buf_printf(out, "  %s, row %s: what is missing, %.1f dB on average, is %s with frequency", step->id, step->rows[row].name,
			              slope.mean_db, hs_slope_name(slope.kind));
			if (slope.kind != HS_SLOPE_FLAT)
				hs_buf_printf(out, " by %.1f dB a decade", fabs(slope.db_per_decade));
			hs_buf_printf(out, ", %s\n", hs_slope_means(slope.kind));
		}
	}
}
