/* The parts of the job sheet that fold what belongs together: suspects of one evidence, gates of one state. */
#include <string.h>
#include "sheet_text.h"

static bool same_text(const char *a, const char *b)
{
	return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool same_group(const hs_sheet_suspect *a, const hs_sheet_suspect *b)
{
	return a->standing == b->standing && same_text(a->evidence, b->evidence);
}

/* Suspect `first` with all those that share its standing and evidence, on one line; nothing when an earlier one did it.
 */
static void group(const hs_sheet *sheet, size_t first, const char *label, hs_buf *out)
{
	const hs_sheet_suspect *lead = &sheet->suspects[first];
	hs_buf text;
	for (size_t i = 0; i < first; i++)
		if (same_group(&sheet->suspects[i], lead))
			return;
	hs_buf_init(&text);
	for (size_t i = first; i < sheet->suspect_count; i++) {
		const hs_sheet_suspect *suspect = &sheet->suspects[i];
		if (!same_group(suspect, lead))
			continue;
		hs_buf_printf(&text, "%s%s", text.length ? ", " : "", suspect->id);
		if (suspect->title && strcmp(suspect->title, suspect->id) != 0)
			hs_buf_printf(&text, " (%s)", suspect->title);
	}
	if (lead->standing != HS_SUSPECT_OPEN && lead->evidence)
		hs_buf_printf(&text, ": %s", lead->evidence);
	hs_text_field(out, label, text.data);
	hs_buf_free(&text);
}

void hs_text_suspects(const hs_sheet *sheet, hs_buf *out)
{
	static const struct {
		hs_standing standing;
		const char *label;
	} order[] = {
	    {HS_SUSPECT_IMPLICATED, "implicated"}, {HS_SUSPECT_OPEN, "still open"}, {HS_SUSPECT_CLEARED, "cleared"}};
	hs_text_title(out, "Suspects");
	for (size_t o = 0; o < sizeof order / sizeof *order; o++)
		for (size_t i = 0; i < sheet->suspect_count; i++)
			if (sheet->suspects[i].standing == order[o].standing)
				group(sheet, i, order[o].label, out);
	if (!sheet->suspect_count)
		hs_buf_str(out, "the playbook names none\n");
}

/* The power state was set back by what happened, not by an answer. */
static bool is_voided(const hs_item *item)
{
	return item->ask && strcmp(item->ask, "gate/unknown") == 0;
}

/* "gate/dead/C7.across" has the state "dead" and the fact "C7.across". */
static const char *state_of(const hs_item *item, size_t *length)
{
	const char *state = item->ask ? item->ask : "";
	if (strncmp(state, "gate/", 5) == 0)
		state += 5;
	*length = strcspn(state, "/");
	return state;
}

static const char *fact_of(const hs_item *item)
{
	size_t length;
	const char *state = state_of(item, &length);
	return state[length] ? state + length + 1 : "";
}

static bool changes_power(const hs_item *item)
{
	return item->before && item->after && strcmp(item->before, item->after) != 0;
}

/* True when `next` goes on the line of `item`: same state, person and day, both simply passed. */
static bool goes_on(const hs_item *item, const hs_item *next)
{
	size_t length, next_length;
	const char *state = state_of(item, &length), *next_state = state_of(next, &next_length);
	if (next->kind != HS_ITEM_GATE || is_voided(next) || !item->passed || !next->passed || item->why || next->why ||
	    changes_power(item))
		return false;
	if (length != next_length || strncmp(state, next_state, length) != 0 || !same_text(item->by, next->by))
		return false;
	return item->utc && next->utc && strncmp(item->utc, next->utc, 10) == 0;
}

static void add_power(const hs_item *item, hs_buf *text)
{
	if (changes_power(item))
		hs_buf_printf(text, "; power %s, now %s", item->before, item->after);
}

/* One line for items[first..last], each with the fact it asked for and what was typed. */
static void add_run(const hs_sheet *sheet, const hs_item *first, const hs_item *last, hs_buf *out)
{
	hs_buf text, state;
	size_t length;
	const char *begins = state_of(first, &length);
	hs_buf_init(&text);
	hs_buf_init(&state);
	hs_buf_add(&state, begins, length);
	while (state.length < strlen("disconnected"))
		hs_buf_char(&state, ' ');
	for (const hs_item *item = first; item <= last; item++)
		hs_buf_printf(&text, "%s%s \"%s\"", item == first ? "" : ", ", fact_of(item),
		              item->typed ? item->typed : "");
	if (!same_text(first->utc, last->utc)) {
		hs_buf_str(&text, " until ");
		hs_text_clock(&text, last->utc);
	}
	if (!same_text(first->by, sheet->opening->by))
		hs_buf_printf(&text, ", by %s", first->by ? first->by : "nobody named");
	hs_buf_str(&text, last->passed ? ": passed" : ": FAILED");
	if (last->why)
		hs_buf_printf(&text, " (%s)", last->why);
	add_power(last, &text);
	hs_text_line(out, first->utc, state.data, text.data);
	hs_buf_free(&state);
	hs_buf_free(&text);
}

static void add_voided(const hs_item *item, hs_buf *out)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "%s to unknown: %s", item->before ? item->before : "", item->why ? item->why : "");
	hs_text_line(out, item->utc, "power       ", text.data);
	hs_buf_free(&text);
}

void hs_text_gates(const hs_sheet *sheet, hs_buf *out)
{
	const char *last_day = NULL;
	bool any = false;
	hs_text_title(out, "Gates");
	for (size_t i = 0; i < sheet->item_count; i++) {
		const hs_item *first = &sheet->items[i], *end = sheet->items + sheet->item_count, *last = first;
		if (first->kind != HS_ITEM_GATE)
			continue;
		any = true;
		hs_text_day(out, first->utc, &last_day);
		if (is_voided(first)) {
			add_voided(first, out);
			continue;
		}
		while (last + 1 < end && goes_on(last, last + 1))
			last++;
		add_run(sheet, first, last, out);
		i += (size_t)(last - first);
	}
	if (!any)
		hs_buf_str(out, "none was asked\n");
}
