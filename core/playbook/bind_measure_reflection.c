/* reflection: gamma, SWR, return loss, mismatch, and what lies behind a cable. */
#include "bind_measure.h"

static const char magnitude[] = "the magnitude of gamma";
static const char return_loss[] = "the return loss";
static const char source_rho[] = "the magnitude of the source's gamma";
static const char load_rho[] = "the magnitude of the load's gamma";

MEASURE_OF_1(return_loss_of_rho, hs_return_loss_of_rho, magnitude, HS_UNITLESS)
MEASURE_OF_1(rho_of_return_loss, hs_rho_of_return_loss, return_loss, HS_DB)
MEASURE_OF_1(swr_of_rho, hs_swr_of_rho, magnitude, HS_UNITLESS)
MEASURE_OF_1(rho_of_swr, hs_rho_of_swr, "the SWR", HS_SWR)
MEASURE_OF_1(swr_of_return_loss, hs_swr_of_return_loss, return_loss, HS_DB)
MEASURE_OF_1(return_loss_of_swr, hs_return_loss_of_swr, "the SWR", HS_SWR)
MEASURE_OF_1(mismatch_loss_of_rho, hs_mismatch_loss_of_rho, magnitude, HS_UNITLESS)
MEASURE_OF_1(rho_of_mismatch_loss, hs_rho_of_mismatch_loss, "the mismatch loss", HS_DB)
MEASURE_OF_1(loss_of_open_end, hs_loss_of_open_end, return_loss, HS_DB)
MEASURE_OF_2(return_loss_before, hs_return_loss_before, return_loss, HS_DB, "the loss in between", HS_DB)
MEASURE_OF_2(return_loss_beyond, hs_return_loss_beyond, return_loss, HS_DB, "the loss of the cable", HS_DB)
MEASURE_PAIR_OF_2(mismatch_limits, hs_mismatch_limits, source_rho, HS_UNITLESS, load_rho, HS_UNITLESS)
MEASURE_PAIR_OF_2(return_loss_bounds, hs_return_loss_bounds, return_loss, HS_DB, "the directivity", HS_DB)

static int give_complex(lua_State *L, bool good, hs_complex value, hs_error *error)
{
	if (!good)
		return measure_raise(L, error);
	measure_push_complex(L, value);
	return 1;
}

static int gamma_of_polar(lua_State *L)
{
	hs_error error = {0};
	hs_complex out = {0};
	double rho = measure_number(L, 1, magnitude, HS_UNITLESS);
	bool good = hs_gamma_of_polar(rho, measure_number(L, 2, "the angle", HS_UNITLESS), &out, &error);
	return give_complex(L, good, out, &error);
}

static int polar_of_gamma(lua_State *L)
{
	hs_error error = {0};
	double rho = 0, degrees = 0;
	bool good = hs_polar_of_gamma(measure_complex(L, 1, "gamma", HS_UNITLESS), &rho, &degrees, &error);
	measure_give(L, good, rho, &error);
	lua_pushnumber(L, degrees);
	return 2;
}

static int gamma_of_impedance(lua_State *L)
{
	hs_error error = {0};
	hs_complex out = {0}, ohm = measure_complex(L, 1, "the impedance", HS_OHM);
	bool good = hs_gamma_of_impedance(ohm, measure_number(L, 2, "the reference impedance", HS_OHM), &out, &error);
	return give_complex(L, good, out, &error);
}

static int impedance_of_gamma(lua_State *L)
{
	hs_error error = {0};
	hs_complex out = {0}, gamma = measure_complex(L, 1, "gamma", HS_UNITLESS);
	bool good = hs_impedance_of_gamma(gamma, measure_number(L, 2, "the reference impedance", HS_OHM), &out, &error);
	return give_complex(L, good, out, &error);
}

static int gamma_through(lua_State *L)
{
	hs_error error = {0};
	hs_complex out = {0}, load = measure_complex(L, 1, "gamma", HS_UNITLESS);
	double loss = measure_number(L, 2, "the loss of the line", HS_DB);
	bool good =
	    hs_gamma_through(load, loss, measure_number(L, 3, "the electrical length", HS_UNITLESS), &out, &error);
	return give_complex(L, good, out, &error);
}

static int mismatch_standard(lua_State *L)
{
	static const char *const models[] = {"known", "bounded"};
	hs_error error = {0};
	double out = 0, source = measure_number(L, 1, source_rho, HS_UNITLESS),
	       load = measure_number(L, 2, load_rho, HS_UNITLESS);
	size_t model = measure_word(L, 3, "what is known of the magnitudes", models, 2);
	bool good =
	    hs_mismatch_standard(source, load, model == 0 ? HS_MISMATCH_KNOWN : HS_MISMATCH_BOUNDED, &out, &error);
	return measure_give(L, good, out, &error);
}

static int power_ratio_db(lua_State *L)
{
	hs_error error = {0};
	double low = 0, high = 0, relative = measure_number(L, 1, "the relative uncertainty", HS_UNITLESS);
	bool good = hs_power_ratio_db(relative, &low, &high, &error);
	measure_give(L, good, low, &error);
	lua_pushnumber(L, high);
	return 2;
}

static int rho_of_powers(lua_State *L)
{
	hs_error error = {0};
	double out = 0;
	hs_quantity forward = measure_quantity(L, 1, "the forward power", HS_DBM);
	hs_quantity reflected = measure_quantity(L, 2, "the reflected power", HS_DBM);
	double loss = measure_number_or(L, 3, "the loss of the cable", HS_DB, 0);
	bool good = hs_rho_of_powers(forward, reflected, loss, &out, &error);
	return measure_give(L, good, out, &error);
}

static int delivered_power(lua_State *L)
{
	hs_error error = {0};
	hs_quantity forward = measure_quantity(L, 1, "the forward power", HS_DBM), out = {0};
	bool good = hs_delivered_power(forward, measure_number(L, 2, magnitude, HS_UNITLESS), &out, &error);
	return measure_give(L, good, out.value, &error);
}

void measure_open_reflection(lua_State *L)
{
	static const measure_row rows[] = {
	    {"delivered_power", delivered_power, 2, "reflection.delivered_power(FORWARD, RHO)"},
	    {"gamma_of_impedance", gamma_of_impedance, 2,
	     "reflection.gamma_of_impedance({ re = OHM, im = OHM }, REFERENCE_OHM)"},
	    {"gamma_of_polar", gamma_of_polar, 2, "reflection.gamma_of_polar(RHO, DEGREES)"},
	    {"gamma_through", gamma_through, 3, "reflection.gamma_through({ re = RE, im = IM }, LOSS, DEGREES)"},
	    {"impedance_of_gamma", impedance_of_gamma, 2,
	     "reflection.impedance_of_gamma({ re = RE, im = IM }, REFERENCE_OHM)"},
	    {"loss_of_open_end", loss_of_open_end, 1, "reflection.loss_of_open_end(RETURN_LOSS)"},
	    {"mismatch_limits", mismatch_limits, 2, "reflection.mismatch_limits(SOURCE_RHO, LOAD_RHO)"},
	    {"mismatch_loss_of_rho", mismatch_loss_of_rho, 1, "reflection.mismatch_loss_of_rho(RHO)"},
	    {"mismatch_standard", mismatch_standard, 3,
	     "reflection.mismatch_standard(SOURCE_RHO, LOAD_RHO, \"known\" or \"bounded\")"},
	    {"polar_of_gamma", polar_of_gamma, 1, "reflection.polar_of_gamma({ re = RE, im = IM })"},
	    {"power_ratio_db", power_ratio_db, 1, "reflection.power_ratio_db(RELATIVE)"},
	    {"return_loss_before", return_loss_before, 2, "reflection.return_loss_before(RETURN_LOSS, LOSS)"},
	    {"return_loss_beyond", return_loss_beyond, 2, "reflection.return_loss_beyond(MEASURED, LOSS)"},
	    {"return_loss_bounds", return_loss_bounds, 2, "reflection.return_loss_bounds(RETURN_LOSS, DIRECTIVITY)"},
	    {"return_loss_of_rho", return_loss_of_rho, 1, "reflection.return_loss_of_rho(RHO)"},
	    {"return_loss_of_swr", return_loss_of_swr, 1, "reflection.return_loss_of_swr(SWR)"},
	    {"rho_of_mismatch_loss", rho_of_mismatch_loss, 1, "reflection.rho_of_mismatch_loss(MISMATCH_LOSS)"},
	    {"rho_of_powers", rho_of_powers, 3, "reflection.rho_of_powers(FORWARD, REFLECTED [, LOSS])"},
	    {"rho_of_return_loss", rho_of_return_loss, 1, "reflection.rho_of_return_loss(RETURN_LOSS)"},
	    {"rho_of_swr", rho_of_swr, 1, "reflection.rho_of_swr(SWR)"},
	    {"swr_of_return_loss", swr_of_return_loss, 1, "reflection.swr_of_return_loss(RETURN_LOSS)"},
	    {"swr_of_rho", swr_of_rho, 1, "reflection.swr_of_rho(RHO)"},
	};
	measure_declare(L, "reflection", rows, sizeof rows / sizeof rows[0]);
}
