/* Events to lines and back: every derived line comes out again, and every change is named. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>
#include "comma_locale.h"
#include "transcript_bench.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static char folder[] = "/tmp/halfsplit-transcript-XXXXXX";
static hs_buf whole; /* of one run, made once */

static int make_run(void **state)
{
	(void)state;
	char path[64];
	if (!mkdtemp(folder))
		return -1;
	hs_buf_init(&whole);
	snprintf(path, sizeof path, "%s/run.jsonl", folder);
	bench_run(path, &whole);
	unlink(path);
	return rmdir(folder);
}

static int drop_run(void **state)
{
	(void)state;
	hs_buf_free(&whole);
	return 0;
}

/* ---- numbers ---- */

static void writes_17_digits_under_any_locale(void **state)
{
	(void)state;
	static const struct {
		double value;
		const char *text;
	} rows[] = {{0, "0"},
	            {1, "1"},
	            {-0.1, "-0.10000000000000001"},
	            {1e300, "1.0000000000000001e+300"},
	            {12.5, "12.5"},
	            {2.0 / 3.0, "0.66666666666666663"},
	            {-4000, "-4000"}};
	for (int comma = 0; comma < 2; comma++) {
		if (comma)
			assert_true(comma_locale_set());
		for (size_t i = 0; i < COUNT(rows); i++) {
			hs_buf text;
			hs_buf_init(&text);
			hs_digits17(&text, rows[i].value);
			assert_string_equal(text.data, rows[i].text);
			hs_buf_free(&text);
		}
	}
	setlocale(LC_ALL, "C");
}

/* ---- the first line ---- */

static void reads_an_opening_back(void **state)
{
	(void)state;
	hs_recorded_file file;
	char digest[HS_HEX_ROOM], hash[HS_HEX_ROOM];
	hs_opening opening = bench_opening(&file, digest), read;
	opening.rehearsal = "answers";
	hs_lines lines = {0}, again = {0};
	hs_lines_opened(&lines, &opening);
	hs_buf line;
	hs_buf_init(&line);
	hs_chain_seal(&line, 0, HS_CHAIN_START, lines.items[0].data, hash);
	hs_error error = {0};
	hs_json_doc *doc = hs_json_read(line.data, line.length - 1, &error);
	hs_arena *arena = hs_arena_new();
	assert_non_null(doc);
	assert_true(hs_opening_read(hs_json_root(doc), arena, &read, &error));
	hs_json_free(doc);
	assert_string_equal(read.unit, "SN 1/\"2\"");
	assert_string_equal(read.rehearsal, "answers");
	assert_string_equal(read.playbook.items[0].text, BENCH_TEXT);
	assert_int_equal(read.kit.count, 0);
	hs_lines_opened(&again, &read);
	assert_string_equal(again.items[0].data, lines.items[0].data);
	hs_arena_free(arena);
	hs_buf_free(&line);
	hs_lines_free(&lines);
	hs_lines_free(&again);
}

static void replace_in(hs_buf *text, const char *from, const char *to)
{
	char *at = strstr(text->data, from);
	if (!at)
		fail_msg("no %s in %.200s", from, text->data);
	hs_buf out;
	hs_buf_init(&out);
	hs_buf_add(&out, text->data, (size_t)(at - text->data));
	hs_buf_str(&out, to);
	hs_buf_str(&out, at + strlen(from));
	hs_buf_free(text);
	*text = out;
}

#define NOT_IN_FIRST_LINE(key, what) "the member \"" key "\" in the first line of the transcript is not " what
#define A_NAME                       "a name: text that is not blank, without control characters, of at most 120 bytes"

static void refuses_openings(void **state)
{
	(void)state;
	static const struct {
		const char *from, *to, *message;
	} rows[] = {
	    {"\"kind\":\"opened\"", "\"kind\":\"open\"", "the first line is not the opening of a halfsplit transcript"},
	    {"\"format\":1", "\"format\":2", "the transcript is of format version 2; this program reads version 1"},
	    {"\"format\":1,", "", "the first line of the transcript has no usable member \"format\""},
	    {"\"rules\":1,", "", "the first line of the transcript has no usable member \"rules\""},
	    {"2026-01-01T09:00:00.000Z", "", NOT_IN_FIRST_LINE("utc", "a time like 2026-01-01T09:00:00.000Z")},
	    {"2026-01-01T", "2026-02-30T", NOT_IN_FIRST_LINE("utc", "a time like 2026-01-01T09:00:00.000Z")},
	    {"2026-01-01T", "2026-02-29T", NOT_IN_FIRST_LINE("utc", "a time like 2026-01-01T09:00:00.000Z")},
	    {"09:00:00", "24:00:00", NOT_IN_FIRST_LINE("utc", "a time like 2026-01-01T09:00:00.000Z")},
	    {"09:00:00", "09.00.00", NOT_IN_FIRST_LINE("utc", "a time like 2026-01-01T09:00:00.000Z")},
	    {"\"mono_ms\":0", "\"mono_ms\":-1", NOT_IN_FIRST_LINE("mono_ms", "a number of milliseconds from 0 on")},
	    {"\"mono_ms\":0", "\"mono_ms\":0.5", "the first line of the transcript has no usable member \"mono_ms\""},
	    {"\"run\":\"0123", "\"run\":\"012", NOT_IN_FIRST_LINE("run", "32 hex digits")},
	    {"\"run\":\"0123", "\"run\":\"012G", NOT_IN_FIRST_LINE("run", "32 hex digits")},
	    {"SN 1/\\\"2\\\"", "", NOT_IN_FIRST_LINE("unit", A_NAME)},
	    {"SN 1", "\\u001b[2J", NOT_IN_FIRST_LINE("unit", A_NAME)},
	    {"SN 1", "\\u0085", NOT_IN_FIRST_LINE("unit", A_NAME)},
	    {"Ada Wren", "  ", NOT_IN_FIRST_LINE("by", A_NAME)},
	    {"Ada Wren", "Ada\\nWren", NOT_IN_FIRST_LINE("by", A_NAME)},
	    {"\"program\":\"0.1.0", "\"program\":\"\\u007f", NOT_IN_FIRST_LINE("program", A_NAME)},
	    {"\"rehearsal\":null", "\"rehearsal\":{\"by\":\"\"}", NOT_IN_FIRST_LINE("rehearsal", "null or who answered")},
	    {"\"path\":\"cells.lua\"", "\"path\":\"a\\u001bb\"",
	     NOT_IN_FIRST_LINE("path", "a file name without control characters")},
	    {"\"playbook_files\":{", "\"playbook_files\":null,\"x\":{",
	     "the first line of the transcript has no usable member \"playbook_files\""},
	    {"\"rules\":1", "\"rules\":9", "the transcript follows rules version 9; this program knows version 1"},
	    {"\"rules\":1", "\"rules\":1.5", "the first line of the transcript has no usable member \"rules\""},
	    {"edition = 2", "edition = 3",
	     "the first line of the transcript gives a SHA-256 for cells.lua that is not that of its text"},
	    {"\"path\":\"cells.lua\"", "\"path\":\"bells.lua\"",
	     "the digest over \"playbook_files\" in the first line of the transcript is not that of the files in it"},
	    {"\"rehearsal\":null", "\"rehearsal\":true",
	     "the first line of the transcript has no usable member \"rehearsal\""},
	    {"\"rehearsal\":null,", "", "the first line of the transcript has no usable member \"rehearsal\""},
	    {"\"unit\":", "\"units\":", "the first line of the transcript has no usable member \"unit\""},
	    {"\"kit_files\":null", "\"kit_files\":7",
	     "the first line of the transcript has no usable member \"digest\""},
	    {"\"edition\":2", "\"edition\":\"2\"", "the first line of the transcript has no usable member \"edition\""},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_recorded_file file;
		char digest[HS_HEX_ROOM], hash[HS_HEX_ROOM];
		hs_opening opening = bench_opening(&file, digest), read;
		hs_lines lines = {0};
		hs_lines_opened(&lines, &opening);
		replace_in(&lines.items[0], rows[i].from, rows[i].to);
		hs_buf line;
		hs_buf_init(&line);
		hs_chain_seal(&line, 0, HS_CHAIN_START, lines.items[0].data, hash);
		hs_error error = {0};
		hs_json_doc *doc = hs_json_read(line.data, line.length - 1, &error);
		hs_arena *arena = hs_arena_new();
		assert_non_null(doc);
		assert_false(hs_opening_read(hs_json_root(doc), arena, &read, &error));
		assert_string_equal(error.message, rows[i].message);
		assert_int_equal(error.code, HS_BAD_INPUT);
		hs_json_free(doc);
		hs_arena_free(arena);
		hs_buf_free(&line);
		hs_lines_free(&lines);
	}
}

/* ---- a whole run ---- */

typedef struct replayed {
	bench_made made;
	hs_replay *replay;
	const hs_replay_result *result;
	hs_chain chain;
} replayed;

static void replay_bytes(replayed *it, const char *data, size_t length)
{
	it->replay = hs_replay_new(bench_make, &it->made);
	hs_error error = {0};
	assert_true(hs_chain_check(data, length, hs_replay_line, it->replay, &it->chain, &error));
	it->result = hs_replay_get(it->replay);
}

static void done(replayed *it)
{
	hs_replay_free(it->replay);
	bench_unmake(&it->made);
}

static void derives_a_run_again(void **state)
{
	(void)state;
	replayed it = {0};
	replay_bytes(&it, whole.data, whole.length);
	assert_int_equal(it.chain.state, HS_CHAIN_GOOD);
	assert_string_equal(it.result->reason, "");
	assert_int_equal(it.result->state, HS_REPLAY_GOOD);
	assert_int_equal(it.result->events, BENCH_EVENTS);
	assert_int_equal(it.result->answers, 5);
	assert_int_equal(it.result->missing->count, 0);
	assert_true(it.result->closed);
	assert_false(it.result->paused);
	assert_string_equal(it.result->last_utc, "2026-01-01T09:00:09.000Z");
	assert_string_equal(hs_engine_by(it.result->engine), "Ben Holt");
	done(&it);
}

static void writes_what_was_promised(void **state)
{
	(void)state;
	static const char *const rows[] = {
	    "\"kind\":\"opened\",\"utc\":\"2026-01-01T09:00:00.000Z\",\"mono_ms\":0,\"format\":1,\"rules\":1,",
	    "\"title\":\"Cells \\u2126\"",
	    "\"kind\":\"asked\",\"utc\":\"2026-01-01T09:00:00.000Z\",\"mono_ms\":0,\"ask\":\"intake/words\"",
	    "\"kind\":\"answered\",\"event\":\"answer\",\"utc\":\"2026-01-01T09:00:05.000Z\",\"mono_ms\":5000,\"by\":"
	    "\"Ada Wren\",\"ask\":\"count\","
	    "\"text\":\"many\",\"accepted\":false,\"why\":\"",
	    "\"kind\":\"noted\",\"event\":\"note\",\"utc\":\"2026-01-01T09:00:06.000Z\",\"mono_ms\":6000,\"by\":\"Ada "
	    "Wren\",\"text\":\"smells \\u001b[1m of "
	    "\\u2126\",\"accepted\":true,",
	    "\"kind\":\"paused\",\"event\":\"pause\",",
	    "\"power\":\"unknown\",\"open\":[]",
	    "\"kind\":\"resumed\",\"event\":\"resume\",",
	    "\"kind\":\"corrected\",\"utc\":\"2026-01-01T09:00:09.000Z\",\"mono_ms\":9000,\"step\":\"count\","
	    "\"reading\":\"count\"",
	    "\"entry\":{\"kind\":\"number\",\"value\":\"2\",\"unit\":\"\",\"step\":\"1\"}",
	    "\"rule\":\"guard band w = U (k=2)\"",
	    "\"outcome\":\"low\",\"clears\":[\"lid\"],\"implicates\":[\"cell\"]",
	    "\"kind\":\"finding\",",
	    "\"suspects\":[\"cell\"],\"separated\":true,\"proof\":\"counted\"",
	    "\"kind\":\"closed\",",
	};
	const char *at = whole.data;
	for (size_t i = 0; i < COUNT(rows); i++) {
		const char *found = strstr(at, rows[i]);
		if (!found)
			fail_msg("no %s in the order expected, in:\n%s", rows[i], whole.data);
		at = found;
	}
}

static void appends_what_is_missing(void **state)
{
	(void)state;
	hs_lines lines = bench_members(&whole);
	const char *end = whole.data;
	for (size_t kept = 1; kept <= lines.count; kept++) {
		end = strchr(end, '\n') + 1;
		replayed it = {0};
		replay_bytes(&it, whole.data, (size_t)(end - whole.data));
		assert_int_equal(it.result->state, HS_REPLAY_GOOD);
		size_t batch = 0;
		while (kept + batch < lines.count && !strstr(lines.items[kept + batch].data, "\"event\":"))
			batch++;
		assert_int_equal(it.result->missing->count, batch);
		for (size_t i = 0; i < batch; i++)
			assert_string_equal(it.result->missing->items[i].data, lines.items[kept + i].data);
		done(&it);
	}
	hs_lines_free(&lines);
}

static size_t line_with(const hs_lines *lines, const char *text)
{
	for (size_t i = 0; i < lines->count; i++)
		if (strstr(lines->items[i].data, text))
			return i;
	fail_msg("no line with %s", text);
	return 0;
}

/* Whoever rewrites a line and makes the chain whole again is found by what follows from the answers. */
static void finds_rewritten_lines(void **state)
{
	(void)state;
	static const struct {
		const char *line, *from, *to, *reason;
	} rows[] = {
	    {"\"kind\":\"judged\"", "\"outcome\":\"low\"", "\"outcome\":\"ok\"",
	     "does not follow from the answers: it has"},
	    {"\"kind\":\"finding\"", "counted", "guessed", "does not follow from the answers: it has"},
	    {"\"text\":\"2\"", "\"text\":\"2\"", "\"text\":\"4\"", "does not follow from the answers: it has"},
	    {"\"text\":\"many\"", "\"accepted\":false", "\"accepted\":true",
	     "does not follow from the answers: it has"},
	    {"\"text\":\"dead\"", "intake/words", "intake/seals",
	     "cannot have been given there: An answer to intake/seals came"},
	    {"\"kind\":\"asked\"", "\"kind\":\"asked\"", "\"kind\":\"noted\",\"more\":1",
	     "does not follow from the answers: it has"},
	    {"\"event\":\"note\"", "\"event\":\"note\"", "\"event\":\"remark\"",
	     "is neither an answer nor a consequence of one"},
	    {"\"text\":\"dead\"", "2026-01-01T09:00:01.000Z", "", "cannot have been written by this program: its utc is not"},
	    {"\"text\":\"lunch\"", "2026-01-01T", "2026-13-01T", "cannot have been written by this program: its utc is not"},
	    {"\"text\":\"2\"", "\"mono_ms\":9000", "\"mono_ms\":-9000",
	     "cannot have been written by this program: its mono_ms is below 0"},
	    {"\"text\":\"2\"", "\"mono_ms\":9000", "\"mono_ms\":7999",
	     "cannot have been written by this program: its mono_ms goes back within one sitting"},
	    {"\"text\":\"lunch\"", "Ada Wren", "", "cannot have been written by this program: its by is not a name"},
	    {"\"text\":\"lunch\"", "Ada Wren", "Ada \\u001b[1m", "cannot have been written by this program: its by is not"},
	    {"\"kind\":\"opened\"", "\"by\":\"Ada Wren\",", "", "line 1 cannot be read: the first line of the transcript has no"},
	    {"\"kind\":\"opened\"", "\"playbook\":\"cells\"", "\"playbook\":\"bells\"",
	     "line 1 names playbook bells, edition 2, but the text in it is cells"},
	    {"\"kind\":\"opened\"", "\"kit_files\":null", "\"kit_files\":null,\"more\":1",
	     "line 1 does not follow from the answers: it has"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_lines lines = bench_members(&whole);
		size_t at = line_with(&lines, rows[i].line);
		replace_in(&lines.items[at], rows[i].from, rows[i].to);
		hs_buf data;
		hs_buf_init(&data);
		bench_seal(&lines, &data);
		replayed it = {0};
		replay_bytes(&it, data.data, data.length);
		assert_int_equal(it.chain.state, HS_CHAIN_GOOD);
		assert_int_equal(it.result->state, HS_REPLAY_DIFFERS);
		if (!strstr(it.result->reason, rows[i].reason))
			fail_msg("row %zu: %s", i, it.result->reason);
		/* The line itself, or the first that no longer follows from it. */
		assert_in_range(it.result->bad_line, at + 1, at + 2);
		assert_int_equal(it.result->missing->count, 0);
		done(&it);
		hs_buf_free(&data);
		hs_lines_free(&lines);
	}
}

static void finds_lines_left_out_and_doubled(void **state)
{
	(void)state;
	hs_lines lines = bench_members(&whole);
	for (size_t at = 1; at < 2 * lines.count; at++) {
		hs_lines changed = {0};
		for (size_t i = 0; i < lines.count; i++)
			for (size_t times = i == at % lines.count ? at / lines.count * 2 : 1; times > 0; times--) {
				changed.items =
				    hs_grow(changed.items, &changed.room, changed.count + 1, sizeof *changed.items);
				hs_buf_init(&changed.items[changed.count]);
				hs_buf_str(&changed.items[changed.count++], lines.items[i].data);
			}
		hs_buf data;
		hs_buf_init(&data);
		bench_seal(&changed, &data);
		replayed it = {0};
		replay_bytes(&it, data.data, data.length);
		/* Without its last line a run is only unfinished; a note or a pause causes nothing that would be
		 * missed. */
		bool tail = at == lines.count - 1;
		const char *members = lines.items[at % lines.count].data;
		bool silent = strstr(members, "\"event\":\"note\"") ||
		              (strstr(members, "\"event\":\"pause\"") && at < lines.count);
		if ((it.result->state == HS_REPLAY_GOOD) != tail && !silent)
			fail_msg("line %zu %s was not noticed: %s", at % lines.count + 1,
			         at < lines.count ? "left out" : "doubled", members);
		done(&it);
		hs_buf_free(&data);
		hs_lines_free(&changed);
	}
	hs_lines_free(&lines);
}

/* A clock that begins anew with a sitting is no clock that goes back. */
static void takes_a_new_clock_at_a_resume(void **state)
{
	(void)state;
	hs_lines lines = bench_members(&whole);
	size_t at = line_with(&lines, "\"event\":\"resume\"");
	for (size_t i = at; i < lines.count; i++) {
		char *mono = strstr(lines.items[i].data, "\"mono_ms\":");
		assert_non_null(mono);
		replace_in(&lines.items[i], mono[10] == '8' ? "\"mono_ms\":8000" : "\"mono_ms\":9000",
		           mono[10] == '8' ? "\"mono_ms\":10" : "\"mono_ms\":20");
	}
	hs_buf data;
	hs_buf_init(&data);
	bench_seal(&lines, &data);
	replayed it = {0};
	replay_bytes(&it, data.data, data.length);
	assert_string_equal(it.result->reason, "");
	assert_int_equal(it.result->events, BENCH_EVENTS);
	done(&it);
	hs_buf_free(&data);
	hs_lines_free(&lines);
}

#define ZEROS "0000000000000000000000000000000000000000000000000000000000000000"

static void repair_at(hs_lines *repair, size_t line)
{
	hs_journal_repaired repaired = {.line = line,
	                                .offset = 10,
	                                .cut = 5,
	                                .cut_sha256 = ZEROS,
	                                .kept = "/a/b/run.jsonl.torn-2",
	                                .reason = "torn"};
	*repair = (hs_lines){0};
	hs_lines_repaired(repair, &repaired, "2026-01-01T10:00:00.000Z", 7);
}

/* The whole run with one more line put in, as line `at` + 1. */
static void replay_with(replayed *it, const hs_lines *lines, const hs_lines *more, size_t at)
{
	hs_buf data;
	hs_buf_init(&data);
	hs_lines changed = {0};
	changed.items = hs_grow(NULL, &changed.room, lines->count + 1, sizeof *changed.items);
	for (size_t i = 0; i <= lines->count; i++)
		changed.items[changed.count++] = i == at ? more->items[0] : lines->items[i < at ? i : i - 1];
	bench_seal(&changed, &data);
	replay_bytes(it, data.data, data.length);
	hs_buf_free(&data);
	free(changed.items);
}

static void takes_a_repair_anywhere(void **state)
{
	(void)state;
	hs_lines lines = bench_members(&whole), repair;
	repair_at(&repair, 3);
	assert_string_equal(repair.items[0].data,
	                    "\"kind\":\"noted\",\"utc\":\"2026-01-01T10:00:00.000Z\",\"mono_ms\":7,\"repair\":{"
	                    "\"line\":3,\"offset\":10,"
	                    "\"cut\":5,\"sha256\":\"" ZEROS
	                    "\",\"kept\":\"run.jsonl.torn-2\",\"reason\":\"torn\"}");
	hs_lines_free(&repair);
	for (size_t at = 1; at <= lines.count; at++) {
		replayed it = {0};
		repair_at(&repair, at + 1);
		replay_with(&it, &lines, &repair, at);
		assert_string_equal(it.result->reason, "");
		assert_int_equal(it.result->repairs, 1);
		assert_int_equal(it.result->events, BENCH_EVENTS);
		done(&it);
		hs_lines_free(&repair);
	}
	hs_lines_free(&lines);
}

/* Nothing hides behind the word "repair": such a line is the program's own or none. */
static void refuses_forged_repairs(void **state)
{
	(void)state;
	static const struct {
		const char *from, *to;
	} rows[] = {
	    {"2026-01-01T10:00:00.000Z", ""},
	    {"\"mono_ms\":7", "\"mono_ms\":-7"},
	    {"\"line\":3", "\"line\":4"},
	    {"\"offset\":10", "\"offset\":-10"},
	    {"\"cut\":5", "\"cut\":0"},
	    {"\"cut\":5", "\"cut\":5.5"},
	    {"\"sha256\":\"0", "\"sha256\":\"Z"},
	    {"run.jsonl.torn-2", ""},
	    {"run.jsonl.torn-2", "a/b"},
	    {",\"reason\":\"torn\"", ""},
	    {"\"kind\":\"noted\"", "\"kind\":\"answered\",\"event\":\"answer\",\"ask\":\"count\",\"text\":\"4\""},
	    {"\"kind\":\"noted\"", "\"kind\":\"finding\""},
	};
	hs_lines lines = bench_members(&whole), repair;
	for (size_t i = 0; i < COUNT(rows); i++) {
		replayed it = {0};
		repair_at(&repair, 3);
		replace_in(&repair.items[0], rows[i].from, rows[i].to);
		replay_with(&it, &lines, &repair, 2);
		assert_int_equal(it.result->state, HS_REPLAY_DIFFERS);
		assert_string_equal(it.result->reason, "line 3 is not a repair as this program tells of one");
		assert_int_equal(it.result->bad_line, 3);
		done(&it);
		hs_lines_free(&repair);
	}
	hs_lines_free(&lines);
}

static void says_when_the_playbook_cannot_be_used(void **state)
{
	(void)state;
	replayed it = {.made = {.refuse = true}};
	replay_bytes(&it, whole.data, whole.length);
	assert_int_equal(it.result->state, HS_REPLAY_DIFFERS);
	assert_string_equal(it.result->reason,
	                    "the playbook and kit in line 1 cannot be used: cells.lua makes no sense");
	assert_int_equal(it.result->bad_line, 1);
	done(&it);
}

/* ---- what is not taken into the record ---- */

static void refuses_what_could_not_be_read_back(void **state)
{
	(void)state;
	char *longest = hs_alloc(HS_TYPED_MOST + 2);
	memset(longest, 'x', HS_TYPED_MOST + 1);
	const struct {
		const char *text, *message;
	} rows[] = {{"\xff", "what was typed is not UTF-8 text"},
	            {"\xed\xa0\x80", "what was typed is not UTF-8 text"},
	            {longest, "what was typed has 4097 bytes; an answer has at most 4096"}};
	hs_error error = {0};
	hs_playbook *playbook = bench_playbook();
	hs_engine *engine = hs_engine_new(playbook, "Ada Wren", &error);
	assert_non_null(engine);
	hs_engine_open(engine);
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_event event = {HS_EVENT_NOTE, NULL, rows[i].text, "Ada Wren", "2026-01-01T09:00:00.000Z", 0, NULL, NULL};
		hs_taken taken;
		assert_false(hs_transcript_take(NULL, engine, &event, &taken, &error));
		assert_string_equal(error.message, rows[i].message);
		assert_int_equal(error.code, HS_BAD_INPUT);
	}
	hs_engine_free(engine);
	hs_arena_free(playbook->arena);
	free(longest);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(writes_17_digits_under_any_locale),
	    cmocka_unit_test(reads_an_opening_back),
	    cmocka_unit_test(refuses_openings),
	    cmocka_unit_test(derives_a_run_again),
	    cmocka_unit_test(writes_what_was_promised),
	    cmocka_unit_test(appends_what_is_missing),
	    cmocka_unit_test(finds_rewritten_lines),
	    cmocka_unit_test(finds_lines_left_out_and_doubled),
	    cmocka_unit_test(takes_a_new_clock_at_a_resume),
	    cmocka_unit_test(takes_a_repair_anywhere),
	    cmocka_unit_test(refuses_forged_repairs),
	    cmocka_unit_test(says_when_the_playbook_cannot_be_used),
	    cmocka_unit_test(refuses_what_could_not_be_read_back),
	};
	return cmocka_run_group_tests(tests, make_run, drop_run);
}
