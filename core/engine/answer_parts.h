/* What the files behind an answer call of each other. */
#ifndef HALFSPLIT_CORE_ENGINE_ANSWER_PARTS_H
#define HALFSPLIT_CORE_ENGINE_ANSWER_PARTS_H

#include "core/engine/state.h"

/* ---- answer.c ---- */
/* Which of the choices was typed, by its word or number; -1 with *why filled when none was. */
int hs_answer_pick(const hs_choice *choices, size_t count, const char *text, hs_buf *why);

/* ---- answer_value.c ---- */
/* "3 of 3", "2/5": so many times, out of so many tries. */
bool hs_count_of(const char *text, unsigned *hits, unsigned *tries);
/* Takes or refuses a reading; as hs_answer_apply. */
bool hs_answer_value(hs_engine *engine, const hs_ask *ask, const char *text, hs_buf *why, bool *failed, hs_error *error);

/* ---- world.c ---- */
void hs_world_move(hs_engine *engine, int openable, bool open); /* opened, or closed again; tells of it */
void hs_world_acted(hs_engine *engine, int step);               /* what a do step makes and undoes, and when it was done */
void hs_world_shown(hs_engine *engine);                         /* the symptom was tried, keyed if it says so */

#endif
