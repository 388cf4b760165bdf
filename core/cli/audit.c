/* halfsplit audit: chain, and every decision derived again from the raw answers. */
#include <string.h>
#include "halfsplit/json/json.h"
#include "library.h"
#include "past.h"

/* What an audit of one transcript found. */
typedef struct hs_found {
	hs_buf words; /* "complete, repaired" */
	bool good, derives, tampered, has_anchor;
	hs_anchor anchor;
	hs_anchor_state anchored;
} hs_found;

static void add_word(hs_found *found, const char *word)
{
	hs_buf_printf(&found->words, "%s%s", found->words.length ? ", " : "", word);
}

static void judge(const hs_past *past, const char *anchor_text, hs_found *found)
{
	const hs_chain *chain = &past->chain;
	found->derives = past->result->state == HS_REPLAY_GOOD;
	found->tampered = chain->state == HS_CHAIN_TAMPERED || past->result->state == HS_REPLAY_DIFFERS;
	if (anchor_text)
		found->anchored = hs_anchor_check(&found->anchor, past->data.data, chain);
	if (anchor_text && found->anchored == HS_ANCHOR_OTHER)
		found->tampered = true;
	if (found->tampered)
		add_word(found, "tampered");
	else if (chain->state == HS_CHAIN_TORN)
		add_word(found, "torn");
	else if (anchor_text && found->anchored == HS_ANCHOR_SHORTER)
		add_word(found, "shorter than its anchor");
	else
		found->good = true;
	if (found->good)
		add_word(found, past->result->closed && !past->result->missing->count ? "complete" : "unfinished");
	if (past->result->repairs)
		add_word(found, "repaired");
	if (hs_chain_converted(chain))
		add_word(found, "transport-converted");
}

/* Lines that resume would add: none where it would refuse the file. */
static size_t addable(const hs_past *past, const hs_found *found)
{
	bool refused = found->tampered || hs_chain_converted(&past->chain);
	return refused ? 0 : past->result->missing->count;
}

static const char *anchor_words(const hs_found *found, hs_buf *scratch, const hs_past *past)
{
	hs_buf_clear(scratch);
	if (found->has_anchor)
		hs_anchor_tell(scratch, &found->anchor, found->anchored, &past->chain);
	else if (found->good)
		hs_buf_str(scratch, "consistent with itself, not anchored");
	else
		hs_buf_str(scratch, "not anchored");
	return scratch->data;
}

static const char *derive_words(const hs_past *past)
{
	if (past->chain.state == HS_CHAIN_TAMPERED && past->result->state == HS_REPLAY_GOOD)
		return "the decisions before the bad line derive again from the answers";
	if (past->result->state == HS_REPLAY_EMPTY)
		return "no decision could be derived, because no line is whole";
	return past->result->state == HS_REPLAY_GOOD ? "every decision derives again from the answers"
	                                             : "the decisions do not derive again from the answers";
}

static void say_shown(hs_buf *out, const char *text)
{
	hs_buf_str(out, "  ");
	hs_buf_shown(out, text, false);
	hs_buf_char(out, '\n');
}

/*
 * Pictures of the run that are another today, one path a line. Of a picture the transcript keeps the digest alone, and nothing
 * that was decided hangs from it; but who looks at it now should know that the technician saw another.
 */
static void other_pictures(const hs_opening *opening, hs_buf *out)
{
	hs_folders folders;
	hs_error ignored = {0};
	hs_folders_find(&folders);
	const char *path = hs_playbook_path(&folders, opening->playbook_id, &ignored);
	hs_sources *sources = path ? hs_sources_from_disk(path, folders.items, folders.count, &ignored) : NULL;
	for (size_t i = 0; sources && i < opening->playbook.count; i++) {
		const hs_recorded_file *file = &opening->playbook.items[i];
		if (file->text)
			continue;
		const hs_source *today = hs_sources_open(sources, file->path, HS_SOURCE_TABLE, &ignored);
		if (!today || strcmp(today->sha256, file->sha256) != 0)
			hs_buf_printf(out, "%s\n", file->path);
	}
	hs_sources_free(sources);
	hs_folders_free(&folders);
}

static void say_pictures(const hs_opening *opening, hs_buf *out)
{
	hs_buf others;
	hs_buf_init(&others);
	other_pictures(opening, &others);
	for (char *at = others.data, *end; at && (end = strchr(at, '\n')); at = end + 1) {
		*end = '\0';
		hs_buf_str(out, "  the picture ");
		hs_buf_shown(out, at, false);
		hs_buf_str(out, " is another today than in this run, or gone\n");
	}
	hs_buf_free(&others);
}

static void put_pictures(hs_json_writer *w, const hs_opening *opening)
{
	hs_buf others;
	hs_buf_init(&others);
	hs_json_open_array(w, "other_pictures");
	if (opening)
		other_pictures(opening, &others);
	for (char *at = others.data, *end; at && (end = strchr(at, '\n')); at = end + 1) {
		*end = '\0';
		hs_json_put_string(w, NULL, at);
	}
	hs_json_close_array(w);
	hs_buf_free(&others);
}

static void print_text(const hs_past *past, const hs_found *found)
{
	hs_buf out, scratch;
	hs_buf_init(&out);
	hs_buf_init(&scratch);
	hs_buf_shown(&out, past->path, false);
	hs_buf_printf(&out, ": %s\n", found->words.data);
	const hs_opening *opening = past->result->opening;
	if (opening && opening->rehearsal)
		hs_buf_str(&out, "  REHEARSAL: nobody stood at a unit; this is not a record of work\n");
	if (opening && opening->from)
		hs_buf_printf(&out, "  it began at the step %s; what comes before was left out\n", opening->from);
	if (opening) {
		hs_buf_printf(&scratch, "unit %s, begun by %s, playbook %s edition %d", opening->unit, opening->by,
		              opening->playbook_id, opening->edition);
		say_shown(&out, scratch.data);
	}
	if (opening)
		say_pictures(opening, &out);
	if (past->chain.reason[0])
		say_shown(&out, past->chain.reason);
	if (past->result->reason[0])
		say_shown(&out, past->result->reason);
	if (addable(past, found))
		hs_buf_printf(&out,
		              addable(past, found) == 1 ? "  %zu line that the last answer causes is missing at the end; resume adds it\n"
		                                        : "  %zu lines that the last answer causes are missing at the end; resume adds them\n",
		              addable(past, found));
	hs_buf_printf(&out, "  %s\n  lines and head: ", derive_words(past));
	hs_anchor_print(&out, past->chain.count, past->chain.head);
	hs_buf_char(&out, '\n');
	say_shown(&out, anchor_words(found, &scratch, past));
	hs_cli_print(&out);
	hs_buf_free(&out);
	hs_buf_free(&scratch);
}

static void put_json(hs_json_writer *w, const hs_past *past, const hs_found *found)
{
	hs_buf scratch;
	hs_buf_init(&scratch);
	const hs_opening *opening = past->result->opening;
	hs_json_open_object(w, NULL);
	hs_json_put_string(w, "file", past->path);
	hs_json_put_string(w, "verdict", found->words.data);
	hs_json_put_bool(w, "good", found->good);
	hs_json_put_bool(w, "derives", found->derives);
	hs_json_put_string(w, "anchored",
	                   !found->has_anchor                     ? NULL
	                   : found->anchored == HS_ANCHOR_HOLDS   ? "holds"
	                   : found->anchored == HS_ANCHOR_SHORTER ? "shorter"
	                                                          : "other");
	hs_json_put_string(w, "says", anchor_words(found, &scratch, past));
	hs_json_put_bool(w, "rehearsal", opening && opening->rehearsal);
	hs_json_put_string(w, "unit", opening ? opening->unit : NULL);
	hs_json_put_string(w, "playbook", opening ? opening->playbook_id : NULL);
	size_t bad = past->chain.bad_line ? past->chain.bad_line : past->result->bad_line;
	if (bad) {
		hs_json_put_integer(w, "line", (long long)bad);
		hs_json_put_string(w, "reason", past->chain.reason[0] ? past->chain.reason : past->result->reason);
	}
	hs_json_put_integer(w, "lines", (long long)past->chain.count);
	hs_json_put_string(w, "head", past->chain.head);
	hs_json_put_integer(w, "answers", (long long)past->result->answers);
	hs_json_put_integer(w, "missing", (long long)addable(past, found));
	put_pictures(w, opening);
	hs_json_close_object(w);
	hs_buf_free(&scratch);
}

static int audit_one(const char *path, const char *anchor_text, hs_json_writer *w)
{
	hs_error error = {0};
	hs_past past;
	hs_found found = {.has_anchor = anchor_text != NULL};
	if (anchor_text && !hs_anchor_read(anchor_text, &found.anchor, &error))
		return hs_cli_fail(&error);
	if (!hs_past_read(&past, path, &error))
		return hs_cli_fail(&error);
	hs_buf_init(&found.words);
	judge(&past, anchor_text, &found);
	if (w)
		put_json(w, &past, &found);
	else
		print_text(&past, &found);
	hs_buf_free(&found.words);
	hs_past_free(&past);
	return found.good ? HS_EXIT_GOOD : HS_EXIT_BAD;
}

typedef struct request {
	const char *anchor;
	bool json;
} request;

static const hs_option options[] = {
    {"anchor", 0, "COUNT:HEX", "what was written on the job sheet at the last pause or close",
     offsetof(request, anchor)},
    {"json", 0, NULL, "the verdict as data", offsetof(request, json)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	int first, status;
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	if (given.anchor && argc - first > 1) {
		hs_error error = {0};
		hs_fail(&error, HS_BAD_INPUT, "an anchor belongs to one transcript, but %d were named", argc - first);
		return hs_cli_fail(&error);
	}
	hs_buf out;
	hs_json_writer writer;
	hs_buf_init(&out);
	hs_json_begin(&writer, &out);
	hs_json_open_array(&writer, NULL);
	status = HS_EXIT_GOOD;
	for (int i = first; i < argc; i++) {
		int one = audit_one(argv[i], given.anchor, given.json ? &writer : NULL);
		status = one > status ? one : status;
	}
	hs_json_close_array(&writer);
	hs_buf_char(&out, '\n');
	if (given.json)
		hs_cli_print(&out);
	hs_buf_free(&out);
	return status;
}

const hs_command hs_command_audit = {
    .name = "audit",
    .operands = "TRANSCRIPT...",
    .says = "checks the chain of a transcript and derives every decision again from the raw answers",
    .help = "Verdicts: complete, unfinished, repaired, transport-converted (status 0, and may combine); torn, "
            "tampered, shorter\n"
            "than its anchor (status 1). Without an anchor a transcript is at best consistent with itself: whoever "
            "rewrites all\n"
            "of it can make it so.\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1000,
    .run = run,
};
