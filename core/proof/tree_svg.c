/*
 * The fault tree as a drawing, from top to bottom like the text: boxes for steps, a line down the left of each, ways out of it with their words.
 * What a run took is drawn thick.
 */
#include <string.h>

#include "halfsplit/proof/tree.h"

enum { LEFT = 30, STEP_IN = 36, ROW = 26, BOX = 22, TOP = 56, WIDTH = 1000 };

static void add_text(hs_buf *out, int x, int y, const char *class, const char *text)
{
	hs_buf shown;
	hs_buf_init(&shown);
	hs_buf_shown(&shown, text, false);
	hs_buf_printf(out, "<text x=\"%d\" y=\"%d\" class=\"%s\">", x, y, class);
	for (const char *at = shown.data != NULL ? shown.data : ""; *at != '\0'; at++) {
		if (*at == '<')
			hs_buf_str(out, "&lt;");
		else if (*at == '&')
			hs_buf_str(out, "&amp;");
		else if (*at == '>')
			hs_buf_str(out, "&gt;");
		else
			hs_buf_char(out, *at);
	}
	hs_buf_str(out, "</text>\n");
	hs_buf_free(&shown);
}

static int x_of(const hs_tree_row *row)
{
	return LEFT + STEP_IN * row->indent;
}

static int y_of(size_t row)
{
	return TOP + ROW * (int)row;
}

/* About 7.5 units a letter: the fonts of a page are not known here. */
static int width_of(const char *text)
{
	return 20 + (int)(hs_text_columns(text) * 15 / 2);
}

static void add_box(const hs_tree *tree, const hs_tree_row *row, int x, int y, hs_buf *out)
{
	const hs_playbook *playbook = tree->playbook;
	const hs_step *step = &playbook->steps[row->step];
	hs_buf words;
	hs_buf_init(&words);
	hs_buf_str(&words, hs_step_title(step));
	for (size_t i = 0; row->kind == HS_TREE_FINDING && i < step->suspect_count; i++)
		hs_buf_printf(&words, "%s%s", i == 0 ? ": " : ", ", playbook->suspects[step->suspects[i]].id);
	hs_buf_printf(out, "<rect x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\" rx=\"%d\" class=\"%s%s\"/>\n", x, y, width_of(words.data), BOX,
	              row->kind == HS_TREE_FINDING ? 11 : 0, row->kind == HS_TREE_FINDING ? "found" : "box", row->taken ? " taken" : "");
	add_text(out, x + 10, y + 16, "name", words.data);
	hs_buf_free(&words);
}

/* The line from the row a way hangs from down to it, and a little to the right. */
static void add_line(const hs_tree_row *row, size_t at, hs_buf *out)
{
	int x = x_of(row) + 8, y = y_of(at) + BOX / 2;
	int from = row->parent >= 0 ? y_of((size_t)row->parent) + BOX : TOP - 8;
	bool straight = row->kind == HS_TREE_WAY && row->last;
	hs_buf_printf(out, "<path d=\"M%d %d V%d%s\" class=\"line%s\"/>\n", x, from, straight ? y_of(at + 1) : y, straight ? "" : " h14",
	              row->taken ? " taken" : "");
}

static void add_elsewhere(const hs_tree *tree, const hs_tree_row *row, int x, int y, hs_buf *out)
{
	hs_buf words;
	hs_buf_init(&words);
	hs_buf_printf(&words, "to: %s", row->step >= 0 ? hs_step_title(&tree->playbook->steps[row->step]) : "nowhere");
	add_text(out, x, y, "word", words.data);
	hs_buf_free(&words);
}

static void add_row(const hs_tree *tree, size_t at, hs_buf *out)
{
	const hs_tree_row *row = &tree->rows[at];
	int x = x_of(row), y = y_of(at);
	if (row->kind == HS_TREE_STEP) {
		add_box(tree, row, x, y, out);
		return;
	}
	add_line(row, at, out);
	add_text(out, x + 26, y + 16, "word", row->label);
	int right = x + 32 + width_of(row->label) - 14;
	if (row->kind == HS_TREE_FINDING)
		add_box(tree, row, right, y, out);
	else if (row->kind == HS_TREE_STOP)
		add_text(out, right, y + 16, "name", "stop: power first");
	else if (row->kind == HS_TREE_ABOVE)
		add_elsewhere(tree, row, right, y + 16, out);
}

void hs_tree_print_svg(const hs_tree *tree, hs_buf *out)
{
	int height = y_of(tree->count) + 20;
	hs_buf_printf(out, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" width=\"%d\" height=\"%d\" role=\"img\">\n", WIDTH, height, WIDTH,
	              height);
	hs_buf_str(out, "<style>\n"
	                ".paper{fill:#fff}.line{fill:none;stroke:#555;stroke-width:1.5}.box{fill:#fff;stroke:#111;stroke-width:1.5}\n"
	                ".found{fill:#eef3ea;stroke:#111;stroke-width:1.5}.taken{stroke:#a03000;stroke-width:4}\n"
	                "text{font-family:sans-serif;font-size:13px;fill:#111}.word{font-style:italic}.big{font-size:18px;font-weight:bold}\n"
	                "@media print{.taken{stroke:#000}}\n"
	                "</style>\n");
	hs_buf_printf(out, "<rect class=\"paper\" width=\"%d\" height=\"%d\"/>\n", WIDTH, height);
	add_text(out, LEFT, 30, "big", tree->playbook->title != NULL ? tree->playbook->title : tree->playbook->id);
	for (size_t i = 0; i < tree->count; i++)
		add_row(tree, i, out);
	hs_buf_str(out, "</svg>\n");
}
