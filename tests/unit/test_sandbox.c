/* What a hostile playbook tries, and memory running out at every point. */
#include <stdlib.h>
#include "sandbox_bench.h"

/* ---- Hostile playbooks, each a file in tests/hostile. ---- */

typedef struct hostile {
	const char *name;
	int seconds; /* of the watchdog; 0 where instructions or memory must end it */
	int line;
	const char *message;
	const char *hint;
} hostile;

static const char instructions[] = "the playbook used up its 8000000 instructions";
static const char memory[] = "the playbook wanted more memory than the 65536 KiB it may have";
static const char loop_hint[] = "a loop or a recursion that does not end";

static void run_hostile(const hostile *row, hs_code code)
{
	char path[128], file[64];
	hs_error error = {0};
	hs_sandbox_limits limits = {.seconds = row->seconds ? row->seconds : 60};
	snprintf(file, sizeof file, "%s.lua", row->name);
	snprintf(path, sizeof path, "tests/hostile/%s", file);
	hs_sources *sources = hs_sources_from_disk(path, NULL, 0, &error);
	if (!sources)
		fail_msg("%s", error.message);
	hs_sandbox *sandbox = hs_sandbox_open(&limits, sources, "playbook", &error);
	assert_non_null(sandbox);
	assert_false(hs_sandbox_run_main(sandbox, BUDGET, &error));
	expect_at(row->name, &error, file, row->line, row->message);
	expect_hint(row->name, &error, row->hint ? row->hint : "");
	assert_int_equal(error.code, code);
	assert_int_not_equal(error.quote[0], '\0');
	assert_int_equal(hs_sandbox_dead(sandbox), code == HS_BUDGET);
	assert_int_equal(lua_gettop(hs_sandbox_state(sandbox)), 0);
	hs_sandbox_close(sandbox);
	hs_sources_free(sources);
}

/* What never ends, or grows without end: fatal, whatever pcall is around it. */
static void test_endless(void **state)
{
	static const hostile rows[] = {
	    {"loop", 0, 3, instructions, loop_hint},
	    {"loop-in-pcall", 0, 2, instructions, loop_hint},
	    {"loop-in-pcall-of-pcall", 0, 1, instructions, loop_hint},
	    {"loop-in-index", 0, 1, instructions, loop_hint},
	    {"loop-in-order", 0, 2, instructions, loop_hint},
	    {"recursion-in-pcall", 0, 2, instructions, loop_hint},
	    {"recursion-tail", 0, 1, instructions, loop_hint},
	    {"rep-in-pcall", 0, 2, instructions, loop_hint},
	    {"memory", 0, 3, memory, "grows without end"},
	    {"memory-in-pcall", 0, 4, memory, "grows without end"},
	    {"memory-brink", 0, 3, memory, "grows without end"},
	    {"memory-brink-garbage", 0, 4, instructions, loop_hint},
	    {"join-doubling", 0, 3, "the playbook made a text longer than 2048 KiB", "grows without end"},
	    {"join-doubling-in-pcall", 0, 4, "the playbook made a text longer than 2048 KiB",
	     "grows "
	     "without end"},
	    {"join-again", 1, 3, "the playbook took more than 1 s of processor time",
	     "very long texts "
	     "or tables"},
	    {"compare-long", 1, 2, "the playbook took more than 1 s of processor time",
	     "very long "
	     "texts or tables"},
	    {"varargs", 1, 2, "the playbook took more than 1 s of processor time", "very long texts or tables"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		run_hostile(&rows[i], HS_BUDGET);
}

static void test_not_offered(void **state)
{
	static const hostile rows[] = {
	    {"gc-loop", 0, 2, "setmetatable does not offer `__gc`", NULL},
	    {"gc-added-later", 0, 4, "setmetatable does not offer `__gc`", NULL},
	    {"close-loop", 0, 1, "setmetatable does not offer `__close`", NULL},
	    {"close-added-later", 0, 5, "variable 'x' got a non-closable value", NULL},
	    {"weak-table", 0, 1, "setmetatable does not offer `__mode`", NULL},
	    {"coroutine", 0, 1, "`coroutine` is not offered to a playbook", "write a loop or a function"},
	    {"load", 0, 1, "`load` is not offered to a playbook", "use require"},
	    {"loadstring", 0, 1, "`loadstring` is not offered to a playbook", "use require"},
	    {"dofile", 0, 1, "`dofile` is not offered to a playbook", "use require"},
	    {"dump", 0, 1, "`string.dump` is not offered to a playbook", NULL},
	    {"io", 0, 1, "`io` is not offered to a playbook", "reads no files"},
	    {"os", 0, 1, "`os` is not offered to a playbook", "no clock and no system"},
	    {"debug", 0, 1, "`debug` is not offered to a playbook", "cannot look into"},
	    {"rawset", 0, 1, "`rawset` is not offered to a playbook", "use t[key] = value"},
	    {"next", 0, 1, "`next` is not offered to a playbook", "use pairs"},
	    {"globals", 0, 1, "`_G` is not offered to a playbook", "write the word itself"},
	    {"random", 0, 1, "`math.random` is not offered to a playbook", "the same in every run"},
	    {"pack", 0, 1, "`string.pack` is not offered to a playbook", NULL},
	    {"move-far", 0, 1, "`table.move` is not offered to a playbook", NULL},
	    {"pattern", 0, 2, "string.find looks for plain text and knows no patterns",
	     "find(text, "
	     "wanted, 1, true)"},
	    {"method-misspelt", 0, 1, "`string.gsub` is not offered to a playbook", "there are no patterns"},
	    {"library-misspelt", 0, 1, "`string.uper` is not offered to a playbook", "did you mean `upper`?"},
	    {"word-misspelt", 0, 2, "the word `piars` is not known in a playbook", "did you mean `pairs`?"},
	    {"format-address", 0, 1, "string.format does not offer \"%p\"", NULL},
	    {"format-hex-float", 0, 1, "string.format does not offer \"%a\"", NULL},
	    {"format-wide", 0, 1, "string.format does not offer \"%999\"", NULL},
	    {"tonumber-base", 0, 1, "tonumber takes no base here", NULL},
	    {"text-as-number", 0, 1, "attempt to perform arithmetic on a string value", NULL},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		run_hostile(&rows[i], HS_BAD_INPUT);
}

static void test_sealed_words(void **state)
{
	static const hostile rows[] = {
	    {"string-meta", 0, 1, "attempt to index a boolean value", NULL},
	    {"string-setmeta", 0, 1, "table expected, got string", NULL},
	    {"string-write", 0, 1, "`string` is sealed and cannot be changed", NULL},
	    {"string-insert", 0, 1, "this table is sealed and cannot be changed", NULL},
	    {"seal-setmeta", 0, 1, "this table is sealed and cannot be changed", NULL},
	    {"env-insert", 0, 1, "this table is sealed and cannot be changed", NULL},
	    {"env-write", 0, 1, "`pairs` belongs to halfsplit and cannot be changed", NULL},
	    {"word-write", 0, 2, "`pairs` belongs to halfsplit and cannot be changed", NULL},
	    {"global-write", 0, 2, "`total` is assigned without local, and a playbook keeps no globals",
	     "write local total = ...; called from global-write.lua:4"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		run_hostile(&rows[i], HS_BAD_INPUT);
}

static void test_far_lengths(void **state)
{
	static const hostile rows[] = {
	    {"rep-huge", 0, 1, "this makes a text longer than 1024 KiB", NULL},
	    {"rep-huge-empty", 0, 2, "empty times many is 0", NULL},
	    {"concat-huge", 0, 3, "this makes a text longer than 1024 KiB", NULL},
	    {"concat-far", 0, 1, "table.concat found a nil at position 1", NULL},
	    {"unpack-far", 0, 1, "table.unpack gives at most 250 values at once", NULL},
	    {"lying-length", 0, 5, "lengths are raw", NULL},
	    {"sort-mad", 0, 4, "sorted 5000", NULL},
	    {"sort-mixed", 0, 1, "table.sort cannot order a string against a number", NULL},
	    {"recursion", 0, 2, "stack overflow", "calls itself without end"},
	    {"recursion-c", 0, 5, "came back", NULL},
	    {"recursion-index", 0, 2, "C stack overflow", "calls itself without end"},
	    {"recursion-tostring", 0, 2, "C stack overflow", "calls itself without end"},
	    {"index-circle", 0, 4, "'__index' chain too long", NULL},
	    {"pairs-table-key", 0, 1, "pairs found a key that is a table", NULL},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		run_hostile(&rows[i], HS_BAD_INPUT);
}

static void test_errors_raised(void **state)
{
	static const hostile rows[] = {
	    {"error-table", 0, 1, "the playbook raised an error that is not a text but a table value", "write error("},
	    {"error-nil", 0, 1, "an error that is not a text but a nil value", "write error("},
	    {"error-function", 0, 1, "an error that is not a text but a function value", "write error("},
	    {"error-number", 0, 1, "the playbook raised the error 42", NULL},
	    {"error-evil", 0, 2, "an error that is not a text but a table value", "write error("},
	    {"error-empty", 0, 1, "the playbook raised an error without words", NULL},
	    {"error-escapes", 0, 1, "\x1b[2Jforged\r\xe2\x80\xae", NULL},
	    {"error-forged-place", 0, 1, "no-such-file.lua:7: forged", NULL},
	    {"error-level", 0, 4, "x was wanted", NULL},
	    {"error-long", 0, 1, "long long long long", NULL},
	    {"error-rethrown", 0, 2, "attempt to perform arithmetic on a nil value", NULL},
	    {"assert-message", 0, 1, "one is not two", NULL},
	    {"assert-bare", 0, 1, "an assertion does not hold", NULL},
	    {"nil-index", 0, 2, "attempt to index a nil value (local 'step')", NULL},
	    {"divide", 0, 1, "attempt to divide by zero", NULL},
	    {"syntax", 0, 3, "'}' expected (to close '{' at line 1) near 'b'", NULL},
	    {"format-few", 0, 1, "bad argument #3 to 'format' (no value)", NULL},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		run_hostile(&rows[i], HS_BAD_INPUT);
}

static void test_require_refused(void **state)
{
	static const hostile rows[] = {
	    {"require-up", 0, 1, "the file name \"../../etc/passwd\" holds \"..\"",
	     "beneath the "
	     "playbook's own folder"},
	    {"require-absolute", 0, 1, "the file name \"/etc/passwd\" is an absolute path", NULL},
	    {"require-missing", 0, 1, "there is no file \"no-such-thing.lua\"", NULL},
	    {"require-number", 0, 1, "require wants a file name in quotes, and was given a number", NULL},
	    {"require-nul", 0, 1, "require was given a name with a NUL character in it", NULL},
	    {"require-self", 0, 1, "\"require-self.lua\" is required while it is itself being read", "third one"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
		run_hostile(&rows[i], HS_BAD_INPUT);
}

/* The error is told where it is, in the file required, with the line that required it in the hint. */
static void test_error_in_required_file(void **state)
{
	static const struct {
		const char *name, *file;
		int line;
		const char *hint;
	} rows[] = {
	    {"require-broken", "syntax.lua", 3, "called from require-broken.lua:2"},
	    {"require-failing", "nil-index.lua", 2, "called from require-failing.lua:2"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char path[128];
		bench b = {0};
		snprintf(path, sizeof path, "tests/hostile/%s.lua", rows[i].name);
		b.sources = hs_sources_from_disk(path, NULL, 0, &b.error);
		b.sandbox = hs_sandbox_open(NULL, b.sources, "playbook", &b.error);
		assert_false(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
		expect_at(rows[i].name, &b.error, rows[i].file, rows[i].line, "");
		expect_hint(rows[i].name, &b.error, rows[i].hint);
		close_bench(&b);
	}
}

/* ---- Hostile text that is made rather than kept. ---- */

static char *repeated(const char *before, const char *unit, size_t count, const char *after)
{
	size_t length = strlen(unit);
	char *text = malloc(strlen(before) + length * count + strlen(after) + 1), *at = text;
	assert_non_null(text);
	at = stpcpy(at, before);
	for (size_t i = 0; i < count; i++, at += length)
		memcpy(at, unit, length);
	strcpy(at, after);
	return text;
}

static void test_nesting(void **state)
{
	static const struct {
		const char *before, *unit, *after, *message;
	} rows[] = {
	    {"local x = ", "(", "", "C stack overflow"},
	    {"local x = ", "{", "", "C stack overflow"},
	    {"local x = ", "- ", "1", "C stack overflow"},
	    {"", "do ", "", "C stack overflow"},
	    {"local x = ", "function() return ", "", "C stack overflow"},
	    {"local x = 1", " .. 1", "", "C stack overflow"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		char *text = repeated(rows[i].before, rows[i].unit, 5000, rows[i].after);
		bench b = open_text(text, NULL);
		assert_false(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
		expect_at(rows[i].unit, &b.error, "try.lua", 1, rows[i].message);
		expect_hint(rows[i].unit, &b.error, "nested too deeply");
		assert_int_equal(b.error.code, HS_BAD_INPUT);
		close_bench(&b);
		free(text);
	}
}

/* The parser takes time with the square of this, so it is the length of a file that bounds it. */
static void test_long_source(void **state)
{
	(void)state;
	hs_error error = {0};
	char *text = repeated("if nil then\n", "elseif nil then\n", 8100, "end\n");
	assert_in_range(strlen(text), HS_SOURCE_LUA_MOST - 2048, HS_SOURCE_LUA_MOST);
	bench b = open_text(text, NULL);
	assert_true(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
	close_bench(&b);
	free(text);
	text = repeated("", "-", HS_SOURCE_LUA_MOST + 1, "");
	assert_null(hs_sources_from_text("try.lua", text, strlen(text), &error));
	assert_string_equal(error.message, "the file \"try.lua\" has 131073 bytes, and at most 131072 are accepted");
	free(text);
}

static void test_bytecode(void **state)
{
	(void)state;
	bench b = open_text("\x1bLua", NULL);
	assert_false(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
	expect_at("bytecode", &b.error, "try.lua", 1, "this is compiled Lua, and only Lua text is read");
	close_bench(&b);
}

/* Lua shows a long chunk name cut short; the error still names the file, once. */
static void test_long_name(void **state)
{
	static const char *const names[] = {
	    "a-name-that-lua-shows-whole-because-it-has-59-characters.lua",
	    "a-name-that-lua-shows-whole-because-it-has-58-character.lua",
	    "a-name-that-lua-cuts-because-it-is-quite-a-bit-longer-than-sixty-characters.lua",
	    "a-name-with:7: a place inside.lua",
	};
	(void)state;
	for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
		static const char text[] = "\n\nlocal x = nil + 1";
		static const char wrong[] = "\nlocal = 1";
		for (int broken = 0; broken < 2; broken++) {
			bench b = {0};
			b.sources = hs_sources_from_text(names[i], broken ? wrong : text, strlen(broken ? wrong : text),
			                                 &b.error);
			b.sandbox = hs_sandbox_open(NULL, b.sources, "playbook", &b.error);
			assert_false(hs_sandbox_run_main(b.sandbox, BUDGET, &b.error));
			assert_string_equal(b.error.message, broken ? "<name> expected near '='"
			                                            : "attempt to perform arithmetic on a nil value");
			expect_at(names[i], &b.error, names[i], broken ? 2 : 3, "");
			close_bench(&b);
		}
	}
}

/* ---- Every allocation fails once. ---- */

static const char small_book[] = "local parts = {}\n"
                                 "for i = 1, 20 do parts[#parts + 1] = { id = 'p' .. i, f = function() "
                                 "return i end } end\n"
                                 "table.sort(parts, function(a, b) return a.id < b.id end)\n"
                                 "for k, v in pairs(parts) do assert(k and v) end\n"
                                 "local s = string.format('%d parts: %s', #parts, parts[1].id):rep(20)\n"
                                 "pcall(error, s) pcall(function() local x = nowhere end)\n"
                                 "require 'lib'\n"
                                 "keep(function() return parts end)\n";

static void run_with_failure(unsigned long fail_at, bool *finished)
{
	int ref = LUA_NOREF;
	bench b = {0};
	hs_sandbox_limits limits = {.fail_at = fail_at};
	b.sources = hs_sources_from_text("try.lua", small_book, strlen(small_book), &b.error);
	assert_true(hs_sources_add_embedded(b.sources, "lib.lua", NULL, "return { 1, 2 }", 15, &b.error));
	b.sandbox = hs_sandbox_open(&limits, b.sources, "playbook", &b.error);
	if (b.sandbox)
		hs_sandbox_set_host(b.sandbox, &ref);
	*finished = b.sandbox && hs_sandbox_protected(b.sandbox, declare_words, NULL, 100000, &b.error) &&
	            hs_sandbox_run_main(b.sandbox, BUDGET, &b.error) && hs_seal_function(b.sandbox, ref, &b.error);
	if (!*finished && (b.error.code != HS_BUDGET || strcmp(b.error.message, memory) != 0))
		fail_msg("allocation %lu: code %d, %s", fail_at, (int)b.error.code, b.error.message);
	if (!*finished && b.sandbox)
		assert_true(hs_sandbox_dead(b.sandbox));
	close_bench(&b);
}

static void test_allocation_failures(void **state)
{
	(void)state;
	bool finished = false;
	unsigned long n = 0;
	while (!finished && n < 5000)
		run_with_failure(++n, &finished);
	assert_true(finished);
	assert_in_range(n, 200, 4999);
}

static void test_small_memory(void **state)
{
	(void)state;
	for (size_t kib = 1; kib < 64; kib += 3) {
		hs_error error = {0};
		hs_sandbox_limits limits = {.memory = kib * 1024};
		hs_sources *sources = hs_sources_from_text("try.lua", small_book, strlen(small_book), &error);
		hs_sandbox *sandbox = hs_sandbox_open(&limits, sources, "kit", &error);
		if (!sandbox) {
			char wanted[96];
			snprintf(wanted, sizeof wanted, "the kit wanted more memory than the %zu KiB it may have", kib);
			assert_string_equal(error.message, wanted);
		}
		hs_sandbox_close(sandbox);
		hs_sources_free(sources);
	}
	hs_sandbox_close(NULL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_endless),
	    cmocka_unit_test(test_not_offered),
	    cmocka_unit_test(test_sealed_words),
	    cmocka_unit_test(test_far_lengths),
	    cmocka_unit_test(test_errors_raised),
	    cmocka_unit_test(test_require_refused),
	    cmocka_unit_test(test_error_in_required_file),
	    cmocka_unit_test(test_nesting),
	    cmocka_unit_test(test_long_source),
	    cmocka_unit_test(test_bytecode),
	    cmocka_unit_test(test_long_name),
	    cmocka_unit_test(test_allocation_failures),
	    cmocka_unit_test(test_small_memory),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
