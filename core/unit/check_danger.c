#include "check_danger.h"

#include <string.h>
#include "danger.h"

/* What is warned of where it is not stated, and what is taken instead. */
static const struct {
	hs_danger_kind kind;
	hs_danger_figure figure;
	const char *lacks, *taken;
} unstated[] = {
    {HS_DANGER_CHASSIS, HS_DANGER_VOLTS, "peak to earth", "the highest voltage of the unit, and at least 400 V, is taken; say volts = \"325 V\""},
    {HS_DANGER_TUBES, HS_DANGER_HEATER, "heater time", "5 min are taken; say heater = \"60 s\""},
    {HS_DANGER_CELLS, HS_DANGER_VOLTS, "most volts of a cell", "4.2 V are taken; say most = \"4.2 V\" as the maker does"},
    {HS_DANGER_CELLS, HS_DANGER_LEAST, "least volts of a cell", "3 V are taken; say least = \"3 V\" as the maker does"},
    {HS_DANGER_BATTERY, HS_DANGER_FUSE, "fuse at its source", "10 A at most are taken; say fuse = \"30 A\""},
    {HS_DANGER_LASER, HS_DANGER_DENSITY, "optical density", "7 is taken; say density = 5"},
    {HS_DANGER_HANDLING, HS_DANGER_MASS, "mass", "it counts as too heavy for one; say mass = \"4 kg\""},
};

static void check_stated(const hs_danger *danger, hs_problems *problems)
{
	for (size_t i = 0; i < sizeof unstated / sizeof *unstated; i++) {
		bool weak = danger->kind == HS_DANGER_LASER && !hs_danger_is_strong(danger);
		if (unstated[i].kind != danger->kind || danger->figures[unstated[i].figure] > 0.0 || weak)
			continue;
		hs_problem *problem = hs_problem_add(problems, HS_WARNING, danger->where, "the hazard \"%s\" states no %s", danger->id, unstated[i].lacks);
		hs_problem_hint(problem, "%s", unstated[i].taken);
	}
}

static void check_tubes(const hs_bench_unit *unit, const hs_danger *danger, hs_problems *problems)
{
	hs_problem *problem = NULL;
	if (danger->kind != HS_DANGER_TUBES)
		return;
	if (!(danger->figures[HS_DANGER_VOLTS] > 0.0)) {
		problem = hs_problem_add(problems, HS_ERROR, danger->where, "the high voltage \"%s\" states no volts, so no probe can be shown good for it",
		                         danger->id);
		hs_problem_hint(problem, "state the most it can be: volts = \"3 kV\"");
	}
	if (danger->zone >= 0 && hs_zone_is_hazardous(unit, danger->zone))
		return;
	problem = hs_problem_add(problems, HS_ERROR, danger->where, "the high voltage \"%s\" names no zone with a dangerous voltage in it, so nothing there would be proved dead",
	                         danger->id);
	hs_problem_hint(problem, "name its zone, and declare its line as a rail and its capacitor as a store there");
}

static void check_names(const hs_bench_unit *unit, int at, hs_problems *problems)
{
	for (int i = 0; i < at; i++)
		if (strcmp(unit->dangers[i].id, unit->dangers[at].id) == 0) {
			hs_problem *problem = hs_problem_add(problems, HS_ERROR, unit->dangers[at].where, "the hazard \"%s\" is declared twice", unit->dangers[at].id);
			hs_problem_hint(problem, "give each an id of its own");
		}
}

void hs_check_dangers(const hs_bench_unit *unit, hs_problems *problems)
{
	for (int i = 0; i < unit->danger_count; i++) {
		check_names(unit, i, problems);
		check_stated(&unit->dangers[i], problems);
		check_tubes(unit, &unit->dangers[i], problems);
	}
}

static bool is_powered(hs_need need)
{
	return need == HS_NEED_STANDBY || need == HS_NEED_ON || need == HS_NEED_KEYED;
}

void hs_check_danger_step(const hs_playbook *playbook, const hs_step *step, hs_problems *problems)
{
	const hs_bench_unit *unit = &playbook->unit;
	hs_need need = hs_step_need(playbook, step);
	hs_problem *problem;
	if (step->substances && (is_powered(need) || step->kind != HS_STEP_DO)) {
		problem = hs_problem_add(problems, HS_ERROR, step->where,
		                         is_powered(need) ? "step \"%s\" uses something flammable on the powered unit"
		                                          : "step \"%s\" uses something flammable, and is no act step",
		                         step->id);
		hs_problem_hint(problem, "use it in an act step with power = \"off\"; the plug is out and the air moves before, and power comes back once it is aired");
	}
	uint32_t reached = hs_dangers_reached(playbook, step);
	for (int i = 0; i < unit->danger_count; i++) {
		if (!(reached >> i & 1) || unit->dangers[i].kind != HS_DANGER_LASER || !is_powered(need) || step->kind != HS_STEP_LOOK)
			continue;
		problem = hs_problem_add(problems, HS_ERROR, step->where, "step \"%s\" looks where the laser \"%s\" is, with the source powered", step->id,
		                         unit->dangers[i].id);
		hs_problem_hint(problem, "say power = \"off\"; a fibre or an aperture is never inspected with its source on");
	}
}
