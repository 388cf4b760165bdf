/* Files found beneath a folder, for sources.c: component by component, never through a link. */
#ifndef HALFSPLIT_CORE_PLAYBOOK_SOURCES_DISK_H
#define HALFSPLIT_CORE_PLAYBOOK_SOURCES_DISK_H

#include <stdbool.h>
#include "halfsplit/base/error.h"

typedef enum hs_found {
	HS_FOUND,
	HS_FOUND_NOT, /* no such file beneath this folder; *error untouched */
	HS_FOUND_BAD  /* there, but not to be read; *error filled */
} hs_found;

/* Opens a folder; -1 with errno on failure. */
int hs_disk_folder(const char *path);

/*
 * Opens `path`, already checked by hs_disk_path_allowed, beneath the folder; *fd is then the caller's to close.
 * What it opened may still be a folder or a device: hs_file_read_fd tells.
 */
hs_found hs_disk_open(int folder, const char *path, int *fd, hs_error *error);

/* Relative, no "..", no empty component, plain characters, not too long; else HS_BAD_INPUT in *error. */
bool hs_disk_path_allowed(const char *path, hs_error *error);

#endif
