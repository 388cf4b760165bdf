/* What a person reads at each ask, in words a colleague would say aloud. */
#include "core/engine/free.h"
#include "halfsplit/judge/trace.h"

#include <string.h>

void hs_ask_words_free(hs_ask_words *words)
{
	hs_buf_free(&words->heading);
	hs_buf_free(&words->text);
	hs_buf_free(&words->caution);
	hs_buf_free(&words->hookup);
	hs_buf_free(&words->picture);
	hs_buf_free(&words->wanted);
	hs_buf_free(&words->help);
}

static void offer(hs_ask_words *words, const char *word, const char *text)
{
	if (words->choice_count < sizeof words->choices / sizeof words->choices[0]) {
		words->choices[words->choice_count].word = word;
		words->choices[words->choice_count].text = text;
		words->choice_count++;
	}
}

static void want_done(hs_ask_words *words)
{
	hs_buf_str(&words->wanted, "done");
	offer(words, "done", NULL);
}

static const char *thing_title(const hs_openable *thing)
{
	return thing->title != NULL ? thing->title : thing->id;
}

static void offer_stock(hs_ask_words *words, const char *const *sentences)
{
	while (*sentences != NULL && words->stock_count < sizeof words->stock / sizeof words->stock[0])
		words->stock[words->stock_count++] = *sentences++;
}

static void intake_words(const hs_playbook *playbook, int item, hs_ask_words *out)
{
	static const struct { const char *heading, *text, *wanted, *help, *stock[8]; } rows[HS_INTAKE_COUNT] = {
		{"The owner's words", "What does the owner say is wrong?", "a sentence", "Their words, not yours; they often hold the one thing no reading shows.",
			{"nothing was said", "dead, no sign of life", "too weak or too low", "noisy or distorted", "works at times", "smoke or a smell"}},
		{"What is seen", "Look the unit over, unopened. What do you see, hear or smell?", "a sentence", "Dents, scorch, missing screws, a fuse that was changed; \"nothing\" is an answer.",
			{"nothing", "dents or scratches", "scorched, or it smells", "screws or parts missing", "wet or dirty"}},
		{"Seals", "Which seals or stickers does it carry, and are they whole?", "a sentence", "A broken seal that is noted now was not broken by you.", {"none", "whole", "broken"}},
		{"What must not be lost", "What must not be lost: settings, stored data, a calibration?", "a sentence", "Write down settings before anything is switched or opened; \"none\" is an answer.",
			{"nothing", "settings, written down", "stored data", "a calibration"}},
		{"First of all", "", "done", "These come first, so that the unit harms itself no further.", {NULL}},
	};
	hs_buf_str(&out->heading, rows[item].heading);
	hs_buf_str(&out->text, rows[item].text);
	hs_buf_str(&out->help, rows[item].help);
	offer_stock(out, rows[item].stock);
	if (item != HS_INTAKE_FIRST) {
		hs_buf_str(&out->wanted, rows[item].wanted);
		return;
	}
	hs_buf_str(&out->text, "So that the unit harms itself no further:");
	for (size_t i = 0; i < playbook->first_count; i++)
		hs_buf_printf(&out->text, "\n%zu. %s", i + 1, playbook->first[i]);
	want_done(out);
}

static void symptom_words(const hs_symptom *symptom, hs_ask_words *out)
{
	hs_buf_str(&out->heading, "The fault shown");
	hs_buf_printf(&out->text, "The fault to be shown: %s", symptom->shows);
	if (symptom->under != NULL)
		hs_buf_printf(&out->text, "\nUnder these conditions: %s", symptom->under);
	hs_buf_str(&out->text, "\nTry it ");
	hs_buf_printf(&out->text, symptom->tries == 1 ? "once" : symptom->tries == 2 ? "twice" : "%d times", symptom->tries);
	hs_buf_str(&out->text, ". How often did it show?");
	hs_buf_printf(&out->wanted, "a count such as %d of %d", symptom->tries, symptom->tries);
	hs_buf_str(&out->help, "A fault that cannot be shown cannot be traced, and cannot be shown to be gone afterwards. 0 of n is an honest answer.");
}

/* Who was at the bench in this run, the person who is there now among them. */
static void offer_names(const hs_engine *engine, hs_ask_words *out)
{
	offer(out, engine->by, NULL);
	for (size_t i = engine->log_count; i-- > 0 && out->choice_count < 4;) {
		bool known = engine->log[i].by[0] == '\0';
		for (size_t k = 0; k < out->choice_count && !known; k++)
			known = strcmp(out->choices[k].word, engine->log[i].by) == 0;
		if (!known)
			offer(out, engine->log[i].by, NULL);
	}
}

static void gate_words(const hs_engine *engine, const hs_gate *gate, hs_ask_words *out)
{
	const hs_bench_unit *unit = &engine->playbook->unit;
	hs_gate_words words;
	memset(&words, 0, sizeof words);
	hs_gate_describe(unit, gate, &words);
	hs_buf_printf(&out->heading, "Gate: %s", hs_gate_state(unit, gate));
	hs_buf_str(&out->text, words.text.data != NULL ? words.text.data : "");
	hs_buf_str(&out->caution, words.caution.data != NULL ? words.caution.data : "");
	out->brief = words.brief;
	out->is_gate = true;
	switch (words.answer) {
	case HS_GATE_WORD:
		for (size_t i = 0; i < 4 && words.words[i] != NULL; i++) {
			offer(out, words.words[i], NULL);
			hs_buf_printf(&out->wanted, "%s%s", i == 0 ? "" : " or ", words.words[i]);
		}
		break;
	case HS_GATE_NAME:
		hs_buf_str(&out->wanted, "your own name");
		offer_names(engine, out);
		break;
	case HS_GATE_TEXT: hs_buf_str(&out->wanted, "a few words"); break;
	case HS_GATE_WHO: hs_buf_str(&out->wanted, "a name"); break;
	case HS_GATE_VALUE:
		hs_buf_printf(&out->wanted, words.unit == HS_UNITLESS ? "a number" : "a value in %s", hs_unit_name(words.unit));
		out->bare = words.unit;
		break;
	case HS_GATE_VOLTS:
		hs_buf_str(&out->wanted, "a reading in V");
		out->bare = HS_VOLT;
		break;
	case HS_GATE_OHMS:
		hs_buf_str(&out->wanted, "a resistance in ohm");
		out->bare = HS_OHM;
		break;
	case HS_GATE_WATTS:
		hs_buf_str(&out->wanted, "a power in W");
		out->bare = HS_WATT;
		break;
	}
	hs_buf_str(&out->help, "A gate asks for one fact about the unit in front of you. Enter alone never passes it, and there is no way round; "
	                       "`leave` is always possible.");
	hs_buf_free(&words.text);
	hs_buf_free(&words.caution);
}

/* What the step itself knows of a gate: which load it is, and how low is low. */
static void gate_of_step(const hs_step *step, hs_gate_fact fact, hs_ask_words *out)
{
	const double lower_db = 20.0;
	const hs_injection *inject = &step->inject;
	if (fact == HS_FACT_LOAD && step->load != NULL)
		hs_buf_printf(&out->text, "\nThe load of this step: %s. If another is on, take it off and fit this one.", step->load);
	if (fact != HS_FACT_LOAD_LOW || !inject->given || inject->level.unit != HS_DBM)
		return;
	hs_buf_str(&out->text, "\nLow is 20 dB under what the step asks for: ");
	hs_quantity_print(&out->text, (hs_quantity){inject->level.value - lower_db, HS_DBM}, -1);
	hs_buf_printf(&out->text, " at %s; key only as long as it takes to see.", inject->at_text);
}

static void opening_words(const hs_playbook *playbook, const hs_ask *ask, hs_ask_words *out)
{
	const hs_bench_unit *unit = &playbook->unit;
	bool wished = ask->step >= 0 && playbook->steps[ask->step].kind == HS_STEP_REACH && (playbook->steps[ask->step].undoes >> ask->item & 1u);
	const hs_openable *thing = &unit->openables[ask->item];
	bool cover = thing->kind == HS_OPEN_COVER;
	if (ask->kind == HS_ASK_OPEN && thing->kind == HS_OPEN_JOINT) {
		hs_buf_printf(&out->heading, "Part: %s", thing_title(thing));
		hs_buf_printf(&out->text, "Part %s%s%s%s.", thing_title(thing), thing->connector != NULL ? " (" : "",
		              thing->connector != NULL ? thing->connector : "", thing->connector != NULL ? ")" : "");
		if (thing->terminate != NULL)
			hs_buf_printf(&out->text, " Terminate the side that is not used: %s.", thing->terminate);
	} else if (ask->kind == HS_ASK_OPEN) {
		hs_buf_printf(&out->heading, "Open: %s", thing_title(thing));
		hs_buf_printf(&out->text, "Take off %s%s%s%s.", thing_title(thing), thing->fixings != NULL ? " (" : "",
		              thing->fixings != NULL ? thing->fixings : "", thing->fixings != NULL ? ")" : "");
		hs_buf_str(&out->text, " Keep its fixings together.");
	} else {
		hs_buf_printf(&out->heading, "Close: %s", thing_title(thing));
		hs_buf_printf(&out->text, cover ? "Fit %s again" : "Undo this: %s", thing_title(thing));
		if (cover && thing->fixings != NULL)
			hs_buf_printf(&out->text, ", with all its fixings (%s)", thing->fixings);
		if (thing->kind == HS_OPEN_JOINT && thing->terminate != NULL)
			hs_buf_str(&out->text, " and take the termination away");
		if ((cover || thing->kind == HS_OPEN_JOINT) && thing->torque != NULL)
			hs_buf_printf(&out->text, ", %s", thing->torque);
		hs_buf_str(&out->text, wished ? "." : ". The next step powers the unit and does not name it as open.");
	}
	want_done(out);
	hs_buf_str(&out->help, "What is open, fitted or lifted stays on the open list until it is undone; power comes back only when the step names what is still open.");
}

static void control_words(const hs_bench_unit *unit, const hs_ask *ask, hs_ask_words *out)
{
	const hs_control *control = &unit->controls[ask->item];
	const char *title = control->title != NULL ? control->title : control->id;
	if (ask->kind == HS_ASK_STANDS) {
		hs_buf_printf(&out->heading, "Where it stands: %s", title);
		hs_buf_printf(&out->text, "Where does %s stand now?", title);
		for (int i = 0; i < control->position_count; i++)
			offer(out, control->positions[i], NULL);
		offer(out, "unknown", "it cannot be seen");
		hs_buf_str(&out->wanted, "one of these, or its number");
		hs_buf_str(&out->help, "It goes back there at the end.");
		return;
	}
	hs_buf_printf(&out->heading, "Set: %s", title);
	hs_buf_printf(&out->text, ask->step >= 0 ? "Set %s to %s." : "Put %s back to %s, where the owner had it.", title,
	              control->positions[ask->position - 1]);
	want_done(out);
	hs_buf_str(&out->help, "Only what has to change is asked; every reading keeps how the controls stood.");
}

/* freq_hz: of this row of a grid, or that of the injection. */
static void add_source_line(const hs_injection *given, double freq_hz, hs_buf *out)
{
	hs_injection at = *given;
	const hs_injection *inject = &at;
	at.freq_hz = freq_hz;
	hs_error ignored = {0};
	hs_correction correction;
	hs_quantity setting = inject->level;
	bool known = inject->hookup != NULL && hs_hookup_correct(inject->hookup, HS_READS_POWER, inject->freq_hz, &correction, &ignored);
	if (known)
		setting = hs_correct_source(&correction, inject->level);
	hs_buf_printf(out, "Set %s to ", inject->hookup != NULL && inject->hookup->instrument != NULL ? inject->hookup->instrument->id : "the source");
	hs_quantity_print(out, setting, hs_unit_is_level(setting.unit) ? 2 : -1);
	if (inject->freq_hz > 0.0) {
		hs_buf_str(out, " at ");
		hs_quantity_print(out, (hs_quantity){inject->freq_hz, HS_HERTZ}, -1);
	}
	hs_buf_str(out, ": ");
	hs_quantity_print(out, inject->level, -1);
	hs_buf_printf(out, " at %s", inject->at_text);
	if (known) {
		hs_buf_str(out, " + ");
		hs_quantity_print(out, (hs_quantity){correction.total_db, HS_DB}, 2);
		hs_buf_str(out, " that the lead takes");
	}
	hs_buf_char(out, '.');
}

static void draw(const hs_hookup *hookup, hs_measurand reads, double freq_hz, const char *point, bool inject, hs_buf *out)
{
	hs_correction correction;
	hs_error ignored = {0};
	if (hookup != NULL && hs_hookup_correct(hookup, reads, freq_hz, &correction, &ignored))
		hs_hookup_draw(hookup, &correction, point != NULL ? point : "?", inject, out);
}

/* How it stands before a lead goes on: "With the power off". */
static const char *before_joining(const hs_engine *engine)
{
	if (engine->state->physical.power >= HS_POWER_OFF)
		return "With the power off";
	return engine->playbook->unit.emitter_count > 0 ? "With the key released" : "Before anything is read";
}

static void join_meter_words(const hs_engine *engine, const hs_step *step, const hs_reading *reading, hs_ask_words *out)
{
	bool keyed = hs_step_need(engine->playbook, step) == HS_NEED_KEYED;
	hs_buf_str(&out->heading, "Join the meter");
	if (step->attach_dead)
		hs_buf_printf(&out->text, "While the unit is proved dead: attach %s to %s%s%s so that it stays by itself. Hands stay out once power is back.",
		              reading->hookup_name, reading->at_text, reading->against != NULL ? " and " : "",
		              reading->against != NULL ? reading->against : "");
	else if (hs_hookup_touches(reading->hookup))
		hs_buf_printf(&out->text, "%s, put %s on %s so that it stays by itself.", before_joining(engine), reading->hookup_name, reading->at_text);
	else
		hs_buf_printf(&out->text, "%s, join %s to %s.", before_joining(engine), reading->hookup_name, reading->at_text);
	if (keyed)
		hs_buf_str(&out->caution, "Once it is keyed nothing is joined, parted or held to a point any more.");
	draw(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, reading->at_text, false, &out->hookup);
}

static void join_words(const hs_engine *engine, const hs_step *step, int item, hs_ask_words *out)
{
	if (item == 0) {
		const hs_injection *inject = &step->inject;
		hs_buf_str(&out->heading, "Join the source");
		hs_buf_printf(&out->text, "With the source's output off%s, join %s to %s. ",
		              hs_step_need(engine->playbook, step) == HS_NEED_KEYED ? " and the key released" : "", inject->hookup_name, inject->at_text);
		add_source_line(inject, inject->freq_hz, &out->text);
		hs_buf_str(&out->text, hs_drive_transmits(&engine->playbook->unit) >= 0 ? " Leave its output off: drive alone makes the unit transmit, so it goes on only when it is keyed."
		                                                                       : " Then switch its output on.");
		hs_buf_str(&out->caution, "Output off, DC on the centre conductor off, loose cable discharged before it is joined.");
		draw(inject->hookup, HS_READS_POWER, inject->freq_hz, inject->at_text, true, &out->hookup);
	} else {
		join_meter_words(engine, step, &step->readings[item - 1], out);
	}
	want_done(out);
	hs_buf_str(&out->help, "A lead is joined before power or signal is there, never under it.");
}

static void forms_of_entry(const hs_reading *reading, hs_buf *help)
{
	const char *unit = hs_unit_name(reading->unit);
	hs_buf_printf(help, "\nA bare number is taken as %s.", unit[0] != '\0' ? unit : "it stands");
	hs_buf_str(help, " Also understood: another unit or prefix, a bound (> 20 M), OL, and `not read: why`.");
}

/* An adjustment with several readings is turned once a round, and not between them. */
static void turning_words(const hs_step *step, int item, int tries, hs_ask_words *out)
{
	if (step->text != NULL && item == 0)
		hs_buf_printf(&out->text, "%s\n", step->text);
	else if (item > 0)
		hs_buf_str(&out->text, "As it stands, without turning anything: ");
	hs_buf_printf(&out->text, "%s %d of at most %d. ", step->reading_count > 1 ? "Round" : "Reading", tries + 1, step->tries);
	if (step->watch)
		hs_buf_str(&out->caution, "When a reading leaves its limits, stop and turn back at once; type it then.");
}

static const char *what_to_read(hs_measurand reads)
{
	switch (reads) {
	case HS_READS_PEAK: return "Find the frequency of the peak";
	case HS_READS_DIP: return "Find the frequency of the dip";
	case HS_READS_RATE: return "Read how fast it changes";
	case HS_READS_MINIMUM: return "Read the lowest value it comes to";
	case HS_READS_MAXIMUM: return "Read the highest value it comes to";
	case HS_READS_TREND: return "See whether it rises or falls";
	case HS_READS_TICK: return "Look";
	case HS_READS_TRACE: return "Sweep, save the trace";
	default: return "Read ";
	}
}

/* How long at most, wherever a step keys; the release is asked behind it. */
static void key_words(const hs_playbook *playbook, const hs_step *step, const char *then, hs_ask_words *out)
{
	if (step->emitter < 0 || hs_step_need(playbook, step) != HS_NEED_KEYED)
		return;
	hs_buf_printf(&out->text, "Key %s for at most %g s, %s, release the key, then type. ", playbook->unit.emitters[step->emitter].id,
	              hs_step_key_seconds(&playbook->unit, step), then);
	hs_buf_printf(&out->caution, "%sNothing is joined or parted while it is keyed. Local rules on exposure come first.",
	              out->caution.length > 0 ? " " : "");
}

static void reading_words(const hs_playbook *playbook, const hs_ask *ask, const hs_state *state, hs_ask_words *out)
{
	const hs_step *step = &playbook->steps[ask->step];
	const hs_reading *reading = &step->readings[ask->item];
	/* A source that was set for the first round stays as it is in the others. */
	bool first_round = step->kind != HS_STEP_ADJUST || (state->tries == 0 && ask->item == 0);
	if (step->inject.given && first_round) {
		add_source_line(&step->inject, reading->source_hz > 0.0 ? reading->source_hz : step->inject.freq_hz, &out->text);
		hs_buf_char(&out->text, '\n');
	}
	if (step->kind == HS_STEP_ADJUST)
		turning_words(step, ask->item, state->tries, out);
	else if (step->text != NULL)
		hs_buf_printf(&out->text, "%s\n", step->text);
	if (reading->row > 0 && step->rows[reading->row - 1].name != NULL)
		hs_buf_printf(&out->text, "Row %s: ", step->rows[reading->row - 1].name);
	key_words(playbook, step, "read", out);
	if (reading->asks != NULL) {
		hs_buf_str(&out->text, reading->asks);
	} else {
		hs_buf_str(&out->text, what_to_read(reading->reads));
		if (reading->reads < HS_READS_PEAK)
			hs_buf_str(&out->text, hs_measurand_name(reading->reads));
		if (reading->at_text != NULL)
			hs_buf_printf(&out->text, " at %s", reading->at_text);
		if (reading->against != NULL)
			hs_buf_printf(&out->text, " against %s", reading->against);
		if (reading->freq_hz > 0.0) {
			hs_buf_str(&out->text, " at ");
			hs_quantity_print(&out->text, (hs_quantity){reading->freq_hz, HS_HERTZ}, -1);
		}
		if (reading->hookup_name != NULL)
			hs_buf_printf(&out->text, " with %s", reading->hookup_name);
		hs_buf_char(&out->text, '.');
	}
	if (reading->loose && reading->leads == HS_LEADS_NONE)
		hs_buf_str(&out->text, " It lies on the mat, out of the unit.");
	if (reading->held != NULL)
		hs_buf_printf(&out->text, " Hold %s down meanwhile.", reading->held);
	if (reading->within_s > 0.0)
		hs_buf_printf(&out->text, " Take it within %g s.", reading->within_s);
	if (reading->reads == HS_READS_TREND) {
		offer(out, "rising", NULL);
		offer(out, "steady", NULL);
		offer(out, "falling", NULL);
	}
	if (reading->reads == HS_READS_TICK) {
		offer(out, "yes", NULL);
		offer(out, "no", NULL);
		offer(out, "cannot tell", NULL);
	}
	if (reading->settle_s > 0.0)
		hs_buf_printf(&out->text, " Let it settle for %g s.", reading->settle_s);
	draw(reading->hookup, hs_reading_measurand(reading), reading->freq_hz, reading->at_text, false, &out->hookup);
	out->bare = reading->unit;
	const char *unit = hs_unit_name(reading->unit);
	hs_buf_printf(&out->wanted, "%s%s%s%s", hs_measurand_name(reading->reads), unit[0] != '\0' ? " in " : "", unit,
	              reading->hookup_name != NULL ? " as the instrument shows it" : "");
	if (reading->mask != NULL) {
		hs_buf_clear(&out->wanted);
		hs_buf_printf(&out->wanted, "the file of the trace, from %.10g Hz to %.10g Hz, levels in %s", reading->mask->points[0].hz,
		              reading->mask->points[reading->mask->count - 1].hz, unit);
		hs_buf_printf(&out->help, "One frequency and one level a line, as the instrument saves it. Every point is corrected and held against the mask %s.",
		              reading->mask->file);
		out->bare = HS_UNIT_COUNT;
		out->is_file = true;
		return;
	}
	if (reading->has_limits && reading->leads != HS_LEADS_PROVE) {
		hs_buf_str(&out->help, reading->leads == HS_LEADS_NONE ? "A healthy unit shows " : "Good is ");
		hs_limits_print(&out->help, &reading->limits);
		hs_buf_str(&out->help, " here. ");
	}
	if (reading->hookup != NULL && reading->leads != HS_LEADS_STRAIGHT)
		hs_buf_str(&out->help, "Type what the instrument shows; the hookup is taken off by halfsplit.");
	forms_of_entry(reading, &out->help);
}

/* The step's own mark, else that of the point it reads at; else the whole picture. */
static void picture_words(const hs_playbook *playbook, const hs_ask *ask, hs_buf *out)
{
	const hs_step *step = &playbook->steps[ask->step];
	if (step->see == 0)
		return;
	const hs_picture *picture = &playbook->pictures[step->see - 1];
	const hs_picture_mark *mark = step->mark > 0 ? &picture->marks[step->mark - 1] : NULL;
	size_t item = ask->kind == HS_ASK_READ && ask->item > 0 ? (size_t)ask->item : 0;
	const char *at = item < step->reading_count ? step->readings[item].at_text : NULL;
	for (size_t i = 0; mark == NULL && at != NULL && i < picture->mark_count; i++)
		if (strcmp(picture->marks[i].id, at) == 0)
			mark = &picture->marks[i];
	if (mark != NULL)
		hs_buf_printf(out, "%s, %s (%s)", mark->id, mark->words, picture->file);
	else
		hs_buf_printf(out, "%s (%s)", picture->title != NULL ? picture->title : picture->id, picture->file);
}

static void step_words(const hs_engine *engine, const hs_ask *ask, hs_ask_words *out)
{
	const hs_step *step = &engine->playbook->steps[ask->step];
	hs_buf_str(&out->heading, hs_step_title(step));
	if (step->helper != NULL)
		hs_buf_printf(&out->caution, "A second person is needed here: %s\n", step->helper);
	picture_words(engine->playbook, ask, &out->picture);
	if (step->note != NULL)
		hs_buf_printf(&out->help, "%s\n", step->note);
	if (ask->kind == HS_ASK_READ) {
		reading_words(engine->playbook, ask, engine->state, out);
		return;
	}
	if (ask->kind == HS_ASK_CHOOSE)
		key_words(engine->playbook, step, "look", out);
	if (step->text != NULL)
		hs_buf_str(&out->text, step->text);
	switch (ask->kind) {
	case HS_ASK_AGAIN: {
		const hs_step *late = &engine->playbook->steps[ask->item];
		hs_buf_printf(&out->text, "%sToo much time went by before %s was read: do this once more, then read at once.", step->text != NULL ? "\n" : "",
		              late->id);
		want_done(out);
		break;
	}
	case HS_ASK_TOLD:
		out->enter_ok = true;
		hs_buf_str(&out->wanted, "Enter");
		break;
	case HS_ASK_CHOOSE:
		for (size_t i = 0; i < step->choice_count; i++)
			offer(out, step->choices[i].word, step->choices[i].text);
		hs_buf_str(&out->wanted, "one of these, or its number");
		break;
	case HS_ASK_FITTED:
		hs_buf_printf(&out->text, "%sReplace %s. What was fitted?", step->text != NULL ? "\n" : "", step->replaces);
		hs_buf_str(&out->wanted, "part number, lot or serial");
		offer_stock(out, (const char *const[]){"the old part, tried again", "a new part of the same type", "a used part of the same type", "an equivalent", NULL});
		hs_buf_str(&out->help, step->voids_some ? "A replaced part voids the readings it touches." : "A replaced part voids every reading taken before it.");
		break;
	case HS_ASK_WAITED:
		hs_buf_printf(&out->text, "%sWait ", step->text != NULL ? "\n" : "");
		if (step->wait_s >= 120.0)
			hs_buf_printf(&out->text, "%g min", step->wait_s / 60.0);
		else
			hs_buf_printf(&out->text, "%g s", step->wait_s);
		hs_buf_str(&out->text, ".");
		want_done(out);
		break;
	default: want_done(out); break;
	}
}

static void part_words(const hs_engine *engine, int item, hs_ask_words *out)
{
	const hs_joined *joined = item == 0 ? &engine->state->source : &engine->state->meters[-1 - item];
	const char *at = joined->point >= 0 ? engine->playbook->unit.points[joined->point].id : joined->at_text != NULL ? joined->at_text : "the unit";
	hs_buf_str(&out->heading, item == 0 ? "Take the source off" : "Take the hookup off");
	hs_buf_printf(&out->text, item == 0 ? "Switch the source's output off, then take %s off %s." : "While the unit is proved dead, take %s off %s.",
	              joined->hookup->id, at);
	want_done(out);
	hs_buf_str(&out->help, item == 0 ? "A source left on a unit feeds it, and its lead shows in every resistance."
	                                 : "It was attached inside a guarded zone, so it comes off the way it went on.");
}

/* Between an act and its reading may lie a dozen gates; each says what it is all for. */
static void say_purpose(const hs_engine *engine, const hs_ask *ask, hs_buf *out)
{
	const hs_state *state = engine->state;
	bool on_the_way = ask->kind == HS_ASK_GATE || ask->kind == HS_ASK_OPEN || ask->kind == HS_ASK_CLOSE || ask->kind == HS_ASK_PART ||
	                  ask->kind == HS_ASK_SET;
	if (engine->free == NULL || !on_the_way || state->step <= 0 || state->leaving || state->stopping || state->finding >= 0)
		return;
	hs_buf_printf(out, "\nFor: %s.", hs_step_title(&engine->playbook->steps[state->step]));
}

void hs_engine_words(const hs_engine *engine, const hs_ask *ask, hs_ask_words *out)
{
	const hs_playbook *playbook = engine->playbook;
	memset(out, 0, sizeof *out);
	hs_buf *bufs[] = {&out->heading, &out->text, &out->caution, &out->hookup, &out->picture, &out->wanted, &out->help};
	for (size_t i = 0; i < sizeof bufs / sizeof bufs[0]; i++)
		hs_buf_init(bufs[i]);
	out->bare = HS_UNIT_COUNT;
	switch (ask->kind) {
	case HS_ASK_NONE: break;
	case HS_ASK_INTAKE: intake_words(playbook, ask->item, out); break;
	case HS_ASK_SHOWN: symptom_words(&playbook->symptom, out); break;
	case HS_ASK_ENTRY:
		hs_buf_str(&out->heading, "Where to begin");
		hs_buf_str(&out->text, "Which check does the unit fail?");
		for (size_t i = 0; i < playbook->entry_count; i++)
			offer(out, playbook->entries[i].word, playbook->entries[i].text);
		hs_buf_str(&out->wanted, "one of these, or its number");
		break;
	case HS_ASK_UNIT: hs_free_unit_words(engine, ask->item, out); break;
	case HS_ASK_ACT: hs_free_words(engine, out); break;
	case HS_ASK_GATE:
		gate_words(engine, &ask->gate, out);
		if (ask->step >= 0)
			gate_of_step(&playbook->steps[ask->step], ask->gate.fact, out);
		if (ask->gate.fact == HS_FACT_LIVE_WHY && ask->step >= 0 && playbook->steps[ask->step].live_why != NULL)
			hs_buf_printf(&out->text, "\nThe playbook says why it cannot be dead: %s", playbook->steps[ask->step].live_why);
		break;
	case HS_ASK_OPEN:
	case HS_ASK_CLOSE: opening_words(playbook, ask, out); break;
	case HS_ASK_PART: part_words(engine, ask->item, out); break;
	case HS_ASK_STANDS:
	case HS_ASK_SET: control_words(&playbook->unit, ask, out); break;
	case HS_ASK_JOIN: join_words(engine, &playbook->steps[ask->step], ask->item, out); break;
	case HS_ASK_STOPPED:
		hs_buf_str(&out->heading, "After the stop");
		hs_buf_str(&out->text, "The power is off. What happened?");
		hs_buf_str(&out->wanted, "a sentence");
		offer_stock(out, (const char *const[]){"nothing to add", "smoke", "a smell", "a shock", "arcing", NULL});
		break;
	case HS_ASK_BLOCKED:
		hs_buf_str(&out->heading, "No way on");
		hs_buf_str(&out->text, "This playbook leads nowhere from here. Leave, and tell its author.");
		break;
	default: step_words(engine, ask, out); break;
	}
	say_purpose(engine, ask, &out->text);
}
