/* What the tests of the screen share: facts and asks shown at a width, and hostile text. */
#ifndef HALFSPLIT_TESTS_SCREEN_BENCH_H
#define HALFSPLIT_TESTS_SCREEN_BENCH_H

#include <string.h>
#include "halfsplit/seat/screen.h"
#include "fake_engine.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))

static const hs_screen narrow = {.width = 60};

static inline void expect(const hs_buf *out, const char *text)
{
	assert_string_equal(out->data, text);
}

/* One fact at a width. */
static inline void shown(const hs_screen *screen, const hs_engine *engine, hs_fact fact, const char *text)
{
	hs_buf out;
	hs_buf_init(&out);
	hs_screen_facts(screen, engine, &fact, 1, &out);
	expect(&out, text);
	hs_buf_free(&out);
}

static inline hs_fact fact_of(hs_fact_kind kind)
{
	return (hs_fact){.kind = kind, .step = -1, .to = -1, .item = -1};
}

static inline hs_ask_words words_of(const char *heading, const char *text, const char *wanted)
{
	hs_ask_words words = {.bare = HS_UNIT_COUNT};
	hs_buf *all[] = {&words.heading, &words.text, &words.caution, &words.hookup, &words.wanted, &words.help};
	for (size_t i = 0; i < COUNT(all); i++)
		hs_buf_init(all[i]);
	hs_buf_str(&words.heading, heading);
	hs_buf_str(&words.text, text);
	hs_buf_str(&words.wanted, wanted);
	return words;
}

static inline void free_words(hs_ask_words *words)
{
	hs_buf *all[] = {&words->heading, &words->text, &words->caution, &words->hookup, &words->wanted, &words->help};
	for (size_t i = 0; i < COUNT(all); i++)
		hs_buf_free(all[i]);
}

static inline void expect_ask(const hs_screen *screen, const hs_ask *ask, const hs_ask_words *words, const char *text)
{
	hs_engine engine = fake_engine();
	engine.open = 1;
	hs_buf out;
	hs_buf_init(&out);
	hs_screen_ask(screen, &engine, ask, words, &out);
	expect(&out, text);
	hs_buf_free(&out);
}

#define EVIL                                                                                                           \
	"a\x1b[31mb\rc\x07\xE2\x80\xAE"                                                                                \
	"d\xC2\x9B"                                                                                                    \
	"e\xFF\x7F"                                                                                                    \
	"f\x08"

static inline void assert_tame(const hs_buf *out)
{
	for (size_t i = 0; i < out->length; i++) {
		unsigned char c = (unsigned char)out->data[i];
		assert_true(c == '\n' || (c >= 0x20 && c != 0x7F));
	}
	assert_null(strstr(out->data, "\xE2\x80\xAE"));
	assert_null(strstr(out->data, "\xC2\x9B"));
	assert_true(hs_utf8_valid(out->data, out->length));
	assert_non_null(strstr(out->data, "\\x1b[31m"));
	assert_non_null(strstr(out->data, "\\u202e"));
}

#endif
