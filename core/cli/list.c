/* halfsplit list: the playbooks in the library folders, by family and symptom. */
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "bench.h"
#include "halfsplit/json/json.h"

enum { SECONDS_MOST = 10 }; /* of processor time, for all files together */

/* Something with an id and words: an entry, a suspect, a finding. */
typedef struct told {
	const char *id, *title;
} told;

typedef struct tellings {
	told *items;
	size_t count;
} tellings;

/* One playbook as it is listed; every string may be NULL but the name and the path. */
typedef struct listed {
	const char *name, *path, *family, *title, *symptom, *under;
	tellings entries, suspects, findings;
	const char *problem; /* the first error, on one line; NULL: it can be run */
	size_t errors;
	const char *text; /* what is searched of a playbook that could not be built */
} listed;

typedef struct listing {
	listed *items;
	size_t count, room;
} listing;

typedef struct request {
	const char *finding;
	bool ids, findings, families, json;
	char **words;
	int word_count;
} request;

/* ---- what a file tells ---- */

/* A playbook says so at the start of a line. Other files are what playbooks share, and kits. */
static bool declares_playbook(const char *text)
{
	static const char word[] = "playbook";
	for (const char *line = text; line; line = strchr(line, '\n'), line += line != NULL) {
		line += strspn(line, " \t\r");
		if (strncmp(line, word, sizeof word - 1) != 0)
			continue;
		const char *next = line + sizeof word - 1;
		next += strspn(next, " \t");
		if (*next && strchr("{(\r\n", *next))
			return true;
	}
	return false;
}

/* "FILE:LINE: MESSAGE", on one line whatever it holds. */
static const char *one_line(hs_arena *arena, const hs_error *error)
{
	hs_buf out;
	hs_buf_init(&out);
	if (error->line)
		hs_buf_printf(&out, "%s:%d: ", error->file, error->line);
	hs_buf_str(&out, error->message);
	for (char *p = out.data; *p; p++)
		if (*p == '\n' || *p == '\r')
			*p = ' ';
	const char *line = hs_arena_str(arena, out.data);
	hs_buf_free(&out);
	return line;
}

static void tell(hs_arena *arena, tellings *to, const char *id, const char *title)
{
	to->items[to->count++] = (told){hs_arena_str(arena, id), hs_arena_str(arena, title)};
}

static void take_playbook(hs_arena *arena, const hs_playbook *playbook, listed *item)
{
	item->family = hs_arena_str(arena, playbook->family);
	item->title = hs_arena_str(arena, playbook->title);
	item->symptom = hs_arena_str(arena, playbook->symptom.shows);
	item->under = hs_arena_str(arena, playbook->symptom.under);
	item->entries.items = hs_arena_alloc(arena, (playbook->entry_count + 1) * sizeof(told));
	item->suspects.items = hs_arena_alloc(arena, (playbook->suspect_count + 1) * sizeof(told));
	item->findings.items = hs_arena_alloc(arena, (playbook->step_count + 1) * sizeof(told));
	/* One entry alone is where it begins, and nobody chooses it. */
	for (size_t i = 0; i < playbook->entry_count; i++)
		if (playbook->entry_count > 1 || playbook->entries[i].text)
			tell(arena, &item->entries, playbook->entries[i].word, playbook->entries[i].text);
	for (size_t i = 0; i < playbook->suspect_count; i++)
		tell(arena, &item->suspects, playbook->suspects[i].id, playbook->suspects[i].title);
	for (size_t i = 0; i < playbook->step_count; i++)
		if (playbook->steps[i].kind == HS_STEP_FINDING)
			tell(arena, &item->findings, playbook->steps[i].id, playbook->steps[i].title);
}

/* False: the file is no playbook. */
static bool take_file(hs_folders *folders, const hs_shelved *shelved, listed *item)
{
	hs_bench bench = {0};
	hs_error error = {0};
	*item = (listed){.name = shelved->name, .path = shelved->path};
	bool is_one = true;
	if (!hs_bench_load(&bench, folders, shelved->name, shelved->path, NULL, &error)) {
		item->problem = one_line(folders->arena, &error);
		item->errors = 1;
	} else if (bench.playbook && bench.playbook->id) {
		take_playbook(folders->arena, bench.playbook, item);
	} else {
		const char *text = hs_sources_main(bench.playbook_sources)->text;
		is_one = declares_playbook(text);
		item->text = is_one ? hs_arena_str(folders->arena, text) : NULL;
	}
	if (is_one && !item->problem && !hs_problems_clean(&bench.problems, &error)) {
		item->problem = one_line(folders->arena, &error);
		item->errors = bench.problems.errors;
	}
	hs_bench_free(&bench);
	return is_one;
}

/* ---- which are wanted ---- */

static bool holds(const char *text, const char *word)
{
	return text && strcasestr(text, word);
}

static bool any_holds(const tellings *all, const char *word)
{
	for (size_t i = 0; i < all->count; i++)
		if (holds(all->items[i].id, word) || holds(all->items[i].title, word))
			return true;
	return false;
}

static bool wanted(const listed *item, const request *given)
{
	for (int i = 0; i < given->word_count; i++) {
		const char *word = given->words[i];
		if (!holds(item->name, word) && !holds(item->family, word) && !holds(item->title, word) &&
		    !holds(item->symptom, word) && !holds(item->under, word) && !holds(item->text, word) &&
		    !any_holds(&item->entries, word) && !any_holds(&item->suspects, word))
			return false;
	}
	return !given->finding || any_holds(&item->findings, given->finding);
}

static int compare_texts(const char *a, const char *b)
{
	return a && b ? strcmp(a, b) : (b != NULL) - (a != NULL); /* what is not known comes last */
}

static int by_family(const void *a, const void *b)
{
	const listed *one = a, *other = b;
	int order = compare_texts(one->family, other->family);
	order = order ? order : strcmp(one->name, other->name);
	return order ? order : strcmp(one->path, other->path);
}

/* Neither of two holders of one name can be run by it. */
static void note_twins(hs_arena *arena, listing *all)
{
	for (size_t i = 0; i < all->count; i++)
		for (size_t j = 0; j < all->count; j++)
			if (i != j && !all->items[i].problem && strcmp(all->items[i].name, all->items[j].name) == 0) {
				all->items[i].errors = 1;
				all->items[i].problem = hs_arena_printf(
				    arena, "two files hold this id: this one is %s, and the other is %s",
				    all->items[i].path, all->items[j].path);
			}
}

/* Each file is bounded for itself; thousands that loop would still keep somebody waiting who only wants a list. */
static bool time_is_up(const struct timespec *since)
{
	struct timespec now;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
	return now.tv_sec - since->tv_sec > SECONDS_MOST;
}

static void gather(hs_folders *folders, const request *given, listing *out)
{
	hs_shelf shelf;
	listing all = {0};
	struct timespec since;
	clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &since);
	hs_shelf_read(folders, &shelf);
	for (size_t i = 0; i < shelf.count; i++) {
		all.items = hs_grow(all.items, &all.room, all.count + 1, sizeof *all.items);
		listed *item = &all.items[all.count];
		if (!time_is_up(&since)) {
			all.count += take_file(folders, &shelf.items[i], item);
			continue;
		}
		*item = (listed){.name = shelf.items[i].name, .path = shelf.items[i].path, .errors = 1};
		item->problem = hs_arena_printf(folders->arena, "nothing is known of it, because the files before it took more than %d s to read", SECONDS_MOST);
		all.count++;
	}
	note_twins(folders->arena, &all);
	for (size_t i = 0; i < all.count; i++)
		if (wanted(&all.items[i], given)) {
			out->items = hs_grow(out->items, &out->room, out->count + 1, sizeof *out->items);
			out->items[out->count++] = all.items[i];
		}
	free(all.items);
	hs_shelf_free(&shelf);
	if (out->count)
		qsort(out->items, out->count, sizeof *out->items, by_family);
}

/* ---- as text ---- */

static void print_line(hs_buf *out, const char *before, const char *text)
{
	hs_buf_printf(out, "      %s", before);
	hs_buf_shown(out, text, false);
	hs_buf_char(out, '\n');
}

static void print_item(hs_buf *out, const listed *item)
{
	hs_buf_str(out, "  ");
	hs_buf_shown(out, item->name, false);
	hs_buf_char(out, '\n');
	if (item->title)
		print_line(out, "", item->title);
	hs_buf line;
	hs_buf_init(&line);
	if (item->symptom) {
		hs_buf_printf(&line, "%s%s%s", item->symptom, item->under ? "; " : "", item->under ? item->under : "");
		print_line(out, "symptom: ", line.data);
	}
	for (size_t i = 0; i < item->entries.count; i++) {
		const told *entry = &item->entries.items[i];
		hs_buf_clear(&line);
		hs_buf_printf(&line, "%s, %s", entry->id, entry->title ? entry->title : entry->id);
		print_line(out, "begins at: ", line.data);
	}
	if (item->problem) {
		hs_buf_clear(&line);
		hs_buf_str(&line, item->problem);
		if (item->errors > 1)
			hs_buf_printf(&line, " (and %zu more)", item->errors - 1);
		print_line(out, "cannot be run: ", line.data);
	}
	hs_buf_free(&line);
}

static void print_text(const listing *all)
{
	hs_buf out;
	hs_buf_init(&out);
	for (size_t i = 0; i < all->count; i++) {
		const listed *item = &all->items[i];
		if (!i || compare_texts(item->family, all->items[i - 1].family) != 0) {
			hs_buf_str(&out, i ? "\n" : "");
			hs_buf_shown(&out, item->family ? item->family : "family not known", false);
			hs_buf_char(&out, '\n');
		}
		print_item(&out, item);
	}
	if (!all->count)
		hs_buf_str(&out, "no playbook found\n");
	hs_cli_print(&out);
	hs_buf_free(&out);
}

/* ---- as words, for the shell ---- */

static int by_letters(const void *a, const void *b)
{
	return strcmp(*(const char *const *)a, *(const char *const *)b);
}

/* A name that is no id, from a file that is named oddly, cannot be run by it. */
static bool is_word(const char *name)
{
	return *name &&
	       name[strspn(name, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._+-/")] == '\0';
}

static void print_words(const listing *all, bool findings)
{
	const char **words = NULL;
	size_t count = 0, room = 0;
	for (size_t i = 0; i < all->count; i++) {
		const listed *item = &all->items[i];
		size_t more = findings ? item->findings.count : 1;
		words = hs_grow(words, &room, count + more + 1, sizeof *words);
		for (size_t j = 0; j < more; j++)
			words[count++] = findings ? item->findings.items[j].id : item->name;
	}
	if (count)
		qsort(words, count, sizeof *words, by_letters);
	hs_buf out;
	hs_buf_init(&out);
	for (size_t i = 0; i < count; i++)
		if (is_word(words[i]) && (!i || strcmp(words[i], words[i - 1]) != 0))
			hs_buf_printf(&out, "%s\n", words[i]);
	hs_cli_print(&out);
	hs_buf_free(&out);
	free(words);
}

static void print_families(hs_folders *folders)
{
	size_t count;
	const char **names = hs_families(folders, &count);
	hs_buf out;
	hs_buf_init(&out);
	for (size_t i = 0; i < count; i++)
		if (is_word(names[i]) && (!i || strcmp(names[i], names[i - 1]) != 0))
			hs_buf_printf(&out, "%s\n", names[i]);
	hs_cli_print(&out);
	hs_buf_free(&out);
	free(names);
}

/* ---- as data ---- */

static void put_tellings(hs_json_writer *w, const char *key, const char *id, const tellings *all)
{
	hs_json_open_array(w, key);
	for (size_t i = 0; i < all->count; i++) {
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, id, all->items[i].id);
		hs_json_put_string(w, "title", all->items[i].title);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
}

static void print_json(const listing *all)
{
	hs_buf out;
	hs_json_writer writer, *w = &writer;
	hs_buf_init(&out);
	hs_json_begin(w, &out);
	hs_json_open_array(w, NULL);
	for (size_t i = 0; i < all->count; i++) {
		const listed *item = &all->items[i];
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "name", item->name);
		hs_json_put_string(w, "file", item->path);
		hs_json_put_string(w, "family", item->family);
		hs_json_put_string(w, "title", item->title);
		hs_json_put_string(w, "symptom", item->symptom);
		hs_json_put_string(w, "under", item->under);
		put_tellings(w, "entries", "word", &item->entries);
		put_tellings(w, "suspects", "id", &item->suspects);
		put_tellings(w, "findings", "id", &item->findings);
		hs_json_put_string(w, "problem", item->problem);
		hs_json_put_integer(w, "errors", (long long)item->errors);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
	hs_buf_char(&out, '\n');
	hs_cli_print(&out);
	hs_buf_free(&out);
}

/* ---- the command ---- */

static const hs_option options[] = {
    {"finding", 0, "FINDING", "only those that may end in this finding: a word of its id or title",
     offsetof(request, finding)},
    {"ids", 0, NULL, "their ids, one a line, and nothing else", offsetof(request, ids)},
    {"findings", 0, NULL, "the ids of their findings, one a line, and nothing else", offsetof(request, findings)},
    {"families", 0, NULL, "the families that run --freehand takes, one a line, and nothing else", offsetof(request, families)},
    {"json", 0, NULL, "as data", offsetof(request, json)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	int first, status;
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	if (given.ids + given.findings + given.families + given.json > 1) {
		hs_error error = {0};
		hs_fail(&error, HS_BAD_INPUT,
		        "--ids, --findings, --families and --json are four forms of the list, and more than one "
		        "was asked for");
		hs_fail_hint(&error, "keep one of them");
		return hs_cli_fail(&error);
	}
	given.words = argv + first;
	given.word_count = argc - first;
	hs_folders folders;
	listing all = {0};
	hs_folders_find(&folders);
	if (given.families) {
		print_families(&folders);
		hs_folders_free(&folders);
		return HS_EXIT_GOOD;
	}
	gather(&folders, &given, &all);
	if (given.ids || given.findings)
		print_words(&all, given.findings);
	else
		(given.json ? print_json : print_text)(&all);
	free(all.items);
	hs_folders_free(&folders);
	return HS_EXIT_GOOD;
}

const hs_command hs_command_list = {
    .name = "list",
    .operands = "[WORD...]",
    .says = "shows the playbooks at hand, by family and symptom",
    .help = "With words, only those that hold each of them somewhere, in capitals or not: in the id, family, title, "
            "symptom, the\n"
            "entries, or a suspect's id or title. A playbook that cannot be run is listed with its first error.\n"
            "--json gives "
            "[{\"name\",\"file\",\"family\",\"title\",\"symptom\",\"under\",\"entries\":[{\"word\",\"title\"}],\n"
            "\"suspects\":[{\"id\",\"title\"}],\"findings\":[{\"id\",\"title\"}],\"problem\",\"errors\"}].\n",
    HS_OPTIONS(options),
    .least = 0,
    .most = 100,
    .run = run,
};
