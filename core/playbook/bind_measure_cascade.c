/* cascade: a chain of stages, its gain, noise and compression; and what a mixer makes of frequencies. */
#include "bind_measure.h"

#include <limits.h>
#include "halfsplit/lineup/cascade.h"
#include "halfsplit/quantity/demand.h"

enum { STAGES_MOST = 200, HARMONIC_MOST = 1000000 };

static const char *const stage_words[] = {"name", "gain", "nf", "p1db", "oip3", "loss", "kelvin"};

MEASURE_OF_1(temperature_of_nf, hs_temperature_of_nf, "the noise figure", HS_DB)
MEASURE_OF_2(im3, hs_im3, "the level of a tone", HS_DBM, "the intercept", HS_DBM)
MEASURE_OF_2(spurious_free_range, hs_spurious_free_range, "the intercept", HS_DBM, "the floor", HS_DBM)
MEASURE_OF_2(nf_of_y, hs_nf_of_y, "the excess noise ratio", HS_DB, "the Y factor", HS_DB)

/* A stage has a gain and a noise figure; a passive one a loss, and a temperature. */
static void read_kind(lua_State *L, int index, const char *of, hs_stage *stage)
{
	stage->passive = measure_has(L, index, "loss");
	if (stage->passive) {
		if (measure_has(L, index, "gain") || measure_has(L, index, "nf"))
			measure_refuse(L, "%s has a loss, and a gain or a noise figure beside it", of);
		stage->gain_db = -measure_field_number(L, index, "loss", of, HS_DB);
		if (stage->gain_db > 0)
			measure_refuse(L, "the loss of %s is below 0 dB", of);
		stage->kelvin =
		    measure_kelvin_or(L, measure_field(L, index, "kelvin"), "the temperature of a stage", 0);
		lua_pop(L, 1);
		return;
	}
	if (measure_has(L, index, "kelvin"))
		measure_refuse(L, "%s has a temperature and no loss; the noise of an active stage is its noise figure",
		               of);
	stage->gain_db = measure_field_number(L, index, "gain", of, HS_DB);
	stage->nf_db = measure_field_number(L, index, "nf", of, HS_DB);
}

static hs_stage read_stage(lua_State *L, int index, const char *of)
{
	hs_stage stage = {0};
	measure_known(L, index, of, stage_words, sizeof stage_words / sizeof stage_words[0], 0);
	int name = measure_field(L, index, "name");
	/* The stage keeps it alive. */
	stage.name = measure_given(L, name) ? measure_string(L, name, measure_named("the name of %s", of).text) : NULL;
	lua_pop(L, 1);
	read_kind(L, index, of, &stage);
	stage.has_p1db = measure_has(L, index, "p1db");
	stage.has_oip3 = measure_has(L, index, "oip3");
	stage.op1db_dbm = measure_field_or(L, index, "p1db", of, HS_DBM, 0);
	stage.oip3_dbm = measure_field_or(L, index, "oip3", of, HS_DBM, 0);
	return stage;
}

/* Pushes the value that owns them. */
static hs_stage *read_stages(lua_State *L, int index, size_t *count)
{
	*count = measure_list(L, index, "the chain");
	if (*count > STAGES_MOST)
		measure_refuse(L, "the chain has %zu stages, and at most %d are possible", *count, STAGES_MOST);
	hs_stage *stages = lua_newuserdatauv(L, *count * sizeof *stages, 0);
	for (size_t i = 0; i < *count; i++) {
		stages[i] = read_stage(L, measure_item(L, index, i + 1), measure_named("stage %zu", i + 1).text);
		lua_pop(L, 1);
	}
	return stages;
}

static int factor(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	hs_stage stage = read_stage(L, 1, "the stage");
	bool good = hs_stage_factor(&stage, &out, &error);
	return measure_give(L, good, out, &error);
}

static int nf_of_temperature(lua_State *L)
{
	hs_error error = {0};
	double out = 0, kelvin;
	if (!measure_given(L, 1))
		measure_refuse(L, "the temperature is not given");
	kelvin = measure_kelvin_or(L, 1, "the temperature", 0);
	bool good = hs_nf_of_temperature(kelvin, &out, &error);
	return measure_give(L, good, out, &error);
}

static int total(lua_State *L)
{
	hs_error error = {0};
	hs_cascade sum = {0};
	size_t count;
	const hs_stage *stages = read_stages(L, 1, &count);
	if (!hs_cascade_of(stages, count, &sum, &error))
		return measure_raise(L, &error);
	lua_createtable(L, 0, 9);
	measure_set(L, "gain_db", sum.gain_db);
	measure_set(L, "factor", sum.factor);
	measure_set(L, "nf_db", sum.nf_db);
	measure_set(L, "kelvin", sum.kelvin);
	if (sum.has_p1db) {
		measure_set(L, "op1db_dbm", sum.op1db_dbm);
		measure_set(L, "ip1db_dbm", sum.ip1db_dbm);
	}
	if (sum.has_oip3) {
		measure_set(L, "oip3_dbm", sum.oip3_dbm);
		measure_set(L, "iip3_dbm", sum.iip3_dbm);
		measure_set(L, "oip3_random_dbm", sum.oip3_random_dbm);
	}
	return 1;
}

static hs_node *read_levels(lua_State *L, hs_stage **stages, size_t *count)
{
	hs_error error = {0};
	*stages = read_stages(L, 1, count);
	double input = measure_number(L, 2, "the input level", HS_DBM);
	double bandwidth = measure_number_or(L, 3, "the bandwidth", HS_HERTZ, 0);
	if (measure_given(L, 3) && !hs_want_above("the bandwidth", bandwidth, 0, HS_HERTZ, &error))
		measure_raise(L, &error);
	hs_node *nodes = lua_newuserdatauv(L, *count * sizeof *nodes, 0);
	hs_sandbox_charge(L, *count * *count);
	if (!hs_cascade_levels(*stages, *count, input, bandwidth, nodes, &error))
		measure_raise(L, &error);
	return nodes;
}

static void push_node(lua_State *L, const hs_stage *stage, const hs_node *node)
{
	static const char *const limits[] = {
	    [HS_LIMIT_COMPRESSED] = "compressed", [HS_LIMIT_UPSTREAM] = "upstream", [HS_LIMIT_NOISE] = "noise"};
	lua_createtable(L, 0, 10);
	if (stage->name)
		measure_set_text(L, "name", stage->name);
	measure_set(L, "linear_dbm", node->linear_dbm);
	measure_set(L, "level_dbm", node->level_dbm);
	if (node->has_headroom)
		measure_set(L, "headroom_db", node->headroom_db);
	if (node->limit != HS_LIMIT_NONE) {
		measure_set_text(L, "limit", limits[node->limit]);
		lua_pushinteger(L, (lua_Integer)node->limited_by + 1);
		lua_setfield(L, -2, "limited_by");
	}
	measure_set(L, "noise_dbm_hz", node->noise_dbm_hz);
	measure_set(L, "nf_db", node->nf_db);
	if (node->has_noise) {
		measure_set(L, "noise_dbm", node->noise_dbm);
		measure_set(L, "snr_db", node->snr_db);
	}
}

static int levels(lua_State *L)
{
	size_t count;
	hs_stage *stages;
	const hs_node *nodes = read_levels(L, &stages, &count);
	lua_createtable(L, (int)count, 0);
	for (size_t i = 0; i < count; i++) {
		push_node(L, &stages[i], &nodes[i]);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	return 1;
}

static int text_of(lua_State *L)
{
	size_t count;
	hs_stage *stages;
	const hs_node *nodes = read_levels(L, &stages, &count);
	hs_buf *text = measure_text(L);
	hs_cascade_print(text, stages, nodes, count);
	measure_text_push(L, text);
	return 1;
}

static int mix(lua_State *L)
{
	static const char *const products[] = {"difference", "sum"};
	hs_error error = {0};
	hs_conversion made = {0};
	double rf = measure_number(L, 1, "the signal's frequency", HS_HERTZ),
	       lo = measure_number(L, 2, "the oscillator", HS_HERTZ);
	bool sum = measure_given(L, 3) && measure_word(L, 3, "the product", products, 2) == 1;
	if (!hs_mix(rf, lo, sum, &made, &error))
		return measure_raise(L, &error);
	lua_createtable(L, 0, 4);
	measure_set(L, "if_hz", made.if_hz);
	measure_set_flag(L, "high_side", made.high_side);
	measure_set_flag(L, "inverted", made.inverted);
	if (made.image_hz > 0)
		measure_set(L, "image_hz", made.image_hz);
	return 1;
}

static int oscillator(lua_State *L)
{
	static const char *const sides[] = {"high", "low"};
	hs_error error = {0};
	double out = 0, rf = measure_number(L, 1, "the signal's frequency", HS_HERTZ);
	double wanted = measure_number(L, 2, "the intermediate frequency", HS_HERTZ);
	bool good = hs_oscillator_for(rf, wanted, measure_word(L, 3, "the side", sides, 2) == 0, &out, &error);
	return measure_give(L, good, out, &error);
}

static int harmonic(lua_State *L)
{
	hs_error error = {0};
	double out = 0, freq = measure_number(L, 1, "the frequency", HS_HERTZ);
	bool good =
	    hs_harmonic(freq, measure_whole(L, 2, "the number of the harmonic", INT_MIN, HARMONIC_MOST), &out, &error);
	return measure_give(L, good, out, &error);
}

/* First and last, or nothing when there is none. */
static int harmonics_within(lua_State *L)
{
	hs_error error = {0};
	int first = 1, last = 0;
	double freq = measure_number(L, 1, "the frequency", HS_HERTZ);
	double from = measure_number(L, 2, "the lower end", HS_HERTZ),
	       to = measure_number(L, 3, "the upper end", HS_HERTZ);
	if (!hs_harmonics_within(freq, from, to, &first, &last, &error))
		return measure_raise(L, &error);
	if (first > last)
		return 0;
	lua_pushinteger(L, first);
	lua_pushinteger(L, last);
	return 2;
}

static void push_spur(lua_State *L, const hs_spur *spur)
{
	lua_createtable(L, 0, 6);
	lua_pushinteger(L, spur->m);
	lua_setfield(L, -2, "m");
	lua_pushinteger(L, spur->n);
	lua_setfield(L, -2, "n");
	lua_pushinteger(L, spur->order);
	lua_setfield(L, -2, "order");
	measure_set(L, "freq_hz", spur->freq_hz);
	measure_set_flag(L, "in_band", spur->in_band);
	measure_set_flag(L, "wanted", spur->wanted);
}

typedef bool spur_formula(double, double, int, double, double, hs_spur *, size_t, size_t *, hs_error *);

static int list_spurs(lua_State *L, spur_formula *formula, const char *what_a, const char *what_b)
{
	hs_error error = {0};
	size_t count = 0;
	double a = measure_number(L, 1, what_a, HS_HERTZ), b = measure_number(L, 2, what_b, HS_HERTZ);
	int order = measure_whole(L, 3, "the highest order", 1, HS_SPUR_ORDER_MOST);
	double from = measure_number(L, 4, "the lower end", HS_HERTZ),
	       to = measure_number(L, 5, "the upper end", HS_HERTZ);
	if (!formula(a, b, order, from, to, NULL, 0, &count, &error))
		return measure_raise(L, &error);
	hs_sandbox_charge(L, 10 * count);
	hs_spur *spurs = lua_newuserdatauv(L, (count + 1) * sizeof *spurs, 0);
	if (!formula(a, b, order, from, to, spurs, count, &count, &error))
		return measure_raise(L, &error);
	lua_createtable(L, (int)count, 0);
	for (size_t i = 0; i < count; i++) {
		push_spur(L, &spurs[i]);
		lua_rawseti(L, -2, (lua_Integer)i + 1);
	}
	return 1;
}

static int spurs(lua_State *L)
{
	return list_spurs(L, hs_spur_table, "the signal's frequency", "the oscillator");
}

static int spur_inputs(lua_State *L)
{
	return list_spurs(L, hs_spur_inputs, "the oscillator", "the intermediate frequency");
}

void measure_open_cascade(lua_State *L)
{
	static const measure_row rows[] = {
	    {"factor", factor, 1, "cascade.factor({ gain = GAIN, nf = NF }) or ({ loss = LOSS })"},
	    {"harmonic", harmonic, 2, "cascade.harmonic(FREQ, NUMBER)"},
	    {"harmonics_within", harmonics_within, 3, "cascade.harmonics_within(FREQ, FROM, TO)"},
	    {"im3", im3, 2, "cascade.im3(TONE, OIP3)"},
	    {"levels", levels, 3,
	     "cascade.levels({ { gain = GAIN, nf = NF }, { loss = LOSS }, ... }, INPUT [, BANDWIDTH])"},
	    {"mix", mix, 3, "cascade.mix(SIGNAL, OSCILLATOR [, \"sum\"])"},
	    {"nf_of_temperature", nf_of_temperature, 1, "cascade.nf_of_temperature(KELVIN)"},
	    {"nf_of_y", nf_of_y, 2, "cascade.nf_of_y(ENR, Y)"},
	    {"oscillator", oscillator, 3, "cascade.oscillator(SIGNAL, IF, \"high\" or \"low\")"},
	    {"spur_inputs", spur_inputs, 5, "cascade.spur_inputs(OSCILLATOR, IF, ORDER, FROM, TO)"},
	    {"spurious_free_range", spurious_free_range, 2, "cascade.spurious_free_range(OIP3, FLOOR)"},
	    {"spurs", spurs, 5, "cascade.spurs(SIGNAL, OSCILLATOR, ORDER, FROM, TO)"},
	    {"temperature_of_nf", temperature_of_nf, 1, "cascade.temperature_of_nf(NF)"},
	    {"text", text_of, 3,
	     "cascade.text({ { gain = GAIN, nf = NF }, { loss = LOSS }, ... }, INPUT [, BANDWIDTH])"},
	    {"total", total, 1, "cascade.total({ { gain = GAIN, nf = NF }, { loss = LOSS }, ... })"},
	};
	measure_declare(L, "cascade", rows, sizeof rows / sizeof rows[0]);
}
