/* prove --draw: the tree of a playbook, and on it the way a run took. */
#include <stdlib.h>
#include <string.h>
#include "halfsplit/proof/tree.h"
#include "made.h"
#include "past.h"
#include "prove_draw.h"

typedef struct way {
	hs_arena *arena;
	hs_tree_move *moves;
	size_t count, room;
	const char *playbook; /* as the transcript has it */
	bool rehearsal;
} way;

static bool on_line(void *context, const hs_chain_line *line, hs_error *error)
{
	way *w = context;
	const char *kind = hs_json_get_string(line->root, "kind");
	(void)error;
	if (kind != NULL && strcmp(kind, "opened") == 0)
		w->playbook = hs_arena_str(w->arena, hs_json_get_string(line->root, "playbook"));
	if (kind == NULL || strcmp(kind, "moved") != 0)
		return true;
	const char *to = hs_json_get_string(line->root, "to");
	if (to == NULL)
		return true;
	w->moves = hs_grow(w->moves, &w->room, w->count + 1, sizeof *w->moves);
	w->moves[w->count++] =
	    (hs_tree_move){hs_arena_str(w->arena, hs_json_get_string(line->root, "from")), hs_arena_str(w->arena, to)};
	return true;
}

static bool read_way(way *w, const char *path, const hs_playbook *playbook, hs_error *error)
{
	hs_past past;
	hs_chain chain;
	if (!hs_past_read(&past, path, error))
		return false;
	bool fine = hs_past_holds_together(&past, "drawn", error) &&
	            hs_chain_check(past.data.data, past.data.length, on_line, w, &chain, error);
	hs_past_free(&past);
	if (!fine || (w->playbook != NULL && strcmp(w->playbook, playbook->id) == 0))
		return fine;
	hs_fail(error, HS_BAD_INPUT, "this is a run of %.120s, and %.120s is drawn", w->playbook != NULL ? w->playbook : "no playbook", playbook->id);
	return hs_fail_at(error, path, 0);
}

static bool ends_in(const char *text, const char *tail)
{
	size_t length = strlen(text), wanted = strlen(tail);
	return length > wanted && strcmp(text + length - wanted, tail) == 0;
}

static bool write_it(const char *path, const hs_buf *text, hs_error *error)
{
	bool fine = hs_write_new(path, text->data, error);
	if (fine)
		hs_say_made(path);
	return fine;
}

static bool draw(const hs_tree *tree, const char *where, hs_error *error)
{
	hs_buf out;
	hs_buf_init(&out);
	bool fine = true;
	if (strcmp(where, "text") == 0) {
		hs_tree_print_text(tree, &out);
		hs_cli_print(&out);
	} else if (ends_in(where, ".svg")) {
		hs_tree_print_svg(tree, &out);
		fine = write_it(where, &out, error);
	} else if (ends_in(where, ".dot")) {
		hs_tree_print_dot(tree, &out);
		fine = write_it(where, &out, error);
	} else {
		hs_fail(error, HS_BAD_INPUT, "--draw %.80s says no kind of drawing", where);
		fine = hs_fail_hint(error, "name a file that ends in .svg or .dot, or say --draw text");
	}
	hs_buf_free(&out);
	return fine;
}

bool hs_prove_draw(const hs_playbook *playbook, const char *where, const char *transcript, hs_error *error)
{
	way w = {.arena = hs_arena_new()};
	hs_tree tree;
	bool fine = transcript == NULL || read_way(&w, transcript, playbook, error);
	if (fine) {
		hs_tree_lay_out(&tree, playbook, transcript != NULL ? w.moves : NULL, w.count);
		fine = draw(&tree, where, error);
		hs_tree_free(&tree);
	}
	free(w.moves);
	hs_arena_free(w.arena);
	return fine;
}
