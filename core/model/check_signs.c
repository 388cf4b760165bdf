/* What a unit in order shows, and what it shows with each fault: where that is seen, and whether it can be seen there. */
#include <stdlib.h>
#include <string.h>
#include "check.h"

static int reading_named(const hs_step *step, const char *name, size_t length)
{
	for (size_t i = 0; i < step->reading_count; i++)
		if (strlen(step->readings[i].name) == length && strncmp(step->readings[i].name, name, length) == 0)
			return (int)i;
	return -1;
}

/* Finds what the target is; false when there is no such thing. */
static bool find_target(const hs_check *check, hs_sign *shown)
{
	const hs_playbook *book = check->book;
	if (strcmp(shown->target, "intake/shown") == 0 || strcmp(shown->target, "intake/entry") == 0) {
		shown->at = shown->target[7] == 's' ? HS_SIGN_SYMPTOM : HS_SIGN_ENTRY;
		return true;
	}
	shown->step = hs_playbook_step(book, shown->target);
	if (shown->step >= 0) {
		shown->at = HS_SIGN_STEP;
		return true;
	}
	const char *slash = strrchr(shown->target, '/');
	for (size_t i = 0; slash != NULL && i < book->step_count; i++) {
		size_t length = (size_t)(slash - shown->target);
		if (strlen(book->steps[i].id) != length || strncmp(book->steps[i].id, shown->target, length) != 0)
			continue;
		shown->item = reading_named(&book->steps[i], slash + 1, strlen(slash + 1));
		shown->step = shown->item >= 0 ? (int)i : -1;
		shown->at = shown->item >= 0 ? HS_SIGN_STEP : HS_SIGN_NOWHERE;
		return shown->item >= 0;
	}
	shown->point = hs_unit_point(&book->unit, shown->target);
	shown->at = shown->point >= 0 ? HS_SIGN_POINT : HS_SIGN_NOWHERE;
	return shown->point >= 0;
}

static void refuse_target(hs_check *check, const hs_sign *shown)
{
	const hs_bench_unit *unit = &check->book->unit;
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, shown->where,
	                                     "\"%s\" is no step, no reading of a step and no point, so nothing shows there", shown->target);
	size_t count = check->book->step_count;
	const char **known = hs_alloc((count + (size_t)unit->point_count + 1) * sizeof *known);
	for (size_t i = 0; i < count; i++)
		known[i] = check->book->steps[i].id;
	for (int i = 0; i < unit->point_count; i++)
		known[count++] = unit->points[i].id;
	const char *nearest = hs_nearest(shown->target, known, count);
	if (nearest != NULL)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	free(known);
}

static bool word_of(const hs_choice *choices, size_t count, const char *word)
{
	for (size_t i = 0; i < count; i++)
		if (hs_same_word(choices[i].word, word))
			return true;
	return false;
}

static void check_word(hs_check *check, const hs_sign *shown, const hs_choice *choices, size_t count, const char *where)
{
	if (word_of(choices, count, shown->text))
		return;
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, shown->text_where, "\"%s\" is no answer of %s", shown->text, where);
	const char *known[64];
	size_t offered = count < 64 ? count : 64;
	for (size_t i = 0; i < offered; i++)
		known[i] = choices[i].word;
	const char *nearest = hs_nearest(shown->text, known, offered);
	if (nearest != NULL)
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
	else if (offered > 0)
		hs_problem_hint(problem, "its first answer is \"%s\"", known[0]);
}

static void check_value(hs_check *check, const hs_sign *shown, const hs_reading *reading)
{
	hs_entry entry;
	hs_error error = {0};
	hs_limits band;
	if (hs_reading_is_word(reading) || hs_entry_read(shown->text, reading->unit, &entry, &error) ||
	    (strchr(shown->text, '/') != NULL && hs_limits_read(shown->text, reading->unit, &band, &error)))
		return;
	hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, shown->text_where, "\"%s\" cannot be read there: %s", shown->text, error.message);
	hs_problem_hint(problem, "write a value in %s, or what the meter shows: \"OL\", \"open\"", hs_unit_name(reading->unit));
}

static void check_step(hs_check *check, const hs_sign *shown)
{
	const hs_step *step = &check->book->steps[shown->step];
	if (step->kind == HS_STEP_LOOK) {
		check_word(check, shown, step->choices, step->choice_count, step->id);
		return;
	}
	if (step->reading_count == 0) {
		hs_problem *problem = hs_problem_add(check->problems, HS_ERROR, shown->where, "\"%s\" is a %s step, where nothing is seen or read",
		                                     step->id, hs_step_kind_name(step->kind));
		hs_problem_hint(problem, "name a step that reads or looks, or a point");
		return;
	}
	check_value(check, shown, &step->readings[shown->item >= 0 ? shown->item : 0]);
}

static void check_one(hs_check *check, hs_sign *shown)
{
	const hs_playbook *book = check->book;
	if (!find_target(check, shown)) {
		refuse_target(check, shown);
		return;
	}
	if (shown->at == HS_SIGN_STEP)
		check_step(check, shown);
	else if (shown->at == HS_SIGN_ENTRY)
		check_word(check, shown, book->entries, book->entry_count, "the entries of this playbook");
}

static void check_signs(hs_check *check, const hs_signs *signs)
{
	/* The model is still being finished here: targets are found, as those of branches are. */
	for (size_t i = 0; i < signs->count; i++)
		check_one(check, &signs->items[i]);
}

void hs_check_signs(hs_check *check)
{
	hs_playbook *book = check->book;
	check_signs(check, &book->healthy);
	for (size_t i = 0; i < book->suspect_count; i++)
		for (size_t mode = 0; book->suspects[i].shows != NULL && mode < book->suspects[i].mode_count; mode++)
			check_signs(check, &book->suspects[i].shows[mode]);
}
