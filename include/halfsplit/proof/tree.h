/*
 * The fault tree as a picture: every step once, the ways out of it with what leads there, findings at the ends of their ways.
 *
 * One walk lays it out as rows from top to bottom; what goes on from a step's last way stands straight below it, side ways are set in. So a tree
 * of any depth keeps to the width of a page.
 */
#ifndef HALFSPLIT_PROOF_TREE_H
#define HALFSPLIT_PROOF_TREE_H

#include "halfsplit/base/alloc.h"
#include "halfsplit/model/playbook.h"

typedef enum hs_tree_kind {
	HS_TREE_STEP,    /* a step, drawn here */
	HS_TREE_WAY,     /* a way out of it, to the step in the row below */
	HS_TREE_FINDING, /* a way that ends: at a finding */
	HS_TREE_ABOVE,   /* a way to a step that is drawn elsewhere */
	HS_TREE_STOP     /* a way that ends at stop */
} hs_tree_kind;

typedef struct hs_tree_row {
	hs_tree_kind kind;
	int step;           /* the step, or where the way leads; -1: nowhere */
	int from;           /* the step it comes out of; -1: where a run begins */
	int indent;         /* of side ways */
	int parent;         /* the row it hangs from; -1 none */
	const char *label;  /* "low, unsure"; NULL of a step */
	bool taken;         /* a run came this way */
	bool last;          /* of the ways out of its step */
} hs_tree_row;

typedef struct hs_tree {
	const hs_playbook *playbook;
	hs_arena *arena;
	hs_tree_row *rows;
	size_t count, room;
	bool marked;        /* a run was given */
} hs_tree;

/* A move of a run, by ids: from one step (NULL: the beginning) to another. */
typedef struct hs_tree_move {
	const char *from, *to;
} hs_tree_move;

/* Lays out a checked playbook. moves: the way a run took, to be marked; NULL: none. hs_tree_free it. */
void hs_tree_lay_out(hs_tree *tree, const hs_playbook *playbook, const hs_tree_move *moves, size_t move_count);
void hs_tree_free(hs_tree *tree);

void hs_tree_print_text(const hs_tree *tree, hs_buf *out); /* ASCII but for titles; the way taken begins its lines with '*' */
void hs_tree_print_svg(const hs_tree *tree, hs_buf *out);
void hs_tree_print_dot(const hs_tree *tree, hs_buf *out);  /* a graph in the language of graph-drawing programs */

#endif
