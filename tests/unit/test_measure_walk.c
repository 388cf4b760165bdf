/*
 * Every function of the measurement library in Lua, every argument of it, with everything that an argument must not be:
 * each call ends in one sentence at the author's line, and never in a number.
 */
#include "measure_bench.h"

/*
 * A call that answers, with its arguments marked <FLAGS:VALUE>. A plain one is a number that may not be below 0.
 * n may be below 0; i may be infinite; u any unit will do; o may be left out;
 * t a word out of a few; w any text; e may be empty; g a quantity with its unit; l a list or a table; f a function; x a
 * network.
 */
static const char *const calls[] = {
    "quantity(<tg:'3 dBm'>, <ote:'W'>)",
    "show(<nug:3>, <ote:'dBm'>, <o:2>)",
    "level.convert(<n:'0 dBm'>, <t:'dBuV'>, <:50>, <ot:'sine'>)",
    "level.convert('1 Vpk', 'V', nil, { 'pulse', duty = <:0.1> })",
    "level.convert('1 Vpk', 'V', nil, { 'noise', sigmas = <:3> })",
    "level.add({ <n:'0 dBm'>, <no:3> }, <ot:'dBuV'>, <:50>)",
    "level.add(<l:{ 1, 2 }>)",
    "level.mean({ <n:'0 dBm'>, <no:3> }, <ot:'dBuV'>, <:50>)",
    "level.mean(<l:{ 1, 2 }>)",
    "level.subtract(<n:'10 dBm'>, <n:-400>, <ot:'dBuV'>, <:50>)",
    "level.add_coherent({ { <n:'0 dBm'>, <on:90> }, { <n:3>, <on:10> } }, <ot:'dBuV'>, <:50>)",
    "level.add_coherent(<l:{ { 1, 2 }, { 3 } }>)",
    "level.over(<n:'1 V'>, <n:'0 dBm'>, <:50>)",
    "level.from_over(<n:3>, <n:-43>)",
    "level.shift(<n:'2 dBm'>, <n:3>)",
    "level.density(<n:-100>, <:1e4>)",
    "level.of_density(<n:-140>, <:1e4>)",
    "level.in_bandwidth(<n:-80>, <:1e3>, <:1e5>)",
    "level.pulse_power(<n:'10 W'>, <:0.1>)",
    "level.pd_of_emf(<n:2>)",
    "level.emf_of_pd(<n:2>)",
    "level.pd_into(<n:2>, <:50>, <:75>)",
    "level.available_power(<:2>, <:50>)",
    "level.crest(<ot:'triangle'>)",
    "level.crest_db(<ot:'triangle'>)",
    "level.form(<ot:'triangle'>)",
    "level.form{ 'pulse', duty = <:0.1> }",
    "reflection.gamma_of_polar(<:0.5>, <n:90>)",
    "reflection.polar_of_gamma{ re = <n:0.3>, im = <n:0.4> }",
    "reflection.polar_of_gamma(<l:{ 0.3, 0.4 }>)",
    "reflection.gamma_of_impedance({ re = <n:25>, im = <n:10> }, <:50>)",
    "reflection.impedance_of_gamma({ re = <n:0.2>, im = <n:0.1> }, <:50>)",
    "reflection.return_loss_of_rho(<:0.1>)",
    "reflection.rho_of_return_loss(<:14>)",
    "reflection.swr_of_rho(<:0.2>)",
    "reflection.rho_of_swr(<:3>)",
    "reflection.swr_of_return_loss(<:20>)",
    "reflection.return_loss_of_swr(<:1.5>)",
    "reflection.mismatch_loss_of_rho(<:0.5>)",
    "reflection.rho_of_mismatch_loss(<:1>)",
    "reflection.mismatch_limits(<:0.3>, <:0.2>)",
    "reflection.mismatch_standard(<:0.1>, <:0.2>, <t:'known'>)",
    "reflection.power_ratio_db(<:0.1>)",
    "reflection.return_loss_before(<:20>, <:3>)",
    "reflection.return_loss_beyond(<:20>, <:3>)",
    "reflection.loss_of_open_end(<:6>)",
    "reflection.gamma_through({ re = <n:0.5>, im = <n:0> }, <:3>, <n:45>)",
    "reflection.rho_of_powers(<n:400>, <n:3>, <o:1>)",
    "reflection.delivered_power(<n:'100 W'>, <:0.5>)",
    "reflection.return_loss_bounds(<:20>, <:40>)",
    "cascade.factor{ gain = <n:10>, nf = <:3> }",
    "cascade.factor{ loss = <:3>, kelvin = <o:100> }",
    "cascade.factor(<l:{ loss = 3 }>)",
    "cascade.temperature_of_nf(<:3>)",
    "cascade.nf_of_temperature(<:290>)",
    "cascade.total{ { gain = <n:20>, nf = <:3>, p1db = <on:10>, oip3 = <on:20>, name = <owe:'A1'> }, { loss = <:6> } }",
    "cascade.total(<l:{ { loss = 1 } }>)",
    "cascade.levels({ { gain = <n:20>, nf = <:3>, p1db = <on:10> }, { loss = <:6>, kelvin = <o:300> } }, <n:-20>, <o:1e4>)",
    "cascade.levels(<l:{ { loss = 1 } }>, 0)",
    "cascade.text({ { gain = <n:20>, nf = <:3>, p1db = <on:10> }, { loss = <:6> } }, <n:-20>)",
    "cascade.text(<l:{ { loss = 1 } }>, 0)",
    "cascade.im3(<n:0>, <:20>)",
    "cascade.spurious_free_range(<n:20>, <n:-400>)",
    "cascade.nf_of_y(<:15>, <:10>)",
    "cascade.mix(<:145e6>, <:134.3e6>, <ot:'sum'>)",
    "cascade.oscillator(<:145e6>, <:10.7e6>, <t:'high'>)",
    "cascade.harmonic(<:7e6>, <:3>)",
    "cascade.harmonics_within(<:7e6>, <:14e6>, <:30e6>)",
    "cascade.spurs(<:145e6>, <:134.3e6>, <:3>, <:0>, <:1e9>)",
    "cascade.spur_inputs(<:134.3e6>, <:10.7e6>, <:3>, <:0>, <:1e9>)",
    "noise.floor(<:1e4>, <o:3>, <o:300>)",
    "noise.resistor(<:1e3>, <:1e4>, <o:300>)",
    "noise.signal(<n:10>, <n:-400>)",
    "noise.detector_correction(<t:'rms'>)",
    "noise.bandwidth_ratio(<:4>)",
    "noise.density(<n:-90>, <t:'voltage average'>, <:1e3>, <:1.1>)",
    "coax.law(<:0.5>, <:0.01>, <o:100>)",
    "coax.law_loss({ k1 = <:1e-6>, k2 = <:1e-11> }, <:1e8>, <:3>)",
    "coax.law_loss(<l:coax.law(1, 0)>, 1e8, { length = <:3>, celsius = <on:40>, connectors = <o:2>, connector_db = "
    "<:0.1> })",
    "coax.table{ { <:1e8>, <:6.8>, <w:'ours'> }, { <:4e8>, <:14.4>, <w:'ours'> } }",
    "coax.table(<l:{ { 1e8, 6.8, 'ours' } }>)",
    "coax.table_loss({ { <:1e8>, <:6.8> }, { <:4e8>, <:14.4> } }, <:2e8>, <:50>, <o:100>)",
    "coax.table_loss({ { 1e8, 6.8 }, { 4e8, 14.4 } }, 2e8, 50, 100, <ol:coax.law(1, 0)>)",
    "coax.table_loss(<l:{ { 1e8, 6.8 }, { 4e8, 14.4 } }>, 2e8, 50)",
    "coax.fit({ { <:1e8>, <:6.8> }, { <:4e8>, <:14.4> } }, <o:100>)",
    "coax.fit(<l:{ { 1e8, 6.8 }, { 4e8, 14.4 } }>)",
    "coax.type_loss(<t:'RG-213/U'>, <:1e8>, <:10>, <ol:coax.law(1, 0)>)",
    "#coax.types()",
    "uncertainty.type_a{ <nu:1>, <nu:2> }",
    "uncertainty.type_a(<l:{ 1, 2 }>)",
    "uncertainty.correlation({ <nu:1>, <nu:2>, <nu:4> }, { <nu:3>, <nu:7>, <nu:4> })",
    "uncertainty.correlation(<l:{ 1, 2 }>, <l:{ 3, 4 }>)",
    "uncertainty.dof_of_doubt(<:0.25>)",
    "uncertainty.welch_satterthwaite({ <u:1>, <u:2> }, { <i:4>, <i:9> })",
    "uncertainty.welch_satterthwaite(<l:{ 1 }>, <l:{ 4 }>)",
    "uncertainty.student_coverage(<:2>, <oi:5>)",
    "uncertainty.student_factor(<:0.95>, <oi:5>)",
    "uncertainty.sensitivity(<f:function(x) return x[1] * 2 end>, { <n:3>, <no:2> }, <:1>, <:0.1>)",
    "uncertainty.sensitivity(function(x) return 1 end, <l:{ 3, 2 }>, 1, 0.1)",
    "uncertainty.decide(<t:'1 V .. 2 V'>, <n:1.5>, <:0.1>, <ot:'guarded'>, <o:2>)",
    "uncertainty.divisor(<t:'rectangular'>)",
    "uncertainty.combine{ { <we:'a'>, value = <on:'1 V'>, half_width = <:'0.1 V'>, shape = <t:'standard'>, divisor = "
    "<o:3>, "
    "sensitivity = <on:-2>, dof = <oi:5> }, { 'b', half_width = '1 V', shape = 'standard' }, result = <onu:'1 V'>, "
    "correlations = { { <:1>, <:2>, <n:0.5> } } }",
    "uncertainty.combine(<l:{ { 'a', half_width = 1, shape = 'standard' } }>)",
    "uncertainty.text{ { <we:'a'>, value = <on:'1 V'>, half_width = <:'0.1 V'>, shape = <t:'standard'> } }",
    "uncertainty.text(<l:{ { 'a', half_width = 1, shape = 'standard' } }>)",
    "uncertainty.false_accept_most(<u:2>, <u:1>)",
    "uncertainty.guard_for(<:0.1>, <u:1>)",
    "meter.loading_percent(<:1e6>, <:1e7>)",
    "meter.unloaded(<nu:10>, <:1e6>, <:1e7>)",
    "meter.burden_percent(<:100>, <:1>)",
    "meter.divider_source(<:9e3>, <:1e3>)",
    "meter.divider_ratio(<:9e3>, <:1e3>)",
    "meter.probe(<:1e7>, <:1e-11>, <:50>, <:1e8>)",
    "meter.average_responding_percent(<ot:'square'>)",
    "meter.peak_responding_percent(<ot:'square'>)",
    "meter.true_rms(<u:1>, <ot:'square'>)",
    "meter.crest_fits(<ot:'square'>, <u:1>, <u:2>, <:3>)",
    "meter.resolution_standard(<u:0.01>)",
    "meter.half_width(<nu:100>, <:0.5>, <:3>, <u:0.1>)",
    "meter.two_wire(<:0.5>, <:0.2>, <o:0.05>)",
    "meter.two_wire_decides(<:10>, <:5>, <:0.02>)",
    "#network.open(<t:'amp.s2p'>, <o:2>):freqs()",
    "network.info(<x:network.open('amp.s2p')>)",
    "network.freqs(<x:network.open('amp.s2p')>)",
    "network.find(<x:network.open('amp.s2p')>, <:1e8>)",
    "network.value(<x:network.open('amp.s2p')>, <:2>, <:1>, <:1e8>)",
    "network.db(<x:network.open('amp.s2p')>, <:2>, <:1>, <:1e8>)",
    "network.reference(<x:network.open('amp.s2p')>, <o:2>)",
    "network.loss(<x:network.open('amp.s2p')>, <:2e8>, <o:2>, <o:1>)",
    "network.noise(<x:network.open('amp.s2p')>)",
};

typedef struct hostile {
	const char *value;
	const char *spared; /* by these flags */
} hostile;

static const hostile numbers[] = {
    {"0/0", "tw"},           {"1/0", "tiw"},  {"-1/0", "tw"},  {"true", ""},          {"{}", ""},
    {"function() end", "f"}, {"'12,5'", "w"}, {"''", "e"},     {"'nan'", "w"},        {"'-inf'", "w"},
    {"'0x10'", "w"},         {"'abc'", "w"},  {"-1", "nlwg"},  {"-1e300", "nlwg"},    {"'1 parsec'", "w"},
    {"'1 g'", "uwg"},        {"nil", "o"},    {"'1 \\0'", ""}, {"1e308 * 10", "tiw"},
};

/* The call with mark number `which` replaced, or all as they stand when there is none so; false past the last. */
static bool fill_in(const char *call, size_t which, const char *value, char *out, size_t size, char flags[8])
{
	size_t mark = 0, used = 0;
	bool found = false;
	for (const char *at = call; *at; at++) {
		/* A mark: "<", small letters, ":". */
		size_t letters = *at == '<' ? strspn(at + 1, "abcdefghijklmnopqrstuvwxyz") : 0;
		if (*at != '<' || at[1 + letters] != ':') {
			used += (size_t)snprintf(out + used, size - used, "%c", *at);
			continue;
		}
		const char *inside = at + letters + 2, *end = strchr(inside, '>');
		assert_non_null(end);
		if (mark++ == which) {
			found = true;
			snprintf(flags, 8, "%.*s", (int)letters, at + 1);
			used += (size_t)snprintf(out + used, size - used, "%s", value);
		} else {
			used += (size_t)snprintf(out + used, size - used, "%.*s", (int)(end - inside), inside);
		}
		at = end;
	}
	assert_true(used < size);
	return found;
}

static size_t failures;

/* A sentence that a person can read, at the author's line, of the class that says the input is wrong. */
static void must_refuse(const char *call)
{
	char text[640];
	hs_error error = {0};
	snprintf(text, sizeof text, "\nreturn %s", call);
	char *got = calc_text(text, &error);
	const char *what = got                                                     ? got
	                   : error.code != HS_BAD_INPUT                            ? "another class"
	                   : error.line != 2 || strcmp(error.file, "try.lua") != 0 ? "another place"
	                   : strlen(error.message) < 12                            ? "no sentence"
	                   : strstr(error.message, "attempt to")                   ? "a programmer's words"
	                                                                           : "";
	if (*what) {
		print_error("%s: %s (%d %s:%d: %s)\n", call, what, (int)error.code, error.file, error.line,
		            error.message);
		failures++;
	}
	free(got);
}

static void every_argument_is_watched(void **state)
{
	(void)state;
	char call[512], flags[8] = "";
	size_t tried = 0;
	failures = 0;
	for (size_t i = 0; i < COUNT(calls); i++) {
		for (size_t mark = 0; fill_in(calls[i], mark, "nil", call, sizeof call, flags); mark++) {
			for (size_t h = 0; h < COUNT(numbers); h++) {
				if (flags[strcspn(flags, numbers[h].spared)])
					continue;
				fill_in(calls[i], mark, numbers[h].value, call, sizeof call, flags);
				must_refuse(call);
				tried++;
			}
		}
	}
	assert_int_equal(failures, 0);
	assert_true(tried > 4000);
}

/* Numbers that are numbers, and too large or too small for what is asked: what comes out is one too, or is refused. */
static void the_ends_of_the_range_give_numbers_or_sentences(void **state)
{
	(void)state;
	static const char *const ends[] = {"1e308", "1e300", "1e-300", "5e-324", "0", "-0.0"};
	char call[512], flags[8] = "", text[640];
	failures = 0;
	for (size_t i = 0; i < COUNT(calls); i++) {
		for (size_t mark = 0; fill_in(calls[i], mark, "nil", call, sizeof call, flags); mark++) {
			for (size_t e = 0; e < COUNT(ends); e++) {
				hs_error error = {0};
				fill_in(calls[i], mark, ends[e], call, sizeof call, flags);
				snprintf(text, sizeof text, "return %s", call);
				char *got = calc_text(text, &error);
				/* Degrees of freedom are infinite by right. */
				char *dof = got ? strstr(got, "dof: infinite") : NULL;
				if (dof)
					memset(dof, ' ', strlen("dof: infinite"));
				if (got ? strstr(got, "nan") || (strstr(got, "inf") && !strstr(call, ".text")) ||
				              strstr(got, "not a number")
				        : error.code != HS_BAD_INPUT)
					print_error("%s: %s\n", call, got ? got : error.message), failures++;
				free(got);
			}
		}
	}
	assert_int_equal(failures, 0);
}

static void every_call_answers_when_nothing_is_wrong(void **state)
{
	(void)state;
	char call[512], flags[8], text[640];
	for (size_t i = 0; i < COUNT(calls); i++) {
		hs_error error = {0};
		fill_in(calls[i], (size_t)-1, "", call, sizeof call, flags);
		snprintf(text, sizeof text, "return %s", call);
		char *got = calc_text(text, &error);
		if (!got)
			fail_msg("%s: %s", call, got ? got : error.message);
		free(got);
	}
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
	for (char *name = strtok(names, "\n"); name; name = strtok(NULL, "\n")) {
		size_t length = strlen(name);
		bool found = false;
		for (size_t i = 0; i < COUNT(calls) && !found; i++) {
			const char *at = strstr(calls[i], name);
			found = at && (at[length] == '(' || at[length] == '{');
		}
		if (!found)
			fail_msg("no row walks %s", name);
		seen++;
	}
	free(names);
	assert_int_equal(seen, 105);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
	    cmocka_unit_test(every_call_answers_when_nothing_is_wrong),
	    cmocka_unit_test(every_argument_is_watched),
	    cmocka_unit_test(the_ends_of_the_range_give_numbers_or_sentences),
	    cmocka_unit_test(no_function_is_left_out),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
