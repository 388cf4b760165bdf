/* What a row of a danger says, and the figures its answer is held against. */
#include "danger.h"

#include <math.h>
#include <string.h>

static const double line_over = 1.1;

/* The highest voltage anything here is declared with, as a peak at its limit. */
static double highest_peak(const hs_bench_unit *unit)
{
	const double least = 400.0;
	double most = least;
	for (int i = 0; i < unit->source_count; i++) {
		const hs_energy_source *source = &unit->sources[i];
		double volts = source->volts * line_over * (source->kind == HS_SOURCE_MAINS ? sqrt(2.0) : 1.0);
		most = fmax(most, volts);
	}
	return most;
}

double hs_danger_limit_of(const hs_bench_unit *unit, const hs_danger *danger, hs_danger_limit limit)
{
	static const double cell_most = 4.2, cell_warm = 40.0, fuse = 10.0, density = 7.0, eht = 40e3;
	const double *figures = danger->figures;
	double volts = figures[HS_DANGER_VOLTS];
	switch (limit) {
	case HS_LIMIT_PEAK: return volts > 0.0 ? volts * line_over : highest_peak(unit);
	case HS_LIMIT_HIGHEST: return volts > 0.0 ? volts * line_over : eht;
	case HS_LIMIT_AC: return HS_ELV_AC_VOLTS;
	case HS_LIMIT_DC: return HS_ELV_DC_VOLTS;
	case HS_LIMIT_CELL_MOST: return volts > 0.0 ? volts : cell_most;
	case HS_LIMIT_CELL_WARM: return figures[HS_DANGER_TEMPERATURE] > 0.0 ? figures[HS_DANGER_TEMPERATURE] : cell_warm;
	case HS_LIMIT_FUSE: return figures[HS_DANGER_FUSE] > 0.0 ? figures[HS_DANGER_FUSE] : fuse;
	case HS_LIMIT_DENSITY: return figures[HS_DANGER_DENSITY] > 0.0 ? figures[HS_DANGER_DENSITY] : density;
	case HS_LIMIT_TOUCH: return hs_shop_or_default(unit->shop)->touch_degc;
	case HS_LIMIT_NONE: break;
	}
	return 0.0;
}

double hs_danger_cell_least(const hs_danger *danger)
{
	const double unstated = 3.0;
	return danger->figures[HS_DANGER_LEAST] > 0.0 ? danger->figures[HS_DANGER_LEAST] : unstated;
}

static void say_limit(const hs_bench_unit *unit, const hs_danger *danger, const hs_danger_row *row, hs_buf *out)
{
	double limit = hs_danger_limit_of(unit, danger, row->limit);
	switch (row->rule) {
	case HS_RULE_AT_LEAST:
		hs_buf_str(out, " It must be at least ");
		break;
	case HS_RULE_AT_MOST:
	case HS_RULE_SOUND_MOST:
		hs_buf_str(out, " At most ");
		break;
	case HS_RULE_SOUND_BAND:
		hs_buf_str(out, " From ");
		hs_say_figure(out, hs_danger_cell_least(danger), row->unit);
		hs_buf_str(out, " to ");
		break;
	case HS_RULE_CHASSIS:
		hs_buf_str(out, " It counts as live above ");
		break;
	default:
		return;
	}
	hs_say_figure(out, limit, row->unit);
	hs_buf_char(out, '.');
}

static void say_row(const hs_danger *danger, const char *text, hs_buf *out)
{
	const char *at = strstr(text, "%s");
	hs_buf_add(out, text, at ? (size_t)(at - text) : strlen(text));
	if (!at)
		return;
	hs_buf_str(out, danger->title ? danger->title : danger->id);
	bool says_of = danger->kind == HS_DANGER_TOXIC && danger->text && !danger->title;
	if (says_of)
		hs_buf_printf(out, ", %s", danger->text);
	hs_buf_str(out, at + 2);
}

void hs_danger_text(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out)
{
	const hs_danger_row *row = hs_danger_row_of(gate);
	const hs_danger *danger = &unit->dangers[gate->subject];
	say_row(danger, row->text, out);
	say_limit(unit, danger, row, out);
	if (row->waits >= 0) {
		hs_buf_str(out, " It takes ");
		hs_say_figure(out, hs_danger_seconds(danger, row->waits), HS_SECOND);
		hs_buf_str(out, danger->figures[row->waits] > 0.0 ? "." : ", because nothing shorter is stated.");
	}
	if (row->rule == HS_RULE_BAND && danger->figures[HS_DANGER_WAVELENGTH] > 0.0) {
		hs_buf_str(out, " It must cover ");
		hs_say_figure(out, danger->figures[HS_DANGER_WAVELENGTH], HS_METRE);
		hs_buf_char(out, '.');
	}
}
