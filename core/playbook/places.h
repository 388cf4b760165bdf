/*
 * Where a key stands in a Lua source.
 *
 * Lua tells a builder only the line its call began on. A table handed to the builder spans many lines, so to name the
 * line of one wrong key the source is read a second time, as tokens, and the table constructor of that call is walked.
 * Works on any text whatever, also on text that is not Lua: it then falls back to the line given. No Lua is needed.
 */
#ifndef HALFSPLIT_CORE_PLAYBOOK_PLACES_H
#define HALFSPLIT_CORE_PLAYBOOK_PLACES_H

#include <stdbool.h>
#include <stddef.h>

typedef struct hs_places hs_places;

hs_places *hs_places_new(const char *text); /* which stays as it is as long; free with hs_places_free */
void hs_places_free(hs_places *places);     /* accepts NULL */

/*
 * The line of a key of the call that starts on call_line: `callee "id" { … }`, `callee { … }`, `callee("id", { …
 * })` or `callee("id") { … }`. When several calls start on that line, `callee` and `id` (either may be NULL)
 * choose; id is the string argument or, without one, the first positional value of the table. A call that fits only
 * in part is taken when none fits better.
 *
 * `path` names keys from the outside in: "read.hookup", "[2].at", "parts.top-cover.after", "fixings". Positions
 * count from 1. NULL or "" asks for the call itself. Comes back: the line of the key (`name =`, `["name"] =`, `[2]
 * =`) or of the positional value; else that of the longest part of the path that was found; else call_line.
 */
int hs_places_find(const hs_places *places, int call_line, const char *callee, const char *id, const char *path);

/* The same, and whether all of the path was found: false also when the call has no table of its own, as in step(id)(t). */
int hs_places_reach(const hs_places *places, int call_line, const char *callee, const char *id, const char *path,
                    bool *whole);

/* The line of the only text "TEXT", or of the only `TEXT =`, in the whole file; 0 when there is none, or more than one. */
int hs_places_only(const hs_places *places, const char *text, bool key);

/* What a function says of its first two parameters, the values and their outcomes, and what text it gives back as it stands. */
typedef enum hs_said {
	HS_SAID_TAKEN,   /* NAME, of v.NAME or v["NAME"] */
	HS_SAID_OUTCOME, /* TEXT, of outcome.NAME == "TEXT" or ~= */
	HS_SAID_RETURNED /* TEXT, of return "TEXT", and of return x and "TEXT" or "TEXT" */
} hs_said;
typedef void hs_said_visit(void *context, hs_said said, const char *text, int line);

/*
 * Visits what the function says that begins and ends on these lines. Nothing when it is not the only one there, or when
 * a parameter's name is given away again inside it: then one cannot be sure.
 */
void hs_places_said(const hs_places *places, int first, int last, hs_said_visit *visit, void *context);

/* Line `line` (from 1), trimmed, cut to room; false and "" when there is no such line. */
bool hs_places_line_text(const hs_places *places, int line, char *out, size_t room);

#endif
