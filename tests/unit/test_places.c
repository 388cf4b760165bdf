/* Where a key stands in a Lua source: calls, nested tables, and text that is not Lua at all. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include "../../core/playbook/places.h"

/* The numbers in comments are the lines. */
static const char book[] =
    "-- step \"ghost\" { title = 1 }\n"                                                   /* 1 */
    "step \"drive\" {\n"                                                                  /* 2 */
    "\tpower = \"keyed\", key = '5 s',\n"                                                 /* 3 */
    "\topen = { \"top-cover\",\n"                                                         /* 4 */
    "\t\t\"pa-shield\" },\n"                                                              /* 5 */
    "\tread = { \"power\",\n"                                                             /* 6 */
    "\t\tat = \"TP2\", --[[ hookup = no ]]\n"                                             /* 7 */
    "\t\thookup = \"meter lead\",\n"                                                      /* 8 */
    "\t},\n"                                                                              /* 9 */
    "\tnote = [==[ long\n"                                                                /* 10 */
    "\t} ]] title = 3\n"                                                                  /* 11 */
    "\t]==],\n"                                                                           /* 12 */
    "\tlimits = function(a, b)\n"                                                         /* 13 */
    "\t\tlocal x, y = 1, { title = 2 }\n"                                                 /* 14 */
    "\t\tif a then return x, y end\n"                                                     /* 15 */
    "\t\tfor i = 1, 2 do x = i, y end repeat x = 1 until x == 1\n"                        /* 16 */
    "\tend,\n"                                                                            /* 17 */
    "\t[\"low.end\"] = \"a\", [\"low\"] = { [3] = {\n"                                    /* 18 */
    "\t\tto = \"b\" } },\n"                                                               /* 19 */
    "\t\"first\";\n"                                                                      /* 20 */
    "\t{ at = 1,\n"                                                                       /* 21 */
    "\t\tu = 2 },\n"                                                                      /* 22 */
    "\ttitle = \"x\" .. name(1, 2),\n"                                                    /* 23 */
    "}\n"                                                                                 /* 24 */
    "unit {\n"                                                                            /* 25 */
    "\tparts = { [\"top-cover\"] = { fixings = 8,\n"                                      /* 26 */
    "\t\tafter = \"lid\" } },\n"                                                          /* 27 */
    "}\n"                                                                                 /* 28 */
    "suspect { \"q3\",\n\todds = 3 } suspect { \"q4\",\n\todds = 4 }\n"                   /* 29 30 31 */
    "step \"a\" { to = 1,\n\tx = 1 }; step \"b\" { to = 2,\n\tx = 2 }\n"                  /* 32 33 34 */
    "step(\"c\", {\n\tx = 1 })\n"                                                         /* 35 36 */
    "step(\"d\") {\n\tx = 1 }\n"                                                          /* 37 38 */
    "step(id, with({ q = 1 }, {\n\tx = 1 }))\n"                                           /* 39 40 */
    "step \"late\"\n{\n\tx = 1 }\n"                                                       /* 41 42 43 */
    "step(\"none\", shared)\n"                                                            /* 44 */
    "local t = {\n\tx = 1 }\n"                                                            /* 45 46 */
    "grid \"g\" { [a .. \"b\"] = 1,\n\t[1 + 1] = 2, \"one\",\n\tx == 1,\n\t\"three\" }\n" /* 47 48 49 50 */
    "step 'two\\\nlines' {\n\tx = 1 }\n";                                                 /* 51 52 53 */

static void test_find(void **state)
{
	static const struct {
		int call;
		const char *callee, *id, *path;
		int line;
	} rows[] = {
	    {2, "step", "drive", NULL, 2},
	    {2, "step", "drive", "", 2},
	    {2, "step", "drive", "power", 3},
	    {2, "step", "drive", "key", 3},
	    {2, "step", "drive", "open", 4},
	    {2, "step", "drive", "open[1]", 4},
	    {2, "step", "drive", "open.[2]", 5},
	    {2, "step", "drive", "open[2]", 5},
	    {2, "step", "drive", "open[3]", 4},
	    {2, "step", "drive", "read[1]", 6},
	    {2, "step", "drive", "read.at", 7},
	    {2, "step", "drive", "read.hookup", 8},
	    {2, "step", "drive", "read.freq", 6},
	    {2, "step", "drive", "note", 10},
	    {2, "step", "drive", "limits", 13},
	    {2, "step", "drive", "limits.title", 13},
	    {2, "step", "drive", "low.end", 18},
	    {2, "step", "drive", "low[3].to", 19},
	    {2, "step", "drive", "low[4].to", 18},
	    {2, "step", "drive", "[1]", 20},
	    {2, "step", "drive", "[2]", 21},
	    {2, "step", "drive", "[2].at", 21},
	    {2, "step", "drive", "[2].u", 22},
	    {2, "step", "drive", "[3]", 2},
	    {2, "step", "drive", "title", 23},
	    {2, "step", "drive", "titl", 2},
	    {2, "step", "drive", "title.more", 23},
	    {2, NULL, NULL, "title", 23},
	    {2, "step", "other", "title", 23},
	    {2, "stop", NULL, "title", 23},
	    {25, "unit", NULL, "parts.top-cover", 26},
	    {25, "unit", NULL, "parts.top-cover.after", 27},
	    {25, "unit", NULL, "parts.top.after", 26},
	    {29, "suspect", "q3", "odds", 30},
	    {30, "suspect", "q4", "odds", 31},
	    {32, "step", "a", "x", 33},
	    {33, "step", "b", "x", 34},
	    {35, "step", "c", "x", 36},
	    {37, "step", "d", "x", 38},
	    {39, "step", "e", "x", 39},
	    {39, "step", "e", "q", 39},
	    {41, "step", "late", "x", 43},
	    {44, "step", "none", "x", 44},
	    {45, "step", NULL, "x", 45},
	    {47, "grid", "g", "[1]", 48},
	    {47, "grid", "g", "[2]", 49},
	    {47, "grid", "g", "[3]", 50},
	    {51, "step", NULL, "x", 53},
	    {0, "step", NULL, "x", 0},
	    {999, "step", NULL, "x", 999},
	    {-4, NULL, NULL, NULL, -4},
	};
	(void)state;
	hs_places *places = hs_places_new(book);
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int line = hs_places_find(places, rows[i].call, rows[i].callee, rows[i].id, rows[i].path);
		if (line != rows[i].line)
			fail_msg("line %d, path %s: %d, wanted %d", rows[i].call, rows[i].path ? rows[i].path : "-",
			         line, rows[i].line);
	}
	hs_places_free(places);
}

/* Two calls that begin on one line are told apart by their names. */
static void test_one_line(void **state)
{
	static const char text[] = "step \"a\" { x = 1 } step \"b\" {\n\tx = 2 } tell { \"c\",\n\tx = 3 } "
	                           "tell(\"d\", {\n\tx = 4 })\n";
	(void)state;
	hs_places *places = hs_places_new(text);
	assert_int_equal(hs_places_find(places, 1, "step", "a", "x"), 1);
	assert_int_equal(hs_places_find(places, 1, "step", "b", "x"), 2);
	assert_int_equal(hs_places_find(places, 1, "step", NULL, "x"), 1);
	assert_int_equal(hs_places_find(places, 2, "tell", "c", "x"), 3);
	assert_int_equal(hs_places_find(places, 3, "tell", "d", "x"), 4);
	hs_places_free(places);
}

static void test_line_text(void **state)
{
	static const struct {
		int line;
		bool there;
		const char *text;
	} rows[] = {
	    {1, true, "a = 1"}, {2, true, ""},  {3, true, "long lin"}, {4, true, "last"},
	    {5, false, ""},     {0, false, ""}, {-1, false, ""},
	};
	(void)state;
	hs_places *places = hs_places_new("\ta = 1 \n\nlong line here\nlast");
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char out[9] = "unset";
		assert_int_equal(hs_places_line_text(places, rows[i].line, out, sizeof out), rows[i].there);
		assert_string_equal(out, rows[i].text);
	}
	hs_places_free(places);
	hs_places_free(NULL);
}

static void ask_everything(const char *text)
{
	static const char *const paths[] = {"x",       "read.hookup",           "[2].at", "[2", "[", ".", "..",
	                                    "low.end", "[99999999999999999999]"};
	char out[40];
	hs_places *places = hs_places_new(text);
	for (int line = 0; line < 56; line++) {
		for (size_t i = 0; i < sizeof paths / sizeof paths[0]; i++) {
			int found =
			    hs_places_find(places, line, i % 2 ? "step" : NULL, i % 3 ? "drive" : NULL, paths[i]);
			assert_true(found >= line);
		}
		hs_places_line_text(places, line, out, sizeof out);
	}
	hs_places_free(places);
}

/* Any text whatever: the book cut at every byte, with a byte changed, and pieces made to mislead. */
static void test_any_text(void **state)
{
	static const char *const pieces[] = {
	    "",
	    "step",
	    "step{",
	    "step \"a\" {",
	    "step \"a",
	    "step [[",
	    "step [==[x]=]",
	    "--[[",
	    "--[==[ ]]",
	    "step{[",
	    "step{[1]=",
	    "step{}}}}}",
	    "step{x=1]]]))),y=2",
	    "step{[1",
	    "step(((((",
	    "step)(",
	    "step{\\\"",
	    "step '\\",
	    "step{x=function() ",
	    "step{end end end, x = 1}",
	    "step{...,...}",
	    "\xff\xfe",
	    "step \x01{\x02=\x03}",
	    "step{x==",
	    "step{=}",
	    "step{,;,}",
	    "[",
	    "[=",
	};
	(void)state;
	for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++)
		ask_everything(pieces[i]);
	char copy[sizeof book];
	for (size_t i = 0; i < sizeof book - 1; i += 7) {
		memcpy(copy, book, sizeof book);
		copy[i] = "{}()[]\"'\\\n-="[i % 12];
		ask_everything(copy);
		copy[i] = '\0';
		ask_everything(copy);
	}
}

/* Long lines of nothing but openings must not take time that grows with their square. */
static void test_long_lines(void **state)
{
	static const char *const units[] = {"f(", "f{", "f{[", "f()", "f\"\"{}", "x={", "a,", "[["};
	(void)state;
	size_t room = 128 * 1024;
	char *text = malloc(room + 8);
	assert_non_null(text);
	for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
		size_t unit = strlen(units[i]);
		for (size_t at = 0; at < room; at += unit)
			memcpy(text + at, units[i], unit + 1);
		hs_places *places = hs_places_new(text);
		assert_int_equal(hs_places_find(places, 1, "g", "x", "[2].x[3]"), 1);
		hs_places_free(places);
	}
	free(text);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_find),     cmocka_unit_test(test_one_line),   cmocka_unit_test(test_line_text),
	    cmocka_unit_test(test_any_text), cmocka_unit_test(test_long_lines),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
