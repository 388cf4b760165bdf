/* Every modelled fault, played: where does it end, and is the suspect named? */
#include <stdlib.h>
#include <string.h>

#include "core/proof/share.h"
#include "halfsplit/model/expect.h"
#include "halfsplit/proof/proof.h"

#define ASKS_MOST     5000 /* of one run */
#define AUDITED_EVERY 1000

typedef struct player {
	const hs_playbook *playbook;
	hs_engine *engine;
	hs_sim *sim;
	void *beginning;
	hs_buf *answers;   /* NULL: nobody wants to read them */
	int asks, steps;
	double minutes;
	int last_step;
} player;

static bool open_player(player *p, const hs_playbook *playbook, hs_error *error)
{
	*p = (player){.playbook = playbook, .engine = hs_engine_new(playbook, "Proof", error)};
	if (p->engine == NULL)
		return false;
	hs_play_begin(p->engine);
	p->sim = hs_sim_new(playbook);
	p->beginning = hs_alloc(hs_walk_size(p->engine));
	hs_walk_save(p->engine, p->beginning);
	return true;
}

static void close_player(player *p)
{
	hs_engine_free(p->engine);
	hs_sim_free(p->sim);
	free(p->beginning);
}

static void count_step(player *p)
{
	int step = hs_engine_step(p->engine);
	if (step < 0 || step == p->last_step)
		return;
	p->last_step = step;
	p->steps++;
	p->minutes += p->playbook->steps[step].minutes;
}

static bool answer_as_text(player *p, const hs_ask *ask, hs_error *error)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_str(&text, "");
	bool good = hs_sim_answer(p->sim, p->engine, ask, &text, error) && hs_play_text(p->engine, ask, text.data, error);
	if (good && p->answers != NULL) {
		hs_engine_ask_id(p->engine, ask, p->answers);
		hs_buf_printf(p->answers, ": %s\n", text.data);
	}
	hs_buf_free(&text);
	return good;
}

static bool one_ask(player *p, const hs_ask *ask, hs_error *error)
{
	hs_entry entry;
	bool good;
	bool number = ask->kind == HS_ASK_READ && !hs_reading_is_word(&p->playbook->steps[ask->step].readings[ask->item]);
	if (number && p->answers == NULL)
		good = hs_sim_reading(p->sim, p->engine, ask, &entry, error) && hs_play_reading(p->engine, ask, &entry, error);
	else if (p->answers != NULL || ask->kind == HS_ASK_READ || ask->kind == HS_ASK_CHOOSE || ask->kind == HS_ASK_ENTRY ||
	         ask->kind == HS_ASK_SHOWN || ask->kind == HS_ASK_STANDS)
		good = answer_as_text(p, ask, error);
	else
		good = hs_play_done(p->engine, ask, error);
	if (good)
		hs_sim_done(p->sim, p->engine, ask);
	return good;
}

/* The finding a run ends at; -1 with *error set when it could not be played to one. */
static int play(player *p, hs_sim_fault fault, uint64_t seed, hs_error *error)
{
	hs_walk_load(p->engine, p->beginning);
	hs_sim_begin(p->sim, fault, seed);
	p->steps = 0;
	p->minutes = 0.0;
	p->last_step = -1;
	for (p->asks = 0; p->asks < ASKS_MOST; p->asks++) {
		count_step(p);
		if (hs_engine_finding(p->engine) >= 0 && p->answers == NULL)
			return hs_engine_finding(p->engine);
		hs_ask ask = hs_engine_next(p->engine);
		if (ask.kind == HS_ASK_NONE)
			break;
		if (!one_ask(p, &ask, error))
			return -1;
	}
	if (hs_engine_finding(p->engine) >= 0)
		return hs_engine_finding(p->engine);
	if (p->asks == ASKS_MOST)
		hs_fail(error, HS_BAD_INPUT, "the run comes to no finding in %d asks", ASKS_MOST);
	else
		hs_fail(error, HS_BAD_INPUT, "the run ends without a finding, as after a stop");
	return -1;
}

static bool names(const hs_step *finding, int suspect)
{
	for (size_t i = 0; i < finding->suspect_count; i++)
		if (finding->suspects[i] == suspect)
			return true;
	return false;
}

/*
 * Of two faults at once one must be named: the other is found when that is mended. A unit in order is rightly found to have nothing. Where its symptom was seen all the same, a tree may come by elimination to a suspect; it
 * is told, and is no mistake.
 */
static bool right(const hs_playbook *playbook, const hs_step *finding, hs_sim_fault fault)
{
	if (fault.suspect < 0 && fault.mode == 0)
		return true;
	int suspects[2], modes[2];
	size_t count = hs_sim_fault_parts(playbook, fault, suspects, modes);
	for (size_t i = 0; i < count; i++)
		if (names(finding, suspects[i]))
			return true;
	return count == 0 && finding->suspect_count == 0;
}

/* What comes back from whoever played a fault: no addresses, because it may have been another process. */
typedef struct played_fault {
	hs_fault_ends ends;
	char file[256];
	size_t at[];
} played_fault;

static void went_wrong(hs_fault_ends *ends, char *file, uint64_t seed, int asks, int finding, const hs_error *error)
{
	/* The shortest of them is the one to be read. */
	if (ends->wrong++ > 0 && asks >= ends->wrong_asks)
		return;
	ends->wrong_asks = asks;
	ends->why[0] = file[0] = '\0';
	ends->wrong_seed = seed;
	ends->wrong_at = finding;
	if (finding >= 0)
		return;
	hs_copy(ends->why, sizeof ends->why, error->message);
	hs_copy(file, 256, error->file);
	ends->where.line = error->line;
}

/* A run once more, as a person would type it: through the asks of a real run, each answer as text. Where it ends; -1: it does not. */
static int typed_again(const hs_playbook *playbook, const char *answers, hs_error *error)
{
	hs_engine *engine = hs_engine_new(playbook, "Proof", error);
	int64_t now_ms = 0;
	bool good = engine != NULL;
	while (good && *answers != '\0') {
		size_t length = strcspn(answers, "\n");
		char *line = hs_alloc(length + 1);
		memcpy(line, answers, length);
		char *text = strstr(line, ": ");
		if (text != NULL)
			*text = '\0';
		hs_ask ask = hs_engine_next(engine);
		now_ms = ask.earliest_ms > now_ms ? ask.earliest_ms : now_ms + 1000;
		hs_event event = {.kind = HS_EVENT_ANSWER, .ask = line, .text = text != NULL ? text + 2 : "", .by = "Proof",
		                  .utc = "2026-01-01T00:00:00.000Z", .mono_ms = now_ms};
		hs_taken taken = HS_NOT_TAKEN;
		good = hs_engine_take(engine, &event, &taken, error) && taken == HS_TAKEN;
		if (!good)
			hs_fail(error, HS_BAD_INPUT, "the same run, typed, is not taken at %.100s", line);
		answers += length + (answers[length] == '\n');
		free(line);
	}
	int finding = good ? hs_engine_finding(engine) : -1;
	hs_engine_free(engine);
	return finding;
}

/* Playing is quicker than a run and must come to the same: one run of a thousand is held against what it says when it is typed. */
static bool holds_typed(player *p, hs_sim_fault fault, uint64_t seed, int finding, hs_error *error)
{
	hs_buf text;
	hs_error inner = {0};
	hs_buf_init(&text);
	hs_buf_str(&text, "");
	p->answers = &text;
	int again = play(p, fault, seed, &inner);
	p->answers = NULL;
	int typed = again == finding ? typed_again(p->playbook, text.data, &inner) : again;
	hs_buf_free(&text);
	if (typed == finding)
		return true;
	hs_fail(error, HS_BAD_INPUT, "played it ends at %.64s, and typed it does not: %.150s", p->playbook->steps[finding].id,
	        typed >= 0 ? p->playbook->steps[typed].id : inner.message);
	return false;
}

static void play_seed(player *p, played_fault *out, uint64_t seed, bool audit)
{
	hs_fault_ends *ends = &out->ends;
	hs_error error = {0};
	int finding = play(p, ends->fault, seed, &error);
	double minutes = p->minutes;
	int steps = p->steps, asks = p->asks;
	if (finding >= 0 && audit && !holds_typed(p, ends->fault, seed, finding, &error))
		finding = -1;
	ends->runs++;
	if (seed == 0)
		ends->nominal = finding;
	ends->minutes += minutes;
	ends->steps += steps;
	ends->worst_minutes = minutes > ends->worst_minutes ? minutes : ends->worst_minutes;
	if (finding >= 0)
		out->at[finding]++;
	if (finding >= 0 && right(p->playbook, &p->playbook->steps[finding], ends->fault)) {
		ends->named++;
		ends->wide += ends->fault.suspect >= 0 && p->playbook->steps[finding].suspect_count > HS_FINDING_MOST;
	} else {
		went_wrong(&out->ends, out->file, seed, asks, finding, &error);
	}
}

typedef struct playing {
	player *player;
	const hs_sim_fault *faults;
	size_t seeds;
	hs_fault_proof *proof;
	hs_proof_progress *progress;
	void *context;
} playing;

static void play_fault(void *context, size_t item, void *result)
{
	playing *all = context;
	played_fault *out = result;
	hs_fault_ends *ends = &out->ends;
	ends->fault = all->faults[item];
	ends->wrong_at = ends->nominal = -1;
	for (size_t i = 0; i < all->seeds + 3; i++) {
		uint64_t seed = i == 0 ? 0 : i == 1 ? HS_SIM_UPPER : i == 2 ? HS_SIM_LOWER : (uint64_t)i - 2;
		play_seed(all->player, out, seed, i % AUDITED_EVERY == 0);
	}
	ends->minutes /= (double)ends->runs;
	ends->steps /= (double)ends->runs;
}

static void keep_fault(void *context, size_t item, const void *result)
{
	playing *all = context;
	hs_fault_proof *proof = all->proof;
	const played_fault *in = result;
	size_t steps = all->player->playbook->step_count + 1;
	size_t *at = hs_arena_alloc(proof->arena, steps * sizeof *at);
	memcpy(at, in->at, steps * sizeof *at);
	proof->faults[item] = in->ends;
	proof->faults[item].at = at;
	proof->faults[item].where.file = in->file[0] != '\0' ? hs_arena_str(proof->arena, in->file) : NULL;
	if (all->progress != NULL)
		all->progress(all->context, item + 1, proof->count - item - 1);
}

static bool is_modelled(const hs_playbook *playbook, size_t suspect, size_t mode)
{
	const hs_suspect *it = &playbook->suspects[suspect];
	return (it->shows != NULL && it->shows[mode].count > 0) || hs_struck_by(playbook, (int)suspect, it->modes[mode], NULL, 0) > 0;
}

static size_t list_faults(const hs_playbook *playbook, const hs_sim_fault *only, hs_sim_fault *faults, size_t *silent)
{
	size_t count = 0;
	if (only != NULL) {
		faults[count++] = *only;
		return count;
	}
	faults[count++] = HS_SIM_IN_ORDER;
	if (playbook->symptom.given)
		faults[count++] = HS_SIM_FALSE_ALARM;
	size_t orderly = count;
	for (size_t i = 0; i < playbook->suspect_count; i++)
		for (size_t mode = 0; mode < playbook->suspects[i].mode_count; mode++) {
			if (is_modelled(playbook, i, mode))
				faults[count++] = (hs_sim_fault){.suspect = (int)i, .mode = (int)mode};
			else
				++*silent;
		}
	for (size_t i = 0; i < playbook->double_count; i++) {
		const hs_double_fault *both = &playbook->doubles[i];
		if (is_modelled(playbook, (size_t)both->suspect[0], (size_t)both->mode[0]) &&
		    is_modelled(playbook, (size_t)both->suspect[1], (size_t)both->mode[1]))
			faults[count++] = (hs_sim_fault){.suspect = both->suspect[0], .mode = both->mode[0], .pair = (int)i + 1};
		else
			++*silent;
	}
	/* Where nothing is modelled, a unit in order says nothing either. */
	return count > orderly ? count : 0;
}

static size_t most_faults(const hs_playbook *playbook)
{
	size_t count = 2 + playbook->double_count;
	for (size_t i = 0; i < playbook->suspect_count; i++)
		count += playbook->suspects[i].mode_count;
	return count;
}

/* Each suspect by its odds, shared by its modes. */
static void sum_up(const hs_playbook *playbook, hs_fault_proof *proof)
{
	double weight = 0.0, minutes = 0.0;
	for (size_t i = 0; i < proof->count; i++) {
		const hs_fault_ends *ends = &proof->faults[i];
		proof->runs += ends->runs;
		proof->wrong += ends->wrong;
		proof->wide += ends->wide;
		proof->worst_minutes = ends->worst_minutes > proof->worst_minutes ? ends->worst_minutes : proof->worst_minutes;
		/* Two at once are told of, and rare: the time to be expected is that of one. */
		if (ends->fault.suspect < 0 || ends->fault.pair > 0)
			continue;
		const hs_suspect *suspect = &playbook->suspects[ends->fault.suspect];
		double share = (double)suspect->odds / (double)suspect->mode_count;
		weight += share;
		minutes += share * ends->minutes;
	}
	proof->expected_minutes = weight > 0.0 ? minutes / weight : 0.0;
}

bool hs_prove_faults(const hs_playbook *playbook, size_t seeds, const hs_sim_fault *only, size_t jobs, hs_proof_progress *progress, void *context,
                     hs_fault_proof *proof, hs_error *error)
{
	player p;
	memset(proof, 0, sizeof *proof);
	if (!open_player(&p, playbook, error))
		return false;
	proof->arena = hs_arena_new();
	hs_sim_fault *faults = hs_arena_alloc(proof->arena, most_faults(playbook) * sizeof *faults);
	proof->count = list_faults(playbook, only, faults, &proof->silent);
	proof->faults = hs_arena_alloc(proof->arena, (proof->count + 1) * sizeof *proof->faults);
	playing all = {&p, faults, seeds, proof, progress, context};
	size_t size = sizeof(played_fault) + (playbook->step_count + 1) * sizeof(size_t);
	bool good = hs_share(proof->count, size, jobs, play_fault, keep_fault, &all, error);
	if (good)
		sum_up(playbook, proof);
	else
		hs_fault_proof_free(proof);
	close_player(&p);
	return good;
}

void hs_fault_proof_free(hs_fault_proof *proof)
{
	hs_arena_free(proof->arena);
	memset(proof, 0, sizeof *proof);
}

bool hs_fault_answers(const hs_playbook *playbook, hs_sim_fault fault, uint64_t seed, hs_buf *out, hs_error *error)
{
	player p;
	hs_error inner = {0};
	if (!open_player(&p, playbook, error))
		return false;
	p.answers = out;
	bool good = play(&p, fault, seed, &inner) >= 0;
	if (!good && error != NULL)
		*error = inner;
	close_player(&p);
	return good;
}
