/* The law of coaxial loss, tables, and one run of cable. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/text.h"
#include "halfsplit/lineup/coax.h"
#include "halfsplit/quantity/demand.h"
#include "outside.h"

#define ABSOLUTE_ZERO (-273.15)

static bool check_law(const hs_coax_law *law, hs_error *error)
{
	return hs_want_at_least("k1 of the law", law->k1, 0, HS_UNITLESS, error) &&
	       hs_want_at_least("k2 of the law", law->k2, 0, HS_UNITLESS, error) &&
	       hs_want_at_least("the lower end of the law", law->from_hz, 0, HS_HERTZ, error) &&
	       hs_want_at_least("the upper end of the law", law->to_hz, law->from_hz, HS_HERTZ, error);
}

static bool check_run(hs_coax_run run, hs_error *error)
{
	if (!hs_want_at_least("the length", run.length_m, 0, HS_METRE, error) ||
	    !hs_want_above("the temperature", run.celsius, ABSOLUTE_ZERO, HS_DEGC, error) ||
	    !hs_want_at_least("the number of connectors", run.connectors, 0, HS_UNITLESS, error) ||
	    !hs_want_at_least("the loss of a connector", run.connector_db, 0, HS_DB, error))
		return false;
	if (1 + HS_COPPER_PER_KELVIN * (run.celsius - HS_COAX_CELSIUS) > 0)
		return true;
	return hs_fail(error, HS_BAD_INPUT, "at %s degC the law of warm copper has no meaning; it begins above %s degC",
	               hs_brief_of(run.celsius).text, hs_brief_of(HS_COAX_CELSIUS - 1 / HS_COPPER_PER_KELVIN).text);
}

bool hs_coax_law_of(double k1_mhz, double k2_mhz, double per_m, hs_coax_law *out, hs_error *error)
{
	if (!hs_want_at_least("k1", k1_mhz, 0, HS_UNITLESS, error) ||
	    !hs_want_at_least("k2", k2_mhz, 0, HS_UNITLESS, error) ||
	    !hs_want_above("the length of the table", per_m, 0, HS_METRE, error))
		return false;
	hs_coax_law law = {0};
	if (!hs_give("k1 for a metre", k1_mhz / 1e3 / per_m, &law.k1, error) ||
	    !hs_give("k2 for a metre", k2_mhz / 1e6 / per_m, &law.k2, error))
		return false;
	*out = law;
	return true;
}

/* dB per metre. */
static double law_at(const hs_coax_law *law, double freq_hz, double celsius)
{
	double warm = sqrt(1 + HS_COPPER_PER_KELVIN * (celsius - HS_COAX_CELSIUS));
	return law->k1 * sqrt(freq_hz) * warm + law->k2 * freq_hz;
}

static bool law_holds(const hs_coax_law *law, double freq_hz, hs_error *error)
{
	if (!check_law(law, error) || !hs_want_at_least("the frequency", freq_hz, 0, HS_HERTZ, error))
		return false;
	if (law->to_hz == 0 || (freq_hz >= law->from_hz * (1 - 1e-9) && freq_hz <= law->to_hz * (1 + 1e-9)))
		return true;
	return hs_fail_outside(error, freq_hz, law->from_hz, law->to_hz);
}

static double joints(hs_coax_run run)
{
	return run.connectors * run.connector_db;
}

bool hs_coax_law_loss(const hs_coax_law *law, double freq_hz, hs_coax_run run, double *loss_db, hs_error *error)
{
	return law_holds(law, freq_hz, error) && check_run(run, error) &&
	       hs_give("the loss", law_at(law, freq_hz, run.celsius) * run.length_m + joints(run), loss_db, error);
}

/* The loss at this temperature over that at 20 degC; 1 there, whatever the law. */
static bool warmth(const hs_coax_law *law, double freq_hz, double celsius, double *ratio, hs_error *error)
{
	*ratio = 1;
	if (celsius == HS_COAX_CELSIUS)
		return true;
	if (!law) {
		hs_fail(error, HS_BAD_INPUT, "a table holds at 20 degC and cannot say what changes at %s degC",
		        hs_brief_of(celsius).text);
		return hs_fail_hint(error, "fit a law through the table and give it along");
	}
	if (!law_holds(law, freq_hz, error))
		return false;
	double cold = law_at(law, freq_hz, HS_COAX_CELSIUS);
	if (cold > 0)
		*ratio = law_at(law, freq_hz, celsius) / cold;
	return true;
}

bool hs_coax_table_loss(const hs_loss_table *table, double per_m, const hs_coax_law *law, double freq_hz,
                        hs_coax_run run, double *loss_db, hs_error *error)
{
	double per, ratio;
	if (!hs_want_above("the length of the table", per_m, 0, HS_METRE, error) || !check_run(run, error))
		return false;
	if (!hs_loss_table_at(table, freq_hz, &per, error)) {
		/* Outside a table a law may know, and then it alone does. */
		hs_error ignored;
		return law && law_holds(law, freq_hz, &ignored) && hs_coax_law_loss(law, freq_hz, run, loss_db, error);
	}
	return warmth(law, freq_hz, run.celsius, &ratio, error) &&
	       hs_give("the loss", per * ratio * (run.length_m / per_m) + joints(run), loss_db, error);
}

bool hs_coax_table_make(hs_arena *arena, const hs_sourced_point *points, size_t count, hs_loss_table *out,
                        hs_error *error)
{
	for (size_t i = 0; i < count; i++) {
		if (!points[i].source || !points[i].source[0])
			return hs_fail(error, HS_BAD_INPUT, "point %zu of the table does not say where it comes from",
			               i + 1);
		if (strcmp(points[i].source, points[0].source) == 0)
			continue;
		hs_fail(error, HS_BAD_INPUT, "the table mixes two sources, \"%.80s\" and \"%.80s\"", points[0].source,
		        points[i].source);
		return hs_fail_hint(error,
		                    "makers differ by up to 40 %% for one type of cable: keep one table for each");
	}
	hs_loss_point *plain = hs_alloc(count * sizeof(*plain));
	for (size_t i = 0; i < count; i++)
		plain[i] = points[i].point;
	bool good = hs_loss_table_make(arena, plain, count, out, error);
	free(plain);
	return good;
}
