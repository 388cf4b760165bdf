#include "halfsplit/base/hash.h"

#include <nettle/base16.h>
#include <nettle/sha2.h>

void hs_sha256_hex(const void *data, size_t length, char hex[HS_HEX_ROOM])
{
	struct sha256_ctx context;
	uint8_t digest[SHA256_DIGEST_SIZE];
	sha256_init(&context);
	sha256_update(&context, length, data);
	sha256_digest(&context, sizeof digest, digest);
	base16_encode_update(hex, sizeof digest, digest);
	hex[BASE16_ENCODE_LENGTH(sizeof digest)] = '\0';
}
