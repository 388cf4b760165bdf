/* chart: a table of texts beside the playbook, its rows by their names, and its mistakes by their lines. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"

static const char book[] = "local rows = chart(\"pins.csv\")\n"
                           "playbook { id = \"x\", title = \"x\", family = \"x\", first = \"x\" }\n"
                           "for i, row in ipairs(rows) do\n"
                           "  step(\"pin-\" .. row.pin) { power = \"any\", note = row.remark ~= \"\" and row.remark or nil,\n"
                           "    read = { \"volts\", at = row.pin }, limits = row.limits,\n"
                           "    ok = rows[i + 1] and \"pin-\" .. rows[i + 1].pin or \"end\", otherwise = \"end\" }\n"
                           "end\n"
                           "step \"end\" { finding = \"x\" }\n";

static hs_book *open_book(const char *text, const char *csv, hs_problems *problems, hs_error *error, hs_sources **sources)
{
	*sources = hs_sources_embedded();
	assert_true(hs_sources_add_embedded(*sources, "x.lua", NULL, text, strlen(text), error));
	assert_true(hs_sources_add_embedded(*sources, "pins.csv", NULL, csv, strlen(csv), error));
	return hs_book_open(*sources, NULL, HS_PLACES_EXACT, problems, error);
}

static void rows_make_steps(void **state)
{
	(void)state;
	static const char csv[] = "\xEF\xBB\xBFpin, limits ,remark\r\n"
	                          "A1,5 V +/- 5 %,\n"
	                          "\n"
	                          "  A2  ,\"4 V .. 6 V\", \"the \"\"warm\"\" one, or\nthe other\" \n"
	                          "A3,1 V .. 2 V,\"\"";
	hs_problems problems = {0};
	hs_error error = {0};
	hs_sources *sources;
	hs_book *opened = open_book(book, csv, &problems, &error, &sources);
	if (!opened || problems.count > 0)
		fail_msg("%s:%d: %s", error.file, error.line, error.message);
	const hs_playbook *playbook = hs_book_playbook(opened);
	assert_int_equal(playbook->step_count, 4);
	assert_string_equal(playbook->steps[0].id, "pin-A1");
	assert_null(playbook->steps[0].note);
	assert_string_equal(playbook->steps[1].id, "pin-A2");
	assert_string_equal(playbook->steps[1].note, "the \"warm\" one, or\nthe other");
	assert_true(playbook->steps[1].readings[0].limits.low == 4);
	assert_string_equal(playbook->steps[1].branches[HS_OKAY].target, "pin-A3");
	assert_string_equal(playbook->steps[2].branches[HS_OKAY].target, "end");
	/* It goes into the transcript like every file a run depends on. */
	assert_int_equal(hs_sources_count(sources), 2);
	hs_problems_free(&problems);
	hs_book_free(opened);
	hs_sources_free(sources);
}

static void mistakes_have_a_line(void **state)
{
	(void)state;
	static const struct {
		const char *lua, *csv, *file;
		int line;
		const char *message, *hint;
	} rows[] = {
	    {book, "", "pins.csv", 1, "this chart is empty", "its first row names the columns"},
	    {book, "\n\n", "pins.csv", 1, "this chart is empty", ""},
	    {book, "pin,,x\n", "pins.csv", 1, "a column of this chart has no name", ""},
	    {book, "pin,limits,pin\n", "pins.csv", 1, "two columns of this chart have the same name", "give each a name of its own"},
	    {book, "pin,limits,remark\nA1,5 V\n", "pins.csv", 2, "this row has 2 fields, and the first row of the chart names 3",
	     "a field with a comma in it stands in quotes"},
	    {book, "pin,limits,remark\nA1,\"a\nb\",\nA2,1,2,3\n", "pins.csv", 4, "this row has 4 fields", ""},
	    {book, "pin,limits,remark\nA1,5 V,\"open\nA2,5 V,\n", "pins.csv", 2, "a field begins with a quote and never ends", "close it"},
	    {book, "pin,limits,remark\nA1,\"5 V\" x,y\n", "pins.csv", 2, "something stands behind the closing quote of a field",
	     "put a comma there"},
	    {book, "pin,limits,remark\nA1,5\" rack,y\n", "pins.csv", 2, "a quote stands inside a field that does not begin with one",
	     "put the whole field in quotes"},
	    {"local r = chart(\"pin.csv\")\n", "a\n", "x.lua", 1, "the file \"pin.csv\" is not among the 2 files held here", ""},
	    {"\nlocal r = chart(5)\n", "a\n", "x.lua", 2, "chart wants a file name in quotes, and was given a number", ""},
	    {"local r = chart(\"../pins.csv\")\n", "a\n", "x.lua", 1, "..", ""},
	    {"local r = chart(\"pins.csv\")\nlocal x = r[1].pinn\n", "pin\nA1\n", "x.lua", 2, "pinn", "did you mean `pin`?"},
	    {"local r = chart(\"pins.csv\")\nr[1].pin = 5\n", "pin\nA1\n", "x.lua", 2, "`a row of pins.csv` is sealed and cannot be changed", ""},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_problems problems = {0};
		hs_error error = {0};
		hs_sources *sources;
		hs_book *opened = open_book(rows[i].lua, rows[i].csv, &problems, &error, &sources);
		if (opened)
			fail_msg("row %zu: no error", i);
		if (strcmp(error.file, rows[i].file) != 0 || error.line != rows[i].line || !strstr(error.message, rows[i].message) ||
		    !strstr(error.hint, rows[i].hint))
			fail_msg("row %zu: %s:%d: %s (%s)", i, error.file, error.line, error.message, error.hint);
		assert_int_equal(problems.errors, 1);
		hs_problems_free(&problems);
		hs_sources_free(sources);
	}
}

/* The largest file that may be read fits the memory of a playbook, with the shortest rows too. */
static void the_largest_chart_fits(void **state)
{
	(void)state;
	hs_problems problems = {0};
	hs_error error = {0};
	hs_sources *sources;
	hs_buf csv;
	hs_buf_init(&csv);
	hs_buf_str(&csv, "pin,limits\n");
	size_t rows = 0;
	for (; csv.length + 14 <= HS_SOURCE_TABLE_MOST; rows++)
		hs_buf_printf(&csv, "%05zu,5 .. 6 V\n", rows);
	static const char text[] = "local rows = chart(\"pins.csv\")\n"
	                           "playbook { id = \"x\", title = tostring(#rows) .. rows[#rows].pin, family = \"x\", first = \"x\" }\n"
	                           "step \"end\" { finding = \"x\" }\n";
	hs_book *opened = open_book(text, csv.data, &problems, &error, &sources);
	if (!opened || problems.count > 0)
		fail_msg("%s", error.message);
	char title[40];
	snprintf(title, sizeof title, "%zu%05zu", rows, rows - 1);
	assert_string_equal(hs_book_playbook(opened)->title, title);
	hs_book_free(opened);
	hs_problems_free(&problems);
	hs_sources_free(sources);
	hs_buf_free(&csv);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(rows_make_steps),
	    cmocka_unit_test(mistakes_have_a_line),
	    cmocka_unit_test(the_largest_chart_fits),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
