/*
 * One piece of a shop's kit: a cable, pad, adapter, probe or instrument. Plain values; strings and tables are owned by the
 * kit's arena.
 */
#ifndef HALFSPLIT_LINEUP_PART_H
#define HALFSPLIT_LINEUP_PART_H

#include "halfsplit/lineup/connector.h"
#include "halfsplit/lineup/loss.h"
#include "halfsplit/quantity/quantity.h"

typedef enum hs_part_kind { HS_PART_CABLE, HS_PART_PAD, HS_PART_ADAPTER, HS_PART_PROBE, HS_PART_INSTRUMENT } hs_part_kind;

/* What an instrument reads or gives; names in hs_measurand_name: power, volts, ohms, diode, continuity, amps, frequency, loss ... */
typedef enum hs_measurand {
	HS_READS_POWER, HS_READS_VOLTS, HS_READS_AC_VOLTS, HS_READS_AMPS, HS_READS_OHMS, HS_READS_CONTINUITY, HS_READS_DIODE,
	HS_READS_FREQUENCY, HS_READS_TIME, HS_READS_TEMPERATURE, HS_READS_CAPACITANCE, HS_READS_RETURN_LOSS, HS_READS_SWR,
	HS_READS_NOISE_RISE, HS_READS_SINAD, HS_READS_COUNT_OF, HS_READS_PERCENT, HS_READS_LOSS, HS_READS_PEAK, HS_READS_DIP,
	HS_READS_RATE, HS_READS_MINIMUM, HS_READS_MAXIMUM,
	HS_READS_TREND, /* rising, steady or falling: 1, 0, -1 */
	HS_READS_TICK,  /* yes or no: 1, 0 */
	HS_READS_TRACE, /* levels over frequency, held against a mask */
	HS_READS_KINDS
} hs_measurand;

const char *hs_measurand_name(hs_measurand m);       /* "power", "volts", "ac volts", "ohms", "diode" ... */
bool hs_measurand_find(const char *name, hs_measurand *out);
const char *const *hs_measurand_names(size_t *count);
hs_unit hs_measurand_unit(hs_measurand m);           /* the unit on the prompt when nothing else says: dBm, V, V, A, ohm, ohm, V, Hz, ... */
bool hs_measurand_is_dead(hs_measurand m);           /* resistance, continuity, diode, capacitance: never in a live unit */

/* An accuracy: half-width of the interval, rectangular unless expanded. */
typedef struct hs_accuracy {
	double absolute; /* in the unit of `unit` */
	hs_unit unit;    /* dB for levels */
	double percent;  /* of the reading, added linearly to absolute (a meter's "0.5 % + 2 mV") */
	bool expanded;   /* true: k = 2 expanded uncertainty, else a rectangular half-width */
} hs_accuracy;

/* One thing an instrument can read: kind, range and accuracy. */
typedef struct hs_range {
	hs_measurand reads;
	hs_quantity from, to;     /* range of values; from.unit == to.unit */
	bool has_range;
	double freq_from_hz, freq_to_hz; /* 0, 0: any frequency */
	hs_accuracy u;
} hs_range;

typedef struct hs_part {
	const char *id;
	const char *title;        /* "power meter", may be NULL */
	hs_part_kind kind;
	const char *file;         /* where it was declared, for messages */
	int line;
	bool has_ends[2];         /* towards the unit, towards the instrument; an instrument has only the first */
	hs_connector ends[2];

	/* cable, pad, adapter, probe */
	const char *type;         /* generic coax type or NULL */
	double length_m;
	hs_loss_table own;        /* own characterised points, or from a Touchstone file; count 0 when none */
	const char *own_source;   /* "K12.s2p", "own points", NULL */
	bool has_fixed;           /* a pad: fixed loss at any frequency up to freq_to */
	double fixed_db;
	double freq_to_hz;        /* 0: not stated */
	double u_db;              /* half-width, rectangular */
	bool has_u;
	double ratio;             /* probe division (10 for x10), 0 when not a divider */
	bool touch;               /* a probe or test lead that touches, instead of joining like a connector */
	double rated_w;           /* 0: not stated */

	/* instrument */
	hs_range *ranges;
	size_t range_count;
	bool gives_level;         /* a source */
	hs_quantity gives_from, gives_to;
	hs_accuracy gives_u;
	double gives_freq_from_hz, gives_freq_to_hz;
	bool has_max_rf;
	hs_quantity max_rf;       /* rating of its input: average power, dBm or W */
	double max_dc_v;          /* 0: not stated */
	double impedance_ohm;     /* 0: not stated */
	const char *due;          /* calibration due date "2027-03-31", NULL when not stated */
	const char *serial;
	const char *const *program; /* of the shop's own, by which it is read; only a live seat ever runs it */
	size_t program_count;       /* 0: it is read by eye */
} hs_part;

/*
 * Loss at a frequency of one cable, pad, adapter or probe; appends to *source (may be NULL) where it came from
 * ("RG-213/U, 3 m"). Own table, else fixed loss, else the type's table. An u that is not stated is assumed, and the source says
 * so: 10 % of the loss by type, 0.1 dB of an adapter, 0.2 dB of any other figure, 0 of a probe without figures. Beyond a stated
 * freq_to_hz no loss is known.
 */
bool hs_part_loss(const hs_part *part, double freq_hz, double *loss_db, double *u_db, hs_buf *source, hs_error *error);

#endif
