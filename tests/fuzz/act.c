/*
 * Acts of a freehand run, one a line, on a unit that nothing feeds, so that most of them are asked without a gate. What is not an act
 * answers whatever is asked. Refused, an act leaves nothing behind; folded twice, the same lines end at the same ask.
 */
#include "target.h"
#include "halfsplit/engine/engine.h"
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"

static const char kit_text[] = "cable \"K1\" { type = \"RG-58C/U\", length = \"1 m\", u = \"0.1 dB\" }\n"
                               "instrument \"M1\" { reads = { \"power\" }, from = \"-60 dBm\", to = \"20 dBm\", u = \"0.2 dB\" }\n"
                               "instrument \"G1\" { gives = { from = \"-110 dBm\", to = \"13 dBm\", u = \"0.5 dB\" } }\n"
                               "instrument \"D1\" { reads = { volts = { from = \"-600 V\", to = \"600 V\", u = \"1 %\" } } }\n"
                               "hookup \"meter lead\" { \"K1\", \"M1\" }\n"
                               "hookup \"source lead\" { \"K1\", \"G1\" }\n";

static const char *const before[] = {"dead", "nothing", "whole", "none", "none", "J1 J2", "lid", "none", "yes"};

static void ask_id(const hs_engine *engine, hs_ask *ask, hs_buf *id)
{
	*ask = hs_engine_next(engine);
	hs_buf_clear(id);
	hs_buf_str(id, "");
	hs_engine_ask_id(engine, ask, id);
}

static void give(hs_engine *engine, const char *text, int64_t *now_ms)
{
	hs_ask ask;
	hs_buf id;
	hs_buf_init(&id);
	ask_id(engine, &ask, &id);
	bool redo = strcmp(text, "!redo") == 0;
	bool confirms = ask.kind == HS_ASK_JOIN || ask.kind == HS_ASK_OPEN || ask.kind == HS_ASK_CLOSE || ask.kind == HS_ASK_DONE;
	hs_event event = {.kind = redo ? HS_EVENT_REDO : HS_EVENT_ANSWER, .ask = redo ? NULL : id.data, .text = confirms ? "done" : text, .by = "Ines",
	                  .utc = "2026-01-01T09:00:00.000Z", .mono_ms = *now_ms += 1000};
	const hs_playbook *book = hs_engine_playbook(engine);
	size_t steps = book->step_count, suspects = book->suspect_count;
	int points = book->unit.point_count, things = book->unit.openable_count;
	hs_taken taken;
	hs_error error = {0};
	if (!hs_engine_take(engine, &event, &taken, &error))
		fuzz_refused(&error);
	else if (taken == HS_NOT_TAKEN && ask.kind == HS_ASK_ACT)
		CLAIM(book->step_count == steps && book->suspect_count == suspects && book->unit.point_count == points &&
		      book->unit.openable_count == things);
	hs_ask_words words;
	ask_id(engine, &ask, &id);
	hs_engine_words(engine, &ask, &words);
	hs_ask_words_free(&words);
	hs_buf seen;
	hs_buf_init(&seen);
	hs_engine_overview(engine, &seen);
	hs_engine_why(engine, &seen);
	hs_buf_free(&seen);
	hs_buf_free(&id);
}

/* The id of the last ask, after all lines. */
static void play(const hs_kit *kit, char *text, hs_buf *last)
{
	hs_error error = {0};
	hs_engine *engine = hs_engine_new_freehand(NULL, NULL, kit, "Ines", &error);
	int64_t now_ms = 1000;
	CLAIM(engine != NULL);
	hs_engine_open(engine);
	for (size_t i = 0; i < sizeof before / sizeof *before; i++)
		give(engine, before[i], &now_ms);
	int left = 200;
	for (char *line = text, *end; line != NULL && left-- > 0 && !hs_engine_ended(engine); line = end) {
		end = strchr(line, '\n');
		if (end != NULL)
			*end = '\0';
		give(engine, line, &now_ms);
		if (end != NULL)
			*end++ = '\n';
	}
	hs_ask ask;
	ask_id(engine, &ask, last);
	hs_engine_free(engine);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	hs_error error = {0};
	hs_problems problems = {0};
	char *text = fuzz_copy(data, size, true);
	/* An event is text without NUL; the seats and the transcript see to it. */
	if (strlen(text) == size && hs_utf8_valid(text, size)) {
		hs_sources *sources = hs_sources_from_text("kit.lua", kit_text, strlen(kit_text), &error);
		hs_kit *kit = hs_kit_load(sources, HS_PLACES_EXACT, &problems, &error);
		hs_buf once, again;
		hs_buf_init(&once);
		hs_buf_init(&again);
		play(kit, text, &once);
		play(kit, text, &again);
		CLAIM(strcmp(once.data, again.data) == 0);
		hs_buf_free(&once);
		hs_buf_free(&again);
		hs_kit_free(kit);
		hs_sources_free(sources);
		hs_problems_free(&problems);
	}
	free(text);
	return 0;
}
