/*
 * What is wrong with a playbook is found before it runs: one small file a mistake, in tests/check/.
 *
 * Such a file begins with what must be found, and nothing else may be:
 *     -- expect LINE: part of the message           (or: -- expect warning LINE: ...; or: -- expect nothing)
 *     -- hint part of the hint                      (optional, belongs to the line before)
 * Files named kit-*.lua are read as kits. All others are playbooks bound to tests/check/lib/kit.lua; lib/head.lua
 * spares them the beginning. A new case is a new file; no C is needed.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <dirent.h>
#include <cmocka.h>
#include "halfsplit/base/number.h"
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"

#define FOLDER "tests/check"

enum { CASES_MOST = 1000, EXPECTED_MOST = 16 };

typedef struct expected {
	hs_severity severity;
	int line;
	char message[256];
	char hint[256];
	bool met;
} expected;

/* The rest of the line after `lead`, cut out; NULL when the line begins otherwise. */
static bool after(const char *line, const char *lead, char *out, size_t room)
{
	size_t length = strlen(lead);
	if (strncmp(line, lead, length) != 0)
		return false;
	snprintf(out, room, "%.*s", (int)strcspn(line + length, "\n"), line + length);
	return true;
}

static bool read_expected(const char *rest, expected *out)
{
	double line;
	size_t used;
	*out = (expected){.severity = HS_ERROR};
	if (strncmp(rest, "warning ", 8) == 0) {
		out->severity = HS_WARNING;
		rest += 8;
	}
	if (!hs_number_scan(rest, &line, &used, NULL) || strncmp(rest + used, ": ", 2) != 0)
		return false;
	out->line = (int)line;
	snprintf(out->message, sizeof out->message, "%s", rest + used + 2);
	return true;
}

static size_t read_head(const char *name, const char *text, expected *list)
{
	char rest[256];
	size_t count = 0;
	bool nothing = false;
	for (const char *at = text; at && *at; at = strchr(at, '\n') ? strchr(at, '\n') + 1 : NULL) {
		if (after(at, "-- expect nothing", rest, sizeof rest)) {
			nothing = true;
		} else if (after(at, "-- hint ", rest, sizeof rest) && count > 0) {
			snprintf(list[count - 1].hint, sizeof list[count - 1].hint, "%s", rest);
		} else if (after(at, "-- expect ", rest, sizeof rest)) {
			if (count == EXPECTED_MOST || !read_expected(rest, &list[count]))
				fail_msg("%s: \"-- expect %s\" is not \"-- expect LINE: message\"", name, rest);
			count++;
		} else {
			break;
		}
	}
	if (nothing == (count > 0))
		fail_msg("%s: the file must begin with -- expect LINE: message", name);
	return count;
}

/* Every problem must be expected, and everything expected found. */
static bool compare(const char *name, const hs_problems *problems, expected *list, size_t count)
{
	bool good = true;
	for (size_t i = 0; i < problems->count; i++) {
		const hs_problem *problem = &problems->items[i];
		size_t e = 0;
		while (e < count &&
		       (list[e].met || list[e].line != problem->what.line || list[e].severity != problem->severity ||
		        !strstr(problem->what.message, list[e].message) || !strstr(problem->what.hint, list[e].hint)))
			e++;
		if (e < count) {
			list[e].met = true;
			if (problem->what.quote[0])
				continue;
			print_error("%s: nothing is quoted of line %d\n", name, problem->what.line);
		} else {
			print_error("%s: not expected: %s%s:%d: %s (hint: %s)\n", name,
			            problem->severity == HS_WARNING ? "warning " : "", problem->what.file,
			            problem->what.line, problem->what.message, problem->what.hint);
		}
		good = false;
	}
	for (size_t e = 0; e < count; e++)
		if (!list[e].met) {
			print_error("%s: not found: %d: %s (hint: %s)\n", name, list[e].line, list[e].message,
			            list[e].hint);
			good = false;
		}
	return good;
}

static hs_sources *open_sources(const char *path)
{
	hs_error error = {0};
	hs_sources *sources = hs_sources_from_disk(path, NULL, 0, &error);
	if (!sources)
		fail_msg("%s: %s", path, error.message);
	return sources;
}

static void check_book(hs_sources *sources, const hs_kit *kit, hs_problems *problems)
{
	hs_book *book = hs_book_open(sources, kit, HS_PLACES_EXACT, problems, NULL);
	if (book)
		hs_playbook_check(hs_book_playbook(book), problems);
	if (book && !problems->errors)
		hs_playbook_try(hs_book_playbook(book), problems);
	hs_book_free(book);
}

static bool check_file(const char *name, const hs_kit *kit)
{
	char path[512];
	expected list[EXPECTED_MOST];
	hs_problems problems = {0};
	snprintf(path, sizeof path, "%s/%s", FOLDER, name);
	hs_sources *sources = open_sources(path);
	size_t count = read_head(name, hs_sources_main(sources)->text, list);
	if (strncmp(name, "kit-", 4) == 0)
		hs_kit_free(hs_kit_load(sources, HS_PLACES_EXACT, &problems, NULL));
	else
		check_book(sources, kit, &problems);
	hs_problems_quote(&problems, sources);
	hs_problems_sort(&problems);
	bool good = compare(name, &problems, list, count);
	hs_problems_free(&problems);
	hs_sources_free(sources);
	return good;
}

static int by_name(const void *a, const void *b)
{
	return strcmp(*(char *const *)a, *(char *const *)b);
}

static size_t list_cases(char **names)
{
	size_t count = 0;
	DIR *folder = opendir(FOLDER);
	if (!folder)
		fail_msg("%s cannot be read; run the test from the top folder", FOLDER);
	for (struct dirent *entry; (entry = readdir(folder)) && count < CASES_MOST;) {
		const char *dot = strrchr(entry->d_name, '.');
		if (dot && strcmp(dot, ".lua") == 0)
			names[count++] = hs_strdup(entry->d_name);
	}
	closedir(folder);
	qsort(names, count, sizeof *names, by_name);
	return count;
}

static void every_case_is_found(void **state)
{
	(void)state;
	static char *names[CASES_MOST];
	hs_problems problems = {0};
	hs_sources *sources = open_sources(FOLDER "/lib/kit.lua");
	hs_kit *kit = hs_kit_load(sources, HS_PLACES_EXACT, &problems, NULL);
	assert_non_null(kit);
	assert_int_equal(problems.count, 0);
	size_t count = list_cases(names), bad = 0;
	for (size_t i = 0; i < count; i++) {
		bad += !check_file(names[i], kit);
		free(names[i]);
	}
	hs_kit_free(kit);
	hs_sources_free(sources);
	hs_problems_free(&problems);
	if (bad || count < 35)
		fail_msg("%zu of %zu cases failed", bad, count);
}

/* ---- the list of problems ---- */

static void problems_are_sorted_and_merged(void **state)
{
	(void)state;
	static const struct {
		hs_severity severity;
		const char *file;
		int line;
		const char *message;
	} given[] = {
	    {HS_WARNING, "b.lua", 2, "w"}, {HS_ERROR, "b.lua", 9, "z"}, {HS_ERROR, "b.lua", 2, "y"},
	    {HS_ERROR, "a.lua", 30, "x"},  {HS_ERROR, "b.lua", 2, "y"}, {HS_ERROR, "b.lua", 2, "v"},
	};
	static const char *const wanted[] = {"x", "v", "y", "w", "z"};
	hs_problems problems = {0};
	hs_error error = {0};
	assert_true(hs_problems_clean(&problems, &error));
	for (size_t i = 0; i < sizeof given / sizeof *given; i++)
		hs_problem_add(&problems, given[i].severity, (hs_where){given[i].file, given[i].line}, "%s",
		               given[i].message);
	assert_int_equal(problems.errors, 5);
	hs_problems_sort(&problems);
	assert_int_equal(problems.count, 5);
	assert_int_equal(problems.errors, 4);
	for (size_t i = 0; i < problems.count; i++)
		assert_string_equal(problems.items[i].what.message, wanted[i]);
	assert_false(hs_problems_clean(&problems, &error));
	assert_string_equal(error.message, "x");
	assert_int_equal(error.code, HS_BAD_INPUT);
	hs_problems_free(&problems);
	assert_int_equal(problems.count, 0);
}

/* Four or more of one cause are one problem; fewer, and those of another severity or cause, stay as they are. */
static void one_cause_is_told_once(void **state)
{
	(void)state;
	hs_problems problems = {0};
	for (int line = 9; line > 3; line--)
		hs_problem_because(hs_problem_add(&problems, HS_ERROR, (hs_where){"a.lua", line}, "at %d", line), "the pad %d", line == 7);
	hs_problem_because(hs_problem_add(&problems, HS_WARNING, (hs_where){"a.lua", 20}, "w"), "the pad 0");
	hs_problem_add(&problems, HS_ERROR, (hs_where){"a.lua", 5}, "alone");
	hs_problem_hint(&problems.items[5], "mend it"); /* the one at line 4 */
	hs_problems_sort(&problems);
	assert_int_equal(problems.count, 4);
	assert_int_equal(problems.errors, 3);
	assert_string_equal(problems.items[0].what.message, "at 4");
	assert_string_equal(problems.items[0].what.hint, "mend it; and 4 more because of this, on the lines 5, 6, 8, 9");
	assert_string_equal(problems.items[1].what.message, "alone");
	assert_string_equal(problems.items[2].what.message, "at 7");
	assert_string_equal(problems.items[3].what.message, "w");
	hs_problems_free(&problems);
}

static void warnings_alone_are_clean(void **state)
{
	(void)state;
	hs_problems problems = {0};
	hs_error error = {.message = "untouched"};
	hs_problem_hint(hs_problem_add(&problems, HS_WARNING, (hs_where){NULL, 0}, "%d things", 3), "take %s", "care");
	assert_true(hs_problems_clean(&problems, &error));
	assert_string_equal(error.message, "untouched");
	assert_string_equal(problems.items[0].what.message, "3 things");
	assert_string_equal(problems.items[0].what.hint, "take care");
	assert_string_equal(problems.items[0].what.file, "");
	hs_problems_free(&problems);
}

/* ---- a graph made by hand: no file, no Lua ---- */

static void a_graph_by_hand_is_checked(void **state)
{
	(void)state;
	hs_step steps[3] = {{.id = "a", .kind = HS_STEP_TELL, .emitter = -1},
	                    {.id = "b", .kind = HS_STEP_DO, .emitter = -1},
	                    {.id = "c", .kind = HS_STEP_FINDING, .emitter = -1}};
	hs_choice entry = {.word = "a", .branch = {.target = "a", .to = -1}};
	hs_playbook book = {.id = "x", .entries = &entry, .entry_count = 1, .steps = steps, .step_count = 3};
	hs_problems problems = {0};
	for (int i = 0; i < 3; i++)
		steps[i].decide.id = -1;
	steps[0].branches[HS_OKAY] = (hs_branch){.target = "b", .to = -1};
	steps[1].branches[HS_OKAY] = (hs_branch){.target = "c", .to = -1};
	hs_playbook_check(&book, &problems);
	assert_int_equal(problems.count, 0);
	assert_int_equal(entry.branch.to, 0);
	assert_int_equal(steps[1].branches[HS_OKAY].to, 2);
	steps[1].branches[HS_OKAY].target = "a";
	hs_playbook_check(&book, &problems);
	hs_problems_sort(&problems);
	assert_int_equal(problems.count, 1); /* that nothing leads to c is the loop's doing */
	assert_string_equal(problems.items[0].what.message, "the loop a -> b -> a has no bound");
	hs_problems_free(&problems);
}

static void names_go_both_ways(void **state)
{
	(void)state;
	for (int i = 0; i < HS_NEED_COUNT; i++) {
		hs_need need = HS_NEED_COUNT;
		assert_true(hs_need_find(hs_need_name((hs_need)i), &need));
		assert_int_equal(need, i);
	}
	for (int i = 0; i < HS_OPEN_KINDS; i++) {
		hs_openable_kind kind = HS_OPEN_KINDS;
		assert_true(hs_openable_find(hs_openable_name((hs_openable_kind)i), &kind));
		assert_int_equal(kind, i);
	}
	hs_need need = HS_NEED_ON;
	assert_false(hs_need_find("ON", &need));
	assert_int_equal(need, HS_NEED_ON);
	assert_string_equal(hs_power_name(HS_POWER_DEAD), "proved dead");
	assert_string_equal(hs_step_kind_name(HS_STEP_DO), "act");
	assert_int_equal(hs_derived_unit(HS_DERIVE_DIFFERENCE, HS_DBM), HS_DB);
	assert_int_equal(hs_derived_unit(HS_DERIVE_DIFFERENCE, HS_VOLT), HS_VOLT);
	assert_int_equal(hs_derived_unit(HS_DERIVE_RATIO, HS_VOLT), HS_UNITLESS);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_case_is_found),      cmocka_unit_test(problems_are_sorted_and_merged),
	    cmocka_unit_test(one_cause_is_told_once),
	    cmocka_unit_test(warnings_alone_are_clean), cmocka_unit_test(a_graph_by_hand_is_checked),
	    cmocka_unit_test(names_go_both_ways),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
