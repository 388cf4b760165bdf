/* The fault tree as lines of text. */
#include <string.h>

#include "halfsplit/proof/tree.h"

static void say(hs_buf *out, const char *text)
{
	hs_buf_shown(out, text, false);
}

static void say_suspects(const hs_playbook *playbook, const hs_step *finding, hs_buf *out)
{
	for (size_t i = 0; i < finding->suspect_count; i++) {
		hs_buf_str(out, i == 0 ? ": " : ", ");
		say(out, playbook->suspects[finding->suspects[i]].id);
	}
	if (finding->suspect_count == 0)
		hs_buf_str(out, ": no suspect");
	if (finding->not_separated)
		hs_buf_str(out, " (not separated)");
}

static void add_margin(const hs_tree *tree, const hs_tree_row *row, hs_buf *out)
{
	if (tree->marked)
		hs_buf_str(out, row->taken ? "* " : "  ");
	for (int i = 0; i < row->indent; i++)
		hs_buf_str(out, "|  ");
}

static void add_way(const hs_tree *tree, const hs_tree_row *row, hs_buf *out)
{
	const hs_playbook *playbook = tree->playbook;
	hs_buf_str(out, row->kind != HS_TREE_WAY || !row->last ? "|- " : *row->label != '\0' ? "| " : "|");
	say(out, row->label);
	if (row->kind == HS_TREE_WAY)
		return;
	hs_buf_str(out, *row->label != '\0' ? " --> " : "--> ");
	if (row->kind == HS_TREE_STOP)
		hs_buf_str(out, "stop: power first");
	else if (row->step < 0)
		hs_buf_str(out, "nowhere");
	else
		say(out, playbook->steps[row->step].id);
	if (row->kind == HS_TREE_FINDING)
		say_suspects(playbook, &playbook->steps[row->step], out);
	else if (row->kind == HS_TREE_ABOVE)
		hs_buf_str(out, " (drawn once)");
}

void hs_tree_print_text(const hs_tree *tree, hs_buf *out)
{
	for (size_t i = 0; i < tree->count; i++) {
		const hs_tree_row *row = &tree->rows[i];
		add_margin(tree, row, out);
		if (row->kind == HS_TREE_STEP) {
			const hs_step *step = &tree->playbook->steps[row->step];
			hs_buf_str(out, "o ");
			say(out, step->id);
			if (step->title != NULL) {
				hs_buf_str(out, "  ");
				say(out, step->title);
			}
		} else {
			add_way(tree, row, out);
		}
		hs_buf_char(out, '\n');
	}
}
