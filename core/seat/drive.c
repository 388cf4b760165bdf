#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/file.h"
#include "halfsplit/judge/trace.h"
#include "halfsplit/seat/drive.h"
#include "halfsplit/seat/keypad.h"

/* An ask with everything that hangs from it, for one turn of the loop. */
typedef struct hs_turn {
	hs_ask ask;
	hs_ask_words words;
	hs_buf id;
	hs_input input;
	const hs_part *from; /* the instrument whose program can give this reading; NULL: it is typed */
	hs_buf raw;
} hs_turn;

static void turn_begin(hs_turn *turn, const hs_seat *seat, const hs_engine *engine)
{
	memset(turn, 0, sizeof *turn);
	turn->ask = hs_engine_next(engine);
	hs_engine_words(engine, &turn->ask, &turn->words);
	hs_keypad_codes(seat->screen.run, hs_engine_answers(engine), &turn->words);
	hs_buf_init(&turn->id);
	hs_engine_ask_id(engine, &turn->ask, &turn->id);
	hs_input_init(&turn->input);
	hs_buf_init(&turn->raw);
	turn->from = seat->rehearsal ? NULL : hs_taker_offers(seat->taker, engine, &turn->ask);
	if (turn->from)
		hs_buf_printf(&turn->words.wanted, ", or Enter to take it from %s", turn->from->id);
}

static void turn_end(hs_turn *turn)
{
	hs_ask_words_free(&turn->words);
	hs_buf_free(&turn->id);
	hs_input_free(&turn->input);
	hs_buf_free(&turn->raw);
}

static void show_buf(hs_seat *seat, hs_buf *text)
{
	if (text->length)
		seat->show(seat, text->data);
	hs_buf_free(text);
}

static void show_facts(hs_seat *seat, const hs_engine *engine)
{
	size_t count;
	const hs_fact *facts = hs_engine_facts(engine, &count);
	hs_buf text;
	hs_buf_init(&text);
	hs_screen_facts(&seat->screen, engine, facts, count, &text);
	show_buf(seat, &text);
}

bool hs_drive_event(hs_seat *seat, hs_engine *engine, hs_journal *journal, const hs_event *event, hs_taken *taken,
                    hs_error *error)
{
	hs_event stamped = *event;
	char stamp[HS_STAMP_ROOM];
	stamped.mono_ms = hs_seat_stamp(seat, stamp);
	stamped.utc = stamp;
	if (!hs_transcript_take(journal, engine, &stamped, taken, error))
		return false;
	show_facts(seat, engine);
	return true;
}

/* Words that change nothing are answered here; true when that was all. */
static bool shown_only(hs_seat *seat, const hs_engine *engine, const hs_turn *turn)
{
	hs_buf text;
	hs_buf_init(&text);
	switch (turn->input.kind) {
	case HS_INPUT_HELP:
		hs_screen_help(&seat->screen, &turn->words, &text);
		break;
	case HS_INPUT_WHY:
		hs_screen_why(&seat->screen, engine, &text);
		break;
	case HS_INPUT_SHOW:
		if (turn->input.text.data && strcmp(turn->input.text.data, "kit") == 0)
			hs_screen_kit(&seat->screen, engine, &text);
		else
			hs_screen_overview(&seat->screen, engine, &text);
		break;
	case HS_INPUT_LARGE:
		seat->screen.large = !seat->screen.large;
		hs_buf_str(&text, seat->screen.large ? "  large type from here; large again takes it off\n" : "  small type from here\n");
		break;
	case HS_INPUT_INTERRUPT:
		hs_screen_interrupted(&seat->screen, &text);
		break;
	default:
		hs_buf_free(&text);
		return false;
	}
	show_buf(seat, &text);
	return true;
}

/*
 * Redo right behind a reading needs no second thought. When more was done since, what falls is off the screen: a
 * person is told, and does it with a second redo in a row. True when that was all for now.
 */
static bool told_redo(hs_seat *seat, const hs_engine *engine, const hs_turn *turn, bool *told)
{
	bool before = *told, since;
	hs_ask target;
	const char *was;
	*told = false;
	if (turn->input.kind != HS_INPUT_REDO || seat->rehearsal || before ||
	    !hs_engine_redo_target(engine, &target, &was, &since) || !since || target.step == turn->ask.step)
		return false;
	hs_buf text;
	hs_buf_init(&text);
	hs_screen_redo(&seat->screen, engine, &target, was, &text);
	show_buf(seat, &text);
	*told = true;
	return true;
}

static hs_event_kind event_kind(hs_input_kind kind)
{
	switch (kind) {
	case HS_INPUT_NOTE:
		return HS_EVENT_NOTE;
	case HS_INPUT_REDO:
		return HS_EVENT_REDO;
	case HS_INPUT_LEAVE:
		return HS_EVENT_LEAVE;
	case HS_INPUT_STOP:
		return HS_EVENT_STOP;
	case HS_INPUT_PAUSE:
	case HS_INPUT_END:
		return HS_EVENT_PAUSE;
	default:
		return HS_EVENT_ANSWER;
	}
}

/* What the engine or the transcript would not have at all: a person is told and asked again, a file of answers has no
 * second try. */
static bool refused(hs_seat *seat, const hs_error *why, hs_error *error)
{
	if (why->code == HS_IO || seat->rehearsal) {
		if (error)
			*error = *why;
		return false;
	}
	hs_buf text;
	hs_buf_init(&text);
	hs_error_render(why, &text);
	if (!text.length || text.data[text.length - 1] != '\n')
		hs_buf_char(&text, '\n');
	show_buf(seat, &text);
	return true;
}

/* The playbook's own mistake, with its file and line, before anything else is asked of the person. */
static void show_failure(hs_seat *seat, const hs_error *why)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_error_render(why, &text);
	if (!text.length || text.data[text.length - 1] != '\n')
		hs_buf_char(&text, '\n');
	hs_buf_str(&text, "  The playbook is wrong at ");
	hs_buf_shown(&text, why->file, false);
	hs_buf_printf(&text, ":%d, not you: a function of it failed on that answer, so it cannot go on from here.\n"
	                     "  What you typed is kept as a remark. First to a safe state; then leave, and tell its author the line above.\n",
	              why->line);
	show_buf(seat, &text);
}

/* As a shell takes it: a path with anything unusual in it stands in quotes. */
static void print_operand(const char *path, hs_buf *out)
{
	static const char usual[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./+@%:,=-";
	if (path[0] == '-')
		hs_buf_str(out, "./");
	if (path[strspn(path, usual)] == '\0') {
		hs_buf_str(out, path);
		return;
	}
	hs_buf_char(out, '\'');
	for (; *path; path++) {
		if (*path == '\'')
			hs_buf_str(out, "'\\''");
		else
			hs_buf_char(out, *path);
	}
	hs_buf_char(out, '\'');
}

static void show_resume(hs_seat *seat, const hs_journal *journal)
{
	hs_buf command, text;
	hs_buf_init(&command);
	hs_buf_init(&text);
	print_operand(hs_journal_path(journal), &command);
	hs_buf_str(&text, "\nTo go on:\n  halfsplit resume ");
	hs_buf_shown(&text, command.data, false);
	hs_buf_str(&text, seat->rehearsal ? " --answers FILE\n" : "\n");
	hs_buf_free(&command);
	show_buf(seat, &text);
}

/*
 * A function of the playbook failed on an answer. What was typed is kept as a remark, because the person gave it, and asking again would
 * only fail again: the run goes to a safe state and pauses. A file of answers has nobody to ask, so its run pauses where it is.
 */
static bool keep_answer(hs_seat *seat, hs_engine *engine, hs_journal *journal, const char *by, const hs_event *answer, const hs_error *why,
                        hs_error *error)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "%s: %s could not be used: the playbook is wrong at %s:%d: %s", answer->ask, answer->text, why->file, why->line,
	              why->message);
	if (!seat->rehearsal)
		show_failure(seat, why);
	hs_event note = {.kind = HS_EVENT_NOTE, .text = text.data, .by = by};
	hs_event end = {.kind = seat->rehearsal ? HS_EVENT_PAUSE : HS_EVENT_LEAVE, .text = "the playbook failed", .by = by};
	hs_taken taken;
	bool fine = hs_drive_event(seat, engine, journal, &note, &taken, error) &&
	            hs_drive_event(seat, engine, journal, &end, &taken, error);
	if (fine && seat->rehearsal) {
		show_resume(seat, journal);
		hs_drive_sheet(seat, journal);
	}
	hs_buf_free(&text);
	return fine;
}

/* The engine would not have the event at all: the playbook failed on it, or it does not fit. */
static bool not_taken(hs_seat *seat, hs_engine *engine, hs_journal *journal, const char *by, const hs_event *event, const hs_error *why,
                      hs_error *error)
{
	bool failed = event->kind == HS_EVENT_ANSWER && why->code != HS_IO && why->file[0];
	if (!failed)
		return refused(seat, why, error);
	return keep_answer(seat, engine, journal, by, event, why, error) && (!seat->rehearsal || refused(seat, why, error));
}

static const char *instead_of(const char *typed)
{
	switch (hs_wish_of(typed)) {
	case HS_WISH_GO: return "  To stop for now type pause; leave gets to a safe state first.\n";
	case HS_WISH_BACK: return "  redo takes back the last reading or observation.\n";
	case HS_WISH_NONE: break;
	}
	return NULL;
}

/* What the event does not say itself: a leave that is under way, a command that was taken for a sentence. */
static void say_more(hs_seat *seat, const hs_engine *engine, const hs_turn *turn, hs_taken taken)
{
	if (turn->input.kind == HS_INPUT_LEAVE && !hs_engine_paused(engine))
		seat->show(seat, "  first to a safe state; type leave again to go at once\n");
	if (seat->bell && taken == HS_NOT_TAKEN)
		seat->show(seat, "\a");
	const char *instead = turn->input.kind == HS_INPUT_ANSWER && taken == HS_NOT_TAKEN && !turn->words.is_act
	                          ? instead_of(turn->input.text.data) : NULL;
	if (instead != NULL)
		seat->show(seat, instead);
	if (turn->input.kind != HS_INPUT_ANSWER || taken != HS_TAKEN || seat->rehearsal)
		return;
	const char *word = hs_input_mistakable(&turn->words, turn->input.text.data);
	if (!word)
		return;
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "  taken as a sentence; !%s %ss\n", word, word);
	show_buf(seat, &text);
}

/* Enter or `take`, where a program can give the reading: it is run, and its line becomes the answer. True: that failed, and was said. */
static bool could_not_take(hs_seat *seat, hs_turn *turn)
{
	hs_buf *text = &turn->input.text;
	bool asked = turn->from && turn->input.kind == HS_INPUT_ANSWER && (text->length == 0 || hs_same_word(text->data, "take"));
	if (!asked)
		return false;
	hs_buf said, line;
	hs_error error = {0};
	hs_buf_init(&said);
	hs_buf_init(&line);
	seat->show(seat, "  taking it ...\n");
	bool good = hs_taker_take(seat->taker, turn->from, &turn->raw, &line, &error);
	if (good) {
		hs_buf_clear(text);
		hs_buf_str(text, line.data);
		hs_buf_printf(&said, "  %s gave: ", turn->from->id);
		hs_buf_shown(&said, line.data, false);
		hs_buf_char(&said, '\n');
	} else {
		hs_error_render(&error, &said);
		hs_buf_str(&said, "  Type what the instrument shows, or try again with Enter.\n");
	}
	show_buf(seat, &said);
	hs_buf_free(&line);
	return !good;
}

static bool is_unread(const char *text)
{
	hs_entry entry;
	return hs_entry_read(text, HS_UNITLESS, &entry, NULL) && entry.kind == HS_ENTRY_UNREAD;
}

/*
 * A file was named, and the engine reads none: its contents become the answer. *why says what is wrong with it; nothing is recorded
 * then, because nothing was read.
 */
static bool take_file(const hs_turn *turn, hs_input *input, hs_error *why)
{
	if (!turn->words.is_file || input->kind != HS_INPUT_ANSWER || is_unread(input->text.data ? input->text.data : ""))
		return true;
	hs_buf bytes;
	hs_trace trace;
	hs_buf_init(&bytes);
	const char *name = input->text.data ? input->text.data : "";
	char digest[HS_HEX_ROOM];
	bool fine = (*name || hs_fail(why, HS_BAD_INPUT, "The name of a file with the trace was wanted, such as if.csv.")) &&
	            hs_file_read(name, "trace", HS_TRACE_MOST, &bytes, why);
	if (fine)
		hs_sha256_hex(bytes.data, bytes.length, digest);
	fine = fine && hs_file_text(name, "trace", &bytes, why) && hs_trace_read_file(name, bytes.data, bytes.length, &trace, why);
	if (fine) {
		hs_copy(trace.sha256, sizeof trace.sha256, digest);
		hs_buf_clear(&input->text);
		hs_trace_print(&trace, &input->text);
		hs_trace_free(&trace);
	} else if (why->code == HS_IO) {
		why->code = HS_BAD_INPUT; /* a file that cannot be read is asked for again; only the transcript ends a run */
	}
	hs_buf_free(&bytes);
	return fine;
}


/*
 * Somebody else goes on in the same sitting. It is a pause and a resume, so that the record and every rule take it as one: nothing that
 * was confirmed in the other's name holds any more.
 */
static bool hand_over(hs_seat *seat, hs_engine *engine, hs_journal *journal, const hs_turn *turn, hs_error *error)
{
	const char *to = turn->input.text.data ? turn->input.text.data : "";
	hs_error why = {0};
	if (!hs_name_possible(to))
		hs_fail(&why, HS_BAD_INPUT, "nobody is named to go on: type handover and the name");
	else if (hs_same_word(to, hs_engine_by(engine)))
		hs_fail(&why, HS_BAD_INPUT, "%.60s is at the bench already", to);
	if (why.code != HS_FINE)
		return refused(seat, &why, error);
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "handover to %s", to);
	hs_event pause = {.kind = HS_EVENT_PAUSE, .text = text.data, .by = hs_engine_by(engine)};
	hs_event resume = {.kind = HS_EVENT_RESUME, .by = to};
	hs_taken taken;
	bool good = hs_drive_event(seat, engine, journal, &pause, &taken, error) && hs_drive_event(seat, engine, journal, &resume, &taken, error);
	hs_buf_free(&text);
	return good;
}

static bool one_turn(hs_seat *seat, hs_engine *engine, hs_journal *journal, const char *by, bool *redo_told,
                     hs_error *error)
{
	hs_turn turn;
	turn_begin(&turn, seat, engine);
	if (seat->bell && turn.ask.kind == HS_ASK_GATE)
		seat->show(seat, "\a");
	bool fine = seat->ask(seat, engine, &turn.ask, &turn.words, &turn.input, error);
	hs_error unusable = {0};
	if (fine && !take_file(&turn, &turn.input, &unusable))
		fine = refused(seat, &unusable, error);
	else if (fine && turn.input.kind == HS_INPUT_HANDOVER)
		fine = hand_over(seat, engine, journal, &turn, error);
	else if (fine && !told_redo(seat, engine, &turn, redo_told) && !shown_only(seat, engine, &turn) &&
	         !could_not_take(seat, &turn)) {
		hs_event event = {.kind = event_kind(turn.input.kind),
		                  .text = turn.input.text.data ? turn.input.text.data : "",
		                  .by = by};
		if (event.kind == HS_EVENT_ANSWER) {
			event.ask = turn.id.data;
			event.raw = turn.raw.length > 0 ? turn.raw.data : NULL;
		}
		hs_taken taken;
		hs_error why = {0};
		if (!hs_drive_event(seat, engine, journal, &event, &taken, &why))
			fine = not_taken(seat, engine, journal, by, &event, &why, error);
		else
			say_more(seat, engine, &turn, taken);
	}
	turn_end(&turn);
	return fine;
}

bool hs_drive(hs_seat *seat, hs_engine *engine, hs_journal *journal, const char *by, hs_drive_end *end, hs_error *error)
{
	bool redo_told = false;
	while (!hs_engine_ended(engine) && !hs_engine_paused(engine)) {
		if (!one_turn(seat, engine, journal, by, &redo_told, error))
			return false;
		by = hs_engine_by(engine);
	}
	if (!hs_engine_ended(engine))
		show_resume(seat, journal);
	*end = hs_engine_ended(engine) ? HS_DRIVE_CLOSED : HS_DRIVE_PAUSED;
	return true;
}

void hs_drive_sheet(hs_seat *seat, const hs_journal *journal)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_str(&text, "\nTo write on the job sheet:\n  lines: ");
	hs_buf_printf(&text, "%zu\n  anchor: ", hs_journal_count(journal));
	/* Sixteen digits are what a person copies, and audit takes them; the whole stands beside. */
	size_t from = text.length;
	hs_anchor_print(&text, hs_journal_count(journal), hs_journal_head(journal));
	const char *colon = strchr(text.data + from, ':');
	size_t end = colon ? (size_t)(colon - text.data) + 1 + 16 : text.length;
	char *whole = hs_strdup(text.data + from);
	if (end < text.length) {
		text.data[end] = '\0';
		text.length = end;
	}
	hs_buf_printf(&text, "\n  in full: %s", whole);
	free(whole);
	hs_buf_str(&text, "\ntranscript: ");
	hs_buf_shown(&text, hs_journal_path(journal), false);
	hs_buf_char(&text, '\n');
	seat->show(seat, text.data);
	hs_buf_free(&text);
}
