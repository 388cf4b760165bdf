/* Friis, compression and intercept along a chain. */
#include <math.h>
#include <stdio.h>
#include "halfsplit/lineup/cascade.h"
#include "halfsplit/lineup/noise.h"
#include "halfsplit/quantity/demand.h"

#define LN10 2.302585092994045684

static double db_to_ratio(double db)
{
	return pow(10, db / 10);
}

bool hs_temperature_of_nf(double nf_db, double *kelvin, hs_error *error)
{
	return hs_want_at_least("the noise figure", nf_db, 0, HS_DB, error) &&
	       hs_give("the noise temperature", HS_T0_KELVIN * expm1(nf_db * LN10 / 10), kelvin, error);
}

bool hs_nf_of_temperature(double kelvin, double *nf_db, hs_error *error)
{
	return hs_want_at_least("the noise temperature in kelvin", kelvin, 0, HS_UNITLESS, error) &&
	       hs_give("the noise figure", 10 / LN10 * log1p(kelvin / HS_T0_KELVIN), nf_db, error);
}

/* F - 1, which keeps its digits for a stage that hardly adds noise. */
static bool excess_factor(const hs_stage *stage, double *excess, hs_error *error)
{
	if (!hs_want_finite("the gain of a stage", stage->gain_db, error))
		return false;
	if (!stage->passive)
		return hs_want_at_least("the noise figure", stage->nf_db, 0, HS_DB, error) &&
		       hs_give("the noise factor", expm1(stage->nf_db * LN10 / 10), excess, error);
	if (stage->gain_db > 0)
		return hs_fail(error, HS_BAD_INPUT, "a passive stage has a gain of %s dB; it can only lose",
		               hs_brief_of(stage->gain_db).text);
	if (!hs_want_at_least("the temperature in kelvin", stage->kelvin, 0, HS_UNITLESS, error))
		return false;
	double kelvin = stage->kelvin > 0 ? stage->kelvin : HS_T0_KELVIN;
	return hs_give("the noise factor", expm1(-stage->gain_db * LN10 / 10) * kelvin / HS_T0_KELVIN, excess, error);
}

bool hs_stage_factor(const hs_stage *stage, double *factor, hs_error *error)
{
	double excess;
	return excess_factor(stage, &excess, error) && hs_give("the noise factor", 1 + excess, factor, error);
}

static bool check_stage(const hs_stage *stage, hs_error *error)
{
	return (!stage->has_p1db || hs_want_finite("its P1dB", stage->op1db_dbm, error)) &&
	       (!stage->has_oip3 || hs_want_finite("its intercept", stage->oip3_dbm, error));
}

/* "stage 2 (A1 driver): ..." */
static bool fail_stage(const hs_stage *stages, size_t index, hs_error *error)
{
	if (error) {
		hs_error inner = *error;
		const char *name = stages[index].name;
		hs_fail(error, inner.code, "stage %zu%s%.60s%s: %s", index + 1, name ? " (" : "", name ? name : "",
		        name ? ")" : "", inner.message);
		hs_fail_hint(error, "%s", inner.hint);
	}
	return false;
}

/* Inverse powers that add, kept as a level so that nothing overflows: -10 log10(10^(-a/10) + 10^(-b/10)). */
static double add_inverse(double sum_dbm, double part_dbm, double slope)
{
	double least = fmin(sum_dbm, part_dbm), apart = fabs(sum_dbm - part_dbm);
	if (isinf(sum_dbm))
		return part_dbm;
	return least - slope / LN10 * log1p(exp(-apart * LN10 / slope));
}

static void add_limits(hs_cascade *sum, const hs_stage *stage)
{
	/* Up to the output of this stage: what was there moves by its gain, then its own joins. */
	sum->op1db_dbm += stage->gain_db;
	sum->oip3_dbm += stage->gain_db;
	sum->oip3_random_dbm += stage->gain_db;
	if (stage->has_p1db) {
		sum->op1db_dbm = add_inverse(sum->op1db_dbm, stage->op1db_dbm, 10);
		sum->has_p1db = true;
	}
	if (stage->has_oip3) {
		sum->oip3_dbm = add_inverse(sum->oip3_dbm, stage->oip3_dbm, 10);
		sum->oip3_random_dbm = add_inverse(sum->oip3_random_dbm, stage->oip3_dbm, 5);
		sum->has_oip3 = true;
	}
}

static bool add_stage(hs_cascade *sum, const hs_stage *stage, double *excess, hs_error *error)
{
	double own;
	if (!check_stage(stage, error) || !excess_factor(stage, &own, error))
		return false;
	*excess += own * db_to_ratio(-sum->gain_db);
	sum->gain_db += stage->gain_db;
	add_limits(sum, stage);
	return hs_want_finite("the gain so far", sum->gain_db, error) &&
	       hs_want_finite("the noise so far", *excess, error);
}

bool hs_cascade_of(const hs_stage *stages, size_t count, hs_cascade *out, hs_error *error)
{
	hs_cascade sum = {.op1db_dbm = INFINITY, .oip3_dbm = INFINITY, .oip3_random_dbm = INFINITY};
	double excess = 0;
	if (count == 0)
		return hs_fail(error, HS_BAD_INPUT, "the chain holds no stages");
	for (size_t i = 0; i < count; i++)
		if (!add_stage(&sum, &stages[i], &excess, error))
			return fail_stage(stages, i, error);
	sum.factor = 1 + excess;
	sum.nf_db = 10 / LN10 * log1p(excess);
	sum.kelvin = HS_T0_KELVIN * excess;
	if (!sum.has_p1db)
		sum.op1db_dbm = 0;
	if (!sum.has_oip3)
		sum.oip3_dbm = sum.oip3_random_dbm = 0;
	sum.ip1db_dbm = sum.has_p1db ? sum.op1db_dbm - (sum.gain_db - 1) : 0;
	sum.iip3_dbm = sum.has_oip3 ? sum.oip3_dbm - sum.gain_db : 0;
	*out = sum;
	return true;
}

static void level_after(const hs_stage *stage, size_t index, const hs_node *before, double input_dbm, hs_node *node)
{
	double drive = (before ? before->level_dbm : input_dbm) + stage->gain_db;
	node->linear_dbm = (before ? before->linear_dbm : input_dbm) + stage->gain_db;
	node->level_dbm = drive;
	bool held = before && (before->limit == HS_LIMIT_COMPRESSED || before->limit == HS_LIMIT_UPSTREAM);
	node->limit = held ? HS_LIMIT_UPSTREAM : HS_LIMIT_NONE;
	node->limited_by = before ? before->limited_by : 0;
	node->has_headroom = stage->has_p1db;
	node->headroom_db = stage->has_p1db ? stage->op1db_dbm - drive : 0;
	if (stage->has_p1db && node->headroom_db < 0) {
		node->level_dbm = stage->op1db_dbm;
		node->limit = HS_LIMIT_COMPRESSED;
		node->limited_by = index;
	}
}

/* Noise in the bandwidth, beside a level that compression does not hold back already. */
static bool noise_after(double bandwidth_hz, size_t noisiest, hs_node *node, hs_error *error)
{
	node->has_noise = true;
	if (!hs_give("the noise", node->noise_dbm_hz + 10 * log10(bandwidth_hz), &node->noise_dbm, error) ||
	    !hs_give("the signal above the noise", node->linear_dbm - node->noise_dbm, &node->snr_db, error))
		return false;
	if (node->limit == HS_LIMIT_NONE && node->snr_db <= 0) {
		node->limit = HS_LIMIT_NOISE;
		node->limited_by = noisiest;
	}
	return true;
}

bool hs_cascade_levels(const hs_stage *stages, size_t count, double input_dbm, double bandwidth_hz, hs_node *nodes,
                       hs_error *error)
{
	hs_cascade sum;
	double thermal, before = 0, most = -1;
	size_t noisiest = 0;
	if (!hs_want_finite("the input level", input_dbm, error) ||
	    !hs_want_at_least("the bandwidth", bandwidth_hz, 0, HS_HERTZ, error) ||
	    !hs_cascade_of(stages, count, &sum, error) || !hs_noise_floor(HS_T0_KELVIN, 0, 1, &thermal, error))
		return false;
	for (size_t i = 0; i < count; i++) {
		nodes[i] = (hs_node){0};
		level_after(&stages[i], i, i ? &nodes[i - 1] : NULL, input_dbm, &nodes[i]);
		if (!hs_cascade_of(stages, i + 1, &sum, error))
			return false;
		nodes[i].nf_db = sum.nf_db;
		nodes[i].noise_dbm_hz = thermal + sum.nf_db + sum.gain_db;
		if (sum.kelvin - before > most) {
			most = sum.kelvin - before;
			noisiest = i;
		}
		before = sum.kelvin;
		if (bandwidth_hz > 0 && !noise_after(bandwidth_hz, noisiest, &nodes[i], error))
			return false;
	}
	return true;
}

void hs_cascade_print(hs_buf *out, const hs_stage *stages, const hs_node *nodes, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		const hs_node *node = &nodes[i];
		hs_buf_printf(out, "%3zu  ", i + 1);
		hs_buf_shown(out, stages[i].name ? stages[i].name : "stage", false);
		hs_buf_str(out, "  ");
		hs_quantity_print(out, (hs_quantity){node->level_dbm, HS_DBM}, 2);
		if (node->has_headroom) {
			hs_buf_str(out, "  ");
			hs_quantity_print(out, (hs_quantity){node->headroom_db, HS_DB}, 2);
			hs_buf_str(out, " to P1dB");
		}
		if (node->has_noise) {
			hs_buf_str(out, "  ");
			hs_quantity_print(out, (hs_quantity){node->snr_db, HS_DB}, 2);
			hs_buf_str(out, " above the noise");
		}
		if (node->limit == HS_LIMIT_NOISE)
			hs_buf_printf(out, "  lost in noise, most of it from stage %zu", node->limited_by + 1);
		if (node->limit == HS_LIMIT_COMPRESSED)
			hs_buf_str(out, "  compressed here");
		if (node->limit == HS_LIMIT_UPSTREAM)
			hs_buf_printf(out, "  held back by stage %zu", node->limited_by + 1);
		hs_buf_char(out, '\n');
	}
}

bool hs_im3(double tone_dbm, double oip3_dbm, double *im3_dbm, hs_error *error)
{
	if (!hs_want_finite("the level of a tone", tone_dbm, error) ||
	    !hs_want_finite("the intercept", oip3_dbm, error))
		return false;
	if (tone_dbm >= oip3_dbm)
		return hs_fail(error, HS_BAD_INPUT, "a tone of %s dBm is not below the intercept of %s dBm",
		               hs_brief_of(tone_dbm).text, hs_brief_of(oip3_dbm).text);
	return hs_give("the product", 3 * tone_dbm - 2 * oip3_dbm, im3_dbm, error);
}

bool hs_spurious_free_range(double oip3_dbm, double floor_dbm, double *range_db, hs_error *error)
{
	return hs_want_finite("the floor", floor_dbm, error) &&
	       hs_want_above("the intercept", oip3_dbm, floor_dbm, HS_DBM, error) &&
	       hs_give("the range", 2 * (oip3_dbm - floor_dbm) / 3, range_db, error);
}

bool hs_nf_of_y(double enr_db, double y_db, double *nf_db, hs_error *error)
{
	if (!hs_want_finite("the excess noise ratio", enr_db, error) ||
	    !hs_want_above("the Y factor", y_db, 0, HS_DB, error))
		return false;
	double nf = enr_db - 10 * log10(expm1(y_db * LN10 / 10));
	if (nf < 0) {
		hs_fail(error, HS_BAD_INPUT, "a Y factor of %s dB with an ENR of %s dB gives a noise figure below 0 dB",
		        hs_brief_of(y_db).text, hs_brief_of(enr_db).text);
		return hs_fail_hint(error,
		                    "check the ENR of the source, and that the hot reading did not include a carrier");
	}
	return hs_give("the noise figure", nf, nf_db, error);
}
