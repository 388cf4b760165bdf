/* A unit played, from inside: what it is made of, and what its line-ups say. Inside core/sim only. */
#ifndef HALFSPLIT_CORE_SIM_SIM_PARTS_H
#define HALFSPLIT_CORE_SIM_SIM_PARTS_H

#include "halfsplit/sim/sim.h"

typedef struct hs_sim_way hs_sim_way; /* to a reading's point, looked up once for as long as the unit stands so */

struct hs_sim {
	const hs_playbook *playbook;
	hs_sim_fault fault;
	uint64_t seed;
	int suspects[2], modes[2]; /* of its faults */
	size_t faults;
	bool cured[2];
	uint64_t answered;   /* readings and looks so far: what is intermittent is drawn for each */
	double powered_min;  /* how warm it is */
	int timed;           /* the step whose minutes are counted already, -1 */
	int turned;          /* readings taken at the adjust step under way */
	int turning;         /* that step, -1 */
	hs_sim_way **ways;   /* by slot of the reading; NULL: not asked yet */
	double **deviations; /* by line-up: of this very unit */
	bool *deviates;      /* by line-up: they have been drawn in this run */
};

/* From -1 to 1, the same for the same name all through a run. */
double hs_sim_drawn(const hs_sim *sim, const char *name, uint64_t more);
/* Whether one of its faults is there in the reading that is taken now: it is not cured, and not away for the moment. */
bool hs_sim_fault_acts(const hs_sim *sim, size_t fault);
bool hs_sim_any_acts(const hs_sim *sim);

void hs_sim_lines_begin(hs_sim *sim);
void hs_sim_lines_free(hs_sim *sim);

/*
 * What a line-up gives at a reading's point, in the reading's unit. *says is false when none knows of it. False with an error when the step
 * says that one does, and it does not.
 */
bool hs_sim_line_level(hs_sim *sim, const hs_engine *engine, const hs_step *step, const hs_reading *reading, bool *says, hs_quantity *out,
                       hs_error *error);

#endif
