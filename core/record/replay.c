/* Lines to events: the same fold again, and every derived line compared with the one in the file. */
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "rendering.h"

struct hs_replay {
	hs_replay_make *make;
	void *context;
	hs_arena *arena;
	hs_opening opening;
	hs_lines expected; /* lines the last event causes; those before `next` were seen */
	size_t next;
	hs_lines missing; /* a view of the rest of `expected`, made when asked for */
	hs_replay_result result;
};

hs_replay *hs_replay_new(hs_replay_make *make, void *context)
{
	hs_replay *replay = hs_alloc(sizeof *replay);
	replay->make = make;
	replay->context = context;
	replay->arena = hs_arena_new();
	return replay;
}

void hs_replay_free(hs_replay *replay)
{
	if (!replay)
		return;
	hs_lines_free(&replay->expected);
	hs_arena_free(replay->arena);
	free(replay);
}

static void differs(hs_replay *replay, size_t number, const char *format, ...) __attribute__((format(printf, 3, 4)));
static void differs(hs_replay *replay, size_t number, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	vsnprintf(replay->result.reason, sizeof replay->result.reason, format, args);
	va_end(args);
	replay->result.state = HS_REPLAY_DIFFERS;
	replay->result.bad_line = number;
}

bool hs_line_members(const hs_chain_line *line, const char **members, size_t *length)
{
	char head[64];
	size_t front =
	    (size_t)snprintf(head, sizeof head, "{\"seq\":%zu,\"prev\":\"", line->number - 1) + 64 + strlen("\",");
	size_t back = strlen(",\"hash\":\"") + 64 + strlen("\"}");
	if (line->length < front + back)
		return false;
	*members = line->bytes + front;
	*length = line->length - front - back;
	return true;
}

/* A short, printable stretch of a line around the first byte that differs. */
static void stretch(const char *text, size_t length, size_t at, char out[64])
{
	size_t from = at > 12 ? at - 12 : 0;
	size_t take = length - from < 36 ? length - from : 36;
	memcpy(out, text + from, take);
	out[take] = '\0';
}

/* True when the line is exactly the next one expected; else says what differs. */
static bool matches_expected(hs_replay *replay, const hs_chain_line *line)
{
	const hs_buf *wanted = &replay->expected.items[replay->next];
	const char *members;
	size_t length;
	if (!hs_line_members(line, &members, &length)) {
		differs(replay, line->number, "line %zu is too short to be what the answers cause", line->number);
		return false;
	}
	if (length == wanted->length && memcmp(members, wanted->data, length) == 0)
		return true;
	size_t at = 0;
	while (at < length && at < wanted->length && members[at] == wanted->data[at])
		at++;
	char there[64], here[64];
	stretch(members, length, at, there);
	stretch(wanted->data, wanted->length, at, here);
	differs(replay, line->number,
	        "line %zu does not follow from the answers: it has ...%s..., where ...%s... comes out", line->number,
	        there, here);
	return false;
}

static bool opened(hs_replay *replay, const hs_chain_line *line)
{
	hs_replay_result *result = &replay->result;
	if (!hs_opening_ours(line->root, &result->error)) {
		result->state = HS_REPLAY_FOREIGN;
		snprintf(result->reason, sizeof result->reason, "%s", result->error.message);
		result->bad_line = 1;
		return false;
	}
	if (!hs_opening_read(line->root, replay->arena, &replay->opening, &result->error)) {
		differs(replay, 1, "line 1 cannot be read: %.400s", result->error.message);
		return false;
	}
	result->state = HS_REPLAY_GOOD;
	result->opening = &replay->opening;
	hs_lines_opened(&replay->expected, &replay->opening);
	return matches_expected(replay, line);
}

/* The opening says which playbook it is; its text must say the same. */
static bool same_playbook(hs_replay *replay)
{
	const hs_playbook *playbook = hs_engine_playbook(replay->result.engine);
	const hs_opening *opening = &replay->opening;
	if (strcmp(playbook->id, opening->playbook_id) == 0 && playbook->edition == opening->edition &&
	    strcmp(playbook->title ? playbook->title : "", opening->title ? opening->title : "") == 0)
		return true;
	differs(replay, 1, "line 1 names playbook %s, edition %d, but the text in it is %s, edition %d",
	        opening->playbook_id, opening->edition, playbook->id, playbook->edition);
	return false;
}

static void begin(hs_replay *replay, const hs_chain_line *line)
{
	hs_replay_result *result = &replay->result;
	if (!opened(replay, line))
		return;
	hs_copy(result->last_utc, sizeof result->last_utc, replay->opening.utc);
	result->last_mono_ms = replay->opening.mono_ms;
	result->engine = replay->make(replay->context, &replay->opening, &result->error);
	if (!result->engine) {
		differs(replay, 1, "the playbook and kit in line 1 cannot be used: %.400s", result->error.message);
		return;
	}
	if (!same_playbook(replay))
		return;
	hs_engine_open(result->engine);
	hs_lines_free(&replay->expected);
	replay->next = 0;
	hs_lines_first(&replay->expected, result->engine, &replay->opening);
}

static bool event_kind_find(const char *name, hs_event_kind *kind)
{
	for (int i = HS_EVENT_ANSWER; i <= (int)HS_EVENT_STOP; i++)
		if (strcmp(hs_event_name((hs_event_kind)i), name) == 0) {
			*kind = (hs_event_kind)i;
			return true;
		}
	return false;
}

bool hs_event_read(const hs_json *line, hs_event *event)
{
	*event = (hs_event){0};
	const char *name = hs_json_get_string(line, "event");
	double mono_ms;
	if (!name || !event_kind_find(name, &event->kind) || !hs_json_get_number(line, "mono_ms", &mono_ms) ||
	    !(mono_ms >= -9007199254740992.0 && mono_ms <= 9007199254740992.0))
		return false;
	event->mono_ms = (int64_t)mono_ms;
	event->utc = hs_json_get_string(line, "utc");
	event->by = hs_json_get_string(line, "by");
	event->text = hs_json_get_string(line, "text");
	event->ask = hs_json_get_string(line, "ask");
	event->raw = event->kind == HS_EVENT_ANSWER ? hs_json_get_string(line, "raw") : NULL;
	bool accepted = true;
	if (event->kind == HS_EVENT_ANSWER && hs_json_get_bool(line, "accepted", &accepted) && !accepted)
		event->refused = hs_json_get_string(line, "why");
	return event->utc && event->by && event->text && (event->ask || event->kind != HS_EVENT_ANSWER);
}

/* What no seat can have handed in, whatever the engine makes of it; NULL: nothing. */
static const char *impossible(const hs_replay_result *result, const hs_event *event)
{
	if (!hs_form_utc(event->utc))
		return "its utc is not a time like 2026-01-01T09:00:00.000Z";
	if (event->mono_ms < 0)
		return "its mono_ms is below 0";
	/* A new sitting has a clock of its own. */
	if (event->mono_ms < result->last_mono_ms && event->kind != HS_EVENT_RESUME)
		return "its mono_ms goes back within one sitting";
	if (!hs_name_possible(event->by))
		return "its by is not a name: text that is not blank, without control characters, of at most 120 bytes";
	if (strlen(event->text) > HS_TYPED_MOST || (event->raw && strlen(event->raw) > HS_TYPED_MOST))
		return "its text is longer than an answer can be";
	return NULL;
}

static void fold(hs_replay *replay, const hs_chain_line *line, const hs_event *event)
{
	hs_replay_result *result = &replay->result;
	hs_taken taken;
	const char *why = impossible(result, event);
	if (why) {
		differs(replay, line->number, "line %zu cannot have been written by this program: %s", line->number, why);
		return;
	}
	if (!hs_engine_take(result->engine, event, &taken, &result->error)) {
		differs(replay, line->number, "line %zu cannot have been given there: %.400s", line->number,
		        result->error.message);
		return;
	}
	hs_lines_free(&replay->expected);
	replay->next = 0;
	hs_lines_event(&replay->expected, result->engine, event, taken);
	if (!matches_expected(replay, line))
		return;
	replay->next = 1;
	result->events++;
	if (event->kind == HS_EVENT_ANSWER && taken == HS_TAKEN)
		result->answers++;
	hs_copy(result->last_utc, sizeof result->last_utc, event->utc);
	result->last_mono_ms = event->mono_ms;
	result->closed = hs_engine_ended(result->engine);
	result->paused = hs_engine_paused(result->engine);
}

bool hs_replay_line(void *context, const hs_chain_line *line, hs_error *error)
{
	(void)error;
	hs_replay *replay = context;
	hs_replay_result *result = &replay->result;
	if (result->state == HS_REPLAY_EMPTY) {
		begin(replay, line);
		return true;
	}
	if (result->state != HS_REPLAY_GOOD)
		return true;
	if (hs_json_get(line->root, "repair")) {
		result->repairs++;
		if (!hs_form_repair(line))
			differs(replay, line->number, "line %zu is not a repair as this program tells of one", line->number);
		return true;
	}
	if (replay->next < replay->expected.count) {
		if (matches_expected(replay, line))
			replay->next++;
		return true;
	}
	hs_event event;
	if (!hs_event_read(line->root, &event)) {
		differs(replay, line->number, "line %zu is neither an answer nor a consequence of one", line->number);
		return true;
	}
	fold(replay, line, &event);
	return true;
}

const hs_replay_result *hs_replay_get(hs_replay *replay)
{
	size_t count = replay->expected.count - replay->next;
	/* A difference leaves nothing that could be appended. */
	if (replay->result.state != HS_REPLAY_GOOD || !count)
		replay->missing = (hs_lines){0};
	else
		replay->missing = (hs_lines){replay->expected.items + replay->next, count, 0};
	replay->result.missing = &replay->missing;
	return &replay->result;
}
