/*
 * The live seat: a person at a terminal, with line editing and a history of this run; or plain lines from a pipe or a
 * dumb terminal. Real clocks, real waits.
 *
 * Signals are not handled but received: while the seat is open SIGINT, SIGTERM, SIGHUP and SIGTSTP are blocked and read
 * from a descriptor at the prompt, so none can cut an answer in half. Ctrl-C is HS_INPUT_INTERRUPT; Ctrl-D, a closed
 * terminal, SIGTERM and SIGHUP are HS_INPUT_END. SIGPIPE is ignored while the seat is open.
 */
#ifndef HALFSPLIT_SEAT_TERMINAL_H
#define HALFSPLIT_SEAT_TERMINAL_H

#include <stdio.h>
#include "halfsplit/seat/seat.h"

/*
 * in_fd and out are usually STDIN_FILENO and stdout; both stay the caller's. NULL with HS_IO when the descriptors or
 * the signal descriptor fail.
 */
hs_seat *hs_terminal_open(int in_fd, FILE *out, hs_error *error);

/* True when lines are edited (both ends are terminals, TERM is usable, and the editing library was found). */
bool hs_terminal_edits(const hs_seat *seat);

#endif
