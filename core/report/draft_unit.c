/* Texts, quantities and the declared unit as Lua. */
#include "halfsplit/report/draft.h"

#include <string.h>

#include "halfsplit/base/number.h"

/* The characters that turn the direction of text, or break lines, begin with these bytes; value: how many bytes. */
static size_t hidden(const unsigned char *at, unsigned *code)
{
	if (at[0] == 0xC2 && at[1] >= 0x80 && at[1] < 0xA0) {
		*code = at[1];
		return 2;
	}
	if (at[0] != 0xE2 || (at[1] != 0x80 && at[1] != 0x81) || at[2] == '\0')
		return 0;
	*code = 0x2000u + (at[1] == 0x81 ? 0x40u : 0u) + (at[2] & 0x3Fu);
	bool turns = *code == 0x200E || *code == 0x200F || (*code >= 0x2028 && *code <= 0x202E) || (*code >= 0x2066 && *code <= 0x2069);
	return turns ? 3 : 0;
}

void hs_lua_text(hs_buf *out, const char *text)
{
	hs_buf_char(out, '"');
	for (const unsigned char *at = (const unsigned char *)text; *at != '\0';) {
		unsigned code = 0;
		size_t skip = hidden(at, &code);
		if (skip > 0)
			hs_buf_printf(out, "\\u{%X}", code);
		else if (*at == '"' || *at == '\\')
			hs_buf_printf(out, "\\%c", *at);
		else if (*at < 0x20 || *at == 0x7f)
			hs_buf_printf(out, "\\%03u", *at);
		else
			hs_buf_char(out, (char)*at);
		at += skip > 0 ? skip : 1;
	}
	hs_buf_char(out, '"');
}

void hs_lua_quantity(hs_buf *out, hs_quantity quantity)
{
	hs_buf text;
	hs_quantity again;
	hs_buf_init(&text);
	hs_quantity_print(&text, quantity, -1);
	if (!hs_quantity_read(text.data, quantity.unit, &again, NULL) || again.unit != quantity.unit || again.value != quantity.value) {
		hs_buf_clear(&text);
		hs_number_print(&text, quantity.value);
		const char *unit = hs_unit_name(quantity.unit);
		hs_buf_printf(&text, "%s%s", unit[0] != '\0' ? " " : "", unit);
	}
	hs_lua_text(out, text.data);
	hs_buf_free(&text);
}

static void field(hs_buf *out, const char *key, const char *text)
{
	if (text == NULL)
		return;
	hs_buf_printf(out, ", %s = ", key);
	hs_lua_text(out, text);
}

static void figure(hs_buf *out, const char *key, double value, hs_unit unit)
{
	if (!(value > 0.0))
		return;
	hs_buf_printf(out, ", %s = ", key);
	hs_lua_quantity(out, (hs_quantity){value, unit});
}

/* "{ , a = 1, b = 2 }" with the first comma taken out. */
static void braces(hs_buf *out, const hs_buf *fields)
{
	hs_buf_printf(out, "{%s }", fields->length > 0 ? fields->data + 1 : "");
}

static void entry(hs_buf *out, const char *id, hs_buf *fields)
{
	hs_buf_str(out, "    [");
	hs_lua_text(out, id);
	hs_buf_str(out, "] = ");
	braces(out, fields);
	hs_buf_str(out, ",\n");
	hs_buf_clear(fields);
}

static void group(hs_buf *out, const char *name, hs_buf *entries)
{
	if (entries->length > 0)
		hs_buf_printf(out, "  %s = {\n%s  },\n", name, entries->data);
	hs_buf_clear(entries);
}

static void percent(hs_buf *out, const char *key, double fraction, double usual, bool *any)
{
	if (fraction == usual)
		return;
	hs_buf_printf(out, "%s%s = ", *any ? ", " : ", over = { ", key);
	hs_lua_quantity(out, (hs_quantity){fraction * 100.0, HS_PERCENT});
	*any = true;
}

static void source_fields(const hs_bench_unit *unit, const hs_energy_source *source, hs_buf *out)
{
	bool store = source->kind == HS_SOURCE_STORE, any = false;
	if (!store) {
		hs_buf_str(out, ", ");
		hs_lua_quantity(out, (hs_quantity){source->volts, HS_VOLT});
	} else {
		figure(out, "charged", source->volts, HS_VOLT);
		figure(out, "farads", source->farads, HS_FARAD);
		figure(out, "bleed", source->bleed_ohm, HS_OHM);
		percent(out, "farads", source->farads_over, 0.20, &any);
		percent(out, "bleed", source->bleed_over, 0.10, &any);
		hs_buf_str(out, any ? " }" : "");
	}
	field(out, "title", source->title);
	if (source->zone > 0)
		field(out, "zone", unit->zones[source->zone].id);
	hs_buf_str(out, source->volts_is_max ? ", max = true" : "");
	hs_buf_str(out, store && source->follows_line ? ", follows_line = true" : "");
	hs_buf_str(out, source->kind == HS_SOURCE_MAINS && strcmp(source->id, "mains") != 0 ? ", mains = true" : "");
}

static void sources(const hs_bench_unit *unit, const char *name, unsigned kinds, hs_buf *out)
{
	hs_buf entries, fields;
	hs_buf_init(&entries);
	hs_buf_init(&fields);
	for (int i = 0; i < unit->source_count; i++) {
		if ((kinds >> unit->sources[i].kind & 1u) == 0)
			continue;
		source_fields(unit, &unit->sources[i], &fields);
		entry(&entries, unit->sources[i].id, &fields);
	}
	group(out, name, &entries);
	hs_buf_free(&entries);
	hs_buf_free(&fields);
}

static void openable_fields(const hs_bench_unit *unit, const hs_openable *thing, hs_buf *out)
{
	field(out, "title", thing->title);
	if (thing->kind != HS_OPEN_COVER && thing->kind != HS_OPEN_JOINT)
		field(out, "kind", hs_openable_name(thing->kind));
	if (thing->after >= 0)
		field(out, "after", unit->openables[thing->after].id);
	if (thing->needs_given)
		field(out, "needs", hs_need_name(thing->needs));
	if (thing->zone >= 0 && thing->kind != HS_OPEN_COVER)
		field(out, "zone", unit->zones[thing->zone].id);
	field(out, "fixings", thing->kind == HS_OPEN_COVER ? thing->fixings : NULL);
	field(out, "torque", thing->torque);
	field(out, "connector", thing->connector);
	field(out, "terminate", thing->terminate);
}

enum { COVERS, CHANGES, JOINTS };

static void openables(const hs_bench_unit *unit, uint64_t kept, const char *name, int sort, hs_buf *out)
{
	hs_buf entries, fields;
	hs_buf_init(&entries);
	hs_buf_init(&fields);
	for (int i = 0; i < unit->openable_count; i++) {
		hs_openable_kind kind = unit->openables[i].kind;
		if ((kept >> i & 1u) == 0 || sort != (kind == HS_OPEN_COVER ? COVERS : kind == HS_OPEN_JOINT ? JOINTS : CHANGES))
			continue;
		openable_fields(unit, &unit->openables[i], &fields);
		entry(&entries, unit->openables[i].id, &fields);
	}
	group(out, name, &entries);
	hs_buf_free(&entries);
	hs_buf_free(&fields);
}

static void zones(const hs_bench_unit *unit, hs_buf *out)
{
	hs_buf entries, fields;
	hs_buf_init(&entries);
	hs_buf_init(&fields);
	for (int i = 0; i < unit->zone_count; i++) {
		if (unit->zones[i].guard >= 0)
			field(&fields, "guard", unit->openables[unit->zones[i].guard].id);
		field(&fields, "title", unit->zones[i].title);
		if (i > 0 || fields.length > 0)
			entry(&entries, unit->zones[i].id, &fields);
	}
	group(out, "zones", &entries);
	hs_buf_free(&entries);
	hs_buf_free(&fields);
}

static void emitters_and_controls(const hs_bench_unit *unit, hs_buf *out)
{
	hs_buf entries, fields;
	hs_buf_init(&entries);
	hs_buf_init(&fields);
	for (int i = 0; i < unit->emitter_count; i++) {
		figure(&fields, "rf", unit->emitters[i].watts, HS_WATT);
		figure(&fields, "key", unit->emitters[i].key_seconds, HS_SECOND);
		figure(&fields, "cool", unit->emitters[i].cool_seconds, HS_SECOND);
		if (unit->emitters[i].drive_is_safe)
			hs_buf_str(&fields, ", drive = false");
		entry(&entries, unit->emitters[i].id, &fields);
	}
	group(out, "emits", &entries);
	for (int i = 0; i < unit->control_count; i++) {
		const hs_control *control = &unit->controls[i];
		for (int at = 0; at < control->position_count; at++) {
			hs_buf_str(&fields, ", ");
			hs_lua_text(&fields, control->positions[at]);
		}
		field(&fields, "title", control->title);
		if (control->zone >= 0)
			field(&fields, "zone", unit->zones[control->zone].id);
		entry(&entries, control->id, &fields);
	}
	group(out, "controls", &entries);
	hs_buf_free(&entries);
	hs_buf_free(&fields);
}

static void point(const hs_bench_unit *unit, const hs_point *it, hs_buf *out)
{
	hs_buf fields;
	hs_buf_init(&fields);
	field(&fields, "title", it->title);
	if (it->behind != 0) {
		bool any = false;
		hs_buf_str(&fields, ", behind = {");
		for (int i = 0; i < unit->openable_count; i++) {
			if ((it->behind >> i & 1u) == 0)
				continue;
			hs_buf_str(&fields, any ? ", " : " ");
			hs_lua_text(&fields, unit->openables[i].id);
			any = true;
		}
		hs_buf_str(&fields, " }");
	}
	if (it->zone > 0 || (it->zone == 0 && it->behind == 0))
		field(&fields, "zone", unit->zones[it->zone].id);
	if (it->has_accepts) {
		hs_buf_str(&fields, ", accepts = ");
		hs_lua_quantity(&fields, it->accepts);
	}
	if (it->has_gives) {
		hs_buf_str(&fields, ", gives = ");
		hs_lua_quantity(&fields, it->gives);
	}
	figure(&fields, "dc", it->dc_v, HS_VOLT);
	figure(&fields, "impedance", it->impedance_ohm, HS_OHM);
	hs_buf_str(out, "point ");
	hs_lua_text(out, it->id);
	hs_buf_char(out, ' ');
	braces(out, &fields);
	hs_buf_char(out, '\n');
	hs_buf_free(&fields);
}

void hs_lua_unit(const hs_bench_unit *unit, uint64_t kept, bool whole, int points, hs_buf *out)
{
	if (whole) {
		hs_buf_str(out, "unit {\n");
		sources(unit, "supply", 1u << HS_SOURCE_MAINS | 1u << HS_SOURCE_DC, out);
		if (unit->switch_title != NULL) {
			hs_buf_str(out, "  switch = ");
			hs_lua_text(out, unit->switch_title);
			hs_buf_str(out, ",\n");
		}
		hs_buf_str(out, unit->has_standby ? "  standby = true,\n" : "");
		sources(unit, "rails", 1u << HS_SOURCE_RAIL, out);
		sources(unit, "stores", 1u << HS_SOURCE_STORE, out);
		zones(unit, out);
		openables(unit, kept, "parts", COVERS, out);
		openables(unit, kept, "breaks", JOINTS, out);
		openables(unit, kept, "changes", CHANGES, out);
		emitters_and_controls(unit, out);
		hs_buf_str(out, "}\n\n");
	}
	for (int i = points; i < unit->point_count; i++)
		point(unit, &unit->points[i], out);
}
