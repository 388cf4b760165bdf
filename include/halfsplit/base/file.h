/* Whole files in, with a plain sentence for every way that can go wrong; and bytes out. */
#ifndef HALFSPLIT_BASE_FILE_H
#define HALFSPLIT_BASE_FILE_H

#include <stdbool.h>
#include <stddef.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

/*
 * Reads a regular file of at most `most` bytes into *out (initialised by the caller; appended to). `what` names the
 * thing in messages ("playbook", "kit"). Missing, unreadable, a folder, a device, too large: HS_BAD_INPUT naming the
 * path; a read error: HS_IO. Content is not looked at.
 */
bool hs_file_read(const char *path, const char *what, size_t most, hs_buf *out, hs_error *error);

/* As above for a descriptor already open (used after openat). */
bool hs_file_read_fd(int fd, const char *path, const char *what, size_t most, hs_buf *out, hs_error *error);

/*
 * Text as people's editors leave it: drops a leading UTF-8 byte-order mark, turns CRLF into LF, refuses NUL bytes and text
 * that is not UTF-8 with file and line. Works in place.
 */
bool hs_file_text(const char *path, const char *what, hs_buf *text, hs_error *error);

/* All of it, whatever is interrupted; false with errno. A transcript is written by its journal and not by this. */
bool hs_write_all(int fd, const char *data, size_t length);

#endif
