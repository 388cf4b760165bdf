/* Declared dangers of a playbook, known without running it; part of unit/check.h. */
#ifndef HALFSPLIT_CORE_UNIT_CHECK_DANGER_H
#define HALFSPLIT_CORE_UNIT_CHECK_DANGER_H

#include "halfsplit/unit/check.h"

void hs_check_dangers(const hs_bench_unit *unit, hs_problems *problems);
void hs_check_danger_step(const hs_playbook *playbook, const hs_step *step, hs_problems *problems);

#endif
