/* halfsplit check: everything that can be known of a playbook without running it. */
#include <string.h>
#include "bench.h"
#include "halfsplit/json/json.h"
#include "watch.h"

static void print_counts(const char *path, const hs_bench *bench, hs_buf *out)
{
	size_t errors = bench->problems.errors, warnings = bench->problems.count - errors;
	hs_buf_shown(out, path, false);
	if (!errors && !warnings)
		hs_buf_str(out, ": clean\n");
	else
		hs_buf_printf(out, ": %zu error%s, %zu warning%s\n", errors, errors == 1 ? "" : "s", warnings,
		              warnings == 1 ? "" : "s");
	if (!bench->playbook)
		return;
	hs_buf names;
	hs_buf_init(&names);
	if (hs_bench_unbound(bench, &names)) {
		hs_buf_str(out, bench->kit ? "  these roles and hookups are not in the kit, and their levels not checked (halfsplit prepare tells more): "
		                           : "  no kit was given, so these hookups are not bound and their levels not checked: ");
		hs_buf_shown(out, names.data, false);
		hs_buf_char(out, '\n');
	}
	hs_buf_free(&names);
}

static void put_problem(hs_json_writer *w, const hs_problem *problem)
{
	hs_json_open_object(w, NULL);
	hs_json_put_string(w, "file", problem->what.file);
	hs_json_put_integer(w, "line", problem->what.line);
	hs_json_put_string(w, "severity", problem->severity == HS_ERROR ? "error" : "warning");
	hs_json_put_string(w, "message", problem->what.message);
	hs_json_put_string(w, "hint", problem->what.hint);
	hs_json_close_object(w);
}

/* Where the files of a list lie or would lie, one path a line: beneath the folder of its main file, else beneath a library folder. */
static void note_files(const hs_folders *folders, const hs_sources *sources, const char *main_path, hs_buf *out)
{
	const char *slash = strrchr(main_path, '/');
	int length = slash ? (int)(slash - main_path) + 1 : 0;
	hs_buf path;
	hs_buf_init(&path);
	hs_buf_printf(&path, "%.*s.", length, main_path);
	hs_buf_printf(out, "%s\n%s\n", path.data, main_path); /* the folder too: a file that was missing may come */
	for (size_t i = 1; sources && i < hs_sources_count(sources); i++)
		for (size_t f = 0; f <= folders->count; f++) {
			hs_buf_clear(&path);
			if (f == 0)
				hs_buf_printf(&path, "%.*s%s", length, main_path, hs_sources_at(sources, i)->path);
			else
				hs_buf_printf(&path, "%s/%s", folders->items[f - 1], hs_sources_at(sources, i)->path);
			hs_buf_printf(out, "%s\n", path.data);
		}
	hs_buf_free(&path);
}

/*
 * What a new playbook or a draft leaves to its author is no mistake of it, so it stands below the verdict. A line that is a comment alone says
 * nothing to anybody at the bench.
 */
static void print_blanks(const hs_bench *bench, hs_buf *out)
{
	for (size_t i = 0; i < hs_sources_count(bench->playbook_sources); i++) {
		const hs_source *source = hs_sources_at(bench->playbook_sources, i);
		const char *at = hs_source_is_picture(source->path) ? "" : source->text;
		bool any = false;
		for (int line = 1; *at; line++) {
			size_t length = strcspn(at, "\n");
			const char *found = strstr(at, "FILL IN");
			if (!found)
				break;
			if (found < at + length && strncmp(at + strspn(at, " \t"), "--", 2) != 0) {
				if (!any) {
					hs_buf_str(out, "  still to be filled in (FILL IN): ");
					hs_buf_shown(out, source->path, false);
				}
				hs_buf_printf(out, "%s%d", any ? ", " : " line ", line);
				any = true;
			}
			at += length + (at[length] == '\n');
		}
		hs_buf_str(out, any ? "\n" : "");
	}
}

/* loaded: NULL, or gets the paths of what was loaded. */
static int check_one(hs_folders *folders, const char *word, const char *kit_given, hs_json_writer *w, hs_buf *loaded)
{
	hs_error error = {0};
	hs_bench bench = {0};
	bool named;
	const char *path = hs_playbook_path(folders, word, &error);
	const char *kit = path ? hs_kit_path(folders, kit_given, path, &named) : NULL;
	bool fine = path && hs_bench_load(&bench, folders, word, path, kit, &error);
	if (loaded && path)
		note_files(folders, bench.playbook_sources, path, loaded);
	if (loaded && kit)
		note_files(folders, bench.kit_sources, kit, loaded);
	if (!fine) {
		hs_bench_free(&bench);
		return hs_cli_fail(&error);
	}
	hs_bench_try(&bench);
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < bench.problems.count; i++) {
		if (w)
			put_problem(w, &bench.problems.items[i]);
		else
			hs_problem_print(&bench.problems.items[i], &text);
	}
	if (!w) {
		print_counts(path, &bench, &text);
		print_blanks(&bench, &text);
		hs_cli_print(&text);
	}
	hs_buf_free(&text);
	int status = bench.problems.errors ? HS_EXIT_BAD : HS_EXIT_GOOD;
	hs_bench_free(&bench);
	return status;
}

typedef struct request {
	const char *kit;
	bool json, watch;
	char **words;
	int count;
	hs_folders folders;
	hs_buf loaded;
} request;

static int check_all(request *given, hs_json_writer *w, hs_buf *loaded)
{
	int status = HS_EXIT_GOOD;
	for (int i = 0; i < given->count; i++) {
		int one = check_one(&given->folders, given->words[i], given->kit, w, loaded);
		status = one > status ? one : status;
	}
	return status;
}

static int watch_check(void *context)
{
	request *given = context;
	hs_buf_clear(&given->loaded);
	return check_all(given, NULL, &given->loaded);
}

static void watch_look(void *context, hs_buf *out)
{
	const request *given = context;
	char path[4096];
	for (const char *at = given->loaded.data; at && *at; at += strcspn(at, "\n") + 1) {
		hs_copy(path, strcspn(at, "\n") + 1 < sizeof path ? strcspn(at, "\n") + 1 : sizeof path, at);
		hs_watch_file(path, out);
	}
}

static const hs_option options[] = {
    {"kit", 0, "FILE", "check against this kit; else $HALFSPLIT_KIT, else kit.lua beside the playbook",
     offsetof(request, kit)},
    {"json", 0, NULL, "the problems as data", offsetof(request, json)},
    {"watch", 0, NULL, "check again whenever a file has changed, until Ctrl-C, or q and Enter", offsetof(request, watch)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	int first, status;
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	given.words = argv + first;
	given.count = argc - first;
	if (given.watch && given.json) {
		hs_error error = {0};
		hs_fail(&error, HS_BAD_INPUT, "--watch is for a person at a screen, and --json for a program; give one of them");
		return hs_cli_fail(&error);
	}
	hs_folders_find(&given.folders);
	hs_buf_init(&given.loaded);
	if (given.watch) {
		status = hs_watch(&(hs_watched){watch_check, watch_look, &given});
	} else {
		hs_buf out;
		hs_json_writer writer;
		hs_buf_init(&out);
		hs_json_begin(&writer, &out);
		hs_json_open_array(&writer, NULL);
		status = check_all(&given, given.json ? &writer : NULL, NULL);
		hs_json_close_array(&writer);
		hs_buf_char(&out, '\n');
		if (given.json)
			hs_cli_print(&out);
		hs_buf_free(&out);
	}
	hs_buf_free(&given.loaded);
	hs_folders_free(&given.folders);
	return status;
}

const hs_command hs_command_check = {
    .name = "check",
    .operands = "PLAYBOOK...",
    .says = "finds what is wrong with a playbook, before anybody runs it",
    .help = "Each problem is shown with file, line, the line itself and what to do. Status 1 when there are errors; "
            "warnings alone are\n"
            "status 0. --json gives [{\"file\",\"line\",\"severity\",\"message\",\"hint\"}].\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1000,
    .run = run,
};
