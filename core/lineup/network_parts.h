/* Inside core/lineup/network_*.c only: the reader of Touchstone files, cut into digits, lines, keywords and records. */
#ifndef CORE_LINEUP_NETWORK_PARTS_H
#define CORE_LINEUP_NETWORK_PARTS_H

#include "halfsplit/base/text.h"
#include "halfsplit/lineup/network.h"

#define NOISE_NUMBERS 5

/* Where in a file of version 2 the reader stands; version 1 has a head and data only. */
typedef enum place { IN_HEAD, IN_INFORMATION, IN_DATA, IN_NOISE, AT_END } place;

typedef struct network_reader {
	const char *path;
	hs_error *error;
	hs_network *net;
	int line;
	const char *line_at, *line_end; /* where the present line begins, and where the text at hand ends */
	hs_buf text;                    /* scratch: an option or keyword line without its comment */
	place place;
	bool options_seen, ports_known, order_seen, matrix_seen, in_reference, end_seen, first_seen;
	unsigned options;    /* which have been stated, a bit each */
	size_t ports_wanted; /* by the caller, or by the name; 0: not known */
	bool ports_named;    /* ports_wanted comes from the name */
	double unit_hz;
	size_t held, room; /* numbers in net->numbers */
	size_t record;     /* where the present frequency begins in it */
	int record_line;
	size_t noise_room, reference_room, mode_room;
	bool frequencies_stated, noise_stated;
	size_t frequencies, noise_frequencies;
	size_t stop_after; /* frequencies to read; 0: all */
} network_reader;

/* Fills the error with the present line; returns false. */
bool hs_net_refuse(network_reader *r, const char *format, ...) __attribute__((format(printf, 2, 3)));
void hs_net_remark(network_reader *r, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Fills the error's place with the line of one frequency of a two-port text that was read before; returns false. */
bool hs_net_blame_line(const char *path, const char *text, size_t length, size_t index, hs_error *error);

/* A number at `at`, which ends before `end`; returns what follows it, or NULL. Rounded correctly. */
const char *hs_net_number(const char *at, const char *end, double *value);

/* The next word of a line, cut off in place; NULL when there is none. */
char *hs_net_word(char **at);

/* The line in r->text: '#...' or '[...'. */
bool hs_net_option_line(network_reader *r);
bool hs_net_keyword_line(network_reader *r);
bool hs_net_reference_numbers(network_reader *r, char *rest);
bool hs_net_check_modes(network_reader *r);

/* A line of data has been read: its numbers stand from `first` on in net->numbers. */
bool hs_net_data_line(network_reader *r, size_t first);
bool hs_net_finish(network_reader *r);

/* Sets the number of ports, and with it how many numbers a frequency takes. */
bool hs_net_set_ports(network_reader *r, size_t ports);
void hs_net_set_stride(network_reader *r);

/* Whole lines of text; `last` says that nothing follows. *used is how much was taken. */
bool hs_net_lines(network_reader *r, const char *text, size_t length, bool last, size_t *used);

#endif
