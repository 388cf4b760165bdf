/* halfsplit list: the playbooks in the library folders, by family. */
#include <stdlib.h>
#include <string.h>
#include "bench.h"
#include "halfsplit/json/json.h"

typedef struct hs_listed {
	const char *name, *family, *title, *symptom;
} hs_listed;

typedef struct hs_listing {
	hs_listed *items;
	size_t count, room;
} hs_listing;

static bool holds(const char *text, const char *word)
{
	return text && strcasestr(text, word);
}

static bool wanted(const hs_listed *item, char **words, int count)
{
	for (int i = 0; i < count; i++)
		if (!holds(item->name, words[i]) && !holds(item->family, words[i]) && !holds(item->title, words[i]) &&
		    !holds(item->symptom, words[i]))
			return false;
	return true;
}

/* A .lua file that declares no playbook is what playbooks share, or a kit. */
static void consider(hs_folders *folders, const hs_shelved *shelved, char **words, int count, hs_listing *listing)
{
	hs_bench bench = {0};
	hs_error error = {0};
	if (hs_bench_load(&bench, folders, shelved->name, shelved->path, NULL, &error) && bench.playbook &&
	    bench.playbook->id) {
		hs_arena *arena = folders->arena;
		hs_listed item = {hs_arena_str(arena, shelved->name), hs_arena_str(arena, bench.playbook->family),
		                  hs_arena_str(arena, bench.playbook->title),
		                  hs_arena_str(arena, bench.playbook->symptom.shows)};
		if (wanted(&item, words, count)) {
			listing->items =
			    hs_grow(listing->items, &listing->room, listing->count + 1, sizeof *listing->items);
			listing->items[listing->count++] = item;
		}
	}
	hs_bench_free(&bench);
}

static int by_family(const void *a, const void *b)
{
	const hs_listed *one = a, *other = b;
	int order = strcmp(one->family ? one->family : "", other->family ? other->family : "");
	return order ? order : strcmp(one->name, other->name);
}

static void print_text(const hs_listing *listing)
{
	hs_buf out;
	hs_buf_init(&out);
	const char *family = NULL;
	for (size_t i = 0; i < listing->count; i++) {
		const hs_listed *item = &listing->items[i];
		const char *its = item->family ? item->family : "no family";
		if (!family || strcmp(family, its) != 0) {
			hs_buf_str(&out, i ? "\n" : "");
			hs_buf_shown(&out, its, false);
			hs_buf_char(&out, '\n');
		}
		family = its;
		hs_buf_str(&out, "  ");
		hs_buf_shown(&out, item->name, false);
		hs_buf_str(&out, "\n      ");
		hs_buf_shown(&out, item->title ? item->title : "", false);
		hs_buf_char(&out, '\n');
	}
	if (!listing->count)
		hs_buf_str(&out, "no playbook found\n");
	hs_cli_print(&out);
	hs_buf_free(&out);
}

static void print_json(const hs_listing *listing)
{
	hs_buf out;
	hs_json_writer writer;
	hs_buf_init(&out);
	hs_json_begin(&writer, &out);
	hs_json_open_array(&writer, NULL);
	for (size_t i = 0; i < listing->count; i++) {
		hs_json_open_object(&writer, NULL);
		hs_json_put_string(&writer, "name", listing->items[i].name);
		hs_json_put_string(&writer, "family", listing->items[i].family);
		hs_json_put_string(&writer, "title", listing->items[i].title);
		hs_json_put_string(&writer, "symptom", listing->items[i].symptom);
		hs_json_close_object(&writer);
	}
	hs_json_close_array(&writer);
	hs_buf_char(&out, '\n');
	hs_cli_print(&out);
	hs_buf_free(&out);
}

static int run(const hs_command *command, int argc, char **argv)
{
	bool json = false;
	const hs_option options[] = {{"json", 0, NULL, "as data", NULL, &json}};
	int first, status;
	if (!hs_cli_options(command, options, 1, argc, argv, &first, &status))
		return status;
	hs_folders folders;
	hs_shelf shelf;
	hs_listing listing = {0};
	hs_folders_find(&folders);
	hs_shelf_read(&folders, &shelf);
	for (size_t i = 0; i < shelf.count; i++)
		consider(&folders, &shelf.items[i], argv + first, argc - first, &listing);
	if (listing.count)
		qsort(listing.items, listing.count, sizeof *listing.items, by_family);
	(json ? print_json : print_text)(&listing);
	free(listing.items);
	hs_shelf_free(&shelf);
	hs_folders_free(&folders);
	return HS_EXIT_GOOD;
}

const hs_command hs_command_list = {
    .name = "list",
    .operands = "[WORD...]",
    .says = "shows the playbooks at hand, by family",
    .help = "With words, only those whose name, family, title or symptom holds each of them.\n",
    .least = 0,
    .most = 100,
    .run = run,
};
