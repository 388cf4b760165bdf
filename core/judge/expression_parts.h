/* Inside the calculator only: what the reader of expressions hands to the arithmetic. */
#ifndef CORE_JUDGE_EXPRESSION_PARTS_H
#define CORE_JUDGE_EXPRESSION_PARTS_H

#include "halfsplit/base/alloc.h"
#include "halfsplit/judge/expression.h"
#include "halfsplit/quantity/level.h"

/* What a value is beyond its unit. */
typedef enum hs_sense {
	HS_SENSE_PLAIN,
	HS_SENSE_GAMMA,
	HS_SENSE_RETURN_LOSS,
	HS_SENSE_MISMATCH_LOSS,
	HS_SENSE_EMF,
	HS_SENSE_PD,
	HS_SENSE_POWER_RATIO,
	HS_SENSE_VOLTAGE_RATIO,
	HS_SENSE_DENSITY
} hs_sense;

typedef struct hs_figure {
	hs_quantity is;
	hs_sense sense;
	double ohm;     /* the impedance it was said in, 0: none */
	double scale;   /* of the prefix asked for; 1 */
	char shown[24]; /* the unit asked for; "": the unit's own name */
	char note[96];
} hs_figure;

/* The end of "in dBuV", "as return loss". */
typedef struct hs_target {
	hs_unit unit;
	hs_sense sense;
	double scale;
	char shown[24];
} hs_target;

/* What is said once for a whole phrase. A number of 0 is not given, but for those with a flag. */
typedef struct hs_terms {
	double ohm;
	bool has_ohm;
	bool into;         /* the impedance is a load: a voltage means the power in it */
	double source_ohm; /* "from 50 ohm" */
	bool has_source;
	double bands[2];
	int band_count;
	double freq_hz;
	double nf_db;
	bool has_nf;
	double kelvin;
	bool has_kelvin;
	bool in_phase;
	hs_waveform wave;
	bool has_wave;
	bool used_band, used_freq, used_nf, used_kelvin, used_source, used_phase;
} hs_terms;

typedef enum hs_turn {
	HS_TURN_ADD,
	HS_TURN_TAKE,
	HS_TURN_TIMES,
	HS_TURN_OVER,
	HS_TURN_AND,
	HS_TURN_LESS,
	HS_TURN_NEAR,
	HS_TURN_THROUGH,
	HS_TURN_BEHIND,
	HS_TURN_SHARE,   /* "of": so many per cent, or dBc of a carrier */
	HS_TURN_CARRIER, /* "from": a level above a carrier, or the level that is so many decibels above it */
	HS_TURN_PARALLEL,
	HS_TURN_CONVERT
} hs_turn;

/* One more thing said of what stands before it. */
typedef struct hs_saying {
	hs_turn turn;
	const struct hs_node *operand; /* all but CONVERT */
	double degrees;                /* of the operand */
	bool has_degrees;
	hs_target target; /* CONVERT */
	struct hs_saying *next;
} hs_saying;

typedef struct hs_phrase {
	const struct hs_node *first;
	double degrees;
	bool has_degrees;
	hs_saying *sayings, **end;
	hs_terms terms;
} hs_phrase;

typedef enum hs_shape_of {
	HS_NODE_LITERAL,
	HS_NODE_SENSE,  /* "swr", "emf" ... of `a` */
	HS_NODE_NEGATE, /* of `a` */
	HS_NODE_CHAIN,  /* `a`, then the links from `b` on: + - * / only */
	HS_NODE_LINK,   /* `turn` and its operand `a`, or one item of a list */
	HS_NODE_MEAN,   /* of the links from `a` on */
	HS_NODE_RMS,
	HS_NODE_SUM,
	HS_NODE_REFLECTED, /* the power `b` that comes back of `a` */
	HS_NODE_FLOOR,
	HS_NODE_RESISTOR, /* noise of `a` */
	HS_NODE_COAX,     /* `figure` metres of `type` */
	HS_NODE_PHRASE
} hs_shape_of;

typedef struct hs_node {
	hs_shape_of shape;
	hs_figure figure;
	hs_target target; /* SENSE */
	hs_turn turn;
	const struct hs_node *a, *b;
	const struct hs_node *next; /* LINK */
	hs_phrase *phrase;
	const char *type;
} hs_node;

typedef struct hs_working {
	hs_arena *arena;
	const char *text, *at; /* what is being read, and how far it is */
	int depth;
	bool said_ohm, used_ohm, said_wave, used_wave; /* anywhere in the expression; a sine need not be said */
	hs_buf *steps;
	hs_fault fault;
	hs_error *error;
} hs_working;

/* Sets the kind of fault that the next failure is, and gives the error to fill. */
hs_error *hs_blame(hs_working *w, hs_fault fault);

/* Reads the whole of w->text. NULL on failure. */
const hs_phrase *hs_phrase_read(hs_working *w);

/* The pieces of it, in expression_literal.c. */
void hs_skip_spaces(hs_working *w);
bool hs_word_next(const hs_working *w, const char *word); /* the next word is this one */
bool hs_word_take(hs_working *w, const char *word);       /* and steps over it */
bool hs_words_take(hs_working *w, const char *first, const char *second);
bool hs_sign_take(hs_working *w, const char *sign);
bool hs_literal_next(const hs_working *w);
bool hs_literal_read(hs_working *w, hs_figure *out);
bool hs_target_read(hs_working *w, hs_target *out);
bool hs_amount_read(hs_working *w, const char *word, hs_phrase *phrase); /* of "at", "in", "with" ... */
bool hs_found_instead(hs_working *w, const char *wanted);                /* fails: what stands there, what was wanted */

/* Values. */
hs_figure hs_figure_of(double value, hs_unit unit);
bool hs_figure_is_level(const hs_figure *figure);  /* a level in decibels, or a density */
bool hs_figure_is_signal(const hs_figure *figure); /* a power or a voltage */
bool hs_figure_reflects(const hs_figure *figure);  /* gamma, SWR, return loss, mismatch loss */
typedef struct hs_saidas {
	char text[64];
} hs_saidas;
hs_saidas hs_figure_said(const hs_figure *figure);
bool hs_finish(hs_working *w, hs_figure *figure); /* refuses what is not finite; -0 becomes 0 */
void hs_step(hs_working *w, const char *format, ...) __attribute__((format(printf, 2, 3)));

bool hs_arithmetic(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out);
bool hs_negated(hs_working *w, const hs_figure *a, hs_figure *out);
bool hs_sense_given(hs_working *w, const hs_figure *bare, hs_target sense, hs_figure *out); /* "swr" of 1.8 */

/* Conversions; terms may mark what they used. */
bool hs_level_to(hs_working *w, hs_quantity from, hs_unit to, double ohm, hs_waveform wave, hs_quantity *out);
bool hs_converted(hs_working *w, const hs_figure *from, const hs_target *target, hs_terms *terms, hs_figure *out);
bool hs_reflection_to(hs_working *w, const hs_figure *from, const hs_target *target, double ohm, hs_figure *out);

/* What the words do. */
bool hs_together(hs_working *w, const hs_figure *parts, const double *degrees, size_t count, bool coherent, double ohm,
                 hs_figure *out);
bool hs_mean_of(hs_working *w, const hs_figure *parts, size_t count, bool rms, double ohm, hs_figure *out);
bool hs_worded(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out);
bool hs_noise_floor_of(hs_working *w, hs_terms *terms, hs_figure *out);
bool hs_noise_of(hs_working *w, const hs_figure *resistor, hs_terms *terms, hs_figure *out);
bool hs_coax_of(hs_working *w, double length_m, const char *type, hs_terms *terms, hs_figure *out);

bool hs_turned(hs_working *w, hs_turn turn, const hs_figure *a, const hs_figure *b, double ohm, hs_figure *out);
bool hs_reflected_of(hs_working *w, const hs_figure *forward, const hs_figure *back, hs_figure *out);
bool hs_current_to(hs_working *w, const hs_figure *from, const hs_target *target, const hs_terms *terms, double ohm,
                   hs_figure *out);
bool hs_wavelength_of(hs_working *w, const hs_figure *from, const hs_target *target, hs_figure *out);

/* The whole phrase. Impedance and waveform of `outer` (may be NULL) hold where the phrase has none. */
bool hs_phrase_work(hs_working *w, const hs_phrase *phrase, const hs_terms *outer, hs_figure *out);

#endif
