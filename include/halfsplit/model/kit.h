/* The shop's own hookup parts and instruments, as its kit file lists them. Immutable once read; owns an arena. */
#ifndef HALFSPLIT_MODEL_KIT_H
#define HALFSPLIT_MODEL_KIT_H

#include "halfsplit/lineup/hookup.h"
#include "halfsplit/model/problem.h"
#include "halfsplit/model/shop.h"

/* A role of playbooks bound to a hookup of this kit. */
typedef struct hs_binding {
	const char *role;
	const char *const *scopes; /* ids of playbooks, folders of playbooks ("fell"), or families ("Tarnbeck Fell") */
	size_t scope_count;        /* 0: every playbook */
	const hs_hookup *hookup;
	hs_where where;
} hs_binding;

/* Something that gives a level the shop knows well: instruments are shown good on it. */
typedef struct hs_known {
	const char *id, *title, *serial, *due;
	hs_measurand reads;   /* what is read on it */
	hs_quantity level;    /* in the measurand's unit */
	double freq_hz;       /* 0: DC, or not stated */
	hs_accuracy u;
	hs_where where;
} hs_known;

typedef struct hs_kit {
	hs_arena *arena;
	hs_part **parts;
	size_t part_count, part_room;
	hs_hookup **hookups;
	size_t hookup_count, hookup_room;
	hs_known **knowns;
	size_t known_count, known_room;
	hs_binding *bindings;
	size_t binding_count, binding_room;
	const hs_shop *shop;  /* what the shop tightened; NULL: nothing */
} hs_kit;

hs_kit *hs_kit_new(void);
void hs_kit_free(hs_kit *kit); /* accepts NULL */
const hs_part *hs_kit_part(const hs_kit *kit, const char *id);       /* NULL when there is none */
const hs_hookup *hs_kit_hookup(const hs_kit *kit, const char *id);   /* also an instrument's id alone; NULL when there is none */
void hs_kit_add_part(hs_kit *kit, hs_part *part);
void hs_kit_add_hookup(hs_kit *kit, hs_hookup *hookup);
void hs_kit_add_known(hs_kit *kit, hs_known *known);
/*
 * The kit's first known source of this kind that the hookup's instrument can read and stand; NULL when there is none. kit and hookup may
 * be NULL.
 */
const hs_known *hs_kit_known_for(const hs_kit *kit, const hs_hookup *hookup, hs_measurand reads);
void hs_kit_add_binding(hs_kit *kit, const hs_binding *binding);
/*
 * What the shop bound a role to for this playbook; a binding for the playbook itself goes before one for its folder or family, and that
 * before one for all. NULL when none fits. playbook_id and family may be NULL.
 */
const hs_binding *hs_kit_binding(const hs_kit *kit, const char *role, const char *playbook_id, const char *family);
/* The names hs_kit_hookup knows, for "did you mean": static until the kit changes; free() the array. */
const char **hs_kit_hookup_names(const hs_kit *kit, size_t *count);

#endif
