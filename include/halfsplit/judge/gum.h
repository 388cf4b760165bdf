/*
 * The uncertainty of a result from its parts, with degrees of freedom, correlation and a coverage factor; the printed
 * budget; and decision rules with their probabilities of being wrong. Beside budget.h, which serves one reading, this
 * serves a laboratory's file.
 *
 * Every function returns true and fills its result, or returns false, leaves it alone and fills *error (HS_BAD_INPUT).
 * NaN is an error everywhere; infinite only degrees of freedom may be (INFINITY: a type B value taken as exact), which
 * must else be at least 1.
 *
 * Sources: JCGM 100:2008 (the GUM): 4.2 type A, 4.3 type B, 5.1.2 and 5.2.2 combination, G.3 Student's t, G.4
 * Welch-Satterthwaite, G.4.2 doubt in a type B value; EA-4/02 (form of the budget); JCGM 106:2012, 7 and 8;
 * ILAC-G8:09/2019, 4.2 (decision rules).
 */
#ifndef HALFSPLIT_JUDGE_GUM_H
#define HALFSPLIT_JUDGE_GUM_H

#include "halfsplit/judge/budget.h"
#include "halfsplit/judge/limits.h"

/* Probability within +- 2 standard deviations of a normal distribution, 95.45 %: with it an infinite sample has k = 2
 * exactly. */
#define HS_COVERAGE 0.95449973610364158

/* Type A: repeated readings. n >= 2. */
typedef struct hs_type_a {
	double mean;
	double deviation; /* s = sqrt(sum (x - mean)^2/(n - 1)) of one reading */
	double standard;  /* s/sqrt(n) of the mean */
	double dof;       /* n - 1 */
} hs_type_a;
bool hs_type_a_of(const double *values, size_t count, hs_type_a *out, hs_error *error);

/* Correlation of two series read in pairs (5.2.3), -1 to 1. n >= 2; a series that never changes has none. */
bool hs_correlation_of(const double *a, const double *b, size_t count, double *r, hs_error *error);

/* Degrees of freedom of a type B value whose u is itself in doubt by this share (0.1: 10 %): 1/(2 doubt^2). doubt > 0,
 * at most 0.7. */
bool hs_dof_of_doubt(double doubt, double *dof, hs_error *error);

/* nu = (sum u_i^2)^2 / sum(u_i^4/nu_i), u_i in the unit of the result and uncorrelated. INFINITY when no part has
 * fewer. */
bool hs_welch_satterthwaite(const double *u, const double *dof, size_t count, double *effective, hs_error *error);

/* Student's t: probability within +-t, and the t that holds a probability, 0 < p < 1. dof >= 1, need not be whole. */
bool hs_student_coverage(double t, double dof, double *p, hs_error *error);
bool hs_student_factor(double p, double dof, double *t, hs_error *error);

/* Sensitivity by difference (5.1.3, note 2): (f(x_i + u) - f(x_i - u))/(2 u). u > 0; `f` returns NaN where it has no
 * value: an error. */
typedef double hs_model_function(const double *x, size_t count, void *context);
bool hs_sensitivity(hs_model_function *f, void *context, const double *x, size_t count, size_t i, double u, double *c,
                    hs_error *error);

typedef struct hs_gum_term {
	char name[48];
	bool has_value;
	hs_quantity value;  /* the estimate, for the printed budget; its unit is the unit of half_width */
	double half_width;  /* as found: half-width, expanded or standard uncertainty, >= 0 */
	hs_shape shape;     /* how it was found; HS_STANDARD for type A */
	double divisor;     /* 0: the shape's; else this, such as the k of a certificate */
	double sensitivity; /* result's unit per unit of the term, with its sign */
	double dof;         /* INFINITY for most type B */
	bool type_a;
} hs_gum_term;

typedef struct hs_gum {
	hs_gum_term terms[HS_TERMS_MOST];
	size_t count;
	double r[HS_TERMS_MOST][HS_TERMS_MOST]; /* correlation of i and j, i < j; 0 when not stated */
	hs_quantity result;                     /* unit, for the printed budget, and the estimate when has_result */
	bool has_result;
} hs_gum;

/* Appends a term; false with an error when the budget is full or the term cannot be. */
bool hs_gum_add(hs_gum *gum, const hs_gum_term *term, hs_error *error);

/* States the correlation of two terms already added, -1 to 1. */
bool hs_gum_correlate(hs_gum *gum, size_t i, size_t j, double r, hs_error *error);

/* The terms of a reading's budget; errors it shares become correlations of 1. All degrees of freedom infinite. */
bool hs_gum_of_budget(const hs_budget *budget, hs_gum *out, hs_error *error);

typedef struct hs_gum_sum {
	double standard;                    /* u = sqrt(sum_i sum_j c_i c_j u_i u_j r_ij) */
	double contribution[HS_TERMS_MOST]; /* |c_i| u_i */
	double dof; /* Welch-Satterthwaite; with correlated terms of finite dof the least of them, which errs to the
	               wide side */
	double coverage; /* k: Student's t at HS_COVERAGE for dof cut down to a whole number */
	double expanded; /* k u */
} hs_gum_sum;

/* At least one term. Correlations that no quantities can have together (u^2 below 0) are an error. */
bool hs_gum_combine(const hs_gum *gum, hs_gum_sum *out, hs_error *error);

/*
 * The budget as in an accreditation file: quantity, estimate, half-width, distribution, divisor, standard uncertainty,
 * sensitivity, contribution, share of u^2, degrees of freedom; then correlations, u, nu, k, U and, where it was given,
 * the result with U to two digits (7.2.6). Columns are aligned; text ends in a newline.
 */
void hs_gum_print(hs_buf *out, const hs_gum *gum, const hs_gum_sum *sum);

/* Decision rules. */
typedef enum hs_rule {
	HS_RULE_SIMPLE,  /* accept inside the limits: at the limit wrong with up to 50 % */
	HS_RULE_GUARDED, /* accept inside by the guard band w */
	HS_RULE_FOUR_WAY /* inside by w, inside, outside by less than w, outside */
} hs_rule;

typedef enum hs_statement { HS_PASS, HS_CONDITIONAL_PASS, HS_CONDITIONAL_FAIL, HS_FAIL } hs_statement;

const char *hs_statement_name(hs_statement statement); /* "pass" "conditional pass" "conditional fail" "fail" */

typedef struct hs_decision {
	hs_statement statement;
	double conform;      /* P(true value within the limits), normal, no knowledge from before (JCGM 106, 7) */
	double false_accept; /* when passed, with or without condition: 1 - conform; else 0 */
	double false_reject; /* when failed, with or without condition: conform; else 0 */
	double guard;        /* w */
} hs_decision;

/*
 * w = guard_factor x u: 2 for w = U (k = 2), 0 with HS_RULE_SIMPLE. value and u in the unit of the limits, u >= 0. On a
 * limit is within it. Limits without any end are errors, and with HS_RULE_GUARDED a guard band that leaves nothing to
 * accept.
 */
bool hs_decide(const hs_limits *limits, double value, double standard_u, hs_rule rule, double guard_factor,
               hs_decision *out, hs_error *error);

/* The largest probability of a false accept that a guard band of w leaves, at one limit: 1 - Phi(w/u). 2.3 % for w = 2
 * u. And back. */
bool hs_false_accept_most(double guard, double standard_u, double *p, hs_error *error);
bool hs_guard_for(double false_accept, double standard_u, double *guard, hs_error *error); /* 0 < p <= 0.5 */

#endif
