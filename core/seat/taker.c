/* A program of the shop's own is run, and what it prints is taken for a reading. */
#include "halfsplit/seat/taker.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { FAIL_FD = 3, LOOK_MS = 20 };

typedef struct running {
	const hs_taker *taker;
	const hs_part *instrument;
	pid_t pid;
	int out, fail;
	int64_t end_ms;
} running;

static bool same_program(const hs_part *a, const hs_part *b)
{
	if (a->program_count != b->program_count)
		return false;
	for (size_t i = 0; i < a->program_count; i++)
		if (strcmp(a->program[i], b->program[i]) != 0)
			return false;
	return true;
}

const hs_part *hs_taker_offers(const hs_taker *taker, const hs_engine *engine, const hs_ask *ask)
{
	const hs_part *recorded = taker ? hs_engine_program(engine, ask) : NULL;
	const hs_part *here = recorded ? hs_kit_part(taker->kit, recorded->id) : NULL;
	return here && here->kind == HS_PART_INSTRUMENT && same_program(recorded, here) ? here : NULL;
}

static int64_t now_ms(void)
{
	struct timespec now;
	clock_gettime(CLOCK_MONOTONIC, &now);
	return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* ---- the child: nothing of this program goes with it but its output ---- */

static void forget_signals(void)
{
	sigset_t none;
	for (int i = 1; i < NSIG; i++)
		signal(i, SIG_DFL);
	sigemptyset(&none);
	sigprocmask(SIG_SETMASK, &none, NULL);
}

static _Noreturn void child(const hs_taker *taker, char **argv, const char *path, int out, int fail, pid_t parent)
{
	static char *const environment[] = {"PATH=/usr/local/bin:/usr/bin:/bin", "LC_ALL=C", NULL};
	int null = open("/dev/null", O_RDWR);
	setpgid(0, 0);
	forget_signals();
	/* What answers a question dies with who asked it. */
	prctl(PR_SET_PDEATHSIG, SIGKILL);
	bool good = getppid() == parent && null >= 0 && dup2(null, STDIN_FILENO) >= 0 && dup2(null, STDERR_FILENO) >= 0 &&
	            dup2(out, STDOUT_FILENO) >= 0;
	if (good && fail != FAIL_FD)
		good = dup2(fail, FAIL_FD) >= 0;
	good = good && fcntl(FAIL_FD, F_SETFD, FD_CLOEXEC) == 0 && close_range(FAIL_FD + 1, ~0u, 0) == 0 && chdir(taker->folder) == 0;
	if (good)
		execve(path, argv, environment);
	int why = errno;
	ssize_t told = write(good || fail == FAIL_FD ? FAIL_FD : fail, &why, sizeof why);
	(void)told;
	_exit(127);
}

/* ---- the parent ---- */

static bool start(running *r, hs_error *error)
{
	const hs_part *it = r->instrument;
	int out[2], fail[2];
	if (pipe2(out, O_CLOEXEC) != 0)
		return hs_fail(error, HS_BAD_INPUT, "the program of %s cannot be started: %s", it->id, strerror(errno));
	if (pipe2(fail, O_CLOEXEC) != 0) {
		hs_fail(error, HS_BAD_INPUT, "the program of %s cannot be started: %s", it->id, strerror(errno));
		close(out[0]);
		close(out[1]);
		return false;
	}
	/* The child stands in the kit's folder by then; "./" keeps execve from looking anywhere else. */
	hs_buf path;
	hs_buf_init(&path);
	hs_buf_str(&path, it->program[0][0] == '/' ? "" : "./");
	hs_buf_str(&path, it->program[0]);
	char **argv = hs_alloc((it->program_count + 1) * sizeof *argv);
	for (size_t i = 0; i < it->program_count; i++)
		argv[i] = (char *)it->program[i];
	argv[0] = path.data;
	pid_t parent = getpid();
	r->pid = fork();
	if (r->pid == 0)
		child(r->taker, argv, path.data, out[1], fail[1], parent);
	int why = errno;
	free(argv);
	hs_buf_free(&path);
	close(out[1]);
	close(fail[1]);
	r->out = out[0];
	r->fail = fail[0];
	if (r->pid < 0) {
		close(out[0]);
		close(fail[0]);
		return hs_fail(error, HS_BAD_INPUT, "the program of %s cannot be started: %s", it->id, strerror(why));
	}
	setpgid(r->pid, r->pid);
	return true;
}

/* True once exec has happened; else the reason came through the pipe that exec would have closed. */
static bool started(const running *r, hs_error *error)
{
	int why = 0;
	ssize_t got;
	do
		got = read(r->fail, &why, sizeof why);
	while (got < 0 && errno == EINTR);
	if (got <= 0)
		return true;
	hs_fail(error, HS_BAD_INPUT, "the program of %s, \"%.120s\", cannot be started: %s", r->instrument->id, r->instrument->program[0], strerror(why));
	return hs_fail_hint(error, "a program without a path lies beside the kit file");
}

/* True: it has ended, and is not yet taken from the table of processes, so that its number is still its own. */
static bool ended(const running *r)
{
	siginfo_t info = {0};
	return waitid(P_PID, (id_t)r->pid, &info, WEXITED | WNOHANG | WNOWAIT) == 0 && info.si_pid == r->pid;
}

/* What is there to be read now; false when it is more than may be. *over: nothing will come any more. */
static bool drain(const running *r, hs_buf *raw, bool *over, hs_error *error)
{
	char piece[1024];
	for (;;) {
		ssize_t got = read(r->out, piece, sizeof piece);
		if (got < 0 && errno == EINTR)
			continue;
		*over = got == 0;
		if (got <= 0)
			return true;
		hs_buf_add(raw, piece, (size_t)got);
		if (raw->length > HS_TAKER_MOST)
			return hs_fail(error, HS_BAD_INPUT, "the program of %s printed more than %zu bytes", r->instrument->id, HS_TAKER_MOST);
	}
}

static bool collect(const running *r, hs_buf *raw, hs_error *error)
{
	bool over = false;
	for (;;) {
		bool gone = ended(r);
		if (!over && !drain(r, raw, &over, error))
			return false;
		if (gone)
			return true;
		if (now_ms() >= r->end_ms) {
			hs_fail(error, HS_BAD_INPUT, "the program of %s has not answered within %g s", r->instrument->id, (double)r->taker->limit_ms / 1000);
			return false;
		}
		struct pollfd fds[2] = {{over ? -1 : r->out, POLLIN, 0}, {r->taker->watch_fd, POLLIN, 0}};
		if (poll(fds, 2, LOOK_MS) > 0 && fds[1].revents)
			return hs_fail(error, HS_BAD_INPUT, "something was typed, so the program of %s was ended", r->instrument->id);
	}
}

static bool ended_well(const running *r, int status, hs_error *error)
{
	if (WIFSIGNALED(status))
		return hs_fail(error, HS_BAD_INPUT, "the program of %s was ended by signal %d (%s)", r->instrument->id, WTERMSIG(status),
		               strsignal(WTERMSIG(status)));
	if (WIFEXITED(status) && WEXITSTATUS(status) != 0)
		return hs_fail(error, HS_BAD_INPUT, "the program of %s ended with status %d", r->instrument->id, WEXITSTATUS(status));
	return true;
}

bool hs_taker_take(const hs_taker *taker, const hs_part *instrument, hs_buf *raw, hs_buf *line, hs_error *error)
{
	running r = {.taker = taker, .instrument = instrument};
	if (!start(&r, error))
		return false;
	r.end_ms = now_ms() + taker->limit_ms;
	fcntl(r.out, F_SETFL, O_NONBLOCK);
	bool good = started(&r, error) && collect(&r, raw, error);
	int status = 0;
	kill(-r.pid, SIGKILL);
	while (waitpid(r.pid, &status, 0) < 0 && errno == EINTR)
		;
	close(r.out);
	close(r.fail);
	hs_error why = {0};
	if (!good || !ended_well(&r, status, error))
		return false;
	if (strlen(raw->data) == raw->length && hs_raw_line(raw->data, line, &why))
		return true;
	return hs_fail(error, HS_BAD_INPUT, "what the program of %s printed is no reading: %s", instrument->id,
	               why.message[0] ? why.message : "it holds a NUL byte");
}
