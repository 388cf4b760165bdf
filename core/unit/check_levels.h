/* The part of hs_unit_check that compares levels and volts with ratings (rule 8). */
#ifndef HALFSPLIT_CORE_UNIT_CHECK_LEVELS_H
#define HALFSPLIT_CORE_UNIT_CHECK_LEVELS_H

#include "halfsplit/unit/check.h"

void hs_check_injection(const hs_playbook *playbook, const hs_step *step, hs_problems *problems);
void hs_check_reading_levels(const hs_playbook *playbook, const hs_step *step, const hs_reading *reading,
                             hs_problems *problems);
/* What a line-up says can come to both ends while any suspect may be faulty. */
void hs_check_lineup_levels(const hs_playbook *playbook, const hs_step *step, hs_problems *problems);

#endif
