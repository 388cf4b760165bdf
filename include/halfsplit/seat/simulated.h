/*
 * The simulated unit as a seat: what a unit with a fault shows, typed as a person would who does as asked at every gate. Its clock is virtual,
 * as that of an answers file: it jumps to the earliest allowed time of an ask and else goes on by one second an answer. Equal seeds give the
 * same run. What it answers is a rehearsal, always.
 */
#ifndef HALFSPLIT_SEAT_SIMULATED_H
#define HALFSPLIT_SEAT_SIMULATED_H

#include <stdio.h>
#include "halfsplit/seat/seat.h"
#include "halfsplit/sim/sim.h"

/*
 * The playbook must outlive the seat, and be the one that is run. It prints to `out` (NULL: prints nothing) what a person would have seen. An
 * answer that is not taken ends the run (HS_BAD_INPUT): the unit would show the same again.
 */
hs_seat *hs_simulated_seat(const hs_playbook *playbook, hs_sim_fault fault, uint64_t seed, int64_t epoch_utc_ms, FILE *out);

#endif
