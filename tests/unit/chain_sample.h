/* A small transcript in memory, for the tests of the chain and of anchors. */
#ifndef TESTS_CHAIN_SAMPLE_H
#define TESTS_CHAIN_SAMPLE_H

#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/record/chain.h"

#define LINES 6

/* A small transcript, and where each of its lines begins. */
typedef struct sample {
	hs_buf text;
	size_t start[LINES + 1];
	char hash[LINES][HS_HEX_ROOM];
} sample;

static inline sample make_sample(const char *run)
{
	static const char *const members[LINES] = {
	    "\"kind\":\"opened\"",
	    "\"kind\":\"asked\",\"ask\":\"s1\",\"text\":\"Level at TP2? \\u00b5V\"",
	    "\"kind\":\"answered\",\"ask\":\"s1\",\"typed\":\"-3.5\",\"parsed\":{\"value\":\"-3.5\",\"tags\":[1,2.5,"
	    "true,null]}",
	    "\"kind\":\"judged\",\"ask\":\"s1\",\"outcome\":\"low\"",
	    "\"kind\":\"noted\",\"text\":\"looks like an end: \\\"hash\\\":\\\"00\\\"}, but is none {\\\"x\\\"}\"",
	    "\"kind\":\"closed\"",
	};
	sample it;
	hs_buf line;
	hs_buf_init(&it.text);
	hs_buf_init(&line);
	for (size_t i = 0; i < LINES; i++) {
		it.start[i] = it.text.length;
		hs_buf_clear(&line);
		hs_buf_str(&line, members[i]);
		if (i == 0)
			hs_buf_printf(&line, ",\"run\":\"%s\"", run);
		hs_chain_seal(&it.text, i, i ? it.hash[i - 1] : HS_CHAIN_START, line.data, it.hash[i]);
	}
	it.start[LINES] = it.text.length;
	hs_buf_free(&line);
	return it;
}

static inline hs_chain check(const char *data, size_t length)
{
	hs_chain chain;
	/* A copy of exactly that length, so that the address sanitizer sees a step too far. */
	char *copy = malloc(length ? length : 1);
	assert_non_null(copy);
	memcpy(copy, data, length);
	assert_true(hs_chain_check(copy, length, NULL, NULL, &chain, NULL));
	free(copy);
	return chain;
}

static inline void add_line(hs_buf *out, const sample *it, size_t line)
{
	hs_buf_add(out, it->text.data + it->start[line], it->start[line + 1] - it->start[line]);
}

/* The text as mail or version control may leave it. */
static inline void add_crlf(hs_buf *out, const char *text, size_t length)
{
	for (size_t i = 0; i < length; i++) {
		if (text[i] == '\n')
			hs_buf_char(out, '\r');
		hs_buf_char(out, text[i]);
	}
}

#endif
