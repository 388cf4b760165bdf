/* What a draft writes as Lua reads back as what it was, and cannot be taken for anything else. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>
#include "halfsplit/judge/limits.h"
#include "halfsplit/report/draft.h"

static void texts(void **state)
{
	(void)state;
	static const struct { const char *text, *lua; } rows[] = {
		{"R5 burnt", "\"R5 burnt\""},
		{"", "\"\""},
		{"a \"crack\"", "\"a \\\"crack\\\"\""},
		{"C:\\x", "\"C:\\\\x\""},
		{"a\nb\tc", "\"a\\010b\\009c\""},
		{"x\0331", "\"x\\0271\""}, /* three digits, so that the 1 behind it stays a 1 */
		{"\x7f", "\"\\127\""},
		{"10 k\u03a9 \u00b5", "\"10 k\u03a9 \u00b5\""},
		{"a\u202eb", "\"a\\u{202E}b\""}, /* nothing turns the direction of the file */
		{"a\u2066b\u2069", "\"a\\u{2066}b\\u{2069}\""},
		{"a\u2028b", "\"a\\u{2028}b\""},
		{"a\xc2\x85" "b", "\"a\\u{85}b\""},
		{"\u2013", "\"\u2013\""},
		{"]] --[[ x", "\"]] --[[ x\""},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_buf out;
		hs_buf_init(&out);
		hs_lua_text(&out, rows[i].text);
		assert_string_equal(out.data, rows[i].lua);
		hs_buf_free(&out);
	}
}

static void quantities(void **state)
{
	(void)state;
	static const struct { hs_quantity quantity; const char *lua; } rows[] = {
		{{145e6, HS_HERTZ}, "\"145 MHz\""},
		{{-20, HS_DBM}, "\"-20 dBm\""},
		{{0.0005, HS_VOLT}, "\"500 uV\""},
		{{145.0125e6, HS_HERTZ}, "\"145012500 Hz\""}, /* four digits would move it */
		{{1.0 / 3.0, HS_VOLT}, "\"0.3333333333333333 V\""},
		{{300, HS_SECOND}, "\"300 s\""},
		{{2.5, HS_UNITLESS}, "\"2.5\""},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_buf out;
		hs_quantity again;
		hs_buf_init(&out);
		hs_lua_quantity(&out, rows[i].quantity);
		assert_string_equal(out.data, rows[i].lua);
		out.data[out.length - 1] = '\0';
		assert_true(hs_quantity_read(out.data + 1, rows[i].quantity.unit, &again, NULL));
		assert_true(again.value == rows[i].quantity.value && again.unit == rows[i].quantity.unit);
		hs_buf_free(&out);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(texts), cmocka_unit_test(quantities)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
