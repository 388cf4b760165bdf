/*
 * Every prompt answered with a numeric keypad: digits, point, plus, minus, star, slash and Enter. The seat turns the keys into
 * the word or reading they stand for, and that is what the transcript keeps.
 *
 * Words are chosen by their number. A word at a gate has a code of two digits instead, which changes from gate to gate and never
 * repeats a digit: it has to be read off the screen, so that neither Enter, nor a key held down, nor the hand's habit passes one.
 *
 * Layers: this header needs engine and below only.
 */
#ifndef HALFSPLIT_SEAT_KEYPAD_H
#define HALFSPLIT_SEAT_KEYPAD_H

#include "halfsplit/engine/engine.h"

/*
 * Gives the words of a gate their codes: from the run's id and the count of answers, so that the same answers show the same
 * codes. No code is that of the gate before. Nothing is given where `run` is NULL, or at an ask that is no gate.
 */
void hs_keypad_codes(const char *run, size_t answers, hs_ask_words *words);

/* What is pressed for a choice: "3", "*3" where the words are numbers themselves, a gate's code. False: nothing is. */
#define HS_KEY_ROOM 8
bool hs_keypad_key(const hs_ask_words *words, size_t choice, char key[HS_KEY_ROOM]);

/* True when what was typed stands for something else, which is then appended to `out`. */
bool hs_keypad_means(const hs_ask_words *words, const char *typed, hs_buf *out);

/* What a keypad can do at this ask, for `help`; a sentence or more. */
void hs_keypad_help(const hs_ask_words *words, hs_buf *out);

#endif
