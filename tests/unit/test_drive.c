/* The loop between a live seat and the engine: what it says of its own, and what it asks twice. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>
#include <cmocka.h>
#include "halfsplit/base/file.h"
#include "halfsplit/seat/drive.h"
#include "small_book.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* A seat where lines are typed, one after the other; what it shows is kept. */
typedef struct desk {
	hs_seat seat; /* first, so that the one is the other */
	small_book book;
	hs_engine *engine;
	hs_journal *journal;
	char folder[64], path[128];
	const char *const *lines;
	int64_t now_ms;
	hs_buf shown;
} desk;

static bool ask(hs_seat *seat, const hs_engine *engine, const hs_ask *asked, const hs_ask_words *words, hs_input *input,
                hs_error *error)
{
	desk *d = (desk *)seat;
	(void)engine;
	(void)asked;
	(void)error;
	if (*d->lines)
		hs_input_read(words, *d->lines++, input);
	else
		input->kind = HS_INPUT_END;
	return true;
}

static void show(hs_seat *seat, const char *text)
{
	hs_buf_str(&((desk *)seat)->shown, text);
}

static int64_t tick(hs_seat *seat)
{
	return ((desk *)seat)->now_ms += 1000;
}

static int64_t now_utc_ms(hs_seat *seat)
{
	return INT64_C(1767258000000) + ((desk *)seat)->now_ms;
}

static int setup(void **state)
{
	desk *d = hs_alloc(sizeof *d);
	hs_error error = {0};
	d->seat = (hs_seat){ask, show, tick, now_utc_ms, NULL, "typed", false, {.width = 80}, NULL, false};
	hs_buf_init(&d->shown);
	strcpy(d->folder, "/tmp/halfsplit-drive-XXXXXX");
	if (!mkdtemp(d->folder))
		return -1;
	snprintf(d->path, sizeof d->path, "%s/Ada's run.jsonl", d->folder);
	d->engine = hs_engine_new(small_book_make(&d->book), "Ines", &error);
	d->journal = hs_journal_create(d->path, NULL, &error);
	hs_opening opening = {.rules = HS_RULES_VERSION,
	                      .run = "0123456789abcdef0123456789abcdef",
	                      .program = "0.1.0",
	                      .playbook_id = "small",
	                      .edition = 1,
	                      .playbook = {NULL, 0, ""},
	                      .unit = "F-0417",
	                      .by = "Ines",
	                      .utc = "2026-01-01T09:00:00.000Z"};
	*state = d;
	return d->engine && d->journal && hs_transcript_begin(d->journal, d->engine, &opening, &error) ? 0 : -1;
}

static int teardown(void **state)
{
	desk *d = *state;
	hs_journal_close(d->journal);
	hs_engine_free(d->engine);
	hs_buf_free(&d->shown);
	int status = unlink(d->path) | rmdir(d->folder);
	free(d);
	return status;
}

/* Types the lines; when they are at their end the run pauses. */
static void drive(desk *d, const char *const *lines)
{
	hs_drive_end end;
	hs_error error = {0};
	d->lines = lines;
	hs_buf_clear(&d->shown);
	if (!hs_drive(&d->seat, d->engine, d->journal, "Ines", &end, &error))
		fail_msg("%s", error.message);
	assert_int_equal(end, HS_DRIVE_PAUSED);
}

static size_t times(const desk *d, const char *text)
{
	size_t count = 0;
	for (const char *at = d->shown.data; (at = strstr(at, text)) != NULL; at++)
		count++;
	return count;
}

static void expect(const desk *d, const char *text, size_t count)
{
	if (times(d, text) != count)
		fail_msg("\"%s\" stands %zu times, not %zu, in: %s", text, times(d, text), count, d->shown.data);
}

/* An author's function that fails whatever it is given. */
static bool fails(void *context, int id, const char *const *names, const hs_value *values, size_t count, hs_buf *result, hs_error *error)
{
	(void)context, (void)id, (void)names, (void)values, (void)count, (void)result;
	hs_fail(error, HS_BAD_INPUT, "attempt to compare a number with nothing");
	return hs_fail_at(error, "small.lua", 42);
}

#define TO_VOLTS "done", "It is dead.", "nothing", "whole", "none", "lit", "off", "done", "cover", "counted", "told", "on"
#define TELLS    "  this takes back volts: 3; type redo again\n"

static const struct {
	const char *lines[32];
	size_t told, taken_back;
} redone[] = {
    {{TO_VOLTS, "3", "redo"}, 0, 1},                               /* right behind it */
    {{TO_VOLTS, "3", "what", "redo"}, 0, 1},                       /* a refused answer is nothing done */
    {{TO_VOLTS, "3", "off", "redo"}, 1, 0},                        /* a gate since */
    {{TO_VOLTS, "3", "off", "redo", "redo"}, 1, 1},                /* twice in a row */
    {{TO_VOLTS, "3", "off", "redo", "show", "redo"}, 2, 0},        /* not in a row */
    {{TO_VOLTS, "3", "off", "redo", "note hm", "redo", "redo"}, 2, 1},
};

static void a_far_redo_is_told_first(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(redone); i++) {
		void *own;
		assert_int_equal(setup(&own), 0);
		desk *d = own;
		drive(d, redone[i].lines);
		expect(d, TELLS, redone[i].told);
		expect(d, "taken back: volts", redone[i].taken_back);
		assert_int_equal(teardown(&own), 0);
	}
}

/* A file of answers means what it says. */
static void a_rehearsal_is_not_asked_twice(void **state)
{
	desk *d = *state;
	d->seat.rehearsal = true;
	drive(d, (const char *const[]){TO_VOLTS, "3", "off", "redo", NULL});
	expect(d, TELLS, 0);
	expect(d, "taken back: volts", 1);
	expect(d, " --answers FILE\n", 1);
}

static void a_command_taken_as_a_sentence_is_told(void **state)
{
	desk *d = *state;
	drive(d, (const char *const[]){"done", "pause between beeps", "leave it on and it fails", "paused", NULL});
	expect(d, "  taken as a sentence; !pause pauses\n", 1);
	expect(d, "  taken as a sentence; !leave leaves\n", 1);
	expect(d, "taken as", 2);
	assert_int_equal(hs_engine_answers(d->engine), 4);
}

/* Whoever wants to go, or back, is told by which word; who answered with such a word, is not. */
static void words_of_other_programs_are_told(void **state)
{
	desk *d = *state;
	drive(d, (const char *const[]){TO_VOLTS, "quit", "undo", "3", "exit", NULL});
	expect(d, "  To stop for now type pause; leave gets to a safe state first.\n", 2);
	expect(d, "  redo takes back the last reading or observation.\n", 1);
	drive(d, (const char *const[]){"exit is loose", NULL});
	expect(d, "To stop for now", 0);
}

static const struct {
	const char *lines[32];
	const char *says; /* NULL: nothing of it being on */
} left[] = {
    {{"done", "pause"}, NULL}, /* nobody knows, and nobody switched it on */
    {{TO_VOLTS, "pause"}, "  The unit is still on: switch it off before you go.\n  power: on\n"},
    {{TO_VOLTS, "leave", "leave"}, "  The unit is still on: switch it off before you go.\n  power: on\n"},
    {{TO_VOLTS, "stop", "pause"}, "  The unit may still be on: switch it off before you go.\n  power: unknown\n"},
    {{TO_VOLTS, "leave", "off"}, NULL},
    {{TO_VOLTS, "3", "off", "pause"}, NULL},
};

static void a_unit_left_on_is_told(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(left); i++) {
		void *own;
		assert_int_equal(setup(&own), 0);
		desk *d = own;
		drive(d, left[i].lines);
		expect(d, left[i].says ? left[i].says : "  The unit ", left[i].says != NULL);
		expect(d, "Paused", 1);
		assert_int_equal(teardown(&own), 0);
	}
}

/* On a line of its own, as a shell takes it. */
static void a_pause_tells_how_to_go_on(void **state)
{
	desk *d = *state;
	hs_buf wanted;
	hs_buf_init(&wanted);
	hs_buf_printf(&wanted, "\nTo go on:\n  halfsplit resume '%s/Ada'\\''s run.jsonl'\n", d->folder);
	drive(d, (const char *const[]){"done", "!pause lunch", NULL});
	expect(d, wanted.data, 1);
	hs_drive_sheet(&d->seat, d->journal);
	hs_buf_clear(&wanted);
	hs_buf_printf(&wanted, "\ntranscript: %s\n", d->path);
	expect(d, wanted.data, 1);
	hs_buf_free(&wanted);
}

/* At the bench a failed function is told with its line, the answer is kept, and the way leads to a safe state and a pause. */
static void a_failed_function_pauses_safely(void **state)
{
	desk *d = *state;
	d->book.playbook.evaluator.call = fails;
	d->book.readings[0].limits_by = (hs_function){.id = 0, .where = {"small.lua", 42}};
	drive(d, (const char *const[]){TO_VOLTS, "12.1", "off", "out", "none", "hand", "Ines", NULL});
	expect(d, "small.lua:42: attempt to compare a number with nothing", 1);
	expect(d, "The playbook is wrong at small.lua:42, not you", 1);
	expect(d, "then leave, and tell its author", 1);
	expect(d, "\nTo go on:\n  halfsplit resume ", 1);
	expect(d, "volts: 12.1 could not be used: the playbook is wrong at small.lua:42:", 1);
	expect(d, "Paused after leave", 1);
	assert_int_equal(hs_engine_power(d->engine), HS_POWER_SECURED);
	assert_null(*d->lines);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(a_far_redo_is_told_first),
	    cmocka_unit_test_setup_teardown(a_rehearsal_is_not_asked_twice, setup, teardown),
	    cmocka_unit_test_setup_teardown(a_command_taken_as_a_sentence_is_told, setup, teardown),
	    cmocka_unit_test_setup_teardown(words_of_other_programs_are_told, setup, teardown),
	    cmocka_unit_test(a_unit_left_on_is_told),
	    cmocka_unit_test_setup_teardown(a_pause_tells_how_to_go_on, setup, teardown),
	    cmocka_unit_test_setup_teardown(a_failed_function_pauses_safely, setup, teardown),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
