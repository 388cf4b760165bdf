/* Calc files: what is shown, and hostile ones that end in a clean error. */
#include "measure_bench.h"
#include "../../core/playbook/bind_measure.h"

static void values_are_lines(void **state)
{
	static const struct {
		const char *text, *want;
	} rows[] = {
	    {"", ""},
	    {"local x = 1", ""},
	    {"return", ""},
	    {"return 1, 2.5, -0.1, 1e300, 3.0, 2 ^ 53, math.maxinteger",
	     "1\n2.5\n-0.1\n1e300\n3\n9.007199254740992e15\n9223372036854775807\n"},
	    {"return 1 / 0, -1 / 0", "infinite\n-infinite\n"},
	    {"return true, false, nil", "true\nfalse\nnothing\n"},
	    {"return 'a b', ''", "a b\n\n"},
	    /* A text cannot drive the terminal, nor forge an entry. */
	    {"return 'a\\27[2J\\nb\\n\\n', 'c'", "a\\x1b[2J\nb\nc\n"},
	    {"return { a = 'x\\nb: 2', ['k\\ny'] = 1 }", "a: x\\nb: 2\nk\\ny: 1\n"},
	    {"return {}, { {} }", "{}\n1: {}\n"},
	    {"return { 10, 20, nil, 40, b = 1, a = 2, [true] = 3, [0.5] = 4, [-1] = 5, B = 6 }",
	     "-1: 5\n0.5: 4\n1: 10\n2: 20\n4: 40\nB: 6\na: 2\nb: 1\ntrue: 3\n"},
	    {"return { low = { db = -1, w = { 1, 2 } }, high = 2 }",
	     "high: 2\nlow:\n  db: -1\n  w:\n    1: 1\n    2: 2\n"},
	    {"return 1, { 2 }, 3", "1\n1: 2\n3\n"},
	    {"return require('lib').twice('3 dBm')", "6\n"},
	    /* The library itself shows its names, never its functions. */
	    {"local n = 0 for _ in pairs(level) do n = n + 1 end return n", "19\n"},
	    /* An author's metatable has no say. */
	    {"return setmetatable({ 1 }, { __tostring = function() return 'forged' end, __index = function() return 2 "
	     "end })",
	     "1: 1\n"},
	};
	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++)
		assert_calc(rows[i].text, rows[i].want);
}

static void what_cannot_be_shown(void **state)
{
	static const struct {
		const char *text, *message;
	} rows[] = {
	    {"return 0 / 0", "the file returned a number that is not one, as 0/0 gives"},
	    {"return { a = { 0 / 0 } }", "the file returned a number that is not one, as 0/0 gives"},
	    {"return 1, function() end",
	     "the file returned a function, and numbers, texts and tables of them are shown"},
	    {"return level", "the file returned a function, and numbers, texts and tables of them are shown"},
	    {"return network.open('amp.s2p')",
	     "the file returned a value of the library, and numbers, texts and tables of them are shown"},
	    {"return 'a\\0b'", "the file returned a text that holds a NUL character"},
	    {"return { ['a\\0b'] = 1 }", "the file returned a text that holds a NUL character"},
	    {"local t = {} t.t = t return t", "the file returned tables nested more than 16 deep"},
	    {"return { [{}] = 1 }",
	     "pairs found a key that is a table, and only numbers, texts and booleans have an order"},
	    {"local t = {} for i = 1, 100001 do t[i] = i end return t", "the file returned more than 100000 entries"},
	};
	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++)
		assert_calc_refused(rows[i].text, HS_BAD_INPUT, 0, rows[i].message, "");
}

static void the_example_runs(void **state)
{
	(void)state;
	hs_error error = {0};
	hs_buf out;
	hs_buf_init(&out);
	hs_buf_str(&out, "before\n");
	hs_sources *sources = hs_sources_from_disk("examples/measure.lua", NULL, 0, &error);
	if (!sources || !hs_calc_file(sources, &out, &error))
		fail_msg("%s:%d: %s", error.file, error.line, error.message);
	assert_string_equal(out.data, "before\n"
	                              "the lead takes 10.35 dB\n"
	                              "the amplifier gives 37.15 dBm, which is 5.189 W\n"
	                              "known to +/- 0.35 dB (k = 2.0)\n"
	                              "  1  pad  0.00 dBm\n"
	                              "  2  A1  14.00 dBm  11.00 dB to P1dB\n"
	                              "  3  Q3 final  37.00 dBm  1.00 dB to P1dB\n");
	hs_buf_free(&out);
	hs_sources_free(sources);
}

/* ---- what a hostile file tries with the library ---- */

static void hostile_arguments(void **state)
{
	static const struct {
		const char *text, *message;
	} rows[] = {
	    {"local evil = setmetatable({}, { __index = function() while true do end end, __len = function() return "
	     "1e9 end })\n"
	     "return level.add(evil)",
	     "the list of levels is empty"},
	    {"local t = { 1, 2 } t[2000000000] = 3\nreturn level.add(t)",
	     "the list of levels has a gap: a value before the last one is nil"},
	    {"local t = { 1, [1.5] = 2 }\nreturn level.add(t)",
	     "the list of levels is a list, and a value in it has a name"},
	    {"local t = { 1, n = 2 }\nreturn level.add(t)",
	     "the list of levels is a list, and a value in it has a name"},
	    {"local t = {} for i = 1, 10001 do t[i] = i end\nreturn level.add(t)",
	     "the list of levels holds more than 10000 values"},
	    {"local t = {} t[1] = t\nreturn level.add(t)",
	     "level 1 is a table, and a number in dBm or a text with its unit is wanted"},
	    {"local t = {} t[1] = t\nreturn cascade.total(t)", "stage 1 holds a value that no word stands before"},
	    {"local t = { { 'a' }, [3] = { 'b' } }\nreturn uncertainty.combine(t)",
	     "the budget has a gap: a value before the last one is nil"},
	    {"local s = ('9'):rep(100000)\nreturn level.shift(s, 1)",
	     "the level has 100000 bytes, and at most 200 are read"},
	    {"local s = '1 dBm\\0 W'\nreturn level.shift(s, 1)", "the level holds a NUL character"},
	    {"local s = '0x10'\nreturn noise.floor(s)",
	     "the bandwidth: \"0x10\" is hexadecimal, and a decimal number was wanted"},
	    {"local s = 'nan Hz'\nreturn noise.floor(s)", NULL},
	    {"local f = level.shift\nreturn f(f, 1)",
	     "the level is a function, and a number in dBm or a text with its unit is wanted"},
	    {"local a, b = '1e308 W', '1e308 W'\nreturn level.add{ a, b }",
	     "the sum lies outside the range of numbers"},
	    {"local n = 1e308\nreturn level.convert(n, 'W')", NULL},
	    {"local n = network.open('amp.s2p')\nn.loss = nil", "attempt to index a network value (local 'n')"},
	    {"local n = network.open('amp.s2p')\nsetmetatable(n, {})", NULL},
	    {"local n = network.open('amp.s2p')\nreturn getmetatable(n).x", NULL},
	    {"local n = network.open('amp.s2p')\nreturn n.__gc", "`network.__gc` is not offered to a calc file"},
	    {"local n = setmetatable({}, { __name = 'network' })\nreturn network.loss(n, 1e8)",
	     "the network is not given, and what network.open gives is wanted"},
	    {"local m = level\nm.shift = function() return 0 end", "`level` is sealed and cannot be changed"},
	    {"local f = function() error({}) end\nreturn uncertainty.sensitivity(f, { 1 }, 1, 1)", NULL},
	    {"local f = function(x) x[1] = nil return x end\nreturn uncertainty.sensitivity(f, { 1 }, 1, 1)",
	     "what the model returned is a table, and a number is wanted"},
	};
	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_error error = {0};
		char *got = calc_text(rows[i].text, &error);
		if (got)
			fail_msg("%s: gave %s", rows[i].text, got);
		if (error.code != HS_BAD_INPUT || error.line < 1 || error.line > 2 ||
		    (rows[i].message && strcmp(error.message, rows[i].message) != 0))
			fail_msg("%s:\n%d %s:%d: %s", rows[i].text, (int)error.code, error.file, error.line,
			         error.message);
	}
}

/* ---- in a sandbox with less ---- */

/* With a sealed table beside the library. */
static int declare(lua_State *L)
{
	hs_measure_declare(L);
	lua_createtable(L, 2, 0);
	for (int i = 1; i <= 2; i++) {
		lua_pushinteger(L, 10);
		lua_rawseti(L, -2, i);
	}
	hs_sandbox_seal_table(L, "chart");
	hs_sandbox_declare(L, "chart");
	return 0;
}

static bool run_with(const char *text, unsigned long fail_at, long long budget, hs_error *error)
{
	hs_sandbox_limits limits = {.fail_at = fail_at, .seconds = 60};
	hs_sources *sources = measure_sources("try.lua", text, NULL, NULL);
	int host = 0;
	hs_sandbox *sandbox = hs_sandbox_open(&limits, sources, "calc file", error);
	if (sandbox)
		hs_sandbox_set_host(sandbox, &host);
	bool good = sandbox && hs_sandbox_protected(sandbox, declare, NULL, HS_SANDBOX_BUILD_BUDGET, error) &&
	            hs_sandbox_run_main(sandbox, budget, error);
	hs_sandbox_close(sandbox);
	hs_sources_free(sources);
	return good;
}

static void a_sealed_table_is_a_table(void **state)
{
	(void)state;
	hs_error error = {0};
	if (!run_with("assert(level.add(chart) > 13 and level.add(chart) < 13.1)\n"
	              "assert(reflection.polar_of_gamma(chart) > 14.14)\n",
	              0, HS_SANDBOX_CALL_BUDGET, &error))
		fail_msg("%s", error.message);
}

/* Everything the library does is paid for, and running out goes through pcall. */
static void endless_work_ends(void **state)
{
	static const char *const rows[] = {
	    "while true do level.shift(0, 1) end",
	    "while true do pcall(level.shift) end",
	    "while true do pcall(network.open, 'bad.s2p') end",
	    "local n = network.open('amp.s2p')\nwhile true do n:loss(2e8) end",
	    "while true do cascade.spurs(1e6, 2e6, 20, 0, 1e9) end",
	    "local t = {} for i = 1, 10000 do t[i] = i end\nwhile true do level.add(t) end",
	    "local t = {} for i = 1, 200 do t[i] = { gain = 0, nf = 0 } end\nwhile true do cascade.text(t, 0) end",
	    "while true do uncertainty.student_factor(0.95, 5) end",
	    "pcall(uncertainty.sensitivity, function() while true do end end, { 1 }, 1, 1)",
	    "local function f() return uncertainty.sensitivity(f, { 1 }, 1, 1) end\nwhile true do pcall(f) end",
	};
	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_error error = {0};
		if (run_with(rows[i], 0, HS_SANDBOX_CALL_BUDGET, &error) || error.code != HS_BUDGET ||
		    strcmp(error.message, "the calc file used up its 2000000 instructions") != 0)
			fail_msg("%s: %d: %s", rows[i], (int)error.code, error.message);
	}
}

static void running_out_of_memory_leaks_nothing(void **state)
{
	static const char text[] = "local n = network.open('amp.s2p')\n"
	                           "local t = cascade.text({ { name = 'A1', gain = 10, nf = 3 } }, 0)\n"
	                           "local b = uncertainty.text{ { 'a', half_width = 1, shape = 'standard' } }\n"
	                           "local k = coax.fit(coax.table{ { 1e6, 1, 'ours' }, { 2e6, 2, 'ours' } })\n"
	                           "assert(#t > 0 and #b > 0 and n:loss('200 MHz') > 0 and k.k1 > 0)\n"
	                           "assert(show(level.add{ 1, 2 }, 'dBm') and cascade.spurs(1e6, 2e6, 3, 0, 1))\n";
	(void)state;
	unsigned long at = 1;
	for (; at < 20000; at++) {
		hs_error error = {0};
		if (run_with(text, at, HS_SANDBOX_BUILD_BUDGET, &error))
			break;
		if (error.code != HS_BUDGET)
			fail_msg("allocation %lu: %s", at, error.message);
	}
	/* It began to run, and it ran to its end. */
	assert_true(at > 300 && at < 20000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(values_are_lines),
	    cmocka_unit_test(what_cannot_be_shown),
	    cmocka_unit_test(the_example_runs),
	    cmocka_unit_test(hostile_arguments),
	    cmocka_unit_test(a_sealed_table_is_a_table),
	    cmocka_unit_test(endless_work_ends),
	    cmocka_unit_test(running_out_of_memory_leaks_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
