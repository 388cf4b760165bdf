/*
 * The unit on the bench as its playbook declares it: where energy comes from, where it stays, what guards it, what comes off in which
 * order, and the points where one can read or inject.
 *
 * Everything here is a declaration, never a state: what has been done to the unit is hs_physical (unit/physical.h).
 */
#ifndef HALFSPLIT_MODEL_UNIT_H
#define HALFSPLIT_MODEL_UNIT_H

#include <stdint.h>
#include "halfsplit/lineup/connector.h"
#include "halfsplit/model/danger.h"
#include "halfsplit/model/problem.h"
#include "halfsplit/model/shop.h"
#include "halfsplit/quantity/quantity.h"

#define HS_ZONES_MOST 8
#define HS_ENERGY_SOURCES_MOST 16 /* supplies, rails and stores together */
#define HS_CONTROLS_MOST 24
#define HS_OPENABLES_MOST 64 /* covers and temporary changes together: one bit each in a 64-bit word */

typedef enum hs_power {
	HS_POWER_UNKNOWN, HS_POWER_KEYED, HS_POWER_ON, HS_POWER_STANDBY, HS_POWER_OFF, HS_POWER_DISCONNECTED, HS_POWER_SECURED,
	HS_POWER_WAITED, HS_POWER_DEAD, HS_POWER_SHORTED, HS_POWER_COUNT
} hs_power;

bool hs_power_is_live(hs_power power);       /* keyed, on or standby; not unknown, which may be */
const char *hs_power_name(hs_power power); /* unknown keyed on standby off disconnected secured waited "proved dead" shorted */

/* What a step needs. */
typedef enum hs_need { HS_NEED_ANY, HS_NEED_DEAD, HS_NEED_OFF, HS_NEED_STANDBY, HS_NEED_ON, HS_NEED_KEYED, HS_NEED_COUNT } hs_need;
const char *hs_need_name(hs_need need);
bool hs_need_find(const char *name, hs_need *out);

typedef enum hs_energy_kind {
	HS_SOURCE_MAINS,  /* AC from the wall: pairs L-N, L-PE, N-PE */
	HS_SOURCE_DC,     /* a DC supply or battery fed from outside */
	HS_SOURCE_RAIL,   /* an internal supply rail, proved to chassis */
	HS_SOURCE_STORE   /* a capacitor that keeps its charge: across, and each side to chassis */
} hs_energy_kind;

typedef struct hs_energy_source {
	const char *id;
	const char *title;     /* NULL: the id serves */
	hs_energy_kind kind;
	double volts;          /* nominal unless volts_is_max; rms for mains */
	bool volts_is_max;
	double farads;         /* store only */
	double farads_over;    /* fraction above nominal at the limit: 0.20 unless the part says otherwise */
	double bleed_ohm;      /* store only; 0: none known, waiting does nothing */
	double bleed_over;     /* 0.10 unless the part says otherwise */
	bool follows_line;     /* a store fed from mains: line +10 % applies to its volts */
	int zone;
	const hs_shop *shop;   /* whose limits hold; NULL: the defaults */
	hs_where where;
} hs_energy_source;

typedef struct hs_zone {
	const char *id;
	const char *title;
	int guard;             /* the cover that guards it; -1 none declared */
	hs_where where;
} hs_zone;

/* Something that can be off, open, fitted or lifted, and must be undone: covers first, then temporary changes. */
typedef enum hs_openable_kind {
	HS_OPEN_COVER, HS_OPEN_LINK, HS_OPEN_LIFTED, HS_OPEN_SHORT, HS_OPEN_PORT, HS_OPEN_JOINT, HS_OPEN_INTERLOCK, HS_OPEN_PAD, HS_OPEN_KINDS
} hs_openable_kind;
const char *hs_openable_name(hs_openable_kind kind); /* cover link "lifted leg" short "open port" "broken joint" "defeated interlock" pad */
bool hs_openable_find(const char *name, hs_openable_kind *out);

typedef struct hs_openable {
	const char *id;
	const char *title;
	hs_openable_kind kind;
	int after;             /* the cover that must be off first; -1 none */
	hs_need needs;         /* power state needed to open and to close it; a floor applies, see unit/way.h */
	bool needs_given;
	int zone;              /* temporary changes: where the hands go; -1 outside every zone */
	const char *fixings;   /* NULL when not stated */
	const char *torque;
	const char *connector; /* a joint: SMA, BNC ... */
	const char *terminate; /* a joint: what the unused side gets, "50 ohm at the mixer's port" */
	hs_where where;
} hs_openable;

/*
 * A selectable state of the unit or of an instrument: band, pad, filter. A position is a number from 1; 0 means unknown or not asked for,
 * so that zeroed memory asks for nothing.
 */
typedef struct hs_control {
	const char *id;
	const char *title;     /* NULL: the id serves */
	const char *const *positions;
	int position_count;    /* at most 24 */
	int zone;              /* where the hand goes; -1: reached from outside */
	hs_where where;
} hs_control;

typedef struct hs_emitter {
	const char *id;        /* the point that emits */
	double watts;
	double key_seconds;    /* longest key-down, 5 s unless stated */
	double cool_seconds;   /* how long it rests between two; 0: not stated */
	bool drive_is_safe;    /* drive alone does not make it transmit: a key line does; false: it does, or nobody says */
	hs_where where;
} hs_emitter;

typedef struct hs_point {
	const char *id;
	const char *title;
	int zone;              /* -1: reachable from outside (a connector on a panel) */
	uint64_t behind;       /* covers that must be off to reach it */
	bool has_accepts;
	hs_quantity accepts;   /* rating of an input: average power */
	bool has_gives;
	hs_quantity gives;     /* the most this output gives: average power */
	double dc_v;           /* DC this line can carry; 0 none */
	double impedance_ohm;  /* 0: not stated */
	bool has_connector;
	hs_connector connector;
	hs_where where;
} hs_point;

typedef struct hs_bench_unit {
	bool declared;
	bool has_standby;
	hs_zone zones[HS_ZONES_MOST];      /* zone 0 always exists: "inside", everything not in another zone */
	int zone_count;
	hs_energy_source sources[HS_ENERGY_SOURCES_MOST];
	int source_count;
	hs_openable openables[HS_OPENABLES_MOST];
	int openable_count;
	hs_control controls[HS_CONTROLS_MOST];
	int control_count;
	hs_danger dangers[HS_DANGERS_MOST];
	int danger_count;
	hs_emitter *emitters;
	int emitter_count;
	hs_point *points;
	int point_count;
	const char *const *consumables;    /* to be laid out: paste, gaskets, fuses */
	size_t consumable_count;
	const char *const *tools;          /* beside the drivers that the fixings call for */
	size_t tool_count;
	const hs_shop *shop;               /* NULL: the defaults */
	const char *switch_title;          /* where it is switched off: "the front-panel switch" unless stated */
	hs_where where;
} hs_bench_unit;

/* Index or -1. */
int hs_unit_control(const hs_bench_unit *unit, const char *id);
int hs_unit_openable(const hs_bench_unit *unit, const char *id);
int hs_unit_point(const hs_bench_unit *unit, const char *id);
int hs_unit_zone(const hs_bench_unit *unit, const char *id);
int hs_unit_danger(const hs_bench_unit *unit, const char *id);

#endif
