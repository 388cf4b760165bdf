/* Quantities, entries, tolerances and limits: what is read is finite, prints, and reads back. */
#include "target.h"
#include "halfsplit/judge/limits.h"

static void read_back(hs_quantity quantity)
{
	hs_buf text;
	hs_quantity again;
	hs_error error = {0};
	CLAIM(isfinite(quantity.value));
	CLAIM((unsigned)quantity.unit < HS_UNIT_COUNT);
	hs_buf_init(&text);
	hs_quantity_print(&text, quantity, -1);
	CLAIM(hs_utf8_valid(text.data, text.length));
	if (!hs_quantity_read(text.data, HS_UNITLESS, &again, &error)) {
		fprintf(stderr, "%s: %s\n", text.data, error.message);
		CLAIM(!"what was printed reads back");
	}
	CLAIM(again.unit == quantity.unit);
	hs_buf_free(&text);
}

static void scan(const char *text, size_t size, hs_unit bare)
{
	hs_quantity quantity;
	hs_error error = {0};
	double step;
	size_t used = 0;
	if (!hs_quantity_scan(text, bare, &quantity, &step, &used, &error)) {
		fuzz_refused(&error);
		return;
	}
	CLAIM(used > 0 && used <= size);
	CLAIM(step >= 0);
	read_back(quantity);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static const hs_unit units[] = {HS_UNIT_COUNT, HS_UNITLESS, HS_DBM, HS_OHM, HS_VOLT, HS_SECOND};
	char *text = fuzz_copy(data, size, true);
	for (size_t i = 0; i < sizeof units / sizeof *units; i++) {
		hs_quantity nominal;
		hs_limits limits;
		hs_entry entry;
		hs_error error = {0};
		double tolerance;
		scan(text, size, units[i]);
		if (units[i] != HS_UNIT_COUNT && hs_entry_read(text, units[i], &entry, &error))
			CLAIM(entry.kind != HS_ENTRY_NUMBER || isfinite(entry.quantity.value));
		else if (units[i] != HS_UNIT_COUNT)
			fuzz_refused(&error);
		error = (hs_error){0};
		if (hs_toleranced_read(text, units[i], &nominal, &tolerance, &error))
			CLAIM(isfinite(nominal.value) && isfinite(tolerance) && tolerance >= 0);
		else
			fuzz_refused(&error);
		error = (hs_error){0};
		if (hs_limits_read(text, units[i], &limits, &error))
			CLAIM(!limits.has_low || !limits.has_high || limits.low <= limits.high);
		else
			fuzz_refused(&error);
	}
	free(text);
	return 0;
}
