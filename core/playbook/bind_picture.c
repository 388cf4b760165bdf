/* picture "ID" { file = ..., marks = { ... } } and chain "ID" { "J1", "a1", ... }: what shows where one is. */
#include <lauxlib.h>
#include <string.h>
#include "halfsplit/playbook/sources.h"
#include "names.h"

static const char *const picture_words[] = {"file", "title", "marks"};
static const char *const chain_words[] = {"title"};

enum { MARKS_MOST = 128, LINKS_MOST = 64 };

static int index_of(const hs_playbook *book, const char *id)
{
	for (size_t i = 0; i < book->picture_count; i++)
		if (strcmp(book->pictures[i].id, id) == 0)
			return (int)i;
	return -1;
}

static int mark_of(const hs_picture *picture, const char *id)
{
	for (size_t i = 0; i < picture->mark_count; i++)
		if (strcmp(picture->marks[i].id, id) == 0)
			return (int)i;
	return -1;
}

static bool is_svg(const char *text)
{
	const char *start = text + strspn(text, " \t\n");
	return (strncmp(start, "<?xml", 5) == 0 || strncmp(start, "<svg", 4) == 0 || strncmp(start, "<!--", 4) == 0) &&
	       strstr(text, "<svg") && strstr(text, "</svg>");
}

/* An element with this id, in either kind of quotes. */
static bool has_element(const char *text, const char *id)
{
	size_t length = strlen(id);
	for (const char *at = text; (at = strstr(at, "id=")) != NULL; at += 3) {
		char quote = at[3];
		bool attribute = at > text && strchr(" \t\n", at[-1]);
		if (attribute && (quote == '"' || quote == '\'') && strncmp(at + 4, id, length) == 0 && at[4 + length] == quote)
			return true;
	}
	return false;
}

static void read_marks(const hs_table *table, hs_picture *picture, const char *svg)
{
	hs_table sub = hs_table_sub(table, "marks", false);
	size_t count = 0;
	if (sub.index == 0)
		return;
	const char **names = hs_table_keys(&sub, &count);
	if (count > MARKS_MOST)
		hs_table_problem(table, "marks", "the picture \"%s\" has %zu marks, and at most %d are kept", picture->id, count, MARKS_MOST);
	picture->marks = hs_arena_alloc(table->build->arena, (count + 1) * sizeof *picture->marks);
	for (size_t i = 0; i < count && i < MARKS_MOST; i++) {
		hs_picture_mark *mark = &picture->marks[picture->mark_count];
		*mark = (hs_picture_mark){.id = names[i], .words = hs_table_text(&sub, names[i])};
		if (!mark->words || !hs_build_good_id(table->build, names[i], "mark", hs_table_where(&sub, names[i])))
			continue;
		picture->mark_count++;
		if (*svg && !has_element(svg, names[i])) {
			hs_problem *problem = hs_table_problem(&sub, names[i], "the picture %s has nothing marked \"%s\"", picture->file, names[i]);
			hs_problem_hint(problem, "give its element there id=\"%s\"", names[i]);
		}
	}
	hs_table_done(&sub);
}

/* The picture's text; "" when it is not there, is no picture, or when only its digest is kept. */
static const char *open_file(const hs_table *table, hs_picture *picture)
{
	picture->file = hs_table_text(table, "file");
	if (!picture->file) {
		if (!hs_table_has(table, "file"))
			hs_table_problem(table, NULL, "the picture \"%s\" does not say its file", picture->id);
		return "";
	}
	if (!hs_source_is_picture(picture->file)) {
		hs_problem *problem = hs_table_problem(table, "file", "\"%s\" is no picture: an SVG file was wanted", picture->file);
		hs_problem_hint(problem, "its name ends in .svg");
		return "";
	}
	hs_error error = {0};
	const hs_source *source = hs_sources_open(table->build->sources, picture->file, HS_SOURCE_TABLE, &error);
	if (!source) {
		hs_problem *problem = hs_table_problem(table, "file", "%s", error.message);
		if (error.hint[0])
			hs_problem_hint(problem, "%s", error.hint);
		return "";
	}
	picture->sha256 = hs_arena_str(table->build->arena, source->sha256);
	if (source->text_length == 0 || is_svg(source->text))
		return source->text;
	hs_problem *problem = hs_table_problem(table, "file", "%s is not SVG: it holds no <svg ...> ... </svg>", picture->file);
	hs_problem_hint(problem, "save it as plain SVG");
	return "";
}

static void read_picture(hs_build *build, lua_State *L, const hs_decl *decl)
{
	hs_playbook *book = build->playbook;
	hs_where where = hs_decl_where(build, decl, "");
	if (!hs_build_good_id(build, decl->id ? decl->id : "", "picture", where))
		return;
	int twin = index_of(book, decl->id);
	if (twin >= 0) {
		hs_build_problem(build, HS_ERROR, where, "the picture \"%s\" is declared twice; the other stands in line %d of %s", decl->id,
		                 book->pictures[twin].where.line, book->pictures[twin].where.file);
		return;
	}
	hs_picture *picture = &book->pictures[book->picture_count++];
	*picture = (hs_picture){.id = decl->id, .where = where};
	hs_table table = hs_table_of(build, L, decl);
	hs_table_known(&table, "a picture", decl->skip, (hs_words[]){HS_WORDS(picture_words)}, 1);
	picture->title = hs_table_text(&table, "title");
	read_marks(&table, picture, open_file(&table, picture));
	hs_table_done(&table);
}

static bool is_declared(const hs_playbook *book, const char *name)
{
	for (int i = 0; i < book->unit.point_count; i++)
		if (strcmp(book->unit.points[i].id, name) == 0)
			return true;
	return hs_playbook_suspect(book, name) >= 0;
}

static void read_links(const hs_table *table, hs_drawn_chain *chain)
{
	hs_build *build = table->build;
	const hs_playbook *book = build->playbook;
	size_t count = hs_table_length(table), skip = table->decl->skip;
	const char **known = hs_arena_alloc(build->arena, ((size_t)book->unit.point_count + book->suspect_count + 1) * sizeof *known);
	size_t known_count = 0;
	for (int i = 0; i < book->unit.point_count; i++)
		known[known_count++] = book->unit.points[i].id;
	for (size_t i = 0; i < book->suspect_count; i++)
		known[known_count++] = book->suspects[i].id;
	const char **links = hs_arena_alloc(build->arena, (count + 1) * sizeof *links);
	chain->links = links;
	for (size_t i = skip + 1; i <= count; i++) {
		const char *key = hs_key_at(table, i), *name = hs_table_text(table, key);
		if (name && !is_declared(book, name)) {
			hs_problem *problem = hs_table_problem(table, key, "\"%s\" in the chain \"%s\" is neither a point nor a suspect", name, chain->id);
			hs_build_nearest(build, problem, name, known, known_count);
		}
		if (name)
			links[chain->link_count++] = name;
	}
	if (chain->link_count < 2 || chain->link_count > LINKS_MOST)
		hs_table_problem(table, NULL, "the chain \"%s\" names %zu points and suspects, and 2 to %d were wanted", chain->id,
		                 chain->link_count, LINKS_MOST);
}

static void read_chain(hs_build *build, lua_State *L, const hs_decl *decl)
{
	hs_playbook *book = build->playbook;
	hs_where where = hs_decl_where(build, decl, "");
	if (!hs_build_good_id(build, decl->id ? decl->id : "", "chain", where))
		return;
	for (size_t i = 0; i < book->chain_count; i++)
		if (strcmp(book->chains[i].id, decl->id) == 0) {
			hs_build_problem(build, HS_ERROR, where, "the chain \"%s\" is declared twice", decl->id);
			return;
		}
	hs_drawn_chain *chain = &book->chains[book->chain_count++];
	*chain = (hs_drawn_chain){.id = decl->id};
	hs_table table = hs_table_of(build, L, decl);
	hs_table_known(&table, "a chain", HS_ANY_LENGTH, (hs_words[]){HS_WORDS(chain_words)}, 1);
	chain->title = hs_table_text(&table, "title");
	read_links(&table, chain);
	hs_table_done(&table);
}

void hs_bind_pictures(hs_build *build, lua_State *L)
{
	hs_playbook *book = build->playbook;
	book->pictures = hs_arena_alloc(build->arena, (hs_build_count(build, "picture") + 1) * sizeof *book->pictures);
	book->chains = hs_arena_alloc(build->arena, (hs_build_count(build, "chain") + 1) * sizeof *book->chains);
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (decl->ref == LUA_NOREF)
			continue;
		if (strcmp(decl->callee, "picture") == 0)
			read_picture(build, L, decl);
		else if (strcmp(decl->callee, "chain") == 0)
			read_chain(build, L, decl);
	}
}

void hs_find_picture(const hs_table *table, hs_step *step)
{
	hs_build *build = table->build;
	const hs_playbook *book = build->playbook;
	const char *name = hs_table_text(table, "see"), *mark = hs_table_text(table, "mark");
	int found = name ? index_of(book, name) : -1;
	step->see = found + 1;
	if (name && found < 0) {
		const char **known = hs_arena_alloc(build->arena, (book->picture_count + 1) * sizeof *known);
		for (size_t i = 0; i < book->picture_count; i++)
			known[i] = book->pictures[i].id;
		hs_build_nearest(build, hs_table_problem(table, "see", "there is no picture \"%s\"", name), name, known, book->picture_count);
	}
	if (!mark)
		return;
	if (!hs_table_has(table, "see")) {
		hs_problem *problem = hs_table_problem(table, "mark", "the step \"%s\" has a mark and no picture", step->id);
		hs_problem_hint(problem, "add see = \"PICTURE\"");
	}
	if (found < 0)
		return;
	const hs_picture *picture = &book->pictures[found];
	step->mark = mark_of(picture, mark) + 1;
	if (step->mark > 0)
		return;
	const char **known = hs_arena_alloc(build->arena, (picture->mark_count + 1) * sizeof *known);
	for (size_t i = 0; i < picture->mark_count; i++)
		known[i] = picture->marks[i].id;
	hs_build_nearest(build, hs_table_problem(table, "mark", "the picture \"%s\" has no mark \"%s\"", picture->id, mark), mark, known,
	                 picture->mark_count);
}
