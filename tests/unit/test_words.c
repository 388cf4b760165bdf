/* The words a plain playbook may use, and that they do the same everywhere. */
#include "comma_locale.h"
#include "sandbox_bench.h"

static void test_words(void **state)
{
	static const char *const rows[] = {
	    "#'abc' == 3 and string.len('a\\0b') == 3",
	    "('hello'):sub(2, 3) == 'el' and ('hello'):sub(-3) == 'llo' and ('hello'):sub(4, 2) == ''",
	    "('hello'):sub(0) == 'hello' and ('hello'):sub(-99, 99) == 'hello' and "
	    "('x'):sub(9223372036854775807) == ''",
	    "('aZ\\xe9'):upper() == 'AZ\\xe9' and ('aZ\\xe9'):lower() == 'az\\xe9'",
	    "('ab'):rep(3, ',') == 'ab,ab,ab' and ('ab'):rep(0) == '' and ('ab'):rep(-1) == ''",
	    "('abc'):reverse() == 'cba' and ('abc'):byte(2) == 98 and select('#', ('abc'):byte(1, -1)) == 3",
	    "string.char(72, 105) == 'Hi' and string.char() == ''",
	    "('a.b'):find('.', 1, true) == 2 and ('abc'):find('c') == 3 and ('abc'):find('x') == nil",
	    "select(2, ('abcd'):find('bc')) == 3 and ('abc'):find('') == 1 and ('abc'):find('', 10) == nil",
	    "table.concat(('a,b,,c'):split(','), '|') == 'a|b||c' and #(''):split(',') == 1",
	    "(' \\t x y\\n'):trim() == 'x y' and (''):trim() == ''",
	    "string.format('%5.2f|%-5s|%05d|%%|%x', 1.005, 'ab', 42, 255) == ' 1.00|ab   |00042|%|ff'",
	    "string.format('%s %s %s', nil, true, {}) == 'nil true table' and string.format('%.2s', 'abc') == 'ab'",
	    "string.format('%g %e', 0.5, 12345.678) == '0.5 1.234568e+04' and string.format('%f', 0/0) == 'nan'",
	    "string.format('%d', 3.0) == '3' and not pcall(string.format, '%d', 3.5) and not "
	    "pcall(string.format, '%d', '3')",
	    "tostring(1) == '1' and tostring(1.0) == '1.0' and tostring(0.1) == '0.1' and tostring(-0.0) == '-0.0'",
	    "tostring({}) == 'table' and tostring(type) == 'function' and tostring(0/0) == 'nan'",
	    "tostring(1e100) == '1e+100' and tostring(1/0) == 'inf' and tostring(-1/0) == '-inf'",
	    "tostring(setmetatable({}, { __tostring = function() return 'mine' end })) == 'mine'",
	    "not pcall(tostring, setmetatable({}, { __tostring = function() return 1 end }))",
	    "tonumber('12') == 12 and math.type(tonumber('12')) == 'integer' and "
	    "math.type(tonumber('12.0')) == 'float'",
	    "tonumber(' -1.5e3 ') == -1500 and tonumber('\\u{2212}5') == -5 and tonumber('.5') == 0.5",
	    "tonumber('0x10') == nil and tonumber('nan') == nil and tonumber('inf') == nil and "
	    "tonumber('1,5') == nil",
	    "tonumber('1 2') == nil and tonumber('') == nil and tonumber('1\\0') == nil and "
	    "tonumber({}) == nil and tonumber('1e999') == nil",
	    "select('#') == 0 and select('#', nil, nil) == 2 and select(-1, 1, 2) == 2 and not pcall(select, 0)",
	    "type(nil) == 'nil' and type(type) == 'function' and not pcall(type)",
	    "(function() local t = {} for k in pairs({ b = 1, a = 1, [2] = 1, [1.5] = 1, [-3] = 1, "
	    "[true] = 1, [false] = 1, B = 1 })"
	    " do t[#t + 1] = tostring(k) end return table.concat(t, ' ') end)() == '-3 1.5 2 B a b false true'",
	    "(function() local n, t = 0, { a = 1, b = 2, c = 3 } for k in pairs(t) do n = n + 1 t.c = "
	    "nil end return n end)() == 2",
	    "(function() local n = 0 for i, v in ipairs({ 5, 6, nil, 7 }) do n = n + i * v end return n "
	    "end)() == 17",
	    "(function() local n = 0 for k in pairs(math) do n = n + 1 end return n end)() == 22",
	    "(function() local n = 0 for k in ipairs(math) do n = n + 1 end return n end)() == 0",
	    "(function() local t = { 'b', 'a', 'C', 'a\\0' } table.sort(t) return table.concat(t, ' ') "
	    "end)() == 'C a a\\0 b'",
	    "(function() local t = {} for i = 1, 300 do t[i] = { i % 7, i } end"
	    " table.sort(t, function(a, b) return a[1] < b[1] end)"
	    " for i = 2, 300 do local a, b = t[i - 1], t[i] if a[1] > b[1] or (a[1] == b[1] and a[2] > "
	    "b[2]) then return false end end"
	    " return true end)()",
	    "(function() local t = { 3, 1, 2 } pcall(table.sort, t, function() error('no') end) return "
	    "table.concat(t) end)() == '312'",
	    "(function() local t = { 1, 2 } table.insert(t, 3) table.insert(t, 1, 0) return "
	    "table.concat(t, ',') end)() == '0,1,2,3'",
	    "(function() local t = { 1, 2, 3 } return table.remove(t, 1) == 1 and table.remove(t) == 3 "
	    "and #t == 1 end)()",
	    "table.remove({}) == nil and not pcall(table.insert, { 1 }, 5, 1) and not "
	    "pcall(table.remove, { 1 }, 5)",
	    "table.unpack({ 1, 2, 3 }, 2) == 2 and select('#', table.unpack({}, 1, 3)) == 3",
	    "table.concat({ 1, 2.5, 'x' }, '-') == '1-2.5-x' and table.concat({}) == '' and "
	    "table.concat({ 1, 2, 3 }, ',', 2) == '2,3'",
	    "math.floor(-1.5) == -2 and math.ceil(1.2) == 2 and math.type(math.floor(1.5)) == 'integer' "
	    "and math.floor(1e300) == 1e300",
	    "math.abs(math.mininteger) == math.mininteger and math.max(1, 3, 2) == 3 and math.min(2, 1.5) == 1.5",
	    "math.fmod(-5, 3) == -2 and math.fmod(math.mininteger, -1) == 0 and not pcall(math.fmod, 1, 0)",
	    "math.log(100, 10) == 2 and math.log(8, 2) == 3 and math.sqrt(9) == 3 and math.atan(1, -1) > 2",
	    "math.tointeger(3.0) == 3 and math.tointeger(3.5) == nil and math.tointeger('3') == nil and "
	    "math.type('x') == nil",
	    "select(2, math.modf(-3.25)) == -0.25 and math.modf(3.7) == 3 and math.huge > 1 and math.pi > 3.14",
	    "not pcall(math.floor, '1') and not pcall(math.sqrt, '4') and not pcall(math.max)",
	    "(function() local m = { __index = { a = 5 } } local t = setmetatable({}, m) return t.a == "
	    "5 and getmetatable(t) == m end)()",
	    "(function() local C = {} C.__index = C function C.new() return setmetatable({}, C) end "
	    "function C:hi() return 'hi' end"
	    " return C.new():hi() == 'hi' end)()",
	    "getmetatable('') == false and getmetatable(math) == false and getmetatable({}) == nil",
	    "select(2, pcall(error, 'plain', 0)) == 'plain' and select(2, pcall(error)) == nil",
	    "select(2, pcall(function() error('at') end)) == 'try.lua:1: at'",
	    "select(2, pcall(function() local x = no_such_word end)) == 'the word `no_such_word` is not "
	    "known in a playbook'",
	    "pcall(pcall) == false and select('#', pcall(function() return 1, 2 end)) == 3",
	    "assert(1, 'x') == 1 and select('#', assert(1, 2, 3)) == 3",
	    "'a' < 'b' and 'Z' < 'a' and not ('a' < 'B')",
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char text[1024];
		snprintf(text, sizeof text, "assert(%s)", rows[i]);
		bench b = open_text(text, NULL);
		if (!hs_sandbox_run_main(b.sandbox, BUDGET, &b.error))
			fail_msg("%s: %s", rows[i], b.error.message);
		close_bench(&b);
	}
}

/* Under a decimal comma every text and number is still the same. */
static void test_decimal_comma(void **state)
{
	static const char text[] = "assert(tostring(0.5) == '0.5' and string.format('%.2f %g', 1.5, 0.25) "
	                           "== '1.50 0.25')\n"
	                           "assert(tonumber('1.5') == 1.5 and tonumber('1,5') == nil and "
	                           "table.concat({ 0.5 }) == '0.5')";
	(void)state;
	if (!comma_locale_set())
		fail_msg("the decimal comma could not be set up");
	bench b = open_text(text, NULL);
	bool fine = hs_sandbox_run_main(b.sandbox, BUDGET, &b.error);
	setlocale(LC_ALL, "C");
	if (!fine)
		fail_msg("%s", b.error.message);
	close_bench(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_words),
	    cmocka_unit_test(test_decimal_comma),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
