/* Gain against frequency. */
#include <math.h>
#include "halfsplit/lineup/lineup.h"

static void print_hz(hs_buf *out, double freq_hz)
{
	if (freq_hz > 0)
		hs_quantity_print(out, (hs_quantity){freq_hz, HS_HERTZ}, -1);
	else
		hs_buf_str(out, "DC");
}

static bool fail_outside(const hs_response *response, double freq_hz, hs_error *error)
{
	hs_buf at, from, to;
	hs_buf_init(&at);
	hs_buf_init(&from);
	hs_buf_init(&to);
	print_hz(&at, freq_hz);
	print_hz(&from, response->points[0].freq_hz);
	print_hz(&to, response->points[response->count - 1].freq_hz);
	if (response->count == 1)
		hs_fail(error, HS_BAD_INPUT, "no gain known at %s: the table has %s alone", at.data, from.data);
	else
		hs_fail(error, HS_BAD_INPUT, "no gain known at %s: the table runs from %s to %s", at.data, from.data, to.data);
	hs_buf_free(&at);
	hs_buf_free(&from);
	hs_buf_free(&to);
	return false;
}

static bool table_at(const hs_response *response, double freq_hz, double *gain_db, hs_error *error)
{
	const hs_gain_point *points = response->points;
	size_t low = 0, high = response->count - 1;
	if (!(freq_hz >= points[low].freq_hz && freq_hz <= points[high].freq_hz))
		return fail_outside(response, freq_hz, error);
	while (high - low > 1) {
		size_t middle = low + (high - low) / 2;
		if (points[middle].freq_hz <= freq_hz)
			low = middle;
		else
			high = middle;
	}
	double from = points[low].freq_hz, to = points[high].freq_hz;
	if (freq_hz == from || low == high) {
		*gain_db = points[low].gain_db;
		return true;
	}
	double part = response->root ? (sqrt(freq_hz) - sqrt(from)) / (sqrt(to) - sqrt(from)) : (freq_hz - from) / (to - from);
	*gain_db = points[low].gain_db + part * (points[high].gain_db - points[low].gain_db);
	return true;
}

bool hs_response_at(const hs_response *response, double freq_hz, double *gain_db, hs_error *error)
{
	hs_coax_run run = {.length_m = response->length_m, .celsius = HS_COAX_CELSIUS};
	double loss;
	if (!isfinite(freq_hz) || freq_hz < 0)
		return hs_fail(error, HS_BAD_INPUT, "the frequency is no number from 0 up");
	switch (response->kind) {
	case HS_RESPONSE_FLAT:
		*gain_db = response->gain_db;
		return true;
	case HS_RESPONSE_TABLE:
		return table_at(response, freq_hz, gain_db, error);
	case HS_RESPONSE_COAX:
		if (response->cable ? !hs_coax_table_loss(response->cable, response->per_m, NULL, freq_hz, run, &loss, error)
		                    : !hs_coax_law_loss(&response->law, freq_hz, run, &loss, error))
			return false;
		*gain_db = -loss;
		return true;
	}
	return hs_fail(error, HS_BAD_INPUT, "this gain is of no known kind");
}
