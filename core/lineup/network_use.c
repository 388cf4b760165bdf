/* Values out of a network that was read. */
#include <math.h>
#include <stdlib.h>
#include "halfsplit/quantity/demand.h"
#include "network_parts.h"

#define DEGREE     0.017453292519943295769
#define RESIDUE_DB 0.1 /* of gain, left over by a calibration */

double hs_network_freq(const hs_network *network, size_t index)
{
	return network->numbers[index * network->stride];
}

double hs_network_reference(const hs_network *network, size_t port)
{
	return network->reference[network->reference_count == 1 ? 0 : port - 1];
}

static bool fail_between(const hs_network *network, double freq_hz, size_t above, hs_error *error)
{
	hs_brief at = hs_brief_of(freq_hz);
	if (above == 0 || above == network->count)
		return hs_fail(error, HS_BAD_INPUT, "the file holds nothing at %s Hz; it runs from %s to %s Hz",
		               at.text, hs_brief_of(hs_network_freq(network, 0)).text,
		               hs_brief_of(hs_network_freq(network, network->count - 1)).text);
	return hs_fail(error, HS_BAD_INPUT, "the file holds nothing at %s Hz; its nearest are %s and %s Hz", at.text,
	               hs_brief_of(hs_network_freq(network, above - 1)).text,
	               hs_brief_of(hs_network_freq(network, above)).text);
}

bool hs_network_find(const hs_network *network, double freq_hz, size_t *index, hs_error *error)
{
	size_t low = 0, high = network->count;
	if (!hs_want_at_least("the frequency", freq_hz, 0, HS_HERTZ, error))
		return false;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (hs_network_freq(network, middle) < freq_hz)
			low = middle + 1;
		else
			high = middle;
	}
	/* The nearer of the two about it. */
	size_t near = low;
	if (low == network->count ||
	    (low > 0 && freq_hz - hs_network_freq(network, low - 1) < hs_network_freq(network, low) - freq_hz))
		near = low - 1;
	if (fabs(hs_network_freq(network, near) - freq_hz) > 1e-9 * freq_hz)
		return fail_between(network, freq_hz, low, error);
	*index = near;
	return true;
}

/* Which pair of a frequency holds a parameter. */
static size_t cell_of(const hs_network *net, size_t to, size_t from)
{
	size_t row = to - 1, column = from - 1, n = net->ports;
	if (net->matrix == HS_MATRIX_FULL) {
		if (n == 2 && !net->order_12_21)
			return column * 2 + row;
		return row * n + column;
	}
	size_t more = row > column ? row : column, less = row > column ? column : row;
	return net->matrix == HS_MATRIX_LOWER ? more * (more + 1) / 2 + less : less * n - less * (less + 1) / 2 + more;
}

static bool pair_of(const hs_network *net, size_t index, size_t to, size_t from, const double **pair, hs_error *error)
{
	if (index >= net->count)
		return hs_fail(error, HS_BAD_INPUT, "point %zu was asked for; the file holds %zu", index + 1,
		               net->count);
	if (to < 1 || to > net->ports || from < 1 || from > net->ports)
		return hs_fail(error, HS_BAD_INPUT, "%c%zu,%zu was asked for; the file holds %zu ports", net->kind, to,
		               from, net->ports);
	*pair = net->numbers + index * net->stride + 1 + 2 * cell_of(net, to, from);
	return true;
}

/* Ohm or siemens in one of the file: version 1 normalises, version 2 does not. */
static double scale_of(const hs_network *net, size_t to, size_t from)
{
	double ohm = net->reference[0];
	bool impedance = net->kind == 'Z' || (net->kind == 'H' && to == 1 && from == 1) ||
	                 (net->kind == 'G' && to == 2 && from == 2);
	bool admittance = net->kind == 'Y' || (net->kind == 'H' && to == 2 && from == 2) ||
	                  (net->kind == 'G' && to == 1 && from == 1);
	if (net->version >= 20)
		return 1;
	return impedance ? ohm : admittance ? 1 / ohm : 1;
}

bool hs_network_value(const hs_network *network, size_t index, size_t to, size_t from, hs_complex *out, hs_error *error)
{
	const double *pair;
	if (!pair_of(network, index, to, from, &pair, error))
		return false;
	double scale = scale_of(network, to, from), re = pair[0], im = pair[1];
	if (network->notation != HS_NOTATION_RI) {
		double size = network->notation == HS_NOTATION_DB ? pow(10, pair[0] / 20) : pair[0];
		double turned = fmod(pair[1], 360) * DEGREE;
		re = size * cos(turned);
		im = size * sin(turned);
	}
	hs_complex made;
	if (!hs_give("the parameter", re * scale, &made.re, error) ||
	    !hs_give("the parameter", im * scale, &made.im, error))
		return false;
	*out = made;
	return true;
}

bool hs_network_db(const hs_network *network, size_t index, size_t to, size_t from, double *db, hs_error *error)
{
	const double *pair;
	if (!pair_of(network, index, to, from, &pair, error))
		return false;
	if (network->kind != 'S')
		return hs_fail(error, HS_BAD_INPUT, "the file holds %c-parameters; decibels are of S-parameters only",
		               network->kind);
	if (network->notation == HS_NOTATION_DB) {
		*db = pair[0];
		return true;
	}
	double size = network->notation == HS_NOTATION_MA ? pair[0] : hypot(pair[0], pair[1]);
	if (size == 0)
		return hs_fail(error, HS_BAD_INPUT, "S%zu,%zu is 0 at %s Hz, which is no number of decibels", to, from,
		               hs_brief_of(hs_network_freq(network, index)).text);
	return hs_give("the magnitude", 20 * log10(size), db, error);
}

static bool loss_point(const hs_network *network, size_t index, size_t to, size_t from, hs_loss_point *point,
                       hs_error *error)
{
	double db;
	if (!hs_network_db(network, index, to, from, &db, error))
		return false;
	point->freq_hz = hs_network_freq(network, index);
	point->loss_db = db < 0 ? -db : 0;
	if (db <= RESIDUE_DB + 1e-9)
		return true;
	hs_fail(error, HS_BAD_INPUT,
	        "S%zu,%zu is a gain of %s dB at %s Hz; up to %s dB passes as a residue of the calibration", to, from,
	        hs_brief_of(db).text, hs_brief_of(point->freq_hz).text, hs_brief_of(RESIDUE_DB).text);
	return hs_fail_hint(error, "measure the part again after a fresh calibration");
}

/* `*bad` is where it failed; the number of frequencies when that was at none of them. */
static bool loss_table(hs_arena *arena, const hs_network *network, size_t to, size_t from, hs_loss_table *out,
                       size_t *bad, hs_error *error)
{
	const double *pair;
	*bad = network->count;
	if (!pair_of(network, 0, to, from, &pair, error))
		return false;
	if (to == from)
		return hs_fail(error, HS_BAD_INPUT, "a loss leads from one port to another; port %zu was named twice",
		               to);
	if (network->kind != 'S')
		return hs_fail(error, HS_BAD_INPUT,
		               "the file holds %c-parameters; a loss is read from S-parameters only", network->kind);
	if (hs_network_reference(network, to) != hs_network_reference(network, from)) {
		hs_fail(error, HS_BAD_INPUT, "ports %zu and %zu refer to %s and %s ohm", to, from,
		        hs_brief_of(hs_network_reference(network, to)).text,
		        hs_brief_of(hs_network_reference(network, from)).text);
		return hs_fail_hint(error, "a loss is read between ports of one reference");
	}
	hs_loss_point *points = hs_alloc(network->count * sizeof(*points));
	size_t good = 0;
	while (good < network->count && loss_point(network, good, to, from, &points[good], error))
		good++;
	*bad = good;
	bool made = good == network->count && hs_loss_table_make(arena, points, network->count, out, error);
	free(points);
	return made;
}

bool hs_network_loss(hs_arena *arena, const hs_network *network, size_t to, size_t from, hs_loss_table *out,
                     hs_error *error)
{
	size_t bad;
	return loss_table(arena, network, to, from, out, &bad, error);
}

bool hs_network_lead_loss(hs_arena *arena, const char *path, const char *text, size_t length, hs_loss_table *out,
                          hs_error *error)
{
	hs_network *network;
	size_t bad;
	if (!hs_network_parse(path, text, length, 2, &network, error))
		return false;
	bool good = loss_table(arena, network, 2, 1, out, &bad, error);
	if (!good && bad < network->count)
		hs_net_blame_line(path, text, length, bad, error);
	else if (!good)
		hs_fail_at(error, path, 0);
	hs_network_free(network);
	return good;
}
