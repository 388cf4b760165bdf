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

void hs_problem_because(hs_problem *problem, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	if (vsnprintf(problem->because, sizeof problem->because, format, args) < 0)
		problem->because[0] = '\0';
	va_end(args);
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

static bool same_cause(const hs_problem *a, const hs_problem *b)
{
	return a->because[0] && a->severity == b->severity && strcmp(a->because, b->because) == 0;
}

/* "HINT; and 7 more because of this, on the lines 12, 34, 56, ..." */
static void tell_more(hs_problem *kept, const hs_problem *items, size_t count, size_t more)
{
	enum { LINES_TOLD = 8 };
	hs_buf hint;
	size_t told = 0;
	int last = 0;
	hs_buf_init(&hint);
	hs_buf_printf(&hint, "%s%sand %zu more because of this, on the lines", kept->what.hint, kept->what.hint[0] ? "; " : "", more);
	for (size_t i = 0; i < count; i++)
		if (same_cause(kept, &items[i]) && items[i].what.line != last) {
			last = items[i].what.line;
			if (told++ < LINES_TOLD)
				hs_buf_printf(&hint, "%s %d", told > 1 ? "," : "", last);
		}
	if (told > LINES_TOLD)
		hs_buf_str(&hint, ", ...");
	hs_copy(kept->what.hint, sizeof kept->what.hint, hint.data);
	hs_buf_free(&hint);
}

static void fold_causes(hs_problems *problems)
{
	enum { FEW = 3 };
	for (size_t i = 0; i < problems->count; i++) {
		hs_problem *first = &problems->items[i];
		size_t more = 0, kept = i + 1;
		for (size_t j = i + 1; j < problems->count; j++)
			more += same_cause(first, &problems->items[j]);
		if (more < FEW)
			continue;
		tell_more(first, first + 1, problems->count - i - 1, more);
		for (size_t j = i + 1; j < problems->count; j++)
			if (!same_cause(first, &problems->items[j]))
				problems->items[kept++] = problems->items[j];
		if (first->severity == HS_ERROR)
			problems->errors -= more;
		problems->count = kept;
		first->because[0] = '\0';
	}
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
	fold_causes(problems);
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
