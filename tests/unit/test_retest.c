/* A new part: which readings it voids, and what is gone through again before the run goes on. */
#include "words_bench.h"

static const char book[] =
    "suspect \"q\" {}\n"
    "step \"a\" { power = \"any\", read = { \"volts\", at = \"TP1\" }, limits = \"at least 1 V\", holds = \"all\", ok = \"b\", otherwise = \"bad\" }\n"
    "step \"b\" { power = \"any\", read = { \"volts\", at = \"TP2\" }, limits = \"at least 1 V\", holds = \"all\",\n"
    "  ok = { to = \"good\", clears = { \"q\" } }, otherwise = \"swap\" }\n"
    "step \"swap\" { replace = \"Q1\", outside = true, voids = { \"b\" }, retest = { \"b\", \"c\" }, next = \"proved\", most = 2, beyond = \"lost\" }\n"
    "step \"c\" { power = \"any\", collect = { { \"x\", \"volts\", at = \"TP3\", limits = \"at least 1 V\" },\n"
    "  { \"y\", \"volts\", at = \"TP4\", limits = \"at least 1 V\" } }, ok = \"lost\", otherwise = \"again\" }\n"
    "step \"again\" { power = \"any\", read = { \"volts\", at = \"TP1\" }, limits = \"at least 1 V\", reuse = \"a\", ok = \"swap\", otherwise = \"bad\" }\n"
    "step \"proved\" { passed = { \"a\", \"b\", \"c\" }, not_yet = \"bad\", tell = \"well\", next = { to = \"found\", implicates = { \"q\" } } }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"bad\" { finding = \"something\" }\n"
    "step \"lost\" { finding = \"given up\" }\n"
    "step \"found\" { finding = { \"q\" } }\n";

static void the_run_goes_on_when_all_came_out_ok(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, book);
	begin(&b);
	play(&b, "a: 2\nb: 0.5\nswap: Q1, lot 7\nb: 2\nc/x: 2\nc/y: 2\nproved: ");
	ended_at(&b, "found");
	bench_close(&b);
}

/* c fails while the part is tried: its own branch is followed, "again" uses the reading that the part does not touch, and the
 * second part is tried from the first retest on. */
static void what_fails_leads_its_own_way(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, book);
	begin(&b);
	play(&b, "a: 2\nb: 0.5\nswap: Q1, lot 7\nb: 2\nc/x: 2\nc/y: 0.2\nswap: Q1, lot 8\nb: 2\nc/x: 2\nc/y: 2\nproved: ");
	ended_at(&b, "found");
	bench_close(&b);
	bench_open(&b, book);
	begin(&b);
	play(&b, "a: 2\nb: 0.5\nswap: Q1, lot 7\nb: 0.1\nswap: Q1, lot 8\nb: 0.1");
	ended_at(&b, "lost");
	bench_close(&b);
}

static void redo_within_the_retests(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, book);
	begin(&b);
	play(&b, "a: 2\nb: 0.5\nswap: Q1, lot 7\nb: 2\nc/x: 2\n!redo\n!redo\nb: 2\nc/x: 3\nc/y: 2\nproved: ");
	ended_at(&b, "found");
	bench_close(&b);
}

static const char all[] =
    "step \"a\" { power = \"any\", read = { \"volts\", at = \"TP1\", hookup = \"leads\" }, limits = \"at least 1 V\", holds = \"all\", ok = \"b\", otherwise = \"bad\" }\n"
    "step \"b\" { power = \"any\", read = { \"volts\", at = \"TP2\", hookup = \"leads\" }, limits = \"at least 1 V\", ok = \"good\", otherwise = \"swap\" }\n"
    "step \"swap\" { replace = \"Q1\", outside = true, next = \"c\" }\n"
    "step \"c\" { passed = \"a\", not_yet = \"voided\", tell = \"x\", next = \"good\" }\n"
    "step \"good\" { finding = \"nothing\" }\n"
    "step \"voided\" { finding = \"voided\" }\n"
    "step \"bad\" { finding = \"something\" }\n";

/* Without voids nothing that was measured stands, nor what passed by it. */
static void a_part_voids_everything_unless_told(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, all);
	begin(&b);
	play(&b, "a: 2\nb: 0.5\nswap: Q1, lot 7");
	ended_at(&b, "voided");
	bench_close(&b);
}

/* A retested step is read, although an earlier reading of the same would serve. */
static void what_is_tried_is_read_anew(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, "step \"a\" { power = \"any\", read = { \"volts\", at = \"TP1\" }, holds = \"all\", next = \"b\" }\n"
	               "step \"b\" { power = \"any\", read = { \"volts\", at = \"TP1\" }, limits = \"at least 1 V\", reuse = \"a\", ok = \"good\", otherwise = \"swap\" }\n"
	               "step \"swap\" { replace = \"Q1\", outside = true, voids = { \"b\" }, retest = \"b\", next = \"good\", most = 3, beyond = \"bad\" }\n"
	               "step \"good\" { finding = \"nothing\" }\n"
	               "step \"bad\" { finding = \"something\" }\n");
	begin(&b);
	play(&b, "a: 0\nswap: Q1, lot 7\nb: 2");
	ended_at(&b, "good");
	bench_close(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(the_run_goes_on_when_all_came_out_ok), cmocka_unit_test(what_fails_leads_its_own_way),
	    cmocka_unit_test(redo_within_the_retests),              cmocka_unit_test(a_part_voids_everything_unless_told),
	    cmocka_unit_test(what_is_tried_is_read_anew),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
