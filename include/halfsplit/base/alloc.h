/*
 * Memory. hs_alloc and friends never return NULL: when memory is gone the process says so and exits with
 * status 3. That is safe because an answer is on disk before it is acknowledged. A size of 0 is allowed.
 *
 * An arena owns everything that lives as long as a playbook or a kit: allocate freely, free once.
 */
#ifndef HALFSPLIT_BASE_ALLOC_H
#define HALFSPLIT_BASE_ALLOC_H

#include <stddef.h>

void *hs_alloc(size_t size);                     /* zeroed; free() it */
void *hs_realloc(void *old, size_t size);        /* new part not zeroed */
char *hs_strdup(const char *text);               /* free() it */

typedef struct hs_arena hs_arena;
hs_arena *hs_arena_new(void);
void hs_arena_free(hs_arena *arena);             /* accepts NULL */
void *hs_arena_alloc(hs_arena *arena, size_t size); /* zeroed, aligned for any type */
char *hs_arena_str(hs_arena *arena, const char *text); /* NULL gives NULL */
char *hs_arena_strn(hs_arena *arena, const char *text, size_t length);
char *hs_arena_printf(hs_arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Grows a malloc'd array so that it holds at least `need` items; doubles. `items` may be NULL with *room 0. */
void *hs_grow(void *items, size_t *room, size_t need, size_t item_size);

#endif
