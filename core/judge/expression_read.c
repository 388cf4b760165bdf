/* The reader: recursive descent from the text to phrases and nodes. */
#include <string.h>
#include "expression_parts.h"
#include "halfsplit/lineup/loss.h"

static hs_phrase *phrase_read(hs_working *w);
static hs_node *unary(hs_working *w);
static hs_node *sum(hs_working *w);

static hs_node *node_of(hs_working *w, hs_shape_of shape)
{
	hs_node *node = hs_arena_alloc(w->arena, sizeof *node);
	node->shape = shape;
	return node;
}

/* True while there is room for one more level; each call is undone by w->depth--. */
static bool deeper(hs_working *w)
{
	if (++w->depth <= HS_EXPRESSION_DEPTH_MOST)
		return true;
	return hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT,
	               "parentheses and signs stand more than %d deep in each other", HS_EXPRESSION_DEPTH_MOST);
}

static hs_node *in_parentheses(hs_working *w)
{
	if (!deeper(w))
		return NULL;
	hs_node *node = node_of(w, HS_NODE_PHRASE);
	node->phrase = phrase_read(w);
	w->depth--;
	if (!node->phrase)
		return NULL;
	if (!hs_sign_take(w, ")")) {
		hs_found_instead(w, "a sign, a word such as \"in\", or a closing parenthesis");
		return NULL;
	}
	return node;
}

/* "10 m RG-213/U", once the length is read; NULL and no failure when no type follows. */
static hs_node *coax_type(hs_working *w, const hs_node *length)
{
	const char *begun = w->at;
	char name[32];
	hs_word_take(w, "of");
	size_t used = strspn(w->at, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-/._");
	hs_copy(name, used + 1 < sizeof name ? used + 1 : sizeof name, w->at);
	bool radio_guide = (name[0] == 'R' || name[0] == 'r') && (name[1] == 'G' || name[1] == 'g');
	if (used == 0 || used >= sizeof name || (!radio_guide && !hs_coax_type(name))) {
		w->at = begun;
		return NULL;
	}
	hs_node *node = node_of(w, HS_NODE_COAX);
	node->figure = length->figure;
	node->type = hs_arena_str(w->arena, name);
	w->at += used;
	hs_skip_spaces(w);
	return node;
}

static bool one_taken(hs_working *w, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (hs_word_take(w, words[i]))
			return true;
	return false;
}

static bool forward_taken(hs_working *w)
{
	static const char *const words[] = {"forward", "fwd", "incident"};
	return one_taken(w, words, sizeof words / sizeof *words);
}

static bool back_taken(hs_working *w)
{
	static const char *const words[] = {"reflected", "reverse", "rev", "back", "returned"};
	return one_taken(w, words, sizeof words / sizeof *words);
}

/* "50 W forward, 2 W reflected" or "2 W reflected of 50 W", once the first power and its word are read. */
static hs_node *reflected(hs_working *w, hs_node *first, bool forward)
{
	hs_node *other = node_of(w, HS_NODE_LITERAL), *node = node_of(w, HS_NODE_REFLECTED);
	if (!hs_sign_take(w, ",") && !hs_word_take(w, "and") && !hs_word_take(w, "of"))
		hs_word_take(w, "from");
	if (!hs_literal_next(w)) {
		hs_found_instead(w, forward ? "the reflected power" : "the forward power");
		return NULL;
	}
	if (!hs_literal_read(w, &other->figure))
		return NULL;
	if (forward && !back_taken(w)) {
		hs_found_instead(w, "\"reflected\"");
		return NULL;
	}
	if (!forward)
		forward_taken(w);
	node->a = forward ? first : other;
	node->b = forward ? other : first;
	return node;
}

static hs_node *literal(hs_working *w)
{
	hs_node *node = node_of(w, HS_NODE_LITERAL);
	if (!hs_literal_read(w, &node->figure))
		return NULL;
	if (hs_unit_dimension(node->figure.is.unit) == HS_DIM_POWER && node->figure.sense == HS_SENSE_PLAIN) {
		if (forward_taken(w))
			return reflected(w, node, true);
		if (back_taken(w))
			return reflected(w, node, false);
	}
	if (node->figure.is.unit == HS_METRE) {
		hs_node *coax = coax_type(w, node);
		return coax ? coax : node;
	}
	return node;
}

static hs_node *one_of(hs_working *w, hs_shape_of shape, hs_node *a)
{
	if (!a)
		return NULL;
	hs_node *node = node_of(w, shape);
	node->a = a;
	return node;
}

/* A number or parentheses; what a name such as "swr" takes. */
static hs_node *named_operand(hs_working *w)
{
	hs_word_take(w, "of");
	if (hs_sign_take(w, "("))
		return in_parentheses(w);
	if (hs_literal_next(w))
		return literal(w);
	hs_found_instead(w, "a number");
	return NULL;
}

/* "swr 1.8", "return loss 14 dB": the names of hs_target_read, but for the units among them. */
static hs_node *sensed(hs_working *w)
{
	static const char *const firsts[] = {"return", "rl", "mismatch", "gamma",   "rho",     "swr",  "vswr",
	                                     "emf",    "pd", "power",    "voltage", "current", "ratio"};
	hs_target target;
	bool known = false;
	for (size_t i = 0; i < sizeof firsts / sizeof *firsts && !known; i++)
		known = hs_word_next(w, firsts[i]);
	if (!known) {
		hs_found_instead(w, "a number with its unit");
		return NULL;
	}
	if (!hs_target_read(w, &target))
		return NULL;
	hs_node *node = one_of(w, HS_NODE_SENSE, named_operand(w));
	if (!node)
		return NULL;
	node->target = target;
	/* "swr 1.8:1" */
	if (target.unit == HS_SWR && w->at[0] == ':' && w->at[1] == '1' &&
	    !strchr("0123456789.", w->at[2] ? w->at[2] : ' ')) {
		w->at += 2;
		hs_skip_spaces(w);
	}
	return node;
}

/* "mean of a, b and c" */
static hs_node *list(hs_working *w, hs_shape_of shape)
{
	hs_node *node = node_of(w, shape), *last = NULL;
	do {
		hs_node *item = sum(w);
		if (!item)
			return NULL;
		hs_node *link = one_of(w, HS_NODE_LINK, item);
		if (last)
			last->next = link;
		else
			node->a = link;
		last = link;
	} while (hs_sign_take(w, ",") || hs_word_take(w, "and"));
	return node;
}

static hs_node *loss_of(hs_working *w)
{
	if (!hs_literal_next(w)) {
		hs_found_instead(w, "a length of cable, such as 10 m RG-213/U,");
		return NULL;
	}
	hs_node *node = literal(w);
	if (!node || node->shape == HS_NODE_COAX)
		return node;
	hs_found_instead(w, "the generic type of a cable");
	return NULL;
}

static hs_node *primary(hs_working *w)
{
	if (hs_sign_take(w, "("))
		return in_parentheses(w);
	if (hs_literal_next(w))
		return literal(w);
	if (hs_words_take(w, "mean", "of") || hs_words_take(w, "average", "of"))
		return list(w, HS_NODE_MEAN);
	if (hs_words_take(w, "rms", "of"))
		return list(w, HS_NODE_RMS);
	if (hs_words_take(w, "sum", "of"))
		return list(w, HS_NODE_SUM);
	if (hs_word_take(w, "pi")) {
		hs_node *node = node_of(w, HS_NODE_LITERAL);
		node->figure = hs_figure_of(3.14159265358979323846, HS_UNITLESS);
		return node;
	}
	if (hs_words_take(w, "noise", "floor") || hs_words_take(w, "thermal", "noise") || hs_word_take(w, "kTB"))
		return node_of(w, HS_NODE_FLOOR);
	if (hs_words_take(w, "noise", "of"))
		return one_of(w, HS_NODE_RESISTOR, named_operand(w));
	if (hs_words_take(w, "loss", "of"))
		return loss_of(w);
	return sensed(w);
}

static bool minus_take(hs_working *w)
{
	return hs_sign_take(w, "-") || hs_sign_take(w, "\xE2\x88\x92");
}

static hs_node *unary(hs_working *w)
{
	if (hs_literal_next(w))
		return literal(w);
	if (!minus_take(w))
		return primary(w);
	if (!deeper(w))
		return NULL;
	hs_node *node = NULL;
	/* "- 3 dBm" is the number -3 with its unit; a sign before anything else is arithmetic. */
	if (hs_literal_next(w) && *w->at != '-' && *w->at != '+' && (signed char)*w->at > 0) {
		node = literal(w);
		if (node)
			node->figure.is.value = -node->figure.is.value;
		if (node && !hs_finish(w, &node->figure))
			node = NULL;
	} else {
		node = one_of(w, HS_NODE_NEGATE, unary(w));
	}
	w->depth--;
	return node;
}

static bool turn_take(hs_working *w, bool products, hs_turn *turn)
{
	if (products) {
		if (hs_sign_take(w, "*") || hs_sign_take(w, "\xC3\x97") || hs_word_take(w, "x") ||
		    hs_word_take(w, "times"))
			*turn = HS_TURN_TIMES;
		else if ((w->at[0] == '/' && w->at[1] != '/' && hs_sign_take(w, "/")) || hs_sign_take(w, "\xC3\xB7"))
			*turn = HS_TURN_OVER;
		else
			return false;
		return true;
	}
	if (hs_sign_take(w, "+") || hs_word_take(w, "plus"))
		*turn = HS_TURN_ADD;
	else if (minus_take(w) || hs_word_take(w, "minus"))
		*turn = HS_TURN_TAKE;
	else
		return false;
	return true;
}

/* A chain of operands with the turns between them, kept as a list so that a long one is not deep. */
static hs_node *turned(hs_working *w, hs_node *first, bool products)
{
	hs_node *chain = NULL, *last = NULL;
	hs_turn turn;
	while (first && turn_take(w, products, &turn)) {
		hs_node *operand = products ? unary(w) : turned(w, unary(w), true);
		if (!operand)
			return NULL;
		hs_node *link = one_of(w, HS_NODE_LINK, operand);
		link->turn = turn;
		if (!chain) {
			chain = one_of(w, HS_NODE_CHAIN, first);
			chain->b = link;
		} else {
			last->next = link;
		}
		last = link;
	}
	return chain ? chain : first;
}

static hs_node *sum(hs_working *w)
{
	return turned(w, turned(w, unary(w), true), false);
}

static hs_saying *say_more(hs_working *w, hs_phrase *phrase, hs_turn turn)
{
	hs_saying *saying = hs_arena_alloc(w->arena, sizeof *saying);
	saying->turn = turn;
	*phrase->end = saying;
	phrase->end = &saying->next;
	return saying;
}

static bool wave_take(hs_working *w, hs_terms *terms)
{
	static const hs_wave waves[] = {HS_SINE, HS_SQUARE, HS_TRIANGLE};
	for (size_t i = 0; i < sizeof waves / sizeof *waves; i++) {
		if (!hs_word_take(w, hs_wave_name(waves[i])))
			continue;
		hs_word_take(w, "wave");
		terms->wave.shape = waves[i];
		terms->has_wave = true;
		w->said_wave = w->said_wave || terms->wave.shape != HS_SINE;
		return true;
	}
	return false;
}

typedef enum { NOTHING_MORE, SAID, FAILED } said;

/* "pulse 10 %", "pulse of duty 0.1" */
static said pulse_said(hs_working *w, hs_terms *terms)
{
	hs_figure duty;
	if (!hs_word_take(w, "pulse"))
		return NOTHING_MORE;
	hs_word_take(w, "of");
	hs_word_take(w, "duty");
	hs_word_take(w, "cycle");
	if (!hs_literal_next(w)) {
		hs_found_instead(w, "the duty of the pulse, such as pulse 10 %,");
		return FAILED;
	}
	if (!hs_literal_read(w, &duty))
		return FAILED;
	if (duty.is.unit == HS_PERCENT)
		duty.is = (hs_quantity){duty.is.value / 100, HS_UNITLESS};
	if (duty.is.unit != HS_UNITLESS || !(duty.is.value > 0) || duty.is.value > 1) {
		hs_fail(hs_blame(w, HS_FAULT_DOMAIN), HS_BAD_INPUT,
		        "the duty of a pulse is %s, and more than 0 up to 1 was wanted", hs_figure_said(&duty).text);
		return FAILED;
	}
	hs_word_take(w, "duty");
	terms->wave = (hs_waveform){.shape = HS_PULSE, .duty = duty.is.value};
	terms->has_wave = w->said_wave = true;
	return SAID;
}

static said operand_said(hs_working *w, hs_phrase *phrase, hs_turn turn, bool whole)
{
	hs_saying *saying = say_more(w, phrase, turn);
	saying->operand = whole                                         ? sum(w)
	                  : turn == HS_TURN_ADD || turn == HS_TURN_TAKE ? turned(w, unary(w), true)
	                                                                : unary(w);
	return saying->operand ? SAID : FAILED;
}

/* "-50 dBm in dBc from 10 dBm", once "in dBc" is read. */
static said above_carrier(hs_working *w, hs_phrase *phrase)
{
	if (hs_word_take(w, "from") || hs_word_take(w, "of") || hs_word_take(w, "to") || hs_word_take(w, "at"))
		return operand_said(w, phrase, HS_TURN_CARRIER, false);
	hs_found_instead(w, "the carrier, such as from 10 dBm,");
	return FAILED;
}

/* "from 10 dBm", "of 50 ohm"; "from 50 ohm" is the resistance of a source, and "over 2 A" divides. */
static said of_said(hs_working *w, hs_phrase *phrase)
{
	const char *begun = w->at;
	hs_figure amount;
	bool from = hs_word_next(w, "from"), over = hs_word_next(w, "over");
	if (hs_word_take(w, "of"))
		return operand_said(w, phrase, HS_TURN_SHARE, false);
	if (!from && !over)
		return NOTHING_MORE;
	hs_word_take(w, from ? "from" : "over");
	bool fits = hs_literal_next(w) && hs_literal_read(w, &amount) && amount.is.unit != HS_OHM &&
	            (over || hs_figure_is_signal(&amount));
	w->at = begun;
	if (!fits)
		return NOTHING_MORE;
	hs_word_take(w, from ? "from" : "over");
	return operand_said(w, phrase, from ? HS_TURN_CARRIER : HS_TURN_OVER, false);
}

/* "10 mV in dBm 50 ohm": an impedance without its "at". */
static said bare_ohm_said(hs_working *w, hs_phrase *phrase)
{
	const char *begun = w->at;
	hs_figure amount;
	bool ohm = hs_literal_next(w) && *w->at != '-' && *w->at != '+' && hs_literal_read(w, &amount) &&
	           amount.is.unit == HS_OHM;
	w->at = begun;
	if (!ohm)
		return NOTHING_MORE;
	return hs_amount_read(w, "at", phrase) ? SAID : FAILED;
}

static said preposition_said(hs_working *w, hs_phrase *phrase)
{
	static const char *const takers[] = {"at", "in", "with", "from", "into", "across", "over"};
	if (hs_words_take(w, "in", "phase")) {
		phrase->terms.in_phase = true;
		return SAID;
	}
	if (hs_words_take(w, "in", "dBc") || hs_words_take(w, "as", "dBc") || hs_words_take(w, "to", "dBc"))
		return above_carrier(w, phrase);
	if (hs_sign_take(w, "@")) {
		if (hs_literal_next(w))
			return hs_amount_read(w, "at", phrase) ? SAID : FAILED;
		hs_found_instead(w, "a number with its unit");
		return FAILED;
	}
	for (size_t i = 0; i < sizeof takers / sizeof *takers; i++) {
		const char *begun = w->at;
		if (!hs_word_take(w, takers[i]))
			continue;
		if (hs_literal_next(w))
			return hs_amount_read(w, takers[i], phrase) ? SAID : FAILED;
		if (strcmp(takers[i], "in") != 0) {
			hs_found_instead(w, "a number with its unit");
			return FAILED;
		}
		w->at = begun;
	}
	if (!hs_word_take(w, "in") && !hs_word_take(w, "as") && !hs_word_take(w, "to"))
		return NOTHING_MORE;
	return hs_target_read(w, &say_more(w, phrase, HS_TURN_CONVERT)->target) ? SAID : FAILED;
}

static bool parallel_taken(hs_working *w)
{
	if (hs_sign_take(w, "||") || hs_sign_take(w, "//"))
		return true;
	if (!hs_words_take(w, "in", "parallel") && !hs_word_take(w, "parallel"))
		return false;
	if (!hs_word_take(w, "with"))
		hs_word_take(w, "to");
	return true;
}

static said more_said(hs_working *w, hs_phrase *phrase)
{
	static const struct {
		const char *word;
		hs_turn turn;
	} words[] = {{"and", HS_TURN_AND},
	             {"less", HS_TURN_LESS},
	             {"near", HS_TURN_NEAR},
	             {"through", HS_TURN_THROUGH},
	             {"behind", HS_TURN_BEHIND}};
	hs_turn turn;
	for (size_t i = 0; i < sizeof words / sizeof *words; i++)
		if (hs_word_take(w, words[i].word))
			return operand_said(w, phrase, words[i].turn, true);
	if (parallel_taken(w))
		return operand_said(w, phrase, HS_TURN_PARALLEL, false);
	if (turn_take(w, false, &turn) || turn_take(w, true, &turn))
		return operand_said(w, phrase, turn, false);
	if (wave_take(w, &phrase->terms))
		return SAID;
	said so = pulse_said(w, &phrase->terms);
	if (so == NOTHING_MORE)
		so = of_said(w, phrase);
	if (so == NOTHING_MORE)
		so = preposition_said(w, phrase);
	return so == NOTHING_MORE ? bare_ohm_said(w, phrase) : so;
}

static hs_phrase *phrase_read(hs_working *w)
{
	hs_phrase *phrase = hs_arena_alloc(w->arena, sizeof *phrase);
	phrase->end = &phrase->sayings;
	phrase->first = sum(w);
	if (!phrase->first)
		return NULL;
	for (;;) {
		switch (more_said(w, phrase)) {
		case SAID:
			continue;
		case FAILED:
			return NULL;
		case NOTHING_MORE:
			return phrase;
		}
	}
}

const hs_phrase *hs_phrase_read(hs_working *w)
{
	hs_skip_spaces(w);
	if (!*w->at) {
		hs_fail(hs_blame(w, HS_FAULT_SYNTAX), HS_BAD_INPUT, "the expression is empty");
		hs_fail_hint(w->error, "write it like 0 dBm in dBuV at 50 ohm");
		return NULL;
	}
	/* Words around a question, which ask for nothing by themselves. */
	if (!hs_words_take(w, "what", "is") && !hs_word_take(w, "convert"))
		hs_word_take(w, "calculate");
	const hs_phrase *phrase = phrase_read(w);
	if (phrase) {
		hs_sign_take(w, "=");
		hs_sign_take(w, "?");
	}
	if (phrase && *w->at) {
		hs_found_instead(w, *w->at == ')' ? "no closing parenthesis"
		                                  : "a sign, a word such as \"in\", or the end");
		return NULL;
	}
	return phrase;
}
