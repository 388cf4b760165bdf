#include "halfsplit/model/problem.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void hs_problems_free(hs_problems *problems)
{
	free(problems->items);
	*problems = (hs_problems){0};
}

hs_problem *hs_problem_add(hs_problems *problems, hs_severity severity, hs_where where, const char *format, ...)
{
	problems->items = hs_grow(problems->items, &problems->room, problems->count + 1, sizeof *problems->items);
	hs_problem *problem = &problems->items[problems->count++];
	*problem = (hs_problem){.severity = severity};
	char message[sizeof problem->what.message];
	va_list args;
	va_start(args, format);
	if (vsnprintf(message, sizeof message, format, args) < 0)
		hs_copy(message, sizeof message, format);
	va_end(args);
	hs_fail(&problem->what, HS_BAD_INPUT, "%s", message);
	hs_fail_at(&problem->what, where.file, where.line);
	if (severity == HS_ERROR)
		problems->errors++;
	return problem;
}

void hs_problem_hint(hs_problem *problem, const char *format, ...)
{
	char hint[sizeof problem->what.hint];
	va_list args;
	va_start(args, format);
	if (vsnprintf(hint, sizeof hint, format, args) < 0)
		hs_copy(hint, sizeof hint, format);
	va_end(args);
	hs_fail_hint(&problem->what, "%s", hint);
}

static int compare(const void *left, const void *right)
{
	const hs_problem *a = left, *b = right;
	int order = strcmp(a->what.file, b->what.file);
	if (order)
		return order;
	if (a->what.line != b->what.line)
		return a->what.line < b->what.line ? -1 : 1;
	if (a->severity != b->severity)
		return a->severity == HS_ERROR ? -1 : 1;
	order = strcmp(a->what.message, b->what.message);
	return order ? order : strcmp(a->what.hint, b->what.hint);
}

void hs_problems_sort(hs_problems *problems)
{
	if (problems->count < 2)
		return;
	qsort(problems->items, problems->count, sizeof *problems->items, compare);
	size_t kept = 1;
	for (size_t i = 1; i < problems->count; i++) {
		if (compare(&problems->items[kept - 1], &problems->items[i]) != 0)
			problems->items[kept++] = problems->items[i];
		else if (problems->items[i].severity == HS_ERROR)
			problems->errors--;
	}
	problems->count = kept;
}

bool hs_problems_clean(const hs_problems *problems, hs_error *error)
{
	for (size_t i = 0; i < problems->count; i++)
		if (problems->items[i].severity == HS_ERROR) {
			if (error)
				*error = problems->items[i].what;
			return false;
		}
	return true;
}
