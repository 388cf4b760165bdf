/* Touchstone files from disk and from memory. */
#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "network_parts.h"

#define CHUNK ((size_t)256 * 1024)

/* The present line becomes the error's place. */
static bool blame_here(network_reader *r)
{
	hs_fail_at(r->error, r->path, r->line);
	if (r->error && r->line_at) {
		size_t length = 0;
		char quote[sizeof(r->error->quote)];
		while (length < sizeof(quote) - 1 && r->line_at + length < r->line_end &&
		       !strchr("\r\n!", r->line_at[length]))
			length++;
		memcpy(quote, r->line_at, length);
		quote[length] = '\0';
		hs_copy(r->error->quote, sizeof(r->error->quote), hs_trim(quote));
	}
	return false;
}

bool hs_net_refuse(network_reader *r, const char *format, ...)
{
	char message[400];
	va_list args;
	va_start(args, format);
	vsnprintf(message, sizeof(message), format, args);
	va_end(args);
	hs_fail(r->error, HS_BAD_INPUT, "%s", message);
	return blame_here(r);
}

void hs_net_remark(network_reader *r, const char *format, ...)
{
	va_list args;
	if (r->net->remark_line)
		return;
	va_start(args, format);
	vsnprintf(r->net->remark, sizeof(r->net->remark), format, args);
	va_end(args);
	r->net->remark_line = r->line;
}

/* The N of a name that ends in .sNp, or 0. */
static size_t ports_of_name(const char *path)
{
	const char *dot = strrchr(path, '.');
	size_t ports = 0;
	if (!dot || (dot[1] != 's' && dot[1] != 'S'))
		return 0;
	const char *p = dot + 2;
	for (; *p >= '0' && *p <= '9' && ports <= HS_PORTS_MOST; p++)
		ports = ports * 10 + (size_t)(*p - '0');
	return (*p == 'p' || *p == 'P') && p[1] == '\0' && ports <= HS_PORTS_MOST ? ports : 0;
}

static void begin(network_reader *r, const char *path, size_t ports, hs_error *error)
{
	*r = (network_reader){.path = path, .error = error, .unit_hz = 1e9};
	r->net = hs_alloc(sizeof(*r->net));
	r->net->version = 10;
	r->net->kind = 'S';
	hs_buf_init(&r->text);
	r->ports_wanted = ports ? ports : ports_of_name(path);
	r->ports_named = ports == 0 && r->ports_wanted != 0;
}

/* Gives back what growing took too much. */
static void *trimmed(void *items, size_t count, size_t size)
{
	return items && count ? hs_realloc(items, count * size) : items;
}

static bool end(network_reader *r, bool good, hs_network **out)
{
	hs_network *net = r->net;
	good = good && hs_net_finish(r);
	hs_buf_free(&r->text);
	if (!good) {
		hs_network_free(net);
		return false;
	}
	net->numbers = trimmed(net->numbers, r->held, sizeof(*net->numbers));
	net->noise = trimmed(net->noise, net->noise_count, sizeof(*net->noise));
	net->reference = trimmed(net->reference, net->reference_count, sizeof(*net->reference));
	*out = net;
	return true;
}

bool hs_network_parse(const char *path, const char *text, size_t length, size_t ports, hs_network **out,
                      hs_error *error)
{
	network_reader r;
	size_t used;
	begin(&r, path, ports, error);
	return end(&r, hs_net_lines(&r, text, length, true, &used), out);
}

bool hs_net_blame_line(const char *path, const char *text, size_t length, size_t index, hs_error *error)
{
	network_reader r;
	size_t used;
	begin(&r, path, 2, NULL);
	r.stop_after = index + 1;
	hs_net_lines(&r, text, length, true, &used);
	r.error = error;
	blame_here(&r);
	hs_buf_free(&r.text);
	hs_network_free(r.net);
	return false;
}

static bool fail_file(const char *path, const char *what, int number, hs_error *error)
{
	hs_fail(error, number == EIO ? HS_IO : HS_BAD_INPUT, "the Touchstone file cannot be %s: %s", what,
	        strerror(number));
	return hs_fail_at(error, path, 0);
}

static ssize_t read_some(int fd, char *to, size_t room)
{
	ssize_t got;
	do
		got = read(fd, to, room);
	while (got < 0 && errno == EINTR);
	return got;
}

/* Chunk by chunk: the text is never in memory as a whole, only from the last line that is not whole yet. */
static bool read_chunks(network_reader *r, int fd, hs_error *error)
{
	size_t room = CHUNK, length = 0, used = 0;
	char *buffer = hs_realloc(NULL, room);
	bool good = true, last = false;
	while (good && !last) {
		if (length == room)
			buffer = hs_grow(buffer, &room, room + 1, 1);
		ssize_t got = read_some(fd, buffer + length, room - length);
		if (got < 0) {
			good = fail_file(r->path, "read", errno, error);
			break;
		}
		last = got == 0;
		length += (size_t)got;
		good = hs_net_lines(r, buffer, length, last, &used);
		if (good && used > 0) {
			memmove(buffer, buffer + used, length - used);
			length -= used;
		}
	}
	free(buffer);
	return good;
}

bool hs_network_open(const char *path, size_t ports, hs_network **out, hs_error *error)
{
	struct stat status;
	network_reader r;
	int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
	if (fd < 0)
		return fail_file(path, "opened", errno, error);
	if (fstat(fd, &status) != 0 || !S_ISREG(status.st_mode)) {
		close(fd);
		hs_fail(error, HS_BAD_INPUT, "the Touchstone file is not a regular file");
		return hs_fail_at(error, path, 0);
	}
	begin(&r, path, ports, error);
	bool good = read_chunks(&r, fd, error);
	close(fd);
	return end(&r, good, out);
}

void hs_network_free(hs_network *network)
{
	if (!network)
		return;
	free(network->reference);
	free(network->numbers);
	free(network->noise);
	free(network->modes);
	free(network);
}
