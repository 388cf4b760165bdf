/* Shared by the files that make lines; not for anybody else. */
#ifndef HALFSPLIT_CORE_RECORD_RENDERING_H
#define HALFSPLIT_CORE_RECORD_RENDERING_H

#include "halfsplit/record/transcript.h"

/* A line being written: its buffer inside the list, and the writer over it. */
typedef struct hs_line {
	hs_buf *out;
	hs_json_writer writer;
} hs_line;

void hs_line_begin(hs_line *line, hs_lines *lines, const char *kind, const char *event, const char *utc,
                   int64_t mono_ms);
void hs_line_end(hs_line *line);

void hs_put_digits(hs_json_writer *writer, const char *key, double value); /* null when it is not finite */
void hs_put_openables(hs_json_writer *writer, const char *key, const hs_playbook *playbook, uint64_t set);

/* The line of one derived fact; nothing for those that the event's own line holds. */
void hs_lines_fact(hs_lines *lines, const hs_engine *engine, const hs_fact *fact, const char *utc, int64_t mono_ms);

/* The members of a line, as hs_lines renders them: what stands between prev and hash. */
bool hs_line_members(const hs_chain_line *line, const char **members, size_t *length);

/* ---- forms.c: what this program can have written ---- */

bool hs_form_utc(const char *text); /* "2026-01-01T09:00:00.000Z", a day of the calendar; NULL is none */
bool hs_form_hex(const char *text, size_t digits); /* so many digits, lower case; NULL is none */
bool hs_form_plain(const char *text);              /* no control characters */
/* A whole number that a double holds exactly; false when the member is none. */
bool hs_form_whole(const hs_json *object, const char *key, long long *out);
/* A line with a member "repair": the program's own, of this place, and nothing more in it. */
bool hs_form_repair(const hs_chain_line *line);

#endif
