/* Tables of a measurement function: lists, and words with values. Everything is read raw. */
#include "bind_measure.h"

#include <lauxlib.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>
#include "sandbox_impl.h"

/* Instructions for a value that is read out of a list. */
enum { VALUE_CHARGE = 20 };

size_t measure_positions(lua_State *L, int index, const char *what)
{
	size_t count = 0;
	lua_Integer highest = 0;
	lua_pushnil(L);
	while (lua_next(L, index)) {
		lua_pop(L, 1);
		if (!lua_isinteger(L, -1))
			continue;
		if (++count > MEASURE_LIST_MOST)
			measure_refuse(L, "%s holds more than %d values", what, MEASURE_LIST_MOST);
		if (lua_tointeger(L, -1) > highest)
			highest = lua_tointeger(L, -1);
	}
	if ((lua_Integer)count != highest)
		measure_refuse(L, "%s has a gap: a value before the last one is nil", what);
	hs_sandbox_charge(L, VALUE_CHARGE * count);
	return count;
}

/* A sealed table stands for one that can be read raw. */
static void unseal(lua_State *L, int index)
{
	hs_unsealed_push(L, index);
	lua_replace(L, index);
}

size_t measure_list(lua_State *L, int index, const char *what)
{
	if (!lua_istable(L, index))
		measure_refuse(L, "%s %s, and a list in braces is wanted", what,
		               lua_isnil(L, index) ? "is not given" : "is no table");
	unseal(L, index);
	lua_pushnil(L);
	while (lua_next(L, index)) {
		lua_pop(L, 1);
		if (!lua_isinteger(L, -1))
			measure_refuse(L, "%s is a list, and a value in it has a name", what);
	}
	size_t count = measure_positions(L, index, what);
	if (count == 0)
		measure_refuse(L, "%s is empty", what);
	return count;
}

double *measure_numbers(lua_State *L, int index, const char *what, hs_unit unit, size_t *count)
{
	*count = measure_list(L, index, what);
	double *values = lua_newuserdatauv(L, *count * sizeof *values, 0);
	for (size_t i = 0; i < *count; i++) {
		int at = measure_item(L, index, i + 1);
		values[i] = measure_number(L, at, measure_named("value %zu of %s", i + 1, what).text, unit);
		lua_pop(L, 1);
	}
	return values;
}

static bool is_known(const char *word, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (strcmp(words[i], word) == 0)
			return true;
	return false;
}

static void refuse_word(lua_State *L, const char *of, const char *word, const char *const *words, size_t count)
{
	hs_error error = {0};
	hs_fail(&error, HS_BAD_INPUT, "\"%.60s\" is no word of %s", word, of);
	const char *nearest = hs_nearest(word, words, count);
	if (nearest)
		hs_fail_hint(&error, "did you mean \"%s\"?", nearest);
	measure_misuse(L, &error);
}

void measure_known(lua_State *L, int index, const char *of, const char *const *words, size_t count, int positions)
{
	if (!lua_istable(L, index))
		measure_refuse(L, "%s %s, and a table in braces is wanted", of,
		               lua_isnil(L, index) ? "is not given" : "is no table");
	unseal(L, index);
	lua_pushnil(L);
	while (lua_next(L, index)) {
		lua_pop(L, 1);
		hs_sandbox_charge(L, 1);
		if (lua_type(L, -1) == LUA_TSTRING) {
			if (!is_known(lua_tostring(L, -1), words, count))
				refuse_word(L, of, lua_tostring(L, -1), words, count);
		} else if (!lua_isinteger(L, -1) || lua_tointeger(L, -1) < 1 || lua_tointeger(L, -1) > positions) {
			measure_refuse(L, "%s holds a value that no word stands before", of);
		}
	}
}

int measure_field(lua_State *L, int index, const char *key)
{
	lua_pushstring(L, key);
	lua_rawget(L, index);
	return lua_gettop(L);
}

int measure_item(lua_State *L, int index, size_t position)
{
	lua_rawgeti(L, index, (lua_Integer)position);
	return lua_gettop(L);
}

bool measure_has(lua_State *L, int index, const char *key)
{
	bool has = !lua_isnil(L, measure_field(L, index, key));
	lua_pop(L, 1);
	return has;
}

double measure_field_number(lua_State *L, int index, const char *key, const char *of, hs_unit unit)
{
	int at = measure_field(L, index, key);
	double value = measure_number(L, at, measure_named("the %s of %s", key, of).text, unit);
	lua_pop(L, 1);
	return value;
}

double measure_field_or(lua_State *L, int index, const char *key, const char *of, hs_unit unit, double otherwise)
{
	return measure_has(L, index, key) ? measure_field_number(L, index, key, of, unit) : otherwise;
}

bool measure_field_flag(lua_State *L, int index, const char *key, const char *of)
{
	int at = measure_field(L, index, key);
	if (!lua_isnil(L, at) && !lua_isboolean(L, at))
		measure_refuse(L, "the %s of %s must be true or false", key, of);
	bool value = lua_toboolean(L, at);
	lua_pop(L, 1);
	return value;
}

measure_name measure_named(const char *format, ...)
{
	measure_name name;
	va_list args;
	va_start(args, format);
	if (vsnprintf(name.text, sizeof name.text, format, args) < 0)
		hs_copy(name.text, sizeof name.text, format);
	va_end(args);
	return name;
}
