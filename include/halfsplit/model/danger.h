/*
 * What a unit declares of dangers other than its energy: a live chassis, tubes, cells, something toxic ... Each is one row of one table of
 * kinds; what is asked of each stands in core/unit/danger_rows.c. Whatever is not stated counts as the worst.
 */
#ifndef HALFSPLIT_MODEL_DANGER_H
#define HALFSPLIT_MODEL_DANGER_H

#include <stdbool.h>
#include "halfsplit/base/error.h"
#include "halfsplit/model/problem.h"
#include "halfsplit/quantity/quantity.h"

#define HS_DANGERS_MOST 16

typedef enum hs_danger_kind {
	HS_DANGER_CHASSIS,   /* live, or without a reference to earth */
	HS_DANGER_TUBES,     /* high voltage: tubes, a picture tube's EHT */
	HS_DANGER_CELLS,     /* lithium */
	HS_DANGER_BATTERY,   /* high current, or wet */
	HS_DANGER_TOXIC,
	HS_DANGER_LASER,
	HS_DANGER_FLAMMABLE, /* freezer spray or solvent that a step uses */
	HS_DANGER_STATIC,    /* parts that static ruins */
	HS_DANGER_HANDLING,  /* a part that is heavy, hot, sharp, or tips */
	HS_DANGER_KINDS
} hs_danger_kind;

/* "live chassis", "high voltage", "lithium cells", "battery", "toxic part", "laser", "flammable", "static-sensitive", "handling" */
const char *hs_danger_name(hs_danger_kind kind);
bool hs_danger_find(const char *name, hs_danger_kind *out);
/* A laser's class as labels have it ("3B"), by any case; NULL for what is none. */
const char *hs_laser_class(const char *text);

/* Numbers a danger may state; 0 means not stated. */
typedef enum hs_danger_figure {
	HS_DANGER_VOLTS,       /* chassis: the most peak to earth; tubes: the highest; cells: the most of one cell */
	HS_DANGER_LEAST,       /* cells: the least volts of one cell */
	HS_DANGER_HEATER,      /* tubes: seconds of heater before high voltage */
	HS_DANGER_RUN_ON,      /* tubes: seconds the blower runs behind it */
	HS_DANGER_AIRS,        /* flammable: seconds until its vapour is gone */
	HS_DANGER_TEMPERATURE, /* cells: the most degC */
	HS_DANGER_FUSE,        /* battery: amperes, the largest fuse at the source */
	HS_DANGER_MASS,        /* handling: grams */
	HS_DANGER_WAVELENGTH,  /* laser: metres */
	HS_DANGER_DENSITY,     /* laser: the least optical density of the eyewear */
	HS_DANGER_FIGURES
} hs_danger_figure;

/* What a danger may say it has not; not said, it has. */
typedef enum hs_danger_flag {
	HS_DANGER_XRAY = 1u,      /* tubes: shields against X-rays */
	HS_DANGER_IMPLOSION = 2u, /* tubes: glass under vacuum */
	HS_DANGER_BLOWER = 4u,    /* tubes: forced air */
	HS_DANGER_HOT = 8u,       /* handling */
	HS_DANGER_SHARP = 16u,    /* handling */
	HS_DANGER_TIPS = 32u,     /* handling */
	HS_DANGER_WET = 64u       /* battery: acid or caustic in it */
} hs_danger_flag;

typedef struct hs_danger {
	const char *id;
	const char *title;        /* NULL: the id serves */
	hs_danger_kind kind;
	int zone;                 /* where it is; -1: the whole unit */
	int part;                 /* handling: the cover it speaks of; -1 */
	double figures[HS_DANGER_FIGURES];
	unsigned absent;          /* hs_danger_flag: what it says it has not */
	const char *text;         /* toxic: of what; flammable: what it is; laser: its class ("3B"); NULL not stated */
	hs_where where;
} hs_danger;

#endif
