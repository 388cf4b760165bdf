/* One derived fact, one line. */
#include "rendering.h"

static void put_if(hs_json_writer *w, const char *key, const char *text)
{
	if (text && *text)
		hs_json_put_string(w, key, text);
}

static void put_step(hs_json_writer *w, const char *key, const hs_playbook *playbook, int step)
{
	if (step >= 0 && (size_t)step < playbook->step_count)
		hs_json_put_string(w, key, playbook->steps[step].id);
}

static void put_suspects(hs_json_writer *w, const char *key, const hs_playbook *playbook, const int *list, size_t count)
{
	hs_json_open_array(w, key);
	for (size_t i = 0; i < count; i++)
		hs_json_put_string(w, NULL, playbook->suspects[list[i]].id);
	hs_json_close_array(w);
}

static const char *entry_kind_name(hs_entry_kind kind)
{
	static const char *const names[] = {"number", "above", "below", "over", "open", "unread"};
	return names[kind];
}

static void put_entry(hs_json_writer *w, const hs_entry *entry)
{
	hs_json_open_object(w, "entry");
	hs_json_put_string(w, "kind", entry_kind_name(entry->kind));
	if (entry->kind <= HS_ENTRY_BELOW) {
		hs_put_digits(w, "value", entry->quantity.value);
		hs_json_put_string(w, "unit", hs_unit_name(entry->quantity.unit));
	}
	if (entry->kind == HS_ENTRY_NUMBER)
		hs_put_digits(w, "step", entry->step);
	if (entry->kind == HS_ENTRY_UNREAD)
		put_if(w, "reason", entry->reason);
	hs_json_close_object(w);
}

static void put_instrument(hs_json_writer *w, const hs_reading *reading)
{
	if (!reading->hookup)
		return;
	hs_json_put_string(w, "hookup", reading->hookup->id);
	const hs_part *instrument = reading->hookup->instrument;
	if (!instrument)
		return;
	hs_json_open_object(w, "instrument");
	hs_json_put_string(w, "id", instrument->id);
	put_if(w, "title", instrument->title);
	put_if(w, "serial", instrument->serial);
	put_if(w, "due", instrument->due);
	hs_json_close_object(w);
}

static void put_corrections(hs_json_writer *w, const hs_correction *correction)
{
	hs_json_open_array(w, "corrections");
	for (size_t i = 0; i < correction->count; i++) {
		const hs_correction_line *line = &correction->lines[i];
		hs_json_open_object(w, NULL);
		if (line->part)
			hs_json_put_string(w, "part", line->part->id);
		put_if(w, "label", line->label);
		hs_put_digits(w, "db", line->db);
		hs_put_digits(w, "factor", line->factor);
		hs_put_digits(w, "u_db", line->u_db);
		if (line->ohm != 0 || line->u_ohm != 0) {
			hs_put_digits(w, "ohm", line->ohm);
			hs_put_digits(w, "u_ohm", line->u_ohm);
		}
		put_if(w, "source", line->source);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
	hs_put_digits(w, "total_db", correction->total_db);
	hs_put_digits(w, "total_factor", correction->total_factor);
}

static const char *shape_name(hs_shape shape)
{
	static const char *const names[] = {"rectangular", "triangular", "U-shaped", "normal k=2", "standard"};
	return names[shape];
}

static void put_budget(hs_json_writer *w, const hs_measure *measure)
{
	hs_put_digits(w, "U", measure->expanded);
	hs_json_put_string(w, "U_unit", hs_unit_name(measure->budget.unit));
	hs_json_open_array(w, "terms");
	for (size_t i = 0; i < measure->budget.count; i++) {
		const hs_term *term = &measure->budget.terms[i];
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "name", term->name);
		hs_put_digits(w, "half_width", term->half_width);
		hs_json_put_string(w, "shape", shape_name(term->shape));
		hs_put_digits(w, "sensitivity", term->sensitivity);
		hs_json_put_integer(w, "shared", term->shared);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
}

/* True when there is a number at the point at all. */
static bool has_value(const hs_measure *measure)
{
	return measure->derived != HS_DERIVE_NONE || measure->entry.kind <= HS_ENTRY_BELOW;
}

static void put_value(hs_json_writer *w, const hs_measure *measure)
{
	if (!has_value(measure))
		return;
	hs_put_digits(w, "value", measure->corrected.value);
	hs_json_put_string(w, "unit", hs_unit_name(measure->corrected.unit));
}

static void put_where(hs_json_writer *w, const hs_playbook *playbook, const hs_fact *fact)
{
	put_step(w, "step", playbook, fact->step);
	if (fact->reading)
		hs_json_put_string(w, "reading", fact->reading->name);
}

/* How the controls stood when this was read; one whose position is not known is left out. */
static void put_controls(hs_json_writer *w, const hs_engine *engine)
{
	const hs_bench_unit *unit = &hs_engine_playbook(engine)->unit;
	if (unit->control_count == 0)
		return;
	hs_json_open_object(w, "controls");
	for (int i = 0; i < unit->control_count; i++)
		put_if(w, unit->controls[i].id, hs_engine_control(engine, i));
	hs_json_close_object(w);
}

static void corrected(hs_json_writer *w, const hs_engine *engine, const hs_fact *fact)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	const hs_measure *measure = fact->measure;
	put_where(w, playbook, fact);
	if (measure->derived != HS_DERIVE_NONE) {
		hs_json_put_string(w, "derived", measure->derived == HS_DERIVE_RATIO ? "ratio" : "difference");
	} else {
		if (fact->reading) {
			hs_json_put_string(w, "reads", hs_measurand_name(fact->reading->reads));
			put_if(w, "at", fact->reading->at_text);
			put_if(w, "against", fact->reading->against);
			if (fact->reading->freq_hz > 0)
				hs_put_digits(w, "freq_hz", fact->reading->freq_hz);
			put_instrument(w, fact->reading);
			put_controls(w, engine);
		}
		put_if(w, "typed", fact->text);
		put_entry(w, &measure->entry);
		put_corrections(w, &measure->correction);
	}
	put_value(w, measure);
	put_budget(w, measure);
}

static void put_limits(hs_json_writer *w, const hs_limits *limits)
{
	hs_json_open_object(w, "limits");
	if (limits->has_low)
		hs_put_digits(w, "low", limits->low);
	if (limits->has_high)
		hs_put_digits(w, "high", limits->high);
	hs_json_put_string(w, "unit", hs_unit_name(limits->unit));
	if (limits->open_is_ok)
		hs_json_put_bool(w, "open_is_ok", true);
	hs_buf text;
	hs_buf_init(&text);
	hs_limits_print(&text, limits);
	hs_json_put_string(w, "text", text.data);
	hs_buf_free(&text);
	hs_json_close_object(w);
}

static void judged(hs_json_writer *w, const hs_playbook *playbook, const hs_fact *fact)
{
	const hs_measure *measure = fact->measure;
	put_where(w, playbook, fact);
	if (measure) {
		put_value(w, measure);
		if (measure->judged) {
			put_limits(w, &measure->limits);
			hs_put_digits(w, "U", measure->expanded);
			hs_json_put_string(w, "rule", HS_GUARD_BAND_RULE);
			hs_put_digits(w, "guard", measure->verdict.guard);
		}
	}
	hs_json_put_string(w, "outcome",
	                   hs_outcome_name(fact->has_outcome || !measure ? fact->outcome : measure->verdict.outcome));
	if (measure && measure->judged && measure->verdict.outcome == HS_UNSURE) {
		hs_json_put_string(w, "near", measure->verdict.near_high ? "high" : "low");
		hs_json_put_string(w, "side", measure->verdict.beyond ? "outside" : "inside");
		hs_put_digits(w, "probability", measure->verdict.probability);
	}
	put_if(w, "why", fact->why);
}

static void moved(hs_json_writer *w, const hs_playbook *playbook, const hs_fact *fact)
{
	put_step(w, "from", playbook, fact->step);
	put_step(w, "to", playbook, fact->to);
	if (fact->has_outcome)
		hs_json_put_string(w, "outcome", hs_outcome_name(fact->outcome));
	put_if(w, "word", fact->word);
	if (fact->branch) {
		put_suspects(w, "clears", playbook, fact->branch->clears, fact->branch->clear_count);
		put_suspects(w, "implicates", playbook, fact->branch->implicates, fact->branch->implicate_count);
	}
	put_if(w, "why", fact->why);
}

static void gate(hs_json_writer *w, const hs_fact *fact)
{
	put_if(w, "ask", fact->ask_id);
	hs_json_put_string(w, "before", hs_power_name(fact->before));
	hs_json_put_string(w, "after", hs_power_name(fact->after));
	hs_json_put_bool(w, "passed", fact->accepted);
	put_if(w, "text", fact->text);
	put_if(w, "why", fact->why);
}

static void openable(hs_json_writer *w, const hs_playbook *playbook, const hs_fact *fact)
{
	if (fact->item < 0 || fact->item >= playbook->unit.openable_count)
		return;
	const hs_openable *thing = &playbook->unit.openables[fact->item];
	hs_json_put_string(w, "id", thing->id);
	hs_json_put_string(w, "is", hs_openable_name(thing->kind));
	put_if(w, "title", thing->title);
	put_if(w, "fixings", thing->fixings);
	put_if(w, "torque", thing->torque);
}

static void asked(hs_json_writer *w, const hs_playbook *playbook, const hs_fact *fact)
{
	hs_json_put_string(w, "ask", fact->ask_id);
	put_step(w, "step", playbook, fact->step);
	put_if(w, "wanted", fact->text);
	if (fact->earliest_ms > 0)
		hs_json_put_integer(w, "earliest_ms", fact->earliest_ms);
}

static void finding(hs_json_writer *w, const hs_playbook *playbook, const hs_fact *fact)
{
	put_step(w, "step", playbook, fact->step);
	if (fact->step < 0 || (size_t)fact->step >= playbook->step_count)
		return;
	const hs_step *step = &playbook->steps[fact->step];
	hs_json_put_string(w, "title", hs_step_title(step));
	put_suspects(w, "suspects", playbook, step->suspects, step->suspect_count);
	hs_json_put_bool(w, "separated", !step->not_separated);
	put_if(w, "text", step->text);
	put_if(w, "proof", step->proof);
	put_if(w, "not_tested", step->not_tested);
	put_if(w, "advice", step->advice);
}

/* A list that is opened by its first text and left out when there is none. */
static void put_listed(hs_json_writer *w, const char *key, bool *any, hs_buf *text)
{
	if (!*any)
		hs_json_open_array(w, key);
	*any = true;
	hs_json_put_string(w, NULL, text->data);
	hs_buf_clear(text);
}

/* What still hangs on the unit, and what was turned and not put back. */
static void put_left(hs_json_writer *w, const hs_engine *engine)
{
	hs_buf text;
	hs_buf_init(&text);
	bool joined = false, turned = false;
	for (size_t i = 0; hs_engine_joined(engine, i, &text); i++)
		put_listed(w, "joined", &joined, &text);
	if (joined)
		hs_json_close_array(w);
	for (int i = 0; i < hs_engine_playbook(engine)->unit.control_count; i++)
		if (hs_engine_control_left(engine, i, &text))
			put_listed(w, "turned", &turned, &text);
	if (turned)
		hs_json_close_array(w);
	hs_buf_free(&text);
}

static void halted(hs_json_writer *w, const hs_engine *engine, const hs_fact *fact)
{
	put_if(w, "why", fact->why);
	put_if(w, "text", fact->text);
	hs_json_put_string(w, "power", hs_power_name(hs_engine_power(engine)));
	hs_put_openables(w, "open", hs_engine_playbook(engine), hs_engine_open_list(engine));
	put_left(w, engine);
}

static const char *line_kind(hs_fact_kind kind)
{
	static const char *const kinds[HS_FACT_KINDS] = {
	    [HS_SAYS_ASKED] = "asked",      [HS_SAYS_ANSWERED] = "answered",   [HS_SAYS_CORRECTED] = "corrected",
	    [HS_SAYS_JUDGED] = "judged",    [HS_SAYS_MOVED] = "moved",         [HS_SAYS_GATE] = "gate",
	    [HS_SAYS_OPENED] = "opened-up", [HS_SAYS_CLOSED_UP] = "closed-up", [HS_SAYS_NOTED] = "noted",
	    [HS_SAYS_REDONE] = "noted",     [HS_SAYS_SET_ASIDE] = "noted",     [HS_SAYS_WARNED] = "noted",
	    [HS_SAYS_PAUSED] = "paused",    [HS_SAYS_RESUMED] = "resumed",     [HS_SAYS_FINDING] = "finding",
	    [HS_SAYS_ENDED] = "closed",
	};
	return kinds[kind];
}

/* What has no figures of its own: remarks, warnings, answers taken back or set aside. */
static void said(hs_json_writer *w, const hs_fact *fact)
{
	if (fact->kind == HS_SAYS_WARNED)
		hs_json_put_bool(w, "warning", true);
	if (fact->kind == HS_SAYS_SET_ASIDE)
		hs_json_put_bool(w, "set_aside", true);
	if (fact->kind == HS_SAYS_REDONE)
		hs_json_put_bool(w, "retracted", true);
	put_if(w, "ask", fact->ask_id);
	put_if(w, "text", fact->text);
	put_if(w, "why", fact->why);
}

void hs_lines_fact(hs_lines *lines, const hs_engine *engine, const hs_fact *fact, const char *utc, int64_t mono_ms)
{
	const hs_playbook *playbook = hs_engine_playbook(engine);
	hs_line line;
	hs_line_begin(&line, lines, line_kind(fact->kind), NULL, utc, mono_ms);
	hs_json_writer *w = &line.writer;
	switch (fact->kind) {
	case HS_SAYS_ASKED:
		asked(w, playbook, fact);
		break;
	case HS_SAYS_CORRECTED:
		corrected(w, engine, fact);
		break;
	case HS_SAYS_JUDGED:
		judged(w, playbook, fact);
		break;
	case HS_SAYS_MOVED:
		moved(w, playbook, fact);
		break;
	case HS_SAYS_GATE:
		gate(w, fact);
		break;
	case HS_SAYS_OPENED:
	case HS_SAYS_CLOSED_UP:
		openable(w, playbook, fact);
		break;
	case HS_SAYS_FINDING:
		finding(w, playbook, fact);
		break;
	case HS_SAYS_PAUSED:
	case HS_SAYS_ENDED:
		halted(w, engine, fact);
		break;
	default:
		said(w, fact);
		break;
	}
	hs_line_end(&line);
}
