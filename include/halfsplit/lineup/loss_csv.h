/*
 * A table of loss against frequency as spreadsheets write it.
 *
 * Two columns, frequency and loss, separated by commas, semicolons or tabs. A first line that does not begin with a
 * number is the header; it may name the units: "freq_mhz,loss_db", "frequency (GHz);loss (dB)", "MHz,dB". Without, a
 * plain number is Hz or dB; a cell may have its own unit ("145 MHz"), which goes before the header's. Blank lines and
 * lines that begin with
 * '#' are passed over; cells may stand in double quotes. Decimal points only. CR, LF and CRLF end lines.
 */
#ifndef HALFSPLIT_LINEUP_LOSS_CSV_H
#define HALFSPLIT_LINEUP_LOSS_CSV_H

#include "halfsplit/lineup/loss.h"

#define HS_LOSS_CSV_MOST ((size_t)1024 * 1024) /* bytes */

/*
 * `text` need not end at `length`; `path` is for messages, which name file and line and quote the line. The rules of
 * hs_loss_table_make hold: no conflict, no negative loss. HS_BAD_INPUT.
 */
bool hs_loss_csv(hs_arena *arena, const char *path, const char *text, size_t length, hs_loss_table *out,
                 hs_error *error);

#endif
