/*
 * From Lua files to the model: a kit, or a book, which is a playbook together with the sandbox its small functions run
 * in.
 *
 * What is wrong is collected in `problems`, each with the line of the offending key quoted, so that one look shows
 * everything; a file that cannot be read to its end is one more problem. Nothing here raises, and nothing of Lua shows.
 */
#ifndef HALFSPLIT_PLAYBOOK_LOAD_H
#define HALFSPLIT_PLAYBOOK_LOAD_H

#include "halfsplit/model/playbook.h"

typedef struct hs_sources hs_sources; /* playbook/sources.h */
typedef struct hs_book hs_book;

/* Where a problem is said to stand. Rough places are read faster: for what is expected to be clean, and read again if not. */
typedef enum hs_exactness {
	HS_PLACES_EXACT, /* the line of the key */
	HS_PLACES_ROUGH  /* the line where the whole declaration begins */
} hs_exactness;

/*
 * Reads a kit. It refers to nothing of the sources afterwards. NULL and *error when the file does not run to its end
 * (the problem is in the list too). Otherwise the kit, which is fit for use only when `problems` got no errors.
 */
hs_kit *hs_kit_load(hs_sources *sources, hs_exactness places, hs_problems *problems, hs_error *error);

/*
 * Reads a playbook and binds its hookups to the kit; with kit NULL they stay unbound. The sources and the kit must
 * outlive the book. NULL and *error as above. The graph is not checked yet: hs_playbook_check (model/playbook.h)
 * resolves it, and must come before use.
 */
hs_book *hs_book_open(hs_sources *sources, const hs_kit *kit, hs_exactness places, hs_problems *problems,
                      hs_error *error);
/*
 * Reads a family file: a unit, its points and perhaps suspects, no playbook and no steps; a problem when there are any. The book's
 * playbook is a base for hs_engine_new_freehand and nothing else.
 */
hs_book *hs_book_open_family(hs_sources *sources, const hs_kit *kit, hs_problems *problems, hs_error *error);

void hs_book_free(hs_book *book); /* accepts NULL */

/* Its evaluator runs in the book's sandbox; after it ran out of instructions, memory or time every call fails with that
 * error. */
hs_playbook *hs_book_playbook(hs_book *book);

/* Quotes the source line of every problem that has a place and no quote: those that the model's checks found. */
void hs_problems_quote(hs_problems *problems, const hs_sources *sources);

#endif
