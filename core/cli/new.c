/* halfsplit new: an empty family to begin from: what it is, a first playbook, a kit. */
#include <errno.h>
#include <string.h>
#include <sys/stat.h>
#include "made.h"

/* In all three %1$s is the family. */
static const char family_text[] =
    "-- %1$s: what every playbook of this family shares: where energy is, what comes off, where one can read.\n"
    "-- As it stands it is a cautious guess. Put in what the manual says; docs/playbooks.md, \"The unit\" and \"Points\", has every key.\n"
    "\n"
    "unit {\n"
    "  supply = { mains = \"230 V\" },                -- or dc = \"28 V\"; everything that feeds it, batteries too\n"
    "  switch = \"the front-panel switch\",           -- where it is switched off\n"
    "  -- What keeps a charge, and how much at most. bleed = \"100 kohm\" only where there is a bleeder: it makes the wait.\n"
    "  stores = { C1 = { charged = \"325 V\", farads = \"470 uF\", follows_line = true } },\n"
    "  zones  = { inside = { guard = \"top-cover\", title = \"the inside\" } },\n"
    "  parts  = { [\"top-cover\"] = { title = \"the top cover\" } },   -- fixings = \"8 x M3 pan\", torque = \"0.6 N m\"\n"
    "  -- emits = { J2 = { rf = \"50 W\" } },          -- what transmits is never keyed without its load\n"
    "  -- controls = { band = { \"low\", \"high\" } },\n"
    "}\n"
    "\n"
    "-- Reached from outside. accepts is the most an input stands, gives the most an output gives.\n"
    "point \"J1\" { title = \"J1, input\", accepts = \"10 dBm\", impedance = \"50 ohm\" }\n"
    "point \"J2\" { title = \"J2, output\", gives = \"10 dBm\", impedance = \"50 ohm\" }\n"
    "\n"
    "-- Inside, behind the cover.\n"
    "point \"TP1\" { title = \"TP1, supply rail\", behind = { \"top-cover\" }, dc = \"12 V\" }\n";

static const char first_text[] =
    "-- A first playbook of the family %1$s: one symptom, one look, one reading. Run it with `halfsplit check`, then grow it.\n"
    "require \"family\"\n"
    "\n"
    "playbook {\n"
    "  id = \"%1$s/first\", edition = 1,\n"
    "  title  = \"%1$s: FILL IN what it does wrong\",\n"
    "  family = \"%1$s\",\n"
    "  first  = { \"FILL IN: what to do first, so that the unit harms itself no further.\" },\n"
    "  symptom = { \"no signal at J2\", under = \"a signal at J1\", power = \"on\", tries = 2, absent = \"not-shown\" },\n"
    "}\n"
    "\n"
    "suspect \"supply\" { title = \"the power supply\", modes = { \"dead\" }, odds = 2 }\n"
    "suspect \"signal\" { title = \"something in the signal's way\", modes = { \"dead\", \"low gain\" } }\n"
    "\n"
    "step \"lamp\" {\n"
    "  look  = \"What does the power lamp do?\", power = \"on\",\n"
    "  answers = {\n"
    "    { \"lit\", \"steady\", to = \"output\", clears = { \"supply\" } },\n"
    "    { \"dark\", \"nothing at all\", to = \"found-supply\", implicates = { \"supply\" } },\n"
    "    { \"smoke\", \"smoke, smell or crackling\", stop = true },\n"
    "  },\n"
    "}\n"
    "\n"
    "step \"output\" {\n"
    "  title  = \"Level at the output\", power = \"on\",\n"
    "  inject = { \"-30 dBm\", at = \"J1\", freq = \"100 MHz\", hookup = \"source lead\" },\n"
    "  read   = { \"power\", at = \"J2\", hookup = \"meter lead\", freq = \"100 MHz\" },\n"
    "  limits = \"-10 dBm +/- 3 dB\",\n"
    "  ok = { to = \"good\", clears = { \"signal\" } },\n"
    "  low = { to = \"found-signal\", implicates = { \"signal\" } },\n"
    "  otherwise = \"unclear\",\n"
    "}\n"
    "\n"
    "step \"found-supply\" { finding = { \"supply\" }, proof = \"The lamp is dark with the power on.\", not_tested = \"FILL IN\" }\n"
    "step \"found-signal\" { finding = { \"signal\" }, proof = \"The lamp is lit, and J2 is low.\", not_tested = \"FILL IN\" }\n"
    "step \"unclear\"   { finding = \"Perhaps in the signal's way\", suspects = { \"signal\" }, not_tested = \"FILL IN\" }\n"
    "step \"not-shown\" { finding = \"The fault did not show\", suspects = {}, advice = \"Ask the owner under which conditions it does.\" }\n"
    "step \"good\"      { finding = \"No fault found\", suspects = {}, proof = \"The level at J2 is right.\" }\n";

static const char kit_text[] =
    "-- The kit the playbooks of %1$s are run with: an example of each kind. Put in your own parts, figures and dates before you measure;\n"
    "-- docs/kit.md has every key.\n"
    "\n"
    "cable \"K1\" { type = \"RG-58C/U\", length = \"1 m\", u = \"0.1 dB\" }\n"
    "cable \"K2\" { type = \"RG-58C/U\", length = \"1 m\", u = \"0.1 dB\" }\n"
    "lead  \"LD1\" { title = \"prods\" }\n"
    "\n"
    "instrument \"G1\" {\n"
    "  title = \"signal source\", gives = { from = \"-110 dBm\", to = \"10 dBm\", freq = \"9 kHz .. 1 GHz\", u = \"0.5 dB\" },\n"
    "  impedance = \"50 ohm\", max = { dc = \"25 V\" },                         -- due = \"2027-05-31\"\n"
    "}\n"
    "instrument \"M1\" {\n"
    "  title = \"power meter\", reads = { \"power\" }, from = \"-60 dBm\", to = \"20 dBm\", freq = \"1 MHz .. 1 GHz\", u = \"0.3 dB\",\n"
    "  impedance = \"50 ohm\", max = { rf = \"23 dBm\", dc = \"25 V\" },\n"
    "}\n"
    "instrument \"D1\" {\n"
    "  title = \"multimeter\", max = { dc = \"600 V\" },\n"
    "  reads = { volts = { from = \"-600 V\", to = \"600 V\", u = \"0.5 % + 5 mV\" },\n"
    "            ohms = { from = \"0 ohm\", to = \"40 Mohm\", u = \"1 % + 0.2 ohm\" } },\n"
    "}\n"
    "\n"
    "-- From the unit to the instrument; playbooks name these.\n"
    "hookup \"source lead\" { \"K1\", \"G1\" }\n"
    "hookup \"meter lead\"  { \"K2\", \"M1\" }\n"
    "hookup \"prods\"       { \"LD1\", \"D1\" }\n";

/* A format with one string, many times; only the texts above come here. */
static void fill(const char *format, const char *family, hs_buf *out)
{
	static const char hole[] = "%1$s";
	for (const char *at; (at = strstr(format, hole)) != NULL; format = at + sizeof hole - 1) {
		hs_buf_add(out, format, (size_t)(at - format));
		hs_buf_str(out, family);
	}
	hs_buf_str(out, format);
}

static const struct {
	const char *name, *text;
} files[] = {{"family.lua", family_text}, {"first.lua", first_text}, {"kit.lua", kit_text}};
#define FILES (sizeof files / sizeof *files)

static bool nothing_there(const char *folder, hs_error *error)
{
	for (size_t i = 0; i < FILES; i++) {
		struct stat info;
		hs_buf path;
		hs_buf_init(&path);
		hs_buf_printf(&path, "%s/%s", folder, files[i].name);
		bool there = lstat(path.data, &info) == 0;
		if (there) {
			hs_fail(error, HS_BAD_INPUT, "a file of this name is there, and it is not written over");
			hs_fail_hint(error, "take another name for the family, or another folder");
			hs_fail_at(error, path.data, 0);
		}
		hs_buf_free(&path);
		if (there)
			return false;
	}
	return true;
}

static bool write_all(const char *family, const char *folder, hs_error *error)
{
	bool fine = true;
	for (size_t i = 0; fine && i < FILES; i++) {
		hs_buf path, text;
		hs_buf_init(&path);
		hs_buf_init(&text);
		hs_buf_printf(&path, "%s/%s", folder, files[i].name);
		fill(files[i].text, family, &text);
		fine = hs_write_new(path.data, text.data, error);
		if (fine)
			hs_say_made(path.data);
		hs_buf_free(&text);
		hs_buf_free(&path);
	}
	return fine;
}

static int run(const hs_command *command, int argc, char **argv)
{
	int first, status;
	if (!hs_cli_options(command, NULL, argc, argv, &first, &status))
		return status;
	const char *family = argv[first], *library = first + 1 < argc ? argv[first + 1] : "playbooks";
	hs_error error = {0};
	if (!hs_is_id(family)) {
		hs_fail(&error, HS_BAD_INPUT, "\"%s\" is no name for a family", family);
		hs_fail_hint(&error, "letters, digits and . _ + -, beginning with a letter or digit, such as wren");
		return hs_cli_fail(&error);
	}
	hs_buf folder;
	hs_buf_init(&folder);
	hs_buf_printf(&folder, "%s/%s", library, family);
	bool fine = nothing_there(folder.data, &error) && hs_make_folder(library, &error) && hs_make_folder(folder.data, &error) &&
	            write_all(family, folder.data, &error);
	if (fine) {
		hs_buf shown;
		hs_buf_init(&shown);
		hs_buf_shown(&shown, folder.data, false);
		printf("halfsplit check %s/first.lua\n", shown.data);
		hs_buf_free(&shown);
	}
	hs_buf_free(&folder);
	return fine ? HS_EXIT_GOOD : hs_cli_fail(&error);
}

const hs_command hs_command_new = {
    .name = "new",
    .operands = "FAMILY [FOLDER]",
    .says = "makes the first files of a family: unit and points, a playbook, a kit",
    .help = "FOLDER is ./playbooks unless given; the files go into FOLDER/FAMILY. They check clean, and say FILL IN where an author has to.\n"
            "A file that is there is never written over.\n",
    .least = 1,
    .most = 2,
    .run = run,
};
