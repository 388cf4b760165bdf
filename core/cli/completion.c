/* halfsplit completion: what the shell needs to complete a line, made from the table the commands read it by. */
#include <string.h>
#include "cli.h"

/*
 * What completes an argument, by the word that --help calls it; for words to choose from ("text|json") nothing stands
 * here, and nothing completes what a person makes up.
 */
typedef struct source {
	const char *word;
	const char *bash, *zsh;
} source;

static const source sources[] = {
    {"PLAYBOOK", "_halfsplit_playbooks", "_halfsplit_playbooks"},
    {"TRANSCRIPT", "_halfsplit_transcripts", "_halfsplit_transcripts"},
    {"FINDING", "_halfsplit_lines list --findings", "_halfsplit_findings"},
    {"WORD", "_halfsplit_lines list --ids", "_halfsplit_playbooks"},
    {"CABLE", "_halfsplit_files", "_files"},
    {"FILE", "_halfsplit_files", "_files"},
};

static const char bash_head[] =
    "# Completes halfsplit in bash; written by `halfsplit completion bash`.\n"
    "# What is found on disk is only compared and quoted, never expanded: a file may be named anything.\n"
    "\n"
    "_halfsplit_offer() { # WORD...: those that begin with what is typed\n"
    "\tlocal word\n"
    "\tfor word in \"$@\"; do\n"
    "\t\t[[ $word == \"$cur\"* ]] && COMPREPLY+=(\"$word\")\n"
    "\tdone\n"
    "}\n"
    "\n"
    "_halfsplit_lines() { # ARGUMENT...: the words that halfsplit prints for them, one a line\n"
    "\tlocal word\n"
    "\twhile IFS= read -r word; do\n"
    "\t\t_halfsplit_offer \"$word\"\n"
    "\tdone < <(command halfsplit \"$@\" 2>/dev/null)\n"
    "}\n"
    "\n"
    "_halfsplit_files() { # [ENDING]: files that end so, and folders\n"
    "\tlocal file\n"
    "\tcompopt -o filenames 2>/dev/null\n"
    "\twhile IFS= read -r file; do\n"
    "\t\tCOMPREPLY+=(\"$file\")\n"
    "\tdone < <([[ -z ${1-} ]] || compgen -d -- \"$cur\"; compgen -f -X \"!*${1-}\" -- \"$cur\")\n"
    "}\n"
    "\n"
    "_halfsplit_playbooks() { # ids, or families behind --freehand; and where none fits, paths\n"
    "\tif [[ \" ${COMP_WORDS[*]} \" == *' --freehand '* ]]; then\n"
    "\t\t_halfsplit_lines list --families\n"
    "\telse\n"
    "\t\t_halfsplit_lines list --ids\n"
    "\tfi\n"
    "\t[[ ${#COMPREPLY[@]} -gt 0 ]] || _halfsplit_files .lua\n"
    "}\n"
    "\n"
    "_halfsplit_transcripts() { # by their name in the folder of runs, or by a path\n"
    "\tlocal file runs=${HALFSPLIT_RUNS:-$HOME/.local/share/halfsplit/runs}\n"
    "\tcompopt -o filenames 2>/dev/null\n"
    "\tif [[ $cur != */* ]]; then\n"
    "\t\tfor file in \"$runs\"/\"$cur\"*.jsonl; do\n"
    "\t\t\t[[ -f $file ]] && COMPREPLY+=(\"$file\")\n"
    "\t\tdone\n"
    "\tfi\n"
    "\t_halfsplit_files .jsonl\n"
    "}\n"
    "\n"
    "_halfsplit() {\n"
    "\tlocal cur=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]}\n"
    "\tCOMPREPLY=()\n"
    "\t# --kit=FILE comes as three words.\n"
    "\tif [[ $cur == = ]]; then\n"
    "\t\tcur=\n"
    "\telif [[ $before == = && $COMP_CWORD -gt 2 ]]; then\n"
    "\t\tbefore=${COMP_WORDS[COMP_CWORD - 2]}\n"
    "\tfi\n";

static const char bash_tail[] = "}\n"
                                "complete -F _halfsplit halfsplit\n";

static const char zsh_head[] = "#compdef halfsplit\n"
                               "# Completes halfsplit in zsh; written by `halfsplit completion zsh`.\n"
                               "\n"
                               "_halfsplit_playbooks() {\n"
                               "\tlocal -a ids\n"
                               "\tlocal form=--ids\n"
                               "\t[[ \" $words \" == *' --freehand '* ]] && form=--families\n"
                               "\tids=(${(f)\"$(command halfsplit list $form 2>/dev/null)\"})\n"
                               "\t_alternative 'playbooks:playbook:compadd -a ids' 'files:file:_files -g \"*.lua\"'\n"
                               "}\n"
                               "\n"
                               "_halfsplit_findings() {\n"
                               "\tlocal -a ids\n"
                               "\tids=(${(f)\"$(command halfsplit list --findings 2>/dev/null)\"})\n"
                               "\t_alternative 'findings:finding:compadd -a ids'\n"
                               "}\n"
                               "\n"
                               "_halfsplit_transcripts() { # by their name in the folder of runs, or by a path\n"
                               "\tlocal runs=${HALFSPLIT_RUNS:-$HOME/.local/share/halfsplit/runs}\n"
                               "\tlocal -a held\n"
                               "\tif [[ $PREFIX != */* ]]; then\n"
                               "\t\theld=($runs/$PREFIX*.jsonl(N))\n"
                               "\t\tcompadd -U -f -a held\n"
                               "\tfi\n"
                               "\t_files -g '*.jsonl'\n"
                               "}\n"
                               "\n"
                               "_halfsplit() {\n"
                               "\tlocal -a verbs\n";

static const char zsh_tail[] = "}\n"
                               "\n"
                               "# As a file of its own it is called; read into a shell it is only made known.\n"
                               "if [[ $funcstack[1] == _halfsplit ]]; then\n"
                               "\t_halfsplit \"$@\"\n"
                               "else\n"
                               "\tcompdef _halfsplit halfsplit\n"
                               "fi\n";

static const char *find_source(const char *argument, bool zsh)
{
	const char *word = argument + (*argument == '[');
	size_t length = strspn(word, "ABCDEFGHIJKLMNOPQRSTUVWXYZ");
	for (size_t i = 0; i < sizeof sources / sizeof *sources; i++)
		if (strlen(sources[i].word) == length && strncmp(sources[i].word, word, length) == 0)
			return zsh ? sources[i].zsh : sources[i].bash;
	return NULL;
}

/* "text|json" becomes "text json". */
static void put_choices(hs_buf *out, const char *argument)
{
	for (const char *p = argument; *p; p++)
		hs_buf_char(out, *p == '|' ? ' ' : *p);
}

/* ---- bash ---- */

static void bash_argument(hs_buf *out, const char *argument)
{
	const char *found = find_source(argument, false);
	if (strchr(argument, '|')) {
		hs_buf_str(out, "_halfsplit_offer ");
		put_choices(out, argument);
	} else {
		hs_buf_str(out, found ? found : ":"); /* nothing is known of it */
	}
}

static void bash_options(hs_buf *out, const hs_command *command)
{
	hs_buf_str(out, "\t\tcase $before in\n");
	for (size_t i = 0; i < command->option_count; i++) {
		const hs_option *option = &command->options[i];
		if (!option->argument)
			continue;
		hs_buf_str(out, "\t\t");
		if (option->letter)
			hs_buf_printf(out, "-%c | ", option->letter);
		hs_buf_printf(out, "--%s) ", option->name);
		bash_argument(out, option->argument);
		hs_buf_str(out, "; return ;;\n");
	}
	hs_buf_str(out, "\t\tesac\n");
}

static void bash_command(hs_buf *out, const hs_command *command)
{
	hs_buf_printf(out, "\t%s)\n", command->name);
	bool takes = false;
	for (size_t i = 0; i < command->option_count; i++)
		takes = takes || command->options[i].argument;
	if (takes)
		bash_options(out, command);
	hs_buf_str(out, "\t\tif [[ $cur == -* ]]; then\n\t\t\t_halfsplit_offer");
	for (size_t i = 0; i < command->option_count; i++) {
		hs_buf_printf(out, " --%s", command->options[i].name);
		if (command->options[i].letter)
			hs_buf_printf(out, " -%c", command->options[i].letter);
	}
	hs_buf_str(out, " --help\n\t\telse\n\t\t\t");
	bash_argument(out, command->operands);
	hs_buf_str(out, "\n\t\tfi ;;\n");
}

static void write_bash(hs_buf *out)
{
	hs_buf_str(out, bash_head);
	hs_buf_str(out, "\tif [[ $COMP_CWORD -eq 1 ]]; then\n\t\t_halfsplit_offer");
	for (size_t i = 0; i < hs_command_count; i++)
		hs_buf_printf(out, " %s", hs_commands[i]->name);
	hs_buf_str(out, " --help --version\n\t\treturn\n\tfi\n\tcase ${COMP_WORDS[1]} in\n");
	for (size_t i = 0; i < hs_command_count; i++)
		bash_command(out, hs_commands[i]);
	hs_buf_str(out, "\tesac\n");
	hs_buf_str(out, bash_tail);
}

/* ---- zsh ---- */

/* Within single quotes; each character of `special` gets a backslash. */
static void zsh_quoted(hs_buf *out, const char *text, const char *special)
{
	for (const char *p = text; *p; p++) {
		if (*p == '\'')
			hs_buf_str(out, "'\\'");
		else if (strchr(special, *p))
			hs_buf_char(out, '\\');
		hs_buf_char(out, *p);
	}
}

/* ":MESSAGE:ACTION" of an argument. */
static void zsh_argument(hs_buf *out, const char *argument)
{
	const char *found = find_source(argument, true);
	hs_buf_char(out, ':');
	zsh_quoted(out, argument, ":[]");
	hs_buf_char(out, ':');
	if (strchr(argument, '|')) {
		hs_buf_char(out, '(');
		put_choices(out, argument);
		hs_buf_char(out, ')');
	} else {
		hs_buf_str(out, found ? found : " ");
	}
}

static void zsh_option(hs_buf *out, const hs_option *option, bool letter)
{
	hs_buf_str(out, " \\\n\t\t\t'");
	if (option->letter)
		hs_buf_printf(out, "(-%c --%s)", option->letter, option->name);
	if (letter)
		hs_buf_printf(out, "-%c", option->letter);
	else
		hs_buf_printf(out, "--%s%s", option->name, option->argument ? "=" : "");
	hs_buf_char(out, '[');
	zsh_quoted(out, option->says, "[]");
	hs_buf_char(out, ']');
	if (option->argument)
		zsh_argument(out, option->argument);
	hs_buf_char(out, '\'');
}

static void zsh_command(hs_buf *out, const hs_command *command)
{
	hs_buf_printf(out, "\t%s)\n\t\t_arguments", command->name);
	for (size_t i = 0; i < command->option_count; i++) {
		if (command->options[i].letter)
			zsh_option(out, &command->options[i], true);
		zsh_option(out, &command->options[i], false);
	}
	hs_buf_str(out, " \\\n\t\t\t'--help[this text]'");
	if (command->most) {
		hs_buf_printf(out, " \\\n\t\t\t'%s", command->most > 1 ? "*" : "1");
		zsh_argument(out, command->operands);
		hs_buf_char(out, '\'');
	}
	hs_buf_str(out, " ;;\n");
}

static void write_zsh(hs_buf *out)
{
	hs_buf_str(out, zsh_head);
	hs_buf_str(out, "\tverbs=(\n");
	for (size_t i = 0; i < hs_command_count; i++) {
		hs_buf_printf(out, "\t\t'%s:", hs_commands[i]->name);
		zsh_quoted(out, hs_commands[i]->says, "");
		hs_buf_str(out, "'\n");
	}
	hs_buf_str(out, "\t)\n"
	                "\tif (( CURRENT == 2 )); then\n"
	                "\t\t_describe -t verbs command verbs\n"
	                "\t\t[[ $PREFIX == -* ]] && compadd -- --help --version\n"
	                "\t\treturn\n"
	                "\tfi\n"
	                "\tshift words\n"
	                "\t(( CURRENT-- ))\n"
	                "\tcase $words[1] in\n");
	for (size_t i = 0; i < hs_command_count; i++)
		zsh_command(out, hs_commands[i]);
	hs_buf_str(out, "\tesac\n");
	hs_buf_str(out, zsh_tail);
}

/* ---- the command ---- */

static int run(const hs_command *command, int argc, char **argv)
{
	int first, status;
	if (!hs_cli_options(command, NULL, argc, argv, &first, &status))
		return status;
	const char *shell = argv[first];
	bool bash = strcmp(shell, "bash") == 0;
	if (!bash && strcmp(shell, "zsh") != 0) {
		hs_error error = {0};
		hs_fail(&error, HS_BAD_INPUT, "nothing is known of a shell \"%s\"", shell);
		hs_fail_hint(&error, "bash and zsh are known");
		return hs_cli_fail(&error);
	}
	hs_buf out;
	hs_buf_init(&out);
	(bash ? write_bash : write_zsh)(&out);
	hs_cli_print(&out);
	hs_buf_free(&out);
	return HS_EXIT_GOOD;
}

const hs_command hs_command_completion = {
    .name = "completion",
    .operands = "bash|zsh",
    .says = "writes what a shell needs to complete commands, options, playbooks, transcripts and findings",
    .help = "`make install` puts it where both shells look. Without that, for this shell alone:\n"
            "  source <(halfsplit completion bash)\n",
    .least = 1,
    .most = 1,
    .run = run,
};
