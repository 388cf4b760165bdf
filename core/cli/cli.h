/* What the commands share; the command line's own. */
#ifndef HALFSPLIT_CORE_CLI_CLI_H
#define HALFSPLIT_CORE_CLI_CLI_H

#include <stdio.h>
#include "halfsplit/base/alloc.h"
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

/* Exit status; the table in design.md. */
enum { HS_EXIT_GOOD = 0, HS_EXIT_BAD = 1, HS_EXIT_INPUT = 2, HS_EXIT_IO = 3, HS_EXIT_PAUSED = 4 };

typedef struct hs_command {
	const char *name;
	const char *operands; /* for the usage line: "PLAYBOOK" */
	const char *says;     /* one line for the list of commands */
	const char *help;     /* what follows the options in --help */
	size_t least, most;   /* operands */
	int (*run)(const struct hs_command *command, int argc, char **argv);
} hs_command;

extern const hs_command hs_command_run, hs_command_resume, hs_command_audit, hs_command_show, hs_command_check,
    hs_command_list, hs_command_calc, hs_command_loss;

/* One option of a command. Exactly one of value and flag is not NULL. */
typedef struct hs_option {
	const char *name;
	char letter;          /* '\0': none */
	const char *argument; /* "FILE"; NULL for a flag */
	const char *says;
	const char **value;
	bool *flag;
} hs_option;

/*
 * Reads the options, in any order among the operands, which end up at the end of argv from *first on. Adds --help.
 * True: go on. False: the command is over with *status (help was printed, or the request was wrong and the user told).
 */
bool hs_cli_options(const hs_command *command, const hs_option *options, size_t count, int argc, char **argv,
                    int *first, int *status);

/* Tells the user on stderr and gives the exit status that belongs to the error. */
int hs_cli_fail(const hs_error *error);

/* The same for a program: {"error","class"} on stdout. */
int hs_cli_fail_json(const hs_error *error, const char *name);

/* A line on stderr: "halfsplit: ..." */
void hs_cli_say(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* Prints text to stdout that was made safe to show already. */
void hs_cli_print(const hs_buf *text);

/* A name or a serial: UTF-8, not blank, at most 120 bytes. what names it in the message. */
bool hs_cli_name_fine(const char *text, const char *what, hs_error *error);

#endif
