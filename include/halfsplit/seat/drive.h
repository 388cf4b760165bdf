/*
 * The loop between a seat and the engine: ask, take, record, and only then show. The same for everybody who answers.
 */
#ifndef HALFSPLIT_SEAT_DRIVE_H
#define HALFSPLIT_SEAT_DRIVE_H

#include "halfsplit/record/transcript.h"
#include "halfsplit/seat/seat.h"

typedef enum hs_drive_end { HS_DRIVE_CLOSED, HS_DRIVE_PAUSED } hs_drive_end;

/*
 * Drives until the run is closed or paused. by: the person at the bench. False: HS_IO, the transcript cannot be
 * written, nothing more was acknowledged; HS_BAD_INPUT, the seat cannot go on (an answers file that names another ask),
 * what was answered is in the transcript.
 */
bool hs_drive(hs_seat *seat, hs_engine *engine, hs_journal *journal, const char *by, hs_drive_end *end,
              hs_error *error);

/* One event of the seat's time: folded, recorded, its consequence shown. */
bool hs_drive_event(hs_seat *seat, hs_engine *engine, hs_journal *journal, const hs_event *event, hs_taken *taken,
                    hs_error *error);

/* What is written on the job sheet at a pause or a close: the count of lines, the head hash, and where the transcript
 * lies. */
void hs_drive_sheet(hs_seat *seat, const hs_journal *journal);

#endif
