/* Errors, memory, text, hashes and files. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <fcntl.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include <cmocka.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/error.h"
#include "halfsplit/base/file.h"
#include "halfsplit/base/hash.h"
#include "halfsplit/base/text.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

/* text */

static void checks_utf8(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		bool good;
	} rows[] = {
		{"", true},
		{"plain", true},
		{"\xC3\xA9", true},
		{"\xE2\x84\xA6", true},
		{"\xF0\x9F\x94\xA7", true},
		{"\xF4\x8F\xBF\xBF", true},
		{"\x80", false},
		{"\xC3", false},
		{"\xC0\x80", false},
		{"\xC1\xBF", false},
		{"\xE0\x80\x80", false},
		{"\xED\xA0\x80", false},
		{"\xED\xBF\xBF", false},
		{"\xF0\x80\x80\x80", false},
		{"\xF4\x90\x80\x80", false},
		{"\xF5\x80\x80\x80", false},
		{"\xFF", false},
		{"ab\xE2\x84", false},
		{"\xE2\x28\xA1", false},
	};
	for (size_t i = 0; i < COUNT(rows); i++)
		if (hs_utf8_valid(rows[i].text, strlen(rows[i].text)) != rows[i].good)
			fail_msg("row %zu should be %s", i, rows[i].good ? "well-formed" : "refused");
	assert_true(hs_utf8_valid("a\0b", 3));
}

static void shows_text_safely(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		bool keep;
		const char *shown;
	} rows[] = {
		{"plain", false, "plain"},
		{"", false, ""},
		{"\x1b[2J", false, "\\x1b[2J"},
		{"a\rb", false, "a\\x0db"},
		{"a\tb\x7f", false, "a\\x09b\\x7f"},
		{"\xC2\x9B"
	     "31m",
	     false, "\\u009b31m"},
		{"\xE2\x80\xAE"
	     "evil",
	     false, "\\u202eevil"},
		{"\xE2\x81\xA6\xE2\x81\xA9\xD8\x9C\xE2\x80\x8E", false, "\\u2066\\u2069\\u061c\\u200e"},
		{"\xE2\x80\xA8\xE2\x80\xA9", false, "\\u2028\\u2029"},
		{"a\nb", false, "a\\nb"},
		{"a\nb", true, "a\nb"},
		{"\xFF\xC3", false, "\\xff\\xc3"},
		{"C:\\dir", false, "C:\\dir"},
		{"3 \xCE\xA9", false, "3 \xCE\xA9"},
		{"of\xE2\x80\x8B" "f", true, "of\\u200bf"},
		{"\xE2\x81\xA0\xC2\xAD\xEF\xBB\xBF", false, "\\u2060\\u00ad\\ufeff"},
		{"\xE3\x85\xA4\xE1\x85\x9F\xE1\xA0\x8E", false, "\\u3164\\u115f\\u180e"},
		{"A\xEF\xB8\x8F\xF3\xA0\x81\x81\xF3\xA0\x84\x80", false, "A\\ufe0f\\U000e0041\\U000e0100"},
		/* What stands beside them is seen. */
		{"\xC2\xAE\xE2\x80\x90\xE2\x81\x9E" "e\xCC\x81\xEF\xB8\x90", false, "\xC2\xAE\xE2\x80\x90\xE2\x81\x9E" "e\xCC\x81\xEF\xB8\x90"},
	};
	hs_buf out;
	hs_buf_init(&out);
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_buf_clear(&out);
		hs_buf_shown(&out, rows[i].text, rows[i].keep);
		assert_string_equal(out.data, rows[i].shown);
	}
	hs_buf_free(&out);
}

static void counts_columns(void **state)
{
	(void)state;
	assert_int_equal(hs_text_columns(""), 0);
	assert_int_equal(hs_text_columns("12 dB"), 5);
	assert_int_equal(hs_text_columns("\xC2\xB5"
	                                 "F"),
	                 2);
	assert_int_equal(hs_text_columns("e\xCC\x81"), 1);
	assert_int_equal(hs_text_columns("\xE6\xB8\xAC\xE5\xAE\x9A"), 4);
	assert_int_equal(hs_text_columns("\xEF\xBC\xA1"), 2);
	assert_int_equal(hs_text_columns("\xF0\x9F\x94\xA7"), 2);
	assert_int_equal(hs_text_columns("a\xE2\x80\x8D"
	                                 "b"),
	                 2);
	assert_int_equal(hs_text_columns("\xFF"), 1);
}

static void wraps_text(void **state)
{
	(void)state;
	static const struct {
		const char *before, *text;
		size_t width, indent;
		const char *out;
	} rows[] = {
		{"", "one two three", 7, 0, "one two\nthree"},
		{"", "one two three", 7, 2, "one two\n  three"},
		{"", "one two three", 80, 2, "one two three"},
		{"note: ", "one two three", 13, 6, "note: one two\n      three"},
		{"long label: ", "onetwo", 14, 2, "long label: \n  onetwo"},
		{"x\n", "one two", 3, 2, "x\none\n  two"},
		{"", "a unbreakableword b", 5, 0, "a\nunbreakableword\nb"},
		{"", "one\ntwo\n\nfour", 20, 2, "one\n  two\n\n  four"},
		{"", "ends\n", 20, 2, "ends\n"},
		{"", "two  spaces", 20, 0, "two  spaces"},
		{"", "two  spaces", 6, 0, "two\nspaces"},
		{"", "tail   ", 20, 0, "tail"},
		{"", "\x1b[1m x", 9, 0, "\\x1b[1m x"},
		{"", "\xE6\xB8\xAC \xE5\xAE\x9A", 4, 0, "\xE6\xB8\xAC\n\xE5\xAE\x9A"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_buf out;
		hs_buf_init(&out);
		hs_buf_str(&out, rows[i].before);
		hs_buf_wrap(&out, rows[i].text, rows[i].width, rows[i].indent);
		assert_string_equal(out.data, rows[i].out);
		hs_buf_free(&out);
	}
}

static void knows_ids(void **state)
{
	(void)state;
	char longest[66];
	memset(longest, 'a', 65);
	longest[65] = '\0';
	assert_false(hs_is_id(longest));
	longest[64] = '\0';
	assert_true(hs_is_id(longest));
	static const char *const good[] = {"a", "7", "TP2", "drive-at-tp2", "a.b_c+d-e", "0"};
	static const char *const bad[] = {"", "-a", ".a", "+a", "_a", "a b", "a/b", "a:b", "\xC3\xA9", "a\n"};
	for (size_t i = 0; i < COUNT(good); i++)
		if (!hs_is_id(good[i]))
			fail_msg("\"%s\" is an id", good[i]);
	for (size_t i = 0; i < COUNT(bad); i++)
		if (hs_is_id(bad[i]))
			fail_msg("\"%s\" is no id", bad[i]);
}

static void copies_and_trims(void **state)
{
	(void)state;
	char small[6] = "xxxxx", none = 'x';
	hs_copy(small, sizeof small, "abcdefgh");
	assert_string_equal(small, "abcde");
	hs_copy(small, sizeof small, "abcd\xC3\xA9");
	assert_string_equal(small, "abcd");
	hs_copy(small, sizeof small, "ab\xE2\x84\xA6z");
	assert_string_equal(small, "ab\xE2\x84\xA6");
	hs_copy(small, sizeof small, "");
	assert_string_equal(small, "");
	hs_copy(&none, 0, "abc");
	assert_int_equal(none, 'x');
	char text[] = " \t a b \r\n", blank[] = "  ";
	assert_string_equal(hs_trim(text), "a b");
	assert_string_equal(hs_trim(blank), "");
	assert_true(hs_same_word("dBm", "DBM"));
	assert_false(hs_same_word("dBm", "dB"));
	assert_false(hs_same_word("[", "{"));
	assert_true(hs_same_word("", ""));
}

static void names_the_nearest_word(void **state)
{
	(void)state;
	static const char *const known[] = {"limits", "plausible", "inject", "read", "power", "open"};
	static const struct {
		const char *word, *nearest;
	} rows[] = {
		{"limit", "limits"}, {"plausable", "plausible"}, {"inejct", "inject"}, {"raed", "read"},
		{"Power", "power"},  {"opne", "open"},           {"zzz", NULL},        {"x", NULL},
		{"", NULL},          {"powerful", NULL},         {"pwoerr", "power"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		const char *nearest = hs_nearest(rows[i].word, known, COUNT(known));
		if (!rows[i].nearest != !nearest || (nearest && strcmp(nearest, rows[i].nearest)))
			fail_msg("\"%s\" gave %s", rows[i].word, nearest ? nearest : "nothing");
	}
	assert_null(hs_nearest("read", known, 0));
}

static void grows_buffers(void **state)
{
	(void)state;
	hs_buf buf;
	hs_buf_init(&buf);
	assert_string_equal(buf.data, "");
	for (int i = 0; i < 1000; i++)
		hs_buf_printf(&buf, "%03d,", i);
	assert_int_equal(buf.length, 4000);
	assert_memory_equal(buf.data + 3996, "999,", 5);
	hs_buf_clear(&buf);
	assert_string_equal(buf.data, "");
	hs_buf_add(&buf, "a\0b", 3);
	hs_buf_char(&buf, 'c');
	assert_int_equal(buf.length, 4);
	assert_memory_equal(buf.data, "a\0bc", 5);
	hs_buf_free(&buf);
	hs_buf_free(&buf);
	hs_buf_str(&buf, "again");
	assert_string_equal(buf.data, "again");
	hs_buf_free(&buf);
}

/* errors */

static void fills_errors(void **state)
{
	(void)state;
	hs_error error = {.code = HS_IO, .line = 9, .quote = "old"};
	assert_false(hs_fail(&error, HS_BAD_INPUT, "there is no %s \"%s\"", "step", "x"));
	assert_int_equal(error.code, HS_BAD_INPUT);
	assert_int_equal(error.line, 0);
	assert_string_equal(error.quote, "");
	assert_string_equal(error.message, "there is no step \"x\"");
	assert_false(hs_fail(&error, HS_BAD_INPUT, "in the kit, %s", error.message));
	assert_string_equal(error.message, "in the kit, there is no step \"x\"");
	assert_false(hs_fail_at(&error, "garth.lua", 12));
	assert_false(hs_fail_hint(&error, "did you mean \"%s\"?", "y"));
	assert_false(hs_fail(NULL, HS_IO, "nobody listens"));
	assert_false(hs_fail_at(NULL, "f", 1));
	assert_false(hs_fail_hint(NULL, "h"));
	hs_buf out;
	hs_buf_init(&out);
	hs_copy(error.quote, sizeof error.quote, "step \"x\x1b\" {");
	hs_error_render(&error, &out);
	assert_string_equal(out.data, "garth.lua:12: in the kit, there is no step \"x\"\n"
	                              "    step \"x\\x1b\" {\n"
	                              "  hint: did you mean \"y\"?\n");
	hs_buf_clear(&out);
	hs_fail(&error, HS_IO, "a\nb");
	hs_error_render(&error, &out);
	assert_string_equal(out.data, "a\\nb\n");
	hs_buf_clear(&out);
	hs_fail_at(&error, NULL, 3);
	hs_error_render(&error, &out);
	assert_string_equal(out.data, "line 3: a\\nb\n");
	hs_buf_free(&out);
}

static void cuts_long_messages_between_characters(void **state)
{
	(void)state;
	char ohms[1202];
	for (size_t i = 0; i + 2 < sizeof ohms; i += 3)
		memcpy(ohms + i, "\xE2\x84\xA6", 3);
	ohms[1200] = '\0';
	hs_error error;
	hs_fail(&error, HS_IO, "%s", ohms);
	assert_int_equal(strlen(error.message), 510);
	assert_true(hs_utf8_valid(error.message, 510));
}

static void gives_exit_codes(void **state)
{
	(void)state;
	assert_int_equal(hs_code_exit(HS_FINE), 0);
	assert_int_equal(hs_code_exit(HS_BAD_INPUT), 2);
	assert_int_equal(hs_code_exit(HS_IO), 3);
	assert_int_equal(hs_code_exit(HS_REFUSED), 2);
	assert_int_equal(hs_code_exit(HS_BUDGET), 2);
}

/* memory */

static void allocates(void **state)
{
	(void)state;
	unsigned char *bytes = hs_alloc(64);
	for (int i = 0; i < 64; i++)
		assert_int_equal(bytes[i], 0);
	free(bytes);
	void *nothing = hs_alloc(0);
	assert_non_null(nothing);
	nothing = hs_realloc(nothing, 0);
	assert_non_null(nothing);
	free(nothing);
	int *items = NULL;
	size_t room = 0;
	for (int i = 0; i < 100; i++) {
		items = hs_grow(items, &room, (size_t)i + 1, sizeof *items);
		items[i] = i;
	}
	assert_true(room >= 100 && room < 300);
	assert_int_equal(items[99], 99);
	assert_ptr_equal(hs_grow(items, &room, 5, sizeof *items), items);
	free(items);
	char *copy = hs_strdup("text");
	assert_string_equal(copy, "text");
	free(copy);
}

static void arenas_keep_everything(void **state)
{
	(void)state;
	hs_arena *arena = hs_arena_new();
	char *texts[500];
	for (int i = 0; i < 500; i++) {
		texts[i] = hs_arena_printf(arena, "text number %d", i);
		unsigned char *more = hs_arena_alloc(arena, (size_t)i * 97);
		assert_int_equal((uintptr_t)more % _Alignof(max_align_t), 0);
		for (size_t j = 0; j < (size_t)i * 97; j++)
			if (more[j])
				fail_msg("not zeroed");
		memset(more, 0xAA, (size_t)i * 97);
	}
	for (int i = 0; i < 500; i++) {
		char wanted[32];
		snprintf(wanted, sizeof wanted, "text number %d", i);
		assert_string_equal(texts[i], wanted);
	}
	assert_null(hs_arena_str(arena, NULL));
	assert_string_equal(hs_arena_str(arena, "kept"), "kept");
	assert_string_equal(hs_arena_strn(arena, "kept", 2), "ke");
	hs_arena_free(arena);
	hs_arena_free(NULL);
}

/* With memory gone the process says so and ends with status 3. */
static void says_when_memory_is_gone(void **state)
{
	(void)state;
	int ends[2], status;
	assert_int_equal(pipe(ends), 0);
	fflush(NULL);
	pid_t child = fork();
	if (child == 0) {
		size_t room = 0;
		dup2(ends[1], 2);
		hs_grow(NULL, &room, SIZE_MAX / 2, 16);
		_exit(0);
	}
	close(ends[1]);
	char said[200] = "";
	assert_true(read(ends[0], said, sizeof said - 1) > 0);
	close(ends[0]);
	waitpid(child, &status, 0);
	assert_true(WIFEXITED(status));
	assert_int_equal(WEXITSTATUS(status), 3);
	assert_non_null(strstr(said, "halfsplit: out of memory"));
}

/* hashes */

static void hashes(void **state)
{
	(void)state;
	char hex[HS_HEX_ROOM];
	hs_sha256_hex("", 0, hex);
	assert_string_equal(hex, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
	hs_sha256_hex("abc", 3, hex);
	assert_string_equal(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

/* files */

static void write_file(const char *path, const char *data, size_t length)
{
	FILE *file = fopen(path, "wb");
	assert_non_null(file);
	assert_int_equal(fwrite(data, 1, length, file), length);
	assert_int_equal(fclose(file), 0);
}

static void expect_refusal(const char *path, size_t most, hs_code code, const char *message)
{
	hs_buf out;
	hs_error error = {0};
	hs_buf_init(&out);
	assert_false(hs_file_read(path, "playbook", most, &out, &error));
	assert_string_equal(error.message, message);
	assert_int_equal(error.code, code);
	hs_buf_free(&out);
}

static void reads_files(void **state)
{
	(void)state;
	char root[] = "/tmp/halfsplit-base-XXXXXX";
	assert_non_null(mkdtemp(root));
	assert_int_equal(chdir(root), 0);
	write_file("ten", "0123456789", 10);
	assert_int_equal(mkfifo("pipe", 0600), 0);
	assert_int_equal(symlink("loop", "loop"), 0);
	hs_buf out;
	hs_error error = {0};
	hs_buf_init(&out);
	hs_buf_str(&out, "before ");
	assert_true(hs_file_read("ten", "playbook", 10, &out, &error));
	assert_string_equal(out.data, "before 0123456789");
	assert_int_equal(error.code, HS_FINE);
	hs_buf_free(&out);
	expect_refusal("ten", 9, HS_BAD_INPUT, "the playbook \"ten\" has 10 bytes, and at most 9 are accepted");
	expect_refusal("gone", 9, HS_BAD_INPUT, "the playbook \"gone\" cannot be opened: there is no such file");
	expect_refusal("ten/x", 9, HS_BAD_INPUT,
	               "the playbook \"ten/x\" cannot be opened: a part of the path is not a folder");
	expect_refusal("loop", 9, HS_BAD_INPUT,
	               "the playbook \"loop\" cannot be opened: the path has a link that is not followed");
	expect_refusal(".", 9, HS_BAD_INPUT, "the playbook \".\" is a folder, and a file was wanted");
	expect_refusal("pipe", 9, HS_BAD_INPUT,
	               "the playbook \"pipe\" is a device, pipe or socket, and a plain file was wanted");
	expect_refusal("/dev/zero", 9, HS_BAD_INPUT,
	               "the playbook \"/dev/zero\" is a device, pipe or socket, and a plain file was wanted");
	/* A file whose size says 0, and that grows while it is read, is still held to the limit. */
	expect_refusal("/proc/self/maps", 9, HS_BAD_INPUT,
	               "the playbook \"/proc/self/maps\" has more than 9 bytes, and at most 9 are accepted");
	int fd = open("ten", O_WRONLY);
	hs_buf_init(&out);
	assert_false(hs_file_read_fd(fd, "ten", "kit", 10, &out, &error));
	assert_string_equal(error.message, "reading the kit \"ten\" failed: Bad file descriptor");
	assert_int_equal(error.code, HS_IO);
	close(fd);
	hs_buf_free(&out);
	unlink("ten");
	unlink("pipe");
	unlink("loop");
	assert_int_equal(chdir("/"), 0);
	rmdir(root);
}

static void running_out_of_descriptors_is_an_io_error(void **state)
{
	(void)state;
	struct rlimit before, none;
	assert_int_equal(getrlimit(RLIMIT_NOFILE, &before), 0);
	none = before;
	none.rlim_cur = 0;
	assert_int_equal(setrlimit(RLIMIT_NOFILE, &none), 0);
	hs_error error = {0};
	hs_buf out = {0};
	bool good = hs_file_read("/etc/passwd", "kit", 1 << 20, &out, &error);
	setrlimit(RLIMIT_NOFILE, &before);
	hs_buf_free(&out);
	assert_false(good);
	assert_int_equal(error.code, HS_IO);
	assert_string_equal(error.message, "the kit \"/etc/passwd\" cannot be opened: Too many open files");
}

static void cleans_text_files(void **state)
{
	(void)state;
	static const struct {
		const char *in;
		size_t length;
		const char *out; /* NULL: refused */
		const char *message;
		int line;
	} rows[] = {
		{"a\nb\n", 4, "a\nb\n", NULL, 0},
		{"", 0, "", NULL, 0},
		{"\xEF\xBB\xBF"
	     "a\r\nb\r\n",
	     9, "a\nb\n", NULL, 0},
		{"a\rb\r", 4, "a\rb\r", NULL, 0},
		{"a\r\r\nb", 5, "a\r\nb", NULL, 0},
		{"\xEF\xBB\xBF\xEF\xBB\xBF", 6, "\xEF\xBB\xBF", NULL, 0},
		{"a\r\n\r\nb\0c\n", 9, NULL, "the kit holds a NUL byte, and only text was wanted", 3},
		{"\xE9", 1, NULL, "the kit holds the byte 0xe9, which is not UTF-8 text", 1},
		{"a\n\xC3", 3, NULL, "the kit holds the byte 0xc3, which is not UTF-8 text", 2},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_buf text;
		hs_error error = {0};
		hs_buf_init(&text);
		hs_buf_add(&text, rows[i].in, rows[i].length);
		bool good = hs_file_text("kit.lua", "kit", &text, &error);
		assert_int_equal(good, rows[i].out != NULL);
		if (good) {
			assert_string_equal(text.data, rows[i].out);
			assert_int_equal(text.length, strlen(rows[i].out));
		} else {
			assert_string_equal(error.message, rows[i].message);
			assert_string_equal(error.file, "kit.lua");
			assert_string_equal(error.hint, "save the file as UTF-8 text without control bytes");
			assert_int_equal(error.line, rows[i].line);
		}
		hs_buf_free(&text);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(checks_utf8),
	    cmocka_unit_test(shows_text_safely),
	    cmocka_unit_test(counts_columns),
	    cmocka_unit_test(wraps_text),
	    cmocka_unit_test(knows_ids),
	    cmocka_unit_test(copies_and_trims),
	    cmocka_unit_test(names_the_nearest_word),
	    cmocka_unit_test(grows_buffers),
	    cmocka_unit_test(fills_errors),
	    cmocka_unit_test(cuts_long_messages_between_characters),
	    cmocka_unit_test(gives_exit_codes),
	    cmocka_unit_test(allocates),
	    cmocka_unit_test(arenas_keep_everything),
	    cmocka_unit_test(says_when_memory_is_gone),
	    cmocka_unit_test(hashes),
	    cmocka_unit_test(reads_files),
	    cmocka_unit_test(running_out_of_descriptors_is_an_io_error),
	    cmocka_unit_test(cleans_text_files),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
