/* halfsplit draft: a playbook skeleton out of a freehand run. */
#include <stdlib.h>
#include <string.h>
#include "halfsplit/report/draft.h"
#include "made.h"
#include "past.h"

/* "playbooks/garth/weak.lua" is garth/weak, any other file is called by its own name; "draft" where that is no id. */
static const char *id_of(hs_arena *arena, const char *path)
{
	static const char folder[] = "playbooks/";
	if (!path)
		return "draft";
	const char *from = path, *below = NULL;
	for (const char *at = strstr(path, folder); at; at = strstr(at + 1, folder))
		if (at == path || at[-1] == '/')
			below = at + sizeof folder - 1;
	const char *slash = strrchr(path, '/');
	from = below ? below : slash ? slash + 1 : path;
	char *id = hs_arena_strn(arena, from, strlen(from) - strlen(".lua"));
	char *rest = NULL, *parts = hs_arena_str(arena, id);
	size_t length = 0;
	bool fine = *id != '\0' && id[strlen(id) - 1] != '/';
	for (char *part = strtok_r(parts, "/", &rest); part && fine; part = strtok_r(NULL, "/", &rest)) {
		fine = hs_is_id(part);
		length += strlen(part) + 1;
	}
	return fine && length == strlen(id) + 1 ? id : "draft";
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
	hs_buf_init(&text);
	int status = HS_EXIT_GOOD;
	if (!hs_past_holds_together(&past, "drafted", &error)) {
		hs_cli_fail(&error);
		status = HS_EXIT_BAD;
	} else if (!hs_draft_lua(past.result->engine, id_of(arena, output), past.result->opening, &text, &error)) {
		status = hs_cli_fail(&error);
	} else if (!output) {
		hs_cli_print(&text);
	} else if (!hs_write_new(output, text.data, &error)) {
		status = hs_cli_fail(&error);
	} else {
		hs_say_made(output);
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
