/* Faults by name. */
#include <stdlib.h>
#include <string.h>

#include "halfsplit/base/alloc.h"
#include "halfsplit/sim/sim.h"

static bool no_suspect(const hs_playbook *playbook, const char *name, hs_error *error)
{
	const char **known = hs_alloc((playbook->suspect_count + 1) * sizeof *known);
	for (size_t i = 0; i < playbook->suspect_count; i++)
		known[i] = playbook->suspects[i].id;
	const char *nearest = hs_nearest(name, known, playbook->suspect_count);
	hs_fail(error, HS_BAD_INPUT, "this playbook has no suspect \"%.64s\"", name);
	hs_fail_hint(error, nearest != NULL ? "did you mean \"%s\"?" : "SUSPECT/MODE is wanted, or none for a unit in order", nearest);
	free(known);
	return false;
}

static bool no_mode(const hs_suspect *suspect, const char *name, hs_error *error)
{
	const char *nearest = hs_nearest(name, suspect->modes, suspect->mode_count);
	hs_fail(error, HS_BAD_INPUT, "the suspect \"%s\" has no mode \"%.64s\"", suspect->id, name);
	if (nearest != NULL)
		hs_fail_hint(error, "did you mean \"%s\"?", nearest);
	else if (suspect->mode_count > 0)
		hs_fail_hint(error, "its first is \"%s\"", suspect->modes[0]);
	return false;
}

size_t hs_sim_fault_parts(const hs_playbook *playbook, hs_sim_fault fault, int suspects[2], int modes[2])
{
	suspects[0] = fault.suspect;
	modes[0] = fault.mode;
	if (fault.suspect < 0 || fault.pair == 0)
		return fault.suspect >= 0;
	suspects[1] = playbook->doubles[fault.pair - 1].suspect[1];
	modes[1] = playbook->doubles[fault.pair - 1].mode[1];
	return 2;
}

static bool find_pair(const hs_playbook *playbook, const char *name, hs_sim_fault *out)
{
	bool found = false;
	for (size_t i = 0; !found && i < playbook->double_count; i++) {
		const hs_double_fault *both = &playbook->doubles[i];
		hs_buf text;
		hs_buf_init(&text);
		hs_sim_fault fault = {.suspect = both->suspect[0], .mode = both->mode[0], .pair = (int)i + 1};
		hs_sim_fault_name(playbook, fault, &text);
		found = hs_same_word(text.data, name);
		*out = found ? fault : *out;
		hs_buf_free(&text);
	}
	return found;
}

bool hs_sim_fault_find(const hs_playbook *playbook, const char *name, hs_sim_fault *out, hs_error *error)
{
	*out = HS_SIM_IN_ORDER;
	if (hs_same_word(name, "none"))
		return true;
	if (hs_same_word(name, "none/symptom")) {
		*out = HS_SIM_FALSE_ALARM;
		return true;
	}
	if (find_pair(playbook, name, out))
		return true;
	const char *slash = strchr(name, '/');
	char id[80];
	hs_copy(id, sizeof id, name);
	if (slash != NULL && (size_t)(slash - name) < sizeof id)
		id[slash - name] = '\0';
	out->suspect = hs_playbook_suspect(playbook, id);
	if (out->suspect < 0)
		return no_suspect(playbook, id, error);
	const hs_suspect *suspect = &playbook->suspects[out->suspect];
	out->mode = suspect->mode_count > 0 && slash == NULL ? 0 : -1;
	for (size_t i = 0; slash != NULL && i < suspect->mode_count; i++)
		if (hs_same_word(suspect->modes[i], slash + 1))
			out->mode = (int)i;
	return out->mode >= 0 || no_mode(suspect, slash != NULL ? slash + 1 : "", error);
}

void hs_sim_fault_name(const hs_playbook *playbook, hs_sim_fault fault, hs_buf *out)
{
	if (fault.suspect < 0) {
		hs_buf_str(out, fault.mode == 0 ? "none/symptom" : "none");
		return;
	}
	int suspects[2], modes[2];
	size_t count = hs_sim_fault_parts(playbook, fault, suspects, modes);
	for (size_t i = 0; i < count; i++) {
		const hs_suspect *suspect = &playbook->suspects[suspects[i]];
		hs_buf_printf(out, "%s%s/%s", i > 0 ? " + " : "", suspect->id, suspect->modes[modes[i]]);
	}
}
