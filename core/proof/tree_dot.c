/* The fault tree as a graph in the language that graph-drawing programs read. */
#include <string.h>

#include "halfsplit/proof/tree.h"

static void quote(hs_buf *out, const char *text)
{
	hs_buf shown;
	hs_buf_init(&shown);
	hs_buf_shown(&shown, text, false);
	hs_buf_char(out, '"');
	for (const char *at = shown.data != NULL ? shown.data : ""; *at != '\0'; at++) {
		if (*at == '"' || *at == '\\')
			hs_buf_char(out, '\\');
		hs_buf_char(out, *at);
	}
	hs_buf_char(out, '"');
	hs_buf_free(&shown);
}

static const char *node_of(const hs_tree *tree, int step, const char *otherwise)
{
	return step >= 0 ? tree->playbook->steps[step].id : otherwise;
}

static void add_edge(const hs_tree *tree, const hs_tree_row *row, hs_buf *out)
{
	hs_buf_str(out, "  ");
	quote(out, node_of(tree, row->from, "begin"));
	hs_buf_str(out, " -> ");
	quote(out, row->kind == HS_TREE_STOP ? "stop" : node_of(tree, row->step, "nowhere"));
	hs_buf_str(out, " [label=");
	quote(out, row->label);
	hs_buf_str(out, row->taken ? ", penwidth=3];\n" : "];\n");
}

void hs_tree_print_dot(const hs_tree *tree, hs_buf *out)
{
	const hs_playbook *playbook = tree->playbook;
	hs_buf_str(out, "digraph ");
	quote(out, playbook->id);
	hs_buf_str(out, " {\n  node [shape=box];\n");
	for (size_t i = 0; i < playbook->step_count; i++) {
		const hs_step *step = &playbook->steps[i];
		hs_buf_str(out, "  ");
		quote(out, step->id);
		hs_buf_str(out, " [label=");
		quote(out, hs_step_title(step));
		hs_buf_str(out, step->kind == HS_STEP_FINDING ? ", peripheries=2];\n" : "];\n");
	}
	for (size_t i = 0; i < tree->count; i++)
		if (tree->rows[i].kind != HS_TREE_STEP)
			add_edge(tree, &tree->rows[i], out);
	hs_buf_str(out, "}\n");
}
