/* A hookup's two-port file: a table that rises, of losses that are none below 0 dB, or a refusal. */
#include "target.h"
#include "halfsplit/lineup/network.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char *text = fuzz_copy(data, size, false);
	hs_arena *arena = hs_arena_new();
	hs_loss_table table = {0};
	hs_error error = {0};
	if (hs_network_lead_loss(arena, "k.s2p", text, size, &table, &error)) {
		CLAIM(table.count > 0);
		for (size_t i = 0; i < table.count; i++) {
			CLAIM(isfinite(table.points[i].freq_hz) && isfinite(table.points[i].loss_db));
			CLAIM(table.points[i].loss_db >= 0);
			CLAIM(i == 0 || table.points[i].freq_hz > table.points[i - 1].freq_hz);
		}
	} else {
		fuzz_refused(&error);
	}
	hs_arena_free(arena);
	free(text);
	return 0;
}
