#include "unattended.h"

void hs_unattended_ask(hs_unattended *self, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words, const char *ask_id)
{
	hs_screen *screen = &self->seat.screen;
	hs_buf text;
	hs_buf_init(&text);
	screen->now_ms = self->now_ms;
	if (hs_shown_is_new(&self->shown, engine, ask_id)) {
		screen->brief = hs_shown_caution(&self->shown, ask);
		hs_screen_ask(screen, engine, ask, words, &text);
	} else {
		hs_screen_again(screen, ask, words, &text);
	}
	if (self->out && text.length)
		fputs(text.data, self->out);
	hs_buf_free(&text);
}

void hs_unattended_echo(const hs_unattended *self, const hs_ask *ask, const hs_ask_words *words, const char *word, const char *text)
{
	hs_buf line;
	hs_buf_init(&line);
	hs_screen screen = self->seat.screen;
	screen.now_ms = self->now_ms;
	hs_screen_prompt(&screen, ask, words, &line);
	hs_buf_printf(&line, "%s%s", word, *word && *text ? " " : "");
	hs_buf_shown(&line, text, false);
	while (line.length > 0 && line.data[line.length - 1] == ' ')
		line.data[--line.length] = '\0';
	hs_buf_char(&line, '\n');
	if (self->out)
		fputs(line.data, self->out);
	hs_buf_free(&line);
}

static void show(hs_seat *seat, const char *text)
{
	hs_unattended *self = (hs_unattended *)seat;
	if (self->out)
		fputs(text, self->out);
}

static int64_t now_mono_ms(hs_seat *seat)
{
	return ((hs_unattended *)seat)->now_ms;
}

static int64_t now_utc_ms(hs_seat *seat)
{
	hs_unattended *self = (hs_unattended *)seat;
	return self->epoch_utc_ms + self->now_ms;
}

void hs_unattended_begin(hs_unattended *self, const char *name, int64_t epoch_utc_ms, FILE *out)
{
	self->seat = (hs_seat){.show = show, .now_mono_ms = now_mono_ms, .now_utc_ms = now_utc_ms, .name = name, .rehearsal = true,
	                       .screen = {.width = 80}};
	self->now_ms = 0;
	self->epoch_utc_ms = epoch_utc_ms;
	self->out = out;
	hs_shown_init(&self->shown);
}

void hs_unattended_end(hs_unattended *self)
{
	if (self->out)
		fflush(self->out);
	hs_shown_free(&self->shown);
}
