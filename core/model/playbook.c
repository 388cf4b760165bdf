#include "halfsplit/model/playbook.h"

#include <string.h>

const char *hs_step_kind_name(hs_step_kind kind)
{
	/* As it is written: "do" is a reserved word of Lua. */
	static const char *const names[HS_STEP_KINDS] = {"tell",   "read",    "look",   "act",     "wait",
	                                                 "adjust", "collect", "decide", "replace", "finding",
	                                                 "bench",  "reach"};
	return (unsigned)kind < HS_STEP_KINDS ? names[kind] : "step";
}

int hs_playbook_step(const hs_playbook *playbook, const char *id)
{
	for (size_t i = 0; i < playbook->step_count; i++)
		if (strcmp(playbook->steps[i].id, id) == 0)
			return (int)i;
	return -1;
}

const hs_role *hs_playbook_role(const hs_playbook *playbook, const char *name)
{
	for (size_t i = 0; i < playbook->role_count; i++)
		if (strcmp(playbook->roles[i].name, name) == 0)
			return &playbook->roles[i];
	return NULL;
}

int hs_suspect_mode(const hs_suspect *suspect, const char *name)
{
	for (size_t i = 0; i < suspect->mode_count; i++)
		if (strcmp(suspect->modes[i], name) == 0)
			return (int)i;
	return -1;
}

int hs_playbook_suspect(const hs_playbook *playbook, const char *id)
{
	for (size_t i = 0; i < playbook->suspect_count; i++)
		if (strcmp(playbook->suspects[i].id, id) == 0)
			return (int)i;
	return -1;
}

int hs_playbook_lineup(const hs_playbook *playbook, const char *id)
{
	for (size_t i = 0; i < playbook->lineup_count; i++)
		if (strcmp(playbook->lineups[i].id, id) == 0)
			return (int)i;
	return -1;
}

const char *hs_step_title(const hs_step *step)
{
	return step->title ? step->title : step->id;
}

const char *hs_suspect_title(const hs_suspect *suspect)
{
	return suspect->title ? suspect->title : suspect->id;
}

hs_unit hs_derived_unit(hs_derive derive, hs_unit of)
{
	if (derive == HS_DERIVE_RATIO)
		return HS_UNITLESS;
	return derive == HS_DERIVE_DIFFERENCE && hs_unit_is_level(of) ? HS_DB : of;
}

static hs_measurand measurand_in(hs_unit unit, hs_measurand otherwise)
{
	switch (hs_unit_dimension(unit)) {
	case HS_DIM_POWER: return HS_READS_POWER;
	case HS_DIM_VOLTAGE: return unit == HS_VOLT ? HS_READS_VOLTS : HS_READS_AC_VOLTS;
	case HS_DIM_CURRENT: return HS_READS_AMPS;
	case HS_DIM_RESISTANCE: return HS_READS_OHMS;
	case HS_DIM_CAPACITANCE: return HS_READS_CAPACITANCE;
	case HS_DIM_FREQUENCY: return HS_READS_FREQUENCY;
	case HS_DIM_TIME: return HS_READS_TIME;
	case HS_DIM_TEMPERATURE: return HS_READS_TEMPERATURE;
	default: return otherwise;
	}
}

hs_measurand hs_reading_measurand(const hs_reading *reading)
{
	switch (reading->reads) {
	case HS_READS_PEAK:
	case HS_READS_DIP: return HS_READS_FREQUENCY;
	case HS_READS_TRACE: return HS_READS_POWER;
	case HS_READS_RATE:
	case HS_READS_MINIMUM:
	case HS_READS_MAXIMUM: return measurand_in(reading->unit, reading->reads);
	default: return reading->reads;
	}
}

bool hs_reading_is_word(const hs_reading *reading)
{
	return reading->reads == HS_READS_TREND || reading->reads == HS_READS_TICK || reading->reads == HS_READS_COUNT_OF;
}
