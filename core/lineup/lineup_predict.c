/* What a healthy unit shows: nominal level, tolerance by trial of each contributor, noise. */
#include <math.h>
#include <string.h>
#include "halfsplit/lineup/cascade.h"
#include "halfsplit/lineup/lineup.h"
#include "halfsplit/lineup/noise.h"
#include "lineup_parts.h"

#define LN10 2.302585092994045684

typedef struct trial {
	const hs_route *route;
	const hs_effect *fault;
	double deviation[HS_DEVIATIONS(HS_ELEMENTS_MOST)];
	double toward[HS_DEVIATIONS(HS_ELEMENTS_MOST)]; /* the end of each tolerance that raises the result: 1, -1, or 0 */
	double nominal;
} trial;

static bool has_tolerance(const hs_lineup *lineup, size_t at)
{
	const hs_element *element = &lineup->elements[at % lineup->count];
	bool source = hs_element_begins(element);
	bool level = element->level_up_db > 0 || element->level_down_db > 0;
	switch (at / lineup->count) {
	case 0:
		return source ? level : element->gain.up_db > 0 || element->gain.down_db > 0;
	case 1:
		return (level && !source) || element->p1db_up_db > 0 || element->p1db_down_db > 0;
	default:
		return element->has_tap && (element->tap.up_db > 0 || element->tap.down_db > 0);
	}
}

static double change(trial *t, size_t at, double part)
{
	t->deviation[at] = part;
	double level = hs_route_level(t->route, t->fault, t->deviation, NULL);
	t->deviation[at] = 0;
	return level - t->nominal;
}

/* What one contributor does to the result at both ends of its tolerance. */
static void try_one(trial *t, size_t at, double *up_db, double *down_db)
{
	if (!has_tolerance(t->route->lineup, at))
		return;
	double more = change(t, at, 1), less = change(t, at, -1);
	*up_db = fmax(0, fmax(more, less));
	*down_db = fmax(0, -fmin(more, less));
	t->toward[at] = more > less ? 1 : more < less ? -1 : 0;
}

static double all_toward(trial *t, double sign)
{
	size_t count = HS_DEVIATIONS(t->route->lineup->count);
	for (size_t i = 0; i < count; i++)
		t->deviation[i] = sign * t->toward[i];
	double level = hs_route_level(t->route, t->fault, t->deviation, NULL);
	for (size_t i = 0; i < count; i++)
		t->deviation[i] = 0;
	return level - t->nominal;
}

static bool has_line(const hs_prediction *out, int element)
{
	for (size_t i = 0; i < out->count; i++)
		if (out->lines[i].element == element)
			return true;
	return false;
}

static void add_lines(const hs_route *route, const hs_effect *fault, hs_prediction *out)
{
	double levels[HS_ROUTE_MOST], before = route->start;
	out->level = hs_route_level(route, fault, NULL, levels);
	for (size_t i = 0; i < route->used; i++) {
		const hs_route_step *step = &route->steps[i];
		bool beside = i >= route->count;
		if (beside && has_line(out, step->element))
			continue;
		hs_predicted_line *line = &out->lines[out->count++];
		*line = (hs_predicted_line){.element = step->element, .beside = beside, .freq_hz = step->freq_hz};
		if (beside)
			continue;
		const hs_element *element = &route->lineup->elements[step->element];
		bool source = i == 0 && hs_element_begins(element);
		line->level = levels[i];
		line->change_db = source ? 0 : levels[i] - before;
		if (element->has_p1db && !source)
			line->compressed_db = fmax(0, before + step->gain_db + (step->tapped ? step->tap_db : 0) - levels[i]);
		before = levels[i];
	}
}

/* Each line carries all three tolerances of its element. */
static void add_tolerances(trial *t, hs_prediction *out)
{
	size_t n = t->route->lineup->count;
	double up2 = 0, down2 = 0;
	for (size_t i = 0; i < out->count; i++) {
		double line_up2 = 0, line_down2 = 0;
		for (size_t part = 0; part < 3; part++) {
			double up = 0, down = 0;
			try_one(t, part * n + (size_t)out->lines[i].element, &up, &down);
			line_up2 += up * up;
			line_down2 += down * down;
		}
		out->lines[i].up_db = sqrt(line_up2);
		out->lines[i].down_db = sqrt(line_down2);
		up2 += line_up2;
		down2 += line_down2;
	}
	out->up_db = sqrt(up2);
	out->down_db = sqrt(down2);
	out->worst_up_db = fmax(0, all_toward(t, 1));
	out->worst_down_db = fmax(0, -all_toward(t, -1));
}

/* One more two-port behind those so far; nf_db is at least 0. */
static void add_two_port(double gain_db, double nf_db, double *gain, double *excess)
{
	*excess += expm1(nf_db * LN10 / 10) * pow(10, -*gain / 10);
	*gain += gain_db;
}

/* Friis along the way, from a source at 290 K. A loss has the noise of its loss; a gain without a noise figure ends it. */
static void add_noise(const hs_route *route, hs_prediction *out)
{
	double gain = 0, excess = 0, floor;
	for (size_t i = 0; i < route->count; i++) {
		const hs_route_step *step = &route->steps[i];
		const hs_element *element = &route->lineup->elements[step->element];
		if (!element->has_nf && step->gain_db > 0) {
			out->noise_of = element->id;
			return;
		}
		add_two_port(step->gain_db, element->has_nf ? element->nf_db : -step->gain_db, &gain, &excess);
		if (step->tapped)
			add_two_port(step->tap_db, fmax(0, -step->tap_db), &gain, &excess);
	}
	if (!hs_noise_floor(HS_T0_KELVIN, 0, 1, &floor, NULL))
		return;
	out->has_noise = true;
	out->noise_dbm_hz = floor + gain + 10 / LN10 * log1p(excess);
}

bool hs_lineup_predict(const hs_lineup *lineup, const hs_injected *injected, int to, const hs_line_settings *settings,
                       const hs_effect *fault, hs_prediction *out, hs_error *error)
{
	hs_route route;
	trial t = {.route = &route, .fault = fault};
	if (!hs_lineup_route(lineup, injected, to, settings, fault, &route, error))
		return false;
	*out = (hs_prediction){.volts = route.volts, .at_most = route.at_most, .start = route.start, .freq_hz = route.out_hz};
	out->start_hz = route.count > 0 ? route.steps[0].freq_hz : route.out_hz;
	add_lines(&route, fault, out);
	t.nominal = out->level;
	out->nothing = isinf(out->level);
	if (!out->nothing)
		add_tolerances(&t, out);
	bool fed = route.count == 0 || !hs_element_begins(&lineup->elements[route.steps[0].element]);
	if (fed && !route.volts)
		add_noise(&route, out);
	return true;
}

hs_quantity hs_prediction_level(const hs_prediction *prediction, double level)
{
	return prediction->volts ? (hs_quantity){pow(10, level / 20), HS_VOLT} : (hs_quantity){level, HS_DBM};
}

/* ---- in words ---- */

static void print_db(hs_buf *out, double up_db, double down_db)
{
	if (fabs(up_db - down_db) < 0.005)
		hs_buf_printf(out, "+/- %.2f dB", up_db);
	else
		hs_buf_printf(out, "+ %.2f - %.2f dB", up_db, down_db);
}

static void print_level(hs_buf *out, const hs_prediction *prediction, double level)
{
	if (isinf(level))
		hs_buf_str(out, "nothing");
	else
		hs_quantity_print(out, hs_prediction_level(prediction, level), -1);
}

static void print_line(hs_buf *out, const hs_lineup *lineup, const hs_prediction *prediction, const hs_predicted_line *line,
                       const char *indent)
{
	const hs_element *element = &lineup->elements[line->element];
	bool counts = line->up_db > 0 || line->down_db > 0;
	if (line->beside && !counts)
		return;
	hs_buf_printf(out, "%s%-14s ", indent, element->id);
	if (line->beside)
		hs_buf_str(out, "           acts on it,");
	else
		hs_buf_printf(out, "%+9.2f dB", line->change_db);
	if (counts) {
		hs_buf_char(out, ' ');
		print_db(out, line->up_db, line->down_db);
	}
	if (!line->beside) {
		hs_buf_str(out, " -> ");
		print_level(out, prediction, line->level);
	}
	if (line->compressed_db >= 0.005)
		hs_buf_printf(out, ", compressed by %.2f dB", line->compressed_db);
	hs_buf_char(out, '\n');
}

void hs_prediction_print(hs_buf *out, const hs_lineup *lineup, const hs_prediction *prediction, const char *indent)
{
	double before = prediction->start_hz;
	for (size_t i = 0; i < prediction->count; i++) {
		const hs_predicted_line *line = &prediction->lines[i];
		if (!line->beside && line->freq_hz > 0 && before > 0 && fabs(line->freq_hz - before) > 1e-9 * before) {
			hs_buf_printf(out, "%sfrom here on at ", indent);
			hs_quantity_print(out, (hs_quantity){line->freq_hz, HS_HERTZ}, -1);
			hs_buf_char(out, '\n');
		}
		before = line->beside ? before : line->freq_hz;
		print_line(out, lineup, prediction, line, indent);
	}
	if (prediction->nothing)
		return;
	hs_buf_printf(out, "%stolerance      root-sum-square ", indent);
	print_db(out, prediction->up_db, prediction->down_db);
	hs_buf_printf(out, "\n%s               all at their worst ", indent);
	print_db(out, prediction->worst_up_db, prediction->worst_down_db);
	hs_buf_char(out, '\n');
	if (prediction->has_noise)
		hs_buf_printf(out, "%snoise          %.1f dBm in 1 Hz\n", indent, prediction->noise_dbm_hz);
}
