/* Every modelled fault, played: where does it end, and is the suspect named? */
#include <stdlib.h>
#include <string.h>

#include "halfsplit/model/expect.h"
#include "halfsplit/proof/proof.h"

#define ASKS_MOST 5000 /* of one run */

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

static void went_wrong(hs_fault_ends *ends, uint64_t seed, int finding, const hs_error *error)
{
	if (ends->wrong++ > 0)
		return;
	ends->wrong_seed = seed;
	ends->wrong_at = finding;
	if (finding >= 0)
		return;
	hs_copy(ends->why, sizeof ends->why, error->message);
	ends->where = (hs_where){error->file[0] != '\0' ? error->file : NULL, error->line};
}

static void play_fault(player *p, hs_fault_ends *ends, size_t *at, size_t seeds, hs_arena *arena)
{
	double minutes = 0.0, steps = 0.0;
	ends->wrong_at = ends->nominal = -1;
	for (size_t i = 0; i < seeds + 3; i++) {
		uint64_t seed = i == 0 ? 0 : i == 1 ? HS_SIM_UPPER : i == 2 ? HS_SIM_LOWER : (uint64_t)i - 2;
		hs_error error = {0};
		int finding = play(p, ends->fault, seed, &error);
		ends->runs++;
		if (i == 0)
			ends->nominal = finding;
		minutes += p->minutes;
		steps += p->steps;
		ends->worst_minutes = p->minutes > ends->worst_minutes ? p->minutes : ends->worst_minutes;
		if (finding >= 0)
			at[finding]++;
		if (finding >= 0 && right(p->playbook, &p->playbook->steps[finding], ends->fault)) {
			ends->named++;
			ends->wide += ends->fault.suspect >= 0 && p->playbook->steps[finding].suspect_count > HS_FINDING_MOST;
		} else {
			went_wrong(ends, seed, finding, &error);
			ends->where.file = hs_arena_str(arena, ends->where.file);
		}
	}
	ends->minutes = minutes / (double)ends->runs;
	ends->steps = steps / (double)ends->runs;
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

bool hs_prove_faults(const hs_playbook *playbook, size_t seeds, const hs_sim_fault *only, hs_proof_progress *progress, void *context,
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
	for (size_t i = 0; i < proof->count; i++) {
		size_t *at = hs_arena_alloc(proof->arena, (playbook->step_count + 1) * sizeof *at);
		proof->faults[i].fault = faults[i];
		proof->faults[i].at = at;
		if (progress != NULL)
			progress(context, i, proof->count - i);
		play_fault(&p, &proof->faults[i], at, seeds, proof->arena);
	}
	sum_up(playbook, proof);
	close_player(&p);
	return true;
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
