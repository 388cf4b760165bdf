/* A seat that answers as a unit with a fault would have a person answer. */
#include "halfsplit/seat/simulated.h"

#include <stdlib.h>
#include "halfsplit/base/alloc.h"
#include "unattended.h"

typedef struct simulated_seat {
	hs_unattended at; /* first, so that the one is the other */
	hs_sim *sim;
	bool answered;
	hs_ask last;      /* what was answered, when `answered` */
	hs_buf last_id, last_text;
	size_t answers;   /* taken before that */
} simulated_seat;

/* The engine asks again only when it did not take what was answered; the unit would show the same again, for ever. */
static bool was_taken(simulated_seat *self, const hs_engine *engine, hs_error *error)
{
	if (!self->answered)
		return true;
	if (hs_engine_answers(engine) > self->answers) {
		hs_sim_done(self->sim, engine, &self->last);
		return true;
	}
	hs_fail(error, HS_BAD_INPUT, "The simulated unit has \"%.60s\" typed at %.120s, and that is not taken there.", self->last_text.data,
	        self->last_id.data);
	return hs_fail_hint(error, "Say in the playbook what is seen there: shows = { MODE = { ... } }, or healthy { ... }.");
}

static bool give(simulated_seat *self, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words, hs_error *error)
{
	hs_buf_clear(&self->last_text);
	hs_buf_str(&self->last_text, "");
	if (!hs_sim_answer(self->sim, engine, ask, &self->last_text, error))
		return false;
	int64_t now = self->at.now_ms + HS_UNATTENDED_STEP_MS;
	self->at.now_ms = ask->earliest_ms > now ? ask->earliest_ms : now;
	hs_unattended_echo(&self->at, ask, words, "", self->last_text.data);
	self->answered = true;
	self->last = *ask;
	self->answers = hs_engine_answers(engine);
	return true;
}

static bool ask_simulated(hs_seat *seat, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words, hs_input *input,
                          hs_error *error)
{
	simulated_seat *self = (simulated_seat *)seat;
	if (!was_taken(self, engine, error))
		return false;
	hs_buf_clear(&self->last_id);
	hs_engine_ask_id(engine, ask, &self->last_id);
	hs_unattended_ask(&self->at, engine, ask, words, self->last_id.data);
	if (!give(self, engine, ask, words, error))
		return false;
	input->kind = HS_INPUT_ANSWER;
	hs_buf_clear(&input->text);
	hs_buf_str(&input->text, self->last_text.data);
	seat->screen.now_ms = self->at.now_ms;
	return true;
}

static void close_simulated(hs_seat *seat)
{
	simulated_seat *self = (simulated_seat *)seat;
	hs_unattended_end(&self->at);
	hs_sim_free(self->sim);
	hs_buf_free(&self->last_id);
	hs_buf_free(&self->last_text);
	free(self);
}

hs_seat *hs_simulated_seat(const hs_playbook *playbook, hs_sim_fault fault, uint64_t seed, int64_t epoch_utc_ms, FILE *out)
{
	simulated_seat *self = hs_alloc(sizeof *self);
	hs_unattended_begin(&self->at, "simulated unit", epoch_utc_ms, out);
	self->at.seat.ask = ask_simulated;
	self->at.seat.close = close_simulated;
	self->sim = hs_sim_new(playbook);
	hs_sim_begin(self->sim, fault, seed);
	hs_buf_init(&self->last_id);
	hs_buf_init(&self->last_text);
	return &self->at.seat;
}
