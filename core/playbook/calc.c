/* A calc file: run in a sandbox with the measurement library, and what it returned as lines of text. */
#include "halfsplit/playbook/calc.h"

#include <lauxlib.h>
#include <math.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "bind_measure.h"
#include "sandbox_impl.h"

enum { DEEPEST = 16, ENTRIES_MOST = 100000, ENTRY_CHARGE = 10 };

typedef struct calc {
	hs_buf *out; /* owned outside the gate, so that a raise leaks nothing */
	size_t entries;
} calc;

static void put_number(lua_State *L, hs_buf *out, int index)
{
	double value = lua_tonumber(L, index);
	if (lua_isinteger(L, index))
		hs_buf_printf(out, "%lld", (long long)lua_tointeger(L, index));
	else if (isnan(value))
		hs_sandbox_raisef(L, "the file returned a number that is not one, as 0/0 gives");
	else if (isinf(value))
		hs_buf_str(out, value > 0 ? "infinite" : "-infinite");
	else
		hs_number_print(out, value);
}

static void put_text(lua_State *L, hs_buf *out, int index, bool keep_newlines)
{
	size_t length;
	const char *text = lua_tolstring(L, index, &length);
	if (strlen(text) != length)
		hs_sandbox_raisef(L, "the file returned a text that holds a NUL character");
	while (keep_newlines && length > 0 && text[length - 1] == '\n')
		length--;
	size_t start = out->length;
	hs_buf_shown(out, text, keep_newlines);
	while (keep_newlines && out->length > start && out->data[out->length - 1] == '\n')
		out->data[--out->length] = '\0';
}

/* What stands in one line: anything but a table that holds something. */
static void put_plain(lua_State *L, hs_buf *out, int index, bool keep_newlines)
{
	switch (lua_type(L, index)) {
	case LUA_TNIL:
		hs_buf_str(out, "nothing");
		break;
	case LUA_TBOOLEAN:
		hs_buf_str(out, lua_toboolean(L, index) ? "true" : "false");
		break;
	case LUA_TNUMBER:
		put_number(L, out, index);
		break;
	case LUA_TSTRING:
		put_text(L, out, index, keep_newlines);
		break;
	case LUA_TTABLE:
		hs_buf_str(out, "{}");
		break;
	default:
		hs_sandbox_raisef(L, "the file returned a %s, and numbers, texts and tables of them are shown",
		                  lua_type(L, index) == LUA_TFUNCTION ? "function" : "value of the library");
	}
}

/* Raw, and of a sealed table what it stands for. */
static bool holds_something(lua_State *L, int index)
{
	if (!lua_istable(L, index))
		return false;
	hs_unsealed_push(L, index);
	lua_pushnil(L);
	bool some = lua_next(L, -2);
	lua_pop(L, some ? 3 : 1);
	return some;
}

static void put_table(lua_State *L, calc *c, int index, int depth);

/* The key is below the value, on top. */
static void put_entry(lua_State *L, calc *c, int depth)
{
	int at = lua_gettop(L);
	if (++c->entries > ENTRIES_MOST)
		hs_sandbox_raisef(L, "the file returned more than %d entries", ENTRIES_MOST);
	hs_sandbox_charge(L, ENTRY_CHARGE);
	for (int i = 0; i < depth; i++)
		hs_buf_str(c->out, "  ");
	put_plain(L, c->out, at - 1, false);
	if (holds_something(L, at)) {
		hs_buf_str(c->out, ":\n");
		put_table(L, c, at, depth + 1);
		return;
	}
	hs_buf_str(c->out, ": ");
	put_plain(L, c->out, at, false);
	hs_buf_char(c->out, '\n');
}

/* In the order of pairs, which is the same in every run. The environment is sealed, so this is no author's pairs. */
static void put_table(lua_State *L, calc *c, int index, int depth)
{
	if (depth >= DEEPEST)
		hs_sandbox_raisef(L, "the file returned tables nested more than %d deep", DEEPEST);
	luaL_checkstack(L, 12, NULL);
	hs_env_push(L);
	lua_getfield(L, -1, "pairs");
	lua_remove(L, -2);
	lua_pushvalue(L, index);
	lua_call(L, 1, 1);
	int next = lua_gettop(L);
	for (;;) {
		lua_pushvalue(L, next);
		lua_call(L, 0, 2);
		if (lua_isnil(L, -2))
			break;
		put_entry(L, c, depth);
		lua_settop(L, next);
	}
	lua_settop(L, next - 1);
}

static int declare(lua_State *L)
{
	hs_measure_declare(L);
	return 0;
}

static int run(lua_State *L)
{
	calc *c = lua_touserdata(L, 1);
	lua_settop(L, 0);
	hs_chunk_load(L, hs_sources_main(hs_sandbox_sources(hs_sandbox_of(L))));
	lua_call(L, 0, LUA_MULTRET);
	for (int i = 1, count = lua_gettop(L); i <= count; i++) {
		if (holds_something(L, i)) {
			put_table(L, c, i, 0);
			continue;
		}
		put_plain(L, c->out, i, true);
		hs_buf_char(c->out, '\n');
	}
	return 0;
}

bool hs_calc_file(hs_sources *sources, hs_buf *out, hs_error *error)
{
	hs_buf text;
	calc c = {&text, 0};
	if (!hs_sources_main(sources))
		return hs_fail(error, HS_BAD_INPUT, "there is no calc file to run");
	hs_sandbox *sandbox = hs_sandbox_open(NULL, sources, "calc file", error);
	if (!sandbox)
		return false;
	hs_buf_init(&text);
	/* The host tells that files may be opened: everything here runs while the file is read. */
	hs_sandbox_set_host(sandbox, &c);
	bool good = hs_sandbox_protected(sandbox, declare, NULL, HS_SANDBOX_BUILD_BUDGET, error) &&
	            hs_sandbox_protected(sandbox, run, &c, HS_SANDBOX_BUILD_BUDGET, error);
	if (good)
		hs_buf_add(out, text.data ? text.data : "", text.length);
	hs_buf_free(&text);
	hs_sandbox_close(sandbox);
	return good;
}
