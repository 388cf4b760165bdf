/*
 * What the declared energy of a unit amounts to, at its limits: line +10 %, R +10 %, C +20 % unless the part says otherwise.
 *
 * t = R C ln(V0 / 50 V), E = C V^2 / 2. Worked: 400 V, 100 kohm, 100 uF: nominal 20.8 s and 8 J; R and C at their limits 27.4 s; line too
 * (440 V) 28.7 s and 11.6 J. The thresholds are cautious defaults; local codes and the employer's rules stand above them.
 */
#ifndef HALFSPLIT_UNIT_HAZARD_H
#define HALFSPLIT_UNIT_HAZARD_H

#include "halfsplit/model/playbook.h"

#define HS_ELV_DC_VOLTS      60.0  /* above this (DC) hands stay out of a live zone; IEC 61010-1 normal condition */
#define HS_ELV_AC_VOLTS      30.0  /* rms */
#define HS_SAFE_STORE_VOLTS  50.0  /* what the wait is computed down to */
#define HS_KNOWN_VOLTS       12.0  /* a known source must show at least this to prove a tester */
#define HS_SHORT_VOLTS     1000.0
#define HS_RECHECK_MS    300000

typedef struct hs_store_figures {
	double volts;         /* at its limit */
	double farads, bleed_ohm;
	double joules;        /* at the limits */
	double wait_s;        /* at the limits; 0 when it starts under 50 V or no bleeder is known */
	double joules_left;   /* after the wait */
	bool discharge;       /* must be discharged through a resistor */
	bool keep_shorted;    /* recheck after 5 min, keep shorted */
} hs_store_figures;

/* What a pair of this source may read at most to count as dead: a 5 V rail at 4.98 V is not. */
double hs_dead_volts(const hs_energy_source *source);

hs_store_figures hs_store_at_limits(const hs_energy_source *store);
double hs_store_nominal_wait(const hs_energy_source *store);   /* seconds */
double hs_store_nominal_joules(const hs_energy_source *store);

/* "C7: 400 V, 100 uF, bleeder 100 kohm: at its limits 11.6 J, 28.7 s to 50 V; keep shorted" */
void hs_store_words(const hs_energy_source *store, hs_buf *out);

/* Above extra-low voltage, or holding enough energy to hurt. */
bool hs_zone_is_hazardous(const hs_bench_unit *unit, int zone);

/*
 * The power state a step really needs: what it declares, raised to the floor no playbook can lower. A do, replace or adjust step that makes or
 * undoes a change in a hazardous zone needs dead, whichever zone it names; so does one that reaches in while it names the guard of a hazardous
 * zone as open.
 */
hs_need hs_step_need(const hs_playbook *playbook, const hs_step *step);

/* How long this step may key at most: what it says or what the unit states, whichever is shorter; 0 when it has no emitter. */
double hs_step_key_seconds(const hs_bench_unit *unit, const hs_step *step);

/* The first emitter that drive alone makes transmit, as soon as the unit is powered; -1 when each has a key line. */
int hs_drive_transmits(const hs_bench_unit *unit);

/* A do, replace or adjust that is not done from outside. */
bool hs_step_reaches_in(const hs_step *step);

/* The covers named, with all that come off before them. */
uint64_t hs_opened_with(const hs_bench_unit *unit, uint64_t named);

/* The hazardous zones (bits) whose guards the step opens; a zone without a guard lies bare with any cover. */
unsigned hs_step_bares(const hs_bench_unit *unit, const hs_step *step);

/* The zones (bits) that must be proved dead for this step when it needs dead: where it reads and works, and the hazardous ones it lays bare. */
unsigned hs_step_zones(const hs_playbook *playbook, const hs_step *step);

/*
 * The power state needed to open or close this: a guard of a hazardous zone never comes off before waited, whatever is declared; a temporary
 * change in a hazardous zone needs dead, and so does a cover that comes off after such a guard, because hands are inside by then; otherwise what
 * is declared, or off. A hazardous zone that names no guard is behind every cover. Nothing but a cover is opened while it may be keyed.
 */
hs_power hs_openable_needs(const hs_bench_unit *unit, int openable);

#endif
