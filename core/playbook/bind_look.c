/* What is seen and not measured: look, with words to choose from, and compare, whose words are always the same. */
#include <string.h>
#include "names.h"

static const char *const answer_words[] = {"stop", "again", "to", "clears", "implicates", "counts"};

enum { ANSWERS_MOST = 24 };

static void read_answer(const hs_table *list, const char *key, hs_step *step, hs_choice *choice)
{
	hs_table sub = hs_table_sub(list, key, false);
	if (sub.index == 0)
		return;
	hs_table_known(&sub, "an answer", 2, (hs_words[]){HS_WORDS(answer_words)}, 1);
	choice->word = hs_table_text(&sub, "[1]");
	choice->text = hs_table_text(&sub, "[2]");
	choice->stop = hs_table_flag(&sub, "stop");
	choice->again.to = -1;
	hs_read_branch_fields(&sub, &choice->branch, !choice->stop);
	hs_read_branch(&sub, "again", &choice->again);
	if (choice->stop && choice->again.target)
		hs_table_problem(&sub, "again",
		                 "an answer that stops the run leads nowhere, the second time as the first");
	if (!choice->word) {
		hs_table_problem(&sub, NULL, "this answer has no word to be typed");
	} else if (hs_build_good_id(list->build, choice->word, "word", hs_table_where(&sub, "[1]"))) {
		for (size_t i = 0; i < step->choice_count; i++)
			if (hs_same_word(step->choices[i].word, choice->word))
				hs_table_problem(&sub, "[1]", "the step \"%s\" has two answers \"%s\"", step->id,
				                 choice->word);
		step->choice_count++;
	}
	hs_table_done(&sub);
}

void hs_read_look(const hs_table *table, hs_step *step)
{
	step->text = hs_table_text(table, "look");
	hs_table list = hs_table_sub(table, "answers", false);
	size_t count = hs_table_length(&list);
	hs_table_known(&list, "a row of answers", HS_ANY_LENGTH, NULL, 0);
	hs_choice *choices = hs_arena_alloc(table->build->arena, count * sizeof *choices);
	step->choices = choices;
	for (size_t i = 0; i < count; i++)
		read_answer(&list, hs_key_at(&list, i + 1), step, &choices[step->choice_count]);
	if (count > ANSWERS_MOST)
		hs_table_problem(table, "answers", "the step \"%s\" has %zu answers, and at most %d can be offered",
		                 step->id, count, ANSWERS_MOST);
	hs_table_done(&list);
	if (count > 0)
		return;
	hs_problem *problem = hs_table_problem(table, "look", "the look step \"%s\" offers no answers", step->id);
	hs_problem_hint(problem, "add answers = { { \"lit\", \"what it looks like\", to = \"STEP\" }, ... }");
}

void hs_read_compare(const hs_table *table, hs_step *step)
{
	static const struct {
		const char *word, *key;
	} rows[] = {{"same", "same"}, {"different", "different"}, {"cannot tell", "unclear"}};
	hs_choice *choices = hs_arena_alloc(table->build->arena, sizeof rows / sizeof *rows * sizeof *choices);
	step->text = hs_table_text(table, "compare");
	step->choices = choices;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		choices[i] = (hs_choice){.word = rows[i].word, .again = {.to = -1}, .branch = {.to = -1}};
		step->choice_count++;
		if (hs_read_branch(table, rows[i].key, &choices[i].branch) || hs_table_has(table, rows[i].key))
			continue;
		hs_problem *problem = hs_table_problem(
		    table, NULL, "the compare step \"%s\" does not say where \"%s\" leads", step->id, rows[i].word);
		hs_problem_hint(problem, "add %s = \"STEP\"", rows[i].key);
	}
}
