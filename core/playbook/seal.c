/*
 * A digest of what a function's upvalues hold, taken after the build and compared after each call.
 *
 * Nothing here raises: lua_next, lua_getupvalue and raw reads do not allocate, and the stack is grown by
 * lua_checkstack, which tells. The digest is keyed with random bytes that Lua cannot see, so no change can be made
 * to fit it.
 */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <sys/random.h>
#include "halfsplit/base/alloc.h"
#include "sandbox_impl.h"

enum { DEEPEST = 32, ENTRIES_MOST = 65536, UPVALUES_MOST = 255 };

typedef struct sealed {
	int ref;
	int count;
	uint64_t *digests; /* of each upvalue */
} sealed;

typedef struct hs_seals {
	sealed *items;
	size_t count;
	size_t room;
	uint64_t key[2];
} hs_seals;

/* A table or function already met in this walk; an open-addressing set over the pointers. */
typedef struct met {
	const void *what;
	uint64_t digest;
} met;

typedef struct walk {
	lua_State *L;
	const uint64_t *key;
	met *seen;
	size_t room; /* a power of two, or 0 */
	size_t seen_count;
	size_t entries;
	const char *refusal; /* set when the walk cannot go on */
} walk;

void hs_seals_free(hs_seals *seals)
{
	if (!seals)
		return;
	for (size_t i = 0; i < seals->count; i++)
		free(seals->items[i].digests);
	free(seals->items);
	free(seals);
}

static uint64_t stir(uint64_t x)
{
	x ^= x >> 32;
	x *= UINT64_C(0xd6e8feb86659fd93);
	x ^= x >> 32;
	x *= UINT64_C(0xd6e8feb86659fd93);
	return x ^ (x >> 32);
}

static uint64_t mix(const walk *w, uint64_t a, uint64_t b)
{
	return stir(stir(a ^ w->key[0]) + stir(b ^ w->key[1]) * 3);
}

static uint64_t digest_bytes(const walk *w, uint64_t kind, const char *data, size_t length)
{
	uint64_t digest = mix(w, kind, length);
	for (; length > 0;) {
		uint64_t word = 0;
		size_t step = length < sizeof word ? length : sizeof word;
		memcpy(&word, data, step);
		digest = mix(w, digest, word);
		data += step;
		length -= step;
	}
	return digest;
}

static void grow_seen(walk *w)
{
	size_t room = w->room ? w->room * 2 : 64;
	met *bigger = hs_alloc(room * sizeof *bigger);
	for (size_t i = 0; i < w->room; i++) {
		size_t at = stir((uintptr_t)w->seen[i].what) & (room - 1);
		if (!w->seen[i].what)
			continue;
		while (bigger[at].what)
			at = (at + 1) & (room - 1);
		bigger[at] = w->seen[i];
	}
	free(w->seen);
	w->seen = bigger;
	w->room = room;
}

/* The place of this pointer in the set; new when its `what` is NULL. Good until the next call. */
static met *find_seen(walk *w, const void *what)
{
	if (w->seen_count * 2 >= w->room)
		grow_seen(w);
	size_t at = stir((uintptr_t)what) & (w->room - 1);
	while (w->seen[at].what && w->seen[at].what != what)
		at = (at + 1) & (w->room - 1);
	return &w->seen[at];
}

static uint64_t digest_value(walk *w, int index, int depth);

/* Order does not count: the same entries put in again may lie elsewhere. */
static uint64_t digest_table(walk *w, int index, int depth)
{
	uint64_t sum = 0;
	lua_State *L = w->L;
	lua_pushnil(L);
	while (lua_next(L, index)) {
		int top = lua_gettop(L);
		sum += mix(w, digest_value(w, top - 1, depth + 1), digest_value(w, top, depth + 1));
		lua_pop(L, 1);
		if (w->refusal) {
			lua_pop(L, 1);
			return 0;
		}
	}
	if (lua_getmetatable(L, index)) {
		sum = mix(w, sum, digest_value(w, lua_gettop(L), depth + 1));
		lua_pop(L, 1);
	}
	return mix(w, 't', sum);
}

static uint64_t digest_function(walk *w, int index, int depth)
{
	uint64_t digest = mix(w, 'f', (uintptr_t)lua_topointer(w->L, index));
	for (int i = 1; i <= UPVALUES_MOST && !w->refusal && lua_getupvalue(w->L, index, i); i++) {
		digest = mix(w, digest, digest_value(w, lua_gettop(w->L), depth + 1));
		lua_pop(w->L, 1);
	}
	return digest;
}

static uint64_t digest_walked(walk *w, int index, int depth)
{
	const void *what = lua_topointer(w->L, index);
	met *place = find_seen(w, what);
	if (place->what)
		return place->digest;
	if (depth > DEEPEST) {
		w->refusal = "is nested deeper than 32 levels";
		return 0;
	}
	/* While it is being walked, a way back to it counts by its address. */
	*place = (met){what, mix(w, 'b', (uintptr_t)what)};
	w->seen_count++;
	uint64_t digest = lua_istable(w->L, index) ? digest_table(w, index, depth) : digest_function(w, index, depth);
	find_seen(w, what)->digest = digest;
	return digest;
}

static uint64_t digest_number(const walk *w, int index)
{
	if (lua_isinteger(w->L, index))
		return mix(w, 'i', (uint64_t)lua_tointeger(w->L, index));
	double value = lua_tonumber(w->L, index);
	return digest_bytes(w, 'n', (const char *)&value, sizeof value);
}

static uint64_t digest_value(walk *w, int index, int depth)
{
	size_t length;
	const char *text;
	if (w->refusal)
		return 0;
	if (++w->entries > ENTRIES_MOST)
		w->refusal = "holds more than 65536 entries";
	else if (!lua_checkstack(w->L, 6))
		w->refusal = "needs more memory than there is";
	switch (lua_type(w->L, index)) {
	case LUA_TNIL:
		return mix(w, 'z', 0);
	case LUA_TBOOLEAN:
		return mix(w, 'o', (uint64_t)lua_toboolean(w->L, index));
	case LUA_TNUMBER:
		return digest_number(w, index);
	case LUA_TSTRING:
		text = lua_tolstring(w->L, index, &length);
		return digest_bytes(w, 's', text, length);
	case LUA_TTABLE:
		if (hs_table_marked(w->L, index))
			break;
		return w->refusal ? 0 : digest_walked(w, index, depth);
	case LUA_TFUNCTION:
		return w->refusal ? 0 : digest_walked(w, index, depth);
	case LUA_TUSERDATA:
	case LUA_TLIGHTUSERDATA:
		break;
	default:
		w->refusal = "is of a kind that cannot be watched";
	}
	/* Sealed tables and the bindings' own values cannot be changed from Lua: which one it is says all. */
	return mix(w, 'p', (uintptr_t)lua_topointer(w->L, index));
}

static void place_function(hs_sandbox *sandbox, hs_error *error)
{
	lua_Debug ar;
	if (!error)
		return;
	lua_pushvalue(sandbox->L, -1);
	lua_getinfo(sandbox->L, ">S", &ar);
	if (ar.source[0] == '@')
		hs_error_place(sandbox, error, ar.source + 1, ar.linedefined);
}

static void refuse_kind(hs_sandbox *sandbox, const char *name, const char *why, hs_error *error)
{
	hs_fail(error, HS_BAD_INPUT,
	        "what the function here keeps in `%.60s` %s, so nobody could tell "
	        "whether it changes",
	        name, why);
	hs_fail_hint(error, "use what the function is given, and small tables of texts and numbers");
	place_function(sandbox, error);
}

static bool name_change(hs_sandbox *sandbox, const char *name, hs_error *error)
{
	hs_error placed = {0};
	place_function(sandbox, &placed);
	hs_fail(error, HS_BAD_INPUT,
	        "the function at %s:%d changed its upvalue `%.60s`; a function keeps "
	        "nothing between calls",
	        placed.file, placed.line, name);
	hs_fail_hint(error, "make `%.60s` a local inside the function, or return what is to be kept", name);
	place_function(sandbox, error);
	return false;
}

/* With the function on top: the digest of upvalue i, its name in *name; false when there is no such upvalue. */
static bool digest_upvalue(walk *w, int i, const char **name, uint64_t *digest)
{
	*name = lua_getupvalue(w->L, -1, i);
	if (!*name)
		return false;
	*digest = digest_value(w, lua_gettop(w->L), 1);
	lua_pop(w->L, 1);
	return true;
}

static walk start_walk(hs_sandbox *sandbox)
{
	return (walk){.L = sandbox->L, .key = sandbox->seals->key};
}

static hs_seals *seals_of(hs_sandbox *sandbox)
{
	if (sandbox->seals)
		return sandbox->seals;
	sandbox->seals = hs_alloc(sizeof *sandbox->seals);
	/* Without random bytes the address still differs from run to run. */
	if (getrandom(sandbox->seals->key, sizeof sandbox->seals->key, GRND_NONBLOCK) < 0)
		sandbox->seals->key[0] = stir((uintptr_t)sandbox);
	return sandbox->seals;
}

static bool push_function(hs_sandbox *sandbox, int ref, hs_error *error)
{
	if (!lua_checkstack(sandbox->L, 8))
		return hs_fail(error, HS_BUDGET, "the %s has no memory left to look at a function", sandbox->what);
	if (lua_rawgeti(sandbox->L, LUA_REGISTRYINDEX, ref) == LUA_TFUNCTION)
		return true;
	lua_pop(sandbox->L, 1);
	return hs_fail(error, HS_BAD_INPUT, "there is no function under reference %d to be sealed", ref);
}

static sealed *find_seal(hs_seals *seals, int ref)
{
	size_t low = 0, high = seals->count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (seals->items[middle].ref < ref)
			low = middle + 1;
		else
			high = middle;
	}
	return low < seals->count && seals->items[low].ref == ref ? &seals->items[low] : NULL;
}

/* Kept in order of the references, to be found quickly. */
static void keep_seal(hs_seals *seals, sealed item)
{
	sealed *old = find_seal(seals, item.ref);
	if (old) {
		free(old->digests);
		*old = item;
		return;
	}
	seals->items = hs_grow(seals->items, &seals->room, seals->count + 1, sizeof *seals->items);
	size_t at = seals->count++;
	for (; at > 0 && seals->items[at - 1].ref > item.ref; at--)
		seals->items[at] = seals->items[at - 1];
	seals->items[at] = item;
}

bool hs_seal_function(hs_sandbox *sandbox, int ref, hs_error *error)
{
	uint64_t digests[UPVALUES_MOST];
	const char *name;
	sealed item = {.ref = ref};
	hs_seals *seals = seals_of(sandbox);
	if (!push_function(sandbox, ref, error))
		return false;
	walk w = start_walk(sandbox);
	while (item.count < UPVALUES_MOST && digest_upvalue(&w, item.count + 1, &name, &digests[item.count])) {
		item.count++;
		if (w.refusal) {
			refuse_kind(sandbox, name, w.refusal, error);
			break;
		}
	}
	lua_pop(sandbox->L, 1);
	free(w.seen);
	if (w.refusal)
		return false;
	item.digests = hs_alloc((size_t)item.count * sizeof *item.digests);
	memcpy(item.digests, digests, (size_t)item.count * sizeof *item.digests);
	keep_seal(seals, item);
	return true;
}

bool hs_seal_check(hs_sandbox *sandbox, int ref, hs_error *error)
{
	const char *name;
	uint64_t digest;
	bool good = true;
	hs_seals *seals = seals_of(sandbox);
	const sealed *item = find_seal(seals, ref);
	if (!item)
		return hs_fail(error, HS_BAD_INPUT, "the function under reference %d was never sealed", ref);
	if (item->count == 0)
		return true;
	if (!push_function(sandbox, ref, error))
		return false;
	walk w = start_walk(sandbox);
	for (int i = 0; i < item->count && good; i++)
		if (!digest_upvalue(&w, i + 1, &name, &digest) || w.refusal || digest != item->digests[i])
			good = name_change(sandbox, name ? name : "?", error);
	lua_pop(sandbox->L, 1);
	free(w.seen);
	return good;
}
