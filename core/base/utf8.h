/* UTF-8, one character at a time; private to this folder. */
#ifndef HALFSPLIT_CORE_BASE_UTF8_H
#define HALFSPLIT_CORE_BASE_UTF8_H

#include <stddef.h>
#include <stdint.h>

/*
 * Decodes the character at the start of [text, text+length), length at least 1. Returns the bytes it takes and fills
 * *code, or returns 0 when the bytes there are not well-formed UTF-8.
 */
size_t hs_utf8_decode(const char *text, size_t length, uint32_t *code);

#endif
