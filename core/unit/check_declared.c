/* Voltages that a playbook reads and its unit does not know of: no gate would ask about them. */
#include <math.h>
#include "check_live.h"
#include "halfsplit/unit/hazard.h"

/* Nothing in this zone, or outside nothing in the whole unit, is declared to be above extra-low voltage. */
static bool is_unaware(const hs_bench_unit *unit, int zone)
{
	if (zone >= 0)
		return !hs_zone_is_hazardous(unit, zone);
	for (int i = 0; i < unit->zone_count; i++)
		if (hs_zone_is_hazardous(unit, i))
			return false;
	return true;
}

static void complain(hs_problems *problems, hs_where where, const char *what, const char *id, double volts, const char *unit, bool outside)
{
	hs_problem *problem = hs_problem_add(problems, HS_ERROR, where, "%s \"%s\" is at %.4g %s, and the unit declares nothing %s that is above extra-low voltage",
	                                     what, id, volts, unit, outside ? "at all" : "in that zone");
	hs_problem_hint(problem, "declare where it comes from, as in rails = { HT = \"%.4g V\" }: without that no gate asks about it", volts);
}

void hs_check_points_declared(const hs_bench_unit *unit, hs_problems *problems)
{
	for (int i = 0; i < unit->point_count; i++) {
		const hs_point *point = &unit->points[i];
		if (fabs(point->dc_v) > HS_ELV_DC_VOLTS && is_unaware(unit, point->zone))
			complain(problems, point->where, "the point", point->id, fabs(point->dc_v), "V", point->zone < 0);
	}
}

void hs_check_reading_declared(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading, hs_problems *problems)
{
	hs_measurand reads = hs_reading_measurand(reading);
	bool ac = reads == HS_READS_AC_VOLTS;
	const hs_point *point = reading->point >= 0 ? &playbook->unit.points[reading->point] : NULL;
	if ((!ac && reads != HS_READS_VOLTS) || !reading->has_limits || reading->limits.unit != HS_VOLT || reading->loose || point == NULL || point->has_gives)
		return;
	double low = reading->limits.has_low ? fabs(reading->limits.low) : 0.0, high = reading->limits.has_high ? fabs(reading->limits.high) : 0.0;
	/* What is said of the point is told there. */
	if (fmax(low, high) > (ac ? HS_ELV_AC_VOLTS : HS_ELV_DC_VOLTS) && !(fabs(point->dc_v) > HS_ELV_DC_VOLTS) && is_unaware(&playbook->unit, point->zone))
		complain(problems, reading->where, "the reading of", step->id, fmax(low, high), ac ? "V AC" : "V", point->zone < 0);
}
