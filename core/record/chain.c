/* Walking a transcript's bytes line after line, and telling an interrupted write from a meddled file. */
#include "halfsplit/record/chain.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

#define HASH_KEY    ",\"hash\":\""
#define HASH_DIGITS ((size_t)HS_HEX_ROOM - 1)
#define SEAL_LENGTH (sizeof HASH_KEY - 1 + HASH_DIGITS + 2) /* ,"hash":"..."} */
#define HEAD_ROOM   128                                     /* {"seq":N,"prev":"...", */
#define SECTOR      512 /* the smallest piece that a disk writes or loses as a whole */

/* A line as it lies in the data. */
typedef struct span {
	size_t start, length; /* without the line's end */
	size_t next;          /* where the next one begins */
	bool ended;           /* a newline ends it */
	bool cr;              /* and a carriage return stood before that */
} span;

static span span_at(const char *data, size_t length, size_t start)
{
	const char *newline = memchr(data + start, '\n', length - start);
	span line = {.start = start, .ended = newline != NULL};
	size_t end = newline ? (size_t)(newline - data) : length;
	line.next = newline ? end + 1 : length;
	line.cr = newline && end > start && data[end - 1] == '\r';
	line.length = end - start - (line.cr ? 1 : 0);
	return line;
}

void hs_chain_seal(hs_buf *out, size_t seq, const char *prev, const char *members, char hash[HS_HEX_ROOM])
{
	size_t start = out->length, length = strlen(members);
	/* The first line holds a whole playbook: it is not to be moved for its last few bytes. */
	hs_buf_space(out, HEAD_ROOM + length + SEAL_LENGTH + 1);
	hs_buf_printf(out, "{\"seq\":%zu,\"prev\":\"%s\",", seq, prev);
	hs_buf_add(out, members, length);
	hs_sha256_hex(out->data + start, out->length - start, hash);
	hs_buf_printf(out, HASH_KEY "%s\"}\n", hash);
}

/* The digits of the hash a line ends in, or NULL when it does not end in one. */
static const char *sealed_hash(const char *line, size_t length)
{
	if (length <= SEAL_LENGTH)
		return NULL;
	const char *seal = line + length - SEAL_LENGTH;
	const char *digits = seal + sizeof HASH_KEY - 1;
	if (memcmp(seal, HASH_KEY, sizeof HASH_KEY - 1) != 0 || memcmp(digits + HASH_DIGITS, "\"}", 2) != 0)
		return NULL;
	for (size_t i = 0; i < HASH_DIGITS; i++) {
		if (!memchr("0123456789abcdef", digits[i], 16))
			return NULL;
	}
	return digits;
}

/* True when the line's hash is that of its own bytes, whatever stands around it. */
static bool holds_by_itself(const char *line, size_t length)
{
	char hash[HS_HEX_ROOM];
	const char *digits = length <= HS_CHAIN_LINE_MOST ? sealed_hash(line, length) : NULL;
	if (!digits)
		return false;
	hs_sha256_hex(line, length - SEAL_LENGTH, hash);
	return memcmp(hash, digits, HASH_DIGITS) == 0;
}

__attribute__((format(printf, 2, 3))) static bool blame(hs_chain *chain, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	vsnprintf(chain->reason, sizeof chain->reason, format, args);
	va_end(args);
	return false;
}

/* How the next line must begin. */
static size_t wanted_head(const hs_chain *chain, char head[HEAD_ROOM])
{
	return (size_t)snprintf(head, HEAD_ROOM, "{\"seq\":%zu,\"prev\":\"%s\",", chain->count, chain->head);
}

/* The bytes of the line, before anything is read into them. */
static bool bytes_hold(const char *line, const span *at, hs_chain *chain)
{
	size_t number = chain->count + 1;
	if (at->length > HS_CHAIN_LINE_MOST)
		return blame(chain, "line %zu is longer than 8 MiB", number);
	if (!at->ended)
		return blame(
		    chain,
		    "line %zu has no newline at its end, and is not the beginning of a line that could stand here",
		    number);
	if (memchr(line, 0, at->length))
		return blame(chain, "line %zu holds zero bytes", number);
	if (at->cr != chain->crlf)
		return blame(chain, "line %zu ends in %s, but line 1 does not", number, at->cr ? "CR LF" : "LF alone");
	if (!sealed_hash(line, at->length))
		return blame(chain, "line %zu does not end in its hash, as a transcript line does", number);
	if (!holds_by_itself(line, at->length))
		return blame(chain, "line %zu: its hash does not match its bytes", number);
	for (size_t i = 0; i < at->length; i++) {
		unsigned char byte = (unsigned char)line[i];
		if (byte < 0x20 || byte > 0x7e)
			return blame(chain, "line %zu holds the byte 0x%02x, which a transcript line never does",
			             number, byte);
	}
	return true;
}

/* Line 1 has nothing to follow. */
static bool blame_start(hs_chain *chain, double seq)
{
	if (seq > 0)
		return blame(chain,
		             "line 1 is not the start of a transcript: it was written as line %.0f, so what stood "
		             "before it was removed",
		             seq + 1);
	return blame(chain, "line 1 is not the start of a transcript: it names a line before it");
}

/* The line is whole and its own hash is right, but it does not begin as the line wanted here would: why? */
static bool blame_head(hs_chain *chain, const hs_json *root, const char *hash)
{
	size_t number = chain->count + 1;
	double seq, wanted = (double)chain->count;
	const char *prev = hs_json_get_string(root, "prev");
	if (!hs_json_get_number(root, "seq", &seq) || seq < 0 || seq > 9007199254740991.0 ||
	    seq != (double)(uint64_t)seq)
		return blame(chain, "line %zu has no sequence number", number);
	if (!prev)
		return blame(chain, "line %zu does not name the hash of the line before it", number);
	if (seq == wanted && strcmp(prev, chain->head) == 0)
		return blame(chain,
		             "line %zu does not begin with its sequence number and the hash before it, written as in "
		             "every transcript line",
		             number);
	if (chain->count == 0)
		return blame_start(chain, seq);
	if (strcmp(hash, chain->head) == 0)
		return blame(chain,
		             "line %zu does not follow line %zu: it is that line once more, so a line was doubled here",
		             number, number - 1);
	if (seq > wanted)
		return blame(chain,
		             "line %zu does not follow line %zu: it was written as line %.0f, so a line was removed or "
		             "moved here",
		             number, number - 1, seq + 1);
	if (seq < wanted)
		return blame(chain,
		             "line %zu does not follow line %zu: it was written as line %.0f, so a line was doubled or "
		             "moved here",
		             number, number - 1, seq + 1);
	return blame(chain,
	             "line %zu does not follow line %zu: it names another line before it, so one of the two was "
	             "rewritten or belongs to another run",
	             number, number - 1);
}

/* The document of the line at `at` when it is the one wanted next; else NULL and the reason in *chain. */
static hs_json_doc *take_line(const char *data, const span *at, hs_chain *chain, hs_chain_line *line)
{
	char head[HEAD_ROOM];
	hs_error error = {.code = HS_FINE};
	*line = (hs_chain_line){chain->count + 1, NULL, data + at->start, at->length, at->start, ""};
	if (!bytes_hold(line->bytes, at, chain))
		return NULL;
	memcpy(line->hash, sealed_hash(line->bytes, line->length), HASH_DIGITS);
	hs_json_doc *doc = hs_json_read(line->bytes, line->length, &error);
	if (!doc) {
		blame(chain, "line %zu is not JSON as a transcript wants it: %s", line->number, error.message);
		return NULL;
	}
	line->root = hs_json_root(doc);
	size_t length = wanted_head(chain, head);
	if (line->length < length || memcmp(line->bytes, head, length) != 0) {
		blame_head(chain, line->root, line->hash);
		hs_json_free(doc);
		return NULL;
	}
	return doc;
}

/* True when a line that holds by itself stands behind the first bad one, or is that one. */
static bool valid_behind(const char *data, size_t length, const span *bad)
{
	for (span at = *bad;; at = span_at(data, length, at.next)) {
		/* A lost block reads as zero bytes and takes newlines with it: a line may begin right behind one. */
		const char *line = data + at.start;
		const char *zero = memrchr(line, 0, at.length);
		const char *begin = zero ? zero + 1 : line;
		bool whole = at.ended || zero || at.start != bad->start;
		if (whole && holds_by_itself(begin, at.length - (size_t)(begin - line)))
			return true;
		if (at.next >= length)
			return false;
	}
}

/* True when a part of a disk block from `start` on was never written: all of it is zero bytes. */
static bool lost_block(const char *data, size_t length, size_t start)
{
	for (size_t block = start - start % SECTOR; block < length; block += SECTOR) {
		size_t from = block > start ? block : start;
		size_t to = block + SECTOR < length ? block + SECTOR : length;
		while (from < to && data[from] == 0)
			from++;
		if (from == to)
			return true;
	}
	return false;
}

/* True when the bytes, which no newline ends, are the beginning of the line that is wanted next and nothing else. */
static bool is_beginning(const hs_chain *chain, const char *text, size_t length)
{
	char head[HEAD_ROOM];
	size_t wanted = wanted_head(chain, head);
	if (length > HS_CHAIN_LINE_MOST || memcmp(text, head, length < wanted ? length : wanted) != 0)
		return false;
	for (size_t i = 0; i < length; i++) {
		if (text[i] < 0x20 || text[i] > 0x7e)
			return false;
	}
	/* A whole line with something but a newline behind it was not left by an interrupted write. */
	for (size_t end = length - (length ? 1 : 0); end >= 2; end--) {
		if (text[end - 2] == '"' && text[end - 1] == '}')
			return !holds_by_itself(text, end);
	}
	return true;
}

static void tell_torn(hs_chain *chain, const char *text, size_t length, size_t zeros)
{
	size_t number = chain->count + 1;
	if (length == 0)
		blame(chain, "line %zu is missing: %zu zero bytes stand in its place", number, zeros);
	else if (holds_by_itself(text, length))
		blame(chain, "line %zu is whole but for the newline at its end", number);
	else
		blame(chain, "line %zu is cut off after %zu bytes%s", number, length,
		      zeros ? ", and zero bytes follow" : "");
}

/* Decides what the first bad line is. The reason is already that of a tampered one. */
static void judge_bad(const char *data, size_t length, const span *bad, hs_chain *chain)
{
	const char *text = data + bad->start;
	size_t kept = bad->length;
	chain->bad_line = chain->count + 1;
	chain->state = HS_CHAIN_TAMPERED;
	if (valid_behind(data, length, bad))
		return;
	while (kept > 0 && text[kept - 1] == 0)
		kept--;
	size_t zeros = bad->length - kept;
	/* Of a converted file the cut may fall between CR and LF; of a single line one cannot know. */
	if (kept > 0 && text[kept - 1] == '\r' && (chain->crlf || chain->count == 0))
		kept--;
	if (!bad->ended && is_beginning(chain, text, kept)) {
		chain->state = HS_CHAIN_TORN;
		tell_torn(chain, text, kept, zeros);
	} else if (lost_block(data, length, bad->start)) {
		chain->state = HS_CHAIN_TORN;
		blame(chain, "line %zu is torn: zero bytes stand where its writing did not reach the disk",
		      chain->bad_line);
	}
}

bool hs_chain_would_tear(const hs_chain *chain, const char *text, size_t length)
{
	hs_chain behind = *chain;
	hs_buf data;
	if (length == 0 || chain->state != HS_CHAIN_GOOD)
		return false;
	/* Blocks count from the start of the file. */
	size_t start = chain->good_bytes % SECTOR;
	hs_buf_init(&data);
	for (size_t i = 0; i < start; i++)
		hs_buf_char(&data, 'x');
	hs_buf_add(&data, text, length);
	span bad = span_at(data.data, data.length, start);
	judge_bad(data.data, data.length, &bad, &behind);
	hs_buf_free(&data);
	return behind.state == HS_CHAIN_TORN;
}

bool hs_chain_check(const char *data, size_t length, hs_chain_visit *visit, void *context, hs_chain *chain,
                    hs_error *error)
{
	*chain = (hs_chain){.state = HS_CHAIN_EMPTY, .head = HS_CHAIN_START};
	chain->bom = length >= 3 && memcmp(data, "\xef\xbb\xbf", 3) == 0;
	chain->good_bytes = chain->bom ? 3 : 0;
	if (chain->good_bytes == length)
		return true;
	chain->state = HS_CHAIN_GOOD;
	chain->crlf = span_at(data, length, chain->good_bytes).cr;
	while (chain->good_bytes < length) {
		hs_chain_line line;
		span at = span_at(data, length, chain->good_bytes);
		hs_json_doc *doc = take_line(data, &at, chain, &line);
		if (!doc) {
			judge_bad(data, length, &at, chain);
			return true;
		}
		bool go_on = !visit || visit(context, &line, error);
		hs_json_free(doc);
		if (!go_on)
			return false;
		memcpy(chain->head, line.hash, sizeof chain->head);
		chain->count++;
		chain->good_bytes = at.next;
	}
	return true;
}

bool hs_chain_converted(const hs_chain *chain)
{
	return chain->state == HS_CHAIN_GOOD && (chain->crlf || chain->bom);
}
