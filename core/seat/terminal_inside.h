/* Inside the terminal seat: bytes, signals, and the two ways of reading a line. Inside core/seat only. */
#ifndef HALFSPLIT_SEAT_TERMINAL_INSIDE_H
#define HALFSPLIT_SEAT_TERMINAL_INSIDE_H

#include <signal.h>
#include "halfsplit/seat/terminal.h"
#include "seat_shown.h"

#define HS_LINE_MOST 4096u /* bytes of one typed line */

typedef enum hs_came {
	HS_CAME_FINE,      /* a byte, or a line */
	HS_CAME_INTERRUPT, /* Ctrl-C */
	HS_CAME_SUSPEND,   /* Ctrl-Z */
	HS_CAME_RESIZED,
	HS_CAME_OVER,   /* the wait of this ask is over; told once */
	HS_CAME_EOF,    /* end of input, Ctrl-D */
	HS_CAME_CLOSED, /* hangup, told to end, or nothing can be read or written any more */
	HS_CAME_FAILED  /* reading failed: errno says how */
} hs_came;

typedef struct hs_editing hs_editing; /* terminal_edit.c */

#define HS_OVER_TEXT "  the time is over\n"

/* How one line is asked for. */
typedef struct hs_prompt {
	const char *text;
	const char *later; /* the prompt once a wait is over */
	bool recalls;      /* a sentence: Up brings earlier ones back, and it is kept for that itself */
	bool fresh;        /* what was typed before it was shown cannot be an answer to it */
} hs_prompt;

typedef struct hs_terminal {
	hs_seat seat; /* first, so that the one is the other */
	int in_fd;
	FILE *out;
	bool in_tty, out_tty;
	int signal_fd;
	sigset_t mask_before;
	struct sigaction pipe_before;
	hs_buf bytes; /* read; taken up to `at` */
	size_t at;
	bool ahead; /* they were typed before the prompt stood there, and the kernel has edited them line by line */
	bool ahead_ends; /* and behind them Ctrl-D was typed */
	bool closed;
	int64_t over_ms; /* when the wait under way is over; 0: none, or told already */
	hs_shown shown;
	hs_buf again; /* the ask in short, for a cleared screen */
	hs_editing *editing; /* NULL: plain lines */
	hs_buf more;         /* readings typed on one line that still wait for their asks, ';' between them */
	int more_step, more_item;
} hs_terminal;

/* The next byte or signal, whichever is first; signals go before bytes. Waits. */
hs_came hs_terminal_byte(hs_terminal *terminal, unsigned char *byte);

/*
 * Takes what was typed before the prompt, while the kernel still holds it as lines: once the editor has switched the
 * terminal over, a Ctrl-D among it would be lost.
 */
void hs_terminal_take_ahead(hs_terminal *terminal);

/*
 * Throws away what was typed before the prompt, and says so: nobody can have read what it would answer. A stop and
 * Ctrl-D are kept, because they mean the same everywhere.
 */
void hs_terminal_drop_ahead(hs_terminal *terminal);

/* Stops the process as the shell would, unless there is no shell to start it again. */
void hs_terminal_stop_process(void);

/* One line without its end, as typed. */
hs_came hs_terminal_line(hs_terminal *terminal, const hs_prompt *prompt, hs_buf *line);

/* NULL when lines cannot be edited here. */
hs_editing *hs_editing_new(hs_terminal *terminal);
void hs_editing_free(hs_editing *editing);
hs_came hs_editing_line(hs_editing *editing, const hs_prompt *prompt, hs_buf *line);

/*
 * Several readings on one line: "5.02; 3.31; 12.1", or bare numbers with spaces. Cuts the line to its first reading and
 * puts the others into `more`, but only where the step has that many readings left; else the line stays whole for the
 * engine to refuse.
 */
void hs_terminal_split(const hs_engine *engine, const hs_ask *ask, hs_buf *line, hs_buf *more);

/* Takes the first of `more`, which is not empty. */
void hs_terminal_take_more(hs_buf *more, hs_buf *line);

#endif
