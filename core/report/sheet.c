/* The walk: lines of a transcript to the lines of a sheet. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "sheet_parts.h"

/* Where the walk is. */
typedef struct hs_walk {
	hs_sheet *sheet;
	size_t event;
	const char *utc, *by, *ask, *typed; /* of the event whose lines these are */
	bool by_program;
	const char *bound;                  /* of the reading: "< ", "> ", "" */
	long reading;                       /* the item that a moved line completes; -1 none */
	long answer;                        /* the item of the event itself; -1 none */
} hs_walk;

static const char *keep(hs_walk *walk, const char *text)
{
	return text && *text ? hs_arena_str(walk->sheet->arena, text) : NULL;
}

static const char *keep_member(hs_walk *walk, const hs_json *line, const char *key)
{
	return keep(walk, hs_json_get_string(line, key));
}

static hs_item *add_item(hs_walk *walk, hs_item_kind kind)
{
	hs_sheet *sheet = walk->sheet;
	sheet->items = hs_grow(sheet->items, &sheet->item_room, sheet->item_count + 1, sizeof *sheet->items);
	hs_item *item = &sheet->items[sheet->item_count++];
	*item = (hs_item){.kind = kind, .event = walk->event, .utc = walk->utc, .by = walk->by, .ask = walk->ask};
	return item;
}

static const char *keep_buf(hs_walk *walk, hs_buf *text)
{
	const char *kept = keep(walk, text->data);
	hs_buf_free(text);
	return kept;
}

static bool read_figure(const hs_json *line, const char *key, const char *unit_key, hs_quantity *out)
{
	const char *digits = hs_json_get_string(line, key), *unit_name = hs_json_get_string(line, unit_key);
	out->unit = HS_UNITLESS;
	if (unit_name)
		hs_unit_find(unit_name, &out->unit);
	return digits && hs_number_read(digits, &out->value);
}

/* As people read it; NULL when there is none. */
static const char *print_figure(hs_walk *walk, const char *bound, hs_quantity figure, int prefix)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_str(&text, bound);
	hs_quantity_print_in(&text, figure, prefix);
	return keep_buf(walk, &text);
}

/* Value and uncertainty behind one prefix: the limits', where the reading was judged, else the value's own. */
static void put_figures(hs_walk *walk, hs_item *item, const hs_json *line, const hs_limits *limits)
{
	hs_quantity value, expanded;
	if (!read_figure(line, "value", "unit", &value))
		return;
	int prefix = limits ? hs_limits_prefix(limits, value.value) : hs_quantity_prefix(value);
	item->value = print_figure(walk, walk->bound, value, prefix);
	if (!read_figure(line, "U", "unit", &expanded) || !(expanded.value > 0) || !isfinite(expanded.value))
		return;
	double weight = pow(10, floor(log10(expanded.value)) - 1); /* it is known to two digits at best */
	expanded.value = round(expanded.value / weight) * weight;
	expanded.unit = hs_unit_is_level(value.unit) ? HS_DB : value.unit;
	item->expanded = print_figure(walk, "", expanded, prefix);
}

/* "+ 1.4 dB K12, + 10 dB P10" */
static const char *corrections(hs_walk *walk, const hs_json *list)
{
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < hs_json_count(list); i++) {
		const hs_json *line = hs_json_at(list, i);
		double db = 0, factor = 1;
		const char *digits = hs_json_get_string(line, "db"), *times = hs_json_get_string(line, "factor");
		const char *part = hs_json_get_string(line, "part");
		bool has_db = digits && hs_number_read(digits, &db) && db != 0;
		bool has_factor = times && hs_number_read(times, &factor) && factor != 1;
		if (!has_db && !has_factor)
			continue;
		hs_buf_str(&text, text.length ? ", " : "");
		if (has_factor) {
			hs_buf_str(&text, "x ");
			hs_number_print(&text, factor);
		} else {
			hs_buf_str(&text, db < 0 ? "- " : "+ ");
			hs_quantity_print(&text, (hs_quantity){db < 0 ? -db : db, HS_DB}, -1);
		}
		hs_buf_printf(&text, " %s", part ? part : "");
	}
	return keep_buf(walk, &text);
}

static const char *joined(hs_walk *walk, const hs_json *list)
{
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < hs_json_count(list); i++) {
		const char *id = hs_json_string(hs_json_at(list, i));
		hs_buf_printf(&text, "%s%s", i ? ", " : "", id ? id : "");
	}
	return keep_buf(walk, &text);
}

static void add_instrument(hs_walk *walk, const char *id, const char *title, const char *serial, const char *due)
{
	hs_sheet *sheet = walk->sheet;
	for (size_t i = 0; i < sheet->instrument_count; i++)
		if (strcmp(sheet->instruments[i].id, id) == 0)
			return;
	sheet->instruments = hs_grow(sheet->instruments, &sheet->instrument_room, sheet->instrument_count + 1,
	                             sizeof *sheet->instruments);
	sheet->instruments[sheet->instrument_count++] =
	    (hs_sheet_instrument){.id = keep(walk, id),
	                          .title = keep(walk, title),
	                          .serial = keep(walk, serial),
	                          .due = keep(walk, due),
	                          .overdue = due && walk->utc && strncmp(due, walk->utc, 10) < 0};
}

static void note_instrument(hs_walk *walk, const hs_json *instrument)
{
	const char *id = hs_json_get_string(instrument, "id");
	if (id)
		add_instrument(walk, id, hs_json_get_string(instrument, "title"),
		               hs_json_get_string(instrument, "serial"), hs_json_get_string(instrument, "due"));
}

/* A source is read from by nobody, so that no line names it; the step it feeds does. */
static void note_source(hs_walk *walk, const char *step_id)
{
	const hs_step *step = hs_sheet_step(walk->sheet, step_id);
	const hs_part *source =
	    step && step->inject.given && step->inject.hookup ? step->inject.hookup->instrument : NULL;
	if (source)
		add_instrument(walk, source->id, source->title, source->serial, source->due);
}

/* What has no value of its own is called by its name; a bound keeps its sign. */
static void put_entry(hs_walk *walk, hs_item *item, const hs_json *line)
{
	const char *kind = hs_json_get_string(hs_json_get(line, "entry"), "kind");
	kind = kind ? kind : "";
	walk->bound = strcmp(kind, "above") == 0 ? "> " : strcmp(kind, "below") == 0 ? "< " : "";
	if (strcmp(kind, "over") == 0)
		item->value = "over the range";
	else if (strcmp(kind, "open") == 0)
		item->value = "open";
	put_figures(walk, item, line, NULL);
}

static void on_corrected(hs_walk *walk, const hs_json *line)
{
	/* The reading takes the place of the answer that gave it; one used again was answered by nobody. */
	walk->reading = walk->answer >= 0 ? walk->answer : (long)walk->sheet->item_count;
	hs_item *item = walk->answer >= 0 ? &walk->sheet->items[walk->answer] : add_item(walk, HS_ITEM_READING);
	if (walk->answer < 0)
		item->ask = NULL;
	else
		item->typed = walk->typed;
	walk->answer = -1;
	item->by_program = item->typed && walk->by_program;
	item->kind = HS_ITEM_READING;
	item->step = keep_member(walk, line, "step");
	item->reading = keep_member(walk, line, "reading");
	item->corrections = corrections(walk, hs_json_get(line, "corrections"));
	put_entry(walk, item, line);
	note_instrument(walk, hs_json_get(line, "instrument"));
	note_source(walk, item->step);
}

static void put_limits(hs_walk *walk, hs_item *item, const hs_json *line)
{
	const hs_json *written = hs_json_get(line, "limits");
	hs_quantity low = {0}, high = {0};
	if (!written)
		return;
	hs_limits limits = {.has_low = read_figure(written, "low", "unit", &low),
	                    .has_high = read_figure(written, "high", "unit", &high)};
	limits.low = low.value;
	limits.high = high.value;
	limits.unit = limits.has_low ? low.unit : high.unit;
	item->limits = keep_member(walk, written, "text");
	put_figures(walk, item, line, &limits);
}

/* What is derived from several readings is judged without a line of its own before. */
static void add_derived(hs_walk *walk, const hs_json *line, const hs_step *step)
{
	walk->reading = (long)walk->sheet->item_count;
	hs_item *item = add_item(walk, HS_ITEM_READING);
	item->ask = NULL;
	item->step = keep_member(walk, line, "step");
	item->derived = true;
	item->typed = step && step->derive == HS_DERIVE_RATIO ? "ratio" : "difference";
	walk->bound = "";
	put_figures(walk, item, line, NULL);
}

static void on_judged(hs_walk *walk, const hs_json *line)
{
	const hs_step *step = hs_sheet_step(walk->sheet, hs_json_get_string(line, "step"));
	if (!hs_json_get_string(line, "reading"))
		add_derived(walk, line, step);
	if (walk->reading < 0)
		return;
	hs_item *item = &walk->sheet->items[walk->reading];
	put_limits(walk, item, line);
	item->outcome = keep_member(walk, line, "outcome");
	bool okay = item->outcome && strcmp(item->outcome, "ok") == 0;
	if (step && step->has_responds)
		item->side = okay ? "it responds" : "no response";
	else if (okay && !item->limits)
		item->outcome = "noted";
	if (hs_json_get_string(line, "side"))
		item->side = hs_arena_printf(walk->sheet->arena, "%s the %s limit", hs_json_get_string(line, "side"),
		                             hs_json_get_string(line, "near") ? hs_json_get_string(line, "near") : "");
}

static void on_moved(hs_walk *walk, const hs_json *line)
{
	long at = walk->reading >= 0 ? walk->reading : walk->answer;
	hs_item *item = at >= 0 ? &walk->sheet->items[at] : add_item(walk, HS_ITEM_ANSWER);
	if (at < 0) {
		/* The answer became a line of what it opened or closed; this one says where it led. */
		item->typed = walk->typed;
	} else if (item->to) {
		/* A decision that followed at once: nobody answered it. */
		item = add_item(walk, HS_ITEM_ANSWER);
		item->ask = NULL;
	}
	if (!item->step)
		item->step = keep_member(walk, line, "from");
	item->to = keep_member(walk, line, "to");
	const hs_step *led_to = hs_sheet_step(walk->sheet, item->to);
	item->rests = led_to && led_to->kind == HS_STEP_BENCH;
	item->word = keep_member(walk, line, "word");
	item->left = keep_member(walk, line, "outcome");
	if (!item->outcome)
		item->outcome = item->left;
	item->clears = joined(walk, hs_json_get(line, "clears"));
	item->implicates = joined(walk, hs_json_get(line, "implicates"));
}

static void on_gate(hs_walk *walk, const hs_json *line)
{
	hs_item *item = walk->answer >= 0 ? &walk->sheet->items[walk->answer] : add_item(walk, HS_ITEM_GATE);
	walk->answer = -1;
	item->kind = HS_ITEM_GATE;
	item->ask = keep_member(walk, line, "ask");
	item->before = keep_member(walk, line, "before");
	item->after = keep_member(walk, line, "after");
	item->why = keep_member(walk, line, "why");
	hs_json_get_bool(line, "passed", &item->passed);
}

static void on_openable(hs_walk *walk, const hs_json *line, hs_item_kind kind)
{
	hs_item *item = walk->answer >= 0 ? &walk->sheet->items[walk->answer] : add_item(walk, kind);
	walk->answer = -1;
	item->kind = kind;
	const char *title = hs_json_get_string(line, "title");
	item->text = title ? keep(walk, title) : keep_member(walk, line, "id");
	item->why = keep_member(walk, line, "fixings");
}

/* Marks the last surviving item of an ask as taken back, and with it what followed from the same answer. */
static void take_back(hs_walk *walk, const char *ask)
{
	for (size_t i = walk->sheet->item_count; ask && i-- > 0;) {
		hs_item *item = &walk->sheet->items[i];
		if ((item->kind != HS_ITEM_READING && item->kind != HS_ITEM_ANSWER) || item->taken_back || !item->ask ||
		    strcmp(item->ask, ask) != 0)
			continue;
		for (size_t j = i; j < walk->sheet->item_count; j++) {
			hs_item *with = &walk->sheet->items[j];
			if (with->event == item->event &&
			    (with->kind == HS_ITEM_READING || with->kind == HS_ITEM_ANSWER))
				with->taken_back = true;
		}
		return;
	}
}

static void on_noted(hs_walk *walk, const hs_json *line)
{
	const hs_json *repair = hs_json_get(line, "repair");
	bool flag;
	if (repair) {
		hs_item *item = add_item(walk, HS_ITEM_REPAIR);
		item->utc = keep_member(walk, line, "utc");
		item->text = keep_member(walk, repair, "kept");
		item->why = keep_member(walk, repair, "reason");
		walk->sheet->repaired = true;
	} else if (hs_json_get_bool(line, "retracted", &flag) || hs_json_get_bool(line, "set_aside", &flag)) {
		take_back(walk, hs_json_get_string(line, "ask"));
	} else {
		hs_item *item =
		    add_item(walk, hs_json_get_bool(line, "warning", &flag) ? HS_ITEM_WARNING : HS_ITEM_NOTE);
		item->text = keep_member(walk, line, "text");
		item->why = keep_member(walk, line, "why");
	}
}

static void on_sitting(hs_walk *walk, const hs_json *line, const char *word)
{
	hs_item *item = add_item(walk, HS_ITEM_SITTING);
	item->word = word;
	item->ask = NULL;
	item->text = keep_member(walk, line, "text");
	item->why = keep_member(walk, line, "why");
}

/* A resume begins a sitting, whoever resumes; so does an event of somebody else. */
static void sit(hs_walk *walk, bool resumed)
{
	hs_sheet *sheet = walk->sheet;
	hs_sheet_person *last = sheet->person_count ? &sheet->persons[sheet->person_count - 1] : NULL;
	if (!walk->by)
		return;
	if (last && !resumed && strcmp(last->by, walk->by) == 0) {
		last->to_utc = walk->utc;
		return;
	}
	sheet->persons = hs_grow(sheet->persons, &sheet->person_room, sheet->person_count + 1, sizeof *sheet->persons);
	sheet->persons[sheet->person_count++] = (hs_sheet_person){walk->by, walk->utc, walk->utc};
}

/* "STEP/join.source": the source goes onto the unit. */
static void on_joined(hs_walk *walk)
{
	static const char tail[] = "/join.source";
	size_t length = walk->ask ? strlen(walk->ask) : 0;
	if (length > sizeof tail - 1 && strcmp(walk->ask + length - (sizeof tail - 1), tail) == 0)
		note_source(walk,
		            hs_arena_printf(walk->sheet->arena, "%.*s", (int)(length - (sizeof tail - 1)), walk->ask));
}

static hs_item *add_event(hs_walk *walk, const char *event, bool accepted)
{
	if (!accepted)
		return add_item(walk, HS_ITEM_REFUSED);
	if (strcmp(event, "answer") == 0)
		return add_item(walk, HS_ITEM_ANSWER);
	if (strcmp(event, "redo") == 0)
		return add_item(walk, HS_ITEM_REDO);
	return add_item(walk, strcmp(event, "note") == 0 ? HS_ITEM_NOTE : HS_ITEM_SITTING);
}

static void on_event(hs_walk *walk, const hs_json *line, const char *event)
{
	bool accepted = false;
	walk->event++;
	walk->utc = keep_member(walk, line, "utc");
	walk->by = keep_member(walk, line, "by");
	walk->ask = keep_member(walk, line, "ask");
	walk->by_program = hs_json_get_string(line, "raw") != NULL;
	const char *text = hs_json_get_string(line, "text");
	/* Of a trace its first line will do: the file and its digest. */
	walk->typed = text && strncmp(text, "trace ", 6) == 0 && strchr(text, '\n')
	                  ? hs_arena_printf(walk->sheet->arena, "%.*s", (int)strcspn(text, "\n"), text)
	                  : keep(walk, text);
	walk->reading = walk->answer = -1;
	sit(walk, strcmp(event, "resume") == 0);
	hs_json_get_bool(line, "accepted", &accepted);
	if (strcmp(event, "redo") == 0)
		take_back(walk, hs_json_get_string(line, "retracted"));
	bool answer = strcmp(event, "answer") == 0;
	hs_item *item = add_event(walk, event, accepted);
	item->word = answer ? NULL : hs_arena_str(walk->sheet->arena, event);
	if (!item->ask)
		item->ask = keep_member(walk, line, "retracted");
	item->typed = walk->typed;
	item->text = answer ? NULL : walk->typed;
	item->why = keep_member(walk, line, "why");
	walk->answer = answer && accepted ? (long)walk->sheet->item_count - 1 : -1;
	if (walk->answer >= 0)
		on_joined(walk);
}

static void on_finding(hs_walk *walk)
{
	walk->sheet->found_by = walk->by;
	walk->sheet->found_utc = walk->utc;
}

static void on_derived(hs_walk *walk, const hs_json *line, const char *kind)
{
	if (strcmp(kind, "corrected") == 0)
		on_corrected(walk, line);
	else if (strcmp(kind, "judged") == 0)
		on_judged(walk, line);
	else if (strcmp(kind, "moved") == 0)
		on_moved(walk, line);
	else if (strcmp(kind, "gate") == 0)
		on_gate(walk, line);
	else if (strcmp(kind, "opened-up") == 0)
		on_openable(walk, line, HS_ITEM_OPENED);
	else if (strcmp(kind, "closed-up") == 0)
		on_openable(walk, line, HS_ITEM_CLOSED_UP);
	else if (strcmp(kind, "noted") == 0)
		on_noted(walk, line);
	else if (strcmp(kind, "finding") == 0)
		on_finding(walk);
	else if (strcmp(kind, "paused") == 0 || strcmp(kind, "closed") == 0)
		on_sitting(walk, line, kind[0] == 'p' ? "paused" : "closed");
}

static bool visit(void *context, const hs_chain_line *line, hs_error *error)
{
	(void)error;
	hs_walk *walk = context;
	const char *kind = hs_json_get_string(line->root, "kind"), *event = hs_json_get_string(line->root, "event");
	if (line->number == 1) {
		walk->utc = keep_member(walk, line->root, "utc");
		walk->by = keep_member(walk, line->root, "by");
		add_item(walk, HS_ITEM_SITTING)->word = "began";
		sit(walk, false);
	} else if (event) {
		on_event(walk, line->root, event);
	} else if (kind) {
		on_derived(walk, line->root, kind);
	}
	return true;
}

/* What hangs on the unit and what was turned, as the last pause or the close left it. */
static void read_left(hs_sheet *sheet, const hs_engine *engine)
{
	hs_buf text;
	hs_buf_init(&text);
	size_t count = 0;
	while (hs_engine_joined(engine, count, &text))
		count++;
	sheet->joined = hs_arena_alloc(sheet->arena, (count + 1) * sizeof *sheet->joined);
	for (hs_buf_clear(&text); hs_engine_joined(engine, sheet->joined_count, &text); hs_buf_clear(&text))
		sheet->joined[sheet->joined_count++] = hs_arena_str(sheet->arena, text.data);
	sheet->turned = hs_arena_alloc(sheet->arena, HS_CONTROLS_MOST * sizeof *sheet->turned);
	for (int i = 0; i < sheet->playbook->unit.control_count; i++, hs_buf_clear(&text))
		if (hs_engine_control_left(engine, i, &text))
			sheet->turned[sheet->turned_count++] = hs_arena_str(sheet->arena, text.data);
	hs_buf_free(&text);
}

static void read_engine(hs_sheet *sheet, const hs_engine *engine)
{
	const hs_playbook *playbook = sheet->playbook;
	sheet->suspect_count = playbook->suspect_count;
	sheet->suspects = hs_arena_alloc(sheet->arena, playbook->suspect_count * sizeof *sheet->suspects);
	for (size_t i = 0; i < playbook->suspect_count; i++) {
		int by_step = -1;
		hs_sheet_suspect *suspect = &sheet->suspects[i];
		suspect->id = playbook->suspects[i].id;
		suspect->title = hs_suspect_title(&playbook->suspects[i]);
		suspect->standing = hs_engine_suspect(engine, i, &by_step);
		suspect->evidence = hs_sheet_evidence(sheet, suspect, by_step);
	}
	sheet->open = hs_arena_alloc(sheet->arena, HS_OPENABLES_MOST * sizeof *sheet->open);
	for (int i = 0; i < playbook->unit.openable_count; i++)
		if (hs_engine_open_list(engine) >> i & 1) {
			const hs_openable *thing = &playbook->unit.openables[i];
			sheet->open[sheet->open_count++] = thing->title ? thing->title : thing->id;
		}
	read_left(sheet, engine);
	sheet->power = hs_engine_power(engine);
	hs_buf text;
	hs_buf_init(&text);
	hs_engine_power_words(engine, &text);
	sheet->power_words = hs_arena_str(sheet->arena, text.data);
	hs_buf_clear(&text);
	hs_engine_shorts(engine, &text);
	sheet->shorts = text.length > 0 ? hs_arena_str(sheet->arena, text.data) : NULL;
	hs_buf_clear(&text);
	hs_engine_charges(engine, &text);
	sheet->charges = text.length > 0 ? hs_arena_str(sheet->arena, text.data) : NULL;
	hs_buf_clear(&text);
	hs_engine_barred(engine, &text);
	sheet->unsafe = text.length > 0 ? hs_arena_str(sheet->arena, text.data) : NULL;
	hs_buf_free(&text);
	int finding = hs_engine_finding(engine);
	sheet->finding = finding >= 0 ? &playbook->steps[finding] : NULL;
}

bool hs_sheet_read(const char *data, size_t length, const hs_chain *chain, const hs_replay_result *replay,
                   hs_sheet *sheet, hs_error *error)
{
	if (replay->state != HS_REPLAY_GOOD || !replay->engine || chain->state == HS_CHAIN_TAMPERED ||
	    chain->state == HS_CHAIN_EMPTY)
		return hs_fail(error, HS_BAD_INPUT,
		               "the transcript does not hold together, so nothing can be reported from it");
	*sheet = (hs_sheet){
	    .arena = hs_arena_new(), .opening = replay->opening, .playbook = hs_engine_playbook(replay->engine)};
	hs_walk walk = {.sheet = sheet, .bound = "", .reading = -1, .answer = -1};
	hs_chain again;
	if (!hs_chain_check(data, length, visit, &walk, &again, error)) {
		hs_sheet_free(sheet);
		return false;
	}
	read_engine(sheet, replay->engine);
	sheet->ended_utc = hs_arena_str(sheet->arena, replay->last_utc);
	sheet->state = replay->closed ? "closed" : replay->paused ? "paused" : "stopped short";
	sheet->lines = chain->count;
	memcpy(sheet->head, chain->head, sizeof sheet->head);
	sheet->torn = chain->state == HS_CHAIN_TORN;
	return true;
}

void hs_sheet_free(hs_sheet *sheet)
{
	free(sheet->items);
	free(sheet->instruments);
	free(sheet->persons);
	hs_arena_free(sheet->arena);
	*sheet = (hs_sheet){0};
}
