/* A trace against its mask: it comes down to its worst point, which is then corrected and judged like any reading. */
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "core/engine/state.h"
#include "halfsplit/judge/trace.h"

/* How far inside its limits a point lies, less its uncertainty; the least of them is the worst. */
static double room_left(const hs_limits *limits, const hs_measure *measure)
{
	double room = INFINITY;
	if (limits->has_low)
		room = measure->corrected.value - limits->low;
	if (limits->has_high && limits->high - measure->corrected.value < room)
		room = limits->high - measure->corrected.value;
	return room - measure->expanded;
}

/* Every stretch of the mask must have been looked at, or a fault could hide in a gap. */
static bool covers(const hs_trace *trace, const hs_mask *mask, hs_error *error)
{
	for (size_t i = 1; i < mask->count; i++) {
		double from = mask->points[i - 1].hz, to = mask->points[i].hz;
		bool seen = false;
		for (size_t k = 0; k < trace->count && !seen; k++)
			seen = trace->hz[k] >= from && trace->hz[k] <= to;
		if (!seen)
			return hs_fail(error, HS_BAD_INPUT, "the trace has no point from %.10g Hz to %.10g Hz, where the mask has limits", from, to);
	}
	if (trace->hz[0] <= mask->points[0].hz && trace->hz[trace->count - 1] >= mask->points[mask->count - 1].hz)
		return true;
	return hs_fail(error, HS_BAD_INPUT, "the trace goes from %.10g Hz to %.10g Hz, and the mask from %.10g Hz to %.10g Hz", trace->hz[0],
	               trace->hz[trace->count - 1], mask->points[0].hz, mask->points[mask->count - 1].hz);
}

static bool find_worst(const hs_engine *engine, const hs_reading *reading, const hs_trace *trace, hs_entry *out, hs_error *error)
{
	double worst = INFINITY;
	for (size_t i = 0; i < trace->count; i++) {
		hs_limits limits;
		hs_measure measure;
		if (!hs_mask_at(reading->mask, trace->hz[i], reading->unit, &limits))
			continue;
		hs_entry entry = {.kind = HS_ENTRY_NUMBER, .quantity = {trace->level[i], reading->unit}, .freq_hz = trace->hz[i]};
		if (!hs_measure_take(engine, reading, &entry, INT_MAX, &measure, NULL, NULL, error))
			return false;
		double room = room_left(&limits, &measure);
		if (room >= worst)
			continue;
		worst = room;
		*out = entry;
	}
	return worst < INFINITY || hs_fail(error, HS_BAD_INPUT, "no point of the trace lies where the mask has limits");
}

bool hs_trace_entry(const hs_engine *engine, const hs_reading *reading, const char *text, hs_entry *out, hs_error *error)
{
	hs_trace trace;
	if (!hs_trace_read(text, &trace, error))
		return false;
	bool good = covers(&trace, reading->mask, error) && find_worst(engine, reading, &trace, out, error);
	if (good)
		snprintf(out->reason, sizeof out->reason, "%.95s, %u points, SHA-256 %.64s", trace.name, (unsigned)trace.count % 100000u, trace.sha256);
	hs_trace_free(&trace);
	return good;
}
