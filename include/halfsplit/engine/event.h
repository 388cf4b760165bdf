/*
 * What comes into the engine. Time and identity come in with each event; the engine reads no clock and does no input or output.
 */
#ifndef HALFSPLIT_ENGINE_EVENT_H
#define HALFSPLIT_ENGINE_EVENT_H

#include <stdint.h>
#include "halfsplit/base/error.h"
#include "halfsplit/base/text.h"

typedef enum hs_event_kind {
	HS_EVENT_ANSWER,  /* `text` answers the ask named `ask` */
	HS_EVENT_REDO,    /* retract the last reading or observation */
	HS_EVENT_NOTE,    /* `text` is a remark */
	HS_EVENT_PAUSE,   /* `text` may give a reason */
	HS_EVENT_RESUME,  /* the run goes on after a restart, perhaps with another person */
	HS_EVENT_LEAVE,   /* go to a safe state and pause; a second time: at once */
	HS_EVENT_STOP     /* smoke, smell, shock, arcing: power first, `text` later */
} hs_event_kind;

const char *hs_event_name(hs_event_kind kind); /* answer redo note pause resume leave stop */

typedef struct hs_event {
	hs_event_kind kind;
	const char *ask;      /* ANSWER: the id of the ask */
	const char *text;     /* as typed; may be "" */
	const char *by;       /* the person at the bench */
	const char *utc;      /* "2026-11-24T09:30:00.000Z" */
	int64_t mono_ms;      /* monotonic milliseconds; starts anew after a restart */
	const char *raw;      /* ANSWER: what an instrument's own program printed, of which `text` is the one line; NULL: typed */
	const char *refused;  /* ANSWER replayed by hs_engine_old_acts: why it was refused then; NULL: it was taken, or is judged now */
} hs_event;

/*
 * The one line of what a program printed, without blanks around it, appended to *line. False with why when there is none, more than one,
 * or one that a person could not have typed.
 */
bool hs_raw_line(const char *raw, hs_buf *line, hs_error *error);

#endif
