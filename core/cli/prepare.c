/* halfsplit prepare: what to lay out before a playbook is begun; and which hookup of this shop fills a role of it. */
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include "halfsplit/json/json.h"
#include "layout.h"

typedef struct request {
	const char *kit, *bind;
	bool json;
} request;

/* ---- in words ---- */

static void put_list(hs_buf *out, const char *title, const hs_lines_of *lines)
{
	if (lines->count == 0)
		return;
	hs_buf_printf(out, "%s\n", title);
	for (size_t i = 0; i < lines->count; i++) {
		hs_buf_str(out, "  ");
		hs_buf_shown(out, lines->items[i], false);
		hs_buf_char(out, '\n');
	}
}

static bool listed(const hs_lines_of *lines, const char *text)
{
	for (size_t i = 0; i < lines->count; i++)
		if (strcmp(lines->items[i], text) == 0)
			return true;
	return false;
}

static void put_instruments(hs_buf *out, const hs_layout *layout)
{
	if (layout->instrument_count > 0)
		hs_buf_str(out, "Instruments\n");
	for (size_t i = 0; i < layout->instrument_count; i++) {
		const hs_part *it = layout->instruments[i];
		hs_buf_printf(out, "  %s", it->id);
		const char *more[] = {it->title, it->serial};
		for (size_t m = 0; m < 2; m++)
			if (more[m]) {
				hs_buf_str(out, ", ");
				hs_buf_shown(out, more[m], false);
			}
		if (it->due)
			hs_buf_printf(out, ", calibration due %s%s\n", it->due, listed(&layout->overdue, it->id) ? ": OVERDUE" : "");
		else
			hs_buf_str(out, ", no calibration date\n");
	}
}

static void put_joined(hs_buf *out, const hs_lines_of *lines)
{
	for (size_t i = 0; i < lines->count; i++) {
		hs_buf_str(out, i ? ", " : "");
		hs_buf_shown(out, lines->items[i], false);
	}
}

static void put_lead(hs_buf *out, const hs_laid_lead *lead)
{
	hs_buf_str(out, "  ");
	hs_buf_shown(out, lead->name, false);
	if (lead->hookup && strcmp(lead->hookup->id, lead->name) != 0) {
		hs_buf_str(out, " is ");
		hs_buf_shown(out, lead->hookup->id, false);
	}
	if (lead->points.count > 0) {
		hs_buf_str(out, ", for ");
		put_joined(out, &lead->points);
	}
	hs_buf_str(out, lead->hookup ? "\n    " : ": not bound\n");
	if (lead->drawn)
		hs_buf_printf(out, "%s\n", lead->drawn);
	if (!lead->hookup && lead->fit.count > 0) {
		hs_buf_str(out, "    in this kit these would do: ");
		put_joined(out, &lead->fit);
		hs_buf_char(out, '\n');
	}
}

static void put_minutes(hs_buf *out, const hs_minutes *minutes)
{
	hs_buf_printf(out, "Time\n  shortest %.0f min, expected %.0f min, longest %.0f min\n", minutes->shortest, minutes->expected, minutes->longest);
	hs_buf_str(out, "  expected: the shortest way to each finding, weighted by the odds of its suspects; longest: every loop gone round as often as it may\n"
	                "  gates, opening and closing count only as far as the steps count them in");
	if (minutes->silent > 0)
		hs_buf_printf(out, "; %zu of %zu steps %s no minutes", minutes->silent, minutes->steps, minutes->silent == 1 ? "states" : "state");
	hs_buf_char(out, '\n');
}

static void put_layout(hs_buf *out, const hs_playbook *playbook, const hs_layout *layout)
{
	hs_buf_shown(out, playbook->title, false);
	hs_buf_printf(out, " (%s, edition %d)\n", playbook->id, playbook->edition);
	put_instruments(out, layout);
	if (layout->lead_count > 0)
		hs_buf_str(out, "Hookups\n");
	for (size_t i = 0; i < layout->lead_count; i++)
		put_lead(out, &layout->leads[i]);
	put_list(out, "Known sources", &layout->knowns);
	put_list(out, "Adapters", &layout->adapters);
	put_list(out, "Terminations", &layout->terminations);
	put_list(out, "Loads", &layout->loads);
	put_list(out, "Drivers", &layout->drivers);
	put_list(out, "Tools", &layout->tools);
	put_list(out, "Consumables", &layout->consumables);
	put_list(out, "Pictures", &layout->pictures);
	put_list(out, "A second person is needed", &layout->helpers);
	put_list(out, "Covers that may come off", &layout->covers);
	put_list(out, "Temporary changes that may be made", &layout->changes);
	put_minutes(out, &layout->minutes);
	if (layout->missing.count == 0)
		hs_buf_str(out, "Nothing is missing, as far as the kit tells.\n");
	else
		put_list(out, "Missing", &layout->missing);
}

/* ---- as data ---- */

static void put_strings(hs_json_writer *w, const char *key, const hs_lines_of *lines)
{
	hs_json_open_array(w, key);
	for (size_t i = 0; i < lines->count; i++)
		hs_json_put_string(w, NULL, lines->items[i]);
	hs_json_close_array(w);
}

static void put_json_instruments(hs_json_writer *w, const hs_layout *layout)
{
	hs_json_open_array(w, "instruments");
	for (size_t i = 0; i < layout->instrument_count; i++) {
		const hs_part *it = layout->instruments[i];
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "id", it->id);
		hs_json_put_string(w, "title", it->title);
		hs_json_put_string(w, "serial", it->serial);
		hs_json_put_string(w, "due", it->due);
		hs_json_put_bool(w, "overdue", listed(&layout->overdue, it->id));
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
}

static void put_json_leads(hs_json_writer *w, const hs_layout *layout)
{
	hs_json_open_array(w, "hookups");
	for (size_t i = 0; i < layout->lead_count; i++) {
		const hs_laid_lead *lead = &layout->leads[i];
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "name", lead->name);
		hs_json_put_bool(w, "role", lead->role != NULL);
		hs_json_put_string(w, "hookup", lead->hookup ? lead->hookup->id : NULL);
		hs_json_put_string(w, "drawn", lead->drawn);
		put_strings(w, "points", &lead->points);
		put_strings(w, "misses", &lead->misses);
		put_strings(w, "would_do", &lead->fit);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
}

static void put_json(hs_buf *out, const hs_playbook *playbook, const hs_layout *layout)
{
	hs_json_writer w;
	hs_json_begin(&w, out);
	hs_json_open_object(&w, NULL);
	hs_json_put_string(&w, "playbook", playbook->id);
	hs_json_put_integer(&w, "edition", playbook->edition);
	put_json_instruments(&w, layout);
	put_json_leads(&w, layout);
	put_strings(&w, "known_sources", &layout->knowns);
	put_strings(&w, "adapters", &layout->adapters);
	put_strings(&w, "terminations", &layout->terminations);
	put_strings(&w, "loads", &layout->loads);
	put_strings(&w, "drivers", &layout->drivers);
	put_strings(&w, "tools", &layout->tools);
	put_strings(&w, "consumables", &layout->consumables);
	put_strings(&w, "pictures", &layout->pictures);
	put_strings(&w, "second_person", &layout->helpers);
	put_strings(&w, "covers", &layout->covers);
	put_strings(&w, "changes", &layout->changes);
	hs_json_open_object(&w, "minutes");
	hs_json_put_number(&w, "shortest", layout->minutes.shortest);
	hs_json_put_number(&w, "expected", layout->minutes.expected);
	hs_json_put_number(&w, "longest", layout->minutes.longest);
	hs_json_put_integer(&w, "steps_without", (long long)layout->minutes.silent);
	hs_json_close_object(&w);
	put_strings(&w, "missing", &layout->missing);
	hs_json_close_object(&w);
	hs_buf_char(out, '\n');
}

/* ---- the command ---- */

static int refuse(const hs_bench *bench, const char *what)
{
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < bench->problems.count; i++)
		hs_problem_print(&bench->problems.items[i], &text);
	fputs(text.data, stderr);
	hs_buf_free(&text);
	hs_cli_say("%s with errors cannot be prepared for", what);
	return HS_EXIT_INPUT;
}

/*
 * The playbook is taken without a kit, because a lead of this shop that does not fit is what is to be found out, and the kit by itself;
 * they only meet in the layout.
 */
typedef struct preparing {
	hs_folders folders;
	hs_bench bench;
	hs_sources *kit_sources;
	hs_kit *kit;
	const char *kit_path;
} preparing;

static bool load_kit(preparing *p, int *status)
{
	hs_error error = {0};
	hs_bench kit = {0};
	hs_sources_free(p->kit_sources);
	hs_kit_free(p->kit);
	p->kit = NULL;
	p->kit_sources = hs_sources_from_disk(p->kit_path, NULL, 0, &error);
	if (!p->kit_sources) {
		*status = hs_cli_fail(&error);
		return false;
	}
	p->kit = hs_kit_load(p->kit_sources, HS_PLACES_EXACT, &kit.problems, &error);
	bool good = p->kit && kit.problems.errors == 0;
	if (!good) {
		hs_problems_sort(&kit.problems);
		*status = refuse(&kit, "a kit");
	}
	hs_problems_free(&kit.problems);
	return good;
}

static bool load(preparing *p, const char *word, const request *given, int *status)
{
	hs_error error = {0};
	bool named;
	hs_folders_find(&p->folders);
	const char *path = hs_playbook_path(&p->folders, word, &error);
	if (!path || !hs_bench_load(&p->bench, &p->folders, word, path, NULL, &error)) {
		*status = hs_cli_fail(&error);
		return false;
	}
	if (p->bench.problems.errors) {
		*status = refuse(&p->bench, "a playbook");
		return false;
	}
	p->kit_path = hs_kit_path(&p->folders, given->kit, path, &named);
	return !p->kit_path || load_kit(p, status);
}

static bool bind(preparing *p, const char *wish, int *status)
{
	hs_error error = {0};
	if (!p->kit) {
		hs_fail(&error, HS_BAD_INPUT, "there is no kit to bind in");
		hs_fail_hint(&error, "name it with --kit FILE");
		*status = hs_cli_fail(&error);
		return false;
	}
	if (!hs_layout_bind(p->kit_path, p->bench.playbook, p->kit, wish, &error)) {
		*status = hs_cli_fail(&error);
		return false;
	}
	return load_kit(p, status);
}

static int prepare(preparing *p, const char *word, const request *given)
{
	int status = HS_EXIT_GOOD;
	hs_layout layout = {0};
	char today[16];
	time_t now = time(NULL);
	struct tm utc;
	if (!load(p, word, given, &status) || (given->bind && !bind(p, given->bind, &status)))
		return status;
	strftime(today, sizeof today, "%Y-%m-%d", gmtime_r(&now, &utc));
	hs_layout_make(&layout, p->bench.playbook, p->kit, today);
	hs_buf out;
	hs_buf_init(&out);
	if (given->json)
		put_json(&out, p->bench.playbook, &layout);
	else
		put_layout(&out, p->bench.playbook, &layout);
	hs_cli_print(&out);
	hs_buf_free(&out);
	status = layout.missing.count > 0 ? HS_EXIT_BAD : HS_EXIT_GOOD;
	hs_layout_free(&layout);
	return status;
}

static const hs_option options[] = {
    {"kit", 0, "FILE", "this shop's kit; else $HALFSPLIT_KIT, else kit.lua beside the playbook", offsetof(request, kit)},
    {"bind", 0, "ROLE=HOOKUP", "first write into the kit file that this hookup fills the role", offsetof(request, bind)},
    {"json", 0, NULL, "the list as data", offsetof(request, json)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	int first, status;
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	preparing p = {0};
	status = prepare(&p, argv[first], &given);
	hs_bench_free(&p.bench);
	hs_kit_free(p.kit);
	hs_sources_free(p.kit_sources);
	hs_folders_free(&p.folders);
	return status;
}

const hs_command hs_command_prepare = {
    .name = "prepare",
    .operands = "PLAYBOOK",
    .says = "lists what to lay out before a playbook is begun, and what is missing",
    .help = "Instruments, hookups, adapters, terminations, loads, drivers, consumables, a second person, and how long it takes. --bind adds a\n"
            "line to the end of the kit file; what stands in it already is kept as it is. Status 1 when something is missing.\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1,
    .run = run,
};
