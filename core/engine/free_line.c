/* A line that names a reading or an injection: its clauses, in any order. */
#include "core/engine/free.h"

#include <stdlib.h>
#include <string.h>

#define WORDS_MOST 40

typedef struct hs_words {
	hs_engine *engine;
	char *words[WORDS_MOST];
	size_t count, at;
	hs_clauses *out;
	bool inject;
	hs_buf *why;
} hs_words;

static const char *word_at(const hs_words *line, size_t index)
{
	return index < line->count ? line->words[index] : "";
}

bool hs_free_begins_clause(const char *word)
{
	static const char *const words[] = {"at", "@", "by", "via", "against", "with", "into", "outside", "loose", "new"};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (hs_same_word(word, words[i]))
			return true;
	return false;
}

/* The words from `at` on, so many of them, with single spaces. */
static const char *together(const hs_words *line, size_t at, size_t count)
{
	hs_buf text;
	hs_buf_init(&text);
	for (size_t i = 0; i < count; i++)
		hs_buf_printf(&text, "%s%s", i > 0 ? " " : "", word_at(line, at + i));
	const char *kept = hs_arena_str(line->engine->turn, text.data);
	hs_buf_free(&text);
	return kept;
}

/* A quantity in one word or two ("145MHz", "145 MHz"); 0 words when there is none of a kind that fits. */
static size_t quantity_at(const hs_words *line, size_t at, hs_quantity *out)
{
	for (size_t count = 2; count > 0; count--)
		if (at + count <= line->count && hs_quantity_read(together(line, at, count), HS_UNIT_COUNT, out, NULL))
			return count;
	return 0;
}

static const char *measurand_word(const char *typed)
{
	static const struct { const char *said, *name; } words[] = {
		{"voltage", "volts"}, {"volt", "volts"}, {"vdc", "volts"}, {"vac", "ac volts"}, {"current", "amps"}, {"resistance", "ohms"}, {"ohm", "ohms"},
		{"level", "power"}, {"freq", "frequency"}, {"temp", "temperature"}, {"cap", "capacitance"},
	};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (hs_same_word(typed, words[i].said))
			return words[i].name;
	return typed;
}

/* Kinds that want more than a line can say are left to playbooks. */
static bool offered(hs_measurand reads)
{
	return reads < HS_READS_RATE && reads != HS_READS_COUNT_OF;
}

static size_t measurand_at(const hs_words *line, hs_measurand *out)
{
	if (line->at + 2 <= line->count && hs_measurand_find(together(line, line->at, 2), out) && offered(*out))
		return 2;
	return hs_measurand_find(measurand_word(word_at(line, line->at)), out) && offered(*out) ? 1 : 0;
}

bool hs_free_is_measurand(const char *word)
{
	static const char *const firsts[] = {"ac", "return", "noise", "duty", "peak"};
	hs_measurand reads;
	for (size_t i = 0; i < sizeof firsts / sizeof *firsts; i++)
		if (hs_same_word(word, firsts[i]))
			return true;
	return hs_measurand_find(measurand_word(word), &reads) && offered(reads);
}

static bool refuse(hs_words *line, const char *sentence, const char *word)
{
	hs_buf_printf(line->why, sentence, word, word);
	return false;
}

/* What else it could be: the hookups first, as many as a line or two hold. */
static void list_hookups(hs_words *line)
{
	const hs_kit *kit = line->engine->free->kit;
	size_t shown = 0;
	hs_buf_str(line->why, "; it knows ");
	for (size_t i = 0; i < kit->hookup_count; i++) {
		if (hs_hookup_is_bare(kit->hookups[i]) || shown == 12)
			continue;
		hs_buf_printf(line->why, "%s%s", shown++ > 0 ? ", " : "", kit->hookups[i]->id);
	}
	hs_buf_printf(line->why, "%sthe instruments by their names, and eye; show kit lists them.", shown > 0 ? ", " : "");
}

/* The longest name the kit knows from here on. */
static bool take_hookup(hs_words *line)
{
	hs_clauses *out = line->out;
	const hs_kit *kit = line->engine->free->kit;
	if (hs_same_word(word_at(line, line->at), "eye")) {
		out->has_hookup = out->by_eye = true;
		line->at++;
		return true;
	}
	for (size_t count = line->count - line->at; count > 0 && kit != NULL; count--) {
		const char *name = together(line, line->at, count);
		const hs_hookup *found = hs_kit_hookup(kit, name);
		if (found == NULL)
			continue;
		out->has_hookup = true;
		out->hookup = found;
		out->hookup_name = hs_arena_str(line->engine->arena, name);
		line->at += count;
		return true;
	}
	size_t last = line->at;
	while (last < line->count && !hs_free_begins_clause(word_at(line, last)))
		last++;
	const char *name = together(line, line->at, last - line->at);
	hs_buf_printf(line->why, "The kit has no hookup \"%.60s\"", name);
	size_t known_count = 0;
	const char **known = kit != NULL ? hs_kit_hookup_names(kit, &known_count) : NULL;
	const char *near = hs_nearest(name, known, known_count);
	if (kit == NULL)
		hs_buf_str(line->why, ", because this run has no kit; begin it with --kit FILE, or read by eye.");
	else if (near != NULL)
		hs_buf_printf(line->why, "; did you mean %s?", near);
	else
		list_hookups(line);
	free(known);
	return false;
}

/* Covers and joints are named as open, changes as in place. */
static bool take_with(hs_words *line)
{
	const hs_bench_unit *unit = &line->engine->free->book.unit;
	line->out->has_with = true;
	if (hs_same_word(word_at(line, line->at), "nothing")) {
		line->at++;
		return true;
	}
	size_t before = line->at;
	while (line->at < line->count && !hs_free_begins_clause(word_at(line, line->at))) {
		int found = -1;
		size_t count = 3;
		for (; count > 0 && found < 0; count--)
			if (line->at + count <= line->count)
				found = hs_free_openable(line->engine, together(line, line->at, count));
		if (found < 0 && hs_same_word(word_at(line, line->at), "and"))
			count = 0;
		else if (found < 0)
			return refuse(line, "Nothing called \"%.40s\" can be off or in place here.", word_at(line, line->at));
		if (found >= 0) {
			bool opens = unit->openables[found].kind == HS_OPEN_COVER || unit->openables[found].kind == HS_OPEN_JOINT;
			*(opens ? &line->out->open : &line->out->with) |= UINT64_C(1) << found;
		}
		line->at += count + 1;
	}
	return line->at > before || refuse(line, "What is off or in place is named behind with: with top-cover.%.0s", "");
}

/* "RF OUT" for the point RF-OUT: how many words name it, when more than one do. */
static size_t known_point_at(const hs_words *line, const char **to)
{
	for (size_t count = 3; count > 1; count--) {
		char id[64];
		if (line->at + count > line->count || !hs_free_slug(together(line, line->at, count), id))
			continue;
		if (!hs_free_knows_point(line->engine, id))
			continue;
		*to = hs_arena_str(line->engine->arena, id);
		return count;
	}
	return 0;
}

static bool take_point(hs_words *line, const char **to, const char *what)
{
	const char *word = word_at(line, line->at);
	if (hs_same_word(word, "new")) {
		line->out->fresh = true;
		word = word_at(line, ++line->at);
		what = "new";
	}
	if (*word == '\0')
		return refuse(line, "A point is missing behind \"%s\".", what);
	if (*to != NULL) {
		hs_buf_printf(line->why, "\"%.40s\" was not understood, because the point is %s already; help shows how an act is written.", word, *to);
		return false;
	}
	hs_quantity figure;
	if (hs_quantity_read(word, HS_UNITLESS, &figure, NULL))
		return refuse(line, "\"%.40s\" is a figure, and what is read is named before its figure is typed: read power at TP2, or a point alone.", word);
	if (!hs_is_id(word))
		return refuse(line, "\"%.40s\" cannot be the name of a point; use letters and digits as printed on the unit, such as TP3.", word);
	size_t words = known_point_at(line, to);
	if (words == 0)
		*to = hs_arena_str(line->engine->arena, word);
	line->at += words > 0 ? words : 1;
	return true;
}

/* "at 145 MHz" or "at TP2". */
static bool take_at(hs_words *line)
{
	hs_quantity figure;
	size_t used = quantity_at(line, line->at, &figure);
	if (used == 0 || figure.unit != HS_HERTZ) {
		line->out->placed = true;
		return take_point(line, &line->out->point, "at");
	}
	if (!(figure.value > 0.0))
		return refuse(line, "A frequency is above 0 Hz.%.0s", "");
	line->out->has_freq = true;
	line->out->freq_hz = figure.value;
	line->at += used;
	return true;
}

static bool take_clause(hs_words *line)
{
	const char *word = word_at(line, line->at);
	hs_clauses *out = line->out;
	line->at++;
	if (hs_same_word(word, "at") || hs_same_word(word, "@"))
		return take_at(line);
	if (hs_same_word(word, "by") || hs_same_word(word, "via"))
		return take_hookup(line);
	if (hs_same_word(word, "against"))
		return take_point(line, &out->against, "against");
	out->placed = out->placed || hs_same_word(word, "into");
	if (hs_same_word(word, "into"))
		return take_point(line, &out->point, "into");
	if (hs_same_word(word, "with"))
		return take_with(line);
	out->outside = out->outside || hs_same_word(word, "outside");
	out->loose = out->loose || hs_same_word(word, "loose");
	out->fresh = out->fresh || hs_same_word(word, "new");
	return true;
}

static bool take_bare(hs_words *line)
{
	hs_clauses *out = line->out;
	hs_quantity figure;
	size_t used = quantity_at(line, line->at, &figure);
	if (used > 0 && figure.unit == HS_HERTZ && figure.value > 0.0) {
		out->has_freq = true;
		out->freq_hz = figure.value;
	} else if (used > 0 && line->inject && !out->has_level) {
		out->has_level = true;
		out->level = figure;
	} else {
		used = line->inject || out->has_reads ? 0 : measurand_at(line, &out->reads);
		out->has_reads = out->has_reads || used > 0;
	}
	line->at += used;
	return used > 0 || take_point(line, &out->point, "at");
}

static bool split_words(hs_words *line, char *text)
{
	char *rest = NULL;
	for (char *word = strtok_r(text, " \t", &rest); word != NULL; word = strtok_r(NULL, " \t", &rest)) {
		if (line->count == WORDS_MOST)
			return refuse(line, "That line is too long for one act; say it in fewer words.%.0s", "");
		line->words[line->count++] = word;
	}
	return true;
}

/* Whether the whole text is limits, in whatever unit. */
static bool all_limits(const char *text)
{
	hs_quantity first;
	const char *figure = text + strcspn(text, "+-.0123456789");
	hs_unit unit = hs_quantity_scan(figure, HS_UNIT_COUNT, &first, NULL, &(size_t){0}, NULL) ? first.unit : HS_UNITLESS;
	hs_limits limits;
	return hs_limits_read(text, unit, &limits, NULL);
}

/* Limits without a comma before them: where they begin, or NULL. Only what can be nothing but limits counts. */
static char *limits_in(char *text)
{
	bool begins = strstr(text, "+/-") != NULL || strstr(text, "..") != NULL || strstr(text, "at least ") != NULL || strstr(text, "at most ") != NULL;
	if (!begins)
		return NULL;
	for (char *at = text + strspn(text, " \t"); *at != '\0'; at += strcspn(at, " \t"), at += strspn(at, " \t"))
		if (all_limits(at))
			return at;
	return NULL;
}

/* What stands behind "because" is a reason in free words; what stands behind the first comma are limits. */
static void cut_tails(hs_engine *engine, char *text, bool inject, hs_clauses *out)
{
	char *because = strstr(text, " because ");
	if (because != NULL) {
		out->because = hs_arena_str(engine->arena, hs_trim(because + strlen(" because ")));
		*because = '\0';
	}
	char *comma = strchr(text, ',');
	char *limits = comma != NULL ? comma : inject || engine->free->old ? NULL : limits_in(text);
	if (limits == NULL)
		return;
	out->limits = hs_arena_str(engine->arena, hs_trim(hs_arena_str(engine->turn, limits + (comma != NULL))));
	*limits = '\0';
}

bool hs_free_clauses(hs_engine *engine, const char *text, bool inject, hs_clauses *out, hs_buf *why)
{
	*out = (hs_clauses){0};
	char *copy = hs_arena_str(engine->turn, text);
	cut_tails(engine, copy, inject, out);
	hs_words line = {.engine = engine, .out = out, .inject = inject, .why = why};
	if (!split_words(&line, copy))
		return false;
	while (line.at < line.count)
		if (!(hs_free_begins_clause(word_at(&line, line.at)) ? take_clause(&line) : take_bare(&line)))
			return false;
	return true;
}
