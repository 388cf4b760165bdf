/* Several readings typed on one line. */
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/number.h"
#include "terminal_inside.h"

static bool is_unread(const char *line)
{
	hs_entry entry;
	return hs_entry_read(line, HS_UNITLESS, &entry, NULL) && entry.kind == HS_ENTRY_UNREAD;
}

/* True when the line is two bare numbers or more; then the spaces between them become ';'. */
static bool join_numbers(char *line)
{
	size_t numbers = 0;
	char *copy = hs_strdup(line), *rest = NULL;
	bool bare = true;
	for (char *word = strtok_r(copy, " \t", &rest); word && bare; word = strtok_r(NULL, " \t", &rest)) {
		double value;
		bare = hs_number_read(word, &value);
		numbers++;
	}
	free(copy);
	if (!bare || numbers < 2)
		return false;
	size_t to = 0;
	for (size_t from = 0; line[from]; from++) {
		bool space = line[from] == ' ' || line[from] == '\t';
		if (!space)
			line[to++] = line[from];
		else if (to > 0 && line[to - 1] != ';')
			line[to++] = ';';
	}
	line[to] = '\0';
	return true;
}

static size_t pieces(const char *line)
{
	size_t count = 1;
	for (; *line; line++)
		count += *line == ';';
	return count;
}

void hs_terminal_split(const hs_engine *engine, const hs_ask *ask, hs_buf *line, hs_buf *more)
{
	if (ask->kind != HS_ASK_READ || ask->step < 0 || ask->item < 0)
		return;
	const hs_step *step = &hs_engine_playbook(engine)->steps[ask->step];
	size_t left = step->reading_count > (size_t)ask->item ? step->reading_count - (size_t)ask->item : 0;
	if (left < 2 || is_unread(line->data))
		return;
	char *text = hs_strdup(line->data);
	char *begin = hs_trim(text);
	if ((strchr(begin, ';') || join_numbers(begin)) && pieces(begin) <= left) {
		char *first = strchr(begin, ';');
		*first = '\0';
		hs_buf_clear(more);
		hs_buf_str(more, first + 1);
		hs_buf_clear(line);
		hs_buf_str(line, hs_trim(begin));
	}
	free(text);
}

void hs_terminal_take_more(hs_buf *more, hs_buf *line)
{
	char *text = hs_strdup(more->data);
	char *first = text, *rest = strchr(text, ';');
	if (rest)
		*rest++ = '\0';
	hs_buf_clear(line);
	hs_buf_str(line, hs_trim(first));
	hs_buf_clear(more);
	if (rest)
		hs_buf_str(more, rest);
	free(text);
}
