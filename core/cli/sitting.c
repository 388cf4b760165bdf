#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include "halfsplit/seat/simulated.h"
#include "halfsplit/seat/terminal.h"
#include "sitting.h"

bool hs_sitting_prepare(hs_sitting *sitting, const char *answers_path, hs_error *error)
{
	*sitting = (hs_sitting){0};
	hs_buf_init(&sitting->answers_bytes);
	if (!answers_path) {
		if (isatty(STDIN_FILENO))
			return true;
		hs_fail(error, HS_BAD_INPUT, "there is no terminal to ask at, and no --answers");
		return hs_fail_hint(error, "start it at a terminal, or give a file of answers for a rehearsal");
	}
	hs_buf *bytes = &sitting->answers_bytes;
	if (!hs_file_read(answers_path, "answers file", HS_ANSWERS_MOST, bytes, error))
		return false;
	hs_sha256_hex(bytes->data, bytes->length, sitting->answers_sha256);
	if (!hs_file_text(answers_path, "answers file", bytes, error))
		return false;
	sitting->answers = hs_answers_parse(answers_path, bytes->data, error);
	return sitting->answers != NULL;
}

void hs_sitting_simulate(hs_sitting *sitting, const char *fault, uint64_t seed)
{
	hs_buf text;
	*sitting = (hs_sitting){.played = {.name = fault, .seed = seed}};
	hs_buf_init(&sitting->answers_bytes);
	hs_buf_init(&text);
	hs_buf_printf(&text, "%s, seed %llu", fault, (unsigned long long)seed);
	hs_sha256_hex(text.data, text.length, sitting->answers_sha256);
	hs_buf_free(&text);
}

bool hs_sitting_play(hs_sitting *sitting, const hs_playbook *playbook, hs_error *error)
{
	sitting->played.playbook = playbook;
	return !sitting->played.name || hs_sim_fault_find(playbook, sitting->played.name, &sitting->played.fault, error);
}

bool hs_sitting_unattended(const hs_sitting *sitting)
{
	return sitting->answers || sitting->played.name;
}

bool hs_sitting_open(hs_sitting *sitting, int64_t epoch_utc_ms, hs_error *error)
{
	if (sitting->answers)
		sitting->seat = hs_answers_seat(sitting->answers, epoch_utc_ms, stdout);
	else if (sitting->played.name)
		sitting->seat = hs_simulated_seat(sitting->played.playbook, sitting->played.fault, sitting->played.seed, epoch_utc_ms, stdout);
	else
		sitting->seat = hs_terminal_open(STDIN_FILENO, stdout, error);
	return sitting->seat != NULL;
}

void hs_sitting_programs(hs_sitting *sitting, const hs_kit *kit, const char *kit_path)
{
	if (!kit || sitting->answers || sitting->seat->rehearsal)
		return;
	const char *slash = strrchr(kit_path, '/');
	hs_buf folder;
	hs_buf_init(&folder);
	hs_buf_add(&folder, kit_path, slash ? (size_t)(slash - kit_path) : 0);
	sitting->taker_folder = hs_strdup(folder.length ? folder.data : slash ? "/" : ".");
	hs_buf_free(&folder);
	sitting->taker = (hs_taker){kit, sitting->taker_folder, STDIN_FILENO, HS_TAKER_MS};
	sitting->seat->taker = &sitting->taker;
}

void hs_sitting_free(hs_sitting *sitting)
{
	hs_seat_close(sitting->seat);
	hs_answers_free(sitting->answers);
	free(sitting->taker_folder);
	hs_buf_free(&sitting->answers_bytes);
	*sitting = (hs_sitting){0};
}

static void warn_unused(const hs_sitting *sitting)
{
	int line = sitting->answers ? hs_answers_unused(sitting->seat) : 0;
	if (line)
		hs_cli_say("the run ended before the answers did: line %d of %s and what follows was not used", line,
		           sitting->answers->path);
}

int hs_sitting_run(hs_sitting *sitting, hs_engine *engine, hs_journal *journal, const char *by)
{
	hs_error error = {0};
	hs_drive_end end;
	if (!hs_drive(sitting->seat, engine, journal, by, &end, &error)) {
		int status = hs_cli_fail(&error);
		hs_buf path;
		hs_buf_init(&path);
		hs_buf_shown(&path, hs_journal_path(journal), false);
		printf("transcript: %s\n", path.data);
		hs_buf_free(&path);
		return status;
	}
	hs_drive_sheet(sitting->seat, journal);
	warn_unused(sitting);
	return end == HS_DRIVE_CLOSED ? HS_EXIT_GOOD : HS_EXIT_PAUSED;
}

/* Takes the first line off the answers when it answers this ask. */
static bool from_answers(hs_answers *answers, const char *ask, hs_buf *answer, hs_error *error)
{
	if (!answers->count || answers->lines[0].kind != HS_INPUT_ANSWER || strcmp(answers->lines[0].ask, ask) != 0) {
		hs_fail(error, HS_BAD_INPUT, "%s is asked first, and the answers do not begin with it", ask);
		hs_fail_hint(error, "give it as the first answer, or with %s",
		             strcmp(ask, "intake/by") == 0 ? "--by" : "--unit");
		return hs_fail_at(error, answers->path, answers->count ? answers->lines[0].line : 0);
	}
	hs_buf_str(answer, answers->lines[0].text);
	answers->count--;
	memmove(answers->lines, answers->lines + 1, answers->count * sizeof *answers->lines);
	return true;
}

static void make_words(const char *fact, hs_ask_words *words)
{
	bool serial = strcmp(fact, "serial") == 0;
	*words = (hs_ask_words){.bare = HS_UNIT_COUNT};
	hs_buf *bufs[] = {&words->heading, &words->text, &words->caution, &words->hookup, &words->wanted, &words->help};
	for (size_t i = 0; i < sizeof bufs / sizeof *bufs; i++)
		hs_buf_init(bufs[i]);
	hs_buf_str(&words->heading, serial ? "Which unit is on the bench?" : "Who is at the bench?");
	hs_buf_str(&words->text, serial ? "The transcript is named after its serial number."
	                                : "Every answer and every gate is in your name.");
	hs_buf_str(&words->wanted, serial ? "the serial number" : "your name");
}

/* What was typed names the transcript and stands in every line of it, so it is shown once more before there is one. */
static void make_confirm(const char *fact, const char *answer, hs_ask_words *words)
{
	bool serial = strcmp(fact, "serial") == 0;
	hs_buf_clear(&words->heading);
	hs_buf_printf(&words->heading, "%s: %s", serial ? "Serial number" : "Name", answer);
	hs_buf_clear(&words->wanted);
	hs_buf_printf(&words->wanted, "Enter when that is right, else the %s again", serial ? "serial number" : "name");
	words->enter_ok = true;
}

static bool agrees(const hs_ask_words *words, const char *text)
{
	static const char *const yes[] = {"", "y", "yes", "ok", "right", "done"};
	for (size_t i = 0; words->enter_ok && i < sizeof yes / sizeof *yes; i++)
		if (hs_same_word(text, yes[i]))
			return true;
	return false;
}

/* One turn at the terminal: true when `answer` was given and confirmed; *left when the person would not go on. */
static bool one_try(hs_seat *seat, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words,
                    hs_buf *answer, bool *left, hs_error *error)
{
	hs_input input;
	hs_buf text;
	hs_input_init(&input);
	hs_buf_init(&text);
	bool given = false;
	hs_error blank = {0};
	if (!seat->ask(seat, engine, ask, words, &input, error)) {
		*left = true;
	} else if (input.kind == HS_INPUT_ANSWER && agrees(words, input.text.data ? input.text.data : "")) {
		given = true;
	} else if (input.kind == HS_INPUT_ANSWER) {
		if (hs_cli_name_fine(input.text.data, "this answer", &blank)) {
			hs_buf_clear(answer);
			hs_buf_str(answer, input.text.data);
		} else {
			hs_error_render(&blank, &text);
		}
	} else if (input.kind == HS_INPUT_HELP || input.kind == HS_INPUT_WHY || input.kind == HS_INPUT_SHOW) {
		hs_screen_help(&seat->screen, words, &text);
	} else if (input.kind == HS_INPUT_INTERRUPT) {
		hs_screen_interrupted(&seat->screen, &text);
	} else if (input.kind == HS_INPUT_NOTE || input.kind == HS_INPUT_REDO) {
		hs_buf_str(&text, "  Nothing is recorded yet; this comes first.\n");
	} else {
		if (input.kind == HS_INPUT_STOP)
			hs_buf_str(&text, "  Cut the power first. Nothing was begun, so nothing is recorded.\n");
		*left = true;
	}
	if (text.length)
		seat->show(seat, text.data);
	hs_input_free(&input);
	hs_buf_free(&text);
	return given;
}

static bool from_person(hs_seat *seat, const hs_bench *bench, const char *fact, hs_buf *answer, hs_error *error)
{
	/* Before a run nobody is at the bench, so an engine of nobody's lends the screen its state; later the run's own does. */
	hs_engine *nobodys = bench->engine ? NULL : hs_bench_engine(bench, "", error);
	const hs_engine *engine = bench->engine ? bench->engine : nobodys;
	if (!engine)
		return false;
	hs_ask_words words;
	make_words(fact, &words);
	/* Any intake will do that the run does not begin with: the seat tells asks apart by their id. */
	hs_ask ask = {
	    .kind = HS_ASK_INTAKE, .step = -1, .item = strcmp(fact, "serial") == 0 ? HS_INTAKE_SEALS : HS_INTAKE_KEEP};
	bool left = false, given = false;
	while (!left && !given) {
		given = one_try(seat, engine, &ask, &words, answer, &left, error);
		if (answer->length > 0)
			make_confirm(fact, answer->data, &words);
	}
	hs_ask_words_free(&words);
	hs_engine_free(nobodys);
	return given;
}

bool hs_sitting_ask(hs_sitting *sitting, const hs_bench *bench, const char *fact, hs_buf *answer, hs_error *error)
{
	if (!sitting->answers)
		return from_person(sitting->seat, bench, fact, answer, error);
	char ask[32];
	snprintf(ask, sizeof ask, "intake/%s", fact);
	return from_answers(sitting->answers, ask, answer, error) &&
	       hs_cli_name_fine(answer->data, strcmp(fact, "serial") == 0 ? "the serial number" : "the name", error);
}
