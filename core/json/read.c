#include "halfsplit/json/json.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <cJSON.h>
#include "halfsplit/base/alloc.h"
#include "strict.h"

/* Children lie in one array, so that going through them by index costs nothing, however many there are. */
struct hs_json {
	hs_json_kind kind;
	bool truth;
	double number;
	const char *string;
	size_t count;
	hs_json *items;
	const char **keys;
};

struct hs_json_doc {
	hs_arena *arena;
	hs_json root;
};

/* The parsed tree is gone through in the order of the text, and takes the numbers and the places of its keys from the
 * lists. */
typedef struct taking {
	hs_arena *arena;
	const char *text;
	const hs_strict *strict;
	size_t number, key;
	hs_error *error;
} taking;

typedef struct placed_key {
	const char *key;
	size_t at;
} placed_key;

static int by_key_then_place(const void *a, const void *b)
{
	const placed_key *x = a, *y = b;
	int order = strcmp(x->key, y->key);
	return order ? order : (x->at > y->at) - (x->at < y->at);
}

static bool check_unique(const taking *t, placed_key *keys, size_t count)
{
	const placed_key *twice = NULL;
	qsort(keys, count, sizeof *keys, by_key_then_place);
	for (size_t i = 1; i < count; i++)
		if (strcmp(keys[i - 1].key, keys[i].key) == 0 && (!twice || keys[i].at < twice->at))
			twice = &keys[i];
	if (!twice)
		return true;
	char key[100], message[200];
	hs_copy(key, sizeof key, twice->key);
	snprintf(message, sizeof message, "the key \"%s\" occurs a second time, and once was wanted", key);
	return hs_strict_fail(t->text, twice->at, t->error, message);
}

static bool take(taking *t, const cJSON *from, hs_json *to);

static bool take_children(taking *t, const cJSON *from, hs_json *to)
{
	to->count = (size_t)cJSON_GetArraySize(from);
	to->items = hs_arena_alloc(t->arena, to->count * sizeof *to->items);
	placed_key *placed = NULL;
	bool good = true;
	size_t i = 0;
	if (to->kind == HS_JSON_OBJECT) {
		to->keys = hs_arena_alloc(t->arena, to->count * sizeof *to->keys);
		placed = hs_alloc(to->count * sizeof *placed);
	}
	for (const cJSON *child = from->child; child && good; child = child->next, i++) {
		if (placed) {
			to->keys[i] = hs_arena_str(t->arena, child->string);
			placed[i] = (placed_key){to->keys[i], t->strict->keys[t->key++]};
		}
		good = take(t, child, &to->items[i]);
	}
	good = good && (!placed || check_unique(t, placed, to->count));
	free(placed);
	return good;
}

static bool take(taking *t, const cJSON *from, hs_json *to)
{
	if (cJSON_IsNumber(from)) {
		to->kind = HS_JSON_NUMBER;
		to->number = t->strict->numbers[t->number++];
	} else if (cJSON_IsString(from)) {
		to->kind = HS_JSON_STRING;
		to->string = hs_arena_str(t->arena, from->valuestring);
	} else if (cJSON_IsBool(from)) {
		to->kind = HS_JSON_BOOL;
		to->truth = cJSON_IsTrue(from);
	} else if (cJSON_IsArray(from) || cJSON_IsObject(from)) {
		to->kind = cJSON_IsArray(from) ? HS_JSON_ARRAY : HS_JSON_OBJECT;
		return take_children(t, from, to);
	}
	return true;
}

static hs_json_doc *build(const char *text, const hs_strict *strict, hs_error *error)
{
	cJSON *tree = cJSON_ParseWithLength(strict->plain.data, strict->plain.length + 1);
	if (!tree) {
		hs_fail(error, HS_BAD_INPUT, "the JSON text does not fit into memory");
		return NULL;
	}
	hs_json_doc *doc = hs_alloc(sizeof *doc);
	doc->arena = hs_arena_new();
	taking t = {.arena = doc->arena, .text = text, .strict = strict, .error = error};
	bool good = take(&t, tree, &doc->root);
	cJSON_Delete(tree);
	if (good)
		return doc;
	hs_json_free(doc);
	return NULL;
}

hs_json_doc *hs_json_read(const char *text, size_t length, hs_error *error)
{
	hs_strict strict;
	hs_json_doc *doc = NULL;
	if (hs_strict_walk(text, length, &strict, error))
		doc = build(text, &strict, error);
	hs_strict_free(&strict);
	return doc;
}

void hs_json_free(hs_json_doc *doc)
{
	if (!doc)
		return;
	hs_arena_free(doc->arena);
	free(doc);
}

const hs_json *hs_json_root(const hs_json_doc *doc)
{
	return &doc->root;
}

hs_json_kind hs_json_kind_of(const hs_json *value)
{
	return value ? value->kind : HS_JSON_NULL;
}

const hs_json *hs_json_get(const hs_json *object, const char *key)
{
	if (hs_json_kind_of(object) != HS_JSON_OBJECT)
		return NULL;
	for (size_t i = 0; i < object->count; i++)
		if (strcmp(object->keys[i], key) == 0)
			return &object->items[i];
	return NULL;
}

size_t hs_json_count(const hs_json *array_or_object)
{
	return array_or_object ? array_or_object->count : 0;
}

const hs_json *hs_json_at(const hs_json *array_or_object, size_t index)
{
	return index < hs_json_count(array_or_object) ? &array_or_object->items[index] : NULL;
}

const char *hs_json_key(const hs_json *object, size_t index)
{
	return hs_json_kind_of(object) == HS_JSON_OBJECT && index < object->count ? object->keys[index] : NULL;
}

const char *hs_json_string(const hs_json *value)
{
	return value ? value->string : NULL;
}

bool hs_json_number(const hs_json *value, double *out)
{
	if (hs_json_kind_of(value) != HS_JSON_NUMBER)
		return false;
	*out = value->number;
	return true;
}

bool hs_json_bool(const hs_json *value, bool *out)
{
	if (hs_json_kind_of(value) != HS_JSON_BOOL)
		return false;
	*out = value->truth;
	return true;
}

const char *hs_json_get_string(const hs_json *object, const char *key)
{
	return hs_json_string(hs_json_get(object, key));
}

bool hs_json_get_number(const hs_json *object, const char *key, double *out)
{
	return hs_json_number(hs_json_get(object, key), out);
}

bool hs_json_get_bool(const hs_json *object, const char *key, bool *out)
{
	return hs_json_bool(hs_json_get(object, key), out);
}
