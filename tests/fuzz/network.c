/* Touchstone files of every version: whatever is read can be asked for every parameter. */
#include "target.h"
#include "halfsplit/lineup/network.h"

static void ask(const hs_network *network)
{
	hs_error error = {0};
	hs_complex value;
	double db;
	size_t index, ports = network->ports < 4 ? network->ports : 4;
	CLAIM(network->ports > 0 && network->ports <= HS_PORTS_MOST);
	for (size_t i = 0; i < network->count && i < 8; i++) {
		CLAIM(isfinite(hs_network_freq(network, i)));
		CLAIM(i == 0 || hs_network_freq(network, i) > hs_network_freq(network, i - 1));
		CLAIM(hs_network_find(network, hs_network_freq(network, i), &index, &error));
		for (size_t to = 1; to <= ports; to++)
			for (size_t from = 1; from <= ports; from++) {
				if (hs_network_value(network, i, to, from, &value, &error))
					CLAIM(isfinite(value.re) && isfinite(value.im));
				if (hs_network_db(network, i, to, from, &db, &error))
					CLAIM(isfinite(db));
			}
	}
	for (size_t port = 1; port <= ports; port++)
		CLAIM(hs_network_reference(network, port) > 0);
	for (size_t i = 0; i < network->noise_count; i++)
		CLAIM(isfinite(network->noise[i].nf_min_db) && isfinite(network->noise[i].rn_ohm));
	hs_arena *arena = hs_arena_new();
	hs_loss_table table;
	hs_error refused = {0};
	if (network->ports < 2 || !hs_network_loss(arena, network, 2, 1, &table, &refused))
		CLAIM(network->ports < 2 || refused.code != HS_FINE);
	hs_arena_free(arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static const char *const names[] = {"k.s1p", "k.s2p", "k.s4p", "k.ts"};
	char *text = fuzz_copy(data, size, false);
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		hs_network *network = NULL;
		hs_error error = {0};
		if (hs_network_parse(names[i], text, size, 0, &network, &error))
			ask(network);
		else
			fuzz_refused(&error);
		hs_network_free(network);
	}
	free(text);
	return 0;
}
