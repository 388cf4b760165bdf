#include "halfsplit/model/unit.h"

#include <string.h>

bool hs_power_is_live(hs_power power)
{
	return power == HS_POWER_KEYED || power == HS_POWER_ON || power == HS_POWER_STANDBY;
}

const char *hs_power_name(hs_power power)
{
	static const char *const names[HS_POWER_COUNT] = {
	    "unknown", "keyed", "on", "standby", "off", "disconnected", "secured", "waited", "proved dead", "shorted"};
	return (unsigned)power < HS_POWER_COUNT ? names[power] : "unknown";
}

static const char *const need_names[HS_NEED_COUNT] = {"any", "dead", "off", "standby", "on", "keyed"};

const char *hs_need_name(hs_need need)
{
	return (unsigned)need < HS_NEED_COUNT ? need_names[need] : "any";
}

bool hs_need_find(const char *name, hs_need *out)
{
	for (int i = 0; i < HS_NEED_COUNT; i++)
		if (strcmp(name, need_names[i]) == 0) {
			*out = (hs_need)i;
			return true;
		}
	return false;
}

static const char *const openable_names[HS_OPEN_KINDS] = {"cover",     "link",         "lifted leg",         "short",
                                                          "open port", "broken joint", "defeated interlock", "pad"};

const char *hs_openable_name(hs_openable_kind kind)
{
	return (unsigned)kind < HS_OPEN_KINDS ? openable_names[kind] : "change";
}

bool hs_openable_find(const char *name, hs_openable_kind *out)
{
	for (int i = 0; i < HS_OPEN_KINDS; i++)
		if (strcmp(name, openable_names[i]) == 0) {
			*out = (hs_openable_kind)i;
			return true;
		}
	return false;
}

int hs_unit_openable(const hs_bench_unit *unit, const char *id)
{
	for (int i = 0; i < unit->openable_count; i++)
		if (strcmp(unit->openables[i].id, id) == 0)
			return i;
	return -1;
}

int hs_unit_control(const hs_bench_unit *unit, const char *id)
{
	for (int i = 0; i < unit->control_count; i++)
		if (strcmp(unit->controls[i].id, id) == 0)
			return i;
	return -1;
}

int hs_unit_point(const hs_bench_unit *unit, const char *id)
{
	for (int i = 0; i < unit->point_count; i++)
		if (strcmp(unit->points[i].id, id) == 0)
			return i;
	return -1;
}

int hs_unit_zone(const hs_bench_unit *unit, const char *id)
{
	for (int i = 0; i < unit->zone_count; i++)
		if (strcmp(unit->zones[i].id, id) == 0)
			return i;
	return -1;
}

int hs_unit_danger(const hs_bench_unit *unit, const char *id)
{
	for (int i = 0; i < unit->danger_count; i++)
		if (strcmp(unit->dangers[i].id, id) == 0)
			return i;
	return -1;
}
