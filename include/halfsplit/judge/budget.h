/*
 * Uncertainty of a corrected reading (JCGM 100:2008, the GUM): each term's standard uncertainty is its half-width over the divisor of
 * its distribution; uncorrelated terms add as hypot, terms of one `shared` name add linearly with their sign; expanded U = 2u.
 */
#ifndef HALFSPLIT_JUDGE_BUDGET_H
#define HALFSPLIT_JUDGE_BUDGET_H

#include "halfsplit/lineup/hookup.h"

typedef enum hs_shape { HS_RECTANGULAR, HS_TRIANGULAR, HS_USHAPED, HS_NORMAL_K2, HS_STANDARD } hs_shape;

typedef struct hs_term {
	char name[64];       /* "M1 accuracy", "K12 loss", "last digit" */
	double half_width;   /* in the budget's unit (dB for levels) */
	hs_shape shape;
	double sensitivity;  /* usually 1; -1 for the second reading of a difference */
	int shared;          /* 0: on its own; equal numbers: one error, added linearly */
} hs_term;

#define HS_TERMS_MOST 24

typedef struct hs_budget {
	hs_term terms[HS_TERMS_MOST];
	size_t count;
	hs_unit unit;
} hs_budget;

double hs_shape_divisor(hs_shape shape); /* sqrt 3, sqrt 6, sqrt 2, 2, 1 */
void hs_budget_add(hs_budget *budget, const char *name, double half_width, hs_shape shape, double sensitivity, int shared);
double hs_budget_standard(const hs_budget *budget); /* u */
double hs_budget_expanded(const hs_budget *budget); /* U = 2u */

/*
 * Fills the budget of one reading: instrument accuracy at this value (percent and absolute), each part's loss, half a step of the last digit
 * (step/sqrt 12). `corrected` is the value at the point. The unit is dB for levels, the reading's own otherwise: uncertainty in dB becomes
 * volts or watts by the derivative (V x ln10/20, W x ln10/10). A probe's u is in dB too.
 */
void hs_budget_of_reading(hs_budget *budget, const hs_hookup *hookup, const hs_range *range, const hs_correction *correction,
                          hs_quantity corrected, double step);

#endif
