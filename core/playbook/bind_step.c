/* step "ID" { ... }: what kind it is, what every kind may say, and the kinds that measure nothing. */
#include <lauxlib.h>
#include <string.h>
#include "names.h"

static const char *const common_words[] = {"title",   "note",    "power", "zone",   "outside", "open",   "with",
                                           "minutes", "inject",  "load",  "key",    "most",    "beyond", "attach",
                                           "live",    "unshort", "set",   "breaks", "passed",  "not_yet",
                                           "helper",  "see",     "mark",  "substance"};
static const char *const end_words[] = {"title", "note", "passed", "not_yet"};
static const char *const tell_words[] = {"tell", "next"};
static const char *const read_words[] = {"read",  "limits", "plausible", "low",        "ok",
                                         "high",  "unsure", "unread",    "otherwise",  "next",
                                         "reuse", "holds",  "uses",      "difference", "ratio",
                                         "expect"};
static const char *const look_words[] = {"look", "answers"};
static const char *const compare_words[] = {"compare", "same", "different", "unclear"};
static const char *const act_words[] = {"act", "makes", "undoes", "next", "cures"};
static const char *const wait_words[] = {"wait", "text", "next"};
static const char *const adjust_words[] = {"adjust", "read",   "limits", "plausible", "responds", "tries", "low", "ok",
                                           "high",   "unsure", "unread", "otherwise", "reuse",    "holds", "uses",  "cures",
                                           "expect"};
static const char *const watch_words[] = {"watch", "read",   "limits", "plausible", "tries", "low", "ok",
                                          "high",  "unsure", "unread", "otherwise", "holds", "uses", "expect"};
static const char *const checklist_words[] = {"checklist", "low",   "ok",     "high", "unsure", "unread",
                                              "otherwise", "holds", "decide", "uses", "to"};
static const char *const grid_words[] = {"grid",      "low",  "ok",    "high",   "unsure", "unread",
                                         "otherwise", "next", "holds", "decide", "uses",   "to"};
static const char *const collect_words[] = {"collect", "low",   "ok",    "high",   "unsure", "unread", "otherwise",
                                            "next",    "reuse", "holds", "decide", "uses",   "to"};
static const char *const decide_words[] = {"decide", "uses", "to", "most", "beyond", "minutes"};
static const char *const replace_words[] = {"replace", "text", "next", "voids", "retest", "cures"};
static const char *const zero_words[] = {"zero", "limits", "low", "ok", "high", "unsure", "unread", "otherwise", "uses"};
static const char *const straight_step_words[] = {"straight", "limits", "low", "ok", "high", "unsure", "unread", "otherwise", "uses"};
static const char *const prove_words[] = {"prove", "low", "ok", "high", "unsure", "unread", "otherwise"};
static const char *const finding_words[] = {"finding", "suspects", "separated", "proof", "not_tested", "advice"};
static const char *const inject_words[] = {"at", "freq", "hookup", "margin", "crest"};
static const char *const load_words[] = {"at", "rated", "time"};
enum { PASSED_MOST = 64 };

/* ---- what every kind may say ---- */

static void read_inject(const hs_table *table, hs_step *step)
{
	hs_injection *inject = &step->inject;
	hs_table sub = hs_table_sub(table, "inject", false);
	inject->point = -1;
	if (sub.index == 0)
		return;
	hs_table_known(&sub, "\"inject\"", 1, (hs_words[]){HS_WORDS(inject_words)}, 1);
	inject->where = hs_table_where(table, "inject");
	if (!hs_table_has(&sub, "[1]"))
		hs_table_problem(&sub, NULL, "\"inject\" does not say what level goes in");
	inject->given = hs_table_level(&sub, "[1]", &inject->level);
	inject->at_text = hs_table_text(&sub, "at");
	if (inject->at_text)
		inject->point = hs_find_point(&sub, "at", inject->at_text, true);
	else if (!hs_table_has(&sub, "at"))
		hs_table_problem(&sub, NULL, "\"inject\" does not say at which point");
	hs_table_positive(&sub, "freq", HS_HERTZ, &inject->freq_hz);
	hs_table_positive(&sub, "crest", HS_DB, &inject->crest_db);
	inject->hookup_name = hs_table_text(&sub, "hookup");
	if (inject->hookup_name)
		inject->hookup = hs_find_hookup(&sub, "hookup", inject->hookup_name);
	else if (!hs_table_has(&sub, "hookup"))
		hs_table_problem(&sub, NULL, "\"inject\" does not say through which hookup");
	inject->margin_why = hs_table_text(&sub, "margin");
	inject->has_margin = inject->margin_why != NULL;
	hs_table_done(&sub);
}

static int find_emitter(const hs_table *table, const char *key)
{
	const hs_bench_unit *unit = &table->build->playbook->unit;
	const char *name = hs_table_text(table, key);
	const char *known[64];
	size_t count = 0;
	for (int i = 0; name && i < unit->emitter_count; i++) {
		if (strcmp(unit->emitters[i].id, name) == 0)
			return i;
		if (count < sizeof known / sizeof *known)
			known[count++] = unit->emitters[i].id;
	}
	if (name) {
		hs_problem *problem = hs_table_problem(table, key, "the unit does not say that \"%s\" emits", name);
		const char *nearest = hs_build_near(table->build, name, known, count);
		if (nearest)
			hs_problem_hint(problem, "did you mean \"%s\"?", nearest);
		else
			hs_problem_hint(problem, "add emits = { %s = { rf = \"50 W\" } } to the unit", name);
	}
	return -1;
}

static void read_load(const hs_table *table, hs_step *step)
{
	hs_table sub = hs_table_sub(table, "load", false);
	step->emitter = -1;
	if (sub.index) {
		hs_table_known(&sub, "\"load\"", 1, (hs_words[]){HS_WORDS(load_words)}, 1);
		step->load = hs_table_text(&sub, "[1]");
		if (!hs_table_has(&sub, "[1]"))
			hs_table_problem(&sub, NULL, "\"load\" does not say what it is: { \"50 ohm\", at = ... }");
		if (hs_table_has(&sub, "at"))
			step->emitter = find_emitter(&sub, "at");
		else
			hs_table_problem(&sub, NULL, "\"load\" does not say at which point it is fitted");
		hs_table_positive(&sub, "rated", HS_WATT, &step->load_watts);
		hs_table_positive(&sub, "time", HS_SECOND, &step->load_seconds);
	}
	hs_table_done(&sub);
	if (!hs_table_positive(table, "key", HS_SECOND, &step->key_seconds) || step->emitter < 0)
		return;
	const hs_emitter *emitter = &table->build->playbook->unit.emitters[step->emitter];
	if (step->key_seconds > emitter->key_seconds) {
		hs_problem *problem = hs_table_problem(
		    table, "key", "the step \"%s\" keys for longer than \"%s\" may be keyed", step->id, emitter->id);
		hs_problem_hint(problem, "at most %g s, as the unit says", emitter->key_seconds);
	}
}

/* The stores across which this step reads: their short is no use during the reading. */
static void read_unshort(const hs_table *table, hs_step *step)
{
	const hs_bench_unit *unit = &table->build->playbook->unit;
	size_t count;
	const char **names = hs_table_texts(table, "unshort", &count);
	for (size_t i = 0; i < count; i++) {
		int found = -1;
		for (int j = 0; j < unit->source_count; j++)
			if (unit->sources[j].kind == HS_SOURCE_STORE && strcmp(unit->sources[j].id, names[i]) == 0)
				found = j;
		if (found >= 0)
			step->unshort |= 1u << found;
		else
			hs_table_problem(table, hs_table_item(table, "unshort", i), "no store \"%s\" is declared",
			                 names[i]);
	}
}

static void read_attach(const hs_table *table, hs_step *step)
{
	const char *word = hs_table_text(table, "attach");
	if (!word)
		return;
	step->attach_dead = strcmp(word, "dead") == 0;
	if (!step->attach_dead) {
		hs_problem *problem = hs_table_problem(table, "attach", "\"%s\" is no way to attach a hookup", word);
		hs_problem_hint(problem, "write attach = \"dead\", or leave it out");
	}
}

/* Names of steps, to be looked up once all are known. */
static size_t read_steps(const hs_table *table, const char *key, hs_use **out)
{
	size_t given, count = 0;
	const char **names = hs_table_texts(table, key, &given);
	if (given > PASSED_MOST) {
		hs_table_problem(table, key, "\"%s\" names at most %d steps", key, PASSED_MOST);
		given = 0;
	}
	*out = hs_arena_alloc(table->build->arena, (given + 1) * sizeof **out);
	for (size_t i = 0; i < given; i++)
		if (*names[i])
			(*out)[count++] = (hs_use){.name = names[i],
			                           .target = names[i],
			                           .step = -1,
			                           .slot = -1,
			                           .where = hs_table_where(table, hs_table_item(table, key, i))};
	return count;
}

/* Not before these have passed. */
static void read_passed(const hs_table *table, hs_step *step)
{
	step->passed_count = read_steps(table, "passed", &step->passed);
	hs_read_branch(table, "not_yet", &step->not_yet);
	if (hs_table_has(table, "passed") == hs_table_has(table, "not_yet"))
		return;
	if (step->not_yet.target) {
		hs_problem *problem = hs_table_problem(table, "not_yet",
		                                       "the step \"%s\" says where to go while something has not "
		                                       "passed, and not what",
		                                       step->id);
		hs_problem_hint(problem, "add passed = { \"STEP\" }");
	} else {
		hs_problem *problem = hs_table_problem(table, "passed",
		                                       "the step \"%s\" waits for others to pass, and does not say "
		                                       "where to go while they have not",
		                                       step->id);
		hs_problem_hint(problem, "add not_yet = \"STEP\"");
	}
}

static void read_visits(const hs_table *table, hs_step *step)
{
	step->most = hs_table_count(table, "most", 1, 1000, 0);
	hs_read_branch(table, "beyond", &step->beyond);
	read_passed(table, step);
}

static void read_common(const hs_table *table, hs_step *step)
{
	step->title = hs_table_text(table, "title");
	step->note = hs_table_text(table, "note");
	step->power_given = hs_find_need(table, "power", &step->power);
	step->outside = hs_table_flag(table, "outside");
	step->open =
	    hs_find_openables(table, "open", HS_SORT_COVER) | hs_find_openables(table, "breaks", HS_SORT_JOINT);
	step->with = hs_find_openables(table, "with", HS_SORT_CHANGE);
	hs_find_picture(table, step);
	int type = hs_table_type(table, "minutes");
	if (type == LUA_TNUMBER) {
		lua_pushliteral(table->L, "minutes");
		lua_rawget(table->L, table->index);
		step->minutes = lua_tonumber(table->L, -1);
		lua_pop(table->L, 1);
	}
	if (type != LUA_TNIL && !(step->minutes >= 0 && step->minutes < 100000 && type == LUA_TNUMBER))
		hs_table_problem(table, "minutes", "\"minutes\" is %s, and a number of minutes was wanted",
		                 hs_table_what(table, "minutes"));
	step->helper = hs_table_text(table, "helper");
	hs_read_substances(table, step);
	read_inject(table, step);
	read_load(table, step);
	read_attach(table, step);
	read_unshort(table, step);
	hs_find_settings(table, step->set);
	read_visits(table, step);
	step->live_why = hs_table_text(table, "live");
	step->live = step->live_why != NULL;
}

/* Where hands or probe go when the step does not say: where its point is; inside for work on the unit; else nowhere. */
static void place_hands(const hs_table *table, hs_step *step)
{
	const hs_bench_unit *unit = &table->build->playbook->unit;
	bool hands = step->kind == HS_STEP_DO || step->kind == HS_STEP_ADJUST || step->kind == HS_STEP_REPLACE;
	step->zone = hands && !step->outside ? 0 : -1;
	for (size_t i = 0; i < step->reading_count && !step->outside; i++) {
		const hs_reading *reading = &step->readings[i];
		int zone = !reading->at_text || reading->loose ? -1
		           : reading->point >= 0               ? unit->points[reading->point].zone
		                                               : 0;
		if (zone > step->zone)
			step->zone = zone;
	}
	step->zone_given = hs_table_has(table, "zone");
	step->zone = hs_find_zone(table, "zone", step->zone);
	if (step->zone_given && step->outside)
		hs_table_problem(table, "outside", "the step \"%s\" names a zone and says it is done from outside",
		                 step->id);
}

/* ---- the kinds that measure nothing ---- */

static void read_tell(const hs_table *table, hs_step *step)
{
	step->text = hs_table_text(table, "tell");
	hs_read_branch(table, "next", &step->branches[HS_OKAY]);
}

static void read_act(const hs_table *table, hs_step *step)
{
	step->text = hs_table_text(table, "act");
	step->makes = hs_find_openables(table, "makes", HS_SORT_CHANGE);
	step->undoes = hs_find_openables(table, "undoes", HS_SORT_CHANGE);
	if (step->makes & step->undoes)
		hs_table_problem(table, "undoes", "the step \"%s\" both makes and undoes the same change", step->id);
	step->cures = hs_find_suspects(table, "cures", &step->cure_count);
	hs_read_branch(table, "next", &step->branches[HS_OKAY]);
}

static void read_wait(const hs_table *table, hs_step *step)
{
	step->text = hs_table_text(table, "text");
	hs_table sub = hs_table_sub(table, "wait", true);
	if (sub.index) {
		hs_table_known(&sub, "a wait", 2, NULL, 0);
		hs_table_in(&sub, "[1]", HS_SECOND, &step->wait_s);
		const char *why = hs_table_text(&sub, "[2]");
		step->text = why ? why : step->text;
	} else {
		hs_table_in(table, "wait", HS_SECOND, &step->wait_s);
	}
	hs_table_done(&sub);
	hs_read_branch(table, "next", &step->branches[HS_OKAY]);
}

static void read_replace(const hs_table *table, hs_step *step)
{
	step->replaces = hs_table_text(table, "replace");
	step->text = hs_table_text(table, "text");
	step->voids_some = hs_table_has(table, "voids");
	step->void_count = read_steps(table, "voids", &step->voids);
	hs_use *again;
	step->retest_count = read_steps(table, "retest", &again);
	step->retests = hs_arena_alloc(table->build->arena, (step->retest_count + 1) * sizeof *step->retests);
	for (size_t i = 0; i < step->retest_count; i++)
		step->retests[i] = (hs_branch){.target = again[i].target, .to = -1, .where = again[i].where};
	step->cures = hs_find_suspects(table, "cures", &step->cure_count);
	hs_read_branch(table, "next", &step->branches[HS_OKAY]);
}

static void read_decide(const hs_table *table, hs_step *step)
{
	if (!hs_read_function(table, "decide", table, &step->decide)) {
		hs_table_problem(table, "decide", "\"decide\" is %s, and a function was wanted",
		                 hs_table_what(table, "decide"));
		return;
	}
	hs_read_exits(table, step);
	hs_check_function(table, "decide", &step->decide, step);
}

static void read_separated(const hs_table *table, hs_step *step)
{
	bool given = hs_table_has(table, "separated");
	bool separated = hs_table_flag(table, "separated");
	step->not_separated = given && !separated;
	if (step->suspect_count < 2 || step->not_separated)
		return;
	hs_problem *problem = hs_table_problem(table, "finding",
	                                       "the finding \"%s\" names %zu suspects and does not say that they are "
	                                       "not separated",
	                                       step->id, step->suspect_count);
	hs_problem_hint(problem, "add separated = false, or measure on until one is left");
}

static void read_finding(const hs_table *table, hs_step *step)
{
	const hs_playbook *book = table->build->playbook;
	if (hs_table_type(table, "finding") == LUA_TTABLE) {
		step->suspects = hs_find_suspects(table, "finding", &step->suspect_count);
		if (hs_table_has(table, "suspects"))
			hs_table_problem(table, "suspects", "the finding \"%s\" names its suspects twice", step->id);
		hs_table list = hs_table_sub(table, "finding", false);
		if (hs_table_length(&list) == 0) {
			hs_problem *problem =
			    hs_build_problem(table->build, HS_WARNING, hs_table_where(table, "finding"),
			                     "the finding \"%s\" names no suspect and says nothing", step->id);
			hs_problem_hint(problem, "name the suspects, or say what was found: finding = \"no fault found\"");
		}
		hs_table_done(&list);
	} else {
		step->text = hs_table_text(table, "finding");
		step->suspects = hs_find_suspects(table, "suspects", &step->suspect_count);
		if (step->text && hs_playbook_suspect(book, step->text) >= 0) {
			hs_problem *problem = hs_table_problem(table, "finding",
			                                       "the finding \"%s\" is the text \"%s\", which is the "
			                                       "id of a suspect",
			                                       step->id, step->text);
			hs_problem_hint(problem, "write finding = { \"%s\" }", step->text);
		}
	}
	step->proof = hs_table_text(table, "proof");
	step->not_tested = hs_table_text(table, "not_tested");
	step->advice = hs_table_text(table, "advice");
	read_separated(table, step);
}

/* ---- which kind ---- */

typedef struct kind_row {
	const char *key;
	hs_step_kind kind;
	const char *what;
	hs_words own;
	hs_words shared;
	void (*read)(const hs_table *table, hs_step *step);
} kind_row;

/* collect stands before decide, because a collect step may end in a function; adjust before read, which it may hold. */
static const kind_row kinds[] = {
    {"tell", HS_STEP_TELL, "a tell step", HS_WORDS(tell_words), HS_WORDS(common_words), read_tell},
    {"adjust", HS_STEP_ADJUST, "an adjust step", HS_WORDS(adjust_words), HS_WORDS(common_words), hs_read_adjust},
    {"watch", HS_STEP_ADJUST, "a watch step", HS_WORDS(watch_words), HS_WORDS(common_words), hs_read_watch},
    {"read", HS_STEP_READ, "a read step", HS_WORDS(read_words), HS_WORDS(common_words), hs_read_read},
    {"zero", HS_STEP_READ, "a zero step", HS_WORDS(zero_words), HS_WORDS(common_words), hs_read_zero},
    {"straight", HS_STEP_READ, "a straight step", HS_WORDS(straight_step_words), HS_WORDS(common_words), hs_read_straight},
    {"prove", HS_STEP_READ, "a prove step", HS_WORDS(prove_words), HS_WORDS(common_words), hs_read_prove},
    {"look", HS_STEP_LOOK, "a look step", HS_WORDS(look_words), HS_WORDS(common_words), hs_read_look},
    {"compare", HS_STEP_LOOK, "a compare step", HS_WORDS(compare_words), HS_WORDS(common_words), hs_read_compare},
    {"act", HS_STEP_DO, "an act step", HS_WORDS(act_words), HS_WORDS(common_words), read_act},
    {"wait", HS_STEP_WAIT, "a wait step", HS_WORDS(wait_words), HS_WORDS(common_words), read_wait},
    {"collect", HS_STEP_COLLECT, "a collect step", HS_WORDS(collect_words), HS_WORDS(common_words), hs_read_collect},
    {"checklist", HS_STEP_COLLECT, "a checklist", HS_WORDS(checklist_words), HS_WORDS(common_words), hs_read_checklist},
    {"grid", HS_STEP_COLLECT, "a grid", HS_WORDS(grid_words), HS_WORDS(common_words), hs_read_grid},
    {"decide", HS_STEP_DECIDE, "a decide step", HS_WORDS(decide_words), HS_WORDS(end_words), read_decide},
    {"replace", HS_STEP_REPLACE, "a replace step", HS_WORDS(replace_words), HS_WORDS(common_words), read_replace},
    {"finding", HS_STEP_FINDING, "a finding", HS_WORDS(finding_words), HS_WORDS(end_words), read_finding},
};
enum { KINDS = sizeof kinds / sizeof *kinds };

static bool goes_with(const kind_row *first, const kind_row *second)
{
	return (first->kind == HS_STEP_COLLECT && second->kind == HS_STEP_DECIDE) ||
	       (first->kind == HS_STEP_ADJUST && second->kind == HS_STEP_READ);
}

/*
 * A step whose kind cannot be told keeps its place, so that what leads to it is not complained of as well; as a decide
 * step without exits it has the check keep quiet about reach.
 */
static const kind_row *kind_of(const hs_table *table, const hs_step *step)
{
	const kind_row *found = NULL;
	for (size_t i = 0; i < KINDS; i++) {
		if (!hs_table_has(table, kinds[i].key) || (found && goes_with(found, &kinds[i])))
			continue;
		if (found)
			hs_table_problem(table, kinds[i].key, "the step \"%s\" is %s, so it cannot also have \"%s\"",
			                 step->id, found->what, kinds[i].key);
		else
			found = &kinds[i];
	}
	if (!found) {
		hs_problem *problem = hs_table_problem(table, NULL, "the step \"%s\" does nothing", step->id);
		hs_problem_hint(problem, "give it one of tell, read, look, compare, act, wait, adjust, watch, collect, "
		                         "checklist, grid, zero, straight, prove, decide, "
		                         "replace, finding");
	}
	return found;
}

static void check_words(const hs_table *table, const kind_row *row)
{
	/* The word of a second kind was complained of by itself. */
	static const char *const keys[] = {"tell", "adjust",  "watch",     "read", "look",   "compare", "act",
	                                   "wait", "collect", "checklist", "grid", "decide", "replace", "finding", "zero", "straight", "prove"};
	hs_words rows[] = {row->own, row->shared, HS_WORDS(keys)};
	hs_table_known(table, row->what, table->decl->skip, rows, 3);
}

static void read_step(const hs_table *table, hs_step *step)
{
	const kind_row *row = kind_of(table, step);
	step->kind = row ? row->kind : HS_STEP_DECIDE;
	if (!row)
		return;
	check_words(table, row);
	if (row->shared.words == common_words) {
		read_common(table, step);
	} else {
		step->title = hs_table_text(table, "title");
		step->note = hs_table_text(table, "note");
		step->emitter = step->inject.point = -1;
		read_visits(table, step);
	}
	row->read(table, step);
	place_hands(table, step);
}

static hs_step *new_step(hs_build *build, const hs_decl *decl)
{
	hs_playbook *book = build->playbook;
	hs_where where = hs_decl_where(build, decl, "");
	if (!hs_build_good_id(build, decl->id ? decl->id : "", "step", where))
		return NULL;
	int twin = hs_playbook_step(book, decl->id);
	if (twin >= 0) {
		hs_build_problem(build, HS_ERROR, where,
		                 "the step \"%s\" is declared twice; the other stands in line %d of %s", decl->id,
		                 book->steps[twin].where.line, book->steps[twin].where.file);
		return NULL;
	}
	if (book->step_count == HS_STEPS_MOST) {
		hs_build_problem(build, HS_ERROR, where, "a playbook has at most %d steps", HS_STEPS_MOST);
		return NULL;
	}
	hs_step *step = &book->steps[book->step_count++];
	*step = (hs_step){.id = decl->id, .zone = -1, .emitter = -1, .reuse = -1, .where = where};
	step->decide.id = -1;
	step->inject.point = -1;
	step->not_yet.to = -1;
	return step;
}

void hs_bind_steps(hs_build *build, lua_State *L)
{
	hs_playbook *book = build->playbook;
	book->steps = hs_arena_alloc(build->arena, hs_build_count(build, "step") * sizeof *book->steps);
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "step") != 0 || decl->ref == LUA_NOREF)
			continue;
		hs_step *step = new_step(build, decl);
		if (!step)
			continue;
		hs_table table = hs_table_of(build, L, decl);
		read_step(&table, step);
		for (size_t r = 0; r < step->reading_count; r++)
			step->readings[r].slot = (int)book->slot_count++;
		hs_table_done(&table);
	}
}
