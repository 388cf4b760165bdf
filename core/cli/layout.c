/* Goes through a playbook's steps and gathers what they need. */
#include "layout.h"

#include <stdlib.h>
#include <string.h>

static void add_line(hs_layout *layout, hs_lines_of *lines, const char *line)
{
	for (size_t i = 0; i < lines->count; i++)
		if (strcmp(lines->items[i], line) == 0)
			return;
	lines->items = hs_grow(lines->items, &lines->room, lines->count + 1, sizeof *lines->items);
	lines->items[lines->count++] = hs_arena_str(layout->arena, line);
}

static void add_printf(hs_layout *layout, hs_lines_of *lines, const char *format, ...) __attribute__((format(printf, 3, 4)));
static void add_printf(hs_layout *layout, hs_lines_of *lines, const char *format, ...)
{
	hs_buf text;
	va_list args;
	hs_buf_init(&text);
	va_start(args, format);
	hs_buf_vprintf(&text, format, args);
	va_end(args);
	add_line(layout, lines, text.data);
	hs_buf_free(&text);
}

/* ---- hookups ---- */

static const hs_hookup *bound(const hs_playbook *playbook, const hs_kit *kit, const char *name)
{
	if (!kit)
		return NULL;
	const hs_binding *binding = hs_kit_binding(kit, name, playbook->id, playbook->family);
	return binding ? binding->hookup : hs_kit_hookup(kit, name);
}

static void add_instrument(hs_layout *layout, const hs_part *instrument)
{
	for (size_t i = 0; i < layout->instrument_count; i++)
		if (layout->instruments[i] == instrument)
			return;
	layout->instruments =
	    hs_grow(layout->instruments, &layout->instrument_room, layout->instrument_count + 1, sizeof *layout->instruments);
	layout->instruments[layout->instrument_count++] = instrument;
}

/* A use of a hookup: at a point, for a measurand, or as the way of a source. */
typedef struct use {
	const char *name, *at;
	int point;
	hs_measurand reads;
	double freq_hz;
	bool inject;
} use;

static const char *drawn(hs_layout *layout, const hs_hookup *hookup, const use *of)
{
	hs_correction correction;
	hs_buf line;
	hs_buf_init(&line);
	bool known = hs_hookup_correct(hookup, of->reads, of->freq_hz, &correction, NULL);
	hs_hookup_draw(hookup, known ? &correction : NULL, of->at ? of->at : "unit", of->inject, &line);
	const char *text = hs_arena_str(layout->arena, line.data);
	hs_buf_free(&line);
	return text;
}

static hs_laid_lead *lead_of(hs_layout *layout, const hs_playbook *playbook, const hs_kit *kit, const use *of)
{
	for (size_t i = 0; i < layout->lead_count; i++)
		if (strcmp(layout->leads[i].name, of->name) == 0)
			return &layout->leads[i];
	layout->leads = hs_grow(layout->leads, &layout->lead_room, layout->lead_count + 1, sizeof *layout->leads);
	hs_laid_lead *lead = &layout->leads[layout->lead_count++];
	*lead = (hs_laid_lead){.name = of->name, .role = hs_playbook_role(playbook, of->name), .hookup = bound(playbook, kit, of->name)};
	if (lead->hookup) {
		lead->drawn = drawn(layout, lead->hookup, of);
		if (lead->hookup->instrument)
			add_instrument(layout, lead->hookup->instrument);
	}
	return lead;
}

/* ---- adapters ---- */

static const hs_part *adapter_between(const hs_kit *kit, const hs_hookup *hookup, const hs_connector *a, const hs_connector *b)
{
	for (size_t i = 0; i < kit->part_count; i++) {
		const hs_part *part = kit->parts[i];
		bool within = false;
		for (size_t p = 0; p < hookup->count; p++)
			within = within || hookup->parts[p] == part;
		if (part->kind != HS_PART_ADAPTER || within || !part->has_ends[0] || !part->has_ends[1])
			continue;
		bool forth = hs_connector_same(&part->ends[0], a) && hs_connector_same(&part->ends[1], b);
		bool back = hs_connector_same(&part->ends[0], b) && hs_connector_same(&part->ends[1], a);
		if (forth || back)
			return part;
	}
	return NULL;
}

/* What is on either side, from the unit's to the instrument's; what goes between them is their mates. */
static void need_adapter(hs_layout *layout, const hs_kit *kit, const hs_laid_lead *lead, const hs_connector *a, const char *at,
                         const hs_connector *b, const char *of)
{
	if (hs_connector_mates(a, b))
		return;
	hs_connector from = hs_connector_mate(a), to = hs_connector_mate(b);
	const hs_part *part = adapter_between(kit, lead->hookup, &from, &to);
	hs_buf line;
	hs_buf_init(&line);
	hs_connector_print(&line, &from);
	hs_buf_str(&line, " to ");
	hs_connector_print(&line, &to);
	hs_buf_printf(&line, ", for %s between %s and %s", lead->name, at, of);
	if (part)
		add_printf(layout, &layout->adapters, "%s: %s (its loss is in no hookup)", line.data, part->id);
	else
		add_line(layout, &layout->adapters, line.data);
	if (!part)
		add_printf(layout, &layout->missing, "an adapter %s", line.data);
	hs_buf_free(&line);
}

static void adapters_within(hs_layout *layout, const hs_kit *kit, const hs_laid_lead *lead)
{
	const hs_hookup *hookup = lead->hookup;
	for (size_t i = 0; i + 1 < hookup->count; i++) {
		const hs_part *here = hookup->parts[i], *next = hookup->parts[i + 1];
		if (here->kind != HS_PART_INSTRUMENT && here->has_ends[1] && next->has_ends[0])
			need_adapter(layout, kit, lead, &here->ends[1], here->id, &next->ends[0], next->id);
	}
}

static void add_use(hs_layout *layout, const hs_playbook *playbook, const hs_kit *kit, const use *of)
{
	if (!of->name)
		return;
	size_t before = layout->lead_count;
	hs_laid_lead *lead = lead_of(layout, playbook, kit, of);
	bool joins = lead->hookup && lead->hookup->count > 0 && !hs_hookup_touches(lead->hookup);
	if (joins && layout->lead_count > before)
		adapters_within(layout, kit, lead);
	if (of->at)
		add_line(layout, &lead->points, of->at);
	if (!joins || of->point < 0)
		return;
	const hs_point *point = &playbook->unit.points[of->point];
	const hs_part *first = lead->hookup->parts[0];
	if (point->has_connector && first->has_ends[0])
		need_adapter(layout, kit, lead, &point->connector, point->id, &first->ends[0], first->id);
}

static void add_uses(hs_layout *layout, const hs_playbook *playbook, const hs_kit *kit, const hs_step *step)
{
	if (step->inject.given)
		add_use(layout, playbook, kit,
		        &(use){step->inject.hookup_name, step->inject.at_text, step->inject.point, HS_READS_POWER, step->inject.freq_hz, true});
	if (step->leads == HS_LEADS_STRAIGHT)
		add_use(layout, playbook, kit, &(use){step->through_name, NULL, -1, HS_READS_POWER, step->readings[0].freq_hz, true});
	for (size_t i = 0; i < step->reading_count; i++) {
		const hs_reading *reading = &step->readings[i];
		if (reading->leads != HS_LEADS_NONE) {
			add_use(layout, playbook, kit, &(use){reading->hookup_name, NULL, -1, hs_reading_measurand(reading), reading->freq_hz, false});
			continue;
		}
		add_use(layout, playbook, kit,
		        &(use){reading->hookup_name, reading->at_text, reading->point, hs_reading_measurand(reading), reading->freq_hz, false});
	}
}

/* ---- what the roles miss ---- */

typedef struct telling {
	hs_layout *layout;
	hs_lines_of *lines;
} telling;

static void tell_miss(void *context, const char *sentence)
{
	const telling *to = context;
	add_line(to->layout, to->lines, sentence);
}

static void count_miss(void *context, const char *sentence)
{
	(void)sentence;
	++*(size_t *)context;
}

static void list_fitting(hs_layout *layout, hs_laid_lead *lead, const hs_kit *kit)
{
	for (size_t i = 0; kit && lead->role && i < kit->hookup_count; i++) {
		size_t misses = 0;
		hs_role_misfits(lead->role, kit->hookups[i], count_miss, &misses);
		if (misses == 0)
			add_line(layout, &lead->fit, kit->hookups[i]->id);
	}
}

static void check_lead(hs_layout *layout, hs_laid_lead *lead, const hs_kit *kit)
{
	if (!lead->hookup) {
		list_fitting(layout, lead, kit);
		hs_buf asks;
		hs_buf_init(&asks);
		if (lead->role)
			hs_role_print(lead->role, &asks);
		add_printf(layout, &layout->missing, "a hookup for %s%s%s", lead->name, lead->role ? ": " : "", asks.data);
		hs_buf_free(&asks);
		return;
	}
	if (lead->role)
		hs_role_misfits(lead->role, lead->hookup, tell_miss, &(telling){layout, &lead->misses});
	for (size_t i = 0; i < lead->misses.count; i++)
		add_printf(layout, &layout->missing, "%s, for %s: %s", lead->hookup->id, lead->name, lead->misses.items[i]);
}

/* ---- the unit ---- */

/* "8 x M3 pan" asks for the driver that fits "M3 pan". */
static const char *without_count(const char *fixings)
{
	size_t digits = strspn(fixings, "0123456789");
	const char *rest = fixings + digits;
	rest += strspn(rest, " ");
	if (digits == 0 || (*rest != 'x' && *rest != 'X') || rest[1] != ' ')
		return fixings;
	return rest + 1 + strspn(rest + 1, " ");
}

static uint64_t with_guards(const hs_bench_unit *unit, uint64_t open)
{
	for (int round = 0; round < unit->openable_count; round++)
		for (int i = 0; i < unit->openable_count; i++) {
			const hs_openable *it = &unit->openables[i];
			if ((open >> i & 1u) == 0)
				continue;
			if (it->after >= 0)
				open |= UINT64_C(1) << it->after;
			if (it->kind != HS_OPEN_COVER && it->zone >= 0 && unit->zones[it->zone].guard >= 0)
				open |= UINT64_C(1) << unit->zones[it->zone].guard;
		}
	return open;
}

static void add_opened(hs_layout *layout, const hs_openable *it)
{
	const char *title = it->title ? it->title : it->id;
	if (it->kind != HS_OPEN_COVER) {
		add_printf(layout, &layout->changes, "%s (%s)", title, hs_openable_name(it->kind));
		if (it->terminate)
			add_printf(layout, &layout->terminations, "%s, for %s", it->terminate, title);
	} else if (it->fixings) {
		add_printf(layout, &layout->covers, "%s, %s", title, it->fixings);
		add_printf(layout, &layout->drivers, "driver for %s", without_count(it->fixings));
	} else {
		add_line(layout, &layout->covers, title);
	}
	if (it->torque)
		add_printf(layout, &layout->drivers, it->connector ? "torque spanner, %s, for %s" : "torque driver, %s", it->torque,
		           it->connector ? it->connector : "");
}

/* Without a kit the playbook knows no known source; with one it is the engine's own choice that is told. */
static void add_known(hs_layout *layout, const hs_playbook *playbook, const hs_kit *kit, const hs_step *step)
{
	const hs_reading *reading = &step->readings[0];
	const hs_hookup *hookup = reading->hookup_name ? bound(playbook, kit, reading->hookup_name) : NULL;
	const hs_known *known = hs_kit_known_for(kit, hookup, reading->reads);
	if (!known) {
		add_printf(layout, &layout->missing, "a known source, to show %s good for %s", reading->hookup_name ? reading->hookup_name : "the instrument",
		           hs_measurand_name(reading->reads));
		return;
	}
	hs_buf line;
	hs_buf_init(&line);
	hs_buf_printf(&line, "%s%s%s, ", known->id, known->title ? ", " : "", known->title ? known->title : "");
	hs_quantity_print(&line, known->level, -1);
	if (known->freq_hz > 0) {
		hs_buf_str(&line, " at ");
		hs_quantity_print(&line, (hs_quantity){known->freq_hz, HS_HERTZ}, -1);
	}
	add_printf(layout, &layout->knowns, "%s, for %s", line.data, reading->hookup_name);
	hs_buf_free(&line);
}

static void add_step(hs_layout *layout, const hs_playbook *playbook, const hs_kit *kit, const hs_step *step)
{
	add_uses(layout, playbook, kit, step);
	if (step->leads == HS_LEADS_PROVE)
		add_known(layout, playbook, kit, step);
	if (step->helper)
		add_printf(layout, &layout->helpers, "%s: %s", hs_step_title(step), step->helper);
	if (!step->load)
		return;
	hs_buf watts;
	hs_buf_init(&watts);
	double least = step->load_watts > 0 ? step->load_watts : step->emitter >= 0 ? playbook->unit.emitters[step->emitter].watts : 0;
	if (least > 0) {
		hs_buf_str(&watts, ", at least ");
		hs_quantity_print(&watts, (hs_quantity){least, HS_WATT}, -1);
	}
	add_printf(layout, &layout->loads, "%s%s, at %s", step->load, watts.data,
	           step->emitter >= 0 ? playbook->unit.emitters[step->emitter].id : "the output");
	hs_buf_free(&watts);
}

static void add_texts(hs_layout *layout, hs_lines_of *lines, const char *const *texts, size_t count)
{
	for (size_t i = 0; i < count; i++)
		add_line(layout, lines, texts[i]);
}

void hs_layout_make(hs_layout *layout, const hs_playbook *playbook, const hs_kit *kit, const char *today)
{
	const hs_bench_unit *unit = &playbook->unit;
	uint64_t open = playbook->symptom.open;
	layout->arena = hs_arena_new();
	for (size_t i = 0; i < playbook->step_count; i++) {
		const hs_step *step = &playbook->steps[i];
		open |= step->open | step->makes;
		add_step(layout, playbook, kit, step);
	}
	for (size_t i = 0; i < playbook->picture_count; i++) {
		const hs_picture *picture = &playbook->pictures[i];
		add_printf(layout, &layout->pictures, "%s%s%s", picture->title ? picture->title : picture->id, picture->file ? ": " : "",
		           picture->file ? picture->file : "");
	}
	for (size_t i = 0; i < layout->lead_count; i++)
		check_lead(layout, &layout->leads[i], kit);
	open = with_guards(unit, open);
	for (int i = 0; i < unit->openable_count; i++)
		if (open >> i & 1u)
			add_opened(layout, &unit->openables[i]);
	add_texts(layout, &layout->tools, unit->tools, unit->tool_count);
	add_texts(layout, &layout->tools, playbook->tools, playbook->tool_count);
	add_texts(layout, &layout->consumables, unit->consumables, unit->consumable_count);
	add_texts(layout, &layout->consumables, playbook->consumables, playbook->consumable_count);
	for (size_t i = 0; i < layout->instrument_count; i++) {
		const hs_part *instrument = layout->instruments[i];
		if (instrument->due && strcmp(today, instrument->due) > 0)
			add_line(layout, &layout->overdue, instrument->id);
	}
	hs_minutes_of(playbook, &layout->minutes);
}

void hs_layout_free(hs_layout *layout)
{
	hs_lines_of *all[] = {&layout->knowns,  &layout->pictures,    &layout->adapters, &layout->terminations, &layout->loads,   &layout->drivers,
	                      &layout->tools,   &layout->consumables, &layout->helpers,  &layout->covers,       &layout->changes, &layout->overdue,
	                      &layout->missing};
	for (size_t i = 0; i < sizeof all / sizeof *all; i++)
		free(all[i]->items);
	for (size_t i = 0; i < layout->lead_count; i++) {
		free(layout->leads[i].points.items);
		free(layout->leads[i].misses.items);
		free(layout->leads[i].fit.items);
	}
	free(layout->leads);
	free(layout->instruments);
	hs_arena_free(layout->arena);
	*layout = (hs_layout){0};
}
