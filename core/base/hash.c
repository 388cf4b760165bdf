#include "halfsplit/base/hash.h"

#include <sodium.h>

void hs_sha256_hex(const void *data, size_t length, char hex[HS_HEX_ROOM])
{
	unsigned char digest[crypto_hash_sha256_BYTES];
	crypto_hash_sha256(digest, data, length);
	sodium_bin2hex(hex, HS_HEX_ROOM, digest, sizeof digest);
}
