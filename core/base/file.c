#include "halfsplit/base/file.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include "utf8.h"

/* The system's own wording follows the locale, so the usual reasons have words here. */
static const char *reason(int number)
{
	switch (number) {
	case ENOENT:
		return "there is no such file";
	case EACCES:
	case EPERM:
		return "the permissions do not allow it";
	case ENOTDIR:
		return "a part of the path is not a folder";
	case ELOOP:
		return "the path has a link that is not followed";
	case ENAMETOOLONG:
		return "the path is too long";
	}
	const char *words = strerrordesc_np(number);
	return words ? words : "the system gave an unknown reason";
}

static bool is_wrong_path(int number)
{
	return number == ENOENT || number == EACCES || number == EPERM || number == ENOTDIR || number == ELOOP ||
	       number == ENAMETOOLONG || number == ENXIO || number == ENODEV;
}

static bool check_kind(int fd, const char *path, const char *what, size_t most, hs_error *error)
{
	struct stat info;
	if (fstat(fd, &info) != 0)
		return hs_fail(error, HS_IO, "the %s \"%s\" cannot be examined: %s", what, path, reason(errno));
	if (S_ISDIR(info.st_mode)) {
		hs_fail(error, HS_BAD_INPUT, "the %s \"%s\" is a folder, and a file was wanted", what, path);
		return hs_fail_hint(error, "name a file in that folder");
	}
	if (!S_ISREG(info.st_mode))
		return hs_fail(error, HS_BAD_INPUT,
		               "the %s \"%s\" is a device, pipe or socket, and a plain file was wanted", what, path);
	if (info.st_size > 0 && (unsigned long long)info.st_size > most)
		return hs_fail(error, HS_BAD_INPUT, "the %s \"%s\" has %lld bytes, and at most %zu are accepted", what,
		               path, (long long)info.st_size, most);
	return true;
}

bool hs_file_read_fd(int fd, const char *path, const char *what, size_t most, hs_buf *out, hs_error *error)
{
	if (!check_kind(fd, path, what, most, error))
		return false;
	char piece[16 * 1024];
	size_t before = out->length;
	for (;;) {
		ssize_t got = read(fd, piece, sizeof piece);
		if (got < 0 && errno == EINTR)
			continue;
		if (got < 0)
			return hs_fail(error, HS_IO, "reading the %s \"%s\" failed: %s", what, path, reason(errno));
		hs_buf_add(out, piece, (size_t)got);
		if (got == 0)
			return true;
		/* The file may have grown since its size was asked. */
		if (out->length - before > most)
			return hs_fail(error, HS_BAD_INPUT,
			               "the %s \"%s\" has more than %zu bytes, and at most %zu are accepted", what,
			               path, most, most);
	}
}

bool hs_file_read(const char *path, const char *what, size_t most, hs_buf *out, hs_error *error)
{
	/* Without O_NONBLOCK a named pipe would hang here before it can be refused. */
	int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY);
	if (fd < 0) {
		int number = errno;
		hs_fail(error, is_wrong_path(number) ? HS_BAD_INPUT : HS_IO, "the %s \"%s\" cannot be opened: %s", what,
		        path, reason(number));
		return false;
	}
	bool good = hs_file_read_fd(fd, path, what, most, out, error);
	close(fd);
	return good;
}

/* Drops the mark and the carriage returns; false with *bad, and the line it is on, at the first byte that is not text.
 */
static bool normalize(hs_buf *text, size_t *bad, int *line)
{
	size_t from = text->length >= 3 && memcmp(text->data, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0, to = 0;
	while (from < text->length) {
		uint32_t code;
		size_t size = hs_utf8_decode(text->data + from, text->length - from, &code);
		*bad = from;
		if (size == 0 || code == 0)
			return false;
		if (code == '\r' && from + 1 < text->length && text->data[from + 1] == '\n') {
			from++;
			continue;
		}
		memmove(text->data + to, text->data + from, size);
		to += size;
		from += size;
		*line += code == '\n' && *line < INT_MAX;
	}
	text->length = to;
	text->data[to] = '\0';
	return true;
}

bool hs_file_text(const char *path, const char *what, hs_buf *text, hs_error *error)
{
	size_t bad = 0;
	int line = 1;
	hs_buf_add(text, "", 0);
	bool plain = !memchr(text->data, '\r', text->length) && !memchr(text->data, '\0', text->length) && text->data[0] != '\xEF';
	if (plain && hs_utf8_valid(text->data, text->length))
		return true;
	if (normalize(text, &bad, &line))
		return true;
	unsigned char byte = (unsigned char)text->data[bad];
	if (byte == 0)
		hs_fail(error, HS_BAD_INPUT, "the %s holds a NUL byte, and only text was wanted", what);
	else
		hs_fail(error, HS_BAD_INPUT, "the %s holds the byte 0x%02x, which is not UTF-8 text", what, byte);
	hs_fail_hint(error, "save the file as UTF-8 text without control bytes");
	return hs_fail_at(error, path, line);
}

bool hs_write_all(int fd, const char *data, size_t length)
{
	for (size_t at = 0; at < length;) {
		ssize_t wrote = write(fd, data + at, length - at);
		if (wrote < 0 && errno == EINTR)
			continue;
		if (wrote <= 0)
			return false;
		at += (size_t)wrote;
	}
	return true;
}
