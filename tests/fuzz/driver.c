/*
 * Drives a fuzz target where libFuzzer is not at hand: every seed, then RUNS mutations of them.
 *
 *   TARGET RUNS SEEDS-FOLDER [FIRST]      prints "ok ..." or "not ok ...", and leaves the input that broke it in a file
 *
 * Mutation number n depends on n and the seeds alone, so FIRST = n and RUNS = 1 repeats it. The target runs in a child;
 * the parent knows from shared memory how far it came when it dies, by a sanitizer, a broken claim, or too long an
 * input.
 */
#include <dirent.h>
#include <errno.h>
#include <signal.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>
#include "target.h"

#define SEEDS_MOST   256
#define INPUT_MOST   8192
#define SECONDS_MOST 10 /* for one input */

typedef struct input {
	uint8_t data[INPUT_MOST];
	size_t size;
} input;

typedef struct corpus {
	input *items;
	size_t count;
} corpus;

/* What the parent looks at once the child is dead. */
typedef struct progress {
	unsigned long run;
	bool done;
	input now;
} progress;

/* splitmix64 */
static uint64_t next_random(uint64_t *state)
{
	uint64_t z = (*state += 0x9E3779B97F4A7C15u);
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
	z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
	return z ^ (z >> 31);
}

static size_t below(uint64_t *state, size_t bound)
{
	return bound ? (size_t)(next_random(state) % bound) : 0;
}

static void remove_bytes(input *in, size_t at, size_t count)
{
	memmove(in->data + at, in->data + at + count, in->size - at - count);
	in->size -= count;
}

static void insert_bytes(input *in, size_t at, const uint8_t *from, size_t count)
{
	uint8_t copy[INPUT_MOST];
	if (count > INPUT_MOST - in->size)
		count = INPUT_MOST - in->size;
	if (count == 0)
		return;
	memcpy(copy, from, count);
	memmove(in->data + at + count, in->data + at, in->size - at);
	memcpy(in->data + at, copy, count);
	in->size += count;
}

/* What tends to matter to readers of numbers and text. */
static void insert_word(input *in, uint64_t *state)
{
	static const char *const words[] = {"-",
	                                    "+",
	                                    ".",
	                                    "e",
	                                    "e308",
	                                    "e-324",
	                                    "1e999",
	                                    "nan",
	                                    "inf",
	                                    "0x1p3",
	                                    "0",
	                                    "-0",
	                                    "99999999999999999999",
	                                    ",",
	                                    ";",
	                                    "\t",
	                                    "\n",
	                                    "\r\n",
	                                    " ",
	                                    "\xE2\x88\x92",
	                                    "\xC2\xB5",
	                                    "\xE2\x84\xA6",
	                                    "\xEF\xBB\xBF",
	                                    "\xFF",
	                                    "\xC0\x80",
	                                    "dBm",
	                                    "dB",
	                                    "V",
	                                    "Vpp",
	                                    "ohm",
	                                    "Hz",
	                                    "MHz",
	                                    "%",
	                                    "#",
	                                    "!",
	                                    "[",
	                                    "]",
	                                    "(",
	                                    ")",
	                                    "\"",
	                                    "{",
	                                    "}",
	                                    "=",
	                                    " in ",
	                                    " and ",
	                                    " at ",
	                                    " as ",
	                                    "/",
	                                    "*",
	                                    "swr ",
	                                    "mean of ",
	                                    "SWR",
	                                    "R 50",
	                                    "DB",
	                                    "RI",
	                                    "MA"};
	const char *word = words[below(state, sizeof words / sizeof *words)];
	insert_bytes(in, below(state, in->size + 1), (const uint8_t *)word, strlen(word));
}

static void mutate_once(input *in, const corpus *seeds, uint64_t *state)
{
	size_t at = below(state, in->size), rest = in->size - at;
	uint8_t byte = (uint8_t)next_random(state);
	const input *other = &seeds->items[below(state, seeds->count)];
	size_t from = below(state, other->size);
	switch (below(state, 8)) {
	case 0:
		if (rest)
			in->data[at] ^= (uint8_t)(1u << (byte & 7));
		break;
	case 1:
		if (rest)
			in->data[at] = byte;
		break;
	case 2:
		remove_bytes(in, at, below(state, rest < 16 ? rest + 1 : 16));
		break;
	case 3:
		insert_bytes(in, at, &byte, 1);
		break;
	case 4:
		insert_bytes(in, below(state, in->size + 1), in->data + at, below(state, rest < 64 ? rest + 1 : 64));
		break;
	case 5:
		insert_bytes(in, at, other->data + from, below(state, other->size - from + 1));
		break;
	case 6:
		in->size = at;
		break;
	default:
		insert_word(in, state);
		break;
	}
}

/* Runs up to the number of seeds are the seeds themselves. */
static void make_input(input *in, const corpus *seeds, unsigned long run)
{
	uint64_t state = run * 0x2545F4914F6CDD1Du + 1;
	if (run < seeds->count) {
		*in = seeds->items[run];
		return;
	}
	const input *seed = &seeds->items[below(&state, seeds->count)];
	memcpy(in->data, seed->data, seed->size);
	in->size = seed->size;
	for (size_t left = 1 + below(&state, 6); left > 0; left--)
		mutate_once(in, seeds, &state);
}

static int by_name(const void *a, const void *b)
{
	return strcmp(*(char *const *)a, *(char *const *)b);
}

/* The seeds in the order of their names; the empty input is always one. */
static void read_seeds(const char *folder, corpus *seeds)
{
	char *names[SEEDS_MOST], path[4096];
	size_t count = 0;
	DIR *dir = opendir(folder);
	for (struct dirent *entry; dir && (entry = readdir(dir)) && count < SEEDS_MOST;)
		if (entry->d_name[0] != '.')
			names[count++] = strdup(entry->d_name);
	if (dir)
		closedir(dir);
	qsort(names, count, sizeof *names, by_name);
	seeds->items = calloc(count + 1, sizeof *seeds->items);
	seeds->count = 1;
	for (size_t i = 0; i < count; i++) {
		snprintf(path, sizeof path, "%s/%s", folder, names[i]);
		FILE *file = fopen(path, "rb");
		input *seed = &seeds->items[seeds->count];
		if (file && seeds->items) {
			seed->size = fread(seed->data, 1, INPUT_MOST, file);
			seeds->count++;
			fclose(file);
		}
		free(names[i]);
	}
}

static void run_all(progress *shared, const corpus *seeds, unsigned long first, unsigned long runs)
{
	for (unsigned long run = first; run < first + runs; run++) {
		make_input(&shared->now, seeds, run);
		shared->run = run;
		alarm(SECONDS_MOST);
		LLVMFuzzerTestOneInput(shared->now.data, shared->now.size);
	}
	alarm(0);
	shared->done = true;
}

static int report(const char *name, const progress *shared, int status)
{
	char path[512];
	if (WIFEXITED(status) && WEXITSTATUS(status) == 0 && shared->done) {
		printf("ok fuzz %s: %lu inputs\n", name, shared->run + 1);
		return 0;
	}
	snprintf(path, sizeof path, "broken-%s-%lu", name, shared->run);
	FILE *file = fopen(path, "wb");
	if (file) {
		fwrite(shared->now.data, 1, shared->now.size, file);
		fclose(file);
	}
	if (shared->done)
		printf("not ok fuzz %s: something is lost at the end (a leak)\n", name);
	else if (WIFSIGNALED(status) && WTERMSIG(status) == SIGALRM)
		printf("not ok fuzz %s: input %lu takes more than %d s; it is in %s\n", name, shared->run, SECONDS_MOST,
		       path);
	else
		printf("not ok fuzz %s: input %lu breaks it; it is in %s\n", name, shared->run, path);
	return 1;
}

int main(int argc, char **argv)
{
	if (argc < 3) {
		fprintf(stderr, "usage: %s RUNS SEEDS-FOLDER [FIRST]\n", argv[0]);
		return 2;
	}
	const char *slash = strrchr(argv[0], '/'), *name = slash ? slash + 1 : argv[0];
	unsigned long runs = strtoul(argv[1], NULL, 10), first = argc > 3 ? strtoul(argv[3], NULL, 10) : 0;
	corpus seeds = {0};
	read_seeds(argv[2], &seeds);
	if (seeds.count < 2) {
		printf("not ok fuzz %s: there are no seeds in %s\n", name, argv[2]);
		return 1;
	}
	if (argc <= 3)
		runs += seeds.count;
	progress *shared = mmap(NULL, sizeof *shared, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
	if (shared == MAP_FAILED)
		return 3;
	fflush(NULL);
	pid_t child = fork();
	if (child == 0) {
		run_all(shared, &seeds, first, runs);
		free(seeds.items);
		exit(0);
	}
	int status = 0;
	while (child > 0 && waitpid(child, &status, 0) < 0 && errno == EINTR)
		;
	free(seeds.items);
	return child > 0 ? report(name, shared, status) : 3;
}
