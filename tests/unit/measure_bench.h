/* Calc files out of memory, with Touchstone files beside them, for the tests of the measurement library in Lua. */
#ifndef HALFSPLIT_TESTS_MEASURE_BENCH_H
#define HALFSPLIT_TESTS_MEASURE_BENCH_H

#include "measure_rows.h"
#include <stdio.h>
#include <stdlib.h>
#include "halfsplit/base/number.h"
#include "halfsplit/playbook/calc.h"
#include "halfsplit/playbook/sources.h"

static const char amp_s2p[] = "# MHz S DB R 50\n"
                              "100 -20 0 -1 -90 -1 -90 -14 180\n"
                              "400 -20 0 -2 180 -2 180 -14 180\n"
                              "! noise\n"
                              "100 0.8 0.3 60 0.4\n";
static const char one_s1p[] = "# GHz Z RI R 75\n1 2 0.5\n";
static const char bad_s2p[] = "# MHz S DB R 50\n100 -20 0 -1 0 -1 0 -14\n";

/* With the Touchstone files of this header held beside `main`. */
static inline hs_sources *measure_sources(const char *name, const char *main, const char *extra_name, const char *extra)
{
	hs_error error = {0};
	hs_sources *sources = hs_sources_embedded();
	bool good = hs_sources_add_embedded(sources, name, NULL, main, strlen(main), &error) &&
	            hs_sources_add_embedded(sources, "amp.s2p", NULL, amp_s2p, strlen(amp_s2p), &error) &&
	            hs_sources_add_embedded(sources, "one.s1p", NULL, one_s1p, strlen(one_s1p), &error) &&
	            hs_sources_add_embedded(sources, "bad.s2p", NULL, bad_s2p, strlen(bad_s2p), &error) &&
	            (!extra || hs_sources_add_embedded(sources, extra_name, NULL, extra, strlen(extra), &error));
	if (!good)
		fail_msg("%s", error.message);
	return sources;
}

/* Runs it; the result, or NULL and the error. free() it. */
static inline char *calc_text(const char *text, hs_error *error)
{
	hs_buf out;
	hs_buf_init(&out);
	hs_sources *sources =
	    measure_sources("try.lua", text, "lib.lua", "return { twice = function(x) return level.shift(x, 3) end }");
	bool good = hs_calc_file(sources, &out, error);
	hs_sources_free(sources);
	if (!good && out.length > 0)
		fail_msg("%s: a failure left \"%s\"", text, out.data);
	char *result = good ? strdup(out.data ? out.data : "") : NULL;
	hs_buf_free(&out);
	return result;
}

static inline void assert_calc(const char *text, const char *want)
{
	hs_error error = {0};
	char *got = calc_text(text, &error);
	if (!got)
		fail_msg("%s: %s:%d: %s (hint: %s)", text, error.file, error.line, error.message, error.hint);
	if (strcmp(got, want) != 0)
		fail_msg("%s\ngave:\n%s\nwanted:\n%s", text, got, want);
	free(got);
}

/* code, sentence (whole), hint (part of it), and the line in try.lua. */
static inline void assert_calc_refused(const char *text, hs_code code, int line, const char *message, const char *hint)
{
	hs_error error = {0};
	char *got = calc_text(text, &error);
	if (got)
		fail_msg("%s: gave %s", text, got);
	if (error.code != code || strcmp(error.message, message) != 0 || !strstr(error.hint, hint) ||
	    strcmp(error.file, "try.lua") != 0 || error.line != line)
		fail_msg("%s\ngave: %d %s:%d: %s (hint: %s)\nwant: %d try.lua:%d: %s (hint: %s)", text, (int)error.code,
		         error.file, error.line, error.message, error.hint, (int)code, line, message, hint);
	if (line > 0 && !error.quote[0])
		fail_msg("%s: the line is not quoted", text);
}

#endif
