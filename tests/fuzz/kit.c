/* Kit files, which are Lua: read to the end with every problem in the list, or refused. */
#include "target.h"
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"

static void ask(const hs_kit *kit)
{
	for (size_t i = 0; i < kit->part_count; i++) {
		hs_buf source;
		hs_error error = {0};
		double loss_db, u_db;
		hs_buf_init(&source);
		if (hs_part_loss(kit->parts[i], 145e6, &loss_db, &u_db, &source, &error))
			CLAIM(isfinite(loss_db) && loss_db >= 0 && isfinite(u_db) && u_db >= 0);
		else
			fuzz_refused(&error);
		hs_buf_free(&source);
		CLAIM(hs_kit_part(kit, kit->parts[i]->id) != NULL);
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	hs_error error = {0};
	char *text = fuzz_copy(data, size, true);
	hs_sources *sources = hs_sources_from_text("kit.lua", text, size, &error);
	if (sources) {
		hs_problems problems = {0};
		hs_kit *kit = hs_kit_load(sources, HS_PLACES_EXACT, &problems, &error);
		hs_problems_quote(&problems, sources);
		hs_problems_sort(&problems);
		CLAIM(kit || problems.errors > 0);
		for (size_t i = 0; i < problems.count; i++)
			CLAIM(problems.items[i].what.message[0] != '\0');
		if (kit && !problems.errors)
			ask(kit);
		if (!kit)
			fuzz_refused(&error);
		hs_kit_free(kit);
		hs_problems_free(&problems);
	} else {
		fuzz_refused(&error);
	}
	hs_sources_free(sources);
	free(text);
	return 0;
}
