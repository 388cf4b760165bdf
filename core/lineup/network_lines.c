/* Lines of a Touchstone file: what kind each is, and the numbers of the data lines. */
#include <string.h>
#include "network_parts.h"

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\v' || c == '\f';
}

static bool ends_line(char c)
{
	return c == '\n' || c == '\r';
}

static const char *line_stop(const char *at, const char *end)
{
	while (at < end && !ends_line(*at))
		at++;
	return at;
}

/* Behind the end of the line at `stop`: CR, LF or CRLF. */
static const char *next_line(const char *stop, const char *end)
{
	if (stop == end)
		return end;
	return stop + 1 < end && stop[0] == '\r' && stop[1] == '\n' ? stop + 2 : stop + 1;
}

char *hs_net_word(char **at)
{
	char *word = *at;
	while (is_blank(*word))
		word++;
	if (*word == '\0')
		return NULL;
	char *stop = word;
	while (*stop && !is_blank(*stop))
		stop++;
	*at = *stop ? stop + 1 : stop;
	*stop = '\0';
	return word;
}

static void take_text(network_reader *r, const char *at, const char *stop)
{
	const char *comment = memchr(at, '!', (size_t)(stop - at));
	hs_buf_clear(&r->text);
	hs_buf_add(&r->text, at, (size_t)((comment ? comment : stop) - at));
}

static bool refuse_word(network_reader *r, const char *at, const char *end)
{
	const char *stop = at;
	while (stop < end && !is_blank(*stop) && !ends_line(*stop) && *stop != '!' && *stop != '\0')
		stop++;
	if (stop < end && *stop == '\0')
		return hs_net_refuse(r, "the line holds a NUL byte");
	int shown = stop - at > 40 ? 40 : (int)(stop - at);
	return hs_net_refuse(r, "\"%.*s\" is not a number", shown, at);
}

/* The numbers of one line, appended to what is held; returns where the line stops, or NULL. */
static const char *take_numbers(network_reader *r, const char *at, const char *end)
{
	hs_network *net = r->net;
	for (;;) {
		while (at < end && is_blank(*at))
			at++;
		if (at == end || ends_line(*at))
			return at;
		if (*at == '!')
			return line_stop(at, end);
		double value;
		const char *next = hs_net_number(at, end, &value);
		if (!next || (next < end && !is_blank(*next) && !ends_line(*next) && *next != '!')) {
			refuse_word(r, at, end);
			return NULL;
		}
		if (r->held == r->room)
			net->numbers = hs_grow(net->numbers, &r->room, r->held + 1, sizeof(*net->numbers));
		net->numbers[r->held++] = value;
		at = next;
	}
}

static bool special_line(network_reader *r, const char *at, const char *stop)
{
	take_text(r, at, stop);
	if (strlen(r->text.data) != r->text.length)
		return hs_net_refuse(r, "the line holds a NUL byte");
	bool first = !r->first_seen;
	r->first_seen = true;
	if (*at == '[') {
		if (r->net->version < 20 && !first && r->place != IN_INFORMATION) {
			hs_net_refuse(r, "a keyword stands in a file that does not begin with [Version]");
			return hs_fail_hint(r->error, "[Version] 2.0 must be the first line that is not a comment");
		}
		return hs_net_keyword_line(r);
	}
	r->in_reference = false;
	return hs_net_option_line(r);
}

static bool data_line(network_reader *r, const char **at, const char *end)
{
	size_t first = r->held;
	r->first_seen = true;
	if (r->in_reference) {
		const char *stop = line_stop(*at, end);
		take_text(r, *at, stop);
		*at = stop;
		return hs_net_reference_numbers(r, r->text.data);
	}
	if (r->place == AT_END)
		return hs_net_refuse(r, "something stands behind [End]");
	if (!r->options_seen)
		return hs_net_refuse(r, "the data begin before an option line (#)");
	if (r->net->version >= 20 && r->place == IN_HEAD)
		return hs_net_refuse(r, "the data begin before [Network Data]");
	const char *stop = take_numbers(r, *at, end);
	if (!stop)
		return false;
	*at = stop;
	return hs_net_data_line(r, first);
}

static bool one_line(network_reader *r, const char **at, const char *end)
{
	const char *p = *at;
	r->line++;
	r->line_at = p;
	r->line_end = end;
	while (p < end && is_blank(*p))
		p++;
	bool good = true;
	if (p == end || ends_line(*p)) {
		*at = next_line(p, end);
		return true;
	}
	if (*p == '#' || *p == '[' || *p == '!' || r->place == IN_INFORMATION) {
		const char *stop = line_stop(p, end);
		if (*p == '[' || (*p == '#' && r->place != IN_INFORMATION))
			good = special_line(r, p, stop);
		p = stop;
	} else {
		good = data_line(r, &p, end);
	}
	*at = next_line(p, end);
	return good;
}

/* Up to where lines are whole: a CR at the very end may be half of a CRLF. */
static size_t whole_lines(const char *text, size_t length)
{
	size_t end = length;
	if (end > 0 && text[end - 1] == '\r')
		end--;
	while (end > 0 && !ends_line(text[end - 1]))
		end--;
	return end;
}

bool hs_net_lines(network_reader *r, const char *text, size_t length, bool last, size_t *used)
{
	size_t whole = last ? length : whole_lines(text, length);
	const char *at = text, *end = text + whole;
	if (r->line == 0 && whole >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0)
		at += 3;
	while (at < end && !(r->stop_after && r->net->count >= r->stop_after))
		if (!one_line(r, &at, end))
			return false;
	*used = whole;
	return true;
}
