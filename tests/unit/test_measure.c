/* The measurement library from Lua: every function answers, and says what is wrong at the author's line. */
#include "measure_bench.h"
#include "comma_locale.h"
#include "halfsplit/playbook/load.h"

/* ---- every function, with a number that does not come from here ---- */

typedef struct value_row {
	const char *expression;
	double want;
	double half_digit; /* 0: to 1e-9 */
} value_row;

#define MIXED  "{ gain = '20 dB', nf = '3 dB', p1db = '10 dBm', oip3 = '20 dBm' }, { loss = '6 dB' }"
#define POINTS "{ { '100 MHz', '6.8 dB' }, { '400 MHz', '14.4 dB' } }"
#define NET    "network.open('amp.s2p')"
#define ONE    "network.open('one.s1p')"

static const value_row level_rows[] = {
    {"(quantity('2.2 kohm'))", 2200, 0},
    {"(quantity('12', 'dBm'))", 12, 0},
    {"level.convert('0 dBm', 'dBuV', '50 ohm')", 106.98970004336019, 0},
    {"level.convert(0, 'dBuV', 75)", 108.7506, 5e-5},
    {"level.convert('1 V', 'dBm', 75)", 11.249387366082999, 0},
    {"level.convert('0 dBu', 'V')", 0.7745966692414834, 0},
    {"level.convert('1 Vpk', 'V', nil, 'square')", 1, 0},
    {"level.convert('1 V', 'Vpk', nil, { 'pulse', duty = '25 %' })", 2, 0},
    {"level.crest()", 1.4142135623730951, 0},
    {"level.crest('triangle')", 1.7320508075688772, 0},
    {"level.crest{ 'noise', sigmas = 3 }", 3, 0},
    {"level.crest_db('sine')", 3.010299956639812, 0},
    {"level.form('sine')", 1.1107207345395915, 0},
    {"level.pulse_power('10 W', 0.1)", 100, 0},
    {"level.pd_of_emf('2 V')", 1, 0},
    {"level.pd_of_emf(2)", 1, 0},
    {"level.emf_of_pd('10 dBuV')", 16.020599913279624, 0},
    {"level.pd_into('2 V', '600 ohm', '1.2 kohm')", 1.3333333333333333, 0},
    {"level.available_power('2 V', 50)", 13.010299956639813, 0},
    {"level.add{ '10 dBm', '10 dBm' }", 13.010299956639813, 0},
    {"level.add({ '10 mW', 10 }, 'dBm')", 13.010299956639813, 0},
    {"level.add({ '1 V', '1 V' }, 'dBm', 50)", 16.020599913279624, 0},
    {"level.mean{ '0 dBm', '10 dBm' }", 7.403626894942439, 0},
    {"level.subtract('10 dBm', '7 dBm')", 6.979375600716997, 0},
    {"level.subtract('10 mW', '4 mW', 'W')", 0.006, 0},
    {"level.add_coherent{ { '0 dBm', 0 }, { '0 dBm', 90 } }", 3.010299956639812, 0},
    {"select(2, level.add_coherent{ { '0 dBm' }, { '0 dBm', 90 } })", 45, 0},
    {"level.over('-40 dBm', '3 dBm')", -43, 0},
    {"level.from_over('3 dBm', '-43 dB')", -40, 0},
    {"level.density('-100 dBm', '10 kHz')", -140, 0},
    {"level.of_density('-140 dBm/Hz', '10 kHz')", -100, 0},
    {"level.of_density(-140, 1e4)", -100, 0},
    {"level.in_bandwidth('-80 dBm', '1 kHz', '100 kHz')", -60, 0},
    {"level.shift('2 W', '3 dB')", 3.9905246299377593, 0},
};

static const value_row reflection_rows[] = {
    {"reflection.return_loss_of_rho(0.1)", 20, 0},
    {"reflection.return_loss_of_rho('10 %')", 20, 0},
    {"reflection.rho_of_return_loss('14 dB')", 0.19952623149688797, 0},
    {"reflection.swr_of_rho(0.2)", 1.5, 0},
    {"reflection.rho_of_swr(3)", 0.5, 0},
    {"reflection.swr_of_return_loss(20)", 1.2222222222222223, 0},
    {"reflection.return_loss_of_swr(1.5)", 13.979400086720375, 0},
    {"reflection.mismatch_loss_of_rho(0.5)", 1.2493873660829993, 0},
    {"reflection.mismatch_loss_of_rho(1e-9) * 1e18", 4.3429448190325175, 0},
    {"reflection.rho_of_mismatch_loss('1 dB')", 0.45351049081109307, 0},
    {"(reflection.mismatch_limits(1 / 3, 0.2))", -0.5992644675488642, 0},
    {"select(2, reflection.mismatch_limits(1 / 3, 0.2))", 0.5605744720048706, 0},
    {"reflection.mismatch_standard(0.1, 0.2, 'known')", 0.028284271247461905, 0},
    {"reflection.mismatch_standard(0.1, 0.2, 'bounded')", 0.014142135623730949, 0},
    {"(reflection.power_ratio_db('10 %'))", -0.4575749056067512, 0},
    {"select(2, reflection.power_ratio_db(0.1))", 0.41392685158225073, 0},
    {"reflection.return_loss_before('20 dB', '3 dB')", 26, 0},
    {"reflection.return_loss_beyond('20 dB', '3 dB')", 14, 0},
    {"reflection.loss_of_open_end('6 dB')", 3, 0},
    {"reflection.gamma_of_polar(0.5, 90).im", 0.5, 0},
    {"select(2, reflection.polar_of_gamma{ re = 0, im = 0.5 })", 90, 0},
    {"(reflection.polar_of_gamma{ 0.3, 0.4 })", 0.5, 0},
    {"reflection.gamma_of_impedance({ re = '25 ohm', im = 10 }, '50 ohm').re", -0.3100436681222708, 0},
    {"reflection.gamma_of_impedance('25 ohm', 50).re", -1.0 / 3, 0},
    {"reflection.impedance_of_gamma({ 0.2, 0.3 }, 50).im", 41.09589041095891, 0},
    {"reflection.gamma_through(0.5, '3 dB', 45).im", -0.2505936168136361, 0},
    {"reflection.rho_of_powers('50 W', '2 W')", 0.2, 0},
    {"reflection.rho_of_powers('40 dBm', '20 dBm', '3 dB')", 0.19952623149688797, 0},
    {"reflection.delivered_power('100 W', 0.5)", 75, 0},
    {"(reflection.return_loss_bounds(20, '40 dB'))", 19.1721462968355, 0},
    {"select(2, reflection.return_loss_bounds(20, 40))", 20.9151498112135, 0},
};

static const value_row chain_rows[] = {
    {"cascade.factor{ loss = '3 dB', kelvin = '100 K' }", 1.3431939017134067, 0},
    {"cascade.factor{ gain = 10, nf = '3 dB' }", 1.9952623149688795, 0},
    {"cascade.temperature_of_nf('3 dB')", 288.62607134097505, 0},
    {"cascade.nf_of_temperature('290 K')", 3.010299956639812, 0},
    {"cascade.nf_of_temperature('16.85 degC')", 3.010299956639812, 0},
    {"cascade.total{ " MIXED " }.nf_db", 3.064406901843622, 0},
    {"cascade.total{ " MIXED " }.kelvin", 297.27117928702654, 0},
    {"cascade.total{ " MIXED " }.op1db_dbm", 4, 0},
    {"cascade.total{ " MIXED " }.ip1db_dbm", -9, 0},
    {"cascade.total{ " MIXED " }.iip3_dbm", 0, 0},
    {"cascade.levels({ " MIXED " }, '-5 dBm')[2].level_dbm", 4, 0},
    {"cascade.levels({ " MIXED " }, '-5 dBm')[2].limited_by", 1, 0},
    {"cascade.levels({ " MIXED " }, -20)[1].headroom_db", 10, 0},
    {"cascade.levels({ " MIXED " }, -20, '10 kHz')[1].snr_db", 110.97518719422808, 0}, /* -20 + 133.975 - 3 */
    {"cascade.levels({ " MIXED " }, -140, '10 kHz')[2].limit == 'noise' and 1", 1, 0},
    {"cascade.im3('0 dBm', '20 dBm')", -40, 0},
    {"cascade.spurious_free_range('20 dBm', '-100 dBm')", 80, 0},
    {"cascade.nf_of_y('15 dB', '10 dB')", 5.4575749056067515, 0},
    {"cascade.mix('145 MHz', '134.3 MHz').if_hz", 10.7e6, 0},
    {"cascade.mix('145 MHz', '134.3 MHz').image_hz", 123.6e6, 0},
    {"cascade.mix('145 MHz', '134.3 MHz', 'sum').if_hz", 279.3e6, 0},
    {"cascade.oscillator('145 MHz', '10.7 MHz', 'high')", 155.7e6, 0},
    {"cascade.oscillator('145 MHz', '10.7 MHz', 'low')", 134.3e6, 0},
    {"cascade.harmonic('7 MHz', 3)", 21e6, 0},
    {"(cascade.harmonics_within('7 MHz', '14 MHz', '30 MHz'))", 2, 0},
    {"select(2, cascade.harmonics_within('7 MHz', '14 MHz', '30 MHz'))", 4, 0},
    {"select('#', cascade.harmonics_within('7 MHz', '15 MHz', '20 MHz'))", 0, 0},
    {"#cascade.spurs('145 MHz', '134.3 MHz', 2, 0, '1 GHz')", 6, 0}, /* 2 of order 1 and 4 of order 2 */
    {"cascade.spurs('145 MHz', '134.3 MHz', 2, 0, '20 MHz')[3].freq_hz", 10.7e6, 0},
    {"cascade.spur_inputs('134.3 MHz', '10.7 MHz', 2, 0, '1 GHz')[3].freq_hz", 123.6e6, 0},
    {"noise.floor('1 Hz')", -173.97518719422808, 0},
    {"noise.floor('10 kHz', '3 dB', 77)", -132.96879561343601, 0},
    {"noise.resistor('1 kohm', 1, '300 K') * 1e9", 4.070354775692163, 0},
    {"(noise.signal('-97 dBm', '-100 dBm'))", -100.02062439928298, 0},
    {"select(2, noise.signal('-97 dBm', '-100 dBm'))", -3.02062439928298, 0},
    {"noise.detector_correction('log average')", 2.506815781348522, 0},
    {"noise.bandwidth_ratio(1)", 1.5707963267948966, 0},
    {"noise.bandwidth_ratio(0)", 1.0644670194312262, 0},
    {"noise.density('-90 dBm', 'voltage average', '1 kHz', 1.1)", -119.36482566524396, 0},
};

static const value_row rest_rows[] = {
    {"coax.law_loss(coax.law(0.6, 0.002), '100 MHz', '10 m')", 0.62, 0},
    {"coax.law_loss(coax.law(0.6, 0.002, '100 m'), '100 MHz', "
     "{ length = 10, celsius = '60 degC', connectors = 2, connector_db = '0.05 dB' })",
     0.7654393852252898, 0},
    {"coax.table_loss(" POINTS ", '200 MHz', '100 m')", 9.948023074035522, 0},
    {"coax.table_loss(coax.table{ { '400 MHz', 14.4, 'ours' }, { '100 MHz', 6.8, 'ours' } }, '200 MHz', '50 m')",
     4.974011537017761, 0},
    {"coax.table{ { '400 MHz', 14.4, 'ours' }, { '100 MHz', 6.8, 'ours' } }[1][1]", 1e8, 0},
    {"coax.type_loss('RG-213/U', '100 MHz', '10 m')", 0.68, 0},
    {"#coax.types()", 5, 0},
    {"coax.fit(" POINTS ").residuals[2]", 0, 1e-12},
    {"coax.law_loss(coax.fit(" POINTS "), '400 MHz', '100 m')", 14.4, 0},
    {"uncertainty.type_a{ 9.8, 10.1, 10.0, 10.3 }.standard", 0.10408329997330662, 0},
    {"uncertainty.type_a{ 9.8, 10.1, 10.0, 10.3 }.mean", 10.05, 0},
    {"uncertainty.correlation({ 1, 2, 3 }, { 6, 4, 2 })", -1, 0},
    {"uncertainty.dof_of_doubt('25 %')", 8, 0},
    {"uncertainty.welch_satterthwaite({ 1, 2 }, { 4, 9 })", 12.328767123287673, 0},
    {"uncertainty.welch_satterthwaite({ 1, 2 }, { 4, math.huge })", 100, 0},
    {"uncertainty.student_factor(0.95, 5)", 2.57, 5e-3}, /* GUM, table G.2 */
    {"uncertainty.student_factor(0.9545)", 2.00, 5e-3},
    {"uncertainty.student_coverage(2.57, 5)", 0.95, 5e-4},
    {"uncertainty.sensitivity(function(x) return x[1] ^ 2 * x[2] end, { 3, 2 }, 1, 0.1)", 12, 0},
    {"uncertainty.decide('12.5 .. 16.3', 13.6, 1.8).conform", 0.66, 5e-3},              /* JCGM 106, 7.4 */
    {"uncertainty.decide('at most -5.40 V', '-5.47 V', '0.05 V').conform", 0.92, 5e-3}, /* JCGM 106, 7.3 */
    {"uncertainty.decide('10 dBm .. 14 dBm', '11 dBm', '0.5 dB', 'guarded').false_accept", 0.022750131948, 1e-9},
    {"uncertainty.decide('10 dBm .. 14 dBm', 10.5, 0.5, 'four-way').statement == 'conditional pass' and 1", 1, 0},
    {"uncertainty.divisor('rectangular')", 1.7320508075688772, 0},
    {"uncertainty.divisor('expanded')", 2, 0},
    {"uncertainty.combine{ { 'meter', half_width = '0.2 dB', shape = 'rectangular' }, "
     "{ 'cable', half_width = '0.1 dB', shape = 'U-shaped' } }.standard",
     0.13540064007726602, 0},
    {"uncertainty.combine{ { 'a', half_width = 0.3, shape = 'standard' }, { 'b', half_width = 0.4, shape = 'standard' "
     "}, "
     "correlations = { { 1, 2, 0.5 } } }.standard",
     0.6082762530298219, 0},
    {"uncertainty.combine{ { 'a', half_width = 0.6, shape = 'standard', divisor = 3, sensitivity = -2, dof = 5 } "
     "}.contributions[1]",
     0.4, 0},
    {"uncertainty.false_accept_most(2, 1)", 0.02275013194817922, 0},
    {"uncertainty.guard_for('10 %', 1)", 1.2815515655446004, 0},
    {"meter.loading_percent('1 Mohm', '10 Mohm')", -9.090909090909092, 0},
    {"meter.unloaded('10 V', '1 Mohm', '10 Mohm')", 11, 0},
    {"meter.burden_percent('100 ohm', 1)", -0.9900990099009901, 0},
    {"meter.divider_source('9 kohm', '1 kohm')", 900, 0},
    {"meter.divider_ratio('9 kohm', '1 kohm')", 0.1, 0},
    {"meter.probe('10 Mohm', '10 pF', '50 ohm', '100 MHz').percent", -4.597612524128591, 0},
    {"meter.probe('10 Mohm', '10 pF', '50 ohm', '100 MHz').degrees", -17.440512575599264, 0},
    {"meter.probe('10 Mohm', '10 pF', '50 ohm', '100 MHz').magnitude_ohm", 159.15494307173813, 0},
    {"meter.average_responding_percent('square')", 11.072073453959153, 0},
    {"meter.peak_responding_percent('square')", -29.289321881345252, 0},
    {"meter.true_rms('1 V', 'square')", 0.9003163161571061, 0},
    {"meter.crest_fits('square', '1 V', '2 V', 3) and 1", 1, 0},
    {"meter.resolution_standard('10 mV')", 0.002886751345948129, 0},
    {"meter.half_width('100 V', '0.5 %', 3, '0.1 V')", 0.8, 0},
    {"(meter.two_wire('0.5 ohm', '0.2 ohm', '0.05 ohm'))", 0.3, 0},
    {"select(2, meter.two_wire('0.5 ohm', '0.2 ohm', '0.05 ohm'))", 0.05, 0},
    {"meter.two_wire_decides('10 ohm', '5 %', '0.02 ohm') and 1", 1, 0},
    {"network.loss(" NET ", '200 MHz')", 1.4142135623730951, 0}, /* linear in the root of frequency: 1 + (sqrt 2 - 1) */
    {NET ":loss('400 MHz', 1, 2)", 2, 0},
    {NET ":db(1, 1, '100 MHz')", -20, 0},
    {"network.value(" NET ", 2, 2, '400 MHz').re", -0.19952623149688797, 0},
    {"network.value(" ONE ", 1, 1, '1 GHz').im", 37.5, 0},
    {"network.find(" NET ", '400 MHz')", 2, 0},
    {"network.freqs(" NET ")[2]", 4e8, 0},
    {"network.reference(" ONE ")", 75, 0},
    {"network.reference(" NET ", 2)", 50, 0},
    {"network.info(" NET ").to_hz", 4e8, 0},
    {"network.noise(" NET ")[1].rn_ohm", 20, 0},
};

static const struct {
	const value_row *rows;
	size_t count;
} sheets[] = {{level_rows, COUNT(level_rows)},
              {reflection_rows, COUNT(reflection_rows)},
              {chain_rows, COUNT(chain_rows)},
              {rest_rows, COUNT(rest_rows)}};

static void check_value(const value_row *row)
{
	char text[512];
	double got;
	hs_error error = {0};
	snprintf(text, sizeof text, "return %s", row->expression);
	char *out = calc_text(text, &error);
	if (!out)
		fail_msg("%s: %s", row->expression, error.message);
	out[strcspn(out, "\n")] = '\0';
	if (!hs_number_read(out, &got))
		fail_msg("%s: gave \"%s\"", row->expression, out);
	free(out);
	assert_source(row->expression, got, row->want, row->half_digit ? row->half_digit : row->want == 0 ? 1e-12 : 0);
}

static void every_function_answers(void **state)
{
	(void)state;
	for (size_t s = 0; s < COUNT(sheets); s++)
		for (size_t i = 0; i < sheets[s].count; i++)
			check_value(&sheets[s].rows[i]);
}

/* The same under a locale that writes a comma. */
static void a_comma_locale_changes_nothing(void **state)
{
	(void)state;
	assert_true(comma_locale_set());
	every_function_answers(NULL);
	assert_calc("return show(1.5, 'dBm'), 1.5, quantity('1.5 V')", "1.5 dBm\n1.5\n1.5\nV\n");
	setlocale(LC_ALL, "C");
}

static bool is_called(const char *expression, const char *name)
{
	size_t length = strlen(name);
	for (const char *at = strstr(expression, name); at; at = strstr(at + 1, name))
		if (at[length] == '(' || at[length] == '{')
			return true;
	return false;
}

static bool is_tried(const char *name)
{
	char method[64];
	/* These two give texts: see below. */
	if (strcmp(name, "cascade.text") == 0 || strcmp(name, "uncertainty.text") == 0)
		return true;
	snprintf(method, sizeof method, ":%s", strchr(name, '.') + 1);
	for (size_t s = 0; s < COUNT(sheets); s++)
		for (size_t i = 0; i < sheets[s].count; i++)
			if (is_called(sheets[s].rows[i].expression, name) ||
			    is_called(sheets[s].rows[i].expression, method))
				return true;
	return false;
}

static void no_function_is_left_out(void **state)
{
	(void)state;
	hs_error error = {0};
	size_t seen = 0;
	char *names = calc_text(
	    "local names = {}\n"
	    "for name, module in pairs{ level = level, reflection = reflection, cascade = cascade, noise = noise,\n"
	    "    coax = coax, uncertainty = uncertainty, meter = meter, network = network } do\n"
	    "  for word in pairs(module) do names[#names + 1] = name .. '.' .. word end\n"
	    "end\n"
	    "return table.concat(names, '\\n')",
	    &error);
	if (!names)
		fail_msg("%s", error.message);
	for (char *name = names, *end; *name; name = end + 1) {
		end = strchr(name, '\n');
		assert_non_null(end);
		*end = '\0';
		if (!is_tried(name))
			fail_msg("no row tries %s", name);
		seen++;
	}
	free(names);
	assert_int_equal(seen, 105);
}

static void texts_come_out(void **state)
{
	(void)state;
	assert_calc("return quantity('12 dBm')", "12\ndBm\n");
	assert_calc("return quantity(3, 'W')", "3\nW\n");
	assert_calc("return show(2200, 'ohm'), show('2200 ohm', 'ohm'), show(12.3456, 'dBm', 1), show(7)",
	            "2.2 kohm\n2.2 kohm\n12.3 dBm\n7\n");
	assert_calc("return cascade.text({ { name = 'A1\\27', gain = 20, nf = 3, p1db = 10 }, { loss = 6 } }, -5)",
	            "  1  A1\\x1b  10.00 dBm  -5.00 dB to P1dB  compressed here\n"
	            "  2  stage  4.00 dBm  held back by stage 1\n");
	assert_calc("return uncertainty.text{ { 'meter', value = '5 V', half_width = '10 mV', shape = 'standard' }, "
	            "result = '5 V' }",
	            "quantity  estimate  half-width  distribution  divisor    u(x)  c  |c| u(x)  share  dof\n"
	            "meter          5 V      0.01 V  normal              1  0.01 V  1    0.01 V  100 %  inf\n"
	            "combined standard uncertainty u = 0.01 V\n"
	            "effective degrees of freedom: infinite\n"
	            "coverage factor for 95.45 %: k = 2\n"
	            "expanded uncertainty U = 0.02 V\n"
	            "result 5.000 V +/- 0.020 V (k = 2, 95.45 %)\n");
	assert_calc("return network.info(" NET ")",
	            "from_hz: 100000000\nkind: S\npoints: 2\nports: 2\nto_hz: 400000000\nversion: 1.0\n");
	assert_calc("local n = " NET " return n == " NET ", tostring(n), type(n)", "true\nnetwork\nuserdata\n");
	assert_calc("return uncertainty.combine{ { 'a', half_width = 1, shape = 'standard' } }.dof", "infinite\n");
}

/* ---- what is refused ---- */

static void refusals_name_what_is_wrong(void **state)
{
	static const struct {
		const char *expression, *message, *hint;
	} rows[] = {
	    /* wrong unit, wrong kind, not given, too many */
	    {"noise.floor('12 dBm')", "the bandwidth is given in \"dBm\" (power); a frequency is wanted",
	     "write noise.floor(BANDWIDTH"},
	    {"level.convert('12 MHz', 'dBm')",
	     "the level is given in \"Hz\" (frequency); a power or a voltage is wanted",
	     "write level.convert(LEVEL, UNIT [, OHM [, WAVE]])"},
	    {"reflection.swr_of_rho('3 V')",
	     "the magnitude of gamma is given in \"V\" (voltage); a plain number is wanted",
	     "write reflection.swr_of_rho(RHO)"},
	    {"noise.floor({})", "the bandwidth is a table, and a number in Hz or a text with its unit is wanted",
	     "write noise.floor("},
	    {"noise.floor()", "the bandwidth is not given, and a number in Hz or a text with its unit is wanted",
	     "write noise.floor("},
	    {"level.convert(1, true)", "the unit is true or false, and a text in quotes is wanted",
	     "write level.convert("},
	    {"level:crest('sine')", "2 values were given, and 1 is the most", "write level.crest(WAVE)"},
	    {"level.shift(1, 2, 3)", "3 values were given, and 2 are the most", "write level.shift(LEVEL, DB)"},
	    {"level.convert('12,5 dBm', 'W')",
	     "the level: \"12,5 dBm\" has a comma in the number, and a decimal point was wanted", "write 12.5"},
	    {"level.convert(1, 'dBq')", "\"dBq\" is no unit", "did you mean \"dBm\"?"},
	    {"quantity(12)", "the quantity is a number without a unit", "write quantity(TEXT [, UNIT])"},
	    {"quantity('12')", "the quantity: \"12\" has no unit, and a number with a unit was wanted",
	     "write the unit behind the number"},
	    {"show(1, 'V', 2.5)", "the number of decimals is 2.5, and a whole number is wanted", "write show("},
	    {"show(1, 'V', 10)", "the number of decimals is 10; it must lie between 0 and 9", "write show("},
	    /* misspelt */
	    {"level.convrt(1, 'W')", "`level.convrt` is not offered to a calc file", "did you mean `convert`?"},
	    {"network.open('amp.s2p'):los(1)", "`network.los` is not offered to a calc file", "did you mean `loss`?"},
	    {"cascade.total{ { gian = 1 } }", "\"gian\" is no word of stage 1", "did you mean \"gain\"?"},
	    {"level.crest('sqare')",
	     "the waveform is \"sqare\", and \"sine\", \"square\", \"triangle\", \"noise\" or \"pulse\" is wanted",
	     "did you mean \"square\"?"},
	    /* missing impedance, and what is no number */
	    {"level.convert('12 dBm', 'V')", "from dBm to V an impedance is needed, and none was given", "50 ohm"},
	    {"level.convert('12 dBm', 'V', 0)", "the impedance is 0 ohm; it must be above 0 ohm", ""},
	    {"level.add{ '1 V', '1 dBm' }", "from dBm to V an impedance is needed, and none was given", ""},
	    {"level.convert(0/0, 'dBW')", "the level is not a number; a finite number is wanted", ""},
	    {"noise.floor(1/0)", "the bandwidth is infinite; a finite number is wanted", ""},
	    {"level.mean{ 1, -1/0 }", "level 2 is -infinite; a finite number is wanted", ""},
	    {"uncertainty.type_a{ 1, 0/0 }",
	     "value 2 of the list of readings is not a number; a finite number is wanted", ""},
	    {"uncertainty.student_factor(0.95, -math.huge)",
	     "the degrees of freedom is -infinite; a finite number is wanted", ""},
	    {"show(0/0, 'V')", "the value is not a number; a finite number is wanted", ""},
	    {"reflection.polar_of_gamma{ 0/0, 1 }", "re of gamma is not a number; a finite number is wanted", ""},
	    {"uncertainty.sensitivity(function() return 0/0 end, { 1 }, 1, 0.1)",
	     "what the model returned is not a number; a finite number is wanted", ""},
	    /* out of the table, and other formulas' own words */
	    {"coax.type_loss('RG-213/U', '10 GHz', 1)", "no loss known at 10 GHz: the table runs from 10 MHz to 3 GHz",
	     ""},
	    {"coax.type_loss('RG-213', '1 GHz', 1)", "no loss is known for the cable type \"RG-213\"",
	     "did you mean \"RG-213/U\"?"},
	    {"coax.table_loss(" POINTS ", '50 MHz', 1)",
	     "no loss known at 50 MHz: the table runs from 100 MHz to 400 MHz", ""},
	    {"coax.table{ { 1e6, 1, 'ours' }, { 2e6, 2, 'theirs' } }",
	     "the table mixes two sources, \"ours\" and \"theirs\"", "40 %"},
	    {"coax.fit{ { 1e6, 1, 'ours' }, { 2e6, 2, 'theirs' } }",
	     "the table mixes two sources, \"ours\" and \"theirs\"", "40 %"},
	    {"coax.table{ { 1e6, 1 } }", "point 1 of the table does not say where it comes from", ""},
	    {"coax.law_loss(coax.law(1, 0), 1e6, { length = 1, connectors = 2 })",
	     "the run has connectors, and the loss of each is not given as connector_db", "write coax.law_loss("},
	    {"reflection.return_loss_of_rho(0)", "a perfect match (gamma 0) has no return loss in decibels", ""},
	    {"noise.signal(-100, -100)", "", ""},
	    {"meter.two_wire_decides('0.05 ohm', '5 %', '0.02 ohm')", "", "four wires"},
	    {"meter.unloaded('10 dBV', 1, 1)", "the reading is in dBV, and decibels do not scale",
	     "write it in V, A, W or ohm"},
	    {"meter.half_width('10 V', 1, 1, '1 mA')",
	     "the step of the last digit is in \"A\", and what stands before it in \"V\"", ""},
	    {"cascade.total{ { gain = 1 } }",
	     "the nf of stage 1 is not given, and a number in dB or a text with its unit is wanted", ""},
	    {"cascade.total{ { loss = 1, gain = 1 } }", "stage 1 has a loss, and a gain or a noise figure beside it",
	     ""},
	    {"cascade.total{ { loss = -1 } }", "the loss of stage 1 is below 0 dB", ""},
	    {"cascade.total{ { gain = 1, nf = 1, kelvin = 1 } }",
	     "stage 1 has a temperature and no loss; the noise of an active stage is its noise figure", ""},
	    {"cascade.oscillator(1e6, 1e5, 'up')", "the side is \"up\", and \"high\" or \"low\" is wanted", ""},
	    {"cascade.spurs(1e6, 2e6, 21, 0, 1)", "the highest order is 21; it must lie between 1 and 20", ""},
	    {"uncertainty.combine{}", "the budget holds no terms", ""},
	    {"uncertainty.combine{ { 'a', value = '1 dBm', half_width = '1 W', shape = 'standard' } }",
	     "the half_width of term 1 is given in \"W\" (power); a ratio in decibels is wanted", ""},
	    {"uncertainty.combine{ { 'a', half_width = 1, shape = 'standard', divisor = 0 } }",
	     "the divisor of term 1 must be above 0", ""},
	    {"uncertainty.correlation({ 1, 2 }, { 1 })", "the series hold 2 and 1 readings, and pairs are wanted", ""},
	    {"uncertainty.sensitivity(3, { 1 }, 1, 0.1)", "the model is no function", "write uncertainty.sensitivity("},
	    /* networks */
	    {"network.open('nowhere.s2p')", "the file \"nowhere.s2p\" is not among the 5 files held here", ""},
	    {"network.open('../amp.s2p')",
	     "the file name \"../amp.s2p\" holds \"..\", and files are named beneath a folder", ""},
	    {"network.open('bad.s2p')", "", "see line 2 of bad.s2p"},
	    {"network.loss('amp.s2p', 1e8)", "the network is not given, and what network.open gives is wanted",
	     "write network.loss("},
	    {NET ":value(3, 1, 1e8)", "S3,1 was asked for; the file holds 2 ports", ""},
	    {NET ":find('200 MHz')",
	     "the file holds nothing at 200000000 Hz; its nearest are 100000000 and 400000000 Hz", ""},
	    {NET ":reference(3)", "the port is 3; it must lie between 1 and 2",
	     "write network.reference(NET [, PORT])"},
	    {ONE ":db(1, 1, 1e9)", "the file holds Z-parameters; decibels are of S-parameters only", ""},
	    /* what is not there */
	    {"step 'x' {}", "the word `step` is not known in a calc file", ""},
	    {"uncertainty.judge", "`uncertainty.judge` is not offered to a calc file", ""},
	    {"uncertainty.decide('11 V .. 10 V', 10.5, 0.1)", "", ""},
	    {"uncertainty.decide('1 V .. 2 V', 1.5, 1, 'guarded')", "", ""},
	    {"uncertainty.decide('1 V .. 2 V', '1.5 W', 1)", "the value is given in \"W\" (power); a voltage is wanted",
	     ""},
	    {"uncertainty.decide('1 V .. 2 V', 1.5, -1)", "", ""},
	};
	(void)state;
	for (size_t i = 0; i < COUNT(rows); i++) {
		char text[512];
		hs_error error = {0};
		snprintf(text, sizeof text, "local x = 1\n\nreturn %s", rows[i].expression);
		if (*rows[i].message) {
			assert_calc_refused(text, HS_BAD_INPUT, 3, rows[i].message, rows[i].hint);
			continue;
		}
		/* The formula's sentence is its own test's business. */
		char *got = calc_text(text, &error);
		if (got || error.code != HS_BAD_INPUT || error.line != 3 || !error.message[0] ||
		    !strstr(error.hint, rows[i].hint))
			fail_msg("%s: %d: %s (%s)", rows[i].expression, error.line, error.message, error.hint);
	}
}

/* An error in a function of another file stands at the line that called the library. */
static void the_place_is_the_authors(void **state)
{
	(void)state;
	hs_error error = {0};
	char *got = calc_text("local lib = require 'lib'\nreturn lib.twice('3 MHz')", &error);
	assert_null(got);
	assert_string_equal(error.message, "the level is given in \"Hz\" (frequency); a power or a voltage is wanted");
	assert_string_equal(error.file, "lib.lua");
	assert_int_equal(error.line, 1);
	assert_calc("local good, why = pcall(level.shift, 1) return good, why",
	            "false\nthe shift is not given, and a number in dB or a text with its unit is wanted\n");
}

/* ---- kits and playbooks ---- */

static void a_kit_calculates(void **state)
{
	(void)state;
	hs_error error = {0};
	hs_problems problems = {0};
	hs_sources *sources =
	    measure_sources("kit.lua",
	                    "pad \"P1\" { loss = show(" NET
	                    ":loss('400 MHz') + coax.type_loss('RG-213/U', '100 MHz', '100 m'), 'dB', 2) }\n",
	                    NULL, NULL);
	hs_kit *kit = hs_kit_load(sources, HS_PLACES_EXACT, &problems, &error);
	if (!kit || problems.count > 0)
		fail_msg("%s", problems.count ? problems.items[0].what.message : error.message);
	assert_near(kit->parts[0]->fixed_db, 8.8);
	hs_kit_free(kit);
	hs_problems_free(&problems);
	hs_sources_free(sources);
}

static const struct {
	const char *body, *result, *message;
} functions[] = {
    {"return { level.shift('0 dBm', -3), net:loss('400 MHz') }", "-3 .. 2", NULL},
    {"assert(reflection.rho_of_swr(3) == 0.5) return 'end'", "end", NULL},
    {"assert(network.open('amp.s2p') == net) return 'end'", "end", NULL},
    {"network.open('one.s1p') return 'end'", NULL,
     "\"one.s1p\" is opened in a function that runs later, and only files that are opened while the playbook is read "
     "belong to it"},
    {"level.shift = nil", NULL, "`level` is sealed and cannot be changed"},
    {"return level.shift('0 MHz', 1)", NULL,
     "the level is given in \"Hz\" (frequency); a power or a voltage is wanted"},
};

static void call_function(size_t row)
{
	char text[1024];
	hs_error error = {0};
	hs_problems problems = {0};
	hs_buf result;
	hs_buf_init(&result);
	snprintf(
	    text, sizeof text,
	    "playbook { id = \"x\", title = \"x\", family = \"x\", first = \"x\" } local net = " NET "\n"
	    "step \"a\" { look = \"?\", answers = { { \"y\", to = \"f\" } } } step \"end\" { finding = \"none\" }\n"
	    "step \"f\" { to = \"end\", uses = { \"a\" }, decide = function(v) %s end }\n",
	    functions[row].body);
	hs_sources *sources = measure_sources("x.lua", text, NULL, NULL);
	hs_book *book = hs_book_open(sources, NULL, HS_PLACES_EXACT, &problems, &error);
	if (!book || problems.count > 0)
		fail_msg("%s", problems.count ? problems.items[0].what.message : error.message);
	const hs_evaluator *evaluator = &hs_book_playbook(book)->evaluator;
	const char *name = "a";
	hs_value value = {.kind = HS_VALUE_NONE};
	bool good = evaluator->call(evaluator->context, 0, &name, &value, 1, &result, &error);
	if (good != (functions[row].result != NULL))
		fail_msg("%s: %s", functions[row].body, good ? "no error" : error.message);
	if (good) {
		assert_string_equal(result.data, functions[row].result);
	} else {
		assert_string_equal(error.message, functions[row].message);
		assert_string_equal(error.file, "x.lua");
		assert_int_equal(error.line, 3);
	}
	hs_buf_free(&result);
	hs_book_free(book);
	hs_problems_free(&problems);
	hs_sources_free(sources);
}

static void small_functions_calculate(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(functions); i++)
		call_function(i);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_function_answers),
	    cmocka_unit_test(a_comma_locale_changes_nothing),
	    cmocka_unit_test(no_function_is_left_out),
	    cmocka_unit_test(texts_come_out),
	    cmocka_unit_test(refusals_name_what_is_wrong),
	    cmocka_unit_test(the_place_is_the_authors),
	    cmocka_unit_test(a_kit_calculates),
	    cmocka_unit_test(small_functions_calculate),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
