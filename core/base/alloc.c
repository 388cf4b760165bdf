#include "halfsplit/base/alloc.h"

#include <stdalign.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static _Noreturn void out_of_memory(size_t size)
{
	fprintf(stderr, "halfsplit: out of memory (%zu bytes were wanted); every acknowledged answer is on disk\n",
	        size);
	exit(3);
}

void *hs_alloc(size_t size)
{
	void *new = calloc(1, size ? size : 1);
	if (!new)
		out_of_memory(size);
	return new;
}

void *hs_realloc(void *old, size_t size)
{
	void *new = realloc(old, size ? size : 1);
	if (!new)
		out_of_memory(size);
	return new;
}

char *hs_strdup(const char *text)
{
	size_t size = strlen(text) + 1;
	return memcpy(hs_alloc(size), text, size);
}

void *hs_grow(void *items, size_t *room, size_t need, size_t item_size)
{
	if (need <= *room)
		return items;
	size_t more = *room > SIZE_MAX / 2 ? need : *room * 2;
	if (more < need)
		more = need;
	if (more < 8)
		more = 8;
	if (more > SIZE_MAX / item_size)
		out_of_memory(SIZE_MAX);
	items = hs_realloc(items, more * item_size);
	*room = more;
	return items;
}

/* Many arenas hold a few names only, so the first block is small and each further one twice as large, up to a limit. */
enum { FIRST_BLOCK = 1024, BLOCK_MOST = 16 * 1024 };

typedef struct block {
	struct block *next;
	size_t used;
	size_t room;
	alignas(max_align_t) unsigned char bytes[];
} block;

struct hs_arena {
	block *first;
	size_t next_room; /* of the next block */
};

hs_arena *hs_arena_new(void)
{
	hs_arena *arena = hs_alloc(sizeof(hs_arena));
	arena->next_room = FIRST_BLOCK;
	return arena;
}

void hs_arena_free(hs_arena *arena)
{
	if (!arena)
		return;
	for (block *at = arena->first; at;) {
		block *next = at->next;
		free(at);
		at = next;
	}
	free(arena);
}

static block *block_new(size_t room)
{
	if (room > SIZE_MAX - sizeof(block))
		out_of_memory(SIZE_MAX);
	block *new = hs_alloc(sizeof(block) + room);
	new->room = room;
	return new;
}

/* A block for many items. */
static block *block_next(hs_arena *arena, size_t padded)
{
	while (arena->next_room < padded)
		arena->next_room *= 2;
	block *new = block_new(arena->next_room);
	if (arena->next_room < BLOCK_MOST)
		arena->next_room *= 2;
	new->next = arena->first;
	arena->first = new;
	return new;
}

/* A block for one big item stands behind the first, so that the room left in the first is not lost. */
static block *block_big(hs_arena *arena, size_t padded)
{
	block *new = block_new(padded);
	block **place = arena->first ? &arena->first->next : &arena->first;
	new->next = *place;
	*place = new;
	return new;
}

void *hs_arena_alloc(hs_arena *arena, size_t size)
{
	const size_t align = alignof(max_align_t);
	if (size > SIZE_MAX - align)
		out_of_memory(size);
	size_t padded = size ? (size + align - 1) / align * align : align;
	block *at = arena->first;
	if (!at || at->room - at->used < padded)
		at = padded > BLOCK_MOST / 2 ? block_big(arena, padded) : block_next(arena, padded);
	void *item = at->bytes + at->used;
	at->used += padded;
	return item;
}

char *hs_arena_strn(hs_arena *arena, const char *text, size_t length)
{
	char *copy = hs_arena_alloc(arena, length + 1);
	memcpy(copy, text, length);
	return copy;
}

char *hs_arena_str(hs_arena *arena, const char *text)
{
	return text ? hs_arena_strn(arena, text, strlen(text)) : NULL;
}

char *hs_arena_printf(hs_arena *arena, const char *format, ...)
{
	va_list args, again;
	va_start(args, format);
	va_copy(again, args);
	char shorter[128];
	int length = vsnprintf(shorter, sizeof shorter, format, args);
	va_end(args);
	char *text = hs_arena_alloc(arena, length < 0 ? 1 : (size_t)length + 1);
	if (length > 0 && (size_t)length < sizeof shorter)
		memcpy(text, shorter, (size_t)length);
	else if (length > 0)
		vsnprintf(text, (size_t)length + 1, format, again);
	va_end(again);
	return text;
}
