/* What cleared or implicated a suspect, in words, from the moves of the walk. */
#include <string.h>
#include "sheet_parts.h"

const hs_step *hs_sheet_step(const hs_sheet *sheet, const char *id)
{
	int at = id ? hs_playbook_step(sheet->playbook, id) : -1;
	return at >= 0 ? &sheet->playbook->steps[at] : NULL;
}

static bool same_text(const char *a, const char *b)
{
	return a && b && strcmp(a, b) == 0;
}

/* True when the id is in "a, b, c". */
static bool listed(const char *list, const char *id)
{
	for (size_t length; list && *list; list += strspn(list, ", ")) {
		length = strcspn(list, ",");
		if (length == strlen(id) && strncmp(list, id, length) == 0)
			return true;
		list += length;
	}
	return false;
}

/* The move since which a suspect stands as it does; NULL when the moves say otherwise. */
static const hs_item *cause_of(const hs_sheet *sheet, const hs_sheet_suspect *suspect)
{
	const hs_item *cause = NULL;
	hs_standing now = HS_SUSPECT_OPEN;
	for (size_t i = 0; i < sheet->item_count; i++) {
		const hs_item *item = &sheet->items[i];
		hs_standing then = now;
		if (item->taken_back || !item->to)
			continue;
		if (listed(item->clears, suspect->id))
			then = HS_SUSPECT_CLEARED;
		if (listed(item->implicates, suspect->id))
			then = HS_SUSPECT_IMPLICATED;
		if (then != now)
			cause = item;
		now = then;
	}
	return now == suspect->standing ? cause : NULL;
}

/* A replaced part makes what was read before worthless; what was read off the unit by eye stays, unless it is named. */
static bool voids(const hs_sheet *sheet, const hs_item *item, const hs_step *owner, const hs_reading *reading)
{
	const hs_step *step = item->kind == HS_ITEM_ANSWER && item->to ? hs_sheet_step(sheet, item->step) : NULL;
	if (!step || step->kind != HS_STEP_REPLACE)
		return false;
	if (!step->voids_some)
		return reading->hookup_name != NULL;
	for (size_t i = 0; i < step->void_count; i++)
		if (step->voids[i].step >= 0 && &sheet->playbook->steps[step->voids[i].step] == owner)
			return true;
	return false;
}

/* The last surviving item of a reading, no later than `last`; NULL when it was not taken, or is void. */
static const hs_item *reading_before(const hs_sheet *sheet, const hs_item *last, const hs_step *owner,
                                     const hs_reading *reading)
{
	for (const hs_item *item = last + 1; item-- > sheet->items;) {
		if (voids(sheet, item, owner, reading))
			return NULL;
		if (item->kind == HS_ITEM_READING && !item->taken_back && !item->derived &&
		    same_text(item->step, owner->id) && same_text(item->reading, reading->name))
			return item;
	}
	return NULL;
}

static const char *word_before(const hs_sheet *sheet, const hs_item *last, const hs_step *look)
{
	for (const hs_item *item = last + 1; item-- > sheet->items;)
		if (item->kind == HS_ITEM_ANSWER && !item->taken_back && item->word && same_text(item->step, look->id))
			return item->word;
	return NULL;
}

static const hs_reading *reading_of(const hs_sheet *sheet, const hs_item *item)
{
	const hs_step *step = item->derived ? NULL : hs_sheet_step(sheet, item->step);
	for (size_t i = 0; step && i < step->reading_count; i++)
		if (same_text(step->readings[i].name, item->reading))
			return &step->readings[i];
	return NULL;
}

/* What was not read has no value: what was typed says why. What was answered with a word is called by it. */
static const char *value_of(const hs_sheet *sheet, const hs_item *item)
{
	const hs_reading *reading = reading_of(sheet, item);
	const char *value = reading && hs_reading_is_word(reading) && item->typed ? item->typed : item->value;
	return value ? value : item->typed ? item->typed : "no value";
}

/* Limits mean nothing to what was not read, nor to a yes or a trend, which only stand for numbers. */
static bool has_limits(const hs_sheet *sheet, const hs_item *item)
{
	const hs_reading *reading = reading_of(sheet, item);
	return item->limits && !same_text(item->outcome, "unread") &&
	       !(reading && (reading->reads == HS_READS_TICK || reading->reads == HS_READS_TREND));
}

/* "low at rails/p12: 9.8 V against 11.4 V to 12.6 V" */
static void add_judged(const hs_sheet *sheet, const hs_item *item, hs_buf *out)
{
	const hs_step *step = hs_sheet_step(sheet, item->step);
	hs_buf_printf(out, "%s at %s", item->outcome ? item->outcome : "read", item->step ? item->step : "");
	if (step && step->reading_count > 1 && !item->derived && item->reading)
		hs_buf_printf(out, "/%s", item->reading);
	/* The steps of a freehand run are only numbered. */
	if (sheet->opening->freehand && step && step->title)
		hs_buf_printf(out, " (%s)", step->title);
	hs_buf_printf(out, ": %s%s%s", item->derived ? item->typed : "", item->derived ? " " : "",
	              value_of(sheet, item));
	if (has_limits(sheet, item))
		hs_buf_printf(out, " against %s", item->limits);
	else if (item->side)
		hs_buf_printf(out, ", %s", item->side);
	else if (same_text(item->outcome, "noted"))
		hs_buf_str(out, ", without limits");
}

static void add_listed(const hs_sheet *sheet, const char *label, const hs_item *item, hs_buf *out)
{
	hs_buf_printf(out, "%s %s", label, value_of(sheet, item));
	if (item->outcome && strcmp(item->outcome, "noted") != 0)
		hs_buf_printf(out, " (%s)", item->outcome);
}

/* A block that is ok is so by all its readings; one that is not, by the first that is not. */
static void add_block(const hs_sheet *sheet, const hs_item *cause, const hs_step *step, hs_buf *out)
{
	bool all = !cause->left || strcmp(cause->left, "ok") == 0;
	size_t any = 0;
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_item *item = reading_before(sheet, cause, step, &step->readings[i]);
		if (!all && item && same_text(item->outcome, cause->left)) {
			add_judged(sheet, item, out);
			return;
		}
		if (!all || !item)
			continue;
		if (any++ == 0)
			hs_buf_printf(out, "ok at %s: ", step->id);
		else
			hs_buf_str(out, ", ");
		hs_buf_printf(out, "%s %s", step->readings[i].name, value_of(sheet, item));
	}
	if (!any)
		hs_buf_printf(out, "%s at %s", cause->left ? cause->left : "read", step->id);
}

static void add_use(const hs_sheet *sheet, const hs_item *cause, const hs_use *use, size_t *any, hs_buf *out)
{
	if (use->step < 0)
		return;
	const hs_step *owner = &sheet->playbook->steps[use->step];
	const char *word = use->slot < 0 ? word_before(sheet, cause, owner) : NULL;
	if (word)
		hs_buf_printf(out, "%s%s \"%s\"", (*any)++ ? ", " : " from ", owner->id, word);
	for (size_t i = 0; use->slot >= 0 && i < owner->reading_count; i++) {
		const hs_reading *reading = &owner->readings[i];
		const hs_item *item = reading->slot == use->slot ? reading_before(sheet, cause, owner, reading) : NULL;
		if (!item)
			continue;
		hs_buf_str(out, (*any)++ ? ", " : " from ");
		if (owner->reading_count > 1 && !same_text(owner->id, cause->step))
			hs_buf_printf(out, "%s/", owner->id);
		add_listed(sheet, reading->name, item, out);
	}
}

/* A function decided: what it used, as far as it was read; a block that names nothing used its own readings. */
static void add_decided(const hs_sheet *sheet, const hs_item *cause, const hs_step *step, hs_buf *out)
{
	size_t any = 0;
	hs_buf_printf(out, "decided at %s", step->id);
	for (size_t i = 0; i < step->decide.use_count; i++)
		add_use(sheet, cause, &step->decide.uses[i], &any, out);
	for (size_t i = 0; !step->decide.use_count && i < step->reading_count; i++) {
		const hs_item *item = reading_before(sheet, cause, step, &step->readings[i]);
		if (!item)
			continue;
		hs_buf_str(out, any++ ? ", " : " from ");
		add_listed(sheet, step->readings[i].name, item, out);
	}
}

enum { ROW_SILENT, ROW_GOOD, ROW_BAD };

/* As the engine weighs a row: bad when a reading is outside its limits, good when all are surely inside. */
static int row_says(const hs_sheet *sheet, const hs_item *cause, const hs_step *step, size_t row)
{
	int says = ROW_SILENT;
	bool sure = true;
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		if (reading->row != (int)row + 1 || (!reading->has_limits && reading->limits_by.id < 0))
			continue;
		const hs_item *item = reading_before(sheet, cause, step, reading);
		const char *outcome = item && item->outcome ? item->outcome : "";
		if (strcmp(outcome, "low") == 0 || strcmp(outcome, "high") == 0)
			return ROW_BAD;
		sure = sure && strcmp(outcome, "ok") == 0;
		says = ROW_GOOD;
	}
	return sure ? says : ROW_SILENT;
}

static bool goes_through(const hs_grid_row *row, int suspect)
{
	for (size_t i = 0; i < row->through_count; i++)
		if (row->through[i] == suspect)
			return true;
	return false;
}

/* "row low", "rows low, high": those that say so, and go through the suspect unless it is -1. */
static size_t rows_that(const hs_sheet *sheet, const hs_item *cause, const hs_step *step, int suspect, int say,
                        hs_buf *out)
{
	hs_buf names;
	size_t count = 0;
	hs_buf_init(&names);
	for (size_t i = 0; i < step->row_count; i++)
		if ((suspect < 0 || goes_through(&step->rows[i], suspect)) && row_says(sheet, cause, step, i) == say)
			hs_buf_printf(&names, "%s%s", count++ ? ", " : "", step->rows[i].name);
	if (count)
		hs_buf_printf(out, "%s %s", count > 1 ? "rows" : "row", names.data);
	hs_buf_free(&names);
	return count;
}

static void add_grid(const hs_sheet *sheet, const hs_item *cause, const hs_step *step, const hs_sheet_suspect *suspect,
                     hs_buf *out)
{
	int which = hs_playbook_suspect(sheet->playbook, suspect->id);
	bool cleared = suspect->standing == HS_SUSPECT_CLEARED;
	hs_buf rows;
	hs_buf_init(&rows);
	if (which >= 0 && rows_that(sheet, cause, step, which, cleared ? ROW_GOOD : ROW_BAD, &rows)) {
		hs_buf_printf(out, "%s at %s: %s", cleared ? "ok" : "not ok", step->id, rows.data);
		hs_buf_free(&rows);
		return;
	}
	/* No row through it said so: the grid as a whole did. */
	hs_buf_printf(out, "at %s", step->id);
	if (rows_that(sheet, cause, step, -1, ROW_GOOD, &rows))
		hs_buf_printf(out, "; ok: %s", rows.data);
	hs_buf_clear(&rows);
	if (rows_that(sheet, cause, step, -1, ROW_BAD, &rows))
		hs_buf_printf(out, "; not ok: %s", rows.data);
	hs_buf_free(&rows);
}

static void add_cause(const hs_sheet *sheet, const hs_item *cause, const hs_sheet_suspect *suspect, hs_buf *out)
{
	const hs_step *step = hs_sheet_step(sheet, cause->step);
	bool read = cause->kind == HS_ITEM_READING;
	/* Freehand, an act of its own says what a reading before it means. */
	const hs_item *meant = !read && step && step->kind == HS_STEP_READ ? reading_before(sheet, cause, step, &step->readings[0]) : NULL;
	if (meant) {
		add_judged(sheet, meant, out);
		return;
	}
	if (!read && step && step->kind == HS_STEP_TELL && sheet->opening->freehand) {
		hs_buf_printf(out, "seen: %s", hs_step_title(step));
		return;
	}
	if (read && step && step->row_count > 0)
		add_grid(sheet, cause, step, suspect, out);
	else if (step && step->exit_count > 0 && (read || step->kind == HS_STEP_DECIDE))
		add_decided(sheet, cause, step, out);
	else if (read && step && step->reading_count > 1 && !cause->derived)
		add_block(sheet, cause, step, out);
	else if (read)
		add_judged(sheet, cause, out);
	else
		hs_buf_printf(out, "\"%s\" at %s",
		              cause->word   ? cause->word
		              : cause->left ? cause->left
		                            : "",
		              cause->step  ? cause->step
		              : cause->ask ? cause->ask
		                           : "the beginning");
}

/* The finding itself says it, so what led there is told, and where that was no reading the last one judged before. */
static void add_named(const hs_sheet *sheet, const hs_step *finding, const hs_sheet_suspect *suspect, hs_buf *out)
{
	const hs_item *led = NULL;
	hs_buf_str(out, "named by the finding");
	for (size_t i = 0; i < sheet->item_count; i++)
		if (!sheet->items[i].taken_back && same_text(sheet->items[i].to, finding->id))
			led = &sheet->items[i];
	if (led) {
		hs_buf_str(out, "; what led there: ");
		add_cause(sheet, led, suspect, out);
	}
	const hs_step *from = led ? hs_sheet_step(sheet, led->step) : NULL;
	bool told = !led || led->kind == HS_ITEM_READING || (from && from->decide.use_count > 0);
	for (const hs_item *item = led; !told && item-- > sheet->items;) {
		if (item->kind != HS_ITEM_READING || item->taken_back || !item->outcome ||
		    strcmp(item->outcome, "noted") == 0)
			continue;
		hs_buf_str(out, "; judged last before it: ");
		add_judged(sheet, item, out);
		return;
	}
}

const char *hs_sheet_evidence(const hs_sheet *sheet, hs_sheet_suspect *suspect, int by_step)
{
	const hs_step *by = by_step >= 0 ? &sheet->playbook->steps[by_step] : NULL;
	if (suspect->standing == HS_SUSPECT_OPEN)
		return NULL;
	const hs_item *cause = by && by->kind == HS_STEP_FINDING ? NULL : cause_of(sheet, suspect);
	suspect->by_step = cause ? cause->step : by ? by->id : NULL;
	hs_buf text;
	hs_buf_init(&text);
	if (cause)
		add_cause(sheet, cause, suspect, &text);
	else if (by && by->kind == HS_STEP_FINDING)
		add_named(sheet, by, suspect, &text);
	else if (by)
		hs_buf_printf(&text, "at %s", by->id);
	const char *kept = text.length ? hs_arena_str(sheet->arena, text.data) : NULL;
	hs_buf_free(&text);
	return kept;
}
