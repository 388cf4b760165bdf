/* prove --draw. */
#ifndef HALFSPLIT_CORE_CLI_PROVE_DRAW_H
#define HALFSPLIT_CORE_CLI_PROVE_DRAW_H

#include "halfsplit/model/playbook.h"

/*
 * where: "text" for standard output, else a new file ending in .svg or .dot. transcript: a run whose way is marked; NULL: none. HS_BAD_INPUT: not
 * such a file, one that is there already, or a run of another playbook.
 */
bool hs_prove_draw(const hs_playbook *playbook, const char *where, const char *transcript, hs_error *error);

#endif
