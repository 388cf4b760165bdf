/* Tables of loss: what is read can be asked at each of its points and between them. */
#include "target.h"
#include "halfsplit/lineup/loss_csv.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	char *text = fuzz_copy(data, size, false);
	hs_arena *arena = hs_arena_new();
	hs_loss_table table = {0};
	hs_error error = {0};
	if (hs_loss_csv(arena, "k.csv", text, size, &table, &error)) {
		CLAIM(table.count > 0);
		for (size_t i = 0; i < table.count && i < 16; i++) {
			double loss_db = -1, freq_hz = table.points[i].freq_hz;
			CLAIM(hs_loss_table_at(&table, freq_hz, &loss_db, &error));
			CLAIM(isfinite(loss_db) && loss_db >= 0);
			double next = i + 1 < table.count ? table.points[i + 1].freq_hz : freq_hz;
			CLAIM(hs_loss_table_at(&table, freq_hz + (next - freq_hz) / 2, &loss_db, &error));
			CLAIM(isfinite(loss_db) && loss_db >= 0);
		}
	} else {
		fuzz_refused(&error);
	}
	hs_arena_free(arena);
	free(text);
	return 0;
}
