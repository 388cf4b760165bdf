/* What a measurand is called and read in, and what one part of a hookup takes away. */
#include <math.h>
#include <stdarg.h>
#include "halfsplit/base/text.h"
#include "halfsplit/lineup/part.h"
#include "outside.h"

#define SHARE_ASSUMED 0.10 /* of the loss of a cable known by its type alone */
#define U_ADAPTER_DB  0.1
#define U_OTHER_DB    0.2

typedef struct measurand {
	hs_unit unit;
	bool dead;
} measurand;

static const char *const names[HS_READS_KINDS] = {
    [HS_READS_POWER] = "power",
    [HS_READS_VOLTS] = "volts",
    [HS_READS_AC_VOLTS] = "ac volts",
    [HS_READS_AMPS] = "amps",
    [HS_READS_OHMS] = "ohms",
    [HS_READS_CONTINUITY] = "continuity",
    [HS_READS_DIODE] = "diode",
    [HS_READS_FREQUENCY] = "frequency",
    [HS_READS_TIME] = "time",
    [HS_READS_TEMPERATURE] = "temperature",
    [HS_READS_CAPACITANCE] = "capacitance",
    [HS_READS_RETURN_LOSS] = "return loss",
    [HS_READS_SWR] = "swr",
    [HS_READS_NOISE_RISE] = "noise rise",
    [HS_READS_SINAD] = "sinad",
    [HS_READS_COUNT_OF] = "count",
    [HS_READS_PERCENT] = "percent",
    [HS_READS_LOSS] = "loss",
    [HS_READS_PEAK] = "peak",
    [HS_READS_DIP] = "dip",
    [HS_READS_RATE] = "rate",
    [HS_READS_MINIMUM] = "minimum",
    [HS_READS_MAXIMUM] = "maximum",
    [HS_READS_TREND] = "trend",
    [HS_READS_TICK] = "tick",
    [HS_READS_TRACE] = "trace",
};

static const measurand measurands[HS_READS_KINDS] = {
    [HS_READS_POWER] = {HS_DBM, false},         [HS_READS_VOLTS] = {HS_VOLT, false},
    [HS_READS_AC_VOLTS] = {HS_VOLT, false},     [HS_READS_AMPS] = {HS_AMP, false},
    [HS_READS_OHMS] = {HS_OHM, true},           [HS_READS_CONTINUITY] = {HS_OHM, true},
    [HS_READS_DIODE] = {HS_VOLT, true},         [HS_READS_FREQUENCY] = {HS_HERTZ, false},
    [HS_READS_TIME] = {HS_SECOND, false},       [HS_READS_TEMPERATURE] = {HS_DEGC, false},
    [HS_READS_CAPACITANCE] = {HS_FARAD, true},  [HS_READS_RETURN_LOSS] = {HS_DB, false},
    [HS_READS_SWR] = {HS_SWR, false},           [HS_READS_NOISE_RISE] = {HS_DB, false},
    [HS_READS_SINAD] = {HS_DB, false},          [HS_READS_COUNT_OF] = {HS_UNITLESS, false},
    [HS_READS_PERCENT] = {HS_PERCENT, false},   [HS_READS_LOSS] = {HS_DB, false},
    [HS_READS_PEAK] = {HS_HERTZ, false},        [HS_READS_DIP] = {HS_HERTZ, false},
    [HS_READS_RATE] = {HS_UNITLESS, false},     [HS_READS_MINIMUM] = {HS_VOLT, false},
    [HS_READS_MAXIMUM] = {HS_VOLT, false},      [HS_READS_TREND] = {HS_UNITLESS, false},
    [HS_READS_TICK] = {HS_UNITLESS, false},     [HS_READS_TRACE] = {HS_DBM, false},
};

const char *hs_measurand_name(hs_measurand m)
{
	return names[m];
}

bool hs_measurand_find(const char *name, hs_measurand *out)
{
	for (int m = 0; m < HS_READS_KINDS; m++) {
		if (hs_same_word(name, names[m])) {
			*out = (hs_measurand)m;
			return true;
		}
	}
	return false;
}

const char *const *hs_measurand_names(size_t *count)
{
	*count = HS_READS_KINDS;
	return names;
}

hs_unit hs_measurand_unit(hs_measurand m)
{
	return measurands[m].unit;
}

bool hs_measurand_is_dead(hs_measurand m)
{
	return measurands[m].dead;
}

static const char *kind_name(hs_part_kind kind)
{
	static const char *const kinds[] = {"cable", "pad", "adapter", "probe", "instrument"};
	return kinds[kind];
}

/* Words are written only where somebody wants them: out may be NULL in both. */
static void say(hs_buf *out, double value, hs_unit unit)
{
	if (out)
		hs_quantity_print(out, (hs_quantity){value, unit}, -1);
}

__attribute__((format(printf, 2, 3))) static void say_words(hs_buf *out, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	if (out)
		hs_buf_vprintf(out, format, args);
	va_end(args);
}

/* Puts the part in front of an error of its table, and where the kit declares it behind. */
static bool blame(const hs_part *part, const hs_error *cause, hs_error *error)
{
	hs_fail(error, cause->code, "%s \"%s\": %s", kind_name(part->kind), part->id, cause->message);
	hs_fail_hint(error, "measure the part at that frequency and add the figure to the kit, or use another part");
	return part->file ? hs_fail_at(error, part->file, part->line) : false;
}

static bool fail_part(const hs_part *part, hs_error *error, const char *what, const char *hint)
{
	hs_fail(error, HS_BAD_INPUT, "%s \"%s\" %s", kind_name(part->kind), part->id, what);
	hs_fail_hint(error, "%s", hint);
	return part->file ? hs_fail_at(error, part->file, part->line) : false;
}

static bool table_loss(const hs_part *part, const hs_loss_table *table, double freq_hz, double *loss_db,
                       hs_error *error)
{
	hs_error cause = {0};
	if (!(freq_hz > 0))
		return fail_part(part, error, "has a loss that depends on frequency, and no frequency is stated",
		                 "state the frequency of the reading");
	return hs_loss_table_at(table, freq_hz, loss_db, &cause) || blame(part, &cause, error);
}

static bool own_loss(const hs_part *part, double freq_hz, double *loss_db, hs_buf *source, hs_error *error)
{
	if (!table_loss(part, &part->own, freq_hz, loss_db, error))
		return false;
	say_words(source, "%s", part->own_source ? part->own_source : "own points");
	return true;
}

static bool fixed_loss(const hs_part *part, double *loss_db, hs_buf *source, hs_error *error)
{
	if (!(part->fixed_db >= 0))
		return fail_part(part, error, "has a loss below 0 dB, which would be a gain",
		                 "a loss is written as a positive number of dB");
	*loss_db = part->fixed_db;
	say(source, part->fixed_db, HS_DB);
	say_words(source, " %s", kind_name(part->kind));
	return true;
}

static bool type_loss(const hs_part *part, double freq_hz, double *loss_db, hs_buf *source, hs_error *error)
{
	const hs_loss_table *table = hs_coax_type(part->type);
	double per_100_m = 0;
	if (!table) {
		size_t count;
		const char *const *known = hs_coax_type_names(&count);
		const char *near = hs_nearest(part->type, known, count);
		fail_part(part, error, "is of a type that has no loss table",
		          "give it loss points of its own, or a Touchstone file");
		return near ? hs_fail_hint(error, "did you mean type \"%s\"?", near) : false;
	}
	if (!(part->length_m > 0))
		return fail_part(part, error, "has a type but no length", "add its length, such as length = \"3 m\"");
	if (!table_loss(part, table, freq_hz, &per_100_m, error))
		return false;
	*loss_db = per_100_m * part->length_m / 100;
	say_words(source, "%s, ", part->type);
	say(source, part->length_m, HS_METRE);
	return true;
}

static bool no_figures(const hs_part *part, double *loss_db, hs_buf *source, hs_error *error)
{
	if (part->kind != HS_PART_PROBE && part->kind != HS_PART_INSTRUMENT)
		return fail_part(part, error, "has no loss figures",
		                 part->kind == HS_PART_CABLE
		                     ? "add its type and length, loss points of its own, or a Touchstone file"
		                     : "add its loss, loss points of its own, or a Touchstone file");
	*loss_db = 0;
	if (part->ratio > 0)
		say_words(source, "x%.10g ", part->ratio);
	say_words(source, "%s%s", kind_name(part->kind), part->ratio > 0 ? "" : ", no loss");
	return true;
}

/* The half-width where the kit states none, and words that say so. */
static double assumed_u(const hs_part *part, double loss_db, hs_buf *source)
{
	bool figures = part->own.count > 0 || part->has_fixed;
	if (!figures && part->type) {
		say_words(source, ", u 10 %% assumed");
		return SHARE_ASSUMED * loss_db;
	}
	if (!figures)
		return 0;
	double u_db = part->kind == HS_PART_ADAPTER ? U_ADAPTER_DB : U_OTHER_DB;
	say_words(source, ", u ");
	say(source, u_db, HS_DB);
	say_words(source, " assumed");
	return u_db;
}

static bool find_loss(const hs_part *part, double freq_hz, double *loss_db, hs_buf *source, hs_error *error)
{
	hs_error cause = {0};
	if (part->freq_to_hz > 0 && freq_hz > part->freq_to_hz * (1 + 1e-9)) {
		hs_fail_outside(&cause, freq_hz, -1, part->freq_to_hz);
		return blame(part, &cause, error);
	}
	if (part->own.count > 0)
		return own_loss(part, freq_hz, loss_db, source, error);
	if (part->has_fixed)
		return fixed_loss(part, loss_db, source, error);
	if (part->type)
		return type_loss(part, freq_hz, loss_db, source, error);
	return no_figures(part, loss_db, source, error);
}

bool hs_part_loss(const hs_part *part, double freq_hz, double *loss_db, double *u_db, hs_buf *source, hs_error *error)
{
	double loss = 0;
	if (!find_loss(part, freq_hz, &loss, source, error))
		return false;
	*loss_db = loss;
	*u_db = part->has_u ? part->u_db : assumed_u(part, loss, source);
	return true;
}
