/* Universal time as text: "2026-11-24T09:30:00.000Z", for the years 1970 to 9999; leap seconds are not counted. */
#ifndef HALFSPLIT_BASE_UTC_H
#define HALFSPLIT_BASE_UTC_H

#include <stdbool.h>
#include <stdint.h>

#define HS_STAMP_ROOM 32

/* Milliseconds since 1970; a time outside the years above is printed as the nearest inside. */
void hs_utc_print(int64_t utc_ms, char stamp[HS_STAMP_ROOM]);
/* False, and *utc_ms untouched, when the text is not in exactly this form or names no day or hour there is. */
bool hs_utc_read(const char *text, int64_t *utc_ms);

#endif
