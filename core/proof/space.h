/* The space of outcomes: what the search and the witnesses share. */
#ifndef HALFSPLIT_CORE_PROOF_SPACE_H
#define HALFSPLIT_CORE_PROOF_SPACE_H

#include "halfsplit/proof/proof.h"

/* A place with more than one way out, and how it was first come to. */
typedef struct hs_place {
	hs_walk_key key;
	int parent; /* -1: the beginning */
	int way;    /* out of the parent */
	void *state; /* until it was tried */
} hs_place;

/*
 * Writes the shortest answers file that goes the given ways, one for each place with more than one, from the beginning. Its numbers are found
 * by trying the limits, both sides of them and a step of resolution. True: a run of it was seen to go this way; false: none was found.
 */
bool hs_witness_write(const hs_playbook *playbook, const int *ways, size_t count, hs_buf *out);

#endif
