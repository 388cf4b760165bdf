/* Events to lines: the line of the event itself, and the batch around it. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "rendering.h"

void hs_digits17(hs_buf *out, double value)
{
	char text[64];
	snprintf(text, sizeof text, "%.17g", value);
	/* Whatever the locale puts for the point is the only run of bytes that no number of ours has. */
	bool point = false;
	for (const char *p = text; *p; p++) {
		if (strchr("0123456789+-e", *p)) {
			hs_buf_char(out, *p);
			point = false;
		} else if (!point) {
			hs_buf_char(out, '.');
			point = true;
		}
	}
}

void hs_put_digits(hs_json_writer *writer, const char *key, double value)
{
	if (!isfinite(value)) {
		hs_json_put_null(writer, key);
		return;
	}
	hs_buf text;
	hs_buf_init(&text);
	hs_digits17(&text, value);
	hs_json_put_string(writer, key, text.data);
	hs_buf_free(&text);
}

void hs_put_openables(hs_json_writer *writer, const char *key, const hs_playbook *playbook, uint64_t set)
{
	hs_json_open_array(writer, key);
	for (int i = 0; i < playbook->unit.openable_count; i++)
		if (set >> i & 1)
			hs_json_put_string(writer, NULL, playbook->unit.openables[i].id);
	hs_json_close_array(writer);
}

void hs_line_begin(hs_line *line, hs_lines *lines, const char *kind, const char *event, const char *utc,
                   int64_t mono_ms)
{
	lines->items = hs_grow(lines->items, &lines->room, lines->count + 1, sizeof *lines->items);
	line->out = &lines->items[lines->count++];
	hs_buf_init(line->out);
	hs_json_begin(&line->writer, line->out);
	hs_json_open_object(&line->writer, NULL);
	hs_json_put_string(&line->writer, "kind", kind);
	if (event)
		hs_json_put_string(&line->writer, "event", event);
	hs_json_put_string(&line->writer, "utc", utc);
	hs_json_put_integer(&line->writer, "mono_ms", mono_ms);
}

void hs_line_end(hs_line *line)
{
	hs_json_close_object(&line->writer);
	/* A journal wants the members alone. */
	line->out->length -= 2;
	memmove(line->out->data, line->out->data + 1, line->out->length);
	line->out->data[line->out->length] = '\0';
}

void hs_lines_free(hs_lines *lines)
{
	for (size_t i = 0; i < lines->count; i++)
		hs_buf_free(&lines->items[i]);
	free(lines->items);
	*lines = (hs_lines){0};
}

static const hs_fact *find_fact(const hs_engine *engine, hs_fact_kind kind)
{
	size_t count;
	const hs_fact *facts = hs_engine_facts(engine, &count);
	for (size_t i = 0; i < count; i++)
		if (facts[i].kind == kind)
			return &facts[i];
	return NULL;
}

/* The fact that a line of this event tells itself, so that it gets no line of its own. */
static hs_fact_kind own_fact(hs_event_kind kind)
{
	switch (kind) {
	case HS_EVENT_REDO:
		return HS_SAYS_REDONE;
	case HS_EVENT_NOTE:
		return HS_SAYS_NOTED;
	case HS_EVENT_PAUSE:
		return HS_SAYS_PAUSED;
	case HS_EVENT_RESUME:
		return HS_SAYS_RESUMED;
	default:
		return HS_SAYS_ANSWERED;
	}
}

static const char *event_line_kind(hs_event_kind kind)
{
	switch (kind) {
	case HS_EVENT_NOTE:
		return "noted";
	case HS_EVENT_PAUSE:
		return "paused";
	case HS_EVENT_RESUME:
		return "resumed";
	default:
		return "answered";
	}
}

static void event_line(hs_lines *lines, const hs_engine *engine, const hs_event *event, hs_taken taken)
{
	const hs_fact *answered = find_fact(engine, HS_SAYS_ANSWERED);
	const hs_fact *own = find_fact(engine, own_fact(event->kind));
	bool accepted = taken == HS_TAKEN;
	const char *kind = own || event->kind == HS_EVENT_NOTE ? event_line_kind(event->kind) : "answered";
	hs_line line;
	hs_line_begin(&line, lines, kind, hs_event_name(event->kind), event->utc, event->mono_ms);
	hs_json_writer *w = &line.writer;
	hs_json_put_string(w, "by", event->by ? event->by : "");
	if (event->kind == HS_EVENT_ANSWER)
		hs_json_put_string(w, "ask", event->ask ? event->ask : "");
	hs_json_put_string(w, "text", event->text ? event->text : "");
	if (event->raw && event->kind == HS_EVENT_ANSWER)
		hs_json_put_string(w, "raw", event->raw);
	hs_json_put_bool(w, "accepted", accepted);
	const char *why = answered && answered->why ? answered->why : own ? own->why : NULL;
	if (why && *why)
		hs_json_put_string(w, "why", why);
	if (event->kind == HS_EVENT_REDO && own)
		hs_json_put_string(w, "retracted", own->ask_id);
	if (event->kind == HS_EVENT_PAUSE) {
		hs_json_put_string(w, "power", hs_power_name(hs_engine_power(engine)));
		hs_put_openables(w, "open", hs_engine_playbook(engine), hs_engine_open_list(engine));
	}
	hs_line_end(&line);
}

void hs_lines_event(hs_lines *lines, const hs_engine *engine, const hs_event *event, hs_taken taken)
{
	event_line(lines, engine, event, taken);
	bool own_done = false;
	size_t count;
	const hs_fact *facts = hs_engine_facts(engine, &count);
	for (size_t i = 0; i < count; i++) {
		if (!own_done && facts[i].kind == own_fact(event->kind)) {
			own_done = true;
			continue;
		}
		hs_lines_fact(lines, engine, &facts[i], event->utc, event->mono_ms);
	}
}

void hs_lines_first(hs_lines *lines, const hs_engine *engine, const hs_opening *opening)
{
	size_t count;
	const hs_fact *facts = hs_engine_facts(engine, &count);
	for (size_t i = 0; i < count; i++)
		hs_lines_fact(lines, engine, &facts[i], opening->utc, opening->mono_ms);
}

void hs_lines_repaired(hs_lines *lines, const hs_journal_repaired *repaired, const char *utc, int64_t mono_ms)
{
	hs_line line;
	hs_line_begin(&line, lines, "noted", NULL, utc, mono_ms);
	hs_json_writer *w = &line.writer;
	const char *name = strrchr(repaired->kept, '/');
	hs_json_open_object(w, "repair");
	hs_json_put_integer(w, "line", (long long)repaired->line);
	hs_json_put_integer(w, "offset", (long long)repaired->offset);
	hs_json_put_integer(w, "cut", (long long)repaired->cut);
	hs_json_put_string(w, "sha256", repaired->cut_sha256);
	hs_json_put_string(w, "kept", name ? name + 1 : repaired->kept);
	hs_json_put_string(w, "reason", repaired->reason);
	hs_json_close_object(w);
	hs_line_end(&line);
}

bool hs_lines_commit(const hs_lines *lines, hs_journal *journal, hs_error *error)
{
	for (size_t i = 0; i < lines->count; i++)
		if (!hs_journal_add(journal, lines->items[i].data, error))
			return false;
	return hs_journal_commit(journal, error);
}

bool hs_transcript_begin(hs_journal *journal, hs_engine *engine, const hs_opening *opening, hs_error *error)
{
	hs_lines lines = {0};
	hs_engine_open(engine);
	hs_lines_opened(&lines, opening);
	hs_lines_first(&lines, engine, opening);
	bool fine = hs_lines_commit(&lines, journal, error);
	hs_lines_free(&lines);
	return fine;
}

bool hs_transcript_take(hs_journal *journal, hs_engine *engine, const hs_event *event, hs_taken *taken, hs_error *error)
{
	/* What is not UTF-8 could not be written as it was typed, and would not be read back the same. */
	const char *said[] = {event->text, event->by, event->ask, event->raw};
	for (size_t i = 0; i < sizeof said / sizeof *said; i++)
		if (said[i] && !hs_utf8_valid(said[i], strlen(said[i])))
			return hs_fail(error, HS_BAD_INPUT, "what was typed is not UTF-8 text");
	if (event->text && strlen(event->text) > HS_TYPED_MOST)
		return hs_fail(error, HS_BAD_INPUT, "what was typed has %zu bytes; an answer has at most %d",
		               strlen(event->text), HS_TYPED_MOST);
	if (event->raw && strlen(event->raw) > HS_TYPED_MOST)
		return hs_fail(error, HS_BAD_INPUT, "what the program printed has %zu bytes; at most %d are kept", strlen(event->raw), HS_TYPED_MOST);
	if (!hs_engine_take(engine, event, taken, error))
		return false;
	hs_lines lines = {0};
	hs_lines_event(&lines, engine, event, *taken);
	bool fine = hs_lines_commit(&lines, journal, error);
	hs_lines_free(&lines);
	return fine;
}
