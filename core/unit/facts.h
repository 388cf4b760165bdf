/*
 * What the files of this folder share: small questions about the declared unit and about the facts taken so far. The
 * rules themselves stand in way.c (which fact is asked next) and take.c (whether an answer passes).
 */
#ifndef HALFSPLIT_CORE_UNIT_FACTS_H
#define HALFSPLIT_CORE_UNIT_FACTS_H

#include "halfsplit/unit/way.h"

#define HS_DISCHARGE_MOST_S 600.0 /* nobody holds a discharge tool longer */
#define HS_LOAD_MOST 100.0 /* times what is emitted: a load rated for more is a slip of the unit, as 100 dBm for 100 W */
#define HS_WORD_SWITCH "switch" /* the plug is out of reach after a stop */
#define HS_SHORT_OHMS 10.0 /* a discharge through less than this is a short circuit */

#define HS_FACT_BIT(fact) (UINT64_C(1) << (fact))
#define HS_ENERGISING_FACTS HS_FACT_BIT(HS_FACT_PEOPLE)
/* The load is fitted with the power off and serves every step until something is done to the unit; the others are asked for each. */
#define HS_KEYED_FACTS                                                                                                 \
	(HS_FACT_BIT(HS_FACT_LOAD_LOW) | HS_FACT_BIT(HS_FACT_PORTS) | HS_FACT_BIT(HS_FACT_INSTRUMENT) |                \
	 HS_FACT_BIT(HS_FACT_COOLED) | HS_FACT_BIT(HS_FACT_CLEAR))
/* What is settled for a live reading while the unit is dead outlives the energising; the rest is asked just before it. */
#define HS_LIVE_DEAD_FACTS                                                                                             \
	(HS_FACT_BIT(HS_FACT_LIVE_WHY) | HS_FACT_BIT(HS_FACT_LIVE_BY) | HS_FACT_BIT(HS_FACT_LIVE_SUPPLY) |             \
	 HS_FACT_BIT(HS_FACT_LIVE_LEADS) | HS_FACT_BIT(HS_FACT_LIVE_COMMON))
#define HS_LIVE_FACTS                                                                                                  \
	(HS_LIVE_DEAD_FACTS | HS_FACT_BIT(HS_FACT_LIVE_STRAP) | HS_FACT_BIT(HS_FACT_LIVE_SECOND) |                     \
	 HS_FACT_BIT(HS_FACT_LIVE_CUT) | HS_FACT_BIT(HS_FACT_LIVE_HAND))
#define HS_KNOWN_FACTS (HS_FACT_BIT(HS_FACT_KNOWN_AC) | HS_FACT_BIT(HS_FACT_KNOWN_DC))
#define HS_AFTER_FACTS (HS_FACT_BIT(HS_FACT_KNOWN_AC_AFTER) | HS_FACT_BIT(HS_FACT_KNOWN_DC_AFTER))

bool hs_physical_has(const hs_physical *physical, hs_gate_fact fact);

/* Masks of sources: those that must be disconnected, and those that keep a charge. */
uint32_t hs_supplies(const hs_bench_unit *unit);
uint32_t hs_stores(const hs_bench_unit *unit);

/* After a stop: the plug is out, or out of reach, and nothing that only spares the unit comes before the power is cut. */
bool hs_power_is_cut(const hs_bench_unit *unit, const hs_physical *physical);

/* The zones proved when nobody names one: those of every supply, or zone 0. */
unsigned hs_supply_zones(const hs_bench_unit *unit);

/* Zones as asked, cut to those that exist; none asked stands for hs_supply_zones. */
unsigned hs_zones_meant(const hs_bench_unit *unit, unsigned zones);

/*
 * Whether a store or rail can be got at: nothing guards its zone, its guard is off, its zone is among those about to be opened, or
 * our own short is on it and somebody has to take that off again. Behind a fitted guard it concerns nobody.
 */
bool hs_store_in_reach(const hs_bench_unit *unit, const hs_physical *physical, int store, unsigned zones);

/* Whether this cover, once on, shuts the zone: it is the zone's guard, or the guard is behind it. A zone without a guard is behind each. */
bool hs_cover_encloses(const hs_bench_unit *unit, int cover, int zone);

/* When it has cooled after the last key-down: by the longest rest that any emitter states; 0 when it need not. */
int64_t hs_cooled_ms(const hs_bench_unit *unit, const hs_physical *physical);

/* The stretches of a live reading: set up while dead, and confirmed just before. False: *gate is what is missing. */
bool hs_live_is_set_up(const hs_physical *physical, const hs_target *target);
bool hs_live_set_up(const hs_physical *physical, const hs_target *target, hs_gate *gate);
bool hs_live_now(const hs_bench_unit *unit, const hs_physical *physical, const hs_target *target, unsigned zones, hs_gate *gate);

/* Where a load belongs: the only emitter there is, the one named, or -1 for none in particular. */
int hs_load_emitter(const hs_bench_unit *unit, int emitter);

/*
 * The sources whose pairs prove these zones dead: behind a fitted guard only the supplies, whose terminals are reached from outside. A
 * zone that declares nothing borrows the supplies: what could make it live comes from there.
 */
uint32_t hs_sources_to_prove(const hs_bench_unit *unit, const hs_physical *physical, unsigned zones);

int hs_pair_count(hs_energy_kind kind);
const char *hs_pair_name(hs_energy_kind kind, int pair);
bool hs_pair_tested(const hs_physical *physical, int source, int pair);
void hs_pair_set(hs_physical *physical, int source, int pair, bool tested);
bool hs_all_pairs_tested(const hs_bench_unit *unit, const hs_physical *physical, uint32_t sources);

bool hs_must_wait(const hs_bench_unit *unit, int store);
bool hs_must_discharge(const hs_bench_unit *unit, const hs_physical *physical, int store);
bool hs_keeps_short(const hs_bench_unit *unit, int store);
/* Every store with a bleeder has had its time: all of them, or those that can be got at. */
bool hs_stores_have_waited(const hs_bench_unit *unit, const hs_physical *physical, bool all);
int64_t hs_wait_over_ms(const hs_bench_unit *unit, const hs_physical *physical, int store);

/* Derives the state from OFF upwards out of the facts; states before OFF are left alone. */
void hs_physical_settle(const hs_bench_unit *unit, hs_physical *physical);

/* What was confirmed for the coming energising is asked anew. */
void hs_forget_energising(hs_physical *physical);

/* Everything that held only because the supplies were out. */
void hs_forget_dead(hs_physical *physical);

/* The words a fact takes, NULL-terminated; none for facts that take a value. */
void hs_gate_words_of(const hs_bench_unit *unit, const hs_gate *gate, const char *words[4]);
hs_gate_answer hs_gate_answer_of(const hs_gate *gate);

/* A second person, or whoever helps: not who authorises, and not a specialist. */
bool hs_gate_is_second(const hs_gate *gate);

/* What may stand as a gate's subject, for making, finding and refusing gates. */
typedef enum hs_subject {
	HS_SUBJECT_NONE,
	HS_SUBJECT_SUPPLY,
	HS_SUBJECT_STORE,
	HS_SUBJECT_SOURCE,
	HS_SUBJECT_OPENABLE,
	HS_SUBJECT_EMITTER,
	HS_SUBJECT_DANGER
} hs_subject;
hs_subject hs_gate_subject_of(hs_gate_fact fact);
bool hs_subject_fits(const hs_bench_unit *unit, const hs_gate *gate);

/* Whether a fact may be taken at this point of the way, whoever asks for it. */
bool hs_in_turn(const hs_bench_unit *unit, const hs_physical *physical, const hs_gate *gate);

/* The watts a load must stand: of the emitter, or of the strongest when none is named. */
double hs_emitted_watts(const hs_bench_unit *unit, int emitter);

/* "11.6 J", "28.7 s", "440 V": three figures, as one would say them; seconds become minutes from ten minutes on. */
void hs_say_figure(hs_buf *out, double value, hs_unit in);

const char *hs_energy_title(const hs_energy_source *source);

#endif
