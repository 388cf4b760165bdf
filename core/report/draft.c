/* The way of a freehand run as a playbook. */
#include "halfsplit/report/draft.h"

#include <stdlib.h>
#include <string.h>

#include "halfsplit/base/alloc.h"
#include "halfsplit/unit/hazard.h"

/* The steps that stay: what was read, seen, done, and the finding. */
typedef struct hs_drafted {
	const hs_engine *engine;
	const hs_playbook *book;
	hs_buf *out;
} hs_drafted;

static bool stays(const hs_drafted *d, int index)
{
	const hs_step *step = &d->book->steps[index];
	if (!hs_engine_went_through(d->engine, index, NULL, NULL))
		return false;
	switch (step->kind) {
	case HS_STEP_READ:
	case HS_STEP_WAIT:
	case HS_STEP_REPLACE:
	case HS_STEP_TELL:
	case HS_STEP_FINDING: return true;
	/* A level that goes in stands in each reading behind it. */
	case HS_STEP_DO: return !step->inject.given;
	default: return false;
	}
}

static const char *next_id(const hs_drafted *d, int index)
{
	for (size_t i = (size_t)index + 1; i < d->book->step_count; i++)
		if (stays(d, (int)i))
			return d->book->steps[i].id;
	return "unclear";
}

static void text_key(const hs_drafted *d, const char *key, const char *text)
{
	if (text == NULL)
		return;
	hs_buf_printf(d->out, "  %s = ", key);
	hs_lua_text(d->out, text);
	hs_buf_str(d->out, ",\n");
}

/* `key = { "a", "b" }`, of those openables in the mask that are covers, joints or changes. */
static void things(const hs_drafted *d, const char *key, uint64_t mask, unsigned kinds)
{
	bool any = false;
	for (int i = 0; i < d->book->unit.openable_count; i++) {
		const hs_openable *thing = &d->book->unit.openables[i];
		if ((mask >> i & 1u) == 0 || (kinds >> thing->kind & 1u) == 0)
			continue;
		if (any)
			hs_buf_str(d->out, ", ");
		else
			hs_buf_printf(d->out, "  %s = { ", key);
		hs_lua_text(d->out, thing->id);
		any = true;
	}
	hs_buf_str(d->out, any ? " },\n" : "");
}

#define COVERS  (1u << HS_OPEN_COVER)
#define JOINTS  (1u << HS_OPEN_JOINT)
#define CHANGES (~(COVERS | JOINTS))

/* Those suspects that this step left standing so. */
static bool suspects_by(const hs_drafted *d, int step, hs_standing standing, const char *key)
{
	bool any = false;
	for (size_t i = 0; i < d->book->suspect_count; i++) {
		int by = -1;
		if (hs_engine_suspect(d->engine, i, &by) != standing || by != step)
			continue;
		if (any)
			hs_buf_str(d->out, ", ");
		else
			hs_buf_printf(d->out, ", %s = { ", key);
		hs_lua_text(d->out, d->book->suspects[i].id);
		any = true;
	}
	hs_buf_str(d->out, any ? " }" : "");
	return any;
}

/* `to = "f3", clears = { ... }` */
static void leads(const hs_drafted *d, int index)
{
	hs_buf_str(d->out, "to = ");
	hs_lua_text(d->out, next_id(d, index));
	suspects_by(d, index, HS_SUSPECT_CLEARED, "clears");
	suspects_by(d, index, HS_SUSPECT_IMPLICATED, "implicates");
}

static void next_key(const hs_drafted *d, int index)
{
	hs_buf_str(d->out, "  next = { ");
	leads(d, index);
	hs_buf_str(d->out, " },\n");
}

static void quantity_key(const hs_drafted *d, const char *key, hs_quantity quantity)
{
	hs_buf_printf(d->out, ", %s = ", key);
	hs_lua_quantity(d->out, quantity);
}

static void named_key(const hs_drafted *d, const char *key, const char *text)
{
	if (text == NULL)
		return;
	hs_buf_printf(d->out, ", %s = ", key);
	hs_lua_text(d->out, text);
}

static void set_key(const hs_drafted *d, const hs_step *step)
{
	const hs_bench_unit *unit = &d->book->unit;
	bool any = false;
	for (int i = 0; i < unit->control_count; i++) {
		if (step->set[i] == 0)
			continue;
		hs_buf_str(d->out, any ? ", [" : "  set = { [");
		hs_lua_text(d->out, unit->controls[i].id);
		hs_buf_str(d->out, "] = ");
		hs_lua_text(d->out, unit->controls[i].positions[step->set[i] - 1]);
		any = true;
	}
	hs_buf_str(d->out, any ? " },\n" : "");
}

static void inject_key(const hs_drafted *d, const hs_injection *inject)
{
	if (!inject->given)
		return;
	hs_buf_str(d->out, "  inject = { ");
	hs_lua_quantity(d->out, inject->level);
	named_key(d, "at", inject->at_text);
	if (inject->freq_hz > 0.0)
		quantity_key(d, "freq", (hs_quantity){inject->freq_hz, HS_HERTZ});
	named_key(d, "hookup", inject->hookup_name);
	named_key(d, "margin", inject->margin_why);
	hs_buf_str(d->out, " },\n");
}

static void power_keys(const hs_drafted *d, const hs_step *step)
{
	hs_need need = hs_step_need(d->book, step);
	if (step->power_given || need == HS_NEED_DEAD)
		text_key(d, "power", hs_need_name(need));
	if (step->attach_dead)
		text_key(d, "attach", "dead");
	if (need != HS_NEED_KEYED || step->load == NULL || step->emitter < 0)
		return;
	hs_buf_str(d->out, "  load = { ");
	hs_lua_text(d->out, step->load);
	named_key(d, "at", d->book->unit.emitters[step->emitter].id);
	quantity_key(d, "rated", (hs_quantity){step->load_watts, HS_WATT});
	hs_buf_str(d->out, " },\n");
}

static void common_keys(const hs_drafted *d, const hs_step *step)
{
	power_keys(d, step);
	things(d, "open", step->open, COVERS);
	things(d, "breaks", step->open, JOINTS);
	things(d, "with", step->with, CHANGES);
	if (step->zone_given && step->zone >= 0)
		text_key(d, "zone", d->book->unit.zones[step->zone].id);
	if (step->outside)
		hs_buf_str(d->out, "  outside = true,\n");
	set_key(d, step);
	inject_key(d, &step->inject);
}

static void limits_key(const hs_drafted *d, const hs_limits *limits)
{
	hs_buf text, end;
	hs_buf_init(&text);
	hs_buf_init(&end);
	hs_buf_str(d->out, "  limits = ");
	if (limits->open_is_ok) {
		hs_lua_text(d->out, "open");
	} else {
		/* Quantities come quoted; the quotes of an interval go around the whole. */
		if (limits->has_low)
			hs_lua_quantity(&text, (hs_quantity){limits->low, limits->unit});
		if (limits->has_high)
			hs_lua_quantity(&end, (hs_quantity){limits->high, limits->unit});
		if (limits->has_low && limits->has_high)
			hs_buf_printf(d->out, "\"%.*s .. %s", (int)text.length - 2, text.data + 1, end.data + 1);
		else
			hs_buf_printf(d->out, "\"at %s %s", limits->has_low ? "least" : "most", (limits->has_low ? text.data : end.data) + 1);
	}
	hs_buf_str(d->out, ",\n");
	hs_buf_free(&text);
	hs_buf_free(&end);
}

static void read_step(const hs_drafted *d, int index, const hs_step *step)
{
	const hs_reading *reading = &step->readings[0];
	hs_buf_str(d->out, "  read = { ");
	hs_lua_text(d->out, hs_measurand_name(reading->reads));
	named_key(d, "at", reading->at_text);
	named_key(d, "against", reading->against);
	named_key(d, "hookup", reading->hookup_name);
	if (reading->freq_hz > 0.0)
		quantity_key(d, "freq", (hs_quantity){reading->freq_hz, HS_HERTZ});
	hs_buf_str(d->out, reading->loose ? ", loose = true },\n" : " },\n");
	bool judged = false;
	hs_outcome outcome = HS_OKAY;
	hs_engine_went_through(d->engine, index, &judged, &outcome);
	/* A part replaced later voids what was judged; the way went by it all the same. */
	bool answered = judged || hs_engine_step(d->engine) != index;
	if (!reading->has_limits || !answered) {
		next_key(d, index);
		return;
	}
	limits_key(d, &reading->limits);
	hs_buf_printf(d->out, "  %s = { ", hs_outcome_name(outcome));
	leads(d, index);
	hs_buf_str(d->out, " },\n  otherwise = \"unclear\", -- FILL IN: where the other outcomes lead\n");
}

static void saw_step(const hs_drafted *d, int index, const hs_step *step)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "Is it so: %s?", step->text);
	text_key(d, "look", text.data);
	hs_buf_str(d->out, "  answers = {\n    { \"yes\", ");
	leads(d, index);
	hs_buf_str(d->out, " },\n    { \"no\", to = \"unclear\" },\n  },\n");
	hs_buf_free(&text);
}

static void suspect_list(const hs_drafted *d, const char *key, const int *list, size_t count)
{
	hs_buf_printf(d->out, "  %s = {", key);
	for (size_t i = 0; i < count; i++) {
		hs_buf_str(d->out, i > 0 ? ", " : " ");
		hs_lua_text(d->out, d->book->suspects[list != NULL ? list[i] : (int)i].id);
	}
	hs_buf_str(d->out, count > 0 ? " },\n" : "},\n");
	if (count > 1)
		hs_buf_str(d->out, "  separated = false,\n");
}

static void finding_step(const hs_drafted *d, const hs_step *step)
{
	text_key(d, "title", step->title);
	if (step->suspect_count > 0)
		suspect_list(d, "finding", step->suspects, step->suspect_count);
	else
		hs_buf_str(d->out, "  finding = \"no fault found\",\n  suspects = {},\n");
	text_key(d, "proof", step->proof);
	text_key(d, "not_tested", step->not_tested);
}

static void one_step(const hs_drafted *d, int index)
{
	const hs_step *step = &d->book->steps[index];
	hs_buf_str(d->out, "\nstep ");
	hs_lua_text(d->out, step->id);
	hs_buf_str(d->out, " {\n");
	if (step->kind == HS_STEP_FINDING) {
		finding_step(d, step);
		hs_buf_str(d->out, "}\n");
		return;
	}
	text_key(d, "title", step->title);
	common_keys(d, step);
	switch (step->kind) {
	case HS_STEP_READ: read_step(d, index, step); break;
	case HS_STEP_TELL: saw_step(d, index, step); break;
	case HS_STEP_WAIT:
		hs_buf_str(d->out, "  wait = ");
		hs_lua_quantity(d->out, (hs_quantity){step->wait_s, HS_SECOND});
		hs_buf_str(d->out, ",\n");
		next_key(d, index);
		break;
	case HS_STEP_REPLACE:
		text_key(d, "replace", step->replaces);
		next_key(d, index);
		break;
	default:
		text_key(d, "act", step->text);
		things(d, "makes", step->makes, CHANGES | JOINTS);
		things(d, "undoes", step->undoes, CHANGES | JOINTS);
		next_key(d, index);
		break;
	}
	hs_buf_str(d->out, "}\n");
}

/* Covers and changes that only taken-back acts named, and that are not in place, never came to be. */
static uint64_t standing_openables(const hs_drafted *d)
{
	const hs_bench_unit *unit = &d->book->unit;
	const hs_playbook *base = hs_engine_base(d->engine);
	uint64_t used = hs_engine_open_list(d->engine);
	int given = base != NULL ? base->unit.openable_count : 0;
	used |= given > 0 ? (UINT64_C(1) << (given - 1) << 1) - 1 : 0;
	for (size_t i = 0; i < d->book->step_count; i++)
		if (stays(d, (int)i))
			used |= d->book->steps[i].open | d->book->steps[i].with | d->book->steps[i].makes | d->book->steps[i].undoes;
	for (int i = 0; i < unit->zone_count; i++)
		used |= unit->zones[i].guard >= 0 ? UINT64_C(1) << unit->zones[i].guard : 0;
	for (int i = unit->openable_count; i-- > 0;)
		if ((used >> i & 1u) != 0 && unit->openables[i].after >= 0)
			used |= UINT64_C(1) << unit->openables[i].after;
	return used;
}

/* A family that the run changed nothing of is required; else the unit is written out. */
static bool as_the_family_has_it(const hs_drafted *d, const char *family)
{
	const hs_playbook *base = hs_engine_base(d->engine);
	const hs_bench_unit *unit = &d->book->unit;
	size_t length = family != NULL ? strlen(family) : 0;
	if (base == NULL || length == 0 || (length > 4 && strcmp(family + length - 4, ".lua") == 0) ||
	    (base->unit.openable_count < HS_OPENABLES_MOST && standing_openables(d) >> base->unit.openable_count != 0))
		return false;
	for (int i = 0; i < base->unit.point_count; i++) {
		const hs_point *was = &base->unit.points[i], *is = &unit->points[i];
		if (was->has_accepts != is->has_accepts || was->has_gives != is->has_gives || was->dc_v != is->dc_v)
			return false;
	}
	return true;
}

/* The unit without what was taken back: nothing in Lua refers to covers by their place in the list. */
static void unit_of(const hs_drafted *d, bool required)
{
	hs_bench_unit unit = d->book->unit;
	int declared = required ? hs_engine_base(d->engine)->unit.point_count : 0;
	hs_point *points = hs_alloc(((size_t)unit.point_count + 1) * sizeof *points);
	int count = 0;
	for (int i = 0; i < unit.point_count; i++)
		if (hs_engine_point_stands(d->engine, i))
			points[count++] = unit.points[i];
	unit.points = points;
	unit.point_count = count;
	hs_lua_unit(&unit, standing_openables(d), !required, declared, d->out);
	free(points);
}

static void head(const hs_drafted *d, const char *id, const hs_opening *opening)
{
	const char *family = opening->freehand;
	bool required = as_the_family_has_it(d, family);
	hs_buf_str(d->out, "-- A draft, made from the freehand run ");
	hs_buf_str(d->out, opening->run);
	hs_buf_str(d->out, ".\n-- It leads the one way that was taken then. Mend what says FILL IN, and see what `halfsplit check` says.\n");
	if (required) {
		hs_buf_printf(d->out, "require ");
		hs_buf required_name;
		hs_buf_init(&required_name);
		hs_buf_printf(&required_name, "%s/family", family);
		hs_lua_text(d->out, required_name.data);
		hs_buf_str(d->out, "\n");
		hs_buf_free(&required_name);
	}
	hs_buf_str(d->out, "\nplaybook {\n");
	text_key(d, "id", id);
	hs_buf_str(d->out, "  edition = 1,\n");
	text_key(d, "title", "FILL IN: what the unit does wrong");
	text_key(d, "family", *family != '\0' ? family : "FILL IN");
	hs_buf_str(d->out, "  first = { \"FILL IN: what to do first, so that the unit harms itself no further.\" },\n}\n\n");
	unit_of(d, required);
}

static void suspects(const hs_drafted *d, const char *family)
{
	const hs_playbook *base = hs_engine_base(d->engine);
	bool required = as_the_family_has_it(d, family);
	hs_buf_char(d->out, '\n');
	for (size_t i = required ? base->suspect_count : 0; i < d->book->suspect_count; i++) {
		hs_buf_str(d->out, "suspect ");
		hs_lua_text(d->out, d->book->suspects[i].id);
		hs_buf_str(d->out, " {");
		if (d->book->suspects[i].title != NULL) {
			hs_buf_str(d->out, " title = ");
			hs_lua_text(d->out, d->book->suspects[i].title);
			hs_buf_char(d->out, ' ');
		}
		hs_buf_str(d->out, "}\n");
	}
}

bool hs_draft_lua(const hs_engine *engine, const char *id, const hs_opening *opening, hs_buf *out, hs_error *error)
{
	if (!hs_engine_is_freehand(engine) || opening->freehand == NULL) {
		hs_fail(error, HS_BAD_INPUT, "this run followed the playbook %s, and a draft is made only from a freehand run", opening->playbook_id);
		return hs_fail_hint(error, "that playbook is in the transcript; a freehand run begins with halfsplit run --freehand");
	}
	const hs_drafted d = {.engine = engine, .book = hs_engine_playbook(engine), .out = out};
	head(&d, id, opening);
	suspects(&d, opening->freehand);
	for (size_t i = 0; i < d.book->step_count; i++)
		if (stays(&d, (int)i))
			one_step(&d, (int)i);
	hs_buf_str(out, "\nstep \"unclear\" {\n  finding = \"Not found on the way that was taken\",\n");
	suspect_list(&d, "suspects", NULL, d.book->suspect_count);
	hs_buf_str(out, "  not_tested = \"FILL IN\",\n}\n");
	return true;
}
