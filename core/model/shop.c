#include "halfsplit/model/shop.h"

#include "halfsplit/base/text.h"

static const hs_shop defaults = {.dead_volts = HS_DEAD_VOLTS,
                                 .tool_joules = HS_TOOL_JOULES,
                                 .short_joules = HS_SHORT_JOULES,
                                 .lone_volts = HS_LONE_VOLTS,
                                 .waits = 1.0,
                                 .break_s = HS_BREAK_MS / 1000.0,
                                 .touch_degc = HS_TOUCH_DEGC,
                                 .lift_grams = HS_LIFT_GRAMS};

const hs_shop *hs_shop_or_default(const hs_shop *shop)
{
	return shop ? shop : &defaults;
}

bool hs_shop_names(const char *const *names, size_t count, const char *name)
{
	for (size_t i = 0; i < count; i++)
		if (names[i] && hs_same_word(names[i], name))
			return true;
	return count == 0;
}
