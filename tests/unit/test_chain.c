/* The chain over bytes in memory: what is whole, what an interrupted write leaves, and every way of meddling. */
#include "chain_sample.h"

#define KNOWN "4370dbf04fdce975efb54711137f77e8e6a60dee3af11b3d45f6ac9028629002"

static void test_known_line(void **state)
{
	(void)state;
	hs_buf out;
	char hash[HS_HEX_ROOM];
	hs_buf_init(&out);
	hs_chain_seal(&out, 0, HS_CHAIN_START, "\"kind\":\"noted\"", hash);
	/* The digest was taken with sha256sum. */
	assert_string_equal(out.data,
	                    "{\"seq\":0,\"prev\":\"" HS_CHAIN_START "\",\"kind\":\"noted\",\"hash\":\"" KNOWN "\"}\n");
	assert_string_equal(hash, KNOWN);
	hs_buf_free(&out);
}

static void test_whole(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	hs_chain chain = check(it.text.data, it.text.length);
	assert_int_equal(chain.state, HS_CHAIN_GOOD);
	assert_int_equal(chain.count, LINES);
	assert_string_equal(chain.head, it.hash[LINES - 1]);
	assert_int_equal(chain.good_bytes, it.text.length);
	assert_int_equal(chain.bad_line, 0);
	assert_string_equal(chain.reason, "");
	assert_false(hs_chain_converted(&chain));
	chain = check("", 0);
	assert_int_equal(chain.state, HS_CHAIN_EMPTY);
	assert_string_equal(chain.head, HS_CHAIN_START);
	chain = check("\xef\xbb\xbf", 3);
	assert_int_equal(chain.state, HS_CHAIN_EMPTY);
	hs_buf_free(&it.text);
}

typedef struct seen {
	const sample *it;
	size_t count, stop_at;
} seen;

static bool visit(void *context, const hs_chain_line *line, hs_error *error)
{
	seen *so_far = context;
	size_t at = so_far->count;
	double seq;
	if (line->number == so_far->stop_at)
		return hs_fail(error, HS_BAD_INPUT, "enough");
	assert_int_equal(line->number, at + 1);
	assert_int_equal(line->offset, so_far->it->start[at]);
	assert_int_equal(line->length, so_far->it->start[at + 1] - so_far->it->start[at] - 1);
	assert_memory_equal(line->bytes, so_far->it->text.data + line->offset, line->length);
	assert_string_equal(line->hash, so_far->it->hash[at]);
	assert_true(hs_json_get_number(line->root, "seq", &seq));
	assert_true(seq == (double)at);
	assert_non_null(hs_json_get_string(line->root, "kind"));
	so_far->count++;
	return true;
}

static void test_visitor(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	hs_chain chain;
	hs_error error = {.code = HS_FINE};
	seen all = {.it = &it};
	assert_true(hs_chain_check(it.text.data, it.text.length, visit, &all, &chain, &error));
	assert_int_equal(all.count, LINES);
	assert_int_equal(error.code, HS_FINE);

	seen some = {.it = &it, .stop_at = 4};
	assert_false(hs_chain_check(it.text.data, it.text.length, visit, &some, &chain, &error));
	assert_int_equal(some.count, 3);
	assert_int_equal(chain.count, 3);
	assert_string_equal(chain.head, it.hash[2]);
	assert_string_equal(error.message, "enough");

	/* A bad line and those behind it are never shown. */
	seen before = {.it = &it};
	it.text.data[it.start[3] + 90] ^= 1;
	assert_true(hs_chain_check(it.text.data, it.text.length, visit, &before, &chain, &error));
	assert_int_equal(before.count, 3);
	hs_buf_free(&it.text);
}

static size_t line_of(const sample *it, size_t offset)
{
	size_t line = 0;
	while (offset >= it->start[line + 1])
		line++;
	return line;
}

static void expect_at(const hs_chain *chain, const sample *it, size_t line, const char *what, size_t where)
{
	char number[32];
	snprintf(number, sizeof number, "line %zu", line + 1);
	if (chain->bad_line != line + 1 || chain->count != line || chain->good_bytes != it->start[line] ||
	    strncmp(chain->reason, number, strlen(number)) != 0)
		fail_msg("%s at %zu: wanted line %zu, got line %zu after %zu good: %s", what, where, line + 1,
		         chain->bad_line, chain->count, chain->reason);
}

/* Every byte, changed in six ways. The newline belongs to the line it ends. */
static void test_every_byte(void **state)
{
	(void)state;
	static const unsigned char turned[] = {0x01, 0x20, 0x80};
	static const char put[] = {'\n', '\r', 0};
	sample it = make_sample("r1");
	for (size_t i = 0; i < it.text.length; i++) {
		char old = it.text.data[i];
		for (size_t way = 0; way < 6; way++) {
			char byte = way < 3 ? (char)(old ^ turned[way]) : put[way - 3];
			if (byte == old)
				continue;
			it.text.data[i] = byte;
			hs_chain chain = check(it.text.data, it.text.length);
			expect_at(&chain, &it, line_of(&it, i), "changed byte", i);
			/* A zero in place of the last newline is what an interrupted write can leave. */
			bool torn = byte == 0 && i == it.text.length - 1;
			if (chain.state != (torn ? HS_CHAIN_TORN : HS_CHAIN_TAMPERED))
				fail_msg("byte %zu to 0x%02x: state %d, %s", i, (unsigned char)byte, chain.state,
				         chain.reason);
		}
		it.text.data[i] = old;
	}
	hs_buf_free(&it.text);
}

static void test_cut_everywhere(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	for (size_t length = 0; length < it.text.length; length++) {
		hs_chain chain = check(it.text.data, length);
		size_t line = line_of(&it, length);
		if (length == it.start[line]) {
			assert_int_equal(chain.state, length ? HS_CHAIN_GOOD : HS_CHAIN_EMPTY);
			assert_int_equal(chain.count, line);
			continue;
		}
		assert_int_equal(chain.state, HS_CHAIN_TORN);
		expect_at(&chain, &it, line, "cut", length);
		char reason[80];
		snprintf(reason, sizeof reason, "line %zu is cut off after %zu bytes", line + 1,
		         length - it.start[line]);
		if (length == it.start[line + 1] - 1)
			snprintf(reason, sizeof reason, "line %zu is whole but for the newline at its end", line + 1);
		assert_string_equal(chain.reason, reason);
	}
	hs_buf_free(&it.text);
}

static void test_removed_doubled_moved(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	hs_buf out;
	hs_buf_init(&out);
	for (size_t gone = 0; gone < LINES; gone++) {
		hs_buf_clear(&out);
		for (size_t i = 0; i < LINES; i++)
			if (i != gone)
				add_line(&out, &it, i);
		hs_chain chain = check(out.data, out.length);
		if (gone == LINES - 1) { /* a dropped tail: only an anchor tells */
			assert_int_equal(chain.state, HS_CHAIN_GOOD);
			continue;
		}
		assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
		expect_at(&chain, &it, gone, "removed", gone);
	}
	for (size_t twice = 0; twice < LINES; twice++) {
		for (size_t at = 0; at <= LINES; at++) { /* put a copy before line `at` */
			hs_buf_clear(&out);
			for (size_t i = 0; i <= LINES; i++) {
				if (i == at)
					add_line(&out, &it, twice);
				if (i < LINES)
					add_line(&out, &it, i);
			}
			hs_chain chain = check(out.data, out.length);
			assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
			size_t first =
			    at == twice ? at + 1 : at; /* before itself: the second of the two is the odd one */
			assert_int_equal(chain.bad_line, first + 1);
			assert_int_equal(chain.count, first);
		}
	}
	for (size_t a = 0; a < LINES; a++) {
		for (size_t b = a + 1; b < LINES; b++) {
			hs_buf_clear(&out);
			for (size_t i = 0; i < LINES; i++)
				add_line(&out, &it, i == a ? b : i == b ? a : i);
			hs_chain chain = check(out.data, out.length);
			assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
			expect_at(&chain, &it, a, "swapped", a);
		}
	}
	hs_buf_free(&out);
	hs_buf_free(&it.text);
}

/* Rows of digits: line d of the sample; of another run when a capital letter (A is its line 0). */
static const struct {
	const char *lines;
	size_t bad;
	const char *reason;
} orders[] = {
    {"02345", 2, "line 2 does not follow line 1: it was written as line 3, so a line was removed or moved here"},
    {"12345", 1,
     "line 1 is not the start of a transcript: it was written as line 2, so what stood before it was removed"},
    {"01123", 3, "line 3 does not follow line 2: it is that line once more, so a line was doubled here"},
    {"01213", 4, "line 4 does not follow line 3: it was written as line 2, so a line was doubled or moved here"},
    {"01D345", 3, "line 3 does not follow line 2: it was written as line 4, so a line was removed or moved here"},
    {"01C345", 3,
     "line 3 does not follow line 2: it names another line before it, so one of the two was rewritten or belongs to "
     "another run"},
    {"A12345", 2,
     "line 2 does not follow line 1: it names another line before it, so one of the two was rewritten or belongs to "
     "another run"},
};

static void test_reasons_of_order(void **state)
{
	(void)state;
	sample ours = make_sample("r1"), theirs = make_sample("r2");
	hs_buf out;
	hs_buf_init(&out);
	for (size_t row = 0; row < sizeof orders / sizeof *orders; row++) {
		hs_buf_clear(&out);
		for (const char *c = orders[row].lines; *c; c++)
			add_line(&out, *c >= 'A' ? &theirs : &ours, (size_t)(*c >= 'A' ? *c - 'A' : *c - '0'));
		hs_chain chain = check(out.data, out.length);
		assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
		assert_int_equal(chain.bad_line, orders[row].bad);
		assert_string_equal(chain.reason, orders[row].reason);
	}
	hs_buf_free(&out);
	hs_buf_free(&ours.text);
	hs_buf_free(&theirs.text);
}

/* Line 2 of a transcript, forged with a right hash. %s takes the hash before. */
static const struct {
	const char *body;
	const char *reason; /* how it begins */
} forged[] = {
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":1,\"a\":2", "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"hash\":\"00\"", "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":01", "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":NaN", "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":9007199254740993", "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":\"\\ud800\"", "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":\"\\u0000\"", "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":1},{\"b\":1", "line 2 is not JSON as a transcript wants it: "},
    {"[\"seq\",1,\"prev\",\"%s\"", "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]"
     "]",
     "line 2 is not JSON as a transcript wants it: "},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":\"\xc2\xb5\"", "line 2 holds the byte 0xc2, which a transcript line never does"},
    {"{\"seq\":1,\"prev\":\"%s\",\"a\":\"\xff\"", "line 2 holds the byte 0xff, which a transcript line never does"},
    {"{\"seq\":1,\"prev\":\"%s\",\t\"a\":1", "line 2 holds the byte 0x09, which a transcript line never does"},
    {"{\"seq\":1.0,\"prev\":\"%s\",\"a\":1",
     "line 2 does not begin with its sequence number and the hash before it, written as in "
     "every transcript line"},
    {"{ \"seq\":1,\"prev\":\"%s\",\"a\":1",
     "line 2 does not begin with its sequence number and the hash before it, written as in "
     "every transcript line"},
    {"{\"prev\":\"%s\",\"seq\":1,\"a\":1",
     "line 2 does not begin with its sequence number and the hash before it, written as in "
     "every transcript line"},
    {"{\"seq\":-1,\"prev\":\"%s\",\"a\":1", "line 2 has no sequence number"},
    {"{\"seq\":1.5,\"prev\":\"%s\",\"a\":1", "line 2 has no sequence number"},
    {"{\"seq\":1e300,\"prev\":\"%s\",\"a\":1", "line 2 has no sequence number"},
    {"{\"seq\":\"1\",\"prev\":\"%s\",\"a\":1", "line 2 has no sequence number"},
    {"{\"was\":\"%s\",\"a\":1", "line 2 has no sequence number"},
    {"{\"seq\":1,\"was\":\"%s\",\"a\":1", "line 2 does not name the hash of the line before it"},
    {"{\"seq\":1,\"prev\":[\"%s\"],\"a\":1", "line 2 does not name the hash of the line before it"},
};

static void test_forged(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	for (size_t row = 0; row < sizeof forged / sizeof *forged; row++) {
		char body[400], hash[HS_HEX_ROOM];
		hs_buf out;
		hs_buf_init(&out);
		add_line(&out, &it, 0);
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
		snprintf(body, sizeof body, forged[row].body, it.hash[0]);
#pragma GCC diagnostic pop
		hs_sha256_hex(body, strlen(body), hash);
		hs_buf_printf(&out, "%s,\"hash\":\"%s\"}\n", body, hash);
		hs_chain chain = check(out.data, out.length);
		assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
		expect_at(&chain, &it, 1, "forged", row);
		if (strncmp(chain.reason, forged[row].reason, strlen(forged[row].reason)) != 0)
			fail_msg("row %zu: %s", row, chain.reason);
		hs_buf_free(&out);
	}
	hs_buf_free(&it.text);
}

/* Line 2 with the text put in place of something in a whole sample; the hash is not made right again. */
static void test_broken_ends(void **state)
{
	(void)state;
	static const struct {
		const char *text, *reason;
	} rows[] = {
	    {"\n", "line 1 does not end in its hash, as a transcript line does"},
	    {"hello\n", "line 1 does not end in its hash, as a transcript line does"},
	    {"hello", "line 1 has no newline at its end, and is not the beginning of a line that could stand here"},
	    {"{\"seq\":1,",
	     "line 1 has no newline at its end, and is not the beginning of a line that could stand here"},
	    {"{\"seq\":0}\n{\"seq\":1}\n", "line 1 does not end in its hash, as a transcript line does"},
	    {"\xff\xfe{\0",
	     "line 1 has no newline at its end, and is not the beginning of a line that could stand here"},
	};
	for (size_t row = 0; row < sizeof rows / sizeof *rows; row++) {
		hs_chain chain = check(rows[row].text, strlen(rows[row].text));
		assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
		assert_string_equal(chain.reason, rows[row].reason);
	}
	sample it = make_sample("r1");
	hs_chain chain;
	/* Capital digits in the hash are another text. */
	char *digit = it.text.data + it.start[2] - 4;
	while (*digit < 'a')
		digit--;
	*digit = (char)(*digit - 'a' + 'A');
	chain = check(it.text.data, it.text.length);
	assert_string_equal(chain.reason, "line 2 does not end in its hash, as a transcript line does");
	*digit = (char)(*digit - 'A' + 'a');
	it.text.data[it.start[4] + 90] ^= 1;
	chain = check(it.text.data, it.text.length);
	assert_string_equal(chain.reason, "line 5: its hash does not match its bytes");
	hs_buf_free(&it.text);
}

static void test_too_long(void **state)
{
	(void)state;
	hs_buf out;
	char hash[HS_HEX_ROOM];
	char *text = malloc(HS_CHAIN_LINE_MOST);
	assert_non_null(text);
	memset(text, 'x', HS_CHAIN_LINE_MOST);
	memcpy(text, "\"t\":\"", 5);
	text[HS_CHAIN_LINE_MOST - 2] = '"';
	text[HS_CHAIN_LINE_MOST - 1] = 0;
	hs_buf_init(&out);
	hs_chain_seal(&out, 0, HS_CHAIN_START, text, hash);
	hs_chain chain = check(out.data, out.length);
	assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
	assert_string_equal(chain.reason, "line 1 is longer than 8 MiB");
	/* As long as may be. */
	text[HS_CHAIN_LINE_MOST - 2 - (out.length - 1 - HS_CHAIN_LINE_MOST)] = '"';
	text[HS_CHAIN_LINE_MOST - 1 - (out.length - 1 - HS_CHAIN_LINE_MOST)] = 0;
	hs_buf_clear(&out);
	hs_chain_seal(&out, 0, HS_CHAIN_START, text, hash);
	assert_int_equal(out.length, HS_CHAIN_LINE_MOST + 1);
	chain = check(out.data, out.length);
	assert_string_equal(chain.reason, "");
	assert_int_equal(chain.state, HS_CHAIN_GOOD);
	free(text);
	hs_buf_free(&out);
}

/* What a power cut can leave: blocks that read as zero bytes. */
static void test_lost_blocks(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	assert_true(it.text.length > 1024 + 100);
	for (size_t block = 0; block < it.text.length; block += 512) {
		hs_buf out;
		size_t size = it.text.length - block < 512 ? it.text.length - block : 512;
		hs_buf_init(&out);
		hs_buf_add(&out, it.text.data, it.text.length);
		memset(out.data + block, 0, size);
		hs_chain chain = check(out.data, out.length);
		bool last = block + size == it.text.length;
		assert_int_equal(chain.state, last ? HS_CHAIN_TORN : HS_CHAIN_TAMPERED);
		expect_at(&chain, &it, line_of(&it, block), "lost block", block);
		hs_buf_free(&out);
	}
	hs_buf_free(&it.text);
}

static void test_zero_tails(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	char zeros[600] = {0};
	hs_buf out;
	hs_buf_init(&out);
	hs_buf_add(&out, it.text.data, it.start[5]);
	hs_buf_add(&out, zeros, sizeof zeros);
	hs_chain chain = check(out.data, out.length);
	assert_int_equal(chain.state, HS_CHAIN_TORN);
	assert_int_equal(chain.good_bytes, it.start[5]);
	assert_string_equal(chain.reason, "line 6 is missing: 600 zero bytes stand in its place");

	hs_buf_clear(&out);
	hs_buf_add(&out, it.text.data, it.start[5] + 40);
	hs_buf_add(&out, zeros, sizeof zeros);
	chain = check(out.data, out.length);
	assert_int_equal(chain.state, HS_CHAIN_TORN);
	assert_string_equal(chain.reason, "line 6 is cut off after 40 bytes, and zero bytes follow");

	/* A valid line right behind the zeros: nothing may be cut off. */
	hs_buf_add(&out, it.text.data + it.start[5], it.start[6] - it.start[5]);
	chain = check(out.data, out.length);
	assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
	assert_string_equal(chain.reason, "line 6 holds zero bytes");
	out.length--; /* even without its newline */
	assert_int_equal(check(out.data, out.length).state, HS_CHAIN_TAMPERED);
	hs_buf_free(&out);
	hs_buf_free(&it.text);
}

/* A block lost in the middle of one long last line, whose end did reach the disk. */
static void test_hole_in_last_line(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	char members[2000], hash[HS_HEX_ROOM];
	memset(members, 'x', sizeof members);
	memcpy(members, "\"t\":\"", 5);
	memcpy(members + sizeof members - 2, "\"", 2);
	size_t start = it.text.length;
	hs_chain_seal(&it.text, LINES, it.hash[LINES - 1], members, hash);
	size_t block = (start / 512 + 2) * 512;
	memset(it.text.data + block, 0, 512);
	hs_chain chain = check(it.text.data, it.text.length);
	assert_int_equal(chain.state, HS_CHAIN_TORN);
	assert_int_equal(chain.good_bytes, start);
	assert_string_equal(chain.reason, "line 7 is torn: zero bytes stand where its writing did not reach the disk");
	/* Half a block of zeros is no block that was lost. */
	memset(it.text.data + block, 'x', 200);
	chain = check(it.text.data, it.text.length);
	assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
	hs_buf_free(&it.text);
}

/* A torn line with whole ones behind it is no torn tail. */
static void test_torn_in_the_middle(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	for (size_t cut = 1; cut < it.start[4] - it.start[3]; cut++) {
		hs_buf out;
		hs_buf_init(&out);
		hs_buf_add(&out, it.text.data, it.start[3] + cut);
		if (cut < it.start[4] - it.start[3] - 1) /* else the newline itself is what is missing */
			hs_buf_char(&out, '\n');
		add_line(&out, &it, 4);
		add_line(&out, &it, 5);
		hs_chain chain = check(out.data, out.length);
		assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
		expect_at(&chain, &it, 3, "torn in the middle", cut);
		hs_buf_free(&out);
	}
	hs_buf_free(&it.text);
}

static void test_converted(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	for (int way = 1; way < 4; way++) {
		hs_buf out;
		hs_buf_init(&out);
		if (way & 1)
			hs_buf_str(&out, "\xef\xbb\xbf");
		if (way & 2)
			add_crlf(&out, it.text.data, it.text.length);
		else
			hs_buf_add(&out, it.text.data, it.text.length);
		hs_chain chain = check(out.data, out.length);
		assert_int_equal(chain.state, HS_CHAIN_GOOD);
		assert_int_equal(chain.bom, (way & 1) != 0);
		assert_int_equal(chain.crlf, (way & 2) != 0);
		assert_true(hs_chain_converted(&chain));
		assert_int_equal(chain.count, LINES);
		assert_int_equal(chain.good_bytes, out.length);
		assert_string_equal(chain.head, it.hash[LINES - 1]);

		/* Every byte still counts. */
		for (size_t i = 0; i < out.length; i++) {
			out.data[i] ^= 1;
			chain = check(out.data, out.length);
			if (chain.state != HS_CHAIN_TAMPERED || hs_chain_converted(&chain))
				fail_msg("way %d byte %zu: %d %s", way, i, chain.state, chain.reason);
			out.data[i] ^= 1;
		}
		/* So does a cut. */
		size_t whole = 0;
		for (size_t length = (way & 1) ? 4 : 1; length < out.length; length++) {
			whole += out.data[length - 1] == '\n';
			chain = check(out.data, length);
			assert_int_equal(chain.state, out.data[length - 1] == '\n' ? HS_CHAIN_GOOD : HS_CHAIN_TORN);
			assert_int_equal(chain.count, whole);
		}
		hs_buf_free(&out);
	}
	hs_buf_free(&it.text);
}

static void test_mixed_endings(void **state)
{
	(void)state;
	sample it = make_sample("r1");
	hs_buf out;
	hs_buf_init(&out);
	hs_buf_add(&out, it.text.data, it.start[2]);
	add_crlf(&out, it.text.data + it.start[2], it.text.length - it.start[2]);
	hs_chain chain = check(out.data, out.length);
	assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
	assert_string_equal(chain.reason, "line 3 ends in CR LF, but line 1 does not");
	hs_buf_clear(&out);
	add_crlf(&out, it.text.data, it.start[2]);
	hs_buf_add(&out, it.text.data + it.start[2], it.text.length - it.start[2]);
	chain = check(out.data, out.length);
	assert_int_equal(chain.state, HS_CHAIN_TAMPERED);
	assert_string_equal(chain.reason, "line 3 ends in LF alone, but line 1 does not");
	hs_buf_free(&out);
	hs_buf_free(&it.text);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_known_line),        cmocka_unit_test(test_whole),
	    cmocka_unit_test(test_visitor),           cmocka_unit_test(test_every_byte),
	    cmocka_unit_test(test_cut_everywhere),    cmocka_unit_test(test_removed_doubled_moved),
	    cmocka_unit_test(test_reasons_of_order),  cmocka_unit_test(test_forged),
	    cmocka_unit_test(test_broken_ends),       cmocka_unit_test(test_too_long),
	    cmocka_unit_test(test_lost_blocks),       cmocka_unit_test(test_zero_tails),
	    cmocka_unit_test(test_hole_in_last_line), cmocka_unit_test(test_torn_in_the_middle),
	    cmocka_unit_test(test_converted),         cmocka_unit_test(test_mixed_endings),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
