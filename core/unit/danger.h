/* What is asked of a declared danger: one table of rows, and the small questions its rows stand on. */
#ifndef HALFSPLIT_CORE_UNIT_DANGER_H
#define HALFSPLIT_CORE_UNIT_DANGER_H

#include "facts.h"

/* When a row is asked at all. */
typedef enum hs_danger_only {
	HS_ONLY_ALWAYS,
	HS_ONLY_FLAG,         /* unless the danger says it has not what `flag` names */
	HS_ONLY_UNREFERENCED, /* chassis not measured since the plug moved, or found live */
	HS_ONLY_INTERLOCK,    /* an interlock is defeated */
	HS_ONLY_ATTENDED,     /* an interlock is defeated, or a cover over it is off */
	HS_ONLY_NEAR_LIVE,    /* a hazardous zone lies open */
	HS_ONLY_AWAY_LIVE,    /* none does, or it is proved dead */
	HS_ONLY_STRONG,       /* a laser above class 2 */
	HS_ONLY_USED,         /* a substance was used */
	HS_ONLY_HEAVY,
	HS_ONLY_HOOKED,
	HS_ONLY_DEAD          /* proved dead: hands and not only a probe go in */
} hs_danger_only;

/* How its answer is judged. */
typedef enum hs_danger_rule {
	HS_RULE_NONE,
	HS_RULE_AT_LEAST,   /* less is refused */
	HS_RULE_AT_MOST,    /* more is refused */
	HS_RULE_SOUND_MOST, /* more bars */
	HS_RULE_SOUND_BAND, /* outside bars */
	HS_RULE_BARS,       /* every word but the first bars */
	HS_RULE_CHASSIS,    /* noted: above the limit the chassis is live */
	HS_RULE_PROBE,      /* "earthed" only on a chassis measured and found without voltage */
	HS_RULE_ANOTHER,    /* not the person at the bench */
	HS_RULE_CLASS,      /* as declared */
	HS_RULE_BAND        /* covers the wavelength */
} hs_danger_rule;

typedef enum hs_danger_limit {
	HS_LIMIT_NONE,
	HS_LIMIT_PEAK, HS_LIMIT_HIGHEST, HS_LIMIT_AC, HS_LIMIT_DC, HS_LIMIT_CELL_MOST, HS_LIMIT_CELL_WARM, HS_LIMIT_FUSE, HS_LIMIT_DENSITY,
	HS_LIMIT_TOUCH
} hs_danger_limit;

typedef struct hs_danger_row {
	hs_danger_kind kind;    /* HS_DANGER_KINDS: of every kind, the specialist */
	const char *name;
	unsigned moments;
	hs_danger_only only;
	unsigned flag;
	hs_gate_answer answer;
	hs_unit unit;
	const char *words[4];
	hs_danger_rule rule;
	hs_danger_limit limit;
	hs_keeps keeps;
	bool starts;            /* its answer begins the wait of the danger */
	int waits;              /* HS_DANGER_ figure of the wait before it is answered, -1 none */
	const char *text;       /* "%s" stands for the danger's title */
	const char *caution;
} hs_danger_row;

const hs_danger_row *hs_danger_rows(int *count);
const hs_danger_row *hs_danger_row_of(const hs_gate *gate); /* of a gate whose fact is HS_FACT_DANGER */
int hs_danger_specialist(void); /* which row */

/* What the row's answer is held against, at its limits; what is not stated counts as the worst. */
double hs_danger_limit_of(const hs_bench_unit *unit, const hs_danger *danger, hs_danger_limit limit);
double hs_danger_cell_least(const hs_danger *danger);
double hs_danger_seconds(const hs_danger *danger, int figure);
bool hs_danger_is_strong(const hs_danger *danger);

bool hs_danger_row_fits(const hs_bench_unit *unit, const hs_gate *gate);
bool hs_danger_row_passed(const hs_physical *physical, const hs_gate *gate);
int64_t hs_danger_earliest(const hs_bench_unit *unit, const hs_physical *physical, const hs_gate *gate);
bool hs_danger_in_turn(const hs_bench_unit *unit, const hs_physical *physical, const hs_gate *gate);
void hs_danger_pass(hs_physical *physical, const hs_gate *gate, int step, int64_t now_ms);
void hs_danger_text(const hs_bench_unit *unit, const hs_gate *gate, hs_buf *out);

/* Everything that holds only so long. */
void hs_dangers_lapse(hs_physical *physical, hs_keeps keeps);
/* All that is asked before power has been answered; ... before it is switched off. */
bool hs_dangers_ready(const hs_bench_unit *unit, const hs_physical *physical, unsigned moment);

#endif
