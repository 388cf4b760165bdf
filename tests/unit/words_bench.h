/* Plays small playbooks, written in Lua within the tests, through the engine. */
#ifndef HALFSPLIT_TESTS_WORDS_BENCH_H
#define HALFSPLIT_TESTS_WORDS_BENCH_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/engine/engine.h"
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"
#include "halfsplit/unit/check.h"

#define HEAD "playbook { id = \"x\", title = \"x\", family = \"Tarnbeck Wren\", first = { \"Switch it off.\" } }\n"

typedef struct bench {
	hs_sources *sources, *kit_sources;
	hs_kit *kit;
	hs_book *book;
	const hs_playbook *playbook;
	hs_engine *engine;
	int64_t now_ms;
	char why[600]; /* of the last answer not taken */
} bench;

static inline void no_problems(hs_problems *problems)
{
	hs_buf all;
	hs_buf_init(&all);
	for (size_t i = 0; i < problems->count; i++)
		hs_error_render(&problems->items[i].what, &all);
	if (problems->count > 0)
		fail_msg("%s", all.data);
	hs_buf_free(&all);
	hs_problems_free(problems);
}

/* The text follows HEAD, so that its first line is line 2. Without a kit (NULL) nothing is joined. */
static inline void bench_open_with(bench *b, const char *text, const char *kit)
{
	hs_error error = {0};
	hs_problems problems = {0};
	hs_buf whole;
	hs_buf_init(&whole);
	hs_buf_printf(&whole, "%s%s", HEAD, text);
	memset(b, 0, sizeof *b);
	b->now_ms = 1000;
	b->sources = hs_sources_from_text("x.lua", whole.data, whole.length, &error);
	assert_non_null(b->sources);
	if (kit != NULL) {
		b->kit_sources = hs_sources_from_text("kit.lua", kit, strlen(kit), &error);
		b->kit = hs_kit_load(b->kit_sources, HS_PLACES_EXACT, &problems, &error);
		if (b->kit == NULL)
			fail_msg("%s:%d: %s", error.file, error.line, error.message);
	}
	b->book = hs_book_open(b->sources, b->kit, HS_PLACES_EXACT, &problems, &error);
	if (b->book == NULL)
		fail_msg("%s:%d: %s", error.file, error.line, error.message);
	hs_playbook_check(hs_book_playbook(b->book), &problems);
	hs_unit_check(hs_book_playbook(b->book), &problems);
	no_problems(&problems);
	b->playbook = hs_book_playbook(b->book);
	b->engine = hs_engine_new(b->playbook, "Ines", &error);
	if (b->engine == NULL)
		fail_msg("%s", error.message);
	hs_engine_open(b->engine);
	hs_buf_free(&whole);
}

static inline void bench_open(bench *b, const char *text)
{
	bench_open_with(b, text, NULL);
}

static inline void bench_close(bench *b)
{
	hs_engine_free(b->engine);
	hs_book_free(b->book);
	hs_kit_free(b->kit);
	hs_sources_free(b->kit_sources);
	hs_sources_free(b->sources);
}

static inline void asked(const bench *b, const char *id)
{
	hs_ask ask = hs_engine_next(b->engine);
	hs_buf got;
	hs_buf_init(&got);
	hs_engine_ask_id(b->engine, &ask, &got);
	assert_string_equal(got.data != NULL ? got.data : "", id);
	hs_buf_free(&got);
}

static inline hs_taken give(bench *b, hs_event_kind kind, const char *ask, const char *text)
{
	char utc[40];
	snprintf(utc, sizeof utc, "2026-01-01T09:%02d:%02d.000Z", (int)(b->now_ms / 60000 % 60), (int)(b->now_ms / 1000 % 60));
	hs_event event = {.kind = kind, .ask = ask, .text = text, .by = "Ines", .utc = utc, .mono_ms = b->now_ms};
	hs_taken taken = HS_NOT_TAKEN;
	hs_error error = {0};
	if (!hs_engine_take(b->engine, &event, &taken, &error))
		fail_msg("%s: %s", ask != NULL ? ask : hs_event_name(kind), error.message);
	size_t count;
	const hs_fact *facts = hs_engine_facts(b->engine, &count);
	b->why[0] = '\0';
	for (size_t i = 0; i < count; i++)
		if (facts[i].kind == HS_SAYS_ANSWERED && !facts[i].accepted)
			snprintf(b->why, sizeof b->why, "%s", facts[i].why);
	b->now_ms += 1000;
	return taken;
}

/* "ASK: ANSWER", one a line; each must be asked and taken. A line "!redo", "!resume" or "!leave" is that event; "+40" lets 40 s go by. */
static inline void play(bench *b, const char *lines)
{
	while (*lines != '\0') {
		char line[200];
		int length = (int)strcspn(lines, "\n");
		snprintf(line, sizeof line, "%.*s", length, lines);
		lines += lines[length] == '\n' ? length + 1 : length;
		if (strcmp(line, "!redo") == 0) {
			assert_int_equal(give(b, HS_EVENT_REDO, NULL, NULL), HS_TAKEN);
			continue;
		}
		if (strcmp(line, "!resume") == 0) {
			give(b, HS_EVENT_PAUSE, NULL, "");
			give(b, HS_EVENT_RESUME, NULL, NULL);
			continue;
		}
		if (strcmp(line, "!leave") == 0) {
			give(b, HS_EVENT_LEAVE, NULL, "");
			continue;
		}
		if (line[0] == '+') {
			b->now_ms += 1000 * strtol(line + 1, NULL, 10);
			continue;
		}
		char *colon = strstr(line, ": ");
		if (colon == NULL)
			fail_msg("\"%s\" is no answer", line);
		*colon = '\0';
		asked(b, line);
		if (give(b, HS_EVENT_ANSWER, line, colon + 2) != HS_TAKEN)
			fail_msg("%s: %s was not taken: %s", line, colon + 2, b->why);
	}
}

static inline void begin(bench *b)
{
	play(b, "intake/first: done\nintake/words: dead\nintake/seen: nothing\nintake/seals: whole\nintake/keep: none");
}

static inline void refused(bench *b, const char *ask, const char *text, const char *part)
{
	asked(b, ask);
	assert_int_equal(give(b, HS_EVENT_ANSWER, ask, text), HS_NOT_TAKEN);
	if (strstr(b->why, part) == NULL)
		fail_msg("\"%s\" does not say \"%s\"", b->why, part);
	asked(b, ask);
}

static inline void ended_at(const bench *b, const char *finding)
{
	int at = hs_engine_finding(b->engine);
	assert_string_equal(at >= 0 ? b->playbook->steps[at].id : "none", finding);
	assert_true(hs_engine_ended(b->engine));
}

static inline hs_standing standing(const bench *b, const char *suspect)
{
	int at = hs_playbook_suspect(b->playbook, suspect);
	assert_true(at >= 0);
	return hs_engine_suspect(b->engine, (size_t)at, NULL);
}

/* What the present ask says: heading, text, caution and choices, a line each. */
static inline void says(const bench *b, const char *part)
{
	hs_ask ask = hs_engine_next(b->engine);
	hs_ask_words words;
	hs_engine_words(b->engine, &ask, &words);
	hs_buf all;
	hs_buf_init(&all);
	hs_buf_printf(&all, "%s\n%s\n%s\n", words.heading.data != NULL ? words.heading.data : "",
	              words.text.data != NULL ? words.text.data : "", words.caution.data != NULL ? words.caution.data : "");
	for (size_t i = 0; i < words.choice_count; i++)
		hs_buf_printf(&all, "%s\n", words.choices[i].word);
	if (strstr(all.data, part) == NULL)
		fail_msg("\"%s\" does not say \"%s\"", all.data, part);
	hs_buf_free(&all);
	hs_ask_words_free(&words);
}

#endif
