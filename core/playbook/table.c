/* Keys, their values and their lines. */
#include "table.h"

#include <lauxlib.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A bit that a word shares with few others. */
static uint64_t bit_of(const char *word)
{
	unsigned sum = 0;
	for (size_t i = 0; i < 3 && word[i]; i++)
		sum = sum * 31 + (unsigned char)word[i];
	return UINT64_C(1) << sum % 64;
}

/* Of the key at the top but one. */
static void note_key(hs_table *table)
{
	lua_State *L = table->L;
	hs_build *build = table->build;
	if (lua_type(L, -2) == LUA_TSTRING) {
		const char *word = lua_tostring(L, -2);
		build->words = hs_grow(build->words, &build->word_room, build->word_count + 1, sizeof *build->words);
		build->words[build->word_count++] = word;
		table->word_count++;
		table->bits |= bit_of(word);
	} else if (lua_isinteger(L, -2) && lua_tointeger(L, -2) >= 1) {
		size_t position = (size_t)lua_tointeger(L, -2);
		table->positions++;
		if (position > table->highest)
			table->highest = position;
	} else {
		table->other_keys = true;
	}
}

/* The table is on top. It is the builder's own copy, so nothing changes it while it is read. */
static void begin_table(hs_table *table)
{
	lua_State *L = table->L;
	table->index = lua_gettop(L);
	table->first_word = table->build->word_count;
	for (lua_pushnil(L); lua_next(L, table->index); lua_pop(L, 1))
		note_key(table);
}

hs_table hs_table_of(hs_build *build, lua_State *L, const hs_decl *decl)
{
	hs_table table = {.build = build, .L = L, .decl = decl, .path = ""};
	luaL_checkstack(L, 16, "too many nested tables");
	lua_rawgeti(L, LUA_REGISTRYINDEX, decl->ref);
	begin_table(&table);
	return table;
}

void hs_table_done(const hs_table *table)
{
	if (table->index == 0)
		return;
	lua_settop(table->L, table->index - 1);
	table->build->word_count = table->first_word;
}

const char *hs_key_at(const hs_table *table, size_t position)
{
	char text[24], *at = text + sizeof text;
	*--at = '\0';
	*--at = ']';
	do
		*--at = (char)('0' + position % 10);
	while ((position /= 10) > 0);
	*--at = '[';
	return hs_arena_str(table->build->arena, at);
}

static const char *path_of(const hs_table *table, const char *key)
{
	if (!key)
		return table->path;
	if (!table->path[0])
		return key;
	size_t before = strlen(table->path), behind = strlen(key), dot = key[0] != '[';
	char *path = hs_arena_alloc(table->build->arena, before + dot + behind + 1);
	memcpy(path, table->path, before);
	path[before] = '.';
	memcpy(path + before + dot, key, behind);
	return path;
}

static int push(const hs_table *table, const char *key);

/*
 * A table made elsewhere, by a function or a line above, is not to be found from the call: then a text that stands only
 * once in the file, or a word that is a key only once, is the one that is meant.
 */
static hs_where seek_elsewhere(const hs_table *table, const char *key, hs_where otherwise)
{
	hs_where only = {0};
	int top = lua_gettop(table->L);
	const char *item = strchr(key, '[');
	int type = push(table, item && item > key ? hs_arena_printf(table->build->arena, "%.*s", (int)(item - key), key) : key);
	if (item && item > key && type == LUA_TTABLE)
		type = lua_rawgeti(table->L, -1, (lua_Integer)strtoul(item + 1, NULL, 10));
	if (type == LUA_TSTRING)
		only = hs_decl_only(table->build, table->decl, lua_tostring(table->L, -1), false);
	if (type != LUA_TNIL && !only.line && !item)
		only = hs_decl_only(table->build, table->decl, key, true);
	lua_settop(table->L, top);
	return only.line ? only : otherwise;
}

hs_where hs_table_where(const hs_table *table, const char *key)
{
	bool whole;
	hs_where where = hs_decl_reach(table->build, table->decl, path_of(table, key), &whole);
	return whole || !key ? where : seek_elsewhere(table, key, where);
}

hs_problem *hs_table_problem(const hs_table *table, const char *key, const char *format, ...)
{
	char message[sizeof((hs_error *)0)->message];
	va_list args;
	va_start(args, format);
	if (vsnprintf(message, sizeof message, format, args) < 0)
		hs_copy(message, sizeof message, format);
	va_end(args);
	return hs_build_problem(table->build, HS_ERROR, hs_table_where(table, key), "%s", message);
}

/* Pushes the value of a key, raw; returns its type. */
static int push(const hs_table *table, const char *key)
{
	lua_State *L = table->L;
	if (table->index == 0)
		lua_pushnil(L);
	else if (key[0] == '[')
		lua_rawgeti(L, table->index, (lua_Integer)strtoul(key + 1, NULL, 10));
	else if (table->bits & bit_of(key)) {
		lua_pushstring(L, key);
		lua_rawget(L, table->index);
	} else
		lua_pushnil(L);
	return lua_type(L, -1);
}

int hs_table_type(const hs_table *table, const char *key)
{
	int type = push(table, key);
	lua_pop(table->L, 1);
	return type;
}

bool hs_table_has(const hs_table *table, const char *key)
{
	return hs_table_type(table, key) != LUA_TNIL;
}

const char *hs_table_what(const hs_table *table, const char *key)
{
	return hs_type_words(hs_table_type(table, key));
}

const char *hs_table_named(const hs_table *table, const char *key)
{
	if (key[0] == '[')
		return hs_arena_printf(table->build->arena, "value %.*s", (int)strlen(key) - 2, key + 1);
	return hs_arena_printf(table->build->arena, "\"%s\"", key);
}

static hs_problem *wrong_type(const hs_table *table, const char *key, const char *wanted)
{
	return hs_table_problem(table, key, "%s is %s, and %s was wanted", hs_table_named(table, key), hs_table_what(table, key),
	                        wanted);
}

hs_table hs_table_sub(const hs_table *table, const char *key, bool or_else)
{
	hs_table sub = {.build = table->build, .L = table->L, .decl = table->decl, .path = path_of(table, key)};
	luaL_checkstack(table->L, 16, "too many nested tables");
	int type = push(table, key);
	if (type == LUA_TTABLE) {
		begin_table(&sub);
		return sub;
	}
	lua_pop(table->L, 1);
	if (type != LUA_TNIL && !or_else)
		wrong_type(table, key, "a table in braces");
	return sub;
}

/* ---- which keys there are ---- */

static bool is_known(const char *word, const hs_words *rows, size_t row_count)
{
	for (size_t r = 0; r < row_count; r++)
		for (size_t i = 0; i < rows[r].count; i++)
			if (word[0] == rows[r].words[i][0] && strcmp(word, rows[r].words[i]) == 0)
				return true;
	return false;
}

static void unknown_word(const hs_table *table, const char *what, const char *word, const hs_words *rows,
                         size_t row_count)
{
	const char *known[128];
	size_t count = 0;
	for (size_t r = 0; r < row_count; r++)
		for (size_t i = 0; i < rows[r].count && count < sizeof known / sizeof *known; i++)
			known[count++] = rows[r].words[i];
	hs_problem *problem = hs_table_problem(table, word, "\"%s\" is no word of %s", word, what);
	const char *nearest = hs_build_near(table->build, word, known, count);
	if (nearest) {
		hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
		return;
	}
	char list[200] = "";
	size_t used = 0;
	for (size_t i = 0; i < count && used + strlen(known[i]) + 2 < sizeof list; i++)
		used += (size_t)snprintf(list + used, sizeof list - used, "%s%s", i ? ", " : "", known[i]);
	hs_problem_hint(problem, "its words are %s", list);
}

void hs_table_known(const hs_table *table, const char *what, size_t positions, const hs_words *rows, size_t row_count)
{
	lua_State *L = table->L;
	for (size_t i = 0; i < table->word_count; i++) {
		const char *word = table->build->words[table->first_word + i];
		if (!is_known(word, rows, row_count))
			unknown_word(table, what, word, rows, row_count);
	}
	if (!table->other_keys && table->highest <= positions)
		return;
	lua_pushnil(L);
	while (lua_next(L, table->index)) {
		lua_pop(L, 1);
		if (lua_type(L, -1) == LUA_TSTRING)
			continue;
		if (!lua_isinteger(L, -1)) {
			hs_table_problem(table, NULL, "%s has a key that is %s, and only words are keys", what,
			                 hs_type_words(lua_type(L, -1)));
		} else if (lua_tointeger(L, -1) < 1 || (size_t)lua_tointeger(L, -1) > positions) {
			const char *key = hs_key_at(table, (size_t)lua_tointeger(L, -1));
			hs_problem *problem =
			    hs_table_problem(table, key, "%s takes no %s without a word", what, hs_table_named(table, key));
			hs_problem_hint(problem, "write WORD = before it, or take it out");
		}
	}
}

size_t hs_table_length(const hs_table *table)
{
	if (table->positions == table->highest)
		return table->positions;
	hs_table_problem(table, NULL, "this list has a gap: a value before the last one is nil");
	size_t count = 0;
	while (hs_table_has(table, hs_key_at(table, count + 1)))
		count++;
	return count;
}

typedef struct placed {
	const char *name;
	int line;
} placed;

static int by_line(const void *left, const void *right)
{
	const placed *a = left, *b = right;
	return a->line != b->line ? (a->line < b->line ? -1 : 1) : strcmp(a->name, b->name);
}

const char **hs_table_names(const hs_table *table, size_t positions, size_t *count)
{
	lua_State *L = table->L;
	*count = 0;
	if (table->index == 0)
		return NULL;
	size_t room = 0;
	for (lua_pushnil(L); lua_next(L, table->index); lua_pop(L, 1))
		room++;
	placed *found = hs_arena_alloc(table->build->arena, room * sizeof *found);
	for (lua_pushnil(L); lua_next(L, table->index);) {
		lua_pop(L, 1);
		bool position =
		    lua_isinteger(L, -1) && lua_tointeger(L, -1) >= 1 && (size_t)lua_tointeger(L, -1) <= positions;
		if (position)
			continue;
		if (lua_type(L, -1) != LUA_TSTRING) {
			hs_table_problem(table, NULL, "this table wants a name before every value: NAME = ...");
			continue;
		}
		if (lua_rawlen(L, -1) > HS_NAME_MOST) {
			hs_table_problem(table, NULL, "a name in this table has more than %d bytes", HS_NAME_MOST);
			continue;
		}
		found[*count].name = hs_arena_str(table->build->arena, lua_tostring(L, -1));
		found[*count].line = hs_table_where(table, found[*count].name).line;
		(*count)++;
	}
	if (*count > 1)
		qsort(found, *count, sizeof *found, by_line);
	const char **names = hs_arena_alloc(table->build->arena, room * sizeof *names);
	for (size_t i = 0; i < *count; i++)
		names[i] = found[i].name;
	return names;
}

const char **hs_table_keys(const hs_table *table, size_t *count)
{
	return hs_table_names(table, 0, count);
}

/* ---- values ---- */

/* A short program can name one long text very often, so the sum is bounded too. */
static char *copy_text(hs_build *build, const char *text, size_t length)
{
	build->text_bytes += length;
	if (build->text_bytes > HS_TEXTS_MOST)
		hs_sandbox_raisef(hs_sandbox_state(build->sandbox), "all texts together have more than %zu bytes",
		                  HS_TEXTS_MOST);
	return hs_arena_strn(build->arena, text, length);
}

/* Escape sequences, marks that turn the direction of writing, and the like: shown as codes wherever a person reads them. */
static bool has_unseen(const char *text)
{
	bool plain = true;
	for (const char *at = text; plain && *at; at++)
		plain = (*at >= ' ' && *at <= '~') || *at == '\n' || *at == '\t';
	if (plain)
		return false;
	hs_buf own, shown;
	hs_buf_init(&own);
	hs_buf_init(&shown);
	for (const char *at = text; *at; at++)
		hs_buf_char(&own, *at == '\t' ? ' ' : *at);
	hs_buf_shown(&shown, own.data, true);
	bool differs = strcmp(shown.data, own.data) != 0;
	hs_buf_free(&shown);
	hs_buf_free(&own);
	return differs;
}

static void warn_unseen(const hs_table *table, const char *key)
{
	hs_problem *problem = hs_table_problem(table, key, "%s holds characters that cannot be seen; a person is shown their codes", hs_table_named(table, key));
	problem->severity = HS_WARNING;
	table->build->problems->errors--;
	hs_problem_hint(problem, "type the text anew, without what was pasted along with it");
}

const char *hs_table_text(const hs_table *table, const char *key)
{
	lua_State *L = table->L;
	size_t length = 0;
	int type = push(table, key);
	const char *text = type == LUA_TSTRING ? lua_tolstring(L, -1, &length) : NULL;
	bool long_text = length > HS_TEXT_MOST;
	char *copy = text && !long_text ? copy_text(table->build, text, length) : NULL;
	lua_pop(L, 1);
	if (long_text) {
		hs_table_problem(table, key, "%s has more than %zu bytes", hs_table_named(table, key), HS_TEXT_MOST);
		return NULL;
	}
	if (type == LUA_TNIL)
		return NULL;
	if (!copy) {
		wrong_type(table, key, "a text in quotes");
		return NULL;
	}
	if (strlen(copy) != length || !hs_utf8_valid(copy, length)) {
		hs_table_problem(table, key, "%s holds bytes that are not text", hs_table_named(table, key));
		return NULL;
	}
	if (copy[strspn(copy, " \t\r\n")] == '\0') {
		hs_table_problem(table, key, "%s is empty", hs_table_named(table, key));
		return NULL;
	}
	if (has_unseen(copy))
		warn_unseen(table, key);
	return copy;
}

bool hs_table_flag(const hs_table *table, const char *key)
{
	int type = push(table, key);
	bool value = lua_toboolean(table->L, -1);
	lua_pop(table->L, 1);
	if (type == LUA_TNIL)
		return false;
	if (type != LUA_TBOOLEAN)
		wrong_type(table, key, "true or false");
	return type == LUA_TBOOLEAN && value;
}

int hs_table_count(const hs_table *table, const char *key, int least, int most, int otherwise)
{
	int type = push(table, key);
	bool whole = type == LUA_TNUMBER && lua_isinteger(table->L, -1);
	lua_Integer value = whole ? lua_tointeger(table->L, -1) : 0;
	lua_pop(table->L, 1);
	if (type == LUA_TNIL)
		return otherwise;
	if (!whole)
		wrong_type(table, key, "a whole number");
	else if (value < least || value > most)
		hs_table_problem(table, key, "%s is %lld, and it must lie between %d and %d", hs_table_named(table, key),
		                 (long long)value, least, most);
	else
		return (int)value;
	return otherwise;
}

const char *hs_table_item(const hs_table *table, const char *key, size_t index)
{
	if (hs_table_type(table, key) != LUA_TTABLE)
		return key;
	const char *at = hs_key_at(table, index + 1);
	size_t length = strlen(key);
	char *item = hs_arena_alloc(table->build->arena, length + strlen(at) + 1);
	memcpy(item, key, length);
	strcpy(item + length, at);
	return item;
}

const char **hs_table_texts(const hs_table *table, const char *key, size_t *count)
{
	*count = 0;
	const char **texts;
	if (hs_table_type(table, key) != LUA_TTABLE) {
		texts = hs_arena_alloc(table->build->arena, sizeof *texts);
		texts[0] = hs_table_text(table, key);
		*count = texts[0] ? 1 : 0;
		return texts;
	}
	hs_table list = hs_table_sub(table, key, false);
	size_t length = hs_table_length(&list);
	hs_table_known(&list, hs_arena_printf(table->build->arena, "the list \"%s\"", key), HS_ANY_LENGTH, NULL, 0);
	texts = hs_arena_alloc(table->build->arena, length * sizeof *texts);
	for (size_t i = 0; i < length; i++) {
		const char *text = hs_table_text(&list, hs_key_at(&list, i + 1));
		/* A text that is wrong leaves its place, so that the lines of those after it stay right. */
		texts[(*count)++] = text ? text : "";
	}
	hs_table_done(&list);
	return texts;
}

bool hs_table_function(const hs_table *table, const char *key, hs_function *out)
{
	hs_build *build = table->build;
	if (hs_table_type(table, key) != LUA_TFUNCTION)
		return false;
	build->functions =
	    hs_grow(build->functions, &build->function_room, build->function_count + 1, sizeof *build->functions);
	push(table, key);
	out->where = hs_table_where(table, key);
	build->functions[build->function_count] = (hs_kept){luaL_ref(table->L, LUA_REGISTRYINDEX), out->where};
	out->id = (int)build->function_count++;
	return true;
}
