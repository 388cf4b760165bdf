/* How single facts are shown; inside core/seat only. */
#ifndef HALFSPLIT_SEAT_SCREEN_FACTS_H
#define HALFSPLIT_SEAT_SCREEN_FACTS_H

#include "screen_lines.h"

void hs_show_corrected(const hs_screen *screen, const hs_fact *fact, hs_buf *out);
void hs_show_judged(const hs_screen *screen, const hs_playbook *playbook, const hs_fact *fact, hs_buf *out);
void hs_show_finding(const hs_screen *screen, const hs_engine *engine, int step, hs_buf *out);

/* screen_large.c: the ask but for its choices and what is wanted. */
void hs_show_large(const hs_screen *screen, const hs_engine *engine, const hs_ask *ask, const hs_ask_words *words, hs_buf *out);

/* screen_chain.c: every chain of the playbook, with where the step is. */
void hs_show_chains(const hs_screen *screen, const hs_engine *engine, hs_buf *out);

#endif
