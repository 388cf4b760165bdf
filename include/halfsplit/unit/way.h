/*
 * The electrical state of the unit and the safe way from here to what a step needs.
 *
 * unknown -> keyed -> on -> standby -> off -> disconnected -> secured -> waited -> proved dead -> shorted
 *
 * hs_physical is a flat value of facts about the world. Nothing but time, a gate passed, and something done to the unit changes it; redo
 * and a new edition never do. hs_way_next says which one fact is asked next on the safe way; hs_way_take takes the typed
 * answer. There is no other way to change the power state, and no skip.
 */
#ifndef HALFSPLIT_UNIT_WAY_H
#define HALFSPLIT_UNIT_WAY_H

#include "halfsplit/unit/hazard.h"

/* One fact a gate asks for. The name in an answers file is gate/STATE/FACT; FACT is given beside each. */
typedef enum hs_gate_fact {
	HS_FACT_NONE,
	/* off */
	HS_FACT_UNKEYED,       /* off/unkeyed: "unkeyed"; also behind each keyed reading */
	HS_FACT_SWITCH_OFF,    /* off/switch: "off" */
	/* disconnected */
	HS_FACT_DISCONNECT,    /* disconnected/SOURCE: "out"; after a stop also "switch": out of reach, the switch comes first */
	HS_FACT_OTHER,         /* disconnected/other: "none" (no second supply, battery or back-feed) */
	/* secured */
	HS_FACT_SECURED,       /* secured/plug: "hand", "sight" or "lock" */
	HS_FACT_SECURED_BY,    /* secured/by: the name of the person at the bench */
	/* waited */
	HS_FACT_WAITED,        /* waited/STORE: "waited", never before the computed time */
	HS_FACT_DISCHARGED,    /* discharged/STORE: the resistance it was discharged through ("1 kohm"); under 10 ohm is a short: refused */
	HS_FACT_HELD,          /* discharged/STORE.held: "held", never before the time it takes through that resistance */
	/* dead: prove, test every pair, prove again */
	HS_FACT_TESTER,        /* dead/tester: which tester */
	HS_FACT_KNOWN_AC,      /* dead/known-ac-before: reading on a known AC source */
	HS_FACT_KNOWN_DC,      /* dead/known-dc-before */
	HS_FACT_PAIR,          /* dead/SOURCE.PAIR: a reading; PAIR is L-N L-PE N-PE, across, plus-chassis, minus-chassis, chassis (rail), poles (dc) */
	HS_FACT_KNOWN_AC_AFTER,/* dead/known-ac-after */
	HS_FACT_KNOWN_DC_AFTER,/* dead/known-dc-after */
	HS_FACT_RECHECK,       /* dead/STORE.recheck: a reading, not before 5 min after the proof */
	/* shorted */
	HS_FACT_SHORT,         /* shorted/STORE: "fitted" */
	/* energise */
	HS_FACT_UNSHORT,       /* energise/STORE.short: "removed" */
	HS_FACT_TOOLS,         /* energise/tools: "counted"; before a cover goes on, and before power, when something was open */
	HS_FACT_STAYS_OPEN,    /* energise/OPENABLE: its id is typed, because it stays open while powered */
	HS_FACT_PEOPLE,        /* energise/people: "told" */
	HS_FACT_RECONNECT,     /* energise/SOURCE: "in" */
	HS_FACT_SWITCH_ON,     /* on/switch: "on" */
	HS_FACT_STANDBY,       /* standby/switch: "standby" */
	/* keyed: asked before each step that keys */
	HS_FACT_LOAD,          /* keyed/load (keyed/EMITTER.load when there are several): the load's rated power ("100 W"), at least what is emitted */
	HS_FACT_LOAD_LOW,      /* keyed/low-power: "proved" (the load shown good at low power) */
	HS_FACT_PORTS,         /* keyed/ports: "closed" (no open RF port) */
	HS_FACT_INSTRUMENT,    /* keyed/instrument: "protected" */
	HS_FACT_COOLED,        /* keyed/cooled: "cooled", after a key-down where the unit states how long it rests, and not sooner */
	HS_FACT_CLEAR,         /* keyed/people: "clear" */
	/* live: a reading by hand in a live hazardous zone; asked for each step, the first five while it is proved dead */
	HS_FACT_LIVE_WHY,      /* live/why: "confirmed" (the playbook's reason why it cannot be read dead) */
	HS_FACT_LIVE_BY,       /* live/authorised: by whom, a name */
	HS_FACT_LIVE_SUPPLY,   /* live/supply: "transformer" (isolating) or "rcd" */
	HS_FACT_LIVE_LEADS,    /* live/leads: "rated" (fused, of the category) */
	HS_FACT_LIVE_COMMON,   /* live/common: "clipped" */
	HS_FACT_LIVE_STRAP,    /* live/strap: "off" (wrist strap, rings, watch) */
	HS_FACT_LIVE_SECOND,   /* live/second: the name of a second person in sight, who types it; not that of the person at the bench */
	HS_FACT_LIVE_CUT,      /* live/cut: "ready" (the second person's hand where the power is cut) */
	HS_FACT_LIVE_HAND,     /* live/hand: "one" */
	/* a danger that the unit declares: KIND/DANGER.ROW, a row of core/unit/danger_rows.c; `pair` is which row */
	HS_FACT_DANGER,
	HS_FACT_COUNT
} hs_gate_fact;

typedef struct hs_gate {
	hs_gate_fact fact;
	int subject;           /* index of the source, openable, (LOAD) emitter or danger concerned; -1 none */
	int pair;              /* FACT_PAIR: 0, 1, 2; FACT_DANGER: its row */
	int64_t earliest_ms;   /* monotonic time before which no answer is taken; 0: any time */
	double key_seconds;    /* FACT_CLEAR: how long it is keyed at most; 0: what the unit states */
	int load;              /* FACT_LOAD: which one the target wants */
	bool cut;              /* FACT_DISCONNECT after a stop: the plug before the switch; "switch" where it cannot be reached */
} hs_gate;

/* How long what was confirmed of a danger holds: for one step; until hands or tools were at the unit; until it is powered or switched off;
 * until a supply is put in or taken out; until nobody watched. */
typedef enum hs_keeps { HS_KEEPS_STEP, HS_KEEPS_WORK, HS_KEEPS_POWER, HS_KEEPS_PLUG, HS_KEEPS_WATCH, HS_KEEPS_COUNT } hs_keeps;

typedef struct hs_physical {
	hs_power power;
	int64_t disconnected_ms;   /* when the last source was disconnected */
	int64_t proved_ms;
	uint32_t out;              /* sources disconnected */
	uint32_t was_out;          /* sources last known to be disconnected, though nobody watched them since: asked to be put in on the way up */
	bool plug_later;           /* after a stop: the plug cannot be reached, so the switch comes first */
	uint32_t waited, discharged, shorted, rechecked; /* stores */
	uint32_t discharging;      /* stores with the resistor on them */
	int64_t held_until_ms[HS_ENERGY_SOURCES_MOST]; /* when that has had its time */
	uint32_t charged;          /* stores once found charged after their wait: never trusted to bleed again, discharged each time */
	uint32_t pairs_0, pairs_1, pairs_2;               /* sources whose first, second, third pair was tested dead */
	uint32_t zones_dead;       /* zones proved dead, tester proved again afterwards */
	uint64_t facts;            /* single facts passed: bit per hs_gate_fact */
	uint64_t stays_open;       /* openables confirmed to stay open for this energising */
	uint64_t open;             /* the open list */
	uint64_t ever_open;
	int keyed_step;            /* the step the keyed facts were given for; -1 */
	bool was_keyed, key_down;  /* key_down: keyed, and the release not confirmed yet */
	int64_t keyed_ms;          /* when it was keyed last */
	bool uncounted;            /* hands were inside since the tools were counted */
	int live_step;             /* the step the live facts were given for; -1 */
	int load;                  /* which load was given */
	int load_emitter;          /* the emitter the load was given for; -1 none in particular */
	/* Of the declared dangers, by what voids it: which rows passed, from the first row of their kind. */
	uint32_t dangers[HS_KEEPS_COUNT][HS_DANGERS_MOST];
	uint32_t barred;           /* dangers found broken, swollen, out of their limits: nothing goes on before a specialist has dealt with it */
	uint32_t hooked;           /* dangers whose earthing stick is on */
	uint32_t referenced;       /* chassis measured at no dangerous voltage to earth since the plug was moved last */
	uint32_t used;             /* substances used, whose vapour may be there still */
	int danger_step;           /* the step the rows of one step were passed for; -1 */
	int64_t danger_ms[HS_DANGERS_MOST]; /* when the wait of a danger began */
	int64_t powered_ms;        /* when power came last */
} hs_physical;

/* What is wanted of the unit now. */
typedef struct hs_target {
	hs_power state;        /* HS_POWER_UNKNOWN: anything will do; OFF, SECURED, WAITED, DEAD mean "at least as safe"; ON and STANDBY exactly; KEYED: on, with the keyed facts */
	unsigned zones;        /* DEAD, SHORTED: zones to be proved; WAITED: zones about to be opened, whose stores wait too */
	uint64_t may_be_open;  /* energising: openables the step names */
	uint32_t unshort;      /* SHORTED: stores whose short is out for a reading across them, once proved dead */
	bool live;             /* ON, STANDBY: a probe goes by hand into a live hazardous zone, one of `zones` */
	int emitter;           /* KEYED */
	int step;              /* KEYED: facts are asked anew for each step */
	double key_seconds;    /* KEYED: how long at most; 0: what the unit states */
	bool cut;              /* after a stop: the plug first, then the switch */
	int load;              /* KEYED: which load this step wants; another one is asked for anew; 0: none in particular */
	bool undriven;         /* KEYED: nothing drives it, so there is no low power to show the load at */
} hs_target;

void hs_physical_begin(hs_physical *physical);

/*
 * Makes the power state unknown: restart, resume, change of person, plug out of sight, a long break. The open list and fitted shorts stay, and it
 * is kept in mind which supplies were out, because these must be put in again; nothing else is trusted.
 */
void hs_physical_void(hs_physical *physical);

/*
 * True: `physical` already satisfies the target, *gate is untouched. False: *gate is the one fact asked next, or gate->fact is HS_FACT_NONE and *blocker is an
 * openable that must be closed before energising (rule 2). now_ms is the monotonic time of the last event (for rechecks due).
 */
bool hs_way_next(const hs_bench_unit *unit, const hs_physical *physical, const hs_target *target, int64_t now_ms, hs_gate *gate, int *blocker);

typedef enum hs_gate_result { HS_GATE_PASSED, HS_GATE_REFUSED, HS_GATE_FAILED } hs_gate_result;

/*
 * Takes a typed answer to a gate. REFUSED: nothing changed, *why is the sentence to show (empty answer, wrong word, too early, not a number). FAILED: the
 * measured fact is bad; it is recorded and the state moved back (a live pair makes the state unknown; a charged store asks for its discharge
 * again; a tester that fails afterwards voids the whole test); *why says so. by is the person at the bench.
 */
hs_gate_result hs_way_take(const hs_bench_unit *unit, hs_physical *physical, const hs_gate *gate, const char *text, int64_t now_ms,
                           const char *by, int step, hs_buf *why);

/*
 * What must hold before this is opened (closing: closed again), one target after the other; returns how many, 1 or 2. The power state is that of
 * hs_openable_needs. The stores of a zone wait before its guard comes off. Hands that pass through an open hazardous zone, or beside one, find it dead
 * and its stores shorted; a short comes out before the cover over it goes on, so closing asks for none under that cover.
 */
int hs_targets_to_move(const hs_bench_unit *unit, const hs_physical *physical, int openable, bool closing, int step, hs_target targets[2]);

/* Hazardous zones (bits) that nothing stands in front of: every cover before them is off. One that names no guard is open with any cover. */
unsigned hs_zones_exposed(const hs_bench_unit *unit, const hs_physical *physical);

/* Opening and closing of openables: the caller has brought the unit to hs_targets_to_move first. */
void hs_physical_open(const hs_bench_unit *unit, hs_physical *physical, int openable);
/* Hands or tools were at the unit: with something open they may have been inside, so what was taken there is counted again. */
void hs_physical_worked(hs_physical *physical);
void hs_physical_close(const hs_bench_unit *unit, hs_physical *physical, int openable);

/* Hands or tools were in the unit (do, replace, adjust): what was confirmed for the coming energising or keying is asked anew. */
void hs_physical_touch(hs_physical *physical);

/* Something was joined to the unit with the power on: before it is keyed, all but the load is confirmed anew. */
void hs_physical_unkey(hs_physical *physical);

/* It was keyed for a reading: before the next key-down it rests as long as the unit states. */
void hs_physical_keyed(hs_physical *physical, int64_t now_ms);

/* ---- dangers that the unit declares beside its energy ---- */

/* When something is asked of a danger. Several may be joined. */
#define HS_MOMENT_DOWN    1u  /* before it is switched off; not after a stop, which cuts the power first */
#define HS_MOMENT_BARE    2u  /* before a cover over it comes off or goes on */
#define HS_MOMENT_HANDS   4u  /* before hands, a probe or a tool go where it is */
#define HS_MOMENT_UNHOOK  8u  /* before the cover goes on and before power: what was left on comes off */
#define HS_MOMENT_UP      16u /* before power comes back */
#define HS_MOMENT_HOT     32u /* powered, before the step */
#define HS_MOMENT_MEASURE 64u /* powered, before anything is clipped on */
#define HS_MOMENT_CLIP    128u /* before a lead or probe is taken to the powered unit */
#define HS_MOMENT_USE     256u /* before a substance is used */

/* The first row still missing of these dangers (bits) at this moment; true: none. A danger that bars everything asks for its specialist alone. */
bool hs_danger_next(const hs_bench_unit *unit, const hs_physical *physical, unsigned moment, uint32_t dangers, int step, hs_gate *gate);

/* Dangers (bits) behind this cover, or that speak of it. */
uint32_t hs_dangers_under(const hs_bench_unit *unit, int cover);
/* Dangers (bits) in these zones; inside: also those of the whole unit. Not those that speak of one cover. */
uint32_t hs_dangers_in(const hs_bench_unit *unit, unsigned zones, bool inside);
/* Dangers (bits) that a step reaches with hands or a probe; powered: those its leads must be fit for with the power on. */
uint32_t hs_dangers_reached(const hs_playbook *playbook, const hs_step *step);
uint32_t hs_dangers_clipped(const hs_playbook *playbook, const hs_step *step);

/* A substance was used (bits) at this time. */
void hs_physical_used(hs_physical *physical, uint32_t substances, int64_t now_ms);

/* Whether this row of a danger, by its name ("state"), holds now. False also where there is no such row. */
bool hs_danger_holds(const hs_bench_unit *unit, const hs_physical *physical, int danger, const char *row);

/* "gate/waited/C7" and back. */
void hs_gate_id(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out);
bool hs_gate_find(const hs_bench_unit *unit, const char *id, hs_gate *gate);

typedef enum hs_gate_answer {
	HS_GATE_WORD, HS_GATE_NAME, HS_GATE_TEXT, HS_GATE_WHO, HS_GATE_VOLTS, HS_GATE_OHMS, HS_GATE_WATTS,
	HS_GATE_VALUE /* in `unit` of its words */
} hs_gate_answer;

/* What the person reads: an instruction as a colleague would say it aloud, with the figures, and the caution that belongs to it. */
typedef struct hs_gate_words {
	hs_gate_answer answer;
	const char *words[4];   /* HS_GATE_WORD: what may be typed; NULL-terminated within 4 */
	hs_unit unit;           /* HS_GATE_VALUE */
	hs_buf text;            /* the instruction; hs_buf_free by the caller */
	hs_buf caution;         /* may be empty; defers to local codes and licensed practice */
	size_t brief;           /* bytes of the caution that name the danger alone */
} hs_gate_words;
void hs_gate_describe(const hs_bench_unit *unit, const hs_gate *gate, hs_gate_words *out);

/* What a person types whose unit is as it should be: the word, the name, a dead pair, a tester that works. Appended. */
void hs_gate_obliging(const hs_bench_unit *unit, const hs_gate *gate, const char *by, hs_buf *out);

/* The state a fact belongs to, for headings and the transcript: "off", "disconnected", "dead", "energise" ... */
const char *hs_gate_state(const hs_bench_unit *unit, const hs_gate *gate);

#endif
