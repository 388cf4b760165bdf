/* The decision rule, and the reading on its drawn scale. */
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <setjmp.h>
#include <cmocka.h>
#include <math.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "halfsplit/judge/outcome.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static const hs_limits both = {.has_low = true, .has_high = true, .low = 10, .high = 14, .unit = HS_DBM};
static const hs_limits floor_only = {.has_low = true, .low = 10, .unit = HS_DBM};
static const hs_limits roof_only = {.has_high = true, .high = 14, .unit = HS_DBM};
static const hs_limits anything = {.unit = HS_DBM};
static const hs_limits narrow = {.has_low = true, .has_high = true, .low = 10, .high = 11, .unit = HS_DBM};
static const hs_limits about_zero = {.has_low = true, .has_high = true, .low = 0, .high = 0.5, .unit = HS_VOLT};
static const hs_limits fifth = {.has_low = true, .has_high = true, .low = 0.2, .high = 0.3, .unit = HS_VOLT};
static const hs_limits open_ok = {.has_low = true, .low = 1e6, .unit = HS_OHM, .open_is_ok = true};
static const hs_limits ohms = {.has_low = true, .has_high = true, .low = 90, .high = 110, .unit = HS_OHM};
static const hs_limits at_least_ohms = {.has_low = true, .low = 100e3, .unit = HS_OHM};

static void each_limit_with_its_guard_band(void **state)
{
	(void)state;
	static const struct {
		const hs_limits *limits;
		double value, u;
		hs_outcome outcome;
		bool near_high, beyond; /* looked at when unsure */
	} rows[] = {
	    /* no uncertainty: the limits belong to their interval */
	    {&both, 12, 0, HS_OKAY, false, false},
	    {&both, 10, 0, HS_OKAY, false, false},
	    {&both, 14, 0, HS_OKAY, false, false},
	    {&both, 9.999, 0, HS_LOW, false, false},
	    {&both, 14.001, 0, HS_HIGH, false, false},
	    /* at, inside and outside of low - w, low, low + w */
	    {&both, 8.999, 1, HS_LOW, false, false},
	    {&both, 9, 1, HS_LOW, false, false},
	    {&both, 9.001, 1, HS_UNSURE, false, true},
	    {&both, 9.999, 1, HS_UNSURE, false, true},
	    {&both, 10, 1, HS_UNSURE, false, false},
	    {&both, 10.001, 1, HS_UNSURE, false, false},
	    {&both, 10.999, 1, HS_UNSURE, false, false},
	    {&both, 11, 1, HS_OKAY, false, false},
	    {&both, 11.001, 1, HS_OKAY, false, false},
	    /* the same at the high limit */
	    {&both, 12.999, 1, HS_OKAY, false, false},
	    {&both, 13, 1, HS_OKAY, false, false},
	    {&both, 13.001, 1, HS_UNSURE, true, false},
	    {&both, 14, 1, HS_UNSURE, true, false},
	    {&both, 14.001, 1, HS_UNSURE, true, true},
	    {&both, 14.999, 1, HS_UNSURE, true, true},
	    {&both, 15, 1, HS_HIGH, false, false},
	    {&both, 15.001, 1, HS_HIGH, false, false},
	    /* one limit only */
	    {&floor_only, 8.999, 1, HS_LOW, false, false},
	    {&floor_only, 10.5, 1, HS_UNSURE, false, false},
	    {&floor_only, 1e9, 1, HS_OKAY, false, false},
	    {&floor_only, INFINITY, 1, HS_OKAY, false, false},
	    {&roof_only, 15.5, 1, HS_HIGH, false, false},
	    {&roof_only, 14.5, 1, HS_UNSURE, true, true},
	    {&roof_only, -1e9, 1, HS_OKAY, false, false},
	    {&roof_only, INFINITY, 1, HS_HIGH, false, false},
	    {&floor_only, -INFINITY, 1, HS_LOW, false, false},
	    {&anything, 3, 1, HS_OKAY, false, false},
	    /* a guard band wider than half the interval never accepts, and still refuses */
	    {&narrow, 10.5, 0.6, HS_UNSURE, false, false},
	    {&narrow, 10.6, 0.6, HS_UNSURE, true, false},
	    {&narrow, 9.4, 0.6, HS_LOW, false, false},
	    {&narrow, 11.6, 0.6, HS_HIGH, false, false},
	    {&narrow, 10.5, 100, HS_UNSURE, false, false},
	    {&narrow, 10.5, INFINITY, HS_UNSURE, false, false},
	    /* what is not a number passes nothing */
	    {&both, NAN, 1, HS_UNREAD, false, false},
	    {&roof_only, NAN, 0, HS_UNREAD, false, false},
	    {&anything, NAN, 0, HS_UNREAD, false, false},
	    {&both, 12, NAN, HS_UNREAD, false, false},
	    {&both, 12, -1, HS_UNREAD, false, false},
	    /* 0.3 - 0.1 is on the limit 0.2, and 0.1 + 0.2 on the limit 0.3 */
	    {&fifth, 0.3 - 0.1, 0, HS_OKAY, false, false},
	    {&fifth, 0.1 + 0.2, 0, HS_OKAY, false, false},
	    {&fifth, 0.3 - 0.1, 0.01, HS_UNSURE, false, false},
	    {&fifth, 0.2 + 0.01, 0.01, HS_OKAY, false, false},
	    {&fifth, 0.19 - 1e-17, 0.01, HS_LOW, false, false},
	    {&fifth, 0.2 - 1e-8, 0, HS_LOW, false, false},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_verdict v = hs_judge(rows[i].limits, rows[i].value, rows[i].u, 0);
		if (v.outcome != rows[i].outcome)
			fail_msg("row %zu: %.17g is %s, want %s", i, rows[i].value, hs_outcome_name(v.outcome),
			         hs_outcome_name(rows[i].outcome));
		if (v.outcome == HS_UNSURE && (v.near_high != rows[i].near_high || v.beyond != rows[i].beyond))
			fail_msg("row %zu: near_high %d, beyond %d", i, v.near_high, v.beyond);
		if (!isnan(rows[i].u))
			assert_true(v.guard == rows[i].u);
		assert_true(v.probability >= 0 && v.probability <= 1);
	}
}

static void the_last_digit_says_what_is_on_the_limit(void **state)
{
	(void)state;
	static const struct {
		const hs_limits *limits;
		double value, step;
		hs_outcome outcome;
	} rows[] = {
	    /* Near a limit of 0 no relative nearness exists. */
	    {&about_zero, 0.3 - 0.2 - 0.1, 0, HS_LOW}, {&about_zero, 0.3 - 0.2 - 0.1, 0.1, HS_OKAY},
	    {&about_zero, -0.9e-4, 0.1, HS_OKAY},      {&about_zero, -1.1e-4, 0.1, HS_LOW},
	    {&about_zero, 0.5 + 0.9e-4, 0.1, HS_OKAY}, {&about_zero, 0.5 + 1.1e-4, 0.1, HS_HIGH},
	    {&both, 10 - 0.9e-5, 0.01, HS_OKAY},       {&both, 10 - 1.1e-5, 0.01, HS_LOW},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_verdict v = hs_judge(rows[i].limits, rows[i].value, 0, rows[i].step);
		if (v.outcome != rows[i].outcome)
			fail_msg("row %zu: %s", i, hs_outcome_name(v.outcome));
	}
}

static void the_risk_at_a_guard_band_is_2_3_percent(void **state)
{
	(void)state;
	static const struct {
		double value, u;
		bool near_high;
		double probability;
	} rows[] = {
	    {11, 1, false, 0.022750131948179}, /* U = 2u inside the low limit */
	    {13, 1, true, 0.022750131948179},
	    {9, 1, false, 0.977249868051821},
	    {15, 1, true, 0.977249868051821},
	    {10, 1, false, 0.5},
	    {14, 1, true, 0.5},
	    {10.5, 1, false, 0.158655253931457}, /* one u */
	    {14.5, 1, true, 0.841344746068543},
	    {10.3, 0.6, false, 0.158655253931457},
	    {12.5, 0, true, 0},
	    {9, 0, false, 1},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_verdict v = hs_judge(&both, rows[i].value, rows[i].u, 0);
		if (fabs(v.probability - rows[i].probability) > 1e-12)
			fail_msg("row %zu: %.15g", i, v.probability);
		assert_int_equal(v.near_high, rows[i].near_high);
	}
}

static void entries_that_are_not_numbers(void **state)
{
	(void)state;
	static const double top = 20, top_ohm = 20e6, low_top = 5;
	static const struct {
		const hs_limits *limits;
		hs_entry_kind kind;
		double bound;
		const double *top;
		double u;
		hs_outcome outcome;
		bool near_high, beyond; /* looked at when unsure */
	} rows[] = {
	    {&both, HS_ENTRY_ABOVE, 16, NULL, 1, HS_HIGH, false, false},
	    {&both, HS_ENTRY_ABOVE, 15, NULL, 1, HS_HIGH, false, false},
	    {&both, HS_ENTRY_ABOVE, 14.5, NULL, 1, HS_UNSURE, true, true},
	    {&both, HS_ENTRY_ABOVE, 14, NULL, 0, HS_HIGH, false, false},
	    {&both, HS_ENTRY_ABOVE, 12, NULL, 1, HS_UNSURE, true, false},
	    {&both, HS_ENTRY_ABOVE, 1, NULL, 1, HS_UNSURE, true, false},
	    {&floor_only, HS_ENTRY_ABOVE, 11, NULL, 1, HS_OKAY, false, false},
	    {&floor_only, HS_ENTRY_ABOVE, 10.5, NULL, 1, HS_UNSURE, false, false},
	    {&floor_only, HS_ENTRY_ABOVE, 9, NULL, 1, HS_UNSURE, false, true},
	    {&roof_only, HS_ENTRY_ABOVE, 15, NULL, 1, HS_HIGH, false, false},
	    {&roof_only, HS_ENTRY_ABOVE, 0, NULL, 1, HS_UNSURE, true, false},
	    {&both, HS_ENTRY_BELOW, 8, NULL, 1, HS_LOW, false, false},
	    {&both, HS_ENTRY_BELOW, 9, NULL, 1, HS_LOW, false, false},
	    {&both, HS_ENTRY_BELOW, 9.5, NULL, 1, HS_UNSURE, false, true},
	    {&both, HS_ENTRY_BELOW, 12, NULL, 1, HS_UNSURE, false, false},
	    {&roof_only, HS_ENTRY_BELOW, 13, NULL, 1, HS_OKAY, false, false},
	    {&roof_only, HS_ENTRY_BELOW, 13.5, NULL, 1, HS_UNSURE, true, false},
	    {&floor_only, HS_ENTRY_BELOW, 9, NULL, 1, HS_LOW, false, false},
	    {&anything, HS_ENTRY_BELOW, 9, NULL, 1, HS_OKAY, false, false},
	    /* over: above the top of the range, where that is known */
	    {&both, HS_ENTRY_OVER, 0, &top, 1, HS_HIGH, false, false},
	    {&both, HS_ENTRY_OVER, 0, &low_top, 1, HS_UNSURE, true, false},
	    {&both, HS_ENTRY_OVER, 99, NULL, 1, HS_UNSURE, true, false},
	    {&floor_only, HS_ENTRY_OVER, 99, NULL, 1, HS_UNSURE, false, false},
	    {&floor_only, HS_ENTRY_OVER, 0, &top, 1, HS_OKAY, false, false},
	    {&open_ok, HS_ENTRY_OVER, 0, &top_ohm, 1, HS_OKAY, false, false},
	    {&open_ok, HS_ENTRY_OVER, 0, NULL, 1, HS_OKAY, false, false},
	    {&ohms, HS_ENTRY_OVER, 0, &top_ohm, 1, HS_HIGH, false, false},
	    /* open: above every resistance */
	    {&open_ok, HS_ENTRY_OPEN, 0, NULL, 1, HS_OKAY, false, false},
	    {&ohms, HS_ENTRY_OPEN, 0, NULL, 1, HS_HIGH, false, false},
	    {&at_least_ohms, HS_ENTRY_OPEN, 0, &top_ohm, 1, HS_OKAY, false, false},
	    {&both, HS_ENTRY_OPEN, 0, NULL, 1, HS_UNREAD, false, false},
	    {&open_ok, HS_ENTRY_ABOVE, 20e6, NULL, 1e5, HS_OKAY, false, false},
	    {&open_ok, HS_ENTRY_BELOW, 10, NULL, 1, HS_LOW, false, false},
	    {&ohms, HS_ENTRY_ABOVE, 20e6, NULL, 1, HS_HIGH, false, false},
	    {&both, HS_ENTRY_UNREAD, 12, &top, 1, HS_UNREAD, false, false},
	    {&both, HS_ENTRY_ABOVE, NAN, NULL, 1, HS_UNREAD, false, false},
	    {&both, HS_ENTRY_ABOVE, 20, NULL, NAN, HS_UNREAD, false, false},
	    {&both, HS_ENTRY_NUMBER, 12, NULL, 1, HS_OKAY, false, false},
	    {&both, HS_ENTRY_NUMBER, 10.5, NULL, 1, HS_UNSURE, false, false},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_verdict v = hs_judge_bound(rows[i].limits, rows[i].kind, rows[i].bound, rows[i].top, rows[i].u);
		if (v.outcome != rows[i].outcome)
			fail_msg("row %zu: %s, want %s", i, hs_outcome_name(v.outcome),
			         hs_outcome_name(rows[i].outcome));
		if (v.outcome == HS_UNSURE && (v.near_high != rows[i].near_high || v.beyond != rows[i].beyond))
			fail_msg("row %zu: near_high %d, beyond %d", i, v.near_high, v.beyond);
		if (v.outcome == HS_UNSURE && rows[i].kind != HS_ENTRY_NUMBER)
			assert_true(v.probability == 0.5);
	}
}

static void too_narrow_ever_to_be_ok(void **state)
{
	(void)state;
	assert_false(hs_undecidable(&narrow, 0.499));
	assert_true(hs_undecidable(&narrow, 0.5));
	assert_true(hs_undecidable(&narrow, 0.6));
	assert_false(hs_undecidable(&narrow, 0));
	assert_false(hs_undecidable(&floor_only, 1e9));
	assert_false(hs_undecidable(&roof_only, 1e9));
	/* Tried: from end to end no value is ok. */
	for (int i = -100; i <= 200; i++)
		assert_int_not_equal(hs_judge(&narrow, 10 + i / 100.0, 0.6, 0).outcome, HS_OKAY);
}

static void outcomes_have_names(void **state)
{
	(void)state;
	static const char *const names[] = {"low", "ok", "high", "unsure", "unread"};
	for (int i = 0; i < HS_OUTCOME_COUNT; i++) {
		hs_outcome found = HS_OUTCOME_COUNT;
		assert_string_equal(hs_outcome_name((hs_outcome)i), names[i]);
		assert_true(hs_outcome_find(names[i], &found));
		assert_int_equal(found, i);
	}
	hs_outcome found;
	assert_false(hs_outcome_find("pass", &found));
	assert_false(hs_outcome_find("", &found));
}

static const hs_limits supply = {.has_low = true, .has_high = true, .low = 10.5, .high = 12.6, .unit = HS_VOLT};
static const hs_limits mixed_prefix = {.has_low = true, .has_high = true, .low = 900, .high = 1100, .unit = HS_OHM};
static const hs_limits carrier = {
    .has_low = true, .has_high = true, .low = 144999980, .high = 145000020, .unit = HS_HERTZ};
static const hs_limits hair = {
    .has_low = true, .has_high = true, .low = 144999999.8, .high = 145000000.2, .unit = HS_HERTZ};
static const hs_limits ripple = {.has_high = true, .high = 5e-3, .unit = HS_VOLT};

static void drawn_scales(void **state)
{
	(void)state;
	static const struct {
		const hs_limits *limits;
		double value, u;
		size_t width;
		const char *drawn;
	} rows[] = {
	    {&supply, 11.55, 0, 39,
	     "  [--------|========o========|--------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 11.55, 0.3, 39,
	     "  [--------|=====(==o==)=====|--------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 10.5, 0.3, 39,
	     "  [-----(--o==)==============|--------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 10.51, 0.3, 39,
	     "  [------(-|o=)==============|--------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 10.49, 0.3, 39,
	     "  [-----(-o|=)===============|--------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 9.9, 0.3, 39,
	     "  [(--o-)--|=================|--------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 5, 0.3, 39,
	     "  [<-------|=================|--------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 20, 0, 39,
	     "  [--------|=================|------->]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 20, 8.5, 39,
	     "  [--------|========(========|------->]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 12.7, 2, 39,
	     "  [--------|=(===============|o-------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, NAN, 1, 39,
	     "  [--------|=================|--------]\n"
	     "         10.5 V            12.6 V"},
	    {&supply, 11.55, 0.3, 30,
	     "  [------|====(=o)====|------]\n"
	     "       10.5 V       12.6 V"},
	    {&supply, 11.55, 0.3, 1,
	     "  [------|====(=o)====|------]\n"
	     "       10.5 V       12.6 V"},
	    {&supply, 11.55, 0.3, 60,
	     "  [--------------|=========(===o==)=========|--------------]\n"
	     "               10.5 V                     12.6 V"},
	    {&supply, 11.55, 0.3, 100,
	     "  [------------------------|================(======o=====)================|------------------------]\n"
	     "                         10.5 V                                         12.6 V"},
	    /* one prefix for both labels; digits as the interval needs them */
	    {&mixed_prefix, 1000, 10, 39,
	     "  [--------|=======(o)=======|--------]\n"
	     "        0.9 kohm          1.1 kohm"},
	    {&carrier, 145000001, 5, 60,
	     "  [--------------|==========(==o===)========|--------------]\n"
	     "           144.99998 MHz              145.00002 MHz"},
	    /* narrow: the unit once, then no words at all */
	    {&carrier, 145000001, 5, 30,
	     "  [------|====(=o)====|------]\n"
	     "     144.99998  145.00002 MHz"},
	    {&hair, 145000000, 0, 30, "  [------|======o=====|------]"},
	    /* one limit only */
	    {&floor_only, 14, 0.5, 60,
	     "  [--------------|============================(===o===)====]\n"
	     "               10 dBm"},
	    {&floor_only, 9.7, 0.5, 60,
	     "  [-------(----o-|=)=======================================]\n"
	     "               10 dBm"},
	    {&floor_only, -20, 0.5, 60,
	     "  [<-------------|=========================================]\n"
	     "               10 dBm"},
	    {&ripple, 2e-3, 1e-4, 60,
	     "  [=======(o)===============================|--------------]\n"
	     "                                           5 mV"},
	    {&ripple, 5.2e-3, 1e-4, 60,
	     "  [=========================================|----(----o----]\n"
	     "                                           5 mV"},
	    {&ripple, 50e-3, 1e-4, 60,
	     "  [=========================================|------------->]\n"
	     "                                           5 mV"},
	    {&ripple, 2e-3, 1e-4, 39,
	     "  [====(o)===================|--------]\n"
	     "                            5 mV"},
	    {&anything, 3, 1, 60, ""},
	};
	for (size_t i = 0; i < COUNT(rows); i++) {
		hs_buf out;
		hs_buf_init(&out);
		hs_scale_draw(rows[i].limits, rows[i].value, rows[i].u, rows[i].width, &out);
		assert_string_equal(out.data, rows[i].drawn);
		hs_buf_free(&out);
	}
}

/* Something of a label stands under this column, or beside it. */
static bool labelled(const char *labels, size_t column)
{
	for (size_t at = column - 1; at <= column + 1; at++)
		if (at < strlen(labels) && labels[at] != ' ')
			return true;
	return false;
}

/* The side of a bar on which the value stands never contradicts the numbers, at any width. */
static void the_picture_never_contradicts_the_numbers(void **state)
{
	(void)state;
	static const hs_limits *const all[] = {&supply,     &both,       &narrow,    &mixed_prefix,
	                                       &about_zero, &floor_only, &roof_only, &ripple};
	size_t unsure_drawn = 0;
	static const double shifts[] = {-2, -0.5, -1e-3, -1e-6, 1e-6, 1e-3, 0.5, 0.999999, 1.000001, 1.5, 3};
	for (size_t l = 0; l < COUNT(all); l++) {
		const hs_limits *limits = all[l];
		double start = limits->has_low ? limits->low : limits->high,
		       span = limits->has_low && limits->has_high ? limits->high - limits->low : 1;
		for (size_t s = 0; s < COUNT(shifts); s++) {
			double value = start + shifts[s] * span;
			for (size_t width = 30; width <= 100; width++) {
				hs_buf out;
				hs_buf_init(&out);
				hs_scale_draw(limits, value, 0.05 * span, width, &out);
				assert_int_equal(strcspn(out.data, "\n"), width);
				const char *row = strchr(out.data, '['), *first = strchr(row, '|'),
				           *last = strrchr(row, '|');
				const char *at = row + strcspn(row, "o<>");
				assert_true(*at != '\0');
				if (limits->has_low)
					assert_int_equal(at < first, value < limits->low);
				if (limits->has_high)
					assert_int_equal(at > last, value > limits->high);
				const char *labels = strchr(out.data, '\n');
				assert_non_null(labels);
				assert_true(labelled(labels + 1, (size_t)(first - out.data)));
				assert_true(labelled(labels + 1, (size_t)(last - out.data)));
				assert_true(strlen(labels + 1) <= width);
				const char *left = strchr(row, '('), *right = strchr(row, ')');
				if (left && right && *at == 'o') {
					bool across = memchr(left, '|', (size_t)(right - left)) != NULL;
					bool unsure = hs_judge(limits, value, 0.05 * span, 0).outcome == HS_UNSURE;
					assert_int_equal(across, unsure);
					unsure_drawn += unsure;
				}
				hs_buf_free(&out);
			}
		}
	}
	assert_true(unsure_drawn > 100);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(each_limit_with_its_guard_band),
	    cmocka_unit_test(the_last_digit_says_what_is_on_the_limit),
	    cmocka_unit_test(the_risk_at_a_guard_band_is_2_3_percent),
	    cmocka_unit_test(entries_that_are_not_numbers),
	    cmocka_unit_test(too_narrow_ever_to_be_ok),
	    cmocka_unit_test(outcomes_have_names),
	    cmocka_unit_test(drawn_scales),
	    cmocka_unit_test(the_picture_never_contradicts_the_numbers),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
