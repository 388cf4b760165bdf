/*
 * Touchstone 1.x two-port files (open specification, IBIS). Only what a hookup needs: |S21| against frequency.
 *
 * An empty option line means GHz S MA R 50; options come in any order, later option lines are ignored; CR, LF and CRLF end lines; '!'
 * starts a comment anywhere; "#MHz" without a space is read. Two-port order is S11 S21 S12 S22. Noise data, which begin where the frequency
 * is not above the last, are skipped. Up to 0.1 dB of "gain" is a calibration residue and counts as 0 dB; more is an error.
 */
#ifndef HALFSPLIT_LINEUP_TOUCHSTONE_H
#define HALFSPLIT_LINEUP_TOUCHSTONE_H

#include "halfsplit/lineup/loss.h"

/* text is the file's content (not necessarily NUL-terminated at length); path is for messages, which name the line. */
bool hs_touchstone_loss(hs_arena *arena, const char *path, const char *text, size_t length, hs_loss_table *out, hs_error *error);

#endif
