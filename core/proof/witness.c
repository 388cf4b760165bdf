/* The answers file that shows a violation: the ways are known, the numbers are found by trying. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "core/proof/space.h"
#include "halfsplit/base/alloc.h"

#define TRIES_MOST      20000
#define CANDIDATES_MOST 24
#define ASKS_MOST       4000

/* One ask of the way, as the walk saw it. */
typedef struct leg {
	char *ask;         /* its id */
	char *way;         /* "low", a word, "done" */
	bool number;       /* a reading */
	bool has_outcome;
	hs_outcome outcome;
	int step, item;
} leg;

typedef struct trial {
	const hs_playbook *playbook;
	hs_engine *engine;
	leg *legs;
	size_t count, room;
	char **typed; /* one a leg */
	int tries;
	int64_t now_ms;
} trial;

static char *buf_take(hs_buf *buf)
{
	char *text = hs_strdup(buf->data != NULL ? buf->data : "");
	hs_buf_free(buf);
	return text;
}

static void note_leg(trial *t, hs_engine *walker, const hs_ask *ask, int way)
{
	hs_buf id, name;
	hs_buf_init(&id);
	hs_buf_init(&name);
	hs_engine_ask_id(walker, ask, &id);
	hs_walk_way_name(walker, way, &name);
	t->legs = hs_grow(t->legs, &t->room, t->count + 1, sizeof *t->legs);
	leg *it = &t->legs[t->count++];
	memset(it, 0, sizeof *it);
	it->number = ask->kind == HS_ASK_READ;
	it->has_outcome = it->number && hs_walk_way_outcome(walker, way, &it->outcome);
	it->step = ask->step;
	it->item = ask->item;
	if (!it->number && ask->kind != HS_ASK_CHOOSE && ask->kind != HS_ASK_ENTRY && ask->kind != HS_ASK_SHOWN) {
		hs_buf_clear(&name);
		hs_engine_obliging(walker, ask, &name);
	} else if (ask->kind == HS_ASK_SHOWN) {
		int tries = t->playbook->symptom.tries;
		hs_buf_clear(&name);
		hs_buf_printf(&name, "%d of %d", way == 0 ? tries : 0, tries);
	}
	it->ask = buf_take(&id);
	it->way = buf_take(&name);
}

/* Walks the ways once more and notes what is asked on the way; the ask after the last is noted too, without an answer. */
static void note_legs(trial *t, const int *ways, size_t count)
{
	hs_error error = {0};
	hs_engine *walker = hs_engine_new(t->playbook, "Proof", &error);
	if (walker == NULL)
		return;
	hs_walk_begin(walker);
	size_t used = 0;
	for (int guard = 0; guard < ASKS_MOST; guard++) {
		int out = hs_walk_ways(walker);
		if (out == 0 || (out > 1 && used == count))
			break;
		int way = out > 1 ? ways[used++] : 0;
		if (!hs_walk_at_crossroads(walker)) {
			hs_ask ask = hs_engine_next(walker);
			note_leg(t, walker, &ask, way);
		}
		if (!hs_walk_take(walker, way, &error))
			break;
		/* What leads on by itself behind the last way belongs to it; what is asked next does not. */
		if (used == count && count > 0 && !hs_walk_at_crossroads(walker))
			break;
	}
	hs_engine_free(walker);
}

/* ---- numbers ---- */

/* What the instrument shows when the point has this value. */
static double as_shown(const hs_reading *reading, double value)
{
	hs_correction correction;
	hs_error error = {0};
	if (reading->hookup == NULL || !hs_hookup_correct(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, &correction, &error))
		return value;
	double none = hs_correct_reading(&correction, (hs_quantity){0.0, reading->unit}).value;
	double one = hs_correct_reading(&correction, (hs_quantity){1.0, reading->unit}).value;
	return isfinite(none) && isfinite(one) && one != none ? (value - none) / (one - none) : value;
}

static void offer(const hs_reading *reading, double value, char texts[][64], int *count)
{
	if (*count >= CANDIDATES_MOST || !isfinite(value))
		return;
	hs_buf text;
	hs_buf_init(&text);
	hs_quantity_print(&text, (hs_quantity){as_shown(reading, value), reading->unit}, -1);
	hs_copy(texts[(*count)++], 64, text.data);
	hs_buf_free(&text);
}

static void offer_around(const hs_reading *reading, const hs_limits *limits, char texts[][64], int *count)
{
	double low = limits->has_low ? limits->low : limits->high;
	double high = limits->has_high ? limits->high : limits->low;
	double span = high > low ? high - low : fabs(low) > 0.0 ? fabs(low) : 1.0;
	const double values[] = {(low + high) / 2.0, low - span, high + span, low, high, low - 0.01 * span, high + 0.01 * span,
	                         low + 0.01 * span, high - 0.01 * span, low - 10.0 * span, high + 10.0 * span, limits->has_low ? low + span : low / 2.0};
	for (size_t i = 0; i < sizeof values / sizeof *values; i++)
		offer(reading, values[i], texts, count);
}

static int candidates(const trial *t, const leg *it, char texts[][64])
{
	int count = 0;
	const hs_step *step = &t->playbook->steps[it->step];
	const hs_reading *reading = &step->readings[it->item];
	if (it->has_outcome && it->outcome == HS_UNREAD) {
		hs_copy(texts[count++], 64, "not read: it cannot be reached");
		return count;
	}
	static const char *const trends[] = {"steady", "rising", "falling"};
	static const char *const ticks[] = {"yes", "no"};
	for (int i = 0; reading->reads == HS_READS_TREND && i < 3; i++)
		hs_copy(texts[count++], 64, trends[i]);
	for (int i = 0; reading->reads == HS_READS_TICK && i < 2; i++)
		hs_copy(texts[count++], 64, ticks[i]);
	if (count > 0)
		return count;
	if (reading->has_limits)
		offer_around(reading, &reading->limits, texts, &count);
	if (step->derived_limits && (size_t)it->item == step->derive_a)
		offer_around(reading, &step->derive_limit, texts, &count);
	if (reading->has_plausible)
		offer_around(reading, &reading->plausible, texts, &count);
	static const double plain[] = {0.0, 1.0, 10.0, -10.0, 100.0, -50.0};
	for (size_t i = 0; i < sizeof plain / sizeof *plain; i++)
		offer(reading, plain[i], texts, &count);
	if (hs_measurand_is_dead(hs_reading_measurand(reading)) && count < CANDIDATES_MOST)
		hs_copy(texts[count++], 64, "OL");
	return count;
}

/* ---- the run ---- */

typedef enum typed { TYPED, REFUSED, FAILED } typed;

/* FAILED: the engine itself could not go on from there, as when a branch leads nowhere. */
static typed type(trial *t, const leg *it, const char *text)
{
	hs_ask ask = hs_engine_next(t->engine);
	int64_t before = t->now_ms;
	t->now_ms = ask.earliest_ms > t->now_ms ? ask.earliest_ms : t->now_ms + 1000;
	hs_event event = {.kind = HS_EVENT_ANSWER, .ask = it->ask, .text = text, .by = "Proof", .utc = "2026-01-01T00:00:00.000Z", .mono_ms = t->now_ms};
	hs_taken taken = HS_NOT_TAKEN;
	hs_error error = {0};
	bool went_on = hs_engine_take(t->engine, &event, &taken, &error);
	if (went_on && taken == HS_TAKEN)
		return TYPED;
	t->now_ms = before;
	return went_on ? REFUSED : FAILED;
}

static bool stands_at(const trial *t, size_t leg_index)
{
	if (leg_index == t->count)
		return true;
	hs_buf id;
	hs_buf_init(&id);
	hs_ask ask = hs_engine_next(t->engine);
	hs_engine_ask_id(t->engine, &ask, &id);
	bool same = id.data != NULL && strcmp(id.data, t->legs[leg_index].ask) == 0;
	hs_buf_free(&id);
	return same;
}

static bool came_out(const trial *t, const leg *it)
{
	size_t count;
	const hs_fact *facts = hs_engine_facts(t->engine, &count);
	if (!it->has_outcome)
		return true;
	for (size_t i = 0; i < count; i++)
		if (facts[i].kind == HS_SAYS_MOVED && facts[i].step == it->step && facts[i].has_outcome)
			return facts[i].outcome == it->outcome;
	return true;
}

static bool go(trial *t, size_t at)
{
	void *state = hs_alloc(hs_walk_size(t->engine));
	hs_mark mark = hs_engine_mark(t->engine, state);
	int64_t now_ms = t->now_ms;
	char texts[CANDIDATES_MOST][64];
	bool good = at == t->count;
	int offered = 0;
	if (!good && stands_at(t, at)) {
		const leg *it = &t->legs[at];
		offered = it->number ? candidates(t, it, texts) : 1;
		for (int i = 0; !good && i < offered && t->tries < TRIES_MOST; i++) {
			const char *text = it->number ? texts[i] : it->way;
			t->tries++;
			typed how = type(t, it, text);
			/* The last answer of a way that leads nowhere fails: that is what was to be shown. */
			if (how == TYPED ? came_out(t, it) && stands_at(t, at + 1) && go(t, at + 1) : how == FAILED && at + 1 == t->count) {
				t->typed[at] = hs_strdup(text);
				good = true;
			} else {
				hs_engine_back(t->engine, state, mark);
				t->now_ms = now_ms;
			}
		}
	}
	free(state);
	return good;
}

bool hs_witness_write(const hs_playbook *playbook, const int *ways, size_t count, hs_buf *out)
{
	hs_error error = {0};
	trial t = {.playbook = playbook, .engine = hs_engine_new(playbook, "Proof", &error)};
	if (t.engine == NULL)
		return false;
	note_legs(&t, ways, count);
	t.typed = hs_alloc((t.count + 1) * sizeof *t.typed);
	bool good = t.count > 0 && go(&t, 0);
	for (size_t i = 0; i < t.count; i++) {
		if (good)
			hs_buf_printf(out, "%s: %s\n", t.legs[i].ask, t.typed[i] != NULL ? t.typed[i] : "");
		free(t.typed[i]);
		free(t.legs[i].ask);
		free(t.legs[i].way);
	}
	free(t.typed);
	free(t.legs);
	hs_engine_free(t.engine);
	return good;
}
