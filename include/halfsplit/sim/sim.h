/*
 * The simulated unit: what a unit with one fault, or none, shows where a playbook reads and looks; typed as a person would, who does as
 * asked at every gate.
 *
 * What it shows comes from, in this order: what the suspect's mode says (shows); the line-up that a reading is expected by, or that has its
 * point and what the step puts in, with the mode's effect on its element; what a unit in order says (healthy); the middle of the limits that a
 * step judges by. Deviations of elements within their tolerances are drawn once for a run. The errors of instruments and leads are drawn once for a run, because they stay what they are from one reading to the
 * next; so they cancel in a difference, as they do at the bench. An intermittent
 * mode is drawn anew for each reading or look; a drift grows with the minutes that the steps say the unit was powered, and goes back as
 * it stands off. Equal seeds give equal runs; seed 0 draws nothing: all is nominal, and what is intermittent is there.
 */
#ifndef HALFSPLIT_SIM_SIM_H
#define HALFSPLIT_SIM_SIM_H

#include "halfsplit/engine/engine.h"

/* A fault by its numbers in the playbook; suspect -1: a unit in order, with mode 0 one whose symptom was seen all the same. */
typedef struct hs_sim_fault {
	int suspect, mode;
	int pair;          /* two faults at once: their number among the playbook's doubles, from 1, and then suspect and mode are the first; 0: one */
} hs_sim_fault;
#define HS_SIM_IN_ORDER    ((hs_sim_fault){.suspect = -1, .mode = -1})
#define HS_SIM_FALSE_ALARM ((hs_sim_fault){.suspect = -1, .mode = 0})

/* The faults in it, one after the other: writes at most 2 suspects and modes, and says how many. */
size_t hs_sim_fault_parts(const hs_playbook *playbook, hs_sim_fault fault, int suspects[2], int modes[2]);

/*
 * "fuse/open", "fuse" (its first mode), "none", "none/symptom", "a1/dead + psu/low" as the playbook lists it. HS_BAD_INPUT names the nearest
 * suspect or mode.
 */
bool hs_sim_fault_find(const hs_playbook *playbook, const char *name, hs_sim_fault *out, hs_error *error);
void hs_sim_fault_name(const hs_playbook *playbook, hs_sim_fault fault, hs_buf *out); /* "fuse/open", "none" */

/* Seeds that draw nothing by chance: every deviation at its upper end, or at its lower. */
#define HS_SIM_UPPER UINT64_MAX
#define HS_SIM_LOWER (UINT64_MAX - 1)

typedef struct hs_sim hs_sim;

hs_sim *hs_sim_new(const hs_playbook *playbook); /* the playbook must outlive it */
void hs_sim_free(hs_sim *sim);                   /* accepts NULL */
void hs_sim_begin(hs_sim *sim, hs_sim_fault fault, uint64_t seed); /* a new run */

/*
 * What is typed at an ask. False with HS_BAD_INPUT: nothing says what the unit shows there; the message says where to write it.
 */
bool hs_sim_answer(hs_sim *sim, const hs_engine *engine, const hs_ask *ask, hs_buf *text, hs_error *error);

/* A reading as a value, for who has no use for text. */
bool hs_sim_reading(hs_sim *sim, const hs_engine *engine, const hs_ask *ask, hs_entry *entry, hs_error *error);

/* Tells the unit that the ask was answered and taken: a part that is replaced cures what it cures, and time goes on. */
void hs_sim_done(hs_sim *sim, const hs_engine *engine, const hs_ask *ask);

bool hs_sim_cured(const hs_sim *sim); /* of all its faults */

#endif
