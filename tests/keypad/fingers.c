/*
 * Plays a file of answers at a terminal of its own, with the keys of a numeric keypad alone.
 *
 *     fingers ANSWERS TRANSCRIPT COMMAND...         each answer when it is asked, read off the screen as a person would
 *     fingers --burst KEYS TRANSCRIPT COMMAND...    all keys at once, as soon as the first prompt stands there; once it is said that
 *                                                   some are not used, /5
 *
 * What is on the screen goes to standard output. Exit status: that of the command; 99 when the fingers do not know what to press.
 */
#include <ctype.h>
#include <poll.h>
#include <pty.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { SCREEN = 1 << 20, PATIENCE_MS = 60000 };

typedef struct player {
	int fd;
	pid_t pid;
	char *seen;
	size_t length, from; /* all of the screen, and where the ask of now begins */
	FILE *answers;
	const char *transcript;
} player;

static void give_up(player *p, const char *why, const char *what)
{
	fwrite(p->seen, 1, p->length, stdout);
	printf("\nfingers: %s %s\n", why, what);
	exit(99);
}

/* The screen ends in a prompt that came after the last keys: at most a unit and "> " on a line of its own. A wait goes on by itself. */
static bool prompt_stands(const player *p)
{
	const char *from = p->seen + p->from, *line = strrchr(from, '\n');
	size_t length = line ? strlen(line) : 0;
	return length > 2 && length <= 16 && strcmp(line + length - 2, "> ") == 0 && !strstr(line, " to go> ");
}

/* Reads what comes, for so long at most as a person has patience; false: the command has ended. */
static bool look(player *p)
{
	struct pollfd wait = {p->fd, POLLIN, 0};
	if (poll(&wait, 1, PATIENCE_MS) <= 0)
		give_up(p, "nothing comes any more", "");
	ssize_t got = read(p->fd, p->seen + p->length, SCREEN - 1 - p->length);
	if (got <= 0)
		return false;
	p->length += (size_t)got;
	p->seen[p->length] = '\0';
	return true;
}

/* Waits until a prompt stands there; false: the command has ended. */
static bool await_prompt(player *p)
{
	while (!prompt_stands(p))
		if (!look(p))
			return false;
	return true;
}

/* The ask the transcript ends with. */
static void last_ask(player *p, char *ask, size_t room)
{
	FILE *file = fopen(p->transcript, "r");
	char *line = NULL;
	size_t size = 0;
	ask[0] = '\0';
	while (file && getline(&line, &size, file) > 0) {
		char *at = strstr(line, "\"kind\":\"asked\"") ? strstr(line, "\"ask\":\"") : NULL;
		if (at)
			snprintf(ask, room, "%.*s", (int)strcspn(at + 7, "\""), at + 7);
	}
	free(line);
	if (file)
		fclose(file);
}

/* The key the screen shows for a word: "word (47)", "word (keypad 47)", or a line "47  word". */
static bool key_on_screen(const player *p, const char *word, char *key)
{
	char pattern[2][160];
	snprintf(pattern[0], sizeof pattern[0], "%.120s (keypad ", word);
	snprintf(pattern[1], sizeof pattern[1], "%.120s (", word);
	for (int i = 0; i < 2; i++) {
		const char *at = strstr(p->seen + p->from, pattern[i]);
		const char *digits = at ? at + strlen(pattern[i]) : "";
		size_t length = strspn(digits, "0123456789");
		if (length > 0 && digits[length] == ')') {
			snprintf(key, 8, "%.*s", (int)length, digits);
			return true;
		}
	}
	for (const char *line = p->seen + p->from; (line = strchr(line, '\n')) != NULL;) {
		line++;
		const char *digits = line + strspn(line, " "), *after = digits + strspn(digits, "0123456789*");
		size_t length = strlen(word);
		if (after > digits && strncmp(after, "  ", 2) == 0 && strncmp(after + 2, word, length) == 0 &&
		    strchr(" \r\n", after[2 + length])) {
			snprintf(key, 8, "%.*s", (int)(after - digits), digits);
			return true;
		}
	}
	return false;
}

/* "1.2 kohm", "200 mV", "> 20 Mohm", "OL": the keys for it; at a gate a plain number in the unit itself. */
static bool reading_keys(const char *text, bool gate, char *keys, size_t room)
{
	static const struct { char prefix; const char *ending; double times; } scales[] = {
	    {'k', "*3", 1e3}, {'M', "*6", 1e6}, {'G', "*9", 1e9}, {'m', "/3", 1e-3}, {'u', "/6", 1e-6}, {'n', "/9", 1e-9}};
	static const char *const words[][2] = {{"OL", "*1"}, {"open", "*2"}, {"same", "*3"}, {"not read", "*0"}};
	for (size_t i = 0; i < 4; i++)
		if (strncmp(text, words[i][0], strlen(words[i][0])) == 0)
			return snprintf(keys, room, "%s", words[i][1]) > 0;
	bool bound = text[0] == '>' || text[0] == '<';
	char *rest;
	double value = strtod(text + bound, &rest);
	if (rest == text + bound)
		return false;
	int digits = (int)(rest - (text + bound));
	const char *number = text + bound + strspn(text + bound, " ");
	digits -= (int)(number - (text + bound));
	rest += strspn(rest, " ");
	for (size_t i = 0; i < 6; i++)
		if (rest[0] == scales[i].prefix && isalpha((unsigned char)rest[1])) {
			if (gate || bound)
				snprintf(keys, room, "%s%.9g", bound ? text[0] == '>' ? "*+" : "*-" : "", value * scales[i].times);
			else
				snprintf(keys, room, "%.*s%s", digits, number, scales[i].ending);
			return true;
		}
	snprintf(keys, room, "%s%.*s", bound ? text[0] == '>' ? "*+" : "*-" : "", digits, number);
	return true;
}

static bool keys_for(player *p, const char *ask, const char *text, char *keys, size_t room)
{
	bool gate = strncmp(ask, "gate/", 5) == 0;
	unsigned hits, tries;
	keys[0] = '\0';
	if (!*text || key_on_screen(p, text, keys))
		return true;
	if (strcmp(ask, "gate/dead/tester") == 0)
		return snprintf(keys, room, "4711") > 0;
	if (sscanf(text, "%u of %u", &hits, &tries) == 2)
		return snprintf(keys, room, "%u/%u", hits, tries) > 0;
	if (strstr(p->seen + p->from, "keypad: 0="))
		return snprintf(keys, room, "1") > 0;
	return reading_keys(text, gate, keys, room);
}

/* The next line of the answers that is for this ask; lines tried too early fall away, and a recheck that is not due. */
static bool next_answer(player *p, const char *ask, char *text, size_t room)
{
	char line[1024];
	size_t length = strlen(ask);
	while (fgets(line, sizeof line, p->answers)) {
		line[strcspn(line, "\n")] = '\0';
		if (line[0] == '#' || !line[0] || strncmp(line, "!note", 5) == 0 || strncmp(line, "!why", 4) == 0)
			continue;
		if (line[0] == '@') {
			bool early = line[1] == '-';
			if (early && !strchr(line, ':'))
				(void)!fgets(line, sizeof line, p->answers);
			if (early || !strchr(line, ':'))
				continue;
			memmove(line, strstr(line, " s ") + 3, strlen(strstr(line, " s ") + 3) + 1);
		}
		/* A decimal comma is refused, and a keypad's point types none. */
		const char *comma = strrchr(line, ',');
		if (comma && comma > line && isdigit((unsigned char)comma[-1]) && isdigit((unsigned char)comma[1]))
			continue;
		if (strncmp(line, ask, length) == 0 && line[length] == ':') {
			snprintf(text, room, "%s", line + length + 1 + strspn(line + length + 1, " "));
			return true;
		}
		if (line[0] == '!') {
			snprintf(text, room, "%s", line);
			return true;
		}
		if (!strstr(line, ".recheck:"))
			give_up(p, "the answers go on with", line);
	}
	return false;
}

static void press(player *p, const char *keys)
{
	if (keys[strspn(keys, "0123456789.+-*/")])
		give_up(p, "no key for", keys);
	p->from = p->length;
	if (write(p->fd, keys, strlen(keys)) < 0 || write(p->fd, "\n", 1) < 0)
		give_up(p, "the terminal is gone at", keys);
}

static const char *command_keys(const char *line)
{
	return strncmp(line, "!redo", 5) == 0 ? "/4" : strncmp(line, "!pause", 6) == 0 ? "/5" : strncmp(line, "!leave", 6) == 0 ? "/6" : "/0";
}

static void play(player *p)
{
	char ask[256], text[1024], keys[1024];
	while (await_prompt(p)) {
		last_ask(p, ask, sizeof ask);
		if (strstr(p->seen + p->from, "redo again")) {
			press(p, "/4");
		} else if (strstr(ask, ".recheck")) {
			press(p, "0.1");
		} else if (!next_answer(p, ask, text, sizeof text)) {
			press(p, "/5");
		} else if (text[0] == '!') {
			press(p, command_keys(text));
		} else if (keys_for(p, ask, text, keys, sizeof keys)) {
			press(p, keys);
		} else {
			give_up(p, ask, text);
		}
	}
}

static void burst(player *p)
{
	static char keys[65536];
	size_t length = fread(keys, 1, sizeof keys - 1, p->answers);
	if (keys[strspn(keys, "0123456789.+-*/\n")])
		give_up(p, "no key for", keys);
	await_prompt(p);
	p->from = p->length;
	if (write(p->fd, keys, length) != (ssize_t)length)
		give_up(p, "the terminal takes no more", "");
	const char *dropped;
	while (!(dropped = strstr(p->seen + p->from, "is not used")))
		if (!look(p))
			return;
	p->from = (size_t)(dropped - p->seen);
	if (await_prompt(p))
		press(p, "/5");
	while (look(p))
		;
}

int main(int argc, char **argv)
{
	bool all = argc > 1 && strcmp(argv[1], "--burst") == 0;
	argv += all;
	if (argc - all < 4)
		return 98;
	player p = {.seen = calloc(1, SCREEN), .answers = fopen(argv[1], "r"), .transcript = argv[2]};
	struct winsize size = {.ws_row = 50, .ws_col = 110};
	if (!p.answers || !p.seen)
		return 98;
	p.pid = forkpty(&p.fd, NULL, NULL, &size);
	if (p.pid == 0) {
		if (getenv("CLOCK"))
			setenv("LD_PRELOAD", getenv("CLOCK"), 1);
		execvp(argv[3], argv + 3);
		_exit(97);
	}
	if (all)
		burst(&p);
	else
		play(&p);
	fwrite(p.seen, 1, p.length, stdout);
	int status = 0;
	waitpid(p.pid, &status, 0);
	return WIFEXITED(status) ? WEXITSTATUS(status) : 96;
}
