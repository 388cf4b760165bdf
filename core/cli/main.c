/* halfsplit VERB ...: finds the command and sees that what was printed arrived. */
#include <errno.h>
#include <malloc.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>
#include "cli.h"
#include "halfsplit/base/alloc.h"
#include "halfsplit/record/journal.h"

const hs_command *const hs_commands[] = {
    &hs_command_run,
    &hs_command_resume,
    &hs_command_audit,
    &hs_command_show,
    &hs_command_check,
    &hs_command_list,
    &hs_command_prepare,
    &hs_command_prove,
    &hs_command_new,
    &hs_command_draft,
    &hs_command_calc,
    &hs_command_loss,
    &hs_command_completion,
};
/* What a shipped playbook takes. */
#define ROOM (800 * 1024)
#define COMMANDS (sizeof hs_commands / sizeof *hs_commands)
const size_t hs_command_count = COMMANDS;

static void print_usage(void)
{
	printf("usage: halfsplit VERB ...\n\n"
	       "Guided fault isolation at the bench: playbooks that seniors write, juniors can follow and anybody can "
	       "audit.\n"
	       "It records and blocks; it makes nothing safe. Local codes, your employer's rules and licensed practice "
	       "come first.\n\n");
	for (size_t i = 0; i < COMMANDS; i++)
		printf("  %-10s %s\n", hs_commands[i]->name, hs_commands[i]->says);
	printf("\nhalfsplit VERB --help tells more; halfsplit --version prints the version.\n"
	       "Exit status: 0 done and good, 1 done and the answer is bad, 2 the request or its input is wrong,\n"
	       "3 input or output failed, 4 paused before the end.\n");
}

static int unknown_verb(const char *word)
{
	const char *names[COMMANDS];
	for (size_t i = 0; i < COMMANDS; i++)
		names[i] = hs_commands[i]->name;
	hs_error error = {0};
	hs_fail(&error, HS_BAD_INPUT, "there is no command \"%s\"", word);
	const char *near = hs_nearest(word, names, COMMANDS);
	if (near)
		hs_fail_hint(&error, "did you mean %s?", near);
	else
		hs_fail_hint(&error, "halfsplit --help lists them");
	return hs_cli_fail(&error);
}

static int dispatch(int argc, char **argv)
{
	if (argc < 2) {
		hs_error error = {0};
		hs_fail(&error, HS_BAD_INPUT, "a command is wanted");
		hs_fail_hint(&error, "halfsplit --help lists them");
		return hs_cli_fail(&error);
	}
	if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "help") == 0) {
		print_usage();
		return HS_EXIT_GOOD;
	}
	if (strcmp(argv[1], "--version") == 0) {
		printf("halfsplit %s\n", HS_VERSION);
		return HS_EXIT_GOOD;
	}
	for (size_t i = 0; i < COMMANDS; i++)
		if (strcmp(argv[1], hs_commands[i]->name) == 0)
			return hs_commands[i]->run(hs_commands[i], argc - 1, argv + 1);
	return unknown_verb(argv[1]);
}

/*
 * What a playbook and its first question take is had from the kernel in one call: page by page, as each is first touched, costs four
 * times as much. A kernel that cannot hands the pages out one by one as ever.
 */
static void take_room(void)
{
	mallopt(M_TOP_PAD, ROOM);
	char *before = sbrk(0);
	free(hs_alloc(1));
	char *after = sbrk(0);
	if (after > before)
		madvise(before, (size_t)(after - before), MADV_POPULATE_WRITE);
	mallopt(M_TOP_PAD, 1 << 17);
}

int main(int argc, char **argv)
{
	/* Memory that is free is not given back page by page, least of all just before the end. */
	mallopt(M_TRIM_THRESHOLD, 1 << 24);
	if (argc > 2) /* a command with something to work on */
		take_room();
	hs_journal_ignore_signals();
	signal(SIGPIPE, SIG_IGN);
	int status = dispatch(argc, argv);
	errno = 0;
	bool failed = ferror(stdout) != 0;
	if (fflush(stdout) != 0)
		failed = true;
	if (failed) {
		int why = errno;
		hs_cli_say("what was to be printed could not be written%s%s", why ? ": " : "",
		           why ? strerror(why) : "");
		return HS_EXIT_IO;
	}
	return status;
}
