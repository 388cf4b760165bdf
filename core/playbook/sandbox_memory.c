/*
 * The memory of a sandbox. Lua makes thousands of small blocks and tells the size of each when it gives it back, so they
 * are cut off larger pieces and wait in a list for each size until one is wanted again: that takes a tenth of the time
 * of malloc. A piece is given back when the sandbox closes.
 */
#include <stdalign.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/alloc.h"
#include "sandbox_impl.h"

/* A sanitizer watches only what malloc gave, so it gets to see every block. */
#if defined __SANITIZE_ADDRESS__
#define SMALL_MOST 0
#elif defined __has_feature
#if __has_feature(address_sanitizer)
#define SMALL_MOST 0
#endif
#endif
#ifndef SMALL_MOST
#define SMALL_MOST ((size_t)HS_SMALL_SIZES * HS_SMALL_GRAIN)
#endif

enum {
	/* Each refusal makes Lua collect all garbage and ask again; a playbook living at the brink would do nothing else. */
	REFUSALS_MOST = 100,
	PIECE = 32 * 1024
};

struct hs_idle {
	struct hs_idle *next;
};

struct hs_piece {
	alignas(max_align_t) struct hs_piece *next;
	alignas(max_align_t) unsigned char bytes[PIECE];
};

static bool refused(hs_sandbox *sandbox, size_t growth, bool too_long)
{
	bool injected = sandbox->fail_at > 0 && ++sandbox->allocations >= sandbox->fail_at;
	if (!injected && !too_long && sandbox->refusals < REFUSALS_MOST && growth <= sandbox->memory_most &&
	    sandbox->memory_used <= sandbox->memory_most - growth)
		return false;
	sandbox->refusals++;
	sandbox->refused_text = too_long;
	/* Walking the call list reads only: it is as it was before the instruction that wants the memory. */
	if (sandbox->L)
		hs_sandbox_where(sandbox->L, 1, &sandbox->refused_at.file, &sandbox->refused_at.line);
	return true;
}

static bool small(size_t size)
{
	return size <= SMALL_MOST;
}

static size_t list_of(size_t size)
{
	return (size - 1) / HS_SMALL_GRAIN;
}

/* What a new block adds to the memory used: nothing when it comes out of a piece that is there. */
static size_t growth_by(const hs_sandbox *sandbox, size_t size)
{
	if (!small(size))
		return size;
	size_t list = list_of(size);
	return sandbox->idle[list] || sandbox->piece_left >= (list + 1) * HS_SMALL_GRAIN ? 0 : sizeof(struct hs_piece);
}

static void *take_small(hs_sandbox *sandbox, size_t size)
{
	size_t list = list_of(size), whole = (list + 1) * HS_SMALL_GRAIN;
	struct hs_idle *idle = sandbox->idle[list];
	if (idle) {
		sandbox->idle[list] = idle->next;
		return idle;
	}
	if (sandbox->piece_left < whole) {
		struct hs_piece *piece = hs_realloc(NULL, sizeof *piece);
		piece->next = sandbox->pieces;
		sandbox->pieces = piece;
		sandbox->piece_left = sizeof piece->bytes;
	}
	sandbox->piece_left -= whole;
	return sandbox->pieces->bytes + sandbox->piece_left;
}

static void *take(hs_sandbox *sandbox, size_t size)
{
	size_t growth = growth_by(sandbox, size);
	void *block = small(size) ? take_small(sandbox, size) : malloc(size);
	if (block)
		sandbox->memory_used += growth;
	return block;
}

static void give_back(hs_sandbox *sandbox, void *block, size_t size)
{
	if (!block || size == 0)
		return;
	if (!small(size)) {
		sandbox->memory_used -= size;
		free(block);
		return;
	}
	struct hs_idle *idle = block;
	idle->next = sandbox->idle[list_of(size)];
	sandbox->idle[list_of(size)] = idle;
}

static void *resize_large(hs_sandbox *sandbox, void *old, size_t old_size, size_t size)
{
	void *block = realloc(old, size);
	/* Lua relies on a block never failing to shrink. */
	if (!block && size <= old_size)
		block = old;
	if (block)
		sandbox->memory_used = sandbox->memory_used - old_size + size;
	return block;
}

void *hs_sandbox_alloc(void *context, void *old, size_t old_size, size_t size)
{
	hs_sandbox *sandbox = context;
	/* For a new block Lua passes its kind in place of the old size. */
	bool too_long = !old && old_size == LUA_TSTRING && size > HS_STRING_MOST;
	if (!old)
		old_size = 0;
	if (size == 0) {
		give_back(sandbox, old, old_size);
		return NULL;
	}
	bool both_large = old_size && !small(old_size) && !small(size);
	if (size > old_size && refused(sandbox, both_large ? size - old_size : growth_by(sandbox, size), too_long))
		return NULL;
	if (both_large)
		return resize_large(sandbox, old, old_size, size);
	if (old_size && small(old_size) && small(size) && list_of(old_size) == list_of(size))
		return old;
	void *block = take(sandbox, size);
	if (block && old_size) {
		memcpy(block, old, old_size < size ? old_size : size);
		give_back(sandbox, old, old_size);
	}
	return block;
}

void hs_sandbox_free_pieces(hs_sandbox *sandbox)
{
	while (sandbox->pieces) {
		struct hs_piece *next = sandbox->pieces->next;
		free(sandbox->pieces);
		sandbox->pieces = next;
	}
}
