/* What the commands share; the command line's own. */
#ifndef HALFSPLIT_CORE_CLI_CLI_H
#define HALFSPLIT_CORE_CLI_CLI_H

#include <stddef.h>
#include <stdio.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

/* Exit status; the table in design.md. */
enum { HS_EXIT_GOOD = 0, HS_EXIT_BAD = 1, HS_EXIT_INPUT = 2, HS_EXIT_IO = 3, HS_EXIT_PAUSED = 4 };

/* One option of a command. What is typed goes into the command's own request. */
typedef struct hs_option {
	const char *name;
	char letter;          /* '\0': none */
	const char *argument; /* what it takes: "FILE", or the words to choose from: "text|json"; NULL for a flag */
	const char *says;
	size_t at; /* offsetof in the request: of a const char * that is NULL unless given, or of a flag's bool */
} hs_option;

typedef struct hs_command {
	const char *name;
	const char *operands; /* for the usage line: "PLAYBOOK"; words to choose from as with hs_option */
	const char *says;     /* one line for the list of commands */
	const char *help;     /* what follows the options in --help */
	const hs_option *options;
	size_t option_count;
	size_t least, most; /* operands */
	int (*run)(const struct hs_command *command, int argc, char **argv);
} hs_command;

#define HS_OPTIONS(array) .options = (array), .option_count = sizeof(array) / sizeof *(array)

extern const hs_command hs_command_run;
extern const hs_command hs_command_resume;
extern const hs_command hs_command_audit;
extern const hs_command hs_command_show;
extern const hs_command hs_command_check;
extern const hs_command hs_command_list;
extern const hs_command hs_command_prepare;
extern const hs_command hs_command_prove;
extern const hs_command hs_command_new;
extern const hs_command hs_command_draft;
extern const hs_command hs_command_calc;
extern const hs_command hs_command_loss;
extern const hs_command hs_command_completion;

/* All commands, in the order in which they are told of; main.c. */
extern const hs_command *const hs_commands[];
extern const size_t hs_command_count;

/*
 * Reads the command's options into its request, which begins zeroed, in any order among the operands; these end up at
 * the end of argv from *first on. Adds --help. True: go on. False: the command is over with *status (help was printed,
 * or the request was wrong and the user told).
 */
bool hs_cli_options(const hs_command *command, void *request, int argc, char **argv, int *first, int *status);

/* Tells the user on stderr and gives the exit status that belongs to the error. */
int hs_cli_fail(const hs_error *error);

/* The same for a program: {"error","class"} on stdout, with "hint" when `why`. */
int hs_cli_fail_json(const hs_error *error, const char *name, bool why);

/* A line on stderr: "halfsplit: ..." */
void hs_cli_say(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* Prints text to stdout that was made safe to show already. */
void hs_cli_print(const hs_buf *text);

/* A name or a serial: UTF-8, not blank, at most HS_NAME_MOST bytes, no control characters but blanks around it. what
 * names it in the message. */
bool hs_cli_name_fine(const char *text, const char *what, hs_error *error);

#endif
