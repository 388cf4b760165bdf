/* halfsplit resume: goes on with a transcript where it stopped; playbook and kit come from its own copy. */
#include <stdlib.h>
#include <string.h>
#include "past.h"
#include "sitting.h"

typedef struct hs_resuming {
	hs_bench bench;
	hs_replay *replay;
	const hs_replay_result *result;
	hs_journal *journal;
	hs_sitting sitting;
	hs_sources *kit_sources;
	hs_kit *kit; /* this shop's as it is now: only for the programs by which its instruments are read */
	const char *kit_path;
	bool repaired;
	hs_journal_repaired repair;
} hs_resuming;

static bool reopen(hs_resuming *resuming, const char *path, hs_error *error)
{
	resuming->replay = hs_replay_new(hs_bench_replay, &resuming->bench);
	hs_chain chain;
	resuming->journal = hs_journal_open(path, NULL, hs_replay_line, resuming->replay, &chain, error);
	if (!resuming->journal)
		return false;
	const hs_replay_result *result = resuming->result = hs_replay_get(resuming->replay);
	if (result->state == HS_REPLAY_FOREIGN) {
		*error = result->error;
		return hs_fail_at(error, path, 1);
	}
	if (result->state == HS_REPLAY_EMPTY) {
		hs_fail(error, HS_BAD_INPUT, "no line is whole: this run ended before anything was recorded");
		hs_fail_hint(error, "start a new run");
		return hs_fail_at(error, path, 0);
	}
	if (result->state != HS_REPLAY_GOOD) {
		hs_fail(error, HS_BAD_INPUT, "the transcript does not hold together: %.400s", result->reason);
		hs_fail_hint(error, "halfsplit audit tells more");
		return hs_fail_at(error, path, 0);
	}
	/* A run that was killed while it closed lacks its last lines; those are still added. To a whole one nothing is.
	 */
	if (result->closed && !result->missing->count && chain.state == HS_CHAIN_GOOD) {
		hs_fail(error, HS_BAD_INPUT, "this run is closed; nothing is left to go on with");
		hs_fail_hint(error, "halfsplit show gives its report");
		return hs_fail_at(error, path, 0);
	}
	return true;
}

/* Answers from a file must never end up in the record of real work. */
static bool may_answer(const hs_resuming *resuming, const char *path, hs_error *error)
{
	if (!resuming->sitting.answers || resuming->result->opening->rehearsal)
		return true;
	hs_fail(error, HS_BAD_INPUT, "this is the transcript of a real run; a file of answers cannot go on with it");
	hs_fail_hint(error, "a rehearsal is begun with halfsplit run --answers");
	return hs_fail_at(error, path, 0);
}

/* Some time after the last answer, and always the same. */
static int64_t epoch(const hs_replay_result *result)
{
	int64_t last = 0;
	return hs_utc_read(result->last_utc, &last) ? last + 60000 : 0;
}

static bool mend(hs_resuming *resuming, hs_error *error)
{
	char utc[HS_STAMP_ROOM];
	int64_t mono_ms = hs_seat_stamp(resuming->sitting.seat, utc);
	hs_lines lines = {0};
	bool fine = true;
	if (hs_journal_repair_due(resuming->journal)) {
		fine = hs_journal_repair(resuming->journal, &resuming->repair, error);
		resuming->repaired = fine;
		if (fine)
			hs_lines_repaired(&lines, &resuming->repair, utc, mono_ms);
	}
	fine = fine && hs_lines_commit(&lines, resuming->journal, error) &&
	       hs_lines_commit(resuming->result->missing, resuming->journal, error);
	hs_lines_free(&lines);
	return fine;
}

static void tell(hs_resuming *resuming)
{
	const hs_opening *opening = resuming->result->opening;
	hs_buf text, reason;
	hs_buf_init(&reason);
	hs_buf_init(&text);
	bool stopped = hs_engine_stopped_by(resuming->result->engine, &reason);
	if (stopped) {
		hs_buf_str(&text, "Stopped by ");
		hs_buf_shown(&text, reason.data, false);
		hs_buf_str(&text, ". That stop goes on: the power first, then what happened.\n");
		hs_buf_clear(&reason);
	}
	if (opening->rehearsal)
		hs_buf_str(&text, "REHEARSAL: this transcript is not a record of work on a unit.\n");
	hs_buf_str(&text, "Going on with unit ");
	hs_buf_shown(&text, opening->unit, false);
	hs_buf_printf(&text, ", %s edition %d, where it stopped after %zu answers.\n", opening->playbook_id,
	              opening->edition, resuming->result->answers);
	if (!stopped && hs_engine_paused_because(resuming->result->engine, &reason)) {
		hs_buf_str(&text, "It stopped by ");
		hs_buf_shown(&text, reason.data, false);
		hs_buf_str(&text, ".\n");
	}
	hs_buf_str(&text, "At the bench then: ");
	hs_buf_shown(&text, hs_engine_by(resuming->result->engine), false);
	hs_buf_str(&text, ".\n");
	hs_buf_free(&reason);
	if (resuming->repaired) {
		hs_buf_printf(&text,
		              "The last line of the transcript was torn: %zu bytes were cut off and are kept in ",
		              resuming->repair.cut);
		hs_buf_shown(&text, resuming->repair.kept, false);
		hs_buf_str(&text, ". What it held was never acknowledged.\n");
	}
	/* No screen was measured yet: sixty columns fit them all. */
	hs_buf whole;
	hs_buf_init(&whole);
	hs_buf_wrap(&whole, text.data, 60, 2);
	hs_buf_str(&whole, "transcript: ");
	hs_buf_shown(&whole, hs_journal_path(resuming->journal), false);
	hs_buf_char(&whole, '\n');
	resuming->sitting.seat->show(resuming->sitting.seat, whole.data);
	hs_buf_free(&whole);
	hs_buf_free(&text);
}

static void tell_closed(hs_resuming *resuming)
{
	hs_seat *seat = resuming->sitting.seat;
	seat->show(
	    seat,
	    "This run is closed. The lines that were missing at its end have been added; halfsplit show gives its "
	    "report.\n");
	hs_drive_sheet(seat, resuming->journal);
}

/*
 * A transcript may come from another shop, and the kit in it too: it never says what is run here. A program named in it is offered
 * where this shop's own kit names the same.
 */
static bool load_programs(hs_resuming *resuming, const char *given, hs_error *error)
{
	const char *path = given ? given : getenv("HALFSPLIT_KIT");
	hs_problems problems = {0};
	if (!path || !*path || resuming->sitting.answers)
		return true;
	resuming->kit_path = path;
	resuming->kit_sources = hs_sources_from_disk(path, NULL, 0, error);
	resuming->kit = resuming->kit_sources ? hs_kit_load(resuming->kit_sources, HS_PLACES_EXACT, &problems, error) : NULL;
	bool good = resuming->kit && hs_problems_clean(&problems, error);
	hs_problems_free(&problems);
	return good;
}

typedef struct request {
	const char *by, *answers, *kit;
	bool large, bell;
} request;

/* Whoever goes on says who it is: three weeks later it may be somebody else. NULL: they would not go on. */
static char *who_goes_on(hs_resuming *resuming, const char *by)
{
	hs_error error = {0};
	hs_buf name;
	if (by || resuming->sitting.answers)
		return hs_strdup(by ? by : hs_engine_by(resuming->result->engine));
	hs_buf_init(&name);
	bool given = hs_sitting_ask(&resuming->sitting, &resuming->bench, "by", &name, &error);
	char *said = given ? hs_strdup(name.data) : NULL;
	hs_buf_free(&name);
	return said;
}

static int resume_it(hs_resuming *resuming, const char *path, const request *given)
{
	const char *by = given->by;
	hs_error error = {0};
	if ((by && !hs_cli_name_fine(by, "the name given with --by", &error)) ||
	    !hs_sitting_prepare(&resuming->sitting, given->answers, &error) || !reopen(resuming, path, &error) ||
	    !may_answer(resuming, path, &error) || !load_programs(resuming, given->kit, &error) ||
	    !hs_sitting_open(&resuming->sitting, epoch(resuming->result), &error) || !mend(resuming, &error))
		return hs_cli_fail(&error);
	resuming->sitting.seat->screen.large = given->large;
	resuming->sitting.seat->bell = given->bell && !resuming->sitting.seat->rehearsal;
	tell(resuming);
	if (resuming->result->closed) {
		tell_closed(resuming);
		return HS_EXIT_GOOD;
	}
	hs_engine *engine = resuming->result->engine;
	hs_seat *seat = resuming->sitting.seat;
	seat->screen.serial = resuming->result->opening->unit;
	if (resuming->kit)
		hs_sitting_programs(&resuming->sitting, resuming->kit, resuming->kit_path);
	seat->screen.run = resuming->result->opening->run;
	char *name = who_goes_on(resuming, by);
	if (!name)
		return HS_EXIT_PAUSED;
	hs_event event = {.kind = HS_EVENT_RESUME, .text = "", .by = hs_trim(name)};
	hs_taken taken;
	int status = HS_EXIT_GOOD;
	if (!hs_drive_event(seat, engine, resuming->journal, &event, &taken, &error))
		status = hs_cli_fail(&error);
	else
		status = hs_sitting_run(&resuming->sitting, engine, resuming->journal, event.by);
	free(name);
	return status;
}

static const hs_option options[] = {
    {"by", 0, "NAME", "who is at the bench now; asked unless given", offsetof(request, by)},
    {"kit", 0, "FILE", "this shop's kit, for the programs by which its instruments are read; else $HALFSPLIT_KIT", offsetof(request, kit)},
    {"answers", 0, "FILE", "go on with a rehearsal: the answers come from this file", offsetof(request, answers)},
    {"large", 0, NULL, "large type: the essentials in short lines, to be read across the bench", offsetof(request, large)},
    {"bell", 0, NULL, "a bell at each gate and at what is refused, as at the end of a wait", offsetof(request, bell)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	int first, status;
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	hs_resuming resuming = {0};
	status = resume_it(&resuming, argv[first], &given);
	hs_journal_close(resuming.journal);
	hs_sitting_free(&resuming.sitting);
	hs_kit_free(resuming.kit);
	hs_sources_free(resuming.kit_sources);
	hs_replay_free(resuming.replay);
	hs_bench_free(&resuming.bench);
	return status;
}

const hs_command hs_command_resume = {
    .name = "resume",
    .operands = "TRANSCRIPT",
    .says = "goes on with a run where it stopped",
    .help = "The power state is unknown after a pause, so its gates are asked anew. Playbook and kit come from the "
            "transcript's own\n"
            "copy. A torn last line is cut off, its bytes are kept beside, and the transcript says so.\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1,
    .run = run,
};
