/* The records of a Touchstone file: frequencies, noise, and what must hold when all is read. */
#include <math.h>
#include <string.h>
#include "network_parts.h"

void hs_net_set_stride(network_reader *r)
{
	size_t n = r->net->ports;
	r->net->stride = 1 + 2 * (r->net->matrix == HS_MATRIX_FULL ? n * n : n * (n + 1) / 2);
}

bool hs_net_set_ports(network_reader *r, size_t ports)
{
	if (r->ports_wanted != 0 && r->ports_wanted != ports) {
		hs_net_refuse(r, "the file holds %zu ports; %zu are wanted", ports, r->ports_wanted);
		if (r->ports_named)
			hs_fail_hint(r->error, "its name says .s%zup", r->ports_wanted);
		return false;
	}
	if (ports != 2 && (r->net->kind == 'G' || r->net->kind == 'H'))
		return hs_net_refuse(r, "%c-parameters belong to two ports; the file holds %zu", r->net->kind, ports);
	r->net->ports = ports;
	r->ports_known = true;
	hs_net_set_stride(r);
	return true;
}

/* Version 1 does not state its ports: the first frequency has 1 + 2 N^2 numbers. */
static bool infer_ports(network_reader *r, size_t numbers)
{
	size_t pairs = (numbers - 1) / 2, ports = 1;
	while (ports * ports < pairs)
		ports++;
	if (numbers % 2 == 0 || ports * ports != pairs) {
		hs_net_refuse(r, "the first frequency holds %zu numbers; 3, 9, 19, 33 ... are wanted", numbers);
		return hs_fail_hint(r->error, "one frequency and a pair for each of N x N parameters");
	}
	return hs_net_set_ports(r, ports);
}

static void add_noise(network_reader *r, const double *five)
{
	hs_network *net = r->net;
	net->noise = hs_grow(net->noise, &r->noise_room, net->noise_count + 1, sizeof(*net->noise));
	double ohm = net->version < 20 ? five[4] * net->reference[0] : five[4];
	net->noise[net->noise_count++] = (hs_noise_point){five[0] * r->unit_hz, five[1], five[2], five[3], ohm};
}

static bool noise_line(network_reader *r, size_t first)
{
	const double *five = r->net->numbers + first;
	size_t count = r->held - first;
	r->held = first;
	if (count != NOISE_NUMBERS)
		return hs_net_refuse(r, "a line of noise data holds %zu numbers; %d are wanted", count, NOISE_NUMBERS);
	if (five[0] < 0)
		return hs_net_refuse(r, "a frequency is below 0");
	if (r->net->noise_count > 0 && five[0] * r->unit_hz <= r->net->noise[r->net->noise_count - 1].freq_hz)
		return hs_net_refuse(r, "the frequency of the noise data does not rise");
	if (five[1] < 0 || five[2] < 0 || five[2] > 1 || five[4] < 0)
		return hs_net_refuse(
		    r, "the noise data want a noise figure of at least 0 dB, a reflection from 0 to 1 and a resistance "
		       "of at least 0");
	if (r->noise_stated && r->net->noise_count == r->noise_frequencies)
		return hs_net_refuse(r, "[Number of Noise Frequencies] is %zu, and one more begins here",
		                     r->noise_frequencies);
	add_noise(r, five);
	return true;
}

static bool refuse_magnitude(network_reader *r, size_t pair)
{
	static const char *const two[] = {"11", "21", "12", "22"}, *const other[] = {"11", "12", "21", "22"};
	char kind = r->net->kind;
	if (r->net->ports == 2 && r->net->matrix == HS_MATRIX_FULL)
		return hs_net_refuse(r, "the magnitude of %c%s is below 0", kind,
		                     (r->net->order_12_21 ? other : two)[pair]);
	return hs_net_refuse(r, "the magnitude of pair %zu of this frequency is below 0", pair + 1);
}

/* A whole frequency is there. */
static bool finish_record(network_reader *r)
{
	hs_network *net = r->net;
	double *record = net->numbers + r->record, *last = net->count ? record - net->stride : NULL;
	record[0] *= r->unit_hz;
	if (record[0] < 0 || !isfinite(record[0]))
		return hs_net_refuse(r, record[0] < 0 ? "a frequency is below 0"
		                                      : "a frequency is too large for a number");
	if (last && record[0] < last[0])
		return hs_net_refuse(r, "the frequency falls; %c-parameters stand in rising order", net->kind);
	if (last && record[0] == last[0]) {
		if (memcmp(record, last, net->stride * sizeof(*record)) != 0)
			return hs_net_refuse(r, "the frequency stands twice, with other numbers than before");
		hs_net_remark(r, "the frequency stands twice with the same numbers");
		r->held = r->record;
		return true;
	}
	if (net->notation == HS_NOTATION_MA)
		for (size_t i = 1; i < net->stride; i += 2)
			if (record[i] < 0)
				return refuse_magnitude(r, i / 2);
	if (r->frequencies_stated && net->count == r->frequencies)
		return hs_net_refuse(r, "[Number of Frequencies] is %zu, and one more stands here", r->frequencies);
	net->count++;
	r->record = r->held;
	return true;
}

/* The record was held back until its ports were known: what is wrong with it is wrong in its own line. */
static bool finish_first(network_reader *r, size_t numbers)
{
	int line = r->line;
	const char *line_at = r->line_at;
	r->line = r->record_line;
	r->line_at = NULL;
	if (!infer_ports(r, numbers) || !finish_record(r))
		return false;
	r->line = line;
	r->line_at = line_at;
	return true;
}

/* One and two ports of version 1 stand in one line each. */
static bool short_line(network_reader *r, size_t count)
{
	hs_network *net = r->net;
	bool not_above =
	    net->count > 0 && net->numbers[r->record] * r->unit_hz <= net->numbers[r->record - net->stride];
	if (r->place == IN_NOISE || (net->ports == 2 && not_above && count == NOISE_NUMBERS)) {
		r->place = IN_NOISE;
		return noise_line(r, r->record);
	}
	if (count != net->stride) {
		hs_net_refuse(r, "a line holds %zu numbers; a %s-port line holds %zu", count,
		              net->ports == 1 ? "one" : "two", net->stride);
		return hs_fail_hint(r->error, "a frequency, then a pair of numbers for each parameter, in one line");
	}
	return finish_record(r);
}

static bool long_line(network_reader *r, size_t first)
{
	size_t count = r->held - first, have = r->held - r->record, stride = r->net->stride;
	if (first == r->record)
		r->record_line = r->line;
	if (first == r->record && count % 2 == 0)
		return hs_net_refuse(
		    r, "a frequency begins here, but the line holds %zu numbers; one and whole pairs are wanted",
		    count);
	if (first != r->record && count % 2 == 1)
		return hs_net_refuse(
		    r, "the frequency begun in line %d holds %zu of %zu numbers before another begins here",
		    r->record_line, have - count, stride);
	if (have > stride)
		return hs_net_refuse(r, "the frequency begun in line %d holds %zu numbers up to here; %zu are wanted",
		                     r->record_line, have, stride);
	/* The book allows four pairs a line; programs write whole rows all the same. */
	if (r->net->version < 20 && count > 9)
		hs_net_remark(r, "a line holds %zu pairs; version 1 allows four", count / 2);
	return have < stride || finish_record(r);
}

bool hs_net_data_line(network_reader *r, size_t first)
{
	size_t count = r->held - first;
	if (r->place == IN_NOISE && r->net->version >= 20)
		return noise_line(r, first);
	if (!r->ports_known && r->ports_wanted != 0 && !hs_net_set_ports(r, r->ports_wanted))
		return false;
	if (!r->ports_known) {
		/* A line of a new frequency has an odd count, one that goes on an even one. */
		if (first == 0) {
			r->record_line = r->line;
			return true;
		}
		if (count % 2 == 0)
			return true;
		r->held = first;
		if (!finish_first(r, first))
			return false;
		r->held = first + count;
	}
	return r->net->version < 20 && r->net->ports <= 2 ? short_line(r, count) : long_line(r, first);
}

static bool file_refuse(network_reader *r, bool bad, const char *message)
{
	if (!bad)
		return true;
	hs_fail(r->error, HS_BAD_INPUT, "%s", message);
	return hs_fail_at(r->error, r->path, 0);
}

static bool finish_stated(network_reader *r)
{
	hs_network *net = r->net;
	if (r->frequencies_stated && net->count != r->frequencies)
		return hs_net_refuse(r, "[Number of Frequencies] is %zu, but the file ends with %zu", r->frequencies,
		                     net->count);
	if (r->noise_stated && net->noise_count != r->noise_frequencies)
		return hs_net_refuse(r, "[Number of Noise Frequencies] is %zu, but the file ends with %zu",
		                     r->noise_frequencies, net->noise_count);
	if (net->version == 21 && !r->end_seen)
		return hs_net_refuse(r, "the file ends without [End]");
	if (net->version == 20 && !r->end_seen)
		hs_net_remark(r, "the file ends without [End]");
	return true;
}

bool hs_net_finish(network_reader *r)
{
	hs_network *net = r->net;
	r->line_at = NULL;
	if (net->version >= 20 && (r->place == IN_HEAD || r->place == IN_INFORMATION))
		return hs_net_refuse(r, r->place == IN_HEAD ? "the file ends before [Network Data]"
		                                            : "the file ends before [End Information]");
	if (!r->ports_known && r->held > 0 && !finish_first(r, r->held))
		return false;
	if (r->held != r->record)
		return hs_net_refuse(
		    r, "the file ends within the frequency begun in line %d, which holds %zu of %zu numbers",
		    r->record_line, r->held - r->record, net->stride);
	if (!file_refuse(r, net->count == 0, "the file holds no network data") || !finish_stated(r))
		return false;
	if (net->reference_count != 1 && net->reference_count != net->ports)
		return hs_net_refuse(r, "%zu reference resistances are stated for %zu ports", net->reference_count,
		                     net->ports);
	return net->version != 11 || net->kind == 'S' ||
	       hs_net_refuse(r, "%c-parameters of version 1 are normalised to one reference; %zu are stated", net->kind,
	                     net->reference_count);
}

/* Each physical port once: alone, or in one pair that has both its modes. */
bool hs_net_check_modes(network_reader *r)
{
	const hs_network *net = r->net;
	for (size_t i = 0; i < net->ports; i++) {
		const hs_mode *mode = &net->modes[i];
		size_t partners = 0, uses = 0;
		for (size_t j = 0; j < net->ports; j++) {
			const hs_mode *other = &net->modes[j];
			uses += other->a == mode->a || other->b == mode->a;
			partners += j != i && other->kind != mode->kind && other->a == mode->a && other->b == mode->b;
		}
		if (mode->kind == 'S' ? uses != 1 : uses != 2 || partners != 1)
			return hs_net_refuse(
			    r,
			    "[Mixed-Mode Order] names port %zu otherwise than once alone, or in one pair as D and as C",
			    mode->a);
	}
	return true;
}
