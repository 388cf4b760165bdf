/* halfsplit prove: every outcome in turn, before anybody trusts the playbook. */
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>
#include "bench.h"
#include "halfsplit/json/json.h"
#include "halfsplit/proof/proof.h"

typedef struct request {
	const char *kit;
	const char *most;
	bool json;
} request;

static const hs_option options[] = {
    {"kit", 0, "FILE", "prove with this kit; else $HALFSPLIT_KIT, else kit.lua beside the playbook", offsetof(request, kit)},
    {"most", 0, "N", "try at most so many states; 2000000 unless given", offsetof(request, most)},
    {"json", 0, NULL, "the result as data", offsetof(request, json)},
};

static void progress(void *context, size_t states, size_t waiting)
{
	(void)context;
	fprintf(stderr, "\r%zu states tried, %zu waiting ", states, waiting);
}

static void end_progress(void)
{
	fprintf(stderr, "\r%60s\r", "");
}

static double seconds_since(const struct timespec *from)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (double)(now.tv_sec - from->tv_sec) + (double)(now.tv_nsec - from->tv_nsec) / 1e9;
}

static void print_witness(const hs_violation *violation, hs_buf *out)
{
	if (violation->kind == HS_VIOLATES_REACH)
		return;
	if (!violation->shown) {
		hs_buf_str(out, "  possible: no numbers were found that lead there\n");
		return;
	}
	hs_buf_str(out, "  the shortest answers that show it:\n    ");
	for (const char *at = violation->witness.data; *at != '\0'; at++) {
		hs_buf_char(out, *at);
		if (*at == '\n' && at[1] != '\0')
			hs_buf_str(out, "    ");
	}
}

static void print_violation(const hs_playbook *playbook, const hs_violation *violation, hs_buf *out)
{
	hs_buf what;
	hs_buf_init(&what);
	hs_buf_shown(&what, violation->what, false);
	if (violation->where.file != NULL)
		hs_buf_printf(out, "%s:%d: ", violation->where.file, violation->where.line);
	hs_buf_printf(out, "%s: %s%s%s\n", hs_violation_name(violation->kind), violation->step >= 0 ? playbook->steps[violation->step].id : "",
	              violation->step >= 0 ? ": " : "", what.data);
	print_witness(violation, out);
	hs_buf_free(&what);
}

static void print_text(const hs_playbook *playbook, const hs_proof *proof, hs_buf *out)
{
	for (size_t i = 0; i < proof->count; i++)
		print_violation(playbook, &proof->violations[i], out);
	hs_buf_shown(out, playbook->id, false);
	hs_buf_printf(out, ": %zu states, %zu ways tried, %zu findings reached; ", proof->states, proof->ways, proof->findings);
	if (!proof->whole)
		hs_buf_str(out, "not all of it: raise --most; ");
	if (proof->count == 0)
		hs_buf_str(out, "no way ends nowhere, goes round for ever or reaches where it must not\n");
	else
		hs_buf_printf(out, "%zu violation%s\n", proof->count, proof->count == 1 ? "" : "s");
}

static void print_json(const hs_playbook *playbook, const hs_proof *proof, double seconds, hs_buf *out)
{
	hs_json_writer w;
	hs_json_begin(&w, out);
	hs_json_open_object(&w, NULL);
	hs_json_put_string(&w, "playbook", playbook->id);
	hs_json_put_integer(&w, "states", (long long)proof->states);
	hs_json_put_integer(&w, "walks", (long long)proof->ways);
	hs_json_put_integer(&w, "findings", (long long)proof->findings);
	hs_json_put_bool(&w, "whole", proof->whole);
	hs_json_put_number(&w, "seconds", seconds);
	hs_json_open_array(&w, "violations");
	for (size_t i = 0; i < proof->count; i++) {
		const hs_violation *it = &proof->violations[i];
		hs_json_open_object(&w, NULL);
		hs_json_put_string(&w, "kind", hs_violation_name(it->kind));
		hs_json_put_string(&w, "step", it->step >= 0 ? playbook->steps[it->step].id : NULL);
		hs_json_put_string(&w, "file", it->where.file);
		hs_json_put_integer(&w, "line", it->where.line);
		hs_json_put_string(&w, "what", it->what);
		hs_json_put_string(&w, "answers", it->shown ? it->witness.data : NULL);
		hs_json_close_object(&w);
	}
	hs_json_close_array(&w);
	hs_json_close_object(&w);
	hs_buf_char(out, '\n');
}

static int prove(hs_bench *bench, const request *given, size_t most)
{
	hs_error error = {0};
	hs_proof proof;
	struct timespec from;
	clock_gettime(CLOCK_MONOTONIC, &from);
	bool tell = !given->json && isatty(STDERR_FILENO);
	bool good = hs_prove_outcomes(bench->playbook, most, tell ? progress : NULL, NULL, &proof, &error);
	if (tell)
		end_progress();
	if (!good)
		return hs_cli_fail(&error);
	hs_buf out;
	hs_buf_init(&out);
	if (given->json)
		print_json(bench->playbook, &proof, seconds_since(&from), &out);
	else
		print_text(bench->playbook, &proof, &out);
	hs_cli_print(&out);
	hs_buf_free(&out);
	int status = proof.count > 0 || !proof.whole ? HS_EXIT_BAD : HS_EXIT_GOOD;
	hs_proof_free(&proof);
	return status;
}

static int refuse_problems(const hs_bench *bench)
{
	hs_buf out;
	hs_buf_init(&out);
	for (size_t i = 0; i < bench->problems.count; i++)
		if (bench->problems.items[i].severity == HS_ERROR)
			hs_problem_print(&bench->problems.items[i], &out);
	hs_cli_print(&out);
	hs_buf_free(&out);
	hs_cli_say("a playbook that does not check clean is not proved; mend the errors above first");
	return HS_EXIT_BAD;
}

static bool read_most(const char *text, size_t *most, hs_error *error)
{
	char *end = NULL;
	unsigned long value = text != NULL ? strtoul(text, &end, 10) : 0;
	*most = value;
	if (text == NULL || (*text >= '1' && *text <= '9' && *end == '\0' && value <= 50000000))
		return true;
	hs_fail(error, HS_BAD_INPUT, "--most %.40s is no number of states", text);
	hs_fail_hint(error, "write a whole number from 1 to 50000000");
	return false;
}

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	hs_error error = {0};
	int first, status;
	size_t most;
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	if (!read_most(given.most, &most, &error))
		return hs_cli_fail(&error);
	hs_folders folders;
	hs_bench bench = {0};
	bool named;
	hs_folders_find(&folders);
	const char *path = hs_playbook_path(&folders, argv[first], &error);
	const char *kit = path ? hs_kit_path(&folders, given.kit, path, &named) : NULL;
	if (!path || !hs_bench_load(&bench, &folders, argv[first], path, kit, &error))
		status = hs_cli_fail(&error);
	else if (bench.playbook == NULL || bench.problems.errors > 0)
		status = refuse_problems(&bench);
	else
		status = prove(&bench, &given, most);
	hs_bench_free(&bench);
	hs_folders_free(&folders);
	return status;
}

const hs_command hs_command_prove = {
    .name = "prove",
    .operands = "PLAYBOOK",
    .says = "tries every outcome of a playbook, before anybody trusts it",
    .help = "Every reading comes out every way it can, every look is answered with every word, every decision leads to all it\n"
            "names. It finds ways that lead nowhere, loops without an end, steps no way leads to, and, by a second account of the\n"
            "safety rules, hands or leads where they must not be; with the shortest answers file that shows it. Status 1 when\n"
            "something is found.\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1,
    .run = run,
};
