/* What is to be laid out before a playbook is begun, and what of it this shop lacks. */
#ifndef HALFSPLIT_CORE_CLI_LAYOUT_H
#define HALFSPLIT_CORE_CLI_LAYOUT_H

#include "bench.h"
#include "halfsplit/model/minutes.h"

typedef struct hs_lines_of {
	const char **items;
	size_t count, room;
} hs_lines_of;

/* One hookup as the playbook names it. */
typedef struct hs_laid_lead {
	const char *name;
	const hs_role *role;     /* NULL: the playbook says no more than the name */
	const hs_hookup *hookup; /* NULL: this kit has none */
	const char *drawn;       /* with the first use's losses; NULL when unbound */
	hs_lines_of points;      /* where it goes on, each once */
	hs_lines_of misses;      /* of what the role asks */
	hs_lines_of fit;         /* unbound: hookups of the kit that miss nothing */
} hs_laid_lead;

typedef struct hs_layout {
	hs_arena *arena;
	hs_laid_lead *leads;
	size_t lead_count, lead_room;
	const hs_part **instruments;
	size_t instrument_count, instrument_room;
	hs_lines_of knowns, pictures, adapters, terminations, loads, drivers, tools, consumables, helpers, covers, changes;
	hs_lines_of overdue;
	hs_lines_of missing; /* without one of these a run does not begin, or does not get far */
	hs_minutes minutes;
} hs_layout;

/* playbook: checked without errors. kit may be NULL. today: "2027-03-31", for what is overdue. Begins with {0}. */
void hs_layout_make(hs_layout *layout, const hs_playbook *playbook, const hs_kit *kit, const char *today);
void hs_layout_free(hs_layout *layout);

/*
 * Writes a binding to the end of the kit file, for the playbook's folder (or for itself when it lies in none): "ROLE=HOOKUP". The whole
 * new file is read as a kit before it takes the place of the old one, which is never changed itself; nothing happens when the file is
 * not as it was read, cannot be written, or binds the role already. HS_BAD_INPUT or HS_IO.
 */
bool hs_layout_bind(const char *kit_path, const hs_playbook *playbook, const hs_kit *kit, const char *wish, hs_error *error);

#endif
