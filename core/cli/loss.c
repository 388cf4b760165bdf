/* halfsplit loss: what a cable takes away at a frequency, and how that is known. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include "cli.h"
#include "halfsplit/base/file.h"
#include "halfsplit/json/json.h"
#include "halfsplit/judge/expression.h"
#include "halfsplit/lineup/loss_csv.h"
#include "halfsplit/lineup/network.h"
#include "halfsplit/playbook/load.h"
#include "halfsplit/playbook/sources.h"
#include "library.h"

typedef struct request {
	const char *cable, *at, *kit, *length;
	bool json, why;
	double freq_hz, length_m; /* length_m 0: not given */
	hs_arena *arena;
	hs_fault fault; /* of the next failure */
	double loss_db, u_db;
	hs_buf source;
} request;

static bool ends_in(const char *name, const char *ending)
{
	size_t length = strlen(name), tail = strlen(ending);
	return length > tail && hs_same_word(name + length - tail, ending);
}

/* .s2p, .s12p, .ts */
static bool is_touchstone(const char *name)
{
	const char *dot = strrchr(name, '.');
	if (!dot || strchr(dot, '/'))
		return false;
	size_t digits = strspn(dot + 1 + (dot[1] != '\0'), "0123456789");
	return hs_same_word(dot, ".ts") ||
	       ((dot[1] == 's' || dot[1] == 'S') && digits > 0 && hs_same_word(dot + 2 + digits, "p"));
}

static bool is_file(const char *path)
{
	struct stat info;
	return stat(path, &info) == 0 && !S_ISDIR(info.st_mode);
}

static bool read_quantity(const char *text, hs_dimension dimension, const char *option, const char *like, double *out,
                          hs_error *error)
{
	hs_quantity read;
	if (!hs_quantity_read(text, HS_UNIT_COUNT, &read, error))
		return false;
	if (hs_unit_dimension(read.unit) != dimension) {
		hs_fail(error, HS_BAD_INPUT, "%s is given in \"%s\" (%s), and a %s was wanted", option,
		        hs_unit_name(read.unit), hs_dimension_name(hs_unit_dimension(read.unit)),
		        hs_dimension_name(dimension));
		return hs_fail_hint(error, "write it like %s %s", option, like);
	}
	if (!(read.value > 0))
		return hs_fail(error, HS_BAD_INPUT, "%s must be above 0 %s", option, hs_unit_name(read.unit));
	*out = read.value;
	return true;
}

static bool part_loss(request *r, const hs_part *part, hs_error *error)
{
	r->fault = HS_FAULT_TABLE;
	return hs_part_loss(part, r->freq_hz, &r->loss_db, &r->u_db, &r->source, error);
}

/* A part that no kit lists. */
static bool table_loss(request *r, const hs_loss_table *table, hs_error *error)
{
	hs_part part = {.id = r->cable, .kind = HS_PART_CABLE, .own = *table, .own_source = r->cable};
	return part_loss(r, &part, error);
}

static bool touchstone_loss(request *r, hs_error *error)
{
	hs_network *network = NULL;
	hs_loss_table table = {0};
	bool good = hs_network_open(r->cable, 0, &network, error);
	if (good && network->ports < 2) {
		hs_fail(error, HS_BAD_INPUT, "the file holds one port, and a loss from one port to another needs two");
		good = hs_fail_at(error, r->cable, 0);
	}
	good = good && hs_network_loss(r->arena, network, 2, 1, &table, error) && table_loss(r, &table, error);
	hs_network_free(network);
	return good;
}

static bool csv_loss(request *r, hs_error *error)
{
	hs_buf text;
	hs_loss_table table = {0};
	hs_buf_init(&text);
	bool good = hs_file_read(r->cable, "loss table", HS_LOSS_CSV_MOST, &text, error) &&
	            hs_loss_csv(r->arena, r->cable, text.data, text.length, &table, error) &&
	            table_loss(r, &table, error);
	hs_buf_free(&text);
	return good;
}

static bool no_length_wanted(request *r, const char *what, hs_error *error)
{
	if (!r->length)
		return true;
	r->fault = HS_FAULT_SYNTAX;
	hs_fail(error, HS_BAD_INPUT, "--length is for a generic type, and \"%s\" is %s", r->cable, what);
	return hs_fail_hint(error, "leave --length out");
}

static bool type_loss(request *r, hs_error *error)
{
	hs_part part = {.id = r->cable, .kind = HS_PART_CABLE, .type = r->cable, .length_m = r->length_m};
	if (!r->length) {
		r->fault = HS_FAULT_SYNTAX;
		hs_fail(error, HS_BAD_INPUT, "\"%s\" is a generic type, and its length was not given", r->cable);
		return hs_fail_hint(error, "say how long it is, such as --length 3m");
	}
	if (!part_loss(r, &part, error))
		return false;
	hs_buf_str(&r->source, "; " HS_COAX_SOURCE);
	return true;
}

/* Every part between the instrument and the unit; doubts that have nothing to do with each other add as squares. */
static bool hookup_loss(request *r, const hs_hookup *hookup, hs_error *error)
{
	double loss_db = 0, u_db = 0;
	hs_buf source;
	hs_buf_init(&source);
	for (size_t i = 0; i < hookup->count; i++) {
		if (hookup->parts[i]->kind == HS_PART_INSTRUMENT)
			continue;
		hs_buf_clear(&r->source);
		if (!part_loss(r, hookup->parts[i], error)) {
			hs_buf_free(&source);
			return false;
		}
		loss_db += r->loss_db;
		u_db = hypot(u_db, r->u_db);
		hs_buf_printf(&source, "%s%s (%s)", source.length ? " + " : "", hookup->parts[i]->id, r->source.data);
	}
	r->loss_db = loss_db;
	r->u_db = u_db;
	hs_buf_clear(&r->source);
	hs_buf_str(&r->source, source.data);
	hs_buf_free(&source);
	return true;
}

static bool unknown_cable(request *r, const hs_kit *kit, hs_error *error)
{
	size_t count, types;
	const char *const *type_names = hs_coax_type_names(&types);
	const char **names = NULL;
	size_t room = 0;
	count = kit ? kit->part_count : 0;
	names = hs_grow(names, &room, count + types, sizeof *names);
	for (size_t i = 0; i < count; i++)
		names[i] = kit->parts[i]->id;
	for (size_t i = 0; i < types; i++)
		names[count + i] = type_names[i];
	const char *near = hs_nearest(r->cable, names, count + types);
	r->fault = HS_FAULT_TABLE;
	hs_fail(error, HS_BAD_INPUT, "\"%s\" is neither %sa generic cable type nor a file", r->cable,
	        kit ? "an entry of the kit nor " : "");
	if (near)
		hs_fail_hint(error, "did you mean %s?", near);
	else
		hs_fail_hint(error, "types are RG-58C/U RG-213/U RG-316/U RG-405 RG-402; %s",
		             kit ? "halfsplit loss --help tells what else it takes" : "--kit names the shop's own kit");
	free(names);
	return false;
}

static bool known_loss(request *r, const hs_kit *kit, hs_error *error)
{
	const hs_part *part = kit ? hs_kit_part(kit, r->cable) : NULL;
	const hs_hookup *hookup = kit && !part ? hs_kit_hookup(kit, r->cable) : NULL;
	if (part && part->kind == HS_PART_INSTRUMENT) {
		r->fault = HS_FAULT_TABLE;
		return hs_fail(error, HS_BAD_INPUT,
		               "\"%s\" is an instrument, and a cable, pad, adapter or probe was wanted", r->cable);
	}
	if (part)
		return no_length_wanted(r, "an entry of the kit, which has its own", error) &&
		       part_loss(r, part, error);
	if (hookup)
		return no_length_wanted(r, "a hookup of the kit", error) && hookup_loss(r, hookup, error);
	if (hs_coax_type(r->cable))
		return type_loss(r, error);
	if (is_file(r->cable))
		return no_length_wanted(r, "a file", error) && csv_loss(r, error);
	return unknown_cable(r, kit, error);
}

static bool kit_loss(request *r, hs_folders *folders, hs_error *error)
{
	bool named;
	const char *path = hs_kit_path(folders, r->kit, "kit.lua", &named);
	hs_problems problems = {0};
	hs_kit *kit = NULL;
	hs_sources *sources = NULL;
	bool good = true;
	if (path) {
		sources = hs_sources_from_disk(path, NULL, 0, error);
		kit = sources ? hs_kit_load(sources, HS_PLACES_EXACT, &problems, error) : NULL;
		if (sources)
			hs_problems_quote(&problems, sources);
		hs_problems_sort(&problems);
		good = kit && hs_problems_clean(&problems, error);
	}
	good = good && known_loss(r, kit, error);
	hs_kit_free(kit);
	hs_sources_free(sources);
	hs_problems_free(&problems);
	return good;
}

static bool find_loss(request *r, hs_error *error)
{
	r->fault = HS_FAULT_UNIT;
	if (!r->at) {
		r->fault = HS_FAULT_SYNTAX;
		hs_fail(error, HS_BAD_INPUT, "the loss of a cable depends on frequency, and --at was not given");
		return hs_fail_hint(error, "say at what frequency, such as --at 145MHz");
	}
	if (!read_quantity(r->at, HS_DIM_FREQUENCY, "--at", "145MHz", &r->freq_hz, error) ||
	    (r->length && !read_quantity(r->length, HS_DIM_LENGTH, "--length", "3m", &r->length_m, error)))
		return false;
	r->fault = HS_FAULT_TABLE;
	if (ends_in(r->cable, ".csv") || is_touchstone(r->cable))
		return no_length_wanted(r, "a file, which is of one cable", error) &&
		       (is_touchstone(r->cable) ? touchstone_loss(r, error) : csv_loss(r, error));
	hs_folders folders;
	hs_folders_find(&folders);
	bool good = kit_loss(r, &folders, error);
	hs_folders_free(&folders);
	return good;
}

static void print_loss(const request *r)
{
	hs_buf out;
	hs_json_writer w;
	hs_buf_init(&out);
	if (r->json) {
		hs_json_begin(&w, &out);
		hs_json_open_object(&w, NULL);
		hs_json_put_number(&w, "loss_db", r->loss_db);
		hs_json_put_number(&w, "uncertainty_db", r->u_db);
		if (r->why)
			hs_json_put_string(&w, "source", r->source.data);
		hs_json_close_object(&w);
	} else {
		hs_quantity_print(&out, (hs_quantity){r->loss_db, HS_DB}, -1);
		hs_buf_str(&out, " +/- ");
		hs_quantity_print(&out, (hs_quantity){r->u_db, HS_DB}, -1);
		hs_buf_str(&out, " at ");
		hs_quantity_print(&out, (hs_quantity){r->freq_hz, HS_HERTZ}, -1);
		hs_buf_str(&out, "\n  from ");
		hs_buf_shown(&out, r->source.data, false);
	}
	hs_buf_char(&out, '\n');
	hs_cli_print(&out);
	hs_buf_free(&out);
}

static const hs_option options[] = {
    {"at", 0, "FREQ", "the frequency, such as 145MHz", offsetof(request, at)},
    {"kit", 0, "FILE", "the shop's kit; else $HALFSPLIT_KIT, else ./kit.lua", offsetof(request, kit)},
    {"length", 0, "L", "how long a generic type is, such as 3m", offsetof(request, length)},
    {"json", 0, NULL, "the loss as data: {\"loss_db\",\"uncertainty_db\"}, or {\"error\",\"class\"}", offsetof(request, json)},
    {"why", 0, NULL, "where it comes from, in the data too; as text it is always told", offsetof(request, why)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request r = {0};
	int first, status;
	if (!hs_cli_options(command, &r, argc, argv, &first, &status))
		return status;
	hs_error error = {0};
	r.cable = argv[first];
	r.arena = hs_arena_new();
	hs_buf_init(&r.source);
	status = HS_EXIT_GOOD;
	if (find_loss(&r, &error))
		print_loss(&r);
	else
		status = r.json ? hs_cli_fail_json(&error, hs_fault_name(r.fault), r.why) : hs_cli_fail(&error);
	hs_buf_free(&r.source);
	hs_arena_free(r.arena);
	return status;
}

const hs_command hs_command_loss = {
    .name = "loss",
    .operands = "CABLE",
    .says = "tells what a cable takes away at a frequency",
    .help =
        "CABLE is a cable, pad, adapter, probe or hookup of the kit; a generic type such as RG-213/U, with --length;\n"
        "a table in a .csv file (frequency,loss: plain numbers are Hz and dB, unless a header or the cells name "
        "units);\n"
        "or a Touchstone file, whose S21 is taken. Between two points loss goes with the root of frequency; outside\n"
        "a table it is not known. The figure behind +/- is the half-width that the kit states or, where it states\n"
        "none, the one assumed.\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1,
    .run = run,
};
