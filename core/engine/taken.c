/* Readings that a program took: what of its output is the reading, and which asks may be answered so. */
#include "core/engine/state.h"

#include <stdlib.h>
#include <string.h>

enum { LINE_MOST = 200 };

static bool has_control(const char *text)
{
	for (const char *p = text; *p; p++) {
		unsigned char byte = (unsigned char)*p, next = (unsigned char)p[1];
		if (byte < 0x20 || byte == 0x7f || (byte == 0xc2 && next >= 0x80 && next <= 0x9f))
			return true;
	}
	return false;
}

bool hs_raw_line(const char *raw, hs_buf *line, hs_error *error)
{
	char *copy = hs_strdup(raw), *rest = NULL, *only = NULL;
	size_t lines = 0;
	for (char *at = strtok_r(copy, "\n", &rest); at != NULL; at = strtok_r(NULL, "\n", &rest)) {
		at = hs_trim(at);
		if (*at == '\0')
			continue;
		only = at;
		lines++;
	}
	bool good = false;
	if (!hs_utf8_valid(raw, strlen(raw)))
		hs_fail(error, HS_BAD_INPUT, "it is not UTF-8 text");
	else if (lines != 1)
		hs_fail(error, HS_BAD_INPUT, lines == 0 ? "nothing was printed" : "%zu lines were printed, and one was wanted", lines);
	else if (strlen(only) > LINE_MOST || has_control(only))
		hs_fail(error, HS_BAD_INPUT, has_control(only) ? "its line holds control characters" : "its line is too long");
	else
		good = true;
	if (good)
		hs_buf_str(line, only);
	free(copy);
	return good;
}

const hs_part *hs_engine_program(const hs_engine *engine, const hs_ask *ask)
{
	if (ask->kind != HS_ASK_READ || ask->step < 0)
		return NULL;
	const hs_reading *reading = &engine->playbook->steps[ask->step].readings[ask->item];
	const hs_part *instrument = reading->hookup != NULL && !hs_reading_is_word(reading) ? reading->hookup->instrument : NULL;
	return instrument != NULL && instrument->program_count > 0 ? instrument : NULL;
}

bool hs_taken_fits(const hs_engine *engine, const hs_ask *ask, const hs_event *event, hs_error *error)
{
	hs_buf line;
	hs_error why = {0};
	if (event->raw == NULL)
		return true;
	if (hs_engine_program(engine, ask) == NULL)
		return hs_fail(error, HS_BAD_INPUT, "A program is said to have answered, and the kit names none that could have.");
	hs_buf_init(&line);
	bool same = hs_raw_line(event->raw, &line, &why) && event->text != NULL && strcmp(line.data, event->text) == 0;
	hs_buf_free(&line);
	return same || hs_fail(error, HS_BAD_INPUT, "What a program is said to have printed is not the answer it is said to have given.");
}
