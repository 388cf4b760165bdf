/* SHA-256 (FIPS 180-4), over nettle; digests as 64 lower-case hex digits. */
#ifndef HALFSPLIT_BASE_HASH_H
#define HALFSPLIT_BASE_HASH_H

#include <stddef.h>

#define HS_HEX_ROOM 65

void hs_sha256_hex(const void *data, size_t length, char hex[HS_HEX_ROOM]);

#endif
