/* Acts about suspects: named, settled by what was read or seen last, and the finding. */
#include "core/engine/free.h"

#include <string.h>
#include <strings.h>

static bool refuse(hs_buf *why, const char *sentence)
{
	hs_buf_str(why, sentence);
	return false;
}

static bool of_title(const hs_suspect *suspect, const char *name)
{
	size_t length = strlen(name);
	return strncasecmp(suspect->id, name, length) == 0 || (suspect->title != NULL && strncasecmp(suspect->title, name, length) == 0);
}

/* "bias" for the bias regulator, or a slip of the keys. */
static const char *near_suspect(hs_engine *engine, const char *name)
{
	const hs_playbook *book = engine->playbook;
	const char **known = hs_arena_alloc(engine->turn, (book->suspect_count + 1) * sizeof *known);
	for (size_t i = 0; i < book->suspect_count; i++) {
		known[i] = book->suspects[i].id;
		if (of_title(&book->suspects[i], name))
			return known[i];
	}
	return hs_nearest(name, known, book->suspect_count);
}

/* The suspects named, each with a word about it in `why` when it cannot be; -1 ends the list. */
static bool each_suspect(hs_engine *engine, const char *list, bool add, int *out, size_t *count, hs_buf *why)
{
	char *rest = NULL;
	*count = 0;
	for (char *item = strtok_r(hs_arena_str(engine->turn, list), ",", &rest); item != NULL; item = strtok_r(NULL, ",", &rest)) {
		const char *name = hs_trim(item);
		char slug[64];
		if (*count == 64 || !hs_free_slug(name, slug) || strlen(name) > 60) {
			hs_buf_printf(why, "\"%.60s\" cannot be the name of a suspect; a part or a few plain words are wanted, with commas between several.", name);
			return false;
		}
		int found = hs_free_suspect(engine, name, add);
		if (found < 0) {
			const char *near = near_suspect(engine, name);
			hs_buf_printf(why, "%.60s is not among the suspects;", name);
			if (near != NULL)
				hs_buf_printf(why, " did you mean %s? If not,", near);
			hs_buf_printf(why, " name it first: suspect %.60s.", name);
			return false;
		}
		out[(*count)++] = found;
	}
	return *count > 0 || refuse(why, "Name at least one suspect, with commas between several.");
}

bool hs_free_take_suspect(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	(void)failed, (void)error;
	int named[64];
	size_t count, before = engine->playbook->suspect_count;
	if (!each_suspect(engine, rest, true, named, &count, why)) {
		engine->free->book.suspect_count = before;
		return false;
	}
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < count; i++) {
		hs_state_suspects(engine, engine->state)[named[i]] = (hs_suspect_state){HS_SUSPECT_OPEN, -1};
		hs_buf_printf(&text, "%s%s", i > 0 ? ", " : "suspected: ", hs_suspect_title(&engine->playbook->suspects[named[i]]));
	}
	hs_free_note(engine, text.data);
	hs_buf_free(&text);
	return true;
}

static bool stand(hs_engine *engine, const char *rest, bool clear, hs_buf *why)
{
	int named[64];
	size_t count;
	int evidence = engine->state->hand.evidence;
	if (!each_suspect(engine, rest, false, named, &count, why))
		return false;
	if (evidence < 0)
		return refuse(why, clear ? "Nothing has been read or seen yet that could clear anything." : "Nothing has been read or seen yet that could point at anything.");
	hs_branch *branch = hs_arena_alloc(engine->turn, sizeof *branch);
	int *list = hs_arena_alloc(engine->turn, count * sizeof *list);
	memcpy(list, named, count * sizeof *list);
	*branch = (hs_branch){.target = "free", .to = 0};
	*(clear ? &branch->clears : &branch->implicates) = list;
	*(clear ? &branch->clear_count : &branch->implicate_count) = count;
	hs_course_stand(engine, branch, evidence, NULL);
	return true;
}

bool hs_free_take_clear(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	(void)failed, (void)error;
	return stand(engine, rest, true, why);
}

bool hs_free_take_blame(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	(void)failed, (void)error;
	return stand(engine, rest, false, why);
}

/* What was seen is evidence like a reading. */
bool hs_free_take_saw(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	(void)failed, (void)error;
	if (*rest == '\0')
		return refuse(why, "What was seen belongs to it: saw R5 burnt.");
	hs_step step = hs_free_blank(HS_STEP_TELL);
	step.title = step.text = hs_arena_str(engine->arena, rest);
	int index = hs_free_append(engine, &step);
	hs_state_visits(engine, engine->state)[index].visits = 1;
	engine->state->hand.evidence = index;
	hs_course_stand(engine, &engine->playbook->steps[index].branches[HS_OKAY], index, engine->playbook->steps[index].text);
	return true;
}

static bool among(const int *list, size_t count, int suspect)
{
	for (size_t i = 0; i < count; i++)
		if (list[i] == suspect)
			return true;
	return false;
}

/* What the finding does not name and nothing has settled. */
static const char *left_open(hs_engine *engine, const int *named, size_t count)
{
	const hs_playbook *book = engine->playbook;
	static const struct { hs_standing standing; const char *words; } rows[] = {
		{HS_SUSPECT_IMPLICATED, "implicated, and not named here: "}, {HS_SUSPECT_OPEN, "suspected, neither cleared nor implicated: "}};
	hs_buf text;
	hs_buf_init(&text);
	for (size_t row = 0; row < 2; row++) {
		const char *lead = rows[row].words, *between = text.length > 0 ? "; " : "";
		for (size_t i = 0; i < book->suspect_count; i++) {
			if (hs_state_suspects(engine, engine->state)[i].standing != rows[row].standing || among(named, count, (int)i))
				continue;
			hs_buf_printf(&text, "%s%s%s", between, lead, hs_suspect_title(&book->suspects[i]));
			lead = "";
			between = ", ";
		}
	}
	const char *kept = text.length > 0 ? hs_arena_str(engine->arena, text.data) : "nothing that was suspected";
	hs_buf_free(&text);
	return kept;
}

/* A finding does not contradict the record: what was cleared is blamed first, on what speaks against it. */
static bool none_cleared(hs_engine *engine, const int *named, size_t count, hs_buf *why)
{
	for (size_t i = 0; i < count; i++) {
		if (hs_state_suspects(engine, engine->state)[named[i]].standing != HS_SUSPECT_CLEARED)
			continue;
		const char *id = engine->playbook->suspects[named[i]].id;
		hs_buf_printf(why, "%s was cleared in this run, so it cannot be what was found; if it is after all, say first: blame %s.", id, id);
		return false;
	}
	return true;
}

/* Whoever else is implicated is found too, or cleared first. */
static bool none_else(hs_engine *engine, const int *named, size_t count, hs_buf *why)
{
	for (size_t i = 0; i < engine->playbook->suspect_count; i++) {
		const hs_suspect_state *state = &hs_state_suspects(engine, engine->state)[i];
		if (state->standing != HS_SUSPECT_IMPLICATED || among(named, count, (int)i))
			continue;
		const char *id = engine->playbook->suspects[i].id;
		const char *by = state->by_step >= 0 ? hs_step_title(&engine->playbook->steps[state->by_step]) : "what was read";
		hs_buf_printf(why, "%s is implicated by \"%.80s\", so it belongs to what was found; name it too, or say first: clear %s.", id, by, id);
		return false;
	}
	return true;
}

/* "find q3: dead, drain shorted to chassis", "find nothing: power is there". */
bool hs_free_take_find(hs_engine *engine, const char *rest, hs_buf *why, bool *failed, hs_error *error)
{
	char *names = hs_arena_str(engine->turn, rest);
	char *proof = strchr(names, ':');
	int named[64];
	size_t count = 0;
	if (proof != NULL)
		*proof++ = '\0';
	names = hs_trim(names);
	bool nothing = hs_same_word(names, "nothing") || hs_same_word(names, "none");
	if (*names == '\0')
		return refuse(why, "What was found belongs to it: find q3: no drain current, or find nothing: the power is there.");
	size_t before = engine->playbook->suspect_count;
	bool strict = !engine->quiet && !engine->free->old;
	if (!nothing && !each_suspect(engine, names, !strict, named, &count, why)) {
		engine->free->book.suspect_count = before;
		return false;
	}
	if (!nothing && !engine->quiet && !none_cleared(engine, named, count, why))
		return false;
	if (strict && !none_else(engine, named, count, why))
		return false;
	if (strict && (proof == NULL || *hs_trim(proof) == '\0')) {
		hs_buf_printf(why, "What proves it belongs to a finding: find %.80s: what was read or seen that shows it.", names);
		return false;
	}
	hs_step step = hs_free_blank(HS_STEP_FINDING);
	int *list = hs_arena_alloc(engine->arena, (count + 1) * sizeof *list);
	memcpy(list, named, count * sizeof *list);
	step.suspects = list;
	step.suspect_count = count;
	step.not_separated = count > 1;
	step.title = nothing ? "No fault found" : hs_arena_printf(engine->arena, "Found: %s", names);
	step.proof = proof != NULL && *hs_trim(proof) != '\0' ? hs_arena_str(engine->arena, hs_trim(proof)) : NULL;
	step.not_tested = left_open(engine, named, count);
	return hs_free_take_step(engine, &step, why, failed, error);
}
