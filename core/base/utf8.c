#include "utf8.h"
#include <string.h>

#include "halfsplit/base/text.h"

size_t hs_utf8_decode(const char *text, size_t length, uint32_t *code)
{
	static const uint32_t smallest[] = {0, 0, 0x80, 0x800, 0x10000};
	const unsigned char *at = (const unsigned char *)text;
	if (at[0] < 0x80) {
		*code = at[0];
		return 1;
	}
	size_t size = at[0] >= 0xF0 && at[0] <= 0xF4 ? 4 : (at[0] & 0xF0) == 0xE0 ? 3 : (at[0] & 0xE0) == 0xC0 ? 2 : 0;
	if (size == 0 || size > length)
		return 0;
	uint32_t value = at[0] & (0x7Fu >> size);
	for (size_t i = 1; i < size; i++) {
		if ((at[i] & 0xC0) != 0x80)
			return 0;
		value = value << 6 | (at[i] & 0x3Fu);
	}
	if (value < smallest[size] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF))
		return 0;
	*code = value;
	return size;
}

bool hs_utf8_valid(const char *text, size_t length)
{
	for (size_t at = 0; at < length;) {
		uint64_t eight;
		if (length - at >= sizeof eight && (memcpy(&eight, text + at, sizeof eight), (eight & UINT64_C(0x8080808080808080)) == 0)) {
			at += sizeof eight; /* plain ASCII, as most text is */
			continue;
		}
		uint32_t code;
		size_t size = hs_utf8_decode(text + at, length - at, &code);
		if (size == 0)
			return false;
		at += size;
	}
	return true;
}
