/* What is said to a word that is no act, and to an act where something else was asked. */
#include "core/engine/free.h"

#include <string.h>
#include <strings.h>

/* Words that are used for something else here; what they are for stands behind the semicolon. */
static const struct { const char *word, *instead; } others[] = {
	{"end", "the search ends with find q3: what proves it; pause stops for now"},
	{"abort", "redo takes back the last act; in danger cut the power, then type stop"},
	{"delete", "redo takes back the last act or reading"},
	{"measure", "say read: read volts at TP1 by prods"},
	{"check", "say read: read volts at TP1 by prods"},
	{"meas", "say read: read volts at TP1 by prods"},
	{"inject", "say put: put -30 dBm into J1 by source lead at 145 MHz"},
	{"feed", "say put: put -30 dBm into J1 by source lead at 145 MHz"},
	{"look", "what was seen is said with saw: saw R5 burnt"},
	{"see", "what was seen is said with saw: saw R5 burnt"},
	{"remove", "covers are opened: open top cover; other work is said with do: do lift R5"},
	{"solder", "work is said with do: do resolder L9"},
	{"found", "say find: find q3: no drain current"},
	{"switch", "say power on, off, standby, keyed or dead"},
	{"on", "say power on"},
	{"off", "say power off"},
	{"list", "show lists what is known, show kit the hookups, help the acts"},
	{"kit", "show kit lists the hookups and instruments"},
};

/* What to say instead of this word, when it is used for something else here; NULL. */
static const char *instead_of(const char *word)
{
	for (size_t i = 0; i < sizeof others / sizeof *others; i++)
		if (hs_same_word(word, others[i].word))
			return others[i].instead;
	switch (hs_wish_of(word)) {
	case HS_WISH_GO: return "to stop for now type pause, or leave to get to a safe state first";
	case HS_WISH_BACK: return "redo takes back the last act or reading";
	case HS_WISH_NONE: break;
	}
	return NULL;
}

/* The act, or the word that works at every prompt, of which this is a slip; NULL. */
static const char *near_act(const char *word)
{
	static const char *const words[] = {"help", "why", "show", "note", "redo", "pause", "leave", "stop", "large"};
	const char *known[64];
	size_t count = 0;
	for (const char *act; (act = hs_free_act_word(count)) != NULL;)
		known[count++] = act;
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		known[count++] = words[i];
	return strlen(word) > 2 ? hs_nearest(word, known, count) : NULL;
}

/* Nothing stands behind the word but parts of a reading: more words say that it was to be an act. */
static bool stands_alone(const char *rest)
{
	char head[16];
	hs_copy(head, strcspn(rest, " \t") + 1 < sizeof head ? strcspn(rest, " \t") + 1 : sizeof head, rest);
	return *rest == '\0' || *rest == ',' || hs_free_begins_clause(head);
}

/* What a gate or a step asks for, typed when none asks. */
static bool confirms(const char *word)
{
	static const char *const words[] = {"done", "yes", "no", "ok", "told", "counted", "out", "in", "unkeyed", "waited", "held", "hand", "sight", "lock"};
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (hs_same_word(word, words[i]))
			return true;
	return false;
}

bool hs_free_unknown_word(const char *word, const char *rest, hs_buf *why)
{
	if (confirms(word)) {
		hs_buf_printf(why, "\"%.40s\" confirms something, and nothing waits for that now; name the next act, or type help.", word);
		return false;
	}
	const char *instead = instead_of(word), *near = instead == NULL ? near_act(word) : NULL;
	bool place = stands_alone(rest) && hs_is_id(word);
	hs_buf_printf(why, "\"%.40s\" is no act%s", word, place ? ", and no point yet" : "");
	if (instead != NULL)
		hs_buf_printf(why, "; %s", instead);
	else if (near != NULL)
		hs_buf_printf(why, "; did you mean %s?", near);
	if (place)
		hs_buf_printf(why, "%s a new point inside is named with new: new %s.", near ? " Otherwise" : ";", word);
	else if (near == NULL)
		hs_buf_str(why, instead != NULL ? "." : "; help lists the acts.");
	return false;
}

bool hs_free_act_meant(const char *word, const char *rest)
{
	return !stands_alone(rest) || instead_of(word) != NULL || near_act(word) != NULL;
}

bool hs_free_no_tester(const hs_engine *engine, const char *text, hs_buf *why)
{
	hs_quantity figure;
	if (engine->free == NULL || engine->free->old || engine->quiet)
		return false;
	if (hs_quantity_read(text, HS_UNITLESS, &figure, NULL) && text[strspn(text, "0123456789")] != '\0') {
		hs_buf_printf(why, "\"%.40s\" is a reading, and which tester it is was asked: its name, or the number on it.", text);
		return true;
	}
	size_t length = strcspn(text, " ");
	const char *rest = text + length + strspn(text + length, " ");
	const char *act;
	for (size_t i = 0; strchr(rest, ' ') != NULL && (act = hs_free_act_word(i)) != NULL; i++) {
		if (strlen(act) != length || strncasecmp(act, text, length) != 0)
			continue;
		hs_buf_printf(why, "\"%.40s\" is an act, and those come when this gate is passed; which tester it is was asked: its name or number.", text);
		return true;
	}
	return false;
}
