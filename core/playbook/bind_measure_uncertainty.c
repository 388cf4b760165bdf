/* uncertainty: the GUM's arithmetic. The limits of a reading are judged by the core, never from here. */
#include "bind_measure.h"

#include <math.h>
#include <string.h>
#include "halfsplit/judge/gum.h"

static const char *const shape_names[] = {"rectangular", "triangular", "U-shaped", "expanded", "standard"};
static const hs_shape shapes[] = {HS_RECTANGULAR, HS_TRIANGULAR, HS_USHAPED, HS_NORMAL_K2, HS_STANDARD};
enum { SHAPES = sizeof shapes / sizeof shapes[0] };

/* Instructions for Student's t, which is sought step by step, and for a line of a printed budget. */
enum { STUDENT_CHARGE = 1000, LINE_CHARGE = 500 };

static const char *const term_words[] = {"value", "half_width", "shape", "divisor", "sensitivity", "dof", "type_a"};
static const char *const budget_words[] = {"result", "correlations"};

MEASURE_OF_1(dof_of_doubt, hs_dof_of_doubt, "the doubt in an uncertainty", HS_UNITLESS)
MEASURE_OF_2(false_accept_most, hs_false_accept_most, "the guard band", HS_UNITLESS, "the standard uncertainty",
             HS_UNITLESS)
MEASURE_OF_2(guard_for, hs_guard_for, "the probability of a false accept", HS_UNITLESS, "the standard uncertainty",
             HS_UNITLESS)

/* The one number that may be infinite: math.huge, or nothing at all, says that a value is taken as exact. */
static double read_dof(lua_State *L, int index, const char *what)
{
	if (!measure_given(L, index) || (lua_type(L, index) == LUA_TNUMBER && lua_tonumber(L, index) == HUGE_VAL))
		return INFINITY;
	return measure_number(L, index, what, HS_UNITLESS);
}

static int type_a(lua_State *L)
{
	hs_error error = {0};
	hs_type_a made = {0};
	size_t count;
	const double *values = measure_numbers(L, 1, "the list of readings", HS_UNITLESS, &count);
	if (!hs_type_a_of(values, count, &made, &error))
		return measure_raise(L, &error);
	lua_createtable(L, 0, 4);
	measure_set(L, "mean", made.mean);
	measure_set(L, "deviation", made.deviation);
	measure_set(L, "standard", made.standard);
	measure_set(L, "dof", made.dof);
	return 1;
}

static int correlation(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	size_t count, other;
	const double *a = measure_numbers(L, 1, "the first series", HS_UNITLESS, &count);
	const double *b = measure_numbers(L, 2, "the second series", HS_UNITLESS, &other);
	if (count != other)
		return measure_refuse(L, "the series hold %zu and %zu readings, and pairs are wanted", count, other);
	bool good = hs_correlation_of(a, b, count, &out, &error);
	return measure_give(L, good, out, &error);
}

static int welch_satterthwaite(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	size_t count;
	const double *u = measure_numbers(L, 1, "the list of uncertainties", HS_UNITLESS, &count);
	size_t other = measure_list(L, 2, "the list of degrees of freedom");
	if (count != other)
		return measure_refuse(
		    L, "there are %zu uncertainties and %zu degrees of freedom, and one for each is wanted", count,
		    other);
	double *dof = lua_newuserdatauv(L, count * sizeof *dof, 0);
	for (size_t i = 0; i < count; i++) {
		dof[i] = read_dof(L, measure_item(L, 2, i + 1), "a number of degrees of freedom");
		lua_pop(L, 1);
	}
	bool good = hs_welch_satterthwaite(u, dof, count, &out, &error);
	return measure_give(L, good, out, &error);
}

static int student_coverage(lua_State *L)
{
	hs_error error = {0};
	double out = 0, t = measure_number(L, 1, "t", HS_UNITLESS);
	bool good = hs_student_coverage(t, read_dof(L, 2, "the degrees of freedom"), &out, &error);
	return measure_give(L, good, out, &error);
}

static int student_factor(lua_State *L)
{
	hs_error error = {0};
	double out = 0, p = measure_number(L, 1, "the probability", HS_UNITLESS);
	hs_sandbox_charge(L, STUDENT_CHARGE);
	bool good = hs_student_factor(p, read_dof(L, 2, "the degrees of freedom"), &out, &error);
	return measure_give(L, good, out, &error);
}

static int divisor(lua_State *L)
{
	lua_pushnumber(L, hs_shape_divisor(shapes[measure_word(L, 1, "the distribution", shape_names, SHAPES)]));
	return 1;
}

/* The model was asked before the formula is: a formula must not be left by an error that the model raises. */
typedef struct asked {
	size_t which;
	double at, above, below;
} asked;

static double answer(const double *x, size_t count, void *context)
{
	const asked *a = context;
	(void)count;
	return x[a->which] > a->at ? a->above : a->below;
}

/* The function gets the quantities as one list, as the author has them. */
static double ask_model(lua_State *L, const double *values, size_t count, size_t which, double value)
{
	lua_pushvalue(L, 1);
	lua_createtable(L, (int)count, 0);
	for (size_t i = 0; i < count; i++) {
		lua_pushnumber(L, i == which ? value : values[i]);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	lua_call(L, 1, 1);
	double result = measure_number(L, lua_gettop(L), "what the model returned", HS_UNITLESS);
	lua_pop(L, 1);
	return result;
}

static int sensitivity(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	size_t count;
	if (!lua_isfunction(L, 1))
		return measure_refuse(L, "the model is no function");
	const double *values = measure_numbers(L, 2, "the list of quantities", HS_UNITLESS, &count);
	asked a = {.which = (size_t)measure_whole(L, 3, "which quantity", 1, (int)count) - 1};
	double u = measure_number(L, 4, "the step of a sensitivity", HS_UNITLESS);
	a.at = values[a.which];
	a.above = ask_model(L, values, count, a.which, a.at + u);
	a.below = ask_model(L, values, count, a.which, a.at - u);
	bool good = hs_sensitivity(answer, &a, values, count, a.which, u, &out, &error);
	return measure_give(L, good, out, &error);
}

/* The estimate's unit is that of its half-width; of a level it is decibels. */
static void read_widths(lua_State *L, int index, const char *of, hs_gum_term *term)
{
	hs_unit unit = HS_UNITLESS;
	int at = measure_field(L, index, "value");
	term->has_value = measure_given(L, at);
	if (term->has_value)
		term->value = measure_quantity(L, at, measure_named("the value of %s", of).text, HS_UNITLESS);
	if (term->has_value)
		unit = hs_unit_is_level(term->value.unit) ? HS_DB : term->value.unit;
	lua_pop(L, 1);
	if (term->has_value) {
		term->half_width = measure_field_number(L, index, "half_width", of, unit);
		return;
	}
	at = measure_field(L, index, "half_width");
	hs_quantity width = measure_quantity(L, at, measure_named("the half_width of %s", of).text, HS_UNITLESS);
	term->value.unit = width.unit;
	term->half_width = width.value;
	lua_pop(L, 1);
}

static hs_gum_term read_term(lua_State *L, int index, size_t number)
{
	hs_gum_term term = {0};
	measure_name of = measure_named("term %zu", number);
	measure_known(L, index, of.text, term_words, sizeof term_words / sizeof term_words[0], 1);
	hs_copy(term.name, sizeof term.name,
	        measure_string(L, measure_item(L, index, 1), measure_named("the name of term %zu", number).text));
	lua_pop(L, 1);
	read_widths(L, index, of.text, &term);
	term.shape = shapes[measure_word(L, measure_field(L, index, "shape"),
	                                 measure_named("the shape of term %zu", number).text, shape_names, SHAPES)];
	term.dof = read_dof(L, measure_field(L, index, "dof"), measure_named("the dof of term %zu", number).text);
	lua_pop(L, 2);
	term.divisor = measure_field_or(L, index, "divisor", of.text, HS_UNITLESS, 0);
	if (measure_has(L, index, "divisor") && !(term.divisor > 0))
		measure_refuse(L, "the divisor of %s must be above 0", of.text);
	term.sensitivity = measure_field_or(L, index, "sensitivity", of.text, HS_UNITLESS, 1);
	term.type_a = measure_field_flag(L, index, "type_a", of.text);
	return term;
}

/* { TERM, TERM, R } */
static void read_correlation(lua_State *L, int index, hs_gum *gum)
{
	hs_error error = {0};
	measure_known(L, index, "a correlation", NULL, 0, 3);
	int i = measure_whole(L, measure_item(L, index, 1), "the first term of a correlation", 1, HS_TERMS_MOST);
	int j = measure_whole(L, measure_item(L, index, 2), "the second term of a correlation", 1, HS_TERMS_MOST);
	double r = measure_number(L, measure_item(L, index, 3), "the correlation", HS_UNITLESS);
	lua_pop(L, 3);
	if (!hs_gum_correlate(gum, (size_t)i - 1, (size_t)j - 1, r, &error))
		measure_raise(L, &error);
}

/* { { NAME, half_width = , shape = , ... }, ..., result = , correlations = { { 1, 2, R }, ... } } */
static void read_budget(lua_State *L, int index, hs_gum *gum)
{
	hs_error error = {0};
	*gum = (hs_gum){0};
	measure_known(L, index, "a budget", budget_words, 2, HS_TERMS_MOST);
	size_t terms = measure_positions(L, index, "the budget");
	for (size_t i = 1; i <= terms; i++) {
		hs_gum_term term = read_term(L, measure_item(L, index, i), i);
		lua_pop(L, 1);
		if (!hs_gum_add(gum, &term, &error))
			measure_raise(L, &error);
	}
	int at = measure_field(L, index, "result");
	gum->has_result = measure_given(L, at);
	if (gum->has_result)
		gum->result = measure_quantity(L, at, "the result", HS_UNITLESS);
	at = measure_field(L, index, "correlations");
	size_t count = measure_given(L, at) ? measure_list(L, at, "the list of correlations") : 0;
	for (size_t i = 1; i <= count; i++) {
		read_correlation(L, measure_item(L, at, i), gum);
		lua_pop(L, 1);
	}
	lua_pop(L, 2);
}

static int combine(lua_State *L)
{
	hs_error error = {0};
	hs_gum gum;
	hs_gum_sum sum;
	read_budget(L, 1, &gum);
	hs_sandbox_charge(L, STUDENT_CHARGE);
	if (!hs_gum_combine(&gum, &sum, &error))
		return measure_raise(L, &error);
	lua_createtable(L, 0, 5);
	measure_set(L, "standard", sum.standard);
	measure_set(L, "dof", sum.dof);
	measure_set(L, "coverage", sum.coverage);
	measure_set(L, "expanded", sum.expanded);
	lua_createtable(L, (int)gum.count, 0);
	for (size_t i = 0; i < gum.count; i++) {
		lua_pushnumber(L, sum.contribution[i]);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	lua_setfield(L, -2, "contributions");
	return 1;
}

static int text_of(lua_State *L)
{
	hs_error error = {0};
	hs_gum gum;
	hs_gum_sum sum;
	read_budget(L, 1, &gum);
	hs_sandbox_charge(L, STUDENT_CHARGE);
	if (!hs_gum_combine(&gum, &sum, &error))
		return measure_raise(L, &error);
	hs_sandbox_charge(L, LINE_CHARGE * gum.count);
	hs_buf *text = measure_text(L);
	hs_gum_print(text, &gum, &sum);
	measure_text_push(L, text);
	return 1;
}

/* A decision as a certificate states it; it is no outcome of a reading, which a playbook cannot make. */
static int decide(lua_State *L)
{
	static const char *const rules[] = {"simple", "guarded", "four-way"};
	hs_error error = {0};
	hs_limits limits;
	hs_decision made;
	if (!hs_limits_read(measure_string(L, 1, "the limits"), HS_UNITLESS, &limits, &error))
		return measure_misuse(L, &error);
	double value = measure_number(L, 2, "the value", limits.unit);
	double u =
	    measure_number(L, 3, "the standard uncertainty", hs_unit_is_level(limits.unit) ? HS_DB : limits.unit);
	hs_rule rule = measure_given(L, 4)
	                   ? (hs_rule)measure_word(L, 4, "the rule", rules, sizeof rules / sizeof rules[0])
	                   : HS_RULE_SIMPLE;
	double factor = measure_number_or(L, 5, "the guard factor", HS_UNITLESS, rule == HS_RULE_SIMPLE ? 0 : 2);
	if (!hs_decide(&limits, value, u, rule, factor, &made, &error))
		return measure_raise(L, &error);
	lua_createtable(L, 0, 5);
	measure_set_text(L, "statement", hs_statement_name(made.statement));
	measure_set(L, "conform", made.conform);
	measure_set(L, "false_accept", made.false_accept);
	measure_set(L, "false_reject", made.false_reject);
	measure_set(L, "guard", made.guard);
	return 1;
}

void measure_open_uncertainty(lua_State *L)
{
	static const measure_row rows[] = {
	    {"combine", combine, 1, "uncertainty.combine({ { NAME, half_width = WIDTH, shape = SHAPE }, ... })"},
	    {"correlation", correlation, 2, "uncertainty.correlation({ A, ... }, { B, ... })"},
	    {"decide", decide, 5, "uncertainty.decide(LIMITS, VALUE, U [, RULE [, FACTOR]])"},
	    {"divisor", divisor, 1, "uncertainty.divisor(DISTRIBUTION)"},
	    {"dof_of_doubt", dof_of_doubt, 1, "uncertainty.dof_of_doubt(RELATIVE)"},
	    {"false_accept_most", false_accept_most, 2, "uncertainty.false_accept_most(GUARD, U)"},
	    {"guard_for", guard_for, 2, "uncertainty.guard_for(PROBABILITY, U)"},
	    {"sensitivity", sensitivity, 4, "uncertainty.sensitivity(FUNCTION, { X, ... }, WHICH, STEP)"},
	    {"student_coverage", student_coverage, 2, "uncertainty.student_coverage(T [, DOF])"},
	    {"student_factor", student_factor, 2, "uncertainty.student_factor(PROBABILITY [, DOF])"},
	    {"text", text_of, 1, "uncertainty.text({ { NAME, half_width = WIDTH, shape = SHAPE }, ... })"},
	    {"type_a", type_a, 1, "uncertainty.type_a({ READING, ... })"},
	    {"welch_satterthwaite", welch_satterthwaite, 2,
	     "uncertainty.welch_satterthwaite({ U, ... }, { DOF, ... })"},
	};
	measure_declare(L, "uncertainty", rows, sizeof rows / sizeof rows[0]);
}
