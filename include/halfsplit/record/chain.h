/*
 * The chain that holds a transcript's lines together, checked over bytes in memory. Knows nothing of what lines mean.
 *
 * A line is one JSON object in ASCII, ended by a newline that is not part of it:
 *
 *     {"seq":12,"prev":"<64 hex>",MEMBERS,"hash":"<64 hex>"}
 *
 * seq counts from 0; prev is the hash of the line before, 64 zeros in the first; hash is SHA-256, in lower-case hex,
 * over the exact bytes of the line before the comma that precedes "hash". People count lines from 1: line 13 has seq
 * 12.
 */
#ifndef HALFSPLIT_RECORD_CHAIN_H
#define HALFSPLIT_RECORD_CHAIN_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/hash.h"
#include "halfsplit/base/text.h"
#include "halfsplit/json/json.h"

#define HS_CHAIN_LINE_MOST ((size_t)8 << 20) /* bytes of one line, newline not counted */
#define HS_CHAIN_START     "0000000000000000000000000000000000000000000000000000000000000000"

/*
 * Appends one line and its newline to out and fills hash with the line's own. `members` is the text of the members
 * between prev and hash, without braces, not empty. Nothing is checked here: hs_journal_add does that.
 */
void hs_chain_seal(hs_buf *out, size_t seq, const char *prev, const char *members, char hash[HS_HEX_ROOM]);

typedef enum hs_chain_state {
	HS_CHAIN_EMPTY,   /* no byte at all, or nothing but a byte-order mark */
	HS_CHAIN_GOOD,    /* every line is whole and follows the one before; what they say is for others to judge */
	HS_CHAIN_TORN,    /* good up to good_bytes, then a write that did not get to its end; nothing valid behind it */
	HS_CHAIN_TAMPERED /* good up to good_bytes, then a line that no interrupted write explains */
} hs_chain_state;

typedef struct hs_chain {
	hs_chain_state state;
	bool crlf, bom;         /* every line ends CR LF; a byte-order mark stands in front: "line endings converted" */
	size_t count;           /* good lines from the start */
	char head[HS_HEX_ROOM]; /* hash of the last of them; HS_CHAIN_START when there is none */
	size_t good_bytes;      /* where they end in the data, newline and byte-order mark counted */
	size_t bad_line;        /* torn and tampered: the first bad line, from 1; else 0 */
	char reason[512];       /* torn and tampered: a plain sentence that names the line; else "" */
} hs_chain;

/* A good line as a visitor sees it; all of it is valid only during the call. */
typedef struct hs_chain_line {
	size_t number;       /* from 1 */
	const hs_json *root; /* the parsed object, seq, prev and hash included */
	const char *bytes;   /* as in the data, without the line's end */
	size_t length;
	size_t offset;       /* of bytes[0] in the data */
	char hash[HS_HEX_ROOM];
} hs_chain_line;

/* Returns false, with *error filled, to stop the walk. */
typedef bool hs_chain_visit(void *context, const hs_chain_line *line, hs_error *error);

/*
 * Checks line after line and hands each good one to `visit` (NULL when nobody wants to see), up to the first bad one.
 * What was found is in *chain, never in *error: a bad chain is an answer, not a failure. Returns false only when the
 * visitor did; *chain then tells the lines visited before.
 */
bool hs_chain_check(const char *data, size_t length, hs_chain_visit *visit, void *context, hs_chain *chain,
                    hs_error *error);

/*
 * True when these bytes behind a good chain would make it a torn one: the beginning of the line that is wanted next, or
 * what a lost block left of it.
 */
bool hs_chain_would_tear(const hs_chain *chain, const char *text, size_t length);

/* True when what was found is whole but its line endings were converted on the way (crlf or bom). */
bool hs_chain_converted(const hs_chain *chain);

/*
 * An anchor: a count of lines and the hash of the last of them, written down elsewhere at a pause or at the close. It
 * tells that a tail was dropped, or that everything was rewritten, which the chain alone cannot.
 */
typedef struct hs_anchor {
	size_t count;              /* from 1 */
	char digits[HS_HEX_ROOM];  /* lower case; 16 to 64 of the first digits of the hash */
} hs_anchor;

typedef enum hs_anchor_state {
	HS_ANCHOR_HOLDS,   /* line number `count` has that hash; lines behind it are not covered */
	HS_ANCHOR_SHORTER, /* fewer good lines than the anchor counts */
	HS_ANCHOR_OTHER    /* that line has another hash: not the file the anchor was taken from */
} hs_anchor_state;

/*
 * Reads "COUNT:HEX" as a person copied it from a job sheet: capitals and blanks between digits are fine. HS_BAD_INPUT.
 */
bool hs_anchor_read(const char *text, hs_anchor *anchor, hs_error *error);

/* "COUNT:HEX" of a chain, all 64 digits, to be written down. */
void hs_anchor_print(hs_buf *out, size_t count, const char *head);

/* Compares an anchor with data that hs_chain_check has walked; only its good lines count. */
hs_anchor_state hs_anchor_check(const hs_anchor *anchor, const char *data, const hs_chain *chain);

/* The plain sentence for the state, for the job sheet and the audit. */
void hs_anchor_tell(hs_buf *out, const hs_anchor *anchor, hs_anchor_state state, const hs_chain *chain);

#endif
