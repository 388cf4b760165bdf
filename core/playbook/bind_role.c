/* role "NAME" { ... }: what a playbook asks of a hookup; and bind "NAME" { ... }, by which a kit gives it one. */
#include <lauxlib.h>
#include <string.h>
#include "names.h"

static const char *const role_words[] = {"title", "kind", "ends", "reads", "freq", "loss", "stands", "range", "u"};
static const char *const bind_words[] = {"hookup"};

/* ---- roles ---- */

static void read_kind(const hs_table *table, hs_role *role)
{
	const char *kind = hs_table_text(table, "kind");
	if (!kind)
		return;
	role->source = strcmp(kind, "source") == 0;
	if (role->source || strcmp(kind, "meter") == 0)
		return;
	hs_problem *problem = hs_table_problem(table, "kind", "\"%s\" is no kind of role", kind);
	hs_problem_hint(problem, "write kind = \"source\" or kind = \"meter\"");
}

static void read_reads(const hs_table *table, hs_role *role)
{
	size_t count, known_count;
	const char **words = hs_table_texts(table, "reads", &count);
	const char *const *known = hs_measurand_names(&known_count);
	hs_measurand *reads = hs_arena_alloc(table->build->arena, (count + 1) * sizeof *reads);
	for (size_t i = 0; i < count; i++) {
		if (hs_measurand_find(words[i], &reads[role->read_count])) {
			role->read_count++;
			continue;
		}
		hs_problem *problem = hs_table_problem(table, hs_table_item(table, "reads", i), "\"%s\" is nothing that can be read", words[i]);
		hs_build_nearest(table->build, problem, words[i], known, known_count);
	}
	role->reads = reads;
	if (role->source && role->read_count > 0)
		hs_table_problem(table, "reads", "the role \"%s\" is a source, and a source reads nothing", role->name);
}

/* "1.4 GHz .. 1.6 GHz", or one frequency. */
static void read_freq(const hs_table *table, hs_role *role)
{
	const char *text = hs_table_text(table, "freq");
	hs_error error = {0};
	hs_quantity one;
	hs_limits band;
	if (!text)
		return;
	if (hs_quantity_read(text, HS_UNIT_COUNT, &one, &error) && one.unit == HS_HERTZ && one.value > 0) {
		role->freq_from_hz = role->freq_to_hz = one.value;
		return;
	}
	if (hs_limits_read(text, HS_HERTZ, &band, NULL) && band.unit == HS_HERTZ && band.has_low && band.has_high && band.low > 0) {
		role->freq_from_hz = band.low;
		role->freq_to_hz = band.high;
		return;
	}
	hs_problem *problem = hs_table_problem(table, "freq", "\"%s\" is no span of frequencies", text);
	hs_problem_hint(problem, "write freq = \"1.4 GHz .. 1.6 GHz\"");
}

/* "1 dB at 2 GHz" */
static void read_loss(const hs_table *table, hs_role *role)
{
	const char *text = hs_table_text(table, "loss");
	hs_quantity loss, freq;
	if (!text)
		return;
	char *copy = hs_arena_str(table->build->arena, text), *at = strstr(copy, " at ");
	if (at) {
		*at = '\0';
		role->has_loss = hs_quantity_read(hs_trim(copy), HS_UNIT_COUNT, &loss, NULL) && loss.unit == HS_DB && loss.value >= 0 &&
		                 hs_quantity_read(hs_trim(at + 4), HS_UNIT_COUNT, &freq, NULL) && freq.unit == HS_HERTZ && freq.value > 0;
	}
	if (role->has_loss) {
		role->loss_db = loss.value;
		role->loss_at_hz = freq.value;
		return;
	}
	hs_problem *problem = hs_table_problem(table, "loss", "\"%s\" is no loss at a frequency", text);
	hs_problem_hint(problem, "write the most it may take, and where: loss = \"1 dB at 2 GHz\"");
}

static void read_range(const hs_table *table, hs_role *role)
{
	hs_unit bare = role->read_count > 0 ? hs_measurand_unit(role->reads[0]) : HS_DBM;
	if (!hs_table_has(table, "range") || !hs_table_limits(table, "range", bare, &role->range))
		return;
	role->has_range = role->range.has_low || role->range.has_high;
	if (role->read_count > 0 && hs_unit_dimension(role->range.unit) != hs_unit_dimension(bare)) {
		hs_table_problem(table, "range", "the range of the role \"%s\" is in %s, and it reads %s", role->name,
		                 hs_unit_name(role->range.unit), hs_measurand_name(role->reads[0]));
		role->has_range = false;
	}
}

static void read_u(const hs_table *table, hs_role *role)
{
	hs_error error = {0};
	const char *text = hs_table_text(table, "u");
	if (!text)
		return;
	if (role->source) {
		hs_table_problem(table, "u", "the role \"%s\" is a source, and nothing is read with it", role->name);
		return;
	}
	role->has_u = hs_quantity_read(text, HS_UNIT_COUNT, &role->u, &error) && role->u.value > 0;
	if (role->has_u)
		return;
	hs_problem *problem = hs_table_problem(table, "u", "\"%s\" is no uncertainty", text);
	hs_problem_hint(problem, "write the most that U may be, as in \"0.6 dB\" or \"50 mV\"");
}

static void read_role(const hs_table *table, hs_role *role)
{
	hs_table_known(table, "a role", table->decl->skip, (hs_words[]){HS_WORDS(role_words)}, 1);
	role->title = hs_table_text(table, "title");
	read_kind(table, role);
	if (hs_table_has(table, "ends"))
		hs_table_ends(table, "ends", role->has_ends, role->ends);
	read_reads(table, role);
	read_freq(table, role);
	read_loss(table, role);
	hs_table_positive(table, "stands", HS_WATT, &role->stands_w);
	read_range(table, role);
	read_u(table, role);
}

/* Of the playbook's own table, which is read after its steps: what a binding may be limited to. */
static void peek(hs_build *build, lua_State *L)
{
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "playbook") != 0 || decl->ref == LUA_NOREF || build->book_id)
			continue;
		hs_table table = hs_table_of(build, L, decl);
		if (hs_table_type(&table, "id") == LUA_TSTRING)
			build->book_id = hs_table_text(&table, "id");
		if (hs_table_type(&table, "family") == LUA_TSTRING)
			build->book_family = hs_table_text(&table, "family");
		hs_table_done(&table);
	}
}

const hs_hookup *hs_bound_hookup(const hs_build *build, const char *name)
{
	if (!build->kit)
		return NULL;
	const hs_binding *binding = hs_kit_binding(build->kit, name, build->book_id, build->book_family);
	return binding ? binding->hookup : hs_kit_hookup(build->kit, name);
}

static bool good_role(hs_build *build, const hs_decl *decl)
{
	hs_where where = hs_decl_where(build, decl, "");
	if (!decl->id || !*decl->id) {
		hs_build_problem(build, HS_ERROR, where, "this role has no name");
		return false;
	}
	const hs_role *twin = hs_playbook_role(build->playbook, decl->id);
	if (twin)
		hs_build_problem(build, HS_ERROR, where, "the role \"%s\" is declared twice; the other stands in line %d of %s", decl->id,
		                 twin->where.line, twin->where.file);
	return !twin;
}

void hs_bind_roles(hs_build *build, lua_State *L)
{
	hs_playbook *book = build->playbook;
	peek(build, L);
	book->roles = hs_arena_alloc(build->arena, hs_build_count(build, "role") * sizeof *book->roles);
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "role") != 0 || decl->ref == LUA_NOREF || !good_role(build, decl))
			continue;
		hs_table table = hs_table_of(build, L, decl);
		hs_role *role = &book->roles[book->role_count++];
		*role = (hs_role){.name = decl->id, .hookup = hs_bound_hookup(build, decl->id), .where = hs_table_where(&table, NULL)};
		read_role(&table, role);
		hs_table_done(&table);
	}
}

/* ---- bindings ---- */

static const hs_hookup *find_hookup(const hs_table *table, const char *name)
{
	const hs_kit *kit = table->build->making;
	const hs_hookup *found = hs_kit_hookup(kit, name);
	if (found)
		return found;
	const char **known = hs_arena_alloc(table->build->arena, (kit->hookup_count + 1) * sizeof *known);
	for (size_t i = 0; i < kit->hookup_count; i++)
		known[i] = kit->hookups[i]->id;
	hs_problem *problem = hs_table_problem(table, "hookup", "the kit has no hookup \"%s\"", name);
	hs_build_nearest(table->build, problem, name, known, kit->hookup_count);
	return NULL;
}

/* Two bindings of one role for the same playbooks: which one is meant cannot be known. */
static const hs_binding *bound_before(const hs_kit *kit, const hs_binding *new)
{
	for (size_t i = 0; i < kit->binding_count; i++) {
		const hs_binding *old = &kit->bindings[i];
		if (strcmp(old->role, new->role) != 0)
			continue;
		if (old->scope_count == 0 && new->scope_count == 0)
			return old;
		for (size_t a = 0; a < old->scope_count; a++)
			for (size_t b = 0; b < new->scope_count; b++)
				if (hs_same_word(old->scopes[a], new->scopes[b]))
					return old;
	}
	return NULL;
}

static void read_binding(const hs_table *table)
{
	hs_build *build = table->build;
	size_t length = hs_table_length(table), skip = table->decl->skip;
	hs_table_known(table, "a binding", HS_ANY_LENGTH, (hs_words[]){HS_WORDS(bind_words)}, 1);
	const char **scopes = hs_arena_alloc(build->arena, (length + 1) * sizeof *scopes);
	hs_binding binding = {.role = table->decl->id, .scopes = scopes, .where = hs_table_where(table, NULL)};
	for (size_t i = skip; i < length; i++) {
		const char *scope = hs_table_text(table, hs_key_at(table, i + 1));
		if (scope)
			scopes[binding.scope_count++] = scope;
	}
	const char *name = hs_table_text(table, "hookup");
	if (!name && !hs_table_has(table, "hookup")) {
		hs_problem *problem = hs_table_problem(table, NULL, "the role \"%s\" is bound to no hookup", binding.role);
		hs_problem_hint(problem, "write bind \"%s\" { hookup = \"NAME\" }", binding.role);
	}
	binding.hookup = name ? find_hookup(table, name) : NULL;
	if (!binding.hookup)
		return;
	const hs_binding *twin = bound_before(build->making, &binding);
	if (twin)
		hs_table_problem(table, NULL, "the role \"%s\" is bound twice for the same playbooks; the other stands in line %d of %s", binding.role,
		                 twin->where.line, twin->where.file);
	else
		hs_kit_add_binding(build->making, &binding);
}

void hs_bind_bindings(hs_build *build, lua_State *L)
{
	for (size_t i = 0; i < build->decl_count; i++) {
		const hs_decl *decl = &build->decls[i];
		if (strcmp(decl->callee, "bind") != 0 || decl->ref == LUA_NOREF)
			continue;
		hs_table table = hs_table_of(build, L, decl);
		if (decl->id && *decl->id)
			read_binding(&table);
		else
			hs_table_problem(&table, NULL, "this binding names no role");
		hs_table_done(&table);
	}
}
