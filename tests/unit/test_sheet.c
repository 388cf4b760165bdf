/* The job sheet as text: what is folded, what never is, and that nothing foreign gets through raw. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <cmocka.h>
#include "halfsplit/report/report.h"

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
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
