/*
 * Everything between an instrument and a point on the unit, and what it does to a level.
 *
 * Parts are listed from the unit to the instrument. A reading is referred to the point: the loss of every part is added back. An
 * injected level is named at the point: the source is set higher by the loss. Divider probes multiply a voltage.
 */
#ifndef HALFSPLIT_LINEUP_HOOKUP_H
#define HALFSPLIT_LINEUP_HOOKUP_H

#include "halfsplit/lineup/part.h"

typedef struct hs_hookup {
	const char *id;              /* "meter lead" */
	const hs_part **parts;       /* from the unit to the instrument */
	size_t count;
	const hs_part *instrument;   /* the last part when it is an instrument, else NULL */
	const char *file;
	int line;
} hs_hookup;

/* An instrument by itself, under its own name: known without anybody having put it together. */
bool hs_hookup_is_bare(const hs_hookup *hookup);

/* One line of the arithmetic: which part, how much, sign, where the figure comes from. */
typedef struct hs_correction_line {
	const hs_part *part; /* NULL: no part, but what was measured of the leads; label says what */
	const char *label;
	double db;          /* added to the reading (positive: loss taken off), or to the source setting */
	double factor;      /* for voltages through a divider: multiplied; 1 otherwise */
	double u_db;        /* half-width, rectangular */
	double ohm;         /* taken off a resistance; 0 otherwise */
	double u_ohm;       /* half-width, rectangular */
	char source[96];
} hs_correction_line;

/* "K12", or "straight-through". */
const char *hs_correction_name(const hs_correction_line *line);

#define HS_HOOKUP_MOST 12 /* parts in a hookup; more is refused when the kit is read */

typedef struct hs_correction {
	hs_correction_line lines[HS_HOOKUP_MOST];
	size_t count;
	double total_db;
	double total_factor;
	double total_ohm;
} hs_correction;

/*
 * The corrections of a hookup at a frequency for a measurand. Power and levels take dB; volts, ac volts take the divider's factor (and dB when
 * freq_hz > 0 and the parts are coax); ohms, diode, amps ... take none. freq_hz <= 0 means DC or not stated: a power reading through a
 * part whose loss depends on frequency is then an error, and so is volts through a pad; a cable then takes nothing off volts. Return
 * loss takes -2 x the loss, because the wave passes twice; SWR through a part that takes loss is refused. A divider takes 20 log10
 * of its ratio off a power.
 */
bool hs_hookup_correct(const hs_hookup *hookup, hs_measurand measurand, double freq_hz, hs_correction *out, hs_error *error);

/* value as read at the instrument -> value at the point. Levels: + total_db; watts: x 10^(dB/10); volts: x factor x 10^(dB/20). */
hs_quantity hs_correct_reading(const hs_correction *correction, hs_quantity at_instrument);

/* level wanted at the point -> what the source must be set to. */
hs_quantity hs_correct_source(const hs_correction *correction, hs_quantity at_point);

/*
 * True when every part but the instrument only touches (probe, test lead): nothing is joined. An instrument alone joins, unless it
 * is itself marked as touching.
 */
bool hs_hookup_touches(const hs_hookup *hookup);

/* "TP2 --[K12 1.4 dB]--[P10 10 dB]-- M1", drawn in one line from source to meter; source side first when `inject`. */
void hs_hookup_draw(const hs_hookup *hookup, const hs_correction *correction, const char *point, bool inject, hs_buf *out);

/*
 * The range of the hookup's instrument that reads `measurand`, or NULL. When value is not NULL, prefers a range that holds it; *inside says whether one does.
 * Of several that hold it the narrowest; DC ranges from 0 up hold both signs. Ranges that do not tune to freq_hz (> 0) are passed over.
 */
const hs_range *hs_hookup_range(const hs_hookup *hookup, hs_measurand measurand, double freq_hz, const hs_quantity *value, bool *inside);

#endif
