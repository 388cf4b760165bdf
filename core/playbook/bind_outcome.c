/* Where the outcomes of a step lead, and what its readings hold through. */
#include <string.h>
#include "names.h"

static const char *const holds_words[] = {"do", "adjust", "opening", "hookup", "energising", "all"};
static const unsigned holds_bits[] = {HS_HOLDS_DO,     HS_HOLDS_ADJUST,   HS_HOLDS_OPENING,
                                      HS_HOLDS_HOOKUP, HS_HOLDS_ENERGISE, HS_HOLDS_ALL};

bool hs_step_judges(const hs_step *step)
{
	if (step->derived_limits || step->has_responds)
		return true;
	for (size_t i = 0; i < step->reading_count; i++)
		if (step->readings[i].has_limits || step->readings[i].limits_by.id >= 0)
			return true;
	return false;
}

static void read_noted(const hs_table *table, hs_step *step)
{
	static const hs_outcome never[] = {HS_LOW, HS_OKAY, HS_HIGH, HS_UNSURE};
	for (size_t i = 0; i < sizeof never / sizeof *never; i++) {
		const char *word = hs_outcome_name(never[i]);
		if (!hs_table_has(table, word))
			continue;
		hs_problem *problem = hs_table_problem(
		    table, word, "the step \"%s\" has no limits, so \"%s\" never comes out", step->id, word);
		hs_problem_hint(problem, "add limits, or say next = \"STEP\"");
		/* Where it leads is known none the less, and must not be missed a second time. */
		hs_read_branch(table, word, &step->branches[HS_OKAY]);
	}
	hs_read_branch(table, "next", &step->branches[HS_OKAY]);
	if (!hs_read_branch(table, "unread", &step->branches[HS_UNREAD]) &&
	    !hs_read_branch(table, "otherwise", &step->branches[HS_UNREAD]))
		step->branches[HS_UNREAD] = step->branches[HS_OKAY];
}

static void read_judged(const hs_table *table, hs_step *step)
{
	hs_branch otherwise;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		hs_read_branch(table, hs_outcome_name((hs_outcome)i), &step->branches[i]);
	if (hs_table_has(table, "next")) {
		hs_problem *problem = hs_table_problem(
		    table, "next", "the step \"%s\" judges, so \"next\" does not say where it leads", step->id);
		hs_problem_hint(problem, "say low, ok, high, unsure and unread, or otherwise for the rest");
	}
	if (!hs_read_branch(table, "otherwise", &otherwise))
		return;
	for (int i = 0; i < HS_OUTCOME_COUNT; i++)
		if (!step->branches[i].target)
			step->branches[i] = otherwise;
}

/* A text that is wrong was complained of already; that it was meant as limits still says which outcomes belong here. */
void hs_read_outcomes(const hs_table *table, hs_step *step, bool meant)
{
	if (meant || hs_step_judges(step))
		read_judged(table, step);
	else
		read_noted(table, step);
}

void hs_read_holds(const hs_table *table, hs_step *step)
{
	size_t count, known = sizeof holds_words / sizeof *holds_words;
	const char **words = hs_table_texts(table, "holds", &count);
	for (size_t i = 0; i < count; i++) {
		size_t w = 0;
		while (w < known && strcmp(words[i], holds_words[w]) != 0)
			w++;
		if (w < known) {
			step->holds |= holds_bits[w];
			continue;
		}
		hs_problem *problem = hs_table_problem(table, hs_table_item(table, "holds", i),
		                                       "\"%s\" is nothing a reading can hold through", words[i]);
		hs_problem_hint(problem, "it is one of do, adjust, opening, hookup, energising, all");
	}
	step->reuse_text = hs_table_text(table, "reuse");
	if (step->reuse_text)
		step->reuse_where = hs_table_where(table, "reuse");
}
