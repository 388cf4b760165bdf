/*
 * What a shop sets for itself in its kit file: limits tighter than the cautious defaults, and who may authorise or stand by. A shop tightens
 * a rule and never loosens it; what would is refused when the file is read.
 */
#ifndef HALFSPLIT_MODEL_SHOP_H
#define HALFSPLIT_MODEL_SHOP_H

#include <stdbool.h>
#include <stddef.h>

#define HS_DEAD_VOLTS       5.0     /* a pair at or under this counts as dead, and under a tenth of what the source gives */
#define HS_TOOL_JOULES      0.25    /* above this: discharge even when under 50 V */
#define HS_SHORT_JOULES     10.0    /* above this, or above HS_SHORT_VOLTS: recheck after 5 min and keep shorted */
#define HS_LONE_VOLTS       90.0    /* from here on nobody reads live alone: the least mains there is, at its low end */
#define HS_BREAK_MS         900000  /* a pause between answers longer than this makes the power state unknown */
#define HS_TOUCH_DEGC       45.0    /* a part warmer than this is not taken in the hand */
#define HS_LIFT_GRAMS       15000.0 /* a part heavier than this is not lifted alone */

typedef struct hs_shop {
	double dead_volts, tool_joules, short_joules, lone_volts;
	double waits;        /* every computed wait is this many times as long; 1 or more */
	double break_s;
	double touch_degc, lift_grams;
	const char *const *authorised; /* who may authorise live work or an interlock's defeat, or deal with what is unsafe; none named: anybody */
	size_t authorised_count;
	const char *const *seconds;    /* who may be the second person, or help; none named: anybody but the person at the bench */
	size_t second_count;
} hs_shop;

/* The settings, or the defaults for NULL. */
const hs_shop *hs_shop_or_default(const hs_shop *shop);

/* Whether the name is among these; an empty list names everybody. */
bool hs_shop_names(const char *const *names, size_t count, const char *name);

#endif
