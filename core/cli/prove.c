/* halfsplit prove: every outcome in turn, before anybody trusts the playbook. */
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>
#include "bench.h"
#include "halfsplit/json/json.h"
#include "halfsplit/proof/proof.h"
#include "prove_draw.h"

typedef struct request {
	const char *kit;
	const char *most, *seeds, *jobs, *fault, *draw, *way;
	bool json;
} request;

#define JOBS_MOST     64
#define ANSWERS_SHOWN 10 /* of faults that end wrong */

static const hs_option options[] = {
    {"kit", 0, "FILE", "prove with this kit; else $HALFSPLIT_KIT, else kit.lua beside the playbook", offsetof(request, kit)},
    {"most", 0, "N", "try at most so many states; 2000000 unless given", offsetof(request, most)},
    {"seeds", 0, "N", "draws of each fault, besides nominal and both corners; 20 unless given", offsetof(request, seeds)},
    {"jobs", 'j', "N", "play the faults on so many cores; 1 unless given. What comes out is the same", offsetof(request, jobs)},
    {"fault", 0, "SUSPECT/MODE", "play this fault alone, and print the answers of its nominal run", offsetof(request, fault)},
    {"draw", 0, "FILE", "only draw the tree: into FILE.svg or FILE.dot, or as text with --draw text", offsetof(request, draw)},
    {"way", 0, "TRANSCRIPT", "mark on the drawing the way this run took", offsetof(request, way)},
    {"json", 0, NULL, "the result as data", offsetof(request, json)},
};

static void progress(void *context, size_t states, size_t waiting)
{
	(void)context;
	fprintf(stderr, "\r%zu states tried, %zu waiting ", states, waiting);
}

static void fault_progress(void *context, size_t played, size_t waiting)
{
	(void)context;
	fprintf(stderr, "\r%60s\r%zu faults played, %zu waiting ", "", played, waiting);
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

/* Set in, so that it can be told from what stands around it. */
static void print_answers_in(const char *answers, hs_buf *out)
{
	hs_buf shown;
	hs_buf_init(&shown);
	hs_buf_shown(&shown, answers, true);
	for (const char *at = shown.data; *at != '\0'; at += strcspn(at, "\n") + (at[strcspn(at, "\n")] == '\n'))
		hs_buf_printf(out, "    %.*s\n", (int)strcspn(at, "\n"), at);
	hs_buf_free(&shown);
}

static void print_witness(const hs_violation *violation, hs_buf *out)
{
	if (violation->kind == HS_VIOLATES_REACH)
		return;
	if (!violation->shown) {
		hs_buf_str(out, "  possible: no numbers were found that lead there\n");
		return;
	}
	hs_buf_str(out, "  the shortest answers that show it:\n");
	print_answers_in(violation->witness.data, out);
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

/* ---- faults ---- */

static void print_wrong_answers(const hs_playbook *playbook, const hs_fault_ends *ends, hs_buf *out)
{
	hs_buf text;
	hs_buf_init(&text);
	if (hs_fault_answers(playbook, ends->fault, ends->wrong_seed, &text, NULL)) {
		hs_buf_str(out, "  the shortest answers that show it:\n");
		print_answers_in(text.data, out);
	}
	hs_buf_free(&text);
}

static void print_wrong(const hs_playbook *playbook, const hs_fault_ends *ends, bool answers, hs_buf *out)
{
	hs_buf why;
	hs_buf_init(&why);
	hs_buf_shown(&why, ends->why, false);
	hs_buf_printf(out, "    %zu of %zu runs end wrong: ", ends->wrong, ends->runs);
	if (ends->wrong_at >= 0)
		hs_buf_printf(out, "at %s", playbook->steps[ends->wrong_at].id);
	else
		hs_buf_printf(out, "%s%s", why.data != NULL ? why.data : "", "");
	if (ends->wrong_at < 0 && ends->where.file != NULL)
		hs_buf_printf(out, " (%s:%d)", ends->where.file, ends->where.line);
	if (ends->wrong_seed == HS_SIM_UPPER || ends->wrong_seed == HS_SIM_LOWER)
		hs_buf_printf(out, ", with everything at its %s end\n", ends->wrong_seed == HS_SIM_UPPER ? "upper" : "lower");
	else
		hs_buf_printf(out, ends->wrong_seed == 0 ? ", at nominal\n" : ", with seed %llu\n", (unsigned long long)ends->wrong_seed);
	hs_buf_free(&why);
	if (ends->wrong_at >= 0 && answers)
		print_wrong_answers(playbook, ends, out);
}

static void print_fault(const hs_playbook *playbook, const hs_fault_ends *ends, bool answers, hs_buf *out)
{
	hs_buf name, shown;
	hs_buf_init(&name);
	hs_buf_init(&shown);
	hs_sim_fault_name(playbook, ends->fault, &name);
	hs_buf_shown(&shown, name.data, false);
	hs_buf_printf(out, "  %-30s %5.1f min %5.1f steps ", shown.data, ends->minutes, ends->steps);
	for (size_t i = 0; i < playbook->step_count; i++)
		if (ends->at[i] > 0)
			hs_buf_printf(out, " %s %zu%%", playbook->steps[i].id, (ends->at[i] * 100 + ends->runs / 2) / ends->runs);
	hs_buf_char(out, '\n');
	if (ends->wrong > 0)
		print_wrong(playbook, ends, answers, out);
	if (ends->wide > 0)
		hs_buf_printf(out, "    %zu of %zu runs end at more than %d suspects\n", ends->wide, ends->runs, HS_FINDING_MOST);
	hs_buf_free(&name);
	hs_buf_free(&shown);
}

/* Faults of different suspects that end at one finding at nominal: measuring on is left to the technician. */
static bool not_told_apart(const hs_fault_ends *a, const hs_fault_ends *b)
{
	bool single = a->fault.suspect >= 0 && b->fault.suspect >= 0 && a->fault.pair == 0 && b->fault.pair == 0;
	return single && a->fault.suspect != b->fault.suspect && a->nominal >= 0 && a->nominal == b->nominal;
}

static void print_pair(const hs_playbook *playbook, const hs_fault_ends *a, const hs_fault_ends *b, hs_buf *out)
{
	hs_buf names;
	hs_buf_init(&names);
	hs_sim_fault_name(playbook, a->fault, &names);
	hs_buf_str(&names, " and ");
	hs_sim_fault_name(playbook, b->fault, &names);
	hs_buf_str(out, "  not told apart: ");
	hs_buf_shown(out, names.data, false);
	hs_buf_printf(out, " (%s)\n", playbook->steps[a->nominal].id);
	hs_buf_free(&names);
}

static void print_pairs(const hs_playbook *playbook, const hs_fault_proof *proof, hs_buf *out)
{
	for (size_t i = 0; i < proof->count; i++)
		for (size_t j = i + 1; j < proof->count; j++)
			if (not_told_apart(&proof->faults[i], &proof->faults[j]))
				print_pair(playbook, &proof->faults[i], &proof->faults[j], out);
}

static void print_faults(const hs_playbook *playbook, const hs_fault_proof *proof, bool alone, hs_buf *out)
{
	size_t faults = 0, shown = 0;
	if (proof->count > 0)
		hs_buf_str(out, "each fault, and where its runs end:\n");
	for (size_t i = 0; i < proof->count; i++) {
		bool wrong = proof->faults[i].wrong > 0;
		/* The answers of one fault alone are printed as it is played; and the same mistake shows in many faults. */
		print_fault(playbook, &proof->faults[i], wrong && !alone && shown < ANSWERS_SHOWN, out);
		shown += wrong;
		faults += proof->faults[i].fault.suspect >= 0;
	}
	print_pairs(playbook, proof, out);
	hs_buf_shown(out, playbook->id, false);
	if (proof->runs == 0) {
		hs_buf_str(out, ": no fault was played, because nothing says what a unit shows with one: add a lineup, or shows = { ... } to a suspect\n");
		return;
	}
	hs_buf_printf(out, ": %zu runs of %zu fault%s, %zu wrong, %zu too wide; expected %.1f min, at worst %.1f min", proof->runs, faults,
	              faults == 1 ? "" : "s", proof->wrong, proof->wide, proof->expected_minutes, proof->worst_minutes);
	if (proof->silent > 0)
		hs_buf_printf(out, "; nothing says what %zu mode%s show%s", proof->silent, proof->silent == 1 ? "" : "s", proof->silent == 1 ? "s" : "");
	hs_buf_char(out, '\n');
}

/* ---- as data ---- */

static void put_violations(const hs_playbook *playbook, const hs_proof *proof, hs_json_writer *w)
{
	hs_json_open_array(w, "violations");
	for (size_t i = 0; i < proof->count; i++) {
		const hs_violation *it = &proof->violations[i];
		hs_json_open_object(w, NULL);
		hs_json_put_string(w, "kind", hs_violation_name(it->kind));
		hs_json_put_string(w, "step", it->step >= 0 ? playbook->steps[it->step].id : NULL);
		hs_json_put_string(w, "file", it->where.file);
		hs_json_put_integer(w, "line", it->where.line);
		hs_json_put_string(w, "what", it->what);
		hs_json_put_string(w, "answers", it->shown ? it->witness.data : NULL);
		hs_json_close_object(w);
	}
	hs_json_close_array(w);
}

static void put_fault_name(const hs_playbook *playbook, const char *key, hs_sim_fault fault, hs_json_writer *w)
{
	hs_buf name;
	hs_buf_init(&name);
	hs_sim_fault_name(playbook, fault, &name);
	hs_json_put_string(w, key, name.data);
	hs_buf_free(&name);
}

static void put_fault(const hs_playbook *playbook, const hs_fault_ends *ends, hs_json_writer *w)
{
	hs_buf answers;
	hs_buf_init(&answers);
	hs_json_open_object(w, NULL);
	put_fault_name(playbook, "fault", ends->fault, w);
	hs_json_put_integer(w, "runs", (long long)ends->runs);
	hs_json_put_integer(w, "named", (long long)ends->named);
	hs_json_put_integer(w, "wrong", (long long)ends->wrong);
	hs_json_put_integer(w, "wide", (long long)ends->wide);
	hs_json_put_number(w, "minutes", ends->minutes);
	hs_json_open_object(w, "ends");
	for (size_t i = 0; i < playbook->step_count; i++)
		if (ends->at[i] > 0)
			hs_json_put_integer(w, playbook->steps[i].id, (long long)ends->at[i]);
	hs_json_close_object(w);
	hs_json_put_string(w, "why", ends->why[0] != '\0' ? ends->why : NULL);
	bool shown = ends->wrong_at >= 0 && hs_fault_answers(playbook, ends->fault, ends->wrong_seed, &answers, NULL);
	hs_json_put_string(w, "answers", shown ? answers.data : NULL);
	hs_json_close_object(w);
	hs_buf_free(&answers);
}

static void put_pairs(const hs_playbook *playbook, const hs_fault_proof *proof, hs_json_writer *w)
{
	hs_json_open_array(w, "pairs");
	for (size_t i = 0; i < proof->count; i++)
		for (size_t j = i + 1; j < proof->count; j++) {
			if (!not_told_apart(&proof->faults[i], &proof->faults[j]))
				continue;
			hs_json_open_object(w, NULL);
			put_fault_name(playbook, "one", proof->faults[i].fault, w);
			put_fault_name(playbook, "other", proof->faults[j].fault, w);
			hs_json_put_string(w, "finding", playbook->steps[proof->faults[i].nominal].id);
			hs_json_close_object(w);
		}
	hs_json_close_array(w);
}

typedef struct proofs {
	hs_proof outcomes;
	hs_fault_proof faults;
	double seconds;
} proofs;

static void print_json(const hs_playbook *playbook, const proofs *all, hs_buf *out)
{
	hs_json_writer w;
	hs_json_begin(&w, out);
	hs_json_open_object(&w, NULL);
	hs_json_put_string(&w, "playbook", playbook->id);
	hs_json_put_integer(&w, "states", (long long)all->outcomes.states);
	hs_json_put_integer(&w, "walks", (long long)(all->outcomes.ways + all->faults.runs));
	hs_json_put_integer(&w, "findings", (long long)all->outcomes.findings);
	hs_json_put_bool(&w, "whole", all->outcomes.whole);
	put_violations(playbook, &all->outcomes, &w);
	hs_json_open_array(&w, "faults");
	for (size_t i = 0; i < all->faults.count; i++)
		put_fault(playbook, &all->faults.faults[i], &w);
	hs_json_close_array(&w);
	put_pairs(playbook, &all->faults, &w);
	hs_json_put_integer(&w, "silent", (long long)all->faults.silent);
	hs_json_put_integer(&w, "wrong_ends", (long long)all->faults.wrong);
	hs_json_put_integer(&w, "ambiguous", (long long)all->faults.wide);
	hs_json_put_number(&w, "expected_minutes", all->faults.expected_minutes);
	hs_json_put_number(&w, "worst_minutes", all->faults.worst_minutes);
	hs_json_put_number(&w, "seconds", all->seconds);
	hs_json_close_object(&w);
	hs_buf_char(out, '\n');
}

/* ---- the command ---- */

typedef struct asked {
	size_t most, seeds, jobs;
	bool has_fault;
	hs_sim_fault fault;
} asked;

static bool prove_both(const hs_playbook *playbook, const asked *what, bool tell, proofs *all, hs_error *error)
{
	struct timespec from;
	clock_gettime(CLOCK_MONOTONIC, &from);
	bool good = what->has_fault || hs_prove_outcomes(playbook, what->most, tell ? progress : NULL, NULL, &all->outcomes, error);
	good = good && hs_prove_faults(playbook, what->seeds, what->has_fault ? &what->fault : NULL, what->jobs, tell ? fault_progress : NULL, NULL,
	                               &all->faults, error);
	all->seconds = seconds_since(&from);
	if (tell)
		end_progress();
	return good;
}

static void print_answers(const hs_playbook *playbook, hs_sim_fault fault, hs_buf *out)
{
	hs_error error = {0};
	hs_buf text;
	hs_buf_init(&text);
	hs_buf_str(out, "# its nominal run\n");
	if (!hs_fault_answers(playbook, fault, 0, &text, &error))
		hs_buf_printf(&text, "# and here: %s\n", error.message);
	hs_buf_shown(out, text.data, true);
	hs_buf_free(&text);
}

static int draw(const hs_playbook *playbook, const request *given)
{
	hs_error error = {0};
	return hs_prove_draw(playbook, given->draw, given->way, &error) ? HS_EXIT_GOOD : hs_cli_fail(&error);
}

static int prove(hs_bench *bench, const request *given, const asked *what)
{
	hs_error error = {0};
	proofs all = {.outcomes = {.whole = true}};
	const hs_playbook *playbook = bench->playbook;
	hs_buf out;
	hs_buf_init(&out);
	bool good = prove_both(playbook, what, !given->json && isatty(STDERR_FILENO), &all, &error);
	if (good && given->json) {
		print_json(playbook, &all, &out);
	} else if (good) {
		if (what->has_fault)
			print_answers(playbook, what->fault, &out);
		else
			print_text(playbook, &all.outcomes, &out);
		print_faults(playbook, &all.faults, what->has_fault && all.faults.faults[0].wrong_seed == 0, &out);
	}
	if (good)
		hs_cli_print(&out);
	bool bad = all.outcomes.count > 0 || !all.outcomes.whole || all.faults.wrong > 0 || all.faults.wide > 0;
	hs_buf_free(&out);
	hs_proof_free(&all.outcomes);
	if (good)
		hs_fault_proof_free(&all.faults);
	return !good ? hs_cli_fail(&error) : bad ? HS_EXIT_BAD : HS_EXIT_GOOD;
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

static bool read_number(const char *option, const char *text, size_t otherwise, size_t *out, hs_error *error)
{
	char *end = NULL;
	unsigned long value = text != NULL ? strtoul(text, &end, 10) : otherwise;
	*out = value;
	if (text == NULL || (*text >= '0' && *text <= '9' && *end == '\0' && value <= 50000000))
		return true;
	hs_fail(error, HS_BAD_INPUT, "%s %.40s is no number", option, text);
	return hs_fail_hint(error, "write a whole number up to 50000000");
}

static bool read_jobs(const char *text, size_t *out, hs_error *error)
{
	if (!read_number("-j", text, 1, out, error))
		return false;
	if (*out >= 1 && *out <= JOBS_MOST)
		return true;
	hs_fail(error, HS_BAD_INPUT, "-j %zu: nobody can work on that many cores", *out);
	return hs_fail_hint(error, "write a number from 1 to %d", JOBS_MOST);
}

static bool read_fault(const hs_playbook *playbook, const char *name, asked *what, hs_error *error)
{
	what->has_fault = name != NULL;
	return name == NULL || hs_sim_fault_find(playbook, name, &what->fault, error);
}

static int run(const hs_command *command, int argc, char **argv)
{
	request given = {0};
	hs_error error = {0};
	int first, status;
	asked what = {0};
	if (!hs_cli_options(command, &given, argc, argv, &first, &status))
		return status;
	if (!read_number("--most", given.most, 0, &what.most, &error) || !read_number("--seeds", given.seeds, 20, &what.seeds, &error) ||
	    !read_jobs(given.jobs, &what.jobs, &error))
		return hs_cli_fail(&error);
	if (given.way && !given.draw) {
		hs_fail(&error, HS_BAD_INPUT, "--way marks a drawing, and none was asked for");
		hs_fail_hint(&error, "add --draw text, or --draw FILE.svg");
		return hs_cli_fail(&error);
	}
	hs_folders folders;
	hs_bench bench = {0};
	bool named;
	hs_folders_find(&folders);
	const char *path = hs_playbook_path(&folders, argv[first], &error);
	const char *kit = path ? hs_kit_path(&folders, given.kit, path, &named) : NULL;
	bool loaded = path && hs_bench_load(&bench, &folders, argv[first], path, kit, &error);
	if (loaded)
		hs_bench_try(&bench);
	if (!loaded)
		status = hs_cli_fail(&error);
	else if (bench.playbook == NULL || bench.problems.errors > 0)
		status = refuse_problems(&bench);
	else if (given.draw)
		status = draw(bench.playbook, &given);
	else if (!read_fault(bench.playbook, given.fault, &what, &error))
		status = hs_cli_fail(&error);
	else
		status = prove(&bench, &given, &what);
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
            "safety rules, hands or leads where they must not be; with the shortest answers file that shows it. Then it plays every\n"
            "fault of which the playbook says what it shows, and tells where its runs end. Status 1 when something is found.\n",
    HS_OPTIONS(options),
    .least = 1,
    .most = 1,
    .run = run,
};
