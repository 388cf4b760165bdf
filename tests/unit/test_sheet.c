/* The job sheet: what is folded, what never is, that nothing foreign gets through raw, and what a walk makes of a run.
 */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include <stdio.h>
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"
#include "halfsplit/report/report.h"
#include "halfsplit/unit/check.h"

#define COUNT(array) (sizeof(array) / sizeof *(array))
#define DAY          "2026-01-01T"
#define ME           "Mara Quill"

static hs_sheet bare_sheet(const hs_opening *opening, const hs_playbook *playbook)
{
	return (hs_sheet){.opening = opening,
	                  .playbook = playbook,
	                  .ended_utc = DAY "09:04:06.000Z",
	                  .state = "closed",
	                  .power = HS_POWER_DEAD,
	                  .power_words = "proved dead (primary)",
	                  .lines = 3,
	                  .head = "00"};
}

static hs_opening opening_of(void)
{
	return (hs_opening){.run = "r1",
	                    .program = "0",
	                    .playbook_id = "copse/no-output",
	                    .edition = 1,
	                    .title = "No output",
	                    .unit = "C-0321",
	                    .by = ME,
	                    .utc = DAY "09:00:00.000Z",
	                    .playbook = {.digest = "aa"}};
}

/* The section that begins with this title must read like this, up to the next title. */
static void expect_section(const hs_sheet *sheet, const char *title, const char *wanted)
{
	hs_buf text, head;
	hs_buf_init(&text);
	hs_buf_init(&head);
	hs_sheet_text(sheet, &text);
	hs_buf_printf(&head, "\n%s\n---", title);
	char *begins = strstr(text.data, head.data);
	assert_non_null(begins);
	begins = strchr(strchr(begins + 1, '\n') + 1, '\n') + 1;
	char *ends = strstr(begins, "\n\n");
	if (ends)
		ends[1] = '\0';
	assert_string_equal(begins, wanted);
	hs_buf_free(&head);
	hs_buf_free(&text);
}

static hs_item gate(const char *utc, const char *ask, const char *typed)
{
	return (hs_item){.kind = HS_ITEM_GATE, .utc = utc, .by = ME, .ask = ask, .typed = typed, .passed = true};
}

static hs_item power_gate(const char *utc, const char *ask, const char *typed, const char *before, const char *after)
{
	hs_item item = gate(utc, ask, typed);
	item.before = before;
	item.after = after;
	return item;
}

static void gates_of_one_state_are_folded(void **state)
{
	(void)state;
	hs_opening opening = opening_of();
	hs_playbook playbook = {.id = "copse/no-output"};
	hs_sheet sheet = bare_sheet(&opening, &playbook);
	hs_item items[] = {
	    power_gate(DAY "09:03:19.000Z", "gate/off/switch", "off", "on", "off"),
	    gate(DAY "09:03:20.000Z", "gate/disconnected/mains", "out"),
	    power_gate(DAY "09:03:21.000Z", "gate/disconnected/other", "none", "off", "disconnected"),
	    gate(DAY "09:03:31.000Z", "gate/dead/tester", "T2, two-pole"),
	    gate(DAY "09:03:32.000Z", "gate/dead/C7.across", "0.2 V"),
	};
	sheet.items = items;
	sheet.item_count = COUNT(items);
	expect_section(&sheet, "Gates",
	               "2026-01-01 (UTC)\n"
	               "09:03:19  off           switch \"off\": passed; power on, now off\n"
	               "09:03:20  disconnected  mains \"out\", other \"none\" until 09:03:21: passed; power off, now\n"
	               "                        disconnected\n"
	               "09:03:31  dead          tester \"T2, two-pole\", C7.across \"0.2 V\" until 09:03:32: passed\n");
}

/* A failed gate, a reading between, another person and another day each begin a line of their own. */
static void what_an_auditor_looks_for_is_never_folded(void **state)
{
	(void)state;
	hs_opening opening = opening_of();
	hs_playbook playbook = {.id = "copse/no-output"};
	hs_sheet sheet = bare_sheet(&opening, &playbook);
	hs_item items[] = {
	    gate(DAY "09:00:01.000Z", "gate/dead/tester", "T2"),
	    power_gate(DAY "09:00:02.000Z", "gate/dead/mains.L-N", "230 V", "waited", "unknown"),
	    {.kind = HS_ITEM_GATE,
	     .utc = DAY "09:00:03.000Z",
	     .by = ME,
	     .ask = "gate/unknown",
	     .before = "on",
	     .after = "unknown",
	     .why = "long break"},
	    gate(DAY "09:00:04.000Z", "gate/dead/tester", "T2"),
	    {.kind = HS_ITEM_NOTE, .utc = DAY "09:00:05.000Z", .by = ME, .text = "hot"},
	    gate(DAY "09:00:06.000Z", "gate/dead/C7.across", "0.2 V"),
	    gate(DAY "09:00:07.000Z", "gate/dead/C8.across", "0.3 V"),
	    gate("2026-01-02T09:00:08.000Z", "gate/dead/C9.across", "0.1 V"),
	};
	items[1].passed = false;
	items[1].why = "it is live";
	items[6].by = "Jon Ashby";
	sheet.items = items;
	sheet.item_count = COUNT(items);
	expect_section(&sheet, "Gates",
	               "2026-01-01 (UTC)\n"
	               "09:00:01  dead          tester \"T2\": passed\n"
	               "09:00:02  dead          mains.L-N \"230 V\": FAILED (it is live); power waited, now unknown\n"
	               "09:00:03  power         on to unknown: long break\n"
	               "09:00:04  dead          tester \"T2\": passed\n"
	               "09:00:06  dead          C7.across \"0.2 V\": passed\n"
	               "09:00:07  dead          C8.across \"0.3 V\", by Jon Ashby: passed\n"
	               "2026-01-02 (UTC)\n"
	               "09:00:08  dead          C9.across \"0.1 V\": passed\n");
}

static void no_gates_and_no_suspects_are_said(void **state)
{
	(void)state;
	hs_opening opening = opening_of();
	hs_playbook playbook = {.id = "copse/no-output"};
	hs_sheet sheet = bare_sheet(&opening, &playbook);
	expect_section(&sheet, "Gates", "none was asked\n");
	expect_section(&sheet, "Suspects", "the playbook names none\n");
}

static void suspects_of_one_evidence_are_one_line(void **state)
{
	(void)state;
	hs_opening opening = opening_of();
	hs_playbook playbook = {.id = "copse/no-output"};
	hs_sheet sheet = bare_sheet(&opening, &playbook);
	static const char *const rails = "ok at rails: 12.05 V against 11.4 V to 12.6 V";
	hs_sheet_suspect suspects[] = {
	    {.id = "fuse", .title = "F1", .standing = HS_SUSPECT_CLEARED, .evidence = "lit at lamp"},
	    {.id = "psu", .title = "psu", .standing = HS_SUSPECT_CLEARED, .evidence = rails},
	    {.id = "q1", .standing = HS_SUSPECT_OPEN},
	    {.id = "switch", .title = "S1", .standing = HS_SUSPECT_CLEARED, .evidence = "lit at lamp"},
	    {.id = "q3", .title = "Q3, driver", .standing = HS_SUSPECT_IMPLICATED, .evidence = "high at be-q3"},
	    {.id = "q2", .standing = HS_SUSPECT_OPEN},
	};
	sheet.suspects = suspects;
	sheet.suspect_count = COUNT(suspects);
	expect_section(&sheet, "Suspects",
	               "implicated   q3 (Q3, driver): high at be-q3\n"
	               "still open   q1, q2\n"
	               "cleared      fuse (F1), switch (S1): lit at lamp\n"
	               "cleared      psu: ok at rails: 12.05 V against 11.4 V to 12.6 V\n");
}

static void the_foot_tells_what_is_left(void **state)
{
	(void)state;
	hs_opening opening = opening_of();
	hs_playbook playbook = {.id = "copse/no-output"};
	hs_sheet sheet = bare_sheet(&opening, &playbook);
	const char *open[] = {"the top cover", "link F2"};
	expect_section(&sheet, "As it was left", "power        proved dead (primary)\nstill open   nothing\n");
	sheet.shorts = "C7, C8";
	expect_section(&sheet, "As it was left", "power        proved dead (primary)\nshorted      C7, C8\n");
	sheet.open = open;
	sheet.open_count = COUNT(open);
	expect_section(&sheet, "As it was left",
	               "power        proved dead (primary)\n"
	               "still open   the top cover\n"
	               "             link F2\n"
	               "shorted      C7, C8\n");
}

static void days_are_said_once(void **state)
{
	(void)state;
	hs_opening opening = opening_of();
	hs_playbook playbook = {.id = "copse/no-output"};
	hs_sheet sheet = bare_sheet(&opening, &playbook);
	hs_item items[] = {
	    {.kind = HS_ITEM_SITTING, .utc = DAY "09:00:00.000Z", .by = ME, .word = "began"},
	    gate(DAY "09:00:01.000Z", "gate/off/switch", "off"),
	    {.kind = HS_ITEM_NOTE, .utc = DAY "09:00:02.000Z", .by = ME, .text = "hot"},
	    {.kind = HS_ITEM_SITTING, .utc = "2026-01-22T08:00:00.000Z", .by = ME, .word = "resumed"},
	};
	sheet.items = items;
	sheet.item_count = COUNT(items);
	expect_section(&sheet, "The way taken",
	               "2026-01-01 (UTC)\n"
	               "09:00:00  began by Mara Quill\n"
	               "09:00:02  note: hot\n"
	               "2026-01-22 (UTC)\n"
	               "08:00:00  resumed by Mara Quill\n");
}

static void foreign_text_stays_text(void **state)
{
	(void)state;
	hs_opening opening = opening_of();
	hs_playbook playbook = {.id = "copse/no-output"};
	hs_sheet sheet = bare_sheet(&opening, &playbook);
	static const char evil[] = "a\x1b[2Jb\nGates\n-----";
	hs_item items[] = {gate(evil, "gate/dead/tester", evil), gate(DAY "09:00:01.000Z", evil, evil)};
	items[1].by = items[1].why = evil;
	hs_sheet_suspect suspects[] = {{.id = "q1", .title = evil, .standing = HS_SUSPECT_CLEARED, .evidence = evil}};
	sheet.items = items;
	sheet.item_count = COUNT(items);
	sheet.suspects = suspects;
	sheet.suspect_count = COUNT(suspects);
	sheet.shorts = sheet.power_words = evil;
	hs_buf text;
	hs_buf_init(&text);
	hs_sheet_text(&sheet, &text);
	assert_null(strchr(text.data, '\x1b'));
	assert_non_null(strstr(text.data, "a\\x1b[2Jb"));
	hs_buf_free(&text);
}

/* ---- whole runs: a playbook and a kit in Lua, answers, and the sheet of the transcript they make ---- */

static const char kit_text[] =
    "cable 'K1' { points = { ['1 MHz'] = '0.1 dB', ['1 GHz'] = '0.1 dB' }, u = '0.1 dB' }\n"
    "lead 'L1' { }\n"
    "instrument 'M1' { title = 'power meter', impedance = '50 ohm', max = { rf = '27 dBm', dc = '25 V' },\n"
    "  reads = { power = { from = '-70 dBm', to = '20 dBm', freq = '1 MHz .. 3 GHz', u = '0.2 dB' } },\n"
    "  due = '2026-02-01' }\n"
    "instrument 'D1' { title = 'multimeter', max = { dc = '600 V' },\n"
    "  reads = { volts = { from = '-600 V', to = '600 V', u = '5 mV' },\n"
    "            ohms = { from = '0 ohm', to = '40 Mohm', u = '0.1 ohm' } } }\n"
    "instrument 'G1' { title = 'source', impedance = '50 ohm',\n"
    "  gives = { from = '-120 dBm', to = '13 dBm', freq = '100 kHz .. 3 GHz', u = '0.5 dB' },\n"
    "  serial = '77', due = '2025-12-31' }\n"
    "hookup 'in' { 'K1', 'G1' }\nhookup 'out' { 'K1', 'M1' }\nhookup 'prods' { 'L1', 'D1' }\n";

static const char head_text[] =
    "playbook { id = 'x', title = 'x', family = 'Tarnbeck Wren', first = { 'Write down where BAND stands.' } }\n"
    "unit { supply = { dc12 = '12 V' }, controls = { band = { 'low', 'high' } },\n"
    "  changes = { leg = { kind = 'lifted leg', title = 'R1 lifted', needs = 'off' } } }\n"
    "point 'J1' { accepts = '+10 dBm', impedance = '50 ohm' }\npoint 'J2' { gives = '0 dBm', impedance = '50 ohm' }\n"
    "suspect 'f1' {}\nsuspect 'q1' {}\nsuspect 'q2' {}\n";

typedef struct run {
	hs_sources *kit_sources, *sources;
	hs_kit *kit;
	hs_book *book;
	hs_engine *engine, *again;
	hs_replay *replay;
	hs_buf text, data;
	hs_chain chain;
	hs_sheet sheet;
} run;

/* Warnings are fine: these playbooks are small. */
static void no_errors(hs_problems *problems)
{
	hs_error error = {0};
	if (!hs_problems_clean(problems, &error))
		fail_msg("%s:%d: %s", error.file, error.line, error.message);
	hs_problems_free(problems);
}

static void run_open(run *r, const char *steps)
{
	hs_error error = {0};
	hs_problems problems = {0};
	*r = (run){0};
	hs_buf_init(&r->text);
	hs_buf_init(&r->data);
	hs_buf_printf(&r->text, "%s%s", head_text, steps);
	r->kit_sources = hs_sources_from_text("kit.lua", kit_text, strlen(kit_text), &error);
	r->sources = hs_sources_from_text("x.lua", r->text.data, r->text.length, &error);
	r->kit = hs_kit_load(r->kit_sources, HS_PLACES_EXACT, &problems, &error);
	r->book = r->kit ? hs_book_open(r->sources, r->kit, HS_PLACES_EXACT, &problems, &error) : NULL;
	if (!r->book)
		fail_msg("%s:%d: %s", error.file, error.line, error.message);
	hs_playbook_check(hs_book_playbook(r->book), &problems);
	hs_unit_check(hs_book_playbook(r->book), &problems);
	no_errors(&problems);
	r->engine = hs_engine_new(hs_book_playbook(r->book), ME, &error);
	assert_non_null(r->engine);
}

static void run_close(run *r)
{
	hs_sheet_free(&r->sheet);
	hs_replay_free(r->replay);
	hs_engine_free(r->engine);
	hs_engine_free(r->again);
	hs_book_free(r->book);
	hs_kit_free(r->kit);
	hs_sources_free(r->sources);
	hs_sources_free(r->kit_sources);
	hs_buf_free(&r->text);
	hs_buf_free(&r->data);
}

static hs_engine *run_again(void *context, const hs_opening *opening, hs_error *error)
{
	run *r = context;
	return r->again = hs_engine_new(hs_book_playbook(r->book), opening->by, error);
}

/* "ASK: ANSWER", "!redo", "!pause", or "!by NAME" for a resume by somebody. */
static void run_line(run *r, hs_lines *lines, char *line, int second, const char *by)
{
	char utc[64];
	hs_error error = {0};
	hs_taken taken = HS_NOT_TAKEN;
	char *answer = strstr(line, ": ");
	snprintf(utc, sizeof utc, DAY "09:%02d:%02d.000Z", second / 60, second % 60);
	hs_event event = {
	    .kind = HS_EVENT_ANSWER, .ask = line, .text = "", .by = by, .utc = utc, .mono_ms = second * 1000};
	if (*line == '!') {
		event.kind = line[1] == 'r' ? HS_EVENT_REDO : line[1] == 'p' ? HS_EVENT_PAUSE : HS_EVENT_RESUME;
		event.ask = NULL;
	} else {
		assert_non_null(answer);
		*answer = '\0';
		event.text = answer + 2;
	}
	if (!hs_engine_take(r->engine, &event, &taken, &error))
		fail_msg("%s: %s", line, error.message);
	if (taken != HS_TAKEN)
		fail_msg("%s: %s was not taken", line, event.text);
	hs_lines_event(lines, r->engine, &event, taken);
}

static void run_events(run *r, hs_lines *lines, const char *answers)
{
	char line[200], by[200] = ME;
	for (int second = 1; *answers; second++) {
		int length = (int)strcspn(answers, "\n");
		snprintf(line, sizeof line, "%.*s", length, answers);
		answers += answers[length] == '\n' ? length + 1 : length;
		if (strncmp(line, "!by ", 4) == 0)
			snprintf(by, sizeof by, "%s", line + 4);
		run_line(r, lines, line, second, by);
	}
}

/* Plays the answers behind the intake, and reads the sheet from the transcript of it all. */
static void run_play(run *r, const char *answers)
{
	char sha256[HS_HEX_ROOM], digest[HS_HEX_ROOM], list[128], head[HS_HEX_ROOM] = HS_CHAIN_START, next[HS_HEX_ROOM];
	hs_error error = {0};
	hs_lines lines = {0};
	hs_buf whole;
	hs_sha256_hex(r->text.data, r->text.length, sha256);
	snprintf(list, sizeof list, "%s  x.lua\n", sha256);
	hs_sha256_hex(list, strlen(list), digest);
	hs_recorded_file file = {.path = "x.lua", .sha256 = sha256, .text = r->text.data};
	hs_opening opening = opening_of();
	opening.rules = HS_RULES_VERSION;
	opening.run = "0123456789abcdef0123456789abcdef";
	opening.playbook_id = opening.title = "x";
	opening.edition = hs_book_playbook(r->book)->edition;
	opening.playbook = (hs_recorded_files){&file, 1, digest};
	hs_engine_open(r->engine);
	hs_lines_opened(&lines, &opening);
	hs_lines_first(&lines, r->engine, &opening);
	hs_buf_init(&whole);
	hs_buf_printf(&whole,
	              "intake/first: done\nintake/words: dead\nintake/seen: none\nintake/seals: whole\nintake/keep: "
	              "none\nintake/stands.band: low\n%s",
	              answers);
	run_events(r, &lines, whole.data);
	for (size_t i = 0; i < lines.count; i++) {
		hs_chain_seal(&r->data, i, head, lines.items[i].data, next);
		memcpy(head, next, sizeof head);
	}
	hs_lines_free(&lines);
	hs_buf_free(&whole);
	r->replay = hs_replay_new(run_again, r);
	assert_true(hs_chain_check(r->data.data, r->data.length, hs_replay_line, r->replay, &r->chain, &error));
	const hs_replay_result *result = hs_replay_get(r->replay);
	if (!hs_sheet_read(r->data.data, r->data.length, &r->chain, result, &r->sheet, &error))
		fail_msg("%s: %s %s", error.message, result->reason, r->chain.reason);
}

#define V(id, rest)   "step '" id "' { power = 'any', read = { 'volts', at = 'TP1', hookup = 'prods' }, " rest " }\n"
#define END(id, rest) "step '" id "' { finding = " rest " }\n"
#define ON                                                                                                             \
	"gate/off/switch: off\ns/join.source: done\ngate/energise/people: told\n"          \
	"gate/on/switch: on\n"

static const char grid[] =
    "step 's' { power = 'on', inject = { '-20 dBm', at = 'J1', hookup = 'in' },\n"
    " grid = { columns = { '4 MHz', '7 MHz' },\n"
    "  rows = { { 'low', set = { band = 'low' }, through = { 'f1', 'q1' } },\n"
    "           { 'high', set = { band = 'high' }, through = { 'f1', 'q2' } } },\n"
    "  read = { 'power', at = 'J2', hookup = 'out' }, limits = '-24 dBm .. -16 dBm' },\n"
    " ok = 'end', otherwise = 'end' }\n" END("end", "'seen'");

static const char decide[] =
    V("a", "limits = 'at least 1 V', ok = 'b', otherwise = 'b'")
    V("b", "next = 'which'")
    "step 'which' { uses = { a = 'a', b = 'b' }, decide = function(v) return 'end' end,\n"
    " to = { { to = 'end', clears = { 'f1' } } } }\n" END("end", "{ 'q1' }");

static const char way[] =
    "step 'm' { power = 'any', read = { 'power', at = 'TP1', hookup = 'out', freq = '10 MHz' },\n"
    " limits = 'at least -20 dBm', ok = 'o', otherwise = 'o' }\n"
    "step 'o' { power = 'any', read = { 'ohms', at = 'R1', hookup = 'prods', loose = true },\n"
    " limits = 'at most 2 ohm', ok = 'n', otherwise = 'n' }\n"
    V("n", "next = 'lift'")
    "step 'lift' { act = 'Lift it.', power = 'off', makes = { 'leg' }, next = 'end' }\n" END("end", "'seen'");

static const char look_first[] =
    "step 'look' { power = 'any', look = 'Lamp?',\n"
    " answers = { { 'lit', to = 'v', clears = { 'f1' } }, { 'dark', to = 'v' } } }\n"
    V("v", "limits = 'at least 1 V', ok = { to = 'end', clears = { 'f1', 'q1' } }, otherwise = 'end'")
    END("end", "'seen'");

static const char block[] =
    "step 'b' { power = 'any', collect = { { 'x', 'volts', at = 'TP1', limits = 'at least 2 V' },\n"
    "                                      { 'y', 'volts', at = 'TP2', limits = 'at least 2 V' } },\n"
    " low = { to = 'end', implicates = { 'q1' } }, ok = { to = 'end', clears = { 'q1' } }, otherwise = 'end' }\n"
    END("end", "'seen'");

/* Where a line wraps, or how wide a column is, is not what these rows are about. */
static void squeeze(hs_buf *out, const char *text)
{
	for (; *text; text++)
		if (!strchr(" \n", *text) || (out->length > 0 && out->data[out->length - 1] != ' '))
			hs_buf_char(out, *text == '\n' ? ' ' : *text);
}

static void what_a_run_says(void **state)
{
	(void)state;
	static const struct {
		const char *steps, *answers, *says;
	} rows[] = {
	    /* Bounds, an overload, a value without limits; what was typed where an answer opened something. */
	    {way, "m: < -80 dBm", "typed < -80 dBm, + 0.1 dB K1 = < -79.9 dBm, U "},
	    {way, "m: < -80 dBm", "; limits at least -20 dBm: low -> o\n"},
	    {way, "m: < -80 dBm\no: OL", "o  typed OL = over the range; limits at most 2 ohm: high -> n\n"},
	    {way, "m: < -80 dBm\no: open", "o  typed open; limits at most 2 ohm: "},
	    {way, "m: 0\no: 1\nn: 1", "n  typed 1 = 1 V, U 0.58 V: noted, without limits -> lift\n"},
	    {way, "m: 0\no: 1\nn: 1\ngate/off/switch: off\nlift: d", "lift  d -> end\n"},
	    /* What said it first is the evidence, not what only said it again. */
	    {look_first, "look: lit\nv: 5.00",
	     "cleared      f1: \"lit\" at look\ncleared      q1: ok at v: 5 V against at least 1 V\n"},
	    {look_first, "look: lit\n!redo\nlook: dark\nv: 5.00",
	     "cleared      f1, q1: ok at v: 5 V against at least 1 V\n"},
	    /* A grid by its rows, a decision by what it used, a finding by what led there. */
	    {grid, ON "s/low.1: -20\ns/low.2: -20\ns/set.band: done\ns/high.1: -40\ns/high.2: -20",
	     "implicated   q2: not ok at s: row high\ncleared      f1, q1: ok at s: row low\n"},
	    {decide, "a: 0\nb: 3.0", "cleared      f1: decided at which from a 0 V (low), b 3 V\n"},
	    {decide, "a: 0\nb: 3.0",
	     "implicated   q1: named by the finding; what led there: decided at which from a 0 V (low), b 3 V\n"},
	    {V("v", "limits = 'at least 1 V', low = 'end', otherwise = 'end'") END("end", "{ 'q1' }"), "v: 0",
	     "implicated   q1: named by the finding; what led there: low at v: 0 V against at least 1 V\n"},
	    {block, "b/x: 1\nb/y: 3", "implicated   q1: low at b/x: 1 V against at least 2 V\n"},
	    {block, "b/x: 2.50\nb/y: 3", "cleared      q1: ok at b: x 2.5 V, y 3 V\n"},
	    /* The source is on the list although nothing is read off it. */
	    {grid, "gate/off/switch: off\ns/join.source: done",
	     "G1           source, serial 77, calibration due 2025-12-31: OVERDUE when used\n"},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		run r;
		hs_buf text, got, says;
		hs_buf_init(&text);
		hs_buf_init(&got);
		hs_buf_init(&says);
		run_open(&r, rows[i].steps);
		run_play(&r, rows[i].answers);
		hs_sheet_text(&r.sheet, &text);
		squeeze(&got, text.data);
		squeeze(&says, rows[i].says);
		if (!strstr(got.data, says.data))
			fail_msg("row %zu: \"%s\" is not in\n%s", i, says.data, text.data);
		hs_buf_free(&text);
		hs_buf_free(&got);
		hs_buf_free(&says);
		run_close(&r);
	}
}

static void everybody_who_sat_there_is_named(void **state)
{
	(void)state;
	run r;
	hs_buf text;
	hs_buf_init(&text);
	run_open(&r, V("v", "limits = 'at least 1 V', ok = 'end', otherwise = 'end'") END("end", "{ 'q1' }"));
	run_play(&r, "!pause\n!by Jon Ashby\n!pause\n!by " ME "\n!pause\n!by Jon Ashby\nv: 3");
	hs_sheet_text(&r.sheet, &text);
	assert_non_null(strstr(
	    text.data, "person       Mara Quill, 2026-01-01 09:00:00 to 09:00:07; 2026-01-01 09:00:10 to 09:00:11\n"
	               "             Jon Ashby, 2026-01-01 09:00:08 to 09:00:09; 2026-01-01 09:00:12 to 09:00:13\n"));
	assert_non_null(strstr(text.data, "made by      Jon Ashby, 2026-01-01 09:00:13\n"));
	hs_buf_clear(&text);
	hs_sheet_json(&r.sheet, &text);
	assert_non_null(
	    strstr(text.data, "\"persons\":[{\"by\":\"Mara "
	                      "Quill\",\"from\":\"2026-01-01T09:00:00.000Z\",\"to\":\"2026-01-01T09:00:07.000Z\"},"));
	hs_buf_free(&text);
	run_close(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(gates_of_one_state_are_folded),
	    cmocka_unit_test(what_an_auditor_looks_for_is_never_folded),
	    cmocka_unit_test(no_gates_and_no_suspects_are_said),
	    cmocka_unit_test(suspects_of_one_evidence_are_one_line),
	    cmocka_unit_test(the_foot_tells_what_is_left),
	    cmocka_unit_test(days_are_said_once),
	    cmocka_unit_test(foreign_text_stays_text),
	    cmocka_unit_test(what_a_run_says),
	    cmocka_unit_test(everybody_who_sat_there_is_named),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
