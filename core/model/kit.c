#include "halfsplit/model/kit.h"

#include <stdlib.h>
#include <string.h>

hs_kit *hs_kit_new(void)
{
	hs_kit *kit = hs_alloc(sizeof *kit);
	kit->arena = hs_arena_new();
	return kit;
}

void hs_kit_free(hs_kit *kit)
{
	if (!kit)
		return;
	free(kit->parts);
	free(kit->hookups);
	free(kit->bindings);
	free(kit->knowns);
	hs_arena_free(kit->arena);
	free(kit);
}

const hs_part *hs_kit_part(const hs_kit *kit, const char *id)
{
	for (size_t i = 0; i < kit->part_count; i++)
		if (strcmp(kit->parts[i]->id, id) == 0)
			return kit->parts[i];
	return NULL;
}

const hs_hookup *hs_kit_hookup(const hs_kit *kit, const char *id)
{
	for (size_t i = 0; i < kit->hookup_count; i++)
		if (strcmp(kit->hookups[i]->id, id) == 0)
			return kit->hookups[i];
	return NULL;
}

/* An instrument held to the point with nothing between is a hookup too, under the instrument's own id. */
static void add_alone(hs_kit *kit, const hs_part *instrument)
{
	hs_hookup *alone = hs_arena_alloc(kit->arena, sizeof *alone);
	const hs_part **parts = hs_arena_alloc(kit->arena, sizeof *parts);
	parts[0] = instrument;
	*alone = (hs_hookup){.id = instrument->id,
	                     .parts = parts,
	                     .count = 1,
	                     .instrument = instrument,
	                     .file = instrument->file,
	                     .line = instrument->line};
	hs_kit_add_hookup(kit, alone);
}

void hs_kit_add_part(hs_kit *kit, hs_part *part)
{
	kit->parts = hs_grow(kit->parts, &kit->part_room, kit->part_count + 1, sizeof *kit->parts);
	kit->parts[kit->part_count++] = part;
	if (part->kind == HS_PART_INSTRUMENT)
		add_alone(kit, part);
}

void hs_kit_add_hookup(hs_kit *kit, hs_hookup *hookup)
{
	kit->hookups = hs_grow(kit->hookups, &kit->hookup_room, kit->hookup_count + 1, sizeof *kit->hookups);
	kit->hookups[kit->hookup_count++] = hookup;
}

void hs_kit_add_known(hs_kit *kit, hs_known *known)
{
	kit->knowns = hs_grow(kit->knowns, &kit->known_room, kit->known_count + 1, sizeof *kit->knowns);
	kit->knowns[kit->known_count++] = known;
}

const hs_known *hs_kit_known_for(const hs_kit *kit, const hs_hookup *hookup, hs_measurand reads)
{
	for (size_t i = 0; kit && hookup && hookup->instrument && i < kit->known_count; i++) {
		const hs_known *known = kit->knowns[i];
		const hs_part *instrument = hookup->instrument;
		bool inside = false;
		hs_quantity stands = {0, known->level.unit};
		hs_correction correction;
		if (known->reads != reads || !hs_hookup_range(hookup, reads, known->freq_hz, &known->level, &inside) || !inside)
			continue;
		bool rated = instrument->has_max_rf &&
		             hs_quantity_convert(instrument->max_rf, known->level.unit, instrument->impedance_ohm, &stands, NULL);
		if (hs_hookup_correct(hookup, reads, known->freq_hz, &correction, NULL) && (!rated || known->level.value <= stands.value))
			return known;
	}
	return NULL;
}

void hs_kit_add_binding(hs_kit *kit, const hs_binding *binding)
{
	kit->bindings = hs_grow(kit->bindings, &kit->binding_room, kit->binding_count + 1, sizeof *kit->bindings);
	kit->bindings[kit->binding_count++] = *binding;
}

enum { FITS_NOT, FITS_ALL, FITS_FOLDER, FITS_PLAYBOOK };

static int fits_scope(const char *scope, const char *playbook_id, const char *family)
{
	size_t length = strlen(scope);
	if (playbook_id && strcmp(scope, playbook_id) == 0)
		return FITS_PLAYBOOK;
	if (playbook_id && strncmp(scope, playbook_id, length) == 0 && playbook_id[length] == '/')
		return FITS_FOLDER;
	return family && hs_same_word(scope, family) ? FITS_FOLDER : FITS_NOT;
}

const hs_binding *hs_kit_binding(const hs_kit *kit, const char *role, const char *playbook_id, const char *family)
{
	const hs_binding *best = NULL;
	int fits = FITS_NOT;
	for (size_t i = 0; i < kit->binding_count; i++) {
		const hs_binding *binding = &kit->bindings[i];
		if (strcmp(binding->role, role) != 0)
			continue;
		int here = binding->scope_count == 0 ? FITS_ALL : FITS_NOT;
		for (size_t s = 0; s < binding->scope_count; s++) {
			int scope = fits_scope(binding->scopes[s], playbook_id, family);
			here = scope > here ? scope : here;
		}
		if (here > fits) {
			fits = here;
			best = binding;
		}
	}
	return best;
}

const char **hs_kit_hookup_names(const hs_kit *kit, size_t *count)
{
	const char **names = hs_alloc(kit->hookup_count * sizeof *names);
	for (size_t i = 0; i < kit->hookup_count; i++)
		names[i] = kit->hookups[i]->id;
	*count = kit->hookup_count;
	return names;
}
