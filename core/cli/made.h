/* Files that commands write: new ones never over one that is there. */
#ifndef HALFSPLIT_CORE_CLI_MADE_H
#define HALFSPLIT_CORE_CLI_MADE_H

#include "cli.h"

/* One that is there already will do. HS_IO when it cannot be made. */
bool hs_make_folder(const char *path, hs_error *error);

/* The folders in which a file of this path lies. */
bool hs_make_way(const char *path, hs_error *error);

/* HS_BAD_INPUT when something of that name is there, HS_IO when it cannot be written; then nothing of it is left. */
bool hs_write_new(const char *path, const char *text, hs_error *error);

/* "made PATH" on standard output. */
void hs_say_made(const char *path);

#endif
