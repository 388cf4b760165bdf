/* JSON: what the reader takes and refuses, and the one form the writer gives. */
#include <math.h>
#include <setjmp.h>
#include <signal.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>
#include <cmocka.h>
#include "halfsplit/json/json.h"
#include "comma_locale.h"

#define COUNT(array)     (sizeof(array) / sizeof *(array))
#define AT(line, column) "at line " #line ", column " #column " of the JSON text "

/* Read from a block of exactly the text's size, so that a step past its end is found. */
static hs_json_doc *read_exactly(const char *text, size_t length, hs_error *error)
{
	char *block = malloc(length ? length : 1);
	assert_non_null(block);
	memcpy(block, text, length);
	hs_json_doc *doc = hs_json_read(block, length, error);
	free(block);
	return doc;
}

static void reads_every_kind(void **state)
{
	(void)state;
	static const char text[] =
		" { \"n\":null,\"t\":true , \"f\":false,\"num\":-1.25e2,\r\n\"s\":\"a\\u00b5\\ud83d\\udd27\\n\\/\", "
		"\"list\":[1,[],{\"deep\":\"x\"}],\"\":0}\t";
	hs_error error = {0};
	hs_json_doc *doc = read_exactly(text, strlen(text), &error);
	assert_non_null(doc);
	const hs_json *root = hs_json_root(doc);
	double number = 0;
	bool truth = false;
	assert_int_equal(hs_json_kind_of(root), HS_JSON_OBJECT);
	assert_int_equal(hs_json_count(root), 7);
	assert_string_equal(hs_json_key(root, 4), "s");
	assert_null(hs_json_key(root, 7));
	assert_null(hs_json_at(root, 7));
	assert_int_equal(hs_json_kind_of(hs_json_get(root, "n")), HS_JSON_NULL);
	assert_non_null(hs_json_get(root, "n"));
	assert_null(hs_json_get(root, "N"));
	assert_true(hs_json_get_bool(root, "t", &truth) && truth);
	assert_true(hs_json_get_bool(root, "f", &truth) && !truth);
	assert_true(hs_json_get_number(root, "num", &number) && number == -125);
	assert_string_equal(hs_json_get_string(root, "s"), "a\xC2\xB5\xF0\x9F\x94\xA7\n/");
	const hs_json *list = hs_json_get(root, "list");
	assert_int_equal(hs_json_kind_of(list), HS_JSON_ARRAY);
	assert_int_equal(hs_json_count(list), 3);
	assert_true(hs_json_number(hs_json_at(list, 0), &number) && number == 1);
	assert_int_equal(hs_json_count(hs_json_at(list, 1)), 0);
	assert_string_equal(hs_json_get_string(hs_json_at(list, 2), "deep"), "x");
	assert_null(hs_json_key(list, 0));
	assert_true(hs_json_get_number(root, "", &number) && number == 0);
	hs_json_free(doc);
}

static void says_no_to_the_wrong_kind(void **state)
{
	(void)state;
	hs_json_doc *doc = read_exactly("[1,\"x\"]", 7, NULL);
	const hs_json *root = hs_json_root(doc);
	double number = 5;
	bool truth = true;
	assert_null(hs_json_get(root, "x"));
	assert_null(hs_json_get_string(root, "x"));
	assert_false(hs_json_get_number(root, "x", &number));
	assert_false(hs_json_get_bool(root, "x", &truth));
	assert_null(hs_json_string(hs_json_at(root, 0)));
	assert_false(hs_json_number(hs_json_at(root, 1), &number));
	assert_false(hs_json_bool(hs_json_at(root, 1), &truth));
	assert_true(number == 5 && truth);
	assert_int_equal(hs_json_kind_of(NULL), HS_JSON_NULL);
	assert_int_equal(hs_json_count(NULL), 0);
	assert_null(hs_json_at(NULL, 0));
	assert_null(hs_json_get(NULL, "x"));
	assert_null(hs_json_string(NULL));
	hs_json_free(doc);
	hs_json_free(NULL);
}

static const struct {
	const char *text;
	const char *message;
} refusals[] = {
	{"", AT(1, 1) "it ends, and a JSON value was wanted"},
	{" \n ", AT(2, 2) "it ends, and a JSON value was wanted"},
	{"{\"a\":1,\"b\":2,\n \"a\":3}", AT(2, 2) "the key \"a\" occurs a second time, and once was wanted"},
	{"{\"a\":1,\"\\u0061\":2}", AT(1, 8) "the key \"a\" occurs a second time, and once was wanted"},
	{"{\"x\":[{\"\xC2\xB5\":1,\"\xC2\xB5\":2}]}",
     AT(1, 14) "the key \"\xC2\xB5\" occurs a second time, and once was wanted"},
	{"1 2", AT(1, 3) "there is '2', and the end of the text was wanted"},
	{"{} x", AT(1, 4) "there is 'x', and the end of the text was wanted"},
	{"01", AT(1, 1) "a number begins with a zero too many, and one without it was wanted"},
	{"[-00.5]", AT(1, 3) "a number begins with a zero too many, and one without it was wanted"},
	{"+1", AT(1, 1) "there is '+', and a JSON value was wanted"},
	{".5", AT(1, 1) "there is '.', and a JSON value was wanted"},
	{"5.", AT(1, 3) "it ends, and a digit was wanted"},
	{"5.x", AT(1, 3) "there is 'x', and a digit was wanted"},
	{"1e", AT(1, 3) "it ends, and a digit was wanted"},
	{"1e+", AT(1, 4) "it ends, and a digit was wanted"},
	{"-", AT(1, 2) "it ends, and a digit was wanted"},
	{"0x10", AT(1, 2) "there is 'x', and the end of the text was wanted"},
	{"NaN", AT(1, 1) "there is 'N', and a JSON value was wanted"},
	{"nan", AT(1, 1) "there is 'n', and a JSON value was wanted"},
	{"Infinity", AT(1, 1) "there is 'I', and a JSON value was wanted"},
	{"-Infinity", AT(1, 2) "there is 'I', and a digit was wanted"},
	{"-inf", AT(1, 2) "there is 'i', and a digit was wanted"},
	{"9007199254740993", AT(1, 1) "a number is above 9007199254740992, and one that is kept exactly was wanted"},
	{"-10000000000000000.5",
	 AT(1, 2) "a number is above 9007199254740992, and one that is kept exactly was wanted"},
	{"1e309", AT(1, 1) "a number is too large, and one below 1.8e308 was wanted"},
	{"\"a\nb\"", AT(1, 3) "there is the byte 0x0a, and an escape such as \\n in its place was wanted"},
	{"\"a\tb\"", AT(1, 3) "there is the byte 0x09, and an escape such as \\n in its place was wanted"},
	{"\"\xFF\"", AT(1, 2) "there is the byte 0xff, and UTF-8 text was wanted"},
	{"\"\xC2\xB5\xC0\x80\"", AT(1, 3) "there is the byte 0xc0, and UTF-8 text was wanted"},
	{"\"\xED\xA0\x80\"", AT(1, 2) "there is the byte 0xed, and UTF-8 text was wanted"},
	{"{\"\xE2\x84\":1}", AT(1, 3) "there is the byte 0xe2, and UTF-8 text was wanted"},
	{"\"\\ud800\"", AT(1, 2) "there is half of a surrogate pair, and a whole character was wanted"},
	{"\"\\udc00\"", AT(1, 2) "there is half of a surrogate pair, and a whole character was wanted"},
	{"\"\\ud800\\u0041\"", AT(1, 2) "there is half of a surrogate pair, and a whole character was wanted"},
	{"\"\\ud800x\"", AT(1, 2) "there is half of a surrogate pair, and a whole character was wanted"},
	{"\"a\\u0000b\"", AT(1, 3) "there is a NUL (\\u0000), and text without it was wanted"},
	{"\"\\u00g0\"", AT(1, 6) "there is 'g', and one of four hexadecimal digits was wanted"},
	{"\"\\u00@0\"", AT(1, 6) "there is '@', and one of four hexadecimal digits was wanted"},
	{"\"\\u00", AT(1, 6) "it ends, and one of four hexadecimal digits was wanted"},
	{"\"\\x41\"", AT(1, 3) "there is 'x', and an escape such as \\n or \\u00b5 was wanted"},
	{"\"\\", AT(1, 3) "it ends, and an escape such as \\n or \\u00b5 was wanted"},
	{"\"abc", AT(1, 5) "it ends, and the closing quote of a string was wanted"},
	{"[1,]", AT(1, 4) "there is ']', and a JSON value was wanted"},
	{"[,1]", AT(1, 2) "there is ',', and a JSON value was wanted"},
	{"[1 2]", AT(1, 4) "there is '2', and a comma or ']' was wanted"},
	{"[1", AT(1, 3) "it ends, and a comma or ']' was wanted"},
	{"{\"a\":1,}", AT(1, 8) "there is '}', and a key in quotes was wanted"},
	{"{\"a\" 1}", AT(1, 6) "there is '1', and a colon was wanted"},
	{"{\"a\":}", AT(1, 6) "there is '}', and a JSON value was wanted"},
	{"{a:1}", AT(1, 2) "there is 'a', and a key in quotes was wanted"},
	{"{\"a\":1]", AT(1, 7) "there is ']', and a comma or '}' was wanted"},
	{"tru", AT(1, 1) "there is 't', and a JSON value was wanted"},
	{"\xEF\xBB\xBF{}", AT(1, 1) "there is the byte 0xef, and a JSON value was wanted"},
	{"[1] // why", AT(1, 5) "there is '/', and the end of the text was wanted"},
	{"\v1", AT(1, 1) "there is the byte 0x0b, and a JSON value was wanted"},
};

static void refuses_with_line_and_column(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(refusals); i++) {
		hs_error error = {0};
		if (read_exactly(refusals[i].text, strlen(refusals[i].text), &error))
			fail_msg("%s was accepted", refusals[i].text);
		assert_string_equal(error.message, refusals[i].message);
		assert_int_equal(error.code, HS_BAD_INPUT);
	}
	hs_error error = {0};
	assert_null(read_exactly("1\0", 2, &error));
	assert_string_equal(error.message, AT(1, 2) "there is the byte 0x00, and the end of the text was wanted");
}

static void holds_to_its_limits(void **state)
{
	(void)state;
	char nested[67];
	memset(nested, '[', 33);
	memset(nested + 33, ']', 33);
	hs_error error = {0};
	assert_null(read_exactly(nested, 66, &error));
	assert_string_equal(error.message, AT(1, 33) "it nests deeper than 32, and less was wanted");
	hs_json_doc *doc = read_exactly(nested + 1, 64, &error);
	assert_non_null(doc);
	hs_json_free(doc);

	size_t most = 8 * 1024 * 1024;
	char *large = malloc(most + 1);
	memset(large, ' ', most + 1);
	large[0] = '1';
	doc = hs_json_read(large, most, &error);
	assert_non_null(doc);
	hs_json_free(doc);
	assert_null(hs_json_read(large, most + 1, &error));
	assert_string_equal(error.message, "the JSON text has 8388609 bytes, and at most 8388608 were wanted");
	free(large);
}

/* Hundreds of thousands of items or keys are read, found and compared without delay. */
static void is_not_slowed_by_many_items(void **state)
{
	(void)state;
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_char(&text, '{');
	for (int i = 0; i < 200000; i++)
		hs_buf_printf(&text, "\"k%d\":%d,", i, i);
	hs_buf_str(&text, "\"k7\":0}");
	hs_error error = {0};
	assert_null(hs_json_read(text.data, text.length, &error));
	assert_non_null(strstr(error.message, "the key \"k7\" occurs a second time"));
	text.data[text.length - 5] = 'x';
	hs_json_doc *doc = hs_json_read(text.data, text.length, &error);
	assert_non_null(doc);
	double number, sum = 0;
	const hs_json *root = hs_json_root(doc);
	for (size_t i = 0; i < hs_json_count(root); i++)
		if (hs_json_number(hs_json_at(root, i), &number))
			sum += number;
	assert_true(sum == 199999.0 * 100000);
	hs_json_free(doc);
	hs_buf_free(&text);
}

static void check_numbers(void)
{
	static const struct {
		const char *text;
		double value;
	} rows[] = {
		{"0", 0},
		{"-0", -0.0},
		{"1.5", 1.5},
		{"-2.5E-3", -0.0025},
		{"9007199254740992", 9007199254740992.0},
		{"-9007199254740992", -9007199254740992.0},
		{"1e300", 1e300},
		{"0.1", 0.1},
		{"0.10000000000000000000000000000000000000000000000000000000000000000000000000000001", 0.1},
		{"5e-324", 5e-324},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_error error = {0};
		hs_json_doc *doc = read_exactly(rows[i].text, strlen(rows[i].text), &error);
		if (!doc)
			fail_msg("%s was refused: %s", rows[i].text, error.message);
		double value = 77;
		assert_true(hs_json_number(hs_json_root(doc), &value));
		assert_true(value == rows[i].value && signbit(value) == signbit(rows[i].value));
		hs_json_free(doc);
	}
}

static void write_sample(hs_buf *out)
{
	hs_json_writer writer;
	hs_json_begin(&writer, out);
	hs_json_open_object(&writer, NULL);
	hs_json_put_string(&writer, "text", "a\"\\\b\f\n\r\t\x01\x7f/\xC2\xB5\xF0\x9F\x94\xA7\xFF\xE2\x84");
	hs_json_put_string(&writer, "none", NULL);
	hs_json_put_number(&writer, "level", -31.4);
	hs_json_put_number(&writer, "large", 1e20);
	hs_json_put_integer(&writer, "count", -12);
	hs_json_open_array(&writer, "list");
	hs_json_put_bool(&writer, NULL, true);
	hs_json_put_bool(&writer, NULL, false);
	hs_json_put_null(&writer, NULL);
	hs_json_open_object(&writer, NULL);
	hs_json_close_object(&writer);
	hs_json_open_array(&writer, NULL);
	hs_json_close_array(&writer);
	hs_json_close_array(&writer);
	hs_json_put_number(&writer, "\xC2\xB5", 0.1);
	hs_json_close_object(&writer);
}

static const char sample[] =
	"{\"text\":\"a\\\"\\\\\\b\\f\\n\\r\\t\\u0001\\u007f/\\u00b5\\ud83d\\udd27\\ufffd\\ufffd\\ufffd\",\"none\":null,"
	"\"level\":-31.4,\"large\":1e20,\"count\":-12,\"list\":[true,false,null,{},[]],\"\\u00b5\":0.1}";

static void writes_one_form(void **state)
{
	(void)state;
	hs_buf out;
	hs_buf_init(&out);
	write_sample(&out);
	assert_string_equal(out.data, sample);
	hs_error error = {0};
	hs_json_doc *doc = read_exactly(out.data, out.length, &error);
	assert_non_null(doc);
	assert_string_equal(hs_json_get_string(hs_json_root(doc), "text"),
	                    "a\"\\\b\f\n\r\t\x01\x7f/\xC2\xB5\xF0\x9F\x94\xA7\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
	hs_json_free(doc);
	hs_buf_free(&out);
}

static void reads_numbers_exactly(void **state)
{
	(void)state;
	check_numbers();
}

static void a_decimal_comma_locale_changes_nothing(void **state)
{
	(void)state;
	assert_true(comma_locale_set());
	check_numbers();
	hs_buf out;
	hs_buf_init(&out);
	write_sample(&out);
	assert_string_equal(out.data, sample);
	hs_buf_free(&out);
	setlocale(LC_ALL, "C");
}

static void key_in_array(hs_json_writer *writer)
{
	hs_json_open_array(writer, NULL);
	hs_json_put_null(writer, "key");
}

static void no_key_in_object(hs_json_writer *writer)
{
	hs_json_open_object(writer, NULL);
	hs_json_put_null(writer, NULL);
}

static void second_top_value(hs_json_writer *writer)
{
	hs_json_put_null(writer, NULL);
	hs_json_put_null(writer, NULL);
}

static void closed_too_often(hs_json_writer *writer)
{
	hs_json_close_array(writer);
}

static void closed_as_another(hs_json_writer *writer)
{
	hs_json_open_array(writer, NULL);
	hs_json_close_object(writer);
}

static void not_a_number(hs_json_writer *writer)
{
	hs_json_put_number(writer, NULL, NAN);
}

static void integer_not_exact(hs_json_writer *writer)
{
	hs_json_put_integer(writer, NULL, 9007199254740993);
}

static void too_deep(hs_json_writer *writer)
{
	for (int i = 0; i < 33; i++)
		hs_json_open_array(writer, NULL);
}

static void deep_enough(hs_json_writer *writer)
{
	for (int i = 0; i < 32; i++)
		hs_json_open_array(writer, NULL);
}

/* Runs in a child, which a failed assertion aborts. */
static bool aborts(void (*calls)(hs_json_writer *))
{
	int status;
	fflush(NULL);
	pid_t child = fork();
	if (child == 0) {
		hs_buf out;
		hs_json_writer writer;
		if (!freopen("/dev/null", "w", stderr))
			_exit(9);
		signal(SIGABRT, SIG_DFL);
		hs_buf_init(&out);
		hs_json_begin(&writer, &out);
		calls(&writer);
		_exit(0);
	}
	waitpid(child, &status, 0);
	return WIFSIGNALED(status) && WTERMSIG(status) == SIGABRT;
}

static void asserts_a_wrong_order_of_calls(void **state)
{
	(void)state;
	static void (*const wrong[])(hs_json_writer *) = {
	    key_in_array,      no_key_in_object, second_top_value,  closed_too_often,
	    closed_as_another, not_a_number,     integer_not_exact, too_deep,
	};
	for (size_t i = 0; i < COUNT(wrong); i++)
		if (!aborts(wrong[i]))
			fail_msg("wrong order %zu was let pass", i);
	assert_false(aborts(deep_enough));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(reads_every_kind),
	    cmocka_unit_test(says_no_to_the_wrong_kind),
	    cmocka_unit_test(refuses_with_line_and_column),
	    cmocka_unit_test(holds_to_its_limits),
	    cmocka_unit_test(is_not_slowed_by_many_items),
	    cmocka_unit_test(writes_one_form),
	    cmocka_unit_test(reads_numbers_exactly),
	    cmocka_unit_test(a_decimal_comma_locale_changes_nothing),
	    cmocka_unit_test(asserts_a_wrong_order_of_calls),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
