/*
 * The bench calculator: measurement arithmetic as people say it.
 *
 *   0 dBm in dBuV at 50 ohm          -12.3 dBm + 1.45 dB + 10 dB      20 dBm - 17 dBm
 *   3 dBm and 3 dBm                  powers add; "... in phase", "... at 90 deg": voltages add
 *   10 dBm less 3 dBm                what is left of a power
 *   -90 dBm near -95 dBm             the signal in a reading close to the noise
 *   mean of 3 dBm, 5 dBm, 4 dBm      of powers; "rms of" for volts, whose "mean of" is the plain one
 *   swr 1.8 as return loss           also gamma, mismatch loss; "75 ohm as swr at 50 ohm"
 *   swr 1.8 through 1.5 dB           a load as seen through a line
 *   swr 1.8 behind 1.5 dB            the load behind the line that it was seen through
 *   12 V into 50 ohm as dBm          emf 1 V as pd; emf 1 V from 50 ohm into 75 ohm
 *   -100 dBm in 10 kHz as dBm/Hz     noise floor in 10 kHz with 6 dB; noise of 1 kohm in 10 kHz; ... at 300 K
 *   50 W forward, 2 W reflected      as gamma; "as swr", "as return loss"
 *   -60 dBc from 10 dBm              the level; "-50 dBm in dBc from 10 dBm" the decibels
 *   12 V over 50 ohm as A            also "across", "into": without a unit the power in it
 *   50 ohm parallel 75 ohm           10 % of 50 ohm; 145 MHz in m
 *   3 dB as ratio, ratio 2 as dB     of powers; "voltage ratio" of voltages
 *   10 m RG-213/U at 145 MHz         loss of a generic type
 *   12 V / 2.5 A, 2 * (3 V + 1 V)    + - * / and parentheses
 *
 * Products bind more than sums, these more than the words, which go from left to right; "at 50 ohm", a bandwidth and a
 * temperature hold for the whole expression, or for all within the parentheses they stand in. An impedance is never
 * assumed.
 *
 * Sources of the formulas: quantity/level.h, lineup/reflection.h, lineup/noise.h, lineup/coax.h; Ohm's law.
 */
#ifndef HALFSPLIT_JUDGE_EXPRESSION_H
#define HALFSPLIT_JUDGE_EXPRESSION_H

#include "halfsplit/quantity/quantity.h"

#define HS_EXPRESSION_MOST       4096 /* bytes */
#define HS_EXPRESSION_DEPTH_MOST 64   /* parentheses in each other */

/* What kind of thing was wrong; the names are for programs and stay as they are. */
typedef enum hs_fault {
	HS_FAULT_SYNTAX,    /* "syntax": it cannot be read, or lacks something, such as a bandwidth */
	HS_FAULT_UNIT,      /* "unit": an unknown unit, or one that does not go with what is asked of it */
	HS_FAULT_IMPEDANCE, /* "impedance": needed between power and voltage, and not given, or not above 0 */
	HS_FAULT_RANGE,     /* "range": a number too large or too small to calculate with */
	HS_FAULT_TABLE,     /* "table": a table of losses says nothing there */
	HS_FAULT_NULL,      /* "null": tones cancel exactly */
	HS_FAULT_DOMAIN,    /* "domain": it has no answer: 0 W in dBm, an SWR below 1, a reading below its noise */
	HS_FAULT_COUNT
} hs_fault;

const char *hs_fault_name(hs_fault fault);

typedef struct hs_worked {
	double value;  /* in `unit`; finite */
	char unit[24]; /* "dBuV", "mW" (when it was asked for), "dBm/Hz", "ohm"; "" for a plain number */
	hs_unit base;  /* the unit without prefix; HS_DBM for dBm/Hz */
	char note[96]; /* what it is where the unit does not say it: "return loss", "seen through 1.5 dB"; else "" */
	hs_buf steps;  /* each formula with its numbers, in the order worked out, one a line; "" when nothing was to be
	                  done */
} hs_worked;

/*
 * Works an expression out. `text` need not end at `length`; a NUL within is refused. True: *out is filled;
 * hs_worked_free it. False: *out is untouched, *fault says the kind, *error (HS_BAD_INPUT) the sentence. Never a number
 * from what has none.
 */
bool hs_expression_work(const char *text, size_t length, hs_worked *out, hs_fault *fault, hs_error *error);
void hs_worked_free(hs_worked *worked);

/* "106.99 dBuV", "10.88 dB (return loss)"; no newline. */
void hs_worked_print(hs_buf *out, const hs_worked *worked);

#endif
