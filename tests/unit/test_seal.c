/* Functions keep nothing between calls: what they hold is looked at before and after. */
#include "sandbox_bench.h"

static void test_seal(void **state)
{
	static const struct {
		const char *text;
		const char *changed; /* the upvalue, or NULL when nothing may be found */
	} rows[] = {
	    {"keep(function() return 1 end)", NULL},
	    {"local n = 0 keep(function() return n end)", NULL},
	    {"local n = 0 keep(function() n = n + 1 end)", "n"},
	    {"local n = 0 keep(function() n = 0 end)", NULL},
	    {"local n = 0 keep(function() n = 0.0 end)", "n"},
	    {"local s = 'a' keep(function() s = s .. 'b' end)", "s"},
	    {"local b = true keep(function() b = not b end)", "b"},
	    {"local x keep(function() x = 1 end)", "x"},
	    {"local t = { 1, { a = 2 } } keep(function() return t[2].a end)", NULL},
	    {"local t = { 1, { a = 2 } } keep(function() t[2].a = 3 end)", "t"},
	    {"local t = { 1, { a = 2 } } keep(function() t[2] = { a = 2 } end)", NULL},
	    {"local t = {} keep(function() t[1] = 1 end)", "t"},
	    {"local t = { a = 1 } keep(function() t.a = nil end)", "t"},
	    {"local t = { a = 1 } keep(function() t.a, t.b, t.c, t.d = nil, 1, 1, 1 t.b, t.c, t.d = "
	     "nil t.a = 1 end)",
	     NULL},
	    {"local t = { a = 1, b = 2 } keep(function() t.a, t.b = t.b, t.a end)", "t"},
	    {"local t = {} t.me = t keep(function() return t.me end)", NULL},
	    {"local t = {} t.me = t keep(function() t.me.n = 1 end)", "t"},
	    {"local t = {} local u = { t, t } keep(function() u[2] = {} end)", NULL},
	    {"local n = 0 local function up() n = n + 1 end keep(function() up() end)", "up"},
	    {"local n = 0 local function up() return n end keep(function() up() end)", NULL},
	    {"local function r(n) return n < 1 and 0 or r(n - 1) end keep(function() r(3) end)", NULL},
	    {"local t = setmetatable({}, { __index = { a = 1 } }) keep(function() "
	     "getmetatable(t).__index.a = 2 end)",
	     "t"},
	    {"local t = {} keep(function() setmetatable(t, {}) end)", "t"},
	    {"local m, s = math, shop keep(function() return m.floor(s.ohm) end)", NULL},
	    {"local m = math keep(function() m = table end)", "m"},
	    {"local u = thing keep(function() return u end)", NULL},
	    {"local it = pairs({ 1, 2, 3 }) keep(function() it() end)", "it"},
	    {"local f = type keep(function() f = tostring end)", "f"},
	    {"local a, b = 1, 1 keep(function() a = a b = 2 end)", "b"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int ref = LUA_NOREF;
		bench b = open_with_words(rows[i].text, &ref);
		lua_State *L = hs_sandbox_state(b.sandbox);
		if (!hs_sandbox_run_main(b.sandbox, BUDGET, &b.error) || !hs_seal_function(b.sandbox, ref, &b.error))
			fail_msg("%s: %s", rows[i].text, b.error.message);
		assert_true(hs_seal_check(b.sandbox, ref, &b.error));
		lua_rawgeti(L, LUA_REGISTRYINDEX, ref);
		assert_true(hs_sandbox_call(b.sandbox, 0, 0, BUDGET, &b.error));
		bool same = hs_seal_check(b.sandbox, ref, &b.error);
		if (same != !rows[i].changed)
			fail_msg("%s: %s", rows[i].text, same ? "no change was found" : b.error.message);
		if (rows[i].changed) {
			char wanted[128];
			snprintf(wanted, sizeof wanted,
			         "the function at try.lua:1 changed its upvalue `%s`; a function keeps "
			         "nothing between calls",
			         rows[i].changed);
			assert_string_equal(b.error.message, wanted);
			expect_at("seal", &b.error, "try.lua", 1, wanted);
		}
		assert_int_equal(lua_gettop(L), 0);
		close_bench(&b);
	}
}

static void test_seal_refused(void **state)
{
	static const struct {
		const char *text, *message;
	} rows[] = {
	    {"local t = {} for i = 1, 40 do t = { t } end\nkeep(function() return t end)",
	     "what the function here keeps in `t` is nested deeper than 32 levels"},
	    {"local t = {} for i = 1, 70000 do t[i] = i end\nkeep(function() return t end)",
	     "what the function here keeps in `t` holds more than 65536 entries"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		int ref = LUA_NOREF;
		bench b = open_with_words(rows[i].text, &ref);
		assert_true(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
		assert_false(hs_seal_function(b.sandbox, ref, &b.error));
		expect_at(rows[i].text, &b.error, "try.lua", 2, rows[i].message);
		hs_error unsealed = {0};
		assert_false(hs_seal_check(b.sandbox, ref, &unsealed));
		assert_non_null(strstr(unsealed.message, "was never sealed"));
		assert_int_equal(lua_gettop(hs_sandbox_state(b.sandbox)), 0);
		close_bench(&b);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_seal),
	    cmocka_unit_test(test_seal_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
