/* playbook { ... }: what it is for, what comes first, the symptom, and where a run begins. */
#include <lauxlib.h>
#include <stdio.h>
#include <string.h>
#include "names.h"

static const char *const playbook_words[] = {"id", "edition", "title", "family", "first", "symptom", "enter",
                                             "tools", "consumables", "proved", "doubles"};
static const char *const symptom_words[] = {"under", "power", "open", "tries", "absent"};

/* A playbook's id is its path below the library folder, so each part between slashes is an id. */
static bool good_path(const char *id)
{
	char part[80];
	for (const char *from = id;;) {
		size_t length = strcspn(from, "/");
		if (length >= sizeof part)
			return false;
		memcpy(part, from, length);
		part[length] = '\0';
		if (!hs_is_id(part))
			return false;
		if (from[length] == '\0')
			return true;
		from += length + 1;
	}
}

static const char *wanted_text(const hs_table *table, const char *key)
{
	const char *text = hs_table_text(table, key);
	if (!text && !hs_table_has(table, key))
		hs_table_problem(table, NULL, "the playbook does not say its %s", key);
	return text;
}

static void read_symptom(const hs_table *table, hs_playbook *book)
{
	hs_table sub = hs_table_sub(table, "symptom", false);
	if (sub.index == 0)
		return;
	hs_symptom *symptom = &book->symptom;
	hs_table_known(&sub, "a symptom", 1, (hs_words[]){HS_WORDS(symptom_words)}, 1);
	symptom->given = true;
	symptom->where = hs_table_where(table, "symptom");
	symptom->shows = hs_table_text(&sub, "[1]");
	if (!hs_table_has(&sub, "[1]"))
		hs_table_problem(&sub, NULL, "the symptom does not say what the unit does wrong");
	symptom->under = hs_table_text(&sub, "under");
	hs_find_need(&sub, "power", &symptom->power);
	symptom->open = hs_find_openables(&sub, "open", HS_SORT_COVER);
	symptom->tries = hs_table_count(&sub, "tries", 1, 100, 1);
	if (!hs_read_branch(&sub, "absent", &symptom->absent) && !hs_table_has(&sub, "absent")) {
		hs_problem *problem = hs_table_problem(table, "symptom", "the symptom does not say where to go when it never shows");
		hs_problem_hint(problem, "add absent = \"STEP\", a finding such as \"not-shown\"");
	}
	hs_table_done(&sub);
}

static void read_entry(const hs_table *list, const char *key, hs_playbook *book)
{
	hs_table sub = hs_table_sub(list, key, false);
	if (sub.index == 0)
		return;
	hs_choice *entry = &book->entries[book->entry_count];
	hs_table_known(&sub, "an entry", 2, (hs_words[]){HS_WORDS(hs_branch_words)}, 1);
	*entry = (hs_choice){.word = hs_table_text(&sub, "[1]"), .text = hs_table_text(&sub, "[2]")};
	bool leads = hs_read_branch_fields(&sub, &entry->branch, true);
	bool good = entry->word && hs_build_good_id(list->build, entry->word, "word", hs_table_where(&sub, "[1]"));
	if (!entry->word)
		hs_table_problem(&sub, NULL, "this entry has no word to be typed");
	for (size_t i = 0; good && i < book->entry_count; i++)
		if (hs_same_word(book->entries[i].word, entry->word))
			hs_table_problem(&sub, "[1]", "the playbook has two entries \"%s\"", entry->word);
	if (good && leads)
		book->entry_count++;
	hs_table_done(&sub);
}

static void read_enter(const hs_table *table, hs_playbook *book)
{
	if (hs_table_type(table, "enter") == LUA_TTABLE) {
		hs_table list = hs_table_sub(table, "enter", false);
		size_t count = hs_table_length(&list);
		hs_table_known(&list, "a row of entries", HS_ANY_LENGTH, NULL, 0);
		book->entries = hs_arena_alloc(table->build->arena, count * sizeof *book->entries);
		for (size_t i = 0; i < count; i++)
			read_entry(&list, hs_key_at(&list, i + 1), book);
		if (count == 0)
			hs_table_problem(table, "enter", "the playbook names no step to enter at");
		if (count > 24)
			hs_table_problem(table, "enter", "the playbook has %zu entries, and at most 24 can be offered",
			                 count);
		hs_table_done(&list);
		return;
	}
	book->entries = hs_arena_alloc(table->build->arena, sizeof *book->entries);
	hs_branch branch;
	if (hs_table_has(table, "enter") ? hs_read_branch(table, "enter", &branch) : book->step_count > 0) {
		if (!hs_table_has(table, "enter"))
			branch = (hs_branch){.to = -1, .target = book->steps[0].id, .where = book->steps[0].where};
		book->entries[book->entry_count++] = (hs_choice){.word = branch.target, .branch = branch};
	}
}

static void read_playbook(const hs_table *table, hs_playbook *book)
{
	hs_table_known(table, "a playbook", 0, (hs_words[]){HS_WORDS(playbook_words)}, 1);
	book->where = hs_table_where(table, NULL);
	book->id = wanted_text(table, "id");
	if (book->id && !good_path(book->id)) {
		hs_problem *problem = hs_table_problem(table, "id", "\"%s\" is no id for a playbook", book->id);
		hs_problem_hint(
		    problem, "letters, digits and . _ + -, with / between folders, as in \"tarnbeck/fell-low-output\"");
	}
	book->edition = hs_table_count(table, "edition", 1, 1000000, 1);
	book->title = wanted_text(table, "title");
	book->family = wanted_text(table, "family");
	book->first = hs_table_texts(table, "first", &book->first_count);
	if (book->first_count == 0) {
		hs_problem *problem = hs_table_problem(
		    table, hs_table_has(table, "first") ? "first" : NULL,
		    "the playbook does not say what to do first so that the unit harms itself no further");
		hs_problem_hint(problem, "add first = { \"...\" }");
	}
	book->proved = hs_table_flag(table, "proved");
	book->tools = hs_table_texts(table, "tools", &book->tool_count);
	book->consumables = hs_table_texts(table, "consumables", &book->consumable_count);
	hs_read_doubles(table, book);
	read_symptom(table, book);
	read_enter(table, book);
}

void hs_bind_playbook(hs_build *build, lua_State *L)
{
	hs_playbook *book = build->playbook;
	const hs_decl *first = NULL;
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "playbook") != 0)
			continue;
		hs_table table = hs_table_of(build, L, decl);
		if (first)
			hs_table_problem(&table, NULL,
			                 "the playbook is declared twice; the other stands in line %d of %s",
			                 first->line, first->file);
		else
			read_playbook(&table, book);
		first = first ? first : decl;
		hs_table_done(&table);
	}
	if (first)
		return;
	hs_where where = {hs_arena_str(build->arena, hs_sources_main(build->sources)->path), 1};
	hs_problem *problem = hs_build_problem(build, HS_ERROR, where, "the file declares no playbook");
	hs_problem_hint(problem,
	                "begin with playbook { id = \"...\", title = \"...\", family = \"...\", first = { \"...\" } }");
	book->where = where;
}
