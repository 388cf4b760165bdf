/* What an event led to, one short paragraph a fact. */
#include "screen_facts.h"

#include <string.h>

/* "low, so next: ", "\"lit\", so next: ", "next: ". */
static void print_reason(hs_buf *out, const hs_fact *fact, const char *target)
{
	if (fact->has_outcome)
		hs_buf_printf(out, "%s, so ", hs_outcome_name(fact->outcome));
	else if (fact->word && strcmp(fact->word, "done") != 0 && strcmp(fact->word, target) != 0)
		hs_buf_printf(out, "%s, so ", fact->word);
}

#define TITLED_MOST 3 /* of more suspects the ids alone are quicker to take in; `show` has the titles */

static void print_suspects(hs_buf *out, const hs_playbook *playbook, const int *list, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		hs_buf_str(out, i == 0 ? "" : ", ");
		hs_lines_named(out, playbook->suspects[list[i]].id,
		               count <= TITLED_MOST ? playbook->suspects[list[i]].title : NULL);
	}
}

static void add_moved(const hs_screen *screen, const hs_playbook *playbook, const hs_fact *fact, hs_buf *out)
{
	if (fact->to < 0)
		return;
	const hs_step *to = &playbook->steps[fact->to];
	hs_buf line;
	hs_buf_init(&line);
	/* Freehand, what is next is the person's to say. */
	if (to->kind != HS_STEP_BENCH) {
		print_reason(&line, fact, to->id);
		hs_buf_str(&line, to->kind == HS_STEP_FINDING ? "the search ends: " : "next: ");
		hs_lines_named(&line, to->id, to->title);
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "", line.data);
	}
	if (fact->branch && fact->branch->clear_count > 0) {
		hs_buf_clear(&line);
		print_suspects(&line, playbook, fact->branch->clears, fact->branch->clear_count);
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "cleared: ", line.data);
	}
	if (fact->branch && fact->branch->implicate_count > 0) {
		hs_buf_clear(&line);
		print_suspects(&line, playbook, fact->branch->implicates, fact->branch->implicate_count);
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "implicated: ", line.data);
	}
	hs_buf_free(&line);
}

/* After suspects fell: how many are left, by name as long as the list is short. */
static void add_left(const hs_screen *screen, const hs_engine *engine, hs_buf *out)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	hs_buf names;
	hs_buf_init(&names);
	size_t open = 0, implicated = 0;
	for (size_t i = 0; i < playbook->suspect_count; i++) {
		int by;
		hs_standing standing = hs_engine_suspect(engine, i, &by);
		implicated += standing == HS_SUSPECT_IMPLICATED;
		if (standing != HS_SUSPECT_OPEN)
			continue;
		hs_buf_printf(&names, "%s%s", open ? ", " : ": ", playbook->suspects[i].id);
		open++;
	}
	if (hs_engine_is_freehand(engine) && implicated > 0)
		hs_lines_printf(out, screen, HS_STYLE_DIM, 2, "%zu suspects: %zu implicated, %zu cleared, %zu still open%s", playbook->suspect_count,
		                implicated, playbook->suspect_count - implicated - open, open, open <= 8 ? names.data : "");
	else
		hs_lines_printf(out, screen, HS_STYLE_DIM, 2, "%zu of %zu suspects still open%s", open, playbook->suspect_count,
	                open <= 8 ? names.data : "");
	hs_buf_free(&names);
}

/* The power state was set back by what happened, not by a gate; the engine names the cause in a word or two. */
static const char *void_words(const char *why)
{
	if (strcmp(why, "stop") == 0)
		return "Stop. Cut the power first, at the plug if you can reach it safely; type later.";
	if (strcmp(why, "long break") == 0)
		return "After so long a break nothing is trusted about the power; it is confirmed anew.";
	return why;
}

static void add_gate(const hs_screen *screen, const hs_engine *engine, const hs_fact *fact, hs_buf *out)
{
	if (fact->why && *fact->why)
		hs_lines_one(out, screen, HS_STYLE_CARE, 2, "", void_words(fact->why));
	if (fact->before == fact->after)
		return;
	hs_buf now;
	hs_buf_init(&now);
	/* The zones belong to the state as it is now; a state that was passed on the way has its name only. */
	if (fact->after == hs_engine_power(engine))
		hs_engine_power_words(engine, &now);
	else
		hs_buf_str(&now, hs_power_name(fact->after));
	hs_lines_printf(out, screen, HS_STYLE_PLAIN, 2, "power: %s, was %s", now.data, hs_power_name(fact->before));
	hs_buf_free(&now);
}

static void add_opened(const hs_screen *screen, const hs_playbook *playbook, const hs_fact *fact, hs_buf *out)
{
	if (fact->item < 0)
		return;
	const hs_openable *thing = &playbook->unit.openables[fact->item];
	hs_buf line;
	hs_buf_init(&line);
	hs_lines_named(&line, thing->id, thing->title);
	hs_buf_printf(&line, ": %s", hs_openable_name(thing->kind));
	if (thing->fixings)
		hs_buf_printf(&line, ", %s", thing->fixings);
	if (thing->torque && fact->kind == HS_SAYS_CLOSED_UP)
		hs_buf_printf(&line, ", %s", thing->torque);
	hs_lines_one(out, screen, HS_STYLE_PLAIN, 2,
	             fact->kind == HS_SAYS_OPENED ? "on the open list: " : "off the open list: ", line.data);
	hs_buf_free(&line);
}

/* "Paused after leave: going home." The reason is somebody's own sentence and ends as they ended it. */
static void add_paused(const hs_screen *screen, const hs_engine *engine, const hs_fact *fact, hs_buf *out)
{
	bool plain = !fact->why || !*fact->why || strcmp(fact->why, "pause") == 0;
	bool reason = fact->text && *fact->text;
	hs_lines_printf(out, screen, HS_STYLE_PLAIN, 2, "Paused%s%s%s%s", plain ? "" : " after ",
	                plain ? "" : fact->why, reason ? ": " : ".", reason ? fact->text : "");
	hs_screen_left(screen, engine, out);
}

/* Why a run ends, where the engine says it in one word. */
static void add_ended(const hs_screen *screen, const hs_engine *engine, const hs_fact *fact, hs_buf *out)
{
	bool found = fact->why && strcmp(fact->why, "finding") == 0;
	hs_buf_char(out, '\n');
	hs_lines_printf(out, screen, HS_STYLE_HEADING, 0, "The run is closed%s%s", found || !fact->why ? "" : ": ",
	                found || !fact->why ? "" : fact->why);
	hs_screen_left(screen, engine, out);
}

static void say(const hs_screen *screen, hs_style style, const char *lead, const char *text, hs_buf *out)
{
	hs_lines_one(out, screen, style, 2, lead, text ? text : "");
}

static void add_set_aside(const hs_screen *screen, const hs_fact *fact, hs_buf *out)
{
	hs_lines_printf(out, screen, HS_STYLE_DIM, 2, "set aside: %s: %s", fact->ask_id ? fact->ask_id : "",
	                fact->text ? fact->text : "");
}

/* Freehand an id says nothing to whoever typed the line: the line does. */
static void add_redone(const hs_screen *screen, const hs_engine *engine, const hs_fact *fact, hs_buf *out)
{
	const char *text = fact->text ? fact->text : "";
	if (!hs_engine_is_freehand(engine) || !*text) {
		say(screen, HS_STYLE_PLAIN, "taken back: ", fact->ask_id, out);
		return;
	}
	hs_buf line;
	hs_buf_init(&line);
	hs_buf_printf(&line, "%.*s (%s)", (int)strcspn(text, "\n"), text, fact->ask_id);
	say(screen, HS_STYLE_PLAIN, "taken back: ", line.data, out);
	hs_buf_free(&line);
}

/* Facts that are one sentence. */
static void add_sentence(const hs_screen *screen, const hs_engine *engine, const hs_fact *fact, hs_buf *out)
{
	switch (fact->kind) {
	case HS_SAYS_ANSWERED:
		if (!fact->accepted)
			say(screen, HS_STYLE_CARE, "", fact->why && *fact->why ? fact->why : "Not accepted.", out);
		return;
	case HS_SAYS_NOTED:
		say(screen, HS_STYLE_DIM, "noted: ", fact->text, out);
		return;
	case HS_SAYS_REDONE:
		add_redone(screen, engine, fact, out);
		return;
	case HS_SAYS_SET_ASIDE:
		add_set_aside(screen, fact, out);
		return;
	case HS_SAYS_WARNED:
		say(screen, HS_STYLE_CARE, "Mind: ", fact->why, out);
		return;
	case HS_SAYS_RESUMED:
		say(screen, HS_STYLE_PLAIN, "",
		    "Going on. The power state counts as unknown until it is confirmed anew.", out);
		return;
	default: /* shown elsewhere, or not at all */
		return;
	}
}

static void add_fact(const hs_screen *screen, const hs_engine *engine, const hs_fact *fact, hs_buf *out)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	switch (fact->kind) {
	case HS_SAYS_CORRECTED:
		if (fact->measure)
			hs_show_corrected(screen, fact, out);
		return;
	case HS_SAYS_JUDGED:
		if (fact->measure)
			hs_show_judged(screen, playbook, fact, out);
		return;
	case HS_SAYS_MOVED:
		add_moved(screen, playbook, fact, out);
		return;
	case HS_SAYS_GATE:
		add_gate(screen, engine, fact, out);
		return;
	case HS_SAYS_OPENED:
	case HS_SAYS_CLOSED_UP:
		add_opened(screen, playbook, fact, out);
		return;
	case HS_SAYS_PAUSED:
		add_paused(screen, engine, fact, out);
		return;
	case HS_SAYS_ENDED:
		add_ended(screen, engine, fact, out);
		return;
	case HS_SAYS_FINDING:
		if (fact->step >= 0)
			hs_show_finding(screen, engine, fact->step, out);
		return;
	default:
		add_sentence(screen, engine, fact, out);
		return;
	}
}

void hs_screen_facts(const hs_screen *screen, const hs_engine *engine, const hs_fact *facts, size_t count, hs_buf *out)
{
	bool fell = false;
	for (size_t i = 0; i < count; i++) {
		const hs_fact *fact = &facts[i];
		if (fact->kind == HS_SAYS_FINDING)
			fell = false; /* the page says it all */
		add_fact(screen, engine, fact, out);
		if (fact->kind == HS_SAYS_MOVED && fact->branch)
			fell = fell || fact->branch->clear_count > 0 || fact->branch->implicate_count > 0;
	}
	if (fell)
		add_left(screen, engine, out);
}
