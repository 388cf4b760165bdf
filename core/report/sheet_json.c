/* The same sheet as data. Members that do not apply are left out. */
#include <string.h>
#include "halfsplit/json/json.h"
#include "halfsplit/report/report.h"

static void put_if(hs_json_writer *w, const char *key, const char *text)
{
	if (text)
		hs_json_put_string(w, key, text);
}

static void put_texts(hs_json_writer *w, const char *key, const char **texts, size_t count)
{
	if (count == 0)
		return;
	hs_json_open_array(w, key);
	for (size_t i = 0; i < count; i++)
		hs_json_put_string(w, NULL, texts[i]);
	hs_json_close_array(w);
}

static const char *item_kind(const hs_item *item)
{
	static const char *const names[] = {"reading", "answer",  "gate", "opened",  "closed-up", "note",
	                                    "warning", "refused", "redo", "sitting", "repair"};
	return names[item->kind];
}

static void put_item(hs_json_writer *w, const hs_item *item)
{
	hs_json_open_object(w, NULL);
	hs_json_put_string(w, "kind", item_kind(item));
	put_if(w, "utc", item->utc);
	put_if(w, "by", item->by);
	put_if(w, "ask", item->ask);
	put_if(w, "step", item->step);
	put_if(w, "reading", item->reading);
	put_if(w, "typed", item->typed);
	if (item->by_program)
		hs_json_put_bool(w, "by_program", true);
	put_if(w, "corrections", item->corrections);
	put_if(w, "value", item->value);
	put_if(w, "expanded", item->expanded);
	put_if(w, "limits", item->limits);
	put_if(w, "outcome", item->outcome);
	put_if(w, "side", item->side);
	put_if(w, "word", item->word);
	put_if(w, "left", item->left);
	put_if(w, "to", item->to);
	put_if(w, "clears", item->clears);
	put_if(w, "implicates", item->implicates);
	put_if(w, "text", item->text);
	put_if(w, "why", item->why);
	put_if(w, "before", item->before);
	put_if(w, "after", item->after);
	if (item->kind == HS_ITEM_GATE)
		hs_json_put_bool(w, "passed", item->passed);
	if (item->taken_back)
		hs_json_put_bool(w, "taken_back", true);
	if (item->derived)
		hs_json_put_bool(w, "derived", true);
	hs_json_close_object(w);
}

static void put_persons(hs_json_writer *w, const hs_sheet *sheet)
{
	hs_json_open_array(w, "persons");
	for (size_t i = 0; i < sheet->person_count; i++) {
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "by", sheet->persons[i].by);
		hs_json_put_string(w, "from", sheet->persons[i].from_utc);
		hs_json_put_string(w, "to", sheet->persons[i].to_utc);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
}

static void put_head(hs_json_writer *w, const hs_sheet *sheet)
{
	const hs_opening *opening = sheet->opening;
	hs_json_put_bool(w, "rehearsal", opening->rehearsal != NULL);
	if (opening->from)
		hs_json_put_string(w, "from", opening->from);
	hs_json_put_string(w, "unit", opening->unit);
	hs_json_put_string(w, "by", opening->by);
	put_persons(w, sheet);
	hs_json_open_object(w, "playbook");
	hs_json_put_string(w, "id", opening->playbook_id);
	hs_json_put_integer(w, "edition", opening->edition);
	put_if(w, "title", opening->title);
	put_if(w, "family", sheet->playbook->family);
	hs_json_put_string(w, "digest", opening->playbook.digest);
	hs_json_close_object(w);
	hs_json_put_string(w, "kit_digest", opening->kit.count ? opening->kit.digest : NULL);
	hs_json_put_string(w, "run", opening->run);
	hs_json_put_string(w, "program", opening->program);
	hs_json_put_string(w, "begun", opening->utc);
	hs_json_put_string(w, "ended", sheet->ended_utc);
	hs_json_put_string(w, "state", sheet->state);
	hs_json_put_bool(w, "torn", sheet->torn);
	hs_json_put_bool(w, "repaired", sheet->repaired);
}

static void put_finding(hs_json_writer *w, const hs_sheet *sheet)
{
	const hs_step *step = sheet->finding;
	if (!step) {
		hs_json_put_null(w, "finding");
		return;
	}
	hs_json_open_object(w, "finding");
	hs_json_put_string(w, "step", step->id);
	hs_json_put_string(w, "title", hs_step_title(step));
	put_if(w, "by", sheet->found_by);
	put_if(w, "utc", sheet->found_utc);
	put_if(w, "text", step->text);
	hs_json_open_array(w, "suspects");
	for (size_t i = 0; i < step->suspect_count; i++)
		hs_json_put_string(w, NULL, sheet->playbook->suspects[step->suspects[i]].id);
	hs_json_close_array(w);
	hs_json_put_bool(w, "separated", !step->not_separated);
	put_if(w, "proof", step->proof);
	put_if(w, "advice", step->advice);
	put_if(w, "not_tested", step->not_tested);
	hs_json_close_object(w);
}

static void put_suspects(hs_json_writer *w, const hs_sheet *sheet)
{
	static const char *const words[] = {"open", "cleared", "implicated"};
	hs_json_open_array(w, "suspects");
	for (size_t i = 0; i < sheet->suspect_count; i++) {
		const hs_sheet_suspect *suspect = &sheet->suspects[i];
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "id", suspect->id);
		put_if(w, "title", suspect->title);
		hs_json_put_string(w, "standing", words[suspect->standing]);
		put_if(w, "step", suspect->by_step);
		put_if(w, "evidence", suspect->evidence);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
}

static void put_instruments(hs_json_writer *w, const hs_sheet *sheet)
{
	hs_json_open_array(w, "instruments");
	for (size_t i = 0; i < sheet->instrument_count; i++) {
		const hs_sheet_instrument *one = &sheet->instruments[i];
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "id", one->id);
		put_if(w, "title", one->title);
		put_if(w, "serial", one->serial);
		put_if(w, "due", one->due);
		hs_json_put_bool(w, "overdue", one->overdue);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
}

void hs_sheet_json(const hs_sheet *sheet, hs_buf *out)
{
	hs_json_writer writer, *w = &writer;
	hs_json_begin(w, out);
	hs_json_open_object(w, NULL);
	put_head(w, sheet);
	put_finding(w, sheet);
	put_suspects(w, sheet);
	hs_json_open_array(w, "way");
	for (size_t i = 0; i < sheet->item_count; i++)
		put_item(w, &sheet->items[i]);
	hs_json_close_array(w);
	put_instruments(w, sheet);
	hs_json_put_string(w, "power", hs_power_name(sheet->power));
	hs_json_put_string(w, "power_words", sheet->power_words);
	hs_json_open_array(w, "open");
	for (size_t i = 0; i < sheet->open_count; i++)
		hs_json_put_string(w, NULL, sheet->open[i]);
	hs_json_close_array(w);
	put_if(w, "shorts", sheet->shorts);
	put_if(w, "may_be_charged", sheet->charges);
	put_if(w, "unsafe", sheet->unsafe);
	put_texts(w, "joined", sheet->joined, sheet->joined_count);
	put_texts(w, "turned", sheet->turned, sheet->turned_count);
	hs_json_open_object(w, "anchor");
	hs_json_put_integer(w, "lines", (long long)sheet->lines);
	hs_json_put_string(w, "head", sheet->head);
	hs_json_close_object(w);
	hs_json_close_object(w);
	hs_buf_char(out, '\n');
}
