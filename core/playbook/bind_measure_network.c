/*
 * network: Touchstone files. network.open gives a value that only the functions here look into; network.loss(net, ...)
 * and net:loss(...) are the same. It is opened while the file that names it is read, so that the transcript holds it,
 * and once for each name.
 */
#include "bind_measure.h"

#include <lauxlib.h>
#include <stdio.h>
#include "halfsplit/lineup/network.h"

/* Instructions charged for a byte of a file: it is read outside the count hook. */
enum { PARSE_CHARGE = 4 };

/* Name of the metatable, and registry key of the networks by file and ports. */
static const char type_name[] = "network";
static const char opened_key = 'o';

typedef struct handle {
	hs_network *network; /* NULL until it is read */
} handle;

static int handle_free(lua_State *L)
{
	handle *h = lua_touserdata(L, 1);
	hs_network_free(h->network);
	h->network = NULL;
	return 0;
}

static const hs_network *read_handle(lua_State *L)
{
	const handle *h = luaL_testudata(L, 1, type_name);
	if (!h || !h->network)
		measure_refuse(L, "the network is not given, and what network.open gives is wanted");
	return h ? h->network : NULL;
}

/* Files that are first named when a small function runs would be missing from the transcript. */
static const hs_source *find_source(lua_State *L, const char *name)
{
	hs_error error = {0}, named = {.code = HS_BAD_INPUT};
	if (!hs_sandbox_host(L)) {
		hs_fail(&named, HS_BAD_INPUT,
		        "\"%s\" is opened in a function that runs later, and only files that are opened while "
		        "the playbook is read belong to it",
		        name);
		hs_fail_hint(&named, "write local net = network.open(\"%.100s\") outside of every function", name);
		measure_raise(L, &named);
	}
	const hs_source *source = hs_sources_open(hs_sandbox_sources(hs_sandbox_of(L)), name, HS_SOURCE_TABLE, &error);
	if (!source)
		measure_raise(L, &error);
	return source;
}

static void parse(lua_State *L, handle *h, const hs_source *source, size_t ports)
{
	hs_error error = {0}, named = {0};
	hs_sandbox_charge(L, source->text_length * PARSE_CHARGE);
	if (hs_network_parse(source->path, source->text, source->text_length, ports, &h->network, &error))
		return;
	named = error;
	hs_fail(&named, HS_BAD_INPUT, "the file \"%.100s\" cannot be used: %.350s", source->path, error.message);
	if (error.file[0] && error.line > 0)
		hs_fail_hint(&named, "see line %d of %.150s", error.line, error.file);
	measure_raise(L, &named);
}

/* Once for each name: what a network takes is not counted as the playbook's memory, so it must not be taken again and
 * again. */
static int open_file(lua_State *L)
{
	const char *name = measure_string(L, 1, "the file");
	int ports = measure_given(L, 2) ? measure_whole(L, 2, "the number of ports", 1, HS_PORTS_MOST) : 0;
	lua_rawgetp(L, LUA_REGISTRYINDEX, &opened_key);
	lua_pushfstring(L, "%d %s", ports, name);
	lua_pushvalue(L, -1);
	if (lua_rawget(L, -3) != LUA_TNIL)
		return 1;
	lua_pop(L, 1);
	const hs_source *source = find_source(L, name);
	handle *h = lua_newuserdatauv(L, sizeof *h, 0);
	h->network = NULL;
	luaL_setmetatable(L, type_name);
	parse(L, h, source, (size_t)ports);
	lua_pushvalue(L, -2);
	lua_pushvalue(L, -2);
	lua_rawset(L, -5);
	return 1;
}

static void push_modes(lua_State *L, const hs_network *net)
{
	lua_createtable(L, (int)net->ports, 0);
	for (size_t i = 0; i < net->ports; i++) {
		const hs_mode *mode = &net->modes[i];
		measure_name name = mode->b ? measure_named("%c%zu,%zu", mode->kind, mode->a, mode->b)
		                            : measure_named("%c%zu", mode->kind, mode->a);
		lua_pushstring(L, name.text);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	lua_setfield(L, -2, "modes");
}

static int info(lua_State *L)
{
	const hs_network *net = read_handle(L);
	lua_createtable(L, 0, 8);
	measure_set_text(L, "version", measure_named("%d.%d", net->version / 10, net->version % 10).text);
	measure_set_text(L, "kind", measure_named("%c", net->kind).text);
	lua_pushinteger(L, (lua_Integer)net->ports);
	lua_setfield(L, -2, "ports");
	lua_pushinteger(L, (lua_Integer)net->count);
	lua_setfield(L, -2, "points");
	if (net->count > 0) {
		measure_set(L, "from_hz", hs_network_freq(net, 0));
		measure_set(L, "to_hz", hs_network_freq(net, net->count - 1));
	}
	if (net->remark_line) {
		measure_set_text(L, "remark", net->remark);
		lua_pushinteger(L, net->remark_line);
		lua_setfield(L, -2, "remark_line");
	}
	if (net->modes)
		push_modes(L, net);
	return 1;
}

static int freqs(lua_State *L)
{
	const hs_network *net = read_handle(L);
	hs_sandbox_charge(L, net->count);
	lua_createtable(L, (int)net->count, 0);
	for (size_t i = 0; i < net->count; i++) {
		lua_pushnumber(L, hs_network_freq(net, i));
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	return 1;
}

static int find(lua_State *L)
{
	hs_error error = {0};
	size_t index = 0;
	const hs_network *net = read_handle(L);
	if (!hs_network_find(net, measure_number(L, 2, "the frequency", HS_HERTZ), &index, &error))
		return measure_raise(L, &error);
	lua_pushinteger(L, (lua_Integer)index + 1);
	return 1;
}

typedef struct cell {
	const hs_network *net;
	size_t index, to, from;
} cell;

/* NET, TO, FROM, FREQ */
static cell read_cell(lua_State *L)
{
	hs_error error = {0};
	cell c = {.net = read_handle(L)};
	c.to = (size_t)measure_whole(L, 2, "the port it leads to", 1, HS_PORTS_MOST);
	c.from = (size_t)measure_whole(L, 3, "the port it comes from", 1, HS_PORTS_MOST);
	if (!hs_network_find(c.net, measure_number(L, 4, "the frequency", HS_HERTZ), &c.index, &error))
		measure_raise(L, &error);
	return c;
}

static int value(lua_State *L)
{
	hs_error error = {0};
	hs_complex out = {0};
	cell c = read_cell(L);
	if (!hs_network_value(c.net, c.index, c.to, c.from, &out, &error))
		return measure_raise(L, &error);
	measure_push_complex(L, out);
	return 1;
}

static int db(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	cell c = read_cell(L);
	bool good = hs_network_db(c.net, c.index, c.to, c.from, &out, &error);
	return measure_give(L, good, out, &error);
}

static int reference(lua_State *L)
{
	const hs_network *net = read_handle(L);
	int ports = net->ports < HS_PORTS_MOST ? (int)net->ports : HS_PORTS_MOST;
	int port = measure_given(L, 2) ? measure_whole(L, 2, "the port", 1, ports) : 1;
	lua_pushnumber(L, hs_network_reference(net, (size_t)port));
	return 1;
}

static bool loss_at(const hs_network *net, int to, int from, double freq, double *out, hs_error *error)
{
	hs_loss_table table = {0};
	hs_arena *arena = hs_arena_new();
	bool good = hs_network_loss(arena, net, (size_t)to, (size_t)from, &table, error) &&
	            hs_loss_table_at(&table, freq, out, error);
	hs_arena_free(arena);
	return good;
}

static int loss(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	const hs_network *net = read_handle(L);
	double freq = measure_number(L, 2, "the frequency", HS_HERTZ);
	int to = measure_given(L, 3) ? measure_whole(L, 3, "the port it leads to", 1, HS_PORTS_MOST) : 2;
	int from = measure_given(L, 4) ? measure_whole(L, 4, "the port it comes from", 1, HS_PORTS_MOST) : 1;
	hs_sandbox_charge(L, 4 * net->count);
	bool good = loss_at(net, to, from, freq, &out, &error);
	return measure_give(L, good, out, &error);
}

static int noise(lua_State *L)
{
	const hs_network *net = read_handle(L);
	hs_sandbox_charge(L, 5 * net->noise_count);
	lua_createtable(L, (int)net->noise_count, 0);
	for (size_t i = 0; i < net->noise_count; i++) {
		const hs_noise_point *point = &net->noise[i];
		lua_createtable(L, 0, 5);
		measure_set(L, "freq_hz", point->freq_hz);
		measure_set(L, "nf_min_db", point->nf_min_db);
		measure_set(L, "rho_best", point->rho_best);
		measure_set(L, "degrees_best", point->degrees_best);
		measure_set(L, "rn_ohm", point->rn_ohm);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	return 1;
}

void measure_open_network(lua_State *L)
{
	static const measure_row rows[] = {
	    {"db", db, 4, "network.db(NET, TO, FROM, FREQ)"},
	    {"find", find, 2, "network.find(NET, FREQ)"},
	    {"freqs", freqs, 1, "network.freqs(NET)"},
	    {"info", info, 1, "network.info(NET)"},
	    {"loss", loss, 4, "network.loss(NET, FREQ [, TO [, FROM]])"},
	    {"noise", noise, 1, "network.noise(NET)"},
	    {"open", open_file, 2, "network.open(FILE [, PORTS])"},
	    {"reference", reference, 2, "network.reference(NET [, PORT])"},
	    {"value", value, 4, "network.value(NET, TO, FROM, FREQ)"},
	};
	lua_createtable(L, 0, 4);
	lua_rawsetp(L, LUA_REGISTRYINDEX, &opened_key);
	measure_push_module(L, "network", rows, sizeof rows / sizeof rows[0]);
	luaL_newmetatable(L, type_name);
	lua_pushcfunction(L, handle_free);
	lua_setfield(L, -2, "__gc");
	lua_pushvalue(L, -2);
	lua_setfield(L, -2, "__index");
	lua_pushboolean(L, 0);
	lua_setfield(L, -2, "__metatable");
	lua_pop(L, 1);
	hs_sandbox_declare(L, "network");
}
