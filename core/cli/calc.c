/* halfsplit calc: the measurement mathematics as a calculator, or a file that uses the playbook library. */
#include <stdlib.h>
#include <string.h>
#include "cli.h"
#include "halfsplit/json/json.h"
#include "halfsplit/judge/expression.h"
#include "halfsplit/playbook/calc.h"
#include "halfsplit/playbook/sources.h"
#include "library.h"

/* An option begins with a letter behind its minus; "-12.3" and "-" belong to the expression. */
static bool is_option(const char *word)
{
	const char *name = word + (word[0] == '-') + (word[0] == '-' && word[1] == '-');
	return word[0] == '-' && ((*name >= 'a' && *name <= 'z') || (*name >= 'A' && *name <= 'Z'));
}

/* "-f", "--file", and what getopt takes for it; its argument is the next word. */
static bool takes_next(const char *word)
{
	size_t length = strlen(word);
	return strcmp(word, "-f") == 0 || (length > 2 && strncmp(word, "--file", length) == 0);
}

/*
 * Options first, then "--", then the words of the expression in their order: room for argc + 2 words. Where the last
 * option lacks its argument nothing follows it, so that getopt says so.
 */
static int options_first(int argc, char **argv, char **sorted)
{
	int count = 0;
	static char end[] = "--";
	bool open, lacks = false;
	sorted[count++] = argv[0];
	for (int pass = 0; pass < 2 && !lacks; pass++) {
		open = true;
		for (int i = 1; i < argc; i++) {
			bool ends = open && strcmp(argv[i], "--") == 0;
			bool option = open && is_option(argv[i]);
			bool argument = option && takes_next(argv[i]) && i + 1 < argc;
			lacks = lacks || (option && takes_next(argv[i]) && !argument);
			if (ends) {
				open = false;
				continue;
			}
			if (option == (pass == 0))
				sorted[count++] = argv[i];
			if (argument) {
				i++;
				if (pass == 0)
					sorted[count++] = argv[i];
			}
		}
		if (pass == 0 && !lacks)
			sorted[count++] = end;
	}
	sorted[count] = NULL;
	return count;
}

static void print_json(const hs_worked *worked, bool why)
{
	hs_buf out;
	hs_json_writer w;
	hs_buf_init(&out);
	hs_json_begin(&w, &out);
	hs_json_open_object(&w, NULL);
	hs_json_put_number(&w, "value", worked->value);
	hs_json_put_string(&w, "unit", worked->unit);
	if (why && *worked->note)
		hs_json_put_string(&w, "note", worked->note);
	if (why) {
		hs_json_open_array(&w, "why");
		for (const char *line = worked->steps.data; *line; line += strcspn(line, "\n") + 1) {
			hs_buf step;
			hs_buf_init(&step);
			hs_buf_add(&step, line, strcspn(line, "\n"));
			hs_json_put_string(&w, NULL, step.data);
			hs_buf_free(&step);
		}
		hs_json_close_array(&w);
	}
	hs_json_close_object(&w);
	hs_buf_char(&out, '\n');
	hs_cli_print(&out);
	hs_buf_free(&out);
}

static void print_text(const hs_worked *worked, bool why)
{
	hs_buf out;
	hs_buf_init(&out);
	hs_worked_print(&out, worked);
	hs_buf_char(&out, '\n');
	if (why && !worked->steps.length)
		hs_buf_str(&out, "  as it stands\n");
	for (const char *line = worked->steps.data; why && *line; line += strcspn(line, "\n") + 1) {
		hs_buf_str(&out, "  ");
		hs_buf_add(&out, line, strcspn(line, "\n"));
		hs_buf_char(&out, '\n');
	}
	hs_cli_print(&out);
	hs_buf_free(&out);
}

static int calculate(int count, char **words, bool why, bool json)
{
	hs_error error = {0};
	hs_fault fault = HS_FAULT_SYNTAX;
	hs_worked worked;
	hs_buf text;
	hs_buf_init(&text);
	for (int i = 0; i < count; i++) {
		if (i)
			hs_buf_char(&text, ' ');
		hs_buf_str(&text, words[i]);
	}
	int status = HS_EXIT_GOOD;
	if (!hs_expression_work(text.data, text.length, &worked, &fault, &error)) {
		status = json ? hs_cli_fail_json(&error, hs_fault_name(fault), why) : hs_cli_fail(&error);
	} else {
		if (json)
			print_json(&worked, why);
		else
			print_text(&worked, why);
		hs_worked_free(&worked);
	}
	hs_buf_free(&text);
	return status;
}

static int run_file(const char *path)
{
	hs_error error = {0};
	hs_folders folders;
	hs_buf out;
	hs_buf_init(&out);
	hs_folders_find(&folders);
	hs_sources *sources = hs_sources_from_disk(path, folders.items, folders.count, &error);
	int status = HS_EXIT_GOOD;
	if (sources && hs_calc_file(sources, &out, &error))
		hs_cli_print(&out);
	else
		status = hs_cli_fail(&error);
	hs_sources_free(sources);
	hs_folders_free(&folders);
	hs_buf_free(&out);
	return status;
}

static int refuse(const char *sentence, const char *hint, bool json)
{
	hs_error error = {0};
	hs_fail(&error, HS_BAD_INPUT, "%s", sentence);
	hs_fail_hint(&error, "%s", hint);
	return json ? hs_cli_fail_json(&error, hs_fault_name(HS_FAULT_SYNTAX), false) : hs_cli_fail(&error);
}

typedef struct request {
	const char *file;
	bool why, json;
} request;

static const hs_option options[] = {
    {"why", 0, NULL, "each formula used, with its numbers", offsetof(request, why)},
    {"json", 0, NULL, "the result as data: {\"value\",\"unit\"}, or {\"error\",\"class\"}; with --why more", offsetof(request, json)},
    {"file", 'f', "FILE", "runs a Lua file with the measurement library and prints what it returns",
     offsetof(request, file)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	int first, status;
	char **sorted = hs_alloc(((size_t)argc + 2) * sizeof *sorted);
	int count = options_first(argc, argv, sorted);
	if (hs_cli_options(command, &given, count, sorted, &first, &status)) {
		const char *file = given.file;
		bool why = given.why, json = given.json;
		if (file && first < count)
			status =
			    refuse("calc takes a file or an expression, and both were given", "leave one out", json);
		else if (file && (json || why))
			status = refuse("a file prints what it returns, and --json and --why are for expressions",
			                "let the file return what is wanted", json);
		else if (file)
			status = run_file(file);
		else if (first >= count)
			status =
			    refuse("calc needs an expression",
			           "write it like halfsplit calc 0 dBm in dBuV at 50 ohm; --help shows more", json);
		else
			status = calculate(count - first, sorted + first, why, json);
	}
	free(sorted);
	return status;
}

const hs_command hs_command_calc = {
    .name = "calc",
    .operands = "EXPR...",
    .says = "does the arithmetic of measurements",
    .help =
        "The words of an expression are joined by blanks; one that begins with - and a digit is a number. Quote * and "
        "( ) from\n"
        "the shell, or write x. For example:\n"
        "  0 dBm in dBuV at 50 ohm         12 V into 50 ohm as dBm        2 Vpp in dBm at 50 ohm\n"
        "  -12.3 dBm + 1.45 dB + 10 dB     20 dBm - 17 dBm                12 V / 2.5 A\n"
        "  3 dBm and 3 dBm                 3 dBm and 3 dBm in phase       3 dBm and 3 dBm at 90 deg\n"
        "  10 dBm less 3 dBm               -90 dBm near -95 dBm           mean of 3 dBm, 5 dBm, 4 dBm\n"
        "  swr 1.8 as return loss          return loss 14 dB as swr       gamma 0.2 as mismatch loss\n"
        "  swr 1.8 through 1.5 dB          swr 1.8 behind 1.5 dB          75 ohm as swr at 50 ohm\n"
        "  -100 dBm in 10 kHz as dBm/Hz    noise floor in 10 kHz with 6 dB   noise of 1 kohm in 10 kHz\n"
        "  3 dB as ratio                   voltage ratio 2 as dB          10 m RG-213/U at 145 MHz\n"
        "  emf 1 V as pd                   emf 1 V from 50 ohm into 75 ohm   12 V over 50 ohm as A\n"
        "  50 W forward, 2 W reflected     -50 dBm in dBc from 10 dBm     50 ohm parallel 75 ohm\n"
        "\"and\" adds powers, unless a phase is given. \"through\" is a load as seen through a line, \"behind\" the "
        "load\n"
        "behind the line it was seen through. No impedance is ever assumed. Classes of error in --json: syntax, unit,\n"
        "impedance, range, table, null, domain; status 2.\n",
    HS_OPTIONS(options),
    .least = 0,
    .most = 100000,
    .run = run,
};
