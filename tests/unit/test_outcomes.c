/* Every outcome in turn: a sound playbook proves clean, and each kind of mistake is found, with answers that show it. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <cmocka.h>
#include <stdio.h>
#include <stdlib.h>

#include "halfsplit/proof/proof.h"
#include "small_book.h"

static small_book book;

static void spoil_nothing(small_book *b)
{
	(void)b;
}

static void spoil_branch(small_book *b)
{
	b->steps[VOLTS].branches[HS_HIGH] = (hs_branch){.target = "nowhere", .to = -1};
}

static void spoil_word(small_book *b)
{
	b->choices[1].branch = (hs_branch){.target = "nowhere", .to = -1};
}

static void spoil_bound(small_book *b)
{
	b->steps[AGAIN].most = 0;
}

static void spoil_reach(small_book *b)
{
	/* Resistance has no upper limit here, so nothing comes out high, and only high leads to lost. */
	b->choices[1].branch = branch_to("volts", VOLTS);
	b->steps[OHMS].branches[HS_HIGH] = branch_to("lost", LOST);
}

static const struct {
	const char *name;
	void (*spoil)(small_book *);
	size_t violations;
	hs_violation_kind kind;
	int step;
	const char *what;
	const char *last; /* line of the witness, NULL: none is wanted */
} rows[] = {
    {"sound", spoil_nothing, 0, HS_VIOLATES_END, -1, NULL, NULL},
    {"a reading leads nowhere", spoil_branch, 1, HS_VIOLATES_END, VOLTS, "volts leads nowhere: there is no step nowhere.", "volts: 13"},
    {"a word leads nowhere", spoil_word, 2, HS_VIOLATES_END, LAMP, "lamp leads nowhere: there is no step nowhere.", "lamp: dark"},
    {"a loop without a bound", spoil_bound, 2, HS_VIOLATES_BOUND, -1,
     "a way comes back to where it was with nothing counted, so it can go round for ever", "again: 10.5 V"},
    {"a step no way leads to", spoil_reach, 1, HS_VIOLATES_REACH, LOST, "no way leads here", NULL},
};

/* The last line of the witness begins so. */
static void assert_last(const hs_violation *violation, const char *wanted)
{
	const char *text = violation->witness.data;
	size_t end = violation->witness.length;
	assert_true(end > 1);
	size_t from = end - 1;
	while (from > 0 && text[from - 1] != '\n')
		from--;
	if (strncmp(text + from, wanted, strlen(wanted)) != 0)
		fail_msg("the witness ends in \"%s\", and \"%s\" was wanted", text + from, wanted);
}

static void test_rows(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_playbook *playbook = (hs_playbook *)(uintptr_t)small_book_make(&book);
		playbook->found_safe = true;
		rows[i].spoil(&book);
		hs_proof proof;
		hs_error error = {0};
		assert_true(hs_prove_outcomes(playbook, 0, NULL, NULL, &proof, &error));
		assert_true(proof.whole);
		if (proof.count != rows[i].violations)
			fail_msg("%s: %zu violations, and %zu were wanted: %s", rows[i].name, proof.count, rows[i].violations,
			         proof.count > 0 ? proof.violations[0].what : "");
		if (proof.count > 0) {
			const hs_violation *it = &proof.violations[0];
			assert_int_equal(it->kind, rows[i].kind);
			assert_int_equal(it->step, rows[i].step);
			assert_string_equal(it->what, rows[i].what);
			assert_int_equal(it->shown, rows[i].last != NULL);
			if (rows[i].last != NULL)
				assert_last(it, rows[i].last);
		}
		hs_proof_free(&proof);
	}
}

/* What the second account says while the power is still unknown, whoever asks. */
static const struct {
	hs_ask_kind kind;
	int step, item;
	const char *why; /* NULL: allowed */
} account_rows[] = {
    {HS_ASK_READ, OHMS, 0, "a step that needs a dead unit (ohms) while the power state is unknown"},
    {HS_ASK_READ, VOLTS, 0, "a step that needs the unit on (volts) while the power state is unknown"},
    {HS_ASK_DONE, LINKING, -1, "a step that needs the unit off (link) while the power state is unknown"},
    {HS_ASK_OPEN, VOLTS, SHIELD, "the guard of a hazardous zone comes off or goes on before secured and waited (shield) while the power state is unknown"},
    {HS_ASK_OPEN, VOLTS, COVER, "something is turned, joined or opened (volts) while the power state is unknown"},
    {HS_ASK_CHOOSE, LAMP, -1, NULL},
};

static void test_account(void **state)
{
	(void)state;
	hs_playbook *playbook = (hs_playbook *)(uintptr_t)small_book_make(&book);
	hs_error error = {0};
	hs_engine *engine = hs_engine_new(playbook, "Ines", &error);
	assert_non_null(engine);
	for (size_t i = 0; i < sizeof account_rows / sizeof *account_rows; i++) {
		hs_ask ask = {.kind = account_rows[i].kind, .step = account_rows[i].step, .item = account_rows[i].item};
		hs_buf why;
		hs_buf_init(&why);
		assert_int_equal(hs_account_allows(engine, &ask, &why), account_rows[i].why == NULL);
		if (account_rows[i].why != NULL)
			assert_string_equal(why.data, account_rows[i].why);
		hs_buf_free(&why);
	}
	hs_engine_free(engine);
}

/* A witness is an answers file: run as a person would answer, it comes to the same place. */
static void test_witness_runs(void **state)
{
	(void)state;
	hs_playbook *playbook = (hs_playbook *)(uintptr_t)small_book_make(&book);
	playbook->found_safe = true;
	spoil_branch(&book);
	hs_proof proof;
	hs_error error = {0};
	assert_true(hs_prove_outcomes(playbook, 0, NULL, NULL, &proof, &error));
	char *text = hs_strdup(proof.violations[0].witness.data);
	hs_engine *engine = hs_engine_new(playbook, "Proof", &error);
	int64_t now_ms = 0;
	bool taken_all = true;
	for (char *line = strtok(text, "\n"); line != NULL; line = strtok(NULL, "\n")) {
		char *answer = strstr(line, ": ");
		assert_non_null(answer);
		*answer = '\0';
		hs_ask ask = hs_engine_next(engine);
		now_ms = ask.earliest_ms > now_ms ? ask.earliest_ms : now_ms + 1000;
		hs_event event = {.kind = HS_EVENT_ANSWER, .ask = line, .text = answer + 2, .by = "Proof", .utc = "2026-01-01T00:00:00.000Z", .mono_ms = now_ms};
		hs_taken taken;
		taken_all = taken_all && hs_engine_take(engine, &event, &taken, &error);
	}
	assert_false(taken_all);
	assert_string_equal(error.message, "volts leads nowhere: there is no step nowhere.");
	free(text);
	hs_engine_free(engine);
	hs_proof_free(&proof);
}

static void test_most(void **state)
{
	(void)state;
	hs_playbook *playbook = (hs_playbook *)(uintptr_t)small_book_make(&book);
	hs_proof proof;
	hs_error error = {0};
	assert_true(hs_prove_outcomes(playbook, 1, NULL, NULL, &proof, &error));
	assert_false(proof.whole);
	hs_proof_free(&proof);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_rows),
	    cmocka_unit_test(test_account),
	    cmocka_unit_test(test_witness_runs),
	    cmocka_unit_test(test_most),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
