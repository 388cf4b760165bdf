/* A torn last line: kept beside, cut off, told, also when the repair itself is interrupted. */
#include "journal_bench.h"

/* Cut at every byte of the last two lines, mended, gone on with. */
static void test_repair_everywhere(void **state)
{
	bench *it = *state;
	hs_buf whole = four_lines(it);
	size_t last = whole.length - 1, third;
	while (whole.data[last - 1] != '\n')
		last--;
	for (third = last - 1; whole.data[third - 1] != '\n'; third--)
		;
	for (size_t length = third + 1; length < whole.length; length++) {
		if (length == last)
			continue;
		size_t good = length > last ? last : third;
		char kept[160], wanted_cut[HS_HEX_ROOM];
		hs_chain chain;
		hs_error error = {.code = HS_FINE};
		hs_journal_repaired done;
		snprintf(kept, sizeof kept, "%s.torn-%d", it->path, good == last ? 3 : 2);
		put_content(it->path, whole.data, length);
		hs_journal *journal = opened(it, &chain);
		assert_int_equal(chain.state, HS_CHAIN_TORN);
		assert_true(hs_journal_repair_due(journal));
		assert_false(hs_journal_add(journal, "\"kind\":\"noted\"", &error));
		assert_non_null(strstr(error.message, "must be repaired before a line is added"));
		set_wrong(it, 0, 0, 0, 0);
		assert_true(hs_journal_repair(journal, &done, &error));
		assert_string_equal(it->calls, "wsss"); /* kept, synced with its folder; cut, synced */
		assert_false(hs_journal_repair_due(journal));
		assert_int_equal(done.line, good == last ? 4 : 3);
		assert_int_equal(done.offset, good);
		assert_int_equal(done.cut, length - good);
		assert_string_equal(done.kept, kept);
		assert_string_equal(done.reason, chain.reason);
		hs_sha256_hex(whole.data + good, length - good, wanted_cut);
		assert_string_equal(done.cut_sha256, wanted_cut);
		add(journal, "\"kind\":\"repaired\"");
		commit(journal);
		hs_journal_close(journal);
		hs_buf after = content(it->path), beside = content(kept);
		assert_memory_equal(after.data, whole.data, good);
		assert_int_equal(beside.length, length - good);
		assert_memory_equal(beside.data, whole.data + good, beside.length);
		chain = checked(&after);
		assert_int_equal(chain.state, HS_CHAIN_GOOD);
		assert_int_equal(chain.count, good == last ? 4 : 3);
		hs_journal_close(opened(it, NULL));
		hs_buf_free(&after);
		hs_buf_free(&beside);
		unlink(kept);
	}
	hs_buf_free(&whole);
}

/* Killed at each point of a repair: the next one still gets everything kept and told. */
static void test_repair_interrupted(void **state)
{
	bench *it = *state;
	hs_buf whole = four_lines(it);
	hs_journal_repaired done;
	hs_chain chain;
	hs_error error = {.code = HS_FINE};
	char kept[160], second[160];
	size_t cut_at = whole.length - 20;
	snprintf(kept, sizeof kept, "%s.torn-3", it->path);
	snprintf(second, sizeof second, "%s.torn-3-2", it->path);

	/* The kept file was begun and not finished; it is left alone. */
	put_content(it->path, whole.data, cut_at);
	put_content(kept, "{\"se", 4);
	hs_journal *journal = opened(it, &chain);
	assert_true(hs_journal_repair(journal, &done, &error));
	assert_string_equal(done.kept, second);
	hs_buf first = content(kept), full = content(second);
	assert_string_equal(first.data, "{\"se");
	assert_int_equal(full.length, cut_at - chain.good_bytes);
	hs_journal_close(journal); /* and again before its line could be added */

	size_t cut = done.cut;
	char digest[HS_HEX_ROOM];
	strcpy(digest, done.cut_sha256);
	journal = opened(it, &chain);
	assert_int_equal(chain.state, HS_CHAIN_GOOD);
	assert_true(hs_journal_repair_due(journal));
	assert_true(hs_journal_repair(journal, &done, &error));
	assert_string_equal(done.kept, second);
	assert_int_equal(done.cut, cut);
	assert_string_equal(done.cut_sha256, digest);
	assert_int_equal(done.line, 4);
	assert_string_equal(done.reason, "line 4 was cut off by a repair that did not get to its end");
	add(journal, "\"kind\":\"repaired\"");
	commit(journal);
	hs_journal_close(journal);
	journal = opened(it, NULL);
	assert_false(hs_journal_repair_due(journal));
	assert_false(hs_journal_repair(journal, &done, &error));
	assert_non_null(strstr(error.message, "needs no repair"));
	hs_journal_close(journal);
	hs_buf_free(&first);
	hs_buf_free(&full);
	hs_buf_free(&whole);
}

/* What lies beside under the name of a kept end counts only when it is the beginning of the line that would follow. */
static void test_stray_beside(void **state)
{
	bench *it = *state;
	hs_buf whole = four_lines(it);
	hs_chain chain = checked(&whole);
	char begins[160], other[160], kept[160], second[160];
	snprintf(begins, sizeof begins, "{\"seq\":4,\"prev\":\"%s\",\"kind\":\"ans", chain.head);
	snprintf(other, sizeof other, "{\"seq\":4,\"prev\":\"%s\",\"kind\":\"ans", HS_CHAIN_START);
	snprintf(kept, sizeof kept, "%s.torn-4", it->path);
	snprintf(second, sizeof second, "%s.torn-4-2", it->path);
	const struct {
		const char *first, *second; /* NULL: no such file */
		const char *kept;           /* NULL: nothing was cut off */
	} rows[] = {
	    {"anything", NULL, NULL},
	    {"", NULL, NULL},
	    {"{\"seq\":5,\"prev\":\"", NULL, NULL},
	    {other, NULL, NULL},
	    {whole.data, NULL, NULL},
	    {"anything", "anything", NULL},
	    {"{\"se", NULL, kept},
	    {begins, NULL, kept},
	    {begins, "anything", kept},
	    {"anything", begins, second},
	    {"{\"se", begins, second},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_journal_repaired done;
		hs_error error = {.code = HS_FINE};
		put_content(kept, rows[i].first, strlen(rows[i].first));
		if (rows[i].second)
			put_content(second, rows[i].second, strlen(rows[i].second));
		hs_journal *journal = opened(it, NULL);
		if (hs_journal_repair_due(journal) != (rows[i].kept != NULL))
			fail_msg("row %zu: %s", i, rows[i].kept ? "not noticed" : "taken for a torn end");
		assert_int_equal(hs_journal_repair(journal, &done, &error), rows[i].kept != NULL);
		if (rows[i].kept)
			assert_string_equal(done.kept, rows[i].kept);
		hs_journal_close(journal);
		hs_buf after = content(it->path);
		assert_string_equal(after.data, whole.data);
		hs_buf_free(&after);
		unlink(kept);
		unlink(second);
	}
	hs_buf_free(&whole);
}

static void test_repair_fails(void **state)
{
	bench *it = *state;
	static const struct {
		char kind;
		int at, number;
		bool cut; /* the file was shortened before that */
	} rows[] = {{'w', 1, ENOSPC, false}, {'s', 1, EIO, false}, {'s', 2, EIO, false}, {'s', 3, EIO, true}};
	hs_buf whole = four_lines(it);
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
		hs_journal_repaired done;
		hs_error error = {.code = HS_FINE}, again = {.code = HS_FINE};
		put_content(it->path, whole.data, whole.length - 20);
		set_wrong(it, 0, 0, 0, 0);
		hs_journal *journal = opened(it, NULL);
		set_wrong(it, rows[row].kind, rows[row].at, rows[row].number, 0);
		assert_false(hs_journal_repair(journal, &done, &error));
		assert_int_equal(error.code, HS_IO);
		assert_non_null(strstr(error.message, "cannot be repaired: the disk at "));
		assert_false(hs_journal_repair(journal, &done, &again));
		assert_string_equal(again.message, error.message);
		hs_journal_close(journal);
		hs_buf after = content(it->path);
		assert_int_equal(after.length == whole.length - 20, !rows[row].cut);
		hs_buf_free(&after);
	}
	hs_buf_free(&whole);
}

static void test_nothing_whole(void **state)
{
	bench *it = *state;
	hs_buf whole = four_lines(it);
	hs_journal_repaired done;
	hs_error error = {.code = HS_FINE};
	put_content(it->path, whole.data, 40);
	hs_journal *journal = opened(it, NULL);
	assert_true(hs_journal_repair_due(journal));
	assert_false(hs_journal_repair(journal, &done, &error));
	assert_non_null(strstr(error.message, "holds no whole line: its run ended before anything was recorded"));
	assert_string_equal(error.hint, "start a new run");
	hs_journal_close(journal);
	assert_int_equal(entries(it->folder), 1);
	hs_buf_free(&whole);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    BENCH_TEST(test_repair_everywhere),
	    BENCH_TEST(test_repair_interrupted),
	    BENCH_TEST(test_stray_beside),
	    BENCH_TEST(test_repair_fails),
	    BENCH_TEST(test_nothing_whole),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
