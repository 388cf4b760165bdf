/* What the gate promises the builders: errors with their place, budgets, require, call lines. */
#include "../../core/playbook/places.h"
#include "sandbox_bench.h"

static void test_gate(void **state)
{
	static const struct {
		const char *text;
		hs_code code; /* HS_FINE: it runs */
		const char *file;
		int line;
		const char *message, *hint, *quote;
	} rows[] = {
	    {"\nrefuse()", HS_REFUSED, "try.lua", 2, "not now", "later", "refuse()"},
	    {"local function f()\n refuse()\nend\nf()", HS_REFUSED, "try.lua", 2, "not now",
	     "later; "
	     "called from try.lua:4",
	     "refuse()"},
	    {"placed()", HS_BAD_INPUT, "elsewhere.lua", 77, "placed", "called from try.lua:1", "quoted"},
	    {"local ok, why = pcall(refuse)\nassert(why == 'not now')", HS_FINE, "", 0, "", "", ""},
	    {"assert(where(1) == 'try.lua:1:yes' and where(2) == ':0:no')", HS_FINE, "", 0, "", "", ""},
	    {"local function f()\n local s = where(2)\n return s\nend\nlocal s = f()\nassert(s == "
	     "'try.lua:5:yes')",
	     HS_FINE, "", 0, "", "", ""},
	    {"assert(host() == 'bench 3')", HS_FINE, "", 0, "", "", ""},
	    {"assert(inner(function() return 7 end) == 7)", HS_FINE, "", 0, "", "", ""},
	    {"inner(function()\n local x = nil + 1 end)", HS_BAD_INPUT, "try.lua", 2,
	     "attempt to "
	     "perform arithmetic on a nil value",
	     "", "local x = nil + 1 end)"},
	    {"inner(function()\n while true do end end)", HS_BUDGET, "try.lua", 2,
	     "the playbook used "
	     "up its 1000 instructions",
	     "a loop or a recursion that does not end", "while true do end end)"},
	    {"pcall(work, 9999999)\nwork(1)", HS_BUDGET, "try.lua", 1,
	     "the playbook used up its "
	     "1000000 instructions",
	     "a loop or a recursion that does not end", "pcall(work, 9999999)"},
	    {"work(999999999999)", HS_BUDGET, "try.lua", 1, "the playbook used up its 1000000 instructions",
	     "a loop or a recursion that does not end", "work(999999999999)"},
	    {"assert(shop.ohm == 50 and #shop == 1 and shop[1] == 'first' and #{ table.unpack(shop) } == 1)", HS_FINE,
	     "", 0, "", "", ""},
	    {"local x = shop.ohms", HS_BAD_INPUT, "try.lua", 1, "`shop.ohms` is not offered to a playbook",
	     "did you mean `ohm`?", "local x = shop.ohms"},
	    {"local x = shop[2]", HS_BAD_INPUT, "try.lua", 1, "`shop` has no entry under a number", "",
	     "local x = shop[2]"},
	    {"shop.ohm = 75", HS_BAD_INPUT, "try.lua", 1, "`shop` is sealed and cannot be changed", "",
	     "shop.ohm = 75"},
	    {"for i, v in ipairs(shop) do assert(i == 1 and v == 'first') end", HS_FINE, "", 0, "", "", ""},
	    {"shop = 1", HS_BAD_INPUT, "try.lua", 1, "`shop` belongs to halfsplit and cannot be changed", "",
	     "shop = 1"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		bench b = open_with_words(rows[i].text, "bench 3");
		bool fine = hs_sandbox_run_main(b.sandbox, 1000000, &b.error);
		if (b.error.code != rows[i].code || fine != (rows[i].code == HS_FINE))
			fail_msg("%s: code %d, %s", rows[i].text, (int)b.error.code, b.error.message);
		expect_at(rows[i].text, &b.error, rows[i].file, rows[i].line, rows[i].message);
		assert_string_equal(b.error.quote, rows[i].quote);
		expect_hint(rows[i].text, &b.error, rows[i].hint);
		assert_int_equal(lua_gettop(hs_sandbox_state(b.sandbox)), 0);
		close_bench(&b);
	}
}

/* An inner entry spends what the outer one has: a loop of them ends. */
static void test_inner_budget(void **state)
{
	(void)state;
	bench b = open_with_words("local function f() for i = 1, 20 do end end\nwhile true do inner(f) end", NULL);
	assert_false(hs_sandbox_run_main(b.sandbox, 100000, &b.error));
	assert_int_equal(b.error.code, HS_BUDGET);
	assert_true(hs_sandbox_dead(b.sandbox));
	close_bench(&b);
}

/* A dead sandbox answers every later entry with what it died of, and leaves the stack alone. */
static void test_dead(void **state)
{
	(void)state;
	bench b = open_text("while true do end", NULL);
	lua_State *L = hs_sandbox_state(b.sandbox);
	assert_false(hs_sandbox_run_main(b.sandbox, 5000, &b.error));
	lua_pushinteger(L, 5);
	lua_pushcfunction(L, where);
	lua_pushnil(L);
	hs_error again = {0};
	assert_false(hs_sandbox_call(b.sandbox, 1, 1, 5000, &again));
	assert_int_equal(lua_gettop(L), 1);
	assert_string_equal(again.message, "the playbook used up its 5000 instructions");
	assert_int_equal(again.line, 1);
	assert_false(hs_sandbox_protected(b.sandbox, where, NULL, 5000, NULL));
	close_bench(&b);
}

/* The same playbook dies at the same instruction every time, and lives with one more. */
static void test_budget_repeats(void **state)
{
	(void)state;
	long long least = 0;
	for (int round = 0; round < 3; round++) {
		long long low = 1, high = 100000;
		while (low < high) {
			long long middle = low + (high - low) / 2;
			bench b = open_text("local t = {} for i = 1, 500 do t[i] = 'k' .. i end for k, v in "
			                    "pairs(t) do t[v] = k end",
			                    NULL);
			if (hs_sandbox_run_main(b.sandbox, middle, &b.error))
				high = middle;
			else
				low = middle + 1;
			close_bench(&b);
		}
		if (round == 0)
			least = low;
		assert_int_equal(least, low);
	}
	assert_in_range(least, 3000, 30000);
}

static void test_results(void **state)
{
	(void)state;
	int ref = LUA_NOREF;
	bench b = open_with_words("keep(function(a, b) return a + b, 'x' end)", &ref);
	lua_State *L = hs_sandbox_state(b.sandbox);
	assert_true(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
	lua_pushboolean(L, 1);
	lua_rawgeti(L, LUA_REGISTRYINDEX, ref);
	lua_pushinteger(L, 2);
	lua_pushinteger(L, 3);
	assert_true(hs_sandbox_call(b.sandbox, 2, 1, BUDGET, &b.error));
	assert_int_equal(lua_gettop(L), 2);
	assert_int_equal(lua_tointeger(L, -1), 5);
	close_bench(&b);
}

static void test_require(void **state)
{
	static const char main_text[] = "local a, b = require 'lib/a', require 'lib/a.lua'\n"
	                                "assert(a == b and a.n == 1 and require 'lib/none' == true and a.ohm == 50)\n"
	                                "a.f()\n";
	static const char a_text[] = "local n = 0\nn = n + 1\nreturn { n = n, ohm = shop.ohm, f = "
	                             "function()\n refuse() end }";
	(void)state;
	bench b = {0};
	b.sources = hs_sources_embedded();
	assert_true(hs_sources_add_embedded(b.sources, "main.lua", NULL, main_text, strlen(main_text), &b.error));
	assert_true(hs_sources_add_embedded(b.sources, "lib/a.lua", NULL, a_text, strlen(a_text), &b.error));
	assert_true(hs_sources_add_embedded(b.sources, "lib/none.lua", NULL, "", 0, &b.error));
	b.sandbox = hs_sandbox_open(NULL, b.sources, "playbook", &b.error);
	assert_true(hs_sandbox_protected(b.sandbox, declare_words, NULL, 100000, &b.error));
	assert_false(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
	expect_at("require", &b.error, "lib/a.lua", 4, "not now");
	expect_hint("require", &b.error, "called from main.lua:3");
	close_bench(&b);
}

static void test_require_circle(void **state)
{
	(void)state;
	bench b = {0};
	b.sources = hs_sources_from_text("main.lua", "require 'a'", 11, &b.error);
	assert_true(hs_sources_add_embedded(b.sources, "a.lua", NULL, "require 'b'", 11, &b.error));
	assert_true(hs_sources_add_embedded(b.sources, "b.lua", NULL, "\nrequire 'a'", 12, &b.error));
	b.sandbox = hs_sandbox_open(NULL, b.sources, "playbook", &b.error);
	assert_false(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
	expect_at("circle", &b.error, "b.lua", 2, "\"a.lua\" is required while it is itself being read");
	expect_hint("circle", &b.error, "called from a.lua:1, main.lua:1");
	close_bench(&b);
}

/* What a builder is told about the line of its call is where hs_places_find looks for the table. */
static int step_word(lua_State *L)
{
	const char *file;
	int line, *found = hs_sandbox_host(L);
	hs_sandbox_where(L, 1, &file, &line);
	const hs_source *source = hs_sources_find(hs_sandbox_sources(hs_sandbox_of(L)), file);
	hs_places *places = hs_places_new(source->text);
	*found = hs_places_find(places, line, "step", "x", "read.at");
	hs_places_free(places);
	return 0;
}

static int declare_step(lua_State *L)
{
	lua_pushcfunction(L, step_word);
	hs_sandbox_declare(L, "step");
	return 0;
}

static void test_call_lines(void **state)
{
	static const struct {
		const char *text;
		int line;
	} rows[] = {
	    {"\nstep {\n a = 1,\n read = {\n at = 2 } }", 5},
	    {"\nstep(\n\"x\",\n{\n read = {\n at = 2 } })", 6},
	    {"local function f()\n return step { 'x',\n read = { 1,\n at = 2 } }\nend\nf()", 4},
	    {"step { 'w', read = { at = 1 } }\nstep\n{ 'x', read =\n { at = 2 } }", 4},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int found = 0;
		bench b = open_text(rows[i].text, NULL);
		hs_sandbox_set_host(b.sandbox, &found);
		assert_true(hs_sandbox_protected(b.sandbox, declare_step, NULL, 10000, &b.error));
		if (!hs_sandbox_run_main(b.sandbox, BUDGET, &b.error))
			fail_msg("%s", b.error.message);
		assert_int_equal(found, rows[i].line);
		close_bench(&b);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_gate),           cmocka_unit_test(test_inner_budget), cmocka_unit_test(test_dead),
	    cmocka_unit_test(test_budget_repeats), cmocka_unit_test(test_results),      cmocka_unit_test(test_require),
	    cmocka_unit_test(test_require_circle), cmocka_unit_test(test_call_lines),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
