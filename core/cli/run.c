/* halfsplit run: a guided run, from nothing to a close or a pause. */
#include <stdlib.h>
#include <string.h>
#include <errno.h>
#include <sys/random.h>
#include <sys/stat.h>
#include "sitting.h"

/* Answers from a file are given at a time of their own: 2026-01-01T09:00:00Z, so that the same inputs give the same
 * transcript. */
#define REHEARSAL_EPOCH_MS INT64_C(1767258000000)

#define MOST_OF_ONE_NAME 10000 /* rehearsals with the same inputs that one folder holds */

typedef struct hs_request {
	const char *playbook, *unit, *by, *kit, *answers, *transcript, *from, *sim, *seed;
	bool large, bell;
	bool freehand; /* then playbook is the family, or NULL */
} hs_request;

/* All that a run holds, so that it is given back in one place. */
typedef struct hs_running {
	hs_folders folders;
	hs_bench bench;
	hs_sitting sitting;
	hs_engine *engine;
	hs_journal *journal;
	const char *kit_path; /* of a kit that the user named; NULL otherwise */
	const char *kit_file; /* freehand: where the kit is, whoever named it; NULL: none */
	hs_buf unit, by, path;
	char run[33], utc[HS_STAMP_ROOM];
	int64_t mono_ms;
} hs_running;

/* FAMILY is a path, or a folder of the library that holds a family file. */
static bool load_freehand(hs_running *running, const hs_request *request, hs_error *error)
{
	const char *family = request->playbook ? request->playbook : "", *path = NULL;
	bool named;
	if (*family) {
		path = hs_family_path(&running->folders, family, error);
		if (!path)
			return false;
	}
	const char *kit = hs_kit_path(&running->folders, request->kit, path ? path : "", &named);
	running->kit_file = kit;
	return hs_bench_load_freehand(&running->bench, &running->folders, family, path, kit, error);
}

static bool load(hs_running *running, const hs_request *request, hs_error *error)
{
	hs_folders_find(&running->folders);
	if (request->freehand)
		return load_freehand(running, request, error);
	const char *path = hs_playbook_path(&running->folders, request->playbook, error);
	if (!path)
		return false;
	bool named;
	const char *kit = hs_kit_path(&running->folders, request->kit, path, &named);
	running->kit_path = named ? kit : NULL;
	return hs_bench_load(&running->bench, &running->folders, request->playbook, path, kit, error);
}

static int refuse_problems(const hs_bench *bench)
{
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < bench->problems.count; i++)
		hs_problem_print(&bench->problems.items[i], &text);
	fputs(text.data, stderr);
	hs_buf_free(&text);
	if (!bench->problems.errors)
		return HS_EXIT_GOOD;
	hs_cli_say("%s with errors is not run", bench->freehand ? "a family or kit" : "a playbook");
	return HS_EXIT_INPUT;
}

static bool all_bound(const hs_bench *bench, hs_error *error)
{
	hs_buf names;
	hs_buf_init(&names);
	size_t count = hs_bench_unbound(bench, &names);
	if (count) {
		hs_fail(error, HS_BAD_INPUT, "the playbook asks for hookups that no kit gives: %s", names.data);
		if (bench->kit)
			hs_fail_hint(error, "halfsplit prepare %s says what they must be, and binds them to the kit", bench->playbook->id);
		else
			hs_fail_hint(error, "name this shop's kit with --kit FILE or HALFSPLIT_KIT");
	}
	hs_buf_free(&names);
	return !count;
}

/* A run that nobody answers has an id that its inputs give; a real one has a random id. */
static bool make_run_id(hs_running *running, const char *from, hs_error *error)
{
	unsigned char random[16];
	if (hs_sitting_unattended(&running->sitting)) {
		char digest[HS_HEX_ROOM] = "";
		hs_buf text;
		hs_buf_init(&text);
		if (running->bench.playbook_sources)
			hs_sources_digest(running->bench.playbook_sources, digest);
		hs_buf_str(&text, digest);
		if (running->bench.kit_sources)
			hs_sources_digest(running->bench.kit_sources, digest);
		hs_buf_printf(&text, "%s%s%s", running->bench.kit_sources ? digest : "", running->sitting.answers_sha256,
		              from ? from : "");
		hs_sha256_hex(text.data, text.length, digest);
		hs_buf_free(&text);
		memcpy(running->run, digest, 32);
		return true;
	}
	if (getrandom(random, sizeof random, 0) != (ssize_t)sizeof random)
		return hs_fail(error, HS_IO, "no random number for the run id: %s", strerror(errno));
	for (size_t i = 0; i < sizeof random; i++)
		snprintf(running->run + 2 * i, 3, "%02x", random[i]);
	return true;
}

/* Who and what, given with the command or asked first. */
static bool identify(hs_running *running, const hs_request *request, hs_error *error)
{
	struct {
		const char *given, *fact, *what;
		hs_buf *out;
	} asked[] = {{request->unit, "serial", "the serial number given with --unit", &running->unit},
	             {request->by, "by", "the name given with --by", &running->by}};
	for (size_t i = 0; i < 2; i++) {
		if (!asked[i].given && request->sim) {
			hs_buf_str(asked[i].out, i == 0 ? "SIMULATED" : "Nobody");
			continue;
		}
		if (!asked[i].given) {
			if (!hs_sitting_ask(&running->sitting, &running->bench, asked[i].fact, asked[i].out,
			                    error))
				return false;
			continue;
		}
		if (!hs_cli_name_fine(asked[i].given, asked[i].what, error))
			return false;
		char *copy = hs_strdup(asked[i].given);
		hs_buf_str(asked[i].out, hs_trim(copy));
		free(copy);
	}
	return true;
}

/*
 * The same rehearsal has the same run id, so its place by default may be taken; then -2, -3 and so on tells the file
 * from the others. The id in it stays.
 */
static bool make_default_journal(hs_running *running, hs_error *error)
{
	const hs_journal_options options = {.make_folders = true};
	for (int number = 1; number <= MOST_OF_ONE_NAME; number++) {
		struct stat info;
		char name[48];
		hs_error why = {0};
		snprintf(name, sizeof name, "%s", running->run);
		if (number > 1)
			snprintf(name, sizeof name, "%s-%d", running->run, number);
		hs_buf_clear(&running->path);
		if (!hs_transcript_path(&running->path, running->unit.data, running->utc, name, error))
			return false;
		running->journal = hs_journal_create(running->path.data, &options, &why);
		if (running->journal)
			return true;
		*error = why;
		if (!hs_sitting_unattended(&running->sitting) || lstat(running->path.data, &info) != 0)
			return false;
	}
	return false;
}

static bool make_journal(hs_running *running, const char *path, hs_error *error)
{
	running->mono_ms = hs_seat_stamp(running->sitting.seat, running->utc);
	if (!path)
		return make_default_journal(running, error);
	hs_buf_str(&running->path, path);
	running->journal = hs_journal_create(path, NULL, error);
	return running->journal != NULL;
}

/* Only nobody at a unit may begin in the middle: what was skipped was not seen there. */
static bool may_begin_at(const hs_request *request, hs_error *error)
{
	if (request->from && request->freehand) {
		hs_fail(error, HS_BAD_INPUT, "a freehand run has no step to begin at");
		return hs_fail_hint(error, "leave --from out");
	}
	if (!request->from || request->answers || request->sim)
		return true;
	hs_fail(error, HS_BAD_INPUT, "a real run begins where its playbook begins; --from is for rehearsals");
	return hs_fail_hint(error, "give a file of answers with --answers, or a fault with --sim, or leave --from out");
}

static bool make_engine(hs_running *running, const hs_request *request, hs_error *error)
{
	running->engine = hs_bench_engine(&running->bench, running->by.data, error);
	return running->engine && (!request->from || hs_engine_begin_at(running->engine, request->from, error));
}

/* "simulated unit fuse/open, seed 7": whoever answered is named in the transcript's first line. */
static void say_who(const hs_running *running, hs_buf *out)
{
	const hs_played *played = &running->sitting.played;
	hs_buf_str(out, played->name ? "simulated unit " : "answers");
	if (!played->name)
		return;
	hs_sim_fault_name(played->playbook, played->fault, out);
	hs_buf_printf(out, ", seed %llu", (unsigned long long)played->seed);
}

static bool begin(hs_running *running, const hs_request *request, hs_error *error)
{
	const hs_playbook *playbook = hs_engine_playbook(running->engine);
	hs_arena *arena = hs_arena_new();
	hs_buf who;
	hs_buf_init(&who);
	say_who(running, &who);
	hs_opening opening = {
	    .rules = HS_RULES_VERSION,
	    .run = running->run,
	    .program = HS_VERSION,
	    .playbook_id = playbook->id,
	    .edition = playbook->edition,
	    .title = playbook->title,
	    .freehand = running->bench.freehand,
	    .acts = running->bench.freehand ? HS_ACTS_VERSION : 0,
	    .unit = running->unit.data,
	    .by = running->by.data,
	    .rehearsal = running->sitting.seat->rehearsal ? who.data : NULL,
	    .from = request->from,
	    .utc = running->utc,
	    .mono_ms = running->mono_ms,
	};
	hs_bench_files(&running->bench, arena, &opening.playbook, &opening.kit);
	bool fine = hs_transcript_begin(running->journal, running->engine, &opening, error);
	hs_arena_free(arena);
	hs_buf_free(&who);
	return fine;
}

/* Before the first question, because a run keeps to the kit it began with. */
static void say_kit(const hs_running *running)
{
	const hs_kit *kit = running->bench.kit;
	size_t count = 0;
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; kit && i < kit->hookup_count; i++)
		count += !hs_hookup_is_bare(kit->hookups[i]);
	if (kit) {
		hs_buf_str(&text, "Kit: ");
		hs_buf_shown(&text, running->kit_file, false);
		hs_buf_printf(&text, "\n  %zu hookup%s; show kit lists them at any prompt.\n", count, count == 1 ? "" : "s");
	} else {
		hs_buf_str(&text, "No kit: nothing is known of your leads and instruments, so\n"
		                  "all is read by eye, without corrections, and nothing can be\n"
		                  "put in. To have one, pause and begin anew with --kit FILE,\n"
		                  "or with a kit.lua in this folder (see docs/kit.md).\n");
	}
	running->sitting.seat->show(running->sitting.seat, text.data);
	hs_buf_free(&text);
}

static void greet(hs_running *running, const char *from)
{
	const hs_playbook *playbook = hs_engine_playbook(running->engine);
	hs_buf text;
	hs_buf_init(&text);
	if (running->sitting.played.name) {
		hs_buf_str(&text, "REHEARSAL: the answers come from a ");
		say_who(running, &text);
		hs_buf_str(&text, "; no unit is touched.\n");
	} else if (running->sitting.seat->rehearsal)
		hs_buf_str(&text, "REHEARSAL: the answers come from a file; no unit is touched.\n");
	if (from)
		hs_buf_printf(&text, "It begins at the step %s.\n", from);
	hs_buf_shown(&text, playbook->title ? playbook->title : playbook->id, false);
	if (running->bench.freehand)
		hs_buf_str(&text, ": there is no playbook;\nyou name the acts, the gates stay as they are.\ntranscript: ");
	else
		hs_buf_printf(&text, " (%s, edition %d)\ntranscript: ", playbook->id, playbook->edition);
	hs_buf_shown(&text, running->path.data, false);
	hs_buf_str(&text, "\nhalfsplit records and blocks; it makes nothing safe.\n"
	                  "Local codes, your employer's rules and licensed practice\ncome first.\n");
	running->sitting.seat->show(running->sitting.seat, text.data);
	hs_buf_free(&text);
}

static bool read_seed(const char *text, uint64_t *seed, hs_error *error)
{
	char *end = NULL;
	*seed = text ? strtoull(text, &end, 10) : 0;
	if (!text || (*text >= '0' && *text <= '9' && *end == '\0' && strlen(text) < 19))
		return true;
	hs_fail(error, HS_BAD_INPUT, "--seed %.40s is no number", text);
	return hs_fail_hint(error, "write a whole number; 0 draws nothing, and all is nominal");
}

/* Who answers: a person, a file, or a simulated unit. */
static bool prepare(hs_running *running, const hs_request *request, hs_error *error)
{
	uint64_t seed;
	if (!request->sim && !request->seed)
		return hs_sitting_prepare(&running->sitting, request->answers, error);
	if (!request->sim) {
		hs_fail(error, HS_BAD_INPUT, "--seed draws a simulated unit, and there is none");
		return hs_fail_hint(error, "name its fault with --sim SUSPECT/MODE, or leave --seed out");
	}
	if (request->answers || request->freehand) {
		hs_fail(error, HS_BAD_INPUT, "--sim and %s do not go together", request->answers ? "--answers" : "--freehand");
		return hs_fail_hint(error, request->answers ? "either a file answers or the simulated unit does; leave one out"
		                                            : "a simulated unit shows what its playbook says of it");
	}
	if (!read_seed(request->seed, &seed, error))
		return false;
	hs_sitting_simulate(&running->sitting, request->sim, seed);
	return true;
}

static int run_it(hs_running *running, const hs_request *request)
{
	hs_error error = {0};
	if (!may_begin_at(request, &error) || !prepare(running, request, &error) || !load(running, request, &error))
		return hs_cli_fail(&error);
	int status = refuse_problems(&running->bench);
	if (status != HS_EXIT_GOOD)
		return status;
	if ((!request->freehand && !all_bound(&running->bench, &error)) ||
	    !hs_sitting_play(&running->sitting, running->bench.playbook, &error) || !hs_sitting_open(&running->sitting, REHEARSAL_EPOCH_MS, &error) ||
	    !make_run_id(running, request->from, &error))
		return hs_cli_fail(&error);
	running->sitting.seat->screen.large = request->large;
	running->sitting.seat->bell = request->bell && !running->sitting.seat->rehearsal;
	if (request->freehand)
		say_kit(running);
	if (!identify(running, request, &error)) {
		if (error.code != HS_FINE)
			return hs_cli_fail(&error);
		hs_cli_say("nothing was begun");
		return HS_EXIT_PAUSED;
	}
	running->sitting.seat->screen.serial = running->unit.data;
	if (running->kit_path)
		hs_sitting_programs(&running->sitting, running->bench.kit, running->kit_path);
	running->sitting.seat->screen.run = running->run;
	if (!make_engine(running, request, &error) || !make_journal(running, request->transcript, &error) ||
	    !begin(running, request, &error))
		return hs_cli_fail(&error);
	greet(running, request->from);
	return hs_sitting_run(&running->sitting, running->engine, running->journal, running->by.data);
}

static const hs_option options[] = {
    {"freehand", 0, NULL, "without a playbook: you name the acts; in place of PLAYBOOK stands a family, or nothing", offsetof(hs_request, freehand)},
    {"unit", 0, "SERIAL", "serial number of the unit on the bench; asked when it is not given",
     offsetof(hs_request, unit)},
    {"by", 0, "NAME", "who is at the bench; asked when it is not given", offsetof(hs_request, by)},
    {"kit", 0, "FILE", "this shop's kit; else $HALFSPLIT_KIT, else kit.lua beside the playbook",
     offsetof(hs_request, kit)},
    {"answers", 0, "FILE", "a rehearsal: the answers come from this file", offsetof(hs_request, answers)},
    {"sim", 0, "SUSPECT/MODE", "a rehearsal: the answers come from a simulated unit with this fault; none: a unit in order",
     offsetof(hs_request, sim)},
    {"seed", 0, "N", "which unit that is: equal seeds give equal runs; 0 unless given, all nominal", offsetof(hs_request, seed)},
    {"from", 0, "STEP", "a rehearsal that begins at this step; every gate is asked all the same", offsetof(hs_request, from)},
    {"large", 0, NULL, "large type: the essentials in short lines, to be read across the bench", offsetof(hs_request, large)},
    {"bell", 0, NULL, "a bell at each gate and at what is refused, as at the end of a wait", offsetof(hs_request, bell)},
    {"transcript", 0, "FILE", "where the transcript goes; never written over", offsetof(hs_request, transcript)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	hs_request request = {0};
	int first, status;
	if (!hs_cli_options(command, &request, argc, argv, &first, &status))
		return status;
	request.playbook = first < argc ? argv[first] : NULL;
	if (!request.playbook && !request.freehand) {
		hs_error error = {0};
		hs_fail(&error, HS_BAD_INPUT, "run needs PLAYBOOK");
		hs_fail_hint(&error, "halfsplit list shows them; where none fits, halfsplit run --freehand");
		return hs_cli_fail(&error);
	}
	hs_running running = {0};
	hs_buf_init(&running.unit);
	hs_buf_init(&running.by);
	hs_buf_init(&running.path);
	status = run_it(&running, &request);
	hs_journal_close(running.journal);
	hs_engine_free(running.engine);
	hs_sitting_free(&running.sitting);
	hs_bench_free(&running.bench);
	hs_folders_free(&running.folders);
	hs_buf_free(&running.unit);
	hs_buf_free(&running.by);
	hs_buf_free(&running.path);
	return status;
}

const hs_command hs_command_run = {
    .name = "run",
    .operands = "PLAYBOOK",
    .says = "goes through a playbook with a unit on the bench, and keeps the transcript",
    .help = "PLAYBOOK is a path when it ends in .lua, else the name of a playbook in $HALFSPLIT_PLAYBOOKS, ./playbooks "
            "or the\n"
            "installed library. The transcript goes to $HALFSPLIT_RUNS, else ~/.local/share/halfsplit/runs.\n"
            "With --freehand a family is a folder of the library that holds a family.lua, or the path of such a file; its kit lies "
            "beside it.\n"
            "Without one the unit is asked about first, and the kit is kit.lua in this folder.\n"
            "Every prompt takes help, why, show, note TEXT, redo, pause, leave and stop.\n"
            "Status: 0 a finding was reached, 4 paused before, 2 the request is wrong, 3 the transcript cannot be "
            "written.\n",
    HS_OPTIONS(options),
    .least = 0,
    .most = 1,
    .run = run,
};
