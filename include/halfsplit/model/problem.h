/*
 * What is wrong with a playbook or a kit: a list, so that one look finds everything. Each problem names file and line of the
 * playbook, what was found, and what to do. Errors stop a run before it starts; warnings do not.
 */
#ifndef HALFSPLIT_MODEL_PROBLEM_H
#define HALFSPLIT_MODEL_PROBLEM_H

#include "halfsplit/base/alloc.h"
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

typedef struct hs_where {
	const char *file; /* NULL when unknown; lives as long as the arena of what it belongs to */
	int line;
} hs_where;

typedef enum hs_severity { HS_WARNING, HS_ERROR } hs_severity;

typedef struct hs_problem {
	hs_severity severity;
	hs_error what; /* file, line, message, hint; quote is filled when the source text is known */
	char because[72]; /* what one cause is called, "" for none: of many problems with one cause the first is shown */
} hs_problem;

typedef struct hs_problems {
	hs_problem *items;
	size_t count, room;
	size_t errors;
} hs_problems;

void hs_problems_free(hs_problems *problems);
/* Returns the problem so that a hint can follow; the pointer is good until the next add. */
hs_problem *hs_problem_add(hs_problems *problems, hs_severity severity, hs_where where, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
void hs_problem_hint(hs_problem *problem, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* The problem has this cause, as others may have too: "the pad P30". */
void hs_problem_because(hs_problem *problem, const char *format, ...) __attribute__((format(printf, 2, 3)));
/*
 * By file, then line, errors before warnings; equal ones are merged, and of four or more with one cause only the first stays, its hint saying how
 * many more there are and on which lines.
 */
void hs_problems_sort(hs_problems *problems);
/* Fills *error from the first error and returns false; returns true when there is none. */
bool hs_problems_clean(const hs_problems *problems, hs_error *error);

#endif
