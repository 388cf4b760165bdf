#include <getopt.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>
#include "cli.h"
#include "halfsplit/json/json.h"
#include "halfsplit/record/transcript.h"

/* Columns of the terminal that errors go to; 0 when they go elsewhere, where lines are kept whole. */
static size_t error_columns(void)
{
	struct winsize size;
	bool known = isatty(STDERR_FILENO) && ioctl(STDERR_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col >= 40;
	return known ? size.ws_col : 0;
}

/* The text is safe to show already. A quoted line of a file, which is set in by four, stays as it is. */
static void print_error(const char *text)
{
	size_t columns = error_columns();
	hs_buf out;
	hs_buf_init(&out);
	hs_buf_str(&out, columns ? "" : "halfsplit: ");
	hs_buf line;
	hs_buf_init(&line);
	hs_buf_str(&line, columns ? "halfsplit: " : "");
	while (columns && *text) {
		size_t length = strcspn(text, "\n");
		hs_buf_add(&line, text, length);
		if (strncmp(line.data, "    ", 4) == 0)
			hs_buf_str(&out, line.data);
		else
			hs_buf_wrap(&out, line.data, columns, 2 + strspn(line.data, " "));
		hs_buf_char(&out, '\n');
		hs_buf_clear(&line);
		text += length + (text[length] == '\n');
	}
	hs_buf_str(&out, text);
	fputs(out.data, stderr);
	hs_buf_free(&line);
	hs_buf_free(&out);
}

void hs_cli_say(const char *format, ...)
{
	hs_buf text, shown;
	hs_buf_init(&text);
	hs_buf_init(&shown);
	va_list args;
	va_start(args, format);
	hs_buf_vprintf(&text, format, args);
	va_end(args);
	hs_buf_shown(&shown, text.data, false);
	hs_buf_char(&shown, '\n');
	print_error(shown.data);
	hs_buf_free(&text);
	hs_buf_free(&shown);
}

int hs_cli_fail(const hs_error *error)
{
	hs_buf text;
	hs_buf_init(&text);
	hs_error_render(error, &text);
	fflush(stdout);
	print_error(text.data);
	hs_buf_free(&text);
	return hs_code_exit(error->code);
}

int hs_cli_fail_json(const hs_error *error, const char *name, bool why)
{
	hs_buf out;
	hs_json_writer w;
	hs_buf_init(&out);
	hs_json_begin(&w, &out);
	hs_json_open_object(&w, NULL);
	hs_json_put_string(&w, "error", error->message);
	hs_json_put_string(&w, "class", name);
	if (why && *error->hint)
		hs_json_put_string(&w, "hint", error->hint);
	hs_json_close_object(&w);
	hs_buf_char(&out, '\n');
	hs_cli_print(&out);
	hs_buf_free(&out);
	return hs_code_exit(error->code);
}

void hs_cli_print(const hs_buf *text)
{
	fwrite(text->data, 1, text->length, stdout);
}

/* Blanks around it will be trimmed; anything of that kind inside would drive a terminal or forge a line. */
static bool has_control(const char *text)
{
	char *copy = hs_strdup(text);
	bool found = !hs_name_possible(hs_trim(copy));
	free(copy);
	return found;
}

bool hs_cli_name_fine(const char *text, const char *what, hs_error *error)
{
	if (!hs_utf8_valid(text, strlen(text)))
		return hs_fail(error, HS_BAD_INPUT, "%s is not UTF-8 text", what);
	if (text[strspn(text, " \t\r\n\v\f")] == '\0')
		return hs_fail(error, HS_BAD_INPUT, "%s is empty", what);
	if (strlen(text) > HS_NAME_MOST)
		return hs_fail(error, HS_BAD_INPUT, "%s has %zu bytes; at most %d are taken", what, strlen(text),
		               HS_NAME_MOST);
	if (has_control(text))
		return hs_fail(error, HS_BAD_INPUT, "%s holds a control character", what);
	return true;
}

static void option_help(hs_buf *out, char letter, const char *name, const char *argument, const char *says)
{
	hs_buf left;
	hs_buf_init(&left);
	hs_buf_str(&left, "  ");
	if (letter)
		hs_buf_printf(&left, "-%c, ", letter);
	hs_buf_printf(&left, "--%s%s%s", name, argument ? " " : "", argument ? argument : "");
	hs_buf_printf(out, "%-26s ", left.data);
	hs_buf_wrap(out, says, 100, 27);
	hs_buf_char(out, '\n');
	hs_buf_free(&left);
}

static void print_help(const hs_command *command)
{
	const hs_option *options = command->options;
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_printf(&text, "usage: halfsplit %s [OPTION...]%s%s\n\nhalfsplit %s %s.\n\n", command->name,
	              *command->operands ? " " : "", command->operands, command->name, command->says);
	for (size_t i = 0; i < command->option_count; i++)
		option_help(&text, options[i].letter, options[i].name, options[i].argument, options[i].says);
	option_help(&text, '\0', "help", NULL, "this text");
	if (command->help)
		hs_buf_printf(&text, "\n%s", command->help);
	hs_cli_print(&text);
	hs_buf_free(&text);
}

static bool wrong(const hs_command *command, int *status, const hs_error *error)
{
	hs_error shown = *error;
	if (!shown.hint[0])
		hs_fail_hint(&shown, "halfsplit %s --help lists what it takes", command->name);
	*status = hs_cli_fail(&shown);
	return false;
}

/* What getopt_long would not take: the argument as typed is the one before optind. */
static void unknown_option(const hs_option *options, size_t count, char **argv, int found, hs_error *error)
{
	const char *typed = argv[optind - 1];
	if (found == ':') {
		hs_fail(error, HS_BAD_INPUT, "%s needs an argument", typed);
		return;
	}
	if (optopt >= 256) {
		hs_fail(error, HS_BAD_INPUT, "%s: --%s takes no argument", typed, options[optopt - 256].name);
		return;
	}
	if (optopt) {
		hs_fail(error, HS_BAD_INPUT, "unknown option -%c", optopt);
		return;
	}
	hs_fail(error, HS_BAD_INPUT, "unknown option %s", typed);
	const char *names[32];
	size_t known = 0;
	for (size_t i = 0; i < count && known < 31; i++)
		names[known++] = options[i].name;
	names[known++] = "help";
	char word[64];
	hs_copy(word, sizeof word, typed + strspn(typed, "-"));
	word[strcspn(word, "=")] = '\0';
	const char *near = hs_nearest(word, names, known);
	if (near)
		hs_fail_hint(error, "did you mean --%s?", near);
}

static bool take_option(const hs_option *option, void *request, const char *argument, hs_error *error)
{
	void *field = (char *)request + option->at;
	if (!option->argument) {
		*(bool *)field = true;
		return true;
	}
	const char **value = field;
	if (*value)
		return hs_fail(error, HS_BAD_INPUT, "--%s is given twice", option->name);
	*value = argument;
	return true;
}

static bool operands_fine(const hs_command *command, size_t given, hs_error *error)
{
	if (given < command->least)
		return hs_fail(error, HS_BAD_INPUT, "%s needs %s", command->name, command->operands);
	if (given > command->most)
		return hs_fail(error, HS_BAD_INPUT, "%s takes %s and nothing more, but %zu were given", command->name,
		               command->operands, given);
	return true;
}

#define OPTIONS_MOST 16

/* getopt's own tables from ours; each option's number is its index above the characters. */
static void make_tables(const hs_option *options, size_t count, struct option *table, char *letters)
{
	*letters++ = ':';
	for (size_t i = 0; i < count && i < OPTIONS_MOST; i++) {
		int has = options[i].argument ? required_argument : no_argument;
		table[i] = (struct option){options[i].name, has, NULL, (int)i + 256};
		if (options[i].letter) {
			*letters++ = options[i].letter;
			if (has)
				*letters++ = ':';
		}
	}
	table[count] = (struct option){"help", no_argument, NULL, 'h'};
	*letters = '\0';
}

static const hs_option *option_found(const hs_option *options, size_t count, int found)
{
	if (found >= 256)
		return &options[found - 256];
	for (size_t i = 0; i < count; i++)
		if (options[i].letter && options[i].letter == found)
			return &options[i];
	return NULL;
}

bool hs_cli_options(const hs_command *command, void *request, int argc, char **argv, int *first, int *status)
{
	const hs_option *options = command->options;
	size_t count = command->option_count;
	struct option table[OPTIONS_MOST + 2] = {0};
	char letters[2 * OPTIONS_MOST + 2];
	make_tables(options, count, table, letters);
	hs_error error = {0};
	opterr = 0;
	optind = 0;
	for (int found; (found = getopt_long(argc, argv, letters, table, NULL)) != -1;) {
		if (found == 'h') {
			print_help(command);
			*status = HS_EXIT_GOOD;
			return false;
		}
		const hs_option *option = option_found(options, count, found);
		if (!option) {
			unknown_option(options, count, argv, found, &error);
			return wrong(command, status, &error);
		}
		if (!take_option(option, request, optarg, &error))
			return wrong(command, status, &error);
	}
	*first = optind;
	if (!operands_fine(command, (size_t)(argc - optind), &error))
		return wrong(command, status, &error);
	return true;
}
