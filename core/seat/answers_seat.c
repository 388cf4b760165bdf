/* A seat that answers from a file. */
#include "halfsplit/seat/answers.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/seat/keypad.h"
#include "unattended.h"

typedef struct answers_seat {
	hs_unattended at; /* first, so that the one is the other */
	const hs_answers *answers;
	size_t next;
} answers_seat;

static bool wrong_ask(const answers_seat *self, const hs_answer_line *line, const char *asked, hs_error *error)
{
	hs_fail(error, HS_BAD_INPUT, "The next answer is for %.120s, but %.120s is asked.", line->ask, asked);
	hs_fail_hint(error, "Give an answer to %.120s first.", asked);
	return hs_fail_at(error, self->answers->path, line->line);
}

/* Moves the clock to when this answer comes. */
static bool pass_time(answers_seat *self, const hs_answer_line *line, const hs_ask *ask, hs_error *error)
{
	int64_t now = self->at.now_ms + HS_UNATTENDED_STEP_MS;
	int64_t earliest = ask->earliest_ms > now && line->kind == HS_INPUT_ANSWER ? ask->earliest_ms : now;
	if (line->timed && line->offset_ms < 0) {
		if (earliest == now) {
			hs_fail(error, HS_BAD_INPUT,
			        "This answer is to come %" PRId64
			        " ms too early, but nothing has to be waited for here.",
			        -line->offset_ms);
			return hs_fail_at(error, self->answers->path, line->line);
		}
		earliest += line->offset_ms;
	} else if (line->timed) {
		earliest += line->offset_ms;
	}
	self->at.now_ms = earliest > now ? earliest : now;
	return true;
}

static const char *word_of(hs_input_kind kind)
{
	switch (kind) {
	case HS_INPUT_HELP:
		return "help";
	case HS_INPUT_WHY:
		return "why";
	case HS_INPUT_SHOW:
		return "show";
	case HS_INPUT_LARGE:
		return "large";
	case HS_INPUT_NOTE:
		return "note";
	case HS_INPUT_REDO:
		return "redo";
	case HS_INPUT_PAUSE:
		return "pause";
	case HS_INPUT_LEAVE:
		return "leave";
	case HS_INPUT_HANDOVER:
		return "handover";
	case HS_INPUT_STOP:
		return "stop";
	case HS_INPUT_ANSWER:
	case HS_INPUT_END:
	case HS_INPUT_INTERRUPT:
		break;
	}
	return "";
}

/* Whoever writes the file sees how its next line must begin. */
static void tell_next(const answers_seat *self, const char *asked)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_str(&text, "  the next line of the answers would begin with ");
	hs_buf_shown(&text, asked, false);
	hs_buf_str(&text, ":\n");
	if (self->at.out)
		fputs(text.data, self->at.out);
	hs_buf_free(&text);
}

static bool ask_answers(hs_seat *seat, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words,
                        hs_input *input, hs_error *error)
{
	answers_seat *self = (answers_seat *)seat;
	const hs_answer_line *line = self->next < self->answers->count ? &self->answers->lines[self->next] : NULL;
	hs_buf asked;
	hs_buf_init(&asked);
	hs_buf_clear(&input->text);
	hs_engine_ask_id(engine, ask, &asked);
	hs_unattended_ask(&self->at, engine, ask, words, asked.data);
	bool good = true;
	if (!line) {
		input->kind = HS_INPUT_END;
		hs_buf_str(&input->text, "end of the answers");
		tell_next(self, asked.data);
		self->at.now_ms += HS_UNATTENDED_STEP_MS;
	} else if (line->kind == HS_INPUT_ANSWER && strcmp(line->ask, asked.data) != 0) {
		good = wrong_ask(self, line, asked.data, error);
	} else if ((good = pass_time(self, line, ask, error))) {
		hs_unattended_echo(&self->at, ask, words, word_of(line->kind), line->text);
		input->kind = line->kind;
		if (line->kind != HS_INPUT_ANSWER || !hs_keypad_means(words, line->text, &input->text))
			hs_buf_str(&input->text, line->text);
		self->next++;
	}
	seat->screen.now_ms = self->at.now_ms;
	hs_buf_free(&asked);
	return good;
}

static void close_answers(hs_seat *seat)
{
	hs_unattended_end((hs_unattended *)seat);
	free(seat);
}

hs_seat *hs_answers_seat(const hs_answers *answers, int64_t epoch_utc_ms, FILE *out)
{
	answers_seat *self = hs_alloc(sizeof *self);
	hs_unattended_begin(&self->at, "answers file", epoch_utc_ms, out);
	self->at.seat.ask = ask_answers;
	self->at.seat.close = close_answers;
	self->answers = answers;
	return &self->at.seat;
}

int hs_answers_unused(const hs_seat *seat)
{
	const answers_seat *self = (const answers_seat *)seat;
	return self->next < self->answers->count ? self->answers->lines[self->next].line : 0;
}
