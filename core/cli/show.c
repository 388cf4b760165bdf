/* halfsplit show: the report of a run. */
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "halfsplit/report/report.h"
#include "halfsplit/base/file.h"
#include "made.h"
#include "past.h"

static bool cannot_write(const char *path, hs_error *error)
{
	hs_fail(error, HS_IO, "the report cannot be written: %s", strerror(errno));
	return hs_fail_at(error, path, 0);
}

/* Into a new file beside, which then takes the name, so that a report is never half there. */
static bool replace_file(const char *path, const hs_buf *text, hs_error *error)
{
	hs_buf beside;
	hs_buf_init(&beside);
	hs_buf_printf(&beside, "%s.XXXXXX", path);
	int fd = mkstemp(beside.data);
	bool fine = fd >= 0 && fchmod(fd, 0644) == 0 && hs_write_all(fd, text->data, text->length);
	if (fd >= 0 && close(fd) != 0)
		fine = false;
	fine = fine && rename(beside.data, path) == 0;
	if (!fine)
		cannot_write(path, error);
	if (!fine && fd >= 0)
		unlink(beside.data);
	hs_buf_free(&beside);
	return fine;
}

static bool write_special(const char *path, const hs_buf *text, hs_error *error)
{
	int fd = open(path, O_WRONLY | O_CLOEXEC);
	bool fine = fd >= 0 && hs_write_all(fd, text->data, text->length);
	if (!fine)
		cannot_write(path, error);
	if (fd >= 0)
		close(fd);
	return fine;
}

static bool write_report(const char *path, const char *transcript, const hs_buf *text, hs_error *error)
{
	struct stat target, source;
	if (stat(path, &target) != 0)
		return replace_file(path, text, error);
	if (S_ISDIR(target.st_mode)) {
		hs_fail(error, HS_BAD_INPUT, "this is a folder; a file name for the report is wanted");
		return hs_fail_at(error, path, 0);
	}
	if (stat(transcript, &source) == 0 && source.st_dev == target.st_dev && source.st_ino == target.st_ino) {
		hs_fail(error, HS_BAD_INPUT, "the report would be written over its own transcript");
		return hs_fail_at(error, path, 0);
	}
	return S_ISREG(target.st_mode) ? replace_file(path, text, error) : write_special(path, text, error);
}

/* Whoever reads only the head of a report has not been failed: then the status tells it, and no message. */
static int print_report(const hs_buf *text)
{
	if (fflush(stdout) == 0 && hs_write_all(STDOUT_FILENO, text->data, text->length))
		return HS_EXIT_GOOD;
	if (errno != EPIPE)
		hs_cli_say("what was to be printed could not be written: %s", strerror(errno));
	return HS_EXIT_IO;
}

static int show(const char *path, bool json, const char *output)
{
	hs_error error = {0};
	hs_past past;
	hs_sheet sheet;
	if (!hs_past_read(&past, path, &error))
		return hs_cli_fail(&error);
	int status = HS_EXIT_GOOD;
	if (!hs_past_holds_together(&past, "reported", &error)) {
		hs_cli_fail(&error);
		status = HS_EXIT_BAD;
	} else if (!hs_sheet_read(past.data.data, past.data.length, &past.chain, past.result, &sheet, &error)) {
		status = hs_cli_fail(&error);
	} else {
		hs_buf text;
		hs_buf_init(&text);
		(json ? hs_sheet_json : hs_sheet_text)(&sheet, &text);
		if (!output)
			status = print_report(&text);
		else if (!write_report(output, path, &text, &error))
			status = hs_cli_fail(&error);
		hs_buf_free(&text);
		hs_sheet_free(&sheet);
	}
	hs_past_free(&past);
	return status;
}

typedef struct request {
	const char *as, *output;
} request;

static const hs_option options[] = {
    {"as", 0, "text|json", "a job sheet (text, unless given), or the same as data", offsetof(request, as)},
    {"output", 'o', "FILE", "where it goes; standard output unless given", offsetof(request, output)},
};

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	int first, status;
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	const char *as = given.as;
	if (as && strcmp(as, "text") != 0 && strcmp(as, "json") != 0) {
		hs_error error = {0};
		hs_fail(&error, HS_BAD_INPUT, "there is no format \"%s\"", as);
		hs_fail_hint(&error, "text and json are known");
		return hs_cli_fail(&error);
	}
	return show(argv[first], as && strcmp(as, "json") == 0, given.output);
}

const hs_command hs_command_show = {
    .name = "show",
    .operands = "TRANSCRIPT",
    .says = "writes the report of a run: a job sheet, or the same as data",
    .help = "A transcript that is not consistent with itself is not reported from (status 1).\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1,
    .run = run,
};
