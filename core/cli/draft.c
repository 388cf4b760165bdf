/* halfsplit draft: a playbook skeleton out of a freehand run. */
#include <stdlib.h>
#include <string.h>
#include "halfsplit/report/draft.h"
#include "made.h"
#include "library.h"
#include "past.h"

/* The part of the path below this library folder, or NULL when it lies elsewhere; the folder it goes to must be there. */
static const char *below(hs_arena *arena, const char *folder, const char *path)
{
	const char *slash = strrchr(path, '/');
	char *parent = realpath(slash ? hs_arena_strn(arena, path, (size_t)(slash - path) + (slash == path)) : ".", NULL);
	char *top = realpath(folder, NULL);
	size_t length = top ? strlen(top) : 0;
	const char *found = NULL;
	if (parent && top && strncmp(parent, top, length) == 0 && (parent[length] == '/' || parent[length] == '\0'))
		found = hs_arena_printf(arena, "%s%s%s", parent[length] ? parent + length + 1 : "", parent[length] ? "/" : "",
		                        slash ? slash + 1 : path);
	free(parent);
	free(top);
	return found;
}

/* Ids with / between them, and no way up. */
static bool can_be_id(hs_arena *arena, const char *id)
{
	char *rest = NULL, *parts = hs_arena_str(arena, id);
	size_t length = 0;
	bool fine = *id != '\0' && id[strlen(id) - 1] != '/';
	for (char *part = strtok_r(parts, "/", &rest); part && fine; part = strtok_r(NULL, "/", &rest)) {
		fine = hs_is_id(part);
		length += strlen(part) + 1;
	}
	return fine && length == strlen(id) + 1;
}

/*
 * By its place below a library folder, as the library looks it up. Elsewhere as the path is typed, which fits once its folder stands in
 * the library; "draft" where that is no id. *shelved: it lies in the library.
 */
static const char *id_of(hs_arena *arena, const char *path, bool *shelved)
{
	*shelved = false;
	if (!path)
		return "draft";
	hs_folders folders;
	const char *from = NULL;
	hs_folders_find(&folders);
	for (size_t i = 0; i < folders.count && !from; i++)
		from = below(arena, folders.items[i], path);
	hs_folders_free(&folders);
	*shelved = from != NULL;
	if (!from)
		from = strncmp(path, "playbooks/", 10) == 0 ? path + 10 : path;
	const char *id = hs_arena_strn(arena, from, strlen(from) - strlen(".lua"));
	const char *slash = strrchr(id, '/');
	if (!*shelved && !can_be_id(arena, id) && slash)
		id = slash + 1;
	return can_be_id(arena, id) ? id : "draft";
}

/* Said only where it matters: a file outside the library is run by its path, and found by its id once it lies in its place. */
static void say_place(const char *id, bool shelved)
{
	if (!shelved)
		hs_cli_say("its id is %s; the library finds it by that once it lies at playbooks/%s.lua, and until then it is run by its path", id, id);
}

static int draft(const char *path, const char *output)
{
	hs_error error = {0};
	hs_past past;
	if (output && !hs_is_path(output)) {
		hs_fail(&error, HS_BAD_INPUT, "\"%s\" does not end in .lua, and a playbook does", output);
		return hs_cli_fail(&error);
	}
	if (!hs_past_read(&past, path, &error))
		return hs_cli_fail(&error);
	hs_arena *arena = hs_arena_new();
	hs_buf text;
	bool shelved;
	const char *id = id_of(arena, output, &shelved);
	hs_buf_init(&text);
	int status = HS_EXIT_GOOD;
	if (!hs_past_holds_together(&past, "drafted", &error)) {
		hs_cli_fail(&error);
		status = HS_EXIT_BAD;
	} else if (!hs_draft_lua(past.result->engine, id, past.result->opening, &text, &error)) {
		status = hs_cli_fail(&error);
	} else if (!output) {
		hs_cli_print(&text);
	} else if (!hs_make_way(output, &error) || !hs_write_new(output, text.data, &error)) {
		status = hs_cli_fail(&error);
	} else {
		hs_say_made(output);
		say_place(id, shelved);
	}
	hs_buf_free(&text);
	hs_arena_free(arena);
	hs_past_free(&past);
	return status;
}

typedef struct request {
	const char *output;
} request;

static const hs_option options[] = {
    {"output", 'o', "FILE", "where it goes, a .lua file that is not there yet; standard output unless given", offsetof(request, output)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	int first, status;
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	return draft(argv[first], given.output);
}

const hs_command hs_command_draft = {
    .name = "draft",
    .operands = "TRANSCRIPT",
    .says = "makes a playbook skeleton out of a freehand run",
    .help = "The steps are those of the way that was taken; every other outcome leads to a finding \"unclear\". It checks without errors "
            "beside\n"
            "the kit of the run, and says FILL IN where an author has to. A file that is there is never written over.\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1,
    .run = run,
};
