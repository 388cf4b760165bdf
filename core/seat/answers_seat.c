/* A seat that answers from a file, with a clock of its own. */
#include "halfsplit/seat/answers.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/seat/keypad.h"
#include "seat_shown.h"

typedef struct answers_seat {
	hs_seat seat; /* first, so that the one is the other */
	const hs_answers *answers;
	size_t next;
	int64_t now_ms;
	int64_t epoch_utc_ms;
	FILE *out;
	hs_shown shown;
} answers_seat;

#define STEP_MS 1000 /* so that transcripts read as if somebody had typed */

static bool wrong_ask(const answers_seat *self, const hs_answer_line *line, const char *asked, hs_error *error)
{
	hs_fail(error, HS_BAD_INPUT, "The next answer is for %.120s, but %.120s is asked.", line->ask, asked);
	hs_fail_hint(error, "Give an answer to %.120s first.", asked);
	return hs_fail_at(error, self->answers->path, line->line);
}

/* Moves the clock to when this answer comes. */
static bool pass_time(answers_seat *self, const hs_answer_line *line, const hs_ask *ask, hs_error *error)
{
	int64_t now = self->now_ms + STEP_MS;
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
	self->now_ms = earliest > now ? earliest : now;
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
	case HS_INPUT_STOP:
		return "stop";
	case HS_INPUT_ANSWER:
	case HS_INPUT_END:
	case HS_INPUT_INTERRUPT:
		break;
	}
	return "";
}

/* The prompt and what was typed at it. */
static void echo(const answers_seat *self, const hs_ask *ask, const hs_ask_words *words, const hs_answer_line *line)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_screen screen = self->seat.screen;
	screen.now_ms = self->now_ms;
	hs_screen_prompt(&screen, ask, words, &text);
	const char *word = word_of(line->kind);
	hs_buf_printf(&text, "%s%s", word, *word && *line->text ? " " : "");
	hs_buf_shown(&text, line->text, false);
	while (text.length > 0 && text.data[text.length - 1] == ' ')
		text.data[--text.length] = '\0';
	hs_buf_char(&text, '\n');
	if (self->out)
		fputs(text.data, self->out);
	hs_buf_free(&text);
}

static bool ask_answers(hs_seat *seat, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words,
                        hs_input *input, hs_error *error)
{
	answers_seat *self = (answers_seat *)seat;
	const hs_answer_line *line = self->next < self->answers->count ? &self->answers->lines[self->next] : NULL;
	hs_buf asked, text;
	hs_buf_init(&asked);
	hs_buf_init(&text);
	hs_buf_clear(&input->text);
	seat->screen.now_ms = self->now_ms;
	hs_engine_ask_id(engine, ask, &asked);
	if (hs_shown_is_new(&self->shown, engine, asked.data)) {
		seat->screen.brief = hs_shown_caution(&self->shown, ask);
		hs_screen_ask(&seat->screen, engine, ask, words, &text);
	}
	else
		hs_screen_again(&seat->screen, ask, words, &text);
	if (self->out && text.length)
		fputs(text.data, self->out);
	bool good = true;
	if (!line) {
		input->kind = HS_INPUT_END;
		hs_buf_str(&input->text, "end of the answers");
		self->now_ms += STEP_MS;
	} else if (line->kind == HS_INPUT_ANSWER && strcmp(line->ask, asked.data) != 0) {
		good = wrong_ask(self, line, asked.data, error);
	} else if ((good = pass_time(self, line, ask, error))) {
		echo(self, ask, words, line);
		input->kind = line->kind;
		if (line->kind != HS_INPUT_ANSWER || !hs_keypad_means(words, line->text, &input->text))
			hs_buf_str(&input->text, line->text);
		self->next++;
	}
	seat->screen.now_ms = self->now_ms;
	hs_buf_free(&text);
	hs_buf_free(&asked);
	return good;
}

static void show(hs_seat *seat, const char *text)
{
	answers_seat *self = (answers_seat *)seat;
	if (self->out)
		fputs(text, self->out);
}

static int64_t now_mono_ms(hs_seat *seat)
{
	return ((answers_seat *)seat)->now_ms;
}

static int64_t now_utc_ms(hs_seat *seat)
{
	answers_seat *self = (answers_seat *)seat;
	return self->epoch_utc_ms + self->now_ms;
}

static void close_answers(hs_seat *seat)
{
	answers_seat *self = (answers_seat *)seat;
	if (self->out)
		fflush(self->out);
	hs_shown_free(&self->shown);
	free(self);
}

hs_seat *hs_answers_seat(const hs_answers *answers, int64_t epoch_utc_ms, FILE *out)
{
	answers_seat *self = hs_alloc(sizeof *self);
	*self = (answers_seat){
	    .seat = {ask_answers, show, now_mono_ms, now_utc_ms, close_answers, "answers file", true, {.width = 80}, false},
	    .answers = answers,
	    .epoch_utc_ms = epoch_utc_ms,
	    .out = out,
	};
	hs_shown_init(&self->shown);
	return &self->seat;
}

int hs_answers_unused(const hs_seat *seat)
{
	const answers_seat *self = (const answers_seat *)seat;
	return self->next < self->answers->count ? self->answers->lines[self->next].line : 0;
}
