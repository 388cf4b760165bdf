/* The bench calculator: what people say, what comes out to 1e-9, and what is refused with which class and sentence. */
#include "comma_locale.h"
#include "measure_rows.h"
#include "halfsplit/judge/expression.h"

/* Where a figure comes from: the formula worked out on its own, or a source that prints it. */
typedef struct row {
	const char *text;
	double value;
	const char *unit;
} row;

static const row levels[] = {
    {"0 dBm in dBuV at 50 ohm", 106.98970004336019, "dBuV"}, /* 90 + 10 log10(50) */
    {"0 dBm in dBuV at 75 ohm", 108.750612633917, "dBuV"},
    {"0 dBm at 50 ohm in dBuV", 106.98970004336019, "dBuV"},
    {"0 dBm in 50 ohm as dBuV", 106.98970004336019, "dBuV"},
    {"(0 dBm at 50 ohm) in dBuV", 106.98970004336019, "dBuV"},
    {"(0 dBm in dBuV) at 50 ohm", 106.98970004336019, "dBuV"},
    {"106.98970004336019 dBuV to dBm at 50 ohm", 0, "dBm"},
    {"0 DBM IN DBUV AT 50 OHM", 106.98970004336019, "dBuV"},
    {"0dBm in dBuV at 50ohm", 106.98970004336019, "dBuV"},
    {"0 dBm in V at 50 ohm", 0.22360679774997896, "V"}, /* sqrt(1 mW x 50 ohm) */
    {"0 dBm in mV at 50 ohm", 223.60679774997896, "mV"},
    {"0 dBu in V", 0.7745966692414834, "V"}, /* sqrt(0.6), IEC 60027-3; not 0.775 */
    {"50 W in dBm", 46.98970004336019, "dBm"},
    {"10 dBm in W", 0.01, "W"},
    {"12.5 W in dBW", 10.969100130080564, "dBW"},
    {"4000 dBm in dBW", 3970, "dBW"},
    {"-4000 dBm in dBW", -4030, "dBW"},
    {"4000 dBm in dBuV at 50 ohm", 4106.98970004336, "dBuV"},
    {"2 Vpp in V", 0.7071067811865475, "V"},
    {"2 Vpp in dBm at 50 ohm", 10, "dBm"},
    {"2 V p-p in dBm at 50 ohm", 10, "dBm"},
    {"2 Vpp square in V", 1, "V"},
    {"2 Vpp triangle wave in V", 0.5773502691896258, "V"}, /* 1/sqrt 3 */
    {"1 V in Vpk", 1.4142135623730951, "Vpk"},
    {"12 V into 50 ohm as dBm", 34.59392487759231, "dBm"}, /* 144/50 W */
    {"12 V into 50 ohm in W", 2.88, "W"},
    {"12 V into 50 ohm", 2.88, "W"},
    {"10 dBm into 50 ohm", 0.7071067811865475, "V"},
    {"1 V at 75 ohm in dBm", 11.249387366082999, "dBm"},
    {"12 V over 50 ohm", 2.88, "W"},
    {"12 V across 50 ohm", 2.88, "W"},
    {"1 V in dBm with 50 ohm", 13.010299956639813, "dBm"},
    {"12 V over 50 ohm as A", 0.24, "A"},
    {"10 dBm in mA at 50 ohm", 14.142135623730951, "mA"}, /* sqrt(10 mW/50 ohm) */
    {"2 Vpp square in mA at 50 ohm", 20, "mA"},
    {"2 Vpp in mA at 50 ohm", 14.142135623730951, "mA"},
    {"1 A in Vpp square at 50 ohm", 100, "Vpp"},
    {"-43.979400086720375 dBm from 2 Vpp at 50 ohm", -53.979400086720375, "dBc"},
    {"1 A into 50 ohm", 50, "W"},
    {"1 A in V at 50 ohm", 50, "V"},
    {"10 mV @ 50 ohm in dBm", -26.98970004336019, "dBm"},
    {"10mV in dBm 50ohm", -26.98970004336019, "dBm"},
    {"2 Vpp square over 50 ohm", 0.02, "W"},
    {"10 Vpk pulse 10 % in V", 3.1622776601683795, "V"}, /* peak x sqrt duty */
    {"10 Vpk pulse of duty 0.25 in V", 5, "V"},
    {"-107 dBm in uV emf at 50 ohm", 1.9976297529666895, "uV"},
    {"-50 dBm in dBc from 10 dBm", -60, "dBc"},
    {"-50 dBm from 10 dBm", -60, "dBc"},
    {"1 mV in dBc from 1 V", -60, "dBc"},
    {"-40 dBm in dBc from 1 V at 50 ohm", -53.01029995663981, "dBc"},
    {"-60 dBc from 10 dBm", -50, "dBm"},
    {"-60 dBc of 1 V", 0.001, "V"},
    {"what is 3 dBm in mW?", 1.9952623149688795, "mW"},
    {"convert 3 dBm to mW", 1.9952623149688795, "mW"},
    {"power 10 W in dBm", 40, "dBm"},
    {"emf 1 V as pd", 0.5, "V"}, /* 6.02 dB */
    {"1 V emf as pd", 0.5, "V"},
    {"pd 0.5 V as emf", 1, "V"},
    {"emf 10 dBuV as pd", 3.979400086720376, "dBuV"},
    {"emf 1 V from 50 ohm into 75 ohm", 0.6, "V"},
    {"emf 1 V from 50 ohm into 75 ohm in W", 0.0048, "W"},
    {"emf 1 V in dBm at 50 ohm", 6.989700043360188, "dBm"}, /* available: 0.25 V^2/50 ohm */
};

static const row sums[] = {
    {"-12.3 dBm + 1.45 dB + 10 dB", -0.85, "dBm"},
    {"-12.3 dBm - 3 dB", -15.3, "dBm"},
    {"\xE2\x88\x92"
     "12.3 dBm \xE2\x88\x92 3 dB",
     -15.3, "dBm"},
    {"- 12.3 dBm minus 3 dB plus 1 dB", -14.3, "dBm"},
    {"3 dB + 10 dBm", 13, "dBm"},
    {"2 W + 3 dB", 3.990524629937759, "W"},
    {"1 V + 6 dB", 1.9952623149688795, "V"},
    {"20 dBm - 17 dBm", 3, "dB"},
    {"20 dBm - 0 dBW", -10, "dB"},
    {"60 dBuV - 0 dBm at 50 ohm", -46.98970004336019, "dB"},
    {"-140 dBm/Hz - -174 dBm/Hz", 34, "dB"},
    {"3 dBm and 3 dBm", 6.0102999566398125, "dBm"},         /* incoherent equals: 3.01 dB */
    {"3 dBm and 3 dBm in phase", 9.020599913279625, "dBm"}, /* coherent equals: 6.02 dB */
    {"3 dBm and 3 dBm at 90 deg", 6.0102999566398125, "dBm"},
    {"3 dBm and 3 dBm at 60 deg", 7.771212547196624, "dBm"},
    {"3 dBm at 30 deg and 3 dBm at -30 degrees", 7.771212547196624, "dBm"},
    {"3 dBm and 3 dBm at 60\xC2\xB0", 7.771212547196624, "dBm"},
    {"0 dBm and 0 dBm and 0 dBm and 0 dBm", 6.020599913279624, "dBm"},
    {"4000 dBm and 4000 dBm", 4003.010299956639812, "dBm"},
    {"10 W and 40 dBm", 20, "W"},
    {"0 W and 0 dBm in dBm", 0, "dBm"},
    {"0 W and 0 W", 0, "W"},
    {"1 V and 1 V in phase", 2, "V"},
    {"10 dBm less 3 dBm", 9.033471046737957, "dBm"}, /* 10 log10(10 - 10^0.3) */
    {"10 dBm less 0 W", 10, "dBm"},
    {"-90 dBm near -95 dBm", -91.65088538626769, "dBm"},
    {"-90 dBuV near -95 dBuV", -91.65088538626769, "dBuV"},
    {"mean of 3 dBm, 5 dBm, 4 dBm", 4.0764162973215265, "dBm"}, /* of powers, not of decibels (4) */
    {"mean of 3 dBm, 5 dBm and 4 dBm", 4.0764162973215265, "dBm"},
    {"mean of 3 dB, 5 dB, 4 dB", 4.0764162973215265, "dB"},
    {"mean of 10 dBuV, 20 dBuV, 1 mV", 55.229265150460584, "dBuV"},
    {"mean of 11 V, 13 V", 12, "V"},
    {"mean of 1, 2, 6", 3, ""},
    {"rms of 3 V, 4 V", 3.5355339059327378, "V"},
    {"10 V + 5 %", 10.5, "V"},
    {"sum of 3 dBm, 3 dBm", 6.0102999566398125, "dBm"},
    {"average of 3 dBm, 5 dBm, 4 dBm", 4.0764162973215265, "dBm"},
    {"20 dBm - 3 dB pad + 14 dB gain - 1.2 dB cable loss", 29.8, "dBm"},
};

static const row reflections[] = {
    {"swr 1.8 as return loss", 10.881360887005512, "dB"}, /* -20 log10(0.8/2.8) */
    {"1.8 SWR as return loss", 10.881360887005512, "dB"},
    {"vswr 1.8:1 as rl", 10.881360887005512, "dB"},
    {"return loss 14 dB as swr", 1.4985203496924142, "SWR"},
    {"14 dB return loss as swr", 1.4985203496924142, "SWR"},
    {"gamma 0.2 as swr", 1.5, "SWR"},
    {"swr 1.5 in gamma", 0.2, ""},
    {"gamma 0.2 as mismatch loss", 0.17728766960431586, "dB"}, /* -10 log10(0.96) */
    {"gamma 1e-9 as mismatch loss", 4.342944819032518e-18, "dB"},
    {"mismatch loss 0.17728766960431586 dB as gamma", 0.2, ""},
    {"75 ohm as swr at 50 ohm", 1.5, "SWR"},
    {"75 ohm in 50 ohm as return loss", 13.979400086720375, "dB"},
    {"return loss 14 dB through 3 dB", 20, "dB"}, /* RL + 2 x loss */
    {"return loss 14 dB behind 3 dB", 8, "dB"},   /* RL - 2 x loss */
    {"50 W forward, 2 W reflected", 0.2, ""},
    {"50 W fwd 2 W rev as swr", 1.5, "SWR"},
    {"swr of 50 W forward, 2 W back", 1.5, "SWR"},
    {"return loss of (swr 1.8 through 1.5 dB)", 13.881360887005512, "dB"},
    {"2 W reflected of 50 W forward as return loss", 13.979400086720375, "dB"},
    {"47 dBm forward and 33 dBm back as return loss", 14, "dB"},
    {"swr 1.8 through 1.5 dB", 1.5071146401274174, "SWR"},
    {"swr 1.8 behind 1.5 dB", 2.3533537247427825, "SWR"},
    {"swr 1 behind 1.5 dB", 1, "SWR"},
    {"swr 1.8 behind 1.5 dB through 1.5 dB", 1.8, "SWR"},
    {"20 dBm through 1.5 dB", 18.5, "dBm"},
    {"18.5 dBm behind 1.5 dB", 20, "dBm"},
};

static const row noises[] = {
    {"-100 dBm in 10 kHz as dBm/Hz", -140, "dBm/Hz"},
    {"-174 dBm/Hz in 10 kHz", -134, "dBm"},
    {"-174 dBm / Hz in 10 kHz in dBuV at 50 ohm", -27.01029995663981, "dBuV"},
    {"-100 dBm in 10 kHz in 1 MHz", -80, "dBm"},
    {"noise floor", -173.97518719422808, "dBm/Hz"}, /* k = 1.380649e-23 J/K (SI), 290 K */
    {"noise floor in 10 kHz with 6 dB", -127.97518719422811, "dBm"},
    {"noise floor in 1 MHz with 0.6 dB at 77 K", -117.80863787209256, "dBm"},
    {"noise floor in 1 Hz at 16.85 degC", -173.97518719422808, "dBm"},
    {"kTB in 10 kHz with 6 dB noise figure", -127.97518719422811, "dBm"},
    {"thermal noise", -173.97518719422808, "dBm/Hz"},
    {"noise of 1 kohm in 10 kHz", 4.0019405792690126e-07, "V"}, /* sqrt(4 k 290 R B) */
    {"10 m RG-213/U at 145 MHz", 0.8351611879882144, "dB"},     /* linear in the root of f, 6.8 and 14.4 dB per 100 m */
    {"loss of 10 m of rg-213/u at 100 MHz", 0.68, "dB"},
    {"20 dBm - 10 m RG-213/U at 100 MHz", 19.32, "dBm"},
};

static const row arithmetic[] = {
    {"12 V / 2.5 A", 4.8, "ohm"},
    {"12 V * 2.5 A", 30, "W"},
    {"12 V x 2.5 A", 30, "W"},
    {"12 V / 2k2", 12.0 / 2200, "A"},
    {"30 W / 12 V", 2.5, "A"},
    {"2.5 A * 4.8 ohm", 12, "V"},
    {"100 kohm * 100 uF", 10, "s"},
    {"30 W * 2 s", 60, "J"},
    {"1 / 1 kHz", 0.001, "s"},
    {"1 / 2 ms", 500, "Hz"},
    {"10 kHz * 2 ms", 20, ""},
    {"50 ohm parallel 75 ohm", 30, "ohm"},
    {"50 ohm || 75 ohm", 30, "ohm"},
    {"4k7 // 4k7", 2350, "ohm"},
    {"50 ohm in parallel with 75 ohm", 30, "ohm"},
    {"0 ohm parallel 0 ohm", 0, "ohm"},
    {"1 uF parallel 2 uF", 3e-6, "F"},
    {"10 % of 50 ohm", 5, "ohm"},
    {"10 % of 20 %", 2, "%"},
    {"12 V over 2 A", 6, "ohm"},
    {"1/(2*pi*1 kohm*100 nF)", 1591.5494309189535, "Hz"},
    {"145 MHz in m", 2.0675341931034484, "m"},
    {"2 m in MHz", 149.896229, "MHz"},
    {"2 + 3 * 4", 14, ""},
    {"(2 + 3) * 4", 20, ""},
    {"2 - 3 - 4", -5, ""},
    {"24 / 3 / 4", 2, ""},
    {"2-3", -1, ""},
    {"-(2 + 3)", -5, ""},
    {"- - 3", 3, ""},
    {"2 * (3 V + 1 V)", 8, "V"},
    {"3 * 2 dB", 6, "dB"},
    {"10 V / 4 V", 2.5, ""},
    {"5 % * 20 V", 1, "V"},
    {"2 W / 1 W as dB", 3.010299956639812, "dB"},
    {"2 V / 1 V as dB", 6.020599913279624, "dB"},
    {"3 dB as ratio", 1.9952623149688795, ""},
    {"3 dB as voltage ratio", 1.4125375446227544, ""},
    {"ratio 2 as dB", 3.010299956639812, "dB"},
    {"power ratio 2 as dB", 3.010299956639812, "dB"},
    {"voltage ratio 2 as dB", 6.020599913279624, "dB"},
    {"0.05 as %", 5, "%"},
    {"2 V + 300 mV in mV", 2300, "mV"},
    {"90 s in min", 1.5, "min"},
    {"1 MHz in GHz", 0.001, "GHz"},
    {"0 * -1", 0, ""},
    {"12", 12, ""},
    {" 3 dBm ", 3, "dBm"},
};

static void work_rows(const row *rows, size_t count)
{
	for (size_t i = 0; i < count; i++) {
		hs_worked worked;
		hs_error error = {0};
		hs_fault fault;
		if (!hs_expression_work(rows[i].text, strlen(rows[i].text), &worked, &fault, &error))
			fail_msg("%s: %s", rows[i].text, error.message);
		/* Relative, but for what is 0 or next to it after a subtraction of levels. */
		double slack = rows[i].value == 0 ? 1e-9 : 1e-9 * fabs(rows[i].value);
		if (!(fabs(worked.value - rows[i].value) <= slack))
			fail_msg("%s: got %.17g, want %.17g", rows[i].text, worked.value, rows[i].value);
		if (strcmp(worked.unit, rows[i].unit) != 0)
			fail_msg("%s: got the unit \"%s\", want \"%s\"", rows[i].text, worked.unit, rows[i].unit);
		assert_false(signbit(worked.value) && worked.value == 0);
		hs_worked_free(&worked);
	}
}

static void test_levels(void **state)
{
	(void)state;
	work_rows(levels, COUNT(levels));
}

static void test_sums(void **state)
{
	(void)state;
	work_rows(sums, COUNT(sums));
}

static void test_reflections(void **state)
{
	(void)state;
	work_rows(reflections, COUNT(reflections));
}

static void test_noises(void **state)
{
	(void)state;
	work_rows(noises, COUNT(noises));
}

static void test_arithmetic(void **state)
{
	(void)state;
	work_rows(arithmetic, COUNT(arithmetic));
}

static const struct {
	const char *text, *name, *message, *hint;
} refusals[] = {
    /* syntax */
    {"", "syntax", "the expression is empty", "write it like 0 dBm in dBuV at 50 ohm"},
    {"  ", "syntax", "the expression is empty", NULL},
    {"3 dBm and", "syntax", "the expression ends where a number with its unit was wanted", NULL},
    {"3 dBm in", "syntax", "the expression ends where a unit or a name such as \"return loss\" was wanted", NULL},
    {"sin 3", "syntax", "\"sin 3\" stands where a number with its unit was wanted", NULL},
    {"nan", "syntax", "\"nan\" stands where a number with its unit was wanted", NULL},
    {"inf", "syntax", "\"inf\" stands where a number with its unit was wanted", NULL},
    {"0x10 V", "syntax", "\"0x10 V\" is hexadecimal, and a decimal number was wanted", NULL},
    {"(1 + 2", "syntax", "the expression ends where a sign, a word such as \"in\", or a closing parenthesis was wanted",
     NULL},
    {"1 + 2)", "syntax", "\")\" stands where no closing parenthesis was wanted", NULL},
    {"12 34", "syntax", "\"34\" stands where a sign, a word such as \"in\", or the end was wanted", NULL},
    {"1,5 dB + 1 dB", "syntax", "\"1,5 dB + 1 dB\" has a comma in the number, and a decimal point was wanted",
     "write 1.5"},
    {"mean of 3,5 dBm", "syntax", "\"3,5 dBm\" has a comma in the number, and a decimal point was wanted", "write 3.5"},
    {"-100 dBm as dBm/Hz", "syntax", "from dBm to dBm/Hz a bandwidth is needed, and none was given",
     "say in what bandwidth, such as in 10 kHz"},
    {"-174 dBm/Hz in dBm", "syntax", "from dBm/Hz to dBm a bandwidth is needed, and none was given", NULL},
    {"noise of 1 kohm", "syntax", "the noise of a resistor needs a bandwidth, and none was given", NULL},
    {"10 m RG-213/U", "syntax", "the loss of a cable depends on frequency, and none was given", NULL},
    {"3 dBm in 10 kHz", "syntax", "a bandwidth is given, and nothing here depends on it", NULL},
    {"3 dBm at 90 deg", "syntax", "a phase is given, and nothing here depends on it", NULL},
    {"3 dBm in phase", "syntax", "a phase is given, and nothing here depends on it", NULL},
    {"3 dBm with 6 dB", "syntax", "a noise figure is given, and nothing here depends on it", NULL},
    {"3 dBm at 145 MHz", "syntax", "a frequency is given, and nothing here depends on it", NULL},
    {"3 dBm at 300 K", "syntax", "a temperature is given, and nothing here depends on it", NULL},
    {"3 dBm from 50 ohm", "syntax", "the resistance of a source is given, and nothing here depends on it", NULL},
    {"0 dBm at 50 ohm in V at 75 ohm", "syntax", "the impedance is given twice", NULL},
    {"5 V pulse 10 % in V", "syntax", "a waveform is given, and nothing here depends on it",
     "peaks depend on it: write Vpp or Vpk"},
    {"-40 dBm from 2 Vpp square at 50 ohm", "syntax", "a waveform is given, and nothing here depends on it", NULL},
    {"2 Vpp square and 1 V in phase", "syntax", "a waveform is given, and nothing here depends on it", NULL},
    {"-50 dBm in dBc", "syntax", "the expression ends where the carrier, such as from 10 dBm, was wanted", NULL},
    {"50 W forward", "syntax", "the expression ends where the reflected power was wanted", NULL},
    {"50 W forward 2 W", "syntax", "the expression ends where \"reflected\" was wanted", NULL},
    /* unit */
    {"0 dBm in dBuV at 50", "unit",
     "\"at\" is followed by 50, and an impedance, a frequency, an angle or a temperature was wanted",
     "say the unit, such as at 50 ohm"},
    {"3 dBm in foo", "unit", "\"foo\" is no unit and no name that is known here", NULL},
    {"3 dBm in \xC2\xB5x", "unit", "\"\xC2\xB5x\" is no unit and no name that is known here", NULL},
    {"20 dBm - 3", "unit", "3 cannot be taken from 20 dBm", "say the unit of both, such as 3 dB"},
    {"2k2 + 330", "unit", "330 cannot be added to 2200 ohm", "say the unit of both, such as 330 ohm"},
    {"3 W of 2 W", "unit", "3 W and 2 W do not go with \"of\"",
     "write 10 % of 50 ohm, -60 dBc from 10 dBm, or -50 dBm in dBc from 10 dBm"},
    {"3 ohm parallel 3 V", "unit", "3 ohm and 3 V cannot stand in parallel: two resistances were wanted", NULL},
    {"100 mW / 50 ohm", "unit", "0.1 W cannot be divided by 50 ohm",
     "write 12 V into 50 ohm for the power, 1 W into 50 ohm for the voltage, or add \"as A\""},
    {"swr 2 over 50 ohm", "unit", "a load stands behind 2 SWR, and a voltage, a current or a power was wanted", NULL},
    {"5 zz", "unit", "\"5 zz\" has the unit \"zz\", which is not known, and a plain number was wanted", NULL},
    {"12.5 dBm V", "unit", "after \"12.5 dBm\" there is another unit, \"V\", and one was wanted", NULL},
    {"3 dBm + 3 dBm", "unit", "3 dBm + 3 dBm would add decibels of two levels, which is the sum of nothing",
     "write \"and\" to add their powers: 3 dBm and 3 dBm"},
    {"3 dBm + 1 W", "unit", "3 dBm + 1 W would add decibels of two levels, which is the sum of nothing", NULL},
    {"3 dBm * 2", "unit", "3 dBm cannot be multiplied by 2",
     "a level is moved by decibels: twice the power is + 3.01 dB"},
    {"3 V + 2 A", "unit", "2 A cannot be added to 3 V", NULL},
    {"3 V - 2 A", "unit", "2 A cannot be taken from 3 V", NULL},
    {"3 V / 2 Hz", "unit", "3 V cannot be divided by 2 Hz", NULL},
    {"20 dBm - 1 W", "unit", "1 W cannot be taken from 20 dBm",
     "convert one into the unit of the other, or write \"less\" to take a power away"},
    {"10 dBm in kHz", "unit", "10 dBm cannot be said in Hz", NULL},
    {"2 as dB", "unit", "2 cannot be said in dB", "write ratio 2 for a ratio of powers, voltage ratio 2 for voltages"},
    {"14 dB as swr", "unit", "14 dB is not known to be a reflection",
     "write swr 1.8, return loss 14 dB, gamma 0.2 or mismatch loss 0.2 dB"},
    {"swr 1.8 + swr 2", "unit", "2 SWR cannot be added to 1.8 SWR", NULL},
    {"swr 1.8 and swr 2", "unit", "1.8 SWR is not a power or a voltage that could be added", NULL},
    {"3 dB and 3 dB", "unit", "3 dB is not a power or a voltage that could be added", "write + for plain arithmetic"},
    {"2 Vpp and 2 Vpp", "unit", "2 Vpp is a peak, and peaks of unlike signals do not add as powers", NULL},
    {"mean of swr 2, swr 3", "unit", "2 SWR is a reflection, and those have no mean", NULL},
    {"mean of 1 V, 2 A", "unit", "1 V and 2 A have no mean", NULL},
    {"rms of 1 W, 2 W", "unit", "the root of the mean square is of voltages or currents, and 1 W was given", NULL},
    {"return loss 14 as swr", "unit", "14 stands where a number in dB was wanted", NULL},
    {"swr 1.8 through 2 V", "unit", "\"through\" is followed by 2 V, and a loss in dB was wanted", NULL},
    {"3 ohm through 2 dB", "unit", "3 ohm goes through no line: a reflection, a power or a voltage was wanted", NULL},
    {"0 dBm in V at 50 s", "unit",
     "\"at\" is followed by 50 s, and an impedance, a frequency, an angle or a temperature was wanted", NULL},
    /* impedance */
    {"0 dBm in dBuV", "impedance", "from dBm to dBuV an impedance is needed, and none was given",
     "say in what impedance, such as 50 ohm"},
    {"3 dBm and 1 V", "impedance", "from V to dBm an impedance is needed, and none was given", NULL},
    {"0 dBm in V at 0 ohm", "impedance", "an impedance of 0 ohm was given, and one above 0 ohm is wanted", NULL},
    {"0 dBm in V at -50 ohm", "impedance", "an impedance of -50 ohm was given, and one above 0 ohm is wanted", NULL},
    {"75 ohm as swr", "impedance", "a reflection of 75 ohm needs the impedance of the line, and none was given", NULL},
    {"emf 1 V into 50 ohm", "impedance",
     "what an EMF leaves on a load needs the resistance of its source, and none was given",
     "write it like emf 1 V from 50 ohm into 75 ohm"},
    {"1 A in W", "impedance", "from A to W an impedance is needed, and none was given", NULL},
    {"-40 dBm in dBc from 1 V", "impedance", "from V to dBm an impedance is needed, and none was given", NULL},
    /* range */
    {"1e400 V", "range", "the number \"1e400 V\" is too large to calculate with", NULL},
    {"1e308 kV", "range", "the number \"1e308 kV\" is too large to calculate with", NULL},
    {"1e308 * 10", "range", "the result lies outside the range of numbers", NULL},
    {"1e308 W and 1e308 W", "range", "the sum lies outside the range of numbers", NULL},
    {"1e-200 * 1e-200", "range", "the result is too small to be a number", NULL},
    {"5000 dBm in W", "range", "5000 dBm is too large to be written in W", "stay in decibels"},
    {"-5000 dBm in W", "range", "-5000 dBm is too small to be written in W", NULL},
    {"-9000 dB as ratio", "range", "-9000 dB is too small to be written as a ratio", NULL},
    /* table */
    {"10 m RG-213/U at 5 GHz", "table", "no loss known at 5 GHz: the table runs from 10 MHz to 3 GHz", NULL},
    {"10 m RG-999 at 1 GHz", "table", "there is no table for the cable type \"RG-999\"",
     "known are RG-58C/U, RG-213/U, RG-316/U, RG-405, RG-402"},
    /* null */
    {"3 dBm and 3 dBm at 180 deg", "null", "the tones cancel to an exact null, which has no level", NULL},
    {"0 dBm and 0 dBm at 120 deg and 0 dBm at 240 deg", "null", "the tones cancel to an exact null, which has no level",
     NULL},
    /* domain */
    {"0 W in dBm", "domain", "0 W has no level in decibels", NULL},
    {"-1 V in dBuV", "domain", "less than 0 V has no level in decibels", NULL},
    {"-1 W in V at 50 ohm", "domain", "a power below 0 W has no voltage", NULL},
    {"-5 V and 3 V", "domain", "-5 V has no power to add", NULL},
    {"3 dBm less 3 dBm", "domain", "the total is not above the part: 0 dB over it", NULL},
    {"-95 dBm near -95 dBm", "domain",
     "a reading of -95 dBm is not above the noise of -95 dBm, so no signal can be told", NULL},
    {"swr 0.5", "domain", "the SWR is 0.5; it must be at least 1", NULL},
    {"0.5 SWR", "domain", "the SWR is 0.5; it must be at least 1", NULL},
    {"- 2 SWR", "domain", "the SWR is -2; it must be at least 1", NULL},
    {"swr 1 as return loss", "domain", "an SWR of 1 is a perfect match, which has no return loss in decibels", NULL},
    {"gamma 1.2", "domain", "the magnitude of gamma is 1.2; it must lie between 0 and 1", NULL},
    {"gamma 1 as swr", "domain", "full reflection (gamma 1) has no finite SWR", NULL},
    {"return loss -14 dB as swr", "domain", "the return loss is -14 dB; it must be at least 0 dB",
     "a return loss is positive: write 20 dB, not -20 dB"},
    {"return loss 5 dB behind 3 dB", "domain",
     "the measured return loss is below twice the loss: at the far end 1 dB more would be reflected than arrives",
     NULL},
    {"swr 1.8 through -1 dB", "domain", "the loss of the line is -1 dB; it must be at least 0 dB", NULL},
    {"1 V / 0 A", "domain", "1 V is divided by 0, which has no answer", NULL},
    {"50 W forward 60 W reflected", "domain",
     "reflected is above forward after the correction: at the far end 0.791812 dB more would be reflected than arrives",
     NULL},
    {"-5 ohm parallel 5 ohm", "domain", "the first in parallel is -5 ohm; it must be at least 0 ohm", NULL},
    {"0 Hz in m", "domain", "the frequency is 0 Hz; it must be above 0 Hz", NULL},
    {"10 V pk pulse 120 % in V", "domain", "the duty of a pulse is 1.2, and more than 0 up to 1 was wanted", NULL},
    {"0 / 0", "domain", "0 is divided by 0, which has no answer", NULL},
    {"ratio 0 as dB", "domain", "a ratio of 0 has no value in decibels", NULL},
    {"noise floor in 1 Hz at 0 K", "domain", "at 0 K and a noise figure of 0 dB there is no noise, which has no level",
     NULL},
    {"noise floor in 0 Hz", "domain", "the bandwidth is 0 Hz; it must be above 0 Hz", NULL},
    {"noise floor at -300 degC", "domain", "the temperature in kelvin is -26.85; it must be at least 0", NULL},
};

static void test_refusals(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(refusals); i++) {
		hs_worked worked = {.value = 42};
		hs_error error = {0};
		hs_fault fault = HS_FAULT_COUNT;
		if (hs_expression_work(refusals[i].text, strlen(refusals[i].text), &worked, &fault, &error))
			fail_msg("%s: gave %g %s", refusals[i].text, worked.value, worked.unit);
		if (strcmp(hs_fault_name(fault), refusals[i].name) != 0 ||
		    strcmp(error.message, refusals[i].message) != 0)
			fail_msg("%s: got %s, \"%s\"; want %s, \"%s\"", refusals[i].text, hs_fault_name(fault),
			         error.message, refusals[i].name, refusals[i].message);
		if (refusals[i].hint)
			assert_string_equal(error.hint, refusals[i].hint);
		assert_int_equal(error.code, HS_BAD_INPUT);
		assert_true(worked.value == 42);
	}
}

/* Every class has a row above, so that none is a name without a case. */
static void test_every_class_is_met(void **state)
{
	(void)state;
	for (int fault = 0; fault < HS_FAULT_COUNT; fault++) {
		bool met = false;
		for (size_t i = 0; i < COUNT(refusals); i++)
			met = met || strcmp(refusals[i].name, hs_fault_name((hs_fault)fault)) == 0;
		if (!met)
			fail_msg("no row for %s", hs_fault_name((hs_fault)fault));
	}
}

static const struct {
	const char *text, *shown, *steps;
} printed[] = {
    {"0 dBm in dBuV at 50 ohm", "106.99 dBuV", "dBuV = dBm + 90 + 10 log10(Z), Z = 50 ohm: 0 dBm = 106.99 dBuV\n"},
    {"50 W in dBm", "46.99 dBm", "dBm = 10 log10(W) + 30: 50 W = 46.9897 dBm\n"},
    {"10 dBm in W", "10 mW", "W = 10^((dBm - 30)/10): 10 dBm = 0.01 W\n"},
    {"10 dBm in uW", "10000 uW", "W = 10^((dBm - 30)/10): 10 dBm = 0.01 W\n"},
    {"12 V into 50 ohm", "2.88 W", "W = V^2/Z, Z = 50 ohm: 12 V = 2.88 W\n"},
    {"2 Vpp in dBm at 50 ohm", "10 dBm",
     "dBm = 20 log10(V) + 30 - 10 log10(Z), Vpp = 2 x 1.41421 x V rms of a sine, Z = 50 ohm: 2 Vpp = 10 dBm\n"},
    {"3 dBm and 3 dBm", "6.01 dBm (powers added)",
     "powers add, 10 log10(sum of 10^(dB/10)): 3 dBm and 3 dBm = 6.0103 dBm\n"},
    {"3 dBm and 3 dBm in phase", "9.02 dBm (voltages added)",
     "voltages add as arrows, 20 log10|sum of 10^(dB/20) at its angle|: 3 dBm at 0 deg and 3 dBm at 0 deg = 9.0206 "
     "dBm\n"},
    {"swr 1.8 as return loss", "10.88 dB (return loss)",
     "gamma = (SWR - 1)/(SWR + 1): 1.8 SWR = gamma 0.285714\n"
     "RL = -20 log10(gamma): gamma 0.285714 = return loss 10.8814 dB\n"},
    {"return loss 14 dB through 3 dB", "20 dB (return loss seen through 3 dB of line)",
     "the wave passes the line twice, RL + 2 x loss: return loss 14 dB = return loss 20 dB\n"},
    {"return loss 14 dB behind 3 dB", "8 dB (return loss at the far end, behind 3 dB of line)",
     "the wave passes the line twice, RL - 2 x loss: return loss 14 dB = return loss 8 dB\n"},
    {"-100 dBm in 10 kHz as dBm/Hz", "-140 dBm/Hz",
     "dBm/Hz = dBm - 10 log10(B), B = 10000 Hz: -100 dBm = -140 dBm/Hz\n"},
    {"3 dB as ratio", "1.995 (power ratio)", "power ratio = 10^(dB/10): 3 dB = 1.99526\n"},
    {"12 V * 2.5 A", "30 W", "W = V x A: 12 V x 2.5 A = 30 W\n"},
    {"emf 1 V as pd", "0.5 V (PD)", "pd = emf/2 on a matched load, -6.0206 dB: emf 1 V = 0.5 V\n"},
    {"1 m", "1 m", ""},
    {"12 V at 50 ohm", "12 V (the impedance changes nothing here)", ""},
    {"-40 dBm from 1 V at 50 ohm", "-53.01 dBc",
     "dBm = 20 log10(V) + 30 - 10 log10(Z), Z = 50 ohm: 1 V = 13.0103 dBm\n"
     "dBc = level - carrier: -40 dBm from 1 V = -53.0103 dBc\n"},
    {"12 V over 50 ohm as A", "0.24 A", "A = V/Z, Z = 50 ohm: 12 V = 0.24 A\n"},
    {"50 W forward 2 W back as swr", "1.5 SWR",
     "gamma = sqrt(reflected/forward): 2 W back of 50 W = gamma 0.2\n"
     "SWR = (1 + gamma)/(1 - gamma): gamma 0.2 = 1.5 SWR\n"},
};

static void test_printed_with_steps(void **state)
{
	(void)state;
	for (size_t i = 0; i < COUNT(printed); i++) {
		hs_worked worked;
		hs_fault fault;
		hs_error error = {0};
		hs_buf text;
		hs_buf_init(&text);
		assert_true(hs_expression_work(printed[i].text, strlen(printed[i].text), &worked, &fault, &error));
		hs_worked_print(&text, &worked);
		assert_string_equal(text.data, printed[i].shown);
		assert_string_equal(worked.steps.data, printed[i].steps);
		hs_buf_free(&text);
		hs_worked_free(&worked);
	}
}

static void refused_as(const char *text, size_t length, const char *message)
{
	hs_worked worked;
	hs_error error = {0};
	hs_fault fault = HS_FAULT_COUNT;
	bool good = hs_expression_work(text, length, &worked, &fault, &error);
	assert_refused(good, &error, message);
	assert_int_equal(fault, HS_FAULT_SYNTAX);
}

static void test_hostile_bytes(void **state)
{
	(void)state;
	refused_as("3 dBm\0 and 3 dBm", 16,
	           "byte 6 of the expression is the control character U+0000, and text was wanted");
	refused_as("3\033[2J dBm", 10, "byte 2 of the expression is the control character U+001B, and text was wanted");
	refused_as("3 dBm\n", 6, "byte 6 of the expression is the control character U+000A, and text was wanted");
	refused_as("3 dBm \xff", 7, "the expression is not UTF-8 text");
	char longer[HS_EXPRESSION_MOST + 2];
	memset(longer, '1', sizeof longer);
	refused_as(longer, HS_EXPRESSION_MOST + 1, "the expression has 4097 bytes, and at most 4096 are taken");
	/* Only `length` bytes count. */
	hs_worked worked;
	hs_fault fault;
	assert_true(hs_expression_work("3 dBmX", 5, &worked, &fault, NULL));
	assert_near(worked.value, 3);
	hs_worked_free(&worked);
}

static void test_depth(void **state)
{
	(void)state;
	char text[HS_EXPRESSION_MOST];
	size_t depth = HS_EXPRESSION_DEPTH_MOST;
	hs_worked worked;
	hs_fault fault;
	memset(text, '(', depth);
	text[depth] = '7';
	memset(text + depth + 1, ')', depth);
	assert_true(hs_expression_work(text, 2 * depth + 1, &worked, &fault, NULL));
	assert_near(worked.value, 7);
	hs_worked_free(&worked);
	static const char deep[] = "parentheses and signs stand more than 64 deep in each other";
	memset(text, '(', sizeof text);
	refused_as(text, sizeof text, deep);
	for (size_t i = 0; i + 1 < sizeof text; i += 2)
		memcpy(text + i, "- ", 2);
	refused_as(text, sizeof text, deep);
	/* A long chain is not a deep one. */
	for (size_t i = 0; i + 1 < sizeof text; i += 2)
		memcpy(text + i, "1+", 2);
	text[sizeof text - 1] = ' ';
	text[sizeof text - 2] = '1';
	text[sizeof text - 3] = '+';
	assert_true(hs_expression_work(text, sizeof text, &worked, &fault, NULL));
	assert_near(worked.value, sizeof text / 2);
	hs_worked_free(&worked);
}

static void test_decimal_comma_locale(void **state)
{
	(void)state;
	assert_true(comma_locale_set());
	work_rows(levels, COUNT(levels));
	hs_worked worked;
	hs_fault fault;
	hs_buf text;
	hs_buf_init(&text);
	assert_true(hs_expression_work("1.5 V in mV", 11, &worked, &fault, NULL));
	hs_worked_print(&text, &worked);
	setlocale(LC_ALL, "C");
	assert_string_equal(text.data, "1500 mV");
	hs_buf_free(&text);
	hs_worked_free(&worked);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(test_levels),
	    cmocka_unit_test(test_sums),
	    cmocka_unit_test(test_reflections),
	    cmocka_unit_test(test_noises),
	    cmocka_unit_test(test_arithmetic),
	    cmocka_unit_test(test_refusals),
	    cmocka_unit_test(test_every_class_is_met),
	    cmocka_unit_test(test_printed_with_steps),
	    cmocka_unit_test(test_hostile_bytes),
	    cmocka_unit_test(test_depth),
	    cmocka_unit_test(test_decimal_comma_locale),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
