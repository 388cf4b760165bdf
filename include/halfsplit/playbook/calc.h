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
 * Runs the main file of `sources`, which stay the caller's, and appends what it returned to *out, one value a line,
 * each line ended. A number comes as the shortest text that reads back as the same one, or as "infinite" or
 * "-infinite"; a text as it is but made safe to show, its newlines kept unless it stands in a table; true and false as
 * words; nil as "nothing". A table is one line an entry, "KEY: VALUE": numbers rising, then texts by their bytes, then
 * false and true. An entry that is a table itself is "KEY:" with its entries below, indented by two spaces; an empty
 * table is "{}". A file that returns nothing appends nothing.
 *
 * False and *error, with the file's line where one is to blame, and *out as it was: what the sandbox refuses
 * (sandbox.h), an error the file or the library raised, a result that is or holds a function or a network, a number
 * that is not one (0/0), tables nested more than 16 deep or in a circle, or more than 100,000 entries.
 */
bool hs_calc_file(hs_sources *sources, hs_buf *out, hs_error *error);

#endif
