/* What this program can have written at all; anything else in a line was put there by somebody else. */
#include <string.h>
#include "halfsplit/base/utc.h"
#include "rendering.h"

bool hs_form_utc(const char *text)
{
	int64_t ms;
	return text && hs_utc_read(text, &ms);
}

bool hs_form_hex(const char *text, size_t digits)
{
	return text && strlen(text) == digits && strspn(text, "0123456789abcdef") == digits;
}

bool hs_form_plain(const char *text)
{
	for (const char *p = text; *p; p++) {
		unsigned char byte = (unsigned char)*p, next = (unsigned char)p[1];
		if (byte < 0x20 || byte == 0x7f || (byte == 0xc2 && next >= 0x80 && next <= 0x9f))
			return false;
	}
	return true;
}

bool hs_name_possible(const char *text)
{
	return text && strlen(text) <= HS_NAME_MOST && text[strspn(text, " ")] != '\0' && hs_form_plain(text) &&
	       hs_utf8_valid(text, strlen(text));
}

bool hs_form_whole(const hs_json *object, const char *key, long long *out)
{
	double number;
	if (!hs_json_get_number(object, key, &number) || !(number >= -9007199254740992.0) ||
	    !(number <= 9007199254740992.0) || (double)(long long)number != number)
		return false;
	*out = (long long)number;
	return true;
}

/* The line holds a repair and nothing that a repair does not say: written again it is the same. */
static bool same_repair(const hs_chain_line *line, const hs_journal_repaired *repaired, const char *utc,
                        long long mono_ms)
{
	hs_lines lines = {0};
	const char *members;
	size_t length;
	hs_lines_repaired(&lines, repaired, utc, mono_ms);
	bool same = hs_line_members(line, &members, &length) && length == lines.items[0].length &&
	            memcmp(members, lines.items[0].data, length) == 0;
	hs_lines_free(&lines);
	return same;
}

bool hs_form_repair(const hs_chain_line *line)
{
	const hs_json *repair = hs_json_get(line->root, "repair");
	const char *utc = hs_json_get_string(line->root, "utc"), *sha256 = hs_json_get_string(repair, "sha256");
	const char *kept = hs_json_get_string(repair, "kept"), *reason = hs_json_get_string(repair, "reason");
	long long mono_ms, number, offset, cut;
	if (!hs_form_utc(utc) || !hs_form_whole(line->root, "mono_ms", &mono_ms) || mono_ms < 0 ||
	    !hs_form_whole(repair, "line", &number) || !hs_form_whole(repair, "offset", &offset) ||
	    !hs_form_whole(repair, "cut", &cut) || !hs_form_hex(sha256, HS_HEX_ROOM - 1) || !kept || !*kept || !reason ||
	    number != (long long)line->number || offset <= 0 || cut <= 0)
		return false;
	hs_journal_repaired repaired = {
	    .line = line->number, .offset = (size_t)offset, .cut = (size_t)cut, .kept = kept};
	hs_copy(repaired.cut_sha256, sizeof repaired.cut_sha256, sha256);
	hs_copy(repaired.reason, sizeof repaired.reason, reason);
	return same_repair(line, &repaired, utc, mono_ms);
}
