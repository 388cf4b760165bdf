/* Anchors: what was written on the job sheet against what the file holds. */
#include "chain_sample.h"

static void test_anchor(void **state)
{
	(void)state;
	sample it = make_sample("r1"), other = make_sample("r2");
	hs_chain chain = check(it.text.data, it.text.length);
	hs_buf text;
	hs_buf_init(&text);
	for (size_t line = 0; line < LINES; line++) {
		hs_anchor anchor;
		hs_error error = {.code = HS_FINE};
		hs_buf_clear(&text);
		hs_anchor_print(&text, line + 1, it.hash[line]);
		assert_true(hs_anchor_read(text.data, &anchor, &error));
		assert_int_equal(anchor.count, line + 1);
		assert_string_equal(anchor.digits, it.hash[line]);
		assert_int_equal(hs_anchor_check(&anchor, it.text.data, &chain), HS_ANCHOR_HOLDS);
		hs_chain theirs = check(other.text.data, other.text.length);
		assert_int_equal(hs_anchor_check(&anchor, other.text.data, &theirs), HS_ANCHOR_OTHER);
		hs_chain shorter = check(it.text.data, it.start[line]);
		assert_int_equal(hs_anchor_check(&anchor, it.text.data, &shorter), HS_ANCHOR_SHORTER);
		anchor.digits[HS_HEX_ROOM - 2] ^= 1;
		assert_int_equal(hs_anchor_check(&anchor, it.text.data, &chain), HS_ANCHOR_OTHER);
		anchor.digits[HS_HEX_ROOM - 2] = 0; /* fewer digits: still right */
		assert_int_equal(hs_anchor_check(&anchor, it.text.data, &chain), HS_ANCHOR_HOLDS);
	}
	hs_buf_clear(&text);
	hs_buf_str(&text, "\xef\xbb\xbf");
	add_crlf(&text, it.text.data, it.text.length);
	chain = check(text.data, text.length);
	hs_anchor last = {.count = LINES};
	strcpy(last.digits, it.hash[LINES - 1]);
	assert_int_equal(hs_anchor_check(&last, text.data, &chain), HS_ANCHOR_HOLDS);
	hs_buf_free(&text);
	hs_buf_free(&it.text);
	hs_buf_free(&other.text);
}

static void test_anchor_told(void **state)
{
	(void)state;
	hs_anchor anchor = {.count = 12};
	hs_chain chain = {.count = 15};
	static const struct {
		hs_anchor_state state;
		size_t count;
		const char *text;
	} rows[] = {
	    {HS_ANCHOR_HOLDS, 12, "the anchor holds: line 12 has the hash that was written down"},
	    {HS_ANCHOR_HOLDS, 15,
	     "the anchor holds: line 12 has the hash that was written down; the 3 lines behind it are not covered"},
	    {HS_ANCHOR_SHORTER, 9, "shorter than its anchor: 9 good lines where 12 were written down"},
	    {HS_ANCHOR_OTHER, 15,
	     "line 12 has another hash than its anchor: this is not the file the anchor was taken from"},
	};
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
		hs_buf out;
		hs_buf_init(&out);
		chain.count = rows[row].count;
		hs_anchor_tell(&out, &anchor, rows[row].state, &chain);
		assert_string_equal(out.data, rows[row].text);
		hs_buf_free(&out);
	}
}

static void test_anchor_typed(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		size_t count; /* 0: refused */
		const char *told;
	} rows[] = {
	    {"12:0123456789abcdef", 12, "0123456789abcdef"},
	    {" 12 : 0123 4567 89AB CDEF 00 ", 12, "0123456789abcdef00"},
	    {"1:" HS_CHAIN_START, 1, HS_CHAIN_START},
	    {"1:" HS_CHAIN_START "0", 0,
	     "the anchor \"1:" HS_CHAIN_START "0\" holds something else than at most 64 hex digits after its colon"},
	    {"12:0123456789abcde", 0,
	     "the anchor \"12:0123456789abcde\" has too few digits to tell one transcript from another"},
	    {"12:0123456789abcdeg", 0,
	     "the anchor \"12:0123456789abcdeg\" holds something else than at most 64 hex digits after its colon"},
	    {"0:0123456789abcdef", 0,
	     "the anchor \"0:0123456789abcdef\" does not begin with a number of lines and a colon"},
	    {"-1:0123456789abcdef", 0,
	     "the anchor \"-1:0123456789abcdef\" does not begin with a number of lines and a colon"},
	    {"12", 0, "the anchor \"12\" does not begin with a number of lines and a colon"},
	    {"", 0, "the anchor \"\" does not begin with a number of lines and a colon"},
	    {"99999999999999999999999:0123456789abcdef", 0,
	     "the anchor \"99999999999999999999999:0123456789abcdef\" does not begin with a number of lines and a "
	     "colon"},
	};
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
		hs_anchor anchor = {.count = 77};
		hs_error error = {.code = HS_FINE};
		bool good = hs_anchor_read(rows[row].text, &anchor, &error);
		assert_int_equal(good, rows[row].count != 0);
		assert_int_equal(anchor.count, good ? rows[row].count : 77);
		assert_string_equal(good ? anchor.digits : error.message, rows[row].told);
		if (!good) {
			assert_int_equal(error.code, HS_BAD_INPUT);
			assert_string_equal(
			    error.hint, "write it as on the job sheet: the number of lines, a colon, and at least 16 "
			                "digits of the hash");
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_anchor),
	    cmocka_unit_test(test_anchor_told),
	    cmocka_unit_test(test_anchor_typed),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
