/* The further words of a step, right: what the model holds, and what check resolves. */
#include "words_bench.h"

static const char book[] =
    "counter \"c\" { most = 3, beyond = { to = \"end\", clears = { \"s\" } } }\n"
    "suspect \"s\" {} suspect \"t\" {}\n"
    "step \"a\" { look = \"?\", answers = { { \"y\", to = \"b\", again = { to = \"d\", clears = { \"t\" }, counts = \"c\" } },\n"
    "  { \"n\", to = \"b\", counts = \"c\" }, { \"smoke\", stop = true } } }\n"
    "step \"b\" { power = \"any\", read = { \"trend\", held = \"CAL\", within = \"10 s\" }, low = { to = \"d\", counts = \"c\" }, otherwise = \"d\" }\n"
    "step \"d\" { passed = { \"b\" }, not_yet = { to = \"a\", counts = \"c\" }, tell = \"x\", next = \"e\" }\n"
    "step \"e\" { replace = \"Q1\", outside = true, voids = { \"b\", \"f\" }, retest = { \"b\", \"f\" }, next = \"g\", most = 2, beyond = \"end\" }\n"
    "step \"f\" { checklist = { { \"one\", \"Clean?\" }, { \"two\", \"Whole?\" } }, otherwise = \"g\" }\n"
    "step \"g\" { power = \"any\", outside = true, watch = { \"Raise it.\", tries = 4, read = { \"volts\" } }, limits = \"at most 5 V\", otherwise = \"end\" }\n"
    "step \"end\" { finding = \"x\", passed = \"f\", not_yet = \"lost\", }\n"
    "step \"lost\" { finding = \"y\" }\n";

static const hs_step *step_of(const bench *b, const char *id)
{
	int at = hs_playbook_step(b->playbook, id);
	assert_true(at >= 0);
	return &b->playbook->steps[at];
}

static void leads(const bench *b, const hs_branch *branch, const char *id, int counts)
{
	assert_string_equal(branch->target, id);
	assert_int_equal(branch->to, hs_playbook_step(b->playbook, id));
	assert_int_equal(branch->counts, counts);
}

static void branches_are_whole(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, book);
	assert_int_equal(b.playbook->counter_count, 1);
	const hs_counter *counter = &b.playbook->counters[0];
	assert_string_equal(counter->id, "c");
	assert_int_equal(counter->most, 3);
	assert_int_equal(counter->where.line, 2);
	leads(&b, &counter->beyond, "end", 0);
	assert_int_equal(counter->beyond.clear_count, 1);
	const hs_step *a = step_of(&b, "a");
	leads(&b, &a->choices[0].branch, "b", 0);
	leads(&b, &a->choices[0].again, "d", 1);
	assert_int_equal(a->choices[0].again.clears[0], 1);
	leads(&b, &a->choices[1].branch, "b", 1);
	assert_null(a->choices[1].again.target);
	assert_true(a->choices[2].stop);
	bench_close(&b);
}

static void steps_are_whole(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, book);
	const hs_reading *trend = &step_of(&b, "b")->readings[0];
	assert_int_equal(trend->reads, HS_READS_TREND);
	assert_string_equal(trend->held, "CAL");
	assert_true(trend->within_s == 10 && trend->limits.low == -0.5 && trend->limits.high == 0.5);
	const hs_step *d = step_of(&b, "d");
	assert_int_equal(d->passed_count, 1);
	assert_int_equal(d->passed[0].step, hs_playbook_step(b.playbook, "b"));
	leads(&b, &d->not_yet, "a", 1);
	const hs_step *e = step_of(&b, "e");
	assert_true(e->voids_some);
	assert_int_equal(e->void_count, 2);
	assert_int_equal(e->voids[1].step, hs_playbook_step(b.playbook, "f"));
	assert_int_equal(e->retest_count, 2);
	leads(&b, &e->retests[0], "b", 0);
	leads(&b, &e->retests[1], "f", 0);
	const hs_step *f = step_of(&b, "f");
	assert_int_equal(f->kind, HS_STEP_COLLECT);
	assert_string_equal(f->readings[1].name, "two");
	assert_string_equal(f->readings[1].asks, "Whole?");
	assert_int_equal(f->readings[1].reads, HS_READS_TICK);
	const hs_step *g = step_of(&b, "g");
	assert_int_equal(g->kind, HS_STEP_ADJUST);
	assert_true(g->watch && !f->watch);
	assert_int_equal(g->tries, 4);
	assert_string_equal(g->text, "Raise it.");
	leads(&b, &step_of(&b, "end")->not_yet, "lost", 0);
	bench_close(&b);
}

/* An entry is a branch, and may speak of suspects and count. */
static void an_entry_is_a_branch(void **state)
{
	(void)state;
	static const char text[] = "playbook { id = \"x\", title = \"x\", family = \"x\", first = \"x\", enter = { { \"dead\", to = \"end\",\n"
	                           "  clears = { \"s\" }, implicates = { \"t\" } }, { \"low\", to = \"end\" } } }\n"
	                           "suspect \"s\" {} suspect \"t\" {} step \"end\" { finding = \"x\" }\n";
	hs_error error = {0};
	hs_problems problems = {0};
	hs_sources *sources = hs_sources_from_text("x.lua", text, strlen(text), &error);
	hs_book *opened = hs_book_open(sources, NULL, HS_PLACES_EXACT, &problems, &error);
	assert_non_null(opened);
	const hs_choice *entry = &hs_book_playbook(opened)->entries[0];
	no_problems(&problems);
	assert_int_equal(entry->branch.clears[0], 0);
	assert_int_equal(entry->branch.implicates[0], 1);
	hs_book_free(opened);
	hs_sources_free(sources);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(branches_are_whole),
	    cmocka_unit_test(steps_are_whole),
	    cmocka_unit_test(an_entry_is_a_branch),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
