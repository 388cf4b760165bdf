#include "halfsplit/model/role.h"

#include <math.h>
#include <string.h>
#include "halfsplit/judge/budget.h"

/* ---- in words ---- */

static void separate(hs_buf *out)
{
	hs_buf_str(out, "; ");
}

static void print_hz(hs_buf *out, double freq_hz)
{
	hs_quantity_print(out, (hs_quantity){freq_hz, HS_HERTZ}, -1);
}

void hs_role_print(const hs_role *role, hs_buf *out)
{
	hs_buf_str(out, role->source ? "source" : "meter");
	for (size_t i = 0; i < role->read_count; i++)
		hs_buf_printf(out, "%s%s", i ? ", " : "; reads ", hs_measurand_name(role->reads[i]));
	if (role->has_range) {
		hs_buf_str(out, role->source ? "; gives " : "; range ");
		hs_limits_print(out, &role->range);
	}
	if (role->freq_to_hz > 0) {
		separate(out);
		print_hz(out, role->freq_from_hz);
		if (role->freq_to_hz > role->freq_from_hz) {
			hs_buf_str(out, " to ");
			print_hz(out, role->freq_to_hz);
		}
	}
	if (role->has_loss) {
		hs_buf_str(out, "; takes at most ");
		hs_quantity_print(out, (hs_quantity){role->loss_db, HS_DB}, -1);
		hs_buf_str(out, " at ");
		print_hz(out, role->loss_at_hz);
	}
	if (role->stands_w > 0) {
		hs_buf_str(out, "; stands ");
		hs_quantity_print(out, (hs_quantity){role->stands_w, HS_WATT}, -1);
	}
	if (role->has_u) {
		hs_buf_str(out, "; U at most ");
		hs_quantity_print(out, role->u, -1);
	}
	for (int i = 0; i < 2; i++)
		if (role->has_ends[i]) {
			hs_buf_str(out, i ? "; at the instrument " : "; at the unit ");
			hs_connector_print(out, &role->ends[i]);
		}
}

/* ---- what misses ---- */

typedef struct missing {
	const hs_role *role;
	const hs_hookup *hookup;
	hs_role_tell *tell;
	void *context;
	hs_buf text;
} missing;

static void miss(missing *m, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void miss(missing *m, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	hs_buf_vprintf(&m->text, format, args);
	va_end(args);
	m->tell(m->context, m->text.data);
	hs_buf_clear(&m->text);
}

/* A quantity as text of the sentence that is being made; good until the next miss. */
static void put(missing *m, double value, hs_unit unit)
{
	hs_quantity_print(&m->text, (hs_quantity){value, unit}, -1);
}

static bool outside(double freq_hz, double from_hz, double to_hz)
{
	return to_hz > 0 && (freq_hz < from_hz * (1 - 1e-9) || freq_hz > to_hz * (1 + 1e-9));
}

static bool spans(hs_quantity from, hs_quantity to, double impedance_ohm, const hs_limits *wanted)
{
	hs_limits same;
	if (!hs_limits_convert(wanted, from.unit, impedance_ohm, &same, NULL))
		return false;
	return (!same.has_low || same.low >= from.value - 1e-9 * fabs(from.value)) &&
	       (!same.has_high || same.high <= to.value + 1e-9 * fabs(to.value));
}

static void check_range(missing *m, hs_quantity from, hs_quantity to, const char *does)
{
	const hs_part *instrument = m->hookup->instrument;
	if (!m->role->has_range || spans(from, to, instrument->impedance_ohm, &m->role->range))
		return;
	hs_buf_printf(&m->text, "\"%s\" %s ", instrument->id, does);
	put(m, from.value, from.unit);
	hs_buf_str(&m->text, " to ");
	put(m, to.value, to.unit);
	hs_buf_str(&m->text, ", and ");
	hs_limits_print(&m->text, &m->role->range);
	miss(m, " is asked");
}

static void check_source(missing *m)
{
	const hs_part *instrument = m->hookup->instrument;
	const hs_role *role = m->role;
	if (!instrument || !instrument->gives_level) {
		miss(m, "it ends in no source");
		return;
	}
	check_range(m, instrument->gives_from, instrument->gives_to, "gives");
	for (int i = 0; i < 2 && role->freq_to_hz > 0; i++) {
		double freq_hz = i ? role->freq_to_hz : role->freq_from_hz;
		if (!outside(freq_hz, instrument->gives_freq_from_hz, instrument->gives_freq_to_hz))
			continue;
		hs_buf_printf(&m->text, "\"%s\" gives nothing at ", instrument->id);
		print_hz(&m->text, freq_hz);
		miss(m, "%s", "");
		return;
	}
}

static void check_finely(missing *m, const hs_range *range, hs_measurand reads)
{
	const hs_role *role = m->role;
	hs_correction correction;
	hs_budget budget = {0};
	hs_unit unit = hs_measurand_unit(reads);
	if (!role->has_u || !hs_hookup_correct(m->hookup, reads, role->freq_to_hz, &correction, NULL))
		return;
	hs_quantity middle = {0, unit};
	if (role->has_range) {
		hs_limits same;
		if (!hs_limits_convert(&role->range, unit, m->hookup->instrument->impedance_ohm, &same, NULL))
			return;
		middle.value = same.has_low && same.has_high ? (same.low + same.high) / 2 : same.has_low ? same.low : same.high;
	}
	hs_budget_of_reading(&budget, m->hookup, range, &correction, hs_correct_reading(&correction, middle), 0);
	double expanded = hs_budget_expanded(&budget);
	if (hs_unit_dimension(budget.unit) != hs_unit_dimension(role->u.unit) || expanded <= role->u.value * (1 + 1e-9))
		return;
	hs_buf_printf(&m->text, "its uncertainty of %s is ", hs_measurand_name(reads));
	put(m, expanded, budget.unit);
	hs_buf_str(&m->text, ", and at most ");
	put(m, role->u.value, role->u.unit);
	miss(m, " is asked");
}

static void check_reads(missing *m, hs_measurand reads)
{
	const hs_role *role = m->role;
	const hs_part *instrument = m->hookup->instrument;
	const hs_range *range = hs_hookup_range(m->hookup, reads, 0, NULL, NULL);
	if (!range) {
		miss(m, "\"%s\" does not read %s", instrument->id, hs_measurand_name(reads));
		return;
	}
	for (int i = 0; i < 2 && role->freq_to_hz > 0; i++) {
		double freq_hz = i ? role->freq_to_hz : role->freq_from_hz;
		range = hs_hookup_range(m->hookup, reads, freq_hz, NULL, NULL);
		if (range)
			continue;
		hs_buf_printf(&m->text, "\"%s\" does not read %s at ", instrument->id, hs_measurand_name(reads));
		print_hz(&m->text, freq_hz);
		miss(m, "%s", "");
		return;
	}
	if (range->has_range)
		check_range(m, range->from, range->to, "reads");
	check_finely(m, range, reads);
}

/* The loss of all parts at a frequency; false, told of, when one does not know its own. */
static bool loss_at(missing *m, double freq_hz, double *total_db)
{
	*total_db = 0;
	for (size_t i = 0; i < m->hookup->count; i++) {
		double db, u_db;
		hs_error error = {0};
		if (m->hookup->parts[i]->kind == HS_PART_INSTRUMENT)
			continue;
		if (!hs_part_loss(m->hookup->parts[i], freq_hz, &db, &u_db, NULL, &error)) {
			hs_buf_printf(&m->text, "what \"%s\" takes at ", m->hookup->parts[i]->id);
			print_hz(&m->text, freq_hz);
			miss(m, " is not known: %s", error.message);
			return false;
		}
		*total_db += db;
	}
	return true;
}

static void check_loss(missing *m)
{
	const hs_role *role = m->role;
	double total_db;
	bool known = true;
	for (int i = 0; i < 2 && known && role->freq_to_hz > 0; i++)
		known = loss_at(m, i ? role->freq_to_hz : role->freq_from_hz, &total_db);
	if (!role->has_loss || !known || !loss_at(m, role->loss_at_hz, &total_db) || total_db <= role->loss_db + 1e-9)
		return;
	hs_buf_str(&m->text, "it takes ");
	put(m, total_db, HS_DB);
	hs_buf_str(&m->text, " at ");
	print_hz(&m->text, role->loss_at_hz);
	hs_buf_str(&m->text, ", and at most ");
	put(m, role->loss_db, HS_DB);
	miss(m, " is asked");
}

/* Each part stands what the parts before it leave of the power at the unit. */
static void check_power(missing *m)
{
	double watts = m->role->stands_w;
	double freq_hz = m->role->has_loss ? m->role->loss_at_hz : m->role->freq_from_hz;
	for (size_t i = 0; watts > 0 && i < m->hookup->count; i++) {
		const hs_part *part = m->hookup->parts[i];
		double rated = part->rated_w, db = 0, u_db;
		hs_quantity max;
		if (part->kind == HS_PART_INSTRUMENT)
			rated = part->has_max_rf && hs_quantity_convert(part->max_rf, HS_WATT, part->impedance_ohm, &max, NULL) ? max.value : 0;
		if (rated > 0 && rated < watts * (1 - 1e-9)) {
			hs_buf_printf(&m->text, "\"%s\" stands ", part->id);
			put(m, rated, HS_WATT);
			hs_buf_str(&m->text, ", and gets ");
			put(m, watts, HS_WATT);
			miss(m, "%s", "");
		}
		if (part->kind != HS_PART_INSTRUMENT && hs_part_loss(part, freq_hz, &db, &u_db, NULL, NULL))
			watts *= pow(10, -db / 10);
	}
}

static void check_ends(missing *m)
{
	const hs_hookup *hookup = m->hookup;
	const hs_part *ends[2] = {hookup->parts[0], NULL};
	for (size_t i = 0; i < hookup->count; i++)
		if (hookup->parts[i]->kind != HS_PART_INSTRUMENT)
			ends[1] = hookup->parts[i];
	for (int i = 0; i < 2; i++) {
		if (!m->role->has_ends[i] || !ends[i] || ends[i]->kind == HS_PART_INSTRUMENT || !ends[i]->has_ends[i])
			continue;
		if (hs_connector_same(&m->role->ends[i], &ends[i]->ends[i]))
			continue;
		hs_buf_printf(&m->text, "at the %s it has ", i ? "instrument" : "unit");
		hs_connector_print(&m->text, &ends[i]->ends[i]);
		hs_buf_str(&m->text, ", and ");
		hs_connector_print(&m->text, &m->role->ends[i]);
		miss(m, " is asked");
	}
}

void hs_role_misfits(const hs_role *role, const hs_hookup *hookup, hs_role_tell *tell, void *context)
{
	missing m = {.role = role, .hookup = hookup, .tell = tell, .context = context};
	hs_buf_init(&m.text);
	if (hookup->count > 0) {
		if (role->source)
			check_source(&m);
		else if (!hookup->instrument)
			miss(&m, "it ends in no instrument");
		for (size_t i = 0; !role->source && hookup->instrument && i < role->read_count; i++)
			check_reads(&m, role->reads[i]);
		check_loss(&m);
		check_power(&m);
		check_ends(&m);
	}
	hs_buf_free(&m.text);
}
