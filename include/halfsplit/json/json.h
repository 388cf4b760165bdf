/*
 * JSON, read strictly and written in one fixed form.
 *
 * The reader walks the bytes before cJSON sees them and refuses what cJSON would let pass: duplicate keys in an object, text after the value,
 * leading zeros, raw control characters, bytes that are not UTF-8, lone surrogates, NaN and infinities, numbers whose integer
 * part exceeds 2^53 or that overflow a double, nesting deeper than 32, more than 8 MiB, a NUL escape (\u0000). Messages name line, column and what was wanted.
 *
 * A value is read through a const view; views live as long as the document.
 */
#ifndef HALFSPLIT_JSON_JSON_H
#define HALFSPLIT_JSON_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

typedef struct hs_json_doc hs_json_doc;
typedef struct hs_json hs_json; /* a view */

hs_json_doc *hs_json_read(const char *text, size_t length, hs_error *error); /* NULL on failure */
void hs_json_free(hs_json_doc *doc);                                        /* accepts NULL */
const hs_json *hs_json_root(const hs_json_doc *doc);

typedef enum hs_json_kind { HS_JSON_NULL, HS_JSON_BOOL, HS_JSON_NUMBER, HS_JSON_STRING, HS_JSON_ARRAY, HS_JSON_OBJECT } hs_json_kind;
hs_json_kind hs_json_kind_of(const hs_json *value); /* NULL pointer counts as HS_JSON_NULL */
const hs_json *hs_json_get(const hs_json *object, const char *key);  /* NULL when absent or not an object */
size_t hs_json_count(const hs_json *array_or_object);
const hs_json *hs_json_at(const hs_json *array_or_object, size_t index);
const char *hs_json_key(const hs_json *object, size_t index);
const char *hs_json_string(const hs_json *value);   /* NULL unless a string */
bool hs_json_number(const hs_json *value, double *out);
bool hs_json_bool(const hs_json *value, bool *out);
/* Shorthands for members: NULL / false when absent or of another kind. */
const char *hs_json_get_string(const hs_json *object, const char *key);
bool hs_json_get_number(const hs_json *object, const char *key, double *out);
bool hs_json_get_bool(const hs_json *object, const char *key, bool *out);

/*
 * The writer appends to a buffer; it puts the commas. Strings come out as ASCII (everything else as \uXXXX, pairs beyond the BMP; bytes that are not UTF-8
 * as U+FFFD). No white space is written. Nesting up to 32; a wrong order of calls asserts.
 */
typedef struct hs_json_writer {
	hs_buf *out;
	int depth;
	bool need_comma[33];
	bool in_object[33];
} hs_json_writer;

void hs_json_begin(hs_json_writer *writer, hs_buf *out);
void hs_json_open_object(hs_json_writer *writer, const char *key);  /* key NULL inside an array or at the top */
void hs_json_close_object(hs_json_writer *writer);
void hs_json_open_array(hs_json_writer *writer, const char *key);
void hs_json_close_array(hs_json_writer *writer);
void hs_json_put_string(hs_json_writer *writer, const char *key, const char *text); /* text NULL writes null */
void hs_json_put_number(hs_json_writer *writer, const char *key, double number);    /* shortest round trip; NaN, inf assert */
void hs_json_put_integer(hs_json_writer *writer, const char *key, long long number);
void hs_json_put_bool(hs_json_writer *writer, const char *key, bool value);
void hs_json_put_null(hs_json_writer *writer, const char *key);

#endif
