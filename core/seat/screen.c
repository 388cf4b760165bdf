/* The ask on the screen, and answers to the words that change nothing. */
#include "halfsplit/seat/screen.h"

#include <stdlib.h>
#include <string.h>
#include "halfsplit/seat/keypad.h"
#include "screen_facts.h"

bool hs_screen_wants_colour(void)
{
	const char *no = getenv("NO_COLOR");
	const char *term = getenv("TERM");
	return !(no && *no) && term && *term && strcmp(term, "dumb") != 0;
}

/* "28 s", "4 min 12 s", "5 min", "1 h 3 min"; a part of a second counts as a whole one, so that nobody is told zero too
 * early.
 */
static void print_span(hs_buf *out, int64_t ms)
{
	long long s = (long long)((ms + 999) / 1000);
	long long large = s < 3600 ? s / 60 : s / 3600, small = s < 3600 ? s % 60 : s % 3600 / 60;
	if (s < 60) {
		hs_buf_printf(out, "%lld s", s);
		return;
	}
	hs_buf_printf(out, "%lld %s", large, s < 3600 ? "min" : "h");
	if (small > 0)
		hs_buf_printf(out, " %lld %s", small, s < 3600 ? "s" : "min");
}

static void print_clock(hs_buf *out, int64_t ms)
{
	long long s = (long long)(ms > 0 ? ms / 1000 : 0);
	hs_buf_printf(out, "time %lld:%02lld:%02lld", s / 3600, s / 60 % 60, s % 60);
}

/* Shorts that are fitted, as "C7, C8", and how many. */
static size_t shorts_of(const hs_engine *engine, hs_buf *shorts)
{
	hs_engine_shorts(engine, shorts);
	size_t count = shorts->length > 0;
	for (const char *at = shorts->data; (at = strchr(at, ',')) != NULL; at++)
		count++;
	return count;
}

/* "open: top-cover, short C7", or "open: 2" where that is too long. */
static void print_open(const hs_engine *engine, bool counted, hs_buf *out)
{
	const hs_bench_unit *unit = &hs_engine_playbook(engine)->unit;
	uint64_t open = hs_engine_open_list(engine);
	hs_buf names, shorts;
	hs_buf_init(&names);
	hs_buf_init(&shorts);
	size_t count = shorts_of(engine, &shorts);
	for (int i = 0; i < unit->openable_count; i++)
		if (open >> i & 1u) {
			hs_buf_printf(&names, "%s%s", names.length > 0 ? ", " : "", unit->openables[i].id);
			count++;
		}
	if (shorts.length > 0)
		hs_buf_printf(&names, "%sshort %s", names.length > 0 ? ", " : "", shorts.data);
	if (count == 0)
		hs_buf_str(out, "nothing open");
	else if (counted)
		hs_buf_printf(out, "open: %zu", count);
	else
		hs_buf_printf(out, "open: %s", names.data);
	hs_buf_free(&shorts);
	hs_buf_free(&names);
}

static void add_levels(const hs_screen *screen, const hs_engine *engine, int step, int item, hs_buf *out)
{
	hs_buf drawn;
	hs_buf_init(&drawn);
	hs_engine_levels(engine, step, item, hs_screen_width(screen), &drawn);
	while (drawn.length > 0 && drawn.data[drawn.length - 1] == '\n')
		drawn.data[--drawn.length] = '\0';
	if (drawn.length > 0)
		hs_lines_drawn(out, screen, 0, drawn.data);
	hs_buf_free(&drawn);
}

/* "set: band low, pad 10 dB": where the controls stand, as far as that is known; empty when it is not. */
static void print_controls(const hs_engine *engine, hs_buf *out)
{
	const hs_bench_unit *unit = &hs_engine_playbook(engine)->unit;
	for (int i = 0; i < unit->control_count; i++) {
		const char *position = hs_engine_control(engine, i);
		if (position)
			hs_buf_printf(out, "%s%s %s", out->length > 0 ? ", " : "set: ", unit->controls[i].id, position);
	}
}

/* Live, or perhaps live. */
static bool may_be_live(hs_power power)
{
	return power == HS_POWER_UNKNOWN || hs_power_is_live(power);
}

/* What the status line leaves out until it fits: first the time, then the names of what is open, then both. */
enum { WITHOUT_TIME = 1, WITHOUT_NAMES = 2, STATUS_FORMS = 4 };

#define FIELDS_MOST 6

static void add_shown(hs_field *fields, size_t *count, hs_style style, const char *lead, const char *text)
{
	hs_field *field = hs_field_add(fields, count, style);
	hs_buf_str(&field->text, lead);
	hs_buf_shown(&field->text, text, false);
}

static size_t status_fields(const hs_screen *screen, const hs_engine *engine, const hs_ask *ask, const char *heading,
                            int form, hs_field *fields)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	int step = ask->step >= 0 ? ask->step : hs_engine_step(engine);
	size_t count = 0;
	hs_buf text;
	hs_buf_init(&text);
	if (heading)
		add_shown(fields, &count, HS_STYLE_HEADING, "", heading);
	else if (screen->serial)
		add_shown(fields, &count, HS_STYLE_DIM, "unit ", screen->serial);
	if (step >= 0 && playbook->steps[step].kind != HS_STEP_BENCH)
		add_shown(fields, &count, HS_STYLE_DIM, "step ", playbook->steps[step].id);
	/* Of a run that rests, as before it is gone on with, nothing is known of the power. */
	if (hs_engine_paused(engine))
		hs_buf_str(&text, hs_power_name(HS_POWER_UNKNOWN));
	else
		hs_engine_power_words(engine, &text);
	add_shown(fields, &count, may_be_live(hs_engine_power(engine)) ? HS_STYLE_CARE : HS_STYLE_PLAIN, "power ",
	          text.data);
	hs_buf_clear(&text);
	print_open(engine, form & WITHOUT_NAMES, &text);
	add_shown(fields, &count, HS_STYLE_PLAIN, "", text.data);
	hs_buf_clear(&text);
	print_controls(engine, &text);
	if (text.length > 0)
		add_shown(fields, &count, HS_STYLE_PLAIN, "", text.data);
	if (!(form & WITHOUT_TIME) && !heading)
		print_clock(&hs_field_add(fields, &count, HS_STYLE_DIM)->text, screen->now_ms - screen->begun_ms);
	hs_buf_free(&text);
	return count;
}

static size_t status_lines(const hs_screen *screen, const hs_engine *engine, const hs_ask *ask, const char *heading,
                           int form)
{
	hs_field fields[FIELDS_MOST];
	size_t count = status_fields(screen, engine, ask, heading, form, fields);
	size_t lines = hs_fields_lines(screen, fields, count);
	hs_fields_free(fields, count);
	return lines;
}

/*
 * As few lines as it can be, mostly one, and all that they hold. Given a heading, the status stands behind it and
 * leaves out what no gate changes, so that a run of gates keeps to one screen.
 */
static void add_status(const hs_screen *screen, const hs_engine *engine, const hs_ask *ask, const char *heading,
                       hs_buf *out)
{
	hs_field fields[FIELDS_MOST];
	size_t fewest = status_lines(screen, engine, ask, heading, STATUS_FORMS - 1);
	int form = 0;
	while (form < STATUS_FORMS - 1 && status_lines(screen, engine, ask, heading, form) > fewest)
		form++;
	size_t count = status_fields(screen, engine, ask, heading, form, fields);
	hs_lines_fields(out, screen, fields, count);
	hs_fields_free(fields, count);
}

/* Words in one column, what they mean beside them; a long word just pushes its own meaning to the right. */
static size_t word_column(const hs_ask_words *words)
{
	size_t widest = 0;
	for (size_t i = 0; i < words->choice_count; i++) {
		size_t columns = hs_text_columns(words->choices[i].word);
		if (columns > widest && columns <= 16)
			widest = columns;
	}
	return widest;
}

/* A few plain words need no list: what is wanted says them. */
static bool is_plain_words(const hs_ask_words *words)
{
	for (size_t i = 0; i < words->choice_count; i++)
		if (words->choices[i].text || (!words->is_gate && hs_text_columns(words->choices[i].word) > 12))
			return false;
	return words->choice_count >= 1 && words->choice_count <= 4;
}

/* "hand (47), sight (83) or lock (62)"; a gate's single word says what the digits are for. */
static void print_plain_words(const hs_ask_words *words, hs_buf *out)
{
	char key[HS_KEY_ROOM];
	for (size_t i = 0; i < words->choice_count; i++) {
		hs_buf_str(out, i == 0 ? "" : i + 1 == words->choice_count ? " or " : ", ");
		hs_buf_str(out, words->choices[i].word);
		if (hs_keypad_key(words, i, key)) /* a keypad has no letters */
			hs_buf_printf(out, " (%s%s)", words->is_gate && words->choice_count == 1 ? "keypad " : "", key);
	}
}

static void add_choices(const hs_screen *screen, const hs_ask_words *words, hs_buf *out)
{
	char key[HS_KEY_ROOM];
	if (is_plain_words(words))
		return;
	size_t column = word_column(words);
	for (size_t i = 0; i < words->choice_count; i++) {
		const char *text = words->choices[i].text;
		hs_buf lead, safe;
		hs_buf_init(&lead);
		hs_buf_init(&safe);
		hs_buf_shown(&safe, words->choices[i].word, false);
		if (hs_keypad_key(words, i, key))
			hs_buf_printf(&lead, words->choice_count > 9 ? "%2s  " : "%s  ", key);
		hs_buf_str(&lead, safe.data);
		for (size_t at = hs_text_columns(safe.data); text && *text && at < column + 2; at++)
			hs_buf_char(&lead, ' ');
		if (text && *text && hs_text_columns(safe.data) >= column + 2)
			hs_buf_str(&lead, "  ");
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 4, lead.data, text ? text : "");
		hs_buf_free(&safe);
		hs_buf_free(&lead);
	}
}

static void add_wanted(const hs_screen *screen, const hs_ask *ask, const hs_ask_words *words, hs_buf *out)
{
	hs_buf line;
	hs_buf_init(&line);
	if (is_plain_words(words))
		print_plain_words(words, &line);
	else
		hs_buf_str(&line, words->wanted.data ? words->wanted.data : "");
	if (words->enter_ok && !strstr(line.data, "Enter"))
		hs_buf_str(&line, line.length > 0 ? " (Enter alone will do)" : "Enter");
	if (ask->earliest_ms > screen->now_ms) {
		hs_buf_str(&line, line.length > 0 ? "; not before " : "not before ");
		print_span(&line, ask->earliest_ms - screen->now_ms);
		hs_buf_str(&line, " from now");
	}
	if (line.length > 0)
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "wanted: ", line.data);
	hs_buf_free(&line);
}

static const char *text_of(const hs_buf *buf)
{
	return buf->data ? buf->data : "";
}

/* "keypad: 0=nothing; 1=whole; 2=broken" */
static void add_stock(const hs_screen *screen, const hs_ask_words *words, hs_buf *out)
{
	hs_buf line;
	hs_buf_init(&line);
	for (size_t i = 0; i < words->stock_count; i++)
		hs_buf_printf(&line, "%s%zu=%s", i == 0 ? "" : "; ", i, words->stock[i]);
	if (line.length > 0)
		hs_lines_one(out, screen, HS_STYLE_DIM, 2, "keypad: ", line.data);
	hs_buf_free(&line);
}

/* A block of its own by its indent alone, so that it costs no more lines than it has words. */
static void add_caution(const hs_screen *screen, const hs_ask_words *words, hs_buf *out)
{
	hs_buf text;
	if (words->caution.length == 0)
		return;
	hs_buf_init(&text);
	hs_buf_str(&text, "Take care: ");
	hs_buf_add(&text, words->caution.data, screen->brief && words->brief > 0 ? words->brief : words->caution.length);
	hs_lines_text(out, screen, HS_STYLE_CARE, 4, "", text.data);
	hs_buf_free(&text);
}

void hs_screen_ask(const hs_screen *screen, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words,
                   hs_buf *out)
{
	if (screen->large) {
		hs_show_large(screen, engine, ask, words, out);
		add_choices(screen, words, out);
		add_wanted(screen, ask, words, out);
		add_stock(screen, words, out);
		return;
	}
	hs_buf_char(out, '\n');
	if (words->is_gate) {
		add_status(screen, engine, ask, text_of(&words->heading), out);
	} else {
		add_status(screen, engine, ask, NULL, out);
		hs_lines_one(out, screen, HS_STYLE_HEADING, 0, "", text_of(&words->heading));
	}
	hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", text_of(&words->text));
	add_caution(screen, words, out);
	if (words->hookup.length > 0)
		hs_lines_hookup(out, screen, 4, words->hookup.data);
	if (ask->kind == HS_ASK_READ)
		add_levels(screen, engine, ask->step, ask->item, out);
	if (words->picture.length > 0)
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "you are here: ", words->picture.data);
	add_choices(screen, words, out);
	add_wanted(screen, ask, words, out);
	add_stock(screen, words, out);
}

/*
 * The line of the text that says what is wanted right now: a heading often serves several readings, gates or settings.
 */
static void print_instruction(const hs_ask *ask, const hs_ask_words *words, hs_buf *out)
{
	const char *text = text_of(&words->text);
	size_t length = strlen(text);
	while (length > 0 && text[length - 1] == '\n')
		length--;
	if (ask->kind == HS_ASK_READ) {
		size_t from = length;
		while (from > 0 && text[from - 1] != '\n')
			from--;
		hs_buf_add(out, text + from, length - from);
	} else if (words->is_gate || ask->kind == HS_ASK_SET) {
		hs_buf_add(out, text, strcspn(text, "\n"));
	}
}

void hs_screen_again(const hs_screen *screen, const hs_ask *ask, const hs_ask_words *words, hs_buf *out)
{
	hs_buf line;
	hs_buf_init(&line);
	print_instruction(ask, words, &line);
	if (words->heading.length > 0)
		hs_lines_one(out, screen, HS_STYLE_HEADING, 0, "", words->heading.data);
	hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", text_of(&line));
	add_choices(screen, words, out);
	hs_screen over = *screen; /* the prompt tells what is left of a wait */
	over.now_ms = INT64_MAX;
	add_wanted(&over, ask, words, out);
	add_stock(screen, words, out);
	hs_buf_free(&line);
}

void hs_screen_prompt(const hs_screen *screen, const hs_ask *ask, const hs_ask_words *words, hs_buf *out)
{
	if (ask->earliest_ms > screen->now_ms) {
		print_span(out, ask->earliest_ms - screen->now_ms);
		hs_buf_str(out, " to go");
	} else if (words->bare < HS_UNIT_COUNT) {
		hs_buf_str(out, hs_unit_name(words->bare));
	}
	hs_buf_str(out, "> ");
}

void hs_screen_help(const hs_screen *screen, const hs_ask_words *words, hs_buf *out)
{
	hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "",
	              words->help.length > 0 ? words->help.data : text_of(&words->text));
	if (words->wanted.length > 0)
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "Wanted here: ", words->wanted.data);
	if (words->bare < HS_UNIT_COUNT && !words->is_gate)
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "",
		              "Several readings of one step may stand on one line, with ; between them.");
	hs_buf keypad;
	hs_buf_init(&keypad);
	hs_keypad_help(words, &keypad);
	hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "On a keypad: ", keypad.data);
	hs_buf_free(&keypad);
	hs_lines_text(
	    out, screen, HS_STYLE_DIM, 2, "Always: ",
	    "why (the arithmetic of the last reading), show (what is known so far), note TEXT, redo (take back the "
	    "last "
	    "reading or observation), pause, leave (to a safe state), handover NAME (somebody else goes on), stop (smoke, smell, shock, arcing: cut the power "
	    "first, type later).");
}

void hs_screen_why(const hs_screen *screen, const hs_engine *engine, hs_buf *out)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_engine_why(engine, &text);
	hs_lines_table(out, screen, 2, text.data);
	hs_buf_free(&text);
	int item, step = hs_engine_judged(engine, &item);
	add_levels(screen, engine, step, item, out);
}

void hs_screen_overview(const hs_screen *screen, const hs_engine *engine, hs_buf *out)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_engine_overview(engine, &text);
	hs_lines_table(out, screen, 2, text.data);
	hs_buf_free(&text);
	add_levels(screen, engine, hs_engine_step(engine), -1, out);
	hs_show_chains(screen, engine, out);
	hs_screen_open_list(screen, engine, out);
}

void hs_screen_interrupted(const hs_screen *screen, hs_buf *out)
{
	hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "",
	              "Nothing was taken. To end here: pause, or leave to get to a safe state first. In danger cut the "
	              "power first, "
	              "then type stop.");
}

/* What it is now, not what kind of thing it is. */
static const char *state_words(hs_openable_kind kind)
{
	static const char *const words[HS_OPEN_KINDS] = {
	    [HS_OPEN_COVER] = "off",
	    [HS_OPEN_LINK] = "link fitted",
	    [HS_OPEN_LIFTED] = "leg lifted",
	    [HS_OPEN_SHORT] = "short fitted",
	    [HS_OPEN_PORT] = "port open",
	    [HS_OPEN_JOINT] = "joint broken",
	    [HS_OPEN_INTERLOCK] = "interlock defeated",
	    [HS_OPEN_PAD] = "pad in line",
	};
	return (unsigned)kind < HS_OPEN_KINDS ? words[kind] : hs_openable_name(kind);
}

static void add_each(const hs_screen *screen, char *shorts, const char *what, hs_buf *out)
{
	for (char *rest = shorts; rest && *rest;) {
		char *comma = strchr(rest, ',');
		if (comma)
			*comma = '\0';
		hs_lines_printf(out, screen, HS_STYLE_PLAIN, 4, "%s: %s", hs_trim(rest), what);
		rest = comma ? comma + 1 : NULL;
	}
}

/* Leads that hang on the unit, and controls that were turned and not put back. */
static void add_left_on(const hs_screen *screen, const hs_engine *engine, hs_buf *out)
{
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; hs_engine_joined(engine, i, &text); i++, hs_buf_clear(&text))
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 4, "still joined: ", text.data);
	for (int i = 0; i < hs_engine_playbook(engine)->unit.control_count; i++, hs_buf_clear(&text))
		if (hs_engine_control_left(engine, i, &text))
			hs_lines_one(out, screen, HS_STYLE_PLAIN, 4, "", text.data);
	hs_buf_free(&text);
}

void hs_screen_open_list(const hs_screen *screen, const hs_engine *engine, hs_buf *out)
{
	const hs_bench_unit *unit = &hs_engine_playbook(engine)->unit;
	uint64_t open = hs_engine_open_list(engine);
	hs_buf shorts, charges, unsafe, left;
	hs_buf_init(&shorts);
	hs_buf_init(&unsafe);
	hs_engine_barred(engine, &unsafe);
	hs_buf_init(&charges);
	hs_engine_charges(engine, &charges);
	hs_buf_init(&left);
	add_left_on(screen, engine, &left);
	if (shorts_of(engine, &shorts) > 0 || open || charges.length > 0 || unsafe.length > 0 || left.length > 0)
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", "Still to be undone:");
	for (int i = 0; i < unit->openable_count; i++) {
		if (!(open >> i & 1u))
			continue;
		hs_buf line;
		hs_buf_init(&line);
		hs_lines_named(&line, unit->openables[i].id, unit->openables[i].title);
		hs_buf_printf(&line, ": %s", state_words(unit->openables[i].kind));
		hs_lines_one(out, screen, HS_STYLE_PLAIN, 4, "", line.data);
		hs_buf_free(&line);
	}
	add_each(screen, shorts.data, "short fitted", out);
	add_each(screen, charges.data, "may hold its charge: discharge it and prove it dead before anybody reaches in", out);
	add_each(screen, unsafe.data, "found unsafe: left as it is, others kept away, until somebody qualified for it comes", out);
	hs_buf_free(&charges);
	hs_buf_free(&unsafe);
	if (left.length > 0)
		hs_buf_str(out, left.data);
	hs_buf_free(&left);
	hs_buf_free(&shorts);
}

void hs_screen_left(const hs_screen *screen, const hs_engine *engine, hs_buf *out)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_engine_power_words(engine, &text);
	if (hs_engine_left_on(engine))
		hs_lines_printf(out, screen, HS_STYLE_CARE, 2, "The unit %s on: switch it off before you go.",
		                hs_engine_power(engine) == HS_POWER_UNKNOWN ? "may still be" : "is still");
	hs_lines_one(out, screen, may_be_live(hs_engine_power(engine)) ? HS_STYLE_CARE : HS_STYLE_PLAIN, 2,
	             "power: ", text.data);
	size_t before = out->length;
	hs_screen_open_list(screen, engine, out);
	if (out->length == before)
		hs_lines_text(out, screen, HS_STYLE_PLAIN, 2, "", "Nothing is on the open list.");
	hs_buf_free(&text);
}

void hs_screen_redo(const hs_screen *screen, const hs_engine *engine, const hs_ask *target, const char *text,
                    hs_buf *out)
{
	hs_buf line;
	hs_buf_init(&line);
	hs_engine_ask_id(engine, target, &line);
	hs_buf_printf(&line, ": %.*s; type redo again", (int)strcspn(text, "\n"), text);
	hs_lines_one(out, screen, HS_STYLE_PLAIN, 2, "this takes back ", line.data);
	hs_buf_free(&line);
}
