/*
 * A line-up: the chain a signal goes through inside a unit, as a technician draws it, and what a healthy or a faulty one shows at
 * each of its points.
 *
 * A line-up is a list of elements; each names the one that feeds it, a switch one for each of its positions. It is immutable once
 * made; texts and arrays belong to the maker's arena. Levels are decibels of one scale an element: dBm of a power, or dBV of a
 * voltage (rms, or DC). Audio and DC go the same way as RF; DC has the frequency 0.
 *
 * Two calls, because a simulation asks for millions of levels: hs_lineup_route looks up way, frequencies and gains once;
 * hs_route_level then only adds, with no memory taken. Functions that can fail return false and fill *error (HS_BAD_INPUT).
 */
#ifndef HALFSPLIT_LINEUP_LINEUP_H
#define HALFSPLIT_LINEUP_LINEUP_H

#include <stdint.h>
#include "halfsplit/lineup/coax.h"
#include "halfsplit/quantity/quantity.h"

#define HS_ELEMENTS_MOST 96  /* of one line-up */
#define HS_ROUTE_MOST    160 /* elements on a way, with the ways of oscillators and detectors that act on it */

/* ---- gain against frequency ---- */

typedef enum hs_response_kind { HS_RESPONSE_FLAT, HS_RESPONSE_TABLE, HS_RESPONSE_COAX } hs_response_kind;

typedef struct hs_gain_point {
	double freq_hz;
	double gain_db;
} hs_gain_point;

typedef struct hs_response {
	hs_response_kind kind;
	double gain_db;                 /* FLAT */
	const hs_gain_point *points;    /* TABLE: rising in frequency */
	size_t count;
	bool root;                      /* TABLE: a line over the root of frequency, as conductor loss goes; else over frequency */
	const hs_loss_table *cable;     /* COAX: loss of per_m metres; NULL: the law */
	double per_m;
	hs_coax_law law;
	double length_m;
	double up_db, down_db;          /* tolerance: how far a healthy one may lie above and below, >= 0 */
} hs_response;

/* Gain in dB, negative for a loss. Outside a table: "no gain known at 3.2 GHz: the table runs from 10 MHz to 3 GHz". */
bool hs_response_at(const hs_response *response, double freq_hz, double *gain_db, hs_error *error);

/* ---- faults ---- */

typedef enum hs_effect_kind {
	HS_EFFECT_NONE,
	HS_EFFECT_DEAD,      /* nothing comes out */
	HS_EFFECT_GAIN,      /* value: dB added; of an oscillator or supply to its level */
	HS_EFFECT_DRIFT,     /* the same, once it has been powered for warm_minutes; in proportion before */
	HS_EFFECT_OPEN,      /* a gap with `value` farads across it: the loss falls 20 dB a decade as frequency rises */
	HS_EFFECT_SERIES,    /* `value` henries in line, or a poor ground: the loss rises with frequency */
	HS_EFFECT_RESISTIVE, /* `value` ohm in line: flat */
	HS_EFFECT_LEAKY,     /* `value` ohm from the line to ground: flat */
	HS_EFFECT_SHORT,     /* the same, of a short */
	HS_EFFECT_STUCK,     /* a switch stays in position `value`, from 1, wherever its control stands */
	HS_EFFECT_NO_LOCK,   /* an oscillator is not where it belongs: nothing at its frequency */
	HS_EFFECT_LOST,      /* a leveller or regulator no longer holds: full gain, all of the input */
	HS_EFFECT_HELD,      /* a leveller holds back all it can */
	HS_EFFECT_KINDS
} hs_effect_kind;

#define HS_STRAY_FARAD  0.1e-12 /* across a gap, unless stated */
#define HS_SERIES_HENRY 10e-9   /* of a poor ground, unless stated */
#define HS_SHORT_OHM    0.5     /* of a short, unless stated */

#define HS_WARM_MINUTES 10.0    /* until a drift is all there, unless stated */

typedef struct hs_effect {
	hs_effect_kind kind;
	int element;
	double value;
	double warm_minutes;          /* DRIFT: above 0 */
	const struct hs_effect *also; /* of a fault that strikes several elements, or of two faults at once; NULL: no more */
} hs_effect;

/* What one mode of an element's suspect does. */
typedef struct hs_line_fault {
	const char *mode; /* as the suspect names it */
	hs_effect effect;
} hs_line_fault;

/* ---- elements ---- */

typedef enum hs_element_kind {
	HS_ELEMENT_PORT,       /* where the signal comes in or goes out */
	HS_ELEMENT_POINT,      /* where one can read; has a tap when it is sampled */
	HS_ELEMENT_STAGE,      /* amplifier, filter, pad, cable */
	HS_ELEMENT_MIXER,
	HS_ELEMENT_SWITCH,     /* or a switched bank */
	HS_ELEMENT_JOINT,      /* can be parted */
	HS_ELEMENT_ARM,        /* the side arm of a coupler or split */
	HS_ELEMENT_OSCILLATOR,
	HS_ELEMENT_SUPPLY,
	HS_ELEMENT_LEVELLER,   /* turns its gain down so that its detector does not see more than it holds */
	HS_ELEMENT_KINDS
} hs_element_kind;
const char *hs_element_kind_name(hs_element_kind kind); /* port point stage mixer switch joint arm oscillator supply levelling */

/* A frequency that may hang on a control. */
typedef struct hs_tuning {
	bool given;
	double hz;                    /* control < 0 */
	int control;                  /* -1: none */
	const double *by_position;    /* Hz, from position 1; 0: none stated */
	int position_count;
	double to_hz;                 /* of a mixer that is tuned: what comes out, whatever goes in; 0: not so */
} hs_tuning;

typedef struct hs_element {
	const char *id;
	const char *title;            /* NULL: the id serves */
	hs_element_kind kind;
	int from;                     /* the element that feeds it; -1: none does */
	const int *ways;              /* SWITCH: by position from 1 the element that feeds it; -1: that position passes nothing */
	int way_count;
	int control;                  /* SWITCH: which control sets it */
	bool volts;                   /* its scale: dBV, else dBm */
	hs_response gain;             /* along the line */
	bool has_tap;
	hs_response tap;              /* POINT: from the line to where one reads */
	bool negative;                /* SUPPLY: its volts are below ground */
	double level, level_up_db, level_down_db; /* what an oscillator or supply gives; what a leveller or `holds` holds */
	bool holds;                   /* STAGE: gives no more than `level`: a regulator, a limiter */
	bool has_nf;
	double nf_db;
	bool has_p1db;
	double p1db, p1db_up_db, p1db_down_db; /* at its output */
	bool has_max, has_peak;
	double max, peak;             /* what its input stands, average and peak */
	double max_dc_v;              /* 0: not stated */
	hs_tuning tuned;              /* OSCILLATOR, MIXER */
	bool sum;                     /* MIXER: f + lo, else |f - lo| */
	double times;                 /* STAGE: multiplies the frequency; 0: not */
	int lo;                       /* MIXER: the element whose output drives it; -1: it is always driven */
	int locks;                    /* OSCILLATOR: the reference it is locked to; -1: none */
	bool has_needs;
	double needs;                 /* the least drive of a mixer, the least reference of an oscillator */
	int detector;                 /* LEVELLER: where it looks; -1 */
	double range_db;              /* LEVELLER: how far it can turn down */
	int when_control;             /* LEVELLER: works only while this control stands at ... ; -1: always */
	int when_position;
	int supply;                   /* dead without this SUPPLY; -1: none */
	int openable;                 /* JOINT: its bit in hs_line_settings.open; -1: cannot be parted */
	bool at_most;                 /* ARM: a healthy unit shows this or less, as on the reverse arm of a coupler */
	double impedance_ohm;         /* 0: not stated; faults that work against it want it */
	int suspect, point;           /* of the playbook, for whoever made it; -1: none */
	const hs_line_fault *faults;
	size_t fault_count;
	const char *file;             /* where it was declared */
	int line;
} hs_element;

typedef struct hs_lineup {
	const char *id;
	const char *title;            /* NULL: the id serves */
	const hs_element *elements;
	size_t count;
	const char *file;
	int line;
} hs_lineup;

int hs_lineup_element(const hs_lineup *lineup, const char *id);  /* index or -1 */
int hs_lineup_at_point(const hs_lineup *lineup, int point);      /* the element of a playbook's point; -1: none */
/* The first element that in the end feeds, drives or locks itself; -1: none does. A leveller's detector is a loop that is meant. */
int hs_lineup_cycle(const hs_lineup *lineup);

/* How the unit stands. */
typedef struct hs_line_settings {
	const uint8_t *set;           /* by control: position from 1; 0 not known */
	size_t count;
	uint64_t open;                /* joints that are parted */
} hs_line_settings;

/* What goes in. element -1: nothing does, and only what the unit makes by itself is there. */
typedef struct hs_injected {
	int element;
	double level;                 /* in the scale of that element */
	double freq_hz;               /* 0: DC */
	bool negative;                /* DC below ground */
} hs_injected;

/* ---- the way to a point, looked up once ---- */

typedef struct hs_route_step {
	int element;
	double freq_hz;               /* at its input */
	double gain_db;               /* nominal, there */
	double tap_db;                /* of the last one, when it is read through its tap */
	bool tapped;
	bool looks;                   /* of a leveller: it works here */
	bool side_parted;             /* a joint is parted among those below: nothing comes from there */
	double side_start;            /* level in front of those: what is injected there; minus infinity: they make their own */
	uint16_t side, side_count;    /* the steps that drive a mixer, lock an oscillator, or lead to a leveller's detector */
} hs_route_step;

typedef struct hs_route {
	const hs_lineup *lineup;
	hs_route_step steps[HS_ROUTE_MOST];
	uint16_t count;               /* of the way itself, from the front */
	uint16_t used;                /* with all side ways */
	double start;                 /* level in front of the first step */
	double out_hz;
	bool volts;
	bool negative;                /* DC below ground: the level is its size */
	bool at_most;
	int parted;                   /* the joint that keeps everything back; -1: none */
} hs_route;

/*
 * The way from what is injected (or from the unit's own oscillator or supply) to an element. A stuck switch changes the way, so the
 * fault is looked at here too (NULL: none). Errors: nothing goes in, a control of which the position is not known, a table that
 * does not cover the frequency, two equal frequencies at a mixer.
 */
bool hs_lineup_route(const hs_lineup *lineup, const hs_injected *injected, int to, const hs_line_settings *settings,
                     const hs_effect *fault, hs_route *out, hs_error *error);

/*
 * Deviations of one unit from nominal, as parts of each tolerance from -1 to 1: HS_DEVIATIONS(count) numbers, of element i the gain
 * (or level given) at i, of P1dB and of what is held at count + i, of its tap at 2 count + i.
 */
#define HS_DEVIATIONS(count) (3 * (count))

/*
 * The level at the end of a route, in dBm or dBV; minus infinity when nothing comes through. fault and deviations may be NULL.
 * levels (NULL, or route->count numbers) takes the level behind each step. Takes no memory and cannot fail.
 *
 * Compression: out = L - (10/p) log10(1 + 10^(p (L - S)/10)), L the level without it, p = 2, and S such that gain is 1 dB down at
 * P1dB: S = P1dB + 1 - (10/p) log10(10^(p/10) - 1). C. Rapp, Effects of HPA-nonlinearity on a 4-DPSK/OFDM signal, ECSC 1991.
 * A mixer under its needed drive loses as many dB as lack, and passes nothing 20 dB under it. A stage whose supply is low by x dB has
 * x dB less gain and P1dB; under half its volts it is dead. A regulator
 * between makes up for as much as it has to spare. In-line and shunt faults of impedance Z in a line of Z0 lose
 * 20 log10|1 + Z/2Z0| and 20 log10|1 + Z0/2Z| (D. M. Pozar, Microwave Engineering, chapter 4).
 */
double hs_route_level(const hs_route *route, const hs_effect *fault, const double *deviations, double *levels);

/* The loss, in dB, that a fault puts in line at a frequency; 0 for those that work otherwise; infinite at DC for a gap. */
double hs_effect_loss(const hs_effect *effect, double impedance_ohm, double freq_hz);

/*
 * "dead", "missing" (the same, of a supply), "gain -6 dB", "low 20 %" (of a supply's volts), "drift -4 dB", "drift -4 dB in 15 min",
 * "open", "open 0.2 pF", "poor ground", "series 10 nH", "resistive 20 ohm", "leaky 100 ohm", "short", "short 2 ohm", "no lock", "lost", "held". A stuck switch is read by whoever knows its positions.
 */
bool hs_effect_read(const char *text, hs_effect *out, hs_error *error);
/* The same words back: "gain -6 dB"; of a stuck switch "stuck in position 2". */
void hs_effect_print(hs_buf *out, const hs_effect *effect);
/* True when the element can have it and it changes anything: a cable has no lock to lose. */
bool hs_effect_matters(const hs_lineup *lineup, const hs_effect *effect);

/* ---- what a healthy unit shows ---- */

typedef struct hs_predicted_line {
	int element;
	bool beside;                  /* not on the way itself: drives, locks or holds something on it */
	double freq_hz;
	double change_db;             /* what it does to the level, compression and levelling with it */
	double level;                 /* behind it */
	double compressed_db;         /* how much of it is compression */
	double up_db, down_db;        /* what its tolerance does to the result */
} hs_predicted_line;

typedef struct hs_prediction {
	bool nothing;                 /* no signal is there at all */
	bool volts;
	bool negative;                /* DC below ground */
	bool at_most;                 /* only the upper side means anything */
	double start, level;          /* in front of the first element, and at the point */
	double start_hz, freq_hz;
	double up_db, down_db;        /* root-sum-square of the lines */
	double worst_up_db, worst_down_db; /* every element at its worst end at once */
	bool has_noise;
	double noise_dbm_hz;          /* thermal noise of the chain at the point, source at 290 K */
	const char *noise_of;         /* when it is not known: the element without a noise figure */
	hs_predicted_line lines[HS_ROUTE_MOST];
	size_t count;
} hs_prediction;

/*
 * Each contributor is set to both ends of its tolerance with all others nominal, so that what lies before a compressing or levelled
 * stage counts by as much as it still moves the result; the changes add as root-sum-square. Worst case: all of them together.
 * NULL fault: a healthy unit.
 */
bool hs_lineup_predict(const hs_lineup *lineup, const hs_injected *injected, int to, const hs_line_settings *settings,
                       const hs_effect *fault, hs_prediction *out, hs_error *error);

/* The level as a quantity in dBm, or in V, below 0 where the line is. */
hs_quantity hs_prediction_level(const hs_prediction *prediction, double level);

/* The budget, a line for each contributor, then both sums, then noise and compression where they bound it. */
void hs_prediction_print(hs_buf *out, const hs_lineup *lineup, const hs_prediction *prediction, const char *indent);

/* ---- the worst that can happen, for protection ---- */

typedef struct hs_worst {
	double level;                 /* the highest, every tolerance at its upper end */
	hs_effect effect;             /* the fault it takes; kind NONE: none */
	int element;                  /* of hs_lineup_overdriven: which input it is too much for; -1: for none */
	double over_db;               /* and by how much */
} hs_worst;

/*
 * The highest level at an element over every fault of every suspect still open (open NULL: all; else by the elements' suspect), a
 * lost leveller or regulator and a switch in any of its positions among them. False when no way leads there.
 */
bool hs_lineup_worst(const hs_lineup *lineup, const hs_injected *injected, int to, const hs_line_settings *settings,
                     const bool *open, hs_worst *out, hs_error *error);

/*
 * The same for the inputs on the way to `to`: the one that is most above what it stands, average, or peak with the crest of the
 * signal added. worst.element is -1 when none is.
 */
bool hs_lineup_overdriven(const hs_lineup *lineup, const hs_injected *injected, int to, double crest_db,
                          const hs_line_settings *settings, const bool *open, hs_worst *out, hs_error *error);

/* ---- drawn ---- */

typedef struct hs_level_row {
	const char *name;
	bool has_expected;
	double low, high;             /* the band, in decibels */
	bool has_read;
	double read;
} hs_level_row;

/*
 * Points from top to bottom, level from left to right: the band a healthy unit lies in [====], readings o, the point in question
 * marked >. Plain ASCII, no line wider than `width` (at least 60); each ends with a newline. unit: what the scale is in.
 */
void hs_level_diagram(hs_buf *out, const hs_level_row *rows, size_t count, size_t here, hs_unit unit, size_t width);

#endif
