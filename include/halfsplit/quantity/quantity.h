/*
 * A value with its unit, as a technician types it and as halfsplit prints it.
 *
 * A quantity is a plain value. `value` is always in the unit itself, without prefix: 2.2 kohm is {2200, HS_OHM}.
 * Levels (dBm, dBV ...) stay in decibels; nothing goes through watts unless it must, so +-4000 dBm do not overflow.
 *
 * What is accepted in text: optional sign (U+2212 counts), number (number.h), optional spaces, optional SI prefix
 * (p n u U+00B5 U+03BC m k K(ohm only) M G T; none in front of decibel units, %, degC, SWR), unit name. Names are matched
 * exactly first, then without regard to case where that cannot change the meaning ("DBM", "khz", "Ohms", "volts"; never m/M).
 * Ohm: ohm, ohms, U+2126, U+03A9, R. "2k2", "4R7", "3M3" are resistances only. degC: degC, °C, C is the coulomb: refused
 * with a hint. Times also in min and h ("5 min" is 300 s). Volts: V, Vrms, "V rms", Vpk, "V pk", Vpp, "V pp", "V p-p", VDC/"V DC" and VAC/"V AC" (a kind, not another unit:
 * DC and AC read as V). A trailing unit after a unit ("12.5 dBm V") is an error. "1,5 dB" is an error that says to write 1.5.
 */
#ifndef HALFSPLIT_QUANTITY_QUANTITY_H
#define HALFSPLIT_QUANTITY_QUANTITY_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

typedef enum hs_unit {
	HS_UNITLESS = 0, /* a count or a ratio: no unit text */
	HS_DBM, HS_DBW, HS_WATT,
	HS_VOLT,         /* DC, or rms for AC */
	HS_VPK, HS_VPP,
	HS_DBV, HS_DBU, HS_DBUV, HS_DBMV,
	HS_AMP, HS_OHM, HS_HERTZ, HS_SECOND, HS_FARAD, HS_HENRY, HS_DEGC,
	HS_PERCENT, HS_DB, HS_SWR, HS_METRE, HS_JOULE, HS_NEWTON_METRE, HS_GRAM,
	HS_UNIT_COUNT
} hs_unit;

/* What a unit measures; two units of one dimension can be compared, some after a conversion. */
typedef enum hs_dimension {
	HS_DIM_NONE, HS_DIM_POWER, HS_DIM_VOLTAGE, HS_DIM_CURRENT, HS_DIM_RESISTANCE, HS_DIM_FREQUENCY, HS_DIM_TIME,
	HS_DIM_CAPACITANCE, HS_DIM_INDUCTANCE, HS_DIM_TEMPERATURE, HS_DIM_PERCENT, HS_DIM_DECIBEL, HS_DIM_SWR, HS_DIM_LENGTH,
	HS_DIM_ENERGY, HS_DIM_TORQUE, HS_DIM_MASS
} hs_dimension;

typedef struct hs_quantity {
	double value;
	hs_unit unit;
} hs_quantity;

const char *hs_unit_name(hs_unit unit);           /* "dBm", "ohm", "" ... static */
bool hs_unit_find(const char *name, hs_unit *unit); /* exact names and spellings above, no prefix */
hs_dimension hs_unit_dimension(hs_unit unit);
const char *hs_dimension_name(hs_dimension dimension); /* "power", "voltage", "resistance" ... static */
bool hs_unit_is_level(hs_unit unit);              /* decibels above a reference: dBm dBW dBV dBu dBuV dBmV */

/*
 * Reads a quantity that is the whole text. `bare` is the unit a number without one takes (prefix 1); pass HS_UNIT_COUNT
 * to refuse a bare number. Errors are HS_BAD_INPUT, one sentence that says what was understood and what is wanted.
 */
bool hs_quantity_read(const char *text, hs_unit bare, hs_quantity *out, hs_error *error);

/* As above, and *step is the weight of the last digit typed, in the unit itself ("2.20 kohm" gives 10). */
bool hs_quantity_read_step(const char *text, hs_unit bare, hs_quantity *out, double *step, hs_error *error);

/* Reads a quantity at the start of text and says how many bytes it took. */
bool hs_quantity_scan(const char *text, hs_unit bare, hs_quantity *out, double *step, size_t *used, hs_error *error);

/*
 * For people: a prefix that leaves 1 to 999 in front of the point (none from 0.1 to 1: "0.54 V"), up to 4 significant digits (levels, dB, degC, %: two decimals at
 * most, trailing zeros kept to `decimals` when >= 0). "1.57 GHz", "-31.4 dBm", "2.2 kohm", "12 V". decimals < 0: shortest.
 */
void hs_quantity_print(hs_buf *out, hs_quantity quantity, int decimals);

/* The prefix that hs_quantity_print gives it with decimals < 0, as a power of a thousand: -4 is pico, 0 is none, 4 is tera. */
int hs_quantity_prefix(hs_quantity quantity);

/*
 * For figures that are compared: behind the prefix they share ("0.02 V" beside limits in V), shortest. A figure that would read
 * under 0.0001 or 10000 and more there takes its own.
 */
void hs_quantity_print_in(hs_buf *out, hs_quantity quantity, int prefix);

/*
 * Converts within the rules of levels: power and voltage units into each other. impedance_ohm is needed only between power and
 * voltage; 0 means absent and is then an error, never a silent 50 ohm. Peak and peak-to-peak are of a sine. 0 W or 0 V has
 * no level in decibels: an error. dBuV = dBm + 90 + 10 log10(Z); 0 dBu = sqrt(0.6) V (IEC 60027-3).
 */
bool hs_quantity_convert(hs_quantity from, hs_unit to, double impedance_ohm, hs_quantity *out, hs_error *error);

/*
 * What a technician typed as a measured value.
 *
 * Kinds: a number; a bound ("> 20 Mohm", "< 1 mV"); over ("OL", "over", "overload"); open ("open", "O/C", resistance only);
 * unread ("not read", "unread", "n/a", "cannot", optionally followed by ": REASON" or " REASON"). A polarity is the number's sign.
 */
typedef enum hs_entry_kind { HS_ENTRY_NUMBER, HS_ENTRY_ABOVE, HS_ENTRY_BELOW, HS_ENTRY_OVER, HS_ENTRY_OPEN, HS_ENTRY_UNREAD } hs_entry_kind;

typedef struct hs_entry {
	hs_entry_kind kind;
	hs_quantity quantity; /* NUMBER, ABOVE, BELOW */
	double step;          /* weight of the last digit typed, in the unit itself; NUMBER only */
	char reason[200];     /* UNREAD; of a trace: its file */
	double freq_hz;       /* of a trace: where its worst point lies; 0: the reading's own frequency */
} hs_entry;

/*
 * Reads a technician's entry. `shown` is the unit on the prompt: a bare number takes it, and a quantity of another dimension is
 * refused with both named. dBm typed for a power prompt in W is fine and stays as typed.
 */
bool hs_entry_read(const char *text, hs_unit shown, hs_entry *out, hs_error *error);

/*
 * "NOMINAL +/- TOLERANCE" (also U+00B1, "+-"), the tolerance in the same dimension, or in % of a non-level, or in dB of a level.
 * Used for gains, losses and limits. tolerance is in the unit of nominal. A nominal alone gives tolerance 0.
 */
bool hs_toleranced_read(const char *text, hs_unit bare, hs_quantity *nominal, double *tolerance, hs_error *error);

#endif
