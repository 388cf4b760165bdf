/* The uncertainty budget. */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>
#include <cmocka.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "halfsplit/judge/budget.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))
#define LN10         2.302585092994045684

static void assert_near(size_t row, double got, double want)
{
	if (!(fabs(got - want) <= 1e-9 * fmax(1, fabs(want))))
		fail_msg("row %zu: got %.17g, want %.17g", row, got, want);
}

static void divisors(void **state)
{
	(void)state;
	assert_near(0, hs_shape_divisor(HS_RECTANGULAR), 1.7320508075688772);
	assert_near(1, hs_shape_divisor(HS_TRIANGULAR), 2.4494897427831779);
	assert_near(2, hs_shape_divisor(HS_USHAPED), 1.4142135623730951);
	assert_near(3, hs_shape_divisor(HS_NORMAL_K2), 2);
	assert_near(4, hs_shape_divisor(HS_STANDARD), 1);
}

static void terms_of_their_own_add_as_hypot(void **state)
{
	(void)state;
	hs_budget budget = {.unit = HS_DB};
	assert_near(0, hs_budget_standard(&budget), 0);
	hs_budget_add(&budget, "a", 3, HS_STANDARD, 1, 0);
	hs_budget_add(&budget, "b", 8, HS_NORMAL_K2, -1, 0);
	assert_near(1, hs_budget_standard(&budget), 5);
	assert_near(2, hs_budget_expanded(&budget), 10);
	hs_budget_add(&budget, "c", 12, HS_STANDARD, 1, 0);
	assert_near(3, hs_budget_standard(&budget), 13);
	assert_string_equal(budget.terms[1].name, "b");
}

static void shared_terms_add_with_their_sign(void **state)
{
	(void)state;
	static const struct {
		double sensitivity[3];
		int shared[3];
		double u;
	} rows[] = {
	    {{1, -1, 0}, {7, 7, 0}, 0}, /* the same error in both readings of a difference cancels */
	    {{1, 1, 0}, {7, 7, 0}, 4},
	    {{1, 1, 0}, {7, 8, 0}, 2.8284271247461903},
	    {{1, 1, 1}, {7, 0, 7}, 4.4721359549995796}, /* not only neighbours */
	    {{1, -1, 1}, {7, 7, 0}, 2},
	    {{0.5, -1, 0}, {7, 7, 0}, 1},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_budget budget = {0};
		for (size_t t = 0; t < 3; t++)
			hs_budget_add(&budget, "t", 2, HS_STANDARD, rows[i].sensitivity[t], rows[i].shared[t]);
		assert_near(i, hs_budget_standard(&budget), rows[i].u);
	}
}

static void a_full_budget_loses_nothing(void **state)
{
	(void)state;
	hs_budget budget = {0};
	for (size_t i = 0; i < HS_TERMS_MOST; i++)
		hs_budget_add(&budget, "t", 1, HS_STANDARD, 1, 0);
	assert_near(0, hs_budget_standard(&budget), sqrt(24));
	hs_budget_add(&budget, "t", 3, HS_STANDARD, -1, 0);
	assert_int_equal(budget.count, HS_TERMS_MOST);
	assert_string_equal(budget.terms[HS_TERMS_MOST - 1].name, "all others");
	assert_near(1, hs_budget_standard(&budget), sqrt(23 + 16));
}

static const hs_part k12 = {.id = "K12", .kind = HS_PART_CABLE};
static const hs_part p10 = {.id = "P10", .kind = HS_PART_PAD};
static const hs_part t1 = {.id = "T1", .kind = HS_PART_PROBE, .ratio = 10};
static const hs_part m1 = {.id = "M1", .kind = HS_PART_INSTRUMENT, .impedance_ohm = 50};
static const hs_hookup hookup = {.id = "meter lead", .instrument = &m1};

static const hs_correction lead = {.count = 2,
                                   .total_db = 11.4,
                                   .total_factor = 1,
                                   .lines = {{.part = &k12, .db = 1.4, .factor = 1, .u_db = 0.2, .source = "K12.s2p"}, {.part = &p10, .db = 10, .factor = 1, .u_db = 0.3, .source = "10 dB pad"}}};
static const hs_correction probe = {
    .count = 1, .total_db = 0, .total_factor = 10, .lines = {{.part = &t1, .db = 0, .factor = 10, .u_db = 0.17, .source = "x10 probe"}}};
static const hs_correction nothing = {.total_factor = 1};
static const hs_correction reflected = {
    .count = 1, .total_db = -2.8, .total_factor = 1, .lines = {{.part = &k12, .db = -2.8, .factor = 1, .u_db = 0.4, .source = "K12.s2p"}}};

/* Terms wanted, in order, each with its half-width in the budget's unit. */
typedef struct want {
	const char *name;
	double half;
	hs_shape shape;
} want;

static void budgets_of_readings(void **state)
{
	(void)state;
	static const struct {
		const hs_correction *correction;
		hs_accuracy u;
		hs_quantity corrected;
		double step;
		hs_unit unit;
		want wants[4];
	} rows[] = {
	    {&lead,
	     {.absolute = 0.25, .unit = HS_DB},
	     {11.4, HS_DBM},
	     0.1,
	     HS_DB,
	     {{"M1 accuracy", 0.25, HS_RECTANGULAR},
	      {"K12 loss", 0.2, HS_RECTANGULAR},
	      {"P10 loss", 0.3, HS_RECTANGULAR},
	      {"last digit", 0.05, HS_RECTANGULAR}}},
	    /* The meter reads 5 W / 13.8 of the 5 W at the point: 2 % of either is the same at the point. */
	    {&lead,
	     {.percent = 2, .unit = HS_WATT, .expanded = true},
	     {5, HS_WATT},
	     0,
	     HS_WATT,
	     {{"M1 accuracy", 0.1, HS_NORMAL_K2},
	      {"K12 loss", 5 * LN10 / 10 * 0.2, HS_RECTANGULAR},
	      {"P10 loss", 5 * LN10 / 10 * 0.3, HS_RECTANGULAR}}},
	    /* What is 2 mV at the meter is 20 mV at the tip of a times-ten probe, and so is the last digit. */
	    {&probe,
	     {.absolute = 2e-3, .unit = HS_VOLT, .percent = 0.5},
	     {-12, HS_VOLT},
	     1e-3,
	     HS_VOLT,
	     {{"M1 accuracy", 0.06 + 0.02, HS_RECTANGULAR},
	      {"T1 ratio", 12 * LN10 / 20 * 0.17, HS_RECTANGULAR},
	      {"last digit", 5e-3, HS_RECTANGULAR}}},
	    {&nothing,
	     {.absolute = 0.5, .unit = HS_DB},
	     {2, HS_VOLT},
	     0,
	     HS_VOLT,
	     {{"M1 accuracy", 2 * LN10 / 20 * 0.5, HS_RECTANGULAR}}},
	    {&nothing,
	     {.absolute = 0.2, .unit = HS_OHM, .percent = 1},
	     {100, HS_OHM},
	     0.1,
	     HS_OHM,
	     {{"M1 accuracy", 1.2, HS_RECTANGULAR}, {"last digit", 0.05, HS_RECTANGULAR}}},
	    /* Percent of power in dB is not symmetric: the wider side. */
	    {&nothing,
	     {.percent = 10, .unit = HS_DB},
	     {0, HS_DBM},
	     0,
	     HS_DB,
	     {{"M1 accuracy", 0.45757490560675115, HS_RECTANGULAR}}},
	    {&nothing,
	     {.percent = 10, .unit = HS_DB},
	     {0, HS_DBV},
	     0,
	     HS_DB,
	     {{"M1 accuracy", 0.91514981121350225, HS_RECTANGULAR}}},
	    /* 0.1 mW at the meter, where 11.4 dB lie between: 1 mW there. */
	    {&lead,
	     {.absolute = 1e-4, .unit = HS_WATT},
	     {11.4, HS_DBM},
	     0,
	     HS_DB,
	     {{"M1 accuracy", 10 / LN10 * 0.1, HS_RECTANGULAR},
	      {"K12 loss", 0.2, HS_RECTANGULAR},
	      {"P10 loss", 0.3, HS_RECTANGULAR}}},
	    {&nothing, {.absolute = 1, .unit = HS_OHM}, {0, HS_DBM}, 0, HS_DB, {{"M1 accuracy", 99, HS_RECTANGULAR}}},
	    {&reflected,
	     {.absolute = 0.5, .unit = HS_DB},
	     {17.2, HS_DB},
	     0.1,
	     HS_DB,
	     {{"M1 accuracy", 0.5, HS_RECTANGULAR},
	      {"K12 loss", 0.4, HS_RECTANGULAR},
	      {"last digit", 0.05, HS_RECTANGULAR}}},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_range range = {.reads = HS_READS_POWER, .u = rows[i].u};
		hs_budget budget = {.count = 5};
		hs_budget_of_reading(&budget, &hookup, &range, rows[i].correction, rows[i].corrected, rows[i].step);
		assert_int_equal(budget.unit, rows[i].unit);
		size_t count = 0;
		double squares = 0;
		for (; count < 4 && rows[i].wants[count].name; count++) {
			const want *w = &rows[i].wants[count];
			assert_true(count < budget.count);
			assert_string_equal(budget.terms[count].name, w->name);
			assert_near(i, budget.terms[count].half_width, w->half);
			assert_int_equal(budget.terms[count].shape, w->shape);
			squares += pow(w->half / hs_shape_divisor(w->shape), 2);
		}
		assert_int_equal(budget.count, count);
		assert_near(i, hs_budget_expanded(&budget), 2 * sqrt(squares));
	}
}

static void without_a_range_the_rest_still_counts(void **state)
{
	(void)state;
	hs_budget budget;
	hs_budget_of_reading(&budget, &hookup, NULL, &lead, (hs_quantity){0, HS_DBM}, 1);
	assert_int_equal(budget.count, 3);
	assert_string_equal(budget.terms[0].name, "K12 loss");
	hs_budget_of_reading(&budget, NULL, NULL, NULL, (hs_quantity){1, HS_VOLT}, 0.1);
	assert_int_equal(budget.count, 1);
	assert_near(0, hs_budget_standard(&budget), 0.1 / sqrt(12));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(divisors),
	    cmocka_unit_test(terms_of_their_own_add_as_hypot),
	    cmocka_unit_test(shared_terms_add_with_their_sign),
	    cmocka_unit_test(a_full_budget_loses_nothing),
	    cmocka_unit_test(budgets_of_readings),
	    cmocka_unit_test(without_a_range_the_rest_still_counts),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
