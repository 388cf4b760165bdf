/*
 * Touchstone files, versions 1.0, 1.1, 2.0 and 2.1 (open specification, IBIS): any number of ports, S, Y, Z, G and H
 * parameters, MA, DB and RI, noise data.
 *
 * What is read:
 * - An empty option line means GHz S MA R 50; options come in any order; of several option lines the first counts.
 * "#MHz" without a space is fine. "R 50 75" (1.1, 2.1) gives each port its own reference.
 * - CR, LF and CRLF end lines; '!' starts a comment anywhere; a leading byte-order mark is skipped. A NUL byte is an
 * error.
 * - Version 1 does not state its ports: they follow from the name (.s4p), else from the first frequency. One and two
 * ports stand in one line each, two ports as 11 21 12 22; more ports row by row, wrapped. Version 2 wraps as it likes,
 * but a frequency begins a line.
 * - Frequencies rise. The same frequency twice with the same numbers is harmless, with other numbers a conflict.
 * - Version 1 two-port noise data begin where the frequency is not above the last. The magnitude of the best source is
 * a magnitude, whatever the notation; its noise resistance is normalised in version 1 and in ohm in version 2.
 * - Version 1 normalises Z, Y, H and G to the reference, version 2 does not: values here are always ohm and siemens.
 * - Version 2 wants [Number of Ports], [Number of Frequencies], [Network Data], with two ports [Two-Port Data Order],
 * and with [Noise Data] [Number of Noise Frequencies]; [Reference], [Matrix Format] (full, lower, upper), [Mixed-Mode
 * Order] and [Begin Information] may stand there. [End] is wanted by 2.1; its absence in 2.0 is a remark.
 *
 * Sizes that a file states are compared with what it holds, never trusted for memory. Numbers are rounded correctly,
 * under any locale. Malformed files give HS_BAD_INPUT with file, line, the line's text, what was found and what was
 * expected.
 */
#ifndef HALFSPLIT_LINEUP_NETWORK_H
#define HALFSPLIT_LINEUP_NETWORK_H

#include "halfsplit/lineup/loss.h"
#include "halfsplit/lineup/reflection.h"

#define HS_PORTS_MOST 65535

typedef enum hs_notation { HS_NOTATION_MA, HS_NOTATION_DB, HS_NOTATION_RI } hs_notation;
typedef enum hs_matrix { HS_MATRIX_FULL, HS_MATRIX_LOWER, HS_MATRIX_UPPER } hs_matrix;

/* One line of noise data. */
typedef struct hs_noise_point {
	double freq_hz;
	double nf_min_db;
	double rho_best, degrees_best; /* source reflection of the least noise, as it stands */
	double rn_ohm;                 /* effective noise resistance, in ohm */
} hs_noise_point;

/* One port of a mixed-mode matrix: 'D' or 'C' of two physical ports, or 'S' of one (b is 0). Ports count from 1. */
typedef struct hs_mode {
	char kind;
	size_t a, b;
} hs_mode;

typedef struct hs_network {
	int version; /* 10, 11, 20, 21 */
	size_t ports;
	char kind; /* S Y Z G H */
	hs_notation notation;
	hs_matrix matrix;
	bool order_12_21;  /* two ports, version 2: 12 before 21 */
	double *reference; /* ohm; `reference_count` is 1 (all ports) or `ports` */
	size_t reference_count;
	size_t count;    /* of frequencies */
	size_t stride;   /* numbers a frequency takes: 1 + 2 x cells */
	double *numbers; /* frequency in Hz, then pairs as they stand in the file; use the functions below */
	hs_noise_point *noise;
	size_t noise_count;
	hs_mode *modes;   /* NULL, or one for each port */
	int remark_line;  /* 0: none */
	char remark[160]; /* the first thing that is not by the book but was read all the same */
} hs_network;

/*
 * Reads a file, or text already in memory (`path` then serves for messages and for its ending). `ports`: 0 as the file
 * says, else what it must hold. The result is freed with hs_network_free. Reading a file takes little more memory than
 * its numbers. A file that cannot be read: HS_IO, or HS_BAD_INPUT when there is none.
 */
bool hs_network_open(const char *path, size_t ports, hs_network **out, hs_error *error);
bool hs_network_parse(const char *path, const char *text, size_t length, size_t ports, hs_network **out,
                      hs_error *error);
void hs_network_free(hs_network *network); /* accepts NULL */

double hs_network_freq(const hs_network *network, size_t index); /* Hz; index < count */

/* The point at a frequency, to 1e-9; what lies between points is an error that names the neighbours. */
bool hs_network_find(const hs_network *network, double freq_hz, size_t *index, hs_error *error);

/* A parameter as a complex number: S dimensionless, Z in ohm, Y in siemens, G and H mixed. to and from count from 1:
 * S21 is (2, 1). */
bool hs_network_value(const hs_network *network, size_t index, size_t to, size_t from, hs_complex *out,
                      hs_error *error);

/* 20 log10 of its magnitude, exactly as it stands in a DB file; a magnitude of 0 has none. S-parameters only. */
bool hs_network_db(const hs_network *network, size_t index, size_t to, size_t from, double *db, hs_error *error);

double hs_network_reference(const hs_network *network, size_t port); /* ohm; port from 1 */

/*
 * The loss of a lead, S21 of a two-port file of any version in memory, for a kit's cables. `path` is for messages, which
 * name the line: of a frequency that takes several, the last.
 */
bool hs_network_lead_loss(hs_arena *arena, const char *path, const char *text, size_t length, hs_loss_table *out,
                          hs_error *error);

/*
 * The loss from one port to another as a table. S-parameters only, one reference for both ports. Up to 0.1 dB of "gain"
 * is a residue of the calibration and counts as 0 dB; more is an error.
 */
bool hs_network_loss(hs_arena *arena, const hs_network *network, size_t to, size_t from, hs_loss_table *out,
                     hs_error *error);

#endif
