/*
 * A calc file: a Lua file that works something out with the measurement library and returns it.
 *
 * It runs in the sandbox of playbooks, with the measurement library and `require`, and without the builders: `step` and
 * `cable` are unknown words there. What the file returns is rendered the same way in every run.
 */
#ifndef HALFSPLIT_PLAYBOOK_CALC_H
#define HALFSPLIT_PLAYBOOK_CALC_H

#include <stdbool.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

typedef struct hs_sources hs_sources; /* playbook/sources.h */

/*
 * Runs the main file of `sources`, which stay the caller's, and appends what it returned to *out, one value a line, each line
 * ended. Numbers come as the shortest text that reads back as the same number, texts as they are but made safe to show, true and false as
 * words. A table is one line an entry: "key: value", first its positions 1, 2 ..., then its other keys by kind and name; an entry that is a
 * table itself is "key:" and its entries below, indented by two spaces; an empty table is "{}". A file that returns nothing appends
 * nothing.
 *
 * False and *error, with the file's line where one is to blame, and *out as it was: what the sandbox refuses (sandbox.h), an
 * error the file or the library raised, a result that is or holds a function, a number that is not finite, a table that holds
 * itself, more than 16 tables in each other, or more than 100,000 entries.
 */
bool hs_calc_file(hs_sources *sources, hs_buf *out, hs_error *error);

#endif
