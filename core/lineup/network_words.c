/* The option line and the keywords of a Touchstone file. */
#include <stdlib.h>
#include <string.h>
#include "halfsplit/base/number.h"
#include "network_parts.h"

enum { UNIT_STATED = 1, KIND_STATED = 2, NOTATION_STATED = 4, R_STATED = 8 };

static bool add_reference(network_reader *r, double ohm)
{
	hs_network *net = r->net;
	net->reference = hs_grow(net->reference, &r->reference_room, net->reference_count + 1, sizeof(*net->reference));
	net->reference[net->reference_count++] = ohm;
	return true;
}

/* "R 50", or from version 1.1 on "R 50 75 ...": as many numbers as follow. */
static bool option_reference(network_reader *r, char **at)
{
	double ohm = 0;
	r->net->reference_count = 0;
	for (;;) {
		char *before = *at + strspn(*at, " \t\v\f"), *word;
		/* Only a number belongs to R; what else follows is an option of its own. */
		if (!*before || !strchr("+-.0123456789", *before) || !(word = hs_net_word(at)))
			break;
		if (!hs_number_read(word, &ohm) || !(ohm > 0)) {
			r->net->reference_count = 0;
			break;
		}
		add_reference(r, ohm);
	}
	if (r->net->reference_count == 0)
		return hs_net_refuse(r, "R in the option line is not followed by a resistance above 0 ohm");
	if (r->net->reference_count > 1 && r->net->version == 10)
		r->net->version = 11;
	return true;
}

static bool state_once(network_reader *r, unsigned which, const char *what)
{
	if (r->options & which)
		return hs_net_refuse(r, "the option line states %s twice", what);
	r->options |= which;
	return true;
}

static bool one_option(network_reader *r, const char *word, char **at)
{
	static const char *const units[] = {"Hz", "kHz", "MHz", "GHz"}, *const notations[] = {"MA", "DB", "RI"};
	static const double hertz[] = {1, 1e3, 1e6, 1e9};
	for (int i = 0; i < 4; i++) {
		if (hs_same_word(word, units[i])) {
			r->unit_hz = hertz[i];
			return state_once(r, UNIT_STATED, "the unit of frequency");
		}
	}
	for (int i = 0; i < 3; i++) {
		if (hs_same_word(word, notations[i])) {
			r->net->notation = (hs_notation)i;
			return state_once(r, NOTATION_STATED, "the notation");
		}
	}
	if (hs_same_word(word, "R"))
		return state_once(r, R_STATED, "R") && option_reference(r, at);
	if (strlen(word) == 1 && strchr("SYZGHsyzgh", *word)) {
		r->net->kind = (char)(*word & ~0x20);
		return state_once(r, KIND_STATED, "the parameters");
	}
	return hs_net_refuse(r, "\"%.40s\" in the option line is none of Hz kHz MHz GHz, S Y Z G H, MA DB RI, R", word);
}

bool hs_net_option_line(network_reader *r)
{
	hs_buf line;
	if (r->options_seen || r->place == AT_END)
		return r->place != AT_END || hs_net_refuse(r, "something stands behind [End]");
	hs_buf_init(&line);
	hs_buf_str(&line, r->text.data + 1);
	r->options_seen = true;
	char *at = line.data, *word;
	bool good = true;
	while (good && (word = hs_net_word(&at)) != NULL)
		good = one_option(r, word, &at);
	hs_buf_free(&line);
	if (good && r->net->reference_count == 0)
		add_reference(r, 50);
	return good;
}

/* The rest of a keyword line as a whole number from `least` up. */
static bool read_count(network_reader *r, const char *what, char *rest, size_t least, size_t most, size_t *out)
{
	char *word = hs_net_word(&rest), *stop = NULL;
	if (!word || hs_net_word(&rest) || !strchr("0123456789", *word))
		return hs_net_refuse(r, "%s wants one whole number", what);
	unsigned long long value = strlen(word) > 18 ? ~0ull : strtoull(word, &stop, 10);
	if ((stop && *stop) || value < least || value > most)
		return hs_net_refuse(r, "%s is \"%.40s\"; a whole number from %zu to %zu is wanted", what, word, least,
		                     most);
	*out = (size_t)value;
	return true;
}

static bool key_version(network_reader *r, char *rest)
{
	char *word = hs_net_word(&rest);
	bool two = word && strcmp(word, "2.0") == 0, later = word && strcmp(word, "2.1") == 0;
	if (r->net->version >= 20)
		return hs_net_refuse(r, "[Version] stands twice");
	if ((!two && !later) || hs_net_word(&rest)) {
		hs_net_refuse(r, "[Version] is \"%.40s\"; 2.0 or 2.1 is wanted", word ? word : "");
		return hs_fail_hint(r->error, "a file of version 1 has no [Version] line");
	}
	r->net->version = later ? 21 : 20;
	/* The name says nothing in version 2: the file does. */
	if (r->ports_named)
		r->ports_wanted = 0;
	return true;
}

static bool key_ports(network_reader *r, char *rest)
{
	size_t ports;
	if (r->ports_known)
		return hs_net_refuse(r, "[Number of Ports] stands twice");
	if (!r->options_seen)
		return hs_net_refuse(r, "[Number of Ports] stands before the option line (#)");
	return read_count(r, "[Number of Ports]", rest, 1, HS_PORTS_MOST, &ports) && hs_net_set_ports(r, ports);
}

static bool key_order(network_reader *r, char *rest)
{
	char *word = hs_net_word(&rest);
	bool first = word && hs_same_word(word, "12_21"), second = word && hs_same_word(word, "21_12");
	if (!r->ports_known || r->net->ports != 2)
		return hs_net_refuse(r, "[Two-Port Data Order] belongs behind [Number of Ports] 2");
	if (!first && !second)
		return hs_net_refuse(r, "[Two-Port Data Order] is \"%.40s\"; 12_21 or 21_12 is wanted",
		                     word ? word : "");
	r->net->order_12_21 = first;
	r->order_seen = true;
	return true;
}

static bool key_frequencies(network_reader *r, char *rest)
{
	r->frequencies_stated = true;
	return read_count(r, "[Number of Frequencies]", rest, 1, (size_t)1 << 48, &r->frequencies);
}

static bool key_noise_frequencies(network_reader *r, char *rest)
{
	r->noise_stated = true;
	return read_count(r, "[Number of Noise Frequencies]", rest, 1, (size_t)1 << 48, &r->noise_frequencies);
}

static bool key_matrix(network_reader *r, char *rest)
{
	static const char *const names[] = {"Full", "Lower", "Upper"};
	char *word = hs_net_word(&rest);
	for (int i = 0; word && i < 3; i++) {
		if (hs_same_word(word, names[i])) {
			r->net->matrix = (hs_matrix)i;
			hs_net_set_stride(r);
			return true;
		}
	}
	return hs_net_refuse(r, "[Matrix Format] is \"%.40s\"; Full, Lower or Upper is wanted", word ? word : "");
}

bool hs_net_reference_numbers(network_reader *r, char *rest)
{
	char *word;
	double ohm = 0;
	while ((word = hs_net_word(&rest)) != NULL) {
		if (!hs_number_read(word, &ohm))
			return hs_net_refuse(r, "\"%.40s\" is not a number", word);
		if (!(ohm > 0))
			return hs_net_refuse(r, "[Reference] holds %.40s; a resistance above 0 ohm is wanted", word);
		if (r->net->reference_count == r->net->ports)
			return hs_net_refuse(r, "[Reference] holds more than %zu resistances, one for each port",
			                     r->net->ports);
		add_reference(r, ohm);
	}
	if (r->net->reference_count == r->net->ports)
		r->in_reference = false;
	return true;
}

static bool key_reference(network_reader *r, char *rest)
{
	if (!r->ports_known)
		return hs_net_refuse(r, "[Reference] stands before [Number of Ports]");
	r->net->reference_count = 0;
	r->in_reference = true;
	return hs_net_reference_numbers(r, rest);
}

/* "D2,3", "C2,3", "S1". */
static bool read_mode(network_reader *r, const char *word, hs_mode *mode)
{
	char *stop = NULL;
	mode->kind = (char)(*word & ~0x20);
	bool pair = mode->kind == 'D' || mode->kind == 'C', good = pair || mode->kind == 'S';
	unsigned long long a = good && strchr("0123456789", word[1]) ? strtoull(word + 1, &stop, 10) : 0, b = 0;
	if (pair && stop && *stop == ',' && stop[1] && strchr("0123456789", stop[1]))
		b = strtoull(stop + 1, &stop, 10);
	good = good && stop && *stop == '\0' && a >= 1 && a <= r->net->ports &&
	       (!pair || (b >= 1 && b <= r->net->ports && b != a));
	mode->a = (size_t)a;
	mode->b = (size_t)b;
	return good ||
	       hs_net_refuse(r, "\"%.40s\" in [Mixed-Mode Order] is no Sn, Dn,m or Cn,m with ports from 1 to %zu", word,
	                     r->net->ports);
}

static bool key_modes(network_reader *r, char *rest)
{
	char *word;
	size_t count = 0;
	if (!r->ports_known)
		return hs_net_refuse(r, "[Mixed-Mode Order] stands before [Number of Ports]");
	while ((word = hs_net_word(&rest)) != NULL) {
		hs_mode mode;
		if (!read_mode(r, word, &mode))
			return false;
		if (count == r->net->ports)
			return hs_net_refuse(r, "[Mixed-Mode Order] names more than %zu ports", r->net->ports);
		r->net->modes = hs_grow(r->net->modes, &r->mode_room, count + 1, sizeof(*r->net->modes));
		r->net->modes[count++] = mode;
	}
	if (count != r->net->ports)
		return hs_net_refuse(r, "[Mixed-Mode Order] names %zu ports; the file holds %zu", count, r->net->ports);
	return hs_net_check_modes(r);
}

static bool key_information(network_reader *r, char *rest)
{
	(void)rest;
	if (r->place != IN_HEAD)
		return hs_net_refuse(r, "[Begin Information] stands behind [Network Data]");
	r->place = IN_INFORMATION;
	return true;
}

static bool key_network(network_reader *r, char *rest)
{
	(void)rest;
	if (r->place != IN_HEAD)
		return hs_net_refuse(r, "[Network Data] stands twice");
	if (!r->options_seen)
		return hs_net_refuse(r, "[Network Data] stands before the option line (#)");
	if (!r->ports_known)
		return hs_net_refuse(r, "[Network Data] begins before [Number of Ports]");
	if (!r->frequencies_stated)
		return hs_net_refuse(r, "[Network Data] begins before [Number of Frequencies]");
	if (r->net->ports == 2 && !r->order_seen)
		return hs_net_refuse(r, "a two-port file wants [Two-Port Data Order] before [Network Data]");
	if (r->net->reference_count != 1 && r->net->reference_count != r->net->ports)
		return hs_net_refuse(r, "%zu reference resistances are stated for %zu ports", r->net->reference_count,
		                     r->net->ports);
	r->place = IN_DATA;
	return true;
}

static bool whole_record(network_reader *r)
{
	return r->held == r->record || hs_net_refuse(r, "the frequency begun in line %d holds %zu of %zu numbers",
	                                             r->record_line, r->held - r->record, r->net->stride);
}

static bool key_noise(network_reader *r, char *rest)
{
	(void)rest;
	if (r->place != IN_DATA)
		return hs_net_refuse(r, "[Noise Data] stands elsewhere than behind the network data");
	if (!r->noise_stated)
		return hs_net_refuse(r, "[Noise Data] begins without [Number of Noise Frequencies] before it");
	if (r->net->ports != 2)
		return hs_net_refuse(r, "[Noise Data] belong to two-port files; this one has %zu ports", r->net->ports);
	r->place = IN_NOISE;
	return whole_record(r);
}

static bool key_end(network_reader *r, char *rest)
{
	(void)rest;
	if (r->place != IN_DATA && r->place != IN_NOISE)
		return hs_net_refuse(r, "[End] stands before any [Network Data]");
	r->place = AT_END;
	r->end_seen = true;
	return whole_record(r);
}

static const char *const keywords[] = {
    "version",
    "number of ports",
    "two-port data order",
    "number of frequencies",
    "number of noise frequencies",
    "reference",
    "matrix format",
    "mixed-mode order",
    "begin information",
    "network data",
    "noise data",
    "end",
    "end information",
};

/* "[Number of  Ports] 4" -> "number of ports" in place of the brackets; returns what follows, or NULL. */
static char *take_keyword(char *line, char name[64])
{
	char *close = strchr(line, ']');
	size_t length = 0;
	if (!close)
		return NULL;
	for (char *p = line + 1; p < close && length < 63; p++) {
		char c = *p == '_' || *p == '\t' ? ' ' : *p;
		if (c == ' ' && (length == 0 || name[length - 1] == ' '))
			continue;
		name[length++] = (char)(c >= 'A' && c <= 'Z' ? c + 32 : c);
	}
	if (length > 0 && name[length - 1] == ' ')
		length--;
	name[length] = '\0';
	return close + 1;
}

static bool unknown_keyword(network_reader *r, const char *name)
{
	const char *near = hs_nearest(name, keywords, sizeof(keywords) / sizeof(keywords[0]));
	hs_net_refuse(r, "[%.60s] is no keyword of a Touchstone file", name);
	return near ? hs_fail_hint(r->error, "perhaps [%s] was meant", near) : false;
}

bool hs_net_keyword_line(network_reader *r)
{
	static bool (*const acts[])(network_reader *, char *) = {
	    key_version,           key_ports,     key_order,  key_frequencies,
	    key_noise_frequencies, key_reference, key_matrix, key_modes,
	    key_information,       key_network,   key_noise,  key_end,
	};
	char name[64];
	char *rest = take_keyword(r->text.data, name);
	if (r->place == IN_INFORMATION) {
		if (rest && strcmp(name, "end information") == 0)
			r->place = IN_HEAD;
		return true;
	}
	if (!rest)
		return hs_net_refuse(r, "a keyword has no closing bracket");
	if (r->in_reference)
		return hs_net_refuse(r, "[Reference] holds %zu resistances; %zu are wanted, one for each port",
		                     r->net->reference_count, r->net->ports);
	if (r->place == AT_END)
		return hs_net_refuse(r, "something stands behind [End]");
	for (size_t i = 0; i < sizeof(acts) / sizeof(acts[0]); i++) {
		if (strcmp(name, keywords[i]) != 0)
			continue;
		if (i > 0 && r->net->version < 20)
			return hs_net_refuse(r, "a keyword stands in a file that does not begin with [Version]");
		if (i < 9 && r->place != IN_HEAD)
			return hs_net_refuse(r, "[%s] stands behind [Network Data]", name);
		return acts[i](r, rest);
	}
	if (strcmp(name, "end information") == 0)
		return hs_net_refuse(r, "[End Information] stands without [Begin Information]");
	return unknown_keyword(r, name);
}
