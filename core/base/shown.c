/* What people see: foreign text made safe, measured in columns, and wrapped. */
#include <string.h>
#include "halfsplit/base/text.h"
#include "utf8.h"

typedef struct range {
	uint32_t first, last;
} range;

/*
 * What drives a terminal or turns text round, and what shows nothing at all, so that two texts that look alike would not
 * be (Unicode's Default_Ignorable_Code_Point, with the separators and the marks of annotation).
 */
static const range unseen[] = {
	{0x0000, 0x001F},   {0x007F, 0x009F},   {0x00AD, 0x00AD},   {0x034F, 0x034F},   {0x061C, 0x061C},
	{0x115F, 0x1160},   {0x17B4, 0x17B5},   {0x180B, 0x180F},   {0x200B, 0x200F},   {0x2028, 0x202E},
	{0x2060, 0x206F},   {0x3164, 0x3164},   {0xFE00, 0xFE0F},   {0xFEFF, 0xFEFF},   {0xFFA0, 0xFFA0},
	{0xFFF0, 0xFFFB},   {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF},
};

static bool in_ranges(const range *ranges, size_t count, uint32_t code)
{
	size_t low = 0, high = count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (code > ranges[middle].last)
			low = middle + 1;
		else
			high = middle;
	}
	return low < count && code >= ranges[low].first;
}

static bool is_unseen(uint32_t code)
{
	return (code < 0x20 || code >= 0x7F) && in_ranges(unseen, sizeof unseen / sizeof *unseen, code);
}

void hs_buf_shown(hs_buf *buf, const char *text, bool keep_newlines)
{
	size_t left = strlen(text);
	hs_buf_add(buf, "", 0);
	while (left > 0) {
		uint32_t code;
		size_t size = hs_utf8_decode(text, left, &code);
		if (size == 0) {
			hs_buf_printf(buf, "\\x%02x", (unsigned)(unsigned char)*text);
			size = 1;
		} else if (code == '\n') {
			hs_buf_str(buf, keep_newlines ? "\n" : "\\n");
		} else if (is_unseen(code)) {
			hs_buf_printf(buf, code < 0x80 ? "\\x%02x" : code < 0x10000 ? "\\u%04x" : "\\U%08x", (unsigned)code);
		} else {
			hs_buf_add(buf, text, size);
		}
		text += size;
		left -= size;
	}
}

/* Marks that sit on the character before them, and characters of no width (Unicode general categories Mn, Me, Cf). */
static const range no_width[] = {
	{0x00AD, 0x00AD},   {0x0300, 0x036F},   {0x0483, 0x0489},   {0x0591, 0x05BD},   {0x05BF, 0x05BF},
	{0x05C1, 0x05C2},   {0x05C4, 0x05C5},   {0x05C7, 0x05C7},   {0x0600, 0x0605},   {0x0610, 0x061A},
	{0x061C, 0x061C},   {0x064B, 0x065F},   {0x0670, 0x0670},   {0x06D6, 0x06DD},   {0x06DF, 0x06E4},
	{0x06E7, 0x06E8},   {0x06EA, 0x06ED},   {0x0711, 0x0711},   {0x0730, 0x074A},   {0x07A6, 0x07B0},
	{0x07EB, 0x07F3},   {0x0816, 0x0819},   {0x081B, 0x0823},   {0x0825, 0x0827},   {0x0829, 0x082D},
	{0x0859, 0x085B},   {0x08D3, 0x0902},   {0x093A, 0x093A},   {0x093C, 0x093C},   {0x0941, 0x0948},
	{0x094D, 0x094D},   {0x0951, 0x0957},   {0x0962, 0x0963},   {0x0981, 0x0981},   {0x09BC, 0x09BC},
	{0x09C1, 0x09C4},   {0x09CD, 0x09CD},   {0x0A01, 0x0A02},   {0x0A3C, 0x0A3C},   {0x0A41, 0x0A51},
	{0x0A70, 0x0A71},   {0x0ABC, 0x0ABC},   {0x0AC1, 0x0AC8},   {0x0ACD, 0x0ACD},   {0x0B3C, 0x0B3C},
	{0x0B41, 0x0B44},   {0x0B4D, 0x0B4D},   {0x0BCD, 0x0BCD},   {0x0C3E, 0x0C40},   {0x0C46, 0x0C56},
	{0x0CCC, 0x0CCD},   {0x0D41, 0x0D44},   {0x0D4D, 0x0D4D},   {0x0E31, 0x0E31},   {0x0E34, 0x0E3A},
	{0x0E47, 0x0E4E},   {0x0EB1, 0x0EB1},   {0x0EB4, 0x0EBC},   {0x0EC8, 0x0ECD},   {0x0F18, 0x0F19},
	{0x0F71, 0x0F7E},   {0x0F80, 0x0F84},   {0x0F8D, 0x0FBC},   {0x102D, 0x1030},   {0x1032, 0x1037},
	{0x1039, 0x103A},   {0x1160, 0x11FF},   {0x135D, 0x135F},   {0x1712, 0x1714},   {0x17B4, 0x17B5},
	{0x17B7, 0x17BD},   {0x17C9, 0x17D3},   {0x180B, 0x180E},   {0x1AB0, 0x1ACE},   {0x1B00, 0x1B03},
	{0x1DC0, 0x1DFF},   {0x200B, 0x200F},   {0x202A, 0x202E},   {0x2060, 0x2064},   {0x2066, 0x206F},
	{0x20D0, 0x20F0},   {0x2CEF, 0x2CF1},   {0x2DE0, 0x2DFF},   {0x302A, 0x302D},   {0x3099, 0x309A},
	{0xA66F, 0xA672},   {0xA674, 0xA67D},   {0xA69E, 0xA69F},   {0xA6F0, 0xA6F1},   {0xA8E0, 0xA8F1},
	{0xFB1E, 0xFB1E},   {0xFE00, 0xFE0F},   {0xFE20, 0xFE2F},   {0xFEFF, 0xFEFF},   {0xFFF9, 0xFFFB},
	{0x101FD, 0x101FD}, {0x1D165, 0x1D169}, {0x1D16D, 0x1D182}, {0x1D185, 0x1D18B}, {0x1D1AA, 0x1D1AD},
	{0xE0001, 0xE007F}, {0xE0100, 0xE01EF},
};

/* East Asian wide and full-width characters (Unicode Standard Annex 11), and pictographs shown wide. */
static const range wide[] = {
	{0x1100, 0x115F},   {0x231A, 0x231B},   {0x2329, 0x232A},   {0x23E9, 0x23EC},   {0x23F0, 0x23F0},
	{0x23F3, 0x23F3},   {0x25FD, 0x25FE},   {0x2614, 0x2615},   {0x2648, 0x2653},   {0x267F, 0x267F},
	{0x2693, 0x2693},   {0x26A1, 0x26A1},   {0x26AA, 0x26AB},   {0x26BD, 0x26BE},   {0x26C4, 0x26C5},
	{0x26CE, 0x26CE},   {0x26D4, 0x26D4},   {0x26EA, 0x26EA},   {0x26F2, 0x26F3},   {0x26F5, 0x26F5},
	{0x26FA, 0x26FA},   {0x26FD, 0x26FD},   {0x2705, 0x2705},   {0x270A, 0x270B},   {0x2728, 0x2728},
	{0x274C, 0x274C},   {0x274E, 0x274E},   {0x2753, 0x2755},   {0x2757, 0x2757},   {0x2795, 0x2797},
	{0x27B0, 0x27B0},   {0x27BF, 0x27BF},   {0x2B1B, 0x2B1C},   {0x2B50, 0x2B50},   {0x2B55, 0x2B55},
	{0x2E80, 0x303E},   {0x3041, 0x3247},   {0x3250, 0x4DBF},   {0x4E00, 0xA4C6},   {0xA960, 0xA97C},
	{0xAC00, 0xD7A3},   {0xF900, 0xFAFF},   {0xFE10, 0xFE19},   {0xFE30, 0xFE6B},   {0xFF01, 0xFF60},
	{0xFFE0, 0xFFE6},   {0x16FE0, 0x18CFF}, {0x1AFF0, 0x1B2FB}, {0x1F004, 0x1F004}, {0x1F0CF, 0x1F0CF},
	{0x1F18E, 0x1F18E}, {0x1F191, 0x1F19A}, {0x1F200, 0x1F320}, {0x1F32D, 0x1F335}, {0x1F337, 0x1F37C},
	{0x1F37E, 0x1F393}, {0x1F3A0, 0x1F3CA}, {0x1F3CF, 0x1F3D3}, {0x1F3E0, 0x1F3F0}, {0x1F3F4, 0x1F3F4},
	{0x1F3F8, 0x1F43E}, {0x1F440, 0x1F440}, {0x1F442, 0x1F4FC}, {0x1F4FF, 0x1F53D}, {0x1F54B, 0x1F54E},
	{0x1F550, 0x1F567}, {0x1F57A, 0x1F57A}, {0x1F595, 0x1F596}, {0x1F5A4, 0x1F5A4}, {0x1F5FB, 0x1F64F},
	{0x1F680, 0x1F6C5}, {0x1F6CC, 0x1F6CC}, {0x1F6D0, 0x1F6D2}, {0x1F6D5, 0x1F6DF}, {0x1F6EB, 0x1F6EC},
	{0x1F6F4, 0x1F6FC}, {0x1F7E0, 0x1F7F0}, {0x1F90C, 0x1F9FF}, {0x1FA70, 0x1FAFF}, {0x20000, 0x3FFFD},
};

static size_t code_columns(uint32_t code)
{
	if (code < 0x20 || (code >= 0x7F && code < 0xA0))
		return 0;
	if (code < 0xAD)
		return 1;
	if (in_ranges(no_width, sizeof no_width / sizeof *no_width, code))
		return 0;
	return in_ranges(wide, sizeof wide / sizeof *wide, code) ? 2 : 1;
}

static size_t columns_of(const char *text, size_t length)
{
	size_t columns = 0;
	while (length > 0) {
		uint32_t code;
		size_t size = hs_utf8_decode(text, length, &code);
		columns += size ? code_columns(code) : 1;
		size += size == 0;
		text += size;
		length -= size;
	}
	return columns;
}

size_t hs_text_columns(const char *text)
{
	return columns_of(text, strlen(text));
}

/* Columns already used on the last line of the buffer: a label there counts towards the width. */
static size_t start_column(const hs_buf *buf)
{
	size_t from = buf->length;
	while (from > 0 && buf->data[from - 1] != '\n')
		from--;
	return from < buf->length ? columns_of(buf->data + from, buf->length - from) : 0;
}

static void add_spaces(hs_buf *buf, size_t count)
{
	while (count-- > 0)
		hs_buf_char(buf, ' ');
}

/*
 * One line of safe text, from `column` on. A word wider than a whole line stays whole, alone on its line: a path or a
 * hash is not split.
 */
static void wrap_line(hs_buf *buf, const char *line, size_t length, size_t width, size_t indent, size_t column)
{
	const char *end = line + length;
	bool begun = column > indent;
	while (line < end) {
		size_t spaces = 0, word = 0;
		while (line + spaces < end && line[spaces] == ' ')
			spaces++;
		line += spaces;
		while (line + word < end && line[word] != ' ')
			word++;
		if (word == 0)
			return;
		size_t columns = columns_of(line, word);
		if (begun && column + spaces + columns > width) {
			hs_buf_char(buf, '\n');
			spaces = indent;
			column = 0;
		}
		add_spaces(buf, spaces);
		hs_buf_add(buf, line, word);
		column += spaces + columns;
		line += word;
		begun = true;
	}
}

void hs_buf_wrap(hs_buf *buf, const char *text, size_t width, size_t indent)
{
	hs_buf safe;
	hs_buf_init(&safe);
	hs_buf_shown(&safe, text, true);
	hs_buf_add(buf, "", 0);
	size_t column = start_column(buf);
	for (const char *line = safe.data;;) {
		size_t length = strcspn(line, "\n");
		wrap_line(buf, line, length, width, indent, column);
		if (!line[length])
			break;
		hs_buf_char(buf, '\n');
		line += length + 1;
		column = 0;
		if (*line && *line != '\n') {
			add_spaces(buf, indent);
			column = indent;
		}
	}
	hs_buf_free(&safe);
}
