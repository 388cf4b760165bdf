/* What run and resume share: a seat for whoever answers, and one sitting from there to a close or a pause. */
#ifndef HALFSPLIT_CORE_CLI_SITTING_H
#define HALFSPLIT_CORE_CLI_SITTING_H

#include "bench.h"
#include "halfsplit/seat/answers.h"
#include "halfsplit/seat/drive.h"
#include "halfsplit/sim/sim.h"

/* A unit that is only played: the fault as it was named, and the seed. */
typedef struct hs_played {
	const char *name; /* "fuse/open"; NULL: no unit is played */
	uint64_t seed;
	const hs_playbook *playbook;
	hs_sim_fault fault;
} hs_played;

typedef struct hs_sitting {
	hs_answers *answers; /* NULL: a person, or a simulated unit */
	char answers_sha256[HS_HEX_ROOM]; /* of the file, or of what is played: equal ones give equal runs */
	hs_played played;
	hs_buf answers_bytes;
	hs_seat *seat;
	hs_taker taker;
	char *taker_folder;
} hs_sitting;

/* In place of hs_sitting_prepare: a unit is played. Its playbook and fault are looked up by hs_sitting_play, once it is loaded. */
void hs_sitting_simulate(hs_sitting *sitting, const char *fault, uint64_t seed);
bool hs_sitting_play(hs_sitting *sitting, const hs_playbook *playbook, hs_error *error); /* the playbook must outlive it */

/* True when nobody sits there: answers from a file, or a simulated unit. */
bool hs_sitting_unattended(const hs_sitting *sitting);

/*
 * Reads the answers file when one is given; else sees that a terminal is there. HS_BAD_INPUT when neither is. Does not
 * open the seat yet, so that everything else can be refused before a terminal is touched.
 */
bool hs_sitting_prepare(hs_sitting *sitting, const char *answers_path, hs_error *error);
bool hs_sitting_open(hs_sitting *sitting, int64_t epoch_utc_ms, hs_error *error);
void hs_sitting_free(hs_sitting *sitting); /* accepts an empty one */

/*
 * Lets a person at the terminal take readings by the programs of this kit, which stays the caller's and must outlive the sitting. Only
 * for a kit that the user named: one that lies beside a playbook may have come with it.
 */
void hs_sitting_programs(hs_sitting *sitting, const hs_kit *kit, const char *kit_path);

/* Drives to the end of the sitting, writes what belongs on the job sheet, and gives the exit status. */
int hs_sitting_run(hs_sitting *sitting, hs_engine *engine, hs_journal *journal, const char *by);

/*
 * The answer to intake/FACT before there is a transcript: from the head of the answers file, or asked of the person.
 * HS_BAD_INPUT when the file does not begin with it. False with error->code HS_FINE: the person left.
 */
bool hs_sitting_ask(hs_sitting *sitting, const hs_bench *bench, const char *fact, hs_buf *answer,
                    hs_error *error);

#endif
