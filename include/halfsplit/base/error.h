/*
 * Errors as values.
 *
 * A function that can fail returns bool (or a pointer) and takes an hs_error last. On success the error is
 * untouched; on failure it is filled and false (or NULL) comes back. An error is one plain sentence saying what
 * was found, where, and what was wanted; the hint says what to do about it. It is rendered in one place,
 * hs_error_render. Out of memory is not an error value: hs_alloc ends the process (see alloc.h), because
 * everything acknowledged is already on disk.
 */
#ifndef HALFSPLIT_BASE_ERROR_H
#define HALFSPLIT_BASE_ERROR_H

#include <stdbool.h>
#include <stdarg.h>

struct hs_buf;

typedef enum hs_code {
	HS_FINE = 0,
	HS_BAD_INPUT, /* the request or its input is wrong: exit status 2 */
	HS_IO,        /* input or output failed: exit status 3 */
	HS_REFUSED,   /* a safety rule or a wait refuses it now; asked again */
	HS_BUDGET     /* a playbook used up its instructions or memory: exit status 2 */
} hs_code;

typedef struct hs_error {
	hs_code code;
	int line;          /* line in file, from 1; 0 when no line applies */
	char file[256];    /* "" when no file applies */
	char message[512]; /* one sentence, no newline */
	char hint[256];    /* what to do, or "" */
	char quote[200];   /* the offending source line, trimmed, or "" */
} hs_error;

/* Fills *error (ignored when NULL) and returns false, so that a caller can write `return hs_fail(...)`. */
bool hs_fail(hs_error *error, hs_code code, const char *format, ...) __attribute__((format(printf, 3, 4)));

/* Adds where it happened, and what to do, to an error just filled. Both return false like hs_fail. */
bool hs_fail_at(hs_error *error, const char *file, int line);
bool hs_fail_hint(hs_error *error, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* "FILE:LINE: message", then the quoted line and the hint on lines of their own; everything shown is escaped. */
void hs_error_render(const hs_error *error, struct hs_buf *out);

/* The process exit status that belongs to a code: 0, 2 or 3. */
int hs_code_exit(hs_code code);

#endif
