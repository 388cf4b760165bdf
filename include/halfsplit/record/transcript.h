/*
 * The transcript: what the engine said about each event, as lines of a journal, and the same fold done again from those
 * lines.
 *
 * Rendering is a pure function of the event, its facts and the engine, so that whoever replays the events derives every
 * other line again, byte for byte. Three kinds of line exist:
 *   - the first, "opened", which binds everything the fold depends on;
 *   - event lines, which have a member "event" (answer, redo, note, pause, resume, leave, stop): what came in from
 * outside;
 *   - derived lines, which follow the event line that caused them and carry its time.
 * A line with a member "repair" tells of a torn tail that was cut off; it may stand between any two lines. What the program
 * cannot have written is a difference too: a time that is none, a clock that goes back within a sitting, an empty name.
 */
#ifndef HALFSPLIT_RECORD_TRANSCRIPT_H
#define HALFSPLIT_RECORD_TRANSCRIPT_H

#include "halfsplit/base/alloc.h"
#include "halfsplit/engine/engine.h"
#include "halfsplit/record/journal.h"

#define HS_TRANSCRIPT_FORMAT 1
#define HS_TYPED_MOST        4096 /* bytes of one answer, remark or reason */
#define HS_NAME_MOST         120  /* bytes of a person's name or of a serial */
#define HS_GUARD_BAND_RULE   "guard band w = U (k=2)"

/* One file of a playbook or a kit, as it was loaded. */
typedef struct hs_recorded_file {
	const char *path;
	const char *sha256;
	const char *text; /* the raw bytes: UTF-8 without NUL; NULL: a picture, whose digest alone is kept */
} hs_recorded_file;

typedef struct hs_recorded_files {
	const hs_recorded_file *items; /* in load order; none: there is no such thing (a run without a kit) */
	size_t count;
	const char *digest; /* SHA-256 over the lines "sha256  path\n" */
} hs_recorded_files;

/* What the first line binds. */
typedef struct hs_opening {
	int rules;
	const char *run;     /* 32 hex digits */
	const char *program; /* version of the program that began the run */
	const char *playbook_id;
	int edition;
	const char *title; /* may be NULL */
	const char *freehand; /* NULL: a guided run; else the family whose file stands in place of a playbook, "" for none */
	int acts; /* of a freehand run: the edition of its acts, HS_ACTS_VERSION; 1 where an older program did not say */
	hs_recorded_files playbook, kit; /* playbook is empty only for a freehand run without a family */
	const char *unit;      /* serial */
	const char *by;        /* person at the bench at the start */
	const char *rehearsal; /* NULL: a real run; else who answers: "answers", "simulated unit fuse/open, seed 7" */
	const char *from;      /* of a rehearsal: the step it began at; NULL: where the playbook begins */
	const char *utc;
	int64_t mono_ms;
} hs_opening;

/* ---- events to lines ---- */

/* Members of lines, in order, as hs_journal_add takes them. Begin with {0}. */
typedef struct hs_lines {
	hs_buf *items;
	size_t count, room;
} hs_lines;

void hs_lines_free(hs_lines *lines);
void hs_lines_opened(hs_lines *lines, const hs_opening *opening);
/* The facts of hs_engine_open, with the time of the opening. */
void hs_lines_first(hs_lines *lines, const hs_engine *engine, const hs_opening *opening);
/* The event's own line, then its facts; right after hs_engine_take returned true. */
void hs_lines_event(hs_lines *lines, const hs_engine *engine, const hs_event *event, hs_taken taken);
void hs_lines_repaired(hs_lines *lines, const hs_journal_repaired *repaired, const char *utc, int64_t mono_ms);

/* Adds the lines to the journal and commits them together. */
bool hs_lines_commit(const hs_lines *lines, hs_journal *journal, hs_error *error);

/* The first lines of a new journal: opened, and the first ask. Calls hs_engine_open. */
bool hs_transcript_begin(hs_journal *journal, hs_engine *engine, const hs_opening *opening, hs_error *error);

/*
 * Folds an event and puts its lines on disk, in this order; true means that they are there and the consequence may be
 * shown. After a failure with HS_IO nothing more may be done with either. HS_BAD_INPUT: the event does not fit; nothing
 * changed. Text and names must be UTF-8.
 */
bool hs_transcript_take(hs_journal *journal, hs_engine *engine, const hs_event *event, hs_taken *taken,
                        hs_error *error);

/* A double as the transcript writes it: 17 significant digits, the same under every locale. */
void hs_digits17(hs_buf *out, double value);

/* True when a name or a serial may stand in a transcript: UTF-8, not blank, no control characters, not too long. */
bool hs_name_possible(const char *text);

/* ---- lines to events ---- */

/* Builds the playbook and the kit from their recorded text and returns a new engine (the caller keeps all three). NULL
 * and *error. */
typedef hs_engine *hs_replay_make(void *context, const hs_opening *opening, hs_error *error);

typedef struct hs_replay hs_replay;

/* The engine that `make` returns stays its caller's; it must outlive the replay. */
hs_replay *hs_replay_new(hs_replay_make *make, void *context);
void hs_replay_free(hs_replay *replay); /* accepts NULL */

/* Takes one good line of the chain, as an hs_chain_visit with the replay as its context. Always true: see
 * hs_replay_result. */
bool hs_replay_line(void *replay, const hs_chain_line *line, hs_error *error);

typedef enum hs_replay_state {
	HS_REPLAY_EMPTY,   /* no line yet */
	HS_REPLAY_FOREIGN, /* the first line opens no transcript, or one of a version this program does not know; *error
	                      says which */
	HS_REPLAY_DIFFERS, /* a line does not follow from the answers: bad_line, reason */
	HS_REPLAY_GOOD     /* every line so far comes out again */
} hs_replay_state;

typedef struct hs_replay_result {
	hs_replay_state state;
	size_t bad_line;           /* from 1 */
	char reason[512];          /* a plain sentence that names the line */
	hs_error error;            /* FOREIGN, and DIFFERS when the playbook or an event failed */
	const hs_opening *opening; /* NULL when EMPTY or FOREIGN */
	hs_engine *engine;         /* after the last event; NULL before it was made */
	const hs_lines *missing;   /* derived lines not there behind the last whole event line */
	size_t events, answers, repairs;
	char last_utc[40]; /* of the last event */
	int64_t last_mono_ms;
	bool closed, paused; /* as the last event left it */
} hs_replay_result;

const hs_replay_result *hs_replay_get(hs_replay *replay);

/*
 * True when the first line opens a transcript of a format and of rules that this program knows, as far as it says; else
 * HS_BAD_INPUT.
 */
bool hs_opening_ours(const hs_json *line, hs_error *error);

/* Reads the opening from such a line; what it points to is copied into the arena. HS_BAD_INPUT. */
bool hs_opening_read(const hs_json *line, hs_arena *arena, hs_opening *opening, hs_error *error);

/* Reads an event line: false when the line is not one, or not whole. The strings live as long as the line. */
bool hs_event_read(const hs_json *line, hs_event *event);

#endif
