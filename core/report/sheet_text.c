/* The job sheet as text: words and columns, nothing foreign unescaped. */
#include <string.h>
#include "sheet_text.h"

#define WIDTH 100

static const char *or_blank(const char *text)
{
	return text ? text : "";
}

static void shown(hs_buf *out, const char *text)
{
	hs_buf_shown(out, or_blank(text), false);
}

static void shown_part(hs_buf *out, const char *text, size_t length)
{
	hs_buf part;
	hs_buf_init(&part);
	hs_buf_add(&part, text, length);
	shown(out, part.data);
	hs_buf_free(&part);
}

void hs_text_field(hs_buf *out, const char *label, const char *text)
{
	if (!text || !*text)
		return;
	hs_buf_printf(out, "%-13s", label);
	hs_buf_wrap(out, text, WIDTH, 13);
	hs_buf_char(out, '\n');
}

void hs_text_title(hs_buf *out, const char *text)
{
	hs_buf_printf(out, "\n%s\n", text);
	for (size_t i = strlen(text); i > 0; i--)
		hs_buf_char(out, '-');
	hs_buf_char(out, '\n');
}

static bool is_stamp(const char *utc)
{
	return utc && strlen(utc) == 24 && utc[10] == 'T';
}

/* "2026-11-24 09:30:00" of the stamp; whatever is not one is shown as it is. */
static void when(hs_buf *out, const char *utc)
{
	if (is_stamp(utc)) {
		shown_part(out, utc, 10);
		hs_buf_char(out, ' ');
		shown_part(out, utc + 11, 8);
	} else {
		shown(out, utc);
	}
}

void hs_text_clock(hs_buf *out, const char *utc)
{
	if (is_stamp(utc))
		shown_part(out, utc + 11, 8);
	else
		shown(out, utc);
}

void hs_text_day(hs_buf *out, const char *utc, const char **last)
{
	if (!is_stamp(utc) || (*last && strncmp(*last, utc, 10) == 0))
		return;
	*last = utc;
	shown_part(out, utc, 10);
	hs_buf_str(out, " (UTC)\n");
}

/* "2026-11-24 09:30:00 to 10:12:00": the day is said again only where it is another. */
static void span(hs_buf *out, const char *from, const char *to)
{
	when(out, from);
	hs_buf_str(out, " to ");
	if (is_stamp(from) && is_stamp(to) && strncmp(from, to, 10) == 0)
		hs_text_clock(out, to);
	else
		when(out, to);
}

/* Everybody who sat at the bench, each with all the sittings. */
static void persons(const hs_sheet *sheet, hs_buf *out)
{
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < sheet->person_count; i++) {
		const hs_sheet_person *lead = &sheet->persons[i];
		bool earlier = false;
		for (size_t j = 0; j < i; j++)
			earlier = earlier || strcmp(sheet->persons[j].by, lead->by) == 0;
		if (earlier)
			continue;
		hs_buf_clear(&text);
		hs_buf_str(&text, lead->by);
		for (size_t j = i; j < sheet->person_count; j++) {
			const hs_sheet_person *sat = &sheet->persons[j];
			if (strcmp(sat->by, lead->by) != 0)
				continue;
			hs_buf_str(&text, j == i ? ", " : "; ");
			span(&text, sat->from_utc, sat->to_utc);
		}
		hs_text_field(out, i ? "" : "person", text.data);
	}
	if (!sheet->person_count)
		hs_text_field(out, "person", sheet->opening->by);
	hs_buf_free(&text);
}

static void head(const hs_sheet *sheet, hs_buf *out)
{
	const hs_opening *opening = sheet->opening;
	hs_buf text;
	if (opening->rehearsal)
		hs_buf_str(out, "REHEARSAL: answered without a person at a unit; nothing here was measured.\n\n");
	if (opening->from)
		hs_buf_printf(out, "It began at the step %s; what comes before was left out.\n\n", opening->from);
	hs_buf_str(out, "Job sheet\n=========\n");
	hs_buf_init(&text);
	hs_text_field(out, "unit", opening->unit);
	persons(sheet, out);
	if (opening->freehand)
		hs_buf_str(&text, "none: freehand");
	else
		hs_buf_printf(&text, "%s, edition %d: %s", opening->playbook_id, opening->edition, or_blank(opening->title));
	hs_text_field(out, "playbook", text.data);
	hs_text_field(out, "family", sheet->playbook->family);
	hs_text_field(out, "fingerprint", opening->playbook.digest);
	hs_text_field(out, "kit", opening->kit.count ? opening->kit.digest : "none");
	hs_buf_clear(&text);
	when(&text, opening->utc);
	hs_buf_str(&text, " to ");
	when(&text, sheet->ended_utc);
	hs_buf_printf(&text, " UTC, %s", sheet->state);
	hs_text_field(out, "time", text.data);
	hs_buf_clear(&text);
	hs_buf_printf(&text, "%s, written by halfsplit %s", opening->run, opening->program);
	hs_text_field(out, "run", text.data);
	if (sheet->torn)
		hs_text_field(out, "NOTE", "the last line of the transcript is torn; this sheet shows what is whole");
	if (sheet->repaired)
		hs_text_field(out, "note", "a torn tail was cut off; the bytes are kept beside the transcript");
	hs_buf_free(&text);
}

static void reading(const hs_item *item, hs_buf *text)
{
	if (item->derived)
		hs_buf_printf(text, "%s of the readings", item->typed);
	else if (item->typed)
		hs_buf_printf(text, item->by_program ? "taken by program %s" : "typed %s", item->typed);
	else
		hs_buf_str(text, "as read before");
	if (item->corrections)
		hs_buf_printf(text, ", %s", item->corrections);
	if (item->value && !(item->typed && strcmp(item->typed, item->value) == 0))
		hs_buf_printf(text, " = %s", item->value);
	if (item->expanded && item->value)
		hs_buf_printf(text, ", U %s", item->expanded);
	if (item->limits)
		hs_buf_printf(text, "; limits %s", item->limits);
	if (item->outcome && strcmp(item->outcome, "noted") == 0)
		hs_buf_str(text, ": noted, without limits");
	else if (item->outcome)
		hs_buf_printf(text, ": %s", item->outcome);
	if (item->side)
		hs_buf_printf(text, " (%s)", item->side);
}

static void led_to(const hs_item *item, hs_buf *text)
{
	if (item->to && item->left && item->outcome && strcmp(item->left, item->outcome) != 0 &&
	    strcmp(item->outcome, "noted") != 0)
		hs_buf_printf(text, "; all of %s: %s", or_blank(item->step), item->left);
	if (item->to && !item->rests)
		hs_buf_printf(text, " -> %s", item->to);
	if (item->clears)
		hs_buf_printf(text, "; clears %s", item->clears);
	if (item->implicates)
		hs_buf_printf(text, "; implicates %s", item->implicates);
	if (item->taken_back)
		hs_buf_str(text, " [taken back]");
}

static void way_item(const hs_item *item, hs_buf *text)
{
	switch (item->kind) {
	case HS_ITEM_READING:
		reading(item, text);
		led_to(item, text);
		break;
	case HS_ITEM_ANSWER:
		hs_buf_str(text, item->typed ? item->typed : item->ask ? "(Enter)" : "decided");
		led_to(item, text);
		break;
	case HS_ITEM_OPENED:
		hs_buf_printf(text, "opened: %s", or_blank(item->text));
		break;
	case HS_ITEM_CLOSED_UP:
		hs_buf_printf(text, "closed up: %s", or_blank(item->text));
		break;
	case HS_ITEM_NOTE:
		hs_buf_printf(text, "note: %s", or_blank(item->text ? item->text : item->why));
		break;
	case HS_ITEM_WARNING:
		hs_buf_printf(text, "WARNING: %s", or_blank(item->why ? item->why : item->text));
		break;
	case HS_ITEM_REFUSED:
		hs_buf_printf(text, "not taken: \"%s\": %s", or_blank(item->typed), or_blank(item->why));
		break;
	case HS_ITEM_REDO:
		hs_buf_str(text, "taken back by redo");
		break;
	case HS_ITEM_SITTING:
		hs_buf_printf(text, "%s by %s", item->word, or_blank(item->by));
		if (item->text)
			hs_buf_printf(text, ": %s", item->text);
		break;
	case HS_ITEM_REPAIR:
		hs_buf_printf(text, "a torn line was cut off and kept as %s", or_blank(item->text));
		break;
	default:
		break;
	}
}

static const char *item_where(const hs_item *item)
{
	if (item->kind == HS_ITEM_SITTING || item->kind == HS_ITEM_REPAIR)
		return "";
	if (item->kind == HS_ITEM_READING && !item->ask)
		return or_blank(item->step);
	return item->ask ? item->ask : or_blank(item->step);
}

void hs_text_line(hs_buf *out, const char *utc, const char *where, const char *text)
{
	hs_buf lead;
	hs_buf_init(&lead);
	hs_text_clock(&lead, utc);
	hs_buf_str(&lead, "  ");
	if (*where) {
		shown(&lead, where);
		hs_buf_str(&lead, "  ");
	}
	hs_buf_str(out, lead.data);
	size_t columns = hs_text_columns(lead.data);
	if (columns > 40) {
		hs_buf_str(out, "\n          ");
		columns = 10;
	}
	hs_buf_wrap(out, text, WIDTH, columns);
	hs_buf_char(out, '\n');
	hs_buf_free(&lead);
}

/* Freehand somebody tries how to say a thing; what was refused of that is no part of the way, unlike a reading or a gate refused. */
static bool is_slip(const hs_sheet *sheet, const hs_item *item)
{
	return item->kind == HS_ITEM_REFUSED && item->ask && sheet->playbook && strcmp(sheet->playbook->id, "freehand") == 0 &&
	       (strncmp(item->ask, "free/", 5) == 0 || strncmp(item->ask, "unit/", 5) == 0);
}

static void way(const hs_sheet *sheet, hs_buf *out)
{
	hs_text_title(out, "The way taken");
	const char *last = NULL;
	size_t slips = 0;
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < sheet->item_count; i++) {
		const hs_item *item = &sheet->items[i];
		slips += is_slip(sheet, item);
		if (item->kind == HS_ITEM_GATE || is_slip(sheet, item))
			continue;
		hs_buf_clear(&text);
		way_item(item, &text);
		hs_text_day(out, item->utc, &last);
		hs_text_line(out, item->utc, item_where(item), text.data);
	}
	if (slips)
		hs_buf_printf(out, "%zu line%s typed and not taken; the transcript has %s\n", slips, slips == 1 ? " was" : "s were", slips == 1 ? "it" : "them");
	hs_buf_free(&text);
}

static void finding(const hs_sheet *sheet, hs_buf *out)
{
	hs_text_title(out, "Finding");
	const hs_step *step = sheet->finding;
	if (!step) {
		hs_buf_str(out, "none yet\n");
		return;
	}
	hs_text_field(out, "finding", hs_step_title(step));
	hs_text_field(out, "", step->text);
	hs_buf text;
	hs_buf_init(&text);
	if (sheet->found_by) {
		hs_buf_printf(&text, "%s, ", sheet->found_by);
		when(&text, sheet->found_utc);
		hs_text_field(out, "made by", text.data);
		hs_buf_clear(&text);
	}
	for (size_t i = 0; i < step->suspect_count; i++)
		hs_buf_printf(&text, "%s%s", i ? ", " : "",
		              hs_suspect_title(&sheet->playbook->suspects[step->suspects[i]]));
	if (step->not_separated)
		hs_buf_str(&text, " (not separated)");
	hs_text_field(out, "points to", text.data);
	hs_buf_free(&text);
	hs_text_field(out, "proof", step->proof);
	hs_text_field(out, "advice", step->advice);
	hs_text_field(out, "not tested", step->not_tested ? step->not_tested : "the playbook does not say");
}

static void instruments(const hs_sheet *sheet, hs_buf *out)
{
	hs_text_title(out, "Instruments");
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < sheet->instrument_count; i++) {
		const hs_sheet_instrument *one = &sheet->instruments[i];
		hs_buf_clear(&text);
		hs_buf_printf(&text, "%s%s%s", or_blank(one->title), one->serial ? ", serial " : "",
		              or_blank(one->serial));
		hs_buf_printf(&text, "%s%s%s", text.length ? ", " : "",
		              one->due ? "calibration due " : "no calibration date", or_blank(one->due));
		if (one->overdue)
			hs_buf_str(&text, ": OVERDUE when used");
		hs_buf label;
		hs_buf_init(&label);
		shown(&label, one->id);
		hs_text_field(out, label.data, text.data);
		hs_buf_free(&label);
	}
	if (!sheet->instrument_count)
		hs_buf_str(out, "none was used\n");
	hs_buf_free(&text);
}

static void foot(const hs_sheet *sheet, hs_buf *out)
{
	hs_text_title(out, "As it was left");
	hs_text_field(out, "power", sheet->power_words);
	for (size_t i = 0; i < sheet->open_count; i++)
		hs_text_field(out, i ? "" : "still open", sheet->open[i]);
	hs_text_field(out, "shorted", sheet->shorts);
	hs_text_field(out, "charged?", sheet->charges);
	hs_text_field(out, "unsafe", sheet->unsafe);
	for (size_t i = 0; i < sheet->joined_count; i++)
		hs_text_field(out, i ? "" : "still joined", sheet->joined[i]);
	for (size_t i = 0; i < sheet->turned_count; i++)
		hs_text_field(out, i ? "" : "turned", sheet->turned[i]);
	if (!sheet->open_count && !sheet->shorts && !sheet->charges && !sheet->unsafe && !sheet->joined_count && !sheet->turned_count)
		hs_text_field(out, "still open", "nothing");
	hs_text_title(out, "Anchor");
	hs_anchor_print(out, sheet->lines, sheet->head);
	hs_buf_str(
	    out,
	    "\nThe transcript is consistent with itself when `halfsplit audit` says so with this anchor from the job\n"
	    "sheet; this page alone proves nothing.\n");
	if (sheet->opening->rehearsal)
		hs_buf_str(out, "REHEARSAL: not a record of work on a unit.\n");
}

void hs_sheet_text(const hs_sheet *sheet, hs_buf *out)
{
	head(sheet, out);
	finding(sheet, out);
	hs_text_suspects(sheet, out);
	way(sheet, out);
	hs_text_gates(sheet, out);
	instruments(sheet, out);
	foot(sheet, out);
}
