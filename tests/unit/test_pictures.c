/* Where one is: the mark of a step in words, and the chain drawn as text at any width. */
#include "words_bench.h"
#include "halfsplit/seat/screen.h"

static const char book_text[] =
    "unit { supply = { dc = \"12 V\" } }\n"
    "point \"TP1\" { title = \"TP1\" } point \"TP2\" { title = \"TP2\" }\n"
    "suspect \"a\" { modes = { \"dead\" } } suspect \"b\" { modes = { \"dead\" } } suspect \"c\" { modes = { \"dead\" } }\n"
    "chain \"way\" { \"a\", \"TP1\", \"b\", \"TP2\", \"c\", title = \"the way\" }\n"
    "step \"one\" { power = \"any\", read = { \"volts\", at = \"TP1\" }, limits = \"at most 2 V\",\n"
    "  ok = { to = \"two\", clears = { \"a\" } }, otherwise = { to = \"two\", implicates = { \"a\" } } }\n"
    "step \"two\" { power = \"any\", read = { \"volts\", at = \"TP2\" }, limits = \"at most 2 V\",\n"
    "  ok = { to = \"end\", clears = { \"b\", \"c\" } }, otherwise = \"end\" }\n"
    "step \"end\" { finding = \"x\", suspects = {} }\n";

static void overview_ends(bench *b, size_t width, const char *wanted)
{
	hs_screen screen = {.width = width};
	hs_buf out;
	hs_buf_init(&out);
	hs_screen_overview(&screen, b->engine, &out);
	const char *at = strstr(out.data, "  the way\n");
	assert_non_null(at);
	assert_string_equal(at, wanted);
	hs_buf_free(&out);
}

static void the_chain_shows_where_one_is(void **state)
{
	(void)state;
	bench b;
	bench_open(&b, book_text);
	begin(&b);
	overview_ends(&b, 80,
	              "  the way\n    [a]--TP1--[b]--TP2--[c]\n         ^ here\n"
	              "  [part] still open, (part) cleared, [!part] implicated\n");
	play(&b, "one: 1");
	overview_ends(&b, 80,
	              "  the way\n    (a)--TP1--[b]--TP2--[c]\n                   ^ here\n"
	              "  [part] still open, (part) cleared, [!part] implicated\n");
	bench_close(&b);
	bench_open(&b, book_text);
	begin(&b);
	play(&b, "one: 5");
	overview_ends(&b, 80,
	              "  the way\n    [!a]--TP1--[b]--TP2--[c]\n                    ^ here\n"
	              "  [part] still open, (part) cleared, [!part] implicated\n");
	bench_close(&b);
}

/* Sixty columns hold every line, and what points stands under its own line. */
static void a_long_chain_is_broken(void **state)
{
	(void)state;
	hs_buf text, out;
	hs_buf_init(&text);
	hs_buf_init(&out);
	hs_buf_str(&text, "unit { supply = { dc = \"12 V\" } } point \"TP1\" { title = \"TP1\" }\nsuspect \"s\" { modes = { \"dead\" } }\nchain \"way\" { ");
	for (int i = 0; i < 40; i++)
		hs_buf_printf(&text, "%s, ", i == 30 ? "\"TP1\"" : "\"s\"");
	hs_buf_str(&text, "title = \"long\" }\nstep \"one\" { power = \"any\", read = { \"volts\", at = \"TP1\" },"
	                  " limits = \"at most 2 V\", ok = { to = \"end\", clears = { \"s\" } }, otherwise = \"end\" }\nstep \"end\" { finding = \"x\", suspects = {} }\n");
	bench b;
	bench_open(&b, text.data);
	begin(&b);
	hs_screen screen = {.width = 60};
	hs_screen_overview(&screen, b.engine, &out);
	size_t lines = 0;
	for (char *line = strstr(out.data, "  long\n"), *end; line && (end = strchr(line, '\n')); line = end + 1) {
		assert_true(end - line <= 60);
		lines += strncmp(line, "    [s]", 7) == 0 || strncmp(line, "    --[s]", 9) == 0;
		if (strstr(line, "TP1") && strstr(line, "TP1") < end)
			assert_int_equal(strstr(end, "^ here") - end - 1, strstr(line, "TP1") - line);
	}
	assert_int_equal(lines, 4);
	bench_close(&b);
	hs_buf_free(&text);
	hs_buf_free(&out);
}

static void marks_in_words(void **state)
{
	(void)state;
	hs_playbook book = {0};
	hs_picture_mark marks[] = {{"TP1", "left of the shield"}, {"Q1", "on the fins"}};
	hs_picture picture = {.id = "board", .title = "the board", .file = "pictures/board.svg", .marks = marks, .mark_count = 2};
	hs_reading reading = {.name = "a", .at_text = "TP1", .unit = HS_OHM, .reads = HS_READS_OHMS};
	hs_step step = {.id = "a", .kind = HS_STEP_READ, .readings = &reading, .reading_count = 1, .see = 1};
	book.pictures = &picture;
	book.picture_count = 1;
	book.steps = &step;
	book.step_count = 1;
	static const struct { const char *at; int see, mark; const char *wanted; } rows[] = {
	    {"TP1", 1, 0, "TP1, left of the shield (pictures/board.svg)"},
	    {"TP1", 1, 2, "Q1, on the fins (pictures/board.svg)"},
	    {"TP7", 1, 0, "the board (pictures/board.svg)"},
	    {NULL, 1, 0, "the board (pictures/board.svg)"},
	    {"TP1", 0, 0, NULL},
	};
	book.found_safe = true;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		hs_error error = {0};
		hs_ask_words words;
		reading.at_text = rows[i].at;
		step.see = rows[i].see;
		step.mark = rows[i].mark;
		hs_engine *engine = hs_engine_new(&book, "Ines", &error);
		hs_ask ask = {.kind = HS_ASK_READ, .step = 0};
		hs_engine_words(engine, &ask, &words);
		if (rows[i].wanted)
			assert_string_equal(words.picture.data, rows[i].wanted);
		else
			assert_int_equal(words.picture.length, 0);
		hs_ask_words_free(&words);
		hs_engine_free(engine);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {cmocka_unit_test(the_chain_shows_where_one_is), cmocka_unit_test(a_long_chain_is_broken),
	                                   cmocka_unit_test(marks_in_words)};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
